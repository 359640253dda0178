/* Tidying a shape: its points and the directions of its rings. */
#include "crs/repair.h"
#include "base/alloc.h"
#include "base/angle.h"
#include "base/fail.h"
#include "crs/crs.h"
#include "geo/inner.h"

#include <math.h>
#include <string.h>

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

/* How often the ring is walked: once, or more. */
static size_t rounds_of(const struct fw_xy *ring, size_t count)
{
    for (size_t period = 3; period <= count / 2; period++)
        if (count % period == 0 && repeats(ring, count, period))
            return count / period;
    return 1;
}

/* A program that draws across the antimeridian writes 179.9 and then -179.9.
 * Read as it stands such a ring runs round the earth; it is one when every
 * point is within a field's width of the 180th meridian, on both sides. */
static double jump_turn(const struct fw_shape *shape)
{
    const double widest_deg = FW_WIDEST_FIELD_M / 1e5;
    bool west = false;
    bool east = false;
    for (size_t i = 0; i < shape->point_count; i++) {
        const struct fw_xy at = shape->points[i];
        const double beyond = 180 - fabs(at.x);
        if (!(fabs(at.y) <= 90) || !(beyond >= 0) || !(beyond <= 90) ||
            beyond * cos(at.y / FW_RADIAN_DEG) > widest_deg)
            return 0;
        west = west || at.x > 0;
        east = east || at.x < 0;
    }
    return west && east ? 360 : 0;
}

/* ---- rings ---- */

/* "hole 2: dropped, it has no area; points: 2" */
enum fw_status fw_repair_note(struct fw_repair *repair, size_t ring,
                              const char *what, size_t count)
{
    if (ring == 0)
        return fw_notes_add(repair->notes, FW_LEVEL_NOTE, repair->where,
                            repair->err, "outer ring: %s: %zu", what, count);
    return fw_notes_add(repair->notes, FW_LEVEL_NOTE, repair->where,
                        repair->err, "hole %zu: %s: %zu", ring, what, count);
}

/* Cleans the ring in place, gives what is left of it in *kept. */
static enum fw_status tidy_ring(struct fw_repair *repair, struct fw_xy *ring,
                                size_t count, size_t index, size_t *kept)
{
    const bool closed = count > 1 && same(ring[0], ring[count - 1]);
    const size_t distinct = drop_repeated(ring, count);
    const size_t rounds = rounds_of(ring, distinct);
    const size_t repeated = count - distinct - (closed ? 1 : 0);
    enum fw_status status = FW_OK;
    if (distinct >= 3)
        repair->shape.repeated_points += repeated;
    if (rounds > 1)
        status = fw_repair_note(repair, index,
                                "the same round walked again, folded; rounds",
                                rounds);
    *kept = distinct / rounds;
    return status;
}

static enum fw_status tidy(struct fw_repair *repair)
{
    struct fw_shape *shape = &repair->shape;
    size_t points = 0;
    size_t rings = 0;
    for (size_t r = 0; r < shape->ring_count; r++) {
        struct fw_xy *ring = fw_ring_points(shape, r);
        size_t kept = 0;
        enum fw_status status =
            tidy_ring(repair, ring, fw_ring_size(shape, r), r, &kept);
        if (!status && kept < 3 && r == 0)
            status = fw_fail(repair->err, FW_EINPUT,
                             "outer ring has %zu different points; expected 3 "
                             "or more",
                             kept);
        else if (!status && kept < 3)
            status = fw_repair_note(repair, r,
                                    "dropped, it has no area; points", kept);
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

void fw_repair_turn(struct fw_repair *repair, bool quiet)
{
    struct fw_shape *shape = &repair->shape;
    for (size_t r = 0; r < shape->ring_count; r++) {
        struct fw_xy *ring = fw_ring_points(shape, r);
        const size_t count = fw_ring_size(shape, r);
        const double area = fw_xy_area(ring, count, repair->turn);
        if (r == 0 ? area >= 0 : area <= 0)
            continue;
        turn_round(ring, count);
        shape->turned_rings += !quiet;
    }
}

/* ---- all of it ---- */

static enum fw_status copy_shape(const struct fw_shape *from,
                                 struct fw_repair *repair)
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

enum fw_status fw_repair_tidy(const struct fw_shape *from,
                              struct fw_repair *repair)
{
    enum fw_status status = check(from, repair->err);
    if (!status)
        status = copy_shape(from, repair);
    if (!status)
        status = tidy(repair);
    if (status)
        return status;
    repair->turn = jump_turn(&repair->shape);
    fw_repair_turn(repair, false);
    return FW_OK;
}
