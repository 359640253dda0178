#include "choice/walk.h"

#include "base/alloc.h"
#include "base/fail.h"
#include "figures/mark.h"
#include "figures/plan.h"

#include <string.h>

/* ---- the ground of a field ---- */

struct rings {
    struct fw_point *points;
    size_t *ring_start, *cell_ring, *line_start;
};

static void take_cell(const struct fw_land *land, const struct fw_cell *cell,
                      size_t k, struct rings *rings)
{
    size_t ring = rings->cell_ring[k];
    for (size_t r = cell->first_ring; r < cell->first_ring + cell->ring_count;
         r++) {
        const size_t first = land->ring_start[r];
        const size_t count = land->ring_start[r + 1] - first;
        memcpy(rings->points + rings->ring_start[ring],
               land->ring_points + first, count * sizeof *rings->points);
        rings->ring_start[ring + 1] = rings->ring_start[ring] + count;
        ring++;
    }
    rings->cell_ring[k + 1] = ring;
}

static enum fw_status make_rings(const struct fw_land *land, size_t index,
                                 struct rings *rings, struct fw_error *err)
{
    const struct fw_land_field *field = &land->fields[index];
    const size_t cells = fw_land_cell_count(land, index);
    size_t points = 0, ring_count = 0;
    for (size_t k = 0; k < cells; k++) {
        const struct fw_cell *cell = &land->cells[fw_land_cell(land, index, k)];
        ring_count += cell->ring_count;
        points += land->ring_start[cell->first_ring + cell->ring_count] -
                  land->ring_start[cell->first_ring];
    }
    *rings = (struct rings){
        .points = fw_alloc(points, sizeof *rings->points),
        .ring_start = fw_alloc(ring_count + 1, sizeof(size_t)),
        .cell_ring = fw_alloc(cells + 1, sizeof(size_t)),
        .line_start = fw_alloc(field->line_count + 1, sizeof(size_t)),
    };
    if (!rings->points || !rings->ring_start || !rings->cell_ring ||
        !rings->line_start)
        return fw_fail_memory(err);
    for (size_t k = 0; k < cells; k++)
        take_cell(land, &land->cells[fw_land_cell(land, index, k)], k, rings);
    for (size_t l = 0; l < field->line_count; l++) {
        const struct fw_land_line *line = &land->lines[field->first_line + l];
        rings->line_start[l] = line->first;
        rings->line_start[l + 1] = line->first + line->count;
    }
    return FW_OK;
}

static enum fw_status take_field(struct fw_plan__walk *walk,
                                 const struct fw_land *land, size_t index,
                                 struct fw_error *err)
{
    if (walk->ground && walk->land == land && walk->field == index)
        return FW_OK;
    struct rings rings;
    fw_walk_free(walk->ground);
    walk->ground = NULL;
    enum fw_status status = make_rings(land, index, &rings, err);
    if (!status) {
        const struct fw_walk_map map = {
            .points = rings.points,
            .ring_start = rings.ring_start,
            .cell_ring = rings.cell_ring,
            .cell_count = fw_land_cell_count(land, index),
            .line_points = land->line_points,
            .line_start = rings.line_start,
            .line_count = land->fields[index].line_count,
        };
        status = fw_walk_new(&map, &walk->ground, err);
    }
    fw_free(rings.points);
    fw_free(rings.ring_start);
    fw_free(rings.cell_ring);
    fw_free(rings.line_start);
    walk->land = land;
    walk->field = index;
    return status;
}

void fw_plan__walk_release(struct fw_plan__walk *walk)
{
    fw_walk_free(walk->ground);
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

static bool is_near(const struct fw_land *land, size_t index,
                    struct fw_point at)
{
    const struct fw_cell *cell = &land->cells[index];
    bool inside = false;
    for (size_t r = cell->first_ring; r < cell->first_ring + cell->ring_count;
         r++) {
        const struct fw_point *ring = land->ring_points + land->ring_start[r];
        const size_t count = land->ring_start[r + 1] - land->ring_start[r];
        if (fw_ring_contains(ring, count, at))
            inside = !inside;
        for (size_t i = 0; i < count; i++)
            if (fw_segment_distance_m(at, ring[i], ring[(i + 1) % count]) <=
                FW_TROUGH_REACH_M)
                return true;
    }
    return inside;
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
    if (is_straight(land, cell, water, out))
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
            is_near(land, cells[i], water))
            at_water[near++] = fw_land_local(land, cells[i]);
    const double before = fw_walk_passed(walk->ground);
    const struct fw_walk_start start = {water, at_water, near,
                                        FW_TROUGH_REACH_M};
    status = fw_walk_search(walk->ground, &start, err);
    if (!status)
        status = fw_walk_sum(walk->ground, fw_land_local(land, cell), out, err);
    walk->passed += fw_walk_passed(walk->ground) - before;
    fw_free(at_water);
    return status;
}
