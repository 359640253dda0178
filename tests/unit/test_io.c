/* Maps in every format that people have, zips and walked tracks. */
#include "make_map.h"

#include <cpl_conv.h>

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
    };
    return cmocka_run_group_tests_name("io", tests, NULL, NULL);
}
