/* The posts of every moved run, with their places. */
#include "base/alloc.h"
#include "base/array.h"
#include "base/fail.h"
#include "plan/job.h"

#include <stdio.h>

/* The ends stand where the run's ends stand, to the last digit. */
static enum fw_status place_post(struct fw_plan_job *job,
                                 const struct fw_plan_fence *fence,
                                 const struct fw_fence_post *post, size_t which,
                                 size_t count, struct fw_plan_place *out,
                                 struct fw_error *err)
{
    const struct fw_plan_field *field = &job->plan->fields[fence->field];
    if (which > 0 && which + 1 < count)
        return fw_plan__place(job, fence->field, post->point, out, err);
    const size_t vertex =
        which == 0 ? fence->line[0] : fence->line[fence->line_count - 1];
    const struct fw_vertex *at = &field->vertices[vertex];
    *out = (struct fw_plan_place){true, at->plane, at->lonlat, at->file};
    return FW_OK;
}

static enum fw_status posts_of(struct fw_plan_job *job, size_t index,
                               struct fw_error *err)
{
    struct fw_plan *plan = job->plan;
    const struct fw_plan_fence *fence = &plan->fences[index];
    const struct fw_plan_field *field = &plan->fields[fence->field];
    const struct fw_point line[2] = {fw_plan__at(field, fence->line[0]),
                                     fw_plan__at(field, fence->line[1])};
    struct fw_fence_post *posts = NULL;
    size_t count = 0;
    enum fw_status status =
        fw_fence_posts(line, 2, false, &plan->moved, &posts, &count, err);
    if (status)
        return status;
    status =
        fw_array_reserve(&plan->posts, &plan->post_capacity,
                         plan->post_count + count, sizeof *plan->posts, err);
    for (size_t i = 0; !status && i < count; i++) {
        struct fw_plan_post *post = &plan->posts[plan->post_count];
        *post = (struct fw_plan_post){
            .fence = index, .at_m = posts[i].at_m, .why = posts[i].why};
        fw_plan__id(post->id, "%.18s/%u", fence->id, (unsigned)(i + 1));
        status = place_post(job, fence, &posts[i], i, count, &post->place, err);
        plan->post_count += status == FW_OK;
    }
    fw_fence_posts_free(posts);
    return status;
}

enum fw_status fw_plan__posts(struct fw_plan_job *job, struct fw_error *err)
{
    enum fw_status status = FW_OK;
    for (size_t i = 0; !status && i < job->plan->fence_count; i++)
        if (job->plan->fences[i].role == FW_FENCE_MOVED)
            status = posts_of(job, i, err);
    return status;
}
