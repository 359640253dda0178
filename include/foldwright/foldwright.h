/* All of the library, for those who do not care which part. */
#ifndef FW_FOLDWRIGHT_H
#define FW_FOLDWRIGHT_H

#include <foldwright/choice.h>
#include <foldwright/circuit.h>
#include <foldwright/crs.h>
#include <foldwright/date.h>
#include <foldwright/error.h>
#include <foldwright/farm.h>
#include <foldwright/fence.h>
#include <foldwright/figures.h>
#include <foldwright/flock.h>
#include <foldwright/forage.h>
#include <foldwright/geo.h>
#include <foldwright/ground.h>
#include <foldwright/growth.h>
#include <foldwright/io.h>
#include <foldwright/keys.h>
#include <foldwright/land.h>
#include <foldwright/layout.h>
#include <foldwright/make.h>
#include <foldwright/moves.h>
#include <foldwright/origin.h>
#include <foldwright/plan.h>
#include <foldwright/plan_power.h>
#include <foldwright/power.h>
#include <foldwright/quantity.h>
#include <foldwright/report.h>
#include <foldwright/safety.h>
#include <foldwright/store.h>
#include <foldwright/terms.h>
#include <foldwright/told.h>
#include <foldwright/water.h>
#include <foldwright/ways.h>

#endif
