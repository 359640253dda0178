/* What a plan finds on the maps around a field of 300 by 200 m whose corners
 * are known, so that every distance, night and sign can be told by hand. */
#include "field_around.h"

#include <ctype.h>

/* ---- power lines ---- */

static void a_line_crossed_at_a_right_angle_is_a_note(void **state)
{
    (void)state;
    struct fw_farm *farm = farm_of();
    ADD(farm, FW_ROLE_POWER_LINE, LINE, 20, {-100, 100}, {400, 100});
    struct fw_plan *plan = plan_of(farm);
    /* Two sides and every moved line pass under it. */
    assert_int_equal(told(plan, "power-line-cross"), 2 + moved_lines(plan));
    const struct fw_plan_finding *found = finding(plan, "power-line-cross");
    assert_int_equal(found->level, FW_LEVEL_NOTE);
    assert_true(found->place.given);
    assert_near(found->place.file.y, 100, off_m);
    assert_string_equal(found->feature, "power line of 20 kV Thing");
    assert_non_null(strstr(found->text, "90 degrees"));
    /* What passes under it is not also told to keep away. */
    assert_int_equal(told(plan, "power-line-middle"), 0);
    fw_plan_free(plan);
}

static void a_line_crossed_aslant_is_worse(void **state)
{
    (void)state;
    struct fw_farm *farm = farm_of();
    /* Through two sides only, near the south-eastern corner: 50 degrees off
     * the southern side, 40 off the eastern. */
    const double rise = tan(50 / 57.29577951308232);
    ADD(farm, FW_ROLE_POWER_LINE, LINE, 110, {298, -2 * rise}, {302, 2 * rise});
    struct fw_plan *plan = plan_of(farm);
    assert_int_equal(told(plan, "power-line-slant"), 1);
    assert_int_equal(finding(plan, "power-line-slant")->level, FW_LEVEL_DANGER);
    fw_plan_free(plan);
    farm = farm_of();
    ADD(farm, FW_ROLE_POWER_LINE, LINE, 110, {290, -10 * rise},
        {310, 10 * rise});
    plan = plan_of(farm);
    assert_true(
        told(plan, "power-line-angle") + told(plan, "power-line-slant") > 0);
    fw_plan_free(plan);
}

static void clearance_goes_by_the_voltage(void **state)
{
    (void)state;
    static const struct {
        double kv, off_m;
        const char *rule;
        enum fw_level level;
    } rows[] = {
        {0.4, 2.99, "power-line-low", FW_LEVEL_DANGER},
        {0.4, 3.01, NULL, FW_LEVEL_NOTE},
        {20, 3.99, "power-line-middle", FW_LEVEL_DANGER},
        {20, 4.01, "power-line-height-high", FW_LEVEL_NOTE},
        {110, 7.99, "power-line-high", FW_LEVEL_DANGER},
        {110, 8.01, "power-line-height-high", FW_LEVEL_NOTE},
        {-1, 7.99, "power-line-high", FW_LEVEL_DANGER},
        {0, 7.99, "power-line-high", FW_LEVEL_DANGER},
        {20, 15.01, NULL, FW_LEVEL_NOTE},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        struct fw_farm *farm = farm_of();
        ADD(farm, FW_ROLE_POWER_LINE, LINE, rows[i].kv, {140, -rows[i].off_m},
            {150, -rows[i].off_m});
        struct fw_plan *plan = plan_of(farm);
        if (rows[i].rule) {
            const struct fw_plan_finding *found = finding(plan, rows[i].rule);
            assert_int_equal(found->level, rows[i].level);
            assert_near(found->distance_m, rows[i].off_m, off_m);
            assert_int_equal(told_of_maps(plan), 1);
        } else
            assert_int_equal(told_of_maps(plan), 0);
        fw_plan_free(plan);
    }
}

static void unknown_voltage_is_said(void **state)
{
    (void)state;
    struct fw_farm *farm = farm_of();
    ADD(farm, FW_ROLE_POWER_LINE, LINE, -1, {140, -5}, {150, -5});
    struct fw_plan *plan = plan_of(farm);
    const struct fw_plan_finding *found = finding(plan, "power-line-high");
    assert_non_null(strstr(found->about, "unknown voltage"));
    assert_non_null(strstr(found->text, "unknown voltage"));
    fw_plan_free(plan);
}

static void wires_too_high_for_older_codes_are_a_warning(void **state)
{
    (void)state;
    struct fw_farm *farm = farm_of();
    farm->moved.height_top_m = 2.5;
    ADD(farm, FW_ROLE_POWER_LINE, LINE, 20, {140, -10}, {150, -10});
    struct fw_plan *plan = plan_of(farm);
    const struct fw_plan_finding *found =
        finding(plan, "power-line-height-high");
    assert_int_equal(found->level, FW_LEVEL_WARNING);
    assert_non_null(strstr(found->text, "250 cm high"));
    fw_plan_free(plan);
}

