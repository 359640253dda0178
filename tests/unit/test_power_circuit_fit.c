#include "circuit_help.h"
#include <string.h>

/* ---- readings ---- */

static const struct fw_circuit_station places[] = {
    {0, 0}, {3, 150}, {1, 100}, {0, 200}, {5, 60}};

/* What a fence with that leakage and earth shows, and so many volts off. */
static void readings_of(const struct fw_circuit *net, double factor,
                        double earth_ohm, const double *off_v, size_t count,
                        struct fw_circuit_reading *out)
{
    struct fw_circuit real = {0};
    const struct fw_circuit_fit truth = {.leakage_factor = factor,
                                         .earth_ohm = earth_ohm};
    must(fw_circuit_fitted(net, &truth, &real, NULL), NULL);
    struct fw_circuit_answer answer = solved(&real);
    for (size_t i = 0; i < count; i++)
        out[i] = (struct fw_circuit_reading){
            .place = places[i],
            .open_v =
                at(&real, &answer, places[i].section, places[i].at_m).open_v +
                (off_v ? off_v[i] : 0)};
    fw_circuit_answer_release(&answer);
    fw_circuit_release(&real);
}

static struct fw_circuit_fit fitted(const struct fw_circuit *net,
                                    const struct fw_circuit_reading *readings,
                                    size_t count)
{
    struct fw_circuit_fit fit = {0};
    struct fw_error err = {0};
    must(fw_circuit_fit(net, readings, count, &fit, &err), &err);
    return fit;
}

static void readings_give_back_leakage_and_earth(void **state)
{
    (void)state;
    struct fw_circuit net = farm();
    const double factors[] = {0.02, 0.3, 1, 4, 50};
    const double earths_ohm[] = {2, 20, 150, 2000};
    for (size_t f = 0; f < 5; f++)
        for (size_t e = 0; e < 4; e++) {
            struct fw_circuit_reading readings[5];
            readings_of(&net, factors[f], earths_ohm[e], NULL, 5, readings);
            const struct fw_circuit_fit fit = fitted(&net, readings, 5);
            assert_int_equal(fit.unknowns, 2);
            assert_relative(fit.leakage_factor, factors[f], 1e-6);
            assert_relative(fit.earth_ohm, earths_ohm[e], 1e-5);
            assert_true(fit.spread_known);
            assert_near(fit.misfit_v, 0, 1e-4);
            assert_false(fit.at_bound);
            const struct fw_circuit_fit two = fitted(&net, readings, 2);
            assert_relative(two.leakage_factor, factors[f], 1e-5);
            assert_false(two.spread_known);
        }
    fw_circuit_release(&net);
}

static void one_reading_gives_the_leakage_alone(void **state)
{
    (void)state;
    struct fw_circuit net = farm();
    struct fw_circuit_reading readings[2];
    readings_of(&net, 2.5, 20, NULL, 2, readings);
    struct fw_circuit_fit fit = fitted(&net, readings + 1, 1);
    assert_int_equal(fit.unknowns, 1);
    assert_relative(fit.leakage_factor, 2.5, 1e-8);
    assert_near(fit.earth_ohm, 20, 0);
    assert_false(fit.spread_known);
    assert_near(fit.leakage_spread, 0, 0);

    /* Twice at one place: still one unknown, with a spread now. */
    readings[0] = readings[1];
    readings[0].open_v += 100;
    fit = fitted(&net, readings, 2);
    assert_int_equal(fit.unknowns, 1);
    assert_true(fit.spread_known);
    assert_relative(fit.misfit_v, 50, 1e-6);
    fw_circuit_release(&net);
}

/* The spread by hand: slopes by wide differences of the model itself, the
 * covariance as the inverse of the normal matrix times the variance. */
