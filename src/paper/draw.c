/* Pages as PDF, SVG or PNG, by cairo: all three of the same marks. */
#include "paper/setter.h"

#include "base/alloc.h"
#include "base/angle.h"
#include "base/array.h"
#include "base/fail.h"
#include "base/progress.h"
#include "base/text.h"

#include <cairo-pdf.h>
#include <cairo-svg.h>
#include <foldwright/date.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

/* ---- pens ---- */

static const struct {
    double wide_pt, grey; /* of its line; 0: none */
    double dash[4];
    int dash_count;
    double fill; /* grey of its inside, 0 black to 1 white; negative: none */
    bool hatched;
} pens[FW_PEN_COUNT] = {
    [FW_PEN_HAIR] = {0.4, 0.45, {0}, 0, -1, false},
    [FW_PEN_FINE] = {0.5, 0, {0}, 0, -1, false},
    [FW_PEN_PLAIN] = {1, 0, {0}, 0, -1, false},
    [FW_PEN_HEAVY] = {2, 0, {0}, 0, -1, false},
    [FW_PEN_DOUBLE] = {2.8, 0, {0}, 0, -1, false},
    [FW_PEN_BOLD] = {3, 0, {0}, 0, -1, false},
    [FW_PEN_DASHED] = {1, 0, {4, 2.5}, 2, -1, false},
    [FW_PEN_LONG] = {1.6, 0, {11, 3}, 2, -1, false},
    [FW_PEN_DOTTED] = {1.2, 0, {7, 2, 1.2, 2}, 4, -1, false},
    [FW_PEN_BAR] = {2.4, 0, {0}, 0, -1, false},
    [FW_PEN_HATCHED] = {0.5, 0, {0}, 0, -1, true},
    [FW_PEN_SHADED] = {0, 0, {0}, 0, 0.88, false},
    [FW_PEN_SOLID] = {0, 0, {0}, 0, 0, false},
    [FW_PEN_WHITE] = {0.7, 0, {0}, 0, 1, false},
};

static void trace(cairo_t *cairo, const struct fw_xy *points, size_t count)
{
    for (size_t i = 0; i < count; i++)
        cairo_line_to(cairo, points[i].x, points[i].y);
}

static void trace_rings(cairo_t *cairo, const struct fw_paper_mark *mark)
{
    for (size_t r = 0; r < mark->count; r++) {
        cairo_new_sub_path(cairo);
        trace(cairo, mark->points + mark->ring_start[r],
              mark->ring_start[r + 1] - mark->ring_start[r]);
        cairo_close_path(cairo);
    }
}

/* Lines at 45 degrees over the box of the area, seen through it. */
static void hatch(cairo_t *cairo, const struct fw_paper_mark *mark)
{
    const double gap = 3.5;
    double x0, y0, x1, y1;
    cairo_save(cairo);
    trace_rings(cairo, mark);
    cairo_path_extents(cairo, &x0, &y0, &x1, &y1);
    cairo_clip(cairo);
    cairo_set_line_width(cairo, 0.5);
    /* Begun on a round number, so that two areas side by side are hatched as
     * one. */
    const double first = gap * floor((x0 + y0) / gap);
    for (int i = 0; first + i * gap < x1 + y1; i++) {
        const double at = first + i * gap;
        cairo_move_to(cairo, at - y0, y0);
        cairo_line_to(cairo, at - y1, y1);
    }
    cairo_stroke(cairo);
    cairo_restore(cairo);
}

static void draw_line(cairo_t *cairo, enum fw_pen pen)
{
    cairo_set_source_rgb(cairo, pens[pen].grey, pens[pen].grey, pens[pen].grey);
    cairo_set_line_width(cairo, pens[pen].wide_pt);
    cairo_set_dash(cairo, pens[pen].dash, pens[pen].dash_count, 0);
    if (pen == FW_PEN_DOUBLE) { /* white between its two */
        const double between_pt = 1.4;
        cairo_stroke_preserve(cairo);
        cairo_set_source_rgb(cairo, 1, 1, 1);
        cairo_set_line_width(cairo, between_pt);
    }
    cairo_stroke(cairo);
    cairo_set_dash(cairo, NULL, 0, 0);
}

