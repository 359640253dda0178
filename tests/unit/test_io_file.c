/* Files in place whole or not at all, and GeoPackages. */
#include "io/io.h"
#include "io/put.h"
#include "scratch.h"
#include <foldwright/date.h>

#include <errno.h>
#include <fcntl.h>
#include <gdal.h>
#include <ogr_api.h>
#include <signal.h>
#include <sys/resource.h>
#include <sys/wait.h>

static char *content(const char *path)
{
    char *bytes = NULL;
    size_t count = 0;
    struct fw_error err = {0};
    if (fw_file_get(path, 1 << 24, &bytes, &count, &err))
        fail_msg("%s", err.text);
    return bytes;
}

static void holds(const char *path, const char *wanted)
{
    char *bytes = content(path);
    assert_string_equal(bytes, wanted);
    fw_bytes_free(bytes);
}

static void refuses_to_put(const char *path, const char *expected)
{
    struct fw_error err = {0};
    assert_int_equal(fw_file_put(path, "new", 3, &err), FW_EOUTPUT);
    if (strncmp(err.text, path, strlen(path)) != 0 ||
        !strstr(err.text, expected))
        fail_msg("\"%s\" does not tell of \"%s\"", err.text, expected);
}

/* ---- putting ---- */

static void new_file_holds_its_bytes_and_nothing_else_is_left(void **state)
{
    struct scratch *scratch = *state;
    const char *path = in_scratch(scratch, "a.txt");
    assert_int_equal(fw_file_put(path, "one", 3, NULL), FW_OK);
    holds(path, "one");
    assert_int_equal(fw_file_put(path, "", 0, NULL), FW_OK);
    holds(path, "");
    char *list = listing(scratch->path);
    assert_int_equal(strspn(list, "a.txt"), 5);
    assert_ptr_equal(strchr(list, '\n'), list + strlen(list) - 1);
    free(list);
}

static void mode_of_the_old_file_stays(void **state)
{
    const char *path = in_scratch(*state, "real.txt");
    put_text(path, "old");
    assert_int_equal(chmod(path, 0640), 0);
    assert_int_equal(fw_file_put(path, "new", 3, NULL), FW_OK);
    struct stat info;
    assert_int_equal(lstat(path, &info), 0);
    assert_int_equal(info.st_mode & 0777, 0640);
    holds(path, "new");
}

static void link_is_replaced_and_what_it_names_stays(void **state)
{
    const char *path = in_scratch(*state, "real.txt");
    const char *link = in_scratch(*state, "link.txt");
    put_text(path, "old");
    assert_int_equal(symlink(path, link), 0);
    assert_int_equal(fw_file_put(link, "new", 3, NULL), FW_OK);
    struct stat info;
    assert_int_equal(lstat(link, &info), 0);
    assert_true(S_ISREG(info.st_mode));
    holds(link, "new");
    holds(path, "old");
}

static void file_that_nobody_may_write_is_left_alone(void **state)
{
    const char *path = in_scratch(*state, "a.txt");
    put_text(path, "old");
    assert_int_equal(chmod(path, 0444), 0);
    refuses_to_put(path, "you may not write there");
    holds(path, "old");
}

static void new_file_has_the_mode_that_the_mask_gives(void **state)
{
    const char *path = in_scratch(*state, "a.txt");
    const mode_t before = umask(027);
    assert_int_equal(fw_file_put(path, "a", 1, NULL), FW_OK);
    umask(before);
    struct stat info;
    assert_int_equal(lstat(path, &info), 0);
    assert_int_equal(info.st_mode & 0777, 0640);
}

static void what_cannot_be_written_is_said(void **state)
{
    struct scratch *scratch = *state;
    refuses_to_put(in_scratch(scratch, "no/such/a.txt"), "is not there");
    refuses_to_put(scratch->path, "it is a folder");
    refuses_to_put("/dev/full", "the disk is full");
    char name[400];
    memset(name, 'n', sizeof name - 1);
    name[sizeof name - 1] = '\0';
    refuses_to_put(in_scratch(scratch, name), "too long");
}

