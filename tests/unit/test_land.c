#include "land_by_hand.h"

static void assert_door(const struct fw_land *land, size_t door, size_t line,
                        size_t a, size_t b, double from_m, double to_m)
{
    const struct fw_door *got = &land->doors[door];
    assert_int_equal(got->line, line);
    assert_int_equal(got->a, a);
    assert_int_equal(got->b, b);
    assert_near(got->from_m, from_m, 1e-9);
    assert_near(got->to_m, to_m, 1e-9);
}

/* ---- doors ---- */

static void strips_have_a_door_each(void **state)
{
    (void)state;
    struct hand hand = hand_strips(3);
    struct fw_land land;
    hand_land(&hand, 1, &land);
    assert_int_equal(land.door_count, 2);
    /* Drawn from the south: the west lies to the left. */
    assert_door(&land, 0, 0, 0, 1, 0, 100);
    assert_door(&land, 1, 1, 1, 2, 0, 100);
    assert_int_equal(land.cells[0].door_count, 1);
    assert_int_equal(land.cells[1].door_count, 2);
    assert_int_equal(land.doors_of[land.cells[2].first_door], 1);
    assert_int_equal(fw_land_beyond(&land, 0, 0), 1);
    assert_int_equal(fw_land_beyond(&land, 0, 1), 0);
    assert_near(land.lines[0].length_m, 100, 1e-9);
    fw_land_release(&land);
}

static void block_line_has_a_door_for_each_strip(void **state)
{
    (void)state;
    struct hand hand = hand_blocks();
    struct fw_land land;
    hand_land(&hand, 1, &land);
    assert_int_equal(land.lines[0].door_count, 4);
    /* From the west the north lies to the left. */
    for (size_t k = 0; k < 4; k++)
        assert_door(&land, land.lines[0].first_door + k, 0, 4 + k, k,
                    10 * (double)k, 10 * (double)(k + 1));
    assert_int_equal(land.door_count, 4 + 6);
    fw_land_release(&land);
}

static void pieces_between_the_same_two_are_one_door(void **state)
{
    (void)state;
    /* East of the line lies a C about a box: it is met twice. The bend of the
     * line at 95 m parts nothing. */
    struct hand hand = {0};
    const struct fw_point c[] = {{10, 0},  {50, 0},  {50, 100}, {10, 100},
                                 {10, 60}, {30, 60}, {30, 30},  {10, 30}};
    hand_box(&hand, FW_CELL_PADDOCK, 0, 0, 10, 100);
    hand_cell(&hand, FW_CELL_PADDOCK, c, 8);
    hand_box(&hand, FW_CELL_PADDOCK, 10, 30, 30, 60);
    struct hand_shape *line = hand_line(&hand, FW_LAND_MOVED, 10, 0, 10, 95);
    line->corners[line->count++] = (struct fw_point){10, 100};
    struct fw_land land;
    hand_land(&hand, 1, &land);
    assert_int_equal(land.door_count, 3);
    assert_door(&land, 0, 0, 0, 1, 0, 30);
    assert_door(&land, 1, 0, 0, 2, 30, 60);
    assert_door(&land, 2, 0, 0, 1, 60, 100);
    fw_land_release(&land);
}

static void edge_is_no_door(void **state)
{
    (void)state;
    /* A line along the boundary has ground on one side only. */
    struct hand hand = hand_strips(2);
    hand_line(&hand, FW_LAND_EDGE, 0, 0, 20, 0);
    hand_line(&hand, FW_LAND_MOVED, 20, 100, 0, 100);
    struct fw_land land;
    hand_land(&hand, 1, &land);
    assert_int_equal(land.line_count, 3);
    assert_int_equal(land.door_count, 1);
    assert_int_equal(land.lines[1].door_count, 0);
    fw_land_release(&land);
}

/* ---- what holds a line ---- */

