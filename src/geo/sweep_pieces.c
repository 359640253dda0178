/* The rings of one paddock become its pieces: outer rings, each followed by
 * the holes that lie in it. */
#include "geo/points.h"
#include "geo/sweep.h"

#include <float.h>
#include <string.h>

static const size_t no_ring = SIZE_MAX;

/* Relative to the ring's first vertex, so that a small paddock far from the
 * field's centre keeps its digits; the sum carries its rounding errors. */
static double area_m2(const struct fw_sweep *sweep,
                      const struct fw_partition *out,
                      const struct fw_sweep_ring *ring)
{
    const size_t *vertices = out->ring_vertices + ring->start;
    const struct fw_point origin = fw_sweep__point(sweep, out, vertices[0]);
    double high = 0, low = 0, x_m = 0, y_m = 0;
    for (size_t i = 1; i < ring->count; i++) {
        const struct fw_point p = fw_sweep__point(sweep, out, vertices[i]);
        const double next_x_m = p.x_m - origin.x_m;
        const double next_y_m = p.y_m - origin.y_m;
        const double term = x_m * next_y_m - next_x_m * y_m;
        const double sum = high + term;
        const double back = sum - high;
        low += (high - (sum - back)) + (term - back);
        high = sum;
        x_m = next_x_m;
        y_m = next_y_m;
    }
    return (high + low) / 2;
}

static void take_area(struct fw_partition *out, double piece_m2)
{
    const size_t k = out->paddock_count;
    out->paddock_m2[k] += piece_m2;
    out->greatest_m2[k] = fmax(out->greatest_m2[k], piece_m2);
}

/* A ring that is a line as far as rounding tells: two cuts at one place. */
static bool has_no_width(const struct fw_sweep *sweep,
                         const struct fw_partition *out,
                         const struct fw_sweep_ring *ring)
{
    const size_t *vertices = out->ring_vertices + ring->start;
    if (fabs(ring->area_m2) > 16 * sweep->snap_m * sweep->extent_m)
        return false;
    double length_m = 0;
    struct fw_point p = fw_sweep__point(sweep, out, vertices[ring->count - 1]);
    for (size_t i = 0; i < ring->count; i++) {
        const struct fw_point q = fw_sweep__point(sweep, out, vertices[i]);
        length_m += fw_point_apart_m(q, p);
        p = q;
    }
    return fabs(ring->area_m2) <= sweep->snap_m * length_m / 2;
}

enum side { INSIDE, OUTSIDE, ON_IT };

/* Does a ray to the east from p cross the side a b? */
static enum side step(struct fw_point p, struct fw_point a, struct fw_point b)
{
    if ((a.y_m < p.y_m && b.y_m < p.y_m) || (a.y_m > p.y_m && b.y_m > p.y_m))
        return OUTSIDE; /* nearly all of them */
    const double turn =
        (b.x_m - a.x_m) * (p.y_m - a.y_m) - (b.y_m - a.y_m) * (p.x_m - a.x_m);
    const bool between_x =
        fmin(a.x_m, b.x_m) <= p.x_m && p.x_m <= fmax(a.x_m, b.x_m);
    if (!(turn < 0) && !(turn > 0) && between_x)
        return ON_IT;
    if ((a.y_m > p.y_m) == (b.y_m > p.y_m))
        return OUTSIDE;
    return (turn > 0) == (b.y_m > a.y_m) ? INSIDE : OUTSIDE;
}

static enum side locate(const struct fw_sweep *sweep,
                        const struct fw_partition *out, struct fw_point p,
                        const struct fw_sweep_ring *ring,
                        const size_t *vertices)
{
    vertices += ring->start;
    bool inside = false;
    struct fw_point a = fw_sweep__point(sweep, out, vertices[ring->count - 1]);
    for (size_t i = 0; i < ring->count; i++) {
        const struct fw_point b = fw_sweep__point(sweep, out, vertices[i]);
        const enum side crossed = step(p, a, b);
        if (crossed == ON_IT)
            return ON_IT;
        inside ^= crossed == INSIDE;
        a = b;
    }
    return inside ? INSIDE : OUTSIDE;
}

/* The first vertex of the hole that is not on the outer ring decides. */
static bool holds(const struct fw_sweep *sweep, const struct fw_partition *out,
                  const struct fw_sweep_ring *outer,
                  const struct fw_sweep_ring *hole, const size_t *vertices)
{
    for (size_t i = 0; i < hole->count; i++) {
        const struct fw_point p =
            fw_sweep__point(sweep, out, vertices[hole->start + i]);
        const enum side side = locate(sweep, out, p, outer, vertices);
        if (side != ON_IT)
            return side == INSIDE;
    }
    return true;
}

