#include "table.h"

#include "days/days.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static const struct fw_days_when any;

/* 2,500 kg/ha, of which 1,000 are eaten. */
static const struct fw_days_offer usual = {
    .stands_kg_ha = 2500,
    .residual_kg_ha = 1250,
    .taken_kg_ha = 1000,
    .floor_kg_ha = 700,
};

static struct fw_days_look left(double kg_ha)
{
    return (struct fw_days_look){.left_kg_ha = kg_ha, .size = 1, .eaten = 1};
}

/* ---- the rule ---- */

static void rule_agrees_with_its_closed_form(void **state)
{
    (void)state;
    struct table table;
    table_open(&table, "days_rule.tsv");
    while (table_next(&table, 6)) {
        const struct fw_days_look look = {
            .left_kg_ha = table_number(&table, 0),
            .limit = table_number(&table, 1) != 0,
            .size = table_number(&table, 2),
            .eaten = table_number(&table, 3),
        };
        assert_near(fw_days_rule(&usual, &look, &any, NULL),
                    table_number(&table, 4), 1e-12);
    }
    table_close(&table);
}

static void more_is_never_under_a_tenth_nor_over_a_half(void **state)
{
    (void)state;
    for (int i = 0; i <= 400; i++) {
        const double wanted = (i - 100) / 100.0; /* 0.05 just too */
        for (int limit = 0; limit < 2; limit++) {
            enum fw_days_why why;
            const double step = fw_days_step(wanted, limit, &any, &why);
            if (wanted >= 0.05 || limit) {
                assert_true(step >= 0.1 && step <= 0.5);
                assert_true(step >= fmin(wanted, 0.5));
                assert_int_equal(why, FW_DAYS_MORE);
            } else if (wanted < 0) {
                assert_true(step <= 0 && step >= -0.25);
                assert_true(step >= wanted / 2 - 1e-15);
                assert_int_equal(why, FW_DAYS_LESS);
            } else {
                assert_true(step == 0);
                assert_int_equal(why, FW_DAYS_AS_MEANT);
            }
        }
    }
}

static void nothing_is_less_in_rain_frost_or_legumes(void **state)
{
    (void)state;
    const struct fw_days_look look = left(2200);
    const struct fw_days_when when[] = {
        {.wet_once = true}, {.legume = true}, {.frost = true}};
    const enum fw_days_why said[] = {FW_DAYS_NOT_WET, FW_DAYS_NOT_LEGUME,
                                     FW_DAYS_NOT_FROST};
    assert_true(fw_days_rule(&usual, &look, &any, NULL) < -0.1);
    for (int i = 0; i < 3; i++) {
        enum fw_days_why why;
        const struct fw_days_look less = left(900);
        assert_true(fw_days_rule(&usual, &look, &when[i], &why) == 0);
        assert_int_equal(why, said[i]);
        assert_true(fw_days_rule(&usual, &less, &when[i], &why) >= 0.1);
        assert_int_equal(why, FW_DAYS_MORE);
    }
}

/* Eaten to what is meant is a perfect day, and so is anything within what a
 * look can tell. */
static void the_target_corrects_nothing(void **state)
{
    (void)state;
    for (int i = -14; i <= 14; i++) {
        const struct fw_days_look look = left(1500 * (1 + i / 100.0));
        assert_true(fw_days_rule(&usual, &look, &any, NULL) == 0);
    }
}

/* Scotland: 350 ewes with singles on eight paddocks of a round of 24 days, in
 * at 8 cm and out at 4 (SRUC, "Rotational grazing for more grass"). England: a
 * ewe of 65 kg takes 2 kg a day, so that 1,400 kg/ha feed 700 for a day or 350
 * for two (Davies, Farmers Weekly 2014). As days that were lived so they ask
 * for nothing, and the English two ways are one. */
