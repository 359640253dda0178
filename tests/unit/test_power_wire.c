#include "keys/keys.h"
#include "power/power.h"
#include "table.h"
#include <foldwright/quantity.h>

static struct fw_quantities *quantities;

static int open_quantities(void **state)
{
    (void)state;
    return fw_quantities_new(&quantities, NULL) == FW_OK ? 0 : -1;
}

static int close_quantities(void **state)
{
    (void)state;
    fw_quantities_free(quantities);
    return 0;
}

static double ohm_m(const char *text)
{
    double out = 0;
    struct fw_error err = {0};
    if (fw_power_conductor_read(quantities, text, FW_METRIC, &out, NULL, &err))
        fail_msg("%s", err.text);
    return out;
}

static double ohm_km(const char *text)
{
    double out = 0;
    struct fw_error err = {0};
    if (fw_power_leakage_read(quantities, text, FW_METRIC, &out, NULL, &err))
        fail_msg("%s", err.text);
    return out;
}

static void wires_resist_as_print_has_it(void **state)
{
    (void)state;
    struct table table;
    table_open(&table, "power_wires.tsv");
    while (table_next(&table, 6)) {
        const double ohm = ohm_m(table.cells[0]) * table_number(&table, 1);
        if (!(ohm >= table_number(&table, 2) - 1e-9 &&
              ohm <= table_number(&table, 3) + 1e-9))
            fail_msg("%s:%d: %.9g ohm", table.name, table.line, ohm);
    }
    table_close(&table);
}

/* Strands of one metal side by side, ohm m and mm. */
static double strands_ohm_m(double metal, int strands, double mm)
{
    const double pi = 3.14159265358979323846;
    return metal / (strands * pi * mm * mm / 4 * 1e-6);
}

static void polywires_follow_from_their_strands(void **state)
{
    (void)state;
    const double steel = 0.72e-6, copper = 0.0173e-6;
    const struct {
        const char *word;
        int copper;
        double copper_mm;
        int steel;
        double steel_mm;
    } rows[] = {
        {"poly-3x0.15", 0, 1, 3, 0.15},
        {"poly-3x0.20", 0, 1, 3, 0.20},
        {"poly-6x0.16", 0, 1, 6, 0.16},
        {"poly-6x0.20", 0, 1, 6, 0.20},
        {"poly-9x0.20", 0, 1, 9, 0.20},
        {"poly-copper-1x0.40", 1, 0.40, 8, 0.20},
        {"poly-copper-3x0.25", 3, 0.25, 6, 0.20},
        /* five strings are assumed, there is no figure */
        {"netting", 0, 1, 15, 0.20},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        double siemens =
            1 / strands_ohm_m(steel, rows[i].steel, rows[i].steel_mm);
        if (rows[i].copper)
            siemens +=
                1 / strands_ohm_m(copper, rows[i].copper, rows[i].copper_mm);
        assert_relative(ohm_m(rows[i].word), 1 / siemens, 0.005);
    }
}

static void solid_wires_follow_from_their_metal(void **state)
{
    (void)state;
    const struct {
        const char *word;
        double metal, mm;
    } rows[] = {
        {"steel-2.5", 0.172e-6, 2.5},      {"steel-2.0", 0.172e-6, 2.0},
        {"steel-1.8", 0.172e-6, 1.8},      {"steel-1.6", 0.172e-6, 1.6},
        {"aluminium-2.5", 0.0283e-6, 2.5}, {"aluminium-2.0", 0.0283e-6, 2.0},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++)
        assert_relative(ohm_m(rows[i].word),
                        strands_ohm_m(rows[i].metal, 1, rows[i].mm), 0.01);
}

