/* What share of the grass they take. */
#include "stockpile/stockpile.h"

#include "figures/stockpile.h"

#include <math.h>

static double by_break(double break_days)
{
    const struct fw_stockpile_curve curve = {FW_STOCK_TAKEN_AT, FW_STOCK_TAKEN,
                                             sizeof FW_STOCK_TAKEN /
                                                 sizeof FW_STOCK_TAKEN[0]};
    if (!(break_days > 0) || break_days > curve.at[curve.count - 1])
        return FW_STOCK_TAKEN_FREE;
    return fw_stockpile_at(&curve, break_days, true);
}

/* How much less they take of it than of the greenest that was tried; what is
 * beyond the two that were tried counts as the nearer one. */
static double by_dead(double dead)
{
    const struct fw_stockpile_curve curve = {FW_STOCK_TAKEN_DEAD_AT,
                                             FW_STOCK_TAKEN_DEAD, 2};
    return fw_stockpile_at(&curve, dead, true) / FW_STOCK_TAKEN_DEAD[0];
}

double fw_stockpile_share(double break_days, double dead)
{
    return by_break(break_days) * by_dead(dead);
}

/* Until the leafy one is cleared they spend nearly all their time on it. What
 * they do then nobody has published: they are hungry, and want a new break. */
struct fw_stockpile_open fw_stockpile_open(double leafy_kg, double rank_kg)
{
    const double beside_kg =
        FW_STOCK_CLEARED * leafy_kg * (1 - FW_STOCK_LEAFY) / FW_STOCK_LEAFY;
    return (struct fw_stockpile_open){
        .leafy_share = FW_STOCK_CLEARED,
        .rank_share =
            rank_kg > 0 ? fmin(beside_kg / rank_kg, FW_STOCK_CLEARED) : 0,
    };
}
