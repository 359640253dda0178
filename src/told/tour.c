/* The fields in the order of the shortest round from gate to gate. */
#include "told/split.h"

#include "base/alloc.h"
#include "crs/crs.h"
#include <string.h>

static enum fw_status need_gates(const struct fw_farm__reader *reader,
                                 struct fw_error *err)
{
    const struct fw_farm *farm = reader->farm;
    for (size_t i = 0; i < farm->field_count; i++) {
        if (farm->fields[i].gate.given)
            continue;
        fw_fail(err, FW_EINPUT,
                "\"nearest\" goes from gate to gate, and field \"%.80s\" has "
                "none; tell it under fields.each, or field-order: given",
                farm->fields[i].shape->name);
        return fw_farm__fail_at(reader, &reader->draft.field_order.at,
                                "field-order", err);
    }
    return FW_OK;
}

static enum fw_status find_order(const struct fw_farm__reader *reader,
                                 size_t *order, struct fw_error *err)
{
    const struct fw_farm *farm = reader->farm;
    struct fw_lonlat *gates = fw_alloc(farm->field_count, sizeof *gates);
    if (!gates)
        return fw_fail_memory(err);
    for (size_t i = 0; i < farm->field_count; i++)
        gates[i] = farm->fields[i].gate.lonlat;
    const enum fw_status status =
        fw_geo_tour(gates, farm->field_count, order, NULL, err);
    fw_free(gates);
    if (status == FW_EINPUT)
        fw_farm__fail_at(reader, &reader->draft.field_order.at, "field-order",
                         err);
    return status;
}

enum fw_status fw_farm__reorder(struct fw_farm__reader *reader,
                                const size_t *order, struct fw_error *err)
{
    struct fw_farm *farm = reader->farm;
    const size_t count = farm->field_count;
    struct fw_farm_field *fields = fw_alloc(count, sizeof *fields);
    size_t *each_of = fw_alloc(count, sizeof *each_of);
    if (fields && each_of) {
        for (size_t i = 0; i < count; i++) {
            fields[i] = farm->fields[order[i]];
            each_of[i] = reader->each_of[order[i]];
        }
        memcpy(farm->fields, fields, count * sizeof *fields);
        memcpy(reader->each_of, each_of, count * sizeof *each_of);
    }
    const bool failed = !fields || !each_of;
    fw_free(fields);
    fw_free(each_of);
    return failed ? fw_fail_memory(err) : FW_OK;
}

enum fw_status fw_farm__tour(struct fw_farm__reader *reader,
                             struct fw_error *err)
{
    struct fw_farm *farm = reader->farm;
    if (farm->field_order != FW_ORDER_NEAREST || farm->field_count < 2)
        return FW_OK;
    enum fw_status status = need_gates(reader, err);
    if (status)
        return status;
    size_t *order = fw_alloc(farm->field_count, sizeof *order);
    if (!order)
        return fw_fail_memory(err);
    status = find_order(reader, order, err);
    if (!status)
        status = fw_farm__reorder(reader, order, err);
    fw_free(order);
    return status;
}
