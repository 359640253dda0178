/* Keeping an edge that is straight in its file straight there.
 *
 * Such an edge is a curve in the plane. It is halved, in the file's
 * coordinates, until each leg lies within a millimetre of its chord. All
 * edges go through PROJ together, one round a halving. */
#include "base/alloc.h"
#include "base/array.h"
#include "base/fail.h"
#include "base/length.h"
#include "crs/crs.h"
#include "crs/inner.h"
#include "geo/inner.h"

#include <math.h>
#include <stdlib.h>

/* A leg is judged where it is 0.4 of the way along: there a plain arc is
 * 0.96 of its greatest bow from the chord, and a curve that swings to both
 * sides half of it (and nothing at the middle). The swing grows with the cube
 * of the length: it counts in long legs only. */
static const double judged_at = 0.4;
static const double most_bow_m = 0.0009;
static const double most_bow_of_long_m = 0.0004;
static const double long_m = 1000;

enum { most_rounds = 12 };

struct end {
    double t; /* along the edge as the ring runs */
    struct fw_xy file;
    struct fw_point plane;
};

struct leg {
    size_t edge;
    bool jumps;         /* the edge goes over the antimeridian */
    struct end ends[2]; /* the lesser one in the file first, so that an edge
                           is cut alike whichever way it is walked */
};

struct legs {
    struct leg *items;
    size_t count;
    size_t capacity;
};

struct bowing {
    const struct fw_plane *plane;
    struct fw_crs *crs;
    struct fw_bows *out;
    struct fw_error *err;
    struct legs now, next;
    struct fw_xy *files; /* one a leg of now, and where it is */
    struct fw_lonlat *places;
    size_t room, place_room;
};

static bool is_less(struct fw_xy a, struct fw_xy b)
{
    return a.x != b.x ? a.x < b.x : a.y < b.y;
}

static struct leg whole_edge(const struct fw_vertex *from,
                             const struct fw_vertex *to, size_t edge,
                             double near, double turn)
{
    struct leg leg = {
        .edge = edge,
        .ends = {{.t = 0, .plane = from->plane}, {.t = 1, .plane = to->plane}}};
    leg.ends[0].file =
        (struct fw_xy){fw_unwrap(from->file.x, near, turn), from->file.y};
    leg.ends[1].file =
        (struct fw_xy){fw_unwrap(to->file.x, near, turn), to->file.y};
    leg.jumps =
        leg.ends[0].file.x != from->file.x || leg.ends[1].file.x != to->file.x;
    if (is_less(leg.ends[1].file, leg.ends[0].file)) {
        const struct end kept = leg.ends[0];
        leg.ends[0] = leg.ends[1];
        leg.ends[1] = kept;
    }
    return leg;
}

static enum fw_status all_edges(struct bowing *bowing,
                                const struct fw_vertex *vertices,
                                const size_t *ring_start, size_t ring_count)
{
    const size_t count = ring_start[ring_count];
    const double turn = fw_crs_turn(bowing->crs);
    const double near = vertices[0].file.x;
    const enum fw_status status =
        fw_array_reserve(&bowing->now.items, &bowing->now.capacity, count,
                         sizeof *bowing->now.items, bowing->err);
    if (status)
        return status;
    for (size_t r = 0; r < ring_count; r++)
        for (size_t i = ring_start[r]; i < ring_start[r + 1]; i++) {
            const size_t to = i + 1 < ring_start[r + 1] ? i + 1 : ring_start[r];
            bowing->now.items[bowing->now.count++] =
                whole_edge(&vertices[i], &vertices[to], i, near, turn);
        }
    return FW_OK;
}

/* Fills files and places with the point `share` of the way along each leg. */
static enum fw_status place_all(struct bowing *bowing, double share)
{
    const size_t count = bowing->now.count;
    enum fw_status status =
        fw_array_reserve(&bowing->files, &bowing->room, count,
                         sizeof *bowing->files, bowing->err);
    if (!status)
        status = fw_array_reserve(&bowing->places, &bowing->place_room, count,
                                  sizeof *bowing->places, bowing->err);
    if (status)
        return status;
    for (size_t i = 0; i < count; i++) {
        const struct end *ends = bowing->now.items[i].ends;
        bowing->files[i] = (struct fw_xy){
            ends[0].file.x + share * (ends[1].file.x - ends[0].file.x),
            ends[0].file.y + share * (ends[1].file.y - ends[0].file.y)};
    }
    size_t bad = 0;
    status = fw_crs_to_lonlat(bowing->crs, bowing->files, bowing->places, count,
                              &bad, bowing->err);
    if (status != FW_EINPUT)
        return status;
    return fw_fail(bowing->err, status,
                   "side after vertex %zu leaves its CRS at x %.10g, y %.10g",
                   bowing->now.items[bad].edge + 1, bowing->files[bad].x,
                   bowing->files[bad].y);
}

