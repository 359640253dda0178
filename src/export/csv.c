/* materials.csv and moves.csv. What is null is an empty cell. */
#include "export/csv.h"

#include "base/fail.h"
#include "base/whole.h"
#include "export/cells.h"
#include "export/export.h"
#include "geo/points.h"
#include "plan/words.h"
#include "store/maps.h"

#include <math.h>
#include <string.h>

struct fw_export__line {
    const struct fw_io__maps *maps;
    size_t index;
    const void *about[FW_EXPORT__ABOUT]; /* NULL: there is none */
};

static const struct fw_io__kind *const kinds[FW_EXPORT__ABOUT] = {
    [FW_EXPORT__MATERIAL] = &fw_io__material_kind,
    [FW_EXPORT__MOVE] = &fw_io__move_kind,
    [FW_EXPORT__ENTERED] = &fw_io__paddock_kind,
    [FW_EXPORT__WATER] = &fw_io__water_kind,
    [FW_EXPORT__SET] = &fw_io__fence_kind,
    [FW_EXPORT__FRONT] = &fw_io__fence_kind,
    [FW_EXPORT__END_A] = &fw_io__paced_kind,
    [FW_EXPORT__END_B] = &fw_io__paced_kind,
};

const char *const fw_export__about_words[FW_EXPORT__ABOUT] = {
    [FW_EXPORT__MATERIAL] = "a material",
    [FW_EXPORT__MOVE] = "a move",
    [FW_EXPORT__ENTERED] = "the paddock that is entered",
    [FW_EXPORT__WATER] = "its water",
    [FW_EXPORT__SET] = "all fences that are set, together",
    [FW_EXPORT__FRONT] = "the fence that is set last",
    [FW_EXPORT__END_A] = "its end A",
    [FW_EXPORT__END_B] = "its end B",
};

/* Those of maps stand behind those of plan.json: how many posts a fence has
 * behind its list of them. */
const struct fw_io__member *
fw_export__column_member(const struct fw_export__column *column)
{
    const struct fw_io__kind *kind = kinds[column->about];
    for (size_t i = kind->all_count; column->member && i-- > 0;)
        if (strcmp(kind->all[i].name, column->member) == 0)
            return &kind->all[i];
    return NULL;
}

/* What writes one. */
#define CELL(name)                                                             \
    static void name(                                                          \
        __attribute__((unused)) struct fw_text *to,                            \
        __attribute__((unused)) const struct fw_export__line *line,            \
        __attribute__((unused)) const struct fw_export__column *column)

/* ---- cells ---- */

/* A text that was put together first; it is released. */
static void list_cell(struct fw_text *to, struct fw_text *list)
{
    fw_export__last_cell(to, list->failed ? NULL : list->bytes);
    to->failed |= list->failed;
    fw_text_release(list);
}

static struct fw_io__worth worth_of(const struct fw_export__line *line,
                                    const struct fw_export__column *column)
{
    return fw_io__map_value(line->maps, fw_export__column_member(column),
                            line->about[column->about], line->index);
}

CELL(member)
{
    if (!line->about[column->about])
        return;
    const struct fw_io__worth worth = worth_of(line, column);
    char day[FW_DATE_TEXT];
    if (worth.text)
        fw_export__last_cell(to, worth.text);
    else if (isnan(worth.number))
        return;
    else if (fw_export__column_member(column)->type == FW_IO__DAY)
        fw_export__last_cell(to, fw_date_write(fw_whole(worth.number), day));
    else
        fw_text_add_number(to, worth.number);
}

/* In the first row it begins with who comes first. */
CELL(noted)
{
    const char *words = column->member ? worth_of(line, column).text : NULL;
    struct fw_text all = {0};
    if (line->index == 0)
        fw_text_add(&all, fw_report_first_words);
    if (words)
        fw_text_addf(&all, "%s%s", all.length ? " " : "", words);
    list_cell(to, &all);
}

CELL(cost)
{
    const struct fw_material *of = line->about[column->about];
    if (of->price >= 0)
        fw_text_add_number(to, of->price * fw_fence_bought(of, false));
}

CELL(packs)
{
    const struct fw_material *of = line->about[column->about];
    if (of->pack > 0)
        fw_text_add_number(to, fw_fence_packs(of, false));
}

