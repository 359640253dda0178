/* The least fence that a map of paddocks can do with when its lines may bend
 * at every tie: ties and ends are moved until the line is as short as it gets
 * while every paddock keeps its area.
 *
 * Steps go down the gradient of the length, made conjugate from step to step,
 * less what would change an area; after each one the areas are put right by
 * Newton's method. Ends stay on the side of the field that they stand on. */
#include "base/alloc.h"
#include "base/fail.h"
#include "base/length.h"
#include "figures/mark.h"
#include "geo/points.h"
#include "layout/pattern.h"
#include "layout/root.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum {
    most_steps = FW_EFFORT(60),
    most_repairs = FW_EFFORT(12),
    fresh = FW_EFFORT(20)
};
static const double good_enough =
    FW_TOLERANCE(1e-4); /* gain of a step, for all of the line */
static const double exact = FW_TOLERANCE(1e-13); /* of an area */

struct push { /* of a vertex on the area of a paddock */
    size_t vertex, paddock;
    double x, y; /* m2 a metre */
};

struct relax {
    struct fw_layout *layout;
    const struct fw_field *field;
    size_t start_edge; /* side of the field that is nearest to the start */
    double start_t;
    size_t free_count;    /* the added vertices */
    struct fw_point *at;  /* where they stand */
    struct fw_point *way; /* of one on a side: unit vector along it; else 0 */
    double *room_m;       /* how far one may go in a step */
    struct push *pushes;
    size_t push_count;
    size_t count;   /* areas that are held: all but the last */
    double *held;   /* their targets */
    double *matrix; /* count squared: pushes times pushes, then its root */
    size_t *left;   /* see root.h */
    double *weight; /* of each area */
    struct fw_point *slope, *down, *before; /* gradients of the length */
};

static void release(struct relax *relax)
{
    fw_free(relax->at);
    fw_free(relax->way);
    fw_free(relax->room_m);
    fw_free(relax->pushes);
    fw_free(relax->held);
    fw_free(relax->matrix);
    fw_free(relax->left);
    fw_free(relax->weight);
    fw_free(relax->slope);
    fw_free(relax->down);
    fw_free(relax->before);
}

static struct fw_point point(const struct relax *relax, size_t vertex)
{
    return vertex < relax->layout->vertex_count
               ? relax->field->vertices[vertex].plane
               : relax->at[vertex - relax->layout->vertex_count];
}

static size_t edge_end(const struct fw_field *field, size_t edge)
{
    size_t ring = 0;
    while (edge >= field->ring_start[ring + 1])
        ring++;
    return edge + 1 < field->ring_start[ring + 1] ? edge + 1
                                                  : field->ring_start[ring];
}

static void find_start(struct relax *relax, struct fw_point start)
{
    double least_m = HUGE_VAL;
    for (size_t i = 0; i < relax->field->ring_start[1]; i++) {
        const struct fw_point a = relax->field->vertices[i].plane;
        const struct fw_point b =
            relax->field->vertices[edge_end(relax->field, i)].plane;
        const double m = fw_segment_distance_m(start, a, b);
        if (!(m < least_m))
            continue;
        least_m = m;
        const double x = b.x_m - a.x_m, y = b.y_m - a.y_m;
        relax->start_edge = i;
        relax->start_t = ((start.x_m - a.x_m) * x + (start.y_m - a.y_m) * y) /
                         (x * x + y * y);
    }
}

