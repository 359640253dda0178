/* Stays in what is left of a field that a plan goes on in: chain after chain,
 * cut anew where it holds another number of days than it was cut for. */
#include "anew/anew.h"

#include "base/alloc.h"
#include "base/array.h"
#include "base/fail.h"
#include "figures/forage.h"
#include "figures/mark.h"
#include "figures/plan.h"
#include "make/parts.h"

#include <math.h>
#include <string.h>

/* What a paddock holds of its stay's feed is the same as it was within this:
 * a fence is not moved by less than a person paces. */
static const double same_share = FW_TOLERANCE(0.01);

struct going {
    struct fw_plan_job *job;
    size_t index;
    struct fw_plan__grass grass;
    size_t grazed, next; /* paddocks of the plan: that the first ones end
                            before, and the one at hand */
};

/* ---- stays ---- */

static enum fw_status add_stay(struct going *going, int days,
                               struct fw_error *err)
{
    struct fw_plan_job *job = going->job;
    struct fw_plan *plan = job->plan;
    struct fw_plan_field *field = &plan->fields[going->index];
    struct fw_plan_paddock *paddock = &plan->paddocks[going->next];
    enum fw_status status =
        fw_array_reserve(&job->stays, &job->stay_capacity, job->stay_count + 1,
                         sizeof *job->stays, err);
    if (!status)
        status = fw_plan__grass_pass(&going->grass, job->day, err);
    if (!status)
        status =
            fw_plan__holds(&going->grass, paddock, &paddock->usable_kg, err);
    if (status)
        return status;
    const double fed_days =
        fmin(days, paddock->usable_kg / plan->flock.demand_kg_day);
    job->stays[job->stay_count++] =
        fw_plan__stay_of(job, going->next, days, fed_days, &job->day);
    paddock->stay_days = fed_days;
    paddock->demand_kg = plan->flock.demand_kg_day * fed_days;
    field->rotation_days += fed_days;
    field->last_share = fed_days / days;
    field->left_kg = paddock->usable_kg - paddock->demand_kg;
    going->next++;
    return FW_OK;
}

/* One that is fenced as it is may have to do for a longer stay. */
static enum fw_status add_one(struct going *going, struct fw_error *err)
{
    struct fw_plan *plan = going->job->plan;
    const size_t paddock = going->next;
    const int days =
        fw_plan__stay_days(going->job, going->index, going->job->day, 0);
    const enum fw_status status = add_stay(going, days, err);
    const double lack_days = days - plan->paddocks[paddock].stay_days;
    if (status || !(lack_days > FW_STAY_LITTLE_DAYS))
        return status;
    return fw_notes_add(
        &plan->notes, FW_LEVEL_WARNING, plan->fields[going->index].name, err,
        "%s, as large as it is fenced, feeds this flock %.1f "
        "days, and they stay %d: feed hay, or open the next "
        "one when it is eaten",
        plan->paddocks[paddock].id, plan->paddocks[paddock].stay_days, days);
}

/* ---- does it hold what it was cut for? ---- */

/* Of the feed that its stay takes, by the plan that it was cut in. */
static double share_then(const struct fw_plan *from, size_t paddock)
{
    const struct fw_plan_paddock *of = &from->paddocks[paddock];
    for (size_t i = 0; i < from->time.stay_count; i++) {
        const struct fw_time_stay *stay = &from->time.stays[i];
        if (stay->cell == paddock)
            return of->usable_kg /
                   (from->flock.demand_kg_day * (stay->leave - stay->enter));
    }
    return 0;
}

/* The paddock there that the first one of a chain here was. */
static size_t was(const struct going *going, size_t paddock)
{
    const struct fw_plan *from = going->job->on->from;
    const struct fw_plan_field *field = &from->fields[going->index];
    for (size_t i = field->first_paddock;
         i < field->first_paddock + field->paddock_count; i++)
        if (strcmp(from->paddocks[i].id,
                   going->job->plan->paddocks[paddock].id) == 0)
            return i;
    return FW_NONE;
}

