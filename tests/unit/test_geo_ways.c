/* Necks and rooms with closed forms, each turned, mirrored, run backwards and
 * begun at another corner. */
#include "test.h"

#include "geo/ways.h"
#include <stdlib.h>
#include <string.h>

#define COUNT(array) (sizeof(array) / sizeof *(array))

enum { most_points = 64, most_rings = 4, ways_round = 24 };

struct land {
    struct fw_point points[most_points];
    size_t ring_start[most_rings + 1];
    size_t ring_count;
};

static void add_ring(struct land *land, const struct fw_point *ring,
                     size_t count)
{
    const size_t start = land->ring_start[land->ring_count];
    memcpy(land->points + start, ring, count * sizeof *ring);
    land->ring_start[++land->ring_count] = start + count;
}

#define LAND(...)                                                              \
    land_of((const struct fw_point[]){__VA_ARGS__},                            \
            COUNT(((const struct fw_point[]){__VA_ARGS__})))

static struct land land_of(const struct fw_point *ring, size_t count)
{
    struct land land = {.ring_count = 0};
    add_ring(&land, ring, count);
    return land;
}

static void add_box(struct land *land, double x, double y, double a, double b)
{
    const struct fw_point ring[] = {
        {x, y}, {x, y + b}, {x + a, y + b}, {x + a, y}};
    add_ring(land, ring, 4);
}

static struct land box_of(double a, double b)
{
    return LAND({0, 0}, {a, 0}, {a, b}, {0, b});
}

/* Way 0 leaves it as it is; each way turns and shifts it, half of them mirror
 * it, a third each run rings backwards or begin them elsewhere. */
static struct fw_point seen(struct fw_point p, int way)
{
    const double turn = 0.7 * way, x = way & 1 ? -p.x_m : p.x_m;
    return (struct fw_point){x * cos(turn) - p.y_m * sin(turn) + 300.0 * way,
                             x * sin(turn) + p.y_m * cos(turn) -
                                 170.0 * (way % 5)};
}

static struct land land_seen(const struct land *land, int way)
{
    struct land out = *land;
    for (size_t r = 0; r < land->ring_count; r++) {
        const size_t first = land->ring_start[r];
        const size_t count = land->ring_start[r + 1] - first;
        for (size_t i = 0; i < count; i++) {
            const size_t k = way % 3 == 1   ? count - 1 - i
                             : way % 3 == 2 ? (i + (size_t)way) % count
                                            : i;
            out.points[first + k] = seen(land->points[first + i], way);
        }
    }
    return out;
}

static struct fw_neck neck_of(const struct land *land, double wide_m)
{
    struct fw_neck neck = {.found = true};
    struct fw_error err = {0};
    if (fw_ways_neck(land->points, land->ring_start, land->ring_count, wide_m,
                     &neck, &err))
        fail_msg("%s", err.text);
    return neck;
}

static void assert_none(struct land land, double wide_m, bool fits)
{
    for (int way = 0; way < ways_round; way++) {
        const struct land here = land_seen(&land, way);
        const struct fw_neck neck = neck_of(&here, wide_m);
        if (neck.found)
            fail_msg("way %d: a neck of %g m at %g, %g", way, neck.width_m,
                     neck.a.x_m, neck.a.y_m);
        assert_int_equal(neck.fits, fits);
    }
}

/* The smaller side is at least least_m2 and at most most_m2. */
static void assert_neck(struct land land, double wide_m, double width_m,
                        double least_m2, double most_m2)
{
    for (int way = 0; way < ways_round; way++) {
        const struct land here = land_seen(&land, way);
        const struct fw_neck neck = neck_of(&here, wide_m);
        if (!neck.found || !neck.fits)
            fail_msg("way %d: no neck", way);
        assert_near(neck.width_m, width_m, 1e-9);
        assert_near(hypot(neck.a.x_m - neck.b.x_m, neck.a.y_m - neck.b.y_m),
                    width_m, 1e-9);
        if (neck.beyond_m2 < least_m2 - 1e-6 || neck.beyond_m2 > most_m2 + 1e-6)
            fail_msg("way %d: %.9g m2 beyond, not %g to %g", way,
                     neck.beyond_m2, least_m2, most_m2);
    }
}

