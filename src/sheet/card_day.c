/* The page of a day: title, map with the figures beside it, what is dangerous
 * there, the numbered steps, and boxes for a pencil in the order in which a day
 * is written down. */
#include "log/log.h"
#include "report/steps.h"
#include "report/weather.h"
#include "sheet/card.h"

#include "base/alloc.h"

#include <math.h>
#include <stdio.h>

/* ---- what it takes ---- */

struct fw_card_kit fw_card_kit(const struct fw_plan *plan, size_t move)
{
    struct fw_card_kit kit = {0};
    const struct fw_list *steps = &plan->time.moves[move].steps;
    for (size_t i = steps->first; i < steps->first + steps->count; i++) {
        const struct fw_step *step = &plan->time.steps[i];
        for (size_t k = 0; step->kind == FW_STEP_SET && k < step->lines.count;
             k++) {
            const struct fw_plan_fence *fence =
                &plan->fences[plan->time.items[step->lines.first + k]];
            kit.lines++;
            kit.posts += fence->posts;
            kit.reels += fence->reels;
            kit.wire_m += fence->wire_m;
        }
    }
    return kit;
}

/* ---- figures beside the map ---- */

/* Of one line that is read today; of several the steps have each. */
static void volts(struct fw_text *text, const struct fw_plan *plan, size_t move)
{
    const struct fw_list *steps = &plan->time.moves[move].steps;
    const struct fw_plan_reading *one = NULL;
    size_t count = 0;
    for (size_t i = 0; i < plan->reading_count; i++)
        if (plan->readings[i].step >= steps->first &&
            plan->readings[i].step < steps->first + steps->count) {
            one = &plan->readings[i];
            count++;
        }
    char far[FW_WORDS], wanted[FW_WORDS];
    if (count == 1 && one->far_v > 0) {
        fw_report_kv_beside(one->far_v, one->wanted_v, far, wanted);
        fw_text_addf(text, "expect %s kV\nact under %s\n", far, wanted);
    } else if (count > 1) {
        fw_text_add(text, "kV: in the steps\n");
    }
}

static void figures(struct fw_text *text, const struct fw_plan *plan,
                    size_t move)
{
    const struct fw_card_kit kit = fw_card_kit(plan, move);
    const size_t to = fw_plan_move_to(plan, move);
    char area[FW_WORDS], days[FW_WORDS], wire[FW_WORDS], water[FW_WORDS],
        heat[FW_WORDS];
    fw_text_addf(text, "%d head\n", plan->flock.head);
    if (to != FW_NONE) {
        const size_t stay = plan->time.moves[move].stay;
        const double fed_days = fw_plan_fed_days(plan, stay);
        fw_text_addf(
            text, "%s, %s day%s\n",
            fw_report_area(plan->paddocks[to].area_ha, plan->units, area),
            fw_report_number(fed_days, days), fed_days > 1 ? "s" : "");
        if (fw_plan_lack_days(plan, stay) > 0)
            fw_text_addf(text, "of %.0f: feed hay\n",
                         fed_days + fw_plan_lack_days(plan, stay));
    }
    fw_text_addf(text, "%.0f minutes\n", ceil(plan->time.moves[move].minutes));
    if (kit.lines > 0)
        fw_text_addf(text, "wire %s\nposts %d, reels %d\n",
                     fw_report_length(kit.wire_m, plan->units, wire), kit.posts,
                     kit.reels);
    if (to != FW_NONE)
        fw_text_addf(
            text, "water %s\nheat %s\n",
            fw_report_volume(plan->totals.litres_day, plan->units, water),
            fw_report_volume(plan->totals.hot_l_day, plan->units, heat));
    volts(text, plan, move);
}

/* ---- the steps ---- */

struct steps {
    struct fw_text *lines; /* one a step */
    size_t count;
};

