/* Where a disc fits. The places for its centre, at least its radius from every
 * edge, make shapes with sides along the edges and hollow arcs about corners
 * that jut into the ground; such a shape has points, where the disc touches
 * two of them at once. So it is enough to look at those. */
#include "geo/ways_inner.h"

struct fitting {
    const struct fw_ways_edges *edges;
    const struct fw_ways_parts *parts;
    size_t part;
    double radius_m;
};

static bool is_inside(const struct fitting *fitting, struct fw_point place)
{
    const struct fw_ways_parts *parts = fitting->parts;
    bool inside = false;
    for (size_t r = 0; r < parts->ring_count; r++)
        if (parts->part[r] == fitting->part &&
            fw_ring_contains(parts->points + parts->ring_start[r],
                             parts->ring_start[r + 1] - parts->ring_start[r],
                             place))
            inside = !inside;
    return inside;
}

static bool is_free(const struct fitting *fitting, struct fw_point place)
{
    return !fw_ways__is_near(fitting->edges, place,
                             fitting->radius_m - FW_WAYS_TINY_M) &&
           is_inside(fitting, place);
}

/* On the line beside an edge, so far along: is that beside the edge at all? */
static bool is_beside(const struct fitting *fitting, size_t edge,
                      double along_m)
{
    return along_m >= -FW_WAYS_TINY_M &&
           along_m <= fitting->edges->length_m[edge] + FW_WAYS_TINY_M;
}

static struct fw_point beside(const struct fitting *fitting, size_t edge,
                              double along_m)
{
    const struct fw_point at = fitting->edges->at[edge];
    const struct fw_point u = fitting->edges->along[edge];
    return (struct fw_point){
        at.x_m + along_m * u.x_m - fitting->radius_m * u.y_m,
        at.y_m + along_m * u.y_m + fitting->radius_m * u.x_m};
}

/* The disc touches both edges. */
static bool between_edges(const struct fitting *fitting, size_t one,
                          size_t other)
{
    const struct fw_ways_edges *edges = fitting->edges;
    const struct fw_point u = edges->along[one], v = edges->along[other];
    const double turn = fw_ways__cross(u, v);
    if (fabs(turn) < 1e-12)
        return false;
    const struct fw_point gap =
        fw_ways__less(beside(fitting, other, 0), beside(fitting, one, 0));
    const double along_m = fw_ways__cross(gap, v) / turn;
    return is_beside(fitting, one, along_m) &&
           is_beside(fitting, other, fw_ways__cross(gap, u) / turn) &&
           is_free(fitting, beside(fitting, one, along_m));
}

/* The disc touches an edge and a corner. */
static bool at_corner(const struct fitting *fitting, size_t edge, size_t corner)
{
    const struct fw_ways_edges *edges = fitting->edges;
    const struct fw_point from =
        fw_ways__less(edges->at[corner], beside(fitting, edge, 0));
    const double off_m = fw_ways__cross(edges->along[edge], from);
    const double along_m = fw_ways__dot(edges->along[edge], from);
    if (!(fabs(off_m) < fitting->radius_m))
        return false;
    const double half_m =
        sqrt((fitting->radius_m - off_m) * (fitting->radius_m + off_m));
    for (int side = -1; side <= 1; side += 2)
        if (is_beside(fitting, edge, along_m + side * half_m) &&
            is_free(fitting, beside(fitting, edge, along_m + side * half_m)))
            return true;
    return false;
}

/* The disc touches two corners. */
static bool between_corners(const struct fitting *fitting, size_t one,
                            size_t other)
{
    const struct fw_ways_edges *edges = fitting->edges;
    const struct fw_point a = edges->at[one];
    const struct fw_point way = fw_ways__less(edges->at[other], a);
    const double square = fw_ways__dot(way, way);
    const double radius_m = fitting->radius_m;
    if (!(square > 0) || square > 4 * radius_m * radius_m)
        return false;
    const double out = sqrt(radius_m * radius_m / square - 0.25);
    for (int side = -1; side <= 1; side += 2)
        if (is_free(fitting, (struct fw_point){
                                 a.x_m + way.x_m / 2 - side * out * way.y_m,
                                 a.y_m + way.y_m / 2 + side * out * way.x_m}))
            return true;
    return false;
}

static bool fits_at_edge(const struct fitting *fitting, size_t edge)
{
    const struct fw_ways_edges *edges = fitting->edges;
    struct fw_ways_seek look =
        fw_ways__seek(edges, edges->at[edge], edges->at[edges->next[edge]],
                      2 * fitting->radius_m);
    size_t other;
    while (fw_ways__seek_next(&look, &other)) {
        if (other == edge)
            continue;
        if (between_edges(fitting, edge, other))
            return true;
        if (edges->next[edge] != other && fw_ways__juts(edges, other) &&
            at_corner(fitting, edge, other))
            return true;
    }
    return false;
}

static bool fits_at_corner(const struct fitting *fitting, size_t corner)
{
    const struct fw_ways_edges *edges = fitting->edges;
    const struct fw_point at = edges->at[corner];
    if (!fw_ways__juts(edges, corner))
        return false;
    struct fw_ways_seek look =
        fw_ways__seek(edges, at, at, 2 * fitting->radius_m);
    size_t other;
    while (fw_ways__seek_next(&look, &other))
        if (other != corner && fw_ways__juts(edges, other) &&
            between_corners(fitting, corner, other))
            return true;
    return false;
}

bool fw_ways__fits(const struct fw_ways_edges *edges,
                   const struct fw_ways_parts *parts, size_t part,
                   double radius_m)
{
    const struct fitting fitting = {edges, parts, part, radius_m};
    for (size_t r = 0; r < parts->ring_count; r++) {
        if (parts->part[r] != part)
            continue;
        for (size_t i = parts->ring_start[r]; i < parts->ring_start[r + 1]; i++)
            if (parts->edge[i] != SIZE_MAX &&
                (fits_at_edge(&fitting, parts->edge[i]) ||
                 fits_at_corner(&fitting, parts->edge[i]) ||
                 fits_at_corner(&fitting, edges->next[parts->edge[i]])))
                return true;
    }
    return false;
}
