#ifndef FW_FIGURES_MOVES_H
#define FW_FIGURES_MOVES_H

#include "figures/sources.h"
#include "figures/units.h"
#include "figures/values.h"

#include "figures/moves_rows.h"

#include "figures/end.h"

#endif
