/* What each paddock of a field must hold, from the pattern of stays. */
#include "base/alloc.h"
#include "base/array.h"
#include "base/fail.h"
#include "choice/job.h"
#include "figures/forage.h"
#include "figures/mark.h"
#include "figures/plan.h"
#include "figures/say.h"
#include <foldwright/date.h>

#include <math.h>

/* More moves than this in one field is a wrong figure, not a plan. */
static const size_t most_paddocks = FW_BOUND(5000);

void fw_plan__targets_release(struct fw_plan_targets *targets)
{
    fw_free(targets->target);
    fw_free(targets->days);
    fw_free(targets->usable_kg_ha);
    for (size_t i = 0; targets->day && i < targets->count; i++)
        fw_herbage_free((struct fw_herbage *)targets->day[i].ground);
    fw_free(targets->day);
    *targets = (struct fw_plan_targets){0};
}

static enum fw_status too_many(const struct fw_plan_job *job, size_t field,
                               struct fw_error *err)
{
    const struct fw_field *shape = fw_plan__grazed(&job->farm->fields[field]);
    char area[FW_SAID];
    return fw_fail(err, FW_EPLAN,
                   "%s: %s would make over %zu paddocks; expected fewer: "
                   "look at the head count, the weight and the grass",
                   shape->name,
                   fw_say_area(shape->area_m2 / 1e4, job->farm->units, area),
                   most_paddocks);
}

enum fw_status fw_plan__too_late(const struct fw_plan_job *job, size_t field,
                                 struct fw_error *err)
{
    char start[FW_DATE_TEXT], last[FW_DATE_TEXT];
    return fw_fail(err, FW_EINPUT,
                   "%s: the plan starts on %s and would go on beyond %s, the "
                   "last day that is known here; start it earlier",
                   fw_plan__grazed(&job->farm->fields[field])->name,
                   fw_date_write(job->farm->start_day, start),
                   fw_date_write(FW_LAST_DAY, last));
}

enum fw_status fw_plan__name_away(const struct fw_plan_job *job, int days,
                                  struct fw_error *err)
{
    const struct fw_stay *stay = &job->farm->stay;
    const int end = job->day + days;
    for (size_t i = 0; err && i < stay->away_count; i++) {
        const int from = stay->away[2 * i], to = stay->away[2 * i + 1];
        char first[FW_DATE_TEXT], last[FW_DATE_TEXT];
        if (to <= job->day || from >= end || days <= 1)
            continue;
        const struct fw_error said = *err;
        return fw_fail(err, said.status,
                       "%s. Nobody moves it from %s to %s (away), so that it "
                       "must stay %d days: find somebody to move it, or take "
                       "a greater field",
                       said.text, fw_date_write(from, first),
                       fw_date_write(to, last), days);
    }
    return FW_EPLAN;
}

int fw_plan__stay_days(const struct fw_plan_job *job, size_t field, int day,
                       int least)
{
    const struct fw_farm *farm = job->farm;
    const int every = least > 0 ? least : job->every_days[field];
    struct fw_stay stay = farm->stay;
    for (int k = 0; every > 0 && k < FW_PARTS(7); k++)
        if (least == 0 || stay.days[k] > 0)
            stay.days[k] = every;
    int days = fw_forage_stay_from(&stay, day);
    /* While the ewes lamb and the flock is held, nobody moves it. */
    if (farm->lambing.given && farm->lambing.way == FW_LAMBING_HOLD &&
        day <= farm->lambing.to && day + days > farm->lambing.from)
        while (day + days <= farm->lambing.to)
            days += fw_forage_stay_from(&stay, day + days);
    return days;
}

/* The field's list of targets while it grows. */
struct targeting {
    struct fw_plan__grass grass;
    const struct fw_herbage *ground; /* of the first day; NULL: it is even */
    const struct fw_field *shape;
    double holds; /* m2, or kg on the first day */
    bool changes;
    struct fw_plan_targets targets;
    size_t room[FW_PARTS(4)];
};

static enum fw_status make_room(struct targeting *targeting,
                                struct fw_error *err)
{
    struct fw_plan_targets *to = &targeting->targets;
    const size_t count = to->count + 1;
    size_t *room = targeting->room;
    if (to->count >= most_paddocks)
        return too_many(targeting->grass.job, targeting->grass.field, err);
    enum fw_status status =
        fw_array_reserve(&to->target, room++, count, sizeof *to->target, err);
    if (!status)
        status =
            fw_array_reserve(&to->days, room++, count, sizeof *to->days, err);
    if (!status)
        status = fw_array_reserve(&to->usable_kg_ha, room++, count,
                                  sizeof *to->usable_kg_ha, err);
    if (!status && targeting->ground && targeting->changes)
        status =
            fw_array_reserve(&to->day, room++, count, sizeof *to->day, err);
    return status;
}

