/* A field in parts, by the kind of grass that zones tell: boundary and zones
 * are noded together and polygonized, so that parts that lie side by side have
 * every corner of their border in common; what lies side by side and is of one
 * kind is one part. */
#include "base/alloc.h"
#include "base/fail.h"
#include "crs/geos.h"
#include "crs/pieces.h"

#include "crs/crs.h"
#include "geo/herbage.h"
#include <math.h>
#include <stdlib.h>

enum { quarter_segments = 4, most_faces = 1000 };

struct region {
    GEOSGeometry *shape; /* one polygon */
    int kind;
};

struct parting {
    GEOSContextHandle_t geos;
    const struct fw_field *field;
    GEOSGeometry *whole;
    GEOSGeometry **zones; /* of the map, in its order */
    const struct fw_kind_zones *kinds;
    GEOSGeometry *outside; /* the outer boundary */
    struct region *regions;
    size_t region_count;
    double joined_m2;
    struct fw_error *err;
};

static void release(struct parting *parting)
{
    GEOSContextHandle_t geos = parting->geos;
    for (size_t i = 0; parting->zones && i < parting->kinds->count; i++)
        GEOSGeom_destroy_r(geos, parting->zones[i]);
    for (size_t i = 0; i < parting->region_count; i++)
        GEOSGeom_destroy_r(geos, parting->regions[i].shape);
    GEOSGeom_destroy_r(geos, parting->whole);
    GEOSGeom_destroy_r(geos, parting->outside);
    fw_free(parting->zones);
    fw_free(parting->regions);
    if (geos)
        GEOS_finish_r(geos);
}

static enum fw_status unsound(struct parting *parting)
{
    return fw_fail(parting->err, FW_EINPUT,
                   "it cannot be parted by the zones of its grass; are their "
                   "shapes sound?");
}

/* ---- faces ---- */

static enum fw_status take_zones(struct parting *parting)
{
    GEOSContextHandle_t geos = parting->geos;
    parting->whole = fw_geos_field(geos, parting->field);
    parting->zones = fw_alloc(parting->kinds->count, sizeof *parting->zones);
    const GEOSGeometry *ring =
        parting->whole && GEOSGeomTypeId_r(geos, parting->whole) == GEOS_POLYGON
            ? GEOSGetExteriorRing_r(geos, parting->whole)
            : NULL;
    parting->outside = ring ? GEOSGeom_clone_r(geos, ring) : NULL;
    if (!parting->whole || !parting->zones)
        return fw_fail_memory(parting->err);
    if (!parting->outside)
        return unsound(parting);
    for (size_t i = 0; i < parting->kinds->count; i++) {
        const struct fw_kind_zone *zone = &parting->kinds->zones[i];
        parting->zones[i] = fw_geos_shape(geos, zone->points, zone->ring_start,
                                          zone->ring_count, true);
        if (!parting->zones[i])
            return unsound(parting);
    }
    return FW_OK;
}

/* All boundaries, with a vertex wherever two of them meet. */
static GEOSGeometry *node(const struct parting *parting)
{
    GEOSContextHandle_t geos = parting->geos;
    GEOSGeometry *lines = GEOSBoundary_r(geos, parting->whole);
    for (size_t i = 0; lines && i < parting->kinds->count; i++) {
        GEOSGeometry *edge = GEOSBoundary_r(geos, parting->zones[i]);
        GEOSGeometry *more = edge ? GEOSUnion_r(geos, lines, edge) : NULL;
        GEOSGeom_destroy_r(geos, edge);
        GEOSGeom_destroy_r(geos, lines);
        lines = more;
    }
    return lines;
}

/* Where zones overlap the later one holds. */
static int kind_at(const struct parting *parting, const GEOSGeometry *point)
{
    int kind = parting->kinds->base;
    for (size_t i = 0; i < parting->kinds->count; i++)
        if (GEOSIntersects_r(parting->geos, parting->zones[i], point) == 1)
            kind = parting->kinds->zones[i].kind;
    return kind;
}

