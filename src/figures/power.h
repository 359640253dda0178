#ifndef FW_FIGURES_POWER_H
#define FW_FIGURES_POWER_H

#include "figures/sources.h"
#include "figures/units.h"
#include "figures/values.h"

#include "figures/power_rows.h"

#include "figures/end.h"

#endif
