/* Both sides of each range of an energizer and its earth. */
#include "power/power.h"
#include "said.h"

static const double none = (double)NAN;
static const double endless = (double)INFINITY;

/* ---- joules ---- */

static enum fw_status sized(double hot_m, double given_j,
                            struct fw_energizer *out, struct fw_error *err)
{
    return fw_power_size(hot_m, FW_RULE_KM, given_j, false, false, false, out,
                         err);
}

static void fence_and_joules_have_their_ranges(void **state)
{
    (void)state;
    struct fw_energizer out;
    struct fw_error err = {.text = ""};
    assert_int_equal(sized(0, 0, &out, NULL), FW_OK);
    assert_near(out.joules, 0.25, 0);
    assert_int_equal(sized(1e6, 0, &out, NULL), FW_OK);
    assert_near(out.joules, 1000, 0);
    assert_int_equal(sized(0, 100, &out, NULL), FW_OK);
    assert_near(out.joules, 100, 0);
    said(sized(-0.5, 0, &out, &err), &err,
         "live fence is -0.5 m long; expected 0 to 1000000 m");
    said(sized(1e6 + 1, 0, &out, &err), &err, "live fence is 1e+06 m long");
    said(sized(none, 0, &out, &err), &err, "live fence is nan m long");
    said(sized(0, -0.5, &out, &err), &err,
         "energizer is -0.5 J; expected 0 (size it) to 100 J");
    said(sized(0, 100.5, &out, &err), &err,
         "energizer is 100.5 J; expected 0 (size it) to 100 J");
    said(fw_power_size(0, FW_RULE_COUNT, 0, false, false, false, &out, &err),
         &err, "joule rule 3 is not one of 0 to 2");
    assert_near(out.joules, 100, 0);
    assert_null(fw_power_rule(FW_RULE_COUNT));
}

/* 1 J a kilometre: the common size that is enough, up to 15 J; then whole. */
static void next_common_size_is_taken(void **state)
{
    (void)state;
    static const double rows[][2] = {
        {250, 0.25},
        {251, 0.5},
        {500, 0.5},
        {501, 1},
        {1000, 1},
        {1001, 2},
        {2001, 3},
        {3001, 4},
        {4001, 5},
        {5001, 6},
        {6001, 8},
        {8001, 10},
        {10001, 12},
        {12001, 15},
        {15000, 15},
        {15001, 16},
        {16000, 16},
        {16000.1, 17},
        /* A part in a thousand million over is rounding. */
        {1000 * (1 + 0.97e-9), 1},
        {1000 * (1 + 1.03e-9), 2},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        struct fw_energizer out;
        assert_int_equal(sized(rows[i][0], 0, &out, NULL), FW_OK);
        assert_near(out.joules, rows[i][1], 0);
        assert_near(out.need_j, rows[i][0] / 1000, 1e-12);
        assert_false(out.given);
    }
}

/* 3 ft of rod a joule in rods of 6 ft, three at least; one of 2 ft for a
 * portable set of half a joule in moist soil. */
static void rods_follow_the_joules(void **state)
{
    (void)state;
    static const struct {
        double joules;
        bool portable, dry;
        int rods;
        double rod_ft;
    } rows[] = {
        {0.5, true, false, 1, 2},  {0.5, true, true, 3, 6},
        {0.5, false, false, 3, 6}, {0.51, true, false, 3, 6},
        {6, false, false, 3, 6},   {6.01, false, false, 4, 6},
        {8, false, false, 4, 6},   {15, false, false, 8, 6},
        {0.25, true, false, 1, 2},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        struct fw_energizer out;
        assert_int_equal(fw_power_size(100, FW_RULE_MILE, rows[i].joules, false,
                                       rows[i].dry, rows[i].portable, &out,
                                       NULL),
                         FW_OK);
        assert_int_equal(out.rods, rows[i].rods);
        assert_near(out.rod_m, rows[i].rod_ft * 0.3048, 1e-12);
        assert_near(out.rod_metres, rows[i].joules * 3 * 0.3048, 1e-12);
        assert_true(out.given);
        assert_non_null(strstr(out.rod_source, rows[i].rods == 1
                                                   ? "one 2 ft rod"
                                                   : "3 ft of rod"));
    }
}

