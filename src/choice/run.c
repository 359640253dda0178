#include "choice/run.h"

#include "base/alloc.h"
#include "base/array.h"
#include "base/fail.h"
#include "figures/mark.h"
#include "geo/points.h"

#include <math.h>
#include <stdlib.h>

/* Shorter than this is no piece of fence. */
static const double least_piece_m = FW_TOLERANCE(1e-6);
/* Posts of a crossing stand so far from each other: common practice. */
static const double crossing_gap_m = 1;

void fw_plan__run_release(struct fw_plan__run *run)
{
    fw_free(run->posts);
    *run = (struct fw_plan__run){0};
}

struct fw_fence_count fw_plan__run_count(const struct fw_plan__run *run,
                                         double length_m,
                                         const struct fw_fence_spec *spec)
{
    const double ground_m = length_m * run->ground_share;
    const double strand_m = ground_m * (1 + spec->slack);
    return (struct fw_fence_count){
        .line_m = ground_m,
        .wire_m = strand_m * spec->strands,
        .posts = (int)run->post_count,
        .reels = fw_fence_reels(strand_m, spec),
    };
}

static double piece_m(struct fw_point a, struct fw_point b)
{
    return fw_point_apart_m(b, a);
}

/* The posts between two points of the line, its ends left out. */
static enum fw_status fill_piece(const struct fw_plan_job *job,
                                 const struct fw_raster *heights,
                                 const struct fw_point piece[2], double from_m,
                                 struct fw_plan__run *run, struct fw_error *err)
{
    const struct fw_fence_spec *spec = &job->farm->moved;
    struct fw_fence_post *posts = NULL;
    size_t count = 0;
    const size_t first = run->post_count;
    enum fw_status status =
        fw_fence_posts(piece, 2, false, spec, &posts, &count, err);
    for (size_t i = 1; !status && i + 1 < count; i++)
        status = fw_plan__run_post(run, from_m + posts[i].at_m, posts[i].point,
                                   posts[i].why, err);
    fw_fence_posts_free(posts);
    if (!status && heights)
        status = fw_plan__even_out(heights, spec->height_bottom_m, piece[0],
                                   piece[1], from_m, run, first, err);
    return status;
}

static enum fw_status set_posts(const struct fw_plan_job *job,
                                const struct fw_raster *heights,
                                const struct fw_point *line, size_t count,
                                struct fw_plan__run *run, struct fw_error *err)
{
    double at_m = 0;
    enum fw_status status =
        fw_plan__run_post(run, 0, line[0], FW_POST_END, err);
    for (size_t i = 1; !status && i < count; i++) {
        const double long_m = piece_m(line[i - 1], line[i]);
        if (!(long_m > least_piece_m))
            continue;
        status = fill_piece(job, heights, line + i - 1, at_m, run, err);
        at_m += long_m;
        if (!status)
            status = fw_plan__run_post(run, at_m, line[i], FW_POST_TIE, err);
    }
    if (!status)
        run->posts[run->post_count - 1].why = FW_POST_END;
    return status;
}

static int by_way(const void *left, const void *right)
{
    const struct fw_fence_post *a = left, *b = right;
    if (a->at_m < b->at_m || a->at_m > b->at_m)
        return a->at_m < b->at_m ? -1 : 1;
    return (int)a->why - (int)b->why;
}

static enum fw_status add_crossing(const struct fw_point *line, size_t count,
                                   double long_m, double at_m, int posts,
                                   struct fw_plan__run *run,
                                   struct fw_error *err)
{
    const double off_end_m =
        FW_TOLERANCE(0.01); /* so that the ends stay what they are */
    enum fw_status status = FW_OK;
    for (int k = 0; !status && k < posts; k++) {
        const double off_m = (k - (posts - 1) / 2.0) * crossing_gap_m;
        const double here_m =
            fmax(off_end_m, fmin(long_m - off_end_m, at_m + off_m));
        status =
            fw_plan__run_post(run, here_m, fw_safety_along(line, count, here_m),
                              FW_POST_CROSSING, err);
    }
    return status;
}

static enum fw_status cross_all(const struct fw_plan_job *job,
                                const struct fw_point *line, size_t count,
                                struct fw_plan__run *run, struct fw_error *err)
{
    const double long_m = run->posts[run->post_count - 1].at_m;
    struct fw_plan__stations places = {0};
    enum fw_status status = FW_OK;
    for (size_t i = 0; !status && i < job->obstacle_count; i++) {
        const struct fw_plan__obstacle *obstacle = &job->obstacles[i];
        status = fw_plan__cross(obstacle, line, count, &places, err);
        run->crossing_min +=
            (double)places.count * fw_plan__crossing_min(obstacle);
        for (size_t k = 0; !status && k < places.count; k++)
            status = add_crossing(line, count, long_m, places.at_m[k],
                                  fw_plan__crossing_posts(obstacle), run, err);
    }
    fw_free(places.at_m);
    if (!status && job->obstacle_count > 0)
        qsort(run->posts, run->post_count, sizeof *run->posts, by_way);
    return status;
}

enum fw_status fw_plan__run_find(const struct fw_plan_job *job, size_t field,
                                 const struct fw_point *line, size_t count,
                                 struct fw_plan__run *out, struct fw_error *err)
{
    const struct fw_raster *heights = job->farm->fields[field].heights;
    struct fw_plan__run run = {.ground_share = 1};
    enum fw_status status = set_posts(job, heights, line, count, &run, err);
    if (!status) {
        run.ground_share = fw_plan__ground_share(heights, line, count);
        status = cross_all(job, line, count, &run, err);
    }
    if (status)
        fw_plan__run_release(&run);
    else
        *out = run;
    return status;
}
