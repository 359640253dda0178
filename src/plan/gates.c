/* The gate of a field, and the opening of each move: the place in the shared
 * fence where the flock walks through, and nowhere else. */
#include "base/alloc.h"
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

enum { most_ways = 4 }; /* openings on the way back, besides the last one */

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

/* A stretch of one fence with the same ground on either side: paddocks, or
 * FW_NONE for a lane. */
struct stretch {
    size_t fence;
    size_t first, last; /* in the fence's line */
    size_t a, b;
    double length_m;
};

struct stretches {
    struct stretch *items;
    size_t count, capacity;
};

static double piece_m(const struct fw_plan_field *field,
                      const struct fw_plan_fence *fence, size_t i)
{
    const struct fw_point a = fw_plan__at(field, fence->line[i]);
    const struct fw_point b = fw_plan__at(field, fence->line[i + 1]);
    return hypot(b.x_m - a.x_m, b.y_m - a.y_m);
}

static enum fw_status add_stretches(const struct fw_plan_job *job, size_t index,
                                    struct stretches *list,
                                    struct fw_error *err)
{
    const struct fw_plan_fence *fence = &job->plan->fences[index];
    const struct fw_plan_field *field = &job->plan->fields[fence->field];
    for (size_t i = 0; i + 1 < fence->line_count; i++) {
        const size_t from = fence->line[i], to = fence->line[i + 1];
        struct stretch piece = {
            .fence = index,
            .first = i,
            .last = i + 1,
            .a = fw_plan__left_of(job, from, to),
            .b = fw_plan__left_of(job, to, from),
            .length_m = piece_m(field, fence, i),
        };
        struct stretch *before = i > 0 ? &list->items[list->count - 1] : NULL;
        if (before && before->a == piece.a && before->b == piece.b) {
            before->last = piece.last;
            before->length_m += piece.length_m;
            continue;
        }
        const enum fw_status status =
            fw_array_reserve(&list->items, &list->capacity, list->count + 1,
                             sizeof *list->items, err);
        if (status)
            return status;
        list->items[list->count++] = piece;
    }
    return FW_OK;
}

/* Of fronts that stand already, or of all other lines. */
static enum fw_status list_stretches(const struct fw_plan_job *job,
                                     size_t index, bool fronts,
                                     struct stretches *out,
                                     struct fw_error *err)
{
    const struct fw_plan_field *field = &job->plan->fields[index];
    enum fw_status status = FW_OK;
    for (size_t f = field->first_fence;
         !status && f < field->first_fence + field->fence_count; f++)
        if (job->plan->fences[f].role != FW_FENCE_PERIMETER &&
            fw_plan__is_front(&job->plan->fences[f]) == fronts)
            status = add_stretches(job, f, out, err);
    return status;
}

/* Of equals the first. */
static bool is_longer(const struct stretch *a, const struct stretch *b)
{
    const double same_m = 1e-6;
    return a && (!b || a->length_m > b->length_m + same_m);
}

static bool parts(const struct stretch *stretch, size_t a, size_t b)
{
    return (stretch->a == a && stretch->b == b) ||
           (stretch->a == b && stretch->b == a);
}

static const struct stretch *longest(const struct stretches *list, size_t a,
                                     size_t b)
{
    const struct stretch *best = NULL;
    for (size_t i = 0; i < list->count; i++)
        if (parts(&list->items[i], a, b) && is_longer(&list->items[i], best))
            best = &list->items[i];
    return best;
}

