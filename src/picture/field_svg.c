/* The fields as a picture: corners numbered, sides lengthed, north up. */
#include "picture/picture.h"
#include "picture/stockpile_plot.h"
#include "report/report.h"

#include "base/fail.h"
#include "base/length.h"

#include <math.h>
#include <stdio.h>

/* One field is drawn on a square of this many units, labels outside. */
static const double size = 640;
static const double margin = 70;
static const double gate_half = 6, water_radius = 7;

struct view {
    double x0, y1, scale, top;
};

static void fit(const struct fw_field *field, double top, struct view *view,
                double *height)
{
    double x0 = (double)INFINITY, x1 = -(double)INFINITY, y0 = (double)INFINITY,
           y1 = -(double)INFINITY;
    for (size_t i = 0; i < field->vertex_count; i++) {
        const struct fw_point p = field->vertices[i].plane;
        x0 = fmin(x0, p.x_m);
        x1 = fmax(x1, p.x_m);
        y0 = fmin(y0, p.y_m);
        y1 = fmax(y1, p.y_m);
    }
    const double scale = size / fmax(x1 - x0, y1 - y0);
    *view = (struct view){x0, y1, scale, top};
    *height = (y1 - y0) * scale + 2 * margin;
}

static struct fw_xy on_page(const struct view *view, struct fw_point p)
{
    const struct fw_xy at = {margin + (p.x_m - view->x0) * view->scale,
                             view->top + margin +
                                 (view->y1 - p.y_m) * view->scale};
    return at;
}

static void path(struct fw_text *text, const struct view *view,
                 const struct fw_field *field)
{
    fw_text_add(text, "  <path fill=\"#e8eed9\" stroke=\"#3d4f2f\" "
                      "stroke-width=\"2\" fill-rule=\"evenodd\" d=\"");
    for (size_t r = 0; r < field->ring_count; r++) {
        for (size_t i = field->ring_start[r]; i < field->ring_start[r + 1];
             i++) {
            const struct fw_xy at = on_page(view, field->vertices[i].plane);
            fw_text_addf(text, "%s%.1f %.1f",
                         i == field->ring_start[r] ? "M" : " L", at.x, at.y);
        }
        fw_text_add(text, " Z ");
    }
    fw_text_add(text, "\"/>\n");
}

/* Labels stand outside the boundary: to the left of a side walked clockwise.
 * The normal of a corner is that of its two sides together. */
static struct fw_xy outward(struct fw_point a, struct fw_point b)
{
    const double dx = b.x_m - a.x_m, dy = b.y_m - a.y_m;
    const double length = fw_length(dx, dy);
    const struct fw_xy normal = {-dy / length, -dx / length};
    return normal; /* on the page, where y runs down */
}

static void label(struct fw_text *text, struct fw_xy at, struct fw_xy normal,
                  double away, const char *style, const char *words)
{
    const char *anchor = normal.x > 0.3    ? "start"
                         : normal.x < -0.3 ? "end"
                                           : "middle";
    fw_text_addf(text,
                 "  <text x=\"%.1f\" y=\"%.1f\" text-anchor=\"%s\" "
                 "dominant-baseline=\"middle\" %s>%s</text>\n",
                 at.x + away * normal.x, at.y + away * normal.y, anchor, style,
                 words);
}

static void corners(struct fw_text *text, const struct view *view,
                    const struct fw_field *field, enum fw_units units)
{
    const size_t n = field->corner_count;
    for (size_t i = 0; i < n; i++) {
        const struct fw_point before =
            field->vertices[field->corners[(i + n - 1) % n]].plane;
        const struct fw_point here = field->vertices[field->corners[i]].plane;
        const struct fw_point next =
            field->vertices[field->corners[(i + 1) % n]].plane;
        const struct fw_xy in = outward(before, here);
        const struct fw_xy out = outward(here, next);
        const double sum = fmax(fw_length(in.x + out.x, in.y + out.y), 1e-3);
        const struct fw_xy normal = {(in.x + out.x) / sum,
                                     (in.y + out.y) / sum};
        const struct fw_xy at = on_page(view, here);
        char words[FW_WORDS];
        fw_text_addf(text,
                     "  <circle cx=\"%.1f\" cy=\"%.1f\" r=\"4\" "
                     "fill=\"#b3541e\"/>\n",
                     at.x, at.y);
        snprintf(words, sizeof words, "%u", (unsigned)i + 1);
        label(text, at, normal, 14,
              "font-weight=\"bold\" font-size=\"16\" fill=\"#b3541e\"", words);
        const struct fw_point middle = {(here.x_m + next.x_m) / 2,
                                        (here.y_m + next.y_m) / 2};
        fw_report_length(fw_field_side_m(field, i), units, words);
        label(text, on_page(view, middle), out, 15,
              "font-size=\"12\" fill=\"#333333\"", words);
    }
}