static enum fw_status begin(struct relax *relax, struct fw_error *err)
{
    const struct fw_layout *layout = relax->layout;
    const size_t n = relax->free_count = layout->added_count;
    const size_t count = relax->count = layout->paddock_count - 1;
    const size_t sides = layout->ring_start[layout->ring_count];
    relax->at = fw_alloc(n, sizeof *relax->at);
    relax->way = fw_alloc(n, sizeof *relax->way);
    relax->room_m = fw_alloc(n, sizeof *relax->room_m);
    relax->pushes = fw_alloc(sides, sizeof *relax->pushes);
    relax->held = fw_alloc(count, sizeof *relax->held);
    relax->matrix = fw_alloc(count * count, sizeof *relax->matrix);
    relax->left = fw_alloc(count, sizeof *relax->left);
    relax->weight = fw_alloc(count, sizeof *relax->weight);
    relax->slope = fw_alloc(n, sizeof *relax->slope);
    relax->down = fw_alloc(n, sizeof *relax->down);
    relax->before = fw_alloc(n, sizeof *relax->before);
    if (!relax->at || !relax->way || !relax->room_m || !relax->pushes ||
        !relax->held || !relax->matrix || !relax->left || !relax->weight ||
        !relax->slope || !relax->down || !relax->before)
        return fw_fail_memory(err);
    for (size_t i = 0; i < n; i++) {
        const struct fw_layout_vertex *added = &layout->added[i];
        relax->at[i] = added->point;
        if (added->edge == FW_INSIDE)
            continue;
        const struct fw_point a = relax->field->vertices[added->edge].plane;
        const struct fw_point b =
            relax->field->vertices[edge_end(relax->field, added->edge)].plane;
        const double m = fw_point_apart_m(b, a);
        relax->way[i] =
            (struct fw_point){(b.x_m - a.x_m) / m, (b.y_m - a.y_m) / m};
    }
    memcpy(relax->held, layout->paddock_m2, count * sizeof *relax->held);
    return FW_OK;
}

/* Only along its side, when it stands on one. */
static struct fw_point allowed(const struct relax *relax, size_t i,
                               struct fw_point by)
{
    const struct fw_point way = relax->way[i];
    if (way.x_m * way.x_m + way.y_m * way.y_m < 0.5)
        return by;
    const double along = by.x_m * way.x_m + by.y_m * way.y_m;
    return (struct fw_point){way.x_m * along, way.y_m * along};
}

/* ---- areas ---- */

/* What each vertex does to each area, and how much room it has: a third of the
 * shortest side at it, so that no ring can turn over. */
static void list_pushes(struct relax *relax)
{
    const struct fw_layout *layout = relax->layout;
    relax->push_count = 0;
    for (size_t i = 0; i < relax->free_count; i++)
        relax->room_m[i] = HUGE_VAL;
    for (size_t p = 0; p < layout->paddock_count; p++)
        for (size_t r = layout->piece_ring[p]; r < layout->piece_ring[p + 1];
             r++) {
            const size_t first = layout->ring_start[r];
            const size_t end = layout->ring_start[r + 1];
            for (size_t i = first; i < end; i++) {
                const size_t vertex = layout->ring_vertices[i];
                if (vertex < layout->vertex_count)
                    continue;
                const struct fw_point a = point(
                    relax, layout->ring_vertices[i > first ? i - 1 : end - 1]);
                const struct fw_point b = point(
                    relax, layout->ring_vertices[i + 1 < end ? i + 1 : first]);
                const size_t v = vertex - layout->vertex_count;
                const struct fw_point at = relax->at[v];
                relax->room_m[v] =
                    fmin(relax->room_m[v], fmin(fw_point_apart_m(at, a),
                                                fw_point_apart_m(at, b)) /
                                               FW_PARTS(3));
                const struct fw_point by =
                    allowed(relax, v,
                            (struct fw_point){(b.y_m - a.y_m) / 2,
                                              (a.x_m - b.x_m) / 2});
                if (p < relax->count)
                    relax->pushes[relax->push_count++] =
                        (struct push){v, p, by.x_m, by.y_m};
            }
        }
}

static int by_vertex(const void *left, const void *right)
{
    const struct push *a = left, *b = right;
    if (a->vertex != b->vertex)
        return a->vertex < b->vertex ? -1 : 1;
    return a->paddock < b->paddock ? -1 : a->paddock > b->paddock;
}

/* Cholesky's root of pushes times pushes; false when a paddock cannot be
 * pushed on its own. */
