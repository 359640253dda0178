/* The page of cautions that this plan carries. */
#include "base/alloc.h"
#include "base/fail.h"
#include "figures/say.h"
#include "plan/job.h"

static void take(struct fw_plan_caution *to, const struct fw_caution *from,
                 enum fw_units units)
{
    fw_text_clip(from->id, to->id, sizeof to->id);
    fw_text_clip(from->people ? "people" : "sheep", to->who, sizeof to->who);
    fw_text_clip(fw_safety_when_word(from->when), to->when, sizeof to->when);
    fw_say_words(from->text, units, to->text, sizeof to->text);
    fw_text_clip(from->source, to->source, sizeof to->source);
}

enum fw_status fw_plan__cautions(struct fw_plan *plan, struct fw_error *err)
{
    size_t count;
    const struct fw_caution *cautions = fw_safety_cautions(&count);
    plan->cautions = fw_alloc(count, sizeof *plan->cautions);
    if (!plan->cautions)
        return fw_fail_memory(err);
    for (size_t i = 0; i < count; i++)
        if (fw_safety_applies(&cautions[i], plan->concerns))
            take(&plan->cautions[plan->caution_count++], &cautions[i],
                 plan->units);
    return FW_OK;
}
