/* Pictures of the winter's grass read back: values by the numbers at their own
 * axes, days by the ticks of their own months. */
#include "read_back.h"
#include "svg_tags.h"
#include "winter_told.h"

#include "figures/say.h"
#include "report/stockpile.h"

#include <math.h>
#include <string.h>

#define HEAD_                                                                  \
    "fields: {source: field.geojson}\n"                                        \
    "flock: [{head: 10, weight: 70 kg, state: dry}]\n"                         \
    "forage: {sward: fescue-nitrogen, leave: 8 cm}\n"
#define TWO                                                                    \
    "  parts:\n"                                                               \
    "    - {part: heavy <& old>, area: 1 ha, grazed: 2027-06-12}\n"            \
    "    - {part: leafy, area: 1.5 ha, grazed: 2027-08-09, left: 12 cm}\n"

static const char *const farms[] = {
    HEAD_ "stockpile:\n  line: virginia\n" TWO,
    HEAD_ "units: us\nlambing: {from: 2028-03-25, to: 2028-04-20}\n"
          "stockpile:\n  line: north-carolina\n  from: 2027-12-01\n"
          "  days: 60 days\n" TWO,
    "fields: {source: field.geojson}\n"
    "flock: [{head: 60, weight: 70 kg, state: dry}]\n"
    "forage: {sward: mixed, density: 200 kg/ha/cm, leave: 8 cm}\n"
    "lambing: {from: 2028-01-05, to: 2028-01-20}\n"
    "stockpile:\n  line: ireland\n  frost: 2027-12-09\n  parts:\n"
    "    - {part: only, area: 2 ha, grazed: 2027-10-10}\n",
};
enum { farm_count = sizeof farms / sizeof *farms, most_points = 400 };

/* ---- axes ---- */

struct axes {
    double left, right, top, bottom;
    double zero_y, value_pt; /* of its value axis */
};

/* Do the words stand in the tag at hand? */
static bool tells(const char *tag, const char *words)
{
    const char *found = strstr(tag, words);
    return found && found < strstr(tag, "/>");
}

/* The next path from there on that tells these words. */
static const char *path_that(const char *at, const char *words)
{
    do
        at = after(at + 1, "<path");
    while (!tells(at, words));
    return at;
}

/* The panel's frame, and its lines with a number each. */
static const char *read_axes(const char *svg, struct axes *axes)
{
    const char *at = svg;
    do
        at = after(at + 1, "<rect x=");
    while (!tells(at, "fill=\"none\" stroke=\"#999999\""));
    axes->left = number(at, "x");
    axes->top = number(at, "y");
    axes->right = axes->left + number(at, "width");
    axes->bottom = axes->top + number(at, "height");
    at++;
    double last = 0, y = 0, step = 0;
    size_t lines = 0;
    for (;;) {
        const char *frame = strstr(at, "<rect x=");
        const char *path = after(at, "<path d=\"M");
        if (frame && frame < path && frame > at)
            break; /* that of the next panel */
        at = path;
        double x, to;
        if (sscanf(at, "<path d=\"M%lf %lf H%lf\" stroke=\"#dddddd\"", &x, &y,
                   &to) != 3 ||
            strncmp(strchr(at + 9, '"') + 1, " stroke=\"#dddddd\"", 17) != 0)
            break;
        assert_near(x, axes->left, 0.06);
        assert_near(to, axes->right, 0.06);
        const char *text = after(at, "<text");
        last = strtod(strchr(text, '>') + 1, NULL);
        assert_near(number(text, "y"), y + 4, 0.11);
        assert_near(number(text, "x"), axes->left - 6, 0.11);
        if (lines == 0) {
            axes->zero_y = y;
            assert_near(last, 0, 0);
        }
        if (lines == 1)
            step = last;
        assert_near(last, (double)lines * step, 1e-9);
        axes->value_pt = last > 0 ? (axes->zero_y - y) / last : 0;
        lines++;
        at = strchr(text, '\n');
    }
    const double lead = step / pow(10, floor(log10(step * 1.0001)));
    assert_true(fabs(lead - 1) < 1e-6 || fabs(lead - 2) < 1e-6 ||
                fabs(lead - 5) < 1e-6);
    assert_true(lines >= 3 && lines <= 9);
    assert_near(axes->zero_y, axes->bottom, 0.11);
    return at;
}

