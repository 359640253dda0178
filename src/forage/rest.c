/* Rests by season. */
#include "forage/rest.h"

#include "figures/growth.h"
#include "figures/mark.h"
#include "figures/plan.h"
#include <foldwright/date.h>

#include <stddef.h>

/* Its place in a curve by season. */
static size_t season_of(int day, double lat_deg)
{
    const int year = FW_PARTS(12);
    const int first = FW_SPRING_MONTH + (lat_deg >= 0 ? 0 : year / 2);
    return (size_t)((fw_date_month(day) - first + year) % year) /
           FW_SEASON_MONTHS;
}

double fw_rest_least_days(int day, double lat_deg)
{
    return FW_REST_LEAST[season_of(day, lat_deg)];
}

double fw_rest_longest_days(int day, double lat_deg)
{
    return FW_REST_LONGEST[season_of(day, lat_deg)];
}

static double share(int from, int to, double lat_deg,
                    double (*days)(int day, double lat_deg))
{
    double sum = 0;
    for (int day = from; day < to; day++)
        sum += 1 / days(day, lat_deg);
    return sum;
}

double fw_rest_least_share(int from, int to, double lat_deg)
{
    return share(from, to, lat_deg, fw_rest_least_days);
}

double fw_rest_longest_share(int from, int to, double lat_deg)
{
    return share(from, to, lat_deg, fw_rest_longest_days);
}
