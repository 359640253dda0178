/* Reading one value to where it goes, by kind of value. A setter says what is
 * wrong with the text; its callers put in front where the text stands. */
#include "keys/schema.h"

#include "base/text.h"
#include "figures/mark.h"
#include "figures/stockpile.h"
#include <ctype.h>
#include <math.h>
#include <string.h>

/* Pounds, acres, feet or inches in what a person writes show what this person
 * reads. */
bool fw_farm_says_us(const char *text)
{
    static const char *const words[] = {
        "lb",      "lbs",   "pound",  "pounds", "ac",    "acre", "acres",
        "in",      "inch",  "inches", "ft",     "foot",  "feet", "yd",
        "yard",    "yards", "mi",     "mile",   "miles", "gal",  "gallon",
        "gallons", "gpm",   "psi",    NULL};
    while (*text) {
        const size_t gap = strcspn(text, "abcdefghijklmnopqrstuvwxyz");
        text += gap;
        const size_t length = strspn(text, "abcdefghijklmnopqrstuvwxyz");
        for (size_t i = 0; length > 0 && words[i]; i++)
            if (strlen(words[i]) == length &&
                strncmp(words[i], text, length) == 0)
                return true;
        text += length;
    }
    return false;
}

enum fw_status fw_farm__quantity(struct fw_farm__reader *reader,
                                 const char *text, enum fw_kind kind,
                                 double *out, struct fw_error *err)
{
    enum fw_status status = FW_OK;
    if (!reader->quantities)
        status = fw_quantities_new(&reader->quantities, err);
    if (!status)
        status = fw_quantity_read(reader->quantities, text, kind, reader->units,
                                  reader->units_given, out, err);
    if (!status && fw_farm_says_us(text))
        reader->us_words = true;
    return status;
}

bool fw_farm__plain_number(const char *text, double *out)
{
    const char *end = text;
    const double value = fw_text_number(text, &end);
    if (end == text || *end || !isfinite(value) ||
        text[strspn(text, "0123456789.+-eE")])
        return false;
    *out = value;
    return true;
}

static enum fw_status out_of_range(const char *text,
                                   const struct fw_farm__reading *row,
                                   struct fw_error *err)
{
    char range[FW_FARM_KEY_WORDS];
    return fw_fail(err, FW_EINPUT, "\"%.80s\" is out of range; expected %s",
                   text, fw_farm__range(row, range));
}

FW_SETTER(fw_farm__set_text)
{
    if (!text[0])
        return fw_fail(err, FW_EINPUT, "is empty; expected %s, such as %s",
                       row->range, row->example);
    if ((double)strlen(text) > row->most)
        return fw_fail(err, FW_EINPUT,
                       "\"%.40s...\" is too long; expected at most %.0f bytes",
                       text, row->most);
    ((struct fw_farm__text *)to)->text = text;
    return FW_OK;
}

FW_SETTER(fw_farm__set_quantity)
{
    double value;
    const enum fw_status status =
        fw_farm__quantity(reader, text, row->kind, &value, err);
    if (status)
        return status;
    if (row->scale > 0)
        value *= row->scale;
    /* 200 cm and 2 m differ by a rounding at most. */
    const double give = FW_TOLERANCE(1e-9) * row->most;
    if (!(value >= row->least - give && value <= row->most + give))
        return out_of_range(text, row, err);
    ((struct fw_farm__number *)to)->value = value;
    return FW_OK;
}

FW_SETTER(fw_farm__set_money)
{
    const size_t digits = strspn(text, "0123456789.");
    const char *end = text;
    const double value = fw_text_number(text, &end);
    if (digits == 0 || text[digits] || *end || !isdigit((unsigned char)text[0]))
        return fw_fail(err, FW_EINPUT,
                       "\"%.80s\" is not a price; expected a plain number with "
                       "a point for decimals, such as %s",
                       text, row->example);
    if (!(value <= row->most))
        return out_of_range(text, row, err);
    ((struct fw_farm__number *)to)->value = value;
    return FW_OK;
}

FW_SETTER(fw_farm__set_number)
{
    double value;
    if (!fw_farm__plain_number(text, &value))
        return fw_fail(err, FW_EINPUT,
                       "\"%.80s\" is not a plain number; expected such as %s",
                       text, row->example);
    ((struct fw_farm__number *)to)->value = value;
    return FW_OK;
}

static enum fw_status no_such_word(const char *text, const char *near,
                                   const struct fw_farm__reading *row,
                                   struct fw_error *err)
{
    char range[FW_FARM_KEY_WORDS];
    fw_farm__range(row, range);
    if (near)
        return fw_fail(err, FW_EINPUT,
                       "\"%.80s\" is none of %s; did you mean \"%s\"?", text,
                       range, near);
    return fw_fail(err, FW_EINPUT, "\"%.80s\" is unknown; expected %s", text,
                   range);
}

FW_SETTER(fw_farm__set_pick)
{
    const size_t untold = row->words[0] ? 0 : 1;
    for (size_t i = untold; i < row->word_count; i++)
        if (strcmp(row->words[i], text) == 0) {
            ((struct fw_farm__pick *)to)->value = (int)i;
            return FW_OK;
        }
    return no_such_word(
        text,
        fw_text_nearest(text, row->words + untold, row->word_count - untold),
        row, err);
}

