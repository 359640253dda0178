/* What a tester should show where the card asks for it: closed forms of the
 * line that is read, with what stands at that step, and nothing that leaks more
 * leaves a sheep less than it is wanted to have. */
#include "power_by_hand.h"

#include "report/report.h"

static void make_readings(struct world *w)
{
    struct fw_error err;
    struct fw_plan__solver solver = {0};
    if (fw_plan__circuits_init(&solver.circuits, &w->plan, &w->plan.wiring,
                               &err) ||
        fw_plan__readings(&w->plan, &solver, &w->plan.power, &err))
        fail_msg("%s", err.text);
    fw_plan__solver_release(&solver);
}

static void free_world(struct world *w)
{
    fw_free(w->plan.readings);
    free(w);
}

static const struct fw_plan_reading *reading_of(const struct world *w,
                                                size_t fence)
{
    for (size_t i = 0; i < w->plan.reading_count; i++)
        if (w->plan.readings[i].fence == fence)
            return &w->plan.readings[i];
    fail_msg("no reading of %s", w->fences[fence].id);
    return NULL;
}

static void the_limit_is_what_a_sheep_has_two_kilovolts_of(void **state)
{
    (void)state;
    struct world *w = new_world();
    const size_t fence = line_at(w, 100, 1);
    make_readings(w);
    const struct fw_circuit_run_volts run = run_of(w, 3.82, 1000, 0);
    const struct fw_plan_reading *got = reading_of(w, fence);
    assert_int_equal(w->steps[got->step].kind, FW_STEP_READ);
    assert_relative(got->far_v, run.far.open_v, 1e-8);
    assert_relative(got->touched_v, run.far.touched_v, 1e-8);
    /* A body of 500 ohm behind the Thevenin resistance of the far end. */
    assert_relative(got->wanted_v, 2000 * (500 + run.far.thevenin_ohm) / 500,
                    1e-8);
    assert_true(got->wanted_v > 4000);
    free_world(w);
}

/* Once more, as for the next size that is tried: they take the old ones' place.
 */
static void readings_made_again_are_as_many(void **state)
{
    (void)state;
    struct world *w = new_world();
    const size_t fence = line_at(w, 100, 1);
    make_readings(w);
    const size_t count = w->plan.reading_count;
    const double far_v = reading_of(w, fence)->far_v;
    assert_int_equal(count, 1);
    w->plan.power.open_v *= 2;
    make_readings(w);
    assert_int_equal(w->plan.reading_count, count);
    assert_relative(reading_of(w, fence)->far_v, 2 * far_v, 1e-8);
    free_world(w);
}

/* Wire that resists next to nothing: what a tester is to show decides. */
static void the_volts_wanted_open_hold_where_they_are_more(void **state)
{
    (void)state;
    struct world *w = new_world();
    const size_t fence = line_at(w, 100, 1);
    w->plan.wiring.moved_ohm_m = 0.01;
    make_readings(w);
    const struct fw_plan_reading *got = reading_of(w, fence);
    assert_true(got->touched_v > 2000 * got->far_v / 4000);
    assert_relative(got->wanted_v, 4000, 1e-8);
    free_world(w);
}

/* ---- at the step, not at the day's end ---- */

/* The old line comes down when the new one was read. */
static struct fw_step *two_lines(struct world *w)
{
    add_line(w, 100, 1, first_day - 1, first_day);
    add_line(w, 160, 1, first_day, first_day + 9);
    struct fw_step *steps = &w->steps[w->plan.time.moves[1].steps.first];
    const struct fw_step down = steps[0];
    assert_int_equal(down.kind, FW_STEP_TAKE_DOWN);
    memmove(steps, steps + 1, 3 * sizeof *steps);
    steps[3] = down;
    assert_int_equal(steps[2].kind, FW_STEP_READ);
    w->standings[0].down.step = w->standings[1].up.step + 3;
    w->standings[1].up.step--;
    return steps;
}

static double far_v_with(const struct world *w, int lines)
{
    const double u = sqrt(3.82 / 1e6) * 200, zin = sqrt(3.82 * 1e6) / tanh(u);
    const double load = zin / lines;
    return w->plan.power.open_v * load / (load + 320) / cosh(u);
}

static void what_still_stands_at_the_step_takes_its_share(void **state)
{
    (void)state;
    struct world *w = new_world();
    two_lines(w);
    make_readings(w);
    assert_relative(reading_of(w, 5)->far_v, far_v_with(w, 2), 1e-8);
    assert_relative(volts_on(w, 5, 0, 200).open_v, far_v_with(w, 1), 1e-8);
    free_world(w);
}

