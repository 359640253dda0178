/* The moved fences of a field, one a run, and the sides of its boundary. */
#include "base/alloc.h"
#include "base/array.h"
#include "base/fail.h"
#include "plan/job.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* Shorter than this is no fence: the cut only touches the boundary there. */
static const double least_run_m = 1e-6;

static enum fw_status new_fence(struct fw_plan *plan, size_t field,
                                enum fw_fence_role role, size_t vertices,
                                struct fw_plan_fence **out,
                                struct fw_error *err)
{
    enum fw_status status =
        fw_array_reserve(&plan->fences, &plan->fence_capacity,
                         plan->fence_count + 1, sizeof *plan->fences, err);
    if (status)
        return status;
    size_t *line = fw_alloc(vertices, sizeof *line);
    if (!line)
        return fw_fail_memory(err);
    struct fw_plan_fence *fence = &plan->fences[plan->fence_count];
    *fence = (struct fw_plan_fence){
        .field = field,
        .role = role,
        .cut = FW_NONE,
        .side = FW_NONE,
        .line = line,
        .up = FW_NO_DAY,
        .down = FW_NO_DAY,
    };
    plan->fence_count++;
    plan->fields[field].fence_count++;
    *out = fence;
    return FW_OK;
}

static enum fw_status measure(const struct fw_plan_field *field,
                              struct fw_plan_fence *fence, struct fw_error *err)
{
    struct fw_lonlat *line = fw_alloc(fence->line_count, sizeof *line);
    if (!line)
        return fw_fail_memory(err);
    for (size_t i = 0; i < fence->line_count; i++)
        line[i] = field->vertices[fence->line[i]].lonlat;
    fence->length_m = fw_geo_length_m(line, fence->line_count, false);
    fence->ground_m = fence->length_m; /* no ground model: as if level */
    fence->bearing_deg =
        fw_geo_bearing_deg(line[0], line[fence->line_count - 1]);
    fw_free(line);
    return FW_OK;
}

static enum fw_status count_moved(const struct fw_plan *plan,
                                  const struct fw_plan_field *field,
                                  struct fw_plan_fence *fence,
                                  struct fw_error *err)
{
    const struct fw_point line[2] = {fw_plan__at(field, fence->line[0]),
                                     fw_plan__at(field, fence->line[1])};
    struct fw_fence_count count;
    const enum fw_status status =
        fw_fence_count(line, 2, false, &plan->moved, &count, err);
    if (status)
        return status;
    fence->strands = plan->moved.strands;
    fence->posts = count.posts;
    fence->reels = count.reels;
    fence->wire_m = fence->length_m * fence->strands * (1 + plan->moved.slack);
    return FW_OK;
}

/* Up with the move into the paddock before it, down when it has served as the
 * back fence; without back fences, down as soon as the flock is through. */
static void date(const struct fw_plan *plan, const struct fw_plan_field *field,
                 struct fw_plan_fence *fence)
{
    const struct fw_plan_paddock *paddocks =
        &plan->paddocks[field->first_paddock];
    const size_t after = fence->cut + (plan->back_fence ? 2 : 1);
    fence->up = paddocks[fence->cut].enter;
    fence->down = after < field->paddock_count
                      ? paddocks[after].enter
                      : paddocks[field->paddock_count - 1].leave;
}

static enum fw_status add_run(struct fw_plan_job *job, size_t index, size_t cut,
                              size_t run, size_t a, size_t b,
                              struct fw_error *err)
{
    struct fw_plan *plan = job->plan;
    struct fw_plan_fence *fence;
    enum fw_status status =
        new_fence(plan, index, FW_FENCE_MOVED, 2, &fence, err);
    if (status)
        return status;
    const struct fw_plan_field *field = &plan->fields[index];
    char letter[8];
    fw_plan__letter(index, letter);
    if (run == 0)
        fw_plan__id(fence->id, "%s%02zu-%02zu", letter, cut + 1, cut + 2);
    else
        fw_plan__id(fence->id, "%s%02zu-%02zu.%zu", letter, cut + 1, cut + 2,
                    run + 1);
    fence->cut = cut;
    fence->line[0] = a;
    fence->line[1] = b;
    fence->line_count = 2;
    date(plan, field, fence);
    status = measure(field, fence, err);
    return status ? status : count_moved(plan, field, fence, err);
}

