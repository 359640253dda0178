#include "test.h"

#include "weather/weather.h"

#include <math.h>
#include <string.h>

static const double pound_kg = 0.45359237;

static double c(double f)
{
    return (f - 32) / 1.8;
}

static struct fw_weather cold(double air_c)
{
    struct fw_weather weather = fw_weather_none();
    weather.cold_c = air_c;
    return weather;
}

static struct fw_weather_need need(const struct fw_weather *weather,
                                   enum fw_coat coat, double soft_share)
{
    const struct fw_weather_table table = fw_weather_usual();
    const struct fw_flock_class sheep = {.head = 50, .coat = coat};
    return fw_weather_need(&table, weather, &sheep, 1, 100, soft_share);
}

/* North Dakota State University, December 2014: at -15 F a sheep in full fleece
 * is some 40 F too cold and wants a pound of maize more. A quarter of a pound
 * of digestible nutrients for 10 F are one for 40 F, of which grass has 60 %.
 */
static void a_pound_of_nutrients_for_forty_degrees(void **state)
{
    (void)state;
    const struct fw_weather weather = cold(c(28 - 40));
    assert_relative(need(&weather, FW_WOOL, 0).cold_kg, 50 * pound_kg / 0.6,
                    0.003); /* the register rounds */
}

/* Ohio State University 2019. */
static void they_need_more_below_the_published_temperatures(void **state)
{
    (void)state;
    static const struct {
        enum fw_coat coat;
        bool wet;
        double below_f;
    } rows[] = {
        {FW_WOOL, false, 28},        {FW_WOOL, true, 28},
        {FW_SHORN, false, 50},       {FW_SHORN, true, 58},
        {FW_HAIR, false, 32},        {FW_HAIR, true, 58},
        {FW_COAT_UNTOLD, false, 32},
    };
    const struct fw_weather_table table = fw_weather_usual();
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        assert_near(fw_weather_critical_c(&table, rows[i].coat, rows[i].wet),
                    c(rows[i].below_f), 0.05);
        const double critical_c =
            fw_weather_critical_c(&table, rows[i].coat, rows[i].wet);
        struct fw_weather weather = cold(critical_c);
        weather.wet = rows[i].wet;
        assert_near(need(&weather, rows[i].coat, 0).cold_kg, 0, 1e-12);
        weather.cold_c -= 1;
        assert_relative(need(&weather, rows[i].coat, 0).cold_kg,
                        50 * pound_kg * 1.8 / 40 / 0.6, 0.003);
        weather.cold_c = critical_c + 20;
        assert_near(need(&weather, rows[i].coat, 0).cold_kg, 0, 0);
    }
}

static void snow_wets_hair_as_rain_does(void **state)
{
    (void)state;
    struct fw_weather rain = cold(0), snow = cold(0);
    rain.wet = true;
    snow.snow_m = 0.05;
    assert_true(need(&rain, FW_HAIR, 0).cold_kg > 0);
    assert_near(need(&rain, FW_HAIR, 0).cold_kg,
                need(&snow, FW_HAIR, 0).cold_kg, 1e-12);
    snow.snow_m = 0;
    assert_near(need(&snow, FW_HAIR, 0).cold_kg, 0, 0);
}

/* So that what is left of it when the trodden part is lost is the same. */
static void wet_ground_is_larger_by_its_parts(void **state)
{
    (void)state;
    struct fw_weather weather = fw_weather_none();
    weather.wet = true;
    assert_near(need(&weather, FW_WOOL, 0).more_share, 0.10, 1e-12);
    assert_near(need(&weather, FW_WOOL, 1).more_share, 1 / (1 - 0.2) - 1,
                1e-12);
    assert_near(need(&weather, FW_WOOL, 0.4).more_share,
                0.6 * 0.10 + 0.4 * 0.25, 1e-12);
    assert_near(need(&weather, FW_WOOL, (double)NAN).more_share, 0.10, 1e-12);
}

static void rain_and_cold_multiply(void **state)
{
    (void)state;
    struct fw_weather weather = cold(-20);
    const double cold_kg = need(&weather, FW_WOOL, 0).cold_kg;
    assert_near(need(&weather, FW_WOOL, 0).more_share, cold_kg / 100, 1e-12);
    weather.wet = true;
    assert_near(need(&weather, FW_WOOL, 0).more_share,
                1.10 * (1 + cold_kg / 100) - 1, 1e-12);
}

static void classes_are_reckoned_one_by_one(void **state)
{
    (void)state;
    const struct fw_weather_table table = fw_weather_usual();
    const struct fw_weather weather = cold(5);
    const struct fw_flock_class classes[] = {{.head = 30, .coat = FW_WOOL},
                                             {.head = 4, .coat = FW_SHORN}};
    assert_near(fw_weather_need(&table, &weather, classes, 2, 100, 0).cold_kg,
                4 * 5 * table.cold_more_kg, 1e-12);
}

