/* What a field's grass has for the flock on a day: what stands on the first
 * one, and what grows or goes while it waits. */
#include "base/alloc.h"
#include "base/fail.h"
#include "choice/job.h"

#include <math.h>
#include <string.h>

static const struct fw_farm_field *field_of(const struct fw_plan__grass *grass)
{
    return &grass->job->farm->fields[grass->field];
}

const struct fw_herbage *fw_plan__ground(const struct fw_plan_job *job,
                                         size_t field)
{
    const struct fw_herbage *ground = job->farm->fields[field].ground;
    return fw_herbage_is_even(ground) ? NULL : ground;
}

enum fw_status fw_plan__grass_of(const struct fw_plan_job *job, size_t field,
                                 struct fw_plan__grass *out,
                                 struct fw_error *err)
{
    const struct fw_herbage *ground = fw_plan__ground(job, field);
    const size_t count = ground ? fw_herbage_part_count(ground) : 1;
    *out = (struct fw_plan__grass){
        .job = job,
        .field = field,
        .share = 1,
        .day = job->told_day,
        .stands_kg_ha = fw_alloc(count, sizeof *out->stands_kg_ha),
        .count = count,
    };
    if (!out->stands_kg_ha)
        return fw_fail_memory(err);
    memcpy(out->stands_kg_ha,
           ground ? job->farm->fields[field].stands_kg_ha
                  : &job->usable[field].mass_kg_ha,
           count * sizeof *out->stands_kg_ha);
    return FW_OK;
}

void fw_plan__grass_release(struct fw_plan__grass *grass)
{
    fw_free(grass->stands_kg_ha);
    *grass = (struct fw_plan__grass){0};
}

static bool changes(const struct fw_growth *growth)
{
    return growth->count > 0 || growth->winter_loss > 0;
}

bool fw_plan__grass_changes(const struct fw_plan_job *job, size_t field)
{
    const struct fw_farm_field *from = &job->farm->fields[field];
    bool any = changes(&from->growth);
    for (size_t i = 0; i < from->part_count; i++)
        any |= changes(&from->parts[i].growth);
    return any;
}

static enum fw_status unknown(const struct fw_plan__grass *grass, int day,
                              struct fw_error *err)
{
    char text[FW_DATE_TEXT];
    return fw_fail(
        err, FW_EINPUT,
        "%s: growth says nothing of %s, and the plan waits for that day; "
        "expected a rate for that time of the year too, 0 where nothing grows",
        fw_plan__grazed(field_of(grass))->name, fw_date_write(day, text));
}

static void pass_parts(const struct fw_plan__grass *grass,
                       const struct fw_growth *growth, size_t first,
                       size_t count)
{
    struct fw_growth comes = fw_growth_slowed(growth, grass->share);
    if (grass->other_shape)
        comes.shape = comes.shape == FW_GROWTH_LOGISTIC ? FW_GROWTH_FLAT
                                                        : FW_GROWTH_LOGISTIC;
    fw_growth_pass(&comes, grass->day, &grass->stands_kg_ha[first], count);
}

/* A raster has one growth for all its cells. */
static enum fw_status pass_day(struct fw_plan__grass *grass,
                               struct fw_error *err)
{
    const struct fw_farm_field *field = field_of(grass);
    const bool zones = grass->count > 1 && field->part_count == grass->count;
    const struct fw_growth *growth =
        grass->count > 1 ? &field->parts[0].growth : &field->growth;
    if (zones)
        for (size_t i = 0; i < grass->count; i++)
            pass_parts(grass, &field->parts[i].growth, i, 1);
    else
        pass_parts(grass, growth, 0, grass->count);
    for (size_t i = 0; i < grass->count; i++)
        if (isnan(grass->stands_kg_ha[i]))
            return unknown(grass, grass->day, err);
    grass->day++;
    return FW_OK;
}

enum fw_status fw_plan__grass_pass(struct fw_plan__grass *grass, int day,
                                   struct fw_error *err)
{
    enum fw_status status = FW_OK;
    if (!fw_plan__grass_changes(grass->job, grass->field))
        return FW_OK;
    while (!status && grass->day < day)
        status = pass_day(grass, err);
    return status;
}

/* By part of the ground. */
static const struct fw_usable *usable_in(const struct fw_plan__grass *grass,
                                         size_t part)
{
    const struct fw_farm_field *field = field_of(grass);
    if (!fw_plan__ground(grass->job, grass->field))
        return &grass->job->usable[grass->field];
    return &field->parts[field->part_count == grass->count ? part : 0].usable;
}

static double usable_of(const struct fw_plan__grass *grass,
                        const struct fw_usable *usable, double stands_kg_ha)
{
    struct fw_usable taken = *usable;
    const struct fw_plan_on *on = grass->job->on;
    if (grass->bare)
        taken.residual_kg_ha = 0;
    return fw_forage_usable_of_kg_ha(&taken, stands_kg_ha) /
           (on && on->size ? on->size[grass->field] : 1);
}

void fw_plan__grass_eaten(struct fw_plan__grass *grass, double share, int left)
{
    for (size_t i = 0; i < grass->count; i++)
        grass->stands_kg_ha[i] = fw_forage_after_kg_ha(
            usable_in(grass, i), grass->stands_kg_ha[i], share);
    grass->day = left;
}

double fw_plan__grass_even_kg_ha(const struct fw_plan__grass *grass)
{
    return usable_of(grass, &grass->job->usable[grass->field],
                     grass->stands_kg_ha[0]);
}

enum fw_status fw_plan__grass_usable(const struct fw_plan__grass *grass,
                                     double *usable_kg_ha, struct fw_error *err)
{
    *usable_kg_ha = fw_plan__grass_even_kg_ha(grass);
    return *usable_kg_ha > 0 ? FW_OK : fw_plan__grass_gone(grass, err);
}

enum fw_status fw_plan__grass_gone(const struct fw_plan__grass *grass,
                                   struct fw_error *err)
{
    char text[FW_DATE_TEXT];
    return fw_fail(err, FW_EPLAN,
                   "%s: on %s nothing stands above what must stay, and ground "
                   "is left to graze; graze another field first, begin at "
                   "another time, or leave less",
                   fw_plan__grazed(field_of(grass))->name,
                   fw_date_write(grass->day, text));
}

enum fw_status fw_plan__grass_ground(const struct fw_plan__grass *grass,
                                     struct fw_herbage **out,
                                     struct fw_error *err)
{
    const struct fw_farm_field *field = field_of(grass);
    double *kg_m2 = fw_alloc(grass->count, sizeof *kg_m2);
    if (!kg_m2)
        return fw_fail_memory(err);
    for (size_t i = 0; i < grass->count; i++) {
        const struct fw_farm_part *part =
            &field->parts[field->part_count == grass->count ? i : 0];
        kg_m2[i] = part->quality / 1e4 *
                   usable_of(grass, &part->usable, grass->stands_kg_ha[i]);
    }
    const enum fw_status status =
        fw_herbage_again(field->ground, kg_m2, out, err);
    fw_free(kg_m2);
    return status;
}
