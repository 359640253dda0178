#include "choice/walk.h"

#include "base/alloc.h"
#include "base/fail.h"
#include "figures/mark.h"
#include "figures/plan.h"
#include "geo/points.h"

#include <string.h>

/* ---- the ground of a field ---- */

static void forget(struct fw_plan__walk *walk)
{
    fw_walk_free(walk->ground);
    fw_plan__walk_map_release(&walk->map);
    walk->ground = NULL;
}

static enum fw_status take_field(struct fw_plan__walk *walk,
                                 const struct fw_land *land, size_t index,
                                 struct fw_error *err)
{
    if (walk->ground && walk->land == land && walk->field == index)
        return FW_OK;
    forget(walk);
    enum fw_status status = fw_plan__walk_map(
        land, index, walk->farm, walk->first_field + index, &walk->map, err);
    if (!status)
        status = fw_walk_new(&walk->map.map, &walk->ground, err);
    if (status)
        return status;
    for (size_t l = walk->map.land_lines; l < walk->map.map.line_count; l++)
        fw_walk_stand(walk->ground, l, false);
    walk->land = land;
    walk->field = index;
    return FW_OK;
}

void fw_plan__walk_release(struct fw_plan__walk *walk)
{
    forget(walk);
    *walk = (struct fw_plan__walk){0};
}

/* ---- a day ---- */

/* What stands and what is open, as the replay has it. */
static enum fw_status take_lines(struct fw_plan__walk *walk,
                                 const struct fw_replay *replay,
                                 struct fw_error *err)
{
    const struct fw_land_field *field = &walk->land->fields[walk->field];
    for (size_t l = 0; l < field->line_count; l++)
        fw_walk_stand(walk->ground, l, replay->stands[field->first_line + l]);
    fw_walk_shut(walk->ground);
    enum fw_status status = FW_OK;
    for (size_t i = 0; !status && i < replay->opened_count; i++) {
        const struct fw_opening *opening =
            &replay->time->openings[replay->opened[i]];
        if (opening->line == FW_NONE || opening->field != walk->field)
            continue;
        status = fw_walk_open(walk->ground, opening->line - field->first_line,
                              opening->at_m - opening->width_m / 2,
                              opening->at_m + opening->width_m / 2, err);
    }
    return status;
}

/* Where all of the cell is seen from the place no ground about it matters. */
static bool is_straight(const struct fw_land *land, size_t index,
                        struct fw_point water, struct fw_walk_sums *out)
{
    const struct fw_cell *cell = &land->cells[index];
    const size_t first = land->ring_start[cell->first_ring];
    struct fw_walk_sums sums = {.known = true, .covered = 1};
    if (cell->ring_count != 1 ||
        !fw_ring_straight_walk(land->ring_points + first,
                               land->ring_start[cell->first_ring + 1] - first,
                               water, &sums.mean_m, &sums.most_m))
        return false;
    sums.fed_m = sums.mean_m;
    *out = sums;
    return true;
}

enum fw_status fw_plan__walk_to(struct fw_plan__walk *walk,
                                struct fw_replay *replay, size_t cell,
                                struct fw_point water, struct fw_walk_sums *out,
                                struct fw_error *err)
{
    const struct fw_land *land = replay->land;
    const size_t field = land->cells[cell].field;
    size_t count, near = 0;
    walk->straight = !walk->feed && is_straight(land, cell, water, out);
    if (walk->straight)
        return FW_OK;
    enum fw_status status = take_field(walk, land, field, err);
    if (!status)
        status = take_lines(walk, replay, err);
    if (status)
        return status;
    const size_t *cells = fw_replay_ground(replay, &count);
    size_t *at_water = fw_alloc(count, sizeof *at_water);
    if (!at_water)
        return fw_fail_memory(err);
    for (size_t i = 0; i < count; i++)
        if (land->cells[cells[i]].field == field &&
            fw_plan__walk_map_has(&walk->map, fw_land_local(land, cells[i]),
                                  water, FW_TROUGH_REACH_M))
            at_water[near++] = fw_land_local(land, cells[i]);
    const double before = fw_walk_passed(walk->ground);
    const struct fw_walk_start start = {water, at_water, near,
                                        FW_TROUGH_REACH_M};
    status = fw_walk_search(walk->ground, &start, err);
    fw_walk_feed(walk->ground, walk->feed);
    if (!status)
        status = fw_walk_sum(walk->ground, fw_land_local(land, cell), out, err);
    walk->passed += fw_walk_passed(walk->ground) - before;
    fw_free(at_water);
    return status;
}

enum fw_status fw_plan__walk_way(const struct fw_plan__walk *walk, size_t cell,
                                 struct fw_point from, struct fw_point water,
                                 struct fw_point **out, size_t *count,
                                 struct fw_error *err)
{
    if (!walk->straight)
        return fw_walk_way(walk->ground, fw_land_local(walk->land, cell), from,
                           out, count, err);
    struct fw_point *points = fw_alloc(2, sizeof *points);
    if (!points)
        return fw_fail_memory(err);
    points[0] = from;
    points[1] = water;
    *out = points;
    *count = 2;
    return FW_OK;
}

bool fw_plan__walk_is_drawn(const struct fw_plan__walk *walk,
                            struct fw_replay *replay)
{
    const struct fw_land *land = walk->land;
    size_t count;
    const size_t *cells = fw_replay_ground(replay, &count);
    for (size_t i = 0; i < count; i++)
        if (land->cells[cells[i]].field == walk->field &&
            !fw_walk_is_drawn(walk->ground, fw_land_local(land, cells[i])))
            return false;
    return true;
}
