/* What today's weather comes to on strips of ten metres, whose paces and soft
 * parts a child can count. */
#include "plan_help.h"

#include "today/today.h"

static const double wet_east[][2] = {
    {145, -10}, {310, -10}, {310, 210}, {145, 210}};
static const double trees[][2] = {{285, 50}, {299, 50}, {299, 60}};

/* Strips whose fences run north and south, the gate in the west; soft from 145
 * m on, with shade at the far end. */
static struct fw_farm *strips(bool set_first)
{
    struct fw_farm *farm = farm_of(&rectangle, NULL);
    farm->layout = fw_strdup("strips");
    farm->direction_given = true;
    farm->pace_m = 0.8;
    farm->work_told = true;
    farm->work_order = set_first ? FW_WORK_SET_FIRST : FW_WORK_LEAPFROG;
    farm->weather = fw_weather_usual();
    farm->classes[0].coat = FW_WOOL;
    put_spot(farm->fields[0].shape, &farm->fields[0].gate, 0, 100);
    add_feature(farm, FW_ROLE_SOFT, true, wet_east, 4);
    add_feature(farm, FW_ROLE_SHADE, true, trees, 3);
    farm->mapped |= 1U << FW_ROLE_SOFT | 1U << FW_ROLE_SHADE;
    return farm;
}

static struct fw_today today_of(const struct fw_plan *plan, size_t move,
                                const struct fw_weather *weather)
{
    struct fw_today today;
    struct fw_error err;
    if (fw_today(plan, move, weather, &today, &err))
        fail_msg("%s", err.text);
    return today;
}

/* How far east its ground reaches from the field's west side. */
static void reach_of(const struct fw_plan *plan, size_t paddock, double *from_m,
                     double *to_m)
{
    const struct fw_plan_field *field = &plan->fields[0];
    const struct fw_plan_rings *rings = &plan->paddocks[paddock].rings;
    double west_m = HUGE_VAL;
    for (size_t i = 0; i < field->vertex_count; i++)
        west_m = fmin(west_m, field->vertices[i].plane.x_m);
    *from_m = HUGE_VAL;
    *to_m = -HUGE_VAL;
    for (size_t i = 0; i < rings->ring_start[rings->ring_count]; i++) {
        const double x_m = field->vertices[rings->vertices[i]].plane.x_m;
        *from_m = fmin(*from_m, x_m - west_m);
        *to_m = fmax(*to_m, x_m - west_m);
    }
}

static void each_paddock_knows_its_ground(void **state)
{
    (void)state;
    struct fw_farm *farm = strips(false);
    farm->keep_days[FW_KEEP_HEAT] = 2;
    struct fw_plan *plan = plan_of(farm);
    size_t kept = 0, half = 0;
    for (size_t i = 0; i < plan->paddock_count; i++) {
        const struct fw_plan_paddock *paddock = &plan->paddocks[i];
        double from_m, to_m;
        reach_of(plan, i, &from_m, &to_m);
        const double wanted = fmin(1, fmax(0, (to_m - 145) / (to_m - from_m)));
        assert_near(paddock->soft_share, wanted, 1e-6);
        half += wanted > 0 && wanted < 1;
        assert_int_equal(paddock->shade, to_m >= 285 - 5 ? FW_YES : FW_NO);
        assert_int_equal(paddock->shelter, FW_UNTOLD);
        if (paddock->keep[0]) {
            kept++;
            assert_int_equal(paddock->shade, FW_YES);
        }
    }
    assert_int_equal(kept, 2);
    assert_int_equal(half, 1);
    fw_plan_free(plan);
    fw_farm_free(farm);
}

/* A strip that is a tenth wider, on foot. */
static void the_fence_goes_as_far_as_the_width_asks(void **state)
{
    (void)state;
    struct fw_farm *farm = strips(false);
    struct fw_plan *plan = plan_of(farm);
    struct fw_weather rain = fw_weather_none();
    rain.wet = true;
    size_t seen = 0;
    for (size_t move = 1; move + 1 < plan->time.move_count; move++) {
        struct fw_today today = today_of(plan, move, &rain);
        if (today.fence != FW_NONE && today.known && !today.rest &&
            !today.line_ends) {
            double from_m, to_m;
            reach_of(plan, today.bounds, &from_m, &to_m);
            const double soft = plan->paddocks[today.bounds].soft_share;
            const double more = 0.10 + soft * 0.15;
            assert_near(today.more_share, more, 1e-9);
            const int paces = (int)ceil((to_m - from_m) * more / 0.8 - 1e-6);
            for (int end = 0; end < 2; end++)
                assert_int_equal(abs(today.ends[end] - today.meant[end]),
                                 paces);
            seen++;
        }
        fw_today_release(&today);
    }
    assert_true(seen > 15);
    fw_plan_free(plan);
    fw_farm_free(farm);
}

/* The fence of the paddock that they go into is set on the day itself. */
static void what_is_fenced_today_is_not_short(void **state)
{
    (void)state;
    for (int set_first = 0; set_first < 2; set_first++) {
        struct fw_farm *farm = strips(set_first);
        struct fw_plan *plan = plan_of(farm);
        struct fw_weather rain = fw_weather_none();
        rain.wet = true;
        struct fw_today today = today_of(plan, 3, &rain);
        assert_int_equal(today.bounds == today.to, set_first);
        assert_near(today.lasts_days, set_first ? 1 : 1 / 1.10, 1e-6);
        fw_today_release(&today);
        fw_plan_free(plan);
        fw_farm_free(farm);
    }
}

