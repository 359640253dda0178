/* What the lines come to beside the plan: which move each day was, what was
 * left where, and how the next fence should stand.
 *
 * Moves keep their order. One that was missed is made on the next day that is
 * not, and those after it are as much later. Where somebody makes plans
 * (anew.c) what is not grazed is cut anew on the evening of a day that changes
 * it, and the next day is one of that plan. */
#include "log/follow.h"

#include "base/alloc.h"
#include "base/array.h"
#include "base/fail.h"
#include "figures/days.h"
#include "figures/mark.h"
#include "figures/plan.h"

#include <math.h>
#include <string.h>

static const double rounding = FW_TOLERANCE(1e-9);

/* What goes on from day to day. */
struct fw_log__so_far {
    double hay_kg; /* since they came into their paddock */
    int entered;
    int looked_on; /* FW_NO_DAY: nobody has looked yet */
    /* The paddock that they are in, by the plan as it stood when they came: */
    struct fw_days_offer offer;
    double told_kg_ha, demand_kg;
    int nights, head;
};

static bool told(const struct fw_log_line *line, enum fw_log_part part)
{
    return line && line->values[part].told;
}

/* ---- what they left ---- */

/* By the flock that was there, for as long as it was, less what hay gave. */
static double eaten(const struct fw_log_day *day,
                    const struct fw_log__so_far *so_far)
{
    if (so_far->nights <= 0 || so_far->head <= 0)
        return 1;
    const double nights = (double)(day->day - day->entered) / so_far->nights;
    const double heads = (double)day->head / so_far->head;
    const double hay = FW_DAYS_HAY_DRY * so_far->hay_kg / so_far->demand_kg;
    return fmax(0, nights * heads - hay);
}

static bool is_of(const struct fw_plan *plan, const struct fw_log_day *day)
{
    const char *of = day->said->of;
    return !of[0] || strcmp(of, plan->paddocks[day->paddock].id) == 0;
}

/* More stays than the start has grown is a slip, and is not weighed. */
static bool can_be(const struct fw_log_day *day)
{
    return day->offer.stands_kg_ha > 0 &&
           day->look.left_kg_ha <= day->offer.stands_kg_ha;
}

static void look(struct fw_log *log, struct fw_log_day *day,
                 struct fw_log__so_far *so_far, double size)
{
    const struct fw_plan *plan = log->plan;
    const size_t zone = plan->paddocks[day->paddock].field;
    day->offer = so_far->offer;
    day->told_kg_ha = so_far->told_kg_ha;
    day->look.size = size;
    day->look.eaten = eaten(day, so_far);
    const double stays_kg_ha = day->offer.stands_kg_ha -
                               day->offer.taken_kg_ha * day->look.eaten / size;
    day->too_low = stays_kg_ha < day->offer.residual_kg_ha * (1 - rounding);
    day->looked = day->said && is_of(plan, day) &&
                  fw_log_left(plan, day->paddock, &day->offer, day->said,
                              &day->look.left_kg_ha, &day->look.limit) &&
                  can_be(day);
    if (day->looked) {
        struct fw_days_offer as_told = day->offer;
        as_told.stands_kg_ha = day->told_kg_ha;
        if (so_far->looked_on != FW_NO_DAY)
            fw_days_eye_wait(log->eye, day->day - so_far->looked_on);
        so_far->looked_on = day->day;
        day->stood_kg_ha = fw_days_stood_kg_ha(&day->offer, &day->look);
        fw_days_eye_look(log->eye, zone, &as_told, &day->look);
    }
    day->guess = fw_days_eye_zone(log->eye, zone);
}

/* ---- where the fence was set ---- */

/* On along both sides; an end that stays where it is counts as none on. */
static double paces_on(const struct fw_log_day *day,
                       const struct fw_log_value *value)
{
    const double on_a = day->a.way * (value->number - day->a.paces);
    return isnan(value->other)
               ? on_a
               : (on_a + day->b.way * (value->other - day->b.paces)) / 2;
}

static void set(struct fw_log *log, struct fw_log_day *day)
{
    double share;
    day->size = 1;
    day->fence = fw_log_fence(log->plan, day->move, &share);
    if (day->fence == FW_NONE)
        return;
    day->a = fw_log_paces(log->plan, day->fence, true);
    day->b = fw_log_paces(log->plan, day->fence, false);
    day->most = fw_log_most(log->plan, log->plan->fences[day->fence].from);
    if (told(day->said, FW_LOG_FENCE))
        day->size += share * paces_on(day, &day->said->values[FW_LOG_FENCE]);
}

