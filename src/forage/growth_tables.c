/* Published rates of growth, each with its place. */
#include "forage/growth.h"

#include "base/fail.h"
#include "base/text.h"
#include "figures/growth.h"
#include "figures/mark.h"
#include <foldwright/date.h>

#include <string.h>

#define TABLE(word_, id, ...)                                                  \
    {                                                                          \
        .word = word_, .place = FW_##id##_WHAT, .source = FW_##id##_SOURCE,    \
        .values = FW_##id, .at = FW_##id##_AT,                                 \
        .count = sizeof FW_##id / sizeof *FW_##id, __VA_ARGS__                 \
    }
#define SHARES(word, id, year)                                                 \
    TABLE(word, id, .shares = true, .low_kg_ha = FW_##year##_LEAST,            \
          .high_kg_ha = FW_##year##_MOST)

static const struct fw_growth_table tables[] = {
    TABLE("northern-ireland", GROWTH_NORTHERN_IRELAND, .weekly = false),
    TABLE("ohio", GROWTH_OHIO, .weekly = true),
    SHARES("pennsylvania-bluegrass-clover", GROWTH_BLUEGRASS, YEAR_BLUEGRASS),
    SHARES("pennsylvania-tall-grass", GROWTH_TALL_GRASS, YEAR_TALL_GRASS),
    SHARES("pennsylvania-alfalfa-grass", GROWTH_ALFALFA, YEAR_ALFALFA),
    SHARES("pennsylvania-red-clover-grass", GROWTH_RED_CLOVER, YEAR_RED_CLOVER),
    SHARES("pennsylvania-trefoil-grass", GROWTH_TREFOIL, YEAR_TREFOIL),
    SHARES("pennsylvania-warm-season-grass", GROWTH_WARM_GRASS,
           YEAR_WARM_GRASS),
};
enum { table_count = sizeof tables / sizeof *tables, week_days = FW_PARTS(7) };

const struct fw_growth_table *fw_growth_tables(size_t *count)
{
    *count = table_count;
    return tables;
}

enum fw_status fw_growth_find(const char *word,
                              const struct fw_growth_table **out,
                              struct fw_error *err)
{
    const char *words[table_count];
    for (size_t i = 0; i < table_count; i++) {
        words[i] = tables[i].word;
        if (strcmp(word, words[i]) == 0) {
            *out = &tables[i];
            return FW_OK;
        }
    }
    const char *near = fw_text_nearest(word, words, table_count);
    return fw_fail(err, FW_EINPUT,
                   "\"%.60s\" is no published table of growth; %s%s%s", word,
                   near ? "did you mean "
                        : "expected a rate such as 40 "
                          "kg/ha/day, or a place such as ",
                   near ? near : tables[0].word, near ? "?" : "");
}

static struct fw_growth_rate by_month(const struct fw_growth_table *table,
                                      size_t i, double year_kg_ha)
{
    const int month = (int)table->at[i];
    const int days = fw_date_first(FW_COMMON_YEAR, month + 1) -
                     fw_date_first(FW_COMMON_YEAR, month);
    return (struct fw_growth_rate){.month = month,
                                   .of_month = 1,
                                   .kg_ha_day =
                                       table->values[i] *
                                       (table->shares ? year_kg_ha / days : 1)};
}

static struct fw_growth_rate by_week(const struct fw_growth_table *table,
                                     size_t i)
{
    const int begin = fw_date_first(FW_COMMON_YEAR, 1) + (int)table->at[i] - 1;
    const int month = fw_date_month(begin);
    return (struct fw_growth_rate){
        .month = month,
        .of_month = begin - fw_date_first(FW_COMMON_YEAR, month) + 1,
        .days = week_days,
        .kg_ha_day = table->values[i]};
}

double fw_growth_take(const struct fw_growth_table *table, double year_kg_ha,
                      struct fw_growth *growth)
{
    const double year = year_kg_ha > 0
                            ? year_kg_ha
                            : (table->low_kg_ha + table->high_kg_ha) / 2;
    double sum = 0;
    growth->steady = false;
    growth->count = table->count;
    for (size_t i = 0; i < table->count; i++) {
        growth->rates[i] =
            table->weekly ? by_week(table, i) : by_month(table, i, year);
        sum += table->values[i];
    }
    return table->shares ? sum : 1;
}
