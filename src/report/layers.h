/* The properties of each layer: one row a layer, in the order of the files. */
#ifndef FW_REPORT_LAYERS_H
#define FW_REPORT_LAYERS_H

#include <foldwright/report.h>

enum fw_report_layer {
    FW_LAYER_FIELDS,
    FW_LAYER_PADDOCKS,
    FW_LAYER_LANES,
    FW_LAYER_FENCES,
    FW_LAYER_POSTS,
    FW_LAYER_WATER,
    FW_LAYER_GATES,
    FW_LAYER_ENERGIZER,
    FW_LAYER_FINDINGS,
    FW_LAYER_STAYS, /* tables without geometry from here on */
    FW_LAYER_STANDINGS,
    FW_LAYER_CAUTIONS,
    FW_LAYER_STYLES
};

/* A plan, and the dates of its ground. */
struct fw_report_source {
    const struct fw_plan *plan;
    struct fw_time_dates dates;
};

struct fw_report_layer_row {
    const char *name, *kind;
    enum fw_feature_kind geometry;
    const struct fw_column *columns;
    size_t column_count;
    const char *id; /* the column of row numbers in plan.gpkg */
    size_t (*count)(const struct fw_plan *plan);
    void (*fill)(const struct fw_report_source *from, size_t i,
                 struct fw_row *row, bool *failed);
};

extern const struct fw_report_layer_row fw_report__layers[FW_REPORT_LAYERS];

/* NULL is absent; a failed copy sets *failed. */
void fw_report__set_text(struct fw_row *row, size_t column, const char *text,
                         bool *failed);

/* Not finite is absent. */
void fw_report__set_number(struct fw_row *row, size_t column, double number);

/* Add to the table of fields the columns that were copied from their map, each
 * under a name that is free. */
enum fw_status fw_report__add_copied(struct fw_table *table,
                                     const struct fw_plan *plan,
                                     struct fw_error *err);

/* Cut a row in longitude and latitude at the 180th meridian; a line's parts
 * then stand in ring_start. */
enum fw_status fw_report__cut(struct fw_row *row, struct fw_error *err);

/* The words that files use. */
const char *fw_report__role(enum fw_fence_role role);
const char *fw_report__why(enum fw_post_why why);

#endif
