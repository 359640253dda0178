/* Fences that turn are offered beside other patterns where they do turn, and
 * not where they are parallel strips; and no pattern with too few paddocks. */
#include "figures/layout.h"
#include "random_plot.h"

/* The greatest turn of a fence against the first one. */
static double turn_deg(const struct fw_field *field,
                       const struct fw_layout *layout)
{
    const struct map_check check = {.field = field, .layout = layout};
    double first_deg = 0, most_deg = 0;
    for (size_t l = 0; l < layout->line_count; l++) {
        const struct fw_layout_line *line = &layout->lines[l];
        const struct fw_point a =
            map_point(&check, layout->line_vertices[line->first]);
        const struct fw_point b = map_point(
            &check, layout->line_vertices[line->first + line->count - 1]);
        const double deg = atan2(b.y_m - a.y_m, b.x_m - a.x_m) * 180 / PI;
        if (l == 0)
            first_deg = deg;
        most_deg = fmax(most_deg, fabs(remainder(deg - first_deg, 360)));
    }
    return most_deg;
}

static struct fw_layout_list list_of(const struct fw_field *field,
                                     size_t paddocks, const char *pattern)
{
    const double target = field->area_m2 / (double)paddocks;
    const struct fw_layout_request request = {.field = field,
                                              .target = &target,
                                              .target_count = 1,
                                              .last = FW_LAST_EVEN,
                                              .pattern = pattern};
    struct fw_layout_list list = {0};
    struct fw_error err = {0};
    const enum fw_status status = fw_layout_candidates(&request, &list, &err);
    if (status && status != FW_EPLAN)
        fail_msg("%s", err.text);
    return list;
}

static bool has(const struct fw_layout_list *list, const char *name)
{
    for (size_t i = 0; i < list->count; i++)
        if (strcmp(list->items[i].name, name) == 0)
            return true;
    return false;
}

static void fences_that_do_not_turn_are_not_offered(void **state)
{
    (void)state;
    uint64_t seed = seeded(2351);
    size_t turning = 0, parallel = 0;
    for (int i = 0; i < 24; i++) {
        struct plot plot = {.ring_start = {0}};
        if (i % 2)
            make_rectangle(&plot, draw(&seed, 200, 400), draw(&seed, 50, 100),
                           draw(&seed, 0, 360));
        else
            add_star(&plot, &seed, (struct fw_point){0, 0}, 200,
                     draw_count(&seed, 5, 12), false);
        const size_t paddocks = draw_count(&seed, 3, 8);
        struct fw_layout_list all = list_of(&plot.field, paddocks, NULL);
        struct fw_layout_list asked = list_of(&plot.field, paddocks, "turning");
        for (size_t k = 0; k < asked.count; k++) {
            const double deg = turn_deg(&plot.field, &asked.items[k]);
            if (fabs(deg - FW_TURNING_DEG) < 1e-6)
                continue;
            assert_int_equal(has(&all, asked.items[k].name),
                             deg > FW_TURNING_DEG);
            *(deg > FW_TURNING_DEG ? &turning : &parallel) += 1;
        }
        fw_layout_list_release(&all);
        fw_layout_list_release(&asked);
    }
    printf("# %zu turn, %zu do not\n", turning, parallel);
    assert_true(turning > 8 && parallel > 4);
}

/* With as few paddocks as a pattern is worth it for, and with one fewer. */
static void patterns_begin_at_their_fewest(void **state)
{
    (void)state;
    const struct {
        const char *pattern;
        size_t fewest;
    } patterns[] = {
        {"lane", FW_LANE_FEWEST}, {"blocks", FW_BLOCKS_FEWEST}, {"turning", 2}};
    struct plot plot = {.ring_start = {0}};
    make_rectangle(&plot, 300, 200, 20);
    for (size_t i = 0; i < COUNT(patterns); i++)
        for (size_t fewer = 0; fewer < 2; fewer++) {
            const size_t wanted = patterns[i].fewest - fewer;
            struct fw_layout_list list =
                list_of(&plot.field, wanted, patterns[i].pattern);
            if ((list.count > 0) != (fewer == 0))
                fail_msg("%s: %zu of %zu paddocks", patterns[i].pattern,
                         list.count, wanted);
            for (size_t k = 0; k < list.count; k++)
                assert_int_equal(list.items[k].paddock_count, wanted);
            fw_layout_list_release(&list);
        }
}

/* A lane along a side lies along the one that the water stands at, though
 * another one be longer; without water along the longest. */
static void lane_along_a_side_comes_by_the_water(void **state)
{
    (void)state;
    const struct fw_point east = {300, 100}, north = {150, 200};
    const struct {
        const struct fw_point *water;
        double deg; /* of the side, to half a turn */
    } cases[] = {{NULL, 0}, {&north, 0}, {&east, 90}};
    struct plot plot = {.ring_start = {0}};
    make_rectangle(&plot, 300, 200, 0);
    for (size_t i = 0; i < COUNT(cases); i++) {
        const double target = plot.field.area_m2 / 12;
        const struct fw_layout_request request = {.field = &plot.field,
                                                  .target = &target,
                                                  .target_count = 1,
                                                  .last = FW_LAST_EVEN,
                                                  .water = cases[i].water,
                                                  .pattern = "lane"};
        struct fw_layout_list list = {0};
        size_t along = 0;
        assert_int_equal(fw_layout_candidates(&request, &list, NULL), FW_OK);
        for (size_t k = 0; k < list.count; k++) {
            const char *name = list.items[k].name;
            if (strcmp(name + strlen(name) - 2, "-0") != 0)
                continue;
            along++;
            assert_near(
                remainder(list.items[k].direction_deg - cases[i].deg, 180), 0,
                1e-9);
        }
        assert_int_equal(along, 1);
        fw_layout_list_release(&list);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(fences_that_do_not_turn_are_not_offered),
        cmocka_unit_test(patterns_begin_at_their_fewest),
        cmocka_unit_test(lane_along_a_side_comes_by_the_water),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
