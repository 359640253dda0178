/* The perimeter fence of bare fields: no flock, no grass, only the boundary. */
#include "base/alloc.h"
#include "base/fail.h"
#include "choice/job.h"
#include "figures/fence.h"
#include "figures/mark.h"
#include "figures/power.h"
#include "live/live.h"
#include "make/make.h"
#include "make/parts.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

struct list {
    struct fw_material *rows; /* the caller's */
    size_t count, most;
    double line_m; /* of all rings */
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
    enum { most_new = FW_EFFORT(32) };
    struct fw_material found[most_new];
    struct fw_fence_perimeter fence = farm->perimeter;
    const size_t first = field->ring_start[ring];
    const size_t points = field->ring_start[ring + 1] - first;
    struct fw_point *line = fw_alloc(points, sizeof *line);
    if (!line)
        return fw_fail_memory(err);
    for (size_t i = 0; i < points; i++)
        line[i] = field->vertices[first + i].plane;
    list->line_m += fw_line_length_m(line, points, true);
    if (ring > 0) /* nobody goes into a pond */
        fence.gates = 0;
    if (farm->sign_path_m > 0 || farm->sign_road_m > 0)
        fence.sign_m = !(farm->sign_path_m > 0) ? farm->sign_road_m
                       : !(farm->sign_road_m > 0)
                           ? farm->sign_path_m
                           : fmin(farm->sign_path_m, farm->sign_road_m);
    size_t found_count = 0;
    enum fw_status status =
        fw_fence_perimeter_list(line, points, &fence, &farm->prices, found,
                                most_new, &found_count, err);
    fw_free(line);
    for (size_t i = 0; !status && i < found_count; i++)
        status = merge(list, &found[i], err);
    return status;
}

static enum fw_status add(struct list *list, const char *item, const char *note,
                          struct fw_material row, struct fw_error *err)
{
    snprintf(row.item, sizeof row.item, "%s", item);
    snprintf(row.note, sizeof row.note, "%s", note);
    return merge(list, &row, err);
}

/* One energizer for all of it, from the lead to the earth rods. */
static enum fw_status list_feed(const struct fw_farm *farm, struct list *list,
                                struct fw_error *err)
{
    const struct fw_prices *prices = &farm->prices;
    struct fw_energizer energizer;
    enum fw_status status =
        fw_power_size(list->line_m, farm->joule_rule, farm->energizer_j, true,
                      farm->dry_soil, false, &energizer, err);
    if (status)
        return status;
    const int rods = farm->wiring.rods > 0 ? farm->wiring.rods : energizer.rods;
    const double lead_m = farm->wiring.lead_m >= 0 ? farm->wiring.lead_m
                                                   : FW_PERIMETER_LEAD_OUT_M;
    energizer.rods = rods;
    struct fw_material row = fw_plan__energizer_row(&energizer, prices);
    status = merge(list, &row, err);
    row = fw_plan__rod_row(&energizer, farm->units, prices);
    if (!status)
        status = merge(list, &row, err);
    if (!status)
        status = add(list, "insulated cable", fw_fence_cable,
                     fw_fence_material(FW_WARE_LEAD,
                                       lead_m + FW_PERIMETER_EARTH_LEAD_M +
                                           (rods - 1) * FW_RODS_APART_M,
                                       prices),
                     err);
    if (!status)
        status = add(list, "cut-out switch",
                     "in the lead, so that the fence can be off while a person "
                     "works at it",
                     fw_fence_material(FW_WARE_SWITCH, 1, prices), err);
    if (!status)
        status = add(list, "joint clamp", fw_fence_clamps,
                     fw_fence_material(FW_WARE_CLAMP,
                                       farm->perimeter.spec.strands, prices),
                     err);
    return status;
}

enum fw_status fw_plan_perimeter_list(const struct fw_farm *farm,
                                      struct fw_material *rows, size_t most,
                                      size_t *count, double *line_m,
                                      struct fw_error *err)
{
    struct list list = {.rows = rows, .most = most};
    enum fw_status status = FW_OK;
    for (size_t i = 0; !status && i < farm->field_count; i++) {
        const struct fw_field *field = farm->fields[i].shape;
        for (size_t ring = 0; !status && ring < field->ring_count; ring++)
            status = list_ring(farm, field, ring, &list, err);
    }
    if (!status)
        status = list_feed(farm, &list, err);
    if (status)
        return status;
    fw_fence_settle(rows, list.count, &farm->owned);
    *count = list.count;
    *line_m = list.line_m;
    return FW_OK;
}
