/* How long it takes to choose up to three points of water for a plan, with the
 * ways that are walked to them, and to fill the table. The best of several runs
 * counts; a slow machine may set FW_BENCH_FACTOR to widen the limits. */
#include "farm/farm.h"
#include "haul/placing.h"
#include "make/make.h"
#include "plan/plan.h"
#include <foldwright/told.h>

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <time.h>
#include <unistd.h>

static double now_s(void)
{
    struct timespec time;
    clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &time);
    return (double)time.tv_sec + 1e-9 * (double)time.tv_nsec;
}

/* A round field with lobes, some 500 m across, and its farm. */
static void write_farm(const char *folder, size_t vertices, int paddocks,
                       const char *more)
{
    const double pi = 3.14159265358979323846;
    char path[4200];
    snprintf(path, sizeof path, "%s/field.geojson", folder);
    FILE *map = fopen(path, "w");
    if (!map)
        exit(99);
    fputs("{\"type\":\"Feature\",\"properties\":{\"name\":\"Round\"},"
          "\"geometry\":{\"type\":\"Polygon\",\"coordinates\":[[",
          map);
    for (size_t i = 0; i <= vertices; i++) {
        const double turn = 2 * pi * (double)(i % vertices) / (double)vertices;
        const double r_m =
            250 * (1 + 0.25 * cos(3 * turn) + 0.1 * cos(5 * turn + 1));
        fprintf(map, "%s[%.9f,%.9f]", i ? "," : "", 9 + r_m * cos(turn) / 70200,
                51 + r_m * sin(turn) / 111230);
    }
    fputs("]]}}", map);
    fclose(map);
    snprintf(path, sizeof path, "%s/farm.yaml", folder);
    FILE *farm = fopen(path, "w");
    if (!farm)
        exit(99);
    /* 20 ha of 1,000 kg/ha that may be eaten, at 1.5 kg a head. */
    fprintf(farm,
            "fields: {source: field.geojson}\n"
            "start: 2027-05-17\n"
            "gate: side:1@5m\n"
            "flock: {head: %d, weight: 60 kg, intake: 1.5 kg/day}\n"
            "forage: {mass: 2000 kg/ha, residual: 1000 kg/ha, use: 100 %%}\n"
            "stay: 1 day\n"
            "%s",
            20 * 1000 * 2 / 3 / paddocks, more);
    fclose(farm);
}

static struct fw_farm *read_farm(const char *folder)
{
    char path[4200];
    struct fw_error err = {0};
    struct fw_farm *farm = NULL;
    snprintf(path, sizeof path, "%s/farm.yaml", folder);
    const struct fw_farm_request request = {.farm_path = path};
    if (fw_farm_read(&request, &farm, NULL, NULL, &err)) {
        fprintf(stderr, "%s\n", err.text);
        exit(99);
    }
    return farm;
}

static double water_s(const struct fw_plan *plan, enum fw_placing_by by,
                      int runs, size_t *places)
{
    double best = HUGE_VAL;
    for (int i = 0; i < runs; i++) {
        struct fw_placing placing;
        struct fw_hauled_table table;
        struct fw_error err = {0};
        const double start_s = now_s();
        if (fw_placing_make(plan, &placing, &err) ||
            fw_hauled_make(plan, &placing, by, 3, &table, &err)) {
            fprintf(stderr, "%s\n", err.text);
            exit(99);
        }
        best = fmin(best, now_s() - start_s);
        *places = placing.place_count;
        fw_placing_release(&placing);
    }
    return best;
}

static const struct {
    size_t vertices;
    int paddocks, runs;
    double limit_s;
    const char *name, *farm;
} rows[] = {
    {50, 30, 10, 20e-3, "growth", ""},
    {1000, 365, 3, 200e-3, "growth", ""},
    {1000, 365, 3, 200e-3, "dormant", "season: dormant\nback-fence: no\n"},
};

static const struct {
    enum fw_placing_by by;
    const char *name;
} measures[] = {{FW_PLACING_WORST, "longest"},
                {FW_PLACING_MEAN, "mean"},
                {FW_PLACING_MINUTES, "minutes"}};

static bool is_slow(size_t i, const char *folder, double factor)
{
    bool slow = false;
    struct fw_plan *plan = NULL;
    struct fw_error err = {0};
    write_farm(folder, rows[i].vertices, rows[i].paddocks, rows[i].farm);
    struct fw_farm *farm = read_farm(folder);
    if (fw_plan_make(farm, &plan, &err)) {
        fprintf(stderr, "%s\n", err.text);
        exit(99);
    }
    for (size_t k = 0; k < sizeof measures / sizeof *measures; k++) {
        size_t places = 0;
        const double s = water_s(plan, measures[k].by, rows[i].runs, &places);
        const double limit_s = rows[i].limit_s * factor;
        printf("%-8s %-8s %8d %8zu %10.2f %10.1f%s\n", rows[i].name,
               measures[k].name, rows[i].paddocks, places, 1e3 * s,
               1e3 * limit_s, s > limit_s ? "  too slow" : "");
        slow |= s > limit_s;
    }
    fw_plan_free(plan);
    fw_farm_free(farm);
    return slow;
}

int main(void)
{
    char folder[] = "/tmp/foldwright-water-XXXXXX";
    const char *widened = getenv("FW_BENCH_FACTOR");
    const double factor = widened ? strtod(widened, NULL) : 1;
    int slow = 0;
    if (!mkdtemp(folder))
        return 99;
    printf("%-8s %-8s %8s %8s %10s %10s\n", "season", "by", "paddocks",
           "places", "best ms", "limit ms");
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
        slow += is_slow(i, folder, factor);
    char path[4200];
    snprintf(path, sizeof path, "%s/field.geojson", folder);
    remove(path);
    snprintf(path, sizeof path, "%s/farm.yaml", folder);
    remove(path);
    rmdir(folder);
    return slow > 0;
}