/* The size at which that paddock was set; one that was cut anew since is as
 * large as the plan has it. */
static double size_of(const struct fw_log *log, size_t paddock)
{
    for (size_t i = log->day_count; i-- > 0;) {
        const struct fw_log_day *day = &log->days[i];
        if (day->anew)
            return 1;
        if (day->move != FW_NONE && day->fence != FW_NONE &&
            log->plan->fences[day->fence].from == paddock)
            return day->size > 0 ? day->size : 1;
    }
    return 1;
}

/* ---- a day ---- */

/* The paddock that they have come into. */
static enum fw_status enter(struct fw_log *log, const struct fw_log_day *day,
                            struct fw_log__so_far *so_far, struct fw_error *err)
{
    const struct fw_plan *plan = log->plan;
    int from = 0, to = 0;
    so_far->entered = day->day;
    so_far->hay_kg = 0;
    if (day->to == FW_NONE)
        return FW_OK;
    const bool stays = fw_plan_stay_in(plan, day->to, &from, &to);
    so_far->nights = stays ? to - from : 0;
    so_far->head = plan->flock.head;
    so_far->demand_kg = plan->paddocks[day->to].demand_kg;
    so_far->offer = fw_log_offer(plan, day->to);
    so_far->told_kg_ha = fw_log_told_kg_ha(log, day->to);
    const enum fw_status status =
        fw_array_reserve(&log->season, &log->season_capacity,
                         log->season_count + 1, sizeof *log->season, err);
    if (status)
        return status;
    struct fw_plan_season_stay *stay = &log->season[log->season_count++];
    *stay = (struct fw_plan_season_stay){.enter = day->day, .leave = FW_NO_DAY};
    memcpy(stay->id, plan->paddocks[day->to].id, sizeof stay->id);
    return FW_OK;
}

/* What it held, by the plan as it stands when they leave it. */
static void leave(struct fw_log *log, const struct fw_log_day *day)
{
    const struct fw_plan_paddock *of = &log->plan->paddocks[day->paddock];
    struct fw_plan_season_stay *stay = &log->season[log->season_count - 1];
    stay->leave = day->day;
    stay->usable_kg = of->usable_kg;
    stay->demand_kg = of->demand_kg;
    stay->stay_days = of->stay_days;
    stay->head_per_ha = of->head_per_ha;
    stay->liveweight_kg_ha = of->liveweight_kg_ha;
}

static enum fw_status add_work(struct fw_log *log,
                               const struct fw_plan_season_line *work,
                               const char *id, struct fw_error *err)
{
    const enum fw_status status =
        fw_array_reserve(&log->works, &log->work_capacity, log->work_count + 1,
                         sizeof *log->works, err);
    if (status)
        return status;
    struct fw_plan_season_line *to = &log->works[log->work_count++];
    *to = *work;
    memcpy(to->id, id, sizeof to->id);
    return FW_OK;
}

/* The lines that the day's move sets and takes down. What is set when they are
 * let in already is for the paddock after that. */
static enum fw_status take_works(struct fw_log *log,
                                 const struct fw_log_day *day,
                                 struct fw_error *err)
{
    const struct fw_plan *plan = log->plan;
    const struct fw_list *steps = &plan->time.moves[day->move].steps;
    struct fw_plan_season_line work = {.move = log->made++};
    enum fw_status status = FW_OK;
    for (size_t s = steps->first; s < steps->first + steps->count; s++) {
        const struct fw_step *step = &plan->time.steps[s];
        work.down = step->kind == FW_STEP_TAKE_DOWN;
        if (step->kind == FW_STEP_OPEN || step->kind == FW_STEP_COUNT)
            work.ahead = true;
        if (step->kind != FW_STEP_SET && !work.down)
            continue;
        for (size_t k = 0; !status && k < step->lines.count; k++)
            status = add_work(
                log, &work,
                plan->fences[plan->time.items[step->lines.first + k]].id, err);
    }
    return status;
}

static enum fw_status move_on(struct fw_log *log, struct fw_log__so_far *so_far,
                              struct fw_log_day *day, struct fw_error *err)
{
    const struct fw_plan *plan = log->plan;
    day->move = log->next_move++;
    fw_log__take_minutes(log, day);
    day->entered = so_far->entered;
    day->to = fw_plan_move_to(plan, day->move);
    day->paddock =
        log->own || day->move ? fw_plan_move_from(plan, day->move) : FW_NONE;
    if (day->paddock != FW_NONE) {
        look(log, day, so_far, size_of(log, day->paddock));
        leave(log, day);
    }
    set(log, day);
    return take_works(log, day, err);
}

