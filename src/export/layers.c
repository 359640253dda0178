#include "export/layers.h"

#include "base/alloc.h"

#include <math.h>

#define LAYER(name, kind, geometry, items, count)                              \
    {                                                                          \
        name, #kind, FW_FEATURE_##geometry, &fw_io__##kind##_kind,             \
            offsetof(struct fw_plan, items), offsetof(struct fw_plan, count)   \
    }

const struct fw_report_layer_row fw_export__layers[FW_REPORT_LAYERS] = {
    LAYER("fields", field, POLYGON, fields, field_count),
    LAYER("paddocks", paddock, POLYGON, paddocks, paddock_count),
    LAYER("lanes", lane, POLYGON, lanes, lane_count),
    LAYER("fences", fence, LINE, fences, fence_count),
    LAYER("posts", post, POINT, posts, post_count),
    LAYER("water", water, POINT, waters, water_count),
    LAYER("gates", gate, POINT, gates, gate_count),
    {"energizer", "energizer", FW_FEATURE_POINT, &fw_io__energizer_kind,
     offsetof(struct fw_plan, energizer), 0},
    LAYER("findings", finding, OTHER, findings, finding_count),
    LAYER("stays", stay, NONE, time.stays, time.stay_count),
    LAYER("standings", standing, NONE, time.standings, time.standing_count),
    LAYER("cautions", caution, NONE, cautions, caution_count),
    {"layer_styles", "style", FW_FEATURE_NONE, NULL, 0, 0},
};

void fw_export__set_text(struct fw_row *row, size_t column, const char *text,
                         bool *failed)
{
    if (!text)
        return;
    row->values[column].text = fw_strdup(text);
    row->values[column].present = row->values[column].text != NULL;
    *failed |= !row->values[column].present;
}

void fw_export__set_number(struct fw_row *row, size_t column, double number)
{
    row->values[column].present = isfinite(number);
    row->values[column].number = number;
}
