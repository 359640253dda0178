/* A lane along a line of the map, with bends. Its own lines run beside that
 * one, half a lane away, or farther where the paddocks on that side would not
 * come out whole: the first side holds as many whole paddocks as fit, and what
 * is left over there is lane. The rest lie on the second side. Both ways are
 * tried. */
#include "base/alloc.h"
#include "base/fail.h"
#include "cutting/lane_line.h"
#include "cutting/station.h"
#include "figures/layout.h"
#include "figures/mark.h"
#include "geo/points.h"
#include "layout/lane.h"

#include <math.h>
#include <stdio.h>

static const double close_enough = FW_TOLERANCE(1e-13);
enum { most_steps = FW_EFFORT(100) };

struct given {
    struct fw_lane lane;
    struct fw_lane_way way;
    double half_m;
};

enum side { RIGHT, LEFT }; /* the first one and the second one */

struct trial {
    double away_m, off;
};

/* What is asked of a line: so much on its side, wherever the lane lies. */
struct wish {
    const struct given *given;
    const struct fw_herbage *ground;
    enum side side;
    double holds;
};

/* ---- one side ---- */

static enum fw_status split(struct fw_subdivision *subdivision,
                            const struct fw_region *region,
                            const struct fw_lane_line *line,
                            struct fw_region parts[2], struct fw_error *err)
{
    const struct fw_split across = {
        .from = fw_layout__station(subdivision, region, line->from_side,
                                   line->from_t),
        .to =
            fw_layout__station(subdivision, region, line->to_side, line->to_t),
        .by = line->by,
        .by_count = line->by_count,
        .role = FW_LINE_LANE};
    return fw_subdivision_split(subdivision, region, &across, parts, err);
}

/* What lies on that side of a line so far away; nothing where the line is
 * outside the field. */
static enum fw_status weigh(const struct wish *wish, double away_m,
                            struct fw_lane_line *line, double *holds,
                            bool *whole, struct fw_error *err)
{
    const struct fw_lane_way *way = &wish->given->way;
    const bool left = wish->side == LEFT;
    struct fw_subdivision subdivision;
    struct fw_region region, parts[2];
    const enum fw_lane_found found =
        fw_lane_line_at(way, left ? away_m : -away_m, line);
    *holds = 0;
    *whole = found != FW_LANE_BLOCKED;
    if (found != FW_LANE_FOUND)
        return FW_OK;
    enum fw_status status =
        fw_subdivision_init(&subdivision, way->field, wish->ground, err);
    if (status)
        return status;
    status = fw_subdivision_whole(&subdivision, &region, err);
    if (!status) {
        status = split(&subdivision, &region, line, parts, err);
        fw_region_release(&region);
    }
    if (!status) {
        status = fw_subdivision_holds(&subdivision, &parts[left ? 0 : 1], holds,
                                      err);
        fw_regions_release(parts, 2);
    }
    fw_subdivision_release(&subdivision);
    return status;
}

/* The line that leaves so much on its side, by the rule of false position,
 * where a bound that stays twice counts half. */
static enum fw_status find_line(const struct wish *wish,
                                struct fw_lane_line *line, bool *whole,
                                struct fw_error *err)
{
    const struct given *given = wish->given;
    const double wanted = wish->holds;
    const struct fw_point *points = given->way.points;
    struct trial low = {given->half_m, 0}, high = {0, -wanted};
    high.away_m = fw_point_apart_m(points[1], points[0]);
    double at_m = given->half_m, holds;
    int last = 0;
    for (int i = 0; i < most_steps; i++) {
        const enum fw_status status =
            weigh(wish, at_m, line, &holds, whole, err);
        if (status || !*whole)
            return status;
        const double off = holds - wanted;
        if (fabs(off) <= close_enough * wanted)
            return FW_OK;
        if (i == 0 && off < 0) { /* nearer than half a lane */
            high = (struct trial){at_m, off};
            at_m = low.away_m = FW_LANE_HALF_SHARE * given->half_m;
            continue;
        }
        const int way = off < 0 ? -1 : 1;
        *(way < 0 ? &high : &low) = (struct trial){at_m, off};
        if (!(low.off > 0))
            break; /* there is not so much */
        if (way == last)
            *(way < 0 ? &low.off : &high.off) /= 2;
        last = way;
        at_m = low.away_m +
               (high.away_m - low.away_m) * low.off / (low.off - high.off);
    }
    *whole = false;
    return FW_OK;
}

