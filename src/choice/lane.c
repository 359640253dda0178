/* A lane that the map has in a field. */
#include "base/alloc.h"
#include "base/fail.h"
#include "choice/job.h"

#include <math.h>
#include <string.h>

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

static bool is_lane(const struct fw_farm_feature *feature)
{
    return feature->role == FW_ROLE_LANE && feature->kind == FW_FEATURE_LINE;
}

/* The feature's line in a field's plane, as long as it meets the field; NULL
 * when it does not. *status tells when there was no room. */
static struct fw_point *line_in(const struct fw_field *field,
                                const struct fw_farm_feature *feature,
                                enum fw_status *status, struct fw_error *err)
{
    const size_t count = feature->ring_start[1];
    struct fw_point *line = fw_alloc(count, sizeof *line);
    if (!line) {
        *status = fw_fail_memory(err);
        return NULL;
    }
    for (size_t k = 0; k < count; k++)
        line[k] = fw_plane_forward(&field->plane, feature->points[k]);
    if (meets(field, line, count))
        return line;
    fw_free(line);
    return NULL;
}

enum fw_status fw_plan__map_lane(const struct fw_plan_job *job, size_t index,
                                 struct fw_plan__lane *out,
                                 struct fw_error *err)
{
    const struct fw_farm *farm = job->farm;
    const struct fw_field *field = fw_plan__grazed(&farm->fields[index]);
    enum fw_status status = FW_OK;
    *out = (struct fw_plan__lane){.width_m = farm->lane_width_m};
    for (size_t i = 0; !status && i < farm->feature_count; i++) {
        const struct fw_farm_feature *feature = &farm->features[i];
        if (!is_lane(feature))
            continue;
        out->points = line_in(field, feature, &status, err);
        if (!out->points)
            continue;
        out->count = feature->ring_start[1];
        if (feature->width_m > 0)
            out->width_m = feature->width_m;
        break;
    }
    return status;
}

enum fw_status fw_plan__note_lanes(struct fw_plan_job *job,
                                   struct fw_error *err)
{
    const struct fw_farm *farm = job->farm;
    enum fw_status status = FW_OK;
    if (!farm->layout || strncmp(farm->layout, "lane", 4) != 0)
        return FW_OK; /* a lane that only leads from field to field */
    for (size_t i = 0; !status && i < farm->feature_count; i++) {
        const struct fw_farm_feature *feature = &farm->features[i];
        bool met = !is_lane(feature);
        for (size_t f = 0; !status && !met && f < farm->field_count; f++) {
            struct fw_point *line = line_in(fw_plan__grazed(&farm->fields[f]),
                                            feature, &status, err);
            met = line;
            fw_free(line);
        }
        if (!status && !met)
            status = fw_notes_add(&job->plan->notes, FW_LEVEL_WARNING,
                                  feature->name ? feature->name : "lane", err,
                                  "this lane lies outside every field, so that "
                                  "no layout keeps to it; look at its place on "
                                  "the map and at its coordinate system");
    }
    return status;
}
