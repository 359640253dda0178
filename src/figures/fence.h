#ifndef FW_FIGURES_FENCE_H
#define FW_FIGURES_FENCE_H

#include "figures/sources.h"
#include "figures/units.h"
#include "figures/values.h"

#include "figures/fence_rows.h"

#include "figures/end.h"

#endif
