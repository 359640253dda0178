/* All pages of the register, in the order of print. SUBJECT is what the rows
 * below it belong to. */
#undef SUBJECT
#define SUBJECT "farm"
#include "figures/farm_rows.h"
#undef SUBJECT
#define SUBJECT "flock"
#include "figures/flock_rows.h"
#undef SUBJECT
#define SUBJECT "forage"
#include "figures/forage_rows.h"
#undef SUBJECT
#define SUBJECT "growth"
#include "figures/growth_rows.h"
#undef SUBJECT
#define SUBJECT "stockpile"
#include "figures/stockpile_rows.h"
#undef SUBJECT
#define SUBJECT "layout"
#include "figures/layout_rows.h"
#undef SUBJECT
#define SUBJECT "plan"
#include "figures/plan_rows.h"
#undef SUBJECT
#define SUBJECT "moves"
#include "figures/moves_rows.h"
#undef SUBJECT
#define SUBJECT "days"
#include "figures/days_rows.h"
#undef SUBJECT
#define SUBJECT "weather"
#include "figures/weather_rows.h"
#undef SUBJECT
#define SUBJECT "fence"
#include "figures/fence_rows.h"
#undef SUBJECT
#define SUBJECT "water"
#include "figures/water_rows.h"
#undef SUBJECT
#define SUBJECT "power"
#include "figures/power_rows.h"
#undef SUBJECT
#define SUBJECT "safety"
#include "figures/safety_rows.h"
#undef SUBJECT
#define SUBJECT "units"
#include "figures/units_rows.h"
#undef SUBJECT
