/* Where one fence parts connected ground in two.
 *
 * A fence from a corner that juts in to a place on the edge: the ground on one
 * side of it grows evenly while that place moves along a side, so the place for
 * a whole number of paddocks is exact. And lines of the sweep, which may pass
 * over ponds. A fence is the better the shorter it is for the lesser part that
 * it sets off. */
#include "cutting/chord.h"
#include "base/alloc.h"
#include "base/array.h"
#include "base/fail.h"
#include "base/length.h"
#include "cutting/subdivision_inner.h"
#include "figures/mark.h"
#include "geo/points.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum {
    directions = FW_EFFORT(36), /* over half a turn; each is swept both ways */
    lines_taken = FW_EFFORT(8), /* of one direction, the best */
    all_lines = 2 * directions * lines_taken,
    most_candidates = 1 << 16 /* of a region */
};

/* A fence that passes a vertex by less would be taken to touch it. */
static const double clear_m = FW_TOLERANCE(1e-6);

/* What looking at one region may cost, in vertices looked at. */
static const size_t most_looks = FW_EFFORT(10000000);

/* A fence that may do: whether it does shows when it is looked at. */
struct candidate {
    struct fw_chord chord;
    size_t anchor, side; /* of one from a corner */
    double t;
    size_t number; /* as they came */
};

struct search {
    const struct fw_subdivision *subdivision;
    const struct fw_region *region;
    struct fw_point *points;
    size_t size, outer; /* points in all, and of the outer ring */
    double *wanted_m2;  /* behind each plot, as if all ground were alike */
    size_t count;
    size_t only;    /* so many plots, unless 0 */
    double area_m2; /* without the holes */
    struct candidate *candidates;
    size_t candidate_count, candidate_capacity, number;
    size_t candidate_most; /* kept at a time */
    double too_long;       /* a score: as many as can be looked at are better */
    struct fw_sweep *sweep;
    struct fw_point *room; /* for a ring */
    size_t looks;
    struct fw_chords *out;
    size_t *kept; /* which of the candidates these are */
};

static double cross(struct fw_point o, struct fw_point a, struct fw_point b)
{
    return (a.x_m - o.x_m) * (b.y_m - o.y_m) -
           (a.y_m - o.y_m) * (b.x_m - o.x_m);
}

/* Rounded once, alike on every machine: of chords that mirror each other the
 * last bit decides. The square root's own rounding is taken off again (Borges,
 * 2019: an improved algorithm for the hypotenuse). */
static double apart_m(struct fw_point a, struct fw_point b)
{
    const double dx = fabs(a.x_m - b.x_m), dy = fabs(a.y_m - b.y_m);
    const double x = fmax(dx, dy), y = fmin(dx, dy);
    const double h = fw_length(x, y);
    if (!(h > 0))
        return h;
    const double hh = h * h, xx = x * x;
    const double over = fma(-y, y, hh - xx) + fma(h, h, -hh) - fma(x, x, -xx);
    return h - over / (2 * h);
}

static int by_score(const void *left, const void *right)
{
    const struct candidate *a = left, *b = right;
    if (a->chord.score < b->chord.score || a->chord.score > b->chord.score)
        return a->chord.score < b->chord.score ? -1 : 1;
    return a->number < b->number ? -1 : a->number > b->number;
}

/* Twice as many as can be looked at, however little a look costs. */
static size_t worth_keeping(size_t size)
{
    const size_t most = 2 * (most_looks / size + 1 + all_lines);
    return most < most_candidates ? most : most_candidates;
}

/* When there is no more room the worse half goes. */
static enum fw_status offer(struct search *search,
                            const struct candidate *candidate,
                            struct fw_error *err)
{
    if ((search->only > 0 && candidate->chord.plots != search->only) ||
        candidate->chord.score >= search->too_long)
        return FW_OK;
    if (search->candidate_count == search->candidate_most) {
        qsort(search->candidates, search->candidate_count, sizeof *candidate,
              by_score);
        search->candidate_count /= 2;
        search->too_long =
            search->candidates[search->candidate_count - 1].chord.score;
    }
    const enum fw_status status =
        fw_array_reserve(&search->candidates, &search->candidate_capacity,
                         search->candidate_count + 1, sizeof *candidate, err);
    if (status)
        return status;
    search->candidates[search->candidate_count] = *candidate;
    search->candidates[search->candidate_count++].number = search->number++;
    return FW_OK;
}