static bool bows(const struct leg *leg, struct fw_point judged)
{
    const struct fw_point a = leg->ends[0].plane;
    const struct fw_point b = leg->ends[1].plane;
    const bool is_long = fw_length(b.x_m - a.x_m, b.y_m - a.y_m) > long_m;
    return !(fw_segment_distance_m(judged, a, b) <=
             (is_long ? most_bow_of_long_m : most_bow_m));
}

/* Keeps in `now` the legs that bow. */
static enum fw_status keep_bowed(struct bowing *bowing)
{
    const enum fw_status status = place_all(bowing, judged_at);
    if (status)
        return status;
    size_t kept = 0;
    for (size_t i = 0; i < bowing->now.count; i++) {
        const struct leg *leg = &bowing->now.items[i];
        if (bows(leg, fw_plane_forward(bowing->plane, bowing->places[i])))
            bowing->now.items[kept++] = *leg;
    }
    bowing->now.count = kept;
    return FW_OK;
}

static void halve(struct bowing *bowing, size_t index)
{
    const struct leg *leg = &bowing->now.items[index];
    const struct end middle = {
        .t = (leg->ends[0].t + leg->ends[1].t) / 2,
        .file = bowing->files[index],
        .plane = fw_plane_forward(bowing->plane, bowing->places[index])};
    struct fw_bow *bow = &bowing->out->items[bowing->out->count++];
    *bow = (struct fw_bow){.edge = leg->edge,
                           .t = middle.t,
                           .vertex = {.file = middle.file,
                                      .lonlat = bowing->places[index],
                                      .plane = middle.plane,
                                      .kind = FW_VERTEX_BOW}};
    if (leg->jumps)
        bow->vertex.file.x =
            fw_unwrap(middle.file.x, 0, fw_crs_turn(bowing->crs));
    struct leg *halves = bowing->next.items + bowing->next.count;
    halves[0] = *leg;
    halves[0].ends[1] = middle;
    halves[1] = *leg;
    halves[1].ends[0] = middle;
    bowing->next.count += 2;
}

static enum fw_status halve_all(struct bowing *bowing)
{
    const size_t count = bowing->now.count;
    struct fw_bows *out = bowing->out;
    if (out->count + count > FW_MOST_VERTICES)
        return fw_fail(bowing->err, FW_EINPUT,
                       "sides bend so much between their CRS and the ground "
                       "that over %d vertices would be needed; is it the right "
                       "coordinate system for the file?",
                       FW_MOST_VERTICES);
    enum fw_status status = place_all(bowing, 0.5);
    if (!status)
        status =
            fw_array_reserve(&out->items, &out->capacity, out->count + count,
                             sizeof *out->items, bowing->err);
    if (!status)
        status = fw_array_reserve(&bowing->next.items, &bowing->next.capacity,
                                  2 * count, sizeof *bowing->next.items,
                                  bowing->err);
    if (status)
        return status;
    bowing->next.count = 0;
    for (size_t i = 0; i < count; i++)
        halve(bowing, i);
    const struct legs done = bowing->now;
    bowing->now = bowing->next;
    bowing->next = done;
    return FW_OK;
}

static enum fw_status run(struct bowing *bowing)
{
    for (int round = 0; round < most_rounds; round++) {
        enum fw_status status = keep_bowed(bowing);
        if (status || bowing->now.count == 0)
            return status;
        status = halve_all(bowing);
        if (status)
            return status;
    }
    return fw_fail(bowing->err, FW_EINPUT,
                   "side after vertex %zu is no line on the ground; is it the "
                   "right coordinate system for the file?",
                   bowing->now.items[0].edge + 1);
}

static int by_edge(const void *left, const void *right)
{
    const struct fw_bow *a = left;
    const struct fw_bow *b = right;
    if (a->edge != b->edge)
        return a->edge < b->edge ? -1 : 1;
    return a->t < b->t ? -1 : a->t > b->t;
}

enum fw_status fw_bows_find(const struct fw_vertex *vertices,
                            const size_t *ring_start, size_t ring_count,
                            const struct fw_plane *plane, struct fw_crs *crs,
                            struct fw_bows *out, struct fw_error *err)
{
    struct bowing bowing = {.plane = plane, .crs = crs, .out = out, .err = err};
    enum fw_status status =
        all_edges(&bowing, vertices, ring_start, ring_count);
    if (!status)
        status = run(&bowing);
    if (!status && out->count > 0)
        qsort(out->items, out->count, sizeof *out->items, by_edge);
    fw_free(bowing.now.items);
    fw_free(bowing.next.items);
    fw_free(bowing.files);
    fw_free(bowing.places);
    return status;
}
