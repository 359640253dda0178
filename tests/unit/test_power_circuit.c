#include "circuit_help.h"
#include "table.h"

/* ---- against closed forms ---- */

static void lines_agree_with_the_leaky_line(void **state)
{
    (void)state;
    struct table table;
    table_open(&table, "power_lines.tsv");
    while (table_next(&table, 6)) {
        const struct fw_circuit_run run = {.ohm_m = table_number(&table, 0),
                                           .leakage_ohm_km =
                                               table_number(&table, 1),
                                           .length_m = table_number(&table, 2),
                                           .open_v = 5000};
        struct fw_circuit_run_volts got;
        struct fw_error err = {0};
        must(fw_circuit_run(&run, &got, &err), &err);
        assert_near(got.near.open_v, 5000, 1e-9);
        assert_near(got.far.open_v / got.near.open_v, table_number(&table, 3),
                    5e-6);
        assert_near(got.load_ohm, table_number(&table, 4), 0.05);
        const double g = 1 / (run.leakage_ohm_km * 1000);
        const double u = run.length_m * sqrt(run.ohm_m * g);
        assert_relative(got.far.open_v, 5000 / cosh(u), 1e-14);
        assert_relative(got.load_ohm, sqrt(run.ohm_m / g) / tanh(u), 1e-14);
    }
    assert_int_equal(table.rows, 7);
    table_close(&table);
}

static void runs_agree_with_the_worked_circuits(void **state)
{
    (void)state;
    struct table table;
    table_open(&table, "power_runs.tsv");
    while (table_next(&table, 11)) {
        const struct fw_circuit_run run = {
            .open_v = table_number(&table, 0),
            .internal_ohm = table_number(&table, 1),
            .earth_ohm = table_number(&table, 2),
            .ohm_m = table_number(&table, 3),
            .leakage_ohm_km = table_number(&table, 4),
            .length_m = table_number(&table, 5)};
        struct fw_circuit_run_volts got;
        struct fw_error err = {0};
        must(fw_circuit_run(&run, &got, &err), &err);
        assert_near(got.near.open_v, table_number(&table, 6), 0.5);
        assert_near(got.far.open_v, table_number(&table, 7), 0.5);
        assert_near(got.far.thevenin_ohm, table_number(&table, 8), 0.5);
        assert_near(got.far.touched_v, table_number(&table, 9), 0.5);
        assert_relative(got.rods_v, got.source_a * run.earth_ohm, 1e-14);
        assert_relative(got.source_a, got.near.open_v / got.load_ohm, 1e-14);
    }
    assert_int_equal(table.rows, 6);
    table_close(&table);
}

/* Without leakage a sheep at the far end is a divider: 8,000 V over internal,
 * earth, wire and 500 ohm of body are 2,000 V at these lengths. */
static void longest_dry_run_has_just_its_touched_volts(void **state)
{
    (void)state;
    const double ohm_m[] = {3.82, 2.55, 1.91};
    for (size_t i = 0; i < 3; i++) {
        const struct fw_circuit_run run = {
            .length_m = (8000 * 500 / 2000.0 - 500 - 300 - 20) / ohm_m[i],
            .ohm_m = ohm_m[i],
            .leakage_ohm_km = (double)INFINITY,
            .open_v = 8000,
            .internal_ohm = 300,
            .earth_ohm = 20};
        struct fw_circuit_run_volts got;
        must(fw_circuit_run(&run, &got, NULL), NULL);
        assert_relative(got.far.open_v, 8000, 1e-14);
        assert_relative(got.far.touched_v, 2000, 1e-14);
        assert_near(got.source_a, 0, 0);
        assert_true(isinf(got.load_ohm));
    }
}