static void published_days_per_paddock_correct_nothing(void **state)
{
    (void)state;
    const double kg_ha_cm = 1500 / 4.0; /* 4 cm are 1,500 kg/ha (AHDB) */
    const struct fw_days_offer scotland = {
        .stands_kg_ha = 8 * kg_ha_cm,
        .residual_kg_ha = 4 * kg_ha_cm,
        .taken_kg_ha = 4 * kg_ha_cm,
        .floor_kg_ha = 3 * kg_ha_cm,
    };
    const struct fw_days_look out = left(4 * kg_ha_cm);
    assert_true(fw_days_rule(&scotland, &out, &any, NULL) == 0);
    assert_near(fw_days_stood_kg_ha(&scotland, &out), 8 * kg_ha_cm, 1e-9);

    const struct fw_days_offer england = {
        .stands_kg_ha = 1500 + 1400,
        .residual_kg_ha = 1500,
        .taken_kg_ha = 700 * 2 * 1,
        .floor_kg_ha = 1100,
    };
    const double ways[][2] = {{700, 1}, {350, 2}};
    for (int i = 0; i < 2; i++) {
        struct fw_days_look look = left(1500);
        look.eaten = ways[i][0] * ways[i][1] / 700;
        assert_true(fw_days_rule(&england, &look, &any, NULL) == 0);
        assert_near(fw_days_stood_kg_ha(&england, &look), 2900, 1e-9);
    }
}

/* Weaned lambs gain 260 - 2.98 g a day for each hundredth of the mass that is
 * eaten (NZSAP Proc. 40, 1980, 85). A paddock that is made larger after a short
 * day never costs them, one made smaller by the most that is allowed costs
 * less than half of what a day at the floor does. */
static double gain_g(double size)
{
    const double eaten = fmin(1000 / size, 2500 - 700);
    return 260 - 2.98 * 100 * eaten / 2500;
}

static void lambs_gain_as_the_published_law_says(void **state)
{
    (void)state;
    const double meant = gain_g(1);
    assert_near(meant, 140.8, 0.01); /* 40 %: 141 g */
    for (int kg_ha = 700; kg_ha <= 2500; kg_ha += 50) {
        const struct fw_days_look look = left(kg_ha);
        const double step = fw_days_rule(&usual, &look, &any, NULL);
        assert_true((gain_g(1 + step) - meant) * step >= 0);
        assert_true(meant - gain_g(1 + step) < (meant - 260 + 2.98 * 72) / 2);
    }
}

/* Mass falls under a flock as a negative exponential (NZ Journal of
 * Agricultural Research 1986). A day too long in the same paddock: the day's
 * demand taken off once more is what hungry sheep would take, so that it says
 * less than the curve through the first day, and by no more than a sixth of
 * what stood. */
static void a_day_too_long_leaves_what_the_measured_law_says(void **state)
{
    (void)state;
    const double measured = 2500 * pow(1500 / 2500.0, 2);
    const struct fw_days_offer twice = {2500, 1250, 2000, 700};
    const double said = fw_days_left_kg_ha(&twice);
    assert_true(said <= measured);
    assert_true(measured - said <= 2500 / 6.0);
}

/* ---- the eye ---- */

struct seen {
    size_t zone;
    double left_kg_ha;
    bool limit;
};

enum { grid = 101 };

struct moments {
    double mean[3], spread[3]; /* the bias, two zones */
};

static double phi(double z)
{
    return erfc(-z / sqrt(2)) / 2;
}

/* The posterior on a dense grid of bias and two zones, the spread of each look
 * as it was thought to be before it. */
