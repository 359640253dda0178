/* Which nights the flock has a piece of ground, and which a line bounds what it
 * has: asked of the plan's time once, for all who tell of nights. */
#ifndef FW_AROUND_NIGHTS_H
#define FW_AROUND_NIGHTS_H

#include "choice/job.h"

struct fw_plan__span {
    size_t of; /* cell or line */
    struct fw_nights nights;
};

struct fw_plan__spans { /* sorted by what they are of, then by time */
    struct fw_plan__span *items;
    size_t count, capacity;
};

enum fw_status fw_plan__nights(struct fw_plan_job *job, struct fw_error *err);

void fw_plan__nights_release(struct fw_plan_job *job);

/* Those of one cell or line: the first, and how many. */
const struct fw_plan__span *fw_plan__spans_of(const struct fw_plan__spans *all,
                                              size_t of, size_t *count);

#endif
