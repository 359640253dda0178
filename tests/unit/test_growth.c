/* Grass that grows while it waits, against closed forms, a fine step of the
 * test's own, and the prototype's table. */
#include "table.h"

#include "forage/forage.h"
#include "forage/growth.h"
#include "forage/rest.h"
#include <foldwright/date.h>

#include <string.h>

static const double pound_kg = 0.45359237;
static const double acre_ha = 0.40468564224;

static int day_of(const char *text)
{
    int day = 0;
    assert_int_equal(fw_date_read(text, &day, NULL), FW_OK);
    return day;
}

static struct fw_growth steady(double kg_ha_day, enum fw_growth_shape shape)
{
    return (struct fw_growth){.rates = {{1, 1, 0, kg_ha_day}},
                              .count = 1,
                              .steady = true,
                              .shape = shape,
                              .lat_deg = 52};
}

static struct fw_growth published(const char *word, double year_kg_ha)
{
    struct fw_growth growth = {.lat_deg = 52};
    const struct fw_growth_table *table = NULL;
    struct fw_error err;
    if (fw_growth_find(word, &table, &err))
        fail_msg("%s", err.text);
    fw_growth_take(table, year_kg_ha, &growth);
    return growth;
}

/* ---- closed forms ---- */

static void flat_growth_adds_its_days_up_to_the_ceiling(void **state)
{
    (void)state;
    const struct fw_growth growth = steady(40, FW_GROWTH_FLAT);
    for (int days = 0; days < 80; days++)
        assert_near(fw_growth_stands_kg_ha(&growth, 2500, 20000, 20000 + days),
                    2500 + 40 * days, 1e-9);
    assert_near(fw_growth_stands_kg_ha(&growth, 2500, 20000, 20200), 6000, 0);
    assert_near(fw_growth_stands_kg_ha(&growth, 2500, 20000, 19000), 2500, 0);
}

/* What is lost in a cold month is lost whatever grows in the others. */
static void slowed_growth_loses_as_much(void **state)
{
    (void)state;
    struct fw_growth growth = steady(36, FW_GROWTH_FLAT);
    growth.winter_loss = 0.25;
    struct fw_growth slowed = fw_growth_slowed(&growth, 1 / 3.0);
    assert_near(fw_growth_rate_kg_ha(&slowed, 20000), 12, 1e-12);
    assert_near(slowed.winter_loss, 0.25, 0);
    assert_near(fw_growth_rate_kg_ha(&growth, 20000), 36, 0);
    growth = steady(-9, FW_GROWTH_FLAT);
    slowed = fw_growth_slowed(&growth, 1 / 3.0);
    assert_near(fw_growth_rate_kg_ha(&slowed, 20000), -9, 0);
}

/* The mean of m (1 - m/K) from 1,500 to 2,500 is 2,000 - (49/12) 10^6 / K. */
static void logistic_growth_has_its_closed_form(void **state)
{
    (void)state;
    const double ceiling = 6000, mean = 2000 - 49e6 / 12 / ceiling;
    const struct fw_growth growth = steady(69, FW_GROWTH_LOGISTIC);
    for (int days = 1; days < 150; days += 7) {
        const double stands =
            fw_growth_stands_kg_ha(&growth, 2500, 20000, 20000 + days);
        assert_near(log(stands / (ceiling - stands)),
                    log(2500 / (ceiling - 2500)) + 69 * days / mean, 1e-9);
        assert_true(stands < ceiling);
    }
}

/* The rate that a shape has, on average, between 1,500 and 2,500 kg is the
 * rate: by the time that it takes from one mass to the next one. */
static void a_rate_is_the_mean_over_what_stands(void **state)
{
    (void)state;
    for (int shape = 0; shape < FW_GROWTH_SHAPE_COUNT; shape++) {
        const struct fw_growth slow = steady(1e-3, (enum fw_growth_shape)shape);
        double sum = 0;
        for (int i = 0; i < 1000; i++) {
            const double mass = 1500.5 + i;
            sum += fw_growth_stands_kg_ha(&slow, mass, 20000, 20001) - mass;
        }
        assert_near(sum / 1000, 1e-3, 1e-8);
    }
}

