/* The maps of a farm for tests/tables/forms.tsv, all about one field of 100 m
 * by 80 m at 9 degrees east, 51 north. */
#ifndef FW_FORMS_MAPS_H
#define FW_FORMS_MAPS_H

#include "farm_help.h"

#include <cpl_conv.h>
#include <gdal.h>
#include <ogr_api.h>
#include <ogr_srs_api.h>

/* Metres east and north of the field's lower left corner. */
static inline double east(double m)
{
    return 8.9992875 + m * 0.001425 / 100;
}

static inline double north(double m)
{
    return 50.9996405 + m * 0.000719 / 80;
}

struct drawn {
    const char *properties;
    bool area;
    size_t count;
    double xy[8][2];
    double hole; /* as large: about the middle */
};

static inline size_t add_ring(char *text, size_t room, const double (*xy)[2],
                              size_t count, bool closed)
{
    size_t length = (size_t)snprintf(text, room, "[");
    for (size_t i = 0; i < count + closed; i++)
        length += (size_t)snprintf(
            text + length, room - length, "%s[%.9f,%.9f]", i ? "," : "",
            east(xy[i % count][0]), north(xy[i % count][1]));
    return length + (size_t)snprintf(text + length, room - length, "]");
}

static inline size_t add_drawn(char *text, size_t room,
                               const struct drawn *drawn)
{
    const double h = drawn->hole / 2;
    const double hole[][2] = {
        {50 - h, 40 - h}, {50 - h, 40 + h}, {50 + h, 40 + h}, {50 + h, 40 - h}};
    size_t length = (size_t)snprintf(
        text, room,
        "{\"type\":\"Feature\",\"properties\":{%s},\"geometry\":{\"type\":"
        "\"%s\",\"coordinates\":%s",
        drawn->properties, drawn->area ? "Polygon" : "LineString",
        drawn->area ? "[" : "");
    length += add_ring(text + length, room - length, drawn->xy, drawn->count,
                       drawn->area);
    if (h > 0) {
        length += (size_t)snprintf(text + length, room - length, ",");
        length += add_ring(text + length, room - length, hole, 4, true);
    }
    return length + (size_t)snprintf(text + length, room - length, "%s}}",
                                     drawn->area ? "]" : "");
}

static inline void draw_map(const char *path, const struct drawn *drawn,
                            size_t count)
{
    char text[4096];
    size_t length = (size_t)snprintf(
        text, sizeof text, "{\"type\":\"FeatureCollection\",\"features\":[");
    for (size_t i = 0; i < count; i++) {
        length += (size_t)snprintf(text + length, sizeof text - length, "%s",
                                   i ? "," : "");
        length += add_drawn(text + length, sizeof text - length, &drawn[i]);
    }
    snprintf(text + length, sizeof text - length, "]}");
    put_text(path, text);
}

#define BOX(w, s, e, n)                                                        \
    true, 4,                                                                   \
    {                                                                          \
        {w, s}, {e, s}, {e, n}, {w, n},                                        \
    }
#define WAY(...) false, 2, __VA_ARGS__

/* One layer of each of two maps. */
static inline void join_layers(const char *path, const char *near,
                               const char *far)
{
    const char *const names[] = {"near", "far"}, *const maps[] = {near, far};
    GDALDatasetH out = GDALCreate(GDALGetDriverByName("GPKG"), path, 0, 0, 0,
                                  GDT_Unknown, NULL);
    assert_non_null(out);
    for (int i = 0; i < 2; i++) {
        GDALDatasetH in = GDALOpenEx(maps[i], GDAL_OF_VECTOR, NULL, NULL, NULL);
        assert_non_null(in);
        assert_non_null(GDALDatasetCopyLayer(out, GDALDatasetGetLayer(in, 0),
                                             names[i], NULL));
        GDALClose(in);
    }
    GDALClose(out);
}

