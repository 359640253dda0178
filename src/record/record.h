/* What is said of a log beside its plan. */
#ifndef FW_RECORD_RECORD_H
#define FW_RECORD_RECORD_H

#include "log/log.h"

/* A day that was written down, and what follows from it; a whole season; free
 * with fw_bytes_free. */
enum fw_status fw_report_recorded(const struct fw_log *log, int day, char **out,
                                  struct fw_error *err);
enum fw_status fw_report_recorded_json(const struct fw_log *log, int day,
                                       char **out, struct fw_error *err);
enum fw_status fw_report_days(const struct fw_log *log, bool colour, char **out,
                              struct fw_error *err);

/* Planned against real: a row a day, as RFC 4180 has it. */
enum fw_status fw_report_days_csv(const struct fw_log *log, char **out,
                                  size_t *count, struct fw_error *err);

/* The ground that is grazed, a feature a paddock, as RFC 7946 has it. */
enum fw_status fw_report_grazed(const struct fw_log *log, char **out,
                                size_t *count, struct fw_error *err);

/* trough.c: what becomes of the trough that evening. */
enum fw_record__trough {
    FW_RECORD__NO_WORD,
    FW_RECORD__LOOK,
    FW_RECORD__MAY_STAY
};
enum fw_record__trough fw_record__trough_on(const struct fw_log *log, int day);
struct fw_text;
void fw_record__say_trough(struct fw_text *text, const struct fw_log *log,
                           int day);

#endif
