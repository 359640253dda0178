/* The steps of a move in so few words that they stand beside a map in the hand.
 * What each of them says whole, steps_line.c and steps_flock.c have. */
#include "report/steps.h"

#include "base/whole.h"

#include <math.h>

/* "A: 86 from corner 4 to 5, 54 on from A-line-1": paces, where nothing else is
 * said. */
static void end(struct fw_text *line, const struct fw_plan *plan,
                const struct fw_plan_field *field, const char *name,
                const struct fw_plan_paced *end)
{
    const char *fence =
        end->fence == FW_NONE ? NULL : plan->fences[end->fence].id;
    fw_text_addf(line, " %s: ", name);
    if (end->by == FW_PACED_UNTOLD)
        fw_text_add(line, "see fence.gpx");
    else if (end->paces == 0 && fence)
        fw_text_addf(line, "at the end of %s", fence);
    else if (end->paces == 0)
        fw_text_addf(line, "at corner %zu",
                     fw_plan_corner_number(field, end->corner));
    else if (end->by == FW_PACED_LINE)
        fw_text_addf(line, "%d along %s from its %s", end->paces, fence,
                     end->far_end ? "B" : "A");
    else if (fence)
        fw_text_addf(line, "%d from end %s of %s", end->paces,
                     end->far_end ? "B" : "A", fence);
    else
        fw_text_addf(line, "%d from corner %zu", end->paces,
                     fw_plan_corner_number(field, end->corner));
    if (end->by == FW_PACED_SIDE && end->paces > 0) {
        const size_t towards = fw_report_towards(field, end);
        fw_text_addf(line, towards ? " to %zu" : " along side %zu",
                     towards ? towards : fw_report_side(field, end));
    }
    if (end->by == FW_PACED_STRAIGHT && end->paces > 0)
        fw_text_addf(line, ", bearing %.0f (%s)", end->bearing_deg,
                     fw_report_compass(end->bearing_deg));
    else if (end->on_from != FW_NONE && end->on_paces > 0)
        fw_text_addf(line, ", %d on from %s", end->on_paces,
                     plan->fences[end->on_from].id);
    fw_text_add(line, ".");
}

static void set(struct fw_text *line, const struct fw_report_saying *saying)
{
    const struct fw_plan *plan = saying->plan;
    for (size_t i = 0; i < saying->step->lines.count; i++) {
        const struct fw_plan_fence *fence =
            &plan->fences[fw_report__line_of(saying, i)];
        const struct fw_plan_field *field = &plan->fields[fence->field];
        fw_text_addf(line, "%sSet %s, %d paces.", i ? " " : "", fence->id,
                     fw_whole(fence->ground_m / plan->pace_m));
        end(line, plan, field, "A", &fence->a);
        end(line, plan, field, "B", &fence->b);
        if (fence->lay_min > 0)
            fw_text_add(line, " Lay the grass flat first.");
    }
}

static void hook(struct fw_text *line, const struct fw_report_saying *saying)
{
    const bool several = saying->step->lines.count > 1;
    fw_text_addf(line, "Hook %s on at A, last of all.",
                 several ? "them" : "it");
    for (size_t i = 0; i < saying->step->lines.count; i++)
        if (fw_plan_is_hooked_at_b(saying->plan,
                                   fw_report__line_of(saying, i))) {
            fw_text_add(line, " Then at B.");
            break;
        }
    if (saying->plan->power.earth_return)
        fw_text_add(line, " Earth to earth first.");
}

static void read(struct fw_text *line, const struct fw_report_saying *saying)
{
    const struct fw_plan *plan = saying->plan;
    const size_t count = saying->step->lines.count;
    fw_text_add(line, "Read at B:");
    for (size_t i = 0; i < count; i++) {
        const size_t fence = fw_report__line_of(saying, i);
        const struct fw_plan_reading *reading =
            fw_plan_reading_of(plan, saying->index, fence);
        char far[FW_WORDS], wanted[FW_WORDS];
        fw_text_add(line, i ? ";" : "");
        if (count > 1)
            fw_text_addf(line, " %s", plan->fences[fence].id);
        if (!reading || !(reading->far_v > 0)) {
            fw_text_add(line, " NOTHING FEEDS IT");
            continue;
        }
        fw_report_kv_beside(reading->far_v, reading->wanted_v, far, wanted);
        fw_text_addf(line,
                     reading->far_v >= reading->wanted_v
                         ? " %s kV, act under %s"
                         : " %s kV, TOO LITTLE: %s wanted",
                     far, wanted);
    }
    fw_text_add(line, ".");
}

/* "the gate", "the gate of Tammik" */
static void name_gate(struct fw_text *line, const struct fw_plan *plan,
                      const struct fw_plan_gate *gate)
{
    fw_text_add(line, "the gate");
    if (plan->field_count > 1)
        fw_text_addf(line, " of %s", plan->fields[gate->field].name);
}

