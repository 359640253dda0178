/* Layers, columns, coordinate systems, and what reading leaves as it was. */
#include "make_map.h"

#include <cpl_conv.h>
#include <cpl_error.h>

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

/* A name is read whole up to 200 letters, and cut there. */
static void a_long_name_is_read_whole(void **state)
{
    static const char around[] =
        "{\"type\": \"FeatureCollection\", \"features\": [{\"type\": "
        "\"Feature\", \"properties\": {\"name\": \"%s\"}, \"geometry\": "
        "{\"type\": \"Polygon\", \"coordinates\": [[[9, 51], [9.003, 51], "
        "[9.003, 51.002], [9, 51]]]}}]}";
    for (size_t length = 197; length <= 202; length++) {
        const char *path = in_scratch(*state, "long.geojson");
        char name[256] = "", text[1000];
        for (size_t i = 0; i < length; i++)
            name[i] = (char)('a' + i % 26);
        snprintf(text, sizeof text, around, name);
        put_text(path, text);
        struct fw_map_request request = {.source = path};
        struct fw_map *map = read_with(&request, NULL);
        const char *read = map->features[0].name;
        assert_int_equal(strlen(read), length < 200 ? length : 200);
        assert_int_equal(strncmp(read, name, strlen(read)), 0);
        fw_map_free(map);
    }
}

/* As people draw them: a closed way with a tag is an area, an open one none. */
static void a_map_of_openstreetmap_is_read(void **state)
{
    const char *path = in_scratch(*state, "map.osm");
    put_text(path, "<osm version=\"0.6\">"
                   "<node id=\"1\" version=\"1\" lat=\"51\" lon=\"9\"/>"
                   "<node id=\"2\" version=\"1\" lat=\"51\" lon=\"9.003\"/>"
                   "<node id=\"3\" version=\"1\" lat=\"51.002\" lon=\"9.003\"/>"
                   "<node id=\"4\" version=\"1\" lat=\"51.002\" lon=\"9\"/>"
                   "<way id=\"7\" version=\"1\"><nd ref=\"1\"/><nd ref=\"2\"/>"
                   "<nd ref=\"3\"/><nd ref=\"4\"/><nd ref=\"1\"/>"
                   "<tag k=\"landuse\" v=\"meadow\"/>"
                   "<tag k=\"name\" v=\"Low Acre\"/></way>"
                   "<way id=\"8\" version=\"1\"><nd ref=\"1\"/><nd ref=\"3\"/>"
                   "<tag k=\"highway\" v=\"track\"/></way></osm>");
    struct fw_map_request request = {.source = path};
    struct fw_map *map = read_with(&request, NULL);
    assert_int_equal(map->feature_count, 1);
    assert_string_equal(map->features[0].name, "Low Acre");
    const struct fw_shape *shape = &map->features[0].shape;
    for (size_t i = 0; i < shape->point_count; i++) {
        assert_true(shape->points[i].x == 9 || shape->points[i].x == 9.003);
        assert_true(shape->points[i].y == 51 || shape->points[i].y == 51.002);
    }
    fw_map_free(map);
    request.layer = "lines";
    map = read_with(&request, NULL);
    assert_int_equal(map->feature_count, 1);
    assert_int_equal(map->features[0].kind, FW_FEATURE_LINE);
    fw_map_free(map);
}

