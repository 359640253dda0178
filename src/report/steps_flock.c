/* Opening and closing, and where the flock goes, in words. */
#include "report/steps.h"

#include "base/whole.h"

#include <math.h>

/* ---- opening and closing ---- */

static bool is_last_open(const struct fw_report_saying *saying)
{
    const struct fw_list *steps = &fw_report__move_of(saying)->steps;
    for (size_t i = saying->index + 1; i < steps->first + steps->count; i++)
        if (saying->plan->time.steps[i].kind == FW_STEP_OPEN)
            return false;
    return true;
}

static bool is_walked(const struct fw_report_saying *saying)
{
    const struct fw_list *steps = &fw_report__move_of(saying)->steps;
    for (size_t i = steps->first; i < steps->first + steps->count; i++)
        if (saying->plan->time.steps[i].kind == FW_STEP_WALK)
            return true;
    return false;
}

bool fw_report__lets_in(const struct fw_report_saying *saying)
{
    return is_last_open(saying) && !is_walked(saying);
}

/* The line is dead before a hand is on it. */
static void say_opening(struct fw_text *line,
                        const struct fw_report_saying *saying,
                        const struct fw_plan_gate *gate)
{
    const struct fw_plan *plan = saying->plan;
    const char *id = plan->fences[gate->fence].id;
    char width[FW_WORDS];
    fw_report_length(gate->width_m, plan->units, width);
    fw_text_addf(line, "Unhook %s %s and read the tester on it: dead. ", id,
                 fw_report__hooked(plan, gate->fence));
    if (gate->where == FW_OPENING_A)
        fw_text_addf(line, "Carry that end back %s: the gap is %c", width,
                     fw_report_letter_of(saying, saying->step->opening));
    else if (gate->where == FW_OPENING_B)
        fw_text_addf(line,
                     "Undo its other end B and carry that back %s: the gap is "
                     "%c",
                     width, fw_report_letter_of(saying, saying->step->opening));
    else
        fw_text_addf(line,
                     "Undo the handles %d paces from A and carry them back %s: "
                     "the gap is %c",
                     fw_whole((gate->at_m - gate->width_m / 2) / plan->pace_m),
                     width, fw_report_letter_of(saying, saying->step->opening));
}

/* Is the line that is opened hooked on again in this move? */
static bool comes_back(const struct fw_report_saying *saying)
{
    const struct fw_list *steps = &fw_report__move_of(saying)->steps;
    for (size_t i = saying->index + 1; i < steps->first + steps->count; i++) {
        const struct fw_step *step = &saying->plan->time.steps[i];
        if ((step->kind == FW_STEP_CLOSE || step->kind == FW_STEP_BRIDGE) &&
            step->opening == saying->step->opening)
            return true;
    }
    return false;
}

/* Where a flock jams and pushes into the wire. */
static void say_tight(struct fw_text *line, const struct fw_plan *plan,
                      const struct fw_plan_gate *gate)
{
    char width[FW_WORDS], room[FW_WORDS];
    if (gate->tight)
        fw_text_addf(line,
                     " It is tight for this flock (%s wide, %s free beside "
                     "it): let them come slowly, a few at a time.",
                     fw_report_length(gate->width_m, plan->units, width),
                     fw_report_length(gate->room_m, plan->units, room));
}

static void say_narrow(struct fw_text *line, const struct fw_plan *plan,
                       size_t paddock)
{
    char width[FW_WORDS];
    if (paddock != FW_NONE && plan->paddocks[paddock].narrow_m > 0)
        fw_text_addf(line,
                     " %s has a place only %s wide: do not drive them through "
                     "it.",
                     plan->paddocks[paddock].id,
                     fw_report_length(plan->paddocks[paddock].narrow_m,
                                      plan->units, width));
}