/* Beside the gate's square where the water's disc would lie on it: both may be
 * told at one corner. */
static struct fw_xy beside(struct fw_xy gate, struct fw_xy water)
{
    const double apart = gate_half + water_radius + 1;
    if (fabs(water.x - gate.x) < apart && fabs(water.y - gate.y) < apart)
        water.x = gate.x + (water.x < gate.x ? -apart : apart);
    return water;
}

static void places(struct fw_text *text, const struct view *view,
                   const struct fw_farm_field *field)
{
    const struct fw_xy gate = on_page(view, field->gate.point);
    struct fw_xy water = on_page(view, field->water.point);
    if (field->gate.given) {
        fw_text_addf(text,
                     "  <rect x=\"%.1f\" y=\"%.1f\" width=\"%.0f\" "
                     "height=\"%.0f\" fill=\"#54473a\"><title>gate</title>"
                     "</rect>\n",
                     gate.x - gate_half, gate.y - gate_half, 2 * gate_half,
                     2 * gate_half);
        water = beside(gate, water);
    }
    if (field->water.given)
        fw_text_addf(text,
                     "  <circle cx=\"%.1f\" cy=\"%.1f\" r=\"%.0f\" "
                     "fill=\"#2f6f9f\"><title>water</title></circle>\n",
                     water.x, water.y, water_radius);
}

static void one_field(struct fw_text *text, const struct fw_farm *farm,
                      const struct fw_farm_field *field, double *top)
{
    struct view view;
    double height;
    char area[FW_WORDS];
    fit(field->shape, *top + 30, &view, &height);
    fw_text_addf(text,
                 "  <text x=\"%.1f\" y=\"%.1f\" font-size=\"18\" "
                 "font-weight=\"bold\">",
                 margin, *top + 26);
    fw_picture__svg_escaped(text, field->shape->name);
    fw_text_addf(
        text, ", %s</text>\n",
        fw_report_area(field->shape->ellipsoid_m2 / 1e4, farm->units, area));
    path(text, &view, field->shape);
    corners(text, &view, field->shape, farm->units);
    places(text, &view, field);
    *top += height + 30;
}

enum fw_status fw_report_field_svg(const struct fw_farm *farm, char **out,
                                   struct fw_error *err)
{
    struct fw_text body = {0}, text = {0};
    double top = 0;
    for (size_t i = 0; i < farm->field_count; i++)
        one_field(&body, farm, &farm->fields[i], &top);
    const double wide = size + 2 * margin;
    fw_text_addf(&text,
                 FW_REPORT_SVG_BEGIN
                 "\n<svg xmlns=\"http://www.w3.org/2000/svg\" "
                 "viewBox=\"0 0 %.0f %.0f\" width=\"%.0f\" height=\"%.0f\" "
                 "font-family=\"sans-serif\">\n"
                 "  <desc>%s</desc>\n"
                 "  <rect width=\"%.0f\" height=\"%.0f\" fill=\"#ffffff\"/>\n",
                 wide, top, wide, top, fw_report_first_words, wide, top);
    fw_text_addf(&text,
                 "  <path d=\"M%.0f 48 L%.0f 20 L%.0f 48\" fill=\"none\" "
                 "stroke=\"#333333\" stroke-width=\"2\"/>\n"
                 "  <text x=\"%.0f\" y=\"64\" text-anchor=\"middle\" "
                 "font-size=\"14\">N</text>\n",
                 wide - 48, wide - 40, wide - 32, wide - 40);
    if (body.bytes)
        fw_text_add(&text, body.bytes);
    text.failed |= body.failed;
    fw_text_release(&body);
    fw_text_add(&text, "</svg>\n");
    return fw_report_give(&text, out, NULL, err);
}
