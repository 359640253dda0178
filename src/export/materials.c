/* The list to buy, as a table to read and for machines. */
#include "base/text.h"
#include "export/export.h"

#include "figures/units.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

const char fw_export_perimeter_lacks[] =
    "Not in it: labour, tools, a lightning arrestor, concrete; nothing for "
    "where "
    "the fence crosses water.";
const char fw_export_kit_lacks[] =
    "Not in it: the boundary with its gates, lead and switch; no tools, no "
    "lightning arrestor.";

static void quantity(double value, char *text, size_t room)
{
    if (value >= 100 || value == floor(value))
        fw_text_format(text, room, "%.0f", ceil(value - 1e-9));
    else
        fw_text_format(text, room, "%.2f", value);
}

/* So much of it in the reader's units. */
static const char *in_units(double amount, const struct fw_material *row,
                            enum fw_units units, char text[FW_WORDS])
{
    const bool feet = units == FW_US && strcmp(row->unit, "m") == 0;
    quantity(feet ? amount / FW_FOOT_M : amount, text, FW_WORDS);
    return feet ? "ft" : row->unit;
}

const char *fw_export_amount(const struct fw_material *row, enum fw_units units,
                             char text[FW_WORDS])
{
    return in_units(fw_fence_bought(row, false), row, units, text);
}

/* "280", "3848 m" */
static void add_amount(struct fw_text *words, double amount,
                       const struct fw_material *row, enum fw_units units)
{
    char number[FW_WORDS];
    const char *unit = in_units(amount, row, units, number);
    fw_text_addf(words, "%s%s%s", number, strcmp(unit, "each") == 0 ? "" : " ",
                 strcmp(unit, "each") == 0 ? "" : unit);
}

void fw_export_bought(struct fw_text *words, const struct fw_material *row,
                      enum fw_units units, bool only_rest)
{
    const double packs = fw_fence_packs(row, only_rest);
    const bool by_length = strcmp(row->unit, "m") == 0;
    if (!(packs > 0) && !(row->spare > 0) && !(only_rest && row->owned > 0))
        return;
    if (packs > 0) {
        fw_text_addf(words, "%.0f %s%s of ", packs, by_length ? "roll" : "pack",
                     packs > 1 ? "s" : "");
        add_amount(words, row->pack, row, units);
        fw_text_add(words, ": ");
    }
    add_amount(words, row->quantity, row, units);
    fw_text_add(words, row->quantity == 1 ? " is needed" : " are needed");
    if (row->spare > 0)
        fw_text_addf(words, " and %.0f spare", row->spare);
    if (only_rest && row->owned > 0) {
        fw_text_add(words, ", of which the farm has ");
        add_amount(words, row->owned, row, units);
    }
}

struct sum {
    double cost;
    size_t rows, unpriced;
};

static struct sum sum_of(const struct fw_export_list *list)
{
    struct sum sum = {0};
    for (size_t i = 0; i < list->count; i++) {
        const struct fw_material *row = &list->rows[i];
        const double bought = fw_fence_bought(row, list->only_rest);
        if (!(bought > 0))
            continue;
        sum.rows++;
        if (row->price >= 0)
            sum.cost += row->price * bought;
        else
            sum.unpriced++;
    }
    return sum;
}

static void row_of(struct fw_text *text, const struct fw_export_list *list,
                   const struct fw_material *row)
{
    const double bought = fw_fence_bought(row, list->only_rest);
    char number[FW_WORDS];
    const char *unit = in_units(bought, row, list->units, number);
    struct fw_text words = {0};
    if (!(bought > 0))
        return;
    fw_text_addf(text, "%8s %-5s ", number, unit);
    if (row->price >= 0)
        fw_text_addf(text, "%-44s %9.2f\n", row->item, row->price * bought);
    else
        fw_text_addf(text, "%s\n", row->item);
    fw_export_bought(&words, row, list->units, list->only_rest);
    if (words.length && !words.failed) {
        fw_text_addf(text, "%15s", "");
        fw_report_fold(text, 15, words.bytes);
    }
    text->failed |= words.failed;
    fw_text_release(&words);
    if (row->note[0]) {
        fw_text_addf(text, "%15s", "");
        fw_report_fold(text, 15, row->note);
    }
}

/* What the farm has, before the rest. */
static void taken_off(struct fw_text *text, const struct fw_export_list *list)
{
    bool any = false;
    for (size_t i = 0; i < list->count; i++) {
        const struct fw_material *row = &list->rows[i];
        char number[FW_WORDS];
        if (!(row->owned > 0))
            continue;
        if (!any)
            fw_text_add(text, "Taken off, since the farm has it:\n");
        any = true;
        const char *unit = in_units(row->owned, row, list->units, number);
        fw_text_addf(text, "%8s %-5s %s%s\n", number, unit, row->item,
                     fw_fence_bought(row, true) > 0 ? "" : ", all of it");
    }
    if (any) {
        fw_text_add(text, "\nMissing:\n");
        return;
    }
    fw_report_fold(text, 0,
                   "Nothing is taken off: the farm file tells nothing that the "
                   "farm has. Tell it with fence.owns (reels, posts, wire), "
                   "owns, energizer.joules and earth.rods.");
    fw_text_add(text, "\n");
}

