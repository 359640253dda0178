/* What follows the maps of a sheet: moves, materials, cautions. */
#include "export/export.h"
#include "report/report.h"
#include "sheet/sheet.h"

#include "base/progress.h"
#include "base/whole.h"

#include <math.h>
#include <stdio.h>

/* ---- moves ---- */

/* So many columns at most, and what a row has in each. */
enum { DAY, INTO, AREA, STAY, WORK, WIRE, POSTS, REELS, MINUTES, COLUMNS };

static const struct fw_flow_column move_columns[COLUMNS] = {
    [DAY] = {"Day", 62},     [INTO] = {"Into", 44},   [AREA] = {"Size", 44},
    [STAY] = {"Days", 28},   [WORK] = {"Work", 216},  [WIRE] = {"Wire", 44},
    [POSTS] = {"Posts", 32}, [REELS] = {"Reels", 32}, [MINUTES] = {"Min", 30},
};

static void set_row(struct fw_flow *flow, const struct fw_plan *plan,
                    size_t fence, const char **cells)
{
    const struct fw_plan_fence *of = &plan->fences[fence];
    const struct fw_plan_field *field = &plan->fields[of->field];
    char length[FW_WORDS], wire[FW_WORDS], posts[16], reels[16];
    struct fw_text words = {0};
    fw_text_addf(&words, "Set %s, bearing %.0f (%s), %s, %d paces. ", of->id,
                 of->bearing_deg, fw_report_compass(of->bearing_deg),
                 fw_report_length(of->length_m, plan->units, length),
                 fw_whole(of->ground_m / plan->pace_m));
    fw_report_say_end(&words, plan, field, "A:", &of->a);
    fw_text_add(&words, ". ");
    fw_report_say_end(&words, plan, field, "B:", &of->b);
    fw_text_add(&words, ".");
    snprintf(posts, sizeof posts, "%d", of->posts);
    snprintf(reels, sizeof reels, "%d", of->reels);
    cells[WORK] = words.bytes;
    cells[WIRE] = fw_report_length(of->wire_m, plan->units, wire);
    cells[POSTS] = posts;
    cells[REELS] = reels;
    flow->paper->failed |= words.failed;
    if (!words.failed)
        fw_flow_row(flow, cells);
    fw_text_release(&words);
    for (int c = 0; c < COLUMNS; c++)
        cells[c] = "";
}

/* Each line that is set is a row; the first one has the day beside it. */
static void set_rows(struct fw_flow *flow, const struct fw_plan *plan,
                     const struct fw_move *move, const char **cells,
                     size_t *rows)
{
    for (size_t i = 0; i < move->steps.count; i++) {
        const struct fw_step *step = &plan->time.steps[move->steps.first + i];
        for (size_t k = 0; step->kind == FW_STEP_SET && k < step->lines.count;
             k++) {
            set_row(flow, plan, plan->time.items[step->lines.first + k], cells);
            ++*rows;
        }
    }
}

/* What comes down, in the order of the work. */
static void down_row(struct fw_flow *flow, const struct fw_plan *plan,
                     const struct fw_move *move, const char **cells,
                     size_t rows)
{
    struct fw_text words = {0};
    for (size_t i = 0; i < move->steps.count; i++) {
        const struct fw_step *step = &plan->time.steps[move->steps.first + i];
        for (size_t k = 0;
             step->kind == FW_STEP_TAKE_DOWN && k < step->lines.count; k++)
            fw_text_addf(
                &words, "%s%s", words.length ? ", " : "Take down ",
                plan->fences[plan->time.items[step->lines.first + k]].id);
    }
    if (words.length)
        fw_text_add(&words, ".");
    else if (rows == 0)
        fw_text_add(&words, "Nothing to set or to take down.");
    cells[WORK] = words.bytes;
    flow->paper->failed |= words.failed;
    if (words.length && !words.failed)
        fw_flow_row(flow, cells);
    fw_text_release(&words);
}

