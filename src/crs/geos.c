#include "crs/geos.h"
#include "base/alloc.h"
#include "base/fail.h"

/* ---- there ---- */

static GEOSCoordSequence *sequence_of(GEOSContextHandle_t geos,
                                      const struct fw_point *points,
                                      size_t count, bool closed)
{
    const size_t all = count + (closed ? 1 : 0);
    GEOSCoordSequence *sequence = GEOSCoordSeq_create_r(geos, (unsigned)all, 2);
    for (size_t i = 0; sequence && i < all; i++) {
        const struct fw_point at = points[i < count ? i : 0];
        GEOSCoordSeq_setXY_r(geos, sequence, (unsigned)i, at.x_m, at.y_m);
    }
    return sequence;
}

static GEOSGeometry *ring_of(GEOSContextHandle_t geos,
                             const struct fw_point *points, size_t count)
{
    GEOSCoordSequence *sequence = sequence_of(geos, points, count, true);
    return sequence ? GEOSGeom_createLinearRing_r(geos, sequence) : NULL;
}

static GEOSGeometry *polygon_of(GEOSContextHandle_t geos,
                                const struct fw_point *points,
                                const size_t *ring_start, size_t ring_count)
{
    GEOSGeometry **rings = fw_alloc(ring_count, sizeof *rings);
    GEOSGeometry *polygon = NULL;
    size_t made = 0;
    bool good = rings != NULL;
    for (size_t r = 0; good && r < ring_count; r++) {
        const size_t size = ring_start[r + 1] - ring_start[r];
        if (size < 3 && r > 0)
            continue; /* a hole without an area */
        rings[made] = ring_of(geos, points + ring_start[r], size);
        good = rings[made] != NULL;
        made += good;
    }
    if (good) /* takes the rings, also when it cannot */
        polygon = GEOSGeom_createPolygon_r(geos, rings[0], rings + 1,
                                           (unsigned)made - 1);
    else
        while (made > 0)
            GEOSGeom_destroy_r(geos, rings[--made]);
    fw_free(rings);
    return polygon;
}

static GEOSGeometry *make_valid(GEOSContextHandle_t geos, GEOSGeometry *polygon)
{
    if (!polygon || GEOSisValid_r(geos, polygon) == 1)
        return polygon;
    GEOSGeometry *valid = NULL;
    GEOSMakeValidParams *how = GEOSMakeValidParams_create_r(geos);
    if (how) {
        GEOSMakeValidParams_setMethod_r(geos, how, GEOS_MAKE_VALID_STRUCTURE);
        valid = GEOSMakeValidWithParams_r(geos, polygon, how);
        GEOSMakeValidParams_destroy_r(geos, how);
    }
    GEOSGeom_destroy_r(geos, polygon);
    return valid;
}

GEOSGeometry *fw_geos_shape(GEOSContextHandle_t geos,
                            const struct fw_point *points,
                            const size_t *ring_start, size_t ring_count,
                            bool is_area)
{
    const size_t first = ring_start[1] - ring_start[0];
    if (is_area && first < 3)
        return GEOSGeom_createEmptyPolygon_r(geos);
    if (!is_area && first == 1)
        return GEOSGeom_createPointFromXY_r(geos, points[ring_start[0]].x_m,
                                            points[ring_start[0]].y_m);
    if (is_area)
        return make_valid(geos,
                          polygon_of(geos, points, ring_start, ring_count));
    GEOSCoordSequence *sequence = sequence_of(
        geos, points + ring_start[0], ring_start[1] - ring_start[0], false);
    return sequence ? GEOSGeom_createLineString_r(geos, sequence) : NULL;
}

GEOSGeometry *fw_geos_field(GEOSContextHandle_t geos,
                            const struct fw_field *field)
{
    struct fw_point *points = fw_alloc(field->vertex_count, sizeof *points);
    if (!points)
        return NULL;
    for (size_t i = 0; i < field->vertex_count; i++)
        points[i] = field->vertices[i].plane;
    GEOSGeometry *polygon =
        fw_geos_shape(geos, points, field->ring_start, field->ring_count, true);
    fw_free(points);
    return polygon;
}

/* ---- areas ---- */

static bool is_area(GEOSContextHandle_t geos, const GEOSGeometry *geometry)
{
    const int type = GEOSGeomTypeId_r(geos, geometry);
    return type == GEOS_POLYGON || type == GEOS_MULTIPOLYGON;
}

GEOSGeometry *fw_geos_areas(GEOSContextHandle_t geos, GEOSGeometry *geometry)
{
    if (!geometry || is_area(geos, geometry))
        return geometry;
    const int count = GEOSGetNumGeometries_r(geos, geometry);
    GEOSGeometry *all = GEOSGeom_createEmptyPolygon_r(geos);
    for (int i = 0; all && i < count; i++) {
        const GEOSGeometry *part = GEOSGetGeometryN_r(geos, geometry, i);
        if (!part || !is_area(geos, part))
            continue;
        GEOSGeometry *more = GEOSUnion_r(geos, all, part);
        GEOSGeom_destroy_r(geos, all);
        all = more;
    }
    GEOSGeom_destroy_r(geos, geometry);
    return all;
}

double fw_geos_area_m2(GEOSContextHandle_t geos, const GEOSGeometry *geometry)
{
    double area_m2 = 0;
    return GEOSArea_r(geos, geometry, &area_m2) ? area_m2 : 0;
}

/* ---- and back ---- */

static const GEOSGeometry *ring_at(GEOSContextHandle_t geos,
                                   const GEOSGeometry *polygon, size_t ring)
{
    return ring == 0 ? GEOSGetExteriorRing_r(geos, polygon)
                     : GEOSGetInteriorRingN_r(geos, polygon, (int)ring - 1);
}

static void copy_ring(GEOSContextHandle_t geos, const GEOSGeometry *ring,
                      bool outer, struct fw_point *points, size_t count)
{
    const GEOSCoordSequence *sequence = GEOSGeom_getCoordSeq_r(geos, ring);
    for (size_t i = 0; i < count; i++)
        GEOSCoordSeq_getXY_r(geos, sequence, (unsigned)i, &points[i].x_m,
                             &points[i].y_m);
    if ((fw_ring_area_m2(points, count) > 0) == outer)
        return;
    for (size_t low = 0, high = count; low + 1 < high; low++) {
        const struct fw_point kept = points[low];
        points[low] = points[--high];
        points[high] = kept;
    }
}

enum fw_status fw_geos_rings(GEOSContextHandle_t geos,
                             const GEOSGeometry *polygon,
                             struct fw_point **points, size_t **ring_start,
                             size_t *ring_count, struct fw_error *err)
{
    const size_t count = 1 + (size_t)GEOSGetNumInteriorRings_r(geos, polygon);
    const int all = GEOSGetNumCoordinates_r(geos, polygon);
    struct fw_point *made = fw_alloc((size_t)all, sizeof *made);
    size_t *start = fw_alloc(count + 1, sizeof *start);
    if (!made || !start) {
        fw_free(made);
        fw_free(start);
        return fw_fail_memory(err);
    }
    for (size_t r = 0; r < count; r++) {
        const GEOSGeometry *ring = ring_at(geos, polygon, r);
        const size_t size = (size_t)GEOSGeomGetNumPoints_r(geos, ring) - 1;
        copy_ring(geos, ring, r == 0, made + start[r], size);
        start[r + 1] = start[r] + size;
    }
    *points = made;
    *ring_start = start;
    *ring_count = count;
    return FW_OK;
}
