/* The way to water against closed forms: rectangles, an L, round a pond,
 * through openings; and grounds that are hard to cut. */
#include "base/alloc.h"
#include "geo_help.h"
#include "table.h"
#include "test.h"
#include "walk/walk.h"

#include <stdlib.h>

enum { most_cells = 8, most_lines = 8, most_points = 128 };

struct drawn {
    struct fw_point points[most_points], line_points[most_points];
    size_t ring_start[most_cells + 1], cell_ring[most_cells + 1];
    size_t line_start[most_lines + 1];
    size_t rings, cells, lines;
};

static void put_ring(struct drawn *drawn, const struct fw_point *ring,
                     size_t count, bool of_new_cell)
{
    size_t at = drawn->ring_start[drawn->rings];
    for (size_t i = 0; i < count; i++)
        drawn->points[at++] = ring[i];
    drawn->ring_start[++drawn->rings] = at;
    drawn->cells += of_new_cell;
    drawn->cell_ring[drawn->cells] = drawn->rings;
}

static void put_box(struct drawn *drawn, double x, double y, double to_x,
                    double to_y)
{
    const struct fw_point ring[] = {{x, y}, {to_x, y}, {to_x, to_y}, {x, to_y}};
    put_ring(drawn, ring, 4, true);
}

static void put_line(struct drawn *drawn, double x, double y, double to_x,
                     double to_y)
{
    const size_t at = drawn->line_start[drawn->lines];
    drawn->line_points[at] = (struct fw_point){x, y};
    drawn->line_points[at + 1] = (struct fw_point){to_x, to_y};
    drawn->line_start[++drawn->lines] = at + 2;
}

static struct fw_walk_ground *ground_of(const struct drawn *drawn)
{
    const struct fw_walk_map map = {
        .points = drawn->points,
        .ring_start = drawn->ring_start,
        .cell_ring = drawn->cell_ring,
        .cell_count = drawn->cells,
        .line_points = drawn->line_points,
        .line_start = drawn->line_start,
        .line_count = drawn->lines,
    };
    struct fw_walk_ground *ground = NULL;
    assert_int_equal(fw_walk_new(&map, &ground, NULL), FW_OK);
    return ground;
}

static struct fw_walk_sums walk_in(struct fw_walk_ground *ground,
                                   struct fw_point water, size_t at,
                                   size_t cell)
{
    struct fw_walk_sums sums;
    assert_int_equal(
        fw_walk_search(ground, &(struct fw_walk_start){water, &at, 1, 1}, NULL),
        FW_OK);
    assert_int_equal(fw_walk_sum(ground, cell, &sums, NULL), FW_OK);
    return sums;
}

static struct fw_walk_sums walk_of(const struct drawn *drawn,
                                   struct fw_point water)
{
    struct fw_walk_ground *ground = ground_of(drawn);
    const struct fw_walk_sums sums = walk_in(ground, water, 0, 0);
    fw_walk_free(ground);
    return sums;
}

/* From the corner of a rectangle. */
static double corner_mean_m(double a, double b)
{
    return sqrt(a * a + b * b) / 3 + a * a / (6 * b) * asinh(b / a) +
           b * b / (6 * a) * asinh(a / b);
}

/* ---- closed forms ---- */

static void walk_in_a_rectangle_has_its_closed_form(void **state)
{
    (void)state;
    struct table table;
    table_open(&table, "water_walk.tsv");
    while (table_next(&table, 7)) {
        struct drawn drawn = {.rings = 0};
        put_box(&drawn, 0, 0, table_number(&table, 0), table_number(&table, 1));
        const struct fw_walk_sums sums =
            walk_of(&drawn, (struct fw_point){table_number(&table, 2),
                                              table_number(&table, 3)});
        assert_true(sums.known);
        assert_near(sums.mean_m, table_number(&table, 4), 1e-9);
        assert_near(sums.most_m, table_number(&table, 5), 1e-9);
        assert_near(sums.covered, 1, 1e-12);
        struct fw_walk_sums seen;
        assert_true(fw_walk_seen(
            drawn.points, 4,
            (struct fw_point){table_number(&table, 2), table_number(&table, 3)},
            NULL, &seen));
        assert_near(seen.mean_m, table_number(&table, 4), 1e-9);
        assert_near(seen.most_m, table_number(&table, 5), 1e-9);
    }
    table_close(&table);
}

