/* Every allocation of a read or a write fails in turn: maps of each kind,
 * rasters, what was read, a set of files. */
#include "fault/refuse.h"
#include "unit/make_map.h"

#include <string.h>

static struct scratch scratch;
static const char *source; /* the map at hand */

static enum fw_status read_source(struct fw_error *err)
{
    static const char *const columns[] = {"name", "volts"};
    const struct fw_map_request request = {.source = source,
                                           .columns = columns,
                                           .column_count = 2,
                                           .close_lines = true,
                                           .voltages = true};
    struct fw_notes notes = {0};
    struct fw_map *map = NULL;
    const enum fw_status status = fw_map_read(&request, &map, &notes, err);
    if (!status)
        fw_map_free(map);
    fw_notes_release(&notes);
    return status;
}

/* One layer by its name, some of its rows, in a system that is told. */
static enum fw_status read_asked(struct fw_error *err)
{
    struct fw_inputs inputs = {0}, other = {0};
    const struct fw_map_request request = {.source = source,
                                           .layer = "land",
                                           .where = "name = 'Home'",
                                           .name_column = "name",
                                           .crs = "EPSG:25832",
                                           .inputs = &inputs};
    struct fw_map *map = NULL;
    enum fw_status status = fw_map_read(&request, &map, NULL, err);
    if (!status)
        fw_map_free(map);
    if (!status)
        status = fw_inputs_from(scratch.path, NULL, &inputs, &other, err);
    fw_inputs_release(&other);
    fw_inputs_release(&inputs);
    return status;
}

/* What only saves time is done without: columns that nobody looks at are read,
 * and a GeoPackage is taken for one that others write to. */
static void all_but(size_t without, const char *what,
                    enum fw_status (*work)(struct fw_error *))
{
    refuse_after(what, work, 10, 200, without);
}

static void maps_say_each_refused_allocation_too(void **state)
{
    (void)state;
    static char path[512];
    snprintf(path, sizeof path, "%s", in_scratch(&scratch, "land.gpkg"));
    make_map("GPKG", path, 32632, NULL);
    source = path;
    all_but(3, "a GeoPackage", read_source);
    all_but(3, "a layer of it", read_asked);
    snprintf(path, sizeof path, "%s", in_scratch(&scratch, "land.geojson"));
    make_map("GeoJSON", path, 4326, NULL);
    all_but(1, "GeoJSON", read_source);
    snprintf(path, sizeof path, "%s", in_scratch(&scratch, "walk.gpx"));
    put_text(path,
             "<gpx version=\"1.1\" creator=\"hand\"><wpt lat=\"51\" lon=\"9\">"
             "<name>Gate</name></wpt><trk><name>Edge</name><trkseg>"
             "<trkpt lat=\"51\" lon=\"9\"/><trkpt lat=\"51\" lon=\"9.01\"/>"
             "<trkpt lat=\"51.01\" lon=\"9.01\"/></trkseg></trk></gpx>");
    all_but(1, "a walk", read_source);
    char inside[600];
    snprintf(path, sizeof path, "%s", in_scratch(&scratch, "land.zip"));
    snprintf(inside, sizeof inside, "/vsizip/%s/land.geojson", path);
    make_map("GeoJSON", inside, 4326, NULL);
    all_but(1, "a bare archive", read_source);
    source = inside;
    all_but(1, "a map in an archive", read_source);
}

/* ---- rasters ---- */

static enum fw_status read_raster(struct fw_error *err)
{
    static const struct fw_lonlat places[] = {{9.001, 51.001}, {9.003, 51.002}};
    struct fw_inputs inputs = {0};
    const struct fw_raster_request request = {
        .source = source, .crs = "EPSG:4326", .inputs = &inputs};
    struct fw_notes notes = {0};
    struct fw_raster_file *file = NULL;
    struct fw_grid grid = {0};
    struct fw_crs *crs = NULL;
    size_t averaged;
    enum fw_status status = fw_raster_open(&request, &file, &notes, err);
    if (!status)
        status = fw_crs_new(fw_raster_crs(file), &crs, err);
    if (!status)
        status = fw_raster_read(file, crs, places, 2, &grid, &averaged, err);
    fw_grid_release(&grid);
    fw_crs_free(crs);
    fw_raster_close(file);
    fw_notes_release(&notes);
    fw_inputs_release(&inputs);
    return status;
}

