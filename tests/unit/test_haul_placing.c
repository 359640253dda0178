/* Places of water on plans of whole farms: each walk by counting points over
 * the paddock, each stay by its own replay, the choice by trying all. */
#include "plan_help.h"

#include "choice/days.h"
#include "haul/placing.h"

#include <math.h>

static struct fw_placing placing_of(const struct fw_plan *plan)
{
    struct fw_placing placing;
    struct fw_error err = {0};
    if (fw_placing_make(plan, &placing, &err))
        fail_msg("%s", err.text);
    return placing;
}

/* Winding number by angles. */
static bool inside(const struct fw_point *ring, size_t n, struct fw_point p)
{
    double turned = 0;
    for (size_t i = 0; i < n; i++) {
        const double ux = ring[i].x_m - p.x_m, uy = ring[i].y_m - p.y_m;
        const double vx = ring[(i + 1) % n].x_m - p.x_m;
        const double vy = ring[(i + 1) % n].y_m - p.y_m;
        turned += atan2(ux * vy - uy * vx, ux * vx + uy * vy);
    }
    return fabs(turned) > 3;
}

/* The mean over a grid of 400 x 400 points. */
static double counted_m(const struct fw_land *land, size_t cell,
                        struct fw_point from, double *longest_m)
{
    enum { across = 400 };
    const size_t first = land->ring_start[land->cells[cell].first_ring];
    const size_t end = land->ring_start[land->cells[cell].first_ring + 1];
    const struct fw_point *ring = land->ring_points + first;
    const size_t n = end - first;
    double low_x = HUGE_VAL, low_y = HUGE_VAL, high_x = -HUGE_VAL,
           high_y = -HUGE_VAL, sum = 0, count = 0;
    *longest_m = 0;
    for (size_t i = 0; i < n; i++) {
        low_x = fmin(low_x, ring[i].x_m);
        high_x = fmax(high_x, ring[i].x_m);
        low_y = fmin(low_y, ring[i].y_m);
        high_y = fmax(high_y, ring[i].y_m);
        *longest_m = fmax(*longest_m, sqrt(pow(ring[i].x_m - from.x_m, 2) +
                                           pow(ring[i].y_m - from.y_m, 2)));
    }
    for (int i = 0; i < across; i++)
        for (int k = 0; k < across; k++) {
            const struct fw_point p = {
                low_x + (high_x - low_x) * (i + 0.5) / across,
                low_y + (high_y - low_y) * (k + 0.5) / across};
            if (!inside(ring, n, p))
                continue;
            sum += sqrt(pow(p.x_m - from.x_m, 2) + pow(p.y_m - from.y_m, 2));
            count++;
        }
    return sum / count;
}

static void walks_are_those_that_are_counted(void **state)
{
    (void)state;
    struct fw_farm *farm = farm_of(&leaning, NULL);
    struct fw_plan *plan = plan_of(farm);
    struct fw_placing placing = placing_of(plan);
    struct fw_land land;
    struct fw_error err;
    assert_int_equal(fw_plan_land(plan, &land, &err), FW_OK);
    size_t compared = 0;
    for (size_t s = 0; s < placing.stay_count; s++)
        for (size_t p = 0; p < placing.place_count && compared < 12; p++) {
            const size_t at = s * placing.place_count + p;
            if (isinf(placing.mean_m[at]))
                continue;
            double longest_m;
            const double mean_m = counted_m(&land, plan->time.stays[s].cell,
                                            placing.places[p].at, &longest_m);
            assert_near(placing.mean_m[at], mean_m, 2e-3 * mean_m);
            assert_near(placing.longest_m[at], longest_m, 1e-6);
            compared++;
        }
    assert_true(compared >= 10);
    fw_land_release(&land);
    fw_placing_release(&placing);
    fw_plan_free(plan);
    fw_farm_free(farm);
}

/* With a back fence the flock has its paddock alone, so a fence's end serves
 * the stays of the paddocks whose corner it is: two as a rule. */
