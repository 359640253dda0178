/* Strips along the contour: the surface, its lines, and their exact places. */
#ifndef FW_LAYOUT_CONTOUR_H
#define FW_LAYOUT_CONTOUR_H

#include "cutting/contour.h"
#include "layout/pattern.h"

/* Heights at the nodes of a square grid over a field, flat in triangles. */
struct fw_surface {
    const struct fw_field *field;
    const struct fw_raster *heights;
    struct fw_point origin;
    double step_m;
    size_t columns, rows; /* of nodes */
    double *height_m;     /* NaN: none */
    double *weight;       /* of the ground about a node; 0: outside */
    double range_m;       /* from the lowest to the highest ground */
    double mean_slope;    /* rise over run */
    double uphill_deg;    /* on the whole, anticlockwise from east */
};

/* sign -1 turns the surface upside down: its lowest ground is the highest. A
 * node inside without a height makes the range 0. */
enum fw_status fw_surface_new(const struct fw_layout_request *request,
                              double sign, struct fw_surface *out,
                              struct fw_error *err);
void fw_surface_release(struct fw_surface *surface);

/* Heights below which these shares (rising, 0 to 1) of the ground lie, to a
 * node. */
enum fw_status fw_surface_levels(const struct fw_surface *surface,
                                 const double *share, size_t count,
                                 double *level_m, struct fw_error *err);

/* A level's longest run inside the field, lower ground to its left; free the
 * points with fw_free. Closed lines are no runs. None: count 0. */
enum fw_status fw_surface_trace(const struct fw_surface *surface,
                                double level_m, struct fw_point **points,
                                size_t *count, struct fw_error *err);

#endif