static bool factor(struct relax *relax)
{
    const size_t n = relax->count;
    double *m = relax->matrix;
    memset(m, 0, n * n * sizeof *m);
    qsort(relax->pushes, relax->push_count, sizeof *relax->pushes, by_vertex);
    for (size_t i = 0, end; i < relax->push_count; i = end) {
        for (end = i; end < relax->push_count &&
                      relax->pushes[end].vertex == relax->pushes[i].vertex;
             end++)
            for (size_t k = i; k <= end; k++) {
                const struct push *a = &relax->pushes[end];
                const struct push *b = &relax->pushes[k];
                m[a->paddock * n + b->paddock] += a->x * b->x + a->y * b->y;
            }
    }
    return fw_layout__root(m, relax->left, n);
}

/* weight becomes the solution for the right-hand side that it holds. */
static void solve(struct relax *relax)
{
    fw_layout__root_solve(relax->matrix, relax->left, relax->count,
                          relax->weight);
}

static double area_m2(const struct relax *relax, size_t p)
{
    const struct fw_layout *layout = relax->layout;
    double sum = 0;
    const struct fw_point o = relax->field->vertices[0].plane;
    for (size_t r = layout->piece_ring[p]; r < layout->piece_ring[p + 1]; r++) {
        const size_t first = layout->ring_start[r];
        const size_t end = layout->ring_start[r + 1];
        for (size_t i = first; i < end; i++) {
            const struct fw_point a = point(relax, layout->ring_vertices[i]);
            const struct fw_point b = point(
                relax, layout->ring_vertices[i + 1 < end ? i + 1 : first]);
            sum += (a.x_m - o.x_m) * (b.y_m - o.y_m) -
                   (a.y_m - o.y_m) * (b.x_m - o.x_m);
        }
    }
    return sum / 2;
}

/* Put the areas right; false when they cannot be. */
static bool repair(struct relax *relax)
{
    for (int i = 0; i < most_repairs; i++) {
        double worst = 0;
        for (size_t p = 0; p < relax->count; p++) {
            relax->weight[p] = relax->held[p] - area_m2(relax, p);
            worst = fmax(worst, fabs(relax->weight[p]) / relax->held[p]);
        }
        if (worst <= exact)
            return true;
        list_pushes(relax);
        if (!factor(relax))
            return false;
        solve(relax);
        for (size_t k = 0; k < relax->push_count; k++) {
            const struct push *push = &relax->pushes[k];
            struct fw_point *at = &relax->at[push->vertex];
            at->x_m += push->x * relax->weight[push->paddock];
            at->y_m += push->y * relax->weight[push->paddock];
        }
    }
    return false;
}

/* ---- length ---- */

static double length_m(struct relax *relax, bool with_slope)
{
    const struct fw_layout *layout = relax->layout;
    double sum = 0;
    if (with_slope)
        memset(relax->slope, 0, relax->free_count * sizeof *relax->slope);
    for (size_t l = 0; l < layout->line_count; l++) {
        const struct fw_layout_line *line = &layout->lines[l];
        for (size_t i = line->first; i + 1 < line->first + line->count; i++) {
            const size_t ends[2] = {layout->line_vertices[i],
                                    layout->line_vertices[i + 1]};
            const struct fw_point a = point(relax, ends[0]);
            const struct fw_point b = point(relax, ends[1]);
            const double m = fw_point_apart_m(b, a);
            sum += m;
            for (int k = 0; with_slope && k < 2 && m > 0; k++) {
                if (ends[k] < layout->vertex_count)
                    continue;
                const double sign = k == 0 ? -1 : 1;
                struct fw_point *slope =
                    &relax->slope[ends[k] - layout->vertex_count];
                slope->x_m += sign * (b.x_m - a.x_m) / m;
                slope->y_m += sign * (b.y_m - a.y_m) / m;
            }
        }
    }
    return sum;
}

