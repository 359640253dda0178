/* Parallel cuts through a region, by the exact sweep. On unequal ground the
 * sweep's lines are moved until each strip holds what it should: how much lies
 * behind a line depends on that line alone, so all of them are moved at once,
 * by Newton's steps, kept between bounds that close in. */
#include "base/alloc.h"
#include "base/angle.h"
#include "base/fail.h"
#include "cutting/subdivision_inner.h"
#include "figures/mark.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Newton's steps double the digits; an edge of a zone along a line may want
 * some halvings first. */
enum { most_steps = FW_EFFORT(80) };
static const double close_enough = FW_TOLERANCE(1e-13);

struct cut {
    struct fw_subdivision *subdivision;
    const struct fw_region *region;
    const struct fw_cuts *cuts;
    struct fw_point *points;
    struct fw_sweep *sweep;
    struct fw_partition partition;
    double *position_m, *length_m;
    size_t *name;       /* subdivision vertex of each of the partition's */
    size_t (*fence)[3]; /* ends of a piece of fence, and its support */
    size_t fence_count;
};

static void release(struct cut *cut)
{
    fw_partition_release(&cut->partition);
    fw_sweep_free(cut->sweep);
    fw_free(cut->points);
    fw_free(cut->position_m);
    fw_free(cut->length_m);
    fw_free(cut->name);
    fw_free(cut->fence);
}

static enum fw_status begin(struct cut *cut, struct fw_error *err)
{
    const size_t count = cut->cuts->count;
    cut->points = fw_subdivision_points(cut->subdivision, cut->region);
    cut->position_m = fw_alloc(count + 1, sizeof(double));
    cut->length_m = fw_alloc(count + 1, sizeof(double));
    if (!cut->points || !cut->position_m || !cut->length_m)
        return fw_fail_memory(err);
    const enum fw_status status =
        fw_sweep_new(cut->points, cut->region->ring_start,
                     cut->region->ring_count, &cut->sweep, err);
    if (!status)
        fw_sweep_turn(cut->sweep, cut->cuts->direction_deg);
    return status;
}

/* What one strip of the partition holds. */
static enum fw_status strip_holds(const struct cut *cut, size_t strip,
                                  double *out, struct fw_error *err)
{
    const struct fw_partition *partition = &cut->partition;
    const size_t first = partition->piece_ring[partition->paddock_piece[strip]];
    const size_t end =
        partition->piece_ring[partition->paddock_piece[strip + 1]];
    const size_t start = partition->ring_start[first];
    const size_t size = partition->ring_start[end] - start;
    struct fw_point *points = fw_alloc(size, sizeof *points);
    size_t *rings = fw_alloc(end - first + 1, sizeof *rings);
    if (points && rings) {
        for (size_t i = 0; i < size; i++)
            points[i] = fw_sweep_point(cut->sweep, partition,
                                       partition->ring_vertices[start + i]);
        for (size_t r = first; r <= end; r++)
            rings[r - first] = partition->ring_start[r] - start;
        *out = fw_subdivision__measure(cut->subdivision, points, rings,
                                       end - first);
    }
    const bool done = points && rings;
    fw_free(points);
    fw_free(rings);
    return done ? FW_OK : fw_fail_memory(err);
}

/* Growth of what lies behind a line when it moves on by a metre. */
static double growth(const struct cut *cut, size_t line)
{
    const struct fw_partition *partition = &cut->partition;
    double sum = 0;
    for (size_t s = partition->cut_start[line];
         s < partition->cut_start[line + 1]; s++)
        sum += fw_herbage_chord_kg_m(
            cut->subdivision->ground,
            fw_sweep_point(cut->sweep, partition, partition->segments[2 * s]),
            fw_sweep_point(cut->sweep, partition,
                           partition->segments[2 * s + 1]));
    return sum;
}

/* One step of every line towards what it should have behind it; low and high
 * are where it surely stands between. */
