/* The edges of the ground, in order, and a tree of boxes over them. Edges that
 * follow each other lie beside each other, so that halving them by number
 * makes boxes as good as halving them by place. */
#include "base/alloc.h"
#include "base/fail.h"
#include "geo/ways_inner.h"

void fw_ways__edges_release(struct fw_ways_edges *edges)
{
    fw_free(edges->at);
    fw_free(edges->along);
    fw_free(edges->length_m);
    fw_free(edges->next);
    fw_free(edges->before);
    fw_free(edges->ring_start);
    fw_free(edges->boxes);
    *edges = (struct fw_ways_edges){0};
}

/* ---- rings ---- */

static bool is_same(struct fw_point a, struct fw_point b)
{
    const struct fw_point d = fw_ways__less(a, b);
    return fw_ways__dot(d, d) <= FW_WAYS_SAME_M * FW_WAYS_SAME_M;
}

/* The outer ring anticlockwise, holes clockwise, repeated points once. A hole
 * without an area is none. */
static void take_ring(struct fw_ways_edges *edges,
                      const struct fw_point *points, size_t count)
{
    const bool hole = edges->ring_count > 0;
    const double m2 = count < 3 ? 0 : fw_ring_area_m2(points, count);
    const bool turn = (m2 < 0) != hole;
    const size_t first = edges->count;
    if (!(fabs(m2) > 0))
        return;
    for (size_t i = 0; i < count; i++) {
        const struct fw_point p = points[turn ? count - 1 - i : i];
        if (edges->count == first || !is_same(p, edges->at[edges->count - 1]))
            edges->at[edges->count++] = p;
    }
    while (edges->count > first + 1 &&
           is_same(edges->at[edges->count - 1], edges->at[first]))
        edges->count--;
    if (edges->count < first + 3) {
        edges->count = first;
        return;
    }
    edges->area_m2 += hole ? -fabs(m2) : fabs(m2);
    edges->ring_start[++edges->ring_count] = edges->count;
}

static void link_ring(struct fw_ways_edges *edges, size_t first, size_t end)
{
    for (size_t i = first; i < end; i++) {
        const size_t next = i + 1 < end ? i + 1 : first;
        const struct fw_point to = fw_ways__less(edges->at[next], edges->at[i]);
        const double length_m = sqrt(fw_ways__dot(to, to));
        edges->next[i] = next;
        edges->before[next] = i;
        edges->length_m[i] = length_m;
        edges->along[i] =
            (struct fw_point){to.x_m / length_m, to.y_m / length_m};
    }
}

bool fw_ways__juts(const struct fw_ways_edges *edges, size_t vertex)
{
    return fw_ways__cross(edges->along[edges->before[vertex]],
                          edges->along[vertex]) <= 1e-12;
}

/* ---- boxes ---- */

static const struct fw_ways_box no_box = {HUGE_VAL, HUGE_VAL, -HUGE_VAL,
                                          -HUGE_VAL};

/* Not fmin: these are not to heed NaN, and are most of the work. */
static double less_of(double a, double b)
{
    return a < b ? a : b;
}

static double more_of(double a, double b)
{
    return a > b ? a : b;
}

static struct fw_ways_box with(struct fw_ways_box a, struct fw_ways_box b)
{
    return (struct fw_ways_box){
        less_of(a.low_x, b.low_x), less_of(a.low_y, b.low_y),
        more_of(a.high_x, b.high_x), more_of(a.high_y, b.high_y)};
}

static struct fw_ways_box leaf_box(const struct fw_ways_edges *edges,
                                   size_t leaf)
{
    struct fw_ways_box box = no_box;
    const size_t first = leaf * fw_ways_leaf;
    for (size_t i = first; i < first + fw_ways_leaf && i < edges->count; i++) {
        const struct fw_point a = edges->at[i], b = edges->at[edges->next[i]];
        box = with(box, (struct fw_ways_box){a.x_m, a.y_m, a.x_m, a.y_m});
        box = with(box, (struct fw_ways_box){b.x_m, b.y_m, b.x_m, b.y_m});
    }
    return box;
}

