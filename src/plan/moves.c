/* The moves of a field. */
#include "base/array.h"
#include "base/fail.h"
#include "plan/job.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

static size_t gate_of(const struct fw_plan *plan, size_t field)
{
    for (size_t i = 0; i < plan->gate_count; i++)
        if (plan->gates[i].field == field && plan->gates[i].on == FW_NO_DAY)
            return i;
    return FW_NONE;
}

/* Setting what is set and taking down what comes down in its course. */
static double minutes(const struct fw_plan_job *job, size_t move)
{
    const struct fw_plan *plan = job->plan;
    const struct fw_plan_field *field = &plan->fields[plan->moves[move].field];
    double sum = 0;
    for (size_t i = 0; i < field->fence_count; i++) {
        const struct fw_plan_fence *fence =
            &plan->fences[field->first_fence + i];
        const struct fw_fence_count line = {fence->length_m, fence->wire_m,
                                            fence->posts, fence->reels};
        if (fence->set_at == move)
            sum += fw_fence_set_min(&line, fence->strands, &job->farm->rates);
        if (fence->down_at == move)
            sum += fw_fence_take_down_min(&line, fence->strands,
                                          &job->farm->rates);
    }
    return sum;
}

static void describe(const struct fw_plan_job *job, size_t index, size_t k,
                     struct fw_plan_move *move)
{
    const struct fw_plan *plan = job->plan;
    const struct fw_plan_field *field = &plan->fields[index];
    const size_t gate = k == 0 ? gate_of(plan, index) : FW_NONE;
    move->to = field->first_paddock + k;
    move->day = plan->paddocks[move->to].enter;
    move->field = index;
    move->from = move->to > 0 ? move->to - 1 : FW_NONE;
    const size_t into = fw_plan__opening_into(plan, move->to);
    move->opening = into == FW_NONE ? gate : into;
    move->front = into == FW_NONE ? FW_NONE : plan->gates[into].fence;
    move->way_back = FW_NONE;
    if (k > 0)
        move->way_back = fw_plan__way_out(plan, move->to - 1);
    else if (into != FW_NONE)
        move->way_back = gate; /* and from there along the lane */
    move->water = plan->paddocks[move->to].water;
    if (move->from != FW_NONE &&
        plan->paddocks[move->from].water == move->water)
        move->water = FW_NONE; /* the trough stays where it is */
}

enum fw_status fw_plan__moves(struct fw_plan_job *job, size_t index,
                              struct fw_error *err)
{
    struct fw_plan *plan = job->plan;
    const size_t count = plan->fields[index].paddock_count;
    const enum fw_status status =
        fw_array_reserve(&plan->moves, &plan->move_capacity,
                         plan->move_count + count, sizeof *plan->moves, err);
    if (status)
        return status;
    for (size_t k = 0; k < count; k++) {
        struct fw_plan_move *move = &plan->moves[plan->move_count++];
        describe(job, index, k, move);
        move->minutes = minutes(job, move->to);
        move->pace_share = fw_plan__pace_share(plan, move->to);
    }
    return FW_OK;
}

enum fw_status fw_plan_find_move(const struct fw_plan *plan, int day,
                                 size_t *move, struct fw_error *err)
{
    size_t nearest = 0;
    for (size_t i = 0; i < plan->move_count; i++) {
        if (plan->moves[i].day == day || day == FW_NO_DAY) {
            *move = i;
            return FW_OK;
        }
        if (abs(plan->moves[i].day - day) < abs(plan->moves[nearest].day - day))
            nearest = i;
    }
    if (plan->move_count == 0)
        return fw_fail(err, FW_EPLAN, "the plan has no moves");
    char wanted[FW_DATE_TEXT], near[FW_DATE_TEXT];
    char first[FW_DATE_TEXT], last[FW_DATE_TEXT];
    fw_date_write(day, wanted);
    fw_date_write(plan->moves[nearest].day, near);
    fw_date_write(plan->moves[0].day, first);
    fw_date_write(plan->moves[plan->move_count - 1].day, last);
    return fw_fail(err, FW_EPLAN,
                   "no move on %s; the nearest is on %s, and the plan runs "
                   "from %s to %s",
                   wanted, near, first, last);
}