/* A square of 50 m and one of 40 m with 10 m of corridor between them. */
static struct land two_squares(double corridor_m)
{
    const double low = 20 - corridor_m / 2, high = low + corridor_m;
    return LAND({0, 0}, {50, 0}, {50, low}, {60, low}, {60, 0}, {100, 0},
                {100, 40}, {60, 40}, {60, high}, {50, high}, {50, 50}, {0, 50});
}

/* ---- necks ---- */

static void squares_with_a_corridor_have_a_neck_where_it_is_narrow(void **state)
{
    (void)state;
    assert_neck(two_squares(0.02), 3, 0.02, 1600, 1600.2);
    assert_neck(two_squares(2.9), 3, 2.9, 1600, 1629);
    assert_none(two_squares(3), 3, true);
    assert_none(two_squares(3.1), 3, true);
    assert_neck(two_squares(3.1), 3.2, 3.1, 1600, 1631);
}

static void corridor_along_a_wall_has_one_too(void **state)
{
    (void)state;
    /* The foot of the perpendicular, not a corner, is the other end. */
    assert_neck(LAND({0, 0}, {100, 0}, {100, 40}, {60, 40}, {60, 2}, {50, 2},
                     {50, 50}, {0, 50}),
                3, 2, 1600, 1620);
    /* A corner of the straight wall just where the foot is. */
    assert_neck(LAND({0, 0}, {50, 0}, {60, 0}, {100, 0}, {100, 40}, {60, 40},
                     {60, 2}, {50, 2}, {50, 50}, {0, 50}),
                3, 2, 1600, 1620);
    /* Corners as near to it as a survey has them. */
    assert_neck(LAND({0, 0}, {50 - 1e-5, 0}, {50, 0}, {50 + 1e-5, 0}, {100, 0},
                     {100, 40}, {60, 40}, {60, 2}, {50 + 1e-5, 2}, {50, 2},
                     {50, 50}, {0, 50}),
                3, 2, 1600, 1620);
}

static void narrow_end_of_a_wedge_is_the_neck(void **state)
{
    (void)state;
    /* The corridor goes from 2.5 m to 1.5 m. */
    assert_neck(LAND({0, 0}, {100, 0}, {100, 40}, {60, 40}, {60, 1.5},
                     {50, 2.5}, {50, 50}, {0, 50}),
                3, 1.5, 1600, 1600);
}

static void slanted_edge_is_met_square(void **state)
{
    (void)state;
    /* The corner (30, 10) is 1.6 m from the line 4 y = 3 x - 58, and jams the
     * way between a triangle and the rest. */
    const double c = 30, d = 10;
    assert_near((3 * c - 4 * d - 58) / 5, -1.6, 1e-12);
    assert_neck(
        LAND({18, -1}, {62, 32}, {0, 32}, {0, 20}, {30, 10}, {0, 0}, {0, -1}),
        2, 1.6, 126.96, 126.96);
}

static void plain_shapes_have_none(void **state)
{
    (void)state;
    assert_none(box_of(60, 40), 3, true);
    assert_none(LAND({0, 0}, {40, 0}, {0, 30}), 3, true);
    assert_none(LAND({0, 0}, {90, 0}, {90, 30}, {30, 30}, {30, 90}, {0, 90}), 3,
                true);
    assert_none(LAND({0, 0}, {90, 0}, {90, 80}, {60, 80}, {60, 30}, {30, 30},
                     {30, 80}, {0, 80}),
                3, true);
}

static void u_with_a_thin_bottom_has_one(void **state)
{
    (void)state;
    assert_neck(LAND({0, 0}, {90, 0}, {90, 80}, {60, 80}, {60, 1}, {30, 1},
                     {30, 80}, {0, 80}),
                3, 1, 30 * 80, 30 * 80 + 30);
    /* The notch between the arms lies outside and parts nothing. */
    assert_none(LAND({0, 0}, {61, 0}, {61, 80}, {31, 80}, {31, 30}, {30, 30},
                     {30, 80}, {0, 80}),
                3, true);
}

static void bottle_has_a_neck_when_its_mouth_has_room(void **state)
{
    (void)state;
    assert_none(LAND({0, 0}, {40, 0}, {40, 60}, {21, 70}, {21, 80}, {19, 80},
                     {19, 70}, {0, 60}),
                3, true);
    assert_neck(LAND({0, 0}, {40, 0}, {40, 60}, {21, 70}, {21, 80}, {30, 80},
                     {30, 92}, {10, 92}, {10, 80}, {19, 80}, {19, 70}, {0, 60}),
                3, 2, 240, 260);
}

