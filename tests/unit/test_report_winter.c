/* The picture of what is left of the winter's grass, read back: each day of
 * each line against a sum of the test's own, by the picture's own scale. */
#include "plan_in_hand.h"
#include "svg_tags.h"

#include "io/io.h"
#include "picture/picture.h"
#include "report/reports.h"

#include <math.h>

enum { stays_ = 3, flock_kg = 50 };

static int day_of(const char *text)
{
    int day = 0;
    assert_int_equal(fw_date_read(text, &day, NULL), FW_OK);
    return day;
}

/* Above the stop height on the first day, and with what is below it, kg. */
static const double today_kg[stays_] = {500, 800, 400};
static const double bare_kg[stays_] = {1250, 1800, 1100};

/* Ten days, then 16 less what winter takes, then 8 less that, all in one field
 * from 1 December on. */
static void winter(struct hand *hand)
{
    const int first = day_of("2026-12-01");
    const int enter[stays_ + 1] = {0, 10, 25, 32};
    take_in_hand(hand);
    hand->plan.season = FW_SEASON_DORMANT;
    hand->plan.start_day = first;
    hand->plan.end_day = first + enter[stays_];
    hand->plan.lambing_day = day_of("2027-03-20");
    hand->plan.flock.demand_kg_day = flock_kg;
    for (size_t i = 0; i < 3; i++) {
        hand->fields[i].growth_kg_ha = (double)NAN;
        hand->fields[i].winter_loss_share = 0.25;
        hand->fields[i].winter_least_share = 0;
        hand->fields[i].winter_most_share = 0.75;
        hand->fields[i].winter_place[0] = '\0';
        /* The first field's is the winter that counts. */
        hand->fields[i].plane.centre.lat_deg = i ? -46.5 : 46.5;
    }
    for (size_t i = 0; i < stays_; i++) {
        hand->stays[i] = (struct fw_time_stay){.cell = i,
                                               .enter = first + enter[i],
                                               .leave = first + enter[i + 1]};
        hand->paddocks[i].today_kg = today_kg[i];
        hand->paddocks[i].bare_kg = bare_kg[i];
        hand->paddocks[i].field = 0;
    }
}

/* ---- the test's own sum ---- */

static double holds(size_t stay, double eye, double loss, double day)
{
    return fmax(0, eye * bare_kg[stay] * pow(1 - loss, day / 120) -
                       (bare_kg[stay] - today_kg[stay]));
}

/* When each stay is eaten, in days: it holds what it does on the day on which
 * they come. */
static void ends_of(double eye, double loss, double ends[stays_])
{
    double at = 0;
    for (size_t i = 0; i < stays_; i++) {
        at += holds(i, eye, loss, floor(at + 1e-9)) / flock_kg;
        ends[i] = at;
    }
}

static double left(double eye, double loss, int day)
{
    double ends[stays_], sum = 0;
    ends_of(eye, loss, ends);
    for (size_t i = 0; i < stays_; i++) {
        const double began = i ? ends[i - 1] : 0;
        if (began > day || (began == day && ends[i] > day))
            sum += holds(i, eye, loss, day);
        else
            sum += fmax(0, ends[i] - day) * flock_kg;
    }
    return sum;
}

/* ---- reading ---- */

static char *drawn(const struct fw_plan *plan)
{
    struct fw_error err;
    char *svg = NULL;
    size_t count = 0;
    if (fw_report_ahead_svg(plan, &svg, &count, &err))
        fail_msg("%s", err.text);
    assert_int_equal(count, strlen(svg));
    return svg;
}

static const char *tag_of(const char *svg, const char *words)
{
    const char *at = after(svg, words);
    while (*at != '<')
        at--;
    return at;
}

/* How many places a line has, and the last one's x. Numbers of the axis stand 4
 * below their lines. */
static int line_is(const char *svg, const char *id, double eye, double loss,
                   double unit_kg, double *last_x)
{
    const double zero_y = number(tag_of(svg, ">0</text>"), "y") - 4;
    const double px =
        (zero_y - (number(tag_of(svg, ">1000</text>"), "y") - 4)) / 1000;
    const char *at = attribute(after(svg, id), "d");
    int day = 0, read = 0;
    double x, y, first_x = 0;
    while (sscanf(at, "%*[ML ]%lf %lf%n", &x, &y, &read) == 2) {
        at += read;
        first_x = day ? first_x : x;
        assert_near((zero_y - y) / px, left(eye, loss, day) / unit_kg,
                    0.1 / px);
        day++;
    }
    assert_true(*at == '"');
    assert_near(first_x, 70, 0.05);
    *last_x = x;
    return day;
}

static double mark_x(const char *svg, const char *words)
{
    const char *at = tag_of(svg, words);
    double x = 0, y;
    do
        at--;
    while (strncmp(at, "<path ", 6) != 0);
    assert_int_equal(sscanf(attribute(at, "d"), "M%lf %lf", &x, &y), 2);
    return x;
}

static int whole_days(double eye, double loss)
{
    double ends[stays_];
    ends_of(eye, loss, ends);
    return (int)ceil(ends[stays_ - 1] - 1e-6);
}

/* ---- tests ---- */

