/* How far the sheep walk to their water, in words. */
#include "report/report.h"

#include "figures/units.h"
#include "water/water.h"

#include <math.h>

/* False where the climb is not known: without heights. */
static bool climbs(const struct fw_plan_paddock *paddock)
{
    return paddock->walk_known &&
           fw_water_climbs(paddock->walk_max_m, paddock->climb_to_m,
                           paddock->climb_back_m);
}

static double climb_m(const struct fw_plan_paddock *paddock)
{
    return paddock->climb_to_m + paddock->climb_back_m;
}

/* Whole ones: no map of heights tells parts. */
static double whole(double m, enum fw_units units)
{
    return round(units == FW_US ? m / FW_FOOT_M : m);
}

void fw_report_climb(struct fw_text *words, const char *before,
                     const struct fw_plan_paddock *paddock, enum fw_units units)
{
    const char *unit = units == FW_US ? "ft" : "m";
    const double there = whole(paddock->climb_to_m, units);
    const double back = whole(paddock->climb_back_m, units);
    if (!climbs(paddock) || !(there + back > 0))
        return;
    fw_text_addf(words, "%sclimbs", before);
    if (there > 0)
        fw_text_addf(words, " %.0f %s there", there, unit);
    if (back > 0)
        fw_text_addf(words, "%s %.0f %s back", there > 0 ? " and" : "", back,
                     unit);
}

/* Where the way is straight the walk was measured; where it is not, the plan
 * does not guess. */
void fw_report__walk(struct fw_text *words, const struct fw_plan *plan)
{
    double days = 0, sum = 0, longest = 0;
    size_t known = 0;
    const struct fw_plan_paddock *steepest = NULL;
    const size_t count = fw_plan_first_stays(plan);
    for (size_t i = 0; i < count; i++) {
        const struct fw_plan_paddock *paddock =
            &plan->paddocks[plan->time.stays[i].cell];
        if (!paddock->walk_known)
            continue;
        known++;
        days += paddock->stay_days;
        sum += paddock->stay_days * paddock->walk_fed_m;
        longest = fmax(longest, paddock->walk_max_m);
        if (climbs(paddock) &&
            (!steepest || climb_m(paddock) > climb_m(steepest)))
            steepest = paddock;
    }
    if (known) {
        char mean_text[FW_WORDS], longest_text[FW_WORDS];
        fw_text_addf(words, "; sheep walk %s to it, %s at most",
                     fw_report_length(sum / days, plan->units, mean_text),
                     fw_report_length(longest, plan->units, longest_text));
    }
    if (steepest) {
        fw_text_addf(words, "; in %s it ", steepest->id);
        fw_report_climb(words, "", steepest, plan->units);
    }
    if (known < count)
        fw_text_addf(words,
                     "; of %zu of %zu paddocks the way to water is not known",
                     count - known, count);
}
