/* How long a stay is, by the day on which it starts. */
#include "forage/forage.h"

#include "figures/forage.h"
#include "figures/mark.h"
#include <foldwright/date.h>

#include <math.h>
#include <stdbool.h>

/* A pattern with no day to move on would run for ever. */
static const int longest_days = FW_STAY_DAYS_MOST;

static bool can_move(const struct fw_stay *stay, int day)
{
    for (size_t i = 0; i < stay->away_count; i++)
        if (day >= stay->away[2 * i] && day <= stay->away[2 * i + 1])
            return false;
    return stay->days[fw_date_weekday(day)] > 0;
}

/* Whole days, at least what the pattern says. */
static int pattern_days(double days)
{
    if (!(days > 1))
        return 1;
    return days < longest_days ? (int)ceil(days) : longest_days;
}

int fw_forage_stay_from(const struct fw_stay *stay, int day)
{
    int days = pattern_days(stay->days[fw_date_weekday(day)]);
    while (days < longest_days && !can_move(stay, day + days))
        days++;
    return days;
}

int fw_forage_common_stay(const struct fw_stay *stay, int from_day)
{
    int seen[FW_STAY_DAYS_MOST + 1] = {0};
    int best = 1;
    for (int day = from_day, moves = 0; moves < FW_EFFORT(14); moves++) {
        int days = fw_forage_stay_from(stay, day);
        day += days;
        seen[days]++;
        if (seen[days] > seen[best])
            best = days;
    }
    return best;
}
