/* Words by pango. The family is the generic one, so that whatever fonts a
 * machine has will do; metrics are not hinted, so that a page is laid out alike
 * for a screen and for a printer. */
#include "paper/setter.h"

#include "base/alloc.h"
#include "base/array.h"
#include "base/fail.h"
#include "base/text.h"

#include <string.h>

PangoLayout *fw_paper__set(const struct fw_setter *setter, const char *words,
                           const struct fw_type *type, struct fw_box *box)
{
    PangoLayout *layout = setter->layout;
    PangoRectangle area;
    pango_font_description_set_weight(
        setter->font, type->bold ? PANGO_WEIGHT_BOLD : PANGO_WEIGHT_NORMAL);
    pango_font_description_set_size(setter->font,
                                    pango_units_from_double(type->size_pt));
    pango_layout_set_font_description(layout, setter->font);
    pango_layout_set_width(layout, type->wide_pt > 0
                                       ? pango_units_from_double(type->wide_pt)
                                       : -1);
    pango_layout_set_wrap(layout, PANGO_WRAP_WORD_CHAR);
    pango_layout_set_ellipsize(layout, type->most_lines > 0
                                           ? PANGO_ELLIPSIZE_END
                                           : PANGO_ELLIPSIZE_NONE);
    pango_layout_set_height(layout,
                            type->most_lines > 0 ? -type->most_lines : -1);
    pango_layout_set_alignment(layout, type->centred ? PANGO_ALIGN_CENTER
                                                     : PANGO_ALIGN_LEFT);
    pango_layout_set_text(layout, words, -1);
    pango_layout_get_extents(layout, NULL, &area);
    *box = (struct fw_box){pango_units_to_double(area.x),
                           pango_units_to_double(area.y),
                           pango_units_to_double(area.width),
                           pango_units_to_double(area.height), 0};
    return layout;
}

static void free_setter(struct fw_setter *setter)
{
    if (!setter)
        return;
    pango_font_description_free(setter->font);
    g_object_unref(setter->layout);
    g_object_unref(setter->context);
    g_object_unref(setter->map);
    fw_free(setter);
}

static struct fw_setter *new_setter(void)
{
    struct fw_setter *setter = fw_alloc(1, sizeof *setter);
    if (!setter)
        return NULL;
    setter->map = pango_cairo_font_map_new();
    pango_cairo_font_map_set_resolution(PANGO_CAIRO_FONT_MAP(setter->map), 72);
    setter->context = pango_font_map_create_context(setter->map);
    pango_context_set_language(setter->context,
                               pango_language_from_string("en"));
    cairo_font_options_t *options = cairo_font_options_create();
    cairo_font_options_set_hint_metrics(options, CAIRO_HINT_METRICS_OFF);
    cairo_font_options_set_hint_style(options, CAIRO_HINT_STYLE_NONE);
    cairo_font_options_set_antialias(options, CAIRO_ANTIALIAS_GRAY);
    pango_cairo_context_set_font_options(setter->context, options);
    cairo_font_options_destroy(options);
    pango_context_set_round_glyph_positions(setter->context, FALSE);
    setter->layout = pango_layout_new(setter->context);
    setter->font = pango_font_description_from_string("Sans");
    return setter;
}

enum fw_status fw_paper_new(const char *title, struct fw_paper **out,
                            struct fw_error *err)
{
    const struct fw_type type = {.size_pt = 9};
    struct fw_box box;
    struct fw_paper *paper = fw_alloc(1, sizeof *paper);
    if (!paper)
        return fw_fail_memory(err);
    paper->title = fw_strdup(title);
    paper->setter = new_setter();
    if (!paper->title || !paper->setter) {
        fw_paper_free(paper);
        return fw_fail_memory(err);
    }
    if (pango_layout_get_unknown_glyphs_count(
            fw_paper__set(paper->setter, "A1", &type, &box)) > 0) {
        fw_paper_free(paper);
        return fw_fail(err, FW_EOUTPUT,
                       "this machine has no font to print with; install one "
                       "(Debian: fonts-dejavu-core)");
    }
    *out = paper;
    return FW_OK;
}

static void free_page(struct fw_page *page)
{
    for (size_t i = 0; i < page->count; i++) {
        fw_free(page->marks[i].words);
        fw_free(page->marks[i].points);
        fw_free(page->marks[i].ring_start);
    }
    fw_free(page->marks);
}

void fw_paper_free(struct fw_paper *paper)
{
    if (!paper)
        return;
    for (size_t i = 0; i < paper->count; i++)
        free_page(&paper->pages[i]);
    for (size_t i = 0; i < paper->unknown_count; i++)
        fw_free(paper->unknown[i]);
    fw_free(paper->unknown);
    fw_free(paper->pages);
    fw_free(paper->title);
    free_setter(paper->setter);
    fw_free(paper);
}

static void note_unknown(struct fw_paper *paper, const char *words)
{
    for (size_t i = 0; i < paper->unknown_count; i++)
        if (strcmp(paper->unknown[i], words) == 0)
            return;
    char *copy = fw_strdup(words);
    if (!copy || fw_array_reserve(&paper->unknown, &paper->unknown_capacity,
                                  paper->unknown_count + 1,
                                  sizeof *paper->unknown, NULL)) {
        fw_free(copy);
        paper->failed = true;
        return;
    }
    paper->unknown[paper->unknown_count++] = copy;
}

void fw_paper_measure(struct fw_paper *paper, const char *words,
                      const struct fw_type *type, double *wide, double *high)
{
    struct fw_box box;
    if (pango_layout_get_unknown_glyphs_count(
            fw_paper__set(paper->setter, words, type, &box)) > 0)
        note_unknown(paper, words);
    *wide = box.wide;
    *high = box.high;
}

/* Pictures: Unicode has them in one stretch, and GLib no word for it. */
static bool is_picture(gunichar letter)
{
    return letter >= 0x1f000 && letter <= 0x1faff;
}

/* What is set in squares, and the narrow letters of the same scripts. */
static bool is_of_squares(gunichar letter)
{
    const GUnicodeScript script = g_unichar_get_script(letter);
    return g_unichar_iswide(letter) || script == G_UNICODE_SCRIPT_HANGUL ||
           script == G_UNICODE_SCRIPT_KATAKANA;
}

/* What is neither, the package with most scripts has. */
const char *fw_paper_font_package(const char *words)
{
    for (const char *at = words; *at; at = g_utf8_next_char(at)) {
        const gunichar letter = g_utf8_get_char(at);
        if (is_picture(letter))
            return "fonts-noto-color-emoji";
        if (is_of_squares(letter))
            return "fonts-noto-cjk";
    }
    return "fonts-noto-core";
}
