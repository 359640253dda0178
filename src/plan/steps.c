/* A move, step by step. The order is what keeps the flock enclosed: the next
 * fence stands and is hot before the front one is touched, and the back one
 * comes down only when the front is closed behind them. */
#include "plan/job.h"

static void add(struct fw_step steps[FW_MOST_STEPS], size_t *n,
                enum fw_step_kind kind, size_t field, size_t cut, size_t gate)
{
    steps[(*n)++] = (struct fw_step){kind, field, cut, gate};
}

size_t fw_plan_steps(const struct fw_plan *plan, size_t index,
                     struct fw_step steps[FW_MOST_STEPS])
{
    const struct fw_plan_move *move = &plan->moves[index];
    const size_t field = move->field;
    size_t n = 0;
    if (move->next != FW_NONE) {
        add(steps, &n, FW_STEP_SET, field, move->next, FW_NONE);
        add(steps, &n, FW_STEP_HOOK, field, move->next, FW_NONE);
        add(steps, &n, FW_STEP_READ, field, move->next, FW_NONE);
    }
    if (move->water != FW_NONE)
        add(steps, &n, FW_STEP_CARRY, field, FW_NONE, FW_NONE);
    add(steps, &n, FW_STEP_OPEN, field, move->front, move->opening);
    add(steps, &n, FW_STEP_COUNT, field, move->front, move->opening);
    if (move->front == FW_NONE || plan->back_fence)
        add(steps, &n, FW_STEP_CLOSE, field, move->front, move->opening);
    else
        add(steps, &n, FW_STEP_TAKE_DOWN, field, move->front, FW_NONE);
    if (move->back != FW_NONE)
        add(steps, &n, FW_STEP_TAKE_DOWN, field, move->back, FW_NONE);
    if (move->front == FW_NONE && move->from != FW_NONE) {
        /* Out of a field: its last fences are still up. */
        const size_t left = plan->paddocks[move->from].field;
        const size_t count = plan->fields[left].paddock_count;
        if (plan->back_fence && count >= 2)
            add(steps, &n, FW_STEP_CLEAR, left, count - 2, FW_NONE);
    }
    return n;
}
