/* The winter's grass for machines. */
#include "report/stockpile.h"

#include "export/export.h"

#include <math.h>

static void number(struct fw_text *text, const char *key, double value)
{
    fw_text_addf(text, ", \"%s\": ", key);
    fw_text_add_number(text, value);
}

static void day(struct fw_text *text, const char *key, int value)
{
    char iso[FW_DATE_TEXT];
    if (fw_date_write(value, iso)[0])
        fw_text_addf(text, ", \"%s\": \"%s\"", key, iso);
    else
        fw_text_addf(text, ", \"%s\": null", key);
}

static void truth(struct fw_text *text, const char *key, bool value)
{
    fw_text_addf(text, ", \"%s\": %s", key, value ? "true" : "false");
}

/* Names of members: as people's words, of one word. */
static const char *const classes[] = {
    [FW_STOCKPILE_DRY] = "dry",
    [FW_STOCKPILE_EARLY] = "early_gestation",
    [FW_STOCKPILE_LATE] = "late_gestation_by_weight",
    [FW_STOCKPILE_LATE_FIBRE] = "late_gestation_by_fibre",
};

static void fed(struct fw_text *text, const struct fw_stockpile_fed *fed)
{
    fw_text_add(text, "{\"need_kg\": ");
    fw_text_add_number(text, fed->need_kg);
    number(text, "limit_kg", fed->limit_kg);
    number(text, "grass_kg", fed->grass_kg);
    number(text, "other_feed_kg", fed->other_kg);
    number(text, "days_at_need", fed->days_at_need);
    number(text, "days_with_feed", fed->days_with_feed);
    number(text, "plain_days", fed->plain_days);
    fw_text_add(text, "}");
}

static void row(struct fw_text *text, const struct fw_winter_row *row)
{
    char iso[FW_DATE_TEXT];
    fw_text_addf(text, "{\"on\": \"%s\"", fw_date_write(row->day, iso));
    number(text, "mass_kg_ha", row->stand.mass_kg_ha);
    number(text, "old_share", row->stand.old_share);
    number(text, "digestible", row->stand.digest);
    number(text, "digestible_best", row->stand.digest_best);
    number(text, "protein", row->stand.protein);
    number(text, "dead", row->stand.dead);
    number(text, "share_taken", row->share);
    number(text, "taken_kg", row->taken_kg);
    for (int k = 0; k < FW_STOCKPILE_CLASS_COUNT; k++) {
        fw_text_addf(text, ", \"%s\": ", classes[k]);
        fed(text, &row->fed[k]);
    }
    fw_text_add(text, "}");
}

static void topping(struct fw_text *text,
                    const struct fw_winter_topping *topping)
{
    fw_text_addf(text, ",\n     \"topping\": {\"done\": %s",
                 topping->done ? "true" : "false");
    truth(text, "cuts", topping->cuts);
    number(text, "days_after_grazing",
           topping->after_days < 0 ? (double)NAN : topping->after_days);
    truth(text, "late", topping->late);
    number(text, "swath_kg_ha", topping->swath_kg_ha);
    truth(text, "heavy", topping->heavy);
    number(text, "hours", topping->hours);
    fw_text_add(text, ",\n       \"topped\": ");
    row(text, &topping->with);
    fw_text_add(text, ",\n       \"left_standing_worst\": ");
    row(text, &topping->without);
    fw_text_add(text, ",\n       \"left_standing_best\": ");
    row(text, &topping->without_best);
    fw_text_add(text, "}");
}

static void part(struct fw_text *text, const struct fw_winter *winter,
                 const struct fw_winter_part *part)
{
    const struct fw_stockpile_stand *stand = &part->middle.stand;
    const bool seen = part->seen_m >= 0;
    fw_text_add(text, "    {\"part\": ");
    fw_text_add_json(text, part->part->name);
    number(text, "area_ha", part->part->area_ha);
    day(text, "closed", stand->closed_day);
    fw_text_addf(text, ", \"condition\": \"%s\"",
                 fw_report_condition_words[stand->condition]);
    number(text, "carried_kg_ha", stand->carried_kg_ha);
    number(text, "nitrogen_kg_ha", part->part->nitrogen_kg_ha);
    truth(text, "measured", part->measured);
    number(text, "share_apart", part->middle.share);
    number(text, "share_open", part->open_share);
    number(text, "left_m", part->left_m);
    number(text, "left_seen_m", seen ? part->seen_m : (double)NAN);
    number(text, "share_seen", seen ? part->seen_share : (double)NAN);
    fw_text_add(text, ",\n     \"months\": [\n");
    for (size_t i = 0; i < winter->row_count; i++) {
        fw_text_add(text, "       ");
        row(text, &part->rows[i]);
        fw_text_add(text, i + 1 < winter->row_count ? ",\n" : "]");
    }
    topping(text, &part->topping);
    fw_text_add(text, "}");
}

static void order(struct fw_text *text, const char *key,
                  const struct fw_winter *winter,
                  const struct fw_winter_order *order)
{
    fw_text_addf(text, ",\n  \"%s\": {\"turns\": [", key);
    for (size_t i = 0; i < winter->part_count; i++) {
        fw_text_add(text, i ? ", {\"part\": " : "{\"part\": ");
        fw_text_add_json(text, winter->parts[order->parts[i]].part->name);
        day(text, "from", order->from_days[i]);
        fw_text_add(text, "}");
    }
    fw_text_add(text, "]");
    number(text, "days_fed", order->days_fed);
    number(text, "days_at_need", order->days_at_need);
    number(text, "other_feed_kg", order->other_kg);
    fw_text_add(text, "}");
}

