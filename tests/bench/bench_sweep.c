/* How long the sweep takes, against what was promised.
 * Other work on the machine only ever adds time, so the best of several runs
 * counts; a slow machine may set FW_BENCH_FACTOR to widen the limits. */
#include "lobes.h"

#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <time.h>

enum { most_vertices = 1100, most_paddocks = 365, runs = 40 };

struct bench {
    struct fw_point points[most_vertices];
    size_t point_count;
    size_t ring_start[8];
    size_t ring_count;
    struct fw_sweep *sweep;
    struct fw_partition partition;
    double behind[most_paddocks], position[most_paddocks],
        length[most_paddocks];
    size_t paddocks;
};

static double now_s(void)
{
    struct timespec time;
    clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &time);
    return (double)time.tv_sec + 1e-9 * (double)time.tv_nsec;
}

static void add_ring(struct bench *bench, struct fw_point centre,
                     double radius_m, size_t count, int way,
                     enum outline outline, uint64_t *seed)
{
    lobes(bench->points + bench->point_count, centre, radius_m, count, way,
          outline, seed);
    bench->point_count += count;
    bench->ring_start[++bench->ring_count] = bench->point_count;
}

static void set_up(struct bench *bench, size_t vertices, size_t ponds,
                   size_t paddocks, enum outline outline)
{
    uint64_t seed = 42;
    add_ring(bench, (struct fw_point){0, 0}, 600, vertices, 1, outline, &seed);
    for (size_t i = 0; i < ponds; i++)
        add_ring(bench,
                 (struct fw_point){250 * cos((double)i), 250 * sin((double)i)},
                 30, 12, -1, outline, &seed);
    bench->paddocks = paddocks;
    if (fw_sweep_new(bench->points, bench->ring_start, bench->ring_count,
                     &bench->sweep, NULL))
        exit(99);
    const double area_m2 = fw_sweep_area_m2(bench->sweep);
    for (size_t k = 0; k + 1 < paddocks; k++)
        bench->behind[k] = area_m2 * (double)(k + 1) / (double)paddocks;
}

static void one_direction(struct bench *bench, double deg)
{
    fw_sweep_turn(bench->sweep, deg);
    fw_sweep_cut(bench->sweep, bench->behind, bench->paddocks - 1,
                 bench->position, bench->length);
    if (fw_sweep_build(bench->sweep, bench->position, bench->paddocks - 1,
                       &bench->partition, NULL))
        exit(99);
}

static void cuts_and_polygons(struct bench *bench)
{
    /* another direction each time, as in a search */
    static int deg;
    one_direction(bench, deg = (deg + 1) % 180);
}

static void all_directions(struct bench *bench)
{
    for (int deg = 0; deg < 180; deg++)
        one_direction(bench, deg);
}

static const struct {
    const char *what;
    size_t vertices, ponds, paddocks;
    enum outline outline;
    void (*run)(struct bench *);
    double limit_s;
} rows[] = {
    {"cuts and polygons", 50, 0, 30, SMOOTH, cuts_and_polygons, 15e-6},
    {"cuts and polygons", 1000, 0, 365, SMOOTH, cuts_and_polygons, 250e-6},
    {"cuts and polygons", 1000, 0, 365, ROUGH, cuts_and_polygons, 250e-6},
    {"cuts and polygons", 1000, 6, 365, ROUGH, cuts_and_polygons, 250e-6},
    {"180 directions", 50, 0, 30, SMOOTH, all_directions, 2.7e-3},
    {"180 directions", 1000, 0, 365, SMOOTH, all_directions, 40e-3},
    {"180 directions", 1000, 0, 365, ROUGH, all_directions, 40e-3},
    {"180 directions", 1000, 6, 365, ROUGH, all_directions, 40e-3},
};

int main(void)
{
    const char *given = getenv("FW_BENCH_FACTOR");
    const double factor = given ? strtod(given, NULL) : 1;
    int slow = 0;
    printf("%-18s %8s %8s %6s %8s %12s %12s\n", "", "outline", "vertices",
           "ponds", "paddocks", "best us", "limit us");
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        static struct bench bench;
        bench = (struct bench){0};
        set_up(&bench, rows[i].vertices, rows[i].ponds, rows[i].paddocks,
               rows[i].outline);
        double best_s = 1e9;
        for (int run = 0; run < runs; run++) {
            const double start_s = now_s();
            rows[i].run(&bench);
            best_s = fmin(best_s, now_s() - start_s);
        }
        const double limit_s = rows[i].limit_s * factor;
        const int late = best_s > limit_s;
        printf("%-18s %8s %8zu %6zu %8zu %12.1f %12.1f%s\n", rows[i].what,
               outline_name(rows[i].outline), rows[i].vertices, rows[i].ponds,
               rows[i].paddocks, best_s * 1e6, limit_s * 1e6,
               late ? "  too slow" : "");
        slow += late;
        fw_partition_release(&bench.partition);
        fw_sweep_free(bench.sweep);
    }
    return slow ? 1 : 0;
}
