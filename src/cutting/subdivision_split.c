/* One line across a region, straight or bent, from edge to edge. */
#include "base/alloc.h"
#include "base/fail.h"
#include "cutting/subdivision_inner.h"
#include "figures/mark.h"

#include <string.h>

struct path { /* vertices along the line, and the support after each */
    size_t *vertices, *supports;
    size_t count;
};

static size_t outer_next(const struct fw_region *region, size_t side)
{
    return side + 1 < region->ring_start[1] ? side + 1 : 0;
}

static enum fw_status add_end(struct fw_subdivision *subdivision,
                              const struct fw_region *region,
                              struct fw_region_place place, size_t *out,
                              struct fw_error *err)
{
    const size_t a = region->vertices[place.side];
    const size_t b = region->vertices[outer_next(region, place.side)];
    const struct fw_point p = subdivision->vertices[a].point;
    const struct fw_point q = subdivision->vertices[b].point;
    const struct fw_point at = {p.x_m + (q.x_m - p.x_m) * place.t,
                                p.y_m + (q.y_m - p.y_m) * place.t};
    return fw_subdivision__add(subdivision, region->supports[place.side], a, b,
                               place.t, at, out, err);
}

static enum fw_status
make_path(struct fw_subdivision *subdivision, const struct fw_region *region,
          struct fw_region_place from, struct fw_region_place to,
          const struct fw_point *by, size_t by_count, enum fw_line_role role,
          struct path *path, struct fw_error *err)
{
    path->count = by_count + 2;
    path->vertices = fw_alloc(path->count, sizeof *path->vertices);
    path->supports = fw_alloc(path->count, sizeof *path->supports);
    if (!path->vertices || !path->supports)
        return fw_fail_memory(err);
    enum fw_status status =
        add_end(subdivision, region, from, &path->vertices[0], err);
    for (size_t i = 0; !status && i < by_count; i++)
        status = fw_subdivision__add(subdivision, FW_INSIDE, path->vertices[0],
                                     path->vertices[0], 0, by[i],
                                     &path->vertices[i + 1], err);
    if (!status)
        status = add_end(subdivision, region, to, &path->vertices[by_count + 1],
                         err);
    for (size_t i = 0; !status && i + 1 < path->count; i++)
        status = fw_subdivision__support(subdivision, path->vertices[i],
                                         path->vertices[i + 1],
                                         &path->supports[i], err);
    return status ? status
                  : fw_subdivision__line(subdivision, role, path->supports[0],
                                         path->count - 1, err);
}

struct ring {
    size_t *vertices, *supports;
    size_t count;
};

static void put(struct ring *ring, size_t vertex, size_t support)
{
    if (ring->count > 0 && ring->vertices[ring->count - 1] == vertex)
        ring->count--; /* no side between two names of one place */
    ring->vertices[ring->count] = vertex;
    ring->supports[ring->count++] = support;
}

/* Along the outer ring from one place to another, the last one left out. */
static void walk(const struct fw_region *region, size_t from_vertex,
                 struct fw_region_place from, size_t to_vertex,
                 struct fw_region_place to, struct ring *ring)
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

static enum fw_status take_part(const struct fw_subdivision *subdivision,
                                const struct fw_region *region,
                                const struct ring *ring, struct fw_region *out,
                                struct fw_error *err)
{
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

static enum fw_status take_left(const struct fw_subdivision *subdivision,
                                const struct fw_region *region,
                                const struct path *path,
                                struct fw_region_place from,
                                struct fw_region_place to, struct ring *ring,
                                struct fw_region *out, struct fw_error *err)
{
    const size_t end = path->count - 1;
    ring->count = 0;
    for (size_t i = 0; i < end; i++)
        put(ring, path->vertices[i], path->supports[i]);
    walk(region, path->vertices[end], to, path->vertices[0], from, ring);
    return take_part(subdivision, region, ring, out, err);
}

static enum fw_status take_right(const struct fw_subdivision *subdivision,
                                 const struct fw_region *region,
                                 const struct path *path,
                                 struct fw_region_place from,
                                 struct fw_region_place to, struct ring *ring,
                                 struct fw_region *out, struct fw_error *err)
{
    const size_t end = path->count - 1;
    ring->count = 0;
    walk(region, path->vertices[0], from, path->vertices[end], to, ring);
    for (size_t i = end; i > 0; i--)
        put(ring, path->vertices[i], path->supports[i - 1]);
    return take_part(subdivision, region, ring, out, err);
}

enum fw_status fw_subdivision_split(
    struct fw_subdivision *subdivision, const struct fw_region *region,
    struct fw_region_place from, struct fw_region_place to,
    const struct fw_point *by, size_t by_count, enum fw_line_role role,
    struct fw_region parts[2], struct fw_error *err)
{
    struct path path = {0};
    enum fw_status status = make_path(subdivision, region, from, to, by,
                                      by_count, role, &path, err);
    const size_t most = fw_region_size(region) + by_count + FW_EFFORT(4);
    struct ring ring = {fw_alloc(most, sizeof *ring.vertices),
                        fw_alloc(most, sizeof *ring.supports), 0};
    if (!status && (!ring.vertices || !ring.supports))
        status = fw_fail_memory(err);
    if (!status)
        status = take_left(subdivision, region, &path, from, to, &ring,
                           &parts[0], err);
    if (!status) {
        status = take_right(subdivision, region, &path, from, to, &ring,
                            &parts[1], err);
        if (status)
            fw_region_release(&parts[0]);
    }
    fw_free(ring.vertices);
    fw_free(ring.supports);
    fw_free(path.vertices);
    fw_free(path.supports);
    return status;
}
