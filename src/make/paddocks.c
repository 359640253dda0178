/* The paddocks of a field in grazing order, with their figures. */
#include "base/alloc.h"
#include "base/array.h"
#include "base/fail.h"
#include "base/length.h"
#include "choice/keep.h"
#include "figures/mark.h"
#include "figures/plan.h"
#include "make/parts.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* Copy one ring by the map; vertices that became the same are given once. */
static size_t copy_ring(const struct fw_layout *layout, size_t ring,
                        const size_t *map, size_t *out)
{
    size_t n = 0;
    for (size_t i = layout->ring_start[ring]; i < layout->ring_start[ring + 1];
         i++) {
        const size_t vertex = map[layout->ring_vertices[i]];
        if (n == 0 || out[n - 1] != vertex)
            out[n++] = vertex;
    }
    while (n > 1 && out[n - 1] == out[0])
        n--;
    return n;
}

static enum fw_status take_rings(const struct fw_layout *layout, size_t paddock,
                                 const size_t *map, struct fw_plan_rings *rings,
                                 struct fw_error *err)
{
    const size_t first_piece = layout->paddock_piece[paddock];
    const size_t end_piece = layout->paddock_piece[paddock + 1];
    const size_t first_ring = layout->piece_ring[first_piece];
    const size_t end_ring = layout->piece_ring[end_piece];
    const size_t vertices =
        layout->ring_start[end_ring] - layout->ring_start[first_ring];
    const size_t ring_count = end_ring - first_ring;
    const size_t piece_count = end_piece - first_piece;
    rings->vertices = fw_alloc(vertices, sizeof *rings->vertices);
    rings->ring_start = fw_alloc(ring_count + 1, sizeof *rings->ring_start);
    rings->piece_ring = fw_alloc(piece_count + 1, sizeof *rings->piece_ring);
    if (!rings->vertices || !rings->ring_start || !rings->piece_ring)
        return fw_fail_memory(err);
    size_t n = 0;
    for (size_t piece = first_piece; piece < end_piece; piece++) {
        size_t kept = 0;
        const size_t start = rings->ring_count;
        for (size_t ring = layout->piece_ring[piece];
             ring < layout->piece_ring[piece + 1]; ring++) {
            const size_t count =
                copy_ring(layout, ring, map, rings->vertices + n);
            if (count < FW_PARTS(3)) /* a piece that is only a line */
                continue;
            rings->ring_start[rings->ring_count++] = n;
            n += count;
            kept++;
        }
        if (kept)
            rings->piece_ring[rings->piece_count++] = start;
    }
    rings->ring_start[rings->ring_count] = n;
    rings->piece_ring[rings->piece_count] = rings->ring_count;
    if (rings->piece_count == 0)
        return fw_fail(err, FW_EFAULT, "paddock %zu came out without ground",
                       paddock + 1);
    return FW_OK;
}

enum fw_status fw_plan__area_ha(const struct fw_plan_job *job, size_t index,
                                const struct fw_plan_rings *rings, double *out,
                                struct fw_error *err)
{
    const struct fw_plan_field *field = &job->plan->fields[index];
    struct fw_xy *ring =
        fw_alloc(rings->ring_start[rings->ring_count], sizeof *ring);
    enum fw_status status = ring ? FW_OK : fw_fail_memory(err);
    double area_m2 = 0;
    for (size_t r = 0; !status && r < rings->ring_count; r++) {
        const size_t first = rings->ring_start[r];
        const size_t count = rings->ring_start[r + 1] - first;
        double m2 = 0;
        for (size_t i = 0; i < count; i++)
            ring[i] = field->vertices[rings->vertices[first + i]].file;
        status = job->farm->world->area_m2(job->crs[index], &field->plane, ring,
                                           count, &m2, err);
        area_m2 += m2; /* holes run clockwise */
    }
    fw_free(ring);
    if (!status)
        *out = area_m2 / 1e4;
    return status;
}

