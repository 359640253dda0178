/* What is to be said of the order in which the ground is grazed: what was asked
 * for and cannot be, and what goes against the season. */
#include "base/fail.h"
#include "choice/job.h"
#include "figures/plan.h"
#include "make/parts.h"

static enum fw_status note_far(const struct fw_plan_job *job, size_t index,
                               struct fw_error *err)
{
    struct fw_plan *plan = job->plan;
    const struct fw_plan_field *field = &plan->fields[index];
    if (!job->farm->far_first || field->far_first || field->paddock_count < 2)
        return FW_OK;
    if (!field->gate.given && !field->water.given)
        return fw_notes_add(&plan->notes, FW_LEVEL_WARNING, field->name, err,
                            "first: far is not followed: without a gate or a "
                            "water point no end is the far one");
    return fw_notes_add(&plan->notes, FW_LEVEL_WARNING, field->name, err,
                        "first: far is not followed: in %s no lane leads from "
                        "the gate to the far end, and a flock never walks "
                        "across ungrazed ground; layout: lane may have one",
                        field->layout);
}

/* Ground that was grazed stays open behind the flock for the rest of the
 * rotation. */
static enum fw_status warn_regrowth(const struct fw_plan_job *job, size_t index,
                                    struct fw_error *err)
{
    struct fw_plan *plan = job->plan;
    const struct fw_plan_field *field = &plan->fields[index];
    const struct fw_farm *farm = job->farm;
    if (farm->season != FW_SEASON_GROWTH || farm->back_fence ||
        !(field->rotation_days > FW_REGROWTH_DAYS))
        return FW_OK;
    return fw_notes_add(&plan->notes, FW_LEVEL_WARNING, field->name, err,
                        "without a back fence grazed ground stays open for up "
                        "to %.0f days; grass in growth sprouts within %.0f and "
                        "is bitten again (back-fence: yes)",
                        field->rotation_days, FW_REGROWTH_DAYS);
}

enum fw_status fw_plan__order_notes(const struct fw_plan_job *job,
                                    struct fw_error *err)
{
    enum fw_status status = FW_OK;
    for (size_t i = 0; !status && i < job->plan->field_count; i++) {
        status = note_far(job, i, err);
        if (!status)
            status = warn_regrowth(job, i, err);
    }
    return status;
}
