/* Feed on a field: what its kinds have in common. */
#include "base/alloc.h"
#include "base/fail.h"
#include "geo/herbage_inner.h"
#include "geo/points.h"

#include <math.h>

enum fw_status fw_herbage__check(double kg_m2, struct fw_error *err)
{
    if (kg_m2 >= 0 && isfinite(kg_m2))
        return FW_OK;
    return fw_fail(err, FW_EINPUT, "density of %g kg/ha; expected 0 or more",
                   1e4 * kg_m2);
}

enum fw_status fw_herbage_even(double kg_m2, struct fw_herbage **out,
                               struct fw_error *err)
{
    const enum fw_status status = fw_herbage__check(kg_m2, err);
    if (status)
        return status;
    struct fw_herbage *ground = fw_alloc(1, sizeof *ground);
    if (!ground)
        return fw_fail_memory(err);
    ground->base_kg_m2 = kg_m2;
    *out = ground;
    return FW_OK;
}

void fw_herbage_free(struct fw_herbage *ground)
{
    if (!ground)
        return;
    fw_free(ground->sides);
    fw_free(ground->reach_m);
    fw_raster_free(ground->raster);
    fw_free(ground->row_kg);
    fw_free(ground->column_kg);
    fw_free(ground);
}

bool fw_herbage_is_even(const struct fw_herbage *ground)
{
    return !ground || (ground->side_count == 0 && !ground->raster);
}

double fw_herbage_base_kg_m2(const struct fw_herbage *ground)
{
    return ground ? ground->base_kg_m2 : 0;
}

/* ---- cells ---- */

static enum fw_status check_rim(const struct fw_raster *raster,
                                const struct fw_field *field,
                                struct fw_error *err)
{
    for (size_t i = 0; i < field->ring_start[1]; i++) {
        const struct fw_cell cell =
            fw_raster_cell(raster, field->vertices[i].plane);
        if (cell.i == 0 || cell.j == 0 || cell.i + 1 == raster->columns ||
            cell.j + 1 == raster->rows)
            return fw_fail(err, FW_EUSAGE,
                           "the raster ends at the field; expected a cell "
                           "beyond it on all sides");
    }
    return FW_OK;
}

static enum fw_status check_cells(const struct fw_raster *raster,
                                  struct fw_error *err)
{
    const size_t count = raster->columns * raster->rows;
    enum fw_status status = FW_OK;
    for (size_t i = 0; !status && i < count; i++)
        if (!isnan(raster->values[i]))
            status = fw_herbage__check(raster->values[i], err);
    return status;
}

/* How much of the field has data is the mass of ones and zeros. Then the
 * values take their places, and the base where there are none. */
static void lay_cells(struct fw_herbage *ground, const struct fw_field *field,
                      double *kept, struct fw_herbage_told *cover)
{
    struct fw_raster *raster = ground->raster;
    const size_t count = raster->columns * raster->rows;
    for (size_t i = 0; i < count; i++) {
        kept[i] = raster->values[i];
        raster->values[i] = isnan(kept[i]) ? 0 : 1;
    }
    fw_cells_sum(ground);
    cover->told_m2 = fw_herbage_field_kg(ground, field);
    cover->gap_m2 = fmax(0, field->area_m2 - cover->told_m2);
    for (size_t i = 0; i < count; i++)
        raster->values[i] = isnan(kept[i]) ? ground->base_kg_m2 : kept[i];
    fw_cells_sum(ground);
}

enum fw_status fw_herbage_cells(const struct fw_field *field, double base_kg_m2,
                                struct fw_raster *raster,
                                struct fw_herbage **out,
                                struct fw_herbage_told *cover,
                                struct fw_error *err)
{
    struct fw_herbage *ground = NULL;
    enum fw_status status = check_cells(raster, err);
    if (!status)
        status = check_rim(raster, field, err);
    if (!status)
        status = fw_herbage_even(base_kg_m2, &ground, err);
    if (status)
        return status;
    const size_t corners = (raster->columns + 1) * (raster->rows + 1);
    double *kept = fw_alloc(raster->columns * raster->rows, sizeof *kept);
    ground->row_kg = fw_alloc(corners, sizeof *ground->row_kg);
    ground->column_kg = fw_alloc(corners, sizeof *ground->column_kg);
    if (!kept || !ground->row_kg || !ground->column_kg) {
        fw_free(kept);
        fw_herbage_free(ground);
        return fw_fail_memory(err);
    }
    struct fw_herbage_told found = {0};
    ground->raster = raster;
    lay_cells(ground, field, kept, &found);
    fw_free(kept);
    if (cover)
        *cover = found;
    *out = ground;
    return FW_OK;
}

/* ---- sums ---- */

/* Without what lies evenly. */
static void add_edge(const struct fw_herbage *ground, struct fw_point a,
                     struct fw_point b, struct fw_sum *mass)
{
    double along_kg_m = 0;
    if (ground->raster)
        fw_cells_walk(ground, a, b, mass, &along_kg_m);
    else
        fw_zones_below(ground, a, b, mass);
}

static void add_ring(const struct fw_herbage *ground,
                     const struct fw_point *ring, size_t count,
                     struct fw_sum *mass)
{
    if (!ground->raster)
        fw_sum_add(mass, ground->base_kg_m2 * fw_ring_area_m2(ring, count));
    for (size_t i = 0, before = count - 1; i < count; before = i++)
        add_edge(ground, ring[before], ring[i], mass);
}

double fw_herbage_mass_kg(const struct fw_herbage *ground,
                          const struct fw_point *points,
                          const size_t *ring_start, size_t ring_count)
{
    struct fw_sum mass = {0};
    if (!ground)
        return 0;
    for (size_t r = 0; r < ring_count; r++)
        add_ring(ground, points + ring_start[r],
                 ring_start[r + 1] - ring_start[r], &mass);
    return fw_sum_value(mass);
}

double fw_herbage_field_kg(const struct fw_herbage *ground,
                           const struct fw_field *field)
{
    struct fw_sum mass = {0};
    if (!ground)
        return 0;
    if (!ground->raster)
        fw_sum_add(&mass, ground->base_kg_m2 * field->area_m2);
    for (size_t r = 0; r < field->ring_count; r++) {
        const size_t end = field->ring_start[r + 1];
        size_t before = end - 1;
        for (size_t i = field->ring_start[r]; i < end; before = i++)
            add_edge(ground, field->vertices[before].plane,
                     field->vertices[i].plane, &mass);
    }
    return fw_sum_value(mass);
}

double fw_herbage_chord_kg_m(const struct fw_herbage *ground, struct fw_point a,
                             struct fw_point b)
{
    struct fw_sum mass = {0};
    double along_kg_m = 0;
    if (!ground)
        return 0;
    if (ground->raster) {
        fw_cells_walk(ground, a, b, &mass, &along_kg_m);
        return along_kg_m;
    }
    return ground->base_kg_m2 * fw_point_apart_m(b, a) +
           fw_zones_along(ground, a, b);
}
