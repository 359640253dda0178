/* Where the boundary is hot. */
#include "plan/place.h"

enum fw_answer fw_plan_hot_at(const struct fw_plan *plan, size_t field,
                              size_t vertex)
{
    const struct fw_plan_field *of = &plan->fields[field];
    enum fw_answer hot = FW_UNTOLD;
    for (size_t i = 0; i < of->fence_count; i++) {
        const struct fw_plan_fence *fence = &plan->fences[of->first_fence + i];
        if (fence->role != FW_FENCE_PERIMETER || fence->side == FW_NONE)
            continue;
        for (size_t v = 0; v < fence->line_count; v++)
            if (fence->line[v] == vertex && of->sides[fence->side].hot > hot)
                hot = of->sides[fence->side].hot;
    }
    return hot;
}

/* The last wire of an even number turns, as all others do: no end is at B. */
bool fw_plan_is_hooked_at_b(const struct fw_plan *plan, size_t index)
{
    const struct fw_plan_fence *fence = &plan->fences[index];
    const bool turns = plan->moved.out_and_back && fence->strands % 2 == 0;
    return plan->wiring.far_hooked && !turns &&
           fence->role != FW_FENCE_PERIMETER &&
           (fence->b.by == FW_PACED_LINE ||
            fw_plan_hot_at(plan, fence->field,
                           fence->line[fence->line_count - 1]) != FW_NO);
}
