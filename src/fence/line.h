/* A line made ready for setting posts along it. */
#ifndef FW_FENCE_LINE_H
#define FW_FENCE_LINE_H

#include "fence/fence.h"

#include "figures/mark.h"

/* Points less than a micrometre apart are one. A closed line is turned round
 * so that it starts at its first sharp bend, where a post stands whatever the
 * rest looks like, and ends on its first point again. */
struct fw_fence__line {
    struct fw_point *points;
    double *at_m; /* of each point, from points[0] */
    size_t count; /* 2 or more */
    bool closed;
    double length_m;
    double offset_m; /* of points[0] from the first point as it came */

    /* Where posts must stand: mark_count + 1 rising places, the two ends (or
     * the start and the start again) and the bends between them. */
    double *marks;
    size_t mark_count;
};

/* FW_EFAULT: the line has no length or is not finite. */
enum fw_status fw_fence__line_new(const struct fw_point *points, size_t count,
                                  bool closed, double bend_deg,
                                  struct fw_fence__line *out,
                                  struct fw_error *err);
void fw_fence__line_release(struct fw_fence__line *line);

/* The points of a ring, not closed, that a fence keeps to so that no other is
 * farther off it than that: out has room for all of them. Under a micrometre
 * apart they are one. */
enum fw_status fw_fence__follow(const struct fw_point *points, size_t count,
                                double tolerance_m, struct fw_point *out,
                                size_t *kept, struct fw_error *err);

struct fw_point fw_fence__line_point(const struct fw_fence__line *line,
                                     double at_m);

/* FW_EINPUT: a value of the spec is out of its range. */
enum fw_status fw_fence__check(const struct fw_fence_spec *spec,
                               struct fw_error *err);

/* At b, on the way from a to c: anticlockwise positive, -180 to 180. */
double fw_fence__turn_deg(struct fw_point a, struct fw_point b,
                          struct fw_point c);

/* How many pieces of at most piece_m make up length_m; 1 or more. */
double fw_fence__pieces(double length_m, double piece_m);

/* No farm needs this many of anything in one line; a larger count means bad
 * input, and would not fit an int. */
#define FW_FENCE__MOST FW_BOUND(1000000.0)

#endif