static void by_the_year(struct fw_text *text, const struct fw_export_list *list,
                        double cost)
{
    const struct fw_fence_terms *terms = list->terms;
    const struct fw_fence_yearly yearly = fw_fence_yearly(cost, terms);
    const bool feet = list->units == FW_US;
    const double long_by = feet ? list->line_m / FW_FOOT_M : list->line_m;
    char words[240];
    fw_text_format(words, sizeof words,
                   "A year: %.2f%s%s, %.2f a %s of fence: %.2f for a life of "
                   "%.0f years, %.2f for %.3g %% interest on half of it, %.2f "
                   "for %.3g %% upkeep.",
                   yearly.together, list->currency[0] ? " " : "",
                   list->currency, yearly.together / long_by,
                   feet ? "foot" : "metre", yearly.worn, terms->life_years,
                   yearly.interest, 100 * terms->interest, yearly.upkeep,
                   100 * terms->upkeep);
    fw_report_fold(text, 0, words);
}

static void sums(struct fw_text *text, const struct fw_export_list *list)
{
    const struct sum sum = sum_of(list);
    if (sum.rows == 0)
        fw_text_add(text, "Nothing is missing.\n");
    if (sum.unpriced < sum.rows)
        fw_text_addf(text, "%60s %8.2f%s%s\n", "together", sum.cost,
                     list->currency[0] ? " " : "", list->currency);
    if (sum.unpriced && sum.unpriced < sum.rows)
        fw_text_addf(text, "%zu of %zu rows have no price.\n", sum.unpriced,
                     sum.rows);
    if (sum.unpriced == sum.rows && sum.rows)
        fw_text_add(text, "Prices were not told: see prices in the farm "
                          "file.\n");
    if (list->terms && !list->only_rest && sum.rows && !sum.unpriced)
        by_the_year(text, list, sum.cost);
}

enum fw_status fw_report_materials(const struct fw_export_list *list,
                                   char **out, struct fw_error *err)
{
    struct fw_text text = {0};
    fw_report_first(&text);
    if (list->only_rest)
        taken_off(&text, list);
    for (size_t i = 0; i < list->count; i++)
        row_of(&text, list, &list->rows[i]);
    sums(&text, list);
    if (list->lacks)
        fw_report_fold(&text, 0, list->lacks);
    return fw_report_give(&text, out, NULL, err);
}

/* ---- for machines ---- */

static void number(struct fw_text *text, const char *name, double value)
{
    fw_text_addf(text, ", \"%s\": ", name);
    fw_text_add_number(text, value);
}

static void word(struct fw_text *text, const char *name, const char *value)
{
    fw_text_addf(text, "\"%s\": ", name);
    fw_text_add_json(text, value);
}

static void row_json(struct fw_text *text, const struct fw_material *row,
                     bool only_rest)
{
    const double bought = fw_fence_bought(row, only_rest);
    const double price = row->price >= 0 ? row->price : (double)NAN;
    fw_text_add(text, "{");
    word(text, "item", row->item);
    fw_text_add(text, ", ");
    word(text, "ware", fw_ware_words[row->ware]);
    fw_text_add(text, ", ");
    word(text, "unit", row->unit);
    number(text, "quantity", row->quantity);
    number(text, "spare", row->spare);
    number(text, "owned", row->owned);
    number(text, "pack", row->pack);
    number(text, "packs", fw_fence_packs(row, only_rest));
    number(text, "bought", bought);
    number(text, "price", price);
    number(text, "cost", price * bought);
    fw_text_add(text, ", ");
    word(text, "note", row->note);
    fw_text_add(text, "}");
}

static void yearly_json(struct fw_text *text, const struct fw_export_list *list,
                        double cost)
{
    const struct fw_fence_yearly yearly = fw_fence_yearly(cost, list->terms);
    fw_text_add(text, "{\"life_years\": ");
    fw_text_add_number(text, list->terms->life_years);
    number(text, "interest_share", list->terms->interest);
    number(text, "upkeep_share", list->terms->upkeep);
    number(text, "worn", yearly.worn);
    number(text, "interest", yearly.interest);
    number(text, "upkeep", yearly.upkeep);
    number(text, "together", yearly.together);
    number(text, "a_metre", yearly.together / list->line_m);
    fw_text_add(text, "}");
}

enum fw_status fw_report_materials_json(const struct fw_export_list *list,
                                        char **out, struct fw_error *err)
{
    struct fw_text text = {0};
    const struct sum sum = sum_of(list);
    fw_text_add(&text, "{");
    fw_report_first_json(&text);
    fw_text_add(&text, ",\n\"currency\": ");
    if (list->currency[0])
        fw_text_add_json(&text, list->currency);
    else
        fw_text_add(&text, "null");
    fw_text_addf(&text, ", \"only_missing\": %s, \"materials\": [",
                 list->only_rest ? "true" : "false");
    for (size_t i = 0; i < list->count; i++) {
        fw_text_add(&text, i ? ",\n  " : "\n  ");
        row_json(&text, &list->rows[i], list->only_rest);
    }
    fw_text_add(&text, "\n]");
    number(&text, "cost", sum.unpriced ? (double)NAN : sum.cost);
    fw_text_add(&text, ", \"yearly\": ");
    if (list->terms && !list->only_rest && !sum.unpriced)
        yearly_json(&text, list, sum.cost);
    else
        fw_text_add(&text, "null");
    fw_text_add(&text, ",\n");
    word(&text, "not_in_it", list->lacks ? list->lacks : "");
    fw_text_add(&text, "}\n");
    return fw_report_give(&text, out, NULL, err);
}
