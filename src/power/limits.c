/* The limits of IEC 60335-2-76 as quoted in print: its own text was not at
 * hand. */
#include "power/power.h"

#include "figures/power.h"

#include <math.h>

double fw_power_most_current_a(double duration_s)
{
    if (!(duration_s >= 0))
        return 0;
    if (duration_s <= FW_PULSE_SHORT_S)
        return FW_PULSE_SHORT_A;
    /* duration_ms = 41.885e3 * current_ma ^ -1.34 */
    const double current_ma =
        pow(FW_PULSE_CURVE_MS / (duration_s * 1000), 1 / FW_PULSE_CURVE_POWER);
    return fmin(FW_PULSE_SHORT_A, current_ma / 1000);
}

/* Ranges are tested so that NaN breaks its limit. */
enum fw_pulse_limit fw_power_limit_broken(const struct fw_pulse *pulse)
{
    const double most_j =
        pulse->time_delay ? FW_PULSE_DELAYED_J : FW_PULSE_MOST_J;
    const bool by_current = pulse->current_a != 0;
    if (!(pulse->interval_s >= FW_PULSE_APART_S))
        return FW_LIMIT_INTERVAL;
    if (!(pulse->duration_s >= 0 && pulse->duration_s <= FW_PULSE_MOST_S))
        return FW_LIMIT_DURATION;
    if (!by_current && !(pulse->joules >= 0 && pulse->joules <= most_j))
        return FW_LIMIT_ENERGY;
    if (by_current &&
        !(pulse->current_a > 0 &&
          pulse->current_a <= fw_power_most_current_a(pulse->duration_s)))
        return FW_LIMIT_CURRENT;
    return FW_LIMIT_NONE;
}

const char *fw_power_limit_text(enum fw_pulse_limit limit)
{
    static const char *const texts[FW_LIMIT_COUNT] = {
        [FW_LIMIT_NONE] = "within the limits",
        [FW_LIMIT_INTERVAL] = "pulses come less than 1 s apart",
        [FW_LIMIT_DURATION] = "a pulse lasts longer than 10 ms",
        [FW_LIMIT_ENERGY] = "a pulse has over 5 J, or 15 J after a delay",
        [FW_LIMIT_CURRENT] = "a pulse has more current than its length allows",
    };
    return (unsigned)limit < FW_LIMIT_COUNT ? texts[limit] : NULL;
}

const char *fw_power_limit_source(enum fw_pulse_limit limit)
{
    static const char *const sources[FW_LIMIT_COUNT] = {
        [FW_LIMIT_NONE] = FW_PULSE_MOST_S_SOURCE,
        [FW_LIMIT_INTERVAL] = FW_PULSE_MOST_S_SOURCE,
        [FW_LIMIT_DURATION] = FW_PULSE_MOST_S_SOURCE,
        [FW_LIMIT_ENERGY] = FW_PULSE_MOST_J_SOURCE,
        [FW_LIMIT_CURRENT] = FW_PULSE_CURVE_MS_SOURCE,
    };
    return (unsigned)limit < FW_LIMIT_COUNT ? sources[limit] : NULL;
}
