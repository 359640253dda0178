/* The plan: its paddocks and fences, where and when, and the totals. All that
 * it holds besides is in what report.h writes of it.
 *
 * A plan owns all that it holds and needs no farm any more. Lengths and areas
 * are ellipsoidal. Every place on a field's boundary or on a cut is an index
 * into that field's vertices, so that neighbours and files agree to the last
 * digit. Days are those of date.h. */
#ifndef FW_PLAN_H
#define FW_PLAN_H

#include <foldwright/date.h>
#include <foldwright/error.h>
#include <foldwright/field.h>
#include <foldwright/kit.h>
#include <stdbool.h>
#include <stddef.h>

#ifdef __cplusplus
extern "C" {
#endif

struct fw_plan;

#define FW_ID 32

/* Rings of indexes into the field's vertices: pieces of rings, none closed,
 * outer ring first in each piece, anticlockwise. */
struct fw_plan_rings {
    size_t *vertices;
    size_t *ring_start; /* ring_count + 1 */
    size_t ring_count;
    size_t *piece_ring; /* piece_count + 1 */
    size_t piece_count;
};

enum fw_walk_untold {
    FW_WALK_TOLD,
    FW_WALK_NOT_GRAZED,
    FW_WALK_NO_WATER,
    FW_WALK_SHUT_OFF,  /* there is water, and it is not on what they have */
    FW_WALK_CUT_OFF,   /* a piece of the paddock is, from the water */
    FW_WALK_NOT_DRAWN, /* ground on the way whose shape is not known */
    FW_WALK_TOO_MUCH
};

struct fw_plan_paddock {
    char id[FW_ID];
    size_t field;
    char block[FW_ID]; /* "A-2"; empty where the field has no blocks */
    int seq;           /* over all fields, from 1 */
    double stay_days;  /* that it feeds them */
    double area_ha, plane_m2, perimeter_m;
    double usable_kg, demand_kg; /* dry matter, on its day; demand over the
                                    stay */
    double today_kg, third_kg;   /* usable as it stands on the plan's first day;
                                    and on its day if growth falls to a third */
    double other_kg; /* usable on its day by another shape of growth */
    double bare_kg;  /* usable on the first day if nothing had to stay */
    double head_per_ha, liveweight_kg_ha;
    double elongation;  /* length over width, 1 or more */
    int pieces;         /* that do not join: 1 as a rule */
    double narrow_m;    /* the narrowest place in it that is too narrow for this
                           flock; 0: there is none */
    bool walk_known;    /* to its water from all of it; else all three are 0 */
    double walk_mean_m; /* over its area */
    double walk_fed_m;  /* over the feed on it: the same where that is even */
    double walk_max_m;
    double climb_to_m, climb_back_m; /* upwards to the water and back, from the
                                        corner from which both are the most;
                                        NaN: no heights are known */
    enum fw_walk_untold walk_untold; /* why it is not known */
    size_t water; /* the plan's water of that index; FW_NONE: it has none */
    struct fw_plan_rings rings;
    char keep[8]; /* kept back and grazed last for: "storm", "heat", or "" */
    double soft_share;  /* of it, on wet ground; NaN: no map shows any */
    int shade, shelter; /* is there any: 1 no, 2 yes; 0: no map shows any */
};

enum fw_fence_role {
    FW_FENCE_PERIMETER, /* a side of the boundary, or the edge of a hole */
    FW_FENCE_STANDING,  /* parts two blocks */
    FW_FENCE_LANE,      /* along a lane or an apron */
    FW_FENCE_MOVED
};

/* How a person finds the place of a line's end. */
enum fw_paced {
    FW_PACED_UNTOLD,
    FW_PACED_SIDE, /* along a side of the boundary, from one of its corners */
    FW_PACED_LINE, /* along the line that it ends on, from an end of that */
    FW_PACED_STRAIGHT /* straight from the end of another line or a corner */
};

struct fw_plan_paced {
    enum fw_paced by;
    size_t corner;  /* side, straight: that counting starts from, or FW_NONE */
    size_t towards; /* side: its other corner, which may have no number */
    size_t fence;   /* line: that it ends on; straight: whose end counting
                       starts from; or FW_NONE */
    bool far_end;   /* from that fence's end B, not A */
    double along_m; /* from where counting starts */
    int paces;
    double bearing_deg; /* straight: from there to this end; else negative */
    size_t on_from; /* a fence set before that ends on the same side or line,
                       and nearer than where counting starts; or FW_NONE */
    int on_paces;   /* from that one's end; negative: there is none */
};

struct fw_plan_fence {
    char id[FW_ID]; /* "A03-04", "A-line-1", "A-lane-1", "A-side-2" */
    size_t field;
    enum fw_fence_role role;
    size_t from, to; /* first and last grazed paddock beside it; FW_NONE for the
                        perimeter */
    bool stood;      /* it stands before the plan begins, as a front does */
    size_t rank;     /* in the field's order of grazing, from 0: of the first
                        paddock for which it is needed, or what is tied to it
                        is; of the perimeter 0 */
    size_t side;     /* perimeter: the side, or FW_NONE for a hole's edge */
    size_t *line;    /* vertices of the field, one wherever another fence ends
                        on it */
    size_t line_count;
    double length_m, ground_m; /* on the map, along the slope */
    double wire_m;             /* of all strands, slack included */
    int strands, posts, reels; /* these and wire_m: of the perimeter 0 */
    double lay_min;    /* to lay the grass flat along it before it is set; 0: it
                          stands no taller than the lowest wire */
    double pace_share; /* moved: of a day's feed, for one pace on along both
                          sides; else 0 */
    double bearing_deg; /* from A to B; A is the first point, the end that is
                           fed */
    struct fw_plan_paced a, b; /* where its ends stand, but of the perimeter */
    bool volts_known;          /* it is live on some day, or should be */
    double open_v, touched_v;  /* least along it over the days it stands; 0
                                  where it has no path to the energizer */
};

struct fw_plan_totals {
    int paddocks;
    double moved_wire_m, standing_wire_m; /* of all lines, moved and others */
    double fence_m;                       /* all lines inside the fields */
    double fence_bound_m;     /* no layouts of these paddocks have less */
    struct fw_kit kit;        /* the most that stands at once, at any step */
    bool lack_known;          /* the farm says what it owns; else lack is 0 */
    struct fw_kit lack;       /* of it, beyond that */
    int handles;              /* in mid-line, for openings, the most at once */
    int carry_trips_per_move; /* armfuls of posts, the most of any move */
    double minutes_per_move;  /* of all moves, the last one too, on average */
    bool walk_known;          /* of every paddock; else all four are 0 */
    double walk_mean_m, walk_max_m;
    double walk_fed_m;   /* over the feed of each and the days it feeds them */
    double walk_bound_m; /* no plan with so many places of water has a shorter
                            mean */
    double litres_day, hot_l_day; /* that they drink: as expected, in heat
                                   */
    double on_hand_l;             /* to have by, which no grass is counted
                                          against */
    int haul_trips;     /* on such a day when all is hauled, 0 where nothing is;
                           negative when the tank is not told */
    int haul_trips_hot; /* the same in heat */
    double energizer_j;
    int earth_rods;
    bool cost_known; /* every row of the list has a price; else cost is 0 */
    double cost;
    double passes_per_move; /* on foot along a line, on average */
    int ties; /* the most ends that stand at once on the boundary or on nothing,
                 so that an anchor holds each; not those on another line, nor
                 of lines under 10 m */
};

FW_API void fw_plan_free(struct fw_plan *plan);

/* What belongs to a plan stays its own. NULL is answered with 0, NULL or
 * false, and so is an index that it has not. */
FW_API size_t fw_plan_paddock_count(const struct fw_plan *plan);
FW_API const struct fw_plan_paddock *
fw_plan_paddock_at(const struct fw_plan *plan, size_t paddock);
FW_API size_t fw_plan_fence_count(const struct fw_plan *plan);
FW_API const struct fw_plan_fence *fw_plan_fence_at(const struct fw_plan *plan,
                                                    size_t fence);
FW_API const struct fw_vertex *fw_plan_vertex_at(const struct fw_plan *plan,
                                                 size_t field, size_t vertex);
FW_API const struct fw_plan_totals *fw_plan_sums(const struct fw_plan *plan);

/* The days on which the flock first enters the paddock and last leaves it.
 * false: it was grazed before the plan begins, and both are left alone. */
FW_API bool fw_plan_stay_in(const struct fw_plan *plan, size_t paddock,
                            int *enter, int *leave);

#ifdef __cplusplus
}
#endif
#endif
