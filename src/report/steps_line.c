/* Setting, hooking on, reading and taking down lines, in words. */
#include "report/steps.h"

#include "base/whole.h"
#include "plan/place.h"

#include <math.h>

const struct fw_move *fw_report__move_of(const struct fw_report_saying *saying)
{
    return &saying->plan->time.moves[saying->move];
}

size_t fw_report__line_of(const struct fw_report_saying *saying, size_t i)
{
    return saying->plan->time.items[saying->step->lines.first + i];
}

const char *fw_report__hooked(const struct fw_plan *plan, size_t fence)
{
    return fw_plan_is_hooked_at_b(plan, fence) ? "at A and at B"
           : plan->wiring.far_hooked && plan->moved.out_and_back
               ? "at A (both ends of each wire)"
               : "at A";
}

/* Openings in a line are called C, D, E in the order in which a move opens
 * them, so that the card and the map say the same. */
char fw_report_letter_of(const struct fw_report_saying *saying, size_t opening)
{
    const struct fw_time *time = &saying->plan->time;
    const struct fw_list *steps = &fw_report__move_of(saying)->steps;
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
void fw_report__add_more(struct fw_text *text, struct fw_text *line)
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
                     fw_report_number(crossing->minutes, minutes));
    }
    fw_report__add_more(text, &line);
}

/* What a low wire would drag through. */
static void say_grass(struct fw_text *text, const struct fw_plan *plan,
                      const struct fw_plan_fence *fence)
{
    struct fw_text line = {0};
    char grass[FW_WORDS], wire[FW_WORDS], minutes[FW_WORDS];
    if (!(fence->lay_min > 0))
        return;
    fw_text_addf(
        &line,
        "First lay the grass flat along it, there and back, %s "
        "minute%s: it stands %s high, over the lowest wire at %s.",
        fw_report_number(ceil(fence->lay_min), minutes),
        fence->lay_min > 1 ? "s" : "",
        fw_report_height(plan->fields[fence->field].grass_m, plan->units,
                         grass),
        fw_report_height(plan->moved.height_bottom_m, plan->units, wire));
    fw_report__add_more(text, &line);
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
                 fw_report_compass(fence->bearing_deg),
                 fw_report_length(fence->length_m, plan->units, length),
                 fw_whole(fence->ground_m / plan->pace_m),
                 fw_report_length(fence->wire_m, plan->units, wire),
                 fence->posts, fence->reels);
    fw_report__fold_text(text, 4, &line);
    fw_report_say_end(&line, plan, field, "A:", &fence->a);
    fw_text_add(&line, ". ");
    fw_report_say_end(&line, plan, field, "B:", &fence->b);
    fw_text_add(&line, ".");
    fw_text_add(text, "    ");
    fw_report__fold_text(text, 4, &line);
    say_grass(text, plan, fence);
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
            fw_whole((gate->at_m - gate->width_m / 2) / plan->pace_m));
        fw_text_add(text, "    ");
        fw_report__fold_text(text, 4, &line);
    }
}

static struct fw_point end_of(const struct fw_plan *plan, size_t fence,
                              bool last)
{
    const struct fw_plan_fence *of = &plan->fences[fence];
    return fw_plan__at(&plan->fields[of->field],
                       of->line[last ? of->line_count - 1 : 0]);
}

static bool is_border_end(const struct fw_plan *plan, struct fw_point at)
{
    for (size_t i = 0; i < plan->fence_count; i++)
        if (fw_plan_is_border(plan, i) &&
            (fw_plan__is_one_place(end_of(plan, i, false), at) ||
             fw_plan__is_one_place(end_of(plan, i, true), at)))
            return true;
    return false;
}

static size_t corner_at(const struct fw_plan_field *field, struct fw_point at)
{
    for (size_t c = 0; c < field->corner_count; c++)
        if (fw_plan__is_one_place(field->vertices[field->corners[c]].plane, at))
            return fw_plan_corner_number(field, c);
    return 0;
}

