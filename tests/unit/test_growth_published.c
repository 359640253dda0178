/* How grass grows against what is in print: what the program takes, what comes
 * out of it, and what contradicts it and is not hidden. */
#include "table.h"

#include "forage/growth.h"
#include <foldwright/date.h>
#include <foldwright/figures.h>

#include <string.h>

static const double lb_acre = 0.45359237 / 0.40468564224; /* in kg/ha */
static const double short_ton_acre = 2000 * 0.45359237 / 0.40468564224;
/* A cover to graze and the one to leave: Farmers Weekly, AHDB. */
static const double enter_kg_ha = 2500, leave_kg_ha = 1500;

static int day_of(const char *month_day)
{
    char text[16];
    int day = 0;
    snprintf(text, sizeof text, "2026-%s", month_day);
    assert_int_equal(fw_date_read(text, &day, NULL), FW_OK);
    return day;
}

static const struct fw_growth_table *table_of(const char *word)
{
    const struct fw_growth_table *table = NULL;
    struct fw_error err;
    if (fw_growth_find(word, &table, &err))
        fail_msg("%s", err.text);
    return table;
}

/* Flat, without an end. */
static struct fw_growth growth_of(const char *word, double year_kg_ha)
{
    struct fw_growth growth = {
        .lat_deg = 52, .shape = FW_GROWTH_FLAT, .ceiling_kg_ha = 1e6};
    fw_growth_take(table_of(word), year_kg_ha, &growth);
    return growth;
}

static enum fw_growth_shape shape_of(const char *word)
{
    if (strcmp(word, "logistic") == 0)
        return FW_GROWTH_LOGISTIC;
    if (strcmp(word, "flat") == 0)
        return FW_GROWTH_FLAT;
    assert_string_equal(word, "set-stocked");
    return FW_GROWTH_SET_STOCKED;
}

static struct fw_growth steady(const char *shape, double kg_ha_day)
{
    return (struct fw_growth){.rates = {{1, 1, 0, kg_ha_day}},
                              .count = 1,
                              .steady = true,
                              .shape = shape_of(shape),
                              .lat_deg = 52};
}

/* From the first of the warm half of the year on, so that no winter takes. */
static double after_days(const struct fw_growth *growth, double kg_ha, int days)
{
    const int from = day_of("04-01");
    return fw_growth_stands_kg_ha(growth, kg_ha, from, from + days);
}

static double figure(const char *id)
{
    const struct fw_figure *found = fw_figures_find(id);
    if (!found)
        fail_msg("no figure is called %s", id);
    return found ? found->value : 0;
}

/* ---- rates, months, shares of a year ---- */

static double ask_figure(const char *const *at)
{
    return figure(at[0]);
}

/* The rate of the stretch that begins then: table, month and day, a year's. */
static double ask_rate(const char *const *at)
{
    const struct fw_growth growth = growth_of(at[0], atof(at[2]));
    for (size_t i = 0; i < growth.count; i++)
        if (fw_date_first(2026, growth.rates[i].month) +
                growth.rates[i].of_month - 1 ==
            day_of(at[1]))
            return growth.rates[i].kg_ha_day;
    return (double)NAN;
}

/* What the plan takes on that day. */
static double ask_on(const char *const *at)
{
    const struct fw_growth growth = growth_of(at[0], atof(at[2]));
    return fw_growth_rate_kg_ha(&growth, day_of(at[1]));
}

static double ask_on_lb(const char *const *at)
{
    return ask_on(at) / lb_acre;
}

/* Of the months from and to, whole, as a table's stretches have them. */
static double months_kg(const struct fw_growth *growth, int from, int to)
{
    double sum = 0;
    for (size_t i = 0; i < growth->count; i++) {
        const int month = growth->rates[i].month;
        if (month >= from && month <= to)
            sum +=
                growth->rates[i].kg_ha_day *
                (fw_date_first(2026, month + 1) - fw_date_first(2026, month));
    }
    return sum;
}

