/* Where water can stand on plans of small fields, and what a row of points
 * counts: each place, its order and each walk found again by hand. */
#include "plan_help.h"

#include "haul/placing.h"
#include "water/water.h"

#include <math.h>

static const struct outline u_shape = {8,
                                       {{0, 0},
                                        {300, 0},
                                        {300, 220},
                                        {200, 220},
                                        {200, 60},
                                        {70, 60},
                                        {70, 220},
                                        {0, 220}},
                                       0};
static struct fw_placing placing_of(const struct fw_plan *plan)
{
    struct fw_placing placing;
    struct fw_error err = {0};
    if (fw_placing_make(plan, &placing, &err))
        fail_msg("%s", err.text);
    return placing;
}

static double apart_m(struct fw_point a, struct fw_point b)
{
    return sqrt(pow(a.x_m - b.x_m, 2) + pow(a.y_m - b.y_m, 2));
}

/* From a place to the nearest of a ring's sides. */
static double ring_m(const struct fw_plan *plan,
                     const struct fw_plan_rings *rings, size_t ring,
                     struct fw_point at)
{
    const size_t from = rings->ring_start[ring];
    const size_t count = rings->ring_start[ring + 1] - from;
    double near_m = HUGE_VAL;
    for (size_t i = 0; i < count; i++) {
        const struct fw_vertex *of = plan->fields[0].vertices;
        const struct fw_point a = of[rings->vertices[from + i]].plane;
        const struct fw_point b =
            of[rings->vertices[from + (i + 1) % count]].plane;
        const double x = b.x_m - a.x_m, y = b.y_m - a.y_m;
        const double t =
            ((at.x_m - a.x_m) * x + (at.y_m - a.y_m) * y) / (x * x + y * y);
        const double s = fmin(1, fmax(0, t));
        near_m =
            fmin(near_m,
                 apart_m(at, (struct fw_point){a.x_m + s * x, a.y_m + s * y}));
    }
    return near_m;
}

/* Winding number by angles. */
static bool in_ring(const struct fw_plan *plan,
                    const struct fw_plan_rings *rings, size_t ring,
                    struct fw_point p)
{
    const size_t from = rings->ring_start[ring];
    const size_t count = rings->ring_start[ring + 1] - from;
    double turned = 0;
    for (size_t i = 0; i < count; i++) {
        const struct fw_vertex *of = plan->fields[0].vertices;
        const struct fw_point a = of[rings->vertices[from + i]].plane;
        const struct fw_point b =
            of[rings->vertices[from + (i + 1) % count]].plane;
        const double ux = a.x_m - p.x_m, uy = a.y_m - p.y_m;
        const double vx = b.x_m - p.x_m, vy = b.y_m - p.y_m;
        turned += atan2(ux * vy - uy * vx, ux * vx + uy * vy);
    }
    return fabs(turned) > 3;
}

/* ---- the places ---- */

static bool has(const struct fw_placing *placing, struct fw_point at)
{
    for (size_t i = 0; i < placing->place_count; i++)
        if (apart_m(placing->places[i].at, at) < 0.01)
            return true;
    return false;
}

/* Is it at the ground of some paddock: in it, or within the trough's reach of
 * its edge? */
static bool is_at_ground(const struct fw_plan *plan, struct fw_point at)
{
    for (size_t i = 0; i < plan->paddock_count; i++) {
        bool inside = false;
        const struct fw_plan_rings *rings = &plan->paddocks[i].rings;
        for (size_t r = 0; r < rings->ring_count; r++) {
            inside ^= in_ring(plan, rings, r, at);
            if (ring_m(plan, rings, r, at) <= 1e-6)
                return true;
        }
        if (inside)
            return true;
    }
    return false;
}