static void a_junction_serves_what_meets_there(void **state)
{
    (void)state;
    struct fw_farm *farm = farm_of(&rectangle, NULL);
    struct fw_plan *plan = plan_of(farm);
    struct fw_placing placing = placing_of(plan);
    assert_true(placing.stay_count == plan->time.stay_count);
    size_t two = 0;
    for (size_t p = 0; p < placing.place_count; p++) {
        const struct fw_placing_place *place = &placing.places[p];
        size_t serves = 0;
        for (size_t s = 0; s < placing.stay_count; s++) {
            const struct fw_plan_paddock *paddock =
                &plan->paddocks[plan->time.stays[s].cell];
            const struct fw_plan_field *field = &plan->fields[paddock->field];
            double near_m = HUGE_VAL;
            const size_t *ring = paddock->rings.vertices;
            const size_t n = paddock->rings.ring_start[1];
            for (size_t i = 0; i < n; i++) {
                const struct fw_point a = field->vertices[ring[i]].plane;
                near_m = fmin(near_m, sqrt(pow(a.x_m - place->at.x_m, 2) +
                                           pow(a.y_m - place->at.y_m, 2)));
            }
            const bool told =
                !isinf(placing.mean_m[s * placing.place_count + p]);
            /* Every corner is a vertex, and all that reach the place within a
             * metre have one there: cuts end on vertices. */
            if (near_m < 1e-6)
                assert_true(told);
            serves += told;
        }
        assert_int_equal(place->serves, serves);
        two += serves >= 2;
    }
    assert_true(two > 0);
    fw_placing_release(&placing);
    fw_plan_free(plan);
    fw_farm_free(farm);
}

static struct fw_hauled_table table_of(const struct fw_plan *plan,
                                       struct fw_placing *placing,
                                       enum fw_placing_by by)
{
    struct fw_hauled_table table;
    struct fw_error err = {0};
    if (fw_hauled_make(plan, placing, by, 3, &table, &err))
        fail_msg("%s", err.text);
    return table;
}

/* Of 700 m by the tracks, two hauls at least. */
static void the_table_has_the_road_and_a_day_of_frost(void **state)
{
    (void)state;
    struct fw_farm *farm = farm_of(&rectangle, NULL);
    farm->fields[0].road_m = 700;
    farm->classes[0].state = FW_LACTATION_TWINS;
    farm->hauling.day = (struct fw_drink_day){FW_AIR_MILD, 0.8};
    for (int k = 0; k < 4; k++) {
        static const double tanks_l[] = {0, 30, 600, 600};
        farm->tank_l = tanks_l[k];
        farm->hauling.road_m = k == 3 ? 1500 : 0;
        struct fw_plan *plan = plan_of(farm);
        struct fw_placing placing = placing_of(plan);
        const struct fw_hauled_table table =
            table_of(plan, &placing, FW_PLACING_WORST);
        const double litres = table.drinks.expected_l;
        const double road_m = k == 3 ? 1500 : 700;
        const int hauls = k == 1 ? (int)ceil(litres / 30) : 2;
        assert_true(litres > 60 && litres < 1200);
        assert_near(table.road_m, road_m, 1e-9);
        assert_int_equal(table.by_tracks, k < 3);
        assert_int_equal(table.frost.hauls, hauls);
        assert_near(table.frost.each_l, litres / hauls, 1e-9);
        if (k == 0)
            assert_true(isnan(table.frost.minutes));
        else
            assert_near(table.frost.minutes,
                        hauls * (2 * road_m / 250 + 5) + 2 * litres / 40, 1e-9);
        fw_placing_release(&placing);
        fw_plan_free(plan);
    }
    fw_farm_free(farm);
}

/* Trips of today, counted again from the stays: litres of the days with a
 * trough over what a trip brings. */
