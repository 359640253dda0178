/* Strips whose fences turn gradually with the field: each one runs straight
 * from side to side, but not parallel to the one before, so that all of them
 * cross the field where it is narrow. The sweep goes from one corner of the
 * field to another; which two, is tried with a few fences. */
#include "cutting/turning.h"
#include "base/alloc.h"
#include "base/angle.h"
#include "base/fail.h"
#include "cutting/station.h"
#include "figures/layout.h"
#include "figures/mark.h"
#include "layout/pattern.h"

#include <math.h>
#include <stdio.h>

static const double close_enough =
    FW_TOLERANCE(1e-13); /* of a plot, on unequal ground */

enum {
    most_cuts = FW_EFFORT(1500),   /* strips of a long walk: others do better */
    places = FW_EFFORT(64),        /* along the walk to the end, at first */
    parting_rounds = FW_EFFORT(4), /* until the ends keep their distance */
    most_rounds = FW_EFFORT(4),    /* on unequal ground */
    most_steps = FW_EFFORT(100),
    most_tries = FW_EFFORT(3), /* with less room each */
    many_cuts = FW_EFFORT(100) /* tried once */
};

struct turning_data {
    size_t from, to; /* vertices of the field */
    bool even_if_parallel;
};

static double clear_m(const struct fw_field *field, size_t count)
{
    return fmin(FW_DOOR_M,
                FW_TURNING_CLEAR_SHARE * sqrt(field->area_m2 / (double)count));
}

/* ---- the fences ---- */

/* What the ground behind a chord holds. */
static enum fw_status chord_holds(const struct fw_herbage *ground,
                                  const struct fw_boundary *boundary,
                                  const struct fw_turning_fence *chord,
                                  double *out, struct fw_error *err)
{
    struct fw_point *points = fw_alloc(boundary->count + 2, sizeof *points);
    if (!points)
        return fw_fail_memory(err);
    size_t n = 0;
    points[n++] = fw_boundary_point(boundary, chord->far);
    for (size_t i = chord->far.edge + 1; i < boundary->count; i++)
        points[n++] = boundary->nodes[i].point;
    for (size_t i = 0; i <= chord->near.edge; i++)
        points[n++] = boundary->nodes[i].point;
    points[n++] = fw_boundary_point(boundary, chord->near);
    const size_t ring_start[2] = {0, n};
    *out = fw_herbage_mass_kg(ground, points, ring_start, 1);
    fw_free(points);
    return FW_OK;
}

/* On unequal ground: what area to have behind instead, one step nearer. */
static enum fw_status weigh(const struct fw_plots *plots,
                            const struct fw_turning *turning, double *behind_m2,
                            struct fw_error *err)
{
    const struct fw_boundary *boundary = turning->boundary;
    const struct fw_herbage *ground = plots->subdivision.ground;
    for (size_t k = 0; ground && k < turning->cut_count; k++) {
        const struct fw_turning_fence *chord = &turning->path[k];
        double holds;
        const enum fw_status status =
            chord_holds(ground, boundary, chord, &holds, err);
        if (status)
            return status;
        const double density =
            fw_herbage_chord_kg_m(ground,
                                  fw_boundary_point(boundary, chord->near),
                                  fw_boundary_point(boundary, chord->far)) /
            chord->length_m;
        const double step_m2 = (plots->behind[k] - holds) / density;
        const double base_m2 = k > 0 ? behind_m2[k - 1] : 0;
        behind_m2[k] = fw_turning_behind_m2(boundary, chord) +
                       (isfinite(step_m2) ? step_m2 : 0);
        behind_m2[k] = fmax(behind_m2[k], base_m2);
    }
    return FW_OK;
}

/* Area behind a chord, and by how much it then holds too much. */
struct trial {
    double m2, off;
};

/* Move the far end until what is behind is exact: false position, where a
 * bound that stays twice counts half (the Illinois rule). */