CELL(bought)
{
    fw_text_add_number(to, fw_fence_bought(line->about[column->about], false));
}

/* ---- of a move ---- */

#define EACH_STEP(step, plan, of)                                              \
    const struct fw_step *step = (plan)->time.steps + (of)->steps.first;       \
    step < (plan)->time.steps + (of)->steps.first + (of)->steps.count;         \
    step++

static const struct fw_plan_fence *
fence_of(const struct fw_plan *plan, const struct fw_step *step, size_t i)
{
    return &plan->fences[plan->time.items[step->lines.first + i]];
}

CELL(from)
{
    const size_t paddock = fw_plan_move_from(line->maps->plan, line->index);
    if (paddock != FW_NONE)
        fw_export__last_cell(
            to, line->maps->labels[FW_IO__PADDOCKS].items[paddock]);
}

CELL(sum)
{
    const struct fw_plan *plan = line->maps->plan;
    const struct fw_io__member *of = fw_export__column_member(column);
    double whole = 0;
    for (EACH_STEP(step, plan, &plan->time.moves[line->index]))
        for (size_t k = 0; step->kind == FW_STEP_SET && k < step->lines.count;
             k++) {
            const size_t fence = plan->time.items[step->lines.first + k];
            whole +=
                fw_io__map_value(line->maps, of, &plan->fences[fence], fence)
                    .number;
        }
    if (line->about[FW_EXPORT__FRONT])
        fw_text_add_number(to, whole);
}

/* Of all steps of that kind, with a semicolon between them. */
static void names(struct fw_text *to, const struct fw_export__line *line,
                  enum fw_step_kind kind)
{
    const struct fw_plan *plan = line->maps->plan;
    struct fw_text list = {0};
    for (EACH_STEP(step, plan, &plan->time.moves[line->index]))
        for (size_t k = 0; step->kind == kind && k < step->lines.count; k++)
            fw_text_addf(&list, "%s%s", list.length ? ";" : "",
                         fence_of(plan, step, k)->id);
    list_cell(to, &list);
}

CELL(set)
{
    names(to, line, FW_STEP_SET);
}

CELL(take_down)
{
    names(to, line, FW_STEP_TAKE_DOWN);
}

CELL(openings)
{
    const struct fw_plan *plan = line->maps->plan;
    struct fw_text list = {0};
    for (EACH_STEP(step, plan, &plan->time.moves[line->index]))
        if (step->kind == FW_STEP_OPEN)
            fw_text_addf(&list, "%s%s", list.length ? ";" : "",
                         plan->gates[step->opening].id);
    list_cell(to, &list);
}

/* "open opening A03-04;count;close opening A03-04;take-down A02-03" */
CELL(steps)
{
    const struct fw_plan *plan = line->maps->plan;
    struct fw_text list = {0};
    for (EACH_STEP(step, plan, &plan->time.moves[line->index])) {
        fw_text_addf(&list, "%s%s", list.length ? ";" : "",
                     fw_plan__step_words[step->kind]);
        if (step->opening != FW_NONE)
            fw_text_addf(&list, " %s", plan->gates[step->opening].id);
        for (size_t k = 0; k < step->lines.count; k++)
            fw_text_addf(&list, "%c%s", k ? '+' : ' ',
                         fence_of(plan, step, k)->id);
    }
    list_cell(to, &list);
}

CELL(share)
{
    const struct fw_plan *plan = line->maps->plan;
    double of_last = 0;
    for (EACH_STEP(step, plan, &plan->time.moves[line->index]))
        if (step->kind == FW_STEP_SET && step->lines.count > 0)
            of_last = fw_plan_pace_share(plan, step);
    if (of_last > 0)
        fw_text_add_number(to, of_last);
}

/* An end of the last fence that is set. */
CELL(end_from)
{
    const struct fw_plan *plan = line->maps->plan;
    const struct fw_plan_fence *of = line->about[FW_EXPORT__FRONT];
    const struct fw_plan_paced *end = line->about[column->about];
    if (end && end->fence != FW_NONE)
        fw_export__last_cell(to, plan->fences[end->fence].id);
    else if (end)
        fw_text_add_number(to, (double)fw_plan_corner_number(
                                   &plan->fields[of->field], end->corner));
}

