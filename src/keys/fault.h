/* Faults and readings of a plan's fences, as an option has them. */
#ifndef FW_KEYS_FAULT_H
#define FW_KEYS_FAULT_H

#include "live/plan_power.h"

/* "broken:FENCE@40m" (one strand, the bottom one, or "...:top", "...:all"),
 * "short:FENCE@40m:500ohm", "rain". FW_EINPUT: no such fence, with the nearest
 * name, or no such place on it. */
enum fw_status fw_plan_fault_read(const struct fw_plan *plan, const char *text,
                                  struct fw_plan_fault *out,
                                  struct fw_error *err);

/* "5.6kV@FENCE@40m" or "5.6kV@corner:3", of the field where the flock is that
 * day. */
enum fw_status fw_plan_measured_read(const struct fw_plan *plan, int day,
                                     const char *text,
                                     struct fw_plan_measured *out,
                                     struct fw_error *err);

#endif
