#ifndef FW_FIGURES_FARM_H
#define FW_FIGURES_FARM_H

#include "figures/sources.h"
#include "figures/units.h"
#include "figures/values.h"

#include "figures/farm_rows.h"

#include "figures/end.h"

#endif