void fw_report__say_open(struct fw_text *line,
                         const struct fw_report_saying *saying)
{
    const struct fw_plan *plan = saying->plan;
    const size_t to = fw_plan_move_to(plan, saying->move);
    const struct fw_plan_gate *gate = &plan->gates[saying->step->opening];
    const bool straight = fw_report__lets_in(saying);
    if (gate->fence == FW_NONE)
        fw_text_addf(
            line, "Open the gate%s%s", plan->field_count > 1 ? " of " : "",
            plan->field_count > 1 ? plan->fields[gate->field].name : "");
    else
        say_opening(line, saying, gate);
    if (straight && to != FW_NONE)
        fw_text_addf(line, ", and let them into %s.", plan->paddocks[to].id);
    else
        fw_text_add(line, ".");
    if (saying->step->dead.count > 0) {
        fw_text_add(line, comes_back(saying) ? " Until it is hooked on again "
                                             : " Meanwhile ");
        fw_report__name_fences(line, plan,
                               plan->time.items + saying->step->dead.first,
                               saying->step->dead.count);
        fw_text_addf(line, " %s dead too: be quick.",
                     saying->step->dead.count > 1 ? "are" : "is");
    }
    say_tight(line, plan, gate);
    if (straight)
        say_narrow(line, plan, to);
}

void fw_report__say_close(struct fw_text *line,
                          const struct fw_report_saying *saying)
{
    const struct fw_plan *plan = saying->plan;
    const struct fw_plan_gate *gate = &plan->gates[saying->step->opening];
    if (gate->fence == FW_NONE) {
        fw_text_addf(
            line, "Close the gate%s%s.", plan->field_count > 1 ? " of " : "",
            plan->field_count > 1 ? plan->fields[gate->field].name : "");
        return;
    }
    const char letter = fw_report_letter_of(saying, saying->step->opening);
    if (letter == '?')
        fw_text_addf(line, "Close what was left open in %s",
                     plan->fences[gate->fence].id);
    else
        fw_text_addf(line, "Close %c", letter);
    fw_text_addf(line,
                 ", hook %s on again %s, and see on the tester that it "
                 "is hot.",
                 plan->fences[gate->fence].id,
                 fw_report__hooked(plan, gate->fence));
}

void fw_report__say_bridge(struct fw_text *line,
                           const struct fw_report_saying *saying)
{
    const struct fw_plan *plan = saying->plan;
    const struct fw_plan_gate *gate = &plan->gates[saying->step->opening];
    fw_text_addf(
        line,
        "Leave %c open, with an insulated lead on the ground from wire "
        "to wire across the gap; hook %s on again %s, and see on the "
        "tester that the rest of it is hot.",
        fw_report_letter_of(saying, saying->step->opening),
        plan->fences[gate->fence].id, fw_report__hooked(plan, gate->fence));
}

/* ---- the flock ---- */

static bool over_lane(const struct fw_report_saying *saying)
{
    const struct fw_list *steps = &fw_report__move_of(saying)->steps;
    for (size_t i = steps->first; i < steps->first + steps->count; i++) {
        const struct fw_step *step = &saying->plan->time.steps[i];
        if (step->kind == FW_STEP_OPEN && step->opening != FW_NONE &&
            saying->plan->gates[step->opening].fence != FW_NONE &&
            saying->plan->fences[saying->plan->gates[step->opening].fence]
                    .role == FW_FENCE_LANE)
            return true;
    }
    return false;
}

static void say_ungrazed(struct fw_text *line,
                         const struct fw_report_saying *saying)
{
    const struct fw_plan *plan = saying->plan;
    const struct fw_list cells = saying->step->cells;
    const size_t named = cells.count < 4 ? cells.count : 3;
    char over[FW_WORDS];
    fw_text_addf(
        line, "%s of ungrazed grass (",
        fw_report_length(ceil(saying->step->over_m), plan->units, over));
    for (size_t i = 0; i < named; i++)
        fw_text_addf(line, "%s%s", i ? ", " : "",
                     plan->paddocks[plan->time.items[cells.first + i]].id);
    if (cells.count > named)
        fw_text_addf(line, " and %zu more", cells.count - named);
    fw_text_add(line, ")");
}

