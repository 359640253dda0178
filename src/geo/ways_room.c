/* How deep the ground is behind an opening. */
#include "geo/points.h"

#include "geo/ways.h"

#include <float.h>
#include <math.h>

/* An opening may lie across corners that keep a side straight to within this:
 * edges so near its line are the side that it is in. */
static const double on_line_m = 0.01;
/* A side that leaves the opening's end at a right angle leans in by rounding.
 */
static const double at_end_m = 1e-6;

struct strip {
    struct fw_point a, along; /* unit vector from a to b */
    double width_m;
};

/* Along the opening, and out of its line, to the left. */
static struct fw_point seen(const struct strip *strip, struct fw_point p)
{
    const double x = p.x_m - strip->a.x_m, y = p.y_m - strip->a.y_m;
    const struct fw_point u = strip->along;
    return (struct fw_point){x * u.x_m + y * u.y_m, y * u.x_m - x * u.y_m};
}

/* The part of a segment that stands before the opening. */
static bool clip(const struct strip *strip, struct fw_point *p,
                 struct fw_point *q)
{
    const double low = at_end_m, high = strip->width_m - at_end_m;
    if (p->x_m > q->x_m) {
        const struct fw_point kept = *p;
        *p = *q;
        *q = kept;
    }
    if (!(p->x_m < high) || !(q->x_m > low))
        return false;
    const double run = q->x_m - p->x_m;
    const double slope = run > 0 ? (q->y_m - p->y_m) / run : 0;
    const struct fw_point from = *p;
    if (p->x_m < low)
        *p = (struct fw_point){low, from.y_m + slope * (low - from.x_m)};
    if (q->x_m > high)
        *q = (struct fw_point){high, from.y_m + slope * (high - from.x_m)};
    return true;
}

struct side { /* that the opening lies in */
    double off_m;
    bool on_left; /* of the opening lies the ground */
};

static void heed_side(const struct strip *strip, struct fw_point p,
                      struct fw_point q, bool ground_on_left, struct side *side)
{
    const double dx = q.x_m - p.x_m, dy = q.y_m - p.y_m;
    const double middle_m = strip->width_m / 2;
    const struct fw_point middle = {middle_m, 0};
    /* One that stands square to the opening is not what it lies in. */
    if (fabs(dx) < fabs(dy))
        return;
    const double off_m = fw_segment_distance_m(middle, p, q);
    if (off_m < side->off_m)
        *side = (struct side){off_m, (dx > 0) == ground_on_left};
}

/* How near the edge stands before either side of the opening. */
static void heed_edge(const struct strip *strip, struct fw_point p,
                      struct fw_point q, double *left_m, double *right_m)
{
    if (!clip(strip, &p, &q))
        return;
    const double low = fmin(p.y_m, q.y_m), high = fmax(p.y_m, q.y_m);
    if (high > on_line_m)
        *left_m = fmin(*left_m, fmax(0, low));
    if (low < -on_line_m)
        *right_m = fmin(*right_m, fmax(0, -high));
}

double fw_ways_room_m(struct fw_point a, struct fw_point b,
                      const struct fw_point *points, const size_t *ring_start,
                      size_t ring_count, double deep_m)
{
    const double width_m = fw_point_apart_m(b, a);
    struct side side = {.off_m = DBL_MAX};
    double left_m = deep_m, right_m = deep_m;
    if (!(width_m > 2 * at_end_m) || !(deep_m > 0))
        return 0;
    const struct strip strip = {
        a, {(b.x_m - a.x_m) / width_m, (b.y_m - a.y_m) / width_m}, width_m};
    for (size_t r = 0; r < ring_count; r++) {
        const struct fw_point *ring = points + ring_start[r];
        const size_t count = ring_start[r + 1] - ring_start[r];
        if (count < 3)
            continue;
        const bool left = (fw_ring_area_m2(ring, count) > 0) == (r == 0);
        struct fw_point from = seen(&strip, ring[count - 1]);
        for (size_t i = 0; i < count; i++) {
            const struct fw_point to = seen(&strip, ring[i]);
            heed_side(&strip, from, to, left, &side);
            heed_edge(&strip, from, to, &left_m, &right_m);
            from = to;
        }
    }
    return side.on_left ? left_m : right_m;
}