static void a_long_run_beside_a_line_is_told_with_its_current(void **state)
{
    (void)state;
    struct fw_farm *farm = farm_of();
    /* 30 m south of the field, as long as its southern side; moved lines
     * stand square to it. */
    ADD(farm, FW_ROLE_POWER_LINE, LINE, 345, {-500, -30}, {800, -30});
    struct fw_plan *plan = plan_of(farm);
    const struct fw_plan_finding *found =
        finding(plan, "power-line-beside-high");
    assert_int_equal(found->level, FW_LEVEL_WARNING);
    assert_near(found->distance_m, 30, off_m);
    assert_near(found->wanted_m, 50, 0);
    assert_non_null(strstr(found->text, "300 m in all"));
    assert_non_null(strstr(found->text, "one published case"));
    assert_non_null(strstr(found->text, "3 mA")); /* 10 mA a km */
    fw_plan_free(plan);
    /* The case is of 345 kV and says nothing of other lines. */
    farm = farm_of();
    ADD(farm, FW_ROLE_POWER_LINE, LINE, 110, {-500, -30}, {800, -30});
    plan = plan_of(farm);
    found = finding(plan, "power-line-beside-high");
    assert_non_null(strstr(found->text, "300 m in all"));
    assert_null(strstr(found->text, "mA"));
    assert_null(strstr(found->text, "345"));
    fw_plan_free(plan);
    /* At 20 kV what counts ends at 15 m. */
    farm = farm_of();
    ADD(farm, FW_ROLE_POWER_LINE, LINE, 20, {-500, -30}, {800, -30});
    plan = plan_of(farm);
    assert_int_equal(told_of_maps(plan), 0);
    fw_plan_free(plan);
}

/* The southern side is beside a line of 110 kV for all of its 300 m; in five
 * pieces that are 60 m each no piece counts alone. */
static void a_line_cut_in_five_counts_as_one(void **state)
{
    (void)state;
    for (int named = 0; named < 2; named++)
        for (int gap_m = 0; gap_m < 3; gap_m += 2) {
            struct fw_farm *farm = farm_of();
            for (int i = 4; i >= 0; i--)
                ADD(farm, FW_ROLE_POWER_LINE, LINE, 110, {60 * i, -30},
                    {60 * i + 60 - gap_m, -30});
            if (!named)
                nameless(farm);
            struct fw_plan *plan = plan_of(farm);
            if (!named && gap_m > 1) {
                assert_int_equal(told(plan, "power-line-beside-high"), 0);
                fw_plan_free(plan);
                continue;
            }
            char all[32];
            snprintf(all, sizeof all, "; %d m in all", 300 - 5 * gap_m);
            assert_int_equal(told(plan, "power-line-beside-high"), 1);
            assert_non_null(
                strstr(finding(plan, "power-line-beside-high")->text, all));
            fw_plan_free(plan);
        }
}

static void two_lines_on_the_same_poles_count_once(void **state)
{
    (void)state;
    struct fw_farm *farm = farm_of();
    for (int i = 0; i < 2; i++)
        ADD(farm, FW_ROLE_POWER_LINE, LINE, 110, {0, -30}, {300, -30});
    struct fw_plan *plan = plan_of(farm);
    assert_int_equal(told(plan, "power-line-beside-high"), 1);
    assert_non_null(strstr(finding(plan, "power-line-beside-high")->text,
                           "; 300 m in all"));
    fw_plan_free(plan);
}

static void lines_of_other_voltages_that_meet_are_two(void **state)
{
    (void)state;
    struct fw_farm *farm = farm_of();
    ADD(farm, FW_ROLE_POWER_LINE, LINE, 110, {0, -10}, {90, -10});
    ADD(farm, FW_ROLE_POWER_LINE, LINE, 20, {90, -10}, {180, -10});
    nameless(farm);
    struct fw_plan *plan = plan_of(farm);
    assert_int_equal(told(plan, "power-line-beside-high"), 0);
    assert_int_equal(told(plan, "power-line-beside-middle"), 0);
    fw_plan_free(plan);
}

static void poles_are_kept_off_without_claims_about_wires(void **state)
{
    (void)state;
    struct fw_farm *farm = farm_of();
    ADD(farm, FW_ROLE_POWER_LINE, FW_FEATURE_POINT, -1, {150, -1.5});
    struct fw_plan *plan = plan_of(farm);
    assert_int_equal(told(plan, "power-line-pole"), 1);
    assert_int_equal(told(plan, "power-line-high"), 0);
    fw_plan_free(plan);
}

/* ---- roads, paths, signs ---- */

static void a_path_through_the_field_wants_a_gate_at_each_crossing(void **state)
{
    (void)state;
    struct fw_farm *farm = farm_of();
    ADD(farm, FW_ROLE_PATH, LINE, -1, {-50, 80}, {350, 80});
    ADD(farm, FW_ROLE_GATE, FW_FEATURE_POINT, -1, {1, 83});
    struct fw_plan *plan = plan_of(farm);
    const size_t crossings = 2 + moved_lines(plan);
    size_t dangers = 0, notes = 0;
    assert_int_equal(told(plan, "path-cross"), crossings);
    for (size_t i = 0; i < plan->finding_count; i++) {
        const struct fw_plan_finding *found = &plan->findings[i];
        if (strcmp(found->rule, "path-cross") != 0)
            continue;
        dangers += found->level == FW_LEVEL_DANGER;
        notes += found->level == FW_LEVEL_NOTE;
        if (found->level == FW_LEVEL_NOTE)
            assert_near(found->place.file.x, 0, off_m); /* the western side */
    }
    assert_int_equal(notes, 1);
    assert_int_equal(dangers, crossings - 1);
    /* 10 m of each fence lie within 5 m: a sign on either hand. */
    assert_int_equal(signs_on(plan, FW_FENCE_PERIMETER), 4);
    assert_int_equal(signs_on(plan, FW_FENCE_MOVED), 2 * moved_lines(plan));
    /* Three moved lines hang at once at most: back, front, next. */
    assert_near(material(plan, "warning sign")->quantity, 4 + 3 * 2, 0);
    fw_plan_free(plan);
}

