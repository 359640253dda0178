/* The area that two shapes share. Each is a signed sum of what lies below its
 * edges, down to one base line; what two edges share is the integral of the
 * lower of two straight lines. Nothing is cut, so that nothing can go wrong
 * where corners or sides coincide. */
#include "geo/geo.h"

#include "base/alloc.h"
#include "base/fail.h"

#include <math.h>

/* Under an edge that runs from left to right; sign: 1 or -1. */
struct edge {
    struct fw_point left, right;
    double sign;
};

/* Above the base, at x. */
static double height_m(const struct edge *edge, double x_m)
{
    const double wide_m = edge->right.x_m - edge->left.x_m;
    const double t = (x_m - edge->left.x_m) / wide_m;
    return edge->left.y_m + t * (edge->right.y_m - edge->left.y_m);
}

static double shared_m2(const struct edge *a, const struct edge *b)
{
    const double from_m = fmax(a->left.x_m, b->left.x_m);
    const double to_m = fmin(a->right.x_m, b->right.x_m);
    if (!(to_m > from_m))
        return 0;
    const double wide_m = to_m - from_m;
    const double a0 = height_m(a, from_m), a1 = height_m(a, to_m);
    const double b0 = height_m(b, from_m), b1 = height_m(b, to_m);
    const double d0 = a0 - b0, d1 = a1 - b1;
    if (d0 * d1 >= 0) /* one of them is the lower one all the way */
        return wide_m * (fmin(a0, b0) + fmin(a1, b1)) / 2;
    const double t = d0 / (d0 - d1), middle = a0 + t * (a1 - a0);
    return wide_m *
           (t * (fmin(a0, b0) + middle) + (1 - t) * (middle + fmin(a1, b1))) /
           2;
}

/* How many of the other rings hold the ring: one within an odd number of them
 * is a hole, whichever way it runs. */
static bool is_hole(const struct fw_area *area, size_t ring)
{
    const size_t first = area->ring_start[ring];
    bool hole = false;
    for (size_t r = 0; r < area->ring_count; r++) {
        const size_t start = area->ring_start[r];
        if (r != ring && fw_ring_contains(area->points + start,
                                          area->ring_start[r + 1] - start,
                                          area->points[first]))
            hole = !hole;
    }
    return hole;
}

static size_t add_ring(const struct fw_area *area, size_t ring, double base_m,
                       struct edge *edges)
{
    const size_t first = area->ring_start[ring];
    const size_t count = area->ring_start[ring + 1] - first;
    const struct fw_point *points = area->points + first;
    /* The top of an anticlockwise ring runs from right to left. */
    const double turn =
        (fw_ring_area_m2(points, count) > 0) == !is_hole(area, ring) ? 1 : -1;
    size_t added = 0;
    for (size_t i = 0; i < count; i++) {
        struct fw_point a = points[i], b = points[(i + 1) % count];
        a.y_m -= base_m;
        b.y_m -= base_m;
        if (a.x_m < b.x_m)
            edges[added++] = (struct edge){a, b, -turn};
        else if (b.x_m < a.x_m)
            edges[added++] = (struct edge){b, a, turn};
    }
    return added;
}

static double lowest_m(const struct fw_area *area)
{
    double low_m = (double)INFINITY;
    for (size_t i = 0; i < area->ring_start[area->ring_count]; i++)
        low_m = fmin(low_m, area->points[i].y_m);
    return low_m;
}

static size_t add_edges(const struct fw_area *area, double base_m,
                        struct edge *edges)
{
    size_t count = 0;
    for (size_t r = 0; r < area->ring_count; r++)
        count += add_ring(area, r, base_m, edges + count);
    return count;
}

enum fw_status fw_area_shared(const struct fw_area *a, const struct fw_area *b,
                              double *shared_area_m2, struct fw_error *err)
{
    const size_t most =
        a->ring_start[a->ring_count] + b->ring_start[b->ring_count];
    struct edge *edges = fw_alloc(most, sizeof *edges);
    if (!edges)
        return fw_fail_memory(err);
    const double base_m = fmin(lowest_m(a), lowest_m(b));
    const size_t count = add_edges(a, base_m, edges);
    const size_t all = count + add_edges(b, base_m, edges + count);
    double sum_m2 = 0;
    for (size_t i = 0; i < count; i++)
        for (size_t k = count; k < all; k++)
            sum_m2 +=
                edges[i].sign * edges[k].sign * shared_m2(&edges[i], &edges[k]);
    fw_free(edges);
    *shared_area_m2 = fmax(0, sum_m2);
    return FW_OK;
}
