/* A feature's outline in longitude and latitude, on its way into the farm. */
#ifndef FW_MAPPED_OUTLINE_H
#define FW_MAPPED_OUTLINE_H

#include "farm/farm.h"
#include "io/io.h"

struct fw_farm__outline {
    enum fw_feature_kind kind;
    struct fw_lonlat *points; /* rings one after the other, not closed */
    size_t *ring_start;
    size_t ring_count;
};

/* A closed line of a role that wants areas is an area. crs NULL: the feature
 * is in longitude and latitude. FW_EINPUT: it lies outside its system. */
enum fw_status fw_farm__outline_init(struct fw_farm__outline *outline,
                                     const struct fw_feature *feature,
                                     enum fw_role role, struct fw_crs *crs,
                                     struct fw_error *err);

/* An edge is straight in the system of its file: where that is a bow on the
 * ground it gets points in between, to within a millimetre. Releases the
 * outline when it fails. */
enum fw_status fw_farm__outline_straighten(struct fw_farm__outline *outline,
                                           const struct fw_feature *feature,
                                           struct fw_crs *crs,
                                           struct fw_error *err);
void fw_farm__outline_release(struct fw_farm__outline *outline);

#endif
