/* What stands first on every page: what nobody has said, and what is wrong. */
#include "report/report.h"

#include <stdio.h>
#include <string.h>

const char fw_report__first_words[] =
    "Local codes, the maker's instructions and the power company come first; "
    "leave to a licensed electrician what the law leaves to one. This page "
    "says what was looked at, not that the fence cannot hurt.";

static void details(struct fw_text *words, const struct fw_plan *plan,
                    const struct fw_plan_finding *finding, bool with_source)
{
    char distance[FW_WORDS], wanted[FW_WORDS];
    if (!finding->measured && !with_source)
        return;
    fw_text_add(words, " (");
    if (finding->measured)
        fw_text_addf(
            words, "%s away, wanted %s",
            fw_say_measured(finding->distance_m, finding->wanted_m, plan->units,
                            FW_DOWN, distance),
            fw_say_wanted(finding->wanted_m, plan->units, FW_UP, wanted));
    if (with_source)
        fw_text_addf(words, "%s%s", finding->measured ? "; " : "",
                     finding->source);
    fw_text_add(words, ")");
}

static bool is_alike(const struct fw_plan_finding *a,
                     const struct fw_plan_finding *b)
{
    return a->level == b->level && strcmp(a->rule, b->rule) == 0 &&
           strcmp(a->text, b->text) == 0;
}

/* Findings of one feature follow each other. Those that say the same of it, as
 * each moved line that crosses a path, are said once, with how many more. */
static bool count_alike(const struct fw_plan *plan,
                        const struct fw_plan_finding *finding, size_t *more)
{
    const size_t at = (size_t)(finding - plan->findings);
    *more = 0;
    for (size_t i = at; i-- > 0;) {
        const struct fw_plan_finding *other = &plan->findings[i];
        if (other->field != finding->field ||
            strcmp(other->feature, finding->feature) != 0)
            break;
        if (is_alike(other, finding))
            return false;
    }
    for (size_t i = at + 1; i < plan->finding_count; i++) {
        const struct fw_plan_finding *other = &plan->findings[i];
        if (other->field != finding->field ||
            strcmp(other->feature, finding->feature) != 0)
            break;
        *more += is_alike(other, finding);
    }
    return true;
}

void fw_report__finding(struct fw_text *text, const struct fw_plan *plan,
                        const struct fw_plan_finding *finding, bool colour,
                        bool with_source)
{
    struct fw_text words = {0};
    size_t more;
    if (!count_alike(plan, finding, &more))
        return;
    fw_text_add(&words, finding->text);
    if (more)
        fw_text_addf(&words, "; and in %zu more place%s", more,
                     more == 1 ? "" : "s");
    details(&words, plan, finding, with_source);
    if (finding->level == FW_LEVEL_DANGER && !words.failed) {
        fw_report__danger(text, colour, finding->about, words.bytes);
        fw_text_release(&words);
        return;
    }
    struct fw_text line = {0};
    fw_text_addf(&line, "%s: %s", finding->about,
                 words.failed ? "" : words.bytes);
    line.failed |= words.failed;
    fw_text_release(&words);
    fw_text_add(text, "  - ");
    fw_report__fold_text(text, 4, &line);
}

void fw_report__dangers(struct fw_text *text, const struct fw_plan *plan,
                        bool colour)
{
    if (plan->untold.count) {
        fw_report__heading(text, colour, "NOBODY HAS SAID");
        for (size_t i = 0; i < plan->untold.count; i++)
            fw_report__danger(text, colour, plan->untold.items[i].where,
                              plan->untold.items[i].text);
        fw_text_add(text, "\n");
    }
    bool any = false;
    for (size_t i = 0; i < plan->notes.count; i++) {
        if (plan->notes.items[i].level != FW_LEVEL_DANGER)
            continue;
        if (!any)
            fw_report__heading(text, colour, "DANGER");
        any = true;
        fw_report__danger(text, colour, plan->notes.items[i].where,
                          plan->notes.items[i].text);
    }
    for (size_t i = 0; i < plan->finding_count; i++) {
        if (plan->findings[i].level != FW_LEVEL_DANGER)
            continue;
        if (!any)
            fw_report__heading(text, colour, "DANGER");
        any = true;
        fw_report__finding(text, plan, &plan->findings[i], colour, false);
    }
    if (any)
        fw_text_add(text, "\n");
}