/* The slope less its part that changes areas. The pushes are those of now. */
static void hold_areas(struct relax *relax)
{
    memset(relax->weight, 0, relax->count * sizeof *relax->weight);
    for (size_t i = 0; i < relax->free_count; i++)
        relax->slope[i] = allowed(relax, i, relax->slope[i]);
    for (size_t k = 0; k < relax->push_count; k++) {
        const struct push *push = &relax->pushes[k];
        relax->weight[push->paddock] +=
            push->x * relax->slope[push->vertex].x_m +
            push->y * relax->slope[push->vertex].y_m;
    }
    solve(relax);
    for (size_t k = 0; k < relax->push_count; k++) {
        const struct push *push = &relax->pushes[k];
        struct fw_point *slope = &relax->slope[push->vertex];
        slope->x_m -= push->x * relax->weight[push->paddock];
        slope->y_m -= push->y * relax->weight[push->paddock];
    }
    /* Where lines are as short as can be, only rounding is left of the slope,
     * and a step as long as there is room for would leave the side by it. */
    for (size_t i = 0; i < relax->free_count; i++)
        relax->slope[i] = allowed(relax, i, relax->slope[i]);
}

static double dot(const struct fw_point *a, const struct fw_point *b, size_t n)
{
    double sum = 0;
    for (size_t i = 0; i < n; i++)
        sum += a[i].x_m * b[i].x_m + a[i].y_m * b[i].y_m;
    return sum;
}

/* The direction of the next step (Polak and Ribiere), in `down`. */
static void point_down(struct relax *relax, bool first)
{
    const size_t n = relax->free_count;
    double keep = 0;
    if (!first) {
        const double old = dot(relax->before, relax->before, n);
        const double now = dot(relax->slope, relax->slope, n);
        const double both = dot(relax->slope, relax->before, n);
        keep = old > 0 ? fmax(0, (now - both) / old) : 0;
    }
    for (size_t i = 0; i < n; i++) {
        relax->down[i].x_m = keep * relax->down[i].x_m - relax->slope[i].x_m;
        relax->down[i].y_m = keep * relax->down[i].y_m - relax->slope[i].y_m;
    }
    memcpy(relax->before, relax->slope, n * sizeof *relax->before);
}

/* The longest step in which no vertex goes further than it has room. */
static double longest(const struct relax *relax)
{
    double step = HUGE_VAL;
    for (size_t i = 0; i < relax->free_count; i++) {
        const double m = fw_length(relax->down[i].x_m, relax->down[i].y_m);
        if (m > 0)
            step = fmin(step, relax->room_m[i] / m);
    }
    return isfinite(step) ? step : 0;
}

static bool on_sides(const struct relax *relax)
{
    const struct fw_layout *layout = relax->layout;
    for (size_t i = 0; i < relax->free_count; i++) {
        const size_t edge = layout->added[i].edge;
        if (edge == FW_INSIDE)
            continue;
        const struct fw_point a = relax->field->vertices[edge].plane;
        const struct fw_point b =
            relax->field->vertices[edge_end(relax->field, edge)].plane;
        const double x = b.x_m - a.x_m, y = b.y_m - a.y_m;
        const double t =
            ((relax->at[i].x_m - a.x_m) * x + (relax->at[i].y_m - a.y_m) * y) /
            (x * x + y * y);
        if (!(t > FW_TOLERANCE(1e-6) && t < 1 - FW_TOLERANCE(1e-6)))
            return false;
        if (edge == relax->start_edge &&
            (t > relax->start_t) != (layout->added[i].t > relax->start_t))
            return false; /* the flock would come in elsewhere */
    }
    return true;
}

/* One step down, halved until it gains. Returns the gain, 0 for none; `kept`
 * has room for the places before it. */
