/* One look, and the next paddock because of it. */
#include "days/days.h"

#include "figures/days.h"

#include <math.h>

double fw_days_left_kg_ha(const struct fw_days_offer *offer)
{
    return fmax(offer->floor_kg_ha, offer->stands_kg_ha - offer->taken_kg_ha);
}

double fw_days_stood_kg_ha(const struct fw_days_offer *offer,
                           const struct fw_days_look *look)
{
    return look->left_kg_ha + offer->taken_kg_ha * look->eaten / look->size;
}

double fw_days_size(const struct fw_days_offer *offer, double stands_kg_ha)
{
    const double above_kg_ha = stands_kg_ha - offer->residual_kg_ha;
    if (!(above_kg_ha > 0))
        return (double)INFINITY;
    return (offer->stands_kg_ha - offer->residual_kg_ha) / above_kg_ha;
}

bool fw_days_is_right(const struct fw_days_offer *offer, double left_kg_ha)
{
    const double meant_kg_ha = fw_days_left_kg_ha(offer);
    return fabs(left_kg_ha - meant_kg_ha) <= FW_DAYS_LOOK * meant_kg_ha;
}

static enum fw_days_why forbids(const struct fw_days_when *when)
{
    return when->frost      ? FW_DAYS_NOT_FROST
           : when->legume   ? FW_DAYS_NOT_LEGUME
           : when->wet_once ? FW_DAYS_NOT_WET
                            : FW_DAYS_LESS;
}

/* What is nearer to nothing than to the least change is nothing. */
double fw_days_step(double wanted, bool limit, const struct fw_days_when *when,
                    enum fw_days_why *why)
{
    enum fw_days_why is = FW_DAYS_AS_MEANT;
    double step = 0;
    if (limit || wanted >= FW_DAYS_MORE_LEAST / 2) {
        is = FW_DAYS_MORE;
        step = fmin(fmax(wanted, FW_DAYS_MORE_LEAST), FW_DAYS_MORE_MOST);
    } else if (wanted < 0) {
        is = forbids(when);
        step = is == FW_DAYS_LESS
                   ? -fmin(-wanted * FW_DAYS_LESS_PART, FW_DAYS_LESS_MOST)
                   : 0;
    }
    if (why)
        *why = is;
    return step;
}

double fw_days_rule(const struct fw_days_offer *offer,
                    const struct fw_days_look *look,
                    const struct fw_days_when *when, enum fw_days_why *why)
{
    const bool low = look->limit || look->left_kg_ha <= offer->floor_kg_ha;
    const double wanted =
        !low && fw_days_is_right(offer, look->left_kg_ha)
            ? 0
            : fw_days_size(offer, fw_days_stood_kg_ha(offer, look)) /
                      look->size -
                  1;
    return fw_days_step(wanted, low, when, why);
}
