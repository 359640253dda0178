/* What a tester reads from post to post, the volts along one run of fence, and
 * what would help the sample, read back. */
#include "read_back.h"
#include "sample_plan.h"

#include "export/export.h"
#include "report/report.h"

/* ---- one run of fence ---- */

static char *run_page(const struct fw_circuit_run_volts *volts,
                      const struct fw_power_wanted *wanted)
{
    const struct fw_circuit_run run = {.length_m = 412.4};
    struct fw_error err;
    static char *text;
    assert_int_equal(fw_report_power_line(&run, volts, wanted, &text, &err),
                     FW_OK);
    return text;
}

static void both_ends_of_a_run_are_judged(void **state)
{
    (void)state;
    static const struct {
        double near_open, near_touched, far_open, far_touched;
        const char *near, *far, *advice;
    } rows[] = {
        {5000, 2000, 5001, 2001,
         "at the energizer  5     kV  enough        2     kV  enough\n",
         "at the far end    5     kV  enough        2     kV  enough\n",
         "\nBoth ends have what is wanted.\n"},
        {4999, 2500, 4000, 1500,
         "at the energizer  4.99  kV  too little    2.5   kV  enough\n",
         "at the far end    4     kV  too little    1.5   kV  too little\n",
         "\nIt is short at the energizer already: clear"},
        {6000, 1999, 6000, 2500,
         "at the energizer  6     kV  enough        1.99  kV  too little\n",
         "at the far end    6     kV  enough        2.5   kV  enough\n",
         "\nIt is short at the energizer already: clear"},
        {6000, 2500, 4999, 2100,
         "at the energizer  6     kV  enough        2.5   kV  enough\n",
         "at the far end    4.99  kV  too little    2.1   kV  enough\n",
         "\nThe volts are lost on the way: clear the grass"},
        {6000, 2500, 5000, 1999,
         "at the energizer  6     kV  enough        2.5   kV  enough\n",
         "at the far end    5     kV  enough        1.99  kV  too little\n",
         "\nA tester shows enough at the far end, and yet a sheep"},
    };
    const struct fw_power_wanted wanted = {
        .open_v = 5000, .touched_v = 2000, .source = "a page"};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        const struct fw_circuit_run_volts volts = {
            .near = {rows[i].near_open, 500, rows[i].near_touched},
            .far = {rows[i].far_open, 700, rows[i].far_touched},
            .load_ohm = 1234.5,
            .rods_v = 321.5};
        const struct fw_circuit_run run = {.length_m = 412.4};
        char *text = run_page(&volts, &wanted);
        has_words(text, rows[i].near);
        has_words(text, rows[i].far);
        has_words(text, rows[i].advice);
        has_words(text, "\nWanted on this run of 412 m: 5 kV on a tester, 2 kV "
                        "touched (a page).\n");
        has_words(text, "                  on a tester             while a "
                        "sheep touches it\n");
        has_words(text, "\nThis checked a sum, not the fence:");
        fw_bytes_free(text);

        struct fw_error err;
        assert_int_equal(
            fw_report_power_line_json(&run, &volts, &wanted, &text, &err),
            FW_OK);
        struct json_object *root = parsed(text);
        is_number(root, "run_m", 412.4);
        is_number(root, "open_v", rows[i].far_open);
        is_number(root, "touched_v", rows[i].far_touched);
        is_number(root, "source_v", rows[i].near_open);
        is_number(root, "source_touched_v", rows[i].near_touched);
        is_number(root, "thevenin_ohm", 700);
        is_number(root, "load_ohm", 1234.5);
        is_number(root, "rods_v", 321.5);
        is_number(root, "wanted_open_v", 5000);
        is_number(root, "wanted_touched_v", 2000);
        is_text(root, "wanted_source", "a page");
        is_flag(root, "meets", i == 0);
        const char *advice = json_object_get_string(of(root, "advice"));
        assert_memory_equal(advice, rows[i].advice + 1, 26);
        json_object_put(root);
        fw_bytes_free(text);
    }
}

/* ---- a fault ---- */

static struct fw_plan_look looked[] = {
    {.fence = 0,
     .post = 1,
     .at_m = 0,
     .strands = 2,
     .sound_v = {6610, 6710},
     .faulty_v = {6590, 6690}},
    {.fence = 0,
     .post = 12,
     .at_m = 82.4,
     .strands = 2,
     .sound_v = {6520, 6620},
     .faulty_v = {2110, 2220}},
    {.fence = 1,
     .post = 0,
     .at_m = 130.5,
     .strands = 1,
     .sound_v = {5040},
     .faulty_v = {1960}},
};

static char *looks_page(const struct fw_plan_looks *looks, const char *fault)
{
    struct fw_error err;
    static char *text;
    assert_int_equal(fw_report_looks(plan, 20577, fault, looks, &text, &err),
                     FW_OK);
    return text;
}

