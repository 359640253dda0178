/* From GDAL's geometry to parts of our own. */
#include "base/alloc.h"
#include "base/array.h"
#include "base/fail.h"
#include "crs/crs.h"
#include "io/map.h"

#include <math.h>
#include <string.h>

enum { most_depth = 32 };

/* A full turn in steps of one degree: 4 mm off on a curve of 100 m. */
static const double curve_step_deg = 1;

/* The points, lines and polygons that a geometry is made of, and what else was
 * in it. */
struct leaves {
    OGRGeometryH *items;
    size_t count, capacity;
    const char *odd;
};

static enum fw_feature_kind kind_of(OGRGeometryH geometry)
{
    switch (OGR_GT_Flatten(OGR_G_GetGeometryType(geometry))) {
    case wkbPoint:
        return FW_FEATURE_POINT;
    case wkbLineString:
        return FW_FEATURE_LINE;
    case wkbPolygon:
    case wkbTriangle:
        return FW_FEATURE_POLYGON;
    default:
        return FW_FEATURE_OTHER;
    }
}

static const char *why_odd(OGRwkbGeometryType type)
{
    if (OGR_GT_IsSubClassOf(type, wkbPolyhedralSurface))
        return "a surface in space, not on the ground";
    return OGR_GT_IsCurve(type) ? "a curve that cannot be made straight"
                                : "a geometry of an unknown type";
}

static enum fw_status gather(struct leaves *leaves, OGRGeometryH geometry,
                             int depth, struct fw_error *err)
{
    if (!geometry || OGR_G_IsEmpty(geometry))
        return FW_OK;
    const OGRwkbGeometryType type =
        OGR_GT_Flatten(OGR_G_GetGeometryType(geometry));
    if (OGR_GT_IsSubClassOf(type, wkbGeometryCollection)) {
        if (depth == most_depth)
            leaves->odd = "a collection of collections without end";
        const int count =
            depth < most_depth ? OGR_G_GetGeometryCount(geometry) : 0;
        for (int i = 0; i < count; i++) {
            enum fw_status status = gather(
                leaves, OGR_G_GetGeometryRef(geometry, i), depth + 1, err);
            if (status)
                return status;
        }
        return FW_OK;
    }
    if (kind_of(geometry) == FW_FEATURE_OTHER)
        leaves->odd = why_odd(type);
    enum fw_status status =
        fw_array_reserve(&leaves->items, &leaves->capacity, leaves->count + 1,
                         sizeof(OGRGeometryH), err);
    if (!status)
        leaves->items[leaves->count++] = geometry;
    return status;
}

/* Parts of different kinds have no common meaning. */
static void judge(struct leaves *leaves)
{
    for (size_t i = 1; i < leaves->count && !leaves->odd; i++)
        if (kind_of(leaves->items[i]) != kind_of(leaves->items[0]))
            leaves->odd = "a collection of different geometries";
}

/* ---- one part ---- */

static bool same(struct fw_xy a, struct fw_xy b)
{
    return a.x == b.x && a.y == b.y;
}

static void points_of(OGRGeometryH line, struct fw_xy *out, bool swapped)
{
    double *first = swapped ? &out->y : &out->x;
    double *second = swapped ? &out->x : &out->y;
    OGR_G_GetPoints(line, first, sizeof *out, second, sizeof *out, NULL, 0);
}

/* Lines of the leaf: a point and a line have one, a polygon its rings. */
static int line_count(OGRGeometryH leaf)
{
    return kind_of(leaf) == FW_FEATURE_POLYGON ? OGR_G_GetGeometryCount(leaf)
                                               : 1;
}

static OGRGeometryH line_of(OGRGeometryH leaf, int i)
{
    return kind_of(leaf) == FW_FEATURE_POLYGON ? OGR_G_GetGeometryRef(leaf, i)
                                               : leaf;
}

static enum fw_status make_room(OGRGeometryH leaf, struct fw_shape *shape,
                                struct fw_error *err)
{
    size_t points = 0;
    const int lines = line_count(leaf);
    for (int i = 0; i < lines; i++)
        points += (size_t)OGR_G_GetPointCount(line_of(leaf, i));
    shape->points = fw_alloc(points, sizeof *shape->points);
    shape->ring_start = fw_alloc((size_t)lines + 1, sizeof *shape->ring_start);
    return shape->points && shape->ring_start ? FW_OK : fw_fail_memory(err);
}

static enum fw_status shape_of(OGRGeometryH leaf, bool swapped,
                               struct fw_shape *shape, struct fw_error *err)
{
    enum fw_status status = make_room(leaf, shape, err);
    if (status)
        return status;
    const bool rings = kind_of(leaf) == FW_FEATURE_POLYGON;
    for (int i = 0; i < line_count(leaf); i++) {
        OGRGeometryH line = line_of(leaf, i);
        size_t count = (size_t)OGR_G_GetPointCount(line);
        struct fw_xy *points = shape->points + shape->point_count;
        if (count == 0)
            continue;
        points_of(line, points, swapped);
        if (rings && count > 1 && same(points[0], points[count - 1]))
            count--;
        shape->point_count += count;
        shape->ring_start[++shape->ring_count] = shape->point_count;
    }
    return FW_OK;
}

static bool is_finite(const struct fw_shape *shape)
{
    for (size_t i = 0; i < shape->point_count; i++)
        if (!isfinite(shape->points[i].x) || !isfinite(shape->points[i].y))
            return false;
    return true;
}

/* ---- lines that stand for polygons ---- */

