#include "water/roads.h"

#include "base/alloc.h"
#include "base/array.h"
#include "base/fail.h"
#include "figures/mark.h"
#include "figures/water.h"
#include "geo/points.h"

#include <math.h>
#include <stdlib.h>

enum fw_status fw_water_roads_add(struct fw_roads *roads,
                                  const struct fw_point *points, size_t count,
                                  struct fw_error *err)
{
    const size_t pieces = count > 0 ? count - 1 : 0;
    const enum fw_status status =
        fw_array_reserve(&roads->pieces, &roads->capacity,
                         roads->count + pieces, sizeof *roads->pieces, err);
    if (status)
        return status;
    for (size_t i = 0; i < pieces; i++)
        roads->pieces[roads->count++] =
            (struct fw_roads_piece){points[i], points[i + 1], roads->tracks};
    roads->tracks++;
    return FW_OK;
}

void fw_water_roads_release(struct fw_roads *roads)
{
    fw_free(roads->pieces);
    *roads = (struct fw_roads){0};
}

/* ---- the network ---- */

/* A place on a piece: its ends, and where another one comes to it. */
struct stop {
    size_t piece;
    double t; /* of the piece, from a to b */
    struct fw_point at;
    double way_m;   /* from the source; HUGE_VAL: not reached */
    size_t in_heap; /* its place there, from 1; 0: it is not in it */
};

struct link { /* between stops of two pieces, both ways */
    size_t a, b;
    double long_m;
};

struct network {
    const struct fw_roads *roads;
    struct stop *stops; /* piece after piece, from a to b */
    size_t stop_count, stop_capacity;
    size_t *first_stop; /* by piece, and one more */
    struct link *links;
    size_t link_count, link_capacity;
    size_t *link_start; /* by stop, and one more: in link_at */
    size_t *link_at;    /* links at each stop */
    size_t *heap;       /* stops, the nearest first */
    size_t heap_count;
};

/* The place of a piece that is nearest to a point. */
static double nearest_t(const struct fw_roads_piece *piece, struct fw_point to)
{
    const struct fw_point along = fw_point_minus(piece->b, piece->a);
    const struct fw_point off = fw_point_minus(to, piece->a);
    const double square = along.x_m * along.x_m + along.y_m * along.y_m;
    if (!(square > 0))
        return 0;
    return fmax(0,
                fmin(1, (off.x_m * along.x_m + off.y_m * along.y_m) / square));
}

static struct fw_point place_of(const struct fw_roads_piece *piece, double t)
{
    return fw_point_between(piece->a, piece->b, t);
}

static enum fw_status add_stop(struct network *network, size_t piece, double t,
                               size_t *out, struct fw_error *err)
{
    const enum fw_status status =
        fw_array_reserve(&network->stops, &network->stop_capacity,
                         network->stop_count + 1, sizeof *network->stops, err);
    if (status)
        return status;
    *out = network->stop_count;
    network->stops[network->stop_count++] =
        (struct stop){.piece = piece,
                      .t = t,
                      .at = place_of(&network->roads->pieces[piece], t)};
    return FW_OK;
}

/* From the one piece at t to the other at u. */
static enum fw_status join(struct network *network, size_t one, double t,
                           size_t other, double u, struct fw_error *err)
{
    size_t a, b;
    enum fw_status status = add_stop(network, one, t, &a, err);
    if (!status)
        status = add_stop(network, other, u, &b, err);
    if (!status)
        status = fw_array_reserve(&network->links, &network->link_capacity,
                                  network->link_count + 1,
                                  sizeof *network->links, err);
    if (!status)
        network->links[network->link_count++] = (struct link){
            a, b, fw_point_apart_m(network->stops[a].at, network->stops[b].at)};
    return status;
}

static bool cross_at(const struct fw_roads_piece *one,
                     const struct fw_roads_piece *other, double *t, double *u)
{
    const struct fw_point p = fw_point_minus(one->b, one->a);
    const struct fw_point q = fw_point_minus(other->b, other->a);
    const struct fw_point off = fw_point_minus(other->a, one->a);
    const double turn = fw_point_cross(p, q);
    if (turn == 0)
        return false;
    *t = fw_point_cross(off, q) / turn;
    *u = fw_point_cross(off, p) / turn;
    return *t >= 0 && *t <= 1 && *u >= 0 && *u <= 1;
}