/* false: it is not on the field. */
static bool take_face(struct parting *parting, const GEOSGeometry *face,
                      bool *good)
{
    GEOSContextHandle_t geos = parting->geos;
    GEOSGeometry *in = GEOSPointOnSurface_r(geos, face);
    bool on = false;
    *good = in != NULL;
    if (in && GEOSIntersects_r(geos, parting->whole, in) == 1) {
        struct region *to = &parting->regions[parting->region_count];
        *to =
            (struct region){GEOSGeom_clone_r(geos, face), kind_at(parting, in)};
        on = *good = to->shape != NULL;
    }
    GEOSGeom_destroy_r(geos, in);
    return on;
}

static enum fw_status find_faces(struct parting *parting)
{
    GEOSContextHandle_t geos = parting->geos;
    GEOSGeometry *lines = node(parting);
    const GEOSGeometry *list[1] = {lines};
    GEOSGeometry *faces = lines ? GEOSPolygonize_r(geos, list, 1) : NULL;
    GEOSGeom_destroy_r(geos, lines);
    if (!faces)
        return unsound(parting);
    const int count = GEOSGetNumGeometries_r(geos, faces);
    bool good = true;
    enum fw_status status = FW_OK;
    if (count > most_faces)
        status = fw_fail(parting->err, FW_EINPUT,
                         "the zones of its grass cut it into %d; expected at "
                         "most %d",
                         count, (int)most_faces);
    else if (!(parting->regions =
                   fw_alloc((size_t)count, sizeof *parting->regions)))
        status = fw_fail_memory(parting->err);
    for (int i = 0; !status && good && i < count; i++)
        if (take_face(parting, GEOSGetGeometryN_r(geos, faces, i), &good))
            parting->region_count++;
    GEOSGeom_destroy_r(geos, faces);
    return status ? status : good ? FW_OK : unsound(parting);
}

/* ---- regions ---- */

static double common_m(const struct parting *parting, const GEOSGeometry *a,
                       const GEOSGeometry *b)
{
    GEOSContextHandle_t geos = parting->geos;
    double length_m = 0;
    GEOSGeometry *common = GEOSIntersection_r(geos, a, b);
    if (!common || !GEOSLength_r(geos, common, &length_m))
        length_m = 0;
    GEOSGeom_destroy_r(geos, common);
    return length_m;
}

/* How long their common border is. */
static double border_m(const struct parting *parting, size_t a, size_t b)
{
    return common_m(parting, parting->regions[a].shape,
                    parting->regions[b].shape);
}

static bool join(struct parting *parting, size_t to, size_t from)
{
    GEOSContextHandle_t geos = parting->geos;
    struct region *regions = parting->regions;
    GEOSGeometry *both = fw_geos_areas(
        geos, GEOSUnion_r(geos, regions[to].shape, regions[from].shape));
    if (!both)
        return false;
    GEOSGeom_destroy_r(geos, regions[to].shape);
    GEOSGeom_destroy_r(geos, regions[from].shape);
    regions[to].shape = both;
    regions[from] = regions[--parting->region_count];
    return true;
}

/* Two of one kind that lie side by side; false: there are none. */
static bool find_alike(const struct parting *parting, size_t *a, size_t *b)
{
    for (size_t i = 0; i < parting->region_count; i++)
        for (size_t j = i + 1; j < parting->region_count; j++)
            if (parting->regions[i].kind == parting->regions[j].kind &&
                border_m(parting, i, j) > 0) {
                *a = i;
                *b = j;
                return true;
            }
    return false;
}

/* Nobody fences what is narrower than that all along; and a fence about what
 * lies in the midst of the field would hang on nothing. */
