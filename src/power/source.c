/* The energizer as a voltage behind a resistance. Real ones are capacitors
 * behind a transformer: what this gives is the height of the pulse. */
#include "base/fail.h"
#include "figures/power.h"
#include "power/power.h"

#include <math.h>

static enum fw_status check_over_zero(const char *what, double value,
                                      const char *unit, struct fw_error *err)
{
    if (value > 0 && isfinite(value))
        return FW_OK;
    return fw_fail(err, FW_EINPUT, "%s is %g %s; expected over 0", what, value,
                   unit);
}

enum fw_status fw_power_source_volts(double open_v, double load_v,
                                     double load_ohm,
                                     struct fw_power_source *out,
                                     struct fw_error *err)
{
    enum fw_status status = check_over_zero("open voltage", open_v, "V", err);
    if (!status)
        status = check_over_zero("voltage under load", load_v, "V", err);
    if (!status)
        status = check_over_zero("load", load_ohm, "ohm", err);
    if (status)
        return status;
    if (!(load_v < open_v))
        return fw_fail(err, FW_EINPUT,
                       "%g V at %g ohm are not less than the %g V without a "
                       "load; see which is which on the data sheet",
                       load_v, load_ohm, open_v);
    *out = (struct fw_power_source){
        .open_v = open_v,
        .internal_ohm = load_ohm * (open_v / load_v - 1),
        .source = "the data sheet's volts without and with a load",
        .mark = FW_MARK_COMPUTED,
    };
    return FW_OK;
}

enum fw_status fw_power_source_joules(double open_v, double joules,
                                      double load_ohm,
                                      struct fw_power_source *out,
                                      struct fw_error *err)
{
    enum fw_status status = check_over_zero("open voltage", open_v, "V", err);
    if (!status)
        status = check_over_zero("energizer", joules, "J", err);
    if (!status)
        status = check_over_zero("load", load_ohm, "ohm", err);
    if (status)
        return status;
    const double load_v = sqrt(joules * load_ohm / FW_PULSE_S);
    if (!(load_v < open_v))
        return fw_fail(err, FW_EINPUT,
                       "%g J at %g ohm are about %.0f V, not less than the "
                       "%g V without a load; give the volts at that load",
                       joules, load_ohm, load_v, open_v);
    status = fw_power_source_volts(open_v, load_v, load_ohm, out, err);
    if (!status)
        out->source = "the data sheet's joules, as a pulse of 100 us";
    return status;
}

enum { guess_count = sizeof FW_GUESS_OPEN_V / sizeof *FW_GUESS_OPEN_V };
_Static_assert(sizeof FW_GUESS_OHM == sizeof FW_GUESS_OPEN_V,
               "volts and ohms by the same joules");

static double between(const double *values, size_t low, double share)
{
    return values[low] + share * (values[low + 1] - values[low]);
}

enum fw_status fw_power_source_guess(double joules, struct fw_power_source *out,
                                     struct fw_error *err)
{
    const double *at = FW_GUESS_OPEN_V_AT;
    const size_t last = guess_count - 1;
    if (!(joules >= at[0] && joules <= at[last]))
        return fw_fail(err, FW_EINPUT,
                       "volts of an energizer of %g J cannot be guessed; "
                       "expected %g to %g J, or give the volts without a load "
                       "and at 500 ohm from its data sheet",
                       joules, at[0], at[last]);
    size_t low = 0;
    while (low + 1 < last && joules >= at[low + 1])
        low++;
    const double share = log(joules / at[low]) / log(at[low + 1] / at[low]);
    *out = (struct fw_power_source){
        .open_v = between(FW_GUESS_OPEN_V, low, share),
        .internal_ohm = between(FW_GUESS_OHM, low, share),
        .source = FW_GUESS_OPEN_V_SOURCE,
        .mark = FW_GUESS_OPEN_V_MARK,
    };
    return FW_OK;
}
