#include "haul/placing.h"

#include "base/alloc.h"
#include "base/fail.h"
#include "choice/days.h"
#include "choice/walk.h"
#include "figures/mark.h"
#include "figures/plan.h"
#include "geo/points.h"
#include "walk/walk.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Fence ends nearer to each other than that are one place. */
static const double same_m = FW_TOLERANCE(0.01);

/* Of its outer ring; what it lies in is seen later, and may be nothing. */
static struct fw_point middle_of(const struct fw_plan_field *field)
{
    const size_t *ring = field->rings.vertices;
    const size_t count = field->rings.ring_start[1];
    const struct fw_point first = fw_plan__at(field, ring[0]);
    double x = 0, y = 0, twice = 0;
    for (size_t i = 0; i + 1 < count; i++) {
        const struct fw_point a =
            fw_point_minus(fw_plan__at(field, ring[i]), first);
        const struct fw_point b =
            fw_point_minus(fw_plan__at(field, ring[i + 1]), first);
        const double cross = fw_point_cross(a, b);
        x += cross * (a.x_m + b.x_m);
        y += cross * (a.y_m + b.y_m);
        twice += cross;
    }
    const double thirds = FW_FORMULA(3) * twice;
    return (struct fw_point){first.x_m + x / thirds, first.y_m + y / thirds};
}

struct places {
    struct fw_placing_place *items;
    size_t count;
};

struct work {
    const struct fw_plan *plan;
    struct fw_plan__days days;
    struct places candidates;
    bool *touches; /* by candidate and cell: it lies in it, or at its edge */
    bool *serves;  /* by stay and candidate */
};

/* ---- candidates: what is there, and the ends of fences ---- */

static void add(struct places *all, const struct fw_plan *plan,
                struct fw_placing_place place)
{
    const struct fw_plan_field *field = &plan->fields[place.field];
    for (size_t i = 0; i < all->count; i++)
        if (all->items[i].field == place.field &&
            fw_point_apart_m(all->items[i].at, place.at) < same_m)
            return;
    if (field->gate.given)
        place.gate_m = fw_point_apart_m(field->gate.plane, place.at);
    all->items[all->count++] = place;
}

static bool has_water(const struct fw_plan *plan, size_t field)
{
    for (size_t i = 0; i < plan->water_count; i++)
        if (plan->waters[i].field == field &&
            strcmp(plan->waters[i].kind_of, "fixed") == 0)
            return true;
    return false;
}

static enum fw_status find_candidates(struct work *work, struct fw_error *err)
{
    const struct fw_plan *plan = work->plan;
    struct places *all = &work->candidates;
    all->items =
        fw_alloc(FW_PARTS(3) * plan->field_count + 2 * plan->fence_count,
                 sizeof *all->items);
    if (!all->items)
        return fw_fail_memory(err);
    for (size_t i = 0; i < plan->field_count; i++) {
        const struct fw_plan_field *field = &plan->fields[i];
        if (field->water.given)
            add(all, plan,
                (struct fw_placing_place){.field = i,
                                          .at = field->water.plane,
                                          .fence = FW_NONE,
                                          .is_water = has_water(plan, i)});
        if (field->gate.given)
            add(all, plan,
                (struct fw_placing_place){
                    .field = i, .at = field->gate.plane, .fence = FW_NONE});
        if (field->rings.ring_count > 0)
            add(all, plan,
                (struct fw_placing_place){.field = i,
                                          .at = middle_of(field),
                                          .fence = FW_NONE,
                                          .middle = true});
    }
    for (size_t i = 0; i < plan->fence_count; i++) {
        const struct fw_plan_fence *fence = &plan->fences[i];
        const struct fw_plan_field *field = &plan->fields[fence->field];
        if (fence->role == FW_FENCE_PERIMETER)
            continue;
        for (int end = 0; end < 2; end++)
            add(all, plan,
                (struct fw_placing_place){
                    .field = fence->field,
                    .at = fw_plan__at(
                        field, fence->line[end ? fence->line_count - 1 : 0]),
                    .fence = i,
                    .end_b = end > 0});
    }
    return FW_OK;
}

/* ---- which ground a place is at ---- */

struct rings {
    const struct fw_point *points;
    const size_t *start;
    size_t count;
};

