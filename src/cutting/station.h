/* Finding a place of the field's edge on a region that was cut from it. */
#ifndef FW_CUTTING_STATION_H
#define FW_CUTTING_STATION_H

#include "cutting/subdivision.h"

/* The place of the region's outer ring that stands t of the way along a side
 * of the field; the region has it. */
struct fw_region_station
fw_layout__station(const struct fw_subdivision *subdivision,
                   const struct fw_region *region, size_t side, double t);

#endif