static void signs_along_a_road_are_counted_with_both_ends(void **state)
{
    (void)state;
    struct fw_farm *farm = farm_of();
    ADD(farm, FW_ROLE_ROAD, LINE, -1, {-100, -4}, {400, -4});
    struct fw_plan *plan = plan_of(farm);
    /* The southern side, and round its corners the western and the eastern one
     * for their last metre, where the road is 5 m off: one run of 302 m, at
     * 90 m ceil(3.36) + 1 = 5. Moved lines end on a hot boundary that has its
     * signs. */
    assert_int_equal(signs_on(plan, FW_FENCE_PERIMETER), 5);
    assert_int_equal(signs_on(plan, FW_FENCE_MOVED), 0);
    size_t met = 0;
    for (size_t i = 0; i < plan->post_count; i++) {
        const struct fw_xy at = plan->posts[i].place.file;
        if (plan->posts[i].why != FW_POST_SIGN)
            continue;
        for (int k = 0; k < 5; k++) {
            /* 75.5 m on from each other, from 1 m up the western side. */
            const double along_m = 75.5 * k - 1;
            met += fabs(at.x - fmin(300, fmax(0, along_m))) < 2 * off_m &&
                   fabs(at.y - (k % 4 == 0)) < 2 * off_m;
        }
    }
    assert_int_equal(met, 5);
    assert_near(finding(plan, "road-near")->distance_m, 4, off_m);
    fw_plan_free(plan);
}

static void the_farm_sets_the_interval_of_signs(void **state)
{
    (void)state;
    struct fw_farm *farm = farm_of();
    farm->sign_road_m = 25;
    farm->prices.sign = 4;
    ADD(farm, FW_ROLE_ROAD, LINE, -1, {-100, -4}, {400, -4});
    struct fw_plan *plan = plan_of(farm);
    assert_int_equal(signs_on(plan, FW_FENCE_PERIMETER), 14); /* 302 / 25 */
    assert_near(material(plan, "warning sign")->price, 4, 0);
    assert_non_null(strstr(finding(plan, "road-near")->text, "each 25 m"));
    fw_plan_free(plan);
}

/* The least distance between any two signs of the boundary. */
static double nearest_signs_m(const struct fw_plan *plan)
{
    double nearest_m = HUGE_VAL;
    for (size_t i = 0; i < plan->post_count; i++)
        for (size_t k = 0; k < i; k++) {
            const struct fw_point a = plan->posts[i].place.plane;
            const struct fw_point b = plan->posts[k].place.plane;
            if (plan->posts[i].why == FW_POST_SIGN &&
                plan->posts[k].why == FW_POST_SIGN)
                nearest_m =
                    fmin(nearest_m, hypot(a.x_m - b.x_m, a.y_m - b.y_m));
        }
    return nearest_m;
}

/* All 1000 m of the boundary lie within 5 m: signs at most 90 m on from each
 * other are 12, and none hangs where another does. */
static void a_road_all_round_has_no_sign_twice(void **state)
{
    (void)state;
    struct fw_farm *farm = farm_of();
    ADD(farm, FW_ROLE_ROAD, LINE, -1, {-4, -4}, {304, -4}, {304, 204},
        {-4, 204}, {-4, -4});
    struct fw_plan *plan = plan_of(farm);
    assert_int_equal(signs_on(plan, FW_FENCE_PERIMETER), 12);
    assert_true(nearest_signs_m(plan) > 30);
    fw_plan_free(plan);
    /* A gap in the road of less than the interval changes nothing; over it the
     * run has two ends, wherever the ring begins. */
    for (int k = 0; k < 2; k++) {
        const double gap_m = k ? 150 : 60;
        farm = farm_of();
        ADD(farm, FW_ROLE_ROAD, LINE, -1, {150 + gap_m / 2, -4}, {304, -4},
            {304, 204}, {-4, 204}, {-4, -4}, {150 - gap_m / 2, -4});
        plan = plan_of(farm);
        /* Within 5 m the road's ends reach 3 m further each. */
        const double along_m = 1000 - gap_m + 2 * 3;
        const int wanted = k ? (int)ceil(along_m / 90) + 1 : 12;
        assert_int_equal(signs_on(plan, FW_FENCE_PERIMETER), wanted);
        assert_true(nearest_signs_m(plan) > 30);
        fw_plan_free(plan);
    }
}

/* One yellow sign tells those on the road and those on the path. */
static void a_road_and_a_path_share_a_sign_that_hangs_in_one_place(void **state)
{
    (void)state;
    struct fw_farm *farm = farm_of();
    farm->sign_path_m = farm->sign_road_m = 100;
    ADD(farm, FW_ROLE_ROAD, LINE, -1, {-100, -4}, {400, -4});
    ADD(farm, FW_ROLE_PATH, LINE, -1, {-100, -4}, {400, -4});
    struct fw_plan *plan = plan_of(farm);
    assert_int_equal(signs_on(plan, FW_FENCE_PERIMETER), 5);
    fw_plan_free(plan);
}

