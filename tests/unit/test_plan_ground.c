/* What a plan counts on: that its ground adds up, that they get at the water
 * each night, and that a field without a plan stops no other. */
#include "plan_help.h"

/* ---- ground that is not grazed ---- */

static struct fw_point between(const struct fw_farm *farm, size_t a, size_t b,
                               double t)
{
    const struct fw_vertex *at = farm->fields[0].shape->vertices;
    return (struct fw_point){
        at[a].plane.x_m + t * (at[b].plane.x_m - at[a].plane.x_m),
        at[a].plane.y_m + t * (at[b].plane.y_m - at[a].plane.y_m)};
}

static double union_m2(const struct fw_plan *plan)
{
    GEOSContextHandle_t geos = GEOS_init_r();
    GEOSGeometry *all = GEOSGeom_createEmptyPolygon_r(geos);
    const size_t cells = plan->paddock_count + plan->lane_count;
    for (size_t c = 0; c < cells; c++) {
        const struct fw_plan_rings *rings =
            c < plan->paddock_count
                ? &plan->paddocks[c].rings
                : &plan->lanes[c - plan->paddock_count].rings;
        for (size_t p = 0; p < rings->piece_count; p++) {
            GEOSGeometry *piece = polygon_of(geos, &plan->fields[0], rings, p);
            GEOSGeometry *more = GEOSUnion_r(geos, all, piece);
            GEOSGeom_destroy_r(geos, all);
            GEOSGeom_destroy_r(geos, piece);
            all = more;
        }
    }
    const double m2 = area_of(geos, all);
    GEOSGeom_destroy_r(geos, all);
    GEOS_finish_r(geos);
    return m2;
}

/* Neither gap nor overlap: the areas add up to the field, and so does what GEOS
 * makes of all polygons together. */
static void look_at_ground(const struct fw_plan *plan)
{
    const struct fw_plan_field *field = &plan->fields[0];
    double grazed_m2 = 0, grazed_ha = 0, lost_m2 = 0, lost_ha = 0;
    for (size_t p = 0; p < plan->paddock_count; p++) {
        grazed_m2 += plan->paddocks[p].plane_m2;
        grazed_ha += plan->paddocks[p].area_ha;
    }
    assert_true(plan->lane_count > 0);
    for (size_t i = 0; i < plan->lane_count; i++) {
        lost_m2 += plan->lanes[i].plane_m2;
        lost_ha += plan->lanes[i].area_ha;
        assert_int_equal(plan->lanes[i].apron, field->pattern[0] == 'w');
    }
    assert_true(lost_m2 > 50);
    assert_relative(grazed_m2 + lost_m2, field->plane_m2, 1e-9);
    assert_relative(union_m2(plan), field->plane_m2, 1e-9);
    assert_relative(grazed_ha + lost_ha, field->area_ha, 1e-7);
    assert_relative(grazed_ha, field->grazed_ha, 1e-7);
}

static void lanes_and_aprons_add_up_with_the_paddocks(void **state)
{
    (void)state;
    static const char *const layouts[] = {"lane", "wedges"};
    const struct outline *const outlines[] = {&rectangle, &leaning, &corner};
    for (size_t o = 0; o < 3; o++)
        for (size_t l = 0; l < 2; l++) {
            struct fw_farm *farm = farm_of(outlines[o], NULL);
            struct fw_farm_field *field = &farm->fields[0];
            if (o == 2 && l == 1) { /* no place from where all is in sight */
                fw_farm_free(farm);
                continue;
            }
            field->water.given = true;
            field->water.point = between(farm, 0, 2, 0.5);
            farm->layout = fw_strdup(layouts[l]);
            farm->classes[0].head = 240;
            struct fw_plan *plan = plan_of(farm);
            look_at_ground(plan);
            fw_plan_free(plan);
            fw_farm_free(farm);
        }
}

/* ---- water ---- */

static void assert_all_drink(const struct fw_plan *plan)
{
    for (size_t i = 0; i < plan->finding_count; i++)
        assert_string_not_equal(plan->findings[i].rule, "no-water");
    for (size_t p = 0; p < plan->paddock_count; p++) {
        assert_true(plan->paddocks[p].water != FW_NONE);
        assert_string_equal(plan->waters[plan->paddocks[p].water].kind_of,
                            "fixed");
    }
}

