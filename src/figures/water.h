#ifndef FW_FIGURES_WATER_H
#define FW_FIGURES_WATER_H

#include "figures/sources.h"
#include "figures/units.h"
#include "figures/values.h"

#include "figures/water_rows.h"

#include "figures/end.h"

#endif