static struct steps say_steps(struct fw_paper *paper,
                              const struct fw_plan *plan, size_t move,
                              bool outline)
{
    const struct fw_list *list = &plan->time.moves[move].steps;
    struct steps steps = {fw_alloc(list->count, sizeof *steps.lines),
                          list->count};
    if (!steps.lines) {
        paper->failed = true;
        steps.count = 0;
    }
    for (size_t i = 0; i < steps.count; i++) {
        const struct fw_report_saying saying = {
            plan, move, &plan->time.steps[list->first + i], list->first + i,
            outline};
        fw_report_say_brief(&steps.lines[i], &saying);
        paper->failed |= steps.lines[i].failed;
    }
    return steps;
}

static const double step_indent = 17; /* two figures and a gap */

static double steps_high(const struct fw_flow *flow, const struct steps *steps)
{
    const struct fw_type type = {.size_pt = flow->size_pt,
                                 .wide_pt = flow->size.x - 2 * flow->margin -
                                            step_indent};
    double sum = 0;
    for (size_t i = 0; i < steps->count && !flow->paper->failed; i++) {
        double wide, high;
        fw_paper_measure(flow->paper, steps->lines[i].bytes, &type, &wide,
                         &high);
        sum += high + 1;
    }
    return sum;
}

static void release(struct steps *steps)
{
    for (size_t i = 0; i < steps->count; i++)
        fw_text_release(&steps->lines[i]);
    fw_free(steps->lines);
}

static void put_steps(struct fw_flow *flow, struct steps *steps)
{
    for (size_t i = 0; i < steps->count; i++) {
        char number[16];
        snprintf(number, sizeof number, "%u", (unsigned)(i + 1));
        if (!flow->paper->failed)
            fw_flow_paragraph(flow, number, step_indent, steps->lines[i].bytes);
    }
    release(steps);
}

/* ---- boxes for a pencil ---- */

static const double box_high = 19;
enum { box_columns = 3, box_rows = 3 };

/* In the words in which it is to be said. */
static const char *left_of(const struct fw_plan *plan)
{
    return fw_log_said_as(plan, 0) != FW_LOG_AS_HEIGHT ? "left, in words"
           : plan->units == FW_US                      ? "left, in"
                                                       : "left, cm";
}

static void boxes(struct fw_flow *flow, const struct fw_plan *plan)
{
    const char *const names[box_rows][box_columns] = {
        {left_of(plan), "flanks", "kV"},
        {"ewes", "lambs", "fence"},
        {"minutes", "weather", "note"}};
    const struct fw_type type = {.size_pt = flow->size_pt};
    const double wide = (flow->size.x - 2 * flow->margin) / box_columns;
    fw_flow_need(flow, box_rows * box_high);
    const double top =
        flow->size.y - flow->margin - flow->foot - box_rows * box_high;
    for (int row = 0; row < box_rows; row++)
        for (int column = 0; column < box_columns; column++) {
            const struct fw_xy at = {flow->margin + wide * column,
                                     top + box_high * row};
            fw_paper_rectangle(flow->paper, flow->page, FW_PEN_WHITE, at,
                               (struct fw_xy){wide, box_high});
            fw_paper_words(flow->paper, flow->page, names[row][column], &type,
                           (struct fw_xy){at.x + 3, at.y + 3});
        }
    flow->y = flow->size.y;
}

/* ---- the page ---- */

static void title(struct fw_flow *flow, const struct fw_card_day *day)
{
    struct fw_text words = {0};
    const struct fw_type type = {.size_pt = 11,
                                 .bold = true,
                                 .wide_pt = flow->size.x - 2 * flow->margin,
                                 .most_lines = 2};
    const struct fw_plan *plan = day->plan;
    const struct fw_move *move = &plan->time.moves[day->move];
    const size_t to = fw_plan_move_to(plan, day->move);
    char date[FW_WORDS];
    fw_text_addf(&words, "%s: %s%s", fw_report_day(move->day, false, date),
                 to == FW_NONE ? "out of " : "into ",
                 to == FW_NONE ? plan->fields[move->field].name
                               : plan->paddocks[to].id);
    if (to != FW_NONE && plan->field_count > 1)
        fw_text_addf(&words, ", %s", plan->fields[move->field].name);
    flow->paper->failed |= words.failed;
    if (!words.failed)
        flow->y += fw_paper_words(flow->paper, flow->page, words.bytes, &type,
                                  (struct fw_xy){flow->margin, flow->y}) +
                   2;
    fw_text_release(&words);
}

