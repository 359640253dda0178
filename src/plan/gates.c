/* The gate of a field, and the opening of each move: the place in the shared
 * fence where the flock walks through, and nowhere else. */
#include "base/array.h"
#include "base/fail.h"
#include "plan/job.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* Common practice, no source: 4 to 6 m, so that they do not jam, near the end
 * of the fence but off its last post. */
static const double opening_m = 5;
static const double from_end_m = 2;
static const double least_door_m = 4;

static enum fw_status new_gate(struct fw_plan *plan, size_t field,
                               const char *kind_of, struct fw_plan_gate **out,
                               struct fw_error *err)
{
    const enum fw_status status =
        fw_array_reserve(&plan->gates, &plan->gate_capacity,
                         plan->gate_count + 1, sizeof *plan->gates, err);
    if (status)
        return status;
    struct fw_plan_gate *gate = &plan->gates[plan->gate_count++];
    *gate = (struct fw_plan_gate){.field = field,
                                  .fence = FW_NONE,
                                  .on = FW_NO_DAY,
                                  .from = FW_NONE,
                                  .to = FW_NONE};
    snprintf(gate->kind_of, sizeof gate->kind_of, "%s", kind_of);
    *out = gate;
    return FW_OK;
}

static enum fw_status add_gate(struct fw_plan_job *job, size_t index,
                               struct fw_error *err)
{
    struct fw_plan *plan = job->plan;
    struct fw_plan_gate *gate;
    const enum fw_status status = new_gate(plan, index, "gate", &gate, err);
    if (status)
        return status;
    char letter[8];
    fw_plan__letter(index, letter);
    fw_plan__id(gate->id, "gate %s", letter);
    gate->place = plan->fields[index].gate;
    return FW_OK;
}

/* A stretch of one fence with the same ground on either side. */
struct shared {
    size_t fence;
    size_t first, last; /* in the fence's line */
    double length_m;
};

static double stretch_m(const struct fw_plan_field *field,
                        const struct fw_plan_fence *fence, size_t first,
                        size_t last)
{
    double sum = 0;
    for (size_t i = first; i < last; i++) {
        const struct fw_point a = fw_plan__at(field, fence->line[i]);
        const struct fw_point b = fw_plan__at(field, fence->line[i + 1]);
        sum += hypot(b.x_m - a.x_m, b.y_m - a.y_m);
    }
    return sum;
}

/* Keep the longer; of equals the first. */
static void keep_longest(struct shared *best, const struct shared *other)
{
    const double same_m = 1e-6;
    if (best->fence == FW_NONE || other->length_m > best->length_m + same_m)
        *best = *other;
}

/* The longest stretch of fence between two paddocks, or, with `a` FW_NONE,
 * between a lane and `b`. */
static struct shared shared_by(const struct fw_plan_job *job, size_t index,
                               size_t a, size_t b)
{
    const struct fw_plan *plan = job->plan;
    const struct fw_plan_field *field = &plan->fields[index];
    struct shared best = {.fence = FW_NONE};
    for (size_t f = 0; f < field->fence_count; f++) {
        const struct fw_plan_fence *fence =
            &plan->fences[field->first_fence + f];
        if (fence->role == FW_FENCE_PERIMETER)
            continue;
        size_t first = FW_NONE;
        for (size_t i = 0; i < fence->line_count; i++) {
            const bool ours =
                i + 1 < fence->line_count &&
                fw_plan__parts(job, fence->line[i], fence->line[i + 1], a, b);
            if (ours && first == FW_NONE)
                first = i;
            if (ours || first == FW_NONE)
                continue;
            const struct shared found = {field->first_fence + f, first, i,
                                         stretch_m(field, fence, first, i)};
            keep_longest(&best, &found);
            first = FW_NONE;
        }
    }
    return best;
}

/* So far along the stretch, from its near end. */
static struct fw_point along(const struct fw_plan_field *field,
                             const struct fw_plan_fence *fence,
                             const struct shared *shared, bool from_last,
                             double along_m)
{
    const size_t pieces = shared->last - shared->first;
    struct fw_point a = {0, 0};
    for (size_t i = 0; i < pieces; i++) {
        const size_t from = from_last ? shared->last - i : shared->first + i;
        a = fw_plan__at(field, fence->line[from]);
        const struct fw_point b =
            fw_plan__at(field, fence->line[from_last ? from - 1 : from + 1]);
        const double piece_m = hypot(b.x_m - a.x_m, b.y_m - a.y_m);
        if (along_m <= piece_m || i + 1 == pieces)
            return (struct fw_point){
                a.x_m + (b.x_m - a.x_m) * fmin(1, along_m / piece_m),
                a.y_m + (b.y_m - a.y_m) * fmin(1, along_m / piece_m)};
        along_m -= piece_m;
    }
    return a;
}