static void waist_of_an_hourglass_is_the_neck(void **state)
{
    (void)state;
    assert_neck(LAND({0, 0}, {40, 0}, {21, 30}, {40, 50}, {0, 50}, {19, 30}), 3,
                2, 21 * 20, 21 * 20);
}

static void narrowest_of_several_is_told(void **state)
{
    (void)state;
    /* Three rooms in a row, 20 m wide, 40 m high; doors of 2 and 1 m. */
    assert_neck(LAND({0, 0}, {20, 0}, {20, 19}, {21, 19}, {21, 0}, {41, 0},
                     {41, 19}, {42, 19}, {42, 0}, {62, 0}, {62, 40}, {42, 40},
                     {42, 20}, {41, 20}, {41, 40}, {21, 40}, {21, 21}, {20, 21},
                     {20, 40}, {0, 40}),
                3, 1, 800, 801);
}

static void nook_is_no_part(void **state)
{
    (void)state;
    /* 5 m x 5 m and 12 m x 12 m behind a door of 2 m and a wall of 1 m. */
    assert_none(LAND({0, 0}, {100, 0}, {100, 40}, {101, 40}, {101, 38},
                     {106, 38}, {106, 43}, {101, 43}, {101, 42}, {100, 42},
                     {100, 100}, {0, 100}),
                3, true);
    assert_neck(LAND({0, 0}, {100, 0}, {100, 40}, {101, 40}, {101, 36},
                     {113, 36}, {113, 48}, {101, 48}, {101, 42}, {100, 42},
                     {100, 100}, {0, 100}),
                3, 2, 144, 146);
}

static void hole_that_can_be_passed_is_no_neck(void **state)
{
    (void)state;
    struct land land = box_of(60, 30);
    add_box(&land, 20, 1, 10, 9);
    assert_none(land, 3, true);
}

static void hole_that_fills_the_way_is_a_neck(void **state)
{
    (void)state;
    struct land even = box_of(60, 30);
    add_box(&even, 20, 1, 10, 28);
    assert_neck(even, 3, 1, 600, 620);
    /* The flock goes where it is wider. */
    struct land uneven = box_of(60, 30);
    add_box(&uneven, 20, 1, 10, 27.5);
    assert_neck(uneven, 3, 1.5, 600, 625);
    struct land wide = box_of(60, 30);
    add_box(&wide, 20, 1, 10, 26);
    assert_none(wide, 3, true);
}

static void holes_in_a_row_are_one_wall(void **state)
{
    (void)state;
    /* Gaps of 1, 2 and 2.5 m, and a third hole that bars nothing. */
    struct land land = box_of(60, 30);
    add_box(&land, 20, 1, 5, 10);
    add_box(&land, 20, 13, 5, 14.5);
    add_box(&land, 40, 10, 3, 3);
    assert_neck(land, 3, 2.5, 600, 25 * 30 - 5 * 24.5);
}

static void hole_that_touches_the_edge_bars_that_side(void **state)
{
    (void)state;
    /* With a side's middle, then with a corner. */
    struct land side = box_of(60, 30);
    const struct fw_point tooth[] = {{25, 0}, {20, 28}, {30, 28}};
    add_ring(&side, tooth, 3);
    assert_neck(side, 3, 2, 25 * 30 - 140, 35 * 30);
    struct land corner = LAND({0, 10}, {25, 0}, {60, 10}, {60, 40}, {0, 40});
    const struct fw_point stake[] = {{25, 0}, {20, 38}, {30, 38}};
    add_ring(&corner, stake, 3);
    assert_neck(corner, 3, 2, 600, 1000);
}

static void ring_that_meets_itself_is_closed_there(void **state)
{
    (void)state;
    assert_neck(LAND({0, 0}, {20, 15}, {40, 0}, {40, 30}, {20, 15}, {0, 30}), 3,
                0, 300, 300);
    /* From outside it may: this one's arms touch, and go round the hollow. */
    assert_none(LAND({0, 0}, {60, 0}, {60, 40}, {30, 30}, {40, 15}, {20, 15},
                     {30, 30}, {0, 40}),
                3, true);
}

