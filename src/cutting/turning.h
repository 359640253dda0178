/* Fences that turn with the field: where each one goes. */
#ifndef FW_CUTTING_TURNING_H
#define FW_CUTTING_TURNING_H

#include "cutting/boundary.h"

#include "figures/mark.h"

/* A fence. The walk begins behind it, comes to `near`, leaves the fence's
 * ground ahead out, and goes on from `far`. */
struct fw_turning_fence {
    struct fw_boundary_station near, far;
    double near_m, far_m; /* of the walk */
    double length_m;
    double sum_m;  /* with the fences behind it, at best */
    size_t before; /* that best one's index among those of its cut */
};

/* Chords to choose from, so many for each cut, sorted along the walk. */
struct fw_turning {
    const struct fw_boundary *boundary;
    size_t end; /* node where the sweep ends: every chord has it ahead */
    size_t cut_count, place_count;
    double gap_m; /* fences keep that far from each other at their ends */
    struct fw_turning_fence *chords; /* place_count for each cut */
    size_t *chord_count;             /* of each cut */
    size_t *queue;
    struct fw_turning_fence *path; /* the chosen ones */
    double line_m;
};

/* Room for what the caller has filled in, from boundary to gap_m, the rest
 * being 0. gap_m is kept in the end, not while the search is coarse. */
enum fw_status fw_turning_init(struct fw_turning *turning,
                               struct fw_error *err);
void fw_turning_release(struct fw_turning *turning);

/* Choose among places all along the walk to the end; behind_m2 is what each
 * chord is to have behind it. False: there is no way. */
bool fw_turning_seek(struct fw_turning *turning, const double *behind_m2);

/* Choose anew around the path: from so many steps before it to so many after.
 */
enum { FW_MOST_REACH = FW_EFFORT(6) };
bool fw_turning_refine(struct fw_turning *turning, const double *behind_m2,
                       double step_m, int reach, double gap_m);

/* The chord from a place that has so much behind it, sought from an edge on
 * along the walk either way. */
bool fw_turning_fence_at(const struct fw_turning *turning,
                         struct fw_boundary_station near, double behind_m2,
                         size_t from_edge, struct fw_turning_fence *out);

/* A sweep worth making, from corner to corner. */
struct fw_turning_try {
    size_t from, to; /* of the field's corners */
    double line_m;   /* of a few fences */
    double direction_deg;
};

enum { FW_MOST_TURNING = 2 };

struct fw_turning_tries {
    struct fw_turning_try items[FW_MOST_TURNING];
    size_t count;
};

/* From which corner to which other one the fences come out short: the best,
 * and the best that goes another way. */
enum fw_status fw_turning_tries(struct fw_boundary *boundary,
                                const struct fw_field *field,
                                const double *behind, size_t plots,
                                struct fw_turning_tries *out,
                                struct fw_error *err);

/* Area behind a chord. */
double fw_turning_behind_m2(const struct fw_boundary *boundary,
                            const struct fw_turning_fence *chord);

#endif
