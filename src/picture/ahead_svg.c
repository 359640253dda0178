/* What is ahead of the flock: the next stays as bars, in the order of grazing.
 * Solid, hatched and outlined tell the parts apart without colour. */
#include "picture/ahead.h"
#include "picture/picture.h"
#include "picture/stockpile_plot.h"
#include "report/report.h"

#include "figures/growth.h"
#include "figures/units.h"

#include <math.h>
#include <string.h>

static const double wide = 900, high = 500, left = 70, right = 870, top = 150,
                    bottom = 420;
enum { dated = 5 }; /* every so many bars */

struct drawing {
    struct fw_text *text;
    const struct fw_plan *plan;
    struct fw_picture__plot plot; /* stays to the right, from 0 */
    double pitch;                 /* from bar to bar */
    double unit_kg;
    bool told;        /* how it grows, of a field at least */
    bool grows, goes; /* a stay's grass until its day */
};

static const struct fw_plan_paddock *paddock_of(const struct fw_plan *plan,
                                                size_t stay)
{
    return &plan->paddocks[plan->time.stays[stay].cell];
}

static double y_of(const struct drawing *drawing, double kg)
{
    return fw_picture__plot_y(&drawing->plot, kg / drawing->unit_kg);
}

static double middle_of(const struct drawing *drawing, size_t bar)
{
    return left + drawing->pitch * ((double)bar + 0.5);
}

/* By more than a sum's last digits. */
static bool is_more(double kg, double than_kg)
{
    return kg > than_kg * (1 + 1e-6);
}

static void look(struct drawing *drawing, size_t count)
{
    const struct fw_plan *plan = drawing->plan;
    for (size_t i = 0; i < plan->field_count; i++)
        drawing->told |= !isnan(plan->fields[i].growth_kg_ha);
    for (size_t i = 0; i < count; i++) {
        const struct fw_plan_paddock *paddock = paddock_of(plan, i);
        drawing->told |= is_more(paddock->usable_kg, paddock->third_kg);
        drawing->grows |= is_more(paddock->usable_kg, paddock->today_kg);
        drawing->goes |= is_more(paddock->today_kg, paddock->usable_kg);
    }
}

/* The first stay that a third of the growth leaves short, or as many as there
 * are in the first round. */
static size_t first_short(const struct fw_plan *plan)
{
    const size_t count = fw_plan_first_stays(plan);
    size_t i = 0;
    while (i < count &&
           paddock_of(plan, i)->third_kg >=
               FW_GROWTH_SHORT_SHARE * paddock_of(plan, i)->demand_kg)
        i++;
    return i;
}

static int enters(const struct fw_plan *plan, size_t stay)
{
    return plan->time.stays[stay].enter;
}

static int day_number(const struct fw_plan *plan, size_t stay)
{
    return enters(plan, stay) - plan->start_day + 1;
}

/* ---- bars ---- */

static void part(const struct drawing *drawing, size_t bar, double from_kg,
                 double to_kg, const char *style)
{
    const double y = y_of(drawing, to_kg);
    fw_text_addf(drawing->text,
                 "    <rect x=\"%.1f\" y=\"%.2f\" width=\"%.1f\" "
                 "height=\"%.2f\" %s/>\n",
                 middle_of(drawing, bar) - 0.3 * drawing->pitch, y,
                 0.6 * drawing->pitch, y_of(drawing, from_kg) - y, style);
}

#define STANDS "fill=\"#4a5a3c\" stroke=\"#222222\""
#define GROWS "fill=\"url(#grows)\" stroke=\"#222222\""
#define GOES "fill=\"none\" stroke=\"#222222\" stroke-dasharray=\"3 2\""

static void need(struct fw_text *text, double x, double y, double length)
{
    fw_text_addf(text,
                 "    <path d=\"M%.1f %.2f h%.1f\" stroke=\"#ffffff\" "
                 "stroke-width=\"4\"/>\n"
                 "    <path d=\"M%.1f %.2f h%.1f\" stroke=\"#000000\" "
                 "stroke-width=\"2.5\"/>\n",
                 x, y, length, x, y, length);
}

static void third(struct fw_text *text, double x, double y)
{
    fw_text_addf(text,
                 "    <circle cx=\"%.1f\" cy=\"%.2f\" r=\"4\" fill=\"#ffffff\" "
                 "stroke=\"#000000\" stroke-width=\"1.5\"/>\n",
                 x, y);
}

