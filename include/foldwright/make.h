/* From a farm to its plan: every layout weighed, the best one made. */
#ifndef FW_MAKE_H
#define FW_MAKE_H

#include <foldwright/plan.h>
#include <stdbool.h>
#include <stddef.h>

#ifdef __cplusplus
extern "C" {
#endif

struct fw_farm;

/* Make the whole plan. FW_EPLAN: no field can be planned, with the reason of
 * the first; one that cannot while others can has `no_plan`. FW_EINPUT: no
 * field, no flock or no first day, or no layout of that name. */
FW_API enum fw_status fw_plan_make(const struct fw_farm *farm,
                                   struct fw_plan **out, struct fw_error *err);

#ifdef __cplusplus
}
#endif
#endif