static enum fw_status step(struct cut *cut, double *low, double *high,
                           bool *moved, struct fw_error *err)
{
    const double *behind = cut->cuts->behind;
    double sum = 0;
    *moved = false;
    for (size_t k = 0; k < cut->cuts->count; k++) {
        double holds = 0;
        const enum fw_status status = strip_holds(cut, k, &holds, err);
        if (status)
            return status;
        sum += holds;
        const double off = behind[k] - sum;
        const double strip = behind[k] - (k ? behind[k - 1] : 0);
        if (fabs(off) <= close_enough * strip)
            continue;
        *(off > 0 ? &low[k] : &high[k]) = cut->position_m[k];
        double to_m = cut->position_m[k] + off / growth(cut, k);
        if (!(to_m > low[k] && to_m < high[k]))
            to_m = (low[k] + high[k]) / 2;
        *moved |= to_m < cut->position_m[k] || to_m > cut->position_m[k];
        cut->length_m[k] = to_m;
    }
    return FW_OK;
}

static void extent(const struct cut *cut, double *least_m, double *most_m)
{
    const double angle = cut->cuts->direction_deg * FW_PI / 180;
    *least_m = HUGE_VAL;
    *most_m = -HUGE_VAL;
    for (size_t i = 0; i < fw_region_size(cut->region); i++) {
        const double u_m =
            cut->points[i].x_m * cos(angle) + cut->points[i].y_m * sin(angle);
        *least_m = fmin(*least_m, u_m);
        *most_m = fmax(*most_m, u_m);
    }
}

static enum fw_status build(struct cut *cut, struct fw_error *err)
{
    return fw_sweep_build(cut->sweep, cut->position_m, cut->cuts->count,
                          &cut->partition, err);
}

/* length_m serves as the new positions. */
static enum fw_status move_lines(struct cut *cut, struct fw_error *err)
{
    const size_t count = cut->cuts->count;
    double *low = fw_alloc(count, sizeof *low);
    double *high = fw_alloc(count, sizeof *high);
    enum fw_status status = low && high ? FW_OK : fw_fail_memory(err);
    for (size_t k = 0; !status && k < count; k++)
        extent(cut, &low[k], &high[k]);
    bool moved = true;
    for (int i = 0; !status && moved && i < most_steps; i++) {
        status = build(cut, err);
        memcpy(cut->length_m, cut->position_m, count * sizeof(double));
        if (!status)
            status = step(cut, low, high, &moved, err);
        memcpy(cut->position_m, cut->length_m, count * sizeof(double));
        for (size_t k = 1; k < count; k++)
            cut->position_m[k] =
                fmax(cut->position_m[k], cut->position_m[k - 1]);
    }
    fw_free(low);
    fw_free(high);
    return status;
}

/* Where the lines stand. On unequal ground they start where they would if all
 * of it were alike. */
static enum fw_status place_lines(struct cut *cut, struct fw_error *err)
{
    const struct fw_cuts *cuts = cut->cuts;
    double share = 1;
    if (!cuts->behind) {
        memcpy(cut->position_m, cuts->position_m,
               cuts->count * sizeof *cuts->position_m);
        return FW_OK;
    }
    if (cut->subdivision->ground) {
        double holds;
        const enum fw_status status =
            fw_subdivision_holds(cut->subdivision, cut->region, &holds, err);
        if (status)
            return status;
        share = fw_sweep_area_m2(cut->sweep) / holds;
    }
    double *behind_m2 = fw_alloc(cuts->count, sizeof *behind_m2);
    if (!behind_m2)
        return fw_fail_memory(err);
    for (size_t k = 0; k < cuts->count; k++)
        behind_m2[k] = cuts->behind[k] * share;
    fw_sweep_cut(cut->sweep, behind_m2, cuts->count, cut->position_m,
                 cut->length_m);
    fw_free(behind_m2);
    return cut->subdivision->ground ? move_lines(cut, err) : FW_OK;
}

