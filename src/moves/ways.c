/* The way that the flock is led: over what was grazed and along lanes where
 * that can be, over ungrazed ground as little as can be, through as few
 * openings as can be, and then the shortest. A way goes from door to door, each
 * taken at its middle, or, where nothing stands, at its nearest place. */
#include "moves/inner.h"

#include "base/alloc.h"
#include "base/fail.h"

#include <math.h>

/* A step on ungrazed ground counts, however short. */
static const double any_step_m = 1e-3;

struct cost {
    double over_m; /* of ungrazed ground */
    size_t narrow, openings;
    double way_m;
};

struct reach { /* the best way found to a cell */
    bool known, done;
    struct cost cost;
    struct fw_point at; /* where it is entered */
    size_t before;      /* cell, or FW_NONE where the way begins */
    size_t door;        /* by which; FW_NONE where it begins */
};

struct search {
    const struct fw_moves__walk *walk;
    const struct fw_land *land;
    size_t field, from, to;
    struct reach *reaches; /* of the field's cells */
    bool *waits; /* of these: it was not grazed, or no fence parts it from what
                    was not */
    size_t last; /* the best cell to end in as far as is known */
    struct cost cost; /* of the whole way there */
};

static struct reach *reach_of(const struct search *search, size_t cell)
{
    return &search->reaches[fw_land_local(search->land, cell)];
}

static double apart_m(struct fw_point a, struct fw_point b)
{
    return hypot(b.x_m - a.x_m, b.y_m - a.y_m);
}

static bool is_less(const struct cost *a, const struct cost *b)
{
    const double same_m = 1e-6;
    if (fabs(a->over_m - b->over_m) > same_m)
        return a->over_m < b->over_m;
    if (a->narrow != b->narrow)
        return a->narrow < b->narrow;
    if (a->openings != b->openings)
        return a->openings < b->openings;
    return a->way_m < b->way_m - same_m;
}

/* Where nothing stands they pass at the nearest place; an opening is thought
 * near the fed end, where it will be. */
