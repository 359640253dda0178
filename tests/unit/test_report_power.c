/* The volts of a plan by hand and of the sample, read back from the page and
 * from the JSON against the plan. */
#include "plan_by_hand.h"
#include "read_back.h"

#include "export/export.h"
#include "report/report.h"

#include <stdlib.h>

/* ---- the page ---- */

static char *page_of(const struct fw_plan *plan,
                     const struct fw_circuit_fit *fit)
{
    struct fw_error err;
    static char *text;
    if (fw_report_power(plan, fit, plan->power_days, &text, &err))
        fail_msg("%s", err.text);
    unfold(text, 11);
    return text;
}

/* Of a plan by hand, which has no ground to reckon cures on. */
static char *page_alone(struct fw_plan plan)
{
    plan.power_day_count = 0;
    return page_of(&plan, NULL);
}

static void an_energizer_is_told(void **state)
{
    (void)state;
    struct fw_plan plan = by_hand();
    char *text = page_alone(plan);
    has_words(text,
              "Energizer  1.5 J of output (rule); 9.1 kV without a fence, "
              "506 ohm inside it; it goes with the flock.\n");
    fw_bytes_free(text);
    plan.wiring.moves = false;
    plan.energizer.joules = 5;
    text = page_alone(plan);
    has_words(text, "5 J of output (rule); 9.1 kV without a fence, 506 ohm "
                    "inside it.\n");
    fw_bytes_free(text);
    plan.energizer.joules = 5.25;
    text = page_alone(plan);
    has_words(text, "inside it. That is over the 5 J at 500 ohm that IEC "
                    "60335-2-76 allows without a delay.\n");
    fw_bytes_free(text);
}

static void earth_is_told(void **state)
{
    (void)state;
    struct fw_plan plan = by_hand();
    char *text = page_alone(plan);
    has_words(text,
              "Earth      3 rods of 6 ft, of which 5 are driven: the "
              "joules ask for 6, and what the test asks for counts "
              "little, since a strand brings the current back. About 22 "
              "ohm, measured; with the fence shorted to 2 kV the last rod "
              "should read about 0.29 kV (0.31 at most).\n");
    has_words(text, "Return     ");
    fw_bytes_free(text);
    plan.power.earth_return = false;
    plan.wiring.rods = 1;
    plan.wiring.earth_ohm = 0;
    text = page_alone(plan);
    has_words(text, "3 rods of 6 ft, of which 1 is driven: the joules ask for "
                    "6, the test for 7. About 22 ohm; with");
    has_not(text, "Return     ");
    fw_bytes_free(text);
    plan.wiring.rods = 3; /* all of them: nothing to tell */
    plan.power.rods_by_test = 0;
    text = page_alone(plan);
    has_words(text,
              "3 rods of 6 ft: the joules ask for 6, and no number passes "
              "the test in this soil: 3 are the most that help. About");
    fw_bytes_free(text);
    plan.wiring.rods = 0;
    plan.energizer.rods = 1;
    plan.units = FW_METRIC;
    text = page_alone(plan);
    has_words(text, "Earth      1 rod of 1.8 m: the joules");
    fw_bytes_free(text);
}

static void an_earth_return_is_told(void **state)
{
    (void)state;
    static const char *const boundary[] = {
        "an earth wire goes along the boundary beside its live one",
        "an earth wire goes along the boundary beside its live one",
        "the lower live wire of the boundary is an earth too",
        ("every second live wire of the boundary, from the bottom, is an earth "
         "too"),
    };
    struct fw_plan plan = by_hand();
    for (int strands = 1; strands <= 3; strands++) {
        char words[900];
        plan.moved.strands = strands;
        plan.wiring.perimeter_strands = strands;
        const struct fw_earth_return *how = fw_power_earth_return(strands);
        char *text = page_alone(plan);
        snprintf(words, sizeof words, "Return     %.300s (%.200s).",
                 how->wiring, how->source);
        has_words(text, words);
        snprintf(words, sizeof words, "Where the boundary is live %s; where",
                 boundary[strands]);
        has_words(text, words);
        snprintf(words, sizeof words, "The cost: %.400s.\n", how->cost);
        has_words(text, words);
        fw_bytes_free(text);
    }
}

/* As many figures as the page has, which is two or a whole number. */
#define assert_said(got, wanted)                                               \
    assert_near(got, wanted, fmax(0.051 * (wanted), 1e-9))

