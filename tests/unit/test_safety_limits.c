/* Both sides of each limit, and the places where shapes meet in odd ways. */
#include "table.h"

#include "safety/safety.h"

#include <limits.h>
#include <string.h>

static const struct fw_safety_rule *rule_of(const char *id)
{
    const struct fw_safety_rule *rule = fw_safety_rule_find(id);
    if (!rule)
        fail_msg("no rule \"%s\"", id);
    return rule;
}

static double column_of(const struct fw_safety_rule *rule, const char *column)
{
    const struct {
        const char *name;
        double value;
    } columns[] = {
        {"least_kv", rule->least_kv},
        {"most_kv", rule->most_kv},
        {"wanted_m", rule->wanted_m},
        {"most_deg", rule->most_deg},
        {"least_m", rule->least_m},
        {"sign_interval_m", rule->sign_interval_m},
        {"most_days", rule->most_days},
        {"most_share", rule->most_share},
    };
    for (size_t i = 0; i < sizeof columns / sizeof columns[0]; i++)
        if (strcmp(columns[i].name, column) == 0)
            return columns[i].value;
    fail_msg("no column \"%s\"", column);
    return 0;
}

static void limits_of_the_rules_are_those_of_the_table(void **state)
{
    (void)state;
    struct table table;
    table_open(&table, "safety_limits.tsv");
    while (table_next(&table, 4))
        assert_near(column_of(rule_of(table.cells[0]), table.cells[1]),
                    table_number(&table, 2), 0);
    assert_true(table.rows > 40);
    table_close(&table);
}

/* "Up to 1 kV", "over 1 kV up to 33 kV", "over 33 kV" (Annex BB.1). */
static void each_voltage_is_in_one_class_of_power_lines(void **state)
{
    (void)state;
    static const char *const ids[] = {"power-line-low", "power-line-middle",
                                      "power-line-high"};
    static const struct {
        double kv;
        int of;
    } rows[] = {{0.001, 0}, {1, 0},    {1.001, 1}, {33, 1},
                {33.01, 2}, {1200, 2}, {0, 2},     {-1, 2}};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++)
        for (int k = 0; k < 3; k++)
            if (fw_safety_covers(rule_of(ids[k]), FW_ROLE_POWER_LINE,
                                 rows[i].kv,
                                 FW_DRAWN_LINES) != (rows[i].of == k))
                fail_msg("%g kV and %s", rows[i].kv, ids[k]);
}

static void rule_covers_its_own_role_and_drawing_only(void **state)
{
    (void)state;
    const struct fw_safety_rule *road = rule_of("road-near");
    assert_true(fw_safety_covers(road, FW_ROLE_ROAD, 0, FW_DRAWN_AREAS));
    assert_false(fw_safety_covers(road, FW_ROLE_PATH, 0, FW_DRAWN_LINES));
    assert_false(
        fw_safety_covers(rule_of("weather"), FW_ROLE_COUNT, 0, FW_DRAWN_LINES));
    const struct fw_safety_rule *wire = rule_of("power-line-high");
    assert_true(
        fw_safety_covers(wire, FW_ROLE_POWER_LINE, 110, FW_DRAWN_AREAS));
    assert_false(
        fw_safety_covers(wire, FW_ROLE_POWER_LINE, 110, FW_DRAWN_POINTS));
}

static void voltages_are_known_within_half_a_percent(void **state)
{
    (void)state;
    /* 0.995 and 1.005 of 1150 kV, the last neighbours of none other. */
    assert_true(fw_safety_is_nominal_kv(1150));
    assert_true(fw_safety_is_nominal_kv(1155.74));
    assert_false(fw_safety_is_nominal_kv(1155.76));
    assert_true(fw_safety_is_nominal_kv(1144.26));
    assert_false(fw_safety_is_nominal_kv(1144.24));
    assert_false(fw_safety_is_nominal_kv(0));
    assert_false(fw_safety_is_nominal_kv((double)NAN));
}

/* IEC 60038 and ANSI C84.1: each voltage of the lists, and what lies between
 * neighbours of theirs. */
