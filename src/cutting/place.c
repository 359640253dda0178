/* The same side may be in several pieces: other cuts end on it. */
#include "cutting/place.h"

struct fw_region_place fw_layout__place(const struct fw_board *board,
                                        const struct fw_region *region,
                                        size_t side, double t)
{
    struct fw_region_place place = {0, 0};
    const struct fw_board_carrier *carrier = &board->carriers[side];
    for (size_t i = 0; i < region->ring_start[1]; i++) {
        if (region->carriers[i] != side)
            continue;
        const size_t a = region->vertices[i];
        const size_t b =
            region->vertices[i + 1 < region->ring_start[1] ? i + 1 : 0];
        const double from = a == carrier->from ? 0 : board->vertices[a].t;
        const double to = b == carrier->to ? 1 : board->vertices[b].t;
        if (t < from || t > to)
            continue;
        place = (struct fw_region_place){i, (t - from) / (to - from)};
        if (t < to)
            break;
    }
    return place;
}
