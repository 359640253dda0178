/* Feed by the cells of a raster of masses. */
#include "told/feed.h"

#include "base/alloc.h"
#include "crs/crs.h"
#include "figures/farm.h"
#include "figures/mark.h"
#include <math.h>
#include <string.h>

static const double most_kg_ha = FW_BOUND(30000);

bool fw_farm__has_mass(const struct fw_sward *sward)
{
    return sward->mass_kg_ha > 0 ||
           (sward->height_m > 0 &&
            (sward->name[0] || sward->density_kg_ha_cm > 0));
}

bool fw_farm__has_rest(const struct fw_sward *sward)
{
    return sward->residual_kg_ha > 0 || sward->leave_m > 0 || sward->use > 0;
}

enum fw_status fw_farm__usable(const struct fw_farm__reader *reader,
                               const struct fw_sward *sward,
                               struct fw_usable *out, struct fw_error *err)
{
    const struct fw_farm *farm = reader->farm;
    const int stay_days = fw_forage_common_stay(&farm->stay, farm->start_day);
    return fw_forage_measure(sward, stay_days, out, err);
}

enum fw_status fw_farm__parts(struct fw_farm_field *field, size_t parts,
                              size_t stands, struct fw_error *err)
{
    field->part_count = parts;
    field->parts = fw_alloc(parts, sizeof *field->parts);
    field->stands_kg_ha = fw_alloc(stands, sizeof *field->stands_kg_ha);
    return field->parts && field->stands_kg_ha ? FW_OK : fw_fail_memory(err);
}

/* ---- the values ---- */

struct tally {
    size_t told, negative;
    double least, most;
};

static struct tally count(const struct fw_grid *grid)
{
    struct tally tally = {.least = HUGE_VAL, .most = -HUGE_VAL};
    for (size_t i = 0; i < grid->columns * grid->rows; i++) {
        const double value = grid->values[i];
        if (isnan(value))
            continue;
        tally.told++;
        tally.negative += value < 0;
        tally.least = fmin(tally.least, value);
        tally.most = fmax(tally.most, value);
    }
    return tally;
}

/* A line through masses goes below 0 on water and bare earth; where it does so
 * on much of the ground it is the wrong line. */
static enum fw_status check(struct fw_farm__reader *reader, const char *name,
                            const struct fw_grid *grid, struct fw_error *err)
{
    const struct tally tally = count(grid);
    if (tally.most > most_kg_ha)
        return fw_fail(err, FW_EINPUT,
                       "has masses of up to %.0f kg/ha; expected up to 30000; "
                       "are scale and offset right?",
                       tally.most);
    if ((double)tally.negative > FW_MAP_NEGATIVE_SHARE * (double)tally.told)
        return fw_fail(err, FW_EINPUT,
                       "has negative masses, down to %.0f kg/ha, in %zu of %zu "
                       "cells; are scale and offset right?",
                       tally.least, tally.negative, tally.told);
    if (tally.negative == 0)
        return FW_OK;
    return fw_notes_add(reader->notes, FW_LEVEL_WARNING, name, err,
                        "%zu of %zu cells of the forage raster have a negative "
                        "mass and are taken as bare",
                        tally.negative, tally.told);
}

/* ---- the field ---- */

static enum fw_status lay(const struct fw_farm_field *field,
                          const struct fw_grid *grid, struct fw_crs *crs,
                          double base_kg_m2, struct fw_herbage **out,
                          struct fw_herbage_told *cover, struct fw_error *err)
{
    struct fw_raster *raster;
    enum fw_status status =
        fw_raster_new(grid, crs, &field->grazed->plane, &raster, err);
    if (status)
        return status;
    status =
        fw_herbage_cells(field->grazed, base_kg_m2, raster, out, cover, err);
    if (status)
        fw_raster_free(raster);
    return status;
}

/* The mean mass of the cells on the field, by area. */
static enum fw_status find_mean(const struct fw_farm_field *field,
                                struct fw_grid *grid, struct fw_crs *crs,
                                double *kg_ha, struct fw_herbage_told *cover,
                                struct fw_error *err)
{
    struct fw_herbage *ground;
    for (size_t i = 0; i < grid->columns * grid->rows; i++)
        if (!isnan(grid->values[i]))
            grid->values[i] = fmax(0, grid->values[i]) / 1e4;
    const enum fw_status status = lay(field, grid, crs, 0, &ground, cover, err);
    if (status)
        return status;
    const double mass_kg = fw_herbage_field_kg(ground, field->grazed);
    fw_herbage_free(ground);
    if (!(cover->told_m2 > FW_TOLERANCE(1e-9) * field->grazed->area_m2))
        return fw_fail(err, FW_EINPUT, "has no data on this field");
    *kg_ha = mass_kg / cover->told_m2 * 1e4;
    return FW_OK;
}

