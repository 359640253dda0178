/* Fields in their planes: rings of vertices, lengths and areas there, and the
 * exact sweep that cuts a field into paddocks.
 *
 * Three kinds of coordinate stand side by side and never mix: the file's own
 * (x, y as the file has them, x east or longitude first), longitude and
 * latitude on WGS 84, and metres in the field's local plane. */
#ifndef FW_GEO_GEO_H
#define FW_GEO_GEO_H

#include <foldwright/error.h>
#include <foldwright/field.h>
#include <stdbool.h>

enum fw_feature_kind {
    FW_FEATURE_NONE, /* no geometry, or an empty one */
    FW_FEATURE_POINT,
    FW_FEATURE_LINE,
    FW_FEATURE_POLYGON,
    FW_FEATURE_OTHER /* curves that cannot be made straight, collections */
};

/* ---- the local plane ---- */

enum fw_status fw_plane_init(struct fw_plane *plane, struct fw_lonlat centre,
                             struct fw_error *err);
struct fw_point fw_plane_forward(const struct fw_plane *plane,
                                 struct fw_lonlat place);
struct fw_lonlat fw_plane_inverse(const struct fw_plane *plane,
                                  struct fw_point point);

/* ---- shapes as a file has them, and their repair ---- */

/* One polygon: the first ring is the outer one, the others are holes. Rings
 * are not closed (the last point differs from the first). */
struct fw_shape {
    struct fw_xy *points;
    size_t point_count;
    size_t *ring_start; /* ring_count + 1 entries; the last is point_count */
    size_t ring_count;
    /* Tidied by fw_shape_repair: usual in good maps, and no fault. */
    size_t turned_rings, repeated_points;
};

void fw_shape_release(struct fw_shape *shape);

/* ---- rings in the plane ---- */

/* Signed area, anticlockwise positive, exact to the last digits. */
double fw_ring_area_m2(const struct fw_point *ring, size_t count);
double fw_line_length_m(const struct fw_point *line, size_t count, bool closed);
bool fw_ring_contains(const struct fw_point *ring, size_t count,
                      struct fw_point point);
double fw_segment_distance_m(struct fw_point p, struct fw_point a,
                             struct fw_point b);

/* Points of rings one after the other, none closed; ring_start has ring_count +
 * 1 entries. */
struct fw_area {
    const struct fw_point *points;
    const size_t *ring_start;
    size_t ring_count;
};

/* The area that both have; rings within rings are holes, whichever way they
 * run. Exact but for rounding. overlap.c */
enum fw_status fw_area_shared(const struct fw_area *a, const struct fw_area *b,
                              double *shared_area_m2, struct fw_error *err);

/* Does a mark (a point, lines, or an area) lie in the ring, hold it, or come
 * within reach_m of its edge? near.c */
bool fw_area_is_at(const struct fw_area *mark, bool is_area,
                   const struct fw_point *ring, size_t count, double reach_m);

/* The side of a field that a place stands on, from 1; 0: none. */
size_t fw_field_side_at(const struct fw_field *field, struct fw_point at);

/* Mean and longest straight distance from `from` to the points of the ring's
 * inside. Exact when every point of the ring is seen from `from`; returns
 * false, and leaves the results alone, when one is not. */
bool fw_ring_straight_walk(const struct fw_point *ring, size_t count,
                           struct fw_point from, double *mean_m,
                           double *longest_m);

/* ---- the exact sweep ---- */

/* A sweep over one polygon with holes: a line moves across it in one
 * direction, and cuts stand where the area behind the line reaches the
 * targets, in closed form. One workspace for many directions and cuts; not to
 * be shared between threads. */
struct fw_sweep;

/* The points are copied; ring_start has ring_count + 1 entries, outer ring
 * first and anticlockwise, holes clockwise. */
enum fw_status fw_sweep_new(const struct fw_point *points,
                            const size_t *ring_start, size_t ring_count,
                            struct fw_sweep **out, struct fw_error *err);
void fw_sweep_free(struct fw_sweep *sweep);

/* Set the direction in which the line moves, degrees anticlockwise from east
 * (0: the line runs north-south and moves east). Cheapest when directions
 * follow each other in small steps. */
void fw_sweep_turn(struct fw_sweep *sweep, double direction_deg);

/* Where the line stands for each area behind it (rising, 0 < a < total), and
 * the length of fence there (sum over its pieces). Arrays of count entries.
 * Returns the sum of the lengths. O(vertices + count). */
double fw_sweep_cut(struct fw_sweep *sweep, const double *behind_m2,
                    size_t count, double *position_m, double *length_m);

/* The whole area, by the sweep's own accumulators. */
double fw_sweep_area_m2(const struct fw_sweep *sweep);

/* A vertex that a cut made: on edge `edge` (from vertex `edge` to the next one
 * of its ring), `t` of the way along. */
struct fw_cut_vertex {
    struct fw_point plane;
    size_t edge;
    double t;
};

/* One paddock may have several pieces, one piece several rings (outer first).
 * Everything is an index: below vertex_count a vertex of the polygon, from
 * there on added[index - vertex_count]. */
struct fw_partition {
    size_t vertex_count;
    struct fw_cut_vertex *added;
    size_t added_count, added_capacity;

    size_t *ring_vertices; /* all rings, one after the other, not closed */
    size_t ring_vertex_count, ring_vertex_capacity;
    size_t *ring_start; /* ring_count + 1 */
    size_t ring_count, ring_capacity;
    size_t *piece_ring; /* piece_count + 1: first ring of each piece */
    size_t piece_count, piece_capacity;
    size_t *paddock_piece; /* paddock_count + 1: first piece of each paddock */
    size_t paddock_count, paddock_capacity;

    /* Fence of cut k, between paddocks k and k + 1: pairs of vertices, in
     * rising order across the line. cut_start has cut_count + 1 entries that
     * count segments; segment s is segments[2 s], segments[2 s + 1]. */
    size_t *segments;
    size_t segment_count, segment_capacity;
    size_t *cut_start;
    size_t cut_count, cut_capacity;

    double *paddock_m2;  /* area of each paddock from its rings */
    double *greatest_m2; /* area of its greatest piece */
};

/* Build the paddocks between the cuts: count cuts at the rising positions
 * make count + 1 paddocks. A cut through a vertex has that vertex on its
 * fence, counted as lying behind the cut or beyond it, whichever leaves no
 * gap; sides along the cut are no fence. Two parts that touch in a point are
 * two pieces. `out` starts as {0} or as the result of an earlier build, whose
 * room is used again.
 * FW_EUSAGE: the positions do not rise. */
enum fw_status fw_sweep_build(struct fw_sweep *sweep, const double *position_m,
                              size_t count, struct fw_partition *out,
                              struct fw_error *err);
void fw_partition_release(struct fw_partition *partition);

/* The coordinates of a partition's vertex. */
struct fw_point fw_sweep_point(const struct fw_sweep *sweep,
                               const struct fw_partition *partition,
                               size_t vertex);

#endif
