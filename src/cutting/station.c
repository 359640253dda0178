/* The same side may be in several pieces: other cuts end on it. */
#include "cutting/station.h"

struct fw_region_station
fw_layout__station(const struct fw_subdivision *subdivision,
                   const struct fw_region *region, size_t side, double t)
{
    struct fw_region_station place = {0, 0};
    const struct fw_subdivision_support *support = &subdivision->supports[side];
    for (size_t i = 0; i < region->ring_start[1]; i++) {
        if (region->supports[i] != side)
            continue;
        const size_t a = region->vertices[i];
        const size_t b =
            region->vertices[i + 1 < region->ring_start[1] ? i + 1 : 0];
        const double from = a == support->from ? 0 : subdivision->vertices[a].t;
        const double to = b == support->to ? 1 : subdivision->vertices[b].t;
        if (t < from || t > to)
            continue;
        place = (struct fw_region_station){i, (t - from) / (to - from)};
        if (t < to)
            break;
    }
    return place;
}
