/* Texts that come out of files: made one line of good UTF-8. */
#ifndef FW_IO_WORDS_H
#define FW_IO_WORDS_H

#include <stdbool.h>
#include <stddef.h>

/* Longest name of a feature in bytes; the rest is clipped. */
#define FW_IO__MOST_NAME 200
#define FW_IO__MOST_VALUE 1000 /* and of what a column says */

/* Copy text into room, at most size - 1 bytes: control characters become
 * spaces, bytes that are no UTF-8 become U+FFFD, no character is cut in two,
 * spaces at both ends go. Returns room. */
char *fw_io__one_line(char *room, size_t size, const char *text);

/* "hill.GPKG" ends with ".gpkg". */
bool fw_io__ends_with(const char *text, const char *end);

/* What follows the last slash. */
const char *fw_io__base_name(const char *path);

#endif
