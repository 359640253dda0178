/* materials.csv and moves.csv. */
#include "base/fail.h"
#include "plan/words.h"
#include "report/cells.h"
#include "report/report.h"

#include <string.h>

static void cell(struct fw_text *text, const char *value, bool last)
{
    fw_report__last_cell(text, value);
    fw_text_add(text, last ? "\r\n" : ",");
}

/* A list that was put together first; it is released. */
static void list_cell(struct fw_text *text, struct fw_text *list)
{
    cell(text, list->bytes, false);
    text->failed |= list->failed;
    fw_text_release(list);
}

static void number(struct fw_text *text, double value, bool known, bool last)
{
    if (known)
        fw_text_add_number(text, value);
    fw_text_add(text, last ? "\r\n" : ",");
}

/* The last cell; in the first row it begins with who comes first. */
static void note(struct fw_text *text, size_t row, const char *words)
{
    struct fw_text all = {0};
    if (row == 0)
        fw_text_add(&all, fw_report__first_words);
    fw_text_addf(&all, "%s%s", row == 0 && words[0] ? " " : "", words);
    cell(text, all.failed ? "" : all.bytes, true);
    text->failed |= all.failed;
    fw_text_release(&all);
}

enum fw_status fw_report_materials_csv(const struct fw_plan *plan, char **out,
                                       size_t *count, struct fw_error *err)
{
    if (!plan || !out || !count)
        return fw_fail_null(err, "a plan, or where its bytes go,");
    struct fw_text text = {0};
    fw_text_add(&text, "item,unit,quantity,price,cost,note\r\n");
    for (size_t i = 0; i < plan->material_count; i++) {
        const struct fw_material *row = &plan->materials[i];
        cell(&text, row->item, false);
        cell(&text, row->unit, false);
        number(&text, row->quantity, true, false);
        number(&text, row->price, row->price >= 0, false);
        number(&text, row->price * row->quantity, row->price >= 0, false);
        note(&text, i, row->note);
    }
    return fw_report__give(&text, out, count, err);
}

/* From a corner towards a corner, or along a line towards its other end. */
static void paces(struct fw_text *text, const struct fw_plan *plan,
                  const struct fw_plan_fence *of,
                  const struct fw_plan_paced *end)
{
    if (!of) {
        fw_text_add(text, ",,,");
        return;
    }
    const struct fw_plan_field *field = &plan->fields[of->field];
    if (end->by && end->fence != FW_NONE)
        cell(text, plan->fences[end->fence].id, false);
    else
        number(text,
               end->by ? (double)fw_plan_corner_number(field, end->corner) : 0,
               end->by, false);
    const size_t towards = fw_report__towards(field, end);
    if (end->by == FW_PACED_LINE)
        cell(text, end->far_end ? "A" : "B", false);
    else
        number(text, (double)towards, towards, false);
    number(text, end->paces, end->by, false);
}

/* Of all steps of that kind, with a semicolon between them. */
static void names(struct fw_text *text, const struct fw_plan *plan,
                  const struct fw_move *move, enum fw_step_kind kind)
{
    struct fw_text list = {0};
    for (size_t i = 0; i < move->steps.count; i++) {
        const struct fw_step *step = &plan->time.steps[move->steps.first + i];
        for (size_t k = 0; step->kind == kind && k < step->lines.count; k++) {
            fw_text_addf(
                &list, "%s%s", list.length ? ";" : "",
                plan->fences[plan->time.items[step->lines.first + k]].id);
        }
    }
    list_cell(text, &list);
}

/* What is opened, in the order of the work. */
static void openings(struct fw_text *text, const struct fw_plan *plan,
                     const struct fw_move *move)
{
    struct fw_text list = {0};
    for (size_t i = 0; i < move->steps.count; i++) {
        const struct fw_step *step = &plan->time.steps[move->steps.first + i];
        if (step->kind != FW_STEP_OPEN)
            continue;
        fw_text_addf(&list, "%s%s", list.length ? ";" : "",
                     plan->gates[step->opening].id);
    }
    list_cell(text, &list);
}

