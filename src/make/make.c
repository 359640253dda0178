/* One plan from one farm. Each part is in a file of its own; here stands the
 * order in which they are called. */
#include "anew/anew.h"
#include "around/around.h"
#include "around/nights.h"
#include "base/alloc.h"
#include "base/array.h"
#include "base/fail.h"
#include "base/progress.h"
#include "figures/mark.h"
#include "haul/haul.h"
#include "make/kept.h"
#include "make/parts.h"

#include "make/make.h"

#include <string.h>

static enum fw_status keep(char **to, const char *text, struct fw_error *err)
{
    *to = fw_strdup(text ? text : "");
    return *to ? FW_OK : fw_fail_memory(err);
}

/* The fields' own system, or WGS 84 when they come in several. */
static const char *crs_of(const struct fw_farm *farm)
{
    for (size_t i = 1; i < farm->field_count; i++)
        if (strcmp(farm->fields[i].crs, farm->fields[0].crs) != 0)
            return "OGC:CRS84";
    return farm->fields[0].crs;
}

static enum fw_status take_farm(struct fw_plan *plan,
                                const struct fw_farm *farm,
                                struct fw_error *err)
{
    plan->units = farm->units;
    plan->start_day = farm->start_day;
    plan->ahead_day = FW_NO_DAY;
    plan->season = farm->season;
    plan->lambing_day = farm->lambing.given ? farm->lambing.from : FW_NO_DAY;
    plan->field_order = farm->field_order;
    plan->back_fence = farm->back_fence;
    plan->pace_m = farm->pace_m;
    plan->tank_l = farm->tank_l;
    plan->hauling = farm->hauling;
    plan->weather = farm->weather;
    plan->dry_soil = farm->dry_soil;
    plan->moved = farm->moved;
    plan->wiring =
        farm->wiring.moved_ohm_m > 0 ? farm->wiring : fw_farm_wiring_default();
    plan->prices = (struct fw_plan_prices){
        farm->prices.earth_rod, farm->prices.joule, farm->prices.lead_m,
        farm->prices.copper_wire_m};
    memcpy(plan->currency, farm->prices.currency, sizeof plan->currency);
    plan->legume = farm->fields[0].sward.legume;
    for (size_t i = 1; i < farm->field_count; i++)
        if (farm->fields[i].sward.legume > plan->legume)
            plan->legume = farm->fields[i].sward.legume;
    plan->classes = fw_alloc(farm->class_count, sizeof *plan->classes);
    plan->defaults = fw_alloc(farm->default_count, sizeof *plan->defaults);
    if (!plan->classes || !plan->defaults)
        return fw_fail_memory(err);
    if (farm->class_count)
        memcpy(plan->classes, farm->classes,
               farm->class_count * sizeof *plan->classes);
    plan->class_count = farm->class_count;
    if (farm->default_count)
        memcpy(plan->defaults, farm->defaults,
               farm->default_count * sizeof *plan->defaults);
    plan->default_count = plan->default_capacity = farm->default_count;
    enum fw_status status = keep(&plan->farm_name, farm->name, err);
    if (!status)
        status = keep(&plan->crs, crs_of(farm), err);
    if (!status)
        status = fw_told_copy(&plan->told, &farm->told, err);
    return status ? status : fw_inputs_copy(&plan->inputs, &farm->inputs, err);
}

static enum fw_status sum_flock(struct fw_plan *plan, struct fw_error *err)
{
    enum fw_status status =
        fw_flock_sum(plan->classes, plan->class_count, &plan->flock, err);
    if (status)
        return status;
    struct fw_intake intake;
    status = fw_flock_intake(&plan->classes[0], &intake, err);
    if (!status)
        status = keep(&plan->intake_source, intake.source, err);
    if (!status)
        status = keep(&plan->water_source, plan->flock.water_source, err);
    return status;
}

static enum fw_status measure_grass(struct fw_plan_job *job,
                                    struct fw_error *err)
{
    const struct fw_farm *farm = job->farm;
    enum fw_status status = FW_OK;
    for (size_t i = 0; !status && i < farm->field_count; i++)
        status = fw_plan__measure_grass(job, i, err);
    if (status)
        return status;
    status = keep(&job->plan->use_source, job->usable[0].use_source, err);
    if (!status && job->usable[0].density_source)
        status = keep(&job->plan->density_source, job->usable[0].density_source,
                      err);
    return status;
}

