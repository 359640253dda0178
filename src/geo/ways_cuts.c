/* The narrow places. Where a way is narrowest, the two points of the edge on
 * either side are the ends of a diameter of a circle without any edge in it:
 * one of them is a corner that juts into the ground (or the whole way is as
 * narrow there, and begins at such a corner), the other one too, or the foot
 * of the perpendicular on an edge. Such segments never cross: each would have
 * an end in the other's circle. */
#include "base/angle.h"
#include "base/array.h"
#include "base/fail.h"
#include "geo/ways_inner.h"

#include <stdlib.h>

struct finding {
    const struct fw_ways_edges *edges;
    double wide_m;
    struct fw_ways_cuts *cuts;
    struct fw_error *err;
};

static struct fw_point left_of(struct fw_point along)
{
    return (struct fw_point){-along.y_m, along.x_m};
}

static struct fw_point back(struct fw_point way)
{
    return (struct fw_point){-way.x_m, -way.y_m};
}

/* Into the ground, between the two sides of a corner that juts into it. */
static struct fw_point into(const struct fw_ways_edges *edges, size_t vertex)
{
    const struct fw_point a = edges->along[edges->before[vertex]];
    const struct fw_point b = edges->along[vertex];
    return left_of((struct fw_point){a.x_m + b.x_m, a.y_m + b.y_m});
}

/* From one direction clockwise to the other, 0 to 2 pi. */
static double turn_between(struct fw_point from, struct fw_point to)
{
    const double turn =
        atan2(-fw_ways__cross(from, to), fw_ways__dot(from, to));
    return turn < 0 ? turn + 2 * FW_PI : turn;
}

static double turn_to(const struct fw_ways_edges *edges, size_t vertex,
                      struct fw_point way)
{
    return turn_between(back(edges->along[edges->before[vertex]]), way);
}

/* The angle of the ground at a vertex. */
static double angle_at(const struct fw_ways_edges *edges, size_t vertex)
{
    return turn_to(edges, vertex, edges->along[vertex]);
}

static enum fw_status add(struct finding *finding, struct fw_ways_end a,
                          struct fw_ways_end b, double width_m)
{
    struct fw_ways_cuts *cuts = finding->cuts;
    const struct fw_point middle = {a.at.x_m + (b.at.x_m - a.at.x_m) / 2,
                                    a.at.y_m + (b.at.y_m - a.at.y_m) / 2};
    if (fw_ways__is_near(finding->edges, middle, width_m / 2 - FW_WAYS_TINY_M))
        return FW_OK;
    const enum fw_status status =
        fw_array_reserve(&cuts->items, &cuts->capacity, cuts->count + 1,
                         sizeof *cuts->items, finding->err);
    if (!status)
        cuts->items[cuts->count++] = (struct fw_ways_cut){
            .ends = {a, b}, .middle = middle, .width_m = width_m};
    return status;
}

/* From a corner straight to an edge. Where they touch, the edge tells which
 * way the cut runs. */
static enum fw_status try_foot(struct finding *finding, size_t vertex,
                               size_t edge, double along_m)
{
    const struct fw_ways_edges *edges = finding->edges;
    const struct fw_point from = edges->at[edge], to = edges->along[edge];
    const struct fw_point to_edge = back(left_of(to));
    const double off_m =
        fw_ways__cross(to, fw_ways__less(edges->at[vertex], from));
    if (off_m < -FW_WAYS_TINY_M || off_m >= finding->wide_m ||
        fw_ways__dot(to_edge, into(edges, vertex)) < -1e-12)
        return FW_OK;
    return add(finding,
               (struct fw_ways_end){.edge = vertex,
                                    .at = edges->at[vertex],
                                    .turn = turn_to(edges, vertex, to_edge)},
               (struct fw_ways_end){.edge = edge,
                                    .along_m = along_m,
                                    .at = {from.x_m + along_m * to.x_m,
                                           from.y_m + along_m * to.y_m}},
               fmax(0, off_m));
}

