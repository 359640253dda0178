#include "plan/job.h"
bool fw_plan__on_soft_ground(const struct fw_plan_job *job, size_t index,
                             struct fw_point at)
{
    (void)job; (void)index; (void)at;
    return false;
}
