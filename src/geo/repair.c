/* Making a shape valid, where only one reading of it is possible.
 *
 * GEOS judges. Its context costs 40 ns, so that each call has its own; a field
 * of 50 vertices costs 6 us in all. */
#include "base/alloc.h"
#include "base/fail.h"
#include "inner.h"

#include <geos_c.h>
#include <math.h>
#include <string.h>

/* Part of the area that a repair may move. */
static const double most_moved = 1e-3;

struct repair {
    struct fw_shape shape;
    double turn; /* 360 when the shape lies across the antimeridian */
    const char *where;
    struct fw_notes *notes;
    struct fw_error *err;
    GEOSContextHandle_t geos;
};

void fw_shape_release(struct fw_shape *shape)
{
    if (!shape)
        return;
    fw_free(shape->points);
    fw_free(shape->ring_start);
    *shape = (struct fw_shape){0};
}

/* ---- points ---- */

static enum fw_status check(const struct fw_shape *shape, struct fw_error *err)
{
    if (shape->ring_count == 0 || shape->point_count == 0)
        return fw_fail(err, FW_EINPUT,
                       "shape is empty; expected a ring of 3 points or more");
    if (shape->point_count > FW_MOST_VERTICES)
        return fw_fail(err, FW_EINPUT,
                       "shape has %zu points; expected at most %d; simplify it",
                       shape->point_count, FW_MOST_VERTICES);
    for (size_t i = 0; i < shape->point_count; i++)
        if (!isfinite(shape->points[i].x) || !isfinite(shape->points[i].y))
            return fw_fail(err, FW_EINPUT,
                           "point %zu is (%g, %g); expected finite numbers",
                           i + 1, shape->points[i].x, shape->points[i].y);
    return FW_OK;
}

static bool same(struct fw_xy a, struct fw_xy b)
{
    return a.x == b.x && a.y == b.y;
}

/* Leaves one of each run of equal points; the closing point goes as well. */
static size_t drop_repeated(struct fw_xy *ring, size_t count)
{
    size_t kept = 0;
    for (size_t i = 0; i < count; i++)
        if (kept == 0 || !same(ring[i], ring[kept - 1]))
            ring[kept++] = ring[i];
    while (kept > 1 && same(ring[kept - 1], ring[0]))
        kept--;
    return kept;
}

static bool repeats(const struct fw_xy *ring, size_t count, size_t period)
{
    for (size_t i = period; i < count; i++)
        if (!same(ring[i], ring[i - period]))
            return false;
    return true;
}

/* Points in one round of a ring that is walked once or more. */
static size_t one_round(const struct fw_xy *ring, size_t count)
{
    for (size_t period = 3; period <= count / 2; period++)
        if (count % period == 0 && repeats(ring, count, period))
            return period;
    return count;
}

/* A program that draws across the antimeridian writes 179.9 and then -179.9.
 * Read as it stands such a ring runs round the earth; it is one when every
 * point is within a field's width of the 180th meridian, on both sides. */
static double jump_turn(const struct fw_shape *shape)
{
    const double radian = 57.295779513082320877;
    const double widest_deg = FW_WIDEST_FIELD_M / 1e5;
    bool west = false;
    bool east = false;
    for (size_t i = 0; i < shape->point_count; i++) {
        const struct fw_xy at = shape->points[i];
        const double beyond = 180 - fabs(at.x);
        if (!(fabs(at.y) <= 90) || !(beyond >= 0) || !(beyond <= 90) ||
            beyond * cos(at.y / radian) > widest_deg)
            return 0;
        west = west || at.x > 0;
        east = east || at.x < 0;
    }
    return west && east ? 360 : 0;
}

/* ---- rings ---- */

/* "outer ring: points given twice dropped: 3" */
static enum fw_status note(struct repair *repair, size_t ring, const char *what,
                           size_t count)
{
    if (ring == 0)
        return fw_notes_add(repair->notes, FW_LEVEL_NOTE, repair->where,
                            repair->err, "outer ring: %s: %zu", what, count);
    return fw_notes_add(repair->notes, FW_LEVEL_NOTE, repair->where,
                        repair->err, "hole %zu: %s: %zu", ring, what, count);
}

static size_t ring_size(const struct fw_shape *shape, size_t ring)
{
    return shape->ring_start[ring + 1] - shape->ring_start[ring];
}

static struct fw_xy *ring_points(const struct fw_shape *shape, size_t ring)
{
    return shape->points + shape->ring_start[ring];
}

