/* Saying what went wrong, and noting what is worth knowing. */
#ifndef FW_BASE_FAIL_H
#define FW_BASE_FAIL_H

#include <foldwright/error.h>
#include <stdarg.h>

/* Fill *err (NULL is fine) and return status, so that a check is one line. */
__attribute__((format(printf, 3, 4))) enum fw_status
fw_fail(struct fw_error *err, enum fw_status status, const char *format, ...);

/* Put where it happened in front of what happened: "north.geojson: feature
 * 12: ". Returns err's status. */
__attribute__((format(printf, 2, 3))) enum fw_status
fw_fail_where(struct fw_error *err, const char *format, ...);

enum fw_status fw_fail_memory(struct fw_error *err);

/* FW_EUSAGE: a program outside has left out what a call needs. */
enum fw_status fw_fail_null(struct fw_error *err, const char *what);

extern const char *const fw_level_words[FW_LEVEL_DANGER + 1];

/* Add a note. FW_ENOMEM when there is no room for it. notes may be NULL. */
__attribute__((format(printf, 5, 6))) enum fw_status
fw_notes_add(struct fw_notes *notes, enum fw_level level, const char *where,
             struct fw_error *err, const char *format, ...);

#endif
