/* Fields of shapes that are hard to cut: wound up, and with rough outlines. */
#include "cutting/chord.h"
#include "layout_help.h"

/* A strip 20 m wide, wound up, 194 vertices in all. */
static void make_spiral(struct plot *plot, double gap_m, size_t turns)
{
    enum { side = 97 };
    const double wide_m = 20, pitch_m = wide_m + gap_m;
    struct fw_point points[2 * side];
    for (size_t i = 0; i < side; i++) {
        const double round = (double)(i * turns) / (side - 1);
        const double c = cos(2 * PI * round), s = sin(2 * PI * round);
        const double inner = pitch_m * (round + 2), outer = inner + wide_m;
        points[i] = (struct fw_point){outer * c, outer * s};
        points[2 * side - 1 - i] = (struct fw_point){inner * c, inner * s};
    }
    *plot = (struct plot){0};
    add_ring(plot, points, 2 * side);
}

/* Each paddock a little less than the one before, as in spring. */
static void wound_up_field_gets_a_layout(void **state)
{
    (void)state;
    static const double gaps_m[] = {0.5, 5, 40};
    static const size_t turns[] = {3, 8, 16};
    static struct plot plot;
    for (size_t g = 0; g < COUNT(gaps_m); g++)
        for (size_t t = 0; t < COUNT(turns); t++) {
            double target[64];
            make_spiral(&plot, gaps_m[g], turns[t]);
            for (size_t i = 0; i < COUNT(target); i++)
                target[i] = plot.field.area_m2 / 40 * (1 - 0.003 * (double)i);
            const struct fw_layout_request request = {.field = &plot.field,
                                                      .target = target,
                                                      .target_count =
                                                          COUNT(target)};
            struct fw_layout_list list = {0};
            struct fw_error err = {.text = ""};
            if (fw_layout_candidates(&request, &list, &err))
                fail_msg("%g m apart, %zu turns: %s", gaps_m[g], turns[t],
                         err.text);
            for (size_t i = 0; i < list.count; i++)
                assert_map(&request, &list.items[i]);
            fw_layout_list_release(&list);
        }
}

/* ---- corners ---- */

static void corners_that_jut_in_are_all_taken_where_they_are_few(void **state)
{
    (void)state;
    const struct fw_point l[] = {{0, 0},     {200, 0},  {200, 50},
                                 {50, 50.5}, {50, 200}, {0, 200}};
    size_t corners[FW_MOST_CORNERS];
    assert_int_equal(fw_chord_corners(l, COUNT(l), corners), 1);
    assert_int_equal(corners[0], 3);
}

/* Of a circle of 4,000 vertices, every second one a hand's breadth in, none is
 * lost that bounds a bay of 30 m. */
static void corners_of_a_rough_outline_are_those_of_its_bays(void **state)
{
    (void)state;
    enum { count = 4000, bays = 5 };
    static struct fw_point ring[count];
    size_t corners[FW_MOST_CORNERS];
    for (size_t i = 0; i < count; i++) {
        const double angle = 2 * PI * (double)i / count;
        const bool bay = i % (count / bays) == 401;
        const double radius_m = 300 - (bay ? 30 : i % 2 ? 0.1 : 0);
        ring[i] =
            (struct fw_point){radius_m * cos(angle), radius_m * sin(angle)};
    }
    const size_t found = fw_chord_corners(ring, count, corners);
    assert_true(found > FW_MOST_CORNERS / 2 && found <= FW_MOST_CORNERS);
    size_t in_bays = 0;
    for (size_t i = 0; i < found; i++) {
        assert_true(i == 0 || corners[i] > corners[i - 1]);
        assert_int_equal(corners[i] % 2, 1);
        in_bays += corners[i] % (count / bays) == 401;
    }
    assert_int_equal(in_bays, bays);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(wound_up_field_gets_a_layout),
        cmocka_unit_test(corners_that_jut_in_are_all_taken_where_they_are_few),
        cmocka_unit_test(corners_of_a_rough_outline_are_those_of_its_bays),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
