/* The electric circuit of a plan, day by day: what a tester shows and what a
 * sheep feels along every fence that stands, where a fault would show, and what
 * readings in the field say. It needs the plan alone, no farm.
 *
 * Live sides of the boundary are joined at their corners; every other line is
 * fed at its first end where that stands on something live. One field's fences
 * are live at a time: the flock's, and any where lines stand. */
#ifndef FW_PLAN_POWER_H
#define FW_PLAN_POWER_H

#include <foldwright/circuit.h>
#include <foldwright/plan.h>

#ifdef __cplusplus
extern "C" {
#endif

/* The piece of fence that a section of the circuit is. */
struct fw_plan_stretch {
    size_t fence;  /* FW_NONE: a lead, a joint or a switch */
    int strand;    /* 0 is the bottom one; the boundary's are taken as one */
    double from_m; /* of the fence from its end A, where the section begins */
    bool last;     /* ends at the fence's far end */
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
FW_API enum fw_status fw_plan_circuit_make(const struct fw_plan *plan, int day,
                                           struct fw_plan_circuit *out,
                                           struct fw_error *err);
FW_API void fw_plan_circuit_release(struct fw_plan_circuit *circuit);

/* The place in the circuit of a place along a fence's strand; false: the fence
 * is not part of it, or the place is beyond its end. */
FW_API bool fw_plan_circuit_place(const struct fw_plan_circuit *circuit,
                                  size_t fence, int strand, double at_m,
                                  struct fw_circuit_place *out);

/* Does grass grow on that day? April to September north of the equator, the
 * other half of the year south of it (common practice, no source). */
FW_API bool fw_plan_growing(const struct fw_plan *plan, int day);

/* ---- what would help where the volts are short ---- */

enum fw_cure_kind {
    FW_CURE_CONDUCTOR, /* moved lines of a better wire */
    FW_CURE_BOND,      /* strands joined at both ends */
    FW_CURE_HOOK,      /* far ends hooked on to the boundary too */
    FW_CURE_MIDDLE,    /* the worst line fed in its middle */
    FW_CURE_MOW,       /* the grass mown under the wires */
    FW_CURE_ROD,       /* one more earth rod */
    FW_CURE_ENERGIZER, /* the next common size, or none over 5 J */
    FW_CURE_COUNT
};

struct fw_cure {
    enum fw_cure_kind kind;
    char text[128];
    double touched_v, open_v; /* least anywhere that day with it */
    double gain_v;            /* touched, over what it is without */
    bool enough;              /* it alone gives what is wanted that day */
};

/* Each is reckoned by itself on the day of that row of power_days. What makes
 * no sense there (joining one strand) is left out. */
FW_API enum fw_status fw_plan_cures(const struct fw_plan *plan, size_t row,
                                    struct fw_cure cures[FW_CURE_COUNT],
                                    size_t *count, struct fw_error *err);

/* The row of power_days with the least touched volts; FW_NONE: there is none.
 */
FW_API size_t fw_plan_worst_day(const struct fw_plan *plan);
FW_API size_t fw_plan_power_row(const struct fw_plan *plan, int day);

#ifdef __cplusplus
}
#endif
#endif