/* Gross 118 (1 - exp(-0.001604 m)) less 7 + 0.02 m, of organic matter, by steps
 * a thousandth as long. */
static void set_stocked_growth_follows_its_curve(void **state)
{
    (void)state;
    double sum = 0;
    for (int i = 0; i < 100000; i++) {
        const double organic = 0.9 * (1500 + (i + 0.5) / 100);
        sum += 118 * (1 - exp(-0.001604 * organic)) - 7 - 0.02 * organic;
    }
    const double mean = sum / 100000;
    const struct fw_growth growth = steady(60, FW_GROWTH_SET_STOCKED);
    double mass = 1600;
    for (int day = 0; day < 60; day++) {
        const double stands =
            fw_growth_stands_kg_ha(&growth, 1600, 20000, 20000 + day);
        assert_near(stands, mass, 1e-5);
        for (int i = 0; i < 4000; i++) { /* middle point rule */
            double half = mass;
            for (int k = 0; k < 2; k++) {
                const double organic = 0.9 * half;
                const double net =
                    118 * (1 - exp(-0.001604 * organic)) - 7 - 0.02 * organic;
                half = mass + net / mean * 60 / 4000 * (k == 0 ? 0.5 : 1);
            }
            mass = half;
        }
    }
}

/* Half-way to half-way it goes straight, so that the sum over whole months is a
 * trapezium's: of a table over all months, by hand. */
