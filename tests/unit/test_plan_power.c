/* The circuit of a plan against sums made otherwise: closed forms of a leaky
 * line, resistances in series and in parallel. The plans are made by hand. */
#include "power_by_hand.h"

#include "base/alloc.h"
#include <stdlib.h>
#include <string.h>
#include <time.h>

/* ---- one line ---- */

static void one_strand_on_a_perfect_boundary_is_the_run_of_circuit_h(void **s)
{
    (void)s;
    struct world *w = new_world();
    const size_t fence = line_at(w, 100, 1);
    const struct fw_circuit_run_volts run = run_of(w, 3.82, 1000, 0);
    assert_relative(volts_on(w, fence, 0, 0).open_v, run.near.open_v, 1e-8);
    assert_relative(volts_on(w, fence, 0, 200).open_v, run.far.open_v, 1e-8);
    assert_relative(volts_on(w, fence, 0, 200).touched_v, run.far.touched_v,
                    1e-8);
    const struct fw_plan_power_day day = worst_of(w);
    assert_int_equal(day.fence, fence);
    assert_near(day.at_m, 200, 1e-6);
    assert_relative(day.touched_v, run.far.touched_v, 1e-8);
    assert_relative(day.source_v, run.near.open_v, 1e-8);
    assert_int_equal(day.dead, 0);
    free(w);
}

/* Fed at corner 1, (0, 0): to (100, 0) there are 100 m and 900 m. */
static void a_ring_of_wire_feeds_from_both_sides(void **state)
{
    (void)state;
    struct world *w = new_world();
    const size_t fence = line_at(w, 100, 1);
    const double ohm_m = 0.4; /* of one of four wires */
    w->plan.wiring.perimeter_ohm_m = ohm_m;
    w->plan.wiring.perimeter_strands = 4;
    w->field.gate = (struct fw_plan_place){.given = true, .plane = {0, 0}};
    const double ring_ohm = ohm_m / 4 / (1 / 100.0 + 1 / 900.0);
    const struct fw_circuit_run_volts run = run_of(w, 3.82, 1000, ring_ohm);
    assert_relative(volts_on(w, fence, 0, 200).open_v, run.far.open_v, 1e-8);
    assert_relative(volts_on(w, fence, 0, 200).touched_v, run.far.touched_v,
                    1e-8);
    free(w);
}

/* A cold side between leaves one way round; both cold, none. */
static void a_cold_side_opens_the_ring(void **state)
{
    (void)state;
    struct world *w = new_world();
    const size_t fence = line_at(w, 100, 1);
    w->plan.wiring.perimeter_ohm_m = 0.4;
    w->plan.wiring.perimeter_strands = 1;
    w->field.gate = (struct fw_plan_place){.given = true, .plane = {300, 200}};
    w->sides[3].hot = FW_NO; /* from corner 3 by side 2 and 200 m of side 1 */
    const struct fw_circuit_run_volts run =
        run_of(w, 3.82, 1000, 0.4 * (200 + 200));
    assert_relative(volts_on(w, fence, 0, 200).touched_v, run.far.touched_v,
                    1e-8);
    w->sides[1].hot = FW_NO;
    const struct fw_plan_power_day day = worst_of(w);
    assert_int_equal(day.dead, 2); /* the line, and side 1 that it stands on */
    free(w);
}

/* Hyperbolic functions of a leaky line: both strands hang on one node. */
/* Side 1 alone is live, and the line stands 100 m along it. */
static void one_live_side_is_what_a_field_is_fed_at(void **state)
{
    (void)state;
    struct world *w = new_world();
    const size_t fence = line_at(w, 100, 1);
    w->plan.wiring.perimeter_ohm_m = 0.4;
    w->plan.wiring.perimeter_strands = 1;
    w->plan.wiring.lead_ohm_m = 2;
    w->field.gate = (struct fw_plan_place){.given = true, .plane = {0, 0}};
    for (size_t i = 1; i < 4; i++)
        w->sides[i].hot = FW_NO;
    const struct fw_circuit_run_volts run = run_of(w, 3.82, 1000, 0.4 * 100);
    assert_relative(volts_on(w, fence, 0, 200).open_v, run.far.open_v, 1e-8);
    free(w);
}

static void strands_joined_at_the_live_end_alone_are_two_lines(void **state)
{
    (void)state;
    struct world *w = new_world();
    const size_t fence = line_at(w, 100, 2);
    const double leak_ohm_m[2] = {1e6, 2e6}; /* light is above moderate */
    double zin[2], z0[2], u[2];
    for (int i = 0; i < 2; i++) {
        z0[i] = sqrt(3.82 * leak_ohm_m[i]);
        u[i] = sqrt(3.82 / leak_ohm_m[i]) * 200;
        zin[i] = z0[i] / tanh(u[i]);
    }
    const double load = zin[0] * zin[1] / (zin[0] + zin[1]);
    const double near_v = 8000 * load / (load + 320);
    for (int i = 0; i < 2; i++) {
        const struct fw_circuit_volts far = volts_on(w, fence, i, 200);
        const double other = zin[1 - i] * 320 / (zin[1 - i] + 320);
        const double t = tanh(u[i]);
        const double behind = z0[i] * (other + z0[i] * t) / (z0[i] + other * t);
        assert_relative(far.open_v, near_v / cosh(u[i]), 1e-8);
        assert_relative(far.thevenin_ohm, behind, 1e-8);
        assert_relative(far.touched_v, far.open_v * 500 / (500 + behind), 1e-8);
    }
    free(w);
}