static bool is_whole(const struct fw_partition *partition)
{
    for (size_t i = 0; i < partition->paddock_count; i++)
        if (partition->paddock_piece[i + 1] - partition->paddock_piece[i] != 1)
            return false;
    return true;
}

/* ---- from the partition to regions ---- */

/* The side of the region that follows a side. */
static size_t side_after(const struct fw_region *region, size_t side)
{
    size_t low = 0, high = region->ring_count;
    while (high - low > 1) {
        const size_t ring = low + (high - low) / 2;
        if (side < region->ring_start[ring])
            high = ring;
        else
            low = ring;
    }
    return side + 1 < region->ring_start[high] ? side + 1
                                               : region->ring_start[low];
}

static enum fw_status name_vertices(struct cut *cut, struct fw_error *err)
{
    const struct fw_partition *partition = &cut->partition;
    const struct fw_region *region = cut->region;
    const size_t given = partition->vertex_count;
    cut->name = fw_alloc(given + partition->added_count, sizeof *cut->name);
    if (!cut->name)
        return fw_fail_memory(err);
    memcpy(cut->name, region->vertices, given * sizeof *cut->name);
    enum fw_status status = FW_OK;
    for (size_t i = 0; !status && i < partition->added_count; i++) {
        const struct fw_cut_vertex *added = &partition->added[i];
        const size_t next = side_after(region, added->edge);
        status = fw_subdivision__add(
            cut->subdivision,
            (struct fw_subdivision_piece){region->supports[added->edge],
                                          region->vertices[added->edge],
                                          region->vertices[next]},
            added->t, added->plane, &cut->name[given + i], err);
    }
    return status;
}

static int by_ends(const void *left, const void *right)
{
    const size_t *a = left, *b = right;
    if (a[0] != b[0])
        return a[0] < b[0] ? -1 : 1;
    return a[1] < b[1] ? -1 : a[1] > b[1];
}

/* Each piece of fence is a support and a line of its own. */
static enum fw_status add_fences(struct cut *cut, struct fw_error *err)
{
    const struct fw_partition *partition = &cut->partition;
    cut->fence = fw_alloc(2 * partition->segment_count, sizeof *cut->fence);
    if (!cut->fence)
        return fw_fail_memory(err);
    enum fw_status status = FW_OK;
    for (size_t s = 0; !status && s < partition->segment_count; s++) {
        const size_t a = cut->name[partition->segments[2 * s]];
        const size_t b = cut->name[partition->segments[2 * s + 1]];
        size_t support;
        if (a == b)
            continue;
        status = fw_subdivision__support(cut->subdivision, a, b, &support, err);
        if (!status)
            status = fw_subdivision__line(cut->subdivision, cut->cuts->role,
                                          support, 1, err);
        size_t(*to)[3] = &cut->fence[cut->fence_count];
        memcpy(to[0], (size_t[3]){a, b, support}, sizeof to[0]);
        memcpy(to[1], (size_t[3]){b, a, support}, sizeof to[1]);
        cut->fence_count += 2;
    }
    qsort(cut->fence, cut->fence_count, sizeof *cut->fence, by_ends);
    return status;
}

/* Where rings of the region touch, a strip may go from a corner of the one to
 * a corner of the other: the side on which the middle of that way lies. */
static size_t nearest_side(const struct cut *cut, size_t at, size_t next)
{
    const struct fw_point a = cut->points[at], b = cut->points[next];
    const struct fw_point middle = {(a.x_m + b.x_m) / 2, (a.y_m + b.y_m) / 2};
    size_t nearest = at;
    double least_m = HUGE_VAL;
    for (size_t r = 0; r < cut->region->ring_count; r++) {
        const size_t end = cut->region->ring_start[r + 1];
        size_t before = end - 1;
        for (size_t i = cut->region->ring_start[r]; i < end; before = i++) {
            const double m = fw_segment_distance_m(middle, cut->points[before],
                                                   cut->points[i]);
            if (m < least_m) {
                least_m = m;
                nearest = before;
            }
        }
    }
    return nearest;
}

