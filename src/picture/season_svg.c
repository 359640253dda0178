/* What really happened beside the plan, day by day: what they left against what
 * was meant, and how long the moves took. Solid and outlined tell what was said
 * from what was planned, without colour. */
#include "picture/season.h"
#include "picture/stockpile_plot.h"
#include "report/report.h"

#include "figures/units.h"

#include <math.h>

static const double wide = 900, high = 560, left = 70, right = 870;
static const double grass_top = 120, grass_bottom = 320;
static const double work_top = 370, work_bottom = 500;

struct drawing {
    struct fw_text *text;
    const struct fw_log *log;
    struct fw_picture__plot grass, work;
    double pitch;   /* from day to day */
    double unit_kg; /* kg/ha in a unit of the left picture */
};

static double x_of(const struct drawing *drawing, size_t day)
{
    return left + drawing->pitch * ((double)day + 0.5);
}

static bool is_told(const struct fw_log_day *day, enum fw_log_part part)
{
    return day->said && day->said->values[part].told;
}

/* What was meant to stay, where they came from. NaN: they came from nowhere. */
static double meant(const struct drawing *drawing, const struct fw_log_day *day)
{
    return day->paddock == FW_NONE
               ? (double)NAN
               : fw_days_left_kg_ha(&day->offer) / drawing->unit_kg;
}

static double was_left(const struct drawing *drawing,
                       const struct fw_log_day *day)
{
    return day->looked ? day->look.left_kg_ha / drawing->unit_kg : (double)NAN;
}

/* ---- grass ---- */

static void bar(const struct drawing *drawing, double x, double y, double to_y)
{
    fw_text_addf(drawing->text,
                 "    <path d=\"M%.1f %.2f V%.2f\" stroke=\"#444444\" "
                 "stroke-width=\"1.5\"/>\n",
                 x, y, to_y);
}

/* An open ring where it was meant, a dot where it was left, and the way from
 * one to the other. */
static void grass_of(const struct drawing *drawing, size_t i)
{
    const struct fw_log_day *day = &drawing->log->days[i];
    const double x = x_of(drawing, i), r = fmin(5, 0.35 * drawing->pitch);
    const double wanted = meant(drawing, day), got = was_left(drawing, day);
    const double y = fw_picture__plot_y(&drawing->grass, wanted);
    if (isnan(wanted))
        return;
    if (!isnan(got))
        bar(drawing, x, y, fw_picture__plot_y(&drawing->grass, got));
    fw_text_addf(drawing->text,
                 "    <circle cx=\"%.1f\" cy=\"%.2f\" r=\"%.1f\" "
                 "fill=\"#ffffff\" stroke=\"#222222\" stroke-width=\"1.5\"/>\n",
                 x, y, r);
    if (!isnan(got))
        fw_text_addf(drawing->text,
                     "    <circle cx=\"%.1f\" cy=\"%.2f\" r=\"%.1f\" "
                     "fill=\"#4a5a3c\" stroke=\"#222222\"/>\n",
                     x, fw_picture__plot_y(&drawing->grass, got), r);
}

/* ---- work ---- */

#define PLANNED "fill=\"none\" stroke=\"#222222\" stroke-dasharray=\"3 2\""
#define TOOK "fill=\"#8a8a8a\" stroke=\"#222222\""

static void minutes_bar(const struct drawing *drawing, size_t day,
                        double minutes, const char *style)
{
    const double y = fw_picture__plot_y(&drawing->work, minutes);
    fw_text_addf(drawing->text,
                 "    <rect x=\"%.1f\" y=\"%.2f\" width=\"%.1f\" "
                 "height=\"%.2f\" %s/>\n",
                 x_of(drawing, day) - 0.35 * drawing->pitch, y,
                 0.7 * drawing->pitch, work_bottom - y, style);
}

static void mark(const struct drawing *drawing, size_t day, const char *letter)
{
    fw_picture__svg_words(drawing->text, x_of(drawing, day), grass_bottom + 16,
                          "text-anchor=\"middle\" font-size=\"11\"", letter);
}

static void work_of(const struct drawing *drawing, size_t i)
{
    const struct fw_log_day *day = &drawing->log->days[i];
    if (is_told(day, FW_LOG_MINUTES))
        minutes_bar(drawing, i, day->said->values[FW_LOG_MINUTES].number, TOOK);
    if (day->move != FW_NONE)
        minutes_bar(drawing, i, day->planned_min, PLANNED);
    const bool hay = is_told(day, FW_LOG_HAY);
    if (day->missed || hay)
        mark(drawing, i, !day->missed ? "h" : hay ? "xh" : "x");
}

static void day_of(const struct drawing *drawing, size_t i)
{
    const struct fw_log_day *day = &drawing->log->days[i];
    char date[FW_WORDS];
    fw_text_addf(drawing->text, "  <g><title>%s%s%s</title>\n",
                 fw_report_day(day->day, true, date),
                 day->to == FW_NONE ? "" : ", into ",
                 day->to == FW_NONE ? ""
                                    : drawing->log->plan->paddocks[day->to].id);
    grass_of(drawing, i);
    work_of(drawing, i);
    fw_text_add(drawing->text, "  </g>\n");
}