static void voltages_of_the_standards_are_known(void **state)
{
    (void)state;
    static const double known[] = {
        0.12,  0.208, 0.23, 0.24, 0.277, 0.347, 0.4,   0.415, 0.48, 0.6,  0.69,
        1,     0.75,  1.5,  3,    15,    25,    3.3,   4.16,  6,    6.6,  10,
        11,    12.47, 13.2, 13.8, 20,    22,    22.9,  24.94, 30,   33,   34.5,
        35,    2.4,   4.8,  6.93, 7.2,   7.62,  7.97,  8.32,  12,   14.4, 19.92,
        20.78, 12.7,  19.1, 45,   66,    69,    110,   115,   132,  138,  150,
        220,   230,   275,  330,  345,   380,   420,   500,   750,  765,  800,
        1000,  1100,  1150, 1200, 0.22,  0.38,  22.86, 16,    46,   50,   60,
        63,    65,    90,   120,  130,   154,   161,   225,   300,  315,  735};
    for (size_t i = 0; i < sizeof known / sizeof known[0]; i++)
        if (!fw_safety_is_nominal_kv(known[i]))
            fail_msg("%g kV", known[i]);
    static const double none[] = {0.0012, 0.11, 0.5, 0.8, 2,   5,    9,   17,
                                  18,     28,   40,  80,  100, 140,  200, 250,
                                  360,    450,  600, 700, 900, 1050, 1250};
    for (size_t i = 0; i < sizeof none / sizeof none[0]; i++)
        if (fw_safety_is_nominal_kv(none[i]))
            fail_msg("%g kV", none[i]);
}

static void signs_are_as_many_as_the_intervals_and_one(void **state)
{
    (void)state;
    static const struct {
        double along_m, interval_m;
        int signs;
    } rows[] = {
        {50, 50, 2},  {50.001, 50, 3}, {49, 50, 2}, {500.0000001, 50, 11},
        {0.5, 50, 2}, {0, 50, 0},      {50, 0, 0},  {-5, 50, 0},
        {50, -5, 0},  {0.5, 0.5, 2}};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++)
        assert_int_equal(
            fw_safety_sign_count(rows[i].along_m, rows[i].interval_m),
            rows[i].signs);
    assert_int_equal(fw_safety_sign_count(1e300, 1), INT_MAX);
    /* One more than 2,147,483,646 intervals is the last that an int holds. */
    assert_int_equal(fw_safety_sign_count(2147483645, 1), INT_MAX - 1);
    assert_int_equal(fw_safety_sign_count((double)NAN, 50), 0);
}

/* The published case is of 345 kV; half a kilovolt is how maps round. */
static void current_is_told_within_half_a_kilovolt_of_the_case(void **state)
{
    (void)state;
    assert_near(fw_safety_induced_ma(344.5, 500), 5, 1e-12);
    assert_near(fw_safety_induced_ma(345.5, 500), 5, 1e-12);
    assert_near(fw_safety_induced_ma(344.4, 500), 0, 0);
    assert_near(fw_safety_induced_ma(345.6, 500), 0, 0);
    assert_near(fw_safety_induced_ma(345, -1), 0, 0);
    assert_near(fw_safety_induced_ma(345, 0.5), 0.005, 1e-15);
}

static void rule_is_tried_by_its_whole_id(void **state)
{
    (void)state;
    const struct fw_caution tries = {.tried = "worms-left  worms-days"};
    assert_true(fw_safety_tries(&tries, "worms-left"));
    assert_true(fw_safety_tries(&tries, "worms-days"));
    assert_false(fw_safety_tries(&tries, "worms-day"));
    assert_false(fw_safety_tries(&tries, "worms-lest"));
    assert_false(fw_safety_tries(&tries, ""));
}

