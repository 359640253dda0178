/* What follows from a day: how the next fence should stand, and, where somebody
 * makes plans, the plan that goes on from where they are. */
#include "log/follow.h"

#include "base/alloc.h"
#include "base/fail.h"
#include "figures/days.h"
#include "figures/mark.h"
#include "figures/plan.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* Less than that is not worth a word. */
static const double told_share = FW_TOLERANCE(0.01);

static bool has_word(const struct fw_log_line *line, enum fw_log_part part,
                     int word)
{
    return line && line->values[part].told && line->values[part].word == word;
}

/* ---- what comes next ---- */

static bool is_legume(const struct fw_plan *plan)
{
    return plan->legume >= FW_LEGUME_SHARE;
}

static const struct fw_log_day *last_look(const struct fw_log *log,
                                          size_t day_count, bool *wet_before)
{
    const struct fw_log_day *found = NULL;
    *wet_before = false;
    for (size_t i = day_count; i-- > 0;) {
        const struct fw_log_day *day = &log->days[i];
        if (!day->looked)
            continue;
        if (found) {
            *wet_before = has_word(day->said, FW_LOG_WEATHER, FW_LOG_WET);
            return found;
        }
        found = day;
    }
    return found;
}

/* Of the paddock that was set last in that field. */
static double set_last(const struct fw_log *log, size_t day_count, size_t field)
{
    for (size_t i = day_count; i-- > 0;) {
        const struct fw_log_day *day = &log->days[i];
        if (day->move != FW_NONE && day->fence != FW_NONE)
            return log->plan->fences[day->fence].field == field && day->size > 0
                       ? day->size
                       : 1;
    }
    return 1;
}

double fw_log_told_kg_ha(const struct fw_log *log, size_t paddock)
{
    const struct fw_days_offer offer = fw_log_offer(log->plan, paddock);
    return offer.residual_kg_ha +
           (offer.stands_kg_ha - offer.residual_kg_ha) *
               log->size[log->plan->paddocks[paddock].field];
}

/* The next one that is set and counted in paces. */
static void find_fence(const struct fw_log *log, struct fw_log_next *next,
                       double *share)
{
    const struct fw_plan *plan = log->plan;
    next->move = log->next_move;
    while (next->move < plan->time.move_count && next->fence == FW_NONE)
        next->fence = fw_log_fence(plan, next->move++, share);
    if (next->fence == FW_NONE)
        return;
    next->move--;
    next->paddock = plan->fences[next->fence].from;
}

/* By the last look: what is asked of the next paddock, from `before` on. */
static void ask(const struct fw_log *log, size_t day_count, double before,
                struct fw_log_next *next)
{
    const struct fw_plan *plan = log->plan;
    bool wet_before;
    const struct fw_log_day *day = last_look(log, day_count, &wet_before);
    if (!day)
        return;
    const size_t field = plan->paddocks[next->paddock].field;
    struct fw_days_offer offer = fw_log_offer(plan, next->paddock);
    offer.stands_kg_ha = fw_log_told_kg_ha(log, next->paddock);
    const bool here = plan->paddocks[day->paddock].field == field;
    const double wanted =
        fw_days_wanted(&offer, fw_days_eye_zone(log->eye, field), before);
    const struct fw_days_when when = {
        .wet_once =
            has_word(day->said, FW_LOG_WEATHER, FW_LOG_WET) && !wet_before,
        .legume = is_legume(plan),
        .frost = has_word(day->said, FW_LOG_WEATHER, FW_LOG_FROST),
    };
    next->step =
        fw_days_step(wanted, here && day->look.limit, &when, &next->why);
    next->size = before * (1 + next->step);
}

static const struct fw_log_next none = {.move = FW_NONE,
                                        .fence = FW_NONE,
                                        .paddock = FW_NONE,
                                        .size = 1,
                                        .why = FW_DAYS_AS_MEANT};