static void ends_are_held_by_the_line_they_end_on(void **state)
{
    (void)state;
    struct hand hand = hand_blocks();
    struct fw_land land;
    hand_land(&hand, 1, &land);
    assert_int_equal(land.lines[0].host[0], FW_NONE);
    assert_int_equal(land.lines[0].host[1], FW_NONE);
    assert_int_equal(land.lines[0].depth, 0);
    for (size_t l = 1; l < 7; l++) {
        const int tied = l < 4; /* drawn towards the block line */
        assert_int_equal(land.lines[l].host[tied], 0);
        assert_int_equal(land.lines[l].host[!tied], FW_NONE);
        assert_int_equal(land.lines[l].depth, 1);
    }
    fw_land_release(&land);
}

static void edge_holds_as_nothing_else_does(void **state)
{
    (void)state;
    /* The boundary is given as a line too; line 0 ends inside it. */
    struct hand hand = hand_strips(2);
    hand_line(&hand, FW_LAND_EDGE, 0, 0, 20, 0);
    struct fw_land land;
    hand_land(&hand, 1, &land);
    assert_int_equal(land.lines[0].host[0], FW_NONE);
    assert_int_equal(land.lines[0].depth, 0);
    fw_land_release(&land);
}

static void depth_is_one_more_than_of_the_deepest_host(void **state)
{
    (void)state;
    /* Line 0 is tied to 1, 1 to 2, 2 to nothing; 3 goes from 0 to 2. */
    struct hand hand = {0};
    hand_box(&hand, FW_CELL_PADDOCK, 0, 0, 40, 40);
    hand_line(&hand, FW_LAND_MOVED, 0, 30, 10, 30);
    hand_line(&hand, FW_LAND_MOVED, 10, 40, 10, 20);
    hand_line(&hand, FW_LAND_MOVED, 0, 20, 40, 20);
    hand_line(&hand, FW_LAND_MOVED, 5, 30, 5, 20);
    struct fw_land land;
    hand_land(&hand, 1, &land);
    const size_t depths[] = {2, 1, 0, 3};
    for (size_t l = 0; l < 4; l++)
        assert_int_equal(land.lines[l].depth, depths[l]);
    fw_land_release(&land);
}

static void ring_of_lines_needs_one_anchor(void **state)
{
    (void)state;
    struct hand hand = hand_pinwheel();
    struct fw_land land;
    hand_land(&hand, 1, &land);
    size_t tied = 0, depths = 0;
    for (size_t l = 0; l < 4; l++) {
        const struct fw_land_line *line = &land.lines[l];
        assert_int_equal(line->host[0], FW_NONE);
        depths += line->depth;
        if (line->host[1] == FW_NONE)
            continue;
        tied++;
        assert_int_equal(line->host[1], (l + 1) % 4);
        assert_int_equal(line->depth, land.lines[(l + 1) % 4].depth + 1);
    }
    /* Three are tied, the fourth is first: 0, 1, 2 and 3 deep. */
    assert_int_equal(tied, 3);
    assert_int_equal(depths, 6);
    assert_int_equal(land.door_count, 8);
    fw_land_release(&land);
}

/* ---- numbers ---- */

static struct hand strips_and_lane(void)
{
    struct hand hand = {0};
    hand_box(&hand, FW_CELL_PADDOCK, 0, 0, 10, 50);
    hand_box(&hand, FW_CELL_PADDOCK, 10, 0, 20, 50);
    hand_box(&hand, FW_CELL_LANE, 0, 50, 20, 54);
    hand_line(&hand, FW_LAND_LANE, 0, 50, 20, 50);
    hand_line(&hand, FW_LAND_MOVED, 10, 0, 10, 50);
    hand_gate(&hand, 0, 52);
    hand_water(&hand, 20.5, 50.4);
    return hand;
}

static void paddocks_of_all_fields_come_first(void **state)
{
    (void)state;
    struct hand fields[] = {strips_and_lane(), hand_strips(3),
                            strips_and_lane()};
    struct fw_land land;
    hand_land(fields, 3, &land);
    assert_int_equal(land.cell_count, 9);
    const size_t of[] = {0, 0, 1, 1, 1, 2, 2, 0, 2};
    for (size_t c = 0; c < 9; c++) {
        assert_int_equal(land.cells[c].field, of[c]);
        assert_int_equal(land.cells[c].kind,
                         c < 7 ? FW_CELL_PADDOCK : FW_CELL_LANE);
        assert_int_equal(fw_land_cell(&land, of[c], fw_land_local(&land, c)),
                         c);
    }
    assert_int_equal(fw_land_cell_count(&land, 0), 3);
    assert_int_equal(fw_land_cell_count(&land, 1), 3);
    assert_int_equal(fw_land_local(&land, 8), 2);
    /* Lines of the second field begin where those of the first end. */
    assert_int_equal(land.fields[1].first_line, 2);
    assert_int_equal(land.fields[2].first_line, 4);
    assert_int_equal(land.lines[5].host[1], 4);
    fw_land_release(&land);
}

