/* The subdivision on which a field is cut up: cuts, splits, and the map that
 * comes of them. */
#include "crs/crs.h"
#include "subdivision_help.h"

static void square_is_cut_into_strips(void **state)
{
    (void)state;
    for (int way = 0; way < 4; way++) { /* cut by area or at positions */
        struct plot plot = {0};
        struct fw_subdivision subdivision;
        struct fw_region whole, strips[4];
        bool is_whole = false;
        const double behind[] = {1000, 5000, 7500};
        const double at[] = {10, 50, 75};
        const double back[] = {-90, -50, -25};
        make_rectangle(&plot, 100, 100, 0);
        begin(&subdivision, &whole, &plot, NULL);
        if (way % 2)
            assert_int_equal(
                fw_subdivision_cut(&subdivision, &whole,
                                   &(struct fw_cuts){way < 2 ? 0 : 180, NULL,
                                                     way < 2 ? at : back, 3,
                                                     FW_LINE_MOVED},
                                   strips, &is_whole, NULL),
                FW_OK);
        else
            assert_int_equal(
                fw_subdivision_cut(&subdivision, &whole,
                                   &(struct fw_cuts){way < 2 ? 0 : 180, behind,
                                                     NULL, 3, FW_LINE_MOVED},
                                   strips, &is_whole, NULL),
                FW_OK);
        assert_true(is_whole);
        assert_near(holds(&subdivision, &strips[0]), 1000, 1e-9);
        assert_near(holds(&subdivision, &strips[1]), 4000, 1e-9);
        assert_near(holds(&subdivision, &strips[2]), 2500, 1e-9);
        assert_near(holds(&subdivision, &strips[3]), 2500, 1e-9);
        assert_int_equal(subdivision.line_count, 3);
        assert_int_equal(subdivision.vertex_count, 4 + 6);
        for (size_t i = 0; i < 4; i++)
            assert_int_equal(fw_region_size(&strips[i]), 4);
        struct fw_layout out = finish(&subdivision, strips, 4, 0);
        assert_near(out.line_m, 300, 1e-9);
        assert_near(out.moved_m, 300, 1e-9);
        fw_region_release(&whole);
        fw_layout_release(&out);
    }
}

/* The diagonal of a square ends at its corners: nothing is added. */
static void line_through_corners_adds_no_vertex(void **state)
{
    (void)state;
    for (int way = 0; way < 4; way++) {
        struct plot plot = {0};
        struct fw_subdivision subdivision;
        struct fw_region whole, parts[2];
        bool is_whole = false;
        const double half = 5000;
        make_rectangle(&plot, 100, 100, 0);
        begin(&subdivision, &whole, &plot, NULL);
        assert_int_equal(
            fw_subdivision_cut(
                &subdivision, &whole,
                &(struct fw_cuts){45 + 90 * way, &half, NULL, 1, FW_LINE_MOVED},
                parts, &is_whole, NULL),
            FW_OK);
        assert_true(is_whole);
        assert_int_equal(subdivision.vertex_count, 4);
        assert_int_equal(fw_region_size(&parts[0]), 3);
        assert_int_equal(fw_region_size(&parts[1]), 3);
        struct fw_layout out = finish(&subdivision, parts, 2, 0);
        assert_int_equal(out.added_count, 0);
        assert_near(out.line_m, 100 * sqrt(2), 1e-9);
        fw_region_release(&whole);
        fw_layout_release(&out);
    }
}

/* ---- one line from edge to edge ---- */

