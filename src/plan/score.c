/* What a layout costs a person: work, wire, money, and the way to water. Lines
 * are counted as the plan counts them, without making the plan. */
#include "base/alloc.h"
#include "base/fail.h"
#include "plan/limits.h"
#include "plan/run.h"

#include <foldwright/fence.h>

#include <math.h>
#include <stdio.h>
#include <string.h>

struct scoring {
    const struct fw_plan_job *job;
    const struct fw_farm_field *field;
    const struct fw_layout *layout;
    struct fw_plan_score *out;
    /* By move: what is set and taken down in its course, and what stands. */
    struct fw_plan__work *work;
    struct fw_kit *kit;
};

static double away_m(struct fw_point a, struct fw_point b)
{
    return hypot(a.x_m - b.x_m, a.y_m - b.y_m);
}

static enum fw_status work_on(const struct scoring *scoring,
                              const struct fw_layout_line *line,
                              struct fw_plan__line_work *out,
                              struct fw_error *err)
{
    struct fw_point *points = fw_alloc(line->count, sizeof *points);
    if (!points)
        return fw_fail_memory(err);
    for (size_t i = 0; i < line->count; i++)
        points[i] =
            fw_plan__layout_at(scoring->field, scoring->layout,
                               scoring->layout->line_vertices[line->first + i]);
    const enum fw_status status = fw_plan__line_work(
        scoring->job, scoring->out->field, points, line->count, out, err);
    fw_free(points);
    return status;
}

static enum fw_status add_line(struct scoring *scoring,
                               const struct fw_layout_line *line,
                               struct fw_error *err)
{
    const struct fw_farm *farm = scoring->job->farm;
    const size_t moves = scoring->layout->paddock_count;
    struct fw_plan__line_work of;
    if (!(line->length_m > 1e-6))
        return FW_OK;
    const enum fw_status status = work_on(scoring, line, &of, err);
    if (status)
        return status;
    const struct fw_plan__span span = fw_plan__span(farm, line, moves);
    const bool stood = span.set_at == FW_NONE;
    if (!stood)
        fw_plan__add_work(&scoring->work[span.set_at], &of.set);
    if (span.down_at < moves)
        fw_plan__add_work(&scoring->work[span.down_at], &of.take_down);
    for (size_t m = stood ? 0 : span.set_at; m <= span.down_at && m < moves;
         m++) {
        scoring->kit[m].reels += of.count.reels;
        scoring->kit[m].posts += of.count.posts;
        scoring->kit[m].wire_m += of.count.wire_m;
    }
    if (!stood) {
        scoring->out->longest_run_m =
            fmax(scoring->out->longest_run_m, line->length_m);
        scoring->out->beyond_limits +=
            fw_plan__is_overlong(farm, of.count.line_m);
    }
    return FW_OK;
}

static void sum_moves(struct scoring *scoring)
{
    struct fw_plan_score *out = scoring->out;
    const size_t moves = scoring->layout->paddock_count;
    double minutes = 0;
    for (size_t m = 0; m < moves; m++) {
        minutes +=
            fw_plan__work_min(&scoring->work[m], &scoring->job->farm->rates);
        out->kit.reels = scoring->kit[m].reels > out->kit.reels
                             ? scoring->kit[m].reels
                             : out->kit.reels;
        out->kit.posts = scoring->kit[m].posts > out->kit.posts
                             ? scoring->kit[m].posts
                             : out->kit.posts;
        out->kit.wire_m = fmax(out->kit.wire_m, scoring->kit[m].wire_m);
    }
    out->minutes = minutes / (double)moves;
}

static void sum_cost(struct scoring *scoring)
{
    const struct fw_prices *prices = &scoring->job->farm->prices;
    struct fw_plan_score *out = scoring->out;
    out->cost_known =
        prices->reel >= 0 && prices->post >= 0 && prices->wire_m >= 0;
    if (out->cost_known)
        out->cost = out->kit.reels * prices->reel +
                    out->kit.posts * prices->post +
                    out->kit.wire_m * prices->wire_m;
}

