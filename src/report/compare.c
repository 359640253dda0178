/* The candidates of each field side by side, as a table and for machines. */
#include "base/text.h"
#include "report/report.h"

#include "figures/units.h"
#include "make/make.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

static const char *short_length(double m, enum fw_units units,
                                char text[FW_WORDS])
{
    fw_text_format(text, FW_WORDS, "%.0f", units == FW_US ? m / FW_FOOT_M : m);
    return text;
}

/* What there is to mind about a candidate, and what the table says of it. */
enum {
    BEYOND = 1,
    BACK = 2,
    KIT = 4,
    CROSSES = 8,
    FAR = 16,
    DRY = 32,
    LOOSE = 64
};

static const struct {
    unsigned mark;
    char letter;
    const char *words;
} marks[] = {
    {BEYOND, '!',
     "! some paddocks or runs break a practical limit (least-width, "
     "longest-shape, two reels a run)."},
    {BACK, '~',
     "~ on some moves the flock walks back over grazed ground or along a "
     "lane."},
    {KIT, '#', "# more stands at once than the farm owns."},
    {CROSSES, 'x', "x they are walked over ungrazed grass on the way in."},
    {DRY, 'd', "d on some nights they have no water."},
    {LOOSE, '-', "- refused: at some step nothing that stands holds them."},
    {FAR, 'f', "f the far end is grazed first: a lane leads there."},
};
enum { mark_count = sizeof marks / sizeof *marks };

static unsigned marks_of(const struct fw_farm *farm,
                         const struct fw_plan_score *score)
{
    return (score->beyond_limits ? BEYOND : 0) | (score->turns ? BACK : 0) |
           (farm->kit_given && !score->fits_kit ? KIT : 0) |
           (score->crossed_m > 0 ? CROSSES : 0) |
           (score->dry_nights ? DRY : 0) | (score->refused ? LOOSE : 0) |
           (score->far_first ? FAR : 0);
}

void fw_report_candidate_marks(struct fw_text *text, const struct fw_farm *farm,
                               const struct fw_plan_score *score)
{
    const unsigned marked = marks_of(farm, score);
    const char *before = "";
    for (size_t i = 0; i < mark_count; i++)
        if (marked & marks[i].mark) {
            fw_text_addf(text, "%s%s", before, marks[i].words);
            before = " ";
        }
}

enum walk { WALKED, BETWEEN, AT_LEAST };

static enum walk walk_told(const struct fw_plan_score *score)
{
    return score->walk_exact              ? WALKED
           : isfinite(score->walk_high_m) ? BETWEEN
                                          : AT_LEAST;
}

/* "57", "57-64", "57+" */
static const char *walk_of(const struct fw_plan_score *score,
                           enum fw_units units, char text[FW_WORDS])
{
    char low[FW_WORDS], high[FW_WORDS];
    const enum walk told = walk_told(score);
    short_length(score->walk_m, units, low);
    short_length(score->walk_high_m, units, high);
    if (told == BETWEEN && strcmp(low, high) != 0)
        fw_text_format(text, FW_WORDS, "%s-%s", low, high);
    else
        fw_text_format(text, FW_WORDS, "%s%s", low,
                       told == AT_LEAST ? "+" : "");
    return text;
}

/* "57 m", "57 m to 64 m", "at least 57 m" */
void fw_report_candidate_walk(struct fw_text *text,
                              const struct fw_plan_score *score,
                              enum fw_units units)
{
    char low[FW_WORDS], high[FW_WORDS];
    const enum walk told = walk_told(score);
    fw_report_length(score->walk_m, units, low);
    fw_report_length(score->walk_high_m, units, high);
    if (told == BETWEEN && strcmp(low, high) != 0)
        fw_text_addf(text, "%s to %s", low, high);
    else
        fw_text_addf(text, "%s%s", told == AT_LEAST ? "at least " : "", low);
}

/* What the table has of those that were not walked. */
static void say_walks(struct fw_text *text, const struct fw_plan_scores *scores)
{
    bool told[] = {[WALKED] = false, [BETWEEN] = false, [AT_LEAST] = false};
    for (size_t i = 0; i < scores->count; i++)
        told[walk_told(&scores->items[i])] = true;
    if (told[BETWEEN])
        fw_report_fold(text, 0,
                       "57-64: to walk all of it would take too long; it is no "
                       "shorter than straight, and no longer than without "
                       "leaving the paddock.");
    if (told[AT_LEAST])
        fw_report_fold(text, 0,
                       "57+: the straight way; how much longer they walk is "
                       "not known.");
}