static struct moments on_a_grid(const struct seen *seen, const double *sd,
                                size_t count)
{
    const double spread = sqrt(0.2 * 0.2 / 2), reach = 5 * spread;
    double sum = 0, sums[3] = {0}, squares[3] = {0};
    for (int i = 0; i < grid * grid * grid; i++) {
        const double b = reach * (2.0 * (i % grid) / (grid - 1) - 1);
        const double e[2] = {reach * (2.0 * (i / grid % grid) / (grid - 1) - 1),
                             reach *
                                 (2.0 * (i / grid / grid) / (grid - 1) - 1)};
        double log_p =
            -(b * b + e[0] * e[0] + e[1] * e[1]) / (2 * spread * spread);
        for (size_t k = 0; k < count; k++) {
            const double share = (seen[k].left_kg_ha + 1000) / 2500;
            const double z = (share - (1 + b + e[seen[k].zone])) / sd[k];
            log_p += seen[k].limit ? log(phi(z) + 1e-300) : -z * z / 2;
        }
        const double of[3] = {1 + b, 1 + b + e[0], 1 + b + e[1]};
        const double p = exp(log_p);
        sum += p;
        for (int k = 0; k < 3; k++) {
            sums[k] += p * of[k];
            squares[k] += p * of[k] * of[k];
        }
    }
    struct moments out;
    for (int k = 0; k < 3; k++) {
        out.mean[k] = sums[k] / sum;
        out.spread[k] = sqrt(squares[k] / sum - out.mean[k] * out.mean[k]);
    }
    return out;
}

/* Of a look at what ought to be left. */
static double spread_of(const struct fw_days_eye *eye, size_t zone)
{
    const double left =
        fmax(700, fw_days_eye_zone(eye, zone).share * 2500 - 1000) / 2500;
    const double looks = fw_days_eye_noise(eye) / 0.15;
    return looks * sqrt(0.15 * 0.15 * left * left + 0.05 * 0.05);
}

static void agrees_with_the_grid(const struct seen *seen, size_t count,
                                 double tolerance)
{
    struct fw_days_eye *eye;
    double sd[8];
    assert_int_equal(fw_days_eye_new(2, &eye, NULL), FW_OK);
    for (size_t i = 0; i < count; i++) {
        struct fw_days_look look = left(seen[i].left_kg_ha);
        look.limit = seen[i].limit;
        sd[i] = spread_of(eye, seen[i].zone);
        fw_days_eye_look(eye, seen[i].zone, &usual, &look);
    }
    const struct moments by_grid = on_a_grid(seen, sd, count);
    const struct fw_days_guess got[3] = {fw_days_eye_bias(eye),
                                         fw_days_eye_zone(eye, 0),
                                         fw_days_eye_zone(eye, 1)};
    for (int k = 0; k < 3; k++) {
        print_message("# %.4f %.4f, grid %.4f %.4f\n", got[k].share,
                      got[k].spread, by_grid.mean[k], by_grid.spread[k]);
        assert_near(got[k].share, by_grid.mean[k], 0.01 * by_grid.mean[k]);
        assert_near(got[k].spread, by_grid.spread[k],
                    tolerance * by_grid.spread[k]);
    }
    fw_days_eye_free(eye);
}

static void eye_agrees_with_a_dense_grid(void **state)
{
    (void)state;
    const struct seen plain[] = {
        {0, 1300, false}, {0, 1800, false}, {1, 1400, false}};
    const struct seen at_the_end[] = {
        {1, 1900, false}, {0, 1400, false}, {0, 950, true}};
    const struct seen only[] = {{0, 800, true}};
    const struct seen by_floor[] = {{1, 1500, false}, {0, 700, true}};
    agrees_with_the_grid(plain, 3, 0.01);
    agrees_with_the_grid(at_the_end, 3, 0.01);
    agrees_with_the_grid(only, 1, 0.01);
    agrees_with_the_grid(by_floor, 2, 0.01);
}

/* What is after a look at the floor is no Gaussian any more: its mean stays
 * right to a hundredth when other looks follow, its spread to a twentieth. */
static void eye_agrees_with_the_grid_after_the_floor_too(void **state)
{
    (void)state;
    const struct seen first[] = {
        {0, 1100, true}, {0, 1050, false}, {0, 1150, false}, {1, 1500, false}};
    agrees_with_the_grid(first, 4, 0.05);
}

/* Without a look it is as sure as a practised eye: within 20 % (University of
 * Maine); nights without one make it less so. */
