/* Ground that rises and falls under a line.
 *
 * A wire hangs straight from post to post, each as high above its own ground.
 * Where the ground between two posts lies deeper below the straight line
 * between their feet than the lowest wire is high, sheep go under; where it
 * rises above that line by half as much, grass and ground earth the wire. So a
 * post goes where that is worst, and both gaps are looked at again, until no
 * gap breaks it: every hollow and every brow gets a post (agupdate.com, 2020).
 */
#include "choice/run.h"

#include "base/alloc.h"
#include "base/array.h"
#include "base/fail.h"
#include "base/length.h"
#include "figures/mark.h"
#include "figures/plan.h"
#include "figures/water.h"
#include "geo/points.h"

#include <math.h>
#include <string.h>

static const double least_step_m = 1;

struct profile { /* of one straight piece */
    double *z_m; /* at steps + 1 places, evenly spaced */
    size_t steps;
    double long_m;
};

static double step_of(const struct fw_raster *heights)
{
    return fmax(least_step_m, fw_raster_cell_m(heights) / 2);
}

static size_t steps_of(const struct fw_raster *heights, double long_m)
{
    return (size_t)fmax(1,
                        ceil(long_m / step_of(heights) - FW_TOLERANCE(1e-9)));
}

static struct fw_point between(struct fw_point a, struct fw_point b, double t)
{
    return (struct fw_point){a.x_m + t * (b.x_m - a.x_m),
                             a.y_m + t * (b.y_m - a.y_m)};
}

/* ---- length ---- */

double fw_plan__ground_share(const struct fw_raster *heights,
                             const struct fw_point *line, size_t count)
{
    double plan_m = 0, ground_m = 0;
    if (!heights)
        return 1;
    for (size_t i = 1; i < count; i++) {
        const struct fw_point a = line[i - 1], b = line[i];
        const double long_m = fw_point_apart_m(b, a);
        if (!(long_m > 0))
            continue;
        const size_t steps = steps_of(heights, long_m);
        const double step_m = long_m / (double)steps;
        double before_m = fw_raster_at_point(heights, a);
        plan_m += long_m;
        for (size_t k = 1; k <= steps; k++) {
            const double z_m = fw_raster_at_point(
                heights, between(a, b, (double)k / (double)steps));
            const double rise_m = z_m - before_m;
            /* Where no height is known the ground counts as level. */
            ground_m += isnan(rise_m) ? step_m : fw_length(step_m, rise_m);
            before_m = z_m;
        }
    }
    return plan_m > 0 ? ground_m / plan_m : 1;
}

/* ---- climb ---- */

struct climbing {
    double turned_m, extreme_m; /* where it turned last, and how far since */
    int way;                    /* up 1, down -1; 0: neither yet */
    double up_m, down_m;
};

static void add_rise(struct climbing *climbing, double rise_m)
{
    climbing->up_m += fmax(0, rise_m);
    climbing->down_m += fmax(0, -rise_m);
}

/* A turn counts once it has gone back so far that it is no wavering. */
static void climb_to(struct climbing *climbing, double z_m)
{
    const double since_m = z_m - climbing->extreme_m;
    const int way = since_m > 0 ? 1 : -1;
    if (way == climbing->way) {
        climbing->extreme_m = z_m;
    } else if (fabs(since_m) >= FW_CLIMB_WAVERS_M) {
        add_rise(climbing, climbing->extreme_m - climbing->turned_m);
        climbing->turned_m = climbing->extreme_m;
        climbing->extreme_m = z_m;
        climbing->way = way;
    }
}

bool fw_plan__climb(const struct fw_raster *heights,
                    const struct fw_point *line, size_t count, double *up_m,
                    double *down_m)
{
    struct climbing climbing = {.way = 0};
    double z_m = fw_raster_at_point(heights, line[0]);
    climbing.turned_m = climbing.extreme_m = z_m;
    for (size_t i = 1; i < count; i++) {
        const struct fw_point a = line[i - 1], b = line[i];
        const size_t steps = steps_of(heights, fw_point_apart_m(b, a));
        for (size_t k = 1; k <= steps && !isnan(z_m); k++) {
            z_m = fw_raster_at_point(heights,
                                     between(a, b, (double)k / (double)steps));
            climb_to(&climbing, z_m);
        }
    }
    if (isnan(z_m))
        return false;
    add_rise(&climbing, climbing.extreme_m - climbing.turned_m);
    add_rise(&climbing, z_m - climbing.extreme_m);
    *up_m = climbing.up_m;
    *down_m = climbing.down_m;
    return true;
}

/* ---- dips and crests ---- */

struct evening {
    const struct fw_raster *heights;
    double bottom_m;
    struct fw_point a,
        b; /* the lesser end first, whichever way the line runs */
    bool turned;
    struct profile profile;
    struct fw_fence_post *posts; /* of the piece with its ends, from a */
    double *z_m;                 /* of each of them */
    size_t count, most;
};

static enum fw_status survey(struct evening *evening, struct fw_error *err)
{
    struct profile *profile = &evening->profile;
    profile->long_m = fw_point_apart_m(evening->b, evening->a);
    profile->steps = steps_of(evening->heights, profile->long_m);
    profile->z_m = fw_alloc(profile->steps + 1, sizeof *profile->z_m);
    if (!profile->z_m)
        return fw_fail_memory(err);
    for (size_t k = 0; k <= profile->steps; k++)
        profile->z_m[k] = fw_raster_at_point(
            evening->heights, between(evening->a, evening->b,
                                      (double)k / (double)profile->steps));
    return FW_OK;
}

static double at_of(const struct profile *profile, size_t k)
{
    return profile->long_m * (double)k / (double)profile->steps;
}

