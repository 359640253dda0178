/* What the lines come to beside the plan: which move each day was, what was
 * left where, and how the next fence should stand.
 *
 * Moves keep their order. One that was missed is made on the next day that is
 * not, and those after it are as much later; what is cut anew because of it
 * is not for this file. */
#include "log/follow.h"

#include "base/array.h"
#include "figures/days.h"
#include "figures/mark.h"
#include "figures/plan.h"

#include <math.h>
#include <string.h>

static const double rounding = FW_TOLERANCE(1e-9);

/* What goes on from day to day. */
struct so_far {
    int head;
    double hay_kg; /* since they came into their paddock */
    int entered;
    int looked_on; /* FW_NO_DAY: nobody has looked yet */
};

static bool has_word(const struct fw_log_line *line, enum fw_log_part part,
                     int word)
{
    return line && line->values[part].told && line->values[part].word == word;
}

static bool told(const struct fw_log_line *line, enum fw_log_part part)
{
    return line && line->values[part].told;
}

/* ---- what they left ---- */

/* By the flock that was there, for as long as it was, less what hay gave. */
static double eaten(const struct fw_plan *plan, const struct fw_log_day *day,
                    const struct so_far *so_far)
{
    int enter, leave;
    const struct fw_plan_paddock *paddock = &plan->paddocks[day->paddock];
    if (!fw_plan_stay_in(plan, day->paddock, &enter, &leave) ||
        leave <= enter || plan->flock.head <= 0)
        return 1;
    const double nights = (double)(day->day - day->entered) / (leave - enter);
    const double heads = (double)so_far->head / plan->flock.head;
    const double hay = FW_DAYS_HAY_DRY * so_far->hay_kg / paddock->demand_kg;
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
                 struct so_far *so_far, double size)
{
    const struct fw_plan *plan = log->plan;
    const size_t zone = plan->paddocks[day->paddock].field;
    day->offer = fw_log_offer(plan, day->paddock);
    day->look.size = size;
    day->look.eaten = eaten(plan, day, so_far);
    const double stays_kg_ha = day->offer.stands_kg_ha -
                               day->offer.taken_kg_ha * day->look.eaten / size;
    day->too_low = stays_kg_ha < day->offer.residual_kg_ha * (1 - rounding);
    day->looked = day->said && is_of(plan, day) &&
                  fw_log_left(plan, day->paddock, day->said,
                              &day->look.left_kg_ha, &day->look.limit) &&
                  can_be(day);
    if (day->looked) {
        if (so_far->looked_on != FW_NO_DAY)
            fw_days_eye_wait(log->eye, day->day - so_far->looked_on);
        so_far->looked_on = day->day;
        day->stood_kg_ha = fw_days_stood_kg_ha(&day->offer, &day->look);
        fw_days_eye_look(log->eye, zone, &day->offer, &day->look);
    }
    day->guess = fw_days_eye_zone(log->eye, zone);
}

/* ---- where the fence was set ---- */

/* On along both sides; an end that stays where it is counts as none on. */
static double paces_on(const struct fw_plan *plan, size_t fence,
                       const struct fw_log_value *value)
{
    const struct fw_log_paces a = fw_log_paces(plan, fence, true);
    const struct fw_log_paces b = fw_log_paces(plan, fence, false);
    const double on_a = a.way * (value->number - a.paces);
    return isnan(value->other) ? on_a
                               : (on_a + b.way * (value->other - b.paces)) / 2;
}

static void set(struct fw_log *log, struct fw_log_day *day)
{
    double share;
    day->size = 1;
    day->fence = fw_log_fence(log->plan, day->move, &share);
    if (day->fence != FW_NONE && told(day->said, FW_LOG_FENCE))
        day->size += share * paces_on(log->plan, day->fence,
                                      &day->said->values[FW_LOG_FENCE]);
}

/* The size at which that paddock was set. */
static double size_of(const struct fw_log *log, size_t paddock)
{
    for (size_t i = log->day_count; i-- > 0;) {
        const struct fw_log_day *day = &log->days[i];
        if (day->move != FW_NONE && day->fence != FW_NONE &&
            log->plan->fences[day->fence].from == paddock)
            return day->size > 0 ? day->size : 1;
    }
    return 1;
}

/* ---- a day ---- */

