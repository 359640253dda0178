/* Maps in every format that people have, made here by GDAL and read back. */
#include "scratch.h"
#include <foldwright/io.h>

#include <cpl_conv.h>
#include <cpl_error.h>
#include <cpl_string.h>
#include <cpl_vsi.h>
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

static OGRGeometryH ring(const struct fw_xy *points, int count)
{
    OGRGeometryH line = OGR_G_CreateGeometry(wkbLinearRing);
    for (int i = 0; i <= count; i++)
        OGR_G_AddPoint_2D(line, points[i % count].x, points[i % count].y);
    return line;
}

static OGRGeometryH polygon(const struct fw_xy *points, int count)
{
    OGRGeometryH made = OGR_G_CreateGeometry(wkbPolygon);
    OGR_G_AddGeometryDirectly(made, ring(points, count));
    return made;
}

static void add_field(OGRLayerH layer, const char *name, OGRGeometryH shape)
{
    OGRFeatureH feature = OGR_F_Create(OGR_L_GetLayerDefn(layer));
    const int column = OGR_F_GetFieldIndex(feature, "name");
    if (column >= 0)
        OGR_F_SetFieldString(feature, column, name);
    OGR_F_SetGeometryDirectly(feature, shape);
    assert_int_equal(OGR_L_CreateFeature(layer, feature), OGRERR_NONE);
    OGR_F_Destroy(feature);
}

static void fill(OGRLayerH layer)
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

static GDALDatasetH create(const char *driver, const char *path)
{
    GDALAllRegister();
    GDALDriverH made = GDALGetDriverByName(driver);
    assert_non_null(made);
    GDALDatasetH data = GDALCreate(made, path, 0, 0, 0, GDT_Unknown, NULL);
    assert_non_null(data);
    return data;
}