/* Bavarian LfL: 4 kV through wool; DIN VDE 0131: 5 kV on dry soil. */
static void volts_wanted_are_those_of_coat_and_soil(void **state)
{
    (void)state;
    for (int k = 0; k < 4; k++) {
        const struct fw_power_wanted wanted =
            fw_power_wanted_volts(k & 1, k & 2);
        const double open_v = k & 2 ? 5000 : k & 1 ? 4000 : 3000;
        assert_near(wanted.open_v, open_v, 0);
        assert_near(wanted.touched_v, 2000, 0);
        assert_true(fw_power_meets(&wanted, open_v, 2000));
        assert_false(fw_power_meets(&wanted, open_v - 1, 2000));
        assert_false(fw_power_meets(&wanted, open_v, 1999));
    }
}

/* ---- the data sheet ---- */

static void sheet_has_volts_that_fall_under_load(void **state)
{
    (void)state;
    struct fw_power_source out = {.open_v = -1};
    struct fw_error err = {.text = ""};
    said(fw_power_source_volts(0, 1, 1, &out, &err), &err,
         "open voltage is 0 V; expected over 0");
    said(fw_power_source_volts(endless, 1, 1, &out, &err), &err,
         "open voltage is inf V");
    said(fw_power_source_volts(1, 0, 1, &out, &err), &err,
         "voltage under load is 0 V; expected over 0");
    said(fw_power_source_volts(2, 1, 0, &out, &err), &err,
         "load is 0 ohm; expected over 0");
    said(fw_power_source_volts(5000, 5000, 500, &out, &err), &err,
         "5000 V at 500 ohm are not less than the 5000 V without a load");
    assert_near(out.open_v, -1, 0);
    assert_int_equal(fw_power_source_volts(9000, 3000, 500, &out, &err), FW_OK);
    assert_near(out.internal_ohm, 1000, 1e-9); /* a divider: 6 kV of 9 in it */
    assert_non_null(strstr(out.source, "with a load"));
    assert_int_equal(out.mark, FW_MARK_COMPUTED);
}

/* 5 J in 100 us at 500 ohm: V^2 / R t = E gives 5 kV. */
static void joules_of_a_pulse_are_volts_at_the_load(void **state)
{
    (void)state;
    struct fw_power_source out = {.open_v = -1};
    struct fw_error err = {.text = ""};
    said(fw_power_source_joules(0, 1, 1, &out, &err), &err, "open voltage is");
    said(fw_power_source_joules(1, 0, 1, &out, &err), &err,
         "energizer is 0 J; expected over 0");
    said(fw_power_source_joules(1, 1, 0, &out, &err), &err, "load is 0 ohm");
    said(fw_power_source_joules(5000, 5, 500, &out, &err), &err,
         "5 J at 500 ohm are about 5000 V, not less than the 5000 V");
    assert_near(out.open_v, -1, 0);
    assert_int_equal(fw_power_source_joules(10000, 5, 500, &out, &err), FW_OK);
    assert_near(out.internal_ohm, 500, 1e-9);
    assert_string_equal(out.source,
                        "the data sheet's joules, as a pulse of 100 us");
}

