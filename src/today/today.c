/* The fence of the day, hay and water. */
#include "today/today.h"

#include "base/alloc.h"
#include "choice/days.h"
#include "figures/days.h"
#include "figures/mark.h"
#include "log/log.h"

#include <math.h>

static struct fw_weather_need need_of(const struct fw_today *today,
                                      size_t paddock)
{
    const struct fw_plan *plan = today->plan;
    return fw_weather_need(&plan->weather, &today->weather, plan->classes,
                           plan->class_count, plan->flock.demand_kg_day,
                           plan->paddocks[paddock].soft_share);
}

/* A fence that is set today and counted in paces goes further; where it would
 * go beyond the block, none is set. In deep snow hay is the feed, and no grass
 * is asked for. */
static void find_fence(struct fw_today *today)
{
    const struct fw_plan *plan = today->plan;
    double share;
    const size_t fence = fw_log_fence(plan, today->move, &share);
    if (fence == FW_NONE)
        return;
    today->bounds = plan->fences[fence].from;
    const struct fw_weather_need need = need_of(today, today->bounds);
    today->more_share = need.deep ? 0 : need.more_share;
    if (!(today->more_share > 0))
        return;
    today->fence = fence;
    const double most = fw_log_most(plan, today->bounds);
    today->rest = 1 + today->more_share >= most;
    const enum fw_log_anew anew =
        fw_log_paces_anew(plan, fence, today->more_share / share, today->ends);
    today->known = fw_log_paces_anew(plan, fence, 0, today->meant) &&
                   anew != FW_LOG_NOBODY_KNOWS;
    today->line_ends = anew == FW_LOG_LINE_ENDS;
}

/* What they are let into is as large as it is, unless its fence is set today.
 */
static void feed(struct fw_today *today)
{
    const struct fw_plan *plan = today->plan;
    const struct fw_move *move = &plan->time.moves[today->move];
    const double fed_days = fw_plan_fed_days(plan, move->stay);
    today->here = need_of(today, today->to);
    today->lasts_days = today->fence != FW_NONE && today->bounds == today->to
                            ? fed_days
                            : fed_days / (1 + today->here.more_share);
    if (today->here.deep)
        today->hay_kg =
            (plan->flock.demand_kg_day + today->here.cold_kg) / FW_DAYS_HAY_DRY;
}

static enum fw_status water(struct fw_today *today, struct fw_error *err)
{
    const struct fw_plan *plan = today->plan;
    const struct fw_drink_day day =
        fw_drink_day(plan->hauling.day, plan->season == FW_SEASON_DORMANT);
    struct fw_drinks drinks;
    if (!today->here.hot)
        return FW_OK;
    const enum fw_status status = fw_flock_drinks_sum(
        plan->classes, plan->class_count, &day, &drinks, err);
    if (!status)
        today->water_l = drinks.hot_l;
    return status;
}

static enum fw_status about_ground(struct fw_today *today, struct fw_error *err)
{
    struct fw_plan__days days;
    enum fw_status status = fw_plan__days_init(&days, today->plan, err);
    if (status)
        return status;
    if (today->move > 0)
        fw_replay_to_move(&days.replay, today->move - 1);
    status = fw_today__instead(today, &days, err);
    if (!status)
        status = fw_today__ahead(today, &days, err);
    fw_plan__days_release(&days);
    return status;
}

enum fw_status fw_today(const struct fw_plan *plan, size_t move,
                        const struct fw_weather *weather, struct fw_today *out,
                        struct fw_error *err)
{
    struct fw_today today = {
        .plan = plan,
        .move = move,
        .weather = *weather,
        .to = fw_plan_move_to(plan, move),
        .fence = FW_NONE,
        .bounds = FW_NONE,
        .asks = FW_WEATHER_COUNT,
        .instead = FW_NONE,
    };
    enum fw_status status = FW_OK;
    if (today.to != FW_NONE) {
        find_fence(&today);
        feed(&today);
        status = water(&today, err);
        if (!status)
            status = about_ground(&today, err);
    }
    if (status)
        fw_today_release(&today);
    else
        *out = today;
    return status;
}

void fw_today_release(struct fw_today *today)
{
    fw_free(today->lines);
    fw_free(today->ahead);
    *today = (struct fw_today){0};
}
