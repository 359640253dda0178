/* From a farm to its plan: every layout weighed, the best one made. */
#ifndef FW_MAKE_H
#define FW_MAKE_H

#include <foldwright/choice.h>

#ifdef __cplusplus
extern "C" {
#endif

/* Make the whole plan. FW_EPLAN: no field can be planned, with the reason of
 * the first; one that cannot while others can has `no_plan`. FW_EINPUT: no
 * field, no flock or no first day, or no layout of that name. */
FW_API enum fw_status fw_plan_make(const struct fw_farm *farm,
                                   struct fw_plan **out, struct fw_error *err);

/* All candidates of all fields, as fw_plan_make would weigh them; release them
 * when done. Fields follow each other as in the plan. FW_EPLAN: no field can be
 * planned. */
FW_API enum fw_status fw_plan_compare(const struct fw_farm *farm,
                                      struct fw_plan_scores *out,
                                      struct fw_error *err);

/* The perimeter fence's list for the bare fields, no flock needed. */
FW_API enum fw_status fw_plan_perimeter_list(const struct fw_farm *farm,
                                             struct fw_material *rows,
                                             size_t most, size_t *count,
                                             struct fw_error *err);

#ifdef __cplusplus
}
#endif
#endif