static void guess_is_of_a_quarter_to_five_joules(void **state)
{
    (void)state;
    static const double rows[][3] = {{0.25, 8500, 917}, {0.5, 9000, 684},
                                     {1, 9000, 500},    {2, 9500, 364},
                                     {3, 9500, 292},    {5, 9800, 221}};
    struct fw_power_source out;
    struct fw_error err = {.text = ""};
    for (size_t i = 0; i < 6; i++) {
        assert_int_equal(fw_power_source_guess(rows[i][0], &out, NULL), FW_OK);
        assert_near(out.open_v, rows[i][1], 1e-9);
        assert_near(out.internal_ohm, rows[i][2], 1e-9);
        /* Half-way on the logarithm is half-way between the rows. */
        if (i == 0)
            continue;
        assert_int_equal(fw_power_source_guess(
                             sqrt(rows[i][0] * rows[i - 1][0]), &out, NULL),
                         FW_OK);
        assert_near(out.open_v, (rows[i][1] + rows[i - 1][1]) / 2, 1e-9);
        assert_near(out.internal_ohm, (rows[i][2] + rows[i - 1][2]) / 2, 1e-9);
    }
    said(fw_power_source_guess(0.24, &out, &err), &err,
         "0.24 J cannot be guessed; expected 0.25 to 5 J");
    said(fw_power_source_guess(5.1, &out, &err), &err, "5.1 J cannot be");
}

/* ---- the earth ---- */

static void rod_and_soil_have_their_ranges(void **state)
{
    (void)state;
    const struct fw_rod good = fw_power_rod();
    struct fw_rod rod = good;
    struct fw_error err = {.text = ""};
    double ohm = -1;
    said(fw_power_earth_ohm(0, &rod, 1, &ohm, &err), &err,
         "soil is 0 ohm m; expected over 0 to 1000000");
    said(fw_power_earth_ohm(1e6 + 1, &rod, 1, &ohm, &err), &err, "soil is");
    said(fw_power_earth_ohm(100, &rod, 0, &ohm, &err), &err,
         "0 earth rods; expected 1 to 100");
    said(fw_power_earth_ohm(100, &rod, 101, &ohm, &err), &err,
         "101 earth rods; expected 1 to 100");
    rod.length_m = 0;
    said(fw_power_earth_ohm(100, &rod, 1, &ohm, &err), &err,
         "earth rod is 0 m long; expected over 0 to 30 m");
    rod.length_m = 30.1;
    said(fw_power_earth_ohm(100, &rod, 1, &ohm, &err), &err, "30.1 m long");
    rod = good;
    rod.diameter_m = 0;
    said(fw_power_earth_ohm(100, &rod, 1, &ohm, &err), &err,
         "earth rod is 0 mm thick");
    rod.diameter_m = rod.length_m / 3.99;
    said(fw_power_earth_ohm(100, &rod, 1, &ohm, &err), &err, "mm thick");
    rod = good;
    rod.spacing_m = 0;
    said(fw_power_earth_ohm(100, &rod, 1, &ohm, &err), &err,
         "earth rods stand 0 m apart; expected over 0 to 1000 m");
    rod.spacing_m = 1001;
    said(fw_power_earth_ohm(100, &rod, 1, &ohm, &err), &err, "1001 m apart");
    assert_near(ohm, -1, 0);
    rod = (struct fw_rod){30, 7.5, 1000};
    assert_int_equal(fw_power_earth_ohm(1e6, &rod, 100, &ohm, NULL), FW_OK);
    assert_int_equal(fw_power_earth_ohm(1e6, &rod, 1, &ohm, NULL), FW_OK);
    /* Dwight: rho / (2 pi L) (ln (8 L / d) - 1). */
    assert_relative(ohm, 1e6 / (2 * acos(-1.0) * 30) * (log(32) - 1), 1e-12);
}

static struct fw_earth_ask asked(void)
{
    return (struct fw_earth_ask){.joules = 1,
                                 .open_v = 8000,
                                 .internal_ohm = 500,
                                 .soil_ohm_m = 100,
                                 .rod = fw_power_rod()};
}

static void refused(const struct fw_earth_ask *ask, const char *says)
{
    struct fw_earth out = {.rods = -1};
    struct fw_error err = {.text = ""};
    said(fw_power_earth(ask, &out, &err), &err, says);
    assert_int_equal(out.rods, -1);
}

