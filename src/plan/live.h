/* Making circuits of a plan's days, shared by the power files of this folder.
 */
#ifndef FW_PLAN_LIVE_H
#define FW_PLAN_LIVE_H

#include "plan/days.h"

#include <foldwright/plan_power.h>

/* Room and marks that serve one day after the other. */
struct fw_plan__wirer {
    const struct fw_plan *plan;
    struct fw_plan__days days;
    const struct fw_farm_wiring *wiring;
    bool middle; /* lines are fed in their middle, by a lead from their end */
    double leakage_factor; /* over what the classes say; 1 */
    bool growing;
    size_t *offset;      /* of each field's vertices in the next two */
    size_t *node;        /* at a vertex; FW_NONE */
    unsigned char *mark; /* of a vertex */
    size_t vertex_count;
    size_t *live; /* fences that should be live that day */
    size_t live_count;
    bool *active;                  /* fields */
    size_t *actives, active_count; /* the same as a list */
    struct fw_nights
        *stood;  /* by field: when lines of it stand, days included */
    size_t home; /* the flock's field, or FW_NONE */
};

enum fw_status fw_plan__wirer_init(struct fw_plan__wirer *wirer,
                                   const struct fw_plan *plan,
                                   const struct fw_farm_wiring *wiring,
                                   struct fw_error *err);
void fw_plan__wirer_release(struct fw_plan__wirer *wirer);

enum fw_status fw_plan__check_day(const struct fw_plan *plan, int day,
                                  struct fw_error *err);

/* power_live.c: fills live, active and actives; node and mark are empty. */
void fw_plan__find_live(struct fw_plan__wirer *wirer, int day);

/* Of what stands and is hooked on in wirer->days; grass as on that day. *out
 * may hold the circuit of another day: its room is used again. */
enum fw_status fw_plan__wire(struct fw_plan__wirer *wirer, int day,
                             const struct fw_plan_power *power,
                             struct fw_plan_circuit *out, struct fw_error *err);

/* power_feed.c: from the energizer's node 0 to where each field is fed. Marks
 * first, when no section stands yet; then the leads. */
void fw_plan__mark_feeds(struct fw_plan__wirer *wirer);
enum fw_status fw_plan__add_feeds(struct fw_plan__wirer *wirer,
                                  struct fw_plan_circuit *out,
                                  struct fw_error *err);

enum {
    FW_PLAN__HUB = 1, /* something is joined here */
    FW_PLAN__HOST = 2 /* a live line passes */
};

size_t fw_plan__node_at(struct fw_plan__wirer *wirer,
                        struct fw_plan_circuit *out, size_t field,
                        size_t vertex);
enum fw_status fw_plan__add_section(struct fw_plan_circuit *out,
                                    const struct fw_circuit_section *section,
                                    const struct fw_plan_stretch *stretch,
                                    struct fw_error *err);
bool fw_plan__is_hot(const struct fw_plan *plan,
                     const struct fw_plan_fence *fence);

/* power_day.c: one circuit solved, and its worst. */
struct fw_plan__solver {
    struct fw_plan__wirer wirer;
    struct fw_plan_circuit circuit;
    struct fw_circuit_answer answer;
};
void fw_plan__solver_release(struct fw_plan__solver *solver);
/* As things stand in wirer.days. */
enum fw_status fw_plan__solve(struct fw_plan__solver *solver, int day,
                              const struct fw_plan_power *power,
                              struct fw_error *err);
enum fw_status fw_plan__solve_day(struct fw_plan__solver *solver, int day,
                                  const struct fw_plan_power *power,
                                  struct fw_plan_power_day *out,
                                  struct fw_error *err);

/* power_read.c: the readings of all steps that ask for one. */
enum fw_status fw_plan__readings(struct fw_plan *plan,
                                 struct fw_plan__solver *solver,
                                 const struct fw_plan_power *power,
                                 struct fw_error *err);

/* power_size.c */
struct fw_plan__size {
    double joules;
    struct fw_plan_power power;
    int rods;
};
enum fw_status fw_plan__size(const struct fw_plan *plan,
                             const struct fw_farm_wiring *wiring, double joules,
                             struct fw_plan__size *out, struct fw_error *err);
enum { FW_PLAN__SIZES = 6 };
extern const double fw_plan__sizes_j[FW_PLAN__SIZES];

enum fw_status fw_plan__power_days(struct fw_plan_job *job,
                                   struct fw_plan__size *chosen,
                                   struct fw_error *err);

#endif