static void trips_are_counted_from_the_stays(void **state)
{
    (void)state;
    struct fw_farm *farm = farm_of(&rectangle, NULL);
    farm->classes[0].state = FW_LACTATION_TWINS;
    farm->tank_l = 600;
    farm->hauling = (struct fw_farm_hauling){.road_m = 1500,
                                             .drive_m_min = 250,
                                             .fill_l_min = 40,
                                             .trough_price = 180,
                                             .day = {FW_AIR_MILD, 0.8}};
    struct fw_plan *plan = plan_of(farm);
    struct fw_placing placing = placing_of(plan);
    const struct fw_hauled_table table =
        table_of(plan, &placing, FW_PLACING_WORST);
    struct fw_drinks drinks;
    assert_int_equal(fw_flock_drinks_sum(plan->classes, plan->class_count,
                                         &farm->hauling.day, &drinks, NULL),
                     FW_OK);
    assert_true(drinks.expected_l > 100);
    double days = 0;
    size_t troughs = 0;
    for (size_t i = 0; i < plan->water_count; i++)
        if (strcmp(plan->waters[i].kind_of, "trough") == 0) {
            days += plan->waters[i].to - plan->waters[i].from;
            troughs++;
        }
    assert_true(troughs > 2);
    assert_near(table.rows[0].trips, ceil(days * drinks.expected_l / 600), 0);
    assert_int_equal(table.rows[0].shifts, troughs);
    assert_near(table.trip_min, 2 * 1500 / 250.0 + 2 * 600 / 40.0 + 5, 1e-9);
    assert_near(table.rows[0].walk_mean_m, plan->totals.walk_mean_m,
                0.05 * plan->totals.walk_mean_m);
    /* Points take away shifts; so many troughs are bought; a pipe takes away
     * the trips of those it serves. */
    bool piped = false;
    for (size_t i = 1; i < table.count; i++) {
        const struct fw_hauled *row = &table.rows[i];
        if (row->way == FW_HAULED_POINTS) {
            assert_int_equal(row->shifts + row->served, placing.stay_count);
            assert_near(row->cost, 180 * (double)row->points.count, 1e-9);
            assert_near(row->trips, table.rows[0].trips, 0);
        }
        if (row->way == FW_HAULED_PIPE) {
            piped = true;
            assert_true(row->trips < table.rows[0].trips);
            /* Nobody told gate or water: from where is not known. */
            assert_true(isnan(row->pipe_m) && isnan(row->cost));
        }
        if (row->way == FW_HAULED_TANK)
            assert_near(row->trips, ceil(days * drinks.expected_l / 1200), 0);
    }
    assert_true(piped);
    fw_placing_release(&placing);
    fw_plan_free(plan);
    fw_farm_free(farm);
}

/* One day in all, with the trough off the gate: what is driven in the field, to
 * it and back, is a part of each trip then too. */
static void a_single_day_is_driven_in_the_field_too(void **state)
{
    (void)state;
    struct fw_farm *farm = farm_of(&rectangle, NULL);
    farm->classes[0].state = FW_LACTATION_TWINS;
    farm->tank_l = 600;
    farm->hauling = (struct fw_farm_hauling){.road_m = 1500,
                                             .drive_m_min = 250,
                                             .fill_l_min = 40,
                                             .day = {FW_AIR_MILD, 0.8}};
    struct fw_plan *plan = plan_of(farm);
    struct fw_placing placing = placing_of(plan);
    const struct fw_point trough =
        plan->waters[plan->paddocks[plan->time.stays[0].cell].water]
            .place.plane;
    plan->fields[0].gate.given = true;
    plan->fields[0].gate.plane =
        (struct fw_point){trough.x_m + 300, trough.y_m - 400};
    for (size_t s = 0; s < placing.stay_count; s++)
        placing.days[s] = s == 0;
    const struct fw_hauled_table table =
        table_of(plan, &placing, FW_PLACING_WORST);
    const struct fw_hauled *today = &table.rows[0];
    assert_true(today->trips_day > 0);
    assert_near(today->minutes_day,
                today->trips_day * (table.trip_min + 2 * 500 / 250.0) +
                    5 * (double)today->shifts,
                1e-9);
    fw_placing_release(&placing);
    fw_plan_free(plan);
    fw_farm_free(farm);
}

