/* The parts side by side through the winter: what stands, what they take of it
 * fenced apart, and what they take if all of it lies open. */
#include "report/stockpile.h"

#include "figures/say.h"
#include "picture/stockpile_plot.h"
#include "report/report.h"

#include <math.h>

static const double left = 96, panel_wide = 250, panel_gap = 56, top = 92;
static const double panel_high = 260, below = 132;

static double in_units(const struct fw_winter *winter, double kg_ha)
{
    return fw_in_mass_per_area(kg_ha, winter->farm->units);
}

struct drawing {
    struct fw_text *text;
    const struct fw_winter *winter;
    const struct fw_winter_part *part;
    struct fw_picture__plot plot;
};

static void through(const struct drawing *drawing, bool taken)
{
    const struct fw_winter_part *part = drawing->part;
    for (size_t i = 0; i < drawing->winter->row_count; i++) {
        const struct fw_winter_row *row = &part->rows[i];
        const double kg_ha = row->stand.mass_kg_ha * (taken ? row->share : 1);
        fw_text_addf(drawing->text, "%s%.1f %.1f", i ? " L" : "M",
                     fw_picture__plot_x(&drawing->plot, row->day),
                     fw_picture__plot_y(&drawing->plot,
                                        in_units(drawing->winter, kg_ha)));
    }
}

/* They begin on the first day, and end when the leafy one is cleared. */
static void open_line(const struct drawing *drawing)
{
    const struct fw_winter *winter = drawing->winter;
    const struct fw_picture__plot *plot = &drawing->plot;
    const int from = winter->farm->stockpile.from_day;
    const int end = winter->cleared_day < plot->last_day ? winter->cleared_day
                                                         : plot->last_day;
    const double all =
        in_units(winter, drawing->part->open_share *
                             drawing->part->middle.stand.mass_kg_ha);
    const double then = winter->cleared_day > from
                            ? all * (end - from) / (winter->cleared_day - from)
                            : all;
    const double y = fw_picture__plot_y(plot, then);
    fw_text_addf(drawing->text,
                 "  <path d=\"M%.1f %.1f L%.1f %.1f H%.1f\" fill=\"none\" "
                 "stroke=\"#b3241e\" stroke-width=\"3\"/>\n",
                 fw_picture__plot_x(plot, from), plot->bottom,
                 fw_picture__plot_x(plot, end), y, plot->right);
}

static void words_of(const struct drawing *drawing)
{
    const struct fw_winter_part *part = drawing->part;
    const struct fw_picture__plot *plot = &drawing->plot;
    char words[200], day[FW_WORDS];
    fw_picture__svg_words(drawing->text, plot->left, plot->top - 28,
                          "font-size=\"14\" font-weight=\"bold\"",
                          fw_text_clip(part->part->name, words, 34));
    fw_text_format(words, sizeof words, "closed %s, %s",
                   fw_report_stock_day(part->middle.stand.closed_day, day),
                   fw_report_condition_words[part->middle.stand.condition]);
    fw_picture__svg_words(drawing->text, plot->left, plot->top - 10,
                          "font-size=\"12\"", words);
    fw_text_format(words, sizeof words, "fenced apart %.0f %%",
                   100 * part->middle.share);
    fw_picture__svg_words(drawing->text, plot->left, plot->bottom + 58,
                          "font-size=\"13\" fill=\"#3d6b1f\"", words);
    fw_text_format(words, sizeof words, "all open %.0f %%",
                   100 * part->open_share);
    fw_picture__svg_words(drawing->text, plot->right, plot->bottom + 58,
                          "text-anchor=\"end\" font-size=\"13\" "
                          "fill=\"#b3241e\"",
                          words);
}

/* Digestibility month by month, below their names. */
static void quality(const struct drawing *drawing)
{
    for (size_t i = 0; i < drawing->winter->row_count; i++) {
        const struct fw_winter_row *row = &drawing->part->rows[i];
        const double x = fw_picture__plot_x(&drawing->plot, row->day);
        char words[FW_WORDS];
        fw_text_format(words, sizeof words, "%.0f", 100 * row->stand.digest);
        fw_picture__svg_words(drawing->text, x, drawing->plot.bottom + 34,
                              "text-anchor=\"middle\" font-size=\"12\"", words);
    }
}