static enum fw_status settle(const struct fw_plots *plots,
                             const struct fw_turning *turning, size_t k,
                             bool *found, struct fw_error *err)
{
    const struct fw_boundary *boundary = turning->boundary;
    struct fw_turning_fence *chord = &turning->path[k];
    const double behind = plots->behind[k];
    const double all = plots->behind[turning->cut_count];
    const double close = close_enough * (behind - fw_plots_before(plots, k));
    struct trial low = {0, -behind};
    struct trial high = {boundary->fan_m2[boundary->count], all - behind};
    int last = 0;
    *found = true;
    for (int i = 0; *found && i < most_steps; i++) {
        double holds;
        const enum fw_status status = chord_holds(plots->subdivision.ground,
                                                  boundary, chord, &holds, err);
        const double off = holds - behind;
        if (status || fabs(off) <= close)
            return status;
        const int side = off < 0 ? -1 : 1;
        *(side < 0 ? &low : &high) =
            (struct trial){fw_turning_behind_m2(boundary, chord), off};
        if (side == last)
            *(side < 0 ? &high.off : &low.off) /= 2;
        last = side;
        const double to_m2 =
            low.m2 - low.off * (high.m2 - low.m2) / (high.off - low.off);
        *found = fw_turning_fence_at(turning, chord->near, to_m2,
                                     chord->far.edge, chord);
    }
    *found = false;
    return FW_OK;
}

static enum fw_status settle_all(const struct fw_plots *plots,
                                 struct fw_turning *turning, bool *found,
                                 struct fw_error *err)
{
    enum fw_status status = FW_OK;
    for (size_t k = 0; !status && *found && k < turning->cut_count; k++)
        status = settle(plots, turning, k, found, err);
    for (size_t k = 1; *found && k < turning->cut_count; k++)
        *found = turning->path[k - 1].near_m < turning->path[k].near_m &&
                 turning->path[k - 1].far_m > turning->path[k].far_m;
    return status;
}

/* Coarse over the whole field, then finer and finer around the best. The ends
 * keep their distance only bit by bit: fences may turn about a corner in less
 * room than there is between the coarse places. */
static enum fw_status search(const struct fw_plots *plots,
                             struct fw_turning *turning, double *behind_m2,
                             bool *found, struct fw_error *err)
{
    double step_m =
        turning->boundary->along_m[turning->end] / (double)turning->place_count;
    const double least_m = fmin(FW_TURNING_PLACE_M, turning->gap_m / 10);
    enum fw_status status = FW_OK;
    const int rounds = plots->subdivision.ground ? most_rounds : 1;
    for (int i = 0; !status && i < rounds; i++) {
        *found = fw_turning_seek(turning, behind_m2);
        if (!*found)
            return FW_OK;
        status = weigh(plots, turning, behind_m2, err);
    }
    for (int i = 1; !status && *found && step_m > least_m; i++) {
        const bool parting = i < parting_rounds;
        step_m /= parting ? 2 : FW_PARTS(3);
        *found = fw_turning_refine(
            turning, behind_m2, step_m, parting ? FW_MOST_REACH : FW_EFFORT(3),
            turning->gap_m * fmin(1, i / (double)parting_rounds));
        if (*found)
            status = weigh(plots, turning, behind_m2, err);
    }
    if (!status && *found && plots->subdivision.ground)
        status = settle_all(plots, turning, found, err);
    return status;
}

/* ---- on the subdivision ---- */

static struct fw_region_station
place_of(const struct fw_subdivision *subdivision,
         const struct fw_region *region, const struct fw_boundary *boundary,
         struct fw_boundary_station place)
{
    const struct fw_boundary_node *node = &boundary->nodes[place.edge];
    return fw_layout__station(subdivision, region, node->side,
                              node->t + (node->t_end - node->t) * place.t);
}

/* Split off one paddock after the other. */
static enum fw_status split(struct fw_plots *plots,
                            const struct fw_turning *turning,
                            struct fw_error *err)
{
    struct fw_subdivision *subdivision = &plots->subdivision;
    struct fw_region rest;
    enum fw_status status = fw_subdivision_whole(subdivision, &rest, err);
    if (status)
        return status;
    size_t done = 0;
    while (!status && done < turning->cut_count) {
        const struct fw_turning_fence *chord = &turning->path[done];
        const struct fw_split across = {
            .from =
                place_of(subdivision, &rest, turning->boundary, chord->near),
            .to = place_of(subdivision, &rest, turning->boundary, chord->far),
            .role = FW_LINE_MOVED};
        struct fw_region parts[2];
        status = fw_subdivision_split(subdivision, &rest, &across, parts, err);
        if (status)
            break;
        fw_region_release(&rest);
        plots->regions[done++] = parts[0];
        rest = parts[1];
    }
    plots->regions[done] = rest;
    if (status)
        fw_regions_release(plots->regions, done + 1);
    return status;
}

