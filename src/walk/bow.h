/* Where one corner is nearer than another: what nearest.c parts a triangle by.
 */
#ifndef FW_WALK_BOW_H
#define FW_WALK_BOW_H

#include "geo/points.h"
#include "walk/inner.h"

enum {
    FW_WALK__RING_MOST = FW_EFFORT(12), /* corners of a part; with more it is
                                           two */
    FW_WALK__RING_ROOM = FW_EFFORT(48)
};

struct fw_walk__sight { /* a corner that sees some of the triangle */
    struct fw_point root;
    double walked_m;
    double away_m; /* from the triangle's middle, over it */
    const struct fw_walk__piece *piece;
};

struct fw_walk__ring { /* convex */
    struct fw_point of[FW_WALK__RING_ROOM];
    size_t count;
};

/* Two that see the same ground: where the inner one, which is farther from the
 * water, is nearer is convex. */
struct fw_walk__pair {
    const struct fw_walk__sight *inner, *outer;
};

enum fw_walk__place { FW_WALK__WITHIN, FW_WALK__BEYOND, FW_WALK__ON_BOW };

struct fw_walk__crossings { /* round a ring, with the bow's crossings */
    struct fw_point at[FW_WALK__RING_ROOM];
    enum fw_walk__place place[FW_WALK__RING_ROOM];
    size_t count, of[FW_WALK__ON_BOW + 1];
};

static inline double fw_walk__way_m(const struct fw_walk__sight *seen,
                                    struct fw_point at)
{
    return seen->walked_m + fw_point_apart_m(seen->root, at);
}

/* By how much the inner one is nearer. */
static inline double fw_walk__gain_m(const struct fw_walk__pair *pair,
                                     struct fw_point at)
{
    return fw_walk__way_m(pair->outer, at) - fw_walk__way_m(pair->inner, at);
}

/* A place, with by how much the inner one is nearer there. */
struct fw_walk__gain {
    struct fw_point at;
    double m;
};

static inline struct fw_walk__gain
fw_walk__gain_at(const struct fw_walk__pair *pair, struct fw_point at)
{
    return (struct fw_walk__gain){at, fw_walk__gain_m(pair, at)};
}

/* What lies to the left of the ray, and to its right. A ray without a length
 * has all to its left. */
void fw_walk__part(const struct fw_point *ring, size_t count,
                   const struct fw_walk__ray *ray, struct fw_walk__ring *left,
                   struct fw_walk__ring *right);

/* Of a side neither of whose ends is within the bow: is any place of it? */
bool fw_walk__bulges(const struct fw_walk__pair *pair, struct fw_walk__gain a,
                     struct fw_walk__gain b, struct fw_walk__gain *out);

/* Of a ring that has FW_WALK__RING_MOST corners, and as many as two rays make.
 */
void fw_walk__mark_ring(const struct fw_walk__pair *pair,
                        const struct fw_walk__ring *ring,
                        struct fw_walk__crossings *marks);

/* What lies beyond the bow: from one crossing to the next. */
bool fw_walk__begins_run(const struct fw_walk__crossings *marks, size_t i);
size_t fw_walk__take_run(const struct fw_walk__crossings *marks, size_t first,
                         struct fw_walk__ring *run);

/* No more than that is counted by the way that is a little longer, between a
 * chord and its bow. */
double fw_walk__between_m3(const struct fw_walk__pair *pair,
                           struct fw_point from, struct fw_point to);

#endif