static void ground_without_room_has_none(void **state)
{
    (void)state;
    assert_none(box_of(200, 2), 3, false);
    assert_none(two_squares(2.9), 60, false);
    assert_none(box_of(200, 3), 3, true);
}

static void crossing_of_two_lanes_is_cut_once(void **state)
{
    (void)state;
    /* Four blocks with lanes of 2 m between, in a wide field: the four corners
     * at the crossing lie on one circle. */
    struct land land = box_of(100, 60);
    add_box(&land, 30, 0.5, 19, 28.5);
    add_box(&land, 51, 0.5, 19, 28.5);
    add_box(&land, 30, 31, 40, 28.5);
    assert_neck(land, 3, 2, 1800, 1900);
}

static void repeated_points_change_nothing(void **state)
{
    (void)state;
    assert_neck(LAND({0, 0}, {0, 0}, {40, 0}, {40, 0}, {21, 30}, {21, 30},
                     {40, 50}, {0, 50}, {19, 30}, {0, 0}),
                3, 2, 21 * 20, 21 * 20);
}

static void bad_ground_is_refused(void **state)
{
    (void)state;
    struct fw_neck out = {.width_m = 7};
    struct fw_error err = {0};
    const struct land land = box_of(60, 40);
    const struct land flat = LAND({0, 0}, {10, 0}, {20, 0});
    const struct land lost = LAND({0, 0}, {60, 0}, {(double)NAN, 40});
    assert_int_equal(
        fw_ways_neck(land.points, land.ring_start, 1, 0, &out, &err),
        FW_EINPUT);
    assert_non_null(strstr(err.text, "3 m"));
    assert_int_equal(
        fw_ways_neck(land.points, land.ring_start, 1, (double)NAN, &out, NULL),
        FW_EINPUT);
    assert_int_equal(
        fw_ways_neck(flat.points, flat.ring_start, 1, 3, &out, NULL),
        FW_EFAULT);
    assert_int_equal(
        fw_ways_neck(lost.points, lost.ring_start, 1, 3, &out, NULL),
        FW_EFAULT);
    assert_int_equal(
        fw_ways_neck(land.points, land.ring_start, 0, 3, &out, NULL),
        FW_EFAULT);
    assert_near(out.width_m, 7, 0);
}

/* ---- rooms ---- */

static void assert_room(struct land land, struct fw_point a, struct fw_point b,
                        double deep_m, double room_m)
{
    for (int way = 0; way < ways_round; way++) {
        const struct land here = land_seen(&land, way);
        const struct fw_point p = seen(a, way), q = seen(b, way);
        assert_near(fw_ways_room_m(p, q, here.points, here.ring_start,
                                   here.ring_count, deep_m),
                    room_m, 1e-5);
        assert_near(fw_ways_room_m(q, p, here.points, here.ring_start,
                                   here.ring_count, deep_m),
                    room_m, 1e-5);
    }
}

static void room_reaches_to_the_other_side(void **state)
{
    (void)state;
    const struct fw_point a = {10, 0}, b = {14, 0}, end = {4, 0}, zero = {0, 0};
    assert_room(box_of(60, 40), a, b, 100, 40);
    assert_room(box_of(60, 40), a, b, 12, 12);
    /* From the corner on, where the side stands square. */
    assert_room(box_of(60, 40), zero, end, 100, 40);
    assert_room(LAND({0, 0}, {60, 0}, {60, 2}, {0, 40}), a, b, 100,
                40 - 38 * 14 / 60.0);
}

static void room_ends_at_a_corner_or_a_hole(void **state)
{
    (void)state;
    const struct fw_point a = {10, 0}, b = {14, 0};
    struct land land = box_of(60, 40);
    const struct fw_point spike[] = {{12, 9}, {11, 20}, {13, 20}};
    add_ring(&land, spike, 3);
    assert_room(land, a, b, 100, 9);
    struct land beside = box_of(60, 40);
    add_box(&beside, 14, 3, 5, 5);
    assert_room(beside, a, b, 100, 40);
    add_box(&beside, 13, 30, 1, 5);
    assert_room(beside, a, b, 100, 30);
}

static void room_of_an_opening_on_a_hole_lies_outside_it(void **state)
{
    (void)state;
    struct land land = box_of(60, 40);
    add_box(&land, 20, 10, 20, 20);
    assert_room(land, (struct fw_point){24, 10}, (struct fw_point){28, 10}, 100,
                10);
    assert_room(land, (struct fw_point){40, 12}, (struct fw_point){40, 16}, 100,
                20);
}