static bool grow_boxes(struct fw_ways_edges *edges)
{
    edges->leaves = 1;
    while (edges->leaves * fw_ways_leaf < edges->count)
        edges->leaves *= 2;
    edges->boxes = fw_alloc(2 * edges->leaves, sizeof *edges->boxes);
    if (!edges->boxes)
        return false;
    for (size_t i = 0; i < edges->leaves; i++)
        edges->boxes[edges->leaves + i] = leaf_box(edges, i);
    for (size_t k = edges->leaves - 1; k > 0; k--)
        edges->boxes[k] = with(edges->boxes[2 * k], edges->boxes[2 * k + 1]);
    return true;
}

static bool meet(const struct fw_ways_box *a, const struct fw_ways_box *b)
{
    return a->low_x <= b->high_x && b->low_x <= a->high_x &&
           a->low_y <= b->high_y && b->low_y <= a->high_y;
}

bool fw_ways__seek_next(struct fw_ways_seek *look, size_t *edge)
{
    const struct fw_ways_edges *edges = look->edges;
    while (look->edge == look->end) {
        if (look->node == 0)
            return false;
        const bool here = meet(&edges->boxes[look->node], &look->box);
        if (here && look->node < edges->leaves) {
            look->node *= 2;
            continue;
        }
        if (here) {
            look->edge = (look->node - edges->leaves) * fw_ways_leaf;
            look->end = look->edge + fw_ways_leaf < edges->count
                            ? look->edge + fw_ways_leaf
                            : edges->count;
        }
        /* Up from right children, then over to the right one. */
        while (look->node & 1)
            look->node /= 2;
        look->node += look->node > 0;
    }
    *edge = look->edge++;
    return true;
}

bool fw_ways__is_near(const struct fw_ways_edges *edges, struct fw_point place,
                      double near_m)
{
    if (!(near_m > 0))
        return false;
    struct fw_ways_seek look = fw_ways__seek(edges, place, place, near_m);
    size_t edge;
    while (fw_ways__seek_next(&look, &edge)) {
        const struct fw_point from = fw_ways__less(place, edges->at[edge]);
        const double along_m = fw_ways__dot(from, edges->along[edge]);
        const double off_m = fw_ways__cross(from, edges->along[edge]);
        const double past_m = along_m < 0 ? -along_m
                              : along_m > edges->length_m[edge]
                                  ? along_m - edges->length_m[edge]
                                  : 0;
        if (off_m * off_m + past_m * past_m < near_m * near_m)
            return true;
    }
    return false;
}

/* ---- all ---- */

static enum fw_status check(const struct fw_point *points,
                            const size_t *ring_start, size_t ring_count,
                            struct fw_error *err)
{
    bool finite = true;
    const size_t count = ring_count > 0 ? ring_start[ring_count] : 0;
    for (size_t i = 0; i < count; i++)
        finite = finite && isfinite(points[i].x_m) && isfinite(points[i].y_m);
    if (finite && count >= 3)
        return FW_OK;
    return fw_fail(err, FW_EFAULT,
                   "no ways inside: a ground of %zu corners, or a corner that "
                   "is not finite",
                   count);
}

enum fw_status fw_ways__edges(struct fw_ways_edges *edges,
                              const struct fw_point *points,
                              const size_t *ring_start, size_t ring_count,
                              struct fw_error *err)
{
    const enum fw_status status = check(points, ring_start, ring_count, err);
    if (status)
        return status;
    const size_t most = ring_start[ring_count];
    *edges = (struct fw_ways_edges){
        .at = fw_alloc(most, sizeof *edges->at),
        .along = fw_alloc(most, sizeof *edges->along),
        .length_m = fw_alloc(most, sizeof *edges->length_m),
        .next = fw_alloc(most, sizeof *edges->next),
        .before = fw_alloc(most, sizeof *edges->before),
        .ring_start = fw_alloc(ring_count + 1, sizeof *edges->ring_start),
    };
    if (!edges->at || !edges->along || !edges->length_m || !edges->next ||
        !edges->before || !edges->ring_start)
        return fw_fail_memory(err);
    for (size_t r = 0; r < ring_count; r++) {
        take_ring(edges, points + ring_start[r],
                  ring_start[r + 1] - ring_start[r]);
        if (edges->ring_count == 0)
            break; /* the outer one has no inside */
    }
    if (!(edges->area_m2 > 0))
        return fw_fail(err, FW_EFAULT,
                       "no ways inside: a ground of %zu corners has no inside",
                       most);
    for (size_t r = 0; r < edges->ring_count; r++)
        link_ring(edges, edges->ring_start[r], edges->ring_start[r + 1]);
    return grow_boxes(edges) ? FW_OK : fw_fail_memory(err);
}