static enum fw_status tell(struct fw_farm__reader *reader,
                           const struct fw_farm_field *field, bool told,
                           const struct fw_herbage_told *cover,
                           struct fw_error *err)
{
    const double area_m2 = field->grazed->area_m2;
    if (!(cover->gap_m2 >= fmax(1, FW_MAP_TOLD_SHARE * area_m2)))
        return FW_OK;
    return fw_notes_add(
        reader->notes, FW_LEVEL_WARNING, field->shape->name, err,
        "the forage raster has no data on %.0f m2 of %.0f; "
        "there %s holds",
        cover->gap_m2, area_m2, told ? "the grass of the field" : "its mean");
}

/* What stands, cell by cell, and so what may be eaten of it. */
static enum fw_status take_cells(struct fw_farm_field *field,
                                 const struct fw_herbage *stands,
                                 struct fw_error *err)
{
    const size_t count = fw_herbage_part_count(stands);
    double *kg_m2 = fw_alloc(count, sizeof *kg_m2);
    if (!kg_m2)
        return fw_fail_memory(err);
    for (size_t i = 0; i < count; i++) {
        field->stands_kg_ha[i] = 1e4 * fw_herbage_cell_kg_m2(stands, i);
        kg_m2[i] = fw_forage_usable_of_kg_ha(&field->parts[0].usable,
                                             field->stands_kg_ha[i]) /
                   1e4;
    }
    const enum fw_status status =
        fw_herbage_again(stands, kg_m2, &field->ground, err);
    fw_free(kg_m2);
    return status;
}

static enum fw_status lay_usable(struct fw_farm__reader *reader,
                                 struct fw_farm_field *field,
                                 const struct fw_grid *masses,
                                 struct fw_crs *crs, struct fw_error *err)
{
    struct fw_usable usable;
    struct fw_herbage *stands = NULL;
    enum fw_status status =
        fw_farm__usable(reader, &field->sward, &usable, err);
    if (!status)
        status = lay(field, masses, crs, usable.mass_kg_ha / 1e4, &stands, NULL,
                     err);
    if (!status)
        status = fw_farm__parts(field, 1, fw_herbage_part_count(stands), err);
    if (!status) {
        field->parts[0] = (struct fw_farm_part){
            .usable = usable, .quality = 1, .growth = field->growth};
        status = take_cells(field, stands, err);
    }
    fw_herbage_free(stands);
    return status;
}

static enum fw_status set(struct fw_farm__reader *reader,
                          struct fw_farm_field *field,
                          const struct fw_grid *grid, struct fw_grid *scratch,
                          struct fw_crs *crs, struct fw_error *err)
{
    struct fw_herbage_told cover;
    double mean_kg_ha = 0;
    const bool told = fw_farm__has_mass(&field->sward);
    enum fw_status status =
        find_mean(field, scratch, crs, &mean_kg_ha, &cover, err);
    if (!status)
        status = check(reader, field->shape->name, grid, err);
    if (status)
        return status;
    if (!told) {
        field->sward.mass_kg_ha = mean_kg_ha;
        field->sward.height_m = 0;
    }
    if (fw_farm__has_rest(&field->sward) && fw_farm__has_mass(&field->sward))
        status = lay_usable(reader, field, scratch, crs, err);
    return status ? status : tell(reader, field, told, &cover, err);
}

enum fw_status fw_farm__feed_cells(struct fw_farm__reader *reader, size_t field,
                                   const struct fw_grid *grid,
                                   struct fw_crs *crs, struct fw_error *err)
{
    const size_t count = grid->columns * grid->rows;
    struct fw_grid scratch = *grid;
    scratch.values = fw_alloc(count, sizeof *scratch.values);
    if (!scratch.values)
        return fw_fail_memory(err);
    memcpy(scratch.values, grid->values, count * sizeof *scratch.values);
    const enum fw_status status =
        set(reader, &reader->farm->fields[field], grid, &scratch, crs, err);
    fw_free(scratch.values);
    return status;
}