static void spread_agrees_with_the_normal_equations(void **state)
{
    (void)state;
    struct fw_circuit net = farm();
    const double off_v[5] = {40, -60, 30, -20, 50};
    struct fw_circuit_reading readings[5], up[5], down[5], model[5];
    readings_of(&net, 1.7, 60, off_v, 5, readings);
    const struct fw_circuit_fit fit = fitted(&net, readings, 5);
    const double k = fit.leakage_factor, e = fit.earth_ohm;
    double slopes[2][5], normal[2][2] = {{0}}, sum = 0;
    readings_of(&net, k, e, NULL, 5, model);
    readings_of(&net, k * 1.001, e, NULL, 5, up);
    readings_of(&net, k * 0.999, e, NULL, 5, down);
    for (size_t i = 0; i < 5; i++)
        slopes[0][i] = (up[i].open_v - down[i].open_v) / (0.002 * k);
    readings_of(&net, k, e * 1.001, NULL, 5, up);
    readings_of(&net, k, e * 0.999, NULL, 5, down);
    for (size_t i = 0; i < 5; i++) {
        slopes[1][i] = (up[i].open_v - down[i].open_v) / (0.002 * e);
        const double left_v = readings[i].open_v - model[i].open_v;
        sum += left_v * left_v;
        for (size_t a = 0; a < 2; a++)
            for (size_t b = 0; b < 2; b++)
                normal[a][b] += slopes[a][i] * slopes[b][i];
    }
    /* Nothing is left to gain at the fit. */
    for (size_t a = 0; a < 2; a++) {
        double down_hill = 0;
        for (size_t i = 0; i < 5; i++)
            down_hill += slopes[a][i] * (readings[i].open_v - model[i].open_v);
        assert_near(down_hill / sqrt(normal[a][a] * sum), 0, 1e-5);
    }
    const double det =
        normal[0][0] * normal[1][1] - normal[0][1] * normal[1][0];
    const double variance = sum / 3;
    assert_relative(fit.misfit_v, sqrt(sum / 5), 1e-6);
    assert_relative(fit.leakage_spread, sqrt(variance * normal[1][1] / det),
                    1e-4);
    assert_relative(fit.earth_spread_ohm, sqrt(variance * normal[0][0] / det),
                    1e-4);
    fw_circuit_release(&net);
}

static void fit_that_leaves_the_bounds_says_so(void **state)
{
    (void)state;
    struct fw_circuit net = farm();
    const struct fw_circuit_reading full = {.place = {3, 100}, .open_v = 8000},
                                    faint = {.place = {3, 100}, .open_v = 1e-3};
    struct fw_circuit_fit fit = fitted(&net, &full, 1);
    assert_true(fit.at_bound);
    assert_relative(fit.leakage_factor, 1e-3, 1e-12);
    fit = fitted(&net, &faint, 1);
    assert_true(fit.at_bound);
    assert_relative(fit.leakage_factor, 1e3, 1e-12);
    fw_circuit_release(&net);
}

static double misfit(const struct fw_circuit *net, double factor,
                     double earth_ohm,
                     const struct fw_circuit_reading *readings, size_t count)
{
    struct fw_circuit_reading model[5];
    double sum = 0;
    readings_of(net, factor, earth_ohm, NULL, count, model);
    for (size_t i = 0; i < count; i++)
        sum += (readings[i].open_v - model[i].open_v) *
               (readings[i].open_v - model[i].open_v);
    return sum;
}

/* An earth of 0.001 or of 100,000 ohm is out of the bounds: of what is within
 * them no leakage beside the one that is found fits better. */
static void fit_at_a_bound_of_the_earth_has_the_best_leakage(void **state)
{
    (void)state;
    struct fw_circuit net = farm();
    const double real_ohm[] = {0.001, 1e5}, bound_ohm[] = {0.01, 1e4};
    for (size_t k = 0; k < 2; k++) {
        struct fw_circuit_reading readings[5];
        readings_of(&net, 2, real_ohm[k], NULL, 5, readings);
        const struct fw_circuit_fit fit = fitted(&net, readings, 5);
        assert_true(fit.at_bound);
        assert_relative(fit.earth_ohm, bound_ohm[k], 1e-12);
        const double best =
            misfit(&net, fit.leakage_factor, fit.earth_ohm, readings, 5);
        assert_true(best < misfit(&net, fit.leakage_factor * 1.001,
                                  fit.earth_ohm, readings, 5));
        assert_true(best < misfit(&net, fit.leakage_factor / 1.001,
                                  fit.earth_ohm, readings, 5));
        /* Off the bound, inwards, it fits worse. */
        assert_true(best < misfit(&net, fit.leakage_factor,
                                  fit.earth_ohm * (k ? 0.999 : 2), readings,
                                  5));
    }
    fw_circuit_release(&net);
}

