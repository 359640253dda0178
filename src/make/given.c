/* The ground of a plan made before, taken as it is: boundary, paddocks, lanes
 * and lines keep their places and their names. What depends on flock, grass and
 * kit is reckoned anew. */
#include "base/alloc.h"
#include "base/array.h"
#include "base/fail.h"
#include "choice/limits.h"
#include "figures/forage.h"
#include "make/parts.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* From one plan's field to the other's. */
struct giving {
    struct fw_plan_job *job;
    const struct fw_plan *from;
    const struct fw_plan_field *of;    /* there */
    size_t index;                      /* of the field here */
    size_t first_paddock, first_fence; /* here */
    size_t grazed;                     /* of its paddocks */
    size_t taken; /* of its paddocks there the one that comes after those,
                     before the others; FW_NONE: they keep their order */
};

/* In the order of grazing: from there to here, and back. */
static size_t place_here(const struct giving *giving, size_t there)
{
    if (giving->taken == FW_NONE)
        return there;
    if (there == giving->taken)
        return giving->grazed;
    return there + (there >= giving->grazed && there < giving->taken);
}

static size_t place_there(const struct giving *giving, size_t here)
{
    if (giving->taken == FW_NONE)
        return here;
    if (here == giving->grazed)
        return giving->taken;
    return here - (here > giving->grazed && here <= giving->taken);
}

static enum fw_status copy_list(void *to, const void *from, size_t count,
                                size_t size, struct fw_error *err)
{
    void *list = fw_alloc(count, size);
    if (!list)
        return fw_fail_memory(err);
    if (count > 0)
        memcpy(list, from, count * size);
    memcpy(to, &list, sizeof list);
    return FW_OK;
}

static enum fw_status copy_rings(const struct fw_plan_rings *from,
                                 struct fw_plan_rings *to, struct fw_error *err)
{
    enum fw_status status =
        copy_list(&to->vertices, from->vertices,
                  from->ring_start[from->ring_count], sizeof(size_t), err);
    if (!status)
        status = copy_list(&to->ring_start, from->ring_start,
                           from->ring_count + 1, sizeof(size_t), err);
    if (!status)
        status = copy_list(&to->piece_ring, from->piece_ring,
                           from->piece_count + 1, sizeof(size_t), err);
    if (status)
        return status;
    to->ring_count = from->ring_count;
    to->piece_count = from->piece_count;
    return FW_OK;
}

/* ---- the field ---- */

/* The map may have come in another system since. */
static enum fw_status take_vertices(const struct giving *giving,
                                    struct fw_plan_field *field,
                                    struct fw_error *err)
{
    const size_t count = giving->of->vertex_count;
    enum fw_status status = copy_list(&field->vertices, giving->of->vertices,
                                      count, sizeof *field->vertices, err);
    field->vertex_count = status ? 0 : count;
    if (status ||
        strcmp(giving->of->crs ? giving->of->crs : "", field->crs) == 0)
        return status;
    for (size_t i = 0; !status && i < count; i++)
        status = giving->job->farm->world->from_lonlat(
            giving->job->crs[giving->index], &field->vertices[i].lonlat,
            &field->vertices[i].file, 1, err);
    return status;
}

/* What stands on a side is told anew; where it is the edge of what is taken off
 * or a front, it has no number. */
static void take_sides(const struct giving *giving, struct fw_plan_field *field)
{
    const struct fw_farm_field *told =
        &giving->job->farm->fields[giving->index];
    for (size_t i = 0; i < field->corner_count; i++) {
        const size_t number = fw_plan_side_number(giving->of, i);
        field->sides[i] = giving->of->sides[i];
        if (told->sides && number > 0 && number <= told->shape->corner_count)
            field->sides[i] = told->sides[number - 1];
    }
}

static enum fw_status take_corners(const struct giving *giving,
                                   struct fw_plan_field *field,
                                   struct fw_error *err)
{
    const struct fw_plan_field *of = giving->of;
    enum fw_status status = copy_list(&field->corners, of->corners,
                                      of->corner_count, sizeof(size_t), err);
    if (!status)
        status = copy_list(&field->sides, of->sides, of->corner_count,
                           sizeof *field->sides, err);
    if (!status)
        status = copy_list(&field->corner_numbers, of->corner_numbers,
                           of->corner_number_count, sizeof(size_t), err);
    if (!status)
        status = copy_list(&field->side_numbers, of->side_numbers,
                           of->side_number_count, sizeof(size_t), err);
    if (status)
        return status;
    field->corner_count = of->corner_count;
    field->corner_number_count = of->corner_number_count;
    field->side_number_count = of->side_number_count;
    take_sides(giving, field);
    return FW_OK;
}

