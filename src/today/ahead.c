/* What is set before the ground freezes: no post goes in after that, and none
 * comes out. */
#include "today/today.h"

#include "base/alloc.h"
#include "base/fail.h"
#include "choice/days.h"

static bool is_listed(const struct fw_today *today, size_t line)
{
    for (size_t i = 0; i < today->ahead_count; i++)
        if (today->ahead[i] == line)
            return true;
    return false;
}

static void add_step(struct fw_today *today, const struct fw_step *step,
                     const bool *stands)
{
    const struct fw_plan *plan = today->plan;
    for (size_t k = 0; step->kind == FW_STEP_SET && k < step->lines.count;
         k++) {
        const size_t line = plan->time.items[step->lines.first + k];
        if (stands[line] || is_listed(today, line))
            continue;
        today->ahead[today->ahead_count++] = line;
        today->ahead_posts += plan->fences[line].posts;
    }
}

enum fw_status fw_today__ahead(struct fw_today *today,
                               const struct fw_plan__days *days,
                               struct fw_error *err)
{
    const struct fw_plan *plan = today->plan;
    const struct fw_time *time = &plan->time;
    const bool *stands = days->replay.stands;
    if (!today->here.frozen)
        return FW_OK;
    today->ahead = fw_alloc(plan->fence_count, sizeof *today->ahead);
    if (!today->ahead)
        return fw_fail_memory(err);
    const int until = time->moves[today->move].day + today->here.days;
    for (size_t m = today->move;
         m < time->move_count && time->moves[m].day < until; m++)
        for (size_t i = 0; i < time->moves[m].steps.count; i++)
            add_step(today, &time->steps[time->moves[m].steps.first + i],
                     stands);
    for (size_t i = 0; i < plan->fence_count; i++)
        if (stands[i] && plan->fences[i].role != FW_FENCE_PERIMETER)
            today->standing_posts += plan->fences[i].posts;
    return FW_OK;
}