static void every_heading_of_the_page_has_its_words(void **state)
{
    (void)state;
    for (int i = 0; i < FW_WHEN_COUNT; i++) {
        const char *word = fw_safety_when_word((enum fw_when)i);
        assert_true(word && word[0]);
        for (int k = 0; k < i; k++)
            assert_string_not_equal(word, fw_safety_when_word((enum fw_when)k));
    }
    assert_null(fw_safety_when_word(FW_WHEN_COUNT));
    assert_null(fw_safety_role_word(FW_ROLE_COUNT));
}

/* ---- shapes ---- */

static const struct fw_point square[] = {{0, 0}, {10, 0}, {10, 10}, {0, 10}};
static const size_t one_ring[] = {0, 4};
static const struct fw_safety_shape area = {square, one_ring, 1, true};
static const struct fw_safety_shape outline = {square, one_ring, 1, false};

static void line_within_an_area_has_no_distance_from_the_shape(void **state)
{
    (void)state;
    const struct fw_point line[] = {{4, 5}, {6, 5}};
    struct fw_point where = {-1, -1};
    assert_near(fw_safety_shape_distance_m(line, 2, &area, &where), 0, 0);
    assert_near(where.x_m, 4, 0);
    assert_near(where.y_m, 5, 0);
    /* As an open line it has no side at x = 0: from x = 6 to the one at 10. */
    assert_near(fw_safety_shape_distance_m(line, 2, &outline, &where), 4, 0);
    assert_near(where.x_m, 6, 0);
}

static void shape_of_nothing_is_endlessly_far(void **state)
{
    (void)state;
    const struct fw_point line[] = {{4, 5}, {6, 5}};
    const size_t none[] = {0};
    const struct fw_safety_shape nothing = {square, none, 0, true};
    struct fw_point where = {-1, -2};
    assert_true(isinf(fw_safety_shape_distance_m(line, 2, &nothing, &where)));
    assert_near(where.x_m, -1, 0);
    assert_near(where.y_m, -2, 0);
    assert_true(isinf(fw_safety_shape_distance_m(line, 0, &area, &where)));
}

/* The line from the last corner back to the first is a side of an area alone.
 */
static void last_side_closes_an_area_only(void **state)
{
    (void)state;
    const struct fw_point point[] = {{-3, 5}};
    assert_near(fw_safety_shape_distance_m(point, 1, &area, NULL), 3, 0);
    assert_near(fw_safety_shape_distance_m(point, 1, &outline, NULL),
                sqrt(9 + 25), 1e-12);
}

static void nearest_place_of_a_shape_is_on_its_outline_or_within(void **state)
{
    (void)state;
    static const struct {
        struct fw_point from, on;
    } rows[] = {{{-3, 4}, {0, 4}},  {{12, 11}, {10, 10}}, {{5, -1}, {5, 0}},
                {{13, 6}, {10, 6}}, {{7, 3}, {7, 3}},     {{4, 19}, {4, 10}}};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        const struct fw_point on = fw_safety_shape_nearest(&area, rows[i].from);
        assert_near(on.x_m, rows[i].on.x_m, 1e-12);
        assert_near(on.y_m, rows[i].on.y_m, 1e-12);
    }
}

static void place_along_a_line_is_measured_from_its_start(void **state)
{
    (void)state;
    const struct fw_point line[] = {{0, 0}, {0, 0}, {3, 4}, {3, 10}};
    static const struct {
        double at_m, x_m, y_m;
    } rows[] = {{-1, 0, 0}, {0, 0, 0},   {2.5, 1.5, 2}, {5, 3, 4},
                {8, 3, 7},  {11, 3, 10}, {99, 3, 10}};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        const struct fw_point at = fw_safety_along(line, 4, rows[i].at_m);
        assert_near(at.x_m, rows[i].x_m, 1e-12);
        assert_near(at.y_m, rows[i].y_m, 1e-12);
    }
}

/* ---- stretches and crossings ---- */

static void found(const struct fw_point *line, size_t count,
                  const struct fw_safety_shape *shape, double reach_m,
                  double most_deg, struct fw_stretches *out)
{
    *out = (struct fw_stretches){0};
    assert_int_equal(
        fw_stretches_find(line, count, shape, reach_m, most_deg, out, NULL),
        FW_OK);
    fw_stretches_join(out, 1e-6);
}

