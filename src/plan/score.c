/* What a layout costs a person: work, wire, money, and the way to water. Lines
 * are counted as the plan counts them, without making the plan. */
#include "base/alloc.h"
#include "base/fail.h"
#include "plan/job.h"

#include <foldwright/fence.h>

#include <math.h>
#include <stdio.h>
#include <string.h>

struct scoring {
    const struct fw_plan_job *job;
    const struct fw_farm_field *field;
    const struct fw_layout *layout;
    struct fw_plan_score *out;
    /* By move: what is set and taken down in its course, what stands, and how
     * far from the start the farthest of it lies. */
    double *minutes, *away_m;
    struct fw_kit *kit;
};

static struct fw_point at(const struct scoring *scoring, size_t vertex)
{
    const struct fw_layout *layout = scoring->layout;
    return vertex < layout->vertex_count
               ? fw_plan__grazed(scoring->field)->vertices[vertex].plane
               : layout->added[vertex - layout->vertex_count].point;
}

static double away_m(struct fw_point a, struct fw_point b)
{
    return hypot(a.x_m - b.x_m, a.y_m - b.y_m);
}

/* Pieces between ties, each with its own gaps. */
static enum fw_status count_line(const struct scoring *scoring,
                                 const struct fw_layout_line *line,
                                 struct fw_fence_count *out,
                                 struct fw_error *err)
{
    const struct fw_fence_spec *spec = &scoring->job->farm->moved;
    *out = (struct fw_fence_count){.posts = 1};
    for (size_t i = line->first; i + 1 < line->first + line->count; i++) {
        const struct fw_point piece[2] = {
            at(scoring, scoring->layout->line_vertices[i]),
            at(scoring, scoring->layout->line_vertices[i + 1])};
        struct fw_fence_count count;
        if (!(away_m(piece[0], piece[1]) > 1e-6))
            continue;
        const enum fw_status status =
            fw_fence_count(piece, 2, false, spec, &count, err);
        if (status)
            return status;
        out->posts += count.posts - 1;
    }
    const double strand_m = line->length_m * (1 + spec->slack);
    out->line_m = line->length_m;
    out->wire_m = strand_m * spec->strands;
    out->reels =
        spec->strands * (int)fmax(1, ceil(strand_m / spec->reel_m - 1e-6));
    return FW_OK;
}

static double nearest_end_m(const struct scoring *scoring,
                            const struct fw_layout_line *line)
{
    const struct fw_farm_field *field = scoring->field;
    if (!field->gate.given)
        return 0;
    const size_t *v = scoring->layout->line_vertices + line->first;
    return fmin(away_m(at(scoring, v[0]), field->gate.point),
                away_m(at(scoring, v[line->count - 1]), field->gate.point));
}

static enum fw_status add_line(struct scoring *scoring,
                               const struct fw_layout_line *line,
                               struct fw_error *err)
{
    const struct fw_farm *farm = scoring->job->farm;
    const size_t moves = scoring->layout->paddock_count;
    struct fw_fence_count count;
    const enum fw_status status = count_line(scoring, line, &count, err);
    if (status || !(line->length_m > 1e-6))
        return status;
    const struct fw_plan__span span =
        fw_plan__span(farm,
                      (enum fw_fence_role[]){FW_FENCE_MOVED, FW_FENCE_STANDING,
                                             FW_FENCE_LANE}[line->role],
                      line->from, line->to, moves);
    const int strands = farm->moved.strands;
    const double near_m = nearest_end_m(scoring, line);
    scoring->minutes[span.set_at] +=
        fw_fence_set_min(&count, strands, &farm->rates);
    scoring->away_m[span.set_at] = fmax(scoring->away_m[span.set_at], near_m);
    if (span.down_at < moves) {
        scoring->minutes[span.down_at] +=
            fw_fence_take_down_min(&count, strands, &farm->rates);
        scoring->away_m[span.down_at] =
            fmax(scoring->away_m[span.down_at], near_m);
    }
    for (size_t m = span.set_at; m <= span.down_at && m < moves; m++) {
        scoring->kit[m].reels += count.reels;
        scoring->kit[m].posts += count.posts;
        scoring->kit[m].wire_m += count.wire_m;
    }
    scoring->out->longest_run_m =
        fmax(scoring->out->longest_run_m, line->length_m);
    return FW_OK;
}