static void move_rows(struct fw_flow *flow, const struct fw_plan *plan,
                      size_t index)
{
    const struct fw_move *move = &plan->time.moves[index];
    const size_t to = fw_plan_move_to(plan, index);
    char day[FW_WORDS], area[FW_WORDS], stay[FW_WORDS], minutes[FW_WORDS];
    size_t rows = 0;
    const char *cells[COLUMNS] = {
        [DAY] = fw_report_day(move->day, false, day),
        [INTO] = to == FW_NONE ? "out" : plan->paddocks[to].id,
        [MINUTES] = fw_report_number(ceil(move->minutes), minutes),
        [AREA] = "",
        [STAY] = "",
        [WORK] = "",
        [WIRE] = "",
        [POSTS] = "",
        [REELS] = "",
    };
    if (to != FW_NONE) {
        cells[AREA] =
            fw_report_area(plan->paddocks[to].area_ha, plan->units, area);
        cells[STAY] =
            fw_report_number(fw_plan_fed_days(plan, move->stay), stay);
    }
    set_rows(flow, plan, move, cells, &rows);
    down_row(flow, plan, move, cells, rows);
}

void fw_sheet_moves(struct fw_flow *flow, const struct fw_plan *plan)
{
    fw_flow_heading(flow, "Moves");
    fw_flow_table(flow, move_columns, COLUMNS);
    for (size_t i = 0; i < plan->time.move_count; i++) {
        const struct fw_progress whole =
            fw_progress_enter(i, plan->time.move_count);
        move_rows(flow, plan, i);
        fw_progress_leave(whole);
    }
    fw_flow_table_end(flow);
}

/* ---- materials ---- */

void fw_sheet_materials(struct fw_flow *flow, const struct fw_plan *plan)
{
    static const struct fw_flow_column columns[] = {
        {"How many", 50},     {"", 40}, {"What", 200}, {"Price", 60},
        {"How counted", 180},
    };
    double sum = 0;
    bool any = false;
    fw_flow_gap(flow, 10);
    fw_flow_heading(flow, "Materials");
    fw_flow_table(flow, columns, sizeof columns / sizeof *columns);
    for (size_t i = 0; i < plan->material_count; i++) {
        const struct fw_material *row = &plan->materials[i];
        char number[FW_WORDS], price[FW_WORDS] = "";
        const char *unit = fw_export_amount(row, plan->units, number);
        if (row->price >= 0) {
            fw_text_format(price, sizeof price, "%.2f",
                           row->price * fw_fence_bought(row, false));
            sum += row->price * fw_fence_bought(row, false);
            any = true;
        }
        struct fw_text words = {0};
        fw_export_bought(&words, row, plan->units, false);
        fw_text_addf(&words, "%s%s", words.length && row->note[0] ? "; " : "",
                     row->note);
        flow->paper->failed |= words.failed;
        const char *cells[] = {number, unit, row->item, price,
                               words.bytes && !words.failed ? words.bytes : ""};
        fw_flow_row(flow, cells);
        fw_text_release(&words);
    }
    if (any) {
        char together[FW_WORDS];
        fw_text_format(together, sizeof together, "%.2f %s", sum,
                       plan->currency);
        const char *cells[] = {"", "", "together, of what has a price",
                               together, ""};
        fw_flow_row(flow, cells);
    }
    fw_flow_table_end(flow);
}

/* ---- cautions ---- */

/* What the numbers on the maps say. */
static void drawn_dangers(struct fw_flow *flow, const struct fw_plan *plan)
{
    bool any = false;
    for (size_t i = 0; i < plan->finding_count; i++) {
        bool first;
        const size_t drawn = fw_report_drawn_number(plan, i, &first);
        if (!drawn || !first)
            continue;
        struct fw_text words = {0};
        char number[16];
        if (!any)
            fw_flow_heading(flow, "Marked on the map");
        any = true;
        fw_text_addf(&words, "%s: %s", plan->findings[i].about,
                     plan->findings[i].text);
        snprintf(number, sizeof number, "!%u", (unsigned)drawn);
        flow->paper->failed |= words.failed;
        if (!words.failed)
            fw_flow_paragraph(flow, number, 26, words.bytes);
        fw_text_release(&words);
    }
    fw_flow_gap(flow, any ? 8 : 0);
}

void fw_sheet_cautions(struct fw_flow *flow, const struct fw_plan *plan)
{
    struct fw_text text = {.columns = FW_REPORT_UNFOLDED};
    fw_flow_gap(flow, 10);
    fw_report_dangers(&text, plan, FW_NONE, false);
    fw_flow_text(flow, &text);
    drawn_dangers(flow, plan);
    text = (struct fw_text){.columns = FW_REPORT_UNFOLDED};
    fw_flow_heading(flow, "Cautions");
    fw_report_cautions_whole(&text, plan);
    fw_flow_text(flow, &text);
}