static void what_is_unhooked_at_the_step_takes_none(void **state)
{
    (void)state;
    struct world *w = new_world();
    struct fw_opening opening = {.kind = FW_OPENING_A, .line = 4};
    struct fw_step *steps = two_lines(w);
    struct fw_list *of = &w->plan.time.moves[1].steps;
    /* Opened before the line is read, and left so. */
    memmove(steps + 3, steps + 2, 3 * sizeof *steps);
    steps[2] = (struct fw_step){.kind = FW_STEP_OPEN};
    of->count++;
    w->plan.time.step_count++;
    w->plan.time.moves[2].steps.first++;
    memmove(&w->steps[w->plan.time.moves[2].steps.first],
            &w->steps[w->plan.time.moves[2].steps.first - 1],
            5 * sizeof *steps);
    steps[5] = (struct fw_step){.kind = FW_STEP_COUNT, .opening = FW_NONE};
    w->plan.time.openings = &opening;
    w->plan.time.opening_count = 1;
    struct fw_plan__days days;
    assert_int_equal(fw_plan__days_init(&days, &w->plan, NULL), FW_OK);
    for (size_t i = of->first; i < of->first + of->count; i++) {
        assert_int_equal(fw_plan__days_to_step(&days, i, NULL), FW_OK);
        const size_t k = i - of->first;
        const bool over = k + 1 == of->count;
        assert_int_equal(fw_plan__days_hooked(&days, 4), k < 2 || over);
        assert_int_equal(fw_plan__days_hooked(&days, 5), k > 0);
    }
    fw_plan__days_release(&days);
    free_world(w);
}

/* ---- what leaks more ---- */

/* xorshift64*, so that they are the same everywhere. */
static double draw(uint64_t *seed)
{
    *seed ^= *seed >> 12;
    *seed ^= *seed << 25;
    *seed ^= *seed >> 27;
    return (double)((*seed * 2685821657736338717u) >> 11) / 9007199254740992.0;
}

/* Shorts and grass of any kind on the line that is read and on another: from
 * the limit on a sheep has its 2 kV at the far end, and it is not more than
 * needs be, since a weaker energizer leaves just that. */
static void a_reading_at_the_limit_leaves_a_sheep_enough(void **state)
{
    (void)state;
    uint64_t seed = 20270517;
    int tight = 0;
    for (int i = 0; i < 400; i++) {
        struct world *w = new_world();
        const size_t fence = line_at(w, 100, 1);
        line_at(w, 200, 1);
        w->plan.wiring.moved_ohm_m = 0.1 + 4 * draw(&seed);
        w->plan.wiring.moved_leak_ohm_km = 400 * pow(25, draw(&seed));
        w->plan.power.internal_ohm = 100 + 800 * draw(&seed);
        make_readings(w);
        const double wanted_v = reading_of(w, fence)->wanted_v;
        struct fw_plan_circuit circuit = {0};
        struct fw_circuit_answer answer;
        assert_int_equal(
            fw_plan_circuit_make(&w->plan, first_day, &circuit, NULL), FW_OK);
        for (int k = 0; k < 3; k++)
            assert_int_equal(
                fw_circuit_add_shunt(
                    &circuit.net,
                    (size_t)(draw(&seed) * (double)circuit.net.node_count),
                    100 * pow(1000, draw(&seed)), NULL),
                FW_OK);
        /* As strong as it must be to read the limit with all that. */
        struct fw_circuit_station end;
        struct fw_circuit_volts volts;
        assert_true(fw_plan_circuit_place(&circuit, fence, 0, 200, &end));
        assert_int_equal(fw_circuit_solve(&circuit.net, &answer, NULL), FW_OK);
        fw_circuit_at(&circuit.net, &answer, end, &volts, NULL);
        const double share = wanted_v / volts.open_v;
        assert_true(volts.touched_v * share >= 2000 * (1 - 1e-9));
        tight += volts.touched_v * share < 2600;
        fw_circuit_answer_release(&answer);
        fw_plan_circuit_release(&circuit);
        free_world(w);
    }
    assert_true(tight > 100);
}

/* ---- in a plan, and on its cards ---- */

static bool is_short(const struct fw_plan_reading *reading)
{
    return reading->far_v < reading->wanted_v;
}

static size_t count_readings(const struct fw_plan *plan)
{
    size_t count = 0;
    for (size_t i = 0; i < plan->time.step_count; i++)
        if (plan->time.steps[i].kind == FW_STEP_READ)
            count += plan->time.steps[i].lines.count;
    return count;
}

