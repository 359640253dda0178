/* The circuit on random networks with loops, with a ladder as the slow judge:
 * ten thousand pi cells a line, multiplied out, and a dense solver with pivots
 * for the nodes. FW_SEED chooses other networks, FW_NETWORKS how many. */
#include "unit/test.h"

#include "power/circuit_use.h"

#include <stdlib.h>

enum { most_nodes = 40, most_sections = 60, cells = 10000, most_rows = 48 };

/* xorshift64*, so that the networks are the same everywhere. */
static double draw(uint64_t *seed)
{
    *seed ^= *seed >> 12;
    *seed ^= *seed << 25;
    *seed ^= *seed >> 27;
    return (double)((*seed * 2685821657736338717u) >> 11) / 9007199254740992.0;
}

static size_t draw_count(uint64_t *seed, size_t least, size_t most)
{
    return least + (size_t)(draw(seed) * (double)(most - least + 1));
}

/* As often in each decade. */
static double draw_wide(uint64_t *seed, double least, double most)
{
    return least * pow(most / least, draw(seed));
}

static void draw_section(struct fw_circuit *net, uint64_t *seed, size_t a,
                         size_t b)
{
    struct fw_circuit_section section = {.a = a, .b = b};
    if (draw(seed) < 0.1) {
        section.ohm = draw_wide(seed, 1, 1000);
    } else {
        section.length_m = draw_wide(seed, 5, 1500);
        section.ohm_m = draw_wide(seed, 0.03, 5);
        if (draw(seed) > 0.1)
            section.siemens_m =
                fw_circuit_siemens_m(draw_wide(seed, 200, 20000));
    }
    assert_int_equal(fw_circuit_add_section(net, &section, NULL), FW_OK);
}

/* A tree, up to ten sections more, some shunts, one source. */
static struct fw_circuit draw_network(uint64_t *seed)
{
    struct fw_circuit net = {.node_count = draw_count(seed, 2, most_nodes)};
    for (size_t i = 1; i < net.node_count; i++)
        draw_section(&net, seed, i, draw_count(seed, 0, i - 1));
    for (size_t loops = draw_count(seed, 0, 10); loops > 0; loops--)
        draw_section(&net, seed, draw_count(seed, 0, net.node_count - 1),
                     draw_count(seed, 0, net.node_count - 1));
    for (size_t shunts = draw_count(seed, 0, 3); shunts > 0; shunts--)
        assert_int_equal(
            fw_circuit_add_shunt(&net, draw_count(seed, 0, net.node_count - 1),
                                 draw_wide(seed, 50, 1e5), NULL),
            FW_OK);
    const struct fw_circuit_source source = {
        draw_count(seed, 0, net.node_count - 1), 8000,
        draw_wide(seed, 100, 1000), draw_wide(seed, 5, 500)};
    assert_int_equal(fw_circuit_set_source(&net, &source, NULL), FW_OK);
    return net;
}

/* ---- the judge ---- */

struct dense {
    size_t count;
    long double y[most_rows][most_rows];
    long double z[most_rows][most_rows];
};

static void dense_join(struct dense *dense, size_t a, size_t b,
                       long double siemens)
{
    dense->y[a][a] += siemens;
    dense->y[b][b] += siemens;
    dense->y[a][b] -= siemens;
    dense->y[b][a] -= siemens;
}

/* So many of the section's cells, as the chain matrix of one of them to a
 * power, cell by cell: volts and amps in are A V + B I and C V + D I. */
static void dense_ladder(struct dense *dense,
                         const struct fw_circuit_section *section, size_t a,
                         size_t b, int count)
{
    if (!(section->length_m > 0)) {
        dense_join(dense, a, b, 1 / (long double)section->ohm);
        return;
    }
    const long double cell_m = (long double)section->length_m / cells;
    const long double r = (long double)section->ohm_m * cell_m;
    const long double g = (long double)section->siemens_m * cell_m / 2;
    const long double cell[4] = {1 + r * g, r, g * (2 + r * g), 1 + r * g};
    long double all[4] = {1, 0, 0, 1};
    for (int i = 0; i < count; i++) {
        const long double next[4] = {all[0] * cell[0] + all[1] * cell[2],
                                     all[0] * cell[1] + all[1] * cell[3],
                                     all[2] * cell[0] + all[3] * cell[2],
                                     all[2] * cell[1] + all[3] * cell[3]};
        for (int k = 0; k < 4; k++)
            all[k] = next[k];
    }
    dense_join(dense, a, b, 1 / all[1]);
    dense->y[a][a] += (all[3] - 1) / all[1];
    dense->y[b][b] += (all[0] - 1) / all[1];
}

