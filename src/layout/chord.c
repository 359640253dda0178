/* Where one fence parts connected ground in two.
 *
 * A fence from a corner that juts in to a place on the edge: the ground on one
 * side of it grows evenly while that place moves along a side, so the place for
 * a whole number of paddocks is exact. And lines of the sweep, which may pass
 * over ponds. A fence is the better the shorter it is for the lesser part that
 * it sets off. */
#include "layout/chord.h"
#include "base/alloc.h"
#include "base/fail.h"
#include "layout/board_inner.h"

#include <math.h>
#include <string.h>

enum {
    directions = 36,
    most_lines = 240,
    least_tries = 24,
    most_built = 40000, /* vertices, in trying lines */
    most_anchors = 120  /* corners that fences are tried from */
};

/* A fence that passes a vertex by less would be taken to touch it. */
static const double clear_m = 1e-6;

struct search {
    const struct fw_board *board;
    const struct fw_region *region;
    struct fw_point *points;
    size_t size, outer; /* points in all, and of the outer ring */
    double *wanted_m2;  /* behind each slot, as if all ground were alike */
    size_t count;
    double ring_m2, area_m2; /* of the outer ring, and without the holes */
    struct fw_chord *out;
    size_t most, found;
};

static double cross(struct fw_point o, struct fw_point a, struct fw_point b)
{
    return (a.x_m - o.x_m) * (b.y_m - o.y_m) -
           (a.y_m - o.y_m) * (b.x_m - o.x_m);
}

static double apart_m(struct fw_point a, struct fw_point b)
{
    return hypot(a.x_m - b.x_m, a.y_m - b.y_m);
}

static struct fw_point between(struct fw_point a, struct fw_point b, double t)
{
    return (struct fw_point){a.x_m + (b.x_m - a.x_m) * t,
                             a.y_m + (b.y_m - a.y_m) * t};
}

/* Keep the list sorted by score; equal ones as they came. */
static void keep(struct search *search, const struct fw_chord *chord)
{
    size_t at = search->found;
    while (at > 0 && search->out[at - 1].score > chord->score)
        at--;
    if (at == search->most)
        return;
    if (search->found < search->most)
        search->found++;
    memmove(&search->out[at + 1], &search->out[at],
            (search->found - 1 - at) * sizeof *search->out);
    search->out[at] = *chord;
}

static double score(const struct search *search, double length_m, size_t slots)
{
    const double first_m2 = search->wanted_m2[slots - 1];
    return length_m / sqrt(fmin(first_m2, search->area_m2 - first_m2));
}

/* Worth a look at all? */
static bool promises(const struct search *search, double value)
{
    return search->found < search->most ||
           value < search->out[search->found - 1].score;
}

/* Does the segment keep to the inside, clear of every other vertex and side? */
static bool is_clear(const struct search *search, size_t anchor, size_t side,
                     struct fw_point to)
{
    const struct fw_point from = search->points[anchor];
    const double length_m = apart_m(from, to);
    for (size_t r = 0; r < search->region->ring_count; r++) {
        const size_t first = search->region->ring_start[r];
        const size_t end = search->region->ring_start[r + 1];
        for (size_t i = first; i < end; i++) {
            const size_t next = i + 1 < end ? i + 1 : first;
            const struct fw_point a = search->points[i];
            const struct fw_point b = search->points[next];
            if (i != anchor && fw_segment_distance_m(a, from, to) < clear_m &&
                apart_m(a, to) > clear_m)
                return false;
            if (i == anchor || next == anchor || i == side)
                continue;
            const double d1 = cross(from, to, a), d2 = cross(from, to, b);
            const double d3 = cross(a, b, from), d4 = cross(a, b, to);
            if ((d1 > 0) != (d2 > 0) && (d3 > 0) != (d4 > 0))
                return false;
        }
    }
    const struct fw_point middle = between(from, to, 0.5);
    return length_m > clear_m &&
           fw_ring_contains(search->points, search->outer, middle);
}

/* Does the ring from the anchor along the outer ring to the place have a hole
 * in it? */
static bool has_hole(const struct search *search, size_t anchor, size_t side,
                     struct fw_point to, struct fw_point *ring)
{
    size_t n = 0;
    for (size_t i = anchor;; i = (i + 1) % search->outer) {
        ring[n++] = search->points[i];
        if (i == side)
            break;
    }
    ring[n++] = to;
    for (size_t r = 1; r < search->region->ring_count; r++)
        if (fw_board__within(search->points + search->region->ring_start[r],
                             search->region->ring_start[r + 1] -
                                 search->region->ring_start[r],
                             ring, n))
            return true;
    return false;
}

/* The fence whose near part, from the anchor along the ring to the place, is
 * the first part, or (swapped) the last. That part must have no hole. */
