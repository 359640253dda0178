/* Axes of the pictures of grass: days, or stays, to the right, a quantity up.
 */
#ifndef FW_PICTURE_STOCKPILE_PLOT_H
#define FW_PICTURE_STOCKPILE_PLOT_H

#include "base/text.h"

struct fw_picture__plot {
    double left, right, top, bottom; /* on the page */
    int first_day, last_day;
    double most; /* at the top; 0 is at the bottom */
};

double fw_picture__plot_x(const struct fw_picture__plot *plot, int day);
double fw_picture__plot_y(const struct fw_picture__plot *plot, double value);

/* 1, 2 or 5 of some size: about four of them make `most`. */
double fw_picture__plot_step(double most);

/* The ground, lines of the values with numbers left of them. */
void fw_picture__plot_ground(struct fw_text *text,
                             const struct fw_picture__plot *plot);

/* Months below it: their first days as ticks, their names in their middle where
 * there is room. */
void fw_picture__plot_months(struct fw_text *text,
                             const struct fw_picture__plot *plot);

/* `first` is the line by which an older one is known for ours. */
void fw_picture__svg_begin(struct fw_text *text, const char *first, double wide,
                           double high);
void fw_picture__svg_escaped(struct fw_text *text, const char *words);

/* Words at a place; style is attributes such as fill="#333333". */
void fw_picture__svg_words(struct fw_text *text, double x, double y,
                           const char *style, const char *words);

#endif
