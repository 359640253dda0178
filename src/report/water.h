/* `foldwright water` for a plan: what they drink, the trough, and the ways of
 * having water side by side. */
#ifndef FW_REPORT_WATER_H
#define FW_REPORT_WATER_H

#include "haul/placing.h"
#include "report/words.h"

#define FW_REPORT_WATER_BEGIN "<!-- foldwright: ways of having water -->"

enum fw_status fw_report_water(const struct fw_plan *plan,
                               const struct fw_placing *placing,
                               const struct fw_hauled_table *table, char **out,
                               struct fw_error *err);
enum fw_status fw_report_water_json(const struct fw_plan *plan,
                                    const struct fw_placing *placing,
                                    const struct fw_hauled_table *table,
                                    char **out, struct fw_error *err);
enum fw_status fw_report_water_svg(const struct fw_plan *plan,
                                   const struct fw_hauled_table *table,
                                   char **out, struct fw_error *err);

/* "today, as planned", "2 points" */
const char *fw_report_hauled_name(const struct fw_hauled *row,
                                  char text[FW_WORDS]);

#endif
