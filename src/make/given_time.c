/* Time on ground that a plan made before has laid out: how long each of its
 * paddocks feeds the flock now, and how that plan's moves left things. */
#include "base/alloc.h"
#include "base/array.h"
#include "base/fail.h"
#include "choice/job.h"
#include "figures/forage.h"
#include "figures/mark.h"
#include "figures/plan.h"
#include "make/parts.h"

#include <math.h>

/* ---- stays ---- */

/* How many days of the flock as it was the paddock held then, and how many
 * whole days were given to it. */
struct was {
    double holds_days, feeds_days;
    int whole_days;
};

static struct was was_of(const struct fw_plan *from, size_t paddock)
{
    const struct fw_plan_paddock *of = &from->paddocks[paddock];
    struct was was = {
        .holds_days = of->usable_kg / from->flock.demand_kg_day,
        .feeds_days = of->stay_days,
        .whole_days = 1,
    };
    const size_t count = fw_plan_first_stays(from);
    for (size_t i = 0; i < count; i++)
        if (from->time.stays[i].cell == paddock) {
            const struct fw_nights nights = fw_time_nights(&from->time, i);
            was.whole_days = nights.to - nights.from;
        }
    return was;
}

/* What is told of all of them in one line. */
struct lacking {
    size_t count;
    size_t worst; /* paddock, or FW_NONE */
    double worst_days;
};

/* As many whole days as come nearest to what it holds now for each that it held
 * then, and on to a day on which the flock can be moved. */
static double add_stay(struct fw_plan_job *job, size_t index, size_t cell,
                       const struct was *was, struct lacking *lacking)
{
    struct fw_plan_paddock *paddock = &job->plan->paddocks[cell];
    const double demand = job->plan->flock.demand_kg_day;
    const double share =
        was->holds_days > 0 ? paddock->usable_kg / demand / was->holds_days : 1;
    const double days =
        fmin(FW_STAY_DAYS_MOST, fmax(1, round(was->whole_days * share)));
    const int whole = fw_plan__stay_days(job, index, job->day, (int)days);
    paddock->stay_days = fmin(whole, was->feeds_days * share);
    paddock->demand_kg = demand * paddock->stay_days;
    job->stays[job->stay_count++] =
        fw_plan__stay_of(job, cell, whole, paddock->stay_days, &job->day);
    const double lack_days = whole - paddock->stay_days;
    if (lack_days > FW_STAY_LITTLE_DAYS) {
        lacking->count++;
        if (lack_days > lacking->worst_days) {
            lacking->worst = cell;
            lacking->worst_days = lack_days;
        }
    }
    return paddock->stay_days / whole;
}

/* Less than was to be in the last one is told as everywhere. */
static enum fw_status warn_short(struct fw_plan_job *job, size_t index,
                                 const struct lacking *lacking,
                                 struct fw_error *err)
{
    struct fw_plan *plan = job->plan;
    struct fw_plan_field *field = &plan->fields[index];
    const size_t last = field->first_paddock + field->paddock_count - 1;
    if (lacking->worst == FW_NONE ||
        (lacking->count == 1 && lacking->worst == last))
        return FW_OK;
    field->last_share = 1; /* it is one of those that are told */
    return fw_notes_add(&plan->notes, FW_LEVEL_WARNING, field->name, err,
                        "%zu of its paddocks, as large as the plan made before "
                        "has them, feed this flock for less than the stay, %s "
                        "for %.1f of a day less: feed hay, or tell the front "
                        "as places, and the rest is laid out anew",
                        lacking->count, plan->paddocks[lacking->worst].id,
                        lacking->worst_days);
}

enum fw_status fw_plan__given_stays(struct fw_plan_job *job, size_t index,
                                    size_t grazed, struct fw_error *err)
{
    const struct fw_plan *from = job->farm->earlier;
    const size_t there =
        from->fences[job->farm->fields[index].front.fence].field;
    struct fw_plan_field *field = &job->plan->fields[index];
    struct lacking lacking = {.worst = FW_NONE};
    struct fw_plan__grass grass = {0};
    enum fw_status status = fw_array_reserve(
        &job->stays, &job->stay_capacity,
        job->stay_count + field->paddock_count, sizeof *job->stays, err);
    if (!status)
        status = fw_plan__grass_of(job, index, &grass, err);
    for (size_t k = grazed; !status && k < field->paddock_count; k++) {
        const struct was was =
            was_of(from, from->fields[there].first_paddock + k);
        struct fw_plan_paddock *paddock =
            &job->plan->paddocks[field->first_paddock + k];
        status = fw_plan__grass_pass(&grass, job->day, err);
        if (!status)
            status = fw_plan__holds(&grass, paddock, &paddock->usable_kg, err);
        if (status)
            break;
        field->last_share =
            add_stay(job, index, field->first_paddock + k, &was, &lacking);
        field->rotation_days += paddock->stay_days;
        field->left_kg = paddock->usable_kg - paddock->demand_kg;
    }
    fw_plan__grass_release(&grass);
    if (status)
        return status;
    if (fabs(field->left_kg) < FW_TOLERANCE(1e-6))
        field->left_kg = 0;
    return warn_short(job, index, &lacking, err);
}

/* ---- how things are ---- */

