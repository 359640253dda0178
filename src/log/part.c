/* The parts of a line: the table, and how each is read. */
#include "log/log.h"

#include "base/fail.h"
#include "base/text.h"
#include "figures/mark.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

static const struct fw_log_part_row rows[FW_LOG_PARTS] = {
    [FW_LOG_LEFT] = {"left", FW_LOG_BY_HEIGHT,
                     "short right long clean some third half", "9cm",
                     "what they left where they come from: a height, or short, "
                     "right, long; of dormant grass clean, some, third, half"},
    [FW_LOG_BELLIES] = {"bellies", FW_LOG_BY_WORD, "hollow full", "full",
                        "their flanks before they are let on: hollow or full"},
    [FW_LOG_OPEN_V] = {"open-v", FW_LOG_BY_VOLTS, NULL, "5.6kV@A03-04",
                       "what the tester read, and at which fence"},
    [FW_LOG_HEAD] = {"head", FW_LOG_BY_COUNT, NULL, "88",
                     "grown sheep counted; those of the plan otherwise"},
    [FW_LOG_LAMBS] = {"lambs", FW_LOG_BY_COUNT, NULL, "140",
                      "lambs counted that are with their dams"},
    [FW_LOG_FLOCK] =
        {"flock", FW_LOG_BY_CLASS, NULL, "\"ewes with twins 52, rams 0\"",
         "how many there are of a class from now on: sold, bought, "
         "rams in or out"},
    [FW_LOG_WEANED] = {"weaned", FW_LOG_BY_LAMBS, NULL, "\"96 28kg\"",
                       "how many lambs stay with the flock when they are "
                       "weaned, and what one weighs; 0: they go"},
    [FW_LOG_INTO] =
        {"into", FW_LOG_BY_TEXT, NULL, "A07",
         "the paddock that they were let into, where it was not the "
         "next one"},
    [FW_LOG_FENCE] = {"fence", FW_LOG_BY_PACES, NULL, "14,11",
                      "paces at which the fence was really set, at A and B, "
                      "counted as the card does; or its track, walked.gpx"},
    [FW_LOG_MINUTES] = {"minutes", FW_LOG_BY_MINUTES, NULL, "22",
                        "how long the move took"},
    [FW_LOG_HAY] = {"hay", FW_LOG_BY_MASS, NULL, "60kg", "hay fed that day"},
    [FW_LOG_MISSED] = {"missed", FW_LOG_BY_YES, NULL, NULL,
                       "nobody came, and they were not moved"},
    [FW_LOG_WEATHER] = {"weather", FW_LOG_BY_WORD, "wet frost heat", "wet",
                        "wet, frost or heat"},
    [FW_LOG_NOTE] = {"note", FW_LOG_BY_TEXT, NULL, "\"gate post loose\"",
                     "anything else, in words"},
};

const struct fw_log_part_row *fw_log_part_row(enum fw_log_part part)
{
    return &rows[part];
}

enum fw_log_part fw_log_part_named(const char *name, size_t length)
{
    for (int i = 0; i < FW_LOG_PARTS; i++)
        if (strlen(rows[i].name) == length &&
            strncmp(rows[i].name, name, length) == 0)
            return (enum fw_log_part)i;
    return FW_LOG_PARTS;
}

/* A reading: the text, and where it goes. */
struct asked {
    struct fw_quantities *quantities;
    const struct fw_log_part_row *row;
    enum fw_units units;
};

static enum fw_status number(const struct asked *asked, const char *text,
                             enum fw_kind kind, double *out,
                             struct fw_error *err)
{
    return fw_quantity_read(asked->quantities, text, kind, asked->units, 1, out,
                            err);
}

/* Of words with a space between, from 0; -1: none of them. */
static int word_of(const char *words, const char *text)
{
    const size_t length = strlen(text);
    for (int i = 0; words && *words; i++) {
        const size_t word = strcspn(words, " ");
        if (word == length && strncmp(words, text, length) == 0)
            return i;
        words += word + strspn(words + word, " ");
    }
    return -1;
}

