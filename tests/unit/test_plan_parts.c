/* Plans of a field that is grazed in parts, for the condition of its grass. */
#include "farm_help.h"
#include "geo/geo.h"

#include "make/make.h"
#include "plan/words.h"
#include <foldwright/plan.h>

#include <math.h>

/* A part of the field from west to east. */
#define THIRD(west, east, condition)                                           \
    "{\"type\":\"Feature\",\"properties\":{\"mass\":2500,\"condition\":"       \
    "\"" condition                                                             \
    "\"},\"geometry\":{\"type\":\"Polygon\",\"coordinates\":[[[" west          \
    ",50.999],[" east ",50.999],[" east ",51.001],[" west ",51.001],[" west    \
    ",50.999]]]}}"

static const char *const told =
    "farm: Thirds\n"
    "start: 2027-05-17\n"
    "stay: {mon-sun: 1 day}\n"
    "flock: [{class: ewes, head: 12, weight: 60 kg, state: dry, coat: shorn, "
    "trained: yes}]\n"
    "forage: {mass: 2500 kg/ha, residual: 1500 kg/ha, condition: fresh}\n"
    "fields: {source: field.geojson, name: name, each: [{field: Long Bottom, "
    "gate: \"8.9992875,50.9996405\", water: \"8.9992875,50.9996405\"}]}\n"
    "back-fence: no\n"
    "hauling: {trough-moves: no}\n"
    "maps: [{role: zone, source: zones.geojson}]\n";

/* What a place counts for. */
typedef double (*weight)(struct fw_point at);

static double alike(struct fw_point at)
{
    (void)at;
    return 1;
}

/* East of the middle 400 kg/ha of 1,900 may be taken, west of it 1,000 of
 * 2,500. */
static double more_in_the_west(struct fw_point at)
{
    return at.x_m < 0 ? 1000 : 400;
}

/* By that place to the water, over a net of places. */
static double mean_by_m(const struct fw_plan_field *field,
                        const struct fw_plan_rings *rings, struct fw_point by,
                        weight of)
{
    enum { most = 64, net = 300 };
    struct fw_point ring[most], low = {HUGE_VAL, HUGE_VAL};
    struct fw_point high = {-HUGE_VAL, -HUGE_VAL};
    const size_t count = rings->ring_start[1];
    double sum_m = 0, places = 0;
    assert_true(rings->ring_count == 1 && count <= most);
    for (size_t i = 0; i < count; i++) {
        ring[i] = field->vertices[rings->vertices[i]].plane;
        low = (struct fw_point){fmin(low.x_m, ring[i].x_m),
                                fmin(low.y_m, ring[i].y_m)};
        high = (struct fw_point){fmax(high.x_m, ring[i].x_m),
                                 fmax(high.y_m, ring[i].y_m)};
    }
    for (size_t i = 0; i < net * net; i++) {
        const struct fw_point at = {
            low.x_m + (high.x_m - low.x_m) * ((double)(i % net) + 0.5) / net,
            low.y_m + (high.y_m - low.y_m) * ((double)(i / net) + 0.5) / net};
        if (!fw_ring_contains(ring, count, at))
            continue;
        places += of(at);
        sum_m += of(at) * hypot(at.x_m - by.x_m, at.y_m - by.y_m);
    }
    return sum_m / places + hypot(by.x_m - field->water.plane.x_m,
                                  by.y_m - field->water.plane.y_m);
}

/* Where they come into a part: the fence before it has but an opening until the
 * last paddock at it is grazed. The first part has the water. */
static struct fw_point way_in(const struct fw_plan *plan, size_t field)
{
    for (size_t i = 0; i < plan->time.opening_count; i++) {
        const struct fw_opening *opening = &plan->time.openings[i];
        if (opening->field == field && opening->line != FW_NONE &&
            fw_plan_is_outer_front(plan, opening->line))
            return opening->place;
    }
    return plan->fields[field].water.plane;
}

