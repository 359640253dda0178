/* Zones taken apart where they overlap and clipped to their field, once, by
 * GEOS; after that they need no topology any more. */
#include "base/alloc.h"
#include "base/array.h"
#include "base/fail.h"
#include "crs/crs.h"
#include "crs/geos.h"
#include "geo/herbage_inner.h"

#include <math.h>

struct cutting {
    GEOSContextHandle_t geos;
    struct fw_herbage *ground;
    size_t capacity;
    GEOSGeometry *field;
    GEOSGeometry *taken; /* by later zones */
    double clipped_m2;   /* of all zones, overlaps counted each time */
    struct fw_error *err;
};

static enum fw_status stuck(struct cutting *cutting)
{
    return fw_fail(cutting->err, FW_EINPUT,
                   "the zones cannot be taken apart; are their shapes sound?");
}

static enum fw_status add_side(struct cutting *cutting, struct fw_point a,
                               struct fw_point b, size_t zone)
{
    struct fw_herbage *ground = cutting->ground;
    if (!(a.x_m < b.x_m) && !(a.x_m > b.x_m))
        return FW_OK; /* upright: its neighbours say it all */
    const enum fw_status status = fw_array_reserve(
        &ground->sides, &cutting->capacity, ground->side_count + 1,
        sizeof *ground->sides, cutting->err);
    if (status)
        return status;
    const bool right = a.x_m < b.x_m; /* with the zone above it */
    ground->sides[ground->side_count++] =
        (struct fw_zone_side){.left = right ? a : b,
                              .right = right ? b : a,
                              .zone = zone,
                              .above = right};
    return FW_OK;
}

static enum fw_status add_polygon(struct cutting *cutting,
                                  const GEOSGeometry *polygon, size_t zone)
{
    struct fw_point *points;
    size_t *start, count;
    if (GEOSisEmpty_r(cutting->geos, polygon))
        return FW_OK;
    enum fw_status status = fw_geos_rings(cutting->geos, polygon, &points,
                                          &start, &count, cutting->err);
    if (status)
        return status;
    for (size_t r = 0; r < count; r++) {
        size_t before = start[r + 1] - 1;
        for (size_t i = start[r]; !status && i < start[r + 1]; before = i++)
            status = add_side(cutting, points[before], points[i], zone);
    }
    fw_free(points);
    fw_free(start);
    return status;
}

static enum fw_status add_areas(struct cutting *cutting,
                                const GEOSGeometry *areas, size_t zone)
{
    const int count = GEOSGetNumGeometries_r(cutting->geos, areas);
    enum fw_status status = FW_OK;
    for (int i = 0; !status && i < count; i++)
        status = add_polygon(cutting,
                             GEOSGetGeometryN_r(cutting->geos, areas, i), zone);
    return status;
}

/* What the zone has of the field, less what later zones have. */
static enum fw_status take_zone(struct cutting *cutting,
                                const struct fw_herbage_zone *zone,
                                size_t index)
{
    GEOSContextHandle_t geos = cutting->geos;
    GEOSGeometry *shape = fw_geos_shape(geos, zone->points, zone->ring_start,
                                        zone->ring_count, true);
    GEOSGeometry *clipped =
        shape ? fw_geos_areas(geos,
                              GEOSIntersection_r(geos, cutting->field, shape))
              : NULL;
    GEOSGeometry *own =
        clipped ? fw_geos_areas(geos,
                                GEOSDifference_r(geos, clipped, cutting->taken))
                : NULL;
    GEOSGeometry *taken =
        own ? fw_geos_areas(geos, GEOSUnion_r(geos, cutting->taken, clipped))
            : NULL;
    enum fw_status status = taken   ? FW_OK
                            : shape ? stuck(cutting)
                                    : fw_fail_memory(cutting->err);
    if (taken) {
        cutting->clipped_m2 += fw_geos_area_m2(geos, clipped);
        status = add_areas(cutting, own, index);
        GEOSGeom_destroy_r(geos, cutting->taken);
        cutting->taken = taken;
    }
    GEOSGeom_destroy_r(geos, shape);
    GEOSGeom_destroy_r(geos, clipped);
    GEOSGeom_destroy_r(geos, own);
    return status;
}

static enum fw_status cut(struct fw_herbage *ground,
                          const struct fw_field *field,
                          const struct fw_herbage_zone *zones, size_t count,
                          struct fw_herbage_told *cover, struct fw_error *err)
{
    struct cutting cutting = {
        .geos = GEOS_init_r(), .ground = ground, .err = err};
    if (!cutting.geos)
        return fw_fail_memory(err);
    cutting.field = fw_geos_field(cutting.geos, field);
    cutting.taken = GEOSGeom_createEmptyPolygon_r(cutting.geos);
    enum fw_status status =
        cutting.field && cutting.taken ? FW_OK : fw_fail_memory(err);
    for (size_t i = count; !status && i > 0; i--)
        status = take_zone(&cutting, &zones[i - 1], i - 1);
    if (!status) {
        cover->told_m2 = fw_geos_area_m2(cutting.geos, cutting.taken);
        cover->overlap_m2 = fmax(0, cutting.clipped_m2 - cover->told_m2);
        cover->gap_m2 = fmax(0, field->area_m2 - cover->told_m2);
    }
    GEOSGeom_destroy_r(cutting.geos, cutting.field);
    GEOSGeom_destroy_r(cutting.geos, cutting.taken);
    GEOS_finish_r(cutting.geos);
    return status;
}

enum fw_status fw_herbage_zones(const struct fw_field *field, double base_kg_m2,
                                const struct fw_herbage_zone *zones,
                                size_t count, struct fw_herbage **out,
                                struct fw_herbage_told *cover,
                                struct fw_error *err)
{
    struct fw_herbage *ground = NULL;
    struct fw_herbage_told found = {0};
    enum fw_status status = FW_OK;
    for (size_t i = 0; !status && i < count; i++)
        status = fw_herbage__check(zones[i].kg_m2, err);
    if (!status)
        status = fw_herbage_even(base_kg_m2, &ground, err);
    if (!status)
        status = cut(ground, field, zones, count, &found, err);
    if (!status) {
        for (size_t i = 0; i < ground->side_count; i++)
            fw_zone_step(&ground->sides[i],
                         zones[ground->sides[i].zone].kg_m2 - base_kg_m2);
        ground->zone_count = count;
        status = fw_zones_sort(ground, err);
    }
    if (status) {
        fw_herbage_free(ground);
        return status;
    }
    if (cover)
        *cover = found;
    *out = ground;
    return FW_OK;
}
