/* The edge of a field as one closed walk, anticlockwise, so that a chord from
 * edge to edge has everything before it on one side. Each hole is walked too,
 * out and back over a bridge to the nearest edge: what a chord has behind it
 * then comes out with the holes taken off, as long as it crosses no bridge. */
#ifndef FW_CUTTING_RIM_H
#define FW_CUTTING_RIM_H

#include "cutting/subdivision.h"

struct fw_boundary_node {
    struct fw_point point;
    size_t vertex;   /* of the field; FW_INSIDE: where a bridge begins */
    size_t side;     /* of the field, to the next node; FW_INSIDE: a bridge or
                        the edge of a hole, where no fence may end */
    double t, t_end; /* of the way along that side: here, at the next node */
    bool reflex;
};

struct fw_boundary_box {
    double x_m, y_m, half_x_m, half_y_m;
};

struct fw_boundary {
    struct fw_boundary_node *nodes;
    size_t count, capacity;
    double *along_m; /* of the walk up to each node; count + 1 */
    double *fan_m2;  /* between the walk up to each node and the origin */
    struct fw_boundary_box *boxes; /* around so many edges each */
    size_t box_edges, box_count;
    double clear_m; /* a chord keeps that far from corners that jut in */
};

struct fw_boundary_station {
    size_t edge; /* from nodes[edge] */
    double t;    /* of the way to the next node */
};

/* FW_OK with *out all zero when the holes are too many to be bridged. */
enum fw_status fw_boundary_new(const struct fw_field *field, double clear_m,
                               struct fw_boundary *out, struct fw_error *err);
void fw_boundary_release(struct fw_boundary *boundary);

/* Let the walk begin at that node. */
enum fw_status fw_boundary_start(struct fw_boundary *boundary, size_t node,
                                 struct fw_error *err);

/* The node at a vertex of the field's outer ring. */
size_t fw_boundary_node(const struct fw_boundary *boundary, size_t vertex);

static inline size_t fw_boundary_next(const struct fw_boundary *boundary,
                                      size_t node)
{
    return node + 1 < boundary->count ? node + 1 : 0;
}

struct fw_point fw_boundary_point(const struct fw_boundary *boundary,
                                  struct fw_boundary_station place);
double fw_boundary_along_m(const struct fw_boundary *boundary,
                           struct fw_boundary_station place);

/* The place at that length of the walk, sought from an edge on. */
struct fw_boundary_station fw_boundary_at(const struct fw_boundary *boundary,
                                          double along_m, size_t from_edge);

/* Area between the walk up to a place and the origin. */
double fw_boundary_fan_m2(const struct fw_boundary *boundary,
                          struct fw_boundary_station place);

/* Does the straight line between two places run inside all the way, clear of
 * everything but the edges that it ends on? */
bool fw_boundary_sees(const struct fw_boundary *boundary,
                      struct fw_boundary_station a,
                      struct fw_boundary_station b);

#endif
