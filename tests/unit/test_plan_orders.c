/* Which end is grazed first, what is held back, in which order the fields come,
 * and what the plan says of it. */
#include "plan_help.h"

static bool says(const struct fw_notes *notes, enum fw_level level,
                 const char *piece)
{
    for (size_t i = 0; i < notes->count; i++)
        if (notes->items[i].level == level &&
            strstr(notes->items[i].text, piece))
            return true;
    return false;
}

static void put_gate(struct fw_farm *farm, size_t vertex)
{
    struct fw_farm_field *field = &farm->fields[0];
    field->gate = (struct fw_spot){
        .given = true, .point = field->shape->vertices[vertex].plane};
}

/* ---- which end first ---- */

/* From every corner; no lane leads from some. */
static void far_end_wins_over_less_work(void **state)
{
    (void)state;
    int far = 0;
    for (size_t v = 0; v < 4; v++) {
        struct fw_farm *farm = farm_of(&rectangle, NULL);
        put_gate(farm, v);
        farm->limits_off = true; /* lanes make long paddocks */
        struct fw_plan *near = plan_of(farm);
        farm->far_first = true;
        struct fw_plan *plan = plan_of(farm);
        const bool is_far = plan->fields[0].far_first;
        assert_false(near->fields[0].far_first);
        assert_int_equal(says(&plan->notes, FW_LEVEL_WARNING, "first: far"),
                         !is_far);
        if (is_far) {
            assert_string_equal(plan->fields[0].pattern, "lane");
            assert_true(plan->totals.minutes_per_move >
                        near->totals.minutes_per_move);
        }
        far += is_far;
        fw_plan_free(near);
        fw_plan_free(plan);
        fw_farm_free(farm);
    }
    assert_true(far > 0);
}

static void strips_say_why_the_near_end_is_first(void **state)
{
    (void)state;
    struct fw_farm *farm = farm_of(&rectangle, NULL);
    farm->far_first = true;
    farm->layout = fw_strdup("strips");
    struct fw_plan *plan = plan_of(farm);
    assert_false(plan->fields[0].far_first);
    assert_true(says(&plan->notes, FW_LEVEL_WARNING,
                     "without a gate or a water point"));
    fw_plan_free(plan);
    put_gate(farm, 0);
    plan = plan_of(farm);
    assert_false(plan->fields[0].far_first);
    assert_true(says(&plan->notes, FW_LEVEL_WARNING, "no lane leads"));
    fw_plan_free(plan);
    fw_farm_free(farm);
}

/* ---- season ---- */

static bool touches(const struct fw_plan *plan, size_t paddock,
                    struct fw_point at)
{
    const struct fw_plan_rings *rings = &plan->paddocks[paddock].rings;
    const struct fw_plan_field *field = &plan->fields[0];
    for (size_t i = 0; i < rings->ring_start[1]; i++) {
        const size_t next = (i + 1) % rings->ring_start[1];
        if (fw_segment_distance_m(
                at, field->vertices[rings->vertices[i]].plane,
                field->vertices[rings->vertices[next]].plane) < 1e-6)
            return true;
    }
    return false;
}

static void dormant_grass_is_grazed_from_the_water_outwards(void **state)
{
    (void)state;
    for (int dormant = 0; dormant < 2; dormant++) {
        struct fw_farm *farm = farm_of(&rectangle, NULL);
        struct fw_farm_field *field = &farm->fields[0];
        put_gate(farm, 0);
        const struct fw_point water = field->shape->vertices[2].plane;
        field->water = (struct fw_spot){.given = true, .point = water};
        farm->season = dormant ? FW_SEASON_DORMANT : FW_SEASON_GROWTH;
        farm->back_fence = !dormant;
        struct fw_plan *plan = plan_of(farm);
        assert_int_equal(plan->season, farm->season);
        assert_int_equal(touches(plan, 0, water), dormant);
        assert_int_equal(touches(plan, 0, field->gate.point), !dormant);
        fw_plan_free(plan);
        fw_farm_free(farm);
    }
}