/* Where they cross, or else where an end of one is near to the other. */
static enum fw_status join_two(struct network *network, size_t one,
                               size_t other, struct fw_error *err)
{
    const struct fw_roads_piece *p = &network->roads->pieces[one];
    const struct fw_roads_piece *q = &network->roads->pieces[other];
    double t, u;
    enum fw_status status = FW_OK;
    if (cross_at(p, q, &t, &u))
        return join(network, one, t, other, u, err);
    for (int end = 0; !status && end < 2; end++) {
        u = nearest_t(q, end ? p->b : p->a);
        if (fw_point_apart_m(end ? p->b : p->a, place_of(q, u)) <=
            FW_ROADS_JOIN_M)
            status = join(network, one, end, other, u, err);
        t = nearest_t(p, end ? q->b : q->a);
        if (!status && fw_point_apart_m(end ? q->b : q->a, place_of(p, t)) <=
                           FW_ROADS_JOIN_M)
            status = join(network, one, t, other, end, err);
    }
    return status;
}

static double low_x(const struct fw_roads_piece *piece)
{
    return fmin(piece->a.x_m, piece->b.x_m);
}

static double high_x(const struct fw_roads_piece *piece)
{
    return fmax(piece->a.x_m, piece->b.x_m);
}

static bool is_beside(const struct fw_roads_piece *one,
                      const struct fw_roads_piece *other)
{
    return fmin(one->a.y_m, one->b.y_m) <=
               fmax(other->a.y_m, other->b.y_m) + FW_ROADS_JOIN_M &&
           fmin(other->a.y_m, other->b.y_m) <=
               fmax(one->a.y_m, one->b.y_m) + FW_ROADS_JOIN_M;
}

struct sort_piece {
    double low_x;
    size_t piece;
};

static int compare_x(const void *left, const void *right)
{
    const struct sort_piece *a = left, *b = right;
    if (a->low_x != b->low_x)
        return a->low_x < b->low_x ? -1 : 1;
    return a->piece < b->piece ? -1 : a->piece > b->piece;
}

/* Pieces that follow each other on a track meet at one point, and are joined
 * there like any other. */
static enum fw_status join_all(struct network *network, struct fw_error *err)
{
    const struct fw_roads *roads = network->roads;
    struct sort_piece *order = fw_alloc(roads->count, sizeof *order);
    if (!order)
        return fw_fail_memory(err);
    for (size_t i = 0; i < roads->count; i++)
        order[i] = (struct sort_piece){low_x(&roads->pieces[i]), i};
    qsort(order, roads->count, sizeof *order, compare_x);
    enum fw_status status = FW_OK;
    for (size_t i = 0; !status && i < roads->count; i++) {
        const struct fw_roads_piece *one = &roads->pieces[order[i].piece];
        for (size_t k = i + 1; !status && k < roads->count &&
                               order[k].low_x <= high_x(one) + FW_ROADS_JOIN_M;
             k++)
            if (is_beside(one, &roads->pieces[order[k].piece]))
                status = join_two(network, order[i].piece, order[k].piece, err);
    }
    fw_free(order);
    return status;
}

/* ---- the stops of each piece in their order ---- */

struct sort_stop {
    struct stop stop;
    size_t was;
};

static int compare_places(const void *left, const void *right)
{
    const struct sort_stop *a = left, *b = right;
    if (a->stop.piece != b->stop.piece)
        return a->stop.piece < b->stop.piece ? -1 : 1;
    if (a->stop.t != b->stop.t)
        return a->stop.t < b->stop.t ? -1 : 1;
    return a->was < b->was ? -1 : a->was > b->was;
}

