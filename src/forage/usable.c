/* What the flock may take, with the base of the share named. */
#include "forage/forage.h"

#include "base/fail.h"
#include "figures/forage.h"
#include "figures/mark.h"
#include "figures/stockpile.h"

#include <math.h>
#include <stdbool.h>

const char *const fw_forage_condition_words[] = {
    [FW_CONDITION_FRESH] = "fresh",
    [FW_CONDITION_AGED] = "aged",
    [FW_CONDITION_RANK] = "rank",
};

static const char long_use_source[] =
    "Penn State Agronomy Guide, table 1.8-9, its 7 days; none is printed for "
    "longer stays";
static const char use_source[] =
    "Penn State Agronomy Guide, table 1.8-9, by days of stay";
enum { days_printed = sizeof FW_FORAGE_USE / sizeof *FW_FORAGE_USE };

static const double most_height_m = FW_BOUND(3);
static const double most_mass_kg_ha = FW_BOUND(30000);
static const double most_density_kg_ha_cm = FW_BOUND(1000);
static const double longest_stay_days = FW_BOUND(366);

const char *const fw_forage_density_words[] = {[FW_DENSITY_THIN] = "thin",
                                               [FW_DENSITY_GOOD] = "good",
                                               [FW_DENSITY_THICK] = "thick"};

static bool given(double value)
{
    return value > 0;
}

static enum fw_status density_of(const struct fw_sward *sward, double *out,
                                 const char **source, struct fw_error *err)
{
    if (given(sward->density_kg_ha_cm)) {
        *out = sward->density_kg_ha_cm;
        *source = "given";
        return FW_OK;
    }
    if (!sward->name[0])
        return fw_fail(err, FW_EINPUT,
                       "a height needs a sward to turn it into mass; say "
                       "which, such as ryegrass-clover, or give a density such "
                       "as 250 lb/acre-inch, or the mass");
    const struct fw_density_row *row;
    const enum fw_status status = fw_forage_find(sward->name, &row, err);
    if (status)
        return status;
    const int i = (int)sward->density;
    if (!(row->high_kg_ha_cm[i] > 0))
        return fw_fail(err, FW_EINPUT,
                       "no density is published for %s that stands %s; give "
                       "one as a figure, such as 90 kg/ha/cm, or say good",
                       row->word, fw_forage_density_words[i]);
    *out = (row->low_kg_ha_cm[i] + row->high_kg_ha_cm[i]) / 2;
    *source = row->source;
    return FW_OK;
}

static bool within(double value, double most)
{
    return value >= 0 && value <= most;
}

static enum fw_status check_grass(const struct fw_sward *sward,
                                  struct fw_error *err)
{
    if (!within(sward->height_m, most_height_m) ||
        !within(sward->leave_m, most_height_m))
        return fw_fail(err, FW_EINPUT,
                       "grass of %g cm, %g cm left; expected up to 300 cm",
                       100 * sward->height_m, 100 * sward->leave_m);
    if (!within(sward->mass_kg_ha, most_mass_kg_ha) ||
        !within(sward->residual_kg_ha, most_mass_kg_ha))
        return fw_fail(err, FW_EINPUT,
                       "mass %g and residual %g kg/ha; expected up to 30,000",
                       sward->mass_kg_ha, sward->residual_kg_ha);
    if ((unsigned)sward->density > FW_DENSITY_THICK)
        return fw_fail(err, FW_EINPUT,
                       "density %d; expected thin, good or thick",
                       (int)sward->density);
    if (!within(sward->density_kg_ha_cm, most_density_kg_ha_cm))
        return fw_fail(err, FW_EINPUT,
                       "density %g kg/ha for each cm; expected up to 1,000",
                       sward->density_kg_ha_cm);
    if (!given(sward->mass_kg_ha) && !given(sward->height_m))
        return fw_fail(err, FW_EINPUT,
                       "how much grass is there? Give a height with a sward, "
                       "or the mass in kg/ha");
    return FW_OK;
}

static enum fw_status check(const struct fw_sward *sward, double stay_days,
                            struct fw_error *err)
{
    if (!within(sward->use, 1))
        return fw_fail(err, FW_EINPUT,
                       "use is %g %%; expected more than 0 and up to 100 %%",
                       100 * sward->use);
    if ((unsigned)sward->condition >= FW_CONDITION_COUNT)
        return fw_fail(err, FW_EINPUT,
                       "condition is %d; expected fresh, aged or rank",
                       (int)sward->condition);
    if ((unsigned)sward->use_of > FW_USE_STANDING)
        return fw_fail(err, FW_EINPUT,
                       "use-of is %d; expected above-residual or standing",
                       (int)sward->use_of);
    if (!(sward->legume <= 1))
        return fw_fail(err, FW_EINPUT, "legume is %g %%; expected up to 100 %%",
                       100 * sward->legume);
    if (!(stay_days > 0 && stay_days <= longest_stay_days))
        return fw_fail(err, FW_EINPUT,
                       "a stay of %g days; expected more than 0 and up to 366",
                       stay_days);
    return check_grass(sward, err);
}

static enum fw_status find_mass(const struct fw_sward *sward,
                                struct fw_usable *out, struct fw_error *err)
{
    double density = 0;
    if (!given(sward->mass_kg_ha) ||
        (!given(sward->residual_kg_ha) && given(sward->leave_m))) {
        const enum fw_status status =
            density_of(sward, &density, &out->density_source, err);
        if (status)
            return status;
    }
    out->mass_kg_ha = given(sward->mass_kg_ha)
                          ? sward->mass_kg_ha
                          : density * 100 * sward->height_m;
    out->residual_kg_ha = given(sward->residual_kg_ha)
                              ? sward->residual_kg_ha
                              : density * 100 * sward->leave_m;
    return FW_OK;
}