static void strands_joined_at_both_ends_are_one_wire_of_half_the_ohms(void **s)
{
    (void)s;
    struct world *w = new_world();
    const size_t fence = line_at(w, 100, 2);
    w->field.plane.centre.lat_deg = -50; /* no growth: both leak alike */
    const struct fw_circuit_volts loose = volts_on(w, fence, 0, 200);
    w->plan.wiring.bonded = FW_BONDED_BOTH_ENDS;
    const struct fw_circuit_run_volts run = run_of(w, 3.82 / 2, 1000 / 2.0, 0);
    const struct fw_circuit_volts bonded = volts_on(w, fence, 1, 200);
    assert_relative(bonded.open_v, run.far.open_v, 1e-8);
    assert_relative(bonded.touched_v, run.far.touched_v, 1e-8);
    assert_true(bonded.touched_v > 1.2 * loose.touched_v);
    free(w);
}

/* In the middle of a span between bonds the other strand helps more when the
 * bonds are near. */
static void bonds_along_a_line_help_where_both_ends_do_not(void **state)
{
    (void)state;
    struct world *w = new_world();
    const size_t fence = line_at(w, 100, 2);
    w->plan.wiring.bonded = FW_BONDED_BOTH_ENDS;
    const double ends_v = volts_on(w, fence, 0, 100).touched_v;
    w->plan.wiring.bonded = FW_BONDED_EVERY;
    w->plan.wiring.bond_gap_m = 100;
    assert_true(volts_on(w, fence, 0, 100).touched_v > ends_v + 50);
    w->plan.wiring.bond_gap_m = 30; /* 180 m is the last before the end */
    assert_true(volts_on(w, fence, 0, 200).touched_v > 0);
    free(w);
}

static void a_far_end_hooked_on_closes_a_loop(void **state)
{
    (void)state;
    struct world *w = new_world();
    const size_t fence = line_at(w, 100, 1);
    w->plan.wiring.far_hooked = true;
    /* Fed at both ends by the same volts: two halves, open in the middle. */
    const double u = sqrt(3.82 / 1e6) * 100, z0 = sqrt(3.82 * 1e6);
    const double load = z0 / tanh(u) / 2;
    const double near_v = 8000 * load / (load + 320);
    assert_relative(volts_on(w, fence, 0, 100).open_v, near_v / cosh(u), 1e-8);
    assert_relative(volts_on(w, fence, 0, 200).open_v, near_v, 1e-8);
    assert_near(worst_of(w).at_m, 100, 0.01);
    free(w);
}

static void joints_switches_and_leads_are_ohms_in_series(void **state)
{
    (void)state;
    struct world *w = new_world();
    const size_t fence = line_at(w, 100, 1);
    w->plan.wiring.joint_ohm = 7;
    w->plan.wiring.switch_ohm = 11;
    w->plan.wiring.lead_m = 50;
    w->plan.wiring.lead_ohm_m = 0.2;
    const struct fw_circuit_run_volts run =
        run_of(w, 3.82, 1000, 7 + 11 + 50 * 0.2);
    assert_relative(volts_on(w, fence, 0, 200).touched_v, run.far.touched_v,
                    1e-8);
    free(w);
}

/* ---- out and back on one wire ---- */

static size_t out_and_back_at(struct world *w, double x, int strands)
{
    w->plan.moved.strands = strands;
    w->plan.moved.out_and_back = true;
    return line_at(w, x, strands);
}

/* No growth, so that both leak alike: a run of twice the length. */
static void a_wire_out_and_back_is_a_run_of_twice_the_length(void **state)
{
    (void)state;
    struct world *w = new_world();
    const size_t fence = out_and_back_at(w, 100, 2);
    w->field.plane.centre.lat_deg = -50;
    const double u = sqrt(3.82 / 1e6), z0 = sqrt(3.82 * 1e6);
    const double load = z0 / tanh(400 * u);
    const double near_v = 8000 * load / (load + 320);
    for (int m = 0; m <= 200; m += 50) {
        assert_relative(volts_on(w, fence, 0, m).open_v,
                        near_v * cosh((400 - m) * u) / cosh(400 * u), 1e-8);
        assert_relative(volts_on(w, fence, 1, m).open_v,
                        near_v * cosh(m * u) / cosh(400 * u), 1e-8);
    }
    const struct fw_plan_power_day day = worst_of(w);
    assert_int_equal(day.fence, fence);
    assert_near(day.at_m, 0, 1e-6); /* the second end, beside the first */
    free(w);
}

/* The same circuit by hand: node 1 is where the wire turns, node 2 its second
 * end. */
