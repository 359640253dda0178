/* The electric circuit of a plan, day by day: what a tester shows and what a
 * sheep feels along every fence that stands, where a fault would show, and what
 * readings in the field say. It needs the plan alone, no farm.
 *
 * Live sides of the boundary are joined at their corners; every other line is
 * fed at its first end where that stands on something live. One field's fences
 * are live at a time: the flock's, and any where lines stand. */
#ifndef FW_LIVE_PLAN_POWER_H
#define FW_LIVE_PLAN_POWER_H

#include "figures/mark.h"
#include "plan/plan.h"
#include "power/circuit_use.h"

/* The piece of fence that a section of the circuit is. */
struct fw_plan_stretch {
    size_t fence;  /* FW_NONE: a lead, a joint or a switch */
    int strand;    /* 0 is the bottom one; the boundary's are taken as one */
    double from_m; /* of the fence from its end A, where the section begins */
    bool last;     /* ends at the fence's far end */
    bool earth;    /* an earth strand, in an earth-return; of a boundary its
                      strand 1 */
};

/* {0} is an empty one; release when done. */
struct fw_plan_circuit {
    struct fw_circuit net;
    struct fw_plan_stretch *stretches; /* one a section */
    size_t stretch_capacity;
    int day;
    bool growing; /* the grass */
};

/* With the plan's own wiring and energizer. FW_EINPUT: the day is outside of
 * the plan. */
enum fw_status fw_plan_circuit_make(const struct fw_plan *plan, int day,
                                    struct fw_plan_circuit *out,
                                    struct fw_error *err);
void fw_plan_circuit_release(struct fw_plan_circuit *circuit);

/* The place in the circuit of a place along a fence's strand; false: the fence
 * is not part of it, or the place is beyond its end. */
bool fw_plan_circuit_place(const struct fw_plan_circuit *circuit, size_t fence,
                           int strand, double at_m,
                           struct fw_circuit_station *out);

/* Does grass grow on that day? April to September north of the equator, the
 * other half of the year south of it (common practice, no source). */
bool fw_plan_growing(const struct fw_plan *plan, int day);

/* ---- what would help where the volts are short ---- */

/* In the order of what they cost where no price is told: nothing to buy, work,
 * parts, an energizer. */
enum fw_cure_kind {
    FW_CURE_BOND,      /* strands joined at both ends */
    FW_CURE_HOOK,      /* far ends hooked on to the boundary too */
    FW_CURE_MOW,       /* the grass mown under the wires */
    FW_CURE_ROD,       /* one more earth rod */
    FW_CURE_MIDDLE,    /* the moved lines fed in their middle */
    FW_CURE_CONDUCTOR, /* moved lines of a better wire */
    FW_CURE_ENERGIZER, /* the next common size, or none over 5 J */
    FW_CURE_COUNT
};

struct fw_cure {
    enum fw_cure_kind kind;
    char text[128];
    double touched_v, open_v; /* least anywhere that day with it */
    double gain_v;            /* touched, over what it is without */
    bool enough;              /* it alone gives what is wanted that day */
    double cost;              /* in the farm's money; 0: nothing to buy;
                                 negative: no price is told, or it is work */
    /* What fw_plan_saves found. */
    double joules; /* the least size that is enough on every day with it, where
                      the plan is enough as it is a smaller one; 0: none */
    int rods;      /* and its rods */
    double saves;  /* what those cost less than the plan's; negative: no price
                      is told, or they cost more */
};

/* Each is reckoned by itself on the day of that row of power_days, the cheapest
 * first: by their costs where all of those are told, else by kind. What makes
 * no sense there (joining one strand) is left out. */
enum fw_status fw_plan_cures(const struct fw_plan *plan, size_t row,
                             struct fw_cure cures[FW_CURE_COUNT], size_t *count,
                             struct fw_error *err);

/* The energizer that would do with that cure, of a size that was told too. */
enum fw_status fw_plan_saves(const struct fw_plan *plan, struct fw_cure *cure,
                             struct fw_error *err);

/* The row of power_days with the least touched volts; FW_NONE: there is none.
 */
size_t fw_plan_worst_day(const struct fw_plan *plan);
size_t fw_plan_power_row(const struct fw_plan *plan, int day);

/* NULL: that step does not read that line. */
const struct fw_plan_reading *fw_plan_reading_of(const struct fw_plan *plan,
                                                 size_t step, size_t fence);

/* ---- what feeds the energizer ---- */

struct fw_plan_feeding {
    double draw_w, draw_a; /* at 12 V */
    double battery_ah;     /* for the days between charges */
    double panel_w;        /* for the hours of sun; 0: no common one will do */
    double kwh_month;      /* from the mains */
};

enum fw_status fw_plan_feed(const struct fw_plan *plan,
                            struct fw_plan_feeding *out, struct fw_error *err);

/* ---- a fault, and where a tester finds it ---- */

enum fw_fault_kind { FW_FAULT_BROKEN, FW_FAULT_SHORT, FW_FAULT_RAIN };

struct fw_plan_fault {
    enum fw_fault_kind kind;
    size_t fence;
    int strand; /* of a broken wire; 0 is the bottom one, -1 all of them */
    double at_m, ohm;
};

enum { FW_PLAN_MOST_STRANDS = FW_BOUND(8) };

/* A place to put the tester on. */
struct fw_plan_look {
    size_t fence;
    size_t post; /* counted from 1 at end A; 0: there is no post */
    double at_m;
    int strands; /* that can be told apart: 1 on the boundary */
    double sound_v[FW_PLAN_MOST_STRANDS], faulty_v[FW_PLAN_MOST_STRANDS];
};

struct fw_plan_looks {
    struct fw_plan_look *items; /* line by line, each from its end A */
    size_t count, capacity;
    size_t after, before; /* the fault lies between these two, as the readings
                             show it; FW_NONE: they do not show it */
};

/* What was learned from readings: {0} is nothing. */
struct fw_plan_learned {
    bool known;
    double leakage_factor, earth_ohm;
};

/* Every post of the line with the fault, some of each other one. Release *out
 * when done. FW_EINPUT: the day is outside of the plan, or the fence does not
 * stand or is not live that day. */
enum fw_status fw_plan_look_for(const struct fw_plan *plan, int day,
                                const struct fw_plan_fault *fault,
                                const struct fw_plan_learned *learned,
                                struct fw_plan_looks *out,
                                struct fw_error *err);
void fw_plan_looks_release(struct fw_plan_looks *looks);

/* ---- readings in the field ---- */

struct fw_plan_measured {
    size_t fence;
    double at_m, open_v;
};

/* What the readings of that day say of leakage and earth, and the volts of
 * every row of power_days with that: rows has power_day_count of them. */
enum fw_status fw_plan_learn(const struct fw_plan *plan, int day,
                             const struct fw_plan_measured *readings,
                             size_t count, struct fw_circuit_fit *fit,
                             struct fw_plan_power_day *rows,
                             struct fw_error *err);

#endif
