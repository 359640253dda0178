/* Both sides of each range of what feeds an energizer, of what leaks from the
 * wire, and of what a pulse may be. */
#include "power/power.h"
#include "said.h"

static const double endless = (double)INFINITY;

/* ---- battery, sun, mains ---- */

static void draw_has_its_ranges(void **state)
{
    (void)state;
    struct fw_error err = {.text = ""};
    double w = -1;
    said(fw_power_draw_w(0, 1, &w, &err), &err,
         "energizer is 0 J; expected over 0 to 100 J");
    said(fw_power_draw_w(100.5, 1, &w, &err), &err, "energizer is 100.5 J");
    said(fw_power_draw_w(1, 0.9, &w, &err), &err,
         "pulses are 0.9 s apart; expected 1 to 10 s");
    said(fw_power_draw_w(1, 10.1, &w, &err), &err, "pulses are 10.1 s apart");
    assert_near(w, -1, 0);
    assert_int_equal(fw_power_draw_w(100, 1, &w, NULL), FW_OK);
    assert_int_equal(fw_power_draw_w(1, 10, &w, NULL), FW_OK);
    assert_near(w, 1 / 0.6 / 10, 1e-12);
}

static void battery_has_its_ranges(void **state)
{
    (void)state;
    struct fw_error err = {.text = ""};
    double ah = -1;
    said(fw_power_battery_ah(0, 1, &ah, &err), &err,
         "energizer takes 0 A; expected over 0 to 100 A");
    said(fw_power_battery_ah(100.5, 1, &ah, &err), &err, "takes 100.5 A");
    said(fw_power_battery_ah(1, 0, &ah, &err), &err,
         "0 days between charges; expected over 0 to 366");
    said(fw_power_battery_ah(1, 366.5, &ah, &err), &err, "366.5 days between");
    /* 59 % of it used: 10,000 Ah last 5,900 Ah. */
    said(fw_power_battery_ah(5901 / 24.0 / 100, 100, &ah, &err), &err,
         "ask for 10005 Ah; expected up to 10000");
    assert_near(ah, -1, 0);
    assert_int_equal(fw_power_battery_ah(5899 / 24.0 / 100, 100, &ah, NULL),
                     FW_OK);
    assert_near(ah, 10000, 0);
    assert_int_equal(fw_power_battery_ah(100, 1, &ah, NULL), FW_OK);
    assert_int_equal(fw_power_battery_ah(0.001, 366, &ah, NULL), FW_OK);
    assert_near(ah, 15, 0); /* 8.784 Ah over 0.59 are 14.9 */
}

static void sun_has_its_ranges(void **state)
{
    (void)state;
    struct fw_error err = {.text = ""};
    struct fw_solar out = {.panel_w = -1};
    said(fw_power_solar(0, 12, 4, 1.2, &out, &err), &err, "takes 0 A");
    said(fw_power_solar(1, 0, 4, 1.2, &out, &err), &err,
         "battery is 0 V; expected over 0 to 48 V");
    said(fw_power_solar(1, 48.5, 4, 1.2, &out, &err), &err, "48.5 V");
    said(fw_power_solar(0.1, 12, 0, 1.2, &out, &err), &err,
         "0 hours of sun a day; expected over 0 to 24");
    said(fw_power_solar(0.1, 12, 24.5, 1.2, &out, &err), &err, "24.5 hours");
    said(fw_power_solar(0.1, 12, 4, 0.9, &out, &err), &err,
         "panel margin is 0.9; expected 1 to 10");
    said(fw_power_solar(0.1, 12, 4, 10.5, &out, &err), &err,
         "panel margin is 10.5; expected 1 to 10");
    said(fw_power_solar(1, 12, 1, 1, &out, &err), &err,
         "1 A at 12 V and 1 hours of sun ask for a panel of 288 W");
    assert_near(out.panel_w, -1, 0);
    assert_int_equal(fw_power_solar(0.01, 48, 24, 10, &out, NULL), FW_OK);
    assert_near(out.panel_w, 0.01 * 48 * 10, 1e-12);
    assert_near(out.buy_w, 5, 0);
    assert_int_equal(fw_power_solar(0.1, 12, 4, 1, &out, NULL), FW_OK);
    assert_near(out.wh_day, 28.8, 1e-12);
    assert_near(out.ah_day, 2.4, 1e-12);
    assert_near(out.charge_a, 0.6, 1e-12);
    assert_near(out.panel_w, 7.2, 1e-12);
    assert_near(out.buy_w, 10, 0);
}

