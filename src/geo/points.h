/* Points of a plane, and ways from one to another. */
#ifndef FW_GEO_POINTS_H
#define FW_GEO_POINTS_H

#include "base/length.h"
#include "geo/geo.h"

static inline struct fw_point fw_point_minus(struct fw_point a,
                                             struct fw_point b)
{
    return (struct fw_point){a.x_m - b.x_m, a.y_m - b.y_m};
}

static inline double fw_point_apart_m(struct fw_point a, struct fw_point b)
{
    return fw_length(a.x_m - b.x_m, a.y_m - b.y_m);
}

/* Twice the area between two ways: over 0 where b turns left from a. */
static inline double fw_point_cross(struct fw_point a, struct fw_point b)
{
    return a.x_m * b.y_m - a.y_m * b.x_m;
}

/* t of the way from a to b. */
static inline struct fw_point fw_point_between(struct fw_point a,
                                               struct fw_point b, double t)
{
    return (struct fw_point){a.x_m + (b.x_m - a.x_m) * t,
                             a.y_m + (b.y_m - a.y_m) * t};
}

#endif