/* The field's middle of gravity, by a fan of triangles from a corner. */
static struct fw_point middle_of(const struct fw_plan *plan)
{
    const struct fw_plan_field *field = &plan->fields[0];
    const size_t *ring = field->rings.vertices;
    double area = 0, x = 0, y = 0;
    for (size_t i = 1; i + 1 < field->rings.ring_start[1]; i++) {
        const struct fw_point a = field->vertices[ring[0]].plane,
                              b = field->vertices[ring[i]].plane,
                              c = field->vertices[ring[i + 1]].plane;
        const double part = (b.x_m - a.x_m) * (c.y_m - a.y_m) -
                            (c.x_m - a.x_m) * (b.y_m - a.y_m);
        area += part;
        x += part * (a.x_m + b.x_m + c.x_m) / 3;
        y += part * (a.y_m + b.y_m + c.y_m) / 3;
    }
    return (struct fw_point){x / area, y / area};
}

struct ends {
    struct fw_point at[200];
    size_t count;
};

static bool is_known(const struct ends *ends, struct fw_point at)
{
    for (size_t i = 0; i < ends->count; i++)
        if (apart_m(at, ends->at[i]) < 0.01)
            return true;
    return false;
}

/* Where fences end that are no side, each place once, but for those told. */
static struct ends ends_of(const struct fw_plan *plan)
{
    const struct fw_plan_field *field = &plan->fields[0];
    struct ends ends = {.count = 0};
    for (size_t f = 0; f < plan->fence_count; f++) {
        const struct fw_plan_fence *fence = &plan->fences[f];
        for (int end = 0; end < 2; end++) {
            const size_t vertex = fence->line[end ? fence->line_count - 1 : 0];
            const struct fw_point at = field->vertices[vertex].plane;
            if (fence->role == FW_FENCE_PERIMETER || is_known(&ends, at) ||
                (field->gate.given && apart_m(at, field->gate.plane) < 0.01) ||
                (field->water.given && apart_m(at, field->water.plane) < 0.01))
                continue;
            assert_true(ends.count < 200);
            ends.at[ends.count++] = at;
        }
    }
    return ends;
}

static void each_is_used_and_once(const struct fw_plan *plan,
                                  const struct fw_placing *placing)
{
    const struct fw_plan_field *field = &plan->fields[0];
    const struct fw_point middle = middle_of(plan);
    for (size_t p = 0; p < placing->place_count; p++) {
        const struct fw_placing_place *place = &placing->places[p];
        assert_true(place->serves > 0);
        assert_near(place->gate_m,
                    field->gate.given ? apart_m(place->at, field->gate.plane)
                                      : 0,
                    1e-9);
        if (place->middle) {
            assert_int_equal(place->fence, FW_NONE);
            assert_near(apart_m(place->at, middle), 0, 1e-8);
        }
        for (size_t q = 0; q < p; q++)
            assert_true(apart_m(place->at, placing->places[q].at) >= 0.01);
    }
}

/* What is told, the middle, and both ends of each fence that is no side, those
 * that some stay can use: none left out, none twice, none besides. */
static void each_place_that_serves_is_there_once(void **state)
{
    (void)state;
    static const struct outline *const outlines[] = {&rectangle, &corner,
                                                     &u_shape};
    size_t middles = 0, no_middles = 0;
    for (int k = 0; k < 12; k++) {
        const bool gate = k % 2, water = k / 2 % 2;
        struct fw_farm *farm = farm_of(outlines[k / 4], NULL);
        const struct fw_field *shape = farm->fields[0].shape;
        if (gate)
            put_spot(shape, &farm->fields[0].gate, 0, 0);
        if (water)
            put_spot(shape, &farm->fields[0].water, 30, 0);
        struct fw_plan *plan = plan_of(farm);
        struct fw_placing placing = placing_of(plan);
        const bool usable = is_at_ground(plan, middle_of(plan));
        const struct ends ends = ends_of(plan);
        assert_true(!gate || has(&placing, farm->fields[0].gate.point));
        assert_true(!water || has(&placing, farm->fields[0].water.point));
        each_is_used_and_once(plan, &placing);
        for (size_t i = 0; i < ends.count; i++)
            assert_true(has(&placing, ends.at[i]));
        assert_true(ends.count > 3);
        assert_int_equal(placing.place_count,
                         ends.count + gate + water + usable);
        middles += usable;
        no_middles += !usable;
        fw_placing_release(&placing);
        fw_plan_free(plan);
        fw_farm_free(farm);
    }
    assert_true(middles > 0 && no_middles > 0);
}

