#include "base/fail.h"
#include "figures/mark.h"
#include "water/water.h"

#include <math.h>

enum fw_status fw_water_trips(double litres, double tank_l, int *out,
                              struct fw_error *err)
{
    const double most_trips = FW_BOUND(1e6);
    /* 236.0000001 gallons in a tank of 236 are one trip. */
    const double rounding = FW_TOLERANCE(1e-9);

    if (!(litres >= 0) || !isfinite(litres))
        return fw_fail(err, FW_EINPUT, "water is %g litres; expected 0 or more",
                       litres);
    if (!(tank_l > 0) || !isfinite(tank_l))
        return fw_fail(err, FW_EINPUT,
                       "tank holds %g litres; expected over 0, such as 500",
                       tank_l);
    const double trips = ceil(litres / tank_l * (1 - rounding));
    if (!(trips <= most_trips))
        return fw_fail(err, FW_EINPUT,
                       "%g litres in a tank of %g litres are over a million "
                       "trips; expected a larger tank",
                       litres, tank_l);
    *out = (int)trips;
    return FW_OK;
}
