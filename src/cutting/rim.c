/* The walk around a field: nodes, bridges to holes, and the sums along it. */
#include "cutting/rim.h"
#include "base/alloc.h"
#include "base/array.h"
#include "base/fail.h"
#include "base/length.h"
#include "figures/mark.h"

#include <math.h>
#include <string.h>

/* The nearest bridge is sought among all nodes and edges, hole by hole. */
enum { most_holes = FW_EFFORT(40) };

static double cross(struct fw_point a, struct fw_point b)
{
    return a.x_m * b.y_m - a.y_m * b.x_m;
}

static struct fw_point minus(struct fw_point a, struct fw_point b)
{
    return (struct fw_point){a.x_m - b.x_m, a.y_m - b.y_m};
}

size_t fw_rim_next(const struct fw_rim *rim, size_t node)
{
    return node + 1 < rim->count ? node + 1 : 0;
}

struct bridge {
    size_t edge, ring,
        vertex;            /* edge of the walk; side of a hole from vertex */
    double edge_t, side_t; /* of the way along them */
    double length_m;
};

/* How far along a segment its nearest place to a point is. */
static double nearest_t(struct fw_point p, struct fw_point a, struct fw_point b)
{
    const struct fw_point side = minus(b, a), way = minus(p, a);
    const double square = side.x_m * side.x_m + side.y_m * side.y_m;
    const double t = (way.x_m * side.x_m + way.y_m * side.y_m) / square;
    return square > 0 ? fmin(fmax(t, 0), 1) : 0;
}

static struct fw_point along(struct fw_point a, struct fw_point b, double t)
{
    return (struct fw_point){a.x_m + (b.x_m - a.x_m) * t,
                             a.y_m + (b.y_m - a.y_m) * t};
}

static size_t ring_next(const struct fw_field *field, size_t ring,
                        size_t vertex)
{
    return vertex + 1 < field->ring_start[ring + 1] ? vertex + 1
                                                    : field->ring_start[ring];
}

/* From the beginning of one side to the other side, both ways. */
static void try_bridge(const struct fw_rim *rim, const struct fw_field *field,
                       struct bridge bridge, struct bridge *best)
{
    const size_t next = ring_next(field, bridge.ring, bridge.vertex);
    const struct fw_point h0 = field->vertices[bridge.vertex].plane;
    const struct fw_point h1 = field->vertices[next].plane;
    const struct fw_point p0 = rim->nodes[bridge.edge].point;
    const struct fw_point p1 = rim->nodes[fw_rim_next(rim, bridge.edge)].point;
    for (int way = 0; way < 2; way++) {
        bridge.edge_t = way ? 0 : nearest_t(h0, p0, p1);
        bridge.side_t = way ? nearest_t(p0, h0, h1) : 0;
        const struct fw_point across =
            minus(along(p0, p1, bridge.edge_t), along(h0, h1, bridge.side_t));
        bridge.length_m = fw_length(across.x_m, across.y_m);
        if (bridge.length_m < best->length_m)
            *best = bridge;
    }
}

/* The shortest of all to a hole not reached yet, so that it crosses nothing. */
static struct bridge find_bridge(const struct fw_rim *rim,
                                 const struct fw_field *field,
                                 const bool *reached)
{
    struct bridge best = {.length_m = HUGE_VAL};
    for (size_t r = 1; r < field->ring_count; r++)
        for (size_t v = field->ring_start[r];
             !reached[r] && v < field->ring_start[r + 1]; v++)
            for (size_t i = 0; i < rim->count; i++)
                try_bridge(rim, field,
                           (struct bridge){.edge = i, .ring = r, .vertex = v},
                           &best);
    return best;
}

