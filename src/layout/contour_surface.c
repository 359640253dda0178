/* The ground's heights on a grid, and lines of one height on it. */
#include "base/alloc.h"
#include "base/angle.h"
#include "base/fail.h"
#include "base/length.h"
#include "figures/layout.h"
#include "figures/mark.h"
#include "layout/contour.h"

#include <math.h>
#include <stdlib.h>

enum {
    nodes_across = FW_EFFORT(60)
}; /* of a square field; four times as many of a long
      one */

static size_t node(const struct fw_surface *surface, size_t column, size_t row)
{
    return row * surface->columns + column;
}

static struct fw_point node_point(const struct fw_surface *surface, size_t n)
{
    const size_t row = n / surface->columns, column = n % surface->columns;
    return (struct fw_point){
        surface->origin.x_m + surface->step_m * (double)column,
        surface->origin.y_m + surface->step_m * (double)row};
}

static void spread_grid(struct fw_surface *surface)
{
    const struct fw_field *field = surface->field;
    struct fw_point least = field->vertices[0].plane, most = least;
    for (size_t i = 1; i < field->ring_start[1]; i++) {
        const struct fw_point p = field->vertices[i].plane;
        least.x_m = fmin(least.x_m, p.x_m);
        least.y_m = fmin(least.y_m, p.y_m);
        most.x_m = fmax(most.x_m, p.x_m);
        most.y_m = fmax(most.y_m, p.y_m);
    }
    const double x_m = most.x_m - least.x_m, y_m = most.y_m - least.y_m;
    surface->origin = least;
    surface->step_m = fmax(sqrt(x_m * y_m), fmax(x_m, y_m) / FW_EFFORT(4)) /
                      (double)nodes_across;
    surface->columns = (size_t)ceil(x_m / surface->step_m) + 1;
    surface->rows = (size_t)ceil(y_m / surface->step_m) + 1;
}

static double density(const struct fw_herbage *ground, struct fw_point p)
{
    const struct fw_point a = {p.x_m - FW_CONTOUR_POINT_M / 2, p.y_m};
    const struct fw_point b = {p.x_m + FW_CONTOUR_POINT_M / 2, p.y_m};
    return ground ? fw_herbage_chord_kg_m(ground, a, b) / FW_CONTOUR_POINT_M
                  : 1;
}

static void sample(struct fw_surface *surface,
                   const struct fw_layout_request *request, double sign)
{
    double least_m = HUGE_VAL, most_m = -HUGE_VAL;
    bool all = true;
    for (size_t n = 0; n < surface->columns * surface->rows; n++) {
        const struct fw_point p = node_point(surface, n);
        const double m = sign * fw_raster_at_point(request->heights, p);
        surface->height_m[n] = m;
        if (!fw_field_contains(surface->field, p, 0))
            continue;
        surface->weight[n] = density(request->ground, p);
        all &= isfinite(m);
        least_m = fmin(least_m, m);
        most_m = fmax(most_m, m);
    }
    surface->range_m = all && most_m > least_m ? most_m - least_m : 0;
}

static void find_slope(struct fw_surface *surface)
{
    double x = 0, y = 0, sum = 0;
    size_t count = 0;
    for (size_t row = 0; row + 1 < surface->rows; row++)
        for (size_t column = 0; column + 1 < surface->columns; column++) {
            const size_t n = node(surface, column, row);
            const double here_m = surface->height_m[n];
            const double along =
                (surface->height_m[n + 1] - here_m) / surface->step_m;
            const double up =
                (surface->height_m[n + surface->columns] - here_m) /
                surface->step_m;
            if (!(surface->weight[n] > 0) || !isfinite(along + up))
                continue;
            x += along;
            y += up;
            sum += fw_length(along, up);
            count++;
        }
    surface->mean_slope = count > 0 ? sum / (double)count : 0;
    surface->uphill_deg = atan2(y, x) * 180 / FW_PI;
}

enum fw_status fw_surface_new(const struct fw_layout_request *request,
                              double sign, struct fw_surface *out,
                              struct fw_error *err)
{
    struct fw_surface surface = {.field = request->field,
                                 .heights = request->heights};
    spread_grid(&surface);
    const size_t count = surface.columns * surface.rows;
    surface.height_m = fw_alloc(count, sizeof *surface.height_m);
    surface.weight = fw_alloc(count, sizeof *surface.weight);
    if (!surface.height_m || !surface.weight) {
        fw_surface_release(&surface);
        return fw_fail_memory(err);
    }
    sample(&surface, request, sign);
    find_slope(&surface);
    *out = surface;
    return FW_OK;
}

