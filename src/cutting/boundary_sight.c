/* Which places of a field's edge see each other. Edges are looked at by boxes
 * around stretches of the walk, and most boxes lie aside. */
#include "base/length.h"
#include "cutting/boundary.h"

#include "figures/layout.h"

#include <math.h>

struct sight {
    const struct fw_boundary *boundary;
    struct fw_boundary_station a, b;
    struct fw_point from, way; /* way of length one */
    double length_m;
};

static double ahead_m(const struct sight *sight, struct fw_point p)
{
    return (p.x_m - sight->from.x_m) * sight->way.x_m +
           (p.y_m - sight->from.y_m) * sight->way.y_m;
}

static double aside_m(const struct sight *sight, struct fw_point p)
{
    return sight->way.x_m * (p.y_m - sight->from.y_m) -
           sight->way.y_m * (p.x_m - sight->from.x_m);
}

/* Does the edge have this place on it? */
static bool has(const struct fw_boundary *boundary, size_t edge,
                struct fw_boundary_station place)
{
    return edge == place.edge ||
           (place.t <= 0 && fw_boundary_next(boundary, edge) == place.edge) ||
           (place.t >= 1 && fw_boundary_next(boundary, place.edge) == edge);
}

static bool left_of(const struct fw_boundary *boundary, size_t edge,
                    struct fw_point way)
{
    const struct fw_point a = boundary->nodes[edge].point;
    const struct fw_point b =
        boundary->nodes[fw_boundary_next(boundary, edge)].point;
    const double x_m = b.x_m - a.x_m, y_m = b.y_m - a.y_m;
    return x_m * way.y_m - y_m * way.x_m > FW_SLIVER_SINE * fw_length(x_m, y_m);
}

static bool leads_in(const struct fw_boundary *boundary,
                     struct fw_boundary_station place, struct fw_point way)
{
    if (place.t > 0 && place.t < 1)
        return left_of(boundary, place.edge, way);
    const size_t node =
        place.t <= 0 ? place.edge : fw_boundary_next(boundary, place.edge);
    const size_t before = (node > 0 ? node : boundary->count) - 1;
    const bool here = left_of(boundary, node, way);
    const bool there = left_of(boundary, before, way);
    return boundary->nodes[node].reflex ? here || there : here && there;
}

static bool lies_aside(const struct sight *sight,
                       const struct fw_boundary_box *box)
{
    const struct fw_point middle = {box->x_m, box->y_m};
    const double across = box->half_x_m * fabs(sight->way.y_m) +
                          box->half_y_m * fabs(sight->way.x_m);
    if (fabs(aside_m(sight, middle)) > across + sight->boundary->clear_m)
        return true;
    const double along = box->half_x_m * fabs(sight->way.x_m) +
                         box->half_y_m * fabs(sight->way.y_m);
    const double ahead = ahead_m(sight, middle);
    return ahead < -along || ahead > sight->length_m + along;
}

/* Of an edge whose ends do not lie on one side of the line. */
static bool crosses(const struct sight *sight, size_t edge, double here_m,
                    double next_m)
{
    if (has(sight->boundary, edge, sight->a) ||
        has(sight->boundary, edge, sight->b))
        return false;
    const struct fw_boundary_node *nodes = sight->boundary->nodes;
    const double from = ahead_m(sight, nodes[edge].point);
    const double to =
        ahead_m(sight, nodes[fw_boundary_next(sight->boundary, edge)].point);
    const double gap = here_m - next_m;
    if (!(fabs(gap) > 0)) /* along the line */
        return fmax(from, to) >= 0 && fmin(from, to) <= sight->length_m;
    const double at = from + (to - from) * here_m / gap;
    return at >= 0 && at <= sight->length_m;
}

/* Of a corner that juts in so near that what lies on its side is pinched off.
 */
static bool pinches(const struct sight *sight, struct fw_point corner)
{
    const double clear_m = sight->boundary->clear_m;
    const double ahead = ahead_m(sight, corner);
    return ahead > clear_m && ahead < sight->length_m - clear_m;
}

/* Most edges lie on one side of the line, and clear of it. */
static bool meets(const struct sight *sight, size_t box)
{
    const struct fw_boundary *boundary = sight->boundary;
    const struct fw_boundary_node *nodes = boundary->nodes;
    size_t edge = box * boundary->box_edges;
    double here_m = aside_m(sight, nodes[edge].point);
    for (size_t i = 0; i < boundary->box_edges && edge < boundary->count;
         i++, edge++) {
        const double next_m =
            aside_m(sight, nodes[fw_boundary_next(boundary, edge)].point);
        const bool aside =
            (here_m > 0 && next_m > 0) || (here_m < 0 && next_m < 0);
        if ((!aside && crosses(sight, edge, here_m, next_m)) ||
            (fabs(here_m) < boundary->clear_m && nodes[edge].reflex &&
             pinches(sight, nodes[edge].point)))
            return true;
        here_m = next_m;
    }
    return false;
}

bool fw_boundary_sees(const struct fw_boundary *boundary,
                      struct fw_boundary_station a,
                      struct fw_boundary_station b)
{
    struct sight sight = {.boundary = boundary, .a = a, .b = b};
    sight.from = fw_boundary_point(boundary, a);
    const struct fw_point to = fw_boundary_point(boundary, b);
    const double x_m = to.x_m - sight.from.x_m, y_m = to.y_m - sight.from.y_m;
    sight.length_m = fw_length(x_m, y_m);
    if (!(sight.length_m > 0))
        return false;
    sight.way = (struct fw_point){x_m / sight.length_m, y_m / sight.length_m};
    const struct fw_point back = {-sight.way.x_m, -sight.way.y_m};
    if (!leads_in(boundary, a, sight.way) || !leads_in(boundary, b, back))
        return false;
    for (size_t i = 0; i < boundary->box_count; i++)
        if (!lies_aside(&sight, &boundary->boxes[i]) && meets(&sight, i))
            return false;
    return true;
}
