/* A round field with lobes and its farm, written into a folder of the bench's
 * own, and what each bench does about it. */
#ifndef FW_BENCH_ROUND_FARM_H
#define FW_BENCH_ROUND_FARM_H

#include "farm/farm.h"
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

/* A slow machine may widen the limits. */
static double bench_factor(void)
{
    const char *widened = getenv("FW_BENCH_FACTOR");
    return widened ? strtod(widened, NULL) : 1;
}

static void remove_farm(const char *folder)
{
    char path[4200];
    snprintf(path, sizeof path, "%s/field.geojson", folder);
    remove(path);
    snprintf(path, sizeof path, "%s/farm.yaml", folder);
    remove(path);
    rmdir(folder);
}

#endif
