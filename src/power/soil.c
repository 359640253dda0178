/* How badly soils conduct. */
#include "figures/power.h"
#include "power/power.h"
#include "power/words.h"

#define ROW(id)                                                                \
    {                                                                          \
        FW_##id##_NAME + sizeof "soil." - 1, FW_##id##_WHAT, FW_##id##_LEAST,  \
            FW_##id, FW_##id##_MOST, FW_##id##_SOURCE, FW_##id##_MARK          \
    }

static const struct fw_soil_row rows[] = {
    ROW(SOIL_BOG),       ROW(SOIL_CLAY),        ROW(SOIL_LOAM),
    ROW(SOIL_SILT_CLAY), ROW(SOIL_CLAY_SAND),   ROW(SOIL_MOIST_SAND),
    ROW(SOIL_SILT_SAND), ROW(SOIL_CLAY_GRAVEL), ROW(SOIL_MOIST_GRAVEL),
    ROW(SOIL_PEAT),      ROW(SOIL_GRAVEL),      ROW(SOIL_COARSE_GRAVEL),
    ROW(SOIL_FROZEN),    ROW(SOIL_STONY),
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
