/* One move for machines. */
#include "report/report.h"

static const char *step_word(enum fw_step_kind kind)
{
    static const char *const words[] = {"set",       "hook", "read",  "carry",
                                        "let-out",   "open", "count", "close",
                                        "take-down", "clear"};
    return words[kind];
}

static void add_id(struct fw_text *text, const char *key, const char *id)
{
    fw_text_addf(text, ", \"%s\": ", key);
    if (id)
        fw_text_add_json(text, id);
    else
        fw_text_add(text, "null");
}

/* Of a corner or a side, which begin at 1. */
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
    add_number(text, fw_report__towards(field, end));
    fw_text_add(text, ", \"side\": ");
    add_number(text, fw_report__side(field, end));
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

static void step_json(struct fw_text *text, const struct fw_plan *plan,
                      const struct fw_steps *steps, const struct fw_step *step)
{
    fw_text_addf(text, "    {\"step\": \"%s\"", step_word(step->kind));
    fw_text_add(text, ", \"fences\": [");
    for (size_t i = 0; i < step->count; i++) {
        const struct fw_plan_fence *fence =
            &plan->fences[steps->fences[step->first + i]];
        fw_text_add(text, i ? ", {\"fence\": " : "{\"fence\": ");
        fw_text_add_json(text, fence->id);
        if (step->kind == FW_STEP_SET) {
            fw_text_add(text, ", \"bearing_deg\": ");
            fw_text_add_number(text, fence->bearing_deg);
            fw_text_add(text, ", \"far_v\": ");
            if (fence->far_v > 0)
                fw_text_add_number(text, fence->far_v);
            else
                fw_text_add(text, "null");
            fw_text_add(text, ", \"length_m\": ");
            fw_text_add_number(text, fence->length_m);
            paced_json(text, plan, &plan->fields[fence->field], "a", &fence->a);
            paced_json(text, plan, &plan->fields[fence->field], "b", &fence->b);
        }
        fw_text_add(text, "}");
    }
    fw_text_add(text, "]");
    add_id(text, "gate",
           step->gate == FW_NONE ? NULL : plan->gates[step->gate].id);
    fw_text_add(text, "}");
}

enum fw_status fw_report_move_json(const struct fw_plan *plan, size_t index,
                                   char **out, struct fw_error *err)
{
    const struct fw_plan_move *move = &plan->moves[index];
    struct fw_text text = {0};
    char day[FW_DATE_TEXT];
    struct fw_steps steps;
    const enum fw_status status = fw_plan_steps(plan, index, &steps, err);
    if (status)
        return status;
    fw_text_addf(&text, "{\n  \"date\": \"%s\"", fw_date_write(move->day, day));
    add_id(&text, "field", plan->fields[move->field].name);
    add_id(&text, "from",
           move->from == FW_NONE ? NULL : plan->paddocks[move->from].id);
    add_id(&text, "to", plan->paddocks[move->to].id);
    fw_text_addf(&text, ", \"head\": %d, \"pace_share\": ", plan->flock.head);
    fw_text_add_number(&text, move->pace_share);
    fw_text_add(&text, ", \"minutes\": ");
    fw_text_add_number(&text, move->minutes);
    fw_text_add(&text, ",\n  \"steps\": [\n");
    for (size_t i = 0; i < steps.count; i++) {
        step_json(&text, plan, &steps, &steps.items[i]);
        fw_text_add(&text, i + 1 < steps.count ? ",\n" : "\n");
    }
    fw_steps_release(&steps);
    fw_text_add(&text, "  ]\n}\n");
    return fw_report__give(&text, out, NULL, err);
}
