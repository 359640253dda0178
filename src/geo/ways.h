/* Where a flock cannot get through: the narrowest place inside a piece of
 * ground, and how deep the ground is behind an opening. Both are sums on rings
 * in the plane; who must pass, and how wide that one is, the caller knows.
 *
 * Rings are not closed and may run either way; the first is the outer one, the
 * others are holes. ring_start has ring_count + 1 entries. */
#ifndef FW_GEO_WAYS_H
#define FW_GEO_WAYS_H

#include "geo/geo.h"
#include <foldwright/error.h>
#include <stdbool.h>

/* A part of the ground with less than this share of its area is a nook: nobody
 * need get there. */
#define FW_NECK_LEAST_SHARE 0.01

struct fw_neck {
    bool fits;  /* does a disc of diameter wide_m fit anywhere? */
    bool found; /* the members below are 0 otherwise */
    double width_m;
    struct fw_point a, b; /* on the edge, width_m apart */
    double beyond_m2;     /* the smaller of the two sides */
};

/* The narrowest place between two parts of the ground. Places nearer than
 * wide_m / 2 to the edge are closed to a disc of that diameter; where the rest
 * falls into several pieces, there are several parts. A part takes in the
 * ground up to the narrow places about it, and counts from FW_NECK_LEAST_SHARE
 * on. Where several ways lead from one side to the other, the widest of them
 * is the width: a hole that can be passed on one side makes no neck. Of
 * several necks the narrowest is told; beyond_m2 is what its sides have when
 * all ways between them are cut, the one told and those that are narrower.
 * Ground that is nowhere as wide as wide_m has no parts, and no neck: see
 * `fits`.
 * FW_EINPUT: wide_m is not over 0; FW_EFAULT: the ground has no inside. */
enum fw_status fw_ways_neck(const struct fw_point *points,
                            const size_t *ring_start, size_t ring_count,
                            double wide_m, struct fw_neck *out,
                            struct fw_error *err);

/* How deep the ground is behind an opening a-b on its edge: square to the
 * opening and over its whole width, up to the nearest edge, at most deep_m.
 * The opening may lie across corners that are off its line by a centimetre.
 * A side that leaves an end of it at less than a right angle makes that 0,
 * since it stands before that end: whoever can do with less width moves a and
 * b towards each other first. 0 too for an opening without a width. */
double fw_ways_room_m(struct fw_point a, struct fw_point b,
                      const struct fw_point *points, const size_t *ring_start,
                      size_t ring_count, double deep_m);

#endif
