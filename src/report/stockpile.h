/* What the reports of the winter's grass share. */
#ifndef FW_REPORT_STOCKPILE_H
#define FW_REPORT_STOCKPILE_H

#include "report/words.h"
#include "winter/winter.h"

extern const char *const fw_report_class_words[FW_STOCKPILE_CLASS_COUNT];
extern const char
    *const fw_report_condition_words[FW_STOCKPILE_CONDITION_COUNT];

/* "4 May". */
const char *fw_report_stock_day(int day, char text[FW_WORDS]);

enum fw_status fw_report_stockpile(const struct fw_winter *winter, bool colour,
                                   char **out, struct fw_error *err);
enum fw_status fw_report_stockpile_json(const struct fw_winter *winter,
                                        char **out, struct fw_error *err);

/* Date of the last removal against mass, quality and days; and the parts side
 * by side through the winter. They begin with the line by which an older one is
 * known for ours. */
#define FW_REPORT_STOCKPILE_BEGIN "<!-- foldwright: the winter's grass -->"
enum fw_status fw_report_stockpile_svg(const struct fw_winter *winter,
                                       int today, char **out,
                                       struct fw_error *err);
enum fw_status fw_report_stockpile_parts_svg(const struct fw_winter *winter,
                                             char **out, struct fw_error *err);

#endif
