/* Inside of src/log: the days of a log beside its plan. */
#ifndef FW_LOG_FOLLOW_H
#define FW_LOG_FOLLOW_H

#include "log/log.h"

/* Anew, from log->by_day: all that a log has besides its lines. */
enum fw_status fw_log__follow(struct fw_log *log, struct fw_error *err);

/* Does what is said of that day fit the plan? FW_EINPUT: what does not. */
enum fw_status fw_log__fits(const struct fw_log *log,
                            const struct fw_log_day *day, struct fw_error *err);

#endif