void fw_surface_release(struct fw_surface *surface)
{
    fw_free(surface->height_m);
    fw_free(surface->weight);
    *surface = (struct fw_surface){0};
}

/* ---- levels ---- */

struct spot {
    double height_m, weight;
};

static int by_height(const void *left, const void *right)
{
    const struct spot *a = left, *b = right;
    if (a->height_m < b->height_m || a->height_m > b->height_m)
        return a->height_m < b->height_m ? -1 : 1;
    return a->weight < b->weight ? -1 : a->weight > b->weight;
}

enum fw_status fw_surface_levels(const struct fw_surface *surface,
                                 const double *share, size_t count,
                                 double *level_m, struct fw_error *err)
{
    const size_t nodes = surface->columns * surface->rows;
    struct spot *spots = fw_alloc(nodes, sizeof *spots);
    if (!spots)
        return fw_fail_memory(err);
    size_t n = 0;
    double all = 0, below = 0;
    for (size_t i = 0; i < nodes; i++)
        if (surface->weight[i] > 0) {
            spots[n++] =
                (struct spot){surface->height_m[i], surface->weight[i]};
            all += surface->weight[i];
        }
    qsort(spots, n, sizeof *spots, by_height);
    for (size_t k = 0, i = 0; k < count; k++) {
        while (i + 1 < n && below + spots[i].weight < share[k] * all)
            below += spots[i++].weight;
        level_m[k] = n > 0 ? spots[i].height_m : 0;
    }
    fw_free(spots);
    return FW_OK;
}

/* ---- tracing ---- */

/* Every grid cell is two triangles. An edge between nodes is named by the one
 * it starts at and where it leads: east, north, or north-east. A triangle that
 * the level crosses is entered by one edge and left by another with the lower
 * ground on the left, so each edge has one that follows it at most. */
enum { east, north, north_east, ways };

struct trace {
    const struct fw_surface *surface;
    double level_m;
    size_t *next;  /* of each edge; FW_INSIDE: none */
    bool *entered; /* from another one */
    struct fw_point *run, *best;
    size_t run_count, best_count;
    double best_m;
};

static size_t edge_end(const struct fw_surface *surface, size_t edge)
{
    const size_t steps[ways] = {1, surface->columns, surface->columns + 1};
    return edge / ways + steps[edge % ways];
}

static struct fw_point crossing(const struct trace *trace, size_t edge)
{
    const struct fw_surface *surface = trace->surface;
    const size_t a = edge / ways, b = edge_end(surface, edge);
    const struct fw_point p = node_point(surface, a);
    const struct fw_point q = node_point(surface, b);
    const double t = (trace->level_m - surface->height_m[a]) /
                     (surface->height_m[b] - surface->height_m[a]);
    return (struct fw_point){p.x_m + (q.x_m - p.x_m) * t,
                             p.y_m + (q.y_m - p.y_m) * t};
}

/* Corners and the edges that start at them, anticlockwise. */
static void link_triangle(struct trace *trace, const size_t corners[3],
                          const size_t edges[3])
{
    const double *height_m = trace->surface->height_m;
    enum { corner_count = FW_PARTS(3) };
    bool high[corner_count];
    int count = 0;
    for (int i = 0; i < corner_count; i++) {
        if (!isfinite(height_m[corners[i]]))
            return;
        high[i] = height_m[corners[i]] >= trace->level_m;
        count += high[i];
    }
    if (count == 0 || count == corner_count)
        return;
    int alone = 0;
    while (high[alone] != (count == 1))
        alone++;
    const size_t after = edges[alone],
                 before = edges[(alone + 2) % corner_count];
    const size_t in = count == 1 ? before : after;
    const size_t out = count == 1 ? after : before;
    trace->next[in] = out;
    trace->entered[out] = true;
}

static void link_all(struct trace *trace)
{
    const struct fw_surface *surface = trace->surface;
    for (size_t row = 0; row + 1 < surface->rows; row++)
        for (size_t column = 0; column + 1 < surface->columns; column++) {
            const size_t a = node(surface, column, row), b = a + 1;
            const size_t d = a + surface->columns, c = d + 1;
            link_triangle(trace, (const size_t[]){a, b, c},
                          (const size_t[]){ways * a + east, ways * b + north,
                                           ways * a + north_east});
            link_triangle(trace, (const size_t[]){a, c, d},
                          (const size_t[]){ways * a + north_east,
                                           ways * d + east, ways * a + north});
        }
}

