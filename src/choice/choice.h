/* What a layout costs a person, and the ground and the beginning of a plan for
 * a replay of its time. */
#ifndef FW_CHOICE_CHOICE_H
#define FW_CHOICE_CHOICE_H

#include "farm/farm.h"
#include "plan/plan.h"

/* What a candidate layout of a field costs a person. */
struct fw_plan_score {
    char layout[32]; /* its name, to plan it by */
    const char *pattern;
    size_t field, paddocks;
    double line_m;              /* in all */
    double moved_m, standing_m; /* of it; standing: block lines and lanes */
    double bound_m;             /* no layout of these paddocks has less line */
    double days;                /* that it feeds them */
    double minutes;    /* a grazing day: all moves as a person walks them, with
                          those that clear the field */
    struct fw_kit kit; /* the most that stands at once */
    bool set_first;    /* in that order of work; else leapfrog */
    bool fits_kit;     /* the farm owns that much, or has told nothing */
    bool cost_known;   /* reels, posts and wire have prices; else cost is 0 */
    double cost;       /* of that kit */
    double walk_low_m; /* to water, mean over the paddocks' ground: straight, so
                          that no way is shorter; to a trough that moves with
                          the flock, to the paddock's middle */
    double walk_m; /* the way that is walked, over what the flock has, where it
                      is known; else the same */
    double walk_high_m;  /* no way is longer: over a part of that ground at
                            least; as walk_m where that is known; HUGE_VAL: no
                            such is; NaN: nobody looked, as it did not lead */
    bool walk_exact;     /* walk_m is the way that is walked */
    double walk_most_m;  /* the longest such way */
    double walk_bound_m; /* no layout with so many places of water has a shorter
                            one on average; both NaN where it is not exact */
    double width_m;      /* of the narrowest paddock */
    double elongation;   /* of the longest one for its width, 1 or more */
    double longest_run_m; /* of a line, from end to end */
    double lost;          /* share of the grass that lanes and aprons take, 0 to
                             1 */
    double pace_share;    /* of a day's feed for a pace on along the longest
                             moved line */
    size_t overlong;      /* runs of more than two reels */
    size_t beyond_limits; /* paddocks and runs that break a practical limit, and
                             one more where too much is lost */
    size_t turns;         /* moves on which the flock walks back */
    size_t apart;         /* paddocks not reached over grazed ground */
    size_t refused;    /* steps at which the flock is not enclosed, or an end is
                          tied to nothing */
    double crossed_m;  /* ungrazed ground that they are walked over */
    size_t crossings;  /* and moves on which they are */
    size_t dry_nights; /* stays without water */
    size_t unfed;      /* lines that nothing live leads to */
    size_t narrow;     /* openings too narrow for this flock or with too little
                          room; of layouts that led also paddocks with a neck */
    double gate_m;     /* from the gate to the first paddock, or to the lane
                          that leads to it */
    bool far_first;    /* the far end is grazed first */
    double keep_short; /* stays for storms and heat that it cannot keep back */
    bool unbeaten; /* no other is as good in everything and better in some */
    bool wished;   /* would be chosen if the farm owned all that it takes */
    bool chosen;
};

struct fw_plan_scores {
    struct fw_plan_score *items; /* field after field */
    size_t count, capacity;
    struct fw_notes unplanned; /* fields that cannot be planned, by name */
};

void fw_plan_scores_release(struct fw_plan_scores *scores);

/* How things are before the plan's first move, for a replay of it; land is the
 * plan's. Release it when done. */
struct fw_plan_start {
    struct fw_time_start start;
    bool *stands, *grazed;
    struct fw_time_stay *before;
};
enum fw_status fw_plan_start(const struct fw_plan *plan,
                             const struct fw_land *land,
                             struct fw_plan_start *out, struct fw_error *err);
void fw_plan_start_release(struct fw_plan_start *start);

/* The ground of the plan, for a replay of its time: its lines are the fences,
 * and run as these do. What they take in minutes is not in it. FW_ENOMEM.
 * Release it when done. */
enum fw_status fw_plan_land(const struct fw_plan *plan, struct fw_land *out,
                            struct fw_error *err);

#endif
