#ifndef FW_FIGURES_DAYS_H
#define FW_FIGURES_DAYS_H

#include "figures/sources.h"
#include "figures/units.h"
#include "figures/values.h"

#include "figures/days_rows.h"

#include "figures/end.h"

#endif
