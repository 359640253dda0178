/* A strand as the return, in a plan: loops in series by hand, and what the plan
 * says, lists and prints of it. */
#include "power_by_hand.h"

#include "report/reports.h"

/* Soil of 2,000 ohm m under four discs of 12.5 cm2, less the 100 of loam. */
static double stony_hooves_ohm(void)
{
    const double pi = 3.14159265358979323846;
    return 1900 / (4 * sqrt(12.5e-4 / pi)) / 4;
}

static struct world *return_world(void)
{
    struct world *w = new_world();
    w->plan.power.earth_return = true;
    w->plan.power.earth_ohm = 400;
    w->plan.wiring.soil_ohm_m = 2000;
    w->plan.wiring.moved_leak_ohm_km = (double)INFINITY;
    return w;
}

/* What a sheep of 500 ohm gets in a loop of so many ohms more. */
static double of_loop_v(double ohm)
{
    return 8000 * 500 / (500 + 300 + ohm);
}

static void hooves_on_poor_soil_are_discs_and_on_loam_nothing(void **state)
{
    (void)state;
    assert_near(fw_power_hooves_ohm(100), 0, 0);
    assert_near(fw_power_hooves_ohm(30), 0, 0);
    assert_relative(fw_power_hooves_ohm(2000), stony_hooves_ohm(), 1e-12);
    assert_near(stony_hooves_ohm(), 5953, 1); /* computed */
}

/* The ground takes its part of what comes back through it in any plan. */
static void the_ground_under_the_hooves_is_part_of_the_loop(void **state)
{
    (void)state;
    struct world *w = return_world();
    line_at(w, 100, 1);
    w->plan.power.earth_return = false;
    assert_relative(worst_of(w).touched_v,
                    of_loop_v(400 + 3.82 * 200 + stony_hooves_ohm()), 1e-8);
    assert_relative(worst_of(w).alone_v, worst_of(w).touched_v, 1e-12);
    w->plan.wiring.soil_ohm_m = 100;
    assert_relative(worst_of(w).touched_v, of_loop_v(400 + 3.82 * 200), 1e-8);
    free(w);
}

static void two_strands_are_a_loop_without_the_ground(void **state)
{
    (void)state;
    struct world *w = return_world();
    const size_t fence = line_at(w, 100, 2);
    const struct fw_plan_power_day day = worst_of(w);
    assert_int_equal(day.fence, fence);
    assert_near(day.at_m, 200, 1e-6);
    assert_relative(day.touched_v, of_loop_v(2 * 3.82 * 200), 1e-8);
    assert_relative(day.open_v, 8000, 1e-8);
    assert_relative(day.source_v, 8000, 1e-8);
    /* Of the hot one alone: hooves, soil and rods in place of the strand. */
    assert_relative(day.alone_v,
                    of_loop_v(3.82 * 200 + 400 + stony_hooves_ohm()), 1e-8);
    assert_int_equal(day.dead, 0);
    free(w);
}

/* In the middle half of each strand lies either way. */
static void both_strands_hooked_at_both_ends_are_fed_from_both(void **state)
{
    (void)state;
    struct world *w = return_world();
    line_at(w, 100, 2);
    w->plan.wiring.far_hooked = true;
    const struct fw_plan_power_day day = worst_of(w);
    assert_near(day.at_m, 100, 0.01);
    assert_relative(day.touched_v, of_loop_v(2 * 3.82 * 100 / 2), 1e-7);
    w->plan.wiring.joint_ohm = 50; /* two each way, of two wires */
    assert_relative(worst_of(w).touched_v, of_loop_v(2 * (3.82 * 100 + 50) / 2),
                    1e-7);
    free(w);
}

/* Hot, earth, hot: the hot two are joined with each other alone. */
static void bonds_join_hot_with_hot_and_earth_with_earth(void **state)
{
    (void)state;
    struct world *w = return_world();
    line_at(w, 100, 3);
    assert_relative(worst_of(w).touched_v, of_loop_v(2 * 3.82 * 200), 1e-8);
    w->plan.wiring.bonded = FW_BONDED_BOTH_ENDS;
    assert_relative(worst_of(w).touched_v, of_loop_v(1.5 * 3.82 * 200), 1e-8);
    free(w);
}

/* One wire of 0.4 ohm/m gets another beside it; of four every second is an
 * earth. To the opposite corner there are 500 m either way. */