/* One base, and only one: a residual is never taken off twice. */
static enum fw_status find_use(const struct fw_sward *sward, double stay_days,
                               struct fw_usable *out, struct fw_error *err)
{
    const bool residual = out->residual_kg_ha > 0;
    if (sward->use_of == FW_USE_STANDING && residual)
        return fw_fail(err, FW_EINPUT,
                       "use of all that stands, and a residual: what must stay "
                       "would be taken off twice, since such a share leaves it "
                       "already; drop the residual and the height to leave, or "
                       "say use-of: above-residual");
    if (sward->use_of == FW_USE_ABOVE_RESIDUAL && !residual)
        return fw_fail(err, FW_EINPUT,
                       "use of what stands above the residual, but no "
                       "residual; give one in kg/ha, or the height to leave, "
                       "or say use-of: standing");
    out->use_of = residual ? FW_USE_ABOVE_RESIDUAL : FW_USE_STANDING;
    out->use = sward->use;
    out->use_source = "given";
    if (given(sward->use))
        return FW_OK;
    if (!residual)
        return fw_fail(err, FW_EINPUT,
                       "what must stay? Give a residual or the height to "
                       "leave, or the share of all that stands that they may "
                       "take");
    if (sward->condition) {
        out->use = FW_STOCK_CONDITION[sward->condition - 1];
        out->use_source = FW_STOCK_CONDITION_SOURCE;
        return FW_OK;
    }
    const int days = (int)ceil(stay_days);
    out->use = FW_FORAGE_USE[days < 1              ? 0
                             : days > days_printed ? days_printed - 1
                                                   : days - 1];
    out->use_source = days > days_printed ? long_use_source : use_source;
    return FW_OK;
}

static enum fw_status nothing_left(const struct fw_sward *sward,
                                   const struct fw_usable *usable,
                                   struct fw_error *err)
{
    if (given(sward->mass_kg_ha) || given(sward->residual_kg_ha))
        return fw_fail(err, FW_EPLAN,
                       "%.0f kg/ha stand and %.0f must stay: nothing is left "
                       "to graze; let it grow, or leave less",
                       usable->mass_kg_ha, usable->residual_kg_ha);
    return fw_fail(err, FW_EPLAN,
                   "the grass is %.3g cm high and %.3g cm must stay: nothing "
                   "is left to graze; let it grow, or leave less",
                   100 * sward->height_m, 100 * sward->leave_m);
}

enum fw_status fw_forage_measure(const struct fw_sward *sward, double stay_days,
                                 struct fw_usable *out, struct fw_error *err)
{
    struct fw_usable usable = {0};
    enum fw_status status = check(sward, stay_days, err);
    if (!status)
        status = find_mass(sward, &usable, err);
    if (!status)
        status = find_use(sward, stay_days, &usable, err);
    if (status)
        return status;
    usable.usable_kg_ha = fw_forage_usable_of_kg_ha(&usable, usable.mass_kg_ha);
    usable.left_kg_ha = usable.mass_kg_ha - usable.usable_kg_ha;
    *out = usable;
    return FW_OK;
}

enum fw_status fw_forage_usable(const struct fw_sward *sward, double stay_days,
                                struct fw_usable *out, struct fw_error *err)
{
    struct fw_usable usable;
    const enum fw_status status =
        fw_forage_measure(sward, stay_days, &usable, err);
    if (status)
        return status;
    if (!(usable.usable_kg_ha > 0))
        return nothing_left(sward, &usable, err);
    *out = usable;
    return FW_OK;
}

double fw_forage_usable_of_kg_ha(const struct fw_usable *usable,
                                 double stands_kg_ha)
{
    return usable->use * fmax(0, stands_kg_ha - usable->residual_kg_ha);
}

double fw_forage_after_kg_ha(const struct fw_usable *usable,
                             double stands_kg_ha, double share)
{
    return stands_kg_ha -
           share * (usable->residual_kg_ha > 0
                        ? fmax(0, stands_kg_ha - usable->residual_kg_ha)
                        : usable->use * stands_kg_ha);
}

void fw_forage_heights(const struct fw_sward *sward,
                       const struct fw_usable *usable, double *grass_m,
                       double *left_m)
{
    double density;
    const char *source;
    *grass_m = *left_m = 0;
    if (density_of(sward, &density, &source, NULL)) {
        if (!given(sward->height_m))
            return;
        density = usable->mass_kg_ha / (100 * sward->height_m);
    }
    *grass_m = given(sward->height_m) ? sward->height_m
                                      : usable->mass_kg_ha / density / 100;
    *left_m = usable->left_kg_ha / density / 100;
}

double fw_forage_paddock_ha(double demand_kg_day, double stay_days,
                            double usable_kg_ha)
{
    return demand_kg_day * stay_days / usable_kg_ha;
}

double fw_forage_paddocks_for_rest(double rest_days, double stay_days)
{
    const double rounding = FW_TOLERANCE(1e-9);
    return ceil(rest_days / stay_days + 1 - rounding);
}

double fw_forage_days(double area_ha, double usable_kg_ha, double demand_kg_day)
{
    return area_ha * usable_kg_ha / demand_kg_day;
}
