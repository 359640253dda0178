/* The lines of a log, and what they come to. */
#include "log/log.h"

#include "base/alloc.h"
#include "base/array.h"
#include "base/fail.h"
#include "base/text.h"

#include <stdio.h>
#include <string.h>

void fw_log_lines_release(struct fw_log_lines *lines)
{
    fw_free(lines->items);
    *lines = (struct fw_log_lines){0};
}

enum fw_status fw_log_lines_add(struct fw_log_lines *lines,
                                const struct fw_log_line *line,
                                struct fw_error *err)
{
    const enum fw_status status =
        fw_array_reserve(&lines->items, &lines->capacity, lines->count + 1,
                         sizeof *lines->items, err);
    if (!status)
        lines->items[lines->count++] = *line;
    return status;
}

/* The day of that date, wherever it stands. */
static const struct fw_log_line *said(const struct fw_log_lines *lines, int day)
{
    for (size_t i = 0; i < lines->count; i++)
        if (lines->items[i].day == day && lines->items[i].kind == FW_LOG_DAY)
            return &lines->items[i];
    return NULL;
}

/* What stands against counting the line after those before it. */
static enum fw_status check(const struct fw_log_lines *lines,
                            const struct fw_log_line *line,
                            struct fw_error *err)
{
    char date[FW_DATE_TEXT];
    const struct fw_log_line *before = said(lines, line->day);
    fw_date_write(line->day, date);
    if (line->kind == FW_LOG_UNDO &&
        (lines->count == 0 || lines->items[lines->count - 1].day != line->day))
        return fw_fail(err, FW_EINPUT,
                       "takes back a line of %s, which is not the one before "
                       "it",
                       date);
    if (line->kind == FW_LOG_CORRECT && !before)
        return fw_fail(err, FW_EINPUT,
                       "corrects %s, and no line before says that day", date);
    if (line->kind == FW_LOG_DAY && before)
        return fw_fail(err, FW_EINPUT,
                       "%s is in line %zu already; to change it write "
                       "\"correct\" after the date",
                       date, before->number);
    return FW_OK;
}

static enum fw_status count_in(struct fw_log_lines *lines,
                               const struct fw_log_line *line,
                               struct fw_error *err)
{
    const enum fw_status status = check(lines, line, err);
    if (status)
        return status;
    if (line->kind != FW_LOG_UNDO)
        return fw_log_lines_add(lines, line, err);
    lines->count--;
    return FW_OK;
}

/* Nothing, a remark, or an end that was torn off and put aside. */
static bool is_aside(const char *text, size_t length)
{
    static const char torn[] = "# torn";
    while (length && strchr(" \t\r", text[length - 1]))
        length--;
    const char *at = text;
    while (at < text + length && (*at == ' ' || *at == '\t'))
        at++;
    return at == text + length || *at == '#' ||
           (length >= sizeof torn - 1 &&
            memcmp(text + length - (sizeof torn - 1), torn, sizeof torn - 1) ==
                0);
}

struct reading {
    const char *path;
    struct fw_quantities *quantities;
    enum fw_units units;
    size_t number;
    struct fw_notes *notes;
};

static enum fw_status one_line(const struct reading *reading, const char *text,
                               size_t length, struct fw_log_lines *out,
                               struct fw_error *err)
{
    struct fw_log_line line;
    struct fw_error why = {FW_OK, ""};
    char where[512];
    if (is_aside(text, length))
        return FW_OK;
    enum fw_status status = fw_log_line_read(reading->quantities, text, length,
                                             reading->units, &line, &why);
    line.number = reading->number;
    if (!status)
        status = count_in(out, &line, &why);
    if (status == FW_ENOMEM)
        return fw_fail_memory(err);
    if (!status)
        return FW_OK;
    snprintf(where, sizeof where, "%.480s:%zu", reading->path, reading->number);
    return fw_notes_add(reading->notes, FW_LEVEL_WARNING, where, err,
                        "%s; the line is not counted", why.text);
}

static enum fw_status tell_torn(const struct reading *reading, const char *text,
                                struct fw_error *err)
{
    char shown[160];
    fw_text_clean(fw_text_clip(text, shown, sizeof shown));
    return fw_notes_add(reading->notes, FW_LEVEL_WARNING, reading->path, err,
                        "line %zu has no end and is not counted: \"%s\"; where "
                        "it is whole, put a new line after it",
                        reading->number, shown);
}

enum fw_status fw_log_lines_read(const struct fw_log_source *source,
                                 struct fw_log_lines *out,
                                 struct fw_notes *notes, struct fw_error *err)
{
    struct reading reading = {source->path, NULL, source->units, 0, notes};
    const char *bytes = source->bytes;
    const char *const last = bytes + source->count;
    enum fw_status status = fw_quantities_new(&reading.quantities, err);
    while (bytes < last && !status) {
        const char *end = memchr(bytes, '\n', (size_t)(last - bytes));
        reading.number++;
        out->torn = !end;
        status =
            end ? one_line(&reading, bytes, (size_t)(end - bytes), out, err)
                : tell_torn(&reading, bytes, err);
        bytes = end ? end + 1 : last;
    }
    fw_quantities_free(reading.quantities);
    if (status)
        fw_log_lines_release(out);
    return status;
}

/* Parts that are told take the place of the day's. */
static void correct(struct fw_log_line *line, const struct fw_log_line *by)
{
    for (int i = 0; i < FW_LOG_PARTS; i++)
        if (by->values[i].told)
            line->values[i] = by->values[i];
}

static size_t place_of(const struct fw_log_lines *by_day, int day)
{
    size_t at = by_day->count;
    while (at > 0 && by_day->items[at - 1].day >= day)
        at--;
    return at;
}

enum fw_status fw_log_lines_by_day(const struct fw_log_lines *lines,
                                   struct fw_log_lines *out,
                                   struct fw_error *err)
{
    struct fw_log_lines by_day = {0};
    enum fw_status status =
        fw_array_reserve(&by_day.items, &by_day.capacity, lines->count + 1,
                         sizeof *by_day.items, err);
    for (size_t i = 0; !status && i < lines->count; i++) {
        const struct fw_log_line *line = &lines->items[i];
        const size_t at = place_of(&by_day, line->day);
        if (at < by_day.count && by_day.items[at].day == line->day) {
            correct(&by_day.items[at], line);
            continue;
        }
        memmove(&by_day.items[at + 1], &by_day.items[at],
                (by_day.count - at) * sizeof *by_day.items);
        by_day.items[at] = *line;
        by_day.count++;
    }
    if (!status)
        *out = by_day;
    return status;
}

const struct fw_log_line *fw_log_lines_at(const struct fw_log_lines *by_day,
                                          int day)
{
    const size_t at = place_of(by_day, day);
    return at < by_day->count && by_day->items[at].day == day
               ? &by_day->items[at]
               : NULL;
}
