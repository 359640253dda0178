/* How long it takes to find the neck of a paddock or a field, against what was
 * promised. The best of several runs counts; a slow machine may set
 * FW_BENCH_FACTOR to widen the limits. */
#include "geo/ways.h"

#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <time.h>

enum { most_points = 1024, runs = 40, calls = 20 };

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

/* A field with lobes and, when `rough`, an edge as a hand draws it: a point
 * every few metres, off the line by decimetres. */
static void add_lobes(struct fw_point *points, double radius_m, size_t count,
                      double rough)
{
    uint64_t seed = 42;
    for (size_t i = 0; i < count; i++) {
        const double angle =
            2 * 3.14159265358979323846 * (double)i / (double)count;
        const double r =
            radius_m * (1 + 0.25 * cos(3 * angle) + 0.1 * cos(5 * angle + 1)) +
            rough * draw(&seed);
        points[i] = (struct fw_point){r * cos(angle), r * sin(angle)};
    }
}

static const struct fw_point plain[] = {{0, 0},   {60, 0},  {61, 50}, {58, 99},
                                        {30, 97}, {-2, 95}, {-1, 60}, {0, 30}};
static const struct fw_point waist[] = {{0, 0},   {40, 0}, {21, 30}, {40, 50},
                                        {20, 52}, {0, 50}, {19, 30}, {2, 3}};

static const struct {
    const char *what;
    const struct fw_point *points; /* NULL: lobes */
    size_t count;
    double rough_m, wide_m, limit_s;
} rows[] = {
    {"plain", plain, 8, 0, 3, 10e-6},
    {"with a neck", waist, 8, 0, 3, 10e-6},
    {"lobes", NULL, 50, 0, 3, 50e-6},
    {"lobes", NULL, 1000, 0, 3, 1e-3},
    {"rough", NULL, 1000, 0.5, 3, 1e-3},
    {"very rough", NULL, 1000, 5, 3, 1e-3},
    {"rough, wide", NULL, 1000, 0.5, 12, 3e-3},
};

int main(void)
{
    const char *given = getenv("FW_BENCH_FACTOR");
    const double factor = given ? strtod(given, NULL) : 1;
    int slow = 0;
    printf("%-14s %8s %8s %12s %12s\n", "", "corners", "wide m", "best us",
           "limit us");
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct fw_point lobes[most_points];
        const struct fw_point *points = rows[i].points;
        const size_t start[] = {0, rows[i].count};
        double best_s = 1e9;
        if (!points) {
            add_lobes(lobes, rows[i].count > 100 ? 600 : 60, rows[i].count,
                      rows[i].rough_m);
            points = lobes;
        }
        for (int run = 0; run < runs; run++) {
            const double start_s = now_s();
            for (int call = 0; call < calls; call++) {
                struct fw_neck neck;
                if (fw_ways_neck(points, start, 1, rows[i].wide_m, &neck, NULL))
                    return 99;
            }
            best_s = fmin(best_s, (now_s() - start_s) / calls);
        }
        const double limit_s = rows[i].limit_s * factor;
        const int late = best_s > limit_s;
        printf("%-14s %8zu %8.0f %12.2f %12.0f%s\n", rows[i].what,
               rows[i].count, rows[i].wide_m, best_s * 1e6, limit_s * 1e6,
               late ? "  too slow" : "");
        slow += late;
    }
    return slow ? 1 : 0;
}