static double ask_months(const char *const *at)
{
    const struct fw_growth growth = growth_of(at[0], atof(at[3]));
    return months_kg(&growth, atoi(at[1]), atoi(at[2]));
}

/* Of what the table has in all. */
static double ask_share(const char *const *at)
{
    const struct fw_growth growth = growth_of(at[0], 1000);
    return months_kg(&growth, atoi(at[1]), atoi(at[2])) /
           months_kg(&growth, 1, 12);
}

/* By how much autumn outgrows summer: September and October, July and August.
 */
static double ask_autumn(const char *const *at)
{
    const struct fw_growth growth = growth_of(at[0], 1000);
    return fmax(
        0,
        months_kg(&growth, 9, 10) / 61 / (months_kg(&growth, 7, 8) / 62) - 1);
}

/* By how much a year is out of the table's range. */
static double ask_outside(const char *const *at)
{
    const struct fw_growth_table *table = table_of(at[0]);
    const double kg_ha = atof(at[1]);
    return fmax(0, fmax(table->low_kg_ha - kg_ha, kg_ha - table->high_kg_ha));
}

/* Acres for an animal unit of 25 lb a day over a month of 30 days, 70 % of what
 * grows; table, month, short tons an acre. */
static double ask_acres(const char *const *at)
{
    const struct fw_growth growth =
        growth_of(at[0], atof(at[2]) * short_ton_acre);
    const int month = atoi(at[1]);
    return 25 * 30 / (0.7 * months_kg(&growth, month, month) / lb_acre);
}

/* What has grown from day to day: closed until it is cut. */
static double ask_closed(const char *const *at)
{
    const struct fw_growth growth = growth_of(at[0], atof(at[3]));
    return fw_growth_stands_kg_ha(&growth, 1000, day_of(at[1]), day_of(at[2])) -
           1000;
}

/* What a week later costs, by months from June and from September. */
static double ask_closed_week(const char *const *at)
{
    const struct fw_growth growth = growth_of(at[0], atof(at[1]));
    return months_kg(&growth, 6, 8) / (92 / 7.0);
}

/* ---- the curve of what sheep never left, by organic matter ---- */

static double gross(double organic)
{
    return figure("growth.gross") *
           (1 - exp(-figure("growth.gross-rise") * organic));
}

static double dying(double organic)
{
    return figure("growth.dying") + figure("growth.dying-share") * organic;
}

static double ask_dying(const char *const *at)
{
    return dying(atof(at[0]));
}

static double ask_dying_share(const char *const *at)
{
    return dying(atof(at[0])) / gross(atof(at[0]));
}

/* Days in which as much dies as stands. */
static double ask_turnover(const char *const *at)
{
    return atof(at[0]) / dying(atof(at[0]));
}

/* Net growth as the program passes a day, by the mean that a rate is. */
static double ask_net(const char *const *at)
{
    const double small = 1e-3, organic = figure("growth.organic");
    const struct fw_growth growth = steady("set-stocked", small);
    const double kg_ha = atof(at[0]) / organic;
    double mean = 0;
    for (int i = 0; i < 1000; i++)
        mean +=
            (gross(organic * (1500.5 + i)) - dying(organic * (1500.5 + i))) /
            1000;
    return (after_days(&growth, kg_ha, 1) - kg_ha) / small * mean;
}

/* ---- shapes ---- */

/* Where it grows fastest. */
static double optimum_kg_ha(const char *shape)
{
    const struct fw_growth growth = steady(shape, 1e-2);
    double best = 0, at = 0;
    for (double kg_ha = 500; kg_ha < 5900; kg_ha++) {
        const double grown = after_days(&growth, kg_ha, 1) - kg_ha;
        if (grown > best) {
            best = grown;
            at = kg_ha;
        }
    }
    return at;
}

/* ... times what of it is asked for: 0.9 for organic matter. */
static double ask_optimum(const char *const *at)
{
    return optimum_kg_ha(at[0]) * atof(at[1]);
}

