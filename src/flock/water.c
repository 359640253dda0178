/* What the flock drinks: planning figures, the upper end of what is printed,
 * since a trough that runs dry costs more than one that does not. */
#include "flock/flock.h"

#include "base/fail.h"
#include "figures/flock.h"
#include "figures/mark.h"
#include "flock/table.h"

/* Of all classes together; the sum stays far from what an int holds. */
static const int most_head = FW_BOUND(1000000);

double fw_flock__ewe_l(const double litres[3], double weight_kg)
{
    const double *at = FW_WATER_MAINTENANCE_AT;
    if (weight_kg <= at[0])
        return litres[0] * weight_kg / at[0];
    if (weight_kg >= at[2])
        return litres[2] * weight_kg / at[2];
    const int i = weight_kg > at[1];
    const double t = (weight_kg - at[i]) / (at[i + 1] - at[i]);
    return litres[i] + t * (litres[i + 1] - litres[i]);
}

double fw_flock_water_l_day(const struct fw_flock_class *sheep,
                            const char **source)
{
    const char *from = FW_WATER_MAINTENANCE_SOURCE;
    double litres = 0;
    switch (sheep->state) {
    case FW_FLUSHING: /* they eat more than dry ewes: common practice */
    case FW_EARLY_GESTATION:
    case FW_LATE_GESTATION:
        litres = fw_flock__ewe_l(FW_WATER_PREGNANT, sheep->weight_kg);
        break;
    case FW_LACTATION_SINGLE:
    case FW_LATE_LACTATION_SINGLE:
        litres = fw_flock__ewe_l(FW_WATER_LACTATING, sheep->weight_kg);
        break;
    case FW_LACTATION_TWINS:
    case FW_LATE_LACTATION_TWINS:
        litres = FW_WATER_TWINS *
                 fw_flock__ewe_l(FW_WATER_LACTATING, sheep->weight_kg);
        break;
    case FW_LAMB_AT_FOOT:
    case FW_WEANED_LAMB:
    case FW_EWE_LAMB:
    case FW_RAM_LAMB:
    case FW_HOGGET:
        litres = FW_WATER_LAMB_SHARE * sheep->weight_kg;
        from = FW_WATER_LAMB_SHARE_SOURCE;
        break;
    default:
        litres = fw_flock__ewe_l(FW_WATER_MAINTENANCE, sheep->weight_kg);
    }
    if (source)
        *source = from;
    return litres;
}

enum fw_status fw_flock_sum(const struct fw_flock_class *classes, size_t count,
                            struct fw_flock_sums *out, struct fw_error *err)
{
    struct fw_flock_sums sums = {.water_source = FW_WATER_MAINTENANCE_SOURCE};
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
