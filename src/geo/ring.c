/* Rings and lines in the plane. */
#include "base/length.h"
#include "geo/exact.h"
#include "geo/inner.h"
#include "geo/points.h"

#include <math.h>

double fw_unwrap(double x, double near, double turn)
{
    if (!(turn > 0) || fabs(x - near) <= turn / 2)
        return x;
    return x - turn * rint((x - near) / turn);
}

/* Twice the area between an edge and the origin. The products are exact, so
 * the origin may be far away. */
static void add_cross(struct fw_sum *sum, double ax, double ay, double bx,
                      double by)
{
    fw_sum_add_product(sum, ax, by);
    fw_sum_add_product(sum, -bx, ay);
}

double fw_ring_area_m2(const struct fw_point *ring, size_t count)
{
    struct fw_sum twice = {0};
    for (size_t i = 0, before = count - 1; i < count; before = i++)
        add_cross(&twice, ring[before].x_m, ring[before].y_m, ring[i].x_m,
                  ring[i].y_m);
    return fw_sum_value(twice) / 2;
}

double fw_xy_area(const struct fw_xy *ring, size_t count, double turn)
{
    struct fw_sum twice = {0};
    for (size_t i = 0, before = count - 1; i < count; before = i++)
        add_cross(&twice, fw_unwrap(ring[before].x, ring[0].x, turn),
                  ring[before].y, fw_unwrap(ring[i].x, ring[0].x, turn),
                  ring[i].y);
    return fw_sum_value(twice) / 2;
}

double fw_line_length_m(const struct fw_point *line, size_t count, bool closed)
{
    struct fw_sum length = {0};
    for (size_t i = 1; i < count; i++)
        fw_sum_add(&length, fw_length(line[i].x_m - line[i - 1].x_m,
                                      line[i].y_m - line[i - 1].y_m));
    if (closed && count > 1)
        fw_sum_add(&length, fw_length(line[0].x_m - line[count - 1].x_m,
                                      line[0].y_m - line[count - 1].y_m));
    return fw_sum_value(length);
}

/* The lower end belongs to the edge, the upper one does not. The ends are put
 * in order first, so that two rings that share the edge, one each way, never
 * both claim or both disown a point. */
bool fw_edge_crosses_ray(struct fw_point a, struct fw_point b,
                         struct fw_point point)
{
    if ((a.y_m > point.y_m) == (b.y_m > point.y_m))
        return false;
    const struct fw_point low = a.y_m < b.y_m ? a : b;
    const struct fw_point high = a.y_m < b.y_m ? b : a;
    const double side = (high.x_m - low.x_m) * (point.y_m - low.y_m) -
                        (point.x_m - low.x_m) * (high.y_m - low.y_m);
    return side > 0;
}

bool fw_ring_contains(const struct fw_point *ring, size_t count,
                      struct fw_point point)
{
    bool inside = false;
    for (size_t i = 0, before = count - 1; i < count; before = i++)
        if (fw_edge_crosses_ray(ring[before], ring[i], point))
            inside = !inside;
    return inside;
}

double fw_segment_distance_m(struct fw_point p, struct fw_point a,
                             struct fw_point b)
{
    const double dx = b.x_m - a.x_m;
    const double dy = b.y_m - a.y_m;
    const double px = p.x_m - a.x_m;
    const double py = p.y_m - a.y_m;
    const double square = dx * dx + dy * dy;
    const double along = px * dx + py * dy;
    if (!(along > 0)) /* also when a and b are one point */
        return fw_length(px, py);
    if (along >= square)
        return fw_point_apart_m(p, b);
    return fabs(px * dy - py * dx) / sqrt(square);
}

/* A point on an edge is on it to within this, not behind it. */
static const double on_edge_m = 1e-7;

/* Area of the triangle (from, a, b) and the integral of the distance from
 * `from` over it, both signed; false when the edge is seen from behind. */
static bool add_triangle(struct fw_point a, struct fw_point b,
                         struct fw_sum *area, struct fw_sum *walk)
{
    const double dx = b.x_m - a.x_m;
    const double dy = b.y_m - a.y_m;
    const double length = fw_length(dx, dy);
    if (!(length > 0))
        return true;
    const double ux = dx / length;
    const double uy = dy / length;
    const double height = a.x_m * uy - a.y_m * ux;
    if (height < -on_edge_m)
        return false;
    const double s0 = a.x_m * ux + a.y_m * uy;
    const double s1 = b.x_m * ux + b.y_m * uy;
    fw_sum_add(area, height * length / 2);
    if (height == 0)
        return true;
    const double bent = asinh(s1 / height) - asinh(s0 / height);
    const double straight =
        s1 * fw_length(s1, height) - s0 * fw_length(s0, height);
    fw_sum_add(walk, height / 6 * (straight + height * height * bent));
    return true;
}

bool fw_ring_straight_walk(const struct fw_point *ring, size_t count,
                           struct fw_point from, double *mean_m,
                           double *longest_m)
{
    if (count < 3)
        return false;
    const double sign = fw_ring_area_m2(ring, count) < 0 ? -1 : 1;
    struct fw_sum area = {0};
    struct fw_sum walk = {0};
    double longest = 0;
    struct fw_point last = {sign * (ring[count - 1].x_m - from.x_m),
                            ring[count - 1].y_m - from.y_m};
    for (size_t i = 0; i < count; i++) {
        /* A clockwise ring is mirrored. */
        const struct fw_point here = {sign * (ring[i].x_m - from.x_m),
                                      ring[i].y_m - from.y_m};
        if (!add_triangle(last, here, &area, &walk))
            return false;
        longest = fmax(longest, fw_length(here.x_m, here.y_m));
        last = here;
    }
    if (!(fw_sum_value(area) > 0))
        return false;
    *mean_m = fw_sum_value(walk) / fw_sum_value(area);
    *longest_m = longest;
    return true;
}
