/* The pattern of wedges: where the water stands, the apron around it that is
 * trodden and not grazed, and the way of the first fence. */
#include "layout/wedges.h"
#include "base/alloc.h"
#include "base/angle.h"
#include "base/fail.h"
#include "base/length.h"
#include "figures/layout.h"
#include "figures/mark.h"
#include "geo/points.h"
#include "layout/pattern.h"

#include <math.h>
#include <stdio.h>

enum {
    apron_corners = FW_EFFORT(24), /* of a whole apron */
    begins = FW_EFFORT(48),        /* tried for the first fence */
    golden_steps = FW_EFFORT(40)
};

/* ---- the water ---- */

/* A corner nearer than that takes the water, else a side. */
static void settle_water(struct fw_wedges *wedges, double reach_m)
{
    const struct fw_boundary *boundary = &wedges->boundary;
    double least_m = reach_m;
    for (size_t i = 0; i < boundary->count; i++) {
        const double m =
            fw_point_apart_m(boundary->nodes[i].point, wedges->centre);
        if (m < least_m) {
            least_m = m;
            wedges->on_edge = true;
            wedges->water_m = boundary->along_m[i];
        }
    }
    for (size_t i = 0; !(least_m < reach_m) && i < boundary->count; i++) {
        const struct fw_point a = boundary->nodes[i].point;
        const struct fw_point side = fw_point_minus(
            boundary->nodes[fw_boundary_next(boundary, i)].point, a);
        const struct fw_point way = fw_point_minus(wedges->centre, a);
        const double length_m = fw_length(side.x_m, side.y_m);
        const double ahead_m =
            (way.x_m * side.x_m + way.y_m * side.y_m) / length_m;
        if (ahead_m > 0 && ahead_m < length_m &&
            fabs(fw_point_cross(side, way)) < reach_m * length_m) {
            wedges->on_edge = true;
            wedges->water_m = boundary->along_m[i] + ahead_m;
        }
    }
    if (wedges->on_edge)
        wedges->centre = fw_boundary_point(
            boundary, fw_boundary_at(boundary, wedges->water_m, 0));
    wedges->begin_m = wedges->water_m;
}

/* Is every side seen from the water, but for those on which it stands? Those
 * that go on in line with them are seen edge-on. */
static bool sees_all(const struct fw_wedges *wedges)
{
    const double same_m = FW_TOLERANCE(1e-6);
    const double least_sine =
        wedges->on_edge ? -FW_TOLERANCE(1e-4) : FW_TOLERANCE(1e-3);
    const struct fw_boundary *boundary = &wedges->boundary;
    for (size_t i = 0; i < boundary->count; i++) {
        const struct fw_point a = boundary->nodes[i].point;
        const struct fw_point b =
            boundary->nodes[fw_boundary_next(boundary, i)].point;
        if (wedges->on_edge &&
            fw_segment_distance_m(wedges->centre, a, b) < same_m)
            continue;
        const struct fw_point from = fw_point_minus(a, wedges->centre);
        if (!(fw_point_cross(from, fw_point_minus(b, a)) >
              least_sine * fw_length(from.x_m, from.y_m) *
                  fw_point_apart_m(a, b)))
            return false;
    }
    return true;
}

/* ---- the apron ---- */

static struct fw_point around(struct fw_point centre, double radius_m,
                              double angle)
{
    return (struct fw_point){centre.x_m + radius_m * cos(angle),
                             centre.y_m + radius_m * sin(angle)};
}

static double angle_of(struct fw_point way)
{
    return atan2(way.y_m, way.x_m);
}

/* Where the water stands on the edge, the apron's ends stand on the sides on
 * either hand of it, and these must reach that far. */
