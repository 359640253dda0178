/* How long it takes to make and to judge the moves of a year, against what was
 * promised; and that a farm of many fields costs no more a field than one of
 * few. The best of several runs counts; a slow machine may set FW_BENCH_FACTOR
 * to widen the limits. */
#include "moves/moves.h"

#include <malloc.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <time.h>

enum { runs = 15 };

/* Of this program alone: others may be at work. */
static double now_s(void)
{
    struct timespec time;
    clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &time);
    return (double)time.tv_sec + 1e-9 * (double)time.tv_nsec;
}

/* Strips of 10 x 100 m in a row, or on both sides of a lane. */
struct ground {
    struct fw_point *points;
    size_t *ring_vertices, *ring_start, *cell_ring, *line_vertices;
    enum fw_cell_kind *kinds;
    struct fw_land_map_line *lines;
    struct fw_point gate, water;
    struct fw_land_map map;
};

static void *some(size_t count, size_t size)
{
    void *made = calloc(count + 1, size);
    if (!made)
        exit(99);
    return made;
}

static void begin(struct ground *ground, size_t cells, size_t columns)
{
    ground->points = some(4 * (columns + 1), sizeof *ground->points);
    ground->ring_vertices = some(4 * cells + 2 * columns + 8, sizeof(size_t));
    ground->ring_start = some(cells + 2, sizeof(size_t));
    ground->cell_ring = some(cells + 2, sizeof(size_t));
    ground->line_vertices = some(4 * cells + 2 * columns + 8, sizeof(size_t));
    ground->kinds = some(cells + 1, sizeof *ground->kinds);
    ground->lines = some(cells + 2, sizeof *ground->lines);
    ground->map = (struct fw_land_map){.points = ground->points,
                                       .ring_vertices = ground->ring_vertices,
                                       .ring_start = ground->ring_start,
                                       .cell_ring = ground->cell_ring,
                                       .kinds = ground->kinds,
                                       .lines = ground->lines,
                                       .gate = &ground->gate};
}

static void end(struct ground *ground)
{
    free(ground->points);
    free(ground->ring_vertices);
    free(ground->ring_start);
    free(ground->cell_ring);
    free(ground->line_vertices);
    free(ground->kinds);
    free(ground->lines);
}

static size_t *add_cell(struct ground *ground, enum fw_cell_kind kind,
                        size_t count)
{
    const size_t cell = ground->map.cell_count++;
    const size_t first = ground->ring_start[cell];
    ground->kinds[cell] = kind;
    ground->ring_start[cell + 1] = first + count;
    ground->cell_ring[cell + 1] = cell + 1;
    return ground->ring_vertices + first;
}

static size_t *add_line(struct ground *ground, enum fw_land_role role,
                        size_t count, size_t *used)
{
    size_t *vertices = ground->line_vertices + *used;
    ground->lines[ground->map.line_count++] =
        (struct fw_land_map_line){.role = role,
                                  .vertices = vertices,
                                  .count = count,
                                  .feeds = {FW_FEEDS_PERHAPS, FW_FEEDS_PERHAPS},
                                  .work = {.reels = 2,
                                           .posts = 12,
                                           .wire_m = 208,
                                           .set_min = 4,
                                           .down_min = 3,
                                           .set_passes = 2,
                                           .down_passes = 3}};
    *used += count;
    return vertices;
}

static void draw_strips(struct ground *ground, size_t count)
{
    size_t used = 0;
    begin(ground, count, count);
    for (size_t k = 0; k <= count; k++)
        for (size_t north = 0; north < 2; north++)
            ground->points[2 * k + north] =
                (struct fw_point){10 * (double)k, 100 * (double)north};
    for (size_t k = 0; k < count; k++) {
        size_t *ring = add_cell(ground, FW_CELL_PADDOCK, 4);
        ring[0] = 2 * k;
        ring[1] = 2 * k + 2;
        ring[2] = 2 * k + 3;
        ring[3] = 2 * k + 1;
    }
    for (size_t k = 1; k < count; k++) {
        size_t *line = add_line(ground, FW_LAND_MOVED, 2, &used);
        line[0] = 2 * k;
        line[1] = 2 * k + 1;
    }
    ground->map.point_count = 2 * (count + 1);
    ground->gate = (struct fw_point){0, 50};
}

