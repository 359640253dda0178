/* Small things that all who look at a plan ask. */
#ifndef FW_PLAN_PLACE_H
#define FW_PLAN_PLACE_H

#include "plan/plan.h"

struct fw_point fw_plan__at(const struct fw_plan_field *field, size_t vertex);
/* One place in parts of one field, which have one plane? */
bool fw_plan__is_one_place(struct fw_point a, struct fw_point b);
char fw_plan__letter(const struct fw_plan *plan, size_t field, char text[8]);
__attribute__((format(printf, 2, 3))) void fw_plan__id(char id[FW_ID],
                                                       const char *format, ...);

/* grazed.c: fills plan->is_set, once the moves are settled. */
enum fw_status fw_plan__mark_set(struct fw_plan *plan, struct fw_error *err);
/* Which round each stay of a plan that was read is in. */
enum fw_status fw_plan__number_rounds(struct fw_plan *plan,
                                      struct fw_error *err);

/* Does it stand on some day of the plan? Those between paddocks that were
 * grazed before need not. */
bool fw_plan__is_used(const struct fw_plan *plan, size_t fence);

/* The points of one ring of a paddock or field; free with fw_free. */
struct fw_point *fw_plan__ring(const struct fw_plan_field *field,
                               const struct fw_plan_rings *rings, size_t ring,
                               size_t *count);

/* The same for a fence's line. */
struct fw_point *fw_plan__line(const struct fw_plan_field *field,
                               const struct fw_plan_fence *fence);

/* The outer ring of a paddock's greatest piece. */
size_t fw_plan__greatest_ring(const struct fw_plan_field *field,
                              const struct fw_plan_rings *rings);

#endif
