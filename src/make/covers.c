#include "make/covers.h"

#include "base/fail.h"
#include "choice/job.h"
#include "figures/growth.h"

#include <math.h>

static double area_ha(const struct fw_farm_field *field)
{
    return fw_plan__grazed(field)->ellipsoid_m2 / 1e4;
}

static bool is_walked(const struct fw_farm_field *field)
{
    return field->cover_kg_ha > 0;
}

static double grown_kg_day(const struct fw_farm *farm,
                           const struct fw_farm_field *field)
{
    return field->growth.count
               ? fw_growth_rate_kg_ha(&field->growth, farm->start_day) *
                     area_ha(field)
               : (double)NAN;
}

static enum fw_status add(const struct fw_farm *farm,
                          const struct fw_farm_field *field,
                          struct fw_covers *covers, struct fw_error *err)
{
    struct fw_sward sward = field->sward;
    struct fw_usable usable;
    sward.mass_kg_ha = field->cover_kg_ha;
    const enum fw_status status = fw_forage_measure(
        &sward, fw_forage_common_stay(&farm->stay, farm->start_day), &usable,
        err);
    if (status)
        return fw_fail_where(err, "%s: ", field->shape->name);
    covers->walked++;
    covers->area_ha += area_ha(field);
    covers->usable_kg += usable.usable_kg_ha * area_ha(field);
    covers->grown_kg_day += grown_kg_day(farm, field);
    return FW_OK;
}

static size_t shut_up(const struct fw_farm *farm,
                      const struct fw_covers *covers)
{
    size_t best = FW_NONE;
    for (size_t i = 0; i < farm->field_count; i++) {
        const struct fw_farm_field *field = &farm->fields[i];
        if (is_walked(field) &&
            covers->grown_kg_day - grown_kg_day(farm, field) >=
                covers->demand_kg_day &&
            (best == FW_NONE || area_ha(field) > area_ha(&farm->fields[best])))
            best = i;
    }
    return best;
}

static void judge(const struct fw_farm *farm, struct fw_covers *covers)
{
    if (isnan(covers->grown_kg_day))
        covers->what = FW_COVERS_UNTOLD;
    else if (covers->grown_kg_day < covers->demand_kg_day)
        covers->what = FW_COVERS_SLOW_DOWN;
    else if (covers->grown_kg_day > FW_GROWTH_SPARE * covers->demand_kg_day)
        covers->what = FW_COVERS_SHUT_UP;
    else
        covers->what = FW_COVERS_GO_ON;
    covers->shut =
        covers->what == FW_COVERS_SHUT_UP ? shut_up(farm, covers) : FW_NONE;
}

enum fw_status fw_covers_look(const struct fw_farm *farm, struct fw_covers *out,
                              struct fw_error *err)
{
    struct fw_covers covers = {0};
    struct fw_flock_sums flock;
    enum fw_status status = FW_OK;
    size_t walked = 0;
    *out = covers;
    for (size_t i = 0; i < farm->field_count; i++)
        walked += is_walked(&farm->fields[i]);
    if (walked == 0)
        return FW_OK;
    if (farm->class_count == 0 || farm->start_day == FW_NO_DAY)
        return fw_fail(err, FW_EINPUT,
                       "covers are told: expected the flock and the day of the "
                       "walk (start) too, to say how many days are ahead");
    status = fw_flock_sum(farm->classes, farm->class_count, &flock, err);
    for (size_t i = 0; !status && i < farm->field_count; i++)
        if (is_walked(&farm->fields[i]))
            status = add(farm, &farm->fields[i], &covers, err);
    if (status)
        return status;
    covers.demand_kg_day = flock.demand_kg_day;
    covers.days = covers.usable_kg / flock.demand_kg_day;
    judge(farm, &covers);
    *out = covers;
    return FW_OK;
}
