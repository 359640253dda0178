/* Fields and zones at random, and GEOS as the judge of what lies on them. */
#ifndef FW_HERBAGE_HELP_H
#define FW_HERBAGE_HELP_H

#include "geo_help.h"

#include "geo/herbage.h"
#include <geos_c.h>

/* A ring about a point that crosses itself nowhere. */
struct star {
    struct fw_point points[64];
    size_t count;
    size_t start[2];
};

static inline struct star star(struct random *random, struct fw_point at,
                               double most_m, size_t count)
{
    struct star star = {.count = count, .start = {0, count}};
    for (size_t i = 0; i < count; i++) {
        const double turn =
            2 * PI * ((double)i + draw(random, 0, 0.8)) / (double)count;
        const double away_m = draw(random, 0.5, 1) * most_m;
        star.points[i] = (struct fw_point){at.x_m + away_m * cos(turn),
                                           at.y_m + away_m * sin(turn)};
    }
    return star;
}

/* The field whose plane has these corners: about 9 degrees east, 51 north. */
static inline struct fw_field *field_of(const struct fw_point *ring,
                                        size_t count)
{
    struct fw_crs *crs = open_crs("OGC:CRS84");
    struct fw_plane plane;
    struct fw_xy points[64];
    struct fw_field *field = NULL;
    struct fw_error err = {0};
    assert_int_equal(fw_plane_init(&plane, (struct fw_lonlat){9, 51}, NULL),
                     FW_OK);
    for (size_t i = 0; i < count; i++) {
        const struct fw_lonlat at = fw_plane_inverse(&plane, ring[i]);
        points[i] = (struct fw_xy){at.lon_deg, at.lat_deg};
    }
    struct fw_shape shape = shape_of(points, count, 0, 0);
    if (fw_field_new(&shape, "Long Bottom", crs, &field, &err))
        fail_msg("%s", err.text);
    fw_shape_release(&shape);
    fw_crs_free(crs);
    return field;
}

static inline GEOSGeometry *
judge_ring(GEOSContextHandle_t geos, const struct fw_point *ring, size_t count)
{
    GEOSCoordSequence *sequence =
        GEOSCoordSeq_create_r(geos, (unsigned)count + 1, 2);
    for (size_t i = 0; i <= count; i++)
        GEOSCoordSeq_setXY_r(geos, sequence, (unsigned)i, ring[i % count].x_m,
                             ring[i % count].y_m);
    return GEOSGeom_createPolygon_r(
        geos, GEOSGeom_createLinearRing_r(geos, sequence), NULL, 0);
}

static inline double judged_area(GEOSContextHandle_t geos,
                                 const GEOSGeometry *a, const GEOSGeometry *b)
{
    double area = 0;
    GEOSGeometry *both = GEOSIntersection_r(geos, a, b);
    GEOSArea_r(geos, both, &area);
    GEOSGeom_destroy_r(geos, both);
    return area;
}

/* Mass of a ring that lies in the field: later zones first, each taking what
 * is left of the ring. */
static inline double judged_mass(double base,
                                 const struct fw_herbage_zone *zones,
                                 size_t count, const struct star *ring)
{
    GEOSContextHandle_t geos = GEOS_init_r();
    GEOSGeometry *left = judge_ring(geos, ring->points, ring->count);
    double mass = 0, area = 0;
    for (size_t i = count; i > 0; i--) {
        GEOSGeometry *zone =
            judge_ring(geos, zones[i - 1].points, zones[i - 1].ring_start[1]);
        mass += zones[i - 1].kg_m2 * judged_area(geos, left, zone);
        GEOSGeometry *less = GEOSDifference_r(geos, left, zone);
        GEOSGeom_destroy_r(geos, left);
        GEOSGeom_destroy_r(geos, zone);
        left = less;
    }
    GEOSArea_r(geos, left, &area);
    GEOSGeom_destroy_r(geos, left);
    GEOS_finish_r(geos);
    return mass + base * area;
}

/* Mass of a ring over a grid, each cell in finer by finer parts whose corners
 * lie where the coordinate system puts them. */
static inline double judged_cells(const struct fw_field *field,
                                  const struct fw_grid *grid,
                                  const char *definition, size_t finer,
                                  double base, const struct fw_point *ring,
                                  size_t count)
{
    GEOSContextHandle_t geos = GEOS_init_r();
    GEOSGeometry *polygon = judge_ring(geos, ring, count);
    struct fw_crs *crs = open_crs(definition);
    double mass = 0;
    const double *a = grid->affine;
    double west = HUGE_VAL, east = -HUGE_VAL, south = HUGE_VAL,
           north = -HUGE_VAL;
    for (size_t i = 0; i < count; i++) {
        west = fmin(west, ring[i].x_m);
        east = fmax(east, ring[i].x_m);
        south = fmin(south, ring[i].y_m);
        north = fmax(north, ring[i].y_m);
    }
    for (size_t j = 0; j < grid->rows * finer; j++)
        for (size_t i = 0; i < grid->columns * finer; i++) {
            struct fw_point corners[4];
            double box[4] = {HUGE_VAL, -HUGE_VAL, HUGE_VAL, -HUGE_VAL};
            for (size_t k = 0; k < 4; k++) {
                const double c =
                    (double)(i + (k == 1 || k == 2)) / (double)finer;
                const double r = (double)(j + (k > 1)) / (double)finer;
                const struct fw_xy file = {a[0] + a[1] * c + a[2] * r,
                                           a[3] + a[4] * c + a[5] * r};
                struct fw_lonlat place;
                assert_int_equal(
                    fw_crs_to_lonlat(crs, &file, &place, 1, NULL, NULL), FW_OK);
                corners[k] = fw_plane_forward(&field->plane, place);
                box[0] = fmin(box[0], corners[k].x_m);
                box[1] = fmax(box[1], corners[k].x_m);
                box[2] = fmin(box[2], corners[k].y_m);
                box[3] = fmax(box[3], corners[k].y_m);
            }
            if (box[0] > east || box[1] < west || box[2] > north ||
                box[3] < south)
                continue;
            const double value =
                grid->values[j / finer * grid->columns + i / finer];
            GEOSGeometry *cell = judge_ring(geos, corners, 4);
            mass += (isnan(value) ? base : value) *
                    judged_area(geos, polygon, cell);
            GEOSGeom_destroy_r(geos, cell);
        }
    fw_crs_free(crs);
    GEOSGeom_destroy_r(geos, polygon);
    GEOS_finish_r(geos);
    return mass;
}

#endif
