/* Rings that touch. A valid polygon may have a hole that touches the outer
 * ring or another hole in a point, at a vertex of both or in the middle of a
 * side, so that a strip of it may fall apart there. The walks around the
 * paddocks find this by themselves once
 * - a side that is touched has a vertex there,
 * - a ring that comes to the place goes on along the ring that bounds the same
 *   part of the field, rather than along its own. */
#include "base/alloc.h"
#include "base/array.h"
#include "base/fail.h"
#include "base/length.h"
#include "geo/sweep.h"

#include <stdlib.h>

/* Looking at pairs of sides and vertices ends here, a few milliseconds on: a
 * comb of thousands of long teeth that also has touching holes is not worth
 * more. What is not found counts as joined. */
static const size_t most_steps = 2000000;

struct place {
    double x_m;
    uint32_t vertex;
};

static int by_x(const void *left, const void *right)
{
    const struct place *a = left, *b = right;
    if (a->x_m < b->x_m || a->x_m > b->x_m)
        return a->x_m < b->x_m ? -1 : 1;
    return a->vertex < b->vertex ? -1 : 1;
}

static int by_side(const void *left, const void *right)
{
    const struct fw_sweep_touch *a = left, *b = right;
    if (a->side != b->side)
        return a->side < b->side ? -1 : 1;
    if (a->t < b->t || a->t > b->t)
        return a->t < b->t ? -1 : 1;
    return a->vertex < b->vertex ? -1 : a->vertex > b->vertex;
}

static size_t first_from(const struct place *places, size_t count, double x_m)
{
    size_t low = 0, high = count;
    while (low < high) {
        const size_t middle = low + (high - low) / 2;
        if (places[middle].x_m < x_m)
            low = middle + 1;
        else
            high = middle;
    }
    return low;
}

/* Does p lie on the side a b, away from both ends? */
static bool touches(struct fw_point p, struct fw_point a, struct fw_point b,
                    double reach_m, double *t)
{
    const double x_m = b.x_m - a.x_m, y_m = b.y_m - a.y_m;
    const double side_m = fw_length(x_m, y_m);
    const double along_m =
        ((p.x_m - a.x_m) * x_m + (p.y_m - a.y_m) * y_m) / side_m;
    const double off_m =
        ((p.x_m - a.x_m) * y_m - (p.y_m - a.y_m) * x_m) / side_m;
    *t = along_m / side_m;
    return fabs(off_m) <= reach_m && along_m > reach_m &&
           along_m < side_m - reach_m;
}

static enum fw_status look_along(const struct fw_point *points,
                                 const size_t *ring_start, size_t ring,
                                 const struct place *places, double reach_m,
                                 size_t *steps, struct fw_sweep_touches *out,
                                 struct fw_error *err)
{
    const size_t first = ring_start[ring], end = ring_start[ring + 1];
    const size_t places_count = out->vertex_count;
    for (size_t i = first; i < end; i++) {
        const struct fw_point a = points[i];
        const struct fw_point b = points[i + 1 < end ? i + 1 : first];
        const double most_x_m = fmax(a.x_m, b.x_m) + reach_m;
        const double least_y_m = fmin(a.y_m, b.y_m) - reach_m;
        const double most_y_m = fmax(a.y_m, b.y_m) + reach_m;
        size_t at =
            first_from(places, places_count, fmin(a.x_m, b.x_m) - reach_m);
        for (; at < places_count && places[at].x_m <= most_x_m; at++) {
            const uint32_t vertex = places[at].vertex;
            const struct fw_point p = points[vertex];
            double t;
            if (++*steps > most_steps)
                return FW_OK;
            if (p.y_m < least_y_m || p.y_m > most_y_m ||
                (vertex >= first && vertex < end) ||
                !touches(p, a, b, reach_m, &t))
                continue;
            const enum fw_status status =
                fw_array_reserve(&out->items, &out->capacity, out->count + 1,
                                 sizeof *out->items, err);
            if (status)
                return status;
            out->items[out->count++] =
                (struct fw_sweep_touch){(uint32_t)i, vertex, t};
        }
    }
    return FW_OK;
}

enum fw_status fw_sweep__find_touches(const struct fw_point *points,
                                      const size_t *ring_start,
                                      size_t ring_count, double reach_m,
                                      struct fw_sweep_touches *out,
                                      struct fw_error *err)
{
    *out = (struct fw_sweep_touches){.vertex_count = ring_start[ring_count]};
    if (ring_count == 1)
        return FW_OK;
    struct place *places = fw_alloc(out->vertex_count, sizeof *places);
    if (!places)
        return fw_fail_memory(err);
    for (size_t i = 0; i < out->vertex_count; i++)
        places[i] = (struct place){points[i].x_m, (uint32_t)i};
    qsort(places, out->vertex_count, sizeof *places, by_x);
    size_t steps = 0;
    enum fw_status status = FW_OK;
    for (size_t ring = 0; !status && ring < ring_count; ring++)
        status = look_along(points, ring_start, ring, places, reach_m, &steps,
                            out, err);
    fw_free(places);
    if (status) {
        fw_free(out->items);
        return status;
    }
    if (out->count > 1)
        qsort(out->items, out->count, sizeof *out->items, by_side);
    return FW_OK;
}

