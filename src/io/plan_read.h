/* From parsed JSON to a plan. */
#ifndef FW_IO_PLAN_READ_H
#define FW_IO_PLAN_READ_H

#include "io/plan_members.h"
#include <json-c/json.h>

/* Fill the plan, which starts as zeros, from the root of plan.json. FW_EINPUT
 * names the member; the caller frees the plan either way. */
enum fw_status fw_io__plan_fill(struct fw_plan *plan, struct json_object *root,
                                struct fw_error *err);

/* Does every index point at something? Nothing else looks again. */
enum fw_status fw_io__plan_check(const struct fw_plan *plan,
                                 struct fw_error *err);

#endif
