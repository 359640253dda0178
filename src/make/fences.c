/* The moved fences of a field, one a run, and the sides of its boundary. */
#include "base/alloc.h"
#include "base/array.h"
#include "base/fail.h"
#include "choice/run.h"
#include "figures/mark.h"
#include "make/parts.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Shorter than this is no fence: the cut only touches the boundary there. */
static const double least_run_m = FW_TOLERANCE(1e-6);

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
        .side = FW_NONE,
        .line = line,
    };
    plan->fence_count++;
    plan->fields[field].fence_count++;
    *out = fence;
    return FW_OK;
}

enum fw_status fw_plan__fence_run(const struct fw_plan_job *job,
                                  const struct fw_plan_fence *fence,
                                  struct fw_plan__run *out,
                                  struct fw_error *err)
{
    struct fw_point *line =
        fw_plan__line(&job->plan->fields[fence->field], fence);
    if (!line)
        return fw_fail_memory(err);
    const enum fw_status status =
        fw_plan__run_find(job, fence->field, line, fence->line_count, out, err);
    fw_free(line);
    return status;
}

static enum fw_status measure(const struct fw_plan_job *job,
                              struct fw_plan_fence *fence, struct fw_error *err)
{
    const struct fw_world *world = job->farm->world;
    const struct fw_vertex *vertices = job->plan->fields[fence->field].vertices;
    struct fw_lonlat *line = fw_alloc(fence->line_count, sizeof *line);
    if (!line)
        return fw_fail_memory(err);
    for (size_t i = 0; i < fence->line_count; i++)
        line[i] = vertices[fence->line[i]].lonlat;
    fence->length_m = world->length_m(line, fence->line_count, false);
    fence->bearing_deg =
        world->bearing_deg(line[0], line[fence->line_count - 1]);
    fw_free(line);
    return FW_OK;
}

/* Posts, and wire as long as the ground is. */
enum fw_status fw_plan__count_parts(const struct fw_plan_job *job,
                                    struct fw_plan_fence *fence,
                                    struct fw_error *err)
{
    const struct fw_fence_spec *spec = &job->plan->moved;
    struct fw_plan__run run = {0};
    const enum fw_status status = fw_plan__fence_run(job, fence, &run, err);
    if (status)
        return status;
    const struct fw_fence_count count =
        fw_plan__run_count(&run, fence->length_m, spec);
    fence->ground_m = count.line_m;
    fence->strands = spec->strands;
    fence->wire_m = count.wire_m;
    fence->posts = count.posts;
    fence->reels = count.reels;
    fence->lay_min = fw_plan__lay_min(job, fence->field, count.line_m);
    fw_plan__run_release(&run);
    return FW_OK;
}

enum fw_status fw_plan__measure_line(const struct fw_plan_job *job,
                                     struct fw_plan_fence *fence,
                                     struct fw_error *err)
{
    const enum fw_status status = measure(job, fence, err);
    return status ? status : fw_plan__count_parts(job, fence, err);
}

/* A boundary's posts and wire are there; only its length is told. */
static enum fw_status measure_side(const struct fw_plan_job *job,
                                   struct fw_plan_fence *fence,
                                   struct fw_error *err)
{
    const struct fw_plan_field *field = &job->plan->fields[fence->field];
    const struct fw_raster *heights = job->farm->fields[fence->field].heights;
    enum fw_status status = measure(job, fence, err);
    struct fw_point *line = fw_plan__line(field, fence);
    if (!status && !line)
        status = fw_fail_memory(err);
    if (!status)
        fence->ground_m =
            fence->length_m *
            fw_plan__ground_share(heights, line, fence->line_count);
    fw_free(line);
    return status;
}

