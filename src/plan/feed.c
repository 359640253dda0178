/* Which end of a moved line is fed: A, where it is hooked on. */
#include "plan/job.h"

#include <math.h>

enum fw_answer fw_plan_hot_at(const struct fw_plan *plan, size_t field,
                              size_t vertex)
{
    const struct fw_plan_field *of = &plan->fields[field];
    enum fw_answer hot = FW_UNTOLD;
    for (size_t i = 0; i < of->fence_count; i++) {
        const struct fw_plan_fence *fence = &plan->fences[of->first_fence + i];
        if (fence->role != FW_FENCE_PERIMETER || fence->side == FW_NONE)
            continue;
        for (size_t v = 0; v < fence->line_count; v++)
            if (fence->line[v] == vertex && of->sides[fence->side].hot > hot)
                hot = of->sides[fence->side].hot;
    }
    return hot;
}

/* The shepherd comes from the energizer, else from the gate or the water. */
static bool comes_from(const struct fw_plan_job *job, size_t field,
                       struct fw_point *out)
{
    const struct fw_farm *farm = job->farm;
    const struct fw_farm_field *from = &farm->fields[field];
    if (farm->energizer.given && field == 0)
        *out = farm->energizer.point;
    else if (from->gate.given)
        *out = from->gate.point;
    else if (from->water.given)
        *out = from->water.point;
    else
        return false;
    return true;
}

static double away_m(struct fw_point a, struct fw_point b)
{
    return hypot(a.x_m - b.x_m, a.y_m - b.y_m);
}

/* A boundary that is said to be hot is the best to hook on to; then another
 * line, or a boundary that nobody has spoken for. One that is not hot, and the
 * edge of a pond, feed nothing. */
static int feeds(const struct fw_plan *plan, size_t self, size_t vertex)
{
    const struct fw_plan_field *field = &plan->fields[plan->fences[self].field];
    const enum fw_answer hot =
        fw_plan_hot_at(plan, plan->fences[self].field, vertex);
    if (hot != FW_UNTOLD)
        return hot == FW_YES ? 2 : 0;
    for (size_t i = field->first_fence;
         i < field->first_fence + field->fence_count; i++) {
        const struct fw_plan_fence *fence = &plan->fences[i];
        if (i == self ||
            (fence->role == FW_FENCE_PERIMETER && fence->side == FW_NONE))
            continue;
        for (size_t v = 0; v < fence->line_count; v++)
            if (fence->line[v] == vertex)
                return 1;
    }
    return 0;
}

/* What feeds better decides; where both ends are alike, the one nearer to where
 * the shepherd comes from is A. */
static bool wants_turning(const struct fw_plan_job *job, size_t index,
                          size_t self)
{
    const struct fw_plan *plan = job->plan;
    const struct fw_plan_field *field = &plan->fields[index];
    const struct fw_plan_fence *fence = &plan->fences[self];
    const size_t a = fence->line[0], b = fence->line[fence->line_count - 1];
    const int feeds_a = feeds(plan, self, a), feeds_b = feeds(plan, self, b);
    struct fw_point from;
    if (feeds_a != feeds_b)
        return feeds_b > feeds_a;
    if (!comes_from(job, index, &from))
        return false;
    return away_m(fw_plan__at(field, b), from) <
           away_m(fw_plan__at(field, a), from);
}

static void turn(const struct fw_plan_field *field, struct fw_plan_fence *fence)
{
    const size_t last = fence->line_count - 1;
    for (size_t i = 0; i < last - i; i++) {
        const size_t kept = fence->line[i];
        fence->line[i] = fence->line[last - i];
        fence->line[last - i] = kept;
    }
    fence->bearing_deg =
        fw_geo_bearing_deg(field->vertices[fence->line[0]].lonlat,
                           field->vertices[fence->line[last]].lonlat);
}

void fw_plan__feed_ends(struct fw_plan_job *job, size_t index)
{
    struct fw_plan *plan = job->plan;
    const struct fw_plan_field *field = &plan->fields[index];
    for (size_t i = 0; i < field->fence_count; i++) {
        struct fw_plan_fence *fence = &plan->fences[field->first_fence + i];
        if (fence->role != FW_FENCE_PERIMETER &&
            wants_turning(job, index, field->first_fence + i))
            turn(field, fence);
    }
}
