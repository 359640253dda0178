/* The day of the last removal against mass, quality and days, for this flock;
 * solid where the line was measured, dotted beyond. */
#include "report/stockpile.h"

#include "figures/units.h"
#include "picture/stockpile_plot.h"
#include "report/report.h"

#include <math.h>
#include <string.h>

static const double wide = 760, left = 70, right = 740, panel = 140, gap = 34;
static const double first_panel = 140; /* its top */
enum { panels = 3 };

static const char *const colours[] = {"#3d6b1f", "#b3541e", "#2f4f8f"};
static const char main_colour[] = "#333333", other_colour[] = "#a0a0a0";
static const char *const short_words[] = {"dry", "early in lamb",
                                          "late in lamb"};

struct drawing {
    struct fw_text *text;
    const struct fw_winter *winter;
    struct fw_picture__plot plots[panels];
};

static double in_units(const struct fw_winter *winter, double kg)
{
    return winter->farm->units == FW_US ? kg / FW_POUND_KG / 1000 : kg / 1000;
}

/* What a panel shows of one closing; the first one by the other line too, the
 * third one by class. */
enum { other = 4 };
static double value_of(const struct drawing *drawing,
                       const struct fw_winter_closing *closing, int which,
                       int class)
{
    const struct fw_winter_row *row = &closing->row;
    if (class == other)
        return in_units(drawing->winter,
                        closing->other_kg_ha * drawing->winter->area_ha);
    return which == 0   ? in_units(drawing->winter, row->stand.mass_kg_ha *
                                                        drawing->winter->area_ha)
           : which == 1 ? 100 * row->stand.digest
                        : row->fed[class].days_at_need;
}

static bool is_measured(const struct fw_winter_closing *closing, int class)
{
    return class == other ? closing->other_measured : closing->measured;
}

static void line(const struct drawing *drawing, int which, int class,
                 const char *colour)
{
    const struct fw_winter *winter = drawing->winter;
    const struct fw_picture__plot *plot = &drawing->plots[which];
    struct fw_text *text = drawing->text;
    for (size_t i = 0; i + 1 < winter->closing_count;) {
        const bool measured = is_measured(&winter->closings[i], class);
        size_t end = i + 1;
        while (end + 1 < winter->closing_count &&
               is_measured(&winter->closings[end], class) == measured)
            end++;
        fw_text_add(text, "  <path d=\"");
        for (size_t k = i; k <= end; k++)
            fw_text_addf(
                text, "%s%.1f %.1f", k == i ? "M" : " L",
                fw_picture__plot_x(plot, winter->closings[k].day),
                fw_picture__plot_y(plot, value_of(drawing, &winter->closings[k],
                                                  which, class)));
        fw_text_addf(text,
                     "\" fill=\"none\" stroke=\"%s\" stroke-width=\"2.5\"%s/>"
                     "\n",
                     colour, measured ? "" : " stroke-dasharray=\"2 5\"");
        i = end;
    }
}

static double greatest(const struct drawing *drawing, int which)
{
    double most = which == 2 ? drawing->winter->farm->stockpile.days : 0;
    for (size_t i = 0; i < drawing->winter->closing_count; i++)
        for (int k = 0; k < (which == 2 ? panels : 1); k++)
            most = fmax(most, value_of(drawing, &drawing->winter->closings[i],
                                       which, k));
    for (size_t i = 0; which == 0 && i < drawing->winter->closing_count; i++)
        most = fmax(most,
                    value_of(drawing, &drawing->winter->closings[i], 0, other));
    return 1.1 * most;
}

/* A line of one day through each panel, but not through what is written between
 * them; its words on a row of its own above. */
static void mark(const struct drawing *drawing, int day, int at,
                 const char *words, const char *colour)
{
    const struct fw_picture__plot *top = &drawing->plots[0];
    char label[FW_WORDS * 2], when[FW_WORDS], style[96];
    if (day < top->first_day || day > top->last_day)
        return;
    const double x = fw_picture__plot_x(top, day);
    const double y = first_panel - 38 + 14 * at;
    fw_text_addf(drawing->text, "  <path d=\"M%.1f %.1f V%.1f", x, y - 8,
                 top->bottom);
    for (int i = 1; i < panels; i++)
        fw_text_addf(drawing->text, " M%.1f %.1f V%.1f", x,
                     drawing->plots[i].top, drawing->plots[i].bottom);
    fw_text_addf(drawing->text, "\" stroke=\"%s\" stroke-dasharray=\"6 3\"/>\n",
                 colour);
    const bool before = x > (left + right) / 2;
    fw_text_format(style, sizeof style,
                   "text-anchor=\"%s\" font-size=\"12\" fill=\"%s\"",
                   before ? "end" : "start", colour);
    fw_text_format(label, sizeof label, "%s %s", words,
                   fw_report_stock_day(day, when));
    fw_picture__svg_words(drawing->text, before ? x - 4 : x + 4, y, style,
                          label);
}

