/* Which lines and fields are live on a day. */
#include "live/live.h"

#include <string.h>

static bool is_live(const struct fw_plan__circuits *circuits, size_t index)
{
    const struct fw_plan_fence *fence = &circuits->plan->fences[index];
    return fence->role == FW_FENCE_PERIMETER
               ? fw_plan__is_hot(circuits->plan, fence)
               : circuits->days.replay.stands[index] &&
                     fw_plan__days_hooked(&circuits->days, index);
}

/* What was found for another day. */
static void forget(struct fw_plan__circuits *circuits)
{
    for (size_t i = 0; i < circuits->active_count; i++) {
        const size_t field = circuits->actives[i],
                     first = circuits->offset[field];
        const size_t count = circuits->plan->fields[field].vertex_count;
        circuits->active[field] = false;
        memset(circuits->mark + first, 0, count);
        for (size_t k = first; k < first + count; k++)
            circuits->node[k] = circuits->earth[k] = FW_NONE;
    }
    circuits->active_count = 0;
}

static bool has_line(const struct fw_plan__circuits *circuits, size_t index)
{
    const struct fw_plan_field *field = &circuits->plan->fields[index];
    for (size_t i = 0; i < field->fence_count; i++) {
        const size_t fence = field->first_fence + i;
        if (circuits->plan->fences[fence].role != FW_FENCE_PERIMETER &&
            is_live(circuits, fence))
            return true;
    }
    return false;
}

static void find_active(struct fw_plan__circuits *circuits, int day)
{
    circuits->home = circuits->days.replay.field;
    for (size_t i = 0; i < circuits->plan->field_count; i++) {
        /* An energizer that goes with the flock feeds its field alone. */
        if (i != circuits->home &&
            (circuits->wiring->moves || day < circuits->stood[i].from ||
             day > circuits->stood[i].to || !has_line(circuits, i)))
            continue;
        circuits->active[i] = true;
        circuits->actives[circuits->active_count++] = i;
    }
}

void fw_plan__find_live(struct fw_plan__circuits *circuits, int day)
{
    const struct fw_plan *plan = circuits->plan;
    forget(circuits);
    find_active(circuits, day);
    circuits->live_count = 0;
    for (size_t i = 0; i < circuits->active_count; i++) {
        const struct fw_plan_field *field = &plan->fields[circuits->actives[i]];
        for (size_t k = 0; k < field->fence_count; k++) {
            const size_t fence = field->first_fence + k;
            if (plan->fences[fence].line_count >= 2 && is_live(circuits, fence))
                circuits->live[circuits->live_count++] = fence;
        }
    }
}