/* A limit on the size of files stands for a disk that fills up half way. */
static void full_disk_leaves_the_old_file(void **state)
{
    struct scratch *scratch = *state;
    const char *path = in_scratch(scratch, "a.txt");
    put_text(path, "old");
    char *before = listing(scratch->path);
    const pid_t child = fork();
    if (child == 0) {
        static char bytes[100000];
        struct fw_error err = {0};
        signal(SIGXFSZ, SIG_IGN);
        setrlimit(RLIMIT_FSIZE, &(struct rlimit){1000, 1000});
        const enum fw_status status =
            fw_file_put(path, bytes, sizeof bytes, &err);
        _exit(status == FW_EOUTPUT && *err.text ? 0 : 1);
    }
    int status = -1;
    assert_int_equal(waitpid(child, &status, 0), child);
    assert_int_equal(status, 0);
    char *after = listing(scratch->path);
    assert_string_equal(before, after);
    holds(path, "old");
    free(before);
    free(after);
}

static void geopackage_that_is_open_elsewhere_is_left_alone(void **state)
{
    const char *path = in_scratch(*state, "plan.gpkg");
    put_text(path, "old");
    const char *wal = in_scratch(*state, "plan.gpkg-wal");
    put_text(wal, "changes");
    refuses_to_put(path, "close it there, or choose another -o");
    holds(path, "old");
    put_text(wal, ""); /* is left by a program that went in order */
    assert_int_equal(fw_file_put(path, "new", 3, NULL), FW_OK);
    put_text(in_scratch(*state, "plan.gpkg-journal"), "");
    refuses_to_put(path, "is open in another program");
    assert_int_equal(fw_file_put(in_scratch(*state, "plan.json"), "x", 1, NULL),
                     FW_OK);
}

static void unfinished_files_go_when_the_program_is_stopped(void **state)
{
    const char *one = in_scratch(*state, "one.tmp");
    const char *two = in_scratch(*state, "two.tmp");
    put_text(one, "x");
    put_text(two, "x");
    const int slot = fw_io__remember(one);
    fw_io__forget(fw_io__remember(two));
    errno = 77;
    fw_file_abandon();
    assert_int_equal(errno, 77);
    assert_false(exists(one));
    assert_true(exists(two));
    fw_io__forget(slot);
    for (int i = 0; i < 100; i++) /* a slot is used again */
        fw_io__forget(fw_io__remember(one));
    assert_true(fw_io__remember("again") >= 0);
    fw_file_abandon();
}

/* ---- getting, folders, sums ---- */

static void get_keeps_to_its_bound_and_names_the_file(void **state)
{
    const char *path = in_scratch(*state, "a.txt");
    put_text(path, "12345");
    char *bytes = NULL;
    size_t count = 0;
    struct fw_error err = {0};
    assert_int_equal(fw_file_get(path, 5, &bytes, &count, &err), FW_OK);
    assert_int_equal(count, 5);
    assert_string_equal(bytes, "12345");
    fw_bytes_free(bytes);
    assert_int_equal(fw_file_get(path, 4, &bytes, &count, &err), FW_EINPUT);
    assert_non_null(strstr(err.text, "over 4 bytes"));
    const char *none = in_scratch(*state, "none.txt");
    assert_int_equal(fw_file_get(none, 4, &bytes, &count, &err), FW_EINPUT);
    assert_non_null(strstr(err.text, "none.txt: no such file"));
    assert_int_equal(fw_file_get("/tmp", 4, &bytes, &count, &err), FW_EINPUT);
    assert_non_null(strstr(err.text, "/tmp: is a folder"));
}

