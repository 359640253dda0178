/* What the loaded tank is tried against: both sides of each limit. */
#include "relief.h"

#include "figures/say.h"
#include "report/steps.h"
#include <foldwright/report.h>

#include <math.h>

static struct fw_farm *farm_with_gate(void)
{
    struct fw_farm *farm = farm_of(&rectangle, NULL);
    const struct fw_vertex *at = &farm->fields[0].shape->vertices[0];
    farm->fields[0].gate = (struct fw_spot){
        .given = true, .point = at->plane, .lonlat = at->lonlat};
    farm->layout = fw_strdup("strips");
    farm->tank_l = 300;
    return farm;
}

static const struct fw_plan_finding *find(const struct fw_plan *plan,
                                          const char *rule)
{
    for (size_t i = 0; i < plan->finding_count; i++)
        if (strcmp(plan->findings[i].rule, rule) == 0)
            return &plan->findings[i];
    return NULL;
}

/* Is it found, in such words? NULL: it is not. Frees the farm. */
static void assert_found(struct fw_farm *farm, const char *rule,
                         const char *words)
{
    struct fw_plan *plan = plan_of(farm);
    const struct fw_plan_finding *found = find(plan, rule);
    if (!words && found)
        fail_msg("%s: %s", rule, found->text);
    if (words && !found)
        fail_msg("no %s", rule);
    if (words && found && !strstr(found->text, words))
        fail_msg("no \"%s\" in \"%s\"", words, found->text);
    fw_plan_free(plan);
    fw_farm_free(farm);
}

