#include "water/haul.h"

#include "base/fail.h"
#include "figures/mark.h"
#include "figures/water.h"
#include "water/water.h"

#include <math.h>

static enum fw_status check(const struct fw_haul *haul, struct fw_error *err)
{
    if (!(haul->tank_l >= 1 && haul->tank_l <= FW_BOUND(50000)))
        return fw_fail(err, FW_EINPUT,
                       "the tank holds %g L; expected 1 L to 50,000 L, such as "
                       "600 L",
                       haul->tank_l);
    if (!(haul->payload_kg >= 0 && haul->payload_kg <= FW_BOUND(50000)))
        return fw_fail(err, FW_EINPUT,
                       "the payload is %g kg; expected 0 kg to 50,000 kg, such "
                       "as 750 kg",
                       haul->payload_kg);
    if (!(haul->trough_l >= 0 && haul->trough_l <= FW_BOUND(50000)))
        return fw_fail(err, FW_EINPUT,
                       "the trough holds %g L; expected 0 L to 50,000 L, such "
                       "as 400 L",
                       haul->trough_l);
    if (!(haul->road_m >= 0 && haul->road_m <= FW_BOUND(200000)))
        return fw_fail(err, FW_EINPUT,
                       "the road to the source is %g m; expected 0 m to 200 km",
                       haul->road_m);
    if (!(haul->drive_m_min >= 1 && haul->drive_m_min <= FW_BOUND(2000)))
        return fw_fail(err, FW_EINPUT,
                       "the speed is %g m a minute; expected 1 m to 2 km, such "
                       "as 250 m",
                       haul->drive_m_min);
    if (!(haul->fill_l_min > 0 && haul->fill_l_min <= FW_BOUND(10000)))
        return fw_fail(err, FW_EINPUT,
                       "filling goes at %g L/min; expected over 0 to 10,000 "
                       "L/min, such as 40 L/min",
                       haul->fill_l_min);
    if (!(haul->handle_min >= 0 && haul->handle_min <= FW_BOUND(600)))
        return fw_fail(err, FW_EINPUT,
                       "handling takes %g min a trip; expected 0 min to 600 "
                       "min",
                       haul->handle_min);
    return FW_OK;
}

static enum fw_status check_days(double litres_day, double days,
                                 struct fw_error *err)
{
    if (!(litres_day >= 0) || !isfinite(litres_day) || !(days >= 0) ||
        !isfinite(days))
        return fw_fail(err, FW_EINPUT,
                       "%g L a day for %g days; expected 0 or more of both",
                       litres_day, days);
    return FW_OK;
}

enum fw_status fw_water_haul(const struct fw_haul *haul, double litres_day,
                             double days, struct fw_haul_sums *out,
                             struct fw_error *err)
{
    enum fw_status status = check(haul, err);
    if (!status)
        status = check_days(litres_day, days, err);
    if (status)
        return status;
    struct fw_haul_sums sums = {.carry_l = haul->tank_l};
    if (haul->payload_kg > 0) /* a litre is a kilogram */
        sums.carry_l = fmin(sums.carry_l, haul->payload_kg);
    if (haul->trough_l > 0)
        sums.carry_l = fmin(sums.carry_l, haul->trough_l);
    status = fw_water_trips(litres_day * days, sums.carry_l, &sums.trips, err);
    if (status)
        return status;
    sums.trips_day = litres_day / sums.carry_l;
    sums.trip_min = 2 * haul->road_m / haul->drive_m_min +
                    2 * sums.carry_l / haul->fill_l_min + haul->handle_min;
    sums.minutes_day = sums.trips_day * sums.trip_min;
    sums.minutes = sums.trips * sums.trip_min;
    *out = sums;
    return FW_OK;
}

enum fw_status fw_water_frost(const struct fw_haul *haul, double litres_day,
                              struct fw_frost *out, struct fw_error *err)
{
    struct fw_haul_sums sums = {0};
    enum fw_status status = check_days(litres_day, 1, err);
    if (!status && haul->tank_l > 0)
        status = fw_water_haul(haul, litres_day, 1, &sums, err);
    if (status)
        return status;
    const int hauls = sums.trips > FW_FROST_HAULS ? sums.trips : FW_FROST_HAULS;
    *out = (struct fw_frost){
        .hauls = hauls,
        .each_l = litres_day / hauls,
        .minutes = haul->tank_l > 0
                       ? hauls * (2 * haul->road_m / haul->drive_m_min +
                                  haul->handle_min) +
                             2 * litres_day / haul->fill_l_min
                       : (double)NAN,
    };
    return FW_OK;
}

void fw_water_trough(enum fw_trough_rule rule, double litres_day, int head,
                     double trough_l, struct fw_trough *out)
{
    out->refill_l_min = rule == FW_TROUGH_AT_ONCE
                            ? FW_TROUGH_FLOW_L_MIN * head
                            : litres_day / (60 * FW_TROUGH_PEAK_H);
    /* They do not drink more than the day's. */
    out->peak_l_h = fmin(60 * out->refill_l_min, litres_day);
    out->empty_h = (double)NAN;
    if (!(trough_l > 0) || !(litres_day > 0))
        return;
    if (trough_l <= out->peak_l_h)
        out->empty_h = trough_l / (60 * out->refill_l_min);
    else if (rule == FW_TROUGH_FOUR_HOURS && trough_l < litres_day)
        out->empty_h = trough_l / out->peak_l_h;
    else
        out->empty_h = 24 * trough_l / litres_day;
}

const char *fw_water_trough_rule(enum fw_trough_rule rule)
{
    static const char *const words[FW_TROUGH_RULES] = {
        [FW_TROUGH_FOUR_HOURS] =
            "the day's water in 4 hours (Agriculture Victoria 2024)",
        [FW_TROUGH_AT_ONCE] =
            "60 L a minute for 300 sheep (SheepConnect South Australia)",
    };
    return (unsigned)rule < FW_TROUGH_RULES ? words[rule] : NULL;
}

double fw_water_stored_l(double litres_day, double peak_l_min)
{
    return fmax(FW_STORED_DAYS * litres_day,
                60 * FW_STORED_PEAK_H * peak_l_min);
}
