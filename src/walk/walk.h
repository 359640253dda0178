/* How far sheep walk to a place, over ground that fences part: the shortest way
 * that stays on it, from any point of a cell, its mean over the cell and the
 * longest. What stands and what is open is told from outside; nothing here
 * decides it.
 *
 * Cells are polygons in one plane, cut into triangles once. Where two of them
 * have a side in common that a line runs along, the sheep pass it while the
 * line does not stand, or where it is open. Ways turn at corners only: from
 * each such corner, the nearest first, the ground that is seen from it and from
 * none nearer is passed triangle by triangle. docs/guide/water.md says what is
 * counted, docs/decisions/015-ways-over-triangles.md why so. */
#ifndef FW_WALK_WALK_H
#define FW_WALK_WALK_H

#include "geo/herbage.h"
#include <foldwright/error.h>
#include <stdbool.h>
#include <stddef.h>

/* Rings run with their cell to the left and are not closed; each outer one is
 * followed by its holes. Where cells or a line share a place they have the same
 * coordinates to the last bit, and each has all the places of the others on
 * what is common. A cell whose rings enclose nothing is ground that nobody
 * knows: no way leads over it. */
struct fw_walk_map {
    const struct fw_point *points;
    const size_t *ring_start; /* of all rings; one more than there are */
    const size_t *cell_ring;  /* the first ring of each cell, and one more */
    size_t cell_count;
    const struct fw_point *line_points;
    const size_t *line_start; /* of all lines; one more than there are */
    size_t line_count;
};

struct fw_walk_ground;

/* Points are copied. At first every line stands. FW_ENOMEM. */
enum fw_status fw_walk_new(const struct fw_walk_map *map,
                           struct fw_walk_ground **out, struct fw_error *err);
void fw_walk_free(struct fw_walk_ground *ground);

/* Does the line stand from now on? */
void fw_walk_stand(struct fw_walk_ground *ground, size_t line, bool stands);

/* A line is open between two places along it, though it stands; until nothing
 * is open any more. FW_ENOMEM. */
enum fw_status fw_walk_open(struct fw_walk_ground *ground, size_t line,
                            double from_m, double to_m, struct fw_error *err);
void fw_walk_shut(struct fw_walk_ground *ground);

/* A place in some of these cells, or at most reach_m from them: the way to the
 * nearest of their sides is counted. */
struct fw_walk_start {
    struct fw_point at;
    const size_t *cells; /* borrowed */
    size_t count;
    double reach_m;
};

/* Go out from a place. What is found holds until the next search. When that is
 * from the same place over ground that has only grown, it takes no longer than
 * the new ground asks. FW_ENOMEM. */
enum fw_status fw_walk_search(struct fw_walk_ground *ground,
                              const struct fw_walk_start *start,
                              struct fw_error *err);

/* How much was looked at in all searches so far: how long they took. */
double fw_walk_passed(const struct fw_walk_ground *ground);

struct fw_walk_sums {
    bool known;    /* every point of the cell is reached; else the members below
                      are 0 */
    double mean_m; /* over the area */
    double fed_m; /* over the feed that lies there; mean_m where none is told */
    double most_m;
    double covered; /* what the parts seen from each corner have together, as a
                       share of the cell: 1 where no pond lies in the way */
};

/* Sums weigh by that from now on too; borrowed, NULL: by area alone. */
void fw_walk_feed(struct fw_walk_ground *ground, const struct fw_herbage *feed);

/* Of that cell. FW_ENOMEM. */
enum fw_status fw_walk_sum(const struct fw_walk_ground *ground, size_t cell,
                           struct fw_walk_sums *out, struct fw_error *err);

/* Where all that a ring encloses is seen from the place, as the ring's own
 * corner may be: as fw_walk_sum would have it, whatever ground lies about it.
 * Feed NULL: by area alone. */
bool fw_walk_seen(const struct fw_point *ring, size_t count,
                  struct fw_point from, const struct fw_herbage *feed,
                  struct fw_walk_sums *out);

/* Straight from a place to every point within those rings, whatever lies
 * between: no way is shorter. The longest is that to a corner. */
void fw_walk_straight(const struct fw_point *points, const size_t *ring_start,
                      size_t ring_count, struct fw_point from,
                      struct fw_walk_sums *out);

/* No ground of that area has a shorter mean way to so many places, wherever
 * they are: that of discs. Of none HUGE_VAL. */
double fw_walk_bound_m(double area_m2, size_t places);

/* Is it known what ground that cell is? Else no way leads over it. */
bool fw_walk_is_drawn(const struct fw_walk_ground *ground, size_t cell);

/* From a point of that cell; HUGE_VAL: it is not reached, or not in it. */
double fw_walk_at(const struct fw_walk_ground *ground, size_t cell,
                  struct fw_point at);

/* The shortest way from there to the place of the search: both ends and each
 * corner that it turns about. Free the points; none: it is not reached. A place
 * may come twice. FW_ENOMEM. */
enum fw_status fw_walk_way(const struct fw_walk_ground *ground, size_t cell,
                           struct fw_point from, struct fw_point **out,
                           size_t *count, struct fw_error *err);

#endif
