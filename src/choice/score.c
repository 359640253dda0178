/* What a layout costs a person: work, wire, money, grass, and the way to water.
 * Its moves are made and judged as the plan's are. */
#include "base/alloc.h"
#include "base/fail.h"
#include "choice/land.h"
#include "choice/run.h"
#include "choice/scoring.h"
#include "figures/mark.h"
#include "figures/plan.h"
#include "geo/points.h"

#include "fence/fence.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

void fw_plan__scoring_release(struct fw_plan__scoring *scoring)
{
    fw_free(scoring->work);
    fw_free(scoring->stands);
    fw_land_release(&scoring->land);
}

/* ---- lines ---- */

static enum fw_status work_on(struct fw_plan__scoring *scoring, size_t index,
                              struct fw_error *err)
{
    const struct fw_layout *layout = scoring->layout;
    const struct fw_layout_line *line = &layout->lines[index];
    if (!(line->length_m > FW_TOLERANCE(1e-6)))
        return FW_OK;
    struct fw_point *points = fw_alloc(line->count, sizeof *points);
    if (!points)
        return fw_fail_memory(err);
    for (size_t i = 0; i < line->count; i++)
        points[i] = fw_plan__layout_at(scoring->field, layout,
                                       layout->line_vertices[line->first + i]);
    const enum fw_status status =
        fw_plan__line_work(scoring->job, scoring->out->field, points,
                           line->count, &scoring->work[index], err);
    fw_free(points);
    if (status || line->role == FW_LINE_FRONT)
        return status;
    struct fw_plan_score *out = scoring->out;
    const struct fw_plan_job *job = scoring->job;
    const bool overlong =
        fw_plan__is_overlong(job->farm, scoring->work[index].ground_m);
    out->longest_run_m = fmax(out->longest_run_m, line->length_m);
    out->overlong += overlong;
    out->beyond_limits += overlong;
    if (line->role == FW_LINE_MOVED)
        out->pace_share = fmax(out->pace_share,
                               line->length_m * job->farm->pace_m *
                                   scoring->targets->usable_kg_ha[line->from] /
                                   1e4 / job->plan->flock.demand_kg_day);
    return FW_OK;
}

enum fw_status fw_plan__scoring_land(struct fw_plan__scoring *scoring,
                                     struct fw_error *err)
{
    const struct fw_layout *layout = scoring->layout;
    size_t *line_of = fw_alloc(layout->line_count, sizeof *line_of);
    scoring->work = fw_alloc(layout->line_count, sizeof *scoring->work);
    scoring->stands = fw_alloc(layout->line_count, sizeof *scoring->stands);
    enum fw_status status = line_of && scoring->work && scoring->stands
                                ? FW_OK
                                : fw_fail_memory(err);
    for (size_t l = 0; !status && l < layout->line_count; l++)
        status = work_on(scoring, l, err);
    if (!status)
        status = fw_plan__land_of(scoring->job, scoring->out->field, layout,
                                  scoring->work, &scoring->land, line_of, err);
    for (size_t l = 0; !status && l < layout->line_count; l++)
        if (line_of[l] != FW_NONE)
            scoring->stands[line_of[l]] =
                layout->lines[l].role == FW_LINE_FRONT;
    scoring->start.stands = scoring->stands;
    fw_free(line_of);
    if (status || scoring->job->stay_count > 0)
        return status;
    /* It would be the first field: they are behind its front. */
    scoring->before =
        fw_plan__stay_unknown(fw_plan__cell_before(&scoring->land, 0));
    scoring->start.before = &scoring->before;
    scoring->start.before_count = scoring->before.cell != FW_NONE;
    return status;
}

/* ---- moves ---- */

static void take_sums(struct fw_plan_score *out,
                      const struct fw_time_sums *sums)
{
    out->kit = (struct fw_kit){sums->reels, sums->posts, sums->wire_m};
    out->minutes = sums->minutes / out->days;
    out->refused = sums->faults[FW_TIME_LOOSE] + sums->faults[FW_TIME_UNTIED];
    out->crossed_m = sums->crossed_m;
    out->crossings = sums->faults[FW_TIME_CROSSED];
    out->dry_nights = sums->dry_nights;
    out->unfed = sums->faults[FW_TIME_NO_FEED];
    out->narrow = sums->faults[FW_TIME_NARROW];
}

static enum fw_status judge(struct fw_plan__scoring *scoring,
                            const struct fw_time_stay *stays, bool set_first,
                            struct fw_time_sums *sums, struct fw_error *err)
{
    struct fw_plan__habits habits;
    struct fw_time time = {0};
    fw_plan__habits(scoring->job, scoring->out->field, set_first, &habits);
    enum fw_status status =
        fw_time_make(&scoring->land, stays, scoring->layout->paddock_count,
                     &habits.habits, &scoring->start, &time, err);
    if (!status)
        status = fw_time_judge(&scoring->land, &time, &habits.habits,
                               &scoring->start, sums, err);
    fw_time_release(&time);
    return status;
}