/* 0.3 m on either side. */
static void a_gate_wants_room_on_both_sides(void **state)
{
    (void)state;
    static const struct {
        double vehicle_m, gate_m;
        const char *words;
    } rows[] = {
        {2.4, 3.01, NULL},
        {2.4, 2.99, "the vehicle is 2.4 m wide and wants 3"},
        {0, 1, NULL},
        {2.4, 0, NULL},
        {1.5, 2.0, "the gate has 2 m"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct fw_farm *farm = farm_with_gate();
        farm->hauling.vehicle_width_m = rows[i].vehicle_m;
        farm->fields[0].gate_width_m = rows[i].gate_m;
        assert_found(farm, "haul-gate", rows[i].words);
    }
}

static void a_told_gate_stands_in_the_plan(void **state)
{
    (void)state;
    struct fw_farm *farm = farm_with_gate();
    farm->fields[0].gate_width_m = 3.25;
    struct fw_plan *plan = plan_of(farm);
    assert_int_equal(plan->gates[0].fence, FW_NONE);
    assert_near(plan->gates[0].width_m, 3.25, 0);
    fw_plan_free(plan);
    fw_farm_free(farm);
}

/* A litre weighs a kilogram. */
static void a_full_tank_is_weighed(void **state)
{
    (void)state;
    static const struct {
        double payload_kg, tank_kg;
        const char *words;
    } rows[] = {
        {300, 0, NULL},
        {299, 0, "full it weighs 300 kg of water"},
        {380, 80, NULL},
        {350, 80,
         "full it weighs 380 kg in all, and the vehicle may carry "
         "350 kg: fill it to 270 L"},
        {0, 0, NULL},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct fw_farm *farm = farm_with_gate();
        farm->hauling.payload_kg = rows[i].payload_kg;
        farm->hauling.tank_kg = rows[i].tank_kg;
        assert_found(farm, "haul-load", rows[i].words);
    }
}

/* What is not brought by a tank is not tried. */
static void without_a_tank_nothing_is_tried(void **state)
{
    (void)state;
    struct fw_farm *farm = farm_with_gate();
    farm->tank_l = 0;
    farm->hauling.payload_kg = 1;
    assert_found(farm, "haul-load", NULL);
    farm = farm_with_gate();
    farm->water_moves = false;
    farm->fields[0].soft = true;
    assert_found(farm, "haul-soft", NULL);
}

/* The longest that any trough wants, of its first fence. */
static double longest_m(const struct fw_plan *plan)
{
    double most_m = 0;
    for (size_t i = 0; i < plan->passage_count; i++)
        if (i == 0 || plan->passages[i].move != plan->passages[i - 1].move)
            most_m = fmax(most_m, plan->passages[i].rest_m);
    return most_m;
}

static size_t opened(const struct fw_plan *plan)
{
    size_t count = 0;
    for (size_t i = 0; i < plan->passage_count; i++)
        count += plan->passages[i].opened;
    return count;
}

static void the_hose_that_does_opens_nothing(void **state)
{
    (void)state;
    struct fw_farm *farm = farm_with_gate();
    struct fw_plan *plan = plan_of(farm);
    const double wanted_m = longest_m(plan);
    const struct fw_plan_finding *found = find(plan, "haul-fence");
    char hose[FW_SAID], words[80];
    assert_true(wanted_m > 3 && opened(plan) == plan->passage_count);
    assert_non_null(found);
    assert_int_equal(found->level, FW_LEVEL_NOTE);
    snprintf(words, sizeof words, "a hose of %s reaches",
             fw_say_measured(wanted_m, 0, FW_METRIC, FW_UP, hose));
    assert_non_null(strstr(found->text, words));
    fw_plan_free(plan);
    for (int k = 0; k < 2; k++) {
        farm->hauling.hose_m = wanted_m + (k ? 0.01 : -0.01);
        plan = plan_of(farm);
        assert_null(find(plan, "haul-fence"));
        assert_int_equal(find(plan, "haul-hose") == NULL, k == 1);
        assert_int_equal(opened(plan) == 0, k == 1);
        fw_plan_free(plan);
    }
    fw_farm_free(farm);
}

static void the_step_says_where_the_tank_comes_through(void **state)
{
    (void)state;
    struct fw_farm *farm = farm_with_gate();
    for (int k = 0; k < 2; k++) {
        farm->hauling.hose_m = k ? 300 : 0;
        struct fw_plan *plan = plan_of(farm);
        assert_true(plan->passage_count > 0);
        const struct fw_plan_passage *passage = &plan->passages[0];
        char *text = NULL, words[80];
        struct fw_error err;
        assert_int_equal(
            fw_report_move(plan, passage->move, false, &text, &err), FW_OK);
        for (char *c = text; *c; c++)
            if (*c == '\n' && strncmp(c, "\n    ", 5) == 0)
                memmove(c + 1, c + 5, strlen(c + 5) + 1), *c = ' ';
        snprintf(words, sizeof words,
                 k ? "The tank stops before %s, and the hose"
                   : "The tank comes through %s at its end",
                 plan->fences[passage->fence].id);
        if (!strstr(text, words))
            fail_msg("no \"%s\" in %s", words, text);
        fw_bytes_free(text);
        /* The card has it in a few words. */
        const struct fw_move *move = &plan->time.moves[passage->move];
        struct fw_text brief = {0};
        for (size_t i = 0; i < move->steps.count; i++) {
            const size_t at = move->steps.first + i;
            const struct fw_report_saying saying = {
                plan, passage->move, &plan->time.steps[at], at, false};
            fw_report_say_brief(&brief, &saying);
        }
        snprintf(words, sizeof words,
                 k ? " Tank stops before %s, hose " : " Tank through %s at ",
                 plan->fences[passage->fence].id);
        if (!strstr(brief.bytes, words))
            fail_msg("no \"%s\" in %s", words, brief.bytes);
        assert_int_equal(strstr(brief.bytes, "hot again behind it") != NULL,
                         k == 0);
        fw_text_release(&brief);
        fw_plan_free(plan);
    }
    fw_farm_free(farm);
}

static void soft_ground_on_the_way_is_told(void **state)
{
    (void)state;
    struct fw_farm *farm = farm_with_gate();
    farm->fields[0].soft = true;
    assert_found(farm, "haul-soft", "of soft ground to the trough of");
    static const double all[][2] = {{-5, -5}, {305, -5}, {305, 205}, {-5, 205}};
    farm = farm_with_gate();
    add_feature(farm, FW_ROLE_SOFT, true, all, 4);
    assert_found(farm, "haul-soft", "of soft ground to the trough of");
    /* Beyond the field, and where a hose reaches from the gate. */
    static const double beyond[][2] = {
        {305, 0}, {350, 0}, {350, 200}, {305, 200}};
    farm = farm_with_gate();
    add_feature(farm, FW_ROLE_SOFT, true, beyond, 4);
    assert_found(farm, "haul-soft", NULL);
    farm = farm_with_gate();
    farm->fields[0].soft = true;
    farm->hauling.hose_m = 400;
    assert_found(farm, "haul-soft", NULL);
}

/* In the shade of a wood over all of it, and of none; a hedge is gone round. */
static void a_trough_keeps_away_from_shade(void **state)
{
    (void)state;
    static const double all[][2] = {{-5, -5}, {305, -5}, {305, 205}, {-5, 205}};
    static const double hedge[][2] = {{-5, 50}, {305, 50}};
    struct fw_farm *farm = farm_with_gate();
    add_feature(farm, FW_ROLE_SHADE, true, all, 4);
    assert_found(farm, "trough-shade", "shade within 10 m");
    assert_found(farm_with_gate(), "trough-shade", NULL);
    farm = farm_with_gate();
    add_feature(farm, FW_ROLE_SHADE, false, hedge, 2);
    struct fw_plan *plan = plan_of(farm);
    const double low_m = farm->fields[0].shape->vertices[0].plane.y_m;
    for (size_t i = 0; i < plan->water_count; i++)
        assert_true(fabs(plan->waters[i].place.plane.y_m - low_m - 50) > 9.9);
    assert_null(find(plan, "trough-shade"));
    fw_plan_free(plan);
    fw_farm_free(farm);
}

/* Aslant, so that no axis of the raster has the slope. */
static double plane_of(double x, double y, double slope)
{
    return slope * (0.6 * x + 0.8 * y);
}

static void ground_over_the_limit_is_steep(void **state)
{
    (void)state;
    static const struct {
        double slope, most;
        const char *words;
    } rows[] = {
        {0.099, 0, NULL},
        {0.101, 0, "as steep as 11 %, over 10 %"},
        {0.101, 0.12, NULL},
        {0.121, 0.12, "as steep as 13 %, over 12 %"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct fw_farm *farm = farm_with_gate();
        set_heights(farm, plane_of, rows[i].slope, 5);
        farm->hauling.slope = rows[i].most;
        assert_found(farm, "haul-slope", rows[i].words);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_gate_wants_room_on_both_sides),
        cmocka_unit_test(a_told_gate_stands_in_the_plan),
        cmocka_unit_test(a_full_tank_is_weighed),
        cmocka_unit_test(without_a_tank_nothing_is_tried),
        cmocka_unit_test(the_hose_that_does_opens_nothing),
        cmocka_unit_test(the_step_says_where_the_tank_comes_through),
        cmocka_unit_test(a_trough_keeps_away_from_shade),
        cmocka_unit_test(soft_ground_on_the_way_is_told),
        cmocka_unit_test(ground_over_the_limit_is_steep),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
