/* What each stay would find if it began today, and on its day if growth fell to
 * a third: the two that say how far a plan hangs on what is to grow. */
#include "figures/growth.h"
#include "make/parts.h"

static enum fw_status look_ahead(const struct fw_time_stay *stay,
                                 const struct fw_plan__grass *today,
                                 struct fw_plan__grass *third,
                                 struct fw_plan_paddock *paddock,
                                 struct fw_error *err)
{
    enum fw_status status =
        fw_plan__holds(today, paddock, &paddock->today_kg, err);
    if (!status)
        status = fw_plan__grass_pass(third, stay->enter, err);
    return status ? status
                  : fw_plan__holds(third, paddock, &paddock->third_kg, err);
}

enum fw_status fw_plan__ahead(struct fw_plan_job *job, size_t field,
                              struct fw_error *err)
{
    const bool changes = fw_plan__grass_changes(job, field);
    struct fw_plan__grass today = {0}, third = {0};
    enum fw_status status = fw_plan__grass_of(job, field, &today, err);
    if (!status)
        status = fw_plan__grass_of(job, field, &third, err);
    third.share = FW_GROWTH_SLOW_SHARE;
    for (size_t i = 0; !status && i < job->stay_count; i++) {
        struct fw_plan_paddock *paddock =
            &job->plan->paddocks[job->stays[i].cell];
        if (paddock->field != field)
            continue;
        if (changes)
            status = look_ahead(&job->stays[i], &today, &third, paddock, err);
        else
            paddock->today_kg = paddock->third_kg = paddock->usable_kg;
    }
    fw_plan__grass_release(&today);
    fw_plan__grass_release(&third);
    return status;
}
