/* A map's bytes in any of the five formats, and the fields that come of them.
 * Which format it is the first bytes say, as the reader goes by the ending of
 * the name. A shapefile comes as its three files one after the other: each of
 * the first two says in its own head how long it is. */
#include "fuzz.h"

#include "crs/crs.h"
#include "io/io.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

static struct fw_error refusal;

const char *fuzz_refused(void)
{
    return refusal.text[0] ? refusal.text : NULL;
}

static bool begins(const uint8_t *bytes, size_t count, const char *with)
{
    return count >= strlen(with) && !memcmp(bytes, with, strlen(with));
}

static bool holds(const uint8_t *bytes, size_t count, const char *word)
{
    for (size_t i = 0; i < count && i < 400; i++)
        if (begins(bytes + i, count - i, word))
            return true;
    return false;
}

static const char *ending(const uint8_t *bytes, size_t count)
{
    if (begins(bytes, count, "SQLite format 3"))
        return "gpkg";
    if (begins(bytes, count, "PK"))
        return "zip";
    if (begins(bytes, count, "<"))
        return holds(bytes, count, "<gpx") ? "gpx" : "kml";
    return count >= 4 && !memcmp(bytes, "\0\0\x27\x0a", 4) ? "shp" : "geojson";
}

static void put(const char *folder, const char *last, const uint8_t *bytes,
                size_t count)
{
    char path[100];
    snprintf(path, sizeof path, "%s/map.%s", folder, last);
    FILE *file = fopen(path, "wb");
    if (!file || fwrite(bytes, 1, count, file) != count || fclose(file))
        abort();
}

/* Of .shp and .shx: in 16-bit words at byte 24, the first byte the greatest
 * (the format's published description, 1998). */
static size_t told_bytes(const uint8_t *bytes, size_t count)
{
    if (count < 28)
        return count;
    const size_t words = (size_t)bytes[24] << 24 | (size_t)bytes[25] << 16 |
                         (size_t)bytes[26] << 8 | bytes[27];
    return 2 * words < count ? 2 * words : count;
}

static void put_shapefile(const char *folder, const uint8_t *bytes,
                          size_t count)
{
    static const char wgs84[] =
        "GEOGCS[\"WGS 84\",DATUM[\"D_WGS_1984\",SPHEROID[\"WGS_1984\","
        "6378137,298.257223563]],PRIMEM[\"Greenwich\",0],"
        "UNIT[\"Degree\",0.0174532925199433]]";
    const size_t shp = told_bytes(bytes, count);
    const size_t shx = told_bytes(bytes + shp, count - shp);
    put(folder, "shp", bytes, shp);
    put(folder, "shx", bytes + shp, shx);
    put(folder, "dbf", bytes + shp + shx, count - shp - shx);
    put(folder, "prj", (const uint8_t *)wgs84, sizeof wgs84 - 1);
}

static void drop(const char *folder)
{
    static const char *const endings[] = {
        "geojson", "gpkg", "gpkg-wal", "gpkg-shm", "gpkg-journal", "zip",
        "gpx",     "kml",  "shp",      "shx",      "dbf",          "prj"};
    char path[100];
    for (size_t i = 0; i < sizeof endings / sizeof endings[0]; i++) {
        snprintf(path, sizeof path, "%s/map.%s", folder, endings[i]);
        unlink(path);
    }
    if (rmdir(folder)) /* reading leaves nothing beside the map */
        abort();
}

/* What is refused is said in one line, and never with nothing. */
static void check(enum fw_status status, const struct fw_error *err)
{
    if (status && (!err->text[0] || strchr(err->text, '\n')))
        abort();
}

static void make_fields(struct fw_map *map)
{
    struct fw_notes notes = {0};
    struct fw_error err = {0};
    struct fw_crs *crs = NULL;
    enum fw_status status = fw_crs_new(map->crs, &crs, &err);
    check(status, &err);
    for (size_t i = 0; !status && i < map->feature_count; i++) {
        struct fw_shape *shape = &map->features[i].shape;
        struct fw_field *field = NULL;
        if (map->features[i].kind != FW_FEATURE_POLYGON)
            continue;
        enum fw_status made = fw_shape_repair(shape, "map", &notes, &err);
        if (!made)
            made = fw_field_new(shape, "map", crs, &field, &err);
        check(made, &err);
        if (made)
            refusal = err;
        if (!made && !(field->area_m2 > 0))
            abort();
        fw_field_free(field);
    }
    fw_crs_free(crs);
    fw_notes_release(&notes);
}

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t count)
{
    char folder[] = "/tmp/foldwright-fuzz-XXXXXX", path[100];
    const char *last = ending(bytes, count);
    if (!mkdtemp(folder))
        abort();
    if (strcmp(last, "shp") != 0)
        put(folder, last, bytes, count);
    else
        put_shapefile(folder, bytes, count);
    snprintf(path, sizeof path, "%s/map.%s", folder, last);

    static const char *const columns[] = {"name"};
    const struct fw_map_request request = {.source = path,
                                           .close_lines = true,
                                           .columns = columns,
                                           .column_count = 1,
                                           .voltages = true,
                                           .patience_s = 5};
    struct fw_notes notes = {0};
    struct fw_map *map = NULL;
    refusal = (struct fw_error){0};
    const enum fw_status status = fw_map_read(&request, &map, &notes, &refusal);
    check(status, &refusal);
    fw_notes_release(&notes);
    drop(folder);
    if (!status && map->crs)
        make_fields(map);
    fw_map_free(map);
    return 0;
}
