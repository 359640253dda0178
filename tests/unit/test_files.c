/* The folder of a plan: which files stand in it, that each has the bytes of its
 * own writer, and that plan.json lists them with sizes and sums of the test's
 * own counting. */
#include "read_back.h"
#include "sample_plan.h"
#include "scratch.h"

#include "io/io.h"
#include "picture/picture.h"
#include "report/report.h"
#include "report/reports.h"

#include <gdal.h>
#include <ogr_srs_api.h>

static const struct {
    const char *name;
    unsigned kind; /* 0: always there */
} rows[] = {
    {"plan.gpkg", 0},
    {"plan.geojson", 0},
    {"materials.csv", 0},
    {"moves.csv", 0},
    {"fence.gpx", 0},
    {"ahead.svg", 0},
    {"card.pdf", FW_REPORT_PRINTED},
    {"sheet.pdf", FW_REPORT_PRINTED},
    {"sheet.svg", FW_REPORT_SVG},
    {"sheet.png", FW_REPORT_PNG},
    {"map.html", FW_REPORT_PAGE},
};
enum { row_count = sizeof rows / sizeof *rows };

struct bytes {
    char *of;
    size_t count;
};

static struct bytes read_file(const char *path)
{
    FILE *file = fopen(path, "rb");
    if (!file)
        fail_msg("no %s", path);
    fseek(file, 0, SEEK_END);
    struct bytes bytes = {.count = (size_t)ftell(file)};
    rewind(file);
    bytes.of = calloc(bytes.count + 1, 1);
    assert_int_equal(fread(bytes.of, 1, bytes.count, file), bytes.count);
    fclose(file);
    return bytes;
}

/* CRC-32 bit by bit, as ISO 3309 has it. */
static unsigned sum_of(const struct bytes *bytes)
{
    unsigned crc = ~0u;
    for (size_t i = 0; i < bytes->count; i++) {
        crc ^= (unsigned char)bytes->of[i];
        for (int bit = 0; bit < 8; bit++)
            crc = crc & 1 ? crc >> 1 ^ 0xedb88320u : crc >> 1;
    }
    return ~crc;
}

static void put(const char *folder, const struct fw_report_out *how)
{
    struct fw_error err;
    if (fw_report_folder(plan, folder, how, &err))
        fail_msg("%s", err.text);
}

static struct json_object *json_in(const struct scratch *scratch)
{
    struct bytes bytes = read_file(in_scratch(scratch, "plan.json"));
    struct json_object *root = parsed(bytes.of);
    free(bytes.of);
    return root;
}

/* Those of that kind, and no others; plan.json has all of them but itself. */
static void has_files(const struct scratch *scratch, unsigned kinds)
{
    struct json_object *root = json_in(scratch), *list = of(root, "files");
    size_t count = 0;
    for (size_t i = 0; i < row_count; i++) {
        const char *path = in_scratch(scratch, rows[i].name);
        const bool wanted = !rows[i].kind || (kinds & rows[i].kind);
        if (exists(path) != wanted)
            fail_msg("%s of %u: %d", rows[i].name, kinds, !wanted);
        if (!wanted)
            continue;
        struct bytes bytes = read_file(path);
        struct json_object *row = at(list, count++);
        is_text(row, "name", rows[i].name);
        is_number(row, "size", (double)bytes.count);
        is_number(row, "crc32", sum_of(&bytes));
        free(bytes.of);
    }
    assert_int_equal(json_object_array_length(list), count);
    char *all = listing(scratch->path);
    assert_int_equal(times(all, "\n"), count + 1); /* and plan.json */
    free(all);
    json_object_put(root);
}

/* Each kind by itself and all together, one after the other into one folder:
 * what is no more wanted goes. */
static void files_are_those_that_are_asked_for(void **state)
{
    const struct scratch *scratch = *state;
    static const unsigned kinds[] = {0,
                                     FW_REPORT_PRINTED | FW_REPORT_SVG |
                                         FW_REPORT_PNG | FW_REPORT_PAGE,
                                     FW_REPORT_SVG,
                                     FW_REPORT_PAGE,
                                     FW_REPORT_PNG,
                                     FW_REPORT_PRINTED,
                                     0};
    for (size_t i = 0; i < sizeof kinds / sizeof *kinds; i++) {
        put(scratch->path,
            &(struct fw_report_out){.epoch_s = -1, .files = kinds[i]});
        has_files(scratch, kinds[i]);
    }
}