CELL(end_towards)
{
    const struct fw_plan *plan = line->maps->plan;
    const struct fw_plan_fence *of = line->about[FW_EXPORT__FRONT];
    const struct fw_plan_paced *end = line->about[column->about];
    if (!end)
        return;
    const size_t corner = fw_report_towards(&plan->fields[of->field], end);
    if (end->by == FW_PACED_LINE)
        fw_export__last_cell(to, end->far_end ? "A" : "B");
    else if (corner)
        fw_text_add_number(to, (double)corner);
}

CELL(round_of)
{
    const struct fw_move *of = line->about[FW_EXPORT__MOVE];
    if (line->about[FW_EXPORT__ENTERED])
        fw_text_add_number(
            to, (double)line->maps->plan->time.stays[of->stay].round + 1);
}

CELL(stay_days)
{
    const struct fw_move *of = line->about[FW_EXPORT__MOVE];
    if (line->about[FW_EXPORT__ENTERED])
        fw_text_add_number(to, fw_plan_fed_days(line->maps->plan, of->stay));
}

CELL(gate_m)
{
    const struct fw_plan_water *of = line->about[FW_EXPORT__WATER];
    const struct fw_plan_field *field =
        of ? &line->maps->plan->fields[of->field] : NULL;
    if (field && field->gate.given)
        fw_text_add_number(
            to, fw_point_apart_m(field->gate.plane, of->place.plane));
}

/* ---- the columns ---- */

#define IS_AS(name, about, of)                                                 \
    {                                                                          \
        name, FW_EXPORT__##about, of, member, NULL                             \
    }
#define IS(name, about) IS_AS(name, about, name)
#define SUM(name)                                                              \
    {                                                                          \
        name, FW_EXPORT__SET, name, sum, NULL                                  \
    }
#define WORKED(name, about, by, says)                                          \
    {                                                                          \
        name, FW_EXPORT__##about, NULL, by, says                               \
    }

static const struct fw_export__column of_materials[] = {
    IS("item", MATERIAL),
    IS("ware", MATERIAL),
    IS("unit", MATERIAL),
    IS("quantity", MATERIAL),
    IS("spare", MATERIAL),
    IS("owned", MATERIAL),
    IS("pack", MATERIAL),
    WORKED("packs", MATERIAL, packs, "Whole rolls or packs to buy of it."),
    WORKED("bought", MATERIAL, bought,
           "Needed and spare, in whole rolls, packs or pieces; what the farm "
           "has is not taken off."),
    IS("price", MATERIAL),
    WORKED("cost", MATERIAL, cost, "Price times what is bought."),
    {"note", FW_EXPORT__MATERIAL, "note", noted,
     "How it was counted; in the first row who comes first, before that."},
};

static const struct fw_export__column of_moves[] = {
    IS_AS("date", MOVE, "day"),
    IS("field", MOVE),
    WORKED("from", MOVE, from, "The paddock that they leave."),
    IS_AS("to", ENTERED, "paddock"),
    WORKED("round", MOVE, round_of, "The first time that it is grazed is 1."),
    WORKED("stay_days", MOVE, stay_days, "That they are to stay there."),
    IS("area_ha", ENTERED),
    WORKED("set", MOVE, set,
           "The fences that are set, in their order, a semicolon between "
           "several."),
    IS("bearing_deg", FRONT),
    SUM("length_m"),
    SUM("wire_m"),
    SUM("posts"),
    SUM("reels"),
    WORKED("a_from", END_A, end_from,
           "The number of the corner, or the name of the line, where counting "
           "starts."),
    WORKED("a_towards", END_A, end_towards,
           "The number of the side's other corner, or the other end of that "
           "line."),
    IS_AS("a_paces", END_A, "paces"),
    WORKED("b_from", END_B, end_from, "The same."),
    WORKED("b_towards", END_B, end_towards, "The same."),
    IS_AS("b_paces", END_B, "paces"),
    WORKED("pace_share", FRONT, share,
           "Of a day's feed, for one pace more or less along both sides."),
    WORKED("open", MOVE, openings,
           "The gates and openings that are opened, in their order."),
    WORKED("take_down", MOVE, take_down,
           "The fences that are taken down, in their order."),
    WORKED("steps", MOVE, steps,
           "All steps: a step's word, then its opening or its fences with + "
           "between them."),
    IS("minutes", MOVE),
    IS("water", WATER),
    IS("litres_day", WATER),
    IS("hot_l_day", WATER),
    WORKED(
        "gate_m", WATER, gate_m,
        "From the field's gate straight to it; empty where no gate is told."),
    IS("walk_mean_m", ENTERED),
    IS("walk_max_m", ENTERED),
    IS("climb_to_m", ENTERED),
    IS("climb_back_m", ENTERED),
    IS("walk_untold", ENTERED),
    WORKED("note", MOVE, noted, "Who comes first, in the first row."),
};

