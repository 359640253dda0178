/* What belongs to which field, against the drawings themselves. */
#include "land_by_hand.h"

/* A bent line that turns round, and a line that is tied to a later one. */
static struct hand bent(void)
{
    struct hand hand = {0};
    hand_box(&hand, FW_CELL_PADDOCK, 0, 0, 40, 40);
    hand_line(&hand, FW_LAND_MOVED, 0, 30, 10, 30);
    hand_line(&hand, FW_LAND_MOVED, 10, 40, 10, 20);
    struct hand_shape *line = hand_line(&hand, FW_LAND_MOVED, 20, 0, 20, 10);
    line->corners[line->count++] = (struct fw_point){30, 10};
    line->corners[line->count++] = (struct fw_point){30, 25};
    hand_gate(&hand, 1, 2);
    hand_water(&hand, 3, 4);
    hand_park(&hand, 5, 6);
    hand_come(&hand, 7, 8);
    return hand;
}

static void line_is_deeper_than_a_later_one_that_holds_it(void **state)
{
    (void)state;
    struct hand hand = bent();
    struct fw_land land;
    hand_land(&hand, 1, &land);
    assert_int_equal(land.lines[0].host[1], 1);
    assert_int_equal(land.lines[0].depth, 1);
    assert_int_equal(land.lines[1].depth, 0);
    assert_int_equal(land.lines[2].depth, 0);
    fw_land_release(&land);
}

/* The edge of a pond is there without any line, wherever it ends. */
static void edge_is_held_by_nothing(void **state)
{
    (void)state;
    struct hand hand = bent();
    hand_line(&hand, FW_LAND_EDGE, 10, 25, 15, 25);
    struct fw_land land;
    hand_land(&hand, 1, &land);
    assert_int_equal(land.lines[3].host[0], FW_NONE);
    assert_int_equal(land.lines[3].host[1], FW_NONE);
    assert_int_equal(land.lines[3].depth, 0);
    fw_land_release(&land);
}

static void each_field_has_its_own_lines_and_cells(void **state)
{
    (void)state;
    struct hand fields[] = {bent(), hand_strips(3), bent()};
    struct fw_land land;
    hand_land(fields, 3, &land);
    const size_t first_line[] = {0, 3, 5}, lines[] = {3, 2, 3};
    const size_t first_paddock[] = {0, 1, 4}, paddocks[] = {1, 3, 1};
    assert_int_equal(land.field_count, 3);
    assert_int_equal(land.line_count, 8);
    for (size_t f = 0; f < 3; f++) {
        const struct fw_land_field *field = &land.fields[f];
        assert_int_equal(field->first_line, first_line[f]);
        assert_int_equal(field->line_count, lines[f]);
        assert_int_equal(field->first_paddock, first_paddock[f]);
        assert_int_equal(field->paddock_count, paddocks[f]);
        assert_int_equal(field->common_count, 0);
        for (size_t l = 0; l < lines[f]; l++)
            assert_int_equal(land.lines[first_line[f] + l].field, f);
    }
    /* Of the last field too each line has its own points. */
    assert_near(fw_land_along(&land, 7, 10).y_m, 10, 1e-9);
    assert_near(fw_land_along(&land, 7, 30).x_m, 30, 1e-9);
    assert_near(fw_land_along(&land, 7, 30).y_m, 20, 1e-9);
    assert_near(fw_land_along(&land, 4, 50).x_m, 20, 1e-9);
    assert_near(land.lines[7].length_m, 35, 1e-9);
    /* And each ring: five boxes of four corners and what was put in. */
    size_t rings = 0;
    for (size_t c = 0; c < land.cell_count; c++) {
        assert_int_equal(land.cells[c].first_ring, rings);
        rings += land.cells[c].ring_count;
        assert_true(land.ring_start[rings] >= land.ring_start[rings - 1] + 4);
    }
    fw_land_release(&land);
}

