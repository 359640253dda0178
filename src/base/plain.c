/* Printing and reading as every file of ours has it, whatever locale the host
 * program has set: this thread is switched to "C" and back, which touches
 * nobody else. */
#include "base/text.h"

#include <stdio.h>
#include <stdlib.h>

int fw_text_print(char *room, size_t size, const char *format, va_list args)
{
    const struct fw_locale now = fw_locale_enter();
    const int length = vsnprintf(room, size, format, args);
    fw_locale_leave(now);
    return length;
}

int fw_text_format(char *room, size_t size, const char *format, ...)
{
    va_list args;
    va_start(args, format);
    const int length = fw_text_print(room, size, format, args);
    va_end(args);
    return length;
}

double fw_text_number(const char *string, const char **end)
{
    const struct fw_locale now = fw_locale_enter();
    char *stop;
    const double number = strtod(string, &stop);
    fw_locale_leave(now);
    if (end)
        *end = stop;
    return number;
}
