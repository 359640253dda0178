/* A move, step by step. The order is what keeps the flock enclosed: the next
 * fence stands and is hot before the front one is touched, and the back one
 * comes down only when the front is closed behind them. */
#include "base/alloc.h"
#include "base/fail.h"
#include "plan/job.h"

static void add(struct fw_steps *steps, enum fw_step_kind kind, size_t gate)
{
    steps->items[steps->count++] =
        (struct fw_step){kind, steps->fence_count, 0, gate};
}

static void add_fence(struct fw_steps *steps, size_t fence)
{
    steps->fences[steps->fence_count++] = fence;
    steps->items[steps->count - 1].count++;
}

static void set(const struct fw_plan *plan, size_t move, struct fw_steps *steps)
{
    static const enum fw_step_kind kinds[] = {FW_STEP_SET, FW_STEP_HOOK,
                                              FW_STEP_READ};
    size_t count;
    const size_t first = fw_plan_set_fences(plan, move, &count);
    for (int k = 0; count > 0 && k < 3; k++) {
        add(steps, kinds[k], FW_NONE);
        for (size_t i = 0; i < count; i++)
            add_fence(steps, first + i);
    }
}

/* Those on one way back follow each other. */
static size_t next_way(const struct fw_plan *plan, size_t gate)
{
    const struct fw_plan_gate *here = &plan->gates[gate];
    const size_t next = gate + 1;
    return here->from != FW_NONE && next < plan->gate_count &&
                   plan->gates[next].from == here->from &&
                   plan->gates[next].to == FW_NONE
               ? next
               : FW_NONE;
}

/* The line that was opened is closed again, or taken down at once where no
 * back fence is wanted; and so is the one that they left by. */
static void close_behind(const struct fw_plan *plan, size_t move,
                         struct fw_steps *steps)
{
    const struct fw_plan_move *of = &plan->moves[move];
    const bool down =
        of->front != FW_NONE && plan->fences[of->front].down_at == move;
    add(steps, down ? FW_STEP_TAKE_DOWN : FW_STEP_CLOSE, of->opening);
    if (of->front != FW_NONE)
        add_fence(steps, of->front);
    for (size_t gate = of->way_back; gate != FW_NONE;
         gate = next_way(plan, gate)) {
        const size_t left = plan->gates[gate].fence;
        if (left != FW_NONE && plan->fences[left].down_at == move)
            continue;
        add(steps, FW_STEP_CLOSE, gate);
        if (left != FW_NONE)
            add_fence(steps, left);
    }
}

/* The last to be set is the first to go: it may be tied to the others. */
static void take_down(const struct fw_plan *plan, size_t move,
                      struct fw_steps *steps)
{
    const struct fw_plan_move *of = &plan->moves[move];
    const struct fw_plan_field *field = &plan->fields[of->field];
    bool any = false;
    for (size_t i = field->first_fence + field->fence_count;
         i-- > field->first_fence;) {
        if (plan->fences[i].down_at != move || i == of->front)
            continue;
        if (!any)
            add(steps, FW_STEP_TAKE_DOWN, FW_NONE);
        any = true;
        add_fence(steps, i);
    }
}

/* Out of a field: its last fences are still up. */
static void clear(const struct fw_plan *plan, size_t left,
                  struct fw_steps *steps)
{
    const struct fw_plan_field *field = &plan->fields[left];
    bool any = false;
    for (size_t i = field->first_fence + field->fence_count;
         i-- > field->first_fence;) {
        const struct fw_plan_fence *fence = &plan->fences[i];
        if (fence->role == FW_FENCE_PERIMETER || fence->down_at != FW_NONE)
            continue;
        if (!any)
            add(steps, FW_STEP_CLEAR, FW_NONE);
        any = true;
        add_fence(steps, i);
    }
}

enum fw_status fw_plan_steps(const struct fw_plan *plan, size_t index,
                             struct fw_steps *out, struct fw_error *err)
{
    const struct fw_plan_move *move = &plan->moves[index];
    struct fw_steps steps = {.count = 0};
    size_t most = 11 + 4 * plan->fields[move->field].fence_count;
    if (move->from != FW_NONE)
        most += plan->fields[plan->paddocks[move->from].field].fence_count;
    steps.fences = fw_alloc(most, sizeof *steps.fences);
    if (!steps.fences)
        return fw_fail_memory(err);
    set(plan, index, &steps);
    if (move->water != FW_NONE)
        add(&steps, FW_STEP_CARRY, FW_NONE);
    for (size_t gate = move->way_back; gate != FW_NONE;
         gate = next_way(plan, gate)) {
        const size_t left = plan->gates[gate].fence;
        add(&steps, FW_STEP_LET_OUT, gate);
        if (left != FW_NONE)
            add_fence(&steps, left);
    }
    add(&steps, FW_STEP_OPEN, move->opening);
    if (move->front != FW_NONE)
        add_fence(&steps, move->front);
    add(&steps, FW_STEP_COUNT, move->opening);
    close_behind(plan, index, &steps);
    take_down(plan, index, &steps);
    if (move->from != FW_NONE &&
        plan->paddocks[move->from].field != move->field)
        clear(plan, plan->paddocks[move->from].field, &steps);
    *out = steps;
    return FW_OK;
}

void fw_steps_release(struct fw_steps *steps)
{
    fw_free(steps->fences);
    *steps = (struct fw_steps){.count = 0};
}
