/* The volts that turn a sheep. No published pair for wool and hair was found:
 * the lower figure for hair is judgement. */
#include "power/power.h"

#include "figures/power.h"

#define WANTED(id)                                                             \
    {                                                                          \
        FW_##id, FW_VOLTS_TOUCHED_V, FW_##id##_SOURCE, FW_##id##_MARK          \
    }

static const struct fw_power_wanted dry = WANTED(VOLTS_DRY_V);
static const struct fw_power_wanted wool = WANTED(VOLTS_WOOL_V);
static const struct fw_power_wanted hair = WANTED(VOLTS_HAIR_V);

struct fw_power_wanted fw_power_wanted_volts(bool woolled, bool dry_soil)
{
    return dry_soil ? dry : woolled ? wool : hair;
}

bool fw_power_meets(const struct fw_power_wanted *wanted, double open_v,
                    double touched_v)
{
    return open_v >= wanted->open_v && touched_v >= wanted->touched_v;
}