/* Nobody knows where a border ends: how far it is, along the boundary of one of
 * the parts, from a corner that was there before. */
static void say_corner(struct fw_text *line, const struct fw_plan *plan,
                       size_t border, bool last)
{
    const struct fw_point here = end_of(plan, border, last);
    for (size_t i = 0; i < plan->fence_count; i++) {
        const struct fw_plan_fence *side = &plan->fences[i];
        const bool from = fw_plan__is_one_place(end_of(plan, i, false), here);
        if (side->role != FW_FENCE_PERIMETER ||
            !fw_plan_is_one_field(plan, side->field,
                                  plan->fences[border].field) ||
            from == fw_plan__is_one_place(end_of(plan, i, true), here) ||
            is_border_end(plan, end_of(plan, i, from)))
            continue;
        const struct fw_plan_field *field = &plan->fields[side->field];
        const size_t corner = corner_at(field, end_of(plan, i, from));
        if (corner == 0)
            continue;
        fw_text_addf(line, "%s is %d paces from corner %zu of %s. ",
                     last ? "B" : "A", fw_whole(side->ground_m / plan->pace_m),
                     corner, field->name);
        return;
    }
}

void fw_report_say_borders(struct fw_text *text, const struct fw_plan *plan)
{
    size_t field = FW_NONE;
    for (size_t i = 0; i < plan->fence_count; i++) {
        if (!fw_plan_is_border(plan, i))
            continue;
        struct fw_text line = {0};
        if (plan->fences[i].field != field) {
            field = plan->fences[i].field;
            fw_text_addf(&line,
                         "Before they come, fence %s off from the rest of %s, "
                         "and hook that on:",
                         plan->fields[field].name, plan->fields[field].part_of);
            fw_report__fold_text(text, 0, &line);
        }
        fw_text_add(text, "    ");
        set_fence(text, plan, i);
        say_corner(&line, plan, i, false);
        say_corner(&line, plan, i, true);
        fw_report__add_more(text, &line);
        say_joints(text, plan, i);
    }
}

