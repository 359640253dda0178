#include "table.h"
#include "water/water.h"
#include <foldwright/figures.h>

#include <stdlib.h>
#include <string.h>

static const double gallon_l = 3.785411784;

static struct fw_walk walk_of(const struct fw_point *ring, size_t count,
                              struct fw_point water)
{
    const size_t start[] = {0, count};
    return fw_water_walk(ring, start, 1, water);
}

/* ---- hauling ---- */

static void trips_agree_with_the_table(void **state)
{
    (void)state;
    struct table table;
    table_open(&table, "water_trips.tsv");
    while (table_next(&table, 5)) {
        int trips = -1;
        assert_int_equal(fw_water_trips(table_number(&table, 0) *
                                            table_number(&table, 1) * gallon_l,
                                        table_number(&table, 2) * gallon_l,
                                        &trips, NULL),
                         FW_OK);
        assert_near(trips, table_number(&table, 3), 0);
    }
    table_close(&table);
}

static void tank_without_room_is_refused(void **state)
{
    (void)state;
    int trips = 99;
    struct fw_error err = {0};
    assert_int_equal(fw_water_trips(500, 0, &trips, &err), FW_EINPUT);
    assert_non_null(strstr(err.text, "tank"));
    assert_int_equal(fw_water_trips(500, (double)NAN, &trips, &err), FW_EINPUT);
    assert_int_equal(fw_water_trips(-1, 500, &trips, &err), FW_EINPUT);
    assert_int_equal(fw_water_trips((double)NAN, 500, &trips, &err), FW_EINPUT);
    assert_int_equal(fw_water_trips(1e9, 0.5, &trips, &err), FW_EINPUT);
    assert_int_equal(trips, 99);
}

/* ---- walking ---- */

static void walk_in_a_rectangle_has_its_closed_form(void **state)
{
    (void)state;
    struct table table;
    table_open(&table, "water_walk.tsv");
    while (table_next(&table, 7)) {
        const double a = table_number(&table, 0), b = table_number(&table, 1);
        const struct fw_point ring[] = {{0, 0}, {a, 0}, {a, b}, {0, b}};
        const struct fw_walk walk =
            walk_of(ring, 4,
                    (struct fw_point){table_number(&table, 2),
                                      table_number(&table, 3)});
        assert_true(walk.known);
        assert_near(walk.mean_m, table_number(&table, 4), 1e-8);
        assert_near(walk.longest_m, table_number(&table, 5), 1e-8);
    }
    table_close(&table);
}

static void walk_round_a_corner_is_not_known(void **state)
{
    (void)state;
    const struct fw_point ring[] = {{0, 0},   {90, 0},  {90, 30},
                                    {30, 30}, {30, 90}, {0, 90}};
    assert_false(walk_of(ring, 6, (struct fw_point){80, 10}).known);
    assert_true(walk_of(ring, 6, (struct fw_point){15, 15}).known);
}

static void far_water_is_told_with_its_source(void **state)
{
    (void)state;
    assert_null(fw_water_distance_word(0));
    assert_null(fw_water_distance_word(250));
    assert_null(fw_water_distance_word((double)NAN));
    /* 800 ft = 244 m: Univ. of Kentucky, West Virginia Univ., Alberta;
     * 250 m: Teagasc; 600 m in summer, sheep: DPIRD, AgMemo, December 2018 */
    assert_non_null(strstr(fw_water_distance_word(251), "Kentucky"));
    assert_non_null(strstr(fw_water_distance_word(600), "250 m"));
    assert_non_null(strstr(fw_water_distance_word(601), "DPIRD"));
    /* The texts have the figures and sources of the register. */
    const char *const names[] = {"water.far", "water.too-far"};
    for (size_t i = 0; i < 2; i++) {
        const struct fw_figure *row = fw_figures_find(names[i]);
        const char *text = fw_water_distance_word(row->value + 1);
        char over[32];
        snprintf(over, sizeof over, "over %g m", row->value);
        assert_non_null(strstr(text, over));
        assert_non_null(strstr(text, row->source));
    }
}

