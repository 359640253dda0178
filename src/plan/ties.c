/* What holds the ends of lines. A line under tension pulls its end post over:
 * it ends on a post of the boundary, on a driven anchor, or on the post of
 * another line that passes there. */
#include "base/alloc.h"
#include "base/fail.h"
#include "plan/job.h"

#include <stdlib.h>

/* A line so short is slack enough for a bare step-in post: common practice, no
 * source. */
static const double slack_line_m = 10;

bool fw_plan__is_tied(const struct fw_plan_fence *fence)
{
    return fence->length_m >= slack_line_m;
}

static bool stands(const struct fw_plan_fence *fence, size_t move)
{
    return fence->role != FW_FENCE_PERIMETER &&
           (fence->set_at == move || fw_plan_stands(fence, move));
}

/* Does another line pass the place, so that its post holds what ends there? */
static bool passed(const struct fw_plan *plan,
                   const struct fw_plan_field *field, size_t vertex,
                   size_t move)
{
    for (size_t i = 0; i < field->fence_count; i++) {
        const struct fw_plan_fence *fence =
            &plan->fences[field->first_fence + i];
        for (size_t k = 1; stands(fence, move) && k + 1 < fence->line_count;
             k++)
            if (fence->line[k] == vertex)
                return true;
    }
    return false;
}

static int by_vertex(const void *left, const void *right)
{
    const size_t a = *(const size_t *)left, b = *(const size_t *)right;
    return a < b ? -1 : a > b;
}

/* Ends that meet in one place share what holds them. */
static int places(size_t *ends, size_t count)
{
    int sum = 0;
    if (count > 0)
        qsort(ends, count, sizeof *ends, by_vertex);
    for (size_t i = 0; i < count; i++)
        sum += i == 0 || ends[i] != ends[i - 1];
    return sum;
}

static int ties_in(const struct fw_plan *plan, size_t index, size_t move,
                   size_t *ends)
{
    const struct fw_plan_field *field = &plan->fields[index];
    size_t count = 0;
    for (size_t i = 0; i < field->fence_count; i++) {
        const struct fw_plan_fence *fence =
            &plan->fences[field->first_fence + i];
        if (!stands(fence, move) || !fw_plan__is_tied(fence))
            continue;
        const size_t both[] = {fence->line[0],
                               fence->line[fence->line_count - 1]};
        for (int k = 0; k < 2; k++)
            if (!passed(plan, field, both[k], move))
                ends[count++] = both[k];
    }
    return places(ends, count);
}

enum fw_status fw_plan__most_ties(const struct fw_plan *plan, int *most,
                                  struct fw_error *err)
{
    size_t *ends = fw_alloc(2 * plan->fence_count, sizeof *ends);
    if (!ends)
        return fw_fail_memory(err);
    *most = 0;
    for (size_t m = 0; m < plan->move_count; m++) {
        const struct fw_plan_move *move = &plan->moves[m];
        int ties = ties_in(plan, move->field, m, ends);
        /* What is left of the field before is still up. */
        if (move->from != FW_NONE &&
            plan->paddocks[move->from].field != move->field)
            ties += ties_in(plan, plan->paddocks[move->from].field, m, ends);
        *most = ties > *most ? ties : *most;
    }
    fw_free(ends);
    return FW_OK;
}
