/* The winter's grass for a person: what to do, month by month what each part is
 * good for, what topping did, what moves the result. */
#include "report/stockpile.h"

#include "figures/stockpile.h"
#include "figures/units.h"
#include "report/report.h"

#include <math.h>
#include <string.h>

const char *const fw_report__class_words[] = {
    [FW_STOCKPILE_DRY] = "dry ewes",
    [FW_STOCKPILE_EARLY] = "ewes early in lamb",
    [FW_STOCKPILE_LATE] = "ewes late in lamb",
    [FW_STOCKPILE_LATE_FIBRE] = "ewes late in lamb, their intake by fibre",
};

const char *const fw_report__condition_words[] = {
    [FW_STOCKPILE_FRESH] = "fresh",
    [FW_STOCKPILE_AGED] = "aged",
    [FW_STOCKPILE_RANK] = "rank",
};

/* Its number alone: the unit stands at the head of the column. */
static const char *mass(double kg_ha, enum fw_units units, char text[FW_WORDS])
{
    fw_report__mass_per_area(kg_ha, units, text);
    text[strcspn(text, " ")] = '\0';
    return text;
}

static double in_words(double kg, enum fw_units units)
{
    return units == FW_US ? kg / FW_POUND_KG : kg;
}

const char *fw_report__stock_day(int day, char text[FW_WORDS])
{
    char whole[FW_WORDS];
    fw_report__day(day, false, whole);
    fw_text_clip(strchr(whole, ' ') ? strchr(whole, ' ') + 1 : whole, text,
                 FW_WORDS);
    return text;
}

/* A paragraph set in by two. */
static void set_in(struct fw_text *text, struct fw_text *words)
{
    fw_text_add(text, "  ");
    fw_report__fold_text(text, 4, words);
}

/* ---- the head ---- */

static void head(struct fw_text *text, const struct fw_winter *winter,
                 bool colour)
{
    const struct fw_farm *farm = winter->farm;
    const struct fw_farm_stockpile *told = &farm->stockpile;
    struct fw_text title = {0}, words = {0};
    char loss[FW_WORDS] = "with what winter takes in it";
    if (!told->winter.line->spring)
        fw_text_format(loss, sizeof loss, "winter taking %.0f %%",
                       100 * told->winter.loss);
    char area[FW_WORDS], weight[FW_WORDS], from[FW_WORDS], frost[FW_WORDS];
    fw_text_addf(&title, "%s: the winter's grass", farm->name);
    fw_report__heading_text(text, colour, &title);
    fw_text_addf(
        &words,
        "%.0f grown sheep of %s on %s in %zu part%s; wanted for %d days from "
        "%s. By the line of %s (%s), %s, growth ending with the frost "
        "on %s%s.",
        winter->flock.head,
        fw_report__mass(winter->flock.weight_kg, farm->units, weight),
        fw_report__area(winter->area_ha, farm->units, area), winter->part_count,
        winter->part_count == 1 ? "" : "s", told->days,
        fw_report__day(told->from_day, true, from), told->winter.line->word,
        told->winter.line->place, loss,
        fw_report__stock_day(told->winter.frost_day, frost),
        told->frost_told ? "" : ", the place's own");
    fw_report__fold_text(text, 0, &words);
    if (winter->left_out) {
        fw_text_addf(&words,
                     "%d lambs are not counted: they are grown or gone "
                     "by then.",
                     winter->left_out);
        fw_report__fold_text(text, 0, &words);
    }
}

/* ---- what to do ---- */

static void one_order(struct fw_text *words, const struct fw_winter *winter,
                      const struct fw_winter_order *order)
{
    char day[FW_WORDS];
    bool any = false;
    for (size_t i = 0; i < winter->part_count; i++) {
        if (order->from_days[i] == FW_NO_DAY)
            continue;
        fw_text_addf(words, "%s%s from %s", any ? ", then " : "",
                     winter->parts[order->parts[i]].part->name,
                     fw_report__stock_day(order->from_days[i], day));
        any = true;
    }
}