static void a_boundary_that_is_not_live_needs_no_signs(void **state)
{
    (void)state;
    struct fw_farm *farm = farm_of();
    for (size_t i = 0; i < 4; i++)
        farm->fields[0].sides[i].hot = FW_NO;
    ADD(farm, FW_ROLE_ROAD, LINE, -1, {-100, -4}, {400, -4});
    struct fw_plan *plan = plan_of(farm);
    assert_int_equal(signs_on(plan, FW_FENCE_PERIMETER), 0);
    /* The moved lines' own ends are live: one sign there. */
    assert_int_equal(signs_on(plan, FW_FENCE_MOVED), moved_lines(plan));
    fw_plan_free(plan);
}

static void a_road_in_two_ways_has_one_row_of_signs(void **state)
{
    (void)state;
    struct fw_farm *farm = farm_of();
    ADD(farm, FW_ROLE_ROAD, LINE, -1, {-100, -4}, {130, -4});
    ADD(farm, FW_ROLE_ROAD, LINE, -1, {130, -4}, {400, -4});
    struct fw_plan *plan = plan_of(farm);
    assert_int_equal(signs_on(plan, FW_FENCE_PERIMETER), 5);
    fw_plan_free(plan);
}

static void a_stream_and_a_road_are_crossed_each_in_its_way(void **state)
{
    (void)state;
    struct fw_farm *farm = farm_of();
    ADD(farm, FW_ROLE_WATERCOURSE, LINE, -1, {-50, 40}, {350, 40});
    ADD(farm, FW_ROLE_ROAD, LINE, -1, {-50, 160}, {350, 160});
    ADD(farm, FW_ROLE_TRACK, LINE, -1, {-50, 120}, {50, 120});
    ADD(farm, FW_ROLE_RAILWAY, LINE, -1, {200, 250}, {200, 190});
    struct fw_plan *plan = plan_of(farm);
    assert_int_equal(finding(plan, "watercourse-cross")->level, FW_LEVEL_NOTE);
    assert_int_equal(finding(plan, "road-cross")->level, FW_LEVEL_DANGER);
    assert_int_equal(finding(plan, "track-cross")->level, FW_LEVEL_NOTE);
    assert_int_equal(finding(plan, "railway-cross")->level, FW_LEVEL_DANGER);
    fw_plan_free(plan);
}

static void an_area_with_the_fence_inside_is_no_distance_away(void **state)
{
    (void)state;
    struct fw_farm *farm = farm_of();
    ADD(farm, FW_ROLE_POND, AREA, -1, {-50, -50}, {350, -50}, {350, 250},
        {-50, 250});
    struct fw_plan *plan = plan_of(farm);
    assert_near(finding(plan, "pond")->distance_m, 0, 0);
    fw_plan_free(plan);
}

static void the_energizer_keeps_from_buildings_and_lines(void **state)
{
    (void)state;
    struct fw_farm *farm = farm_of();
    const struct fw_xy at = {-60, -60};
    struct fw_crs *crs = crs_of();
    farm->energizer.given = true;
    fw_crs_to_lonlat(crs, &at, &farm->energizer.lonlat, 1, NULL, NULL);
    fw_crs_free(crs);
    farm->energizer.point =
        fw_plane_forward(&farm->fields[0].shape->plane, farm->energizer.lonlat);
    ADD(farm, FW_ROLE_BUILDING, AREA, -1, {-90, -70}, {-69, -70}, {-69, -50},
        {-90, -50});
    ADD(farm, FW_ROLE_TELECOM, LINE, -1, {-90, -49}, {-30, -49});
    struct fw_plan *plan = plan_of(farm);
    const struct fw_plan_finding *found = finding(plan, "building-earth");
    assert_near(found->distance_m, 9, off_m);
    assert_int_equal(found->level, FW_LEVEL_DANGER);
    assert_string_equal(found->about, "energizer, building Thing");
    assert_int_equal(told(plan, "telecom-earth"), 0); /* 11 m */
    fw_plan_free(plan);
}

/* Far from all fence too. */
static void an_energizer_away_from_the_field_is_looked_at(void **state)
{
    (void)state;
    struct fw_farm *farm = farm_of();
    const struct fw_xy at = {-2060, -60};
    struct fw_crs *crs = crs_of();
    farm->energizer.given = true;
    fw_crs_to_lonlat(crs, &at, &farm->energizer.lonlat, 1, NULL, NULL);
    fw_crs_free(crs);
    farm->energizer.point =
        fw_plane_forward(&farm->fields[0].shape->plane, farm->energizer.lonlat);
    ADD(farm, FW_ROLE_BUILDING, AREA, -1, {-2090, -70}, {-2069, -70},
        {-2069, -50}, {-2090, -50});
    struct fw_plan *plan = plan_of(farm);
    assert_near(finding(plan, "building-earth")->distance_m, 9, off_m);
    fw_plan_free(plan);
}

/* ---- what moved lines alone hold ---- */

/* Side 2 is the eastern one: corners are numbered clockwise from the
 * northernmost, then westernmost. */