static bool is_slight(const struct parting *parting, size_t at)
{
    GEOSContextHandle_t geos = parting->geos;
    const GEOSGeometry *shape = parting->regions[at].shape;
    GEOSGeometry *edge = GEOSBoundary_r(geos, shape);
    const bool inside = edge && !(common_m(parting, edge, parting->outside) >
                                  parting->kinds->least_width_m);
    GEOSGeom_destroy_r(geos, edge);
    if (inside || fw_geos_area_m2(geos, shape) < FW_LEAST_FIELD_M2)
        return true;
    GEOSGeometry *core = GEOSBuffer_r(
        geos, shape, -parting->kinds->least_width_m / 2, quarter_segments);
    const bool slight = core && GEOSisEmpty_r(geos, core) == 1;
    GEOSGeom_destroy_r(geos, core);
    return slight;
}

/* It goes to the neighbour with which it has the longest border. */
static bool find_slight(const struct parting *parting, size_t *slight,
                        size_t *neighbour)
{
    for (size_t i = 0; i < parting->region_count; i++) {
        double longest_m = 0;
        if (!is_slight(parting, i))
            continue;
        for (size_t j = 0; j < parting->region_count; j++) {
            const double m = j == i ? 0 : border_m(parting, i, j);
            if (m > longest_m) {
                longest_m = m;
                *neighbour = j;
            }
        }
        *slight = i;
        if (longest_m > 0)
            return true;
    }
    return false;
}

static enum fw_status settle(struct parting *parting)
{
    size_t a = 0, b = 0;
    bool good = true;
    for (bool again = true; good && again;) {
        while (good && find_alike(parting, &a, &b))
            good = join(parting, a, b);
        again = good && find_slight(parting, &b, &a);
        if (!again)
            break;
        parting->joined_m2 +=
            fw_geos_area_m2(parting->geos, parting->regions[b].shape);
        good = join(parting, a, b);
    }
    return good ? FW_OK : unsound(parting);
}

/* ---- parts ---- */

static int by_size(const void *one, const void *other)
{
    return fw_pieces_by_size(((const struct fw_kind_part *)one)->field,
                             ((const struct fw_kind_part *)other)->field);
}

static enum fw_status take_parts(struct parting *parting, struct fw_crs *crs,
                                 struct fw_kind_parts *out)
{
    struct fw_pieces from = {0};
    struct fw_kind_parts parts = {
        .items = fw_alloc(parting->region_count, sizeof *parts.items)};
    if (!parts.items)
        return fw_fail_memory(parting->err);
    enum fw_status status =
        fw_pieces_init(&from, parting->geos, parting->field, crs, parting->err);
    while (!status && parts.count < parting->region_count) {
        const struct region *region = &parting->regions[parts.count];
        struct fw_kind_part *to = &parts.items[parts.count];
        status = fw_pieces_take(&from, region->shape, &to->field, parting->err);
        if (status)
            break;
        to->kind = region->kind;
        parts.count++;
    }
    fw_pieces_release(&from);
    if (status) {
        fw_kind_parts_release(&parts);
        return status;
    }
    if (parts.count > 0)
        qsort(parts.items, parts.count, sizeof *parts.items, by_size);
    parts.joined_m2 = parting->joined_m2;
    *out = parts;
    return FW_OK;
}

void fw_kind_parts_release(struct fw_kind_parts *parts)
{
    for (size_t i = 0; i < parts->count; i++)
        fw_field_free(parts->items[i].field);
    fw_free(parts->items);
    *parts = (struct fw_kind_parts){0};
}

enum fw_status fw_field_part(const struct fw_field *field,
                             const struct fw_kind_zones *kinds,
                             struct fw_crs *crs, struct fw_kind_parts *out,
                             struct fw_error *err)
{
    struct parting parting = {
        .geos = GEOS_init_r(), .field = field, .kinds = kinds, .err = err};
    if (!parting.geos)
        return fw_fail_memory(err);
    enum fw_status status = take_zones(&parting);
    if (!status)
        status = find_faces(&parting);
    if (!status)
        status = settle(&parting);
    if (!status)
        status = take_parts(&parting, crs, out);
    release(&parting);
    return status;
}
