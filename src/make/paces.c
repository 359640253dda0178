/* How a person at the field finds the ends of a fence: along a side from a
 * corner, along the line that the end stands on, else straight from something
 * that stands already. Nobody walks past a corner to count on. */
#include "make/paces.h"

#include "base/whole.h"
#include "geo/points.h"
#include "make/parts.h"

#include <math.h>

struct pacing {
    const struct fw_plan_job *job;
    const struct fw_plan *plan;
    const struct fw_plan_field *field;
    struct fw_plan__edge edge;
};

static const struct fw_plan_paced nothing = {.corner = FW_NONE,
                                             .towards = FW_NONE,
                                             .fence = FW_NONE,
                                             .bearing_deg = -1,
                                             .on_from = FW_NONE,
                                             .on_paces = -1};

/* ---- what stands when a fence is set ---- */

/* Does the shepherd come on from that one? What it parts is grazed before. */
static bool is_last(const struct fw_plan *plan, size_t other, size_t self)
{
    const struct fw_plan_fence *fence = &plan->fences[other];
    return (fence->role == FW_FENCE_MOVED ||
            fence->role == FW_FENCE_STANDING) &&
           fw_plan__stands_before(plan, other, self) &&
           (fence->stood || fence->from < plan->fences[self].from);
}

/* ---- on another line ---- */

/* How far along the line that vertex stands, or negative: it does not. */
static double along_m(const struct fw_plan_field *field,
                      const struct fw_plan_fence *fence, size_t vertex)
{
    double sum_m = 0;
    for (size_t v = 0; v < fence->line_count; v++) {
        if (v > 0)
            sum_m +=
                fw_plan__apart_m(field, fence->line[v - 1], fence->line[v]);
        if (fence->line[v] == vertex)
            return sum_m;
    }
    return -1;
}

/* Better what stands already, then what does not move, then a line that goes
 * on past the end. */
static int host_rank(const struct fw_plan *plan, size_t host, size_t self,
                     size_t end)
{
    const struct fw_plan_fence *fence = &plan->fences[host];
    const bool inner = end != fw_plan__end_of(fence, false) &&
                       end != fw_plan__end_of(fence, true);
    return fence->stood << 3 | fw_plan__stands_before(plan, host, self) << 2 |
           (fence->role != FW_FENCE_MOVED) << 1 | inner;
}

static size_t find_host(const struct pacing *of, size_t self, size_t end)
{
    const struct fw_plan *plan = of->plan;
    const size_t first = of->field->first_fence;
    size_t best = FW_NONE;
    for (size_t i = first; i < first + of->field->fence_count; i++)
        if (i != self && plan->fences[i].role != FW_FENCE_PERIMETER &&
            along_m(of->field, &plan->fences[i], end) >= 0 &&
            (best == FW_NONE ||
             host_rank(plan, i, self, end) > host_rank(plan, best, self, end)))
            best = i;
    return best;
}

/* Which end of that line does the shepherd come to first? */
static bool comes_to_b(const struct fw_plan_field *field,
                       const struct fw_plan_fence *fence)
{
    const struct fw_plan_place *start =
        field->park.given ? &field->park : &field->gate;
    if (!start->given)
        return false;
    const struct fw_point a = fw_plan__at(field, fw_plan__end_of(fence, false));
    const struct fw_point b = fw_plan__at(field, fw_plan__end_of(fence, true));
    return fw_point_apart_m(b, start->plane) <
           fw_point_apart_m(a, start->plane);
}

static bool count_line(const struct pacing *of, size_t self, size_t end,
                       struct fw_plan_paced *out)
{
    const size_t host = find_host(of, self, end);
    if (host == FW_NONE)
        return false;
    const struct fw_plan_fence *fence = &of->plan->fences[host];
    out->by = FW_PACED_LINE;
    out->fence = host;
    out->far_end = comes_to_b(of->field, fence);
    out->along_m = along_m(of->field, fence, end);
    if (out->far_end)
        out->along_m = along_m(of->field, fence, fw_plan__end_of(fence, true)) -
                       out->along_m;
    out->paces = fw_whole(out->along_m / of->plan->pace_m);
    return true;
}

/* ---- on from the last fence ---- */

static double between_m(const struct pacing *of,
                        const struct fw_plan_paced *paced, size_t a, size_t b)
{
    if (paced->by == FW_PACED_SIDE)
        return fw_plan__edge_between_m(&of->edge, paced, a, b);
    const struct fw_plan_fence *host = &of->plan->fences[paced->fence];
    const double to_a_m = along_m(of->field, host, a);
    const double to_b_m = along_m(of->field, host, b);
    return to_a_m < 0 || to_b_m < 0 ? -1 : fabs(to_a_m - to_b_m);
}

static void count_on(const struct pacing *of, size_t self, size_t end,
                     struct fw_plan_paced *out)
{
    const size_t first = of->field->first_fence;
    double best_m = out->along_m;
    if (out->paces == 0)
        return;
    for (size_t i = first; i < first + of->field->fence_count; i++) {
        if (i == out->fence || !is_last(of->plan, i, self))
            continue;
        for (int far = 0; far < 2; far++) {
            const double m = between_m(
                of, out, end, fw_plan__end_of(&of->plan->fences[i], far != 0));
            if (m < 0 || !(m < best_m))
                continue;
            best_m = m;
            out->on_from = i;
            out->on_paces = fw_whole(m / of->plan->pace_m);
        }
    }
}

/* ---- all ends of a field ---- */

static void pace_end(const struct pacing *of, size_t self, bool far,
                     struct fw_plan_paced *out)
{
    const struct fw_plan *plan = of->plan;
    const size_t end = fw_plan__end_of(&plan->fences[self], far);
    *out = nothing;
    if (fw_plan__edge_count(&of->edge, end, plan->pace_m, out) ||
        count_line(of, self, end, out))
        count_on(of, self, end, out);
    else
        fw_plan__pace_straight(of->job, self, end, out);
}

enum fw_status fw_plan__pace_ends(struct fw_plan_job *job, size_t index,
                                  struct fw_error *err)
{
    struct fw_plan *plan = job->plan;
    struct pacing of = {
        .job = job, .plan = plan, .field = &plan->fields[index]};
    const enum fw_status status =
        fw_plan__edge_init(&of.edge, plan, of.field, err);
    if (status)
        return status;
    for (size_t i = of.field->first_fence;
         i < of.field->first_fence + of.field->fence_count; i++) {
        struct fw_plan_fence *fence = &plan->fences[i];
        fence->a = fence->b = nothing;
        if (fence->role == FW_FENCE_PERIMETER)
            continue;
        pace_end(&of, i, false, &fence->a);
        pace_end(&of, i, true, &fence->b);
    }
    fw_plan__edge_release(&of.edge);
    return FW_OK;
}
