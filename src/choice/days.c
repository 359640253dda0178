/* What holds on a day: the plan's time replayed up to its evening. */
#include "choice/days.h"

enum fw_status fw_plan__days_again(struct fw_plan__days *days,
                                   struct fw_error *err)
{
    fw_replay_end(&days->replay);
    days->move = FW_NONE;
    return fw_replay_begin(&days->land, &days->plan->time, &days->start.start,
                           &days->replay, err);
}

enum fw_status fw_plan__days_init(struct fw_plan__days *days,
                                  const struct fw_plan *plan,
                                  struct fw_error *err)
{
    *days = (struct fw_plan__days){.plan = plan};
    enum fw_status status = fw_plan_land(plan, &days->land, err);
    if (status)
        return status;
    status = fw_plan_start(plan, &days->land, &days->start, err);
    if (!status)
        status = fw_plan__days_again(days, err);
    if (status)
        fw_plan__days_release(days);
    return status;
}

void fw_plan__days_release(struct fw_plan__days *days)
{
    fw_replay_end(&days->replay);
    fw_land_release(&days->land);
    fw_plan_start_release(&days->start);
    *days = (struct fw_plan__days){0};
}

/* The replay goes one way. */
enum fw_status fw_plan__days_to(struct fw_plan__days *days, int day,
                                struct fw_error *err)
{
    const size_t move = fw_time_move_by(&days->plan->time, day);
    const bool ahead =
        days->move == FW_NONE || (move != FW_NONE && move >= days->move);
    const enum fw_status status =
        ahead ? FW_OK : fw_plan__days_again(days, err);
    if (status || move == FW_NONE)
        return status;
    fw_replay_to_move(&days->replay, move);
    days->move = move;
    return FW_OK;
}

enum fw_status fw_plan__days_to_step(struct fw_plan__days *days, size_t step,
                                     struct fw_error *err)
{
    const enum fw_status status =
        days->replay.step > step + 1 ? fw_plan__days_again(days, err) : FW_OK;
    while (!status && days->replay.step <= step &&
           fw_replay_step(&days->replay))
        days->move = days->replay.move;
    return status;
}

static bool is_of(const struct fw_time *time, const struct fw_step *step,
                  size_t line)
{
    if (step->opening != FW_NONE)
        return time->openings[step->opening].line == line;
    for (size_t i = 0; i < step->lines.count; i++)
        if (time->items[step->lines.first + i] == line)
            return true;
    return false;
}

bool fw_plan__days_hooked(const struct fw_plan__days *days, size_t line)
{
    const struct fw_time *time = &days->plan->time;
    if (days->replay.move >= time->move_count)
        return true;
    const struct fw_list steps = time->moves[days->replay.move].steps;
    bool hooked = true;
    if (days->replay.step >= steps.first + steps.count)
        return true;
    for (size_t i = steps.first; i < days->replay.step; i++) {
        const struct fw_step *step = &time->steps[i];
        if (!is_of(time, step, line))
            continue;
        if (step->kind == FW_STEP_SET || step->kind == FW_STEP_OPEN)
            hooked = false;
        else if (step->kind == FW_STEP_HOOK || step->kind == FW_STEP_BRIDGE ||
                 step->kind == FW_STEP_CLOSE)
            hooked = true;
    }
    return hooked;
}