/* ---- on the subdivision ---- */

/* Part off what lies on that side of the lane and holds so much. */
static enum fw_status part(struct fw_plots *plots, const struct wish *wish,
                           struct fw_region *lane, struct fw_region *beside,
                           struct fw_error *err)
{
    struct fw_region parts[2];
    struct fw_lane_line line = {
        .by = fw_alloc(wish->given->way.count, sizeof *line.by)};
    if (!line.by)
        return fw_fail_memory(err);
    enum fw_status status = find_line(wish, &line, &plots->whole, err);
    if (!status && plots->whole)
        status = split(&plots->subdivision, lane, &line, parts, err);
    fw_free(line.by);
    if (status || !plots->whole)
        return status;
    fw_region_release(lane);
    *lane = parts[wish->side == LEFT ? 1 : 0];
    *beside = parts[wish->side == LEFT ? 0 : 1];
    return FW_OK;
}

static enum fw_status cut(const void *data, struct fw_plots *plots,
                          struct fw_error *err)
{
    const struct given *given = data;
    const size_t count = given->lane.first_count;
    const double first = fw_plots_before(plots, count);
    const double second = fw_plots_before(plots, plots->count) - first;
    const struct fw_herbage *ground = plots->subdivision.ground;
    const struct wish to_right = {given, ground, RIGHT, first};
    const struct wish to_left = {given, ground, LEFT, second};
    struct fw_region lane, right = {0}, left = {0};
    enum fw_status status =
        fw_subdivision_whole(&plots->subdivision, &lane, err);
    if (status)
        return status;
    if (count > 0)
        status = part(plots, &to_right, &lane, &right, err);
    if (!status && plots->whole)
        status = part(plots, &to_left, &lane, &left, err);
    if (!status && plots->whole)
        status = fw_lane__cut_sides(&given->lane, plots, &right, &left, err);
    fw_region_release(&right);
    fw_region_release(&left);
    if (!status && plots->whole)
        plots->common[plots->common_count++] = lane;
    else
        fw_region_release(&lane);
    return status;
}

/* ---- shares ---- */

static double target(const struct fw_layout_request *request, size_t i)
{
    return request
        ->target[i < request->target_count ? i : request->target_count - 1];
}

/* How many targets fit from the first one on, where a share of the last one is
 * enough, and what they hold. */
static size_t fitting(const struct fw_layout_request *request, size_t first,
                      double holds, double enough, double *sum)
{
    const double rounding = FW_TOLERANCE(1e-9);
    size_t n = 0;
    *sum = 0;
    for (;; n++) {
        const double next = target(request, first + n);
        if (!(*sum + next * enough <= holds * (1 + rounding)))
            return n;
        *sum += next;
    }
}

/* How many lie on either side, and what all of them hold together. */
struct sides {
    size_t first, second;
    double targets; /* of all of them */
    double holds;
};

/* Of even paddocks the side that has less for each of its own sets the share;
 * one more or one fewer on the first side, whichever leaves less over. */
static struct sides share_evenly(const struct fw_layout_request *request,
                                 const double holds[2])
{
    struct sides best = {.holds = holds[LEFT]};
    double first = 0, second;
    const size_t fit = fitting(request, 0, holds[RIGHT], 1, &first);
    for (size_t n = fit > 0 ? fit : 1; n <= fit + 1; n++) {
        if (n > fit)
            first += target(request, fit);
        const size_t m = fitting(request, n, holds[LEFT], 0.5, &second);
        if (m == 0)
            continue;
        const double share = fmin(holds[RIGHT] / first, holds[LEFT] / second);
        if (share * (first + second) > best.holds)
            best =
                (struct sides){n, m, first + second, share * (first + second)};
    }
    return best;
}

/* Each the same share of its target, so many as lie on the two sides: what is
 * left over beside the lane is none of theirs. */
static enum fw_status take_even(const struct fw_layout_request *request,
                                const struct sides *sides,
                                struct fw_layout_shares *out,
                                struct fw_error *err)
{
    const double rounding = FW_TOLERANCE(1e-9);
    const size_t count = sides->first + sides->second;
    struct fw_layout_shares shares = {
        .behind = fw_alloc(count, sizeof *shares.behind),
        .count = count,
        .share = sides->holds / sides->targets,
        .even = true,
    };
    if (!shares.behind)
        return fw_fail_memory(err);
    double sum = 0;
    for (size_t i = 0; i < count; i++)
        shares.behind[i] = (sum += target(request, i)) * shares.share;
    shares.behind[count - 1] = sides->holds;
    shares.last_share = shares.share;
    shares.full_count = shares.share >= 1 - rounding ? count : 0;
    *out = shares;
    return FW_OK;
}