static void windows(struct fw_text *text, const struct fw_winter *winter)
{
    fw_text_add(text, ",\n  \"close_between\": {");
    for (int k = 0; k < FW_STOCKPILE_CLASS_COUNT; k++) {
        size_t first = 0, last = 0;
        char iso[FW_DATE_TEXT];
        fw_text_addf(text, "%s\"%s\": ", k ? ", " : "", classes[k]);
        if (!fw_winter_window(winter, (enum fw_stockpile_class)k, &first,
                              &last)) {
            fw_text_add(text, "null");
            continue;
        }
        fw_text_addf(text, "{\"from\": \"%s\"",
                     fw_date_write(winter->closings[first].day, iso));
        day(text, "to", winter->closings[last].day);
        fw_text_add(text, "}");
    }
    fw_text_add(text, "}");
}

static void closings(struct fw_text *text, const struct fw_winter *winter)
{
    char iso[FW_DATE_TEXT];
    fw_text_add(text, ",\n  \"other_line\": ");
    if (winter->other_line)
        fw_text_add_json(text, winter->other_line->word);
    else
        fw_text_add(text, "null");
    fw_text_add(text, ",\n  \"closings\": [");
    for (size_t i = 0; i < winter->closing_count; i++) {
        const struct fw_winter_closing *closing = &winter->closings[i];
        const struct fw_winter_row *row = &closing->row;
        fw_text_addf(text, "%s\n    {\"closed\": \"%s\"", i ? "," : "",
                     fw_date_write(closing->day, iso));
        truth(text, "measured", closing->measured);
        number(text, "mass_kg_ha", row->stand.mass_kg_ha);
        number(text, "other_mass_kg_ha",
               winter->other_line ? closing->other_kg_ha : (double)NAN);
        number(text, "digestible", row->stand.digest);
        number(text, "taken_kg", row->taken_kg);
        for (int k = 0; k < FW_STOCKPILE_CLASS_COUNT; k++) {
            fw_text_addf(text, ", \"%s_days\": ", classes[k]);
            fw_text_add_number(text, row->fed[k].days_at_need);
        }
        fw_text_add(text, "}");
    }
    fw_text_add(text, "]");
}

static void effects(struct fw_text *text, const struct fw_winter *winter)
{
    fw_text_add(text, ",\n  \"moved_by\": [");
    for (size_t i = 0; i < winter->effect_count; i++) {
        const struct fw_winter_effect *effect = &winter->effects[i];
        fw_text_addf(text,
                     "%s\n    {\"what\": \"%s\", \"from\": ", i ? "," : "",
                     effect->what);
        fw_text_add_json(text, effect->from);
        number(text, "from_days", effect->from_days);
        fw_text_add(text, ", \"to\": ");
        fw_text_add_json(text, effect->to);
        number(text, "to_days", effect->to_days);
        fw_text_add(text, "}");
    }
    fw_text_add(text, "]");
}

enum fw_status fw_report_stockpile_json(const struct fw_winter *winter,
                                        char **out, struct fw_error *err)
{
    const struct fw_farm_stockpile *told = &winter->farm->stockpile;
    const double base = told->winter.base_nitrogen_kg_ha;
    struct fw_text text = {0};
    fw_text_add(&text, "{\n  ");
    fw_report_first_json(&text);
    fw_text_add(&text, ",\n  \"farm\": ");
    fw_text_add_json(&text, winter->farm->name);
    fw_text_addf(
        &text, ",\n  \"line\": \"%s\", \"source\": ", told->winter.line->word);
    fw_text_add_json(&text, told->winter.line->source);
    number(&text, "line_lat_deg", fw_stockpile_lat_deg(told->winter.line));
    number(&text, "lat_deg", told->winter.lat_deg);
    number(&text, "winter_loss", told->winter.loss);
    number(&text, "base_nitrogen_kg_ha", base < 0 ? (double)NAN : base);
    day(&text, "frost", told->winter.frost_day);
    truth(&text, "frost_told", told->frost_told);
    day(&text, "from", told->from_day);
    number(&text, "days", told->days);
    number(&text, "break_days",
           told->winter.break_days > 0 ? told->winter.break_days : (double)NAN);
    number(&text, "head", winter->flock.head);
    number(&text, "weight_kg", winter->flock.weight_kg);
    number(&text, "area_ha", winter->area_ha);
    fw_text_add(&text, ",\n  \"parts\": [\n");
    for (size_t i = 0; i < winter->part_count; i++) {
        part(&text, winter, &winter->parts[i]);
        fw_text_add(&text, i + 1 < winter->part_count ? ",\n" : "]");
    }
    truth(&text, "differ", winter->differ);
    day(&text, "cleared", winter->differ ? winter->cleared_day : FW_NO_DAY);
    order(&text, "poorer_first", winter, &winter->poor_first);
    order(&text, "better_first", winter, &winter->good_first);
    truth(&text, "better_first_is_better", winter->good_is_better);
    windows(&text, winter);
    effects(&text, winter);
    closings(&text, winter);
    fw_text_add(&text, "\n}\n");
    return fw_report_give(&text, out, NULL, err);
}