static void extreme_lines_stay_well_behaved(void **state)
{
    (void)state;
    const double angles[] = {1e-9, 1e-6, 1e-3, 1, 20, 50};
    for (size_t i = 0; i < 6; i++) {
        const double u = angles[i], length_m = 100, z0 = 1000;
        struct fw_circuit net = {0};
        add(&net, 0, 1, length_m, u * z0 / length_m, u / z0 / length_m);
        feed(&net, 0);
        struct fw_circuit_answer answer = solved(&net);
        const double load_ohm = z0 / tanh(u);
        const double near_v = 8000 * load_ohm / (load_ohm + 320);
        assert_relative(answer.load_ohm, load_ohm, 1e-13);
        assert_relative(answer.nodes[1].volts.open_v, near_v / cosh(u), 1e-13);
        /* Seen from the far end: the line into 320 ohm. */
        const double t = tanh(u);
        assert_relative(answer.nodes[1].volts.thevenin_ohm,
                        z0 * (320 + z0 * t) / (z0 + 320 * t), 1e-12);
        for (int k = 0; k <= 10; k++)
            assert_relative(at(&net, &answer, 0, 10.0 * k).open_v,
                            near_v * cosh(u * (1 - k / 10.0)) / cosh(u), 1e-12);
        assert_near(answer.sections[0].least_touched_m, length_m, 0);
        /* The amps come from a difference of volts over the wire. */
        assert_near(answer.sections[0].out_a, 0, 1e-12 / (u * z0) + 1e-13);
        fw_circuit_answer_release(&answer);
        fw_circuit_release(&net);
    }
}

/* Far past where cosh overflows, fed at both ends. */
static void drowned_ring_has_nothing_left_in_the_middle(void **state)
{
    (void)state;
    struct fw_circuit net = {0};
    add(&net, 0, 0, 1e6, 100, 1);
    feed(&net, 0);
    struct fw_circuit_answer answer = solved(&net);
    assert_relative(answer.load_ohm, 10.0 / 2, 1e-12);
    assert_near(answer.sections[0].least_touched.open_v, 0, 1e-100);
    assert_near(at(&net, &answer, 0, 5e5).open_v, 0, 1e-100);
    assert_relative(at(&net, &answer, 0, 5e5).thevenin_ohm, 5, 1e-12);
    fw_circuit_answer_release(&answer);
    fw_circuit_release(&net);
}

static void wire_without_resistance_is_one_node_that_leaks(void **state)
{
    (void)state;
    struct fw_circuit net = {0};
    add(&net, 0, 1, 1000, 0, wet_s);
    add_plain(&net, 1, 2, 0);
    add(&net, 2, 3, 1000, 0, wet_s);
    feed(&net, 0);
    struct fw_circuit_answer answer = solved(&net);
    for (size_t i = 0; i < 4; i++)
        assert_relative(answer.nodes[i].volts.open_v,
                        8000 * 250.0 / (250 + 320), 1e-7);
    assert_relative(answer.load_ohm, 250, 1e-7);
    fw_circuit_answer_release(&answer);
    fw_circuit_release(&net);
}

/* ---- how a fence is wired ---- */

/* Three strands, tied together at both ends or at the near one alone. */
static void bonded_strands_feel_three_times_as_thick(void **state)
{
    (void)state;
    struct fw_circuit bonded = {0}, loose = {0}, one = {0};
    add(&bonded, 0, 1, 400, 3.82 / 3, 3 * clean_s);
    for (size_t i = 0; i < 3; i++) {
        add(&loose, 0, 1 + i, 400, 3.82, clean_s);
        add(&one, 0, 1, 400, 3.82, clean_s);
    }
    feed(&bonded, 0);
    feed(&loose, 0);
    feed(&one, 0);
    struct fw_circuit_answer b = solved(&bonded), l = solved(&loose),
                             o = solved(&one);
    assert_relative(l.nodes[1].volts.open_v, b.nodes[1].volts.open_v, 1e-12);
    assert_relative(o.nodes[1].volts.open_v, b.nodes[1].volts.open_v, 1e-12);
    assert_relative(o.nodes[1].volts.touched_v, b.nodes[1].volts.touched_v,
                    1e-12);
    assert_true(l.nodes[1].volts.touched_v < 0.6 * b.nodes[1].volts.touched_v);
    fw_circuit_answer_release(&b);
    fw_circuit_answer_release(&l);
    fw_circuit_answer_release(&o);
    fw_circuit_release(&bonded);
    fw_circuit_release(&loose);
    fw_circuit_release(&one);
}

