/* A season that is under way, as one plan: what is over stands before what is
 * ahead. Ground that was grazed and fences that stood have kept their places
 * and names, so each stay finds its paddock by that; and the moves are those of
 * the ground as it came to be. */
#include "base/alloc.h"
#include "base/array.h"
#include "base/fail.h"
#include "make/parts.h"

#include <string.h>

enum fw_status fw_plan__was_grazed(const struct fw_plan *plan, const char *id,
                                   size_t *out, struct fw_error *err)
{
    for (size_t i = 0; i < plan->paddock_count; i++)
        if (strcmp(plan->paddocks[i].id, id) == 0) {
            *out = i;
            return FW_OK;
        }
    return fw_fail(err, FW_EFAULT, "%s was grazed, and is in no plan any more",
                   id);
}

static size_t find_fence(const struct fw_plan *plan, const char *id)
{
    for (size_t i = 0; i < plan->fence_count; i++)
        if (strcmp(plan->fences[i].id, id) == 0)
            return i;
    return FW_NONE;
}

/* ---- stays ---- */

/* Of what they are in the plan knows what it holds. */
static void take_feed(struct fw_plan_paddock *to,
                      const struct fw_plan_season_stay *was)
{
    to->usable_kg = was->usable_kg;
    to->demand_kg = was->demand_kg;
    to->stay_days = was->stay_days;
    to->head_per_ha = was->head_per_ha;
    to->liveweight_kg_ha = was->liveweight_kg_ha;
}

/* Was the paddock of that stay grazed before it? */
static bool is_again(const struct fw_plan_on *on, size_t index)
{
    for (size_t i = 0; i < index; i++)
        if (strcmp(on->season[i].id, on->season[index].id) == 0)
            return true;
    return false;
}

static enum fw_status take_stay(struct fw_plan_job *job, size_t index,
                                struct fw_error *err)
{
    const struct fw_plan_season_stay *was = &job->on->season[index];
    struct fw_plan *plan = job->plan;
    size_t cell = 0;
    const enum fw_status status =
        fw_plan__was_grazed(plan, was->id, &cell, err);
    if (status)
        return status;
    struct fw_plan_paddock *paddock = &plan->paddocks[cell];
    struct fw_plan_field *field = &plan->fields[paddock->field];
    if (was->usable_kg > 0)
        take_feed(paddock, was);
    paddock->today_kg = paddock->third_kg = paddock->other_kg =
        paddock->bare_kg = paddock->usable_kg;
    if (!is_again(job->on, index)) {
        field->grazed_ha += paddock->area_ha;
        field->rotation_days += paddock->stay_days;
    }
    struct fw_time_stay *stay = &job->stays[index];
    *stay = fw_plan__stay_unknown(cell);
    stay->enter = was->enter;
    stay->leave = was->leave;
    stay->target_kg = paddock->demand_kg;
    return FW_OK;
}

static enum fw_status take_stays(struct fw_plan_job *job, struct fw_error *err)
{
    const size_t count = job->on->season_count;
    enum fw_status status =
        fw_array_reserve(&job->stays, &job->stay_capacity,
                         job->stay_count + count, sizeof *job->stays, err);
    if (status)
        return status;
    memmove(job->stays + count, job->stays,
            job->stay_count * sizeof *job->stays);
    job->stay_count += count;
    for (size_t i = 0; !status && i < count; i++)
        status = take_stay(job, i, err);
    return status;
}

/* ---- how things were before the first of them ---- */

static void take_stood(struct fw_plan *plan, const struct fw_plan *base)
{
    for (size_t i = 0; i < plan->fence_count; i++)
        plan->fences[i].stood = false;
    for (size_t i = 0; i < base->fence_count; i++) {
        const size_t here = base->fences[i].stood
                                ? find_fence(plan, base->fences[i].id)
                                : FW_NONE;
        if (here != FW_NONE)
            plan->fences[here].stood = true;
    }
}

static enum fw_status take_open(struct fw_plan_job *job, struct fw_error *err)
{
    const struct fw_plan *base = job->on->base;
    fw_free(job->open);
    job->open_count = 0;
    job->open = fw_alloc(base->time.opening_count, sizeof *job->open);
    if (!job->open)
        return fw_fail_memory(err);
    for (size_t i = 0; i < base->time.opening_count; i++) {
        const struct fw_opening *from = &base->time.openings[i];
        const size_t here =
            from->open && from->line != FW_NONE
                ? find_fence(job->plan, base->fences[from->line].id)
                : FW_NONE;
        if (here == FW_NONE)
            continue;
        job->open[job->open_count] = *from;
        job->open[job->open_count++].line = here;
    }
    return FW_OK;
}

/* Lanes, and what lies behind fronts, follow the paddocks in both. */
static enum fw_status take_before(struct fw_plan_job *job, struct fw_error *err)
{
    const struct fw_plan *base = job->on->base, *plan = job->plan;
    enum fw_status status = FW_OK;
    job->before_count = 0;
    for (size_t i = 0; !status && i < base->time.before_count; i++) {
        struct fw_time_stay stay = base->time.before[i];
        if (stay.cell < base->paddock_count)
            status = fw_plan__was_grazed(plan, base->paddocks[stay.cell].id,
                                         &stay.cell, err);
        else
            stay.cell += plan->paddock_count - base->paddock_count;
        job->before[job->before_count++] = stay;
    }
    job->led_count = 0;
    return status;
}

/* What is in no plan any more stood on ground that was cut anew since. */
static enum fw_status take_works(struct fw_plan_job *job, struct fw_error *err)
{
    const struct fw_plan_on *on = job->on;
    job->works = fw_alloc(on->work_count, sizeof *job->works);
    if (!job->works)
        return fw_fail_memory(err);
    for (size_t i = 0; i < on->work_count; i++) {
        const struct fw_plan_season_line *was = &on->works[i];
        const size_t line = find_fence(job->plan, was->id);
        if (line != FW_NONE)
            job->works[job->work_count++] =
                (struct fw_time_work){line, was->move, was->down, was->ahead};
    }
    return FW_OK;
}

enum fw_status fw_plan__season(struct fw_plan_job *job, struct fw_error *err)
{
    struct fw_plan *plan = job->plan;
    enum fw_status status = take_stays(job, err);
    take_stood(plan, job->on->base);
    if (!status)
        status = take_open(job, err);
    if (!status)
        status = take_before(job, err);
    if (!status)
        status = take_works(job, err);
    plan->start_day = job->on->base->start_day;
    plan->ahead_day = job->on->day;
    return status;
}