static struct rings rings_of(const struct fw_land *land, size_t cell)
{
    const struct fw_cell *at = &land->cells[cell];
    return (struct rings){land->ring_points, land->ring_start + at->first_ring,
                          at->ring_count};
}

static bool is_at(struct rings rings, struct fw_point place)
{
    return fw_plan__rings_have(rings.points, rings.start, rings.count, place,
                               FW_TROUGH_REACH_M);
}

static enum fw_status find_ground(struct work *work, struct fw_error *err)
{
    const struct fw_land *land = &work->days.land;
    const struct places *all = &work->candidates;
    work->touches =
        fw_alloc(all->count * land->cell_count, sizeof *work->touches);
    if (!work->touches)
        return fw_fail_memory(err);
    for (size_t i = 0; i < all->count; i++) {
        const struct fw_placing_place *place = &all->items[i];
        const size_t cells = fw_land_cell_count(land, place->field);
        for (size_t k = 0; k < cells; k++) {
            const size_t cell = fw_land_cell(land, place->field, k);
            work->touches[i * land->cell_count + cell] =
                is_at(rings_of(land, cell), place->at);
        }
    }
    return FW_OK;
}

/* A place serves a stay when it is at ground that the flock has then. */
static void look_at_stay(struct work *work, size_t stay)
{
    const size_t cell_count = work->days.land.cell_count;
    size_t count;
    const size_t *cells = fw_replay_ground(&work->days.replay, &count);
    const size_t field = work->days.replay.field;
    for (size_t i = 0; i < work->candidates.count; i++) {
        struct fw_placing_place *place = &work->candidates.items[i];
        bool serves = false;
        for (size_t k = 0; place->field == field && k < count && !serves; k++)
            serves = work->touches[i * cell_count + cells[k]];
        work->serves[stay * work->candidates.count + i] = serves;
        place->serves += serves;
    }
}

static enum fw_status look_at_stays(struct work *work, struct fw_error *err)
{
    const struct fw_time *time = &work->plan->time;
    work->serves = fw_alloc(time->stay_count * work->candidates.count,
                            sizeof *work->serves);
    if (!work->serves)
        return fw_fail_memory(err);
    for (size_t i = 0; i < time->move_count; i++)
        if (time->moves[i].stay != FW_NONE) {
            fw_replay_to_move(&work->days.replay, i);
            look_at_stay(work, time->moves[i].stay);
        }
    return FW_OK;
}

/* ---- those that serve most ---- */

static int by_use(const void *left, const void *right)
{
    const struct fw_placing_place *const *a = left, *const *b = right;
    if ((*a)->is_water != (*b)->is_water)
        return (*a)->is_water ? -1 : 1;
    if (((*a)->fence == FW_NONE) != ((*b)->fence == FW_NONE))
        return (*a)->fence == FW_NONE ? -1 : 1;
    if ((*a)->serves != (*b)->serves)
        return (*a)->serves > (*b)->serves ? -1 : 1;
    return *a < *b ? -1 : *a > *b;
}

static enum fw_status fill(const struct work *work,
                           struct fw_placing_place *const *used,
                           struct fw_placing *out, struct fw_error *err)
{
    const struct fw_time *time = &work->plan->time;
    const size_t cells = out->stay_count * out->place_count;
    out->mean_m = fw_alloc(cells, sizeof *out->mean_m);
    out->longest_m = fw_alloc(cells, sizeof *out->longest_m);
    out->walked = fw_alloc(cells, sizeof *out->walked);
    out->days = fw_alloc(out->stay_count, sizeof *out->days);
    if (!out->mean_m || !out->longest_m || !out->walked || !out->days)
        return fw_fail_memory(err);
    for (size_t s = 0; s < out->stay_count; s++) {
        const struct fw_nights nights = fw_time_nights(time, s);
        const struct rings rings =
            rings_of(&work->days.land, time->stays[s].cell);
        out->days[s] = nights.to - nights.from;
        for (size_t p = 0; p < out->place_count; p++) {
            const size_t at = s * out->place_count + p;
            const size_t i = (size_t)(used[p] - work->candidates.items);
            out->mean_m[at] = out->longest_m[at] = HUGE_VAL;
            if (!work->serves[s * work->candidates.count + i])
                continue;
            struct fw_walk_sums straight;
            fw_walk_straight(rings.points, rings.start, rings.count,
                             used[p]->at, &straight);
            out->mean_m[at] = straight.mean_m;
            out->longest_m[at] = straight.most_m;
        }
    }
    return FW_OK;
}