static void every_conductor_has_its_word_label_source_and_mark(void **state)
{
    (void)state;
    size_t count;
    const struct fw_conductor *rows = fw_power_conductors(&count);
    assert_true(count >= 15);
    for (size_t i = 0; i < count; i++) {
        const struct fw_conductor *found = NULL;
        assert_int_equal(fw_power_conductor_find(rows[i].word, &found, NULL),
                         FW_OK);
        assert_ptr_equal(found, &rows[i]);
        assert_true(rows[i].ohm_m > 0);
        assert_true(strlen(rows[i].label) > 0 && strlen(rows[i].source) > 0);
        assert_non_null(fw_figures_mark(rows[i].mark));
    }
    assert_null(fw_figures_mark(FW_MARK_COUNT));
}

static void no_figure_for_netting_is_said_aloud(void **state)
{
    (void)state;
    const struct fw_conductor *row = NULL;
    assert_int_equal(fw_power_conductor_find("netting", &row, NULL), FW_OK);
    assert_int_equal(row->mark, FW_MARK_PRACTICE);
    assert_non_null(strstr(row->label, "no figure was found; assumed"));
}

static void quantity_is_read_and_has_no_row(void **state)
{
    (void)state;
    double value = 0;
    const struct fw_conductor *row = NULL;
    assert_int_equal(fw_power_conductor_read(quantities, "steel-2.5", FW_METRIC,
                                             &value, &row, NULL),
                     FW_OK);
    assert_string_equal(row->word, "steel-2.5");
    assert_int_equal(fw_power_conductor_read(quantities, "35 ohm/km", FW_METRIC,
                                             &value, &row, NULL),
                     FW_OK);
    assert_near(value, 0.035, 1e-15);
    assert_null(row);
}

static void conductor_refused(const char *text, const char *says)
{
    double value = 7;
    const struct fw_conductor *row = (const struct fw_conductor *)&value;
    const struct fw_conductor *before = row;
    struct fw_error err = {0};
    assert_int_equal(fw_power_conductor_read(quantities, text, FW_METRIC,
                                             &value, &row, &err),
                     FW_EINPUT);
    if (!strstr(err.text, says))
        fail_msg("\"%s\" does not say \"%s\"", err.text, says);
    assert_near(value, 7, 0);
    assert_ptr_equal(row, before);
}

static void unknown_conductor_is_refused_with_the_nearest(void **state)
{
    (void)state;
    conductor_refused("poly-6x0.2", "did you mean poly-6x0.20?");
    conductor_refused("steel2.5", "did you mean steel-2.5?");
    conductor_refused("aluminum-2.5", "did you mean aluminium-2.5?");
    conductor_refused("string", "expected steel-2.5, ");
    conductor_refused("", "3.82 ohm/m");
    conductor_refused("3.82", "no unit");
    conductor_refused("3.82 ohm", "try \"3.82 ohm/m\"");
    conductor_refused("-3 ohm/m", "expected 0 or more");
    conductor_refused("0 ohm/m", "over 0");
}

static void classes_leak_more_from_row_to_row(void **state)
{
    (void)state;
    for (int i = 0; i < FW_LEAKAGE_COUNT; i++) {
        const struct fw_leakage_row *row = fw_power_leakage((enum fw_leakage)i);
        enum fw_leakage found;
        assert_int_equal(row->leakage, i);
        assert_int_equal(fw_power_leakage_find(row->word, &found, NULL), FW_OK);
        assert_int_equal(found, i);
        assert_true(strlen(row->label) > 0 && strlen(row->source) > 0);
        if (i > 0)
            assert_true(row->ohm_km <
                        fw_power_leakage((enum fw_leakage)(i - 1))->ohm_km);
    }
    assert_null(fw_power_leakage(FW_LEAKAGE_COUNT));
}

/* Ohm km of fence from a rule: a pulse of 100 us of so many joules at 4 kV
 * feeds so many kilometres. */
static double rule_ohm_km(double joules, double km)
{
    const double volts = 4000;
    return volts * volts * 100e-6 / joules * km;
}

