/* The ways of having water as bars beside each other: trips, minutes, walk,
 * money. What is not known has no bar. */
#include "report/water.h"

#include "picture/stockpile_plot.h"
#include "report/report.h"

#include <math.h>

static const double left = 190, panel_wide = 150, panel_gap = 40, top = 76;
static const double bar_high = 20, row_high = 34, margin = 24;

enum { panel_count = 5 };

static double value_of(const struct fw_hauled *row, size_t panel)
{
    const double values[panel_count] = {
        row->trips < 0 ? (double)NAN : row->trips, row->minutes_day,
        row->walk_mean_m, row->walk_max_m, row->cost};
    return values[panel];
}

static double most_of(const struct fw_hauled_table *table, size_t panel)
{
    double most = 0;
    for (size_t i = 0; i < table->count; i++)
        most = fmax(most, value_of(&table->rows[i], panel));
    return most;
}

static void bar(struct fw_text *text, const struct fw_plan *plan,
                const struct fw_hauled_table *table, size_t panel, size_t i)
{
    const double value = value_of(&table->rows[i], panel);
    const double most = most_of(table, panel);
    const double x = left + (double)panel * (panel_wide + panel_gap);
    const double y = top + (double)i * row_high;
    const bool is_walk = panel == 2 || panel == 3;
    char words[FW_WORDS];
    if (!isnan(value))
        fw_text_addf(text,
                     "  <rect x=\"%.1f\" y=\"%.1f\" width=\"%.1f\" "
                     "height=\"%.1f\" fill=\"%s\"/>\n",
                     x, y, most > 0 ? panel_wide * value / most : 0, bar_high,
                     i == 0 ? "#8a8a8a" : "#4a7fb5");
    fw_picture__svg_words(text, x + 4, y + 15, "font-size=\"12\"",
                          isnan(value) ? "not known"
                          : is_walk
                              ? fw_report_length(value, plan->units, words)
                              : fw_report_number(value, words));
}

enum fw_status fw_report_water_svg(const struct fw_plan *plan,
                                   const struct fw_hauled_table *table,
                                   char **out, struct fw_error *err)
{
    static const char *const heads[panel_count] = {
        "trips in all", "minutes a day", "mean walk", "longest walk", "to buy"};
    struct fw_text text = {0};
    fw_picture__svg_begin(&text, FW_REPORT_WATER_BEGIN,
                          left + panel_count * (panel_wide + panel_gap),
                          top + (double)table->count * row_high + margin);
    fw_picture__svg_words(&text, margin, 30,
                          "font-size=\"16\" font-weight=\"bold\"",
                          "Ways of having water, today's first");
    for (size_t panel = 0; panel < panel_count; panel++)
        fw_picture__svg_words(
            &text, left + (double)panel * (panel_wide + panel_gap), top - 14,
            "font-size=\"13\" font-weight=\"bold\"", heads[panel]);
    for (size_t i = 0; i < table->count; i++) {
        char name[FW_WORDS];
        fw_picture__svg_words(&text, margin, top + (double)i * row_high + 15,
                              "font-size=\"13\"",
                              fw_report_hauled_name(&table->rows[i], name));
        for (size_t panel = 0; panel < panel_count; panel++)
            bar(&text, plan, table, panel, i);
    }
    fw_text_add(&text, "</svg>\n");
    return fw_report_give(&text, out, NULL, err);
}