static void the_boundary_carries_the_return_too(void **state)
{
    (void)state;
    struct world *w = return_world();
    w->plan.wiring.perimeter_ohm_m = 0.4;
    w->field.gate = (struct fw_plan_place){.given = true, .plane = {0, 0}};
    add_line(w, 0.001, 2, first_day, first_day + 9);
    w->fences[4].length_m = 0.001;
    w->plan.wiring.perimeter_strands = 1;
    assert_relative(worst_of(w).touched_v, of_loop_v(2 * 0.4 * 250), 1e-4);
    w->plan.wiring.perimeter_strands = 4;
    assert_relative(worst_of(w).touched_v, of_loop_v(0.4 * 250), 1e-4);
    free(w);
}

static void a_line_without_a_boundary_has_a_lead_of_both(void **state)
{
    (void)state;
    struct world *w = return_world();
    const size_t one = line_at(w, 100, 2);
    line_at(w, 160, 2);
    for (int i = 0; i < 4; i++)
        w->sides[i].hot = FW_NO;
    w->plan.wiring.lead_m = 30;
    w->plan.wiring.lead_ohm_m = 2;
    w->plan.wiring.switch_ohm = 7; /* in the hot one alone */
    const struct fw_plan_power_day day = worst_of(w);
    assert_int_equal(day.fence, one + 1);
    assert_relative(day.touched_v,
                    of_loop_v(7 + 2 * 2 * (30 + 60) + 2 * 3.82 * 200), 1e-8);
    free(w);
}

static void readings_are_taken_between_the_wires(void **state)
{
    (void)state;
    struct world *w = return_world();
    const size_t fence = line_at(w, 100, 2);
    w->plan.wiring.moved_leak_ohm_km = 2000;
    struct fw_error err;
    struct fw_plan__solver solver = {0};
    if (fw_plan__circuits_init(&solver.circuits, &w->plan, &w->plan.wiring,
                               &err) ||
        fw_plan__readings(&w->plan, &solver, &w->plan.power, &err))
        fail_msg("%s", err.text);
    fw_plan__solver_release(&solver);
    const struct fw_plan_reading *reading = &w->plan.readings[0];
    const struct fw_plan_power_day day = worst_of(w);
    assert_relative(reading->touched_v, day.touched_v, 1e-12);
    assert_relative(reading->wanted_v,
                    fmax(2000 * reading->far_v / day.touched_v,
                         4000 * reading->far_v / day.least_open_v),
                    1e-9);
    /* What a tester shows with twice the grass gives the grass back. */
    struct fw_plan_looks looks;
    const struct fw_plan_learned twice = {true, 2, 400};
    if (fw_plan_look_for(&w->plan, first_day, NULL, &twice, &looks, &err))
        fail_msg("%s", err.text);
    size_t far = 0;
    while (looks.items[far].fence != fence || looks.items[far].at_m < 200)
        far++;
    assert_near(looks.items[far].sound_v[0], looks.items[far].sound_v[1], 1e-9);
    const struct fw_plan_measured measured = {fence, 200,
                                              looks.items[far].sound_v[0]};
    struct fw_circuit_fit fit;
    struct fw_plan_power_day rows[1];
    if (fw_plan_learn(&w->plan, first_day, &measured, 1, &fit, rows, &err))
        fail_msg("%s", err.text);
    assert_relative(fit.leakage_factor, 2, 1e-4);
    fw_plan_looks_release(&looks);
    fw_free(w->plan.readings);
    free(w);
}

/* ---- in a plan ---- */

static struct fw_plan *sample_in(const char *soil, const char *told)
{
    const struct fw_farm_setting settings[] = {
        {"earth.soil", soil, "--earth-soil"},
        {"earth.return", told, "--earth-return"}};
    return sample_with(settings, told ? 2 : 1);
}

static void a_strand_is_the_return_where_the_ground_does_not_do(void **state)
{
    (void)state;
    struct fw_plan *stony = sample_in("stony", NULL);
    struct fw_plan *ground = sample_in("stony", "no");
    struct fw_plan *loam = sample_in("loam", NULL);
    struct fw_plan *told = sample_in("loam", "yes");
    assert_true(stony->power.earth_return);
    assert_false(ground->power.earth_return);
    assert_false(loam->power.earth_return);
    assert_true(told->power.earth_return);
    const struct fw_plan_power_day *with =
        &stony->power_days[fw_plan_worst_day(stony)];
    const struct fw_plan_power_day *without =
        &ground->power_days[fw_plan_worst_day(ground)];
    assert_true(with->touched_v > 2000 && without->touched_v < 1000);
    assert_true(with->alone_v < 1000);
    /* Three by the joules, and where rods are all there is the most of them. */
    assert_int_equal(stony->energizer.rods, stony->power.rods_by_joules);
    assert_int_equal(ground->energizer.rods, 12);
    assert_int_equal(ground->power.decided, FW_EARTH_MOST);
    fw_plan_free(stony);
    fw_plan_free(ground);
    fw_plan_free(loam);
    fw_plan_free(told);
}

