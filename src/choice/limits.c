/* What a person or a flock cannot use: paddocks too narrow, too long for their
 * width, with too short a front face, runs beyond two reels. The search counts
 * them and the plan names them, by the same sums. */
#include "choice/limits.h"

#include "base/alloc.h"
#include "base/array.h"
#include "base/fail.h"
#include "base/text.h"
#include "figures/mark.h"
#include "figures/plan.h"
#include "figures/say.h"
#include "geo/points.h"

#include <math.h>

double fw_plan__least_width_m(const struct fw_plan_job *job)
{
    const int head = job->plan->flock.head;
    const struct fw_farm *farm = job->farm;
    if (farm->least_width_m > 0)
        return farm->least_width_m;
    if (head > FW_CROWD_HEAD ||
        fw_flock_lambs(farm->classes, farm->class_count) == FW_LAMBS_AT_FOOT)
        return FW_LEAST_WIDTH_CROWDED_M;
    return head < FW_FEW_HEAD ? FW_LEAST_WIDTH_FEW_M : FW_LEAST_WIDTH_M;
}

double fw_plan__least_face_m(const struct fw_plan_job *job)
{
    return job->farm->least_face_m * job->plan->flock.head;
}

/* Out and back a wire is twice as long as its line. */
static double reach_of_two_reels_m(const struct fw_fence_spec *spec)
{
    const bool twice = spec->out_and_back && spec->strands > 1;
    return (twice ? 1 : 2) * spec->reel_m;
}

static double longest_run_m(const struct fw_farm *farm)
{
    return reach_of_two_reels_m(&farm->moved) / (1 + farm->moved.slack);
}

/* With open ground behind them the flock has more than the paddock: what it
 * grazes at is the front. A short last paddock is as wide as what was left. */
unsigned fw_plan__broken(const struct fw_plan_job *job,
                         const struct fw_plan__shape *shape, bool last)
{
    const struct fw_farm *farm = job->farm;
    unsigned broken = 0;
    if (last)
        return 0;
    if (farm->back_fence || farm->least_width_m > 0)
        broken |=
            shape->width_m < fw_plan__least_width_m(job) ? FW_PLAN__NARROW : 0;
    if (farm->back_fence)
        broken |= shape->longer > farm->longest_shape ? FW_PLAN__LONG : 0;
    else if (shape->face_m > 0) /* at the end of a way there is no front */
        broken |=
            shape->face_m < fw_plan__least_face_m(job) - FW_TOLERANCE(1e-6)
                ? FW_PLAN__SHORT_FACE
                : 0;
    return broken;
}

bool fw_plan__is_overlong(const struct fw_farm *farm, double run_m)
{
    return run_m > longest_run_m(farm);
}

/* ---- shapes of a layout ---- */

struct fw_point fw_plan__layout_at(const struct fw_farm_field *field,
                                   const struct fw_layout *layout,
                                   size_t vertex)
{
    return vertex < layout->vertex_count
               ? fw_plan__grazed(field)->vertices[vertex].plane
               : layout->added[vertex - layout->vertex_count].point;
}

struct fw_point *fw_plan__outline(const struct fw_farm_field *field,
                                  const struct fw_layout *layout,
                                  size_t paddock, size_t *count)
{
    const size_t ring = layout->piece_ring[layout->paddock_piece[paddock]];
    const size_t first = layout->ring_start[ring];
    *count = layout->ring_start[ring + 1] - first;
    struct fw_point *points = fw_alloc(*count, sizeof *points);
    for (size_t i = 0; points && i < *count; i++)
        points[i] =
            fw_plan__layout_at(field, layout, layout->ring_vertices[first + i]);
    return points;
}

/* To what is grazed later. */
static double face_m(const struct fw_farm_field *field,
                     const struct fw_layout *layout, size_t paddock)
{
    double sum = 0;
    for (size_t l = 0; l < layout->line_count; l++) {
        const struct fw_layout_line *line = &layout->lines[l];
        for (size_t i = line->first; i + 1 < line->first + line->count; i++) {
            const size_t a = layout->left[i], b = layout->right[i];
            const size_t other = a == paddock ? b : b == paddock ? a : paddock;
            if (other <= paddock || other >= layout->paddock_count)
                continue;
            const struct fw_point p =
                fw_plan__layout_at(field, layout, layout->line_vertices[i]);
            const struct fw_point q =
                fw_plan__layout_at(field, layout, layout->line_vertices[i + 1]);
            sum += fw_point_apart_m(q, p);
        }
    }
    return sum;
}

struct fw_plan__shape fw_plan__shape_of(const struct fw_farm_field *field,
                                        const struct fw_layout *layout,
                                        size_t paddock,
                                        const struct fw_point *ring,
                                        size_t count)
{
    const double longer = fw_plan__elongation(ring, count);
    return (struct fw_plan__shape){
        .width_m = sqrt(layout->paddock_m2[paddock] / longer),
        .longer = longer,
        .face_m = face_m(field, layout, paddock),
    };
}

enum fw_status fw_plan__take_shapes(struct fw_plan_job *job, size_t index,
                                    const struct fw_layout *layout,
                                    struct fw_error *err)
{
    const struct fw_farm_field *field = &job->farm->fields[index];
    enum fw_status status = fw_array_reserve(
        &job->shapes, &job->shape_capacity,
        job->shape_count + layout->paddock_count, sizeof *job->shapes, err);
    for (size_t p = 0; !status && p < layout->paddock_count; p++) {
        size_t count;
        struct fw_point *ring = fw_plan__outline(field, layout, p, &count);
        if (!ring)
            return fw_fail_memory(err);
        job->shapes[job->shape_count++] =
            fw_plan__shape_of(field, layout, p, ring, count);
        fw_free(ring);
    }
    return status;
}

