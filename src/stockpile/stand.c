/* What stands of a part on a day of winter. */
#include "stockpile/stockpile.h"

#include "figures/growth.h"
#include "figures/stockpile.h"
#include "stockpile/inner.h"

#include <math.h>

/* Topping to what the grazing left, or higher, takes seed heads and no grass:
 * the part stays closed from its grazing. */
static bool topping_cut(const struct fw_stockpile_part *part)
{
    return part->topped_day != FW_NO_DAY &&
           (part->grazed_day == FW_NO_DAY || part->topped_m < part->left_m);
}

int fw_stockpile__closed(const struct fw_stockpile_part *part)
{
    return topping_cut(part) ? part->topped_day : part->grazed_day;
}

static double carried_kg_ha(const struct fw_stockpile_part *part)
{
    const double stands_m = topping_cut(part) ? part->topped_m : part->left_m;
    return fmax(stands_m - part->stop_m, 0) * part->density_kg_ha_m;
}

/* Where trials differ, the gain that leaves the flock more grass than it is
 * told. */
static double nitrogen_gain(const struct fw_stockpile_part *part,
                            const struct fw_stockpile_winter *winter)
{
    if (winter->nitrogen_gain > 0)
        return winter->nitrogen_gain;
    return part->nitrogen_kg_ha < 0 ? FW_STOCK_NITROGEN_GAIN_MOST
                                    : FW_STOCK_NITROGEN_GAIN;
}

/* New grass when its mass was measured. */
static double grown_kg_ha(const struct fw_stockpile_part *part,
                          const struct fw_stockpile_winter *winter, int closed)
{
    const double line_kg_ha = fw_stockpile_at(
        &winter->line->mass_kg_ha, fw_stockpile_of_year(closed), false);
    return fmax(fmax(line_kg_ha, 0) +
                    nitrogen_gain(part, winter) * part->nitrogen_kg_ha,
                0);
}

/* When winter's loss begins: what was cut in December has lost until then. */
static int loss_from(const struct fw_stockpile_winter *winter)
{
    const int cut = winter->line->cut_of_year;
    const int day =
        cut ? fw_stockpile_day(fw_date_year(winter->frost_day), cut) : 0;
    return day > winter->frost_day ? day : winter->frost_day;
}

static double kept(const struct fw_stockpile_winter *winter, int day)
{
    const int days = day - loss_from(winter);
    if (winter->line->spring || days <= 0)
        return 1;
    return pow(1 - winter->loss, (double)days / FW_WINTER_DAYS);
}

struct fw_stockpile_part
fw_stockpile_untopped(const struct fw_stockpile_part *part)
{
    struct fw_stockpile_part out = *part;
    if (part->grazed_day != FW_NO_DAY)
        out.topped_day = FW_NO_DAY;
    return out;
}

/* Where much was left above the stop height, that has stood for longer than
 * anybody told, which is as good as rank. */
static enum fw_stockpile_condition
condition_of(const struct fw_stockpile_winter *winter, int closed,
             double carried)
{
    const int days = winter->frost_day - closed;
    if (carried > FW_STOCK_OLD_KG_HA || days > FW_STOCK_AGED_DAYS)
        return FW_STOCKPILE_RANK;
    return days > FW_STOCK_FRESH_DAYS ? FW_STOCKPILE_AGED : FW_STOCKPILE_FRESH;
}

void fw_stockpile_stands(const struct fw_stockpile_part *part,
                         const struct fw_stockpile_winter *winter, int day,
                         struct fw_stockpile_stand *out)
{
    const int closed = fw_stockpile__closed(part);
    const double carried = carried_kg_ha(part);
    const double grown =
        fmin(grown_kg_ha(part, winter, closed), FW_GROWTH_CEILING_KG_HA);
    const double all = fmin(grown + carried, FW_GROWTH_CEILING_KG_HA);
    *out = (struct fw_stockpile_stand){
        .closed_day = closed,
        .carried_kg_ha = carried,
        .mass_kg_ha = all * kept(winter, day),
        .old_share = all > 0 ? 1 - fmin(grown, all) / all : 0,
        .condition = condition_of(winter, closed, carried),
    };
    fw_stockpile__quality(winter, day, out);
}
