#include "table.h"
#include <foldwright/circuit.h>

static const double clean_s = 1 / (5000 * 1e3), wet_s = 1 / (500 * 1e3);

static void must(enum fw_status status, const struct fw_error *err)
{
    if (status)
        fail_msg("%s", err ? err->text : "refused");
}

static void add(struct fw_circuit *net, size_t a, size_t b, double length_m,
                double ohm_m, double siemens_m)
{
    const struct fw_circuit_section section = {a,     b,         length_m,
                                               ohm_m, siemens_m, 0};
    must(fw_circuit_add_section(net, &section, NULL), NULL);
    const size_t last = a > b ? a : b;
    if (net->node_count <= last)
        net->node_count = last + 1;
}

static void add_plain(struct fw_circuit *net, size_t a, size_t b, double ohm)
{
    add(net, a, b, 0, 0, 0);
    net->sections[net->section_count - 1].ohm = ohm;
}

/* 8,000 V behind 300 and 20 ohm. */
static void feed(struct fw_circuit *net, size_t node)
{
    const struct fw_circuit_source source = {node, 8000, 300, 20};
    must(fw_circuit_set_source(net, &source, NULL), NULL);
}

static struct fw_circuit_answer solved(const struct fw_circuit *net)
{
    struct fw_circuit_answer answer = {0};
    struct fw_error err = {0};
    must(fw_circuit_solve(net, &answer, &err), &err);
    return answer;
}

static struct fw_circuit_volts at(const struct fw_circuit *net,
                                  const struct fw_circuit_answer *answer,
                                  size_t section, double at_m)
{
    struct fw_circuit_volts volts = {0};
    struct fw_error err = {0};
    must(fw_circuit_at(net, answer, (struct fw_circuit_place){section, at_m},
                       &volts, &err),
         &err);
    return volts;
}

/* A ring of three sides with a spur, a joint and a fallen wire. */
static struct fw_circuit farm(void)
{
    struct fw_circuit net = {0};
    add(&net, 0, 1, 300, 3.82, wet_s);
    add(&net, 1, 2, 250, 1.91, clean_s);
    add(&net, 2, 0, 400, 0.116, clean_s);
    add(&net, 2, 3, 150, 3.82, wet_s);
    add_plain(&net, 1, 4, 700);
    add(&net, 4, 5, 60, 0.035, 10 * wet_s);
    must(fw_circuit_add_shunt(&net, 3, 20000, NULL), NULL);
    feed(&net, 0);
    return net;
}

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
            const struct fw_circuit_place place = {i, net.sections[i].length_m *
                                                          k / 3};
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

/* ---- faults ---- */

static void broken_wire_is_dead_beyond_the_break(void **state)
{
    (void)state;
    struct fw_circuit net = {0}, broken = {0}, stub = {0};
    add(&net, 0, 1, 400, 3.82, wet_s);
    add(&net, 1, 2, 100, 3.82, wet_s);
    feed(&net, 0);
    const struct fw_circuit_place fault = {0, 150};
    must(fw_circuit_break(&net, fault, &broken, NULL), NULL);
    struct fw_circuit_answer answer = solved(&broken);
    add(&stub, 0, 1, 150, 3.82, wet_s);
    feed(&stub, 0);
    struct fw_circuit_answer short_fence = solved(&stub);

    const double places_m[] = {0, 100, 150, 151, 400};
    for (size_t i = 0; i < 5; i++) {
        const struct fw_circuit_place there = fw_circuit_place_in(
            &broken, fault, (struct fw_circuit_place){0, places_m[i]});
        const struct fw_circuit_volts volts =
            at(&broken, &answer, there.section, there.at_m);
        assert_true((volts.open_v > 0) == (places_m[i] <= 150));
        if (places_m[i] <= 150)
            assert_relative(volts.open_v,
                            at(&stub, &short_fence, 0, places_m[i]).open_v,
                            1e-12);
    }
    assert_false(answer.nodes[1].live);
    assert_false(answer.sections[1].live);
    assert_near(answer.nodes[2].volts.touched_v, 0, 0);
    assert_true(isinf(answer.nodes[2].volts.thevenin_ohm));
    assert_int_equal(net.section_count, 2);
    fw_circuit_answer_release(&answer);
    fw_circuit_answer_release(&short_fence);
    fw_circuit_release(&net);
    fw_circuit_release(&broken);
    fw_circuit_release(&stub);
}

