/* The lines, as they were published. */
#include "stockpile/stockpile.h"

#include "base/fail.h"
#include "figures/mark.h"
#include "figures/stockpile.h"

#include <stdio.h>
#include <string.h>

#define CURVE_OF(id)                                                           \
    {                                                                          \
        FW_##id##_AT, FW_##id, sizeof FW_##id / sizeof FW_##id[0]              \
    }
#define FESCUE                                                                 \
    {                                                                          \
        "fescue-nitrogen", "fescue-legume", NULL                               \
    }
/* Their pages do not name what grew there. */
#define UNNAMED                                                                \
    {                                                                          \
        "mixed", NULL, NULL                                                    \
    }

static const struct fw_stockpile_line lines[] = {
    {
        .word = "north-carolina",
        .place = "tall fescue in North Carolina, cut in mid-November",
        .source = FW_STOCK_CAROLINA_SOURCE,
        .swards = FESCUE,
        .mass_kg_ha = CURVE_OF(STOCK_CAROLINA),
        .digest = CURVE_OF(STOCK_DIGEST),
        .digest_late = CURVE_OF(STOCK_DIGEST_LATE),
        .protein = CURVE_OF(STOCK_PROTEIN),
        .cut_of_year = FW_STOCK_CAROLINA_CUT,
        .frost_of_year = FW_STOCK_CAROLINA_FROST,
    },
    {
        .word = "virginia",
        .place = "tall fescue in Virginia, cut in December",
        .source = FW_STOCK_VIRGINIA_SOURCE,
        .swards = FESCUE,
        .mass_kg_ha = CURVE_OF(STOCK_VIRGINIA),
        .digest = CURVE_OF(STOCK_DIGEST),
        .digest_late = CURVE_OF(STOCK_DIGEST_LATE),
        .protein = CURVE_OF(STOCK_PROTEIN_VIRGINIA),
        .cut_of_year = FW_STOCK_VIRGINIA_CUT,
        .frost_of_year = FW_STOCK_VIRGINIA_FROST,
    },
    {
        .word = "ontario",
        .place = "grass in Ontario, of a kind that is not named",
        .source = FW_STOCK_ONTARIO_SOURCE,
        .swards = UNNAMED,
        .mass_kg_ha = CURVE_OF(STOCK_ONTARIO),
        .digest = CURVE_OF(STOCK_DIGEST_ONTARIO),
        .protein = CURVE_OF(STOCK_PROTEIN_ONTARIO),
        .grasses = true,
        .frost_of_year = FW_STOCK_ONTARIO_FROST,
    },
    {
        .word = "ireland",
        .place = "grass in Ireland, of a kind that is not named, as it stood "
                 "in spring",
        .source = FW_STOCK_IRELAND_SOURCE,
        .swards = UNNAMED,
        .mass_kg_ha = CURVE_OF(STOCK_IRELAND),
        .digest = CURVE_OF(STOCK_DIGEST_IRELAND),
        .spring = true,
        .frost_of_year = FW_STOCK_IRELAND_FROST,
    },
};
enum { line_count = sizeof lines / sizeof lines[0] };

const struct fw_stockpile_line *fw_stockpile_lines(size_t *count)
{
    *count = line_count;
    return lines;
}

double fw_stockpile_lat_deg(const struct fw_stockpile_line *line)
{
    const double lats_deg[line_count] = {
        FW_STOCK_CAROLINA_LAT, FW_STOCK_VIRGINIA_LAT, FW_STOCK_ONTARIO_LAT,
        FW_STOCK_IRELAND_LAT};
    return lats_deg[line - lines];
}

enum fw_status fw_stockpile_find(const char *word,
                                 const struct fw_stockpile_line **out,
                                 struct fw_error *err)
{
    const char *words[line_count];
    for (size_t i = 0; i < line_count; i++) {
        words[i] = lines[i].word;
        if (strcmp(word, lines[i].word) == 0) {
            *out = &lines[i];
            return FW_OK;
        }
    }
    const char *near = fw_text_nearest(word, words, line_count);
    return fw_fail(err, FW_EINPUT, "\"%.60s\" is no place with a line; %s%s%s",
                   word, near ? "did you mean " : "expected north-carolina, ",
                   near ? near : "virginia, ontario or ireland",
                   near ? "?" : "");
}

