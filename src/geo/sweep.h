/* The workspace of the exact sweep, shared by the files of it.
 *
 * u runs with the sweep and v across it, to the left. Rounding is met in two
 * places only: a side that rises less than `flat` along u counts as standing
 * on the line, and a vertex within `snap` of a cut counts as lying on it. Both
 * are a few last digits of the coordinates. */
#ifndef FW_GEO_SWEEP_H
#define FW_GEO_SWEEP_H

#include "geo/geo.h"
#include <math.h>
#include <stdint.h>

struct fw_sweep_slab { /* at a vertex, and from there to the next one along u */
    double behind_m2, behind_low_m2; /* area before it, a sum of two */
    double chord_m;                  /* just beyond the vertex */
    double slope;                    /* growth of the chord per metre */
};

struct fw_sweep_crossing { /* a side of the polygon meets a cut */
    uint32_t vertex;       /* index as in struct fw_partition */
    uint32_t partner;      /* crossing at the other end of the fence */
    uint32_t after; /* vertex that the ring comes to next, or FW_SWEEP_NONE
                       when the same side meets another cut first */
    uint32_t walked;
};

struct fw_sweep_end { /* an end of a fence, to be sorted along its cut */
    double v;
    uint32_t crossing;
};

struct fw_sweep_box {
    double least_x_m, least_y_m, most_x_m, most_y_m;
};

struct fw_sweep_ring {
    size_t start, count; /* in the partition's ring_vertices, or in shuffle */
    double area_m2;      /* negative for a hole, 0 when it has no width */
    size_t hole, next;   /* lists of the holes of an outer ring */
    struct fw_sweep_box box;
};

struct fw_sweep_touch { /* a vertex in the middle of another ring's side */
    uint32_t side, vertex;
    double t; /* of the way along */
};

struct fw_sweep_touches { /* in order along the sides */
    struct fw_sweep_touch *items;
    size_t count, capacity;
    size_t vertex_count; /* of the polygon */
};

struct fw_sweep {
    uint32_t given; /* vertices that came with the polygon */
    uint32_t count; /* with those where its sides are touched, which carry the
                       name of the vertex that touches */
    struct fw_point *points;
    uint32_t *after;           /* the vertex at the end of the side as given */
    uint32_t *side_of;         /* the side that each further vertex stands on */
    uint32_t *next, *previous; /* along the edge of the field's inside */
    uint32_t *same; /* the first vertex that stands at the same place */
    uint32_t *ring_of, *ring_first; /* rings as next has them */
    uint32_t ring_count;
    double extent_m, flat_m, snap_m;

    /* of the direction */
    double cos, sin;
    double *u, *v;
    double *slope;   /* dv/du of the side from each vertex, 0 when flat */
    uint32_t *order; /* vertices by u, then by index */
    uint32_t *spare; /* count entries for sorting */
    bool turns_far;  /* the last one put few vertices beside their place */
    struct fw_sweep_slab *slabs;
    double area_m2;

    /* of a build */
    uint32_t *label;          /* paddock of each vertex */
    uint32_t *first_crossing; /* of the side from each vertex; count + 1 */
    uint32_t *seen;           /* where a vertex stands in the ring in hand */
    uint32_t *whole_next;     /* rings that lie in one paddock, as lists */
    bool *crossed;            /* rings that do not */
    uint32_t *whole_first;    /* of each paddock */
    uint32_t *end_start;      /* of each cut, and one past the last */
    uint32_t *entering_count, *leaving_count; /* of each cut, so far */
    size_t cut_capacity;                      /* of the four above */
    struct fw_sweep_crossing *crossings;
    struct fw_sweep_end *entering, *leaving; /* the field, going up a cut */
    struct fw_sweep_end *spare_ends;
    struct fw_sweep_ring *rings; /* of the paddock in hand */
    size_t *shuffle; /* ring vertices on their way to another place */
    size_t crossing_capacity, entering_capacity, leaving_capacity;
    size_t spare_end_capacity, ring_capacity, shuffle_capacity;
};

#define FW_SWEEP_NONE UINT32_MAX

