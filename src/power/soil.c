/* How badly soils conduct. Where print has a range and no middle, its upper end
 * is reckoned with: too many rods do no harm. */
#include "power/words.h"
#include <foldwright/power.h>

#define AVERAGES "saecanet.com, table of averages"
#define RANGES                                                                 \
    "table 1 of an earthing note after IEEE 142 and BS 7430 (Pangonilo)"

#define FROZEN                                                                 \
    "a maker's book on testing earths, table of temperature: 300 as ice at "   \
    "0 C, 790 at -5, 3,300 at -15; 72 at 20 C"

static const struct fw_soil_row rows[] = {
    {"bog", "bog", 30, 30, 30, AVERAGES, FW_MARK_PUBLISHED},
    {"clay", "heavy clay", 40, 40, 40, AVERAGES, FW_MARK_PUBLISHED},
    {"loam", "loam, silt, sandy clay, humus", 100, 100, 100, AVERAGES,
     FW_MARK_PUBLISHED},
    {"silt-clay", "silty or clayey sand that sticks a little", 30, 80, 80,
     RANGES, FW_MARK_PUBLISHED},
    {"clay-sand", "clayey sand", 50, 200, 200, RANGES, FW_MARK_PUBLISHED},
    {"moist-sand", "moist sand", 50, 200, 3000, AVERAGES, FW_MARK_PUBLISHED},
    {"silt-sand", "silty sand", 100, 800, 800, RANGES, FW_MARK_PUBLISHED},
    {"clay-gravel", "clayey gravel", 200, 400, 400, RANGES, FW_MARK_PUBLISHED},
    {"moist-gravel", "moist gravel", 1000, 1000, 1000, AVERAGES,
     FW_MARK_PUBLISHED},
    {"peat", "peat", 200, 1200, 1200, AVERAGES, FW_MARK_PUBLISHED},
    {"gravel", "gravel of all sizes", 600, 1000, 1000, RANGES,
     FW_MARK_PUBLISHED},
    {"coarse-gravel", "gravel of one size", 1000, 2500, 2500, RANGES,
     FW_MARK_PUBLISHED},
    {"frozen", "frozen at -5 C, sandy loam", 300, 790, 3300, FROZEN,
     FW_MARK_PUBLISHED},
    {"stony", "stony or on rock", 2000, 2000, 2000, AVERAGES,
     FW_MARK_PUBLISHED},
};
static const size_t row_count = sizeof rows / sizeof rows[0];

const struct fw_soil_row *fw_power_soils(size_t *count)
{
    *count = row_count;
    return rows;
}

enum fw_status fw_power_soil_find(const char *word,
                                  const struct fw_soil_row **out,
                                  struct fw_error *err)
{
    const char *words[sizeof rows / sizeof rows[0]];
    for (size_t i = 0; i < row_count; i++)
        words[i] = rows[i].word;
    const struct fw_power_words table = {words, row_count, "a soil",
                                         "a value such as \"100 ohm.m\""};
    size_t found;
    const enum fw_status status = fw_power__find(&table, word, &found, err);
    if (!status)
        *out = &rows[found];
    return status;
}