/* From one place to another the tester shows the one less the other. */
static void reading_across_two_places_gives_the_leakage(void **state)
{
    (void)state;
    struct fw_circuit net = farm();
    struct fw_circuit_reading readings[2];
    readings_of(&net, 3, 20, NULL, 2, readings);
    const double less_v = readings[0].open_v - readings[1].open_v;
    assert_true(less_v > 1);
    const struct fw_circuit_reading across = {.place = places[0],
                                              .open_v = less_v,
                                              .across = true,
                                              .other = places[1]};
    const struct fw_circuit_fit fit = fitted(&net, &across, 1);
    assert_relative(fit.leakage_factor, 3, 1e-6);
    fw_circuit_release(&net);
}

static void reading_refused(struct fw_circuit_reading reading, size_t count,
                            const char *words)
{
    struct fw_circuit net = farm();
    struct fw_circuit_fit fit = {.unknowns = 99};
    struct fw_error err = {0};
    assert_int_equal(fw_circuit_fit(&net, &reading, count, &fit, &err),
                     FW_EINPUT);
    if (!strstr(err.text, words))
        fail_msg("\"%s\" does not say \"%s\"", err.text, words);
    assert_int_equal(fit.unknowns, 99);
    fw_circuit_release(&net);
}

static void readings_that_cannot_be_are_refused(void **state)
{
    (void)state;
    const struct fw_circuit_station place = {0, 100};
    reading_refused((struct fw_circuit_reading){.place = place, .open_v = 8001},
                    1, "reading 1 is 8001 V");
    reading_refused((struct fw_circuit_reading){.place = place, .open_v = -3},
                    1, "-3 V");
    reading_refused((struct fw_circuit_reading){.place = place, .open_v = 0}, 1,
                    "broken wire");
    reading_refused(
        (struct fw_circuit_reading){.place = place, .open_v = (double)NAN}, 1,
        "nan V");
    reading_refused(
        (struct fw_circuit_reading){.place = {0, 301}, .open_v = 4000}, 1,
        "reading 1: section 0: the place along it is 301 m");
    reading_refused(
        (struct fw_circuit_reading){.place = {9, 1}, .open_v = 4000}, 1,
        "section 9 is not in the network");
    reading_refused((struct fw_circuit_reading){.place = place, .open_v = 4000},
                    0, "0 readings");

    struct fw_circuit dry = {0}, broken = {0};
    add(&dry, 0, 1, 100, 1, 0);
    feed(&dry, 0);
    struct fw_circuit_reading reading = {.place = {0, 50}, .open_v = 4000};
    struct fw_circuit_fit fit;
    struct fw_error err = {0};
    assert_int_equal(fw_circuit_fit(&dry, &reading, 1, &fit, &err), FW_EINPUT);
    assert_non_null(strstr(err.text, "no section leaks"));
    dry.sections[0].siemens_m = clean_s;
    must(fw_circuit_break(&dry, (struct fw_circuit_station){0, 20}, &broken,
                          NULL),
         NULL);
    reading.place = (struct fw_circuit_station){1, 50};
    assert_int_equal(fw_circuit_fit(&broken, &reading, 1, &fit, &err),
                     FW_EINPUT);
    assert_non_null(strstr(err.text, "no path"));
    fw_circuit_release(&dry);
    fw_circuit_release(&broken);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(readings_give_back_leakage_and_earth),
        cmocka_unit_test(one_reading_gives_the_leakage_alone),
        cmocka_unit_test(spread_agrees_with_the_normal_equations),
        cmocka_unit_test(fit_that_leaves_the_bounds_says_so),
        cmocka_unit_test(fit_at_a_bound_of_the_earth_has_the_best_leakage),
        cmocka_unit_test(reading_across_two_places_gives_the_leakage),
        cmocka_unit_test(readings_that_cannot_be_are_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
