/* The columns of the layers of a plan's maps, by the table of members. */
#ifndef FW_STORE_MAPS_H
#define FW_STORE_MAPS_H

#include "store/labels.h"

/* What the columns are filled from: a plan, its dates, and its names. */
struct fw_io__maps {
    const struct fw_plan *plan;
    struct fw_time_dates dates;
    struct fw_io__labels labels[FW_IO__TARGETS];
};

/* Release it also after a failure. */
enum fw_status fw_io__maps_make(struct fw_io__maps *maps,
                                const struct fw_plan *plan,
                                struct fw_error *err);
void fw_io__maps_release(struct fw_io__maps *maps);

enum fw_column_type fw_io__column_type(const struct fw_io__member *member);

/* That of the i-th of its layer. */
struct fw_io__worth fw_io__map_value(const struct fw_io__maps *maps,
                                     const struct fw_io__member *member,
                                     const void *of, size_t i);

/* ---- what is worked out, for the table of members ---- */

#define FW_IO__WORK(name)                                                      \
    struct fw_io__worth fw_io__work_##name(                                    \
        __attribute__((unused)) const struct fw_io__maps *maps,                \
        __attribute__((unused)) const void *of,                                \
        __attribute__((unused)) size_t i)

FW_IO__WORK(energizer);
FW_IO__WORK(open_v);
FW_IO__WORK(enter); /* of a paddock */
FW_IO__WORK(leave);
FW_IO__WORK(ground); /* of a lane */
FW_IO__WORK(post);
FW_IO__WORK(post_fence);
FW_IO__WORK(posts); /* of a fence */
FW_IO__WORK(up);
FW_IO__WORK(down);
FW_IO__WORK(text); /* of a finding */
FW_IO__WORK(source);
FW_IO__WORK(number); /* of a stay */
FW_IO__WORK(stay_field);
FW_IO__WORK(stay_round);
FW_IO__WORK(standing_field);
FW_IO__WORK(up_day);
FW_IO__WORK(up_move);
FW_IO__WORK(up_step);
FW_IO__WORK(down_day);
FW_IO__WORK(down_move);
FW_IO__WORK(down_step);

#endif
