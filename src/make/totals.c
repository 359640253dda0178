/* What is summed over the whole plan: kit, work, power, the list to buy. */
#include "around/around.h"
#include "base/alloc.h"
#include "base/array.h"
#include "base/fail.h"
#include "base/text.h"
#include "choice/job.h"
#include "figures/mark.h"
#include "figures/plan.h"
#include "figures/say.h"
#include "haul/haul.h"
#include "live/live.h"
#include "make/kept.h"
#include "make/parts.h"

#include "walk/walk.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

static void sum_fences(struct fw_plan *plan)
{
    struct fw_plan_totals *totals = &plan->totals;
    for (size_t i = 0; i < plan->fence_count; i++) {
        const struct fw_plan_fence *fence = &plan->fences[i];
        if (fence->role == FW_FENCE_PERIMETER || !fw_plan_is_set(plan, i))
            continue;
        totals->fence_m += fence->length_m;
        if (fence->role == FW_FENCE_MOVED)
            totals->moved_wire_m += fence->wire_m;
        else
            totals->standing_wire_m += fence->wire_m;
    }
    for (size_t i = 0; i < plan->field_count; i++)
        totals->fence_bound_m += plan->fields[i].fence_bound_m;
}

/* The most posts that one step sets. */
static int most_posts(const struct fw_plan *plan)
{
    const struct fw_time *time = &plan->time;
    int most = 0;
    for (size_t i = 0; i < time->step_count; i++) {
        const struct fw_step *step = &time->steps[i];
        int posts = 0;
        for (size_t k = 0; step->kind == FW_STEP_SET && k < step->lines.count;
             k++)
            posts += plan->fences[time->items[step->lines.first + k]].posts;
        most = posts > most ? posts : most;
    }
    return most;
}

static struct fw_kit lack_of(const struct fw_kit *need,
                             const struct fw_kit *own)
{
    return (struct fw_kit){
        .reels = need->reels > own->reels ? need->reels - own->reels : 0,
        .posts = need->posts > own->posts ? need->posts - own->posts : 0,
        .wire_m = fmax(0, need->wire_m - own->wire_m),
    };
}

/* The last move, which clears the last field, is one of them. */
static void sum_work(const struct fw_plan_job *job)
{
    struct fw_plan_totals *totals = &job->plan->totals;
    const struct fw_time_sums *sums = &job->sums;
    const double moves = (double)job->plan->time.move_count;
    const int armful = job->farm->rates.posts_an_armful;
    totals->kit = (struct fw_kit){sums->reels, sums->posts, sums->wire_m};
    totals->lack_known = job->farm->kit_given;
    if (totals->lack_known)
        totals->lack = lack_of(&totals->kit, &job->farm->kit);
    totals->handles = sums->joints;
    totals->carry_trips_per_move =
        armful > 0 ? (most_posts(job->plan) + armful - 1) / armful : 0;
    totals->minutes_per_move = sums->minutes / moves;
    totals->passes_per_move = sums->passes / moves;
}

/* Where it ever stands for the flock. */
static size_t places_of_water(const struct fw_plan *plan)
{
    size_t places = 0;
    for (size_t i = 0; i < plan->water_count; i++)
        places += strcmp(plan->waters[i].kind_of, "source") != 0;
    return places;
}

/* Mean over the ground, and over what they eat and when; and the longest. Not
 * known when one paddock's is not. */
static void sum_walk(struct fw_plan *plan)
{
    struct fw_plan_totals *totals = &plan->totals;
    double area = 0, sum = 0, days = 0, fed = 0;
    const size_t count = fw_plan_first_stays(plan);
    totals->walk_known = count > 0;
    for (size_t i = 0; i < count; i++) {
        const struct fw_plan_paddock *paddock =
            &plan->paddocks[plan->time.stays[i].cell];
        totals->walk_known &= paddock->walk_known;
        area += paddock->area_ha;
        sum += paddock->area_ha * paddock->walk_mean_m;
        days += paddock->stay_days;
        fed += paddock->stay_days * paddock->walk_fed_m;
        totals->walk_max_m = fmax(totals->walk_max_m, paddock->walk_max_m);
    }
    totals->walk_mean_m = sum / area;
    totals->walk_fed_m = days > 0 ? fed / days : totals->walk_mean_m;
    totals->walk_bound_m = fw_walk_bound_m(1e4 * area, places_of_water(plan));
    if (!totals->walk_known) {
        totals->walk_bound_m = 0;
        totals->walk_mean_m = 0;
        totals->walk_fed_m = 0;
        totals->walk_max_m = 0;
    }
}