/* Wet ground, or water where they would jam. */
static bool is_bad(const struct fw_plan_job *job, size_t index,
                   struct fw_point at)
{
    const struct fw_plan_field *field = &job->plan->fields[index];
    const double from_water_m = 10; /* common practice, no source */
    if (field->water.given &&
        hypot(field->water.plane.x_m - at.x_m,
              field->water.plane.y_m - at.y_m) < from_water_m)
        return true;
    return fw_plan__on_soft_ground(job, index, at);
}

/* At the end where the shepherd comes from (A), or at the other one where the
 * first is wet or has the water. */
static enum fw_status add_opening(struct fw_plan_job *job, size_t index,
                                  const struct shared *shared, size_t from,
                                  size_t to, int on, struct fw_error *err)
{
    struct fw_plan *plan = job->plan;
    struct fw_plan_gate *gate;
    enum fw_status status = new_gate(plan, index, "opening", &gate, err);
    if (status)
        return status;
    const struct fw_plan_field *field = &plan->fields[index];
    const struct fw_plan_fence *fence = &plan->fences[shared->fence];
    const double middle_m =
        fmin(from_end_m + opening_m / 2, shared->length_m / 2);
    struct fw_point at = along(field, fence, shared, false, middle_m);
    const struct fw_point other = along(field, fence, shared, true, middle_m);
    gate->far_end = is_bad(job, index, at) && !is_bad(job, index, other);
    if (gate->far_end)
        at = other;
    gate->fence = shared->fence;
    gate->width_m = fmin(opening_m, shared->length_m);
    gate->from = from;
    gate->to = to;
    gate->on = on;
    return fw_plan__place(job, index, at, &gate->place, err);
}

/* Paddock `to` adjoins the one before it, or else ground that was grazed
 * earlier, or a lane: then the flock leaves by an opening of its own. */
static enum fw_status open_into(struct fw_plan_job *job, size_t index,
                                size_t to, struct fw_error *err)
{
    struct fw_plan *plan = job->plan;
    const struct fw_plan_field *field = &plan->fields[index];
    const int on = plan->paddocks[to].enter;
    struct shared in = shared_by(job, index, to - 1, to);
    const bool turns = in.fence == FW_NONE || in.length_m < least_door_m;
    if (turns)
        in = shared_by(job, index, FW_NONE, to);
    for (size_t p = to; turns && p-- > field->first_paddock;) {
        const struct shared other = shared_by(job, index, p, to);
        if (other.fence != FW_NONE)
            keep_longest(&in, &other);
    }
    if (in.fence == FW_NONE)
        return fw_fail(err, FW_EFAULT, "%s: no way into paddock %zu",
                       field->name, to - field->first_paddock + 1);
    enum fw_status status = add_opening(job, index, &in, to - 1, to, on, err);
    if (status)
        return status;
    fw_plan__id(plan->gates[plan->gate_count - 1].id, "opening %.20s",
                plan->paddocks[to].id);
    if (!turns)
        return FW_OK;
    struct shared out = shared_by(job, index, FW_NONE, to - 1);
    for (size_t p = to - 1; p-- > field->first_paddock;) {
        const struct shared other = shared_by(job, index, p, to - 1);
        if (other.fence != FW_NONE &&
            fw_plan_stands(&plan->fences[other.fence], to))
            keep_longest(&out, &other);
    }
    if (out.fence == FW_NONE)
        return FW_OK; /* no fence stands between it and what was grazed */
    status = add_opening(job, index, &out, to - 1, FW_NONE, on, err);
    if (!status)
        fw_plan__id(plan->gates[plan->gate_count - 1].id, "way out %.20s",
                    plan->paddocks[to - 1].id);
    return status;
}

size_t fw_plan__opening_into(const struct fw_plan *plan, size_t paddock)
{
    for (size_t i = 0; i < plan->gate_count; i++)
        if (plan->gates[i].to == paddock)
            return i;
    return FW_NONE;
}

size_t fw_plan__way_out(const struct fw_plan *plan, size_t paddock)
{
    for (size_t i = 0; i < plan->gate_count; i++)
        if (plan->gates[i].from == paddock && plan->gates[i].to == FW_NONE)
            return i;
    return FW_NONE;
}

enum fw_status fw_plan__gates(struct fw_plan_job *job, size_t index,
                              struct fw_error *err)
{
    const struct fw_plan_field *field = &job->plan->fields[index];
    enum fw_status status = FW_OK;
    if (field->gate.given)
        status = add_gate(job, index, err);
    for (size_t k = 1; !status && k < field->paddock_count; k++)
        status = open_into(job, index, field->first_paddock + k, err);
    return status;
}
