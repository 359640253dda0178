/* The card's pages of words: what comes before the first day, and the week. */
#include "log/log.h"
#include "report/report.h"
#include "report/steps.h"
#include "sheet/card.h"

#include "safety/safety.h"

#include <math.h>
#include <stdio.h>

static const char lines_words[] =
    "On the maps: double, the boundary; thin, what stands; bold, what is set; "
    "dashed, what comes down; a ring, what is opened; grey, where they go; a "
    "drop, water; a crossed square, the gate.";

static void paragraph(struct fw_flow *flow, int *number, struct fw_text *words)
{
    char before[16];
    snprintf(before, sizeof before, "%d", ++*number);
    flow->paper->failed |= words->failed;
    if (!words->failed)
        fw_flow_paragraph(flow, before, 14, words->bytes);
    fw_text_release(words);
}

/* What the page of cautions says of sheep that do not know the wire. */
static void training(struct fw_flow *flow, const struct fw_plan *plan,
                     int *number)
{
    size_t count;
    const struct fw_caution *cautions = fw_safety_cautions(&count);
    for (size_t i = 0; i < count; i++) {
        struct fw_text words = {0};
        if (!(cautions[i].concerns & FW_CONCERN_UNTRAINED) ||
            !fw_safety_applies(&cautions[i], plan->concerns))
            continue;
        fw_text_add_said(&words, cautions[i].text, plan->units);
        paragraph(flow, number, &words);
    }
    if (!(plan->concerns & FW_CONCERN_UNTRAINED)) {
        struct fw_text words = {0};
        fw_text_add(&words,
                    "They know the wire. Any that do not, as bought ones, "
                    "first two days beside a live fence in a pen.");
        paragraph(flow, number, &words);
    }
}

void fw_card_before(struct fw_flow *flow, const struct fw_plan *plan)
{
    char day[FW_WORDS], volts[FW_WORDS];
    int number = 0;
    struct fw_text words = {0}, text = {.columns = FW_REPORT_UNFOLDED};
    fw_flow_page(flow);
    fw_text_addf(&words, "Before %s",
                 fw_report_day(plan->start_day, true, day));
    flow->paper->failed |= words.failed;
    if (!words.failed)
        fw_flow_heading(flow, words.bytes);
    fw_text_release(&words);
    fw_text_add(&words, "Walk the whole boundary: gates shut, nothing down, "
                        "nothing on a wire. Mend what is not.");
    paragraph(flow, &number, &words);
    fw_text_addf(&words,
                 "The day before switch the energizer on and leave it on. At "
                 "the far ends a tester reads %s kV or more.",
                 fw_report_number(plan->energizer.open_v / 1000, volts));
    paragraph(flow, &number, &words);
    training(flow, plan, &number);
    fw_text_add(&words, "Let them in for the first time with full bellies, "
                        "in daylight, and stay an hour.");
    paragraph(flow, &number, &words);
    fw_flow_gap(flow, 5);
    fw_report_say_borders(&text, plan);
    fw_report_dangers(&text, plan, FW_NONE, false);
    fw_flow_text(flow, &text);
    fw_flow_paragraph(flow, "", 0, fw_report_first_words);
    fw_flow_gap(flow, 5);
    fw_flow_paragraph(flow, "", 0, lines_words);
}

/* ---- the week ---- */

static void names(struct fw_text *words, const struct fw_plan *plan,
                  size_t move, enum fw_step_kind kind, const char *before)
{
    const struct fw_list *steps = &plan->time.moves[move].steps;
    bool any = false;
    for (size_t i = steps->first; i < steps->first + steps->count; i++) {
        const struct fw_step *step = &plan->time.steps[i];
        for (size_t k = 0; step->kind == kind && k < step->lines.count; k++) {
            fw_text_addf(
                words, "%s%s", any ? ", " : before,
                plan->fences[plan->time.items[step->lines.first + k]].id);
            any = true;
        }
    }
    if (any)
        fw_text_add(words, ".");
}

