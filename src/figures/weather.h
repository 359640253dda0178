#ifndef FW_FIGURES_WEATHER_H
#define FW_FIGURES_WEATHER_H

#include "figures/sources.h"
#include "figures/units.h"
#include "figures/values.h"

#include "figures/weather_rows.h"

#include "figures/end.h"

#endif