/* Somebody came sooner than anybody could expect after a missed move. */
static bool came_before(const struct fw_log *log, const struct fw_log_day *day)
{
    return log->own && log->next_move == 0 && log->on.missed &&
           (told(day->said, FW_LOG_LEFT) || told(day->said, FW_LOG_FENCE) ||
            told(day->said, FW_LOG_MINUTES));
}

static enum fw_status one_day(struct fw_log *log, struct fw_log__so_far *so_far,
                              struct fw_log_day *day, struct fw_error *err)
{
    enum fw_status status = FW_OK;
    if (told(day->said, FW_LOG_INTO) && !told(day->said, FW_LOG_MISSED))
        status = fw_log__take_other(log, day, err);
    if (status)
        return status;
    const struct fw_time *time = &log->plan->time;
    const bool due =
        log->next_move < time->move_count &&
        time->moves[log->next_move].day + log->late_now <= day->day;
    const bool moves = (due && !told(day->said, FW_LOG_MISSED)) ||
                       (!due && came_before(log, day));
    if (told(day->said, FW_LOG_HAY))
        so_far->hay_kg += day->said->values[FW_LOG_HAY].number;
    if (moves) {
        status = move_on(log, so_far, day, err);
    } else if (due) {
        const int late = day->day + 1 - time->moves[log->next_move].day;
        day->missed = true;
        log->late_days += late - log->late_now;
        log->late_now = late;
    }
    if (status)
        return status;
    if (day->said && fw_log__fits(log, day, &day->wrong) == FW_ENOMEM)
        return fw_fail_memory(err);
    if (moves)
        status = enter(log, day, so_far, err);
    if (!status)
        status = fw_log__take_flock(log, day, err);
    return status ? status : fw_log__anew(log, day, err);
}

/* ---- all days ---- */

static enum fw_status begin(struct fw_log *log, struct fw_error *err)
{
    *log->so_far = (struct fw_log__so_far){.entered = log->base->start_day,
                                           .looked_on = FW_NO_DAY};
    fw_plan_free(log->own);
    fw_plan_free(log->before);
    log->own = log->before = NULL;
    log->plan = log->base;
    log->not_anew.status = FW_OK;
    log->head = log->base->flock.head;
    log->weaned.given = false;
    log->minutes_share = 1;
    for (size_t f = 0; f < log->base->field_count; f++)
        log->size[f] = 1;
    for (size_t i = 0; i < log->base->class_count; i++) {
        log->heads[i] = log->base->classes[i].head;
        log->bought[i] = FW_NO_DAY;
    }
    log->day_count = log->season_count = log->work_count = log->made = 0;
    log->next_move = 0;
    log->late_days = log->late_now = 0;
    fw_days_eye_free(log->eye);
    log->eye = NULL;
    return fw_days_eye_new(log->base->field_count, &log->eye, err);
}

/* The lines may have come to stand elsewhere. */
static void point_anew(struct fw_log *log)
{
    for (size_t i = 0; i < log->day_count; i++)
        log->days[i].said = fw_log_lines_at(&log->by_day, log->days[i].day);
}

static enum fw_status add_day(struct fw_log *log, int date,
                              struct fw_error *err)
{
    enum fw_status status =
        fw_array_reserve(&log->days, &log->day_capacity, log->day_count + 1,
                         sizeof *log->days, err);
    if (status)
        return status;
    struct fw_log_day *day = &log->days[log->day_count];
    *day = (struct fw_log_day){
        .day = date,
        .said = fw_log_lines_at(&log->by_day, date),
        .move = FW_NONE,
        .paddock = FW_NONE,
        .to = FW_NONE,
        .fence = FW_NONE,
        .size = 1,
        .head = log->head,
    };
    status = one_day(log, log->so_far, day, err);
    log->day_count++;
    return status;
}

enum fw_status fw_log__follow(struct fw_log *log, bool on, struct fw_error *err)
{
    const size_t count = log->by_day.count;
    const int first = log->base->start_day;
    enum fw_status status = FW_OK;
    if (!log->so_far)
        log->so_far = fw_alloc(1, sizeof *log->so_far);
    if (!log->so_far)
        return fw_fail_memory(err);
    if (on)
        point_anew(log);
    else
        status = begin(log, err);
    log->next_day = count ? log->by_day.items[count - 1].day + 1 : first;
    for (int date = first + (int)log->day_count;
         !status && date < log->next_day; date++)
        status = add_day(log, date, err);
    if (!status)
        fw_log__next(log);
    return status;
}