enum fw_status fw_plan__moved_fences(struct fw_plan_job *job, size_t index,
                                     const struct fw_partition *partition,
                                     const size_t *map, struct fw_error *err)
{
    struct fw_plan *plan = job->plan;
    plan->fields[index].first_fence = plan->fence_count;
    enum fw_status status = FW_OK;
    for (size_t cut = 0; cut < partition->cut_count; cut++) {
        size_t run = 0;
        for (size_t s = partition->cut_start[cut];
             !status && s < partition->cut_start[cut + 1]; s++) {
            const struct fw_plan_field *field = &plan->fields[index];
            const size_t a = map[partition->segments[2 * s]];
            const size_t b = map[partition->segments[2 * s + 1]];
            const struct fw_point p = fw_plan__at(field, a);
            const struct fw_point q = fw_plan__at(field, b);
            if (a != b && hypot(p.x_m - q.x_m, p.y_m - q.y_m) > least_run_m)
                status = add_run(job, index, cut, run++, a, b, err);
        }
    }
    return status;
}

/* Where a vertex stands in the field's outer ring. */
static size_t ring_index(const struct fw_plan_field *field, size_t vertex)
{
    size_t i = 0;
    while (field->rings.vertices[i] != vertex)
        i++;
    return i;
}

/* A side runs clockwise from its corner, against the ring. */
static enum fw_status add_side(struct fw_plan *plan, size_t index, size_t side,
                               struct fw_error *err)
{
    const struct fw_plan_field *field = &plan->fields[index];
    const size_t count = field->rings.ring_start[1];
    const size_t from = ring_index(field, field->corners[side]);
    const size_t to =
        ring_index(field, field->corners[(side + 1) % field->corner_count]);
    size_t steps = (from + count - to) % count;
    if (steps == 0)
        steps = count;
    struct fw_plan_fence *fence;
    const enum fw_status status =
        new_fence(plan, index, FW_FENCE_PERIMETER, steps + 1, &fence, err);
    if (status)
        return status;
    for (size_t i = 0; i <= steps; i++)
        fence->line[i] = field->rings.vertices[(from + 2 * count - i) % count];
    fence->line_count = steps + 1;
    fence->side = side;
    char letter[8];
    fw_plan__letter(index, letter);
    fw_plan__id(fence->id, "%s-side-%zu", letter, side + 1);
    return measure(field, fence, err);
}

static enum fw_status add_hole(struct fw_plan *plan, size_t index, size_t ring,
                               struct fw_error *err)
{
    const struct fw_plan_field *field = &plan->fields[index];
    const size_t first = field->rings.ring_start[ring];
    const size_t count = field->rings.ring_start[ring + 1] - first;
    struct fw_plan_fence *fence;
    const enum fw_status status =
        new_fence(plan, index, FW_FENCE_PERIMETER, count + 1, &fence, err);
    if (status)
        return status;
    for (size_t i = 0; i <= count; i++)
        fence->line[i] = field->rings.vertices[first + i % count];
    fence->line_count = count + 1;
    char letter[8];
    fw_plan__letter(index, letter);
    fw_plan__id(fence->id, "%s-inner-%zu", letter, ring);
    return measure(field, fence, err);
}

enum fw_status fw_plan__perimeter(struct fw_plan_job *job, size_t index,
                                  struct fw_error *err)
{
    struct fw_plan *plan = job->plan;
    enum fw_status status = FW_OK;
    for (size_t side = 0; !status && side < plan->fields[index].corner_count;
         side++)
        status = add_side(plan, index, side, err);
    for (size_t ring = 1;
         !status && ring < plan->fields[index].rings.ring_count; ring++)
        status = add_hole(plan, index, ring, err);
    return status;
}
