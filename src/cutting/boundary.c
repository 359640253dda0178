/* The walk around a field: nodes, bridges to holes, and the sums along it. */
#include "cutting/boundary.h"
#include "base/alloc.h"
#include "base/array.h"
#include "base/fail.h"
#include "base/length.h"
#include "figures/mark.h"
#include "geo/points.h"

#include <math.h>
#include <string.h>

/* The nearest bridge is sought among all nodes and edges, hole by hole. */
enum { most_holes = FW_EFFORT(40) };

struct bridge {
    size_t edge, ring,
        vertex;            /* edge of the walk; side of a hole from vertex */
    double edge_t, side_t; /* of the way along them */
    double length_m;
};

/* How far along a segment its nearest place to a point is. */
static double nearest_t(struct fw_point p, struct fw_point a, struct fw_point b)
{
    const struct fw_point side = fw_point_minus(b, a),
                          way = fw_point_minus(p, a);
    const double square = side.x_m * side.x_m + side.y_m * side.y_m;
    const double t = (way.x_m * side.x_m + way.y_m * side.y_m) / square;
    return square > 0 ? fmin(fmax(t, 0), 1) : 0;
}

static size_t ring_next(const struct fw_field *field, size_t ring,
                        size_t vertex)
{
    return vertex + 1 < field->ring_start[ring + 1] ? vertex + 1
                                                    : field->ring_start[ring];
}

/* From the beginning of one side to the other side, both ways. */
static void try_bridge(const struct fw_boundary *boundary,
                       const struct fw_field *field, struct bridge bridge,
                       struct bridge *best)
{
    const size_t next = ring_next(field, bridge.ring, bridge.vertex);
    const struct fw_point h0 = field->vertices[bridge.vertex].plane;
    const struct fw_point h1 = field->vertices[next].plane;
    const struct fw_point p0 = boundary->nodes[bridge.edge].point;
    const struct fw_point p1 =
        boundary->nodes[fw_boundary_next(boundary, bridge.edge)].point;
    for (int way = 0; way < 2; way++) {
        bridge.edge_t = way ? 0 : nearest_t(h0, p0, p1);
        bridge.side_t = way ? nearest_t(p0, h0, h1) : 0;
        const struct fw_point across =
            fw_point_minus(fw_point_between(p0, p1, bridge.edge_t),
                           fw_point_between(h0, h1, bridge.side_t));
        bridge.length_m = fw_length(across.x_m, across.y_m);
        if (bridge.length_m < best->length_m)
            *best = bridge;
    }
}

/* The shortest of all to a hole not reached yet, so that it crosses nothing. */
static struct bridge find_bridge(const struct fw_boundary *boundary,
                                 const struct fw_field *field,
                                 const bool *reached)
{
    struct bridge best = {.length_m = HUGE_VAL};
    for (size_t r = 1; r < field->ring_count; r++)
        for (size_t v = field->ring_start[r];
             !reached[r] && v < field->ring_start[r + 1]; v++)
            for (size_t i = 0; i < boundary->count; i++)
                try_bridge(boundary, field,
                           (struct bridge){.edge = i, .ring = r, .vertex = v},
                           &best);
    return best;
}

