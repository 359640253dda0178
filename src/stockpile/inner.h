/* What files of this folder share. */
#ifndef FW_STOCKPILE_INNER_H
#define FW_STOCKPILE_INNER_H

#include "stockpile/stockpile.h"

/* The day of the last removal. */
int fw_stockpile__closed(const struct fw_stockpile_part *part);

/* Digestible and protein, and what is dead, of what stands on the day: its
 * closed_day and old_share are known. */
void fw_stockpile__quality(const struct fw_stockpile_winter *winter, int day,
                           struct fw_stockpile_stand *stand);

#endif