/* ---- their names ---- */

struct broken {           /* the paddocks of a field that break one limit */
    struct fw_text names; /* "A01 to A04, A07" */
    size_t count;
    double worst;
};

static double value_of(const struct fw_plan__shape *shape, unsigned limit)
{
    return limit == FW_PLAN__NARROW ? shape->width_m
           : limit == FW_PLAN__LONG ? -shape->longer
                                    : shape->face_m;
}

static bool breaks(const struct fw_plan_job *job, size_t index, size_t k,
                   unsigned limit)
{
    const struct fw_plan_field *field = &job->plan->fields[index];
    return k < field->paddock_count &&
           fw_plan__broken(job, &job->shapes[field->first_paddock + k],
                           k + 1 == field->paddock_count) &
               limit;
}

static void name_broken(const struct fw_plan_job *job, size_t index,
                        unsigned limit, struct broken *out)
{
    const struct fw_plan_field *field = &job->plan->fields[index];
    const struct fw_plan_paddock *paddocks =
        &job->plan->paddocks[field->first_paddock];
    out->worst = HUGE_VAL;
    for (size_t k = 0; k < field->paddock_count; k++) {
        size_t last = k;
        if (!breaks(job, index, k, limit))
            continue;
        while (breaks(job, index, last + 1, limit))
            last++;
        fw_text_addf(&out->names, "%s%s", out->count ? ", " : "",
                     paddocks[k].id);
        if (last > k)
            fw_text_addf(&out->names, "%s%s", last == k + 1 ? ", " : " to ",
                         paddocks[last].id);
        out->count += last - k + 1;
        for (; k < last; k++)
            out->worst =
                fmin(out->worst,
                     value_of(&job->shapes[field->first_paddock + k], limit));
        out->worst =
            fmin(out->worst,
                 value_of(&job->shapes[field->first_paddock + k], limit));
    }
}

static enum fw_status warn(struct fw_plan_job *job, size_t index,
                           unsigned limit, struct fw_error *err)
{
    struct fw_plan *plan = job->plan;
    struct broken broken = {.count = 0};
    struct fw_text text = {0};
    name_broken(job, index, limit, &broken);
    if (broken.count == 0) {
        fw_text_release(&broken.names);
        return FW_OK;
    }
    const double least_m = limit == FW_PLAN__NARROW
                               ? fw_plan__least_width_m(job)
                               : fw_plan__least_face_m(job);
    char least[FW_SAID], worst[FW_SAID];
    fw_say_wanted(least_m, plan->units, FW_UP, least);
    fw_say_measured(broken.worst, least_m, plan->units, FW_DOWN, worst);
    const char *are = broken.count == 1 ? "is" : "are";
    const char *have = broken.count == 1 ? "has" : "have";
    enum fw_status status = fw_text_done(&broken.names, err);
    fw_text_add(&text, status ? "" : broken.names.bytes);
    if (limit == FW_PLAN__NARROW)
        fw_text_addf(&text,
                     " %s under %s wide, the narrowest %s: fences so close "
                     "crowd a flock; longer stays, or blocks, make them wider",
                     are, least, worst);
    else if (limit == FW_PLAN__LONG)
        fw_text_addf(&text,
                     " %s over %g times as long as wide, the longest %.1f "
                     "times: sheep graze the near end and leave the far one",
                     are, job->farm->longest_shape,
                     fw_say_round(-broken.worst, 1, FW_UP));
    else
        fw_text_addf(&text,
                     " %s a front face under %s for %d head, the shortest %s: "
                     "they push each other into the wire; longer fences give "
                     "each room",
                     have, least, plan->flock.head, worst);
    if (!status)
        status = fw_text_done(&text, err);
    if (!status)
        status = fw_notes_add(&plan->notes, FW_LEVEL_WARNING,
                              plan->fields[index].name, err, "%s", text.bytes);
    fw_text_release(&text);
    fw_text_release(&broken.names);
    return status;
}

static enum fw_status warn_runs(struct fw_plan_job *job, size_t index,
                                struct fw_error *err)
{
    struct fw_plan *plan = job->plan;
    const struct fw_plan_field *field = &plan->fields[index];
    enum fw_status status = FW_OK;
    char reach[FW_SAID];
    fw_say_wanted(reach_of_two_reels_m(&job->farm->moved), plan->units, FW_DOWN,
                  reach);
    for (size_t i = field->first_fence;
         !status && i < field->first_fence + field->fence_count; i++) {
        const struct fw_plan_fence *fence = &plan->fences[i];
        if (fence->role != FW_FENCE_PERIMETER && fw_plan_is_set(plan, i) &&
            fw_plan__is_overlong(job->farm, fence->ground_m))
            status =
                fw_notes_add(&plan->notes, FW_LEVEL_WARNING, fence->id, err,
                             "is longer than two reels of wire reach (%s): "
                             "each wire needs a third one",
                             reach);
    }
    return status;
}

enum fw_status fw_plan__warn_limits(struct fw_plan_job *job, size_t index,
                                    struct fw_error *err)
{
    static const unsigned limits[] = {FW_PLAN__NARROW, FW_PLAN__LONG,
                                      FW_PLAN__SHORT_FACE};
    enum fw_status status = FW_OK;
    for (size_t i = 0; !status && i < sizeof limits / sizeof *limits; i++)
        status = warn(job, index, limits[i], err);
    return status ? status : warn_runs(job, index, err);
}
