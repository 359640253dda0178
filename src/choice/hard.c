/* Hard going: ditches, banks, rows of trees that a fence crosses with more
 * posts and more time. */
#include "choice/run.h"

#include "base/alloc.h"
#include "base/array.h"
#include "base/fail.h"
#include "base/text.h"
#include "base/whole.h"

#include <math.h>

/* A crossing so near an end of the line belongs to the boundary. */
static const double off_end_m = 1;

int fw_plan__crossing_posts(const struct fw_plan__obstacle *obstacle)
{
    return fw_whole(fmax(0, obstacle->feature->posts));
}

double fw_plan__crossing_min(const struct fw_plan__obstacle *obstacle)
{
    return fmax(0, obstacle->feature->minutes);
}

/* ---- what stands near a field ---- */

void fw_plan__obstacles_release(struct fw_plan_job *job)
{
    for (size_t i = 0; i < job->obstacle_count; i++)
        fw_free(job->obstacles[i].points);
    fw_free(job->obstacles);
    job->obstacles = NULL;
    job->obstacle_count = 0;
}

static void find_box(const struct fw_point *points, size_t count,
                     struct fw_point *low, struct fw_point *high)
{
    *low = (struct fw_point){HUGE_VAL, HUGE_VAL};
    *high = (struct fw_point){-HUGE_VAL, -HUGE_VAL};
    for (size_t i = 0; i < count; i++) {
        low->x_m = fmin(low->x_m, points[i].x_m);
        low->y_m = fmin(low->y_m, points[i].y_m);
        high->x_m = fmax(high->x_m, points[i].x_m);
        high->y_m = fmax(high->y_m, points[i].y_m);
    }
}

static bool meets(const struct fw_plan__obstacle *obstacle, struct fw_point low,
                  struct fw_point high)
{
    return obstacle->low.x_m <= high.x_m && obstacle->high.x_m >= low.x_m &&
           obstacle->low.y_m <= high.y_m && obstacle->high.y_m >= low.y_m;
}

static enum fw_status take(struct fw_plan_job *job,
                           const struct fw_plane *plane,
                           const struct fw_farm_feature *feature,
                           struct fw_point low, struct fw_point high,
                           struct fw_error *err)
{
    const size_t count = feature->ring_start[feature->ring_count];
    struct fw_point *points = fw_alloc(count, sizeof *points);
    if (!points)
        return fw_fail_memory(err);
    for (size_t i = 0; i < count; i++)
        points[i] = fw_plane_forward(plane, feature->points[i]);
    struct fw_plan__obstacle obstacle = {
        .feature = feature,
        .points = points,
        .shape = {points, feature->ring_start, feature->ring_count,
                  feature->kind == FW_FEATURE_POLYGON},
    };
    find_box(points, count, &obstacle.low, &obstacle.high);
    if (meets(&obstacle, low, high))
        job->obstacles[job->obstacle_count++] = obstacle;
    else
        fw_free(points);
    return FW_OK;
}

enum fw_status fw_plan__obstacles(struct fw_plan_job *job, size_t field,
                                  struct fw_error *err)
{
    const struct fw_farm *farm = job->farm;
    const struct fw_field *shape = fw_plan__grazed(&farm->fields[field]);
    struct fw_point low = {HUGE_VAL, HUGE_VAL};
    struct fw_point high = {-HUGE_VAL, -HUGE_VAL};
    size_t count = 0;
    fw_plan__obstacles_release(job);
    for (size_t i = 0; i < farm->feature_count; i++)
        count += farm->features[i].role == FW_ROLE_HARD_GOING &&
                 farm->features[i].kind != FW_FEATURE_POINT;
    if (count == 0)
        return FW_OK;
    job->obstacles = fw_alloc(count, sizeof *job->obstacles);
    if (!job->obstacles)
        return fw_fail_memory(err);
    for (size_t i = 0; i < shape->ring_start[1]; i++) {
        const struct fw_point at = shape->vertices[i].plane;
        low = (struct fw_point){fmin(low.x_m, at.x_m), fmin(low.y_m, at.y_m)};
        high =
            (struct fw_point){fmax(high.x_m, at.x_m), fmax(high.y_m, at.y_m)};
    }
    enum fw_status status = FW_OK;
    for (size_t i = 0; !status && i < farm->feature_count; i++)
        if (farm->features[i].role == FW_ROLE_HARD_GOING &&
            farm->features[i].kind != FW_FEATURE_POINT)
            status =
                take(job, &shape->plane, &farm->features[i], low, high, err);
    return status;
}

