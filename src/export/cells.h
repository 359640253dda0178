/* Cells of a table that is written as text. */
#ifndef FW_EXPORT_CELLS_H
#define FW_EXPORT_CELLS_H

#include "base/text.h"

#include <stdbool.h>

/* With the comma after it, but the last of a row; NULL is empty. */
void fw_export__cell(struct fw_text *text, const char *value);
void fw_export__last_cell(struct fw_text *text, const char *value);

/* Empty where it is not known. */
void fw_export__number_cell(struct fw_text *text, double value, bool known);

#endif