static void shade(const struct drawing *drawing)
{
    const struct fw_winter *winter = drawing->winter;
    size_t first, last;
    if (!fw_winter_window(winter, winter->class, &first, &last))
        return;
    const struct fw_picture__plot *top = &drawing->plots[0];
    const double from = fw_picture__plot_x(top, winter->closings[first].day);
    const double to = fw_picture__plot_x(top, winter->closings[last].day);
    fw_text_addf(drawing->text,
                 "  <rect x=\"%.1f\" y=\"%.1f\" width=\"%.1f\" "
                 "height=\"%.1f\" fill=\"#dcebc8\"/>\n",
                 from, top->top, fmax(to - from, 2),
                 drawing->plots[panels - 1].bottom - top->top);
}

/* What a line looks like, and what it is. */
static void sample(const struct drawing *drawing, double x, double y,
                   const char *colour, const char *words)
{
    fw_text_addf(drawing->text,
                 "  <path d=\"M%.1f %.1f h22\" stroke=\"%s\" "
                 "stroke-width=\"2.5\"/>\n",
                 x, y, colour);
    fw_picture__svg_words(drawing->text, x + 27, y + 4, "font-size=\"12\"",
                          words);
}

static void titles(const struct drawing *drawing)
{
    const struct fw_winter *winter = drawing->winter;
    const enum fw_units units = winter->farm->units;
    struct fw_text *text = drawing->text;
    char words[200], area[FW_WORDS], day[FW_WORDS];
    size_t first, last;
    fw_picture__svg_words(text, left, 24,
                          "font-size=\"17\" font-weight=\"bold\"",
                          "When to take the last of it");
    fw_text_format(words, sizeof words,
                   "all %s closed on one day: what %.0f sheep find there on %s",
                   fw_report_area(winter->area_ha, units, area),
                   winter->flock.head,
                   fw_report_stock_day(winter->middle_day, day));
    fw_picture__svg_words(text, left, 43, "font-size=\"13\"", words);
    if (fw_winter_window(winter, winter->class, &first, &last))
        fw_text_format(
            words, sizeof words, "green: %d days for %s on grass alone",
            winter->farm->stockpile.days, fw_report_class_words[winter->class]);
    else
        fw_text_format(
            words, sizeof words, "no day gives %d days for %s on grass alone",
            winter->farm->stockpile.days, fw_report_class_words[winter->class]);
    fw_picture__svg_words(text, left, 60, "font-size=\"13\" fill=\"#3d6b1f\"",
                          words);
    const char *heads[panels] = {units == FW_US ? "stands, 1000 lb"
                                                : "stands, t",
                                 "digestible, %", "days on grass alone:"};
    for (int i = 0; i < panels; i++)
        fw_picture__svg_words(text, left, drawing->plots[i].top - (i ? 7 : 54),
                              "font-size=\"13\" font-weight=\"bold\"",
                              heads[i]);
    for (int k = 0; k < panels; k++)
        sample(drawing, left + 160 + 120 * k, drawing->plots[2].top - 11,
               colours[k], short_words[k]);
    const double y = drawing->plots[0].top - 58;
    sample(drawing, left + 160, y, main_colour,
           winter->farm->stockpile.winter.line->word);
    if (winter->other_line)
        sample(drawing, left + 310, y, other_colour, winter->other_line->word);
}

