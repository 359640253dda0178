/* A locale with a decimal comma, made by the test itself, so that it does not
 * depend on what a machine has got installed. */
#ifndef FW_COMMA_LOCALE_H
#define FW_COMMA_LOCALE_H

#include "test.h"

#include <locale.h>
#include <stdbool.h>
#include <string.h>
#include <unistd.h>

#define COMMA_LOCALE "de_DE.UTF-8"

/* Compiled once for each program, into a folder that is gone again. */
static inline bool make_comma_locale(void)
{
    char folder[] = "/tmp/foldwright-locale-XXXXXX", command[200];
    if (!mkdtemp(folder))
        return false;
    snprintf(command, sizeof command,
             "localedef -i de_DE -f UTF-8 '%s/" COMMA_LOCALE
             "' >/dev/null 2>&1",
             folder);
    setenv("LOCPATH", folder, 1);
    const bool made = system(command) == 0 &&
                      setlocale(LC_ALL, COMMA_LOCALE) != NULL &&
                      strcmp(localeconv()->decimal_point, ",") == 0;
    setlocale(LC_ALL, "C");
    snprintf(command, sizeof command, "rm -rf '%s'", folder);
    /* The C library keeps what it has loaded. */
    return system(command) == 0 && made;
}

/* A test that wants that locale; where localedef or its sources are missing it
 * is counted as skipped. */
#define locale_test(function)                                                  \
    (make_comma_locale()                                                       \
         ? (struct CMUnitTest){#function, function, NULL, NULL, NULL}          \
         : (struct CMUnitTest){#function " # SKIP no locale could be made",    \
                               not_tried, NULL, NULL, NULL})

#endif