static void row(struct fw_text *text, const struct fw_plan_score *score,
                unsigned marked, enum fw_units units)
{
    char moved[FW_WORDS], standing[FW_WORDS], wire[FW_WORDS], width[FW_WORDS],
        walk[FW_WORDS], name[40], said[mark_count + 1] = "";
    for (size_t i = 0, n = 0; i < mark_count; i++)
        if (marked & marks[i].mark)
            said[n++] = marks[i].letter;
    snprintf(name, sizeof name, "%s %s", score->layout, said);
    walk_of(score, units, walk);
    /* What is wider than its column takes it from the shape's: 80 in all. */
    const int wider = strlen(walk) > 4 ? (int)strlen(walk) - 4 : 0;
    fw_text_addf(
        text, "%c%c %-15s %3.0f %5s %5s %5d %5d %5s %4.0f %5s %*.1f %4s",
        score->chosen ? '>' : ' ', score->unbeaten ? '*' : ' ', name,
        ceil(score->minutes),
        short_length(score->moved_m / (double)score->paddocks, units, moved),
        short_length(score->standing_m, units, standing), score->kit.reels,
        score->kit.posts, short_length(score->kit.wire_m, units, wire),
        100 * score->lost, short_length(score->width_m, units, width),
        5 - wider, score->elongation, walk);
    if (score->bound_m > 0)
        fw_text_addf(text, " %5.2f\n", score->line_m / score->bound_m);
    else
        fw_text_add(text, "     -\n");
}

/* Of the one that plan takes. */
static void say_walk(struct fw_text *text, const struct fw_plan_score *score)
{
    if (score->chosen && score->walk_exact)
        fw_text_addf(text, "   %s: the way to water is %.2f times its bound.\n",
                     score->layout, score->walk_m / score->walk_bound_m);
}

static void heading(struct fw_text *text, enum fw_units units)
{
    const char *unit = units == FW_US ? "ft" : "m";
    fw_text_addf(text,
                 "   %-15s %3s %5s %5s %5s %5s %5s %4s %5s %5s %4s %5s\n"
                 "   %-15s %3s %5s %5s %5s %5s %5s %4s %5s %5s %4s %5s\n",
                 "layout", "min", "moved", "stand", "reels", "posts", "wire",
                 "lost", "width", "shape", "walk", "fence", "", "", unit, unit,
                 "", "", unit, "%", unit, "1 to", unit, "bound");
}

/* "30 paddocks", "29 to 30 paddocks" */
static void field_heading(struct fw_text *text, const struct fw_farm *farm,
                          const struct fw_plan_scores *scores, size_t first,
                          bool colour)
{
    const size_t field = scores->items[first].field;
    size_t least = scores->items[first].paddocks, most = least;
    for (size_t i = first; i < scores->count && scores->items[i].field == field;
         i++) {
        const size_t paddocks = scores->items[i].paddocks;
        least = paddocks < least ? paddocks : least;
        most = paddocks > most ? paddocks : most;
    }
    struct fw_text words = {0};
    fw_text_addf(&words, "%s: ", farm->fields[field].shape->name);
    if (least < most)
        fw_text_addf(&words, "%zu to ", least);
    fw_text_addf(&words, "%zu paddock%s", most, most == 1 ? "" : "s");
    fw_report__heading_text(text, colour, &words);
    heading(text, farm->units);
}

enum fw_status fw_report_compare(const struct fw_farm *farm,
                                 const struct fw_plan_scores *scores,
                                 bool colour, char **out, struct fw_error *err)
{
    struct fw_text text = {0};
    unsigned all = 0;
    fw_report_first(&text);
    for (size_t i = 0; i < scores->unplanned.count; i++)
        fw_report__no_plan(&text, scores->unplanned.items[i].where,
                           scores->unplanned.items[i].text);
    for (size_t i = 0; i < scores->count; i++) {
        const struct fw_plan_score *score = &scores->items[i];
        const unsigned marked = marks_of(farm, score);
        if (i == 0 || score->field != scores->items[i - 1].field)
            field_heading(&text, farm, scores, i, colour);
        row(&text, score, marked, farm->units);
        all |= marked;
        if (i + 1 == scores->count ||
            scores->items[i + 1].field != score->field)
            for (size_t k = i + 1;
                 k-- > 0 && scores->items[k].field == score->field;)
                say_walk(&text, &scores->items[k]);
    }
    fw_text_add(&text, "\n");
    fw_report_fold(
        &text, 0,
        "> is what plan takes; * none is better in everything. min: minutes a "
        "grazing day, walked from the gate and back, with clearing the field. "
        "moved: fence set a move; stand: block lines and lanes in all. reels, "
        "posts, wire: the most that stands at once. lost: grass on lanes and "
        "aprons. width: of the narrowest paddock; shape: "
        "the longest for its width; walk: to water, on average, over what the "
        "flock has; its bound: the least with so many places of water. "
        "fence/bound: all fence beside the least that any layout could do "
        "with.");
    say_walks(&text, scores);
    for (size_t i = 0; i < mark_count; i++)
        if (all & marks[i].mark)
            fw_report_fold(&text, 0, marks[i].words);
    return fw_report_give(&text, out, NULL, err);
}