static void gate_and_water_belong_to_what_is_within_a_metre(void **state)
{
    (void)state;
    struct hand hand = strips_and_lane();
    struct fw_land land;
    hand_land(&hand, 1, &land);
    const bool at_gate[] = {false, false, true};
    const bool at_water[] = {false, true, true};
    for (size_t c = 0; c < 3; c++) {
        assert_int_equal(land.cells[c].at_gate, at_gate[c]);
        assert_int_equal(land.cells[c].at_water, at_water[c]);
    }
    fw_land_release(&land);
}

static void water_in_a_pond_is_not_in_the_ground_about_it(void **state)
{
    (void)state;
    const struct fw_point points[] = {{0, 0},   {60, 0},  {60, 60}, {0, 60},
                                      {20, 20}, {20, 40}, {40, 40}, {40, 20}};
    const size_t vertices[] = {0, 1, 2, 3, 4, 5, 6, 7};
    const size_t ring_start[] = {0, 4, 8}, cell_ring[] = {0, 2};
    const enum fw_cell_kind kinds[] = {FW_CELL_PADDOCK};
    const struct fw_point middle = {30, 30}, bank = {30, 20.5};
    struct fw_land_map map = {.points = points,
                              .point_count = 8,
                              .ring_vertices = vertices,
                              .ring_start = ring_start,
                              .cell_ring = cell_ring,
                              .kinds = kinds,
                              .cell_count = 1,
                              .gate = &middle,
                              .water = &bank};
    struct fw_land land;
    assert_int_equal(fw_land_new(&map, 1, &land, NULL), FW_OK);
    assert_false(land.cells[0].at_gate);
    assert_true(land.cells[0].at_water);
    assert_int_equal(land.cells[0].ring_count, 2);
    fw_land_release(&land);
}

static void nothing_told_is_nothing_given(void **state)
{
    (void)state;
    struct hand hand = hand_blocks();
    struct fw_land land;
    hand.gate_given = false;
    hand_land(&hand, 1, &land);
    assert_false(land.fields[0].gate_given);
    assert_false(land.fields[0].water_given);
    assert_false(land.fields[0].park_given);
    assert_false(land.fields[0].come_given);
    for (size_t c = 0; c < land.cell_count; c++)
        assert_false(land.cells[c].at_gate || land.cells[c].at_water);
    fw_land_release(&land);
    assert_int_equal(fw_land_new(NULL, 0, &land, NULL), FW_OK);
    assert_int_equal(land.cell_count, 0);
    fw_land_release(&land);
}

/* ---- places ---- */

static void place_along_a_bent_line(void **state)
{
    (void)state;
    struct hand hand = {0};
    hand_box(&hand, FW_CELL_PADDOCK, 0, 0, 40, 40);
    struct hand_shape *bent = hand_line(&hand, FW_LAND_MOVED, 0, 0, 30, 0);
    bent->corners[bent->count++] = (struct fw_point){30, 40};
    struct fw_land land;
    hand_land(&hand, 1, &land);
    const double at_m[] = {-5, 0, 12, 30, 42, 70, 99};
    const struct fw_point wanted[] = {{0, 0},   {0, 0},   {12, 0}, {30, 0},
                                      {30, 12}, {30, 40}, {30, 40}};
    for (size_t i = 0; i < 7; i++) {
        const struct fw_point got = fw_land_along(&land, 0, at_m[i]);
        assert_near(got.x_m, wanted[i].x_m, 1e-9);
        assert_near(got.y_m, wanted[i].y_m, 1e-9);
    }
    fw_land_release(&land);
}