/* Cleans the ring in place, gives what is left of it in *kept. */
static enum fw_status tidy_ring(struct repair *repair, struct fw_xy *ring,
                                size_t count, size_t index, size_t *kept)
{
    const bool closed = count > 1 && same(ring[0], ring[count - 1]);
    const size_t distinct = drop_repeated(ring, count);
    const size_t round = one_round(ring, distinct);
    const size_t repeated = count - distinct - (closed ? 1 : 0);
    enum fw_status status = FW_OK;
    if (distinct >= 3 && repeated > 0)
        status = note(repair, index, "points given twice dropped", repeated);
    if (!status && round < distinct)
        status =
            note(repair, index, "the same round walked again, folded; rounds",
                 distinct / round);
    *kept = round;
    return status;
}

static enum fw_status tidy(struct repair *repair)
{
    struct fw_shape *shape = &repair->shape;
    size_t points = 0;
    size_t rings = 0;
    for (size_t r = 0; r < shape->ring_count; r++) {
        struct fw_xy *ring = ring_points(shape, r);
        size_t kept = 0;
        enum fw_status status =
            tidy_ring(repair, ring, ring_size(shape, r), r, &kept);
        if (!status && kept < 3 && r == 0)
            status = fw_fail(repair->err, FW_EINPUT,
                             "outer ring has %zu different points; expected 3 "
                             "or more",
                             kept);
        else if (!status && kept < 3)
            status = note(repair, r, "dropped, it has no area; points", kept);
        if (status)
            return status;
        if (kept < 3)
            continue;
        /* Rings only move down, so what is still to be read stays. */
        memmove(shape->points + points, ring, kept * sizeof *ring);
        shape->ring_start[rings++] = points;
        points += kept;
    }
    shape->ring_start[rings] = points;
    shape->ring_count = rings;
    shape->point_count = points;
    return FW_OK;
}

static void turn_round(struct fw_xy *ring, size_t count)
{
    for (size_t i = 0, j = count; i + 1 < j; i++) {
        const struct fw_xy kept = ring[i];
        ring[i] = ring[--j];
        ring[j] = kept;
    }
}

static enum fw_status set_directions(struct repair *repair)
{
    struct fw_shape *shape = &repair->shape;
    for (size_t r = 0; r < shape->ring_count; r++) {
        struct fw_xy *ring = ring_points(shape, r);
        const size_t count = ring_size(shape, r);
        const double area = fw_xy_area(ring, count, repair->turn);
        if (r == 0 ? area >= 0 : area <= 0)
            continue;
        turn_round(ring, count);
        const enum fw_status status =
            note(repair, r, "turned round; points", count);
        if (status)
            return status;
    }
    return FW_OK;
}

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

static struct fw_point flat(const struct repair *repair, struct fw_xy at)
{
    return (struct fw_point){
        fw_unwrap(at.x, repair->shape.points[0].x, repair->turn), at.y};
}

