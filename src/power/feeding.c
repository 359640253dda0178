/* What feeds the energizer: battery, sun, mains. */
#include "base/fail.h"
#include "figures/mark.h"
#include "figures/power.h"
#include "power/power.h"

#include <math.h>

static const double rounding = FW_TOLERANCE(1e-9);

enum fw_status fw_power_draw_w(double joules, double interval_s, double *out,
                               struct fw_error *err)
{
    const double most_j = FW_BOUND(100), slowest_s = FW_BOUND(10);
    if (!(joules > 0 && joules <= most_j))
        return fw_fail(err, FW_EINPUT,
                       "energizer is %g J; expected over 0 to %.0f J", joules,
                       most_j);
    if (!(interval_s >= 1 && interval_s <= slowest_s))
        return fw_fail(err, FW_EINPUT,
                       "pulses are %g s apart; expected 1 to %.0f s",
                       interval_s, slowest_s);
    *out = joules / (FW_FEED_EFFICIENCY * interval_s);
    return FW_OK;
}

static enum fw_status check_draw(double draw_a, struct fw_error *err)
{
    const double most_a = FW_BOUND(100);
    if (draw_a > 0 && draw_a <= most_a)
        return FW_OK;
    return fw_fail(err, FW_EINPUT,
                   "energizer takes %g A; expected over 0 to %.0f A", draw_a,
                   most_a);
}

enum fw_status fw_power_battery_ah(double draw_a, double days, double *out,
                                   struct fw_error *err)
{
    const double longest_days = FW_BOUND(366), most_ah = FW_BOUND(10000);
    const enum fw_status status = check_draw(draw_a, err);
    if (status)
        return status;
    if (!(days > 0 && days <= longest_days))
        return fw_fail(err, FW_EINPUT,
                       "%g days between charges; expected over 0 to %.0f", days,
                       longest_days);
    const double ah =
        FW_BATTERY_STEP_AH * ceil(draw_a * 24 * days / FW_BATTERY_SHARE /
                                  FW_BATTERY_STEP_AH * (1 - rounding));
    if (ah > most_ah)
        return fw_fail(err, FW_EINPUT,
                       "%g A for %g days ask for %.0f Ah; expected up to %.0f: "
                       "charge more often, or feed it from sun or mains",
                       draw_a, days, ah, most_ah);
    *out = ah;
    return FW_OK;
}

static enum fw_status check_solar(double battery_v, double sun_h, double margin,
                                  struct fw_error *err)
{
    const double most_v = FW_BOUND(48), most_margin = FW_BOUND(10);
    if (!(battery_v > 0 && battery_v <= most_v))
        return fw_fail(err, FW_EINPUT,
                       "battery is %g V; expected over 0 to %.0f V", battery_v,
                       most_v);
    if (!(sun_h > 0 && sun_h <= FW_BOUND(24)))
        return fw_fail(err, FW_EINPUT,
                       "%g hours of sun a day; expected over 0 to 24", sun_h);
    if (!(margin >= 1 && margin <= most_margin))
        return fw_fail(err, FW_EINPUT,
                       "panel margin is %g; expected 1 to %.0f, 1.2 for 20 %% "
                       "more panel",
                       margin, most_margin);
    return FW_OK;
}

static double next_panel_w(double panel_w)
{
    for (size_t i = 0; i < sizeof FW_PANEL_SIZES_W / sizeof *FW_PANEL_SIZES_W;
         i++)
        if (panel_w <= FW_PANEL_SIZES_W[i] * (1 + rounding))
            return FW_PANEL_SIZES_W[i];
    return 0;
}

enum fw_status fw_power_solar(double draw_a, double battery_v, double sun_h,
                              double margin, struct fw_solar *out,
                              struct fw_error *err)
{
    enum fw_status status = check_draw(draw_a, err);
    if (!status)
        status = check_solar(battery_v, sun_h, margin, err);
    if (status)
        return status;
    struct fw_solar solar = {
        .wh_day = draw_a * battery_v * 24,
        .ah_day = draw_a * 24,
        .charge_a = draw_a * 24 / sun_h,
    };
    solar.panel_w = solar.charge_a * battery_v * margin;
    solar.buy_w = next_panel_w(solar.panel_w);
    if (!(solar.buy_w > 0))
        return fw_fail(err, FW_EINPUT,
                       "%g A at %g V and %g hours of sun ask for a panel of "
                       "%.0f W, more than a common one; slow the pulses, or "
                       "feed it from the mains",
                       draw_a, battery_v, sun_h, solar.panel_w);
    *out = solar;
    return FW_OK;
}

enum fw_status fw_power_mains(double watts, double price_kwh, double *kwh_month,
                              double *cost_month, struct fw_error *err)
{
    const double most_w = FW_BOUND(1000);
    if (!(watts > 0 && watts <= most_w))
        return fw_fail(err, FW_EINPUT,
                       "energizer takes %g W; expected over 0 to %.0f W", watts,
                       most_w);
    if (!(price_kwh >= 0 && isfinite(price_kwh)))
        return fw_fail(err, FW_EINPUT,
                       "a kilowatt hour costs %g; expected 0 or more",
                       price_kwh);
    *kwh_month = watts * 24 * FW_MONTH_DAYS / 1000;
    *cost_month = *kwh_month * price_kwh;
    return FW_OK;
}
