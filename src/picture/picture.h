/* Pictures as SVG: a field, and what is ahead. */
#ifndef FW_PICTURE_PICTURE_H
#define FW_PICTURE_PICTURE_H

#include "farm/farm.h"
#include "plan/plan.h"
#include <foldwright/error.h>

/* One field as a picture: corners numbered, sides lengthed, north up. It begins
 * with the line by which an older one is known for ours. */
#define FW_REPORT_SVG_BEGIN "<!-- foldwright: fields and their corners -->"
enum fw_status fw_report_field_svg(const struct fw_farm *farm, char **out,
                                   struct fw_error *err);

/* The next stays as bars: what stands for them today, what grows until their
 * day, what they need, and what there is if growth falls to a third. */
#define FW_REPORT_AHEAD_BEGIN "<!-- foldwright: the grass ahead -->"
enum { FW_REPORT_AHEAD_STAYS = 30 };
enum fw_status fw_report_ahead_svg(const struct fw_plan *plan, char **out,
                                   size_t *count, struct fw_error *err);

#endif