static void pipe_is_read_to_its_end(void **state)
{
    const char *path = in_scratch(*state, "pipe");
    assert_int_equal(mkfifo(path, 0600), 0);
    enum { size = 300000 };
    const pid_t child = fork();
    if (child == 0) {
        static char bytes[size];
        memset(bytes, 'p', size);
        _exit(fw_file_put(path, bytes, size, NULL) ? 1 : 0);
    }
    char *bytes = NULL;
    size_t count = 0;
    assert_int_equal(fw_file_get(path, size, &bytes, &count, NULL), FW_OK);
    assert_int_equal(count, size);
    assert_int_equal(bytes[size - 1], 'p');
    fw_bytes_free(bytes);
    int status = -1;
    waitpid(child, &status, 0);
    assert_int_equal(status, 0);
}

static void folder_is_made_with_its_parents(void **state)
{
    const char *path = in_scratch(*state, "a/b//c/");
    assert_int_equal(fw_folder_make(path, NULL), FW_OK);
    assert_int_equal(fw_folder_make(path, NULL), FW_OK);
    assert_true(exists(in_scratch(*state, "a/b/c")));
    put_text(in_scratch(*state, "file"), "x");
    struct fw_error err = {0};
    assert_int_equal(fw_folder_make(in_scratch(*state, "file"), &err),
                     FW_EOUTPUT);
    assert_non_null(strstr(err.text, "is a file"));
    assert_int_equal(fw_folder_make(in_scratch(*state, "file/x"), &err),
                     FW_EOUTPUT);
    assert_int_equal(fw_folder_make("/proc/x", &err), FW_EOUTPUT);
}

/* ISO-HDLC's check value, and the plain definition bit by bit. */
static void crc_is_that_of_zlib(void **state)
{
    (void)state;
    assert_int_equal(fw_file_crc32("123456789", 9), 0xcbf43926);
    unsigned char bytes[1000];
    unsigned sum = 0xffffffff;
    for (unsigned i = 0; i < sizeof bytes; i++) {
        bytes[i] = (unsigned char)(i * i >> 3);
        sum ^= bytes[i];
        for (int bit = 0; bit < 8; bit++)
            sum = sum & 1 ? 0xedb88320 ^ sum >> 1 : sum >> 1;
    }
    assert_int_equal(fw_file_crc32(bytes, sizeof bytes), ~sum);
}

/* ---- GeoPackages ---- */

static struct fw_xy corners[] = {{600000.1, 5200000.3},
                                 {600100, 5200000.7},
                                 {600099.99999999, 5200100.123456789},
                                 {600000, 5200100}};
static struct fw_xy hole_and_more[] = {
    {600000.1, 5200000.3}, {600100, 5200000.7}, {600100, 5200100},
    {600080, 5200030},     {600085, 5200040},   {600090, 5200040},
    {600300, 5200000},     {600400, 5200000},   {600400, 5200100}};
static size_t one_ring[] = {0, 4}, one_piece[] = {0, 1};
static size_t three_rings[] = {0, 3, 6, 9}, two_pieces[] = {0, 2, 3};
static struct fw_xy spot = {600050, 5200050.25};

static const struct fw_column columns[] = {
    {"paddock", FW_COLUMN_TEXT},
    {"enter", FW_COLUMN_DATE},
    {"seq", FW_COLUMN_WHOLE},
    {"area_ha", FW_COLUMN_NUMBER},
};

static struct fw_value all_told[] = {{true, 0, (char *)"A01 \xC3\xA9"},
                                     {true, 20577, NULL}, /* 2026-05-04 */
                                     {true, 3, NULL},
                                     {true, 0.1 + 0.2, NULL}};
static struct fw_value none_told[] = {{false, 0, NULL},
                                      {false, 0, NULL},
                                      {false, 0, NULL},
                                      {true, (double)NAN, NULL}};