static void swap_rows(struct dense *dense, size_t a, size_t b)
{
    for (size_t k = 0; k < dense->count; k++) {
        const long double y = dense->y[a][k], z = dense->z[a][k];
        dense->y[a][k] = dense->y[b][k];
        dense->z[a][k] = dense->z[b][k];
        dense->y[b][k] = y;
        dense->z[b][k] = z;
    }
}

/* Gauss and Jordan with row pivots. */
static void dense_invert(struct dense *dense)
{
    const size_t n = dense->count;
    for (size_t i = 0; i < n; i++)
        for (size_t j = 0; j < n; j++)
            dense->z[i][j] = i == j;
    for (size_t k = 0; k < n; k++) {
        size_t pivot = k;
        for (size_t i = k; i < n; i++)
            if (fabsl(dense->y[i][k]) > fabsl(dense->y[pivot][k]))
                pivot = i;
        swap_rows(dense, k, pivot);
        const long double d = dense->y[k][k];
        for (size_t j = 0; j < n; j++) {
            dense->y[k][j] /= d;
            dense->z[k][j] /= d;
        }
        for (size_t i = 0; i < n; i++) {
            const long double f = dense->y[i][k];
            if (i == k || f == 0)
                continue;
            for (size_t j = 0; j < n; j++) {
                dense->y[i][j] -= f * dense->y[k][j];
                dense->z[i][j] -= f * dense->z[k][j];
            }
        }
    }
}

/* The node at `cell` of section `parted` is the last row. */
static void judge(const struct fw_circuit *net, size_t parted, int cell,
                  struct dense *dense)
{
    const size_t extra = net->node_count;
    *dense = (struct dense){.count = extra + 1};
    for (size_t i = 0; i < net->section_count; i++) {
        const struct fw_circuit_section *section = &net->sections[i];
        if (i != parted) {
            dense_ladder(dense, section, section->a, section->b, cells);
            continue;
        }
        dense_ladder(dense, section, section->a, extra, cell);
        dense_ladder(dense, section, extra, section->b, cells - cell);
    }
    for (size_t i = 0; i < net->shunt_count; i++)
        dense->y[net->shunts[i].node][net->shunts[i].node] +=
            1 / (long double)net->shunts[i].ohm;
    dense->y[net->source.node][net->source.node] +=
        1 / ((long double)net->source.internal_ohm +
             (long double)net->source.earth_ohm);
    dense_invert(dense);
}

static size_t first_line(const struct fw_circuit *net)
{
    size_t i = 0;
    while (i < net->section_count && !(net->sections[i].length_m > 0))
        i++;
    return i;
}

/* ---- the tests ---- */

static double setting(const char *name, double otherwise)
{
    const char *text = getenv(name);
    return text ? strtod(text, NULL) : otherwise;
}

static void agrees(const struct fw_circuit *net, const struct dense *dense,
                   size_t row, const struct fw_circuit_volts *got)
{
    const double drive_a =
        net->source.open_v / (net->source.internal_ohm + net->source.earth_ohm);
    const double open_v = (double)dense->z[row][net->source.node] * drive_a;
    const double ohm = (double)dense->z[row][row];
    assert_relative(got->open_v, open_v, 1e-5);
    assert_relative(got->thevenin_ohm, ohm, 1e-5);
    assert_relative(got->touched_v, open_v * 500 / (500 + ohm), 1e-5);
}

static void amps_balance(const struct fw_circuit *net,
                         const struct fw_circuit_answer *answer)
{
    double into_a[most_nodes] = {0};
    into_a[net->source.node] = answer->source_a;
    for (size_t i = 0; i < net->shunt_count; i++)
        into_a[net->shunts[i].node] -=
            answer->nodes[net->shunts[i].node].volts.open_v /
            net->shunts[i].ohm;
    for (size_t i = 0; i < net->section_count; i++) {
        into_a[net->sections[i].a] -= answer->sections[i].in_a;
        into_a[net->sections[i].b] += answer->sections[i].out_a;
    }
    for (size_t i = 0; i < net->node_count; i++)
        assert_near(into_a[i], 0, 1e-9);
}