static double by_hand_v(const struct fw_circuit_section *sections, size_t count,
                        size_t nodes, struct fw_circuit_station place)
{
    struct fw_circuit net = {
        .node_count = nodes, .has_source = true, .source = {0, 8000, 300, 20}};
    struct fw_circuit_answer answer;
    struct fw_circuit_volts volts;
    struct fw_error err;
    for (size_t i = 0; i < count; i++)
        assert_int_equal(fw_circuit_add_section(&net, &sections[i], &err),
                         FW_OK);
    if (fw_circuit_solve(&net, &answer, &err) ||
        fw_circuit_at(&net, &answer, place, &volts, &err))
        fail_msg("%s", err.text);
    fw_circuit_answer_release(&answer);
    fw_circuit_release(&net);
    return volts.open_v;
}

static void the_strand_above_comes_back_through_less_grass(void **state)
{
    (void)state;
    struct world *w = new_world();
    const size_t fence = out_and_back_at(w, 100, 2);
    const struct fw_circuit_section sections[] = {
        {.a = 0, .b = 1, .length_m = 200, .ohm_m = 3.82, .siemens_m = 1e-6},
        {.a = 1, .b = 2, .length_m = 200, .ohm_m = 3.82, .siemens_m = 0.5e-6},
    };
    for (int m = 0; m <= 200; m += 40) {
        const struct fw_circuit_station out = {0, m}, back = {1, 200 - m};
        assert_relative(volts_on(w, fence, 0, m).open_v,
                        by_hand_v(sections, 2, 3, out), 1e-8);
        assert_relative(volts_on(w, fence, 1, m).open_v,
                        by_hand_v(sections, 2, 3, back), 1e-8);
    }
    free(w);
}

/* Each hook has its joint; the wire turns without one. */
static void a_second_end_hooked_on_makes_a_loop(void **state)
{
    (void)state;
    struct world *w = new_world();
    const size_t fence = out_and_back_at(w, 100, 2);
    w->plan.wiring.far_hooked = true;
    w->plan.wiring.joint_ohm = 40;
    const struct fw_circuit_section sections[] = {
        {.a = 0, .b = 1, .ohm = 40},
        {.a = 1, .b = 2, .length_m = 200, .ohm_m = 3.82, .siemens_m = 1e-6},
        {.a = 2, .b = 3, .length_m = 200, .ohm_m = 3.82, .siemens_m = 0.5e-6},
        {.a = 3, .b = 0, .ohm = 40},
    };
    for (int m = 0; m <= 200; m += 40) {
        const struct fw_circuit_station out = {1, m}, back = {2, 200 - m};
        assert_relative(volts_on(w, fence, 0, m).open_v,
                        by_hand_v(sections, 4, 4, out), 1e-8);
        assert_relative(volts_on(w, fence, 1, m).open_v,
                        by_hand_v(sections, 4, 4, back), 1e-8);
    }
    /* Alike, and without joints: two runs to the turn, by their closed form. */
    w->plan.wiring.joint_ohm = 0;
    w->field.plane.centre.lat_deg = -50;
    const double u = sqrt(3.82 / 1e6) * 200;
    const double load = sqrt(3.82 * 1e6) / tanh(u) / 2;
    const double near_v = 8000 * load / (load + 320);
    assert_relative(volts_on(w, fence, 1, 0).open_v, near_v, 1e-8);
    assert_relative(volts_on(w, fence, 1, 200).open_v, near_v / cosh(u), 1e-8);
    free(w);
}

/* Three strands: a wire out and back, and one that ends at the far end. */
static void an_odd_strand_is_a_wire_of_its_own(void **state)
{
    (void)state;
    struct world *w = new_world();
    const size_t fence = out_and_back_at(w, 100, 3);
    const struct fw_circuit_section sections[] = {
        {.a = 0, .b = 1, .length_m = 200, .ohm_m = 3.82, .siemens_m = 1e-6},
        {.a = 1, .b = 2, .length_m = 200, .ohm_m = 3.82, .siemens_m = 0.5e-6},
        {.a = 0, .b = 3, .length_m = 200, .ohm_m = 3.82, .siemens_m = 0.5e-6},
    };
    const struct fw_circuit_station ends[] = {{0, 200}, {1, 200}, {2, 200}};
    const double at_m[] = {200, 0, 200};
    for (int i = 0; i < 3; i++)
        assert_relative(volts_on(w, fence, i, at_m[i]).open_v,
                        by_hand_v(sections, 3, 4, ends[i]), 1e-8);
    free(w);
}

