/* How long tall grass stands at a line: until both its sides are grazed. */
#include "live/live.h"

#include "base/alloc.h"
#include "base/fail.h"

#include <limits.h>

enum fw_status fw_plan__find_tall(struct fw_plan__circuits *circuits,
                                  struct fw_error *err)
{
    const struct fw_plan *plan = circuits->plan;
    int *left = fw_alloc(plan->paddock_count, sizeof *left);
    if (!left) {
        fw_plan__circuits_release(circuits);
        return fw_fail_memory(err);
    }
    for (size_t i = 0; i < plan->paddock_count; i++)
        left[i] = plan->start_day; /* grazed before, unless they stay there */
    for (size_t i = 0; i < plan->time.stay_count; i++)
        if (plan->time.stays[i].cell < plan->paddock_count)
            left[plan->time.stays[i].cell] = fw_time_nights(&plan->time, i).to;
    for (size_t i = 0; i < plan->fence_count; i++) {
        const size_t last = plan->fences[i].to;
        circuits->tall_to[i] =
            last < plan->paddock_count ? left[last] : INT_MAX;
    }
    fw_free(left);
    return FW_OK;
}