static void try_place(struct search *search, size_t anchor, size_t side,
                      double t, size_t slots, bool swapped,
                      struct fw_point *room)
{
    const struct fw_point a = search->points[side];
    const struct fw_point b = search->points[(side + 1) % search->outer];
    const struct fw_point to = between(a, b, t);
    const double length_m = apart_m(search->points[anchor], to);
    const double value = score(search, length_m, slots);
    if (!promises(search, value) || !is_clear(search, anchor, side, to))
        return;
    if (search->region->ring_count > 1 &&
        has_hole(search, anchor, side, to, room))
        return;
    const struct fw_region_place from = {anchor, 0}, at = {side, t};
    /* The near part lies to the left of the way back to the anchor. */
    const struct fw_chord chord = {.slots = slots,
                                   .length_m = length_m,
                                   .score = value,
                                   .from = swapped ? from : at,
                                   .to = swapped ? at : from};
    keep(search, &chord);
}

static bool juts_in(const struct search *search, size_t i)
{
    const size_t n = search->outer;
    const struct fw_point before = search->points[(i + n - 1) % n];
    const struct fw_point at = search->points[i];
    const struct fw_point after = search->points[(i + 1) % n];
    const double turn = cross(before, at, after);
    return turn < -0.02 * apart_m(before, at) * apart_m(at, after);
}

/* All the places that leave a whole number of paddocks, from one corner. */
static void from_anchor(struct search *search, size_t anchor,
                        struct fw_point *room)
{
    const size_t n = search->outer;
    const struct fw_point o = search->points[anchor];
    double near_m2 = 0;
    for (size_t step = 1; step + 1 < n; step++) {
        const size_t side = (anchor + step) % n;
        const double grows =
            cross(o, search->points[side], search->points[(side + 1) % n]) / 2;
        for (size_t k = 1; k < search->count && grows > 0; k++) {
            const double first = search->wanted_m2[k - 1];
            const double wanted[2] = {first, search->area_m2 - first};
            for (int swapped = 0; swapped < 2; swapped++) {
                const double t = (wanted[swapped] - near_m2) / grows;
                if (t > 0 && t < 1)
                    try_place(search, anchor, side, t, k, swapped == 1, room);
            }
        }
        near_m2 += grows;
    }
}

/* Of many corners that jut in, those spread evenly round the edge. */
static enum fw_status by_corners(struct search *search, struct fw_error *err)
{
    struct fw_point *room = fw_alloc(search->outer + 1, sizeof *room);
    size_t *anchors = fw_alloc(search->outer, sizeof *anchors);
    size_t count = 0;
    const bool fine = room && anchors;
    for (size_t i = 0; fine && i < search->outer; i++)
        if (juts_in(search, i))
            anchors[count++] = i;
    const size_t tried = count < most_anchors ? count : most_anchors;
    for (size_t i = 0; i < tried; i++)
        from_anchor(search, anchors[i * count / tried], room);
    fw_free(room);
    fw_free(anchors);
    return fine ? FW_OK : fw_fail_memory(err);
}

/* A line right across that is short for what it sets off. */
struct line {
    double score, deg, position_m, length_m;
    size_t slots;
};

/* Keep the best, equal ones as they came. */
static void keep_line(struct line *lines, size_t *count,
                      const struct line *line)
{
    size_t at = *count;
    while (at > 0 && lines[at - 1].score > line->score)
        at--;
    if (at == most_lines)
        return;
    if (*count < most_lines)
        ++*count;
    memmove(&lines[at + 1], &lines[at], (*count - 1 - at) * sizeof *lines);
    lines[at] = *line;
}

/* Whether a line leaves two whole parts shows when the parts are built. */
static enum fw_status try_line(struct search *search, struct fw_sweep *sweep,
                               const struct line *line,
                               struct fw_partition *two, struct fw_error *err)
{
    if (!promises(search, line->score))
        return FW_OK;
    fw_sweep_turn(sweep, line->deg);
    const enum fw_status status =
        fw_sweep_build(sweep, &line->position_m, 1, two, err);
    const struct fw_chord chord = {.slots = line->slots,
                                   .length_m = line->length_m,
                                   .score = line->score,
                                   .parallel = true,
                                   .direction_deg = line->deg};
    if (!status && two->piece_count == 2)
        keep(search, &chord);
    return status;
}

static enum fw_status by_lines(struct search *search, struct fw_error *err)
{
    struct fw_sweep *sweep = NULL;
    struct fw_partition two = {0};
    struct line lines[most_lines];
    size_t count = 0;
    double *room = fw_alloc(2 * search->count, sizeof *room);
    if (!room)
        return fw_fail_memory(err);
    enum fw_status status =
        fw_sweep_new(search->points, search->region->ring_start,
                     search->region->ring_count, &sweep, err);
    for (size_t i = 0; !status && i < 2 * directions; i++) {
        const double deg = 180.0 * (double)i / directions;
        fw_sweep_turn(sweep, deg);
        fw_sweep_cut(sweep, search->wanted_m2, search->count - 1, room,
                     room + search->count);
        for (size_t k = 1; k < search->count; k++) {
            const double length_m = room[search->count + k - 1];
            const struct line line = {score(search, length_m, k), deg,
                                      room[k - 1], length_m, k};
            keep_line(lines, &count, &line);
        }
    }
    const size_t tries = least_tries + most_built / search->size;
    for (size_t i = 0; !status && i < count && i < tries; i++)
        status = try_line(search, sweep, &lines[i], &two, err);
    fw_partition_release(&two);
    fw_sweep_free(sweep);
    fw_free(room);
    return status;
}