void fw_report__say_set(struct fw_text *text,
                        const struct fw_report_saying *saying)
{
    const double share = fw_plan_pace_share(saying->plan, saying->step);
    for (size_t i = 0; i < saying->step->lines.count; i++) {
        if (i > 0)
            fw_text_add(text, "    ");
        set_fence(text, saying->plan, fw_report__line_of(saying, i));
        say_joints(text, saying->plan, fw_report__line_of(saying, i));
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

static bool is_set(const struct fw_report_saying *saying, size_t fence)
{
    for (size_t i = 0; i < saying->step->lines.count; i++)
        if (fw_report__line_of(saying, i) == fence)
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

/* "Then hook on at B too: A01-02." */
static void hook_far(struct fw_text *line,
                     const struct fw_report_saying *saying)
{
    const struct fw_plan *plan = saying->plan;
    size_t count = 0;
    for (size_t i = 0; i < saying->step->lines.count; i++) {
        const size_t fence = fw_report__line_of(saying, i);
        if (fw_plan_is_hooked_at_b(plan, fence))
            fw_text_addf(line, "%s%s",
                         count++ ? ", " : " Then hook on at B too: ",
                         plan->fences[fence].id);
    }
    fw_text_add(line, count ? "." : "");
    if (plan->wiring.far_hooked && plan->moved.out_and_back)
        fw_text_add(line, " Each wire has two ends there: hook on both.");
}

/* Those that hang on another of the same step come first, while all are dead;
 * the ones that make them live come last. */
static void hook_near(struct fw_text *line,
                      const struct fw_report_saying *saying)
{
    const struct fw_plan *plan = saying->plan;
    const size_t count = saying->step->lines.count;
    const enum source first =
        source_of(plan, &plan->fences[fw_report__line_of(saying, 0)]);
    size_t said = 0, alike = 0;
    for (size_t i = 0; i < count; i++)
        alike +=
            source_of(plan, &plan->fences[fw_report__line_of(saying, i)]) ==
            first;
    if (count > 1 && alike == count && first != SOURCE_LINE) {
        fw_text_add(line, "Hook each ");
        hook_one(line, plan, &plan->fences[fw_report__line_of(saying, 0)],
                 "of them");
        fw_text_add(line, ", last of all.");
        return;
    }
    fw_text_add(line, "Hook ");
    for (int last = 0; last < 2; last++)
        for (size_t i = 0; i < count; i++) {
            const struct fw_plan_fence *fence =
                &plan->fences[fw_report__line_of(saying, i)];
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

/* "the lower strand" */
static const char *earth_strand(int strands)
{
    return strands == 2   ? "the lower strand"
           : strands == 3 ? "the middle strand"
                          : "every second strand from the bottom";
}

void fw_report__say_hook(struct fw_text *line,
                         const struct fw_report_saying *saying)
{
    const struct fw_plan *plan = saying->plan;
    hook_near(line, saying);
    hook_far(line, saying);
    if (plan->power.earth_return)
        fw_text_addf(line,
                     " Of each line %s is an earth: first hook that on to the "
                     "earth wire, then what is hot on to what is hot, and "
                     "never one to the other.",
                     earth_strand(plan->moved.strands));
}

/* "A03-04, the block line A-line-1" */
void fw_report__name_fences(struct fw_text *line, const struct fw_plan *plan,
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

/* "about 6.6 kV by the plan, a fault under 5.4" */
static void say_reading(struct fw_text *line, const struct fw_plan *plan,
                        const struct fw_plan_reading *reading)
{
    const double kv = 1000;
    char far[FW_WORDS], wanted[FW_WORDS], touched[FW_WORDS], least[FW_WORDS];
    if (!reading || !(reading->far_v > 0)) {
        fw_text_addf(line,
                     "nothing feeds it by the plan, and %.2g kV or more are "
                     "wanted",
                     plan->energizer.open_v / kv);
        return;
    }
    fw_report_kv_beside(reading->far_v, reading->wanted_v, far, wanted);
    fw_report_kv_beside(reading->touched_v, plan->energizer.touched_v, touched,
                        least);
    if (reading->far_v >= reading->wanted_v)
        fw_text_addf(line, "about %s kV by the plan, a fault under %s", far,
                     wanted);
    else
        fw_text_addf(line,
                     "by the plan %s kV, of which a sheep gets %s (%s are "
                     "wanted); enough only from %s kV on",
                     far, touched, least, wanted);
}

void fw_report__say_read(struct fw_text *line,
                         const struct fw_report_saying *saying)
{
    const struct fw_plan *plan = saying->plan;
    const size_t count = saying->step->lines.count;
    fw_text_addf(line, "Read the tester at %sB%s: ", count > 1 ? "each " : "",
                 plan->power.earth_return
                     ? ", held between an earth strand and a hot one"
                     : "");
    for (size_t i = 0; i < count; i++) {
        const size_t fence = fw_report__line_of(saying, i);
        if (count > 1)
            fw_text_addf(line, "%s%s ", i ? "; " : "", plan->fences[fence].id);
        say_reading(line, plan, fw_plan_reading_of(plan, saying->index, fence));
    }
    fw_text_add(line, ". Look for a fault first of all.");
}

void fw_report__say_take_down(struct fw_text *line,
                              const struct fw_report_saying *saying)
{
    const struct fw_plan *plan = saying->plan;
    const size_t count = saying->step->lines.count;
    const bool left =
        saying->step->field != fw_report__move_of(saying)->field ||
        fw_plan_move_to(plan, saying->move) == FW_NONE;
    if (left)
        fw_text_addf(line, "Take down all that stands in %s, each dead first: ",
                     plan->fields[saying->step->field].name);
    else
        fw_text_add(line, plan->wiring.far_hooked
                              ? "Unhook at every end that is hooked on, read "
                                "the tester: dead; and wind up "
                              : "Unhook and wind up ");
    fw_report__name_fences(line, plan,
                           plan->time.items + saying->step->lines.first, count);
    fw_text_add(line, ".");
}