/* The area as the files draw it, and the length of the outline. */
static enum fw_status measure(const struct fw_plan_job *job,
                              struct fw_plan_paddock *paddock,
                              struct fw_error *err)
{
    const struct fw_plan_field *field = &job->plan->fields[paddock->field];
    const struct fw_plan_rings *rings = &paddock->rings;
    struct fw_lonlat *ring =
        fw_alloc(rings->ring_start[rings->ring_count], sizeof *ring);
    if (!ring)
        return fw_fail_memory(err);
    for (size_t r = 0; r < rings->ring_count; r++) {
        const size_t first = rings->ring_start[r];
        const size_t count = rings->ring_start[r + 1] - first;
        for (size_t i = 0; i < count; i++)
            ring[i] = field->vertices[rings->vertices[first + i]].lonlat;
        paddock->perimeter_m += job->farm->world->length_m(ring, count, true);
    }
    fw_free(ring);
    return fw_plan__area_ha(job, paddock->field, rings, &paddock->area_ha, err);
}

static enum fw_status shape_of(const struct fw_plan_field *field,
                               struct fw_plan_paddock *paddock,
                               struct fw_error *err)
{
    size_t count;
    struct fw_point *ring =
        fw_plan__ring(field, &paddock->rings,
                      fw_plan__greatest_ring(field, &paddock->rings), &count);
    if (!ring)
        return fw_fail_memory(err);
    paddock->elongation = fw_plan__elongation(ring, count);
    fw_free(ring);
    return FW_OK;
}

enum fw_status fw_plan__measure_paddock(const struct fw_plan_job *job,
                                        struct fw_plan_paddock *paddock,
                                        struct fw_error *err)
{
    const enum fw_status status = measure(job, paddock, err);
    return status ? status
                  : shape_of(&job->plan->fields[paddock->field], paddock, err);
}

static enum fw_status add(struct fw_plan_job *job, size_t index,
                          const struct fw_layout *layout, size_t k,
                          const struct fw_plan_targets *targets,
                          const size_t *map, struct fw_error *err)
{
    struct fw_plan *plan = job->plan;
    struct fw_plan_paddock *paddock = &plan->paddocks[plan->paddock_count++];
    char letter[8];
    fw_plan__letter(plan, index, letter);
    fw_plan__id(paddock->id, "%s%02zu", letter, k + 1);
    paddock->field = index;
    paddock->seq = (int)plan->paddock_count;
    paddock->water = FW_NONE;
    if (layout->keep)
        snprintf(paddock->keep, sizeof paddock->keep, "%s",
                 fw_plan__keep_word(layout->keep[k]));
    paddock->plane_m2 = layout->paddock_m2[k];
    paddock->usable_kg =
        fw_plan__ground(job, index)
            ? layout->holds[k]
            : paddock->plane_m2 * targets->usable_kg_ha[k] / 1e4;
    enum fw_status status =
        fw_array_reserve(&job->stays, &job->stay_capacity, job->stay_count + 1,
                         sizeof *job->stays, err);
    if (status)
        return status;
    const struct fw_time_stay stay = fw_plan__stay(
        job, index, layout, targets, k, plan->paddock_count - 1, &job->day);
    job->stays[job->stay_count++] = stay;
    paddock->stay_days = stay.target_kg / plan->flock.demand_kg_day;
    paddock->demand_kg = stay.target_kg;
    status = take_rings(layout, k, map, &paddock->rings, err);
    if (!status)
        status = fw_plan__measure_paddock(job, paddock, err);
    if (status)
        return status;
    paddock->pieces = (int)paddock->rings.piece_count;
    paddock->head_per_ha = plan->flock.head / paddock->area_ha;
    paddock->liveweight_kg_ha = plan->flock.liveweight_kg / paddock->area_ha;
    return FW_OK;
}

/* What the last paddock holds short of its stay, or beyond it. */
static void left_over(struct fw_plan *plan, struct fw_plan_field *field)
{
    double days = 0;
    for (size_t i = 0; i < field->paddock_count; i++) {
        const struct fw_plan_paddock *paddock =
            &plan->paddocks[field->first_paddock + i];
        days += paddock->stay_days;
        if (i + 1 == field->paddock_count)
            field->left_kg = paddock->usable_kg - paddock->demand_kg;
    }
    field->rotation_days = days;
    if (fabs(field->left_kg) < FW_TOLERANCE(1e-6))
        field->left_kg = 0;
}