static void spots_that_are_told_are_kept(void **state)
{
    (void)state;
    struct hand fields[] = {hand_strips(2), bent()};
    struct fw_land land;
    hand_land(fields, 2, &land);
    const struct fw_land_field *field = &land.fields[1];
    assert_true(field->gate_given && field->water_given);
    assert_true(field->park_given && field->come_given);
    const struct fw_point got[] = {field->gate, field->water, field->park,
                                   field->come};
    for (size_t i = 0; i < 4; i++) {
        assert_near(got[i].x_m, 1 + 2 * (double)i, 0);
        assert_near(got[i].y_m, 2 + 2 * (double)i, 0);
    }
    assert_false(land.fields[0].park_given);
    fw_land_release(&land);
}

static void spot_a_metre_off_is_at_the_ground(void **state)
{
    (void)state;
    static const double off_m[] = {0, 1, 1.001};
    for (size_t i = 0; i < 3; i++) {
        struct hand hand = {0};
        struct fw_land land;
        hand_box(&hand, FW_CELL_PADDOCK, 0, 0, 40, 40);
        hand_gate(&hand, -off_m[i], 20);
        hand_water(&hand, 20, 40 + off_m[i]);
        hand_land(&hand, 1, &land);
        assert_int_equal(land.cells[0].at_gate, off_m[i] <= 1);
        assert_int_equal(land.cells[0].at_water, off_m[i] <= 1);
        fw_land_release(&land);
    }
}

/* What was so far along is as far from the other end, of a bent line that is
 * not the first, and no other line is touched. */
static void turned_line_has_its_places_from_the_other_end(void **state)
{
    (void)state;
    struct hand hand = bent();
    struct fw_land land, plain;
    hand_land(&hand, 1, &land);
    hand = bent();
    hand_land(&hand, 1, &plain);
    fw_land_turn(&land, 2);
    for (size_t l = 0; l < 3; l++) {
        const double length_m = plain.lines[l].length_m;
        for (int k = 0; k <= 12; k++) {
            const double at_m = length_m * k / 12;
            const struct fw_point got = fw_land_along(&land, l, at_m);
            const struct fw_point wanted =
                fw_land_along(&plain, l, l == 2 ? length_m - at_m : at_m);
            assert_near(got.x_m, wanted.x_m, 1e-9);
            assert_near(got.y_m, wanted.y_m, 1e-9);
        }
    }
    assert_near(fw_land_along(&land, 2, 20).x_m, 25, 1e-9);
    assert_near(fw_land_along(&land, 2, 20).y_m, 10, 1e-9);
    fw_land_release(&land);
    fw_land_release(&plain);
}

/* The doors of a cell, in the order of their numbers, and each of two. */
static void each_door_is_known_to_both_its_cells(void **state)
{
    (void)state;
    struct hand fields[] = {hand_blocks(), hand_strips(4)};
    struct fw_land land;
    hand_land(fields, 2, &land);
    size_t seen = 0;
    for (size_t c = 0; c < land.cell_count; c++) {
        assert_int_equal(land.cells[c].first_door, seen);
        for (size_t k = 0; k < land.cells[c].door_count; k++) {
            const size_t door = land.doors_of[land.cells[c].first_door + k];
            const size_t to = fw_land_beyond(&land, door, c);
            assert_true(land.doors[door].a == c || land.doors[door].b == c);
            assert_int_equal(fw_land_beyond(&land, door, to), c);
            assert_int_equal(land.cells[to].field, land.cells[c].field);
            if (k > 0)
                assert_true(land.doors_of[land.cells[c].first_door + k - 1] <
                            door);
            seen++;
        }
    }
    /* Ten of the blocks, three of the strips, from either side. */
    assert_int_equal(land.door_count, 13);
    assert_int_equal(seen, 26);
    fw_land_release(&land);
}

/* ---- aslant ---- */

