/* What today's weather comes to on strips of ten metres, whose paces and soft
 * parts a child can count. */
#include "plan_help.h"

#include "base/text.h"
#include "report/weather.h"
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

/* ---- frost, counted again ---- */

static bool is_in(const size_t *list, size_t count, size_t of)
{
    for (size_t i = 0; i < count; i++)
        if (list[i] == of)
            return true;
    return false;
}

/* By the days between which each line stands, of lines that go up in the frost
 * those that do not stand before it, and the posts of all others that do. */
static void frost_is(const struct fw_plan *plan, size_t move, int days,
                     const struct fw_today *today)
{
    const struct fw_time *time = &plan->time;
    size_t count = 0;
    int posts = 0, standing = 0;
    for (size_t l = 0; l < plan->fence_count; l++) {
        const bool stands =
            stands_after(plan, l, move > 0 ? move - 1 : FW_NONE);
        bool goes_up = false;
        for (size_t i = 0; i < time->standing_count; i++) {
            const struct fw_standing *of = &time->standings[i];
            goes_up |=
                of->line == l && of->up.move != FW_NONE &&
                of->up.move >= move &&
                time->moves[of->up.move].day < time->moves[move].day + days;
        }
        if (plan->fences[l].role == FW_FENCE_PERIMETER)
            continue;
        standing += stands ? plan->fences[l].posts : 0;
        assert_int_equal(is_in(today->ahead, today->ahead_count, l),
                         goes_up && !stands);
        count += goes_up && !stands;
        posts += goes_up && !stands ? plan->fences[l].posts : 0;
    }
    assert_int_equal(today->ahead_count, count);
    assert_int_equal(today->ahead_posts, posts);
    assert_int_equal(today->standing_posts, standing);
}

static void frost_on_any_day_counts_what_the_plan_sets_in_it(void **state)
{
    (void)state;
    static const char *const layouts[] = {"strips", "blocks", "strips"};
    static const int days[] = {1, 2, 5, 100};
    struct fw_error err;
    size_t twice = 0, looked = 0;
    for (size_t k = 0; k < 6; k++) {
        struct fw_farm *farm = strips(k % 2);
        fw_free(farm->layout);
        farm->layout = fw_strdup(layouts[k / 2]);
        if (k / 2 == 2) { /* in rounds, so that lines go up again */
            farm->fields[0].growth =
                (struct fw_growth){.rates = {{.kg_ha_day = 80}},
                                   .count = 1,
                                   .steady = true,
                                   .shape = FW_GROWTH_FLAT,
                                   .lat_deg = 58.3};
            farm->until_given = true;
            assert_int_equal(fw_date_read("2027-08-30", &farm->until_day, &err),
                             FW_OK);
        }
        struct fw_plan *plan = plan_of(farm);
        for (size_t i = 0; i < plan->time.standing_count; i++)
            for (size_t j = 0; j < i; j++)
                twice += plan->time.standings[i].line ==
                         plan->time.standings[j].line;
        for (size_t move = 0; move + 1 < plan->time.move_count; move++) {
            struct fw_weather frost = fw_weather_none();
            frost.cold_c = -12;
            frost.days = days[move % 4];
            struct fw_today today = today_of(plan, move, &frost);
            frost_is(plan, move, frost.days, &today);
            fw_today_release(&today);
            looked++;
        }
        fw_plan_free(plan);
        fw_farm_free(farm);
    }
    assert_true(twice > 10 && looked > 100);
}

/* ---- what is left of a block ---- */

/* Where as much is asked as is left of the block, all of it is theirs; a hair
 * less, and a fence is set. */
static void what_is_left_of_a_block_is_theirs_when_it_is_asked(void **state)
{
    (void)state;
    struct fw_farm *farm = strips(false);
    struct fw_plan *plan = plan_of(farm);
    struct fw_weather rain = fw_weather_none();
    rain.wet = true;
    size_t seen = 0;
    for (size_t move = 1; move + 3 < plan->time.move_count; move++) {
        /* The paddock behind the fence of the day, and those after it. */
        struct fw_today today = today_of(plan, move, &rain);
        const size_t bounds = today.bounds;
        const bool fenced = today.fence != FW_NONE;
        fw_today_release(&today);
        if (!fenced)
            continue;
        double left_kg = 0;
        for (size_t i = bounds; i < plan->paddock_count; i++)
            left_kg += plan->paddocks[i].usable_kg;
        const double more = left_kg / plan->paddocks[bounds].usable_kg - 1;
        if (!(more > 0.5 && more < 1.5))
            continue;
        const double asked[] = {more, more * (1 - 1e-9), more * (1 + 1e-9)};
        for (int i = 0; i < 3; i++) {
            plan->weather.wet_more = plan->weather.soft_more = asked[i];
            today = today_of(plan, move, &rain);
            assert_int_equal(today.rest, i != 1);
            fw_today_release(&today);
        }
        seen++;
    }
    assert_true(seen > 0);
    fw_plan_free(plan);
    fw_farm_free(farm);
}

/* ---- beside ---- */

static struct fw_point corner_of(const struct fw_plan *plan, size_t paddock,
                                 size_t i)
{
    const struct fw_plan_rings *rings = &plan->paddocks[paddock].rings;
    const size_t n = rings->ring_start[1];
    return plan->fields[0].vertices[rings->vertices[i % n]].plane;
}

/* Metres of the boundary of one that lie on that of the other, looked at every
 * quarter of a metre. */
