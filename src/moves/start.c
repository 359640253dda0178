/* What is before the first move: where the flock is, what was grazed, what
 * stands, and what was left open in it. */
#include "moves/inner.h"

#include "base/alloc.h"
#include "base/array.h"
#include "base/fail.h"
#include "geo/points.h"

#include <math.h>

bool fw_moves__was_grazed(const struct fw_time_start *start, size_t cell)
{
    return start && start->grazed && start->grazed[cell];
}

bool fw_moves__stood(const struct fw_time_start *start, size_t line)
{
    return start && start->stands && start->stands[line];
}

/* ---- openings ---- */

size_t fw_moves__door_at(const struct fw_land *land,
                         const struct fw_opening *opening)
{
    if (opening->line == FW_NONE)
        return FW_NONE;
    const struct fw_land_line *line = &land->lines[opening->line];
    for (size_t d = line->first_door; d < line->first_door + line->door_count;
         d++)
        if (opening->at_m >= land->doors[d].from_m - fw_moves__same_m &&
            opening->at_m <= land->doors[d].to_m + fw_moves__same_m)
            return d;
    return FW_NONE;
}

enum fw_status fw_moves__find_open(struct fw_moves__making *making,
                                   struct fw_error *err)
{
    const struct fw_land *land = making->land;
    const struct fw_time_start *start = making->start;
    const size_t count = start ? start->open_count : 0;
    making->before = fw_alloc(count, sizeof *making->before);
    if (!making->before)
        return fw_fail_memory(err);
    for (size_t i = 0; i < count; i++) {
        struct fw_opening *opening = &making->before[i];
        *opening = start->open[i];
        if (opening->line >= land->line_count)
            return fw_fail(err, FW_EINPUT,
                           "opening %zu is in line %zu of %zu; expected one "
                           "that there is",
                           i + 1, opening->line, land->line_count);
        opening->door = fw_moves__door_at(land, opening);
        if (opening->door == FW_NONE)
            return fw_fail(err, FW_EINPUT,
                           "opening %zu is %.1f m along its line, where it "
                           "leads from nowhere to nowhere",
                           i + 1, opening->at_m);
        opening->place = fw_land_along(land, opening->line, opening->at_m);
    }
    making->before_count = count;
    return FW_OK;
}

/* Was the line turned meanwhile? Then A is where B was. */
static void turn(const struct fw_land *land, struct fw_opening *opening)
{
    const double other_m = land->lines[opening->line].length_m - opening->at_m;
    const struct fw_point here =
        fw_land_along(land, opening->line, opening->at_m);
    const struct fw_point there = fw_land_along(land, opening->line, other_m);
    if (fw_point_apart_m(here, opening->place) <=
        fw_point_apart_m(there, opening->place))
        return;
    opening->at_m = other_m;
    if (opening->kind == FW_OPENING_A)
        opening->kind = FW_OPENING_B;
    else if (opening->kind == FW_OPENING_B)
        opening->kind = FW_OPENING_A;
}

/* Where nothing is shut off they keep the lane that was opened for them. */
static void take_common(struct fw_moves__making *making, size_t cell)
{
    const enum fw_cell_kind kind = making->land->cells[cell].kind;
    if (!making->habits->back_fence && kind != FW_CELL_PADDOCK)
        making->grazed[cell] = true;
}

enum fw_status fw_moves__take_open(struct fw_moves__making *making,
                                   struct fw_error *err)
{
    struct fw_time *time = making->time;
    const struct fw_land *land = making->land;
    const size_t count = making->before_count;
    enum fw_status status = fw_array_reserve(
        &time->openings, &time->opening_capacity, time->opening_count + count,
        sizeof *time->openings, err);
    for (size_t i = 0; !status && i < count; i++) {
        struct fw_opening opening = making->before[i];
        if (!making->stands[opening.line])
            continue;
        turn(land, &opening);
        opening.field = land->lines[opening.line].field;
        opening.from = land->doors[opening.door].a;
        opening.to = land->doors[opening.door].b;
        opening.move = FW_NONE;
        opening.open = true;
        take_common(making, opening.from);
        take_common(making, opening.to);
        making->opening_of[opening.door] = time->opening_count;
        making->open_door[opening.door] = true;
        making->left_open[making->left_open_count++] = time->opening_count;
        time->openings[time->opening_count++] = opening;
    }
    return status;
}
