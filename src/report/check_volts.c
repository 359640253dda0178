/* The voltages of power lines as `check` says them: what the map has, and what
 * it was taken for. */
#include "report/report.h"

#include <math.h>

/* Rows for people; --json has all. */
static const size_t most_rows = 40;

static bool is_power_line(const struct fw_farm_feature *feature)
{
    return feature->role == FW_ROLE_POWER_LINE &&
           feature->kind != FW_FEATURE_POINT;
}

/* The parts of one feature are said once. */
static bool is_next(const struct fw_farm *farm, size_t index)
{
    const struct fw_farm_feature *feature = &farm->features[index];
    if (!is_power_line(feature))
        return false;
    return index == 0 || !is_power_line(feature - 1) ||
           feature[-1].map != feature->map || feature[-1].row != feature->row;
}

static const char *doubt(const struct fw_farm_feature *feature)
{
    static const char *const words[] = {
        [FW_KV_UNTOLD] = ": nobody says it",
        [FW_KV_MAP] = "",
        [FW_KV_HIGHER] = ": volts or kilovolts, taken as the higher",
        [FW_KV_ODD] = ": no standard voltage",
        [FW_KV_FARM] = ": as maps[].kv says",
    };
    return words[feature->kv_from];
}

static void row(struct fw_text *text, const struct fw_farm_feature *feature)
{
    struct fw_text line = {0};
    fw_text_addf(&line, "maps[%zu], feature %zu%s%s: ", feature->map,
                 feature->row, feature->name ? ", " : "",
                 feature->name ? feature->name : "");
    if (feature->kv > 0)
        fw_text_addf(&line, "%.4g kV", feature->kv);
    else
        fw_text_add(&line, "unknown, so as over 33 kV");
    fw_text_addf(
        &line, "%s%s%s%s", doubt(feature), feature->kv_text ? " (" : "",
        feature->kv_text ? feature->kv_text : "", feature->kv_text ? ")" : "");
    fw_text_add(text, "  ");
    fw_report__fold_text(text, 4, &line);
}

void fw_report__check_volts(struct fw_text *text, const struct fw_farm *farm)
{
    size_t count = 0;
    for (size_t i = 0; i < farm->feature_count; i++) {
        if (!is_next(farm, i))
            continue;
        if (count == 0)
            fw_text_add(text, "Power lines near a field, by the voltage that "
                              "is read of each\n");
        if (count++ < most_rows)
            row(text, &farm->features[i]);
    }
    if (count > most_rows)
        fw_text_addf(text, "  and %zu more: check --json has them all\n",
                     count - most_rows);
    if (count)
        fw_text_add(text, "\n");
}

void fw_report_check_volts_json(struct fw_text *text,
                                const struct fw_farm *farm)
{
    static const char *const from[] = {
        [FW_KV_UNTOLD] = "untold",  [FW_KV_MAP] = "map",
        [FW_KV_HIGHER] = "higher",  [FW_KV_ODD] = "no standard voltage",
        [FW_KV_FARM] = "maps[].kv",
    };
    const char *before = "";
    fw_text_add(text, ",\n\"power_lines\": [");
    for (size_t i = 0; i < farm->feature_count; i++) {
        const struct fw_farm_feature *feature = &farm->features[i];
        if (!is_next(farm, i))
            continue;
        fw_text_addf(text, "%s\n  {\"map\": %zu, \"feature\": %zu, \"name\": ",
                     before, feature->map, feature->row);
        fw_text_add_json(text, feature->name ? feature->name : "");
        fw_text_add(text, ", \"kv\": ");
        fw_text_add_number(text, feature->kv > 0 ? feature->kv : (double)NAN);
        fw_text_addf(text,
                     ", \"from\": \"%s\", \"said\": ", from[feature->kv_from]);
        fw_text_add_json(text, feature->kv_text ? feature->kv_text : "");
        fw_text_add(text, "}");
        before = ",";
    }
    fw_text_add(text, "\n]");
}