static void bent_line_parts_left_from_right(void **state)
{
    (void)state;
    struct plot plot = {0};
    struct fw_subdivision subdivision;
    struct fw_region whole, parts[2];
    /* from (25, 0) over (50, 50) and (20, 80) to (60, 100) */
    const struct fw_region_station from = {0, 0.25}, to = {2, 0.4};
    const struct fw_point by[] = {{50, 50}, {20, 80}};
    const double left_m2 =
        (25 + 50) / 2. * 50 + (50 + 20) / 2. * 30 + (20 + 60) / 2. * 20;
    make_rectangle(&plot, 100, 100, 0);
    begin(&subdivision, &whole, &plot, NULL);
    assert_int_equal(fw_subdivision_split(
                         &subdivision, &whole,
                         &(struct fw_split){from, to, by, 2, FW_LINE_STANDING},
                         parts, NULL),
                     FW_OK);
    assert_near(holds(&subdivision, &parts[0]), left_m2, 1e-9);
    assert_near(holds(&subdivision, &parts[1]), 10000 - left_m2, 1e-9);
    assert_int_equal(subdivision.line_count, 1);
    struct fw_layout out = finish(&subdivision, parts, 2, 0);
    assert_int_equal(out.line_count, 1);
    assert_int_equal(out.lines[0].count, 4);
    assert_int_equal(out.left[0], 0);
    assert_int_equal(out.right[0], 1);
    assert_near(out.line_m, hypot(25, 50) + hypot(30, 30) + hypot(40, 20),
                1e-9);
    fw_region_release(&whole);
    fw_layout_release(&out);
}

/* From corner to corner, and from one place of a side round to another. */
static void ends_may_be_corners_or_share_a_side(void **state)
{
    (void)state;
    static const struct {
        struct fw_region_station from, to;
        struct fw_point by[2];
        size_t by_count, added;
        double left_m2;
    } rows[] = {
        {{0, 0}, {2, 0}, {{0, 0}}, 0, 0, 5000},
        {{1, 0}, {2, 1}, {{0, 0}}, 0, 0, 5000},
        {{3, 0}, {1, 0.5}, {{0, 0}}, 0, 1, 2500},
        {{0, 0.2}, {0, 0.6}, {{20, 30}, {60, 30}}, 2, 4, 8800},
        {{0, 0.6}, {0, 0.2}, {{60, 30}, {20, 30}}, 2, 4, 1200},
        {{0, 0}, {0, 0.5}, {{25, 50}}, 1, 2, 8750},
    };
    for (size_t i = 0; i < COUNT(rows); i++) {
        struct plot plot = {0};
        struct fw_subdivision subdivision;
        struct fw_region whole, parts[2];
        make_rectangle(&plot, 100, 100, 0);
        begin(&subdivision, &whole, &plot, NULL);
        assert_int_equal(
            fw_subdivision_split(
                &subdivision, &whole,
                &(struct fw_split){rows[i].from, rows[i].to, rows[i].by,
                                   rows[i].by_count, FW_LINE_MOVED},
                parts, NULL),
            FW_OK);
        assert_int_equal(subdivision.vertex_count, 4 + rows[i].added);
        assert_near(holds(&subdivision, &parts[0]), rows[i].left_m2, 1e-9);
        assert_near(holds(&subdivision, &parts[1]), 10000 - rows[i].left_m2,
                    1e-9);
        struct fw_layout out = finish(&subdivision, parts, 2, 0);
        fw_region_release(&whole);
        fw_layout_release(&out);
    }
}

/* ---- cuts within cuts ---- */

/* Two blocks, each cut across; fences end on the block line from both sides,
 * apart from each other or at one place. */
static struct fw_layout two_blocks(struct plot *plot, const double *first,
                                   const double *second, size_t count)
{
    struct fw_subdivision subdivision;
    struct fw_region whole, blocks[2], paddocks[20];
    const double half = 5000;
    bool is_whole = false;
    make_rectangle(plot, 100, 100, 0);
    begin(&subdivision, &whole, plot, NULL);
    assert_int_equal(fw_subdivision_cut(
                         &subdivision, &whole,
                         &(struct fw_cuts){0, &half, NULL, 1, FW_LINE_STANDING},
                         blocks, &is_whole, NULL),
                     FW_OK);
    assert_int_equal(fw_subdivision_cut(&subdivision, &blocks[0],
                                        &(struct fw_cuts){90, NULL, first,
                                                          count, FW_LINE_MOVED},
                                        paddocks, &is_whole, NULL),
                     FW_OK);
    assert_int_equal(fw_subdivision_cut(&subdivision, &blocks[1],
                                        &(struct fw_cuts){90, NULL, second,
                                                          count, FW_LINE_MOVED},
                                        paddocks + count + 1, &is_whole, NULL),
                     FW_OK);
    for (size_t i = 0; i < 2; i++)
        fw_region_release(&blocks[i]);
    fw_region_release(&whole);
    return finish(&subdivision, paddocks, 2 * count + 2, 0);
}