static enum fw_status sort_stops(struct network *network, struct fw_error *err)
{
    const size_t count = network->stop_count;
    struct sort_stop *order = fw_alloc(count, sizeof *order);
    size_t *now = fw_alloc(count, sizeof *now);
    const bool room = order && now;
    for (size_t i = 0; room && i < count; i++)
        order[i] = (struct sort_stop){network->stops[i], i};
    if (room) {
        qsort(order, count, sizeof *order, compare_places);
        for (size_t i = 0; i < count; i++) {
            network->stops[i] = order[i].stop;
            now[order[i].was] = i;
            network->first_stop[order[i].stop.piece + 1]++;
        }
        for (size_t i = 0; i < network->roads->count; i++)
            network->first_stop[i + 1] += network->first_stop[i];
        for (size_t i = 0; i < network->link_count; i++) {
            network->links[i].a = now[network->links[i].a];
            network->links[i].b = now[network->links[i].b];
        }
    }
    fw_free(order);
    fw_free(now);
    return room ? FW_OK : fw_fail_memory(err);
}

static enum fw_status list_links(struct network *network, struct fw_error *err)
{
    network->link_start =
        fw_alloc(network->stop_count + 1, sizeof *network->link_start);
    network->link_at =
        fw_alloc(2 * network->link_count, sizeof *network->link_at);
    network->heap = fw_alloc(network->stop_count, sizeof *network->heap);
    if (!network->link_start || !network->link_at || !network->heap)
        return fw_fail_memory(err);
    size_t *start = network->link_start;
    for (size_t i = 0; i < network->link_count; i++) {
        start[network->links[i].a]++;
        start[network->links[i].b]++;
    }
    for (size_t i = 0, sum = 0; i <= network->stop_count; i++) {
        sum += start[i];
        start[i] = sum;
    }
    for (size_t i = 0; i < network->link_count; i++) {
        network->link_at[--start[network->links[i].a]] = i;
        network->link_at[--start[network->links[i].b]] = i;
    }
    return FW_OK;
}

static void release(struct network *network)
{
    fw_free(network->stops);
    fw_free(network->first_stop);
    fw_free(network->links);
    fw_free(network->link_start);
    fw_free(network->link_at);
    fw_free(network->heap);
}

static enum fw_status init(struct network *network,
                           const struct fw_roads *roads, struct fw_error *err)
{
    *network = (struct network){
        .roads = roads,
        .first_stop = fw_alloc(roads->count + 1, sizeof *network->first_stop),
    };
    enum fw_status status = network->first_stop ? FW_OK : fw_fail_memory(err);
    for (size_t i = 0; !status && i < roads->count; i++)
        for (int end = 0; !status && end < 2; end++) {
            size_t stop;
            status = add_stop(network, i, end, &stop, err);
        }
    if (!status)
        status = join_all(network, err);
    if (!status)
        status = sort_stops(network, err);
    if (!status)
        status = list_links(network, err);
    if (status)
        release(network);
    return status;
}

/* ---- the nearest first (Dijkstra 1959) ---- */

static void put(struct network *network, size_t at, size_t stop)
{
    network->heap[at] = stop;
    network->stops[stop].in_heap = at + 1;
}

static void rise(struct network *network, size_t at)
{
    const size_t stop = network->heap[at];
    const double way_m = network->stops[stop].way_m;
    for (; at > 0; at = (at - 1) / 2) {
        const size_t above = network->heap[(at - 1) / 2];
        if (network->stops[above].way_m <= way_m)
            break;
        put(network, at, above);
    }
    put(network, at, stop);
}

static void sink(struct network *network, size_t stop)
{
    const double way_m = network->stops[stop].way_m;
    size_t at = 0;
    for (size_t below = 1; below < network->heap_count; below = 2 * at + 1) {
        if (below + 1 < network->heap_count &&
            network->stops[network->heap[below + 1]].way_m <
                network->stops[network->heap[below]].way_m)
            below++;
        if (network->stops[network->heap[below]].way_m >= way_m)
            break;
        put(network, at, network->heap[below]);
        at = below;
    }
    put(network, at, stop);
}

static void reach(struct network *network, size_t index, double way_m)
{
    struct stop *stop = &network->stops[index];
    if (!(way_m < stop->way_m))
        return;
    stop->way_m = way_m;
    if (!stop->in_heap)
        put(network, network->heap_count++, index);
    rise(network, stop->in_heap - 1);
}

