/* The perimeter fence of bare fields: no flock, no grass, only the boundary. */
#include "base/alloc.h"
#include "base/fail.h"
#include "choice/job.h"
#include "figures/mark.h"
#include "make/make.h"

#include <stdio.h>
#include <string.h>

struct list {
    struct fw_material *rows; /* the caller's */
    size_t count, most;
};

/* Rows for the same item are one row of the list. */
static enum fw_status merge(struct list *list, const struct fw_material *row,
                            struct fw_error *err)
{
    for (size_t i = 0; i < list->count; i++)
        if (strcmp(list->rows[i].item, row->item) == 0) {
            list->rows[i].quantity += row->quantity;
            return FW_OK;
        }
    if (list->count >= list->most)
        return fw_fail(err, FW_EFAULT, "the list is longer than its room");
    list->rows[list->count++] = *row;
    return FW_OK;
}

static enum fw_status list_ring(const struct fw_farm *farm,
                                const struct fw_field *field, size_t ring,
                                struct list *list, struct fw_error *err)
{
    enum { most_new = FW_EFFORT(16) };
    struct fw_material found[most_new];
    const size_t first = field->ring_start[ring];
    const size_t points = field->ring_start[ring + 1] - first;
    struct fw_point *line = fw_alloc(points, sizeof *line);
    if (!line)
        return fw_fail_memory(err);
    for (size_t i = 0; i < points; i++)
        line[i] = field->vertices[first + i].plane;
    size_t found_count = 0;
    enum fw_status status =
        fw_fence_perimeter_list(line, points, &farm->perimeter, &farm->prices,
                                found, most_new, &found_count, err);
    fw_free(line);
    for (size_t i = 0; !status && i < found_count; i++)
        status = merge(list, &found[i], err);
    return status;
}

enum fw_status fw_plan_perimeter_list(const struct fw_farm *farm,
                                      struct fw_material *rows, size_t most,
                                      size_t *count, struct fw_error *err)
{
    struct list list = {.rows = rows, .most = most};
    enum fw_status status = FW_OK;
    for (size_t i = 0; !status && i < farm->field_count; i++) {
        const struct fw_field *field = farm->fields[i].shape;
        for (size_t ring = 0; !status && ring < field->ring_count; ring++)
            status = list_ring(farm, field, ring, &list, err);
    }
    if (!status)
        *count = list.count;
    return status;
}
