/* Maps that are broken, odd or no maps: each ends in a message that names the
 * file, or in what truly stands in it. */
#include "io/io.h"
#include "scratch.h"

static void refuses(const char *source, const char *expected)
{
    const struct fw_map_request request = {.source = source};
    struct fw_map *map = NULL;
    struct fw_error err = {0};
    if (fw_map_read(&request, &map, NULL, &err) == FW_OK)
        fail_msg("%s was read", source);
    assert_int_equal(err.status, FW_EINPUT);
    assert_null(map);
    if (strncmp(err.text, source, strlen(source)) != 0 ||
        !strstr(err.text, expected))
        fail_msg("\"%s\" does not tell of \"%s\"", err.text, expected);
}

static struct fw_map *read_text(struct scratch *scratch, const char *name,
                                const char *text, struct fw_notes *notes)
{
    const char *path = in_scratch(scratch, name);
    put_text(path, text);
    const struct fw_map_request request = {.source = path};
    struct fw_map *map = NULL;
    struct fw_error err = {0};
    if (fw_map_read(&request, &map, notes, &err))
        fail_msg("%s", err.text);
    return map;
}

/* ---- no maps ---- */

static void what_is_no_map_is_told_apart(void **state)
{
    struct scratch *scratch = *state;
    refuses(in_scratch(scratch, "none.geojson"), "no such file");
    put_text(in_scratch(scratch, "empty.geojson"), "");
    refuses(in_scratch(scratch, "empty.geojson"), "is empty");
    put_text(in_scratch(scratch, "letter.txt"), "Dear neighbour,\n");
    refuses(in_scratch(scratch, "letter.txt"), "is not a map");
    refuses(scratch->path, "is a folder");
    put_text(in_scratch(scratch, "bad.zip"), "PK\3\4 and nothing more");
    refuses(in_scratch(scratch, "bad.zip"), "zip");
    const struct fw_map_request unnamed = {.source = ""};
    struct fw_map *map = NULL;
    assert_int_equal(fw_map_read(&unnamed, &map, NULL, NULL), FW_EINPUT);
}

static void shapefile_without_its_index_says_what_to_copy(void **state)
{
    struct scratch *scratch = *state;
    /* The header of an empty shapefile: code 9994, length 50 words, version
     * 1000, type 5 (the format's published description, 1998, p. 4). */
    static const unsigned char head[100] = {
        [2] = 0x27, [3] = 0x0a, [27] = 50, [28] = 0xe8, [29] = 0x03, [32] = 5};
    const char *path = in_scratch(scratch, "land.shp");
    FILE *file = fopen(path, "wb");
    assert_non_null(file);
    fwrite(head, 1, sizeof head, file);
    fclose(file);
    refuses(path, "no .shx file beside it");
}

static void table_without_shapes_is_no_map(void **state)
{
    const char *path = in_scratch(*state, "prices.csv");
    put_text(path, "item,price\npost,3\n");
    refuses(path, "holds no shapes");
}

/* ---- broken GeoJSON ---- */

#define FEATURE(name, coordinates)                                             \
    "{\"type\":\"Feature\",\"properties\":{\"name\":\"" name                   \
    "\"},\"geometry\":{\"type\":\"Polygon\",\"coordinates\":" coordinates "}}"
#define COLLECTION(features)                                                   \
    "{\"type\":\"FeatureCollection\",\"features\":[" features "]}"
#define RING "[[[1,1],[2,1],[2,2],[1,1]]]"

