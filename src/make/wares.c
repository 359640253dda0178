/* Rows of what feeds a fence, for the list of a plan and of a bare field. */
#include "base/text.h"
#include "figures/mark.h"
#include "figures/say.h"
#include "make/parts.h"

#include <stdio.h>

struct fw_material fw_plan__energizer_row(const struct fw_energizer *energizer,
                                          const struct fw_prices *prices)
{
    struct fw_material row = fw_fence_material(FW_WARE_ENERGIZER, 1, prices);
    fw_text_format(row.item, sizeof row.item, "energizer, %.3g J output",
                   energizer->joules);
    snprintf(row.note, sizeof row.note, "%.140s", energizer->rule_source);
    return row;
}

struct fw_material fw_plan__rod_row(const struct fw_energizer *energizer,
                                    enum fw_units units,
                                    const struct fw_prices *prices)
{
    struct fw_material row =
        fw_fence_material(FW_WARE_EARTH_ROD, energizer->rods, prices);
    char rod[FW_SAID];
    snprintf(row.item, sizeof row.item, "earth rod, %s",
             fw_say_wanted(energizer->rod_m, units, FW_UP, rod));
    snprintf(row.note, sizeof row.note, "%.140s", energizer->rod_source);
    return row;
}
