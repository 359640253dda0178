/* What was grazed before a plan begins. */
#include "base/alloc.h"
#include "base/fail.h"
#include "figures/plan.h"
#include "plan/place.h"

#include <string.h>

size_t fw_plan_first_stays(const struct fw_plan *plan)
{
    size_t count = 0;
    while (count < plan->time.stay_count && plan->time.stays[count].round == 0)
        count++;
    return count;
}

static bool is_in(const struct fw_plan_field *field, size_t cell)
{
    return cell >= field->first_paddock &&
           cell - field->first_paddock < field->paddock_count;
}

struct fw_list fw_plan_stays_of(const struct fw_plan *plan, size_t index)
{
    const struct fw_plan_field *field = &plan->fields[index];
    const struct fw_time *time = &plan->time;
    const size_t count = fw_plan_first_stays(plan);
    struct fw_list list = {0, 0};
    for (size_t i = 0; i < count; i++) {
        if (!is_in(field, time->stays[i].cell))
            continue;
        if (list.count++ == 0)
            list.first = i;
    }
    return list;
}

struct fw_nights fw_plan_nights_of(const struct fw_plan *plan, size_t index)
{
    const struct fw_time *time = &plan->time;
    struct fw_nights nights = {FW_NO_DAY, FW_NO_DAY};
    for (size_t i = 0; i < time->stay_count; i++) {
        if (!is_in(&plan->fields[index], time->stays[i].cell))
            continue;
        if (nights.from == FW_NO_DAY)
            nights.from = fw_time_nights(time, i).from;
        nights.to = fw_time_nights(time, i).to;
    }
    return nights;
}

double fw_plan_fed_days(const struct fw_plan *plan, size_t stay)
{
    const struct fw_time_stay *of = &plan->time.stays[stay];
    return of->round == 0 ? plan->paddocks[of->cell].stay_days
                          : of->target_kg / plan->flock.demand_kg_day;
}

double fw_plan_lack_days(const struct fw_plan *plan, size_t stay)
{
    const struct fw_nights nights = fw_time_nights(&plan->time, stay);
    const double lack_days =
        nights.to - nights.from - fw_plan_fed_days(plan, stay);
    return lack_days > FW_STAY_LITTLE_DAYS ? lack_days : 0;
}

size_t fw_plan_grazed_before(const struct fw_plan *plan, size_t index)
{
    const struct fw_plan_field *field = &plan->fields[index];
    const struct fw_list stays = fw_plan_stays_of(plan, index);
    return stays.count
               ? plan->time.stays[stays.first].cell - field->first_paddock
               : field->paddock_count;
}

bool fw_plan_is_grazed(const struct fw_plan *plan, size_t paddock)
{
    if (plan->time.stay_count > 0 && paddock < plan->time.stays[0].cell)
        return true;
    for (size_t i = 0; i < plan->time.stay_count; i++)
        if (plan->time.stays[i].cell == paddock)
            return false;
    return true;
}

enum fw_status fw_plan__number_rounds(struct fw_plan *plan,
                                      struct fw_error *err)
{
    bool *grazed = fw_alloc(plan->paddock_count, sizeof *grazed);
    if (!grazed)
        return fw_fail_memory(err);
    for (size_t p = 0;
         plan->time.stay_count > 0 && p < plan->time.stays[0].cell; p++)
        grazed[p] = true;
    const enum fw_status status =
        fw_time_number(&plan->time, plan->paddock_count, grazed, err);
    fw_free(grazed);
    return status;
}

size_t fw_plan_move_from(const struct fw_plan *plan, size_t move)
{
    const size_t first = plan->time.stays[0].cell;
    if (move > 0)
        return plan->time.stays[move - 1].cell;
    return first > 0 ? first - 1 : FW_NONE; /* all before it are grazed */
}

enum fw_status fw_plan__mark_set(struct fw_plan *plan, struct fw_error *err)
{
    const struct fw_time *time = &plan->time;
    bool *is_set = fw_alloc(plan->fence_count, sizeof *is_set);
    if (!is_set)
        return fw_fail_memory(err);
    for (size_t i = 0; i < time->step_count; i++) {
        const struct fw_list *lines = &time->steps[i].lines;
        for (size_t k = 0;
             time->steps[i].kind == FW_STEP_SET && k < lines->count; k++)
            is_set[time->items[lines->first + k]] = true;
    }
    plan->is_set = is_set;
    return FW_OK;
}

bool fw_plan_is_set(const struct fw_plan *plan, size_t fence)
{
    const struct fw_time *time = &plan->time;
    if (plan->is_set)
        return plan->is_set[fence];
    for (size_t i = 0; i < time->step_count; i++) {
        const struct fw_list *lines = &time->steps[i].lines;
        for (size_t k = 0;
             time->steps[i].kind == FW_STEP_SET && k < lines->count; k++)
            if (time->items[lines->first + k] == fence)
                return true;
    }
    return false;
}

/* Two vertices that follow each other in the ring: a fence within the field has
 * at most its ends on it. */
bool fw_plan_is_outer_front(const struct fw_plan *plan, size_t index)
{
    const struct fw_plan_fence *fence = &plan->fences[index];
    const struct fw_plan_rings *rings = &plan->fields[fence->field].rings;
    if (fence->role != FW_FENCE_MOVED)
        return false;
    const size_t a = fence->line[0], b = fence->line[1];
    for (size_t r = 0; r < rings->ring_count; r++) {
        const size_t first = rings->ring_start[r],
                     end = rings->ring_start[r + 1];
        for (size_t i = first; i < end; i++) {
            const size_t p = rings->vertices[i];
            const size_t q = rings->vertices[i + 1 < end ? i + 1 : first];
            if ((p == a && q == b) || (p == b && q == a))
                return true;
        }
    }
    return false;
}

bool fw_plan_is_one_field(const struct fw_plan *plan, size_t a, size_t b)
{
    const char *one = plan->fields[a].part_of, *other = plan->fields[b].part_of;
    return a == b || (one && other && strcmp(one, other) == 0);
}

bool fw_plan_is_border(const struct fw_plan *plan, size_t fence)
{
    const size_t field = plan->fences[fence].field;
    if (!plan->fences[fence].stood || !fw_plan_is_outer_front(plan, fence))
        return false;
    for (size_t i = 0; i < plan->field_count; i++)
        if (i != field && fw_plan_is_one_field(plan, i, field))
            return true;
    return false;
}

static bool runs_by(const struct fw_plan *plan, size_t fence, size_t field,
                    size_t vertex)
{
    const struct fw_plan_fence *of = &plan->fences[fence];
    const struct fw_point at = fw_plan__at(&plan->fields[field], vertex);
    for (size_t i = 0; i < of->line_count; i++)
        if (fw_plan__is_one_place(
                fw_plan__at(&plan->fields[of->field], of->line[i]), at))
            return true;
    return false;
}

size_t fw_plan_border_along(const struct fw_plan *plan, size_t fence)
{
    const struct fw_plan_fence *side = &plan->fences[fence];
    const size_t last = side->line[side->line_count - 1];
    if (side->role != FW_FENCE_PERIMETER)
        return FW_NONE;
    for (size_t i = 0; i < plan->fence_count; i++)
        if (plan->fences[i].field != side->field &&
            fw_plan_is_one_field(plan, plan->fences[i].field, side->field) &&
            fw_plan_is_border(plan, i) &&
            runs_by(plan, i, side->field, side->line[0]) &&
            runs_by(plan, i, side->field, last))
            return i;
    return FW_NONE;
}
