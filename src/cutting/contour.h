/* A line with few bends across a region, and its exact place. */
#ifndef FW_CUTTING_CONTOUR_H
#define FW_CUTTING_CONTOUR_H

#include "cutting/subdivision.h"

#include "figures/mark.h"

enum { FW_MOST_BENDS = FW_EFFORT(4), FW_MOST_CONTOUR = FW_MOST_BENDS + 2 };

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
    struct fw_region_station from, to;
};

/* What is asked of a line. */
struct fw_contour_wish {
    double holds;   /* to its left, of the region */
    double slack_m; /* it may be moved by so much, and a strip's width */
    double clear_m; /* it keeps that far from lines and corners */
};

/* Move out's line, square to the way from its first to its last point, until
 * its left holds what it should. *fits false: there is no such place inside
 * the region that is clear of holes, of other lines and of itself. */
enum fw_status fw_contour_settle(const struct fw_subdivision *subdivision,
                                 const struct fw_region *region,
                                 const struct fw_contour_wish *wish,
                                 struct fw_contour_fit *out, bool *fits,
                                 struct fw_error *err);

#endif
