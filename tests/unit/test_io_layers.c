/* Layers and columns by their names, zips, filters; and a GeoPackage of every
 * type of layer and value. */
#include "make_map.h"

#include "base/alloc.h"
#include "io/map.h"

#include <cpl_conv.h>
#include <cpl_string.h>
#include <cpl_vsi.h>

/* ---- layers ---- */

/* A GeoPackage with empty layers of these names. */
static const char *make_layers(void **state, const char *const *names,
                               OGRwkbGeometryType type)
{
    const char *path = in_scratch(*state, "layers.gpkg");
    GDALDatasetH data = create("GPKG", path);
    for (; *names; names++)
        add_layer(data, *names, 25832, type, NULL);
    GDALClose(data);
    return path;
}

static void layers_are_found_by_their_names(void **state)
{
    static const char *const names[] = {"North", "north_2", "Hedges", NULL};
    const char *path = make_layers(state, names, wkbUnknown);
    static const struct {
        const char *asked, *layer, *said;
    } rows[] = {
        {"North", "North", NULL},
        {"NORTH", "North", NULL},
        {"hedges", "Hedges", NULL},
        {"Hedge", NULL, "has no layer \"Hedge\"; did you mean \"Hedges\"?"},
        {"meadows", NULL,
         "has no layer \"meadows\"; its layers are North, north_2, Hedges"},
        {NULL, NULL,
         "has several layers; name the one that is meant: North, north_2, "
         "Hedges"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        const struct fw_map_request request = {.source = path,
                                               .layer = rows[i].asked};
        if (rows[i].said) {
            refuses(&request, rows[i].said);
            continue;
        }
        struct fw_notes notes = {0};
        struct fw_map *map = read_with(&request, &notes);
        assert_string_equal(map->layer, rows[i].layer);
        fw_notes_release(&notes);
        fw_map_free(map);
    }
}

/* Of layers without a name told, the one with polygons; else one that may hold
 * anything; else one with shapes at all. */
static void the_likeliest_layer_is_taken(void **state)
{
    static const struct {
        OGRwkbGeometryType types[3];
        const char *taken, *said;
    } rows[] = {
        {{wkbPoint, wkbPolygon, wkbLineString}, "b", NULL},
        {{wkbPoint, wkbUnknown, wkbMultiPolygon25D}, "c", NULL},
        {{wkbPoint, wkbUnknown, wkbLineString}, "b", NULL},
        {{wkbGeometryCollection, wkbPoint, wkbLineString}, "a", NULL},
        {{wkbNone, wkbPoint, wkbNone}, "b", NULL},
        {{wkbCurvePolygon, wkbPoint, wkbPoint}, "a", NULL},
        {{wkbMultiSurface, wkbPoint, wkbUnknown}, "a", NULL},
        {{wkbPolygon, wkbPoint, wkbMultiPolygon},
         NULL,
         "has several layers with polygons; name the one that is meant: a, c"},
        {{wkbUnknown, wkbPoint, wkbUnknown},
         NULL,
         "has several layers; name the one that is meant: a, c"},
        {{wkbPoint, wkbLineString, wkbNone},
         NULL,
         "has several layers; name the one that is meant: a, b"},
        {{wkbNone, wkbNone, wkbNone}, NULL, "holds no shapes, only a table"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        char name[40];
        snprintf(name, sizeof name, "row%zu.gpkg", i);
        const char *path = in_scratch(*state, name);
        GDALDatasetH data = create("GPKG", path);
        for (size_t k = 0; k < 3; k++)
            add_layer(data,
                      k == 0   ? "a"
                      : k == 1 ? "b"
                               : "c",
                      25832, rows[i].types[k], NULL);
        GDALClose(data);
        const struct fw_map_request request = {.source = path};
        if (rows[i].said) {
            refuses(&request, rows[i].said);
            continue;
        }
        struct fw_map *map = read_with(&request, NULL);
        if (strcmp(map->layer, rows[i].taken) != 0)
            fail_msg("row %zu: %s", i, map->layer);
        fw_map_free(map);
    }
}

#define GPX(inside)                                                            \
    "<gpx version=\"1.1\" creator=\"x\" "                                      \
    "xmlns=\"http://www.topografix.com/GPX/1/1\">" inside "</gpx>"
#define WAY "<wpt lat=\"52\" lon=\"-3\"><name>gate</name></wpt>"
#define ROUTE                                                                  \
    "<rte><rtept lat=\"52\" lon=\"-3\"/><rtept lat=\"52\" lon=\"-2.9\"/>"      \
    "<rtept lat=\"52.1\" lon=\"-3\"/></rte>"
#define TRACK                                                                  \
    "<trk><trkseg><trkpt lat=\"50\" lon=\"-3\"/><trkpt lat=\"50\" "            \
    "lon=\"-2.9\"/><trkpt lat=\"50.1\" lon=\"-3\"/></trkseg></trk>"

static void of_a_gpx_the_first_that_holds_something_is_taken(void **state)
{
    static const struct {
        const char *text, *layer;
        size_t features, waypoints;
        enum fw_feature_kind kind; /* when lines are to be fields */
    } rows[] = {
        {GPX(WAY ROUTE TRACK), "tracks", 1, 1, FW_FEATURE_POLYGON},
        {GPX(WAY ROUTE), "routes", 1, 1, FW_FEATURE_POLYGON},
        {GPX(WAY), "waypoints", 1, 1, FW_FEATURE_POINT},
        {GPX(""), "tracks", 0, 0, FW_FEATURE_NONE},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        const char *path = in_scratch(*state, "walk.gpx");
        put_text(path, rows[i].text);
        const struct fw_map_request request = {.source = path,
                                               .close_lines = true};
        struct fw_notes notes = {0};
        struct fw_map *map = read_with(&request, &notes);
        assert_string_equal(map->layer, rows[i].layer);
        assert_int_equal(map->feature_count, rows[i].features);
        assert_int_equal(map->waypoint_count, rows[i].waypoints);
        if (rows[i].features)
            assert_int_equal(map->features[0].kind, rows[i].kind);
        for (size_t k = 0; k < map->waypoint_count; k++)
            assert_string_equal(map->waypoints[k].name, "gate");
        const bool empty = !rows[i].features && !rows[i].waypoints;
        size_t told = 0;
        for (size_t k = 0; k < notes.count; k++)
            told += strstr(notes.items[k].text, "holds no features") != NULL;
        assert_int_equal(told, empty);
        fw_notes_release(&notes);
        fw_map_free(map);
    }
}

/* ---- columns ---- */

/* One point with columns of these names, each of its own name as its value. */
static const char *put_columns(void **state, const char *const *names)
{
    const char *path = in_scratch(*state, "columns.geojson");
    char text[12000] = "{\"type\":\"Feature\",\"properties\":{";
    size_t length = strlen(text);
    for (size_t i = 0; names[i]; i++)
        length += (size_t)snprintf(text + length, sizeof text - length,
                                   "%s\"%s\":\"of %s\"", i ? "," : "", names[i],
                                   names[i]);
    snprintf(text + length, sizeof text - length,
             "},\"geometry\":{\"type\":\"Point\",\"coordinates\":[1,2]}}");
    put_text(path, text);
    return path;
}

static void the_name_is_in_the_likeliest_column(void **state)
{
    static const char *const usual[] = {
        "name",       "field",     "field_name", "fieldname", "label",
        "title",      "parcel",    "plot",       "block",     "field_id",
        "identifier", "reference", "text"};
    enum { count = sizeof usual / sizeof *usual };
    /* All but the first few, in the other order. */
    for (size_t i = 0; i < count; i++) {
        const char *names[count + 2] = {"crop"};
        size_t made = 1;
        for (size_t k = count; k-- > i;)
            names[made++] = usual[k];
        struct fw_map *map = read_map(put_columns(state, names));
        char wanted[40];
        snprintf(wanted, sizeof wanted, "of %s", usual[i]);
        assert_string_equal(map->features[0].name, wanted);
        fw_map_free(map);
    }
    static const char *const others[] = {"crop", "names", NULL};
    const char *path = put_columns(state, others);
    struct fw_map *map = read_map(path);
    assert_null(map->features[0].name);
    fw_map_free(map);
    struct fw_map_request request = {.source = path, .name_column = "CROP"};
    map = read_with(&request, NULL);
    assert_string_equal(map->features[0].name, "of crop");
    fw_map_free(map);
    request.name_column = "parish";
    refuses(&request, "has no column \"parish\"; its columns are crop, names");
    request.name_column = "crip";
    refuses(&request, "has no column \"crip\"; did you mean \"crop\"?");
}

/* More columns of voltages than are kept, and more columns than may be asked
 * for. */
static void columns_are_kept_up_to_a_bound(void **state)
{
    static const char *const names[] = {"volt_1", "a",      "volt_2", "volt_3",
                                        "volt_4", "volt_5", "volt_6", "b",
                                        "volt_7", "volt_8", "volt_9", NULL};
    const char *asked[FW_MOST_COLUMNS + 1];
    for (size_t i = 0; i <= FW_MOST_COLUMNS; i++)
        asked[i] = i ? "none" : "b";
    struct fw_map_request request = {.source = put_columns(state, names),
                                     .columns = asked,
                                     .column_count = 2,
                                     .voltages = true};
    struct fw_map *map = read_with(&request, NULL);
    assert_int_equal(map->volt_column_count, FW_IO__MOST_VOLTAGES);
    assert_string_equal(map->volt_columns[0], "volt_1");
    assert_string_equal(map->volt_columns[7], "volt_8");
    assert_string_equal(map->features[0].values[0], "of b");
    assert_null(map->features[0].values[1]);
    assert_string_equal(map->features[0].values[2], "of volt_1");
    assert_string_equal(map->features[0].values[9], "of volt_8");
    fw_map_free(map);
    request.column_count = FW_MOST_COLUMNS;
    map = read_with(&request, NULL);
    fw_map_free(map);
    request.column_count = FW_MOST_COLUMNS + 1;
    struct fw_error err = {.text = ""};
    assert_int_equal(fw_map_read(&request, &map, NULL, &err), FW_EUSAGE);
    assert_non_null(strstr(err.text, "columns; expected at most"));
}

/* ---- filters ---- */

static void filters_by_number_are_known_by_their_words(void **state)
{
    (void)state;
    static const struct {
        const char *where;
        bool number;
    } rows[] = {
        {"fid = 3", true},      {"a = 1 AND FID=3", true},
        {"(fid)=3", true},      {"id = 3", true},
        {"3 = id", true},       {"ogc_fid=1", true},
        {"OBJECTID > 2", true}, {"fidget = 3", false},
        {"my_fid = 3", false},  {"xid = 3", false},
        {"id_2 = 3", false},    {"id2 = 3", false},
        {"2id = 3", false},     {"fi = 3", false},
        {"d = 3", false},       {"", false},
    };
    GDALAllRegister();
    GDALDatasetH data = create("Memory", "");
    OGRLayerH layer = add_layer(data, "land", 25832, wkbPolygon, NULL);
    const struct fw_io__session session = {.failures = 0};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        const struct fw_map_request request = {.where = rows[i].where};
        struct fw_error err = {.text = ""};
        assert_int_equal(fw_io__bad_filter(layer, &request, &session, &err),
                         FW_EINPUT);
        const bool told = strstr(err.text, "the number of a feature is called "
                                           "FID in this layer") != NULL;
        if (told != rows[i].number)
            fail_msg("%s", err.text);
        if (!told)
            assert_non_null(
                strstr(err.text, "it is no condition; its columns are "));
    }
    /* A column of that name is a column like any other. */
    OGRFieldDefnH column = OGR_Fld_Create("id", OFTInteger);
    OGR_L_CreateField(layer, column, TRUE);
    OGR_Fld_Destroy(column);
    const struct fw_map_request request = {.where = "id = 3"};
    struct fw_error err = {.text = ""};
    fw_io__bad_filter(layer, &request, &session, &err);
    assert_null(strstr(err.text, "number of a feature"));
    GDALClose(data);
}

/* ---- zips ---- */

static const char point[] =
    "{\"type\":\"FeatureCollection\",\"features\":[{\"type\":\"Feature\","
    "\"properties\":{},\"geometry\":{\"type\":\"Point\",\"coordinates\":[1,2]}"
    "}]}";

static void put_in_zip(const char *zip, const char *name)
{
    char path[700];
    snprintf(path, sizeof path, "/vsizip/%s/%s", zip, name);
    VSILFILE *file = VSIFOpenL(path, "wb");
    assert_non_null(file);
    VSIFWriteL(point, 1, strlen(point), file);
    VSIFCloseL(file);
}

static void the_map_in_a_zip_is_told_from_the_rest(void **state)
{
    static const struct {
        const char *names[4], *layer;
        const char *said; /* NULL: it is read */
    } rows[] = {
        {{"a.geojson"}, NULL, NULL},
        {{"A.GEOJSON", "read.me"}, NULL, NULL},
        {{"a.geojson", "legend.json"}, NULL, NULL},
        {{"in/legend.json", "read.me"}, NULL, NULL},
        {{"__MACOSX/a.geojson", "a.geojson"}, NULL, NULL},
        {{"in/._a.geojson", "in/a.geojson"}, NULL, NULL},
        {{"read.me"}, NULL, "is a zip without a map in it"},
        {{"__MACOSX/a.geojson"}, NULL, "is a zip without a map in it"},
        {{"a.geojson", "b.geojson"}, NULL, "/a.geojson, /vsizip/"},
        {{"a.json", "b.json"}, NULL, "/b.json"},
        {{"a.geojson", "in/b.geojson"}, "B", NULL},
        {{"a.geojson", "in/b.geojson"}, "c", "holds several maps"},
        {{"a.geojson", "in/b.geojson"}, "in/b", "holds several maps"},
        {{"a.geojson", "b.c.geojson"}, "b.c", NULL},
        {{"a.geojson", "b.geojson", "in/b.geojson"}, "b", "holds several"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        char name[40];
        snprintf(name, sizeof name, "row%zu.zip", i);
        const char *zip = in_scratch(*state, name);
        for (size_t k = 0; k < 4 && rows[i].names[k]; k++)
            put_in_zip(zip, rows[i].names[k]);
        const struct fw_map_request request = {.source = zip,
                                               .layer = rows[i].layer};
        struct fw_map *map = NULL;
        struct fw_error err = {.text = ""};
        const enum fw_status status = fw_map_read(&request, &map, NULL, &err);
        /* GeoJSON's one layer has the file's name, in its own letters. */
        const bool read = !status || strstr(err.text, "has no layer");
        if (rows[i].said ? !strstr(err.text, rows[i].said) : !read)
            fail_msg("row %zu: %s", i, err.text);
        fw_map_free(map);
    }
}

/* A geodatabase is a folder, also in a zip. */
static void folder_in_a_zip_may_be_the_map(void **state)
{
    const char *folder = in_scratch(*state, "land.gdb");
    const char *zip = in_scratch(*state, "land.zip");
    GDALAllRegister();
    if (!GDALGetMetadataItem(GDALGetDriverByName("OpenFileGDB"),
                             GDAL_DCAP_CREATE, NULL))
        skip(); /* an older GDAL cannot make one */
    GDALDatasetH data = create("OpenFileGDB", folder);
    fill(add_layer(data, "land", 25832, wkbMultiPolygon, NULL));
    GDALClose(data);
    char **names = VSIReadDir(folder);
    for (char **name = names; *name; name++) {
        char from[700], to[700];
        if (**name == '.')
            continue;
        snprintf(from, sizeof from, "%s/%s", folder, *name);
        snprintf(to, sizeof to, "/vsizip/%s/maps/land.gdb/%s", zip, *name);
        assert_int_equal(CPLCopyFile(to, from), 0);
    }
    CSLDestroy(names);
    struct fw_map *map = read_map(zip);
    assert_int_equal(map->feature_count, 3);
    assert_string_equal(map->layer, "land");
    fw_map_free(map);
}

static void long_zips_are_told_in_short(void **state)
{
    const char *zip = in_scratch(*state, "z.zip");
    for (int i = 0; i < 15; i++) {
        char name[20];
        snprintf(name, sizeof name, "%c.kml", 'a' + i);
        put_in_zip(zip, name);
    }
    const struct fw_map_request request = {.source = zip};
    struct fw_map *map = NULL;
    struct fw_error err = {.text = ""};
    assert_int_equal(fw_map_read(&request, &map, NULL, &err), FW_EINPUT);
    size_t told = 0;
    for (const char *at = err.text; (at = strstr(at, "/vsizip/")); at++)
        told++;
    assert_int_equal(told, 12);
}

/* ---- a GeoPackage of every type ---- */

static struct fw_xy corners[] = {{0, 0}, {9, 0}, {9, 9}, {0, 9},
                                 {2, 2}, {2, 3}, {3, 3}};
static size_t starts[] = {0, 4, 7};
static const struct fw_column kinds[] = {{"number", FW_COLUMN_NUMBER},
                                         {"whole", FW_COLUMN_WHOLE},
                                         {"date", FW_COLUMN_DATE},
                                         {"text", FW_COLUMN_TEXT}};

static OGRLayerH written_layer(const char *path, struct fw_table *table,
                               long long epoch_s, GDALDatasetH *data)
{
    struct fw_error err = {.text = ""};
    if (fw_gpkg_write(path, table, 1, "OGC:CRS84", epoch_s, NULL, NULL, &err))
        fail_msg("%s", err.text);
    GDALAllRegister();
    *data = GDALOpenEx(path, GDAL_OF_VECTOR, NULL, NULL, NULL);
    assert_non_null(*data);
    return GDALDatasetGetLayer(*data, 0);
}

static void layers_have_their_types_and_shapes(void **state)
{
    static const struct {
        enum fw_feature_kind of, row;
        bool multi;
        size_t points;
        OGRwkbGeometryType layer, shape;
        const char *wkt;
    } rows[] = {
        {FW_FEATURE_POINT, FW_FEATURE_POINT, false, 1, wkbPoint, wkbPoint,
         "POINT (0 0)"},
        {FW_FEATURE_LINE, FW_FEATURE_LINE, false, 3, wkbLineString,
         wkbLineString, "LINESTRING (0 0,9 0,9 9)"},
        {FW_FEATURE_LINE, FW_FEATURE_LINE, false, 0, wkbLineString,
         wkbLineString, "LINESTRING EMPTY"},
        {FW_FEATURE_POLYGON, FW_FEATURE_POLYGON, false, 7, wkbPolygon,
         wkbPolygon, "POLYGON ((0 0,9 0,9 9,0 9,0 0),(2 2,2 3,3 3,2 2))"},
        {FW_FEATURE_POLYGON, FW_FEATURE_POLYGON, true, 7, wkbMultiPolygon,
         wkbMultiPolygon,
         "MULTIPOLYGON (((0 0,9 0,9 9,0 9,0 0),(2 2,2 3,3 3,2 2)))"},
        {FW_FEATURE_OTHER, FW_FEATURE_POLYGON, false, 7, wkbUnknown, wkbPolygon,
         "POLYGON ((0 0,9 0,9 9,0 9,0 0),(2 2,2 3,3 3,2 2))"},
        {FW_FEATURE_NONE, FW_FEATURE_NONE, false, 0, wkbNone, wkbNone, NULL},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        char name[40];
        snprintf(name, sizeof name, "row%zu.gpkg", i);
        struct fw_value values[4] = {{.present = false}};
        struct fw_row row = {.kind = rows[i].row,
                             .points = corners,
                             .point_count = rows[i].points,
                             .ring_start = starts,
                             .ring_count = 2,
                             .values = values};
        struct fw_table table = {.name = "layer",
                                 .kind = "thing",
                                 .geometry = rows[i].of,
                                 .multi = rows[i].multi,
                                 .columns = kinds,
                                 .column_count = 4,
                                 .rows = &row,
                                 .row_count = 1,
                                 .id = i ? "number_of_row" : NULL};
        GDALDatasetH data;
        OGRLayerH layer =
            written_layer(in_scratch(*state, name), &table, 0, &data);
        assert_int_equal(OGR_L_GetGeomType(layer), rows[i].layer);
        assert_string_equal(OGR_L_GetFIDColumn(layer),
                            i ? "number_of_row" : "fid");
        OGRFeatureH feature = OGR_L_GetNextFeature(layer);
        for (int k = 0; k < 4; k++)
            assert_false(OGR_F_IsFieldSetAndNotNull(feature, k));
        OGRGeometryH shape = OGR_F_GetGeometryRef(feature);
        char *wkt = NULL;
        assert_int_equal(!shape, !rows[i].wkt);
        if (shape) {
            OGR_G_ExportToWkt(shape, &wkt);
            assert_string_equal(wkt, rows[i].wkt);
        }
        CPLFree(wkt);
        OGR_F_Destroy(feature);
        GDALClose(data);
    }
}

static void values_beyond_their_type_are_left_out(void **state)
{
    static const struct {
        double number;
        bool real, whole, date;
    } rows[] = {
        {0, true, true, true},
        {-7, true, true, true},
        {84005, true, true, true}, /* 2199-12-31 */
        {8.9e15, true, true, false},
        {-8.9e15, true, true, false},
        {9.1e15, true, false, false},
        {-9.1e15, true, false, false},
        {(double)NAN, false, false, false},
        {(double)INFINITY, false, false, false},
    };
    enum { count = sizeof rows / sizeof *rows };
    struct fw_value values[count][4];
    struct fw_row made[count];
    for (size_t i = 0; i < count; i++) {
        for (size_t k = 0; k < 4; k++)
            values[i][k] = (struct fw_value){.present = true,
                                             .number = rows[i].number,
                                             .text = i ? (char *)"" : NULL};
        made[i] = (struct fw_row){.kind = FW_FEATURE_NONE, .values = values[i]};
    }
    struct fw_table table = {.name = "layer",
                             .kind = "thing",
                             .geometry = FW_FEATURE_NONE,
                             .columns = kinds,
                             .column_count = 4,
                             .rows = made,
                             .row_count = count};
    GDALDatasetH data;
    OGRLayerH layer =
        written_layer(in_scratch(*state, "values.gpkg"), &table, 0, &data);
    for (size_t i = 0; i < count; i++) {
        OGRFeatureH feature = OGR_L_GetNextFeature(layer);
        const bool wanted[] = {rows[i].real, rows[i].whole, rows[i].date,
                               i > 0};
        for (int k = 0; k < 4; k++)
            if (!!OGR_F_IsFieldSetAndNotNull(feature, k) != wanted[k])
                fail_msg("row %zu, column %d", i, k);
        if (rows[i].real)
            assert_near(OGR_F_GetFieldAsDouble(feature, 0), rows[i].number, 0);
        if (rows[i].whole)
            assert_near((double)OGR_F_GetFieldAsInteger64(feature, 1),
                        rows[i].number, 0);
        int y = 0, m = 0, d = 0, rest;
        float s;
        if (rows[i].date)
            OGR_F_GetFieldAsDateTimeEx(feature, 2, &y, &m, &d, &rest, &rest, &s,
                                       &rest);
        static const int dates[3][3] = {
            {1970, 1, 1}, {1969, 12, 25}, {2199, 12, 31}};
        if (rows[i].date) {
            assert_int_equal(y, dates[i][0]);
            assert_int_equal(m, dates[i][1]);
            assert_int_equal(d, dates[i][2]);
        }
        OGR_F_Destroy(feature);
    }
    GDALClose(data);
}

/* Also before 1970, where the day is the one before. */
static void the_time_is_the_one_that_is_given(void **state)
{
    static const struct {
        long long epoch_s;
        const char *stamp;
    } rows[] = {
        {0, "1970-01-01T00:00:00"},      {86399, "1970-01-01T23:59:59"},
        {86400, "1970-01-02T00:00:00"},  {-1, "1969-12-31T23:59:59"},
        {-86400, "1969-12-31T00:00:00"}, {1777856523, "2026-05-04T01:02:03"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        char name[40];
        snprintf(name, sizeof name, "time%zu.gpkg", i);
        struct fw_table table = {.name = "layer",
                                 .kind = "thing",
                                 .geometry = FW_FEATURE_POINT,
                                 .columns = kinds,
                                 .column_count = 4};
        GDALDatasetH data;
        written_layer(in_scratch(*state, name), &table, rows[i].epoch_s, &data);
        OGRLayerH answer = GDALDatasetExecuteSQL(
            data, "SELECT last_change || '' FROM gpkg_contents", NULL, NULL);
        OGRFeatureH feature = OGR_L_GetNextFeature(answer);
        const char *got = OGR_F_GetFieldAsString(feature, 0);
        if (strncmp(got, rows[i].stamp, strlen(rows[i].stamp)) != 0)
            fail_msg("%s, not %s", got, rows[i].stamp);
        OGR_F_Destroy(feature);
        GDALDatasetReleaseResultSet(data, answer);
        GDALClose(data);
    }
}

/* Of guarded.c; a sanitizer's build has none. */
__attribute__((weak)) size_t guarded_held(void);

static void released_table_has_given_all_back(void **state)
{
    (void)state;
    const size_t before = guarded_held ? guarded_held() : 0;
    struct fw_table table = {.column_count = 2, .row_count = 2};
    table.rows = fw_alloc(2, sizeof *table.rows);
    table.own_columns = fw_alloc(2, sizeof *table.own_columns);
    for (size_t i = 0; i < 2; i++) {
        struct fw_row *row = &table.rows[i];
        table.own_columns[i].name = fw_strdup("column");
        row->points = fw_alloc(3, sizeof *row->points);
        row->ring_start = fw_alloc(2, sizeof *row->ring_start);
        row->piece_ring = fw_alloc(2, sizeof *row->piece_ring);
        if (i == 0)
            continue; /* a row without values */
        row->values = fw_alloc(2, sizeof *row->values);
        row->values[1].text = fw_strdup("value");
    }
    table.columns = table.own_columns;
    fw_table_release(&table);
    assert_null(table.rows);
    assert_null(table.own_columns);
    assert_int_equal(table.row_count, 0);
    if (guarded_held)
        assert_int_equal(guarded_held(), before);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        scratch_test(layers_are_found_by_their_names),
        scratch_test(the_likeliest_layer_is_taken),
        scratch_test(of_a_gpx_the_first_that_holds_something_is_taken),
        scratch_test(the_name_is_in_the_likeliest_column),
        scratch_test(columns_are_kept_up_to_a_bound),
        cmocka_unit_test(filters_by_number_are_known_by_their_words),
        scratch_test(the_map_in_a_zip_is_told_from_the_rest),
        scratch_test(folder_in_a_zip_may_be_the_map),
        scratch_test(long_zips_are_told_in_short),
        scratch_test(layers_have_their_types_and_shapes),
        scratch_test(values_beyond_their_type_are_left_out),
        scratch_test(the_time_is_the_one_that_is_given),
        cmocka_unit_test(released_table_has_given_all_back),
    };
    return cmocka_run_group_tests_name("io_layers", tests, NULL, NULL);
}
