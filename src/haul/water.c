/* Which water each paddock has: the fixed point where the paddock reaches it,
 * else a trough that moves with the flock. */
#include "water/water.h"
#include "base/alloc.h"
#include "base/array.h"
#include "base/fail.h"
#include "base/whole.h"
#include "figures/plan.h"
#include "flock/drinks.h"
#include "geo/points.h"
#include "haul/haul.h"

#include <stdio.h>
#include <string.h>

enum fw_status fw_plan__drink(struct fw_plan *plan, struct fw_error *err)
{
    const struct fw_drink_day day =
        fw_drink_day(plan->hauling.day, plan->season == FW_SEASON_DORMANT);
    struct fw_drinks drinks = {0};
    const enum fw_status status = fw_flock_drinks_sum(
        plan->classes, plan->class_count, &day, &drinks, err);
    plan->totals.litres_day = drinks.expected_l;
    plan->totals.hot_l_day = drinks.hot_l;
    plan->totals.on_hand_l = drinks.on_hand_l;
    return status;
}

static enum fw_status new_water(struct fw_plan *plan, size_t field,
                                const char *kind_of, struct fw_plan_water **out,
                                struct fw_error *err)
{
    const enum fw_status status =
        fw_array_reserve(&plan->waters, &plan->water_capacity,
                         plan->water_count + 1, sizeof *plan->waters, err);
    if (status)
        return status;
    struct fw_plan_water *water = &plan->waters[plan->water_count++];
    *water = (struct fw_plan_water){.field = field,
                                    .litres_day = plan->totals.litres_day,
                                    .hot_l_day = plan->totals.hot_l_day,
                                    .on_hand_l = plan->totals.on_hand_l,
                                    .opening = FW_NONE,
                                    .fence = FW_NONE,
                                    .paces = -1,
                                    .bearing_deg = -1};
    snprintf(water->kind_of, sizeof water->kind_of, "%s", kind_of);
    *out = water;
    return FW_OK;
}

/* The greatest piece of a paddock: its rings, the outer one first. */
struct piece {
    struct fw_point *points;
    size_t *ring_start; /* ring_count + 1 */
    size_t ring_count;
};

static void release(struct piece *piece)
{
    fw_free(piece->points);
    fw_free(piece->ring_start);
}

static enum fw_status take_piece(const struct fw_plan_field *field,
                                 const struct fw_plan_rings *rings,
                                 struct piece *out, struct fw_error *err)
{
    const size_t first = fw_plan__greatest_ring(field, rings);
    size_t end = rings->ring_count;
    for (size_t p = 0; p < rings->piece_count; p++)
        if (rings->piece_ring[p] == first)
            end = rings->piece_ring[p + 1];
    const size_t from = rings->ring_start[first];
    const size_t count = rings->ring_start[end] - from;
    *out = (struct piece){
        .points = fw_alloc(count, sizeof *out->points),
        .ring_start = fw_alloc(end - first + 1, sizeof *out->ring_start),
        .ring_count = end - first,
    };
    if (!out->points || !out->ring_start) {
        release(out);
        return fw_fail_memory(err);
    }
    for (size_t i = 0; i < count; i++)
        out->points[i] = fw_plan__at(field, rings->vertices[from + i]);
    for (size_t r = 0; r <= out->ring_count; r++)
        out->ring_start[r] = rings->ring_start[first + r] - from;
    return FW_OK;
}

/* From where they come in the trough is seen. */
static void pace(const struct fw_plan_job *job, size_t gate,
                 struct fw_plan_water *water)
{
    const struct fw_plan_place *opening = &job->plan->gates[gate].place;
    water->opening = gate;
    water->paces =
        fw_whole(fw_point_apart_m(opening->plane, water->place.plane) /
                 job->plan->pace_m);
    water->bearing_deg =
        job->farm->world->bearing_deg(opening->lonlat, water->place.lonlat);
}

struct on_ground {
    const struct fw_plan_job *job;
    size_t field;
};

/* Where it would stand in mud, or where they lie. */
static bool is_bad(const void *of, struct fw_point at)
{
    const struct on_ground *ground = of;
    const struct fw_plan_job *job = ground->job;
    return ((job->farm->mapped & 1U << FW_ROLE_SOFT) &&
            fw_plan__on_soft_ground(job, ground->field, at)) ||
           fw_plan__at_shade(job, ground->field, at);
}

/* In winter it stands by the track that is nearest to the paddock. */
static struct fw_point vehicle_from(const struct fw_plan_job *job, size_t index,
                                    const struct piece *piece,
                                    const struct fw_plan_gate *opening)
{
    const struct fw_plan_field *field = &job->plan->fields[index];
    struct fw_point track;
    if (job->plan->season == FW_SEASON_DORMANT &&
        fw_plan__near_track(job, index, piece->points, piece->ring_start[1],
                            &track))
        return track;
    return field->gate.given    ? field->gate.plane
           : field->water.given ? field->water.plane
           : opening            ? opening->place.plane
                                : piece->points[0];
}