/* ---- the trough's place ---- */

static double clear_m(const struct fw_point *ring, size_t n, struct fw_point p)
{
    double least = 1e300;
    for (size_t i = 0; i < n; i++) {
        const struct fw_point a = ring[i], b = ring[(i + 1) % n];
        const double ux = b.x_m - a.x_m, uy = b.y_m - a.y_m;
        double t =
            ((p.x_m - a.x_m) * ux + (p.y_m - a.y_m) * uy) / (ux * ux + uy * uy);
        t = fmin(1, fmax(0, t));
        least =
            fmin(least, hypot(p.x_m - a.x_m - t * ux, p.y_m - a.y_m - t * uy));
    }
    return least;
}

/* Winding number by angles: another way than the library's. */
static bool inside(const struct fw_point *ring, size_t n, struct fw_point p)
{
    double turned = 0;
    for (size_t i = 0; i < n; i++) {
        const double ux = ring[i].x_m - p.x_m, uy = ring[i].y_m - p.y_m;
        const double vx = ring[(i + 1) % n].x_m - p.x_m;
        const double vy = ring[(i + 1) % n].y_m - p.y_m;
        turned += atan2(ux * vy - uy * vx, ux * vx + uy * vy);
    }
    return fabs(turned) > 3;
}

static struct fw_point placed(const struct fw_point *ring, size_t n,
                              struct fw_point from,
                              const struct fw_point *opening, double keep_m)
{
    struct fw_point got = {0, 0};
    struct fw_error err = {0};
    const size_t start[] = {0, n};
    const struct fw_water_wish wish = {
        .from = from, .opening = opening, .keep_m = keep_m};
    if (fw_water_place(ring, start, 1, &wish, &got, &err))
        fail_msg("%s", err.text);
    if (!inside(ring, n, got))
        fail_msg("trough at %g, %g lies outside", got.x_m, got.y_m);
    return got;
}

static void trough_keeps_off_fence_and_opening(void **state)
{
    (void)state;
    const struct fw_point ring[] = {{0, 0}, {60, 0}, {60, 40}, {0, 40}};
    const struct fw_point opening = {2.5, 0};
    const struct fw_point got =
        placed(ring, 4, (struct fw_point){0, 0}, &opening, 10);
    assert_true(clear_m(ring, 4, got) >= 10);
    assert_true(hypot(got.x_m - 2.5, got.y_m) >= 10);
    /* On the side that the vehicle comes from. */
    assert_true(got.x_m < 30);
    assert_true(hypot(got.x_m, got.y_m) < 30);
}

static void trough_comes_as_near_as_the_vehicle(void **state)
{
    (void)state;
    const struct fw_point ring[] = {{0, 0}, {200, 0}, {200, 50}, {0, 50}};
    const struct fw_point west =
        placed(ring, 4, (struct fw_point){-50, 25}, NULL, 10);
    const struct fw_point east =
        placed(ring, 4, (struct fw_point){250, 25}, NULL, 10);
    assert_near(west.x_m, 15, 15);
    assert_near(west.x_m, 200 - east.x_m, 1e-9);
}

static void trough_sees_the_whole_paddock_where_one_place_does(void **state)
{
    (void)state;
    /* The whole of an L is seen from its elbow only; the vehicle comes from
     * the end of an arm. */
    const struct fw_point ring[] = {{0, 0},   {150, 0},  {150, 60},
                                    {60, 60}, {60, 150}, {0, 150}};
    const struct fw_point got =
        placed(ring, 6, (struct fw_point){160, 30}, NULL, 10);
    assert_true(got.x_m <= 60 && got.y_m <= 60);
    assert_true(walk_of(ring, 6, got).known);
}

static void
trough_of_a_u_shape_is_placed_though_no_place_sees_it_all(void **state)
{
    (void)state;
    const struct fw_point ring[] = {{0, 0},   {90, 0},  {90, 80}, {60, 80},
                                    {60, 30}, {30, 30}, {30, 80}, {0, 80}};
    const struct fw_point got =
        placed(ring, 8, (struct fw_point){15, 85}, NULL, 10);
    assert_true(clear_m(ring, 8, got) >= 10);
}

