/* What each stay would find otherwise: if it began today, on its day if growth
 * fell to a third or went by another shape, and if nothing had to stay. They
 * say how far a plan hangs on what is to grow, and what is left in winter. */
#include "figures/growth.h"
#include "make/parts.h"

enum { TODAY, BARE, THIRD, OTHER, ways };

static enum fw_status look_ahead(struct fw_plan__grass grass[ways],
                                 const struct fw_time_stay *stay,
                                 struct fw_plan_paddock *paddock,
                                 struct fw_error *err)
{
    double *const kg[ways] = {
        [TODAY] = &paddock->today_kg,
        [BARE] = &paddock->bare_kg,
        [THIRD] = &paddock->third_kg,
        [OTHER] = &paddock->other_kg,
    };
    enum fw_status status = FW_OK;
    for (int way = 0; !status && way < ways; way++) {
        if (way >= THIRD)
            status = fw_plan__grass_pass(&grass[way], stay->enter, err);
        if (!status)
            status = fw_plan__holds(&grass[way], paddock, kg[way], err);
    }
    return status;
}

/* Nothing grows or goes. */
static enum fw_status look_same(const struct fw_plan__grass *bare,
                                struct fw_plan_paddock *paddock,
                                struct fw_error *err)
{
    paddock->today_kg = paddock->third_kg = paddock->other_kg =
        paddock->usable_kg;
    return fw_plan__holds(bare, paddock, &paddock->bare_kg, err);
}

enum fw_status fw_plan__ahead(struct fw_plan_job *job, size_t field,
                              struct fw_error *err)
{
    struct fw_plan__grass grass[ways] = {{0}};
    const bool changes = fw_plan__grass_changes(job, field);
    enum fw_status status = FW_OK;
    for (int way = 0; !status && way < ways; way++)
        status = fw_plan__grass_of(job, field, &grass[way], err);
    grass[BARE].bare = true;
    grass[THIRD].share = FW_GROWTH_SLOW_SHARE;
    grass[OTHER].other_shape = true;
    for (size_t i = 0; !status && i < job->stay_count; i++) {
        struct fw_plan_paddock *paddock =
            &job->plan->paddocks[job->stays[i].cell];
        if (paddock->field != field)
            continue;
        if (changes)
            status = look_ahead(grass, &job->stays[i], paddock, err);
        else
            status = look_same(&grass[BARE], paddock, err);
    }
    for (int way = 0; way < ways; way++)
        fw_plan__grass_release(&grass[way]);
    return status;
}
