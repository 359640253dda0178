/* Whole plans from farms made by hand. Areas are judged by GEOS, which the
 * planner does not use. */
#include "plan_help.h"

static void full_paddocks_hold_their_target(void **state)
{
    (void)state;
    const struct outline *const outlines[] = {&rectangle, &leaning, &corner,
                                              &pond};
    for (size_t o = 0; o < 4; o++) {
        struct fw_farm *farm = farm_of(outlines[o], NULL);
        farm->last = FW_LAST_SHORT;
        struct fw_plan *plan = plan_of(farm);
        double sum = 0;
        for (size_t i = 0; i < plan->paddock_count; i++) {
            const struct fw_plan_paddock *paddock = &plan->paddocks[i];
            sum += paddock->plane_m2;
            if (i + 1 < plan->paddock_count)
                assert_relative(paddock->usable_kg, paddock->demand_kg, 1e-9);
            assert_int_equal(paddock->pieces, 1);
        }
        assert_relative(sum, plan->fields[0].plane_m2, 1e-12);
        fw_plan_free(plan);
        fw_farm_free(farm);
    }
}

static struct fw_farm *strips_the_short_way(void)
{
    struct fw_farm *farm = farm_of(&rectangle, NULL);
    farm->layout = fw_strdup("strips");
    farm->direction_given = true; /* fences run north and south */
    return farm;
}

/* 80 head x 2 kg = 160 kg a day; (2500 - 1500) x 0.8 = 800 kg/ha: 0.2 ha a day,
 * 6 ha: 30 paddocks, 29 cuts. The strips run the short way: 200 m each. */
static void rectangle_is_cut_into_thirty_strips(void **state)
{
    (void)state;
    struct fw_farm *farm = strips_the_short_way();
    struct fw_plan *plan = plan_of(farm);
    assert_int_equal(plan->paddock_count, 30);
    assert_near(plan->flock.demand_kg_day, 160, 1e-9);
    for (size_t i = 0; i < plan->fence_count; i++)
        if (plan->fences[i].role == FW_FENCE_MOVED)
            assert_near(plan->fences[i].length_m, 200, 0.001);
    assert_near(plan->totals.fence_m, 29 * 200, 0.01);
    assert_true(plan->totals.fence_m >= plan->totals.fence_bound_m);
    /* 3 lines at once, 2 strands, 4 % or so of slack. */
    assert_near(plan->totals.kit.wire_m, 3 * 200 * 2 * (1 + plan->moved.slack),
                0.1);
    fw_plan_free(plan);
    fw_farm_free(farm);
}

static bool ring_holds(const struct fw_plan_rings *rings, size_t vertex)
{
    for (size_t v = 0; v < rings->ring_start[rings->ring_count]; v++)
        if (rings->vertices[v] == vertex)
            return true;
    return false;
}

/* Every vertex of a line is one of both paddocks beside it; its ends are of the
 * boundary or of another line as well. */
static void neighbours_share_their_corners(void **state)
{
    (void)state;
    const char *const layouts[] = {"strips", "blocks"};
    for (size_t l = 0; l < 2; l++) {
        struct fw_farm *farm = farm_of(&pond, NULL);
        farm->layout = fw_strdup(layouts[l]);
        struct fw_plan *plan = plan_of(farm);
        const struct fw_plan_field *field = &plan->fields[0];
        for (size_t i = 0; i < plan->fence_count; i++) {
            const struct fw_plan_fence *fence = &plan->fences[i];
            if (fence->role == FW_FENCE_PERIMETER)
                continue;
            for (size_t v = 0; v < fence->line_count; v++) {
                const size_t vertex = fence->line[v];
                size_t paddocks = 0, lines = 0;
                for (size_t p = 0; p < plan->paddock_count; p++)
                    paddocks += ring_holds(&plan->paddocks[p].rings, vertex);
                for (size_t k = 0; k < plan->fence_count; k++)
                    for (size_t w = 0;
                         plan->fences[k].role != FW_FENCE_PERIMETER &&
                         w < plan->fences[k].line_count;
                         w++)
                        lines += plan->fences[k].line[w] == vertex;
                const bool edge = ring_holds(&field->rings, vertex);
                const bool end = v == 0 || v + 1 == fence->line_count;
                assert_true(paddocks >= 2);
                if (end)
                    assert_true(edge || lines >= 2);
                /* One line more, one paddock more; a boundary has one to
                 * begin with. */
                if (edge)
                    assert_int_equal(paddocks, lines + 1);
            }
        }
        fw_plan_free(plan);
        fw_farm_free(farm);
    }
}

