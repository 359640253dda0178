/* Whose ground is it: visits, what they have besides the cell of their stay,
 * and how they get from one to the next. */
#include "moves/inner.h"

#include "figures/moves.h"

static bool is_common(const struct fw_cell *cell)
{
    return cell->kind == FW_CELL_LANE || cell->kind == FW_CELL_APRON;
}

struct fw_moves__visit fw_moves__visit_at(const struct fw_land *land,
                                          const struct fw_time *time,
                                          size_t stay)
{
    const size_t field = land->cells[time->stays[stay].cell].field;
    struct fw_moves__visit visit = {field, stay, stay + 1};
    while (visit.first > 0 && !fw_moves__comes_new(land, time, visit.first))
        visit.first--;
    while (visit.end < time->stay_count &&
           !fw_moves__comes_new(land, time, visit.end))
        visit.end++;
    return visit;
}

const struct fw_time_stay *fw_moves__stay_back(const struct fw_time *time,
                                               size_t stay, size_t back)
{
    if (back <= stay)
        return &time->stays[stay - back];
    return back - stay <= time->before_count
               ? &time->before[time->before_count + stay - back]
               : NULL;
}

size_t fw_moves__cell_back(const struct fw_time *time, size_t stay, size_t back)
{
    const struct fw_time_stay *of = fw_moves__stay_back(time, stay, back);
    return of ? of->cell : FW_NONE;
}

bool fw_moves__comes_new(const struct fw_land *land, const struct fw_time *time,
                         size_t stay)
{
    const struct fw_time_stay *here = &time->stays[stay];
    const struct fw_time_stay *from = fw_moves__stay_back(time, stay, 1);
    return !from || from->round != here->round ||
           land->cells[from->cell].field != land->cells[here->cell].field;
}

void fw_moves__regrow(const struct fw_land *land, const struct fw_time *time,
                      size_t stay, bool *grazed)
{
    const size_t field = land->cells[time->stays[stay].cell].field;
    const size_t end = fw_moves__visit_at(land, time, stay).end;
    for (size_t k = stay; k < end; k++) {
        const size_t cell = time->stays[k].cell;
        grazed[cell] = land->cells[cell].kind == FW_CELL_GRAZED;
    }
    for (size_t k = 0; k < land->fields[field].common_count; k++) {
        const size_t cell = land->fields[field].first_common + k;
        if (is_common(&land->cells[cell]))
            grazed[cell] = false;
    }
}

static double door_m(const struct fw_land *land, size_t door)
{
    return land->doors[door].to_m - land->doors[door].from_m;
}

size_t fw_moves__shared_door(const struct fw_land *land, size_t from, size_t to,
                             double way_m)
{
    const struct fw_cell *cell = &land->cells[from];
    size_t best = FW_NONE;
    for (size_t i = 0; i < cell->door_count; i++) {
        const size_t door = land->doors_of[cell->first_door + i];
        if (fw_land_beyond(land, door, from) == to &&
            door_m(land, door) >= way_m - fw_moves__same_m &&
            (best == FW_NONE ||
             door_m(land, door) > door_m(land, best) + fw_moves__same_m))
            best = door;
    }
    return best;
}

size_t fw_moves__drift_door(const struct fw_land *land,
                            const struct fw_habits *habits,
                            const struct fw_time *time, size_t stay,
                            size_t back)
{
    const struct fw_time_stay *here = fw_moves__stay_back(time, stay, back);
    const struct fw_time_stay *left = fw_moves__stay_back(time, stay, back + 1);
    if (habits->drift_from == FW_NO_DAY || !here || !left ||
        here->enter < habits->drift_from || here->enter >= habits->drift_to ||
        land->cells[here->cell].field != land->cells[left->cell].field ||
        left->round != here->round)
        return FW_NONE;
    return fw_moves__shared_door(land, left->cell, here->cell, habits->way_m);
}

/* ---- to the water ---- */

static bool is_known(const struct fw_moves__hop *hops, size_t count,
                     size_t cell)
{
    for (size_t i = 0; i < count; i++)
        if (hops[i].cell == cell)
            return true;
    return false;
}

/* The hops that lead to the last one, put to the front. */
static size_t trace_back(struct fw_moves__hop *hops, size_t count)
{
    struct fw_moves__hop *way = hops + count; /* from the water on */
    size_t n = 0;
    for (size_t i = count - 1; i != FW_NONE; i = hops[i].before)
        way[n++] = hops[i];
    for (size_t i = 0; i < n; i++)
        hops[i] = way[n - 1 - i];
    return n;
}

/* Over what is common only: each cell once, until one has the water. */
size_t fw_moves__way_to_water(const struct fw_land *land, size_t index,
                              struct fw_moves__hop *out)
{
    const struct fw_cell *cell = &land->cells[index];
    if (cell->at_water || !land->fields[cell->field].water_given)
        return 0;
    size_t count = 0;
    for (size_t i = 0; i <= count; i++) {
        const size_t from = i == 0 ? index : out[i - 1].cell;
        const struct fw_cell *at = &land->cells[from];
        for (size_t k = 0; k < at->door_count; k++) {
            const size_t door = land->doors_of[at->first_door + k];
            const size_t to = fw_land_beyond(land, door, from);
            if (to == index || !is_common(&land->cells[to]) ||
                door_m(land, door) < FW_OPENING_DRINK_M - fw_moves__same_m ||
                is_known(out, count, to))
                continue;
            out[count++] =
                (struct fw_moves__hop){to, door, i == 0 ? FW_NONE : i - 1};
            if (land->cells[to].at_water)
                return trace_back(out, count);
        }
    }
    return 0;
}