static void classes_agree_with_the_rules_they_rest_on(void **state)
{
    (void)state;
    /* 1 J a mile: Gerrish; 1 J a km: mrepaca.fr; 1 J for 2,000 ft of weeds: a
     * maker's farm web log; 3 to 5 miles a joule: grainews.ca; published, the
     * ohms computed. */
    assert_near(rule_ohm_km(1, 1.609344), 2570, 10);
    assert_true(ohm_km("light") < rule_ohm_km(1, 1.609344));
    assert_true(ohm_km("moderate") < rule_ohm_km(1, 1));
    assert_relative(ohm_km("moderate"), rule_ohm_km(1, 0.6096), 0.03);
    assert_true(ohm_km("clean") > rule_ohm_km(1, 3 * 1.609344));
    assert_true(ohm_km("clean") < rule_ohm_km(1, 5 * 1.609344));
    /* 1 to 2 A a mile at 5 to 7 kV: Virginia Cooperative Extension SPES-204,
     * published. */
    const double low = 5000 / 2.0 * 1.609344, high = 7000 / 1.0 * 1.609344;
    assert_true(ohm_km("clean") > low && ohm_km("clean") < high);
    assert_true(ohm_km("normal") > low && ohm_km("normal") < (low + high) / 2);
    /* 11 kV falling to 6, two grassed wires: 290 to 780, computed. */
    assert_true(ohm_km("heavy") > 290 && ohm_km("heavy") < 780);
}

static void own_leakage_is_read(void **state)
{
    (void)state;
    assert_near(ohm_km("1000ohm.km"), 1000, 1e-9);
    assert_near(ohm_km("2 kohm km"), 2000, 1e-9);
    double value = 7;
    struct fw_error err = {0};
    const struct {
        const char *text, *says;
    } bad[] = {
        {"hevy", "did you mean heavy?"},
        {"lawn", "expected clean, normal, light, moderate, heavy or a value"},
        {"1000", "no unit"},
        {"1000 ohm", "try \"1000 ohm.km\""},
        {"0 ohm.km", "10 or more"},
        {"-1 ohm.km", "0 or more"},
        {"1000 ohm.m", "is 1 ohm km"},
    };
    for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++) {
        assert_int_equal(fw_power_leakage_read(quantities, bad[i].text,
                                               FW_METRIC, &value, NULL, &err),
                         FW_EINPUT);
        if (!strstr(err.text, bad[i].says))
            fail_msg("\"%s\" does not say \"%s\"", err.text, bad[i].says);
        assert_near(value, 7, 0);
    }
}

static void bottom_strand_leaks_a_class_more_while_grass_grows(void **state)
{
    (void)state;
    for (int i = 0; i < FW_LEAKAGE_COUNT; i++) {
        const enum fw_leakage bottom = (enum fw_leakage)i;
        const double bottom_ohm_km = fw_power_leakage(bottom)->ohm_km;
        const double above_ohm_km =
            fw_power_leakage((enum fw_leakage)(i > 0 ? i - 1 : 0))->ohm_km;
        assert_near(fw_power_leakage_ohm_km(bottom, 0, true), bottom_ohm_km, 0);
        assert_near(fw_power_leakage_ohm_km(bottom, 1, true), above_ohm_km, 0);
        assert_near(fw_power_leakage_ohm_km(bottom, 4, true), above_ohm_km, 0);
        assert_near(fw_power_leakage_ohm_km(bottom, 1, false), bottom_ohm_km,
                    0);
    }
    assert_near(fw_power_leakage_ohm_km(FW_LEAKAGE_COUNT, 0, true), 0, 0);
    assert_int_equal(fw_power_leakage_untold(true), FW_LEAKAGE_LIGHT);
    assert_int_equal(fw_power_leakage_untold(false), FW_LEAKAGE_NORMAL);
}