/* Nobody cuts anew: the fence is set so many paces on from where it was meant.
 */
static struct fw_log_next by_paces(const struct fw_log *log)
{
    struct fw_log_next next = none;
    double share = 0;
    find_fence(log, &next, &share);
    if (next.fence == FW_NONE)
        return next;
    const size_t field = log->plan->paddocks[next.paddock].field;
    ask(log, log->day_count, set_last(log, log->day_count, field), &next);
    const double most = fw_log_most(log->plan, next.paddock);
    next.rest = next.size >= most;
    next.size = fmin(next.size, most);
    next.paces = (next.size - 1) / share;
    next.known =
        fw_log_paces_anew(log->plan, next.fence, next.paces, next.ends) &&
        fw_log_paces_anew(log->plan, next.fence, 0, next.meant);
    return next;
}

/* ---- the plan that goes on ---- */

/* Does the next move lead into ground that is grazed again, or out of the last
 * paddock? Then the ground is as it is. */
static bool is_all_cut(const struct fw_log *log)
{
    const struct fw_time *time = &log->plan->time;
    if (log->next_move >= time->move_count)
        return false;
    const size_t stay = time->moves[log->next_move].stay;
    return stay == FW_NONE || time->stays[stay].round > 0;
}

static bool goes_on(const struct fw_log *log)
{
    return log->making.go_on && log->not_anew.status == FW_OK &&
           !is_all_cut(log);
}

/* So far on along what the end stands on; nothing where it turns about it. */
static double on_m(const struct fw_log *log, const struct fw_log_paces *end,
                   double paces)
{
    return isnan(paces) ? 0
                        : end->way * (paces - end->paces) * log->plan->pace_m;
}

/* How far its ends really stand on. False: where it was meant to. */
static bool is_set_off(const struct fw_log *log, const struct fw_log_day *day,
                       double out[2])
{
    out[0] = out[1] = 0;
    if (!day->said || day->fence == FW_NONE || day->wrong.status ||
        !day->said->values[FW_LOG_FENCE].told)
        return false;
    const struct fw_log_value *fence = &day->said->values[FW_LOG_FENCE];
    out[0] = on_m(log, &day->a, fence->number);
    out[1] = isnan(fence->other) ? day->b.way ? out[0] : 0
                                 : on_m(log, &day->b, fence->other);
    return out[0] != 0 || out[1] != 0;
}

static void tell_flock(const struct fw_log *log, struct fw_plan_on *on)
{
    on->head = log->head;
    on->class_count = log->base->class_count;
    on->heads = log->heads;
    on->bought = log->bought;
    on->weaned = log->weaned;
    on->minutes_share = fw_log_work(log).share;
    on->size = log->size;
    on->season = log->season;
    on->season_count = log->season_count;
    on->made = log->made;
    on->works = log->works;
    on->work_count = log->work_count;
    on->brief = true;
}

/* As it went on to the plan as things stand: with the flock of that day, and
 * what was over then. */
static struct fw_plan_on as_it_went_on(const struct fw_log *log)
{
    struct fw_plan_on on = log->on;
    on.heads = log->on_heads;
    on.bought = log->on_bought;
    on.size = log->on_size;
    on.season = log->season; /* may lie elsewhere */
    on.works = log->works;
    on.brief = true;
    return on;
}

/* From the plan as things stand, or, where no move of that is made, from the
 * one that it went on from. False: no move is made at all, or all are. */
static bool from_here(const struct fw_log *log, const struct fw_log_day *day,
                      struct fw_plan_on *on)
{
    const struct fw_time *time = &log->plan->time;
    if (is_all_cut(log)) {
        *on = as_it_went_on(log);
        return log->own != NULL;
    }
    if (log->next_move > 0) {
        *on = (struct fw_plan_on){
            .from = log->plan, .move = log->next_move - 1, .fence = FW_NONE};
    } else if (log->own) {
        *on = log->on;
    } else {
        return false;
    }
    on->missed = day->missed;
    tell_flock(log, on);
    if (log->next_move >= time->move_count)
        return false;
    on->day = day->missed ? day->day + 1
                          : time->moves[log->next_move].day + log->late_now;
    return true;
}

