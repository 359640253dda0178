/* Single fences that part connected ground in two at a whole number of
 * paddocks. */
#ifndef FW_CUTTING_CHORD_H
#define FW_CUTTING_CHORD_H

#include "cutting/plots.h"

struct fw_chord {
    size_t plots; /* in parts[0] */
    double length_m;
    double score;  /* length for the ground that it sets off: less is better */
    bool parallel; /* a line of the sweep, which may pass ponds; else a fence
                      from one place of the outer ring to another */
    double direction_deg, behind;
    struct fw_region_station from, to;
};

struct fw_chords {
    struct fw_chord *items;
    size_t most, count; /* there is room for; there are */
};

/* The best chords for cutting off the first k plots of a part, for every k or
 * (not 0) for `only` one. */
enum fw_status fw_layout__chords(const struct fw_plots *plots,
                                 const struct fw_part *part, size_t only,
                                 struct fw_chords *out, struct fw_error *err);

/* The corners of an anticlockwise ring that jut in; of more than there is room
 * for, such as jut in most where they are. Returns how many. */
enum { FW_MOST_CORNERS = FW_EFFORT(256) };
size_t fw_chord_corners(const struct fw_point *ring, size_t count,
                        size_t out[FW_MOST_CORNERS]);

enum fw_status fw_layout__cut_chord(struct fw_subdivision *subdivision,
                                    const struct fw_region *region,
                                    const struct fw_chord *chord,
                                    struct fw_region parts[2], bool *whole,
                                    struct fw_error *err);

#endif
