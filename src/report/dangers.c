/* What stands first on every page: who comes before it; what nobody has said,
 * and what is wrong. All of it is told on the first day, and after that what
 * touches the ground of the day; the rest is counted. */
#include "report/report.h"

#include <stdio.h>
#include <string.h>

const char fw_report_first_words[] =
    "Local codes, the maker's instructions, the power company and, where the "
    "law wants one, a licensed electrician come first. A checked fence can "
    "still hurt.";

void fw_report_first(struct fw_text *text)
{
    fw_report_fold(text, 0, fw_report_first_words);
    fw_text_add(text, "\n");
}

void fw_report_first_json(struct fw_text *text)
{
    fw_text_add(text, "\"first\": ");
    fw_text_add_json(text, fw_report_first_words);
}

/* ---- findings that say the same ---- */

static bool is_alike(const struct fw_plan_finding *a,
                     const struct fw_plan_finding *b)
{
    return a->level == b->level && strcmp(a->rule, b->rule) == 0 &&
           a->field == b->field && strcmp(a->feature, b->feature) == 0 &&
           strcmp(a->text, b->text) == 0;
}

/* Findings of one feature follow each other. Those that say the same of it, as
 * each moved line that crosses a path, are said once, with how many more. */
static bool count_alike(const struct fw_plan *plan,
                        const struct fw_plan_finding *finding, size_t *more)
{
    const size_t at = (size_t)(finding - plan->findings);
    *more = 0;
    for (size_t i = 0; i < plan->finding_count; i++) {
        if (i == at || !is_alike(&plan->findings[i], finding))
            continue;
        if (i < at)
            return false;
        ++*more;
    }
    return true;
}

static size_t first_alike(const struct fw_plan *plan, size_t finding)
{
    const struct fw_plan_finding *of = &plan->findings[finding];
    if (of->level == FW_LEVEL_NOTE || !of->place.given)
        return FW_NONE;
    for (size_t i = 0; i < finding; i++)
        if (plan->findings[i].place.given && is_alike(&plan->findings[i], of))
            return i;
    return finding;
}

size_t fw_report_drawn_number(const struct fw_plan *plan, size_t finding,
                              bool *first)
{
    const size_t alike = first_alike(plan, finding);
    size_t number = 0;
    *first = alike == finding;
    for (size_t i = 0; alike != FW_NONE && i <= alike; i++)
        number += first_alike(plan, i) == i;
    return number;
}

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

/* ---- what touches the ground of a day ---- */

static bool is_worked_at(const struct fw_plan *plan, size_t move, size_t fence)
{
    const struct fw_time *time = &plan->time;
    const struct fw_list *steps = &time->moves[move].steps;
    for (size_t i = steps->first; i < steps->first + steps->count; i++) {
        const struct fw_step *step = &time->steps[i];
        if (step->opening != FW_NONE &&
            plan->gates[step->opening].fence == fence)
            return true;
        for (size_t k = 0; k < step->lines.count; k++)
            if (time->items[step->lines.first + k] == fence)
                return true;
    }
    return false;
}

/* What is so of a whole field is told on the day on which they come into it. */
static bool comes_into(const struct fw_plan *plan, size_t move, size_t field)
{
    const size_t from = fw_plan_move_from(plan, move);
    const size_t to = fw_plan_move_to(plan, move);
    return to != FW_NONE && plan->paddocks[to].field == field &&
           (from == FW_NONE || plan->paddocks[from].field != field);
}

/* They are in the one paddock before the move, in the other after it. */
static bool touches(const struct fw_plan *plan, size_t move,
                    const struct fw_plan_finding *finding)
{
    const size_t ground[] = {fw_plan_move_from(plan, move),
                             fw_plan_move_to(plan, move)};
    if (finding->fence == FW_NONE && !finding->place.given)
        return comes_into(plan, move, finding->field);
    for (size_t i = 0; i < 2; i++)
        if (ground[i] != FW_NONE && finding->fence != FW_NONE &&
            fw_plan_bounds(plan, finding->fence, ground[i]))
            return true;
    return finding->fence != FW_NONE &&
           is_worked_at(plan, move, finding->fence);
}

