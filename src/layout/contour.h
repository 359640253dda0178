/* Strips along the contour: the surface, its lines, and their exact places. */
#ifndef FW_LAYOUT_CONTOUR_H
#define FW_LAYOUT_CONTOUR_H

#include "layout/pattern.h"

#include "figures/mark.h"

enum { FW_MOST_BENDS = FW_EFFORT(4), FW_MOST_CONTOUR = FW_MOST_BENDS + 2 };

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

/* A line with few bends. Its ends are carried on, straight, to the edge. */
struct fw_contour {
    struct fw_point at[FW_MOST_CONTOUR];
    size_t count;
};

/* The run with `bends` bends at most: each one where the line so far is
 * farthest off, until none is off by more than tolerance_m. */
struct fw_contour fw_contour_simplify(const struct fw_point *run, size_t count,
                                      size_t bends, double tolerance_m);

/* Where a contour meets the edge of a region. */
struct fw_contour_fit {
    struct fw_contour line; /* from edge to edge */
    struct fw_region_place from, to;
};

/* What is asked of a line. */
struct fw_contour_wish {
    double holds;   /* to its left, of the region */
    double slack_m; /* it may be moved by so much, and a strip's width */
    double clear_m; /* it keeps that far from lines and corners */
};

/* Move the contour, square to the way from its first to its last point, until
 * its left holds what it should. *fits false: there is no such place inside
 * the region that is clear of holes, of other lines and of itself. */
enum fw_status fw_contour_settle(const struct fw_board *board,
                                 const struct fw_region *region,
                                 const struct fw_contour *contour,
                                 const struct fw_contour_wish *wish,
                                 struct fw_contour_fit *out, bool *fits,
                                 struct fw_error *err);

#endif
