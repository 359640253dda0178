/* The same as report/water.c, for machines. */
#include "report/water.h"

#include "export/export.h"
#include "water/haul.h"

#include <math.h>

static void number(struct fw_text *text, const char *name, double value,
                   const char *end)
{
    fw_text_addf(text, "\"%s\": ", name);
    fw_text_add_number(text, value);
    fw_text_add(text, end);
}

static void drinks(struct fw_text *text, const struct fw_drinks *all)
{
    fw_text_add(text, ",\n  \"drinks\": {");
    number(text, "need_l", all->need_l, ", ");
    number(text, "expected_l", all->expected_l, ", ");
    number(text, "hot_l", all->hot_l, ", ");
    number(text, "on_hand_l", all->on_hand_l, ", ");
    number(text, "mineral_l", all->mineral_l, "}");
}

static void troughs(struct fw_text *text, const struct fw_plan *plan,
                    const struct fw_drinks *all)
{
    fw_text_add(text, ",\n  \"troughs\": [");
    for (int rule = 0; rule < FW_TROUGH_RULES; rule++) {
        struct fw_trough trough;
        fw_water_trough((enum fw_trough_rule)rule, all->hot_l, plan->flock.head,
                        plan->hauling.trough_l, &trough);
        fw_text_addf(text, "%s\n    {\"rule\": ", rule ? "," : "");
        fw_text_add_json(text, fw_water_trough_rule((enum fw_trough_rule)rule));
        fw_text_add(text, ", ");
        number(text, "peak_l_h", trough.peak_l_h, ", ");
        number(text, "refill_l_min", trough.refill_l_min, ", ");
        number(text, "empty_h", trough.empty_h, "}");
    }
    fw_text_add(text, "\n  ]");
}

static void point(struct fw_text *text, const struct fw_plan *plan,
                  const struct fw_placing_place *place)
{
    fw_text_add(text, "{\"field\": ");
    fw_text_add_json(text, plan->fields[place->field].name);
    fw_text_add(text, ", \"fence\": ");
    if (place->fence == FW_NONE)
        fw_text_add(text, "null");
    else
        fw_text_add_json(text, plan->fences[place->fence].id);
    fw_text_addf(text, ", \"end\": %s, ",
                 place->fence == FW_NONE ? "null"
                 : place->end_b          ? "\"B\""
                                         : "\"A\"");
    number(text, "x_m", place->at.x_m, ", ");
    number(text, "y_m", place->at.y_m, ", ");
    number(text, "gate_m", place->gate_m, "}");
}

static void row(struct fw_text *text, const struct fw_plan *plan,
                const struct fw_placing *placing, const struct fw_hauled *row)
{
    char name[FW_WORDS];
    fw_text_add(text, "{\"way\": ");
    fw_text_add_json(text, fw_report_hauled_name(row, name));
    fw_text_addf(text, ", \"served\": %zu, \"shifts\": %zu, ", row->served,
                 row->shifts);
    number(text, "trips", row->trips < 0 ? (double)NAN : row->trips, ", ");
    number(text, "trips_day", row->trips_day, ", ");
    number(text, "minutes_day", row->minutes_day, ", ");
    number(text, "walk_mean_m", row->walk_mean_m, ", ");
    number(text, "walk_max_m", row->walk_max_m, ", ");
    number(text, "pipe_m", row->pipe_m, ", ");
    number(text, "cost", row->cost, ", ");
    fw_text_addf(text, "\"exact\": %s, ",
                 row->points.count == 0 || row->points.exact ? "true"
                                                             : "false");
    number(text, "value", row->points.value, ", ");
    number(text, "bound", row->points.bound, ", ");
    fw_text_add(text, "\"points\": [");
    for (size_t i = 0; i < row->points.count; i++) {
        fw_text_add(text, i ? ", " : "");
        point(text, plan, &placing->places[row->points.places[i]]);
    }
    fw_text_add(text, "]}");
}

static void hauls(struct fw_text *text, const struct fw_hauled_table *table)
{
    const bool known = table->road_m > 0;
    fw_text_add(text, ",\n  \"road\": {");
    number(text, "way_m", known ? table->road_m : (double)NAN, ", \"by\": ");
    fw_text_add(text, !known             ? "null}"
                      : table->by_tracks ? "\"tracks\"}"
                                         : "\"told\"}");
    fw_text_add(text, ",\n  \"frost\": {");
    number(text, "hauls", table->frost.hauls, ", ");
    number(text, "each_l", table->frost.each_l, ", ");
    number(text, "minutes", table->frost.minutes, "}");
}

enum fw_status fw_report_water_json(const struct fw_plan *plan,
                                    const struct fw_placing *placing,
                                    const struct fw_hauled_table *table,
                                    char **out, struct fw_error *err)
{
    struct fw_text text = {0};
    fw_text_add(&text, "{\n  ");
    fw_report_first_json(&text);
    drinks(&text, &table->drinks);
    troughs(&text, plan, &table->drinks);
    fw_text_addf(&text, ",\n  \"stays\": %zu, \"places\": %zu, ",
                 placing->stay_count, placing->place_count);
    number(&text, "days", table->days, ", ");
    number(&text, "carry_l", table->carry_l, ", ");
    number(&text, "trip_min", table->trip_min, "");
    hauls(&text, table);
    fw_text_add(&text, ",\n  \"rows\": [");
    for (size_t i = 0; i < table->count; i++) {
        fw_text_add(&text, i ? ",\n    " : "\n    ");
        row(&text, plan, placing, &table->rows[i]);
    }
    fw_text_add(&text, "\n  ]\n}\n");
    return fw_report_give(&text, out, NULL, err);
}
