/* What a plan goes on from: how far another one is done, and what really
 * happened meanwhile. Who writes that down asks with it, and who makes plans
 * answers. */
#ifndef FW_PLAN_ON_H
#define FW_PLAN_ON_H

#include "plan/plan.h"

/* Lambs taken from their dams: those dry off, and some lambs may stay. */
struct fw_plan_weaned {
    bool given;
    int head;         /* lambs that stay, a class of their own; 0: none do */
    double weight_kg; /* of one of them */
};

/* A stay that is over, or the one that they are in: as it was. */
struct fw_plan_season_stay {
    char id[FW_ID]; /* of its paddock */
    int enter, leave;
    double usable_kg; /* 0: they are in it still, and a plan that is gone on
                         from knows this and the rest */
    double demand_kg, stay_days, head_per_ha, liveweight_kg_ha;
};
/* A fence that was set or taken down, and the move that did. */
struct fw_plan_season_line {
    char id[FW_ID];
    size_t move;
    bool down;  /* taken, else set */
    bool ahead; /* set for the paddock after the one that they came into */
};

struct fw_plan_on {
    const struct fw_plan *from;
    size_t move;        /* of it, the last one that was made; FW_NONE: none is,
                           and the one that it went on from brought them here */
    char taken[FW_ID];  /* of its paddocks the one that they are let into next,
                           before those that would come; "": the next one */
    int day;            /* of the next one */
    bool missed;        /* or, after one on which nobody came, the first day
                           from then on on which the flock is moved */
    int head;           /* grown sheep counted last; 0: those of the farm */
    size_t class_count; /* of heads and bought, those of the farm */
    const int *heads;   /* by class of the farm, as told last; NULL: those */
    const int *bought;  /* by class, the day since which there are more of it;
                           FW_NO_DAY: none. NULL: of all */
    struct fw_plan_weaned weaned;
    double minutes_share; /* that the shepherd takes of what the farm's rates
                             say; 0: all of it */
    const double *size;   /* by field: of the ground that the farm's forage asks
                             for, by what was seen; NULL: 1 */
    size_t fence;         /* of it, that was set otherwise; FW_NONE: none was */
    double on_m[2]; /* its ends A and B, so far on as the flock goes, along
                       what they end on; negative: back */
    bool brief;     /* only ground, moves and paces; nothing that is told of
                       them besides */
    bool rounds;    /* though brief, what comes after the first round too */
    const struct fw_plan_season_stay *season; /* the stays so far */
    size_t season_count;
    /* The plan that the season began with, where the whole of it is told. NULL:
     * it begins with the next move. */
    const struct fw_plan *base;
    size_t made; /* moves: one more than stays when they are out of the last */
    const struct fw_plan_season_line *works; /* in the order of the work */
    size_t work_count;
};

#endif