/* Walk the edge, over the bridge, round the hole, back, and on. */
static enum fw_status build_bridge(struct fw_boundary *boundary,
                                   const struct fw_field *field,
                                   const struct bridge *bridge,
                                   struct fw_error *err)
{
    const size_t size =
        field->ring_start[bridge->ring + 1] - field->ring_start[bridge->ring];
    const size_t more = size + FW_EFFORT(4);
    const enum fw_status status =
        fw_array_reserve(&boundary->nodes, &boundary->capacity,
                         boundary->count + more, sizeof *boundary->nodes, err);
    if (status)
        return status;
    struct fw_boundary_node *at = boundary->nodes + bridge->edge;
    const struct fw_boundary_node before = *at;
    const struct fw_point foot = fw_point_between(
        before.point,
        boundary->nodes[fw_boundary_next(boundary, bridge->edge)].point,
        bridge->edge_t);
    memmove(at + 1 + more, at + 1,
            (boundary->count - bridge->edge - 1) * sizeof *at);
    boundary->count += more;
    at->t_end = before.t + (before.t_end - before.t) * bridge->edge_t;
    *++at = (struct fw_boundary_node){foot, FW_INSIDE, FW_INSIDE, 0, 0, false};
    size_t v = ring_next(field, bridge->ring, bridge->vertex);
    const struct fw_point landing =
        fw_point_between(field->vertices[bridge->vertex].plane,
                         field->vertices[v].plane, bridge->side_t);
    *++at =
        (struct fw_boundary_node){landing, FW_INSIDE, FW_INSIDE, 0, 0, false};
    for (size_t i = 0; i < size; i++) {
        *++at = (struct fw_boundary_node){
            field->vertices[v].plane, v, FW_INSIDE, 0, 0, false};
        v = ring_next(field, bridge->ring, v);
    }
    *++at =
        (struct fw_boundary_node){landing, FW_INSIDE, FW_INSIDE, 0, 0, false};
    *++at = before;
    at->point = foot;
    at->vertex = FW_INSIDE;
    at->t = before.t + (before.t_end - before.t) * bridge->edge_t;
    return FW_OK;
}

static enum fw_status bridge_holes(struct fw_boundary *boundary,
                                   const struct fw_field *field,
                                   struct fw_error *err)
{
    bool reached[most_holes + 1] = {false};
    enum fw_status status = FW_OK;
    for (size_t n = 1; !status && n < field->ring_count; n++) {
        const struct bridge bridge = find_bridge(boundary, field, reached);
        reached[bridge.ring] = true;
        status = build_bridge(boundary, field, &bridge, err);
    }
    return status;
}

static void find_reflex(struct fw_boundary *boundary)
{
    for (size_t i = 0; i < boundary->count; i++) {
        const struct fw_point here = boundary->nodes[i].point;
        const struct fw_point before =
            boundary->nodes[(i > 0 ? i : boundary->count) - 1].point;
        const struct fw_point next =
            boundary->nodes[fw_boundary_next(boundary, i)].point;
        boundary->nodes[i].reflex =
            fw_point_cross(fw_point_minus(here, before),
                           fw_point_minus(next, here)) < 0;
    }
}

static struct fw_boundary_box box_around(const struct fw_boundary *boundary,
                                         size_t from, size_t to)
{
    struct fw_point least = {HUGE_VAL, HUGE_VAL};
    struct fw_point most = {-HUGE_VAL, -HUGE_VAL};
    for (size_t i = from; i <= to; i++) {
        const struct fw_point p =
            boundary->nodes[i < boundary->count ? i : 0].point;
        least.x_m = fmin(least.x_m, p.x_m);
        least.y_m = fmin(least.y_m, p.y_m);
        most.x_m = fmax(most.x_m, p.x_m);
        most.y_m = fmax(most.y_m, p.y_m);
    }
    return (struct fw_boundary_box){
        (least.x_m + most.x_m) / 2, (least.y_m + most.y_m) / 2,
        (most.x_m - least.x_m) / 2, (most.y_m - least.y_m) / 2};
}

static void fill_boxes(struct fw_boundary *boundary)
{
    for (size_t b = 0; b < boundary->box_count; b++) {
        const size_t from = b * boundary->box_edges,
                     to = from + boundary->box_edges;
        boundary->boxes[b] = box_around(
            boundary, from, to < boundary->count ? to : boundary->count);
    }
}

static void sum_up(struct fw_boundary *boundary)
{
    boundary->along_m[0] = boundary->fan_m2[0] = 0;
    for (size_t i = 0; i < boundary->count; i++) {
        const struct fw_point a = boundary->nodes[i].point;
        const struct fw_point b =
            boundary->nodes[fw_boundary_next(boundary, i)].point;
        boundary->along_m[i + 1] =
            boundary->along_m[i] + fw_point_apart_m(b, a);
        boundary->fan_m2[i + 1] =
            boundary->fan_m2[i] + fw_point_cross(a, b) / 2;
    }
    fill_boxes(boundary);
}