static void each_line_that_is_read_has_a_reading(void **state)
{
    (void)state;
    struct fw_plan *plan = sample_plan(NULL);
    assert_true(count_readings(plan) > 5);
    assert_int_equal(plan->reading_count, count_readings(plan));
    for (size_t i = 0; i < plan->reading_count; i++) {
        const struct fw_plan_reading *reading = &plan->readings[i];
        assert_ptr_equal(
            fw_plan_reading_of(plan, reading->step, reading->fence), reading);
        assert_false(is_short(reading)); /* it was sized so */
        assert_true(reading->wanted_v >= plan->energizer.open_v * (1 - 1e-12));
        assert_true(reading->touched_v >= plan->energizer.touched_v);
    }
    fw_plan_free(plan);
}

/* "a fault under 5.4", from the card, where a line may be folded. */
static double limit_on_card(const char *card)
{
    const char *at = strstr(card, "a fault");
    double kv = 0;
    assert_non_null(at);
    assert_int_equal(sscanf(at, "a fault under%lf", &kv), 1);
    return kv * 1000;
}

/* The move with that step, if it reads one line alone. */
static size_t move_of(const struct fw_plan *plan, size_t step)
{
    size_t move = 0, lines = 0;
    while (plan->time.moves[move].steps.first +
               plan->time.moves[move].steps.count <=
           step)
        move++;
    const struct fw_list steps = plan->time.moves[move].steps;
    for (size_t i = steps.first; i < steps.first + steps.count; i++)
        if (plan->time.steps[i].kind == FW_STEP_READ)
            lines += plan->time.steps[i].lines.count;
    return lines == 1 ? move : FW_NONE;
}

static void cards_print_limits_up_and_say_first_what_is_too_little(void **state)
{
    (void)state;
    static const char *const sizes[] = {"0.25 J", "2 J"};
    int limits = 0, warned = 0;
    for (int s = 0; s < 2; s++) {
        struct fw_plan *plan = sample_plan(sizes[s]);
        for (size_t i = 0; i < plan->reading_count; i++) {
            const struct fw_plan_reading *reading = &plan->readings[i];
            const size_t move = move_of(plan, reading->step);
            if (move == FW_NONE)
                continue;
            char *card;
            assert_int_equal(fw_report_move(plan, move, false, &card, NULL),
                             FW_OK);
            /* After those who come first. */
            const char *own = strstr(card, "\n\n");
            assert_non_null(own);
            const bool first = strncmp(own + 2, "TOO LITTLE", 10) == 0;
            if (is_short(reading)) {
                assert_true(first);
                assert_non_null(strstr(card, "enough only"));
                warned++;
            } else if (!first) {
                const double kv = limit_on_card(card);
                assert_true(kv >= reading->wanted_v - 1e-6 &&
                            kv < reading->wanted_v + 100);
                limits++;
            }
            fw_bytes_free(card);
        }
        fw_plan_free(plan);
    }
    assert_true(limits > 5 && warned > 5);
}

/* Down and up, and what is enough by a volt or more reads so. */
static void too_little_never_reads_as_enough(void **state)
{
    (void)state;
    uint64_t seed = 20270518;
    int close = 0;
    for (int i = 0; i < 20000; i++) {
        const double wanted_v = 1000 + 9000 * draw(&seed);
        const double has_v = wanted_v + 400 * (draw(&seed) - 0.5);
        char has[FW_WORDS], wanted[FW_WORDS];
        fw_report_kv_beside(has_v, wanted_v, has, wanted);
        const double has_kv = atof(has), wanted_kv = atof(wanted);
        assert_true(has_kv * 1000 <= has_v + 1e-6);
        assert_true(wanted_kv * 1000 >= wanted_v - 1e-6);
        assert_true(has_kv * 1000 > has_v - 100);
        assert_true(wanted_kv * 1000 < wanted_v + 100);
        if (has_v < wanted_v)
            assert_true(has_kv < wanted_kv);
        else if (has_v >= wanted_v + 2)
            assert_true(has_kv >= wanted_kv);
        close += strlen(has) > 3;
        const double down_kv = fw_report_down_kv(has_v);
        assert_true(down_kv * 1000 <= has_v + 1e-6 &&
                    down_kv * 1000 > has_v - 100);
    }
    assert_true(close > 100);
    assert_near(fw_report_down_kv(2000), 2, 1e-12);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_limit_is_what_a_sheep_has_two_kilovolts_of),
        cmocka_unit_test(readings_made_again_are_as_many),
        cmocka_unit_test(the_volts_wanted_open_hold_where_they_are_more),
        cmocka_unit_test(what_still_stands_at_the_step_takes_its_share),
        cmocka_unit_test(what_is_unhooked_at_the_step_takes_none),
        cmocka_unit_test(a_reading_at_the_limit_leaves_a_sheep_enough),
        cmocka_unit_test(too_little_never_reads_as_enough),
        cmocka_unit_test(each_line_that_is_read_has_a_reading),
        cmocka_unit_test(
            cards_print_limits_up_and_say_first_what_is_too_little),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
