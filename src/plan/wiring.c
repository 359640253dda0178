/* What the current meets where nobody told anything. */
#include "fence/fence.h"
#include "figures/farm.h"
#include "figures/power.h"
#include "plan/terms.h"
#include "power/power.h"

static double conductor(const char *word)
{
    const struct fw_conductor *row = NULL;
    return fw_power_conductor_find(word, &row, NULL) ? 0 : row->ohm_m;
}

static double soil(const char *word)
{
    const struct fw_soil_row *row = NULL;
    return fw_power_soil_find(word, &row, NULL) ? 0 : row->ohm_m;
}

struct fw_farm_wiring fw_farm_wiring_default(void)
{
    return (struct fw_farm_wiring){
        .moved_ohm_m = conductor(FW_CONDUCTOR),
        .perimeter_ohm_m = conductor(FW_PERIMETER_CONDUCTOR),
        .lead_ohm_m = conductor(FW_LEAD_CONDUCTOR),
        .perimeter_strands = fw_fence_perimeter_default().spec.strands,
        .bonded = FW_BONDED_LIVE_END,
        .lead_m = -1,
        .soil_ohm_m = soil(FW_EARTH_SOIL),
        .rod_v = FW_ROD_USUAL_V,
        .interval_s = FW_PULSE_INTERVAL_S,
        .charge_days = FW_CHARGE_DAYS,
        .sun_h = FW_SUN_H,
    };
}
