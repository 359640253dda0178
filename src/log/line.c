/* One line of a log. */
#include "log/log.h"

#include "base/fail.h"
#include "base/text.h"

#include <stdio.h>
#include <string.h>

/* A word and what follows it, without spaces round them. */
struct piece {
    const char *name, *value;
    size_t name_length, value_length;
};

static struct piece piece_of(const char *text, size_t length)
{
    struct piece piece = {.name = text};
    while (piece.name_length < length && text[piece.name_length] != ' ')
        piece.name_length++;
    piece.value = text + piece.name_length;
    piece.value_length = length - piece.name_length;
    return piece;
}

static bool is(const struct piece *piece, const char *word)
{
    return piece->name_length == strlen(word) &&
           strncmp(piece->name, word, piece->name_length) == 0;
}

static enum fw_status unknown(const struct piece *piece, struct fw_error *err)
{
    const char *names[FW_LOG_PARTS + 2] = {"correct", "undo"};
    char word[32];
    fw_text_trim(piece->name, piece->name_length, word, sizeof word);
    for (int i = 0; i < FW_LOG_PARTS; i++)
        names[i + 2] = fw_log_part_row((enum fw_log_part)i)->name;
    const char *near = fw_text_nearest(word, names, FW_LOG_PARTS + 2);
    return fw_fail(err, FW_EINPUT, "\"%s\" is no part of a day%s%s%s", word,
                   near ? "; did you mean " : "", near ? near : "",
                   near ? "?" : "");
}

static enum fw_status take_of(const struct piece *piece,
                              struct fw_log_line *line, struct fw_error *err)
{
    char said[FW_LOG_TEXT], of[FW_LOG_TEXT];
    fw_text_clean(
        fw_text_trim(piece->value, piece->value_length, said, sizeof said));
    fw_text_trim(said, strlen(said), of, sizeof of); /* it may end sooner */
    if (!of[0] || strlen(of) >= sizeof line->of)
        return fw_fail(err, FW_EINPUT,
                       "of: names no paddock; write it as of A03");
    memcpy(line->of, of, strlen(of) + 1);
    return FW_OK;
}

static enum fw_status take(struct fw_quantities *quantities,
                           const struct piece *piece, enum fw_units units,
                           struct fw_log_line *line, struct fw_error *err)
{
    char text[2 * FW_LOG_TEXT];
    const enum fw_log_part part =
        fw_log_part_named(piece->name, piece->name_length);
    if (is(piece, "of"))
        return take_of(piece, line, err);
    if (is(piece, "correct") || is(piece, "undo")) {
        line->kind = is(piece, "undo") ? FW_LOG_UNDO : FW_LOG_CORRECT;
        return FW_OK;
    }
    if (part == FW_LOG_PARTS)
        return unknown(piece, err);
    if (line->values[part].told)
        return fw_fail(err, FW_EINPUT, "%s is told twice",
                       fw_log_part_row(part)->name);
    fw_text_trim(piece->value, piece->value_length, text, sizeof text);
    return fw_log_value_read(quantities, part, text, units, &line->values[part],
                             err);
}

static size_t trimmed(const char **text, size_t length)
{
    while (length && (**text == ' ' || **text == '\t')) {
        ++*text;
        length--;
    }
    while (length && strchr(" \t\r", (*text)[length - 1]))
        length--;
    return length;
}

enum fw_status fw_log_line_read(struct fw_quantities *quantities,
                                const char *text, size_t length,
                                enum fw_units units, struct fw_log_line *out,
                                struct fw_error *err)
{
    struct fw_log_line line = {.day = FW_NO_DAY};
    char date[32];
    enum fw_status status = FW_OK;
    for (bool first = true; length && !status; first = false) {
        const char *end = memchr(text, ';', length);
        size_t all = end ? (size_t)(end - text) : length;
        const char *at = text;
        size_t here = trimmed(&at, all);
        struct piece piece = piece_of(at, here);
        if (is(&piece, "note")) { /* it may have semicolons of its own */
            all = length;
            here = trimmed(&at, (size_t)(text + all - at));
            piece = piece_of(at, here);
        }
        if (first)
            status = fw_date_read(fw_text_trim(at, here, date, sizeof date),
                                  &line.day, err);
        else if (here)
            status = take(quantities, &piece, units, &line, err);
        text += all;
        length -= all;
        if (length) {
            text++;
            length--;
        }
    }
    if (!status && line.day == FW_NO_DAY)
        status = fw_fail(err, FW_EINPUT, "there is no date");
    if (!status)
        *out = line;
    return status;
}

void fw_log_line_write(struct fw_text *text, const struct fw_log_line *line)
{
    char date[FW_DATE_TEXT];
    fw_text_add(text, fw_date_write(line->day, date));
    if (line->kind != FW_LOG_DAY)
        fw_text_add(text, line->kind == FW_LOG_UNDO ? "; undo" : "; correct");
    if (line->of[0])
        fw_text_addf(text, "; of %s", line->of);
    for (int i = 0; i < FW_LOG_PARTS; i++) {
        const struct fw_log_value *value = &line->values[i];
        if (value->told)
            fw_text_addf(text, "; %s%s%s",
                         fw_log_part_row((enum fw_log_part)i)->name,
                         value->text[0] ? " " : "", value->text);
    }
    fw_text_add(text, "\n");
}
