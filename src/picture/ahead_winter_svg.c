/* The winter's grass ahead: what is left above the stop height, day by day, and
 * what else may be known of it today. */
#include "picture/ahead.h"
#include "picture/stockpile_plot.h"
#include "report/report.h"

#include "figures/growth.h"
#include "figures/units.h"

#include <ctype.h>
#include <math.h>

/* On the right there is room for the words of the last day. */
static const double left = 70, right = 730, top = 160, bottom = 430;
enum { beyond_days = 7 };

struct drawing {
    struct fw_text *text;
    const struct fw_plan *plan;
    struct fw_picture__left ways[FW_REPORT_LEFT_WAYS];
    struct fw_picture__plot plot;
    double unit_kg;
    int spring_day;
};

static int end_of(const struct drawing *drawing, enum fw_report_left_way way)
{
    return drawing->plan->start_day + drawing->ways[way].days;
}

static int spring_after(const struct fw_plan *plan)
{
    int day = plan->start_day;
    while (!fw_forage_is_warm(day, plan->fields[0].plane.centre.lat_deg))
        day++;
    return day;
}

static int last_day(const struct drawing *drawing)
{
    const struct fw_plan *plan = drawing->plan;
    const int most = plan->start_day + FW_REPORT_LEFT_DAYS - 1;
    int last = end_of(drawing, FW_REPORT_LEFT_MOST);
    if (drawing->spring_day > last)
        last = drawing->spring_day;
    if (plan->lambing_day > last)
        last = plan->lambing_day;
    return last + beyond_days < most ? last + beyond_days : most;
}

/* ---- lines ---- */

static void place(const struct drawing *drawing, enum fw_report_left_way way,
                  int day, const char *before)
{
    fw_text_addf(
        drawing->text, "%s%.1f %.2f", before,
        fw_picture__plot_x(&drawing->plot, drawing->plan->start_day + day),
        fw_picture__plot_y(&drawing->plot,
                           drawing->ways[way].kg[day] / drawing->unit_kg));
}

static void line(const struct drawing *drawing, enum fw_report_left_way way,
                 const char *id, const char *style)
{
    fw_text_addf(drawing->text, "  <path id=\"%s\" d=\"", id);
    for (int day = 0; day <= drawing->ways[way].days; day++)
        place(drawing, way, day, day ? " L" : "M");
    fw_text_addf(drawing->text, "\" fill=\"none\" %s/>\n", style);
}

static void band(const struct drawing *drawing)
{
    const int least = drawing->ways[FW_REPORT_LEFT_LEAST].days;
    const int most = drawing->ways[FW_REPORT_LEFT_MOST].days;
    fw_text_add(drawing->text, "  <path d=\"");
    for (int day = 0; day <= most; day++)
        place(drawing, FW_REPORT_LEFT_MOST, day, day ? " L" : "M");
    for (int day = least; day >= 0; day--)
        place(drawing, FW_REPORT_LEFT_LEAST, day, " L");
    fw_text_add(drawing->text, " Z\" fill=\"#e4e4da\"/>\n");
}

/* ---- days ---- */

struct flag {
    int day;
    const char *words, *colour;
};

static bool is_shown(const struct drawing *drawing, const struct flag *flag)
{
    return flag->day >= drawing->plot.first_day &&
           flag->day <= drawing->plot.last_day;
}

/* A line of one day, with its words on the right of it, on a row above. */
static void draw_flag(const struct drawing *drawing, const struct flag *flag,
                      size_t row)
{
    char label[FW_WORDS * 2], when[FW_WORDS], style[96];
    const double x = fw_picture__plot_x(&drawing->plot, flag->day);
    const double y = top - 8 - 14 * (double)row;
    fw_text_addf(drawing->text,
                 "  <path d=\"M%.1f %.1f V%.1f\" stroke=\"%s\" "
                 "stroke-dasharray=\"6 3\"/>\n",
                 x, y - 8, bottom, flag->colour);
    fw_text_format(style, sizeof style, "font-size=\"12\" fill=\"%s\"",
                   flag->colour);
    fw_text_format(label, sizeof label, "%s %s", flag->words,
                   fw_report_day(flag->day, false, when));
    fw_picture__svg_words(drawing->text, x + 4, y, style, label);
}

/* The later the lower: no line goes through the words of another. */
static void draw_flags(const struct drawing *drawing, const struct flag *flags,
                       size_t count)
{
    for (size_t i = 0; i < count; i++) {
        size_t row = 0;
        for (size_t k = 0; k < count; k++)
            row += is_shown(drawing, &flags[k]) &&
                   (flags[k].day > flags[i].day ||
                    (flags[k].day == flags[i].day && k > i));
        if (is_shown(drawing, &flags[i]))
            draw_flag(drawing, &flags[i], row);
    }
}

/* ---- words ---- */

/* How long until there is grass again, and what they need until then, to the
 * next hundred. */
