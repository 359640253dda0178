/* What moves the result: each setting alone, from one end to the other, and how
 * many days at need lie between. */
#include "winter/winter.h"

#include "base/text.h"
#include "figures/say.h"
#include "figures/stockpile.h"

#include <math.h>

/* All parts through another winter, each changed alike: days' worth of what
 * they need, whether it can be eaten or not. */
static double worth_days(const struct fw_winter *winter,
                         const struct fw_stockpile_winter *through, int later,
                         double nitrogen_kg_ha)
{
    double days = 0;
    for (size_t i = 0; i < winter->part_count; i++) {
        struct fw_stockpile_part part = *winter->parts[i].part;
        struct fw_winter_row row;
        const int most = through->frost_day - 1;
        if (part.grazed_day != FW_NO_DAY)
            part.grazed_day =
                part.grazed_day + later < most ? part.grazed_day + later : most;
        if (part.topped_day != FW_NO_DAY)
            part.topped_day =
                part.topped_day + later < most ? part.topped_day + later : most;
        part.nitrogen_kg_ha += nitrogen_kg_ha;
        fw_winter__row(winter, through, &part, winter->middle_day, &row);
        days += row.fed[winter->class].worth_days;
    }
    return days;
}

static struct fw_winter_effect *add(struct fw_winter *winter, const char *what,
                                    const char *from, const char *to)
{
    struct fw_winter_effect *out = &winter->effects[winter->effect_count++];
    out->what = what;
    fw_text_clip(from, out->from, sizeof out->from);
    fw_text_clip(to, out->to, sizeof out->to);
    return out;
}

static void by_line(struct fw_winter *winter)
{
    struct fw_stockpile_winter other = winter->farm->stockpile.winter;
    const char *told = other.line->word;
    if (winter->other_line)
        other.line = winter->other_line;
    struct fw_winter_effect *out = add(winter, "line", told, other.line->word);
    out->from_days = worth_days(winter, &winter->farm->stockpile.winter, 0, 0);
    out->to_days = worth_days(winter, &other, 0, 0);
}

static void by_loss(struct fw_winter *winter)
{
    struct fw_stockpile_winter other = winter->farm->stockpile.winter;
    char least[sizeof winter->effects->from], most[sizeof least];
    fw_text_format(least, sizeof least, "%g %%", 100 * FW_STOCK_LOSS_LEAST);
    fw_text_format(most, sizeof most, "%g %%", 100 * FW_STOCK_LOSS_MOST);
    struct fw_winter_effect *out = add(winter, "winter loss", least, most);
    other.loss = FW_STOCK_LOSS_LEAST;
    out->from_days = worth_days(winter, &other, 0, 0);
    other.loss = FW_STOCK_LOSS_MOST;
    out->to_days = worth_days(winter, &other, 0, 0);
}

static void by_method(struct fw_winter *winter)
{
    struct fw_stockpile_winter other = winter->farm->stockpile.winter;
    struct fw_winter_effect *out =
        add(winter, "method", "all of it at once", "breaks of 3 days");
    other.break_days = 0;
    out->from_days = worth_days(winter, &other, 0, 0);
    other.break_days = FW_STOCK_TAKEN_AT[0];
    out->to_days = worth_days(winter, &other, 0, 0);
}

/* Half as much as any trial gave, by the least and the most that it did. */
static void by_nitrogen(struct fw_winter *winter)
{
    struct fw_stockpile_winter other = winter->farm->stockpile.winter;
    const enum fw_units units = winter->farm->units;
    char most[sizeof winter->effects->to];
    fw_text_format(most, sizeof most, "%.0f %s more, at its best",
                   fw_in_mass_per_area(FW_STOCK_NITROGEN_MOST / 2, units),
                   fw_mass_per_area_unit(units));
    struct fw_winter_effect *out = add(winter, "nitrogen", "as told", most);
    out->from_days = worth_days(winter, &other, 0, 0);
    other.nitrogen_gain = FW_STOCK_NITROGEN_GAIN_MOST;
    out->to_days = worth_days(winter, &other, 0, FW_STOCK_NITROGEN_MOST / 2);
}

static void by_date(struct fw_winter *winter)
{
    const struct fw_stockpile_winter *told = &winter->farm->stockpile.winter;
    struct fw_winter_effect *out =
        add(winter, "date", "closed 2 weeks earlier", "2 weeks later");
    out->from_days = worth_days(winter, told, -FW_STOCK_DATE_DAYS, 0);
    out->to_days = worth_days(winter, told, FW_STOCK_DATE_DAYS, 0);
}

static double span(const struct fw_winter_effect *effect)
{
    return fabs(effect->to_days - effect->from_days);
}

void fw_winter__effects(struct fw_winter *winter)
{
    by_line(winter);
    by_loss(winter);
    by_method(winter);
    by_nitrogen(winter);
    by_date(winter);
    for (size_t i = 1; i < winter->effect_count; i++)
        for (size_t k = i;
             k > 0 && span(&winter->effects[k]) > span(&winter->effects[k - 1]);
             k--) {
            const struct fw_winter_effect other = winter->effects[k];
            winter->effects[k] = winter->effects[k - 1];
            winter->effects[k - 1] = other;
        }
}