static double draw(uint64_t *seed, double least, double most)
{
    *seed ^= *seed >> 12;
    *seed ^= *seed << 25;
    *seed ^= *seed >> 27;
    return least +
           (most - least) * ((double)((*seed * 2685821657736338717u) >> 11) /
                             9007199254740992.0);
}

/* Seen from the place, do the corners go once all the way round? And how far
 * is the nearest side, by steps of a thousandth of it? */
static bool goes_round(const struct fw_point *ring, size_t count,
                       struct fw_point at, double *least_m)
{
    double turn = 0;
    for (size_t i = 0; i < count; i++) {
        const struct fw_point a = ring[i], b = ring[(i + 1) % count];
        turn += remainder(atan2(b.y_m - at.y_m, b.x_m - at.x_m) -
                              atan2(a.y_m - at.y_m, a.x_m - at.x_m),
                          2 * acos(-1));
        for (int k = 0; k <= 1000; k++)
            *least_m = fmin(*least_m,
                            hypot(a.x_m + (b.x_m - a.x_m) * k / 1000 - at.x_m,
                                  a.y_m + (b.y_m - a.y_m) * k / 1000 - at.y_m));
    }
    return fabs(turn) > 1;
}

/* Cells whose sides run aslant, one with a pond. */
static void place_in_a_cell_aslant_is_told_from_one_beside_it(void **state)
{
    (void)state;
    enum { outer = 9, pond = 5, all = outer + pond };
    uint64_t seed = 20260514;
    size_t in = 0, near = 0;
    for (int round = 0; round < 400; round++) {
        struct fw_point points[all];
        size_t vertices[all];
        const size_t ring_start[] = {0, outer, all}, cell_ring[] = {0, 2};
        const enum fw_cell_kind kinds[] = {FW_CELL_PADDOCK};
        for (size_t i = 0; i < all; i++) {
            const bool hole = i >= outer;
            const double m = hole ? draw(&seed, 4, 14) : draw(&seed, 20, 60);
            const double turn = 2 * acos(-1) / (hole ? -pond : outer) *
                                ((double)i + draw(&seed, 0, 0.7));
            points[i] = (struct fw_point){3 + m * cos(turn), m * sin(turn) - 5};
            vertices[i] = i;
        }
        const struct fw_point at = {draw(&seed, -55, 60), draw(&seed, -60, 50)};
        const struct fw_land_map map = {.points = points,
                                        .point_count = all,
                                        .ring_vertices = vertices,
                                        .ring_start = ring_start,
                                        .cell_ring = cell_ring,
                                        .kinds = kinds,
                                        .cell_count = 1,
                                        .gate = &at};
        struct fw_land land;
        double least_m = HUGE_VAL;
        const bool round_outer = goes_round(points, outer, at, &least_m);
        const bool round_pond = goes_round(points + outer, pond, at, &least_m);
        if (fabs(least_m - 1) < 0.01)
            continue;
        assert_int_equal(fw_land_new(&map, 1, &land, NULL), FW_OK);
        assert_int_equal(land.cells[0].at_gate,
                         (round_outer && !round_pond) || least_m < 1);
        in += round_outer && !round_pond;
        near += least_m < 1;
        fw_land_release(&land);
    }
    assert_true(in > 50 && in < 350 && near > 5);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(line_is_deeper_than_a_later_one_that_holds_it),
        cmocka_unit_test(edge_is_held_by_nothing),
        cmocka_unit_test(each_field_has_its_own_lines_and_cells),
        cmocka_unit_test(spots_that_are_told_are_kept),
        cmocka_unit_test(spot_a_metre_off_is_at_the_ground),
        cmocka_unit_test(turned_line_has_its_places_from_the_other_end),
        cmocka_unit_test(each_door_is_known_to_both_its_cells),
        cmocka_unit_test(place_in_a_cell_aslant_is_told_from_one_beside_it),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
