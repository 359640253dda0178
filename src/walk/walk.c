#include "walk/walk.h"

#include "base/alloc.h"
#include "base/angle.h"
#include "base/fail.h"
#include "geo/points.h"
#include "walk/inner.h"

#include <math.h>
#include <string.h>

/* ---- the ground ---- */

static enum fw_status make_room(struct fw_walk_ground *ground,
                                const struct fw_walk_map *map,
                                struct fw_error *err)
{
    const size_t points = map->ring_start[map->cell_ring[map->cell_count]];
    ground->cell_count = map->cell_count;
    ground->line_count = map->line_count;
    ground->points = fw_alloc(points, sizeof *ground->points);
    ground->first_of_cell =
        fw_alloc(map->cell_count, sizeof *ground->first_of_cell);
    ground->broken = fw_alloc(map->cell_count, sizeof *ground->broken);
    ground->stands = fw_alloc(map->line_count, sizeof *ground->stands);
    ground->first_of_line =
        fw_alloc(map->line_count, sizeof *ground->first_of_line);
    ground->open_of_line =
        fw_alloc(map->line_count, sizeof *ground->open_of_line);
    ground->changed = fw_alloc(map->line_count, sizeof *ground->changed);
    ground->changes = fw_alloc(map->line_count, sizeof *ground->changes);
    ground->parting = fw_walk__parting_new();
    if (!ground->points || !ground->first_of_cell || !ground->broken ||
        !ground->stands || !ground->first_of_line || !ground->open_of_line ||
        !ground->changed || !ground->changes || !ground->parting)
        return fw_fail_memory(err);
    ground->point_count = ground->point_capacity = points;
    if (points > 0)
        memcpy(ground->points, map->points, points * sizeof *ground->points);
    for (size_t c = 0; c < map->cell_count; c++)
        ground->first_of_cell[c] = FW_NONE;
    for (size_t l = 0; l < map->line_count; l++) {
        ground->stands[l] = true;
        ground->first_of_line[l] = ground->open_of_line[l] = FW_NONE;
    }
    return FW_OK;
}

enum fw_status fw_walk_new(const struct fw_walk_map *map,
                           struct fw_walk_ground **out, struct fw_error *err)
{
    const size_t points = map->ring_start[map->cell_ring[map->cell_count]];
    struct fw_walk_ground *ground = fw_alloc(1, sizeof *ground);
    size_t *ring_side = fw_alloc(points, sizeof *ring_side);
    enum fw_status status =
        ground && ring_side ? make_room(ground, map, err) : fw_fail_memory(err);
    for (size_t i = 0; !status && i < points; i++)
        ring_side[i] = FW_NONE;
    /* Two less than a ring has points: all that come where no cell has a hole.
     */
    const size_t less = 2 * map->cell_ring[map->cell_count];
    if (!status)
        status =
            fw_walk__make_room(ground, points > less ? points - less : 0, err);
    if (!status)
        status = fw_walk__cut(ground, map, ring_side, err);
    if (!status)
        status = fw_walk__join(ground, map, ring_side, err);
    fw_free(ring_side);
    if (status)
        fw_walk_free(ground);
    else
        *out = ground;
    return status;
}

void fw_walk_free(struct fw_walk_ground *ground)
{
    if (!ground)
        return;
    fw_free(ground->points);
    fw_free(ground->triangles);
    fw_free(ground->sides);
    fw_free(ground->first_of_cell);
    fw_free(ground->broken);
    fw_free(ground->stands);
    fw_free(ground->first_of_line);
    fw_free(ground->open_of_line);
    fw_free(ground->openings);
    fw_free(ground->changed);
    fw_free(ground->changes);
    fw_free(ground->start_cells);
    fw_free(ground->opened);
    fw_free(ground->roots);
    fw_free(ground->pieces);
    fw_free(ground->turns);
    fw_free(ground->reached);
    fw_free(ground->wedges);
    fw_free(ground->held);
    fw_free(ground->waiting);
    fw_walk__parting_free(ground->parting);
    fw_free(ground->heap);
    fw_free(ground);
}

void fw_walk_feed(struct fw_walk_ground *ground, const struct fw_herbage *feed)
{
    ground->feed = feed;
}

double fw_walk_passed(const struct fw_walk_ground *ground)
{
    return ground->passed;
}

/* ---- sums ---- */

/* More than that of a cell seen twice in one triangle, and its pieces lie over
 * each other; more than that of it missing, and some of it is not reached. */
static const double same_share = FW_TOLERANCE(1e-11);
static const double whole_share = FW_TOLERANCE(1e-6);

struct sums {
    double cell_m2, seen_m2;
    struct fw_walk__sum all;
};

static void add_piece(const struct fw_walk_ground *ground,
                      const struct fw_walk__piece *piece,
                      struct fw_walk__sum *total)
{
    const struct fw_walk__root *root = &ground->roots[piece->root];
    if (root->beaten)
        return;
    struct fw_point corners[FW_WALK__CORNERS];
    const size_t count = fw_walk__corners(ground, piece, corners);
    fw_walk__add(ground->feed, root->at, root->walked_m, corners, count, total);
}

static double triangle_m2(const struct fw_walk_ground *ground, size_t triangle)
{
    const size_t side = FW_WALK__SIDES * triangle;
    const struct fw_point a = fw_walk__at(ground, side);
    return fw_point_cross(fw_point_minus(fw_walk__at(ground, side + 1), a),
                          fw_point_minus(fw_walk__at(ground, side + 2), a)) /
           2;
}