static void energy_balances(const struct fw_circuit *net,
                            const struct fw_circuit_answer *answer)
{
    const struct fw_circuit_losses lost = fw_circuit_losses(net, answer);
    assert_relative(lost.sections_w + lost.shunts_w + lost.internal_w +
                        lost.earth_w,
                    lost.source_w, 1e-9);
}

static void leasts_are_least(const struct fw_circuit *net,
                             const struct fw_circuit_answer *answer,
                             double within_v)
{
    const int steps = 300;
    for (size_t i = 0; i < net->section_count; i++) {
        const struct fw_circuit_section_answer *section = &answer->sections[i];
        for (int k = 0; k <= steps; k++) {
            struct fw_circuit_volts here;
            const struct fw_circuit_station place = {
                i, net->sections[i].length_m * k / steps};
            assert_int_equal(fw_circuit_at(net, answer, place, &here, NULL),
                             FW_OK);
            assert_true(section->least_touched.touched_v <=
                        here.touched_v * (1 + 1e-11) + within_v);
            assert_true(section->least_open.open_v <=
                        here.open_v * (1 + 1e-11) + within_v);
        }
    }
}

static void ladder_agrees_on_random_networks(void **state)
{
    (void)state;
    uint64_t seed = (uint64_t)setting("FW_SEED", 20270519);
    const int networks = (int)setting("FW_NETWORKS", 200);
    print_message("# %d networks from seed %llu\n", networks,
                  (unsigned long long)seed);
    seed = seed * 2 + 1;
    static struct dense dense;
    size_t inside = 0;
    for (int n = 0; n < networks; n++) {
        struct fw_circuit net = draw_network(&seed);
        struct fw_circuit_answer answer = {0};
        struct fw_error err = {0};
        if (fw_circuit_solve(&net, &answer, &err))
            fail_msg("network %d: %s", n, err.text);
        const size_t line = first_line(&net);
        const int cell = (int)draw_count(&seed, 1, cells - 1);
        if (line < net.section_count) {
            judge(&net, line, cell, &dense);
            for (size_t i = 0; i < net.node_count; i++)
                agrees(&net, &dense, i, &answer.nodes[i].volts);
            struct fw_circuit_volts here;
            const struct fw_circuit_station place = {
                line, net.sections[line].length_m * cell / cells};
            assert_int_equal(fw_circuit_at(&net, &answer, place, &here, NULL),
                             FW_OK);
            agrees(&net, &dense, net.node_count, &here);
        }
        amps_balance(&net, &answer);
        energy_balances(&net, &answer);
        leasts_are_least(&net, &answer, 0);
        for (size_t i = 0; i < net.section_count; i++)
            inside +=
                answer.sections[i].least_touched_m > 0 &&
                answer.sections[i].least_touched_m < net.sections[i].length_m;
        fw_circuit_answer_release(&answer);
        fw_circuit_release(&net);
    }
    print_message("# least inside a section %zu times\n", inside);
    if (networks >= 200)
        assert_true(inside > 20);
}

/* Resistances thirty decades apart, beyond what a ladder can judge. */
static void energy_balances_whatever_the_resistances(void **state)
{
    (void)state;
    uint64_t seed = (uint64_t)setting("FW_SEED", 20270519) * 2 + 1;
    for (int n = 0; n < 300; n++) {
        struct fw_circuit net = draw_network(&seed);
        for (size_t i = 0; i < net.section_count; i++) {
            struct fw_circuit_section *section = &net.sections[i];
            section->ohm_m = draw_wide(&seed, 1e-6, 1e5);
            section->siemens_m = draw_wide(&seed, 1e-15, 1);
        }
        struct fw_circuit_answer answer = {0};
        assert_int_equal(fw_circuit_solve(&net, &answer, NULL), FW_OK);
        energy_balances(&net, &answer);
        /* On drowned wire the place of the last microvolts is rounding. */
        leasts_are_least(&net, &answer, 1e-8 * net.source.open_v);
        fw_circuit_answer_release(&answer);
        fw_circuit_release(&net);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(ladder_agrees_on_random_networks),
        cmocka_unit_test(energy_balances_whatever_the_resistances),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