static double score(const struct search *search, double length_m, size_t plots)
{
    const double first_m2 = search->wanted_m2[plots - 1];
    return length_m / sqrt(fmin(first_m2, search->area_m2 - first_m2));
}

/* ---- from a corner that juts in ---- */

static size_t outer_before(const struct search *search, size_t i)
{
    return i > 0 ? i - 1 : search->outer - 1;
}

static size_t outer_after(const struct search *search, size_t i)
{
    return i + 1 < search->outer ? i + 1 : 0;
}

/* Does a fence to there leave the corner on the inside? */
static bool leaves_inwards(const struct search *search, size_t anchor,
                           struct fw_point to)
{
    const struct fw_point at = search->points[anchor];
    return cross(search->points[outer_before(search, anchor)], at, to) > 0 ||
           cross(at, search->points[outer_after(search, anchor)], to) > 0;
}

static enum fw_status offer_place(struct search *search, size_t anchor,
                                  struct fw_region_station at, size_t plots,
                                  bool swapped, struct fw_error *err)
{
    const struct fw_point to =
        fw_point_between(search->points[at.side],
                         search->points[outer_after(search, at.side)], at.t);
    if (!leaves_inwards(search, anchor, to))
        return FW_OK;
    const double length_m = apart_m(search->points[anchor], to);
    const struct fw_region_station from = {anchor, 0};
    /* The near part lies to the left of the way back to the anchor. */
    const struct candidate candidate = {
        .chord = {.plots = plots,
                  .length_m = length_m,
                  .score = score(search, length_m, plots),
                  .from = swapped ? from : at,
                  .to = swapped ? at : from},
        .anchor = anchor,
        .side = at.side,
        .t = at.t};
    return offer(search, &candidate, err);
}

/* The first number of paddocks that hold more than so much. */
static size_t first_over(const struct search *search, double m2)
{
    size_t low = 1, high = search->count;
    while (low < high) {
        const size_t middle = (low + high) / 2;
        if (search->wanted_m2[middle - 1] > m2)
            high = middle;
        else
            low = middle + 1;
    }
    return low;
}

/* The fences that end on one side: the near part, from the anchor along the
 * ring to that end, is the first k paddocks, or (swapped) all but these. */
static enum fw_status offer_side(struct search *search, size_t anchor,
                                 size_t side, double near_m2, double grows,
                                 struct fw_error *err)
{
    enum fw_status status = FW_OK;
    for (int swapped = 0; swapped < 2; swapped++) {
        const double least =
            swapped ? search->area_m2 - near_m2 - grows : near_m2;
        for (size_t k = first_over(search, least); !status && k < search->count;
             k++) {
            const double first = search->wanted_m2[k - 1];
            const double wanted = swapped ? search->area_m2 - first : first;
            const struct fw_region_station at = {side,
                                                 (wanted - near_m2) / grows};
            if (!(at.t > 0 && at.t < 1))
                break;
            status = offer_place(search, anchor, at, k, swapped == 1, err);
        }
    }
    return status;
}

/* Even a fence for half of the ground would be too long. */
static bool is_too_far(const struct search *search, size_t anchor, size_t side)
{
    return isfinite(search->too_long) &&
           fw_segment_distance_m(search->points[anchor], search->points[side],
                                 search->points[outer_after(search, side)]) >
               search->too_long * sqrt(search->area_m2 / 2);
}

static enum fw_status offer_corner(struct search *search, size_t anchor,
                                   struct fw_error *err)
{
    const struct fw_point o = search->points[anchor];
    enum fw_status status = FW_OK;
    double near_m2 = 0;
    size_t side = outer_after(search, anchor);
    for (size_t step = 1; !status && step + 1 < search->outer; step++) {
        const size_t next = outer_after(search, side);
        const double grows =
            cross(o, search->points[side], search->points[next]) / 2;
        if (grows > 0 && !is_too_far(search, anchor, side))
            status = offer_side(search, anchor, side, near_m2, grows, err);
        near_m2 += grows;
        side = next;
    }
    return status;
}

/* ---- right across ---- */

