/* What growth makes of a field's plan, and for how long a plan that knows of
 * none will do. */
#include "base/fail.h"
#include "figures/growth.h"
#include "figures/mark.h"
#include "make/parts.h"

#include <math.h>
#include <string.h>

static double still_days(const struct fw_plan *plan,
                         const struct fw_plan_field *field)
{
    double sum_kg = 0;
    for (size_t i = 0; i < field->paddock_count; i++)
        sum_kg += plan->paddocks[field->first_paddock + i].today_kg;
    return sum_kg / plan->flock.demand_kg_day;
}

/* The days after which that growth has put the usable feed further off than a
 * plan need be. */
static int good_days(const struct fw_plan_job *job, size_t index)
{
    const struct fw_usable *usable = &job->usable[index];
    const struct fw_growth ordinary = {
        .rates = {{.kg_ha_day = FW_GROWTH_ORDINARY_KG_HA}},
        .count = 1,
        .steady = true,
        .ceiling_kg_ha = fmax(FW_GROWTH_CEILING_KG_HA, usable->mass_kg_ha),
    };
    double stands_kg_ha = usable->mass_kg_ha;
    for (int day = 0; day < FW_BOUND(366); day++) {
        if (fw_forage_usable_of_kg_ha(usable, stands_kg_ha) >
            (1 + FW_GROWTH_OFF_SHARE) * usable->usable_kg_ha)
            return day;
        fw_growth_pass(&ordinary, day, &stands_kg_ha, 1);
    }
    return 0;
}

void fw_plan__grown(struct fw_plan_job *job, size_t index)
{
    const struct fw_farm_field *from = &job->farm->fields[index];
    struct fw_plan_field *field = &job->plan->fields[index];
    memcpy(field->growth_told, from->growth_text, sizeof field->growth_told);
    memcpy(field->winter_place, from->loss.place, sizeof field->winter_place);
    field->growth_kg_ha = (double)NAN;
    field->winter_loss_share = from->growth.winter_loss;
    field->winter_least_share = from->loss.least;
    field->winter_most_share = from->loss.most;
    if (from->growth.count > 0)
        field->growth_kg_ha =
            fw_growth_rate_kg_ha(&from->growth, job->plan->start_day);
    if (field->paddock_count == 0)
        return;
    if (!fw_plan__grass_changes(job, index) &&
        job->farm->season == FW_SEASON_GROWTH)
        field->good_days = good_days(job, index);
    field->still_days = still_days(job->plan, field);
}

/* How much of it they take depends on how long they stay. */
enum fw_status fw_plan__measure_grass(struct fw_plan_job *job, size_t field,
                                      struct fw_error *err)
{
    const struct fw_farm *farm = job->farm;
    const int stay = job->every_days[field]
                         ? job->every_days[field]
                         : fw_forage_common_stay(&farm->stay, farm->start_day);
    const struct fw_farm_field *from = &farm->fields[field];
    struct fw_usable *usable = &job->usable[field];
    enum fw_status status =
        fw_plan__grass_changes(job, field)
            ? fw_forage_measure(&from->sward, stay, usable, err)
            : fw_forage_usable(&from->sward, stay, usable, err);
    if (!status)
        status = fw_growth_starts(&from->growth, usable->mass_kg_ha, err);
    return status ? fw_fail_where(err, "%s: ", from->shape->name) : FW_OK;
}
