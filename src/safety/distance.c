#include "geo/points.h"
#include "safety/plane.h"

#include <math.h>

struct nearest {
    double distance_m;
    struct fw_point where; /* on a */
};

struct fw_point fw_safety__closest(struct fw_point p, struct fw_point a,
                                   struct fw_point b)
{
    const double ux = b.x_m - a.x_m, uy = b.y_m - a.y_m;
    const double square = ux * ux + uy * uy;
    if (!(square > 0))
        return a;
    const double t = ((p.x_m - a.x_m) * ux + (p.y_m - a.y_m) * uy) / square;
    if (t <= 0)
        return a;
    if (t >= 1)
        return b;
    return (struct fw_point){a.x_m + t * ux, a.y_m + t * uy};
}

size_t fw_safety__sides(size_t count, bool closed)
{
    if (count < 2)
        return count;
    return closed ? count : count - 1;
}

size_t fw_safety__ring_sides(const struct fw_safety_shape *shape, size_t ring)
{
    return fw_safety__sides(
        shape->ring_start[ring + 1] - shape->ring_start[ring], shape->area);
}

void fw_safety__side(const struct fw_safety_shape *shape, size_t ring,
                     size_t side, struct fw_point *a, struct fw_point *b)
{
    const size_t first = shape->ring_start[ring];
    const size_t count = shape->ring_start[ring + 1] - first;
    *a = shape->points[first + side];
    *b = shape->points[first + (side + 1) % count];
}

bool fw_safety__inside(const struct fw_safety_shape *shape, struct fw_point p)
{
    bool inside = false;
    for (size_t r = 0; shape->area && r < shape->ring_count; r++) {
        const size_t first = shape->ring_start[r];
        const size_t count = shape->ring_start[r + 1] - first;
        if (count > 2 && fw_ring_contains(shape->points + first, count, p))
            inside = !inside;
    }
    return inside;
}

static void keep(struct nearest *best, struct fw_point on_a,
                 struct fw_point on_b)
{
    const double distance_m = fw_point_apart_m(on_b, on_a);
    if (distance_m < best->distance_m)
        *best = (struct nearest){distance_m, on_a};
}

/* Twice the area of the triangle; which side of a-b the point p is on. */
static double side(struct fw_point a, struct fw_point b, struct fw_point p)
{
    return (b.x_m - a.x_m) * (p.y_m - a.y_m) -
           (b.y_m - a.y_m) * (p.x_m - a.x_m);
}

/* Only where the sides cross inside both: ends that touch come out of the
 * distances from the ends. */
static bool cross(struct fw_point a, struct fw_point b, struct fw_point c,
                  struct fw_point d, struct fw_point *where)
{
    const double at_a = side(c, d, a), at_b = side(c, d, b);
    const double at_c = side(a, b, c), at_d = side(a, b, d);
    if (!((at_a < 0 && at_b > 0) || (at_a > 0 && at_b < 0)) ||
        !((at_c < 0 && at_d > 0) || (at_c > 0 && at_d < 0)))
        return false;
    const double t = at_a / (at_a - at_b);
    *where = (struct fw_point){a.x_m + t * (b.x_m - a.x_m),
                               a.y_m + t * (b.y_m - a.y_m)};
    return true;
}

static double gap(double low_a, double high_a, double low_b, double high_b)
{
    return fmax(0, fmax(low_b - high_a, low_a - high_b));
}

double fw_safety__box_gap_m(struct fw_point a, struct fw_point b,
                            struct fw_point c, struct fw_point d)
{
    return fmax(gap(fmin(a.x_m, b.x_m), fmax(a.x_m, b.x_m), fmin(c.x_m, d.x_m),
                    fmax(c.x_m, d.x_m)),
                gap(fmin(a.y_m, b.y_m), fmax(a.y_m, b.y_m), fmin(c.y_m, d.y_m),
                    fmax(c.y_m, d.y_m)));
}

static void compare(struct nearest *best, struct fw_point a, struct fw_point b,
                    struct fw_point c, struct fw_point d)
{
    struct fw_point where;
    if (fw_safety__box_gap_m(a, b, c, d) >= best->distance_m)
        return;
    if (cross(a, b, c, d, &where)) {
        *best = (struct nearest){0, where};
        return;
    }
    keep(best, a, fw_safety__closest(a, c, d));
    keep(best, b, fw_safety__closest(b, c, d));
    keep(best, fw_safety__closest(c, a, b), c);
    keep(best, fw_safety__closest(d, a, b), d);
}

static void compare_all(struct nearest *best, const struct fw_point *a,
                        size_t a_count, bool a_closed, const struct fw_point *b,
                        size_t b_count, bool b_closed)
{
    const size_t a_sides = fw_safety__sides(a_count, a_closed);
    const size_t b_sides = fw_safety__sides(b_count, b_closed);
    for (size_t i = 0; i < a_sides && best->distance_m > 0; i++)
        for (size_t j = 0; j < b_sides && best->distance_m > 0; j++)
            compare(best, a[i], a[(i + 1) % a_count], b[j],
                    b[(j + 1) % b_count]);
}

double fw_safety_distance_m(const struct fw_point *a, size_t a_count,
                            bool a_closed, const struct fw_point *b,
                            size_t b_count, bool b_closed,
                            struct fw_point *where)
{
    struct nearest best = {.distance_m = (double)INFINITY};
    compare_all(&best, a, a_count, a_closed, b, b_count, b_closed);

    /* No side meets another: a lies wholly inside b or wholly outside. */
    if (best.distance_m > 0 && a_count > 0 && b_closed && b_count > 2 &&
        fw_ring_contains(b, b_count, a[0]))
        best = (struct nearest){0, a[0]};
    if (where && a_count > 0 && b_count > 0)
        *where = best.where;
    return best.distance_m;
}

double fw_safety_shape_distance_m(const struct fw_point *line, size_t count,
                                  const struct fw_safety_shape *shape,
                                  struct fw_point *where)
{
    struct nearest best = {.distance_m = (double)INFINITY};
    for (size_t r = 0; r < shape->ring_count; r++) {
        const size_t first = shape->ring_start[r];
        compare_all(&best, line, count, false, shape->points + first,
                    shape->ring_start[r + 1] - first, shape->area);
    }
    if (best.distance_m > 0 && count > 0 && fw_safety__inside(shape, line[0]))
        best = (struct nearest){0, line[0]};
    if (where && isfinite(best.distance_m))
        *where = best.where;
    return best.distance_m;
}

struct fw_point fw_safety_shape_nearest(const struct fw_safety_shape *shape,
                                        struct fw_point from)
{
    struct nearest best = {(double)INFINITY, from};
    if (fw_safety__inside(shape, from))
        return from;
    for (size_t r = 0; r < shape->ring_count; r++)
        for (size_t i = 0; i < fw_safety__ring_sides(shape, r); i++) {
            struct fw_point a, b;
            fw_safety__side(shape, r, i, &a, &b);
            keep(&best, fw_safety__closest(from, a, b), from);
        }
    return best.where;
}

struct fw_point fw_safety_along(const struct fw_point *line, size_t count,
                                double at_m)
{
    for (size_t i = 1; i < count; i++) {
        const double side_m = fw_point_apart_m(line[i], line[i - 1]);
        if (at_m <= side_m && side_m > 0) {
            const double t = fmax(0, at_m / side_m);
            return (struct fw_point){
                line[i - 1].x_m + t * (line[i].x_m - line[i - 1].x_m),
                line[i - 1].y_m + t * (line[i].y_m - line[i - 1].y_m)};
        }
        at_m -= side_m;
    }
    return line[count - 1];
}
