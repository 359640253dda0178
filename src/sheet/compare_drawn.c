/* The candidates of each field to look at: small maps to one scale, the one
 * that is taken first, with what each costs a person below it. */
#include "report/report.h"
#include "sheet/drawing.h"
#include "sheet/paper.h"
#include "sheet/sheet.h"

#include "base/fail.h"
#include "make/make.h"
#include "plan/place.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

enum { columns = 2, rows = 3 };
static const double gap_pt = 14, map_pt = 150, cell_pt = 232, head_pt = 34;

struct gallery {
    const struct fw_farm *farm;
    const struct fw_plan *taken; /* of the whole farm */
    struct fw_paper *paper;
    struct fw_page *page;
    size_t put; /* cells of the page at hand */
};

/* ---- one candidate ---- */

static void draw_plan(struct gallery *gallery, const struct fw_plan *plan,
                      struct fw_xy at, struct fw_xy size)
{
    static const double sizes[] = {8, 6};
    struct fw_extent extent = {0};
    struct fw_drawing drawing = {.paper = gallery->paper,
                                 .page = gallery->page,
                                 .plan = plan,
                                 .at = at,
                                 .size = size};
    fw_extent_add_rings(&extent, &plan->fields[0], &plan->fields[0].rings);
    fw_drawing_fit(&drawing, &extent, 9);
    for (size_t i = 0; i < plan->lane_count; i++)
        fw_drawing_rings(&drawing, &plan->lanes[i].rings, FW_PEN_SHADED);
    fw_drawing_holes(&drawing);
    for (size_t i = 0; i < plan->fence_count; i++)
        if (fw_plan__is_used(plan, i))
            fw_drawing_fence(&drawing, i, fw_drawing_pen(plan->fences[i].role));
    if (plan->fields[0].gate.given)
        fw_drawing_sign(&drawing, FW_SIGN_GATE, plan->fields[0].gate.plane,
                        NULL);
    if (plan->fields[0].water.given)
        fw_drawing_sign(&drawing, FW_SIGN_WATER, plan->fields[0].water.plane,
                        NULL);
    for (size_t i = 0; i < plan->paddock_count; i++)
        fw_drawing_inside(&drawing, &plan->paddocks[i].rings,
                          plan->paddocks[i].id, sizes, 2, 1);
    fw_drawing_release(&drawing);
}

static void say_figures(struct fw_text *text, const struct fw_farm *farm,
                        const struct fw_plan_score *score)
{
    char moved[FW_WORDS], standing[FW_WORDS], wire[FW_WORDS], width[FW_WORDS];
    fw_text_addf(
        text, "%zu paddock%s; %.0f minutes a day; %s of fence set a move",
        score->paddocks, score->paddocks == 1 ? "" : "s", ceil(score->minutes),
        fw_report_length(score->moved_m / (double)score->paddocks, farm->units,
                         moved));
    if (score->standing_m > 0)
        fw_text_addf(
            text, ", %s stand",
            fw_report_length(score->standing_m, farm->units, standing));
    fw_text_addf(text, "\n%d reels, %d posts, %s of wire at most; ",
                 score->kit.reels, score->kit.posts,
                 fw_report_length(score->kit.wire_m, farm->units, wire));
    fw_report_candidate_walk(text, score, farm->units);
    fw_text_addf(text, " to water\nnarrowest %s, longest 1 to %.1f",
                 fw_report_length(score->width_m, farm->units, width),
                 score->elongation);
    if (score->lost > 0)
        fw_text_addf(text, "; %.0f %% of the grass lost", 100 * score->lost);
    fw_text_add(text, "\n");
    fw_report_candidate_marks(text, farm, score);
}

static void put_words(struct gallery *gallery,
                      const struct fw_plan_score *score, struct fw_xy at,
                      double wide)
{
    const struct fw_type title = {
        .size_pt = 9.5, .bold = true, .wide_pt = wide, .most_lines = 1};
    const struct fw_type type = {
        .size_pt = 7.5, .wide_pt = wide, .most_lines = 6};
    struct fw_text words = {0}, name = {0};
    fw_text_addf(&name, "%s%s", score->layout,
                 score->chosen     ? ": what plan takes"
                 : score->unbeaten ? "; none is better in everything"
                                   : "");
    say_figures(&words, gallery->farm, score);
    if (words.failed || name.failed) {
        gallery->paper->failed = true;
    } else {
        at.y += fw_paper_words(gallery->paper, gallery->page, name.bytes,
                               &title, at);
        fw_paper_words(gallery->paper, gallery->page, words.bytes, &type, at);
    }
    fw_text_release(&words);
    fw_text_release(&name);
}

/* ---- pages ---- */

/* The day on which the field is first grazed in the plan that is taken, so that
 * its candidates hold what they held when they were weighed. */
static int day_of(const struct gallery *gallery, size_t field)
{
    const struct fw_plan *plan = gallery->taken;
    for (size_t i = 0; i < plan->field_count; i++) {
        const struct fw_list stays = fw_plan_stays_of(plan, i);
        if (stays.count > 0 &&
            strcmp(plan->fields[i].name,
                   gallery->farm->fields[field].shape->name) == 0)
            return plan->time.stays[stays.first].enter;
    }
    return gallery->farm->start_day;
}

