/* The parts of a line that lie near a shape.
 *
 * What is within reach of one side is a capsule, which is convex, so that a
 * straight leg of the line meets it in one part: closed form, no sampling. */
#include "base/alloc.h"
#include "base/angle.h"
#include "base/array.h"
#include "base/length.h"
#include "figures/mark.h"
#include "geo/points.h"
#include "safety/plane.h"

#include <math.h>
#include <stdlib.h>

/* So near an outline a leg of line is parted there, rounding or not. */
static const double touching_m = FW_TOLERANCE(1e-9);

/* A part of one straight leg, 0 to 1 along it; empty when low > high. */
struct part {
    double low, high;
};

static struct part nothing(void)
{
    return (struct part){(double)INFINITY, -(double)INFINITY};
}

static void widen(struct part *all, struct part more)
{
    if (more.low > more.high)
        return;
    all->low = fmin(all->low, more.low);
    all->high = fmax(all->high, more.high);
}

/* Where least <= from + t step <= most. */
static struct part between(double from, double step, double least, double most)
{
    if (!(fabs(step) > 0))
        return from >= least && from <= most
                   ? (struct part){-(double)INFINITY, (double)INFINITY}
                   : nothing();
    const double one = (least - from) / step, other = (most - from) / step;
    return (struct part){fmin(one, other), fmax(one, other)};
}

static struct part in_disc(struct fw_point a, double ux, double uy,
                           double length_m, struct fw_point centre,
                           double reach_m)
{
    const double x = centre.x_m - a.x_m, y = centre.y_m - a.y_m;
    const double off_m = (ux * y - uy * x) / length_m;
    if (fabs(off_m) > reach_m)
        return nothing();
    const double middle = (ux * x + uy * y) / (length_m * length_m);
    const double half = sqrt((reach_m - off_m) * (reach_m + off_m)) / length_m;
    return (struct part){middle - half, middle + half};
}

static struct part in_band(struct fw_point a, double ux, double uy,
                           struct fw_point c, struct fw_point d, double reach_m)
{
    double vx = d.x_m - c.x_m, vy = d.y_m - c.y_m;
    const double side_m = fw_length(vx, vy);
    if (!(side_m > 0))
        return nothing();
    vx /= side_m;
    vy /= side_m;
    const double x = a.x_m - c.x_m, y = a.y_m - c.y_m;
    const struct part along =
        between(vx * x + vy * y, vx * ux + vy * uy, 0, side_m);
    const struct part off =
        between(vx * y - vy * x, vx * uy - vy * ux, -reach_m, reach_m);
    return (struct part){fmax(along.low, off.low), fmin(along.high, off.high)};
}

static struct part near_side(struct fw_point a, struct fw_point b,
                             struct fw_point c, struct fw_point d,
                             double reach_m, bool beside)
{
    const double ux = b.x_m - a.x_m, uy = b.y_m - a.y_m;
    const double length_m = fw_length(ux, uy);
    struct part part = nothing();
    if (!(length_m > 0))
        return part;
    if (!beside) {
        widen(&part, in_disc(a, ux, uy, length_m, c, reach_m));
        widen(&part, in_disc(a, ux, uy, length_m, d, reach_m));
    }
    widen(&part, in_band(a, ux, uy, c, d, reach_m));
    return (struct part){fmax(part.low, 0), fmin(part.high, 1)};
}

double fw_safety__angle_deg(struct fw_point a, struct fw_point b,
                            struct fw_point c, struct fw_point d)
{
    const double ux = b.x_m - a.x_m, uy = b.y_m - a.y_m;
    const double vx = d.x_m - c.x_m, vy = d.y_m - c.y_m;
    const double along = fabs(ux * vx + uy * vy);
    const double across = fabs(ux * vy - uy * vx);
    if (!(along > 0) && !(across > 0))
        return 90;
    return atan2(across, along) * FW_RADIAN_DEG;
}

static enum fw_status add(struct fw_stretches *out, double from_m, double to_m,
                          struct fw_error *err)
{
    const enum fw_status status = fw_array_reserve(
        &out->items, &out->capacity, out->count + 1, sizeof *out->items, err);
    if (!status)
        out->items[out->count++] = (struct fw_stretch){from_m, to_m};
    return status;
}

struct leg { /* a straight leg of the line, and what is sought along it */
    struct fw_point a, b;
    double at_m, length_m;
    const struct fw_safety_shape *shape;
    double reach_m, most_deg;
};