/* Rows of points from the south: the boundary, the lane's two sides, the
 * boundary. The south is grazed first, from the gate on, then the north. */
static void draw_lane(struct ground *ground, size_t count)
{
    const size_t columns = (count + 1) / 2, row = columns + 1;
    const double at_m[] = {0, 100, 106, 206};
    size_t used = 0;
    begin(ground, 2 * columns + 1, columns);
    for (size_t k = 0; k < row; k++)
        for (size_t r = 0; r < 4; r++)
            ground->points[row * r + k] =
                (struct fw_point){10 * (double)k, at_m[r]};
    for (size_t north = 0; north < 2; north++)
        for (size_t k = 0; k < columns; k++) {
            size_t *ring = add_cell(ground, FW_CELL_PADDOCK, 4);
            const size_t south = 2 * row * north + k;
            ring[0] = south;
            ring[1] = south + 1;
            ring[2] = south + row + 1;
            ring[3] = south + row;
        }
    size_t *lane = add_cell(ground, FW_CELL_LANE, 2 * row);
    for (size_t k = 0; k < row; k++) {
        lane[k] = row + k;
        lane[row + k] = 3 * row - 1 - k;
    }
    for (size_t side = 1; side < 3; side++) {
        size_t *line = add_line(ground, FW_LAND_LANE, row, &used);
        for (size_t k = 0; k < row; k++)
            line[k] = side * row + k;
    }
    for (size_t north = 0; north < 2; north++)
        for (size_t k = 1; k < columns; k++) {
            size_t *line = add_line(ground, FW_LAND_MOVED, 2, &used);
            line[0] = 2 * row * north + k;
            line[1] = line[0] + row;
        }
    ground->map.point_count = 4 * row;
    ground->gate = ground->water = (struct fw_point){0, 103};
    ground->map.water = &ground->water;
}

/* ---- the moves ---- */

static struct fw_habits habits_of(bool back_fence, bool trough)
{
    return (struct fw_habits){.back_fence = back_fence,
                              .trough = trough,
                              .strands = 2,
                              .opening_m = 4,
                              .way_m = 3,
                              .young_from = FW_NO_DAY,
                              .young_to = FW_NO_DAY,
                              .drift_from = FW_NO_DAY,
                              .drift_to = FW_NO_DAY,
                              .walk_m_min = 75,
                              .end_min = 0.75};
}

/* Made and judged once. */
static double time_moves(struct fw_land *land, struct fw_habits habits)
{
    const struct fw_land_field *last = &land->fields[land->field_count - 1];
    const size_t count = last->first_paddock + last->paddock_count;
    struct fw_time_stay *stays = some(count, sizeof *stays);
    struct fw_time time;
    struct fw_time_sums sums;
    for (size_t k = 0; k < count; k++)
        stays[k] = (struct fw_time_stay){
            .cell = k, .enter = (int)k, .leave = (int)k + 1};
    const double from_s = now_s();
    if (fw_time_make(land, stays, count, &habits, NULL, &time, NULL) ||
        fw_time_judge(land, &time, &habits, NULL, &sums, NULL))
        exit(99);
    fw_time_release(&time);
    const double took_s = now_s() - from_s;
    if (sums.faults[FW_TIME_LOOSE] || sums.faults[FW_TIME_UNTIED])
        exit(99);
    free(stays);
    return took_s;
}

static double best_of(struct fw_land *land, struct fw_habits habits)
{
    double best_s = 1e9;
    for (int run = 0; run < runs; run++)
        best_s = fmin(best_s, time_moves(land, habits));
    return best_s;
}

static void make_land(const struct ground *ground, size_t fields,
                      struct fw_land *out)
{
    struct fw_land_map *maps = some(fields, sizeof *maps);
    for (size_t f = 0; f < fields; f++)
        maps[f] = ground->map;
    if (fw_land_new(maps, fields, out, NULL))
        exit(99);
    free(maps);
}

/* ---- one field ---- */

