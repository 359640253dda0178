/* Every file of the malformed, odd and rare sets ends in a true plan or in a
 * message that names the file: nothing between, no crash, no leak. The sets
 * are found through FW_TEST_DATA and the test is skipped without it. */
#include "random_farm.h"
#include "unit/scratch.h"
#include "unit/test.h"

#include "keys/keys.h"
#include "make/make.h"
#include "plan/plan.h"
#include "report/reports.h"
#include "store/store.h"
#include <foldwright/told.h>

#include <dirent.h>
#include <stdbool.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

struct tally {
    size_t files, planned, refused;
};

/* ---- a true plan: the paddocks are the field ---- */

static double ring_twice_m2(const struct fw_plan_field *field,
                            const struct fw_plan_rings *rings, size_t ring)
{
    const size_t first = rings->ring_start[ring];
    const size_t count = rings->ring_start[ring + 1] - first;
    double sum = 0;
    for (size_t i = 0; i < count; i++) {
        const struct fw_point a =
            field->vertices[rings->vertices[first + i]].plane;
        const struct fw_point b =
            field->vertices[rings->vertices[first + (i + 1) % count]].plane;
        sum += a.x_m * b.y_m - b.x_m * a.y_m;
    }
    return sum;
}

static void assert_true_plan(const char *path, const struct fw_plan *plan)
{
    for (size_t f = 0; f < plan->field_count; f++) {
        const struct fw_plan_field *field = &plan->fields[f];
        if (field->no_plan) { /* among others that have one */
            assert_true(*field->no_plan && field->paddock_count == 0 &&
                        plan->paddock_count > 0);
            continue;
        }
        double sum = 0, own = 0;
        for (size_t i = 0; i < field->paddock_count; i++) {
            const struct fw_plan_paddock *paddock =
                &plan->paddocks[field->first_paddock + i];
            double area = 0;
            for (size_t r = 0; r < paddock->rings.ring_count; r++)
                area += ring_twice_m2(field, &paddock->rings, r) / 2;
            if (fabs(area - paddock->plane_m2) > 1e-6 * field->plane_m2)
                fail_msg("%s: %s: %s: rings hold %g m2, said %g", path,
                         field->name, paddock->id, area, paddock->plane_m2);
            sum += paddock->plane_m2;
        }
        for (size_t r = 0; r < field->rings.ring_count; r++)
            own += ring_twice_m2(field, &field->rings, r) / 2;
        /* A lane is no paddock. */
        bool lane = false;
        for (size_t i = 0; i < field->fence_count; i++)
            lane |= plan->fences[field->first_fence + i].role == FW_FENCE_LANE;
        if (fabs(own - field->plane_m2) > 1e-9 * field->plane_m2 ||
            sum - field->plane_m2 > 1e-12 * field->plane_m2 ||
            (!lane && field->plane_m2 - sum > 1e-12 * field->plane_m2))
            fail_msg("%s: %s: paddocks add up to %.17g m2, the ring holds "
                     "%.17g m2, said %.17g",
                     path, field->name, sum, own, field->plane_m2);
    }
}

/* ---- one file ---- */

static void assert_refusal(const char *path, enum fw_status status,
                           const struct fw_error *err)
{
    const char *name = strrchr(path, '/') + 1;
    if (status != FW_EINPUT)
        fail_msg("%s: status %d: %s", path, (int)status, err->text);
    if (!strstr(err->text, name) || strlen(err->text) < strlen(name) + 8)
        fail_msg("%s: the message does not name file and reason: %s", path,
                 err->text);
}

static enum fw_status read_farm(const char *path, const char *head,
                                const char *crs, struct fw_farm **farm,
                                struct fw_error *err)
{
    const struct fw_farm_setting settings[] = {
        {"flock[0].weight", "60 kg", "--weight"},
        {"flock[0].state", "dry", "--class"},
        {"forage.mass", "2500 kg/ha", "--mass"},
        {"forage.residual", "1500 kg/ha", "--residual"},
        {"start", "2027-05-17", "--start"},
        {"flock[0].head", head, "--head"},
    };
    const struct fw_farm_setting with_crs = {"fields.crs", crs, "--crs"};
    struct fw_farm_setting all[7];
    size_t count = 0;
    for (size_t i = 0; head && i < 6; i++)
        all[count++] = settings[i];
    if (crs)
        all[count++] = with_crs;
    const char *const sources[] = {path};
    const struct fw_farm_request request = {
        .field_sources = sources,
        .field_source_count = 1,
        .settings = all,
        .setting_count = count,
        .fields_only = !head,
    };
    struct fw_notes notes = {0};
    const enum fw_status status =
        fw_farm_read(&request, farm, NULL, &notes, err);
    fw_notes_release(&notes);
    return status;
}

