/* The steps of a move, each in the words of who does it. */
#include "report/report.h"

#include <math.h>
#include <stdio.h>

/* The step at hand, and how its openings are called. */
struct saying {
    const struct fw_plan *plan;
    size_t move;
    const struct fw_step *step;
    size_t index; /* of the step */
};

static const struct fw_move *move_of(const struct saying *saying)
{
    return &saying->plan->time.moves[saying->move];
}

static size_t line_of(const struct saying *saying, size_t i)
{
    return saying->plan->time.items[saying->step->lines.first + i];
}

/* Openings in a line are called C, D, E in the order in which a move opens
 * them, so that the card and the map say the same. */
static char letter_of(const struct saying *saying, size_t opening)
{
    const struct fw_time *time = &saying->plan->time;
    const struct fw_list *steps = &move_of(saying)->steps;
    char letter = 'C';
    for (size_t i = steps->first; i < steps->first + steps->count; i++) {
        const struct fw_step *step = &time->steps[i];
        if (step->kind != FW_STEP_OPEN ||
            saying->plan->gates[step->opening].fence == FW_NONE)
            continue;
        if (step->opening == opening)
            return letter;
        if (letter < 'Z')
            letter++;
    }
    return '?'; /* opened at an earlier move */
}

static const char *kind_of(const struct fw_plan_fence *fence)
{
    return fence->role == FW_FENCE_STANDING ? "block line"
           : fence->role == FW_FENCE_LANE   ? "lane fence"
                                            : "fence";
}

static int posts_that(const struct fw_plan *plan, size_t fence,
                      enum fw_post_why why)
{
    int count = 0;
    for (size_t i = 0; i < plan->post_count; i++)
        count += plan->posts[i].fence == fence && plan->posts[i].why == why;
    return count;
}

/* A paragraph more of a step, if there is one. */
static void add_more(struct fw_text *text, struct fw_text *line)
{
    text->failed |= line->failed;
    if (!line->bytes)
        return;
    fw_text_add(text, "    ");
    fw_report__fold_text(text, 4, line);
}

/* What the ground asks for: "Crosses Mill ditch: 2 posts and 3 minutes more."
 */
static void say_ground(struct fw_text *text, const struct fw_plan *plan,
                       size_t fence)
{
    struct fw_text line = {0};
    const int dips = posts_that(plan, fence, FW_POST_DIP);
    const int crests = posts_that(plan, fence, FW_POST_CREST);
    if (dips || crests)
        fw_text_addf(&line, "Of the posts %d go in hollows and %d on brows. ",
                     dips, crests);
    for (size_t i = 0; i < plan->crossing_count; i++) {
        const struct fw_plan_crossing *crossing = &plan->crossings[i];
        char minutes[FW_WORDS];
        if (crossing->fence != fence)
            continue;
        fw_text_addf(&line, "Crosses %s", crossing->what);
        if (crossing->times > 1)
            fw_text_addf(&line, " %d times", crossing->times);
        fw_text_addf(&line, ": %d post%s and %s minutes more. ",
                     crossing->posts, crossing->posts == 1 ? "" : "s",
                     fw_report__number(crossing->minutes, minutes));
    }
    add_more(text, &line);
}

static void set_fence(struct fw_text *text, const struct fw_plan *plan,
                      size_t index)
{
    const struct fw_plan_fence *fence = &plan->fences[index];
    const struct fw_plan_field *field = &plan->fields[fence->field];
    struct fw_text line = {0};
    char length[FW_WORDS], wire[FW_WORDS];
    fw_text_addf(&line,
                 "Set the %s %s from A to B: bearing %.0f (%s), %s, "
                 "%d paces; wire %s in all, %d posts, %d reels.",
                 kind_of(fence), fence->id, fence->bearing_deg,
                 fw_report__compass(fence->bearing_deg),
                 fw_report__length(fence->length_m, plan->units, length),
                 (int)lround(fence->ground_m / plan->pace_m),
                 fw_report__length(fence->wire_m, plan->units, wire),
                 fence->posts, fence->reels);
    fw_report__fold_text(text, 4, &line);
    fw_report__say_end(&line, plan, field, "A:", &fence->a);
    fw_text_add(&line, ". ");
    fw_report__say_end(&line, plan, field, "B:", &fence->b);
    fw_text_add(&line, ".");
    fw_text_add(text, "    ");
    fw_report__fold_text(text, 4, &line);
    say_ground(text, plan, index);
}

