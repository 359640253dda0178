/* The energizer as a voltage behind a resistance. Real ones are capacitors
 * behind a transformer: what this gives is the height of the pulse. */
#include "base/fail.h"
#include <foldwright/power.h>

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

struct guess {
    double joules, open_v, internal_ohm;
};

static const struct guess guesses[] = {
    {0.25, 8500, 917}, {0.5, 9000, 684}, {1, 9000, 500},
    {2, 9500, 364},    {3, 9500, 292},   {5, 9800, 221},
};
static const size_t guess_count = sizeof guesses / sizeof guesses[0];

enum fw_status fw_power_source_guess(double joules, struct fw_power_source *out,
                                     struct fw_error *err)
{
    const struct guess *last = &guesses[guess_count - 1];
    if (!(joules >= guesses[0].joules && joules <= last->joules))
        return fw_fail(err, FW_EINPUT,
                       "volts of an energizer of %g J cannot be guessed; "
                       "expected %g to %g J, or give the volts without a load "
                       "and at 500 ohm from its data sheet",
                       joules, guesses[0].joules, last->joules);
    const struct guess *low = guesses;
    while (low + 1 < last && joules >= low[1].joules)
        low++;
    const double share =
        log(joules / low->joules) / log(low[1].joules / low->joules);
    *out = (struct fw_power_source){
        .open_v = low->open_v + share * (low[1].open_v - low->open_v),
        .internal_ohm = low->internal_ohm +
                        share * (low[1].internal_ohm - low->internal_ohm),
        .source = "the joules alone: an order of magnitude, from memory",
        .mark = FW_MARK_MEMORY,
    };
    return FW_OK;
}