static bool any_coat(const struct fw_plan *plan, enum fw_coat coat)
{
    for (size_t i = 0; i < plan->class_count; i++)
        if (plan->classes[i].coat == coat)
            return true;
    return false;
}

/* All that may be live at once: the boundary unless it is said not to be, and
 * the moved lines. One energizer feeds one field at a time. */
static enum fw_status size_power(struct fw_plan_job *job, double moved_m,
                                 struct fw_error *err)
{
    struct fw_plan *plan = job->plan;
    double boundary_m = 0;
    for (size_t i = 0; i < plan->field_count; i++) {
        const struct fw_plan_field *field = &plan->fields[i];
        double hot_m = 0;
        for (size_t k = 0; k < field->fence_count; k++) {
            const struct fw_plan_fence *fence =
                &plan->fences[field->first_fence + k];
            if (fence->role == FW_FENCE_PERIMETER && fence->side != FW_NONE &&
                field->sides[fence->side].hot != FW_NO)
                hot_m += fence->length_m;
        }
        boundary_m = fmax(boundary_m, hot_m);
    }
    const bool woolled =
        any_coat(plan, FW_WOOL) || any_coat(plan, FW_COAT_UNTOLD);
    const enum fw_status status = fw_power_size(
        boundary_m + moved_m, job->farm->joule_rule, job->farm->energizer_j,
        woolled, plan->dry_soil, plan->wiring.moves || boundary_m <= 0,
        &plan->energizer, err);
    if (status)
        return status;
    return fw_plan__power(job, err);
}

static struct fw_material *new_material(struct fw_plan *plan,
                                        struct fw_error *err)
{
    if (fw_array_reserve(&plan->materials, &plan->material_capacity,
                         plan->material_count + 1, sizeof *plan->materials,
                         err))
        return NULL;
    return &plan->materials[plan->material_count++];
}

static enum fw_status add_power_rows(const struct fw_plan_job *job,
                                     struct fw_error *err)
{
    const struct fw_plan *plan = job->plan;
    struct fw_material *row = new_material(job->plan, err);
    if (!row)
        return FW_ENOMEM;
    *row = fw_plan__energizer_row(&plan->energizer, &job->farm->prices);
    row = new_material(job->plan, err);
    if (!row)
        return FW_ENOMEM;
    *row = fw_plan__rod_row(&plan->energizer, plan->units, &job->farm->prices);
    return FW_OK;
}

/* A boundary of one live wire has none that could be the earth. */
static enum fw_status add_earth_wire_row(const struct fw_plan_job *job,
                                         struct fw_error *err)
{
    const struct fw_plan *plan = job->plan;
    double hot_m = 0;
    for (size_t i = 0; i < plan->fence_count; i++)
        if (fw_plan__is_hot(plan, &plan->fences[i]))
            hot_m += plan->fences[i].length_m;
    if (!plan->power.earth_return || plan->wiring.perimeter_strands > 1 ||
        !(hot_m > 0))
        return FW_OK;
    struct fw_material *row = new_material(job->plan, err);
    if (!row)
        return FW_ENOMEM;
    *row = fw_fence_material(FW_WARE_PERIMETER_WIRE, hot_m, &job->farm->prices);
    snprintf(row->item, sizeof row->item,
             "earth wire beside the live boundary");
    snprintf(row->note, sizeof row->note,
             "earth-return: from the rods along the boundary, on insulators, "
             "for the earth strand of each line to be hooked on to");
    return FW_OK;
}

static enum fw_status add_sign_row(const struct fw_plan_job *job,
                                   struct fw_error *err)
{
    int signs = 0;
    const enum fw_status status = fw_plan__most_signs(job, &signs, err);
    if (status || signs == 0)
        return status;
    struct fw_material *row = new_material(job->plan, err);
    if (!row)
        return FW_ENOMEM;
    *row = fw_fence_material(FW_WARE_SIGN, signs, &job->farm->prices);
    fw_say_words("warning sign, {>10 by 20 cm}, yellow", job->plan->units,
                 row->item, sizeof row->item);
    snprintf(row->note, sizeof row->note,
             "most that hang at once; IEC 60335-2-76 Annex BB.1 as reprinted "
             "in makers' handbooks");
    return FW_OK;
}