static void eye_begins_as_an_eye_is_and_forgets(void **state)
{
    (void)state;
    struct fw_days_eye *eye;
    assert_int_equal(fw_days_eye_new(3, &eye, NULL), FW_OK);
    struct fw_days_guess guess = fw_days_eye_zone(eye, 2);
    assert_near(guess.share, 1, 0);
    assert_near(guess.spread, 0.2, 1e-12);
    const struct fw_days_look look = left(1500);
    fw_days_eye_look(eye, 2, &usual, &look);
    guess = fw_days_eye_zone(eye, 2);
    assert_true(guess.spread < 0.1);
    fw_days_eye_wait(eye, 7); /* a week of growth is off by 3 % of mass */
    const double after = fw_days_eye_zone(eye, 2).spread;
    assert_near(sqrt(after * after - guess.spread * guess.spread), 0.032,
                0.001);
    fw_days_eye_free(eye);
}

/* Looks that scatter twice as much as was thought are known as such after 60,
 * and what is too much everywhere is the eye's own. */
static void what_an_eye_is_worth_is_learnt(void **state)
{
    (void)state;
    struct fw_days_eye *eye;
    assert_int_equal(fw_days_eye_new(6, &eye, NULL), FW_OK);
    unsigned long seed = 7;
    for (int i = 0; i < 600; i++) {
        double sum = 0;
        for (int k = 0; k < 12; k++) {
            seed = (seed * 1103515245u + 12345u) % 2147483648u;
            sum += (double)seed / 2147483648.0;
        }
        const double twice = 2 * sqrt(0.15 * 0.15 * 0.5 * 0.5 + 0.05 * 0.05);
        const double share = 0.9 + twice * (sum - 6);
        const struct fw_days_look look = left(2500 * share - 1000);
        fw_days_eye_look(eye, (size_t)i % 6, &usual, &look);
    }
    assert_near(fw_days_eye_noise(eye), 0.30, 0.05);
    assert_near(fw_days_eye_bias(eye).share, 0.9, 0.03);
    fw_days_eye_free(eye);
}

/* Each zone by itself: the first as the last. */
static void nights_make_every_zone_less_sure(void **state)
{
    (void)state;
    struct fw_days_eye *eye;
    assert_int_equal(fw_days_eye_new(3, &eye, NULL), FW_OK);
    fw_days_eye_free(NULL);
    fw_days_eye_wait(eye, 49);
    for (size_t zone = 0; zone < 3; zone++) {
        const double spread = fw_days_eye_zone(eye, zone).spread;
        const double grown = spread * spread - 0.2 * 0.2;
        assert_near(grown, 49 * 0.012 * 0.012, 1e-12);
    }
    /* The eye's own bias does not grow old. */
    assert_near(fw_days_eye_bias(eye).spread, 0.2 * sqrt(0.5), 1e-12);
    fw_days_eye_free(eye);
}

/* Looks that are all just what was thought, or all wild, make an eye no better
 * and no worse than half and twice as sure. */
static void an_eye_is_at_most_twice_as_good_or_bad(void **state)
{
    (void)state;
    for (int wild = 0; wild < 2; wild++) {
        struct fw_days_eye *eye;
        assert_int_equal(fw_days_eye_new(1, &eye, NULL), FW_OK);
        for (int i = 0; i < 3000; i++) {
            const double share = fw_days_eye_zone(eye, 0).share;
            const double off = wild ? (i % 2 ? 0.9 : -0.5) : 0;
            const struct fw_days_look look = left(2500 * (share + off) - 1000);
            fw_days_eye_look(eye, 0, &usual, &look);
        }
        assert_near(fw_days_eye_noise(eye), wild ? 0.30 : 0.075, 1e-12);
        fw_days_eye_free(eye);
    }
}

/* At the floor a look says as much as one where they could get no more; a hair
 * above it, what it sees. */