static void feeding_in_the_middle_lifts_the_far_end(void **state)
{
    (void)state;
    struct fw_circuit end = {0}, middle = {0};
    add(&end, 0, 1, 800, 3.82, clean_s);
    add(&middle, 0, 1, 400, 3.82, clean_s);
    add(&middle, 0, 2, 400, 3.82, clean_s);
    feed(&end, 0);
    feed(&middle, 0);
    struct fw_circuit_answer e = solved(&end), m = solved(&middle);
    assert_near(m.nodes[1].volts.open_v, m.nodes[2].volts.open_v, 0);
    assert_true(m.nodes[1].volts.touched_v > 1.5 * e.nodes[1].volts.touched_v);
    /* The two halves side by side are one line of half the resistance. */
    const struct fw_circuit_run folded = {.length_m = 400,
                                          .ohm_m = 3.82 / 2,
                                          .leakage_ohm_km = 2500,
                                          .open_v = 8000,
                                          .internal_ohm = 300,
                                          .earth_ohm = 20};
    struct fw_circuit_run_volts f;
    must(fw_circuit_run(&folded, &f, NULL), NULL);
    assert_relative(m.nodes[1].volts.open_v, f.far.open_v, 1e-12);
    fw_circuit_answer_release(&e);
    fw_circuit_answer_release(&m);
    fw_circuit_release(&end);
    fw_circuit_release(&middle);
}

static void ring_is_weakest_half_way_round(void **state)
{
    (void)state;
    struct fw_circuit net = {0};
    add(&net, 0, 0, 600, 3.82, wet_s);
    feed(&net, 0);
    struct fw_circuit_answer answer = solved(&net);
    const struct fw_circuit_section_answer *ring = &answer.sections[0];
    assert_near(ring->least_touched_m, 300, 1e-5);
    assert_near(ring->least_open_m, 300, 1e-5);
    assert_relative(ring->in_a, -ring->out_a, 1e-12);
    /* Both halves side by side. */
    const struct fw_circuit_run half = {.length_m = 300,
                                        .ohm_m = 3.82 / 2,
                                        .leakage_ohm_km = 250,
                                        .open_v = 8000,
                                        .internal_ohm = 300,
                                        .earth_ohm = 20};
    struct fw_circuit_run_volts far;
    must(fw_circuit_run(&half, &far, NULL), NULL);
    assert_relative(ring->least_touched.open_v, far.far.open_v, 1e-12);
    assert_relative(ring->least_touched.touched_v, far.far.touched_v, 1e-12);
    fw_circuit_answer_release(&answer);
    fw_circuit_release(&net);
}

static void place_inside_is_as_a_node_there(void **state)
{
    (void)state;
    struct fw_circuit net = farm();
    struct fw_circuit_answer whole = solved(&net);
    for (size_t i = 0; i < net.section_count; i++)
        for (int k = 0; k < 4; k++) {
            const struct fw_circuit_station place = {
                i, net.sections[i].length_m * k / 3};
            struct fw_circuit split = {0};
            must(fw_circuit_short(&net, place, 1e12, &split, NULL), NULL);
            struct fw_circuit_answer answer = solved(&split);
            const struct fw_circuit_volts inside =
                at(&net, &whole, i, place.at_m);
            const struct fw_circuit_volts node =
                answer.nodes[net.node_count].volts;
            if (net.sections[i].length_m > 0) {
                assert_relative(inside.open_v, node.open_v, 1e-7);
                assert_relative(inside.thevenin_ohm, node.thevenin_ohm, 1e-7);
            }
            fw_circuit_answer_release(&answer);
            fw_circuit_release(&split);
        }
    fw_circuit_answer_release(&whole);
    fw_circuit_release(&net);
}

