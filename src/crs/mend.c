/* Making a shape valid, where only one reading of it is possible.
 *
 * GEOS judges. Its context costs 40 ns, so that each call has its own; a valid
 * field of 50 vertices costs 6 us in all. */
#include "base/alloc.h"
#include "base/fail.h"
#include "base/length.h"
#include "crs/crs.h"
#include "crs/repair.h"
#include "geo/inner.h"

#include <geos_c.h>
#include <math.h>
#include <string.h>

/* No walk or drawing that can be mended crosses itself so often; GEOS takes
 * 20 us and 1 kB for each crossing. */
static const size_t most_crossings = 10000;

/* Nor has any field such a boundary, in lengths of that of a square of its
 * area: a strip of 1 m along 1 km has 8. */
static const double most_winding = 1500;

/* Part of the area that a repair may move. */
static const double most_moved = 1e-3;

/* ---- holes outside ---- */

static void drop_ring(struct fw_shape *shape, size_t ring)
{
    const size_t start = shape->ring_start[ring];
    const size_t end = shape->ring_start[ring + 1];
    memmove(shape->points + start, shape->points + end,
            (shape->point_count - end) * sizeof *shape->points);
    shape->point_count -= end - start;
    for (size_t r = ring; r < shape->ring_count; r++)
        shape->ring_start[r] = shape->ring_start[r + 1] - (end - start);
    shape->ring_count--;
}

static struct fw_point flat(const struct fw_repair *repair, struct fw_xy at)
{
    return (struct fw_point){
        fw_unwrap(at.x, repair->shape.points[0].x, repair->turn), at.y};
}

/* Strictly: a hole that only touches the outer ring has no point inside. */
static bool outer_holds(const struct fw_repair *repair, struct fw_xy at)
{
    const struct fw_xy *outer = repair->shape.points;
    const size_t count = fw_ring_size(&repair->shape, 0);
    const struct fw_point point = flat(repair, at);
    bool inside = false;
    for (size_t i = 0, before = count - 1; i < count; before = i++) {
        const struct fw_point edge[] = {flat(repair, outer[before]),
                                        flat(repair, outer[i])};
        if (!(fw_segment_distance_m(point, edge[0], edge[1]) > 0))
            return false;
        if (fw_edge_crosses_ray(edge[0], edge[1], point))
            inside = !inside;
    }
    return inside;
}

static enum fw_status drop_holes_outside(struct fw_repair *repair,
                                         bool *dropped)
{
    struct fw_shape *shape = &repair->shape;
    *dropped = false;
    for (size_t r = shape->ring_count - 1; r > 0; r--) {
        const struct fw_xy *hole = fw_ring_points(shape, r);
        const size_t count = fw_ring_size(shape, r);
        size_t out = 0;
        while (out < count && !outer_holds(repair, hole[out]))
            out++;
        if (out < count)
            continue;
        const enum fw_status status = fw_repair_note(
            repair, r, "dropped, it lies outside; points", count);
        if (status)
            return status;
        drop_ring(shape, r);
        *dropped = true;
    }
    return FW_OK;
}

/* ---- GEOS ---- */

static GEOSGeometry *geos_ring(GEOSContextHandle_t geos,
                               const struct fw_repair *repair, size_t ring)
{
    const size_t count = fw_ring_size(&repair->shape, ring);
    const struct fw_xy *points = fw_ring_points(&repair->shape, ring);
    GEOSCoordSequence *sequence =
        GEOSCoordSeq_create_r(geos, (unsigned)count + 1, 2);
    if (!sequence)
        return NULL;
    for (size_t i = 0; i <= count; i++) {
        const struct fw_point at = flat(repair, points[i < count ? i : 0]);
        GEOSCoordSeq_setXY_r(geos, sequence, (unsigned)i, at.x_m, at.y_m);
    }
    return GEOSGeom_createLinearRing_r(geos, sequence);
}

