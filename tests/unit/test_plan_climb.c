/* What the way to water climbs, over ground of closed form. */
#include "choice/run.h"
#include "relief.h"
#include "water/water.h"

#include <foldwright/figures.h>

static const double pi = 3.14159265358979323846;

static double tilted(double x, double y, double size)
{
    return size * (0.3 * x + 0.2 * y);
}

/* Three waves along 300 m, `size` from top to bottom, each 0 at its ends. */
static double waves(double x, double y, double size)
{
    (void)y;
    return size * (1 - cos(2 * pi * x / 100)) / 2;
}

/* A tilted plane with a ripple of that size on it, a metre and a half a wave.
 */
static double rippled(double x, double y, double size)
{
    (void)y;
    return 0.1 * x + size * ((int)floor(x / 3) % 2);
}

static double unknown_in_the_east(double x, double y, double size)
{
    (void)y;
    return x < 150 ? size * x : (double)NAN;
}

static struct fw_point at(const struct fw_farm *farm, double x, double y)
{
    const struct fw_point zero = fw_plane_forward(
        &farm->fields[0].shape->plane, (struct fw_lonlat){25.5, 58.3});
    return (struct fw_point){zero.x_m + x, zero.y_m + y};
}

static void climbs(relief height, double size, double cell_m,
                   const double (*xy)[2], size_t count, double up_m,
                   double down_m, double tolerance_m)
{
    struct fw_farm *farm = farm_of(&rectangle, NULL);
    struct fw_point line[8], back[8];
    double up, down;
    set_heights(farm, height, size, cell_m);
    for (size_t i = 0; i < count; i++)
        back[count - 1 - i] = line[i] = at(farm, xy[i][0], xy[i][1]);
    const struct fw_raster *heights = farm->fields[0].heights;
    assert_true(fw_plan__climb(heights, line, count, &up, &down));
    assert_near(up, up_m, tolerance_m);
    assert_near(down, down_m, tolerance_m);
    /* Whoever walks back goes up where the other went down. */
    assert_true(fw_plan__climb(heights, back, count, &up, &down));
    assert_near(up, down_m, tolerance_m);
    assert_near(down, up_m, tolerance_m);
    fw_farm_free(farm);
}

/* Up by 17 and by 18 m, then down by 15. */
static void a_way_on_a_tilted_plane_climbs_what_its_ends_differ(void **state)
{
    (void)state;
    const double way[][2] = {{20, 20}, {50, 60}, {50, 60}, {110, 60}, {70, 45}};
    climbs(tilted, 1, 1, way, 5, 35, 15, 2e-3);
    climbs(tilted, 1, 10, way, 5, 35, 15, 2e-3);
    /* A rise that is no more than wavering is told between the two ends. */
    climbs(tilted, 0.01, 1, way, 4, 0.35, 0, 2e-3);
}

static void waves_are_climbed_one_by_one(void **state)
{
    (void)state;
    const double way[][2] = {{0, 90}, {300, 90}};
    climbs(waves, 8, 1, way, 2, 24, 24, 0.02);
    climbs(waves, 0.6, 1, way, 2, 1.8, 1.8, 0.01);
    climbs(waves, 0.45, 1, way, 2, 0, 0, 0.01);
}

/* 240 m at 1 in 10; the cells of the ripple are no climb. */
static void wavering_heights_are_no_climb(void **state)
{
    (void)state;
    const double way[][2] = {{31.5, 90}, {271.5, 90}};
    climbs(rippled, 0, 1, way, 2, 24, 0, 2e-3);
    climbs(rippled, 0.4, 1, way, 2, 24, 0, 0.81);
}

static void a_way_over_ground_without_heights_is_not_told(void **state)
{
    (void)state;
    struct fw_farm *farm = farm_of(&rectangle, NULL);
    double up = 7, down = 8;
    set_heights(farm, unknown_in_the_east, 0.1, 1);
    const struct fw_point line[] = {at(farm, 50, 90), at(farm, 250, 90)};
    assert_false(fw_plan__climb(farm->fields[0].heights, line, 2, &up, &down));
    assert_true(up == 7 && down == 8);
    fw_farm_free(farm);
}

/* ---- in a plan ---- */

static const struct fw_plan_paddock *first_of(const struct fw_plan *plan)
{
    return &plan->paddocks[plan->time.stays[0].cell];
}

/* On a plane a straight way goes up there or back, by what its ends differ; a
 * way that turns has no less in all. */
