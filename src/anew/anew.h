/* What is not grazed yet, cut anew from the fence that stands: a plan's ground,
 * changed in place. What comes of it in days, posts and volts is for make/. */
#ifndef FW_ANEW_ANEW_H
#define FW_ANEW_ANEW_H

#include "anew/chain.h"
#include "choice/job.h"

/* The cuts of a chain, for the days that its paddocks will have. */
struct fw_plan__anew {
    struct fw_plan__chain chain;
    struct fw_plan__chain_line *lines; /* count + 1: its beginning, the fences,
                                          its end */
    int *days;                         /* by paddock, whole ones */
    size_t count;                      /* paddocks */
    size_t given;                      /* of the lines, the first ones: they
                                          stand where they are */
    size_t done; /* of the paddocks, the first one: they are in it */
};
enum fw_status fw_plan__anew_cut(struct fw_plan_job *job, size_t field,
                                 struct fw_plan__anew *anew,
                                 struct fw_error *err);

/* The plan's paddocks and fences of the chain as those cuts have them; they are
 * the last field's. Areas and lengths that are 0 are yet to be measured. */
enum fw_status fw_plan__anew_put(struct fw_plan_job *job, size_t field,
                                 const struct fw_plan__anew *anew,
                                 struct fw_error *err);
/* The first of its fences as it was really set: so far on, A and B, as the
 * flock goes. FW_EINPUT: it cannot stand there. set.c */
enum fw_status fw_plan__anew_off(const struct fw_plan *plan,
                                 struct fw_plan__anew *anew,
                                 const double on_m[2], struct fw_error *err);
void fw_plan__anew_release(struct fw_plan__anew *anew);

/* told.c: the farm with classes of its own, as they were told and counted; free
 * them. FW_EINPUT: more are gone than there are of one class; other fields than
 * the plan has. */
enum fw_status fw_plan__anew_flock(struct fw_farm *farm,
                                   const struct fw_plan_on *on,
                                   struct fw_error *err);
enum fw_status fw_plan__anew_fields(const struct fw_farm *farm,
                                    const struct fw_plan *from,
                                    struct fw_error *err);
/* The shepherd takes such a share of what the farm's rates say. */
void fw_plan__anew_rates(struct fw_farm *farm, double minutes_share);
int fw_plan__anew_day(const struct fw_farm *farm, int day);

/* Vertices that nothing is left of. */
enum fw_status fw_plan__anew_tidy(struct fw_plan_job *job, size_t field,
                                  struct fw_error *err);

#endif
