/* One move for machines. */
#include "export/export.h"
#include "plan/words.h"
#include "today/today.h"

static void add_id(struct fw_text *text, const char *key, const char *id)
{
    fw_text_addf(text, ", \"%s\": ", key);
    if (id)
        fw_text_add_json(text, id);
    else
        fw_text_add(text, "null");
}

/* Of a corner, a side or a round, which begin at 1. */
static void add_number(struct fw_text *text, size_t number)
{
    if (number)
        fw_text_addf(text, "%zu", number);
    else
        fw_text_add(text, "null");
}

/* A corner or a fence is null where counting does not start from it. */
static void paced_json(struct fw_text *text, const struct fw_plan *plan,
                       const struct fw_plan_field *field, const char *key,
                       const struct fw_plan_paced *end)
{
    if (!end->by) {
        fw_text_addf(text, ", \"%s\": null", key);
        return;
    }
    const bool fence = end->fence != FW_NONE, on = end->on_from != FW_NONE;
    const size_t corner = fence ? 0 : fw_plan_corner_number(field, end->corner);
    fw_text_addf(text, ", \"%s\": {\"corner\": ", key);
    add_number(text, corner);
    fw_text_add(text, ", \"towards\": ");
    add_number(text, fw_report_towards(field, end));
    fw_text_add(text, ", \"side\": ");
    add_number(text, fw_report_side(field, end));
    add_id(text, "fence", fence ? plan->fences[end->fence].id : NULL);
    add_id(text, "end", !fence ? NULL : end->far_end ? "B" : "A");
    fw_text_add(text, ", \"along_m\": ");
    fw_text_add_number(text, end->along_m);
    fw_text_addf(text, ", \"paces\": %d, \"bearing_deg\": ", end->paces);
    if (end->by == FW_PACED_STRAIGHT)
        fw_text_add_number(text, end->bearing_deg);
    else
        fw_text_add(text, "null");
    add_id(text, "on_from", on ? plan->fences[end->on_from].id : NULL);
    if (on)
        fw_text_addf(text, ", \"on_paces\": %d}", end->on_paces);
    else
        fw_text_add(text, ", \"on_paces\": null}");
}

static void volts_json(struct fw_text *text,
                       const struct fw_plan_reading *reading)
{
    if (!reading)
        return;
    fw_text_add(text, ", \"far_v\": ");
    fw_text_add_number(text, reading->far_v);
    fw_text_add(text, ", \"touched_v\": ");
    fw_text_add_number(text, reading->touched_v);
    fw_text_add(text, ", \"wanted_v\": ");
    fw_text_add_number(text, reading->wanted_v);
}

static void fence_json(struct fw_text *text, const struct fw_plan *plan,
                       const struct fw_plan_fence *fence, bool set,
                       const struct fw_plan_reading *reading)
{
    fw_text_add(text, "{\"fence\": ");
    fw_text_add_json(text, fence->id);
    if (set) {
        fw_text_add(text, ", \"bearing_deg\": ");
        fw_text_add_number(text, fence->bearing_deg);
        fw_text_add(text, ", \"length_m\": ");
        fw_text_add_number(text, fence->length_m);
        fw_text_add(text, ", \"lay_min\": ");
        if (fence->lay_min > 0)
            fw_text_add_number(text, fence->lay_min);
        else
            fw_text_add(text, "null");
        fw_text_add(text, ", \"pace_share\": ");
        if (fence->pace_share > 0)
            fw_text_add_number(text, fence->pace_share);
        else
            fw_text_add(text, "null");
        paced_json(text, plan, &plan->fields[fence->field], "a", &fence->a);
        paced_json(text, plan, &plan->fields[fence->field], "b", &fence->b);
    }
    volts_json(text, reading);
    fw_text_add(text, "}");
}

static void names_json(struct fw_text *text, const struct fw_plan *plan,
                       const char *key, struct fw_list list, bool paddocks)
{
    fw_text_addf(text, ", \"%s\": [", key);
    for (size_t i = 0; i < list.count; i++) {
        const size_t of = plan->time.items[list.first + i];
        fw_text_add(text, i ? ", " : "");
        fw_text_add_json(text, paddocks ? plan->paddocks[of].id
                                        : plan->fences[of].id);
    }
    fw_text_add(text, "]");
}

static void step_json(struct fw_text *text, const struct fw_plan *plan,
                      size_t index)
{
    const struct fw_step *step = &plan->time.steps[index];
    fw_text_addf(text, "    {\"step\": \"%s\"",
                 fw_plan__step_words[step->kind]);
    fw_text_add(text, ", \"fences\": [");
    for (size_t i = 0; i < step->lines.count; i++) {
        fw_text_add(text, i ? ", " : "");
        const size_t fence = plan->time.items[step->lines.first + i];
        fence_json(text, plan, &plan->fences[fence], step->kind == FW_STEP_SET,
                   fw_plan_reading_of(plan, index, fence));
    }
    fw_text_add(text, "]");
    add_id(text, "gate",
           step->opening == FW_NONE ? NULL : plan->gates[step->opening].id);
    if (step->kind == FW_STEP_OPEN)
        names_json(text, plan, "dead", step->dead, false);
    if (step->kind == FW_STEP_WALK) {
        names_json(text, plan, "over", step->cells, true);
        fw_text_add(text, ", \"over_m\": ");
        fw_text_add_number(text, step->over_m);
    }
    fw_text_add(text, "}");
}