static void set_box(const struct fw_sweep *sweep,
                    const struct fw_partition *out, struct fw_sweep_ring *ring,
                    const size_t *vertices)
{
    struct fw_sweep_box box = {DBL_MAX, DBL_MAX, -DBL_MAX, -DBL_MAX};
    for (size_t i = 0; i < ring->count; i++) {
        const struct fw_point p =
            fw_sweep__point(sweep, out, vertices[ring->start + i]);
        box.least_x_m = fmin(box.least_x_m, p.x_m);
        box.least_y_m = fmin(box.least_y_m, p.y_m);
        box.most_x_m = fmax(box.most_x_m, p.x_m);
        box.most_y_m = fmax(box.most_y_m, p.y_m);
    }
    ring->box = box;
}

static bool box_holds(const struct fw_sweep_box *box, struct fw_point p)
{
    return box->least_x_m <= p.x_m && p.x_m <= box->most_x_m &&
           box->least_y_m <= p.y_m && p.y_m <= box->most_y_m;
}

/* The outer ring around a hole; no_ring when rounding left it without one. */
static size_t find_outer(const struct fw_sweep *sweep,
                         const struct fw_partition *out, size_t count,
                         size_t hole, size_t outer_count,
                         const size_t *vertices)
{
    const struct fw_sweep_ring *rings = sweep->rings;
    const struct fw_point first =
        fw_sweep__point(sweep, out, vertices[rings[hole].start]);
    for (size_t i = 0; i < count; i++) {
        if (!(rings[i].area_m2 > 0))
            continue;
        if (outer_count == 1 ||
            (box_holds(&rings[i].box, first) &&
             holds(sweep, out, &rings[i], &rings[hole], vertices)))
            return i;
    }
    return no_ring;
}

static void lay_ring(struct fw_partition *out, const struct fw_sweep_ring *ring,
                     const size_t *vertices)
{
    out->ring_start[out->ring_count++] = out->ring_vertex_count;
    memcpy(out->ring_vertices + out->ring_vertex_count, vertices + ring->start,
           ring->count * sizeof *vertices);
    out->ring_vertex_count += ring->count;
}

/* Holes go from the front of the list of rings to the lists of their outer
 * rings, last first, so that each list comes out in order. */
static void lay_with_holes(struct fw_sweep *sweep, size_t count, size_t start,
                           size_t outer_count, struct fw_partition *out)
{
    struct fw_sweep_ring *rings = sweep->rings;
    const size_t *vertices = sweep->shuffle;
    memcpy(sweep->shuffle, out->ring_vertices + start,
           (out->ring_vertex_count - start) * sizeof *vertices);
    for (size_t i = 0; i < count; i++) {
        rings[i].start -= start;
        rings[i].hole = no_ring;
        if (rings[i].area_m2 > 0 && outer_count > 1)
            set_box(sweep, out, &rings[i], vertices);
    }
    for (size_t i = count; i-- > 0;) {
        if (!(rings[i].area_m2 < 0))
            continue;
        const size_t outer =
            find_outer(sweep, out, count, i, outer_count, vertices);
        if (outer == no_ring)
            continue;
        rings[i].next = rings[outer].hole;
        rings[outer].hole = i;
    }
    out->ring_vertex_count = start;
    for (size_t i = 0; i < count; i++) {
        if (!(rings[i].area_m2 > 0))
            continue;
        double piece_m2 = rings[i].area_m2;
        out->piece_ring[out->piece_count++] = out->ring_count;
        lay_ring(out, &rings[i], vertices);
        for (size_t hole = rings[i].hole; hole != no_ring;
             hole = rings[hole].next) {
            lay_ring(out, &rings[hole], vertices);
            piece_m2 += rings[hole].area_m2;
        }
        take_area(out, piece_m2);
    }
}

/* The common case: every ring is a piece, and stands where it belongs. */
static void lay_pieces(const struct fw_sweep_ring *rings, size_t count,
                       struct fw_partition *out)
{
    for (size_t i = 0; i < count; i++) {
        out->piece_ring[out->piece_count++] = out->ring_count;
        out->ring_start[out->ring_count++] = rings[i].start;
        take_area(out, rings[i].area_m2);
    }
}

void fw_sweep__pieces(struct fw_sweep *sweep, size_t count, size_t start,
                      struct fw_partition *out)
{
    size_t outer_count = 0;
    for (size_t i = 0; i < count; i++) {
        struct fw_sweep_ring *ring = &sweep->rings[i];
        ring->area_m2 = area_m2(sweep, out, ring);
        if (has_no_width(sweep, out, ring))
            ring->area_m2 = 0;
        outer_count += ring->area_m2 > 0;
    }
    out->paddock_piece[out->paddock_count] = out->piece_count;
    out->paddock_m2[out->paddock_count] = 0;
    out->greatest_m2[out->paddock_count] = 0;
    if (outer_count == count)
        lay_pieces(sweep->rings, count, out);
    else
        lay_with_holes(sweep, count, start, outer_count, out);
    out->paddock_count++;
}
