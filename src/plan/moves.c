/* The moves of a field. */
#include "base/alloc.h"
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
static enum fw_status sum_work(const struct fw_plan_job *job, size_t index,
                               struct fw_plan__work *work, struct fw_error *err)
{
    const struct fw_plan *plan = job->plan;
    const struct fw_plan_field *field = &plan->fields[index];
    const size_t moves = field->first_paddock + field->paddock_count;
    for (size_t i = 0; i < field->fence_count; i++) {
        const struct fw_plan_fence *fence =
            &plan->fences[field->first_fence + i];
        if (fence->role == FW_FENCE_PERIMETER)
            continue;
        struct fw_plan__line_work of;
        struct fw_point *line = fw_plan__line(field, fence);
        const enum fw_status status =
            line ? fw_plan__line_work(job, index, line, fence->line_count, &of,
                                      err)
                 : fw_fail_memory(err);
        fw_free(line);
        if (status)
            return status;
        if (fence->set_at != FW_NONE)
            fw_plan__add_work(&work[fence->set_at - field->first_paddock],
                              &of.set);
        if (fence->down_at < moves)
            fw_plan__add_work(&work[fence->down_at - field->first_paddock],
                              &of.take_down);
    }
    return FW_OK;
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
    else if (into != FW_NONE &&
             (move->from != FW_NONE ||
              !fw_plan__is_front(&plan->fences[move->front])))
        move->way_back = gate; /* and on along the lane, or to the front */
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
    struct fw_plan__work *work = fw_alloc(count, sizeof *work);
    enum fw_status status = work ? FW_OK : fw_fail_memory(err);
    if (!status)
        status = fw_array_reserve(&plan->moves, &plan->move_capacity,
                                  plan->move_count + count, sizeof *plan->moves,
                                  err);
    if (!status)
        status = sum_work(job, index, work, err);
    for (size_t k = 0; !status && k < count; k++) {
        struct fw_plan_move *move = &plan->moves[plan->move_count++];
        describe(job, index, k, move);
        move->minutes = fw_plan__work_min(&work[k], &job->farm->rates);
        move->passes = work[k].passes;
        move->pace_share = fw_plan__pace_share(plan, move->to);
    }
    fw_free(work);
    return status;
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