static enum fw_status take_field(const struct giving *giving,
                                 struct fw_error *err)
{
    struct fw_plan *plan = giving->job->plan;
    const struct fw_farm_field *told =
        &giving->job->farm->fields[giving->index];
    const struct fw_usable *usable = &giving->job->usable[giving->index];
    const struct fw_plan_field *of = giving->of;
    enum fw_status status =
        fw_array_reserve(&plan->fields, &plan->field_capacity,
                         plan->field_count + 1, sizeof *plan->fields, err);
    if (status)
        return status;
    struct fw_plan_field *field = &plan->fields[plan->field_count++];
    *field = (struct fw_plan_field){
        .name = fw_strdup(told->shape->name),
        .source = fw_strdup(told->source ? told->source : ""),
        .crs = fw_strdup(told->crs),
        .crs_accuracy_m = told->crs_accuracy_m,
        .plane = of->plane,
        .hole_holds = told->hole_holds,
        .area_ha = of->area_ha,
        .plane_m2 = of->plane_m2,
        .perimeter_m = of->perimeter_m,
        .usable_kg_ha = usable->usable_kg_ha,
        .mass_kg_ha = usable->mass_kg_ha,
        .residual_kg_ha = usable->residual_kg_ha,
        .use = usable->use,
        .use_of = usable->use_of,
        .far_first = of->far_first,
        .direction_deg = of->direction_deg,
        .first_paddock = giving->first_paddock,
        .first_fence = giving->first_fence,
    };
    fw_forage_heights(&told->sward, usable, &field->grass_m, &field->left_m);
    memcpy(field->layout, of->layout, sizeof field->layout);
    memcpy(field->pattern, of->pattern, sizeof field->pattern);
    if (!field->name || !field->source || !field->crs)
        return fw_fail_memory(err);
    status = fw_origin_copy(&told->origin, &field->origin, err);
    if (!status)
        status = take_vertices(giving, field, err);
    if (!status)
        status = take_corners(giving, field, err);
    if (!status)
        status = copy_rings(&of->rings, &field->rings, err);
    return status ? status
                  : fw_plan__take_spots(giving->job, giving->index, err);
}

/* ---- paddocks and lanes ---- */

/* A grazed one holds nothing; what the others hold follows with their days. */
static enum fw_status take_paddock(const struct giving *giving, size_t k,
                                   struct fw_error *err)
{
    struct fw_plan *plan = giving->job->plan;
    const struct fw_plan_paddock *of =
        &giving->from
             ->paddocks[giving->of->first_paddock + place_there(giving, k)];
    struct fw_plan_paddock *paddock = &plan->paddocks[plan->paddock_count++];
    *paddock = (struct fw_plan_paddock){
        .field = giving->index,
        .seq = (int)plan->paddock_count,
        .area_ha = of->area_ha,
        .plane_m2 = of->plane_m2,
        .perimeter_m = of->perimeter_m,
        .elongation = of->elongation,
        .pieces = of->pieces,
        .water = FW_NONE,
    };
    memcpy(paddock->id, of->id, sizeof paddock->id);
    memcpy(paddock->block, of->block, sizeof paddock->block);
    memcpy(paddock->keep, of->keep, sizeof paddock->keep);
    const enum fw_status status = copy_rings(&of->rings, &paddock->rings, err);
    if (status || k < giving->grazed)
        return status;
    paddock->head_per_ha = plan->flock.head / paddock->area_ha;
    paddock->liveweight_kg_ha = plan->flock.liveweight_kg / paddock->area_ha;
    plan->fields[giving->index].grazed_ha += paddock->area_ha;
    return FW_OK;
}

/* The limits on their shapes were told when they were laid out. */
static enum fw_status take_paddocks(const struct giving *giving,
                                    struct fw_error *err)
{
    struct fw_plan_job *job = giving->job;
    struct fw_plan *plan = job->plan;
    const size_t count = giving->of->paddock_count;
    enum fw_status status = fw_array_reserve(
        &plan->paddocks, &plan->paddock_capacity, plan->paddock_count + count,
        sizeof *plan->paddocks, err);
    if (!status)
        status = fw_array_reserve(&job->shapes, &job->shape_capacity,
                                  job->shape_count + count, sizeof *job->shapes,
                                  err);
    for (size_t k = 0; !status && k < count; k++) {
        job->shapes[job->shape_count++] =
            (struct fw_plan__shape){.width_m = HUGE_VAL, .longer = 1};
        status = take_paddock(giving, k, err);
        plan->fields[giving->index].paddock_count++;
    }
    return status;
}