static const char *paddock_id(const struct fw_plan *plan, size_t paddock)
{
    return paddock == FW_NONE ? NULL : plan->paddocks[paddock].id;
}

static void ends_json(struct fw_text *text, const struct fw_today *today)
{
    if (!today->known || today->rest)
        fw_text_add(text, ", \"ends\": null, \"meant\": null");
    else
        fw_text_addf(text, ", \"ends\": [%d, %d], \"meant\": [%d, %d]",
                     today->ends[0], today->ends[1], today->meant[0],
                     today->meant[1]);
}

static void fences_json(struct fw_text *text, const struct fw_plan *plan,
                        const char *key, const size_t *fences, size_t count)
{
    fw_text_addf(text, ", \"%s\": [", key);
    for (size_t i = 0; i < count; i++) {
        fw_text_add(text, i ? ", " : "");
        fw_text_add_json(text, plan->fences[fences[i]].id);
    }
    fw_text_add(text, "]");
}

static void today_json(struct fw_text *text, const struct fw_today *today)
{
    const struct fw_plan *plan = today->plan;
    fw_text_add(text, ",\n  \"weather\": {\"more_share\": ");
    fw_text_add_number(text, today->more_share);
    fw_text_add(text, ", \"cold_kg\": ");
    fw_text_add_number(text, today->here.cold_kg);
    fw_text_add(text, ", \"lasts_days\": ");
    fw_text_add_number(text, today->lasts_days);
    add_id(text, "fence",
           today->fence == FW_NONE ? NULL : plan->fences[today->fence].id);
    ends_json(text, today);
    fw_text_addf(text, ", \"line_ends\": %s, \"rest\": %s, \"suits\": %s",
                 today->line_ends ? "true" : "false",
                 today->rest ? "true" : "false",
                 today->unsuited ? "false" : "true");
    add_id(text, "instead", paddock_id(plan, today->instead));
    fences_json(text, plan, "to_set", today->lines, today->line_count);
    fw_text_add(text, ", \"hay_kg\": ");
    fw_text_add_number(text, today->hay_kg);
    fw_text_add(text, ", \"hot_water_l\": ");
    fw_text_add_number(text, today->water_l);
    fw_text_addf(text, ", \"frozen\": %s",
                 today->here.frozen ? "true" : "false");
    fences_json(text, plan, "ahead", today->ahead, today->ahead_count);
    fw_text_addf(text, ", \"ahead_posts\": %d}", today->ahead_posts);
}

static enum fw_status add_today(struct fw_text *text,
                                const struct fw_plan *plan, size_t index,
                                const struct fw_weather *weather,
                                struct fw_error *err)
{
    struct fw_today today;
    if (!weather)
        return FW_OK;
    const enum fw_status status = fw_today(plan, index, weather, &today, err);
    if (status)
        return status;
    today_json(text, &today);
    fw_today_release(&today);
    return FW_OK;
}

enum fw_status fw_report_move_json_in(const struct fw_plan *plan, size_t index,
                                      const struct fw_weather *weather,
                                      char **out, struct fw_error *err)
{
    const struct fw_move *move = &plan->time.moves[index];
    struct fw_text text = {0};
    char day[FW_DATE_TEXT];
    fw_text_add(&text, "{\n  ");
    fw_report_first_json(&text);
    fw_text_addf(&text, ",\n  \"date\": \"%s\"", fw_date_write(move->day, day));
    add_id(&text, "field", plan->fields[move->field].name);
    add_id(&text, "from", paddock_id(plan, fw_plan_move_from(plan, index)));
    add_id(&text, "to", paddock_id(plan, fw_plan_move_to(plan, index)));
    fw_text_add(&text, ", \"round\": ");
    add_number(&text, move->stay == FW_NONE
                          ? 0
                          : (size_t)plan->time.stays[move->stay].round + 1);
    fw_text_addf(&text, ", \"head\": %d, \"ahead\": %s, \"minutes\": ",
                 plan->flock.head, move->ahead ? "true" : "false");
    fw_text_add_number(&text, move->minutes);
    const enum fw_status status = add_today(&text, plan, index, weather, err);
    if (status) {
        fw_text_release(&text);
        return status;
    }
    fw_text_add(&text, ",\n  \"steps\": [\n");
    for (size_t i = 0; i < move->steps.count; i++) {
        step_json(&text, plan, move->steps.first + i);
        fw_text_add(&text, i + 1 < move->steps.count ? ",\n" : "\n");
    }
    fw_text_add(&text, "  ]\n}\n");
    return fw_report_give(&text, out, NULL, err);
}

enum fw_status fw_report_move_json(const struct fw_plan *plan, size_t index,
                                   char **out, struct fw_error *err)
{
    return fw_report_move_json_in(plan, index, NULL, out, err);
}
