/* What a plan was made from: which files, their sums, their paths, and what is
 * said when they are no longer as they were. */
#include "base/alloc.h"
#include "io/inputs.h"
#include "io/io.h"
#include "scratch.h"

#include <cpl_vsi.h>
#include <fcntl.h>
#include <gdal.h>

static const char square[] =
    "{\"type\":\"FeatureCollection\",\"features\":[{\"type\":\"Feature\","
    "\"properties\":{},\"geometry\":{\"type\":\"Polygon\",\"coordinates\":"
    "[[[9,51],[9.01,51],[9.01,51.01],[9,51.01],[9,51]]]}}]}";

static struct fw_input only(const struct fw_inputs *inputs)
{
    assert_int_equal(inputs->count, 1);
    return inputs->items[0];
}

static void adds(struct fw_inputs *inputs, const char *source)
{
    struct fw_error err = {0};
    if (fw_inputs_add(inputs, source, &err))
        fail_msg("%s", err.text);
}

/* ---- which file, and its sum ---- */

static void file_is_told_by_size_and_sum(void **state)
{
    struct fw_inputs inputs = {0};
    const char *path = in_scratch(*state, "a.csv");
    put_text(path, "123456789");
    adds(&inputs, path);
    adds(&inputs, path); /* once is enough */
    const struct fw_input input = only(&inputs);
    assert_string_equal(input.path, path);
    assert_true(input.known && input.size == 9);
    assert_int_equal(input.crc32, 0xcbf43926); /* ISO-HDLC's check value */
    fw_inputs_release(&inputs);
    assert_int_equal(fw_inputs_add(NULL, path, NULL), FW_OK);
}

/* The sum of a large file is that of its two ends put together. */
static void large_file_is_told_by_its_ends(void **state)
{
    enum { end = 1048576, middle = 40000000 };
    const char *path = in_scratch(*state, "large.tif");
    char *ends = calloc(2 * end, 1);
    assert_non_null(ends);
    const int file = open(path, O_RDWR | O_CREAT, 0600);
    assert_int_equal(ftruncate(file, FW_INPUT_WHOLE + 1), 0);
    for (size_t i = 0; i < 2 * end; i++)
        ends[i] = (char)(i * i >> 5);
    assert_int_equal(pwrite(file, ends, end, 0), end);
    assert_int_equal(pwrite(file, ends + end, end, FW_INPUT_WHOLE + 1 - end),
                     end);
    for (int i = 0; i < 2; i++) {
        struct fw_inputs inputs = {0};
        adds(&inputs, path);
        const struct fw_input input = only(&inputs);
        assert_true(input.known && input.size == FW_INPUT_WHOLE + 1);
        assert_int_equal(input.crc32, fw_file_crc32(ends, 2 * end));
        fw_inputs_release(&inputs);
        assert_int_equal(pwrite(file, "x", 1, middle), 1); /* is not seen */
    }
    /* one byte less, and every byte counts */
    assert_int_equal(ftruncate(file, FW_INPUT_WHOLE), 0);
    struct fw_inputs inputs = {0};
    adds(&inputs, path);
    const unsigned before = only(&inputs).crc32;
    fw_inputs_release(&inputs);
    assert_int_equal(pwrite(file, "y", 1, middle), 1);
    adds(&inputs, path);
    assert_true(only(&inputs).crc32 != before);
    fw_inputs_release(&inputs);
    close(file);
    free(ends);
}

static void source_within_a_file_is_that_file(void **state)
{
    const struct scratch *scratch = *state;
    static const struct {
        const char *before, *after;
    } forms[] = {
        {"/vsizip/", "/inner/a.shp"}, {"/vsizip/{", "}/inner/a.shp"},
        {"/vsizip/{", "}"},           {"/vsigzip/", ""},
        {"GPKG:", ":table"},          {"NETCDF:\"", "\":band"},
        {"GTIFF_DIR:2:", ""},
    };
    put_text(in_scratch(scratch, "fields.zip"), "abc");
    for (size_t i = 0; i < sizeof forms / sizeof forms[0]; i++) {
        char source[600];
        struct fw_inputs inputs = {0};
        snprintf(source, sizeof source, "%s%s/fields.zip%s", forms[i].before,
                 scratch->path, forms[i].after);
        adds(&inputs, source);
        const struct fw_input input = only(&inputs);
        if (!input.known || input.size != 3 ||
            strcmp(input.path, in_scratch(scratch, "fields.zip")) != 0)
            fail_msg("%s gives %s", source, input.path);
        fw_inputs_release(&inputs);
    }
}

