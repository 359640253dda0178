/* What a pace more or less at a fence is worth. */
#include "choice/job.h"
#include "geo/points.h"
#include "make/parts.h"

#include <math.h>

/* The paddock behind the fence lies to the left of its own ring. Where that
 * ring comes along the boundary and turns into the fence, the ground ahead
 * lies on along the boundary anticlockwise; at the other end clockwise. */
static bool arrives(const struct fw_plan *plan,
                    const struct fw_plan_fence *fence, bool at_a)
{
    const struct fw_plan_rings *rings = &plan->paddocks[fence->from].rings;
    const size_t last = fence->line_count - 1;
    const size_t end = fence->line[at_a ? 0 : last];
    const size_t other = fence->line[at_a ? 1 : last - 1];
    for (size_t r = 0; r < rings->ring_count; r++) {
        const size_t first = rings->ring_start[r];
        const size_t count = rings->ring_start[r + 1] - first;
        for (size_t i = 0; i < count; i++)
            if (rings->vertices[first + i] == end &&
                rings->vertices[first + (i + 1) % count] == other)
                return true;
    }
    return false;
}

/* The side at a fence's end that it goes on along: of the boundary, or of the
 * line that it ends on. */
static bool way_on(const struct fw_plan *plan,
                   const struct fw_plan_fence *fence, bool at_a,
                   struct fw_point *out)
{
    const struct fw_plan_field *field = &plan->fields[fence->field];
    const struct fw_plan_paced *paced = at_a ? &fence->a : &fence->b;
    const size_t end = fence->line[at_a ? 0 : fence->line_count - 1];
    const bool hosted = paced->by == FW_PACED_LINE;
    const size_t *ring =
        hosted ? plan->fences[paced->fence].line : field->rings.vertices;
    const size_t count = hosted ? plan->fences[paced->fence].line_count
                                : field->rings.ring_start[1];
    size_t at = 0;
    while (at < count && ring[at] != end)
        at++;
    if (at == count)
        return false;
    const size_t next = hosted ? (at + 1 < count ? at + 1 : at - 1)
                        : arrives(plan, fence, at_a) ? (at + 1) % count
                                                     : (at + count - 1) % count;
    *out = fw_plan__at(field, ring[next]);
    return true;
}

/* How far the fence moves square to itself when that end goes one pace on;
 * negative: nobody can say which way. */
static double square_share(const struct fw_plan *plan,
                           const struct fw_plan_fence *fence, bool at_a)
{
    const struct fw_plan_field *field = &plan->fields[fence->field];
    const struct fw_point a = fw_plan__at(field, fence->line[0]);
    const struct fw_point b =
        fw_plan__at(field, fence->line[fence->line_count - 1]);
    const struct fw_point p = at_a ? a : b;
    const double line_m = fw_point_apart_m(b, a);
    struct fw_point q;
    if (!way_on(plan, fence, at_a, &q))
        return -1;
    const double side_m = fw_point_apart_m(q, p);
    if (!(side_m > 0) || !(line_m > 0))
        return 1;
    return fabs((q.x_m - p.x_m) * (b.y_m - a.y_m) -
                (q.y_m - p.y_m) * (b.x_m - a.x_m)) /
           (side_m * line_m);
}

void fw_plan__pace_shares(struct fw_plan *plan, size_t index)
{
    const struct fw_plan_field *field = &plan->fields[index];
    for (size_t i = field->first_fence;
         i < field->first_fence + field->fence_count; i++) {
        struct fw_plan_fence *fence = &plan->fences[i];
        if (fence->role != FW_FENCE_MOVED)
            continue;
        const double at_a = square_share(plan, fence, true);
        const double at_b = square_share(plan, fence, false);
        const double square = at_a < 0 || at_b < 0 ? 1 : (at_a + at_b) / 2;
        const struct fw_plan_paddock *behind = &plan->paddocks[fence->from];
        fence->pace_share = fence->length_m * plan->pace_m * square *
                            behind->usable_kg / behind->plane_m2 /
                            plan->flock.demand_kg_day;
    }
}
