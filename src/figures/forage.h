#ifndef FW_FIGURES_FORAGE_H
#define FW_FIGURES_FORAGE_H

#include "figures/sources.h"
#include "figures/units.h"
#include "figures/values.h"

#include "figures/forage_rows.h"

#include "figures/end.h"

#endif