/* "short, right, long" */
static const char *listed(const char *words, char *room, size_t size)
{
    size_t length = 0;
    for (const char *c = words; *c && length + 2 < size - 1; c++) {
        if (*c == ' ')
            room[length++] = ',';
        room[length++] = *c;
    }
    room[length] = '\0';
    return room;
}

static enum fw_status read_word(const struct asked *asked, const char *text,
                                struct fw_log_value *out, struct fw_error *err)
{
    char all[96];
    out->word = word_of(asked->row->words, text);
    if (out->word >= 0)
        return FW_OK;
    return fw_fail(err, FW_EINPUT, "\"%s\" is none of %s", text,
                   listed(asked->row->words, all, sizeof all));
}

static enum fw_status no_height(const struct asked *asked, const char *text,
                                struct fw_error *err)
{
    char all[96];
    return fw_fail(err, FW_EINPUT,
                   "\"%s\" is no height and none of %s; write a height as 9 cm "
                   "or 4 in",
                   text, listed(asked->row->words, all, sizeof all));
}

static enum fw_status read_height(const struct asked *asked, const char *text,
                                  struct fw_log_value *out,
                                  struct fw_error *err)
{
    out->word = word_of(asked->row->words, text);
    if (out->word >= 0)
        return FW_OK;
    if (!number(asked, text, FW_KIND_LENGTH, &out->number, NULL))
        return FW_OK;
    return no_height(asked, text, err);
}

static enum fw_status read_volts(const struct asked *asked, const char *text,
                                 struct fw_log_value *out, struct fw_error *err)
{
    char volts[FW_LOG_TEXT];
    const char *at = strchr(text, '@');
    if (!at)
        return number(asked, text, FW_KIND_VOLTAGE, &out->number, err);
    fw_text_trim(text, (size_t)(at - text), volts, sizeof volts);
    if (!at[1] || strlen(at + 1) >= sizeof out->at)
        return fw_fail(err, FW_EINPUT,
                       "\"%s\" names no fence after its @; write it as %s",
                       text, asked->row->example);
    snprintf(out->at, sizeof out->at, "%s", at + 1);
    return number(asked, volts, FW_KIND_VOLTAGE, &out->number, err);
}

static enum fw_status paces(const struct asked *asked, const char *text,
                            double *out, struct fw_error *err)
{
    const double most_paces = FW_BOUND(5000);
    double value;
    enum fw_status status = number(asked, text, FW_KIND_COUNT, &value, err);
    if (!status && value > most_paces)
        status = fw_fail(err, FW_EINPUT, "%g paces; expected up to %g", value,
                         most_paces);
    if (!status)
        *out = value;
    return status;
}

static enum fw_status read_paces(const struct asked *asked, const char *text,
                                 struct fw_log_value *out, struct fw_error *err)
{
    char first[FW_LOG_TEXT];
    const char *comma = strchr(text, ',');
    if (!comma)
        return paces(asked, text, &out->number, err);
    if (strchr(comma + 1, ','))
        return fw_fail(err, FW_EINPUT,
                       "\"%s\" has more than two ends; write the paces at A "
                       "and at B as %s",
                       text, asked->row->example);
    fw_text_trim(text, (size_t)(comma - text), first, sizeof first);
    const char *second = comma + 1 + strspn(comma + 1, " ");
    const enum fw_status status = paces(asked, first, &out->number, err);
    return status ? status : paces(asked, second, &out->other, err);
}