static enum fw_status add_anchor_row(const struct fw_plan_job *job,
                                     struct fw_error *err)
{
    struct fw_plan *plan = job->plan;
    const enum fw_status status =
        fw_plan__most_ties(job, &plan->totals.ties, err);
    if (status || plan->totals.ties == 0)
        return status;
    struct fw_material *row = new_material(plan, err);
    if (!row)
        return FW_ENOMEM;
    *row = fw_fence_material(FW_WARE_ANCHOR, plan->totals.ties,
                             &job->farm->prices);
    snprintf(row->item, sizeof row->item, "anchor for a line's end");
    snprintf(
        row->note, sizeof row->note,
        "most ends at once that no other line holds; a post of the "
        "perimeter within reach does as well (common practice, no source)");
    return FW_OK;
}

/* A line that is opened in mid-run has a handle there from the day it is set.
 */
static enum fw_status add_handle_row(const struct fw_plan_job *job,
                                     struct fw_error *err)
{
    if (job->plan->totals.handles == 0)
        return FW_OK;
    struct fw_material *row = new_material(job->plan, err);
    if (!row)
        return FW_ENOMEM;
    *row = fw_fence_material(FW_WARE_HANDLE, job->plan->totals.handles,
                             &job->farm->prices);
    snprintf(row->item, sizeof row->item, "insulated gate handle");
    snprintf(
        row->note, sizeof row->note,
        "one a strand where a line is opened in mid-run, the most at once");
    return FW_OK;
}

/* Troughs under lines that stand at once: two where one is set as the other is
 * drunk down. */
static int most_under_lines(const struct fw_plan *plan)
{
    const struct fw_plan_water *last = NULL;
    int most = 0;
    for (size_t i = 0; i < plan->water_count; i++) {
        const struct fw_plan_water *water = &plan->waters[i];
        if (water->fence == FW_NONE)
            continue;
        if (most == 0 || (last && last->to == water->from))
            most++;
        if (most == 2)
            break;
        last = water;
    }
    return most;
}

static enum fw_status add_sleeve_row(const struct fw_plan_job *job,
                                     struct fw_error *err)
{
    struct fw_plan *plan = job->plan;
    const int troughs = most_under_lines(plan);
    if (troughs == 0)
        return FW_OK;
    struct fw_material *row = new_material(plan, err);
    if (!row)
        return FW_ENOMEM;
    *row = fw_fence_material(FW_WARE_SLEEVE, troughs * plan->moved.strands,
                             &job->farm->prices);
    char length[FW_SAID];
    snprintf(row->item, sizeof row->item, "insulating sleeve, %s",
             fw_say_wanted(FW_TROUGH_SLEEVE_M, plan->units, FW_UP, length));
    snprintf(row->note, sizeof row->note,
             "one a strand over a trough under a line, the most at once");
    return FW_OK;
}

static enum fw_status list_materials(const struct fw_plan_job *job,
                                     struct fw_error *err)
{
    struct fw_plan *plan = job->plan;
    enum { most = FW_EFFORT(16) };
    enum fw_status status =
        fw_array_reserve(&plan->materials, &plan->material_capacity, most,
                         sizeof *plan->materials, err);
    if (status)
        return status;
    if (plan->totals.kit.wire_m > 0)
        status = fw_fence_kit_list(&plan->totals.kit, &plan->moved,
                                   &job->farm->prices, plan->materials, most,
                                   &plan->material_count, err);
    if (!status)
        status = add_handle_row(job, err);
    if (!status)
        status = add_sleeve_row(job, err);
    if (!status)
        status = add_anchor_row(job, err);
    if (!status)
        status = add_power_rows(job, err);
    if (!status)
        status = add_earth_wire_row(job, err);
    if (!status)
        status = add_sign_row(job, err);
    if (status)
        return status;
    fw_fence_settle(plan->materials, plan->material_count, &job->farm->owned);
    plan->totals.cost_known = true;
    for (size_t i = 0; i < plan->material_count; i++) {
        const struct fw_material *row = &plan->materials[i];
        if (row->price < 0)
            plan->totals.cost_known = false;
        else
            plan->totals.cost += fw_fence_bought(row, false) * row->price;
    }
    if (!plan->totals.cost_known)
        plan->totals.cost = 0;
    return FW_OK;
}

static unsigned concerns_of_flock(const struct fw_plan *plan)
{
    unsigned concerns = 0;
    for (size_t i = 0; i < plan->class_count; i++) {
        const struct fw_flock_class *sheep = &plan->classes[i];
        if (sheep->trained != FW_YES)
            concerns |= FW_CONCERN_UNTRAINED;
        if (sheep->coat == FW_SHORN)
            concerns |= FW_CONCERN_SHORN;
        if (sheep->state == FW_LATE_GESTATION)
            concerns |= FW_CONCERN_LATE_GESTATION;
    }
    if (fw_flock_milks(plan->classes, plan->class_count))
        concerns |= FW_CONCERN_LACTATION;
    if (fw_flock_lambs(plan->classes, plan->class_count))
        concerns |= FW_CONCERN_LAMBS;
    return concerns;
}

