/* The pocket card: what comes before the first day, a day to a page, the week
 * in words. Small enough for a breast pocket, in letters that a headlamp
 * reads. */
#include "sheet/card.h"

#include "base/alloc.h"
#include "base/fail.h"
#include "report/report.h"
#include "sheet/paper.h"
#include "sheet/sheet.h"

#include <string.h>

/* A6, or 4 by 6 inches. */
static struct fw_xy size_of(const struct fw_plan *plan)
{
    const struct fw_xy a6 = {105 * FW_PAPER_MM, 148 * FW_PAPER_MM};
    const struct fw_xy index_card = {4 * FW_PAPER_INCH, 6 * FW_PAPER_INCH};
    return plan->units == FW_US ? index_card : a6;
}

/* The moves of seven days. */
static size_t end_of_week(const struct fw_plan *plan, size_t first)
{
    const int week = 7;
    size_t end = first;
    while (end < plan->time.move_count &&
           plan->time.moves[end].day < plan->time.moves[first].day + week)
        end++;
    return end;
}

/* Each day as it is before its first step. */
static enum fw_status put_days(struct fw_flow *flow,
                               const struct fw_card_asked *of, size_t end,
                               const struct fw_today *today,
                               struct fw_error *err)
{
    const struct fw_plan *plan = of->plan;
    const size_t first = of->move;
    struct fw_plan__days days;
    enum fw_status status = fw_plan__days_init(&days, plan, err);
    if (status)
        return status;
    for (size_t i = first; i < end; i++) {
        if (i > 0)
            fw_replay_to_move(&days.replay, i - 1);
        struct fw_card_day day = {.plan = plan,
                                  .move = i,
                                  .stands = days.replay.stands,
                                  .today =
                                      i == first && of->weather ? today : NULL};
        day.ground = fw_replay_ground(&days.replay, &day.ground_count);
        fw_card_day(flow, &day);
    }
    fw_plan__days_release(&days);
    return FW_OK;
}

static enum fw_status paper_of(const struct fw_card_asked *of,
                               const struct fw_today *today,
                               struct fw_paper **out, struct fw_error *err)
{
    const struct fw_plan *plan = of->plan;
    const size_t move = of->move;
    struct fw_paper *paper;
    enum fw_status status = fw_paper_new(plan->farm_name, &paper, err);
    if (status)
        return status;
    struct fw_flow flow = {
        .paper = paper,
        .size = size_of(plan),
        .margin = FW_CARD_MARGIN,
        .foot = FW_CARD_FOOT,
        .size_pt = FW_CARD_SIZE,
    };
    const size_t end = end_of_week(plan, move);
    if (move == 0)
        fw_card_before(&flow, plan);
    status = put_days(&flow, of, end, today, err);
    if (!status) {
        fw_card_tank(&flow, plan, move, end);
        fw_card_week(&flow, plan, move, end);
        fw_flow_number_pages(paper, plan->farm_name, FW_CARD_SIZE);
        if (paper->failed)
            status = fw_fail_memory(err);
    }
    if (status)
        fw_paper_free(paper);
    else
        *out = paper;
    return status;
}

static enum fw_status card_paper(const struct fw_card_asked *of,
                                 struct fw_paper **out, struct fw_error *err)
{
    struct fw_today today = {0};
    enum fw_status status =
        of->weather ? fw_today(of->plan, of->move, of->weather, &today, err)
                    : FW_OK;
    if (!status)
        status = paper_of(of, &today, out, err);
    fw_today_release(&today);
    return status;
}

enum fw_status fw_sheet__card_paper(const struct fw_plan *plan, size_t move,
                                    struct fw_paper **out, struct fw_error *err)
{
    const struct fw_card_asked of = {plan, move, NULL};
    return card_paper(&of, out, err);
}

enum fw_status fw_sheet_card(const struct fw_card_asked *of, long long epoch_s,
                             char **out, size_t *count, struct fw_error *err)
{
    const struct fw_plan *plan = of->plan;
    if (of->move >= plan->time.move_count)
        return fw_fail(err, FW_EUSAGE, "move %zu of %zu: there is none",
                       of->move, plan->time.move_count);
    struct fw_paper *paper;
    enum fw_status status = card_paper(of, &paper, err);
    if (status)
        return status;
    status = fw_paper_draw(paper, FW_PAPER_PDF,
                           epoch_s < 0 ? plan->start_day * 86400LL : epoch_s,
                           out, count, err);
    fw_paper_free(paper);
    return status;
}

enum fw_status fw_report_card(const struct fw_plan *plan, size_t move,
                              long long epoch_s, char **out, size_t *count,
                              struct fw_error *err)
{
    if (!plan || !out || !count)
        return fw_fail_null(err, "a plan, or where its card goes,");
    const struct fw_card_asked of = {plan, move, NULL};
    return fw_sheet_card(&of, epoch_s, out, count, err);
}
