/* What a day's weather comes to for a trough that stays where it is in winter:
 * it is moved for mud and not by days, and mud is seen by who stands there. */
#include "record/record.h"

#include "figures/plan.h"
#include "report/report.h"

#include <string.h>

static bool was(const struct fw_log_day *day, enum fw_log_weather weather)
{
    return day->said && day->said->values[FW_LOG_WEATHER].told &&
           day->said->values[FW_LOG_WEATHER].word == (int)weather;
}

/* Days up to that one, one after the other. */
static int wet_days(const struct fw_log *log, size_t last)
{
    int count = 0;
    for (size_t i = last + 1; i-- > 0 && was(&log->days[i], FW_LOG_WET);)
        count++;
    return count;
}

/* The paddock in which they are in the evening; FW_NONE: in none. */
static size_t paddock_on(const struct fw_log *log, size_t last)
{
    for (size_t i = last + 1; i-- > 0;)
        if (log->days[i].move != FW_NONE)
            return log->days[i].to;
    return FW_NONE;
}

static bool has_trough(const struct fw_plan *plan, size_t paddock)
{
    const size_t water =
        paddock == FW_NONE ? FW_NONE : plan->paddocks[paddock].water;
    return water != FW_NONE &&
           strcmp(plan->waters[water].kind_of, "trough") == 0;
}

enum fw_record__trough fw_record__trough_on(const struct fw_log *log, int day)
{
    const size_t last = (size_t)(day - log->base->start_day);
    if (log->plan->season != FW_SEASON_DORMANT ||
        !has_trough(log->plan, paddock_on(log, last)))
        return FW_RECORD__NO_WORD;
    return was(&log->days[last], FW_LOG_FROST)         ? FW_RECORD__MAY_STAY
           : wet_days(log, last) >= FW_TROUGH_WET_DAYS ? FW_RECORD__LOOK
                                                       : FW_RECORD__NO_WORD;
}

void fw_record__say_trough(struct fw_text *text, const struct fw_log *log,
                           int day)
{
    const enum fw_record__trough trough = fw_record__trough_on(log, day);
    struct fw_text line = {0};
    if (trough == FW_RECORD__NO_WORD)
        return;
    if (trough == FW_RECORD__LOOK)
        fw_text_add(&line, "It was wet: look at the ground about the trough "
                           "this evening. Where that is mud move it on to firm "
                           "ground, by a track where there is one, whatever "
                           "the day.");
    else
        fw_text_add(&line,
                    "It froze: the trough may stay where it stands while "
                    "the ground bears; look at that again when it "
                    "thaws.");
    fw_report__fold_text(text, 0, &line);
}