static struct fw_earth earthed(const struct fw_earth_ask *ask)
{
    struct fw_earth out;
    struct fw_error err;
    if (fw_power_earth(ask, &out, &err))
        fail_msg("%s", err.text);
    return out;
}

static void what_is_asked_of_an_earth_has_its_ranges(void **state)
{
    (void)state;
    struct fw_earth_ask ask = asked();
    ask.joules = 0;
    refused(&ask, "energizer is 0 J; expected over 0 to 100 J");
    ask.joules = 100.5;
    refused(&ask, "energizer is 100.5 J; expected over 0 to 100 J");
    ask.joules = 100; /* 300 ft of rod */
    assert_int_equal(earthed(&ask).by_joules, 50);
    ask = asked();
    ask.open_v = 2000;
    refused(&ask, "open voltage is 2000 V; expected over the 2000 V");
    ask.open_v = endless;
    refused(&ask, "open voltage is inf V");
    ask.open_v = 2001;
    assert_int_equal(earthed(&ask).by_test, 1);
    ask = asked();
    ask.internal_ohm = 0;
    refused(&ask, "internal resistance is 0 ohm; expected over 0");
    ask.internal_ohm = endless;
    refused(&ask, "internal resistance is inf ohm");
    ask.internal_ohm = 0.5;
    assert_near(earthed(&ask).test_ohm, 0.5 / 19, 1e-12);
    ask = asked();
    ask.most_rod_v = -0.5;
    refused(&ask, "earth rod may read -0.5 V; expected 0 (300 V) or more");
    ask.most_rod_v = endless;
    refused(&ask, "earth rod may read inf V");
    ask = asked();
    ask.most_rods = -1;
    refused(&ask, "-1 earth rods at most; expected 0 (12) to 100");
    ask.most_rods = 101;
    refused(&ask, "101 earth rods at most; expected 0 (12) to 100");
    ask.most_rods = 100;
    assert_true(earthed(&ask).rods >= 3);
    ask = asked();
    ask.soil_ohm_m = none;
    refused(&ask, "soil is nan ohm m");
}

/* 6 kV too much, of which 300 V on the earth: r / (500 + r) = 1 / 20. One volt
 * asked for is one volt, and none is the 300 V in print. */
static void earth_that_passes_the_test_is_a_divider(void **state)
{
    (void)state;
    struct fw_earth_ask ask = asked();
    assert_near(earthed(&ask).test_ohm, 500 / 19.0, 1e-9);
    ask.most_rod_v = 1;
    assert_near(earthed(&ask).test_ohm, 500 / 5999.0, 1e-9);
    ask.most_rod_v = 0.5;
    assert_near(earthed(&ask).test_ohm, 0.5 * 500 / 5999.5, 1e-9);
    ask.most_rod_v = 6000;
    assert_true(isinf(earthed(&ask).test_ohm));
    ask.most_rod_v = 5999;
    assert_near(earthed(&ask).test_ohm, 5999 * 500, 1e-6);
}

/* Hooves as discs: soil over 4 radii each, four of them, 12.5 cm2 a hoof, of
 * what the ground has over loam's 100 ohm m. */
static void ground_under_the_hooves_is_in_the_loop(void **state)
{
    (void)state;
    const double radius_m = sqrt(0.00125 / acos(-1.0));
    assert_near(fw_power_hooves_ohm(30), 0, 0);
    assert_near(fw_power_hooves_ohm(100), 0, 0);
    assert_relative(fw_power_hooves_ohm(101), 1 / (16 * radius_m), 1e-9);
    assert_relative(fw_power_hooves_ohm(1100), 1000 / (16 * radius_m), 1e-9);
}

/* Published resistivities, ohm m: tables of averages and ranges (clay and moist
 * gravel: US Bureau of Standards, report 108), and those of frozen ground at 0,
 * -5 and -15 C. */