static void readings_stand_post_by_post(void **state)
{
    (void)state;
    struct fw_plan_looks looks = {
        .items = looked, .count = 3, .after = 1, .before = 2};
    char *text = looks_page(&looks, "short:A@80m:500ohm"), rows[900], say[300];
    snprintf(rows, sizeof rows,
             "Mon 4 May 2026, short:A@80m:500ohm:\nwhat a tester reads, in kV, "
             "strands from the bottom up\n\n"
             "  post from A      as it should be   with the fault\n"
             "%s\n"
             "     1       0 m   6.6 / 6.7         6.6 / 6.7\n"
             "    12      82 m   6.5 / 6.6         2.1 / 2.2   <\n"
             "%s\n"
             "     -     131 m   5.0               2.0   <\n\n",
             plan->fences[0].id, plan->fences[1].id);
    has_words(text, rows);
    has_words(text, "\nSwitch the energizer off before you mend anything.\n");
    unfold(text, 0);
    snprintf(say, sizeof say,
             "The readings change most on %s: look between post 12 (82 m) and "
             "131 m from its end A.",
             plan->fences[0].id);
    for (char *c = text; *c; c++)
        *c = *c == '\n' ? ' ' : *c;
    has_words(text, say);
    fw_bytes_free(text);
    looks.after = looks.before = FW_NONE;
    text = looks_page(&looks, "broken:A@80m");
    has_words(text, "\nA tester hardly shows this one. Unhook what is fed from "
                    "both ends");
    has_not(text, "<");
    fw_bytes_free(text);
    text = looks_page(&looks, "rain");
    has_words(text, "\nWet grass lowers every reading and points nowhere: read "
                    "again when it is dry.\n");
    has_not(text, "hardly");
    fw_bytes_free(text);
}

static void machines_get_the_readings(void **state)
{
    (void)state;
    struct fw_plan_looks looks = {
        .items = looked, .count = 3, .after = 1, .before = FW_NONE};
    struct fw_error err;
    char *text = NULL;
    assert_int_equal(
        fw_report_looks_json(plan, 20577, "a \"fault\"", &looks, &text, &err),
        FW_OK);
    struct json_object *root = parsed(text);
    fw_bytes_free(text);
    is_text(root, "date", "2026-05-04");
    is_text(root, "fault", "a \"fault\"");
    is_number(root, "after", 1);
    is_number(root, "before", (double)NAN);
    struct json_object *list = of(root, "readings");
    assert_int_equal(json_object_array_length(list), 3);
    for (size_t i = 0; i < 3; i++) {
        const struct fw_plan_look *look = &looked[i];
        struct json_object *sound = of(at(list, i), "sound_v");
        struct json_object *faulty = of(at(list, i), "faulty_v");
        is_text(at(list, i), "fence", plan->fences[look->fence].id);
        is_number(at(list, i), "post",
                  look->post ? (double)look->post : (double)NAN);
        is_number(at(list, i), "at_m", look->at_m);
        assert_int_equal(json_object_array_length(sound), look->strands);
        assert_int_equal(json_object_array_length(faulty), look->strands);
        for (int k = 0; k < look->strands; k++) {
            assert_near(json_object_get_double(at(sound, (size_t)k)),
                        look->sound_v[k], 0);
            assert_near(json_object_get_double(at(faulty, (size_t)k)),
                        look->faulty_v[k], 0);
        }
    }
    json_object_put(root);
}

/* ---- what would help ---- */

/* The first number after some words. */
static double number_after(const char *text, const char *words)
{
    has_words(text, words);
    return strtod(strstr(text, words) + strlen(words), NULL);
}

static void page_has_cure(const char *text, const struct fw_cure *cure)
{
    char head[200];
    if (cure->cost < 0)
        snprintf(head, sizeof head, "  - %s: a sheep would feel ", cure->text);
    else if (cure->cost > 0)
        snprintf(head, sizeof head, "  - %s (%.0f EUR): a sheep would feel ",
                 cure->text, cure->cost);
    else
        snprintf(head, sizeof head,
                 "  - %s (nothing to buy): a sheep would feel ", cure->text);
    has_words(text, head);
    char line[700];
    const char *from = strstr(text, head);
    snprintf(line, sizeof line, "%.*s", (int)strcspn(from, "\n"), from);
    /* Volts down, to a decimal. */
    const double kv = number_after(line, "a sheep would feel ");
    assert_true(kv * 1000 <= cure->touched_v + 1e-6 &&
                kv * 1000 > cure->touched_v - 100);
    const double open = number_after(line, "and a tester show ");
    assert_true(open * 1000 <= cure->open_v + 1e-6 &&
                open * 1000 > cure->open_v - 100);
    assert_near(number_after(line, "at the worst place ("), cure->gain_v, 0.51);
    assert_non_null(strstr(line, cure->gain_v < 0 ? "place (-" : "place (+"));
    assert_true((strstr(line, "; enough.") != NULL) == cure->enough);
    if (cure->joules > 0) {
        snprintf(head, sizeof head,
                 ". %g J and %d rod%s would do on every day then", cure->joules,
                 cure->rods, cure->rods == 1 ? "" : "s");
        has_words(line, head);
    }
    assert_true((strstr(line, "would do on every") != NULL) ==
                (cure->joules > 0));
    if (cure->joules > 0 && cure->saves > 0)
        assert_near(number_after(line, "day then, for "), cure->saves, 0.51);
    else
        assert_null(strstr(line, "less"));
    assert_int_equal(line[strlen(line) - 1], '.');
    assert_null(strstr(line, ".."));
}