static void begin_page(struct gallery *gallery, size_t field)
{
    const struct fw_xy size = fw_sheet_size(gallery->taken);
    const struct fw_type type = {.size_pt = 14,
                                 .bold = true,
                                 .wide_pt = size.x - 2 * FW_SHEET_MARGIN,
                                 .most_lines = 1};
    struct fw_text words = {0};
    gallery->page =
        fw_paper_page(gallery->paper, size.x, size.y, FW_SHEET_MARGIN);
    gallery->put = 0;
    if (gallery->page)
        gallery->page->drawing = true;
    fw_text_addf(&words, "%s: layouts of %s", gallery->taken->farm_name,
                 gallery->farm->fields[field].shape->name);
    gallery->paper->failed |= words.failed;
    if (!words.failed)
        fw_paper_words(gallery->paper, gallery->page, words.bytes, &type,
                       (struct fw_xy){FW_SHEET_MARGIN, FW_SHEET_MARGIN});
    fw_text_release(&words);
}

/* One bar and one north do for all maps of a page. */
static void put_bar(struct gallery *gallery, const struct fw_plan *plan,
                    struct fw_xy room)
{
    const double top = gallery->page->high - FW_SHEET_MARGIN - 54;
    struct fw_extent extent = {0};
    struct fw_drawing drawing = {.paper = gallery->paper,
                                 .page = gallery->page,
                                 .plan = plan,
                                 .size = room};
    fw_extent_add_rings(&extent, &plan->fields[0], &plan->fields[0].rings);
    fw_drawing_fit(&drawing, &extent, 9);
    fw_drawing_north(&drawing, (struct fw_xy){FW_SHEET_MARGIN + 8, top}, 9);
    fw_drawing_bar(&drawing, (struct fw_xy){FW_SHEET_MARGIN + 26, top + 6}, 110,
                   8, plan->pace_m);
    fw_drawing_release(&drawing);
}

static enum fw_status put_candidate(struct gallery *gallery,
                                    const struct fw_plan_score *score,
                                    struct fw_error *err)
{
    struct fw_plan *plan = NULL;
    struct fw_error why;
    const enum fw_status status = fw_plan_candidate(
        gallery->farm, score, day_of(gallery, score->field), &plan, &why);
    if (status == FW_ENOMEM)
        return fw_fail_memory(err);
    if (!gallery->page || gallery->put == (size_t)columns * rows)
        begin_page(gallery, score->field);
    if (!gallery->page) {
        fw_plan_free(plan);
        return fw_fail_memory(err);
    }
    const double wide =
        (gallery->page->wide - 2 * FW_SHEET_MARGIN - (columns - 1) * gap_pt) /
        columns;
    const struct fw_xy room = {wide, map_pt};
    const size_t across = gallery->put % columns;
    const size_t down = gallery->put / columns;
    const struct fw_xy at = {FW_SHEET_MARGIN + (double)across * (wide + gap_pt),
                             FW_SHEET_MARGIN + head_pt +
                                 (double)down * cell_pt};
    if (plan) {
        draw_plan(gallery, plan, at, room);
        if (gallery->put == 0)
            put_bar(gallery, plan, room);
    }
    put_words(gallery, score, (struct fw_xy){at.x, at.y + map_pt + 2}, wide);
    gallery->put++;
    fw_plan_free(plan);
    return FW_OK;
}

/* Field after field; what plan takes comes first. */
static enum fw_status put_all(struct gallery *gallery,
                              const struct fw_plan_scores *scores,
                              struct fw_error *err)
{
    enum fw_status status = FW_OK;
    for (size_t f = 0; f < gallery->farm->field_count; f++) {
        gallery->page = NULL;
        for (int rest = 0; rest < 2; rest++)
            for (size_t i = 0; i < scores->count && !status; i++)
                if (scores->items[i].field == f &&
                    scores->items[i].chosen == (rest == 0))
                    status = put_candidate(gallery, &scores->items[i], err);
    }
    return status;
}

enum fw_status fw_sheet__compare_paper(const struct fw_farm *farm,
                                       const struct fw_plan_scores *scores,
                                       struct fw_paper **out,
                                       struct fw_error *err)
{
    struct fw_plan *taken = NULL;
    struct gallery gallery = {.farm = farm};
    enum fw_status status = fw_plan_make(farm, &taken, err);
    gallery.taken = taken;
    if (!status)
        status = fw_paper_new(taken->farm_name, &gallery.paper, err);
    if (!status)
        status = put_all(&gallery, scores, err);
    fw_plan_free(taken);
    if (!status) {
        fw_flow_number_pages(gallery.paper, fw_report_first_words, 7.5);
        if (gallery.paper->failed)
            status = fw_fail_memory(err);
    }
    if (status)
        fw_paper_free(gallery.paper);
    else
        *out = gallery.paper;
    return status;
}

enum fw_status fw_report_compare_drawn(const struct fw_farm *farm,
                                       const struct fw_plan_scores *scores,
                                       const struct fw_report_drawn *how,
                                       char **out, size_t *count,
                                       struct fw_error *err)
{
    struct fw_paper *paper;
    enum fw_status status = fw_sheet__compare_paper(farm, scores, &paper, err);
    if (status)
        return status;
    status = fw_paper_draw(paper, how->svg ? FW_PAPER_SVG : FW_PAPER_PDF,
                           how->epoch_s < 0 ? farm->start_day * 86400LL
                                            : how->epoch_s,
                           out, count, err);
    fw_paper_free(paper);
    return status;
}
