/* A host with a decimal comma gets the bytes that any other gets: the farm is
 * read, planned and written under such a locale, and once more without. */
#include "comma_locale.h"
#include "test.h"

#include "keys/keys.h"
#include "make/make.h"
#include "report/reports.h"
#include "store/store.h"
#include <foldwright/told.h>

enum { PAGES = 8 };

/* What a plan of the sample says, page by page. */
struct pages {
    char *text[PAGES];
    size_t count[PAGES];
};

static void write_pages(const struct fw_plan *plan, struct pages *out)
{
    struct fw_error err;
    char **text = out->text;
    size_t *count = out->count;
    if (fw_report_text(plan, FW_REPORT_ALL, &text[0], &err) ||
        fw_report_move(plan, 1, 0, &text[1], &err) ||
        fw_report_power(plan, NULL, NULL, &text[2], &err) ||
        fw_plan_json_write(plan, NULL, 0, &text[3], &count[3], &err) ||
        fw_report_geojson(plan, &text[4], &count[4], &err) ||
        fw_report_gpx(plan, 1, &text[5], &count[5], &err) ||
        fw_report_moves_csv(plan, &text[6], &count[6], &err) ||
        fw_report_materials_csv(plan, &text[7], &count[7], &err))
        fail_msg("%s", err.text);
    for (int i = 0; i < 3; i++)
        count[i] = strlen(text[i]);
}

static void plan_sample(const char *units, struct pages *out)
{
    char path[2048];
    struct fw_error err;
    struct fw_farm *farm = NULL;
    struct fw_plan *plan = NULL;
    snprintf(path, sizeof path, "%s/three-fields/farm.yaml",
             getenv("FW_SAMPLES"));
    const struct fw_farm_setting setting = {"units", units, "--units"};
    const struct fw_farm_request request = {
        .farm_path = path, .settings = &setting, .setting_count = 1};
    if (fw_farm_read(&request, &farm, NULL, NULL, &err) ||
        fw_plan_make(farm, &plan, &err))
        fail_msg("%s", err.text);
    write_pages(plan, out);
    fw_plan_free(plan);
    fw_farm_free(farm);
}

static void pages_are_the_same(const char *units)
{
    struct pages usual = {.text = {NULL}}, comma = {.text = {NULL}};
    plan_sample(units, &usual);
    assert_non_null(setlocale(LC_ALL, COMMA_LOCALE));
    plan_sample(units, &comma);
    char half[16];
    snprintf(half, sizeof half, "%.1f", 0.5);
    setlocale(LC_ALL, "C");
    assert_string_equal(half, "0,5"); /* so that it was in force */
    for (int i = 0; i < PAGES; i++) {
        assert_int_equal(usual.count[i], comma.count[i]);
        assert_memory_equal(usual.text[i], comma.text[i], usual.count[i]);
        fw_bytes_free(usual.text[i]);
        fw_bytes_free(comma.text[i]);
    }
}

static void a_comma_locale_changes_no_page(void **state)
{
    (void)state;
    pages_are_the_same("metric");
    pages_are_the_same("us");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        locale_test(a_comma_locale_changes_no_page),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
