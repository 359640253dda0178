/* The picture of what is ahead, read back: every bar, line and mark against the
 * figures of the plan, by the picture's own scale. */
#include "plan_in_hand.h"
#include "svg_tags.h"

#include "io/io.h"
#include "picture/picture.h"
#include "report/reports.h"

#include <math.h>

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

/* One grows, one goes, one stays as it is. */
static void three_stays(struct hand *hand)
{
    take_in_hand(hand);
    const double kg[3][4] = {
        {100, 130.5, 110, 130.25}, {60, 40, 30, 50}, {200, 200, 200, 210}};
    for (size_t i = 0; i < 3; i++) {
        hand->paddocks[i].today_kg = kg[i][0];
        hand->paddocks[i].usable_kg = kg[i][1];
        hand->paddocks[i].third_kg = kg[i][2];
        hand->paddocks[i].demand_kg = kg[i][3];
    }
}

/* ---- reading ---- */

/* The tag that these words follow. */
static const char *tag_of(const char *svg, const char *words)
{
    const char *at = after(svg, words);
    while (*at != '<')
        at--;
    return at;
}

struct scale {
    double zero_y, hundred_y;
};

static struct scale scale_of(const char *svg)
{
    return (struct scale){number(tag_of(svg, ">0</text>"), "y"),
                          number(tag_of(svg, ">100</text>"), "y")};
}

static void is_kg(const struct scale *scale, double high, double kg,
                  double unit_kg)
{
    const double per_px = 100 / (scale->zero_y - scale->hundred_y);
    assert_near(high * per_px, kg / unit_kg, 0.15 * per_px);
}

/* A part of a bar from and to so much. Numbers of the axis stand 4 below their
 * lines. */
static void is_part(const char *rect, const struct scale *scale, double from_kg,
                    double to_kg, double unit_kg)
{
    const double y = number(rect, "y"), high = number(rect, "height");
    is_kg(scale, scale->zero_y - 4 - y, to_kg, unit_kg);
    is_kg(scale, scale->zero_y - 4 - y - high, from_kg, unit_kg);
}

static double line_y(const char *path)
{
    double x, y;
    assert_int_equal(sscanf(attribute(path, "d"), "M%lf %lf h", &x, &y), 2);
    return y;
}

static size_t count_of(const char *svg, const char *words)
{
    size_t count = 0;
    while ((svg = strstr(svg, words))) {
        svg += strlen(words);
        count++;
    }
    return count;
}

/* ---- tests ---- */

static void bars_are_the_plans_figures(void **state)
{
    (void)state;
    struct hand hand;
    three_stays(&hand);
    for (int us = 0; us < 2; us++) {
        const double unit_kg = us ? 0.45359237 : 1;
        hand.plan.units = us ? FW_US : FW_METRIC;
        char *svg = drawn(&hand.plan);
        const struct scale scale = scale_of(svg);
        const char *bar = svg;
        for (size_t i = 0; i < 3; i++) {
            const struct fw_plan_paddock *paddock = &hand.paddocks[i];
            char title[64];
            snprintf(title, sizeof title, "<title>%s, ", paddock->id);
            bar = after(bar, title);
            const double least = fmin(paddock->today_kg, paddock->usable_kg);
            const char *rect = after(bar, "<rect ");
            is_part(rect, &scale, 0, least, unit_kg);
            if (paddock->today_kg != paddock->usable_kg) {
                rect = after(rect + 1, "<rect ");
                is_part(rect, &scale, least,
                        fmax(paddock->today_kg, paddock->usable_kg), unit_kg);
                const bool hatched = has(rect, "fill", "url(#grows)");
                assert_true(hatched ==
                            (paddock->usable_kg > paddock->today_kg));
            }
            is_kg(&scale, scale.zero_y - 4 - line_y(after(rect, "<path ")),
                  paddock->demand_kg, unit_kg);
            is_kg(&scale,
                  scale.zero_y - 4 - number(after(rect, "<circle "), "cy"),
                  paddock->third_kg, unit_kg);
        }
        after(svg, us ? "Dry matter, lb:" : "Dry matter, kg:");
        after(svg, ">gone by its day<");
        fw_bytes_free(svg);
    }
}

/* 110 of 130.25 is enough, 30 of 50 is not; the second stay begins on the next
 * day. */
static void it_says_when_to_slow_down(void **state)
{
    (void)state;
    struct hand hand;
    three_stays(&hand);
    hand.plan.start_day = hand.stays[0].enter;
    char *svg = drawn(&hand.plan);
    after(svg, ">slow down before day 2<");
    after(svg, "slow down before day 2 (Tue 5 May), A02 then holds 60 %");
    fw_bytes_free(svg);
    hand.paddocks[1].third_kg = 40; /* just 80 % */
    svg = drawn(&hand.plan);
    assert_null(strstr(svg, "slow down"));
    after(svg, "each stay still has 80 % of what they need");
    fw_bytes_free(svg);
}