/* ---- crossings ---- */

static bool is_inside(const struct fw_safety_shape *shape, struct fw_point at)
{
    bool inside = false;
    for (size_t r = 0; r < shape->ring_count; r++)
        if (fw_ring_contains(shape->points + shape->ring_start[r],
                             shape->ring_start[r + 1] - shape->ring_start[r],
                             at))
            inside = !inside;
    return inside;
}

static enum fw_status add_place(struct fw_plan__stations *out, double at_m,
                                struct fw_error *err)
{
    const enum fw_status status = fw_array_reserve(
        &out->at_m, &out->capacity, out->count + 1, sizeof *out->at_m, err);
    if (!status)
        out->at_m[out->count++] = at_m;
    return status;
}

/* An area is crossed once from where the line comes in to where it leaves. */
static enum fw_status cross_area(const struct fw_plan__obstacle *obstacle,
                                 const struct fw_point *line, size_t count,
                                 double long_m, const struct fw_crossings *met,
                                 struct fw_plan__stations *out,
                                 struct fw_error *err)
{
    enum fw_status status = FW_OK;
    double in_m = -1, before_m = 0;
    for (size_t i = 0; !status && i <= met->count; i++) {
        const double here_m = i < met->count ? met->items[i].at_m : long_m;
        const bool inside =
            here_m > before_m &&
            is_inside(&obstacle->shape,
                      fw_safety_along(line, count, (before_m + here_m) / 2));
        if (inside && in_m < 0)
            in_m = before_m;
        if (in_m >= 0 && (!inside || i == met->count)) {
            const double out_m = inside ? here_m : before_m;
            if (out_m > off_end_m && in_m < long_m - off_end_m)
                status = add_place(out, (in_m + out_m) / 2, err);
            in_m = -1;
        }
        before_m = here_m;
    }
    return status;
}

enum fw_status fw_plan__cross(const struct fw_plan__obstacle *obstacle,
                              const struct fw_point *line, size_t count,
                              struct fw_plan__stations *out,
                              struct fw_error *err)
{
    struct fw_point low, high;
    out->count = 0;
    find_box(line, count, &low, &high);
    if (!meets(obstacle, low, high))
        return FW_OK;
    const double long_m = fw_line_length_m(line, count, false);
    struct fw_crossings met = {0};
    enum fw_status status =
        fw_crossings_find(line, count, &obstacle->shape, &met, err);
    if (!status && obstacle->shape.area)
        status = cross_area(obstacle, line, count, long_m, &met, out, err);
    for (size_t i = 0; !status && !obstacle->shape.area && i < met.count; i++)
        if (met.items[i].at_m > off_end_m &&
            met.items[i].at_m < long_m - off_end_m)
            status = add_place(out, met.items[i].at_m, err);
    fw_crossings_release(&met);
    return status;
}

/* ---- in the plan ---- */

static void name_crossing(const struct fw_farm_feature *feature,
                          struct fw_plan_crossing *out)
{
    fw_text_clip(feature->name && feature->name[0] ? feature->name
                                                   : "hard going",
                 out->what, sizeof out->what);
}

static enum fw_status tell_crossing(struct fw_plan_job *job, size_t index,
                                    const struct fw_plan__obstacle *obstacle,
                                    size_t times, struct fw_error *err)
{
    struct fw_plan *plan = job->plan;
    if (times == 0)
        return FW_OK;
    const enum fw_status status = fw_array_reserve(
        &plan->crossings, &plan->crossing_capacity, plan->crossing_count + 1,
        sizeof *plan->crossings, err);
    if (status)
        return status;
    struct fw_plan_crossing *crossing =
        &plan->crossings[plan->crossing_count++];
    *crossing = (struct fw_plan_crossing){
        .fence = index,
        .times = (int)times,
        .posts = (int)times * fw_plan__crossing_posts(obstacle),
        .minutes = (double)times * fw_plan__crossing_min(obstacle),
    };
    name_crossing(obstacle->feature, crossing);
    return FW_OK;
}