static struct fw_point door_place(const struct fw_moves__walk *walk,
                                  size_t door, struct fw_point from)
{
    const double opening_m = 5;
    const struct fw_land *land = walk->land;
    const struct fw_door *of = &land->doors[door];
    if (walk->stands[of->line])
        return fw_land_along(
            land, of->line,
            fmin(of->from_m + opening_m / 2, (of->from_m + of->to_m) / 2));
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

static bool is_free(const struct fw_moves__walk *walk, size_t cell)
{
    return walk->land->cells[cell].kind != FW_CELL_PADDOCK ||
           walk->grazed[cell];
}

static bool does_wait(const struct search *search, size_t cell)
{
    return search->waits[fw_land_local(search->land, cell)];
}

static bool is_shut(const struct fw_moves__walk *walk, size_t door)
{
    return walk->stands[walk->land->doors[door].line] && !walk->open_door[door];
}

static void step_on(const struct search *search, size_t from)
{
    const struct fw_moves__walk *walk = search->walk;
    const struct fw_land *land = search->land;
    const struct fw_cell *cell = &land->cells[from];
    const struct reach *here = reach_of(search, from);
    const double slack_m = 1e-6;
    for (size_t i = 0; i < cell->door_count; i++) {
        const size_t door = land->doors_of[cell->first_door + i];
        const size_t to = fw_land_beyond(land, door, from);
        const struct fw_door *of = &land->doors[door];
        struct reach *reach = reach_of(search, to);
        if (reach->done)
            continue;
        struct cost cost = here->cost;
        const struct fw_point at = door_place(walk, door, here->at);
        const double way_m = apart_m(here->at, at);
        cost.way_m += way_m;
        cost.over_m += does_wait(search, from) ? way_m : 0;
        cost.openings += is_shut(walk, door);
        if (to == search->to && walk->water_door != FW_NONE &&
            walk->water_door != door)
            cost.openings += is_shut(walk, walk->water_door);
        cost.narrow += of->to_m - of->from_m < walk->way_m - slack_m;
        if (does_wait(search, to) && to != search->to)
            cost.over_m += any_step_m;
        if (!reach->known || is_less(&cost, &reach->cost))
            *reach = (struct reach){true, false, cost, at, from, door};
    }
}

static size_t next_of(const struct search *search)
{
    size_t best = FW_NONE;
    const struct reach *least = NULL;
    for (size_t k = 0; k < fw_land_cell_count(search->land, search->field);
         k++) {
        const struct reach *reach = &search->reaches[k];
        if (!reach->known || reach->done ||
            (least && !is_less(&reach->cost, &least->cost)))
            continue;
        least = reach;
        best = fw_land_cell(search->land, search->field, k);
    }
    return best;
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

/* From all that was not grazed on to where no fence is. */
static enum fw_status find_waiting(const struct search *search,
                                   struct fw_error *err)
{
    const struct fw_moves__walk *walk = search->walk;
    const struct fw_land *land = search->land;
    const size_t cells = fw_land_cell_count(land, search->field);
    size_t *list = fw_alloc(cells, sizeof *list);
    size_t count = 0;
    if (!list)
        return fw_fail_memory(err);
    for (size_t k = 0; k < cells; k++) {
        const size_t cell = fw_land_cell(land, search->field, k);
        search->waits[k] = !is_free(walk, cell) && cell != search->to;
        if (search->waits[k])
            list[count++] = cell;
    }
    for (size_t i = 0; i < count; i++) {
        const struct fw_cell *cell = &land->cells[list[i]];
        for (size_t k = 0; k < cell->door_count; k++) {
            const size_t door = land->doors_of[cell->first_door + k];
            const size_t to = fw_land_beyond(land, door, list[i]);
            if (is_shut(walk, door) || to == search->to ||
                does_wait(search, to))
                continue;
            search->waits[fw_land_local(land, to)] = true;
            list[count++] = to;
        }
    }
    fw_free(list);
    return FW_OK;
}

static void begin(const struct search *search)
{
    const struct fw_land *land = search->land;
    const struct fw_point gate = land->fields[search->field].gate;
    if (search->from != FW_NONE) {
        *reach_of(search, search->from) =
            (struct reach){.known = true,
                           .at = middle_of(land, search->from),
                           .before = FW_NONE,
                           .door = FW_NONE};
        return;
    }
    for (size_t k = 0; k < fw_land_cell_count(land, search->field); k++) {
        const size_t cell = fw_land_cell(land, search->field, k);
        if (land->cells[cell].at_gate)
            search->reaches[k] =
                (struct reach){.known = true,
                               .cost = {.over_m = is_free(search->walk, cell) ||
                                                          cell == search->to
                                                      ? 0
                                                      : any_step_m},
                               .at = gate,
                               .before = FW_NONE,
                               .door = FW_NONE};
    }
}

/* A way out goes on to the gate from where the last cell is entered. */
static void try_end(struct search *search, size_t cell)
{
    const struct reach *reach = reach_of(search, cell);
    struct cost cost = reach->cost;
    if (search->to == FW_NONE ? !search->land->cells[cell].at_gate
                              : cell != search->to)
        return;
    if (search->to == FW_NONE) {
        const double way_m =
            apart_m(reach->at, search->land->fields[search->field].gate);
        cost.way_m += way_m;
        cost.over_m += does_wait(search, cell) ? way_m : 0;
    }
    if (search->last != FW_NONE && !is_less(&cost, &search->cost))
        return;
    search->last = cell;
    search->cost = cost;
}

/* Cells from the nearest on, until none is nearer than the end. */
static void go_through(struct search *search)
{
    for (;;) {
        const size_t cell = next_of(search);
        if (cell == FW_NONE ||
            (search->last != FW_NONE &&
             !is_less(&reach_of(search, cell)->cost, &search->cost)))
            return;
        reach_of(search, cell)->done = true;
        try_end(search, cell);
        if (cell != search->to)
            step_on(search, cell);
    }
}

static enum fw_status take_way(const struct search *search,
                               struct fw_moves__way *out, struct fw_error *err)
{
    const size_t end = search->last;
    size_t count = 0;
    for (size_t c = end; reach_of(search, c)->before != FW_NONE;
         c = reach_of(search, c)->before)
        count++;
    out->found = true;
    out->door_count = count;
    out->over_m = search->cost.over_m;
    out->way_m = search->cost.way_m;
    out->doors = fw_alloc(count, sizeof *out->doors);
    out->cells = fw_alloc(count + 1, sizeof *out->cells);
    if (!out->doors || !out->cells)
        return fw_fail_memory(err);
    size_t n = count, cell = end;
    for (; reach_of(search, cell)->before != FW_NONE;
         cell = reach_of(search, cell)->before) {
        out->doors[--n] = reach_of(search, cell)->door;
        out->cells[n + 1] = cell; /* for a while all that it goes over */
    }
    out->first = out->cells[0] = cell;
    for (size_t i = 0; i <= count; i++)
        if (!is_free(search->walk, out->cells[i]) &&
            out->cells[i] != search->to && out->cells[i] != search->from)
            out->cells[out->cell_count++] = out->cells[i];
    return FW_OK;
}

enum fw_status fw_moves__find_way(const struct fw_moves__walk *walk,
                                  size_t field, size_t from, size_t to,
                                  struct fw_moves__way *out,
                                  struct fw_error *err)
{
    struct search search = {.walk = walk,
                            .land = walk->land,
                            .field = field,
                            .from = from,
                            .to = to,
                            .last = FW_NONE};
    search.reaches =
        fw_alloc(fw_land_cell_count(walk->land, field), sizeof *search.reaches);
    search.waits =
        fw_alloc(fw_land_cell_count(walk->land, field), sizeof *search.waits);
    *out = (struct fw_moves__way){0};
    enum fw_status status = search.reaches && search.waits
                                ? find_waiting(&search, err)
                                : fw_fail_memory(err);
    if (!status) {
        begin(&search);
        go_through(&search);
    }
    if (!status && search.last != FW_NONE)
        status = take_way(&search, out, err);
    fw_free(search.reaches);
    fw_free(search.waits);
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
