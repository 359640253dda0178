/* An invented map of two fields, made by GDAL in any of its formats, and what
 * reading it must give. */
#ifndef FW_MAKE_MAP_H
#define FW_MAKE_MAP_H

#include "io/io.h"
#include "scratch.h"

#include <gdal.h>
#include <ogr_api.h>
#include <ogr_srs_api.h>

/* ---- an invented map: two fields, one with a pond, one in two parts ---- */

static const struct fw_xy home[] = {{600000.125, 5200000.1}, /* not closed */
                                    {600200.3, 5200003.7},
                                    {600190.77777777777, 5200180.1},
                                    {599999.9, 5200170.2}};
static const struct fw_xy pond[] = {
    {600050.1, 5200050.2}, {600051.3, 5200070.4}, {600070.5, 5200071.6}};
static const struct fw_xy far_a[] = {
    {600300, 5200000}, {600400, 5200000}, {600400, 5200100}};
static const struct fw_xy far_b[] = {
    {600500, 5200000}, {600600, 5200000}, {600600, 5200100.5}};

static inline OGRGeometryH ring(const struct fw_xy *points, int count)
{
    OGRGeometryH line = OGR_G_CreateGeometry(wkbLinearRing);
    for (int i = 0; i <= count; i++)
        OGR_G_AddPoint_2D(line, points[i % count].x, points[i % count].y);
    return line;
}

static inline OGRGeometryH polygon(const struct fw_xy *points, int count)
{
    OGRGeometryH made = OGR_G_CreateGeometry(wkbPolygon);
    OGR_G_AddGeometryDirectly(made, ring(points, count));
    return made;
}

static inline void add_field(OGRLayerH layer, const char *name,
                             OGRGeometryH shape)
{
    OGRFeatureH feature = OGR_F_Create(OGR_L_GetLayerDefn(layer));
    const int column = OGR_F_GetFieldIndex(feature, "name");
    if (column >= 0)
        OGR_F_SetFieldString(feature, column, name);
    OGR_F_SetGeometryDirectly(feature, shape);
    assert_int_equal(OGR_L_CreateFeature(layer, feature), OGRERR_NONE);
    OGR_F_Destroy(feature);
}

static inline void fill(OGRLayerH layer)
{
    OGRFieldDefnH column = OGR_Fld_Create("name", OFTString);
    if (OGR_FD_GetFieldIndex(OGR_L_GetLayerDefn(layer), "name") < 0)
        OGR_L_CreateField(layer, column, TRUE);
    OGR_Fld_Destroy(column);
    OGRGeometryH first = polygon(home, 4);
    OGR_G_AddGeometryDirectly(first, ring(pond, 3));
    add_field(layer, "Home", first);
    OGRGeometryH second = OGR_G_CreateGeometry(wkbMultiPolygon);
    OGR_G_AddGeometryDirectly(second, polygon(far_a, 3));
    OGR_G_AddGeometryDirectly(second, polygon(far_b, 3));
    add_field(layer, "Far", second);
}

static inline GDALDatasetH create(const char *driver, const char *path)
{
    GDALAllRegister();
    GDALDriverH made = GDALGetDriverByName(driver);
    assert_non_null(made);
    GDALDatasetH data = GDALCreate(made, path, 0, 0, 0, GDT_Unknown, NULL);
    assert_non_null(data);
    return data;
}

static inline OGRLayerH add_layer(GDALDatasetH data, const char *name, int epsg,
                                  OGRwkbGeometryType type, char **options)
{
    OGRSpatialReferenceH srs = NULL;
    if (epsg) {
        srs = OSRNewSpatialReference(NULL);
        OSRImportFromEPSG(srs, epsg);
        OSRSetAxisMappingStrategy(srs, OAMS_TRADITIONAL_GIS_ORDER);
    }
    OGRLayerH layer = GDALDatasetCreateLayer(data, name, srs, type, options);
    assert_non_null(layer);
    if (srs)
        OSRRelease(srs);
    return layer;
}

static inline void make_map(const char *driver, const char *path, int epsg,
                            char **options)
{
    GDALDatasetH data = create(driver, path);
    fill(add_layer(data, "land", epsg, wkbUnknown, options));
    GDALClose(data);
}

/* ---- reading ---- */

static inline struct fw_map *read_with(const struct fw_map_request *request,
                                       struct fw_notes *notes)
{
    struct fw_map *map = NULL;
    struct fw_error err = {0};
    if (fw_map_read(request, &map, notes, &err))
        fail_msg("%s", err.text);
    return map;
}

static inline struct fw_map *read_map(const char *source)
{
    const struct fw_map_request request = {.source = source};
    return read_with(&request, NULL);
}

static inline void refuses(const struct fw_map_request *request,
                           const char *expected)
{
    struct fw_map *map = NULL;
    struct fw_error err = {0};
    assert_int_equal(fw_map_read(request, &map, NULL, &err), FW_EINPUT);
    assert_null(map);
    if (strncmp(err.text, request->source, strlen(request->source)) != 0 ||
        !strstr(err.text, expected))
        fail_msg("\"%s\" does not tell of \"%s\"", err.text, expected);
}

/* The ring has these points, from wherever it starts, either way round. */
static inline bool same_ring(const struct fw_xy *got, size_t count,
                             const struct fw_xy *wanted, size_t wanted_count,
                             double tolerance)
{
    if (count != wanted_count)
        return false;
    for (size_t start = 0; start < count; start++)
        for (int way = 0; way < 2; way++) {
            size_t same = 0;
            for (size_t i = 0; i < count; i++) {
                const size_t at = way ? start + count - i : start + i;
                same += fabs(got[i].x - wanted[at % count].x) <= tolerance &&
                        fabs(got[i].y - wanted[at % count].y) <= tolerance;
            }
            if (same == count)
                return true;
        }
    return false;
}

static inline bool ring_is(const struct fw_feature *feature, size_t r,
                           const struct fw_xy *wanted, size_t count,
                           double tolerance)
{
    const struct fw_shape *shape = &feature->shape;
    return same_ring(shape->points + shape->ring_start[r],
                     shape->ring_start[r + 1] - shape->ring_start[r], wanted,
                     count, tolerance);
}

static inline void check_fields(const struct fw_map *map, double tolerance)
{
    assert_int_equal(map->feature_count, 3);
    const struct fw_feature *features = map->features;
    for (size_t i = 0; i < 3; i++) {
        assert_int_equal(features[i].kind, FW_FEATURE_POLYGON);
        assert_null(features[i].odd);
    }
    assert_int_equal(features[0].shape.ring_count, 2);
    assert_true(ring_is(&features[0], 0, home, 4, tolerance));
    assert_true(ring_is(&features[0], 1, pond, 3, tolerance));
    assert_true(ring_is(&features[1], 0, far_a, 3, tolerance));
    assert_true(ring_is(&features[2], 0, far_b, 3, tolerance));
    assert_int_equal(features[0].row, 1);
    assert_int_equal(features[0].parts, 1);
    assert_int_equal(features[2].row, 2);
    assert_int_equal(features[2].part, 2);
    assert_int_equal(features[2].parts, 2);
}

static inline void names_are_kept(const struct fw_map *map)
{
    assert_string_equal(map->features[0].name, "Home");
    assert_string_equal(map->features[1].name, "Far");
    assert_string_equal(map->features[2].name, "Far");
}

#endif
