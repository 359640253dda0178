/* The steps of a move, each in the words of who does it. */
#include "report/steps.h"

static void say_step(struct fw_text *text,
                     const struct fw_report_saying *saying)
{
    struct fw_text line = {0};
    switch (saying->step->kind) {
    case FW_STEP_SET:
        fw_report__say_set(text, saying);
        return;
    case FW_STEP_HOOK:
        fw_report__say_hook(&line, saying);
        break;
    case FW_STEP_READ:
        fw_report__say_read(&line, saying);
        break;
    case FW_STEP_CARRY:
        fw_report__say_carry(&line, saying);
        break;
    case FW_STEP_OPEN:
        fw_report__say_open(&line, saying);
        break;
    case FW_STEP_WALK:
        fw_report__say_walk(&line, saying);
        break;
    case FW_STEP_LATER:
        fw_report__say_later(&line, saying);
        break;
    case FW_STEP_COUNT:
        fw_report__say_count(&line, saying);
        break;
    case FW_STEP_BRIDGE:
        fw_report__say_bridge(&line, saying);
        break;
    case FW_STEP_CLOSE:
        fw_report__say_close(&line, saying);
        break;
    case FW_STEP_TAKE_DOWN:
        fw_report__say_take_down(&line, saying);
        break;
    case FW_STEP_COUNT_OF:
        return;
    }
    fw_report__fold_text(text, 4, &line);
}

/* How things stand when it is over. */
static void say_night(struct fw_text *text, const struct fw_plan *plan,
                      size_t index)
{
    const struct fw_move *move = &plan->time.moves[index];
    struct fw_text line = {0};
    if (move->stay == FW_NONE)
        return;
    if (move->ahead)
        fw_text_addf(&line, "Overnight %s is fenced ahead.",
                     plan->paddocks[fw_plan_move_to(plan, index + 1)].id);
    else if (index + 2 < plan->time.move_count)
        fw_text_add(&line, "Overnight no paddock is fenced ahead of them.");
    fw_report__add_more(text, &line);
}

void fw_report__steps(struct fw_text *text, const struct fw_plan *plan,
                      size_t index, bool outline)
{
    const struct fw_list *steps = &plan->time.moves[index].steps;
    if (index == 0)
        fw_report_say_borders(text, plan);
    for (size_t i = 0; i < steps->count; i++) {
        const struct fw_report_saying saying = {
            .plan = plan,
            .move = index,
            .step = &plan->time.steps[steps->first + i],
            .index = steps->first + i,
            .outline = outline,
        };
        fw_text_addf(text, "%2zu  ", i + 1);
        say_step(text, &saying);
    }
    say_night(text, plan, index);
}
