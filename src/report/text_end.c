/* The end of the report: what to look at that is no danger, what was taken for
 * granted, the cautions. In short each thing is said once, with how many more
 * there are; with --all everything is said. */
#include "report/report.h"

#include <string.h>

static void say_note(struct fw_text *words, const struct fw_note *note)
{
    fw_text_addf(words, "%s%s%s", note->where, note->where[0] ? ": " : "",
                 note->text);
}

/* ---- everything ---- */

/* Warnings, then what is only good to know. */
static void look_at_all(struct fw_text *text, const struct fw_plan *plan)
{
    bool any = false;
    for (size_t i = 0; i < plan->finding_count; i++) {
        if (plan->findings[i].level == FW_LEVEL_DANGER)
            continue;
        fw_text_add(text, any ? "" : "\nLook at\n");
        any = true;
        fw_report__finding(text, plan, &plan->findings[i], false, false);
    }
    for (size_t i = 0; i < plan->notes.count; i++) {
        if (plan->notes.items[i].level == FW_LEVEL_DANGER)
            continue;
        fw_text_add(text, any ? "" : "\nLook at\n");
        any = true;
        struct fw_text words = {0};
        say_note(&words, &plan->notes.items[i]);
        fw_text_add(text, "  - ");
        fw_report__fold_text(text, 4, &words);
    }
}

static void granted(struct fw_text *text, const struct fw_plan *plan)
{
    if (plan->default_count == 0)
        return;
    struct fw_text words = {0};
    for (size_t i = 0; i < plan->default_count; i++)
        fw_text_addf(&words, "%s%s %s", i ? "; " : "", plan->defaults[i].what,
                     plan->defaults[i].value);
    fw_text_add(text, "\nNot told, so taken as (sources in plan.json)\n  ");
    fw_report__fold_text(text, 2, &words);
}

/* ---- in short ---- */

/* So many warnings are told; more would push the work of the day away. */
enum { most_told = 4 };

/* The same rule is broken by the same thing, or by another field. */
static bool is_same(const struct fw_plan_finding *a,
                    const struct fw_plan_finding *b)
{
    return a->level == b->level && strcmp(a->rule, b->rule) == 0 &&
           strcmp(a->feature, b->feature) == 0 &&
           (a->feature[0] || strcmp(a->text, b->text) == 0);
}

static bool is_first(const struct fw_plan *plan, size_t index)
{
    for (size_t i = 0; i < index; i++)
        if (is_same(&plan->findings[i], &plan->findings[index]))
            return false;
    return true;
}

/* "B-line-2, power line of 20 kV, and 3 more places: ...", of them the one that
 * is nearest, where that was measured. */
static void say_warning(struct fw_text *words, const struct fw_plan *plan,
                        size_t index)
{
    const struct fw_plan_finding *worst = &plan->findings[index];
    size_t more = 0;
    for (size_t i = index + 1; i < plan->finding_count; i++) {
        const struct fw_plan_finding *other = &plan->findings[i];
        if (!is_same(other, &plan->findings[index]))
            continue;
        more++;
        if (other->measured && other->distance_m < worst->distance_m)
            worst = other;
    }
    fw_text_add(words, worst->about);
    if (more)
        fw_text_addf(words, ", and %zu more place%s", more,
                     more == 1 ? "" : "s");
    fw_text_addf(words, ": %s", worst->text);
}

/* How many there are to tell; the first ones are told. */
static size_t warnings(struct fw_text *text, const struct fw_plan *plan)
{
    size_t count = 0;
    for (size_t i = 0; i < plan->finding_count; i++) {
        if (plan->findings[i].level != FW_LEVEL_WARNING || !is_first(plan, i))
            continue;
        struct fw_text words = {0};
        if (++count > most_told)
            continue;
        say_warning(&words, plan, i);
        fw_report__line(text, count == 1 ? "Look at" : "", &words);
    }
    for (size_t i = 0; i < plan->notes.count; i++) {
        if (plan->notes.items[i].level != FW_LEVEL_WARNING)
            continue;
        struct fw_text words = {0};
        if (++count > most_told)
            continue;
        say_note(&words, &plan->notes.items[i]);
        fw_report__line(text, count == 1 ? "Look at" : "", &words);
    }
    return count;
}

static size_t note_count(const struct fw_plan *plan)
{
    size_t count = 0;
    for (size_t i = 0; i < plan->finding_count; i++)
        count += plan->findings[i].level == FW_LEVEL_NOTE && is_first(plan, i);
    for (size_t i = 0; i < plan->notes.count; i++)
        count += plan->notes.items[i].level == FW_LEVEL_NOTE;
    return count;
}

static void count_of(struct fw_text *words, size_t count, const char *one,
                     const char *many)
{
    if (count)
        fw_text_addf(words, "%s%zu %s", words->bytes ? ", " : "", count,
                     count == 1 ? one : many);
}

/* What a person has looked at is told as such, with its day. */
static void looked(struct fw_text *text, const struct fw_plan *plan)
{
    for (size_t i = 0; i < plan->finding_count; i++) {
        struct fw_text words = {0};
        if (strcmp(plan->findings[i].rule, "looked") != 0)
            continue;
        fw_text_addf(&words, "%s.", plan->findings[i].text);
        fw_report__line(text, "Maps", &words);
    }
}

void fw_report__rest(struct fw_text *text, const struct fw_plan *plan, bool all)
{
    if (all) {
        look_at_all(text, plan);
        granted(text, plan);
        fw_report__cautions_brief(text, plan);
        return;
    }
    const size_t count = warnings(text, plan);
    looked(text, plan);
    struct fw_text words = {0}, list = {0};
    fw_report__cautions_first(&words, plan);
    count_of(&list, count > most_told ? count - most_told : 0, "warning more",
             "warnings more");
    count_of(&list, note_count(plan), "note", "notes");
    count_of(&list, plan->default_count, "figure taken for granted",
             "figures taken for granted");
    if (list.bytes)
        fw_text_addf(&words, " With --all %s.", list.bytes);
    words.failed |= list.failed;
    fw_text_release(&list);
    fw_report__line(text, "Mind", &words);
}