static bool make_apron(struct fw_wedges *wedges)
{
    const struct fw_boundary *boundary = &wedges->boundary;
    const double all_m = boundary->along_m[boundary->count];
    const double r = wedges->apron_m;
    double from =
        angle_of(fw_point_minus(boundary->nodes[0].point, wedges->centre));
    double turn = 2 * FW_PI;
    if (wedges->on_edge) {
        const struct fw_point first = fw_boundary_point(
            boundary,
            fw_boundary_at(boundary, fmod(wedges->water_m + r, all_m), 0));
        const struct fw_point last = fw_boundary_point(
            boundary,
            fw_boundary_at(boundary, fmod(wedges->water_m - r + all_m, all_m),
                           0));
        const double same = FW_TOLERANCE(1e-6) * r;
        if (fabs(fw_point_apart_m(first, wedges->centre) - r) > same ||
            fabs(fw_point_apart_m(last, wedges->centre) - r) > same)
            return false;
        from = angle_of(fw_point_minus(first, wedges->centre));
        turn = angle_of(fw_point_minus(last, wedges->centre)) - from;
        turn += turn <= 0 ? 2 * FW_PI : 0;
    }
    const size_t pieces =
        (size_t)ceil(apron_corners * turn / (2 * FW_PI) - FW_TOLERANCE(1e-9));
    for (size_t i = 0; i <= pieces; i++)
        wedges->apron[i] =
            around(wedges->centre, r, from + turn * (double)i / (double)pieces);
    if (!wedges->on_edge)
        wedges->apron[pieces] = wedges->apron[0];
    wedges->apron_count = pieces + 1;
    return true;
}

/* Does all of it lie in the field? */
static bool apron_fits(const struct fw_wedges *wedges)
{
    const struct fw_boundary *boundary = &wedges->boundary;
    const double same_m = FW_TOLERANCE(1e-6);
    for (size_t i = 0; i < boundary->count; i++) {
        const double m = fw_segment_distance_m(
            wedges->centre, boundary->nodes[i].point,
            boundary->nodes[fw_boundary_next(boundary, i)].point);
        if (m <= wedges->apron_m && !(wedges->on_edge && m < same_m))
            return false;
    }
    return true;
}

enum fw_status fw_wedges_init(struct fw_wedges *wedges,
                              const struct fw_field *field,
                              struct fw_point water, double apron_m,
                              bool *possible, struct fw_error *err)
{
    *wedges = (struct fw_wedges){.centre = water, .apron_m = apron_m};
    *possible = false;
    if (field->ring_count > 1)
        return FW_OK;
    const enum fw_status status =
        fw_boundary_new(field, 1, &wedges->boundary, err);
    if (status)
        return status;
    settle_water(wedges,
                 fmax(FW_WEDGES_REACH_M, FW_WEDGES_REACH_APRON * apron_m));
    *possible = sees_all(wedges) &&
                (!(apron_m > 0) || (apron_fits(wedges) && make_apron(wedges)));
    if (!*possible)
        fw_wedges_release(wedges);
    return FW_OK;
}

void fw_wedges_release(struct fw_wedges *wedges)
{
    fw_boundary_release(&wedges->boundary);
}

/* ---- the first fence ---- */

/* Twice the area between the walk and the centre. */
static double twice_m2(const struct fw_wedges *wedges, struct fw_point a,
                       struct fw_point b)
{
    return fw_point_cross(fw_point_minus(a, wedges->centre),
                          fw_point_minus(b, wedges->centre));
}

/* On along the walk from a place until so much lies between it and the
 * centre; how far along is less than one time around. */
static struct fw_boundary_station go_on(const struct fw_wedges *wedges,
                                        struct fw_boundary_station place,
                                        double area_m2)
{
    const struct fw_boundary *boundary = &wedges->boundary;
    double rest_m2 = 2 * area_m2;
    for (size_t i = 0; i <= boundary->count; i++) {
        const struct fw_point a = fw_boundary_point(boundary, place);
        const size_t next = fw_boundary_next(boundary, place.edge);
        const double edge_m2 = twice_m2(wedges, a, boundary->nodes[next].point);
        if (edge_m2 >= rest_m2 && edge_m2 > 0) {
            place.t += (1 - place.t) * rest_m2 / edge_m2;
            break;
        }
        rest_m2 -= edge_m2;
        place = (struct fw_boundary_station){next, 0};
    }
    return place;
}

double fw_wedges_line_m(const struct fw_wedges *wedges, double begin_m,
                        const double *behind_m2, size_t count)
{
    const struct fw_boundary *boundary = &wedges->boundary;
    struct fw_boundary_station place = fw_boundary_at(
        boundary, fmod(begin_m, boundary->along_m[boundary->count]), 0);
    double sum_m = wedges->on_edge
                       ? 0
                       : fw_point_apart_m(fw_boundary_point(boundary, place),
                                          wedges->centre);
    for (size_t k = 0; k + 1 < count; k++) {
        place =
            go_on(wedges, place, behind_m2[k] - (k > 0 ? behind_m2[k - 1] : 0));
        sum_m += fw_point_apart_m(fw_boundary_point(boundary, place),
                                  wedges->centre);
    }
    return sum_m;
}