static void input_vertices_come_back_bit_identical(void **state)
{
    (void)state;
    struct fw_farm *farm = farm_of(&pond, NULL);
    struct fw_plan *plan = plan_of(farm);
    size_t found = 0;
    for (size_t i = 0; i < pond.count; i++) {
        const double x = pond.xy[i][0], y = pond.xy[i][1];
        for (size_t v = 0; v < plan->fields[0].vertex_count; v++) {
            const struct fw_vertex *vertex = &plan->fields[0].vertices[v];
            found += vertex->kind == FW_VERTEX_INPUT &&
                     memcmp(&vertex->file.x, &x, sizeof x) == 0 &&
                     memcmp(&vertex->file.y, &y, sizeof y) == 0;
        }
    }
    assert_int_equal(found, pond.count);
    fw_plan_free(plan);
    fw_farm_free(farm);
}

/* Saturday's stay runs over Sunday, and its paddock is twice as large. */
static void weekend_paddock_holds_two_days(void **state)
{
    (void)state;
    struct fw_farm *farm = farm_of(&rectangle, NULL);
    farm->stay.days[5] = 2;
    farm->stay.days[6] = 0;
    struct fw_plan *plan = plan_of(farm);
    for (size_t i = 0; i + 1 < plan->paddock_count; i++) {
        const struct fw_plan_paddock *paddock = &plan->paddocks[i];
        const struct fw_time_stay *stay = stay_in(plan, i);
        const bool saturday = fw_date_weekday(stay->enter) == 5;
        assert_true(fw_date_weekday(stay->enter) != 6);
        assert_int_equal(stay->leave - stay->enter, saturday ? 2 : 1);
        assert_near(paddock->plane_m2, saturday ? 4000 : 2000, 1e-5);
    }
    fw_plan_free(plan);
    fw_farm_free(farm);
}

/* 200 m x 0.8 m x 0.08 kg/m2 = 12.8 kg of 160 kg. */
static void a_pace_is_a_strip_as_long_as_the_fence(void **state)
{
    (void)state;
    struct fw_farm *farm = strips_the_short_way();
    struct fw_plan *plan = plan_of(farm);
    for (size_t i = 0; i < plan->fence_count; i++)
        if (plan->fences[i].role == FW_FENCE_MOVED)
            assert_near(plan->fences[i].pace_share, 0.08, 1e-4);
    fw_plan_free(plan);
    fw_farm_free(farm);
}

/* No line that stays parts them, so there is no block to tell from another. */
static void strips_are_in_no_block(void **state)
{
    (void)state;
    struct fw_farm *farm = strips_the_short_way();
    struct fw_plan *plan = plan_of(farm);
    assert_true(plan->paddock_count > 1);
    for (size_t i = 0; i < plan->paddock_count; i++)
        assert_string_equal(plan->paddocks[i].block, "");
    fw_plan_free(plan);
    fw_farm_free(farm);
}

static void even_paddocks_are_all_alike(void **state)
{
    (void)state;
    struct fw_farm *farm = farm_of(&leaning, NULL);
    farm->last = FW_LAST_EVEN;
    struct fw_plan *plan = plan_of(farm);
    for (size_t i = 1; i < plan->paddock_count; i++)
        assert_relative(plan->paddocks[i].plane_m2, plan->paddocks[0].plane_m2,
                        1e-9);
    fw_plan_free(plan);
    fw_farm_free(farm);
}

/* 30 stays of 160 kg in 60,000 m2; with a little more to eat each day 29.3. */
static void a_last_paddock_to_fit_is_shared_out_for_full_stays(void **state)
{
    (void)state;
    struct fw_farm *farm = farm_of(&rectangle, NULL);
    farm->classes[0].intake_kg_day = 2 * 30 / 29.3;
    struct fw_plan *plan = plan_of(farm);
    assert_int_equal(plan->paddock_count, 29);
    for (size_t i = 0; i < plan->paddock_count; i++) {
        assert_relative(plan->paddocks[i].plane_m2, 60000 / 29.0, 1e-6);
        assert_near(plan->paddocks[i].stay_days, 1, 0);
    }
    assert_near(plan->fields[0].last_share, 29.3 / 29, 1e-6);
    fw_plan_free(plan);
    farm->classes[0].intake_kg_day = 2 * 30 / 29.7;
    plan = plan_of(farm);
    assert_int_equal(plan->paddock_count, 30);
    assert_near(plan->paddocks[29].stay_days, 0.7, 1e-4);
    fw_plan_free(plan);
    fw_farm_free(farm);
}

