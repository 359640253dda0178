#ifndef FW_FIGURES_PLAN_H
#define FW_FIGURES_PLAN_H

#include "figures/sources.h"
#include "figures/units.h"
#include "figures/values.h"

#include "figures/plan_rows.h"

#include "figures/end.h"

#endif