static void bar_of(const struct drawing *drawing, size_t i)
{
    const struct fw_plan *plan = drawing->plan;
    const struct fw_plan_paddock *paddock = paddock_of(plan, i);
    const double stands = fmin(paddock->today_kg, paddock->usable_kg);
    char day[FW_WORDS];
    fw_text_addf(drawing->text, "  <g><title>%s, %s</title>\n", paddock->id,
                 fw_report_day(enters(plan, i), true, day));
    part(drawing, i, 0, stands, STANDS);
    if (is_more(paddock->usable_kg, stands))
        part(drawing, i, stands, paddock->usable_kg, GROWS);
    if (is_more(paddock->today_kg, stands))
        part(drawing, i, stands, paddock->today_kg, GOES);
    need(drawing->text, middle_of(drawing, i) - 0.45 * drawing->pitch,
         y_of(drawing, paddock->demand_kg), 0.9 * drawing->pitch);
    if (drawing->told)
        third(drawing->text, middle_of(drawing, i),
              y_of(drawing, paddock->third_kg));
    fw_text_add(drawing->text, "  </g>\n");
}

/* Each bar's paddock where the names have room, else as often as the days. */
static void below(const struct drawing *drawing, size_t count)
{
    const double letter = 6.5;
    size_t longest = 0;
    char day[FW_WORDS];
    for (size_t i = 0; i < count; i++) {
        const size_t length = strlen(paddock_of(drawing->plan, i)->id);
        longest = length > longest ? length : longest;
    }
    const bool all = (double)(longest + 1) * letter < drawing->pitch;
    for (size_t i = 0; i < count; i++) {
        const double x = middle_of(drawing, i);
        if (all || i % dated == 0)
            fw_picture__svg_words(drawing->text, x, bottom + 15,
                                  "text-anchor=\"middle\" font-size=\"10\"",
                                  paddock_of(drawing->plan, i)->id);
        if (i % dated == 0)
            fw_picture__svg_words(
                drawing->text, x, bottom + 33,
                "text-anchor=\"middle\" font-size=\"12\"",
                fw_report_day(enters(drawing->plan, i), false, day));
    }
}

/* ---- words ---- */

/* One after the other from *x on, `room` wide. */
static void sample(const struct drawing *drawing, double *x, double room,
                   const char *style, const char *words)
{
    const double y = top - 44;
    if (style)
        fw_text_addf(drawing->text,
                     "  <rect x=\"%.1f\" y=\"%.1f\" width=\"20\" "
                     "height=\"12\" %s/>\n",
                     *x, y - 6, style);
    fw_picture__svg_words(drawing->text, *x + 26, y + 4, "font-size=\"12\"",
                          words);
    *x += room;
}

static void legend(const struct drawing *drawing)
{
    double x = left;
    sample(drawing, &x, 160, STANDS,
           drawing->goes ? "left by its day" : "may be taken today");
    if (drawing->grows)
        sample(drawing, &x, 155, GROWS, "grows until its day");
    if (drawing->goes)
        sample(drawing, &x, 150, GOES, "gone by its day");
    need(drawing->text, x, top - 44, 20);
    sample(drawing, &x, 165, NULL, "what they need there");
    if (!drawing->told)
        return;
    third(drawing->text, x + 10, top - 44);
    sample(drawing, &x, 0, NULL, "if growth falls to a third");
}

/* When to slow down. */
static void slow(const struct drawing *drawing, char *words, size_t size)
{
    const struct fw_plan *plan = drawing->plan;
    const size_t i = first_short(plan);
    char day[FW_WORDS];
    if (!drawing->told)
        fw_text_format(words, size,
                       drawing->goes
                           ? "No growth is told: dashed is what is gone by "
                             "the stay's day."
                           : "No growth is told: each bar is what stands there "
                             "today.");
    else if (i < fw_plan_first_stays(plan))
        fw_text_format(
            words, size,
            "If growth falls to a third: slow down before day %d (%s), %s "
            "then holds %.0f %% of what they need.",
            day_number(plan, i), fw_report_day(enters(plan, i), false, day),
            paddock_of(plan, i)->id,
            floor(100 * paddock_of(plan, i)->third_kg /
                  paddock_of(plan, i)->demand_kg));
    else
        fw_text_format(words, size,
                       "If growth falls to a third, each stay still has %.0f "
                       "%% of what they need.",
                       100 * FW_GROWTH_SHORT_SHARE);
}