static void end_run(struct trace *trace)
{
    const double m = fw_line_length_m(trace->run, trace->run_count, false);
    if (trace->run_count > 1 && m > trace->best_m) {
        struct fw_point *const best = trace->best;
        trace->best = trace->run;
        trace->best_count = trace->run_count;
        trace->best_m = m;
        trace->run = best;
    }
    trace->run_count = 0;
}

static void add_crossing(struct trace *trace, size_t edge)
{
    const struct fw_point p = crossing(trace, edge);
    if (fw_field_contains(trace->surface->field, p, 0))
        trace->run[trace->run_count++] = p;
    else
        end_run(trace);
}

/* From an edge to the end of the line, or once round; what is passed is
 * unlinked. */
static void follow(struct trace *trace, size_t first)
{
    size_t edge = first;
    do {
        add_crossing(trace, edge);
        const size_t next = trace->next[edge];
        trace->next[edge] = FW_INSIDE;
        edge = next;
    } while (edge != FW_INSIDE && edge != first);
    end_run(trace);
}

/* A closed line counts where it leaves the field. */
static void follow_round(struct trace *trace, size_t first)
{
    size_t edge = first;
    do {
        if (!fw_field_contains(trace->surface->field, crossing(trace, edge),
                               0)) {
            follow(trace, edge);
            return;
        }
        edge = trace->next[edge];
    } while (edge != first);
    while (edge != FW_INSIDE) {
        const size_t next = trace->next[edge];
        trace->next[edge] = FW_INSIDE;
        edge = next;
    }
}

enum fw_status fw_surface_trace(const struct fw_surface *surface,
                                double level_m, struct fw_point **points,
                                size_t *count, struct fw_error *err)
{
    const size_t edges = ways * surface->columns * surface->rows;
    struct trace trace = {.surface = surface,
                          .level_m = level_m,
                          .next = fw_alloc(edges, sizeof *trace.next),
                          .entered = fw_alloc(edges, sizeof *trace.entered),
                          .run = fw_alloc(edges, sizeof *trace.run),
                          .best = fw_alloc(edges, sizeof *trace.best)};
    const bool room = trace.next && trace.entered && trace.run && trace.best;
    for (size_t i = 0; room && i < edges; i++)
        trace.next[i] = FW_INSIDE;
    if (room) {
        link_all(&trace);
        for (size_t i = 0; i < edges; i++)
            if (trace.next[i] != FW_INSIDE && !trace.entered[i])
                follow(&trace, i);
        for (size_t i = 0; i < edges; i++)
            if (trace.next[i] != FW_INSIDE)
                follow_round(&trace, i);
        *points = trace.best;
        *count = trace.best_count;
        trace.best = NULL;
    }
    fw_free(trace.next);
    fw_free(trace.entered);
    fw_free(trace.run);
    fw_free(trace.best);
    return room ? FW_OK : fw_fail_memory(err);
}

/* ---- few bends ---- */

/* The point of a run that is farthest from the line so far; its leg. */
static size_t farthest(const struct fw_point *run, const size_t *kept,
                       size_t kept_count, double *most_m, size_t *leg)
{
    size_t best = 0;
    *most_m = 0;
    for (size_t l = 0; l + 1 < kept_count; l++)
        for (size_t i = kept[l] + 1; i < kept[l + 1]; i++) {
            const double m =
                fw_segment_distance_m(run[i], run[kept[l]], run[kept[l + 1]]);
            if (m > *most_m) {
                *most_m = m;
                *leg = l;
                best = i;
            }
        }
    return best;
}

struct fw_contour fw_contour_simplify(const struct fw_point *run, size_t count,
                                      size_t bends, double tolerance_m)
{
    size_t kept[FW_MOST_CONTOUR] = {0, count - 1};
    size_t kept_count = 2;
    while (kept_count < bends + 2) {
        double most_m;
        size_t leg = 0;
        const size_t at = farthest(run, kept, kept_count, &most_m, &leg);
        if (!(most_m > tolerance_m))
            break;
        for (size_t i = kept_count++; i > leg + 1; i--)
            kept[i] = kept[i - 1];
        kept[leg + 1] = at;
    }
    struct fw_contour line = {.count = kept_count};
    for (size_t i = 0; i < kept_count; i++)
        line.at[i] = run[kept[i]];
    return line;
}
