/* Fields at random: a star with lobes, and ponds in it. The same ones each
 * time, unless FW_SEED says otherwise. */
#ifndef FW_RANDOM_PLOT_H
#define FW_RANDOM_PLOT_H

#include "draw.h"
#include "geo/geo.h"
#include "unit/layout_help.h"
#include <foldwright/layout.h>

#include <geos_c.h>

static inline void add_star(struct plot *plot, uint64_t *seed,
                            struct fw_point centre, double radius_m,
                            size_t count, bool hole)
{
    struct fw_point points[most_points];
    const double phase = draw(seed, 0, 2 * PI);
    const double lobes = floor(draw(seed, 2, 6));
    for (size_t i = 0; i < count; i++) {
        const double angle = 2 * PI * (double)i / (double)count;
        const double r = radius_m * (1 + 0.3 * cos(lobes * angle + phase)) *
                         draw(seed, 0.8, 1);
        points[hole ? count - 1 - i : i] = (struct fw_point){
            centre.x_m + r * cos(angle), centre.y_m + r * sin(angle)};
    }
    add_ring(plot, points, count);
}

/* ---- GEOS ---- */

static inline GEOSGeometry *
geos_ring(GEOSContextHandle_t geos, const struct fw_point *points, size_t count)
{
    GEOSCoordSequence *line =
        GEOSCoordSeq_create_r(geos, (unsigned)count + 1, 2);
    for (size_t i = 0; i <= count; i++)
        GEOSCoordSeq_setXY_r(geos, line, (unsigned)i, points[i % count].x_m,
                             points[i % count].y_m);
    return GEOSGeom_createLinearRing_r(geos, line);
}

/* Rings of one polygon, the outer one first. */
static inline GEOSGeometry *geos_polygon(GEOSContextHandle_t geos,
                                         const struct fw_point *points,
                                         const size_t *ring_start,
                                         size_t ring_count)
{
    GEOSGeometry **rings = calloc(ring_count, sizeof *rings);
    for (size_t r = 0; r < ring_count; r++)
        rings[r] = geos_ring(geos, points + (ring_start[r] - ring_start[0]),
                             ring_start[r + 1] - ring_start[r]);
    GEOSGeometry *polygon = GEOSGeom_createPolygon_r(geos, rings[0], rings + 1,
                                                     (unsigned)ring_count - 1);
    free(rings);
    return polygon;
}

static inline GEOSGeometry *geos_field(GEOSContextHandle_t geos,
                                       const struct fw_field *field)
{
    struct fw_point *points = calloc(field->vertex_count, sizeof *points);
    for (size_t i = 0; i < field->vertex_count; i++)
        points[i] = field->vertices[i].plane;
    GEOSGeometry *polygon =
        geos_polygon(geos, points, field->ring_start, field->ring_count);
    free(points);
    return polygon;
}

/* The points of one ground of a layout, and its rings. */
static inline struct fw_point *ground_points(const struct fw_field *field,
                                             const struct fw_layout *layout,
                                             size_t ground)
{
    const size_t first = layout->piece_ring[layout->paddock_piece[ground]];
    const size_t end = layout->piece_ring[layout->paddock_piece[ground + 1]];
    const size_t start = layout->ring_start[first];
    const size_t count = layout->ring_start[end] - start;
    struct fw_point *points = calloc(count, sizeof *points);
    for (size_t i = 0; i < count; i++) {
        const size_t v = layout->ring_vertices[start + i];
        points[i] = v < layout->vertex_count
                        ? field->vertices[v].plane
                        : layout->added[v - layout->vertex_count].point;
    }
    return points;
}

static inline GEOSGeometry *geos_ground(GEOSContextHandle_t geos,
                                        const struct fw_field *field,
                                        const struct fw_layout *layout,
                                        size_t ground)
{
    const size_t first = layout->piece_ring[layout->paddock_piece[ground]];
    const size_t end = layout->piece_ring[layout->paddock_piece[ground + 1]];
    struct fw_point *points = ground_points(field, layout, ground);
    GEOSGeometry *polygon =
        geos_polygon(geos, points, layout->ring_start + first, end - first);
    free(points);
    return polygon;
}

static inline double geos_area(GEOSContextHandle_t geos,
                               const GEOSGeometry *geometry)
{
    double m2 = (double)NAN;
    if (geometry)
        GEOSArea_r(geos, geometry, &m2);
    return m2;
}

/* A star of 5 to 120 corners with up to four ponds, valid. */
static inline void draw_plot(GEOSContextHandle_t geos, struct plot *plot,
                             uint64_t *seed)
{
    bool valid = false;
    while (!valid) {
        *plot = (struct plot){.ring_start = {0}};
        const double radius_m = draw(seed, 100, 400);
        add_star(plot, seed, (struct fw_point){0, 0}, radius_m,
                 draw_count(seed, 5, 120), false);
        const size_t ponds = draw_count(seed, 0, 4);
        for (size_t i = 0; i < ponds; i++) {
            const double angle = PI / 2 * ((double)i + draw(seed, 0, 0.3));
            const double r = radius_m * draw(seed, 0.2, 0.5);
            add_star(plot, seed,
                     (struct fw_point){r * cos(angle), r * sin(angle)},
                     radius_m * draw(seed, 0.02, 0.1), draw_count(seed, 3, 20),
                     true);
        }
        GEOSGeometry *field = geos_field(geos, &plot->field);
        valid = GEOSisValid_r(geos, field) == 1;
        GEOSGeom_destroy_r(geos, field);
    }
}

#endif