static void rasters_say_each_refused_allocation_too(void **state)
{
    (void)state;
    static char path[512];
    snprintf(path, sizeof path, "%s", in_scratch(&scratch, "mass.asc"));
    put_text(path, "ncols 5\nnrows 4\nxllcorner 9\nyllcorner 51\n"
                   "cellsize 0.001\nNODATA_value -9\n"
                   "20 21 -9 23 24\n20 21 22 23 24\n20 21 22 23 24\n"
                   "20 21 22 23 24\n");
    source = path;
    refuse_each("a raster", read_raster, 5);
    snprintf(path, sizeof path, "%s", in_scratch(&scratch, "mass.vrt"));
    put_text(path,
             "<VRTDataset rasterXSize=\"5\" rasterYSize=\"4\">"
             "<GeoTransform>9,0.001,0,51.004,0,-0.001</GeoTransform>"
             "<VRTRasterBand dataType=\"Float32\" band=\"1\"><SimpleSource>"
             "<SourceFilename relativeToVRT=\"1\">mass.asc</SourceFilename>"
             "<SourceBand>1</SourceBand></SimpleSource></VRTRasterBand>"
             "</VRTDataset>");
    refuse_each("a virtual raster", read_raster, 5);
}

/* ---- writing ---- */

static enum fw_status write_set(struct fw_error *err)
{
    static const char *const names[] = {"one.csv", "two.txt", "three.txt"};
    const struct fw_set_rules rules = {.force = true};
    struct fw_set *set = NULL;
    enum fw_status status =
        fw_set_begin(scratch.path, names, 3, &rules, &set, err);
    for (int i = 0; !status && i < 3; i++)
        status = fw_set_put(set, "sheep", 5, err);
    if (!status)
        status = fw_set_done(set, err);
    fw_set_free(set);
    char *bytes = NULL;
    size_t count;
    if (!status)
        status = fw_file_get(in_scratch(&scratch, "one.csv"), 100, &bytes,
                             &count, err);
    fw_bytes_free(bytes);
    if (!status)
        status = fw_file_put(in_scratch(&scratch, "one.csv"), "ewe", 3, err);
    return status ? status : fw_folder_make(in_scratch(&scratch, "a/b/c"), err);
}

static enum fw_status write_table(struct fw_error *err)
{
    static const struct fw_column columns[] = {{"id", FW_COLUMN_TEXT},
                                               {"m", FW_COLUMN_NUMBER},
                                               {"n", FW_COLUMN_WHOLE},
                                               {"day", FW_COLUMN_DATE}};
    static struct fw_xy points[] = {{1, 1}, {5, 1}, {5, 4}};
    static size_t start[] = {0, 3}, pieces[] = {0, 1};
    static struct fw_value values[2][4] = {{{true, 0, (char *)"A01"},
                                            {true, 3.5, NULL},
                                            {true, 7, NULL},
                                            {true, 20576, NULL}},
                                           {{false, 0, NULL}}};
    static struct fw_row rows[] = {
        {FW_FEATURE_POLYGON, points, 3, start, 1, pieces, 1, values[0]},
        {.kind = FW_FEATURE_NONE, .values = values[1]}};
    const struct fw_table table = {.name = "paddocks",
                                   .kind = "paddock",
                                   .geometry = FW_FEATURE_POLYGON,
                                   .multi = true,
                                   .columns = columns,
                                   .column_count = 4,
                                   .rows = rows,
                                   .row_count = 2};
    unsigned crc;
    size_t size;
    char *bytes = NULL;
    enum fw_status status =
        fw_gpkg_write(in_scratch(&scratch, "out.gpkg"), &table, 1, "EPSG:32632",
                      -1, &crc, &size, err);
    if (!status)
        status = fw_gpkg_bytes(&table, 1, "EPSG:4326", -1, &bytes, &size, err);
    fw_bytes_free(bytes);
    return status;
}

static void writing_says_each_refused_allocation_too(void **state)
{
    (void)state;
    refuse_each("a set of files", write_set, 10);
    refuse_each("a table", write_table, 5);
}

static int begin(void **state)
{
    (void)state;
    scratch_make(&scratch);
    return 0;
}

static int end(void **state)
{
    (void)state;
    char command[128];
    snprintf(command, sizeof command, "rm -rf %s", scratch.path);
    return system(command);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(maps_say_each_refused_allocation_too),
        cmocka_unit_test(rasters_say_each_refused_allocation_too),
        cmocka_unit_test(writing_says_each_refused_allocation_too),
    };
    return cmocka_run_group_tests(tests, begin, end);
}