static void feeding_reads_back(void **state)
{
    (void)state;
    struct fw_plan plan = by_hand();
    struct fw_plan_feeding feed;
    double w, s, ah, days, panel, sun, kwh;
    assert_int_equal(fw_plan_feed(&plan, &feed, NULL), FW_OK);
    assert_true(feed.panel_w > 0);
    char *text = page_alone(plan);
    has_not(text, "from the mains");
    assert_int_equal(
        sscanf(strstr(text, "Feeding    "),
               "Feeding about %lf W, a pulse each %lf s: a 12 V battery of %lf "
               "Ah for %lf days between charges, with a panel of %lf W for "
               "%lf h of full sun.",
               &w, &s, &ah, &days, &panel, &sun),
        6);
    assert_said(w, feed.draw_w);
    assert_said(s, 1.625);
    assert_near(ah, feed.battery_ah, 0.5);
    assert_near(days, 6, 0); /* 6.5 */
    assert_near(panel, feed.panel_w, 0.5);
    assert_said(sun, 4.25);
    fw_bytes_free(text);
    plan.wiring.moves = false;
    plan.wiring.sun_h = 1e-6; /* no common panel will do */
    assert_int_equal(fw_plan_feed(&plan, &feed, NULL), FW_OK);
    assert_near(feed.panel_w, 0, 0);
    text = page_alone(plan);
    has_not(text, "panel");
    assert_int_equal(sscanf(strstr(text, "between charges"),
                            "between charges; or %lf kWh a month from the "
                            "mains.",
                            &kwh),
                     1);
    assert_said(kwh, feed.kwh_month);
    fw_bytes_free(text);
}

static void what_is_wanted_is_told(void **state)
{
    (void)state;
    char *text = page_alone(by_hand());
    has_words(text, "Wanted     5 kV on a tester, 2.5 kV while touched "
                    "(volts).\n");
    fw_bytes_free(text);
}

static void readings_are_told(void **state)
{
    (void)state;
    const struct fw_plan plan = by_hand();
    struct fw_circuit_fit fit = {.unknowns = 2,
                                 .leakage_factor = 1.75,
                                 .earth_ohm = 61.25,
                                 .spread_known = true,
                                 .leakage_spread = 0.5,
                                 .earth_spread_ohm = 12.25,
                                 .misfit_v = 130};
    char *text = page_of(&plan, &fit);
    has_words(text,
              "Readings   the fence leaks 1.8 times what was taken (give "
              "or take 0.5); the earth has 61 ohm (give or take 12). They "
              "differ from that by 0.13 kV. The days below are reckoned "
              "with it.\n");
    has_not(text, "fence          least"); /* not those of the readings */
    fw_bytes_free(text);
    fit.spread_known = false;
    fit.at_bound = true;
    text = page_of(&plan, &fit);
    has_words(text, "was taken; the earth has 61 ohm. They differ from that by "
                    "0.13 kV. No grass explains them: look for a fault. The");
    fw_bytes_free(text);
    fit.unknowns = 1;
    fit.spread_known = true;
    text = page_of(&plan, &fit);
    has_words(text, "was taken (give or take 0.5); these readings do not tell "
                    "the earth apart from the grass: read at the energizer and "
                    "at a far end. They");
    fw_bytes_free(text);
}

static void days_are_rows(void **state)
{
    (void)state;
    struct fw_plan plan = by_hand();
    struct fw_plan_power_day rows[2];
    const struct fw_circuit_fit fit = {.unknowns = 1};
    memcpy(rows, power_days, sizeof rows);
    plan.power_days = rows;
    char *text = page_of(&plan, &fit);
    has_words(text,
              "\neach day    source      least on       of two       of one\n"
              "from                    a tester        wires        alone  "
              "where a sheep feels least\n"
              "Sun 3 May   6.5 kV        4.1 kV       2.1 kV"
              "       1.8 kV  261 ft along A01-02  too little  1 "
              "dead\n"
              "Wed 6 May  nothing is live\n");
    fw_bytes_free(text);
    plan.power.earth_return = false;
    plan.units = FW_METRIC;
    rows[0].enough = true;
    rows[0].dead = 0;
    text = page_of(&plan, &fit);
    has_words(text, "\neach day    source      least on      a sheep\n"
                    "from                    a tester        feels  where a "
                    "sheep feels least\n"
                    "Sun 3 May   6.5 kV        4.1 kV       2.1 kV  80 m "
                    "along A01-02\n");
    fw_bytes_free(text);
}

