/* Where a track of the map comes nearest to a paddock: the hard ground by which
 * a trough stands in winter. */
#include "figures/water.h"
#include "geo/points.h"
#include "haul/haul.h"

#include <math.h>

struct nearest {
    struct fw_point at;
    double away_m;
};

/* From the outline, 0 within it. */
static double away_m(const struct fw_point *ring, size_t count,
                     struct fw_point at)
{
    double least_m = fw_ring_contains(ring, count, at) ? 0 : HUGE_VAL;
    for (size_t i = 0; i < count && least_m > 0; i++)
        least_m = fmin(
            least_m, fw_segment_distance_m(at, ring[i], ring[(i + 1) % count]));
    return least_m;
}

static struct fw_point nearest_on(struct fw_point a, struct fw_point b,
                                  struct fw_point to)
{
    const struct fw_point way = fw_point_minus(b, a);
    const struct fw_point from_a = fw_point_minus(to, a);
    const double square = way.x_m * way.x_m + way.y_m * way.y_m;
    const double t = way.x_m * from_a.x_m + way.y_m * from_a.y_m;
    return fw_point_between(a, b,
                            square > 0 ? fmin(1, fmax(0, t / square)) : 0);
}

/* Two outlines that do not cross are nearest at a corner of one of them. */
static void look_at_piece(const struct fw_point *ring, size_t count,
                          struct fw_point a, struct fw_point b,
                          struct nearest *nearest)
{
    for (size_t i = 0; i < count + 2; i++) {
        const struct fw_point at = i < count    ? nearest_on(a, b, ring[i])
                                   : i == count ? a
                                                : b;
        const double here_m = away_m(ring, count, at);
        if (here_m < nearest->away_m)
            *nearest = (struct nearest){at, here_m};
    }
}

bool fw_plan__near_track(const struct fw_plan_job *job, size_t field,
                         const struct fw_point *ring, size_t count,
                         struct fw_point *out)
{
    const struct fw_farm *farm = job->farm;
    const struct fw_plane *plane = &farm->fields[field].shape->plane;
    struct nearest nearest = {.away_m = HUGE_VAL};
    for (size_t i = 0; i < farm->feature_count; i++) {
        const struct fw_farm_feature *feature = &farm->features[i];
        if (feature->role != FW_ROLE_TRACK && feature->role != FW_ROLE_ROAD)
            continue;
        for (size_t r = 0; r < feature->ring_count; r++)
            for (size_t k = feature->ring_start[r];
                 k + 1 < feature->ring_start[r + 1]; k++)
                look_at_piece(
                    ring, count, fw_plane_forward(plane, feature->points[k]),
                    fw_plane_forward(plane, feature->points[k + 1]), &nearest);
    }
    if (!(nearest.away_m <= FW_ROADS_GAP_M))
        return false;
    *out = nearest.at;
    return true;
}