static size_t side_at(const struct fw_farm *farm, double x, double y)
{
    const struct fw_field *shape = farm->fields[0].shape;
    for (size_t i = 0; i < shape->corner_count; i++) {
        const struct fw_vertex *a = &shape->vertices[shape->corners[i]];
        const struct fw_vertex *b =
            &shape->vertices[shape->corners[(i + 1) % shape->corner_count]];
        if (fabs((a->file.x + b->file.x) / 2 - x) < 1 &&
            fabs((a->file.y + b->file.y) / 2 - y) < 1)
            return i;
    }
    fail_msg("no side at %g %g", x, y);
    return 0;
}

/* The nights that the flock is there. */
static struct fw_nights nights_in(const struct fw_plan *plan,
                                  const struct fw_plan_paddock *paddock)
{
    const size_t cell = (size_t)(paddock - plan->paddocks);
    for (size_t i = 0; i < plan->time.stay_count; i++)
        if (plan->time.stays[i].cell == cell)
            return fw_time_nights(&plan->time, i);
    fail_msg("%s: no stay", paddock->id);
    return (struct fw_nights){0, 0};
}

static void an_open_side_by_a_road_is_named_with_its_nights(void **state)
{
    (void)state;
    static const struct {
        struct fw_farm_side side;
        const char *stands; /* on the nights of */
    } open[] = {
        {{FW_HOLDS_NOTHING, FW_NO}, "nothing at all"},
        {{FW_HOLDS_NOTHING, FW_UNTOLD}, "nothing at all"},
        {{FW_HOLDS_NOTHING, FW_YES},
         "only a side that is live and holds nothing"},
        {{FW_HOLDS_UNTOLD, FW_YES},
         "only a side of which nobody has said what it holds"},
        {{FW_HOLDS_SHEEP, FW_NO}, "only a side that holds sheep but no lambs"},
    };
    for (size_t k = 0; k < sizeof open / sizeof *open; k++) {
        struct fw_farm *farm = farm_of();
        farm->classes[0].state = FW_LACTATION_SINGLE;
        farm->fields[0].sides[side_at(farm, 300, 100)] = open[k].side;
        ADD(farm, FW_ROLE_ROAD, LINE, -1, {312, -50}, {312, 250});
        struct fw_plan *plan = plan_of(farm);
        const struct fw_plan_finding *found = finding(plan, "road-held");
        assert_int_equal(told(plan, "road-held"), 1);
        assert_int_equal(found->level, FW_LEVEL_DANGER);
        assert_near(found->distance_m, 12, off_m);
        /* The paddock at the eastern side is the first or the last; its
         * nights stand there bare, all others behind moved lines. */
        const struct fw_plan_paddock *first = &plan->paddocks[0];
        const struct fw_plan_paddock *last =
            &plan->paddocks[plan->paddock_count - 1];
        char day[FW_DATE_TEXT], end[FW_DATE_TEXT], wanted[128];
        double east = 0;
        for (size_t i = 0; i < first->rings.ring_start[1]; i++)
            east =
                fmax(east,
                     plan->fields[0].vertices[first->rings.vertices[i]].file.x);
        const struct fw_plan_paddock *bare = east > 299 ? first : last;
        const struct fw_nights bare_on = nights_in(plan, bare);
        assert_int_equal(bare_on.to - bare_on.from, 1);
        snprintf(wanted, sizeof wanted, ": %s on the nights of %s",
                 open[k].stands, fw_date_write(bare_on.from, day));
        if (!strstr(found->text, wanted))
            fail_msg("%s; expected %s", found->text, wanted);
        assert_int_equal(strstr(found->text, "nothing at all") != NULL, k < 2);
        snprintf(wanted, sizeof wanted,
                 "only moved lines on the other nights of %s to %s",
                 fw_date_write(nights_in(plan, first).from, day),
                 fw_date_write(nights_in(plan, last).to - 1, end));
        assert_non_null(strstr(found->text, wanted));
        fw_plan_free(plan);
    }
}

/* Two sides at a corner, of which one holds nothing and the other is not spoken
 * for, beside a road that turns round it: each night has the worst that the
 * flock lies against. */
static void of_two_open_sides_each_night_has_the_worse(void **state)
{
    (void)state;
    static const struct {
        struct fw_farm_side east, south;
        bool bare; /* somewhere */
        const char *weaker;
    } rows[] = {
        {{FW_HOLDS_NOTHING, FW_NO},
         {FW_HOLDS_UNTOLD, FW_YES},
         true,
         ", only a side of which nobody has said what it holds on some others"},
        {{FW_HOLDS_SHEEP, FW_YES},
         {FW_HOLDS_UNTOLD, FW_YES},
         false,
         ": only a side of which nobody has said what it holds on the nights "
         "of 2027-05-17 to "},
        {{FW_HOLDS_NOTHING, FW_NO}, {FW_HOLDS_NOTHING, FW_NO}, true, NULL},
    };
    for (size_t k = 0; k < sizeof rows / sizeof *rows; k++) {
        struct fw_farm *farm = farm_of();
        farm->classes[0].state = FW_LACTATION_SINGLE;
        farm->fields[0].sides[side_at(farm, 300, 100)] = rows[k].east;
        farm->fields[0].sides[side_at(farm, 150, 0)] = rows[k].south;
        ADD(farm, FW_ROLE_ROAD, LINE, -1, {-50, -10}, {310, -10}, {310, 250});
        struct fw_plan *plan = plan_of(farm);
        const struct fw_plan_finding *found = finding(plan, "road-held");
        assert_int_equal(strstr(found->text, "nothing at all on the nights") !=
                             NULL,
                         rows[k].bare);
        if (rows[k].weaker && !strstr(found->text, rows[k].weaker))
            fail_msg("%s; expected %s", found->text, rows[k].weaker);
        if (!rows[k].weaker)
            assert_null(strstr(found->text, "only a side"));
        /* Every strip ends on the southern side: no night behind lines alone.
         */
        assert_null(strstr(found->text, "only moved lines"));
        assert_true(strlen(found->text) < sizeof found->text - 1);
        fw_plan_free(plan);
    }
}