static void broken_ring_stays_live_from_the_other_side(void **state)
{
    (void)state;
    struct fw_circuit net = farm(), broken = {0};
    must(fw_circuit_break(&net, (struct fw_circuit_place){0, 100}, &broken,
                          NULL),
         NULL);
    struct fw_circuit_answer before = solved(&net), after = solved(&broken);
    for (size_t i = 0; i < broken.node_count; i++)
        assert_true(after.nodes[i].live);
    assert_true(after.nodes[1].volts.touched_v <
                before.nodes[1].volts.touched_v);
    fw_circuit_answer_release(&before);
    fw_circuit_answer_release(&after);
    fw_circuit_release(&net);
    fw_circuit_release(&broken);
}

/* A line without leakage into a short is a divider of two. */
static void short_pulls_its_place_down(void **state)
{
    (void)state;
    struct fw_circuit net = {0}, shorted = {0};
    add(&net, 0, 1, 400, 2, 0);
    feed(&net, 0);
    const struct fw_circuit_place fault = {0, 240};
    must(fw_circuit_short(&net, fault, 200, &shorted, NULL), NULL);
    struct fw_circuit_answer answer = solved(&shorted);
    const double amps = 8000 / (300 + 20 + 480 + 200.0);
    assert_relative(answer.source_a, amps, 1e-12);
    assert_relative(at(&shorted, &answer, 0, 240).open_v, 200 * amps, 1e-12);
    const struct fw_circuit_place beyond =
        fw_circuit_place_in(&shorted, fault, (struct fw_circuit_place){0, 399});
    assert_int_equal(beyond.section, 1);
    assert_relative(at(&shorted, &answer, 1, beyond.at_m).open_v, 200 * amps,
                    1e-12);
    fw_circuit_answer_release(&answer);
    fw_circuit_release(&shorted);

    must(fw_circuit_short(&net, fault, 0, &shorted, NULL), NULL);
    answer = solved(&shorted);
    assert_near(at(&shorted, &answer, 0, 240).open_v, 0, 1e-4);
    fw_circuit_answer_release(&answer);
    fw_circuit_release(&shorted);
    fw_circuit_release(&net);
}

/* ---- readings ---- */

static const struct fw_circuit_place places[] = {
    {0, 0}, {3, 150}, {1, 100}, {0, 200}, {5, 60}};

/* What a fence with that leakage and earth shows, and so many volts off. */
static void readings_of(const struct fw_circuit *net, double factor,
                        double earth_ohm, const double *off_v, size_t count,
                        struct fw_circuit_reading *out)
{
    struct fw_circuit real = {0};
    const struct fw_circuit_fit truth = {.leakage_factor = factor,
                                         .earth_ohm = earth_ohm};
    must(fw_circuit_fitted(net, &truth, &real, NULL), NULL);
    struct fw_circuit_answer answer = solved(&real);
    for (size_t i = 0; i < count; i++)
        out[i] = (struct fw_circuit_reading){
            places[i],
            at(&real, &answer, places[i].section, places[i].at_m).open_v +
                (off_v ? off_v[i] : 0)};
    fw_circuit_answer_release(&answer);
    fw_circuit_release(&real);
}

static struct fw_circuit_fit fitted(const struct fw_circuit *net,
                                    const struct fw_circuit_reading *readings,
                                    size_t count)
{
    struct fw_circuit_fit fit = {0};
    struct fw_error err = {0};
    must(fw_circuit_fit(net, readings, count, &fit, &err), &err);
    return fit;
}

static void readings_give_back_leakage_and_earth(void **state)
{
    (void)state;
    struct fw_circuit net = farm();
    const double factors[] = {0.02, 0.3, 1, 4, 50};
    const double earths_ohm[] = {2, 20, 150, 2000};
    for (size_t f = 0; f < 5; f++)
        for (size_t e = 0; e < 4; e++) {
            struct fw_circuit_reading readings[5];
            readings_of(&net, factors[f], earths_ohm[e], NULL, 5, readings);
            const struct fw_circuit_fit fit = fitted(&net, readings, 5);
            assert_int_equal(fit.unknowns, 2);
            assert_relative(fit.leakage_factor, factors[f], 1e-6);
            assert_relative(fit.earth_ohm, earths_ohm[e], 1e-5);
            assert_true(fit.spread_known);
            assert_near(fit.misfit_v, 0, 1e-4);
            assert_false(fit.at_bound);
            const struct fw_circuit_fit two = fitted(&net, readings, 2);
            assert_relative(two.leakage_factor, factors[f], 1e-5);
            assert_false(two.spread_known);
        }
    fw_circuit_release(&net);
}