static void room_looks_to_the_side_that_the_ground_is_on(void **state)
{
    (void)state;
    /* The other arm of a U lies behind the opening. */
    const struct land u = LAND({0, 0}, {90, 0}, {90, 80}, {60, 80}, {60, 30},
                               {35, 30}, {35, 80}, {0, 80});
    assert_room(u, (struct fw_point){35, 50}, (struct fw_point){35, 54}, 100,
                35);
    assert_room(u, (struct fw_point){60, 50}, (struct fw_point){60, 54}, 100,
                30);
}

static void pinched_end_has_little_room(void **state)
{
    (void)state;
    /* Two lines that meet at the origin, 10 m apart after 100 m. */
    const struct land wedge = LAND({0, 0}, {100, 0}, {100, 10});
    assert_room(wedge, (struct fw_point){10, 0}, (struct fw_point){14, 0}, 100,
                1);
    assert_room(wedge, (struct fw_point){0, 0}, (struct fw_point){4, 0}, 100,
                0);
    /* At the end itself the sides lean out. */
    const struct land cut = LAND({10, 0}, {100, 0}, {100, 10}, {10, 4});
    assert_room(cut, (struct fw_point){10, 0}, (struct fw_point){10, 4}, 50,
                50);
}

static void bend_within_a_centimetre_is_no_wall(void **state)
{
    (void)state;
    const struct land land =
        LAND({0, 0}, {12, 0.002}, {30, -0.001}, {60, 0}, {60, 40}, {0, 40});
    const double up = 0.002 / 12;
    assert_room(land, (struct fw_point){10, 10 * up},
                (struct fw_point){14, 0.002 - 0.003 / 18 * 2}, 100,
                40 - 10 * up);
}

static void opening_without_a_width_has_no_room(void **state)
{
    (void)state;
    const struct fw_point a = {10, 0}, b = {14, 0};
    const struct land land = box_of(60, 40);
    assert_near(fw_ways_room_m(a, a, land.points, land.ring_start, 1, 9), 0, 0);
    assert_near(fw_ways_room_m(a, b, land.points, land.ring_start, 1, 0), 0, 0);
    assert_near(
        fw_ways_room_m(a, b, land.points, land.ring_start, 1, (double)NAN), 0,
        0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(
            squares_with_a_corridor_have_a_neck_where_it_is_narrow),
        cmocka_unit_test(corridor_along_a_wall_has_one_too),
        cmocka_unit_test(narrow_end_of_a_wedge_is_the_neck),
        cmocka_unit_test(slanted_edge_is_met_square),
        cmocka_unit_test(plain_shapes_have_none),
        cmocka_unit_test(u_with_a_thin_bottom_has_one),
        cmocka_unit_test(bottle_has_a_neck_when_its_mouth_has_room),
        cmocka_unit_test(waist_of_an_hourglass_is_the_neck),
        cmocka_unit_test(narrowest_of_several_is_told),
        cmocka_unit_test(nook_is_no_part),
        cmocka_unit_test(hole_that_can_be_passed_is_no_neck),
        cmocka_unit_test(hole_that_fills_the_way_is_a_neck),
        cmocka_unit_test(holes_in_a_row_are_one_wall),
        cmocka_unit_test(hole_that_touches_the_edge_bars_that_side),
        cmocka_unit_test(ring_that_meets_itself_is_closed_there),
        cmocka_unit_test(ground_without_room_has_none),
        cmocka_unit_test(crossing_of_two_lanes_is_cut_once),
        cmocka_unit_test(repeated_points_change_nothing),
        cmocka_unit_test(bad_ground_is_refused),
        cmocka_unit_test(room_reaches_to_the_other_side),
        cmocka_unit_test(room_ends_at_a_corner_or_a_hole),
        cmocka_unit_test(room_of_an_opening_on_a_hole_lies_outside_it),
        cmocka_unit_test(room_looks_to_the_side_that_the_ground_is_on),
        cmocka_unit_test(pinched_end_has_little_room),
        cmocka_unit_test(bend_within_a_centimetre_is_no_wall),
        cmocka_unit_test(opening_without_a_width_has_no_room),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
