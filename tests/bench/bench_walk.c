/* How long it takes to find the way to water in every paddock of a layout: with
 * a back fence from the middle of each, without one from the first over all
 * that was grazed, and that with ponds. A limit leaves room for a busy machine.
 * The best of several runs counts; a slow machine may set FW_BENCH_FACTOR to
 * widen the limits. */
#include "lobes.h"
#include "walk/walk.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

enum { vertices = 1000, strips = 365, ponds = 6, pond_corners = 20, runs = 5 };

static double now_s(void)
{
    struct timespec time;
    clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &time);
    return (double)time.tv_sec + 1e-9 * (double)time.tv_nsec;
}

struct ground { /* strips of a field, and the lines between them */
    struct fw_point *points, *line_points;
    size_t *ring_start, *cell_ring, *line_start, *cut_start;
    size_t cells, lines;
};

static void *room(size_t count, size_t size)
{
    void *of = calloc(count + 1, size);
    if (!of)
        exit(99);
    return of;
}

static void cut(struct ground *ground, size_t pond_count)
{
    struct fw_point points[vertices + ponds * pond_corners];
    size_t ring_start[ponds + 2] = {0, vertices};
    uint64_t seed = 7;
    lobes(points, (struct fw_point){0, 0}, 300, vertices, 1, ROUGH, &seed);
    for (size_t k = 0; k < pond_count; k++) {
        const double angle = 1.0 + (double)k;
        lobes(points + ring_start[k + 1],
              (struct fw_point){130 * cos(angle), 130 * sin(angle)}, 20,
              pond_corners, -1, SMOOTH, &seed);
        ring_start[k + 2] = ring_start[k + 1] + pond_corners;
    }
    struct fw_sweep *sweep;
    struct fw_partition parts = {0};
    double behind[strips], position[strips], length[strips];
    if (fw_sweep_new(points, ring_start, pond_count + 1, &sweep, NULL))
        exit(99);
    fw_sweep_turn(sweep, 12);
    const double all = fw_sweep_area_m2(sweep);
    for (size_t k = 0; k + 1 < strips; k++)
        behind[k] = all * (double)(k + 1) / strips;
    fw_sweep_cut(sweep, behind, strips - 1, position, length);
    if (fw_sweep_build(sweep, position, strips - 1, &parts, NULL))
        exit(99);
    ground->points = room(parts.ring_vertex_count, sizeof *ground->points);
    ground->line_points =
        room(2 * parts.segment_count, sizeof *ground->line_points);
    ground->ring_start = room(parts.ring_count, sizeof(size_t));
    ground->cell_ring = room(parts.paddock_count, sizeof(size_t));
    ground->line_start = room(parts.segment_count, sizeof(size_t));
    ground->cut_start = room(strips, sizeof(size_t));
    ground->cells = parts.paddock_count;
    ground->lines = parts.segment_count;
    for (size_t i = 0; i < parts.ring_vertex_count; i++)
        ground->points[i] =
            fw_sweep_point(sweep, &parts, parts.ring_vertices[i]);
    memcpy(ground->ring_start, parts.ring_start,
           (parts.ring_count + 1) * sizeof(size_t));
    memcpy(ground->cut_start, parts.cut_start, strips * sizeof(size_t));
    for (size_t p = 0; p <= parts.paddock_count; p++)
        ground->cell_ring[p] = parts.piece_ring[parts.paddock_piece[p]];
    for (size_t i = 0; i < 2 * parts.segment_count; i++)
        ground->line_points[i] =
            fw_sweep_point(sweep, &parts, parts.segments[i]);
    for (size_t l = 0; l <= parts.segment_count; l++)
        ground->line_start[l] = 2 * l;
    fw_partition_release(&parts);
    fw_sweep_free(sweep);
}

static void release(struct ground *ground)
{
    free(ground->points);
    free(ground->line_points);
    free(ground->ring_start);
    free(ground->cell_ring);
    free(ground->line_start);
    free(ground->cut_start);
}

static struct fw_point middle_of(const struct ground *ground, size_t cell)
{
    const size_t ring = ground->cell_ring[cell];
    const size_t first = ground->ring_start[ring];
    const size_t count = ground->ring_start[ring + 1] - first;
    struct fw_point middle = {0, 0};
    for (size_t i = 0; i < count; i++) {
        middle.x_m += ground->points[first + i].x_m / (double)count;
        middle.y_m += ground->points[first + i].y_m / (double)count;
    }
    return middle;
}

/* As a plan has it: where all of a paddock is seen from there no ground is
 * asked. */