/* ---- going on along the other ring ---- */

struct ray { /* from a place along a side that ends or begins there */
    double angle_rad;
    uint32_t vertex;
    bool leaves;
};

static int by_angle(const void *left, const void *right)
{
    const struct ray *a = left, *b = right;
    if (a->angle_rad < b->angle_rad || a->angle_rad > b->angle_rad)
        return a->angle_rad < b->angle_rad ? -1 : 1;
    if (a->leaves != b->leaves)
        return a->leaves ? 1 : -1;
    return a->vertex < b->vertex ? -1 : a->vertex > b->vertex;
}

static bool make_ray(const struct fw_sweep *sweep, uint32_t vertex, bool leaves,
                     struct ray *out)
{
    const uint32_t to = leaves ? sweep->next[vertex] : sweep->previous[vertex];
    const double x_m = sweep->points[to].x_m - sweep->points[vertex].x_m;
    const double y_m = sweep->points[to].y_m - sweep->points[vertex].y_m;
    *out = (struct ray){atan2(y_m, x_m), vertex, leaves};
    return fabs(x_m) > 0 || fabs(y_m) > 0;
}

/* The field lies to the left of its sides: anticlockwise from a side that
 * leaves the place to the next one that comes to it. When sides that leave and
 * come do not alternate the rings overlap, and stay as they are. */
static void link_place(struct fw_sweep *sweep, struct ray *rays, size_t count)
{
    qsort(rays, count, sizeof *rays, by_angle);
    for (size_t i = 0; i < count; i++)
        if (rays[i].leaves == rays[(i + 1) % count].leaves)
            return;
    const size_t first = rays[0].leaves ? 0 : 1;
    uint32_t *from = sweep->spare; /* where each coming side comes from */
    for (size_t i = first; i < count; i += 2)
        from[i / 2] = sweep->previous[rays[(i + 1) % count].vertex];
    for (size_t i = first; i < count; i += 2) {
        sweep->next[from[i / 2]] = rays[i].vertex;
        sweep->previous[rays[i].vertex] = from[i / 2];
    }
}

static int by_place(const void *left, const void *right)
{
    const uint32_t *a = left, *b = right;
    if (a[0] != b[0])
        return a[0] < b[0] ? -1 : 1;
    return a[1] < b[1] ? -1 : a[1] > b[1];
}

/* Vertices that share their place, as pairs of the place and the vertex; the
 * first vertex of a place once for each of the others. */
static size_t list_shared(const struct fw_sweep *sweep, uint32_t (*pairs)[2])
{
    size_t count = 0;
    for (uint32_t i = 0; i < sweep->count; i++) {
        const uint32_t place = sweep->same[i];
        if (place == i)
            continue;
        if (pairs) {
            pairs[count][0] = pairs[count + 1][0] = place;
            pairs[count][1] = place;
            pairs[count + 1][1] = i;
        }
        count += 2;
    }
    return count;
}

enum fw_status fw_sweep__link_touching(struct fw_sweep *sweep,
                                       struct fw_error *err)
{
    const size_t shared = list_shared(sweep, NULL);
    if (shared == 0)
        return FW_OK;
    uint32_t(*pairs)[2] = fw_alloc(shared, sizeof *pairs);
    struct ray *rays = fw_alloc(2 * shared, sizeof *rays);
    enum fw_status status = FW_OK;
    if (!pairs || !rays) {
        status = fw_fail_memory(err);
        goto done;
    }
    list_shared(sweep, pairs);
    qsort(pairs, shared, sizeof *pairs, by_place);
    for (size_t i = 0, end; i < shared; i = end) {
        size_t count = 0;
        bool clear = true;
        for (end = i; end < shared && pairs[end][0] == pairs[i][0]; end++) {
            if (end > i && pairs[end][1] == pairs[end - 1][1])
                continue;
            clear &= make_ray(sweep, pairs[end][1], false, &rays[count++]);
            clear &= make_ray(sweep, pairs[end][1], true, &rays[count++]);
        }
        if (clear)
            link_place(sweep, rays, count);
    }
done:
    fw_free(pairs);
    fw_free(rays);
    return status;
}