static void go_on(struct network *network, size_t index)
{
    const struct stop *stop = &network->stops[index];
    const size_t first = network->first_stop[stop->piece];
    const size_t end = network->first_stop[stop->piece + 1];
    if (index > first)
        reach(network, index - 1,
              stop->way_m +
                  fw_point_apart_m(stop->at, network->stops[index - 1].at));
    if (index + 1 < end)
        reach(network, index + 1,
              stop->way_m +
                  fw_point_apart_m(stop->at, network->stops[index + 1].at));
    for (size_t i = network->link_start[index];
         i < network->link_start[index + 1]; i++) {
        const struct link *link = &network->links[network->link_at[i]];
        reach(network, link->a == index ? link->b : link->a,
              stop->way_m + link->long_m);
    }
}

/* A place on a piece that is none of its stops. */
struct nearest {
    size_t piece;
    double t, gap_m;
    struct fw_point at;
};

/* Of all pieces, or of those that are reached. */
static struct nearest foot_of(const struct network *network,
                              struct fw_point from, bool reached)
{
    struct nearest foot = {.gap_m = HUGE_VAL};
    for (size_t i = 0; i < network->roads->count; i++) {
        const struct fw_roads_piece *piece = &network->roads->pieces[i];
        const double t = nearest_t(piece, from);
        const double gap_m = fw_point_apart_m(from, place_of(piece, t));
        if (gap_m < foot.gap_m &&
            (!reached ||
             network->stops[network->first_stop[i]].way_m < HUGE_VAL))
            foot = (struct nearest){i, t, gap_m, place_of(piece, t)};
    }
    return foot;
}

/* The stops on either side of the foot; one of them, or both, are at it. */
static void beside(const struct network *network, const struct nearest *foot,
                   size_t *before, size_t *after)
{
    *before = network->first_stop[foot->piece];
    *after = network->first_stop[foot->piece + 1] - 1;
    while (*before + 1 <= *after && network->stops[*before + 1].t <= foot->t)
        ++*before;
    while (*after > *before && network->stops[*after - 1].t >= foot->t)
        --*after;
}

static void search(struct network *network, const struct nearest *from)
{
    size_t before, after;
    for (size_t i = 0; i < network->stop_count; i++) {
        network->stops[i].way_m = HUGE_VAL;
        network->stops[i].in_heap = 0;
    }
    network->heap_count = 0;
    beside(network, from, &before, &after);
    reach(network, before,
          fw_point_apart_m(from->at, network->stops[before].at));
    reach(network, after, fw_point_apart_m(from->at, network->stops[after].at));
    while (network->heap_count > 0) {
        const size_t nearest = network->heap[0];
        const size_t last = network->heap[--network->heap_count];
        network->stops[nearest].in_heap = 0;
        if (network->heap_count > 0)
            sink(network, last);
        go_on(network, nearest);
    }
}

static double way_to(const struct network *network, const struct nearest *from,
                     const struct nearest *to)
{
    size_t before, after;
    beside(network, to, &before, &after);
    const double way_m =
        fmin(network->stops[before].way_m +
                 fw_point_apart_m(network->stops[before].at, to->at),
             network->stops[after].way_m +
                 fw_point_apart_m(network->stops[after].at, to->at));
    /* Both on one piece, whatever stops there are. */
    return from->piece == to->piece
               ? fmin(way_m, fw_point_apart_m(from->at, to->at))
               : way_m;
}

enum fw_status fw_water_roads_way(const struct fw_roads *roads,
                                  const struct fw_point *sources, size_t count,
                                  struct fw_point gate,
                                  struct fw_roads_way *out,
                                  struct fw_error *err)
{
    struct network network;
    struct fw_roads_way best = {.way_m = HUGE_VAL};
    enum fw_status status = FW_OK;
    if (roads->count > 0 && count > 0) {
        status = init(&network, roads, err);
        for (size_t i = 0; !status && i < count; i++) {
            const struct nearest from = foot_of(&network, sources[i], false);
            search(&network, &from);
            const struct nearest to = foot_of(&network, gate, true);
            const double way_m =
                from.gap_m + way_to(&network, &from, &to) + to.gap_m;
            if (way_m < best.way_m)
                best = (struct fw_roads_way){true,     way_m, from.gap_m,
                                             to.gap_m, to.at, i};
        }
        if (!status)
            release(&network);
    }
    if (!status)
        *out = best.known ? best : (struct fw_roads_way){0};
    return status;
}
