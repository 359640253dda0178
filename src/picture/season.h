/* A season looked back at: what really happened beside the plan. */
#ifndef FW_PICTURE_SEASON_H
#define FW_PICTURE_SEASON_H

#include "log/log.h"

/* What they left against what was meant, and the minutes, day by day. */
#define FW_REPORT_SEASON_BEGIN "<!-- foldwright: what really happened -->"
enum fw_status fw_report_season_svg(const struct fw_log *log, char **out,
                                    size_t *count, struct fw_error *err);

#endif
