/* A part on a day: what stands, what they take, and how long that feeds them.
 */
#include "winter/winter.h"

#include "figures/stockpile.h"

enum fw_stockpile_class fw_winter_class(const struct fw_winter *winter, int day)
{
    const struct fw_lambing *lambing = &winter->farm->lambing;
    if (!lambing->given || day < lambing->from - FW_STOCK_GESTATION_DAYS)
        return FW_STOCKPILE_DRY;
    return day < lambing->from - FW_STOCK_LATE_DAYS ? FW_STOCKPILE_EARLY
                                                    : FW_STOCKPILE_LATE;
}

void fw_winter__row(const struct fw_winter *winter,
                    const struct fw_stockpile_winter *through,
                    const struct fw_stockpile_part *part, int day,
                    struct fw_winter_row *out)
{
    *out = (struct fw_winter_row){.day = day};
    fw_stockpile_stands(part, through, day, &out->stand);
    out->share = fw_stockpile_share(through->break_days, out->stand.dead);
    out->taken_kg = out->stand.mass_kg_ha * out->share * part->area_ha;
    for (int k = 0; k < FW_STOCKPILE_CLASS_COUNT; k++)
        fw_stockpile_feeds(&winter->flock, (enum fw_stockpile_class)k,
                           out->stand.digest, out->stand.protein, out->taken_kg,
                           &out->fed[k]);
}