/* The gate or the water in the middle of a long side: whoever owns reels for
 * two lines begins at an end. The water that they walk to is else the start,
 * and a third line holds the other side. */
static void two_lines_do_from_end_to_end(void **state)
{
    (void)state;
    for (int how = 0; how < 8; how++) {
        const bool water = how & 1, moves = how & 2, few = how & 4;
        struct fw_farm *farm = farm_of(&rectangle, NULL);
        struct fw_farm_field *field = &farm->fields[0];
        const struct fw_field *shape = field->shape;
        const struct fw_point a = shape->vertices[0].plane,
                              b = shape->vertices[1].plane;
        struct fw_spot *spot = water ? &field->water : &field->gate;
        *spot = (struct fw_spot){
            .given = true, .point = {(a.x_m + b.x_m) / 2, (a.y_m + b.y_m) / 2}};
        farm->season = FW_SEASON_DORMANT;
        farm->back_fence = false;
        farm->water_moves = moves;
        farm->direction_given = true;
        farm->layout = fw_strdup("strips");
        farm->kit_given = few;
        farm->kit = (struct fw_kit){
            .reels = 2 * farm->moved.strands, .posts = 500, .wire_m = 1e4};
        struct fw_plan *plan = plan_of(farm);
        const bool one_way = moves && (few || !water);
        assert_int_equal(touches(plan, 0, spot->point), !one_way);
        assert_int_equal(plan->totals.kit.reels,
                         (one_way ? 2 : 3) * farm->moved.strands);
        fw_plan_free(plan);
        fw_farm_free(farm);
    }
}

/* Water a way off is where the tank is filled; the flock comes by the gate. */
static void water_outside_the_field_begins_nothing(void **state)
{
    (void)state;
    struct fw_farm *farm = farm_of(&rectangle, NULL);
    struct fw_farm_field *field = &farm->fields[0];
    put_gate(farm, 0);
    struct fw_point water = field->shape->vertices[2].plane;
    water.x_m += 30;
    field->water = (struct fw_spot){.given = true, .point = water};
    farm->season = FW_SEASON_DORMANT;
    struct fw_plan *plan = plan_of(farm);
    assert_true(touches(plan, 0, field->gate.point));
    fw_plan_free(plan);
    fw_farm_free(farm);
}

static void grass_in_growth_wants_a_back_fence(void **state)
{
    (void)state;
    const char *const warning = "without a back fence";
    for (int season = 0; season < 2; season++)
        for (int back = 0; back < 2; back++) {
            struct fw_farm *farm = farm_of(&rectangle, NULL);
            farm->season = season ? FW_SEASON_DORMANT : FW_SEASON_GROWTH;
            farm->back_fence = back;
            farm->back_fence_told = true;
            struct fw_plan *plan = plan_of(farm);
            assert_int_equal(says(&plan->notes, FW_LEVEL_WARNING, warning),
                             !season && !back);
            fw_plan_free(plan);
            fw_farm_free(farm);
        }
    /* Three days in all leave no time to sprout: 6 ha for 820 head. */
    struct fw_farm *farm = farm_of(&rectangle, NULL);
    farm->back_fence = false;
    farm->classes[0].head = 820;
    struct fw_plan *plan = plan_of(farm);
    assert_near(plan->fields[0].rotation_days, 2.9, 0.1);
    assert_false(says(&plan->notes, FW_LEVEL_WARNING, warning));
    fw_plan_free(plan);
    fw_farm_free(farm);
}

/* ---- kept back ---- */

static double days_kept(const struct fw_plan *plan, const char *word)
{
    double days = 0;
    bool held = false;
    for (size_t i = 0; i < plan->paddock_count; i++) {
        const bool here = plan->paddocks[i].keep[0] != 0;
        assert_true(here || !held); /* nothing else comes after them */
        held |= here;
        if (strcmp(plan->paddocks[i].keep, word) == 0)
            days += plan->paddocks[i].stay_days;
    }
    return days;
}

