/* How long a year of daily networks and one large network take, against what
 * was promised; the best of several runs counts, as in bench_sweep.c. */
#include "power/circuit_use.h"

#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <time.h>

enum { runs = 20 };

static double now_s(void)
{
    struct timespec time;
    clock_gettime(CLOCK_MONOTONIC, &time);
    return (double)time.tv_sec + 1e-9 * (double)time.tv_nsec;
}

static double draw(uint64_t *seed)
{
    *seed ^= *seed << 13;
    *seed ^= *seed >> 7;
    *seed ^= *seed << 17;
    return (double)(*seed >> 11) / 9007199254740992.0;
}

static void must(enum fw_status status)
{
    if (status)
        exit(99);
}

static void join(struct fw_circuit *net, size_t a, size_t b, uint64_t *seed)
{
    const struct fw_circuit_section section = {
        .a = a,
        .b = b,
        .length_m = 20 + 200 * draw(seed),
        .ohm_m = 3.82,
        .siemens_m = fw_circuit_siemens_m(500 + 5000 * draw(seed)),
    };
    must(fw_circuit_add_section(net, &section, NULL));
}

/* Mostly run after run, as fence is, with spurs and with so many loops. */
static struct fw_circuit network(size_t nodes, size_t loops)
{
    uint64_t seed = 88172645463325252u;
    struct fw_circuit net = {.node_count = nodes};
    for (size_t i = 1; i < nodes; i++) {
        const size_t back = 1 + (size_t)(draw(&seed) * 4);
        join(&net, back < i ? i - back : 0, i, &seed);
    }
    for (size_t i = 0; i < loops; i++)
        join(&net, (size_t)(draw(&seed) * (double)nodes),
             (size_t)(draw(&seed) * (double)nodes), &seed);
    const struct fw_circuit_source source = {nodes / 3, 8000, 300, 20};
    must(fw_circuit_set_source(&net, &source, NULL));
    return net;
}

static const struct {
    const char *what;
    size_t nodes, loops, days;
    double limit_s;
} rows[] = {
    {"a year of trees", 60, 0, 365, 20e-3},
    {"a year of rings", 60, 3, 365, 20e-3},
    {"one large network", 500, 50, 1, 30e-3},
};

int main(void)
{
    const char *given = getenv("FW_BENCH_FACTOR");
    const double factor = given ? strtod(given, NULL) : 1;
    int slow = 0;
    printf("%-18s %6s %6s %6s %12s %12s\n", "", "nodes", "loops", "days",
           "best us", "limit us");
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct fw_circuit net = network(rows[i].nodes, rows[i].loops);
        double best_s = 1e9;
        for (int run = 0; run < runs; run++) {
            const double start_s = now_s();
            for (size_t day = 0; day < rows[i].days; day++) {
                struct fw_circuit_answer answer;
                must(fw_circuit_solve(&net, &answer, NULL));
                fw_circuit_answer_release(&answer);
            }
            best_s = fmin(best_s, now_s() - start_s);
        }
        const double limit_s = rows[i].limit_s * factor;
        const int late = best_s > limit_s;
        printf("%-18s %6zu %6zu %6zu %12.1f %12.1f%s\n", rows[i].what,
               rows[i].nodes, rows[i].loops, rows[i].days, best_s * 1e6,
               limit_s * 1e6, late ? "  too slow" : "");
        slow += late;
        fw_circuit_release(&net);
    }
    return slow ? 1 : 0;
}