static bool says(const char *text, const char *words)
{
    return strstr(text, words) != NULL;
}

/* Rods, list, card and volts all of the one plan. */
static void list_card_and_report_are_of_that_one_plan(void **state)
{
    (void)state;
    const struct fw_farm_setting settings[] = {
        {"earth.soil", "stony", "--earth-soil"},
        {"perimeter-fence.strands", "1", "--perimeter-strands"}};
    struct fw_plan *plan = sample_with(settings, 2);
    double earth_m = 0, hot_m = 0;
    assert_true(plan->power.earth_return);
    for (size_t i = 0; i < plan->material_count; i++)
        if (says(plan->materials[i].item, "earth wire"))
            earth_m += plan->materials[i].quantity;
        else if (says(plan->materials[i].item, "earth rod"))
            assert_near(plan->materials[i].quantity, plan->energizer.rods, 0);
    for (size_t i = 0; i < plan->fence_count; i++)
        if (plan->fences[i].role == FW_FENCE_PERIMETER &&
            plan->fences[i].side != FW_NONE &&
            plan->fields[plan->fences[i].field]
                    .sides[plan->fences[i].side]
                    .hot != FW_NO)
            hot_m += plan->fences[i].length_m;
    assert_true(hot_m > 0);
    assert_relative(earth_m, hot_m, 1e-12);
    bool noted = false;
    for (size_t i = 0; i < plan->notes.count; i++)
        noted =
            noted || strcmp(plan->notes.items[i].where, "earth-return") == 0;
    assert_true(noted);
    char *card, *report;
    assert_int_equal(fw_report_move(plan, 0, false, &card, NULL), FW_OK);
    assert_true(says(card, "the lower strand is an earth"));
    assert_true(says(card, "between an earth strand and a hot"));
    assert_int_equal(fw_report_power(plan, NULL, NULL, &report, NULL), FW_OK);
    assert_true(says(report, "an earth wire goes along the"));
    assert_true(says(report, "       of one\n"));
    fw_bytes_free(card);
    fw_bytes_free(report);
    fw_plan_free(plan);
}

static void what_cannot_be_a_return_is_refused_by_line(void **state)
{
    (void)state;
    static const struct {
        const char *key, *value, *words;
    } rows[] = {
        {"fence.strands", "1", "one strand cannot be hot and earth at once"},
        {"fence.reel-use", "out-and-back", "two strands are one wire"},
    };
    for (size_t i = 0; i < 2; i++) {
        const struct fw_farm_setting settings[] = {
            {rows[i].key, rows[i].value, "--fence"},
            {"earth.return", "yes", "--earth-return"}};
        char path[4096];
        struct fw_error err;
        struct fw_farm *farm;
        snprintf(path, sizeof path, "%s/three-fields/farm.yaml",
                 getenv("FW_SAMPLES"));
        const struct fw_farm_request request = {
            .farm_path = path, .settings = settings, .setting_count = 2};
        assert_int_equal(fw_farm_read(&request, &farm, NULL, NULL, &err),
                         FW_EINPUT);
        assert_non_null(strstr(err.text, rows[i].words));
        assert_non_null(strstr(err.text, "--earth-return"));
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(hooves_on_poor_soil_are_discs_and_on_loam_nothing),
        cmocka_unit_test(the_ground_under_the_hooves_is_part_of_the_loop),
        cmocka_unit_test(two_strands_are_a_loop_without_the_ground),
        cmocka_unit_test(both_strands_hooked_at_both_ends_are_fed_from_both),
        cmocka_unit_test(bonds_join_hot_with_hot_and_earth_with_earth),
        cmocka_unit_test(the_boundary_carries_the_return_too),
        cmocka_unit_test(a_line_without_a_boundary_has_a_lead_of_both),
        cmocka_unit_test(readings_are_taken_between_the_wires),
        cmocka_unit_test(a_strand_is_the_return_where_the_ground_does_not_do),
        cmocka_unit_test(list_card_and_report_are_of_that_one_plan),
        cmocka_unit_test(what_cannot_be_a_return_is_refused_by_line),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
