/* What the files of this folder share: sides of lines and rings. */
#ifndef FW_SAFETY_PLANE_H
#define FW_SAFETY_PLANE_H

#include "safety/safety.h"

/* The point of the side a-b nearest to p. */
struct fw_point fw_safety__closest(struct fw_point p, struct fw_point a,
                                   struct fw_point b);

/* How many sides a line or ring of so many points has; a single point is a
 * side without length. */
size_t fw_safety__sides(size_t count, bool closed);

/* The ends of side `side` of a ring of the shape, and how many it has. */
void fw_safety__side(const struct fw_safety_shape *shape, size_t ring,
                     size_t side, struct fw_point *a, struct fw_point *b);
size_t fw_safety__ring_sides(const struct fw_safety_shape *shape, size_t ring);

/* Inside an area, holes not counted; false for lines and points. */
bool fw_safety__inside(const struct fw_safety_shape *shape, struct fw_point p);

/* The distance between the boxes of two sides: never over that of the sides. */
double fw_safety__box_gap_m(struct fw_point a, struct fw_point b,
                            struct fw_point c, struct fw_point d);

/* The acute angle between a-b and c-d; 90 when one of them has no length. */
double fw_safety__angle_deg(struct fw_point a, struct fw_point b,
                            struct fw_point c, struct fw_point d);

/* As fw_stretches_find, of the shape's outline alone. */
enum fw_status fw_safety__near_outline(const struct fw_point *line,
                                       size_t count,
                                       const struct fw_safety_shape *shape,
                                       double reach_m, double most_deg,
                                       struct fw_stretches *out,
                                       struct fw_error *err);

#endif