/* The days that are wanted: a line at their number, and where they lie. */
static void wanted(const struct drawing *drawing)
{
    const struct fw_winter *winter = drawing->winter;
    const struct fw_picture__plot *plot = &drawing->plots[2];
    const double y = fw_picture__plot_y(plot, winter->farm->stockpile.days);
    const double from =
        fw_picture__plot_x(plot, winter->farm->stockpile.from_day);
    const double to = fw_picture__plot_x(plot, winter->last_day);
    fw_text_addf(drawing->text,
                 "  <path d=\"M%.1f %.1f H%.1f\" stroke=\"#666666\" "
                 "stroke-dasharray=\"8 4\"/>\n"
                 "  <rect x=\"%.1f\" y=\"%.1f\" width=\"%.1f\" height=\"10\" "
                 "fill=\"#bbbbbb\"/>\n",
                 left, y, right, from, plot->bottom - 12, to - from);
    fw_picture__svg_words(drawing->text, (from + to) / 2, plot->bottom - 18,
                          "text-anchor=\"middle\" font-size=\"12\"",
                          "wanted then");
}

/* Each part's last removal on a row of its own below the months. */
static void parts(const struct drawing *drawing)
{
    const struct fw_winter *winter = drawing->winter;
    const struct fw_picture__plot *plot = &drawing->plots[2];
    for (size_t i = 0; i < winter->part_count; i++) {
        const int day = winter->parts[i].middle.stand.closed_day;
        const int shown = day < plot->first_day ? plot->first_day : day;
        const double x = fw_picture__plot_x(plot, shown);
        const double y = plot->bottom + 36 + 17 * (double)i;
        const bool before = x > left + 0.45 * (right - left);
        char words[FW_WORDS * 3], when[FW_WORDS], name[28];
        fw_text_format(
            words, sizeof words, "%s closed %s",
            fw_text_clip(winter->parts[i].part->name, name, sizeof name),
            fw_report_stock_day(day, when));
        fw_text_addf(drawing->text,
                     "  <path d=\"M%.1f %.1f l5 9 h-10 z\" "
                     "fill=\"#333333\"/>\n",
                     x, y - 10);
        fw_picture__svg_words(drawing->text, before ? x - 9 : x + 9, y,
                              before ? "text-anchor=\"end\" font-size=\"12\""
                                     : "font-size=\"12\"",
                              words);
    }
}

static void marks(const struct drawing *drawing, int today)
{
    const struct fw_farm *farm = drawing->winter->farm;
    mark(drawing, farm->stockpile.winter.frost_day, 0, "frost", "#2f6f9f");
    if (farm->lambing.given)
        mark(drawing, farm->lambing.from, 1, "lambing", "#8f2f5f");
    mark(drawing, today, 2, "today", "#333333");
}

enum fw_status fw_report_stockpile_svg(const struct fw_winter *winter,
                                       int today, char **out,
                                       struct fw_error *err)
{
    struct fw_text text = {0};
    struct drawing drawing = {.text = &text, .winter = winter};
    const struct fw_farm *farm = winter->farm;
    const int first = winter->closing_count
                          ? winter->closings[0].day
                          : farm->stockpile.winter.frost_day - 1;
    int last = winter->last_day + 7;
    if (farm->lambing.given && farm->lambing.from + 7 > last &&
        farm->lambing.from < first + 400)
        last = farm->lambing.from + 7;
    double top = first_panel;
    for (int i = 0; i < panels; i++, top += panel + gap)
        drawing.plots[i] =
            (struct fw_picture__plot){left,
                                      right,
                                      top,
                                      top + panel,
                                      first,
                                      last,
                                      fmax(greatest(&drawing, i), 1e-3)};
    drawing.plots[1].most = 100;
    fw_picture__svg_begin(&text, FW_REPORT_STOCKPILE_BEGIN, wide,
                          drawing.plots[2].bottom + 40 +
                              17 * (double)winter->part_count);
    shade(&drawing);
    for (int i = 0; i < panels; i++)
        fw_picture__plot_ground(&text, &drawing.plots[i]);
    fw_picture__plot_months(&text, &drawing.plots[2]);
    titles(&drawing);
    wanted(&drawing);
    if (winter->other_line)
        line(&drawing, 0, other, other_colour);
    line(&drawing, 0, 0, main_colour);
    line(&drawing, 1, 0, main_colour);
    for (int k = panels; k-- > 0;)
        line(&drawing, 2, k, colours[k]);
    marks(&drawing, today);
    parts(&drawing);
    fw_text_add(&text, "</svg>\n");
    return fw_report_give(&text, out, NULL, err);
}
