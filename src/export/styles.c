#include "export/styles.h"

#include <string.h>

#define AREA(layer, value, label, colour, width, fill, opacity)                \
    {                                                                          \
        FW_LAYER_##layer, value, label, colour, width, fill, opacity, NULL     \
    }
#define LINE(layer, value, label, colour, width)                               \
    {                                                                          \
        FW_LAYER_##layer, value, label, colour, width, NULL, 0, NULL           \
    }
#define SPOT(layer, value, label, colour, size, symbol)                        \
    {                                                                          \
        FW_LAYER_##layer, value, label, colour, size, NULL, 0, symbol          \
    }

enum { small = 4, medium = 8 }; /* markers, in pixels */

/* Lines that stand beside each other differ in lightness too, for those who see
 * few colours. */
const struct fw_report_style fw_export__styles[] = {
    AREA(FIELDS, NULL, "field", "#3d4f2f", 2, "#b9c79a", 0.1),
    AREA(PADDOCKS, NULL, "paddock", "#6d8746", 1, "#8fb04e", 0.35),
    AREA(LANES, NULL, "lane", "#9a8a5a", 1, "#d8cf9f", 0.35),
    LINE(FENCES, "perimeter", "boundary", "#2b2b2b", 3),
    LINE(FENCES, "standing", "stands until its block is done", "#6a3d9a", 3),
    LINE(FENCES, "lane", "beside a lane", "#a67c00", 2),
    LINE(FENCES, "moved", "moved with the flock", "#e0571b", 2),
    SPOT(POSTS, NULL, "post", "#c9b79c", small, NULL),
    SPOT(WATER, NULL, "water", "#2f6f9f", medium, "water"),
    SPOT(GATES, NULL, "gate or opening", "#54473a", medium, NULL),
    SPOT(ENERGIZER, NULL, "energizer", "#c79a1b", medium, NULL),
    SPOT(FINDINGS, "danger", "danger", "#c2281d", medium, "danger"),
    SPOT(FINDINGS, "warning", "warning", "#d98a00", medium, "danger"),
    SPOT(FINDINGS, "note", "note", "#5b6770", medium, "danger"),
};
const size_t fw_export__style_count =
    sizeof fw_export__styles / sizeof fw_export__styles[0];

const char *fw_export__style_column(enum fw_report_layer layer)
{
    if (layer == FW_LAYER_FENCES)
        return "role";
    return layer == FW_LAYER_FINDINGS ? "level" : NULL;
}

static const char *value_of(const struct fw_table *table,
                            const struct fw_row *row, const char *column)
{
    for (size_t i = 0; column && i < table->column_count; i++)
        if (strcmp(table->columns[i].name, column) == 0)
            return row->values[i].text;
    return NULL;
}

const struct fw_report_style *fw_export__style_of(const struct fw_table *table,
                                                  enum fw_report_layer layer,
                                                  const struct fw_row *row)
{
    const char *value = value_of(table, row, fw_export__style_column(layer));
    const struct fw_report_style *found = NULL;
    for (size_t i = 0; i < fw_export__style_count; i++) {
        const struct fw_report_style *style = &fw_export__styles[i];
        if (style->layer == layer &&
            (!found ||
             (value && style->value && strcmp(style->value, value) == 0)))
            found = style;
    }
    return found;
}

static void member(struct fw_text *text, const char *name, const char *value)
{
    fw_text_add_json(text, name);
    fw_text_add(text, ": ");
    fw_text_add_json(text, value);
}

void fw_export__simplestyle(struct fw_text *text,
                            const struct fw_report_style *style)
{
    if (style->layer < FW_LAYER_POSTS) {
        member(text, "stroke", style->colour);
        fw_text_add(text, ", \"stroke-width\": ");
        fw_text_add_number(text, style->width_px);
        if (!style->fill)
            return;
        fw_text_add(text, ", ");
        member(text, "fill", style->fill);
        fw_text_add(text, ", \"fill-opacity\": ");
        fw_text_add_number(text, style->opacity);
        return;
    }
    member(text, "marker-color", style->colour);
    if (style->width_px <= small)
        fw_text_add(text, ", \"marker-size\": \"small\"");
    if (style->symbol) {
        fw_text_add(text, ", ");
        member(text, "marker-symbol", style->symbol);
    }
}
