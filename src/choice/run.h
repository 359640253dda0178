/* A line on the ground that it crosses: its posts, how much longer it is than
 * on a map, and what stands in its way. The search and the plan both ask here,
 * so that they count alike. */
#ifndef FW_CHOICE_RUN_H
#define FW_CHOICE_RUN_H

#include "choice/job.h"

struct fw_plan__obstacle { /* hard going near the field at hand */
    const struct fw_farm_feature *feature;
    struct fw_point *points; /* owned */
    struct fw_safety_shape shape;
    struct fw_point low, high; /* its box */
};

struct fw_plan__run {    /* starts as {0} */
    double ground_share; /* length along the slope over that on the map */
    double crossing_min; /* what crossing costs beyond its posts */
    struct fw_fence_post *posts; /* in the order of the line */
    size_t post_count, post_capacity;
};

/* A post at every point of the line, since another fence ends there or it
 * bends; between them so that no gap is too wide, no dip lets sheep under and
 * no crest earths the wire; and those that hard going asks for. */
enum fw_status fw_plan__run_find(const struct fw_plan_job *job, size_t field,
                                 const struct fw_point *line, size_t count,
                                 struct fw_plan__run *out,
                                 struct fw_error *err);
void fw_plan__run_release(struct fw_plan__run *run);

/* What it takes, with the length of the line as people measure it. */
struct fw_fence_count fw_plan__run_count(const struct fw_plan__run *run,
                                         double length_m,
                                         const struct fw_fence_spec *spec);

/* The run of one of the plan's fences. fences.c */
enum fw_status fw_plan__fence_run(const struct fw_plan_job *job,
                                  const struct fw_plan_fence *fence,
                                  struct fw_plan__run *out,
                                  struct fw_error *err);

enum fw_status fw_plan__run_post(struct fw_plan__run *run, double at_m,
                                 struct fw_point point, enum fw_post_why why,
                                 struct fw_error *err);

/* hard.c: where a line crosses an obstacle, in metres along it. A touch within
 * a metre of its ends is none: ditches run along boundaries. */
struct fw_plan__stations {
    double *at_m;
    size_t count, capacity;
};
enum fw_status fw_plan__cross(const struct fw_plan__obstacle *obstacle,
                              const struct fw_point *line, size_t count,
                              struct fw_plan__stations *out,
                              struct fw_error *err);
int fw_plan__crossing_posts(const struct fw_plan__obstacle *obstacle);
double fw_plan__crossing_min(const struct fw_plan__obstacle *obstacle);

/* slope.c: how much longer a line is on the ground; 1 without heights. */
double fw_plan__ground_share(const struct fw_raster *heights,
                             const struct fw_point *line, size_t count);
/* What goes up along it, and down: heights that waver a little do neither, but
 * the two ends differ by what goes up less what goes down. false: some place
 * has no height, and both are left alone. */
bool fw_plan__climb(const struct fw_raster *heights,
                    const struct fw_point *line, size_t count, double *up_m,
                    double *down_m);
/* Posts in dips and on crests of the piece from a to b, of which the posts
 * from first on are in the run; they are put among them, in order. */
enum fw_status fw_plan__even_out(const struct fw_raster *heights,
                                 double bottom_m, struct fw_point a,
                                 struct fw_point b, double from_m,
                                 struct fw_plan__run *run, size_t first,
                                 struct fw_error *err);

#endif