static void number(struct fw_text *text, const char *key, double value)
{
    fw_text_addf(text, ", \"%s\": ", key);
    fw_text_add_number(text, value);
}

static void candidate(struct fw_text *text, const struct fw_farm *farm,
                      const struct fw_plan_score *score)
{
    fw_text_add(text, "    {\"layout\": ");
    fw_text_add_json(text, score->layout);
    fw_text_add(text, ", \"pattern\": ");
    fw_text_add_json(text, score->pattern);
    fw_text_add(text, ", \"field\": ");
    fw_text_add_json(text, farm->fields[score->field].shape->name);
    number(text, "paddocks", (double)score->paddocks);
    number(text, "days", score->days);
    number(text, "minutes_per_day", score->minutes);
    number(text, "lost", score->lost);
    fw_text_addf(text, ", \"order\": \"%s\"",
                 score->set_first ? "set-first" : "leapfrog");
    number(text, "fence_m", score->line_m);
    number(text, "moved_m", score->moved_m);
    number(text, "standing_m", score->standing_m);
    number(text, "fence_bound_m", score->bound_m);
    number(text, "reels", score->kit.reels);
    number(text, "posts", score->kit.posts);
    number(text, "wire_m", score->kit.wire_m);
    number(text, "cost", score->cost_known ? score->cost : (double)NAN);
    number(text, "walk_low_m", score->walk_low_m);
    number(text, "walk_m", score->walk_exact ? score->walk_m : (double)NAN);
    number(text, "walk_high_m", score->walk_high_m);
    number(text, "walk_most_m", score->walk_most_m);
    number(text, "walk_bound_m", score->walk_bound_m);
    number(text, "width_m", score->width_m);
    number(text, "elongation", score->elongation);
    number(text, "longest_run_m", score->longest_run_m);
    number(text, "beyond_limits", (double)score->beyond_limits);
    number(text, "walks_back", (double)score->turns);
    number(text, "not_reached", (double)score->apart);
    number(text, "refused", (double)score->refused);
    number(text, "crossed_m", score->crossed_m);
    number(text, "crossings", (double)score->crossings);
    number(text, "dry_nights", (double)score->dry_nights);
    number(text, "unfed", (double)score->unfed);
    number(text, "narrow", (double)score->narrow);
    number(text, "gate_m", score->gate_m);
    number(text, "keep_short", score->keep_short);
    fw_text_addf(text, ", \"far_first\": %s",
                 score->far_first ? "true" : "false");
    if (farm->kit_given)
        fw_text_addf(text, ", \"fits_kit\": %s",
                     score->fits_kit ? "true" : "false");
    else
        fw_text_add(text, ", \"fits_kit\": null");
    fw_text_addf(text, ", \"unbeaten\": %s, \"chosen\": %s}",
                 score->unbeaten ? "true" : "false",
                 score->chosen ? "true" : "false");
}

enum fw_status fw_report_compare_json(const struct fw_farm *farm,
                                      const struct fw_plan_scores *scores,
                                      char **out, struct fw_error *err)
{
    struct fw_text text = {0};
    fw_text_add(&text, "{\n  ");
    fw_report_first_json(&text);
    fw_text_add(&text, ",\n  \"candidates\": [\n");
    for (size_t i = 0; i < scores->count; i++) {
        candidate(&text, farm, &scores->items[i]);
        fw_text_add(&text, i + 1 < scores->count ? ",\n" : "\n");
    }
    fw_text_add(&text, "  ],\n  \"unplanned\": [");
    for (size_t i = 0; i < scores->unplanned.count; i++) {
        fw_text_add(&text, i ? ",\n    {\"field\": " : "\n    {\"field\": ");
        fw_text_add_json(&text, scores->unplanned.items[i].where);
        fw_text_add(&text, ", \"reason\": ");
        fw_text_add_json(&text, scores->unplanned.items[i].text);
        fw_text_add(&text, "}");
    }
    fw_text_add(&text, scores->unplanned.count ? "\n  ]\n}\n" : "]\n}\n");
    return fw_report_give(&text, out, NULL, err);
}