static enum fw_status take_lanes(const struct giving *giving,
                                 struct fw_error *err)
{
    const struct fw_plan *from = giving->from;
    struct fw_plan *plan = giving->job->plan;
    const size_t there = (size_t)(giving->of - from->fields);
    enum fw_status status = FW_OK;
    for (size_t i = 0; !status && i < from->lane_count; i++) {
        if (from->lanes[i].field != there)
            continue;
        status =
            fw_array_reserve(&plan->lanes, &plan->lane_capacity,
                             plan->lane_count + 1, sizeof *plan->lanes, err);
        if (status)
            break;
        struct fw_plan_lane *lane = &plan->lanes[plan->lane_count++];
        *lane = from->lanes[i];
        lane->field = giving->index;
        lane->rings = (struct fw_plan_rings){0};
        status = copy_rings(&from->lanes[i].rings, &lane->rings, err);
    }
    return status;
}

/* ---- lines ---- */

static size_t rebased(const struct giving *giving, size_t paddock)
{
    return paddock == FW_NONE
               ? FW_NONE
               : place_here(giving, paddock - giving->of->first_paddock) +
                     giving->first_paddock;
}

/* One that is taken before its turn has its lines earlier, and the others on
 * their far side. */
static void settle_order(const struct giving *giving,
                         const struct fw_plan_fence *of,
                         struct fw_plan_fence *fence)
{
    if (giving->taken == FW_NONE || of->role == FW_FENCE_PERIMETER)
        return;
    const size_t there = giving->of->first_paddock + giving->taken;
    const size_t here = giving->first_paddock + giving->grazed;
    size_t from = fence->from, to = fence->to;
    fence->rank = place_here(giving, of->rank);
    if (fw_plan_bounds(giving->from, (size_t)(of - giving->from->fences),
                       there)) {
        from = from < here ? from : here;
        to = to > here ? to : here;
        if (fence->rank > giving->grazed)
            fence->rank = giving->grazed;
    }
    fence->from = from < to ? from : to;
    fence->to = from < to ? to : from;
}

static enum fw_status take_fence(const struct giving *giving, size_t k,
                                 struct fw_error *err)
{
    struct fw_plan *plan = giving->job->plan;
    const struct fw_plan_fence *of =
        &giving->from->fences[giving->of->first_fence + k];
    struct fw_plan_fence *fence = &plan->fences[plan->fence_count];
    *fence = (struct fw_plan_fence){
        .field = giving->index,
        .role = of->role,
        .from = rebased(giving, of->from),
        .to = rebased(giving, of->to),
        .rank = of->rank,
        .side = of->side,
        .length_m = of->length_m,
        .ground_m = of->ground_m,
        .bearing_deg = of->bearing_deg,
    };
    memcpy(fence->id, of->id, sizeof fence->id);
    settle_order(giving, of, fence);
    const enum fw_status status =
        copy_list(&fence->line, of->line, of->line_count, sizeof(size_t), err);
    if (status)
        return status;
    fence->line_count = of->line_count;
    plan->fence_count++;
    plan->fields[giving->index].fence_count++;
    return fence->role == FW_FENCE_PERIMETER
               ? FW_OK
               : fw_plan__count_parts(giving->job, fence, err);
}

static enum fw_status take_fences(const struct giving *giving,
                                  struct fw_error *err)
{
    struct fw_plan *plan = giving->job->plan;
    const size_t count = giving->of->fence_count;
    enum fw_status status =
        fw_array_reserve(&plan->fences, &plan->fence_capacity,
                         plan->fence_count + count, sizeof *plan->fences, err);
    for (size_t k = 0; !status && k < count; k++)
        status = take_fence(giving, k, err);
    return status;
}

/* ---- all of it ---- */

static enum fw_status note_layout(const struct giving *giving,
                                  struct fw_error *err)
{
    const struct fw_farm *farm = giving->job->farm;
    if (!farm->layout)
        return FW_OK;
    return fw_notes_add(&giving->job->plan->notes, FW_LEVEL_NOTE,
                        farm->fields[giving->index].shape->name, err,
                        "layout: %.40s is not looked at here: the ground is "
                        "that of the plan made before, %s",
                        farm->layout, giving->of->layout);
}

/* Where no stay is told, the share that they eat is that of the stays which the
 * paddocks were made for. */
static enum fw_status settle_grass(const struct giving *giving,
                                   struct fw_error *err)
{
    const struct fw_plan *from = giving->from;
    const size_t there = (size_t)(giving->of - from->fields);
    const struct fw_list stays = fw_plan_stays_of(from, there);
    struct fw_plan_job *job = giving->job;
    int seen[FW_STAY_DAYS_MOST + 1] = {0}, best = 1;
    if (job->farm->stay_told)
        return FW_OK;
    for (size_t i = stays.first; i < stays.first + stays.count; i++) {
        const struct fw_nights nights = fw_time_nights(&from->time, i);
        const int days = nights.to - nights.from;
        seen[days < FW_STAY_DAYS_MOST ? days : FW_STAY_DAYS_MOST]++;
    }
    for (int days = 2; days <= FW_STAY_DAYS_MOST; days++)
        best = seen[days] > seen[best] ? days : best;
    job->every_days[giving->index] = best > 1 ? best : 0;
    return fw_plan__measure_grass(job, giving->index, err);
}