/* A lane from west to east whose end lies on the open western side, with the
 * water in it: the flock has it every night, whichever paddock it is in. */
static void a_lane_that_they_have_at_night_lies_open_too(void **state)
{
    (void)state;
    struct fw_farm *farm = farm_of();
    struct fw_farm_field *field = &farm->fields[0];
    field->gate.given = field->water.given = true;
    field->gate.point = field->water.point = plane_of(field->shape, 0, 103);
    farm->water_moves = false;
    farm->layout = fw_strdup("lane-0-5");
    field->sides[side_at(farm, 0, 100)] =
        (struct fw_farm_side){FW_HOLDS_NOTHING, FW_NO};
    ADD(farm, FW_ROLE_ROAD, LINE, -1, {-12, -50}, {-12, 250});
    struct fw_plan *plan = plan_of(farm);
    assert_int_equal(plan->lane_count, 1);
    const struct fw_plan_finding *found = finding(plan, "road-held");
    const int first = nights_in(plan, &plan->paddocks[0]).from;
    const int last =
        nights_in(plan, &plan->paddocks[plan->paddock_count - 1]).to - 1;
    char from[FW_DATE_TEXT], to[FW_DATE_TEXT], wanted[128];
    snprintf(wanted, sizeof wanted, "nothing at all on the nights of %s to %s",
             fw_date_write(first, from), fw_date_write(last, to));
    if (!strstr(found->text, wanted))
        fail_msg("%s; expected %s", found->text, wanted);
    assert_null(strstr(found->text, "only moved lines"));
    fw_plan_free(plan);
}

static void a_side_that_holds_keeps_the_road_away(void **state)
{
    (void)state;
    struct fw_farm *farm = farm_of();
    ADD(farm, FW_ROLE_ROAD, LINE, -1, {312, -50}, {312, 250});
    ADD(farm, FW_ROLE_ROAD, LINE, -1, {-50, -12}, {350, -12});
    struct fw_plan *plan = plan_of(farm);
    assert_int_equal(told(plan, "road-held"), 0);
    fw_plan_free(plan);
    /* Twenty metres and a bit: too far to count. */
    farm = farm_of();
    farm->fields[0].sides[side_at(farm, 300, 100)].holds = FW_HOLDS_NOTHING;
    ADD(farm, FW_ROLE_ROAD, LINE, -1, {320.5, -50}, {320.5, 250});
    plan = plan_of(farm);
    assert_int_equal(told(plan, "road-held"), 0);
    fw_plan_free(plan);
}

static void what_holds_ewes_does_not_hold_lambs(void **state)
{
    (void)state;
    for (int lambs = 0; lambs < 2; lambs++) {
        struct fw_farm *farm = farm_of();
        for (size_t i = 0; i < 4; i++)
            farm->fields[0].sides[i].holds = FW_HOLDS_SHEEP;
        if (lambs)
            farm->classes[0].state = FW_LACTATION_TWINS;
        ADD(farm, FW_ROLE_RAILWAY, LINE, -1, {312, -50}, {312, 250});
        struct fw_plan *plan = plan_of(farm);
        assert_int_equal(told(plan, "railway-held"), lambs);
        fw_plan_free(plan);
    }
}

static void a_line_beside_a_road_inside_is_named_with_its_nights(void **state)
{
    (void)state;
    struct fw_farm *farm = farm_of();
    struct fw_plan *plan = plan_of(farm);
    const struct fw_plan_fence *line = NULL;
    for (size_t i = 0; i < plan->fence_count && !line; i++)
        if (plan->fences[i].role == FW_FENCE_MOVED && plan->fences[i].from == 2)
            line = &plan->fences[i];
    const double x = plan->fields[0].vertices[line->line[0]].file.x;
    const struct fw_plan_paddock *before = &plan->paddocks[2];
    const struct fw_plan_paddock *after = &plan->paddocks[3];
    char id[FW_ID], from[FW_DATE_TEXT], to[FW_DATE_TEXT], wanted[128];
    snprintf(id, sizeof id, "%s", line->id);
    snprintf(wanted, sizeof wanted, "on the nights of %s to %s",
             fw_date_write(nights_in(plan, before).from, from),
             fw_date_write(nights_in(plan, after).to - 1, to));
    fw_plan_free(plan);
    /* A short road in the field, 6 m from that line and from no other. */
    farm = farm_of();
    ADD(farm, FW_ROLE_ROAD, LINE, -1, {x + 6, 90}, {x + 6, 110});
    plan = plan_of(farm);
    const struct fw_plan_finding *found = finding(plan, "road-held");
    assert_int_equal(strncmp(found->about, id, strlen(id)), 0);
    assert_non_null(strstr(found->text, wanted));
    assert_near(found->distance_m, 6, 0.01);
    fw_plan_free(plan);
}

