/* Ends of fences that are gone are no vertices any more: those that no line
 * ends at or bends at, and then those that nothing has. */
#include "anew/anew.h"

#include "base/alloc.h"
#include "base/fail.h"
#include "figures/mark.h"

/* Off a straight line by less is on it. */
static const double straight_m = FW_TOLERANCE(1e-8);

/* ---- which are of use ---- */

struct mark {
    const struct fw_plan *plan;
    const struct fw_plan_field *field;
    bool *used;
};

static void mark_bend(const struct mark *mark, size_t before, size_t at,
                      size_t after)
{
    const struct fw_point a = fw_plan__at(mark->field, before);
    const struct fw_point b = fw_plan__at(mark->field, after);
    const struct fw_point p = fw_plan__at(mark->field, at);
    if (fw_segment_distance_m(p, a, b) > straight_m)
        mark->used[at] = true;
}

static void mark_rings(const struct mark *mark,
                       const struct fw_plan_rings *rings)
{
    for (size_t r = 0; r < rings->ring_count; r++) {
        const size_t first = rings->ring_start[r];
        const size_t count = rings->ring_start[r + 1] - first;
        const size_t *ring = rings->vertices + first;
        for (size_t i = 0; i < count; i++)
            mark_bend(mark, ring[(i + count - 1) % count], ring[i],
                      ring[(i + 1) % count]);
    }
}

static void mark_fence(const struct mark *mark,
                       const struct fw_plan_fence *fence)
{
    if (fence->role == FW_FENCE_PERIMETER)
        return;
    mark->used[fence->line[0]] = true;
    mark->used[fence->line[fence->line_count - 1]] = true;
    for (size_t i = 1; i + 1 < fence->line_count; i++)
        mark_bend(mark, fence->line[i - 1], fence->line[i], fence->line[i + 1]);
}

static void mark_all(const struct mark *mark)
{
    const struct fw_plan *plan = mark->plan;
    const struct fw_plan_field *field = mark->field;
    for (size_t i = 0; i < field->vertex_count; i++)
        mark->used[i] = field->vertices[i].kind != FW_VERTEX_CUT;
    for (size_t i = 0; i < field->corner_count; i++)
        mark->used[field->corners[i]] = true;
    mark_rings(mark, &field->rings);
    for (size_t i = 0; i < field->paddock_count; i++)
        mark_rings(mark, &plan->paddocks[field->first_paddock + i].rings);
    for (size_t i = 0; i < plan->lane_count; i++)
        if (&plan->fields[plan->lanes[i].field] == field)
            mark_rings(mark, &plan->lanes[i].rings);
    for (size_t i = 0; i < field->fence_count; i++)
        mark_fence(mark, &plan->fences[field->first_fence + i]);
}

/* ---- every list of the field ---- */

struct keep {
    struct fw_plan *plan;
    size_t index;
    const bool *used;
    size_t *number; /* anew, of each that is used */
};

static size_t keep(const struct keep *of, size_t *list, size_t count)
{
    size_t kept = 0;
    for (size_t i = 0; i < count; i++)
        if (of->used[list[i]])
            list[kept++] = of->number[list[i]];
    return kept;
}

static void keep_rings(const struct keep *of, struct fw_plan_rings *rings)
{
    size_t to = 0;
    for (size_t r = 0; r < rings->ring_count; r++) {
        const size_t first = rings->ring_start[r];
        const size_t count = rings->ring_start[r + 1] - first;
        const size_t kept = keep(of, rings->vertices + first, count);
        for (size_t i = 0; i < kept; i++)
            rings->vertices[to + i] = rings->vertices[first + i];
        rings->ring_start[r] = to;
        to += kept;
    }
    rings->ring_start[rings->ring_count] = to;
}

static void keep_all(const struct keep *of)
{
    struct fw_plan *plan = of->plan;
    struct fw_plan_field *field = &plan->fields[of->index];
    keep_rings(of, &field->rings);
    for (size_t i = 0; i < field->paddock_count; i++)
        keep_rings(of, &plan->paddocks[field->first_paddock + i].rings);
    for (size_t i = 0; i < plan->lane_count; i++)
        if (plan->lanes[i].field == of->index)
            keep_rings(of, &plan->lanes[i].rings);
    for (size_t i = 0; i < field->fence_count; i++) {
        struct fw_plan_fence *fence = &plan->fences[field->first_fence + i];
        fence->line_count = keep(of, fence->line, fence->line_count);
    }
    keep(of, field->corners, field->corner_count);
}

enum fw_status fw_plan__anew_tidy(struct fw_plan_job *job, size_t index,
                                  struct fw_error *err)
{
    struct fw_plan_field *field = &job->plan->fields[index];
    bool *used = fw_alloc(field->vertex_count, sizeof *used);
    size_t *number = fw_alloc(field->vertex_count, sizeof *number);
    const enum fw_status status = used && number ? FW_OK : fw_fail_memory(err);
    if (!status) {
        size_t count = 0;
        mark_all(&(struct mark){job->plan, field, used});
        for (size_t i = 0; i < field->vertex_count; i++)
            if (used[i]) {
                number[i] = count;
                field->vertices[count++] = field->vertices[i];
            }
        keep_all(&(struct keep){job->plan, index, used, number});
        field->vertex_count = count;
    }
    fw_free(used);
    fw_free(number);
    return status;
}