/* A head count that makes some hundred paddocks of the largest field: others
 * may be too small for one, and the plan goes on without them. */
static void count_head(const struct fw_farm *farm, char text[16])
{
    double most = 0;
    for (size_t i = 0; i < farm->field_count; i++)
        most = fmax(most, farm->fields[i].shape->area_m2);
    const double head = most / 100 * 0.08 / 1.1;
    snprintf(text, 16, "%.0f", fmin(fmax(head, 1), 90000));
}

static void write_all(const char *path, const struct fw_plan *plan)
{
    struct fw_error err;
    char *bytes;
    size_t count;
    if (fw_report_geojson(plan, &bytes, &count, &err))
        fail_msg("%s: %s", path, err.text);
    fw_bytes_free(bytes);
    if (fw_plan_json_write(plan, NULL, 0, &bytes, &count, &err))
        fail_msg("%s: %s", path, err.text);
    fw_bytes_free(bytes);
    if (fw_report_text(plan, FW_REPORT_ALL, &bytes, &err))
        fail_msg("%s: %s", path, err.text);
    fw_bytes_free(bytes);
}

static void try_file(const char *path, struct tally *tally)
{
    struct fw_error err;
    struct fw_farm *farm;
    tally->files++;
    const char *crs = NULL;
    enum fw_status status = read_farm(path, NULL, crs, &farm, &err);
    /* Half of these sets name no system: they are tried in metres then. */
    if (status && strstr(err.text, "--crs")) {
        assert_refusal(path, status, &err);
        crs = "EPSG:32633";
        status = read_farm(path, NULL, crs, &farm, &err);
    }
    if (status) {
        assert_refusal(path, status, &err);
        tally->refused++;
        return;
    }
    char head[16];
    count_head(farm, head);
    fw_farm_free(farm);
    status = read_farm(path, head, crs, &farm, &err);
    if (status)
        fail_msg("%s: read once, not twice: %s", path, err.text);
    struct fw_plan *plan;
    status = fw_plan_make(farm, &plan, &err);
    if (!status) {
        assert_true_plan(path, plan);
        if (plan->post_count < 5000) /* the rest is more of the same */
            write_all(path, plan);
        fw_plan_free(plan);
        tally->planned++;
    } else if (status != FW_EPLAN) {
        /* Fields that differ thousandfold in size share no flock: that is
         * said as no plan, and nothing else may be. */
        fail_msg("%s: status %d: %s", path, (int)status, err.text);
    }
    fw_farm_free(farm);
}

/* Files beside a shapefile or a dataset are no inputs of their own, nor are
 * the licences and the expected complaints. */
static bool is_input(const char *name)
{
    static const char *const others[] = {
        ".md",  ".txt", ".result", ".result-object", ".cli-output-pretty",
        ".xsd", ".cpg", ".sbn",    ".sbx",           ".qpj",
        ".py",  ".sh",  "LICENSE", "-json",          ".seq"};
    const size_t length = strlen(name);
    for (size_t i = 0; i < sizeof others / sizeof others[0]; i++) {
        const size_t n = strlen(others[i]);
        if (length >= n && strcmp(name + length - n, others[i]) == 0)
            return false;
    }
    return name[0] != '.';
}

static int by_name(const struct dirent **a, const struct dirent **b)
{
    return strcmp((*a)->d_name, (*b)->d_name);
}

static void walk(const char *folder, struct tally *tally)
{
    struct dirent **entries;
    const int count = scandir(folder, &entries, NULL, by_name);
    for (int i = 0; i < count; i++) {
        char path[4096];
        struct stat info;
        snprintf(path, sizeof path, "%s/%s", folder, entries[i]->d_name);
        if (entries[i]->d_name[0] != '.' && stat(path, &info) == 0) {
            if (S_ISDIR(info.st_mode))
                walk(path, tally);
            else if (is_input(entries[i]->d_name))
                try_file(path, tally);
        }
        free(entries[i]);
    }
    if (count >= 0)
        free(entries);
}