static void each_figure_is_a_limit_that_counts(void **state)
{
    (void)state;
    struct fw_weather weather = fw_weather_none();
    struct fw_weather_need got = need(&weather, FW_WOOL, 0);
    assert_false(got.hot || got.deep || got.frozen);
    assert_near(got.more_share, 0, 0);
    assert_int_equal(got.days, 3);
    weather.heat_c = 28;
    weather.snow_m = 0.1524;
    weather.cold_c = -5;
    weather.days = 7;
    got = need(&weather, FW_WOOL, 0);
    assert_true(got.hot && got.deep && got.frozen);
    assert_int_equal(got.days, 7);
    weather.snow_m = fw_weather_usual().snow_from_m;
    assert_true(need(&weather, FW_WOOL, 0).deep);
    weather.days = 1;
    assert_int_equal(need(&weather, FW_WOOL, 0).days, 1);
    weather.heat_c = 27.9;
    weather.snow_m = 0.152;
    weather.cold_c = -4.9;
    got = need(&weather, FW_WOOL, 0);
    assert_false(got.hot || got.deep || got.frozen);
}

/* ---- where ---- */

static void a_place_suits_unless_a_map_says_otherwise(void **state)
{
    (void)state;
    const struct fw_weather_place unknown = {(double)NAN, FW_UNTOLD, FW_UNTOLD};
    const struct fw_weather_place bare = {1, FW_NO, FW_NO};
    const struct fw_weather_place good = {0.19, FW_YES, FW_YES};
    for (int g = 0; g < FW_GROUND_COUNT; g++) {
        const enum fw_weather_ground ground = (enum fw_weather_ground)g;
        assert_true(fw_weather_suits(&unknown, ground));
        assert_true(fw_weather_suits(&good, ground));
        assert_int_equal(fw_weather_suits(&bare, ground), g == FW_GROUND_ANY);
    }
    const struct fw_weather_place soft = {0.2, FW_YES, FW_YES};
    assert_false(fw_weather_suits(&soft, FW_GROUND_FIRM));
}

static enum fw_weather_kind asked(struct fw_weather weather,
                                  const struct fw_weather_table *table)
{
    const struct fw_flock_class sheep = {.head = 50, .coat = FW_WOOL};
    const struct fw_weather_need what =
        fw_weather_need(table, &weather, &sheep, 1, 100, 0);
    return fw_weather_asks(table, &weather, &what);
}

static void what_hurts_most_asks_first(void **state)
{
    (void)state;
    struct fw_weather_table table = fw_weather_usual();
    struct fw_weather weather = fw_weather_none();
    assert_int_equal(asked(weather, &table), FW_WEATHER_COUNT);
    weather.wet = true;
    assert_int_equal(asked(weather, &table), FW_WEATHER_WET);
    weather.heat_c = 30;
    assert_int_equal(asked(weather, &table), FW_WEATHER_HEAT);
    weather.cold_c = 10; /* a cool night asks for nothing in fleece */
    assert_int_equal(asked(weather, &table), FW_WEATHER_HEAT);
    weather.cold_c = -10;
    assert_int_equal(asked(weather, &table), FW_WEATHER_COLD);
    weather.snow_m = 0.02;
    assert_int_equal(asked(weather, &table), FW_WEATHER_SNOW);
    table.ground[FW_WEATHER_SNOW] = FW_GROUND_ANY;
    assert_int_equal(asked(weather, &table), FW_WEATHER_COLD);
}

/* Cold that costs one sheep a handful of feed asks for shelter; no snow asks
 * for nothing. */
static void a_little_cold_asks_and_no_snow_does_not(void **state)
{
    (void)state;
    const struct fw_weather_table table = fw_weather_usual();
    const struct fw_flock_class one = {.head = 1, .coat = FW_HAIR};
    struct fw_weather weather = cold(table.hair_c - 0.5);
    struct fw_weather_need what =
        fw_weather_need(&table, &weather, &one, 1, 2, 0);
    assert_true(what.cold_kg > 0 && what.cold_kg < 0.1);
    assert_int_equal(fw_weather_asks(&table, &weather, &what), FW_WEATHER_COLD);
    weather = fw_weather_none();
    weather.snow_m = 0;
    assert_int_equal(asked(weather, &table), FW_WEATHER_COUNT);
    weather.snow_m = 0.01;
    assert_int_equal(asked(weather, &table), FW_WEATHER_SNOW);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_pound_of_nutrients_for_forty_degrees),
        cmocka_unit_test(they_need_more_below_the_published_temperatures),
        cmocka_unit_test(snow_wets_hair_as_rain_does),
        cmocka_unit_test(wet_ground_is_larger_by_its_parts),
        cmocka_unit_test(rain_and_cold_multiply),
        cmocka_unit_test(classes_are_reckoned_one_by_one),
        cmocka_unit_test(each_figure_is_a_limit_that_counts),
        cmocka_unit_test(a_place_suits_unless_a_map_says_otherwise),
        cmocka_unit_test(what_hurts_most_asks_first),
        cmocka_unit_test(a_little_cold_asks_and_no_snow_does_not),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