static void one_day(struct fw_log *log, struct so_far *so_far,
                    struct fw_log_day *day)
{
    const struct fw_time *time = &log->plan->time;
    const bool due =
        log->next_move < time->move_count &&
        time->moves[log->next_move].day + log->late_days <= day->day;
    if (told(day->said, FW_LOG_HAY))
        so_far->hay_kg += day->said->values[FW_LOG_HAY].number;
    if (due && !told(day->said, FW_LOG_MISSED)) {
        day->move = log->next_move++;
        day->entered = so_far->entered;
        day->paddock =
            day->move ? fw_plan_move_from(log->plan, day->move) : FW_NONE;
        if (day->paddock != FW_NONE)
            look(log, day, so_far, size_of(log, day->paddock));
        set(log, day);
        so_far->entered = day->day;
        so_far->hay_kg = 0;
    } else if (due) {
        day->missed = true;
        log->late_days = day->day + 1 - time->moves[log->next_move].day;
    }
    if (told(day->said, FW_LOG_HEAD)) /* counted through, for the next stay */
        so_far->head = (int)day->said->values[FW_LOG_HEAD].number;
}

/* ---- what comes next ---- */

static bool is_legume(const struct fw_plan *plan)
{
    return plan->legume >= FW_LEGUME_SHARE;
}

static const struct fw_log_day *last_look(const struct fw_log *log,
                                          bool *wet_before)
{
    const struct fw_log_day *found = NULL;
    *wet_before = false;
    for (size_t i = log->day_count; i-- > 0;) {
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
static double set_last(const struct fw_log *log, size_t field)
{
    for (size_t i = log->day_count; i-- > 0;) {
        const struct fw_log_day *day = &log->days[i];
        if (day->move != FW_NONE && day->fence != FW_NONE)
            return log->plan->fences[day->fence].field == field && day->size > 0
                       ? day->size
                       : 1;
    }
    return 1;
}

static struct fw_log_next what_next(const struct fw_log *log)
{
    const struct fw_plan *plan = log->plan;
    struct fw_log_next next = {FW_NONE, FW_NONE, FW_NONE,         1,
                               0,       0,       FW_DAYS_AS_MEANT};
    double share = 0;
    bool wet_before;
    const struct fw_log_day *day = last_look(log, &wet_before);
    next.move = log->next_move;
    while (next.move < plan->time.move_count && next.fence == FW_NONE)
        next.fence = fw_log_fence(plan, next.move++, &share);
    if (next.fence == FW_NONE)
        return next;
    next.move--;
    next.paddock = plan->fences[next.fence].from;
    if (!day)
        return next;
    const struct fw_days_offer offer = fw_log_offer(plan, next.paddock);
    const size_t field = plan->paddocks[next.paddock].field;
    const bool here = plan->paddocks[day->paddock].field == field;
    const double before = set_last(log, field);
    const double wanted =
        fw_days_wanted(&offer, fw_days_eye_zone(log->eye, field), before);
    const struct fw_days_when when = {
        .wet_once =
            has_word(day->said, FW_LOG_WEATHER, FW_LOG_WET) && !wet_before,
        .legume = is_legume(plan),
        .frost = has_word(day->said, FW_LOG_WEATHER, FW_LOG_FROST),
    };
    next.step = fw_days_step(wanted, here && day->look.limit, &when, &next.why);
    next.size = fmin(before * (1 + next.step), fw_log_most(plan, next.paddock));
    next.paces = (next.size - 1) / share;
    return next;
}

/* ---- all days ---- */

enum fw_status fw_log__follow(struct fw_log *log, struct fw_error *err)
{
    const struct fw_plan *plan = log->plan;
    const size_t count = log->by_day.count;
    struct so_far so_far = {
        .head = plan->flock.head,
        .entered = plan->start_day,
        .looked_on = FW_NO_DAY,
    };
    log->day_count = log->next_move = 0;
    log->late_days = 0;
    log->next_day =
        count ? log->by_day.items[count - 1].day + 1 : plan->start_day;
    fw_days_eye_free(log->eye);
    log->eye = NULL;
    enum fw_status status = fw_days_eye_new(plan->field_count, &log->eye, err);
    for (int date = plan->start_day; !status && date < log->next_day; date++) {
        status = fw_array_reserve(&log->days, &log->day_capacity,
                                  log->day_count + 1, sizeof *log->days, err);
        if (status)
            break;
        log->days[log->day_count] = (struct fw_log_day){
            .day = date,
            .said = fw_log_lines_at(&log->by_day, date),
            .move = FW_NONE,
            .paddock = FW_NONE,
            .fence = FW_NONE,
            .size = 1,
            .head = so_far.head,
        };
        one_day(log, &so_far, &log->days[log->day_count]);
        log->day_count++;
    }
    if (!status)
        log->next = what_next(log);
    return status;
}