static void months_go_from_middle_to_middle(void **state)
{
    (void)state;
    struct fw_growth growth = {.shape = FW_GROWTH_FLAT,
                               .ceiling_kg_ha = 1e6,
                               .count = 12,
                               .lat_deg = 52};
    static const double rates[] = {2, 3, 10, 40, 80, 70, 50, 45, 35, 20, 8, 3};
    static const int days[] = {31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
    for (int i = 0; i < 12; i++)
        growth.rates[i] = (struct fw_growth_rate){i + 1, 1, 0, rates[i]};
    double sum = 0, begin = 0;
    for (int i = 0; i < 12; i++) {
        const int next = (i + 1) % 12;
        sum += (rates[i] + rates[next]) / 2 * (days[i] + days[next]) / 2;
        assert_near(
            fw_growth_rate_kg_ha(&growth, day_of("2025-01-01") + (int)begin +
                                              (days[i] % 2 ? days[i] / 2 : 0)),
            days[i] % 2 ? rates[i]
                        : fw_growth_rate_kg_ha(&growth, day_of("2025-01-01") +
                                                            (int)begin),
            1e-9);
        begin += days[i];
    }
    assert_near(fw_growth_stands_kg_ha(&growth, 1000, day_of("2025-07-01"),
                                       day_of("2026-07-01")) -
                    1000,
                sum, 1e-7);
    /* Of May alone: half of the way from April's, half of that to June's. */
    const double may = 15.5 * (80 + 80 + (40 - 80) * 15.5 / 30.5) / 2 +
                       15.5 * (80 + 80 + (70 - 80) * 15.5 / 30.5) / 2;
    assert_near(fw_growth_stands_kg_ha(&growth, 1000, day_of("2025-05-01"),
                                       day_of("2025-06-01")) -
                    1000,
                may, 1e-9);
    /* A leap year has a day more of February. */
    assert_true(fw_growth_stands_kg_ha(&growth, 1000, day_of("2028-01-01"),
                                       day_of("2029-01-01")) > 1000 + sum);
    assert_int_equal(
        fw_growth_unknown(&growth, day_of("2027-01-01"), day_of("2029-01-01")),
        FW_NO_DAY);
}

static void a_winter_takes_its_share(void **state)
{
    (void)state;
    const struct fw_growth growth = {.winter_loss = 0.32, .lat_deg = 52};
    const int november = day_of("2026-11-10");
    assert_near(fw_growth_stands_kg_ha(&growth, 3000, november, november + 120),
                3000 * 0.68, 1e-9);
    assert_near(fw_growth_stands_kg_ha(&growth, 3000, november, november + 60),
                3000 * sqrt(0.68), 1e-9);
    const int may = day_of("2026-05-01");
    assert_near(fw_growth_stands_kg_ha(&growth, 3000, may, may + 60), 3000, 0);
    struct fw_growth south = growth;
    south.lat_deg = -40;
    assert_near(fw_growth_stands_kg_ha(&south, 3000, may, may + 120),
                3000 * 0.68, 1e-9);
    /* Of what goes and grows the same day, the loss comes first. */
    struct fw_growth both = steady(10, FW_GROWTH_FLAT);
    both.winter_loss = 0.32;
    assert_near(fw_growth_stands_kg_ha(&both, 3000, november, november + 1),
                3000 * pow(0.68, 1 / 120.) + 10, 1e-9);
}

/* ---- what is printed ---- */

/* The area that feeds them for a day, `day` days on, where 2,500 kg/ha stand
 * and the stop is at 1,500; that of the first day is 1. */
static double paddock_of(const struct fw_growth *growth, int from, int day)
{
    return 1000 /
           (fw_growth_stands_kg_ha(growth, 2500, from, from + day) - 1500);
}

/* For how many days a field lasts that would feed them for 30 as it stands. */
static int days_of(const struct fw_growth *growth, int from)
{
    double sum = 0;
    int day = 0;
    while ((sum += paddock_of(growth, from, day)) <= 30 * (1 + 1e-12))
        day++;
    return day;
}

static void the_table_of_growth_while_waiting_comes_out(void **state)
{
    (void)state;
    /* Northern Ireland's May; a tenth of 3 short tons an acre in a July of 31
     * days (Pennsylvania); autumn at 15; a winter that takes 32 %. */
    const double july = 0.10 * 3 * 2000 * pound_kg / acre_ha / 31;
    struct fw_growth winter = {.winter_loss = 0.32, .lat_deg = 52};
    const struct {
        struct fw_growth growth;
        double ratio;
        int days;
    } rows[] = {
        {steady(69, FW_GROWTH_LOGISTIC), 3.1, 85},
        {steady(69, FW_GROWTH_SET_STOCKED), 2.5, 67},
        {steady(40, FW_GROWTH_LOGISTIC), 2.3, 60},
        {steady(july, FW_GROWTH_LOGISTIC), 1.7, 43},
        {steady(15, FW_GROWTH_LOGISTIC), 1.5, 38},
        {winter, 0.8, 26},
    };
    const int from = day_of("2026-11-10");
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        assert_int_equal(days_of(&rows[i].growth, from), rows[i].days);
        assert_near(1 / paddock_of(&rows[i].growth, from, 29), rows[i].ratio,
                    0.05);
    }
}

/* ---- tables ---- */

/* ---- rests ---- */

static void rests_are_those_of_their_season(void **state)
{
    (void)state;
    struct table table;
    table_open(&table, "rest.tsv");
    while (table_next(&table, 5)) {
        const int day = day_of(table.cells[0]);
        const double lat_deg = table_number(&table, 1);
        const double days = table_number(&table, 2);
        const double least = fw_rest_least_days(day, lat_deg);
        const double longest = fw_rest_longest_days(day, lat_deg);
        const char *mark = table.cells[3];
        if (strcmp(mark, "sets-least") == 0)
            assert_near(least, days, 0);
        else if (strcmp(mark, "sets-longest") == 0)
            assert_near(longest, days, 0);
        else
            assert_int_equal(days >= least && days <= longest,
                             strcmp(mark, "within") == 0);
    }
    assert_int_equal(table.rows, 29);
    table_close(&table);
}

