/* Plain geometry for the tests of the walk round a field. */
#ifndef FW_LAYOUT_WALK_H
#define FW_LAYOUT_WALK_H

#include "figures/layout.h"
#include "random_plot.h"

#include "cutting/boundary.h"

enum { plots = 24, most_walk = 200 };

static inline struct fw_point node_at(const struct fw_boundary *boundary,
                                      size_t i)
{
    return boundary->nodes[i % boundary->count].point;
}

static inline struct fw_point on(struct fw_point a, struct fw_point b, double t)
{
    return (struct fw_point){a.x_m + (b.x_m - a.x_m) * t,
                             a.y_m + (b.y_m - a.y_m) * t};
}

static inline double turn_of(struct fw_point o, struct fw_point a,
                             struct fw_point b)
{
    return (a.x_m - o.x_m) * (b.y_m - o.y_m) -
           (a.y_m - o.y_m) * (b.x_m - o.x_m);
}

static inline bool meet(struct fw_point a, struct fw_point b, struct fw_point p,
                        struct fw_point q)
{
    return (turn_of(a, b, p) > 0) != (turn_of(a, b, q) > 0) &&
           (turn_of(p, q, a) > 0) != (turn_of(p, q, b) > 0);
}

static inline bool is_in_field(const struct fw_field *field, struct fw_point p)
{
    bool inside = false;
    for (size_t r = 0; r < field->ring_count; r++)
        for (size_t i = field->ring_start[r], j = field->ring_start[r + 1] - 1;
             i < field->ring_start[r + 1]; j = i++) {
            const struct fw_point a = field->vertices[i].plane;
            const struct fw_point b = field->vertices[j].plane;
            if ((a.y_m > p.y_m) != (b.y_m > p.y_m))
                inside ^= p.x_m < a.x_m + (b.x_m - a.x_m) * (p.y_m - a.y_m) /
                                              (b.y_m - a.y_m);
        }
    return inside;
}

static inline double to_segment_m(struct fw_point p, struct fw_point a,
                                  struct fw_point b)
{
    const double m = map_apart_m(a, b);
    const double ahead = ((p.x_m - a.x_m) * (b.x_m - a.x_m) +
                          (p.y_m - a.y_m) * (b.y_m - a.y_m)) /
                         m;
    return ahead <= 0   ? map_apart_m(p, a)
           : ahead >= m ? map_apart_m(p, b)
                        : fabs(turn_of(a, b, p)) / m;
}

static inline void draw_small(GEOSContextHandle_t geos, struct plot *plot,
                              uint64_t *seed)
{
    do
        draw_plot(geos, plot, seed);
    while (plot->field.vertex_count > 60);
}

#endif
