/* The way from rings to a neck: ways_edges.c puts the edges in order and finds
 * those near a place, ways_cuts.c the narrow places, ways_parts.c takes the
 * ground apart there and sees where a disc fits, ways_neck.c decides. */
#ifndef FW_GEO_WAYS_INNER_H
#define FW_GEO_WAYS_INNER_H

#include "geo/ways.h"
#include <math.h>
#include <stdint.h>

/* Points of a ring that are nearer to each other are one: no survey tells
 * them apart, and the side between them has no direction. */
#define FW_WAYS_SAME_M 1e-7
/* What coordinates of some kilometres lose in a sum. */
#define FW_WAYS_TINY_M 1e-9

/* ---- edges ---- */

struct fw_ways_box {
    double low_x, low_y, high_x, high_y;
};

/* Edge i runs from at[i] to at[next[i]], the ground on its left. */
struct fw_ways_edges {
    size_t count;
    struct fw_point *at;
    struct fw_point *along; /* unit vectors */
    double *length_m;
    size_t *next, *before;
    size_t *ring_start; /* ring_count + 1 */
    size_t ring_count;
    double area_m2;
    /* A heap of boxes over fw_ways_leaf edges each: the children of k are 2 k
     * and 2 k + 1, the leaves begin at `leaves`. */
    struct fw_ways_box *boxes;
    size_t leaves;
};

enum { fw_ways_leaf = 4 };

enum fw_status fw_ways__edges(struct fw_ways_edges *edges,
                              const struct fw_point *points,
                              const size_t *ring_start, size_t ring_count,
                              struct fw_error *err);
void fw_ways__edges_release(struct fw_ways_edges *edges);

/* Has the ground a corner there that juts into it, or none at all? */
bool fw_ways__juts(const struct fw_ways_edges *edges, size_t vertex);

/* Is any edge nearer to the place than so much? */
bool fw_ways__is_near(const struct fw_ways_edges *edges, struct fw_point place,
                      double near_m);

/* A walk over the edges whose blocks meet a box. */
struct fw_ways_seek {
    const struct fw_ways_edges *edges;
    struct fw_ways_box box;
    size_t node, edge, end;
};

static inline struct fw_ways_seek
fw_ways__seek(const struct fw_ways_edges *edges, struct fw_point a,
              struct fw_point b, double wider_m)
{
    return (struct fw_ways_seek){
        .edges = edges,
        .box = {fmin(a.x_m, b.x_m) - wider_m, fmin(a.y_m, b.y_m) - wider_m,
                fmax(a.x_m, b.x_m) + wider_m, fmax(a.y_m, b.y_m) + wider_m},
        .node = 1,
    };
}

/* The next edge, or false. */
bool fw_ways__seek_next(struct fw_ways_seek *look, size_t *edge);

static inline struct fw_point fw_ways__less(struct fw_point a,
                                            struct fw_point b)
{
    return (struct fw_point){a.x_m - b.x_m, a.y_m - b.y_m};
}

static inline double fw_ways__dot(struct fw_point a, struct fw_point b)
{
    return a.x_m * b.x_m + a.y_m * b.y_m;
}

static inline double fw_ways__cross(struct fw_point a, struct fw_point b)
{
    return a.x_m * b.y_m - a.y_m * b.x_m;
}

/* ---- narrow places ---- */

/* An end stands on an edge, so many metres from its start. */
struct fw_ways_end {
    size_t edge;
    double along_m;
    struct fw_point at;
    double turn; /* clockwise from where the ring comes from, to the cut */
    size_t cut;
};

struct fw_ways_cut {
    struct fw_ways_end ends[2];
    struct fw_point middle;
    double width_m;
};

struct fw_ways_cuts { /* starts as {0} */
    struct fw_ways_cut *items;
    size_t count, capacity;
};

/* The narrowest places of the ways narrower than wide_m: segments from edge to
 * edge whose circle, with the segment as its diameter, has no edge within. No
 * two cross. */
enum fw_status fw_ways__cuts(const struct fw_ways_edges *edges, double wide_m,
                             struct fw_ways_cuts *out, struct fw_error *err);

/* ---- parts ---- */

/* Rings of the parts, each with its part's number; the outer one of part p is
 * ring p, and its ground lies on the left. */
struct fw_ways_parts {
    struct fw_point *points;
    size_t *edge; /* on which the side from that point lies; SIZE_MAX: a cut */
    size_t *ring_start;
    size_t *part;
    double *area_m2; /* of parts; of other rings 0 */
    size_t ring_count;
    size_t (*sides)[2]; /* the parts on either side of each cut */
};

enum fw_status fw_ways__parts(const struct fw_ways_edges *edges,
                              const struct fw_ways_cuts *cuts,
                              struct fw_ways_parts *out, struct fw_error *err);
void fw_ways__parts_release(struct fw_ways_parts *parts);

/* Does a disc of that radius fit into the part? Its centre lies in it, its rim
 * may reach over a cut. */
bool fw_ways__fits(const struct fw_ways_edges *edges,
                   const struct fw_ways_parts *parts, size_t part,
                   double radius_m);

#endif
