#include "choice/walk.h"

#include "base/alloc.h"
#include "base/fail.h"
#include "figures/mark.h"
#include "figures/plan.h"
#include "geo/points.h"

#include <string.h>

/* ---- the ground ---- */

static void forget(struct fw_plan__walk_on *on)
{
    fw_walk_free(on->ground);
    fw_plan__walk_map_release(&on->map);
    *on = (struct fw_plan__walk_on){.ground = NULL};
}

static bool is_taken(const struct fw_plan__walk_on *on,
                     const struct fw_land *land, size_t index)
{
    return on->ground && on->land == land && on->index == index;
}

static enum fw_status take_field(struct fw_plan__walk *walk,
                                 const struct fw_land *land, size_t index,
                                 struct fw_error *err)
{
    struct fw_plan__walk_on *on = &walk->field;
    if (is_taken(on, land, index))
        return FW_OK;
    forget(on);
    enum fw_status status = fw_plan__walk_map(
        land, index, walk->farm, walk->first_field + index, &on->map, err);
    if (!status)
        status = fw_walk_new(&on->map.map, &on->ground, err);
    if (status)
        return status;
    for (size_t l = on->map.land_lines; l < on->map.map.line_count; l++)
        fw_walk_stand(on->ground, l, false);
    on->land = land;
    on->index = index;
    return FW_OK;
}

static enum fw_status take_cell(struct fw_plan__walk_on *on,
                                const struct fw_land *land, size_t index,
                                struct fw_error *err)
{
    if (is_taken(on, land, index))
        return FW_OK;
    forget(on);
    enum fw_status status =
        fw_plan__walk_map_of_cell(land, index, &on->map, err);
    if (!status)
        status = fw_walk_new(&on->map.map, &on->ground, err);
    on->land = land;
    on->index = index;
    return status;
}

static const struct fw_plan__walk_on *
walked_on(const struct fw_plan__walk *walk)
{
    return walk->alone ? &walk->cell : &walk->field;
}

/* The ground's number of a cell of the land. */
static size_t local(const struct fw_plan__walk *walk, size_t cell)
{
    return walk->alone ? 0 : fw_land_local(walk->field.land, cell);
}

void fw_plan__walk_release(struct fw_plan__walk *walk)
{
    forget(&walk->field);
    forget(&walk->cell);
    *walk = (struct fw_plan__walk){0};
}

/* ---- a day ---- */

/* What stands and what is open, as the replay has it. */
static enum fw_status take_lines(struct fw_plan__walk *walk,
                                 const struct fw_replay *replay,
                                 struct fw_error *err)
{
    const struct fw_plan__walk_on *on = &walk->field;
    const struct fw_land_field *field = &on->land->fields[on->index];
    for (size_t l = 0; l < field->line_count; l++)
        fw_walk_stand(on->ground, l, replay->stands[field->first_line + l]);
    fw_walk_shut(on->ground);
    enum fw_status status = FW_OK;
    for (size_t i = 0; !status && i < replay->opened_count; i++) {
        const struct fw_opening *opening =
            &replay->time->openings[replay->opened[i]];
        if (opening->line == FW_NONE || opening->field != on->index)
            continue;
        status = fw_walk_open(on->ground, opening->line - field->first_line,
                              opening->at_m - opening->width_m / 2,
                              opening->at_m + opening->width_m / 2, err);
    }
    return status;
}

/* Where all of the cell is seen from the place no ground about it matters. */
static bool is_straight(const struct fw_plan__walk *walk,
                        const struct fw_land *land, size_t index,
                        struct fw_point water, struct fw_walk_sums *out)
{
    const struct fw_cell *cell = &land->cells[index];
    const size_t first = land->ring_start[cell->first_ring];
    return cell->ring_count == 1 &&
           fw_walk_seen(land->ring_points + first,
                        land->ring_start[cell->first_ring + 1] - first, water,
                        walk->feed, out);
}