static void take(struct fw_log *log, const struct fw_plan_on *on,
                 struct fw_plan *plan)
{
    if (on->from == log->own) {
        fw_plan_free(log->before);
        log->before = log->own;
    } else {
        if (log->own)
            fw_plan_free(log->own);
    }
    log->own = plan;
    log->plan = plan;
    log->on = *on;
    for (size_t i = 0; i < on->class_count; i++) {
        log->on_heads[i] = on->heads[i];
        log->on_bought[i] = on->bought[i];
    }
    for (size_t f = 0; f < log->base->field_count; f++)
        log->on_size[f] = on->size[f];
    log->next_move = 0;
    log->late_now = 0;
    log->minutes_share = on->minutes_share;
    if (on->missed)
        log->late_days += plan->start_day - on->day;
}

/* Is the flock another one than the plan has? */
static bool is_another(const struct fw_log *log, const struct fw_log_day *day)
{
    return log->head != log->plan->flock.head ||
           (day->said && (day->said->values[FW_LOG_FLOCK].told ||
                          day->said->values[FW_LOG_WEANED].told));
}

/* A fence that cannot stand there is told with its day; a farm that is not the
 * plan's any more, once. Neither stops the log. */
static enum fw_status make(struct fw_log *log, struct fw_log_day *day,
                           const struct fw_plan_on *on, struct fw_error *err)
{
    struct fw_plan *plan = NULL;
    struct fw_error why = {.status = FW_OK};
    const enum fw_status status =
        log->making.go_on(log->making.farm, on, &plan, &why);
    if (status == FW_EPLAN) /* nothing is left to cut */
        return FW_OK;
    if (status == FW_EINPUT && on->fence != FW_NONE) {
        day->wrong = why;
        return FW_OK;
    }
    if (status == FW_EINPUT && is_another(log, day)) {
        day->wrong = why;
        log->head = log->plan->flock.head;
        return FW_OK;
    }
    if (status == FW_EINPUT) {
        log->not_anew = why;
        return FW_OK;
    }
    if (status) {
        if (err)
            *err = why;
        return status;
    }
    if (on->fence != FW_NONE)
        day->size *=
            plan->paddocks[on->from->fences[on->fence].from].plane_m2 /
            on->from->paddocks[on->from->fences[on->fence].from].plane_m2 /
            day->size;
    day->anew = true;
    take(log, on, plan);
    return FW_OK;
}

/* Of the ground that its stay takes by the forage as it was told. */
static double size_of(const struct fw_log *log, size_t paddock)
{
    const struct fw_plan *plan = log->plan;
    const struct fw_plan_paddock *of = &plan->paddocks[paddock];
    int enter, leave;
    if (!fw_plan_stay_in(plan, paddock, &enter, &leave))
        return 1;
    return log->size[of->field] * of->usable_kg /
           (plan->flock.demand_kg_day * (leave - enter));
}

/* As large as it is, which need not be as large as is asked. */
static void settle_size(const struct fw_log *log, struct fw_log_next *next)
{
    const double asked = log->size[log->plan->paddocks[next->paddock].field];
    next->size = size_of(log, next->paddock);
    next->shared = fabs(next->size / asked - 1) > told_share;
}

/* What is asked of the next paddock of a field is asked of the whole field. */
static struct fw_log_next ask_field(struct fw_log *log,
                                    const struct fw_log_day *day)
{
    struct fw_log_next next = none;
    double share = 0;
    find_fence(log, &next, &share);
    if (next.fence == FW_NONE)
        return next;
    const size_t field = log->plan->paddocks[next.paddock].field;
    next.size = log->size[field];
    next.known = fw_log_paces_anew(log->plan, next.fence, 0, next.meant);
    next.ends[0] = next.meant[0];
    next.ends[1] = next.meant[1];
    if (!day->looked) {
        settle_size(log, &next);
        return next;
    }
    ask(log, log->day_count + 1, log->size[field], &next);
    log->size[field] = next.size;
    return next;
}