/* What the farm has not got; 0 when it has enough, or has told nothing. */
double fw_plan__kit_lack(const struct fw_farm *farm, const struct fw_kit *kit)
{
    const struct fw_kit *own = &farm->kit;
    if (!farm->kit_given)
        return 0;
    const double reels = fmax(0, kit->reels - own->reels);
    const double posts = fmax(0, kit->posts - own->posts);
    const double wire_m = fmax(0, kit->wire_m - own->wire_m);
    return reels / fmax(1, own->reels) + posts / fmax(1, own->posts) +
           wire_m / fmax(1, own->wire_m);
}

enum fw_status fw_plan__scoring_stays(const struct fw_plan__scoring *scoring,
                                      struct fw_time_stay **out, double *days,
                                      struct fw_error *err)
{
    const size_t count = scoring->layout->paddock_count;
    struct fw_time_stay *stays = fw_alloc(count, sizeof *stays);
    int day = scoring->job->day;
    *out = stays;
    *days = 0;
    if (!stays)
        return fw_fail_memory(err);
    for (size_t k = 0; k < count; k++) {
        stays[k] = fw_plan__stay(scoring->job, scoring->out->field,
                                 scoring->layout, scoring->targets, k, k, &day);
        *days += stays[k].target_kg / scoring->job->plan->flock.demand_kg_day;
    }
    return FW_OK;
}

/* Where nobody told in which order the work is done, that which can be done
 * with what the farm owns. */
static enum fw_status sum_moves(struct fw_plan__scoring *scoring,
                                struct fw_error *err)
{
    const struct fw_farm *farm = scoring->job->farm;
    struct fw_time_stay *stays;
    struct fw_time_sums sums;
    bool set_first = farm->work_order == FW_WORK_SET_FIRST;
    enum fw_status status =
        fw_plan__scoring_stays(scoring, &stays, &scoring->out->days, err);
    if (!status)
        status = judge(scoring, stays, set_first, &sums, err);
    if (!status)
        take_sums(scoring->out, &sums);
    if (!status && farm->kit_given && !farm->work_told &&
        fw_plan__kit_lack(farm, &scoring->out->kit) > 0) {
        struct fw_plan_score other = *scoring->out;
        status = judge(scoring, stays, !set_first, &sums, err);
        if (!status)
            take_sums(&other, &sums);
        if (!status && fw_plan__kit_lack(farm, &other.kit) <
                           fw_plan__kit_lack(farm, &scoring->out->kit)) {
            *scoring->out = other;
            set_first = !set_first;
        }
    }
    scoring->out->set_first = set_first;
    fw_free(stays);
    return status;
}

static void sum_cost(struct fw_plan__scoring *scoring)
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

/* ---- paddocks ---- */

static struct fw_walk_sums straight_in(const struct fw_plan__scoring *scoring,
                                       size_t paddock, struct fw_point from)
{
    const struct fw_land *land = &scoring->land;
    const struct fw_cell *cell = &land->cells[paddock];
    struct fw_walk_sums sums;
    fw_walk_straight(land->ring_points, land->ring_start + cell->first_ring,
                     cell->ring_count, from, &sums);
    return sums;
}

/* Where a trough would stand: in the middle of the corners. */
static struct fw_point mean_corner(const struct fw_land *land, size_t ring)
{
    const size_t first = land->ring_start[ring];
    const size_t count = land->ring_start[ring + 1] - first;
    struct fw_point middle = {0, 0};
    for (size_t i = 0; i < count; i++) {
        middle.x_m += land->ring_points[first + i].x_m / (double)count;
        middle.y_m += land->ring_points[first + i].y_m / (double)count;
    }
    return middle;
}

/* What of a cell lies to the east of a place. */
struct next_side {
    size_t sides;  /* that a line there crosses: of an odd count the place is
                      inside */
    double next_m; /* to the first of them; HUGE_VAL: there is none */
};

/* A side so near is not before the place any more. */
static const double passed_m = FW_TOLERANCE(1e-6);

static void cross(struct fw_point a, struct fw_point b, struct fw_point from,
                  struct next_side *found)
{
    if ((a.y_m <= from.y_m) == (b.y_m <= from.y_m))
        return;
    const double away_m =
        a.x_m - from.x_m +
        (b.x_m - a.x_m) * ((from.y_m - a.y_m) / (b.y_m - a.y_m));
    found->sides += away_m > passed_m;
    if (away_m > passed_m)
        found->next_m = fmin(found->next_m, away_m);
}

static struct next_side look_east(const struct fw_land *land,
                                  const struct fw_cell *cell,
                                  struct fw_point from)
{
    struct next_side found = {0, HUGE_VAL};
    for (size_t r = cell->first_ring; r < cell->first_ring + cell->ring_count;
         r++) {
        const size_t end = land->ring_start[r + 1];
        for (size_t i = land->ring_start[r]; i < end; i++)
            cross(land->ring_points[i],
                  land->ring_points[i + 1 < end ? i + 1 : land->ring_start[r]],
                  from, &found);
    }
    return found;
}