static void one_reading_gives_the_leakage_alone(void **state)
{
    (void)state;
    struct fw_circuit net = farm();
    struct fw_circuit_reading readings[2];
    readings_of(&net, 2.5, 20, NULL, 2, readings);
    struct fw_circuit_fit fit = fitted(&net, readings + 1, 1);
    assert_int_equal(fit.unknowns, 1);
    assert_relative(fit.leakage_factor, 2.5, 1e-8);
    assert_near(fit.earth_ohm, 20, 0);
    assert_false(fit.spread_known);
    assert_near(fit.leakage_spread, 0, 0);

    /* Twice at one place: still one unknown, with a spread now. */
    readings[0] = readings[1];
    readings[0].open_v += 100;
    fit = fitted(&net, readings, 2);
    assert_int_equal(fit.unknowns, 1);
    assert_true(fit.spread_known);
    assert_relative(fit.misfit_v, 50, 1e-6);
    fw_circuit_release(&net);
}

/* The spread by hand: slopes by wide differences of the model itself, the
 * covariance as the inverse of the normal matrix times the variance. */
static void spread_agrees_with_the_normal_equations(void **state)
{
    (void)state;
    struct fw_circuit net = farm();
    const double off_v[5] = {40, -60, 30, -20, 50};
    struct fw_circuit_reading readings[5], up[5], down[5], model[5];
    readings_of(&net, 1.7, 60, off_v, 5, readings);
    const struct fw_circuit_fit fit = fitted(&net, readings, 5);
    const double k = fit.leakage_factor, e = fit.earth_ohm;
    double slopes[2][5], normal[2][2] = {{0}}, sum = 0;
    readings_of(&net, k, e, NULL, 5, model);
    readings_of(&net, k * 1.001, e, NULL, 5, up);
    readings_of(&net, k * 0.999, e, NULL, 5, down);
    for (size_t i = 0; i < 5; i++)
        slopes[0][i] = (up[i].open_v - down[i].open_v) / (0.002 * k);
    readings_of(&net, k, e * 1.001, NULL, 5, up);
    readings_of(&net, k, e * 0.999, NULL, 5, down);
    for (size_t i = 0; i < 5; i++) {
        slopes[1][i] = (up[i].open_v - down[i].open_v) / (0.002 * e);
        const double left_v = readings[i].open_v - model[i].open_v;
        sum += left_v * left_v;
        for (size_t a = 0; a < 2; a++)
            for (size_t b = 0; b < 2; b++)
                normal[a][b] += slopes[a][i] * slopes[b][i];
    }
    /* Nothing is left to gain at the fit. */
    for (size_t a = 0; a < 2; a++) {
        double down_hill = 0;
        for (size_t i = 0; i < 5; i++)
            down_hill += slopes[a][i] * (readings[i].open_v - model[i].open_v);
        assert_near(down_hill / sqrt(normal[a][a] * sum), 0, 1e-5);
    }
    const double det =
        normal[0][0] * normal[1][1] - normal[0][1] * normal[1][0];
    const double variance = sum / 3;
    assert_relative(fit.misfit_v, sqrt(sum / 5), 1e-6);
    assert_relative(fit.leakage_spread, sqrt(variance * normal[1][1] / det),
                    1e-4);
    assert_relative(fit.earth_spread_ohm, sqrt(variance * normal[0][0] / det),
                    1e-4);
    fw_circuit_release(&net);
}

static void fit_that_leaves_the_bounds_says_so(void **state)
{
    (void)state;
    struct fw_circuit net = farm();
    const struct fw_circuit_reading full = {{3, 100}, 8000},
                                    faint = {{3, 100}, 1e-3};
    struct fw_circuit_fit fit = fitted(&net, &full, 1);
    assert_true(fit.at_bound);
    assert_relative(fit.leakage_factor, 1e-3, 1e-12);
    fit = fitted(&net, &faint, 1);
    assert_true(fit.at_bound);
    assert_relative(fit.leakage_factor, 1e3, 1e-12);
    fw_circuit_release(&net);
}

static void reading_refused(struct fw_circuit_reading reading, size_t count,
                            const char *words)
{
    struct fw_circuit net = farm();
    struct fw_circuit_fit fit = {.unknowns = 99};
    struct fw_error err = {0};
    assert_int_equal(fw_circuit_fit(&net, &reading, count, &fit, &err),
                     FW_EINPUT);
    if (!strstr(err.text, words))
        fail_msg("\"%s\" does not say \"%s\"", err.text, words);
    assert_int_equal(fit.unknowns, 99);
    fw_circuit_release(&net);
}