static void way_to_water_in_another_part_is_known(void **state)
{
    (void)state;
    struct fw_error err = {0};
    struct fw_plan *plan = NULL;
    put_text("zones.geojson",
             COLLECTION(THIRD("8.9997", "9.0002",
                              "rank") "," THIRD("9.0002", "9.001", "aged")));
    struct fw_farm *farm = farm_of(told, false, &err);
    if (!farm || fw_plan_make(farm, &plan, &err))
        fail_msg("%s", err.text);
    assert_int_equal(plan->field_count, 3);
    for (size_t p = 0; p < plan->paddock_count; p++) {
        const struct fw_plan_paddock *paddock = &plan->paddocks[p];
        assert_int_equal(paddock->walk_untold, FW_WALK_TOLD);
        assert_true(paddock->walk_known);
        const struct fw_plan_field *field = &plan->fields[paddock->field];
        const double straight_m =
            mean_by_m(field, &paddock->rings, field->water.plane, alike);
        const double longer_m = mean_by_m(field, &paddock->rings,
                                          way_in(plan, paddock->field), alike);
        /* The net is as good as that. */
        assert_true(paddock->walk_mean_m > straight_m * (1 - 5e-3));
        assert_true(paddock->walk_mean_m < longer_m * (1 + 5e-3));
    }
    fw_plan_free(plan);
    fw_farm_free(farm);
}

/* Nothing is in the way of the water in the corner. */
static void the_walk_is_weighed_by_the_feed_of_the_paddock(void **state)
{
    (void)state;
    struct fw_error err = {0};
    struct fw_plan *plan = NULL;
    size_t uneven = 0;
    put_text("zones.geojson",
             "{\"type\":\"FeatureCollection\",\"features\":[{\"type\":"
             "\"Feature\",\"properties\":{\"mass\":1900},\"geometry\":{"
             "\"type\":\"Polygon\",\"coordinates\":[[[9,50.99],[9.01,50.99],["
             "9.01,51.01],[9,51.01],[9,50.99]]]}}]}");
    struct fw_farm *farm = farm_of(told, false, &err);
    if (!farm || fw_plan_make(farm, &plan, &err))
        fail_msg("%s", err.text);
    for (size_t p = 0; p < plan->paddock_count; p++) {
        const struct fw_plan_paddock *paddock = &plan->paddocks[p];
        const struct fw_plan_field *field = &plan->fields[paddock->field];
        const struct fw_point water = field->water.plane;
        assert_true(paddock->walk_known);
        assert_relative(paddock->walk_mean_m,
                        mean_by_m(field, &paddock->rings, water, alike), 5e-3);
        assert_relative(
            paddock->walk_fed_m,
            mean_by_m(field, &paddock->rings, water, more_in_the_west), 5e-3);
        uneven += fabs(paddock->walk_fed_m / paddock->walk_mean_m - 1) > 0.01;
    }
    assert_true(uneven > 0);
    fw_plan_free(plan);
    fw_farm_free(farm);
}

/* Behind a back fence none but those at the water have any, and the plan says
 * what would help. */
static void that_water_is_shut_off_is_why_no_walk_is_told(void **state)
{
    (void)state;
    struct fw_error err = {0};
    struct fw_plan *plan = NULL;
    char shut[2048];
    const char *fence = strstr(told, "back-fence");
    size_t with = 0, without = 0;
    snprintf(shut, sizeof shut, "%.*sback-fence: yes%s", (int)(fence - told),
             told, strchr(fence, '\n'));
    put_text("zones.geojson", COLLECTION(""));
    struct fw_farm *farm = farm_of(shut, false, &err);
    if (!farm || fw_plan_make(farm, &plan, &err))
        fail_msg("%s", err.text);
    for (size_t p = 0; p < plan->paddock_count; p++) {
        const struct fw_plan_paddock *paddock = &plan->paddocks[p];
        const bool wet = paddock->water != FW_NONE;
        assert_int_equal(paddock->walk_known, wet);
        assert_int_equal(paddock->walk_untold,
                         wet ? FW_WALK_TOLD : FW_WALK_SHUT_OFF);
        *(wet ? &with : &without) += 1;
    }
    assert_true(with > 0 && without > 0);
    assert_non_null(
        strstr(fw_plan__untold_words[FW_WALK_SHUT_OFF], "trough-moves: yes"));
    fw_plan_free(plan);
    fw_farm_free(farm);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(
            the_walk_is_weighed_by_the_feed_of_the_paddock, farm_set_up,
            farm_tear_down),
        cmocka_unit_test_setup_teardown(way_to_water_in_another_part_is_known,
                                        farm_set_up, farm_tear_down),
        cmocka_unit_test_setup_teardown(
            that_water_is_shut_off_is_why_no_walk_is_told, farm_set_up,
            farm_tear_down),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
