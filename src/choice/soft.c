/* Wet ground: an opening on it is poached by the flock's feet. */
#include "choice/job.h"

bool fw_plan__on_soft_ground(const struct fw_plan_job *job, size_t index,
                             struct fw_point at)
{
    const struct fw_plane *plane = &job->farm->fields[index].shape->plane;
    const struct fw_farm *farm = job->farm;
    bool soft = false;
    for (size_t i = 0; !soft && i < farm->feature_count; i++) {
        const struct fw_farm_feature *feature = &farm->features[i];
        if (feature->role != FW_ROLE_SOFT ||
            feature->kind != FW_FEATURE_POLYGON)
            continue;
        /* Even-odd over all rings, so that holes are dry. */
        for (size_t r = 0; r < feature->ring_count; r++) {
            const size_t first = feature->ring_start[r];
            const size_t end = feature->ring_start[r + 1];
            struct fw_point a =
                fw_plane_forward(plane, feature->points[end - 1]);
            for (size_t k = first; k < end; k++) {
                const struct fw_point b =
                    fw_plane_forward(plane, feature->points[k]);
                if ((a.y_m > at.y_m) != (b.y_m > at.y_m) &&
                    at.x_m < a.x_m + (b.x_m - a.x_m) * (at.y_m - a.y_m) /
                                         (b.y_m - a.y_m))
                    soft = !soft;
                a = b;
            }
        }
    }
    return soft;
}
