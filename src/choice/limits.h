/* Practical limits of paddocks and runs. */
#ifndef FW_CHOICE_LIMITS_H
#define FW_CHOICE_LIMITS_H

#include "choice/job.h"

struct fw_plan__shape { /* of one paddock */
    double width_m;     /* near enough of the narrowest box round it */
    double longer;      /* how many times as long as wide */
    double face_m;      /* the fence between it and what is grazed later */
};

enum {
    FW_PLAN__NARROW = 1 << 0,
    FW_PLAN__LONG = 1 << 1,
    FW_PLAN__SHORT_FACE = 1 << 2
};

struct fw_point fw_plan__layout_at(const struct fw_farm_field *field,
                                   const struct fw_layout *layout,
                                   size_t vertex);

/* The outer ring of a paddock; free with fw_free. NULL: no memory. */
struct fw_point *fw_plan__outline(const struct fw_farm_field *field,
                                  const struct fw_layout *layout,
                                  size_t paddock, size_t *count);
struct fw_plan__shape fw_plan__shape_of(const struct fw_farm_field *field,
                                        const struct fw_layout *layout,
                                        size_t paddock,
                                        const struct fw_point *ring,
                                        size_t count);

/* Which limits a paddock breaks. */
unsigned fw_plan__broken(const struct fw_plan_job *job,
                         const struct fw_plan__shape *shape, bool last);
bool fw_plan__is_overlong(const struct fw_farm *farm, double run_m);

double fw_plan__least_width_m(const struct fw_plan_job *job);
double fw_plan__least_face_m(const struct fw_plan_job *job); /* of the flock */

/* Keep the shapes of the layout that a field gets, for the warnings. */
enum fw_status fw_plan__take_shapes(struct fw_plan_job *job, size_t field,
                                    const struct fw_layout *layout,
                                    struct fw_error *err);
enum fw_status fw_plan__warn_limits(struct fw_plan_job *job, size_t field,
                                    struct fw_error *err);

#endif