/* At 10 V, 24 h of sun and no margin the panel has ten times the amperes. */
static void next_common_panel_is_taken(void **state)
{
    (void)state;
    static const double sizes_w[] = {5,  10, 20,  30,  40,  50,
                                     60, 80, 100, 120, 150, 200};
    struct fw_solar out;
    for (size_t i = 0; i < sizeof sizes_w / sizeof sizes_w[0]; i++) {
        assert_int_equal(fw_power_solar(sizes_w[i] / 10, 10, 24, 1, &out, NULL),
                         FW_OK);
        assert_near(out.buy_w, sizes_w[i], 0);
        if (i > 0) {
            assert_int_equal(fw_power_solar(sizes_w[i - 1] / 10 + 0.001, 10, 24,
                                            1, &out, NULL),
                             FW_OK);
            assert_near(out.buy_w, sizes_w[i], 0);
        }
    }
    assert_int_equal(fw_power_solar(20.001, 10, 24, 1, &out, NULL), FW_EINPUT);
}

static void mains_have_their_ranges(void **state)
{
    (void)state;
    struct fw_error err = {.text = ""};
    double kwh = -1, cost = -1;
    said(fw_power_mains(0, 0.3, &kwh, &cost, &err), &err,
         "energizer takes 0 W; expected over 0 to 1000 W");
    said(fw_power_mains(1000.5, 0.3, &kwh, &cost, &err), &err, "1000.5 W");
    said(fw_power_mains(10, -0.1, &kwh, &cost, &err), &err,
         "a kilowatt hour costs -0.1; expected 0 or more");
    said(fw_power_mains(10, endless, &kwh, &cost, &err), &err, "costs inf");
    assert_near(kwh, -1, 0);
    assert_int_equal(fw_power_mains(1000, 0, &kwh, &cost, NULL), FW_OK);
    assert_near(kwh, 8766.0 / 12, 1e-9); /* hours of a mean year */
    assert_near(cost, 0, 0);
    assert_int_equal(fw_power_mains(10, 0.3, &kwh, &cost, NULL), FW_OK);
    assert_near(cost, 0.3 * 87.66 / 12, 1e-9);
}

/* ---- leakage ---- */

static void grass_on_the_wire_is_told_by_its_height(void **state)
{
    (void)state;
    static const struct {
        double grass_m;
        enum fw_leakage growing, dormant, flat;
    } rows[] = {
        {0, FW_LEAKAGE_LIGHT, FW_LEAKAGE_NORMAL, FW_LEAKAGE_LIGHT},
        {0.001, FW_LEAKAGE_NORMAL, FW_LEAKAGE_NORMAL, FW_LEAKAGE_NORMAL},
        {0.125, FW_LEAKAGE_NORMAL, FW_LEAKAGE_NORMAL, FW_LEAKAGE_NORMAL},
        {0.126, FW_LEAKAGE_LIGHT, FW_LEAKAGE_NORMAL, FW_LEAKAGE_LIGHT},
        {0.25, FW_LEAKAGE_LIGHT, FW_LEAKAGE_NORMAL, FW_LEAKAGE_LIGHT},
        {0.251, FW_LEAKAGE_MODERATE, FW_LEAKAGE_MODERATE, FW_LEAKAGE_LIGHT},
        {0.5, FW_LEAKAGE_MODERATE, FW_LEAKAGE_MODERATE, FW_LEAKAGE_LIGHT},
        {0.501, FW_LEAKAGE_HEAVY, FW_LEAKAGE_HEAVY, FW_LEAKAGE_LIGHT},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        const double m = rows[i].grass_m;
        assert_int_equal(fw_power_leakage_under(m, 0.25, false, true),
                         rows[i].growing);
        assert_int_equal(fw_power_leakage_under(m, 0.25, false, false),
                         rows[i].dormant);
        assert_int_equal(fw_power_leakage_under(m, 0.25, true, true),
                         rows[i].flat);
    }
}

/* 10, 5, 2, 1 and half a kilo-ohm kilometre; strands above one class better
 * while grass grows. */
