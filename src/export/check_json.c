/* `check` for machines. */
#include "export/export.h"

static void key_number(struct fw_text *text, const char *key, double value)
{
    fw_text_addf(text, ", \"%s\": ", key);
    fw_text_add_number(text, value);
}

static void corners(struct fw_text *text, const struct fw_field *field)
{
    fw_text_add(text, ", \"corners\": [");
    for (size_t i = 0; i < field->corner_count; i++) {
        const struct fw_lonlat at = field->vertices[field->corners[i]].lonlat;
        fw_text_addf(text, "%s{\"corner\": %zu, \"lon\": ", i ? ", " : "",
                     i + 1);
        fw_text_add_number(text, at.lon_deg);
        fw_text_add(text, ", \"lat\": ");
        fw_text_add_number(text, at.lat_deg);
        key_number(text, "side_m", fw_field_side_m(field, i));
        fw_text_add(text, "}");
    }
    fw_text_add(text, "]");
}

enum fw_status fw_report_check_json(const struct fw_farm *farm, char **out,
                                    struct fw_error *err)
{
    struct fw_text text = {0};
    fw_text_add(&text, "{");
    fw_report_first_json(&text);
    fw_text_add(&text, ",\n\"fields\": [");
    for (size_t i = 0; i < farm->field_count; i++) {
        const struct fw_farm_field *field = &farm->fields[i];
        fw_text_add(&text, i ? ",\n  {\"field\": " : "\n  {\"field\": ");
        fw_text_add_json(&text, field->shape->name);
        fw_text_add(&text, ", \"source\": ");
        fw_text_add_json(&text, field->source ? field->source : "");
        fw_text_add(&text, ", \"layer\": ");
        if (field->origin.layer)
            fw_text_add_json(&text, field->origin.layer);
        else
            fw_text_add(&text, "null");
        if (field->origin.fid == FW_NO_FID)
            fw_text_add(&text, ", \"fid\": null");
        else
            fw_text_addf(&text, ", \"fid\": %zu", field->origin.fid);
        key_number(&text, "area_ha", field->shape->ellipsoid_m2 / 1e4);
        key_number(&text, "plane_ha", field->shape->area_m2 / 1e4);
        key_number(&text, "perimeter_m", field->shape->perimeter_m);
        key_number(&text, "inner_m", field->shape->holes_m);
        fw_text_addf(&text, ", \"inner_rings\": %zu",
                     field->shape->ring_count - 1);
        if (field->crs_accuracy_m >= 0)
            key_number(&text, "crs_accuracy_m", field->crs_accuracy_m);
        else
            fw_text_add(&text, ", \"crs_accuracy_m\": null");
        corners(&text, field->shape);
        fw_text_add(&text, "}");
    }
    fw_text_addf(&text, "\n], \"turned_rings\": %zu, \"repeated_points\": %zu",
                 farm->turned_rings, farm->repeated_points);
    fw_report_check_volts_json(&text, farm);
    const enum fw_status status = fw_report_check_covers_json(&text, farm, err);
    if (status) {
        fw_text_release(&text);
        return status;
    }
    fw_text_add(&text, "}\n");
    return fw_report_give(&text, out, NULL, err);
}
