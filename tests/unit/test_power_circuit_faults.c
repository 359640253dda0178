#include "circuit_help.h"
#include <string.h>

/* ---- faults ---- */

static void broken_wire_is_dead_beyond_the_break(void **state)
{
    (void)state;
    struct fw_circuit net = {0}, broken = {0}, stub = {0};
    add(&net, 0, 1, 400, 3.82, wet_s);
    add(&net, 1, 2, 100, 3.82, wet_s);
    feed(&net, 0);
    const struct fw_circuit_station fault = {0, 150};
    must(fw_circuit_break(&net, fault, &broken, NULL), NULL);
    struct fw_circuit_answer answer = solved(&broken);
    add(&stub, 0, 1, 150, 3.82, wet_s);
    feed(&stub, 0);
    struct fw_circuit_answer short_fence = solved(&stub);

    const double places_m[] = {0, 100, 150, 151, 400};
    for (size_t i = 0; i < 5; i++) {
        const struct fw_circuit_station there = fw_circuit_place_in(
            &broken, fault, (struct fw_circuit_station){0, places_m[i]});
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
    must(fw_circuit_break(&net, (struct fw_circuit_station){0, 100}, &broken,
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
    const struct fw_circuit_station fault = {0, 240};
    must(fw_circuit_short(&net, fault, 200, &shorted, NULL), NULL);
    struct fw_circuit_answer answer = solved(&shorted);
    const double amps = 8000 / (300 + 20 + 480 + 200.0);
    assert_relative(answer.source_a, amps, 1e-12);
    assert_relative(at(&shorted, &answer, 0, 240).open_v, 200 * amps, 1e-12);
    const struct fw_circuit_station beyond = fw_circuit_place_in(
        &shorted, fault, (struct fw_circuit_station){0, 399});
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
    add(&net, 6, 7, 100, 1, clean_s);
    add(&net, 5, 8, 100, 1, clean_s); /* one that has, behind them */
    refused(&net, "node 6 and section 6 on it have no path to the energizer at "
                  "node 0, one of 2 such nodes");
    net = farm();
    net.node_count = 7;
    refused(&net, "node 6, with no section on it, has no path to the energizer "
                  "at node 0, one of 1 such nodes");

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
    const struct fw_circuit_station beyond = {0, 300.5}, good = {0, 10};
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
        cmocka_unit_test(broken_wire_is_dead_beyond_the_break),
        cmocka_unit_test(broken_ring_stays_live_from_the_other_side),
        cmocka_unit_test(short_pulls_its_place_down),
        cmocka_unit_test(values_that_cannot_be_are_refused),
        cmocka_unit_test(nodes_out_of_range_are_refused),
        cmocka_unit_test(one_energizer_and_no_more),
        cmocka_unit_test(part_without_a_path_is_named),
        cmocka_unit_test(questions_that_do_not_fit_are_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
