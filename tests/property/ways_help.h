/* Ground at random for the sums on ways, and the same for GEOS. */
#ifndef FW_WAYS_HELP_H
#define FW_WAYS_HELP_H

#include "random_plot.h"

#include "geo/ways.h"

struct judge {
    GEOSContextHandle_t geos;
    GEOSGeometry *ground, *edge;
    struct fw_point *points;
    const size_t *ring_start;
    size_t ring_count, count;
    double m2, wide_m;
};

static inline void points_of(const struct fw_field *field,
                             struct fw_point *points)
{
    for (size_t i = 0; i < field->vertex_count; i++)
        points[i] = field->vertices[i].plane;
}

static inline void start_judge(struct judge *judge, GEOSContextHandle_t geos,
                               const struct fw_point *points,
                               const size_t *ring_start, size_t ring_count,
                               double wide_m)
{
    *judge = (struct judge){.geos = geos,
                            .ring_start = ring_start,
                            .ring_count = ring_count,
                            .count = ring_start[ring_count],
                            .wide_m = wide_m};
    judge->points = calloc(judge->count, sizeof *judge->points);
    memcpy(judge->points, points, judge->count * sizeof *points);
    judge->ground = geos_polygon(geos, points, ring_start, ring_count);
    judge->edge = GEOSBoundary_r(geos, judge->ground);
    judge->m2 = geos_area(geos, judge->ground);
}

static inline void end_judge(struct judge *judge)
{
    GEOSGeom_destroy_r(judge->geos, judge->edge);
    GEOSGeom_destroy_r(judge->geos, judge->ground);
    free(judge->points);
}

static inline size_t rounds(size_t usual)
{
    const char *given = getenv("FW_FIELDS");
    return given ? (size_t)strtoull(given, NULL, 10) : usual;
}

/* Jagged: radii from a fifth to the whole, so that the arms of the star have
 * ways of every width between them. */
static inline void draw_jagged(GEOSContextHandle_t geos, struct plot *plot,
                               uint64_t *seed)
{
    bool valid = false;
    while (!valid) {
        struct fw_point points[60];
        const size_t count = draw_count(seed, 5, 60);
        *plot = (struct plot){.ring_start = {0}};
        for (size_t i = 0; i < count; i++) {
            const double angle = 2 * PI * (double)i / (double)count;
            const double r = draw(seed, 20, 100);
            points[i] = (struct fw_point){r * cos(angle), r * sin(angle)};
        }
        add_ring(plot, points, count);
        for (size_t i = draw_count(seed, 0, 3); i > 0; i--)
            add_star(
                plot, seed,
                (struct fw_point){draw(seed, -40, 40), draw(seed, -40, 40)},
                draw(seed, 2, 30), draw_count(seed, 3, 9), true);
        GEOSGeometry *field = geos_field(geos, &plot->field);
        valid = GEOSisValid_r(geos, field) == 1;
        GEOSGeom_destroy_r(geos, field);
    }
}

#endif
