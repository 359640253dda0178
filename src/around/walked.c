/* How far the sheep walk to their water where the way is not straight: round a
 * corner or a pond, over grazed ground behind them or along a lane. Which
 * ground they have is the replay's. */
#include "around/around.h"
#include "choice/walk.h"

/* Some seconds. */
static const double walked_most = FW_EFFORT(2e7);

static enum fw_walk_untold dry(const struct fw_plan *plan,
                               const struct fw_plan_paddock *paddock)
{
    return plan->fields[paddock->field].water.given ? FW_WALK_SHUT_OFF
                                                    : FW_WALK_NO_WATER;
}

static enum fw_status look(const struct fw_plan_job *job, size_t stay,
                           struct fw_replay *replay, struct fw_plan__walk *walk,
                           struct fw_error *err)
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
    const enum fw_status status =
        fw_plan__walk_to(walk, replay, cell,
                         plan->waters[paddock->water].place.plane, &sums, err);
    if (status)
        return status;
    paddock->walk_known = sums.known;
    paddock->walk_mean_m = sums.mean_m;
    paddock->walk_max_m = sums.most_m;
    paddock->walk_untold = sums.known ? FW_WALK_TOLD
                           : fw_plan__walk_is_drawn(walk, replay)
                               ? FW_WALK_CUT_OFF
                               : FW_WALK_NOT_DRAWN;
    return FW_OK;
}

enum fw_status fw_plan__walks(struct fw_plan_job *job, struct fw_error *err)
{
    struct fw_replay replay;
    struct fw_plan__walk walk = {.farm = job->farm};
    const struct fw_time *time = &job->plan->time;
    enum fw_status status =
        fw_replay_begin(&job->land, time, &job->start.start, &replay, err);
    if (status)
        return status;
    for (size_t i = 0; i < job->plan->paddock_count; i++)
        job->plan->paddocks[i].walk_untold = FW_WALK_NOT_GRAZED;
    for (size_t m = 0; !status && fw_replay_to_move(&replay, m); m++)
        if (time->moves[m].stay != FW_NONE)
            status = look(job, time->moves[m].stay, &replay, &walk, err);
    fw_replay_end(&replay);
    fw_plan__walk_release(&walk);
    return status;
}
