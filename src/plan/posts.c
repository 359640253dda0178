/* The posts of every moved run, with their places. */
#include "base/array.h"
#include "base/fail.h"
#include "geo/inner.h"
#include "plan/run.h"

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

/* Where a straight piece of the line passes nearest to a point: from, 0, to its
 * end, 1. */
static double nearest_on(struct fw_point from, struct fw_point to,
                         struct fw_point at, double *away_m)
{
    const double x = to.x_m - from.x_m, y = to.y_m - from.y_m;
    const double px = at.x_m - from.x_m, py = at.y_m - from.y_m;
    const double square = x * x + y * y;
    const double t =
        square > 0 ? fmin(1, fmax(0, (px * x + py * y) / square)) : 0;
    *away_m = hypot(px - t * x, py - t * y);
    return t;
}

/* On the line as it is drawn, in each kind of coordinate: what is straight on
 * the ground is not quite straight in a map. */
static struct fw_plan_place between(const struct fw_vertex *a,
                                    const struct fw_vertex *b, double t,
                                    double turn)
{
    if (t >= 1) /* to the last bit */
        return (struct fw_plan_place){true, b->plane, b->lonlat, b->file};
    const double degrees = 360;
    const double lon = fw_unwrap(b->lonlat.lon_deg, a->lonlat.lon_deg, degrees);
    const double x = fw_unwrap(b->file.x, a->file.x, turn);
    struct fw_plan_place place = {
        .given = true,
        .plane = {a->plane.x_m + t * (b->plane.x_m - a->plane.x_m),
                  a->plane.y_m + t * (b->plane.y_m - a->plane.y_m)},
        .lonlat = {a->lonlat.lon_deg + t * (lon - a->lonlat.lon_deg),
                   a->lonlat.lat_deg +
                       t * (b->lonlat.lat_deg - a->lonlat.lat_deg)},
        .file = {a->file.x + t * (x - a->file.x),
                 a->file.y + t * (b->file.y - a->file.y)},
    };
    if (lon != b->lonlat.lon_deg)
        place.lonlat.lon_deg = fw_unwrap(place.lonlat.lon_deg, 0, degrees);
    if (x != b->file.x)
        place.file.x = fw_unwrap(place.file.x, 0, turn);
    return place;
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
            nearest_on(vertices[fence->line[i]].plane,
                       vertices[fence->line[i + 1]].plane, at, &away_m);
        if (away_m < least_m) {
            least_m = away_m;
            piece = i;
            t = here;
        }
    }
    return between(&vertices[fence->line[piece]],
                   &vertices[fence->line[piece + 1]], t,
                   fw_crs_turn(job->crs[fence->field]));
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