static void of_a_database_or_a_pipe_nothing_is_known(void **state)
{
    struct fw_inputs inputs = {0};
    const char *pipe = in_scratch(*state, "pipe");
    assert_int_equal(mkfifo(pipe, 0600), 0);
    alarm(20);
    adds(&inputs, "PG:dbname=farm password=s3cret user=me");
    adds(&inputs, pipe);
    adds(&inputs, "WFS:https://example.org/wfs");
    alarm(0);
    assert_int_equal(inputs.count, 3);
    assert_string_equal(inputs.items[0].path,
                        "PG:dbname=farm password=*** user=me");
    assert_string_equal(inputs.items[1].path, pipe);
    for (size_t i = 0; i < 3; i++)
        assert_false(inputs.items[i].known);
    fw_inputs_release(&inputs);
}

/* ---- what a map is read from ---- */

static void read_map(const char *source, struct fw_inputs *inputs)
{
    const struct fw_map_request request = {.source = source, .inputs = inputs};
    struct fw_map *map = NULL;
    struct fw_error err = {0};
    if (fw_map_read(&request, &map, NULL, &err))
        fail_msg("%s", err.text);
    fw_map_free(map);
}

static void every_part_of_a_shapefile_is_an_input(void **state)
{
    const struct scratch *scratch = *state;
    const char *geojson = in_scratch(scratch, "a.geojson");
    struct fw_inputs inputs = {0};
    put_text(geojson, square);
    read_map(geojson, &inputs);
    assert_string_equal(only(&inputs).path, geojson);
    fw_inputs_release(&inputs);

    const char *shape = in_scratch(scratch, "a.shp");
    GDALDatasetH from = GDALOpenEx(geojson, GDAL_OF_VECTOR, NULL, NULL, NULL);
    GDALDatasetH to = GDALCreateCopy(GDALGetDriverByName("ESRI Shapefile"),
                                     shape, from, 0, NULL, NULL, NULL);
    assert_non_null(to);
    GDALClose(to);
    GDALClose(from);
    read_map(shape, &inputs);
    static const char *const ends[] = {".dbf", ".prj", ".shp", ".shx"};
    for (size_t i = 0; i < 4; i++) {
        bool found = false;
        for (size_t k = 0; k < inputs.count; k++)
            found |=
                strstr(inputs.items[k].path, ends[i]) && inputs.items[k].known;
        if (!found)
            fail_msg("no %s among the inputs", ends[i]);
    }
    for (size_t k = 1; k < inputs.count; k++) /* whatever the folder's order */
        assert_true(strcmp(inputs.items[k - 1].path, inputs.items[k].path) < 0);
    fw_inputs_release(&inputs);
}

/* ---- paths ---- */

static void path_is_told_as_from_the_plan_and_found_again(void **state)
{
    const struct scratch *scratch = *state;
    const struct {
        const char *folder, *file, *told;
    } rows[] = {
        {"out", "farm.yaml", "../farm.yaml"},
        {"out", "out/walk.gpx", "walk.gpx"},
        {"out/2027", "maps/a.shp", "../../maps/a.shp"},
        {"ou", "out/walk.gpx", "../out/walk.gpx"},
        {".", "maps/a.shp", "maps/a.shp"},
        {"out/../maps", "farm.yaml", "../farm.yaml"},
    };
    static const char *const folders[] = {"out", "out/2027", "ou", "maps"};
    for (size_t i = 0; i < 4; i++)
        assert_int_equal(mkdir(in_scratch(scratch, folders[i]), 0700), 0);
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        struct fw_inputs inputs = {0}, told = {0};
        struct stat before, after;
        char folder[600];
        put_text(in_scratch(scratch, rows[i].file), "abc");
        stat(in_scratch(scratch, rows[i].file), &before);
        adds(&inputs, in_scratch(scratch, rows[i].file));
        snprintf(folder, sizeof folder, "%s/%s", scratch->path, rows[i].folder);
        assert_int_equal(
            fw_inputs_from(folder, "plan.json", &inputs, &told, NULL), FW_OK);
        assert_string_equal(only(&told).path, rows[i].told);
        strcat(folder, "/");
        assert_int_equal(fw_io__place_inputs(&told, folder, NULL), FW_OK);
        if (stat(only(&told).path, &after) || before.st_ino != after.st_ino)
            fail_msg("%s is not %s", only(&told).path, rows[i].file);
        fw_inputs_release(&inputs);
        fw_inputs_release(&told);
    }
}

