/* How fast the grass grows: one rate, rates by month or week, the word of a
 * published table, or a file of rates. */
#include "keys/schema.h"

#include "base/text.h"
#include "figures/mark.h"

#include <ctype.h>
#include <string.h>

enum { part_room = FW_EFFORT(64), week_days = FW_PARTS(7) };

static const char *const months[] = {
    "january", "february", "march",     "april",   "may",      "june",
    "july",    "august",   "september", "october", "november", "december"};
enum { month_count = sizeof months / sizeof *months };

/* One or two digits, and past them; 0: there are none, or more. */
static int number_at(const char **text)
{
    const size_t length = strspn(*text, "0123456789");
    int number = 0;
    for (size_t i = 0; i < length && length <= 2; i++)
        number = number * FW_PARTS(10) + ((*text)[i] - '0');
    *text += length;
    return number;
}

/* "5", "may", "May": 1 to 12; 0: it is no month. */
static int month_of(const char *text)
{
    const size_t length = strlen(text);
    const char *rest = text;
    const int number = number_at(&rest);
    if (number > 0 && !*rest)
        return number <= month_count ? number : 0;
    for (int i = 0; i < month_count; i++) {
        size_t same = 0;
        while (text[same] && tolower((unsigned char)text[same]) ==
                                 (unsigned char)months[i][same])
            same++;
        if (same == length && length >= FW_EFFORT(3))
            return i + 1;
    }
    return 0;
}

/* "05-04": the day of the year on which a week begins. */
static bool week_of(const char *text, struct fw_growth_rate *out)
{
    const int month = number_at(&text);
    if (*text++ != '-')
        return false;
    const int of_month = number_at(&text);
    if (*text || month < 1 || month > month_count || of_month < 1 ||
        of_month > fw_date_first(FW_COMMON_YEAR, month + 1) -
                       fw_date_first(FW_COMMON_YEAR, month))
        return false;
    out->month = month;
    out->of_month = of_month;
    out->days = week_days;
    return true;
}

static enum fw_status when_of(const char *text, struct fw_growth_rate *out,
                              struct fw_error *err)
{
    *out = (struct fw_growth_rate){.month = month_of(text), .of_month = 1};
    if (out->month || week_of(text, out))
        return FW_OK;
    return fw_fail(err, FW_EINPUT,
                   "\"%.40s\" is no month and no week; expected a month such "
                   "as may, or month and day on which a week begins, such as "
                   "05-04",
                   text);
}

static int by_date(const struct fw_growth_rate *a,
                   const struct fw_growth_rate *b)
{
    return a->month != b->month ? a->month - b->month
                                : a->of_month - b->of_month;
}

/* They stay as they follow in a year. */
static enum fw_status put(struct fw_farm__growth *growth,
                          const struct fw_growth_rate *rate, const char *when,
                          struct fw_error *err)
{
    size_t at = growth->count;
    while (at > 0 && by_date(rate, &growth->rates[at - 1]) < 0)
        at--;
    if (at > 0 && by_date(rate, &growth->rates[at - 1]) == 0)
        return fw_fail(err, FW_EINPUT, "tells %.40s twice; keep one", when);
    if (growth->count == FW_GROWTH_MOST)
        return fw_fail(err, FW_EINPUT,
                       "has over %d rates; expected one a month or a week",
                       (int)FW_GROWTH_MOST);
    memmove(growth->rates + at + 1, growth->rates + at,
            (growth->count - at) * sizeof *growth->rates);
    growth->rates[at] = *rate;
    growth->count++;
    return FW_OK;
}

enum fw_status fw_farm__add_growth(struct fw_farm__reader *reader,
                                   const char *when, const char *rate,
                                   struct fw_farm__growth *growth,
                                   struct fw_error *err)
{
    struct fw_growth_rate one;
    enum fw_status status = when_of(when, &one, err);
    if (!status)
        status = fw_farm__quantity(reader, rate, FW_KIND_GROWTH, &one.kg_ha_day,
                                   err);
    return status ? status : put(growth, &one, when, err);
}

/* "may: 69 kg/ha/day, jun: 70 kg/ha/day"; a file tells its keys one by one. */
static enum fw_status add_all(struct fw_farm__reader *reader, const char *text,
                              struct fw_farm__growth *growth,
                              struct fw_error *err)
{
    enum fw_status status = FW_OK;
    while (!status && text) {
        char when[part_room], rate[part_room];
        const char *colon = strchr(text, ':'), *comma = strchr(text, ',');
        if (!colon || (comma && comma < colon))
            return fw_fail(err, FW_EINPUT,
                           "\"%.60s\" is no rate of a month or a week; "
                           "expected such as may: 69 kg/ha/day",
                           text);
        const size_t end = comma ? (size_t)(comma - colon) : strlen(colon);
        fw_text_trim(text, (size_t)(colon - text), when, sizeof when);
        fw_text_trim(colon + 1, end - 1, rate, sizeof rate);
        status = fw_farm__add_growth(reader, when, rate, growth, err);
        text = comma ? comma + 1 : NULL;
    }
    return status;
}

static bool ends_with(const char *text, const char *end)
{
    const size_t length = strlen(text), tail = strlen(end);
    return length > tail && strcmp(text + length - tail, end) == 0;
}

FW_SETTER(fw_farm__set_growth)
{
    struct fw_farm__growth *growth = to;
    const struct fw_growth_table *table;
    if (strchr(text, ':')) {
        growth->text.text = NULL;
        growth->count = growth->steady ? 0 : growth->count;
        growth->steady = false;
        return add_all(reader, text, growth, err);
    }
    *growth = (struct fw_farm__growth){0};
    if (strchr("0123456789.-+", text[0])) {
        growth->steady = true;
        growth->count = 1;
        return fw_farm__quantity(reader, text, FW_KIND_GROWTH,
                                 &growth->rates[0].kg_ha_day, err);
    }
    growth->text.text = text;
    return ends_with(text, ".csv") ? FW_OK : fw_growth_find(text, &table, err);
}

FW_SETTER(fw_farm__set_loss)
{
    struct fw_farm__loss *loss = to;
    struct fw_farm__number share = {.value = 0};
    loss->place = NULL;
    if (strchr("0123456789.-+", text[0])) {
        const enum fw_status status =
            fw_farm__set_quantity(reader, row, &share, text, err);
        loss->share = share.value;
        return status;
    }
    const enum fw_status status =
        fw_stockpile_loss_find(text, &loss->place, err);
    if (!status)
        loss->share = loss->place->share;
    return status;
}