static void readings_that_cannot_be_are_refused(void **state)
{
    (void)state;
    const struct fw_circuit_place place = {0, 100};
    reading_refused((struct fw_circuit_reading){place, 8001}, 1,
                    "reading 1 is 8001 V");
    reading_refused((struct fw_circuit_reading){place, -3}, 1, "-3 V");
    reading_refused((struct fw_circuit_reading){place, 0}, 1, "broken wire");
    reading_refused((struct fw_circuit_reading){place, (double)NAN}, 1,
                    "nan V");
    reading_refused((struct fw_circuit_reading){{0, 301}, 4000}, 1,
                    "reading 1: section 0: the place along it is 301 m");
    reading_refused((struct fw_circuit_reading){{9, 1}, 4000}, 1,
                    "section 9 is not in the network");
    reading_refused((struct fw_circuit_reading){place, 4000}, 0, "0 readings");

    struct fw_circuit dry = {0}, broken = {0};
    add(&dry, 0, 1, 100, 1, 0);
    feed(&dry, 0);
    struct fw_circuit_reading reading = {{0, 50}, 4000};
    struct fw_circuit_fit fit;
    struct fw_error err = {0};
    assert_int_equal(fw_circuit_fit(&dry, &reading, 1, &fit, &err), FW_EINPUT);
    assert_non_null(strstr(err.text, "no section leaks"));
    dry.sections[0].siemens_m = clean_s;
    must(
        fw_circuit_break(&dry, (struct fw_circuit_place){0, 20}, &broken, NULL),
        NULL);
    reading.place = (struct fw_circuit_place){1, 50};
    assert_int_equal(fw_circuit_fit(&broken, &reading, 1, &fit, &err),
                     FW_EINPUT);
    assert_non_null(strstr(err.text, "no path"));
    fw_circuit_release(&dry);
    fw_circuit_release(&broken);
}

/* ---- bad networks ---- */

static void refused(struct fw_circuit *net, const char *words)
{
    struct fw_circuit_answer answer = {.node_count = 99};
    struct fw_error err = {0};
    assert_int_equal(fw_circuit_solve(net, &answer, &err), FW_EINPUT);
    if (!strstr(err.text, words))
        fail_msg("\"%s\" does not say \"%s\"", err.text, words);
    assert_int_equal(answer.node_count, 99);
    fw_circuit_release(net);
}

static void values_that_cannot_be_are_refused(void **state)
{
    (void)state;
    const double bad[] = {-1, (double)NAN, (double)INFINITY};
    for (size_t i = 0; i < 3; i++) {
        struct fw_circuit net = farm();
        net.sections[1].ohm_m = bad[i];
        refused(&net, "section 1 (node 1 to node 2): resistance of the wire");
        net = farm();
        net.sections[2].length_m = bad[i];
        refused(&net, "section 2 (node 2 to node 0): length");
        net = farm();
        net.sections[3].siemens_m = bad[i];
        refused(&net, "section 3 (node 2 to node 3): leakage");
        net = farm();
        net.sections[4].ohm = bad[i];
        refused(&net, "section 4 (node 1 to node 4): resistance");
        net = farm();
        net.shunts[0].ohm = bad[i];
        refused(&net, "shunt 0: resistance to earth");
        net = farm();
        net.source.open_v = bad[i];
        refused(&net, "energizer: open voltage");
        net = farm();
        net.source.internal_ohm = bad[i];
        refused(&net, "energizer: internal resistance");
        net = farm();
        net.source.earth_ohm = bad[i];
        refused(&net, "energizer: earth resistance");
        net = farm();
        net.body_ohm = bad[i];
        refused(&net, "resistance of the body");
    }
    struct fw_circuit net = farm();
    net.sections[0].ohm = 3;
    refused(&net, "make two sections");
}

static void nodes_out_of_range_are_refused(void **state)
{
    (void)state;
    struct fw_circuit net = farm();
    net.sections[2].b = 6;
    refused(&net, "node 6 is not in the network; its nodes are 0 to 5");
    net = farm();
    net.shunts[0].node = 7;
    refused(&net, "shunt 0: node 7");
    net = farm();
    net.source.node = 8;
    refused(&net, "energizer: node 8");
    net = farm();
    net.node_count = 0;
    refused(&net, "0 nodes");
    net = farm();
    net.node_count = FW_CIRCUIT_MOST_NODES + 1;
    refused(&net, "5001 nodes");
}

