#include "picture/stockpile_plot.h"

#include "report/report.h"

#include <math.h>

double fw_picture__plot_x(const struct fw_picture__plot *plot, int day)
{
    return plot->left + (plot->right - plot->left) * (day - plot->first_day) /
                            (plot->last_day - plot->first_day);
}

double fw_picture__plot_y(const struct fw_picture__plot *plot, double value)
{
    return plot->bottom -
           (plot->bottom - plot->top) * fmin(value, plot->most) / plot->most;
}

double fw_picture__plot_step(double most)
{
    const double size = pow(10, floor(log10(most / 4)));
    const double of = most / 4 / size;
    return size * (of < 1.5 ? 1 : of < 3.5 ? 2 : of < 7.5 ? 5 : 10);
}

void fw_picture__plot_ground(struct fw_text *text,
                             const struct fw_picture__plot *plot)
{
    char number[FW_WORDS];
    fw_text_addf(text,
                 "  <rect x=\"%.1f\" y=\"%.1f\" width=\"%.1f\" "
                 "height=\"%.1f\" fill=\"none\" stroke=\"#999999\"/>\n",
                 plot->left, plot->top, plot->right - plot->left,
                 plot->bottom - plot->top);
    const double step = fw_picture__plot_step(plot->most);
    for (int i = 0; i * step <= plot->most; i++) {
        const double y = fw_picture__plot_y(plot, i * step);
        fw_text_addf(text,
                     "  <path d=\"M%.1f %.1f H%.1f\" stroke=\"#dddddd\"/>\n",
                     plot->left, y, plot->right);
        fw_picture__svg_words(text, plot->left - 6, y + 4,
                              "text-anchor=\"end\" font-size=\"12\"",
                              fw_report_number(i * step, number));
    }
}

void fw_picture__plot_months(struct fw_text *text,
                             const struct fw_picture__plot *plot)
{
    static const char *const names[] = {"Jan", "Feb", "Mar", "Apr",
                                        "May", "Jun", "Jul", "Aug",
                                        "Sep", "Oct", "Nov", "Dec"};
    int first = fw_date_first(fw_date_year(plot->first_day),
                              fw_date_month(plot->first_day));
    while (first <= plot->last_day) {
        const int month = fw_date_month(first);
        const int next = fw_date_first(fw_date_year(first), month + 1);
        const double from = fmax(fw_picture__plot_x(plot, first), plot->left);
        const double to = fmin(fw_picture__plot_x(plot, next), plot->right);
        if (first > plot->first_day)
            fw_text_addf(text,
                         "  <path d=\"M%.1f %.1f v5\" "
                         "stroke=\"#666666\"/>\n",
                         from, plot->bottom);
        if (to - from > 24)
            fw_picture__svg_words(text, (from + to) / 2, plot->bottom + 16,
                                  "text-anchor=\"middle\" font-size=\"12\"",
                                  names[month - 1]);
        first = next;
    }
}

void fw_picture__svg_begin(struct fw_text *text, const char *first, double wide,
                           double high)
{
    fw_text_addf(text,
                 "%s\n<svg xmlns=\"http://www.w3.org/2000/svg\" "
                 "viewBox=\"0 0 %.0f %.0f\" width=\"%.0f\" height=\"%.0f\" "
                 "font-family=\"sans-serif\" fill=\"#333333\">\n"
                 "  <desc>%s</desc>\n"
                 "  <rect width=\"%.0f\" height=\"%.0f\" fill=\"#ffffff\"/>\n",
                 first, wide, high, wide, high, fw_report_first_words, wide,
                 high);
}

void fw_picture__svg_escaped(struct fw_text *text, const char *words)
{
    for (const char *c = words; *c; c++) {
        if (*c == '<')
            fw_text_add(text, "&lt;");
        else if (*c == '&')
            fw_text_add(text, "&amp;");
        else if ((unsigned char)*c >= ' ')
            fw_text_add_bytes(text, c, 1);
    }
}

void fw_picture__svg_words(struct fw_text *text, double x, double y,
                           const char *style, const char *words)
{
    fw_text_addf(text, "  <text x=\"%.1f\" y=\"%.1f\" %s>", x, y, style);
    fw_picture__svg_escaped(text, words);
    fw_text_add(text, "</text>\n");
}