/* The first fence may end anywhere: the best of some places all around, then
 * closer by golden section. */
static void choose_begin(struct fw_wedges *wedges, const double *behind_m2,
                         size_t count)
{
    const double ratio = (sqrt(FW_PARTS(5)) - 1) / 2;
    const double all_m = wedges->boundary.along_m[wedges->boundary.count];
    double least_m = HUGE_VAL, best_m = 0;
    for (int i = 0; i < begins; i++) {
        const double at_m = all_m * i / begins;
        const double m = fw_wedges_line_m(wedges, at_m, behind_m2, count);
        if (m < least_m) {
            least_m = m;
            best_m = at_m;
        }
    }
    double low = best_m + all_m - all_m / begins;
    double high = best_m + all_m + all_m / begins;
    for (int i = 0; i < golden_steps; i++) {
        const double a = high - ratio * (high - low);
        const double b = low + ratio * (high - low);
        if (fw_wedges_line_m(wedges, a, behind_m2, count) <=
            fw_wedges_line_m(wedges, b, behind_m2, count))
            high = b;
        else
            low = a;
    }
    wedges->begin_m = fmod((low + high) / 2, all_m);
}

/* ---- the pattern ---- */

static enum fw_status lost(const struct fw_layout_request *request,
                           const struct fw_wedges *wedges, double *out,
                           struct fw_error *err)
{
    struct fw_subdivision subdivision;
    enum fw_status status =
        fw_subdivision_init(&subdivision, request->field, request->ground, err);
    if (status)
        return status;
    status = fw_wedges_lost(wedges, &subdivision, out, err);
    fw_subdivision_release(&subdivision);
    return status;
}

static enum fw_status offer(const struct fw_layout_request *request,
                            struct fw_wedges *wedges,
                            const struct fw_layout_shares *shares,
                            struct fw_layout_list *list, struct fw_error *err)
{
    wedges->count = shares->count;
    if (!wedges->on_edge) {
        double behind_m2[FW_WEDGES_MOST];
        for (size_t k = 0; k < shares->count; k++)
            behind_m2[k] = request->field->area_m2 * shares->behind[k] /
                           shares->behind[shares->count - 1];
        choose_begin(wedges, behind_m2, shares->count);
    }
    const struct fw_boundary *boundary = &wedges->boundary;
    const struct fw_point first = fw_boundary_point(
        boundary, fw_boundary_at(boundary, wedges->begin_m, 0));
    const double deg =
        wedges->on_edge
            ? 0
            : angle_of(fw_point_minus(first, wedges->centre)) * 180 / FW_PI;
    struct fw_design design = {
        .pattern = "wedges",
        .direction_deg = deg < 0 ? deg + 360 : deg,
        .count = shares->count,
        .cut = fw_wedges_cut,
        .data = wedges,
    };
    snprintf(design.name, sizeof design.name, "wedges-%zu", shares->count);
    return fw_layout__offer(request, shares, &design, list, err);
}

enum fw_status fw_layout__wedges(const struct fw_layout_request *request,
                                 const struct fw_layout_shares *shares,
                                 struct fw_layout_list *list,
                                 struct fw_error *err)
{
    const double all = shares->behind[shares->count - 1];
    const double apron_m = request->apron_m > 0   ? request->apron_m
                           : request->apron_m < 0 ? 0
                                                  : FW_APRON_M;
    struct fw_wedges wedges;
    struct fw_layout_shares left = {0};
    bool possible = false;
    double apron = 0;
    if (!isfinite(apron_m))
        return fw_fail(err, FW_EINPUT,
                       "the apron about the water reaches %g m; expected a "
                       "number",
                       request->apron_m);
    if (!request->water || shares->count > FW_WEDGES_MOST + 1)
        return FW_OK;
    enum fw_status status = fw_wedges_init(
        &wedges, request->field, *request->water, apron_m, &possible, err);
    if (status || !possible)
        return status;
    status = lost(request, &wedges, &apron, err);
    if (!status)
        status = fw_layout__share(request, all - apron, &left, err);
    if (!status && left.count >= 2 && left.count <= FW_WEDGES_MOST)
        status = offer(request, &wedges, &left, list, err);
    fw_layout__shares_release(&left);
    fw_wedges_release(&wedges);
    return status == FW_EPLAN ? FW_OK
                              : status; /* the apron leaves too little */
}
