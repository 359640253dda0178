/* Parallel strips: the field swept in one direction, a fence across it at the
 * end of every paddock.
 *
 * The length of the fences comes from the sweep without building a paddock, so
 * all directions are ranked by it first, and cut in that order until the
 * paddocks are all in one piece. Besides, a direction that keeps the fences
 * parallel to a long straight side of the field is offered: whoever sets the
 * fence then paces the same distance from that side. */
#include "base/alloc.h"
#include "base/angle.h"
#include "base/fail.h"
#include "base/length.h"
#include "base/text.h"
#include "figures/layout.h"
#include "figures/mark.h"
#include "layout/pattern.h"

#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>

enum {
    most_sides = FW_EFFORT(10),
    usual_directions = FW_EFFORT(180),
    most_tried = FW_EFFORT(24)
};

/* What a direction is good for besides being short. */
enum {
    SHORT = 1,           /* any is */
    ALONG_SIDE = 1 << 1, /* paced from a long side */
    FROM_START = 1 << 2, /* the start lies in the first strip */
    FROM_BOTH = 1 << 3,  /* and so does the other place */
    ALL_MERITS = SHORT | ALONG_SIDE | FROM_START | FROM_BOTH
};

struct direction {
    double deg;
    unsigned merits;
    double line_m;
    double rank; /* line_m without its last digits, which rounding decides */
};

static double in_half_turn(double deg)
{
    const double rest = fmod(deg, 180);
    return rest < 0 ? rest + 180 : rest;
}

static int by_rank(const void *left, const void *right)
{
    const struct direction *a = left, *b = right;
    if (a->rank < b->rank || a->rank > b->rank)
        return a->rank < b->rank ? -1 : 1;
    if (a->deg < b->deg || a->deg > b->deg)
        return a->deg < b->deg ? -1 : 1;
    return (int)b->merits - (int)a->merits;
}

/* The boundary between two corners may bend a little, so the line from corner
 * to corner is what one sees. */
static size_t add_sides(const struct fw_field *field,
                        struct direction *directions)
{
    double around_m = 0;
    for (size_t i = 0; i < field->corner_count; i++)
        around_m += fw_field_side_m(field, i);
    size_t found = 0;
    for (size_t i = 0; i < field->corner_count && found < most_sides; i++) {
        const size_t next = field->corners[(i + 1) % field->corner_count];
        const struct fw_point a = field->vertices[field->corners[i]].plane;
        const struct fw_point b = field->vertices[next].plane;
        const double x_m = b.x_m - a.x_m, y_m = b.y_m - a.y_m;
        if (fw_length(x_m, y_m) >= FW_LONG_SIDE_SHARE * around_m &&
            fw_length(x_m, y_m) >=
                FW_STRAIGHT_SIDE_SHARE * fw_field_side_m(field, i))
            directions[found++] = (struct direction){
                .deg = in_half_turn(atan2(y_m, x_m) * 180 / FW_PI + 90),
                .merits = SHORT | ALONG_SIDE};
    }
    return found;
}

static size_t list_directions(const struct fw_layout_request *request,
                              size_t regular, struct direction *directions)
{
    if (request->direction_given) {
        directions[0] =
            (struct direction){.deg = request->direction_deg, .merits = SHORT};
        return 1;
    }
    for (size_t i = 0; i < regular; i++)
        directions[i] = (struct direction){
            .deg = 180.0 * (double)i / (double)regular, .merits = SHORT};
    const size_t count =
        regular + add_sides(request->field, directions + regular);
    if (!request->start || !request->also)
        return count;
    /* Strips that run from one of the two places to the other. */
    const double x_m = request->also->x_m - request->start->x_m;
    const double y_m = request->also->y_m - request->start->y_m;
    directions[count] = (struct direction){
        .deg = in_half_turn(atan2(y_m, x_m) * 180 / FW_PI + 90),
        .merits = SHORT};
    return count + 1;
}

/* Does a place lie in the strip at that end of the sweep? */
static bool lies_at(struct fw_point at, double deg, const double *position_m,
                    size_t cuts, bool last)
{
    const double slack_m = FW_TOLERANCE(1e-6);
    const double along_m =
        at.x_m * cos(deg * FW_PI / 180) + at.y_m * sin(deg * FW_PI / 180);
    return last ? along_m >= position_m[cuts - 1] - slack_m
                : along_m <= position_m[0] + slack_m;
}