/* Half a side of 3, 4, 5 beyond each end of the road. */
static void reach_is_round_at_ends_and_straight_beside_parallels(void **state)
{
    (void)state;
    const struct fw_point fence[] = {{0, 0}, {0, 0}, {40, 0}, {100, 0}};
    const struct fw_point road[] = {{20, 3}, {20, 3}, {60, 3}};
    const size_t starts[] = {0, 3};
    const struct fw_safety_shape shape = {road, starts, 1, false};
    struct fw_stretches out;
    found(fence, 4, &shape, 5, 90, &out);
    assert_int_equal(out.count, 1);
    assert_near(out.items[0].from_m, 16, 1e-12);
    assert_near(out.items[0].to_m, 64, 1e-12);
    fw_stretches_release(&out);
    found(fence, 4, &shape, 5, 30, &out);
    assert_int_equal(out.count, 1);
    assert_near(out.items[0].from_m, 20, 1e-12);
    assert_near(out.items[0].to_m, 60, 1e-12);
    fw_stretches_release(&out);
    /* Just within reach, and just not. */
    found(fence, 4, &shape, 3, 90, &out);
    assert_int_equal(out.count, 1);
    assert_near(out.items[0].from_m, 20, 1e-6);
    fw_stretches_release(&out);
    found(fence, 4, &shape, 2.999, 90, &out);
    assert_int_equal(out.count, 0);
    fw_stretches_release(&out);
}

/* 1 in 2 is 26.57 degrees, which runs alike up to 30; 1 in 1 does not. */
static void what_is_alike_has_an_angle(void **state)
{
    (void)state;
    const struct fw_point fence[] = {{0, 0}, {100, 0}};
    struct fw_point line[] = {{10, 1}, {14, 3}};
    const size_t starts[] = {0, 2};
    const struct fw_safety_shape shape = {line, starts, 1, false};
    struct fw_stretches out;
    found(fence, 2, &shape, 20, 26.57, &out);
    assert_int_equal(out.count, 1);
    fw_stretches_release(&out);
    found(fence, 2, &shape, 20, 26.56, &out);
    assert_int_equal(out.count, 0);
    fw_stretches_release(&out);
}

static void fence_within_an_area_is_near_it_all_along(void **state)
{
    (void)state;
    const struct fw_point fence[] = {{2, 5}, {6, 5}, {6, 20}};
    struct fw_stretches out;
    found(fence, 3, &area, 0, 90, &out);
    assert_int_equal(out.count, 1);
    assert_near(out.items[0].from_m, 0, 0);
    assert_near(out.items[0].to_m, 9, 1e-9);
    fw_stretches_release(&out);
    found(fence, 3, &area, 2, 90, &out);
    assert_int_equal(out.count, 1);
    assert_near(out.items[0].to_m, 11, 1e-9);
    fw_stretches_release(&out);
}

static void stretches_join_up_to_the_gap_itself(void **state)
{
    (void)state;
    struct fw_stretch items[] = {{20, 25}, {0, 10}, {0, 4}, {12, 20}, {0, 9}};
    struct fw_stretches all = {items, 5, 5};
    fw_stretches_join(&all, 1.999);
    assert_int_equal(all.count, 2);
    assert_near(all.items[0].from_m, 0, 0);
    assert_near(all.items[0].to_m, 10, 0);
    assert_near(all.items[1].from_m, 12, 0);
    assert_near(all.items[1].to_m, 25, 0);
    fw_stretches_join(&all, 2);
    assert_int_equal(all.count, 1);
    assert_near(all.items[0].to_m, 25, 0);
    struct fw_stretches none = {0};
    fw_stretches_join(&none, 2);
    assert_int_equal(none.count, 0);
}