static void one_energizer_and_no_more(void **state)
{
    (void)state;
    struct fw_circuit net = farm();
    struct fw_error err = {0};
    const struct fw_circuit_source second = {2, 9000, 300, 20};
    assert_int_equal(fw_circuit_set_source(&net, &second, &err), FW_EINPUT);
    assert_non_null(strstr(err.text, "second energizer at node 2"));
    assert_near(net.source.open_v, 8000, 0);
    net.has_source = false;
    refused(&net, "no energizer");
}

static void part_without_a_path_is_named(void **state)
{
    (void)state;
    struct fw_circuit net = farm();
    add(&net, 6, 7, 100, 1, clean_s);
    refused(&net, "node 6 and section 6 on it have no path to the energizer at "
                  "node 0, one of 2 such nodes");
    net = farm();
    net.node_count = 7;
    refused(&net, "node 6, with no section on it");

    net = farm();
    add(&net, 6, 7, 100, 1, clean_s);
    net.dead_parts = true;
    struct fw_circuit_answer answer = solved(&net);
    assert_true(answer.nodes[5].live && !answer.nodes[6].live);
    assert_false(answer.sections[6].live);
    assert_near(at(&net, &answer, 6, 50).open_v, 0, 0);
    fw_circuit_answer_release(&answer);
    fw_circuit_release(&net);
}

static void questions_that_do_not_fit_are_refused(void **state)
{
    (void)state;
    struct fw_circuit net = farm();
    struct fw_circuit_answer answer = solved(&net);
    struct fw_circuit_volts volts = {.open_v = 99};
    struct fw_circuit out = {0};
    struct fw_error err = {0};
    const struct fw_circuit_place beyond = {0, 300.5}, good = {0, 10};
    assert_int_equal(fw_circuit_at(&net, &answer, beyond, &volts, &err),
                     FW_EINPUT);
    assert_non_null(strstr(err.text, "300.5 m; expected 0 to 300"));
    assert_int_equal(fw_circuit_break(&net, beyond, &out, &err), FW_EINPUT);
    assert_int_equal(fw_circuit_short(&net, beyond, 1, &out, &err), FW_EINPUT);
    assert_int_equal(fw_circuit_short(&net, good, -1, &out, &err), FW_EINPUT);
    assert_int_equal(fw_circuit_short(&net, good, (double)NAN, &out, &err),
                     FW_EINPUT);
    assert_null(out.sections);
    add(&net, 0, 3, 10, 1, clean_s);
    assert_int_equal(fw_circuit_at(&net, &answer, good, &volts, &err),
                     FW_EUSAGE);
    assert_near(volts.open_v, 99, 0);
    fw_circuit_answer_release(&answer);
    fw_circuit_release(&net);

    struct fw_circuit_run_volts far;
    const struct fw_circuit_run run = {
        .length_m = 100, .ohm_m = 1, .open_v = 8000};
    assert_int_equal(fw_circuit_run(&run, &far, &err), FW_EINPUT);
    assert_non_null(strstr(err.text, "leakage is 0 ohm km"));
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
        cmocka_unit_test(no_place_is_below_the_least),
        cmocka_unit_test(dip_behind_a_rise_is_found),
        cmocka_unit_test(energy_in_is_energy_lost),
        cmocka_unit_test(touched_volts_are_those_with_the_body_there),
        cmocka_unit_test(broken_wire_is_dead_beyond_the_break),
        cmocka_unit_test(broken_ring_stays_live_from_the_other_side),
        cmocka_unit_test(short_pulls_its_place_down),
        cmocka_unit_test(readings_give_back_leakage_and_earth),
        cmocka_unit_test(one_reading_gives_the_leakage_alone),
        cmocka_unit_test(spread_agrees_with_the_normal_equations),
        cmocka_unit_test(fit_that_leaves_the_bounds_says_so),
        cmocka_unit_test(readings_that_cannot_be_are_refused),
        cmocka_unit_test(values_that_cannot_be_are_refused),
        cmocka_unit_test(nodes_out_of_range_are_refused),
        cmocka_unit_test(one_energizer_and_no_more),
        cmocka_unit_test(part_without_a_path_is_named),
        cmocka_unit_test(questions_that_do_not_fit_are_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