static void gap(const struct drawing *drawing, struct fw_text *words)
{
    const struct fw_plan *plan = drawing->plan;
    const int end = end_of(drawing, FW_REPORT_LEFT_PLAN);
    const int days = drawing->spring_day - end;
    if (days <= 0)
        return;
    const double eaten = days * plan->flock.demand_kg_day / drawing->unit_kg;
    fw_text_addf(words,
                 ", %d days before spring: about %.0f %s of other feed until "
                 "then",
                 days, 100 * ceil(eaten / 100),
                 plan->units == FW_US ? "lb" : "kg");
}

/* Of all fields, the least and the most; "missouri" where one place was told.
 */
static void range(const struct fw_plan *plan, struct fw_text *words)
{
    const char *where = plan->fields[0].winter_place;
    double least = 1, most = 0;
    for (size_t i = 0; i < plan->field_count; i++) {
        least = fmin(least, plan->fields[i].winter_least_share);
        most = fmax(most, plan->fields[i].winter_most_share);
    }
    fw_text_addf(words, "Shaded: the eye %.0f %% out, winter taking ",
                 100 * FW_GROWTH_OFF_SHARE);
    if (most > least)
        fw_text_addf(words, "%.0f to ", 100 * least);
    fw_text_addf(words, "%.0f %%", 100 * most);
    if (where[0]) /* a place has a capital, which the word for it lacks */
        fw_text_addf(words, " as in %c%s", toupper((unsigned char)where[0]),
                     where + 1);
    if (most > least && !where[0])
        fw_text_add(words, " (not told: none counted)");
}

static void titles(const struct drawing *drawing)
{
    const struct fw_plan *plan = drawing->plan;
    const int end = end_of(drawing, FW_REPORT_LEFT_PLAN);
    char name[48], day[FW_WORDS], other[FW_WORDS], words[FW_WORDS * 4];
    struct fw_text ends = {0}, may = {0};
    fw_text_format(words, sizeof words, "What is ahead: %s",
                   fw_text_clip(plan->farm_name, name, sizeof name));
    fw_picture__svg_words(drawing->text, left, 26,
                          "font-size=\"17\" font-weight=\"bold\"", words);
    fw_text_format(words, sizeof words,
                   "Winter's grass above the stop height that is left, from %s "
                   "on. Dry matter, %s:",
                   fw_report_day(plan->start_day, true, day),
                   plan->units == FW_US ? "lb" : "kg");
    fw_picture__svg_words(drawing->text, left, 48, "font-size=\"13\"", words);
    fw_text_addf(&ends, "It ends on %s", fw_report_day(end, true, day));
    gap(drawing, &ends);
    range(plan, &may);
    fw_text_addf(
        &may, "; it may end from %s to %s.",
        fw_report_day(end_of(drawing, FW_REPORT_LEFT_LEAST), false, day),
        fw_report_day(end_of(drawing, FW_REPORT_LEFT_MOST), false, other));
    fw_text_add(&ends, ".");
    fw_picture__svg_words(drawing->text, left, 70,
                          "font-size=\"13\" font-weight=\"bold\"",
                          ends.bytes ? ends.bytes : "");
    fw_picture__svg_words(drawing->text, left, 92, "font-size=\"13\"",
                          may.bytes ? may.bytes : "");
    drawing->text->failed |= ends.failed || may.failed;
    fw_text_release(&ends);
    fw_text_release(&may);
}

void fw_picture__winter_svg(const struct fw_plan *plan, struct fw_text *text)
{
    struct drawing drawing = {
        .text = text,
        .plan = plan,
        .unit_kg = plan->units == FW_US ? FW_POUND_KG : 1,
        .spring_day = spring_after(plan),
    };
    for (int way = 0; way < FW_REPORT_LEFT_WAYS; way++)
        fw_picture__left(plan, (enum fw_report_left_way)way,
                         &drawing.ways[way]);
    drawing.plot = (struct fw_picture__plot){
        left,
        right,
        top,
        bottom,
        plan->start_day,
        last_day(&drawing),
        1.05 * fmax(1e-3, drawing.ways[FW_REPORT_LEFT_MOST].kg[0]) /
            drawing.unit_kg};
    band(&drawing);
    fw_picture__plot_ground(text, &drawing.plot);
    fw_picture__plot_months(text, &drawing.plot);
    line(&drawing, FW_REPORT_LEFT_MOST, "most",
         "stroke=\"#666666\" stroke-dasharray=\"2 3\"");
    line(&drawing, FW_REPORT_LEFT_LEAST, "least",
         "stroke=\"#666666\" stroke-dasharray=\"2 3\"");
    line(&drawing, FW_REPORT_LEFT_PLAN, "left",
         "stroke=\"#222222\" stroke-width=\"2.5\"");
    const struct flag flags[] = {
        {end_of(&drawing, FW_REPORT_LEFT_PLAN), "ends", "#222222"},
        {drawing.spring_day, "spring grass", "#3d6b1f"},
        {plan->lambing_day, "lambing", "#8f2f5f"}};
    draw_flags(&drawing, flags, sizeof flags / sizeof *flags);
    titles(&drawing);
}