static void a_source_without_a_name_is_refused(void **state)
{
    (void)state;
    static const char *const none[] = {NULL, ""};
    for (size_t i = 0; i < 2; i++) {
        const struct fw_map_request map = {.source = none[i]};
        const struct fw_raster_request raster = {.source = none[i]};
        struct fw_map *read = NULL;
        struct fw_raster_file *file = NULL;
        assert_int_equal(fw_map_read(&map, &read, NULL, NULL), FW_EINPUT);
        assert_int_equal(fw_raster_open(&raster, &file, NULL, NULL), FW_EINPUT);
    }
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

/* As it stands in the file: what it means is not for the reader of files. */
static void columns_of_voltages_are_kept(void **state)
{
    const char *path = in_scratch(*state, "lines.geojson");
    put_text(
        path,
        "{\"type\":\"FeatureCollection\",\"features\":["
        "{\"type\":\"Feature\",\"properties\":{\"voltage\":\"20000;"
        "110000\",\"ref\":\"7\",\"line_kV\":20},\"geometry\":{\"type\":"
        "\"LineString\",\"coordinates\":"
        "[[0,0],[1,1]]}},{\"type\":\"Feature\",\"properties\":{},"
        "\"geometry\":{\"type\":\"LineString\",\"coordinates\":[[0,0],"
        "[1,1]]}},{\"type\":\"Feature\",\"properties\":{\"other_tags\":"
        "\"\\\"note\\\"=>\\\"no \\\\\\\"voltage\\\\\\\" here\\\",\\\"voltage"
        "\\\"=>\\\"400\\\",\\\"voltage:design\\\"=>\\\"1000\\\"\"},"
        "\"geometry\":{\"type\":\"LineString\",\"coordinates\":[[0,0],"
        "[1,1]]}}]}");
    const char *const columns[] = {"ref"};
    const struct fw_map_request request = {.source = path,
                                           .columns = columns,
                                           .column_count = 1,
                                           .voltages = true};
    struct fw_map *map = read_with(&request, NULL);
    assert_int_equal(map->volt_column_count, 3);
    assert_string_equal(map->volt_columns[0], "other_tags");
    assert_string_equal(map->volt_columns[1], "voltage");
    assert_string_equal(map->volt_columns[2], "line_kV");
    char **values = map->features[0].values;
    assert_string_equal(values[0], "7");
    assert_null(values[1]);
    assert_string_equal(values[2], "20000;110000");
    assert_string_equal(values[3], "20");
    for (size_t i = 0; i < 4; i++)
        assert_null(map->features[1].values[i]);
    assert_string_equal(map->features[2].values[1], "400;1000");
    fw_map_free(map);
    map = read_map(path);
    assert_int_equal(map->volt_column_count, 0);
    assert_null(map->features[0].values);
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
    refuses(&request, "no link in a map is followed");
    request.crs = "EPSG:25832";
    struct fw_notes notes = {0};
    struct fw_map *map = read_with(&request, &notes);
    assert_int_equal(notes.count, 1);
    assert_int_equal(map->feature_count, 1);
    fw_notes_release(&notes);
    fw_map_free(map);
}

/* ---- numbers of features ---- */

/* A GeoPackage knows the number by its column's name alone; elsewhere it is
 * FID. */
static void a_filter_by_number_says_what_the_number_is_called(void **state)
{
    const char *options[] = {"FID=parcel_no", NULL};
    const char *path = in_scratch(*state, "fields.gpkg");
    make_map("GPKG", path, 32632, (char **)options);
    struct fw_map_request request = {.source = path, .where = "fid = 2"};
    refuses(&request, "called parcel_no in this layer: \"parcel_no = 3\"");
    request.where = "FID=2 AND name = 'Far'";
    refuses(&request, "called parcel_no");
    request.where = "parcel_no = 2";
    struct fw_map *map = read_with(&request, NULL);
    assert_int_equal(map->feature_count, 2); /* its two parts */
    assert_int_equal(map->features[0].fid, 2);
    fw_map_free(map);
    request.where = "fidget = 2"; /* is another word */
    refuses(&request, "cannot be used: ");
    refuses(&request, "; its columns are name");
    path = in_scratch(*state, "fields.shp");
    make_map("ESRI Shapefile", path, 32632, NULL);
    request = (struct fw_map_request){.source = path, .where = "OBJECTID = 1"};
    refuses(&request, "called FID in this layer");
    request.where = "fid = 1";
    map = read_with(&request, NULL);
    assert_int_equal(map->features[0].fid, 1);
    fw_map_free(map);
}

static void columns_that_must_exist_are_asked_for_by_name(void **state)
{
    const char *path = in_scratch(*state, "fields.gpkg");
    make_map("GPKG", path, 32632, NULL);
    const char *columns[] = {"NAME", "nmae"};
    struct fw_map_request request = {.source = path,
                                     .columns = columns,
                                     .column_count = 1,
                                     .columns_must_exist = true};
    struct fw_map *map = read_with(&request, NULL);
    assert_string_equal(map->features[0].values[0], "Home");
    assert_string_equal(map->features[2].values[0], "Far");
    fw_map_free(map);
    request.column_count = 2;
    refuses(&request, "has no column \"nmae\"; did you mean \"name\"?");
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
        scratch_test(one_of_several_layers_must_be_named),
        scratch_test(a_long_name_is_read_whole),
        scratch_test(a_map_of_openstreetmap_is_read),
        scratch_test(a_source_without_a_name_is_refused),
        scratch_test(the_only_layer_with_polygons_needs_no_name),
        scratch_test(columns_and_filters_are_checked),
        scratch_test(columns_of_voltages_are_kept),
        scratch_test(system_of_the_request_goes_over_the_files_own),
        scratch_test(empty_prj_is_no_system),
        scratch_test(a_filter_by_number_says_what_the_number_is_called),
        scratch_test(columns_that_must_exist_are_asked_for_by_name),
        scratch_test(system_behind_a_link_is_not_fetched),
        scratch_test(changes_of_an_open_geopackage_are_read),
        scratch_test(options_and_messages_of_the_host_stay),
    };
    return cmocka_run_group_tests_name("io_layer", tests, NULL, NULL);
}
