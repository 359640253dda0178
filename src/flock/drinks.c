/* The need of a cool day by state and weight, more as it warms, less what the
 * grass carries. The register's lower ends are the need, since what the feed
 * has is part of it; its upper ends are what to have on hand. */
#include "flock/drinks.h"

#include "base/fail.h"
#include "figures/flock.h"
#include "flock/table.h"

#include <math.h>

static double cool_need_l(const struct fw_flock_class *sheep)
{
    switch (sheep->state) {
    case FW_FLUSHING:
    case FW_EARLY_GESTATION:
    case FW_LATE_GESTATION:
        return fw_flock__ewe_l(FW_WATER_NEED_PREGNANT, sheep->weight_kg);
    case FW_DRY:
    case FW_RAM:
        return fw_flock__ewe_l(FW_WATER_NEED_MAINTENANCE, sheep->weight_kg);
    default: /* print has one figure for the others */
        return fw_flock_water_l_day(sheep, NULL);
    }
}

/* Litres that come with a kilogram of dry matter. */
static double carried_l_kg(double share)
{
    return share / (1 - share);
}

struct fw_drink_day fw_drink_day(struct fw_drink_day told, bool dormant)
{
    if (told.air == FW_AIR_UNTOLD)
        told.air = FW_AIR_MILD;
    if (!(told.grass_water >= 0))
        told.grass_water = dormant ? FW_GRASS_WATER_DORMANT : FW_GRASS_WATER;
    return told;
}

enum fw_status fw_flock_drinks(const struct fw_flock_class *sheep,
                               const struct fw_drink_day *day,
                               struct fw_drinks *out, struct fw_error *err)
{
    struct fw_intake intake;
    const enum fw_status status = fw_flock_intake(sheep, &intake, err);
    if (status)
        return status;
    if (day->air < FW_AIR_COOL || day->air > FW_AIR_WARM)
        return fw_fail(err, FW_EINPUT,
                       "the air is %d; expected cool, mild or warm",
                       (int)day->air);
    if (!(day->grass_water >= 0 && day->grass_water <= FW_GRASS_WATER_MOST))
        return fw_fail(err, FW_EINPUT,
                       "water in the grass is %g %% of its fresh weight; "
                       "expected 0 to %g %%, such as 80 %%",
                       100 * day->grass_water, 100 * FW_GRASS_WATER_MOST);
    const double cool_l = cool_need_l(sheep);
    const double hot_share = fmin(day->grass_water, FW_GRASS_WATER_HOT);
    struct fw_drinks drinks = {
        .need_l = cool_l * FW_WATER_AIR[day->air == FW_AIR_COOL   ? 0
                                        : day->air == FW_AIR_MILD ? 1
                                                                  : 2],
        .mineral_l = FW_SALT_L_G * FW_SALT_G,
    };
    drinks.expected_l =
        fmax(0, drinks.need_l - intake.kg_day * carried_l_kg(day->grass_water));
    drinks.hot_l = fmax(0, cool_l * FW_WATER_HOT -
                               intake.kg_day * carried_l_kg(hot_share));
    drinks.on_hand_l = fmax(fw_flock_water_l_day(sheep, NULL), drinks.hot_l);
    *out = drinks;
    return FW_OK;
}

enum fw_status fw_flock_drinks_sum(const struct fw_flock_class *classes,
                                   size_t count, const struct fw_drink_day *day,
                                   struct fw_drinks *out, struct fw_error *err)
{
    struct fw_drinks sum = {0};
    for (size_t i = 0; i < count; i++) {
        struct fw_drinks one = {0};
        const enum fw_status status =
            fw_flock_drinks(&classes[i], day, &one, err);
        if (status)
            return status;
        const int head = classes[i].head;
        sum.need_l += head * one.need_l;
        sum.expected_l += head * one.expected_l;
        sum.hot_l += head * one.hot_l;
        sum.on_hand_l += head * one.on_hand_l;
        sum.mineral_l += head * one.mineral_l;
    }
    *out = sum;
    return FW_OK;
}

const char *fw_flock_air(enum fw_air air)
{
    static const char *const words[FW_AIR_COUNT] = {
        [FW_AIR_COOL] = "under {15 C}",
        [FW_AIR_MILD] = "{15 to 20 C}",
        [FW_AIR_WARM] = "over {20 C}",
    };
    return (unsigned)air < FW_AIR_COUNT ? words[air] : NULL;
}