/* Days by the first ticks below a panel: first days of months from the one
 * after `first_day` on. */
struct days {
    double zero, day_pt;
};

static struct days read_days(const char *svg, const struct axes *axes,
                             int first_day)
{
    double x[2] = {0, 0};
    int day[2] = {0, 0}, count = 0;
    int month =
        fw_date_first(fw_date_year(first_day), fw_date_month(first_day));
    if (month <= first_day)
        month = fw_date_first(fw_date_year(month), fw_date_month(month) + 1);
    for (const char *at = svg; (at = strstr(at, "<path d=\"M")); at++) {
        double to, y;
        if (sscanf(at, "<path d=\"M%lf %lf v5\"", &to, &y) != 2 ||
            strncmp(strchr(at + 9, '"') - 2, "v5", 2) != 0 ||
            fabs(y - axes->bottom) > 0.06 || to < axes->left - 0.06 ||
            to > axes->right + 0.06)
            continue;
        x[count > 0] = to;
        day[count > 0] = month;
        month = fw_date_first(fw_date_year(month), fw_date_month(month) + 1);
        count++;
    }
    assert_true(count > 2);
    const double day_pt = (x[1] - x[0]) / (day[1] - day[0]);
    return (struct days){x[0] - day_pt * day[0], day_pt};
}

static double x_of(const struct days *days, int day)
{
    return days->zero + days->day_pt * day;
}

/* ---- lines ---- */

struct curve {
    struct {
        double x, y;
        bool dashed;
    } at[most_points];
    size_t count;
};

/* All points of the lines of that colour within the panel; where one line goes
 * on from another their common point stands once. */
static struct curve read_curve(const char *svg, const struct axes *axes,
                               const char *colour, const char *wide)
{
    struct curve curve = {.count = 0};
    char style[80];
    snprintf(style, sizeof style,
             "\" fill=\"none\" stroke=\"%s\" stroke-width=\"%s\"", colour,
             wide);
    for (const char *at = svg; (at = strstr(at, "<path d=\"M")); at++) {
        const char *end = strchr(at + 9, '"');
        if (strncmp(end, style, strlen(style)) != 0)
            continue;
        const bool dashed =
            strncmp(end + strlen(style), " stroke-dasharray", 17) == 0;
        const char *from = at + 10;
        while (from < end) {
            char *next;
            const double x = strtod(from, &next);
            const double y = strtod(next, &next);
            from = next + strspn(next, " L");
            if (y < axes->top - 0.06 || y > axes->bottom + 0.06 ||
                x < axes->left - 0.06 || x > axes->right + 0.06)
                break;
            if (curve.count && fabs(curve.at[curve.count - 1].x - x) < 1e-9)
                continue;
            assert_true(curve.count < most_points);
            curve.at[curve.count].x = x;
            curve.at[curve.count].y = y;
            curve.at[curve.count++].dashed = dashed;
        }
    }
    return curve;
}

static void value_is(const struct axes *axes, double y, double value)
{
    const double most = (axes->bottom - axes->top) / axes->value_pt;
    assert_near((axes->zero_y - y) / axes->value_pt, fmin(value, most),
                0.2 / axes->value_pt + 0.012 * most);
}

static double thousands(const struct fw_winter *winter, double kg)
{
    return kg / 1000 / (winter->farm->units == FW_US ? 0.45359237 : 1);
}

/* ---- when to take the last of it ---- */

enum { other = 4 };

static double shown(const struct fw_winter *winter, size_t i, int panel,
                    int class)
{
    const struct fw_winter_closing *closing = &winter->closings[i];
    return class == other
               ? thousands(winter, closing->other_kg_ha * winter->area_ha)
           : panel == 0 ? thousands(winter, closing->row.stand.mass_kg_ha *
                                                winter->area_ha)
           : panel == 1 ? 100 * closing->row.stand.digest
                        : closing->row.fed[class].days_at_need;
}