/* Where the fence of that name stands now. */
static void settle_next(const struct fw_log *log, struct fw_log_next *next)
{
    const struct fw_log_next asked = *next;
    double share = 0;
    *next = none;
    find_fence(log, next, &share);
    if (next->fence == FW_NONE)
        return;
    settle_size(log, next);
    next->step = asked.step;
    next->why = asked.why;
    next->known = fw_log_paces_anew(log->plan, next->fence, 0, next->ends);
    memcpy(next->meant, asked.known ? asked.meant : next->ends,
           sizeof next->meant);
}

/* They are in the last paddock of the first round: what comes after it is added
 * to the plan as things stand. */
static enum fw_status add_rounds(struct fw_log *log, struct fw_error *err)
{
    const struct fw_time *time = &log->base->time;
    struct fw_plan *plan = NULL;
    if (!log->own || log->on.rounds || !log->making.go_on ||
        time->stay_count == fw_plan_first_stays(log->base) ||
        log->next_move + 1 != log->own->time.move_count)
        return FW_OK;
    struct fw_plan_on on = as_it_went_on(log);
    struct fw_error why = {.status = FW_OK};
    on.rounds = true;
    const enum fw_status status =
        log->making.go_on(log->making.farm, &on, &plan, &why);
    if (status == FW_EINPUT) { /* what is written down stays */
        log->not_anew = why;
        return FW_OK;
    }
    if (status) {
        if (err)
            *err = why;
        return status;
    }
    fw_plan_free(log->own);
    log->plan = log->own = plan;
    log->on.rounds = true;
    return FW_OK;
}

enum fw_status fw_log__anew(struct fw_log *log, struct fw_log_day *day,
                            struct fw_error *err)
{
    struct fw_plan_on on;
    double off_m[2];
    const enum fw_status more = add_rounds(log, err);
    if (more || !goes_on(log))
        return more;
    struct fw_log_next next = ask_field(log, day);
    const bool off = is_set_off(log, day, off_m);
    if ((!off && next.step == 0 && !day->missed && !is_another(log, day)) ||
        !from_here(log, day, &on)) {
        if (next.fence != FW_NONE)
            settle_size(log, &next);
        log->next = next;
        return FW_OK;
    }
    if (off) {
        on.fence = day->fence;
        memcpy(on.on_m, off_m, sizeof on.on_m);
    }
    enum fw_status status = make(log, day, &on, err);
    if (!status && off && day->wrong.status) {
        on.fence = FW_NONE;
        status = next.step != 0 || is_another(log, day)
                     ? make(log, day, &on, err)
                     : FW_OK;
    }
    if (!status)
        settle_next(log, &next);
    log->next = next;
    return status;
}

void fw_log__next(struct fw_log *log)
{
    if (!goes_on(log))
        log->next = by_paces(log);
    else if (log->day_count == 0) {
        const struct fw_log_day before = {.day = log->next_day};
        log->next = ask_field(log, &before);
    }
}

/* ---- another paddock than the next one ---- */

/* A paddock that they have not been in, or come into again; FW_NONE: it is
 * none. */
static size_t yet_to_come(const struct fw_log *log, const char *id)
{
    const struct fw_plan *plan = log->plan;
    for (size_t s = log->next_move; s < plan->time.stay_count; s++)
        if (!strcmp(plan->paddocks[plan->time.stays[s].cell].id, id))
            return plan->time.stays[s].cell;
    return FW_NONE;
}

