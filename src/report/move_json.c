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

static void paced_json(struct fw_text *text, const struct fw_plan *plan,
                       const struct fw_plan_field *field, const char *key,
                       const struct fw_plan_paced *end)
{
    if (!end->known) {
        fw_text_addf(text, ", \"%s\": null", key);
        return;
    }
    fw_text_addf(text, ", \"%s\": {", key);
    if (end->fence != FW_NONE) {
        fw_text_add(text, "\"fence\": ");
        fw_text_add_json(text, plan->fences[end->fence].id);
    } else {
        fw_text_addf(text, "\"corner\": %zu, \"clockwise\": %s",
                     fw_plan_corner_number(field, end->corner),
                     end->clockwise ? "true" : "false");
    }
    fw_text_add(text, ", \"along_m\": ");
    fw_text_add_number(text, end->along_m);
    fw_text_addf(text, ", \"paces\": %d}", end->paces);
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