/* Handles stand in it from the day it is set. */
static void say_joints(struct fw_text *text, const struct fw_plan *plan,
                       size_t fence)
{
    for (size_t i = 0; i < plan->gate_count; i++) {
        const struct fw_plan_gate *gate = &plan->gates[i];
        struct fw_text line = {0};
        if (gate->fence != fence || gate->where != FW_OPENING_JOINT)
            continue;
        fw_text_addf(
            &line,
            "Put an insulated handle into each strand %d paces from A: "
            "it is opened there later.",
            (int)lround((gate->at_m - gate->width_m / 2) / plan->pace_m));
        fw_text_add(text, "    ");
        fw_report__fold_text(text, 4, &line);
    }
}

double fw_report__pace_share(const struct fw_plan *plan,
                             const struct fw_step *step)
{
    const size_t *lines = plan->time.items + step->lines.first;
    const size_t count = step->lines.count;
    double share = 0;
    for (size_t i = 0; i < count; i++) {
        const struct fw_plan_fence *fence = &plan->fences[lines[i]];
        const struct fw_plan_fence *last = &plan->fences[lines[count - 1]];
        if (fence->from == last->from && fence->to == last->to)
            share += fence->pace_share;
    }
    return share;
}

static void set_step(struct fw_text *text, const struct saying *saying)
{
    const double share = fw_report__pace_share(saying->plan, saying->step);
    for (size_t i = 0; i < saying->step->lines.count; i++) {
        if (i > 0)
            fw_text_add(text, "    ");
        set_fence(text, saying->plan, line_of(saying, i));
        say_joints(text, saying->plan, line_of(saying, i));
    }
    if (share > 0) {
        struct fw_text line = {0};
        fw_text_addf(&line,
                     "One pace more or less along both sides is %.0f %% of a "
                     "day's feed.",
                     100 * share);
        fw_text_add(text, "    ");
        fw_report__fold_text(text, 4, &line);
    }
}

/* What a line is hooked on to at its end A. */
enum source {
    SOURCE_LINE,
    SOURCE_HOT,
    SOURCE_LEAD,
    SOURCE_POND,
    SOURCE_UNTOLD
};

static enum source source_of(const struct fw_plan *plan,
                             const struct fw_plan_fence *fence)
{
    if (fence->a.by == FW_PACED_LINE)
        return SOURCE_LINE;
    const enum fw_answer hot =
        fw_plan_hot_at(plan, fence->field, fence->line[0]);
    return hot == FW_YES                  ? SOURCE_HOT
           : hot == FW_NO                 ? SOURCE_LEAD
           : fence->a.by == FW_PACED_SIDE ? SOURCE_UNTOLD
                                          : SOURCE_POND;
}

static bool is_set(const struct saying *saying, size_t fence)
{
    for (size_t i = 0; i < saying->step->lines.count; i++)
        if (line_of(saying, i) == fence)
            return true;
    return false;
}

static void hook_one(struct fw_text *line, const struct fw_plan *plan,
                     const struct fw_plan_fence *fence, const char *name)
{
    switch (source_of(plan, fence)) {
    case SOURCE_LINE:
        fw_text_addf(line, "%s on to %s at A", name,
                     plan->fences[fence->a.fence].id);
        break;
    case SOURCE_HOT:
        fw_text_addf(line, "%s on to the hot boundary at A", name);
        break;
    case SOURCE_LEAD:
        fw_text_addf(line,
                     "%s on to the energizer's own lead at A, where the "
                     "boundary is not hot",
                     name);
        break;
    case SOURCE_POND:
        fw_text_addf(line,
                     "%s on at A by a wire led there, since nothing at the "
                     "inner edge is live",
                     name);
        break;
    case SOURCE_UNTOLD:
        fw_text_addf(line, "%s on at A", name);
        break;
    }
}

