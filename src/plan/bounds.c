/* Which fences lie along a piece of ground, and what a pace is worth. */
#include "plan/plan.h"

/* The fence runs from the one vertex to the other, or back. */
static bool runs(const struct fw_plan_fence *fence, size_t a, size_t b)
{
    for (size_t i = 1; i < fence->line_count; i++) {
        const size_t c = fence->line[i - 1], d = fence->line[i];
        if ((a == c && b == d) || (a == d && b == c))
            return true;
    }
    return false;
}

bool fw_plan_bounds(const struct fw_plan *plan, size_t fence, size_t paddock)
{
    const struct fw_plan_rings *rings = &plan->paddocks[paddock].rings;
    if (plan->fences[fence].field != plan->paddocks[paddock].field)
        return false;
    for (size_t r = 0; r < rings->ring_count; r++) {
        const size_t first = rings->ring_start[r];
        const size_t count = rings->ring_start[r + 1] - first;
        for (size_t i = 0; i < count; i++)
            if (runs(&plan->fences[fence], rings->vertices[first + i],
                     rings->vertices[first + (i + 1) % count]))
                return true;
    }
    return false;
}

double fw_plan_pace_share(const struct fw_plan *plan,
                          const struct fw_step *step)
{
    const size_t count = step->lines.count;
    const size_t *lines = plan->time.items + step->lines.first;
    double share = 0;
    for (size_t i = 0; i < count; i++) {
        const struct fw_plan_fence *fence = &plan->fences[lines[i]];
        const struct fw_plan_fence *last = &plan->fences[lines[count - 1]];
        if (fence->from == last->from && fence->to == last->to)
            share += fence->pace_share;
    }
    return share;
}