/* About the place that it is drawn round all of a star is seen; with a corner
 * pulled past that place, or from beyond a side, it is not. */
static void star_seen_whole_needs_no_triangles(void **state)
{
    (void)state;
    enum { corners = 12 };
    struct random random = seeded();
    for (int run = 0; run < 200; run++) {
        const struct fw_point water = {draw(&random, -50, 50),
                                       draw(&random, -50, 50)};
        struct fw_point ring[corners];
        for (size_t i = 0; i < corners; i++) {
            const double angle = 2 * PI * (double)i / corners;
            const double away_m = draw(&random, 20, 100);
            ring[i] = (struct fw_point){water.x_m + away_m * cos(angle),
                                        water.y_m + away_m * sin(angle)};
        }
        struct drawn drawn = {.rings = 0};
        struct fw_walk_sums seen = {.mean_m = -1};
        put_ring(&drawn, ring, corners, true);
        const struct fw_walk_sums sums = walk_of(&drawn, water);
        assert_true(fw_walk_seen(ring, corners, water, NULL, &seen));
        assert_true(seen.known);
        assert_near(seen.mean_m, sums.mean_m, 1e-12 * 100);
        assert_near(seen.fed_m, sums.mean_m, 1e-12 * 100);
        assert_near(seen.most_m, sums.most_m, 1e-12 * 100);
        const struct fw_walk_sums before = seen;
        const struct fw_point beyond = {water.x_m + 101, water.y_m};
        assert_false(fw_walk_seen(ring, corners, beyond, NULL, &seen));
        ring[0] = (struct fw_point){water.x_m - 1, water.y_m - 5};
        assert_false(fw_walk_seen(ring, corners, water, NULL, &seen));
        assert_memory_equal(&seen, &before, sizeof seen);
    }
    const struct fw_point line[] = {{0, 0}, {100, 0}};
    struct fw_walk_sums seen;
    assert_false(fw_walk_seen(line, 2, line[0], NULL, &seen));
}

/* Arms of 100 m. Seen from the outer corner are the square there and each arm
 * up to the way past the inner corner; what is left is a triangle beyond it. */
static void walk_in_an_l_goes_round_its_corner(void **state)
{
    (void)state;
    const struct fw_point ring[] = {{0, 0},     {300, 0},   {300, 100},
                                    {100, 100}, {100, 300}, {0, 300}};
    struct drawn drawn = {.rings = 0};
    put_ring(&drawn, ring, 6, true);
    const struct fw_walk_sums sums = walk_of(&drawn, (struct fw_point){0, 0});
    assert_near(sums.mean_m, 182.251195515, 1e-9);
    assert_near(sums.most_m, sqrt(300 * 300 + 100 * 100), 1e-9);
    assert_near(sums.covered, 1, 1e-12);
    /* From the end of an arm the other one is all beyond the inner corner. */
    struct fw_walk_ground *ground = ground_of(&drawn);
    walk_in(ground, (struct fw_point){300, 0}, 0, 0);
    assert_near(fw_walk_at(ground, 0, (struct fw_point){100, 300}),
                sqrt(200 * 200 + 100 * 100) + 200, 1e-9);
    assert_near(fw_walk_at(ground, 0, (struct fw_point){0, 300}),
                sqrt(200 * 200 + 100 * 100) + sqrt(100 * 100 + 200 * 200),
                1e-9);
    assert_true(fw_walk_at(ground, 0, (struct fw_point){200, 200}) == HUGE_VAL);
    fw_walk_free(ground);
}

/* Water in the middle of one side of a square about a square pond: the way
 * round either side is the same, and half of what lies behind is nearer by
 * each. */