static double shared_m(const struct fw_plan *plan, size_t a, size_t b)
{
    const double step_m = 0.25;
    double sum_m = 0;
    for (size_t i = 0; i < plan->paddocks[a].rings.ring_start[1]; i++) {
        const struct fw_point p = corner_of(plan, a, i);
        const struct fw_point q = corner_of(plan, a, i + 1);
        const double m = hypot(q.x_m - p.x_m, q.y_m - p.y_m);
        for (int n = 0; (n + 0.5) * step_m < m; n++) {
            const double t = (n + 0.5) * step_m / m;
            const double x = p.x_m + (q.x_m - p.x_m) * t;
            const double y = p.y_m + (q.y_m - p.y_m) * t;
            bool on = false;
            for (size_t k = 0; k < plan->paddocks[b].rings.ring_start[1]; k++) {
                const struct fw_point u = corner_of(plan, b, k);
                const struct fw_point v = corner_of(plan, b, k + 1);
                on |= fabs(hypot(x - u.x_m, y - u.y_m) +
                           hypot(x - v.x_m, y - v.y_m) -
                           hypot(u.x_m - v.x_m, u.y_m - v.y_m)) < 1e-5;
            }
            sum_m += on ? step_m : 0;
        }
    }
    return sum_m;
}

/* With a back fence they have their paddock alone, and another one lies beside
 * it when the two have a side in common. */
static void a_paddock_lies_beside_theirs_when_they_share_a_side(void **state)
{
    (void)state;
    size_t beside = 0, apart = 0;
    struct fw_farm *farm = strips(false);
    fw_free(farm->layout);
    farm->layout = fw_strdup("blocks");
    farm->direction_given = false;
    struct fw_plan *plan = plan_of(farm);
    for (size_t move = 1; move + 1 < plan->time.move_count; move++)
        for (size_t other = 0; other < plan->paddock_count; other++) {
            struct fw_weather heat = fw_weather_none();
            heat.heat_c = 34;
            for (size_t i = 0; i < plan->paddock_count; i++)
                plan->paddocks[i].shade = i == other ? FW_YES : FW_NO;
            struct fw_today today = today_of(plan, move, &heat);
            if (today.instead != FW_NONE) {
                assert_int_equal(today.instead, other);
                const size_t stay = plan->time.moves[move].stay;
                const size_t from = plan->time.stays[stay - 1].cell;
                const bool shares = shared_m(plan, other, from) > 0.3;
                assert_int_equal(today.beside, shares);
                beside += shares;
                apart += !shares;
            }
            fw_today_release(&today);
        }
    fw_plan_free(plan);
    fw_farm_free(farm);
    assert_true(beside > 2 && apart > 20);
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

/* ---- in words ---- */

/* The farm's own words of each weather that is, those of rain first. */
static void own_words_are_said_of_what_is(void **state)
{
    (void)state;
    static const char *const own[FW_WEATHER_COUNT] = {
        "look at feet", "straw in the corner", "trough under the oak",
        "dig out the gate"};
    struct fw_farm *farm = strips(false);
    struct fw_plan *plan = plan_of(farm);
    for (int kind = 0; kind < FW_WEATHER_COUNT; kind++)
        snprintf(plan->weather.say[kind], sizeof plan->weather.say[kind], "%s",
                 own[kind]);
    for (int is = 0; is < 16; is++) {
        struct fw_weather weather = fw_weather_none();
        struct fw_text lines = {0};
        weather.wet = is & 1;
        weather.cold_c = is & 2 ? 0 : (double)NAN;
        weather.heat_c = is & 4 ? 20 : (double)NAN;
        weather.snow_m = is & 8 ? 0.01 : (double)NAN;
        struct fw_today today = today_of(plan, 3, &weather);
        fw_report_say_today(&lines, &today);
        for (int kind = 0; kind < FW_WEATHER_COUNT; kind++) {
            const bool said =
                lines.bytes && strstr(lines.bytes, own[kind]) != NULL;
            assert_int_equal(said, is >> kind & 1);
        }
        fw_text_release(&lines);
        fw_today_release(&today);
    }
    fw_plan_free(plan);
    fw_farm_free(farm);
}

/* Where it is too soft, rain is what makes it so. */
static void rain_is_named_where_it_is_too_soft(void **state)
{
    (void)state;
    struct fw_farm *farm = strips(false);
    struct fw_plan *plan = plan_of(farm);
    struct fw_weather rain = fw_weather_none();
    rain.wet = true;
    size_t soft = 0;
    for (size_t move = 0; move + 1 < plan->time.move_count; move++) {
        struct fw_today today = today_of(plan, move, &rain);
        struct fw_text lines = {0};
        fw_report_say_today(&lines, &today);
        if (today.unsuited) {
            assert_non_null(strstr(lines.bytes, "too soft"));
            assert_non_null(strstr(lines.bytes, "rain"));
            soft++;
        }
        fw_text_release(&lines);
        fw_today_release(&today);
    }
    assert_true(soft > 3);
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
        cmocka_unit_test(frost_on_any_day_counts_what_the_plan_sets_in_it),
        cmocka_unit_test(what_is_left_of_a_block_is_theirs_when_it_is_asked),
        cmocka_unit_test(a_paddock_lies_beside_theirs_when_they_share_a_side),
        cmocka_unit_test(the_last_move_asks_for_nothing),
        cmocka_unit_test(own_words_are_said_of_what_is),
        cmocka_unit_test(rain_is_named_where_it_is_too_soft),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