/* A note that names a field, a paddock or a fence is of the day when that is.
 */
static bool is_of_day(const struct fw_plan *plan, size_t move,
                      const struct fw_note *note)
{
    const size_t ground[] = {fw_plan_move_from(plan, move),
                             fw_plan_move_to(plan, move)};
    for (size_t i = 0; i < 2; i++) {
        if (ground[i] == FW_NONE)
            continue;
        const struct fw_plan_paddock *paddock = &plan->paddocks[ground[i]];
        if (strcmp(note->where, paddock->id) == 0)
            return true;
        if (strcmp(note->where, plan->fields[paddock->field].name) == 0)
            return comes_into(plan, move, paddock->field);
    }
    for (size_t i = 0; i < plan->fence_count; i++)
        if (strcmp(note->where, plan->fences[i].id) == 0)
            return is_worked_at(plan, move, i);
    return false;
}

/* ---- the list ---- */

struct list {
    struct fw_text *text;
    const struct fw_plan *plan;
    size_t move; /* FW_NONE: of no day, all of it */
    bool colour;
    size_t told, left; /* of the heading at hand, and of all */
};

static void head(struct list *list, const char *heading)
{
    if (list->told++ == 0)
        fw_report__heading(list->text, list->colour, heading);
}

static void notes_of(struct list *list, const struct fw_notes *notes,
                     const char *heading)
{
    for (size_t i = 0; i < notes->count; i++) {
        const struct fw_note *note = &notes->items[i];
        if (note->level != FW_LEVEL_DANGER)
            continue;
        if (list->move != FW_NONE && !is_of_day(list->plan, list->move, note)) {
            list->left++;
            continue;
        }
        head(list, heading);
        fw_report__danger(list->text, list->colour, note->where, note->text);
    }
}

static void findings_of(struct list *list, const char *heading)
{
    const struct fw_plan *plan = list->plan;
    for (size_t i = 0; i < plan->finding_count; i++) {
        const struct fw_plan_finding *finding = &plan->findings[i];
        size_t more;
        if (finding->level != FW_LEVEL_DANGER)
            continue;
        if (list->move == FW_NONE) {
            head(list, heading);
            fw_report__finding(list->text, plan, finding, list->colour, false);
        } else if (touches(plan, list->move, finding)) {
            head(list, heading);
            struct fw_text words = {0};
            fw_text_add(&words, finding->text);
            details(&words, plan, finding, false);
            if (!words.failed)
                fw_report__danger(list->text, list->colour, finding->about,
                                  words.bytes);
            list->text->failed |= words.failed;
            fw_text_release(&words);
        } else if (count_alike(plan, finding, &more)) {
            list->left++;
        }
    }
}

static void end(struct list *list)
{
    if (list->told)
        fw_text_add(list->text, "\n");
    list->told = 0;
}

static void say_left(struct list *list, bool any)
{
    const size_t weekday = strlen("Mon ");
    char day[FW_WORDS];
    if (list->left == 0)
        return;
    fw_text_addf(list->text,
                 "%s%zu %sdanger%s as on %s: `foldwright "
                 "cautions`\n\n",
                 any ? "  and " : "! ", list->left, any ? "more " : "",
                 list->left == 1 ? "" : "s",
                 fw_report_day(list->plan->start_day, false, day) + weekday);
}

void fw_report_dangers(struct fw_text *text, const struct fw_plan *plan,
                       size_t move, bool colour)
{
    struct list list = {.text = text,
                        .plan = plan,
                        .move = move == 0 ? FW_NONE : move,
                        .colour = colour};
    notes_of(&list, &plan->untold, "NOBODY HAS SAID");
    bool any = list.told > 0;
    end(&list);
    notes_of(&list, &plan->notes, "DANGER");
    findings_of(&list, "DANGER");
    any |= list.told > 0;
    if (!list.left)
        end(&list);
    say_left(&list, any);
}