static enum fw_status add_triangle(const struct fw_walk_ground *ground,
                                   size_t triangle, struct sums *summing,
                                   struct fw_error *err)
{
    const double here_m2 = triangle_m2(ground, triangle);
    struct fw_walk__sum total = {0};
    enum fw_status status = FW_OK;
    for (size_t i = fw_walk__first(ground, triangle); i != FW_NONE;
         i = ground->pieces[i].next)
        add_piece(ground, &ground->pieces[i], &total);
    summing->seen_m2 += total.area_m2;
    if (total.area_m2 > here_m2 + same_share * summing->cell_m2)
        status = fw_walk__nearest(ground, triangle, summing->cell_m2,
                                  summing->all.most_m, &total, err);
    summing->all.area_m2 += total.area_m2;
    summing->all.way_m3 += total.way_m3;
    summing->all.feed_kg += total.feed_kg;
    summing->all.way_kg_m += total.way_kg_m;
    summing->all.most_m = fmax(summing->all.most_m, total.most_m);
    return status;
}

/* Where no feed lies at all every square metre counts alike. */
struct fw_walk_sums fw_walk__sums(const struct fw_walk__sum *sum,
                                  double covered)
{
    const double mean_m = sum->way_m3 / sum->area_m2;
    return (struct fw_walk_sums){
        .known = true,
        .mean_m = mean_m,
        .fed_m = sum->feed_kg > 0 ? sum->way_kg_m / sum->feed_kg : mean_m,
        .most_m = sum->most_m,
        .covered = covered};
}

enum fw_status fw_walk_sum(const struct fw_walk_ground *ground, size_t cell,
                           struct fw_walk_sums *out, struct fw_error *err)
{
    struct sums summing = {.cell_m2 = 0};
    enum fw_status status = FW_OK;
    for (size_t t = ground->first_of_cell[cell]; t != FW_NONE;
         t = ground->triangles[t].next)
        summing.cell_m2 += triangle_m2(ground, t);
    for (size_t t = ground->first_of_cell[cell]; !status && t != FW_NONE;
         t = ground->triangles[t].next)
        status = add_triangle(ground, t, &summing, err);
    if (status)
        return status;
    *out = (struct fw_walk_sums){0};
    if (summing.cell_m2 > 0 && fabs(summing.all.area_m2 - summing.cell_m2) <=
                                   whole_share * summing.cell_m2)
        *out = fw_walk__sums(&summing.all, summing.seen_m2 / summing.cell_m2);
    return FW_OK;
}

void fw_walk_straight(const struct fw_point *points, const size_t *ring_start,
                      size_t ring_count, struct fw_point from,
                      struct fw_walk_sums *out)
{
    struct fw_walk__sum sum = {0};
    for (size_t r = 0; r < ring_count; r++) {
        const size_t first = ring_start[r], end = ring_start[r + 1];
        fw_walk__add(NULL, from, 0, points + first, end - first, &sum);
    }
    *out = (struct fw_walk_sums){0};
    if (sum.area_m2 > 0)
        *out = fw_walk__sums(&sum, 1);
}

/* Of a disc two thirds of its radius. */
double fw_walk_bound_m(double area_m2, size_t places)
{
    return places > 0
               ? 2 * sqrt(area_m2 / (FW_PI * (double)places)) / FW_FORMULA(3)
               : HUGE_VAL;
}

bool fw_walk_is_drawn(const struct fw_walk_ground *ground, size_t cell)
{
    return ground->first_of_cell[cell] != FW_NONE;
}

/* The root that the shortest way from a place leads to; FW_NONE: it is not
 * reached, or not in the cell. */
static size_t root_of(const struct fw_walk_ground *ground, size_t cell,
                      struct fw_point at, double *way_m)
{
    size_t nearest = FW_NONE;
    *way_m = HUGE_VAL;
    for (size_t t = ground->first_of_cell[cell]; t != FW_NONE;
         t = ground->triangles[t].next)
        for (size_t i = fw_walk__first(ground, t); i != FW_NONE;
             i = ground->pieces[i].next) {
            const struct fw_walk__piece *piece = &ground->pieces[i];
            const struct fw_walk__root *root = &ground->roots[piece->root];
            const double here_m =
                root->walked_m + fw_point_apart_m(root->at, at);
            if (root->beaten || !(here_m < *way_m) ||
                !fw_walk__has(ground, piece, at))
                continue;
            *way_m = here_m;
            nearest = piece->root;
        }
    return nearest;
}

double fw_walk_at(const struct fw_walk_ground *ground, size_t cell,
                  struct fw_point at)
{
    double way_m;
    root_of(ground, cell, at, &way_m);
    return way_m;
}

enum fw_status fw_walk_way(const struct fw_walk_ground *ground, size_t cell,
                           struct fw_point from, struct fw_point **out,
                           size_t *count, struct fw_error *err)
{
    double way_m;
    const size_t first = root_of(ground, cell, from, &way_m);
    size_t roots = 0;
    *count = 0;
    *out = NULL;
    if (first == FW_NONE)
        return FW_OK;
    for (size_t r = first; r != FW_NONE; r = ground->roots[r].from)
        roots++;
    struct fw_point *points = fw_alloc(roots + 2, sizeof *points);
    if (!points)
        return fw_fail_memory(err);
    points[(*count)++] = from;
    for (size_t r = first; r != FW_NONE; r = ground->roots[r].from)
        points[(*count)++] = ground->roots[r].at;
    /* The water itself may lie a little beside the ground. */
    points[(*count)++] = ground->start.at;
    *out = points;
    return FW_OK;
}