/* ---- bytes ---- */

static void is_file(const struct scratch *scratch, const char *name,
                    struct bytes wanted)
{
    struct bytes got = read_file(in_scratch(scratch, name));
    if (got.count != wanted.count || memcmp(got.of, wanted.of, got.count) != 0)
        fail_msg("%s is another one", name);
    free(got.of);
    fw_bytes_free(wanted.of);
}

#define WRITTEN(call)                                                          \
    do {                                                                       \
        bytes = (struct bytes){0};                                             \
        assert_int_equal(call, FW_OK);                                         \
    } while (0)

static void each_file_is_what_its_writer_makes(void **state)
{
    const struct scratch *scratch = *state;
    static const char tiles[] = "https://maps.example/{z}/{x}/{y}.png";
    /* 0 is 1 January 1970, and no time that is not told */
    const long long epochs[] = {-1, 86400LL * 20000 + 4321, 0};
    for (size_t i = 0; i < 3; i++) {
        /* Of no time it is the plan's first day. */
        const long long epoch_s =
            epochs[i] < 0 ? 86400LL * plan->start_day : epochs[i];
        struct bytes bytes;
        put(scratch->path,
            &(struct fw_report_out){.epoch_s = epochs[i],
                                    .tiles = i ? tiles : NULL,
                                    .files = FW_REPORT_PRINTED | FW_REPORT_SVG |
                                             FW_REPORT_PNG | FW_REPORT_PAGE});
        WRITTEN(fw_report_materials_csv(plan, &bytes.of, &bytes.count, NULL));
        is_file(scratch, "materials.csv", bytes);
        WRITTEN(fw_report_moves_csv(plan, &bytes.of, &bytes.count, NULL));
        is_file(scratch, "moves.csv", bytes);
        WRITTEN(fw_report_gpx(plan, 0, &bytes.of, &bytes.count, NULL));
        is_file(scratch, "fence.gpx", bytes);
        WRITTEN(fw_report_ahead_svg(plan, &bytes.of, &bytes.count, NULL));
        is_file(scratch, "ahead.svg", bytes);
        WRITTEN(
            fw_report_card(plan, 0, epoch_s, &bytes.of, &bytes.count, NULL));
        is_file(scratch, "card.pdf", bytes);
        static const char *const forms[] = {"pdf", "svg", "png"};
        for (size_t f = 0; f < 3; f++) {
            char name[16];
            snprintf(name, sizeof name, "sheet.%s", forms[f]);
            WRITTEN(fw_report_sheet(plan, forms[f], epoch_s, &bytes.of,
                                    &bytes.count, NULL));
            is_file(scratch, name, bytes);
        }
        WRITTEN(fw_report_map_page(plan, i ? tiles : NULL, &bytes.of,
                                   &bytes.count, NULL));
        is_file(scratch, "map.html", bytes);
    }
}

static void the_maps_have_the_plans_paddocks_and_its_system(void **state)
{
    const struct scratch *scratch = *state;
    static const struct {
        const char *crs, *code;
    } systems[] = {{NULL, NULL}, {"EPSG:3301", "3301"}, {"EPSG:4326", "4326"}};
    GDALAllRegister();
    for (size_t i = 0; i < 3; i++) {
        put(scratch->path,
            &(struct fw_report_out){.epoch_s = -1, .crs = systems[i].crs});
        static const char *const maps[] = {"plan.gpkg", "plan.geojson"};
        for (size_t m = 0; m < 2; m++) {
            GDALDatasetH map =
                GDALOpenEx(in_scratch(scratch, maps[m]),
                           GDAL_OF_VECTOR | GDAL_OF_READONLY, NULL, NULL, NULL);
            assert_non_null(map);
            if (m == 0) {
                OGRLayerH layer = GDALDatasetGetLayerByName(map, "paddocks");
                assert_non_null(layer);
                assert_int_equal(OGR_L_GetFeatureCount(layer, TRUE),
                                 plan->paddock_count);
                const char *code =
                    OSRGetAuthorityCode(OGR_L_GetSpatialRef(layer), NULL);
                if (systems[i].code)
                    assert_string_equal(code, systems[i].code);
            } else {
                assert_true(
                    OGR_L_GetFeatureCount(GDALDatasetGetLayer(map, 0), TRUE) >=
                    (GIntBig)(plan->paddock_count + plan->fence_count));
            }
            GDALClose(map);
        }
    }
}

/* ---- what it was made from ---- */