/* Ewes in milk or near lambing are past tupping; lambs and rams have none. */
static bool may_be_near_tupping(const struct fw_plan *plan)
{
    for (size_t i = 0; i < plan->class_count; i++)
        switch (plan->classes[i].state) {
        case FW_LATE_GESTATION:
        case FW_LACTATION_SINGLE:
        case FW_LACTATION_TWINS:
        case FW_LAMB_AT_FOOT:
        case FW_WEANED_LAMB:
        case FW_RAM:
            break;
        default:
            return true;
        }
    return false;
}

/* By the dates of lambing when they are told, else by the classes. */
static unsigned concerns_of_tupping(const struct fw_plan_job *job)
{
    const struct fw_plan *plan = job->plan;
    int from, to;
    const bool near = fw_plan__near_tupping(job->farm, &from, &to)
                          ? plan->start_day < to && plan->end_day > from
                          : may_be_near_tupping(plan);
    return near ? FW_CONCERN_TUPPING : 0;
}

/* Where only a mass is told, or the sward is mixed, nobody has said what grows
 * there. */
static unsigned concerns_of_sward(const struct fw_farm *farm)
{
    static const char *const without[] = {"bluegrass-clover", "ryegrass-clover",
                                          "orchardgrass-legume",
                                          "timothy-legume"};
    for (size_t i = 0; i < farm->field_count; i++) {
        bool known = false;
        for (size_t k = 0; k < sizeof without / sizeof *without; k++)
            known |= strcmp(farm->fields[i].sward.name, without[k]) == 0;
        if (!known)
            return FW_CONCERN_FESCUE;
    }
    return 0;
}

/* Spring is March to May, or September to November south of the equator. */
static unsigned concerns_of_season(const struct fw_plan *plan)
{
    const double lat = plan->fields[0].plane.centre.lat_deg;
    unsigned concerns = 0;
    for (int day = plan->start_day; day < plan->end_day; day++) {
        const int month = fw_date_month(day);
        concerns |=
            fw_forage_is_warm(day, lat) ? FW_CONCERN_HEAT : FW_CONCERN_COLD;
        const int first =
            FW_SPRING_MONTH + (lat >= 0 ? 0 : 2 * FW_SEASON_MONTHS);
        if (month >= first && month < first + FW_SEASON_MONTHS)
            concerns |= FW_CONCERN_SPRING;
    }
    return concerns;
}

static void find_concerns(const struct fw_plan_job *job)
{
    struct fw_plan *plan = job->plan;
    plan->concerns = concerns_of_flock(plan) | concerns_of_season(plan) |
                     concerns_of_tupping(job) | concerns_of_sward(job->farm);
    if (plan->legume < 0 || plan->legume >= FW_LEGUME_SHARE)
        plan->concerns |= FW_CONCERN_LEGUME;
    if (plan->dry_soil)
        plan->concerns |= FW_CONCERN_DRY_SOIL;
    for (size_t i = 0; i < plan->field_count; i++)
        if (plan->fields[i].rings.ring_count > 1)
            plan->concerns |= FW_CONCERN_POND;
    for (size_t i = 0; i < job->farm->feature_count; i++) {
        const enum fw_role role = job->farm->features[i].role;
        if (role == FW_ROLE_POWER_LINE)
            plan->concerns |= FW_CONCERN_POWER_LINE;
        if (role == FW_ROLE_ROAD || role == FW_ROLE_PATH)
            plan->concerns |= FW_CONCERN_ROAD;
        if (role == FW_ROLE_POND)
            plan->concerns |= FW_CONCERN_POND;
        if (role == FW_ROLE_WATERCOURSE)
            plan->concerns |= FW_CONCERN_WATERCOURSE;
    }
}

enum fw_status fw_plan__totals(struct fw_plan_job *job, struct fw_error *err)
{
    struct fw_plan *plan = job->plan;
    plan->totals.paddocks = (int)fw_plan_first_stays(plan);
    sum_fences(plan);
    sum_work(job);
    sum_walk(plan);
    find_concerns(job);
    enum fw_status status = size_power(job, job->sums.line_m, err);
    if (!status)
        status = fw_plan__trips(job->plan, err);
    plan->totals.energizer_j = plan->energizer.joules;
    plan->totals.earth_rods = plan->energizer.rods;
    if (!status)
        status = list_materials(job, err);
    return status;
}