static void thin_strip_gets_its_trough_near_the_middle_line(void **state)
{
    (void)state;
    const double turn = 0.7;
    struct fw_point ring[] = {{0, 0}, {200, 0}, {200, 4}, {0, 4}};
    for (int i = 0; i < 4; i++) {
        const struct fw_point p = ring[i];
        ring[i].x_m = p.x_m * cos(turn) - p.y_m * sin(turn);
        ring[i].y_m = p.x_m * sin(turn) + p.y_m * cos(turn);
    }
    const struct fw_point got =
        placed(ring, 4, (struct fw_point){0, 0}, NULL, 10);
    assert_true(clear_m(ring, 4, got) >= 1.8 - 1e-9);
}

static void sliver_and_tiny_paddock_get_a_trough_inside(void **state)
{
    (void)state;
    /* Thinner than the grid's rows are apart, off the middle line. */
    const struct fw_point sliver[] = {
        {0, 0}, {100, 100}, {200, 0}, {100, 100.001}};
    (void)placed(sliver, 4, (struct fw_point){0, 0}, NULL, 10);
    const struct fw_point tiny[] = {{0, 0}, {0.02, 0}, {0.01, 0.02}};
    (void)placed(tiny, 3, (struct fw_point){5, 5}, NULL, 10);
}

static double uniform(unsigned long long *seed)
{
    *seed = *seed * 6364136223846793005ULL + 1442695040888963407ULL;
    return (double)(*seed >> 11) / 9007199254740992.0;
}

/* A star about the origin: simple whatever the radii are. */
static size_t random_star(unsigned long long *seed, struct fw_point *ring)
{
    const size_t n = 3 + (size_t)(uniform(seed) * 12);
    for (size_t i = 0; i < n; i++) {
        const double angle = 2 * acos(-1.0) * (double)i / (double)n;
        const double radius = 5 + 100 * uniform(seed);
        ring[i] = (struct fw_point){radius * cos(angle), radius * sin(angle)};
    }
    return n;
}

static void trough_of_any_paddock_is_inside_and_clear(void **state)
{
    (void)state;
    unsigned long long seed = 4711;
    const char *given = getenv("FW_SEED");
    if (given)
        seed = strtoull(given, NULL, 10);
    print_message("# seed %llu\n", seed);
    for (int round = 0; round < 300; round++) {
        struct fw_point ring[16];
        const size_t n = random_star(&seed, ring);
        const struct fw_point from = {200 * uniform(&seed) - 100,
                                      200 * uniform(&seed) - 100};
        const struct fw_point got = placed(ring, n, from, &ring[0], 8);
        const struct fw_point again = placed(ring, n, from, &ring[0], 8);
        assert_near(got.x_m, again.x_m, 0);
        assert_near(got.y_m, again.y_m, 0);

        /* Wherever a coarse look finds plenty of room, so does the search. */
        double best = 0;
        for (int k = 0; k < 2000; k++) {
            const struct fw_point p = {210 * uniform(&seed) - 105,
                                       210 * uniform(&seed) - 105};
            if (inside(ring, n, p))
                best = fmax(best, clear_m(ring, n, p));
        }
        if (best > 20 && !(clear_m(ring, n, got) >= 8))
            fail_msg("round %d: %g m clear where %g m are to be had", round,
                     clear_m(ring, n, got), best);
    }
}

/* ---- ponds ---- */

struct lake { /* a paddock and its ponds */
    struct fw_point points[64];
    size_t start[6], rings;
};

static void add_ring(struct lake *lake, const struct fw_point *ring, size_t n,
                     struct fw_point at, double scale)
{
    const size_t from = lake->start[lake->rings];
    for (size_t i = 0; i < n; i++)
        lake->points[from + i] = (struct fw_point){
            at.x_m + scale * ring[i].x_m, at.y_m + scale * ring[i].y_m};
    lake->start[++lake->rings] = from + n;
}

