#include "moves/search.h"

#include "base/alloc.h"
#include "base/fail.h"

#include <math.h>

struct fw_moves__reach *
fw_moves__reach_of(const struct fw_moves__search *search, size_t cell)
{
    return &search->reaches[fw_land_local(search->land, cell)];
}

bool fw_moves__is_known(const struct fw_moves__search *search,
                        const struct fw_moves__reach *reach)
{
    return reach->when == search->when;
}

/* Lengths that are the same but for rounding are the same. */
static double whole_um(double m)
{
    return floor(m * 1e6 + 0.5);
}

bool fw_moves__is_less(const struct fw_moves__cost *a,
                       const struct fw_moves__cost *b)
{
    const double over_um = whole_um(a->over_m) - whole_um(b->over_m);
    if (over_um != 0)
        return over_um < 0;
    if (a->narrow != b->narrow)
        return a->narrow < b->narrow;
    if (a->openings != b->openings)
        return a->openings < b->openings;
    return whole_um(a->way_m) < whole_um(b->way_m);
}

bool fw_moves__is_free(const struct fw_moves__walk *walk, size_t cell)
{
    return walk->land->cells[cell].kind != FW_CELL_PADDOCK ||
           walk->grazed[cell];
}

bool fw_moves__is_shut(const struct fw_moves__walk *walk, size_t door)
{
    return walk->stands[walk->land->doors[door].line] && !walk->open_door[door];
}

enum fw_status fw_moves__search_new(const struct fw_land *land,
                                    struct fw_moves__search **out,
                                    struct fw_error *err)
{
    struct fw_moves__search *search = fw_alloc(1, sizeof *search);
    size_t most = 0;
    if (!search)
        return fw_fail_memory(err);
    for (size_t f = 0; f < land->field_count; f++)
        if (fw_land_cell_count(land, f) > most)
            most = fw_land_cell_count(land, f);
    search->land = land;
    search->reaches = fw_alloc(most, sizeof *search->reaches);
    search->waiting = fw_alloc(most, sizeof *search->waiting);
    search->list = fw_alloc(most, sizeof *search->list);
    search->heap = fw_alloc(most, sizeof *search->heap);
    *out = search;
    return search->reaches && search->waiting && search->list && search->heap
               ? FW_OK
               : fw_fail_memory(err);
}

void fw_moves__search_free(struct fw_moves__search *search)
{
    if (!search)
        return;
    fw_free(search->reaches);
    fw_free(search->waiting);
    fw_free(search->list);
    fw_free(search->heap);
    fw_free(search);
}

/* ---- what waits ---- */

static struct fw_moves__waiting *
waiting_of(const struct fw_moves__search *search, size_t cell)
{
    return &search->waiting[fw_land_local(search->land, cell)];
}

static bool is_ungrazed(const struct fw_moves__search *search, size_t cell)
{
    return cell != search->to && !fw_moves__is_free(search->walk, cell);
}

/* On from one cell over what no fence parts from it, as far as something that
 * is known to wait. */
static size_t look_on(const struct fw_moves__search *search, size_t cell,
                      size_t *count)
{
    const struct fw_land *land = search->land;
    const struct fw_cell *at = &land->cells[cell];
    if (is_ungrazed(search, cell))
        return cell;
    for (size_t k = 0; k < at->door_count; k++) {
        const size_t door = land->doors_of[at->first_door + k];
        const size_t to = fw_land_beyond(land, door, cell);
        struct fw_moves__waiting *next = waiting_of(search, to);
        if (fw_moves__is_shut(search->walk, door) || to == search->to)
            continue;
        if (next->when == search->when && next->what != FW_NONE)
            return next->what;
        if (next->when == search->when)
            continue;
        *next = (struct fw_moves__waiting){search->when, FW_NONE};
        search->list[(*count)++] = to;
    }
    return FW_NONE;
}

static size_t open_onto(const struct fw_moves__search *search, size_t cell)
{
    struct fw_moves__waiting *waiting = waiting_of(search, cell);
    size_t count = 0, what = FW_NONE;
    if (waiting->when == search->when)
        return waiting->what;
    search->list[count++] = cell;
    *waiting = (struct fw_moves__waiting){search->when, FW_NONE};
    for (size_t i = 0; i < count && what == FW_NONE; i++)
        what = look_on(search, search->list[i], &count);
    for (size_t i = 0; i < count; i++)
        waiting_of(search, search->list[i])->what = what;
    return what;
}

bool fw_moves__does_wait(const struct fw_moves__search *search, size_t cell)
{
    return open_onto(search, cell) != FW_NONE;
}

size_t fw_moves__waiting_at(const struct fw_moves__search *search, size_t cell)
{
    return is_ungrazed(search, cell) ? cell : open_onto(search, cell);
}

/* ---- cells that were reached, the nearest first ---- */

/* The last opening is certain: who is not there yet has it to make. */
struct fw_moves__cost fw_moves__at_least(const struct fw_moves__search *search,
                                         size_t cell)
{
    struct fw_moves__cost cost = fw_moves__reach_of(search, cell)->cost;
    if (cell != search->to)
        cost.openings += search->least;
    return cost;
}

static bool comes_before(const struct fw_moves__search *search, size_t a,
                         size_t b)
{
    const struct fw_moves__cost one = fw_moves__at_least(search, a),
                                other = fw_moves__at_least(search, b);
    if (fw_moves__is_less(&one, &other))
        return true;
    return !fw_moves__is_less(&other, &one) && a < b;
}

static void put_at(struct fw_moves__search *search, size_t place, size_t cell)
{
    search->heap[place] = cell;
    fw_moves__reach_of(search, cell)->place = place;
}

static void move_up(struct fw_moves__search *search, size_t cell)
{
    size_t place = fw_moves__reach_of(search, cell)->place;
    while (place > 0) {
        const size_t above = (place - 1) / 2;
        if (!comes_before(search, cell, search->heap[above]))
            break;
        put_at(search, place, search->heap[above]);
        place = above;
    }
    put_at(search, place, cell);
}

size_t fw_moves__take_first(struct fw_moves__search *search)
{
    if (search->heap_count == 0)
        return FW_NONE;
    const size_t first = search->heap[0];
    const size_t cell = search->heap[--search->heap_count];
    size_t place = 0;
    for (;;) {
        size_t below = 2 * place + 1;
        if (below >= search->heap_count)
            break;
        if (below + 1 < search->heap_count &&
            comes_before(search, search->heap[below + 1], search->heap[below]))
            below++;
        if (!comes_before(search, search->heap[below], cell))
            break;
        put_at(search, place, search->heap[below]);
        place = below;
    }
    if (search->heap_count > 0)
        put_at(search, place, cell);
    return first;
}

void fw_moves__reach(struct fw_moves__search *search, size_t cell,
                     const struct fw_moves__reach *reached)
{
    struct fw_moves__reach *reach = fw_moves__reach_of(search, cell);
    const size_t place =
        fw_moves__is_known(search, reach) ? reach->place : search->heap_count++;
    *reach = *reached;
    reach->when = search->when;
    reach->place = place;
    search->heap[place] = cell;
    move_up(search, cell);
}
