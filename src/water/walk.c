#include "water/water.h"

#include "figures/water.h"

#include <math.h>
#include <stddef.h>

struct fw_walk fw_water_walk(const struct fw_point *points,
                             const size_t *ring_start, size_t ring_count,
                             struct fw_point water)
{
    struct fw_walk walk = {.known = false};
    double mean_m = 0, longest_m = 0;
    if (ring_count == 1 && fw_ring_straight_walk(points + ring_start[0],
                                                 ring_start[1] - ring_start[0],
                                                 water, &mean_m, &longest_m))
        walk = (struct fw_walk){
            .known = true, .mean_m = mean_m, .longest_m = longest_m};
    return walk;
}

double fw_water_level_m(double way_m, double climb_to_m, double climb_back_m)
{
    const double climb_m = (climb_to_m + climb_back_m) / 2;
    return way_m + (isnan(climb_m) ? 0 : FW_CLIMB_LEVEL_M * climb_m);
}

bool fw_water_climbs(double way_m, double climb_to_m, double climb_back_m)
{
    return fw_water_level_m(way_m, climb_to_m, climb_back_m) >
           way_m * (1 + FW_CLIMB_SAID_SHARE);
}

/* A test holds the figures in these texts against the register. */
const char *fw_water_distance_word(double longest_m)
{
    if (longest_m > FW_WATER_TOO_FAR_M)
        return "over 600 m, the most for sheep in summer (DPIRD Western "
               "Australia, AgMemo, December 2018)";
    if (longest_m > FW_WATER_FAR_M)
        return "over 250 m (800 ft), the most advised to any point of a "
               "paddock (University of Kentucky, March 2012; Teagasc)";
    return NULL;
}