static void broken_json_is_refused_with_its_place(void **state)
{
    static const struct {
        const char *name, *text, *expected;
    } rows[] = {
        {"cut.geojson",
         "{\"type\":\"FeatureCollection\",\"features\":[" FEATURE("a",
                                                                  RING) ",",
         "character"},
        {"tail.geojson", COLLECTION(FEATURE("a", RING)) " and more",
         "character"},
        {"text.geojson",
         COLLECTION(
             FEATURE("a", RING) "," FEATURE("b", "[[[1,1],[\"2\",1],[1,1]]]")),
         "coordinate"},
        {"member.geojson", "{\"type\":\"FeatureCollection\",\"features\":3}",
         "features"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        const char *path = in_scratch(*state, rows[i].name);
        put_text(path, rows[i].text);
        refuses(path, rows[i].expected);
    }
}

static void deep_json_is_refused(void **state)
{
    enum { deep = 100000 };
    char *text = calloc(2 * deep + 100, 1);
    strcpy(text, "{\"type\":\"FeatureCollection\",\"features\":");
    memset(text + strlen(text), '[', deep);
    memset(text + strlen(text), ']', deep);
    const char *path = in_scratch(*state, "deep.geojson");
    put_text(path, text);
    free(text);
    refuses(path, "nested");
}

static void odd_geometries_stay_and_say_why(void **state)
{
    static const struct {
        const char *geometry;
        enum fw_feature_kind kind;
        const char *odd;
    } rows[] = {
        {"null", FW_FEATURE_NONE, "no geometry"},
        {"{\"type\":\"Polygon\",\"coordinates\":[]}", FW_FEATURE_NONE,
         "no geometry"},
        {"{\"type\":\"GeometryCollection\",\"geometries\":[{\"type\":\"Point\","
         "\"coordinates\":[1,2]},{\"type\":\"LineString\",\"coordinates\":"
         "[[1,2],[3,4]]}]}",
         FW_FEATURE_OTHER, "different"},
        {"{\"type\":\"Polygon\",\"coordinates\":[[[1,1],[2,1],[2,1e999],"
         "[1,1]]]}",
         FW_FEATURE_OTHER, "no number"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        char text[600];
        snprintf(text, sizeof text,
                 COLLECTION("{\"type\":\"Feature\",\"properties\":{\"name\":"
                            "\"odd\"},\"geometry\":%s}," FEATURE("b", RING)),
                 rows[i].geometry);
        struct fw_map *map = read_text(*state, "odd.geojson", text, NULL);
        assert_int_equal(map->feature_count, 2);
        assert_int_equal(map->features[0].kind, rows[i].kind);
        assert_non_null(strstr(map->features[0].odd, rows[i].odd));
        assert_string_equal(map->features[0].name, "odd");
        assert_int_equal(map->features[1].kind, FW_FEATURE_POLYGON);
        assert_int_equal(map->features[1].row, 2);
        fw_map_free(map);
    }
}

static void unclosed_ring_is_read_and_noted(void **state)
{
    struct fw_notes notes = {0};
    struct fw_map *map = read_text(
        *state, "open.geojson",
        COLLECTION(FEATURE("a", "[[[1,1],[2,1],[2,2],[1,2]]]")), &notes);
    assert_int_equal(map->features[0].shape.point_count, 4);
    assert_int_equal(notes.count, 1);
    assert_non_null(strstr(notes.items[0].text, "ring"));
    assert_null(strstr(notes.items[0].text, "configuration"));
    fw_notes_release(&notes);
    fw_map_free(map);
}

static void empty_layer_is_noted(void **state)
{
    struct fw_notes notes = {0};
    struct fw_map *map =
        read_text(*state, "none.geojson", COLLECTION(""), &notes);
    assert_int_equal(map->feature_count, 0);
    assert_int_equal(notes.count, 1);
    assert_non_null(strstr(notes.items[0].text, "holds no features"));
    fw_notes_release(&notes);
    fw_map_free(map);
}

/* ---- shapes that other formats can hold ---- */

static void curves_are_made_straight_and_heights_dropped(void **state)
{
    struct fw_map *map =
        read_text(*state, "curve.csv",
                  "WKT,name\n\"CURVEPOLYGON (CIRCULARSTRING (100 0,0 100,"
                  "-100 0,0 -100,100 0))\",round\n\"POLYGON Z ((0 0 5,1 0 5,"
                  "1 1 7,0 0 5))\",high\n\"TIN Z (((0 0 0,0 1 0,1 0 1,"
                  "0 0 0)))\",roof\n\"POLYGON EMPTY\",gone\n",
                  NULL);
    assert_int_equal(map->feature_count, 4);
    const struct fw_shape *round = &map->features[0].shape;
    assert_int_equal(map->features[0].kind, FW_FEATURE_POLYGON);
    double twice = 0;
    for (size_t i = 0; i < round->point_count; i++) {
        const struct fw_xy a = round->points[i];
        const struct fw_xy b = round->points[(i + 1) % round->point_count];
        assert_near(hypot(a.x, a.y), 100, 1e-9);
        twice += a.x * b.y - b.x * a.y;
    }
    assert_relative(fabs(twice) / 2, acos(-1) * 1e4, 1e-4);
    assert_int_equal(map->features[1].shape.point_count, 3);
    assert_int_equal(map->features[2].kind, FW_FEATURE_OTHER);
    assert_int_equal(map->features[3].kind, FW_FEATURE_NONE);
    assert_string_equal(map->features[3].odd, "an empty geometry");
    fw_map_free(map);
}

static void names_become_one_clean_line(void **state)
{
    char text[1200];
    char longest[500] = "";
    for (int i = 0; i < 100; i++)
        strcat(longest, "\xE2\x82\xAC"); /* three bytes each */
    snprintf(text, sizeof text,
             "WKT,name\n\"POINT (1 2)\",\" a\tb \xFF c \"\n"
             "\"POINT (1 2)\",%s\n\"POINT (1 2)\",\n",
             longest);
    struct fw_map *map = read_text(*state, "names.csv", text, NULL);
    assert_string_equal(map->features[0].name, "a b \xEF\xBF\xBD c");
    assert_int_equal(strlen(map->features[1].name), 198);
    assert_memory_equal(map->features[1].name, longest, 198);
    assert_null(map->features[2].name);
    fw_map_free(map);
}

/* ---- maps that others have drawn, where they are at hand ---- */

static size_t tried, unread;

static void try_file(const char *path)
{
    const struct fw_map_request request = {.source = path, .close_lines = true};
    struct fw_map *map = NULL;
    struct fw_notes notes = {0};
    struct fw_error err = {0};
    const enum fw_status status = fw_map_read(&request, &map, &notes, &err);
    tried++;
    unread += status != FW_OK;
    if (status && (status != FW_EINPUT || map ||
                   strncmp(err.text, path, strlen(path)) != 0 ||
                   strlen(err.text) < strlen(path) + 5))
        fail_msg("%s: status %d, \"%s\"", path, (int)status, err.text);
    for (size_t i = 0; map && i < map->feature_count; i++) {
        const struct fw_feature *feature = &map->features[i];
        const bool odd = feature->kind == FW_FEATURE_NONE ||
                         feature->kind == FW_FEATURE_OTHER;
        if (odd != (feature->odd != NULL) ||
            (!odd && feature->shape.point_count == 0))
            fail_msg("%s: feature %zu is neither a shape nor odd", path,
                     feature->row);
    }
    fw_notes_release(&notes);
    fw_map_free(map);
}

static void try_folder(const char *folder)
{
    char *before = listing(folder);
    DIR *open = opendir(folder);
    for (struct dirent *entry; open && (entry = readdir(open));) {
        if (entry->d_name[0] == '.')
            continue;
        char path[4096 + 300];
        struct stat info;
        snprintf(path, sizeof path, "%.4000s/%s", folder, entry->d_name);
        if (stat(path, &info) == 0 && S_ISDIR(info.st_mode))
            try_folder(path);
        else
            try_file(path);
    }
    if (open)
        closedir(open);
    char *after = listing(folder);
    assert_string_equal(before, after);
    free(before);
    free(after);
}

static void maps_of_others_are_read_or_refused_by_name(void **state)
{
    (void)state;
    const char *data = getenv("FW_TEST_DATA");
    static const char *const folders[] = {"geojson", "stress", "shapefiles",
                                          "formats"};
    for (size_t i = 0; i < 4; i++) {
        char path[4096];
        snprintf(path, sizeof path, "%.4000s/%s", data, folders[i]);
        try_folder(path);
    }
    print_message("# %zu files, %zu of them refused\n", tried, unread);
    assert_true(tried > 100);
    assert_true(unread < tried);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        scratch_test(what_is_no_map_is_told_apart),
        scratch_test(shapefile_without_its_index_says_what_to_copy),
        scratch_test(table_without_shapes_is_no_map),
        scratch_test(broken_json_is_refused_with_its_place),
        scratch_test(deep_json_is_refused),
        scratch_test(odd_geometries_stay_and_say_why),
        scratch_test(unclosed_ring_is_read_and_noted),
        scratch_test(empty_layer_is_noted),
        scratch_test(curves_are_made_straight_and_heights_dropped),
        scratch_test(names_become_one_clean_line),
        data_test(maps_of_others_are_read_or_refused_by_name),
    };
    return cmocka_run_group_tests_name("io_odd", tests, NULL, NULL);
}
