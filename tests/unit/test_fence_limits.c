/* Both sides of each range of a fence, the last count that is made, and the
 * minutes of a line added up by hand. */
#include "fence/fence.h"
#include "table.h"

#include <string.h>

static struct fw_fence_spec plain(void)
{
    struct fw_fence_spec spec = fw_fence_moved_default();
    spec.post_gap_m = 10;
    return spec;
}

static const struct fw_point ten_m[] = {{0, 0}, {10, 0}};

static void counted(const struct fw_fence_spec *spec)
{
    struct fw_fence_count out;
    struct fw_error err;
    if (fw_fence_count(ten_m, 2, false, spec, &out, &err))
        fail_msg("%s", err.text);
}

static void refused(const struct fw_fence_spec *spec, const char *says)
{
    struct fw_fence_count out = {.posts = 99};
    struct fw_error err = {.text = ""};
    assert_int_equal(fw_fence_count(ten_m, 2, false, spec, &out, &err),
                     FW_EINPUT);
    assert_string_equal(err.text, says);
    assert_int_equal(out.posts, 99);
}

static void strands_are_one_to_eight(void **state)
{
    (void)state;
    struct fw_fence_spec spec = plain();
    spec.strands = 1;
    counted(&spec);
    spec.strands = 8;
    counted(&spec);
    spec.strands = 0;
    refused(&spec, "strands is 0; expected 1 to 8");
    spec.strands = 9;
    refused(&spec, "strands is 9; expected 1 to 8");
}

static void gap_and_reel_are_over_nothing(void **state)
{
    (void)state;
    const double none[] = {0, -0.5, (double)INFINITY};
    const char *const said[] = {"0", "-0.5", "inf"};
    for (size_t i = 0; i < 3; i++) {
        char says[128];
        struct fw_fence_spec spec = plain();
        spec.post_gap_m = none[i];
        snprintf(says, sizeof says,
                 "post gap is %s m; expected over 0, such as 8 m", said[i]);
        refused(&spec, says);
        spec = plain();
        spec.reel_m = none[i];
        snprintf(says, sizeof says,
                 "reel holds %s m; expected over 0, such as 400 m", said[i]);
        refused(&spec, says);
    }
    struct fw_fence_spec spec = plain();
    spec.post_gap_m = spec.reel_m = 0.5;
    counted(&spec);
}

static void bend_is_up_to_a_half_turn(void **state)
{
    (void)state;
    struct fw_fence_spec spec = plain();
    spec.bend_deg = 0;
    counted(&spec);
    spec.bend_deg = 180;
    counted(&spec);
    spec.bend_deg = -0.5;
    refused(&spec, "bend is -0.5 degrees; expected 0 to 180, such as 15");
    spec.bend_deg = 180.5;
    refused(&spec, "bend is 180.5 degrees; expected 0 to 180, such as 15");
}

static void slack_is_up_to_the_whole(void **state)
{
    (void)state;
    struct fw_fence_spec spec = plain();
    spec.slack = 0;
    counted(&spec);
    spec.slack = 1;
    counted(&spec);
    spec.slack = -0.01;
    refused(&spec,
            "slack is -0.01; expected a share from 0 to 1, such as 0.04");
    spec.slack = 1.01;
    refused(&spec, "slack is 1.01; expected a share from 0 to 1, such as 0.04");
}

static void wires_hang_from_the_ground_to_three_metres(void **state)
{
    (void)state;
    struct fw_fence_spec spec = plain();
    spec.height_bottom_m = 0;
    spec.height_top_m = 0;
    counted(&spec);
    spec.height_top_m = 3;
    counted(&spec);
    spec.height_bottom_m = 3;
    counted(&spec);
    spec.height_top_m = 2.99;
    refused(&spec, "wires are at 3 to 2.99 m; expected the lowest first, the "
                   "highest at most 3 m");
    spec.height_top_m = 3.01;
    refused(&spec, "wires are at 3 to 3.01 m; expected the lowest first, the "
                   "highest at most 3 m");
    spec.height_bottom_m = -0.01;
    spec.height_top_m = 1;
    refused(&spec, "wires are at -0.01 to 1 m; expected the lowest first, the "
                   "highest at most 3 m");
}