static enum fw_status share_out(const struct fw_layout_request *request,
                                const double holds[2],
                                struct fw_layout_shares *shares,
                                size_t *first_count, struct fw_error *err)
{
    double first;
    if (request->last == FW_LAST_EVEN) {
        const struct sides sides = share_evenly(request, holds);
        *first_count = sides.first;
        return sides.first > 0
                   ? take_even(request, &sides, shares, err)
                   : fw_layout__share(request, holds[LEFT], shares, err);
    }
    *first_count = fitting(request, 0, holds[RIGHT], 1, &first);
    return fw_layout__share(request, first + holds[LEFT], shares, err);
}

/* Whether a last one that is to fit comes out short or even depends on what a
 * short one would hold. */
static enum fw_status settle_last(const struct fw_layout_request *request,
                                  const double holds[2], enum fw_last *last,
                                  struct fw_error *err)
{
    struct fw_layout_shares shares;
    double first;
    *last = request->last;
    if (*last != FW_LAST_FIT)
        return FW_OK;
    fitting(request, 0, holds[RIGHT], 1, &first);
    const enum fw_status status =
        fw_layout__share(request, first + holds[LEFT], &shares, err);
    if (status)
        return status;
    *last = shares.even ? FW_LAST_EVEN : FW_LAST_SHORT;
    fw_layout__shares_release(&shares);
    return FW_OK;
}

static enum fw_status place(const struct fw_layout_request *request,
                            struct given *given,
                            struct fw_layout_shares *shares, bool *whole,
                            struct fw_error *err)
{
    double holds[2] = {0, 0};
    struct fw_lane_line line = {
        .by = fw_alloc(given->way.count, sizeof *line.by)};
    enum fw_status status = line.by ? FW_OK : fw_fail_memory(err);
    *whole = true;
    for (int side = RIGHT; !status && *whole && side <= LEFT; side++) {
        const struct wish wish = {given, request->ground, (enum side)side, 0};
        status = weigh(&wish, given->half_m, &line, &holds[side], whole, err);
    }
    fw_free(line.by);
    if (status || !*whole)
        return status;
    struct fw_layout_request settled = *request;
    size_t first_count;
    status = settle_last(request, holds, &settled.last, err);
    if (status)
        return status;
    status = share_out(&settled, holds, shares, &first_count, err);
    if (status)
        return status;
    given->lane.deg = given->way.deg;
    given->lane.count = shares->count;
    given->lane.first_count = first_count;
    *whole = first_count < shares->count;
    if (!*whole)
        fw_layout__shares_release(shares);
    return FW_OK;
}

static enum fw_status offer(const struct fw_layout_request *request,
                            double width_m, bool back, bool *inside,
                            struct fw_layout_list *list, struct fw_error *err)
{
    struct given given = {.half_m = width_m / 2};
    struct fw_layout_shares shares;
    bool whole = false;
    enum fw_status status =
        fw_lane_way_init(&given.way, request->field, request->lane,
                         request->lane_count, back, inside, err);
    if (status || !*inside)
        return status;
    status = place(request, &given, &shares, &whole, err);
    if (!status && whole) {
        struct fw_design design = fw_lane__design(&given.lane);
        design.cut = cut;
        design.data = &given;
        status = fw_layout__offer(request, &shares, &design, list, err);
        fw_layout__shares_release(&shares);
    }
    fw_lane_way_release(&given.way);
    return status == FW_EPLAN ? FW_OK : status; /* the lane leaves too little */
}

enum fw_status fw_lane__given(const struct fw_layout_request *request,
                              double width_m, struct fw_layout_list *list,
                              struct fw_error *err)
{
    bool inside = true;
    enum fw_status status = FW_OK;
    for (int back = 0; !status && inside && back < 2; back++)
        status = offer(request, width_m, back == 1, &inside, list, err);
    if (status || inside)
        return status;
    return fw_fail(err, FW_EPLAN,
                   "the lane on the map does not cross the field from edge to "
                   "edge; draw it across the field, clear of ponds, or leave "
                   "it out");
}
