/* The same ground on another day: the places stay, the densities are others. */
#include "base/alloc.h"
#include "base/fail.h"
#include "geo/herbage_inner.h"

#include <string.h>

size_t fw_herbage_part_count(const struct fw_herbage *ground)
{
    return ground->raster ? ground->raster->columns * ground->raster->rows
                          : 1 + ground->zone_count;
}

double fw_herbage_cell_kg_m2(const struct fw_herbage *ground, size_t cell)
{
    return ground->raster->values[cell];
}

static bool copy(const void *from, size_t count, size_t size, void *to)
{
    void **out = to;
    *out = fw_alloc(count, size);
    if (*out && count > 0)
        memcpy(*out, from, count * size);
    return *out != NULL;
}

static bool take_zones(const struct fw_herbage *from, const double *kg_m2,
                       struct fw_herbage *to)
{
    const size_t count = from->side_count;
    to->base_kg_m2 = kg_m2[0];
    to->zone_count = from->zone_count;
    if (count == 0)
        return true;
    if (!copy(from->sides, count, sizeof *to->sides, &to->sides) ||
        !copy(from->reach_m, count, sizeof *to->reach_m, &to->reach_m))
        return false;
    for (size_t i = 0; i < count; i++)
        fw_zone_step(&to->sides[i],
                     kg_m2[1 + to->sides[i].zone] - to->base_kg_m2);
    to->side_count = count;
    return true;
}

static bool take_cells(const struct fw_herbage *from, const double *kg_m2,
                       struct fw_herbage *to)
{
    const struct fw_raster *raster = from->raster;
    const size_t cells = raster->columns * raster->rows;
    const size_t corners = (raster->columns + 1) * (raster->rows + 1);
    to->base_kg_m2 = from->base_kg_m2;
    to->raster = fw_alloc(1, sizeof *to->raster);
    to->row_kg = fw_alloc(corners, sizeof *to->row_kg);
    to->column_kg = fw_alloc(corners, sizeof *to->column_kg);
    if (!to->raster || !to->row_kg || !to->column_kg)
        return false;
    *to->raster = *raster;
    to->raster->corners = NULL;
    to->raster->values = NULL;
    if (!copy(raster->corners, corners, sizeof *raster->corners,
              &to->raster->corners) ||
        !copy(kg_m2, cells, sizeof *kg_m2, &to->raster->values))
        return false;
    fw_cells_sum(to);
    return true;
}

enum fw_status fw_herbage_again(const struct fw_herbage *ground,
                                const double *kg_m2, struct fw_herbage **out,
                                struct fw_error *err)
{
    const size_t parts = fw_herbage_part_count(ground);
    enum fw_status status = FW_OK;
    for (size_t i = 0; !status && i < parts; i++)
        status = fw_herbage__check(kg_m2[i], err);
    if (status)
        return status;
    struct fw_herbage *again = fw_alloc(1, sizeof *again);
    if (!again || !(ground->raster ? take_cells(ground, kg_m2, again)
                                   : take_zones(ground, kg_m2, again))) {
        fw_herbage_free(again);
        return fw_fail_memory(err);
    }
    *out = again;
    return FW_OK;
}
