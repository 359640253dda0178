/* What a plan takes over from the farm as it was told. */
#include "plan_help.h"

static struct fw_farm *odd_farm(void)
{
    struct fw_farm *farm = farm_of(&rectangle, &leaning);
    farm->season = FW_SEASON_DORMANT;
    farm->field_order = FW_ORDER_NEAREST;
    farm->back_fence = false;
    farm->pace_m = 0.7;
    farm->tank_l = 900;
    farm->dry_soil = true;
    farm->units = FW_US;
    farm->prices.earth_rod = 11;
    farm->prices.joule = 12;
    farm->prices.lead_m = 13;
    farm->prices.copper_wire_m = 14;
    snprintf(farm->prices.currency, sizeof farm->prices.currency, "EUR");
    return farm;
}

static void the_farm_s_own_figures_are_in_the_plan(void **state)
{
    (void)state;
    struct fw_farm *farm = odd_farm();
    struct fw_plan *plan = plan_of(farm);
    assert_string_equal(plan->farm_name, "Test farm");
    assert_int_equal(plan->start_day, farm->start_day);
    assert_int_equal(plan->season, FW_SEASON_DORMANT);
    assert_int_equal(plan->field_order, FW_ORDER_NEAREST);
    assert_int_equal(plan->units, FW_US);
    assert_false(plan->back_fence);
    assert_true(plan->dry_soil);
    assert_near(plan->pace_m, 0.7, 0);
    assert_near(plan->tank_l, 900, 0);
    assert_near(plan->prices.earth_rod, 11, 0);
    assert_near(plan->prices.joule, 12, 0);
    assert_near(plan->prices.lead_m, 13, 0);
    assert_near(plan->prices.copper_wire_m, 14, 0);
    assert_string_equal(plan->currency, "EUR");
    assert_int_equal(plan->moved.strands, farm->moved.strands);
    assert_near(plan->moved.reel_m, farm->moved.reel_m, 0);
    assert_int_equal(plan->class_count, 1);
    assert_string_equal(plan->classes[0].name, "ewes");
    assert_int_equal(plan->flock.head, 80);
    /* 2 kg were told for each of them. */
    assert_near(plan->flock.demand_kg_day, 160, 1e-9);
    assert_near(plan->flock.liveweight_kg, 4800, 1e-9);
    assert_true(plan->intake_source[0] && plan->water_source[0]);
    fw_plan_free(plan);
    fw_farm_free(farm);
}

/* Untold wiring is the usual one; told it is as it was told. */
static void wiring_is_as_told(void **state)
{
    (void)state;
    const struct fw_farm_wiring usual = fw_farm_wiring_default();
    struct fw_farm *farm = odd_farm();
    struct fw_plan *plan = plan_of(farm);
    assert_near(plan->wiring.moved_ohm_m, usual.moved_ohm_m, 0);
    assert_near(plan->wiring.rod_v, usual.rod_v, 0);
    fw_plan_free(plan);
    farm->wiring = usual;
    farm->wiring.moved_ohm_m = usual.moved_ohm_m / 2;
    plan = plan_of(farm);
    assert_near(plan->wiring.moved_ohm_m, usual.moved_ohm_m / 2, 0);
    fw_plan_free(plan);
    fw_farm_free(farm);
}

/* The system of all fields, or longitude and latitude where they differ. */
static void the_system_is_that_of_all_fields(void **state)
{
    (void)state;
    struct fw_farm *farm = odd_farm();
    struct fw_plan *plan = plan_of(farm);
    assert_string_equal(plan->crs, crs_text);
    fw_plan_free(plan);
    fw_free(farm->fields[1].crs);
    const char *const other = /* the same places under another name */
        "+proj=laea +lat_0=58.3 +lon_0=25.5 +datum=WGS84 +units=m +no_defs";
    farm->fields[1].crs = fw_strdup(other);
    plan = plan_of(farm);
    assert_string_equal(plan->crs, "OGC:CRS84");
    assert_string_equal(plan->fields[0].crs, crs_text);
    assert_string_equal(plan->fields[1].crs, other);
    fw_plan_free(plan);
    fw_farm_free(farm);
}

static void of_several_swards_the_most_legumes_count(void **state)
{
    (void)state;
    static const double told[][3] = {{-1, -1, -1},
                                     {0.2, 0.5, 0.5},
                                     {0.5, 0.2, 0.5},
                                     {-1, 0, 0},
                                     {0.3, -1, 0.3}};
    for (size_t i = 0; i < 5; i++) {
        struct fw_farm *farm = odd_farm();
        farm->fields[0].sward.legume = told[i][0];
        farm->fields[1].sward.legume = told[i][1];
        struct fw_plan *plan = plan_of(farm);
        assert_near(plan->legume, told[i][2], 0);
        fw_plan_free(plan);
        fw_farm_free(farm);
    }
}

/* 2500 kg/ha at 250 kg/ha each centimetre stand 10 cm high, and 1500 of them
 * are to stay: 6 cm. Of the 1000 between they take 80 %. */
static void grass_is_told_by_field(void **state)
{
    (void)state;
    struct fw_farm *farm = odd_farm();
    farm->fields[0].sward.density_kg_ha_cm = 250;
    farm->fields[1].sward.mass_kg_ha = 3000;
    farm->fields[1].sward.use = 0.5;
    farm->fields[1].hole_holds = FW_HOLDS_SHEEP;
    farm->fields[1].crs_accuracy_m = 2;
    struct fw_plan *plan = plan_of(farm);
    const struct fw_plan_field *first = &plan->fields[0];
    const struct fw_plan_field *second = &plan->fields[1];
    assert_near(first->mass_kg_ha, 2500, 1e-9);
    assert_near(first->residual_kg_ha, 1500, 1e-9);
    assert_near(first->usable_kg_ha, 800, 1e-9);
    assert_near(first->use, 0.8, 1e-12);
    assert_near(first->grass_m, 0.1, 1e-9);
    assert_near(second->mass_kg_ha, 3000, 1e-9);
    assert_near(second->usable_kg_ha, 750, 1e-9);
    assert_near(second->use, 0.5, 1e-12);
    assert_near(second->grass_m, 0, 0); /* nobody told */
    assert_near(second->left_m, 0, 0);
    assert_int_equal(second->hole_holds, FW_HOLDS_SHEEP);
    assert_near(second->crs_accuracy_m, 2, 0);
    assert_string_equal(first->source, "outline");
    assert_string_equal(first->name, "First");
    assert_string_equal(second->name, "Second");
    assert_near(first->area_ha, 6, 1e-3);
    assert_near(first->perimeter_m, 1000, 0.05);
    assert_non_null(plan->use_source);
    fw_plan_free(plan);
    fw_farm_free(farm);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_farm_s_own_figures_are_in_the_plan),
        cmocka_unit_test(wiring_is_as_told),
        cmocka_unit_test(the_system_is_that_of_all_fields),
        cmocka_unit_test(of_several_swards_the_most_legumes_count),
        cmocka_unit_test(grass_is_told_by_field),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