static void name_line(const struct fw_plan *plan, struct fw_plan_fence *fence,
                      size_t number)
{
    char letter[8];
    fw_plan__letter(plan, fence->field, letter);
    const size_t first = plan->fields[fence->field].first_paddock;
    if (fence->role != FW_FENCE_MOVED) {
        fw_plan__id(fence->id, "%s-%s-%zu", letter,
                    fence->role == FW_FENCE_LANE ? "lane" : "line", number + 1);
        return;
    }
    /* A front parts what was grazed before from the first paddock. */
    const bool front = fence->stood;
    const size_t from = front ? 0 : fence->from - first + 1;
    const size_t to = front ? 1 : fence->to - first + 1;
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
        count += other->role == fence->role && other->stood == fence->stood &&
                 (fence->role != FW_FENCE_MOVED || fence->stood ||
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
        [FW_LINE_FRONT] = FW_FENCE_MOVED,
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
    fence->stood = line->role == FW_LINE_FRONT;
    fence->rank = line->holds_ends ? line->needed_from : line->from;
    return fw_plan__measure_line(job, fence, err);
}

/* In the order in which they are set; standing ones before what ties to
 * them. */
static int by_use(const void *left, const void *right)
{
    const struct fw_plan_fence *a = left, *b = right;
    const size_t keys[][2] = {
        {!a->stood, !b->stood},
        {a->rank, b->rank},
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

/* By the number that people call the side by; an edge of what is taken off has
 * none. */
static void name_side(const struct fw_plan *plan, struct fw_plan_fence *fence)
{
    const struct fw_plan_field *field = &plan->fields[fence->field];
    const size_t number = fw_plan_side_number(field, fence->side);
    size_t parts = 1;
    char letter[8];
    fw_plan__letter(plan, fence->field, letter);
    for (size_t i = field->first_fence; &plan->fences[i] < fence; i++)
        parts += plan->fences[i].role == FW_FENCE_PERIMETER &&
                 fw_plan_side_number(field, plan->fences[i].side) == number;
    if (number == 0)
        fw_plan__id(fence->id, "%s-edge-%zu", letter, parts);
    else if (parts == 1)
        fw_plan__id(fence->id, "%s-side-%zu", letter, number);
    else
        fw_plan__id(fence->id, "%s-side-%zu.%zu", letter, number, parts);
}

/* Does a front run there? The file's vertices come first in a field's table,
 * those of the cuts after them. */
static bool on_front(const struct fw_plan_job *job, size_t index, size_t i)
{
    const struct fw_farm_field *from = &job->farm->fields[index];
    const size_t *ring = job->plan->fields[index].rings.vertices;
    if (!from->front.given)
        return false;
    while (ring[i] >= fw_plan__grazed(from)->vertex_count)
        i--; /* every ring begins with a vertex of the file's */
    return from->front.runs[ring[i]];
}

/* A side runs clockwise from its corner, against the ring; what of it is a
 * front is no boundary. */
static enum fw_status add_side(struct fw_plan_job *job, size_t index,
                               size_t side, struct fw_error *err)
{
    struct fw_plan *plan = job->plan;
    const struct fw_plan_field *field = &plan->fields[index];
    const size_t count = field->rings.ring_start[1];
    const size_t from = ring_index(field, field->corners[side]);
    const size_t to =
        ring_index(field, field->corners[(side + 1) % field->corner_count]);
    size_t steps = (from + count - to) % count;
    if (steps == 0)
        steps = count;
    enum fw_status status = FW_OK;
    for (size_t i = 0, run; !status && i < steps; i += run) {
        struct fw_plan_fence *fence;
        const bool front =
            on_front(job, index, (from + 2 * count - i - 1) % count);
        for (run = 1; i + run < steps; run++)
            if (on_front(job, index,
                         (from + 2 * count - i - run - 1) % count) != front)
                break;
        if (!front)
            status = new_fence(plan, index, FW_FENCE_PERIMETER, run + 1, &fence,
                               err);
        if (front || status)
            continue;
        for (size_t k = 0; k <= run; k++)
            fence->line[k] =
                field->rings.vertices[(from + 2 * count - i - k) % count];
        fence->line_count = run + 1;
        fence->side = side;
        name_side(plan, fence);
        status = measure_side(job, fence, err);
    }
    return status;
}

static enum fw_status add_hole(struct fw_plan_job *job, size_t index,
                               size_t ring, struct fw_error *err)
{
    struct fw_plan *plan = job->plan;
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
    fw_plan__letter(plan, index, letter);
    fw_plan__id(fence->id, "%s-inner-%zu", letter, ring);
    return measure_side(job, fence, err);
}

enum fw_status fw_plan__perimeter(struct fw_plan_job *job, size_t index,
                                  struct fw_error *err)
{
    struct fw_plan *plan = job->plan;
    enum fw_status status = FW_OK;
    for (size_t side = 0; !status && side < plan->fields[index].corner_count;
         side++)
        status = add_side(job, index, side, err);
    for (size_t ring = 1;
         !status && ring < plan->fields[index].rings.ring_count; ring++)
        status = add_hole(job, index, ring, err);
    return status;
}