/* Strictly: a hole that only touches the outer ring has no point inside. */
static bool outer_holds(const struct repair *repair, struct fw_xy at)
{
    const struct fw_xy *outer = repair->shape.points;
    const size_t count = ring_size(&repair->shape, 0);
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

static enum fw_status drop_holes_outside(struct repair *repair, bool *dropped)
{
    struct fw_shape *shape = &repair->shape;
    *dropped = false;
    for (size_t r = shape->ring_count - 1; r > 0; r--) {
        const struct fw_xy *hole = ring_points(shape, r);
        const size_t count = ring_size(shape, r);
        size_t out = 0;
        while (out < count && !outer_holds(repair, hole[out]))
            out++;
        if (out < count)
            continue;
        const enum fw_status status =
            note(repair, r, "dropped, it lies outside; points", count);
        if (status)
            return status;
        drop_ring(shape, r);
        *dropped = true;
    }
    return FW_OK;
}

/* ---- GEOS ---- */

static GEOSGeometry *geos_ring(const struct repair *repair, size_t ring)
{
    const size_t count = ring_size(&repair->shape, ring);
    const struct fw_xy *points = ring_points(&repair->shape, ring);
    GEOSCoordSequence *sequence =
        GEOSCoordSeq_create_r(repair->geos, (unsigned)count + 1, 2);
    if (!sequence)
        return NULL;
    for (size_t i = 0; i <= count; i++) {
        const struct fw_point at = flat(repair, points[i < count ? i : 0]);
        GEOSCoordSeq_setXY_r(repair->geos, sequence, (unsigned)i, at.x_m,
                             at.y_m);
    }
    return GEOSGeom_createLinearRing_r(repair->geos, sequence);
}

static void destroy_rings(const struct repair *repair, GEOSGeometry **rings,
                          size_t count)
{
    for (size_t r = 0; r < count; r++)
        GEOSGeom_destroy_r(repair->geos, rings[r]);
}

/* NULL when there is no memory. */
static GEOSGeometry *geos_polygon(const struct repair *repair)
{
    const size_t count = repair->shape.ring_count;
    GEOSGeometry **rings = fw_alloc(count, sizeof *rings);
    if (!rings)
        return NULL;
    GEOSGeometry *polygon = NULL;
    size_t made = 0;
    while (made < count && (rings[made] = geos_ring(repair, made)))
        made++;
    if (made == count) /* takes the rings, also when it cannot */
        polygon = GEOSGeom_createPolygon_r(repair->geos, rings[0], rings + 1,
                                           (unsigned)count - 1);
    else
        destroy_rings(repair, rings, made);
    fw_free(rings);
    return polygon;
}

static GEOSGeometry *make_valid(const struct repair *repair,
                                const GEOSGeometry *polygon)
{
    GEOSMakeValidParams *how = GEOSMakeValidParams_create_r(repair->geos);
    if (!how)
        return NULL;
    GEOSMakeValidParams_setMethod_r(repair->geos, how,
                                    GEOS_MAKE_VALID_STRUCTURE);
    GEOSGeometry *valid = GEOSMakeValidWithParams_r(repair->geos, polygon, how);
    GEOSMakeValidParams_destroy_r(repair->geos, how);
    return valid;
}

/* The sum of what the rings say, each taken by itself. */
static double stated_area(const struct repair *repair)
{
    double area = 0;
    for (size_t r = 0; r < repair->shape.ring_count; r++) {
        const double ring =
            fabs(fw_xy_area(ring_points(&repair->shape, r),
                            ring_size(&repair->shape, r), repair->turn));
        area += r == 0 ? ring : -ring;
    }
    return area;
}

/* The one part that is the field: as large as stated, the rest crumbs. NULL
 * when there is none. */
static const GEOSGeometry *only_part(const struct repair *repair,
                                     const GEOSGeometry *valid, double stated,
                                     double *moved)
{
    const GEOSGeometry *best = NULL;
    double greatest = 0;
    double total = 0;
    const int count = GEOSGetNumGeometries_r(repair->geos, valid);
    for (int i = 0; i < count; i++) {
        const GEOSGeometry *part = GEOSGetGeometryN_r(repair->geos, valid, i);
        double area = 0;
        if (!part || GEOSGeomTypeId_r(repair->geos, part) != GEOS_POLYGON ||
            !GEOSArea_r(repair->geos, part, &area))
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

static const GEOSGeometry *part_ring(const struct repair *repair,
                                     const GEOSGeometry *part, int ring)
{
    return ring == 0 ? GEOSGetExteriorRing_r(repair->geos, part)
                     : GEOSGetInteriorRingN_r(repair->geos, part, ring - 1);
}

static size_t part_points(const struct repair *repair, const GEOSGeometry *part,
                          int rings)
{
    size_t points = 0;
    for (int r = 0; r < rings; r++) {
        const int count =
            GEOSGeomGetNumPoints_r(repair->geos, part_ring(repair, part, r));
        if (count < 4)
            return 0;
        points += (size_t)count - 1;
    }
    return points;
}

static void copy_ring(const struct repair *repair, const GEOSGeometry *ring,
                      struct fw_xy *points, size_t count)
{
    const GEOSCoordSequence *sequence =
        GEOSGeom_getCoordSeq_r(repair->geos, ring);
    for (size_t i = 0; i < count; i++) {
        GEOSCoordSeq_getXY_r(repair->geos, sequence, (unsigned)i, &points[i].x,
                             &points[i].y);
        /* Back to the side of the antimeridian where it came from. */
        if (repair->turn > 0)
            points[i].x = fw_unwrap(points[i].x, 0, repair->turn);
    }
}

static enum fw_status take_part(struct repair *repair, const GEOSGeometry *part)
{
    const int holes = GEOSGetNumInteriorRings_r(repair->geos, part);
    const int rings = holes < 0 ? 0 : holes + 1;
    const size_t points = part_points(repair, part, rings);
    if (points == 0)
        return fw_fail(repair->err, FW_EFAULT,
                       "GEOS repaired a shape to nothing");
    struct fw_shape made = {
        .points = fw_alloc(points, sizeof *made.points),
        .ring_start = fw_alloc((size_t)rings + 1, sizeof *made.ring_start),
        .ring_count = (size_t)rings,
        .point_count = points,
    };
    if (!made.points || !made.ring_start) {
        fw_shape_release(&made);
        return fw_fail_memory(repair->err);
    }
    for (int r = 0; r < rings; r++) {
        const GEOSGeometry *ring = part_ring(repair, part, r);
        const size_t count =
            (size_t)GEOSGeomGetNumPoints_r(repair->geos, ring) - 1;
        const size_t start = made.ring_start[r];
        copy_ring(repair, ring, made.points + start, count);
        made.ring_start[r + 1] = start + count;
    }
    fw_shape_release(&repair->shape);
    repair->shape = made;
    return FW_OK;
}

static void set_direction_quietly(struct fw_shape *shape, double turn)
{
    for (size_t r = 0; r < shape->ring_count; r++) {
        struct fw_xy *ring = ring_points(shape, r);
        const size_t count = ring_size(shape, r);
        if ((r == 0) != (fw_xy_area(ring, count, turn) > 0))
            turn_round(ring, count);
    }
}

static enum fw_status refuse_crossing(const struct repair *repair,
                                      struct fw_xy at)
{
    return fw_fail(repair->err, FW_EINPUT,
                   "boundary crosses or touches itself at x %.10g, y %.10g and "
                   "can be read in several ways; redraw it there, or split it "
                   "into several fields",
                   at.x, at.y);
}

static enum fw_status mend(struct repair *repair, const GEOSGeometry *polygon,
                           struct fw_xy at)
{
    const double stated = stated_area(repair);
    GEOSGeometry *valid = make_valid(repair, polygon);
    if (!valid || !(stated > 0)) {
        GEOSGeom_destroy_r(repair->geos, valid);
        return refuse_crossing(repair, at);
    }
    double moved = 0;
    const GEOSGeometry *part = only_part(repair, valid, stated, &moved);
    enum fw_status status =
        part ? take_part(repair, part) : refuse_crossing(repair, at);
    GEOSGeom_destroy_r(repair->geos, valid);
    if (status)
        return status;
    set_direction_quietly(&repair->shape, repair->turn);
    return fw_notes_add(repair->notes, FW_LEVEL_WARNING, repair->where,
                        repair->err,
                        "boundary crossed or touched itself at x %.10g, y "
                        "%.10g; repaired, which moved %.2g %% of its area",
                        at.x, at.y, 100 * moved);
}

/* Is the shape valid? If not, where not? */
static enum fw_status judge(const struct repair *repair,
                            const GEOSGeometry *polygon, bool *valid,
                            struct fw_xy *at)
{
    char *reason = NULL;
    GEOSGeometry *place = NULL;
    const char verdict =
        GEOSisValidDetail_r(repair->geos, polygon, 0, &reason, &place);
    *valid = verdict == 1;
    if (place) {
        GEOSGeomGetX_r(repair->geos, place, &at->x);
        GEOSGeomGetY_r(repair->geos, place, &at->y);
        at->x = repair->turn > 0 ? fw_unwrap(at->x, 0, repair->turn) : at->x;
    }
    GEOSGeom_destroy_r(repair->geos, place);
    GEOSFree_r(repair->geos, reason);
    return verdict == 2 ? fw_fail_memory(repair->err) : FW_OK;
}

/* `again`: holes outside have not been looked for yet. */
static enum fw_status validate(struct repair *repair, bool again)
{
    GEOSGeometry *polygon = geos_polygon(repair);
    if (!polygon)
        return fw_fail_memory(repair->err);
    bool valid = false;
    struct fw_xy at = repair->shape.points[0];
    enum fw_status status = judge(repair, polygon, &valid, &at);
    bool dropped = false;
    if (!status && !valid && again)
        status = drop_holes_outside(repair, &dropped);
    if (!status && !valid && !dropped)
        status = mend(repair, polygon, at);
    GEOSGeom_destroy_r(repair->geos, polygon);
    return !status && dropped ? validate(repair, false) : status;
}

/* ---- all of it ---- */

static enum fw_status copy_shape(const struct fw_shape *from,
                                 struct repair *repair)
{
    struct fw_shape *to = &repair->shape;
    to->points = fw_alloc(from->point_count, sizeof *to->points);
    to->ring_start = fw_alloc(from->ring_count + 1, sizeof *to->ring_start);
    if (!to->points || !to->ring_start)
        return fw_fail_memory(repair->err);
    memcpy(to->points, from->points, from->point_count * sizeof *to->points);
    memcpy(to->ring_start, from->ring_start,
           (from->ring_count + 1) * sizeof *to->ring_start);
    to->point_count = from->point_count;
    to->ring_count = from->ring_count;
    return FW_OK;
}

static enum fw_status run(struct repair *repair)
{
    enum fw_status status = tidy(repair);
    if (status)
        return status;
    repair->turn = jump_turn(&repair->shape);
    status = set_directions(repair);
    if (status)
        return status;
    repair->geos = GEOS_init_r();
    if (!repair->geos)
        return fw_fail_memory(repair->err);
    status = validate(repair, true);
    GEOS_finish_r(repair->geos);
    return status;
}

enum fw_status fw_shape_repair(struct fw_shape *shape, const char *where,
                               struct fw_notes *notes, struct fw_error *err)
{
    enum fw_status status = check(shape, err);
    if (status)
        return status;
    struct repair repair = {.where = where, .notes = notes, .err = err};
    status = copy_shape(shape, &repair);
    if (!status)
        status = run(&repair);
    if (status) {
        fw_shape_release(&repair.shape);
        return status;
    }
    fw_shape_release(shape);
    *shape = repair.shape;
    return FW_OK;
}