static void titles(const struct drawing *drawing, size_t count)
{
    const struct fw_plan *plan = drawing->plan;
    char name[48], day[FW_WORDS], words[FW_WORDS * 4];
    fw_text_format(words, sizeof words, "What is ahead: %s",
                   fw_text_clip(plan->farm_name, name, sizeof name));
    fw_picture__svg_words(drawing->text, left, 26,
                          "font-size=\"17\" font-weight=\"bold\"", words);
    fw_text_format(words, sizeof words,
                   "%zu of %zu stays from %s on, in the order of grazing. "
                   "Dry matter, %s:",
                   count, fw_plan_first_stays(plan),
                   fw_report_day(plan->start_day, true, day),
                   plan->units == FW_US ? "lb" : "kg");
    fw_picture__svg_words(drawing->text, left, 48, "font-size=\"13\"", words);
    slow(drawing, words, sizeof words);
    fw_picture__svg_words(drawing->text, left, 70,
                          "font-size=\"13\" font-weight=\"bold\"", words);
}

/* Where to slow down, with its words on a row of its own above the bars. */
static void mark(const struct drawing *drawing, size_t count)
{
    const size_t i = first_short(drawing->plan);
    char words[FW_WORDS];
    if (!drawing->told || i >= count)
        return;
    const double x = left + drawing->pitch * (double)i;
    const bool before = x > (left + right) / 2;
    fw_text_addf(drawing->text,
                 "  <path d=\"M%.1f %.1f V%.1f\" stroke=\"#000000\" "
                 "stroke-dasharray=\"6 3\"/>\n",
                 x, top - 22, bottom);
    fw_text_format(words, sizeof words, "slow down before day %d",
                   day_number(drawing->plan, i));
    fw_picture__svg_words(drawing->text, before ? x - 5 : x + 5, top - 10,
                          before ? "text-anchor=\"end\" font-size=\"12\""
                                 : "font-size=\"12\"",
                          words);
}

static double most_of(const struct fw_plan *plan, size_t count)
{
    double most = 1e-3;
    for (size_t i = 0; i < count; i++) {
        const struct fw_plan_paddock *paddock = paddock_of(plan, i);
        most = fmax(most, fmax(fmax(paddock->today_kg, paddock->usable_kg),
                               fmax(paddock->third_kg, paddock->demand_kg)));
    }
    return 1.08 * most;
}

static void draw(const struct fw_plan *plan, struct fw_text *text)
{
    const size_t first = fw_plan_first_stays(plan);
    const size_t count =
        first < FW_REPORT_AHEAD_STAYS ? first : FW_REPORT_AHEAD_STAYS;
    struct drawing drawing = {
        .text = text,
        .plan = plan,
        .pitch = fmin((right - left) / (double)count, 60),
        .unit_kg = plan->units == FW_US ? FW_POUND_KG : 1,
    };
    look(&drawing, count);
    drawing.plot = (struct fw_picture__plot){
        left, right, top, bottom, 0, 1, most_of(plan, count) / drawing.unit_kg};
    fw_text_add(text,
                "  <defs><pattern id=\"grows\" width=\"5\" height=\"5\" "
                "patternUnits=\"userSpaceOnUse\" "
                "patternTransform=\"rotate(45)\"><rect width=\"5\" "
                "height=\"5\" fill=\"#ffffff\"/><path d=\"M1 0 V5\" "
                "stroke=\"#333333\" stroke-width=\"1.5\"/></pattern></defs>\n");
    fw_picture__plot_ground(text, &drawing.plot);
    for (size_t i = 0; i < count; i++)
        bar_of(&drawing, i);
    below(&drawing, count);
    titles(&drawing, count);
    legend(&drawing);
    mark(&drawing, count);
}

enum fw_status fw_report_ahead_svg(const struct fw_plan *plan, char **out,
                                   size_t *bytes, struct fw_error *err)
{
    struct fw_text text = {0};
    const struct fw_plan ahead = fw_plan_ahead(plan);
    fw_picture__svg_begin(&text, FW_REPORT_AHEAD_BEGIN, wide, high);
    if (fw_picture__is_winter(&ahead))
        fw_picture__winter_svg(&ahead, &text);
    else
        draw(&ahead, &text);
    fw_text_add(&text, "</svg>\n");
    return fw_report_give(&text, out, bytes, err);
}
