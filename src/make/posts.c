/* The posts of every moved run, with their places. */
#include "base/array.h"
#include "base/fail.h"
#include "choice/run.h"
#include "geo/inner.h"
#include "make/parts.h"
#include "plan/post.h"

#include <math.h>

static enum fw_status add_post(struct fw_plan_job *job, size_t index,
                               double at_m, enum fw_post_why why,
                               const struct fw_plan_place *place,
                               struct fw_error *err)
{
    struct fw_plan *plan = job->plan;
    const enum fw_status status =
        fw_array_reserve(&plan->posts, &plan->post_capacity,
                         plan->post_count + 1, sizeof *plan->posts, err);
    if (status)
        return status;
    struct fw_plan_post *post = &plan->posts[plan->post_count++];
    *post = (struct fw_plan_post){
        .fence = index, .at_m = at_m, .why = why, .place = *place};
    const struct fw_plan_fence *fence = &plan->fences[index];
    size_t number = 1;
    for (size_t i = plan->post_count - 1;
         i-- > 0 && plan->posts[i].fence == index;)
        number++;
    fw_plan__post_id(post->id, fence->id, why, number);
    return FW_OK;
}

static struct fw_plan_place place_of(const struct fw_plan_job *job,
                                     const struct fw_plan_fence *fence,
                                     struct fw_point at)
{
    const struct fw_vertex *vertices = job->plan->fields[fence->field].vertices;
    double least_m = HUGE_VAL, t = 0;
    size_t piece = 0;
    for (size_t i = 0; i + 1 < fence->line_count; i++) {
        double away_m;
        const double here =
            fw_geo__nearest_on(vertices[fence->line[i]].plane,
                               vertices[fence->line[i + 1]].plane, at, &away_m);
        if (away_m < least_m) {
            least_m = away_m;
            piece = i;
            t = here;
        }
    }
    const struct fw_vertex place = fw_geo__between(
        &vertices[fence->line[piece]], &vertices[fence->line[piece + 1]], t,
        job->farm->world->turn(job->crs[fence->field]));
    return (struct fw_plan_place){true, place.plane, place.lonlat, place.file};
}

static enum fw_status posts_of(struct fw_plan_job *job, size_t index,
                               struct fw_error *err)
{
    const struct fw_plan_fence *fence = &job->plan->fences[index];
    struct fw_plan__run run = {0};
    enum fw_status status = fw_plan__fence_run(job, fence, &run, err);
    if (!status && fw_plan__is_tied(fence))
        run.posts[0].why = run.posts[run.post_count - 1].why = FW_POST_TIE;
    for (size_t i = 0; !status && i < run.post_count; i++) {
        const struct fw_plan_place place =
            place_of(job, fence, run.posts[i].point);
        status = add_post(job, index, run.posts[i].at_m, run.posts[i].why,
                          &place, err);
    }
    fw_plan__run_release(&run);
    return status;
}

enum fw_status fw_plan__posts(struct fw_plan_job *job, struct fw_error *err)
{
    struct fw_plan *plan = job->plan;
    enum fw_status status = FW_OK;
    for (size_t f = 0; !status && f < plan->field_count; f++) {
        const struct fw_plan_field *field = &plan->fields[f];
        status = fw_plan__obstacles(job, f, err);
        for (size_t i = field->first_fence;
             !status && i < field->first_fence + field->fence_count; i++)
            if (plan->fences[i].role != FW_FENCE_PERIMETER &&
                fw_plan__is_used(plan, i))
                status = posts_of(job, i, err);
    }
    return status;
}