/* The place in a gap that breaks the rule most; 0: none does. */
static size_t worst_in(const struct evening *evening, size_t gap,
                       enum fw_post_why *why)
{
    const struct profile *profile = &evening->profile;
    const double from_m = evening->posts[gap].at_m;
    const double to_m = evening->posts[gap + 1].at_m;
    const double low_m = evening->z_m[gap], high_m = evening->z_m[gap + 1];
    const double step_m = profile->long_m / (double)profile->steps;
    double worst = 1;
    size_t found = 0;
    for (size_t k = (size_t)floor(from_m / step_m) + 1; k < profile->steps;
         k++) {
        const double at_m = at_of(profile, k);
        if (at_m >= to_m - FW_TOLERANCE(1e-6))
            break;
        if (at_m <= from_m + FW_TOLERANCE(1e-6))
            continue;
        const double chord_m =
            low_m + (high_m - low_m) * (at_m - from_m) / (to_m - from_m);
        const double up_m = profile->z_m[k] - chord_m;
        const double bad = up_m < 0
                               ? -up_m / evening->bottom_m
                               : up_m / (FW_CREST_SHARE * evening->bottom_m);
        if (bad > worst + FW_TOLERANCE(1e-9)) {
            worst = bad;
            found = k;
            *why = up_m < 0 ? FW_POST_DIP : FW_POST_CREST;
        }
    }
    return found;
}

static void put_post(struct evening *evening, size_t gap, size_t k,
                     enum fw_post_why why)
{
    const size_t at = gap + 1, behind = evening->count - at;
    memmove(evening->posts + at + 1, evening->posts + at,
            behind * sizeof *evening->posts);
    memmove(evening->z_m + at + 1, evening->z_m + at,
            behind * sizeof *evening->z_m);
    evening->posts[at] = (struct fw_fence_post){
        at_of(&evening->profile, k),
        between(evening->a, evening->b,
                (double)k / (double)evening->profile.steps),
        why};
    evening->z_m[at] = evening->profile.z_m[k];
    evening->count++;
}

/* Each post takes a step of the profile, so there is an end to it. */
static void split_gaps(struct evening *evening)
{
    for (size_t gap = 0; gap + 1 < evening->count;) {
        enum fw_post_why why = FW_POST_GAP;
        const size_t k = worst_in(evening, gap, &why);
        if (k > 0 && evening->count < evening->most)
            put_post(evening, gap, k, why);
        else
            gap++;
    }
}

static void fill(struct evening *evening, const struct fw_plan__run *run,
                 size_t first, double from_m)
{
    const size_t inner = run->post_count - first;
    const double long_m = evening->profile.long_m;
    struct fw_fence_post *posts = evening->posts;
    posts[0] = (struct fw_fence_post){0, evening->a, FW_POST_END};
    for (size_t i = 0; i < inner; i++) {
        posts[i + 1] =
            run->posts[first + (evening->turned ? inner - 1 - i : i)];
        posts[i + 1].at_m -= from_m;
        if (evening->turned)
            posts[i + 1].at_m = long_m - posts[i + 1].at_m;
    }
    posts[inner + 1] = (struct fw_fence_post){long_m, evening->b, FW_POST_END};
    evening->count = inner + 2;
    for (size_t i = 0; i < evening->count; i++)
        evening->z_m[i] = fw_raster_at_point(evening->heights, posts[i].point);
}

enum fw_status fw_plan__run_post(struct fw_plan__run *run, double at_m,
                                 struct fw_point point, enum fw_post_why why,
                                 struct fw_error *err)
{
    const enum fw_status status =
        fw_array_reserve(&run->posts, &run->post_capacity, run->post_count + 1,
                         sizeof *run->posts, err);
    if (!status)
        run->posts[run->post_count++] =
            (struct fw_fence_post){at_m, point, why};
    return status;
}

static enum fw_status give_back(const struct evening *evening,
                                struct fw_plan__run *run, size_t first,
                                double from_m, struct fw_error *err)
{
    const double long_m = evening->profile.long_m;
    enum fw_status status = FW_OK;
    run->post_count = first;
    for (size_t i = 1; !status && i + 1 < evening->count; i++) {
        const struct fw_fence_post *post =
            &evening->posts[evening->turned ? evening->count - 1 - i : i];
        status = fw_plan__run_post(
            run, from_m + (evening->turned ? long_m - post->at_m : post->at_m),
            post->point, post->why, err);
    }
    return status;
}

enum fw_status fw_plan__even_out(const struct fw_raster *heights,
                                 double bottom_m, struct fw_point a,
                                 struct fw_point b, double from_m,
                                 struct fw_plan__run *run, size_t first,
                                 struct fw_error *err)
{
    const bool turned = b.x_m < a.x_m || (!(b.x_m > a.x_m) && b.y_m < a.y_m);
    struct evening evening = {
        .heights = heights,
        .bottom_m = bottom_m,
        .a = turned ? b : a,
        .b = turned ? a : b,
        .turned = turned,
    };
    enum fw_status status = survey(&evening, err);
    evening.most =
        status ? 1 : run->post_count - first + 2 + evening.profile.steps;
    evening.posts = fw_alloc(evening.most, sizeof *evening.posts);
    evening.z_m = fw_alloc(evening.most, sizeof *evening.z_m);
    if (!status && (!evening.posts || !evening.z_m))
        status = fw_fail_memory(err);
    if (!status) {
        fill(&evening, run, first, from_m);
        split_gaps(&evening);
        if (evening.count > run->post_count - first + 2)
            status = give_back(&evening, run, first, from_m, err);
    }
    fw_free(evening.profile.z_m);
    fw_free(evening.posts);
    fw_free(evening.z_m);
    return status;
}