static enum fw_status is_same(const struct going *going, size_t first,
                              size_t count, bool *same, struct fw_error *err)
{
    struct fw_plan_job *job = going->job;
    struct fw_plan__grass grass = {0};
    const size_t there = was(going, first);
    int day = job->day;
    enum fw_status status = fw_plan__grass_of(job, going->index, &grass, err);
    *same = there != FW_NONE;
    for (size_t k = 0; !status && *same && k < count; k++) {
        const struct fw_plan_paddock *paddock = &job->plan->paddocks[first + k];
        const int days = fw_plan__stay_days(job, going->index, day, 0);
        double holds_kg = 0;
        status = fw_plan__grass_pass(&grass, day, err);
        if (!status)
            status = fw_plan__holds(&grass, paddock, &holds_kg, err);
        const double share = holds_kg / (job->plan->flock.demand_kg_day * days);
        const double then = share_then(job->on->from, there + k);
        *same = fabs(share - then) <= same_share * then;
        day += days;
    }
    fw_plan__grass_release(&grass);
    return status;
}

/* ---- chains ---- */

/* The fence that was set otherwise, as it bounds the first of these paddocks.
 */
static bool is_set_off(const struct going *going, size_t paddock)
{
    const struct fw_plan_on *on = going->job->on;
    if (on->fence == FW_NONE ||
        on->from->fences[on->fence].field != going->index)
        return false;
    const size_t first = on->from->fields[going->index].first_paddock;
    const size_t here = going->job->plan->fields[going->index].first_paddock;
    return on->from->fences[on->fence].from - first == paddock - here;
}

static enum fw_status measure_new(struct fw_plan_job *job, size_t index,
                                  struct fw_error *err)
{
    struct fw_plan *plan = job->plan;
    struct fw_plan_field *field = &plan->fields[index];
    enum fw_status status = FW_OK;
    for (size_t i = 0; !status && i < field->paddock_count; i++) {
        struct fw_plan_paddock *paddock =
            &plan->paddocks[field->first_paddock + i];
        if (paddock->area_ha > 0)
            continue;
        status = fw_plan__measure_paddock(job, paddock, err);
        paddock->head_per_ha = plan->flock.head / paddock->area_ha;
        paddock->liveweight_kg_ha =
            plan->flock.liveweight_kg / paddock->area_ha;
        field->grazed_ha += paddock->area_ha;
    }
    for (size_t i = 0; !status && i < field->fence_count; i++)
        if (!(plan->fences[field->first_fence + i].length_m > 0))
            status = fw_plan__measure_line(
                job, &plan->fences[field->first_fence + i], err);
    return status;
}

/* The paddock that they are in, as large as its front made it. */
static void resize_here(struct going *going)
{
    const struct fw_plan_on *on = going->job->on;
    const struct fw_plan_paddock *of =
        &on->from->paddocks[on->from->fences[on->fence].from];
    struct fw_plan_paddock *paddock =
        &going->job->plan->paddocks[going->next++];
    paddock->usable_kg = of->usable_kg * paddock->plane_m2 / of->plane_m2;
}

static enum fw_status cut_chain(struct going *going, struct fw_plan__anew *anew,
                                bool moved, struct fw_error *err)
{
    anew->lines = fw_alloc(2, sizeof *anew->lines);
    anew->days = fw_alloc(2, sizeof *anew->days);
    if (!anew->lines || !anew->days)
        return fw_fail_memory(err);
    anew->given = 1;
    anew->done = going->next < going->grazed;
    anew->lines[0] = fw_plan__chain_at(&anew->chain, 0);
    enum fw_status status = moved ? fw_plan__anew_off(going->job->plan, anew,
                                                      going->job->on->on_m, err)
                                  : FW_OK;
    if (!status)
        status = fw_plan__anew_cut(going->job, going->index, anew, err);
    if (!status)
        status = fw_plan__anew_put(going->job, going->index, anew, err);
    if (!status)
        status = measure_new(going->job, going->index, err);
    if (!status && anew->done)
        resize_here(going);
    for (size_t k = anew->done; !status && k < anew->count; k++)
        status = add_stay(going, anew->days[k], err);
    return status;
}

