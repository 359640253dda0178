/* Areas in the plane between us and GEOS. */
#ifndef FW_CRS_GEOS_H
#define FW_CRS_GEOS_H

#include "geo/geo.h"
#include <geos_c.h>

/* Each of these gives NULL when GEOS cannot, which is for want of memory or
 * because coordinates are not finite. */

/* A polygon of rings one after the other, made valid when it is not; or with
 * is_area false the line or point of the first ring. */
GEOSGeometry *fw_geos_shape(GEOSContextHandle_t geos,
                            const struct fw_point *points,
                            const size_t *ring_start, size_t ring_count,
                            bool is_area);
GEOSGeometry *fw_geos_field(GEOSContextHandle_t geos,
                            const struct fw_field *field);

/* Polygons only: what has no area is left out. Takes the geometry. */
GEOSGeometry *fw_geos_areas(GEOSContextHandle_t geos, GEOSGeometry *geometry);

double fw_geos_area_m2(GEOSContextHandle_t geos, const GEOSGeometry *geometry);

/* The rings of a polygon, not closed; outer first and anticlockwise, holes
 * clockwise. Both arrays are the caller's. */
enum fw_status fw_geos_rings(GEOSContextHandle_t geos,
                             const GEOSGeometry *polygon,
                             struct fw_point **points, size_t **ring_start,
                             size_t *ring_count, struct fw_error *err);

#endif
