/* Cells as RFC 4180 has them: commas, CRLF, quotes. A text that a spreadsheet
 * would take for a formula gets an apostrophe in front, by which it is shown as
 * it stands (CWE-1236). */
#include "export/cells.h"

#include <string.h>

static bool is_formula(const char *value)
{
    return *value && strchr("=+-@\t\r", *value);
}

void fw_export__last_cell(struct fw_text *text, const char *value)
{
    const char *guard = value && is_formula(value) ? "'" : "";
    if (value && strpbrk(value, ",\"\r\n")) {
        fw_text_addf(text, "\"%s", guard);
        for (const char *c = value; *c; c++) {
            if (*c == '"')
                fw_text_add(text, "\"");
            fw_text_add_bytes(text, c, 1);
        }
        fw_text_add(text, "\"");
    } else if (value) {
        fw_text_addf(text, "%s%s", guard, value);
    }
}

void fw_export__cell(struct fw_text *text, const char *value)
{
    fw_export__last_cell(text, value);
    fw_text_add(text, ",");
}

void fw_export__number_cell(struct fw_text *text, double value, bool known)
{
    if (known)
        fw_text_add_number(text, value);
    fw_text_add(text, ",");
}