/* Whichever stay it is, the first one too, and where its words have no room
 * behind the mark. */
static void each_stay_may_be_the_one_to_slow_down_for(void **state)
{
    (void)state;
    static struct fw_time_stay many[30];
    static struct fw_plan_paddock each[30];
    struct hand hand;
    three_stays(&hand);
    for (size_t i = 0; i < 30; i++) {
        many[i] = (struct fw_time_stay){
            .cell = i, .enter = 20577 + (int)i, .leave = 20578 + (int)i};
        each[i] = hand.paddocks[2];
        each[i].field = 0;
    }
    hand.plan.start_day = 20577;
    hand.plan.time.stays = many;
    hand.plan.time.stay_count = hand.plan.paddock_count = 30;
    hand.plan.paddocks = each;
    for (size_t i = 0; i < 30; i++) {
        char words[60];
        each[i].third_kg = 10;
        char *svg = drawn(&hand.plan);
        is_whole_picture(svg);
        after(svg, ">What is ahead: Hill<");
        snprintf(words, sizeof words, ">slow down before day %zu<", i + 1);
        after(svg, words);
        fw_bytes_free(svg);
        each[i].third_kg = 200;
    }
}

static void it_says_that_no_growth_is_told(void **state)
{
    (void)state;
    struct hand hand;
    three_stays(&hand);
    for (size_t i = 0; i < 3; i++) {
        hand.fields[i].growth_kg_ha = (double)NAN;
        hand.fields[i].winter_loss_share = 0;
        hand.paddocks[i].today_kg = hand.paddocks[i].third_kg =
            hand.paddocks[i].usable_kg;
    }
    char *svg = drawn(&hand.plan);
    after(svg, "No growth is told: each bar is what stands there today.");
    assert_null(strstr(svg, "<circle "));
    assert_null(strstr(svg, "slow down"));
    assert_null(strstr(svg, "until its day"));
    fw_bytes_free(svg);
    hand.paddocks[1].today_kg *= 1.1; /* over winter */
    svg = drawn(&hand.plan);
    after(svg, "No growth is told: dashed is what is gone by the stay's day.");
    after(svg, ">gone by its day<");
    assert_null(strstr(svg, ">grows until its day<"));
    assert_null(strstr(svg, "<circle "));
    fw_bytes_free(svg);
}

/* Labels of a row, which have middles, and letters of 0.65 their size. How many
 * they are. */
static size_t labels_keep_apart(const char *svg, double y, double size)
{
    char words[60];
    double right = -HUGE_VAL;
    size_t count = 0;
    snprintf(words, sizeof words, " y=\"%.1f\" text-anchor=\"middle\"", y);
    for (const char *at = svg; (at = strstr(at, words)); count++) {
        const char *tag = tag_of(at, words);
        const char *from = strchr(tag, '>') + 1;
        const double half = 0.325 * size * (double)(strchr(from, '<') - from);
        assert_true(number(tag, "x") - half >= right);
        right = number(tag, "x") + half;
        at += strlen(words);
    }
    assert_true(right <= 900);
    return count;
}

static void thirty_stays_are_drawn_and_labels_keep_apart(void **state)
{
    (void)state;
    static struct fw_time_stay many[40];
    static const char *const ids[] = {"A01", "A104", "AB104"};
    struct hand hand;
    three_stays(&hand);
    for (int i = 0; i < 40; i++)
        many[i] = (struct fw_time_stay){
            .cell = 0, .enter = 20577 + i, .leave = 20578 + i};
    hand.plan.time.stays = many;
    for (size_t k = 0; k < 3; k++)
        for (size_t count = 1; count <= 40; count++) {
            hand.plan.time.stay_count = count;
            const size_t bars = count < 30 ? count : 30;
            snprintf(hand.paddocks[0].id, FW_ID, "%s", ids[k]);
            char *svg = drawn(&hand.plan);
            const double zero_y = scale_of(svg).zero_y - 4;
            const size_t dates = (bars + 4) / 5;
            assert_int_equal(count_of(svg, "<g>"), bars);
            assert_int_equal(labels_keep_apart(svg, zero_y + 33, 12), dates);
            /* Names of three letters always have room. */
            const size_t names = labels_keep_apart(svg, zero_y + 15, 10);
            assert_true(names == bars || (k > 0 && names == dates));
            assert_null(strstr(svg, "nan"));
            fw_bytes_free(svg);
        }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(bars_are_the_plans_figures),
        cmocka_unit_test(it_says_when_to_slow_down),
        cmocka_unit_test(each_stay_may_be_the_one_to_slow_down_for),
        cmocka_unit_test(it_says_that_no_growth_is_told),
        cmocka_unit_test(thirty_stays_are_drawn_and_labels_keep_apart),
    };
    return cmocka_run_group_tests_name("report_ahead", tests, NULL, NULL);
}
