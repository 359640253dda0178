/* What topping a part did: no trial is found that shows its gain, so that it is
 * laid between old grass at its worst and at its best. */
#include "winter/winter.h"

#include "figures/stockpile.h"

#include <math.h>

/* The day after the grazing, to the stop height. */
static struct fw_stockpile_part topped(const struct fw_stockpile_part *part)
{
    struct fw_stockpile_part out = *part;
    out.topped_day = part->grazed_day + FW_STOCK_TOP_BEST;
    out.topped_m = part->stop_m;
    return out;
}

static void at_best(const struct fw_winter *winter, struct fw_winter_row *row,
                    const struct fw_stockpile_part *part)
{
    const double break_days = winter->farm->stockpile.winter.break_days;
    struct fw_stockpile_stand *stand = &row->stand;
    stand->dead *= stand->old_share > 0 ? 1 - stand->old_share : 1;
    stand->digest = stand->digest_best;
    row->share = fw_stockpile_share(break_days, stand->dead);
    row->taken_kg = stand->mass_kg_ha * row->share * part->area_ha;
    for (int k = 0; k < FW_STOCKPILE_CLASS_COUNT; k++)
        fw_stockpile_feeds(&winter->flock, (enum fw_stockpile_class)k,
                           stand->digest, stand->protein, row->taken_kg,
                           &row->fed[k]);
}

void fw_winter__topping(const struct fw_winter *winter,
                        struct fw_winter_part *part)
{
    const struct fw_stockpile_winter *through = &winter->farm->stockpile.winter;
    const struct fw_stockpile_part *told = part->part;
    struct fw_winter_topping *out = &part->topping;
    out->done = told->topped_day != FW_NO_DAY;
    const struct fw_stockpile_part with = out->done ? *told : topped(told);
    const struct fw_stockpile_part without = fw_stockpile_untopped(told);
    out->cuts = told->grazed_day == FW_NO_DAY || with.topped_m < told->left_m;
    out->after_days =
        told->grazed_day == FW_NO_DAY ? -1 : with.topped_day - told->grazed_day;
    out->late = out->after_days > FW_STOCK_TOP_LAST;
    out->swath_kg_ha =
        told->grazed_day == FW_NO_DAY
            ? 0
            : fmax(told->left_m - with.topped_m, 0) * told->density_kg_ha_m;
    out->heavy = out->swath_kg_ha > FW_STOCK_SWATH;
    out->hours = told->area_ha / FW_STOCK_TOP_HA_HOUR;
    fw_winter__row(winter, through, &with, winter->middle_day, &out->with);
    fw_winter__row(winter, through, &without, winter->middle_day,
                   &out->without);
    out->without_best = out->without;
    at_best(winter, &out->without_best, &without);
}
