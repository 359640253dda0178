/* Fields with ponds on the subdivision: lines that pass them, and rings that
 * touch.
 */
#include "subdivision_help.h"

static void make_square_about_a_pond(struct plot *plot)
{
    const struct fw_point pond[] = {{40, 40}, {40, 60}, {60, 60}, {60, 40}};
    make_rectangle(plot, 100, 100, 0);
    add_ring(plot, pond, 4);
}

/* One line across the pond is two pieces of fence and parts the ground in two
 * that go round it; where two lines pass it, what lies between is in pieces
 * and nothing is cut. */
static void line_may_pass_a_pond(void **state)
{
    (void)state;
    struct plot plot = {0};
    struct fw_subdivision subdivision;
    struct fw_region whole, parts[3];
    bool is_whole = true;
    const double twice[] = {45, 55}, once = 50;
    make_square_about_a_pond(&plot);
    begin(&subdivision, &whole, &plot, NULL);
    assert_int_equal(
        fw_subdivision_cut(&subdivision, &whole,
                           &(struct fw_cuts){0, NULL, twice, 2, FW_LINE_MOVED},
                           parts, &is_whole, NULL),
        FW_OK);
    assert_false(is_whole);
    assert_int_equal(subdivision.vertex_count, 8);
    assert_int_equal(subdivision.support_count, 8);
    assert_int_equal(subdivision.line_count, 0);
    assert_int_equal(fw_subdivision_cut(
                         &subdivision, &whole,
                         &(struct fw_cuts){0, NULL, &once, 1, FW_LINE_STANDING},
                         parts, &is_whole, NULL),
                     FW_OK);
    assert_true(is_whole);
    assert_int_equal(subdivision.line_count, 2);
    struct fw_layout out = finish(&subdivision, parts, 2, 0);
    assert_near(out.standing_m, 80, 1e-9);
    assert_near(out.paddock_m2[0], 4800, 1e-9);
    fw_region_release(&whole);
    fw_layout_release(&out);
}

/* A pond within a strip is a hole of it. */
static void pond_stays_whole_in_its_strip(void **state)
{
    (void)state;
    struct plot plot = {0};
    struct fw_subdivision subdivision;
    struct fw_region whole, parts[3];
    bool is_whole = false;
    const double at[] = {30, 70};
    make_square_about_a_pond(&plot);
    begin(&subdivision, &whole, &plot, NULL);
    assert_int_equal(
        fw_subdivision_cut(&subdivision, &whole,
                           &(struct fw_cuts){90, NULL, at, 2, FW_LINE_MOVED},
                           parts, &is_whole, NULL),
        FW_OK);
    assert_true(is_whole);
    assert_int_equal(parts[0].ring_count, 1);
    assert_int_equal(parts[1].ring_count, 2);
    assert_near(holds(&subdivision, &parts[1]), 3600, 1e-9);
    struct fw_layout out = finish(&subdivision, parts, 3, 0);
    assert_int_equal(out.ring_count, 4);
    fw_region_release(&whole);
    fw_layout_release(&out);
}

/* Along the edge of the pond: that side is no fence. */
static void line_along_a_pond_is_fenced_beside_it_only(void **state)
{
    (void)state;
    struct plot plot = {0};
    struct fw_subdivision subdivision;
    struct fw_region whole, parts[2];
    bool is_whole = false;
    const double at = 40;
    make_square_about_a_pond(&plot);
    begin(&subdivision, &whole, &plot, NULL);
    assert_int_equal(
        fw_subdivision_cut(&subdivision, &whole,
                           &(struct fw_cuts){0, NULL, &at, 1, FW_LINE_MOVED},
                           parts, &is_whole, NULL),
        FW_OK);
    assert_true(is_whole);
    assert_int_equal(subdivision.line_count, 2);
    assert_near(holds(&subdivision, &parts[0]), 4000, 1e-9);
    struct fw_layout out = finish(&subdivision, parts, 2, 0);
    assert_near(out.line_m, 80, 1e-9);
    fw_region_release(&whole);
    fw_layout_release(&out);
}

static void pond_goes_with_the_side_it_is_on(void **state)
{
    (void)state;
    for (int side = 0; side < 2; side++) {
        struct plot plot = {0};
        struct fw_subdivision subdivision;
        struct fw_region whole, parts[2];
        const double t = side ? 0.7 : 0.2;
        make_square_about_a_pond(&plot);
        begin(&subdivision, &whole, &plot, NULL);
        assert_int_equal(
            fw_subdivision_split(
                &subdivision, &whole,
                &(struct fw_split){(struct fw_region_station){0, t},
                                   (struct fw_region_station){2, 1 - t}, NULL,
                                   0, FW_LINE_MOVED},
                parts, NULL),
            FW_OK);
        assert_int_equal(parts[side == 0].ring_count, 2);
        assert_int_equal(parts[side == 1].ring_count, 1);
        assert_near(holds(&subdivision, &parts[0]), 1e4 * t - (side ? 400 : 0),
                    1e-9);
        struct fw_layout out = finish(&subdivision, parts, 2, 0);
        fw_region_release(&whole);
        fw_layout_release(&out);
    }
}

