/* A wire as the return of the current: closed forms of loops. */
#include "power/circuit_use.h"
#include "test.h"

#include <string.h>

static const double open_v = 9000, internal_ohm = 400, rods_ohm = 120;
static const double hot_ohm_m = 3.82, earth_ohm_m = 1.2, run_m = 300;

/* Hot from node 0 to 1, earth from 2 to 3, side by side. */
static struct fw_circuit run(struct fw_circuit_section sections[2],
                             struct fw_circuit_pair *pair, double siemens_m)
{
    sections[0] =
        (struct fw_circuit_section){0, 1, run_m, hot_ohm_m, siemens_m, 0};
    sections[1] =
        (struct fw_circuit_section){2, 3, run_m, earth_ohm_m, siemens_m, 0};
    *pair = (struct fw_circuit_pair){0, 1};
    return (struct fw_circuit){.node_count = 4,
                               .sections = sections,
                               .section_count = 2,
                               .source = {0, open_v, internal_ohm, rods_ohm},
                               .has_source = true,
                               .hooves_ohm = 800,
                               .earth_return = true,
                               .earth_node = 2,
                               .pairs = pair,
                               .pair_count = 1};
}

static struct fw_circuit_answer solved(const struct fw_circuit *net)
{
    struct fw_error err;
    struct fw_circuit_answer answer;
    if (fw_circuit_solve(net, &answer, &err))
        fail_msg("%s", err.text);
    return answer;
}

/* Nothing leaks: the loop of both wires has no part in the ground, and that of
 * one wire goes through hooves and rods and nothing of the earth strand. */
static void a_clean_run_is_a_loop_in_series(void **state)
{
    (void)state;
    struct fw_circuit_section sections[2];
    struct fw_circuit_pair pair;
    const struct fw_circuit net = run(sections, &pair, 0);
    struct fw_circuit_answer answer = solved(&net);
    for (int m = 0; m <= 300; m += 50) {
        struct fw_circuit_volts both, one;
        assert_int_equal(fw_circuit_across(&net, &answer, 0, m, &both, NULL),
                         FW_OK);
        assert_relative(both.open_v, open_v, 1e-12);
        assert_relative(
            both.touched_v,
            open_v * 500 / (500 + internal_ohm + m * (hot_ohm_m + earth_ohm_m)),
            1e-10);
        const struct fw_circuit_station place = {0, m};
        assert_int_equal(fw_circuit_at(&net, &answer, place, &one, NULL),
                         FW_OK);
        assert_relative(
            one.touched_v,
            open_v * 500 /
                (500 + 800 + internal_ohm + rods_ohm + m * hot_ohm_m),
            1e-10);
    }
    assert_near(answer.source_a, 0, 1e-9);
    assert_near(answer.rods_v, 0, 1e-9);
    assert_near(answer.pairs[0].least_touched_m, run_m, 1e-6);
    fw_circuit_answer_release(&answer);
}

/* Both wires alike and the rods away: between them lies a line of twice the
 * ohms and half the leak, whose closed form is known. */
static void a_balanced_run_is_a_leaky_line_of_its_own(void **state)
{
    (void)state;
    struct fw_circuit_section sections[2];
    struct fw_circuit_pair pair;
    struct fw_circuit net = run(sections, &pair, 1e-6);
    sections[0].ohm_m = sections[1].ohm_m = 2;
    net.source.earth_ohm = 1e11;
    struct fw_circuit_answer answer = solved(&net);
    const double r = 4, g = 0.5e-6, gamma = sqrt(r * g), u = gamma * run_m;
    const double zin = sqrt(r / g) / tanh(u);
    const double near_v = open_v * zin / (zin + internal_ohm);
    struct fw_circuit_volts far;
    fw_circuit_across(&net, &answer, 0, run_m, &far, NULL);
    assert_relative(far.open_v, near_v / cosh(u), 1e-6);
    const double t = tanh(u), z0 = sqrt(r / g);
    const double thevenin =
        z0 * (internal_ohm + z0 * t) / (z0 + internal_ohm * t);
    assert_relative(far.thevenin_ohm, thevenin, 1e-6);
    assert_relative(answer.load_ohm, zin, 1e-6);
    fw_circuit_answer_release(&answer);
}

/* Earth strand and rods are one node: the ground and it are the same then, and
 * the sum is the one without a return. */
static void rods_without_ohms_leave_the_ground_as_the_return(void **state)
{
    (void)state;
    struct fw_circuit_section sections[2];
    struct fw_circuit_pair pair;
    struct fw_circuit net = run(sections, &pair, 1e-6);
    net.source.earth_ohm = 0;
    struct fw_circuit_answer answer = solved(&net);
    struct fw_circuit_section alone = sections[0];
    const struct fw_circuit plain = {.node_count = 2,
                                     .sections = &alone,
                                     .section_count = 1,
                                     .source = {0, open_v, internal_ohm, 0},
                                     .hooves_ohm = 800,
                                     .has_source = true};
    struct fw_circuit_answer other = solved(&plain);
    for (int i = 0; i < 2; i++) {
        assert_relative(answer.nodes[i].volts.open_v,
                        other.nodes[i].volts.open_v, 1e-6);
        assert_relative(answer.nodes[i].volts.touched_v,
                        other.nodes[i].volts.touched_v, 1e-6);
    }
    fw_circuit_answer_release(&answer);
    fw_circuit_answer_release(&other);
}

static void what_cannot_be_is_refused(void **state)
{
    (void)state;
    struct fw_circuit_section sections[2];
    struct fw_circuit_pair pair;
    struct fw_circuit_answer answer;
    struct fw_error err;
    struct fw_circuit net = run(sections, &pair, 0);
    net.earth_node = 0;
    assert_int_equal(fw_circuit_solve(&net, &answer, &err), FW_EINPUT);
    assert_non_null(strstr(err.text, "two terminals are one node"));
    net.earth_node = 4;
    assert_int_equal(fw_circuit_solve(&net, &answer, &err), FW_EINPUT);
    net.earth_node = 2;
    pair.earth = 2;
    assert_int_equal(fw_circuit_solve(&net, &answer, &err), FW_EINPUT);
    assert_non_null(strstr(err.text, "pair 0"));
    pair.earth = 0;
    assert_int_equal(fw_circuit_solve(&net, &answer, &err), FW_EINPUT);
    pair.earth = 1;
    sections[1].length_m = 299;
    assert_int_equal(fw_circuit_solve(&net, &answer, &err), FW_EINPUT);
    assert_non_null(strstr(err.text, "expected one length"));
    sections[1].length_m = run_m;
    net.hooves_ohm = -1;
    assert_int_equal(fw_circuit_solve(&net, &answer, &err), FW_EINPUT);
    net.hooves_ohm = 0;
    struct fw_circuit_volts out;
    answer = solved(&net);
    assert_int_equal(fw_circuit_across(&net, &answer, 1, 0, &out, &err),
                     FW_EINPUT);
    assert_non_null(
        strstr(err.text, "pair 1 is not in the network; it has 1 of them"));
    assert_int_equal(fw_circuit_across(&net, &answer, 0, 301, &out, &err),
                     FW_EINPUT);
    fw_circuit_answer_release(&answer);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_clean_run_is_a_loop_in_series),
        cmocka_unit_test(a_balanced_run_is_a_leaky_line_of_its_own),
        cmocka_unit_test(rods_without_ohms_leave_the_ground_as_the_return),
        cmocka_unit_test(what_cannot_be_is_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
