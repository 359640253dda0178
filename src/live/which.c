/* Which lines and fields are live on a day. */
#include "live/live.h"

#include <string.h>

static bool is_live(const struct fw_plan__wirer *wirer, size_t index)
{
    const struct fw_plan_fence *fence = &wirer->plan->fences[index];
    return fence->role == FW_FENCE_PERIMETER
               ? fw_plan__is_hot(wirer->plan, fence)
               : wirer->days.replay.stands[index] &&
                     fw_plan__days_hooked(&wirer->days, index);
}

/* What was found for another day. */
static void forget(struct fw_plan__wirer *wirer)
{
    for (size_t i = 0; i < wirer->active_count; i++) {
        const size_t field = wirer->actives[i], first = wirer->offset[field];
        const size_t count = wirer->plan->fields[field].vertex_count;
        wirer->active[field] = false;
        memset(wirer->mark + first, 0, count);
        for (size_t k = first; k < first + count; k++)
            wirer->node[k] = wirer->earth[k] = FW_NONE;
    }
    wirer->active_count = 0;
}

static bool has_line(const struct fw_plan__wirer *wirer, size_t index)
{
    const struct fw_plan_field *field = &wirer->plan->fields[index];
    for (size_t i = 0; i < field->fence_count; i++) {
        const size_t fence = field->first_fence + i;
        if (wirer->plan->fences[fence].role != FW_FENCE_PERIMETER &&
            is_live(wirer, fence))
            return true;
    }
    return false;
}

static void find_active(struct fw_plan__wirer *wirer, int day)
{
    wirer->home = wirer->days.replay.field;
    for (size_t i = 0; i < wirer->plan->field_count; i++) {
        /* An energizer that goes with the flock feeds its field alone. */
        if (i != wirer->home &&
            (wirer->wiring->moves || day < wirer->stood[i].from ||
             day > wirer->stood[i].to || !has_line(wirer, i)))
            continue;
        wirer->active[i] = true;
        wirer->actives[wirer->active_count++] = i;
    }
}

void fw_plan__find_live(struct fw_plan__wirer *wirer, int day)
{
    const struct fw_plan *plan = wirer->plan;
    forget(wirer);
    find_active(wirer, day);
    wirer->live_count = 0;
    for (size_t i = 0; i < wirer->active_count; i++) {
        const struct fw_plan_field *field = &plan->fields[wirer->actives[i]];
        for (size_t k = 0; k < field->fence_count; k++) {
            const size_t fence = field->first_fence + k;
            if (plan->fences[fence].line_count >= 2 && is_live(wirer, fence))
                wirer->live[wirer->live_count++] = fence;
        }
    }
}