static unsigned merits_of(const struct fw_layout_request *request, double deg,
                          const double *position_m, size_t cuts)
{
    unsigned merits = 0;
    if (!request->start || cuts == 0)
        return 0;
    for (int last = 0; last < 2; last++) {
        if (!lies_at(*request->start, deg, position_m, cuts, last != 0))
            continue;
        merits |= FROM_START;
        if (request->also &&
            lies_at(*request->also, deg, position_m, cuts, last != 0))
            merits |= FROM_BOTH;
    }
    return merits;
}

static enum fw_status rank(const struct fw_layout_request *request,
                           const struct fw_layout_shares *shares,
                           struct direction *directions, size_t count,
                           struct fw_error *err)
{
    const struct fw_field *field = request->field;
    const size_t cuts = shares->count - 1;
    struct fw_point *points = fw_alloc(field->vertex_count, sizeof *points);
    double *behind_m2 = fw_alloc(FW_EFFORT(3) * cuts, sizeof *behind_m2);
    struct fw_sweep *sweep = NULL;
    enum fw_status status = points && behind_m2 ? FW_OK : fw_fail_memory(err);
    if (!status) {
        for (size_t i = 0; i < field->vertex_count; i++)
            points[i] = field->vertices[i].plane;
        for (size_t k = 0; k < cuts; k++)
            behind_m2[k] =
                shares->behind[k] * (field->area_m2 / shares->behind[cuts]);
        status = fw_sweep_new(points, field->ring_start, field->ring_count,
                              &sweep, err);
    }
    double least_m = HUGE_VAL;
    for (size_t i = 0; !status && i < count; i++) {
        fw_sweep_turn(sweep, directions[i].deg);
        directions[i].line_m = fw_sweep_cut(
            sweep, behind_m2, cuts, behind_m2 + cuts, behind_m2 + 2 * cuts);
        directions[i].merits |=
            merits_of(request, directions[i].deg, behind_m2 + cuts, cuts);
        least_m = fmin(least_m, directions[i].line_m);
    }
    for (size_t i = 0; !status && i < count; i++)
        directions[i].rank =
            least_m > 0
                ? rint(directions[i].line_m / (least_m * FW_TOLERANCE(1e-9)))
                : 0;
    fw_sweep_free(sweep);
    fw_free(behind_m2);
    fw_free(points);
    return status;
}

static enum fw_status cut(const void *data, struct fw_plots *plots,
                          struct fw_error *err)
{
    const struct direction *direction = data;
    struct fw_region field;
    enum fw_status status =
        fw_subdivision_whole(&plots->subdivision, &field, err);
    if (status)
        return status;
    status = fw_plots_strips(plots, &(struct fw_part){&field, 0, plots->count},
                             direction->deg, err);
    fw_region_release(&field);
    return status;
}

/* Of each merit the first by rank that comes out whole. */
static enum fw_status offer(const struct fw_layout_request *request,
                            const struct fw_layout_shares *shares,
                            const struct direction *directions, size_t count,
                            struct fw_layout_list *list, struct fw_error *err)
{
    enum fw_status status = FW_OK;
    unsigned offered = 0;
    for (size_t i = 0, tried = 0; !status && i < count && offered != ALL_MERITS;
         i++) {
        const struct direction *direction = &directions[i];
        if (!(direction->merits & ~offered))
            continue;
        if (tried++ == most_tried)
            break;
        struct fw_design design = {.pattern = "strips",
                                   .direction_deg = direction->deg,
                                   .count = shares->count,
                                   .cut = cut,
                                   .data = direction};
        fw_text_format(design.name, sizeof design.name, "strips-%.4g",
                       direction->deg);
        const size_t before = list->count;
        status = fw_layout__offer(request, shares, &design, list, err);
        if (list->count > before)
            offered |= direction->merits;
    }
    return status;
}

enum fw_status fw_layout__strips(const struct fw_layout_request *request,
                                 const struct fw_layout_shares *shares,
                                 struct fw_layout_list *list,
                                 struct fw_error *err)
{
    const size_t regular = request->directions > 0 ? (size_t)request->directions
                                                   : usual_directions;
    struct direction *directions =
        fw_alloc(regular + most_sides + 1, sizeof *directions);
    if (!directions)
        return fw_fail_memory(err);
    const size_t count = list_directions(request, regular, directions);
    enum fw_status status = rank(request, shares, directions, count, err);
    if (!status) {
        qsort(directions, count, sizeof *directions, by_rank);
        status = offer(request, shares, directions, count, list, err);
    }
    fw_free(directions);
    return status;
}