static double chord_deg(const struct fw_boundary *boundary,
                        const struct fw_turning_fence *chord)
{
    const struct fw_point near = fw_boundary_point(boundary, chord->near);
    const struct fw_point far = fw_boundary_point(boundary, chord->far);
    return atan2(far.y_m - near.y_m, far.x_m - near.x_m) * 180 / FW_PI;
}

static bool turns(const struct fw_turning *turning)
{
    const double first = chord_deg(turning->boundary, &turning->path[0]);
    for (size_t k = 1; k < turning->cut_count; k++)
        if (fabs(remainder(
                chord_deg(turning->boundary, &turning->path[k]) - first, 360)) >
            FW_TURNING_DEG)
            return true;
    return false;
}

/* The fences with that much room left, on the subdivision. Not whole although
 * they are found: they would be parallel strips. */
static enum fw_status lay(const struct turning_data *design,
                          struct fw_plots *plots, double room_m, bool *found,
                          struct fw_error *err)
{
    const size_t cuts = plots->count - 1;
    const struct fw_subdivision *subdivision = &plots->subdivision;
    struct fw_boundary boundary = {0};
    struct fw_turning turning = {.boundary = &boundary,
                                 .cut_count = cuts,
                                 .place_count = places,
                                 .gap_m = FW_TURNING_GAP_SHARE * room_m};
    double *behind_m2 = fw_alloc(cuts, sizeof *behind_m2);
    enum fw_status status =
        behind_m2 ? fw_boundary_new(subdivision->field, room_m, &boundary, err)
                  : fw_fail_memory(err);
    if (!status)
        status = fw_boundary_start(
            &boundary, fw_boundary_node(&boundary, design->from), err);
    if (!status) {
        turning.end = fw_boundary_node(&boundary, design->to);
        status = fw_turning_init(&turning, err);
    }
    if (!status) {
        for (size_t k = 0; k < cuts; k++)
            behind_m2[k] = subdivision->ground
                               ? plots->behind[k] / plots->behind[cuts] *
                                     subdivision->field->area_m2
                               : plots->behind[k];
        status = search(plots, &turning, behind_m2, found, err);
    }
    plots->whole = *found && (design->even_if_parallel || turns(&turning));
    if (!status && plots->whole)
        status = split(plots, &turning, err);
    fw_turning_release(&turning);
    fw_boundary_release(&boundary);
    fw_free(behind_m2);
    return status;
}

/* Where there is no way with the room wanted, with less of it. */
static enum fw_status cut(const void *data, struct fw_plots *plots,
                          struct fw_error *err)
{
    double room_m = clear_m(plots->subdivision.field, plots->count);
    enum fw_status status = FW_OK;
    bool found = false;
    const int tries = plots->count > many_cuts ? 1 : most_tries;
    for (int i = 0; !status && !found && i < tries; i++) {
        status = lay(data, plots, room_m, &found, err);
        room_m /= FW_PARTS(3);
    }
    return status;
}

/* ---- the pattern ---- */

static enum fw_status offer(const struct fw_layout_request *request,
                            const struct fw_layout_shares *shares,
                            const struct fw_turning_try *try,
                            struct fw_layout_list *list, struct fw_error *err)
{
    const struct turning_data data = {
        .from = request->field->corners[try->from],
        .to = request->field->corners[try->to],
        .even_if_parallel = request->pattern != NULL,
    };
    struct fw_design design = {
        .pattern = "turning",
        .direction_deg = try->direction_deg,
        .count = shares->count,
        .cut = cut,
        .data = &data,
    };
    snprintf(design.name, sizeof design.name, "turning-%zu-%zu", try->from + 1,
             try->to + 1);
    return fw_layout__offer(request, shares, &design, list, err);
}

enum fw_status fw_layout__turning(const struct fw_layout_request *request,
                                  const struct fw_layout_shares *shares,
                                  struct fw_layout_list *list,
                                  struct fw_error *err)
{
    struct fw_turning_tries tries = {.count = 0};
    struct fw_boundary boundary = {0};
    if (shares->count < 2 || shares->count > most_cuts)
        return FW_OK;
    enum fw_status status = fw_boundary_new(
        request->field, clear_m(request->field, shares->count), &boundary, err);
    if (!status && boundary.count > 0)
        status = fw_turning_tries(&boundary, request->field, shares->behind,
                                  shares->count, &tries, err);
    for (size_t i = 0; !status && i < tries.count; i++)
        status = offer(request, shares, &tries.items[i], list, err);
    fw_boundary_release(&boundary);
    return status;
}
