#ifndef FW_FIGURES_SAFETY_H
#define FW_FIGURES_SAFETY_H

#include "figures/sources.h"
#include "figures/units.h"
#include "figures/values.h"

#include "figures/safety_rows.h"

#include "figures/end.h"

#endif