/* A dead boundary: what hangs on the far end is fed where the wire turns. */
static void a_line_may_be_fed_where_the_wire_turns(void **state)
{
    (void)state;
    struct world *w = new_world();
    const size_t host = out_and_back_at(w, 100, 2);
    const size_t inner = new_vertex(w, 100, 150), end = new_vertex(w, 200, 150);
    static size_t branch_line[2];
    w->lines[0][1] = inner;
    w->fences[host].length_m = 150;
    struct fw_plan_fence *branch = add_like(w, host);
    branch_line[0] = inner;
    branch_line[1] = end;
    branch->line = branch_line;
    branch->length_m = 100;
    branch->strands = 1;
    const struct fw_circuit_section sections[] = {
        {.a = 0, .b = 1, .length_m = 150, .ohm_m = 3.82, .siemens_m = 1e-6},
        {.a = 1, .b = 2, .length_m = 150, .ohm_m = 3.82, .siemens_m = 0.5e-6},
        {.a = 1, .b = 3, .length_m = 100, .ohm_m = 3.82, .siemens_m = 1e-6},
    };
    const struct fw_circuit_station far = {2, 100}, second = {1, 150};
    assert_relative(volts_on(w, host + 1, 0, 100).open_v,
                    by_hand_v(sections, 3, 4, far), 1e-8);
    assert_relative(volts_on(w, host, 1, 0).open_v,
                    by_hand_v(sections, 3, 4, second), 1e-8);
    free(w);
}

/* ---- what feeds it ---- */

/* No side is live: the lead comes to the line's end A, and on to the next. */
static void a_dead_boundary_is_passed_by_a_lead_from_line_to_line(void **state)
{
    (void)state;
    struct world *w = new_world();
    const size_t one = line_at(w, 100, 1), two = line_at(w, 160, 1);
    for (int i = 0; i < 4; i++)
        w->sides[i].hot = FW_NO;
    w->plan.wiring.lead_m = 30;
    w->plan.wiring.lead_ohm_m = 2;
    const struct fw_circuit_run_volts alone = run_of(w, 3.82, 1000, 0);
    const double zin = alone.load_ohm;
    const double on = zin + 2 * 60; /* to the second line */
    const double load = zin * on / (zin + on);
    const double one_v = 8000 * load / (load + 320 + 2 * 30);
    assert_relative(volts_on(w, one, 0, 0).open_v, one_v, 1e-8);
    assert_relative(volts_on(w, two, 0, 0).open_v, one_v * zin / on, 1e-8);
    assert_int_equal(worst_of(w).dead, 0);
    free(w);
}

static void an_energizer_that_moves_stands_at_the_newest_line(void **state)
{
    (void)state;
    struct world *w = new_world();
    add_line(w, 100, 1, first_day - 1, first_day + 9);
    const size_t newest = add_line(w, 160, 1, first_day, first_day + 9);
    w->plan.wiring.perimeter_ohm_m = 1;
    w->plan.wiring.perimeter_strands = 1;
    w->plan.wiring.moves = true;
    /* Straight on it, so that its volts are the energizer's own. */
    assert_relative(volts_on(w, newest, 0, 0).open_v, worst_of(w).source_v,
                    1e-8);
    w->plan.wiring.moves = false;
    assert_true(volts_on(w, newest, 0, 0).open_v < worst_of(w).source_v - 1);
    free(w);
}

static void a_line_that_ends_on_another_is_fed_from_it(void **state)
{
    (void)state;
    struct world *w = new_world();
    const size_t host = line_at(w, 100, 1);
    /* From the middle of it to side 2. */
    const size_t a = new_vertex(w, 100, 100), b = new_vertex(w, 300, 100);
    static size_t branch_line[2], host_line[3];
    host_line[0] = w->lines[0][0];
    host_line[1] = a;
    host_line[2] = w->lines[0][1];
    branch_line[0] = a;
    branch_line[1] = b;
    w->fences[host].line = host_line;
    w->fences[host].line_count = 3;
    struct fw_plan_fence *branch = add_like(w, host);
    branch->line = branch_line;
    branch->line_count = 2;
    /* From the end inwards: the branch and the far half load the middle. */
    const double z0 = sqrt(3.82 * 1e6), g = sqrt(3.82 / 1e6);
    const double far = z0 / tanh(g * 100), side = z0 / tanh(g * 200);
    const double middle = far * side / (far + side), t = tanh(g * 100);
    const double load = z0 * (middle + z0 * t) / (z0 + middle * t);
    const double near_v = 8000 * load / (load + 320);
    const double middle_v =
        near_v * middle / (middle * cosh(g * 100) + z0 * sinh(g * 100));
    assert_relative(volts_on(w, w->plan.fence_count - 1, 0, 200).open_v,
                    middle_v / cosh(g * 200), 1e-8);
    free(w);
}

/* ---- what would help ---- */

static struct fw_cure cure_of(struct world *w, enum fw_cure_kind kind)
{
    struct fw_error err;
    struct fw_cure cures[FW_CURE_COUNT];
    struct fw_plan_power_day day = worst_of(w);
    size_t count = 0;
    w->plan.power_days = &day;
    w->plan.power_day_count = 1;
    if (fw_plan_cures(&w->plan, 0, cures, &count, &err))
        fail_msg("%s", err.text);
    w->plan.power_days = NULL;
    w->plan.power_day_count = 0;
    for (size_t i = 0; i < count; i++)
        if (cures[i].kind == kind)
            return cures[i];
    fail_msg("no cure %d", (int)kind);
    return cures[0];
}