/* From corner to corner. */
static enum fw_status try_corner(struct finding *finding, size_t one,
                                 size_t other)
{
    const struct fw_ways_edges *edges = finding->edges;
    struct fw_point way = fw_ways__less(edges->at[other], edges->at[one]);
    struct fw_point way_back = back(way);
    const double width_m = sqrt(fw_ways__dot(way, way));
    const bool touch = width_m <= FW_WAYS_TINY_M;
    if (width_m >= finding->wide_m)
        return FW_OK;
    if (touch) {
        /* What lies outside at the one must be inside at the other; then the
         * way is into that outside. */
        if ((fw_ways__juts(edges, other) && other < one) ||
            angle_at(edges, one) + angle_at(edges, other) < 2 * FW_PI + 1e-9)
            return FW_OK;
        way = back(into(edges, other));
        way_back = back(into(edges, one));
    } else if (!fw_ways__juts(edges, other) || other < one ||
               fw_ways__dot(way, into(edges, one)) < -1e-12 ||
               fw_ways__dot(way_back, into(edges, other)) < -1e-12) {
        return FW_OK;
    }
    return add(finding,
               (struct fw_ways_end){.edge = one,
                                    .at = edges->at[one],
                                    .turn = turn_to(edges, one, way)},
               (struct fw_ways_end){.edge = other,
                                    .at = edges->at[other],
                                    .turn = turn_to(edges, other, way_back)},
               width_m);
}

static enum fw_status look_about(struct finding *finding, size_t vertex)
{
    const struct fw_ways_edges *edges = finding->edges;
    const struct fw_point at = edges->at[vertex];
    struct fw_ways_seek look = fw_ways__seek(edges, at, at, finding->wide_m);
    enum fw_status status = FW_OK;
    size_t edge;
    while (!status && fw_ways__seek_next(&look, &edge)) {
        if (edge == vertex || edges->next[edge] == vertex)
            continue;
        const double along_m = fw_ways__dot(fw_ways__less(at, edges->at[edge]),
                                            edges->along[edge]);
        if (along_m > FW_WAYS_SAME_M &&
            along_m < edges->length_m[edge] - FW_WAYS_SAME_M)
            status = try_foot(finding, vertex, edge, along_m);
        if (!status)
            status = try_corner(finding, vertex, edge);
    }
    return status;
}

/* ---- what crosses ---- */

static int by_place(const void *one, const void *other)
{
    const struct fw_ways_cut *a = one, *b = other;
    const double x = a->middle.x_m - b->middle.x_m;
    const double y = a->middle.y_m - b->middle.y_m;
    return x != 0 ? (x > 0) - (x < 0) : (y > 0) - (y < 0);
}

static double side_of(struct fw_point a, struct fw_point b, struct fw_point p)
{
    return fw_ways__cross(fw_ways__less(b, a), fw_ways__less(p, a));
}

static bool cross(const struct fw_ways_cut *one, const struct fw_ways_cut *two)
{
    const struct fw_point a = one->ends[0].at, b = one->ends[1].at;
    const struct fw_point c = two->ends[0].at, d = two->ends[1].at;
    return side_of(a, b, c) * side_of(a, b, d) < 0 &&
           side_of(c, d, a) * side_of(c, d, b) < 0;
}

/* Four corners on one circle have two diameters; rounding lets both pass. Of
 * two that cross the wider one goes, marked by a width below 0. */
static void drop_crossing(struct fw_ways_cuts *cuts, double wide_m)
{
    struct fw_ways_cut *items = cuts->items;
    size_t kept = 0;
    qsort(items, cuts->count, sizeof *items, by_place);
    for (size_t i = 0; i < cuts->count; i++)
        for (size_t j = i + 1;
             j < cuts->count && items[i].width_m >= 0 &&
             items[j].middle.x_m - items[i].middle.x_m < wide_m;
             j++) {
            if (items[j].width_m < 0 || !cross(&items[i], &items[j]))
                continue;
            items[items[i].width_m > items[j].width_m ? i : j].width_m = -1;
        }
    for (size_t i = 0; i < cuts->count; i++)
        if (items[i].width_m >= 0)
            items[kept++] = items[i];
    cuts->count = kept;
}

enum fw_status fw_ways__cuts(const struct fw_ways_edges *edges, double wide_m,
                             struct fw_ways_cuts *out, struct fw_error *err)
{
    struct finding finding = {
        .edges = edges, .wide_m = wide_m, .cuts = out, .err = err};
    enum fw_status status = FW_OK;
    for (size_t i = 0; !status && i < edges->count; i++)
        if (fw_ways__juts(edges, i))
            status = look_about(&finding, i);
    if (!status && out->count > 1)
        drop_crossing(out, wide_m);
    return status;
}