static enum fw_status offer_direction(struct search *search, double deg,
                                      double *room, struct fw_error *err)
{
    const size_t cuts = search->count - 1;
    double *length_m = room + search->count;
    struct candidate best[lines_taken];
    size_t found = 0;
    fw_sweep_turn(search->sweep, deg);
    fw_sweep_cut(search->sweep, search->wanted_m2, cuts, room, length_m);
    for (size_t k = 1; k <= cuts; k++) {
        const double value = score(search, length_m[k - 1], k);
        size_t at = found;
        while (at > 0 && best[at - 1].chord.score > value)
            at--;
        if (at == lines_taken)
            continue;
        found += found < lines_taken;
        memmove(&best[at + 1], &best[at], (found - 1 - at) * sizeof *best);
        best[at] = (struct candidate){.chord = {.plots = k,
                                                .length_m = length_m[k - 1],
                                                .score = value,
                                                .parallel = true,
                                                .direction_deg = deg},
                                      .t = room[k - 1]};
    }
    enum fw_status status = FW_OK;
    for (size_t i = 0; !status && i < found; i++)
        status = offer(search, &best[i], err);
    return status;
}

/* ---- do they part the region in two? ---- */

/* Does the segment keep to the inside, clear of every other vertex and side? */
static bool is_clear(const struct search *search, size_t anchor, size_t side,
                     struct fw_point to)
{
    const struct fw_point from = search->points[anchor];
    const double length_m = apart_m(from, to);
    if (length_m <= clear_m)
        return false;
    for (size_t r = 0; r < search->region->ring_count; r++) {
        const size_t end = search->region->ring_start[r + 1];
        size_t i = end - 1;
        double d1 = cross(from, to, search->points[i]);
        for (size_t next = search->region->ring_start[r]; next < end;
             i = next++) {
            const struct fw_point a = search->points[i];
            const struct fw_point b = search->points[next];
            const double d2 = cross(from, to, b);
            const bool sides_differ = (d1 > 0) != (d2 > 0);
            if (i != anchor && fabs(d1) < clear_m * length_m &&
                fw_segment_distance_m(a, from, to) < clear_m &&
                apart_m(a, to) > clear_m)
                return false;
            d1 = d2;
            if (sides_differ && i != anchor && next != anchor && i != side &&
                (cross(a, b, from) > 0) != (cross(a, b, to) > 0))
                return false;
        }
    }
    return true;
}

/* Does the ring from the anchor along the outer ring to the place have a hole
 * in it? */
static bool has_hole(const struct search *search, size_t anchor, size_t side,
                     struct fw_point to)
{
    const size_t *start = search->region->ring_start;
    size_t n = 0;
    for (size_t i = anchor;; i = outer_after(search, i)) {
        search->room[n++] = search->points[i];
        if (i == side)
            break;
    }
    search->room[n++] = to;
    for (size_t r = 1; r < search->region->ring_count; r++)
        if (fw_subdivision__within(search->points + start[r],
                                   start[r + 1] - start[r], search->room, n))
            return true;
    return false;
}

/* The near part of one from a corner must have no hole: its area is that of
 * its outer ring. */
static bool corner_parts(struct search *search,
                         const struct candidate *candidate)
{
    const struct fw_point to = fw_point_between(
        search->points[candidate->side],
        search->points[outer_after(search, candidate->side)], candidate->t);
    search->looks += search->size;
    if (!is_clear(search, candidate->anchor, candidate->side, to))
        return false;
    search->looks +=
        FW_EFFORT(16) * (search->region->ring_count - 1) * search->outer;
    return !has_hole(search, candidate->anchor, candidate->side, to);
}

static enum fw_status line_parts(struct search *search,
                                 const struct candidate *candidate, bool *parts,
                                 struct fw_error *err)
{
    struct fw_partition two = {0};
    search->looks +=
        search->size * (FW_EFFORT(16) + (search->region->ring_count - 1) / 2);
    fw_sweep_turn(search->sweep, candidate->chord.direction_deg);
    const enum fw_status status =
        fw_sweep_build(search->sweep, &candidate->t, 1, &two, err);
    *parts = !status && two.piece_count == 2;
    fw_partition_release(&two);
    return status;
}

/* A line of the sweep the other way comes out at the same place when the
 * paddocks are alike. */
