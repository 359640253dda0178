/* Finding a move by its day. */
#include "base/fail.h"
#include "plan/place.h"

#include <stdlib.h>

enum fw_status fw_plan_find_move(const struct fw_plan *plan, int day,
                                 size_t *move, struct fw_error *err)
{
    const struct fw_time *time = &plan->time;
    size_t nearest = 0;
    for (size_t i = 0; i < time->move_count; i++) {
        if (time->moves[i].day == day || day == FW_NO_DAY) {
            *move = i;
            return FW_OK;
        }
        if (abs(time->moves[i].day - day) < abs(time->moves[nearest].day - day))
            nearest = i;
    }
    if (time->move_count == 0)
        return fw_fail(err, FW_EPLAN, "the plan has no moves");
    char wanted[FW_DATE_TEXT], near[FW_DATE_TEXT];
    char first[FW_DATE_TEXT], last[FW_DATE_TEXT];
    fw_date_write(day, wanted);
    fw_date_write(time->moves[nearest].day, near);
    fw_date_write(time->moves[0].day, first);
    fw_date_write(time->moves[time->move_count - 1].day, last);
    return fw_fail(err, FW_EPLAN,
                   "no move on %s; the nearest is on %s, and the plan runs "
                   "from %s to %s",
                   wanted, near, first, last);
}

size_t fw_plan_next_move(const struct fw_plan *plan)
{
    const struct fw_time *time = &plan->time;
    size_t move = 0;
    while (move + 1 < time->move_count &&
           time->moves[move].day < plan->ahead_day)
        move++;
    return move;
}

struct fw_plan fw_plan_ahead(const struct fw_plan *plan)
{
    struct fw_plan ahead = *plan;
    if (plan->ahead_day <= plan->start_day) /* or FW_NO_DAY */
        return ahead;
    size_t over = 0;
    while (over < plan->time.stay_count &&
           plan->time.stays[over].enter < plan->ahead_day)
        over++;
    ahead.start_day = plan->ahead_day;
    ahead.time.stays += over;
    ahead.time.stay_count -= over;
    return ahead;
}
