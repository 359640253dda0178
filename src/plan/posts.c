/* The posts of every moved run, with their places. */
#include "base/alloc.h"
#include "base/array.h"
#include "base/fail.h"
#include "plan/job.h"

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
    fw_plan__id(post->id, "%.18s/%u", fence->id, (unsigned)number);
    return FW_OK;
}

/* The posts between two ties. */
static enum fw_status fill_gaps(struct fw_plan_job *job, size_t index,
                                const struct fw_point piece[2], double *at_m,
                                struct fw_error *err)
{
    const size_t field = job->plan->fences[index].field;
    struct fw_fence_post *posts = NULL;
    size_t count = 0;
    enum fw_status status =
        fw_fence_posts(piece, 2, false, &job->plan->moved, &posts, &count, err);
    for (size_t i = 1; !status && i + 1 < count; i++) {
        struct fw_plan_place place;
        status = fw_plan__place(job, field, posts[i].point, &place, err);
        if (!status)
            status = add_post(job, index, *at_m + posts[i].at_m, posts[i].why,
                              &place, err);
    }
    fw_fence_posts_free(posts);
    *at_m += hypot(piece[1].x_m - piece[0].x_m, piece[1].y_m - piece[0].y_m);
    return status;
}

/* A post stands at every vertex of the line, since another fence ends there or
 * it bends, and between them so that no gap is too wide. */
static enum fw_status posts_of(struct fw_plan_job *job, size_t index,
                               struct fw_error *err)
{
    const struct fw_plan *plan = job->plan;
    const struct fw_plan_fence *fence = &plan->fences[index];
    const struct fw_plan_field *field = &plan->fields[fence->field];
    double at_m = 0;
    enum fw_status status = FW_OK;
    for (size_t v = 0; !status && v < fence->line_count; v++) {
        const struct fw_vertex *here = &field->vertices[fence->line[v]];
        const bool last = v + 1 == fence->line_count;
        const struct fw_plan_place place = {true, here->plane, here->lonlat,
                                            here->file};
        const bool slack = (v == 0 || last) && !fw_plan__is_tied(fence);
        status = add_post(job, index, at_m, slack ? FW_POST_END : FW_POST_TIE,
                          &place, err);
        if (status || last)
            break;
        const struct fw_point piece[2] = {
            here->plane, fw_plan__at(field, fence->line[v + 1])};
        status = fill_gaps(job, index, piece, &at_m, err);
    }
    return status;
}

enum fw_status fw_plan__posts(struct fw_plan_job *job, struct fw_error *err)
{
    enum fw_status status = FW_OK;
    for (size_t i = 0; !status && i < job->plan->fence_count; i++)
        if (job->plan->fences[i].role != FW_FENCE_PERIMETER)
            status = posts_of(job, i, err);
    return status;
}
