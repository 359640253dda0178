/* A contour's exact place: moved until the ground on its left holds what it
 * should, its ends sliding along the region's edge. */
#include "base/alloc.h"
#include "base/fail.h"
#include "base/length.h"
#include "cutting/contour.h"
#include "cutting/subdivision_inner.h"
#include "figures/layout.h"
#include "figures/mark.h"
#include "geo/points.h"

#include <math.h>
#include <string.h>

/* Of what a line is to have on its left: known so well, it is exact. */
static const double quarter = 1.0 / FW_PARTS(4);
static const double close_enough = FW_TOLERANCE(1e-12);

enum { most_steps = FW_EFFORT(60) };

struct settling {
    const struct fw_subdivision *subdivision;
    const struct fw_region *region;
    const struct fw_contour *contour;
    const struct fw_contour_wish *wish;
    struct fw_point way;     /* uphill, of length one */
    struct fw_point *points; /* of the region */
    struct fw_point *left;   /* what is measured: a ring, then holes */
    size_t *left_start;
    double density; /* on the whole */
};

/* ---- from edge to edge ---- */

static size_t side_end(const struct fw_region *region, size_t side)
{
    size_t r = 0;
    while (side >= region->ring_start[r + 1])
        r++;
    return side + 1 < region->ring_start[r + 1] ? side + 1
                                                : region->ring_start[r];
}

/* Is the side one of the field's, and of the outer ring? */
static bool may_end_on(const struct settling *settling, size_t side)
{
    return side < settling->region->ring_start[1] &&
           settling->region->supports[side] <
               settling->subdivision->field->vertex_count;
}

/* The first side that is met on the way from a point. */
static bool reach_edge(const struct settling *settling, struct fw_point from,
                       struct fw_point toward, struct fw_region_station *place,
                       struct fw_point *at)
{
    const struct fw_region *region = settling->region;
    const struct fw_point way = fw_point_minus(toward, from);
    double least = HUGE_VAL;
    for (size_t r = 0; r < region->ring_count; r++)
        for (size_t i = region->ring_start[r]; i < region->ring_start[r + 1];
             i++) {
            const size_t next = i + 1 < region->ring_start[r + 1]
                                    ? i + 1
                                    : region->ring_start[r];
            const struct fw_point p = settling->points[i];
            const struct fw_point q = settling->points[next];
            const double aside = fw_point_cross(way, fw_point_minus(p, from));
            const double beyond = fw_point_cross(way, fw_point_minus(q, from));
            if ((aside >= 0) == (beyond >= 0))
                continue;
            const double t = aside / (aside - beyond);
            const struct fw_point on = {p.x_m + (q.x_m - p.x_m) * t,
                                        p.y_m + (q.y_m - p.y_m) * t};
            const double ahead =
                (on.x_m - from.x_m) * way.x_m + (on.y_m - from.y_m) * way.y_m;
            if (!(ahead > 0) || ahead >= least)
                continue;
            least = ahead;
            *place = (struct fw_region_station){i, t};
            *at = on;
        }
    return isfinite(least) && may_end_on(settling, place->side);
}

static bool is_inside(const struct settling *settling, struct fw_point p)
{
    const struct fw_region *region = settling->region;
    for (size_t r = 0; r < region->ring_count; r++) {
        const size_t first = region->ring_start[r];
        if (fw_ring_contains(settling->points + first,
                             region->ring_start[r + 1] - first, p) != (r == 0))
            return false;
    }
    return true;
}

/* The contour moved by so much, its ends carried on to the edge. */
static bool place_at(const struct settling *settling, double by_m,
                     struct fw_contour_fit *out)
{
    struct fw_contour line = *settling->contour;
    const size_t last = line.count - 1;
    for (size_t i = 0; i <= last; i++) {
        line.at[i].x_m += settling->way.x_m * by_m;
        line.at[i].y_m += settling->way.y_m * by_m;
    }
    const struct fw_point middle = {(line.at[0].x_m + line.at[last].x_m) / 2,
                                    (line.at[0].y_m + line.at[last].y_m) / 2};
    const struct fw_point second = last > 1 ? line.at[1] : middle;
    const struct fw_point last_but_one = last > 1 ? line.at[last - 1] : middle;
    if (last == 1 && !is_inside(settling, middle))
        return false;
    for (size_t i = 1; i < last; i++)
        if (!is_inside(settling, line.at[i]))
            return false;
    out->line = line;
    return reach_edge(settling, second, line.at[0], &out->from,
                      &out->line.at[0]) &&
           reach_edge(settling, last_but_one, line.at[last], &out->to,
                      &out->line.at[last]);
}