static void destroy_rings(GEOSContextHandle_t geos, GEOSGeometry **rings,
                          size_t count)
{
    for (size_t r = 0; r < count; r++)
        GEOSGeom_destroy_r(geos, rings[r]);
}

/* NULL when there is no memory. */
static GEOSGeometry *geos_polygon(GEOSContextHandle_t geos,
                                  const struct fw_repair *repair)
{
    const size_t count = repair->shape.ring_count;
    GEOSGeometry **rings = fw_alloc(count, sizeof *rings);
    if (!rings)
        return NULL;
    GEOSGeometry *polygon = NULL;
    size_t made = 0;
    while (made < count && (rings[made] = geos_ring(geos, repair, made)))
        made++;
    if (made == count) /* takes the rings, also when it cannot */
        polygon = GEOSGeom_createPolygon_r(geos, rings[0], rings + 1,
                                           (unsigned)count - 1);
    else
        destroy_rings(geos, rings, made);
    fw_free(rings);
    return polygon;
}

static GEOSGeometry *make_valid(GEOSContextHandle_t geos,
                                const GEOSGeometry *polygon)
{
    GEOSMakeValidParams *how = GEOSMakeValidParams_create_r(geos);
    if (!how)
        return NULL;
    GEOSMakeValidParams_setMethod_r(geos, how, GEOS_MAKE_VALID_STRUCTURE);
    GEOSGeometry *valid = GEOSMakeValidWithParams_r(geos, polygon, how);
    GEOSMakeValidParams_destroy_r(geos, how);
    return valid;
}

/* The sum of what the rings say, each taken by itself. */
static double stated_area(const struct fw_repair *repair)
{
    double area = 0;
    for (size_t r = 0; r < repair->shape.ring_count; r++) {
        const double ring =
            fabs(fw_xy_area(fw_ring_points(&repair->shape, r),
                            fw_ring_size(&repair->shape, r), repair->turn));
        area += r == 0 ? ring : -ring;
    }
    return area;
}

/* The one part that is the field: as large as stated, the rest crumbs. NULL
 * when there is none. */
static const GEOSGeometry *only_part(GEOSContextHandle_t geos,
                                     const GEOSGeometry *valid, double stated,
                                     double *moved)
{
    const GEOSGeometry *best = NULL;
    double greatest = 0;
    double total = 0;
    const int count = GEOSGetNumGeometries_r(geos, valid);
    for (int i = 0; i < count; i++) {
        const GEOSGeometry *part = GEOSGetGeometryN_r(geos, valid, i);
        double area = 0;
        if (!part || GEOSGeomTypeId_r(geos, part) != GEOS_POLYGON ||
            !GEOSArea_r(geos, part, &area))
            continue;
        total += area;
        if (area > greatest) {
            greatest = area;
            best = part;
        }
    }
    *moved = (fabs(greatest - stated) + (total - greatest)) / stated;
    const bool one = fabs(greatest - stated) < most_moved * stated &&
                     total - greatest < most_moved * stated;
    return one ? best : NULL;
}

static const GEOSGeometry *part_ring(GEOSContextHandle_t geos,
                                     const GEOSGeometry *part, int ring)
{
    return ring == 0 ? GEOSGetExteriorRing_r(geos, part)
                     : GEOSGetInteriorRingN_r(geos, part, ring - 1);
}

static size_t part_points(GEOSContextHandle_t geos, const GEOSGeometry *part,
                          int rings)
{
    size_t points = 0;
    for (int r = 0; r < rings; r++) {
        const int count =
            GEOSGeomGetNumPoints_r(geos, part_ring(geos, part, r));
        if (count < 4)
            return 0;
        points += (size_t)count - 1;
    }
    return points;
}

