/* The field while it is being cut up.
 *
 * A cut makes new vertices on the sides of the region that it cuts. Each of
 * them knows its support, which is a side of the field or a straight piece of
 * fence, and how far along it stands. So when everything is cut, the rings of
 * both neighbours of a fence get every vertex that stands on it, whichever of
 * them it was made for: the map is one coverage without gaps. */
#ifndef FW_CUTTING_SUBDIVISION_H
#define FW_CUTTING_SUBDIVISION_H

#include "geo/herbage.h"
#include <foldwright/layout.h>

struct fw_subdivision_vertex {
    struct fw_point point;
    size_t support; /* of a vertex that a cut made */
    double t;       /* of the way along its support */
};

struct fw_subdivision_support { /* the first ones are the field's sides */
    size_t from, to;
};

struct fw_subdivision_line { /* supports that follow each other */
    enum fw_line_role role;
    size_t support, support_count;
};

struct fw_subdivision {
    const struct fw_field *field;
    const struct fw_herbage *ground; /* NULL: every square metre counts one */
    struct fw_subdivision_vertex *vertices; /* the field's first */
    size_t vertex_count, vertex_capacity;
    struct fw_subdivision_support *supports;
    size_t support_count, support_capacity;
    struct fw_subdivision_line *lines;
    size_t line_count, line_capacity;
};

/* Connected ground: an outer ring, anticlockwise, and holes, clockwise. The
 * side from vertices[i] lies on supports[i]. */
struct fw_region {
    size_t *vertices, *supports;
    size_t *ring_start; /* ring_count + 1 */
    size_t ring_count;
};

/* A place on a region's edge: t of the way along the side from its vertex
 * number `side` (of all rings, one after the other). */
struct fw_region_station {
    size_t side;
    double t;
};

enum fw_status fw_subdivision_init(struct fw_subdivision *subdivision,
                                   const struct fw_field *field,
                                   const struct fw_herbage *ground,
                                   struct fw_error *err);
void fw_subdivision_release(struct fw_subdivision *subdivision);

/* What a subdivision had before a cut, to go back to when that is not kept. */
struct fw_subdivision_size {
    size_t vertices, supports, lines;
};
struct fw_subdivision_size
fw_subdivision_size(const struct fw_subdivision *subdivision);
void fw_subdivision_go_back(struct fw_subdivision *subdivision,
                            struct fw_subdivision_size mark);

/* Length of all supports from that one on. */
double fw_subdivision_line_m(const struct fw_subdivision *subdivision,
                             size_t first_support);

/* The field itself, as the first region to cut. */
enum fw_status fw_subdivision_whole(const struct fw_subdivision *subdivision,
                                    struct fw_region *out,
                                    struct fw_error *err);

/* Room for so many vertices and rings. */
enum fw_status fw_region_new(struct fw_region *region, size_t size,
                             size_t ring_count, struct fw_error *err);
enum fw_status fw_region_copy(const struct fw_region *from,
                              struct fw_region *to, struct fw_error *err);
void fw_region_release(struct fw_region *region);
void fw_regions_release(struct fw_region *regions, size_t count);
size_t fw_region_size(const struct fw_region *region); /* vertices in all */

/* Points of a region, as many as fw_region_size says; free with fw_free. */
struct fw_point *fw_subdivision_points(const struct fw_subdivision *subdivision,
                                       const struct fw_region *region);

/* What the region holds: mass on unequal ground, else square metres. */
enum fw_status fw_subdivision_holds(const struct fw_subdivision *subdivision,
                                    const struct fw_region *region, double *out,
                                    struct fw_error *err);

/* Parallel lines: they stand where so much lies behind each (all inside), or,
 * where behind is NULL, at positions along the direction, in metres from the
 * local plane's origin. Both rise. */
struct fw_cuts {
    double direction_deg; /* of the sweep */
    const double *behind, *position_m;
    size_t count;
    enum fw_line_role role;
};

/* Cut into one strip more than there are lines. When a strip would come out in
 * several pieces nothing is cut and *whole is false. */
enum fw_status fw_subdivision_cut(struct fw_subdivision *subdivision,
                                  const struct fw_region *region,
                                  const struct fw_cuts *cuts,
                                  struct fw_region *strips, bool *whole,
                                  struct fw_error *err);

/* One line from a place of a region's outer ring over the points of `by` to
 * another place of it, all inside the region and clear of its holes: the
 * caller sees to that. */
struct fw_split {
    struct fw_region_station from, to;
    const struct fw_point *by;
    size_t by_count;
    enum fw_line_role role;
};

/* Cut in two; parts[0] lies to the left of the line. */
enum fw_status fw_subdivision_split(struct fw_subdivision *subdivision,
                                    const struct fw_region *region,
                                    const struct fw_split *split,
                                    struct fw_region parts[2],
                                    struct fw_error *err);

#endif
