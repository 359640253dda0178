/* A plan made with nothing but the core: fields and what lies around them in
 * one plane, as somebody without PROJ and GEOS has them. */
#ifndef FW_TESTS_CORE_H
#define FW_TESTS_CORE_H

#include "farm/farm.h"

/* The world is flat: places are in metres from where the equator meets the
 * prime meridian, and so is the one system of maps. */
extern const struct fw_world flat_world;
struct fw_lonlat flat_place(struct fw_point at);

/* Everything that a plan tells, one row a thing. */
void tell_plan(const struct fw_plan *plan);

#endif
