/* A shape in repair: repair.c tidies its rings, mend.c lets GEOS judge
 * it, tangle.c counts crossings. */
#ifndef FW_CRS_REPAIR_H
#define FW_CRS_REPAIR_H

#include "geo/geo.h"

struct fw_repair {
    struct fw_shape shape;
    double turn; /* 360 when the shape lies across the antimeridian */
    const char *where;
    struct fw_notes *notes;
    struct fw_error *err;
};

static inline size_t fw_ring_size(const struct fw_shape *shape, size_t ring)
{
    return shape->ring_start[ring + 1] - shape->ring_start[ring];
}

static inline struct fw_xy *fw_ring_points(const struct fw_shape *shape,
                                           size_t ring)
{
    return shape->points + shape->ring_start[ring];
}

/* "outer ring: points given twice dropped: 2" */
enum fw_status fw_repair_note(struct fw_repair *repair, size_t ring,
                              const char *what, size_t count);

/* Outer ring anticlockwise, holes clockwise; each that is turned is counted
 * unless quiet. */
void fw_repair_turn(struct fw_repair *repair, bool quiet);

/* How often sides cross, of all rings; no more than `most` are counted. */
enum fw_status fw_repair_crossings(const struct fw_repair *repair, size_t most,
                                   size_t *out);

/* A copy of the shape without repeated points, its rings in their directions.
 * Release the repair's shape, also when that fails. */
enum fw_status fw_repair_tidy(const struct fw_shape *from,
                              struct fw_repair *repair);

#endif