static bool has(const struct fw_stockpile_line *line, const char *sward)
{
    for (size_t i = 0; line->swards[i]; i++)
        if (strcmp(line->swards[i], sward) == 0)
            return true;
    return false;
}

/* Nobody has measured these; what comes nearest, and why. */
static const struct {
    const char *sward, *line, *why;
} nearest[] = {
    {"ryegrass-clover", "ireland",
     "whose page does not name its grass: tell sward mixed to take it"},
    {"orchardgrass-legume", "virginia",
     "on fescue: orchardgrass had a fifth less in Minnesota and a third less "
     "in Kentucky, and the two differ on how it keeps"},
    {"timothy-legume", "ontario",
     "whose page does not name its grass: tell sward mixed to take it"},
    {"bluegrass-clover", "virginia",
     "on fescue: bluegrass had a third of that in Kentucky"},
    {"pennsylvania-typical", "ontario",
     "whose page does not name its grass: tell sward mixed to take it"},
};

enum fw_status fw_stockpile_suits(const struct fw_stockpile_line *line,
                                  const char *sward, struct fw_error *err)
{
    if (has(line, sward))
        return FW_OK;
    for (size_t i = 0; i < line_count; i++)
        if (has(&lines[i], sward))
            return fw_fail(err, FW_EINPUT,
                           "the line of %s was measured on %s, not on %s; "
                           "take %s, which was",
                           line->word, line->swards[0], sward, lines[i].word);
    for (size_t i = 0; i < sizeof nearest / sizeof nearest[0]; i++)
        if (strcmp(nearest[i].sward, sward) == 0)
            return fw_fail(err, FW_EINPUT,
                           "nobody has published what %s stockpiles; nearest "
                           "is %s, %s",
                           sward, nearest[i].line, nearest[i].why);
    return fw_fail(err, FW_EINPUT,
                   "nobody has published what \"%.60s\" stockpiles; there are "
                   "lines for fescue-nitrogen, fescue-legume and mixed",
                   sward);
}

double fw_stockpile_at(const struct fw_stockpile_curve *curve, double of_year,
                       bool held)
{
    const int last = curve->count - 1;
    int i = 0;
    if (held && of_year <= curve->at[0])
        return curve->values[0];
    if (held && of_year >= curve->at[last])
        return curve->values[last];
    while (i < last - 1 && of_year > curve->at[i + 1])
        i++;
    return curve->values[i] + (curve->values[i + 1] - curve->values[i]) *
                                  (of_year - curve->at[i]) /
                                  (curve->at[i + 1] - curve->at[i]);
}

/* 29 February counts as the day before it. */
double fw_stockpile_of_year(int day)
{
    const int year = fw_date_year(day);
    const int march = fw_date_first(year, FW_PARTS(3));
    const bool leap = march - fw_date_first(year, 1) ==
                      fw_date_first(FW_COMMON_YEAR, FW_PARTS(3)) -
                          fw_date_first(FW_COMMON_YEAR, 1) + 1;
    return day - fw_date_first(year, 1) + (leap && day >= march ? 0 : 1) -
           (leap && day == march - 1 ? 1 : 0);
}

int fw_stockpile_day(int year, int of_year)
{
    const int march = fw_date_first(FW_COMMON_YEAR, FW_PARTS(3)) -
                      fw_date_first(FW_COMMON_YEAR, 1);
    return of_year <= march
               ? fw_date_first(year, 1) + of_year - 1
               : fw_date_first(year, FW_PARTS(3)) + of_year - march - 1;
}

bool fw_stockpile_measured(const struct fw_stockpile_line *line, int day)
{
    const struct fw_stockpile_curve *curve = &line->mass_kg_ha;
    const double of_year = fw_stockpile_of_year(day);
    return of_year >= curve->at[0] && of_year <= curve->at[curve->count - 1];
}