static struct fw_row paddock_rows[] = {
    {FW_FEATURE_POLYGON, corners, 4, one_ring, 1, one_piece, 1, all_told},
    {FW_FEATURE_POLYGON, hole_and_more, 9, three_rings, 3, two_pieces, 2,
     none_told},
};
static struct fw_row other_rows[] = {
    {FW_FEATURE_POINT, &spot, 1, NULL, 0, NULL, 0, all_told},
    {FW_FEATURE_LINE, corners, 4, NULL, 0, NULL, 0, all_told},
    {FW_FEATURE_NONE, NULL, 0, NULL, 0, NULL, 0, all_told},
};
static const struct fw_table tables[] = {
    {"paddocks", "paddock", FW_FEATURE_POLYGON, true, columns, 4, paddock_rows,
     2, 2, NULL, NULL},
    {"findings", "finding", FW_FEATURE_OTHER, false, columns, 4, other_rows, 3,
     3, NULL, NULL},
    {"empty", "none", FW_FEATURE_POINT, false, columns, 4, NULL, 0, 0, NULL,
     NULL},
};
static const long long epoch_s = 1777852800; /* 2026-05-04T00:00:00Z */

static void put_gpkg(const char *path, const char *crs)
{
    struct fw_error err = {0};
    if (fw_gpkg_write(path, tables, 3, crs, epoch_s, NULL, NULL, &err))
        fail_msg("%s", err.text);
}

static void geopackage_gives_back_every_bit(void **state)
{
    const char *path = in_scratch(*state, "plan.gpkg");
    put_gpkg(path, "EPSG:25832");
    const struct fw_map_request request = {
        .source = path, .layer = "paddocks", .name_column = "paddock"};
    struct fw_map *map = NULL;
    struct fw_error err = {0};
    if (fw_map_read(&request, &map, NULL, &err))
        fail_msg("%s", err.text);
    assert_int_equal(map->feature_count, 3);
    assert_memory_equal(map->features[0].shape.points, corners, sizeof corners);
    assert_string_equal(map->features[0].name, "A01 \xC3\xA9");
    assert_memory_equal(map->features[1].shape.points, hole_and_more,
                        6 * sizeof *hole_and_more);
    assert_int_equal(map->features[1].shape.ring_count, 2);
    assert_memory_equal(map->features[2].shape.points, hole_and_more + 6,
                        3 * sizeof *hole_and_more);
    assert_int_equal(map->features[2].parts, 2);
    assert_non_null(strstr(map->crs, "UTM zone 32N"));
    fw_map_free(map);
}

static void values_of_a_geopackage_have_types_and_nulls(void **state)
{
    const char *path = in_scratch(*state, "plan.gpkg");
    put_gpkg(path, "EPSG:25832");
    GDALDatasetH data = GDALOpenEx(path, GDAL_OF_VECTOR, NULL, NULL, NULL);
    assert_non_null(data);
    assert_int_equal(GDALDatasetGetLayerCount(data), 3);
    OGRLayerH layer = GDALDatasetGetLayerByName(data, "paddocks");
    assert_int_equal(OGR_L_GetGeomType(layer), wkbMultiPolygon);
    OGRFeatureH told = OGR_L_GetFeature(layer, 1);
    OGRFeatureH untold = OGR_L_GetFeature(layer, 2);
    int year, month, day, rest;
    assert_true(OGR_F_GetFieldAsDateTime(told, 1, &year, &month, &day, &rest,
                                         &rest, &rest, &rest));
    assert_int_equal(year * 10000 + month * 100 + day, 20260504);
    assert_int_equal(OGR_Fld_GetType(OGR_F_GetFieldDefnRef(told, 1)), OFTDate);
    assert_int_equal(OGR_F_GetFieldAsInteger64(told, 2), 3);
    assert_int_equal(OGR_Fld_GetType(OGR_F_GetFieldDefnRef(told, 2)),
                     OFTInteger64);
    assert_true(OGR_F_GetFieldAsDouble(told, 3) == 0.1 + 0.2);
    for (int i = 0; i < 4; i++)
        assert_true(OGR_F_IsFieldNull(untold, i));
    OGR_F_Destroy(told);
    OGR_F_Destroy(untold);
    OGRLayerH others = GDALDatasetGetLayerByName(data, "findings");
    OGRFeatureH none = OGR_L_GetFeature(others, 3);
    assert_non_null(none);
    assert_null(OGR_F_GetGeometryRef(none));
    OGR_F_Destroy(none);
    GDALClose(data);
}

