/* Where the ends of a fence are set, in paces.
 *
 * On from the fence before, wherever there is one on the same side or line:
 * that stays right where the one before was set otherwise than planned. */
#include "log/follow.h"

#include "base/whole.h"
#include "figures/mark.h"
#include "geo/points.h"

#include <math.h>

/* A pace that comes out whole but for the last digit is that pace. */
static const double rounding = FW_TOLERANCE(1e-9);

static struct fw_point end_of(const struct fw_plan *plan,
                              const struct fw_plan_fence *fence, bool at_a)
{
    const size_t vertex = fence->line[at_a ? 0 : fence->line_count - 1];
    return plan->fields[fence->field].vertices[vertex].plane;
}

static bool same_host(const struct fw_plan_paced *one,
                      const struct fw_plan_paced *other)
{
    if (one->by != other->by)
        return false;
    if (one->by == FW_PACED_LINE)
        return one->fence == other->fence;
    return one->by == FW_PACED_SIDE &&
           ((one->corner == other->corner && one->towards == other->towards) ||
            (one->corner == other->towards && one->towards == other->corner));
}

/* How far it is to the fence behind the paddock, along what both end on;
 * negative: there is none. */
static double on_from_m(const struct fw_plan *plan,
                        const struct fw_plan_fence *fence, bool at_a)
{
    const struct fw_plan_paced *end = at_a ? &fence->a : &fence->b;
    const struct fw_plan_field *field = &plan->fields[fence->field];
    for (size_t i = 0; i < field->fence_count; i++) {
        const struct fw_plan_fence *behind =
            &plan->fences[field->first_fence + i];
        if (behind == fence || behind->role == FW_FENCE_PERIMETER ||
            behind->to != fence->from)
            continue;
        for (int other = 0; other < 2; other++)
            if (same_host(end, other ? &behind->b : &behind->a))
                return fw_point_apart_m(end_of(plan, fence, at_a),
                                        end_of(plan, behind, !other));
    }
    return -1;
}

/* On from that vertex, the paddock's edge that is not the fence's. */
static bool edge_of(const struct fw_plan_rings *rings, size_t from,
                    size_t not_to, size_t *out)
{
    for (size_t r = 0; r < rings->ring_count; r++) {
        const size_t first = rings->ring_start[r];
        const size_t count = rings->ring_start[r + 1] - first;
        for (size_t i = 0; i < count; i++) {
            const size_t a = rings->vertices[first + i];
            const size_t b = rings->vertices[first + (i + 1) % count];
            const size_t c = rings->vertices[first + (i + 2) % count];
            if (b != from || (a == not_to) == (c == not_to))
                continue;
            *out = a == not_to ? c : a;
            return true;
        }
    }
    return false;
}

/* The place from which counting starts. */
static struct fw_point start_of(const struct fw_plan *plan,
                                const struct fw_plan_field *field,
                                const struct fw_plan_paced *end)
{
    if (end->fence == FW_NONE)
        return field->vertices[field->corners[end->corner]].plane;
    return end_of(plan, &plan->fences[end->fence], !end->far_end);
}

bool fw_log__way_on(const struct fw_plan *plan,
                    const struct fw_plan_fence *fence, bool at_a,
                    struct fw_point *out)
{
    const struct fw_plan_field *field = &plan->fields[fence->field];
    const size_t last = fence->line_count - 1;
    size_t behind;
    if (!edge_of(&plan->paddocks[fence->from].rings,
                 fence->line[at_a ? 0 : last], fence->line[at_a ? 1 : last - 1],
                 &behind))
        return false;
    const struct fw_point at = end_of(plan, fence, at_a);
    const struct fw_point from = field->vertices[behind].plane;
    const double apart_m = fw_point_apart_m(at, from);
    if (!(apart_m > 0))
        return false;
    *out = (struct fw_point){(at.x_m - from.x_m) / apart_m,
                             (at.y_m - from.y_m) / apart_m};
    return true;
}

/* Does counting start on the paddock's side of the fence? Then more paces make
 * it larger. */