static void order(struct fw_text *text, const struct fw_winter *winter)
{
    const bool good = winter->good_is_better;
    const struct fw_winter_order *best =
        good ? &winter->good_first : &winter->poor_first;
    const struct fw_winter_order *other =
        good ? &winter->poor_first : &winter->good_first;
    const enum fw_units units = winter->farm->units;
    struct fw_text words = {0};
    char kg[FW_WORDS], more[FW_WORDS];
    fw_text_add(&words, "Graze ");
    one_order(&words, winter, best);
    fw_text_addf(&words, ": %d of %d days on grass, %d of them on grass alone",
                 best->days_fed, winter->farm->stockpile.days,
                 best->days_at_need);
    if (best->other_kg > 0)
        fw_text_addf(&words, ", with %s of other feed in all",
                     fw_report__mass(best->other_kg, units, kg));
    fw_text_add(&words, ".");
    if (winter->part_count > 1)
        fw_text_addf(&words,
                     " The other way round: %d days on grass, %d of them "
                     "alone, %s of other feed.",
                     other->days_fed, other->days_at_need,
                     fw_report__mass(other->other_kg, units, more));
    if (winter->differ)
        fw_text_add(&words,
                    good ? " The better grass falls faster, and they need it "
                           "while it is good."
                         : " The poorer grass is for those who need least, "
                           "first; the better one keeps for late in lamb.");
    if (!winter->farm->lambing.given)
        fw_text_add(&words, " Lambing is not told, so that all count as dry: "
                            "tell lambing.from (--lambing-from).");
    fw_report__fold_text(text, 0, &words);
}

static void open_break(struct fw_text *text, const struct fw_winter *winter)
{
    struct fw_text words = {0};
    char day[FW_WORDS];
    bool any = false;
    if (!winter->differ)
        return;
    fw_text_add(&words, "Fence them apart. In one open break");
    for (size_t i = 0; i < winter->part_count; i++) {
        const struct fw_winter_part *part = &winter->parts[i];
        fw_text_addf(&words, "%s %s %.0f %%", any ? "," : " they take of",
                     part->part->name, 100 * part->open_share);
        any = true;
    }
    fw_text_add(&words, "; fenced apart");
    for (size_t i = 0; i < winter->part_count; i++)
        fw_text_addf(&words, "%s %s %.0f %%", i ? "," : "",
                     winter->parts[i].part->name,
                     100 * winter->parts[i].middle.share);
    if (winter->cleared_day > winter->last_day)
        fw_text_add(&words, ". The leafy part lasts them through the wanted "
                            "days.");
    else
        fw_text_addf(&words,
                     ". The leafy part is cleared by %s; what they do then is "
                     "not published.",
                     fw_report__stock_day(winter->cleared_day, day));
    fw_report__fold_text(text, 0, &words);
}

static void window(struct fw_text *text, const struct fw_winter *winter,
                   enum fw_stockpile_class class)
{
    struct fw_text words = {0};
    char first[FW_WORDS], last[FW_WORDS];
    size_t from = 0, to = 0;
    const int days = winter->farm->stockpile.days;
    if (fw_winter_window(winter, class, &from, &to)) {
        fw_text_addf(&words,
                     "%s: closed about %s to %s, all of it feeds them %d "
                     "days on grass alone%s",
                     fw_report__class_words[class],
                     fw_report__stock_day(winter->closings[from].day, first),
                     fw_report__stock_day(winter->closings[to].day, last), days,
                     winter->closings[from].measured &&
                             winter->closings[to].measured
                         ? ""
                         : " (in part beyond what was measured)");
    } else {
        fw_text_addf(&words,
                     "%s: on no day that it could be closed does it feed "
                     "them %d days on grass alone",
                     fw_report__class_words[class], days);
    }
    set_in(text, &words);
}

/* ---- month by month ---- */