static void farthest_corner_of_a_cell(void **state)
{
    (void)state;
    struct hand hand = hand_strips(3);
    struct fw_land land;
    hand_land(&hand, 1, &land);
    /* From the south-west corner of the field to (30, 100). */
    assert_near(fw_land_far_m(&land, 2, (struct fw_point){0, 0}),
                sqrt(900 + 10000), 1e-9);
    fw_land_release(&land);
}

static void turned_line_runs_the_other_way(void **state)
{
    (void)state;
    struct hand hand = hand_blocks();
    hand.lines[0].feeds[0] = FW_FEEDS_SURELY;
    hand.lines[0].feeds[1] = FW_FEEDS_NOTHING;
    struct fw_land land;
    hand_land(&hand, 1, &land);
    fw_land_turn(&land, 0);
    fw_land_turn(&land, 1);
    const size_t first = land.lines[0].first_door;
    /* Doors keep their numbers; now the south lies to the left, and the first
     * of them begins 30 m along. */
    for (size_t k = 0; k < 4; k++)
        assert_door(&land, first + k, 0, k, 4 + k, 30 - 10 * (double)k,
                    40 - 10 * (double)k);
    assert_int_equal(land.lines[0].feeds[0], FW_FEEDS_NOTHING);
    assert_int_equal(land.lines[0].feeds[1], FW_FEEDS_SURELY);
    assert_int_equal(land.lines[1].host[0], 0);
    assert_int_equal(land.lines[1].host[1], FW_NONE);
    assert_near(fw_land_along(&land, 0, 0).x_m, 40, 1e-9);
    fw_land_turn(&land, 0);
    for (size_t k = 0; k < 4; k++)
        assert_door(&land, first + k, 0, 4 + k, k, 10 * (double)k,
                    10 * (double)(k + 1));
    fw_land_release(&land);
}

/* Behind a straight front lies ground of which two points are known. */
static void straight_front_has_a_door(void **state)
{
    (void)state;
    static const struct fw_point points[] = {
        {0, 0}, {40, 0}, {40, 20}, {0, 20}};
    static const size_t rings[] = {0, 1, 2, 3, 0, 3}, starts[] = {0, 4, 6};
    static const size_t cells[] = {0, 1, 2}, front[] = {3, 0};
    static const enum fw_cell_kind kinds[] = {FW_CELL_PADDOCK, FW_CELL_GRAZED};
    static const struct fw_land_map_line line = {
        .role = FW_LAND_MOVED, .vertices = front, .count = 2};
    const struct fw_land_map map = {.points = points,
                                    .point_count = 4,
                                    .ring_vertices = rings,
                                    .ring_start = starts,
                                    .cell_ring = cells,
                                    .kinds = kinds,
                                    .cell_count = 2,
                                    .lines = &line,
                                    .line_count = 1};
    struct fw_land land;
    assert_int_equal(fw_land_new(&map, 1, &land, NULL), FW_OK);
    assert_int_equal(land.door_count, 1);
    assert_near(land.doors[0].to_m - land.doors[0].from_m, 20, 1e-9);
    assert_int_equal(fw_land_beyond(&land, 0, 0), 1);
    fw_land_release(&land);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(strips_have_a_door_each),
        cmocka_unit_test(block_line_has_a_door_for_each_strip),
        cmocka_unit_test(pieces_between_the_same_two_are_one_door),
        cmocka_unit_test(edge_is_no_door),
        cmocka_unit_test(ends_are_held_by_the_line_they_end_on),
        cmocka_unit_test(edge_holds_as_nothing_else_does),
        cmocka_unit_test(depth_is_one_more_than_of_the_deepest_host),
        cmocka_unit_test(ring_of_lines_needs_one_anchor),
        cmocka_unit_test(paddocks_of_all_fields_come_first),
        cmocka_unit_test(gate_and_water_belong_to_what_is_within_a_metre),
        cmocka_unit_test(water_in_a_pond_is_not_in_the_ground_about_it),
        cmocka_unit_test(nothing_told_is_nothing_given),
        cmocka_unit_test(place_along_a_bent_line),
        cmocka_unit_test(farthest_corner_of_a_cell),
        cmocka_unit_test(turned_line_runs_the_other_way),
        cmocka_unit_test(straight_front_has_a_door),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