/* FW_EINPUT: why they cannot have been let into it. */
static enum fw_status may_take(const struct fw_log *log, const char *id,
                               struct fw_error *err)
{
    const struct fw_plan *plan = log->plan;
    const size_t next = log->next_move < plan->time.move_count
                            ? fw_plan_move_to(plan, log->next_move)
                            : FW_NONE;
    if (next == FW_NONE)
        return fw_fail(err, FW_EINPUT,
                       "into: no paddock is left to let them into");
    const size_t into = yet_to_come(log, id);
    if (into == FW_NONE)
        return fw_fail(err, FW_EINPUT,
                       "into: %s is no paddock that is yet to be grazed; the "
                       "next one is %s",
                       id, plan->paddocks[next].id);
    if (!log->own && log->next_move == 0)
        return fw_fail(err, FW_EINPUT,
                       "into: they come from outside that day; plan the field "
                       "so that it begins with %s",
                       id);
    if (!goes_on(log))
        return fw_fail(err, FW_EINPUT,
                       "into: what is left of this plan is not cut anew, so "
                       "its order stays");
    return plan->paddocks[into].field == plan->paddocks[next].field
               ? FW_OK
               : fw_fail(err, FW_EINPUT,
                         "into: %s is of another field than the next one, %s",
                         id, plan->paddocks[next].id);
}

enum fw_status fw_log__take_other(struct fw_log *log, struct fw_log_day *day,
                                  struct fw_error *err)
{
    const char *id = day->said->values[FW_LOG_INTO].text;
    struct fw_plan *plan = NULL;
    struct fw_plan_on on = {
        .from = log->plan,
        .move = log->next_move > 0 ? log->next_move - 1 : FW_NONE,
        .day = day->day,
        .fence = FW_NONE,
    };
    if (may_take(log, id, &day->wrong))
        return FW_OK;
    snprintf(on.taken, sizeof on.taken, "%.*s", FW_ID - 1, id);
    tell_flock(log, &on);
    const enum fw_status status =
        log->making.go_on(log->making.farm, &on, &plan, &day->wrong);
    if (status == FW_ENOMEM)
        return fw_fail_memory(err);
    if (status)
        return FW_OK;
    day->anew = true;
    take(log, &on, plan);
    return FW_OK;
}

/* ---- as things stand ---- */

static enum fw_status make_all(const struct fw_log *log, struct fw_plan_on *on,
                               struct fw_plan **out, struct fw_error *err)
{
    on->brief = false;
    const enum fw_status status =
        log->making.go_on(log->making.farm, on, out, err);
    if (!status && is_all_cut(log)) /* though moves of it are made */
        (*out)->ahead_day = log->plan->time.moves[log->next_move].day;
    return status == FW_EPLAN ? FW_OK : status;
}

enum fw_status fw_log_now(const struct fw_log *log, struct fw_plan **out,
                          struct fw_error *err)
{
    const struct fw_log_day day = {.day = log->next_day};
    struct fw_plan_on on;
    *out = NULL;
    if (!log->own || !from_here(log, &day, &on))
        return FW_OK;
    return make_all(log, &on, out, err);
}

enum fw_status fw_log_season(const struct fw_log *log, struct fw_plan **out,
                             struct fw_error *err)
{
    const struct fw_log_day day = {.day = log->next_day};
    struct fw_plan_on on;
    *out = NULL;
    if (!log->own || log->season_count == 0)
        return FW_OK;
    const bool ahead = from_here(log, &day, &on);
    struct fw_plan_season_stay *season =
        fw_alloc(on.season_count, sizeof *season);
    if (!season)
        return fw_fail_memory(err);
    memcpy(season, log->season, on.season_count * sizeof *season);
    struct fw_plan_season_stay *last = &season[on.season_count - 1];
    if (ahead)
        last->leave = on.day;
    else /* they are out of the last paddock */
        on.day = last->leave;
    on.base = log->base;
    on.season = season;
    const enum fw_status status = make_all(log, &on, out, err);
    fw_free(season);
    return status;
}
