#ifndef FW_FIGURES_LAYOUT_H
#define FW_FIGURES_LAYOUT_H

#include "figures/sources.h"
#include "figures/units.h"
#include "figures/values.h"

#include "figures/layout_rows.h"

#include "figures/end.h"

#endif