/* By the plate meter, 140 a click of half a centimetre and 500 more. */
static double plate_kg_ha(double cm)
{
    return 280 * cm + 500;
}

static double ask_optimum_cm(const char *const *at)
{
    return (optimum_kg_ha(at[0]) - plate_kg_ha(0)) /
           (plate_kg_ha(1) - plate_kg_ha(0));
}

static double grown(const struct fw_growth *growth, double kg_ha, int from,
                    int to)
{
    return after_days(growth, kg_ha, to) - after_days(growth, kg_ha, from);
}

/* Does the third week of a regrowth bring more than its first? */
static double ask_outgrows(const char *const *at)
{
    const struct fw_growth growth = steady(at[0], atof(at[1]));
    return grown(&growth, leave_kg_ha, 14, 21) >
                   grown(&growth, leave_kg_ha, 0, 7)
               ? 1
               : 0;
}

/* Of three leaves of 8 days each on 1,200 kg/ha, what comes with the k-th. */
static double ask_leaf(const char *const *at)
{
    const struct fw_growth growth = steady(at[0], atof(at[1]));
    const int k = atoi(at[2]);
    return grown(&growth, 1200, 8 * k - 8, 8 * k) / grown(&growth, 1200, 0, 24);
}

/* What is left at so many centimetres grows in 3 weeks, over what 6 cm do. */
static double ask_left(const char *const *at)
{
    const struct fw_growth growth = steady(at[0], 75);
    return grown(&growth, plate_kg_ha(atof(at[1])), 0, 21) /
           grown(&growth, plate_kg_ha(6), 0, 21);
}

/* Growth a day where it is cut each so many days, over another interval. */
static double ask_interval(const char *const *at)
{
    const struct fw_growth growth = steady(at[0], 33);
    const int days = atoi(at[1]), other = atoi(at[2]);
    return grown(&growth, leave_kg_ha, 0, days) / days /
           (grown(&growth, leave_kg_ha, 0, other) / other);
}

/* ---- rest, stocking ---- */

/* Days from the cover left to the one to graze, at the rate of a day. */
static double rest_days(double kg_ha_day)
{
    const struct fw_growth growth = steady("logistic", kg_ha_day);
    double stands = leave_kg_ha;
    for (int days = 0; days < 400; days++) {
        const double next = after_days(&growth, stands, 1);
        if (next >= enter_kg_ha)
            return days + (enter_kg_ha - stands) / (next - stands);
        stands = next;
    }
    return HUGE_VAL;
}

static double ask_rest(const char *const *at)
{
    return rest_days(ask_on(at));
}

static double ask_rest_at(const char *const *at)
{
    return rest_days(atof(at[0]));
}

/* Head a hectare: growth a day, share used, kilograms a day a head. */
static double ask_head(const char *const *at)
{
    return atof(at[0]) * atof(at[1]) / atof(at[2]);
}

static double ask_head_on(const char *const *at)
{
    return ask_on(at) * atof(at[2]) / atof(at[3]);
}

/* A tonne a year for a ewe and her lambs. */
static double ask_head_tonne(const char *const *at)
{
    const struct fw_growth growth = growth_of(at[0], 0);
    return months_kg(&growth, 1, 12) / 1000;
}

/* What may be eaten of so much after so many days: shape, rate, mass, days. */
static double ask_ahead(const char *const *at)
{
    const struct fw_growth growth = steady(at[0], atof(at[1]));
    return after_days(&growth, atof(at[2]), atoi(at[3])) - leave_kg_ha;
}

/* ---- a field of 30 days as it stands ---- */

/* Growth by its shape and rate, or with shape "winter" a winter's loss. */
static struct fw_growth waiting(const char *const *at)
{
    if (strcmp(at[0], "winter") == 0)
        return (struct fw_growth){.winter_loss = atof(at[1]), .lat_deg = 52};
    return steady(at[0], atof(at[1]));
}