static void other_peoples_stock_counts_as_well(void **state)
{
    (void)state;
    struct fw_farm *farm = farm_of();
    farm->fields[0].sides[side_at(farm, 0, 100)].holds = FW_HOLDS_NOTHING;
    ADD(farm, FW_ROLE_OTHER_STOCK, AREA, -1, {-80, 0}, {-1, 0}, {-1, 200},
        {-80, 200});
    struct fw_plan *plan = plan_of(farm);
    assert_non_null(strstr(finding(plan, "other-stock-held")->text,
                           "other people's stock"));
    fw_plan_free(plan);
}

static void ground_not_grazed_is_told_once_with_its_nights(void **state)
{
    (void)state;
    static const enum fw_holds eastern[] = {FW_HOLDS_UNTOLD, FW_HOLDS_LAMBS};
    for (size_t k = 0; k < 2; k++) {
        struct fw_farm *farm = farm_of();
        farm->fields[0].sides[side_at(farm, 300, 100)].holds = eastern[k];
        ADD(farm, FW_ROLE_EXCLUSION, AREA, -1, {300.5, 0}, {340, 0}, {340, 90},
            {300.5, 90});
        ADD(farm, FW_ROLE_EXCLUSION, AREA, -1, {300.2, 110}, {340, 110},
            {340, 200}, {300.2, 200});
        /* Too far off to border on. */
        ADD(farm, FW_ROLE_EXCLUSION, AREA, -1, {302, 95}, {340, 95}, {340, 105},
            {302, 105});
        struct fw_plan *plan = plan_of(farm);
        assert_int_equal(told(plan, "exclusion-held"), k == 0);
        if (k == 0) {
            const struct fw_plan_finding *found =
                finding(plan, "exclusion-held");
            assert_int_equal(found->level, FW_LEVEL_DANGER);
            assert_false(found->measured);
            assert_string_equal(found->feature, "exclusion Thing and 1 more");
            assert_near(found->place.file.x, 300, off_m);
            assert_non_null(strstr(found->text,
                                   "only a side of which nobody has said what "
                                   "it holds on the nights of 2027-"));
            assert_non_null(
                strstr(found->text, "only moved lines on the other nights"));
        }
        fw_plan_free(plan);
    }
}

static void lines_without_a_path_are_found_at_their_middles(void **state)
{
    (void)state;
    struct fw_farm *farm = farm_of();
    for (size_t i = 0; i < 4; i++)
        farm->fields[0].sides[i].hot = FW_NO;
    farm->fields[0].sides[side_at(farm, 0, 100)].hot = FW_YES;
    struct fw_plan *plan = plan_of(farm);
    size_t seen = 0;
    assert_true(moved_lines(plan) > 2);
    for (size_t i = 0; i < plan->finding_count; i++) {
        const struct fw_plan_finding *found = &plan->findings[i];
        if (strcmp(found->rule, "no-path") != 0)
            continue;
        assert_int_equal(found->level, FW_LEVEL_DANGER);
        assert_int_equal(found->field, 0);
        const struct fw_plan_fence *line = NULL;
        for (size_t k = 0; k < plan->fence_count && !line; k++)
            if (strcmp(plan->fences[k].id, found->about) == 0)
                line = &plan->fences[k];
        assert_non_null(line);
        assert_true(found->place.given);
        assert_near(found->place.file.x,
                    plan->fields[0].vertices[line->line[0]].file.x, 0.5);
        assert_near(found->place.file.y, 100, 0.01);
        seen++;
    }
    assert_int_equal(seen, moved_lines(plan));
    /* What nobody looked at comes last all the same. */
    assert_string_equal(plan->findings[plan->finding_count - 1].rule,
                        "unchecked");
    fw_plan_free(plan);
}

/* ---- the whole ---- */

static bool promises(const char *text)
{
    for (; *text; text++)
        if (tolower((unsigned char)text[0]) == 's' && text[1] == 'a' &&
            text[2] == 'f' && text[3] == 'e')
            return true;
    return false;
}

static void what_was_not_looked_at_is_said(void **state)
{
    (void)state;
    struct fw_farm *farm = farm_of();
    ADD(farm, FW_ROLE_ROAD, LINE, -1, {-50, 5000}, {350, 5000});
    struct fw_plan *plan = plan_of(farm);
    const struct fw_plan_finding *found = finding(plan, "unchecked");
    assert_int_equal(told_of_maps(plan), 0);
    assert_false(found->place.given);
    assert_non_null(strstr(found->text, "power-line, telecom, path"));
    assert_null(strstr(found->text, "road"));
    assert_non_null(strstr(found->text, "slopes over 30 %"));
    assert_true(strlen(found->text) < sizeof found->text - 1);
    fw_plan_free(plan);
}

