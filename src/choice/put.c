/* A place of the plane, with where it is on the map. */
#include "choice/job.h"

enum fw_status fw_plan__place(struct fw_plan_job *job, size_t field,
                              struct fw_point point, struct fw_plan_place *out,
                              struct fw_error *err)
{
    struct fw_plan_place place = {.given = true, .plane = point};
    place.lonlat = fw_plane_inverse(&job->plan->fields[field].plane, point);
    const enum fw_status status = job->farm->world->from_lonlat(
        job->crs[field], &place.lonlat, &place.file, 1, err);
    if (!status)
        *out = place;
    return status;
}
