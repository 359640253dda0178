/* How far the sheep walk to their water where the way is not straight: round a
 * corner or a pond, over grazed ground behind them or along a lane. Which
 * ground they have is the replay's. */
#include "around/around.h"
#include "base/alloc.h"
#include "choice/run.h"
#include "choice/walk.h"

#include <math.h>

/* Some seconds. */
static const double walked_most = FW_EFFORT(2e7);

static enum fw_walk_untold dry(const struct fw_plan *plan,
                               const struct fw_plan_paddock *paddock)
{
    return plan->fields[paddock->field].water.given ? FW_WALK_SHUT_OFF
                                                    : FW_WALK_NO_WATER;
}

/* The feed of one field after the other, from day to day. */
struct feeding {
    struct fw_plan__grass grass;
    struct fw_herbage *ground;
};

static void release(struct feeding *feeding)
{
    fw_herbage_free(feeding->ground);
    fw_plan__grass_release(&feeding->grass);
    *feeding = (struct feeding){.ground = NULL};
}

/* As it lies on the day they enter; NULL: evenly. */
static enum fw_status feed_on(const struct fw_plan_job *job,
                              const struct fw_time_stay *stay, size_t field,
                              struct feeding *feeding,
                              const struct fw_herbage **out,
                              struct fw_error *err)
{
    enum fw_status status = FW_OK;
    *out = NULL;
    if (!fw_plan__ground(job, field))
        return FW_OK;
    const bool goes_on = feeding->ground && feeding->grass.field == field &&
                         feeding->grass.day <= stay->enter;
    if (!goes_on) {
        release(feeding);
        status = fw_plan__grass_of(job, field, &feeding->grass, err);
    }
    if (!status && (!goes_on || fw_plan__grass_changes(job, field))) {
        fw_herbage_free(feeding->ground);
        feeding->ground = NULL;
        status = fw_plan__grass_pass(&feeding->grass, stay->enter, err);
        if (!status)
            status =
                fw_plan__grass_ground(&feeding->grass, &feeding->ground, err);
    }
    *out = feeding->ground;
    return status;
}

/* Upwards there and back, on the way from that corner; where it is more than
 * from the corners so far. */
static enum fw_status climb_from(const struct fw_plan_job *job, size_t cell,
                                 const struct fw_plan__walk *walk,
                                 struct fw_point corner, struct fw_error *err)
{
    struct fw_plan_paddock *paddock = &job->plan->paddocks[cell];
    struct fw_point *way = NULL;
    size_t count = 0;
    double to_m, back_m;
    const enum fw_status status = fw_plan__walk_way(
        walk, cell, corner, job->plan->waters[paddock->water].place.plane, &way,
        &count, err);
    if (!status && count > 0 &&
        fw_plan__climb(job->farm->fields[paddock->field].heights, way, count,
                       &to_m, &back_m) &&
        !(to_m + back_m <= paddock->climb_to_m + paddock->climb_back_m)) {
        paddock->climb_to_m = to_m;
        paddock->climb_back_m = back_m;
    }
    fw_free(way);
    return status;
}

static enum fw_status climb(const struct fw_plan_job *job, size_t index,
                            const struct fw_plan__walk *walk,
                            struct fw_error *err)
{
    const struct fw_land *land = &job->land;
    const struct fw_cell *cell = &land->cells[index];
    const struct fw_plan_paddock *paddock = &job->plan->paddocks[index];
    enum fw_status status = FW_OK;
    if (!paddock->walk_known || !job->farm->fields[paddock->field].heights)
        return FW_OK;
    for (size_t i = land->ring_start[cell->first_ring];
         !status && i < land->ring_start[cell->first_ring + cell->ring_count];
         i++)
        status = climb_from(job, index, walk, land->ring_points[i], err);
    return status;
}

static enum fw_status look(const struct fw_plan_job *job, size_t stay,
                           struct fw_replay *replay, struct fw_plan__walk *walk,
                           struct feeding *feeding, struct fw_error *err)
{
    struct fw_plan *plan = job->plan;
    const size_t cell = plan->time.stays[stay].cell;
    struct fw_plan_paddock *paddock = &plan->paddocks[cell];
    struct fw_walk_sums sums;
    if (paddock->walk_known)
        return FW_OK;
    paddock->walk_untold = FW_WALK_TOO_MUCH;
    if (paddock->water == FW_NONE)
        paddock->walk_untold = dry(plan, paddock);
    if (paddock->water == FW_NONE || walk->passed > walked_most)
        return FW_OK;
    enum fw_status status = feed_on(job, &plan->time.stays[stay],
                                    paddock->field, feeding, &walk->feed, err);
    if (!status)
        status = fw_plan__walk_to(walk, replay, cell,
                                  plan->waters[paddock->water].place.plane,
                                  &sums, err);
    if (status)
        return status;
    paddock->walk_known = sums.known;
    paddock->walk_mean_m = sums.mean_m;
    paddock->walk_fed_m = sums.fed_m;
    paddock->walk_max_m = sums.most_m;
    paddock->walk_untold = sums.known ? FW_WALK_TOLD
                           : fw_plan__walk_is_drawn(walk, replay)
                               ? FW_WALK_CUT_OFF
                               : FW_WALK_NOT_DRAWN;
    return climb(job, cell, walk, err);
}

static void nothing_known(struct fw_plan_paddock *paddock)
{
    paddock->walk_untold = FW_WALK_NOT_GRAZED;
    paddock->climb_to_m = paddock->climb_back_m = (double)NAN;
}

enum fw_status fw_plan__walks(struct fw_plan_job *job, struct fw_error *err)
{
    struct fw_replay replay;
    struct fw_plan__walk walk = {.farm = job->farm};
    struct feeding feeding = {.ground = NULL};
    const struct fw_time *time = &job->plan->time;
    enum fw_status status =
        fw_replay_begin(&job->land, time, &job->start.start, &replay, err);
    if (status)
        return status;
    for (size_t i = 0; i < job->plan->paddock_count; i++)
        nothing_known(&job->plan->paddocks[i]);
    for (size_t m = 0; !status && fw_replay_to_move(&replay, m); m++)
        if (time->moves[m].stay != FW_NONE)
            status =
                look(job, time->moves[m].stay, &replay, &walk, &feeding, err);
    fw_replay_end(&replay);
    release(&feeding);
    fw_plan__walk_release(&walk);
    return status;
}