static enum fw_status open_crs(struct fw_plan_job *job, struct fw_error *err)
{
    const struct fw_farm *farm = job->farm;
    enum fw_status status = FW_OK;
    for (size_t i = 0; !status && i < farm->field_count; i++)
        status = farm->world->lend(farm->fields[i].crs, &job->crs[i], err);
    return status;
}

static void close_crs(struct fw_plan_job *job)
{
    for (size_t i = 0; job->crs && i < job->farm->field_count; i++)
        job->farm->world->give_back(job->crs[i]);
    fw_free(job->crs);
}

/* A field's ground. */
static enum fw_status plan_field(struct fw_plan_job *job, size_t field,
                                 struct fw_error *err)
{
    if (job->on)
        return fw_plan__gone_on(job, field, err);
    if (job->farm->fields[field].front.named)
        return fw_plan__given(job, field, err);
    const enum fw_status status = fw_plan__field(job, field, err);
    return status ? status : fw_plan__perimeter(job, field, err);
}

/* Is only ground wanted, and when it is grazed? */
static bool is_brief(const struct fw_plan_job *job)
{
    return job->on && job->on->brief;
}

/* What is told of a field when its moves are settled. */
static enum fw_status tell_field(struct fw_plan_job *job, size_t field,
                                 struct fw_error *err)
{
    const bool brief = is_brief(job);
    enum fw_status status = brief ? FW_OK : fw_plan__water(job, field, err);
    if (!status)
        status = fw_plan__pace_ends(job, field, err);
    if (status)
        return status;
    fw_plan__pace_shares(job->plan, field);
    if (brief)
        return FW_OK;
    status = fw_plan__obstacles(job, field, err);
    return status ? status : fw_plan__hard_going(job, field, err);
}

/* A lifetime of moves is a wrong head count. */
static enum fw_status check_all(const struct fw_plan *plan,
                                struct fw_error *err)
{
    const size_t most = FW_BOUND(30000);
    if (plan->paddock_count <= most)
        return FW_OK;
    return fw_fail(err, FW_EPLAN,
                   "%s and the fields before it would make over %zu paddocks; "
                   "expected fewer: look at the head count, the weight and the "
                   "grass, or plan fewer fields at once",
                   plan->fields[plan->field_count - 1].name, most);
}

/* One field after the other: the next begins when that one is grazed. */
static enum fw_status cut_fields(struct fw_plan_job *job, struct fw_error *err)
{
    const size_t count = job->farm->field_count;
    enum fw_status status = FW_OK;
    fw_progress_begin("cutting the fields");
    for (size_t i = 0; !status && i < count; i++) {
        const struct fw_progress whole = fw_progress_enter(i, count);
        status = plan_field(job, i, err);
        if (!status && !is_brief(job))
            status = fw_plan__ahead(job, i, err);
        fw_progress_leave(whole);
        if (status)
            return status;
        fw_plan__grown(job, i);
        status = check_all(job->plan, err);
    }
    return status;
}

static enum fw_status tell_fields(struct fw_plan_job *job, struct fw_error *err)
{
    const size_t count = job->farm->field_count;
    enum fw_status status = FW_OK;
    fw_progress_begin("looking at each paddock");
    for (size_t i = 0; !status && i < count; i++) {
        const struct fw_progress whole = fw_progress_enter(i, count);
        status = tell_field(job, i, err);
        fw_progress_leave(whole);
    }
    return status;
}

static enum fw_status plan_fields(struct fw_plan_job *job, struct fw_error *err)
{
    struct fw_plan *plan = job->plan;
    enum fw_status status = cut_fields(job, err);
    if (!status && (!is_brief(job) || job->on->rounds))
        status = fw_plan__rounds(job, err);
    plan->end_day = job->day;
    if (!status && job->on && job->on->base)
        status = fw_plan__season(job, err);
    if (!status && plan->end_day > FW_LAST_DAY)
        return fw_plan__too_late(job, 0, err);
    if (!status && job->stay_count == 0)
        return fw_fail(err, FW_EPLAN, "%s%s%s", plan->fields[0].name, ": ",
                       plan->fields[0].no_plan);
    if (!status && job->farm->energizer.given)
        status = fw_plan__place(job, 0, job->farm->energizer.point,
                                &plan->energizer_place, err);
    if (!status)
        status = fw_plan__schedule(job, err);
    if (!status) {
        fw_plan__settle_defaults(job);
        status = is_brief(job) ? FW_OK : fw_plan__narrow(job, err);
    }
    if (!status)
        status = fw_plan__mark_set(plan, err);
    if (!status && !is_brief(job))
        status = fw_plan__share_troughs(job, err);
    if (!status)
        status = tell_fields(job, err);
    if (!status)
        status = fw_plan__grounds(job, err);
    return status ? status : fw_plan__walks(job, err);
}