/* Water that is there, then what a person told or finds without looking, then
 * the ends that serve most. */
static void what_is_there_comes_first_then_what_serves_most(void **state)
{
    (void)state;
    size_t ranks[3] = {0}, less = 0;
    for (int moves = 0; moves < 2; moves++) {
        struct fw_farm *farm = farm_of(&rectangle, NULL);
        const struct fw_field *shape = farm->fields[0].shape;
        put_spot(shape, &farm->fields[0].gate, 0, 0);
        put_spot(shape, &farm->fields[0].water, 150, 0);
        farm->back_fence = false;
        farm->water_moves = moves;
        struct fw_plan *plan = plan_of(farm);
        struct fw_placing placing = placing_of(plan);
        size_t before = 0, served = SIZE_MAX;
        for (size_t p = 0; p < placing.place_count; p++) {
            const struct fw_placing_place *place = &placing.places[p];
            const size_t rank = place->is_water           ? 0
                                : place->fence == FW_NONE ? 1
                                                          : 2;
            assert_true(rank >= before);
            if (rank > before)
                served = SIZE_MAX;
            assert_true(place->serves <= served);
            less += served != SIZE_MAX && place->serves < served;
            served = place->serves;
            before = rank;
            ranks[rank]++;
        }
        fw_placing_release(&placing);
        fw_plan_free(plan);
        fw_farm_free(farm);
    }
    assert_true(ranks[0] == 2 && ranks[1] >= 3 && ranks[2] > 10 && less > 2);
}

/* ---- rows of points ---- */

/* Every way of a plan as it is walked. */
static struct fw_placing walked_of(const struct fw_plan *plan)
{
    struct fw_placing all = placing_of(plan);
    const size_t cells = all.stay_count * all.place_count;
    bool *wanted = calloc(cells, sizeof *wanted);
    for (size_t i = 0; i < cells; i++)
        wanted[i] = !isinf(all.mean_m[i]);
    assert_int_equal(fw_placing_walk(plan, wanted, &all, NULL), FW_OK);
    free(wanted);
    return all;
}

/* Of each stay the nearest chosen place, on foot; what no place serves as the
 * plan has it. */
static void row_is_counted(const struct fw_plan *plan,
                           const struct fw_placing *all,
                           const struct fw_hauled *row)
{
    double sum = 0, days = 0, most = 0;
    size_t served = 0;
    for (size_t s = 0; s < all->stay_count; s++) {
        const struct fw_plan_paddock *paddock =
            &plan->paddocks[plan->time.stays[s].cell];
        double mean = HUGE_VAL, longest = 0;
        for (size_t c = 0; c < row->points.count; c++) {
            const size_t at = s * all->place_count + row->points.places[c];
            if (all->mean_m[at] < mean) {
                mean = all->mean_m[at];
                longest = all->longest_m[at];
            }
        }
        const bool is_served = !isinf(mean);
        served += is_served;
        sum += all->days[s] * (is_served ? mean : paddock->walk_mean_m);
        most = fmax(most, is_served ? longest : paddock->walk_max_m);
        days += all->days[s];
    }
    assert_int_equal(row->served, served);
    assert_near(row->walk_mean_m, sum / days, 1e-6);
    assert_near(row->walk_max_m, most, 1e-6);
}

/* The way of who serves is one that was walked, and as long as all of them. */
static void servers_are_walked(const struct fw_plan *plan,
                               const struct fw_placing *placing,
                               const struct fw_placing *all,
                               const struct fw_hauled_table *table,
                               const struct fw_hauled *row)
{
    for (size_t s = 0; s < placing->stay_count; s++) {
        const size_t by =
            fw_hauled_server(plan, placing, table, &row->points, s);
        const size_t at = s * placing->place_count + by;
        if (by == placing->place_count)
            continue;
        assert_true(placing->walked[at]);
        assert_near(placing->longest_m[at], all->longest_m[at], 1e-6);
    }
}

