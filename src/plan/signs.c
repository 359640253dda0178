/* How many warning signs a plan needs. */
#include "base/alloc.h"
#include "base/fail.h"
#include "plan/job.h"

/* What stands for good has its signs for good; those of other fences go from
 * one to the next. The most hang on a day when a fence goes up. */
static int most_of(const struct fw_plan *plan, const int *signs)
{
    int standing = 0, most_moved = 0;
    for (size_t i = 0; i < plan->fence_count; i++) {
        const int day = plan->fences[i].up;
        int moved = 0;
        if (plan->fences[i].role == FW_FENCE_PERIMETER) {
            standing += signs[i];
            continue;
        }
        if (signs[i] == 0)
            continue;
        for (size_t k = 0; k < plan->fence_count; k++)
            if (plan->fences[k].role != FW_FENCE_PERIMETER &&
                plan->fences[k].up <= day && plan->fences[k].down >= day)
                moved += signs[k];
        most_moved = moved > most_moved ? moved : most_moved;
    }
    return standing + most_moved;
}

enum fw_status fw_plan__most_signs(const struct fw_plan *plan, int *out,
                                   struct fw_error *err)
{
    int *signs = fw_alloc(plan->fence_count, sizeof *signs);
    if (!signs)
        return fw_fail_memory(err);
    for (size_t i = 0; i < plan->post_count; i++)
        signs[plan->posts[i].fence] += plan->posts[i].why == FW_POST_SIGN;
    *out = most_of(plan, signs);
    fw_free(signs);
    return FW_OK;
}
