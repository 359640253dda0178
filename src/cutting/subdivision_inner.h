/* Shared by the files of the subdivision, and by the pattern that puts its
 * regions together itself. */
#ifndef FW_CUTTING_SUBDIVISION_INNER_H
#define FW_CUTTING_SUBDIVISION_INNER_H

#include "cutting/subdivision.h"

/* Mass or area of a polygon. */
double fw_subdivision__measure(const struct fw_subdivision *subdivision,
                               const struct fw_point *points,
                               const size_t *ring_start, size_t ring_count);

/* Too near each other to be two. */
bool fw_subdivision__same_place(struct fw_point a, struct fw_point b);

/* Does a ring that crosses the other nowhere lie within it? It may touch it in
 * points. */
bool fw_subdivision__within(const struct fw_point *inner, size_t inner_count,
                            const struct fw_point *outer, size_t outer_count);

/* How far along the support a vertex that stands on it is. */
double fw_subdivision__along(const struct fw_subdivision *subdivision,
                             size_t vertex, size_t support);

/* What of a support lies between two vertices on it. FW_INSIDE: of none. */
struct fw_subdivision_piece {
    size_t support, from, to;
};

/* The vertex at a point t of the way along the piece: one of its ends when it
 * stands at the same place, else a new one. */
enum fw_status fw_subdivision__add(struct fw_subdivision *subdivision,
                                   struct fw_subdivision_piece piece, double t,
                                   struct fw_point point, size_t *out,
                                   struct fw_error *err);
enum fw_status fw_subdivision__support(struct fw_subdivision *subdivision,
                                       size_t from, size_t to, size_t *out,
                                       struct fw_error *err);
enum fw_status fw_subdivision__line(struct fw_subdivision *subdivision,
                                    enum fw_line_role role, size_t support,
                                    size_t support_count, struct fw_error *err);

#endif