static enum fw_status keep_used(const struct work *work, struct fw_placing *out,
                                struct fw_error *err)
{
    const struct places *all = &work->candidates;
    struct fw_placing_place **used = fw_alloc(all->count, sizeof *used);
    if (!used)
        return fw_fail_memory(err);
    size_t count = 0;
    for (size_t i = 0; i < all->count; i++)
        if (all->items[i].serves > 0)
            used[count++] = &all->items[i];
    if (count > 0)
        qsort(used, count, sizeof *used, by_use);
    out->place_count = count < FW_PLACING_MOST ? count : FW_PLACING_MOST;
    out->stay_count = work->plan->time.stay_count;
    for (size_t i = 0; i < out->place_count; i++)
        out->places[i] = *used[i];
    const enum fw_status status = fill(work, used, out, err);
    fw_free(used);
    return status;
}

enum fw_status fw_placing_make(const struct fw_plan *plan,
                               struct fw_placing *out, struct fw_error *err)
{
    struct work work = {.plan = plan};
    *out = (struct fw_placing){0};
    enum fw_status status = fw_plan__days_init(&work.days, plan, err);
    if (status)
        return status;
    status = find_candidates(&work, err);
    if (!status)
        status = find_ground(&work, err);
    if (!status)
        status = look_at_stays(&work, err);
    if (!status)
        status = keep_used(&work, out, err);
    fw_plan__days_release(&work.days);
    fw_free(work.candidates.items);
    fw_free(work.touches);
    fw_free(work.serves);
    if (status)
        fw_placing_release(out);
    return status;
}

void fw_placing_release(struct fw_placing *placing)
{
    fw_free(placing->mean_m);
    fw_free(placing->longest_m);
    fw_free(placing->walked);
    fw_free(placing->days);
    *placing = (struct fw_placing){0};
}

/* ---- the ways that are walked ---- */

static enum fw_status walk_stay(struct fw_plan__walk *walk,
                                struct fw_replay *replay, size_t at,
                                size_t place, struct fw_placing *placing,
                                struct fw_error *err)
{
    struct fw_walk_sums sums;
    const enum fw_status status = fw_plan__walk_to(
        walk, replay, replay->cell, placing->places[place].at, &sums, err);
    if (status)
        return status;
    placing->walked[at] = true;
    if (sums.known) {
        placing->mean_m[at] = sums.mean_m;
        placing->longest_m[at] = sums.most_m;
    }
    return FW_OK;
}

/* Over all stays, one after the other: what is found on one day holds on while
 * the ground grows. */
static enum fw_status walk_place(struct fw_plan__walk *walk,
                                 struct fw_plan__days *days, const bool *wanted,
                                 size_t place, struct fw_placing *placing,
                                 struct fw_error *err)
{
    const struct fw_time *time = &days->plan->time;
    enum fw_status status = fw_plan__days_again(days, err);
    for (size_t m = 0; !status && m < time->move_count; m++) {
        const size_t stay = time->moves[m].stay;
        const size_t at = stay * placing->place_count + place;
        if (stay == FW_NONE || !wanted[at] || placing->walked[at])
            continue;
        fw_replay_to_move(&days->replay, m);
        status = walk_stay(walk, &days->replay, at, place, placing, err);
    }
    return status;
}

static bool is_wanted(const struct fw_placing *placing, const bool *wanted,
                      size_t place)
{
    for (size_t s = 0; s < placing->stay_count; s++) {
        const size_t at = s * placing->place_count + place;
        if (wanted[at] && !placing->walked[at])
            return true;
    }
    return false;
}

enum fw_status fw_placing_walk(const struct fw_plan *plan, const bool *wanted,
                               struct fw_placing *placing, struct fw_error *err)
{
    struct fw_plan__days days;
    struct fw_plan__walk walk = {0};
    enum fw_status status = fw_plan__days_init(&days, plan, err);
    if (status)
        return status;
    for (size_t p = 0; !status && p < placing->place_count; p++)
        if (is_wanted(placing, wanted, p))
            status = walk_place(&walk, &days, wanted, p, placing, err);
    fw_plan__walk_release(&walk);
    fw_plan__days_release(&days);
    return status;
}