static enum fw_status near_ring(const struct leg *leg, size_t ring,
                                struct fw_stretches *out, struct fw_error *err)
{
    const struct fw_safety_shape *shape = leg->shape;
    const double most_deg = leg->most_deg;
    enum fw_status status = FW_OK;
    const size_t sides = fw_safety__ring_sides(shape, ring);
    for (size_t i = 0; !status && i < sides; i++) {
        struct fw_point c, d;
        fw_safety__side(shape, ring, i, &c, &d);
        if (fw_safety__box_gap_m(leg->a, leg->b, c, d) > leg->reach_m ||
            (most_deg < 90 &&
             fw_safety__angle_deg(leg->a, leg->b, c, d) > most_deg))
            continue;
        const struct part part =
            near_side(leg->a, leg->b, c, d, leg->reach_m, most_deg < 90);
        if (part.low <= part.high)
            status = add(out, leg->at_m + part.low * leg->length_m,
                         leg->at_m + part.high * leg->length_m, err);
    }
    return status;
}

typedef enum fw_status on_leg(const struct leg *leg, struct fw_stretches *out,
                              struct fw_error *err);

static enum fw_status each_leg(const struct fw_point *line, size_t count,
                               struct leg leg, on_leg *on,
                               struct fw_stretches *out, struct fw_error *err)
{
    enum fw_status status = FW_OK;
    for (size_t i = 1; !status && i < count; i++) {
        leg.a = line[i - 1];
        leg.b = line[i];
        leg.length_m = fw_point_apart_m(leg.b, leg.a);
        status = on(&leg, out, err);
        leg.at_m += leg.length_m;
    }
    return status;
}

static enum fw_status near_outline(const struct leg *leg,
                                   struct fw_stretches *out,
                                   struct fw_error *err)
{
    enum fw_status status = FW_OK;
    for (size_t r = 0; !status && r < leg->shape->ring_count; r++)
        status = near_ring(leg, r, out, err);
    return status;
}

enum fw_status fw_safety__near_outline(const struct fw_point *line,
                                       size_t count,
                                       const struct fw_safety_shape *shape,
                                       double reach_m, double most_deg,
                                       struct fw_stretches *out,
                                       struct fw_error *err)
{
    const struct leg sought = {
        .shape = shape, .reach_m = reach_m, .most_deg = most_deg};
    return each_leg(line, count, sought, near_outline, out, err);
}

/* What lies inside an area is within reach of it as well: between two meetings
 * with the outline the leg is inside or outside as a whole. */
static enum fw_status inside(const struct leg *leg, struct fw_stretches *out,
                             struct fw_error *err)
{
    const struct fw_safety_shape *shape = leg->shape;
    struct fw_stretches met = {0};
    const struct leg own = {leg->a, leg->b,     0, leg->length_m,
                            shape,  touching_m, 90};
    enum fw_status status = near_outline(&own, &met, err);
    if (!status)
        status = add(&met, leg->length_m, leg->length_m, err);
    if (!status)
        fw_stretches_join(&met, 0);
    double from_m = 0;
    for (size_t i = 0; !status && i < met.count; i++) {
        const struct fw_point ends[2] = {leg->a, leg->b};
        const double to_m = met.items[i].from_m;
        if (to_m > from_m &&
            fw_safety__inside(shape,
                              fw_safety_along(ends, 2, (from_m + to_m) / 2)))
            status = add(out, leg->at_m + from_m, leg->at_m + to_m, err);
        from_m = met.items[i].to_m;
    }
    fw_stretches_release(&met);
    return status;
}

enum fw_status fw_stretches_find(const struct fw_point *line, size_t count,
                                 const struct fw_safety_shape *shape,
                                 double reach_m, double most_deg,
                                 struct fw_stretches *out, struct fw_error *err)
{
    enum fw_status status = fw_safety__near_outline(line, count, shape, reach_m,
                                                    most_deg, out, err);
    if (!status && shape->area && most_deg >= 90)
        status = each_leg(line, count, (struct leg){.shape = shape}, inside,
                          out, err);
    return status;
}

static int by_start(const void *left, const void *right)
{
    const struct fw_stretch *a = left, *b = right;
    if (a->from_m < b->from_m || a->from_m > b->from_m)
        return a->from_m < b->from_m ? -1 : 1;
    return (a->to_m > b->to_m) - (a->to_m < b->to_m);
}

void fw_stretches_join(struct fw_stretches *stretches, double gap_m)
{
    size_t kept = 0;
    if (stretches->count == 0)
        return;
    qsort(stretches->items, stretches->count, sizeof *stretches->items,
          by_start);
    for (size_t i = 1; i < stretches->count; i++) {
        const struct fw_stretch next = stretches->items[i];
        struct fw_stretch *last = &stretches->items[kept];
        if (next.from_m <= last->to_m + gap_m)
            last->to_m = fmax(last->to_m, next.to_m);
        else
            stretches->items[++kept] = next;
    }
    stretches->count = kept + 1;
}

void fw_stretches_release(struct fw_stretches *stretches)
{
    fw_free(stretches->items);
    *stretches = (struct fw_stretches){0};
}
