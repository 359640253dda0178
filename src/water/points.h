/* Which of many places water is best at: each place serves some stays and not
 * others, at a value such as the metres that they walk. Exact for up to three
 * points, good beyond, with a bound that no choice is under. */
#ifndef FW_WATER_POINTS_H
#define FW_WATER_POINTS_H

#include "figures/mark.h"
#include <foldwright/error.h>
#include <stdbool.h>
#include <stddef.h>

enum { FW_POINTS_MOST = FW_EFFORT(16) }; /* that are chosen */

struct fw_points {
    size_t stay_count, place_count;
    /* Of stay s at place p, at [s * place_count + p]: 0 or more; HUGE_VAL: it
     * does not serve it. */
    const double *value;
    bool worst; /* the stay with the greatest value counts; else their sum */
};

struct fw_points_chosen {
    size_t places[FW_POINTS_MOST]; /* from the least index */
    size_t count;
    size_t served, servable; /* stays: by these, and by all places */
    double value;            /* of the served ones; 0: none is */
    bool exact;              /* no choice of so many is better */
    double bound;            /* of the same stays, with every place chosen */
};

/* So many places, or fewer where more do not help: first those that serve the
 * most stays, then the least value, then the fewest, then the least indexes.
 * FW_EINPUT: none are to be chosen, or over FW_POINTS_MOST. FW_ENOMEM. */
enum fw_status fw_water_points(const struct fw_points *points, size_t most,
                               struct fw_points_chosen *out,
                               struct fw_error *err);

/* The chosen place that serves a stay best; place_count: none does. */
size_t fw_water_points_of(const struct fw_points *points,
                          const struct fw_points_chosen *chosen, size_t stay);

#endif