/* What the ground to the left of the line holds. */
static double left_holds(const struct settling *settling,
                         const struct fw_contour_fit *fit)
{
    const struct fw_region *region = settling->region;
    struct fw_point *left = settling->left;
    size_t n = 0, rings = 1;
    for (; n < fit->line.count; n++)
        left[n] = fit->line.at[n];
    bool round = fit->to.side == fit->from.side && fit->to.t <= fit->from.t;
    for (size_t side = fit->to.side; !round;) {
        side = side_end(region, side);
        left[n++] = settling->points[side];
        round = side == fit->from.side;
    }
    settling->left_start[1] = n;
    for (size_t r = 1; r < region->ring_count; r++) {
        const struct fw_point *hole = settling->points + region->ring_start[r];
        const size_t count = region->ring_start[r + 1] - region->ring_start[r];
        if (!fw_subdivision__within(hole, count, left, settling->left_start[1]))
            continue;
        memcpy(left + n, hole, count * sizeof *hole);
        n += count;
        settling->left_start[++rings] = n;
    }
    return fw_subdivision__measure(settling->subdivision, left,
                                   settling->left_start, rings);
}

/* ---- clear of everything ---- */

static bool legs_cross(struct fw_point a, struct fw_point b, struct fw_point c,
                       struct fw_point d)
{
    const struct fw_point ab = fw_point_minus(b, a), cd = fw_point_minus(d, c);
    return (fw_point_cross(ab, fw_point_minus(c, a)) > 0) !=
               (fw_point_cross(ab, fw_point_minus(d, a)) > 0) &&
           (fw_point_cross(cd, fw_point_minus(a, c)) > 0) !=
               (fw_point_cross(cd, fw_point_minus(b, c)) > 0);
}

static double to_line_m(const struct fw_contour *line, struct fw_point p)
{
    double least_m = HUGE_VAL;
    for (size_t i = 0; i + 1 < line->count; i++)
        least_m = fmin(least_m,
                       fw_segment_distance_m(p, line->at[i], line->at[i + 1]));
    return least_m;
}

static bool is_simple(const struct fw_contour *line, double clear_m)
{
    for (size_t i = 0; i + 1 < line->count; i++)
        for (size_t j = 0; j < line->count; j++) {
            if (j == i || j == i + 1)
                continue;
            if (fw_segment_distance_m(line->at[j], line->at[i],
                                      line->at[i + 1]) < clear_m)
                return false;
            if (j > i + 1 && j + 1 < line->count &&
                legs_cross(line->at[i], line->at[i + 1], line->at[j],
                           line->at[j + 1]))
                return false;
        }
    return true;
}

static bool leads_in(const struct settling *settling,
                     struct fw_region_station place, struct fw_point from,
                     struct fw_point to)
{
    const struct fw_point side =
        fw_point_minus(settling->points[side_end(settling->region, place.side)],
                       settling->points[place.side]);
    const struct fw_point way = fw_point_minus(to, from);
    return fabs(fw_point_cross(side, way)) > FW_SLIVER_SINE *
                                                 fw_length(side.x_m, side.y_m) *
                                                 fw_length(way.x_m, way.y_m);
}

/* The field's own corners may be near where the line ends. */
static bool clears_vertex(const struct settling *settling,
                          const struct fw_contour *line, size_t i)
{
    const struct fw_point p = settling->points[i];
    const double clear_m = settling->wish->clear_m;
    const double reach_m = FW_CONTOUR_CORNER_CLEAR * clear_m;
    const bool own = settling->region->vertices[i] <
                     settling->subdivision->field->vertex_count;
    if (own && (fw_point_apart_m(p, line->at[0]) < reach_m ||
                fw_point_apart_m(p, line->at[line->count - 1]) < reach_m))
        return true;
    return to_line_m(line, p) >= clear_m;
}

static bool clears_side(const struct settling *settling,
                        const struct fw_contour *line, size_t i)
{
    const struct fw_point a = settling->points[i];
    const struct fw_point b = settling->points[side_end(settling->region, i)];
    const bool fence = settling->region->supports[i] >=
                       settling->subdivision->field->vertex_count;
    const size_t last = line->count - 1;
    for (size_t k = 0; k <= last; k++) {
        const bool end = k == 0 || k == last;
        if ((fence || !end) &&
            fw_segment_distance_m(line->at[k], a, b) < settling->wish->clear_m)
            return false;
    }
    for (size_t k = 1; k + 1 < last; k++) /* the outer legs end where they meet
                                             the first side */
        if (legs_cross(line->at[k], line->at[k + 1], a, b))
            return false;
    return true;
}

