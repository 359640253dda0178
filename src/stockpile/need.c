/* What a class needs, what it can eat of this grass, and what is short.
 * Digestible dry matter counts as digestible nutrients. */
#include "stockpile/stockpile.h"

#include "figures/mark.h"
#include "figures/stockpile.h"

#include <math.h>

/* Shares of the dry matter that a class needs. */
static double digest_needed(enum fw_stockpile_class class)
{
    return class == FW_STOCKPILE_DRY     ? FW_STOCK_NEED_DRY
           : class == FW_STOCKPILE_EARLY ? FW_STOCK_NEED_EARLY
                                         : FW_STOCK_NEED_LATE;
}

static double protein_needed(enum fw_stockpile_class class)
{
    return class == FW_STOCKPILE_DRY     ? FW_STOCK_PROTEIN_DRY
           : class == FW_STOCKPILE_EARLY ? FW_STOCK_PROTEIN_EARLY
                                         : FW_STOCK_PROTEIN_LATE;
}

/* Fibre goes with digestibility as it did in Wisconsin, where it was measured:
 * beyond that it counts as the nearer one. */
static double fibre_of(double digest)
{
    const double *at = FW_STOCK_GRASSES_DIGEST;
    const double *fibre = FW_STOCK_GRASSES_FIBRE;
    const double t = (digest - at[0]) / (at[1] - at[0]);
    return fibre[0] + (fibre[1] - fibre[0]) * fmin(fmax(t, 0), 1);
}

static double limit_kg(enum fw_stockpile_class class, double weight_kg,
                       double digest)
{
    return weight_kg * (class == FW_STOCKPILE_LATE
                            ? FW_STOCK_LIMIT_WEIGHT
                            : FW_STOCK_LIMIT_FIBRE / fibre_of(digest));
}

void fw_stockpile_feeds(const struct fw_stockpile_flock *flock,
                        enum fw_stockpile_class class, double digest,
                        double protein, double taken_kg,
                        struct fw_stockpile_fed *out)
{
    const double need_kg = flock->need_kg[class];
    const double energy_kg = need_kg * digest_needed(class);
    const double protein_kg = need_kg * protein_needed(class);
    const double limit = limit_kg(class, flock->weight_kg, digest);
    /* Of good grass she eats what the table has, of poor grass more, as far as
     * she can. */
    const double grass_kg =
        digest > 0 ? fmin(fmax(need_kg, energy_kg / digest), limit) : 0;
    double other_kg =
        fmax(energy_kg - grass_kg * digest, 0) / FW_STOCK_FEED_DIGEST;
    if (!isnan(protein))
        other_kg = fmax(other_kg, (protein_kg - grass_kg * protein) /
                                      FW_STOCK_FEED_PROTEIN);
    const double flock_kg = flock->head * need_kg;
    const double plain = taken_kg / flock_kg;
    const double worth =
        fmin(plain, taken_kg * digest / (flock->head * energy_kg));
    /* Less than a gram is a rounding. */
    const bool at_need = other_kg < FW_TOLERANCE(1e-3);
    *out = (struct fw_stockpile_fed){
        .need_kg = need_kg,
        .energy_kg = energy_kg,
        .limit_kg = limit,
        .grass_kg = grass_kg,
        .other_kg = at_need ? 0 : other_kg,
        .days_at_need = at_need ? worth : 0,
        .days_with_feed = taken_kg / (flock->head * grass_kg),
        .plain_days = plain,
        .worth_days = worth,
    };
}