static void walk_round_a_pond_takes_the_shorter_side(void **state)
{
    (void)state;
    const struct fw_point pond[] = {{-20, -20}, {-20, 20}, {20, 20}, {20, -20}};
    struct drawn drawn = {.rings = 0};
    put_box(&drawn, -60, -60, 60, 60);
    put_ring(&drawn, pond, 4, false);
    struct fw_walk_ground *ground = ground_of(&drawn);
    const struct fw_walk_sums sums =
        walk_in(ground, (struct fw_point){0, -60}, 0, 0);
    const double past = sqrt(40 * 40 + 20 * 20);
    assert_true(sums.known);
    assert_true(sums.covered > 1);
    assert_near(fw_walk_at(ground, 0, (struct fw_point){0, 20}), past + 40 + 20,
                1e-9);
    assert_near(fw_walk_at(ground, 0, (struct fw_point){0, 60}),
                past + 40 + sqrt(20 * 20 + 40 * 40), 1e-9);
    /* The half on one side by itself is all seen round its own corners. */
    const struct fw_point half[] = {{0, -60}, {60, -60}, {60, 60},  {0, 60},
                                    {0, 20},  {20, 20},  {20, -20}, {0, -20}};
    struct drawn one = {.rings = 0};
    put_ring(&one, half, 8, true);
    const struct fw_walk_sums there = walk_of(&one, (struct fw_point){0, -60});
    assert_near(there.covered, 1, 1e-12);
    assert_relative(sums.mean_m, there.mean_m, 1e-6);
    assert_relative(sums.most_m, there.most_m, 1e-6);
    fw_walk_free(ground);
}

/* However small it is: half a square metre. */
static void walk_in_a_pen_is_known(void **state)
{
    (void)state;
    struct drawn drawn = {.rings = 0};
    put_box(&drawn, 0, 0, 1, 0.5);
    const struct fw_walk_sums sums = walk_of(&drawn, (struct fw_point){0, 0});
    assert_true(sums.known);
    assert_near(sums.mean_m, corner_mean_m(1, 0.5), 1e-12);
}

/* Of a disc, two thirds of its radius; round n places n discs that share the
 * area. A square from its middle is farther: (sqrt 2 + asinh 1) / 6 of its
 * side. */
static void no_ground_has_a_shorter_mean_way_than_discs(void **state)
{
    (void)state;
    const double pi = acos(-1.0);
    assert_near(fw_walk_bound_m(pi * 30 * 30, 1), 20, 1e-12);
    assert_near(fw_walk_bound_m(4 * pi * 30 * 30, 4), 20, 1e-12);
    assert_true(fw_walk_bound_m(100, 0) == HUGE_VAL);
    const double square_m = 100 * (sqrt(2.0) + asinh(1.0)) / 6;
    assert_true(fw_walk_bound_m(10000, 1) < square_m);
    assert_relative(fw_walk_bound_m(10000, 1), square_m, 0.02);
}

/* ---- several cells ---- */

static void strips(struct drawn *drawn, size_t count)
{
    *drawn = (struct drawn){.rings = 0};
    for (size_t k = 0; k < count; k++)
        put_box(drawn, 50 * (double)k, 0, 50 * (double)(k + 1), 100);
    for (size_t k = 1; k < count; k++)
        put_line(drawn, 50 * (double)k, 0, 50 * (double)k, 100);
}

static void open_ground_is_as_if_it_were_whole(void **state)
{
    (void)state;
    struct drawn drawn;
    strips(&drawn, 4);
    struct fw_walk_ground *ground = ground_of(&drawn);
    for (size_t l = 0; l < 3; l++)
        fw_walk_stand(ground, l, false);
    /* The last strip is the whole less the first three. */
    const struct fw_walk_sums sums =
        walk_in(ground, (struct fw_point){0, 0}, 0, 3);
    assert_near(sums.mean_m,
                4 * corner_mean_m(200, 100) - 3 * corner_mean_m(150, 100),
                1e-9);
    assert_near(sums.most_m, sqrt(200 * 200 + 100 * 100), 1e-9);
    /* With the second line up nothing beyond it is reached. */
    fw_walk_stand(ground, 1, true);
    assert_true(walk_in(ground, (struct fw_point){0, 0}, 0, 1).known);
    assert_false(walk_in(ground, (struct fw_point){0, 0}, 0, 2).known);
    fw_walk_free(ground);
}