/* The support of the side of a strip that runs from the partition's vertex
 * `at` to `next`: a fence, else what the region has there. */
static size_t support_of(const struct cut *cut, size_t at, size_t next)
{
    const struct fw_partition *partition = &cut->partition;
    const size_t key[3] = {cut->name[at], cut->name[next], 0};
    const size_t(*fence)[3] =
        bsearch(key, cut->fence, cut->fence_count, sizeof *cut->fence, by_ends);
    if (fence)
        return (*fence)[2];
    const size_t given = partition->vertex_count;
    size_t side = at;
    if (at >= given)
        side = partition->added[at - given].edge;
    else if (next >= given)
        side = partition->added[next - given].edge;
    else if (side_after(cut->region, at) != next)
        side = nearest_side(cut, at, next);
    return cut->region->supports[side];
}

static size_t take_ring(const struct cut *cut, size_t ring,
                        struct fw_region *region, size_t n)
{
    const struct fw_partition *partition = &cut->partition;
    const size_t start = partition->ring_start[ring];
    const size_t end = partition->ring_start[ring + 1];
    const size_t from = n;
    for (size_t i = start; i < end; i++) {
        const size_t at = partition->ring_vertices[i];
        const size_t next =
            partition->ring_vertices[i + 1 < end ? i + 1 : start];
        if (cut->name[at] == cut->name[next])
            continue;
        region->vertices[n] = cut->name[at];
        region->supports[n++] = support_of(cut, at, next);
    }
    return n - from < FW_PARTS(3) ? from : n;
}

static enum fw_status take_strip(const struct cut *cut, size_t strip,
                                 struct fw_region *out, struct fw_error *err)
{
    const struct fw_partition *partition = &cut->partition;
    const size_t first = partition->piece_ring[partition->paddock_piece[strip]];
    const size_t end =
        partition->piece_ring[partition->paddock_piece[strip + 1]];
    const enum fw_status status = fw_region_new(
        out, partition->ring_start[end] - partition->ring_start[first],
        end - first, err);
    if (status)
        return status;
    size_t n = 0, rings = 0;
    for (size_t ring = first; ring < end; ring++) {
        const size_t from = n;
        n = take_ring(cut, ring, out, n);
        if (n > from)
            out->ring_start[++rings] = n;
    }
    out->ring_count = rings;
    if (rings == 0) {
        fw_region_release(out);
        return fw_fail(err, FW_EFAULT, "a strip came out without ground");
    }
    return FW_OK;
}

static enum fw_status take_strips(struct cut *cut, struct fw_region *strips,
                                  struct fw_error *err)
{
    enum fw_status status = name_vertices(cut, err);
    if (!status)
        status = add_fences(cut, err);
    size_t taken = 0;
    while (!status && taken <= cut->cuts->count) {
        status = take_strip(cut, taken, &strips[taken], err);
        taken += status == FW_OK;
    }
    if (status)
        fw_regions_release(strips, taken);
    return status;
}

enum fw_status fw_subdivision_cut(struct fw_subdivision *subdivision,
                                  const struct fw_region *region,
                                  const struct fw_cuts *cuts,
                                  struct fw_region *strips, bool *whole,
                                  struct fw_error *err)
{
    struct cut cut = {
        .subdivision = subdivision, .region = region, .cuts = cuts};
    enum fw_status status = begin(&cut, err);
    if (!status)
        status = place_lines(&cut, err);
    if (!status)
        status = build(&cut, err);
    if (!status) {
        *whole = is_whole(&cut.partition);
        if (*whole)
            status = take_strips(&cut, strips, err);
    }
    release(&cut);
    return status;
}