/* Is it all of this field that they have? */
static bool is_alone(const struct fw_land *land, size_t cell,
                     const size_t *cells, size_t count)
{
    bool alone = land->cells[cell].kind != FW_CELL_GRAZED;
    for (size_t i = 0; i < count; i++)
        alone &= cells[i] == cell ||
                 land->cells[cells[i]].field != land->cells[cell].field;
    return alone;
}

static enum fw_status take(struct fw_plan__walk *walk, struct fw_replay *replay,
                           size_t cell, const size_t *cells, size_t count,
                           struct fw_error *err)
{
    walk->alone = is_alone(replay->land, cell, cells, count);
    if (walk->alone)
        return take_cell(&walk->cell, replay->land, cell, err);
    const enum fw_status status =
        take_field(walk, replay->land, replay->land->cells[cell].field, err);
    return status ? status : take_lines(walk, replay, err);
}

static enum fw_status search(struct fw_plan__walk *walk,
                             const struct fw_walk_start *start, size_t cell,
                             struct fw_walk_sums *out, struct fw_error *err)
{
    struct fw_walk_ground *ground = walked_on(walk)->ground;
    const double before = fw_walk_passed(ground);
    enum fw_status status = fw_walk_search(ground, start, err);
    fw_walk_feed(ground, walk->feed);
    if (!status)
        status = fw_walk_sum(ground, local(walk, cell), out, err);
    walk->passed += fw_walk_passed(ground) - before;
    return status;
}

enum fw_status fw_plan__walk_to(struct fw_plan__walk *walk,
                                struct fw_replay *replay, size_t cell,
                                struct fw_point water, struct fw_walk_sums *out,
                                struct fw_error *err)
{
    const struct fw_land *land = replay->land;
    size_t count, near = 0;
    walk->straight = is_straight(walk, land, cell, water, out);
    if (walk->straight)
        return FW_OK;
    const size_t *cells = fw_replay_ground(replay, &count);
    enum fw_status status = take(walk, replay, cell, cells, count, err);
    if (status)
        return status;
    size_t *at_water = fw_alloc(count, sizeof *at_water);
    if (!at_water)
        return fw_fail_memory(err);
    for (size_t i = 0; i < count; i++)
        if (land->cells[cells[i]].field == land->cells[cell].field &&
            fw_plan__walk_map_has(&walked_on(walk)->map, local(walk, cells[i]),
                                  water, FW_TROUGH_REACH_M))
            at_water[near++] = local(walk, cells[i]);
    const struct fw_walk_start start = {water, at_water, near,
                                        FW_TROUGH_REACH_M};
    status = search(walk, &start, cell, out, err);
    fw_free(at_water);
    return status;
}

enum fw_status fw_plan__walk_within(struct fw_plan__walk *walk,
                                    const struct fw_land *land, size_t cell,
                                    struct fw_point water,
                                    struct fw_walk_sums *out,
                                    struct fw_error *err)
{
    const size_t here = 0;
    const struct fw_walk_start start = {water, &here, 1, FW_TROUGH_REACH_M};
    walk->straight = is_straight(walk, land, cell, water, out);
    if (walk->straight)
        return FW_OK;
    walk->alone = true;
    const enum fw_status status = take_cell(&walk->cell, land, cell, err);
    return status ? status : search(walk, &start, cell, out, err);
}

enum fw_status fw_plan__walk_way(const struct fw_plan__walk *walk, size_t cell,
                                 struct fw_point from, struct fw_point water,
                                 struct fw_point **out, size_t *count,
                                 struct fw_error *err)
{
    if (!walk->straight)
        return fw_walk_way(walked_on(walk)->ground, local(walk, cell), from,
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
    const struct fw_plan__walk_on *on = walked_on(walk);
    const size_t field =
        walk->alone ? on->land->cells[on->index].field : on->index;
    size_t count;
    const size_t *cells = fw_replay_ground(replay, &count);
    for (size_t i = 0; i < count; i++)
        if (on->land->cells[cells[i]].field == field &&
            !fw_walk_is_drawn(on->ground, local(walk, cells[i])))
            return false;
    return true;
}
