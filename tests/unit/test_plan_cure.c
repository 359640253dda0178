/* What would help, in volts, joules and money: loops in series by hand, and
 * plans that have the thing done. */
#include "power_by_hand.h"

#include "report/reports.h"

/* One line of two strands without grass, so that a loop is a sum of ohms. */
static struct world *cure_world(void)
{
    struct world *w = new_world();
    line_at(w, 100, 2);
    w->plan.moved.strands = 2;
    w->plan.wiring.moved_leak_ohm_km = (double)INFINITY;
    w->plan.totals.kit.wire_m = 832.5;
    return w;
}

static void cures_of(struct world *w, struct fw_plan_power_day *day,
                     struct fw_cure cures[FW_CURE_COUNT], size_t *count)
{
    struct fw_error err;
    *day = worst_of(w);
    w->plan.power_days = day;
    w->plan.power_day_count = 1;
    if (fw_plan_cures(&w->plan, 0, cures, count, &err))
        fail_msg("%s", err.text);
}

static const struct fw_cure *find(const struct fw_cure *cures, size_t count,
                                  enum fw_cure_kind kind)
{
    for (size_t i = 0; i < count; i++)
        if (cures[i].kind == kind)
            return &cures[i];
    return NULL;
}

static void each_costs_what_it_takes_of_what_is_told(void **state)
{
    (void)state;
    struct world *w = cure_world();
    struct fw_plan_power_day day;
    struct fw_cure cures[FW_CURE_COUNT];
    size_t count;
    w->plan.prices = (struct fw_plan_prices){18, 60, 0.8, 0.12};
    w->plan.power.internal_ohm = 500; /* 1 J of the table */
    w->plan.wiring.perimeter_leak_ohm_km = w->plan.wiring.moved_leak_ohm_km =
        10000; /* nothing to mow, which has no price */
    cures_of(w, &day, cures, &count);
    assert_null(find(cures, count, FW_CURE_MOW));
    assert_near(find(cures, count, FW_CURE_BOND)->cost, 0, 0);
    assert_near(find(cures, count, FW_CURE_HOOK)->cost, 0, 0);
    assert_near(find(cures, count, FW_CURE_ROD)->cost, 18, 0);
    assert_near(find(cures, count, FW_CURE_MIDDLE)->cost, 100 * 0.8, 1e-9);
    assert_near(find(cures, count, FW_CURE_CONDUCTOR)->cost, 833 * 0.12, 1e-9);
    /* 1 J to 2 J, and three rods to five: by the earth's own sum. */
    struct fw_plan__size next;
    assert_int_equal(fw_plan__size(&w->plan, &w->plan.wiring, 2, &next, NULL),
                     FW_OK);
    assert_near(find(cures, count, FW_CURE_ENERGIZER)->cost,
                60 + (next.rods - 3) * 18, 1e-9);
    for (size_t i = 1; i < count; i++)
        assert_true(cures[i].cost >= cures[i - 1].cost);
    /* Rods that cost nothing have a price too. */
    w->plan.prices.earth_rod = 0;
    cures_of(w, &day, cures, &count);
    assert_near(find(cures, count, FW_CURE_ENERGIZER)->cost, 60, 1e-9);
    free(w);
}

static void without_a_price_the_kinds_keep_their_order(void **state)
{
    (void)state;
    struct world *w = cure_world();
    struct fw_plan_power_day day;
    struct fw_cure cures[FW_CURE_COUNT];
    size_t count;
    w->plan.prices = (struct fw_plan_prices){-1, 0, -1, -1};
    cures_of(w, &day, cures, &count);
    assert_true(count > 4);
    for (size_t i = 1; i < count; i++)
        assert_true(cures[i].kind > cures[i - 1].kind);
    assert_true(find(cures, count, FW_CURE_ROD)->cost < 0);
    assert_int_equal(cures[count - 1].kind, FW_CURE_ENERGIZER);
    free(w);
}

/* The least size whose volts, in series with itself, its rods and so many ohms
 * of wire, leave 2 kV of a sheep. */