static void a_row_counts_walks_on_foot(void **state)
{
    (void)state;
    static const struct outline *const outlines[] = {&corner, &pond, &u_shape};
    size_t rows = 0;
    for (int k = 0; k < 6; k++) {
        struct fw_farm *farm = farm_of(outlines[k / 2], NULL);
        put_spot(farm->fields[0].shape, &farm->fields[0].gate, 0, 0);
        farm->back_fence = false;
        struct fw_plan *plan = plan_of(farm);
        struct fw_placing placing = placing_of(plan), all = walked_of(plan);
        struct fw_hauled_table table;
        assert_int_equal(
            fw_hauled_make(plan, &placing,
                           k % 2 ? FW_PLACING_MEAN : FW_PLACING_WORST, 3,
                           &table, NULL),
            FW_OK);
        for (size_t i = 0; i < table.count; i++) {
            const struct fw_hauled *row = &table.rows[i];
            if (row->way != FW_HAULED_POINTS && row->way != FW_HAULED_TODAY)
                continue;
            row_is_counted(plan, &all, row);
            servers_are_walked(plan, &placing, &all, &table, row);
            rows++;
        }
        fw_placing_release(&placing);
        fw_placing_release(&all);
        fw_plan_free(plan);
        fw_farm_free(farm);
    }
    assert_true(rows > 8);
}

/* By minutes the quickest of those that are chosen, whatever else is listed. */
static void none_serves_that_is_not_chosen(void **state)
{
    (void)state;
    struct fw_farm *farm = farm_of(&rectangle, NULL);
    put_spot(farm->fields[0].shape, &farm->fields[0].gate, 0, 0);
    farm->back_fence = false;
    farm->tank_l = 600;
    struct fw_plan *plan = plan_of(farm);
    struct fw_placing placing = placing_of(plan);
    struct fw_hauled_table table;
    struct fw_error err;
    assert_int_equal(
        fw_hauled_make(plan, &placing, FW_PLACING_MINUTES, 2, &table, &err),
        FW_OK);
    size_t served = 0;
    for (size_t p = 0; p + 1 < placing.place_count; p++)
        for (size_t q = 0; q < placing.place_count; q++) {
            const struct fw_points_chosen one = {.count = 1,
                                                 .places = {p, q, q}};
            for (size_t s = 0; s < placing.stay_count; s++) {
                const size_t by =
                    fw_hauled_server(plan, &placing, &table, &one, s);
                assert_true(by == p || by == placing.place_count);
                served += by == p;
            }
        }
    assert_true(served > 0);
    fw_placing_release(&placing);
    fw_plan_free(plan);
    fw_farm_free(farm);
}

/* ---- the plan's own water ---- */

/* Where the tank is filled comes before the troughs that it is hauled to. */
static void troughs_behind_a_source_are_hauled_to(void **state)
{
    (void)state;
    struct fw_farm *farm = farm_of(&rectangle, NULL);
    farm->classes[0].state = FW_LACTATION_TWINS;
    farm->hauling.day = (struct fw_drink_day){FW_AIR_MILD, 0.8};
    farm->tank_l = 300;
    put_spot(farm->fields[0].shape, &farm->fields[0].water, -50, 0);
    struct fw_plan *plan = plan_of(farm);
    assert_string_equal(plan->waters[0].kind_of, "source");
    assert_int_equal(plan->totals.haul_trips,
                     (int)ceil(plan->totals.litres_day / 300));
    assert_true(plan->totals.haul_trips > 0);
    fw_plan_free(plan);
    fw_farm_free(farm);
}

/* Water at a corner of one paddock alone is fixed water, be that the first one
 * or the last; away from all of them it is where the tank is filled. */