static void a_million_posts_or_reels_are_the_last_counted(void **state)
{
    (void)state;
    struct fw_fence_spec spec = plain();
    struct fw_fence_count out;
    spec.post_gap_m = 10.0 / 999999; /* and one more post at the end */
    assert_int_equal(fw_fence_count(ten_m, 2, false, &spec, &out, NULL), FW_OK);
    assert_int_equal(out.posts, 1000000);
    spec.post_gap_m = 10.0 / 1000000;
    refused(&spec,
            "a line of 10 m needs over 1e+06 posts or reels; expected a wider "
            "post gap, a longer reel or a shorter line");
    struct fw_fence_post *posts = NULL;
    size_t n = 99;
    assert_int_equal(fw_fence_posts(ten_m, 2, false, &spec, &posts, &n, NULL),
                     FW_EINPUT);
    assert_null(posts);
    spec = plain();
    spec.strands = 1;
    spec.slack = 0;
    spec.reel_m = 10.0 / 1000000;
    assert_int_equal(fw_fence_count(ten_m, 2, false, &spec, &out, NULL), FW_OK);
    assert_int_equal(out.reels, 1000000);
    spec.reel_m = 10.0 / 1000001;
    assert_int_equal(fw_fence_count(ten_m, 2, false, &spec, &out, NULL),
                     FW_EINPUT);
}

static void a_million_line_posts_are_the_last_of_a_perimeter(void **state)
{
    (void)state;
    const struct fw_point ring[] = {{0, 0}, {100, 0}, {100, 100}, {0, 100}};
    struct fw_fence_perimeter spec = fw_fence_perimeter_default();
    struct fw_material rows[32];
    size_t n = 99;
    struct fw_error err = {.text = ""};
    spec.spec.post_gap_m =
        100.0 / 250001; /* a side has one post less than gaps */
    assert_int_equal(
        fw_fence_perimeter_list(ring, 4, &spec, NULL, rows, 32, &n, NULL),
        FW_OK);
    n = 99;
    spec.spec.post_gap_m = 100.0 / 250002;
    assert_int_equal(
        fw_fence_perimeter_list(ring, 4, &spec, NULL, rows, 32, &n, &err),
        FW_EINPUT);
    assert_string_equal(err.text,
                        "a perimeter of 400 m needs over 1e+06 posts; expected "
                        "a wider post gap than 0.000399997 m");
    assert_int_equal(n, 99);
}

static int posts_of(const struct fw_point *line, size_t n)
{
    const struct fw_fence_spec spec = plain();
    struct fw_fence_count out;
    assert_int_equal(fw_fence_count(line, n, false, &spec, &out, NULL), FW_OK);
    return out.posts;
}

/* 15 m, a turn at 15 degrees, 15 m: a post at the turn makes five of four. */
static void turn_of_the_bend_itself_gets_no_post(void **state)
{
    (void)state;
    static const struct {
        double turn_deg;
        int posts;
    } rows[] = {{15, 4},
                {-15, 4},
                {15 + 0.98e-6, 4},
                {15 + 1.02e-6, 5},
                {-15 - 1.02e-6, 5}};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        const double turn = rows[i].turn_deg * acos(-1.0) / 180;
        const struct fw_point line[] = {
            {0, 0}, {15, 0}, {15 + 15 * cos(turn), 15 * sin(turn)}};
        assert_int_equal(posts_of(line, 3), rows[i].posts);
    }
}

static void gap_is_wider_by_a_millionth_at_most(void **state)
{
    (void)state;
    const struct fw_point within[] = {{0, 0}, {30 + 0.98e-5, 0}};
    const struct fw_point beyond[] = {{0, 0}, {30 + 1.02e-5, 0}};
    assert_int_equal(posts_of(within, 2), 4);
    assert_int_equal(posts_of(beyond, 2), 5);
}

/* A jog of a micrometre has no direction; a wider one has two corners. */
static void points_under_a_micrometre_apart_are_one(void **state)
{
    (void)state;
    const double jogs_m[] = {0.98e-6, 1.02e-6};
    const int posts[] = {4, 6};
    for (size_t i = 0; i < 2; i++) {
        const struct fw_point line[] = {
            {0, 0}, {15, 0}, {15, jogs_m[i]}, {30, jogs_m[i]}};
        assert_int_equal(posts_of(line, 4), posts[i]);
    }
}