static void draw_shape(cairo_t *cairo, const struct fw_paper_mark *mark)
{
    const enum fw_pen pen = mark->pen;
    const double fill = pens[pen].fill;
    if (mark->kind == FW_PAPER_LINE) {
        cairo_new_path(cairo);
        trace(cairo, mark->points, mark->count);
        draw_line(cairo, pen);
        return;
    }
    cairo_set_source_rgb(cairo, 0, 0, 0);
    if (pens[pen].hatched)
        hatch(cairo, mark);
    trace_rings(cairo, mark);
    if (fill >= 0) {
        cairo_set_source_rgb(cairo, fill, fill, fill);
        cairo_fill_preserve(cairo);
    }
    if (pens[pen].wide_pt > 0)
        draw_line(cairo, pen);
    cairo_new_path(cairo);
}

static void draw_words(cairo_t *cairo, const struct fw_setter *setter,
                       const struct fw_paper_mark *mark)
{
    const double halo_pt = 2.2;
    struct fw_box set;
    PangoLayout *layout = fw_paper__set(setter, mark->words, &mark->type, &set);
    cairo_save(cairo);
    cairo_translate(cairo, mark->box.x, mark->box.y);
    cairo_rotate(cairo, mark->box.turn_deg / FW_RADIAN_DEG);
    cairo_set_source_rgb(cairo, 1, 1, 1);
    if (mark->type.behind == FW_BEHIND_BLANK) {
        cairo_rectangle(cairo, -set.wide / 2, -set.high / 2, set.wide,
                        set.high);
        cairo_fill(cairo);
    }
    cairo_move_to(cairo, -set.wide / 2 - set.x, -set.high / 2 - set.y);
    if (mark->type.behind == FW_BEHIND_HALO) {
        cairo_set_line_width(cairo, halo_pt);
        pango_cairo_layout_path(cairo, layout);
        cairo_stroke(cairo);
        cairo_move_to(cairo, -set.wide / 2 - set.x, -set.high / 2 - set.y);
    }
    cairo_set_source_rgb(cairo, 0, 0, 0);
    pango_cairo_show_layout(cairo, layout);
    cairo_restore(cairo);
}

static void draw_page(cairo_t *cairo, const struct fw_paper *paper,
                      const struct fw_page *page)
{
    cairo_set_line_join(cairo, CAIRO_LINE_JOIN_ROUND);
    cairo_set_line_cap(cairo, CAIRO_LINE_CAP_BUTT);
    /* A hole is one whichever way round its ring goes. */
    cairo_set_fill_rule(cairo, CAIRO_FILL_RULE_EVEN_ODD);
    for (size_t i = 0; i < page->count; i++)
        if (page->marks[i].kind == FW_PAPER_WORDS)
            draw_words(cairo, paper->setter, &page->marks[i]);
        else
            draw_shape(cairo, &page->marks[i]);
}

/* ---- bytes ---- */

static cairo_status_t collect(void *of, const unsigned char *bytes,
                              unsigned count)
{
    struct fw_text *text = of;
    fw_text_add_bytes(text, (const char *)bytes, count);
    return text->failed ? CAIRO_STATUS_NO_MEMORY : CAIRO_STATUS_SUCCESS;
}

static cairo_status_t finish(cairo_t *cairo, cairo_surface_t *surface)
{
    cairo_status_t status = cairo_status(cairo);
    cairo_destroy(cairo);
    cairo_surface_finish(surface);
    if (!status)
        status = cairo_surface_status(surface);
    cairo_surface_destroy(surface);
    return status;
}

static cairo_status_t draw_pdf(const struct fw_paper *paper, long long epoch_s,
                               struct fw_text *text)
{
    cairo_surface_t *surface =
        cairo_pdf_surface_create_for_stream(collect, text, 72, 72);
    const long long day_s = 86400;
    const int day = (int)(epoch_s / day_s);
    const int second = (int)(epoch_s - day * day_s);
    char date[FW_DATE_TEXT], when[64];
    snprintf(when, sizeof when, "%sT%02d:%02d:%02dZ", fw_date_write(day, date),
             second / 3600, second / 60 % 60, second % 60);
    cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_TITLE,
                                   paper->title);
    cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_CREATE_DATE,
                                   when);
    cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_MOD_DATE, when);
    cairo_t *cairo = cairo_create(surface);
    for (size_t i = 0; i < paper->count; i++) {
        const struct fw_page *page = &paper->pages[i];
        const struct fw_progress whole = fw_progress_enter(i, paper->count);
        cairo_pdf_surface_set_size(surface, page->wide, page->high);
        draw_page(cairo, paper, page);
        cairo_show_page(cairo);
        fw_progress_leave(whole);
    }
    return finish(cairo, surface);
}

