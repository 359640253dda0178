/* Round after round: where the fields were grazed once and the farm says until
 * when, the same paddocks are grazed again, in their order, on what has grown.
 * Their lines are where they are, so that time gives way: they stay as many
 * whole days as a paddock feeds them, and one that has not rested, or has less
 * than a day's feed, waits. docs/decisions/014-rounds.md says why. */
#include "base/alloc.h"
#include "base/array.h"
#include "base/fail.h"
#include "figures/mark.h"
#include "figures/plan.h"
#include "figures/say.h"
#include "forage/rest.h"
#include "make/parts.h"

#include <math.h>

static const double rounding = FW_TOLERANCE(1e-9);

struct waiting { /* one paddock's, in the order of grazing */
    size_t cell, field;
    int left; /* the day on which they left it */
    struct fw_plan__grass grass;
};

struct rounds {
    struct fw_plan_job *job;
    struct waiting *waiting;
    size_t count;
    size_t at;                       /* where they are */
    int bridged_days, first_bridged; /* that they are fed, in all */
};

static double lat_deg(const struct rounds *rounds, const struct waiting *one)
{
    return fw_plan__grazed(&rounds->job->farm->fields[one->field])
        ->plane.centre.lat_deg;
}

static const char *name_of(const struct rounds *rounds,
                           const struct waiting *one)
{
    return rounds->job->plan->paddocks[one->cell].id;
}

/* ---- what a paddock has ---- */

/* Of longer stays they eat a lesser share. */
static enum fw_status use_of(const struct fw_plan_job *job, size_t field,
                             int days, double *share, struct fw_error *err)
{
    struct fw_usable usable;
    const enum fw_status status =
        fw_forage_measure(&job->farm->fields[field].sward, days, &usable, err);
    if (!status)
        *share = usable.use / job->usable[field].use;
    return status;
}

/* Would the next one be past its best if they stayed so long? */
static bool hurries(const struct rounds *rounds, const struct waiting *one,
                    int day)
{
    const size_t here = (size_t)(one - rounds->waiting);
    const struct waiting *next = &rounds->waiting[(here + 1) % rounds->count];
    return fw_rest_longest_share(next->left, day, lat_deg(rounds, next)) >=
           1 - rounding;
}

struct stay {
    int days;        /* 0: it is not ready */
    double eaten_of; /* of what they may take in such a stay */
};

/* The most whole days, to one on which the flock is moved: no longer than grass
 * takes to sprout or the farm's own stay, and no longer than that one where the
 * next paddock gets old. */
static enum fw_status find_days(const struct rounds *rounds,
                                const struct waiting *one, int day,
                                double holds_kg, struct stay *out,
                                struct fw_error *err)
{
    const struct fw_plan_job *job = rounds->job;
    const int left = job->farm->until_day - day;
    const int told = fw_plan__stay_days(job, one->field, day, 0);
    const int most =
        told > (int)FW_REGROWTH_DAYS ? told : (int)FW_REGROWTH_DAYS;
    *out = (struct stay){0};
    for (int least = 1; least <= most; least++) {
        int days = fw_plan__stay_days(job, one->field, day, least);
        days = days < left ? days : left;
        if (days > told && out->days > 0 &&
            hurries(rounds, one, day + out->days))
            break;
        double use;
        const enum fw_status status = use_of(job, one->field, days, &use, err);
        if (status)
            return status;
        const double share =
            job->plan->flock.demand_kg_day * days / (holds_kg * use);
        if (!(share <= 1 + rounding))
            break;
        *out = (struct stay){days, fmin(1, share)};
        least = days > least ? days : least;
    }
    return FW_OK;
}

/* How long can they stay there from today on? */
static enum fw_status look_at(const struct rounds *rounds, struct waiting *one,
                              int day, struct stay *out, struct fw_error *err)
{
    double holds_kg = 0;
    *out = (struct stay){0};
    if (fw_rest_least_share(one->left, day, lat_deg(rounds, one)) <
        1 - rounding)
        return FW_OK;
    enum fw_status status = fw_plan__grass_pass(&one->grass, day, err);
    if (!status)
        status =
            fw_plan__holds(&one->grass, &rounds->job->plan->paddocks[one->cell],
                           &holds_kg, err);
    return status ? status : find_days(rounds, one, day, holds_kg, out, err);
}

/* ---- where they go next ---- */

/* The next one of the order that is ready; FW_NONE: none is. */
static enum fw_status find_next(const struct rounds *rounds, size_t *next,
                                struct stay *stay, struct fw_error *err)
{
    enum fw_status status = FW_OK;
    *next = FW_NONE;
    for (size_t k = 1; !status && k <= rounds->count; k++) {
        const size_t i = (rounds->at + k) % rounds->count;
        status =
            look_at(rounds, &rounds->waiting[i], rounds->job->day, stay, err);
        if (!status && stay->days > 0) {
            *next = i;
            return FW_OK;
        }
    }
    return status;
}