static void fences_are_rows(void **state)
{
    (void)state;
    struct fw_plan plan = by_hand();
    struct fw_plan_fence rows[5];
    memcpy(rows, fences, sizeof rows);
    rows[2].volts_known = true;
    plan.fences = rows;
    char *text = page_alone(plan);
    has_words(text, "\nfence          least on a tester  while touched\n"
                    "A01-02                    4.3 kV         2.1 kV\n"
                    "A-line-1       no path to the energizer\n\n");
    fw_bytes_free(text);
}

/* ---- for machines ---- */

static void is_fit(struct json_object *root, const struct fw_circuit_fit *fit)
{
    struct json_object *told = of(root, "readings");
    const bool two = fit->unknowns > 1;
    is_number(told, "leakage_factor", fit->leakage_factor);
    is_number(told, "leakage_spread",
              fit->spread_known ? fit->leakage_spread : (double)NAN);
    is_number(told, "earth_ohm", fit->earth_ohm);
    is_number(told, "earth_spread_ohm",
              fit->spread_known && two ? fit->earth_spread_ohm : (double)NAN);
    is_flag(told, "earth_fitted", two);
    is_number(told, "misfit_v", fit->misfit_v);
    is_flag(told, "at_bound", fit->at_bound);
}

static struct json_object *json_of(const struct fw_plan *plan,
                                   const struct fw_circuit_fit *fit)
{
    struct fw_error err;
    char *text = NULL;
    if (fw_report_power_json(plan, fit, NULL, &text, &err))
        fail_msg("%s", err.text);
    struct json_object *root = parsed(text);
    fw_bytes_free(text);
    return root;
}

static void machines_get_every_volt(void **state)
{
    (void)state;
    struct fw_plan plan = by_hand();
    struct fw_plan_power_day rows[2];
    struct fw_plan_fence lines[5];
    memcpy(rows, power_days, sizeof rows);
    memcpy(lines, fences, sizeof lines);
    rows[0].enough = true; /* so that nothing would help */
    lines[2].volts_known = true;
    plan.power_days = rows;
    plan.fences = lines;
    struct json_object *root = json_of(&plan, NULL);
    struct json_object *set = of(root, "energizer"), *earth = of(root, "earth");
    is_number(set, "joules", 1.5);
    is_number(set, "open_v", 9060.5);
    is_number(set, "internal_ohm", 506.5);
    is_text(set, "source", "rule");
    is_flag(set, "moves", true);
    is_flag(set, "over_5_j", false);
    is_number(earth, "rods", 3);
    is_number(earth, "rod_m", 1.83);
    is_number(earth, "rods_by_joules", 6);
    is_number(earth, "rods_by_test", 7);
    is_text(earth, "decided", "test");
    is_number(earth, "ohm", 22.5);
    is_number(earth, "rod_test_v", 290.5);
    is_flag(earth, "earth_return", true);
    is_number(of(root, "wanted"), "open_v", 5000);
    is_number(of(root, "wanted"), "touched_v", 2500);
    is_text(of(root, "wanted"), "source", "volts");
    struct fw_plan_feeding feed;
    assert_int_equal(fw_plan_feed(&plan, &feed, NULL), FW_OK);
    is_number(of(root, "feeding"), "draw_w", feed.draw_w);
    is_number(of(root, "feeding"), "draw_a", feed.draw_a);
    is_number(of(root, "feeding"), "battery_ah", feed.battery_ah);
    is_number(of(root, "feeding"), "charge_days", 6.5);
    is_number(of(root, "feeding"), "panel_w", feed.panel_w);
    is_number(of(root, "feeding"), "sun_h", 4.25);
    is_number(of(root, "feeding"), "kwh_month", feed.kwh_month);
    assert_null(of(root, "readings"));
    assert_int_equal(json_object_array_length(of(root, "would_help")), 0);
    struct json_object *days = of(root, "days");
    assert_int_equal(json_object_array_length(days), 2);
    is_text(at(days, 0), "from", "2026-05-03");
    is_text(at(days, 0), "to", "2026-05-06");
    is_text(at(days, 0), "fence", "A01-02");
    is_number(at(days, 0), "at_m", 79.5);
    is_number(at(days, 0), "touched_v", 2123.25);
    is_number(at(days, 0), "alone_v", 1876.25);
    is_number(at(days, 0), "open_v", 4321.25);
    is_number(at(days, 0), "least_open_v", 4111.25);
    is_number(at(days, 0), "source_v", 6543.25);
    is_number(at(days, 0), "dead", 1);
    is_flag(at(days, 0), "enough", true);
    is_text(at(days, 1), "fence", NULL);
    is_text(at(days, 1), "to", "2026-05-07");
    struct json_object *list = of(root, "fences");
    assert_int_equal(json_object_array_length(list), 2);
    is_text(at(list, 0), "fence", "A01-02");
    is_number(at(list, 0), "open_v", 4321.5);
    is_number(at(list, 0), "touched_v", 2123.5);
    is_flag(at(list, 0), "live", true);
    is_text(at(list, 1), "fence", "A-line-1");
    is_flag(at(list, 1), "live", false);
    is_text(root, "note", fw_report_sum_words);
    json_object_put(root);
}

