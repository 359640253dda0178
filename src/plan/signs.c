/* How many warning signs a plan needs. */
#include "plan/job.h"

static int signs_of(const struct fw_plan *plan, size_t fence)
{
    int count = 0;
    for (size_t i = 0; i < plan->post_count; i++)
        count +=
            plan->posts[i].fence == fence && plan->posts[i].why == FW_POST_SIGN;
    return count;
}

/* What stands for good has its signs for good; those of other fences go from
 * one to the next. The most hang on a day when a fence goes up. */
int fw_plan__most_signs(const struct fw_plan *plan)
{
    int standing = 0, most_moved = 0;
    for (size_t i = 0; i < plan->fence_count; i++) {
        const int day = plan->fences[i].up;
        int moved = 0;
        if (plan->fences[i].role == FW_FENCE_PERIMETER) {
            standing += signs_of(plan, i);
            continue;
        }
        if (signs_of(plan, i) == 0)
            continue;
        for (size_t k = 0; k < plan->fence_count; k++)
            if (plan->fences[k].role != FW_FENCE_PERIMETER &&
                plan->fences[k].up <= day && plan->fences[k].down >= day)
                moved += signs_of(plan, k);
        most_moved = moved > most_moved ? moved : most_moved;
    }
    return standing + most_moved;
}
