/* A layout while it is weighed: what the files that do it share. */
#ifndef FW_CHOICE_SCORING_H
#define FW_CHOICE_SCORING_H

#include "choice/job.h"
#include "walk/walk.h"

#include <math.h>

struct fw_plan__scoring {
    const struct fw_plan_job *job;
    const struct fw_farm_field *field;
    const struct fw_layout *layout;
    const struct fw_plan_targets *targets;
    struct fw_plan_score *out;
    struct fw_plan__line_work *work; /* by line */
    struct fw_land land;
    struct fw_time_start start;
    struct fw_time_stay before;
    bool *stands;
};

/* score.c: its ground, with what each line takes; FW_ENOMEM. Release it. */
enum fw_status fw_plan__scoring_land(struct fw_plan__scoring *scoring,
                                     struct fw_error *err);
void fw_plan__scoring_release(struct fw_plan__scoring *scoring);
/* Its stays, and how many days they feed together. Free them. */
enum fw_status fw_plan__scoring_stays(const struct fw_plan__scoring *scoring,
                                      struct fw_time_stay **out, double *days,
                                      struct fw_error *err);
/* Where a trough would stand. */
struct fw_point fw_plan__scoring_middle(const struct fw_plan__scoring *scoring,
                                        size_t paddock);

/* A mean way over several paddocks, each by its ground. */
struct fw_plan__way_sums {
    double m2, m3, most_m;
};

static inline void fw_plan__add_way(struct fw_plan__way_sums *way, double m2,
                                    const struct fw_walk_sums *sums)
{
    way->m2 += m2;
    way->m3 += m2 * sums->mean_m;
    way->most_m = fmax(way->most_m, sums->most_m);
}

static inline double fw_plan__mean_way_m(const struct fw_plan__way_sums *way)
{
    return way->m2 > 0 ? way->m3 / way->m2 : 0;
}

#endif
