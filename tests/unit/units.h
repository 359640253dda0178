/* Which units a text is written in. */
#ifndef FW_UNITS_H
#define FW_UNITS_H

#include <ctype.h>
#include <stdbool.h>
#include <string.h>

/* The first number in metric units; NULL: there is none. "20 kV", "4 in" and
 * "30 %" are none. */
static inline const char *metric_in(const char *text)
{
    static const char *const units[] = {"m",  "cm", "mm", "km", "kg",
                                        "ha", "L",  "C",  NULL};
    for (; *text; text++) {
        if (!isdigit((unsigned char)text[0]) ||
            !isspace((unsigned char)text[1]))
            continue;
        const char *word = text + 1 + strspn(text + 1, " \n");
        for (size_t i = 0; units[i]; i++) {
            const size_t length = strlen(units[i]);
            if (!strncmp(word, units[i], length) &&
                !isalpha((unsigned char)word[length]))
                return text;
        }
    }
    return NULL;
}

#endif