/* The drawings, one below the other, with the origin moved to each. */
static void draw_pictures(cairo_t *cairo, const struct fw_paper *paper)
{
    double top = 0;
    cairo_set_source_rgb(cairo, 1, 1, 1);
    cairo_paint(cairo);
    for (size_t i = 0; i < paper->count; i++) {
        const struct fw_page *page = &paper->pages[i];
        if (!page->drawing)
            continue;
        cairo_save(cairo);
        cairo_translate(cairo, 0, top);
        draw_page(cairo, paper, page);
        cairo_restore(cairo);
        top += page->high;
    }
}

static struct fw_xy size_of(const struct fw_paper *paper)
{
    struct fw_xy size = {1, 1};
    double high = 0;
    for (size_t i = 0; i < paper->count; i++)
        if (paper->pages[i].drawing) {
            size.x = fmax(size.x, paper->pages[i].wide);
            high += paper->pages[i].high;
        }
    size.y = fmax(size.y, high);
    return size;
}

/* cairo numbers the surfaces of a process, and writes the number as an id;
 * here each is called by the order in which it comes. */
static void renumber(struct fw_text *text, const struct fw_text *svg)
{
    static const char word[] = "surface";
    const size_t length = sizeof word - 1;
    const char *from = svg->bytes;
    char *last = NULL;
    unsigned long first = 0;
    for (const char *at = strstr(from, word); at; at = strstr(at, word)) {
        at += length;
        const unsigned long number = strtoul(at, &last, 10);
        if (last == at)
            continue;
        first = first ? first : number;
        fw_text_add_bytes(text, from, (size_t)(at - from));
        fw_text_addf(text, "%lu", number - first);
        from = at = last;
    }
    fw_text_add(text, from);
}

static cairo_status_t draw_svg(const struct fw_paper *paper,
                               struct fw_text *text)
{
    const struct fw_xy size = size_of(paper);
    struct fw_text svg = {0};
    cairo_surface_t *surface =
        cairo_svg_surface_create_for_stream(collect, &svg, size.x, size.y);
    cairo_t *cairo = cairo_create(surface);
    draw_pictures(cairo, paper);
    const cairo_status_t status = finish(cairo, surface);
    if (!status)
        renumber(text, &svg);
    text->failed |= svg.failed;
    fw_text_release(&svg);
    return status;
}

static cairo_status_t draw_png(const struct fw_paper *paper,
                               struct fw_text *text)
{
    const double dots_inch = 150, most_dots = 16000;
    const struct fw_xy size = size_of(paper);
    const double dots = fmin(dots_inch / 72, most_dots / fmax(size.x, size.y));
    cairo_surface_t *surface = cairo_image_surface_create(
        CAIRO_FORMAT_RGB24, (int)ceil(size.x * dots), (int)ceil(size.y * dots));
    cairo_t *cairo = cairo_create(surface);
    cairo_scale(cairo, dots, dots);
    draw_pictures(cairo, paper);
    cairo_status_t status = cairo_status(cairo);
    if (!status)
        status = cairo_surface_write_to_png_stream(surface, collect, text);
    const cairo_status_t done = finish(cairo, surface);
    return status ? status : done;
}

enum fw_status fw_paper_draw(const struct fw_paper *paper,
                             enum fw_paper_form form, long long epoch_s,
                             char **out, size_t *count, struct fw_error *err)
{
    struct fw_text text = {0};
    if (paper->failed)
        return fw_fail_memory(err);
    const cairo_status_t status =
        form == FW_PAPER_PDF   ? draw_pdf(paper, epoch_s, &text)
        : form == FW_PAPER_SVG ? draw_svg(paper, &text)
                               : draw_png(paper, &text);
    if (!status && !text.failed) {
        *out = text.bytes;
        *count = text.length;
        return FW_OK;
    }
    const bool no_room = text.failed; /* which cairo does not always pass on */
    fw_text_release(&text);
    if (status == CAIRO_STATUS_NO_MEMORY || no_room)
        return fw_fail_memory(err);
    return fw_fail(err, FW_EOUTPUT, "it cannot be drawn: %s",
                   cairo_status_to_string(status));
}
