/* Boxes in longitude and latitude, to pass over what lies elsewhere. */
#ifndef FW_MAPPED_NEAR_H
#define FW_MAPPED_NEAR_H

#include "farm/farm.h"

struct fw_farm__near {
    double west, east, south, north;
};

struct fw_farm__near fw_farm__near_field(const struct fw_field *field);
struct fw_farm__near
fw_farm__near_feature(const struct fw_farm_feature *feature);

/* Do they come within so many metres of each other? May say yes of a little
 * more. */
bool fw_farm__near_meets(const struct fw_farm__near *field,
                         const struct fw_farm__near *feature, double reach_m);

/* The feature's points in the plane; free with fw_free. */
struct fw_point *fw_farm__in_plane(const struct fw_plane *plane,
                                   const struct fw_farm_feature *feature,
                                   struct fw_error *err);

#endif