static void cell(struct fw_text *text, const struct fw_stockpile_fed *fed,
                 enum fw_units units)
{
    char words[FW_WORDS];
    if (!(fed->days_with_feed > 0))
        fw_text_format(words, sizeof words, "-");
    else if (fed->other_kg > 0)
        fw_text_format(words, sizeof words, "%.0f +%.2f", fed->days_with_feed,
                       fw_say_round(in_words(fed->other_kg, units), 2, FW_UP));
    else
        fw_text_format(words, sizeof words, "%.0f", fed->days_at_need);
    fw_text_addf(text, "%-10s", words);
}

static void end_line(struct fw_text *text)
{
    while (!text->failed && text->length > 0 &&
           text->bytes[text->length - 1] == ' ')
        text->bytes[--text->length] = '\0';
    fw_text_add(text, "\n");
}

static void row(struct fw_text *text, const struct fw_winter_row *row,
                enum fw_units units)
{
    char stands[FW_WORDS], day[FW_WORDS], protein[FW_WORDS] = "-";
    if (!isnan(row->stand.protein))
        fw_text_format(protein, sizeof protein, "%.1f",
                       100 * row->stand.protein);
    fw_text_addf(text, "  %-7s%-8s%-8.1f%-6s%-6.0f",
                 fw_report__stock_day(row->day, day),
                 mass(row->stand.mass_kg_ha, units, stands),
                 100 * row->stand.digest, protein, 100 * row->share);
    for (int k = 0; k < FW_STOCKPILE_CLASS_COUNT; k++)
        cell(text, &row->fed[k], units);
    end_line(text);
}

/* All of it closed on one day: the first and the middle of each month. */
static bool is_listed(int day)
{
    char iso[FW_DATE_TEXT];
    fw_date_write(day, iso);
    return strcmp(iso + 8, "01") == 0 || strcmp(iso + 8, "15") == 0;
}

static void closings(struct fw_text *text, const struct fw_winter *winter)
{
    const enum fw_units units = winter->farm->units;
    char day[FW_WORDS];
    bool beyond = false;
    fw_text_addf(text,
                 "\n  all    then on %s\n"
                 "  closed stands  digest- pro-  taken days on it\n"
                 "         %-8sible %%  tein  %%     dry       early     late, "
                 "by  late, by\n"
                 "                         %%           ewes      in lamb   "
                 "weight    fibre\n",
                 fw_report__stock_day(winter->middle_day, day),
                 fw_mass_per_area_unit(units));
    for (size_t i = 0; i < winter->closing_count; i++) {
        struct fw_winter_row shown = winter->closings[i].row;
        if (!is_listed(winter->closings[i].day))
            continue;
        shown.day = winter->closings[i].day;
        row(text, &shown, units);
        if (!winter->closings[i].measured && !text->failed) {
            text->bytes[--text->length] = '\0';
            fw_text_add(text, " *\n");
            beyond = true;
        }
    }
    if (beyond)
        fw_text_add(text, "  * the line was not measured for that day\n");
}

static void part_title(struct fw_text *text, const struct fw_winter *winter,
                       const struct fw_winter_part *part)
{
    const enum fw_units units = winter->farm->units;
    const struct fw_stockpile_stand *stand = &part->middle.stand;
    struct fw_text words = {0};
    char area[FW_WORDS], day[FW_WORDS], old[FW_WORDS], nitrogen[FW_WORDS];
    fw_text_addf(&words, "%s, %s, closed %s: %s", part->part->name,
                 fw_report__area(part->part->area_ha, units, area),
                 fw_report__stock_day(stand->closed_day, day),
                 fw_report__condition_words[stand->condition]);
    if (stand->carried_kg_ha > 0)
        fw_text_addf(
            &words,
            "; %s of old grass was left above the stop height and is "
            "carried over",
            fw_report__mass_per_area(stand->carried_kg_ha, units, old));
    if (part->part->nitrogen_kg_ha > 0 || part->part->nitrogen_kg_ha < 0)
        fw_text_addf(&words, "; nitrogen %s %s than the line had",
                     fw_report__mass_per_area(fabs(part->part->nitrogen_kg_ha),
                                              units, nitrogen),
                     part->part->nitrogen_kg_ha > 1 ? "more" : "less");
    if (!part->measured)
        fw_text_add(&words, "; beyond the days for which the line was "
                            "measured");
    set_in(text, &words);
}