/* OGC 12-128r17, clause 2.1.3: "GP", version 0, flags (here the least byte
 * first, and a box), the system, and the box; a point has none. */
static void geometries_and_contents_tell_their_box(void **state)
{
    static const struct {
        const char *sql;
        double least_x, most_x, least_y, most_y;
    } rows[] = {
        {"SELECT ST_MinX(geom), ST_MaxX(geom), ST_MinY(geom), ST_MaxY(geom) "
         "FROM paddocks WHERE hex(substr(geom, 1, 8)) = '47500003E8640000'",
         600000, 600100, 5200000.3, 5200100.123456789},
        {"SELECT ST_MinX(geom), ST_MaxX(geom), ST_MinY(geom), ST_MaxY(geom) "
         "FROM findings WHERE hex(substr(geom, 1, 8)) = '47500001E8640000'",
         600050, 600050, 5200050.25, 5200050.25},
        {"SELECT min_x, max_x, min_y, max_y FROM gpkg_contents "
         "WHERE table_name = 'paddocks'",
         600000, 600400, 5200000, 5200100.123456789},
    };
    const char *path = in_scratch(*state, "plan.gpkg");
    put_gpkg(path, "EPSG:25832");
    GDALDatasetH data = GDALOpenEx(path, GDAL_OF_VECTOR, NULL, NULL, NULL);
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        OGRLayerH found = GDALDatasetExecuteSQL(data, rows[i].sql, NULL, NULL);
        OGRFeatureH row = OGR_L_GetNextFeature(found);
        const double wanted[] = {rows[i].least_x, rows[i].most_x,
                                 rows[i].least_y, rows[i].most_y};
        assert_non_null(row);
        for (int k = 0; k < 4; k++)
            assert_true(OGR_F_GetFieldAsDouble(row, k) == wanted[k]);
        OGR_F_Destroy(row);
        GDALDatasetReleaseResultSet(data, found);
    }
    GDALClose(data);
}

static GIntBig rows_within(OGRLayerH layer, double from_m, double to_m)
{
    OGR_L_SetSpatialFilterRect(layer, spot.x + from_m, spot.y - 1,
                               spot.x + to_m, spot.y + 1);
    return OGR_L_GetFeatureCount(layer, TRUE);
}

/* They are found without one, and it would cost more to write than they do. */
static void layers_have_no_spatial_index(void **state)
{
    const char *path = in_scratch(*state, "plan.gpkg");
    enum { many = 25000 };
    static struct fw_row rows[many];
    static struct fw_xy at[many];
    for (size_t i = 0; i < many; i++) {
        at[i] = (struct fw_xy){spot.x + (double)i, spot.y};
        rows[i] = other_rows[0];
        rows[i].points = &at[i];
    }
    const struct fw_table spots = {
        "spots", "spot", FW_FEATURE_POINT, false, columns, 4, rows, many, many,
        NULL,    NULL};
    assert_int_equal(
        fw_gpkg_write(path, &spots, 1, "EPSG:25832", epoch_s, NULL, NULL, NULL),
        FW_OK);
    GDALDatasetH data = GDALOpenEx(path, GDAL_OF_VECTOR, NULL, NULL, NULL);
    OGRLayerH layer = GDALDatasetGetLayerByName(data, "spots");
    assert_int_equal(OGR_L_GetFeatureCount(layer, TRUE), many);
    assert_int_equal(rows_within(layer, 0.5, 100.5), 100);
    assert_int_equal(rows_within(layer, 0.2, 0.8), 0);
    OGRLayerH found = GDALDatasetExecuteSQL(
        data, "SELECT name FROM sqlite_master WHERE name LIKE 'rtree%'", NULL,
        NULL);
    assert_null(OGR_L_GetNextFeature(found));
    GDALDatasetReleaseResultSet(data, found);
    GDALClose(data);
}