static bool is_clear(const struct settling *settling,
                     const struct fw_contour_fit *fit)
{
    const struct fw_contour *line = &fit->line;
    const size_t last = line->count - 1;
    if (!is_simple(line, settling->wish->clear_m) ||
        !leads_in(settling, fit->from, line->at[0], line->at[1]) ||
        !leads_in(settling, fit->to, line->at[last - 1], line->at[last]))
        return false;
    for (size_t i = 0; i < fw_region_size(settling->region); i++)
        if (!clears_vertex(settling, line, i) ||
            !clears_side(settling, line, i))
            return false;
    return true;
}

/* ---- the place ---- */

struct bound { /* a place, and by how much the left then holds too much */
    double by_m, off;
    bool known;
};

/* How fast the left grows as the line moves. */
static double growth(const struct settling *settling,
                     const struct fw_contour *line)
{
    const struct fw_point way =
        fw_point_minus(line->at[line->count - 1], line->at[0]);
    return fabs(fw_point_cross(way, settling->way)) * settling->density;
}

/* Some place where the line stands at all, near where it should. */
static bool find_any(const struct settling *settling, double start_m,
                     double most_m, double *by_m, struct fw_contour_fit *out)
{
    static const double tries[] = {0, quarter, -quarter, 0.5, -0.5};
    for (size_t i = 0; i < sizeof tries / sizeof *tries; i++) {
        *by_m = start_m + tries[i] * most_m;
        if (place_at(settling, *by_m, out))
            return true;
    }
    return false;
}

/* Newton's steps with the line's width; false position once it lies between
 * two places, where a bound that stays twice counts half. A place where the
 * line cannot stand is left half-way. */
static bool seek(const struct settling *settling, struct fw_contour_fit *out)
{
    const double wanted = settling->wish->holds;
    const double width_m = wanted / growth(settling, settling->contour);
    const double most_m = width_m + settling->wish->slack_m;
    struct bound low = {0}, high = {0};
    double by_m;
    if (!isfinite(width_m) || !find_any(settling, 0, most_m, &by_m, out))
        return false;
    double good_m = by_m;
    int last = 0;
    for (int i = 0; i < most_steps && fabs(by_m) <= most_m; i++) {
        if (!place_at(settling, by_m, out)) {
            by_m = (by_m + good_m) / 2;
            continue;
        }
        good_m = by_m;
        const double off = left_holds(settling, out) - wanted;
        if (fabs(off) <= close_enough * wanted)
            return true;
        const int side = off < 0 ? -1 : 1;
        *(side < 0 ? &low : &high) = (struct bound){by_m, off, true};
        if (side == last && low.known && high.known)
            *(side < 0 ? &high.off : &low.off) /= 2;
        last = side;
        by_m = low.known && high.known
                   ? low.by_m -
                         low.off * (high.by_m - low.by_m) / (high.off - low.off)
                   : by_m - off / growth(settling, &out->line);
    }
    return false;
}

/* Square to the way from end to end, higher ground to its right. */
static bool find_way(struct settling *settling)
{
    const struct fw_contour *line = settling->contour;
    const struct fw_point along =
        fw_point_minus(line->at[line->count - 1], line->at[0]);
    const double m = fw_length(along.x_m, along.y_m);
    settling->way = (struct fw_point){along.y_m / m, -along.x_m / m};
    return m > settling->wish->clear_m;
}

enum fw_status fw_contour_settle(const struct fw_subdivision *subdivision,
                                 const struct fw_region *region,
                                 const struct fw_contour_wish *wish,
                                 struct fw_contour_fit *out, bool *fits,
                                 struct fw_error *err)
{
    const struct fw_contour contour = out->line;
    struct settling settling = {
        .subdivision = subdivision,
        .region = region,
        .contour = &contour,
        .wish = wish,
        .points = fw_subdivision_points(subdivision, region),
        .left = fw_alloc(fw_region_size(region) + FW_MOST_CONTOUR,
                         sizeof *settling.left),
        .left_start = fw_alloc(region->ring_count + 1, sizeof(size_t)),
    };
    const bool room = settling.points && settling.left && settling.left_start;
    *fits = false;
    if (room && find_way(&settling)) {
        double m2 = 0;
        for (size_t r = 0; r < region->ring_count; r++)
            m2 += fw_ring_area_m2(settling.points + region->ring_start[r],
                                  region->ring_start[r + 1] -
                                      region->ring_start[r]);
        settling.density =
            fw_subdivision__measure(subdivision, settling.points,
                                    region->ring_start, region->ring_count) /
            m2;
        *fits = seek(&settling, out) && is_clear(&settling, out);
    }
    fw_free(settling.points);
    fw_free(settling.left);
    fw_free(settling.left_start);
    return room ? FW_OK : fw_fail_memory(err);
}