static void machines_get_what_readings_say(void **state)
{
    (void)state;
    struct fw_plan plan = by_hand();
    struct fw_circuit_fit fit = {.unknowns = 2,
                                 .leakage_factor = 1.75,
                                 .earth_ohm = 61.25,
                                 .leakage_spread = 0.5,
                                 .earth_spread_ohm = 12.25,
                                 .misfit_v = 130};
    plan.power_day_count = 0;
    plan.energizer.joules = 5.5;
    plan.energizer.rule_source = NULL;
    plan.wiring.sun_h = 1e-6;
    plan.fence_count = 0;
    for (int i = 0; i < 8; i++) {
        fit.spread_known = i & 1;
        fit.unknowns = i & 2 ? 2 : 1;
        fit.at_bound = i & 4;
        plan.power.decided = (enum fw_earth_rule)(i % 3);
        struct json_object *root = json_of(&plan, &fit);
        static const char *const decided[] = {"joules", "test", "most"};
        is_fit(root, &fit);
        is_text(of(root, "earth"), "decided", decided[i % 3]);
        is_flag(of(root, "energizer"), "over_5_j", true);
        is_text(of(root, "energizer"), "source", NULL);
        is_number(of(root, "feeding"), "panel_w", (double)NAN);
        assert_int_equal(json_object_array_length(of(root, "days")), 0);
        assert_int_equal(json_object_array_length(of(root, "fences")), 0);
        json_object_put(root);
    }
    plan.energizer.joules = 5;
    struct json_object *root = json_of(&plan, NULL);
    is_flag(of(root, "energizer"), "over_5_j", false);
    json_object_put(root);
}

/* ---- kilovolts ---- */

static void volts_go_down_and_what_is_wanted_up(void **state)
{
    (void)state;
    assert_near(fw_report_down_kv(6599.99), 6.5, 1e-12);
    assert_near(fw_report_down_kv(6600), 6.6, 1e-12);
    assert_near(fw_report_down_kv(99), 0, 0);
    static const struct {
        double has_v, wanted_v;
        const char *has, *wanted;
    } rows[] = {
        {1990, 2000, "1.9", "2.0"},         {2000, 2000, "2.0", "2.0"},
        {2100, 2010, "2.1", "2.1"},         {2050.4, 2050, "2.05", "2.05"},
        {2050.4, 2050.3, "2.050", "2.051"}, {2054, 2051, "2.054", "2.051"},
        {2099, 2001, "2.09", "2.01"},       {1999.9, 2000, "1.9", "2.0"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        char has[FW_WORDS], wanted[FW_WORDS];
        fw_report_kv_beside(rows[i].has_v, rows[i].wanted_v, has, wanted);
        assert_string_equal(has, rows[i].has);
        assert_string_equal(wanted, rows[i].wanted);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(an_energizer_is_told),
        cmocka_unit_test(earth_is_told),
        cmocka_unit_test(an_earth_return_is_told),
        cmocka_unit_test(feeding_reads_back),
        cmocka_unit_test(what_is_wanted_is_told),
        cmocka_unit_test(readings_are_told),
        cmocka_unit_test(days_are_rows),
        cmocka_unit_test(fences_are_rows),
        cmocka_unit_test(machines_get_every_volt),
        cmocka_unit_test(machines_get_what_readings_say),
        cmocka_unit_test(volts_go_down_and_what_is_wanted_up),
    };
    return cmocka_run_group_tests_name("report_power", tests, NULL, NULL);
}