static void one_part(const struct drawing *drawing)
{
    const struct fw_picture__plot *plot = &drawing->plot;
    struct fw_text *text = drawing->text;
    const struct fw_winter *winter = drawing->winter;
    const int last = drawing->part->rows[winter->row_count - 1].day;
    fw_picture__plot_ground(text, plot);
    fw_text_add(text, "  <path d=\"");
    through(drawing, true);
    fw_text_addf(text, " L%.1f %.1f L%.1f %.1f Z\" fill=\"#c9dfae\"/>\n",
                 fw_picture__plot_x(plot, last), plot->bottom,
                 fw_picture__plot_x(plot, drawing->part->rows[0].day),
                 plot->bottom);
    fw_text_add(text, "  <path d=\"");
    through(drawing, false);
    fw_text_add(text, "\" fill=\"none\" stroke=\"#333333\" "
                      "stroke-width=\"2.5\"/>\n");
    open_line(drawing);
    fw_picture__plot_months(text, plot);
    quality(drawing);
    words_of(drawing);
}

static void legend(struct fw_text *text, double y, size_t count)
{
    fw_text_addf(text,
                 "  <path d=\"M%.1f %.1f h24\" stroke=\"#333333\" "
                 "stroke-width=\"2.5\"/>\n"
                 "  <rect x=\"%.1f\" y=\"%.1f\" width=\"24\" height=\"11\" "
                 "fill=\"#c9dfae\"/>\n"
                 "  <path d=\"M%.1f %.1f h24\" stroke=\"#b3241e\" "
                 "stroke-width=\"3\"/>\n",
                 left, y, left + 110, y - 6, left + 320, y);
    fw_picture__svg_words(text, left + 30, y + 4, "font-size=\"12\"", "stands");
    fw_picture__svg_words(text, left + 140, y + 4, "font-size=\"12\"",
                          "they take, fenced apart");
    fw_picture__svg_words(text, left + 350, y + 4, "font-size=\"12\"",
                          count == 2 ? "taken if both lie open"
                                     : "taken if all lie open");
}

enum fw_status fw_report_stockpile_parts_svg(const struct fw_winter *winter,
                                             char **out, struct fw_error *err)
{
    struct fw_text text = {0};
    const size_t count = winter->part_count;
    double most = 0;
    for (size_t i = 0; i < count; i++)
        most = fmax(
            most, in_units(winter, winter->parts[i].rows[0].stand.mass_kg_ha));
    const double wide =
        fmax(left + (double)count * (panel_wide + panel_gap), 600);
    fw_picture__svg_begin(&text, FW_REPORT_STOCKPILE_BEGIN, wide,
                          top + panel_high + below);
    fw_picture__svg_words(&text, left, 26,
                          "font-size=\"17\" font-weight=\"bold\"",
                          "The winter's grass, part by part");
    fw_picture__svg_words(&text, left, 45, "font-size=\"13\"",
                          fw_mass_per_area_unit(winter->farm->units));
    const struct fw_winter_row *rows = winter->parts[0].rows;
    for (size_t i = 0; i < count; i++) {
        const double x = left + (double)i * (panel_wide + panel_gap);
        const struct drawing drawing = {
            .text = &text,
            .winter = winter,
            .part = &winter->parts[i],
            .plot = {x, x + panel_wide, top, top + panel_high,
                     winter->farm->stockpile.from_day,
                     rows[winter->row_count - 1].day + 15, fmax(1.1 * most, 1)},
        };
        one_part(&drawing);
    }
    fw_picture__svg_words(&text, left - 14, top + panel_high + 34,
                          "text-anchor=\"end\" font-size=\"11\"",
                          "digestible %");
    legend(&text, top + panel_high + 92, count);
    fw_text_add(&text, "</svg>\n");
    return fw_report_give(&text, out, NULL, err);
}