static enum fw_status graze(struct rounds *rounds, size_t next,
                            const struct stay *stay, struct fw_error *err)
{
    struct fw_plan_job *job = rounds->job;
    struct waiting *one = &rounds->waiting[next];
    const enum fw_status status =
        fw_array_reserve(&job->stays, &job->stay_capacity, job->stay_count + 1,
                         sizeof *job->stays, err);
    if (status)
        return status;
    job->stays[job->stay_count++] =
        fw_plan__stay_of(job, one->cell, stay->days, stay->days, &job->day);
    one->left = job->day;
    rounds->at = next;
    fw_plan__grass_eaten(&one->grass, stay->eaten_of, one->left);
    return FW_OK;
}

/* ---- the first round ---- */

static enum fw_status begin_waiting(struct fw_plan_job *job, double share,
                                    int enter, struct waiting *one,
                                    struct fw_error *err)
{
    one->field = job->plan->paddocks[one->cell].field;
    enum fw_status status =
        fw_plan__grass_of(job, one->field, &one->grass, err);
    if (!status)
        status = fw_plan__grass_pass(&one->grass, enter, err);
    if (!status)
        fw_plan__grass_eaten(&one->grass, fmin(1, share), one->left);
    return status;
}

/* They leave the last one, in which they are, with the first move. */
static enum fw_status begin_over(struct fw_plan_job *job, size_t index,
                                 struct waiting *one, struct fw_error *err)
{
    const struct fw_plan_season_stay *was = &job->on->season[index];
    const bool here = index + 1 == job->on->season_count;
    enum fw_status status =
        fw_plan__was_grazed(job->plan, was->id, &one->cell, err);
    if (status)
        return status;
    const struct fw_plan_paddock *paddock = &job->plan->paddocks[one->cell];
    one->left = here ? job->plan->start_day : was->leave;
    return begin_waiting(job,
                         here ? paddock->demand_kg / paddock->usable_kg
                              : was->demand_kg / was->usable_kg,
                         was->enter, one, err);
}

static enum fw_status begin_ahead(struct fw_plan_job *job,
                                  const struct fw_time_stay *stay,
                                  struct waiting *one, struct fw_error *err)
{
    one->cell = stay->cell;
    one->left = stay->leave;
    return begin_waiting(
        job, stay->target_kg / job->plan->paddocks[stay->cell].usable_kg,
        stay->enter, one, err);
}

static enum fw_status begin(struct fw_plan_job *job, struct rounds *rounds,
                            struct fw_error *err)
{
    const size_t over = job->on ? job->on->season_count : 0;
    const size_t count = over + job->stay_count;
    enum fw_status status = FW_OK;
    *rounds = (struct rounds){
        .job = job,
        .waiting = fw_alloc(count, sizeof *rounds->waiting),
        .count = count,
        .at = count - 1,
    };
    if (!rounds->waiting)
        return fw_fail_memory(err);
    for (size_t i = 0; !status && i < over; i++)
        status = begin_over(job, i, &rounds->waiting[i], err);
    for (size_t i = 0; !status && i < job->stay_count; i++)
        status =
            begin_ahead(job, &job->stays[i], &rounds->waiting[over + i], err);
    return status;
}

static void release(struct rounds *rounds)
{
    for (size_t i = 0; rounds->waiting && i < rounds->count; i++)
        fw_plan__grass_release(&rounds->waiting[i].grass);
    fw_free(rounds->waiting);
}

/* ---- what is said ---- */

/* The first that will be ready before the plan was to end, and the day, which
 * is one to move on, as far as growth is told; NULL: none will. */
static enum fw_status find_later(struct rounds *rounds,
                                 const struct waiting **later, int *day,
                                 struct fw_error *err)
{
    const struct fw_plan_job *job = rounds->job;
    const size_t field = rounds->waiting[rounds->at].field;
    struct stay stay = {0};
    *later = NULL;
    for (*day = job->day + 1; *day < job->farm->until_day; ++*day)
        for (size_t k = 1; k <= rounds->count; k++) {
            const int days = *day - job->day;
            struct waiting *one =
                &rounds->waiting[(rounds->at + k) % rounds->count];
            struct fw_error why;
            if (fw_plan__stay_days(job, field, job->day, days) != days)
                break;
            const enum fw_status status =
                look_at(rounds, one, *day, &stay, &why);
            if (status && status != FW_EINPUT) {
                if (err)
                    *err = why;
                return status;
            }
            *later = !status && stay.days > 0 ? one : NULL;
            if (status || *later)
                return FW_OK;
        }
    return FW_OK;
}

/* They stay where they are and are fed until that day. */
static void bridge(struct rounds *rounds, int day)
{
    struct fw_plan_job *job = rounds->job;
    struct waiting *here = &rounds->waiting[rounds->at];
    const int days = day - job->day;
    if (rounds->bridged_days == 0)
        rounds->first_bridged = job->day;
    rounds->bridged_days += days;
    job->stays[job->stay_count - 1].leave = job->day = day;
    here->left = here->grass.day = day;
}

