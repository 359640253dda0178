/* Making circuits of a plan's days, shared by the power files of this folder.
 */
#ifndef FW_LIVE_LIVE_H
#define FW_LIVE_LIVE_H

#include "choice/days.h"
#include "figures/mark.h"

#include "live/plan_power.h"

/* Room and marks that serve one day after the other. */
struct fw_plan__circuits {
    const struct fw_plan *plan;
    struct fw_plan__days days;
    const struct fw_farm_wiring *wiring;
    bool middle; /* lines are fed in their middle, by a lead from their end */
    double leakage_factor; /* over what the classes say; 1 */
    bool growing;
    int day;
    int *tall_to;   /* by fence: the day from which both its sides are grazed */
    size_t *offset; /* of each field's vertices in the next two */
    size_t *node;   /* at a vertex; FW_NONE */
    size_t *earth;  /* the same, of the earth in an earth-return */
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

enum fw_status fw_plan__circuits_init(struct fw_plan__circuits *circuits,
                                      const struct fw_plan *plan,
                                      const struct fw_farm_wiring *wiring,
                                      struct fw_error *err);
void fw_plan__circuits_release(struct fw_plan__circuits *circuits);

enum fw_status fw_plan__check_day(const struct fw_plan *plan, int day,
                                  struct fw_error *err);

/* which.c: fills live, active and actives; node and mark are empty. */
void fw_plan__find_live(struct fw_plan__circuits *circuits, int day);

/* grass.c: fills tall_to. */
enum fw_status fw_plan__find_tall(struct fw_plan__circuits *circuits,
                                  struct fw_error *err);

/* Of what stands and is hooked on in circuits->days; grass as on that day. *out
 * may hold the circuit of another day: its room is used again. */
enum fw_status fw_plan__wire(struct fw_plan__circuits *circuits, int day,
                             const struct fw_plan_power *power,
                             struct fw_plan_circuit *out, struct fw_error *err);

/* fed.c: from the energizer's node 0 to where each field is fed. Marks
 * first, when no section stands yet; then the leads. */
void fw_plan__mark_feeds(struct fw_plan__circuits *circuits);
enum fw_status fw_plan__add_feeds(struct fw_plan__circuits *circuits,
                                  struct fw_plan_circuit *out,
                                  struct fw_error *err);

enum {
    FW_PLAN__HUB = 1, /* something is joined here */
    FW_PLAN__HOST = 2 /* a live line passes */
};

/* Where wires are joined: hot ones, and in an earth-return earths, else
 * FW_NONE. */
struct fw_plan__hub {
    size_t hot, earth;
};
struct fw_plan__hub fw_plan__hub_at(struct fw_plan__circuits *circuits,
                                    struct fw_plan_circuit *out, size_t field,
                                    size_t vertex);
struct fw_plan__hub fw_plan__new_hub(struct fw_plan_circuit *out);
/* From one to the other, hot and earth each by a wire of its own. */
enum fw_status fw_plan__add_lead(struct fw_plan_circuit *out,
                                 const struct fw_plan__hub *from,
                                 const struct fw_plan__hub *to, double length_m,
                                 double ohm_m, double ohm,
                                 struct fw_error *err);
enum fw_status fw_plan__add_section(struct fw_plan_circuit *out,
                                    const struct fw_circuit_section *section,
                                    const struct fw_plan_stretch *stretch,
                                    struct fw_error *err);
bool fw_plan__is_hot(const struct fw_plan *plan,
                     const struct fw_plan_fence *fence);

/* strand.c: all strands of a live fence. */
enum fw_status fw_plan__add_line(struct fw_plan__circuits *circuits,
                                 struct fw_plan_circuit *out, size_t index,
                                 struct fw_error *err);

/* Far ends are hooked on where a wire has one: at end B, unless each wire there
 * turns and is hooked on by its second end. */
bool fw_plan__hooked_at_b(const struct fw_plan__circuits *circuits,
                          const struct fw_plan_fence *fence);

/* solve.c: one circuit solved; day.c: its worst. */
struct fw_plan__solver {
    struct fw_plan__circuits circuits;
    struct fw_plan_circuit circuit;
    struct fw_circuit_answer answer;
};
void fw_plan__solver_release(struct fw_plan__solver *solver);
/* A stretch of live fence, and what a sheep has of it: between one wire and the
 * ground, in an earth-return between a hot wire and the earth beside it. */
struct fw_plan__stretch_volts {
    size_t fence;
    double from_m; /* along the fence */
    bool live, last;
    double least_touched_m; /* from from_m on */
    struct fw_circuit_volts least_touched, least_open;
    double alone_v; /* least between one wire and the ground */
    double end_v;   /* on a tester at its far end */
};
size_t fw_plan__stretch_count(const struct fw_plan__solver *solver);
/* False: it is no fence, but a lead or a joint. */
bool fw_plan__stretch_volts(const struct fw_plan__solver *solver, size_t index,
                            struct fw_plan__stretch_volts *out);

/* As things stand in circuits.days. */
enum fw_status fw_plan__solve(struct fw_plan__solver *solver, int day,
                              const struct fw_plan_power *power,
                              struct fw_error *err);
enum fw_status fw_plan__solve_day(struct fw_plan__solver *solver, int day,
                                  const struct fw_plan_power *power,
                                  struct fw_plan_power_day *out,
                                  struct fw_error *err);

/* read.c: the readings of all steps that ask for one. */
enum fw_status fw_plan__readings(struct fw_plan *plan,
                                 struct fw_plan__solver *solver,
                                 const struct fw_plan_power *power,
                                 struct fw_error *err);
/* Would all of them be enough? */
enum fw_status fw_plan__try_readings(const struct fw_plan *plan,
                                     struct fw_plan__solver *solver,
                                     const struct fw_plan_power *power,
                                     bool *enough, struct fw_error *err);

/* cure.c: a plan's wiring and power with one thing changed. */
struct fw_plan__trial {
    struct fw_farm_wiring wiring;
    struct fw_plan_power power;
    bool middle; /* lines are fed in their middle */
};
/* Of that kind, for that day's worst place; what it is called and costs goes
 * into *cure. False: it makes no sense there. */
bool fw_plan__change(const struct fw_plan *plan,
                     const struct fw_plan_power_day *day,
                     struct fw_plan__trial *trial, struct fw_cure *cure);

/* save.c: the cheapest cure with which a smaller energizer than the one
 * that was sized does, by half a joule or more; joules 0: there is none. */
enum fw_status fw_plan__cheaper(const struct fw_plan *plan, struct fw_cure *out,
                                struct fw_error *err);

/* size.c */
struct fw_plan__size {
    double joules;
    struct fw_plan_power power;
    int rods;
};
enum fw_status fw_plan__size(const struct fw_plan *plan,
                             const struct fw_farm_wiring *wiring, double joules,
                             struct fw_plan__size *out, struct fw_error *err);
enum { FW_PLAN__SIZES = FW_EFFORT(6) }; /* those of FW_GUESS_OPEN_V_AT */

enum fw_status fw_plan__power_days(struct fw_plan_job *job,
                                   struct fw_plan__size *chosen,
                                   struct fw_error *err);

/* power.c: the energizer with its earth, and the volts of each day. */
enum fw_status fw_plan__power(struct fw_plan_job *job, struct fw_error *err);

#endif