/* Of one stay it is not: then it is not for all. */
static void a_walk_that_is_not_known_is_no_part_of_a_mean(void **state)
{
    (void)state;
    struct fw_farm *farm = farm_of(&rectangle, NULL);
    struct fw_plan *plan = plan_of(farm);
    struct fw_placing placing = placing_of(plan);
    struct fw_hauled_table table = table_of(plan, &placing, FW_PLACING_WORST);
    assert_true(table.rows[0].walk_mean_m > 0 && table.rows[0].walk_max_m > 0);
    plan->paddocks[plan->time.stays[1].cell].walk_known = false;
    table = table_of(plan, &placing, FW_PLACING_WORST);
    assert_true(isnan(table.rows[0].walk_mean_m));
    assert_true(isnan(table.rows[0].walk_max_m));
    fw_placing_release(&placing);
    fw_plan_free(plan);
    fw_farm_free(farm);
}

/* Every way walked, where only those are that can change the choice. */
static struct fw_placing walked_placing_of(const struct fw_plan *plan)
{
    struct fw_placing placing = placing_of(plan);
    const size_t count = placing.stay_count * placing.place_count;
    bool *wanted = calloc(count, sizeof *wanted);
    double *straight_m = calloc(count, sizeof *straight_m);
    for (size_t i = 0; i < count; i++) {
        wanted[i] = !isinf(placing.mean_m[i]);
        straight_m[i] = placing.mean_m[i];
    }
    assert_int_equal(fw_placing_walk(plan, wanted, &placing, NULL), FW_OK);
    size_t longer = 0;
    for (size_t i = 0; i < count; i++) {
        assert_true(placing.walked[i] == wanted[i]);
        assert_true(!wanted[i] ||
                    placing.mean_m[i] > straight_m[i] * (1 - 1e-9));
        longer += wanted[i] && placing.mean_m[i] > straight_m[i] * (1 + 1e-6);
    }
    assert_true(longer > 0);
    free(wanted);
    free(straight_m);
    return placing;
}

/* Each objective is at its best by its own choice. */
static void best_by_its_own_measure(const struct outline *outline)
{
    struct fw_farm *farm = farm_of(outline, NULL);
    farm->back_fence = false;
    struct fw_plan *plan = plan_of(farm);
    struct fw_placing all = walked_placing_of(plan);
    struct fw_placing placing = placing_of(plan);
    struct fw_points points = {.stay_count = placing.stay_count,
                               .place_count = placing.place_count,
                               .value = all.longest_m,
                               .worst = true};
    struct fw_points_chosen best;
    assert_int_equal(fw_water_points(&points, 3, &best, NULL), FW_OK);
    const struct fw_hauled_table table =
        table_of(plan, &placing, FW_PLACING_WORST);
    const struct fw_hauled *last = NULL;
    for (size_t i = 0; i < table.count; i++)
        if (table.rows[i].way == FW_HAULED_POINTS)
            last = &table.rows[i];
    assert_non_null(last);
    assert_int_equal(last->points.served, best.served);
    assert_near(last->points.value, best.value, 1e-9);
    fw_placing_release(&placing);
    fw_placing_release(&all);
    fw_plan_free(plan);
    fw_farm_free(farm);
}

static void each_choice_is_best_by_its_own_measure(void **state)
{
    (void)state;
    best_by_its_own_measure(&corner);
    best_by_its_own_measure(&pond);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(walks_are_those_that_are_counted),
        cmocka_unit_test(a_junction_serves_what_meets_there),
        cmocka_unit_test(the_table_has_the_road_and_a_day_of_frost),
        cmocka_unit_test(trips_are_counted_from_the_stays),
        cmocka_unit_test(a_single_day_is_driven_in_the_field_too),
        cmocka_unit_test(a_walk_that_is_not_known_is_no_part_of_a_mean),
        cmocka_unit_test(each_choice_is_best_by_its_own_measure),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