static void ring_that_ends_where_it_began_has_no_post_twice(void **state)
{
    (void)state;
    const struct fw_point ring[] = {
        {0, 0}, {20, 0}, {20, 20}, {0, 20}, {0.5e-6, 0}};
    const struct fw_fence_spec spec = plain();
    struct fw_fence_count out;
    assert_int_equal(fw_fence_count(ring, 5, true, &spec, &out, NULL), FW_OK);
    assert_int_equal(out.posts, 8);
    assert_near(out.line_m, 80, 1e-5);
}

/* Along the south 15 m, a turn at 15 degrees and 15 m: three gaps where the
 * turn is none to begin at; four, three and four on the other sides. */
static void ring_is_begun_at_a_bend_not_at_a_turn(void **state)
{
    (void)state;
    const double turn = 15 * acos(-1.0) / 180;
    const double x = 15 + 15 * cos(turn), y = 15 * sin(turn);
    const struct fw_point ring[] = {{15, 0}, {x, y}, {x, 40}, {0, 40}, {0, 0}};
    const struct fw_fence_spec spec = plain();
    struct fw_fence_count out;
    assert_int_equal(fw_fence_count(ring, 5, true, &spec, &out, NULL), FW_OK);
    assert_int_equal(out.posts, 3 + 4 + 3 + 4);
}

/* 150 m, five strands, 45 posts in three armfuls; three reels at once. */
static void minutes_of_a_line_add_up_by_hand(void **state)
{
    (void)state;
    const struct fw_fence_rates rates = {.walk_m_min = 75,
                                         .set_post_s = 8,
                                         .pull_post_s = 5,
                                         .wind_m_min = 60,
                                         .end_s = 45,
                                         .posts_an_armful = 20};
    const struct fw_fence_count line = {.line_m = 150, .posts = 45};
    /* Twice out and back, and twice back to the start and out for posts. */
    assert_near(fw_fence_set_passes(&line, 5, &rates), 2 * 2 + 2, 0);
    assert_near(fw_fence_set_min(&line, 5, &rates),
                150 * 6 / 75.0 + (45 * 8 + 2 * 45) / 60.0, 1e-12);
    /* Five strands wound, four times back, two armfuls. */
    assert_near(fw_fence_take_down_passes(&line, 5, &rates), 5 + 4 + 2, 0);
    assert_near(fw_fence_take_down_min(&line, 5, &rates),
                150 * 5 / 60.0 + 150 * 6 / 75.0 + (45 * 5 + 2 * 45) / 60.0,
                1e-12);
    assert_near(fw_fence_lay_min(150, &rates), 4, 1e-12);
    const struct fw_fence_count bare = {.line_m = 150, .posts = 0};
    assert_near(fw_fence_set_passes(&bare, 3, &rates), 2, 0);
    assert_near(fw_fence_take_down_passes(&bare, 1, &rates), 1, 0);
}

static void each_rate_has_its_range(void **state)
{
    (void)state;
    const struct fw_fence_count line = {.line_m = 75, .posts = 10};
    const struct fw_fence_rates good = fw_fence_rates_default();
    for (int i = 0; i < 6; i++) {
        struct fw_fence_rates rates = good;
        double *const speeds[] = {&rates.walk_m_min, &rates.wind_m_min};
        double *const times[] = {&rates.set_post_s, &rates.pull_post_s,
                                 &rates.end_s};
        if (i < 2) {
            *speeds[i] = 0.5;
            assert_true(fw_fence_set_min(&line, 2, &rates) > 0);
            *speeds[i] = 0;
        } else if (i < 5) {
            *times[i - 2] = 0;
            assert_true(fw_fence_set_min(&line, 2, &rates) > 0);
            *times[i - 2] = -0.5;
        } else {
            rates.posts_an_armful = 1;
            assert_true(fw_fence_set_min(&line, 2, &rates) > 0);
            rates.posts_an_armful = 0;
        }
        assert_true(isnan(fw_fence_set_passes(&line, 2, &rates)));
        assert_true(isnan(fw_fence_set_min(&line, 2, &rates)));
        assert_true(isnan(fw_fence_take_down_passes(&line, 2, &rates)));
        assert_true(isnan(fw_fence_take_down_min(&line, 2, &rates)));
        assert_true(isnan(fw_fence_lay_min(75, &rates)));
    }
    assert_true(isnan(fw_fence_set_passes(&line, 0, &good)));
    assert_true(isnan(fw_fence_take_down_passes(&line, 0, &good)));
    assert_near(fw_fence_set_passes(&line, 1, &good), 2, 0);
}

