#include "report/words.h"

#include "base/alloc.h"
#include "base/fail.h"
#include "base/whole.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

const char *fw_report_day(int day, bool with_year, char text[FW_WORDS])
{
    static const char *const weekdays[] = {"Mon", "Tue", "Wed", "Thu",
                                           "Fri", "Sat", "Sun"};
    static const char *const months[] = {"Jan", "Feb", "Mar", "Apr",
                                         "May", "Jun", "Jul", "Aug",
                                         "Sep", "Oct", "Nov", "Dec"};
    char iso[FW_DATE_TEXT];
    if (!fw_date_write(day, iso)[0]) {
        snprintf(text, FW_WORDS, "no date");
        return text;
    }
    const int month = (iso[5] - '0') * 10 + (iso[6] - '0');
    const int number = (iso[8] - '0') * 10 + (iso[9] - '0');
    snprintf(text, FW_WORDS, "%s %d %s%s%.4s", weekdays[fw_date_weekday(day)],
             number, months[month - 1], with_year ? " " : "",
             with_year ? iso : "");
    return text;
}

const char *fw_report_compass(double bearing_deg)
{
    static const char *const names[] = {
        "north", "north-east", "east", "south-east",
        "south", "south-west", "west", "north-west"};
    const int eighth = fw_whole(floor(fmod(bearing_deg + 22.5, 360) / 45));
    return names[(eighth % 8 + 8) % 8];
}

const char *fw_report__source(const char *source)
{
    return source ? source : "the plan";
}

void fw_report__heading(struct fw_text *text, bool colour, const char *words)
{
    fw_text_addf(text, colour ? "\033[1m%s\033[0m\n" : "%s\n", words);
}

void fw_report__danger(struct fw_text *text, bool colour, const char *where,
                       const char *words)
{
    struct fw_text line = {0};
    fw_text_add(&line, where);
    fw_text_add(&line, where[0] ? ": " : "");
    fw_text_add(&line, words);
    fw_text_add(text, colour ? "  \033[1;31m!\033[0m " : "  ! ");
    fw_report__fold_text(text, 4, &line);
}

/* Columns that a UTF-8 text takes, near enough: one for each character. */
static size_t columns(const char *word, size_t bytes)
{
    size_t n = 0;
    for (size_t i = 0; i < bytes; i++)
        n += ((unsigned char)word[i] & 0xc0) != 0x80;
    return n;
}

void fw_report_fold(struct fw_text *text, size_t indent, const char *words)
{
    const size_t width = text->columns ? text->columns : 78;
    size_t column = indent;
    bool first = true;
    while (*words) {
        const size_t bytes = strcspn(words, " ");
        const size_t wide = columns(words, bytes);
        if (!first && column + 1 + wide > width) {
            fw_text_addf(text, "\n%*s", (int)indent, "");
            column = indent;
        } else if (!first) {
            fw_text_add(text, " ");
            column++;
        }
        fw_text_add_bytes(text, words, bytes);
        column += wide;
        first = false;
        words += bytes;
        words += strspn(words, " ");
    }
    fw_text_add(text, "\n");
}

void fw_report__fold_text(struct fw_text *text, size_t indent,
                          struct fw_text *words)
{
    text->failed |= words->failed;
    if (!words->failed)
        fw_report_fold(text, indent, words->bytes);
    fw_text_release(words);
}

void fw_report__heading_text(struct fw_text *text, bool colour,
                             struct fw_text *words)
{
    text->failed |= words->failed;
    if (!words->failed)
        fw_report__heading(text, colour, words->bytes);
    fw_text_release(words);
}

enum fw_status fw_report_give(struct fw_text *text, char **out, size_t *count,
                              struct fw_error *err)
{
    const enum fw_status status = fw_text_done(text, err);
    if (status) {
        fw_text_release(text);
        return status;
    }
    if (!text->bytes)
        fw_text_add(text, "");
    if (count)
        *count = text->length;
    *out = text->bytes;
    return FW_OK;
}

void fw_report__no_plan(struct fw_text *text, const char *field,
                        const char *why)
{
    struct fw_text words = {0};
    fw_text_addf(&words, "%s has no plan: %s", field, why);
    fw_text_add(text, "! ");
    fw_report__fold_text(text, 2, &words);
}

void fw_report__line(struct fw_text *text, const char *label,
                     struct fw_text *words)
{
    fw_text_addf(text, "%-9s", label);
    fw_report__fold_text(text, 9, words);
}