static enum fw_status take_ground(const struct giving *giving,
                                  struct fw_error *err)
{
    enum fw_status status = settle_grass(giving, err);
    if (!status)
        status = take_field(giving, err);
    if (!status)
        status = take_paddocks(giving, err);
    if (!status)
        status = take_lanes(giving, err);
    if (!status) /* the posts of fences are counted with them */
        status = fw_plan__obstacles(giving->job, giving->index, err);
    return status ? status : take_fences(giving, err);
}

/* ---- what is done of a plan that is gone on from ---- */

/* What stays true of a field that is done, or cannot be planned. */
static enum fw_status take_words(const struct giving *giving,
                                 struct fw_error *err)
{
    struct fw_plan_field *field = &giving->job->plan->fields[giving->index];
    const struct fw_plan_field *of = giving->of;
    field->fence_bound_m = of->fence_bound_m;
    field->last_share = of->last_share;
    field->left_kg = of->left_kg;
    if (of->part_of)
        field->part_of = fw_strdup(of->part_of);
    if (of->no_plan)
        field->no_plan = fw_strdup(of->no_plan);
    return (of->part_of && !field->part_of) || (of->no_plan && !field->no_plan)
               ? fw_fail_memory(err)
               : FW_OK;
}

/* The paddock there that they are in; FW_NONE: they are outside. */
static size_t present(const struct fw_plan_on *on)
{
    return on->move == FW_NONE ? fw_plan_move_from(on->from, 0)
                               : fw_plan_move_to(on->from, on->move);
}

/* How things stand is told with the field that they are in, or came out of. */
static bool is_state_of(const struct fw_plan_on *on, size_t index)
{
    const size_t paddock = present(on);
    return on->move != FW_NONE ? on->from->time.moves[on->move].field == index
                               : paddock != FW_NONE &&
                                     on->from->paddocks[paddock].field == index;
}

/* Of a field's paddocks the one that is taken before its turn; FW_NONE: none of
 * them. */
static size_t taken_in(const struct fw_plan_on *on, size_t index)
{
    const struct fw_plan_field *field = &on->from->fields[index];
    for (size_t k = 0; on->taken[0] && k < field->paddock_count; k++)
        if (strcmp(on->from->paddocks[field->first_paddock + k].id,
                   on->taken) == 0)
            return k;
    return FW_NONE;
}

/* The paddock that they are in holds what it was reckoned to: what is left of
 * it is looked at when they leave. */
static void take_feed(const struct giving *giving)
{
    const size_t here = present(giving->job->on);
    if (here == FW_NONE || giving->from->paddocks[here].field != giving->index)
        return;
    const struct fw_plan_paddock *of = &giving->from->paddocks[here];
    struct fw_plan_paddock *paddock =
        &giving->job->plan->paddocks[rebased(giving, here)];
    paddock->usable_kg = of->usable_kg;
    paddock->demand_kg = of->demand_kg;
    paddock->stay_days = of->stay_days;
}

enum fw_status fw_plan__gone_on(struct fw_plan_job *job, size_t index,
                                struct fw_error *err)
{
    const struct fw_plan *from = job->on->from;
    const struct giving giving = {
        .job = job,
        .from = from,
        .of = &from->fields[index],
        .index = index,
        .first_paddock = job->plan->paddock_count,
        .first_fence = job->plan->fence_count,
        .grazed = fw_plan__done_in(job->on, index),
        .taken = taken_in(job->on, index),
    };
    enum fw_status status = take_ground(&giving, err);
    if (!status)
        status = take_words(&giving, err);
    if (!status)
        take_feed(&giving);
    if (!status && is_state_of(job->on, index))
        status = fw_plan__given_start(job, index, err);
    return status ? status
                  : fw_plan__going_stays(job, index, giving.grazed, err);
}

/* ---- a front that is named ---- */

enum fw_status fw_plan__given(struct fw_plan_job *job, size_t index,
                              struct fw_error *err)
{
    const struct fw_plan *from = job->farm->earlier;
    const struct fw_plan_fence *front =
        &from->fences[job->farm->fields[index].front.fence];
    const struct giving giving = {
        .job = job,
        .from = from,
        .of = &from->fields[front->field],
        .index = index,
        .first_paddock = job->plan->paddock_count,
        .first_fence = job->plan->fence_count,
        .grazed = front->from - from->fields[front->field].first_paddock + 1,
        .taken = FW_NONE,
    };
    enum fw_status status = take_ground(&giving, err);
    if (!status)
        status = fw_plan__given_stays(job, index, giving.grazed, err);
    if (!status)
        status = fw_plan__given_start(job, index, err);
    return status ? status : note_layout(&giving, err);
}
