/* The voltages that power lines are built for. What a map gives beside these
 * is a slip of the pen, another unit or no voltage at all. */
#include "safety/safety.h"

#include "figures/mark.h"
#include "figures/safety.h"

#include <math.h>

/* A map says 12.5 where the list has 12.47. */
static const double same_share = FW_TOLERANCE(0.005);

#define ROW(id)                                                                \
    {                                                                          \
        FW_##id, sizeof FW_##id / sizeof *FW_##id                              \
    }

static const struct {
    const double *kv;
    size_t count;
} rows[] = {ROW(NOMINAL_LOW_KV),      ROW(NOMINAL_TRACTION_KV),
            ROW(NOMINAL_MEDIUM_KV),   ROW(NOMINAL_AMERICAN_KV),
            ROW(NOMINAL_ONE_WIRE_KV), ROW(NOMINAL_HIGH_KV),
            ROW(NOMINAL_HIGHEST_KV),  ROW(NOMINAL_OLDER_KV)};

bool fw_safety_is_nominal_kv(double kv)
{
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++)
        for (size_t k = 0; k < rows[i].count; k++)
            if (fabs(kv - rows[i].kv[k]) <= same_share * rows[i].kv[k])
                return true;
    return false;
}