static bool same_word(const char *text, const char *word)
{
    while (*text && tolower((unsigned char)*text) == *word) {
        text++;
        word++;
    }
    return !*text && !*word;
}

FW_SETTER(fw_farm__set_answer)
{
    const bool yes = same_word(text, "yes") || same_word(text, "true");
    if (!yes && !same_word(text, "no") && !same_word(text, "false"))
        return fw_fail(err, FW_EINPUT, "\"%.80s\" is no answer; expected %s",
                       text, row->range);
    ((struct fw_farm__pick *)to)->value = yes ? 1 : 0;
    return FW_OK;
}

FW_SETTER(fw_farm__set_day)
{
    int day;
    const enum fw_status status = fw_date_read(text, &day, err);
    if (!status)
        ((struct fw_farm__number *)to)->value = day;
    return status;
}

FW_SETTER(fw_farm__set_state)
{
    enum fw_state state;
    const enum fw_status status = fw_flock_state(text, &state, err);
    if (!status)
        ((struct fw_farm__pick *)to)->value = (int)state;
    return status;
}

/* "2.6 %" or "1.9 kg/day": which of the two, a unit with a stroke or a word
 * tells. */
FW_SETTER(fw_farm__set_intake)
{
    const bool share = strchr(text, '%') || strstr(text, "percent") ||
                       !strpbrk(text, "abcdefghijklmnopqrstuvwxyz");
    double value;
    const enum fw_status status = fw_farm__quantity(
        reader, text, share ? FW_KIND_SHARE : FW_KIND_MASS_PER_DAY, &value,
        err);
    if (status)
        return status;
    const double most = share ? FW_BOUND(0.1) : FW_BOUND(15);
    if (!(value > 0 && value <= most))
        return out_of_range(text, row, err);
    ((struct fw_farm__number *)to)->value = share ? value : -value;
    return FW_OK;
}

FW_SETTER(fw_farm__set_sward)
{
    const struct fw_density_row *found;
    const enum fw_status status = fw_forage_find(text, &found, err);
    if (!status)
        ((struct fw_farm__text *)to)->text = found->word;
    return status;
}

/* A word, or what was weighed: 0 in the number says that it is a word. */
FW_SETTER(fw_farm__set_density)
{
    const char *const *words = fw_forage_density_words;
    enum { word_count = FW_DENSITY_THICK + 1 };
    struct fw_farm__density *density = to;
    for (int i = 0; i < word_count; i++)
        if (strcmp(text, words[i]) == 0) {
            density->word = (enum fw_density)i;
            density->kg_ha_cm = 0;
            return FW_OK;
        }
    if (!strpbrk(text, "0123456789"))
        return no_such_word(text, fw_text_nearest(text, words, word_count), row,
                            err);
    double value;
    const enum fw_status status =
        fw_farm__quantity(reader, text, FW_KIND_SWARD_DENSITY, &value, err);
    if (status)
        return status;
    if (!(value >= 1 && value <= FW_BOUND(2000)))
        return fw_fail(err, FW_EINPUT,
                       "\"%.80s\" is out of range; expected 1 to 2000 kg/ha "
                       "per cm",
                       text);
    density->kg_ha_cm = value;
    return FW_OK;
}

FW_SETTER(fw_farm__set_line)
{
    const struct fw_stockpile_line *found;
    const enum fw_status status = fw_stockpile_find(text, &found, err);
    if (!status)
        ((struct fw_farm__text *)to)->text = found->word;
    return status;
}

/* "free" is 0. */
FW_SETTER(fw_farm__set_break)
{
    double days = 0;
    if (strcmp(text, "free") != 0) {
        const enum fw_status status =
            fw_farm__quantity(reader, text, FW_KIND_DURATION, &days, err);
        if (status)
            return status;
        if (!(days >= 0.5 && days <= FW_BOUND(14)))
            return out_of_range(text, row, err);
    }
    ((struct fw_farm__number *)to)->value = days;
    return FW_OK;
}

/* Less than the line had has a minus, which no other amount takes. What is told
 * without a unit may be pounds or kilograms: it is asked for. */
FW_SETTER(fw_farm__set_nitrogen)
{
    double value = 0;
    const bool less = text[0] == '-';
    if (strcmp(text, "none") != 0) {
        const char *amount = text + (less || text[0] == '+');
        const enum fw_status status = fw_farm__quantity(
            reader, amount, FW_KIND_MASS_PER_AREA, &value, err);
        if (status)
            return status;
        if (!(value <= FW_STOCK_NITROGEN_MOST + FW_TOLERANCE(0.01)))
            return fw_fail(err, FW_EINPUT,
                           "\"%.80s\" is %.0f kg/ha; no trial gave more than "
                           "%.0f kg/ha, which is 100 lb/acre, so that nobody "
                           "knows what it does",
                           text, value, FW_STOCK_NITROGEN_MOST);
    }
    ((struct fw_farm__number *)to)->value = less ? -value : value;
    return FW_OK;
}

FW_SETTER(fw_farm__set_rule)
{
    enum fw_joule_rule rule;
    const enum fw_status status = fw_power_rule_find(text, &rule, err);
    if (!status)
        ((struct fw_farm__pick *)to)->value = (int)rule;
    return status;
}

FW_SETTER(fw_farm__set_role)
{
    enum fw_role role;
    const enum fw_status status = fw_safety_role_find(text, &role, err);
    if (!status)
        ((struct fw_farm__pick *)to)->value = (int)role;
    return status;
}