static void json_has_cure(struct json_object *row, const struct fw_cure *cure)
{
    is_text(row, "what", cure->text);
    is_number(row, "touched_v", cure->touched_v);
    is_number(row, "open_v", cure->open_v);
    is_number(row, "gain_v", cure->gain_v);
    is_flag(row, "enough", cure->enough);
    is_number(row, "cost", cure->cost < 0 ? (double)NAN : cure->cost);
    is_number(row, "joules", cure->joules);
    is_number(row, "rods", cure->rods);
    is_number(row, "saves", cure->saves < 0 ? (double)NAN : cure->saves);
}

static void cures_read_back(const struct fw_plan *of_plan, const char *heading)
{
    struct fw_cure cures[FW_CURE_COUNT];
    struct fw_error err;
    size_t count = 0;
    char *text = NULL, day[FW_WORDS], line[200];
    const size_t worst = fw_plan_worst_day(of_plan);
    assert_int_equal(fw_plan_cures(of_plan, worst, cures, &count, &err), FW_OK);
    assert_true(count > 1);
    assert_int_equal(fw_report_power(of_plan, NULL, NULL, &text, &err), FW_OK);
    snprintf(line, sizeof line,
             "\nWhat would %s on %s, each by itself, the "
             "cheapest first\n",
             heading,
             fw_report_day(of_plan->power_days[worst].from, false, day));
    has_words(text, line);
    unfold(text, 4);
    assert_int_equal(times(text, "a sheep would feel"), count);
    for (size_t i = 0; i < count; i++) {
        assert_int_equal(fw_plan_saves(of_plan, &cures[i], &err), FW_OK);
        page_has_cure(text, &cures[i]);
    }
    fw_bytes_free(text);
    assert_int_equal(fw_report_power_json(of_plan, NULL, NULL, &text, &err),
                     FW_OK);
    struct json_object *root = parsed(text);
    fw_bytes_free(text);
    struct json_object *list = of(root, "would_help");
    assert_int_equal(json_object_array_length(list), count);
    for (size_t i = 0; i < count; i++)
        json_has_cure(at(list, i), &cures[i]);
    json_object_put(root);
}

static size_t cure_count(const struct fw_plan *of_plan)
{
    struct fw_error err;
    char *text = NULL;
    assert_int_equal(fw_report_power(of_plan, NULL, NULL, &text, &err), FW_OK);
    const size_t said = times(text, "What would ");
    fw_bytes_free(text);
    assert_int_equal(fw_report_power_json(of_plan, NULL, NULL, &text, &err),
                     FW_OK);
    struct json_object *root = parsed(text);
    fw_bytes_free(text);
    const size_t listed = json_object_array_length(of(root, "would_help"));
    assert_true((said > 0) == (listed > 0));
    json_object_put(root);
    return listed;
}

/* A smaller energizer may do, or more is wanted; else nothing is told. */
static void what_would_help_reads_back(void **state)
{
    (void)state;
    struct fw_plan odd = *plan;
    const size_t worst = fw_plan_worst_day(plan);
    struct fw_plan_power_day *rows =
        calloc(plan->power_day_count, sizeof *rows);
    memcpy(rows, plan->power_days, plan->power_day_count * sizeof *rows);
    odd.power_days = rows;
    rows[worst].enough = true;
    odd.energizer.given = false;
    cures_read_back(&odd, "add volts");
    odd.energizer.given = true;
    assert_int_equal(cure_count(&odd), 0);
    rows[worst].enough = false;
    cures_read_back(&odd, "help");
    odd.prices = (struct fw_plan_prices){18, 61, 0.9, 0.2};
    cures_read_back(&odd, "help");
    rows[worst].enough = true;
    odd.energizer.given = false;
    cures_read_back(&odd, "add volts");
    free(rows);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(both_ends_of_a_run_are_judged),
        cmocka_unit_test(readings_stand_post_by_post),
        cmocka_unit_test(machines_get_the_readings),
        cmocka_unit_test(what_would_help_reads_back),
    };
    return cmocka_run_group_tests_name("report_looks", tests, read_sample,
                                       free_sample);
}
