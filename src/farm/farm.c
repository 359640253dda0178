/* A farm by itself. */
#include "farm/farm.h"

#include "base/alloc.h"
#include "plan/plan.h"

void fw_farm__field_release(struct fw_farm_field *field)
{
    if (field->grazed != field->shape)
        fw_field_free(field->grazed);
    fw_field_free(field->shape);
    fw_herbage_free(field->ground);
    fw_free(field->parts);
    fw_free(field->stands_kg_ha);
    fw_raster_free(field->heights);
    fw_free(field->source);
    fw_free(field->crs);
    fw_free(field->sides);
    fw_free(field->front.runs);
    for (size_t i = 0; i < field->front.behind_count; i++)
        fw_field_free(field->front.behind[i]);
    fw_free(field->front.behind);
    fw_free(field->border.beyond);
    fw_origin_release(&field->origin);
}

static void feature_release(struct fw_farm_feature *feature)
{
    fw_free(feature->points);
    fw_free(feature->ring_start);
    fw_free(feature->name);
    fw_free(feature->kv_text);
}

void fw_farm_free(struct fw_farm *farm)
{
    if (!farm)
        return;
    for (size_t i = 0; i < farm->field_count; i++)
        fw_farm__field_release(&farm->fields[i]);
    for (size_t i = 0; i < farm->feature_count; i++)
        feature_release(&farm->features[i]);
    fw_plan_free(farm->earlier);
    fw_free(farm->earlier_path);
    fw_free(farm->path);
    fw_free(farm->name);
    fw_free(farm->layout);
    fw_free(farm->fields_source);
    fw_inputs_release(&farm->inputs);
    fw_told_release(&farm->told);
    fw_free(farm->fields);
    for (size_t i = 0; i < farm->whole_count; i++)
        fw_field_free(farm->wholes[i]);
    fw_free(farm->wholes);
    fw_free(farm->classes);
    fw_free(farm->stay.away);
    fw_free(farm->stockpile.parts);
    fw_free(farm->features);
    fw_free(farm->defaults);
    fw_free(farm);
}

enum fw_held fw_farm_held(const struct fw_farm *farm)
{
    const enum fw_lambs lambs =
        fw_flock_lambs(farm->classes, farm->class_count);
    if (farm->lambs_creep || lambs == FW_LAMBS_NONE)
        return FW_HELD_GROWN;
    return lambs == FW_LAMBS_AT_FOOT ? FW_HELD_AT_FOOT : FW_HELD_WEANED;
}
