/* What a post of a fence is called; plan.json does not say it again. */
#ifndef FW_PLAN_POST_H
#define FW_PLAN_POST_H

#include "plan/plan.h"

/* "A01-02/3": the fence's third from A; "A-side-2/s1": its first sign. Of a
 * long name what fits. */
void fw_plan__post_id(char id[FW_ID], const char *fence, enum fw_post_why why,
                      size_t number);

#endif