static int way_of(const struct fw_plan *plan, const struct fw_plan_fence *fence,
                  bool at_a)
{
    const struct fw_plan_field *field = &plan->fields[fence->field];
    const struct fw_plan_paced *end = at_a ? &fence->a : &fence->b;
    const size_t last = fence->line_count - 1;
    size_t edge;
    if ((end->by != FW_PACED_SIDE && end->by != FW_PACED_LINE) ||
        !edge_of(&plan->paddocks[fence->from].rings,
                 fence->line[at_a ? 0 : last], fence->line[at_a ? 1 : last - 1],
                 &edge))
        return 0;
    const struct fw_point at = end_of(plan, fence, at_a);
    const struct fw_point to = field->vertices[edge].plane;
    const struct fw_point start = start_of(plan, field, end);
    const double along = (to.x_m - at.x_m) * (start.x_m - at.x_m) +
                         (to.y_m - at.y_m) * (start.y_m - at.y_m);
    return along > 0 ? 1 : -1;
}

static double length_m(const struct fw_plan_field *field, const size_t *ring,
                       size_t count, size_t from, size_t to)
{
    double sum_m = 0;
    for (size_t i = from; i != to; i = (i + 1) % count)
        sum_m += fw_point_apart_m(field->vertices[ring[i]].plane,
                                  field->vertices[ring[(i + 1) % count]].plane);
    return sum_m;
}

/* Of the side or the line that it ends on. */
static double host_m(const struct fw_plan *plan,
                     const struct fw_plan_fence *fence,
                     const struct fw_plan_paced *end)
{
    const struct fw_plan_field *field = &plan->fields[fence->field];
    if (end->by == FW_PACED_LINE) {
        const struct fw_plan_fence *host = &plan->fences[end->fence];
        return length_m(field, host->line, host->line_count, 0,
                        host->line_count - 1);
    }
    const size_t count = field->rings.ring_start[1];
    size_t at[2] = {0, 0};
    for (size_t i = 0; i < count; i++) {
        if (field->rings.vertices[i] == field->corners[end->corner])
            at[0] = i;
        if (field->rings.vertices[i] == field->corners[end->towards])
            at[1] = i;
    }
    return fmin(length_m(field, field->rings.vertices, count, at[0], at[1]),
                length_m(field, field->rings.vertices, count, at[1], at[0]));
}

/* On from where it is set, as the flock goes, to where its host ends. */
static int room_of(const struct fw_plan *plan,
                   const struct fw_plan_fence *fence, bool at_a, int way)
{
    const struct fw_plan_paced *end = at_a ? &fence->a : &fence->b;
    if (way == 0)
        return 0;
    const double room_m =
        way > 0 ? host_m(plan, fence, end) - end->along_m : end->along_m;
    return fw_whole(floor(fmax(0, room_m) / plan->pace_m + rounding));
}

struct fw_log_paces fw_log_paces(const struct fw_plan *plan, size_t index,
                                 bool at_a)
{
    const struct fw_plan_fence *fence = &plan->fences[index];
    const double on_m = on_from_m(plan, fence, at_a);
    const int way = way_of(plan, fence, at_a);
    const int room = room_of(plan, fence, at_a, way);
    if (on_m >= 0) {
        const int paces = fw_whole(on_m / plan->pace_m);
        return (struct fw_log_paces){paces, paces > 0 && way, true, room};
    }
    return (struct fw_log_paces){at_a ? fence->a.paces : fence->b.paces, way,
                                 false, room};
}

enum fw_log_anew fw_log_paces_anew(const struct fw_plan *plan, size_t fence,
                                   double on, int out[2])
{
    const struct fw_log_paces ends[2] = {fw_log_paces(plan, fence, true),
                                         fw_log_paces(plan, fence, false)};
    const double each = ends[0].way && ends[1].way ? on : 2 * on;
    const int asked = fw_whole(ceil(each - rounding));
    int go = asked;
    for (int i = 0; i < 2; i++)
        if (ends[i].way && ends[i].room < go)
            go = ends[i].room;
    for (int i = 0; i < 2; i++) {
        out[i] = ends[i].paces + ends[i].way * go;
        if (ends[i].way && out[i] < 1)
            out[i] = 1;
    }
    return ends[0].way == 0 && ends[1].way == 0 ? FW_LOG_NOBODY_KNOWS
           : go < asked                         ? FW_LOG_LINE_ENDS
                                                : FW_LOG_ANEW;
}