/* Nobody told: by the grass under a wire at 30 cm. */
static void leakage_follows_the_grass_under_the_lowest_wire(void **state)
{
    (void)state;
    static const struct {
        double grass_m;
        bool flat, growing;
        enum fw_leakage wanted;
    } rows[] = {
        {0, false, true, FW_LEAKAGE_LIGHT},
        {0, true, false, FW_LEAKAGE_NORMAL},
        {0.15, false, true, FW_LEAKAGE_NORMAL},
        {0.16, false, true, FW_LEAKAGE_LIGHT},
        {0.16, false, false, FW_LEAKAGE_NORMAL},
        {0.30, false, true, FW_LEAKAGE_LIGHT},
        {0.31, true, true, FW_LEAKAGE_LIGHT},
        {0.31, true, false, FW_LEAKAGE_LIGHT},
        {0.31, false, true, FW_LEAKAGE_MODERATE},
        {0.60, false, false, FW_LEAKAGE_MODERATE},
        {0.61, false, true, FW_LEAKAGE_HEAVY},
        {0.61, true, true, FW_LEAKAGE_LIGHT},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++)
        assert_int_equal(fw_power_leakage_under(rows[i].grass_m, 0.30,
                                                rows[i].flat, rows[i].growing),
                         rows[i].wanted);
    /* Taller grass never leaks less, a higher wire never more. */
    for (int growing = 0; growing < 2; growing++)
        for (int flat = 0; flat < 2; flat++)
            for (double m = 0.01; m < 0.9; m += 0.01) {
                const enum fw_leakage here =
                    fw_power_leakage_under(m, 0.23, flat, growing);
                assert_true(fw_power_leakage_under(m + 0.01, 0.23, flat,
                                                   growing) >= here);
                assert_true(fw_power_leakage_under(m, 0.35, flat, growing) <=
                            here);
            }
}

static void joined_strands_share_current_and_add_leakage(void **state)
{
    (void)state;
    const double leaks[] = {2000, 5000, 5000};
    double r = 0, leak = 0;
    assert_int_equal(fw_power_bond(3.82, leaks, 3, &r, &leak, NULL), FW_OK);
    assert_near(r, 3.82 / 3, 1e-12);
    assert_near(leak, 1 / (1 / 2000.0 + 2 / 5000.0), 1e-9);
    assert_int_equal(fw_power_bond(3.82, leaks, 1, &r, &leak, NULL), FW_OK);
    assert_near(r, 3.82, 0);
    assert_near(leak, 2000, 1e-9);
    const double none[] = {2000, 0};
    struct fw_error err = {0};
    assert_int_equal(fw_power_bond(3.82, none, 2, &r, &leak, &err), FW_EINPUT);
    assert_non_null(strstr(err.text, "strand 2"));
    assert_int_equal(fw_power_bond(3.82, none, 0, &r, &leak, &err), FW_EINPUT);
    assert_int_equal(fw_power_bond((double)NAN, leaks, 2, &r, &leak, &err),
                     FW_EINPUT);
    assert_near(leak, 2000, 1e-9);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(wires_resist_as_print_has_it),
        cmocka_unit_test(polywires_follow_from_their_strands),
        cmocka_unit_test(solid_wires_follow_from_their_metal),
        cmocka_unit_test(every_conductor_has_its_word_label_source_and_mark),
        cmocka_unit_test(no_figure_for_netting_is_said_aloud),
        cmocka_unit_test(quantity_is_read_and_has_no_row),
        cmocka_unit_test(unknown_conductor_is_refused_with_the_nearest),
        cmocka_unit_test(classes_leak_more_from_row_to_row),
        cmocka_unit_test(classes_agree_with_the_rules_they_rest_on),
        cmocka_unit_test(own_leakage_is_read),
        cmocka_unit_test(bottom_strand_leaks_a_class_more_while_grass_grows),
        cmocka_unit_test(leakage_follows_the_grass_under_the_lowest_wire),
        cmocka_unit_test(joined_strands_share_current_and_add_leakage),
    };
    return cmocka_run_group_tests(tests, open_quantities, close_quantities);
}