/* A pond that touches the field's edge in a point belongs where the rest of
 * it lies, whichever of its points comes first. */
static void pond_at_the_edge_goes_with_its_side(void **state)
{
    (void)state;
    static const struct fw_point touching[] = {
        {70, 100}, {90, 60}, {70, 40}, {50, 60}};
    for (size_t first = 0; first < 4; first++)
        for (int side = 0; side < 2; side++) {
            struct plot plot = {0};
            struct fw_point pond[4];
            struct fw_subdivision subdivision;
            struct fw_region whole, parts[2];
            for (size_t i = 0; i < 4; i++) {
                pond[i] = touching[(first + i) % 4];
                if (side) /* turned about, the pond lies left of the line */
                    pond[i] =
                        (struct fw_point){100 - pond[i].x_m, 100 - pond[i].y_m};
            }
            const double t = side ? 0.6 : 0.4;
            make_rectangle(&plot, 100, 100, 0);
            add_ring(&plot, pond, 4);
            begin(&subdivision, &whole, &plot, NULL);
            assert_int_equal(
                fw_subdivision_split(
                    &subdivision, &whole,
                    &(struct fw_split){(struct fw_region_station){0, t},
                                       (struct fw_region_station){2, 1 - t},
                                       NULL, 0, FW_LINE_MOVED},
                    parts, NULL),
                FW_OK);
            assert_near(holds(&subdivision, &parts[0]), side ? 4800 : 4000,
                        1e-9);
            assert_near(holds(&subdivision, &parts[1]), side ? 4000 : 4800,
                        1e-9);
            struct fw_layout out = finish(&subdivision, parts, 2, 0);
            fw_region_release(&whole);
            fw_layout_release(&out);
        }
}

/* Ponds that touch the field's edge at a corner of both, with a corner in the
 * middle of a side, and each other: parts run from ring to ring there. Each
 * half of the field is halved again. */
static void rings_that_touch_keep_their_sides(void **state)
{
    (void)state;
    const struct fw_point ring[] = {{0, 0},     {60, 0},   {60, 30}, {100, 30},
                                    {100, 100}, {40, 100}, {0, 100}};
    const struct fw_point corner[] = {{60, 30}, {55, 30}, {60, 38}};
    const struct fw_point side[] = {{20, 100}, {25, 90}, {20, 80}, {15, 90}};
    const struct fw_point other[] = {{25, 90}, {35, 92}, {30, 85}};
    size_t made = 0;
    for (int deg = 0; deg < 360; deg++) {
        struct plot plot = {0};
        struct fw_subdivision subdivision;
        struct fw_region whole, halves[2], quarters[4];
        bool is_whole = false;
        size_t done = 0;
        add_ring(&plot, ring, COUNT(ring));
        add_ring(&plot, corner, COUNT(corner));
        add_ring(&plot, side, COUNT(side));
        add_ring(&plot, other, COUNT(other));
        begin(&subdivision, &whole, &plot, NULL);
        const double half = plot.field.area_m2 * (0.3 + deg % 5 * 0.1);
        assert_int_equal(
            fw_subdivision_cut(
                &subdivision, &whole,
                &(struct fw_cuts){deg, &half, NULL, 1, FW_LINE_STANDING},
                halves, &is_whole, NULL),
            FW_OK);
        for (size_t i = 0; is_whole && i < 2; i++) {
            bool cut = false;
            const double quarter = holds(&subdivision, &halves[i]) / 2;
            assert_int_equal(
                fw_subdivision_cut(&subdivision, &halves[i],
                                   &(struct fw_cuts){deg + 77, &quarter, NULL,
                                                     1, FW_LINE_MOVED},
                                   quarters + done, &cut, NULL),
                FW_OK);
            if (cut)
                fw_region_release(&halves[i]);
            else
                quarters[done] = halves[i];
            done += cut ? 2 : 1;
        }
        if (is_whole) {
            struct fw_layout out = finish(&subdivision, quarters, done, 0);
            fw_layout_release(&out);
            made++;
        } else {
            fw_subdivision_release(&subdivision);
        }
        fw_region_release(&whole);
    }
    assert_true(made > 90);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(line_may_pass_a_pond),
        cmocka_unit_test(pond_stays_whole_in_its_strip),
        cmocka_unit_test(line_along_a_pond_is_fenced_beside_it_only),
        cmocka_unit_test(pond_goes_with_the_side_it_is_on),
        cmocka_unit_test(pond_at_the_edge_goes_with_its_side),
        cmocka_unit_test(rings_that_touch_keep_their_sides),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
