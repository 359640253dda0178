/* What cannot be is refused, with what to do about it. */
#include "stockpile/inner.h"

#include "base/fail.h"
#include "figures/stockpile.h"

#include <math.h>

static enum fw_status check_dates(const struct fw_stockpile_part *part,
                                  const struct fw_stockpile_winter *winter,
                                  struct fw_error *err)
{
    char grazed[FW_DATE_TEXT], other[FW_DATE_TEXT];
    fw_date_write(part->grazed_day, grazed);
    if (part->grazed_day == FW_NO_DAY && part->topped_day == FW_NO_DAY)
        return fw_fail(err, FW_EINPUT,
                       "neither grazed nor topped: the winter's grass grows "
                       "from its last removal; tell the day");
    if (part->grazed_day != FW_NO_DAY && part->topped_day != FW_NO_DAY &&
        part->topped_day < part->grazed_day)
        return fw_fail(err, FW_EINPUT,
                       "topped on %s, before it was last grazed, %s; the last "
                       "removal was the grazing: leave the topping out",
                       fw_date_write(part->topped_day, other), grazed);
    const int closed = fw_stockpile__closed(part);
    if (closed >= winter->frost_day) {
        char frost[FW_DATE_TEXT];
        return fw_fail(err, FW_EINPUT,
                       "closed on %s, but growth ends with the first hard "
                       "frost, %s: nothing grows for winter; close it "
                       "earlier, or tell another frost",
                       fw_date_write(closed, other),
                       fw_date_write(winter->frost_day, frost));
    }
    if (fw_date_year(closed) != fw_date_year(winter->frost_day))
        return fw_fail(err, FW_EINPUT,
                       "closed on %s, in another year than the first hard "
                       "frost, %s; expected the same year",
                       fw_date_write(closed, other),
                       fw_date_write(winter->frost_day, grazed));
    return FW_OK;
}

static enum fw_status check_nitrogen(const struct fw_stockpile_part *part,
                                     const struct fw_stockpile_winter *winter,
                                     struct fw_error *err)
{
    const double base = fmax(winter->base_nitrogen_kg_ha, 0);
    const double all = base + part->nitrogen_kg_ha;
    if (!(fabs(all) <= FW_STOCK_NITROGEN_MOST))
        return fw_fail(err, FW_EINPUT,
                       "%.0f kg/ha of nitrogen; no trial gave more than %.0f "
                       "kg/ha (100 lb/acre), so that nobody knows what it does",
                       all, FW_STOCK_NITROGEN_MOST);
    return FW_OK;
}

enum fw_status fw_stockpile_check(const struct fw_stockpile_part *part,
                                  const struct fw_stockpile_winter *winter,
                                  struct fw_error *err)
{
    if (!(winter->lat_deg >= 0))
        return fw_fail(err, FW_EINPUT,
                       "the fields lie at %.1f degrees south: every line that "
                       "is published is from north of the equator, where "
                       "winter comes in December; there is none to go by",
                       -winter->lat_deg);
    if (!(winter->loss >= 0 && winter->loss <= FW_STOCK_LOSS_MOST))
        return fw_fail(err, FW_EINPUT,
                       "winter takes %g %%; expected 0 to %g %%",
                       100 * winter->loss, 100 * FW_STOCK_LOSS_MOST);
    if (!(part->area_ha > 0))
        return fw_fail(err, FW_EINPUT, "has %g ha; expected over 0",
                       part->area_ha);
    if (!(part->left_m >= 0 && part->topped_m >= 0 && part->stop_m >= 0))
        return fw_fail(
            err, FW_EINPUT,
            "a height is negative or missing; expected 0 cm or more");
    if (part->topped_day != FW_NO_DAY && part->topped_m < part->stop_m)
        return fw_fail(err, FW_EINPUT,
                       "topped to %.3g cm, below the stop height of %.3g cm: "
                       "that harms what regrows; expected %.3g cm or more",
                       100 * part->topped_m, 100 * part->stop_m,
                       100 * part->stop_m);
    const enum fw_status status = check_dates(part, winter, err);
    return status ? status : check_nitrogen(part, winter, err);
}