static void open_it(struct fw_text *line, const struct fw_report_saying *saying)
{
    const struct fw_plan *plan = saying->plan;
    const struct fw_plan_gate *gate = &plan->gates[saying->step->opening];
    const size_t to = fw_plan_move_to(plan, saying->move);
    char width[FW_WORDS];
    if (gate->fence == FW_NONE) {
        fw_text_add(line, "Open ");
        name_gate(line, plan, gate);
    } else {
        fw_text_addf(line, "Unhook %s: dead? Open %c, %s",
                     plan->fences[gate->fence].id,
                     fw_report_letter_of(saying, saying->step->opening),
                     fw_report_length(gate->width_m, plan->units, width));
        fw_text_add(line, gate->where == FW_OPENING_A   ? " at A"
                          : gate->where == FW_OPENING_B ? " at B"
                                                        : " at the handles");
    }
    if (fw_report__lets_in(saying) && to != FW_NONE)
        fw_text_addf(line, ": they go into %s", plan->paddocks[to].id);
    fw_text_add(line, ".");
    if (saying->step->dead.count > 0) {
        fw_text_add(line, " Dead too: ");
        fw_report__name_fences(line, plan,
                               plan->time.items + saying->step->dead.first,
                               saying->step->dead.count);
        fw_text_add(line, ".");
    }
    if (gate->tight)
        fw_text_add(line, " It is tight: a few at a time.");
}

static void walk(struct fw_text *line, const struct fw_report_saying *saying)
{
    const struct fw_plan *plan = saying->plan;
    const size_t to = fw_plan_move_to(plan, saying->move);
    char over[FW_WORDS];
    fw_text_add(line, "Walk them ");
    if (saying->step->over_m > 0)
        fw_text_addf(
            line, "over %s of ungrazed grass, close together, ",
            fw_report_length(ceil(saying->step->over_m), plan->units, over));
    if (to == FW_NONE)
        fw_text_add(line, "out.");
    else
        fw_text_addf(line, "into %s.", plan->paddocks[to].id);
}

static void later(struct fw_text *line, const struct fw_report_saying *saying)
{
    const size_t before = fw_plan_move_from(saying->plan, saying->move);
    const bool second = saying->index == fw_report__move_of(saying)->later;
    fw_text_addf(line, "%salk %s to its far end for lambs.",
                 second ? "A second visit: w" : "W",
                 before == FW_NONE ? "what they left"
                                   : saying->plan->paddocks[before].id);
}

static void close_it(struct fw_text *line,
                     const struct fw_report_saying *saying, bool bridged)
{
    const struct fw_plan *plan = saying->plan;
    const struct fw_plan_gate *gate = &plan->gates[saying->step->opening];
    const char letter = fw_report_letter_of(saying, saying->step->opening);
    if (gate->fence == FW_NONE) {
        fw_text_add(line, "Close ");
        name_gate(line, plan, gate);
        fw_text_add(line, ".");
        return;
    }
    if (bridged)
        fw_text_addf(line, "Leave %c open, a lead across", letter);
    else if (letter == '?')
        fw_text_addf(line, "Close %s", plan->fences[gate->fence].id);
    else
        fw_text_addf(line, "Close %c", letter);
    fw_text_addf(line, "; hook %s on: hot?", plan->fences[gate->fence].id);
}

static void take_down(struct fw_text *line,
                      const struct fw_report_saying *saying)
{
    fw_text_add(line, "Unhook, dead? Wind up ");
    fw_report__name_fences(line, saying->plan,
                           saying->plan->time.items + saying->step->lines.first,
                           saying->step->lines.count);
    fw_text_add(line, ".");
}

void fw_report_say_brief(struct fw_text *line,
                         const struct fw_report_saying *saying)
{
    const struct fw_plan *plan = saying->plan;
    switch (saying->step->kind) {
    case FW_STEP_SET:
        set(line, saying);
        break;
    case FW_STEP_HOOK:
        hook(line, saying);
        break;
    case FW_STEP_READ:
        read(line, saying);
        break;
    case FW_STEP_CARRY:
        fw_report__say_carry_brief(line, saying);
        break;
    case FW_STEP_OPEN:
        open_it(line, saying);
        break;
    case FW_STEP_WALK:
        walk(line, saying);
        break;
    case FW_STEP_LATER:
        later(line, saying);
        break;
    case FW_STEP_COUNT:
        if (fw_report__comes_in_untold(saying))
            fw_text_addf(
                line, "They go into %s. ",
                plan->paddocks[fw_plan_move_to(plan, saying->move)].id);
        fw_text_addf(line, "Count: %d%s.", plan->flock.head,
                     fw_report__counts_lambs(plan) ? ", and every lamb" : "");
        break;
    case FW_STEP_BRIDGE:
        close_it(line, saying, true);
        break;
    case FW_STEP_CLOSE:
        close_it(line, saying, false);
        break;
    case FW_STEP_TAKE_DOWN:
        take_down(line, saying);
        break;
    case FW_STEP_COUNT_OF:
        break;
    }
}