static enum fw_status note_kept(const struct going *going, struct fw_error *err)
{
    const struct fw_plan *plan = going->job->plan;
    return fw_notes_add(
        &going->job->plan->notes, FW_LEVEL_NOTE,
        plan->fields[going->index].name, err,
        "from %s on the paddocks are left as they are, though another size is "
        "wanted: their fences are bent, or in pieces, or there is none",
        plan->paddocks[going->next].id);
}

/* From the next paddock on, one chain of them or one that is none. */
static enum fw_status add_some(struct going *going, struct fw_error *err)
{
    const struct fw_plan *plan = going->job->plan;
    const struct fw_plan_field *field = &plan->fields[going->index];
    const size_t left =
        field->first_paddock + field->paddock_count - going->next;
    const bool moved = is_set_off(going, going->next);
    struct fw_plan__anew anew = {0};
    bool whole = false, same = false;
    enum fw_status status =
        fw_plan__chain_find(plan, going->next, left, &anew.chain, &whole, err);
    whole &= !moved || anew.chain.count > 1; /* the fence is one of its own */
    const size_t count = whole ? anew.chain.count : 1;
    if (!status && !moved)
        status = is_same(going, going->next, count, &same, err);
    if (!status && whole && (moved || !same)) {
        status = cut_chain(going, &anew, moved, err);
    } else {
        if (!status && (moved || !same))
            status = note_kept(going, err);
        const size_t end = going->next + count;
        if (going->next < going->grazed)
            going->next = going->grazed;
        while (!status && going->next < end)
            status = add_one(going, err);
    }
    fw_plan__anew_release(&anew);
    return status;
}

/* Is the fence before it one that stands, so that it is as it is? One that was
 * set otherwise than the plan says bounds it anew. */
static bool is_fenced(const struct going *going)
{
    const struct fw_plan *plan = going->job->plan;
    const struct fw_plan_field *field = &plan->fields[going->index];
    if (is_set_off(going, going->next))
        return false;
    for (size_t i = field->first_fence;
         i < field->first_fence + field->fence_count; i++) {
        const struct fw_plan_fence *fence = &plan->fences[i];
        if (fence->role == FW_FENCE_MOVED && fence->stood &&
            fence->from == going->next && fence->to == going->next + 1)
            return true;
    }
    return false;
}

/* A line has a post wherever a fence ends on it, and others end on it now. */
static enum fw_status count_again(struct fw_plan_job *job, size_t index,
                                  struct fw_error *err)
{
    struct fw_plan *plan = job->plan;
    const struct fw_plan_field *field = &plan->fields[index];
    enum fw_status status = FW_OK;
    for (size_t i = 0; !status && i < field->fence_count; i++) {
        struct fw_plan_fence *fence = &plan->fences[field->first_fence + i];
        if (fence->role == FW_FENCE_STANDING || fence->role == FW_FENCE_LANE)
            status = fw_plan__count_parts(job, fence, err);
    }
    return status;
}

enum fw_status fw_plan__going_stays(struct fw_plan_job *job, size_t index,
                                    size_t grazed, struct fw_error *err)
{
    struct fw_plan_field *field = &job->plan->fields[index];
    struct going going = {
        .job = job,
        .index = index,
        .grazed = field->first_paddock + grazed,
    };
    going.next =
        going.grazed - (grazed > 0 && is_set_off(&going, going.grazed - 1));
    enum fw_status status = fw_plan__grass_of(job, index, &going.grass, err);
    while (!status && going.next < field->first_paddock + field->paddock_count)
        status =
            is_fenced(&going) ? add_one(&going, err) : add_some(&going, err);
    fw_plan__grass_release(&going.grass);
    if (fabs(field->left_kg) < FW_TOLERANCE(1e-6))
        field->left_kg = 0;
    if (!status)
        status = fw_plan__anew_tidy(job, index, err);
    return status ? status : count_again(job, index, err);
}
