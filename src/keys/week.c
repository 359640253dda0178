/* The keys that take several values: stays by the day of the week, days away,
 * names of fields. Each is read piece by piece; the file gives the pieces as a
 * list or as keys, an option with commas between them (or several times). */
#include "keys/schema.h"

#include "base/array.h"
#include "base/text.h"
#include "figures/forage.h"
#include "figures/mark.h"
#include <ctype.h>
#include <math.h>
#include <string.h>

enum { piece_room = FW_EFFORT(128), week = FW_PARTS(7) };

static const char en_dash[] = "\xE2\x80\x93";

/* The next piece up to a comma; false at the end. */
static bool next_piece(const char **text, char piece[piece_room])
{
    if (!*text)
        return false;
    const char *comma = strchr(*text, ',');
    fw_text_trim(*text, comma ? (size_t)(comma - *text) : strlen(*text), piece,
                 piece_room);
    *text = comma ? comma + 1 : NULL;
    return true;
}

/* Cut at the separator, in place, spaces dropped; false: it does not occur. */
static bool cut(const char *text, const char *separator,
                char before[piece_room], char after[piece_room])
{
    const char *found = strstr(text, separator);
    if (!found)
        return false;
    const char *behind = found + strlen(separator);
    fw_text_trim(text, (size_t)(found - text), before, piece_room);
    fw_text_trim(behind, strlen(behind), after, piece_room);
    return true;
}

/* ---- stays ---- */

static enum fw_status weekday(const char *text, int *out, struct fw_error *err)
{
    static const char *const names[week] = {"monday",   "tuesday", "wednesday",
                                            "thursday", "friday",  "saturday",
                                            "sunday"};
    char folded[piece_room];
    size_t length = 0;
    for (; text[length]; length++)
        folded[length] = (char)tolower((unsigned char)text[length]);
    folded[length] = '\0';
    for (int i = 0; i < week; i++)
        if (length >= FW_EFFORT(3) && strncmp(names[i], folded, length) == 0) {
            *out = i;
            return FW_OK;
        }
    return fw_fail(err, FW_EINPUT,
                   "\"%.40s\" is not a day of the week; expected mon, tue, "
                   "wed, thu, fri, sat or sun, or a range such as mon-fri",
                   text);
}

static enum fw_status whole_days(struct fw_farm__reader *reader,
                                 const struct fw_farm__reading *row,
                                 const char *text, double *out,
                                 struct fw_error *err)
{
    double days;
    const enum fw_status status =
        fw_farm__quantity(reader, text, FW_KIND_DURATION, &days, err);
    if (status)
        return status;
    const double whole = round(days);
    if (!(fabs(days - whole) < FW_TOLERANCE(1e-9) && whole >= row->least &&
          whole <= row->most))
        return fw_fail(err, FW_EINPUT,
                       "\"%.40s\" is no stay; expected whole days, %g to %g, "
                       "such as %s",
                       text, row->least, row->most, row->example);
    *out = whole;
    return FW_OK;
}

/* "mon", "mon-fri", "fri-mon", with a hyphen or an en dash. */
static enum fw_status day_range(const char *text, int *first, int *last,
                                struct fw_error *err)
{
    char before[piece_room], after[piece_room];
    if (!cut(text, en_dash, before, after) && !cut(text, "-", before, after)) {
        const enum fw_status status = weekday(text, first, err);
        *last = *first;
        return status;
    }
    const enum fw_status status = weekday(before, first, err);
    return status ? status : weekday(after, last, err);
}

static enum fw_status take_days(struct fw_farm__reader *reader,
                                const struct fw_farm__reading *row,
                                const char *range, const char *length,
                                double days[week], struct fw_error *err)
{
    int first = 0, last = 0;
    double stay;
    enum fw_status status = day_range(range, &first, &last, err);
    if (!status)
        status = whole_days(reader, row, length, &stay, err);
    if (status)
        return status;
    for (int i = first;; i = (i + 1) % week) {
        if (days[i] > 0)
            return fw_fail(err, FW_EINPUT,
                           "\"%.40s\" names a day that was named before",
                           range);
        days[i] = stay;
        if (i == last)
            return FW_OK;
    }
}

FW_SETTER(fw_farm__set_stay)
{
    struct fw_farm__stay *stay = to;
    if (!strchr(text, ':')) {
        double days;
        const enum fw_status status = whole_days(reader, row, text, &days, err);
        for (int i = 0; !status && i < week; i++)
            stay->days[i] = days;
        return status;
    }
    double days[week];
    memcpy(days, stay->days, sizeof days);
    char piece[piece_room], range[piece_room], length[piece_room];
    while (next_piece(&text, piece)) {
        if (!cut(piece, ":", range, length))
            return fw_fail(err, FW_EINPUT,
                           "\"%.40s\" is no part of a week; expected such as "
                           "mon-fri: 1 day",
                           piece);
        const enum fw_status status =
            take_days(reader, row, range, length, days, err);
        if (status)
            return status;
    }
    memcpy(stay->days, days, sizeof days);
    return FW_OK;
}

/* ---- days away ---- */

static enum fw_status days_away(const char *text, int *first, int *last,
                                struct fw_error *err)
{
    char before[piece_room], after[piece_room];
    if (!cut(text, " to ", before, after) &&
        !cut(text, en_dash, before, after) &&
        !cut(text, " - ", before, after)) {
        const enum fw_status status = fw_date_read(text, first, err);
        *last = *first;
        return status;
    }
    enum fw_status status = fw_date_read(before, first, err);
    if (!status)
        status = fw_date_read(after, last, err);
    if (!status && *last < *first)
        return fw_fail(err, FW_EINPUT,
                       "\"%.60s\" ends before it starts; expected the earlier "
                       "date first",
                       text);
    if (!status && *last - *first >= FW_STAY_DAYS_MOST)
        return fw_fail(err, FW_EINPUT,
                       "\"%.60s\" is %d days; expected at most %d, the longest "
                       "stay: somebody must move the flock by then",
                       text, *last - *first + 1, FW_STAY_DAYS_MOST);
    return status;
}

FW_SETTER(fw_farm__set_away)
{
    struct fw_farm__away *away = to;
    char piece[piece_room] = "";
    while (next_piece(&text, piece)) {
        int first = 0, last = 0;
        enum fw_status status = days_away(piece, &first, &last, err);
        if (!status)
            status = fw_array_reserve(&away->days, &away->capacity,
                                      2 * away->count + 2, sizeof(int), err);
        if (status)
            return status;
        away->days[2 * away->count] = first;
        away->days[2 * away->count + 1] = last;
        away->count++;
    }
    return FW_OK;
}

/* ---- names ---- */

/* A name may have a comma in it, so that one value is one name. */
static enum fw_status add_name(struct fw_farm__words *names, const char *text,
                               const char *of, struct fw_error *err)
{
    if (!text[0])
        return fw_fail(err, FW_EINPUT, "is empty; expected a %s's name", of);
    const enum fw_status status =
        fw_array_reserve(&names->names, &names->capacity, names->count + 1,
                         sizeof *names->names, err);
    if (!status)
        names->names[names->count++].text = text;
    return status;
}

FW_SETTER(fw_farm__set_only)
{
    return add_name(to, text, "field", err);
}

FW_SETTER(fw_farm__set_copy)
{
    const struct fw_farm__words *names = to;
    if (names->count == FW_MOST_COLUMNS)
        return fw_fail(err, FW_EINPUT, "names over %d columns",
                       FW_MOST_COLUMNS);
    return add_name(to, text, "column", err);
}