/* From the water to the middle of the paddock; where a trough moves with the
 * flock, from the middle to its farthest corner. */
static double walk_m(const struct scoring *scoring, const struct fw_point *ring,
                     size_t count)
{
    struct fw_point middle = {0, 0};
    for (size_t i = 0; i < count; i++) {
        middle.x_m += ring[i].x_m / (double)count;
        middle.y_m += ring[i].y_m / (double)count;
    }
    if (scoring->field->water.given)
        return away_m(scoring->field->water.point, middle);
    double most_m = 0;
    for (size_t i = 0; i < count; i++)
        most_m = fmax(most_m, away_m(ring[i], middle));
    return most_m;
}

static enum fw_status look_at_paddocks(struct scoring *scoring,
                                       struct fw_error *err)
{
    const struct fw_layout *layout = scoring->layout;
    struct fw_plan_score *out = scoring->out;
    out->width_m = HUGE_VAL;
    for (size_t p = 0; p < layout->paddock_count; p++) {
        size_t count;
        struct fw_point *ring =
            fw_plan__outline(scoring->field, layout, p, &count);
        if (!ring)
            return fw_fail_memory(err);
        const struct fw_plan__shape shape =
            fw_plan__shape_of(scoring->field, layout, p, ring, count);
        out->width_m = fmin(out->width_m, shape.width_m);
        out->elongation = fmax(out->elongation, shape.longer);
        out->walk_m +=
            walk_m(scoring, ring, count) / (double)layout->paddock_count;
        out->beyond_limits +=
            fw_plan__broken(scoring->job, &shape,
                            p + 1 == layout->paddock_count) != 0;
        fw_free(ring);
    }
    return FW_OK;
}

/* To the first paddock, from the gate or through a front that stands. */
static double way_in_m(const struct fw_farm_field *field,
                       const struct fw_layout *layout)
{
    const double least_door_m = 4, there_m = 1e-6;
    const bool there =
        field->front.given
            ? fw_plan__front_door_m(field, layout) >= least_door_m
            : !field->gate.given || !(layout->gate_m > there_m);
    return there ? 0 : layout->gate_m;
}

enum fw_status fw_plan__score(const struct fw_plan_job *job, size_t field,
                              const struct fw_layout *layout,
                              struct fw_plan_score *out, struct fw_error *err)
{
    struct fw_plan_score score = {
        .field = field,
        .pattern = layout->pattern,
        .paddocks = layout->paddock_count,
        .line_m = layout->line_m,
        .moved_m = layout->moved_m,
        .standing_m = layout->standing_m,
        .turns = layout->turn_count,
        .apart = layout->apart_count,
        .has_lane = layout->common_count > 0,
        .far_first = layout->far_first,
        .keep_short = layout->keep_short,
        .gate_m = way_in_m(&job->farm->fields[field], layout),
    };
    snprintf(score.layout, sizeof score.layout, "%s", layout->name);
    score.bound_m =
        fw_plan__bound_m(fw_plan__grazed(&job->farm->fields[field]), layout);
    const size_t moves = layout->paddock_count;
    struct scoring scoring = {
        .job = job,
        .field = &job->farm->fields[field],
        .layout = layout,
        .out = &score,
        .work = fw_alloc(moves, sizeof *scoring.work),
        .kit = fw_alloc(moves, sizeof *scoring.kit),
    };
    enum fw_status status =
        scoring.work && scoring.kit ? FW_OK : fw_fail_memory(err);
    for (size_t l = 0; !status && l < layout->line_count; l++)
        status = add_line(&scoring, &layout->lines[l], err);
    if (!status) {
        sum_moves(&scoring);
        sum_cost(&scoring);
        status = look_at_paddocks(&scoring, err);
    }
    fw_free(scoring.work);
    fw_free(scoring.kit);
    if (!status)
        *out = score;
    return status;
}