static void lines_are_the_sum(void **state)
{
    (void)state;
    struct hand hand;
    winter(&hand);
    for (int us = 0; us < 2; us++) {
        const double unit_kg = us ? 0.45359237 : 1;
        hand.plan.units = us ? FW_US : FW_METRIC;
        char *svg = drawn(&hand.plan);
        double x, ends_x;
        assert_int_equal(line_is(svg, "id=\"left\"", 1, 0.25, unit_kg, &ends_x),
                         whole_days(1, 0.25) + 1);
        assert_near(mark_x(svg, ">ends "), ends_x, 0.05);
        assert_int_equal(line_is(svg, "id=\"least\"", 0.8, 0.75, unit_kg, &x),
                         whole_days(0.8, 0.75) + 1);
        assert_int_equal(line_is(svg, "id=\"most\"", 1.2, 0, unit_kg, &x),
                         whole_days(1.2, 0) + 1);
        /* 1 April is day 121 from 1 December on, 20 March 109. */
        const double pitch = (ends_x - 70) / whole_days(1, 0.25);
        assert_near(mark_x(svg, ">spring grass Thu 1 Apr<"), 70 + 121 * pitch,
                    0.2);
        assert_near(mark_x(svg, ">lambing Sat 20 Mar<"), 70 + 109 * pitch, 0.2);
        fw_bytes_free(svg);
    }
}

static void days_are_told(void **state)
{
    (void)state;
    struct hand hand;
    char words[160];
    winter(&hand);
    char *svg = drawn(&hand.plan);
    const int gap = 121 - whole_days(1, 0.25);
    snprintf(words, sizeof words,
             ", %d days before spring: about %d kg of other", gap,
             (gap * flock_kg + 99) / 100 * 100);
    after(svg, words);
    after(svg, "winter taking 0 to 75 % (not told: none counted); it may end");
    fw_bytes_free(svg);
    for (size_t i = 0; i < 3; i++) {
        hand.fields[i].winter_least_share = 0.32;
        snprintf(hand.fields[i].winter_place,
                 sizeof hand.fields[i].winter_place, "missouri");
    }
    hand.plan.lambing_day = FW_NO_DAY;
    svg = drawn(&hand.plan);
    after(svg, "winter taking 32 to 75 % as in Missouri; it may end");
    assert_null(strstr(svg, "lambing"));
    fw_bytes_free(svg);
}

struct seen {
    double x, from_y, words_x, words_y, wide;
};

static struct seen seen(const char *svg, const char *words)
{
    struct seen out = {.x = mark_x(svg, words)};
    const char *at = tag_of(svg, words);
    const double letter = 7.5; /* of 12, as wide as any fonts have them */
    out.words_x = strtod(attribute(at, "x"), NULL);
    out.words_y = strtod(attribute(at, "y"), NULL);
    out.wide =
        letter * (double)(strchr(strchr(at, '>'), '<') - strchr(at, '>') - 1);
    do
        at--;
    while (strncmp(at, "<path ", 6) != 0);
    assert_int_equal(sscanf(attribute(at, "d"), "M%*f %lf", &out.from_y), 1);
    return out;
}

/* Whichever comes first, a line goes through no words but its own row's. */
static void lines_go_through_no_words(void **state)
{
    (void)state;
    static const char *const words[] = {">ends ", ">spring grass ",
                                        ">lambing "};
    static const char *const lambing[] = {
        "2026-12-06", "2027-01-10", "2027-03-20", "2027-04-01", "2027-04-20"};
    for (size_t day = 0; day < 5; day++) {
        struct hand hand;
        winter(&hand);
        hand.plan.lambing_day = day_of(lambing[day]);
        char *svg = drawn(&hand.plan);
        struct seen all[3];
        is_whole_picture(svg);
        for (size_t i = 0; i < 3; i++) {
            all[i] = seen(svg, words[i]);
            assert_true(all[i].from_y <= all[i].words_y - 5); /* beside them */
        }
        for (size_t i = 0; i < 3; i++) {
            assert_true(all[i].words_x + all[i].wide < 900);
            for (size_t k = 0; k < 3; k++)
                if (k != i && all[k].x > all[i].words_x - 2 &&
                    all[k].x < all[i].words_x + all[i].wide)
                    assert_true(all[k].from_y >= all[i].words_y + 2);
        }
        fw_bytes_free(svg);
    }
}

/* Days on which the plan has them elsewhere take nothing. */
static void days_away_take_nothing(void **state)
{
    (void)state;
    struct hand hand;
    winter(&hand);
    for (size_t i = 0; i < 3; i++)
        hand.fields[i].winter_loss_share = 0;
    char *svg = drawn(&hand.plan);
    const double without = mark_x(svg, ">ends ");
    fw_bytes_free(svg);
    for (size_t i = 1; i < stays_; i++) {
        hand.stays[i].enter += 7;
        hand.stays[i].leave += 7;
    }
    hand.plan.end_day += 7;
    svg = drawn(&hand.plan);
    const double pitch = (mark_x(svg, ">lambing ") - 70) / 109;
    assert_near(mark_x(svg, ">ends ") - without, 7 * pitch, 0.2);
    fw_bytes_free(svg);
}

/* Bars stay where grass grows, where growth is told, and from spring on. */
static void other_plans_have_bars(void **state)
{
    (void)state;
    struct hand hand;
    for (int k = 0; k < 4; k++) {
        winter(&hand);
        if (k == 3) /* a plan of an older build */
            hand.paddocks[1].bare_kg = (double)NAN;
        if (k == 0)
            hand.plan.season = FW_SEASON_GROWTH;
        if (k == 1)
            hand.fields[0].growth_kg_ha = 2;
        if (k == 2)
            hand.plan.start_day = day_of("2027-04-01");
        char *svg = drawn(&hand.plan);
        assert_null(strstr(svg, "id=\"left\""));
        after(svg, "what they need there");
        fw_bytes_free(svg);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(lines_are_the_sum),
        cmocka_unit_test(days_are_told),
        cmocka_unit_test(lines_go_through_no_words),
        cmocka_unit_test(days_away_take_nothing),
        cmocka_unit_test(other_plans_have_bars),
    };
    return cmocka_run_group_tests_name("report_winter", tests, NULL, NULL);
}
