/* What holds the ends of lines. A line under tension pulls its end post over:
 * it ends on a post of the boundary, on a driven anchor, or on the post of
 * another line that passes there. */
#include "base/alloc.h"
#include "base/fail.h"
#include "choice/job.h"
#include "figures/plan.h"
#include "make/parts.h"

bool fw_plan__is_tied(const struct fw_plan_fence *fence)
{
    return fence->length_m >= FW_SLACK_LINE_M;
}

/* How many ends stand at each vertex of a field that nothing else holds: those
 * that meet in one place share what does. */
struct ties {
    const struct fw_plan_job *job;
    size_t *offset; /* of each field's vertices in `ends` */
    int *ends;
    int places, most;
};

static void count_line(struct ties *ties, size_t index, int sign)
{
    const struct fw_plan_fence *fence = &ties->job->plan->fences[index];
    const struct fw_land_line *line = &ties->job->land.lines[index];
    if (!fw_plan__is_tied(fence))
        return;
    for (int e = 0; e < 2; e++) {
        if (line->host[e] != FW_NONE)
            continue;
        int *ends = &ties->ends[ties->offset[fence->field] +
                                fence->line[e ? fence->line_count - 1 : 0]];
        ties->places -= *ends > 0;
        *ends += sign;
        ties->places += *ends > 0;
    }
    ties->most = ties->places > ties->most ? ties->places : ties->most;
}

static void go_through(struct ties *ties)
{
    const struct fw_plan *plan = ties->job->plan;
    const struct fw_time *time = &plan->time;
    for (size_t i = 0; i < plan->fence_count; i++)
        if (plan->fences[i].stood)
            count_line(ties, i, 1);
    for (size_t i = 0; i < time->step_count; i++) {
        const struct fw_step *step = &time->steps[i];
        if (step->kind != FW_STEP_SET && step->kind != FW_STEP_TAKE_DOWN)
            continue;
        for (size_t k = 0; k < step->lines.count; k++)
            count_line(ties, time->items[step->lines.first + k],
                       step->kind == FW_STEP_SET ? 1 : -1);
    }
}

enum fw_status fw_plan__most_ties(const struct fw_plan_job *job, int *most,
                                  struct fw_error *err)
{
    const struct fw_plan *plan = job->plan;
    struct ties ties = {.job = job};
    size_t vertices = 0;
    ties.offset = fw_alloc(plan->field_count, sizeof *ties.offset);
    for (size_t f = 0; ties.offset && f < plan->field_count; f++) {
        ties.offset[f] = vertices;
        vertices += plan->fields[f].vertex_count;
    }
    ties.ends = fw_alloc(vertices, sizeof *ties.ends);
    const enum fw_status status =
        ties.offset && ties.ends ? FW_OK : fw_fail_memory(err);
    if (!status) {
        go_through(&ties);
        *most = ties.most;
    }
    fw_free(ties.offset);
    fw_free(ties.ends);
    return status;
}