/* A date where there is room for it. */
static void dates(const struct drawing *drawing)
{
    const double letters = 70;
    const size_t every = (size_t)ceil(letters / drawing->pitch);
    for (size_t i = 0; i < drawing->log->day_count; i += every) {
        char date[FW_WORDS];
        fw_picture__svg_words(
            drawing->text, x_of(drawing, i), work_bottom + 18,
            "text-anchor=\"middle\" font-size=\"12\"",
            fw_report_day(drawing->log->days[i].day, false, date));
    }
}

/* ---- words ---- */

static void legend(const struct drawing *drawing)
{
    const double y = grass_top - 24;
    fw_text_addf(drawing->text,
                 "  <circle cx=\"%.1f\" cy=\"%.1f\" r=\"5\" fill=\"#ffffff\" "
                 "stroke=\"#222222\" stroke-width=\"1.5\"/>\n",
                 left + 6, y);
    fw_picture__svg_words(drawing->text, left + 18, y + 4, "font-size=\"12\"",
                          "meant to stay");
    fw_text_addf(drawing->text,
                 "  <circle cx=\"%.1f\" cy=\"%.1f\" r=\"5\" fill=\"#4a5a3c\" "
                 "stroke=\"#222222\"/>\n",
                 left + 126, y);
    fw_picture__svg_words(drawing->text, left + 138, y + 4, "font-size=\"12\"",
                          "left");
    fw_picture__svg_words(drawing->text, left + 190, y + 4, "font-size=\"12\"",
                          "x nobody came, h hay was fed");
}

static void work_words(const struct drawing *drawing)
{
    char words[FW_WORDS * 3];
    const struct fw_log_work work = fw_log_work(drawing->log);
    if (work.moves > 0)
        fw_text_format(words, sizeof words,
                       "Minutes: grey they took, dashed by the plan; %.0f and "
                       "%.0f in all, over %zu moves.",
                       work.said_min, work.planned_min, work.moves);
    else
        fw_text_format(words, sizeof words,
                       "Minutes by the plan; nobody has told how long the "
                       "moves took.");
    fw_picture__svg_words(drawing->text, left, work_top - 14,
                          "font-size=\"13\"", words);
}

static void titles(const struct drawing *drawing)
{
    const struct fw_log *log = drawing->log;
    char name[48], from[FW_WORDS], to[FW_WORDS], words[FW_WORDS * 4];
    size_t looks = 0;
    for (size_t i = 0; i < log->day_count; i++)
        looks += log->days[i].looked;
    fw_text_format(words, sizeof words, "What really happened: %s",
                   fw_text_clip(log->base->farm_name, name, sizeof name));
    fw_picture__svg_words(drawing->text, left, 26,
                          "font-size=\"17\" font-weight=\"bold\"", words);
    fw_text_format(words, sizeof words,
                   "%s to %s: %zu days, %zu look%s. What they left, dry "
                   "matter, %s:",
                   fw_report_day(log->days[0].day, true, from),
                   fw_report_day(log->days[log->day_count - 1].day, true, to),
                   log->day_count, looks, looks == 1 ? "" : "s",
                   fw_mass_per_area_unit(log->base->units));
    fw_picture__svg_words(drawing->text, left, 50, "font-size=\"13\"", words);
}

/* ---- all of it ---- */

static void scale(struct drawing *drawing)
{
    const struct fw_log *log = drawing->log;
    double grass = 1, work = 1;
    for (size_t i = 0; i < log->day_count; i++) {
        const struct fw_log_day *day = &log->days[i];
        grass = fmax(grass, fmax(meant(drawing, day), was_left(drawing, day)));
        work = fmax(work, day->planned_min);
        if (is_told(day, FW_LOG_MINUTES))
            work = fmax(work, day->said->values[FW_LOG_MINUTES].number);
    }
    drawing->grass = (struct fw_picture__plot){
        left, right, grass_top, grass_bottom, 0, 1, 1.08 * grass};
    drawing->work = (struct fw_picture__plot){
        left, right, work_top, work_bottom, 0, 1, 1.08 * work};
}

static void draw(struct drawing *drawing)
{
    scale(drawing);
    fw_picture__plot_ground(drawing->text, &drawing->grass);
    fw_picture__plot_ground(drawing->text, &drawing->work);
    for (size_t i = 0; i < drawing->log->day_count; i++)
        day_of(drawing, i);
    dates(drawing);
    titles(drawing);
    legend(drawing);
    work_words(drawing);
}

enum fw_status fw_report_season_svg(const struct fw_log *log, char **out,
                                    size_t *count, struct fw_error *err)
{
    struct fw_text text = {0};
    struct drawing drawing = {
        .text = &text,
        .log = log,
        .pitch = fmin((right - left) / fmax(1, (double)log->day_count), 60),
        .unit_kg =
            log->base->units == FW_US ? 1 / fw_in_mass_per_area(1, FW_US) : 1,
    };
    fw_picture__svg_begin(&text, FW_REPORT_SEASON_BEGIN, wide, high);
    if (log->day_count > 0)
        draw(&drawing);
    else
        fw_picture__svg_words(&text, left, 26, "font-size=\"17\"",
                              "Nothing is written down yet.");
    fw_text_add(&text, "</svg>\n");
    return fw_report_give(&text, out, count, err);
}