/* What may be eaten on the day, as a share of the first one's. */
static double holds(const struct fw_growth *growth, int day)
{
    const int from = day_of("11-10");
    return (fw_growth_stands_kg_ha(growth, enter_kg_ha, from, from + day) -
            leave_kg_ha) /
           (enter_kg_ha - leave_kg_ha);
}

static double ask_last_first(const char *const *at)
{
    const struct fw_growth growth = waiting(at);
    return holds(&growth, 29);
}

static double ask_lasts(const char *const *at)
{
    const struct fw_growth growth = waiting(at);
    double area = 0;
    int day = 0;
    while ((area += 1 / holds(&growth, day)) <= 30 * (1 + 1e-12))
        day++;
    return day;
}

/* Of 30 equal areas that together are what 30 such days take, what the one of
 * that day holds of its need. */
static double equal(const struct fw_growth *growth, int day)
{
    double area = 0;
    for (int i = 0; i < 30; i++)
        area += 1 / holds(growth, i) / 30;
    return area * holds(growth, day);
}

static double ask_equal(const char *const *at)
{
    const struct fw_growth growth = waiting(at);
    return equal(&growth, atoi(at[2]) - 1) - 1;
}

static double ask_equal_off(const char *const *at)
{
    const struct fw_growth growth = waiting(at);
    int off = 0;
    for (int day = 0; day < 30; day++)
        off += fabs(equal(&growth, day) - 1) > 0.2;
    return off;
}

/* The second time each has waited for a round since it was left. */
static double ask_second_round(const char *const *at)
{
    const struct fw_growth growth = waiting(at);
    const int from = day_of("04-01");
    const double first =
        fw_growth_stands_kg_ha(&growth, leave_kg_ha, from + 1, from + 30);
    const double last =
        fw_growth_stands_kg_ha(&growth, leave_kg_ha, from + 30, from + 59);
    return (last - leave_kg_ha) / (first - leave_kg_ha);
}

/* By how much less the last area is where that share more grows. */
static double ask_last_moves(const char *const *at)
{
    const struct fw_growth growth = waiting(at);
    struct fw_growth more = growth;
    more.rates[0].kg_ha_day *= 1 + atof(at[2]);
    return 1 - holds(&growth, 29) / holds(&more, 29);
}

/* ---- breaks by mass balance alone ---- */

/* Days that so many equal breaks last: each day they grow or weather, then the
 * flock eats its need down to what must stay, of one after the other. */
static double breaks_last(const struct fw_growth *growth, int count)
{
    const int from =
        growth->winter_loss > 0 ? day_of("11-10") : day_of("04-01");
    double stands[32], days = 0;
    int at = 0;
    for (int i = 0; i < count; i++)
        stands[i] = enter_kg_ha;
    for (int day = 0; at < count; day++) {
        /* Of all breaks together 1,000 kg/ha are 30 days. */
        double need = (enter_kg_ha - leave_kg_ha) / 30 * count;
        const double wanted = need;
        while (at < count && need > 1e-9) {
            const double bite = fmin(need, fmax(0, stands[at] - leave_kg_ha));
            stands[at] -= bite;
            need -= bite;
            at += need > 1e-9;
        }
        days += (wanted - need) / wanted;
        fw_growth_pass(growth, from + day, stands, (size_t)count);
    }
    return days;
}

/* So many breaks over so many others: shape, rate, numbers. */
static double ask_breaks(const char *const *at)
{
    const struct fw_growth growth = waiting(at);
    return breaks_last(&growth, atoi(at[2])) /
           breaks_last(&growth, atoi(at[3]));
}