static void curve_is(const struct fw_winter *winter, const struct curve *curve,
                     const struct axes *axes, const struct days *days,
                     int panel, int class)
{
    assert_int_equal(curve->count, winter->closing_count);
    for (size_t i = 0; i < curve->count; i++) {
        const struct fw_winter_closing *closing = &winter->closings[i];
        assert_near(curve->at[i].x, x_of(days, closing->day), 0.2);
        value_is(axes, curve->at[i].y, shown(winter, i, panel, class));
        const bool measured =
            class == other ? closing->other_measured : closing->measured;
        /* A piece is of the kind of the day that it begins with. */
        if (i > 0 && i + 1 < curve->count &&
            measured == (class == other ? winter->closings[i - 1].other_measured
                                        : winter->closings[i - 1].measured))
            assert_int_equal(curve->at[i].dashed, !measured);
    }
}

static void lines_are_those_of_the_closings(void **state)
{
    (void)state;
    static const char *const colours[] = {"#3d6b1f", "#b3541e", "#2f4f8f"};
    for (int f = 0; f < farm_count; f++) {
        struct fw_winter *winter = winter_of(farms[f]);
        char *svg = NULL;
        assert_int_equal(fw_report_stockpile_svg(
                             winter, winter->closings[30].day, &svg, NULL),
                         FW_OK);
        struct axes axes[3];
        const char *at = svg;
        for (int i = 0; i < 3; i++)
            at = read_axes(at, &axes[i]);
        const struct days days =
            read_days(svg, &axes[2], winter->closings[0].day);
        assert_near(x_of(&days, winter->closings[0].day), axes[2].left, 0.2);
        struct curve curve = read_curve(svg, &axes[0], "#333333", "2.5");
        curve_is(winter, &curve, &axes[0], &days, 0, 0);
        curve = read_curve(svg, &axes[1], "#333333", "2.5");
        curve_is(winter, &curve, &axes[1], &days, 1, 0);
        curve = read_curve(svg, &axes[0], "#a0a0a0", "2.5");
        if (winter->other_line)
            curve_is(winter, &curve, &axes[0], &days, 0, other);
        else
            assert_int_equal(curve.count, 0);
        for (int k = 0; k < 3; k++) {
            curve = read_curve(svg, &axes[2], colours[k], "2.5");
            curve_is(winter, &curve, &axes[2], &days, 2, k);
        }
        /* Every axis has room for the greatest, and not for twice as much. */
        for (int panel = 0; panel < 3; panel++) {
            double most = panel == 2 ? winter->farm->stockpile.days : 0;
            for (size_t i = 0; i < winter->closing_count; i++)
                for (int k = 0; k < (panel == 2 ? 3 : 1); k++) {
                    most = fmax(most, shown(winter, i, panel, k));
                    if (panel == 0)
                        most = fmax(most, shown(winter, i, 0, other));
                }
            const double room =
                (axes[panel].bottom - axes[panel].top) / axes[panel].value_pt;
            assert_near(room, panel == 1 ? 100 : 1.1 * most, 0.02 * room);
        }
        fw_bytes_free(svg);
        winter_free(winter);
    }
}

static const char *day_words(int day, char text[40])
{
    static const char *const months[] = {"Jan", "Feb", "Mar", "Apr",
                                         "May", "Jun", "Jul", "Aug",
                                         "Sep", "Oct", "Nov", "Dec"};
    const int month = fw_date_month(day);
    snprintf(text, 40, "%d %s",
             day - fw_date_first(fw_date_year(day), month) + 1,
             months[month - 1]);
    return text;
}

/* The tag of the text with just these words. */
static const char *said(const char *svg, const char *words)
{
    char whole[300];
    snprintf(whole, sizeof whole, ">%s</text>", words);
    const char *at = strstr(svg, whole);
    if (!at)
        fail_msg("no \"%s\" in:\n%.3000s", words, svg);
    while (strncmp(at, "<text", 5) != 0)
        at--;
    return at;
}

