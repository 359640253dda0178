/* Every page of a farm that writes in pounds and feet, read for what is still
 * in metric units; and the distances of findings, read back from the pages of
 * both against what was measured. */
#include "test.h"
#include "units.h"

#include "export/export.h"
#include "io/io.h"
#include "keys/keys.h"
#include "live/plan_power.h"
#include "make/make.h"
#include "report/reports.h"
#include <foldwright/told.h>

#include <stdlib.h>
#include <string.h>

static struct fw_farm *farms[2]; /* by enum fw_units */
static struct fw_plan *plans[2];

/* The sample with all that its map shows told as roads and paths too, so that
 * many rules are broken. */
static int read_samples(void **state)
{
    (void)state;
    static const char *const words[] = {"metric", "us"};
    static const char *const roles[] = {"path", "watercourse", "telecom",
                                        "building", "keep-clear"};
    char path[2048], maps[5][4096];
    struct fw_error err;
    snprintf(path, sizeof path, "%s/three-fields", getenv("FW_SAMPLES"));
    for (int i = 0; i < 2; i++) {
        struct fw_farm_setting settings[6] = {{"units", words[i], "--units"}};
        char farm_path[4096];
        snprintf(farm_path, sizeof farm_path, "%s/farm.yaml", path);
        for (size_t k = 0; k < 5; k++) {
            snprintf(maps[k], sizeof maps[k], "%s=%s/around.geojson", roles[k],
                     path);
            settings[k + 1] =
                (struct fw_farm_setting){"maps[+]", maps[k], "--map"};
        }
        const struct fw_farm_request request = {
            .farm_path = farm_path, .settings = settings, .setting_count = 6};
        if (fw_farm_read(&request, &farms[i], NULL, NULL, &err) ||
            fw_plan_make(farms[i], &plans[i], &err)) {
            print_error("%s\n", err.text);
            return -1;
        }
    }
    return 0;
}

static int free_samples(void **state)
{
    (void)state;
    for (int i = 0; i < 2; i++) {
        fw_plan_free(plans[i]);
        fw_farm_free(farms[i]);
    }
    return 0;
}

/* A page in one line. */
static void unfold(char *text)
{
    char *to = text;
    for (const char *from = text; *from; from++)
        if (!strchr(" \n", *from))
            *to++ = *from;
        else if (to == text || to[-1] != ' ')
            *to++ = ' ';
    *to = '\0';
}

static void blank(char *text, const char *words, size_t length)
{
    if (strlen(words) != length)
        return;
    for (char *at = text; (at = strstr(at, words));)
        memset(at, '-', length);
}

/* What a publication says stands as it says it; the longer first, for one may
 * begin as another. */
static void drop_sources(char *text)
{
    const struct fw_plan *plan = plans[FW_US];
    for (size_t length = sizeof plan->cautions->source; length > 0; length--) {
        for (size_t i = 0; i < plan->finding_count; i++)
            blank(text, plan->findings[i].source, length);
        for (size_t i = 0; i < plan->caution_count; i++)
            blank(text, plan->cautions[i].source, length);
    }
}

static void is_us(enum fw_status status, char **given, const char *page)
{
    if (status)
        fail_msg("%s cannot be made", page);
    char *text = *given;
    unfold(text);
    drop_sources(text);
    const char *metric = metric_in(text);
    if (metric) {
        const size_t before = (size_t)(metric - text);
        fail_msg("%s: \"%.60s\"", page, metric - (before < 40 ? before : 40));
    }
    fw_bytes_free(text);
}

static void pages_are_whole_in_us_units(void **state)
{
    (void)state;
    const struct fw_plan *plan = plans[FW_US];
    struct fw_error err;
    char *text;
    is_us(fw_report_text(plan, false, &text, &err), &text, "the report");
    for (size_t i = 0; i < plan->time.move_count; i++)
        is_us(fw_report_move(plan, i, false, &text, &err), &text, "a card");
    is_us(fw_report_cautions(plan, &text, &err), &text, "the cautions");
    is_us(fw_report_power(plan, NULL, NULL, &text, &err), &text, "the volts");
    is_us(fw_report_check(farms[FW_US], false, &text, &err), &text,
          "the check");
    is_us(fw_report_materials(
              &(struct fw_export_list){.rows = plan->materials,
                                       .count = plan->material_count,
                                       .units = FW_US,
                                       .currency = ""},
              &text, &err),
          &text, "the list to buy");
}

/* The notes that a page may not show, and the cures. */
static void notes_are_whole_in_us_units(void **state)
{
    (void)state;
    const struct fw_plan *plan = plans[FW_US];
    for (size_t i = 0; i < plan->notes.count; i++)
        assert_null(metric_in(plan->notes.items[i].text));
    for (size_t i = 0; i < plan->untold.count; i++)
        assert_null(metric_in(plan->untold.items[i].text));
    for (size_t i = 0; i < plan->default_count; i++)
        assert_null(metric_in(plan->defaults[i].value));
    struct fw_cure cures[FW_CURE_COUNT];
    size_t count = 0;
    assert_int_equal(
        fw_plan_cures(plan, fw_plan_worst_day(plan), cures, &count, NULL),
        FW_OK);
    for (size_t i = 0; i < count; i++)
        assert_null(metric_in(cures[i].text));
}

/* "(3.9 m away, wanted 4 m": the page says no more room than there is, and
 * nothing that is too near reads as far enough. */
static size_t read_back(const struct fw_plan *plan, const char *page)
{
    const double unit_m = plan->units == FW_US ? 0.3048 : 1;
    size_t seen = 0;
    for (const char *at = page; (at = strstr(at, "away, wanted ")); at++) {
        const char *open = at;
        while (open > page && *open != '(')
            open--;
        const char *wanted = at + strlen("away, wanted ");
        const double said = strtod(open + 1, NULL);
        const double asked = strtod(wanted, NULL);
        assert_true(said < asked || said <= 0);
        bool known = false;
        for (size_t i = 0; i < plan->finding_count; i++) {
            const struct fw_plan_finding *finding = &plan->findings[i];
            const double near_m = finding->distance_m;
            known |= finding->measured && said * unit_m <= near_m + 1e-12 &&
                     said * unit_m > near_m - unit_m &&
                     asked * unit_m >= finding->wanted_m - 1e-9 &&
                     asked * unit_m < finding->wanted_m + unit_m;
        }
        assert_true(known);
        seen++;
    }
    return seen;
}

static void distances_read_back_on_the_cautious_side(void **state)
{
    (void)state;
    for (int i = 0; i < 2; i++) {
        struct fw_error err;
        char *page;
        assert_int_equal(fw_report_cautions(plans[i], &page, &err), FW_OK);
        unfold(page);
        assert_true(read_back(plans[i], page) > 8);
        fw_bytes_free(page);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(pages_are_whole_in_us_units),
        cmocka_unit_test(notes_are_whole_in_us_units),
        cmocka_unit_test(distances_read_back_on_the_cautious_side),
    };
    return cmocka_run_group_tests(tests, read_samples, free_samples);
}
