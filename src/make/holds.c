/* What a paddock that is laid out already holds on a day. */
#include "base/alloc.h"
#include "base/fail.h"
#include "make/parts.h"

static enum fw_status mass_in(const struct fw_plan_field *field,
                              const struct fw_plan_rings *rings,
                              const struct fw_herbage *ground, double *kg,
                              struct fw_error *err)
{
    const size_t count = rings->ring_start[rings->ring_count];
    struct fw_point *points = fw_alloc(count, sizeof *points);
    if (!points)
        return fw_fail_memory(err);
    for (size_t i = 0; i < count; i++)
        points[i] = fw_plan__at(field, rings->vertices[i]);
    *kg = fw_herbage_mass_kg(ground, points, rings->ring_start,
                             rings->ring_count);
    fw_free(points);
    return FW_OK;
}

enum fw_status fw_plan__holds(const struct fw_plan__grass *grass,
                              const struct fw_plan_paddock *paddock,
                              double *usable_kg, struct fw_error *err)
{
    const struct fw_plan_job *job = grass->job;
    if (!fw_plan__ground(job, grass->field)) {
        *usable_kg = paddock->plane_m2 / 1e4 * fw_plan__grass_even_kg_ha(grass);
        return FW_OK;
    }
    struct fw_herbage *ground = NULL;
    enum fw_status status = fw_plan__grass_ground(grass, &ground, err);
    if (!status)
        status = mass_in(&job->plan->fields[paddock->field], &paddock->rings,
                         ground, usable_kg, err);
    fw_herbage_free(ground);
    return status;
}
