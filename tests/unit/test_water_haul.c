#include "test.h"
#include "water/haul.h"

#include <math.h>
#include <string.h>

static const double gallon_l = 3.785411784, imperial_gallon_l = 4.54609;

static struct fw_haul_sums sums_of(struct fw_haul haul, double litres_day,
                                   double days)
{
    struct fw_haul_sums sums;
    struct fw_error err = {0};
    if (fw_water_haul(&haul, litres_day, days, &sums, &err))
        fail_msg("%s", err.text);
    return sums;
}

/* 1.5 km at 15 km/h, 600 L at 40 L/min in and out, 5 minutes of handling:
 * 12 + 30 + 5. */
static const struct fw_haul farm = {600, 0, 0, 1500, 250, 40, 5};

static void a_trip_is_road_filling_and_handling(void **state)
{
    (void)state;
    const struct fw_haul_sums sums = sums_of(farm, 450, 20);
    assert_near(sums.carry_l, 600, 0);
    assert_near(sums.trip_min, 12 + 30 + 5, 1e-9);
    assert_near(sums.trips_day, 0.75, 1e-12);
    assert_int_equal(sums.trips, 15); /* 9,000 L */
    assert_near(sums.minutes, 15 * 47, 1e-9);
    assert_near(sums.minutes_day, 0.75 * 47, 1e-9);
    /* A litre more is a trip more. */
    assert_int_equal(sums_of(farm, 450.1, 20).trips, 16);
    assert_int_equal(sums_of(farm, 0, 20).trips, 0);
}

/* 450 L in two hauls of 225 L: twice 12 min of road and 5 of handling, and each
 * litre filled and emptied at 40 L/min; 1,300 L want three. */
static void frost_takes_two_hauls_at_least(void **state)
{
    (void)state;
    struct fw_frost frost;
    assert_int_equal(fw_water_frost(&farm, 450, &frost, NULL), FW_OK);
    assert_int_equal(frost.hauls, 2);
    assert_near(frost.each_l, 225, 1e-12);
    assert_near(frost.minutes, 2 * 17 + 2 * 450 / 40.0, 1e-9);
    assert_int_equal(fw_water_frost(&farm, 1300, &frost, NULL), FW_OK);
    assert_int_equal(frost.hauls, 3);
    assert_near(frost.minutes, 3 * 17 + 2 * 1300 / 40.0, 1e-9);
    struct fw_haul untold = farm;
    untold.tank_l = 0;
    assert_int_equal(fw_water_frost(&untold, 450, &frost, NULL), FW_OK);
    assert_int_equal(frost.hauls, 2);
    assert_true(isnan(frost.minutes));
    assert_int_equal(fw_water_frost(&farm, (double)NAN, &frost, NULL),
                     FW_EINPUT);
    untold.tank_l = 1e9;
    assert_int_equal(fw_water_frost(&untold, 450, &frost, NULL), FW_EINPUT);
}

/* South Dakota State University, from NRC 2007: 100 lactating ewes of 160 lb
 * drink 236 gal a day; at the rounded 8.34 lb a gallon that is 1,968 lb. */
static void the_least_of_tank_payload_and_trough_is_brought(void **state)
{
    (void)state;
    const double day_l = 100 * 2.36 * gallon_l;
    struct fw_haul haul = farm;
    haul.tank_l = 236.0000001 * gallon_l;
    assert_int_equal(sums_of(haul, day_l, 1).trips, 1);
    haul.payload_kg = 1970 * 0.45359237;
    assert_int_equal(sums_of(haul, day_l, 1).trips, 1);
    haul.payload_kg = 1960 * 0.45359237;
    assert_int_equal(sums_of(haul, day_l, 1).trips, 2);
    haul.payload_kg = 0;
    haul.trough_l = 100 * gallon_l;
    assert_int_equal(sums_of(haul, day_l, 1).trips, 3);
    assert_near(sums_of(haul, day_l, 1).carry_l, 100 * gallon_l, 1e-9);
    haul.trough_l = 0.5;
    assert_near(sums_of(haul, 10, 1).carry_l, 0.5, 0);
    haul.payload_kg = 0.25;
    assert_near(sums_of(haul, 10, 1).carry_l, 0.25, 0);
}

