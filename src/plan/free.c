#include "plan/plan.h"

#include "base/alloc.h"

static void rings_release(struct fw_plan_rings *rings)
{
    fw_free(rings->vertices);
    fw_free(rings->ring_start);
    fw_free(rings->piece_ring);
}

static void field_release(struct fw_plan_field *field)
{
    fw_free(field->name);
    fw_free(field->source);
    fw_origin_release(&field->origin);
    fw_free(field->crs);
    fw_free(field->vertices);
    fw_free(field->corners);
    fw_free(field->corner_numbers);
    fw_free(field->side_numbers);
    fw_free(field->sides);
    fw_free(field->no_plan);
    fw_free(field->part_of);
    rings_release(&field->rings);
}

static void texts_free(struct fw_plan *plan)
{
    fw_free(plan->farm_name);
    fw_inputs_release(&plan->inputs);
    fw_told_release(&plan->told);
    fw_free(plan->crs);
    fw_free(plan->use_source);
    fw_free(plan->density_source);
    fw_free(plan->intake_source);
    fw_free(plan->water_source);
}

void fw_plan_free(struct fw_plan *plan)
{
    if (!plan)
        return;
    for (size_t i = 0; i < plan->field_count; i++)
        field_release(&plan->fields[i]);
    for (size_t i = 0; i < plan->paddock_count; i++)
        rings_release(&plan->paddocks[i].rings);
    for (size_t i = 0; i < plan->lane_count; i++)
        rings_release(&plan->lanes[i].rings);
    for (size_t i = 0; i < plan->fence_count; i++)
        fw_free(plan->fences[i].line);
    texts_free(plan);
    fw_free(plan->classes);
    fw_free(plan->fields);
    fw_free(plan->paddocks);
    fw_free(plan->lanes);
    fw_free(plan->fences);
    fw_free(plan->posts);
    fw_free(plan->crossings);
    fw_free(plan->passages);
    fw_free(plan->waters);
    fw_free(plan->gates);
    fw_free(plan->findings);
    fw_free(plan->cautions);
    fw_time_release(&plan->time);
    fw_free(plan->power_days);
    fw_free(plan->readings);
    fw_free(plan->is_set);
    fw_free(plan->materials);
    fw_free(plan->defaults);
    fw_notes_release(&plan->untold);
    fw_notes_release(&plan->notes);
    fw_free(plan);
}
