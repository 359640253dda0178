/* The field sheet: a map of each field to scale, then the moves, the materials
 * and the cautions. */
#include "sheet/sheet.h"

#include "base/fail.h"
#include "base/progress.h"
#include "report/report.h"
#include "sheet/paper.h"

#include <string.h>

struct fw_xy fw_sheet_size(const struct fw_plan *plan)
{
    const struct fw_xy letter = {8.5 * FW_PAPER_INCH, 11 * FW_PAPER_INCH};
    const struct fw_xy a4 = {210 * FW_PAPER_MM, 297 * FW_PAPER_MM};
    return plan->units == FW_US ? letter : a4;
}

/* Told last, when all has been set. */
static void unknown_letters(struct fw_flow *flow)
{
    struct fw_paper *paper = flow->paper;
    const size_t count = paper->unknown_count;
    for (size_t i = 0; i < count; i++) {
        struct fw_text words = {0};
        if (i == 0)
            fw_flow_heading(flow, "Letters that no font here has");
        fw_text_addf(&words, "\"%s\": install %s, and write the sheet again.",
                     paper->unknown[i],
                     fw_paper_font_package(paper->unknown[i]));
        paper->failed |= words.failed;
        if (!words.failed)
            fw_flow_paragraph(flow, "", 0, words.bytes);
        fw_text_release(&words);
    }
}

static void maps(struct fw_paper *paper, const struct fw_plan *plan)
{
    for (size_t i = 0; i < plan->field_count; i++) {
        const struct fw_progress whole =
            fw_progress_enter(i, plan->field_count);
        fw_sheet_map(paper, plan, i);
        fw_progress_leave(whole);
    }
}

static void lay_out(struct fw_paper *paper, const struct fw_plan *plan,
                    bool lists)
{
    struct fw_flow flow = {
        .paper = paper,
        .size = fw_sheet_size(plan),
        .margin = FW_SHEET_MARGIN,
        .foot = FW_SHEET_FOOT,
        .size_pt = 8,
        .running = plan->farm_name,
    };
    const struct fw_progress whole = fw_progress_enter(0, 2);
    maps(paper, plan);
    fw_progress_leave(whole);
    fw_progress_enter(1, 2);
    if (lists) {
        fw_sheet_moves(&flow, plan);
        fw_sheet_materials(&flow, plan);
        fw_sheet_cautions(&flow, plan);
        unknown_letters(&flow);
    }
    fw_progress_leave(whole);
    fw_flow_number_pages(paper, fw_report_first_words, 7.5);
}

enum fw_status fw_sheet__sheet_paper(const struct fw_plan *plan, bool lists,
                                     struct fw_paper **out,
                                     struct fw_error *err)
{
    struct fw_paper *paper;
    enum fw_status status = fw_paper_new(plan->farm_name, &paper, err);
    if (status)
        return status;
    lay_out(paper, plan, lists);
    if (paper->failed)
        status = fw_fail_memory(err);
    if (status)
        fw_paper_free(paper);
    else
        *out = paper;
    return status;
}

enum fw_status fw_report_can_print(struct fw_error *err)
{
    struct fw_paper *paper;
    const enum fw_status status = fw_paper_new("", &paper, err);
    if (!status)
        fw_paper_free(paper);
    return status;
}

enum fw_status fw_report_sheet(const struct fw_plan *plan, const char *form,
                               long long epoch_s, char **out, size_t *count,
                               struct fw_error *err)
{
    if (!plan || !form || !out || !count)
        return fw_fail_null(err, "a plan, a form, or where its bytes go,");
    const enum fw_paper_form as = strcmp(form, "svg") == 0   ? FW_PAPER_SVG
                                  : strcmp(form, "png") == 0 ? FW_PAPER_PNG
                                                             : FW_PAPER_PDF;
    struct fw_paper *paper;
    const struct fw_progress whole = fw_progress_enter(0, 2);
    enum fw_status status =
        fw_sheet__sheet_paper(plan, as == FW_PAPER_PDF, &paper, err);
    fw_progress_leave(whole);
    if (status)
        return status;
    fw_progress_enter(1, 2);
    status = fw_paper_draw(paper, as,
                           epoch_s < 0 ? plan->start_day * 86400LL : epoch_s,
                           out, count, err);
    fw_progress_leave(whole);
    fw_paper_free(paper);
    return status;
}
