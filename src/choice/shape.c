/* How long ground is for its width, and the least fence that parts it. */
#include "choice/job.h"
#include "figures/mark.h"
#include "geo/points.h"

#include <math.h>

/* Length over width of the narrowest box round the ring that lies along one of
 * its sides: a convex outline's narrowest box always does. */
static double box_ratio(const struct fw_point *ring, size_t count)
{
    double narrowest = (double)INFINITY, ratio = 1;
    for (size_t i = 0; i < count; i++) {
        const struct fw_point a = ring[i], b = ring[(i + 1) % count];
        const double side = fw_point_apart_m(b, a);
        if (!(side > FW_TOLERANCE(1e-6)))
            continue;
        const double ux = (b.x_m - a.x_m) / side, uy = (b.y_m - a.y_m) / side;
        double least_u = (double)INFINITY, most_u = -(double)INFINITY;
        double least_v = (double)INFINITY, most_v = -(double)INFINITY;
        for (size_t k = 0; k < count; k++) {
            const double u = ring[k].x_m * ux + ring[k].y_m * uy;
            const double v = ring[k].y_m * ux - ring[k].x_m * uy;
            least_u = fmin(least_u, u);
            most_u = fmax(most_u, u);
            least_v = fmin(least_v, v);
            most_v = fmax(most_v, v);
        }
        const double across = most_v - least_v, along = most_u - least_u;
        if (fmin(across, along) < narrowest) {
            narrowest = fmin(across, along);
            ratio = fmax(across, along) / narrowest;
        }
    }
    return ratio;
}

/* Trying each side against each vertex is too much for a ragged shore: its
 * outline is thinned first. */
double fw_plan__elongation(const struct fw_point *ring, size_t count)
{
    enum { most = FW_EFFORT(200) };
    struct fw_point thin[most];
    if (count <= most)
        return box_ratio(ring, count);
    for (size_t i = 0; i < most; i++)
        thin[i] = ring[i * count / most];
    return box_ratio(thin, most);
}

/* Common ground counts as a hole would. */
double fw_plan__bound_m(const struct fw_field *shape,
                        const struct fw_layout *layout)
{
    size_t input = 0; /* bow points bend no side as far as the bound goes */
    for (size_t i = 0; i < shape->vertex_count; i++)
        input += shape->vertices[i].kind == FW_VERTEX_INPUT;
    return fw_layout_bound_m(layout->paddock_m2, layout->paddock_count,
                             shape->perimeter_m + shape->holes_m, input,
                             shape->ring_count - 1 + layout->common_count);
}
