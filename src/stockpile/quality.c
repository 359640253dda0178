/* How good the grass is: by the day of the last removal, and by how long winter
 * has lasted. A month falls as fast as the two ends in print have it. */
#include "stockpile/inner.h"

#include "figures/stockpile.h"

#include <math.h>

/* From October to March, of 1. */
static double through(const struct fw_stockpile_winter *winter, int day)
{
    const int october =
        fw_stockpile_day(fw_date_year(winter->frost_day), FW_STOCK_OCTOBER);
    return fmax((double)(day - october) / FW_STOCK_TO_MARCH, 0);
}

static double new_digest(const struct fw_stockpile_winter *winter,
                         double of_year, double t)
{
    const struct fw_stockpile_line *line = winter->line;
    const double digest = fw_stockpile_at(&line->digest, of_year, true);
    double late = digest;
    if (line->digest_late.count)
        late = fw_stockpile_at(&line->digest_late, of_year, true);
    else if (line->grasses)
        late += FW_STOCK_GRASSES_DIGEST[1] - FW_STOCK_GRASSES_DIGEST[0];
    return digest + (late - digest) * t;
}

static double protein_of(const struct fw_stockpile_winter *winter,
                         double of_year, double t)
{
    const struct fw_stockpile_line *line = winter->line;
    if (!line->protein.count)
        return (double)NAN;
    const double protein = fw_stockpile_at(&line->protein, of_year, true);
    return line->grasses ? protein + t * (FW_STOCK_GRASSES_PROTEIN[1] -
                                          FW_STOCK_GRASSES_PROTEIN[0])
                         : protein;
}

/* Old grass at its best is as good as what was closed earliest. Grass that is
 * better than green is has nothing dead in it. */
void fw_stockpile__quality(const struct fw_stockpile_winter *winter, int day,
                           struct fw_stockpile_stand *stand)
{
    const struct fw_stockpile_curve *curve = &winter->line->digest;
    const double of_year = fw_stockpile_of_year(stand->closed_day);
    const double t = through(winter, day), old = stand->old_share;
    const double fresh = fmax(new_digest(winter, of_year, t), FW_STOCK_DEAD);
    const double best =
        fmin(fmax(new_digest(winter, curve->at[0], t), FW_STOCK_DEAD), fresh);
    stand->digest = (1 - old) * fresh + old * FW_STOCK_DEAD;
    stand->digest_best = (1 - old) * fresh + old * best;
    stand->protein = protein_of(winter, of_year, t);
    stand->dead = fmin(fmax((FW_STOCK_GREEN - stand->digest) /
                                (FW_STOCK_GREEN - FW_STOCK_DEAD),
                            0),
                       1);
}
