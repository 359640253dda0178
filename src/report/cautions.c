/* The page of cautions: people first, then sheep. */
#include "report/report.h"

#include "base/fail.h"
#include "plan/words.h"

#include <string.h>

static bool wanted(const struct fw_plan *plan, const struct fw_caution *caution)
{
    return !plan || fw_safety_applies(caution, plan->concerns);
}

/* What no map shows is not said to be kept. */
static const char *trial_of(const struct fw_plan *plan, const char *id)
{
    static const char *const says[] = {
        [FW_TRIED_KEPT] = "tried on this plan, and nothing found",
        [FW_TRIED_BROKEN] = "NOT KEPT by this plan: see the end of the page",
        [FW_TRIED_LOOKED] = "looked at by a person",
        [FW_TRIED_NO] = "not tried on this plan",
    };
    for (size_t i = 0; plan && i < plan->caution_count; i++)
        for (size_t k = 0; k < sizeof says / sizeof *says; k++)
            if (strcmp(plan->cautions[i].id, id) == 0 &&
                strcmp(plan->cautions[i].tried, fw_plan__tried_words[k]) == 0)
                return says[k];
    return NULL;
}

static void half(struct fw_text *text, const struct fw_plan *plan, bool people)
{
    size_t count;
    const struct fw_caution *cautions = fw_safety_cautions(&count);
    int number = 0;
    enum fw_when when = FW_WHEN_FIRST;
    for (size_t i = 0; i < count; i++) {
        if (cautions[i].people != people || !wanted(plan, &cautions[i]))
            continue;
        if (cautions[i].when != when)
            fw_text_addf(text, "\n    %s:\n",
                         fw_safety_when_word(cautions[i].when));
        when = cautions[i].when;
        fw_text_addf(text, "%2d  ", ++number);
        struct fw_text words = {0};
        fw_text_add_said(&words, cautions[i].text,
                         plan ? plan->units : FW_METRIC);
        fw_report__fold_text(text, 4, &words);
        const char *trial = trial_of(plan, cautions[i].id);
        if (trial)
            fw_text_addf(text, "    %s\n", trial);
        struct fw_text source = {0};
        fw_text_addf(&source, "(%s)", cautions[i].source);
        fw_text_add(text, "    ");
        fw_report__fold_text(text, 4, &source);
    }
}

static void brief_half(struct fw_text *text, const struct fw_plan *plan,
                       bool people)
{
    size_t count;
    const struct fw_caution *cautions = fw_safety_cautions(&count);
    struct fw_text words = {0};
    const char *before = people ? "People: " : "Sheep: ";
    for (size_t i = 0; i < count; i++) {
        if (cautions[i].people != people ||
            !fw_safety_applies(&cautions[i], plan->concerns))
            continue;
        fw_text_add(&words, before);
        fw_text_add_said(&words, cautions[i].brief, plan->units);
        before = "; ";
    }
    fw_text_add(&words, ".");
    fw_text_add(text, "  ");
    fw_report__fold_text(text, 2, &words);
}

void fw_report__cautions_first(struct fw_text *words,
                               const struct fw_plan *plan)
{
    size_t count, more = 0;
    const struct fw_caution *cautions = fw_safety_cautions(&count);
    for (size_t i = 1; i < count; i++) { /* the first is said already */
        if (!fw_safety_applies(&cautions[i], plan->concerns))
            continue;
        if (cautions[i].when == FW_WHEN_FIRST)
            fw_text_addf(words, "%s; ", cautions[i].brief);
        else
            more++;
    }
    fw_text_addf(words, "and %zu more: `foldwright cautions`.", more);
}

void fw_report__cautions_brief(struct fw_text *text, const struct fw_plan *plan)
{
    fw_text_add(text, "\nCautions in short; `foldwright cautions` has them "
                      "whole, with sources\n");
    brief_half(text, plan, true);
    brief_half(text, plan, false);
}

static void notes(struct fw_text *text, const struct fw_notes *notes)
{
    for (size_t i = 0; i < notes->count; i++)
        if (notes->items[i].level == FW_LEVEL_DANGER)
            fw_report__danger(text, false, notes->items[i].where,
                              notes->items[i].text);
}

/* All of it, for reports say the whole only once: dangers first. */
static void findings(struct fw_text *text, const struct fw_plan *plan)
{
    if (!plan)
        return;
    if (plan->untold.count > 0)
        fw_text_add(text, "\nNOBODY HAS SAID\n");
    notes(text, &plan->untold);
    fw_text_add(text, "\nFOUND FOR THIS PLAN\n");
    notes(text, &plan->notes);
    for (int level = FW_LEVEL_DANGER; level >= FW_LEVEL_NOTE; level--)
        for (size_t i = 0; i < plan->finding_count; i++)
            if ((int)plan->findings[i].level == level)
                fw_report__finding(text, plan, &plan->findings[i], false, true);
}

void fw_report_cautions_whole(struct fw_text *text, const struct fw_plan *plan)
{
    fw_text_add(text, "PEOPLE\n");
    half(text, plan, true);
    fw_text_add(text, "\nSHEEP\n");
    half(text, plan, false);
}

enum fw_status fw_report_cautions(const struct fw_plan *plan, char **out,
                                  struct fw_error *err)
{
    if (!out)
        return fw_fail_null(err, "where the page goes");
    struct fw_text text = {0};
    fw_report_first(&text);
    fw_text_add(&text, "CAUTIONS");
    if (plan)
        fw_text_addf(&text, " for %s", plan->farm_name);
    fw_text_add(&text, "\n\n");
    fw_report_cautions_whole(&text, plan);
    findings(&text, plan);
    return fw_report_give(&text, out, NULL, err);
}

static void tried_json(struct fw_text *text, const struct fw_plan *plan,
                       const char *id)
{
    for (size_t i = 0; plan && i < plan->caution_count; i++) {
        if (strcmp(plan->cautions[i].id, id) != 0)
            continue;
        const char *tried = plan->cautions[i].tried;
        fw_text_add(text, ", \"tried\": ");
        if (tried[0])
            fw_text_add_json(text, tried);
        else
            fw_text_add(text, "null");
    }
}

enum fw_status fw_report_cautions_json(const struct fw_plan *plan, char **out,
                                       struct fw_error *err)
{
    struct fw_text text = {0};
    size_t count;
    const struct fw_caution *cautions = fw_safety_cautions(&count);
    fw_text_add(&text, "[");
    bool first = true;
    for (size_t i = 0; i < count; i++) {
        if (!wanted(plan, &cautions[i]))
            continue;
        fw_text_add(&text, first ? "\n  {\"id\": " : ",\n  {\"id\": ");
        first = false;
        fw_text_add_json(&text, cautions[i].id);
        fw_text_add(&text, ", \"for\": ");
        fw_text_add_json(&text, cautions[i].people ? "people" : "sheep");
        fw_text_add(&text, ", \"when\": ");
        fw_text_add_json(&text, fw_safety_when_word(cautions[i].when));
        fw_text_add(&text, ", \"text\": ");
        char words[256];
        fw_text_add_json(&text, fw_say_words(cautions[i].text,
                                             plan ? plan->units : FW_METRIC,
                                             words, sizeof words));
        fw_text_add(&text, ", \"source\": ");
        fw_text_add_json(&text, cautions[i].source);
        tried_json(&text, plan, cautions[i].id);
        fw_text_add(&text, "}");
    }
    fw_text_add(&text, "\n]\n");
    return fw_report_give(&text, out, NULL, err);
}
