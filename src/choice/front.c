/* A front fence that stands before the plan begins: the place to go on from,
 * and a line among the lines of a layout. */
#include "base/alloc.h"
#include "base/fail.h"
#include "choice/limits.h"
#include "figures/mark.h"
#include "figures/plan.h"
#include "geo/points.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* ---- where to begin ---- */

static size_t next_in_ring(const struct fw_field *shape, size_t ring, size_t v)
{
    return v + 1 < shape->ring_start[ring + 1] ? v + 1
                                               : shape->ring_start[ring];
}

/* So far along the run that begins at a vertex; its length when that is beyond
 * its end. */
static double walk(const struct fw_farm_field *field, size_t ring, size_t v,
                   double along_m, struct fw_point *at)
{
    const struct fw_field *shape = field->grazed;
    const size_t count = shape->ring_start[ring + 1] - shape->ring_start[ring];
    double sum_m = 0;
    for (size_t i = 0; i < count && field->front.runs[v]; i++) {
        const size_t next = next_in_ring(shape, ring, v);
        const struct fw_point a = shape->vertices[v].plane;
        const struct fw_point b = shape->vertices[next].plane;
        const double side_m = fw_point_apart_m(a, b);
        if (sum_m + side_m >= along_m) {
            const double t = (along_m - sum_m) / side_m;
            *at = (struct fw_point){a.x_m + t * (b.x_m - a.x_m),
                                    a.y_m + t * (b.y_m - a.y_m)};
            return along_m;
        }
        sum_m += side_m;
        v = next;
    }
    return sum_m;
}

static size_t before_in_ring(const struct fw_field *shape, size_t ring,
                             size_t v)
{
    return v > shape->ring_start[ring] ? v - 1
                                       : shape->ring_start[ring + 1] - 1;
}

/* Near the end of the longest run that the shepherd comes to first: blocks are
 * then grazed from one side to the other. */
bool fw_plan__front_start(const struct fw_farm_field *field,
                          struct fw_point *out)
{
    const struct fw_field *shape = field->grazed;
    double longest_m = 0;
    if (!field->front.given)
        return false;
    const struct fw_point seen =
        field->gate.given ? field->gate.point : field->water.point;
    for (size_t r = 0; r < shape->ring_count; r++)
        for (size_t v = shape->ring_start[r]; v < shape->ring_start[r + 1];
             v++) {
            struct fw_point first, last;
            if (!field->front.runs[v] ||
                field->front.runs[before_in_ring(shape, r, v)])
                continue;
            const double run_m = walk(field, r, v, HUGE_VAL, &last);
            if (!(run_m > longest_m))
                continue;
            longest_m = run_m;
            const double in_m = fmin(FW_FRONT_FROM_END_M, run_m / 2);
            walk(field, r, v, in_m, &first);
            walk(field, r, v, run_m - in_m, &last);
            *out = fw_point_apart_m(seen, last) < fw_point_apart_m(seen, first)
                       ? last
                       : first;
        }
    return longest_m > 0;
}

/* ---- its lines ---- */

struct fronts {
    const struct fw_farm_field *field;
    struct fw_layout *layout;
    size_t *next;   /* of each vertex of the layout along a front, else none */
    size_t *beside; /* paddock or common ground along it from there */
    bool *begun;    /* does something of a front lead to it? */
    size_t *order;  /* vertices along a front as the rings have them */
    size_t order_count;
};

/* The piece of a line that begins there. */
static double piece_m(const struct fw_farm_field *field,
                      const struct fw_layout *layout, size_t i)
{
    return fw_point_apart_m(
        fw_plan__layout_at(field, layout, layout->line_vertices[i]),
        fw_plan__layout_at(field, layout, layout->line_vertices[i + 1]));
}

struct stop { /* a vertex of a cut on a side */
    size_t edge;
    double t;
    size_t vertex;
};

static int by_way(const void *left, const void *right)
{
    const struct stop *a = left, *b = right;
    if (a->edge != b->edge)
        return a->edge < b->edge ? -1 : 1;
    if (a->t < b->t || a->t > b->t)
        return a->t < b->t ? -1 : 1;
    return a->vertex < b->vertex ? -1 : a->vertex > b->vertex;
}

static size_t list_stops(const struct fronts *fronts, struct stop *stops)
{
    const struct fw_layout *layout = fronts->layout;
    size_t count = 0;
    for (size_t i = 0; i < layout->added_count; i++) {
        const struct fw_layout_vertex *added = &layout->added[i];
        if (added->edge != FW_INSIDE && fronts->field->front.runs[added->edge])
            stops[count++] =
                (struct stop){added->edge, added->t, layout->vertex_count + i};
    }
    if (count > 0)
        qsort(stops, count, sizeof *stops, by_way);
    return count;
}

static void link(struct fronts *fronts, size_t from, size_t to)
{
    fronts->next[from] = to;
    fronts->begun[to] = true;
    fronts->order[fronts->order_count++] = from;
}