/* Walk the edge, over the bridge, round the hole, back, and on. */
static enum fw_status build_bridge(struct fw_rim *rim,
                                   const struct fw_field *field,
                                   const struct bridge *bridge,
                                   struct fw_error *err)
{
    const size_t size =
        field->ring_start[bridge->ring + 1] - field->ring_start[bridge->ring];
    const size_t more = size + FW_EFFORT(4);
    const enum fw_status status =
        fw_array_reserve(&rim->nodes, &rim->capacity, rim->count + more,
                         sizeof *rim->nodes, err);
    if (status)
        return status;
    struct fw_rim_node *at = rim->nodes + bridge->edge;
    const struct fw_rim_node before = *at;
    const struct fw_point foot =
        along(before.point, rim->nodes[fw_rim_next(rim, bridge->edge)].point,
              bridge->edge_t);
    memmove(at + 1 + more, at + 1,
            (rim->count - bridge->edge - 1) * sizeof *at);
    rim->count += more;
    at->t_end = before.t + (before.t_end - before.t) * bridge->edge_t;
    *++at = (struct fw_rim_node){foot, FW_INSIDE, FW_INSIDE, 0, 0, false};
    size_t v = ring_next(field, bridge->ring, bridge->vertex);
    const struct fw_point landing =
        along(field->vertices[bridge->vertex].plane, field->vertices[v].plane,
              bridge->side_t);
    *++at = (struct fw_rim_node){landing, FW_INSIDE, FW_INSIDE, 0, 0, false};
    for (size_t i = 0; i < size; i++) {
        *++at = (struct fw_rim_node){
            field->vertices[v].plane, v, FW_INSIDE, 0, 0, false};
        v = ring_next(field, bridge->ring, v);
    }
    *++at = (struct fw_rim_node){landing, FW_INSIDE, FW_INSIDE, 0, 0, false};
    *++at = before;
    at->point = foot;
    at->vertex = FW_INSIDE;
    at->t = before.t + (before.t_end - before.t) * bridge->edge_t;
    return FW_OK;
}

static enum fw_status bridge_holes(struct fw_rim *rim,
                                   const struct fw_field *field,
                                   struct fw_error *err)
{
    bool reached[most_holes + 1] = {false};
    enum fw_status status = FW_OK;
    for (size_t n = 1; !status && n < field->ring_count; n++) {
        const struct bridge bridge = find_bridge(rim, field, reached);
        reached[bridge.ring] = true;
        status = build_bridge(rim, field, &bridge, err);
    }
    return status;
}

static void find_reflex(struct fw_rim *rim)
{
    for (size_t i = 0; i < rim->count; i++) {
        const struct fw_point here = rim->nodes[i].point;
        const struct fw_point before =
            rim->nodes[(i > 0 ? i : rim->count) - 1].point;
        const struct fw_point next = rim->nodes[fw_rim_next(rim, i)].point;
        rim->nodes[i].reflex =
            cross(minus(here, before), minus(next, here)) < 0;
    }
}

static struct fw_rim_box box_around(const struct fw_rim *rim, size_t from,
                                    size_t to)
{
    struct fw_point least = {HUGE_VAL, HUGE_VAL};
    struct fw_point most = {-HUGE_VAL, -HUGE_VAL};
    for (size_t i = from; i <= to; i++) {
        const struct fw_point p = rim->nodes[i < rim->count ? i : 0].point;
        least.x_m = fmin(least.x_m, p.x_m);
        least.y_m = fmin(least.y_m, p.y_m);
        most.x_m = fmax(most.x_m, p.x_m);
        most.y_m = fmax(most.y_m, p.y_m);
    }
    return (struct fw_rim_box){
        (least.x_m + most.x_m) / 2, (least.y_m + most.y_m) / 2,
        (most.x_m - least.x_m) / 2, (most.y_m - least.y_m) / 2};
}

static void fill_boxes(struct fw_rim *rim)
{
    for (size_t b = 0; b < rim->box_count; b++) {
        const size_t from = b * rim->box_edges, to = from + rim->box_edges;
        rim->boxes[b] =
            box_around(rim, from, to < rim->count ? to : rim->count);
    }
}

static void sum_up(struct fw_rim *rim)
{
    rim->along_m[0] = rim->fan_m2[0] = 0;
    for (size_t i = 0; i < rim->count; i++) {
        const struct fw_point a = rim->nodes[i].point;
        const struct fw_point b = rim->nodes[fw_rim_next(rim, i)].point;
        rim->along_m[i + 1] =
            rim->along_m[i] + fw_length(b.x_m - a.x_m, b.y_m - a.y_m);
        rim->fan_m2[i + 1] = rim->fan_m2[i] + cross(a, b) / 2;
    }
    fill_boxes(rim);
}

