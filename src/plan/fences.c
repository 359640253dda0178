/* The moved fences of a field, one a run, and the sides of its boundary. */
#include "base/alloc.h"
#include "base/array.h"
#include "base/fail.h"
#include "plan/job.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
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
        .from = FW_NONE,
        .to = FW_NONE,
        .set_at = FW_NONE,
        .down_at = FW_NONE,
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

static enum fw_status count_parts(const struct fw_plan *plan,
                                  const struct fw_plan_field *field,
                                  struct fw_plan_fence *fence,
                                  struct fw_error *err)
{
    struct fw_point *line = fw_plan__line(field, fence);
    struct fw_fence_count count;
    const enum fw_status status =
        line ? fw_plan__count_line(line, fence->line_count, &plan->moved,
                                   &count, err)
             : fw_fail_memory(err);
    fw_free(line);
    if (status)
        return status;
    fw_plan__wire_count(fence->length_m, &plan->moved, &count);
    fence->strands = plan->moved.strands;
    fence->posts = count.posts;
    fence->wire_m = count.wire_m;
    fence->reels = count.reels;
    return FW_OK;
}

/* Up with the move into the first paddock beside it. A moved line comes down
 * when it has served as the back fence, or without back fences as soon as the
 * flock is through it; a standing one when all beside it is grazed. */
struct fw_plan__span fw_plan__span(const struct fw_farm *farm,
                                   enum fw_fence_role role, size_t from,
                                   size_t to, size_t count)
{
    const bool stays =
        role == FW_FENCE_LANE || (role == FW_FENCE_STANDING && farm->all_stand);
    if (stays)
        return (struct fw_plan__span){0, count};
    const bool kept = farm->back_fence || role != FW_FENCE_MOVED;
    const size_t ahead = farm->reserve && from > 0;
    return (struct fw_plan__span){from - ahead, to + kept};
}

static void date(const struct fw_plan_job *job, struct fw_plan_fence *fence)
{
    const struct fw_plan *plan = job->plan;
    const struct fw_plan_field *field = &plan->fields[fence->field];
    const size_t first = field->first_paddock, count = field->paddock_count;
    const struct fw_plan__span span = fw_plan__span(
        job->farm, fence->role, fence->from - first, fence->to - first, count);
    fence->set_at = first + span.set_at;
    fence->up = plan->paddocks[fence->set_at].enter;
    if (span.down_at < count) {
        fence->down_at = first + span.down_at;
        fence->down = plan->paddocks[fence->down_at].enter;
    } else {
        fence->down = plan->paddocks[first + count - 1].leave;
    }
}

static void name_line(const struct fw_plan *plan, struct fw_plan_fence *fence,
                      size_t number)
{
    char letter[8];
    fw_plan__letter(fence->field, letter);
    const size_t first = plan->fields[fence->field].first_paddock;
    if (fence->role != FW_FENCE_MOVED) {
        fw_plan__id(fence->id, "%s-%s-%zu", letter,
                    fence->role == FW_FENCE_LANE ? "lane" : "line", number + 1);
        return;
    }
    const size_t from = fence->from - first + 1, to = fence->to - first + 1;
    if (number == 0)
        fw_plan__id(fence->id, "%s%02zu-%02zu", letter, from, to);
    else
        fw_plan__id(fence->id, "%s%02zu-%02zu.%zu", letter, from, to,
                    number + 1);
}

/* How many lines before this one have the same name but for its number. */
static size_t namesakes(const struct fw_plan *plan,
                        const struct fw_plan_fence *fence)
{
    size_t count = 0;
    for (size_t i = plan->fields[fence->field].first_fence;
         &plan->fences[i] < fence; i++) {
        const struct fw_plan_fence *other = &plan->fences[i];
        count += other->role == fence->role &&
                 (fence->role != FW_FENCE_MOVED ||
                  (other->from == fence->from && other->to == fence->to));
    }
    return count;
}

static enum fw_status add_line(struct fw_plan_job *job, size_t index,
                               const struct fw_layout *layout,
                               const struct fw_layout_line *line,
                               const size_t *map, struct fw_error *err)
{
    static const enum fw_fence_role roles[] = {
        [FW_LINE_MOVED] = FW_FENCE_MOVED,
        [FW_LINE_STANDING] = FW_FENCE_STANDING,
        [FW_LINE_LANE] = FW_FENCE_LANE,
    };
    struct fw_plan *plan = job->plan;
    struct fw_plan_fence *fence;
    enum fw_status status =
        new_fence(plan, index, roles[line->role], line->count, &fence, err);
    if (status)
        return status;
    const struct fw_plan_field *field = &plan->fields[index];
    for (size_t i = 0; i < line->count; i++) {
        const size_t vertex = map[layout->line_vertices[line->first + i]];
        if (fence->line_count == 0 ||
            fence->line[fence->line_count - 1] != vertex)
            fence->line[fence->line_count++] = vertex;
    }
    fence->from = field->first_paddock + line->from;
    fence->to = field->first_paddock + line->to;
    date(job, fence);
    status = measure(field, fence, err);
    return status ? status : count_parts(plan, field, fence, err);
}

/* In the order in which they are set; standing ones before what ties to
 * them. */
static int by_use(const void *left, const void *right)
{
    const struct fw_plan_fence *a = left, *b = right;
    const size_t keys[][2] = {
        {a->set_at, b->set_at},
        {a->role == FW_FENCE_MOVED, b->role == FW_FENCE_MOVED},
        {a->from, b->from},
        {a->to, b->to},
        {a->line[0], b->line[0]},
    };
    for (size_t i = 0; i < sizeof keys / sizeof keys[0]; i++)
        if (keys[i][0] != keys[i][1])
            return keys[i][0] < keys[i][1] ? -1 : 1;
    return 0;
}

enum fw_status fw_plan__lines(struct fw_plan_job *job, size_t index,
                              const struct fw_layout *layout, const size_t *map,
                              struct fw_error *err)
{
    struct fw_plan *plan = job->plan;
    const size_t first = plan->fence_count;
    plan->fields[index].first_fence = first;
    for (size_t i = 0; i < layout->line_count; i++) {
        if (!(layout->lines[i].length_m > least_run_m))
            continue;
        const enum fw_status status =
            add_line(job, index, layout, &layout->lines[i], map, err);
        if (status)
            return status;
    }
    if (plan->fence_count > first)
        qsort(plan->fences + first, plan->fence_count - first,
              sizeof *plan->fences, by_use);
    for (size_t i = first; i < plan->fence_count; i++)
        name_line(plan, &plan->fences[i], namesakes(plan, &plan->fences[i]));
    return FW_OK;
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