/* The definition of the one system beside those that the format asks for. */
static void get_definition(const char *path, char *room, size_t size)
{
    GDALDatasetH data = GDALOpenEx(path, GDAL_OF_VECTOR, NULL, NULL, NULL);
    const char *sql = "SELECT definition || organization "
                      "FROM gpkg_spatial_ref_sys WHERE "
                      "srs_id NOT IN (-1, 0, 4326)";
    OGRLayerH found = GDALDatasetExecuteSQL(data, sql, NULL, NULL);
    OGRFeatureH row = OGR_L_GetNextFeature(found);
    snprintf(room, size, "%s", row ? OGR_F_GetFieldAsString(row, 0) : "none");
    OGR_F_Destroy(row);
    GDALDatasetReleaseResultSet(data, found);
    GDALClose(data);
}

/* UTM zone 32 north on ETRS89, as a map spells it out. */
#define SPELT(EASTING, NUMBER)                                                 \
    "PROJCRS[\"ETRS89 / UTM zone 32N\",BASEGEOGCRS[\"ETRS89\",DATUM["          \
    "\"European Terrestrial Reference System 1989\",ELLIPSOID["                \
    "\"GRS 1980\",6378137,298.257222101,LENGTHUNIT[\"metre\",1]]],PRIMEM["     \
    "\"Greenwich\",0,ANGLEUNIT[\"degree\",0.0174532925199433]]],CONVERSION["   \
    "\"UTM zone 32N\",METHOD[\"Transverse Mercator\"],PARAMETER["              \
    "\"Latitude of natural origin\",0],PARAMETER["                             \
    "\"Longitude of natural origin\",9],PARAMETER["                            \
    "\"Scale factor at natural origin\",0.9996],PARAMETER[\"False "            \
    "easting\"," #EASTING                                                      \
    "],PARAMETER[\"False northing\",0]],CS[Cartesian,2],AXIS[\"(E)\",east],"   \
    "AXIS[\"(N)\",north],LENGTHUNIT[\"metre\",1],ID[\"EPSG\"," #NUMBER "]]"

static void a_system_is_taken_by_its_number_where_that_is_the_same(void **state)
{
    static const struct {
        const char *crs, *easting;
        bool has_datum_number; /* which only the table knows */
        const char *from;
    } cases[] = {
        {SPELT(500000, 25832), "500000", true, "EPSG"},
        {SPELT(600000, 25832), "600000", false, "NONE"},  /* says a wrong one */
        {SPELT(500000, 987654), "500000", false, "NONE"}, /* there is none */
    };
    const char *path = in_scratch(*state, "plan.gpkg");
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        char definition[4000], easting[64];
        put_gpkg(path, cases[i].crs);
        get_definition(path, definition, sizeof definition);
        snprintf(easting, sizeof easting, "\"false_easting\",%s",
                 cases[i].easting);
        assert_non_null(strstr(definition, easting));
        assert_int_equal(strstr(definition, "AUTHORITY[\"EPSG\",\"6258\"]") !=
                             NULL,
                         cases[i].has_datum_number);
        assert_string_equal(definition + strlen(definition) - 4, cases[i].from);
    }
}

