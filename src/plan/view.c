/* A plan as a program outside sees it: row by row, whatever it asks for. */
#include "plan/plan.h"

size_t fw_plan_paddock_count(const struct fw_plan *plan)
{
    return plan ? plan->paddock_count : 0;
}

const struct fw_plan_paddock *fw_plan_paddock_at(const struct fw_plan *plan,
                                                 size_t paddock)
{
    return paddock < fw_plan_paddock_count(plan) ? &plan->paddocks[paddock]
                                                 : NULL;
}

size_t fw_plan_fence_count(const struct fw_plan *plan)
{
    return plan ? plan->fence_count : 0;
}

const struct fw_plan_fence *fw_plan_fence_at(const struct fw_plan *plan,
                                             size_t fence)
{
    return fence < fw_plan_fence_count(plan) ? &plan->fences[fence] : NULL;
}

const struct fw_vertex *fw_plan_vertex_at(const struct fw_plan *plan,
                                          size_t field, size_t vertex)
{
    if (!plan || field >= plan->field_count ||
        vertex >= plan->fields[field].vertex_count)
        return NULL;
    return &plan->fields[field].vertices[vertex];
}

const struct fw_plan_totals *fw_plan_sums(const struct fw_plan *plan)
{
    return plan ? &plan->totals : NULL;
}

bool fw_plan_stay_in(const struct fw_plan *plan, size_t paddock, int *enter,
                     int *leave)
{
    bool any = false;
    for (size_t i = 0; plan && i < plan->time.stay_count; i++) {
        const struct fw_time_stay *stay = &plan->time.stays[i];
        if (stay->cell != paddock || paddock >= plan->paddock_count)
            continue;
        if (!any)
            *enter = stay->enter;
        *leave = stay->leave;
        any = true;
    }
    return any;
}
