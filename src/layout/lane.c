/* A straight lane through the field or along one of its sides, and strips
 * square to it on both sides or on one: each is entered from the lane. What
 * grows on the lane is lost, so the shares are those of the rest.
 *
 * The lane lies where the paddocks on its first side come out whole. Its lines
 * are cuts of one sweep: so much for the first side, so much for the lane. */
#include "layout/lane.h"
#include "base/alloc.h"
#include "base/angle.h"
#include "base/fail.h"
#include "cutting/widest.h"
#include "figures/layout.h"
#include "figures/mark.h"
#include "geo/points.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

enum {
    most_ways = FW_EFFORT(4),   /* of lanes through the middle */
    most_sides = 2,             /* with a lane along them */
    most_rounds = FW_EFFORT(8), /* to find what the lane itself holds */
    most_lanes = most_ways + most_sides
};

static double width_m(const struct fw_layout_request *request)
{
    return request->lane_width_m > 0 ? request->lane_width_m : FW_LANE_WIDTH_M;
}

/* ---- where it lies ---- */

/* Opposite sides may be alike, and compilers round differently: which of those
 * is taken must not hang on it. */
static bool is_longer(double a_m, double b_m)
{
    return a_m > b_m * (1 + FW_TOLERANCE(1e-9));
}

static double across_m(struct fw_point p, double deg)
{
    const double turn = (deg + 90) * FW_PI / 180;
    return p.x_m * cos(turn) + p.y_m * sin(turn);
}

static double least_across_m(const struct fw_field *field, double deg)
{
    double least_m = HUGE_VAL;
    for (size_t i = 0; i < field->ring_start[1]; i++)
        least_m = fmin(least_m, across_m(field->vertices[i].plane, deg));
    return least_m;
}

static double most_across_m(const struct fw_subdivision *subdivision,
                            const struct fw_region *region, double deg)
{
    double most_m = -HUGE_VAL;
    for (size_t i = 0; i < region->ring_start[1]; i++) {
        const size_t v = region->vertices[i];
        most_m = fmax(most_m, across_m(subdivision->vertices[v].point, deg));
    }
    return most_m;
}

/* Does the water stand between these, or so near that they drink from there? */
static bool is_wet(const struct fw_layout_request *request, double deg,
                   const double line_m[2])
{
    const double reach_m = 1;
    if (!request->water)
        return false;
    const double at_m = across_m(*request->water, deg);
    return at_m >= line_m[0] - reach_m && at_m <= line_m[1] + reach_m;
}

/* What a lane of the full width holds whose first line has so much behind. */
static enum fw_status weigh(const struct fw_layout_request *request,
                            struct fw_lane *lane, double behind, double *holds,
                            bool *whole, struct fw_error *err)
{
    struct fw_subdivision subdivision;
    struct fw_region region = {0}, parts[3];
    double line_m[2] = {least_across_m(request->field, lane->deg), 0};
    struct fw_cuts cuts = {.direction_deg = lane->deg + 90,
                           .behind = &behind,
                           .count = 1,
                           .role = FW_LINE_LANE};
    enum fw_status status =
        fw_subdivision_init(&subdivision, request->field, request->ground, err);
    if (status)
        return status;
    status = fw_subdivision_whole(&subdivision, &region, err);
    *whole = true;
    if (!status && !lane->at_side) {
        status =
            fw_subdivision_cut(&subdivision, &region, &cuts, parts, whole, err);
        if (!status && *whole) {
            line_m[0] = most_across_m(&subdivision, &parts[0], lane->deg);
            fw_regions_release(parts, 2);
        }
        cuts.count = 2;
    }
    line_m[1] = line_m[0] + width_m(request);
    lane->wet = is_wet(request, lane->deg, line_m);
    cuts.behind = NULL;
    cuts.position_m = line_m + 2 - cuts.count;
    if (!status && *whole)
        status =
            fw_subdivision_cut(&subdivision, &region, &cuts, parts, whole, err);
    if (!status && *whole) {
        status = fw_subdivision_holds(&subdivision, &parts[cuts.count - 1],
                                      holds, err);
        fw_regions_release(parts, cuts.count + 1);
    }
    fw_region_release(&region);
    fw_subdivision_release(&subdivision);
    return status;
}

/* Shares of what the lane leaves. How much the lane holds depends on where it
 * lies, that on the shares, and those on what the lane holds. Where that goes
 * back and forth between two numbers of paddocks, the lane holds what was
 * thought last, and is that much wider or narrower. */
