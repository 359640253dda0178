/* How many earth rods, over random soils, joules, rods and limits: the count
 * never falls when joules rise, nor do the volts, and each count is the one
 * that driving rod after rod by hand comes to. FW_SEED chooses others. */
#include "unit/test.h"

#include "live/live.h"

#include <stdlib.h>

enum { trials = 4000, steps = 24 };

static const double pi = 3.14159265358979323846;

/* xorshift64*, so that they are the same everywhere. */
static double draw(uint64_t *seed)
{
    *seed ^= *seed >> 12;
    *seed ^= *seed << 25;
    *seed ^= *seed >> 27;
    return (double)((*seed * 2685821657736338717u) >> 11) / 9007199254740992.0;
}

static double draw_wide(uint64_t *seed, double least, double most)
{
    return least * pow(most / least, draw(seed));
}

static uint64_t seed_of(void)
{
    const char *told = getenv("FW_SEED");
    return told ? strtoull(told, NULL, 10) : 20270517;
}

/* Rod by rod: each has its own resistance and lifts every other by soil /
 * (2 pi distance); their mean is that of all at one voltage. */
static double by_hand_ohm(double soil_ohm_m, const struct fw_rod *rod, int rods)
{
    const double r = rod->diameter_m / 2, l = rod->length_m;
    double sum = 0;
    for (int i = 0; i < rods; i++)
        for (int k = 0; k < rods; k++)
            sum += i == k ? (log(4 * l / r) - 1) / l
                          : 1 / (fabs((double)(i - k)) * rod->spacing_m);
    return soil_ohm_m / (2 * pi) * sum / (rods * rods);
}

static struct fw_earth_ask draw_ask(uint64_t *seed)
{
    return (struct fw_earth_ask){
        .joules = draw_wide(seed, 0.05, 40),
        .open_v = 2100 + 9000 * draw(seed),
        .internal_ohm = draw_wide(seed, 50, 3000),
        .soil_ohm_m = draw_wide(seed, 10, 5000),
        .rod = {draw_wide(seed, 0.5, 3), draw_wide(seed, 0.008, 0.03),
                draw_wide(seed, 0.5, 6)},
        .most_rod_v = 100 + 900 * draw(seed),
        .most_rods = (int)(20 * draw(seed)),
        .portable = draw(seed) < 0.5,
        .dry_soil = draw(seed) < 0.5,
    };
}

static void the_count_is_that_of_driving_rod_after_rod(void **state)
{
    (void)state;
    uint64_t seed = seed_of();
    size_t passed = 0, failed = 0;
    for (int i = 0; i < trials; i++) {
        const struct fw_earth_ask ask = draw_ask(&seed);
        struct fw_earth got;
        assert_int_equal(fw_power_earth(&ask, &got, NULL), FW_OK);
        const int told = ask.most_rods > 0 ? ask.most_rods : 12;
        const int most = told > got.by_joules ? told : got.by_joules;
        int first = 0;
        for (int n = 1; n <= most && !first; n++) {
            const double ohm = by_hand_ohm(ask.soil_ohm_m, &ask.rod, n);
            const double rod_v =
                (ask.open_v - 2000) * ohm / (ask.internal_ohm + ohm);
            if (rod_v <= ask.most_rod_v * (1 + 1e-12))
                first = n;
        }
        passed += first > 0;
        failed += first == 0;
        assert_int_equal(got.by_test, first);
        assert_int_equal(got.rods, first == 0              ? most
                                   : first > got.by_joules ? first
                                                           : got.by_joules);
        assert_int_equal(got.decided, first == 0 ? FW_EARTH_MOST
                                      : first > got.by_joules
                                          ? FW_EARTH_TEST
                                          : FW_EARTH_JOULES);
        assert_relative(got.ohm,
                        by_hand_ohm(ask.soil_ohm_m, &ask.rod, got.rods), 1e-12);
    }
    assert_true(passed > trials / 10 && failed > trials / 10);
}

/* From a tenth of a joule to twenty, as a plan sizes them: in soil and rods,
 * and in the volts that a 500 ohm load has. */
static void rods_and_volts_never_fall_when_joules_rise(void **state)
{
    (void)state;
    uint64_t seed = seed_of();
    for (int i = 0; i < trials / 10; i++) {
        const struct fw_plan plan = {.dry_soil = draw(&seed) < 0.5};
        struct fw_farm_wiring wiring = fw_farm_wiring_default();
        wiring.soil_ohm_m = draw_wide(&seed, 10, 5000);
        wiring.rod_v = 100 + 900 * draw(&seed);
        if (draw(&seed) < 0.3)
            wiring.open_v = 8000 + 2000 * draw(&seed);
        int rods = 0;
        double loaded_v = 0, joules = 0.1;
        for (int k = 0; k < steps; k++, joules *= 1.25) {
            struct fw_plan__size size;
            struct fw_error err;
            if (fw_plan__size(&plan, &wiring, joules, &size, &err))
                fail_msg("%s", err.text);
            if (size.rods < rods)
                fail_msg("%g J in %g ohm m: %d rods after %d", joules,
                         wiring.soil_ohm_m, size.rods, rods);
            const double v =
                size.power.open_v * 500 / (500 + size.power.internal_ohm);
            assert_true(v >= loaded_v * (1 - 1e-12));
            rods = size.rods;
            loaded_v = v;
        }
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_count_is_that_of_driving_rod_after_rod),
        cmocka_unit_test(rods_and_volts_never_fall_when_joules_rise),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