static double step_down(struct relax *relax, double now_m, double *step,
                        struct fw_point *kept)
{
    const size_t n = relax->free_count;
    memcpy(kept, relax->at, n * sizeof *kept);
    *step = fmin(*step * 2, longest(relax));
    for (int i = 0; i < FW_EFFORT(12) && *step > 0; i++, *step /= 2) {
        for (size_t k = 0; k < n; k++) {
            relax->at[k].x_m = kept[k].x_m + *step * relax->down[k].x_m;
            relax->at[k].y_m = kept[k].y_m + *step * relax->down[k].y_m;
        }
        if (repair(relax) && on_sides(relax)) {
            const double gain = now_m - length_m(relax, false);
            if (gain > 0)
                return gain;
        }
    }
    memcpy(relax->at, kept, n * sizeof *kept);
    return 0;
}

static void descend(struct relax *relax, struct fw_point *kept)
{
    double step = HUGE_VAL;
    for (int i = 0; i < most_steps; i++) {
        const double now_m = length_m(relax, true);
        list_pushes(relax);
        if (!factor(relax))
            return;
        hold_areas(relax);
        point_down(relax, i % fresh == 0);
        const double gain_m = step_down(relax, now_m, &step, kept);
        if (gain_m < good_enough * now_m) {
            if (i % fresh == 0 || gain_m <= 0)
                return;
        }
    }
}

/* ---- and back ---- */

static void take(struct relax *relax)
{
    struct fw_layout *layout = relax->layout;
    for (size_t i = 0; i < relax->free_count; i++) {
        struct fw_layout_vertex *added = &layout->added[i];
        added->point = relax->at[i];
        if (added->edge == FW_INSIDE)
            continue;
        const struct fw_point a = relax->field->vertices[added->edge].plane;
        const struct fw_point b =
            relax->field->vertices[edge_end(relax->field, added->edge)].plane;
        const double x = b.x_m - a.x_m, y = b.y_m - a.y_m;
        added->t =
            ((added->point.x_m - a.x_m) * x + (added->point.y_m - a.y_m) * y) /
            (x * x + y * y);
    }
    layout->line_m = layout->moved_m = layout->standing_m = 0;
    for (size_t l = 0; l < layout->line_count; l++) {
        struct fw_layout_line *line = &layout->lines[l];
        line->length_m = 0;
        for (size_t i = line->first; i + 1 < line->first + line->count; i++) {
            const struct fw_point a = point(relax, layout->line_vertices[i]);
            const struct fw_point b =
                point(relax, layout->line_vertices[i + 1]);
            line->length_m += fw_point_apart_m(b, a);
        }
        layout->line_m += line->length_m;
        *(line->role == FW_LINE_MOVED ? &layout->moved_m
                                      : &layout->standing_m) += line->length_m;
    }
    for (size_t p = 0; p < layout->paddock_count; p++)
        layout->paddock_m2[p] = layout->holds[p] = area_m2(relax, p);
}

enum fw_status fw_layout__relax(struct fw_layout *layout,
                                const struct fw_field *field,
                                const struct fw_point *start,
                                struct fw_error *err)
{
    if (layout->paddock_count < FW_PARTS(3) || layout->common_count > 0)
        return FW_OK;
    struct relax relax = {
        .layout = layout, .field = field, .start_edge = FW_INSIDE};
    if (start)
        find_start(&relax, *start);
    struct fw_point *kept = fw_alloc(layout->added_count, sizeof *kept);
    struct fw_point *given = fw_alloc(layout->added_count, sizeof *given);
    enum fw_status status =
        kept && given ? begin(&relax, err) : fw_fail_memory(err);
    if (!status) {
        memcpy(given, relax.at, layout->added_count * sizeof *given);
        descend(&relax, kept);
        if (repair(&relax) && on_sides(&relax) &&
            fw_layout__is_plain(layout, field, relax.at)) {
            take(&relax);
            bool worse = false;
            status = fw_layout__reconsider(layout, field, start, &worse, err);
            if (worse) {
                memcpy(relax.at, given, layout->added_count * sizeof *given);
                take(&relax); /* as it was */
            }
        }
    }
    fw_free(kept);
    fw_free(given);
    release(&relax);
    return status;
}
