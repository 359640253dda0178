#include "base/fail.h"
#include "base/text.h"
#include <assert.h>
#include <string.h>

enum { error_room = sizeof((struct fw_error *)0)->text };

/* A letter of several bytes that did not fit goes as a whole. */
static void drop_cut_letter(char *text)
{
    const size_t end = strlen(text);
    size_t lead = end;
    while (lead > 0 && end - lead < 3 &&
           ((unsigned char)text[lead - 1] & 0xC0) == 0x80)
        lead--;
    if (lead == 0)
        return;
    const unsigned char first = (unsigned char)text[--lead];
    const int bytes = 1 + (first >= 0xC0) + (first >= 0xE0) + (first >= 0xF0);
    if (end - lead < (size_t)bytes)
        text[lead] = '\0';
}

/* The arguments may point into err->text: write elsewhere first. What a person
 * typed may stand in a message: a line end or a terminal's escape in it must
 * not get through. */
__attribute__((format(printf, 3, 0))) static void
print_line(char *line, size_t size, const char *format, va_list args)
{
    const int length = fw_text_print(line, size, format, args);
    if (length < 0)
        line[0] = '\0';
    else if ((size_t)length >= size)
        drop_cut_letter(line);
    fw_text_clean(line);
}

enum fw_status fw_fail(struct fw_error *err, enum fw_status status,
                       const char *format, ...)
{
    assert(status != FW_OK);
    if (!err)
        return status;

    char line[error_room];
    va_list args;
    va_start(args, format);
    print_line(line, sizeof line, format, args);
    va_end(args);
    err->status = status;
    memcpy(err->text, line, strlen(line) + 1);
    return status;
}

enum fw_status fw_fail_where(struct fw_error *err, const char *format, ...)
{
    /* Without an error to ask, the one status that is never taken for done. */
    if (!err)
        return FW_EFAULT;

    /* A long path takes half of the room at most: what happened matters more
     * than where. */
    char where[error_room / 2];
    va_list args;
    va_start(args, format);
    print_line(where, sizeof where, format, args);
    va_end(args);

    const size_t length = strlen(where);
    const size_t room = sizeof err->text - 1 - length;
    const size_t what = strlen(err->text);
    const size_t kept = what > room ? room : what;
    memmove(err->text + length, err->text, kept);
    memcpy(err->text, where, length);
    err->text[length + kept] = '\0';
    if (kept < what)
        drop_cut_letter(err->text);
    return err->status;
}

enum fw_status fw_fail_memory(struct fw_error *err)
{
    return fw_fail(err, FW_ENOMEM,
                   "out of memory; close other programs or plan fewer fields "
                   "at once");
}

enum fw_status fw_fail_null(struct fw_error *err, const char *what)
{
    return fw_fail(err, FW_EUSAGE, "%s is NULL; the call needs it", what);
}