static void look_at_paddocks(const struct fw_farm *farm,
                             const struct fw_plan *plan, double size)
{
    const struct fw_point zero = at(farm, 0, 0);
    for (size_t i = 0; i < plan->paddock_count; i++) {
        const struct fw_plan_paddock *paddock = &plan->paddocks[i];
        const struct fw_plan_field *field = &plan->fields[paddock->field];
        const struct fw_point water = plan->waters[paddock->water].place.plane;
        double most_m = 0;
        assert_true(paddock->walk_known);
        for (size_t v = 0; v < paddock->rings.ring_start[1]; v++) {
            const struct fw_point from =
                field->vertices[paddock->rings.vertices[v]].plane;
            const double rise_m =
                tilted(water.x_m - zero.x_m, water.y_m - zero.y_m, size) -
                tilted(from.x_m - zero.x_m, from.y_m - zero.y_m, size);
            if (fabs(rise_m) > fabs(most_m))
                most_m = rise_m;
        }
        assert_near(fabs(paddock->climb_to_m - paddock->climb_back_m),
                    fabs(most_m), 5e-3);
        assert_near(fmin(paddock->climb_to_m, paddock->climb_back_m), 0, 1e-9);
    }
}

static void climbs_of_a_plan_on_a_tilted_plane_have_a_closed_form(void **state)
{
    (void)state;
    for (int open = 0; open < 2; open++) {
        struct fw_farm *farm = farm_of(&rectangle, NULL);
        set_heights(farm, tilted, 0.5, 1);
        farm->back_fence = !open;
        if (open) {
            farm->fields[0].water.given = true;
            farm->fields[0].water.point = at(farm, 1, 1);
            farm->water_moves = false;
        }
        struct fw_plan *plan = plan_of(farm);
        look_at_paddocks(farm, plan, 0.5);
        fw_plan_free(plan);
        fw_farm_free(farm);
    }
}

static void without_heights_no_climb_is_told(void **state)
{
    (void)state;
    struct fw_farm *farm = farm_of(&rectangle, NULL);
    struct fw_plan *plan = plan_of(farm);
    assert_true(first_of(plan)->walk_known);
    assert_true(isnan(first_of(plan)->climb_to_m));
    assert_true(isnan(first_of(plan)->climb_back_m));
    fw_plan_free(plan);
    fw_farm_free(farm);
}

/* ---- what is said ---- */

/* AFRC 1993: 28 J/kg a metre upwards, 2.6 J/kg a metre along; there and back 26
 * m up, so that one way is as 13 x 10.77 m longer. */
static void a_climb_counts_as_the_way_that_tires_them_as_much(void **state)
{
    (void)state;
    assert_near(fw_water_level_m(180, 22, 4), 180 + 13 * 28 / 2.6, 1e-9);
    assert_near(fw_water_level_m(180, (double)NAN, (double)NAN), 180, 0);
    assert_false(fw_water_climbs(180, (double)NAN, (double)NAN));
    assert_false(fw_water_climbs(280, 5, 0));
    assert_true(fw_water_climbs(260, 5, 0));
}

static void a_way_that_is_far_for_its_climb_is_named(void **state)
{
    (void)state;
    struct fw_farm *farm = farm_of(&rectangle, NULL);
    bool named = false;
    set_heights(farm, tilted, 4, 1);
    struct fw_plan *plan = plan_of(farm);
    for (size_t i = 0; i < plan->notes.count; i++)
        named |= strstr(plan->notes.items[i].text,
                        "of climb on the way there") != NULL;
    for (size_t i = 0; i < plan->paddock_count; i++)
        assert_true(plan->paddocks[i].walk_max_m < 250);
    assert_true(named);
    fw_plan_free(plan);
    fw_farm_free(farm);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_way_on_a_tilted_plane_climbs_what_its_ends_differ),
        cmocka_unit_test(waves_are_climbed_one_by_one),
        cmocka_unit_test(wavering_heights_are_no_climb),
        cmocka_unit_test(a_way_over_ground_without_heights_is_not_told),
        cmocka_unit_test(climbs_of_a_plan_on_a_tilted_plane_have_a_closed_form),
        cmocka_unit_test(without_heights_no_climb_is_told),
        cmocka_unit_test(a_climb_counts_as_the_way_that_tires_them_as_much),
        cmocka_unit_test(a_way_that_is_far_for_its_climb_is_named),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
