/* A lane that the map has in a field. */
#include "base/alloc.h"
#include "base/fail.h"
#include "plan/job.h"

#include <math.h>

static double turn(struct fw_point a, struct fw_point b, struct fw_point c)
{
    return (b.x_m - a.x_m) * (c.y_m - a.y_m) -
           (b.y_m - a.y_m) * (c.x_m - a.x_m);
}

static bool cross(struct fw_point a, struct fw_point b, struct fw_point c,
                  struct fw_point d)
{
    return (turn(a, b, c) > 0) != (turn(a, b, d) > 0) &&
           (turn(c, d, a) > 0) != (turn(c, d, b) > 0);
}

/* Does the line run into the field from outside, or lie in it? */
static bool meets(const struct fw_field *field, const struct fw_point *line,
                  size_t count)
{
    for (size_t i = 0; i < count; i++)
        if (fw_field_contains(field, line[i], 0))
            return true;
    for (size_t i = 0; i + 1 < count; i++)
        for (size_t v = 0, end = field->ring_start[1]; v < end; v++)
            if (cross(line[i], line[i + 1], field->vertices[v].plane,
                      field->vertices[v + 1 < end ? v + 1 : 0].plane))
                return true;
    return false;
}

enum fw_status fw_plan__map_lane(const struct fw_plan_job *job, size_t index,
                                 struct fw_plan__lane *out,
                                 struct fw_error *err)
{
    const struct fw_farm *farm = job->farm;
    const struct fw_field *field = fw_plan__grazed(&farm->fields[index]);
    *out = (struct fw_plan__lane){.width_m = farm->lane_width_m};
    for (size_t i = 0; i < farm->feature_count; i++) {
        const struct fw_farm_feature *feature = &farm->features[i];
        if (feature->role != FW_ROLE_LANE || feature->kind != FW_FEATURE_LINE)
            continue;
        const size_t count = feature->ring_start[1];
        struct fw_point *line = fw_alloc(count, sizeof *line);
        if (!line)
            return fw_fail_memory(err);
        for (size_t k = 0; k < count; k++)
            line[k] = fw_plane_forward(&field->plane, feature->points[k]);
        if (meets(field, line, count)) {
            out->points = line;
            out->count = count;
            if (feature->width_m > 0)
                out->width_m = feature->width_m;
            return FW_OK;
        }
        fw_free(line);
    }
    return FW_OK;
}