/* Fed at both ends, at one of them through a joint: the least on a tester is
 * between them, nearer to the joint, or there where a wire lies on the ground;
 * by steps of a hundredth of a per cent. */
static void least_on_a_tester_is_between_unlike_ends(void **state)
{
    (void)state;
    static const double lengths_m[] = {50, 600, 3000},
                        joints_ohm[] = {0.5, 300};
    size_t inside = 0;
    for (size_t k = 0; k < 12; k++) {
        struct fw_circuit net = {0};
        const double length_m = lengths_m[k / 4];
        add(&net, 0, 1, length_m, 3.82, 5 * wet_s);
        add_plain(&net, 0, 1, joints_ohm[k % 2]);
        if (k % 4 > 1)
            must(fw_circuit_add_shunt(&net, 1, 20, NULL), NULL);
        feed(&net, 0);
        struct fw_circuit_answer answer = solved(&net);
        const struct fw_circuit_section_answer *section = &answer.sections[0];
        double least_v = 1e9, least_m = 0;
        for (int i = 0; i <= 10000; i++) {
            const double at_m = length_m * i / 10000;
            const double open_v = at(&net, &answer, 0, at_m).open_v;
            least_m = open_v < least_v ? at_m : least_m;
            least_v = fmin(least_v, open_v);
        }
        assert_near(section->least_open_m, least_m, length_m / 9000);
        assert_true(section->least_open.open_v <= least_v * (1 + 1e-12));
        assert_relative(section->least_open.open_v, least_v, 1e-6);
        inside += least_m > 0.55 * length_m && least_m < 0.99 * length_m;
        fw_circuit_answer_release(&answer);
        fw_circuit_release(&net);
    }
    assert_true(inside >= 2);
}

static void no_place_is_below_the_least(void **state)
{
    (void)state;
    struct fw_circuit net = farm();
    struct fw_circuit_answer answer = solved(&net);
    bool inside = false;
    for (size_t i = 0; i < net.section_count; i++) {
        const struct fw_circuit_section_answer *section = &answer.sections[i];
        const double length_m = net.sections[i].length_m;
        double touched_v = 1e9, open_v = 1e9;
        for (int k = 0; k <= 10000 && length_m > 0; k++) {
            const struct fw_circuit_volts here =
                at(&net, &answer, i, length_m * k / 10000);
            touched_v = fmin(touched_v, here.touched_v);
            open_v = fmin(open_v, here.open_v);
        }
        if (length_m > 0) {
            assert_true(section->least_touched.touched_v <=
                        touched_v * (1 + 1e-12));
            assert_relative(section->least_touched.touched_v, touched_v, 1e-7);
            assert_true(section->least_open.open_v <= open_v * (1 + 1e-12));
            assert_relative(section->least_open.open_v, open_v, 1e-7);
            assert_relative(
                at(&net, &answer, i, section->least_touched_m).touched_v,
                section->least_touched.touched_v, 1e-12);
        }
        inside = inside || (section->least_touched_m > 1 &&
                            section->least_touched_m < length_m - 1);
    }
    assert_true(inside);
    fw_circuit_answer_release(&answer);
    fw_circuit_release(&net);
}

/* With so little body the touched volts rise, dip and rise again between two
 * ends of which the first is lower: the dip lies inside all the same. */
