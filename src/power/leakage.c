/* What leaks from a wire to the ground, in classes that a person can tell by
 * looking. They rest on rules of thumb turned into ohms; a tester at the far
 * end is the judge. */
#include "base/fail.h"
#include "figures/mark.h"
#include "figures/power.h"
#include "power/power.h"
#include "power/words.h"

#define ROW(class, id)                                                         \
    {                                                                          \
        FW_LEAKAGE_##class, FW_##id##_NAME + sizeof "leaks." - 1,              \
            FW_##id##_WHAT, FW_##id, FW_##id##_SOURCE, FW_##id##_MARK          \
    }

static const struct fw_leakage_row rows[FW_LEAKAGE_COUNT] = {
    ROW(CLEAN, LEAKS_CLEAN), ROW(NORMAL, LEAKS_NORMAL),
    ROW(LIGHT, LEAKS_LIGHT), ROW(MODERATE, LEAKS_MODERATE),
    ROW(HEAVY, LEAKS_HEAVY),
};

const struct fw_leakage_row *fw_power_leakage(enum fw_leakage leakage)
{
    return (unsigned)leakage < FW_LEAKAGE_COUNT ? &rows[leakage] : NULL;
}

enum fw_status fw_power_leakage_find(const char *word, enum fw_leakage *out,
                                     struct fw_error *err)
{
    const char *words[FW_LEAKAGE_COUNT];
    for (size_t i = 0; i < FW_LEAKAGE_COUNT; i++)
        words[i] = rows[i].word;
    const struct fw_power_words table = {words, FW_LEAKAGE_COUNT,
                                         "a class of leakage",
                                         "a value such as \"1000 ohm.km\""};
    size_t found;
    const enum fw_status status = fw_power__find(&table, word, &found, err);
    if (!status)
        *out = rows[found].leakage;
    return status;
}

enum fw_leakage fw_power_leakage_untold(bool growing)
{
    return growing ? FW_LEAKAGE_LIGHT : FW_LEAKAGE_NORMAL;
}

enum fw_leakage fw_power_leakage_under(double grass_m, double wire_m,
                                       bool laid_flat, bool growing)
{
    if (!(grass_m > 0))
        return fw_power_leakage_untold(growing);
    if (grass_m <= wire_m / 2)
        return FW_LEAKAGE_NORMAL;
    if (grass_m <= wire_m)
        return fw_power_leakage_untold(growing);
    if (laid_flat)
        return FW_LEAKAGE_LIGHT;
    return grass_m > 2 * wire_m ? FW_LEAKAGE_HEAVY : FW_LEAKAGE_MODERATE;
}

double fw_power_leakage_ohm_km(enum fw_leakage bottom, int strand, bool growing)
{
    if ((unsigned)bottom >= FW_LEAKAGE_COUNT)
        return 0;
    const bool better = growing && strand > 0 && bottom > FW_LEAKAGE_CLEAN;
    return rows[better ? bottom - 1 : bottom].ohm_km;
}

enum fw_status fw_power_bond(double ohm_m, const double *leak_ohm_km,
                             size_t strands, double *fence_ohm_m,
                             double *fence_leak_ohm_km, struct fw_error *err)
{
    if (strands == 0)
        return fw_fail(err, FW_EINPUT,
                       "fence has no strand; expected 1 or "
                       "more");
    if (!(ohm_m > 0))
        return fw_fail(err, FW_EINPUT, "wire is %g ohm/m; expected over 0",
                       ohm_m);
    double leak = 0;
    for (size_t i = 0; i < strands; i++) {
        if (!(leak_ohm_km[i] > 0))
            return fw_fail(err, FW_EINPUT,
                           "strand %zu leaks at %g ohm km; expected over 0",
                           i + 1, leak_ohm_km[i]);
        leak += 1 / leak_ohm_km[i];
    }
    *fence_ohm_m = ohm_m / (double)strands;
    *fence_leak_ohm_km = 1 / leak;
    return FW_OK;
}