/* Within a season the table's own days; over two each day by its own. */
static void days_of_rest_count_by_their_season(void **state)
{
    (void)state;
    const int may = day_of("2026-05-01"), june = day_of("2026-06-01");
    assert_near(fw_rest_least_share(may, may + 15, 54), 1, 1e-12);
    assert_near(fw_rest_longest_share(may, may + 21, 54), 1, 1e-12);
    assert_near(fw_rest_least_share(june, june + 25, 54), 1, 1e-12);
    assert_near(fw_rest_least_share(june - 6, june + 5, 54),
                6 / 15.0 + 5 / 25.0, 1e-12);
    assert_near(fw_rest_least_share(june - 6, june + 5, -54),
                6 / 30.0 + 5 / 90.0, 1e-12);
    assert_near(fw_rest_least_share(june, june, 54), 0, 0);
}

/* Of what stands above the residual the share that they take goes, with what
 * they trample; of all that stands only what they eat. */
static void what_is_left_is_what_was_to_stay(void **state)
{
    (void)state;
    const struct fw_usable above = {.residual_kg_ha = 1500, .use = 0.8};
    const struct fw_usable all = {.use = 0.6};
    assert_near(fw_forage_after_kg_ha(&above, 2500, 1), 1500, 1e-9);
    assert_near(fw_forage_after_kg_ha(&above, 2500, 0.25), 2250, 1e-9);
    assert_near(fw_forage_after_kg_ha(&above, 1400, 1), 1400, 0);
    assert_near(fw_forage_after_kg_ha(&all, 2500, 1), 1000, 1e-9);
    assert_near(fw_forage_after_kg_ha(&all, 2500, 0.5), 1750, 1e-9);
}

static void shares_are_told_as_printed(void **state)
{
    (void)state;
    static const struct {
        const char *word;
        double sum;
    } rows[] = {
        {"pennsylvania-bluegrass-clover", 1},
        {"pennsylvania-tall-grass", 1},
        {"pennsylvania-alfalfa-grass", .96},
        {"pennsylvania-red-clover-grass", .98},
        {"pennsylvania-trefoil-grass", .99},
        {"pennsylvania-warm-season-grass", .95},
        {"northern-ireland", 1},
        {"ohio", 1},
    };
    size_t count = 0;
    fw_growth_tables(&count);
    assert_int_equal(count, sizeof rows / sizeof *rows);
    for (size_t i = 0; i < count; i++) {
        const struct fw_growth_table *table = NULL;
        struct fw_growth growth = {0};
        assert_int_equal(fw_growth_find(rows[i].word, &table, NULL), FW_OK);
        assert_near(fw_growth_take(table, 0, &growth), rows[i].sum, 1e-12);
        assert_int_equal(fw_growth_check(&growth, NULL), FW_OK);
        assert_true(strlen(table->place) > 0 && strlen(table->source) > 0);
    }
}

/* A table without March says nothing of March, and is asked nothing. */
static void what_a_table_does_not_say_is_unknown(void **state)
{
    (void)state;
    const struct fw_growth growth = published("northern-ireland", 0);
    assert_int_equal(
        fw_growth_unknown(&growth, day_of("2026-02-01"), day_of("2026-07-01")),
        day_of("2026-02-01"));
    assert_int_equal(
        fw_growth_unknown(&growth, day_of("2026-04-01"), day_of("2026-12-01")),
        day_of("2026-11-01"));
    assert_int_equal(
        fw_growth_unknown(&growth, day_of("2026-04-01"), day_of("2026-11-01")),
        FW_NO_DAY);
    assert_true(isnan(fw_growth_rate_kg_ha(&growth, day_of("2026-03-31"))));
    assert_true(isnan(fw_growth_stands_kg_ha(
        &growth, 2000, day_of("2026-03-31"), day_of("2026-04-02"))));
    /* Up to the first middle its rate is its own. */
    assert_near(fw_growth_rate_kg_ha(&growth, day_of("2026-04-01")), 38, 0);
    assert_near(fw_growth_rate_kg_ha(&growth, day_of("2026-10-31")), 32, 0);
    /* Half the way from the middle of April to that of May, both at noon. */
    assert_near(fw_growth_rate_kg_ha(&growth, day_of("2026-05-01")),
                38 + (69 - 38) * 15.5 / 30.5, 1e-9);
}