static const struct {
    const char *word;
    double (*ask)(const char *const *at);
} questions[] = {
    {"figure", ask_figure},
    {"rate", ask_rate},
    {"on", ask_on},
    {"on-lb", ask_on_lb},
    {"months", ask_months},
    {"share", ask_share},
    {"autumn", ask_autumn},
    {"outside", ask_outside},
    {"acres", ask_acres},
    {"closed", ask_closed},
    {"closed-week", ask_closed_week},
    {"dying", ask_dying},
    {"dying-share", ask_dying_share},
    {"turnover", ask_turnover},
    {"net", ask_net},
    {"optimum", ask_optimum},
    {"optimum-cm", ask_optimum_cm},
    {"outgrows", ask_outgrows},
    {"leaf", ask_leaf},
    {"left", ask_left},
    {"interval", ask_interval},
    {"rest", ask_rest},
    {"rest-at", ask_rest_at},
    {"head", ask_head},
    {"head-on", ask_head_on},
    {"head-tonne", ask_head_tonne},
    {"ahead", ask_ahead},
    {"last-first", ask_last_first},
    {"lasts", ask_lasts},
    {"equal", ask_equal},
    {"equal-off", ask_equal_off},
    {"second-round", ask_second_round},
    {"last-moves", ask_last_moves},
    {"breaks", ask_breaks},
};

static double answer(const struct table *table)
{
    const char *const *at = (const char *const *)&table->cells[3];
    for (size_t i = 0; i < sizeof questions / sizeof questions[0]; i++)
        if (strcmp(table->cells[2], questions[i].word) == 0)
            return questions[i].ask(at);
    fail_msg("%s:%d: nobody answers \"%s\"", table->name, table->line,
             table->cells[2]);
    return 0;
}

static bool asks_the_same(const struct table *a, const struct table *b)
{
    for (size_t i = 2; i < 7; i++)
        if (strcmp(a->cells[i], b->cells[i]) != 0)
            return false;
    return true;
}

/* The opponent is a row that holds; where it was asked the same, the two are
 * printed further apart than the one that contradicts can be read. */
static void opponent_holds(const struct table *row)
{
    struct table table;
    const char *name = row->cells[9];
    bool found = false;
    table_open(&table, "growth.tsv");
    while (table_next(&table, 11)) {
        if (strcmp(table.cells[1], name) != 0)
            continue;
        found = strcmp(table.cells[0], "contradicts") != 0;
        if (asks_the_same(row, &table) &&
            !(fabs(table_number(row, 7) - table_number(&table, 7)) >
              table_number(row, 8)))
            fail_msg("%s and %s are printed as near as can be read",
                     row->cells[1], name);
    }
    table_close(&table);
    if (!found)
        fail_msg("%s: no row that holds is called \"%s\"", row->cells[1], name);
}

static void what_is_in_print_comes_out_or_is_contradicted(void **state)
{
    (void)state;
    struct table table;
    int counts[3] = {0, 0, 0};
    table_open(&table, "growth.tsv");
    while (table_next(&table, 11)) {
        const double got = answer(&table), wanted = table_number(&table, 7);
        const double apart = fabs(got - wanted);
        const double tolerance = table_number(&table, 8);
        const char *mark = table.cells[0];
        const bool against = strcmp(mark, "contradicts") == 0;
        if (!against && !(apart <= tolerance * (1 + 1e-12) + 1e-12))
            fail_msg("%s: %.9g; printed %.9g", table.cells[1], got, wanted);
        if (against && !(apart > tolerance))
            fail_msg("%s is marked as a contradiction, but %.9g is within %g "
                     "of %.9g",
                     table.cells[1], got, tolerance, wanted);
        if (against != (table.cells[9][0] != '\0'))
            fail_msg("%s: an opponent, or none", table.cells[1]);
        if (against)
            opponent_holds(&table);
        counts[against ? 2 : strcmp(mark, "sets") == 0 ? 0 : 1]++;
        assert_true(strlen(table.cells[10]) > 0);
        assert_true(against || strcmp(mark, "sets") == 0 ||
                    strcmp(mark, "reproduced") == 0);
    }
    table_close(&table);
    print_message("# %d set, %d reproduced, %d contradict\n", counts[0],
                  counts[1], counts[2]);
    assert_true(counts[0] >= 12 && counts[1] >= 31 && counts[2] >= 43);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(what_is_in_print_comes_out_or_is_contradicted),
    };
    return cmocka_run_group_tests_name("growth_published", tests, NULL, NULL);
}
