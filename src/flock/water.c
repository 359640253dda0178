/* What the flock drinks: planning figures, the upper end of what is printed,
 * since a trough that runs dry costs more than one that does not. */
#include <foldwright/flock.h>

#include "base/fail.h"

static const double gallon_l = 3.785411784; /* US */
static const double pound_kg = 0.45359237;

static const char *const ewe_source =
    "South Dakota State University 2022, from NRC 2007: upper of its range";
static const char *const lamb_source =
    "10 % of live weight a day: Meat & Livestock Australia, DPIRD";

/* Of all classes together; the sum stays far from what an int holds. */
static const int most_head = 1000000;

/* Ewes of 130, 160 and 200 lb, gallons a day. Twins drink about double. */
static const double ewe_lb[3] = {130, 160, 200};
static const double maintenance_gal[3] = {0.82, 0.96, 1.13};
static const double pregnant_gal[3] = {1.63, 1.90, 2.25};
static const double lactating_gal[3] = {2.02, 2.36, 2.79};

static double ewe_l(const double gal[3], double weight_kg)
{
    const double lb = weight_kg / pound_kg;
    if (lb <= ewe_lb[0])
        return gallon_l * gal[0] * lb / ewe_lb[0];
    if (lb >= ewe_lb[2])
        return gallon_l * gal[2] * lb / ewe_lb[2];
    const int i = lb > ewe_lb[1];
    const double t = (lb - ewe_lb[i]) / (ewe_lb[i + 1] - ewe_lb[i]);
    return gallon_l * (gal[i] + t * (gal[i + 1] - gal[i]));
}

double fw_flock_water_l_day(const struct fw_flock_class *sheep,
                            const char **source)
{
    const char *from = ewe_source;
    double litres = 0;
    switch (sheep->state) {
    case FW_FLUSHING: /* they eat more than dry ewes: common practice */
    case FW_EARLY_GESTATION:
    case FW_LATE_GESTATION:
        litres = ewe_l(pregnant_gal, sheep->weight_kg);
        break;
    case FW_LACTATION_SINGLE:
    case FW_LATE_LACTATION_SINGLE:
        litres = ewe_l(lactating_gal, sheep->weight_kg);
        break;
    case FW_LACTATION_TWINS:
    case FW_LATE_LACTATION_TWINS:
        litres = 2 * ewe_l(lactating_gal, sheep->weight_kg);
        break;
    case FW_LAMB_AT_FOOT:
    case FW_WEANED_LAMB:
    case FW_EWE_LAMB:
    case FW_RAM_LAMB:
    case FW_HOGGET:
        litres = 0.1 * sheep->weight_kg;
        from = lamb_source;
        break;
    default:
        litres = ewe_l(maintenance_gal, sheep->weight_kg);
    }
    if (source)
        *source = from;
    return litres;
}

enum fw_status fw_flock_sum(const struct fw_flock_class *classes, size_t count,
                            struct fw_flock_sums *out, struct fw_error *err)
{
    struct fw_flock_sums sums = {.water_source = ewe_source};
    double most_l = -1;
    for (size_t i = 0; i < count; i++) {
        struct fw_intake intake;
        const enum fw_status status =
            fw_flock_intake(&classes[i], &intake, err);
        if (status)
            return status;
        const int head = classes[i].head;
        if (head > most_head - sums.head)
            return fw_fail(err, FW_EINPUT,
                           "the flock has over 1,000,000 head; expected fewer");
        const char *source;
        const double litres = head * fw_flock_water_l_day(&classes[i], &source);
        sums.head += head;
        sums.liveweight_kg += head * classes[i].weight_kg;
        sums.demand_kg_day += head * intake.kg_day;
        sums.water_l_day += litres;
        if (litres > most_l) {
            most_l = litres;
            sums.water_source = source;
        }
    }
    if (count == 0)
        return fw_fail(err, FW_EINPUT, "the flock has no class of sheep");
    *out = sums;
    return FW_OK;
}