static bool is_straight(const struct ground *ground, size_t cell,
                        struct fw_point water, struct fw_walk_sums *out)
{
    const size_t ring = ground->cell_ring[cell];
    const size_t first = ground->ring_start[ring];
    return ground->cell_ring[cell + 1] - ring == 1 &&
           fw_walk_seen(ground->points + first,
                        ground->ring_start[ring + 1] - first, water, NULL, out);
}

static struct fw_walk_sums walked(struct fw_walk_ground *walk,
                                  struct fw_point water, size_t from,
                                  size_t cell)
{
    struct fw_walk_sums sums;
    if (fw_walk_search(walk, &(struct fw_walk_start){water, &from, 1, 100},
                       NULL) ||
        fw_walk_sum(walk, cell, &sums, NULL))
        exit(99);
    return sums;
}

/* The same: a back fence leaves them one paddock, whose own ground is enough.
 */
static struct fw_walk_sums walk_alone(const struct ground *ground, size_t cell,
                                      struct fw_point water)
{
    enum { rings_most = 64 };
    const size_t ring = ground->cell_ring[cell];
    const size_t rings = ground->cell_ring[cell + 1] - ring;
    const size_t first = ground->ring_start[ring];
    size_t ring_start[rings_most + 1];
    const size_t no_line = 0, cell_ring[] = {0, rings};
    struct fw_walk_ground *walk;
    if (rings > rings_most)
        exit(99);
    for (size_t r = 0; r <= rings; r++)
        ring_start[r] = ground->ring_start[ring + r] - first;
    const struct fw_walk_map map = {.points = ground->points + first,
                                    .ring_start = ring_start,
                                    .cell_ring = cell_ring,
                                    .cell_count = 1,
                                    .line_start = &no_line};
    if (fw_walk_new(&map, &walk, NULL))
        exit(99);
    const struct fw_walk_sums sums = walked(walk, water, 0, 0);
    fw_walk_free(walk);
    return sums;
}

/* The ways of all paddocks; how many are known. */
static size_t walk_behind_fences(const struct ground *ground)
{
    size_t known = 0;
    for (size_t p = 0; p < ground->cells; p++) {
        const struct fw_point water = middle_of(ground, p);
        struct fw_walk_sums sums;
        if (!is_straight(ground, p, water, &sums))
            sums = walk_alone(ground, p, water);
        known += sums.known;
    }
    return known;
}

static size_t walk_openly(const struct ground *ground)
{
    struct fw_walk_ground *walk;
    size_t known = 0;
    const struct fw_walk_map map = {
        .points = ground->points,
        .ring_start = ground->ring_start,
        .cell_ring = ground->cell_ring,
        .cell_count = ground->cells,
        .line_points = ground->line_points,
        .line_start = ground->line_start,
        .line_count = ground->lines,
    };
    const struct fw_point water = middle_of(ground, 0);
    if (fw_walk_new(&map, &walk, NULL))
        exit(99);
    for (size_t p = 0; p < ground->cells; p++) {
        struct fw_walk_sums sums;
        for (size_t l = p > 0 ? ground->cut_start[p - 1] : 0;
             p > 0 && l < ground->cut_start[p]; l++)
            fw_walk_stand(walk, l, false);
        if (!is_straight(ground, p, water, &sums))
            sums = walked(walk, water, 0, p);
        known += sums.known;
    }
    fw_walk_free(walk);
    return known;
}

int main(void)
{
    static const struct {
        const char *what;
        bool back_fence;
        size_t ponds;
        double goal_ms, limit_ms;
    } rows[] = {
        {"back fence", true, 0, 1, 3},
        {"open ground", false, 0, 20, 30},
        {"and ponds", false, ponds, 50, 200},
    };
    const char *given = getenv("FW_BENCH_FACTOR");
    const double factor = given ? strtod(given, NULL) : 1;
    bool good = true;
    printf("%-12s %8s %8s %10s %10s %10s\n", "ground", "paddocks", "known",
           "best ms", "goal ms", "limit ms");
    for (size_t r = 0; r < sizeof rows / sizeof *rows; r++) {
        struct ground ground;
        double best_s = HUGE_VAL;
        size_t known = 0;
        cut(&ground, rows[r].ponds);
        for (int i = 0; i < runs; i++) {
            const double begun_s = now_s();
            known = rows[r].back_fence ? walk_behind_fences(&ground)
                                       : walk_openly(&ground);
            best_s = fmin(best_s, now_s() - begun_s);
        }
        printf("%-12s %8zu %8zu %10.2f %10.1f %10.1f\n", rows[r].what,
               ground.cells, known, 1e3 * best_s, rows[r].goal_ms,
               rows[r].limit_ms);
        good = good && 1e3 * best_s <= factor * rows[r].limit_ms;
        release(&ground);
    }
    return !good;
}
