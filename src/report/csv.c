/* materials.csv and moves.csv, as RFC 4180 has it: commas, CRLF, quotes. */
#include "report/report.h"

#include <string.h>

static void cell(struct fw_text *text, const char *value, bool last)
{
    if (value && strpbrk(value, ",\"\r\n")) {
        fw_text_add(text, "\"");
        for (const char *c = value; *c; c++) {
            if (*c == '"')
                fw_text_add(text, "\"");
            fw_text_add_bytes(text, c, 1);
        }
        fw_text_add(text, "\"");
    } else if (value) {
        fw_text_add(text, value);
    }
    fw_text_add(text, last ? "\r\n" : ",");
}

static void number(struct fw_text *text, double value, bool known, bool last)
{
    if (known)
        fw_text_add_number(text, value);
    fw_text_add(text, last ? "\r\n" : ",");
}

enum fw_status fw_report_materials_csv(const struct fw_plan *plan, char **out,
                                       size_t *count, struct fw_error *err)
{
    struct fw_text text = {0};
    fw_text_add(&text, "item,unit,quantity,price,cost,note\r\n");
    for (size_t i = 0; i < plan->material_count; i++) {
        const struct fw_material *row = &plan->materials[i];
        cell(&text, row->item, false);
        cell(&text, row->unit, false);
        number(&text, row->quantity, true, false);
        number(&text, row->price, row->price >= 0, false);
        number(&text, row->price * row->quantity, row->price >= 0, false);
        cell(&text, row->note, true);
    }
    return fw_report__give(&text, out, count, err);
}

/* From a corner towards a corner, or along a line towards its other end. */
static void paces(struct fw_text *text, const struct fw_plan *plan,
                  const struct fw_plan_field *field,
                  const struct fw_plan_paced *end)
{
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

/* Names with a semicolon between them. */
static void names(struct fw_text *text, const struct fw_plan *plan,
                  const struct fw_plan_field *field, size_t move, bool down)
{
    bool any = false;
    for (size_t i = field->first_fence;
         i < field->first_fence + field->fence_count; i++) {
        const struct fw_plan_fence *fence = &plan->fences[i];
        if ((down ? fence->down_at : fence->set_at) != move)
            continue;
        fw_text_addf(text, "%s%s", any ? ";" : "", fence->id);
        any = true;
    }
    fw_text_add(text, ",");
}

/* The bearing and the ends are those of the last one that is set: the line
 * that the flock will have in front. */
static void set_cells(struct fw_text *text, const struct fw_plan *plan,
                      size_t move)
{
    const struct fw_plan_field *field = &plan->fields[plan->moves[move].field];
    const struct fw_plan_paced none = {0};
    size_t count;
    const size_t first = fw_plan_set_fences(plan, move, &count);
    const struct fw_plan_fence *fence =
        count ? &plan->fences[first + count - 1] : NULL;
    double length_m = 0, wire_m = 0, posts = 0, reels = 0;
    for (size_t i = 0; i < count; i++) {
        length_m += plan->fences[first + i].length_m;
        wire_m += plan->fences[first + i].wire_m;
        posts += plan->fences[first + i].posts;
        reels += plan->fences[first + i].reels;
    }
    names(text, plan, field, move, false);
    number(text, fence ? fence->bearing_deg : 0, fence, false);
    number(text, length_m, fence, false);
    number(text, wire_m, fence, false);
    number(text, posts, fence, false);
    number(text, reels, fence, false);
    paces(text, plan, field, fence ? &fence->a : &none);
    paces(text, plan, field, fence ? &fence->b : &none);
}

enum fw_status fw_report_moves_csv(const struct fw_plan *plan, char **out,
                                   size_t *count, struct fw_error *err)
{
    struct fw_text text = {0};
    fw_text_add(&text, "date,field,from,to,stay_days,area_ha,set,bearing_deg,"
                       "length_m,wire_m,posts,reels,a_from,a_towards,a_paces,"
                       "b_from,b_towards,b_paces,open,take_down,pace_share,"
                       "minutes\r\n");
    for (size_t i = 0; i < plan->move_count; i++) {
        const struct fw_plan_move *move = &plan->moves[i];
        const struct fw_plan_paddock to = plan->paddocks[move->to];
        char day[FW_DATE_TEXT];
        cell(&text, fw_date_write(move->day, day), false);
        cell(&text, plan->fields[move->field].name, false);
        cell(&text,
             move->from == FW_NONE ? NULL : plan->paddocks[move->from].id,
             false);
        cell(&text, to.id, false);
        number(&text, to.stay_days, true, false);
        number(&text, to.area_ha, true, false);
        set_cells(&text, plan, i);
        cell(&text,
             move->front == FW_NONE ? "gate" : plan->fences[move->front].id,
             false);
        names(&text, plan, &plan->fields[move->field], i, true);
        number(&text, move->pace_share, move->pace_share > 0, false);
        number(&text, move->minutes, true, true);
    }
    return fw_report__give(&text, out, count, err);
}
