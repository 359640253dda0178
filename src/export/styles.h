/* How each layer is drawn: one table for plan.geojson and plan.gpkg. */
#ifndef FW_EXPORT_STYLES_H
#define FW_EXPORT_STYLES_H

#include "base/text.h"
#include "export/layers.h"

struct fw_report_style {
    enum fw_report_layer layer;
    const char *value; /* of the layer's column of styles; NULL: whatever */
    const char *label;
    const char *colour; /* "#rrggbb": of strokes, or all of a marker */
    double width_px;    /* of strokes; of a marker its size */
    const char *fill;   /* NULL: none */
    double opacity;     /* of the fill */
    const char *symbol; /* of a marker, by simplestyle; NULL: a plain one */
};

/* All rows; those of a layer follow each other. */
extern const struct fw_report_style fw_export__styles[];
extern const size_t fw_export__style_count;

/* The column whose values tell a layer's styles apart; NULL: it has one. */
const char *fw_export__style_column(enum fw_report_layer layer);

/* The style of a row. */
const struct fw_report_style *fw_export__style_of(const struct fw_table *table,
                                                  enum fw_report_layer layer,
                                                  const struct fw_row *row);

/* As members of a feature's properties, by simplestyle 1.1. */
void fw_export__simplestyle(struct fw_text *text,
                            const struct fw_report_style *style);

/* As documents: of QGIS, and OGC Styled Layer Descriptor 1.0. */
void fw_export__qml(struct fw_text *text, enum fw_report_layer layer);
void fw_export__sld(struct fw_text *text, enum fw_report_layer layer);

/* The rows of layer_styles in plan.gpkg: one for each layer with a geometry. */
enum { FW_REPORT_STYLE_COLUMNS = 12 };
extern const struct fw_column fw_export__style_columns[FW_REPORT_STYLE_COLUMNS];
void fw_export__fill_style(const struct fw_plan *plan, size_t i,
                           struct fw_row *row, bool *failed);

#endif