static void copy_ring(GEOSContextHandle_t geos, const struct fw_repair *repair,
                      const GEOSGeometry *ring, struct fw_xy *points,
                      size_t count)
{
    const GEOSCoordSequence *sequence = GEOSGeom_getCoordSeq_r(geos, ring);
    for (size_t i = 0; i < count; i++) {
        GEOSCoordSeq_getXY_r(geos, sequence, (unsigned)i, &points[i].x,
                             &points[i].y);
        /* Back to the side of the antimeridian where it came from. */
        if (repair->turn > 0)
            points[i].x = fw_unwrap(points[i].x, 0, repair->turn);
    }
}

static enum fw_status take_part(GEOSContextHandle_t geos,
                                struct fw_repair *repair,
                                const GEOSGeometry *part)
{
    const int holes = GEOSGetNumInteriorRings_r(geos, part);
    const int rings = holes < 0 ? 0 : holes + 1;
    const size_t points = part_points(geos, part, rings);
    if (points == 0)
        return fw_fail(repair->err, FW_EFAULT,
                       "GEOS repaired a shape to nothing");
    struct fw_shape made = {
        .points = fw_alloc(points, sizeof *made.points),
        .ring_start = fw_alloc((size_t)rings + 1, sizeof *made.ring_start),
        .ring_count = (size_t)rings,
        .point_count = points,
        .turned_rings = repair->shape.turned_rings,
        .repeated_points = repair->shape.repeated_points,
    };
    if (!made.points || !made.ring_start) {
        fw_shape_release(&made);
        return fw_fail_memory(repair->err);
    }
    for (int r = 0; r < rings; r++) {
        const GEOSGeometry *ring = part_ring(geos, part, r);
        const size_t count = (size_t)GEOSGeomGetNumPoints_r(geos, ring) - 1;
        const size_t start = made.ring_start[r];
        copy_ring(geos, repair, ring, made.points + start, count);
        made.ring_start[r + 1] = start + count;
    }
    fw_shape_release(&repair->shape);
    repair->shape = made;
    return FW_OK;
}

static enum fw_status refuse_crossing(const struct fw_repair *repair,
                                      struct fw_xy at)
{
    return fw_fail(repair->err, FW_EINPUT,
                   "boundary crosses or touches itself at x %.10g, y %.10g and "
                   "can be read in several ways; redraw it there, or split it "
                   "into several fields",
                   at.x, at.y);
}

static enum fw_status mend(GEOSContextHandle_t geos, struct fw_repair *repair,
                           const GEOSGeometry *polygon, struct fw_xy at)
{
    const double stated = stated_area(repair);
    GEOSGeometry *valid = make_valid(geos, polygon);
    if (!valid || !(stated > 0)) {
        GEOSGeom_destroy_r(geos, valid);
        return refuse_crossing(repair, at);
    }
    double moved = 0;
    const GEOSGeometry *part = only_part(geos, valid, stated, &moved);
    enum fw_status status =
        part ? take_part(geos, repair, part) : refuse_crossing(repair, at);
    GEOSGeom_destroy_r(geos, valid);
    if (status)
        return status;
    fw_repair_turn(repair, true);
    return fw_notes_add(repair->notes, FW_LEVEL_WARNING, repair->where,
                        repair->err,
                        "boundary crossed or touched itself at x %.10g, y "
                        "%.10g; repaired, which moved %.2g %% of its area",
                        at.x, at.y, 100 * moved);
}

/* A tangle is refused before anything is made of it. */
static enum fw_status check_tangle(const struct fw_repair *repair,
                                   struct fw_xy at)
{
    size_t crossings;
    const enum fw_status status =
        fw_repair_crossings(repair, most_crossings, &crossings);
    if (status || crossings < most_crossings)
        return status;
    return fw_fail(repair->err, FW_EINPUT,
                   "boundary crosses itself %zu times or more, first at x "
                   "%.10g, y %.10g; are its points in the order of a walk "
                   "round the field?",
                   most_crossings, at.x, at.y);
}