static void a_look_at_the_floor_is_a_limit(void **state)
{
    (void)state;
    struct fw_days_look looks[] = {left(700), left(700), left(700.01)};
    looks[1].limit = true;
    double spread[3], step[3];
    for (int i = 0; i < 3; i++) {
        struct fw_days_eye *eye;
        assert_int_equal(fw_days_eye_new(1, &eye, NULL), FW_OK);
        fw_days_eye_look(eye, 0, &usual, &looks[i]);
        spread[i] = fw_days_eye_zone(eye, 0).spread;
        fw_days_eye_free(eye);
        /* What is meant to stay is the floor itself: no look is short of it. */
        const struct fw_days_offer bare = {2500, 700, 1800, 700};
        step[i] = fw_days_rule(&bare, &looks[i], &any, NULL);
    }
    assert_near(spread[0], spread[1], 0);
    assert_true(spread[2] < spread[0] - 0.01);
    assert_near(step[0], 0.1, 1e-12);
    assert_near(step[1], 0.1, 1e-12);
    assert_near(step[2], 0, 0);
}

/* 15 % of 1,500 kg/ha are 225. */
static void a_look_can_tell_what_is_off_by_more_than_itself(void **state)
{
    (void)state;
    assert_true(fw_days_is_right(&usual, 1725));
    assert_true(fw_days_is_right(&usual, 1275));
    assert_false(fw_days_is_right(&usual, 1725.01));
    assert_false(fw_days_is_right(&usual, 1274.99));
}

/* A paddock of that size has what is wanted above the residual, if the guess
 * holds; one that is made smaller has it still where the guess is too high by
 * its spread. */
static void what_is_wanted_is_enough_by_the_guess(void **state)
{
    (void)state;
    int more = 0, less = 0, none = 0;
    for (int i = 0; i < 3000; i++) {
        const double size = 0.4 + i % 40 * 0.05;
        const struct fw_days_guess guess = {.share = 0.6 + i / 40 * 0.015,
                                            .spread = 0.01 + i % 7 * 0.02};
        const double wanted = fw_days_wanted(&usual, guess, size);
        const double above = guess.share * 2500 - 1250;
        const double surely = (guess.share - guess.spread) * 2500 - 1250;
        const double set = size * (1 + wanted);
        if (size * above < 1250 - 1e-9) {
            more++;
            assert_true(wanted > 0);
            assert_near(set * above, 1250, 1e-6);
        } else if (size * surely > 1250 + 1e-9) {
            less++;
            assert_true(wanted < 0);
            assert_near(set * surely, 1250, 1e-6);
        } else {
            none++;
            assert_near(wanted, 0, 1e-9);
        }
    }
    assert_true(more > 300 && less > 300 && none > 100);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(rule_agrees_with_its_closed_form),
        cmocka_unit_test(more_is_never_under_a_tenth_nor_over_a_half),
        cmocka_unit_test(nothing_is_less_in_rain_frost_or_legumes),
        cmocka_unit_test(the_target_corrects_nothing),
        cmocka_unit_test(published_days_per_paddock_correct_nothing),
        cmocka_unit_test(lambs_gain_as_the_published_law_says),
        cmocka_unit_test(a_day_too_long_leaves_what_the_measured_law_says),
        cmocka_unit_test(eye_agrees_with_a_dense_grid),
        cmocka_unit_test(eye_agrees_with_the_grid_after_the_floor_too),
        cmocka_unit_test(eye_begins_as_an_eye_is_and_forgets),
        cmocka_unit_test(what_an_eye_is_worth_is_learnt),
        cmocka_unit_test(nights_make_every_zone_less_sure),
        cmocka_unit_test(an_eye_is_at_most_twice_as_good_or_bad),
        cmocka_unit_test(a_look_at_the_floor_is_a_limit),
        cmocka_unit_test(a_look_can_tell_what_is_off_by_more_than_itself),
        cmocka_unit_test(what_is_wanted_is_enough_by_the_guess),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
