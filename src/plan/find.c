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
