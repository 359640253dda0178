/* The volts that turn a sheep. No published pair for wool and hair was found:
 * the lower figure for hair is judgement. */
#include <foldwright/power.h>

#define TOUCHED "touched: NRCS Iowa job sheet, Fence: Electric"

static const struct fw_power_wanted dry = {
    5000, 2000, "dry soil: a seller's page that quotes DIN VDE 0131; " TOUCHED,
    FW_MARK_PUBLISHED};
static const struct fw_power_wanted wool = {
    4000, 2000, "Bavarian LfL, Elektrische Einzäunung; " TOUCHED,
    FW_MARK_PUBLISHED};
static const struct fw_power_wanted hair = {
    3000, 2000,
    "hair or fresh shorn, trained: common practice, no source; " TOUCHED,
    FW_MARK_PRACTICE};

struct fw_power_wanted fw_power_wanted_volts(bool woolled, bool dry_soil)
{
    return dry_soil ? dry : woolled ? wool : hair;
}

bool fw_power_meets(const struct fw_power_wanted *wanted, double open_v,
                    double touched_v)
{
    return open_v >= wanted->open_v && touched_v >= wanted->touched_v;
}
