/* plan.json, both ways. */
#ifndef FW_STORE_H
#define FW_STORE_H

#include <foldwright/plan.h>
#include <stdbool.h>
#include <stddef.h>

#ifdef __cplusplus
extern "C" {
#endif

/* Read a plan from plan.json or from the folder that holds it. FW_EINPUT: not
 * there, not a plan ("format" is not "foldwright-plan/2"), broken, or one of a
 * set that stands by halves: the writing was ended in between, or a file that
 * is listed is of another plan. What is missing, and what has changed of the
 * files that the plan was made from, is noted. With notes NULL the plan counts
 * alone, whatever lies about it. */
FW_API enum fw_status fw_plan_json_read(const char *path, struct fw_plan **out,
                                        struct fw_notes *notes,
                                        struct fw_error *err);

#ifdef __cplusplus
}
#endif
#endif