static void feeding_in_the_middle_raises_the_worst_volts(void **state)
{
    (void)state;
    struct world *w = new_world();
    line_at(w, 100, 1);
    w->plan.wiring.lead_ohm_m = 0;
    const struct fw_cure cure = cure_of(w, FW_CURE_MIDDLE);
    /* Two runs of 100 m on one node. */
    const double u = sqrt(3.82 / 1e6) * 100, z0 = sqrt(3.82 * 1e6);
    const double zin = z0 / tanh(u), load = zin / 2;
    const double open_v = 8000 * load / (load + 320) / cosh(u);
    const double other = zin * 320 / (zin + 320), t = tanh(u);
    const double behind = z0 * (other + z0 * t) / (z0 + other * t);
    assert_relative(cure.touched_v, open_v * 500 / (500 + behind), 1e-8);
    assert_true(cure.gain_v > 100);
    assert_near(cure.gain_v, cure.touched_v - worst_of(w).touched_v, 1e-9);
    free(w);
}

static void each_cure_raises_the_worst_volts(void **state)
{
    (void)state;
    struct world *w = new_world();
    line_at(w, 100, 2);
    line_at(w, 150, 2);
    w->plan.moved.strands = 2;
    w->plan.wiring.perimeter_leak_ohm_km = 2000;
    for (int kind = 0; kind < FW_CURE_COUNT; kind++) {
        const struct fw_cure cure = cure_of(w, (enum fw_cure_kind)kind);
        assert_true(cure.text[0]);
        if (kind != FW_CURE_MIDDLE) /* the other line is then the worst */
            assert_true(cure.gain_v > 0);
    }
    free(w);
}

/* Its two strands are joined at the far end as it is; its second end can be
 * hooked on wherever its first one is. */
static void out_and_back_the_second_end_is_hooked_on_at_end_a(void **state)
{
    (void)state;
    struct world *w = new_world();
    out_and_back_at(w, 100, 2);
    const struct fw_cure cure = cure_of(w, FW_CURE_HOOK);
    assert_non_null(strstr(cure.text, "second end"));
    assert_true(cure.gain_v > 100);
    struct fw_cure cures[FW_CURE_COUNT];
    struct fw_plan_power_day day = worst_of(w);
    size_t count = 0;
    w->plan.power_days = &day;
    w->plan.power_day_count = 1;
    assert_int_equal(fw_plan_cures(&w->plan, 0, cures, &count, NULL), FW_OK);
    for (size_t i = 0; i < count; i++)
        assert_int_not_equal(cures[i].kind, FW_CURE_BOND);
    free(w);
}

/* ---- faults ---- */

static struct fw_plan_looks look(const struct world *w, const char *text)
{
    struct fw_error err;
    struct fw_plan_fault fault;
    struct fw_plan_looks looks = {.count = 0};
    if (fw_plan_fault_read(&w->plan, text, &fault, &err) ||
        fw_plan_look_for(&w->plan, first_day, &fault, NULL, &looks, &err))
        fail_msg("%s", err.text);
    return looks;
}

/* Posts each 8 m, as a plan sets them. */
static void set_posts(struct world *w, size_t fence,
                      struct fw_plan_post posts[26])
{
    for (size_t i = 0; i < 26; i++)
        posts[i] = (struct fw_plan_post){.fence = fence, .at_m = 8 * (double)i};
    w->plan.posts = posts;
    w->plan.post_count = 26;
}

static void a_broken_strand_is_found_between_its_posts(void **state)
{
    (void)state;
    struct fw_plan_post posts[26];
    struct world *w = new_world();
    const size_t fence = line_at(w, 100, 2);
    set_posts(w, fence, posts);
    struct fw_plan_looks looks = look(w, "broken:A01-02@83m");
    assert_int_not_equal(looks.after, FW_NONE);
    const struct fw_plan_look *after = &looks.items[looks.after];
    const struct fw_plan_look *before = &looks.items[looks.before];
    assert_int_equal(after->fence, fence);
    assert_int_equal(after->post, 11); /* at 80 m */
    assert_int_equal(before->post, 12);
    assert_true(after->faulty_v[0] > after->sound_v[0]); /* less leaks */
    assert_near(before->faulty_v[0], 0, 0);
    assert_true(before->faulty_v[1] > before->sound_v[1]);
    fw_plan_looks_release(&looks);
    looks = look(w, "broken:A01-02@83m:all");
    assert_near(looks.items[looks.before].faulty_v[1], 0, 0);
    assert_int_equal(looks.items[looks.before].post, 12);
    fw_plan_looks_release(&looks);
    free(w);
}

/* 500 ohm at 40 m: the closed form of a shunt on a line, and the readings fall
 * up to there and no further. */