static double least_by_hand_j(double wire_ohm)
{
    static const double sizes_j[] = {0.25, 0.5, 1, 2, 3, 5};
    for (size_t i = 0; i < 6; i++) {
        struct fw_power_source source;
        struct fw_earth earth;
        assert_int_equal(fw_power_source_guess(sizes_j[i], &source, NULL),
                         FW_OK);
        const struct fw_earth_ask ask = {.joules = sizes_j[i],
                                         .open_v = source.open_v,
                                         .internal_ohm = source.internal_ohm,
                                         .soil_ohm_m = 100,
                                         .rod = fw_power_rod()};
        assert_int_equal(fw_power_earth(&ask, &earth, NULL), FW_OK);
        if (source.open_v * 500 /
                (500 + source.internal_ohm + earth.ohm + wire_ohm) >=
            2000)
            return sizes_j[i];
    }
    return 0;
}

/* 200 m of so many ohms a metre: halved where strands are joined, and a
 * quarter of it where each is fed at both ends. */
static void the_least_size_with_a_cure_is_that_of_its_loop(void **state)
{
    (void)state;
    size_t smaller = 0;
    for (double ohm_m = 2.5; ohm_m < 9; ohm_m += 0.25) {
        struct world *w = cure_world();
        struct fw_plan_power_day day;
        struct fw_cure cures[FW_CURE_COUNT];
        size_t count;
        const double alone_j = least_by_hand_j(200 * ohm_m);
        struct fw_plan__size size;
        w->plan.wiring.moved_ohm_m = ohm_m;
        w->plan.prices = (struct fw_plan_prices){18, 60, 0.8, 0.12};
        w->plan.energizer.joules = alone_j > 0 ? alone_j : 1;
        assert_int_equal(fw_plan__size(&w->plan, &w->plan.wiring,
                                       w->plan.energizer.joules, &size, NULL),
                         FW_OK);
        w->plan.power = size.power;
        w->plan.energizer.rods = size.rods;
        cures_of(w, &day, cures, &count);
        assert_int_equal(day.enough, alone_j > 0);
        const struct {
            enum fw_cure_kind kind;
            double share;
        } rows[] = {{FW_CURE_BOND, 0.5}, {FW_CURE_HOOK, 0.25}};
        for (size_t i = 0; i < 2; i++) {
            struct fw_cure cure = *find(cures, count, rows[i].kind);
            const double want_j = least_by_hand_j(200 * ohm_m * rows[i].share);
            assert_int_equal(fw_plan_saves(&w->plan, &cure, NULL), FW_OK);
            assert_near(cure.joules,
                        alone_j > 0 && want_j >= alone_j ? 0 : want_j, 0);
            smaller += cure.joules > 0;
            if (cure.joules > 0 && cure.joules < alone_j)
                assert_near(cure.saves,
                            (alone_j - cure.joules) * 60 +
                                (size.rods - cure.rods) * 18,
                            1e-9);
        }
        free(w);
    }
    assert_true(smaller > 20);
}

/* Strands that are joined help the line of two, and not the one of a single
 * strand that stands on the last days, a little nearer to the gate: of the
 * boundary's 1,000 m it has 100 one way round, the other one 200. */
static void what_helps_one_day_leaves_the_last_as_it_was(void **state)
{
    (void)state;
    int kept = 0;
    for (double ohm_m = 2.5; ohm_m < 9; ohm_m += 0.5) {
        struct world *w = new_world();
        struct fw_error err;
        struct fw_plan__size size;
        struct fw_cure cures[FW_CURE_COUNT];
        size_t count;
        const double far_ohm = 0.05 * 200 * 800 / 1000,
                     near_ohm = 0.05 * 100 * 900 / 1000;
        const double alone_j = least_by_hand_j(200 * ohm_m + far_ohm),
                     want_j = least_by_hand_j(200 * ohm_m + near_ohm);
        add_line(w, 100, 1, first_day + 9, first_day + 30);
        add_line(w, 200, 2, first_day, first_day + 9);
        /* Nobody reads, so that the days alone decide. */
        for (size_t i = 0; i < w->plan.time.step_count; i++)
            if (w->steps[i].kind == FW_STEP_READ)
                w->steps[i].kind = FW_STEP_COUNT;
        w->plan.wiring.perimeter_ohm_m = 0.05;
        w->plan.wiring.perimeter_strands = 1;
        w->field.gate = (struct fw_plan_place){.given = true, .plane = {0, 0}};
        w->plan.moved.strands = 2;
        w->plan.wiring.moved_leak_ohm_km = (double)INFINITY;
        w->plan.wiring.moved_ohm_m = ohm_m;
        w->plan.prices = (struct fw_plan_prices){18, 60, 0.8, 0.12};
        w->plan.energizer.joules = alone_j > 0 ? alone_j : 1;
        assert_int_equal(fw_plan__size(&w->plan, &w->plan.wiring,
                                       w->plan.energizer.joules, &size, NULL),
                         FW_OK);
        w->plan.power = size.power;
        struct fw_plan_power_day days[] = {
            {.from = first_day, .to = first_day + 9},
            {.from = first_day + 9, .to = first_day + 30}};
        struct fw_plan__solver solver = {0};
        if (fw_plan__circuits_init(&solver.circuits, &w->plan, &w->plan.wiring,
                                   &err))
            fail_msg("%s", err.text);
        for (int i = 0; i < 2; i++)
            if (fw_plan__solve_day(&solver, days[i].from, &w->plan.power,
                                   &days[i], &err))
                fail_msg("%s", err.text);
        fw_plan__solver_release(&solver);
        w->plan.power_days = days;
        w->plan.power_day_count = 2;
        if (fw_plan_cures(&w->plan, 0, cures, &count, &err))
            fail_msg("%s", err.text);
        struct fw_cure cure = *find(cures, count, FW_CURE_BOND);
        assert_int_equal(fw_plan_saves(&w->plan, &cure, NULL), FW_OK);
        assert_near(cure.joules, alone_j > 0 && want_j >= alone_j ? 0 : want_j,
                    0);
        kept += want_j > least_by_hand_j(100 * ohm_m + far_ohm);
        free(w);
    }
    assert_true(kept > 3);
}

