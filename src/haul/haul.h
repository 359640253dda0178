/* Where water stands while a plan is made, and what bringing it takes. A sum of
 * one trip or one trough is src/water's, what they drink is src/flock's; here
 * those meet the days of a plan. */
#ifndef FW_HAUL_HAUL_H
#define FW_HAUL_HAUL_H

#include "choice/job.h"

/* Which water each paddock of the field has: the fixed point where it is
 * reached, else a trough that moves with the flock. */
enum fw_status fw_plan__water(struct fw_plan_job *job, size_t field,
                              struct fw_error *err);

#endif