static size_t root(size_t *leader, size_t i)
{
    while (leader[i] != i)
        i = leader[i] = leader[leader[i]];
    return i;
}

/* Paddocks with only moved lines between them are one block; blocks are
 * numbered as they are grazed. One block is none. */
static enum fw_status name_blocks(struct fw_plan *plan, size_t index,
                                  const struct fw_layout *layout,
                                  struct fw_error *err)
{
    const size_t count = layout->paddock_count;
    const size_t first = plan->fields[index].first_paddock;
    size_t *leader = fw_alloc(2 * count, sizeof *leader);
    if (!leader)
        return fw_fail_memory(err);
    size_t *number = leader + count, blocks = 0;
    for (size_t i = 0; i < count; i++)
        leader[i] = i;
    for (size_t l = 0; l < layout->line_count; l++)
        if (layout->lines[l].role == FW_LINE_MOVED)
            leader[root(leader, layout->lines[l].to)] =
                root(leader, layout->lines[l].from);
    char letter[8];
    fw_plan__letter(plan, index, letter);
    for (size_t i = 0; i < count; i++) {
        const size_t of = root(leader, i);
        if (number[of] == 0)
            number[of] = ++blocks;
    }
    for (size_t i = 0; blocks > 1 && i < count; i++)
        fw_plan__id(plan->paddocks[first + i].block, "%s-%zu", letter,
                    number[root(leader, i)]);
    fw_free(leader);
    return FW_OK;
}

/* Lanes and aprons: walked, and never grazed. */
static enum fw_status add_lanes(struct fw_plan_job *job, size_t index,
                                const struct fw_layout *layout,
                                const size_t *map, struct fw_error *err)
{
    struct fw_plan *plan = job->plan;
    struct fw_plan_field *field = &plan->fields[index];
    const size_t count = layout->common_count;
    char letter[8];
    fw_plan__letter(plan, index, letter);
    enum fw_status status =
        fw_array_reserve(&plan->lanes, &plan->lane_capacity,
                         plan->lane_count + count, sizeof *plan->lanes, err);
    for (size_t k = 0; !status && k < count; k++) {
        struct fw_plan_lane *lane = &plan->lanes[plan->lane_count++];
        struct fw_plan_paddock ground = {.field = index};
        lane->field = index;
        lane->apron = strcmp(layout->pattern, "wedges") == 0;
        const char *what = lane->apron ? "apron" : "lane";
        if (k == 0)
            fw_plan__id(lane->id, "%s %s", what, letter);
        else
            fw_plan__id(lane->id, "%s %s.%zu", what, letter, k + 1);
        lane->plane_m2 = layout->paddock_m2[layout->paddock_count + k];
        status = take_rings(layout, layout->paddock_count + k, map,
                            &lane->rings, err);
        ground.rings = lane->rings;
        if (!status)
            status = measure(job, &ground, err);
        lane->area_ha = ground.area_ha;
        field->grazed_ha -= ground.area_ha;
    }
    return status;
}

enum fw_status fw_plan__paddocks(struct fw_plan_job *job, size_t index,
                                 const struct fw_layout *layout,
                                 const struct fw_plan_targets *targets,
                                 const size_t *map, struct fw_error *err)
{
    struct fw_plan *plan = job->plan;
    struct fw_plan_field *field = &plan->fields[index];
    const size_t count = layout->paddock_count;
    enum fw_status status = fw_array_reserve(
        &plan->paddocks, &plan->paddock_capacity, plan->paddock_count + count,
        sizeof *plan->paddocks, err);
    field->first_paddock = plan->paddock_count;
    field->paddock_count = count;
    for (size_t k = 0; !status && k < count; k++)
        status = add(job, index, layout, k, targets, map, err);
    if (!status)
        status = add_lanes(job, index, layout, map, err);
    if (!status)
        status = name_blocks(plan, index, layout, err);
    if (!status)
        left_over(plan, field);
    return status;
}
