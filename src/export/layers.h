/* The properties of each layer: one row a layer, in the order of the files. */
#ifndef FW_EXPORT_LAYERS_H
#define FW_EXPORT_LAYERS_H

#include "base/text.h"
#include "export/export.h"
#include "store/maps.h"

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

struct fw_report_layer_row {
    const char *name, *kind;
    enum fw_feature_kind geometry;
    const struct fw_io__kind *of; /* NULL: styles, which are of no plan */
    size_t items,
        count; /* where they lie in the plan; of one alone count is 0 */
};

extern const struct fw_report_layer_row fw_export__layers[FW_REPORT_LAYERS];

/* NULL is absent; a failed copy sets *failed. */
void fw_export__set_text(struct fw_row *row, size_t column, const char *text,
                         bool *failed);

/* Not finite is absent. */
void fw_export__set_number(struct fw_row *row, size_t column, double number);

/* Give the table its columns: those of the layer's members, and of fields those
 * that were copied from their map, each under a name that is free. */
enum fw_status fw_export__columns(struct fw_table *table,
                                  const struct fw_io__kind *kind,
                                  const struct fw_origin *origin,
                                  struct fw_error *err);

/* Cut a row in longitude and latitude at the 180th meridian; a line's parts
 * then stand in ring_start. */
enum fw_status fw_export__cut(struct fw_row *row, struct fw_error *err);

/* The geometry of a row as RFC 7946 has it. */
void fw_export__geometry(struct fw_text *text, const struct fw_row *row);

#endif