/* By winding angles, ring for ring: an odd number of times round is inside. */
static bool in_lake(const struct lake *lake, struct fw_point p)
{
    size_t times = 0;
    for (size_t r = 0; r < lake->rings; r++)
        times += inside(lake->points + lake->start[r],
                        lake->start[r + 1] - lake->start[r], p);
    return times % 2 == 1;
}

static double lake_clear_m(const struct lake *lake, struct fw_point p)
{
    double least = 1e300;
    for (size_t r = 0; r < lake->rings; r++)
        least = fmin(least, clear_m(lake->points + lake->start[r],
                                    lake->start[r + 1] - lake->start[r], p));
    return least;
}

static struct fw_point placed_by(const struct lake *lake, struct fw_point from,
                                 double keep_m)
{
    struct fw_point got = {0, 0};
    struct fw_error err = {0};
    const struct fw_water_wish wish = {.from = from, .keep_m = keep_m};
    if (fw_water_place(lake->points, lake->start, lake->rings, &wish, &got,
                       &err))
        fail_msg("%s", err.text);
    if (!in_lake(lake, got))
        fail_msg("trough at %g, %g lies outside or in a pond", got.x_m,
                 got.y_m);
    return got;
}

static bool soft_in_the_west(const void *of, struct fw_point at)
{
    return at.x_m < *(const double *)of;
}

/* The vehicle comes from the west, and it is soft there. */
static void trough_stands_on_firm_ground_where_there_is_any(void **state)
{
    (void)state;
    const struct fw_point ring[] = {{0, 0}, {90, 0}, {90, 40}, {0, 40}};
    const size_t start[] = {0, 4};
    double soft_m = 45;
    struct fw_point firm, all_soft, dry;
    struct fw_water_wish wish = {.from = {0, 20}, .keep_m = 10};
    assert_int_equal(fw_water_place(ring, start, 1, &wish, &dry, NULL), FW_OK);
    wish.is_bad = soft_in_the_west;
    wish.of = &soft_m;
    assert_int_equal(fw_water_place(ring, start, 1, &wish, &firm, NULL), FW_OK);
    assert_true(dry.x_m < 30);
    assert_true(firm.x_m >= soft_m && firm.x_m < soft_m + 20);
    soft_m = 85; /* nearer to the fence than may be */
    assert_int_equal(fw_water_place(ring, start, 1, &wish, &all_soft, NULL),
                     FW_OK);
    assert_true(all_soft.x_m == dry.x_m && all_soft.y_m == dry.y_m);
}

static const struct fw_point square[] = {{-1, -1}, {1, -1}, {1, 1}, {-1, 1}};

static void trough_keeps_off_a_pond_in_the_very_middle(void **state)
{
    (void)state;
    const struct fw_point middle = {0, 0};
    for (double pond_m = 1; pond_m < 60; pond_m += 3) {
        struct lake lake = {.rings = 0};
        add_ring(&lake, square, 4, middle, 60);
        add_ring(&lake, square, 4, middle, pond_m);
        const struct fw_point got = placed_by(&lake, middle, 10);
        /* The corners of the ring of ground are the widest places: a disc of
         * radius r touches the pond's corner and two sides. */
        const double widest_m = (60 - pond_m) * sqrt(2) / (1 + sqrt(2));
        assert_true(lake_clear_m(&lake, got) >=
                    fmin(10, 0.8 * widest_m) - 1e-9);
        assert_false(fw_water_walk(lake.points, lake.start, 2, got).known);
    }
}