static void soils_are_those_of_the_tables(void **state)
{
    (void)state;
    static const struct {
        const char *word;
        double low, middle, high;
    } rows[] = {
        {"bog", 30, 30, 30},          {"clay", 3.4, 40, 163},
        {"loam", 100, 100, 100},      {"silt-clay", 30, 80, 80},
        {"clay-sand", 50, 200, 200},  {"moist-sand", 50, 200, 3000},
        {"silt-sand", 100, 800, 800}, {"clay-gravel", 200, 400, 400},
        {"peat", 200, 1200, 1200},    {"moist-gravel", 590, 1000, 4580},
        {"gravel", 600, 1000, 1000},  {"coarse-gravel", 1000, 2500, 2500},
        {"frozen", 300, 790, 3300},   {"stony", 2000, 2000, 2000},
    };
    size_t count;
    fw_power_soils(&count);
    assert_int_equal(count, sizeof rows / sizeof rows[0]);
    for (size_t i = 0; i < count; i++) {
        const struct fw_soil_row *row;
        assert_int_equal(fw_power_soil_find(rows[i].word, &row, NULL), FW_OK);
        assert_near(row->low_ohm_m, rows[i].low, 0);
        assert_near(row->ohm_m, rows[i].middle, 0);
        assert_near(row->high_ohm_m, rows[i].high, 0);
    }
    struct fw_error err = {.text = ""};
    const struct fw_soil_row *row = NULL;
    said(fw_power_soil_find("loamm", &row, &err), &err,
         "\"loamm\" is not a soil; did you mean loam?");
    said(fw_power_soil_find("volcanoes", &row, &err), &err,
         "expected bog, clay, loam, silt-clay");
    assert_null(row);
}

static void strands_of_earth_lie_between_hot_ones(void **state)
{
    (void)state;
    static const bool earth[4][4] = {{false},
                                     {true, false},
                                     {false, true, false},
                                     {false, true, false, true}};
    for (int n = 1; n <= 4; n++) {
        for (int k = 0; k < n; k++)
            assert_int_equal(fw_power_is_earth_strand(k, n), earth[n - 1][k]);
        assert_false(fw_power_is_earth_strand(-1, n));
        assert_false(fw_power_is_earth_strand(n, n));
        assert_false(fw_power_is_earth_strand(n + 1, n));
    }
    static const int beside[] = {1, 0, 1, 2, 3};
    for (int k = 0; k < 5; k++)
        assert_int_equal(fw_power_beside(k), beside[k]);
    const struct fw_earth_return *one = fw_power_earth_return(1);
    const struct fw_earth_return *two = fw_power_earth_return(2);
    const struct fw_earth_return *more = fw_power_earth_return(3);
    assert_non_null(strstr(one->wiring, "add a second"));
    assert_non_null(strstr(two->wiring, "let the lower strand"));
    assert_non_null(strstr(more->wiring, "every second strand"));
    assert_ptr_equal(fw_power_earth_return(0), one);
    assert_ptr_equal(fw_power_earth_return(8), more);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(fence_and_joules_have_their_ranges),
        cmocka_unit_test(next_common_size_is_taken),
        cmocka_unit_test(rods_follow_the_joules),
        cmocka_unit_test(volts_wanted_are_those_of_coat_and_soil),
        cmocka_unit_test(sheet_has_volts_that_fall_under_load),
        cmocka_unit_test(joules_of_a_pulse_are_volts_at_the_load),
        cmocka_unit_test(guess_is_of_a_quarter_to_five_joules),
        cmocka_unit_test(rod_and_soil_have_their_ranges),
        cmocka_unit_test(what_is_asked_of_an_earth_has_its_ranges),
        cmocka_unit_test(earth_that_passes_the_test_is_a_divider),
        cmocka_unit_test(ground_under_the_hooves_is_in_the_loop),
        cmocka_unit_test(soils_are_those_of_the_tables),
        cmocka_unit_test(strands_of_earth_lie_between_hot_ones),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
