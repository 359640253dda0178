/* The way that the flock is led: over what was grazed and along lanes where
 * that can be, over ungrazed ground as little as can be, through as few
 * openings as can be, and then the shortest. A way goes from door to door, each
 * taken at its middle, or, where nothing stands, at its nearest place. */
#include "moves/search.h"

#include "base/alloc.h"
#include "base/fail.h"
#include "figures/mark.h"
#include "figures/moves.h"
#include "geo/points.h"

#include <math.h>

/* A step on ungrazed ground counts, however short. */
static const double any_step_m = FW_TOLERANCE(1e-3);

/* Where nothing stands they pass at the nearest place; an opening is thought
 * near the fed end, where it will be. */
static struct fw_point door_place(const struct fw_moves__walk *walk,
                                  size_t door, struct fw_point from)
{
    const struct fw_land *land = walk->land;
    const struct fw_door *of = &land->doors[door];
    if (walk->stands[of->line])
        return fw_land_along(land, of->line,
                             fmin(of->from_m + FW_OPENING_WAY_M / 2,
                                  (of->from_m + of->to_m) / 2));
    const struct fw_point a = fw_land_along(land, of->line, of->from_m);
    const struct fw_point b = fw_land_along(land, of->line, of->to_m);
    const double x = b.x_m - a.x_m, y = b.y_m - a.y_m;
    const double square = x * x + y * y;
    double t = square > 0
                   ? ((from.x_m - a.x_m) * x + (from.y_m - a.y_m) * y) / square
                   : 0;
    t = fmin(1, fmax(0, t));
    return (struct fw_point){a.x_m + t * x, a.y_m + t * y};
}

/* ---- from cell to cell ---- */

static double waits_in(const struct fw_moves__search *search, size_t cell)
{
    return cell != search->to && fw_moves__does_wait(search, cell) ? any_step_m
                                                                   : 0;
}

/* At the least: what is quickly known. */
static struct fw_moves__cost least_cost(const struct fw_moves__search *search,
                                        size_t from, size_t door, size_t to)
{
    const struct fw_moves__walk *walk = search->walk;
    const struct fw_door *of = &search->land->doors[door];
    struct fw_moves__cost cost = fw_moves__reach_of(search, from)->cost;
    cost.openings += fw_moves__is_shut(walk, door);
    cost.narrow += of->to_m - of->from_m < walk->way_m - fw_moves__same_m;
    if (to == search->to && walk->water_door != FW_NONE &&
        walk->water_door != door)
        cost.openings += fw_moves__is_shut(walk, walk->water_door);
    return cost;
}

/* Can whoever has to open so many more before the last one be no better off
 * than by the way that is known? */
static bool is_late(const struct fw_moves__search *search,
                    const struct fw_moves__cost *cost, size_t more)
{
    struct fw_moves__cost least = *cost;
    if (search->to == FW_NONE)
        return false;
    const struct fw_moves__reach *end = fw_moves__reach_of(search, search->to);
    least.openings += more + search->least;
    return fw_moves__is_known(search, end) &&
           !fw_moves__is_less(&least, &end->cost);
}

/* Is a way known that costs no more? */
static bool is_vain(const struct fw_moves__search *search,
                    const struct fw_moves__cost *cost, size_t to)
{
    const struct fw_moves__reach *known = fw_moves__reach_of(search, to);
    if (fw_moves__is_known(search, known) &&
        (known->done || !fw_moves__is_less(cost, &known->cost)))
        return true;
    return to != search->to && is_late(search, cost, 0);
}

static void step_through(struct fw_moves__search *search, size_t from,
                         size_t door)
{
    const size_t to = fw_land_beyond(search->land, door, from);
    const struct fw_moves__reach *here = fw_moves__reach_of(search, from);
    struct fw_moves__cost cost = least_cost(search, from, door, to);
    if (is_vain(search, &cost, to))
        return;
    const struct fw_point at = door_place(search->walk, door, here->at);
    const double way_m = fw_point_apart_m(here->at, at);
    cost.way_m += way_m;
    cost.over_m += fw_moves__does_wait(search, from) ? way_m : 0;
    cost.over_m += waits_in(search, to);
    if (!is_vain(search, &cost, to))
        fw_moves__reach(
            search, to,
            &(struct fw_moves__reach){
                .cost = cost, .at = at, .before = from, .door = door});
}

static void step_to_end(struct fw_moves__search *search, size_t from)
{
    const struct fw_land *land = search->land;
    const struct fw_cell *end = &land->cells[search->to];
    for (size_t i = 0; i < end->door_count; i++) {
        const size_t door = land->doors_of[end->first_door + i];
        if (fw_land_beyond(land, door, search->to) == from)
            step_through(search, from, door);
    }
}

/* To where they are to go first: then much of the rest is in vain. */
static void step_on(struct fw_moves__search *search, size_t from)
{
    const struct fw_land *land = search->land;
    const struct fw_cell *cell = &land->cells[from];
    if (search->to != FW_NONE)
        step_to_end(search, from);
    const bool only_open =
        is_late(search, &fw_moves__reach_of(search, from)->cost, 1);
    for (size_t i = 0; i < cell->door_count; i++) {
        const size_t door = land->doors_of[cell->first_door + i];
        if (!only_open || !fw_moves__is_shut(search->walk, door))
            step_through(search, from, door);
    }
}

