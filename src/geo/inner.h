/* What the files of this folder share and nobody else needs. */
#ifndef FW_GEO_INNER_H
#define FW_GEO_INNER_H

#include "geo/geo.h"

/* x moved by full turns to within half a turn of `near`; untouched, bit by
 * bit, when it is there already. turn 0 leaves it alone. */
double fw_unwrap(double x, double near, double turn);

/* t of the way from a, 0, to b, 1, in each kind of coordinate; `turn` is that
 * of the file's system. */
struct fw_vertex fw_geo__between(const struct fw_vertex *a,
                                 const struct fw_vertex *b, double t,
                                 double turn);

/* Where a straight piece of a line passes nearest to a point: from, 0, to its
 * end, 1. */
double fw_geo__nearest_on(struct fw_point from, struct fw_point to,
                          struct fw_point at, double *away_m);

/* As fw_ring_area_m2, in the file's own units; longitudes may jump by `turn`.
 */
double fw_xy_area(const struct fw_xy *ring, size_t count, double turn);

/* Does the edge cross the ray that runs from the point eastwards? */
bool fw_edge_crosses_ray(struct fw_point a, struct fw_point b,
                         struct fw_point point);

/* Area and corners of a field whose vertices and rings are in place; corners
 * has room for the outer ring. */
enum fw_status fw_field__finish(struct fw_field *field, struct fw_error *err);

/* In the plane; positive when it runs anticlockwise. */
double fw_field__ring_area(const struct fw_vertex *ring, size_t count);

/* Choose the corners of a ring of input vertices, which runs anticlockwise:
 * fills `corners` (room for count) with positions in `ring`, numbered as
 * struct fw_field says. At least 3 when count is. */
enum fw_status fw_corners_find(const struct fw_point *ring, size_t count,
                               size_t *corners, size_t *corner_count,
                               struct fw_error *err);

#endif