const struct fw_export__csv fw_export__csvs[FW_EXPORT__CSVS] = {
    {"materials.csv", of_materials, sizeof of_materials / sizeof *of_materials},
    {"moves.csv", of_moves, sizeof of_moves / sizeof *of_moves},
};

/* ---- files ---- */

static void header(struct fw_text *to, const struct fw_export__csv *csv)
{
    for (size_t i = 0; i < csv->count; i++)
        fw_text_addf(to, "%s%s", i ? "," : "", csv->columns[i].name);
    fw_text_add(to, "\r\n");
}

static void row(struct fw_text *to, const struct fw_export__csv *csv,
                const struct fw_export__line *line)
{
    for (size_t i = 0; i < csv->count; i++) {
        fw_text_add(to, i ? "," : "");
        csv->columns[i].write(to, line, &csv->columns[i]);
    }
    fw_text_add(to, "\r\n");
}

enum fw_status fw_report_materials_csv(const struct fw_plan *plan, char **out,
                                       size_t *count, struct fw_error *err)
{
    if (!plan || !out || !count)
        return fw_fail_null(err, "a plan, or where its bytes go,");
    const struct fw_io__maps maps = {.plan = plan}; /* it refers to nothing */
    struct fw_text text = {0};
    header(&text, &fw_export__csvs[0]);
    for (size_t i = 0; i < plan->material_count; i++)
        row(&text, &fw_export__csvs[0],
            &(struct fw_export__line){
                .maps = &maps,
                .index = i,
                .about = {[FW_EXPORT__MATERIAL] = &plan->materials[i]}});
    return fw_report_give(&text, out, count, err);
}

static const struct fw_plan_fence *last_set(const struct fw_plan *plan,
                                            const struct fw_move *of)
{
    const struct fw_plan_fence *last = NULL;
    for (EACH_STEP(step, plan, of))
        if (step->kind == FW_STEP_SET && step->lines.count > 0)
            last = fence_of(plan, step, step->lines.count - 1);
    return last;
}

static void move_row(struct fw_text *to, const struct fw_io__maps *maps,
                     size_t index)
{
    const struct fw_plan *plan = maps->plan;
    const struct fw_move *of = &plan->time.moves[index];
    const struct fw_plan_fence *last = last_set(plan, of);
    const size_t into = fw_plan_move_to(plan, index);
    const size_t water = into == FW_NONE ? FW_NONE : plan->paddocks[into].water;
    const struct fw_export__line line = {
        .maps = maps,
        .index = index,
        .about = {
            [FW_EXPORT__MOVE] = of,
            [FW_EXPORT__ENTERED] =
                into == FW_NONE ? NULL : &plan->paddocks[into],
            [FW_EXPORT__WATER] = water == FW_NONE ? NULL : &plan->waters[water],
            [FW_EXPORT__FRONT] = last,
            [FW_EXPORT__END_A] = last && last->a.by ? &last->a : NULL,
            [FW_EXPORT__END_B] = last && last->b.by ? &last->b : NULL,
        }};
    row(to, &fw_export__csvs[1], &line);
}

enum fw_status fw_report_moves_csv(const struct fw_plan *plan, char **out,
                                   size_t *count, struct fw_error *err)
{
    if (!plan || !out || !count)
        return fw_fail_null(err, "a plan, or where its bytes go,");
    struct fw_io__maps maps;
    struct fw_text text = {0};
    enum fw_status status = fw_io__maps_make(&maps, plan, err);
    header(&text, &fw_export__csvs[1]);
    for (size_t i = 0; !status && i < plan->time.move_count; i++)
        move_row(&text, &maps, i);
    if (status)
        fw_text_release(&text);
    else
        status = fw_report_give(&text, out, count, err);
    fw_io__maps_release(&maps);
    return status;
}