static void dip_behind_a_rise_is_found(void **state)
{
    (void)state;
    struct fw_circuit net = {.body_ohm = 4.02203};
    const double length_m = 100, wire_ohm = 19265, u = 2.90434;
    add(&net, 0, 1, length_m, wire_ohm / length_m, u * u / wire_ohm / length_m);
    add_plain(&net, 2, 0, 43640.9);
    add_plain(&net, 2, 1, 90.2687);
    add_plain(&net, 0, 1, 63689.4);
    must(fw_circuit_add_shunt(&net, 0, 1 / 5.36312e-06, NULL), NULL);
    must(fw_circuit_add_shunt(&net, 1, 1 / 0.00739462, NULL), NULL);
    must(fw_circuit_add_shunt(&net, 2, 1 / 4.29366e-07, NULL), NULL);
    const struct fw_circuit_source source = {2, 8000, 37.4673, 0};
    must(fw_circuit_set_source(&net, &source, NULL), NULL);
    struct fw_circuit_answer answer = solved(&net);
    const struct fw_circuit_section_answer *line = &answer.sections[0];
    assert_true(at(&net, &answer, 0, 0.5).touched_v >
                at(&net, &answer, 0, 0).touched_v);
    assert_true(line->least_touched_m > 1 && line->least_touched_m < 99);
    for (int k = 0; k <= 1000; k++)
        assert_true(at(&net, &answer, 0, 0.1 * k).touched_v >=
                    line->least_touched.touched_v * (1 - 1e-12));
    fw_circuit_answer_release(&answer);
    fw_circuit_release(&net);
}

static void energy_in_is_energy_lost(void **state)
{
    (void)state;
    struct fw_circuit net = farm();
    struct fw_circuit_answer answer = solved(&net);
    const struct fw_circuit_losses lost = fw_circuit_losses(&net, &answer);
    assert_relative(lost.sections_w + lost.shunts_w + lost.internal_w +
                        lost.earth_w,
                    lost.source_w, 1e-12);
    assert_true(lost.sections_w > 0 && lost.shunts_w > 0);
    /* What comes into a node goes out of it, to earth by its shunt alone. */
    double into_a[6] = {answer.source_a};
    into_a[3] -= answer.nodes[3].volts.open_v / 20000;
    for (size_t i = 0; i < net.section_count; i++) {
        into_a[net.sections[i].a] -= answer.sections[i].in_a;
        into_a[net.sections[i].b] += answer.sections[i].out_a;
    }
    for (size_t i = 0; i < 6; i++)
        assert_near(into_a[i], 0, 1e-11);
    fw_circuit_answer_release(&answer);
    fw_circuit_release(&net);
}

/* A body that is put there as a shunt brings its node to the touched volts. */
static void touched_volts_are_those_with_the_body_there(void **state)
{
    (void)state;
    struct fw_circuit net = farm();
    net.body_ohm = 730;
    struct fw_circuit_answer answer = solved(&net);
    for (size_t i = 0; i < net.node_count; i++) {
        struct fw_circuit touched = {0};
        must(fw_circuit_copy(&net, &touched, NULL), NULL);
        must(fw_circuit_add_shunt(&touched, i, 730, NULL), NULL);
        struct fw_circuit_answer with = solved(&touched);
        assert_relative(with.nodes[i].volts.open_v,
                        answer.nodes[i].volts.touched_v, 1e-12);
        fw_circuit_answer_release(&with);
        fw_circuit_release(&touched);
    }
    fw_circuit_answer_release(&answer);
    fw_circuit_release(&net);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(lines_agree_with_the_leaky_line),
        cmocka_unit_test(runs_agree_with_the_worked_circuits),
        cmocka_unit_test(longest_dry_run_has_just_its_touched_volts),
        cmocka_unit_test(extreme_lines_stay_well_behaved),
        cmocka_unit_test(drowned_ring_has_nothing_left_in_the_middle),
        cmocka_unit_test(wire_without_resistance_is_one_node_that_leaks),
        cmocka_unit_test(bonded_strands_feel_three_times_as_thick),
        cmocka_unit_test(feeding_in_the_middle_lifts_the_far_end),
        cmocka_unit_test(ring_is_weakest_half_way_round),
        cmocka_unit_test(place_inside_is_as_a_node_there),
        cmocka_unit_test(least_on_a_tester_is_between_unlike_ends),
        cmocka_unit_test(no_place_is_below_the_least),
        cmocka_unit_test(dip_behind_a_rise_is_found),
        cmocka_unit_test(energy_in_is_energy_lost),
        cmocka_unit_test(touched_volts_are_those_with_the_body_there),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