/* Weeks of a common year leave 29 February between two of them: it is passed
 * over as if they followed each other. Two days are a gap. */
static void a_leap_day_between_weeks_is_no_gap(void **state)
{
    (void)state;
    struct fw_growth growth = {
        .rates = {{2, 22, 7, 40}, {3, 1, 7, 60}}, .count = 2, .lat_deg = 40};
    /* From noon of 25 February to that of 4 March, 8 days. */
    for (int i = 0; i <= 8; i++)
        assert_near(fw_growth_rate_kg_ha(&growth, day_of("2028-02-25") + i),
                    40 + 20 * i / 8.0, 1e-9);
    growth.rates[1].of_month = 2;
    assert_true(isnan(fw_growth_rate_kg_ha(&growth, day_of("2028-02-29"))));
}

static void nobody_told_is_no_growth(void **state)
{
    (void)state;
    const struct fw_growth none = {.lat_deg = 52};
    assert_near(fw_growth_rate_kg_ha(&none, 20000), 0, 0);
    assert_near(fw_growth_stands_kg_ha(&none, 2000, 20000, 20100), 2000, 0);
    /* Each mass by itself, and no more than were asked. */
    const struct fw_growth growth = steady(40, FW_GROWTH_FLAT);
    double masses[] = {2000, 3000, 4000};
    fw_growth_pass(&growth, 20000, masses, 2);
    assert_near(masses[0], 2040, 1e-9);
    assert_near(masses[1], 3040, 1e-9);
    assert_near(masses[2], 4000, 0);
}

/* More than a sward carries cannot stand there when it grows. */
static void what_stands_at_first_is_within_the_ceiling(void **state)
{
    (void)state;
    struct fw_error err;
    struct fw_growth growth = steady(40, FW_GROWTH_FLAT);
    assert_int_equal(fw_growth_starts(&growth, 6000, &err), FW_OK);
    assert_int_equal(fw_growth_starts(&growth, 6000.1, &err), FW_EINPUT);
    growth.ceiling_kg_ha = 7000;
    assert_int_equal(fw_growth_starts(&growth, 7000, &err), FW_OK);
    assert_int_equal(fw_growth_starts(&growth, 7001, &err), FW_EINPUT);
    assert_non_null(
        strstr(err.text, "7001 kg/ha stand, above the 7000 that the sward"));
    growth.count = 0;
    assert_int_equal(fw_growth_starts(&growth, 9000, &err), FW_OK);
}

/* Untold, a year's growth is the middle of its range in print. */
static void a_year_untold_is_the_middle_of_its_range(void **state)
{
    (void)state;
    size_t count;
    const struct fw_growth_table *tables = fw_growth_tables(&count);
    int shares = 0;
    for (size_t i = 0; i < count; i++) {
        if (!tables[i].shares)
            continue;
        shares++;
        const struct fw_growth told = published(
            tables[i].word, (tables[i].low_kg_ha + tables[i].high_kg_ha) / 2);
        const struct fw_growth untold = published(tables[i].word, 0);
        assert_true(told.rates[0].kg_ha_day > 0);
        for (size_t k = 0; k < told.count; k++)
            assert_near(untold.rates[k].kg_ha_day, told.rates[k].kg_ha_day,
                        1e-12);
    }
    assert_true(shares > 3);
}

