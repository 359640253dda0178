/* The halves of the year. */
#include "figures/forage.h"

#include "forage/forage.h"
#include <foldwright/date.h>

bool fw_forage_is_warm(int day, double lat_deg)
{
    const int month = fw_date_month(day);
    const bool northern = month >= FW_WARM_MONTH && month <= FW_WARM_LAST_MONTH;
    return northern == (lat_deg >= 0);
}