/* As from the folder: going by each path from there one comes to the file. The
 * plan itself keeps its own. */
static void inputs_are_told_as_from_the_folder(void **state)
{
    const struct scratch *scratch = *state;
    char path[4096], kept[4096];
    snprintf(kept, sizeof kept, "%s", plan->inputs.items[0].path);
    put(scratch->path, &(struct fw_report_out){.epoch_s = -1});
    assert_string_equal(plan->inputs.items[0].path, kept);
    struct json_object *root = json_in(scratch), *inputs = of(root, "inputs");
    assert_int_equal(json_object_array_length(inputs), plan->inputs.count);
    for (size_t i = 0; i < plan->inputs.count; i++) {
        const char *told = json_object_get_string(of(at(inputs, i), "path"));
        assert_true(told[0] != '/');
        snprintf(path, sizeof path, "%s/%s", scratch->path, told);
        struct bytes bytes = read_file(path);
        is_number(at(inputs, i), "size", (double)bytes.count);
        is_number(at(inputs, i), "crc32", sum_of(&bytes));
        free(bytes.of);
    }
    json_object_put(root);
}

/* ---- what is refused ---- */

static void what_is_not_its_own_is_left_alone(void **state)
{
    const struct scratch *scratch = *state;
    struct fw_error err = {0};
    struct fw_report_out how = {.epoch_s = -1};
    put_text(in_scratch(scratch, "moves.csv"), "somebody's own\n");
    char *before = listing(scratch->path);
    assert_int_equal(fw_report_folder(plan, scratch->path, &how, &err),
                     FW_EOUTPUT);
    assert_non_null(strstr(err.text, "moves.csv"));
    char *after = listing(scratch->path);
    assert_string_equal(before, after);
    free(before);
    free(after);
    how.force = true;
    put(scratch->path, &how);
    has_files(scratch, 0);
}

/* An input lies where a file would go. */
static void no_input_is_written_over(void **state)
{
    const struct scratch *scratch = *state;
    struct fw_error err = {0};
    const struct fw_report_out how = {.epoch_s = -1, .force = true};
    struct fw_inputs kept = plan->inputs, with = {0};
    const char *path = in_scratch(scratch, "fence.gpx");
    put_text(path, "<gpx/>\n");
    assert_int_equal(fw_inputs_add(&with, path, NULL), FW_OK);
    plan->inputs = with;
    assert_int_equal(fw_report_folder(plan, scratch->path, &how, &err),
                     FW_EOUTPUT);
    plan->inputs = kept;
    fw_inputs_release(&with);
    char *all = listing(scratch->path);
    assert_int_equal(times(all, "\n"), 1);
    free(all);
    struct bytes bytes = read_file(in_scratch(scratch, "fence.gpx"));
    assert_string_equal(bytes.of, "<gpx/>\n");
    free(bytes.of);
}

static void nothing_is_no_plan(void **state)
{
    const struct scratch *scratch = *state;
    const struct fw_report_out how = {.epoch_s = -1};
    const struct fw_plan *plans[] = {NULL, plan, plan};
    const char *paths[] = {scratch->path, NULL, scratch->path};
    const struct fw_report_out *hows[] = {&how, &how, NULL};
    for (size_t i = 0; i < 3; i++) {
        struct fw_error err = {0};
        assert_int_equal(fw_report_folder(plans[i], paths[i], hows[i], &err),
                         FW_EUSAGE);
        assert_non_null(strstr(err.text, "a plan, its folder"));
    }
    /* Where a folder cannot be, there is none. */
    struct fw_error err = {0};
    put_text(in_scratch(scratch, "a-file"), "");
    assert_int_equal(
        fw_report_folder(plan, in_scratch(scratch, "a-file/out"), &how, &err),
        FW_EOUTPUT);
    /* And one that is not there is made. */
    struct scratch within;
    snprintf(within.path, sizeof within.path, "%.58s/out", scratch->path);
    put(within.path, &how);
    has_files(&within, 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        scratch_test(files_are_those_that_are_asked_for),
        scratch_test(each_file_is_what_its_writer_makes),
        scratch_test(the_maps_have_the_plans_paddocks_and_its_system),
        scratch_test(inputs_are_told_as_from_the_folder),
        scratch_test(what_is_not_its_own_is_left_alone),
        scratch_test(no_input_is_written_over),
        scratch_test(nothing_is_no_plan),
    };
    return cmocka_run_group_tests(tests, read_sample, free_sample);
}