static void nonsense_is_refused(void **state)
{
    (void)state;
    struct fw_haul_sums sums = {.trips = 77};
    struct fw_haul bad[6] = {farm, farm, farm, farm, farm, farm};
    const char *const says[] = {"tank", "payload", "trough",
                                "road", "speed",   "filling"};
    bad[0].tank_l = 0;
    bad[1].payload_kg = -1;
    bad[2].trough_l = (double)NAN;
    bad[3].road_m = -5;
    bad[4].drive_m_min = 0;
    bad[5].fill_l_min = 0;
    for (size_t i = 0; i < 6; i++) {
        struct fw_error err = {0};
        assert_int_equal(fw_water_haul(&bad[i], 100, 1, &sums, &err),
                         FW_EINPUT);
        assert_non_null(strstr(err.text, says[i]));
    }
    assert_int_equal(fw_water_haul(&farm, -1, 1, &sums, NULL), FW_EINPUT);
    assert_int_equal(fw_water_haul(&farm, 1, (double)NAN, &sums, NULL),
                     FW_EINPUT);
    assert_int_equal(sums.trips, 77);
}

/* ---- the trough ---- */

static struct fw_trough trough_of(enum fw_trough_rule rule, double litres_day,
                                  int head, double trough_l)
{
    struct fw_trough trough;
    fw_water_trough(rule, litres_day, head, trough_l, &trough);
    return trough;
}

/* Agriculture Victoria, sheep notes, spring 2024: 500 dry sheep want 21 L/min,
 * 160 dry cattle 67 (of 100 L a day). Alberta, Agdex 787: 80 head of 15
 * imperial gallons in 4 hours are 5 a minute. SheepConnect South Australia: 1
 * L/s for 300 sheep. */
static void the_flow_is_what_authorities_print(void **state)
{
    (void)state;
    assert_near(trough_of(FW_TROUGH_FOUR_HOURS, 500 * 10, 500, 0).refill_l_min,
                21, 0.5);
    assert_near(trough_of(FW_TROUGH_FOUR_HOURS, 160 * 100, 160, 0).refill_l_min,
                67, 0.5);
    assert_near(
        trough_of(FW_TROUGH_FOUR_HOURS, 80 * 15 * imperial_gallon_l, 80, 0)
            .refill_l_min,
        5 * imperial_gallon_l, 1e-9);
    assert_near(trough_of(FW_TROUGH_AT_ONCE, 3000, 300, 0).refill_l_min, 60,
                1e-9);
    /* Per head they differ fivefold. */
    assert_near(trough_of(FW_TROUGH_AT_ONCE, 5000, 500, 0).refill_l_min /
                    trough_of(FW_TROUGH_FOUR_HOURS, 5000, 500, 0).refill_l_min,
                4.8, 0.05);
    for (int rule = 0; rule < FW_TROUGH_RULES; rule++)
        assert_non_null(fw_water_trough_rule((enum fw_trough_rule)rule));
    assert_null(fw_water_trough_rule(FW_TROUGH_RULES));
}

static void a_trough_is_empty_after_so_many_hours(void **state)
{
    (void)state;
    /* 400 L a day in 4 hours are 100 L an hour: 50 L last half an hour, 200 L
     * two, 400 L the day, 800 L two days. */
    assert_near(trough_of(FW_TROUGH_FOUR_HOURS, 400, 100, 50).empty_h, 0.5,
                1e-12);
    assert_near(trough_of(FW_TROUGH_FOUR_HOURS, 400, 100, 200).empty_h, 2,
                1e-12);
    assert_near(trough_of(FW_TROUGH_FOUR_HOURS, 400, 100, 400).empty_h, 24,
                1e-12);
    assert_near(trough_of(FW_TROUGH_FOUR_HOURS, 400, 100, 800).empty_h, 48,
                1e-12);
    /* All at once: 20 L/min for 100 head, the day's 400 L in 20 minutes. */
    assert_near(trough_of(FW_TROUGH_AT_ONCE, 400, 100, 100).empty_h, 5.0 / 60,
                1e-12);
    assert_near(trough_of(FW_TROUGH_AT_ONCE, 400, 100, 100).peak_l_h, 400, 0);
    assert_true(isnan(trough_of(FW_TROUGH_AT_ONCE, 400, 100, 0).empty_h));
    assert_true(isnan(trough_of(FW_TROUGH_FOUR_HOURS, 0, 100, 50).empty_h));
}

/* Saskatchewan, water storage facilities: 36,000 L a day at 175 L/min ask for
 * the larger of 72,000 and 63,000 L. */
static void storage_is_two_days_or_six_hours_at_the_peak(void **state)
{
    (void)state;
    assert_near(fw_water_stored_l(36000, 175), 72000, 1e-9);
    assert_near(fw_water_stored_l(0, 175), 63000, 1e-9);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_trip_is_road_filling_and_handling),
        cmocka_unit_test(frost_takes_two_hauls_at_least),
        cmocka_unit_test(the_least_of_tank_payload_and_trough_is_brought),
        cmocka_unit_test(nonsense_is_refused),
        cmocka_unit_test(the_flow_is_what_authorities_print),
        cmocka_unit_test(a_trough_is_empty_after_so_many_hours),
        cmocka_unit_test(storage_is_two_days_or_six_hours_at_the_peak),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