static enum fw_status chain(struct fronts *fronts, struct fw_error *err)
{
    const struct fw_field *shape = fronts->field->grazed;
    struct stop *stops = fw_alloc(fronts->layout->added_count, sizeof *stops);
    if (!stops)
        return fw_fail_memory(err);
    const size_t count = list_stops(fronts, stops);
    size_t stop = 0;
    for (size_t r = 0; r < shape->ring_count; r++)
        for (size_t v = shape->ring_start[r]; v < shape->ring_start[r + 1];
             v++) {
            size_t here = v;
            if (!fronts->field->front.runs[v])
                continue;
            for (; stop < count && stops[stop].edge == v; stop++) {
                link(fronts, here, stops[stop].vertex);
                here = stops[stop].vertex;
            }
            link(fronts, here, next_in_ring(shape, r, v));
        }
    fw_free(stops);
    return FW_OK;
}

/* Rings run with their paddock to the left, and so does the field's. */
static void find_beside(struct fronts *fronts)
{
    const struct fw_layout *layout = fronts->layout;
    const size_t all = layout->paddock_count + layout->common_count;
    for (size_t p = 0; p < all; p++) {
        const size_t first = layout->piece_ring[layout->paddock_piece[p]];
        const size_t end = layout->piece_ring[layout->paddock_piece[p + 1]];
        for (size_t r = first; r < end; r++) {
            const size_t *ring = layout->ring_vertices + layout->ring_start[r];
            const size_t count =
                layout->ring_start[r + 1] - layout->ring_start[r];
            for (size_t i = 0; i < count; i++)
                if (fronts->next[ring[i]] == ring[(i + 1) % count])
                    fronts->beside[ring[i]] = p;
        }
    }
}

static void bound(const struct fw_layout *layout, struct fw_layout_line *front)
{
    const size_t last = layout->paddock_count - 1;
    front->from = last;
    for (size_t i = front->first; i + 1 < front->first + front->count; i++) {
        const size_t beside = layout->left[i];
        if (beside == FW_INSIDE)
            continue;
        if (beside < front->from)
            front->from = beside;
        const size_t to = beside < last ? beside : last; /* lanes stay */
        front->to = to > front->to ? to : front->to;
    }
    if (front->from > front->to)
        front->from = front->to;
}

static enum fw_status grow(struct fw_layout *layout, size_t vertices,
                           size_t lines, struct fw_error *err)
{
    size_t **const lists[] = {&layout->line_vertices, &layout->left,
                              &layout->right};
    for (size_t i = 0; i < FW_PARTS(3); i++) {
        size_t *list = fw_realloc(*lists[i], vertices, sizeof *list);
        if (!list)
            return fw_fail_memory(err);
        *lists[i] = list;
    }
    struct fw_layout_line *more =
        fw_realloc(layout->lines, lines, sizeof *more);
    if (!more)
        return fw_fail_memory(err);
    layout->lines = more;
    return FW_OK;
}

static void add_run(struct fronts *fronts, size_t from, size_t first)
{
    struct fw_layout *layout = fronts->layout;
    struct fw_layout_line *line = &layout->lines[layout->line_count];
    *line = (struct fw_layout_line){.role = FW_LINE_FRONT, .first = first};
    for (size_t v = from; v != FW_INSIDE; v = fronts->next[v]) {
        const size_t i = first + line->count++;
        layout->line_vertices[i] = v;
        layout->left[i] = fronts->beside[v];
        layout->right[i] = FW_INSIDE;
        if (line->count > 1)
            line->length_m += piece_m(fronts->field, layout, i - 1);
    }
    bound(layout, line);
    layout->line_count++;
}

static enum fw_status add_runs(struct fronts *fronts, struct fw_error *err)
{
    struct fw_layout *layout = fronts->layout;
    size_t vertices = 0, runs = 0;
    for (size_t l = 0; l < layout->line_count; l++) {
        const size_t end = layout->lines[l].first + layout->lines[l].count;
        vertices = end > vertices ? end : vertices;
    }
    for (size_t i = 0; i < fronts->order_count; i++)
        runs += !fronts->begun[fronts->order[i]];
    const enum fw_status status =
        grow(layout, vertices + fronts->order_count + runs,
             layout->line_count + runs, err);
    for (size_t i = 0; !status && i < fronts->order_count; i++) {
        if (fronts->begun[fronts->order[i]])
            continue;
        add_run(fronts, fronts->order[i], vertices);
        vertices += layout->lines[layout->line_count - 1].count;
    }
    return status;
}

enum fw_status fw_plan__add_front(const struct fw_farm_field *field,
                                  struct fw_layout *layout,
                                  struct fw_error *err)
{
    const size_t all = layout->vertex_count + layout->added_count;
    struct fronts fronts = {
        .field = field,
        .layout = layout,
        .next = fw_alloc(all, sizeof *fronts.next),
        .beside = fw_alloc(all, sizeof *fronts.beside),
        .begun = fw_alloc(all, sizeof *fronts.begun),
        .order = fw_alloc(all, sizeof *fronts.order),
    };
    enum fw_status status =
        fronts.next && fronts.beside && fronts.begun && fronts.order
            ? FW_OK
            : fw_fail_memory(err);
    for (size_t i = 0; !status && i < all; i++)
        fronts.next[i] = fronts.beside[i] = FW_INSIDE;
    if (!status)
        status = chain(&fronts, err);
    if (!status) {
        find_beside(&fronts);
        status = add_runs(&fronts, err);
    }
    fw_free(fronts.next);
    fw_free(fronts.beside);
    fw_free(fronts.begun);
    fw_free(fronts.order);
    return status;
}