/* Boxes of as many edges as there are boxes: the fewest to look at. */
static enum fw_status make_sums(struct fw_rim *rim, struct fw_error *err)
{
    rim->box_edges = (size_t)fmax(FW_EFFORT(6), sqrt((double)rim->count));
    rim->box_count = (rim->count + rim->box_edges - 1) / rim->box_edges;
    rim->along_m = fw_alloc(rim->count + 1, sizeof *rim->along_m);
    rim->fan_m2 = fw_alloc(rim->count + 1, sizeof *rim->fan_m2);
    rim->boxes = fw_alloc(rim->box_count, sizeof *rim->boxes);
    if (!rim->along_m || !rim->fan_m2 || !rim->boxes)
        return fw_fail_memory(err);
    find_reflex(rim);
    sum_up(rim);
    return FW_OK;
}

enum fw_status fw_rim_new(const struct fw_field *field, double clear_m,
                          struct fw_rim *out, struct fw_error *err)
{
    *out = (struct fw_rim){0};
    if (field->ring_count > most_holes)
        return FW_OK;
    struct fw_rim rim = {.clear_m = clear_m};
    enum fw_status status =
        fw_array_reserve(&rim.nodes, &rim.capacity, field->ring_start[1],
                         sizeof *rim.nodes, err);
    if (status)
        return status;
    for (size_t i = 0; i < field->ring_start[1]; i++)
        rim.nodes[rim.count++] =
            (struct fw_rim_node){.point = field->vertices[i].plane,
                                 .vertex = i,
                                 .side = i,
                                 .t_end = 1};
    status = bridge_holes(&rim, field, err);
    if (!status)
        status = make_sums(&rim, err);
    if (status)
        fw_rim_release(&rim);
    else
        *out = rim;
    return status;
}

void fw_rim_release(struct fw_rim *rim)
{
    fw_free(rim->nodes);
    fw_free(rim->along_m);
    fw_free(rim->fan_m2);
    fw_free(rim->boxes);
    *rim = (struct fw_rim){0};
}

enum fw_status fw_rim_start(struct fw_rim *rim, size_t node,
                            struct fw_error *err)
{
    struct fw_rim_node *turned = fw_alloc(rim->count, sizeof *turned);
    if (!turned)
        return fw_fail_memory(err);
    const size_t rest = rim->count - node;
    memcpy(turned, rim->nodes + node, rest * sizeof *turned);
    memcpy(turned + rest, rim->nodes, node * sizeof *turned);
    fw_free(rim->nodes);
    rim->nodes = turned;
    rim->capacity = rim->count;
    sum_up(rim);
    return FW_OK;
}

size_t fw_rim_node(const struct fw_rim *rim, size_t vertex)
{
    size_t node = 0;
    while (rim->nodes[node].vertex != vertex)
        node++;
    return node;
}

struct fw_point fw_rim_point(const struct fw_rim *rim,
                             struct fw_rim_place place)
{
    return along(rim->nodes[place.edge].point,
                 rim->nodes[fw_rim_next(rim, place.edge)].point, place.t);
}

double fw_rim_along_m(const struct fw_rim *rim, struct fw_rim_place place)
{
    const double *along_m = rim->along_m + place.edge;
    return along_m[0] + (along_m[1] - along_m[0]) * place.t;
}

struct fw_rim_place fw_rim_at(const struct fw_rim *rim, double along_m,
                              size_t from_edge)
{
    size_t edge = from_edge;
    while (edge > 0 && along_m < rim->along_m[edge])
        edge--;
    while (edge + 1 < rim->count && along_m >= rim->along_m[edge + 1])
        edge++;
    const double *ends = rim->along_m + edge;
    const double length_m = ends[1] - ends[0];
    const double t = length_m > 0 ? (along_m - ends[0]) / length_m : 0;
    return (struct fw_rim_place){edge, fmin(fmax(t, 0), 1)};
}

double fw_rim_fan_m2(const struct fw_rim *rim, struct fw_rim_place place)
{
    return rim->fan_m2[place.edge] +
           cross(rim->nodes[place.edge].point, fw_rim_point(rim, place)) / 2;
}