static void water_that_one_paddock_reaches_is_fixed(void **state)
{
    (void)state;
    size_t firsts = 0, lasts = 0;
    const double wide_m = 300;
    for (int k = 0; k < 5; k++) {
        struct fw_farm *farm = farm_of(&rectangle, NULL);
        farm->layout = fw_strdup("strips");
        farm->direction_given = true;
        farm->direction_deg = 0;
        const double east_m[] = {0, wide_m, 1, wide_m - 1, -50};
        put_spot(farm->fields[0].shape, &farm->fields[0].gate, 0, 100);
        put_spot(farm->fields[0].shape, &farm->fields[0].water, east_m[k], 0);
        struct fw_plan *plan = plan_of(farm);
        size_t reach = 0, fixed = FW_NONE;
        for (size_t i = 0; i < plan->water_count; i++)
            if (strcmp(plan->waters[i].kind_of, "trough") != 0)
                fixed = i;
        assert_true(fixed != FW_NONE);
        for (size_t i = 0; i < plan->paddock_count; i++)
            reach += plan->paddocks[i].water == fixed;
        assert_int_equal(reach, k < 4);
        assert_string_equal(plan->waters[fixed].kind_of,
                            k < 4 ? "fixed" : "source");
        firsts += plan->paddocks[0].water == fixed;
        lasts += plan->paddocks[plan->paddock_count - 1].water == fixed;
        bool told = false;
        for (size_t i = 0; i < plan->notes.count; i++)
            told |=
                strstr(plan->notes.items[i].text,
                       "no paddock reaches the water that was told") != NULL;
        assert_int_equal(told, k == 4);
        fw_plan_free(plan);
        fw_farm_free(farm);
    }
    assert_true(firsts == 2 && lasts == 2);
}

/* ---- far walks ---- */

/* The farthest is named with its walk; where others are far too, how many of
 * all. Print has 250 m. */
static void as_many_as_are_far_are_counted(void **state)
{
    (void)state;
    size_t one = 0, more = 0, none = 0;
    for (int wide_m = 230; wide_m <= 420; wide_m += 5) {
        const struct outline outline = {
            4, {{0, 0}, {wide_m, 0}, {wide_m, 60}, {0, 60}}, 0};
        struct fw_farm *farm = farm_of(&outline, NULL);
        farm->back_fence = false;
        farm->water_moves = false;
        put_spot(farm->fields[0].shape, &farm->fields[0].water, 0, 0);
        struct fw_plan *plan = plan_of(farm);
        size_t far = 0, stays = 0;
        double most_m = 0;
        for (size_t i = 0; i < plan->paddock_count; i++) {
            const struct fw_plan_paddock *paddock = &plan->paddocks[i];
            stays++;
            far += paddock->walk_max_m > 250;
            most_m = fmax(most_m, paddock->walk_max_m);
        }
        const struct fw_note *said = NULL;
        for (size_t i = 0; i < plan->notes.count; i++)
            if (strstr(plan->notes.items[i].text, "walk to water is up to"))
                said = &plan->notes.items[i];
        assert_int_equal(said != NULL, far > 0);
        if (said) {
            char words[200];
            if (far > 1)
                snprintf(words, sizeof words,
                         "up to %.0f m, as in %zu of %zu paddocks: over 250 m",
                         most_m, far, stays);
            else
                snprintf(words, sizeof words, "up to %.0f m: over 250 m",
                         most_m);
            if (!strstr(said->text, words))
                fail_msg("no \"%s\" in \"%s\"", words, said->text);
        }
        none += far == 0;
        one += far == 1;
        more += far > 1;
        fw_plan_free(plan);
        fw_farm_free(farm);
    }
    print_message("# none %zu, one %zu, more %zu\n", none, one, more);
    assert_true(none > 0 && one > 0 && more > 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(each_place_that_serves_is_there_once),
        cmocka_unit_test(what_is_there_comes_first_then_what_serves_most),
        cmocka_unit_test(a_row_counts_walks_on_foot),
        cmocka_unit_test(none_serves_that_is_not_chosen),
        cmocka_unit_test(troughs_behind_a_source_are_hauled_to),
        cmocka_unit_test(water_that_one_paddock_reaches_is_fixed),
        cmocka_unit_test(as_many_as_are_far_are_counted),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
