/* What owning a fence costs a year. */
#include "fence/fence.h"
#include "figures/fence.h"

struct fw_fence_terms fw_fence_terms_default(void)
{
    return (struct fw_fence_terms){.life_years = FW_PERIMETER_LIFE_YEARS,
                                   .interest = FW_PRICES_INTEREST,
                                   .upkeep = FW_PERIMETER_UPKEEP};
}

struct fw_fence_yearly fw_fence_yearly(double first_cost,
                                       const struct fw_fence_terms *terms)
{
    struct fw_fence_yearly yearly = {
        .worn = first_cost / terms->life_years,
        .interest = terms->interest * first_cost / 2,
        .upkeep = terms->upkeep * first_cost,
    };
    yearly.together = yearly.worn + yearly.interest + yearly.upkeep;
    return yearly;
}