static void way_through_an_opening_bends_at_its_ends(void **state)
{
    (void)state;
    struct drawn drawn;
    strips(&drawn, 2);
    struct fw_walk_ground *ground = ground_of(&drawn);
    for (int turn = 0; turn < 2; turn++) { /* it can be opened again */
        assert_int_equal(fw_walk_open(ground, 0, 90, 96, NULL), FW_OK);
        assert_true(walk_in(ground, (struct fw_point){0, 0}, 0, 1).known);
        assert_near(fw_walk_at(ground, 1, (struct fw_point){100, 0}),
                    2 * sqrt(50 * 50 + 90 * 90), 1e-9);
        /* Straight through, between its ends. */
        assert_near(fw_walk_at(ground, 1, (struct fw_point){52, 95}),
                    sqrt(52 * 52 + 95 * 95), 1e-9);
        assert_near(fw_walk_at(ground, 1, (struct fw_point){51, 100}),
                    sqrt(50 * 50 + 96 * 96) + sqrt(1 + 4 * 4), 1e-9);
        fw_walk_shut(ground);
        assert_false(walk_in(ground, (struct fw_point){0, 0}, 0, 1).known);
    }
    fw_walk_free(ground);
}

static void trough_under_a_line_serves_both_sides(void **state)
{
    (void)state;
    struct drawn drawn;
    const struct fw_point water = {50, 40};
    const size_t both[] = {0, 1};
    struct fw_walk_sums sums[2];
    strips(&drawn, 2);
    struct fw_walk_ground *ground = ground_of(&drawn);
    assert_int_equal(fw_walk_search(ground,
                                    &(struct fw_walk_start){water, both, 2, 1},
                                    NULL),
                     FW_OK);
    for (size_t k = 0; k < 2; k++)
        assert_int_equal(fw_walk_sum(ground, k, &sums[k], NULL), FW_OK);
    const double wanted =
        (40 * corner_mean_m(50, 40) + 60 * corner_mean_m(50, 60)) / 100;
    assert_near(sums[0].mean_m, wanted, 1e-9);
    assert_near(sums[1].mean_m, wanted, 1e-9);
    fw_walk_free(ground);
}

/* Half a metre outside, through the fence. */
static void water_within_reach_is_reached(void **state)
{
    (void)state;
    struct drawn drawn = {.rings = 0};
    put_box(&drawn, 0, 0, 300, 200);
    const struct fw_walk_sums near =
        walk_of(&drawn, (struct fw_point){150, -0.5});
    assert_near(near.mean_m, 134.738855104 + 0.5, 1e-8);
    assert_near(near.most_m, 250.5, 1e-9);
    assert_false(walk_of(&drawn, (struct fw_point){150, -1.5}).known);
}

/* From the far corner of an L's arm, about its inner corner. */
static void the_longest_way_is_told_corner_by_corner(void **state)
{
    (void)state;
    const struct fw_point ring[] = {{0, 0},     {300, 0},   {300, 100},
                                    {100, 100}, {100, 250}, {0, 250}};
    const struct fw_point wanted[] = {{0, 250}, {100, 100}, {290, 5}};
    struct drawn drawn = {.rings = 0};
    struct fw_point *way;
    size_t count, at = 0;
    put_ring(&drawn, ring, 6, true);
    struct fw_walk_ground *ground = ground_of(&drawn);
    const struct fw_walk_sums sums = walk_in(ground, wanted[2], 0, 0);
    assert_near(sums.most_m, hypot(100, 150) + hypot(190, 95), 1e-9);
    assert_int_equal(fw_walk_way(ground, 0, wanted[0], &way, &count, NULL),
                     FW_OK);
    for (size_t i = 0; i < count; i++) {
        at += i > 0 && hypot(way[i].x_m - way[i - 1].x_m,
                             way[i].y_m - way[i - 1].y_m) > 0;
        assert_true(at < 3);
        assert_near(way[i].x_m, wanted[at].x_m, 1e-9);
        assert_near(way[i].y_m, wanted[at].y_m, 1e-9);
    }
    assert_int_equal(at, 2);
    fw_free(way);
    assert_int_equal(
        fw_walk_way(ground, 0, (struct fw_point){200, 200}, &way, &count, NULL),
        FW_OK);
    assert_int_equal(count, 0);
    fw_walk_free(ground);
}

