/* What lies on the ground of each paddock that matters in rain, heat and snow:
 * how much of it is soft, and whether there is shade or shelter. */
#include "around/around.h"

#include "base/alloc.h"
#include "base/fail.h"
#include "figures/layout.h"

#include <math.h>

/* A feature in the field's plane. */
static struct fw_point *in_plane(const struct fw_plane *plane,
                                 const struct fw_farm_feature *feature)
{
    const size_t count = feature->ring_start[feature->ring_count];
    struct fw_point *points = fw_alloc(count, sizeof *points);
    for (size_t i = 0; points && i < count; i++)
        points[i] = fw_plane_forward(plane, feature->points[i]);
    return points;
}

static struct fw_point *ground_of(const struct fw_plan_field *field,
                                  const struct fw_plan_rings *rings)
{
    const size_t count = rings->ring_start[rings->ring_count];
    struct fw_point *points = fw_alloc(count, sizeof *points);
    for (size_t i = 0; points && i < count; i++)
        points[i] = field->vertices[rings->vertices[i]].plane;
    return points;
}

/* Soft ground that two features show is soft once: a paddock is no softer than
 * all of it. */
static enum fw_status soften(struct fw_plan_paddock *paddock,
                             const struct fw_area *ground,
                             const struct fw_area *mark, struct fw_error *err)
{
    double shared_m2;
    const enum fw_status status = fw_area_shared(ground, mark, &shared_m2, err);
    if (!status)
        paddock->soft_share =
            fmin(1, paddock->soft_share + shared_m2 / paddock->plane_m2);
    return status;
}

/* At any of its pieces. */
static bool is_at(const struct fw_plan_rings *rings,
                  const struct fw_area *ground, const struct fw_area *mark,
                  bool area)
{
    for (size_t p = 0; p < rings->piece_count; p++) {
        const size_t ring = rings->piece_ring[p];
        const size_t first = ground->ring_start[ring];
        if (fw_area_is_at(mark, area, ground->points + first,
                          ground->ring_start[ring + 1] - first,
                          FW_KEEP_REACH_M))
            return true;
    }
    return false;
}

static enum fw_status look_at(const struct fw_plan_field *field,
                              struct fw_plan_paddock *paddock,
                              const struct fw_farm_feature *feature,
                              const struct fw_area *mark, struct fw_error *err)
{
    const bool area = feature->kind == FW_FEATURE_POLYGON;
    struct fw_point *points = ground_of(field, &paddock->rings);
    const struct fw_area ground = {points, paddock->rings.ring_start,
                                   paddock->rings.ring_count};
    enum fw_status status = points ? FW_OK : fw_fail_memory(err);
    if (!status && feature->role == FW_ROLE_SOFT && area)
        status = soften(paddock, &ground, mark, err);
    if (!status && feature->role == FW_ROLE_SHADE &&
        is_at(&paddock->rings, &ground, mark, area))
        paddock->shade = FW_YES;
    if (!status && feature->role == FW_ROLE_SHELTER &&
        is_at(&paddock->rings, &ground, mark, area))
        paddock->shelter = FW_YES;
    fw_free(points);
    return status;
}

static bool matters(enum fw_role role)
{
    return role == FW_ROLE_SOFT || role == FW_ROLE_SHADE ||
           role == FW_ROLE_SHELTER;
}

static enum fw_status add(struct fw_plan_job *job, size_t index,
                          const struct fw_farm_feature *feature,
                          struct fw_error *err)
{
    struct fw_plan *plan = job->plan;
    const struct fw_plan_field *field = &plan->fields[index];
    struct fw_point *points = in_plane(&field->plane, feature);
    const struct fw_area mark = {points, feature->ring_start,
                                 feature->ring_count};
    enum fw_status status = points ? FW_OK : fw_fail_memory(err);
    for (size_t i = 0; !status && i < field->paddock_count; i++)
        status = look_at(field, &plan->paddocks[field->first_paddock + i],
                         feature, &mark, err);
    fw_free(points);
    return status;
}

/* What a map shows, it shows of all the fields; without one nobody can tell. */
static bool shows(const struct fw_plan_job *job, enum fw_role role)
{
    return (job->farm->mapped & 1U << role) != 0;
}

static void begin(struct fw_plan_job *job)
{
    const bool soft = shows(job, FW_ROLE_SOFT),
               shade = shows(job, FW_ROLE_SHADE),
               shelter = shows(job, FW_ROLE_SHELTER);
    for (size_t i = 0; i < job->plan->paddock_count; i++) {
        struct fw_plan_paddock *paddock = &job->plan->paddocks[i];
        paddock->soft_share = soft ? 0 : (double)NAN;
        paddock->shade = shade ? FW_NO : FW_UNTOLD;
        paddock->shelter = shelter ? FW_NO : FW_UNTOLD;
    }
}

enum fw_status fw_plan__grounds(struct fw_plan_job *job, struct fw_error *err)
{
    const struct fw_farm *farm = job->farm;
    enum fw_status status = FW_OK;
    begin(job);
    for (size_t k = 0; !status && k < farm->feature_count; k++)
        for (size_t i = 0; !status && matters(farm->features[k].role) &&
                           i < job->plan->field_count;
             i++)
            status = add(job, i, &farm->features[k], err);
    return status;
}