static void kit_has_nothing_under_nothing(void **state)
{
    (void)state;
    const struct fw_fence_spec spec = plain();
    const struct fw_kit kits[] = {
        {-1, 2, 3}, {1, -1, 3}, {1, 2, -0.5}, {1, 2, (double)NAN}};
    const char *const said[] = {
        "2 posts, -1 reels and 3 m", "-1 posts, 1 reels and 3 m",
        "2 posts, 1 reels and -0.5 m", "2 posts, 1 reels and nan m"};
    struct fw_material rows[3];
    size_t n = 99;
    for (size_t i = 0; i < 4; i++) {
        struct fw_error err = {.text = ""};
        assert_int_equal(
            fw_fence_kit_list(&kits[i], &spec, NULL, rows, 3, &n, &err),
            FW_EINPUT);
        assert_non_null(strstr(err.text, said[i]));
        assert_int_equal(n, 99);
    }
    const struct fw_kit bare = {0, 0, 0};
    assert_int_equal(fw_fence_kit_list(&bare, &spec, NULL, rows, 3, &n, NULL),
                     FW_OK);
    assert_int_equal(n, 0);
}

static void rows_say_how_they_were_counted(void **state)
{
    (void)state;
    struct fw_fence_spec spec = plain();
    const struct fw_kit kit = {.reels = 2, .posts = 10, .wire_m = 100};
    struct fw_material rows[32];
    size_t n;
    assert_int_equal(fw_fence_kit_list(&kit, &spec, NULL, rows, 3, &n, NULL),
                     FW_OK);
    assert_string_equal(rows[1].note, "the most that stands at once, 2 strands "
                                      "with 4 % for ties, sag and corners");
    spec.strands = 1;
    spec.slack = 1; /* the whole, of which no digit is rounded off */
    assert_int_equal(fw_fence_kit_list(&kit, &spec, NULL, rows, 3, &n, NULL),
                     FW_OK);
    assert_string_equal(rows[1].note, "the most that stands at once, 1 strand "
                                      "with 100 % for ties, sag and corners");
    assert_string_equal(rows[1].unit, "m");
    assert_string_equal(rows[0].unit, "each");
    const struct fw_point ring[] = {{0, 0}, {300, 0}, {300, 200}, {0, 200}};
    struct fw_fence_perimeter fence = fw_fence_perimeter_default();
    fence.spec.bend_deg = 20;
    fence.spec.slack = 1;
    assert_int_equal(
        fw_fence_perimeter_list(ring, 4, &fence, NULL, rows, 32, &n, NULL),
        FW_OK);
    assert_string_equal(rows[0].note, "at every bend over 60 degrees");
    assert_string_equal(rows[5].note,
                        "5 strands with 100 % for ties and sag; 11 m a brace, "
                        "twice round its two posts, aslant");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(strands_are_one_to_eight),
        cmocka_unit_test(gap_and_reel_are_over_nothing),
        cmocka_unit_test(bend_is_up_to_a_half_turn),
        cmocka_unit_test(slack_is_up_to_the_whole),
        cmocka_unit_test(wires_hang_from_the_ground_to_three_metres),
        cmocka_unit_test(a_million_posts_or_reels_are_the_last_counted),
        cmocka_unit_test(a_million_line_posts_are_the_last_of_a_perimeter),
        cmocka_unit_test(turn_of_the_bend_itself_gets_no_post),
        cmocka_unit_test(gap_is_wider_by_a_millionth_at_most),
        cmocka_unit_test(points_under_a_micrometre_apart_are_one),
        cmocka_unit_test(ring_that_ends_where_it_began_has_no_post_twice),
        cmocka_unit_test(ring_is_begun_at_a_bend_not_at_a_turn),
        cmocka_unit_test(minutes_of_a_line_add_up_by_hand),
        cmocka_unit_test(each_rate_has_its_range),
        cmocka_unit_test(kit_has_nothing_under_nothing),
        cmocka_unit_test(rows_say_how_they_were_counted),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
