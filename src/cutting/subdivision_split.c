/* One line across a region, straight or bent, from edge to edge. */
#include "base/alloc.h"
#include "base/fail.h"
#include "cutting/subdivision_inner.h"
#include "figures/mark.h"

#include <string.h>

struct ring {
    size_t *vertices, *supports;
    size_t count;
};

struct scratch {
    struct fw_subdivision *subdivision;
    const struct fw_region *region;
    const struct fw_split *split;
    struct ring path; /* the line, and the support after each vertex */
    struct ring ring; /* of the part in hand */
};

static size_t outer_next(const struct fw_region *region, size_t side)
{
    return side + 1 < region->ring_start[1] ? side + 1 : 0;
}

static enum fw_status add_end(const struct scratch *work,
                              struct fw_region_station place, size_t *out,
                              struct fw_error *err)
{
    const struct fw_region *region = work->region;
    const size_t a = region->vertices[place.side];
    const size_t b = region->vertices[outer_next(region, place.side)];
    const struct fw_point p = work->subdivision->vertices[a].point;
    const struct fw_point q = work->subdivision->vertices[b].point;
    const struct fw_point at = {p.x_m + (q.x_m - p.x_m) * place.t,
                                p.y_m + (q.y_m - p.y_m) * place.t};
    return fw_subdivision__add(
        work->subdivision,
        (struct fw_subdivision_piece){region->supports[place.side], a, b},
        place.t, at, out, err);
}

static enum fw_status make_path(struct scratch *work, struct fw_error *err)
{
    struct fw_subdivision *subdivision = work->subdivision;
    const struct fw_split *split = work->split;
    size_t *vertices = work->path.vertices;
    enum fw_status status = add_end(work, split->from, &vertices[0], err);
    for (size_t i = 0; !status && i < split->by_count; i++)
        status = fw_subdivision__add(
            subdivision,
            (struct fw_subdivision_piece){FW_INSIDE, vertices[0], vertices[0]},
            0, split->by[i], &vertices[i + 1], err);
    if (!status)
        status = add_end(work, split->to, &vertices[split->by_count + 1], err);
    for (size_t i = 0; !status && i + 1 < work->path.count; i++)
        status =
            fw_subdivision__support(subdivision, vertices[i], vertices[i + 1],
                                    &work->path.supports[i], err);
    return status ? status
                  : fw_subdivision__line(subdivision, split->role,
                                         work->path.supports[0],
                                         work->path.count - 1, err);
}

static void put(struct ring *ring, size_t vertex, size_t support)
{
    if (ring->count > 0 && ring->vertices[ring->count - 1] == vertex)
        ring->count--; /* no side between two names of one place */
    ring->vertices[ring->count] = vertex;
    ring->supports[ring->count++] = support;
}

/* Along the outer ring from one place to another, the last one left out. */
static void walk(const struct fw_region *region, size_t from_vertex,
                 struct fw_region_station from, size_t to_vertex,
                 struct fw_region_station to, struct ring *ring)
{
    put(ring, from_vertex, region->supports[from.side]);
    bool round = from.side == to.side && from.t <= to.t;
    for (size_t side = from.side; !round;) {
        side = outer_next(region, side);
        put(ring, region->vertices[side], region->supports[side]);
        round = side == to.side;
    }
    if (ring->vertices[ring->count - 1] == to_vertex)
        ring->count--;
}

static enum fw_status take_part(const struct scratch *work,
                                struct fw_region *out, struct fw_error *err)
{
    const struct fw_subdivision *subdivision = work->subdivision;
    const struct fw_region *region = work->region;
    const struct ring *ring = &work->ring;
    struct fw_point *points = fw_alloc(ring->count, sizeof *points);
    struct fw_point *all = fw_subdivision_points(subdivision, region);
    struct fw_region part = {0};
    enum fw_status status =
        points && all
            ? fw_region_new(&part, ring->count + fw_region_size(region),
                            region->ring_count, err)
            : fw_fail_memory(err);
    if (status)
        goto done;
    for (size_t i = 0; i < ring->count; i++)
        points[i] = subdivision->vertices[ring->vertices[i]].point;
    memcpy(part.vertices, ring->vertices, ring->count * sizeof(size_t));
    memcpy(part.supports, ring->supports, ring->count * sizeof(size_t));
    size_t n = ring->count, rings = 1;
    part.ring_start[1] = n;
    for (size_t r = 1; r < region->ring_count; r++) {
        const size_t first = region->ring_start[r];
        const size_t count = region->ring_start[r + 1] - first;
        if (!fw_subdivision__within(all + first, count, points, ring->count))
            continue;
        memcpy(part.vertices + n, region->vertices + first,
               count * sizeof(size_t));
        memcpy(part.supports + n, region->supports + first,
               count * sizeof(size_t));
        n += count;
        part.ring_start[++rings] = n;
    }
    part.ring_count = rings;
    *out = part;
done:
    fw_free(points);
    fw_free(all);
    return status;
}

static enum fw_status take_left(struct scratch *work, struct fw_region *out,
                                struct fw_error *err)
{
    const struct ring *path = &work->path;
    const size_t end = path->count - 1;
    work->ring.count = 0;
    for (size_t i = 0; i < end; i++)
        put(&work->ring, path->vertices[i], path->supports[i]);
    walk(work->region, path->vertices[end], work->split->to, path->vertices[0],
         work->split->from, &work->ring);
    return take_part(work, out, err);
}

static enum fw_status take_right(struct scratch *work, struct fw_region *out,
                                 struct fw_error *err)
{
    const struct ring *path = &work->path;
    const size_t end = path->count - 1;
    work->ring.count = 0;
    walk(work->region, path->vertices[0], work->split->from,
         path->vertices[end], work->split->to, &work->ring);
    for (size_t i = end; i > 0; i--)
        put(&work->ring, path->vertices[i], path->supports[i - 1]);
    return take_part(work, out, err);
}

static struct ring room_for(size_t count)
{
    return (struct ring){fw_alloc(count, sizeof(size_t)),
                         fw_alloc(count, sizeof(size_t)), count};
}

static void free_room(const struct ring *ring)
{
    fw_free(ring->vertices);
    fw_free(ring->supports);
}

enum fw_status fw_subdivision_split(struct fw_subdivision *subdivision,
                                    const struct fw_region *region,
                                    const struct fw_split *split,
                                    struct fw_region parts[2],
                                    struct fw_error *err)
{
    struct scratch work = {.subdivision = subdivision,
                           .region = region,
                           .split = split,
                           .path = room_for(split->by_count + 2),
                           .ring = room_for(fw_region_size(region) +
                                            split->by_count + FW_EFFORT(4))};
    enum fw_status status = work.path.vertices && work.path.supports &&
                                    work.ring.vertices && work.ring.supports
                                ? make_path(&work, err)
                                : fw_fail_memory(err);
    if (!status)
        status = take_left(&work, &parts[0], err);
    if (!status) {
        status = take_right(&work, &parts[1], err);
        if (status)
            fw_region_release(&parts[0]);
    }
    free_room(&work.path);
    free_room(&work.ring);
    return status;
}