/* Those that hang on another of the same step come first, while all are dead;
 * the ones that make them live come last. */
static void hook_step(struct fw_text *line, const struct saying *saying)
{
    const struct fw_plan *plan = saying->plan;
    const size_t count = saying->step->lines.count;
    const enum source first =
        source_of(plan, &plan->fences[line_of(saying, 0)]);
    size_t said = 0, alike = 0;
    for (size_t i = 0; i < count; i++)
        alike += source_of(plan, &plan->fences[line_of(saying, i)]) == first;
    if (count > 1 && alike == count && first != SOURCE_LINE) {
        fw_text_add(line, "Hook each ");
        hook_one(line, plan, &plan->fences[line_of(saying, 0)], "of them");
        fw_text_add(line, ", last of all.");
        return;
    }
    fw_text_add(line, "Hook ");
    for (int last = 0; last < 2; last++)
        for (size_t i = 0; i < count; i++) {
            const struct fw_plan_fence *fence =
                &plan->fences[line_of(saying, i)];
            const bool hangs = source_of(plan, fence) == SOURCE_LINE &&
                               is_set(saying, fence->a.fence);
            if (hangs == (last != 0))
                continue;
            fw_text_add(line, said == 0 ? "" : ", then ");
            hook_one(line, plan, fence, count > 1 ? fence->id : "it");
            said++;
        }
    fw_text_add(line, ", last of all.");
}

/* "A03-04, the block line A-line-1" */
static void name_fences(struct fw_text *line, const struct fw_plan *plan,
                        const size_t *fences, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        const struct fw_plan_fence *fence = &plan->fences[fences[i]];
        fw_text_add(line, i == 0 ? "" : i + 1 == count ? " and " : ", ");
        if (fence->role != FW_FENCE_MOVED)
            fw_text_addf(line, "the %s ", kind_of(fence));
        fw_text_add(line, fence->id);
    }
}

/* What the plan expects there, and what would be too little. */
static void read_step(struct fw_text *line, const struct saying *saying)
{
    const struct fw_plan *plan = saying->plan;
    const double kv = 1000, wanted_v = plan->energizer.open_v;
    double far_v = 0;
    for (size_t i = 0; i < saying->step->lines.count; i++) {
        const struct fw_plan_fence *fence = &plan->fences[line_of(saying, i)];
        far_v = i == 0 ? fence->far_v : fmin(far_v, fence->far_v);
    }
    fw_text_add(line, saying->step->lines.count > 1
                          ? "Read the tester at each B: "
                          : "Read the tester at B: ");
    if (!(far_v > 0))
        fw_text_addf(line, "%.2g kV or more.", wanted_v / kv);
    else if (far_v < wanted_v)
        fw_text_addf(line,
                     "by the plan it shows only %.1f kV, and %.2g are wanted.",
                     far_v / kv, wanted_v / kv);
    else
        fw_text_addf(line,
                     "about %.1f kV by the plan; under %.2g kV look for the "
                     "fault first.",
                     far_v / kv, wanted_v / kv);
}

/* ---- opening and closing ---- */

static bool is_last_open(const struct saying *saying)
{
    const struct fw_list *steps = &move_of(saying)->steps;
    for (size_t i = saying->index + 1; i < steps->first + steps->count; i++)
        if (saying->plan->time.steps[i].kind == FW_STEP_OPEN)
            return false;
    return true;
}

static bool is_walked(const struct saying *saying)
{
    const struct fw_list *steps = &move_of(saying)->steps;
    for (size_t i = steps->first; i < steps->first + steps->count; i++)
        if (saying->plan->time.steps[i].kind == FW_STEP_WALK)
            return true;
    return false;
}

