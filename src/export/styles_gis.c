/* Styles as the documents that a GIS reads from the table layer_styles. */
#include "export/styles.h"

#include <stdlib.h>

/* 96 pixels are an inch, by the W3C's CSS Values and Units. */
static const double mm_per_px = 25.4 / 96;

enum geometry { POINTS, LINES, AREAS };

static enum geometry geometry_of(enum fw_report_layer layer)
{
    if (layer < FW_LAYER_FENCES)
        return AREAS;
    return layer == FW_LAYER_FENCES ? LINES : POINTS;
}

/* ---- QGIS ---- */

static void prop(struct fw_text *text, const char *key, const char *value)
{
    fw_text_addf(text, "<prop k=\"%s\" v=\"%s\"/>", key, value);
}

static void prop_mm(struct fw_text *text, const char *key, double px)
{
    fw_text_addf(text, "<prop k=\"%s\" v=\"", key);
    fw_text_add_fixed(text, px * mm_per_px, 2);
    fw_text_addf(text, "\"/><prop k=\"%s_unit\" v=\"MM\"/>", key);
}

/* "#c2281d" as "194,40,29,255" */
static void prop_colour(struct fw_text *text, const char *key, const char *hex,
                        double opacity)
{
    const unsigned long rgb = strtoul(hex + 1, NULL, 16);
    fw_text_addf(text, "<prop k=\"%s\" v=\"%lu,%lu,%lu,%.0f\"/>", key,
                 rgb >> 16, rgb >> 8 & 255, rgb & 255, 255 * opacity);
}

static void qml_symbol(struct fw_text *text,
                       const struct fw_report_style *style, size_t number)
{
    static const struct {
        const char *type, *class;
    } kinds[] = {{"marker", "SimpleMarker"},
                 {"line", "SimpleLine"},
                 {"fill", "SimpleFill"}};
    const enum geometry kind = geometry_of(style->layer);
    fw_text_addf(text,
                 "<symbol type=\"%s\" name=\"%zu\" alpha=\"1\">"
                 "<layer class=\"%s\" pass=\"0\" locked=\"0\" enabled=\"1\">",
                 kinds[kind].type, number, kinds[kind].class);
    switch (kind) {
    case POINTS:
        prop(text, "name", "circle");
        prop_colour(text, "color", style->colour, 1);
        prop_mm(text, "size", style->width_px);
        break;
    case LINES:
        prop_colour(text, "line_color", style->colour, 1);
        prop_mm(text, "line_width", style->width_px);
        break;
    case AREAS:
        prop_colour(text, "color", style->fill, style->opacity);
        prop_colour(text, "outline_color", style->colour, 1);
        prop_mm(text, "outline_width", style->width_px);
        break;
    }
    fw_text_add(text, "</layer></symbol>");
}

static const struct fw_report_style *style_at(enum fw_report_layer layer,
                                              size_t number)
{
    for (size_t i = 0; i < fw_export__style_count; i++)
        if (fw_export__styles[i].layer == layer && number-- == 0)
            return &fw_export__styles[i];
    return NULL;
}

void fw_export__qml(struct fw_text *text, enum fw_report_layer layer)
{
    const char *column = fw_export__style_column(layer);
    const struct fw_report_style *style;
    fw_text_add(text,
                "<!DOCTYPE qgis PUBLIC 'http://mrcc.com/qgis.dtd' 'SYSTEM'>"
                "<qgis version=\"3.22.0\" styleCategories=\"Symbology\">");
    if (column) {
        fw_text_addf(text,
                     "<renderer-v2 type=\"categorizedSymbol\" attr=\"%s\">"
                     "<categories>",
                     column);
        for (size_t i = 0; (style = style_at(layer, i)); i++)
            fw_text_addf(text,
                         "<category render=\"true\" symbol=\"%zu\" "
                         "value=\"%s\" label=\"%s\"/>",
                         i, style->value, style->label);
        fw_text_add(text, "</categories>");
    } else {
        fw_text_add(text, "<renderer-v2 type=\"singleSymbol\">");
    }
    fw_text_add(text, "<symbols>");
    for (size_t i = 0; (style = style_at(layer, i)); i++)
        qml_symbol(text, style, i);
    fw_text_addf(text,
                 "</symbols></renderer-v2><layerGeometryType>%d"
                 "</layerGeometryType></qgis>",
                 (int)geometry_of(layer));
}

/* ---- OGC ---- */

static void css(struct fw_text *text, const char *name, const char *value)
{
    fw_text_addf(text, "<CssParameter name=\"%s\">%s</CssParameter>", name,
                 value);
}

static void css_number(struct fw_text *text, const char *name, double value)
{
    fw_text_addf(text, "<CssParameter name=\"%s\">", name);
    fw_text_add_number(text, value);
    fw_text_add(text, "</CssParameter>");
}

static void stroke(struct fw_text *text, const struct fw_report_style *style)
{
    fw_text_add(text, "<Stroke>");
    css(text, "stroke", style->colour);
    css_number(text, "stroke-width", style->width_px);
    fw_text_add(text, "</Stroke>");
}