/* The same map in metres. */
static inline void in_metres(const char *from, const char *path)
{
    GDALDatasetH in = GDALOpenEx(from, GDAL_OF_VECTOR, NULL, NULL, NULL);
    GDALDatasetH out = GDALCreate(GDALGetDriverByName("GPKG"), path, 0, 0, 0,
                                  GDT_Unknown, NULL);
    assert_true(in && out);
    OGRSpatialReferenceH srs = OSRNewSpatialReference(NULL);
    OSRImportFromEPSG(srs, 25832);
    OSRSetAxisMappingStrategy(srs, OAMS_TRADITIONAL_GIS_ORDER);
    OGRLayerH read = GDALDatasetGetLayer(in, 0);
    OGRLayerH made =
        GDALDatasetCreateLayer(out, "metres", srs, wkbUnknown, NULL);
    OGRFieldDefnH column = OGR_Fld_Create("name", OFTString);
    OGR_L_CreateField(made, column, TRUE);
    OGR_Fld_Destroy(column);
    for (OGRFeatureH f; (f = OGR_L_GetNextFeature(read)); OGR_F_Destroy(f)) {
        OGRFeatureH copy = OGR_F_Create(OGR_L_GetLayerDefn(made));
        OGRGeometryH shape = OGR_G_Clone(OGR_F_GetGeometryRef(f));
        assert_int_equal(OGR_G_TransformTo(shape, srs), OGRERR_NONE);
        OGR_F_SetGeometryDirectly(copy, shape);
        OGR_F_SetFieldString(copy, 0, OGR_F_GetFieldAsString(f, 0));
        assert_int_equal(OGR_L_CreateFeature(made, copy), OGRERR_NONE);
        OGR_F_Destroy(copy);
    }
    OSRRelease(srs);
    GDALClose(out);
    GDALClose(in);
}

/* Cells of 10 m about the field; a value grows to the east or to the north. */
static inline void draw_raster(const char *path, double low, double step)
{
    enum { columns = 14, rows = 12 };
    double to_map[] = {east(-20), east(10) - east(0),  0, north(100),
                       0,         north(0) - north(10)};
    GDALDatasetH out = GDALCreate(GDALGetDriverByName("GTiff"), path, columns,
                                  rows, 2, GDT_Float64, NULL);
    assert_non_null(out);
    GDALSetGeoTransform(out, to_map);
    OGRSpatialReferenceH srs = OSRNewSpatialReference(NULL);
    char *wkt = NULL;
    OSRImportFromEPSG(srs, 4326);
    OSRExportToWkt(srs, &wkt);
    GDALSetProjection(out, wkt);
    CPLFree(wkt);
    OSRDestroySpatialReference(srs);
    for (int band = 1; band <= 2; band++) {
        double cells[columns * rows];
        for (int i = 0; i < columns * rows; i++)
            cells[i] =
                low + step * (band == 1 ? i % columns : rows - i / columns);
        assert_int_equal(GDALRasterIO(GDALGetRasterBand(out, band), GF_Write, 0,
                                      0, columns, rows, cells, columns, rows,
                                      GDT_Float64, 0, 0),
                         CE_None);
    }
    GDALClose(out);
}

static inline void draw_maps(void)
{
    const struct drawn two[] = {
        {"\"name\":\"Low\",\"title\":\"Down\",\"parcel\":\"p1\",\"grazed\":1",
         BOX(0, 0, 100, 80), 0},
        {"\"name\":\"Top\",\"title\":\"Up\",\"parcel\":\"p2\",\"grazed\":2",
         BOX(120, 0, 220, 60), 0},
    };
    const struct drawn big = {"\"name\":\"Big\"", BOX(0, 0, 300, 200), 0};
    const struct drawn pond = {"\"name\":\"Pond\"", BOX(0, 0, 100, 80), 8};
    const struct drawn road[] = {
        {"\"name\":\"Lane\"", WAY({{-20, -5}, {240, -5}}), 0},
        {"\"name\":\"Back\"", WAY({{-20, 84}, {240, 84}}), 0}};
    const struct drawn woods[] = {
        {"\"name\":\"Copse\",\"grazed\":1", BOX(60, 55, 75, 70), 0},
        {"\"name\":\"Grove\",\"grazed\":2", BOX(20, 20, 40, 30), 0}};
    const struct drawn ditch = {"\"name\":\"Ditch\"",
                                WAY({{-10, 41}, {110, 43}}), 0};
    draw_map("one.geojson", two, 1);
    draw_map("two.geojson", two, 2);
    draw_map("top.geojson", two + 1, 1);
    draw_map("big.geojson", &big, 1);
    draw_map("pond.geojson", &pond, 1);
    draw_map("road.geojson", road, 1);
    draw_map("back.geojson", road + 1, 1);
    draw_map("wood.geojson", woods, 1);
    draw_map("woods.geojson", woods, 2);
    draw_map("ditch.geojson", &ditch, 1);
    GDALAllRegister();
    join_layers("land.gpkg", "one.geojson", "big.geojson");
    join_layers("ways.gpkg", "road.geojson", "back.geojson");
    draw_raster("mass.tif", 2300, 30);
    draw_raster("more.tif", 2500, 40);
    draw_raster("heights.tif", 100, 1.5);
    draw_raster("hills.tif", 100, 2.5);
}

#endif