/* The line is dead before a hand is on it. */
static void say_opening(struct fw_text *line, const struct saying *saying,
                        const struct fw_plan_gate *gate)
{
    const struct fw_plan *plan = saying->plan;
    const char *id = plan->fences[gate->fence].id;
    char width[FW_WORDS];
    fw_report__length(gate->width_m, plan->units, width);
    fw_text_addf(line, "Unhook %s at A and read the tester on it: dead. ", id);
    if (gate->where == FW_OPENING_A)
        fw_text_addf(line, "Carry that end back %s: the gap is %c", width,
                     letter_of(saying, saying->step->opening));
    else if (gate->where == FW_OPENING_B)
        fw_text_addf(line,
                     "Undo its other end B and carry that back %s: the gap is "
                     "%c",
                     width, letter_of(saying, saying->step->opening));
    else
        fw_text_addf(
            line,
            "Undo the handles %d paces from A and carry them back %s: "
            "the gap is %c",
            (int)lround((gate->at_m - gate->width_m / 2) / plan->pace_m), width,
            letter_of(saying, saying->step->opening));
}

/* Is the line that is opened hooked on again in this move? */
static bool comes_back(const struct saying *saying)
{
    const struct fw_list *steps = &move_of(saying)->steps;
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
                     fw_report__length(gate->width_m, plan->units, width),
                     fw_report__length(gate->room_m, plan->units, room));
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
                     fw_report__length(plan->paddocks[paddock].narrow_m,
                                       plan->units, width));
}

static void open_step(struct fw_text *line, const struct saying *saying)
{
    const struct fw_plan *plan = saying->plan;
    const size_t to = fw_plan_move_to(plan, saying->move);
    const struct fw_plan_gate *gate = &plan->gates[saying->step->opening];
    const bool straight = is_last_open(saying) && !is_walked(saying);
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
        name_fences(line, plan, plan->time.items + saying->step->dead.first,
                    saying->step->dead.count);
        fw_text_addf(line, " %s dead too: be quick.",
                     saying->step->dead.count > 1 ? "are" : "is");
    }
    say_tight(line, plan, gate);
    if (straight)
        say_narrow(line, plan, to);
}

static void close_step(struct fw_text *line, const struct saying *saying)
{
    const struct fw_plan *plan = saying->plan;
    const struct fw_plan_gate *gate = &plan->gates[saying->step->opening];
    if (gate->fence == FW_NONE) {
        fw_text_addf(
            line, "Close the gate%s%s.", plan->field_count > 1 ? " of " : "",
            plan->field_count > 1 ? plan->fields[gate->field].name : "");
        return;
    }
    const char letter = letter_of(saying, saying->step->opening);
    if (letter == '?')
        fw_text_addf(line, "Close what was left open in %s",
                     plan->fences[gate->fence].id);
    else
        fw_text_addf(line, "Close %c", letter);
    fw_text_addf(line,
                 ", hook %s on again at A, and see on the tester that it "
                 "is hot.",
                 plan->fences[gate->fence].id);
}

static void bridge_step(struct fw_text *line, const struct saying *saying)
{
    const struct fw_plan *plan = saying->plan;
    const struct fw_plan_gate *gate = &plan->gates[saying->step->opening];
    fw_text_addf(
        line,
        "Leave %c open, with an insulated lead on the ground from wire "
        "to wire across the gap; hook %s on again at A, and see on the "
        "tester that the rest of it is hot.",
        letter_of(saying, saying->step->opening), plan->fences[gate->fence].id);
}

/* ---- the flock ---- */