static void marked(const char *svg, const struct axes axes[3], double x,
                   const char *words, double y)
{
    const char *text = said(svg, words);
    const bool before = x > (axes[0].left + axes[0].right) / 2;
    assert_near(number(text, "x"), before ? x - 4 : x + 4, 0.3);
    assert_near(number(text, "y"), y, 0.06);
    assert_true(has(text, "text-anchor", before ? "end" : "start"));
    const char *path = text;
    while (strncmp(path, "<path", 5) != 0)
        path--;
    double at[3], from[3], to[3];
    assert_int_equal(sscanf(path,
                            "<path d=\"M%lf %lf V%lf M%lf %lf V%lf M%lf %lf "
                            "V%lf\"",
                            &at[0], &from[0], &to[0], &at[1], &from[1], &to[1],
                            &at[2], &from[2], &to[2]),
                     9);
    for (int i = 0; i < 3; i++) {
        assert_near(at[i], x, 0.3);
        assert_near(from[i], i ? axes[i].top : y - 8, 0.06);
        assert_near(to[i], axes[i].bottom, 0.06);
    }
}

static void days_and_parts_are_marked(void **state)
{
    (void)state;
    int shaded = 0;
    for (int f = 0; f < farm_count; f++) {
        struct fw_winter *winter = winter_of(farms[f]);
        const struct fw_farm *of = winter->farm;
        const int todays[] = {winter->closings[30].day, winter->last_day,
                              winter->closings[0].day - 1,
                              winter->last_day + 400};
        for (int t = 0; t < 4; t++) {
            char *svg = NULL, words[200], day[40], area[FW_SAID];
            assert_int_equal(
                fw_report_stockpile_svg(winter, todays[t], &svg, NULL), FW_OK);
            struct axes axes[3];
            const char *at = svg;
            for (int i = 0; i < 3; i++)
                at = read_axes(at, &axes[i]);
            const struct days days =
                read_days(svg, &axes[2], winter->closings[0].day);
            snprintf(words, sizeof words, "frost %s",
                     day_words(of->stockpile.winter.frost_day, day));
            marked(svg, axes, x_of(&days, of->stockpile.winter.frost_day),
                   words, 102);
            if (of->lambing.given) {
                snprintf(words, sizeof words, "lambing %s",
                         day_words(of->lambing.from, day));
                marked(svg, axes, x_of(&days, of->lambing.from), words, 116);
            } else {
                has_not(svg, "lambing ");
            }
            snprintf(words, sizeof words, "today %s",
                     day_words(todays[t], day));
            if (t < 2)
                marked(svg, axes, x_of(&days, todays[t]), words, 130);
            else
                has_not(svg, ">today");

            /* The days that are wanted. */
            snprintf(words, sizeof words, "<path d=\"M%.1f ", axes[2].left);
            double y = 0, x = 0, to = 0;
            for (const char *path = svg; (path = strstr(path, words)); path++)
                if (sscanf(path, "<path d=\"M%lf %lf H%lf\" stroke=\"#666666\"",
                           &x, &y, &to) == 3 &&
                    strncmp(strchr(path + 9, '"'), "\" stroke=\"#666666\"",
                            18) == 0)
                    break;
            value_is(&axes[2], y, of->stockpile.days);
            assert_near(to, axes[2].right, 0.06);
            const char *bar = after(svg, "fill=\"#bbbbbb\"");
            while (strncmp(bar, "<rect", 5) != 0)
                bar--;
            const double from = x_of(&days, of->stockpile.from_day);
            const double until = x_of(&days, winter->last_day);
            assert_near(number(bar, "x"), from, 0.3);
            assert_near(number(bar, "width"), until - from, 0.5);
            assert_near(number(bar, "y") + 12, axes[2].bottom, 0.06);
            const char *wanted = said(svg, "wanted then");
            assert_near(number(wanted, "x"), (from + until) / 2, 0.4);
            assert_near(number(wanted, "y"), axes[2].bottom - 18, 0.06);

            /* The stretch of days on which it may be closed. */
            size_t first = 0, last = 0;
            const bool window =
                fw_winter_window(winter, winter->class, &first, &last);
            const char *green = strstr(svg, "fill=\"#dcebc8\"");
            assert_int_equal(green != NULL, window);
            shaded += window;
            if (window) {
                while (strncmp(green, "<rect", 5) != 0)
                    green--;
                const double begins = x_of(&days, winter->closings[first].day);
                const double ends = x_of(&days, winter->closings[last].day);
                assert_near(number(green, "x"), begins, 0.3);
                assert_near(number(green, "width"), fmax(ends - begins, 2),
                            0.5);
                assert_near(number(green, "y"), axes[0].top, 0.06);
                assert_near(number(green, "height"),
                            axes[2].bottom - axes[0].top, 0.11);
            }
            static const char *const classes[] = {
                "dry ewes", "ewes early in lamb", "ewes late in lamb"};
            snprintf(words, sizeof words,
                     window ? "green: %d days for %s on grass alone"
                            : "no day gives %d days for %s on grass alone",
                     of->stockpile.days, classes[winter->class]);
            said(svg, words);
            snprintf(words, sizeof words,
                     "all %s closed on one day: what %.0f sheep find there on "
                     "%s",
                     fw_say_area(winter->area_ha, of->units, area),
                     winter->flock.head, day_words(winter->middle_day, day));
            said(svg, words);
            said(svg, of->units == FW_US ? "stands, 1000 lb" : "stands, t");
            said(svg, "digestible, %");
            said(svg, of->stockpile.winter.line->word);
            if (winter->other_line)
                said(svg, winter->other_line->word);

            /* Each part below its day. */
            for (size_t p = 0; p < winter->part_count; p++) {
                const int closed = winter->parts[p].middle.stand.closed_day;
                const double peak = x_of(&days, closed);
                snprintf(words, sizeof words, "%s closed %s",
                         p == 0 && f < 2 ? "heavy &lt;&amp; old>"
                                         : winter->parts[p].part->name,
                         day_words(closed, day));
                const char *name = said(svg, words);
                const double row = axes[2].bottom + 36 + 17 * (double)p;
                const bool before =
                    peak > axes[2].left + 0.45 * (axes[2].right - axes[2].left);
                assert_near(number(name, "y"), row, 0.06);
                assert_near(number(name, "x"), before ? peak - 9 : peak + 9,
                            0.3);
                assert_int_equal(strncmp(strchr(name, '>') - 4, "none", 4) == 0,
                                 false);
                snprintf(words, sizeof words, "%.1f l5 9 h-10 z", row - 10);
                has_words(svg, words);
            }
            double high = 0, wide = 0;
            assert_int_equal(sscanf(after(svg, "viewBox"),
                                    "viewBox=\"0 0 %lf %lf\"", &wide, &high),
                             2);
            assert_near(wide, axes[2].right + 20, 0.06);
            assert_near(high,
                        axes[2].bottom + 40 + 17 * (double)winter->part_count,
                        0.6);
            fw_bytes_free(svg);
        }
        winter_free(winter);
    }
    assert_true(shaded > 0);
}