void fw_report__say_walk(struct fw_text *line,
                         const struct fw_report_saying *saying)
{
    const struct fw_plan *plan = saying->plan;
    const size_t to = fw_plan_move_to(plan, saying->move);
    const struct fw_move *move = fw_report__move_of(saying);
    const bool crosses = saying->step->over_m > 0;
    const bool changes =
        saying->move > 0 && to != FW_NONE &&
        !fw_plan_is_one_field(plan, plan->time.moves[saying->move - 1].field,
                              move->field);
    fw_text_add(line, "Walk them ");
    if (crosses) {
        fw_text_add(line, "over ");
        say_ungrazed(line, saying);
        fw_text_add(line, ", close together and without a stop, ");
    } else if (over_lane(saying)) {
        fw_text_add(line, "along the lane ");
    } else if (!changes && to != FW_NONE &&
               fw_plan_move_from(plan, saying->move) != FW_NONE) {
        fw_text_add(line, "over grazed ground ");
    }
    if (to == FW_NONE)
        fw_text_addf(line,
                     "out of %s: this plan ends here, and where they go is for "
                     "you to say.",
                     plan->fields[move->field].name);
    else if (changes)
        fw_text_addf(line, "to the gate of %s and into %s.",
                     plan->fields[move->field].name, plan->paddocks[to].id);
    else
        fw_text_addf(line, "into %s.", plan->paddocks[to].id);
    say_narrow(line, plan, to);
}

bool fw_report__counts_lambs(const struct fw_plan *plan)
{
    for (size_t i = 0; i < plan->class_count; i++)
        if (plan->classes[i].state == FW_LAMB_AT_FOOT)
            return false;
    return fw_flock_milks(plan->classes, plan->class_count);
}

/* Nobody has told the gate by which they come into the first paddock. */
bool fw_report__comes_in_untold(const struct fw_report_saying *saying)
{
    const struct fw_time *time = &saying->plan->time;
    const struct fw_list *steps = &fw_report__move_of(saying)->steps;
    for (size_t i = steps->first; i < steps->first + steps->count; i++)
        if (time->steps[i].kind == FW_STEP_OPEN ||
            time->steps[i].kind == FW_STEP_WALK)
            return false;
    return fw_plan_move_from(saying->plan, saying->move) == FW_NONE &&
           fw_plan_move_to(saying->plan, saying->move) != FW_NONE;
}

/* Sheep are counted with their heads down; lambs are counted too. */
void fw_report__say_count(struct fw_text *line,
                          const struct fw_report_saying *saying)
{
    const struct fw_plan *plan = saying->plan;
    const bool out = fw_plan_move_to(plan, saying->move) == FW_NONE;
    if (fw_report__comes_in_untold(saying))
        fw_text_addf(line, "Let them into %s. ",
                     plan->paddocks[fw_plan_move_to(plan, saying->move)].id);
    if (fw_report__counts_lambs(plan))
        fw_text_addf(line,
                     "Count them%s: %d grown, and every lamb; the late ones "
                     "come last, so wait for them.",
                     out ? " out" : " through", plan->flock.head);
    else
        fw_text_addf(line, "Count them%s: %d.", out ? " out" : " through",
                     plan->flock.head);
}

void fw_report__say_later(struct fw_text *line,
                          const struct fw_report_saying *saying)
{
    const struct fw_plan *plan = saying->plan;
    const size_t before = fw_plan_move_from(plan, saying->move);
    const char *left =
        before == FW_NONE ? "what they left" : plan->paddocks[before].id;
    if (saying->index == fw_report__move_of(saying)->later)
        fw_text_addf(
            line,
            "Leave them to it. A second visit, when they have all come "
            "over: walk %s to its far end for lambs that lie there.",
            left);
    else
        fw_text_addf(line,
                     "Walk what was left open behind them to its far end, and "
                     "bring on what lies there.");
}