static const double map_wide = 61 * FW_PAPER_MM;
static const double sign_high = 30; /* the north and the bar */

static struct fw_type type_beside(const struct fw_flow *flow)
{
    const double gap = 5;
    return (struct fw_type){.size_pt = flow->size_pt,
                            .wide_pt = flow->size.x - 2 * flow->margin -
                                       map_wide - gap};
}

/* Never too small to be read, nor lower than what stands beside it. */
static double least_high(const struct fw_flow *flow, const char *beside)
{
    const double least = 40 * FW_PAPER_MM;
    const struct fw_type type = type_beside(flow);
    double wide, high;
    fw_paper_measure(flow->paper, beside, &type, &wide, &high);
    return fmax(high + sign_high, least);
}

/* Which words leave for the map. */
static double room_high(const struct fw_flow *flow, double below_high)
{
    return flow->size.y - flow->margin - flow->foot - flow->y -
           box_rows * box_high - below_high - 8;
}

/* As high as the steps leave room for, so that all is on one page if it can
 * be. */
static double map_high(const struct fw_flow *flow, const char *beside,
                       double below_high)
{
    const double most = 68 * FW_PAPER_MM;
    return fmax(least_high(flow, beside),
                fmin(most, room_high(flow, below_high)));
}

static void map_and_figures(struct fw_flow *flow, const struct fw_card_day *day,
                            const char *words, double below_high)
{
    const struct fw_type type = type_beside(flow);
    const struct fw_xy at = {flow->margin, flow->y};
    struct fw_xy beside = {flow->size.x - flow->margin - type.wide_pt, at.y};
    const double high = map_high(flow, words, below_high);
    fw_paper_words(flow->paper, flow->page, words, &type, beside);
    beside.y += high - sign_high;
    fw_card_map(flow->paper, flow->page, day, at,
                (struct fw_xy){map_wide, high}, beside);
    flow->y += high + 4;
}

/* Dangers, none on the first day, since the page before has them all; and what
 * the day's weather asks for. */
static struct fw_text dangers(const struct fw_card_day *day)
{
    struct fw_text text = {.columns = FW_REPORT_UNFOLDED};
    if (day->move > 0)
        fw_report_dangers(&text, day->plan, day->move, false);
    if (day->today)
        fw_report__today(&text, day->today, false);
    return text;
}

static double dangers_high(const struct fw_flow *flow,
                           const struct fw_text *text)
{
    const struct fw_type type = {.size_pt = flow->size_pt,
                                 .wide_pt = flow->size.x - 2 * flow->margin -
                                            step_indent};
    double wide, high = 0;
    if (text->length > 0 && !text->failed)
        fw_paper_measure(flow->paper, text->bytes, &type, &wide, &high);
    return high;
}

void fw_card_day(struct fw_flow *flow, const struct fw_card_day *day)
{
    struct steps steps = say_steps(flow->paper, day->plan, day->move, false);
    fw_flow_page(flow);
    if (!flow->page) {
        put_steps(flow, &steps);
        return;
    }
    title(flow, day);
    struct fw_text said = dangers(day), beside = {0};
    const double said_high = dangers_high(flow, &said);
    figures(&beside, day->plan, day->move);
    flow->paper->failed |= beside.failed;
    if (!beside.failed) {
        beside.bytes[beside.length - 1] = '\0'; /* the last line feed */
        if (room_high(flow, said_high + steps_high(flow, &steps)) <
            least_high(flow, beside.bytes)) {
            release(&steps);
            steps = say_steps(flow->paper, day->plan, day->move, true);
        }
        map_and_figures(flow, day, beside.bytes,
                        said_high + steps_high(flow, &steps));
    }
    fw_text_release(&beside);
    fw_flow_text(flow, &said);
    put_steps(flow, &steps);
    boxes(flow, day->plan);
}
