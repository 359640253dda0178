/* Ground and time of candidates and plans. */
#ifndef FW_CHOICE_LAND_H
#define FW_CHOICE_LAND_H

#include "choice/job.h"
#include "choice/limits.h"

/* The ground of a candidate for one field; work has an entry for each of the
 * layout's lines. line_of[l] tells which line of the land the layout's line l
 * became, or FW_NONE for one without length. */
enum fw_status fw_plan__land_of(const struct fw_plan_job *job, size_t field,
                                const struct fw_layout *layout,
                                const struct fw_plan__line_work *work,
                                struct fw_land *out, size_t *line_of,
                                struct fw_error *err);

/* habits.c: how this farm works with this flock. `first` is the number of the
 * land's first field among the farm's: a candidate's land has one alone. */
struct fw_plan__habits {
    struct fw_habits habits;
    const struct fw_plan_job *job;
    size_t first;
};
void fw_plan__habits(const struct fw_plan_job *job, size_t first,
                     bool set_first, struct fw_plan__habits *out);

/* narrow.c: the width of the narrowest place of a cell that is under way_m; 0:
 * there is none. How many paddocks have one. */
enum fw_status fw_plan__narrowest(const struct fw_land *land, size_t cell,
                                  double way_m, double *out_m,
                                  struct fw_error *err);
enum fw_status fw_plan__count_narrow(const struct fw_land *land, double way_m,
                                     size_t *count, struct fw_error *err);

#endif
