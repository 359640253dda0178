/* Zones: each even in itself, so that all that matters is their sides.
 *
 * Going up along a line x = constant, the density changes by a side's step
 * where the line meets it. So the mass below a point, over the base, is the
 * sum of step times how far the point lies above the side, over the sides
 * below it; and below an edge it is the integral of that along x: the
 * difference of two lines where it is positive. Sides above an edge count
 * nothing, and no two shapes need to be intersected. */
#include "base/alloc.h"
#include "base/fail.h"
#include "base/length.h"
#include "geo/herbage_inner.h"

#include <math.h>
#include <stdlib.h>

/* ---- order ---- */

static int by_place(const void *one, const void *other)
{
    const struct fw_zone_side *a = one, *b = other;
    const double keys[][2] = {{a->left.x_m, b->left.x_m},
                              {a->right.x_m, b->right.x_m},
                              {a->left.y_m, b->left.y_m},
                              {a->right.y_m, b->right.y_m},
                              {a->step_kg_m2, b->step_kg_m2}};
    for (size_t i = 0; i < sizeof keys / sizeof keys[0]; i++)
        if (keys[i][0] < keys[i][1] || keys[i][0] > keys[i][1])
            return keys[i][0] < keys[i][1] ? -1 : 1;
    return 0;
}

enum fw_status fw_zones_sort(struct fw_herbage *ground, struct fw_error *err)
{
    const size_t count = ground->side_count;
    if (count == 0)
        return FW_OK;
    ground->reach_m = fw_alloc(count, sizeof *ground->reach_m);
    if (!ground->reach_m)
        return fw_fail_memory(err);
    qsort(ground->sides, count, sizeof *ground->sides, by_place);
    double reach_m = -HUGE_VAL;
    for (size_t i = 0; i < count; i++) {
        reach_m = fmax(reach_m, ground->sides[i].right.x_m);
        ground->reach_m[i] = reach_m;
    }
    return FW_OK;
}

/* The first side that can reach as far right as x. */
static size_t first_side(const struct fw_herbage *ground, double x_m)
{
    size_t low = 0, high = ground->side_count;
    while (low < high) {
        const size_t middle = low + (high - low) / 2;
        if (ground->reach_m[middle] < x_m)
            low = middle + 1;
        else
            high = middle;
    }
    return low;
}

/* ---- a segment over a side ---- */

static double height_at(struct fw_point a, struct fw_point b, double x_m)
{
    if (x_m <= a.x_m)
        return a.y_m;
    if (x_m >= b.x_m)
        return b.y_m;
    return a.y_m + (x_m - a.x_m) / (b.x_m - a.x_m) * (b.y_m - a.y_m);
}

/* How high the segment stands over the side where they have x in common. */
struct over {
    double from_m, to_m;   /* along x */
    double start_m, end_m; /* heights there */
};

static bool meet(const struct fw_zone_side *side, struct fw_point left,
                 struct fw_point right, struct over *over)
{
    over->from_m = fmax(side->left.x_m, left.x_m);
    over->to_m = fmin(side->right.x_m, right.x_m);
    if (!(over->to_m > over->from_m) ||
        fmin(side->left.y_m, side->right.y_m) >= fmax(left.y_m, right.y_m))
        return false;
    over->start_m = height_at(left, right, over->from_m) -
                    height_at(side->left, side->right, over->from_m);
    over->end_m = height_at(left, right, over->to_m) -
                  height_at(side->left, side->right, over->to_m);
    return true;
}

/* The part of a line between two heights that is positive. */
static double share_above(double start_m, double end_m)
{
    if (start_m > 0 && end_m > 0)
        return 1;
    if (start_m > 0)
        return start_m / (start_m - end_m);
    return end_m > 0 ? end_m / (end_m - start_m) : 0;
}

static double area_above(const struct over *over)
{
    const double heights_m = fmax(0, over->start_m) + fmax(0, over->end_m);
    return heights_m / 2 * share_above(over->start_m, over->end_m) *
           (over->to_m - over->from_m);
}

void fw_zones_below(const struct fw_herbage *ground, struct fw_point a,
                    struct fw_point b, struct fw_sum *mass)
{
    const bool right = a.x_m < b.x_m; /* such edges are the floor of a ring */
    const struct fw_point from = right ? a : b, to = right ? b : a;
    for (size_t i = first_side(ground, from.x_m);
         i < ground->side_count && ground->sides[i].left.x_m < to.x_m; i++) {
        const struct fw_zone_side *side = &ground->sides[i];
        struct over over;
        if (meet(side, from, to, &over))
            fw_sum_add(mass, (right ? -side->step_kg_m2 : side->step_kg_m2) *
                                 area_above(&over));
    }
}

/* ---- along a segment ---- */

/* Straight up no x is shared: a side counts when it spans the segment's x, its
 * left end with it and its right end not. */
static double along_upright(const struct fw_herbage *ground, struct fw_point a,
                            struct fw_point b)
{
    double along = 0;
    for (size_t i = first_side(ground, a.x_m);
         i < ground->side_count && ground->sides[i].left.x_m <= a.x_m; i++) {
        const struct fw_zone_side *side = &ground->sides[i];
        if (side->right.x_m <= a.x_m)
            continue;
        const double side_y_m = height_at(side->left, side->right, a.x_m);
        along += side->step_kg_m2 * fabs(b.y_m - a.y_m) *
                 share_above(a.y_m - side_y_m, b.y_m - side_y_m);
    }
    return along;
}

double fw_zones_along(const struct fw_herbage *ground, struct fw_point a,
                      struct fw_point b)
{
    const bool right = a.x_m < b.x_m;
    const struct fw_point from = right ? a : b, to = right ? b : a;
    const double across_m = to.x_m - from.x_m;
    const double length_m = fw_length(across_m, b.y_m - a.y_m);
    double along = 0;
    if (!(across_m > 0))
        return along_upright(ground, a, b);
    for (size_t i = first_side(ground, from.x_m);
         i < ground->side_count && ground->sides[i].left.x_m < to.x_m; i++) {
        const struct fw_zone_side *side = &ground->sides[i];
        struct over over;
        if (meet(side, from, to, &over))
            along += side->step_kg_m2 * length_m *
                     share_above(over.start_m, over.end_m) *
                     ((over.to_m - over.from_m) / across_m);
    }
    return along;
}
