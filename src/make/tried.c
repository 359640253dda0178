/* What could be tried on this plan and what could not: for want of a map, or
 * of a word. What a person has looked at needs no map; it is told as such. */
#include "make/kept.h"

#include "around/around.h"
#include "base/alloc.h"
#include "base/fail.h"
#include "base/text.h"
#include "figures/say.h"
#include "plan/words.h"

#include <string.h>

static bool all_have_heights(const struct fw_farm *farm)
{
    for (size_t i = 0; i < farm->field_count; i++)
        if (!farm->fields[i].heights)
            return false;
    return true;
}

static bool all_heights_left_known(const struct fw_plan_job *job)
{
    for (size_t i = 0; i < job->plan->field_count; i++)
        if (job->plan->fields[i].paddock_count > 0 &&
            fw_plan__left_m(job, i) < 0)
            return false;
    return true;
}

/* ---- lists ---- */

static void add_word(struct fw_text *list, const char *word)
{
    fw_text_addf(list, "%s%s", list->bytes ? ", " : "", word);
}

/* The roles that have checks, in the order of the rules: those of `roles` or,
 * with `others`, all but those. */
static void list_roles(unsigned roles, bool others, struct fw_text *list)
{
    size_t count;
    const struct fw_safety_rule *rules = fw_safety_rules(&count);
    unsigned done = 0;
    for (size_t i = 0; i < count; i++) {
        const unsigned bit = 1U << rules[i].role;
        if (!fw_safety_is_checked(rules[i].role) || done & bit ||
            ((roles & bit) != 0) == others)
            continue;
        done |= bit;
        add_word(list, fw_safety_role_word(rules[i].role));
    }
}

/* One finding of the whole plan; without a list none. Both are released. */
static enum fw_status tell(struct fw_plan_job *job, const char *id,
                           const char *about, struct fw_text *lead,
                           struct fw_text *list, struct fw_error *err)
{
    struct fw_plan__around around = {.job = job, .field = FW_NONE};
    const bool none = !list->bytes && !list->failed;
    enum fw_status status = fw_text_done(list, err);
    if (!none && !status)
        fw_text_addf(lead, ": %s", list->bytes);
    if (!status)
        status = fw_text_done(lead, err);
    const struct fw_safety_rule *rule = fw_safety_rule_find(id);
    const struct fw_plan__found found = {
        .rule = rule,
        .fence = FW_NONE,
        .wanted_m = -1,
        .level = rule->level,
        .text = lead->bytes,
        .about = about,
    };
    if (!none && !status)
        status = fw_plan__find(&around, &found, err);
    fw_text_release(lead);
    fw_text_release(list);
    return status;
}

static enum fw_status tell_looked(struct fw_plan_job *job, struct fw_error *err)
{
    const struct fw_farm *farm = job->farm;
    struct fw_text lead = {0}, list = {0};
    char day[FW_DATE_TEXT];
    list_roles(farm->looked, false, &list);
    if (farm->looked & FW_LOOKED_STEEP)
        add_word(&list, "steep");
    if (farm->looked_day == FW_NO_DAY)
        fw_text_add(&lead, "looked at by a person, on a day that is not told");
    else
        fw_text_addf(&lead, "looked at by a person on %s",
                     fw_date_write(farm->looked_day, day));
    return tell(job, "looked", "maps", &lead, &list, err);
}

static enum fw_status tell_unmapped(struct fw_plan_job *job,
                                    struct fw_error *err)
{
    const struct fw_farm *farm = job->farm;
    struct fw_text lead = {0}, list = {0};
    list_roles(farm->mapped | farm->looked, true, &list);
    if (!all_have_heights(farm) && !(farm->looked & FW_LOOKED_STEEP))
        add_word(&list, fw_safety_rule_find("steep")->text);
    fw_text_add(&lead, "not looked at, for want of a map");
    return tell(job, "unchecked", "maps", &lead, &list, err);
}

static enum fw_status tell_untold(struct fw_plan_job *job, struct fw_error *err)
{
    struct fw_text lead = {0}, list = {0};
    if (!job->plan->energizer_place.given)
        add_word(&list, "how far the earth rods are from other earths "
                        "(energizer: {at: PLACE})");
    if (!all_heights_left_known(job))
        add_word(&list, "how high the grass is left, where only its mass is "
                        "told (leave: 9 cm)");
    fw_text_add(&lead, "not looked at, for want of a word");
    return tell(job, "unchecked", "farm", &lead, &list, err);
}

