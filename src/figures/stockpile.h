#ifndef FW_FIGURES_STOCKPILE_H
#define FW_FIGURES_STOCKPILE_H

#include "figures/sources.h"
#include "figures/units.h"
#include "figures/values.h"

#include "figures/stockpile_rows.h"

#include "figures/end.h"

#endif