static void ties_are_vertices_of_both_sides(void **state)
{
    (void)state;
    const double first[] = {25, 50, 75}, second[] = {10, 30, 60};
    struct plot plot = {0};
    struct fw_layout out = two_blocks(&plot, first, second, 3);
    assert_near(out.line_m, 100 + 6 * 50, 1e-9);
    assert_int_equal(out.added_count, 2 + 12);
    assert_int_equal(out.lines[0].role, FW_LINE_STANDING);
    assert_int_equal(out.lines[0].count, 2 + 6);
    fw_layout_release(&out);
}

static void fences_that_meet_on_a_line_share_their_tie(void **state)
{
    (void)state;
    for (int way = 0; way < 4; way++) {
        /* at the very place, or beside it by less or more than a nanometre */
        const double off_m = way == 0   ? 0
                             : way == 1 ? 1e-14
                             : way == 2 ? 5e-11
                                        : 1e-7;
        const double first[] = {25, 50, 75};
        const double second[] = {25 + off_m, 50 - off_m, 70};
        struct plot plot = {0};
        struct fw_layout out = two_blocks(&plot, first, second, 3);
        assert_near(out.line_m, 100 + 6 * 50, 1e-9);
        assert_int_equal(out.added_count, way < 3 ? 12 : 14);
        assert_int_equal(out.lines[0].count, way < 3 ? 6 : 8);
        fw_layout_release(&out);
    }
}

/* A lane of 4 m amid two rows: lines beside it have it on one side. */
static void lane_is_common_ground(void **state)
{
    (void)state;
    struct plot plot = {0};
    struct fw_subdivision subdivision;
    struct fw_region whole, parts[3], all[5];
    const double at[] = {48, 52}, half = 50;
    bool is_whole = false;
    make_rectangle(&plot, 100, 100, 0);
    begin(&subdivision, &whole, &plot, NULL);
    assert_int_equal(
        fw_subdivision_cut(&subdivision, &whole,
                           &(struct fw_cuts){0, NULL, at, 2, FW_LINE_LANE},
                           parts, &is_whole, NULL),
        FW_OK);
    for (size_t i = 0; i < 2; i++)
        assert_int_equal(fw_subdivision_cut(&subdivision, &parts[2 * i],
                                            &(struct fw_cuts){90, NULL, &half,
                                                              1, FW_LINE_MOVED},
                                            all + 2 * i, &is_whole, NULL),
                         FW_OK);
    all[4] = parts[1];
    fw_region_release(&parts[0]);
    fw_region_release(&parts[2]);
    struct fw_layout out = finish(&subdivision, all, 4, 1);
    assert_int_equal(out.paddock_count, 4);
    assert_int_equal(out.common_count, 1);
    assert_near(out.paddock_m2[4], 400, 1e-9);
    assert_near(out.standing_m, 200, 1e-9);
    assert_near(out.moved_m, 96, 1e-9);
    for (size_t l = 0; l < out.line_count; l++) {
        const struct fw_layout_line *line = &out.lines[l];
        if (line->role == FW_LINE_LANE)
            assert_true((out.left[line->first] == 4) !=
                        (out.right[line->first] == 4));
        assert_int_equal(line->to - line->from, 1);
    }
    fw_region_release(&whole);
    fw_layout_release(&out);
}

/* A tenth as much on the half beyond x = 50: cuts stand by what lies behind
 * them. */
