/* Circuits with a wire as return, on random trees and loops, against a nodal
 * solve by brute force: each section cut into pi cells, the energizer a source
 * between two nodes, and a sheep a resistor between two of them. FW_SEED
 * chooses other networks. */
#include "unit/test.h"

#include "power/circuit_use.h"

#include <stdlib.h>
#include <string.h>

enum { networks = 200, most_edges = 4, cells = 40, most_rows = 400 };

/* xorshift64*, so that the networks are the same everywhere. */
static double draw(uint64_t *seed)
{
    *seed ^= *seed >> 12;
    *seed ^= *seed << 25;
    *seed ^= *seed >> 27;
    return (double)((*seed * 2685821657736338717u) >> 11) / 9007199254740992.0;
}

static double draw_wide(uint64_t *seed, double least, double most)
{
    return least * pow(most / least, draw(seed));
}

static size_t draw_count(uint64_t *seed, size_t least, size_t most)
{
    return least + (size_t)(draw(seed) * (double)(most - least + 1));
}

/* Hot nodes 0 to n - 1, and the earth's the same n further on. */
static struct fw_circuit draw_network(uint64_t *seed)
{
    const size_t edges = draw_count(seed, 1, most_edges), n = edges + 1;
    struct fw_circuit net = {
        .node_count = 2 * n,
        .source = {0, 5000 + 5000 * draw(seed), draw_wide(seed, 100, 1000),
                   draw_wide(seed, 5, 2000)},
        .has_source = true,
        .hooves_ohm = draw(seed) < 0.3 ? 0 : draw_wide(seed, 50, 5000),
        .body_ohm = draw(seed) < 0.5 ? 0 : draw_wide(seed, 100, 2000),
        .earth_return = true,
        .earth_node = n,
    };
    const bool loop = edges >= 3 && draw(seed) < 0.5;
    for (size_t i = 1; i < n; i++) {
        const size_t from = loop && i == n - 1 ? 0 : draw_count(seed, 0, i - 1);
        const size_t to = loop && i == n - 1 ? 1 : i;
        const double length_m = draw_wide(seed, 20, 400);
        for (size_t k = 0; k < 2; k++) {
            const struct fw_circuit_section section = {
                .a = from + k * n,
                .b = to + k * n,
                .length_m = length_m,
                .ohm_m = draw_wide(seed, 0.03, 4),
                .siemens_m =
                    draw(seed) < 0.2
                        ? 0
                        : fw_circuit_siemens_m(draw_wide(seed, 500, 20000))};
            assert_int_equal(fw_circuit_add_section(&net, &section, NULL),
                             FW_OK);
        }
        const struct fw_circuit_pair pair = {2 * i - 2, 2 * i - 1};
        assert_int_equal(fw_circuit_add_pair(&net, &pair, NULL), FW_OK);
    }
    if (loop) { /* its last node is unused: a joint leads there */
        for (size_t k = 0; k < 2; k++) {
            const struct fw_circuit_section joint = {
                .a = 1 + k * n, .b = n - 1 + k * n, .ohm = 20};
            assert_int_equal(fw_circuit_add_section(&net, &joint, NULL), FW_OK);
        }
    }
    assert_int_equal(
        fw_circuit_add_shunt(&net, draw_count(seed, 0, net.node_count - 1),
                             draw_wide(seed, 200, 1e5), NULL),
        FW_OK);
    return net;
}

/* ---- by brute force ---- */

struct rows {
    double g[most_rows][most_rows], in[most_rows];
    size_t count;
};

static void link_rows(struct rows *rows, size_t a, size_t b, double siemens)
{
    rows->g[a][a] += siemens;
    rows->g[b][b] += siemens;
    rows->g[a][b] -= siemens;
    rows->g[b][a] -= siemens;
}

/* The row of cell k's end along a section. */
static size_t row_of(const struct fw_circuit *net, size_t section, size_t k)
{
    const struct fw_circuit_section *of = &net->sections[section];
    return k == 0       ? of->a
           : k == cells ? of->b
                        : net->node_count + section * (cells - 1) + k - 1;
}

static void fill(const struct fw_circuit *net, struct rows *rows)
{
    memset(rows, 0, sizeof *rows);
    rows->count = net->node_count + net->section_count * (cells - 1);
    assert_true(rows->count <= most_rows);
    for (size_t i = 0; i < net->section_count; i++) {
        const struct fw_circuit_section *of = &net->sections[i];
        if (!(of->length_m > 0)) {
            link_rows(rows, of->a, of->b, 1 / of->ohm);
            for (size_t k = 1; k < cells; k++)
                rows->g[row_of(net, i, k)][row_of(net, i, k)] = 1;
            continue;
        }
        const double cell_m = of->length_m / cells;
        for (size_t k = 0; k < cells; k++) {
            const size_t a = row_of(net, i, k), b = row_of(net, i, k + 1);
            link_rows(rows, a, b, 1 / (of->ohm_m * cell_m));
            rows->g[a][a] += of->siemens_m * cell_m / 2;
            rows->g[b][b] += of->siemens_m * cell_m / 2;
        }
    }
    for (size_t i = 0; i < net->shunt_count; i++)
        rows->g[net->shunts[i].node][net->shunts[i].node] +=
            1 / net->shunts[i].ohm;
    const struct fw_circuit_source *source = &net->source;
    link_rows(rows, source->node, net->earth_node, 1 / source->internal_ohm);
    rows->g[net->earth_node][net->earth_node] += 1 / source->earth_ohm;
    rows->in[source->node] = source->open_v / source->internal_ohm;
    rows->in[net->earth_node] = -rows->in[source->node];
}