static enum fw_status say_bridged(const struct rounds *rounds,
                                  struct fw_error *err)
{
    struct fw_plan *plan = rounds->job->plan;
    char first[FW_DATE_TEXT], feed[FW_SAID];
    if (rounds->bridged_days == 0)
        return FW_OK;
    fw_say_mass(plan->flock.demand_kg_day * rounds->bridged_days, plan->units,
                feed);
    return fw_notes_add(
        &plan->notes, FW_LEVEL_WARNING,
        plan->fields[rounds->waiting[0].field].name, err,
        "on %d day%s, the first %s, no paddock has rested and has a day's "
        "feed: "
        "they stay where they are and are fed, %s of dry matter in all; or "
        "slow down before by feeding beside the grass",
        rounds->bridged_days, rounds->bridged_days == 1 ? "" : "s",
        fw_date_write(rounds->first_bridged, first), feed);
}

static enum fw_status say_end(struct rounds *rounds,
                              const struct waiting *later, int day,
                              struct fw_error *err)
{
    struct fw_plan_job *job = rounds->job;
    struct fw_plan *plan = job->plan;
    const char *name = plan->fields[rounds->waiting[rounds->at].field].name;
    char end[FW_DATE_TEXT], until[FW_DATE_TEXT], ready[FW_DATE_TEXT];
    char feed[FW_SAID];
    const int days = (later ? day : job->farm->until_day) - job->day;
    fw_date_write(job->day, end);
    fw_date_write(job->farm->until_day, until);
    fw_say_mass(plan->flock.demand_kg_day * days, plan->units, feed);
    if (later)
        return fw_notes_add(
            &plan->notes, FW_LEVEL_WARNING, name, err,
            "the plan ends on %s, not on %s: then no paddock has rested and "
            "has a day's feed; the first is %s, on %s. Feed %s of dry matter "
            "over those %d days, buy it or other grazing, or slow down before "
            "by feeding beside the grass",
            end, until, name_of(rounds, later), fw_date_write(day, ready), feed,
            days);
    return fw_notes_add(
        &plan->notes, FW_LEVEL_WARNING, name, err,
        "the plan ends on %s, not on %s: then no paddock has rested and has a "
        "day's feed, and none will by that day. Feed %s of dry matter over "
        "those %d days, buy it or other grazing, or sell sheep",
        end, until, feed, days);
}

/* A few days are bridged; grass that sprouts under them is bitten. */
static enum fw_status bridge_or_end(struct rounds *rounds, bool *ends,
                                    struct fw_error *err)
{
    const struct waiting *later;
    int day;
    const enum fw_status status = find_later(rounds, &later, &day, err);
    if (status)
        return status;
    *ends = !later || day - rounds->job->day > (int)FW_REGROWTH_DAYS;
    if (*ends)
        return say_end(rounds, later, day, err);
    bridge(rounds, day);
    return FW_OK;
}

/* NULL: they can go round. */
static const char *why_not(const struct fw_plan_job *job)
{
    bool any = false;
    for (size_t i = 0; i < job->farm->field_count; i++)
        any |= job->farm->fields[i].growth.count > 0;
    for (size_t i = 0; i < job->farm->field_count; i++)
        for (size_t k = 0; k < job->farm->fields[i].part_count; k++)
            any |= job->farm->fields[i].parts[k].growth.count > 0;
    if (!any)
        return "nobody told how the grass grows (growth: 40 kg/ha/day)";
    if (!job->farm->back_fence)
        return "without a back fence no ground rests while they are in the "
               "field (back-fence: yes)";
    return job->day >= job->farm->until_day
               ? "by then the fields are grazed but once"
               : NULL;
}

static enum fw_status say_once(struct fw_plan_job *job, const char *why,
                               struct fw_error *err)
{
    struct fw_plan *plan = job->plan;
    char until[FW_DATE_TEXT], end[FW_DATE_TEXT];
    return fw_notes_add(&plan->notes, FW_LEVEL_WARNING, plan->fields[0].name,
                        err,
                        "until: %s is not planned for, and the plan ends on "
                        "%s: %s",
                        fw_date_write(job->farm->until_day, until),
                        fw_date_write(job->day, end), why);
}

enum fw_status fw_plan__rounds(struct fw_plan_job *job, struct fw_error *err)
{
    struct rounds rounds = {0};
    if (!job->farm->until_given || job->stay_count == 0)
        return FW_OK;
    const char *why = why_not(job);
    if (why)
        return say_once(job, why, err);
    enum fw_status status = begin(job, &rounds, err);
    bool ends = false;
    while (!status && !ends && job->day < job->farm->until_day) {
        struct stay stay;
        size_t next;
        status = find_next(&rounds, &next, &stay, err);
        if (!status)
            status = next == FW_NONE ? bridge_or_end(&rounds, &ends, err)
                                     : graze(&rounds, next, &stay, err);
    }
    if (!status)
        status = say_bridged(&rounds, err);
    release(&rounds);
    return status;
}
