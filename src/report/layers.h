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
    FW_LAYER_CAUTIONS
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

/* The words that files use. */
const char *fw_report__role(enum fw_fence_role role);
const char *fw_report__why(enum fw_post_why why);

#endif
