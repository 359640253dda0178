/* How many warning signs a plan needs. */
#include "around/around.h"
#include "base/alloc.h"
#include "base/fail.h"
#include "choice/job.h"

/* What stands for good has its signs for good; those of other fences go from
 * one to the next. */
static int most_of(const struct fw_plan *plan, const int *signs)
{
    const struct fw_time *time = &plan->time;
    int standing = 0, moved = 0, most_moved = 0;
    for (size_t i = 0; i < plan->fence_count; i++) {
        if (plan->fences[i].role == FW_FENCE_PERIMETER)
            standing += signs[i];
        else if (plan->fences[i].stood)
            most_moved = moved += signs[i];
    }
    for (size_t i = 0; i < time->step_count; i++) {
        const struct fw_step *step = &time->steps[i];
        const int sign = step->kind == FW_STEP_SET         ? 1
                         : step->kind == FW_STEP_TAKE_DOWN ? -1
                                                           : 0;
        for (size_t k = 0; sign && k < step->lines.count; k++)
            moved += sign * signs[time->items[step->lines.first + k]];
        most_moved = moved > most_moved ? moved : most_moved;
    }
    return standing + most_moved;
}

enum fw_status fw_plan__most_signs(const struct fw_plan_job *job, int *out,
                                   struct fw_error *err)
{
    const struct fw_plan *plan = job->plan;
    int *signs = fw_alloc(plan->fence_count, sizeof *signs);
    if (!signs)
        return fw_fail_memory(err);
    for (size_t i = 0; i < plan->post_count; i++)
        signs[plan->posts[i].fence] += plan->posts[i].why == FW_POST_SIGN;
    *out = most_of(plan, signs);
    fw_free(signs);
    return FW_OK;
}
