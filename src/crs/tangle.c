/* How often rings cross themselves and each other, without repairing them: by
 * a tree of boxes around stretches of their sides. Sides that follow each other
 * lie near each other, so that few boxes overlap. */
#include "base/alloc.h"
#include "base/fail.h"
#include "crs/repair.h"
#include "geo/inner.h"

#include <math.h>

struct box {
    double west, east, south, north;
};

struct tangle {
    const struct fw_repair *repair;
    struct fw_xy (*sides)[2];
    struct box *boxes; /* of a heap: children of i are 2i + 1 and 2i + 2 */
    size_t side_count, leaves;
    size_t found, most;
};

static struct box around(struct box a, struct box b)
{
    return (struct box){fmin(a.west, b.west), fmax(a.east, b.east),
                        fmin(a.south, b.south), fmax(a.north, b.north)};
}

static bool apart(struct box a, struct box b)
{
    return a.east < b.west || b.east < a.west || a.north < b.south ||
           b.north < a.south;
}

static double turn(struct fw_xy o, struct fw_xy a, struct fw_xy b)
{
    return (a.x - o.x) * (b.y - o.y) - (a.y - o.y) * (b.x - o.x);
}

/* Each from one side of the other to the other; what only touches does not. */
static bool cross(const struct fw_xy p[2], const struct fw_xy q[2])
{
    return turn(p[0], p[1], q[0]) * turn(p[0], p[1], q[1]) < 0 &&
           turn(q[0], q[1], p[0]) * turn(q[0], q[1], p[1]) < 0;
}

static enum fw_status list_sides(struct tangle *tangle, struct fw_error *err)
{
    const struct fw_repair *repair = tangle->repair;
    const struct fw_shape *shape = &repair->shape;
    tangle->side_count = shape->point_count;
    tangle->leaves = 1;
    while (tangle->leaves < tangle->side_count)
        tangle->leaves *= 2;
    tangle->sides = fw_alloc(tangle->side_count, sizeof *tangle->sides);
    tangle->boxes = fw_alloc(2 * tangle->leaves, sizeof *tangle->boxes);
    if (!tangle->sides || !tangle->boxes)
        return fw_fail_memory(err);
    for (size_t r = 0; r < shape->ring_count; r++) {
        const struct fw_xy *ring = fw_ring_points(shape, r);
        const size_t count = fw_ring_size(shape, r);
        for (size_t i = 0; i < count; i++)
            for (size_t end = 0; end < 2; end++) {
                struct fw_xy at = ring[(i + end) % count];
                at.x = fw_unwrap(at.x, shape->points[0].x, repair->turn);
                tangle->sides[shape->ring_start[r] + i][end] = at;
            }
    }
    return FW_OK;
}

static void fill_boxes(struct tangle *tangle)
{
    const struct box none = {HUGE_VAL, -HUGE_VAL, HUGE_VAL, -HUGE_VAL};
    struct box *leaf = tangle->boxes + tangle->leaves - 1;
    for (size_t i = 0; i < tangle->leaves; i++) {
        leaf[i] = none;
        for (size_t end = 0; i < tangle->side_count && end < 2; end++) {
            const struct fw_xy at = tangle->sides[i][end];
            leaf[i] = around(leaf[i], (struct box){at.x, at.x, at.y, at.y});
        }
    }
    for (size_t i = tangle->leaves - 1; i-- > 0;)
        tangle->boxes[i] =
            around(tangle->boxes[2 * i + 1], tangle->boxes[2 * i + 2]);
}

/* Crossings between the sides below two boxes of one level. */
static void meet(struct tangle *tangle, size_t a, size_t b)
{
    if (tangle->found >= tangle->most ||
        apart(tangle->boxes[a], tangle->boxes[b]))
        return;
    if (a + 1 >= tangle->leaves) {
        const size_t first = tangle->leaves - 1;
        tangle->found +=
            a != b && cross(tangle->sides[a - first], tangle->sides[b - first]);
        return;
    }
    meet(tangle, 2 * a + 1, 2 * b + 1);
    meet(tangle, 2 * a + 1, 2 * b + 2);
    meet(tangle, 2 * a + 2, 2 * b + 2);
    if (a != b)
        meet(tangle, 2 * a + 2, 2 * b + 1);
}

enum fw_status fw_repair_crossings(const struct fw_repair *repair, size_t most,
                                   size_t *out)
{
    struct tangle tangle = {.repair = repair, .most = most};
    const enum fw_status status = list_sides(&tangle, repair->err);
    if (!status) {
        fill_boxes(&tangle);
        meet(&tangle, 0, 0);
        *out = tangle.found;
    }
    fw_free(tangle.sides);
    fw_free(tangle.boxes);
    return status;
}
