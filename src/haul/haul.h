/* Where water stands while a plan is made, and what bringing it takes. A sum of
 * one trip or one trough is src/water's, what they drink is src/flock's; here
 * those meet the days of a plan. */
#ifndef FW_HAUL_HAUL_H
#define FW_HAUL_HAUL_H

#include "choice/job.h"
#include "water/haul.h"

/* water.c: what they drink a day, in the plan's totals. */
enum fw_status fw_plan__drink(struct fw_plan *plan, struct fw_error *err);

/* Which water each paddock of the field has: the fixed point where it is
 * reached, else a trough that moves with the flock. */
enum fw_status fw_plan__water(struct fw_plan_job *job, size_t field,
                              struct fw_error *err);

/* shared.c: which stays drink from one trough without a shift, and the lines
 * that it stands under, where the farm lets it stand for days or it is winter;
 * else nothing. FW_ENOMEM. */
enum fw_status fw_plan__share_troughs(struct fw_plan_job *job,
                                      struct fw_error *err);

/* track.c: where a track or road of the map is nearest to that outline; false:
 * none comes so near that a trough would stand by it. */
bool fw_plan__near_track(const struct fw_plan_job *job, size_t field,
                         const struct fw_point *ring, size_t count,
                         struct fw_point *out);

/* hauling.c: one trip as the plan's farm tells it; and the trips of a day in
 * the totals, when each paddock has its water. */
struct fw_haul fw_plan__haul(const struct fw_plan *plan);
enum fw_status fw_plan__trips(struct fw_plan *plan, struct fw_error *err);

/* loaded.c: the way of the loaded tank to each trough, with the fences that
 * stand across it; and what of gate, hose, ground and load does not do. */
enum fw_status fw_plan__loaded(struct fw_plan_job *job, struct fw_error *err);

/* shade.c: is shade of the map so near that they lie at a trough there? Troughs
 * that stand so are among the findings. */
bool fw_plan__at_shade(const struct fw_plan_job *job, size_t field,
                       struct fw_point at);
enum fw_status fw_plan__trough_shade(struct fw_plan_job *job,
                                     struct fw_error *err);

/* far.c: say so where the walk is longer than print has it. */
enum fw_status fw_plan__note_far_water(struct fw_plan *plan,
                                       struct fw_error *err);

#endif