/* Into the last paddock that was grazed, of several rounds in the one of that
 * day; FW_NONE: they were in it when that plan began. */
static size_t move_into(const struct fw_plan *plan, size_t paddock, int day)
{
    size_t found = FW_NONE;
    for (size_t m = 0; m < plan->time.move_count; m++)
        if (fw_plan_move_to(plan, m) == paddock &&
            (found == FW_NONE || plan->time.moves[m].day <= day))
            found = m;
    return found;
}

static enum fw_status take_open(struct fw_plan_job *job,
                                const struct fw_plan_field *field,
                                const struct fw_plan_field *of,
                                const struct fw_replay *replay,
                                struct fw_error *err)
{
    const struct fw_time *time = replay->time;
    job->open = fw_alloc(time->opening_count, sizeof *job->open);
    if (!job->open)
        return fw_fail_memory(err);
    for (size_t i = 0; i < time->opening_count; i++) {
        const struct fw_opening *opening = &time->openings[i];
        const bool here = opening->line >= of->first_fence &&
                          opening->line < of->first_fence + of->fence_count;
        if (!replay->open[i] || !here || !replay->stands[opening->line])
            continue;
        struct fw_opening *to = &job->open[job->open_count++];
        *to = *opening;
        to->line = opening->line - of->first_fence + field->first_fence;
    }
    return FW_OK;
}

/* The common ground that they have with what was grazed. */
static enum fw_status take_led(struct fw_plan_job *job, size_t there,
                               struct fw_replay *replay, struct fw_error *err)
{
    const struct fw_land_field *of = &replay->land->fields[there];
    size_t count;
    const size_t *cells = fw_replay_ground(replay, &count);
    job->led = fw_alloc(of->common_count, sizeof *job->led);
    if (!job->led)
        return fw_fail_memory(err);
    job->led_count = of->common_count;
    for (size_t i = 0; i < count; i++)
        if (cells[i] >= of->first_common &&
            cells[i] - of->first_common < of->common_count)
            job->led[cells[i] - of->first_common] = true;
    return FW_OK;
}

/* The last stays of that plan in the field. */
static void take_before(struct fw_plan_job *job,
                        const struct fw_plan_field *field,
                        const struct fw_plan_field *of,
                        const struct fw_replay *replay, size_t move)
{
    const struct fw_time *time = replay->time;
    const struct fw_time_stay unknown = fw_plan__stay_unknown(replay->cell);
    const struct fw_time_stay *last = &unknown;
    size_t count = 1;
    if (move != FW_NONE) {
        count = move < 1 ? 1 : 2;
        last = &time->stays[move + 1 - count];
    } else if (time->before_count > 0) {
        count = time->before_count;
        last = time->before;
    }
    for (size_t i = 0; i < count; i++) {
        struct fw_time_stay stay = last[i];
        if (stay.cell < of->first_paddock ||
            stay.cell >= of->first_paddock + of->paddock_count)
            continue;
        stay.cell += field->first_paddock - of->first_paddock;
        job->before[job->before_count++] = stay;
    }
}

/* A field there and here, and the last move that was made. */
struct start {
    const struct fw_plan *from;
    size_t there, index, move;
};

static enum fw_status take_state(struct fw_plan_job *job,
                                 const struct start *state,
                                 struct fw_replay *replay, struct fw_error *err)
{
    const struct fw_plan *from = state->from;
    const struct fw_plan_field *of = &from->fields[state->there];
    struct fw_plan *plan = job->plan;
    const struct fw_plan_field *field = &plan->fields[state->index];
    if (state->move != FW_NONE)
        fw_replay_to_move(replay, state->move);
    take_before(job, field, of, replay, state->move);
    job->led_field = state->index;
    for (size_t i = 0; i < field->fence_count; i++) {
        struct fw_plan_fence *fence = &plan->fences[field->first_fence + i];
        fence->stood = fence->role != FW_FENCE_PERIMETER &&
                       replay->stands[of->first_fence + i];
    }
    const enum fw_status status = take_open(job, field, of, replay, err);
    return status ? status
                  : take_led(job, (size_t)(of - from->fields), replay, err);
}

static struct start state_of(const struct fw_plan_job *job, size_t index)
{
    if (job->on)
        return (struct start){job->on->from, index, index, job->on->move};
    const struct fw_plan *from = job->farm->earlier;
    const size_t paddock =
        from->fences[job->farm->fields[index].front.fence].from;
    return (struct start){from, from->paddocks[paddock].field, index,
                          move_into(from, paddock, job->farm->start_day)};
}

enum fw_status fw_plan__given_start(struct fw_plan_job *job, size_t index,
                                    struct fw_error *err)
{
    const struct start state = state_of(job, index);
    const struct fw_plan *from = state.from;
    struct fw_land land = {0};
    struct fw_plan_start start = {0};
    struct fw_replay replay = {0};
    enum fw_status status = fw_plan_land(from, &land, err);
    if (!status)
        status = fw_plan_start(from, &land, &start, err);
    if (!status)
        status =
            fw_replay_begin(&land, &from->time, &start.start, &replay, err);
    if (!status)
        status = take_state(job, &state, &replay, err);
    fw_replay_end(&replay);
    fw_plan_start_release(&start);
    fw_land_release(&land);
    return status;
}
