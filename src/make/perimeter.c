/* The perimeter fence of bare fields: no flock, no grass, only the boundary. */
#include "base/alloc.h"
#include "base/fail.h"
#include "choice/job.h"
#include "figures/mark.h"
#include "make/make.h"

#include <stdio.h>
#include <string.h>

/* Rows for the same item are one row of the list. */
static void merge(struct fw_material *rows, size_t *count,
                  const struct fw_material *row)
{
    for (size_t i = 0; i < *count; i++)
        if (strcmp(rows[i].item, row->item) == 0) {
            rows[i].quantity += row->quantity;
            return;
        }
    rows[(*count)++] = *row;
}

static enum fw_status list_ring(const struct fw_farm *farm,
                                const struct fw_field *field, size_t ring,
                                struct fw_material *rows, size_t most,
                                size_t *count, struct fw_error *err)
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
    for (size_t i = 0; !status && i < found_count; i++) {
        if (*count >= most)
            return fw_fail(err, FW_EFAULT, "the list is longer than its room");
        merge(rows, count, &found[i]);
    }
    return status;
}

enum fw_status fw_plan_perimeter_list(const struct fw_farm *farm,
                                      struct fw_material *rows, size_t most,
                                      size_t *count, struct fw_error *err)
{
    size_t n = 0;
    enum fw_status status = FW_OK;
    for (size_t i = 0; !status && i < farm->field_count; i++) {
        const struct fw_field *field = farm->fields[i].shape;
        for (size_t ring = 0; !status && ring < field->ring_count; ring++)
            status = list_ring(farm, field, ring, rows, most, &n, err);
    }
    if (!status)
        *count = n;
    return status;
}
