/* Where a fence and the outline of a feature meet. Maps share vertices: a path
 * that ends on a boundary and goes on as another one crosses it as surely as
 * one that passes through, so touching counts. */
#include "base/alloc.h"
#include "base/array.h"
#include "figures/mark.h"
#include "figures/safety.h"
#include "safety/plane.h"

#include <math.h>

/* Nearer than this two places are one; edges are kept straight to it. */
static const double same_m = FW_TOLERANCE(0.001);

/* The least angle among the sides that meet there. */
static double angle_at(const struct fw_point *line, size_t count,
                       const struct fw_safety_shape *shape,
                       struct fw_point where)
{
    double least_deg = 90;
    for (size_t i = 1; i < count; i++) {
        if (fw_segment_distance_m(where, line[i - 1], line[i]) > same_m)
            continue;
        for (size_t r = 0; r < shape->ring_count; r++)
            for (size_t k = 0; k < fw_safety__ring_sides(shape, r); k++) {
                struct fw_point c, d;
                fw_safety__side(shape, r, k, &c, &d);
                if (fw_segment_distance_m(where, c, d) <= 2 * same_m)
                    least_deg =
                        fmin(least_deg,
                             fw_safety__angle_deg(line[i - 1], line[i], c, d));
            }
    }
    return least_deg;
}

static enum fw_status add(const struct fw_point *line, size_t count,
                          const struct fw_safety_shape *shape, double at_m,
                          struct fw_crossings *out, struct fw_error *err)
{
    const enum fw_status status = fw_array_reserve(
        &out->items, &out->capacity, out->count + 1, sizeof *out->items, err);
    if (status)
        return status;
    const struct fw_point where = fw_safety_along(line, count, at_m);
    out->items[out->count++] =
        (struct fw_crossing){at_m, where, angle_at(line, count, shape, where)};
    return FW_OK;
}

enum fw_status fw_crossings_find(const struct fw_point *line, size_t count,
                                 const struct fw_safety_shape *shape,
                                 struct fw_crossings *out, struct fw_error *err)
{
    struct fw_stretches met = {0};
    enum fw_status status =
        fw_safety__near_outline(line, count, shape, same_m, 90, &met, err);
    if (!status)
        fw_stretches_join(&met, same_m);
    out->count = 0;
    out->lies_along = false;
    for (size_t i = 0; !status && i < met.count; i++) {
        const struct fw_stretch *one = &met.items[i];
        if (one->to_m - one->from_m > FW_CROSSING_MOST_M)
            out->lies_along = true;
        else
            status = add(line, count, shape, (one->from_m + one->to_m) / 2, out,
                         err);
    }
    fw_stretches_release(&met);
    return status;
}

void fw_crossings_release(struct fw_crossings *crossings)
{
    fw_free(crossings->items);
    *crossings = (struct fw_crossings){0};
}
