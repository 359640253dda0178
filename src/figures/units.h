#ifndef FW_FIGURES_UNITS_H
#define FW_FIGURES_UNITS_H

#include "figures/sources.h"
#include "figures/values.h"

#include "figures/units_rows.h"

#include "figures/end.h"

#endif