/* Along 0.4 m of a road's end a fence crosses; along 0.6 m it lies on it. */
static void half_a_metre_along_is_no_crossing(void **state)
{
    (void)state;
    const struct fw_point fence[] = {{0, 0}, {100, 0}};
    static const double length_m[] = {0.4, 0.49, 0.51, 0.6};
    for (size_t i = 0; i < 4; i++) {
        const struct fw_point road[] = {{50, 0}, {50 + length_m[i], 0}};
        const size_t starts[] = {0, 2};
        const struct fw_safety_shape shape = {road, starts, 1, false};
        struct fw_crossings out = {0};
        assert_int_equal(fw_crossings_find(fence, 2, &shape, &out, NULL),
                         FW_OK);
        assert_int_equal(out.lies_along, length_m[i] > 0.5);
        assert_int_equal(out.count, length_m[i] < 0.5);
        fw_crossings_release(&out);
    }
}

/* A path with a bend on the wire: the flatter of its two sides counts. */
static void crossing_at_a_bend_has_the_least_angle(void **state)
{
    (void)state;
    const struct fw_point fence[] = {{0, 0}, {100, 0}};
    const struct fw_point path[] = {{50, -10}, {50, 0}, {60, 10}, {90, 90}};
    const size_t starts[] = {0, 4};
    const struct fw_safety_shape shape = {path, starts, 1, false};
    struct fw_crossings out = {0};
    assert_int_equal(fw_crossings_find(fence, 2, &shape, &out, NULL), FW_OK);
    assert_int_equal(out.count, 1);
    assert_near(out.items[0].angle_deg, 45, 1e-9);
    assert_near(out.items[0].where.x_m, 50, 0.001);
    assert_near(out.items[0].where.y_m, 0, 0);
    fw_crossings_release(&out);
    assert_null(out.items); /* an empty one, to be used again */
    assert_int_equal(out.count, 0);
}

/* A millimetre is one place, and as much as edges bow. */
static void what_ends_short_of_the_fence_does_not_cross(void **state)
{
    (void)state;
    const struct fw_point fence[] = {{0, 0}, {100, 0}};
    static const double short_m[] = {0.0009, 0.00099, 0.00101, 0.0015};
    for (size_t i = 0; i < 4; i++) {
        const struct fw_point path[] = {{50, 9}, {50, short_m[i]}};
        const size_t starts[] = {0, 2};
        const struct fw_safety_shape shape = {path, starts, 1, false};
        struct fw_crossings out = {0};
        assert_int_equal(fw_crossings_find(fence, 2, &shape, &out, NULL),
                         FW_OK);
        assert_int_equal(out.count, short_m[i] <= 0.001);
        fw_crossings_release(&out);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(limits_of_the_rules_are_those_of_the_table),
        cmocka_unit_test(each_voltage_is_in_one_class_of_power_lines),
        cmocka_unit_test(rule_covers_its_own_role_and_drawing_only),
        cmocka_unit_test(voltages_are_known_within_half_a_percent),
        cmocka_unit_test(voltages_of_the_standards_are_known),
        cmocka_unit_test(signs_are_as_many_as_the_intervals_and_one),
        cmocka_unit_test(current_is_told_within_half_a_kilovolt_of_the_case),
        cmocka_unit_test(rule_is_tried_by_its_whole_id),
        cmocka_unit_test(every_heading_of_the_page_has_its_words),
        cmocka_unit_test(line_within_an_area_has_no_distance_from_the_shape),
        cmocka_unit_test(shape_of_nothing_is_endlessly_far),
        cmocka_unit_test(last_side_closes_an_area_only),
        cmocka_unit_test(nearest_place_of_a_shape_is_on_its_outline_or_within),
        cmocka_unit_test(place_along_a_line_is_measured_from_its_start),
        cmocka_unit_test(reach_is_round_at_ends_and_straight_beside_parallels),
        cmocka_unit_test(what_is_alike_has_an_angle),
        cmocka_unit_test(fence_within_an_area_is_near_it_all_along),
        cmocka_unit_test(stretches_join_up_to_the_gap_itself),
        cmocka_unit_test(half_a_metre_along_is_no_crossing),
        cmocka_unit_test(crossing_at_a_bend_has_the_least_angle),
        cmocka_unit_test(what_ends_short_of_the_fence_does_not_cross),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