static enum fw_status cross_fence(struct fw_plan_job *job, size_t index,
                                  struct fw_error *err)
{
    const struct fw_plan_fence *fence = &job->plan->fences[index];
    struct fw_plan__stations places = {0};
    struct fw_point *line =
        fw_plan__line(&job->plan->fields[fence->field], fence);
    enum fw_status status = line ? FW_OK : fw_fail_memory(err);
    for (size_t i = 0; !status && i < job->obstacle_count; i++) {
        status = fw_plan__cross(&job->obstacles[i], line, fence->line_count,
                                &places, err);
        if (!status)
            status = tell_crossing(job, index, &job->obstacles[i], places.count,
                                   err);
    }
    fw_free(places.at_m);
    fw_free(line);
    return status;
}

/* Less than this beyond it is a slip of the pen. */
static const double least_apart_m2 = FW_LEAST_FIELD_M2;

static enum fw_status apart_m2(const struct fw_plan_job *job, size_t paddock,
                               const struct fw_plan__obstacle *obstacle,
                               double *out, struct fw_error *err)
{
    const struct fw_plan *plan = job->plan;
    const struct fw_plan_paddock *of = &plan->paddocks[paddock];
    const struct fw_plan_rings *rings = &of->rings;
    const struct fw_bar bar = {
        .points = obstacle->points,
        .ring_start = obstacle->feature->ring_start,
        .ring_count = obstacle->feature->ring_count,
        .is_area = obstacle->shape.area,
    };
    const size_t count = rings->ring_start[rings->piece_ring[1]];
    struct fw_point *points = fw_alloc(count, sizeof *points);
    if (!points)
        return fw_fail_memory(err);
    for (size_t i = 0; i < count; i++)
        points[i] = fw_plan__at(&plan->fields[of->field], rings->vertices[i]);
    const enum fw_status status = job->farm->world->apart_m2(
        points, rings->ring_start, rings->piece_ring[1], &bar, out, err);
    fw_free(points);
    return status;
}

/* All paddocks of the field on both sides of it, in one line. */
static enum fw_status warn_apart(struct fw_plan_job *job, size_t index,
                                 const struct fw_plan__obstacle *obstacle,
                                 struct fw_error *err)
{
    struct fw_plan *plan = job->plan;
    const struct fw_plan_field *field = &plan->fields[index];
    struct fw_text text = {0};
    size_t count = 0;
    double most_m2 = 0;
    enum fw_status status = FW_OK;
    for (size_t p = field->first_paddock + fw_plan_grazed_before(plan, index);
         !status && p < field->first_paddock + field->paddock_count; p++) {
        double m2 = 0;
        status = apart_m2(job, p, obstacle, &m2, err);
        if (status || m2 < least_apart_m2)
            continue;
        fw_text_addf(&text, "%s%s", count++ ? ", " : "", plan->paddocks[p].id);
        most_m2 = fmax(most_m2, m2);
    }
    if (!status && count > 0) {
        struct fw_plan_crossing name;
        name_crossing(obstacle->feature, &name);
        fw_text_addf(&text,
                     " %s on both sides of %s, which sheep do not cross: up to "
                     "%.0f m2 are out of their reach; a fence along it, or a "
                     "way over it, mends that",
                     count == 1 ? "lies" : "lie", name.what, most_m2);
        status = fw_text_done(&text, err);
    }
    if (!status && count > 0)
        status = fw_notes_add(&plan->notes, FW_LEVEL_WARNING, field->name, err,
                              "%s", text.bytes);
    fw_text_release(&text);
    return status;
}

static enum fw_status warn_all(struct fw_plan_job *job, size_t index,
                               struct fw_error *err)
{
    enum fw_status status = FW_OK;
    for (size_t i = 0; !status && i < job->obstacle_count; i++) {
        const double cross = job->obstacles[i].feature->sheep_cross;
        if (cross >= 0 && cross < 0.5)
            status = warn_apart(job, index, &job->obstacles[i], err);
    }
    return status;
}

enum fw_status fw_plan__hard_going(struct fw_plan_job *job, size_t index,
                                   struct fw_error *err)
{
    const struct fw_plan_field *field = &job->plan->fields[index];
    enum fw_status status = FW_OK;
    for (size_t i = field->first_fence;
         !status && i < field->first_fence + field->fence_count; i++)
        if (job->plan->fences[i].role != FW_FENCE_PERIMETER &&
            fw_plan__is_used(job->plan, i))
            status = cross_fence(job, i, err);
    return status ? status : warn_all(job, index, err);
}