static bool is_known(const struct search *search,
                     const struct candidate *candidate)
{
    const double same_m = FW_TOLERANCE(1e-6);
    for (size_t i = 0; i < search->out->count; i++) {
        const struct candidate *other = &search->candidates[search->kept[i]];
        const double apart_deg =
            fabs(other->chord.direction_deg - candidate->chord.direction_deg);
        if (candidate->chord.parallel && other->chord.parallel &&
            fabs(apart_deg - 180) < FW_TOLERANCE(1e-9) &&
            fabs(other->t + candidate->t) < same_m)
            return true;
    }
    return false;
}

static enum fw_status look(struct search *search, struct fw_error *err)
{
    enum fw_status status = FW_OK;
    if (search->candidate_count > 0)
        qsort(search->candidates, search->candidate_count,
              sizeof *search->candidates, by_score);
    for (size_t i = 0;
         !status && i < search->candidate_count &&
         search->out->count < search->out->most && search->looks < most_looks;
         i++) {
        const struct candidate *candidate = &search->candidates[i];
        bool parts = false;
        if (is_known(search, candidate))
            continue;
        if (candidate->chord.parallel)
            status = line_parts(search, candidate, &parts, err);
        else
            parts = corner_parts(search, candidate);
        if (parts) {
            search->kept[search->out->count] = i;
            search->out->items[search->out->count++] = candidate->chord;
        }
    }
    return status;
}

static enum fw_status begin(struct search *search, const double *behind,
                            double base, struct fw_error *err)
{
    const struct fw_region *region = search->region;
    search->points = fw_subdivision_points(search->subdivision, region);
    search->wanted_m2 = fw_alloc(search->count, sizeof(double));
    search->room = fw_alloc(region->ring_start[1] + 1, sizeof *search->room);
    search->kept = fw_alloc(search->out->most, sizeof *search->kept);
    if (!search->points || !search->wanted_m2 || !search->room || !search->kept)
        return fw_fail_memory(err);
    search->size = fw_region_size(region);
    search->candidate_most = worth_keeping(search->size);
    search->outer = region->ring_start[1];
    for (size_t r = 0; r < region->ring_count; r++)
        search->area_m2 +=
            fw_ring_area_m2(search->points + region->ring_start[r],
                            region->ring_start[r + 1] - region->ring_start[r]);
    const double all = behind[search->count - 1] - base;
    for (size_t k = 0; k < search->count; k++)
        search->wanted_m2[k] = (behind[k] - base) * (search->area_m2 / all);
    return fw_sweep_new(search->points, region->ring_start, region->ring_count,
                        &search->sweep, err);
}

static enum fw_status offer_all(struct search *search, struct fw_error *err)
{
    size_t corners[FW_MOST_CORNERS];
    const size_t corner_count =
        fw_chord_corners(search->points, search->outer, corners);
    enum fw_status status = FW_OK;
    for (size_t i = 0; !status && i < corner_count; i++)
        status = offer_corner(search, corners[i], err);
    double *room = fw_alloc(2 * search->count, sizeof *room);
    if (!status && !room)
        status = fw_fail_memory(err);
    for (size_t i = 0; !status && i < (size_t)2 * directions; i++)
        status =
            offer_direction(search, 180.0 * (double)i / directions, room, err);
    fw_free(room);
    return status;
}

enum fw_status fw_layout__chords(const struct fw_plots *plots,
                                 const struct fw_part *part, size_t only,
                                 struct fw_chords *out, struct fw_error *err)
{
    const double *behind = plots->behind + part->first;
    const double base = fw_plots_before(plots, part->first);
    struct search search = {.subdivision = &plots->subdivision,
                            .region = part->region,
                            .count = part->count,
                            .only = only,
                            .too_long = HUGE_VAL,
                            .out = out};
    out->count = 0;
    enum fw_status status = begin(&search, behind, base, err);
    if (!status)
        status = offer_all(&search, err);
    if (!status)
        status = look(&search, err);
    for (size_t i = 0; i < out->count; i++)
        out->items[i].behind = behind[out->items[i].plots - 1] - base;
    fw_sweep_free(search.sweep);
    fw_free(search.candidates);
    fw_free(search.room);
    fw_free(search.kept);
    fw_free(search.points);
    fw_free(search.wanted_m2);
    return status;
}
