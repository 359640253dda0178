/* What bringing the water of a day takes, as the plan's farm tells it. */
#include "figures/water.h"
#include "haul/haul.h"

#include <math.h>
#include <string.h>

/* The mean over the days on which water is hauled: a trip's minutes go by the
 * road straight, so that all of them together come out right. 0: some field's
 * is not known. */
static double mean_road_m(const struct fw_plan *plan)
{
    double sum_m = 0, days = 0;
    for (size_t s = 0; s < plan->time.stay_count; s++) {
        const struct fw_plan_paddock *paddock =
            &plan->paddocks[plan->time.stays[s].cell];
        const struct fw_nights nights = fw_time_nights(&plan->time, s);
        if (paddock->water == FW_NONE ||
            strcmp(plan->waters[paddock->water].kind_of, "trough") != 0)
            continue;
        if (!(plan->fields[paddock->field].road_m > 0))
            return 0;
        sum_m +=
            plan->fields[paddock->field].road_m * (nights.to - nights.from);
        days += nights.to - nights.from;
    }
    return days > 0 ? sum_m / days : 0;
}

struct fw_haul fw_plan__haul(const struct fw_plan *plan)
{
    const struct fw_farm_hauling *told = &plan->hauling;
    return (struct fw_haul){
        .tank_l = plan->tank_l,
        .payload_kg = fmax(0, told->payload_kg - told->tank_kg),
        .trough_l = told->trough_l,
        .road_m = told->road_m > 0 ? told->road_m : mean_road_m(plan),
        .drive_m_min =
            told->drive_m_min > 0 ? told->drive_m_min : FW_HAUL_DRIVE_M_MIN,
        .fill_l_min =
            told->fill_l_min > 0 ? told->fill_l_min : FW_HAUL_FILL_L_MIN,
        .handle_min = FW_HAUL_HANDLE_MIN,
    };
}

static bool is_hauled(const struct fw_plan *plan)
{
    for (size_t i = 0; i < plan->water_count; i++)
        if (strcmp(plan->waters[i].kind_of, "trough") == 0)
            return true;
    return false;
}

enum fw_status fw_plan__trips(struct fw_plan *plan, struct fw_error *err)
{
    struct fw_plan_totals *totals = &plan->totals;
    const struct fw_haul haul = fw_plan__haul(plan);
    struct fw_haul_sums expected = {0}, hot = {0};
    totals->haul_trips = totals->haul_trips_hot = -1;
    if (!(plan->tank_l > 0))
        return FW_OK;
    const double days = is_hauled(plan) ? 1 : 0;
    enum fw_status status =
        fw_water_haul(&haul, totals->litres_day, days, &expected, err);
    if (!status)
        status = fw_water_haul(&haul, totals->hot_l_day, days, &hot, err);
    if (status)
        return status;
    totals->haul_trips = expected.trips;
    totals->haul_trips_hot = hot.trips;
    return FW_OK;
}
