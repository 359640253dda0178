/* The list to buy, as a table to read and for machines. */
#include "base/text.h"
#include "export/export.h"

#include "figures/units.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

const char fw_export_perimeter_lacks[] =
    "Not in it: gates with their posts and braces, energizer, earth rods,\n"
    "lead, warning signs, spares; no tools, no lightning arrestor.\n";

static void quantity(double value, char *text, size_t room)
{
    if (value >= 100 || value == floor(value))
        fw_text_format(text, room, "%.0f", ceil(value - 1e-9));
    else
        fw_text_format(text, room, "%.2f", value);
}

const char *fw_export_amount(const struct fw_material *row, enum fw_units units,
                             char text[FW_WORDS])
{
    const bool feet = units == FW_US && strcmp(row->unit, "m") == 0;
    quantity(feet ? row->quantity / FW_FOOT_M : row->quantity, text, FW_WORDS);
    return feet ? "ft" : row->unit;
}

enum fw_status fw_report_materials(const struct fw_material *rows, size_t count,
                                   enum fw_units units, const char *currency,
                                   char **out, struct fw_error *err)
{
    struct fw_text text = {0};
    double sum = 0;
    size_t unpriced = 0;
    fw_report_first(&text);
    for (size_t i = 0; i < count; i++) {
        char number[FW_WORDS];
        const char *unit = fw_export_amount(&rows[i], units, number);
        fw_text_addf(&text, "%8s %-5s ", number, unit);
        if (rows[i].price >= 0) {
            fw_text_addf(&text, "%-44s %9.2f", rows[i].item,
                         rows[i].price * rows[i].quantity);
            sum += rows[i].price * rows[i].quantity;
        } else {
            fw_text_add(&text, rows[i].item);
            unpriced++;
        }
        fw_text_add(&text, "\n");
        if (rows[i].note[0]) {
            fw_text_addf(&text, "%15s", "");
            fw_report_fold(&text, 15, rows[i].note);
        }
    }
    if (unpriced < count)
        fw_text_addf(&text, "%60s %8.2f%s%s\n", "together", sum,
                     currency[0] ? " " : "", currency);
    if (unpriced && unpriced < count)
        fw_text_addf(&text, "%zu of %zu rows have no price.\n", unpriced,
                     count);
    if (unpriced == count && count)
        fw_text_add(&text, "Prices were not told: see prices in the farm "
                           "file.\n");
    return fw_report_give(&text, out, NULL, err);
}

enum fw_status fw_report_materials_json(const struct fw_material *rows,
                                        size_t count, const char *currency,
                                        char **out, struct fw_error *err)
{
    struct fw_text text = {0};
    fw_text_add(&text, "{");
    fw_report_first_json(&text);
    fw_text_add(&text, ",\n\"currency\": ");
    if (currency[0])
        fw_text_add_json(&text, currency);
    else
        fw_text_add(&text, "null");
    fw_text_add(&text, ", \"materials\": [");
    for (size_t i = 0; i < count; i++) {
        fw_text_add(&text, i ? ",\n  {\"item\": " : "\n  {\"item\": ");
        fw_text_add_json(&text, rows[i].item);
        fw_text_add(&text, ", \"unit\": ");
        fw_text_add_json(&text, rows[i].unit);
        fw_text_add(&text, ", \"quantity\": ");
        fw_text_add_number(&text, rows[i].quantity);
        fw_text_add(&text, ", \"price\": ");
        fw_text_add_number(&text,
                           rows[i].price >= 0 ? rows[i].price : (double)NAN);
        fw_text_add(&text, ", \"note\": ");
        fw_text_add_json(&text, rows[i].note);
        fw_text_add(&text, "}");
    }
    fw_text_add(&text, "\n]}\n");
    return fw_report_give(&text, out, NULL, err);
}