/* ---- plans that have it done ---- */

static double replanned_j(const char *key, const char *value, int *rods)
{
    const struct fw_farm_setting setting = {key, value, "--it"};
    struct fw_plan *plan = sample_with(&setting, 1);
    const double joules = plan->energizer.joules;
    *rods = plan->energizer.rods;
    fw_plan_free(plan);
    return joules;
}

/* With the thing done and sized anew the plan gets what the cure says. */
static void what_a_cure_saves_is_what_the_plan_with_it_is_sized_to(void **state)
{
    (void)state;
    static const struct {
        enum fw_cure_kind kind;
        const char *key, *value;
    } rows[] = {
        {FW_CURE_BOND, "bonded", "both-ends"},
        {FW_CURE_HOOK, "far-end", "hooked"},
        {FW_CURE_CONDUCTOR, "conductor", "poly-copper-1x0.40"},
    };
    struct fw_plan *plan = sample_plan(NULL);
    struct fw_cure cures[FW_CURE_COUNT];
    size_t count;
    assert_near(plan->energizer.joules, 2, 0);
    assert_int_equal(
        fw_plan_cures(plan, fw_plan_worst_day(plan), cures, &count, NULL),
        FW_OK);
    for (size_t i = 0; i < 3; i++) {
        int rods;
        struct fw_cure cure = *find(cures, count, rows[i].kind);
        const double joules = replanned_j(rows[i].key, rows[i].value, &rods);
        assert_int_equal(fw_plan_saves(plan, &cure, NULL), FW_OK);
        assert_true(joules < 2);
        assert_near(cure.joules, joules, 0);
        assert_int_equal(cure.rods, rods);
    }
    fw_plan_free(plan);
}

static void the_cheapest_is_named_before_the_energizer_is_bought(void **state)
{
    (void)state;
    struct fw_plan *plan = sample_plan(NULL);
    bool named = false;
    for (size_t i = 0; i < plan->notes.count; i++)
        named = named || strstr(plan->notes.items[i].text,
                                "before one of 2 J with 5 rods is bought, join "
                                "the strands of a moved line at its far end "
                                "too (nothing to buy): 1 J and 3 rods are "
                                "enough then") != NULL;
    assert_true(named);
    fw_plan_free(plan);
    plan = sample_plan("2 J"); /* it is there already */
    for (size_t i = 0; i < plan->notes.count; i++)
        assert_null(strstr(plan->notes.items[i].text, "is bought"));
    fw_plan_free(plan);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(what_helps_one_day_leaves_the_last_as_it_was),
        cmocka_unit_test(each_costs_what_it_takes_of_what_is_told),
        cmocka_unit_test(without_a_price_the_kinds_keep_their_order),
        cmocka_unit_test(the_least_size_with_a_cure_is_that_of_its_loop),
        cmocka_unit_test(
            what_a_cure_saves_is_what_the_plan_with_it_is_sized_to),
        cmocka_unit_test(the_cheapest_is_named_before_the_energizer_is_bought),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