static void day_words(struct fw_text *words, const struct fw_plan *plan,
                      size_t move)
{
    const struct fw_card_kit kit = fw_card_kit(plan, move);
    char wire[FW_WORDS];
    fw_report_move_title(words, plan, move);
    fw_text_addf(words, "; %.0f minutes.",
                 ceil(plan->time.moves[move].minutes));
    names(words, plan, move, FW_STEP_SET, " Set ");
    if (kit.lines > 0)
        fw_text_addf(words, " %s of wire, %d posts, %d reels.",
                     fw_report_length(kit.wire_m, plan->units, wire), kit.posts,
                     kit.reels);
    names(words, plan, move, FW_STEP_TAKE_DOWN, " Take down ");
}

/* The record of each day fills it: what they left, and so how many paces more
 * or less the next line is set. */
static void corrections(struct fw_flow *flow, const struct fw_plan *plan,
                        size_t first, size_t end)
{
    static const struct fw_flow_column columns[] = {{"Into", 44},
                                                    {"a pace is", 54},
                                                    {"wanted", 50},
                                                    {"left", 46},
                                                    {"paces + or -", 68}};
    fw_flow_gap(flow, 6);
    fw_flow_heading(flow, "Corrections");
    fw_flow_table(flow, columns, sizeof columns / sizeof *columns);
    for (size_t i = first; i < end; i++) {
        const size_t to = fw_plan_move_to(plan, i);
        double share = 0;
        char pace[FW_WORDS] = "", wanted[FW_WORDS] = "";
        const struct fw_list *steps = &plan->time.moves[i].steps;
        if (to == FW_NONE)
            continue;
        for (size_t k = steps->first; k < steps->first + steps->count; k++)
            if (plan->time.steps[k].kind == FW_STEP_SET)
                share = fw_plan_pace_share(plan, &plan->time.steps[k]);
        if (share > 0)
            fw_text_format(pace, sizeof pace, "%.0f %%", 100 * share);
        const double left_m = plan->fields[plan->paddocks[to].field].left_m;
        if (left_m > 0 && fw_log_said_as(plan, to) == FW_LOG_AS_HEIGHT)
            fw_report_height(left_m, plan->units, wanted);
        const char *cells[] = {plan->paddocks[to].id, pace, wanted, " ", " "};
        fw_flow_row(flow, cells);
        fw_flow_gap(flow, 5); /* to write in */
    }
    fw_flow_table_end(flow);
}

/* ---- the tank ---- */

void fw_card_tank(struct fw_flow *flow, const struct fw_plan *plan,
                  size_t first, size_t end)
{
    bool any = false;
    for (size_t i = first; i < end; i++) {
        struct fw_text words = {0};
        const size_t to = fw_plan_move_to(plan, i);
        char day[FW_WORDS];
        if (to == FW_NONE || !fw_report_has_tank(plan, i))
            continue;
        if (!any) {
            fw_flow_page(flow);
            fw_flow_heading(flow, "The tank");
            fw_flow_paragraph(flow, "", 0,
                              "As the fences stand when the day begins; paces "
                              "count along the fence. Mineral last, well "
                              "away.");
            fw_flow_gap(flow, 2);
        }
        any = true;
        fw_text_addf(&words, "%s, trough of %s.",
                     fw_report_day(plan->time.moves[i].day, true, day),
                     plan->paddocks[to].id);
        fw_report_say_tank_brief(&words, plan, i);
        flow->paper->failed |= words.failed;
        if (!words.failed)
            fw_flow_paragraph(flow, "", 0, words.bytes);
        fw_text_release(&words);
        fw_flow_gap(flow, 2);
    }
}

void fw_card_week(struct fw_flow *flow, const struct fw_plan *plan,
                  size_t first, size_t end)
{
    fw_flow_page(flow);
    fw_flow_heading(flow, "The week");
    for (size_t i = first; i < end; i++) {
        struct fw_text words = {0};
        day_words(&words, plan, i);
        flow->paper->failed |= words.failed;
        if (!words.failed)
            fw_flow_paragraph(flow, "", 0, words.bytes);
        fw_text_release(&words);
        fw_flow_gap(flow, 2);
    }
    corrections(flow, plan, first, end);
    fw_flow_gap(flow, 6);
    if (first > 0)
        fw_flow_paragraph(flow, "", 0, lines_words);
}