/* Nobody knows where in a paddock they are: its middle will do. */
static struct fw_point middle_of(const struct fw_land *land, size_t cell)
{
    const size_t ring = land->cells[cell].first_ring;
    const size_t first = land->ring_start[ring],
                 end = land->ring_start[ring + 1];
    struct fw_point sum = {0, 0};
    for (size_t i = first; i < end; i++) {
        sum.x_m += land->ring_points[i].x_m / (double)(end - first);
        sum.y_m += land->ring_points[i].y_m / (double)(end - first);
    }
    return sum;
}

static void begin(struct fw_moves__search *search)
{
    const struct fw_land *land = search->land;
    const struct fw_point gate = land->fields[search->field].gate;
    if (search->from != FW_NONE)
        fw_moves__reach(
            search, search->from,
            &(struct fw_moves__reach){.at = middle_of(land, search->from),
                                      .before = FW_NONE,
                                      .door = FW_NONE});
    for (size_t k = 0;
         search->from == FW_NONE && k < fw_land_cell_count(land, search->field);
         k++) {
        const size_t cell = fw_land_cell(land, search->field, k);
        if (land->cells[cell].at_gate)
            fw_moves__reach(search, cell,
                            &(struct fw_moves__reach){
                                .cost = {.over_m = waits_in(search, cell)},
                                .at = gate,
                                .before = FW_NONE,
                                .door = FW_NONE});
    }
}

/* A way out goes on to the gate from where the last cell is entered. */
static void try_end(struct fw_moves__search *search, size_t cell)
{
    const struct fw_moves__reach *reach = fw_moves__reach_of(search, cell);
    struct fw_moves__cost cost = reach->cost;
    if (search->to == FW_NONE ? !search->land->cells[cell].at_gate
                              : cell != search->to)
        return;
    if (search->to == FW_NONE) {
        const double way_m = fw_point_apart_m(
            reach->at, search->land->fields[search->field].gate);
        cost.way_m += way_m;
        cost.over_m += fw_moves__does_wait(search, cell) ? way_m : 0;
    }
    if (search->last != FW_NONE && !fw_moves__is_less(&cost, &search->cost))
        return;
    search->last = cell;
    search->cost = cost;
}

static size_t last_openings(const struct fw_moves__search *search)
{
    const struct fw_land *land = search->land;
    if (search->to == FW_NONE || search->to == search->from)
        return 0;
    const struct fw_cell *cell = &land->cells[search->to];
    for (size_t i = 0; i < cell->door_count; i++)
        if (!fw_moves__is_shut(search->walk,
                               land->doors_of[cell->first_door + i]))
            return 0;
    return 1;
}

/* Cells from the nearest on, until none is nearer than the end. */
static void go_through(struct fw_moves__search *search)
{
    for (;;) {
        const size_t cell = fw_moves__take_first(search);
        if (cell == FW_NONE)
            return;
        const struct fw_moves__cost cost = fw_moves__at_least(search, cell);
        if (search->last != FW_NONE && !fw_moves__is_less(&cost, &search->cost))
            return;
        fw_moves__reach_of(search, cell)->done = true;
        try_end(search, cell);
        if (cell != search->to)
            step_on(search, cell);
    }
}

/* Each once, in the order in which they come to it. */
static void name_waiting(const struct fw_moves__search *search, size_t waiting,
                         struct fw_moves__way *out)
{
    if (waiting == FW_NONE || waiting == search->from)
        return;
    for (size_t i = 0; i < out->cell_count; i++)
        if (out->cells[i] == waiting)
            return;
    out->cells[out->cell_count++] = waiting;
}

static enum fw_status take_way(const struct fw_moves__search *search,
                               struct fw_moves__way *out, struct fw_error *err)
{
    const size_t end = search->last;
    size_t count = 0;
    for (size_t c = end; fw_moves__reach_of(search, c)->before != FW_NONE;
         c = fw_moves__reach_of(search, c)->before)
        count++;
    out->door_count = count;
    out->over_m = search->cost.over_m;
    out->way_m = search->cost.way_m;
    out->doors = fw_alloc(count, sizeof *out->doors);
    out->cells = fw_alloc(count + 1, sizeof *out->cells);
    if (!out->doors || !out->cells)
        return fw_fail_memory(err);
    size_t n = count, cell = end;
    for (; fw_moves__reach_of(search, cell)->before != FW_NONE;
         cell = fw_moves__reach_of(search, cell)->before) {
        out->doors[--n] = fw_moves__reach_of(search, cell)->door;
        out->cells[n + 1] = cell; /* for a while all that it goes over */
    }
    out->first = out->cells[0] = cell;
    for (size_t i = 0; i <= count; i++)
        if (out->cells[i] != search->to)
            name_waiting(search, fw_moves__waiting_at(search, out->cells[i]),
                         out);
    return FW_OK;
}

enum fw_status fw_moves__find_way(struct fw_moves__search *search,
                                  const struct fw_moves__walk *walk,
                                  size_t field, size_t from, size_t to,
                                  struct fw_moves__way *out,
                                  struct fw_error *err)
{
    search->walk = walk;
    search->when++;
    search->field = field;
    search->from = from;
    search->to = to;
    search->heap_count = 0;
    search->last = FW_NONE;
    search->least = last_openings(search);
    *out = (struct fw_moves__way){0};
    begin(search);
    go_through(search);
    if (search->last == FW_NONE)
        return FW_OK;
    const enum fw_status status = take_way(search, out, err);
    if (status)
        fw_moves__way_release(out);
    return status;
}

void fw_moves__way_release(struct fw_moves__way *way)
{
    fw_free(way->doors);
    fw_free(way->cells);
    *way = (struct fw_moves__way){0};
}