static void what_cannot_be_is_refused(void **state)
{
    (void)state;
    struct fw_error err;
    struct fw_growth growth = steady(169, FW_GROWTH_FLAT);
    assert_int_equal(fw_growth_check(&growth, &err), FW_EINPUT);
    assert_non_null(strstr(err.text, "no published rate is over 168"));
    growth = steady(168, FW_GROWTH_FLAT);
    assert_int_equal(fw_growth_check(&growth, &err), FW_OK);
    growth = steady(-1, FW_GROWTH_FLAT);
    assert_int_equal(fw_growth_check(&growth, &err), FW_EINPUT);
    growth = steady((double)NAN, FW_GROWTH_FLAT);
    assert_int_equal(fw_growth_check(&growth, &err), FW_EINPUT);

    growth = steady(-5, FW_GROWTH_LOGISTIC);
    growth.steady = false;
    growth.rates[0].month = 1;
    assert_int_equal(fw_growth_check(&growth, &err), FW_OK);
    assert_near(fw_growth_stands_kg_ha(&growth, 2000, day_of("2026-01-01"),
                                       day_of("2026-01-11")),
                1950, 1e-9);
    growth.lat_deg = -40;
    assert_int_equal(fw_growth_check(&growth, &err), FW_EINPUT);
    assert_non_null(strstr(err.text, "warm half"));

    growth = steady(40, FW_GROWTH_FLAT);
    growth.steady = false;
    growth.count = 2;
    growth.rates[0] = (struct fw_growth_rate){5, 1, 7, 40};
    growth.rates[1] = (struct fw_growth_rate){5, 7, 7, 40};
    assert_int_equal(fw_growth_check(&growth, &err), FW_EINPUT);
    assert_non_null(strstr(err.text, "day 7 of month 5"));
    growth.rates[1].of_month = 8;
    assert_int_equal(fw_growth_check(&growth, &err), FW_OK);
    growth.count = 3;
    growth.rates[1] = (struct fw_growth_rate){5, 28, 7, 40};
    growth.rates[2] = (struct fw_growth_rate){6, 3, 7, 40};
    assert_int_equal(fw_growth_check(&growth, &err), FW_EINPUT);
    assert_non_null(strstr(err.text, "day 3 of month 6"));

    for (double loss = -0.5; loss < 2; loss += 0.25) {
        const struct fw_growth lost = {.winter_loss = loss};
        assert_int_equal(fw_growth_check(&lost, NULL),
                         loss >= 0 && loss < 1 ? FW_OK : FW_EINPUT);
    }
    const struct fw_growth low = {.ceiling_kg_ha = -1};
    assert_int_equal(fw_growth_check(&low, NULL), FW_EINPUT);

    const struct fw_growth_table *table = NULL;
    assert_int_equal(fw_growth_find("ohoi", &table, &err), FW_EINPUT);
    assert_non_null(strstr(err.text, "did you mean ohio?"));
    assert_int_equal(fw_growth_find("zzzzzzzzz", &table, &err), FW_EINPUT);
    assert_non_null(strstr(err.text, "40 kg/ha/day, or a place such as "
                                     "northern-ireland"));
    assert_null(table);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(slowed_growth_loses_as_much),
        cmocka_unit_test(flat_growth_adds_its_days_up_to_the_ceiling),
        cmocka_unit_test(logistic_growth_has_its_closed_form),
        cmocka_unit_test(a_rate_is_the_mean_over_what_stands),
        cmocka_unit_test(set_stocked_growth_follows_its_curve),
        cmocka_unit_test(months_go_from_middle_to_middle),
        cmocka_unit_test(a_winter_takes_its_share),
        cmocka_unit_test(the_table_of_growth_while_waiting_comes_out),
        cmocka_unit_test(rests_are_those_of_their_season),
        cmocka_unit_test(days_of_rest_count_by_their_season),
        cmocka_unit_test(what_is_left_is_what_was_to_stay),
        cmocka_unit_test(shares_are_told_as_printed),
        cmocka_unit_test(what_a_table_does_not_say_is_unknown),
        cmocka_unit_test(a_leap_day_between_weeks_is_no_gap),
        cmocka_unit_test(nobody_told_is_no_growth),
        cmocka_unit_test(what_stands_at_first_is_within_the_ceiling),
        cmocka_unit_test(a_year_untold_is_the_middle_of_its_range),
        cmocka_unit_test(what_cannot_be_is_refused),
    };
    return cmocka_run_group_tests_name("growth", tests, NULL, NULL);
}