enum fw_status fw_plan__unchecked(struct fw_plan_job *job, struct fw_error *err)
{
    enum fw_status status = tell_unmapped(job, err);
    if (!status)
        status = tell_untold(job, err);
    return status ? status : tell_looked(job, err);
}

/* ---- the page ---- */

enum trial { NOT_TO_BE, NOT_DONE, BY_A_PERSON, DONE };

static enum trial trial_of(const struct fw_plan_job *job,
                           const struct fw_safety_rule *rule)
{
    const struct fw_farm *farm = job->farm;
    if (rule->check == FW_CHECK_PRINTED)
        return NOT_TO_BE;
    if (rule->check == FW_CHECK_GROUND)
        return all_have_heights(farm)           ? DONE
               : farm->looked & FW_LOOKED_STEEP ? BY_A_PERSON
                                                : NOT_DONE;
    if (strcmp(rule->id, "worms-left") == 0 && !all_heights_left_known(job))
        return NOT_DONE;
    if (strcmp(rule->id, "red-clover") == 0 && !farm->lambing.given)
        return NOT_DONE;
    if (!fw_safety_is_checked(rule->role))
        return DONE;
    if (!(farm->mapped & 1U << rule->role))
        return (farm->looked & 1U << rule->role) ? BY_A_PERSON : NOT_DONE;
    return rule->check == FW_CHECK_EARTH && !job->plan->energizer_place.given
               ? NOT_DONE
               : DONE;
}

static bool is_broken(const struct fw_plan *plan,
                      const struct fw_caution *caution)
{
    for (size_t i = 0; i < plan->finding_count; i++)
        if (plan->findings[i].level != FW_LEVEL_NOTE &&
            fw_safety_tries(caution, plan->findings[i].rule))
            return true;
    return false;
}

/* The weakest of its trials counts. */
static const char *trial_word(const struct fw_plan_job *job,
                              const struct fw_caution *caution)
{
    static const enum fw_tried told[] = {[NOT_TO_BE] = FW_TRIED_NO,
                                         [NOT_DONE] = FW_TRIED_NO,
                                         [BY_A_PERSON] = FW_TRIED_LOOKED,
                                         [DONE] = FW_TRIED_KEPT};
    size_t count;
    const struct fw_safety_rule *rules = fw_safety_rules(&count);
    enum trial least = NOT_TO_BE;
    if (!caution->tried)
        return "";
    if (is_broken(job->plan, caution))
        return fw_plan__tried_words[FW_TRIED_BROKEN];
    for (size_t i = 0; i < count; i++) {
        if (!fw_safety_tries(caution, rules[i].id))
            continue;
        const enum trial here = trial_of(job, &rules[i]);
        if (least == NOT_TO_BE || (here != NOT_TO_BE && here < least))
            least = here;
    }
    return fw_plan__tried_words[told[least]];
}

enum fw_status fw_plan__cautions(struct fw_plan_job *job, struct fw_error *err)
{
    struct fw_plan *plan = job->plan;
    size_t count;
    const struct fw_caution *cautions = fw_safety_cautions(&count);
    plan->cautions = fw_alloc(count, sizeof *plan->cautions);
    if (!plan->cautions)
        return fw_fail_memory(err);
    for (size_t i = 0; i < count; i++) {
        const struct fw_caution *from = &cautions[i];
        if (!fw_safety_applies(from, plan->concerns))
            continue;
        struct fw_plan_caution *to = &plan->cautions[plan->caution_count++];
        fw_text_clip(from->id, to->id, sizeof to->id);
        fw_text_clip(from->people ? "people" : "sheep", to->who,
                     sizeof to->who);
        fw_text_clip(fw_safety_when_word(from->when), to->when,
                     sizeof to->when);
        fw_say_words(from->text, job->plan->units, to->text, sizeof to->text);
        fw_text_clip(from->source, to->source, sizeof to->source);
        fw_text_clip(trial_word(job, from), to->tried, sizeof to->tried);
    }
    return FW_OK;
}