static enum fw_status add_trough(struct fw_plan_job *job, size_t stay,
                                 const struct piece *piece,
                                 struct fw_error *err)
{
    struct fw_plan *plan = job->plan;
    struct fw_plan_paddock *paddock =
        &plan->paddocks[plan->time.stays[stay].cell];
    const struct fw_nights nights = fw_time_nights(&plan->time, stay);
    const size_t gate = plan->time.moves[stay].opening;
    const struct fw_plan_gate *opening =
        gate == FW_NONE || !plan->gates[gate].place.given ? NULL
                                                          : &plan->gates[gate];
    const struct on_ground ground = {job, paddock->field};
    const struct fw_water_wish wish = {
        .from = vehicle_from(job, paddock->field, piece, opening),
        .opening = opening ? &opening->place.plane : NULL,
        .keep_m = FW_TROUGH_KEEP_M,
        .is_bad = is_bad,
        .of = &ground};
    const struct fw_plan__shared *under =
        job->shared && job->shared[stay].line != FW_NONE ? &job->shared[stay]
                                                         : NULL;
    struct fw_point at = under ? under->at : wish.from;
    enum fw_status status =
        under ? FW_OK
              : fw_water_place(piece->points, piece->ring_start,
                               piece->ring_count, &wish, &at, err);
    struct fw_plan_water *water;
    if (!status)
        status = new_water(plan, paddock->field, "trough", &water, err);
    if (status)
        return status;
    fw_plan__id(water->id, "trough %.20s", paddock->id);
    water->from = nights.from;
    water->to = nights.to;
    water->fence = under ? under->line : FW_NONE;
    paddock->water = plan->water_count - 1;
    status = fw_plan__place(job, paddock->field, at, &water->place, err);
    if (!status && opening)
        pace(job, gate, water);
    return status;
}

/* In a later round the trough stands where it stood. */
static bool stands_again(const struct fw_plan *plan,
                         const struct fw_plan_paddock *paddock)
{
    return paddock->water != FW_NONE &&
           strcmp(plan->waters[paddock->water].kind_of, "trough") == 0;
}

/* The trough is left where an earlier stay had it. */
static void drink_from(struct fw_plan *plan, size_t stay, size_t earlier)
{
    const struct fw_time *time = &plan->time;
    const size_t water = plan->paddocks[time->stays[earlier].cell].water;
    plan->paddocks[time->stays[stay].cell].water = water;
    plan->waters[water].to = fw_time_nights(time, stay).to;
}

/* The field's own water where they reach it over what they have that night. */
static enum fw_status serve(struct fw_plan_job *job, size_t fixed, size_t stay,
                            struct fw_error *err)
{
    struct fw_plan *plan = job->plan;
    struct fw_plan_paddock *paddock =
        &plan->paddocks[plan->time.stays[stay].cell];
    const struct fw_plan_field *field = &plan->fields[paddock->field];
    struct piece piece;
    if (stands_again(plan, paddock)) {
        plan->waters[paddock->water].to = fw_time_nights(&plan->time, stay).to;
        return FW_OK;
    }
    enum fw_status status = take_piece(field, &paddock->rings, &piece, err);
    if (status)
        return status;
    if (fixed != FW_NONE && job->wet[stay]) {
        paddock->water = fixed;
    } else if (job->shared && job->shared[stay].with != stay) {
        drink_from(plan, stay, job->shared[stay].with);
    } else if (job->farm->water_moves) {
        status = add_trough(job, stay, &piece, err);
    }
    release(&piece);
    return status;
}

/* A fixed point that no paddock reaches is only where the tank is filled. */
static enum fw_status name_fixed(struct fw_plan *plan, size_t index,
                                 size_t fixed, struct fw_error *err)
{
    const struct fw_plan_field *field = &plan->fields[index];
    struct fw_plan_water *water = &plan->waters[fixed];
    bool used = false;
    for (size_t i = 0; i < field->paddock_count; i++)
        used |= plan->paddocks[field->first_paddock + i].water == fixed;
    snprintf(water->kind_of, sizeof water->kind_of, "%s",
             used ? "fixed" : "source");
    if (used)
        return FW_OK;
    return fw_notes_add(&plan->notes, FW_LEVEL_NOTE, field->name, err,
                        "no paddock reaches the water that was told (%s), so "
                        "it counts as where the tank is filled",
                        water->id);
}

static enum fw_status add_fixed(struct fw_plan *plan, size_t index,
                                struct fw_nights nights, struct fw_error *err)
{
    struct fw_plan_water *water;
    const enum fw_status status = new_water(plan, index, "fixed", &water, err);
    if (status)
        return status;
    char letter[8];
    fw_plan__letter(plan, index, letter);
    fw_plan__id(water->id, "water %s", letter);
    water->place = plan->fields[index].water;
    water->from = nights.from;
    water->to = nights.to;
    return FW_OK;
}

enum fw_status fw_plan__water(struct fw_plan_job *job, size_t index,
                              struct fw_error *err)
{
    struct fw_plan *plan = job->plan;
    const struct fw_plan_field *field = &plan->fields[index];
    size_t fixed = FW_NONE;
    enum fw_status status = FW_OK;
    if (fw_plan_stays_of(plan, index).count == 0)
        return FW_OK;
    if (field->water.given) {
        status = add_fixed(plan, index, fw_plan_nights_of(plan, index), err);
        fixed = plan->water_count - 1;
    }
    for (size_t stay = 0; !status && stay < plan->time.stay_count; stay++)
        if (plan->paddocks[plan->time.stays[stay].cell].field == index)
            status = serve(job, fixed, stay, err);
    if (status)
        return status;
    return fixed == FW_NONE ? FW_OK : name_fixed(plan, index, fixed, err);
}