static void same_tables_give_the_same_bytes_at_any_time(void **state)
{
    (void)state;
    char *bytes[2] = {NULL, NULL};
    size_t sizes[2];
    for (int i = 0; i < 2; i++) {
        assert_int_equal(fw_gpkg_bytes(tables, 3, "OGC:CRS84", epoch_s,
                                       &bytes[i], &sizes[i], NULL),
                         FW_OK);
        /* The format's own time has whole seconds. */
        nanosleep(&(struct timespec){1, 100000000}, NULL);
    }
    assert_int_equal(sizes[0], sizes[1]);
    assert_memory_equal(bytes[0], bytes[1], sizes[0]);
    fw_bytes_free(bytes[0]);
    fw_bytes_free(bytes[1]);
}

static void what_was_written_is_told(void **state)
{
    const char *path = in_scratch(*state, "plan.gpkg");
    unsigned crc = 0;
    size_t size = 0;
    assert_int_equal(fw_gpkg_write(path, tables, 3, "EPSG:25832", epoch_s, &crc,
                                   &size, NULL),
                     FW_OK);
    char *bytes = NULL;
    size_t count = 0;
    assert_int_equal(fw_file_get(path, 1 << 24, &bytes, &count, NULL), FW_OK);
    assert_int_equal(count, size);
    assert_int_equal(fw_file_crc32(bytes, count), crc);
    fw_bytes_free(bytes);
}

static void unknown_system_is_refused_by_name(void **state)
{
    const char *path = in_scratch(*state, "plan.gpkg");
    struct fw_error err = {0};
    assert_int_equal(fw_gpkg_write(path, tables, 3, "EPSG:987654", epoch_s,
                                   NULL, NULL, &err),
                     FW_EINPUT);
    assert_non_null(strstr(err.text, "EPSG:987654"));
    assert_false(exists(path));
}

static void released_table_is_empty(void **state)
{
    (void)state;
    struct fw_table table = {.columns = columns, .column_count = 4};
    fw_table_release(&table);
    assert_null(table.rows);
    assert_int_equal(table.row_count, 0);
}

/* A stream is written to where it is, a file behind it or not: nothing is put
 * beside it and renamed. */
static void a_stream_is_written_to_where_it_is(void **state)
{
    const struct scratch *scratch = *state;
    static const char *const folders[] = {"/dev/fd", "/proc/self/fd"};
    for (size_t i = 0; i < 2; i++) {
        char path[64], read[8] = "";
        const char *name = in_scratch(scratch, "behind");
        struct fw_error err = {0};
        const int file = open(name, O_RDWR | O_CREAT | O_TRUNC, 0666);
        assert_true(file >= 0);
        snprintf(path, sizeof path, "%s/%d", folders[i], file);
        if (fw_file_put(path, "grass\n", 6, &err))
            fail_msg("%s", err.text);
        assert_int_equal(pread(file, read, sizeof read, 0), 6);
        assert_string_equal(read, "grass\n");
        close(file);
        remove(name);
    }
}

/* What a signal interrupts is removed by its handler, and nothing else. */
static void what_is_abandoned_is_removed(void **state)
{
    const struct scratch *scratch = *state;
    static const char *const names[] = {"one.txt", "two.txt"};
    const struct fw_set_rules rules = {.force = true};
    struct fw_set *set = NULL;
    struct fw_error err = {0};
    put_text(in_scratch(scratch, "kept.txt"), "kept");
    if (fw_set_begin(scratch->path, names, 2, &rules, &set, &err) ||
        fw_set_put(set, "a", 1, &err) || fw_set_put(set, "b", 1, &err))
        fail_msg("%s", err.text);
    char *before = listing(scratch->path);
    assert_non_null(strstr(before, ".tmp"));
    free(before);
    fw_file_abandon();
    char *after = listing(scratch->path);
    assert_null(strstr(after, ".tmp"));
    assert_non_null(strstr(after, "kept.txt"));
    free(after);
    fw_set_free(set);
}

/* The lesser of two that are as near, nothing that is hidden, and none that is
 * not near; looked for in the file's own folder alone. */
