/* The card's own correction: what to look at before a move, and where the
 * fence that is set then goes because of it, from this field's figures by the
 * rule of one look. */
#include "report/report.h"

#include "figures/plan.h"
#include "figures/units.h"
#include "log/log.h"

#include <math.h>
#include <stdio.h>

/* A row: the heights, or the words, for which the fence goes there. */
struct row {
    int from, to; /* in steps of height, or words */
    int paces[2];
    bool all;  /* no fence: all that lies ahead in the block */
    bool ends; /* it would go further on, and the line ends there */
};

enum { most_rows = 9 };

struct table {
    const struct fw_plan *plan;
    size_t left, fence; /* the paddock that is left, the fence that is set */
    struct fw_days_offer offer;
    struct fw_days_when when;
    double share;   /* of its paddock, for a pace on along both sides */
    double most;    /* how large that can be, of the plan's 1 */
    double density; /* kg/ha in a metre; 0: words are looked at, no height */
    double step_m;  /* of height from row to row */
    int meant[2];   /* paces at A and at B */
    struct row rows[most_rows];
    size_t count;
    bool full; /* more rows than there is room for */
};

static bool is_same(const struct row *one, const struct row *other)
{
    if (one->all || other->all)
        return one->all && other->all;
    return one->paces[0] == other->paces[0] && one->paces[1] == other->paces[1];
}

static void add(struct table *table, int at, double left_kg_ha, bool limit)
{
    const struct fw_days_look look = {left_kg_ha, limit, 1, 1};
    const double step = fw_days_rule(&table->offer, &look, &table->when, NULL);
    struct row row = {.from = at, .to = at, .all = 1 + step >= table->most};
    row.ends = fw_log_paces_anew(table->plan, table->fence, step / table->share,
                                 row.paces) == FW_LOG_LINE_ENDS;
    struct row *last = table->count ? &table->rows[table->count - 1] : NULL;
    if (last && is_same(last, &row)) {
        last->to = at;
        return;
    }
    table->full = table->count == most_rows;
    if (!table->full)
        table->rows[table->count++] = row;
}

/* Heights that are not right are taken together where there are too many, and
 * by their lowest, which gives the flock most. */
static int lowest(int height, int last_right, int together)
{
    const int after = last_right < height ? last_right + 1 : 0;
    return after + (height - after) / together * together;
}

static void fill_heights(struct table *table)
{
    const double step_kg_ha = table->step_m * table->density;
    const int most = (int)fmin(table->offer.stands_kg_ha / step_kg_ha, 1000);
    int last_right = most;
    while (last_right > 0 &&
           !fw_days_is_right(&table->offer, last_right * step_kg_ha))
        last_right--;
    for (int together = 1; together <= most; together++) {
        table->count = 0;
        table->full = false;
        for (int i = 1; i <= most && !table->full; i++) {
            const bool right = fw_days_is_right(&table->offer, i * step_kg_ha);
            const int as = right ? i : lowest(i, last_right, together);
            add(table, i, fmax(1, as) * step_kg_ha, false);
        }
        if (!table->full)
            return;
    }
}

static void fill_words(struct table *table, int first, int last)
{
    for (int word = first; word <= last; word++)
        add(table, word, fw_log_word_left(&table->offer, word),
            word == FW_LOG_CLEAN);
}

/* Where most of it is to stay, no word of a look says that it was as meant. */
static void fill_dormant(struct table *table)
{
    const double meant_kg_ha = fw_days_left_kg_ha(&table->offer);
    fill_words(table, FW_LOG_CLEAN, FW_LOG_HALF);
    if (meant_kg_ha > fw_log_word_left(&table->offer, FW_LOG_HALF))
        add(table, FW_LOG_HALF + 1, meant_kg_ha, false);
}

static bool make(struct table *table, const struct fw_plan *plan, size_t move)
{
    *table = (struct table){.plan = plan};
    table->left = move ? fw_plan_move_from(plan, move) : FW_NONE;
    table->fence = fw_log_fence(plan, move, &table->share);
    if (table->left == FW_NONE || table->fence == FW_NONE ||
        !fw_log_paces_anew(plan, table->fence, 0, table->meant))
        return false;
    table->offer = fw_log_offer(plan, table->left);
    if (!(table->offer.stands_kg_ha > 0) || isinf(table->offer.stands_kg_ha))
        return false;
    table->most = fw_log_most(plan, plan->fences[table->fence].from);
    table->when.legume = plan->legume >= FW_LEGUME_SHARE;
    const enum fw_log_said_as as = fw_log_said_as(plan, table->left);
    if (as == FW_LOG_AS_SHARE)
        fill_dormant(table);
    else if (as == FW_LOG_AS_HEIGHT) {
        table->density = fw_log_density(plan, table->left);
        table->step_m = plan->units == FW_US ? FW_INCH_M / 2 : 0.01;
        fill_heights(table);
    } else
        fill_words(table, FW_LOG_SHORT, FW_LOG_LONG);
    return table->count > 0;
}