static void every_file_ends_in_a_plan_or_a_reason(void **state)
{
    (void)state;
    static const char *const sets[] = {"geojson", "stress", "shapefiles",
                                       "formats"};
    const char *data = getenv("FW_TEST_DATA");
    for (size_t i = 0; i < sizeof sets / sizeof sets[0]; i++) {
        char folder[4096];
        struct tally tally = {0};
        snprintf(folder, sizeof folder, "%s/%s", data, sets[i]);
        walk(folder, &tally);
        print_message("# %s: %zu files, %zu planned, %zu refused\n", sets[i],
                      tally.files, tally.planned, tally.refused);
        assert_true(tally.files > 30);
        assert_true(tally.planned > 0 && tally.refused > 5);
    }
}

/* ---- of our own ---- */

static void put_map(const char *path, const struct drawn *drawn)
{
    const double metre_deg = 1 / 111000.0;
    FILE *file = fopen(path, "w");
    assert_non_null(file);
    fputs("{\"type\": \"Polygon\", \"coordinates\": [", file);
    for (size_t r = 0; r < drawn->rings; r++) {
        fputs(r ? ", [" : "[", file);
        for (size_t i = drawn->starts[r]; i <= drawn->starts[r + 1]; i++) {
            const size_t k = i < drawn->starts[r + 1] ? i : drawn->starts[r];
            fprintf(file, "%s[%.7f, %.7f]", i > drawn->starts[r] ? ", " : "",
                    25.5 + 2 * drawn->points[k].x * metre_deg,
                    58.4 + drawn->points[k].y * metre_deg);
        }
        fputs("]", file);
    }
    fputs("]}\n", file);
    fclose(file);
}

/* Something that goes wrong on the way from a GPS or an editor: a corner that
 * is somewhere else or nowhere, two that changed places, one said twice. */
static void spoil_corners(struct drawn *drawn, uint64_t *seed)
{
    static const double wrong[] = {1e9, -1e9, 1e7, 0, 300};
    const size_t at = draw_count(seed, 0, drawn->count - 1);
    const size_t other = draw_count(seed, 0, drawn->count - 1);
    const struct fw_xy kept = drawn->points[at];
    switch (draw_count(seed, 0, 3)) {
    case 0:
        drawn->points[at].x = wrong[draw_count(seed, 0, 4)];
        break;
    case 1:
        drawn->points[at] = drawn->points[other];
        break;
    case 2:
        drawn->points[at] = drawn->points[other];
        drawn->points[other] = kept;
        break;
    default:
        drawn->points[at].y = kept.y + draw(seed, -60, 60);
        break;
    }
}

/* Or with the text: cut off, or letters that are others. */
static void spoil_text(const char *path, uint64_t *seed)
{
    static const char letters[] = "{}[],:\"0e-. n";
    char text[16384];
    FILE *file = fopen(path, "r+");
    assert_non_null(file);
    size_t count = fread(text, 1, sizeof text, file);
    if (draw(seed, 0, 1) < 0.3)
        count = draw_count(seed, 0, count);
    for (size_t k = draw_count(seed, 1, 3); k > 0 && count > 0; k--)
        text[draw_count(seed, 0, count - 1)] =
            letters[draw_count(seed, 0, sizeof letters - 2)];
    fclose(file);
    file = fopen(path, "w");
    assert_non_null(file);
    assert_int_equal(fwrite(text, 1, count, file), count);
    fclose(file);
}

static void spoilt_maps_end_in_a_plan_or_a_reason(void **state)
{
    enum { tries = 200 };
    uint64_t seed = seeded(24);
    struct tally tally = {0};
    for (size_t i = 0; i < tries; i++) {
        struct drawn drawn;
        char name[40];
        snprintf(name, sizeof name, "spoilt-%zu.geojson", i);
        const char *path = in_scratch(*state, name);
        draw_outline(&drawn, &seed, (enum outline)(i % OUTLINES));
        if (i % 3 > 0)
            spoil_corners(&drawn, &seed);
        put_map(path, &drawn);
        if (i % 3 != 1)
            spoil_text(path, &seed);
        try_file(path, &tally);
        remove(path);
    }
    print_message("# spoilt maps: %zu files, %zu planned, %zu refused\n",
                  tally.files, tally.planned, tally.refused);
    assert_int_equal(tally.files, tries);
    assert_true(tally.planned > tries / 10 && tally.refused > tries / 10);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        scratch_test(spoilt_maps_end_in_a_plan_or_a_reason),
        data_test(every_file_ends_in_a_plan_or_a_reason),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