/* The water stands beside the first strip; from all others they walk back to it
 * over what was grazed. */
static void without_a_back_fence_they_walk_back_to_the_water(void **state)
{
    (void)state;
    for (int how = 0; how < 4; how++) {
        struct fw_farm *farm = farm_of(&rectangle, NULL);
        struct fw_farm_field *field = &farm->fields[0];
        farm->season = how & 1 ? FW_SEASON_DORMANT : FW_SEASON_GROWTH;
        farm->work_order = how & 2 ? FW_WORK_SET_FIRST : FW_WORK_LEAPFROG;
        farm->back_fence = false;
        farm->water_moves = false;
        field->water.given = true;
        field->water.point = between(farm, 0, 3, 0.5);
        farm->layout = fw_strdup("strips");
        farm->direction_given = true; /* fences run north and south */
        struct fw_plan *plan = plan_of(farm);
        assert_int_equal(plan->paddock_count, 30);
        assert_all_drink(plan);
        fw_plan_free(plan);
        fw_farm_free(farm);
    }
}

static void wedges_meet_at_the_water(void **state)
{
    (void)state;
    for (int how = 0; how < 4; how++) {
        struct fw_farm *farm = farm_of(&rectangle, NULL);
        struct fw_farm_field *field = &farm->fields[0];
        farm->back_fence = how & 1;
        farm->work_order = how & 2 ? FW_WORK_SET_FIRST : FW_WORK_LEAPFROG;
        farm->water_moves = false;
        farm->classes[0].head = 240;
        field->water.given = true;
        field->water.point = between(farm, 0, 2, 0.5);
        farm->layout = fw_strdup("wedges");
        struct fw_plan *plan = plan_of(farm);
        assert_all_drink(plan);
        fw_plan_free(plan);
        fw_farm_free(farm);
    }
}

/* The lane begins at the water. */
static void paddocks_beside_a_lane_drink_at_its_end(void **state)
{
    (void)state;
    for (int how = 0; how < 4; how++) {
        struct fw_farm *farm = farm_of(&rectangle, NULL);
        struct fw_farm_field *field = &farm->fields[0];
        farm->back_fence = how & 1;
        farm->work_order = how & 2 ? FW_WORK_SET_FIRST : FW_WORK_LEAPFROG;
        farm->water_moves = false;
        field->gate.given = field->water.given = true;
        field->gate.point = field->water.point = between(farm, 0, 3, 0.485);
        farm->layout = fw_strdup("lane-0-14");
        struct fw_plan *plan = plan_of(farm);
        assert_all_drink(plan);
        fw_plan_free(plan);
        fw_farm_free(farm);
    }
}

/* ---- a field without a plan ---- */

/* A day's grass is 2000 m2. */
static const struct outline tiny = {4, {{0, 0}, {15, 0}, {15, 15}, {0, 15}}, 0};

static struct fw_farm *three_fields(const struct outline *const outlines[3])
{
    struct fw_crs *crs;
    struct fw_farm *farm = farm_of(outlines[0], outlines[1]);
    struct fw_farm_field *fields = fw_alloc(3, sizeof *fields);
    assert_int_equal(fw_crs_new(crs_text, &crs, NULL), FW_OK);
    memcpy(fields, farm->fields, 2 * sizeof *fields);
    fw_free(farm->fields);
    farm->fields = fields;
    farm->field_count = 3;
    add_field(farm, 2, outlines[2], 2000, crs);
    fw_crs_free(crs);
    farm->layout = fw_strdup("strips");
    return farm;
}