/* What every field's layout depends on. */
static enum fw_status prepare(struct fw_plan_job *job, struct fw_error *err)
{
    struct fw_plan *plan = job->plan;
    enum fw_status status = take_farm(plan, job->farm, err);
    if (!status)
        status = open_crs(job, err);
    if (!status)
        status = sum_flock(plan, err);
    if (!status)
        status = fw_plan__drink(plan, err);
    if (!status)
        status = measure_grass(job, err);
    job->day = job->farm->start_day;
    return status;
}

static enum fw_status make(struct fw_plan_job *job, struct fw_error *err)
{
    enum fw_status status = prepare(job, err);
    if (!status)
        status = plan_fields(job, err);
    if (status || is_brief(job))
        return status;
    fw_progress_begin("adding up fence and volts");
    if (!status)
        status = fw_plan__note_lanes(job, err);
    if (!status)
        status = fw_plan__posts(job, err);
    if (!status)
        status = fw_plan__findings(job, err);
    if (!status)
        status = fw_plan__totals(job, err);
    if (!status)
        status = fw_plan__loaded(job, err);
    if (!status)
        status = fw_plan__trough_shade(job, err);
    if (!status)
        status = fw_plan__kept(job, err);
    if (!status)
        status = fw_plan__unchecked(job, err);
    if (!status)
        status = fw_plan__cautions(job, err);
    if (!status)
        status = fw_plan__untold(job, err);
    if (!status)
        status = fw_plan__order_notes(job, err);
    return status ? status : fw_plan__note_far_water(job->plan, err);
}

/* Begin a job; the caller ends it whatever comes of it. */
static enum fw_status begin(const struct fw_farm *farm, struct fw_plan_job *job,
                            struct fw_error *err)
{
    if (farm->field_count == 0 || farm->class_count == 0 ||
        farm->start_day == FW_NO_DAY)
        return fw_fail(err, FW_EINPUT,
                       "a plan needs a field, a flock and a first day");
    *job = (struct fw_plan_job){
        .farm = farm,
        .plan = fw_alloc(1, sizeof *job->plan),
        .told_day = farm->start_day,
        .crs = fw_alloc(farm->field_count, sizeof *job->crs),
        .usable = fw_alloc(farm->field_count, sizeof *job->usable),
        .every_days = fw_alloc(farm->field_count, sizeof *job->every_days),
        .edge_feeds = fw_alloc(farm->field_count, sizeof *job->edge_feeds),
    };
    return job->plan && job->crs && job->usable && job->every_days &&
                   job->edge_feeds
               ? FW_OK
               : fw_fail_memory(err);
}

/* The plan itself is left. */
static void end(struct fw_plan_job *job)
{
    if (job->farm)
        close_crs(job);
    for (size_t i = 0; job->edge_feeds && i < job->farm->field_count; i++)
        fw_free(job->edge_feeds[i]);
    fw_free(job->edge_feeds);
    fw_plan__obstacles_release(job);
    fw_land_release(&job->land);
    fw_plan__nights_release(job);
    fw_plan_start_release(&job->start);
    fw_free(job->open);
    fw_free(job->works);
    fw_free(job->led);
    fw_free(job->wet);
    fw_free(job->shared);
    fw_free(job->stays);
    fw_free(job->shapes);
    fw_free(job->usable);
    fw_free(job->every_days);
}

enum fw_status fw_plan_make(const struct fw_farm *farm, struct fw_plan **out,
                            struct fw_error *err)
{
    if (!farm || !out)
        return fw_fail_null(err, "a farm, or where its plan goes,");
    struct fw_plan_job job = {0};
    enum fw_status status = begin(farm, &job, err);
    if (!status)
        status = make(&job, err);
    end(&job);
    if (status)
        fw_plan_free(job.plan);
    else
        *out = job.plan;
    return status;
}