/* Vertices within reach of another ring's side. Free items when done. */
enum fw_status fw_sweep__find_touches(const struct fw_point *points,
                                      const size_t *ring_start,
                                      size_t ring_count, double reach_m,
                                      struct fw_sweep_touches *out,
                                      struct fw_error *err);

/* Where rings touch, let next and previous follow the field's inside. */
enum fw_status fw_sweep__link_touching(struct fw_sweep *sweep,
                                       struct fw_error *err);

/* Put order[] right for the u of now. Cheap when it nearly is. */
void fw_sweep__sort(struct fw_sweep *sweep);

/* Sort the ends of one cut by v, then by crossing. */
void fw_sweep__sort_ends(struct fw_sweep_end *ends, uint32_t count,
                         struct fw_sweep_end *spare);

/* Fill slabs and area. */
void fw_sweep__slabs(struct fw_sweep *sweep);

/* Lay the rings of every paddock into `out`, whose room is made. */
void fw_sweep__walk(struct fw_sweep *sweep, size_t cuts,
                    struct fw_partition *out);

/* Lay out the `count` rings of one paddock, which stand in sweep->rings and
 * in out's ring_vertices from `start`, as its pieces. */
void fw_sweep__pieces(struct fw_sweep *sweep, size_t count, size_t start,
                      struct fw_partition *out);

/* A vertex that stands on the cut at u_m lies beyond it, except
 * - on a side that rises along the cut: such a side has the field behind it,
 *   and would otherwise leave a gap of no width beyond the cut, so that sides
 *   on a cut are boundary and never fence;
 * - at the tip of what lies beyond, which the fence would otherwise pass
 * without noticing that it is touched there. */
static inline bool fw_sweep__stays(const struct fw_sweep *sweep, uint32_t i,
                                   double u_m)
{
    const uint32_t after = sweep->next[i], before = sweep->previous[i];
    const double out_m = sweep->u[after] - u_m, in_m = sweep->u[before] - u_m;
    return (fabs(out_m) <= sweep->snap_m && sweep->v[after] > sweep->v[i]) ||
           (fabs(in_m) <= sweep->snap_m && sweep->v[i] > sweep->v[before]) ||
           (out_m > sweep->snap_m && in_m > sweep->snap_m);
}

static inline struct fw_point fw_sweep__point(const struct fw_sweep *sweep,
                                              const struct fw_partition *out,
                                              size_t vertex)
{
    return vertex < sweep->given ? sweep->points[vertex]
                                 : out->added[vertex - sweep->given].plane;
}

/* The name of a vertex outside of the sweep. */
static inline uint32_t fw_sweep__name(const struct fw_sweep *sweep,
                                      uint32_t vertex)
{
    return vertex < sweep->given ? vertex : sweep->same[vertex];
}

/* The side, as given, that the side from vertex i is part of. */
static inline uint32_t fw_sweep__side(const struct fw_sweep *sweep, uint32_t i)
{
    return i < sweep->given ? i : sweep->side_of[i - sweep->given];
}

/* The end of the side from vertex i that lies on the cut, if one does. Both
 * do, and the labels differ, only at the tip of a spike along the cut: then the
 * end beyond the cut leaves the spike without fence. */
static inline uint32_t fw_sweep__end_on(const struct fw_sweep *sweep,
                                        uint32_t i, double u_m)
{
    const uint32_t next = sweep->next[i];
    const bool from = fabs(sweep->u[i] - u_m) <= sweep->snap_m;
    const bool to = fabs(sweep->u[next] - u_m) <= sweep->snap_m;
    if (from && to)
        return fw_sweep__stays(sweep, next, u_m) ? i : next;
    return to ? next : from ? i : FW_SWEEP_NONE;
}

/* How far along the given side `side` the cut meets it. */
static inline double fw_sweep__along(const struct fw_sweep *sweep,
                                     uint32_t side, double u_m)
{
    const double from_m = sweep->u[side];
    const double to_m = sweep->u[sweep->after[side]];
    return fmin(1, fmax(0, (u_m - from_m) / (to_m - from_m)));
}

/* From the nearer end, so that a side walked the other way gives the same. */
static inline double fw_sweep__between(double from, double to, double along)
{
    return along <= 0.5 ? from + (to - from) * along
                        : to - (to - from) * (1 - along);
}

#endif
