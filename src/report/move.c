/* The card for one move: what is dangerous, then the work in its order. */
#include "report/report.h"

#include "base/fail.h"

#include <foldwright/geo.h>

#include <math.h>
#include <stdio.h>

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
    if (!line.bytes)
        return;
    fw_text_add(text, "    ");
    fw_report__fold_text(text, 4, &line);
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

static void set_step(struct fw_text *text, const struct fw_plan *plan,
                     const struct fw_plan_move *move,
                     const struct fw_steps *steps, const struct fw_step *step)
{
    for (size_t i = 0; i < step->count; i++) {
        if (i > 0)
            fw_text_add(text, "    ");
        set_fence(text, plan, steps->fences[step->first + i]);
    }
    if (move->pace_share > 0) {
        struct fw_text line = {0};
        fw_text_addf(&line,
                     "One pace more or less along both sides is %.0f %% of a "
                     "day's feed.",
                     100 * move->pace_share);
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

static bool is_set(const struct fw_steps *steps, const struct fw_step *step,
                   size_t fence)
{
    for (size_t i = 0; i < step->count; i++)
        if (steps->fences[step->first + i] == fence)
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

/* Those that hang on another of the same day come first, while all are dead;
 * the ones that make them live come last. */
static void hook_step(struct fw_text *line, const struct fw_plan *plan,
                      const struct fw_steps *steps, const struct fw_step *step)
{
    const size_t *set = steps->fences + step->first;
    const enum source first = source_of(plan, &plan->fences[set[0]]);
    size_t said = 0, alike = 0;
    for (size_t i = 0; i < step->count; i++)
        alike += source_of(plan, &plan->fences[set[i]]) == first;
    if (step->count > 1 && alike == step->count && first != SOURCE_LINE) {
        fw_text_add(line, "Hook each ");
        hook_one(line, plan, &plan->fences[set[0]], "of them");
        fw_text_add(line, ", last of all.");
        return;
    }
    fw_text_add(line, "Hook ");
    for (int last = 0; last < 2; last++)
        for (size_t i = 0; i < step->count; i++) {
            const struct fw_plan_fence *fence = &plan->fences[set[i]];
            const bool hangs = source_of(plan, fence) == SOURCE_LINE &&
                               is_set(steps, step, fence->a.fence);
            if (hangs == (last != 0))
                continue;
            fw_text_add(line, said == 0 ? "" : ", then ");
            hook_one(line, plan, fence, step->count > 1 ? fence->id : "it");
            said++;
        }
    fw_text_add(line, ", last of all.");
}

/* "A03-04, block line A-line-1" */
static void name_fences(struct fw_text *line, const struct fw_plan *plan,
                        const struct fw_steps *steps,
                        const struct fw_step *step)
{
    for (size_t i = 0; i < step->count; i++) {
        const struct fw_plan_fence *fence =
            &plan->fences[steps->fences[step->first + i]];
        fw_text_add(line, i == 0 ? "" : i + 1 == step->count ? " and " : ", ");
        if (fence->role != FW_FENCE_MOVED)
            fw_text_addf(line, "the %s ", kind_of(fence));
        fw_text_add(line, fence->id);
    }
}

/* What the plan expects there, and what would be too little. */
static void read_step(struct fw_text *line, const struct fw_plan *plan,
                      const struct fw_steps *steps, const struct fw_step *step)
{
    const double kv = 1000, wanted_v = plan->energizer.open_v;
    double far_v = 0;
    for (size_t i = 0; i < step->count; i++) {
        const struct fw_plan_fence *fence =
            &plan->fences[steps->fences[step->first + i]];
        far_v = i == 0 ? fence->far_v : fmin(far_v, fence->far_v);
    }
    fw_text_add(line, step->count > 1 ? "Read the tester at each B: "
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

/* "near its end A", "61 paces from its end A" */
static void say_opening(struct fw_text *line, const struct fw_plan *plan,
                        const struct fw_plan_gate *gate)
{
    const double near_m = 10;
    const struct fw_plan_fence *fence = &plan->fences[gate->fence];
    const struct fw_plan_field *field = &plan->fields[fence->field];
    double passed_m = 0, along_m = 0, least_m = (double)INFINITY;
    for (size_t i = 0; i + 1 < fence->line_count; i++) {
        const struct fw_point a = field->vertices[fence->line[i]].plane;
        const struct fw_point b = field->vertices[fence->line[i + 1]].plane;
        const double x = b.x_m - a.x_m, y = b.y_m - a.y_m;
        const double piece_m = hypot(x, y);
        const double to_m = ((gate->place.plane.x_m - a.x_m) * x +
                             (gate->place.plane.y_m - a.y_m) * y) /
                            piece_m;
        const double off_m = fw_segment_distance_m(gate->place.plane, a, b);
        if (off_m < least_m) {
            least_m = off_m;
            along_m = passed_m + to_m;
        }
        passed_m += piece_m;
    }
    if (along_m < near_m || passed_m - along_m < near_m)
        fw_text_addf(line, "near its end %s",
                     along_m < passed_m - along_m ? "A" : "B");
    else
        fw_text_addf(line, "%d paces from its end A",
                     (int)lround(along_m / plan->pace_m));
}

static void open_step(struct fw_text *line, const struct fw_plan *plan,
                      const struct fw_plan_move *move,
                      const struct fw_steps *steps, const struct fw_step *step)
{
    const char *to = plan->paddocks[move->to].id;
    if (step->count == 0) {
        fw_text_addf(line, "Open the gate, and let them into %s.", to);
        return;
    }
    char width[FW_WORDS];
    const struct fw_plan_gate *gate = &plan->gates[step->gate];
    const struct fw_plan_fence *fence =
        &plan->fences[steps->fences[step->first]];
    fw_text_addf(line, "Open the %s %s at C, %s wide, ",
                 fence->role == FW_FENCE_MOVED ? "front fence" : kind_of(fence),
                 fence->id,
                 fw_report__length(gate->width_m, plan->units, width));
    say_opening(line, plan, gate);
    fw_text_addf(line,
                 move->way_back == FW_NONE      ? ", and let them into %s."
                 : fence->role == FW_FENCE_LANE ? ", and drive them along the "
                                                  "lane into %s."
                                                : ", and drive them over "
                                                  "grazed ground into %s.",
                 to);
}

static void let_out_step(struct fw_text *line, const struct fw_plan *plan,
                         const struct fw_plan_move *move,
                         const struct fw_steps *steps,
                         const struct fw_step *step)
{
    if (step->count == 0) {
        fw_text_add(line, "Open the gate, and let them into the lane.");
        return;
    }
    const struct fw_plan_fence *fence =
        &plan->fences[steps->fences[step->first]];
    fw_text_addf(line, "Open the %s %s, ",
                 fence->role == FW_FENCE_MOVED && plan->back_fence
                     ? "back fence"
                     : kind_of(fence),
                 fence->id);
    say_opening(line, plan, &plan->gates[step->gate]);
    if (step->gate == move->way_back)
        fw_text_addf(line, ", for them to leave %s.",
                     plan->paddocks[move->from].id);
    else
        fw_text_add(line, ", for them to pass.");
}

static void close_step(struct fw_text *line, const struct fw_plan *plan,
                       const struct fw_plan_move *move,
                       const struct fw_steps *steps, const struct fw_step *step)
{
    if (step->count == 0)
        fw_text_add(line, "Close the gate.");
    else if (step->gate != move->opening)
        fw_text_addf(line, "Close %s where they %s.",
                     plan->fences[steps->fences[step->first]].id,
                     step->gate == move->way_back ? "left" : "passed");
    else
        fw_text_add(line, "Close C, and see that the fence is hot again.");
}

static void say_step(struct fw_text *text, const struct fw_plan *plan,
                     const struct fw_plan_move *move,
                     const struct fw_steps *steps, const struct fw_step *step)
{
    struct fw_text line = {0};
    switch (step->kind) {
    case FW_STEP_SET:
        set_step(text, plan, move, steps, step);
        return;
    case FW_STEP_HOOK:
        hook_step(&line, plan, steps, step);
        break;
    case FW_STEP_READ:
        read_step(&line, plan, steps, step);
        break;
    case FW_STEP_CARRY:
        fw_text_addf(&line, "Move water and mineral into %s.",
                     plan->paddocks[move->to].id);
        break;
    case FW_STEP_LET_OUT:
        let_out_step(&line, plan, move, steps, step);
        break;
    case FW_STEP_OPEN:
        open_step(&line, plan, move, steps, step);
        break;
    case FW_STEP_COUNT:
        fw_text_addf(&line, "Count them through: %d.", plan->flock.head);
        break;
    case FW_STEP_CLOSE:
        close_step(&line, plan, move, steps, step);
        break;
    case FW_STEP_TAKE_DOWN:
        fw_text_addf(&line, "Take down %s",
                     plan->back_fence && step->count == 1 &&
                             plan->fences[steps->fences[step->first]].role ==
                                 FW_FENCE_MOVED
                         ? "the back fence "
                         : "");
        name_fences(&line, plan, steps, step);
        fw_text_add(&line, ".");
        break;
    case FW_STEP_CLEAR:
        fw_text_addf(
            &line, "Take down what still stands in %s: ",
            plan->fields[plan->fences[steps->fences[step->first]].field].name);
        name_fences(&line, plan, steps, step);
        fw_text_add(&line, ".");
        break;
    }
    fw_report__fold_text(text, 4, &line);
}

enum fw_status fw_report__steps(struct fw_text *text,
                                const struct fw_plan *plan, size_t index,
                                struct fw_error *err)
{
    struct fw_steps steps;
    const enum fw_status status = fw_plan_steps(plan, index, &steps, err);
    if (status)
        return status;
    for (size_t i = 0; i < steps.count; i++) {
        fw_text_addf(text, "%2zu  ", i + 1);
        say_step(text, plan, &plan->moves[index], &steps, &steps.items[i]);
    }
    fw_steps_release(&steps);
    return FW_OK;
}

static void head(struct fw_text *text, const struct fw_plan *plan,
                 const struct fw_plan_move *move, bool colour)
{
    const struct fw_plan_paddock *to = &plan->paddocks[move->to];
    char day[FW_WORDS], area[FW_WORDS], days[FW_WORDS], minutes[FW_WORDS];
    struct fw_text line = {0};
    fw_text_addf(&line, "%s: into %s (%s%s%s)",
                 fw_report__day(move->day, true, day), to->id,
                 plan->fields[move->field].name, to->block[0] ? ", block " : "",
                 to->block);
    fw_report__heading_text(text, colour, &line);
    fw_text_addf(&line, "%d head on %s for %s %s; ", plan->flock.head,
                 fw_report__area(to->area_ha, plan->units, area),
                 fw_report__number(to->stay_days, days),
                 to->stay_days > 1 ? "days" : "day");
    if (move->minutes > 0)
        fw_text_addf(&line, "about %s minutes of fence.",
                     fw_report__number(ceil(move->minutes), minutes));
    else
        fw_text_add(&line, "no fence to set or take down.");
    fw_report__fold_text(text, 0, &line);
}

enum fw_status fw_report_move(const struct fw_plan *plan, size_t move,
                              bool colour, char **out, struct fw_error *err)
{
    struct fw_text text = {0};
    fw_report__dangers(&text, plan, colour);
    head(&text, plan, &plan->moves[move], colour);
    fw_text_add(&text, "\n");
    const enum fw_status status = fw_report__steps(&text, plan, move, err);
    if (status) {
        fw_text_release(&text);
        return status;
    }
    fw_text_add(&text, "\n");
    fw_report__fold(&text, 0, fw_report__first_words);
    return fw_report__give(&text, out, NULL, err);
}