/* Of even ground an area; else of the first day's ground as much as has what is
 * wanted on the day, were it spread alike. */
static enum fw_status find_target(struct targeting *targeting, double demand_kg,
                                  struct fw_error *err)
{
    struct fw_plan_targets *to = &targeting->targets;
    const size_t k = to->count;
    if (!targeting->ground) {
        const enum fw_status status =
            fw_plan__grass_usable(&targeting->grass, &to->usable_kg_ha[k], err);
        to->target[k] = demand_kg / (to->usable_kg_ha[k] / 1e4);
        return status;
    }
    double kg = targeting->holds;
    if (targeting->changes) {
        struct fw_herbage *ground = NULL;
        enum fw_status status =
            fw_plan__grass_ground(&targeting->grass, &ground, err);
        if (!status)
            kg = fw_herbage_field_kg(ground, targeting->shape);
        to->day[k] = (struct fw_layout_day){ground, demand_kg};
        if (status) {
            fw_herbage_free(ground);
            return status;
        }
    }
    if (!(kg > 0))
        return fw_plan__grass_gone(&targeting->grass, err);
    to->usable_kg_ha[k] = kg / targeting->shape->area_m2 * 1e4;
    to->target[k] = demand_kg * targeting->holds / kg;
    return FW_OK;
}

/* One more stay, from that day on. */
static enum fw_status add_target(struct targeting *targeting, int day,
                                 struct fw_error *err)
{
    const struct fw_plan_job *job = targeting->grass.job;
    const size_t field = targeting->grass.field;
    enum fw_status status = make_room(targeting, err);
    if (status)
        return status;
    const int days = fw_plan__stay_days(job, field, day, 0);
    if (day + days > FW_LAST_DAY)
        return fw_plan__too_late(job, field, err);
    status = fw_plan__grass_pass(&targeting->grass, day, err);
    if (!status)
        status =
            find_target(targeting, job->plan->flock.demand_kg_day * days, err);
    if (status)
        return status;
    targeting->targets.days[targeting->targets.count++] = days;
    return FW_OK;
}

enum fw_status fw_plan__targets(const struct fw_plan_job *job, size_t field,
                                struct fw_plan_targets *out,
                                struct fw_error *err)
{
    struct targeting targeting = {
        .ground = fw_plan__ground(job, field),
        .shape = fw_plan__grazed(&job->farm->fields[field]),
        .changes = fw_plan__grass_changes(job, field),
    };
    targeting.holds = targeting.ground ? fw_herbage_field_kg(targeting.ground,
                                                             targeting.shape)
                                       : targeting.shape->area_m2;
    enum fw_status status =
        fw_plan__grass_of(job, field, &targeting.grass, err);
    double sum = 0;
    /* Where they are settled later, more of them may find room. */
    const double enough =
        targeting.holds *
        (targeting.ground && targeting.changes ? FW_EFFORT(2) : 1);
    for (int day = job->day; !status && sum <= enough;) {
        status = add_target(&targeting, day, err);
        if (status && sum > targeting.holds) {
            status = FW_OK;
            break;
        }
        if (status)
            break;
        day += targeting.targets.days[targeting.targets.count - 1];
        sum += targeting.targets.target[targeting.targets.count - 1];
    }
    fw_plan__grass_release(&targeting.grass);
    targeting.targets.holds = targeting.holds;
    if (status)
        fw_plan__targets_release(&targeting.targets);
    else
        *out = targeting.targets;
    return status;
}

struct fw_time_stay fw_plan__stay_of(const struct fw_plan_job *job, size_t cell,
                                     int days, double fed_days, int *day)
{
    const struct fw_time_stay stay = {
        .cell = cell,
        .enter = *day,
        .leave = *day + days,
        .target_kg = job->plan->flock.demand_kg_day * fed_days,
        .left_kg = (double)NAN,
    };
    *day = stay.leave;
    return stay;
}

/* The last one may hold less than its stay: the flock moves on when the feed is
 * gone, on the next day on which it can. */
struct fw_time_stay fw_plan__stay(const struct fw_plan_job *job, size_t field,
                                  const struct fw_layout *layout,
                                  const struct fw_plan_targets *targets,
                                  size_t k, size_t cell, int *day)
{
    const bool short_last = k + 1 == layout->paddock_count && !layout->even &&
                            layout->last_share < 1;
    const double fed_days =
        targets->days[k] * (short_last ? layout->last_share : 1);
    const int whole =
        fed_days > 1 ? (int)ceil(fed_days - FW_STAY_UNMISSED_DAYS) : 1;
    const int days = short_last ? fw_plan__stay_days(job, field, *day, whole)
                                : targets->days[k];
    return fw_plan__stay_of(job, cell, days, fed_days, day);
}