static bool over_lane(const struct saying *saying)
{
    const struct fw_list *steps = &move_of(saying)->steps;
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

static void say_ungrazed(struct fw_text *line, const struct saying *saying)
{
    const struct fw_plan *plan = saying->plan;
    const struct fw_list cells = saying->step->cells;
    const size_t named = cells.count < 4 ? cells.count : 3;
    char over[FW_WORDS];
    fw_text_addf(
        line, "%s of ungrazed grass (",
        fw_report__length(ceil(saying->step->over_m), plan->units, over));
    for (size_t i = 0; i < named; i++)
        fw_text_addf(line, "%s%s", i ? ", " : "",
                     plan->paddocks[plan->time.items[cells.first + i]].id);
    if (cells.count > named)
        fw_text_addf(line, " and %zu more", cells.count - named);
    fw_text_add(line, ")");
}

static void walk_step(struct fw_text *line, const struct saying *saying)
{
    const struct fw_plan *plan = saying->plan;
    const size_t to = fw_plan_move_to(plan, saying->move);
    const struct fw_move *move = move_of(saying);
    const bool crosses = saying->step->over_m > 0;
    const bool changes =
        saying->move > 0 && to != FW_NONE &&
        plan->time.moves[saying->move - 1].field != move->field;
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

static bool has_lambs(const struct fw_plan *plan)
{
    for (size_t i = 0; i < plan->class_count; i++)
        if (plan->classes[i].state == FW_LACTATION_SINGLE ||
            plan->classes[i].state == FW_LACTATION_TWINS)
            return true;
    return false;
}

/* Sheep are counted with their heads down; lambs are counted too. */
static void count_step(struct fw_text *line, const struct saying *saying)
{
    const struct fw_plan *plan = saying->plan;
    const bool out = fw_plan_move_to(plan, saying->move) == FW_NONE;
    if (has_lambs(plan))
        fw_text_addf(line,
                     "Count them%s: %d grown, and every lamb; the late ones "
                     "come last, so wait for them.",
                     out ? " out" : " through", plan->flock.head);
    else
        fw_text_addf(line, "Count them%s: %d.", out ? " out" : " through",
                     plan->flock.head);
}

static void later_step(struct fw_text *line, const struct saying *saying)
{
    const struct fw_plan *plan = saying->plan;
    const size_t before = fw_plan_move_from(plan, saying->move);
    const char *left =
        before == FW_NONE ? "what they left" : plan->paddocks[before].id;
    if (saying->index == move_of(saying)->later)
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

static void take_down_step(struct fw_text *line, const struct saying *saying)
{
    const struct fw_plan *plan = saying->plan;
    const size_t count = saying->step->lines.count;
    const bool left = saying->step->field != move_of(saying)->field ||
                      fw_plan_move_to(plan, saying->move) == FW_NONE;
    if (left)
        fw_text_addf(line, "Take down all that stands in %s, each dead first: ",
                     plan->fields[saying->step->field].name);
    else
        fw_text_addf(line, "Unhook and wind up ");
    name_fences(line, plan, plan->time.items + saying->step->lines.first,
                count);
    fw_text_add(line, ".");
}

static void say_step(struct fw_text *text, const struct saying *saying)
{
    struct fw_text line = {0};
    const struct fw_plan *plan = saying->plan;
    switch (saying->step->kind) {
    case FW_STEP_SET:
        set_step(text, saying);
        return;
    case FW_STEP_HOOK:
        hook_step(&line, saying);
        break;
    case FW_STEP_READ:
        read_step(&line, saying);
        break;
    case FW_STEP_CARRY:
        fw_text_addf(&line, "Move water and mineral into %s.",
                     plan->paddocks[fw_plan_move_to(plan, saying->move)].id);
        break;
    case FW_STEP_OPEN:
        open_step(&line, saying);
        break;
    case FW_STEP_WALK:
        walk_step(&line, saying);
        break;
    case FW_STEP_LATER:
        later_step(&line, saying);
        break;
    case FW_STEP_COUNT:
        count_step(&line, saying);
        break;
    case FW_STEP_BRIDGE:
        bridge_step(&line, saying);
        break;
    case FW_STEP_CLOSE:
        close_step(&line, saying);
        break;
    case FW_STEP_TAKE_DOWN:
        take_down_step(&line, saying);
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
    add_more(text, &line);
}

void fw_report__steps(struct fw_text *text, const struct fw_plan *plan,
                      size_t index)
{
    const struct fw_list *steps = &plan->time.moves[index].steps;
    for (size_t i = 0; i < steps->count; i++) {
        const struct saying saying = {
            .plan = plan,
            .move = index,
            .step = &plan->time.steps[steps->first + i],
            .index = steps->first + i,
        };
        fw_text_addf(text, "%2zu  ", i + 1);
        say_step(text, &saying);
    }
    say_night(text, plan, index);
}