static double length_m(const struct fw_xy *points, size_t count)
{
    double sum = 0;
    for (size_t i = 1; i < count; i++)
        sum += fw_geo_distance_m(
            (struct fw_lonlat){points[i - 1].x, points[i - 1].y},
            (struct fw_lonlat){points[i].x, points[i].y});
    return sum;
}

/* Position by satellite is some metres off; a gap beyond this was walked by
 * nobody. */
static const double usual_gap_m = 15;

static enum fw_status close_track(const struct fw_io__taker *taker,
                                  const struct fw_feature *feature,
                                  struct fw_error *err)
{
    const struct fw_shape *shape = &feature->shape;
    const struct fw_xy ends[2] = {shape->points[shape->point_count - 1],
                                  shape->points[0]};
    const double gap_m = length_m(ends, 2);
    if (gap_m <= usual_gap_m)
        return FW_OK;
    const double walked_m = length_m(shape->points, shape->point_count);
    const bool long_gap = gap_m > walked_m / 10;
    return fw_notes_add(
        taker->notes, long_gap ? FW_LEVEL_WARNING : FW_LEVEL_NOTE,
        taker->source, err,
        "%s%.0f: the walk stops %.0f m from where it started; that side is "
        "taken as straight",
        taker->tracks ? "track " : "", (double)feature->row, gap_m);
}

static enum fw_status close_line(const struct fw_io__taker *taker,
                                 struct fw_feature *feature,
                                 struct fw_error *err)
{
    struct fw_shape *shape = &feature->shape;
    const size_t count = shape->point_count;
    if (feature->kind != FW_FEATURE_LINE || count < 3)
        return FW_OK;
    const bool closed = same(shape->points[0], shape->points[count - 1]);
    if (closed && count == 3)
        return FW_OK;
    if (!closed && !taker->tracks)
        return FW_OK;
    feature->kind = FW_FEATURE_POLYGON;
    if (!closed)
        return close_track(taker, feature, err);
    shape->point_count--;
    shape->ring_start[1]--;
    return FW_OK;
}

/* ---- all of them ---- */

static enum fw_status add(struct fw_io__taker *taker,
                          const struct fw_feature *feature, const char *name,
                          struct fw_error *err)
{
    struct fw_map *map = taker->map;
    taker->points += feature->shape.point_count;
    if (taker->points > FW_IO__MOST_POINTS ||
        map->feature_count >= FW_IO__MOST_FEATURES)
        return fw_fail(err, FW_EINPUT,
                       "over %d features or %d points; take only the part of "
                       "the map that is needed",
                       FW_IO__MOST_FEATURES, FW_IO__MOST_POINTS);
    enum fw_status status =
        fw_array_reserve(&map->features, &map->feature_capacity,
                         map->feature_count + 1, sizeof *map->features, err);
    if (status)
        return status;
    char *own = name ? fw_strdup(name) : NULL;
    if (name && !own)
        return fw_fail_memory(err);
    map->features[map->feature_count] = *feature;
    map->features[map->feature_count++].name = own;
    return FW_OK;
}

static enum fw_status take_leaf(struct fw_io__taker *taker, OGRGeometryH leaf,
                                struct fw_feature part, const char *name,
                                struct fw_error *err)
{
    part.kind = kind_of(leaf);
    enum fw_status status = shape_of(leaf, taker->swapped, &part.shape, err);
    if (!status && !is_finite(&part.shape)) {
        part.kind = FW_FEATURE_OTHER;
        part.odd = "a geometry with a coordinate that is no number";
    }
    if (!status && taker->close_lines)
        status = close_line(taker, &part, err);
    if (!status)
        status = add(taker, &part, name, err);
    if (status)
        fw_shape_release(&part.shape);
    return status;
}

static enum fw_status take_nothing(struct fw_io__taker *taker,
                                   struct fw_feature part,
                                   enum fw_feature_kind kind, const char *odd,
                                   const char *name, struct fw_error *err)
{
    part.part = part.parts = 1;
    part.kind = kind;
    part.odd = odd;
    return add(taker, &part, name, err);
}

static enum fw_status take_straight(struct fw_io__taker *taker,
                                    OGRGeometryH geometry,
                                    const struct fw_feature *feature,
                                    const char *name, struct fw_error *err)
{
    struct leaves leaves = {0};
    enum fw_status status = gather(&leaves, geometry, 0, err);
    judge(&leaves);
    struct fw_feature part = *feature;
    part.parts = leaves.count;
    if (!status && leaves.odd)
        status =
            take_nothing(taker, part, FW_FEATURE_OTHER, leaves.odd, name, err);
    else if (!status && leaves.count == 0)
        status = take_nothing(taker, part, FW_FEATURE_NONE, "an empty geometry",
                              name, err);
    else
        for (size_t i = 0; i < leaves.count && !status; i++) {
            part.part = i + 1;
            status = take_leaf(taker, leaves.items[i], part, name, err);
        }
    fw_free(leaves.items);
    return status;
}

enum fw_status fw_io__take(struct fw_io__taker *taker, OGRGeometryH geometry,
                           const struct fw_feature *feature, const char *name,
                           struct fw_error *err)
{
    if (!geometry)
        return take_nothing(taker, *feature, FW_FEATURE_NONE, "no geometry",
                            name, err);
    if (!OGR_G_HasCurveGeometry(geometry, FALSE))
        return take_straight(taker, geometry, feature, name, err);
    OGRGeometryH straight =
        OGR_G_GetLinearGeometry(geometry, curve_step_deg, NULL);
    if (!straight)
        return take_nothing(taker, *feature, FW_FEATURE_OTHER,
                            "a curve that cannot be made straight", name, err);
    enum fw_status status = take_straight(taker, straight, feature, name, err);
    OGR_G_DestroyGeometry(straight);
    return status;
}