/* "open opening A03-04;count;close opening A03-04;take-down A02-03" */
static void steps(struct fw_text *text, const struct fw_plan *plan,
                  const struct fw_move *move)
{
    struct fw_text list = {0};
    for (size_t i = 0; i < move->steps.count; i++) {
        const struct fw_step *step = &plan->time.steps[move->steps.first + i];
        fw_text_addf(&list, "%s%s", i ? ";" : "",
                     fw_plan__step_words[step->kind]);
        if (step->opening != FW_NONE)
            fw_text_addf(&list, " %s", plan->gates[step->opening].id);
        for (size_t k = 0; k < step->lines.count; k++)
            fw_text_addf(
                &list, "%c%s", k ? '+' : ' ',
                plan->fences[plan->time.items[step->lines.first + k]].id);
    }
    list_cell(text, &list);
}

/* The bearing and the ends are those of the last one that is set: the line
 * that the flock will have in front. */
static void set_cells(struct fw_text *text, const struct fw_plan *plan,
                      const struct fw_move *move)
{
    const struct fw_plan_fence *last = NULL;
    double length_m = 0, wire_m = 0, posts = 0, reels = 0, share = 0;
    for (size_t i = 0; i < move->steps.count; i++) {
        const struct fw_step *step = &plan->time.steps[move->steps.first + i];
        for (size_t k = 0; step->kind == FW_STEP_SET && k < step->lines.count;
             k++) {
            last = &plan->fences[plan->time.items[step->lines.first + k]];
            length_m += last->length_m;
            wire_m += last->wire_m;
            posts += last->posts;
            reels += last->reels;
            share = fw_plan_pace_share(plan, step);
        }
    }
    names(text, plan, move, FW_STEP_SET);
    number(text, last ? last->bearing_deg : 0, last, false);
    number(text, length_m, last, false);
    number(text, wire_m, last, false);
    number(text, posts, last, false);
    number(text, reels, last, false);
    paces(text, plan, last, last ? &last->a : NULL);
    paces(text, plan, last, last ? &last->b : NULL);
    number(text, share, share > 0, false);
}

static const char *id_of(const struct fw_plan *plan, size_t paddock)
{
    return paddock == FW_NONE ? NULL : plan->paddocks[paddock].id;
}

enum fw_status fw_report_moves_csv(const struct fw_plan *plan, char **out,
                                   size_t *count, struct fw_error *err)
{
    if (!plan || !out || !count)
        return fw_fail_null(err, "a plan, or where its bytes go,");
    struct fw_text text = {0};
    fw_text_add(&text, "date,field,from,to,stay_days,area_ha,set,bearing_deg,"
                       "length_m,wire_m,posts,reels,a_from,a_towards,a_paces,"
                       "b_from,b_towards,b_paces,pace_share,open,take_down,"
                       "steps,minutes,note\r\n");
    for (size_t i = 0; i < plan->time.move_count; i++) {
        const struct fw_move *move = &plan->time.moves[i];
        const size_t from = fw_plan_move_from(plan, i);
        const size_t to = fw_plan_move_to(plan, i);
        const bool into = to != FW_NONE;
        char day[FW_DATE_TEXT];
        cell(&text, fw_date_write(move->day, day), false);
        cell(&text, plan->fields[move->field].name, false);
        cell(&text, id_of(plan, from), false);
        cell(&text, id_of(plan, to), false);
        number(&text, into ? plan->paddocks[to].stay_days : 0, into, false);
        number(&text, into ? plan->paddocks[to].area_ha : 0, into, false);
        set_cells(&text, plan, move);
        openings(&text, plan, move);
        names(&text, plan, move, FW_STEP_TAKE_DOWN);
        steps(&text, plan, move);
        number(&text, move->minutes, true, false);
        note(&text, i, "");
    }
    return fw_report__give(&text, out, count, err);
}