static void nothing_in_a_plan_promises(void **state)
{
    (void)state;
    struct fw_farm *farm = farm_of();
    farm->fields[0].sides[side_at(farm, 300, 100)].holds = FW_HOLDS_NOTHING;
    ADD(farm, FW_ROLE_ROAD, LINE, -1, {303, -50}, {303, 250});
    ADD(farm, FW_ROLE_PATH, LINE, -1, {-50, 80}, {350, 80});
    ADD(farm, FW_ROLE_POWER_LINE, LINE, -1, {-50, -20}, {350, -20});
    struct fw_plan *plan = plan_of(farm);
    assert_true(plan->finding_count > 5);
    for (size_t i = 0; i < plan->finding_count; i++) {
        const struct fw_plan_finding *found = &plan->findings[i];
        if (promises(found->text) || promises(found->about) ||
            strlen(found->text) >= sizeof found->text - 1 || !found->source[0])
            fail_msg("%s: %s", found->rule, found->text);
    }
    for (size_t i = 0; i < plan->material_count; i++)
        assert_false(promises(plan->materials[i].note));
    fw_plan_free(plan);
}

static void a_plan_carries_its_page_of_cautions(void **state)
{
    (void)state;
    struct fw_plan *plan = plan_of(farm_of());
    size_t people = 0;
    assert_true(plan->caution_count > 20);
    assert_string_equal(plan->cautions[0].id, "first");
    for (size_t i = 0; i < plan->caution_count; i++) {
        people += strcmp(plan->cautions[i].who, "people") == 0;
        assert_true(plan->cautions[i].text[0] && plan->cautions[i].source[0]);
    }
    assert_true(people > 15 && people < plan->caution_count);
    fw_plan_free(plan);
}

static bool carries(const struct fw_plan *plan, const char *id)
{
    for (size_t i = 0; i < plan->caution_count; i++)
        if (strcmp(plan->cautions[i].id, id) == 0)
            return true;
    return false;
}

/* Of this northern field: ewes in milk in May, in September, in January. */
static void cautions_go_by_season_and_class(void **state)
{
    (void)state;
    static const struct {
        const char *start;
        bool magnesium, heat, cold, frost;
    } rows[] = {
        {"2027-05-03", true, true, false, false},
        {"2027-08-02", false, true, false, false},
        {"2027-01-11", false, false, true, true},
        {"2027-03-01", true, false, true, true},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        struct fw_farm *farm = farm_of();
        assert_int_equal(fw_date_read(rows[i].start, &farm->start_day, NULL),
                         FW_OK);
        farm->classes[0].state = FW_LACTATION_SINGLE;
        farm->fields[0].sward.legume = 0.6;
        struct fw_plan *plan = plan_of(farm);
        assert_int_equal(carries(plan, "magnesium"), rows[i].magnesium);
        assert_int_equal(carries(plan, "heat"), rows[i].heat);
        assert_int_equal(carries(plan, "cold"), rows[i].cold);
        assert_int_equal(carries(plan, "bloat-frost"), rows[i].frost);
        assert_true(carries(plan, "bloat"));
        assert_true(carries(plan, "lambs-left"));
        fw_plan_free(plan);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_line_crossed_at_a_right_angle_is_a_note),
        cmocka_unit_test(a_line_crossed_aslant_is_worse),
        cmocka_unit_test(clearance_goes_by_the_voltage),
        cmocka_unit_test(unknown_voltage_is_said),
        cmocka_unit_test(wires_too_high_for_older_codes_are_a_warning),
        cmocka_unit_test(a_long_run_beside_a_line_is_told_with_its_current),
        cmocka_unit_test(a_line_cut_in_five_counts_as_one),
        cmocka_unit_test(two_lines_on_the_same_poles_count_once),
        cmocka_unit_test(lines_of_other_voltages_that_meet_are_two),
        cmocka_unit_test(poles_are_kept_off_without_claims_about_wires),
        cmocka_unit_test(
            a_path_through_the_field_wants_a_gate_at_each_crossing),
        cmocka_unit_test(signs_along_a_road_are_counted_with_both_ends),
        cmocka_unit_test(the_farm_sets_the_interval_of_signs),
        cmocka_unit_test(a_road_all_round_has_no_sign_twice),
        cmocka_unit_test(
            a_road_and_a_path_share_a_sign_that_hangs_in_one_place),
        cmocka_unit_test(a_boundary_that_is_not_live_needs_no_signs),
        cmocka_unit_test(a_road_in_two_ways_has_one_row_of_signs),
        cmocka_unit_test(a_stream_and_a_road_are_crossed_each_in_its_way),
        cmocka_unit_test(an_area_with_the_fence_inside_is_no_distance_away),
        cmocka_unit_test(the_energizer_keeps_from_buildings_and_lines),
        cmocka_unit_test(an_energizer_away_from_the_field_is_looked_at),
        cmocka_unit_test(an_open_side_by_a_road_is_named_with_its_nights),
        cmocka_unit_test(of_two_open_sides_each_night_has_the_worse),
        cmocka_unit_test(a_lane_that_they_have_at_night_lies_open_too),
        cmocka_unit_test(a_side_that_holds_keeps_the_road_away),
        cmocka_unit_test(what_holds_ewes_does_not_hold_lambs),
        cmocka_unit_test(a_line_beside_a_road_inside_is_named_with_its_nights),
        cmocka_unit_test(other_peoples_stock_counts_as_well),
        cmocka_unit_test(ground_not_grazed_is_told_once_with_its_nights),
        cmocka_unit_test(lines_without_a_path_are_found_at_their_middles),
        cmocka_unit_test(what_was_not_looked_at_is_said),
        cmocka_unit_test(nothing_in_a_plan_promises),
        cmocka_unit_test(a_plan_carries_its_page_of_cautions),
        cmocka_unit_test(cautions_go_by_season_and_class),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