/* "link/.." is not the folder in which the link lies. */
static void path_through_a_linked_folder_is_found_again(void **state)
{
    const struct scratch *scratch = *state;
    struct fw_inputs inputs = {0}, told = {0};
    assert_int_equal(mkdir(in_scratch(scratch, "far"), 0700), 0);
    assert_int_equal(mkdir(in_scratch(scratch, "far/out"), 0700), 0);
    assert_int_equal(
        symlink(in_scratch(scratch, "far/out"), in_scratch(scratch, "link")),
        0);
    put_text(in_scratch(scratch, "farm.yaml"), "abc");
    adds(&inputs, in_scratch(scratch, "farm.yaml"));
    assert_int_equal(fw_inputs_from(in_scratch(scratch, "link"), "plan.json",
                                    &inputs, &told, NULL),
                     FW_OK);
    assert_string_equal(only(&told).path, "../../farm.yaml");
    assert_int_equal(
        fw_io__place_inputs(&told, in_scratch(scratch, "link/"), NULL), FW_OK);
    assert_true(exists(only(&told).path));
    fw_inputs_release(&inputs);
    fw_inputs_release(&told);
}

static void path_reads_as_a_person_would_write_it(void **state)
{
    (void)state;
    const struct {
        const char *folder, *path, *placed;
    } rows[] = {
        {"", "../farm.yaml", "../farm.yaml"},
        {"./", "../farm.yaml", "../farm.yaml"},
        {"../", "../farm.yaml", "../../farm.yaml"},
        {"no-such/", "../farm.yaml", "no-such/../farm.yaml"},
        {"/", "../farm.yaml", "/../farm.yaml"},
        {"/tmp/", "../farm.yaml", "/farm.yaml"},
        {"out/", "/abs/farm.yaml", "/abs/farm.yaml"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        struct fw_input input = {.path = strdup(rows[i].path), .known = true};
        struct fw_inputs inputs = {0}, copy = {&input, 1, 1};
        assert_int_equal(fw_inputs_copy(&inputs, &copy, NULL), FW_OK);
        assert_int_equal(fw_io__place_inputs(&inputs, rows[i].folder, NULL),
                         FW_OK);
        assert_string_equal(only(&inputs).path, rows[i].placed);
        fw_inputs_release(&inputs);
        free(input.path);
    }
}

static void plan_that_gives_way_is_no_input(void **state)
{
    const struct scratch *scratch = *state;
    struct fw_inputs inputs = {0}, told = {0};
    put_text(in_scratch(scratch, "plan.json"), "abc");
    put_text(in_scratch(scratch, "farm.yaml"), "abc");
    adds(&inputs, in_scratch(scratch, "plan.json"));
    adds(&inputs, in_scratch(scratch, "farm.yaml"));
    assert_int_equal(
        fw_inputs_from(scratch->path, "plan.json", &inputs, &told, NULL),
        FW_OK);
    assert_string_equal(only(&told).path, "farm.yaml");
    fw_inputs_release(&inputs);
    fw_inputs_release(&told);
}

/* Paths of what was told count from the folder where it was typed. */
static void folder_of_what_was_told_is_found_again(void **state)
{
    const struct scratch *scratch = *state;
    struct fw_told told = {0}, out = {0}, back = {0};
    char folder[600], maps[600];
    struct fw_error err;
    snprintf(folder, sizeof folder, "%s", in_scratch(scratch, "told"));
    snprintf(maps, sizeof maps, "%s", in_scratch(scratch, "told-maps"));
    assert_int_equal(mkdir(folder, 0700), 0);
    assert_int_equal(mkdir(maps, 0700), 0);
    /* Nothing was: no folder is. */
    assert_int_equal(fw_told_from(folder, &told, &out, NULL), FW_OK);
    assert_null(out.folder);
    assert_int_equal(fw_io__place_told(&out, "out/", NULL), FW_OK);
    assert_null(out.folder);
    assert_int_equal(fw_told_add(&told, "start", "2027-05-17", NULL), FW_OK);
    told.folder = fw_strdup(maps);
    assert_int_equal(fw_told_from(folder, &told, &out, NULL), FW_OK);
    assert_string_equal(out.folder, "../told-maps");
    assert_string_equal(out.values[0].key, "start");
    assert_string_equal(out.values[0].value, "2027-05-17");
    assert_int_equal(fw_told_copy(&back, &out, NULL), FW_OK);
    strcat(folder, "/");
    assert_int_equal(fw_io__place_told(&back, folder, NULL), FW_OK);
    assert_string_equal(back.folder, maps);
    fw_told_release(&out);
    fw_told_release(&back);
    /* Typed in the folder of the plan itself. */
    assert_int_equal(fw_told_from(maps, &told, &out, NULL), FW_OK);
    assert_string_equal(out.folder, ".");
    fw_told_release(&out);
    assert_int_equal(
        fw_told_from(in_scratch(scratch, "none"), &told, &out, &err),
        FW_EOUTPUT);
    assert_non_null(strstr(err.text, "none: that folder is not there"));
    fw_told_release(&told);
}

/* ---- what has changed ---- */

static void says(const struct fw_inputs *inputs, const char *expected)
{
    struct fw_notes notes = {0};
    assert_int_equal(fw_io__check_inputs(inputs, &notes, NULL), FW_OK);
    if (!expected && notes.count)
        fail_msg("it says \"%s\"", notes.items[0].text);
    if (expected &&
        (notes.count != 1 || !strstr(notes.items[0].text, expected)))
        fail_msg("it says \"%s\", not \"%s\"",
                 notes.count ? notes.items[0].text : "", expected);
    fw_notes_release(&notes);
}

static void what_has_changed_is_said(void **state)
{
    const struct scratch *scratch = *state;
    struct fw_inputs inputs = {0};
    const char *path = in_scratch(scratch, "farm.yaml");
    put_text(path, "abc");
    adds(&inputs, path);
    says(&inputs, NULL);
    const struct timespec long_ago[2] = {{1000000, 0}, {1000000, 0}};
    utimensat(AT_FDCWD, path, long_ago, 0);
    says(&inputs, NULL); /* its time does not count */
    put_text(path, "abd");
    says(&inputs, "has changed");
    put_text(path, "abcd");
    says(&inputs, "has changed");
    unlink(path);
    says(&inputs, "not there any more");
    assert_int_equal(mkfifo(path, 0600), 0);
    alarm(20);
    says(&inputs, "cannot be read");
    alarm(0);
    unlink(path);
    assert_int_equal(mkdir(path, 0700), 0);
    says(&inputs, "cannot be read");
    fw_inputs_release(&inputs);
    adds(&inputs, "PG:dbname=farm");
    says(&inputs, "is not known");
    fw_inputs_release(&inputs);
}

int main(void)
{
    GDALAllRegister();
    const struct CMUnitTest tests[] = {
        scratch_test(file_is_told_by_size_and_sum),
        scratch_test(large_file_is_told_by_its_ends),
        scratch_test(source_within_a_file_is_that_file),
        scratch_test(of_a_database_or_a_pipe_nothing_is_known),
        scratch_test(every_part_of_a_shapefile_is_an_input),
        scratch_test(path_is_told_as_from_the_plan_and_found_again),
        scratch_test(path_through_a_linked_folder_is_found_again),
        cmocka_unit_test(path_reads_as_a_person_would_write_it),
        scratch_test(folder_of_what_was_told_is_found_again),
        scratch_test(plan_that_gives_way_is_no_input),
        scratch_test(what_has_changed_is_said),
    };
    return cmocka_run_group_tests_name("io_inputs", tests, NULL, NULL);
}