static void months(struct fw_text *text, const struct fw_winter *winter)
{
    const enum fw_units units = winter->farm->units;
    fw_text_addf(text,
                 "\n  on     stands  digest- pro-  taken days on it, all of "
                 "it grazed then\n"
                 "         %-8sible %%  tein  %%     dry       early     late, "
                 "by  late, by\n"
                 "                         %%           ewes      in lamb   "
                 "weight    fibre\n",
                 fw_mass_per_area_unit(units));
    for (size_t i = 0; i < winter->part_count; i++) {
        part_title(text, winter, &winter->parts[i]);
        for (size_t k = 0; k < winter->row_count; k++)
            row(text, &winter->parts[i].rows[k], units);
    }
    struct fw_text words = {0};
    fw_text_addf(&words,
                 "41: so many days on grass alone. 52 +0.6: no day on grass "
                 "alone, since they cannot eat enough of it; 52 days with 0.6 "
                 "%s of other feed a ewe a day beside it. What ewes late in "
                 "lamb can eat differs by source: %.1f %% of their weight, or "
                 "%.1f %% in fibre.",
                 units == FW_US ? "lb" : "kg", 100 * FW_STOCK_LIMIT_WEIGHT,
                 100 * FW_STOCK_LIMIT_FIBRE);
    fw_report__fold_text(text, 0, &words);
}

/* ---- topping ---- */

static void topped(struct fw_text *text, const struct fw_winter *winter,
                   const struct fw_winter_part *part)
{
    const struct fw_winter_topping *topping = &part->topping;
    const enum fw_units units = winter->farm->units;
    const enum fw_stockpile_class class = winter->class;
    const struct fw_stockpile_fed *with = &topping->with.fed[class];
    const struct fw_stockpile_fed *worst = &topping->without.fed[class];
    const struct fw_stockpile_fed *best = &topping->without_best.fed[class];
    struct fw_text words = {0};
    char area[FW_WORDS];
    if (!topping->cuts) {
        fw_text_addf(&words,
                     "%s: %s no grass above that height; seed heads alone "
                     "are not worth it.",
                     part->part->name,
                     topping->done ? "topping took" : "topping would take");
        set_in(text, &words);
        return;
    }
    fw_text_addf(&words, "%s, %s, about %.1f hours: ", part->part->name,
                 fw_report__area(part->part->area_ha, units, area),
                 topping->hours);
    if (topping->after_days < 0)
        fw_text_add(&words, "it was mown and not grazed.");
    else
        fw_text_addf(
            &words,
            "%s %.0f days at need for %s and %.2f %s of other feed a ewe a "
            "day; left standing, %.0f and %.2f with old grass at its worst, "
            "%.0f and %.2f at its best.",
            topping->done ? "topped" : "topped the day after grazing it had",
            with->days_at_need, fw_report__class_words[class],
            in_words(with->other_kg, units), units == FW_US ? "lb" : "kg",
            worst->days_at_need, in_words(worst->other_kg, units),
            best->days_at_need, in_words(best->other_kg, units));
    set_in(text, &words);
    if (topping->done && topping->late) {
        fw_text_addf(&words,
                     "! %s was topped %d days after grazing: best within a "
                     "day, %d at most; later it cuts what has regrown.",
                     part->part->name, topping->after_days, FW_STOCK_TOP_LAST);
        set_in(text, &words);
    }
    if (topping->heavy) {
        fw_text_addf(
            &words,
            "! %s: %s of cut grass rots on what grows below it: "
            "graze it first, or take it off.",
            part->part->name,
            fw_report__mass_per_area(topping->swath_kg_ha, units, area));
        set_in(text, &words);
    }
}