static void look_at_fields(const struct fw_plan *plan, size_t without)
{
    size_t paddocks = 0, lines = 0;
    for (size_t f = 0; f < 3; f++) {
        const struct fw_plan_field *field = &plan->fields[f];
        const bool planned = f != without;
        assert_int_equal(field->paddock_count > 0, planned);
        assert_int_equal(field->no_plan == NULL, planned);
        if (!planned)
            assert_true(strlen(field->no_plan) > 10);
        assert_int_equal(field->first_paddock, paddocks);
        paddocks += field->paddock_count;
        for (size_t i = 0; i < field->fence_count; i++)
            lines +=
                plan->fences[field->first_fence + i].role != FW_FENCE_PERIMETER;
    }
    assert_int_equal(paddocks, plan->paddock_count);
    /* Strips: a line less than paddocks in each of the two. */
    assert_int_equal(lines, paddocks - 2);
    /* One stay a paddock, day after day from the first on. */
    const struct fw_time *time = &plan->time;
    assert_int_equal(time->stay_count, paddocks);
    int day = plan->start_day;
    for (size_t i = 0; i < paddocks; i++) {
        assert_int_equal(time->stays[i].cell, i);
        assert_int_equal(time->stays[i].enter, day);
        day = time->stays[i].leave;
    }
    assert_int_equal(plan->end_day, day);
    for (size_t m = 0; m < time->move_count; m++)
        assert_int_not_equal(time->moves[m].field, without);
}

static void a_field_that_is_too_small_stops_no_other(void **state)
{
    (void)state;
    for (size_t without = 0; without < 3; without++) {
        const struct outline *outlines[3] = {&rectangle, &leaning, &rectangle};
        outlines[without] = &tiny;
        struct fw_farm *farm = three_fields(outlines);
        struct fw_plan *plan = plan_of(farm);
        look_at_fields(plan, without);
        fw_plan_free(plan);
        /* And what can be chosen from in the others is told. */
        struct fw_plan_scores scores = {0};
        struct fw_error err;
        if (fw_plan_compare(farm, &scores, &err))
            fail_msg("%s", err.text);
        size_t seen[3] = {0};
        for (size_t i = 0; i < scores.count; i++)
            seen[scores.items[i].field]++;
        for (size_t f = 0; f < 3; f++)
            assert_int_equal(seen[f] > 0, f != without);
        fw_plan_scores_release(&scores);
        fw_farm_free(farm);
    }
}

/* Wedges are cut about water; only one field has any. */
static void a_field_that_cannot_be_cut_so_stops_no_other(void **state)
{
    (void)state;
    const struct outline *const outlines[3] = {&rectangle, &corner, &rectangle};
    struct fw_farm *farm = three_fields(outlines);
    fw_free(farm->layout);
    farm->layout = fw_strdup("wedges");
    farm->classes[0].head = 240;
    farm->fields[0].water.given = true;
    farm->fields[0].water.point = between(farm, 0, 2, 0.5);
    struct fw_plan *plan = plan_of(farm);
    assert_null(plan->fields[0].no_plan);
    assert_int_equal(plan->paddock_count, plan->fields[0].paddock_count);
    for (size_t f = 1; f < 3; f++)
        assert_non_null(plan->fields[f].no_plan);
    fw_plan_free(plan);
    fw_farm_free(farm);
}

static void where_no_field_has_a_plan_there_is_none(void **state)
{
    (void)state;
    const struct outline *const outlines[3] = {&tiny, &tiny, &tiny};
    struct fw_farm *farm = three_fields(outlines);
    struct fw_plan *plan = NULL;
    struct fw_plan_scores scores = {0};
    struct fw_error err;
    assert_int_equal(fw_plan_make(farm, &plan, &err), FW_EPLAN);
    assert_null(plan);
    assert_non_null(strstr(err.text, "First"));
    assert_int_equal(fw_plan_compare(farm, &scores, &err), FW_EPLAN);
    assert_null(scores.items);
    fw_farm_free(farm);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(lanes_and_aprons_add_up_with_the_paddocks),
        cmocka_unit_test(without_a_back_fence_they_walk_back_to_the_water),
        cmocka_unit_test(wedges_meet_at_the_water),
        cmocka_unit_test(paddocks_beside_a_lane_drink_at_its_end),
        cmocka_unit_test(a_field_that_is_too_small_stops_no_other),
        cmocka_unit_test(a_field_that_cannot_be_cut_so_stops_no_other),
        cmocka_unit_test(where_no_field_has_a_plan_there_is_none),
    };
    return cmocka_run_group_tests_name("plan_ground", tests, NULL, NULL);
}