static void trough_of_a_paddock_with_ponds_is_inside_and_clear(void **state)
{
    (void)state;
    unsigned long long seed = 815;
    const char *given = getenv("FW_SEED");
    if (given)
        seed = strtoull(given, NULL, 10);
    print_message("# seed %llu\n", seed);
    for (int round = 0; round < 300; round++) {
        struct fw_point ring[16];
        struct lake lake = {.rings = 0};
        const struct fw_point middle = {0, 0};
        size_t n = random_star(&seed, ring);
        add_ring(&lake, ring, n, middle, 1);
        /* A pond that reaches over the edge or into another one: what is
         * gone round an odd number of times is paddock. */
        for (int k = (int)(uniform(&seed) * 4); k > 0; k--) {
            const struct fw_point at = {60 * uniform(&seed) - 30,
                                        60 * uniform(&seed) - 30};
            n = random_star(&seed, ring);
            add_ring(&lake, ring, n > 9 ? 9 : n, at, 0.02);
        }
        const struct fw_point from = {200 * uniform(&seed) - 100,
                                      200 * uniform(&seed) - 100};
        const struct fw_point got = placed_by(&lake, from, 8);
        double best = 0;
        for (int k = 0; k < 2000; k++) {
            const struct fw_point p = {210 * uniform(&seed) - 105,
                                       210 * uniform(&seed) - 105};
            if (in_lake(&lake, p))
                best = fmax(best, lake_clear_m(&lake, p));
        }
        if (lake_clear_m(&lake, got) < (lake.rings > 1 ? fmin(8, 0.8 * best)
                                        : best > 20    ? 8
                                                       : 0))
            fail_msg("round %d: %g m clear where %g m are to be had", round,
                     lake_clear_m(&lake, got), best);
    }
}

static void place_in_nothing_is_refused(void **state)
{
    (void)state;
    const struct fw_point ring[] = {{0, 0}, {60, 0}, {60, 40}, {0, 40}};
    const struct fw_point flat[] = {{0, 0}, {10, 0}, {20, 0}};
    const struct fw_point lost[] = {{0, 0}, {60, 0}, {(double)NAN, 40}};
    struct fw_water_wish wish = {.keep_m = 10};
    const size_t of_2[] = {0, 2}, of_3[] = {0, 3}, of_4[] = {0, 4};
    struct fw_point out = {7, 7};
    assert_int_equal(fw_water_place(ring, of_2, 1, &wish, &out, NULL),
                     FW_EFAULT);
    assert_int_equal(fw_water_place(flat, of_3, 1, &wish, &out, NULL),
                     FW_EFAULT);
    assert_int_equal(fw_water_place(lost, of_3, 1, &wish, &out, NULL),
                     FW_EFAULT);
    wish.keep_m = -1;
    assert_int_equal(fw_water_place(ring, of_4, 1, &wish, &out, NULL),
                     FW_EINPUT);
    wish.keep_m = (double)NAN;
    assert_int_equal(fw_water_place(ring, of_4, 1, &wish, &out, NULL),
                     FW_EINPUT);
    assert_near(out.x_m, 7, 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(trough_stands_on_firm_ground_where_there_is_any),
        cmocka_unit_test(trips_agree_with_the_table),
        cmocka_unit_test(tank_without_room_is_refused),
        cmocka_unit_test(walk_in_a_rectangle_has_its_closed_form),
        cmocka_unit_test(walk_round_a_corner_is_not_known),
        cmocka_unit_test(far_water_is_told_with_its_source),
        cmocka_unit_test(trough_keeps_off_fence_and_opening),
        cmocka_unit_test(trough_comes_as_near_as_the_vehicle),
        cmocka_unit_test(trough_sees_the_whole_paddock_where_one_place_does),
        cmocka_unit_test(
            trough_of_a_u_shape_is_placed_though_no_place_sees_it_all),
        cmocka_unit_test(thin_strip_gets_its_trough_near_the_middle_line),
        cmocka_unit_test(sliver_and_tiny_paddock_get_a_trough_inside),
        cmocka_unit_test(trough_of_any_paddock_is_inside_and_clear),
        cmocka_unit_test(trough_keeps_off_a_pond_in_the_very_middle),
        cmocka_unit_test(trough_of_a_paddock_with_ponds_is_inside_and_clear),
        cmocka_unit_test(place_in_nothing_is_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