/* "7 cm", "3.5" */
static const char *height(const struct table *table, int at, bool unit,
                          char text[FW_WORDS])
{
    const bool us = table->plan->units == FW_US;
    const double value = at * table->step_m / (us ? FW_INCH_M : 0.01);
    fw_text_format(text, FW_WORDS, "%.*f%s", us ? 1 : 0, value,
                   !unit ? ""
                   : us  ? " in"
                         : " cm");
    return text;
}

static void say_looks(struct fw_text *line, const struct table *table,
                      const struct row *row)
{
    static const char *const words[] = {"short",   "right",         "long",
                                        "nothing", "some",          "a third",
                                        "half",    "more than half"};
    char from[FW_WORDS], to[FW_WORDS];
    if (!(table->density > 0)) {
        fw_text_add(line, words[row->from]);
        if (row->to > row->from)
            fw_text_addf(line, "%s%s",
                         row->to > row->from + 1 ? " to " : " or ",
                         words[row->to]);
        return;
    }
    const bool first = row == table->rows;
    const bool last = row == table->rows + table->count - 1;
    height(table, row->to, true, to);
    if (first && last)
        fw_text_add(line, "any height");
    else if (first)
        fw_text_addf(line, "%s or less", to);
    else if (last)
        fw_text_addf(line, "%s or more", height(table, row->from, true, from));
    else if (row->from == row->to)
        fw_text_add(line, to);
    else
        fw_text_addf(line, "%s to %s", height(table, row->from, false, from),
                     to);
}

static void say_row(struct fw_text *text, const struct table *table,
                    const struct row *row)
{
    struct fw_text looks = {0};
    say_looks(&looks, table, row);
    const bool meant =
        row->paces[0] == table->meant[0] && row->paces[1] == table->meant[1];
    fw_text_addf(text, "    %-16s ", looks.failed ? "" : looks.bytes);
    if (row->all)
        fw_text_add(text, "no fence: all that is left of the block\n");
    else
        fw_text_addf(text, "%3d at A, %d at B%s\n", row->paces[0],
                     row->paces[1],
                     meant       ? ", as meant"
                     : row->ends ? ", where the line ends"
                                 : "");
    text->failed |= looks.failed;
    fw_text_release(&looks);
}

/* "in paces on from the fence before" */
static const char *counted(const struct fw_plan *plan, size_t fence)
{
    const bool a = fw_log_paces(plan, fence, true).on;
    const bool b = fw_log_paces(plan, fence, false).on;
    return a && b ? "in paces on from the fence before it"
           : a    ? "in paces, A on from the fence before it, B as counted "
                    "above"
           : b    ? "in paces, A as counted above, B on from the fence before "
                    "it"
                  : "in paces as counted above";
}

/* "If nobody comes tomorrow": only where the next paddock is fenced. */
static void say_nobody(struct fw_text *text, const struct fw_plan *plan,
                       size_t move)
{
    struct fw_text line = {0};
    if (!plan->time.moves[move].ahead || move + 1 >= plan->time.move_count ||
        fw_plan_move_to(plan, move + 1) == FW_NONE)
        return;
    const size_t next = fw_plan_move_to(plan, move + 1);
    fw_text_addf(&line,
                 "If nobody comes on the day of the next move: open the way "
                 "into %s tonight as that day's card has it, with the lead "
                 "across so that the line stays hot, and leave it open.",
                 plan->paddocks[next].id);
    fw_text_add(text, "\n");
    fw_report__fold_text(text, 0, &line);
}

void fw_report__correction(struct fw_text *text, const struct fw_plan *plan,
                           size_t move, bool colour)
{
    struct table table;
    if (make(&table, plan, move)) {
        struct fw_text line = {0};
        const struct fw_plan_fence *fence = &plan->fences[table.fence];
        fw_text_add(text, "\n");
        fw_report__heading(text, colour, "BY WHAT THEY LEFT");
        fw_text_addf(&line,
                     "Before you open, look at %s and at their flanks. Then "
                     "set %s, which bounds %s, by what they left, %s:",
                     plan->paddocks[table.left].id, fence->id,
                     plan->paddocks[fence->from].id,
                     counted(plan, table.fence));
        fw_report__fold_text(text, 0, &line);
        for (size_t i = 0; i < table.count; i++)
            say_row(text, &table, &table.rows[i]);
        int hollow[2];
        const struct fw_days_look look = {fw_days_left_kg_ha(&table.offer),
                                          true, 1, 1};
        fw_log_paces_anew(plan, table.fence,
                          fw_days_rule(&table.offer, &look, &table.when, NULL) /
                              table.share,
                          hollow);
        fw_text_addf(&line,
                     "Flanks hollow, whatever they left: %d at A and %d at B "
                     "at least. Once in the rain, or in frost, never less than "
                     "meant.",
                     hollow[0], hollow[1]);
        fw_report__fold_text(text, 0, &line);
    }
    say_nobody(text, plan, move);
}