static enum fw_status begin(struct search *search, const double *behind,
                            double base, struct fw_error *err)
{
    const struct fw_region *region = search->region;
    search->points = fw_board_points(search->board, region);
    search->wanted_m2 = fw_alloc(search->count, sizeof(double));
    if (!search->points || !search->wanted_m2)
        return fw_fail_memory(err);
    search->size = fw_region_size(region);
    search->outer = region->ring_start[1];
    search->ring_m2 = fw_ring_area_m2(search->points, search->outer);
    for (size_t r = 0; r < region->ring_count; r++)
        search->area_m2 +=
            fw_ring_area_m2(search->points + region->ring_start[r],
                            region->ring_start[r + 1] - region->ring_start[r]);
    const double all = behind[search->count - 1] - base;
    for (size_t k = 0; k < search->count; k++)
        search->wanted_m2[k] = (behind[k] - base) * (search->area_m2 / all);
    return FW_OK;
}

enum fw_status fw_layout__chords(const struct fw_board *board,
                                 const struct fw_region *region,
                                 const double *behind, double base,
                                 size_t count, struct fw_chord *out,
                                 size_t most, size_t *out_count,
                                 struct fw_error *err)
{
    struct search search = {.board = board,
                            .region = region,
                            .count = count,
                            .out = out,
                            .most = most};
    enum fw_status status = begin(&search, behind, base, err);
    if (!status)
        status = by_corners(&search, err);
    if (!status)
        status = by_lines(&search, err);
    for (size_t i = 0; i < search.found; i++)
        out[i].behind = behind[out[i].slots - 1] - base;
    *out_count = search.found;
    fw_free(search.points);
    fw_free(search.wanted_m2);
    return status;
}

/* ---- cutting ---- */

/* Along the outer ring, counted in sides, from 0 up to once round. */
static struct fw_region_place place_at(const struct fw_region *region, double s)
{
    const size_t outer = region->ring_start[1];
    double whole;
    const double t = modf(s, &whole);
    return (struct fw_region_place){(size_t)whole % outer, t};
}

static enum fw_status holds_left(struct fw_board *board,
                                 const struct fw_region *region,
                                 const struct fw_chord *chord, double *out,
                                 struct fw_error *err)
{
    struct fw_region parts[2];
    const size_t vertices = board->vertex_count;
    const size_t carriers = board->carrier_count, lines = board->line_count;
    enum fw_status status =
        fw_board_split(board, region, chord->from, chord->to, NULL, 0,
                       FW_LINE_MOVED, parts, err);
    if (status)
        return status;
    status = fw_board_holds(board, &parts[0], out, err);
    fw_region_release(&parts[0]);
    fw_region_release(&parts[1]);
    board->vertex_count = vertices;
    board->carrier_count = carriers;
    board->line_count = lines;
    return status;
}

/* On unequal ground the free end is moved along its side until the first part
 * holds what it should; *found false when that side is too short for it. */
static enum fw_status settle(struct fw_board *board,
                             const struct fw_region *region,
                             struct fw_chord *chord, bool *found,
                             struct fw_error *err)
{
    struct fw_region_place *free_end =
        chord->from.t > 0 ? &chord->from : &chord->to;
    const double side = (double)free_end->side;
    const bool grows = free_end == &chord->from;
    double low = 0, high = 1;
    for (int i = 0; i < 200 && high - low > 1e-16; i++) {
        const double t = (low + high) / 2;
        double holds;
        *free_end = place_at(region, side + t);
        const enum fw_status status =
            holds_left(board, region, chord, &holds, err);
        if (status)
            return status;
        *((holds < chord->behind) == grows ? &low : &high) = t;
    }
    *found = low > 0 && high < 1;
    return FW_OK;
}

enum fw_status fw_layout__cut_chord(struct fw_board *board,
                                    const struct fw_region *region,
                                    const struct fw_chord *chord,
                                    struct fw_region parts[2], bool *whole,
                                    struct fw_error *err)
{
    if (chord->parallel)
        return fw_board_cut(board, region, chord->direction_deg, &chord->behind,
                            1, FW_LINE_STANDING, parts, whole, err);
    struct fw_chord exact = *chord;
    *whole = true;
    enum fw_status status =
        board->ground ? settle(board, region, &exact, whole, err) : FW_OK;
    if (!status && *whole)
        status = fw_board_split(board, region, exact.from, exact.to, NULL, 0,
                                FW_LINE_STANDING, parts, err);
    return status;
}