static void symbolizer(struct fw_text *text,
                       const struct fw_report_style *style)
{
    switch (geometry_of(style->layer)) {
    case POINTS:
        fw_text_add(text, "<PointSymbolizer><Graphic><Mark>"
                          "<WellKnownName>circle</WellKnownName><Fill>");
        css(text, "fill", style->colour);
        fw_text_add(text, "</Fill></Mark><Size>");
        fw_text_add_number(text, style->width_px);
        fw_text_add(text, "</Size></Graphic></PointSymbolizer>");
        break;
    case LINES:
        fw_text_add(text, "<LineSymbolizer>");
        stroke(text, style);
        fw_text_add(text, "</LineSymbolizer>");
        break;
    case AREAS:
        fw_text_add(text, "<PolygonSymbolizer><Fill>");
        css(text, "fill", style->fill);
        css_number(text, "fill-opacity", style->opacity);
        fw_text_add(text, "</Fill>");
        stroke(text, style);
        fw_text_add(text, "</PolygonSymbolizer>");
        break;
    }
}

void fw_export__sld(struct fw_text *text, enum fw_report_layer layer)
{
    const char *column = fw_export__style_column(layer);
    const struct fw_report_style *style;
    fw_text_addf(text,
                 "<StyledLayerDescriptor version=\"1.0.0\" "
                 "xmlns=\"http://www.opengis.net/sld\" "
                 "xmlns:ogc=\"http://www.opengis.net/ogc\"><NamedLayer>"
                 "<Name>%s</Name><UserStyle><FeatureTypeStyle>",
                 fw_export__layers[layer].name);
    for (size_t i = 0; (style = style_at(layer, i)); i++) {
        fw_text_addf(text, "<Rule><Name>%s</Name>", style->label);
        if (column)
            fw_text_addf(text,
                         "<ogc:Filter><ogc:PropertyIsEqualTo>"
                         "<ogc:PropertyName>%s</ogc:PropertyName>"
                         "<ogc:Literal>%s</ogc:Literal>"
                         "</ogc:PropertyIsEqualTo></ogc:Filter>",
                         column, style->value);
        symbolizer(text, style);
        fw_text_add(text, "</Rule>");
    }
    fw_text_add(text, "</FeatureTypeStyle></UserStyle></NamedLayer>"
                      "</StyledLayerDescriptor>");
}

/* ---- the table of them ---- */

/* As QGIS 3 makes it in a GeoPackage; no page of its documentation has the
 * columns, they are those of files that it wrote. */
enum { NAME = 2, GEOMETRY, STYLE, QML, SLD, DEFAULT, ABOUT, OWNER, UI, TIME };
const struct fw_column fw_export__style_columns[FW_REPORT_STYLE_COLUMNS] = {
    {"f_table_catalog", FW_COLUMN_TEXT},
    {"f_table_schema", FW_COLUMN_TEXT},
    {"f_table_name", FW_COLUMN_TEXT},
    {"f_geometry_column", FW_COLUMN_TEXT},
    {"styleName", FW_COLUMN_TEXT},
    {"styleQML", FW_COLUMN_TEXT},
    {"styleSLD", FW_COLUMN_TEXT},
    {"useAsDefault", FW_COLUMN_WHOLE},
    {"description", FW_COLUMN_TEXT},
    {"owner", FW_COLUMN_TEXT},
    {"ui", FW_COLUMN_TEXT},
    {"update_time", FW_COLUMN_DATE},
};

static void put_document(struct fw_row *row, size_t column,
                         void (*write)(struct fw_text *text,
                                       enum fw_report_layer layer),
                         size_t layer, bool *failed)
{
    struct fw_text words = {0};
    write(&words, (enum fw_report_layer)layer);
    if (fw_text_done(&words, NULL))
        *failed = true;
    else
        fw_export__set_text(row, column, words.bytes, failed);
    fw_text_release(&words);
}

void fw_export__fill_style(const struct fw_plan *plan, size_t i,
                           struct fw_row *row, bool *failed)
{
    static const char *const texts[FW_REPORT_STYLE_COLUMNS] = {
        [0] = "",
        [1] = "",
        [GEOMETRY] = FW_GPKG_GEOMETRY,
        [ABOUT] = "by what it is for the shepherd",
        [OWNER] = "",
    };
    for (size_t k = 0; k < FW_REPORT_STYLE_COLUMNS; k++)
        fw_export__set_text(row, k, texts[k], failed);
    fw_export__set_text(row, NAME, fw_export__layers[i].name, failed);
    fw_export__set_text(row, STYLE, fw_export__layers[i].name, failed);
    put_document(row, QML, fw_export__qml, i, failed);
    put_document(row, SLD, fw_export__sld, i, failed);
    fw_export__set_number(row, DEFAULT, 1);
    fw_export__set_number(row, TIME, plan->start_day);
}
