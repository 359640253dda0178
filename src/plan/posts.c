/* The posts of every moved run, with their places. */
#include "base/array.h"
#include "base/fail.h"
#include "plan/run.h"

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
    fw_plan__id(post->id, "%.18s/%u", fence->id, (unsigned)number);
    return FW_OK;
}

static enum fw_status place_of(struct fw_plan_job *job,
                               const struct fw_plan_fence *fence,
                               const struct fw_fence_post *post,
                               struct fw_plan_place *out, struct fw_error *err)
{
    const struct fw_plan_field *field = &job->plan->fields[fence->field];
    if (post->why == FW_POST_END || post->why == FW_POST_TIE)
        for (size_t v = 0; v < fence->line_count; v++) {
            const struct fw_vertex *at = &field->vertices[fence->line[v]];
            if (at->plane.x_m == post->point.x_m &&
                at->plane.y_m == post->point.y_m) {
                *out = (struct fw_plan_place){true, at->plane, at->lonlat,
                                              at->file};
                return FW_OK;
            }
        }
    return fw_plan__place(job, fence->field, post->point, out, err);
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
        struct fw_plan_place place;
        status = place_of(job, fence, &run.posts[i], &place, err);
        if (!status)
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