/* Is the shape valid? If not, where not? */
static enum fw_status judge(GEOSContextHandle_t geos,
                            const struct fw_repair *repair,
                            const GEOSGeometry *polygon, bool *valid,
                            struct fw_xy *at)
{
    char *reason = NULL;
    GEOSGeometry *place = NULL;
    const char verdict = GEOSisValidDetail_r(geos, polygon, 0, &reason, &place);
    *valid = verdict == 1;
    if (place) {
        GEOSGeomGetX_r(geos, place, &at->x);
        GEOSGeomGetY_r(geos, place, &at->y);
        at->x = repair->turn > 0 ? fw_unwrap(at->x, 0, repair->turn) : at->x;
    }
    GEOSGeom_destroy_r(geos, place);
    GEOSFree_r(geos, reason);
    if (verdict != 2)
        return FW_OK;
    return fw_fail(repair->err, FW_EINPUT,
                   "boundary near x %.10g, y %.10g cannot be judged; are its "
                   "coordinates right?",
                   at->x, at->y);
}

/* Arms that wind beside each other by the thousand are refused before each is
 * compared with all others. What crosses itself says nothing by its area. */
static enum fw_status check_winding(const struct fw_repair *repair)
{
    const struct fw_shape *shape = &repair->shape;
    double length = 0;
    for (size_t r = 0; r < shape->ring_count; r++) {
        const struct fw_xy *ring = fw_ring_points(shape, r);
        const size_t count = fw_ring_size(shape, r);
        for (size_t i = 0, before = count - 1; i < count; before = i++) {
            const struct fw_point a = flat(repair, ring[before]);
            const struct fw_point b = flat(repair, ring[i]);
            length += fw_length(b.x_m - a.x_m, b.y_m - a.y_m);
        }
    }
    const double area =
        fabs(fw_xy_area(shape->points, fw_ring_size(shape, 0), repair->turn));
    const double winding = length / (4 * sqrt(area));
    size_t crossings = 0;
    if (!(area > 0) || !(winding > most_winding))
        return FW_OK;
    const enum fw_status status = fw_repair_crossings(repair, 1, &crossings);
    if (status || crossings > 0)
        return status;
    return fw_fail(repair->err, FW_EINPUT,
                   "boundary is %.0f times as long as a square's of the same "
                   "area; expected at most %.0f: is it drawn of arms too thin "
                   "to graze?",
                   winding, most_winding);
}

/* `again`: holes outside have not been looked for yet. */
static enum fw_status validate(GEOSContextHandle_t geos,
                               struct fw_repair *repair, bool again)
{
    GEOSGeometry *polygon = geos_polygon(geos, repair);
    if (!polygon)
        return fw_fail_memory(repair->err);
    bool valid = false;
    struct fw_xy at = repair->shape.points[0];
    enum fw_status status = judge(geos, repair, polygon, &valid, &at);
    bool dropped = false;
    if (!status && !valid && again)
        status = check_tangle(repair, at);
    if (!status && !valid && again)
        status = drop_holes_outside(repair, &dropped);
    if (!status && !valid && !dropped)
        status = mend(geos, repair, polygon, at);
    GEOSGeom_destroy_r(geos, polygon);
    return !status && dropped ? validate(geos, repair, false) : status;
}

/* Make the tidied shape valid or refuse it. */
static enum fw_status mend_tidied(struct fw_repair *repair)
{
    GEOSContextHandle_t geos = GEOS_init_r();
    if (!geos)
        return fw_fail_memory(repair->err);
    enum fw_status status = check_winding(repair);
    if (!status)
        status = validate(geos, repair, true);
    GEOS_finish_r(geos);
    return status;
}

enum fw_status fw_shape_repair(struct fw_shape *shape, const char *where,
                               struct fw_notes *notes, struct fw_error *err)
{
    struct fw_repair repair = {.where = where, .notes = notes, .err = err};
    enum fw_status status = fw_repair_tidy(shape, &repair);
    if (!status)
        status = mend_tidied(&repair);
    if (status) {
        fw_shape_release(&repair.shape);
        return status;
    }
    fw_shape_release(shape);
    *shape = repair.shape;
    return FW_OK;
}
