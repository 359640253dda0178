/* What the ways to pace out an end share. */
#ifndef FW_MAKE_PACES_H
#define FW_MAKE_PACES_H

#include "base/length.h"
#include "choice/job.h"
#include "make/edge.h"

#include <math.h>

static inline size_t fw_plan__end_of(const struct fw_plan_fence *fence,
                                     bool far)
{
    return fence->line[far ? fence->line_count - 1 : 0];
}

static inline double fw_plan__apart_m(const struct fw_plan_field *field,
                                      size_t a, size_t b)
{
    const struct fw_point p = fw_plan__at(field, a), q = fw_plan__at(field, b);
    return fw_length(q.x_m - p.x_m, q.y_m - p.y_m);
}

/* Does the other fence stand when this one is set? Fences follow each other as
 * they are set, a front stands before all; what has no ungrazed ground beside
 * it any more may be down. */
bool fw_plan__stands_before(const struct fw_plan *plan, size_t other,
                            size_t self);

/* To a vertex straight from the nearest end of a line that stands, or from a
 * corner with a number; better over ground of the field. Nothing is told where
 * there is neither. */
void fw_plan__pace_straight(const struct fw_plan_job *job, size_t self,
                            size_t vertex, struct fw_plan_paced *out);

#endif
