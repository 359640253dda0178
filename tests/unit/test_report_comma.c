/* Every page and file that is made of fields, candidates, lists, cards and
 * volts by hand, once more under a locale with a decimal comma. */
#include "comma_locale.h"
#include "fields_by_hand.h"
#include "plan_in_hand.h"

#include "choice/choice.h"
#include "export/export.h"
#include "picture/picture.h"
#include "report/report.h"

static struct hand hand;
static struct fw_farm farm_by_hand;

static struct fw_plan_score score = {.layout = "strips-30",
                                     .pattern = "strips",
                                     .paddocks = 10,
                                     .line_m = 805.5,
                                     .moved_m = 702.5,
                                     .bound_m = 500.25,
                                     .minutes = 17.25,
                                     .kit = {3, 44, 555.5},
                                     .walk_m = 61.5,
                                     .elongation = 3.25};
static struct fw_plan_look look = {.post = 1,
                                   .at_m = 82.4,
                                   .strands = 2,
                                   .sound_v = {6610.5, 6710.25},
                                   .faulty_v = {6590.5, 6690.75}};
static const struct fw_circuit_run run = {.length_m = 12.5};
static const struct fw_circuit_run_volts volts = {
    .near = {5123.5, 500.5, 2111.25}, .far = {4999.5, 700.25, 1999.75}};
static const struct fw_power_wanted wanted = {
    .open_v = 4250, .touched_v = 2050, .source = "a page"};

static enum fw_status of_fields(int which, char **text, struct fw_error *err)
{
    const struct fw_plan_scores scores = {.items = &score, .count = 1};
    switch (which) {
    case 0:
        return fw_report_check(&farm_by_hand, false, text, err);
    case 1:
        return fw_report_check_json(&farm_by_hand, text, err);
    case 2:
        return fw_report_compare(&farm_by_hand, &scores, false, text, err);
    case 3:
        return fw_report_compare_json(&farm_by_hand, &scores, text, err);
    case 4:
        return fw_report_field_svg(&farm_by_hand, text, err);
    default:
        return fw_report_sources(NULL, 0, text, err);
    }
}

static enum fw_status of_plan(int which, char **text, struct fw_error *err)
{
    const struct fw_plan *plan = &hand.plan;
    switch (which) {
    case 0:
        return fw_report_text(plan, FW_REPORT_ALL, text, err);
    case 1:
        return fw_report_move(plan, 1, FW_REPORT_ALL, text, err);
    case 2:
        return fw_report_move_json(plan, 0, text, err);
    case 3:
        return fw_report_cautions(plan, text, err);
    case 4:
        return fw_report_cautions_json(plan, text, err);
    default:
        return fw_report_sources_json(NULL, 0, text, err);
    }
}

static enum fw_status of_lists(int which, char **text, struct fw_error *err)
{
    const struct fw_plan *plan = &hand.plan;
    size_t count;
    switch (which) {
    case 0:
        return fw_report_materials(
            &(struct fw_export_list){.rows = materials,
                                     .count = 2,
                                     .units = plan->units,
                                     .currency = "EUR"},
            text, err);
    case 1:
        return fw_report_materials_json(
            &(struct fw_export_list){.rows = materials,
                                     .count = 2,
                                     .units = plan->units,
                                     .currency = "EUR"},
            text, err);
    case 2:
        return fw_report_materials_csv(plan, text, &count, err);
    case 3:
        return fw_report_moves_csv(plan, text, &count, err);
    case 4:
        return fw_report_gpx(plan, 0, text, &count, err);
    default:
        return fw_report_geojson(plan, text, &count, err);
    }
}

static enum fw_status of_volts(int which, char **text, struct fw_error *err)
{
    const struct fw_plan_looks looks = {
        .items = &look, .count = 1, .after = 0, .before = 0};
    const struct fw_circuit_fit fit = {.unknowns = 2,
                                       .leakage_factor = 1.75,
                                       .earth_ohm = 61.25,
                                       .spread_known = true,
                                       .leakage_spread = 0.5,
                                       .earth_spread_ohm = 12.25,
                                       .misfit_v = 130.5};
    struct fw_plan sound = hand.plan;
    sound.energizer.given = true; /* and so nothing would help */
    sound.power_day_count = 0;
    switch (which) {
    case 0:
        return fw_report_power(&hand.plan, &fit, power_days, text, err);
    case 1:
        return fw_report_power_json(&sound, &fit, power_days, text, err);
    case 2:
        return fw_report_power_line(&run, &volts, &wanted, text, err);
    case 3:
        return fw_report_power_line_json(&run, &volts, &wanted, text, err);
    case 4:
        return fw_report_looks(&hand.plan, 20577, "rain", &looks, text, err);
    default:
        return fw_report_looks_json(&hand.plan, 20577, "rain", &looks, text,
                                    err);
    }
}

static char *page_of(int which)
{
    static enum fw_status (*const makers[])(int, char **, struct fw_error *) = {
        of_fields, of_plan, of_lists, of_volts};
    struct fw_error err;
    static char *text;
    if (makers[which / 6](which % 6, &text, &err))
        fail_msg("page %d: %s", which, err.text);
    return text;
}

static void a_comma_locale_changes_no_other_page(void **state)
{
    (void)state;
    take_in_hand(&hand);
    farm_by_hand = fields_by_hand();
    for (int us = 0; us < 2; us++)
        for (int which = 0; which < 24; which++) {
            hand.plan.units = farm_by_hand.units = us ? FW_US : FW_METRIC;
            char *usual = page_of(which);
            assert_non_null(setlocale(LC_ALL, COMMA_LOCALE));
            char *comma = page_of(which);
            setlocale(LC_ALL, "C");
            if (strcmp(usual, comma) != 0)
                fail_msg("page %d is another with a comma:\n%s", which, comma);
            fw_bytes_free(usual);
            fw_bytes_free(comma);
        }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        locale_test(a_comma_locale_changes_no_other_page),
    };
    return cmocka_run_group_tests_name("report_comma", tests, NULL, NULL);
}
