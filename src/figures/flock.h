#ifndef FW_FIGURES_FLOCK_H
#define FW_FIGURES_FLOCK_H

#include "figures/sources.h"
#include "figures/units.h"
#include "figures/values.h"

#include "figures/flock_rows.h"

#include "figures/end.h"

#endif