static void a_short_is_found_where_the_readings_stop_falling(void **state)
{
    (void)state;
    struct fw_plan_post posts[26];
    struct world *w = new_world();
    const size_t fence = line_at(w, 100, 1);
    set_posts(w, fence, posts);
    struct fw_plan_looks looks = look(w, "short:A01-02@40m:500ohm");
    const double z0 = sqrt(3.82 * 1e6), g = sqrt(3.82 / 1e6);
    const double beyond = z0 / tanh(g * 160);
    const double middle = beyond * 500 / (beyond + 500), t = tanh(g * 40);
    const double load = z0 * (middle + z0 * t) / (z0 + middle * t);
    const double near_v = 8000 * load / (load + 320);
    const double short_v =
        near_v * middle / (middle * cosh(g * 40) + z0 * sinh(g * 40));
    double worst_error = 1;
    for (size_t i = 0; i < looks.count; i++)
        if (looks.items[i].fence == fence && looks.items[i].post == 6)
            worst_error = fabs(looks.items[i].faulty_v[0] / short_v - 1);
    assert_near(worst_error, 0, 1e-8);
    assert_true(looks.items[looks.after].at_m <= 40);
    assert_true(looks.items[looks.before].at_m >= 40);
    assert_true(
        looks.items[looks.before].at_m - looks.items[looks.after].at_m <= 16);
    fw_plan_looks_release(&looks);
    free(w);
}

static void rain_lowers_every_reading_and_points_nowhere(void **state)
{
    (void)state;
    struct world *w = new_world();
    line_at(w, 100, 2);
    w->plan.wiring.perimeter_leak_ohm_km = 5000;
    struct fw_plan_looks looks = look(w, "rain");
    for (size_t i = 0; i < looks.count; i++)
        assert_true(looks.items[i].faulty_v[0] < looks.items[i].sound_v[0]);
    assert_int_equal(looks.after, FW_NONE);
    fw_plan_looks_release(&looks);
    free(w);
}

static void what_cannot_be_a_fault_is_told_so(void **state)
{
    (void)state;
    static const struct {
        const char *text, *words;
    } rows[] = {
        {"broken:A01-03@40m", "did you mean \"A01-02\"?"},
        {"broken:north@40m", "the plan has no fence \"north\""},
        {"broken:A01-02", "expected such as A03-04@40m"},
        {"broken:A01-02@400m", "beyond its end"},
        {"broken:A01-02@40", "40"},
        {"broken:A01-02@40m:left", "expected bottom, top or all"},
        {"short:A01-02@40m:-5ohm", "expected 0 or more"},
        {"flood", "expected broken:FENCE@40m"},
    };
    struct world *w = new_world();
    line_at(w, 100, 2);
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        struct fw_error err;
        struct fw_plan_fault fault;
        assert_int_equal(
            fw_plan_fault_read(&w->plan, rows[i].text, &fault, &err),
            FW_EINPUT);
        if (!strstr(err.text, rows[i].words))
            fail_msg("\"%s\" lacks \"%s\"", err.text, rows[i].words);
    }
    struct fw_error err;
    struct fw_plan_looks looks;
    const struct fw_plan_fault cold = {FW_FAULT_BROKEN, 3, 0, 10, 0};
    w->sides[3].hot = FW_NO;
    assert_int_equal(
        fw_plan_look_for(&w->plan, first_day, &cold, NULL, &looks, &err),
        FW_EINPUT);
    assert_non_null(strstr(err.text, "A-side-4 does not stand"));
    assert_int_equal(
        fw_plan_look_for(&w->plan, first_day + 99, &cold, NULL, &looks, &err),
        FW_EINPUT);
    free(w);
}

/* ---- readings ---- */

static void readings_give_back_the_leakage_and_earth_they_came_from(void **s)
{
    (void)s;
    struct world *w = new_world();
    line_at(w, 100, 1);
    line_at(w, 200, 1);
    /* Ohms on the boundary too: else earth and leakage look alike. */
    w->plan.wiring.perimeter_ohm_m = 0.5;
    w->plan.wiring.perimeter_leak_ohm_km = 2000;
    w->field.gate = (struct fw_plan_place){.given = true, .plane = {0, 0}};
    struct world wet = *w;
    wet.plan.fields = &wet.field;
    wet.plan.wiring.moved_leak_ohm_km /= 2.5;
    wet.plan.wiring.perimeter_leak_ohm_km /= 2.5;
    wet.plan.power.earth_ohm = 85;
    w->plan.wiring.perimeter_strands = wet.plan.wiring.perimeter_strands = 1;
    const double at_m[3] = {0, 120, 200};
    struct fw_plan_measured readings[4];
    for (size_t i = 0; i < 3; i++)
        readings[i] = (struct fw_plan_measured){
            4 + i % 2, at_m[i], volts_on(&wet, 4 + i % 2, 0, at_m[i]).open_v};
    struct fw_error err;
    if (fw_plan_measured_read(&w->plan, first_day, "5.5kV@corner:1",
                              &readings[3], &err))
        fail_msg("%s", err.text);
    assert_int_equal(readings[3].fence, 0);
    assert_near(readings[3].open_v, 5500, 1e-9);
    readings[3].open_v = volts_on(&wet, 0, 0, 0).open_v;
    /* Two rows of days on which the same stands. */
    struct fw_plan_power_day days[] = {worst_of(w), worst_of(w)}, predicted[2];
    w->plan.power_days = days;
    w->plan.power_day_count = 2;
    struct fw_circuit_fit fit;
    if (fw_plan_learn(&w->plan, first_day, readings, 4, &fit, predicted, &err))
        fail_msg("%s", err.text);
    assert_int_equal(fit.unknowns, 2);
    assert_relative(fit.leakage_factor, 2.5, 1e-3);
    assert_relative(fit.earth_ohm, 85, 1e-2);
    for (size_t i = 0; i < 2; i++)
        assert_relative(predicted[i].touched_v, worst_of(&wet).touched_v, 1e-3);
    free(w);
}

