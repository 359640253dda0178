/* How the parts of a field were cut, to cut them alike when the targets have
 * changed: paddocks that stay where they were keep their order. */
#ifndef FW_LAYOUT_WAYS_H
#define FW_LAYOUT_WAYS_H

#include "cutting/chord.h"
#include "layout/blocks.h"

struct fw_way {
    size_t first, count; /* plots of the part */
    bool by_plan;        /* else by the chord */
    struct fw_block_plan plan;
    struct fw_chord chord;
    struct fw_point from, to; /* of the chord, unless it is parallel */
};

struct fw_ways {
    struct fw_way *items;
    size_t count, capacity;
};

void fw_ways_release(struct fw_ways *ways);

/* Instead of another one for these plots. */
enum fw_status fw_ways_note(struct fw_ways *ways, const struct fw_way *way,
                            struct fw_error *err);
const struct fw_way *fw_ways_find(const struct fw_ways *ways, size_t first,
                                  size_t count);

/* The places at the ends of a chord. */
void fw_way_ends(const struct fw_subdivision *subdivision,
                 const struct fw_region *region, const struct fw_chord *chord,
                 struct fw_point *from, struct fw_point *to);

/* The one of these chords that is most like the way's: both ends together are
 * away from its ends by less than `alike` of its length. NULL: none is. */
const struct fw_chord *fw_way_alike(const struct fw_way *way, double alike,
                                    const struct fw_subdivision *subdivision,
                                    const struct fw_region *region,
                                    const struct fw_chords *chords);

#endif