static void a_file_that_is_not_there_has_a_near_name_told(void **state)
{
    struct scratch *scratch = *state;
    static const char *const there[] = {"farm.yaml", "north.gpkg", "south.gpkg",
                                        ".secret.txt", "hill.yam\x1bl"};
    static const char *const rows[][2] = {
        {"farm.yml", "; did you mean farm.yaml?"},
        {"Farm.yaml", "; did you mean farm.yaml?"},
        {"fram.yaml", "; did you mean farm.yaml?"},
        {"nouth.gpkg", "; did you mean north.gpkg?"}, /* one letter off each */
        {"sorth.gpkg", "; did you mean north.gpkg?"},
        {"souht.gpkg", "; did you mean south.gpkg?"},
        {"secret.txt", ""},
        {"hill.yaml", "; did you mean hill.yam l?"},
        {"weather.csv", ""},
        {"below/farm.yml", ""},
    };
    for (size_t i = 0; i < sizeof there / sizeof *there; i++)
        put_text(in_scratch(scratch, there[i]), "x");
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        char want[700], *bytes = NULL;
        size_t count = 0;
        struct fw_error err = {0};
        const char *path = in_scratch(scratch, rows[i][0]);
        assert_int_equal(fw_file_get(path, 100, &bytes, &count, &err),
                         FW_EINPUT);
        snprintf(want, sizeof want, "%s: no such file%s", path, rows[i][1]);
        assert_string_equal(err.text, want);
        if (strstr(rows[i][1], "gpkg")) {
            struct fw_map *map = NULL;
            const struct fw_map_request request = {.source = path};
            assert_int_equal(fw_map_read(&request, &map, NULL, &err),
                             FW_EINPUT);
            assert_string_equal(err.text, want);
        }
    }
    /* Without a folder in its path: where we are. */
    char here[4096], *bytes = NULL;
    size_t count = 0;
    struct fw_error err = {0};
    assert_non_null(getcwd(here, sizeof here));
    assert_int_equal(chdir(scratch->path), 0);
    assert_int_equal(fw_file_get("farm.yml", 100, &bytes, &count, &err),
                     FW_EINPUT);
    assert_int_equal(chdir(here), 0);
    assert_string_equal(err.text,
                        "farm.yml: no such file; did you mean farm.yaml?");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        scratch_test(new_file_holds_its_bytes_and_nothing_else_is_left),
        scratch_test(a_stream_is_written_to_where_it_is),
        scratch_test(what_is_abandoned_is_removed),
        scratch_test(mode_of_the_old_file_stays),
        scratch_test(link_is_replaced_and_what_it_names_stays),
        scratch_test(file_that_nobody_may_write_is_left_alone),
        scratch_test(new_file_has_the_mode_that_the_mask_gives),
        scratch_test(what_cannot_be_written_is_said),
        scratch_test(full_disk_leaves_the_old_file),
        scratch_test(geopackage_that_is_open_elsewhere_is_left_alone),
        scratch_test(unfinished_files_go_when_the_program_is_stopped),
        scratch_test(get_keeps_to_its_bound_and_names_the_file),
        scratch_test(a_file_that_is_not_there_has_a_near_name_told),
        scratch_test(pipe_is_read_to_its_end),
        scratch_test(folder_is_made_with_its_parents),
        cmocka_unit_test(crc_is_that_of_zlib),
        scratch_test(geopackage_gives_back_every_bit),
        scratch_test(values_of_a_geopackage_have_types_and_nulls),
        scratch_test(geometries_and_contents_tell_their_box),
        scratch_test(layers_have_no_spatial_index),
        scratch_test(a_system_is_taken_by_its_number_where_that_is_the_same),
        cmocka_unit_test(same_tables_give_the_same_bytes_at_any_time),
        scratch_test(what_was_written_is_told),
        scratch_test(unknown_system_is_refused_by_name),
        cmocka_unit_test(released_table_is_empty),
    };
    return cmocka_run_group_tests_name("io_file", tests, NULL, NULL);
}