/* ---- part by part ---- */

static double per_area(const struct fw_winter *winter, double kg_ha)
{
    return winter->farm->units == FW_US ? kg_ha / 0.45359237 * 0.40468564224
                                        : kg_ha;
}

static void parts_stand_side_by_side(void **state)
{
    (void)state;
    for (int f = 0; f < farm_count; f++) {
        struct fw_winter *winter = winter_of(farms[f]);
        const struct fw_farm *of = winter->farm;
        char *svg = NULL, words[200], day[40];
        assert_int_equal(fw_report_stockpile_parts_svg(winter, &svg, NULL),
                         FW_OK);
        const char *at = svg;
        double most = 0;
        for (size_t p = 0; p < winter->part_count; p++)
            most = fmax(most, winter->parts[p].rows[0].stand.mass_kg_ha);
        for (size_t p = 0; p < winter->part_count; p++) {
            const struct fw_winter_part *part = &winter->parts[p];
            struct axes axes;
            at = read_axes(at, &axes);
            assert_near(axes.left, 96 + 306 * (double)p, 0.06);
            assert_near((axes.bottom - axes.top) / axes.value_pt,
                        1.1 * per_area(winter, most),
                        0.02 * per_area(winter, most));
            /* Month by month from the first wanted day to two weeks after the
             * last row. */
            const int first = of->stockpile.from_day;
            const int last = part->rows[winter->row_count - 1].day + 15;
            const struct days days = {
                axes.left - (axes.right - axes.left) * first / (last - first),
                (axes.right - axes.left) / (last - first)};
            const struct curve stands =
                read_curve(svg, &axes, "#333333", "2.5");
            assert_int_equal(stands.count, winter->row_count);
            for (size_t k = 0; k < winter->row_count; k++) {
                const struct fw_winter_row *row = &part->rows[k];
                assert_near(stands.at[k].x, x_of(&days, row->day), 0.1);
                value_is(&axes, stands.at[k].y,
                         per_area(winter, row->stand.mass_kg_ha));
                snprintf(words, sizeof words, "%.0f", 100 * row->stand.digest);
                char place[80];
                snprintf(place, sizeof place, "<text x=\"%.1f\" y=\"%.1f\" ",
                         stands.at[k].x, axes.bottom + 34);
                const char *text = strchr(after(svg, place), '>') + 1;
                assert_memory_equal(text, words, strlen(words));
            }
            /* What they take, as an area down to the ground. */
            const char *area = path_that(at - 1, "Z\" fill=\"#c9dfae\"");
            const char *from = area + 10;
            for (size_t k = 0; k < winter->row_count + 2; k++) {
                char *next;
                const double x = strtod(from, &next), y = strtod(next, &next);
                from = next + strspn(next, " L");
                const size_t row = k < winter->row_count    ? k
                                   : k == winter->row_count ? k - 1
                                                            : 0;
                assert_near(x, x_of(&days, part->rows[row].day), 0.1);
                if (k < winter->row_count)
                    value_is(
                        &axes, y,
                        per_area(winter, part->rows[k].share *
                                             part->rows[k].stand.mass_kg_ha));
                else
                    assert_near(y, axes.bottom, 0.06);
            }
            /* If all lies open: from the first day up to when the leafy part
             * is cleared, and no more. */
            double x0, y0, x1, y1, x2;
            const char *open =
                path_that(area, "\" fill=\"none\" stroke=\"#b3241e\"");
            assert_int_equal(sscanf(open, "<path d=\"M%lf %lf L%lf %lf H%lf\"",
                                    &x0, &y0, &x1, &y1, &x2),
                             5);
            const int end =
                winter->cleared_day < last ? winter->cleared_day : last;
            double all = per_area(winter, part->open_share *
                                              part->middle.stand.mass_kg_ha);
            if (winter->cleared_day > first)
                all *= (double)(end - first) / (winter->cleared_day - first);
            assert_near(x0, axes.left, 0.1);
            assert_near(y0, axes.bottom, 0.06);
            assert_near(x1, x_of(&days, end), 0.1);
            value_is(&axes, y1, all);
            assert_near(x2, axes.right, 0.06);
            static const char *const conditions[] = {"fresh", "aged", "rank"};
            snprintf(words, sizeof words, "closed %s, %s",
                     day_words(part->middle.stand.closed_day, day),
                     conditions[part->middle.stand.condition]);
            said(svg, words);
            snprintf(words, sizeof words, "fenced apart %.0f %%",
                     100 * part->middle.share);
            said(svg, words);
            snprintf(words, sizeof words, "all open %.0f %%",
                     100 * part->open_share);
            said(svg, words);
            said(svg,
                 p == 0 && f < 2 ? "heavy &lt;&amp; old>" : part->part->name);
        }
        said(svg, of->units == FW_US ? "lb/acre" : "kg/ha");
        said(svg, winter->part_count == 2 ? "taken if both lie open"
                                          : "taken if all lie open");
        double high = 0, wide = 0;
        assert_int_equal(sscanf(after(svg, "viewBox"),
                                "viewBox=\"0 0 %lf %lf\"", &wide, &high),
                         2);
        assert_near(wide, fmax(96 + 306 * (double)winter->part_count, 600), 1);
        assert_near(high, 92 + 260 + 132, 0.6);
        fw_bytes_free(svg);
        winter_free(winter);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(lines_are_those_of_the_closings),
        cmocka_unit_test(days_and_parts_are_marked),
        cmocka_unit_test(parts_stand_side_by_side),
    };
    return cmocka_run_group_tests_name("picture_stockpile", tests, farm_set_up,
                                       farm_tear_down);
}