enum fw_status fw_plan_go_on(const struct fw_farm *farm,
                             const struct fw_plan_on *on, struct fw_plan **out,
                             struct fw_error *err)
{
    struct fw_plan_job job = {0};
    struct fw_farm now = *farm;
    now.start_day = on->missed ? fw_plan__anew_day(farm, on->day) : on->day;
    now.earlier = NULL;
    const struct fw_time *time = &on->from->time;
    enum fw_status status = fw_plan__anew_fields(farm, on->from, err);
    if (!status && !on->base && on->move != FW_NONE &&
        on->move + 2 >= time->move_count)
        status = fw_fail(err, FW_EPLAN, "nothing is left of the plan to graze");
    fw_plan__anew_rates(&now, on->minutes_share);
    if (!status)
        status = fw_plan__anew_flock(&now, on, err);
    if (status)
        return status;
    status = begin(&now, &job, err);
    job.on = on;
    job.told_day = farm->start_day;
    if (!status)
        status = make(&job, err);
    end(&job);
    fw_free(now.classes);
    if (status)
        fw_plan_free(job.plan);
    else
        *out = job.plan;
    return status;
}

/* Where feed differs from day to day and from place to place, the plan's layout
 * leads, which was settled on with these targets. */
static void mark_settled(struct fw_plan_score *items, size_t count,
                         const struct fw_plan__chosen *chosen)
{
    for (size_t i = 0; chosen->targets.day && i < count; i++)
        items[i].chosen = strcmp(items[i].layout, chosen->layout.name) == 0;
}

/* One field's candidates, for the stays that its plan would have, and on to the
 * day on which the next is entered. */
static enum fw_status field_scores(struct fw_plan_job *job, size_t field,
                                   struct fw_plan_scores *scores,
                                   struct fw_error *err)
{
    struct fw_plan__chosen chosen = {0};
    struct fw_plan_score *items = NULL;
    size_t count = 0;
    enum fw_status status = fw_plan__obstacles(job, field, err);
    if (!status)
        status = fw_plan__edge_feeds(job, field, err);
    if (!status)
        status = fw_plan__lay_out(job, field, &chosen, err);
    if (!status)
        status =
            fw_plan__scores(job, field, &chosen.targets, &items, &count, err);
    if (!status)
        status = fw_array_reserve(&scores->items, &scores->capacity,
                                  scores->count + count, sizeof *items, err);
    if (!status) {
        mark_settled(items, count, &chosen);
        memcpy(scores->items + scores->count, items, count * sizeof *items);
        scores->count += count;
        for (size_t i = 0; i < chosen.layout.paddock_count; i++)
            fw_plan__stay(job, field, &chosen.layout, &chosen.targets, i, i,
                          &job->day);
    }
    fw_free(items);
    fw_plan__chosen_release(&chosen);
    return status;
}

static enum fw_status add_scores(struct fw_plan_job *job, size_t field,
                                 struct fw_plan_scores *scores,
                                 struct fw_error *err)
{
    const char *name = job->farm->fields[field].shape->name;
    struct fw_error why = {0};
    const enum fw_status status = field_scores(job, field, scores, &why);
    if (status == FW_EPLAN)
        return fw_notes_add(&scores->unplanned, FW_LEVEL_WARNING, name, err,
                            "%s", fw_plan__reason(&why, name));
    if (status && err)
        *err = why;
    return status;
}

enum fw_status fw_plan_compare(const struct fw_farm *farm,
                               struct fw_plan_scores *out, struct fw_error *err)
{
    struct fw_plan_job job = {0};
    struct fw_plan_scores scores = {0};
    enum fw_status status = begin(farm, &job, err);
    if (!status)
        status = prepare(&job, err);
    for (size_t i = 0; !status && i < farm->field_count; i++)
        if (farm->fields[i].front.named)
            status = fw_fail(err, FW_EPLAN,
                             "%s: it goes on from %s on the ground of the plan "
                             "made before, so that there is nothing to choose; "
                             "leave out front to compare layouts of the whole "
                             "field, or tell the front as places",
                             farm->fields[i].shape->name,
                             farm->fields[i].front.text);
    fw_progress_begin("cutting the fields");
    for (size_t i = 0; !status && i < farm->field_count; i++) {
        const struct fw_progress whole =
            fw_progress_enter(i, farm->field_count);
        status = add_scores(&job, i, &scores, err);
        fw_progress_leave(whole);
    }
    const struct fw_note *why = scores.unplanned.items;
    if (!status && scores.count == 0 && why)
        status = fw_fail(err, FW_EPLAN, "%s: %s", why->where, why->text);
    end(&job);
    fw_plan_free(job.plan);
    if (status)
        fw_plan_scores_release(&scores);
    else
        *out = scores;
    return status;
}

void fw_plan_scores_release(struct fw_plan_scores *scores)
{
    fw_free(scores->items);
    fw_notes_release(&scores->unplanned);
    *scores = (struct fw_plan_scores){0};
}
