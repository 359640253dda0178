#include <foldwright/safety.h>

#include <math.h>

struct nearest {
    double distance_m;
    struct fw_point where; /* on a */
};

static struct fw_point closest(struct fw_point p, struct fw_point a,
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

static void keep(struct nearest *best, struct fw_point on_a,
                 struct fw_point on_b)
{
    const double distance_m = hypot(on_b.x_m - on_a.x_m, on_b.y_m - on_a.y_m);
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

/* Never over the distance of the two sides: that of their boxes. */
static double at_least_m(struct fw_point a, struct fw_point b,
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
    if (at_least_m(a, b, c, d) >= best->distance_m)
        return;
    if (cross(a, b, c, d, &where)) {
        *best = (struct nearest){0, where};
        return;
    }
    keep(best, a, closest(a, c, d));
    keep(best, b, closest(b, c, d));
    keep(best, closest(c, a, b), c);
    keep(best, closest(d, a, b), d);
}

/* A single point is a side without length. */
static size_t side_count(size_t count, bool closed)
{
    if (count < 2)
        return count;
    return closed ? count : count - 1;
}

double fw_safety_distance_m(const struct fw_point *a, size_t a_count,
                            bool a_closed, const struct fw_point *b,
                            size_t b_count, bool b_closed,
                            struct fw_point *where)
{
    struct nearest best = {.distance_m = (double)INFINITY};
    const size_t a_sides = side_count(a_count, a_closed);
    const size_t b_sides = side_count(b_count, b_closed);
    for (size_t i = 0; i < a_sides && best.distance_m > 0; i++)
        for (size_t j = 0; j < b_sides && best.distance_m > 0; j++)
            compare(&best, a[i], a[(i + 1) % a_count], b[j],
                    b[(j + 1) % b_count]);

    /* No side meets another: a lies wholly inside b or wholly outside. */
    if (best.distance_m > 0 && a_sides > 0 && b_closed && b_count > 2 &&
        fw_ring_contains(b, b_count, a[0]))
        best = (struct nearest){0, a[0]};
    if (where && a_sides > 0 && b_sides > 0)
        *where = best.where;
    return best.distance_m;
}