static enum fw_status place(const struct fw_layout_request *request, double all,
                            struct fw_lane *lane,
                            struct fw_layout_shares *shares, bool *whole,
                            struct fw_error *err)
{
    const double close = FW_TOLERANCE(1e-10);
    double before = -all;
    lane->holds = 0;
    *whole = true;
    *shares = (struct fw_layout_shares){0};
    for (int i = 0;; i++) {
        fw_layout__shares_release(shares);
        enum fw_status status =
            fw_layout__share(request, all - lane->holds, shares, err);
        if (status)
            return status;
        lane->count = shares->count;
        lane->first_count = lane->at_side ? 0 : shares->count / 2;
        if (i == most_rounds || fabs(lane->holds - before) <= close * all)
            return FW_OK;
        before = lane->holds;
        const size_t first = lane->first_count;
        if (lane->count < FW_LANE_FEWEST)
            *whole = false;
        else
            status =
                weigh(request, lane, first > 0 ? shares->behind[first - 1] : 0,
                      &lane->holds, whole, err);
        if (status || !*whole) {
            fw_layout__shares_release(shares);
            return status;
        }
    }
}

/* ---- on the subdivision ---- */

static enum fw_status cut(const void *data, struct fw_plots *plots,
                          struct fw_error *err)
{
    const struct fw_lane *lane = data;
    const double first = fw_plots_before(plots, lane->first_count);
    const double lines[2] = {first, first + lane->holds};
    const size_t count = lane->at_side ? 1 : 2;
    const struct fw_cuts cuts = {.direction_deg = lane->deg + 90,
                                 .behind = lines + 2 - count,
                                 .count = count,
                                 .role = FW_LINE_LANE};
    struct fw_region region, parts[3];
    enum fw_status status =
        fw_subdivision_whole(&plots->subdivision, &region, err);
    if (status)
        return status;
    status = fw_subdivision_cut(&plots->subdivision, &region, &cuts, parts,
                                &plots->whole, err);
    fw_region_release(&region);
    if (status || !plots->whole)
        return status;
    status = fw_lane__cut_sides(lane, plots, &parts[0], &parts[count], err);
    for (size_t i = 0; i <= count; i++) {
        if (i == count - 1 && !status && plots->whole)
            plots->common[plots->common_count++] = parts[i];
        else
            fw_region_release(&parts[i]);
    }
    return status;
}

/* ---- which ones ---- */

static struct fw_design design_of(const struct fw_lane *lane)
{
    struct fw_design design = fw_lane__design(lane);
    design.cut = cut;
    design.data = lane;
    return design;
}

static double side_deg(const struct fw_field *field, size_t corner,
                       double *length_m)
{
    const size_t next = (corner + 1) % field->corner_count;
    const struct fw_point a = field->vertices[field->corners[corner]].plane;
    const struct fw_point b = field->vertices[field->corners[next]].plane;
    *length_m = fw_point_apart_m(b, a);
    return atan2(a.y_m - b.y_m, a.x_m - b.x_m) * 180 / FW_PI;
}

/* Corners go clockwise, so that along the side backwards the field lies to the
 * left. A side that the water stands at comes before longer ones. */
static void add_longest_side(const struct fw_layout_request *request,
                             struct fw_lane *lanes, size_t from, size_t count)
{
    const struct fw_field *field = request->field;
    bool wet = false;
    double most_m = 0;
    lanes[count] = (struct fw_lane){.at_side = true};
    for (size_t i = 0; i < field->corner_count; i++) {
        double m;
        const double deg = side_deg(field, i, &m);
        bool taken = !fw_layout__side_counts(field, m);
        for (size_t k = from; k < count; k++)
            taken |=
                fabs(remainder(deg - lanes[k].deg, 360)) < FW_LANE_SAME_WAY_DEG;
        if (taken)
            continue;
        const double side_m = least_across_m(field, deg);
        const double line_m[2] = {side_m, side_m + width_m(request)};
        const bool here = is_wet(request, deg, line_m);
        if (here != wet ? here : is_longer(m, most_m)) {
            most_m = m;
            wet = here;
            lanes[count].deg = deg;
        }
    }
}

static double extent_m(const struct fw_field *field, double deg)
{
    return -least_across_m(field, deg + 90) - least_across_m(field, deg - 90);
}

