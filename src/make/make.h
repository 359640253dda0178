/* From a farm to its plan: every layout weighed, the best one made. */
#ifndef FW_MAKE_MAKE_H
#define FW_MAKE_MAKE_H

#include "choice/choice.h"
#include "plan/on.h"
#include <foldwright/make.h>

/* All candidates of all fields, as fw_plan_make would weigh them; release them
 * when done. Fields follow each other as in the plan. FW_EPLAN: no field can be
 * planned. */
enum fw_status fw_plan_compare(const struct fw_farm *farm,
                               struct fw_plan_scores *out,
                               struct fw_error *err);

/* The plan that goes on from another one, of the same fields: what is done
 * stays where it is, and so do patterns, block lines and names; what is not
 * grazed yet is cut anew from the fence that stands, as far as another number
 * of days is in it. It begins with the next move. FW_EINPUT: the farm's fields
 * are not those of that plan; FW_EPLAN: nothing is left of it. */
enum fw_status fw_plan_go_on(const struct fw_farm *farm,
                             const struct fw_plan_on *on, struct fw_plan **out,
                             struct fw_error *err);

/* One of them as a plan of its field alone, from that day on. FW_EPLAN: it
 * cannot be made so. */
enum fw_status fw_plan_candidate(const struct fw_farm *farm,
                                 const struct fw_plan_score *score, int day,
                                 struct fw_plan **out, struct fw_error *err);

/* The perimeter fence's list for the bare fields, no flock needed; *line_m is
 * how long it is on the map. */
enum fw_status fw_plan_perimeter_list(const struct fw_farm *farm,
                                      struct fw_material *rows, size_t most,
                                      size_t *count, double *line_m,
                                      struct fw_error *err);

#endif
