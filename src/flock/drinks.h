/* What sheep drink from a trough: on a day as expected, on a hot one, and what
 * to have on hand, which no grass is counted against. They differ threefold:
 * trips follow the first, the tank's size the second. */
#ifndef FW_FLOCK_DRINKS_H
#define FW_FLOCK_DRINKS_H

#include "flock/flock.h"

enum fw_air {
    FW_AIR_UNTOLD,
    FW_AIR_COOL,
    FW_AIR_MILD,
    FW_AIR_WARM,
    FW_AIR_COUNT
};

/* What goes from one day to the next. */
struct fw_drink_day {
    enum fw_air air;    /* as expected */
    double grass_water; /* share of its fresh weight, 0 to under 1; negative:
                           nobody told */
};

/* What nobody told as it is taken to be: mild, and grass as wet as the season
 * has it. */
struct fw_drink_day fw_drink_day(struct fw_drink_day told, bool dormant);

struct fw_drinks {     /* litres a day */
    double need_l;     /* as expected, that of the feed included */
    double expected_l; /* from the trough; 0: the grass has it all */
    double hot_l;
    double on_hand_l; /* never less than on a hot day */
    double mineral_l; /* that salt put out adds to each of them */
};

/* Of one head. FW_EINPUT: as fw_flock_intake, or a share that is none. */
enum fw_status fw_flock_drinks(const struct fw_flock_class *sheep,
                               const struct fw_drink_day *day,
                               struct fw_drinks *out, struct fw_error *err);

/* Of all heads of all classes. */
enum fw_status fw_flock_drinks_sum(const struct fw_flock_class *classes,
                                   size_t count, const struct fw_drink_day *day,
                                   struct fw_drinks *out, struct fw_error *err);

/* "under 15 C", for the words of a report. */
const char *fw_flock_air(enum fw_air air);

#endif