static double west_of_m(const struct fw_land *land, const struct fw_cell *cell)
{
    const size_t end = land->ring_start[cell->first_ring + cell->ring_count];
    double west_m = HUGE_VAL;
    for (size_t i = land->ring_start[cell->first_ring]; i < end; i++)
        west_m = fmin(west_m, land->ring_points[i].x_m);
    return west_m - 1;
}

/* Where that is in a pond or beside a bent paddock: in the middle of the widest
 * stretch of it straight west or east of there. */
struct fw_point fw_plan__scoring_middle(const struct fw_plan__scoring *scoring,
                                        size_t paddock)
{
    const struct fw_land *land = &scoring->land;
    const struct fw_cell *cell = &land->cells[paddock];
    const struct fw_point mean = mean_corner(land, cell->first_ring);
    struct fw_point best = mean, from = mean;
    if (look_east(land, cell, mean).sides % 2 == 1)
        return mean;
    double widest_m = 0;
    from.x_m = west_of_m(land, cell);
    for (;;) {
        const struct next_side next = look_east(land, cell, from);
        if (next.sides == 0)
            return best;
        if (next.sides % 2 == 1 && next.next_m > widest_m) {
            widest_m = next.next_m;
            best = (struct fw_point){from.x_m + next.next_m / 2, from.y_m};
        }
        from.x_m += next.next_m;
    }
}

static struct fw_walk_sums
straight_to_middle(const struct fw_plan__scoring *scoring, size_t paddock)
{
    return straight_in(scoring, paddock,
                       fw_plan__scoring_middle(scoring, paddock));
}

/* Where both may be, the nearer: what each has, the moves tell. */
static struct fw_walk_sums least_walk(const struct fw_plan__scoring *scoring,
                                      size_t paddock)
{
    const struct fw_farm *farm = scoring->job->farm;
    if (!scoring->field->water.given)
        return straight_to_middle(scoring, paddock);
    const struct fw_walk_sums fixed =
        straight_in(scoring, paddock, scoring->field->water.point);
    if (!farm->water_moves)
        return fixed;
    const struct fw_walk_sums moved = straight_to_middle(scoring, paddock);
    return moved.mean_m < fixed.mean_m ? moved : fixed;
}

static enum fw_status look_at_paddocks(struct fw_plan__scoring *scoring,
                                       struct fw_error *err)
{
    const struct fw_layout *layout = scoring->layout;
    struct fw_plan_score *out = scoring->out;
    struct fw_plan__way_sums straight = {0};
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
        const struct fw_walk_sums least = least_walk(scoring, p);
        fw_plan__add_way(&straight, layout->paddock_m2[p], &least);
        out->beyond_limits +=
            fw_plan__broken(scoring->job, &shape,
                            p + 1 == layout->paddock_count) != 0;
        fw_free(ring);
    }
    out->walk_low_m = out->walk_m = fw_plan__mean_way_m(&straight);
    out->walk_high_m = out->walk_most_m = out->walk_bound_m = (double)NAN;
    return FW_OK;
}

/* What lanes and aprons take, of all that there is. */
double fw_plan__lost(const struct fw_layout *layout)
{
    double all = 0, lost = 0;
    for (size_t p = 0; p < layout->paddock_count + layout->common_count; p++) {
        all += layout->holds[p];
        lost += p < layout->paddock_count ? 0 : layout->holds[p];
    }
    return all > 0 ? lost / all : 0;
}

bool fw_plan__is_lossy(double lost)
{
    return lost > FW_LOST_SHARE;
}

enum fw_status fw_plan__score(const struct fw_plan_job *job, size_t field,
                              const struct fw_layout *layout,
                              const struct fw_plan_targets *targets,
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
        .lost = fw_plan__lost(layout),
        .far_first = layout->far_first,
        .keep_short = layout->keep_short,
        .gate_m = layout->gate_m,
    };
    snprintf(score.layout, sizeof score.layout, "%s", layout->name);
    score.bound_m =
        fw_plan__bound_m(fw_plan__grazed(&job->farm->fields[field]), layout);
    score.beyond_limits = fw_plan__is_lossy(score.lost);
    struct fw_plan__scoring scoring = {
        .job = job,
        .field = &job->farm->fields[field],
        .layout = layout,
        .targets = targets,
        .out = &score,
    };
    enum fw_status status = fw_plan__scoring_land(&scoring, err);
    if (!status)
        status = sum_moves(&scoring, err);
    if (!status) {
        sum_cost(&scoring);
        status = look_at_paddocks(&scoring, err);
    }
    fw_plan__scoring_release(&scoring);
    if (!status)
        *out = score;
    return status;
}