static void another_paddock_is_offered_where_one_suits(void **state)
{
    (void)state;
    for (int keeps = 0; keeps < 2; keeps++) {
        struct fw_farm *farm = strips(false);
        farm->keep_days[FW_KEEP_HEAT] = keeps;
        struct fw_plan *plan = plan_of(farm);
        struct fw_weather heat = fw_weather_none();
        heat.heat_c = 34;
        struct fw_today today = today_of(plan, 2, &heat);
        assert_true(today.unsuited && today.instead != FW_NONE);
        assert_int_equal(today.asks, FW_WEATHER_HEAT);
        const struct fw_plan_paddock *other = &plan->paddocks[today.instead];
        assert_int_equal(other->shade, FW_YES);
        assert_string_equal(other->keep, keeps ? "heat" : "");
        for (size_t i = today.to; !keeps && i < today.instead; i++)
            assert_int_equal(plan->paddocks[i].shade, FW_NO);
        /* far off, between its own two fences, of which the field's end is one
         * where it is the last */
        assert_false(today.beside);
        assert_int_equal(today.line_count,
                         today.instead + 1 == plan->paddock_count ? 1 : 2);
        for (size_t i = 0; i < today.line_count; i++)
            assert_true(fw_plan_bounds(plan, today.lines[i], today.instead));
        /* more than cool grass gives: water is counted */
        assert_true(today.water_l > plan->flock.water_l_day / 2);
        fw_today_release(&today);

        struct fw_weather rain = fw_weather_none();
        rain.wet = true;
        today = today_of(plan, 2, &rain); /* it is firm there */
        assert_false(today.unsuited);
        fw_today_release(&today);
        fw_plan_free(plan);
        fw_farm_free(farm);
    }
}

/* Where all that is left is soft, nothing is offered. */
static void nothing_is_offered_that_does_not_suit(void **state)
{
    (void)state;
    struct fw_farm *farm = strips(false);
    struct fw_plan *plan = plan_of(farm);
    struct fw_weather rain = fw_weather_none();
    rain.wet = true;
    for (size_t move = 0; move + 1 < plan->time.move_count; move++) {
        struct fw_today today = today_of(plan, move, &rain);
        const bool soft = plan->paddocks[today.to].soft_share >= 0.2;
        assert_int_equal(today.unsuited, soft);
        assert_true(today.instead == FW_NONE);
        fw_today_release(&today);
    }
    fw_plan_free(plan);
    fw_farm_free(farm);
}

/* A line a day, and those posts that a count of the fences has. */
static void lines_are_set_ahead_of_a_freeze(void **state)
{
    (void)state;
    struct fw_farm *farm = strips(false);
    struct fw_plan *plan = plan_of(farm);
    struct fw_weather frost = fw_weather_none();
    frost.cold_c = -12;
    frost.days = 4;
    struct fw_today today = today_of(plan, 5, &frost);
    assert_true(today.here.frozen);
    assert_int_equal(today.ahead_count, 4);
    int posts = 0;
    for (size_t i = 0; i < today.ahead_count; i++) {
        const struct fw_plan_fence *fence = &plan->fences[today.ahead[i]];
        /* leapfrog: today's bounds tomorrow's paddock */
        assert_int_equal(fence->from, today.to + 1 + i);
        posts += fence->posts;
    }
    assert_int_equal(today.ahead_posts, posts);
    /* behind them, about them, and ahead of the next */
    assert_true(today.standing_posts > 0);
    fw_today_release(&today);
    frost.cold_c = -4.9;
    today = today_of(plan, 5, &frost);
    assert_int_equal(today.ahead_count, 0);
    fw_today_release(&today);
    fw_plan_free(plan);
    fw_farm_free(farm);
}

static void deep_snow_wants_a_days_feed_in_hay(void **state)
{
    (void)state;
    struct fw_farm *farm = strips(false);
    struct fw_plan *plan = plan_of(farm);
    struct fw_weather snow = fw_weather_none();
    snow.snow_m = 0.3;
    struct fw_today today = today_of(plan, 5, &snow);
    assert_near(today.hay_kg, 80 * 2 / 0.85, 1e-9);
    fw_today_release(&today);
    /* Hay has what the cold asks for: no fence goes further for it. */
    snow.cold_c = -20;
    today = today_of(plan, 5, &snow);
    assert_true(today.here.more_share > 0);
    assert_int_equal(today.fence, FW_NONE);
    assert_true(today.hay_kg > 80 * 2 / 0.85);
    fw_today_release(&today);
    snow.snow_m = 0.1;
    today = today_of(plan, 5, &snow);
    assert_near(today.hay_kg, 0, 0);
    assert_true(today.fence != FW_NONE);
    fw_today_release(&today);
    fw_plan_free(plan);
    fw_farm_free(farm);
}

/* Out of the last field nothing is asked. */
static void the_last_move_asks_for_nothing(void **state)
{
    (void)state;
    struct fw_farm *farm = strips(false);
    struct fw_plan *plan = plan_of(farm);
    struct fw_weather all = {true, -20, 35, 0.5, 3};
    struct fw_today today = today_of(plan, plan->time.move_count - 1, &all);
    assert_true(today.to == FW_NONE && today.fence == FW_NONE);
    assert_int_equal(today.ahead_count + today.line_count, 0);
    fw_today_release(&today);
    fw_plan_free(plan);
    fw_farm_free(farm);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(each_paddock_knows_its_ground),
        cmocka_unit_test(the_fence_goes_as_far_as_the_width_asks),
        cmocka_unit_test(what_is_fenced_today_is_not_short),
        cmocka_unit_test(another_paddock_is_offered_where_one_suits),
        cmocka_unit_test(nothing_is_offered_that_does_not_suit),
        cmocka_unit_test(lines_are_set_ahead_of_a_freeze),
        cmocka_unit_test(deep_snow_wants_a_days_feed_in_hay),
        cmocka_unit_test(the_last_move_asks_for_nothing),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
