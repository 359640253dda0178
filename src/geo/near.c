/* Does a mark of a map lie at a piece of ground? */
#include "geo/geo.h"

struct ring {
    const struct fw_point *points;
    size_t count;
    bool closed;
};

static bool is_left(struct fw_point a, struct fw_point b, struct fw_point c)
{
    return (b.x_m - a.x_m) * (c.y_m - a.y_m) >
           (b.y_m - a.y_m) * (c.x_m - a.x_m);
}

/* When two pieces do not cross, an end of one is nearest to the other. */
static bool pieces_touch(const struct fw_point a[2], const struct fw_point c[2],
                         double reach_m)
{
    if (is_left(a[0], a[1], c[0]) != is_left(a[0], a[1], c[1]) &&
        is_left(c[0], c[1], a[0]) != is_left(c[0], c[1], a[1]))
        return true;
    return fw_segment_distance_m(a[0], c[0], c[1]) <= reach_m ||
           fw_segment_distance_m(a[1], c[0], c[1]) <= reach_m ||
           fw_segment_distance_m(c[0], a[0], a[1]) <= reach_m ||
           fw_segment_distance_m(c[1], a[0], a[1]) <= reach_m;
}

static size_t pieces_of(const struct ring *ring)
{
    return ring->closed || ring->count == 1 ? ring->count : ring->count - 1;
}

static bool rings_touch(const struct ring *a, const struct ring *b,
                        double reach_m)
{
    for (size_t i = 0; i < pieces_of(a); i++)
        for (size_t k = 0; k < pieces_of(b); k++) {
            const struct fw_point one[2] = {a->points[i],
                                            a->points[(i + 1) % a->count]};
            const struct fw_point other[2] = {b->points[k],
                                              b->points[(k + 1) % b->count]};
            if (pieces_touch(one, other, reach_m))
                return true;
        }
    return false;
}

/* Rings within rings are holes. */
static bool contains(const struct fw_area *area, struct fw_point point)
{
    bool inside = false;
    for (size_t r = 0; r < area->ring_count; r++)
        inside ^= fw_ring_contains(
            area->points + area->ring_start[r],
            area->ring_start[r + 1] - area->ring_start[r], point);
    return inside;
}

bool fw_area_is_at(const struct fw_area *mark, bool is_area,
                   const struct fw_point *ring, size_t count, double reach_m)
{
    const struct ring ground = {ring, count, true};
    for (size_t r = 0; r < mark->ring_count; r++) {
        const size_t first = mark->ring_start[r];
        const struct ring part = {mark->points + first,
                                  mark->ring_start[r + 1] - first, is_area};
        if (part.count == 0)
            continue;
        if (fw_ring_contains(ring, count, part.points[0]) ||
            rings_touch(&part, &ground, reach_m))
            return true;
    }
    return is_area && contains(mark, ring[0]);
}
