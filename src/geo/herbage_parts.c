/* A convex polygon in parts, each with one density: what a sum over its feed
 * is taken of. Zones need not be intersected: above each of their sides the
 * density is greater by a step, so that a part is what of the polygon lies
 * above a side. */
#include "geo/herbage_inner.h"
#include "geo/points.h"

#include <math.h>

enum {
    cell_sides = 4,
    ring_most = FW_HERBAGE_CORNERS + cell_sides /* each cut adds a corner */
};

struct ring {
    struct fw_point of[ring_most];
    size_t count;
};

/* What lies to the left of the way from a to b. */
static void keep_left(struct ring *ring, struct fw_point a, struct fw_point b)
{
    const struct ring from = *ring;
    ring->count = 0;
    for (size_t i = 0; i < from.count; i++) {
        const struct fw_point p = from.of[i];
        const struct fw_point q = from.of[i + 1 < from.count ? i + 1 : 0];
        const double here = fw_side_of(a, b, p), there = fw_side_of(a, b, q);
        if (here >= 0)
            ring->of[ring->count++] = p;
        if ((here > 0 && there < 0) || (here < 0 && there > 0))
            ring->of[ring->count++] =
                fw_point_between(p, q, here / (here - there));
    }
}

struct parting {
    const struct fw_herbage *ground;
    struct ring ring;
    struct fw_point low, high; /* its box */
    fw_herbage_part *part;
    void *to;
};

static void give(const struct parting *parting, const struct ring *ring,
                 double kg_m2)
{
    if (ring->count > 2)
        parting->part(parting->to, ring->of, ring->count, kg_m2);
}

static void above_side(const struct parting *parting,
                       const struct fw_zone_side *side)
{
    const struct fw_point left = side->left, right = side->right;
    struct ring ring = parting->ring;
    if (!(left.x_m < right.x_m) || right.x_m <= parting->low.x_m ||
        left.x_m >= parting->high.x_m ||
        fmin(left.y_m, right.y_m) >= parting->high.y_m)
        return;
    keep_left(&ring, left, (struct fw_point){left.x_m, left.y_m - 1});
    keep_left(&ring, right, (struct fw_point){right.x_m, right.y_m + 1});
    keep_left(&ring, left, right);
    give(parting, &ring, side->step_kg_m2);
}

static void in_cell(const struct parting *parting, size_t i, size_t j)
{
    const struct fw_raster *raster = parting->ground->raster;
    const struct fw_point corners[cell_sides] = {
        fw_raster_corner(raster, i, j), fw_raster_corner(raster, i + 1, j),
        fw_raster_corner(raster, i + 1, j + 1),
        fw_raster_corner(raster, i, j + 1)};
    struct ring ring = parting->ring;
    for (size_t k = 0; k < cell_sides && ring.count > 0; k++)
        keep_left(&ring, corners[k], corners[(k + 1) % cell_sides]);
    give(parting, &ring, raster->values[j * raster->columns + i]);
}

static size_t lesser(size_t a, size_t b)
{
    return a < b ? a : b;
}

static size_t greater(size_t a, size_t b)
{
    return a > b ? a : b;
}

/* Lines of the raster may bend a little between the polygon's corners. */
static void in_cells(const struct parting *parting)
{
    const struct fw_raster *raster = parting->ground->raster;
    struct fw_cell first = fw_raster_cell(raster, parting->ring.of[0]);
    struct fw_cell last = first;
    for (size_t k = 1; k < parting->ring.count; k++) {
        const struct fw_cell at = fw_raster_cell(raster, parting->ring.of[k]);
        first.i = lesser(first.i, at.i);
        first.j = lesser(first.j, at.j);
        last.i = greater(last.i, at.i);
        last.j = greater(last.j, at.j);
    }
    last.i = lesser(last.i + 1, raster->columns - 1);
    last.j = lesser(last.j + 1, raster->rows - 1);
    for (size_t j = first.j > 0 ? first.j - 1 : 0; j <= last.j; j++)
        for (size_t i = first.i > 0 ? first.i - 1 : 0; i <= last.i; i++)
            in_cell(parting, i, j);
}

void fw_herbage_parts(const struct fw_herbage *ground,
                      const struct fw_point *ring, size_t count,
                      fw_herbage_part *part, void *to)
{
    struct parting parting = {.ground = ground,
                              .low = {HUGE_VAL, HUGE_VAL},
                              .high = {-HUGE_VAL, -HUGE_VAL},
                              .part = part,
                              .to = to};
    for (size_t i = 0; i < count; i++) {
        parting.ring.of[parting.ring.count++] = ring[i];
        parting.low.x_m = fmin(parting.low.x_m, ring[i].x_m);
        parting.low.y_m = fmin(parting.low.y_m, ring[i].y_m);
        parting.high.x_m = fmax(parting.high.x_m, ring[i].x_m);
        parting.high.y_m = fmax(parting.high.y_m, ring[i].y_m);
    }
    if (ground->raster) {
        in_cells(&parting);
        return;
    }
    give(&parting, &parting.ring, ground->base_kg_m2);
    for (size_t i = 0; i < ground->side_count; i++)
        above_side(&parting, &ground->sides[i]);
}