/* So far along the stretch, from its near end. */
static struct fw_point along(const struct fw_plan_field *field,
                             const struct fw_plan_fence *fence,
                             const struct stretch *shared, bool from_last,
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
                                  const struct stretch *shared, size_t from,
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

/* ---- walking back ---- */

/* The ground before paddock `to`, grazed or lane, when the move into it begins:
 * what lies open to each other has one leader. The lane is the last of it. */
struct grounds {
    size_t first, to;
    size_t *leader;             /* to - first + 1 of them */
    const struct stretch **in;  /* by leader: the longest way into `to` */
    const struct stretch **out; /* and out of where the flock is */
};

static size_t ground_of(const struct grounds *grounds, size_t paddock)
{
    size_t i = paddock == FW_NONE ? grounds->to - grounds->first
                                  : paddock - grounds->first;
    while (grounds->leader[i] != i)
        i = grounds->leader[i] = grounds->leader[grounds->leader[i]];
    return i;
}

static bool is_before(const struct grounds *grounds, size_t paddock)
{
    return paddock == FW_NONE || paddock < grounds->to;
}

static void join(const struct fw_plan *plan, const struct stretches *list,
                 struct grounds *grounds)
{
    for (size_t i = 0; i <= grounds->to - grounds->first; i++)
        grounds->leader[i] = i;
    for (size_t i = 0; i < list->count; i++) {
        const struct stretch *at = &list->items[i];
        if (!is_before(grounds, at->a) || !is_before(grounds, at->b) ||
            fw_plan_stands(&plan->fences[at->fence], grounds->to))
            continue;
        grounds->leader[ground_of(grounds, at->a)] = ground_of(grounds, at->b);
    }
}

static void keep(const struct stretch **best, const struct stretch *other)
{
    if (is_longer(other, *best))
        *best = other;
}

static void find_ways(const struct stretches *list, struct grounds *grounds)
{
    const size_t here = ground_of(grounds, grounds->to - 1);
    for (size_t i = 0; i < list->count; i++) {
        const struct stretch *at = &list->items[i];
        const bool a_before = is_before(grounds, at->a);
        const bool b_before = is_before(grounds, at->b);
        if (at->b == grounds->to && a_before)
            keep(&grounds->in[ground_of(grounds, at->a)], at);
        if (at->a == grounds->to && b_before)
            keep(&grounds->in[ground_of(grounds, at->b)], at);
        if (!a_before || !b_before)
            continue;
        const size_t a = ground_of(grounds, at->a);
        const size_t b = ground_of(grounds, at->b);
        if (a == here && b != here)
            keep(&grounds->out[b], at);
        if (b == here && a != here)
            keep(&grounds->out[a], at);
    }
}

/* No longer than the narrower of its two openings; 0: no way. */
static double way_m(const struct grounds *grounds, size_t over, size_t here)
{
    if (!grounds->in[over] || (over != here && !grounds->out[over]))
        return 0;
    const double in_m = fmin(grounds->in[over]->length_m, opening_m);
    return over == here
               ? in_m
               : fmin(in_m, fmin(grounds->out[over]->length_m, opening_m));
}

/* From the ground where the flock is, else over one that adjoins it; the way
 * with the wider openings, and of equals the one with more fence to choose an
 * opening in. */
static enum fw_status
find_way_back(const struct fw_plan *plan, const struct stretches *list,
              struct grounds *grounds, const struct stretch **in,
              const struct stretch **out, struct fw_error *err)
{
    const size_t count = grounds->to - grounds->first + 1;
    grounds->leader = fw_alloc(count, sizeof *grounds->leader);
    grounds->in = fw_alloc(count, sizeof *grounds->in);
    grounds->out = fw_alloc(count, sizeof *grounds->out);
    if (!grounds->leader || !grounds->in || !grounds->out)
        return fw_fail_memory(err);
    join(plan, list, grounds);
    find_ways(list, grounds);
    const size_t here = ground_of(grounds, grounds->to - 1);
    size_t best = here;
    for (size_t i = 0; i < count; i++) {
        const double gain_m =
            way_m(grounds, i, here) - way_m(grounds, best, here);
        if (gain_m > 1e-6 || (gain_m > -1e-6 && best != here &&
                              is_longer(grounds->in[i], grounds->in[best])))
            best = i;
    }
    *in = way_m(grounds, best, here) > 0 ? grounds->in[best] : NULL;
    *out = best == here ? NULL : grounds->out[best];
    return FW_OK;
}

/* Where lines that stand for long part the grazed ground: how far each part is
 * from where the flock is, in openings, and the widest last one. */
static void spread(const struct stretches *list, const struct grounds *grounds,
                   size_t *steps, const struct stretch **by)
{
    const size_t count = grounds->to - grounds->first + 1;
    for (size_t i = 0; i < count; i++)
        steps[i] = FW_NONE;
    steps[ground_of(grounds, grounds->to - 1)] = 0;
    for (size_t step = 1; step <= most_ways; step++)
        for (size_t i = 0; i < 2 * list->count; i++) {
            const struct stretch *at = &list->items[i / 2];
            const size_t from = i % 2 ? at->b : at->a;
            const size_t to = i % 2 ? at->a : at->b;
            if (!is_before(grounds, from) || !is_before(grounds, to) ||
                at->length_m < least_door_m ||
                steps[ground_of(grounds, from)] != step - 1)
                continue;
            const size_t over = ground_of(grounds, to);
            if (steps[over] == FW_NONE)
                steps[over] = step;
            if (steps[over] == step)
                keep(&by[over], at);
        }
}

/* The way with the fewest openings, out[0] first. */
static enum fw_status find_long_way(const struct stretches *list,
                                    const struct grounds *grounds,
                                    const struct stretch **in,
                                    const struct stretch *out[most_ways],
                                    struct fw_error *err)
{
    const size_t count = grounds->to - grounds->first + 1;
    size_t *steps = fw_alloc(count, sizeof *steps);
    const struct stretch **by = fw_alloc(count, sizeof *by);
    enum fw_status status = steps && by ? FW_OK : fw_fail_memory(err);
    size_t best = FW_NONE;
    if (!status)
        spread(list, grounds, steps, by);
    for (size_t i = 0; !status && i < count; i++)
        if (steps[i] != FW_NONE && grounds->in[i] &&
            grounds->in[i]->length_m >= least_door_m &&
            (best == FW_NONE || steps[i] < steps[best]))
            best = i;
    if (best != FW_NONE) {
        *in = grounds->in[best];
        for (size_t at = best, k = steps[best]; k-- > 0;) {
            out[k] = by[at];
            const size_t a = ground_of(grounds, by[at]->a);
            at = a == at ? ground_of(grounds, by[at]->b) : a;
        }
    }
    fw_free(steps);
    fw_free(by);
    return status;
}

static enum fw_status way_back(const struct fw_plan *plan,
                               const struct stretches *list, size_t first,
                               size_t to, const struct stretch **in,
                               const struct stretch *out[most_ways],
                               struct fw_error *err)
{
    struct grounds grounds = {.first = first, .to = to};
    enum fw_status status =
        find_way_back(plan, list, &grounds, in, &out[0], err);
    if (!status && !*in)
        status = find_long_way(list, &grounds, in, out, err);
    fw_free(grounds.leader);
    fw_free(grounds.in);
    fw_free(grounds.out);
    return status;
}

/* No grazed ground adjoins it. */
static enum fw_status open_anyhow(struct fw_plan *plan,
                                  const struct stretches *list, size_t to,
                                  const struct stretch **in,
                                  struct fw_error *err)
{
    for (size_t i = 0; i < list->count; i++)
        if (list->items[i].a == to || list->items[i].b == to)
            keep(in, &list->items[i]);
    const struct fw_plan_paddock *paddock = &plan->paddocks[to];
    if (!*in)
        return fw_fail(err, FW_EFAULT, "no fence beside paddock %s",
                       paddock->id);
    return fw_notes_add(&plan->notes, FW_LEVEL_WARNING, paddock->id, err,
                        "is reached over no grazed ground and no lane: on the "
                        "way the flock crosses ground that still waits");
}

/* Paddock `to` adjoins the one before it, or else ground that was grazed
 * earlier, or a lane: then the flock leaves by an opening of its own, if a
 * fence stands in its way. */
static enum fw_status open_into(struct fw_plan_job *job, size_t index,
                                const struct stretches *list, size_t to,
                                struct fw_error *err)
{
    struct fw_plan *plan = job->plan;
    const struct fw_plan_field *field = &plan->fields[index];
    const int on = plan->paddocks[to].enter;
    const struct stretch *in = longest(list, to - 1, to);
    const struct stretch *out[most_ways] = {NULL};
    enum fw_status status = FW_OK;
    if (!in || in->length_m < least_door_m)
        status = way_back(plan, list, field->first_paddock, to, &in, out, err);
    if (!status && !in)
        status = open_anyhow(plan, list, to, &in, err);
    if (!status)
        status = add_opening(job, index, in, to - 1, to, on, err);
    if (status)
        return status;
    fw_plan__id(plan->gates[plan->gate_count - 1].id, "opening %.20s",
                plan->paddocks[to].id);
    for (size_t k = 0; !status && k < most_ways && out[k]; k++) {
        status = add_opening(job, index, out[k], to - 1, FW_NONE, on, err);
        if (!status)
            fw_plan__id(plan->gates[plan->gate_count - 1].id, "way %s %.20s",
                        k == 0 ? "out" : "on", plan->paddocks[to - 1].id);
    }
    return status;
}

size_t fw_plan__opening_into(const struct fw_plan *plan, size_t paddock)
{
    for (size_t i = plan->gate_count; i-- > 0;)
        if (plan->gates[i].to == paddock)
            return i;
    return FW_NONE;
}

static bool leads_from(const struct fw_plan_gate *gate, size_t paddock)
{
    return gate->from == paddock && gate->to == FW_NONE;
}

/* The first of those that follow each other. */
size_t fw_plan__way_out(const struct fw_plan *plan, size_t paddock)
{
    size_t i = plan->gate_count;
    while (i > 0 && !leads_from(&plan->gates[i - 1], paddock))
        i--;
    while (i > 1 && leads_from(&plan->gates[i - 2], paddock))
        i--;
    return i == 0 ? FW_NONE : i - 1;
}

/* Into the first paddock if it adjoins a front, else where there is most of it,
 * over ground that is not grazed yet: untold.c says so. */
static const struct stretch *through_front(const struct stretches *fronts,
                                           size_t to)
{
    const struct stretch *best = longest(fronts, FW_NONE, to);
    for (size_t i = 0; !best && i < fronts->count; i++)
        if (is_longer(&fronts->items[i], best))
            best = &fronts->items[i];
    return best;
}

/* A gate that opens into a lane needs an opening from there as well, a front
 * that stands is opened. */
static enum fw_status open_first(struct fw_plan_job *job, size_t index,
                                 const struct stretches *fronts,
                                 const struct stretches *list,
                                 struct fw_error *err)
{
    struct fw_plan *plan = job->plan;
    const struct fw_plan_field *field = &plan->fields[index];
    const size_t to = field->first_paddock;
    const struct stretch *in = through_front(fronts, to);
    if (!in && field->gate.given && fw_plan__at_gate(plan, index) == FW_NONE)
        in = longest(list, FW_NONE, to);
    if (!in)
        return FW_OK;
    const enum fw_status status =
        add_opening(job, index, in, FW_NONE, to, plan->paddocks[to].enter, err);
    if (!status)
        fw_plan__id(plan->gates[plan->gate_count - 1].id, "opening %.20s",
                    plan->paddocks[to].id);
    return status;
}

enum fw_status fw_plan__gates(struct fw_plan_job *job, size_t index,
                              struct fw_error *err)
{
    const struct fw_plan_field *field = &job->plan->fields[index];
    struct stretches list = {0}, fronts = {0};
    enum fw_status status = FW_OK;
    if (field->gate.given)
        status = add_gate(job, index, err);
    if (!status)
        status = list_stretches(job, index, false, &list, err);
    if (!status)
        status = list_stretches(job, index, true, &fronts, err);
    if (!status)
        status = open_first(job, index, &fronts, &list, err);
    for (size_t k = 1; !status && k < field->paddock_count; k++)
        status = open_into(job, index, &list, field->first_paddock + k, err);
    fw_free(list.items);
    fw_free(fronts.items);
    return status;
}