static const struct {
    const char *what;
    bool lane;
    size_t cells;
    bool back_fence, trough;
    double limit_us;
} rows[] = {
    {"strips", false, 30, true, true, 100},
    {"strips", false, 30, false, true, 100},
    {"strips", false, 365, true, true, 1000},
    {"strips", false, 365, false, true, 1000},
    {"lane", true, 30, true, true, 150},
    {"lane", true, 30, false, false, 150},
    {"lane", true, 365, true, true, 1500},
    {"lane", true, 365, false, true, 1500},
    {"lane, to the water", true, 365, true, false, 3000},
    {"lane, to the water", true, 365, false, false, 1500},
};

static int time_fields(double factor)
{
    int slow = 0;
    printf("%-20s %6s %6s %10s %10s\n", "", "cells", "back", "best us",
           "limit us");
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct ground ground = {0};
        struct fw_land land;
        (rows[i].lane ? draw_lane : draw_strips)(&ground, rows[i].cells);
        make_land(&ground, 1, &land);
        const double us =
            1e6 * best_of(&land, habits_of(rows[i].back_fence, rows[i].trough));
        const int late = us > rows[i].limit_us * factor;
        printf("%-20s %6zu %6s %10.1f %10.0f%s\n", rows[i].what, rows[i].cells,
               rows[i].back_fence ? "yes" : "no", us, rows[i].limit_us * factor,
               late ? "  too slow" : "");
        slow += late;
        fw_land_release(&land);
        end(&ground);
    }
    return slow;
}

/* ---- many fields ---- */

enum { most_fields = 800 };

/* As many fields in all, so that others are as much in the way of a farm of few
 * as of one of many. */
static double field_us(const struct ground *ground, size_t fields,
                       struct fw_habits habits)
{
    struct fw_land land;
    double best_s = 1e9;
    make_land(ground, fields, &land);
    for (int run = 0; run < runs; run++) {
        double took_s = 0;
        for (size_t i = 0; i < most_fields / fields; i++)
            took_s += time_moves(&land, habits);
        best_s = fmin(best_s, took_s);
    }
    fw_land_release(&land);
    return 1e6 * best_s / most_fields;
}

static double land_us(const struct ground *ground, size_t fields)
{
    double best_s = 1e9;
    for (int run = 0; run < runs; run++) {
        const double from_s = now_s();
        for (size_t i = 0; i < most_fields / fields; i++) {
            struct fw_land land;
            make_land(ground, fields, &land);
            fw_land_release(&land);
        }
        best_s = fmin(best_s, now_s() - from_s);
    }
    return 1e6 * best_s / most_fields;
}

static int tell_farm(const char *what, const char *back, double few_us,
                     double many_us, double factor)
{
    const double most = 1.2;
    const double ratio = many_us / few_us;
    const int late = ratio > most * factor;
    printf("%-20s %6s %10.2f %10.2f %10.2f%s\n", what, back, few_us, many_us,
           ratio, late ? "  too slow" : "");
    return late;
}

static int time_farms(double factor)
{
    const size_t few = 50;
    int slow = 0;
    struct ground ground = {0};
    draw_strips(&ground, 30);
    printf("\n%-20s %6s %10s %10s %10s\n", "30 cells a field", "back", "50: us",
           "800: us", "ratio");
    slow += tell_farm("land", "", land_us(&ground, few),
                      land_us(&ground, most_fields), factor);
    for (int back = 0; back < 2; back++)
        slow += tell_farm("moves", back ? "yes" : "no",
                          field_us(&ground, few, habits_of(back, true)),
                          field_us(&ground, most_fields, habits_of(back, true)),
                          factor);
    end(&ground);
    return slow;
}

/* Memory that was given back is kept: else a long list costs what the system
 * takes to clear its pages, and a short one does not. */
static void keep_memory(void)
{
    mallopt(M_MMAP_THRESHOLD, 1 << 30);
    mallopt(M_TRIM_THRESHOLD, 1 << 30);
}

int main(void)
{
    keep_memory();
    const char *given = getenv("FW_BENCH_FACTOR");
    const double factor = given ? strtod(given, NULL) : 1;
    return time_fields(factor) + time_farms(factor) > 0;
}
