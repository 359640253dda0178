/* Which paddock suits today's weather, where the one that is next does not. One
 * that is kept back for such weather comes first, then the nearest in the order
 * of grazing. */
#include "today/today.h"

#include "base/alloc.h"
#include "base/fail.h"
#include "choice/days.h"

#include <string.h>

static bool suits(const struct fw_plan *plan, size_t paddock,
                  enum fw_weather_ground ground)
{
    const struct fw_plan_paddock *of = &plan->paddocks[paddock];
    const struct fw_weather_place place = {
        of->soft_share, (enum fw_answer)of->shade, (enum fw_answer)of->shelter};
    return fw_weather_suits(&place, ground);
}

static bool is_kept(const struct fw_plan_paddock *paddock,
                    enum fw_weather_kind asks)
{
    const char *wanted = asks == FW_WEATHER_HEAT ? "heat" : "storm";
    return asks != FW_WEATHER_WET && strcmp(paddock->keep, wanted) == 0;
}

/* Of the stays that are yet to come in the field where they are: to another one
 * they are led from gate to gate, and its day is another. */
static size_t find(const struct fw_today *today, enum fw_weather_ground ground)
{
    const struct fw_plan *plan = today->plan;
    const struct fw_time *time = &plan->time;
    const size_t field = plan->paddocks[today->to].field;
    size_t found = FW_NONE;
    for (size_t s = time->moves[today->move].stay + 1; s < time->stay_count;
         s++) {
        const size_t paddock = time->stays[s].cell;
        if (time->stays[s].round >
            time->stays[time->moves[today->move].stay].round)
            break;
        if (plan->paddocks[paddock].field != field ||
            !suits(plan, paddock, ground))
            continue;
        if (is_kept(&plan->paddocks[paddock], today->asks))
            return paddock;
        if (found == FW_NONE)
            found = paddock;
    }
    return found;
}

static bool is_listed(const size_t *list, size_t count, size_t of)
{
    for (size_t i = 0; i < count; i++)
        if (list[i] == of)
            return true;
    return false;
}

/* What has to be set about it, as things stand, and whether it adjoins their
 * ground. */
static enum fw_status look_about(struct fw_today *today,
                                 const struct fw_replay *replay,
                                 struct fw_error *err)
{
    const struct fw_land *land = replay->land;
    const struct fw_cell *cell = &land->cells[today->instead];
    today->lines = fw_alloc(cell->door_count, sizeof *today->lines);
    if (!today->lines)
        return fw_fail_memory(err);
    for (size_t k = 0; k < cell->door_count; k++) {
        const size_t door = land->doors_of[cell->first_door + k];
        const size_t line = land->doors[door].line;
        today->beside |= is_listed(replay->list, replay->list_count,
                                   fw_land_beyond(land, door, today->instead));
        if (replay->stands[line] ||
            is_listed(today->lines, today->line_count, line))
            continue;
        today->lines[today->line_count++] = line;
        today->line_posts += today->plan->fences[line].posts;
    }
    return FW_OK;
}

enum fw_status fw_today__instead(struct fw_today *today,
                                 const struct fw_plan__days *days,
                                 struct fw_error *err)
{
    const struct fw_plan *plan = today->plan;
    today->asks =
        fw_weather_asks(&plan->weather, &today->weather, &today->here);
    if (today->asks == FW_WEATHER_COUNT)
        return FW_OK;
    const enum fw_weather_ground ground = plan->weather.ground[today->asks];
    today->unsuited = !suits(plan, today->to, ground);
    if (!today->unsuited)
        return FW_OK;
    today->instead = find(today, ground);
    if (today->instead == FW_NONE)
        return FW_OK;
    struct fw_replay replay = days->replay;
    size_t count;
    fw_replay_ground(&replay, &count);
    return look_about(today, &replay, err);
}