static void what_is_not_told_is_asked(void **state)
{
    (void)state;
    struct fw_farm *farm = farm_of(&rectangle, NULL);
    struct fw_plan *plan = plan_of(farm);
    assert_int_equal(plan->untold.count, 4); /* holds, hot, trained, road */
    fw_plan_free(plan);
    for (size_t i = 0; i < farm->fields[0].shape->corner_count; i++)
        farm->fields[0].sides[i] =
            (struct fw_farm_side){FW_HOLDS_LAMBS, FW_YES};
    farm->classes[0].trained = FW_YES;
    plan = plan_of(farm);
    assert_int_equal(plan->untold.count, 1); /* the road */
    fw_plan_free(plan);
    farm->fields[0].sides[2].holds = FW_HOLDS_NOTHING;
    plan = plan_of(farm);
    bool danger = false;
    for (size_t i = 0; i < plan->notes.count; i++)
        danger |= plan->notes.items[i].level == FW_LEVEL_DANGER;
    assert_true(danger);
    fw_plan_free(plan);
    fw_farm_free(farm);
}

static void too_little_grass_makes_no_plan(void **state)
{
    (void)state;
    struct fw_farm *farm = farm_of(&rectangle, NULL);
    farm->classes[0].head = 8000;
    struct fw_plan *plan = NULL;
    struct fw_error err;
    assert_int_equal(fw_plan_make(farm, &plan, &err), FW_EPLAN);
    assert_null(plan);
    assert_non_null(strstr(err.text, "First"));
    farm->classes[0].head = 80;
    farm->fields[0].sward.residual_kg_ha = 2500;
    assert_int_equal(fw_plan_make(farm, &plan, &err), FW_EPLAN);
    fw_farm_free(farm);
}

static void move_is_found_by_its_day(void **state)
{
    (void)state;
    struct fw_farm *farm = farm_of(&rectangle, NULL);
    struct fw_plan *plan = plan_of(farm);
    struct fw_error err;
    size_t move;
    assert_int_equal(fw_plan_find_move(plan, plan->start_day + 4, &move, &err),
                     FW_OK);
    assert_int_equal(move, 4);
    assert_int_equal(
        fw_plan_find_move(plan, plan->start_day + 400, &move, &err), FW_EPLAN);
    assert_non_null(strstr(err.text, "2027-06-16")); /* out of the last one */
    fw_plan_free(plan);
    fw_farm_free(farm);
}

static bool is_convex(GEOSContextHandle_t geos, const GEOSGeometry *polygon)
{
    GEOSGeometry *hull = GEOSConvexHull_r(geos, polygon);
    double all_m2, m2;
    GEOSArea_r(geos, hull, &all_m2);
    GEOSArea_r(geos, polygon, &m2);
    GEOSGeom_destroy_r(geos, hull);
    return all_m2 - m2 < 1e-6;
}

/* Each trough lies in its paddock, and the walk is right by brute force:
 * nowhere under the straight one, and that where all of the paddock is seen. */
static void look_at_troughs(const struct outline *outline)
{
    struct fw_farm *farm = farm_of(outline, NULL);
    farm->stay.days[0] = farm->stay.days[3] = 2; /* larger ones among them */
    struct fw_plan *plan = plan_of(farm);
    GEOSContextHandle_t geos = GEOS_init_r();
    double walks = 0, ground = 0, least_m2 = HUGE_VAL, most_m2 = 0;
    for (size_t i = 0; i < plan->paddock_count; i++) {
        const struct fw_plan_paddock *paddock = &plan->paddocks[i];
        GEOSGeometry *polygon =
            polygon_of(geos, &plan->fields[0], &paddock->rings, 0);
        double m2;
        GEOSArea_r(geos, polygon, &m2);
        walks += m2 * paddock->walk_mean_m;
        ground += m2;
        least_m2 = fmin(least_m2, m2);
        most_m2 = fmax(most_m2, m2);
        const struct fw_point at = plan->waters[paddock->water].place.plane;
        GEOSGeometry *point =
            GEOSGeom_createPointFromXY_r(geos, at.x_m, at.y_m);
        assert_int_equal(GEOSContains_r(geos, polygon, point), 1);
        double farthest;
        assert_int_equal(
            GEOSHausdorffDistance_r(geos, polygon, point, &farthest), 1);
        assert_true(paddock->walk_known);
        assert_true(paddock->walk_max_m > farthest - 1e-6);
        if (is_convex(geos, polygon))
            assert_near(paddock->walk_max_m, farthest, 1e-6);
        assert_true(paddock->walk_mean_m < paddock->walk_max_m);
        GEOSGeom_destroy_r(geos, point);
        GEOSGeom_destroy_r(geos, polygon);
    }
    /* Over the ground, not over the paddocks. */
    assert_true(most_m2 > 1.2 * least_m2);
    assert_true(plan->totals.walk_known);
    assert_relative(plan->totals.walk_mean_m, walks / ground, 1e-6);
    GEOS_finish_r(geos);
    fw_plan_free(plan);
    fw_farm_free(farm);
}

