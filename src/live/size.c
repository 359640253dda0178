/* An energizer with its earth, from its joules or its data sheet. */
#include "live/live.h"

#include "figures/power.h"

#include <math.h>

_Static_assert(sizeof FW_GUESS_OPEN_V_AT ==
                   FW_PLAN__SIZES * sizeof *FW_GUESS_OPEN_V_AT,
               "the common sizes whose volts are known");

/* Below the table the pulse of 100 us stands in, behind the volts of the
 * table's end. Over it an energizer is taken for one of 5 J: at 500 ohm IEC
 * 60335-2-76, as quoted in print, allows no more, whatever it stores. */
static enum fw_status guess(double joules, struct fw_power_source *out,
                            struct fw_error *err)
{
    if (joules < FW_GUESS_OPEN_V_AT[0])
        return fw_power_source_joules(FW_GUESS_OPEN_V[0], joules,
                                      FW_CIRCUIT_BODY_OHM, out, err);
    return fw_power_source_guess(fmin(joules, FW_PULSE_MOST_J), out, err);
}

static enum fw_status take_source(const struct fw_farm_wiring *wiring,
                                  struct fw_plan__size *size,
                                  struct fw_error *err)
{
    const double pulse_s = FW_PULSE_S, body_ohm = FW_CIRCUIT_BODY_OHM;
    struct fw_power_source source = {.open_v = wiring->open_v,
                                     .internal_ohm = wiring->internal_ohm};
    if (!(source.open_v > 0 && source.internal_ohm > 0)) {
        const double joules = size->joules > 0 ? size->joules : 1;
        const enum fw_status status = guess(joules, &source, err);
        if (status)
            return status;
        if (wiring->open_v > 0)
            source.open_v = wiring->open_v;
    }
    size->power.open_v = source.open_v;
    size->power.internal_ohm = source.internal_ohm;
    if (!(size->joules > 0)) {
        const double loaded_v =
            source.open_v * body_ohm / (body_ohm + source.internal_ohm);
        size->joules = loaded_v * loaded_v / body_ohm * pulse_s;
    }
    return FW_OK;
}

/* One that goes with the flock has one short rod; it is moved with it. */
static double moved_rod_m(const struct fw_plan *plan)
{
    return fmin(plan->energizer.rod_m, 1);
}

static enum fw_status take_earth(const struct fw_plan *plan,
                                 const struct fw_farm_wiring *wiring,
                                 struct fw_plan__size *size,
                                 struct fw_error *err)
{
    struct fw_earth_ask ask = {
        .joules = size->joules,
        .open_v = size->power.open_v,
        .internal_ohm = size->power.internal_ohm,
        .soil_ohm_m = wiring->soil_ohm_m,
        .rod = fw_power_rod(),
        .most_rod_v = wiring->rod_v,
        .portable = wiring->moves,
        .dry_soil = plan->dry_soil,
    };
    struct fw_earth earth;
    if (wiring->moves)
        ask.rod.length_m = moved_rod_m(plan);
    enum fw_status status = fw_power_earth(&ask, &earth, err);
    if (status)
        return status;
    /* A strand carries the current back, whatever the rods. */
    size->power.earth_return = wiring->earth_return == FW_YES;
    if (size->power.earth_return) {
        earth.rods = earth.by_joules;
        earth.decided = FW_EARTH_JOULES;
    }
    size->rods = wiring->moves ? 1 : earth.rods;
    const int driven = wiring->rods > 0 ? wiring->rods : size->rods;
    size->power.rods_by_joules = earth.by_joules;
    size->power.rods_by_test = earth.by_test;
    size->power.decided = earth.decided;
    status = fw_power_earth_ohm(wiring->soil_ohm_m, &ask.rod, driven,
                                &size->power.earth_ohm, err);
    if (!status && wiring->earth_ohm > 0)
        size->power.earth_ohm = wiring->earth_ohm;
    size->power.rod_test_v = (size->power.open_v - FW_RODS_SHORTED_V) *
                             size->power.earth_ohm /
                             (size->power.internal_ohm + size->power.earth_ohm);
    return status;
}

enum fw_status fw_plan__size(const struct fw_plan *plan,
                             const struct fw_farm_wiring *wiring, double joules,
                             struct fw_plan__size *out, struct fw_error *err)
{
    struct fw_plan__size size = {.joules = joules};
    enum fw_status status = take_source(wiring, &size, err);
    if (!status)
        status = take_earth(plan, wiring, &size, err);
    if (!status)
        *out = size;
    return status;
}