static void storms_and_heat_have_their_paddocks(void **state)
{
    (void)state;
    static const double hedge[][2] = {{120, 202}, {300, 202}};
    static const double trees[][2] = {{250, 20}, {280, 20}, {280, 60}};
    struct fw_farm *farm = farm_of(&rectangle, NULL);
    put_gate(farm, 0);
    add_feature(farm, FW_ROLE_SHELTER, false, hedge, 2);
    add_feature(farm, FW_ROLE_SHADE, true, trees, 3);
    farm->keep_days[FW_KEEP_STORM] = 3;
    farm->keep_days[FW_KEEP_HEAT] = 2;
    struct fw_plan *plan = plan_of(farm);
    const double storm = days_kept(plan, "storm"),
                 heat = days_kept(plan, "heat");
    assert_true(storm >= 2.9 && storm < 4);
    assert_true(heat >= 1.9 && heat < 3);
    assert_false(says(&plan->notes, FW_LEVEL_WARNING, "kept for"));
    fw_plan_free(plan);
    /* Of two days in each of them, two paddocks are enough for storms. */
    for (int i = 0; i < 7; i++)
        farm->stay.days[i] = 2;
    farm->keep_days[FW_KEEP_HEAT] = 0;
    plan = plan_of(farm);
    const double days = days_kept(plan, "storm");
    assert_true(days >= 2.8 && days < 5);
    assert_near(days_kept(plan, "heat"), 0, 0);
    fw_plan_free(plan);
    fw_farm_free(farm);
}

static void what_cannot_be_kept_is_named(void **state)
{
    (void)state;
    static const double tree[][2] = {{135, 90}, {136, 110}};
    struct fw_farm *farm = farm_of(&rectangle, NULL);
    put_gate(farm, 0);
    farm->keep_days[FW_KEEP_STORM] = 1;
    struct fw_plan *plan = plan_of(farm);
    assert_true(says(&plan->notes, FW_LEVEL_WARNING, "no map shows shelter"));
    assert_near(days_kept(plan, "storm"), 0, 0);
    fw_plan_free(plan);
    farm->layout = fw_strdup("strips");
    farm->direction_given = true;
    add_feature(farm, FW_ROLE_SHELTER, false, tree, 2);
    plan = plan_of(farm);
    assert_near(days_kept(plan, "storm"), 0, 0);
    assert_true(
        says(&plan->notes, FW_LEVEL_WARNING, "have shelter too, but the way") ||
        says(&plan->notes, FW_LEVEL_WARNING, "has shelter too, but the way"));
    fw_plan_free(plan);
    /* Left to choose, a layout is found in which the tree is left out. */
    fw_free(farm->layout);
    farm->layout = NULL;
    farm->direction_given = false;
    plan = plan_of(farm);
    assert_true(days_kept(plan, "storm") >= 0.9);
    fw_plan_free(plan);
    static const double far[][2] = {{-200, -300}, {-180, -300}};
    farm->feature_count = 0;
    fw_free(farm->features[0].points);
    fw_free(farm->features[0].ring_start);
    add_feature(farm, FW_ROLE_SHELTER, false, far, 2);
    plan = plan_of(farm);
    assert_true(says(&plan->notes, FW_LEVEL_WARNING,
                     "no paddock holds or touches shelter"));
    fw_plan_free(plan);
    fw_farm_free(farm);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(far_end_wins_over_less_work),
        cmocka_unit_test(strips_say_why_the_near_end_is_first),
        cmocka_unit_test(dormant_grass_is_grazed_from_the_water_outwards),
        cmocka_unit_test(two_lines_do_from_end_to_end),
        cmocka_unit_test(water_outside_the_field_begins_nothing),
        cmocka_unit_test(grass_in_growth_wants_a_back_fence),
        cmocka_unit_test(storms_and_heat_have_their_paddocks),
        cmocka_unit_test(what_cannot_be_kept_is_named),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
