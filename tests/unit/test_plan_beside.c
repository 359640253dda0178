/* Limits of what is found beside a field of 300 by 200 m: each side of each
 * distance, length, angle and height, all round the field and about the
 * energizer. */
#include "field_around.h"

/* Metres beyond the field's southern, eastern, northern or western side: a line
 * along it from one place on that side to another. */
static void add_beside(struct fw_farm *farm, enum fw_role role, double kv,
                       int side, double away_m, double from_m, double to_m)
{
    const double out_m = side == 1 ? 300 + away_m : 200 + away_m;
    const double at_m = side == 0 || side == 3 ? -away_m : out_m;
    if (side % 2 == 0)
        ADD(farm, role, LINE, kv, {from_m, at_m}, {to_m, at_m});
    else
        ADD(farm, role, LINE, kv, {at_m, from_m}, {at_m, to_m});
}

/* ---- parallel runs ---- */

static void a_run_counts_from_its_length_and_distance_on(void **state)
{
    (void)state;
    static const struct {
        double kv, away_m, long_m;
        const char *rule; /* NULL: none */
    } rows[] = {
        {0.4, 4.99, 100.5, "power-line-beside-low"},
        {0.4, 4.99, 99.5, NULL},
        {0.4, 5.01, 100.5, NULL},
        {1.5, 14.99, 100.5, "power-line-beside-middle"},
        {20, 14.99, 99.5, NULL},
        {20, 15.01, 150, NULL},
        {110, 49.99, 100.5, "power-line-beside-high"},
        {110, 49.99, 99.5, NULL},
        {110, 50.01, 150, NULL},
        {-1, 49.99, 100.5, "power-line-beside-high"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct fw_farm *farm = farm_of();
        add_beside(farm, FW_ROLE_POWER_LINE, rows[i].kv, 0, rows[i].away_m, 50,
                   50 + rows[i].long_m);
        struct fw_plan *plan = plan_of(farm);
        size_t runs = 0;
        for (size_t k = 0; k < plan->finding_count; k++)
            runs +=
                strncmp(plan->findings[k].rule, "power-line-beside", 17) == 0 ||
                strncmp(plan->findings[k].rule, "power-line-far", 14) == 0;
        assert_int_equal(runs, rows[i].rule != NULL);
        if (rows[i].rule) {
            const struct fw_plan_finding *found = finding(plan, rows[i].rule);
            char all[40];
            snprintf(all, sizeof all, "; %.1f m in all", rows[i].long_m);
            if (!strstr(found->text, all))
                fail_msg("%s; expected %s", found->text, all);
            assert_near(found->distance_m, rows[i].away_m, off_m);
            assert_int_equal(found->level, FW_LEVEL_WARNING);
            assert_near(found->place.file.y, 0, off_m);
        }
        fw_plan_free(plan);
    }
}

/* Of the boundary all that runs beside counts, of the moved lines the longest
 * alone; over a kilometre is worse. */
static void all_of_the_boundary_and_one_moved_line_make_a_run(void **state)
{
    (void)state;
    for (int round = 0; round < 2; round++) {
        struct fw_farm *farm = farm_of();
        const size_t sides = round ? 4 : 3; /* the northern one is the last */
        for (size_t k = 0; k < sides; k++) {
            static const int order[4] = {1, 0, 3, 2};
            add_beside(farm, FW_ROLE_POWER_LINE, 110, order[k], 19.5, 0,
                       order[k] % 2 ? 200 : 300);
        }
        struct fw_plan *plan = plan_of(farm);
        /* They are one line by their name. */
        const char *rule =
            round ? "power-line-far-high" : "power-line-beside-high";
        const struct fw_plan_finding *found = finding(plan, rule);
        assert_int_equal(told(plan, rule), 1);
        assert_int_equal(told(plan, round ? "power-line-beside-high"
                                          : "power-line-far-high"),
                         0);
        assert_int_equal(found->level,
                         round ? FW_LEVEL_DANGER : FW_LEVEL_WARNING);
        /* Moved lines run from south to north, 200 m; those within 50 m of the
         * western or the eastern line do so beside it. */
        const char *all = round ? "; 1200 m in all" : "; 900 m in all";
        if (!strstr(found->text, all))
            fail_msg("%s; expected %s", found->text, all);
        fw_plan_free(plan);
    }
}

static void a_run_is_told_up_to_thirty_degrees(void **state)
{
    (void)state;
    for (int off_deg = 29; off_deg <= 31; off_deg += 2) {
        struct fw_farm *farm = farm_of();
        const double rise = tan(off_deg / 57.29577951308232);
        ADD(farm, FW_ROLE_POWER_LINE, LINE, 110, {20, -10},
            {100, -10 - 80 * rise});
        ADD(farm, FW_ROLE_POWER_LINE, LINE, 110, {130, -10},
            {210, -10 - 80 * rise});
        struct fw_plan *plan = plan_of(farm);
        /* 80 m of each, as they lie square to the fence. */
        assert_int_equal(told(plan, "power-line-beside-high"), off_deg < 30);
        fw_plan_free(plan);
    }
}

/* ---- all round ---- */

static void whatever_side_it_lies_on_it_is_found(void **state)
{
    (void)state;
    for (int side = 0; side < 4; side++)
        for (int far = 0; far < 2; far++) {
            struct fw_farm *farm = farm_of();
            farm->classes[0].state = FW_LACTATION_SINGLE;
            for (size_t i = 0; i < 4; i++)
                farm->fields[0].sides[i].holds = FW_HOLDS_NOTHING;
            add_beside(farm, FW_ROLE_POWER_LINE, 110, side, far ? 50.01 : 49.99,
                       -50, 350);
            add_beside(farm, FW_ROLE_RAILWAY, -1, side, far ? 20.01 : 19.99, 20,
                       120);
            add_beside(farm, FW_ROLE_BUILDING, -1, side, far ? 20.01 : 19.99,
                       150, 160);
            struct fw_plan *plan = plan_of(farm);
            assert_int_equal(told(plan, "power-line-beside-high"), !far);
            assert_int_equal(told(plan, "railway-held"), !far);
            assert_int_equal(told(plan, "building-near"), !far);
            fw_plan_free(plan);
        }
}

/* ---- the energizer ---- */

static void put_energizer(struct fw_farm *farm, double x, double y)
{
    struct fw_crs *crs = crs_of();
    const struct fw_xy at = {x, y};
    farm->energizer.given = true;
    fw_crs_to_lonlat(crs, &at, &farm->energizer.lonlat, 1, NULL, NULL);
    fw_crs_free(crs);
    farm->energizer.point =
        fw_plane_forward(&farm->fields[0].shape->plane, farm->energizer.lonlat);
}

/* It may stand far from the field, on any hand. */
static void what_is_near_the_energizer_is_found_wherever_it_stands(void **state)
{
    (void)state;
    static const double places[4][2] = {
        {150, -400}, {900, 100}, {150, 700}, {-600, 100}};
    for (size_t i = 0; i < 4; i++)
        for (int far = 0; far < 3; far++) { /* 2: nobody said where it is */
            struct fw_farm *farm = farm_of();
            const double x = places[i][0], y = places[i][1];
            const double away_m = far == 1 ? 10.01 : 9.99;
            if (far < 2)
                put_energizer(farm, x, y);
            ADD(farm, FW_ROLE_BUILDING, AREA, -1, {x + away_m, y - 5},
                {x + away_m + 5, y - 5}, {x + away_m + 5, y + 5},
                {x + away_m, y + 5});
            ADD(farm, FW_ROLE_TELECOM, LINE, -1, {x - 20, y - away_m},
                {x + 20, y - away_m});
            ADD(farm, FW_ROLE_POWER_LINE, LINE, 20, {x - 20, y + away_m},
                {x + 20, y + away_m});
            struct fw_plan *plan = plan_of(farm);
            assert_int_equal(told(plan, "building-earth"), far == 0);
            assert_int_equal(told(plan, "telecom-earth"), far == 0);
            assert_int_equal(told(plan, "power-line-earth"), far == 0);
            if (far == 0) {
                const struct fw_plan_finding *found =
                    finding(plan, "telecom-earth");
                assert_near(found->distance_m, 9.99, off_m);
                assert_near(found->wanted_m, 10, 0);
                assert_int_equal(found->fence, FW_NONE);
                assert_near(found->place.file.x, x, 0.1);
                assert_near(found->place.file.y, y, 0.1);
            }
            fw_plan_free(plan);
        }
}

/* ---- heights ---- */

/* 2 m is what older codes allow; over it the height has a line of its own
 * beside that of the distance. */
static void wires_over_two_metres_are_told_beside_the_distance(void **state)
{
    (void)state;
    static const struct {
        double top_m, away_m;
        bool near, height;
        enum fw_level level;
    } rows[] = {
        {2, 3, true, false, FW_LEVEL_NOTE},
        {2.01, 3, true, true, FW_LEVEL_WARNING},
        {2, 4.01, false, true, FW_LEVEL_NOTE},
        {2.01, 4.01, false, true, FW_LEVEL_WARNING},
        {2.01, 14.99, false, true, FW_LEVEL_WARNING},
        {2.01, 15.01, false, false, FW_LEVEL_NOTE},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct fw_farm *farm = farm_of();
        farm->moved.height_top_m = rows[i].top_m;
        ADD(farm, FW_ROLE_POWER_LINE, LINE, 20, {140, -rows[i].away_m},
            {150, -rows[i].away_m});
        struct fw_plan *plan = plan_of(farm);
        assert_int_equal(told(plan, "power-line-middle"), rows[i].near);
        assert_int_equal(told(plan, "power-line-height-high"), rows[i].height);
        if (rows[i].height) {
            const struct fw_plan_finding *found =
                finding(plan, "power-line-height-high");
            assert_int_equal(found->level, rows[i].level);
            assert_near(found->distance_m, rows[i].away_m, off_m);
            assert_non_null(
                strstr(found->text, rows[i].top_m > 2 ? "201 cm" : "200 cm"));
        }
        fw_plan_free(plan);
    }
}

/* ---- crossings ---- */

/* Through the southern side alone, from 40 m within reach of no moved line. */
static void how_bad_a_crossing_is_goes_by_its_angle(void **state)
{
    (void)state;
    static const struct {
        double deg;
        const char *rule, *says;
        enum fw_level level;
    } rows[] = {
        {44.4, "power-line-slant", "(here at 44 degrees)", FW_LEVEL_DANGER},
        {45.6, "power-line-angle", "(here at 45 degrees)", FW_LEVEL_WARNING},
        {59.6, "power-line-angle", "(here at 59 degrees)", FW_LEVEL_WARNING},
        {60.4, "power-line-cross", "(here at 60 degrees)", FW_LEVEL_NOTE},
        {89.9, "power-line-cross", "(here at 89 degrees)", FW_LEVEL_NOTE},
        {90, "power-line-cross", "(here at 90 degrees)", FW_LEVEL_NOTE},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct fw_farm *farm = farm_of();
        const double turn = rows[i].deg / 57.29577951308232;
        const double x = 2 * cos(turn), y = 2 * sin(turn);
        ADD(farm, FW_ROLE_POWER_LINE, LINE, 20, {4 - x, -y}, {4 + x, y});
        struct fw_plan *plan = plan_of(farm);
        const struct fw_plan_finding *found = finding(plan, rows[i].rule);
        assert_int_equal(found->level, rows[i].level);
        if (!strstr(found->text, rows[i].says))
            fail_msg("%s; expected %s", found->text, rows[i].says);
        assert_near(found->place.file.x, 4, off_m);
        assert_near(found->place.file.y, 0, off_m);
        size_t crossings = 0;
        for (size_t k = 0; k < plan->finding_count; k++)
            crossings += strstr(plan->findings[k].text, "(here at") != NULL;
        assert_int_equal(crossings, 1);
        fw_plan_free(plan);
    }
}

/* A gate at 5 m or less, whichever of them and whichever way it lies, takes the
 * danger off a path. */
static void a_gate_within_five_metres_lets_a_path_through(void **state)
{
    (void)state;
    static const double off[][2] = {{4.9, 0}, {-4.9, 0}, {0, 4.9},  {3, -3.9},
                                    {5.1, 0}, {0, -5.1}, {3.9, 3.9}};
    for (size_t i = 0; i < sizeof off / sizeof *off; i++)
        for (int last = 0; last < 2; last++) {
            struct fw_farm *farm = farm_of();
            const double x = 150 + off[i][0], y = off[i][1];
            ADD(farm, FW_ROLE_PATH, LINE, -1, {150, -20}, {150, 1});
            if (last)
                ADD(farm, FW_ROLE_GATE, FW_FEATURE_POINT, -1, {150, 60});
            ADD(farm, FW_ROLE_GATE, FW_FEATURE_POINT, -1, {x, y});
            if (!last)
                ADD(farm, FW_ROLE_GATE, FW_FEATURE_POINT, -1, {100, 0});
            struct fw_plan *plan = plan_of(farm);
            const struct fw_plan_finding *found = finding(plan, "path-cross");
            assert_int_equal(found->level,
                             i < 4 ? FW_LEVEL_NOTE : FW_LEVEL_DANGER);
            assert_int_equal(strstr(found->text, "at a gate") != NULL, i < 4);
            fw_plan_free(plan);
        }
}

/* The field's own gate is one as well. */
static void so_does_the_field_s_own_gate(void **state)
{
    (void)state;
    for (int far = 0; far < 2; far++) {
        struct fw_farm *farm = farm_of();
        struct fw_farm_field *field = &farm->fields[0];
        field->gate.given = true;
        field->gate.point = plane_of(field->shape, 150 + (far ? 5.1 : 4.9), 0);
        ADD(farm, FW_ROLE_PATH, LINE, -1, {150, -20}, {150, 1});
        struct fw_plan *plan = plan_of(farm);
        assert_int_equal(finding(plan, "path-cross")->level,
                         far ? FW_LEVEL_DANGER : FW_LEVEL_NOTE);
        fw_plan_free(plan);
    }
}

/* Through the corner: two sides, one place, told once. */
static void a_corner_is_crossed_once(void **state)
{
    (void)state;
    struct fw_farm *farm = farm_of();
    ADD(farm, FW_ROLE_WATERCOURSE, LINE, -1, {-10, 10}, {10, -10});
    struct fw_plan *plan = plan_of(farm);
    assert_int_equal(told(plan, "watercourse-cross"), 1);
    fw_plan_free(plan);
}

/* ---- roads alongside ---- */

static void how_much_of_it_runs_beside_a_road_is_told(void **state)
{
    (void)state;
    struct fw_farm *farm = farm_of();
    ADD(farm, FW_ROLE_ROAD, LINE, -1, {100, -4.1}, {180, -4.1});
    struct fw_plan *plan = plan_of(farm);
    /* Within 5 m of its ends are 2.86 m more on either hand, and of each
     * of three moved lines 0.9 m: 88.4 m in all. */
    const struct fw_plan_finding *found = finding(plan, "road-near");
    if (!strstr(found->text, "each 90 m on the 89 m beside it"))
        fail_msg("%s", found->text);
    assert_near(found->distance_m, 4.1, off_m);
    assert_near(found->place.file.y, 0, off_m);
    fw_plan_free(plan);
    farm = farm_of();
    ADD(farm, FW_ROLE_PATH, LINE, -1, {304, 50}, {304, 90.5});
    plan = plan_of(farm);
    found = finding(plan, "path-near");
    assert_non_null(strstr(found->text, "each 50 m on the 47 m beside it"));
    assert_near(found->place.file.x, 300, off_m);
    fw_plan_free(plan);
}

/* A bit of road 3 m beside the line at x = 150: what is within 5 m of it goes
 * 4 m to either hand. Where that is the line's very end the boundary's signs
 * are there; half a metre in, or over ten metres, it has two of its own. */
static void only_the_very_end_of_a_line_has_the_boundary_s_signs(void **state)
{
    (void)state;
    static const struct {
        double from_m, to_m; /* of the road, from the line's end on */
        size_t signs;
    } rows[] = {{3.5, 3.6, 0}, {3.9, 5.9, 0}, {3.9, 6.1, 2},
                {4.5, 4.6, 2}, {4.9, 5, 2},   {4.1, 5.9, 2}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
        for (int other = 0; other < 2; other++) {
            struct fw_farm *farm = farm_of();
            const double from_m = rows[i].from_m, to_m = rows[i].to_m;
            ADD(farm, FW_ROLE_ROAD, LINE, -1,
                {153, other ? 200 - from_m : from_m},
                {153, other ? 200 - to_m : to_m});
            struct fw_plan *plan = plan_of(farm);
            assert_int_equal(signs_on(plan, FW_FENCE_MOVED), rows[i].signs);
            fw_plan_free(plan);
        }
}

/* A road 3 m and a path 3 m beside it whose places are a metre apart at most
 * share their signs; farther apart each has its own. */
static void signs_over_a_metre_apart_both_hang(void **state)
{
    (void)state;
    static const struct {
        double apart_m;
        size_t signs;
    } rows[] = {{0, 2}, {0.9, 2}, {1.1, 4}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
        for (int side = 0; side < 4; side++) {
            struct fw_farm *farm = farm_of();
            const double apart_m = rows[i].apart_m;
            /* From 36 m on, between two moved lines on two of the sides. */
            add_beside(farm, FW_ROLE_ROAD, -1, side, 3, 40, 50);
            add_beside(farm, FW_ROLE_PATH, -1, side, 3, 40 + apart_m,
                       50 + apart_m);
            struct fw_plan *plan = plan_of(farm);
            assert_int_equal(signs_on(plan, FW_FENCE_PERIMETER), rows[i].signs);
            fw_plan_free(plan);
        }
}

/* Without a moved line the boundary is all there is: 1000 m of it all round at
 * 90 m, and from any corner to the next but one round the one between. */
static void a_field_of_one_paddock_has_its_signs_as_well(void **state)
{
    (void)state;
    static const double xy[8][2] = {{-4, -4}, {304, -4}, {304, 204}, {-4, 204},
                                    {-4, -4}, {304, -4}, {304, 204}, {-4, 204}};
    for (size_t first = 0; first < 4; first++)
        for (size_t points = 3; points <= 5; points += 2) {
            struct fw_farm *farm = farm_of();
            struct fw_xy road[5];
            farm->classes[0].head = 2400;
            for (size_t i = 0; i < points; i++)
                road[i] =
                    (struct fw_xy){xy[first + i % 4][0], xy[first + i % 4][1]};
            add_thing(farm, FW_ROLE_ROAD, LINE, -1, road, points);
            struct fw_plan *plan = plan_of(farm);
            assert_int_equal(plan->paddock_count, 1);
            /* 500 m and at both ends a metre of the next side: 502 / 90. */
            assert_int_equal(signs_on(plan, FW_FENCE_PERIMETER),
                             points == 5 ? 12 : 7);
            fw_plan_free(plan);
        }
}

/* Off a corner both sides are as near: the first of them is named, and the
 * place is the corner. */
static void of_two_sides_as_near_the_first_is_named(void **state)
{
    (void)state;
    static const double corners[4][2] = {
        {300, 200}, {300, 0}, {0, 0}, {0, 200}};
    static const char *const first[4] = {"A-side-1", "A-side-2", "A-side-3",
                                         "A-side-1"};
    for (size_t i = 0; i < 4; i++) {
        struct fw_farm *farm = farm_of();
        const double x = corners[i][0], y = corners[i][1];
        const double east = x > 0 ? 1 : -1, north = y > 0 ? 1 : -1;
        for (size_t k = 0; k < 4; k++)
            farm->fields[0].sides[k].holds = FW_HOLDS_NOTHING;
        ADD(farm, FW_ROLE_BUILDING, LINE, -1, {x + 3 * east, y + 4 * north},
            {x + 9 * east, y + 9 * north});
        ADD(farm, FW_ROLE_RAILWAY, LINE, -1, {x + 6 * east, y + 8 * north},
            {x + 20 * east, y + 20 * north});
        struct fw_plan *plan = plan_of(farm);
        const struct fw_plan_finding *near = finding(plan, "building-near");
        const struct fw_plan_finding *held = finding(plan, "railway-held");
        assert_string_equal(plan->fences[near->fence].id, first[i]);
        assert_string_equal(plan->fences[held->fence].id, first[i]);
        assert_near(near->distance_m, 5, off_m);
        assert_near(held->distance_m, 10, off_m);
        assert_near(near->place.file.x, x, off_m);
        assert_near(near->place.file.y, y, off_m);
        fw_plan_free(plan);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_run_counts_from_its_length_and_distance_on),
        cmocka_unit_test(all_of_the_boundary_and_one_moved_line_make_a_run),
        cmocka_unit_test(a_run_is_told_up_to_thirty_degrees),
        cmocka_unit_test(whatever_side_it_lies_on_it_is_found),
        cmocka_unit_test(
            what_is_near_the_energizer_is_found_wherever_it_stands),
        cmocka_unit_test(wires_over_two_metres_are_told_beside_the_distance),
        cmocka_unit_test(how_bad_a_crossing_is_goes_by_its_angle),
        cmocka_unit_test(a_gate_within_five_metres_lets_a_path_through),
        cmocka_unit_test(so_does_the_field_s_own_gate),
        cmocka_unit_test(a_corner_is_crossed_once),
        cmocka_unit_test(how_much_of_it_runs_beside_a_road_is_told),
        cmocka_unit_test(only_the_very_end_of_a_line_has_the_boundary_s_signs),
        cmocka_unit_test(signs_over_a_metre_apart_both_hang),
        cmocka_unit_test(of_two_sides_as_near_the_first_is_named),
        cmocka_unit_test(a_field_of_one_paddock_has_its_signs_as_well),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