/* From one of the two corners that are farthest apart to the other. */
static double widest_deg(const struct fw_field *field)
{
    size_t a, b;
    if (!(fw_layout__widest(field, &a, &b) >= 0))
        return 0;
    const struct fw_point p = field->vertices[field->corners[a]].plane;
    const struct fw_point q = field->vertices[field->corners[b]].plane;
    return atan2(q.y_m - p.y_m, q.x_m - p.x_m) * 180 / FW_PI;
}

/* The first one the widest way, the others parallel to a side and not taken
 * yet, the one first in which the field reaches farthest. */
static void add_way(const struct fw_field *field, struct fw_lane *lanes,
                    size_t count)
{
    double most_m = 0;
    lanes[count] = (struct fw_lane){.deg = count > 0 ? 0 : widest_deg(field)};
    for (size_t i = 0; count > 0 && i < field->corner_count; i++) {
        double m;
        const double deg = side_deg(field, i, &m);
        bool taken = !fw_layout__side_counts(field, m);
        for (size_t k = 0; k < count; k++)
            taken |=
                fabs(remainder(deg - lanes[k].deg, 180)) < FW_LANE_SAME_WAY_DEG;
        if (!taken && !is_longer(most_m, extent_m(field, deg))) {
            most_m = extent_m(field, deg);
            lanes[count].deg = deg;
        }
    }
}

static enum fw_status measure(const struct fw_layout_request *request,
                              double all, struct fw_lane *lane,
                              struct fw_error *err)
{
    struct fw_layout_shares shares;
    bool whole = false;
    lane->line_m = HUGE_VAL;
    enum fw_status status = place(request, all, lane, &shares, &whole, err);
    if (status == FW_EPLAN) /* the lane leaves too little */
        return FW_OK;
    if (status || !whole)
        return status;
    const struct fw_design design = design_of(lane);
    status = fw_layout__measure(request, &shares, &design, &lane->line_m, err);
    fw_layout__shares_release(&shares);
    return status;
}

static enum fw_status offer(const struct fw_layout_request *request, double all,
                            struct fw_lane *lane, struct fw_layout_list *list,
                            struct fw_error *err)
{
    struct fw_layout_shares shares;
    bool whole = false;
    enum fw_status status = place(request, all, lane, &shares, &whole, err);
    if (status || !whole)
        return status;
    const struct fw_design design = design_of(lane);
    status = fw_layout__offer(request, &shares, &design, list, err);
    fw_layout__shares_release(&shares);
    return status;
}

/* One that leads to the water is worth more line. */
static struct fw_lane *best_of(struct fw_lane *lanes, size_t from, size_t to)
{
    struct fw_lane *best = &lanes[from];
    for (size_t i = from + 1; i < to; i++) {
        const bool lies = isfinite(lanes[i].line_m);
        if (lies && (!isfinite(best->line_m) ||
                     (lanes[i].wet != best->wet
                          ? lanes[i].wet
                          : is_longer(best->line_m, lanes[i].line_m))))
            best = &lanes[i];
    }
    return best;
}

static enum fw_status check(const struct fw_layout_request *request,
                            struct fw_error *err)
{
    if (request->lane_width_m >= 0 && isfinite(request->lane_width_m))
        return FW_OK;
    return fw_fail(err, FW_EINPUT, "the lane is %g m wide; expected over 0",
                   request->lane_width_m);
}

/* The best through the field, and the best along a side. */
enum fw_status fw_layout__lane(const struct fw_layout_request *request,
                               const struct fw_layout_shares *shares,
                               struct fw_layout_list *list,
                               struct fw_error *err)
{
    struct fw_lane lanes[most_lanes];
    const double all = shares->behind[shares->count - 1];
    enum fw_status status = check(request, err);
    for (size_t i = 0; i < most_ways; i++)
        add_way(request->field, lanes, i);
    for (size_t i = most_ways; i < most_lanes; i++)
        add_longest_side(request, lanes, most_ways, i);
    if (status || shares->count < FW_LANE_FEWEST)
        return status;
    if (request->lane_count > 0)
        return fw_lane__given(request, width_m(request), list, err);
    for (size_t i = 0; !status && i < most_lanes; i++)
        status = measure(request, all, &lanes[i], err);
    struct fw_lane *best[2] = {best_of(lanes, 0, most_ways),
                               best_of(lanes, most_ways, most_lanes)};
    for (int i = 0; !status && i < 2; i++)
        if (isfinite(best[i]->line_m))
            status = offer(request, all, best[i], list, err);
    return status;
}