/* ---- the size of the energizer ---- */

static bool enough_everywhere(const struct fw_plan *plan)
{
    for (size_t i = 0; i < plan->power_day_count; i++)
        if (!plan->power_days[i].enough)
            return false;
    return true;
}

static void the_least_size_that_is_enough_on_every_day_is_taken(void **state)
{
    (void)state;
    struct fw_plan *sized = sample_plan(NULL);
    struct fw_plan *smaller = sample_plan("1 J");
    struct fw_plan *same = sample_plan("2 J");
    assert_near(sized->energizer.joules, 2, 0);
    assert_true(enough_everywhere(sized));
    assert_false(enough_everywhere(smaller));
    /* The days before the size was found have its volts too. */
    assert_int_equal(sized->power_day_count, same->power_day_count);
    for (size_t i = 0; i < sized->power_day_count; i++)
        assert_near(sized->power_days[i].touched_v,
                    same->power_days[i].touched_v, 0);
    for (size_t i = 0; i < sized->fence_count; i++)
        assert_near(sized->fences[i].touched_v, same->fences[i].touched_v, 0);
    fw_plan_free(sized);
    fw_plan_free(smaller);
    fw_plan_free(same);
}

/* Of the rule that the farm took, never of another; and only where it decides:
 * where it asks for more than the next lesser size, or no size gives enough.
 * The fence of 1.25 km wants 0.78 J by the mile (the volts want 2), 1.25 J by
 * the kilometre and so 2, 2.06 J full of weeds and so 3. */
