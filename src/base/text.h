/* Text that grows. A failed allocation is remembered, so that a writer checks
 * once at its end: fw_text_done. */
#ifndef FW_BASE_TEXT_H
#define FW_BASE_TEXT_H

#include "locale/plain.h"
#include <foldwright/error.h>
#include <stdarg.h>
#include <stdbool.h>

struct fw_text {
    char *bytes; /* always ends with a NUL once something was added */
    size_t length;
    size_t capacity;
    size_t columns; /* to which a report folds it; 0: what a terminal has */
    bool failed;
};

void fw_text_add(struct fw_text *text, const char *string);
void fw_text_add_bytes(struct fw_text *text, const char *bytes, size_t n);
__attribute__((format(printf, 2, 3))) void
fw_text_addf(struct fw_text *text, const char *format, ...);
__attribute__((format(printf, 2, 0))) void
fw_text_addv(struct fw_text *text, const char *format, va_list args);

/* snprintf, vsnprintf and strtod with a point for decimals, whatever the
 * locale: no other prints a decimal number. */
__attribute__((format(printf, 3, 4))) int
fw_text_format(char *room, size_t size, const char *format, ...);
__attribute__((format(printf, 3, 0))) int
fw_text_print(char *room, size_t size, const char *format, va_list args);
double fw_text_number(const char *string, const char **end);

/* Bytes of the UTF-8 letter there; 0 when it is none. Does it steer a terminal,
 * or what stands around it? */
size_t fw_text_letter(const char *at);
bool fw_text_is_control(const char *at);

/* In place, as long as before: such letters become spaces, bytes that are no
 * letter question marks. Returns text. */
char *fw_text_clean(char *text);

/* Copy what fits, whole letters only. Returns room. */
char *fw_text_clip(const char *string, char *room, size_t size);

/* The first bytes of it without spaces round them, cut where there is no room.
 * Returns room. */
char *fw_text_trim(const char *string, size_t length, char *room, size_t size);

/* The shortest decimal that reads back as the same double; "null" when it is
 * not finite. Independent of the locale. */
void fw_text_add_number(struct fw_text *text, double number);

/* With at most so many decimals, trailing zeros dropped; "null" when it is not
 * finite. */
void fw_text_add_fixed(struct fw_text *text, double number, int decimals);

/* A JSON string with its quotes; bytes that are no UTF-8 become U+FFFD. */
void fw_text_add_json(struct fw_text *text, const char *string);

enum fw_status fw_text_done(const struct fw_text *text, struct fw_error *err);
void fw_text_release(struct fw_text *text);

#endif