static void sum_moves(struct scoring *scoring)
{
    struct fw_plan_score *out = scoring->out;
    const size_t moves = scoring->layout->paddock_count;
    double minutes = 0;
    for (size_t m = 0; m < moves; m++) {
        minutes +=
            scoring->minutes[m] +
            2 * scoring->away_m[m] / scoring->job->farm->rates.walk_m_min;
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

/* The outer ring of a paddock; the caller frees it. */
static struct fw_point *outline(const struct scoring *scoring, size_t paddock,
                                size_t *count)
{
    const struct fw_layout *layout = scoring->layout;
    const size_t ring = layout->piece_ring[layout->paddock_piece[paddock]];
    const size_t first = layout->ring_start[ring];
    *count = layout->ring_start[ring + 1] - first;
    struct fw_point *points = fw_alloc(*count, sizeof *points);
    for (size_t i = 0; points && i < *count; i++)
        points[i] = at(scoring, layout->ring_vertices[first + i]);
    return points;
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
    const struct fw_farm *farm = scoring->job->farm;
    struct fw_plan_score *out = scoring->out;
    const double least_m = fw_plan__least_width_m(scoring->job);
    out->width_m = HUGE_VAL;
    for (size_t p = 0; p < layout->paddock_count; p++) {
        size_t count;
        struct fw_point *ring = outline(scoring, p, &count);
        if (!ring)
            return fw_fail_memory(err);
        const double longer = fw_plan__elongation(ring, count);
        const double width_m = sqrt(layout->paddock_m2[p] / longer);
        out->width_m = fmin(out->width_m, width_m);
        out->elongation = fmax(out->elongation, longer);
        out->walk_m +=
            walk_m(scoring, ring, count) / (double)layout->paddock_count;
        /* A short last paddock is as wide as what was left. */
        const bool last = p + 1 == layout->paddock_count;
        out->beyond_limits +=
            !last && (width_m < least_m || longer > farm->longest_shape);
        fw_free(ring);
    }
    return FW_OK;
}

static void look_at_runs(struct scoring *scoring)
{
    const struct fw_farm *farm = scoring->job->farm;
    const double two_reels_m = 2 * farm->moved.reel_m / (1 + farm->moved.slack);
    for (size_t l = 0; l < scoring->layout->line_count; l++)
        scoring->out->beyond_limits +=
            scoring->layout->lines[l].length_m > two_reels_m;
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
    };
    const double there_m = 1e-6;
    if (job->farm->fields[field].gate.given && layout->gate_m > there_m)
        score.gate_m = layout->gate_m;
    snprintf(score.layout, sizeof score.layout, "%s", layout->name);
    score.bound_m =
        fw_plan__bound_m(fw_plan__grazed(&job->farm->fields[field]), layout);
    const size_t moves = layout->paddock_count;
    struct scoring scoring = {
        .job = job,
        .field = &job->farm->fields[field],
        .layout = layout,
        .out = &score,
        .minutes = fw_alloc(moves, sizeof *scoring.minutes),
        .away_m = fw_alloc(moves, sizeof *scoring.away_m),
        .kit = fw_alloc(moves, sizeof *scoring.kit),
    };
    enum fw_status status = scoring.minutes && scoring.away_m && scoring.kit
                                ? FW_OK
                                : fw_fail_memory(err);
    for (size_t l = 0; !status && l < layout->line_count; l++)
        status = add_line(&scoring, &layout->lines[l], err);
    if (!status) {
        sum_moves(&scoring);
        sum_cost(&scoring);
        look_at_runs(&scoring);
        status = look_at_paddocks(&scoring, err);
    }
    fw_free(scoring.minutes);
    fw_free(scoring.away_m);
    fw_free(scoring.kit);
    if (!status)
        *out = score;
    return status;
}
