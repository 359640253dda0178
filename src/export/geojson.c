/* plan.geojson: RFC 7946 by a writer of our own, with simplestyle 1.1
 * properties so that any viewer colours it. */
#include "export/styles.h"
#include "report/words.h"

#include "base/fail.h"
#include "base/whole.h"

#include <string.h>

/* 9 decimals of a degree are 0.1 mm; 7 would move the area of a 4 m strip by a
 * part in a thousand. */
static const int decimals = 9;

static void point(struct fw_text *text, struct fw_xy xy)
{
    fw_text_add(text, "[");
    fw_text_add_fixed(text, xy.x, decimals);
    fw_text_add(text, ",");
    fw_text_add_fixed(text, xy.y, decimals);
    fw_text_add(text, "]");
}

static void points(struct fw_text *text, const struct fw_xy *xy, size_t count,
                   bool closed)
{
    fw_text_add(text, "[");
    for (size_t i = 0; i < count; i++) {
        if (i)
            fw_text_add(text, ",");
        point(text, xy[i]);
    }
    if (closed) {
        fw_text_add(text, ",");
        point(text, xy[0]);
    }
    fw_text_add(text, "]");
}

static void piece(struct fw_text *text, const struct fw_row *row, size_t which)
{
    fw_text_add(text, "[");
    for (size_t r = row->piece_ring[which]; r < row->piece_ring[which + 1];
         r++) {
        if (r > row->piece_ring[which])
            fw_text_add(text, ",");
        points(text, row->points + row->ring_start[r],
               row->ring_start[r + 1] - row->ring_start[r], true);
    }
    fw_text_add(text, "]");
}

static void polygon(struct fw_text *text, const struct fw_row *row)
{
    if (row->piece_count == 1) {
        fw_text_add(text, "{\"type\": \"Polygon\", \"coordinates\": ");
        piece(text, row, 0);
        fw_text_add(text, "}");
        return;
    }
    fw_text_add(text, "{\"type\": \"MultiPolygon\", \"coordinates\": [");
    for (size_t i = 0; i < row->piece_count; i++) {
        if (i)
            fw_text_add(text, ",");
        piece(text, row, i);
    }
    fw_text_add(text, "]}");
}

/* In parts where it was cut. */
static void line(struct fw_text *text, const struct fw_row *row)
{
    if (row->ring_count < 2) {
        fw_text_add(text, "{\"type\": \"LineString\", \"coordinates\": ");
        points(text, row->points, row->point_count, false);
        fw_text_add(text, "}");
        return;
    }
    fw_text_add(text, "{\"type\": \"MultiLineString\", \"coordinates\": [");
    for (size_t i = 0; i < row->ring_count; i++) {
        if (i)
            fw_text_add(text, ",");
        points(text, row->points + row->ring_start[i],
               row->ring_start[i + 1] - row->ring_start[i], false);
    }
    fw_text_add(text, "]}");
}

void fw_export__geometry(struct fw_text *text, const struct fw_row *row)
{
    switch (row->kind) {
    case FW_FEATURE_POINT:
        fw_text_add(text, "{\"type\": \"Point\", \"coordinates\": ");
        point(text, row->points[0]);
        fw_text_add(text, "}");
        break;
    case FW_FEATURE_LINE:
        line(text, row);
        break;
    case FW_FEATURE_POLYGON:
        polygon(text, row);
        break;
    default:
        fw_text_add(text, "null");
    }
}

static void value(struct fw_text *text, const struct fw_value *value,
                  enum fw_column_type type)
{
    char day[FW_DATE_TEXT];
    if (!value->present)
        fw_text_add(text, "null");
    else if (type == FW_COLUMN_TEXT)
        fw_text_add_json(text, value->text);
    else if (type == FW_COLUMN_DATE)
        fw_text_add_json(text, fw_date_write(fw_whole(value->number), day));
    else
        fw_text_add_number(text, value->number);
}

static void members(struct fw_text *text, const struct fw_table *table,
                    const struct fw_row *row)
{
    for (size_t i = 0; i < table->column_count; i++) {
        fw_text_add(text, i ? ", " : "");
        fw_text_add_json(text, table->columns[i].name);
        fw_text_add(text, ": ");
        value(text, &row->values[i], table->columns[i].type);
    }
}

static void feature(struct fw_text *text, const struct fw_table *table,
                    enum fw_report_layer layer, const struct fw_row *row)
{
    fw_text_add(text, "{\"type\": \"Feature\", \"properties\": {\"kind\": ");
    fw_text_add_json(text, table->kind);
    fw_text_add(text, ", ");
    members(text, table, row);
    fw_text_add(text, ", ");
    fw_export__simplestyle(text, fw_export__style_of(table, layer, row));
    fw_text_add(text, "}, \"geometry\": ");
    fw_export__geometry(text, row);
    fw_text_add(text, "}");
}

/* The page of cautions is about no place: a member beside the features, as RFC
 * 7946, 6.1 allows. Who comes first stands first in the file. */
static void cautions(struct fw_text *text, const struct fw_table *table)
{
    fw_text_add(text, ", \"cautions\": [");
    for (size_t i = 0; i < table->row_count; i++) {
        fw_text_add(text, i ? ",\n{" : "\n{");
        members(text, table, &table->rows[i]);
        fw_text_add(text, "}");
    }
    fw_text_add(text, "\n]");
}

enum fw_status fw_report_geojson(const struct fw_plan *plan, char **out,
                                 size_t *count, struct fw_error *err)
{
    if (!plan || !out || !count)
        return fw_fail_null(err, "a plan, or where its bytes go,");
    struct fw_table tables[FW_REPORT_LAYERS];
    const enum fw_status status =
        fw_report_tables(plan, "OGC:CRS84", tables, err);
    if (status)
        return status;
    struct fw_text text = {0};
    fw_text_add(&text, "{\"type\": \"FeatureCollection\"");
    cautions(&text, &tables[FW_LAYER_CAUTIONS]);
    fw_text_add(&text, ", \"features\": [");
    enum fw_status cut = FW_OK;
    bool first = true;
    for (size_t layer = 0; layer < FW_REPORT_LAYERS; layer++) {
        for (size_t i = 0;
             !cut && layer < FW_LAYER_STAYS && i < tables[layer].row_count;
             i++) {
            cut = fw_export__cut(&tables[layer].rows[i], err);
            fw_text_add(&text, first ? "\n" : ",\n");
            first = false;
            feature(&text, &tables[layer], (enum fw_report_layer)layer,
                    &tables[layer].rows[i]);
        }
        fw_table_release(&tables[layer]);
    }
    if (cut) {
        fw_text_release(&text);
        return cut;
    }
    fw_text_add(&text, "\n]}\n");
    return fw_report_give(&text, out, count, err);
}
