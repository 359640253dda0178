/* What the core asks of the world beyond a field's plane: the ellipsoid, the
 * systems of maps, and how areas lie upon each other. src/crs answers with PROJ
 * and GEOS, and a program without them with what it has. */
#ifndef FW_GEO_WORLD_H
#define FW_GEO_WORLD_H

#include "geo/herbage.h"

struct fw_crs; /* a coordinate system: its owner's */

struct fw_world {
    /* A system by its definition, to be given back. */
    enum fw_status (*lend)(const char *definition, struct fw_crs **out,
                           struct fw_error *err);
    void (*give_back)(struct fw_crs *crs);
    /* How many of its units make a full circle of longitude; 0 when x is none.
     */
    double (*turn)(const struct fw_crs *crs);
    enum fw_status (*from_lonlat)(struct fw_crs *crs,
                                  const struct fw_lonlat *in, struct fw_xy *out,
                                  size_t count, struct fw_error *err);
    /* Inside a ring whose edges are straight in the system, near the centre of
     * the plane; anticlockwise is positive. */
    enum fw_status (*area_m2)(struct fw_crs *crs, const struct fw_plane *plane,
                              const struct fw_xy *ring, size_t count,
                              double *out, struct fw_error *err);
    double (*bearing_deg)(struct fw_lonlat a, struct fw_lonlat b);
    double (*length_m)(const struct fw_lonlat *line, size_t count, bool closed);
    /* The second greatest part that a bar leaves of a polygon with holes; 0
     * when it leaves one. */
    enum fw_status (*apart_m2)(const struct fw_point *points,
                               const size_t *ring_start, size_t ring_count,
                               const struct fw_bar *bar, double *out,
                               struct fw_error *err);
};

#endif
