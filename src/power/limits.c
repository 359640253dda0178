/* The limits of IEC 60335-2-76 as quoted in print: its own text was not at
 * hand. */
#include <foldwright/power.h>

#include <math.h>

static const double longest_s = 10e-3, delayed_j = 15;

static const char table_1[] =
    "table 1 from BS EN 60335-2-76, professional-electrician.com, Electric "
    "Fence Controllers: What are the requirements?";
static const char energy_source[] =
    "EN 60335-2-76 as quoted in a maker's handbook, 2015";

double fw_power_most_current_a(double duration_s)
{
    const double short_s = 0.1e-3, short_a = 15.7;
    if (!(duration_s >= 0))
        return 0;
    if (duration_s <= short_s)
        return short_a;
    /* duration_ms = 41.885e3 * current_ma ^ -1.34 */
    const double current_ma = pow(41.885e3 / (duration_s * 1e3), 1 / 1.34);
    return fmin(short_a, current_ma / 1e3);
}

/* Ranges are tested so that NaN breaks its limit. */
enum fw_pulse_limit fw_power_limit_broken(const struct fw_pulse *pulse)
{
    const double most_j =
        pulse->time_delay ? delayed_j : FW_MOST_JOULES_AT_500_OHM;
    const bool by_current = pulse->current_a != 0;
    if (!(pulse->interval_s >= 1))
        return FW_LIMIT_INTERVAL;
    if (!(pulse->duration_s >= 0 && pulse->duration_s <= longest_s))
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
        [FW_LIMIT_NONE] = table_1,
        [FW_LIMIT_INTERVAL] = table_1,
        [FW_LIMIT_DURATION] = table_1,
        [FW_LIMIT_ENERGY] = energy_source,
        [FW_LIMIT_CURRENT] = "IEC 60335-2-76 22.108, from memory",
    };
    return (unsigned)limit < FW_LIMIT_COUNT ? sources[limit] : NULL;
}