/* Gauss; the matrix is dominated by its diagonal. */
static void solve(struct rows *rows)
{
    const size_t n = rows->count;
    for (size_t k = 0; k < n; k++)
        for (size_t i = k + 1; i < n; i++) {
            const double by = rows->g[i][k] / rows->g[k][k];
            if (by == 0)
                continue;
            for (size_t j = k; j < n; j++)
                rows->g[i][j] -= by * rows->g[k][j];
            rows->in[i] -= by * rows->in[k];
        }
    for (size_t k = n; k-- > 0;) {
        for (size_t j = k + 1; j < n; j++)
            rows->in[k] -= rows->g[k][j] * rows->in[j];
        rows->in[k] /= rows->g[k][k];
    }
}

static struct rows rows; /* too large for the stack */

static void check_open(const struct fw_circuit *net,
                       const struct fw_circuit_answer *answer)
{
    fill(net, &rows);
    solve(&rows);
    const double scale_v = net->source.open_v, near = 3e-4;
    for (size_t i = 0; i < net->node_count; i++)
        assert_near(answer->nodes[i].volts.open_v / scale_v,
                    rows.in[i] / scale_v, near);
    assert_near(answer->rods_v / scale_v, -rows.in[net->earth_node] / scale_v,
                near);
    for (size_t p = 0; p < net->pair_count; p++)
        for (size_t k = 0; k <= cells; k += 8) {
            const struct fw_circuit_pair *pair = &net->pairs[p];
            const double at_m =
                net->sections[pair->hot].length_m * (double)k / cells;
            struct fw_circuit_volts volts;
            assert_int_equal(
                fw_circuit_across(net, answer, p, at_m, &volts, NULL), FW_OK);
            assert_near(volts.open_v / scale_v,
                        (rows.in[row_of(net, pair->hot, k)] -
                         rows.in[row_of(net, pair->earth, k)]) /
                            scale_v,
                        near);
        }
}

/* A sheep between two wires, and one between a wire and the ground. */
static void check_touched(const struct fw_circuit *net,
                          const struct fw_circuit_answer *answer, size_t p,
                          size_t k)
{
    const struct fw_circuit_pair *pair = &net->pairs[p];
    const size_t hot = row_of(net, pair->hot, k);
    const size_t earth = row_of(net, pair->earth, k);
    const double body_ohm = net->body_ohm > 0 ? net->body_ohm : 500;
    const struct fw_circuit_station place = {
        pair->hot, net->sections[pair->hot].length_m * (double)k / cells};
    struct fw_circuit_volts volts;
    fill(net, &rows);
    link_rows(&rows, hot, earth, 1 / body_ohm);
    solve(&rows);
    fw_circuit_across(net, answer, p, place.at_m, &volts, NULL);
    assert_near(volts.touched_v / net->source.open_v,
                (rows.in[hot] - rows.in[earth]) / net->source.open_v, 3e-4);
    fill(net, &rows);
    rows.g[hot][hot] += 1 / (body_ohm + net->hooves_ohm);
    solve(&rows);
    fw_circuit_at(net, answer, place, &volts, NULL);
    assert_near(volts.touched_v / net->source.open_v,
                rows.in[hot] * body_ohm / (body_ohm + net->hooves_ohm) /
                    net->source.open_v,
                3e-4);
}

static void check_least(const struct fw_circuit *net,
                        const struct fw_circuit_answer *answer, size_t p)
{
    const struct fw_circuit_pair_answer *of = &answer->pairs[p];
    const double length_m = net->sections[net->pairs[p].hot].length_m;
    struct fw_circuit_volts there;
    fw_circuit_across(net, answer, p, of->least_touched_m, &there, NULL);
    assert_relative(there.touched_v, of->least_touched.touched_v, 1e-12);
    for (int k = 0; k <= 500; k++) {
        fw_circuit_across(net, answer, p, length_m * k / 500, &there, NULL);
        assert_true(there.touched_v >=
                    of->least_touched.touched_v * (1 - 1e-7));
        assert_true(there.open_v >= of->least_open.open_v * (1 - 1e-7));
    }
}

static void a_return_is_as_brute_force_has_it(void **state)
{
    (void)state;
    const char *told = getenv("FW_SEED");
    uint64_t seed = told ? strtoull(told, NULL, 10) : 20270522;
    for (int i = 0; i < networks; i++) {
        struct fw_circuit net = draw_network(&seed);
        struct fw_circuit_answer answer;
        struct fw_error err;
        if (fw_circuit_solve(&net, &answer, &err))
            fail_msg("%s", err.text);
        check_open(&net, &answer);
        const size_t p = draw_count(&seed, 0, net.pair_count - 1);
        check_touched(&net, &answer, p, draw_count(&seed, 0, cells));
        for (size_t k = 0; k < net.pair_count; k++)
            check_least(&net, &answer, k);
        const struct fw_circuit_losses losses =
            fw_circuit_losses(&net, &answer);
        assert_relative(losses.sections_w + losses.shunts_w +
                            losses.internal_w + losses.earth_w,
                        losses.source_w, 1e-8);
        fw_circuit_answer_release(&answer);
        fw_circuit_release(&net);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_return_is_as_brute_force_has_it),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
