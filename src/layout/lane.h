/* Strips on the sides of a lane, whether we chose where it lies or the map. */
#ifndef FW_LAYOUT_LANE_H
#define FW_LAYOUT_LANE_H

#include "layout/pattern.h"

struct fw_lane {
    double deg;   /* along it; the first side lies to its right */
    bool at_side; /* no paddocks on its first side */
    size_t first_count;
    size_t count;
    double holds; /* what is lost on it */
    double line_m;
    bool wet; /* the water stands on it */
};

/* The lane's name, direction and number of plots. */
struct fw_design fw_lane__design(const struct fw_lane *lane);

/* Cut the ground on both sides into strips square to the lane: out along the
 * first side, back along the other one. Not whole: a strip is not in one piece,
 * or has no door on the lane. */
enum fw_status fw_lane__cut_sides(const struct fw_lane *lane,
                                  struct fw_plots *plots,
                                  const struct fw_region *first,
                                  const struct fw_region *second,
                                  struct fw_error *err);

/* Along the request's own lane. FW_EPLAN: it does not cross the field. */
enum fw_status fw_lane__given(const struct fw_layout_request *request,
                              double width_m, struct fw_layout_list *list,
                              struct fw_error *err);

#endif