static void left(struct fw_text *text, const struct fw_winter *winter,
                 const struct fw_winter_part *part)
{
    const enum fw_units units = winter->farm->units;
    struct fw_text words = {0};
    char wanted[FW_WORDS], seen[FW_WORDS];
    if (part->seen_m < 0) {
        fw_text_addf(
            &words, "%s: by the forecast they leave about %s, fenced apart.",
            part->part->name, fw_report__height(part->left_m, units, wanted));
    } else {
        fw_text_addf(&words,
                     "%s: they left %s, which is %.0f %% taken; the forecast "
                     "was %s and %.0f %% fenced apart, %.0f %% in one break.",
                     part->part->name,
                     fw_report__height(part->seen_m, units, seen),
                     100 * part->seen_share,
                     fw_report__height(part->left_m, units, wanted),
                     100 * part->middle.share, 100 * part->open_share);
    }
    set_in(text, &words);
}

static void topping(struct fw_text *text, const struct fw_winter *winter)
{
    fw_text_add(text, "\n");
    fw_report__fold(text, 0,
                    "Topping: no trial is found that shows its gain, so both "
                    "limits stand here. Within a day of grazing, three at "
                    "most; never below the stop height; not in drought.");
    for (size_t i = 0; i < winter->part_count; i++)
        topped(text, winter, &winter->parts[i]);
    fw_report__fold(text, 0,
                    "What they leave settles it on this farm: --left "
                    "PART=HEIGHT.");
    for (size_t i = 0; i < winter->part_count; i++)
        left(text, winter, &winter->parts[i]);
}

/* ---- what moves it ---- */

static void effects(struct fw_text *text, const struct fw_winter *winter)
{
    fw_text_add(text, "\n");
    fw_report__fold(text, 0,
                    "What moves the result, most first, in days' need of the "
                    "flock on all parts (nobody can read a date to the day):");
    for (size_t i = 0; i < winter->effect_count; i++) {
        const struct fw_winter_effect *effect = &winter->effects[i];
        if (strcmp(effect->from, effect->to) == 0)
            fw_text_addf(text, "  %-12s there is no other for this sward\n",
                         effect->what);
        else
            fw_text_addf(text, "  %-12s %.0f (%s) to %.0f (%s)\n", effect->what,
                         effect->from_days, effect->from, effect->to_days,
                         effect->to);
    }
}

/* ---- how far it carries ---- */

static void limits(struct fw_text *text, const struct fw_winter *winter)
{
    const struct fw_stockpile_winter *told = &winter->farm->stockpile.winter;
    const double lat_deg = fw_stockpile_lat_deg(told->line);
    struct fw_text words = {0};
    fw_text_addf(&words,
                 "How far this carries: the line is from %.0f degrees north, "
                 "the fields lie at %.0f.",
                 lat_deg, told->lat_deg);
    if (told->base_nitrogen_kg_ha < 0)
        fw_text_add(&words,
                    " Its source tells neither nitrogen nor cutting height.");
    if (told->line->spring)
        fw_text_add(&words, " It was measured in spring: what winter took is "
                            "in it already.");
    if (!told->line->protein.count)
        fw_text_add(&words, " It tells no protein.");
    fw_text_add(&words,
                " Shares taken were measured on cattle and in other seasons. "
                "Walk the parts in the first frost and weigh what stands.");
    fw_text_add(text, "\n");
    fw_report__fold_text(text, 0, &words);
}

enum fw_status fw_report_stockpile(const struct fw_winter *winter, bool colour,
                                   char **out, struct fw_error *err)
{
    struct fw_text text = {0};
    fw_report__first(&text);
    head(&text, winter, colour);
    fw_text_add(&text, "\n");
    order(&text, winter);
    open_break(&text, winter);
    fw_text_add(&text, "\nWhen to take the last of it:\n");
    for (int k = 0; k <= FW_STOCKPILE_LATE; k++)
        window(&text, winter, (enum fw_stockpile_class)k);
    closings(&text, winter);
    months(&text, winter);
    topping(&text, winter);
    effects(&text, winter);
    limits(&text, winter);
    return fw_report__give(&text, out, NULL, err);
}