/* Boxes of as many edges as there are boxes: the fewest to look at. */
static enum fw_status make_sums(struct fw_boundary *boundary,
                                struct fw_error *err)
{
    boundary->box_edges =
        (size_t)fmax(FW_EFFORT(6), sqrt((double)boundary->count));
    boundary->box_count =
        (boundary->count + boundary->box_edges - 1) / boundary->box_edges;
    boundary->along_m =
        fw_alloc(boundary->count + 1, sizeof *boundary->along_m);
    boundary->fan_m2 = fw_alloc(boundary->count + 1, sizeof *boundary->fan_m2);
    boundary->boxes = fw_alloc(boundary->box_count, sizeof *boundary->boxes);
    if (!boundary->along_m || !boundary->fan_m2 || !boundary->boxes)
        return fw_fail_memory(err);
    find_reflex(boundary);
    sum_up(boundary);
    return FW_OK;
}

enum fw_status fw_boundary_new(const struct fw_field *field, double clear_m,
                               struct fw_boundary *out, struct fw_error *err)
{
    *out = (struct fw_boundary){0};
    if (field->ring_count > most_holes)
        return FW_OK;
    struct fw_boundary boundary = {.clear_m = clear_m};
    enum fw_status status =
        fw_array_reserve(&boundary.nodes, &boundary.capacity,
                         field->ring_start[1], sizeof *boundary.nodes, err);
    if (status)
        return status;
    for (size_t i = 0; i < field->ring_start[1]; i++)
        boundary.nodes[boundary.count++] =
            (struct fw_boundary_node){.point = field->vertices[i].plane,
                                      .vertex = i,
                                      .side = i,
                                      .t_end = 1};
    status = bridge_holes(&boundary, field, err);
    if (!status)
        status = make_sums(&boundary, err);
    if (status)
        fw_boundary_release(&boundary);
    else
        *out = boundary;
    return status;
}

void fw_boundary_release(struct fw_boundary *boundary)
{
    fw_free(boundary->nodes);
    fw_free(boundary->along_m);
    fw_free(boundary->fan_m2);
    fw_free(boundary->boxes);
    *boundary = (struct fw_boundary){0};
}

enum fw_status fw_boundary_start(struct fw_boundary *boundary, size_t node,
                                 struct fw_error *err)
{
    struct fw_boundary_node *turned = fw_alloc(boundary->count, sizeof *turned);
    if (!turned)
        return fw_fail_memory(err);
    const size_t rest = boundary->count - node;
    memcpy(turned, boundary->nodes + node, rest * sizeof *turned);
    memcpy(turned + rest, boundary->nodes, node * sizeof *turned);
    fw_free(boundary->nodes);
    boundary->nodes = turned;
    boundary->capacity = boundary->count;
    sum_up(boundary);
    return FW_OK;
}

size_t fw_boundary_node(const struct fw_boundary *boundary, size_t vertex)
{
    size_t node = 0;
    while (boundary->nodes[node].vertex != vertex)
        node++;
    return node;
}

struct fw_point fw_boundary_point(const struct fw_boundary *boundary,
                                  struct fw_boundary_station place)
{
    return fw_point_between(
        boundary->nodes[place.edge].point,
        boundary->nodes[fw_boundary_next(boundary, place.edge)].point, place.t);
}

double fw_boundary_along_m(const struct fw_boundary *boundary,
                           struct fw_boundary_station place)
{
    const double *along_m = boundary->along_m + place.edge;
    return along_m[0] + (along_m[1] - along_m[0]) * place.t;
}

struct fw_boundary_station fw_boundary_at(const struct fw_boundary *boundary,
                                          double along_m, size_t from_edge)
{
    size_t edge = from_edge;
    while (edge > 0 && along_m < boundary->along_m[edge])
        edge--;
    while (edge + 1 < boundary->count && along_m >= boundary->along_m[edge + 1])
        edge++;
    const double *ends = boundary->along_m + edge;
    const double length_m = ends[1] - ends[0];
    const double t = length_m > 0 ? (along_m - ends[0]) / length_m : 0;
    return (struct fw_boundary_station){edge, fmin(fmax(t, 0), 1)};
}

double fw_boundary_fan_m2(const struct fw_boundary *boundary,
                          struct fw_boundary_station place)
{
    return boundary->fan_m2[place.edge] +
           fw_point_cross(boundary->nodes[place.edge].point,
                          fw_boundary_point(boundary, place)) /
               2;
}
