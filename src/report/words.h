/* How figures are said to people: two or three digits, in their own units. */
#ifndef FW_REPORT_WORDS_H
#define FW_REPORT_WORDS_H

#include "plan/plan.h"

#include "figures/say.h"

#include <stdint.h>

#define FW_WORDS FW_SAID

/* As figures/say.h has them. */
#define fw_report_number fw_say_number
#define fw_report_area fw_say_area
#define fw_report_length fw_say_length
#define fw_report_mass fw_say_mass
#define fw_report_volume fw_say_volume
#define fw_report__mass_per_area fw_say_mass_per_area
#define fw_report_height(m, units, text)                                       \
    fw_say_height(m, units, FW_NEAREST, text)

/* "Mon 4 May"; with the year "Mon 4 May 2026". */
const char *fw_report_day(int day, bool with_year, char text[FW_WORDS]);

/* "north-east" of a bearing. */
const char *fw_report_compass(double bearing_deg);

/* Where a figure is from; a plan that was read may not tell. */
const char *fw_report__source(const char *source);

/* Bold and red for what is dangerous, bold for headings; nothing without
 * colour. */
void fw_report__heading(struct fw_text *text, bool colour, const char *words);
void fw_report__danger(struct fw_text *text, bool colour, const char *where,
                       const char *words);

/* Words folded to the text's columns, every line after the first indented. */
#define FW_REPORT_UNFOLDED                                                     \
    SIZE_MAX /* columns of a text that is set by others */
void fw_report_fold(struct fw_text *text, size_t indent, const char *words);

/* The same of a text that was put together, which is released; a line that ran
 * out of memory fails the whole text. */
void fw_report__fold_text(struct fw_text *text, size_t indent,
                          struct fw_text *words);
/* "! FIELD has no plan: why", before all else. */
void fw_report__no_plan(struct fw_text *text, const char *field,
                        const char *why);
void fw_report__heading_text(struct fw_text *text, bool colour,
                             struct fw_text *words);

/* Close a text: its bytes become *out, to be freed with fw_bytes_free. */
enum fw_status fw_report_give(struct fw_text *text, char **out, size_t *count,
                              struct fw_error *err);

/* A paragraph of the report with its label in the margin. */
void fw_report__line(struct fw_text *text, const char *label,
                     struct fw_text *words);

#endif