static void troughs_lie_in_their_paddocks(void **state)
{
    (void)state;
    look_at_troughs(&leaning);
    look_at_troughs(&corner);
    look_at_troughs(&pond);
}

/* Nowhere else than in the pond is it 10 m to the fence. One paddock. */
static struct fw_farm *farm_about_a_pond(void)
{
    static const struct outline about = {8,
                                         {{0, 0},
                                          {40, 0},
                                          {40, 40},
                                          {0, 40},
                                          {8, 8},
                                          {8, 32},
                                          {32, 32},
                                          {32, 8}},
                                         4};
    struct fw_farm *farm = farm_of(&about, NULL);
    farm->classes[0].head = 40;
    return farm;
}

static void trough_is_not_put_into_a_pond(void **state)
{
    (void)state;
    struct fw_farm *farm = farm_about_a_pond();
    struct fw_plan *plan = plan_of(farm);
    GEOSContextHandle_t geos = GEOS_init_r();
    assert_int_equal(plan->paddocks[0].rings.ring_count, 2);
    const struct fw_point at =
        plan->waters[plan->paddocks[0].water].place.plane;
    GEOSGeometry *polygon =
        polygon_of(geos, &plan->fields[0], &plan->paddocks[0].rings, 0);
    GEOSGeometry *point = GEOSGeom_createPointFromXY_r(geos, at.x_m, at.y_m);
    assert_int_equal(GEOSContains_r(geos, polygon, point), 1);
    /* Half way round the bank, and out to a corner. */
    assert_true(plan->paddocks[0].walk_known);
    assert_true(plan->paddocks[0].walk_max_m > 48);
    assert_true(plan->paddocks[0].walk_max_m < 80);
    GEOSGeom_destroy_r(geos, point);
    GEOSGeom_destroy_r(geos, polygon);
    GEOS_finish_r(geos);
    fw_plan_free(plan);
    fw_farm_free(farm);
}

/* In the middle of it no sheep gets at it; on the bank they do. */
static void water_in_a_pond_is_reached_from_its_bank(void **state)
{
    (void)state;
    for (int bank = 0; bank < 2; bank++) {
        struct fw_farm *farm = farm_about_a_pond();
        struct fw_farm_field *field = &farm->fields[0];
        const struct fw_point a = field->shape->vertices[4].plane;
        const struct fw_point c = field->shape->vertices[6].plane;
        const double t = bank ? 0.02 : 0.5;
        field->water = (struct fw_spot){.given = true,
                                        .point = {a.x_m + t * (c.x_m - a.x_m),
                                                  a.y_m + t * (c.y_m - a.y_m)}};
        struct fw_plan *plan = plan_of(farm);
        const size_t water = plan->paddocks[0].water;
        assert_string_equal(plan->waters[water].kind_of,
                            bank ? "fixed" : "trough");
        fw_plan_free(plan);
        fw_farm_free(farm);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(full_paddocks_hold_their_target),
        cmocka_unit_test(rectangle_is_cut_into_thirty_strips),
        cmocka_unit_test(neighbours_share_their_corners),
        cmocka_unit_test(input_vertices_come_back_bit_identical),
        cmocka_unit_test(weekend_paddock_holds_two_days),
        cmocka_unit_test(a_pace_is_a_strip_as_long_as_the_fence),
        cmocka_unit_test(strips_are_in_no_block),
        cmocka_unit_test(even_paddocks_are_all_alike),
        cmocka_unit_test(a_last_paddock_to_fit_is_shared_out_for_full_stays),
        cmocka_unit_test(what_is_not_told_is_asked),
        cmocka_unit_test(too_little_grass_makes_no_plan),
        cmocka_unit_test(move_is_found_by_its_day),
        cmocka_unit_test(troughs_lie_in_their_paddocks),
        cmocka_unit_test(trough_is_not_put_into_a_pond),
        cmocka_unit_test(water_in_a_pond_is_reached_from_its_bank),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
