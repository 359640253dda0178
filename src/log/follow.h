/* Inside of src/log: the days of a log beside its plan. */
#ifndef FW_LOG_FOLLOW_H
#define FW_LOG_FOLLOW_H

#include "log/log.h"

/* From log->by_day: all that a log has besides its lines. on: only days after
 * those that it has have come to it. */
enum fw_status fw_log__follow(struct fw_log *log, bool on,
                              struct fw_error *err);

/* After a day: how the next fence should stand, and what is not grazed cut anew
 * where that day asks for it. anew.c */
enum fw_status fw_log__anew(struct fw_log *log, struct fw_log_day *day,
                            struct fw_error *err);
/* Before a day on which they were let into another paddock than the next: the
 * plan in which it is that one's turn. Where it cannot be that is wrong of the
 * day. */
enum fw_status fw_log__take_other(struct fw_log *log, struct fw_log_day *day,
                                  struct fw_error *err);
/* After all of them: how the next fence should stand. */
void fw_log__next(struct fw_log *log);

/* flock.c: counts by class of that plan, of "ewes 52, rams 0"; those that are
 * not named stay. FW_EINPUT: what it is not. And those of a day. */
enum fw_status fw_log__flock(const struct fw_plan *plan, const char *text,
                             int *heads, struct fw_error *err);
enum fw_status fw_log__fits_flock(const struct fw_log *log,
                                  const struct fw_log_day *day,
                                  struct fw_error *err);
enum fw_status fw_log__take_flock(struct fw_log *log,
                                  const struct fw_log_day *day,
                                  struct fw_error *err);

/* Where an end goes on along what it stands on, as the flock goes: of length 1.
 * False: nobody can say. paces.c */
bool fw_log__way_on(const struct fw_plan *plan,
                    const struct fw_plan_fence *fence, bool at_a,
                    struct fw_point *out);

/* Does what is said of that day fit the plan? FW_EINPUT: what does not. */
enum fw_status fw_log__fits(const struct fw_log *log,
                            const struct fw_log_day *day, struct fw_error *err);

/* work.c: what the day's move takes by the plan. */
void fw_log__take_minutes(const struct fw_log *log, struct fw_log_day *day);

#endif
