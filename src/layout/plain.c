/* Whether a map is still one when its vertices have moved: no ring of a piece
 * crosses itself or another one of it, and its holes lie in it. Then, since
 * all pieces share their sides, none overlaps another. */
#include "layout/pattern.h"

struct map {
    const struct fw_layout *layout;
    const struct fw_field *field;
    const struct fw_point *at;
};

static struct fw_point point(const struct map *map, size_t vertex)
{
    return vertex < map->layout->vertex_count
               ? map->field->vertices[vertex].plane
               : map->at[vertex - map->layout->vertex_count];
}

static bool crosses(struct fw_point a, struct fw_point b, struct fw_point c,
                    struct fw_point d)
{
    const double x = b.x_m - a.x_m, y = b.y_m - a.y_m;
    const double u = d.x_m - c.x_m, v = d.y_m - c.y_m;
    const double c1 = x * (c.y_m - a.y_m) - y * (c.x_m - a.x_m);
    const double d1 = x * (d.y_m - a.y_m) - y * (d.x_m - a.x_m);
    const double a1 = u * (a.y_m - c.y_m) - v * (a.x_m - c.x_m);
    const double b1 = u * (b.y_m - c.y_m) - v * (b.x_m - c.x_m);
    return (c1 > 0) != (d1 > 0) && (a1 > 0) != (b1 > 0);
}

/* Does the side from a to b cross a side of the ring that has no vertex in
 * common with it? */
static bool crosses_ring(const struct map *map, size_t a, size_t b, size_t ring)
{
    const struct fw_layout *layout = map->layout;
    const size_t first = layout->ring_start[ring];
    const size_t end = layout->ring_start[ring + 1];
    const struct fw_point p = point(map, a), q = point(map, b);
    size_t before = layout->ring_vertices[end - 1];
    for (size_t i = first; i < end; i++) {
        const size_t v = layout->ring_vertices[i];
        if (before != a && before != b && v != a && v != b &&
            crosses(p, q, point(map, before), point(map, v)))
            return true;
        before = v;
    }
    return false;
}

/* The field's own sides did not move. */
static bool is_simple(const struct map *map, size_t first, size_t end)
{
    const struct fw_layout *layout = map->layout;
    for (size_t r = first; r < end; r++) {
        size_t before = layout->ring_vertices[layout->ring_start[r + 1] - 1];
        for (size_t i = layout->ring_start[r]; i < layout->ring_start[r + 1];
             i++) {
            const size_t v = layout->ring_vertices[i];
            if (before >= layout->vertex_count || v >= layout->vertex_count)
                for (size_t other = first; other < end; other++)
                    if (crosses_ring(map, before, v, other))
                        return false;
            before = v;
        }
    }
    return true;
}

/* By a ray to the east. */
static bool is_inside(const struct map *map, struct fw_point p, size_t ring)
{
    const struct fw_layout *layout = map->layout;
    const size_t end = layout->ring_start[ring + 1];
    struct fw_point a = point(map, layout->ring_vertices[end - 1]);
    bool inside = false;
    for (size_t i = layout->ring_start[ring]; i < end; i++) {
        const struct fw_point b = point(map, layout->ring_vertices[i]);
        const double turn = (b.x_m - a.x_m) * (p.y_m - a.y_m) -
                            (b.y_m - a.y_m) * (p.x_m - a.x_m);
        if ((a.y_m > p.y_m) != (b.y_m > p.y_m))
            inside ^= (turn > 0) == (b.y_m > a.y_m);
        a = b;
    }
    return inside;
}

/* A hole that crosses the outer ring nowhere may touch it, so the middles of
 * its sides are asked until one is inside. */
static bool holds(const struct map *map, size_t outer, size_t hole)
{
    const struct fw_layout *layout = map->layout;
    const size_t end = layout->ring_start[hole + 1];
    struct fw_point a = point(map, layout->ring_vertices[end - 1]);
    for (size_t i = layout->ring_start[hole]; i < end; i++) {
        const struct fw_point b = point(map, layout->ring_vertices[i]);
        const struct fw_point middle = {(a.x_m + b.x_m) / 2,
                                        (a.y_m + b.y_m) / 2};
        if (is_inside(map, middle, outer))
            return true;
        a = b;
    }
    return false;
}

bool fw_layout__is_plain(const struct fw_layout *layout,
                         const struct fw_field *field,
                         const struct fw_point *at)
{
    const struct map map = {layout, field, at};
    for (size_t p = 0; p < layout->piece_count; p++) {
        const size_t first = layout->piece_ring[p];
        const size_t end = layout->piece_ring[p + 1];
        if (!is_simple(&map, first, end))
            return false;
        for (size_t hole = first + 1; hole < end; hole++)
            if (!holds(&map, first, hole))
                return false;
    }
    return true;
}