static void the_rule_that_sets_the_size_is_named(void **state)
{
    (void)state;
    static const struct {
        const char *rule, *earth, *wanted;
    } rows[] = {
        {NULL, NULL, "the least common size with enough volts on every day"},
        {"mile", NULL, "the least common size with enough volts on every day"},
        {"km", NULL, "by the rule of 1 J a kilometre of clean fence"},
        {"weedy", NULL, "by the rule of 1 J for 610 m"},
        {NULL, "2000 ohm", "by the rule of 1 J a mile of fence; no size is"},
        {"km", "2000 ohm",
         "by the rule of 1 J a kilometre of clean fence; no size is"},
        {"weedy", "2000 ohm", "by the rule of 1 J for 610 m"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        struct fw_farm_setting settings[2];
        size_t count = 0;
        if (rows[i].rule)
            settings[count++] = (struct fw_farm_setting){
                "energizer.rule", rows[i].rule, "--energizer-rule"};
        if (rows[i].earth)
            settings[count++] =
                (struct fw_farm_setting){"earth.ohm", rows[i].earth, "--earth"};
        struct fw_plan *plan = sample_with(settings, count);
        const char *said = plan->energizer.rule_source;
        if (strncmp(said, rows[i].wanted, strlen(rows[i].wanted)) != 0)
            fail_msg("row %zu: %g J, need %g: \"%s\"", i,
                     plan->energizer.joules, plan->energizer.need_j, said);
        fw_plan_free(plan);
    }
}

/* A fence's least is the least of its days, and the rows cover the plan. */
static void fences_and_rows_tell_the_same_story(void **state)
{
    (void)state;
    struct fw_plan *plan = sample_plan(NULL);
    int day = plan->start_day;
    for (size_t i = 0; i < plan->power_day_count; i++) {
        const struct fw_plan_power_day *row = &plan->power_days[i];
        assert_int_equal(row->from, day);
        assert_true(row->to > row->from);
        day = row->to;
        for (size_t k = 0; k < plan->fence_count; k++) {
            const struct fw_plan_fence *fence = &plan->fences[k];
            if (stands_after(plan, k, fw_time_move_by(&plan->time, row->from)))
                assert_true(fence->volts_known);
        }
        assert_true(plan->fences[row->fence].touched_v <= row->touched_v);
    }
    assert_int_equal(day, plan->end_day);
    for (size_t k = 0; k < plan->fence_count; k++) {
        const struct fw_plan_fence *fence = &plan->fences[k];
        const bool dead_side =
            fence->role == FW_FENCE_PERIMETER &&
            (fence->side == FW_NONE ||
             plan->fields[fence->field].sides[fence->side].hot == FW_NO);
        assert_int_equal(fence->volts_known, !dead_side);
    }
    fw_plan_free(plan);
}

/* ---- many days ---- */

static void a_year_of_lines_is_solved_in_no_time(void **state)
{
    (void)state;
    struct world *w = new_world();
    for (int i = 0; i < 365; i++)
        add_line(w, 0.5 + 0.8 * i, 2, first_day + i, first_day + i + 30);
    w->plan.wiring.perimeter_ohm_m = 0.035;
    w->plan.wiring.perimeter_leak_ohm_km = 5000;
    w->plan.end_day = first_day + 365;
    struct fw_error err;
    struct fw_plan__solver solver = {0};
    assert_int_equal(fw_plan__circuits_init(&solver.circuits, &w->plan,
                                            &w->plan.wiring, &err),
                     FW_OK);
    const clock_t begin = clock();
    size_t most_nodes = 0;
    for (int i = 0; i < 365; i++) {
        struct fw_plan_power_day day;
        if (fw_plan__solve_day(&solver, first_day + i, &w->plan.power, &day,
                               &err))
            fail_msg("%s", err.text);
        assert_int_equal(day.dead, 0);
        if (solver.circuit.net.node_count > most_nodes)
            most_nodes = solver.circuit.net.node_count;
    }
    printf("# 365 days of up to %zu nodes: %.1f ms\n", most_nodes,
           1e3 * (double)(clock() - begin) / CLOCKS_PER_SEC);
    assert_true(most_nodes >= 60);
    fw_plan__solver_release(&solver);
    free(w);
}

/* The joules that are needed go by the metres that may be live: each side of
 * the boundary adds its own, unless it is said not to be hot. */
static double need_j(const enum fw_answer *hot)
{
    struct fw_farm *farm = farm_of(&rectangle, NULL);
    for (size_t side = 0; side < 4; side++)
        farm->fields[0].sides[side].hot = hot[side];
    farm->layout = fw_strdup("strips");
    farm->direction_given = true;
    struct fw_plan *plan = plan_of(farm);
    const double joules = plan->energizer.need_j;
    fw_plan_free(plan);
    fw_farm_free(farm);
    return joules;
}

static void joules_count_each_side_that_may_be_hot(void **state)
{
    (void)state;
    const enum fw_answer none[] = {FW_NO, FW_NO, FW_NO, FW_NO};
    const enum fw_answer all[] = {FW_YES, FW_UNTOLD, FW_YES, FW_UNTOLD};
    const double least_j = need_j(none), most_j = need_j(all);
    assert_true(most_j > 1.5 * least_j);
    double sum_m = 0;
    for (size_t side = 0; side < 4; side++)
        for (int told = 0; told < 2; told++) {
            enum fw_answer hot[] = {FW_NO, FW_NO, FW_NO, FW_NO};
            hot[side] = told ? FW_YES : FW_UNTOLD;
            const double side_m =
                1000 * (need_j(hot) - least_j) / (most_j - least_j);
            assert_true(fabs(side_m - 300) < 0.1 || fabs(side_m - 200) < 0.1);
            sum_m += side_m;
        }
    assert_near(sum_m, 2000, 0.1);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(
            one_strand_on_a_perfect_boundary_is_the_run_of_circuit_h),
        cmocka_unit_test(a_ring_of_wire_feeds_from_both_sides),
        cmocka_unit_test(a_cold_side_opens_the_ring),
        cmocka_unit_test(one_live_side_is_what_a_field_is_fed_at),
        cmocka_unit_test(strands_joined_at_the_live_end_alone_are_two_lines),
        cmocka_unit_test(
            strands_joined_at_both_ends_are_one_wire_of_half_the_ohms),
        cmocka_unit_test(bonds_along_a_line_help_where_both_ends_do_not),
        cmocka_unit_test(a_far_end_hooked_on_closes_a_loop),
        cmocka_unit_test(joints_switches_and_leads_are_ohms_in_series),
        cmocka_unit_test(a_wire_out_and_back_is_a_run_of_twice_the_length),
        cmocka_unit_test(the_strand_above_comes_back_through_less_grass),
        cmocka_unit_test(a_second_end_hooked_on_makes_a_loop),
        cmocka_unit_test(an_odd_strand_is_a_wire_of_its_own),
        cmocka_unit_test(a_line_may_be_fed_where_the_wire_turns),
        cmocka_unit_test(out_and_back_the_second_end_is_hooked_on_at_end_a),
        cmocka_unit_test(a_dead_boundary_is_passed_by_a_lead_from_line_to_line),
        cmocka_unit_test(an_energizer_that_moves_stands_at_the_newest_line),
        cmocka_unit_test(a_line_that_ends_on_another_is_fed_from_it),
        cmocka_unit_test(feeding_in_the_middle_raises_the_worst_volts),
        cmocka_unit_test(each_cure_raises_the_worst_volts),
        cmocka_unit_test(a_broken_strand_is_found_between_its_posts),
        cmocka_unit_test(a_short_is_found_where_the_readings_stop_falling),
        cmocka_unit_test(rain_lowers_every_reading_and_points_nowhere),
        cmocka_unit_test(what_cannot_be_a_fault_is_told_so),
        cmocka_unit_test(
            readings_give_back_the_leakage_and_earth_they_came_from),
        cmocka_unit_test(the_least_size_that_is_enough_on_every_day_is_taken),
        cmocka_unit_test(the_rule_that_sets_the_size_is_named),
        cmocka_unit_test(fences_and_rows_tell_the_same_story),
        cmocka_unit_test(a_year_of_lines_is_solved_in_no_time),
        cmocka_unit_test(joules_count_each_side_that_may_be_hot),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