static void unequal_ground_is_cut_by_what_it_holds(void **state)
{
    (void)state;
    struct plot plot = {0};
    struct fw_subdivision subdivision;
    struct fw_region whole, strips[4];
    struct fw_herbage *ground = NULL;
    bool is_whole = false;
    const struct fw_point poor[] = {
        {50, -10}, {110, -10}, {110, 110}, {50, 110}};
    const size_t start[] = {0, 4};
    const struct fw_herbage_zone zone = {poor, start, 1, 0.02};
    const double behind[] = {500, 1000, 1050}; /* of 1,100 kg */
    make_rectangle(&plot, 100, 100, 0);
    assert_int_equal(
        fw_herbage_zones(&plot.field, 0.2, &zone, 1, &ground, NULL, NULL),
        FW_OK);
    begin(&subdivision, &whole, &plot, ground);
    assert_near(holds(&subdivision, &whole), 1100, 1e-9);
    assert_int_equal(
        fw_subdivision_cut(&subdivision, &whole,
                           &(struct fw_cuts){0, behind, NULL, 3, FW_LINE_MOVED},
                           strips, &is_whole, NULL),
        FW_OK);
    assert_true(is_whole);
    assert_near(holds(&subdivision, &strips[0]), 500, 1e-9 * 500);
    assert_near(holds(&subdivision, &strips[1]), 500, 1e-9 * 500);
    assert_near(holds(&subdivision, &strips[2]), 50, 1e-9 * 50);
    assert_near(holds(&subdivision, &strips[3]), 50, 1e-9 * 50);
    struct fw_layout out = finish(&subdivision, strips, 4, 0);
    assert_near(out.paddock_m2[0], 2500, 1e-6);
    assert_near(out.paddock_m2[2], 2500, 1e-6);
    fw_region_release(&whole);
    fw_layout_release(&out);
    fw_herbage_free(ground);
}

/* Lines at 1 degree to a field of 1000 m by 5 m. Each crosses it in 286 m, and
 * its middle parts the field as a line square to it would. The half where they
 * begin bears 1 kg a metre, the other a tenth of that. */
static void lines_nearly_along_a_narrow_field_find_their_place(void **state)
{
    (void)state;
    struct plot plot = {0};
    struct fw_subdivision subdivision;
    struct fw_region whole, strips[4];
    struct fw_herbage *ground = NULL;
    bool is_whole = false;
    const double axis_deg = 84, behind[] = {200, 300, 530}; /* of 550 kg */
    struct fw_point poor[] = {{-10, -10}, {500, -10}, {500, 15}, {-10, 15}};
    for (size_t i = 0; i < COUNT(poor); i++)
        poor[i] = turned(poor[i], axis_deg);
    const size_t start[] = {0, 4};
    const struct fw_herbage_zone zone = {poor, start, 1, 0.02};
    make_rectangle(&plot, 1000, 5, axis_deg);
    assert_int_equal(
        fw_herbage_zones(&plot.field, 0.2, &zone, 1, &ground, NULL, NULL),
        FW_OK);
    begin(&subdivision, &whole, &plot, ground);
    assert_near(holds(&subdivision, &whole), 550, 1e-6);
    assert_int_equal(
        fw_subdivision_cut(
            &subdivision, &whole,
            &(struct fw_cuts){axis_deg + 91, behind, NULL, 3, FW_LINE_MOVED},
            strips, &is_whole, NULL),
        FW_OK);
    assert_true(is_whole);
    struct fw_layout out = finish(&subdivision, strips, 4, 0);
    assert_near(out.paddock_m2[0], 200 * 5, 1e-6);
    assert_near(out.paddock_m2[1], 100 * 5, 1e-6);
    assert_near(out.paddock_m2[2], 500 * 5, 1e-6);
    assert_near(out.paddock_m2[3], 200 * 5, 1e-6);
    assert_near(out.moved_m, 3 * 5 / sin(PI / 180), 1e-6);
    fw_region_release(&whole);
    fw_layout_release(&out);
    fw_herbage_free(ground);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(square_is_cut_into_strips),
        cmocka_unit_test(line_through_corners_adds_no_vertex),
        cmocka_unit_test(bent_line_parts_left_from_right),
        cmocka_unit_test(ends_may_be_corners_or_share_a_side),
        cmocka_unit_test(ties_are_vertices_of_both_sides),
        cmocka_unit_test(fences_that_meet_on_a_line_share_their_tie),
        cmocka_unit_test(lane_is_common_ground),
        cmocka_unit_test(unequal_ground_is_cut_by_what_it_holds),
        cmocka_unit_test(lines_nearly_along_a_narrow_field_find_their_place),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
