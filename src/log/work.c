/* How long this person really takes, beside the plan. */
#include "log/follow.h"

#include "figures/days.h"
#include "figures/mark.h"

#include <math.h>

/* Metres of line that a move sets. */
static double set_m(const struct fw_plan *plan, size_t move)
{
    const struct fw_list *steps = &plan->time.moves[move].steps;
    double sum_m = 0;
    for (size_t i = 0; i < steps->count; i++) {
        const struct fw_step *step = &plan->time.steps[steps->first + i];
        for (size_t k = 0; step->kind == FW_STEP_SET && k < step->lines.count;
             k++)
            sum_m +=
                plan->fences[plan->time.items[step->lines.first + k]].length_m;
    }
    return sum_m;
}

void fw_log__take_minutes(const struct fw_log *log, struct fw_log_day *day)
{
    if (day->move == FW_NONE)
        return;
    day->planned_min =
        log->plan->time.moves[day->move].minutes / log->minutes_share;
    day->set_m = set_m(log->plan, day->move);
}

struct fw_log_work fw_log_work(const struct fw_log *log)
{
    struct fw_log_work work = {.share = 1};
    for (size_t i = 0; i < log->day_count; i++) {
        const struct fw_log_day *day = &log->days[i];
        if (!day->said || !day->said->values[FW_LOG_MINUTES].told ||
            day->move == FW_NONE)
            continue;
        work.moves++;
        work.said_min += day->said->values[FW_LOG_MINUTES].number;
        work.planned_min += day->planned_min;
        work.set_m += day->set_m;
    }
    /* One day on which the reel stuck says nothing of the next. */
    if (work.moves >= (size_t)FW_DAYS_TIMED && work.planned_min > 0)
        work.share =
            fmin(FW_DAYS_SLOWEST,
                 fmax(1 / FW_DAYS_SLOWEST, work.said_min / work.planned_min));
    return work;
}
