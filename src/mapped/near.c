#include "mapped/near.h"

#include "base/alloc.h"
#include "base/angle.h"
#include "base/fail.h"
#include "figures/mark.h"
#include "figures/units.h"
#include <math.h>

static struct fw_farm__near nothing(void)
{
    return (struct fw_farm__near){HUGE_VAL, -HUGE_VAL, HUGE_VAL, -HUGE_VAL};
}

static void take(struct fw_farm__near *near, struct fw_lonlat at)
{
    near->west = fmin(near->west, at.lon_deg);
    near->east = fmax(near->east, at.lon_deg);
    near->south = fmin(near->south, at.lat_deg);
    near->north = fmax(near->north, at.lat_deg);
}

struct fw_farm__near fw_farm__near_field(const struct fw_field *field)
{
    struct fw_farm__near near = nothing();
    for (size_t i = 0; i < field->ring_start[1]; i++)
        take(&near, field->vertices[i].lonlat);
    return near;
}

struct fw_farm__near
fw_farm__near_feature(const struct fw_farm_feature *feature)
{
    struct fw_farm__near near = nothing();
    for (size_t i = 0; i < feature->ring_start[feature->ring_count]; i++)
        take(&near, feature->points[i]);
    return near;
}

bool fw_farm__near_meets(const struct fw_farm__near *field,
                         const struct fw_farm__near *feature, double reach_m)
{
    const double lat_deg = reach_m / FW_DEGREE_M_LEAST;
    const double most = fmax(fabs(field->south), fabs(field->north));
    const double lon_deg =
        lat_deg / fmax(FW_TOLERANCE(0.01), cos(most / FW_RADIAN_DEG));
    return feature->west <= field->east + lon_deg &&
           feature->east >= field->west - lon_deg &&
           feature->south <= field->north + lat_deg &&
           feature->north >= field->south - lat_deg;
}

struct fw_point *fw_farm__in_plane(const struct fw_plane *plane,
                                   const struct fw_farm_feature *feature,
                                   struct fw_error *err)
{
    const size_t count = feature->ring_start[feature->ring_count];
    struct fw_point *points = fw_alloc(count, sizeof *points);
    if (!points) {
        fw_fail_memory(err);
        return NULL;
    }
    for (size_t i = 0; i < count; i++)
        points[i] = fw_plane_forward(plane, feature->points[i]);
    return points;
}