/* ---- ground that is hard to cut ---- */

static void ground_that_encloses_nothing_is_not_known(void **state)
{
    (void)state;
    const struct fw_point flat[] = {{0, 0}, {50, 0}, {100, 0}};
    struct drawn drawn = {.rings = 0};
    put_ring(&drawn, flat, 3, true);
    assert_false(walk_of(&drawn, (struct fw_point){10, 0}).known);
}

/* A pond that touches the edge in a point, and one that touches the pond. */
static void ponds_may_touch(void **state)
{
    (void)state;
    const struct fw_point first[] = {{50, 0}, {40, 20}, {60, 20}};
    const struct fw_point second[] = {{50, 40}, {70, 50}, {60, 20}};
    struct drawn drawn = {.rings = 0};
    const struct fw_point box[] = {
        {0, 0}, {50, 0}, {100, 0}, {100, 100}, {0, 100}};
    put_ring(&drawn, box, 5, true);
    put_ring(&drawn, first, 3, false);
    put_ring(&drawn, second, 3, false);
    struct fw_walk_ground *ground = ground_of(&drawn);
    assert_true(walk_in(ground, (struct fw_point){0, 0}, 0, 0).known);
    /* Between the two there is no way. */
    assert_near(fw_walk_at(ground, 0, (struct fw_point){100, 0}),
                sqrt(50 * 50 + 40 * 40) + sqrt(20 * 20 + 10 * 10) +
                    sqrt(30 * 30 + 50 * 50),
                1e-9);
    fw_walk_free(ground);
}

/* A comb of many teeth, with corners on straight sides. */
static void comb_is_cut_to_the_last_tooth(void **state)
{
    (void)state;
    struct drawn drawn = {.rings = 0};
    struct fw_point ring[most_points];
    size_t count = 0;
    const size_t teeth = 20;
    ring[count++] = (struct fw_point){0, 0};
    for (size_t k = 1; k <= teeth; k++)
        ring[count++] = (struct fw_point){2 * (double)k - 1, 0};
    for (size_t k = teeth; k-- > 0;) {
        const double x = 2 * (double)k;
        ring[count++] = (struct fw_point){x + 1, 100};
        ring[count++] = (struct fw_point){x, 100};
        if (k > 0) {
            ring[count++] = (struct fw_point){x, 10};
            ring[count++] = (struct fw_point){x - 1, 10};
        }
    }
    put_ring(&drawn, ring, count, true);
    struct fw_walk_ground *ground = ground_of(&drawn);
    const struct fw_walk_sums sums =
        walk_in(ground, (struct fw_point){0, 0}, 0, 0);
    assert_true(sums.known);
    assert_near(sums.covered, 1, 1e-12);
    /* Straight to the last tooth's near corner, and up along its side. */
    assert_near(fw_walk_at(ground, 0, (struct fw_point){38, 100}),
                sqrt(38 * 38 + 10 * 10) + 90, 1e-9);
    fw_walk_free(ground);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(walk_in_a_rectangle_has_its_closed_form),
        cmocka_unit_test(star_seen_whole_needs_no_triangles),
        cmocka_unit_test(walk_in_an_l_goes_round_its_corner),
        cmocka_unit_test(walk_round_a_pond_takes_the_shorter_side),
        cmocka_unit_test(walk_in_a_pen_is_known),
        cmocka_unit_test(no_ground_has_a_shorter_mean_way_than_discs),
        cmocka_unit_test(open_ground_is_as_if_it_were_whole),
        cmocka_unit_test(way_through_an_opening_bends_at_its_ends),
        cmocka_unit_test(trough_under_a_line_serves_both_sides),
        cmocka_unit_test(water_within_reach_is_reached),
        cmocka_unit_test(the_longest_way_is_told_corner_by_corner),
        cmocka_unit_test(ground_that_encloses_nothing_is_not_known),
        cmocka_unit_test(ponds_may_touch),
        cmocka_unit_test(comb_is_cut_to_the_last_tooth),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
