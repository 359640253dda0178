/* How far the flock of a layout walks to water: those that still lead, before
 * one is taken; the others, where all are to be shown. */
#include "base/alloc.h"
#include "choice/land.h"
#include "choice/run.h"
#include "choice/scoring.h"
#include "choice/walk.h"
#include "figures/mark.h"

/* Where no back fence stands and the trough moves, each stay's ways lead over
 * the ground of all before it: beyond a tenth of a second the straight ways
 * decide. */
static const double walked_most = FW_EFFORT(5e5);

/* Of all that did not lead together. */
static const double all_most = FW_EFFORT(1e6);

struct walking {
    struct fw_plan__walk on;
    double most; /* to be looked at */
    struct fw_plan__way_sums way;
    size_t troughs; /* places of water */
    bool fixed;     /* one more */
    bool exact;     /* every stay's */
    bool known;     /* no stay's is longer than what is summed */
};

/* The way over the ground that the flock has in that stay. Where that takes too
 * long, what lies outside the paddock is left away if the trough stands in it:
 * with less ground no way is shorter. */
static enum fw_status add_stay(const struct fw_plan__scoring *scoring,
                               struct fw_replay *replay, size_t paddock,
                               struct walking *walking, struct fw_error *err)
{
    struct fw_walk_sums sums = {.known = false};
    enum fw_status status = FW_OK;
    const bool fixed = fw_replay_has_water(replay);
    const bool trough = !fixed && scoring->job->farm->water_moves;
    const struct fw_point water =
        fixed ? scoring->field->water.point
              : fw_plan__scoring_middle(scoring, paddock);
    walking->troughs += trough;
    walking->fixed |= fixed;
    if ((fixed || trough) && walking->on.passed < walking->most)
        status =
            fw_plan__walk_to(&walking->on, replay, paddock, water, &sums, err);
    walking->exact &= sums.known;
    if (!status && trough && !sums.known)
        status = fw_plan__walk_within(&walking->on, replay->land, paddock,
                                      water, &sums, err);
    walking->known &= sums.known;
    fw_plan__add_way(&walking->way, scoring->layout->paddock_m2[paddock],
                     &sums);
    return status;
}

static void take(const struct walking *walking, struct fw_plan_score *out)
{
    const double mean_m = fw_plan__mean_way_m(&walking->way);
    out->walk_high_m = walking->known ? mean_m : HUGE_VAL;
    out->walk_exact = walking->exact;
    if (!walking->exact)
        return;
    out->walk_m = mean_m;
    out->walk_most_m = walking->way.most_m;
    out->walk_bound_m = fw_walk_bound_m(
        walking->way.m2, walking->troughs + (walking->fixed ? 1 : 0));
}

static enum fw_status replay_walks(const struct fw_plan__scoring *scoring,
                                   const struct fw_time *time,
                                   struct walking *walking,
                                   struct fw_error *err)
{
    struct fw_replay replay;
    enum fw_status status =
        fw_replay_begin(&scoring->land, time, &scoring->start, &replay, err);
    if (status)
        return status;
    for (size_t m = 0;
         !status && walking->known && fw_replay_to_move(&replay, m); m++)
        if (time->moves[m].stay != FW_NONE)
            status =
                add_stay(scoring, &replay,
                         time->stays[time->moves[m].stay].cell, walking, err);
    fw_replay_end(&replay);
    return status;
}

/* Takes what is looked at from *most. */
static enum fw_status sum_walks(struct fw_plan__scoring *scoring, double *most,
                                struct fw_error *err)
{
    struct walking walking = {
        .on = {.farm = scoring->job->farm,
               .first_field =
                   (size_t)(scoring->field - scoring->job->farm->fields)},
        .most = *most,
        .exact = true,
        .known = true};
    struct fw_plan__habits habits;
    struct fw_time time = {0};
    struct fw_time_stay *stays;
    double days;
    enum fw_status status = fw_plan__scoring_stays(scoring, &stays, &days, err);
    fw_plan__habits(scoring->job, scoring->out->field, scoring->out->set_first,
                    &habits);
    if (!status)
        status =
            fw_time_make(&scoring->land, stays, scoring->layout->paddock_count,
                         &habits.habits, &scoring->start, &time, err);
    if (!status)
        status = replay_walks(scoring, &time, &walking, err);
    if (!status)
        take(&walking, scoring->out);
    *most -= walking.on.passed;
    fw_plan__walk_release(&walking.on);
    fw_time_release(&time);
    fw_free(stays);
    return status;
}

static enum fw_status look(struct fw_plan__scoring *scoring, double *most,
                           struct fw_plan_score *score, struct fw_error *err)
{
    const struct fw_plan_score *looked = scoring->out;
    const enum fw_status status = sum_walks(scoring, most, err);
    if (status)
        return status;
    score->walk_m = looked->walk_m;
    score->walk_high_m = looked->walk_high_m;
    score->walk_most_m = looked->walk_most_m;
    score->walk_exact = looked->walk_exact;
    score->walk_bound_m = looked->walk_bound_m;
    return FW_OK;
}

enum fw_status fw_plan__look_closer(const struct fw_plan_job *job, size_t field,
                                    const struct fw_layout *layout,
                                    const struct fw_plan_targets *targets,
                                    struct fw_plan_score *score,
                                    struct fw_error *err)
{
    struct fw_plan__habits habits;
    struct fw_plan_score looked = *score;
    struct fw_plan__scoring scoring = {.job = job,
                                       .field = &job->farm->fields[field],
                                       .layout = layout,
                                       .targets = targets,
                                       .out = &looked};
    double most = walked_most;
    size_t count = 0;
    enum fw_status status = fw_plan__scoring_land(&scoring, err);
    fw_plan__habits(job, field, false, &habits);
    if (!status)
        status = fw_plan__count_narrow(&scoring.land, habits.habits.way_m,
                                       &count, err);
    if (!status)
        status = look(&scoring, &most, score, err);
    if (!status)
        score->narrow += count;
    fw_plan__scoring_release(&scoring);
    return status;
}

enum fw_status fw_plan__walk_all(const struct fw_plan_job *job, size_t field,
                                 const struct fw_layout_list *list,
                                 const struct fw_plan_targets *targets,
                                 struct fw_plan_score *scores,
                                 struct fw_error *err)
{
    double most = all_most;
    enum fw_status status = FW_OK;
    for (size_t i = 0; !status && i < list->count; i++) {
        struct fw_plan_score looked = scores[i];
        struct fw_plan__scoring scoring = {.job = job,
                                           .field = &job->farm->fields[field],
                                           .layout = &list->items[i],
                                           .targets = targets,
                                           .out = &looked};
        if (!isnan(scores[i].walk_high_m))
            continue;
        status = fw_plan__scoring_land(&scoring, err);
        if (!status)
            status = look(&scoring, &most, &scores[i], err);
        fw_plan__scoring_release(&scoring);
    }
    return status;
}