/* "96 28kg"; "0" where they go. */
static enum fw_status read_lambs(const struct asked *asked, const char *text,
                                 struct fw_log_value *out, struct fw_error *err)
{
    char count[FW_LOG_TEXT];
    const double least_kg = 1, most_kg = FW_BOUND(200);
    const size_t length = strcspn(text, " ");
    const char *kg = text + length + strspn(text + length, " ");
    fw_text_trim(text, length, count, sizeof count);
    enum fw_status status =
        number(asked, count, FW_KIND_COUNT, &out->number, err);
    if (!status && out->number > 0 && !*kg)
        status = fw_fail(err, FW_EINPUT,
                         "\"%s\" says no weight of a lamb; write it as %s, or "
                         "0 where they go",
                         text, asked->row->example);
    if (!status && *kg)
        status = number(asked, kg, FW_KIND_MASS, &out->other, err);
    if (!status && *kg && !(out->other >= least_kg && out->other <= most_kg))
        status = fw_fail(err, FW_EINPUT, "\"%s\": a lamb weighs %g to %g kg",
                         text, least_kg, most_kg);
    return status;
}

/* "22", or with a unit. */
static enum fw_status read_minutes(const struct asked *asked, const char *text,
                                   struct fw_log_value *out,
                                   struct fw_error *err)
{
    if (strspn(text, "0123456789.") == strlen(text))
        return number(asked, text, FW_KIND_COUNT, &out->number, err);
    double days;
    const enum fw_status status =
        number(asked, text, FW_KIND_DURATION, &days, err);
    if (!status)
        out->number = days * 1440;
    return status;
}

static enum fw_status read_yes(const char *text, struct fw_error *err)
{
    if (!text[0] || !strcmp(text, "yes") || !strcmp(text, "x"))
        return FW_OK;
    return fw_fail(err, FW_EINPUT, "\"%s\" is not yes; leave it empty for no",
                   text);
}

static enum fw_status read_as(const struct asked *asked, const char *text,
                              struct fw_log_value *out, struct fw_error *err)
{
    switch (asked->row->how) {
    case FW_LOG_BY_HEIGHT:
        return read_height(asked, text, out, err);
    case FW_LOG_BY_WORD:
        return read_word(asked, text, out, err);
    case FW_LOG_BY_VOLTS:
        return read_volts(asked, text, out, err);
    case FW_LOG_BY_COUNT:
        return number(asked, text, FW_KIND_COUNT, &out->number, err);
    case FW_LOG_BY_LAMBS:
        return read_lambs(asked, text, out, err);
    case FW_LOG_BY_PACES:
        return read_paces(asked, text, out, err);
    case FW_LOG_BY_MINUTES:
        return read_minutes(asked, text, out, err);
    case FW_LOG_BY_MASS:
        return number(asked, text, FW_KIND_MASS, &out->number, err);
    case FW_LOG_BY_YES:
        return read_yes(text, err);
    case FW_LOG_BY_CLASS: /* the plan says which there are */
    case FW_LOG_BY_TEXT:
        break;
    }
    return FW_OK;
}

enum fw_status fw_log_value_read(struct fw_quantities *quantities,
                                 enum fw_log_part part, const char *text,
                                 enum fw_units units, struct fw_log_value *out,
                                 struct fw_error *err)
{
    const struct asked asked = {quantities, &rows[part], units};
    struct fw_log_value value = {
        .told = true, .number = (double)NAN, .other = (double)NAN, .word = -1};
    enum fw_status status = FW_OK;
    if (strlen(text) >= sizeof value.text)
        return fw_fail(err, FW_EINPUT, "%s: over %d letters; expected fewer",
                       rows[part].name, FW_LOG_TEXT - 1);
    char clean[FW_LOG_TEXT]; /* first, so that no blank of it is at an end */
    memcpy(clean, text, strlen(text) + 1);
    fw_text_clean(clean);
    fw_text_trim(clean, strlen(clean), value.text, sizeof value.text);
    if (part != FW_LOG_NOTE && strchr(value.text, ';'))
        status =
            fw_fail(err, FW_EINPUT, "\"%s\" has a semicolon, which ends a part",
                    value.text);
    else if (!value.text[0] && rows[part].how != FW_LOG_BY_YES)
        status = fw_fail(err, FW_EINPUT, "nothing is told; write it as %s",
                         rows[part].example);
    else
        status = read_as(&asked, value.text, &value, err);
    if (status)
        return fw_fail_where(err, "%s: ", rows[part].name);
    *out = value;
    return FW_OK;
}
