#ifndef FW_FIGURES_GROWTH_H
#define FW_FIGURES_GROWTH_H

#include "figures/sources.h"
#include "figures/units.h"
#include "figures/values.h"

#include "figures/growth_rows.h"

#include "figures/end.h"

#endif
