/* What wires are made of, and so what they resist. Twisted strands of drawn
 * steel and copper side by side: rho / (n pi d^2 / 4). */
#include "base/fail.h"
#include "figures/power.h"
#include "power/power.h"
#include "power/words.h"

#define ROW(id)                                                                \
    {                                                                          \
        FW_##id##_NAME + sizeof "wire." - 1, FW_##id##_WHAT, FW_##id,          \
            FW_##id##_SOURCE, FW_##id##_MARK                                   \
    }

static const struct fw_conductor rows[] = {
    ROW(WIRE_STEEL_25),     ROW(WIRE_STEEL_20),    ROW(WIRE_STEEL_18),
    ROW(WIRE_STEEL_16),     ROW(WIRE_STEEL_CABLE), ROW(WIRE_ALUMINIUM_25),
    ROW(WIRE_ALUMINIUM_20), ROW(WIRE_COATED_25),   ROW(WIRE_POLY_3_15),
    ROW(WIRE_POLY_3_20),    ROW(WIRE_POLY_6_16),   ROW(WIRE_POLY_6_20),
    ROW(WIRE_POLY_9_20),    ROW(WIRE_COPPER_1_40), ROW(WIRE_COPPER_3_25),
    ROW(WIRE_NETTING),
};
static const size_t row_count = sizeof rows / sizeof rows[0];

const struct fw_conductor *fw_power_conductors(size_t *count)
{
    *count = row_count;
    return rows;
}

enum fw_status fw_power_conductor_find(const char *word,
                                       const struct fw_conductor **out,
                                       struct fw_error *err)
{
    const char *words[sizeof rows / sizeof rows[0]];
    for (size_t i = 0; i < row_count; i++)
        words[i] = rows[i].word;
    const struct fw_power_words table = {words, row_count, "a conductor",
                                         "a data sheet's \"3.82 ohm/m\""};
    size_t found;
    const enum fw_status status = fw_power__find(&table, word, &found, err);
    if (!status)
        *out = &rows[found];
    return status;
}