static void upper_strands_leak_less_while_grass_grows(void **state)
{
    (void)state;
    static const double ohm_km[] = {10000, 5000, 2000, 1000, 500};
    for (int k = 0; k < FW_LEAKAGE_COUNT; k++) {
        const enum fw_leakage of = (enum fw_leakage)k;
        assert_near(fw_power_leakage(of)->ohm_km, ohm_km[k], 0);
        assert_near(fw_power_leakage_ohm_km(of, 0, true), ohm_km[k], 0);
        assert_near(fw_power_leakage_ohm_km(of, 1, false), ohm_km[k], 0);
        assert_near(fw_power_leakage_ohm_km(of, 1, true), ohm_km[k ? k - 1 : 0],
                    0);
    }
    assert_near(fw_power_leakage_ohm_km(FW_LEAKAGE_COUNT, 0, true), 0, 0);
    assert_null(fw_power_leakage(FW_LEAKAGE_COUNT));
}

static void strands_that_are_joined_leak_together(void **state)
{
    (void)state;
    const double leaks[] = {1000, 2000}, bad[] = {1000, 0};
    struct fw_error err = {.text = ""};
    double ohm_m = -1, leak = -1;
    said(fw_power_bond(4, leaks, 0, &ohm_m, &leak, &err), &err, "no strand");
    said(fw_power_bond(0, leaks, 2, &ohm_m, &leak, &err), &err,
         "wire is 0 ohm/m; expected over 0");
    said(fw_power_bond(4, bad, 2, &ohm_m, &leak, &err), &err,
         "strand 2 leaks at 0 ohm km; expected over 0");
    assert_near(ohm_m, -1, 0);
    assert_int_equal(fw_power_bond(4, leaks, 2, &ohm_m, &leak, NULL), FW_OK);
    assert_near(ohm_m, 2, 1e-12);
    assert_near(leak, 2000.0 / 3, 1e-9);
}

/* ---- the standard ---- */

static void pulse_breaks_one_limit_after_the_other(void **state)
{
    (void)state;
    static const struct {
        struct fw_pulse pulse;
        enum fw_pulse_limit broken;
    } rows[] = {
        {{1, 0, 0, 0, false}, FW_LIMIT_NONE},
        {{1, 10e-3, 5, 0, false}, FW_LIMIT_NONE},
        {{0.99, 0, 0, 0, false}, FW_LIMIT_INTERVAL},
        {{1, 10.1e-3, 0, 0, false}, FW_LIMIT_DURATION},
        {{1, -1e-3, 0, 0, false}, FW_LIMIT_DURATION},
        {{1, 0, 5.1, 0, false}, FW_LIMIT_ENERGY},
        {{1, 0, -0.1, 0, false}, FW_LIMIT_ENERGY},
        {{1, 0, 15, 0, true}, FW_LIMIT_NONE},
        {{1, 0, 15.1, 0, true}, FW_LIMIT_ENERGY},
        {{1, 0.1e-3, 99, 15.7, false}, FW_LIMIT_NONE},
        {{1, 0.1e-3, 0, 15.8, false}, FW_LIMIT_CURRENT},
        {{1, 0.1e-3, 0, -1, false}, FW_LIMIT_CURRENT},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++)
        if (fw_power_limit_broken(&rows[i].pulse) != rows[i].broken)
            fail_msg("row %zu", i);
    /* t ms = 41.885e3 I^-1.34 mA (22.108, from memory), 15.7 A at most. */
    assert_near(fw_power_most_current_a(-1e-9), 0, 0);
    assert_near(fw_power_most_current_a(0), 15.7, 0);
    assert_near(fw_power_most_current_a(0.1e-3), 15.7, 0);
    const double ma = 1000 * fw_power_most_current_a(1e-3);
    assert_near(41.885e3 * pow(ma, -1.34), 1, 1e-9);
    for (int k = 0; k < FW_LIMIT_COUNT; k++) {
        assert_non_null(fw_power_limit_text((enum fw_pulse_limit)k));
        assert_non_null(fw_power_limit_source((enum fw_pulse_limit)k));
    }
    assert_null(fw_power_limit_text(FW_LIMIT_COUNT));
    assert_null(fw_power_limit_source(FW_LIMIT_COUNT));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(draw_has_its_ranges),
        cmocka_unit_test(battery_has_its_ranges),
        cmocka_unit_test(sun_has_its_ranges),
        cmocka_unit_test(next_common_panel_is_taken),
        cmocka_unit_test(mains_have_their_ranges),
        cmocka_unit_test(grass_on_the_wire_is_told_by_its_height),
        cmocka_unit_test(upper_strands_leak_less_while_grass_grows),
        cmocka_unit_test(strands_that_are_joined_leak_together),
        cmocka_unit_test(pulse_breaks_one_limit_after_the_other),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