static OGRLayerH add_layer(GDALDatasetH data, const char *name, int epsg,
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

static void make_map(const char *driver, const char *path, int epsg,
                     char **options)
{
    GDALDatasetH data = create(driver, path);
    fill(add_layer(data, "land", epsg, wkbUnknown, options));
    GDALClose(data);
}

/* ---- reading ---- */

static struct fw_map *read_with(const struct fw_map_request *request,
                                struct fw_notes *notes)
{
    struct fw_map *map = NULL;
    struct fw_error err = {0};
    if (fw_map_read(request, &map, notes, &err))
        fail_msg("%s", err.text);
    return map;
}

static struct fw_map *read_map(const char *source)
{
    const struct fw_map_request request = {.source = source};
    return read_with(&request, NULL);
}

static void refuses(const struct fw_map_request *request, const char *expected)
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
static bool same_ring(const struct fw_xy *got, size_t count,
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

static bool ring_is(const struct fw_feature *feature, size_t r,
                    const struct fw_xy *wanted, size_t count, double tolerance)
{
    const struct fw_shape *shape = &feature->shape;
    return same_ring(shape->points + shape->ring_start[r],
                     shape->ring_start[r + 1] - shape->ring_start[r], wanted,
                     count, tolerance);
}

static void check_fields(const struct fw_map *map, double tolerance)
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

static void names_are_kept(const struct fw_map *map)
{
    assert_string_equal(map->features[0].name, "Home");
    assert_string_equal(map->features[1].name, "Far");
    assert_string_equal(map->features[2].name, "Far");
}

/* ---- formats ---- */

static void every_format_gives_the_same_fields_without_a_trace(void **state)
{
    char *wkt_options[] = {"GEOMETRY=AS_WKT", NULL};
    char *in_order[] = {"SPATIAL_INDEX=NO", NULL};
    char *exact[] = {"COORDINATE_PRECISION=15", NULL};
    const struct {
        const char *driver, *file;
        double tolerance; /* 0: to the last bit */
        bool crs;
        char **options;
    } rows[] = {
        {"GeoJSON", "a.geojson", 0, true, exact},
        {"ESRI Shapefile", "b.shp", 0, true, NULL},
        {"GPKG", "c.gpkg", 0, true, NULL},
        {"FlatGeobuf", "d.fgb", 0, true, in_order},
        {"GML", "e.gml", 1e-8, true, NULL},
        {"MapInfo File", "f.mif", 1e-8, true, NULL},
        {"CSV", "g.csv", 1e-8, false, wkt_options},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        struct scratch *scratch = *state;
        const char *path = in_scratch(scratch, rows[i].file);
        make_map(rows[i].driver, path, rows[i].crs ? 25832 : 0,
                 rows[i].options);
        char *before = listing(scratch->path);
        struct fw_map *map = read_map(path);
        check_fields(map, rows[i].tolerance);
        names_are_kept(map);
        assert_string_equal(map->source, path);
        assert_true(!rows[i].crs || strstr(map->crs, "Transverse Mercator"));
        assert_true(rows[i].crs || !map->crs);
        char *after = listing(scratch->path);
        assert_string_equal(before, after);
        free(before);
        free(after);
        fw_map_free(map);
    }
}

static void kml_gives_longitude_before_latitude(void **state)
{
    const char *path = in_scratch(*state, "a.kml");
    put_text(path, "<kml xmlns=\"http://www.opengis.net/kml/2.2\"><Document>"
                   "<Placemark><name>Hill</name><Polygon><outerBoundaryIs>"
                   "<LinearRing><coordinates>-3.25,52.5,0 -3.125,52.5,0 "
                   "-3.125,52.625,0 -3.25,52.5,0</coordinates></LinearRing>"
                   "</outerBoundaryIs></Polygon></Placemark></Document></kml>");
    struct fw_map *map = read_map(path);
    assert_int_equal(map->feature_count, 1);
    assert_int_equal(map->features[0].shape.point_count, 3);
    assert_true(map->features[0].shape.points[1].x == -3.125);
    assert_true(map->features[0].shape.points[1].y == 52.5);
    assert_string_equal(map->features[0].name, "Hill");
    fw_map_free(map);
}

/* EPSG:4326 has latitude first, and a GML that says so by its URN too. */
static void gml_with_latitude_first_is_turned_to_x_east(void **state)
{
    const char *path = in_scratch(*state, "a.gml");
    put_text(path,
             "<?xml version=\"1.0\"?><f:FeatureCollection "
             "xmlns:f=\"http://ogr.maptools.org/\" "
             "xmlns:gml=\"http://www.opengis.net/gml/3.2\">"
             "<gml:featureMember><f:land gml:id=\"a\"><f:name>Hill</f:name>"
             "<f:geom><gml:Polygon gml:id=\"b\" "
             "srsName=\"urn:ogc:def:crs:EPSG::4326\"><gml:exterior>"
             "<gml:LinearRing><gml:posList>52.5 -3.25 52.5 -3.125 52.625 "
             "-3.125 52.5 -3.25</gml:posList></gml:LinearRing></gml:exterior>"
             "</gml:Polygon></f:geom></f:land></gml:featureMember>"
             "</f:FeatureCollection>");
    char *before = listing(((struct scratch *)*state)->path);
    struct fw_map *map = read_map(path);
    assert_true(map->features[0].shape.points[1].x == -3.125);
    assert_true(map->features[0].shape.points[1].y == 52.5);
    char *after = listing(((struct scratch *)*state)->path);
    assert_string_equal(before, after); /* GDAL would leave a .gfs here */
    free(before);
    free(after);
    fw_map_free(map);
}

/* ---- zips ---- */

static void zip_file(const char *folder, const char *from, const char *zip,
                     const char *inner)
{
    static const char *const ends[] = {".shp", ".shx", ".dbf", ".prj"};
    for (size_t i = 0; i < 4; i++) {
        char source[600], target[600];
        snprintf(source, sizeof source, "%s/%s%s", folder, from, ends[i]);
        snprintf(target, sizeof target, "/vsizip/%s/%s%s", zip, inner, ends[i]);
        assert_int_equal(CPLCopyFile(target, source), 0);
    }
}

static void zipped_shapefile_in_a_folder_is_found(void **state)
{
    struct scratch *scratch = *state;
    make_map("ESRI Shapefile", in_scratch(scratch, "land.shp"), 25832, NULL);
    const char *zip = in_scratch(scratch, "land.zip");
    zip_file(scratch->path, "land", zip, "some/where/land");
    struct fw_map *map = read_map(zip);
    check_fields(map, 0);
    fw_map_free(map);

    const char *bare = in_scratch(scratch, "download");
    assert_int_equal(rename(zip, bare), 0);
    map = read_map(bare);
    check_fields(map, 0);
    assert_string_equal(map->source, bare);
    fw_map_free(map);
}

static void zip_with_two_maps_asks_which(void **state)
{
    struct scratch *scratch = *state;
    make_map("ESRI Shapefile", in_scratch(scratch, "land.shp"), 25832, NULL);
    const char *zip = in_scratch(scratch, "both.zip");
    zip_file(scratch->path, "land", zip, "north");
    zip_file(scratch->path, "land", zip, "south");
    struct fw_map_request request = {.source = zip};
    refuses(&request, "both.zip/north.shp");
    refuses(&request, "both.zip/south.shp");
    request.layer = "south";
    struct fw_map *map = read_with(&request, NULL);
    assert_string_equal(map->layer, "south");
    fw_map_free(map);
    char inner[300];
    snprintf(inner, sizeof inner, "/vsizip/%s/north.shp", zip);
    map = read_map(inner);
    check_fields(map, 0);
    fw_map_free(map);
}

/* ---- GPX and lines ---- */

static const char gpx[] =
    "<gpx version=\"1.1\" creator=\"x\" "
    "xmlns=\"http://www.topografix.com/GPX/1/1\">"
    "<wpt lat=\"52.001\" lon=\"-3.001\"><name>gate</name></wpt>"
    "<trk><name>Top</name><trkseg>"
    "<trkpt lat=\"52\" lon=\"-3\"/><trkpt lat=\"52\" lon=\"-2.99\"/>"
    "<trkpt lat=\"52.01\" lon=\"-2.99\"/><trkpt lat=\"52.01\" lon=\"-3\"/>"
    "<trkpt lat=\"52.00001\" lon=\"-3\"/></trkseg>" /* stops 1 m short */
    "<trkseg><trkpt lat=\"53\" lon=\"-3\"/><trkpt lat=\"53\" lon=\"-2.99\"/>"
    "<trkpt lat=\"53.01\" lon=\"-2.99\"/></trkseg></trk></gpx>";

static void walked_track_becomes_a_field(void **state)
{
    const char *path = in_scratch(*state, "walk.gpx");
    put_text(path, gpx);
    const struct fw_map_request request = {.source = path, .close_lines = true};
    struct fw_notes notes = {0};
    struct fw_map *map = read_with(&request, &notes);
    assert_int_equal(map->feature_count, 2);
    assert_int_equal(map->features[0].kind, FW_FEATURE_POLYGON);
    assert_int_equal(map->features[0].shape.point_count, 5);
    assert_string_equal(map->features[0].name, "Top");
    assert_int_equal(map->features[1].parts, 2);
    assert_int_equal(map->waypoint_count, 1);
    assert_string_equal(map->waypoints[0].name, "gate");
    assert_true(map->waypoints[0].shape.points[0].y == 52.001);
    /* The second one ends 1,300 m from its start: hypot(669, 1113) by a
     * degree of latitude there of 111.3 km, and the cosine of 53 degrees. */
    assert_int_equal(notes.count, 1);
    assert_int_equal(notes.items[0].level, FW_LEVEL_WARNING);
    const char *gap = strstr(notes.items[0].text, "stops ");
    assert_non_null(gap);
    assert_near(strtod(gap + 6, NULL), 1300, 10);
    fw_notes_release(&notes);
    fw_map_free(map);
}

static void lines_stay_lines_unless_they_are_to_be_fields(void **state)
{
    const char *path = in_scratch(*state, "walk.gpx");
    put_text(path, gpx);
    struct fw_map *map = read_map(path);
    assert_int_equal(map->features[0].kind, FW_FEATURE_LINE);
    fw_map_free(map);

    const char *lines = in_scratch(*state, "lines.geojson");
    put_text(lines, "{\"type\":\"GeometryCollection\",\"geometries\":["
                    "{\"type\":\"LineString\",\"coordinates\":[[0,0],[1,0],"
                    "[1,1],[0,0]]},{\"type\":\"LineString\",\"coordinates\":"
                    "[[0,0],[1,0],[1,1]]}]}");
    const struct fw_map_request request = {.source = lines,
                                           .close_lines = true};
    map = read_with(&request, NULL);
    assert_int_equal(map->features[0].kind, FW_FEATURE_POLYGON);
    assert_int_equal(map->features[0].shape.point_count, 3);
    assert_int_equal(map->features[1].kind, FW_FEATURE_LINE);
    fw_map_free(map);
}

/* ---- layers, columns, filters ---- */

static void make_layers(const char *path)
{
    GDALDatasetH data = create("GPKG", path);
    fill(add_layer(data, "fields", 25832, wkbUnknown, NULL));
    fill(add_layer(data, "meadows", 25832, wkbUnknown, NULL));
    add_layer(data, "posts", 25832, wkbPoint, NULL);
    GDALClose(data);
}

static void one_of_several_layers_must_be_named(void **state)
{
    const char *path = in_scratch(*state, "farm.gpkg");
    make_layers(path);
    struct fw_map_request request = {.source = path};
    refuses(&request, "fields, meadows");
    request.layer = "feilds";
    refuses(&request, "did you mean \"fields\"");
    request.layer = "zzz";
    refuses(&request, "its layers are fields, meadows, posts");
    request.layer = "meadows";
    struct fw_map *map = read_with(&request, NULL);
    check_fields(map, 0);
    fw_map_free(map);
}

static void the_only_layer_with_polygons_needs_no_name(void **state)
{
    const char *path = in_scratch(*state, "farm.gpkg");
    GDALDatasetH data = create("GPKG", path);
    add_layer(data, "posts", 25832, wkbPoint, NULL);
    add_field(add_layer(data, "land", 25832, wkbPolygon, NULL), "",
              polygon(far_a, 3));
    GDALClose(data);
    struct fw_map *map = read_map(path);
    assert_string_equal(map->layer, "land");
    fw_map_free(map);
}

static void columns_and_filters_are_checked(void **state)
{
    const char *path = in_scratch(*state, "farm.gpkg");
    make_map("GPKG", path, 25832, NULL);
    struct fw_map_request request = {.source = path, .name_column = "nmae"};
    refuses(&request, "did you mean \"name\"");
    request.name_column = "NAME";
    request.where = "name = 'Far'";
    struct fw_map *map = read_with(&request, NULL);
    assert_int_equal(map->feature_count, 2);
    assert_int_equal(map->features[0].row, 1);
    assert_string_equal(map->features[0].name, "Far");
    fw_map_free(map);
    request.where = "name ===";
    refuses(&request, "name ===");
}

static void voltage_of_a_power_line_is_read(void **state)
{
    const char *path = in_scratch(*state, "lines.geojson");
    put_text(path,
             "{\"type\":\"FeatureCollection\",\"features\":["
             "{\"type\":\"Feature\",\"properties\":{\"voltage\":\"20000;"
             "110000\"},\"geometry\":{\"type\":\"LineString\",\"coordinates\":"
             "[[0,0],[1,1]]}},{\"type\":\"Feature\",\"properties\":{},"
             "\"geometry\":{\"type\":\"LineString\",\"coordinates\":[[0,0],"
             "[1,1]]}},{\"type\":\"Feature\",\"properties\":{\"other_tags\":"
             "\"\\\"cables\\\"=>\\\"3\\\",\\\"voltage\\\"=>\\\"400\\\"\"},"
             "\"geometry\":{\"type\":\"LineString\",\"coordinates\":[[0,0],"
             "[1,1]]}}]}");
    struct fw_map *map = read_map(path);
    assert_near(map->features[0].kv, 110, 0);
    assert_true(map->features[1].kv < 0);
    assert_near(map->features[2].kv, 0.4, 1e-12);
    fw_map_free(map);
}

/* ---- coordinate systems ---- */

static void system_of_the_request_goes_over_the_files_own(void **state)
{
    const char *path = in_scratch(*state, "a.gpkg");
    make_map("GPKG", path, 25832, NULL);
    const struct fw_map_request request = {.source = path, .crs = "EPSG:3035"};
    struct fw_map *map = read_with(&request, NULL);
    assert_string_equal(map->crs, "EPSG:3035");
    check_fields(map, 0);
    fw_map_free(map);
}

static void empty_prj_is_no_system(void **state)
{
    make_map("ESRI Shapefile", in_scratch(*state, "a.shp"), 25832, NULL);
    put_text(in_scratch(*state, "a.prj"), "");
    struct fw_map *map = read_map(in_scratch(*state, "a.shp"));
    assert_null(map->crs);
    fw_map_free(map);
}

static void system_behind_a_link_is_not_fetched(void **state)
{
    const char *path = in_scratch(*state, "a.geojson");
    put_text(path, "{\"type\":\"FeatureCollection\",\"crs\":{\"type\":"
                   "\"link\",\"properties\":{\"href\":\"http://localhost:1/"
                   "crs\",\"type\":\"proj4\"}},\"features\":[{\"type\":"
                   "\"Feature\",\"properties\":{},\"geometry\":{\"type\":"
                   "\"Point\",\"coordinates\":[1,2]}}]}");
    struct fw_map_request request = {.source = path};
    refuses(&request, "port 9"); /* of the proxy that is none */
    request.crs = "EPSG:25832";
    struct fw_notes notes = {0};
    struct fw_map *map = read_with(&request, &notes);
    assert_int_equal(notes.count, 1);
    assert_int_equal(map->feature_count, 1);
    fw_notes_release(&notes);
    fw_map_free(map);
}

/* ---- what else must not happen ---- */

static void changes_of_an_open_geopackage_are_read(void **state)
{
    struct scratch *scratch = *state;
    const char *path = in_scratch(scratch, "open.gpkg");
    make_map("GPKG", path, 25832, NULL);
    GDALDatasetH open =
        GDALOpenEx(path, GDAL_OF_VECTOR | GDAL_OF_UPDATE, NULL, NULL, NULL);
    assert_non_null(open);
    GDALDatasetReleaseResultSet(
        open,
        GDALDatasetExecuteSQL(open, "PRAGMA journal_mode = WAL", NULL, NULL));
    add_field(GDALDatasetGetLayer(open, 0), "New", polygon(far_a, 3));
    GDALFlushCache(open);
    assert_true(exists(in_scratch(scratch, "open.gpkg-wal")));
    struct fw_map *map = read_map(path);
    assert_int_equal(map->feature_count, 4);
    assert_string_equal(map->features[3].name, "New");
    fw_map_free(map);
    GDALClose(open);
}

static int heard;

static void CPL_STDCALL hear(CPLErr level, CPLErrorNum number, const char *text)
{
    (void)number;
    (void)text;
    heard += level >= CE_Warning;
}

static void options_and_messages_of_the_host_stay(void **state)
{
    const char *path = in_scratch(*state, "bad.geojson");
    put_text(path, "{\"type\":\"FeatureCollection\",\"features\":[{]}");
    CPLSetThreadLocalConfigOption("GDAL_PAM_ENABLED", "MINE");
    CPLPushErrorHandler(hear);
    heard = 0;
    const struct fw_map_request request = {.source = path};
    refuses(&request, "bad.geojson: ");
    assert_int_equal(heard, 0);
    assert_string_equal(CPLGetThreadLocalConfigOption("GDAL_PAM_ENABLED", ""),
                        "MINE");
    assert_null(CPLGetThreadLocalConfigOption("GDAL_HTTP_PROXY", NULL));
    CPLError(CE_Warning, CPLE_AppDefined, "to the host again");
    assert_int_equal(heard, 1);
    CPLPopErrorHandler();
    CPLSetThreadLocalConfigOption("GDAL_PAM_ENABLED", NULL);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        scratch_test(every_format_gives_the_same_fields_without_a_trace),
        scratch_test(kml_gives_longitude_before_latitude),
        scratch_test(gml_with_latitude_first_is_turned_to_x_east),
        scratch_test(zipped_shapefile_in_a_folder_is_found),
        scratch_test(zip_with_two_maps_asks_which),
        scratch_test(walked_track_becomes_a_field),
        scratch_test(lines_stay_lines_unless_they_are_to_be_fields),
        scratch_test(one_of_several_layers_must_be_named),
        scratch_test(the_only_layer_with_polygons_needs_no_name),
        scratch_test(columns_and_filters_are_checked),
        scratch_test(voltage_of_a_power_line_is_read),
        scratch_test(system_of_the_request_goes_over_the_files_own),
        scratch_test(empty_prj_is_no_system),
        scratch_test(system_behind_a_link_is_not_fetched),
        scratch_test(changes_of_an_open_geopackage_are_read),
        scratch_test(options_and_messages_of_the_host_stay),
    };
    return cmocka_run_group_tests_name("io", tests, NULL, NULL);
}
