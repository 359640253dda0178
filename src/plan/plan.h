/* The plan: paddocks, fences, posts, water, gates, energizer, findings, moves,
 * the list to buy and the totals, put together from the farm.
 *
 * A plan owns all that it holds and needs no farm any more; plan.json carries
 * it whole. Lengths and areas that people see are ellipsoidal. Every place on
 * a field's boundary or on a cut is an index into that field's vertices, so
 * that neighbours and files agree to the last digit. Days are those of date.h.
 *
 * Where the flock is when, what stands and what is open is all in `time`; with
 * the land that fw_plan_land makes of the plan a replay (moves.h) tells it. */
#ifndef FW_PLAN_PLAN_H
#define FW_PLAN_PLAN_H

#include "base/origin.h"
#include "fence/fence.h"
#include "forage/forage.h"
#include "geo/geo.h"
#include "moves/moves.h"
#include "plan/terms.h"
#include "power/power.h"
#include "safety/safety.h"
#include <foldwright/date.h>
#include <foldwright/error.h>
#include <foldwright/plan.h>

/* A place that is no vertex. When not given the rest is 0. */
struct fw_plan_place {
    bool given;
    struct fw_point plane; /* of its field */
    struct fw_lonlat lonlat;
    struct fw_xy file; /* in the field file's system */
};

struct fw_plan_field {
    char *name;
    char *part_of; /* the field that it is a part of, fenced from the others;
                      NULL: it is whole */
    char *source;  /* the file it came from; "" when it came from none */
    struct fw_origin origin;
    char *crs;             /* of its file */
    double crs_accuracy_m; /* of its shift to WGS 84; negative: not stated */
    struct fw_plane plane;
    struct fw_vertex *vertices; /* those of the file, bow points, cut points */
    size_t vertex_count;
    struct fw_plan_rings rings; /* with every fence end as a vertex */
    size_t *corners;            /* vertices, clockwise */
    size_t corner_count;
    struct fw_farm_side *sides; /* corner_count */
    /* Where ground is taken off: what people call each of the corners, and the
     * side from it to the next; 0 is no corner or side of the whole field, but
     * an edge of what is taken off. Both have corner_count entries, or none
     * when all are called by their own numbers. */
    size_t *corner_numbers, *side_numbers;
    size_t corner_number_count, side_number_count;
    enum fw_holds hole_holds;
    double area_ha;   /* of all of it */
    double plane_m2;  /* of what is cut, in the plane */
    double grazed_ha; /* less what is taken off and what lanes and aprons take;
                         0 without a plan */
    double perimeter_m;   /* of what is cut, its outer ring */
    double rotation_days; /* that it feeds them; 0 without a plan */
    double usable_kg_ha;  /* by the sward, for the usual length of its stays */
    double mass_kg_ha, residual_kg_ha;
    double grass_m, left_m; /* how high it stands, and when they have left; 0:
                               nobody told */
    double use;             /* 0 to 1 */
    enum fw_use_of use_of;
    char growth_told[64];     /* "northern-ireland"; "": one rate, or nothing */
    double growth_kg_ha;      /* on the first day; NaN: nobody told any */
    double winter_loss_share; /* of what stands, over a winter, as counted */
    double winter_least_share, winter_most_share; /* that it may be */
    char winter_place[16]; /* where that was measured; "": nobody told one */
    double still_days;     /* that it would feed them if nothing grew or went;
                              0 without a plan */
    int good_days;         /* nobody told growth: for so many days the plan is
                              within 20 % at ordinary growth; 0: it was told,
                              or nothing grows */
    char layout[32];       /* "blocks-4-112": how it is cut up */
    char pattern[16];      /* "blocks" */
    bool far_first;        /* the far end is grazed first */
    double direction_deg; /* the flock's, anticlockwise from east; NaN without a
                             plan */
    double fence_bound_m; /* no layout of these paddocks has less line */
    double last_share;    /* of its target that the last paddock holds */
    double left_kg;       /* usable feed beyond what they eat in the last stay;
                             negative: what is missing; NaN without a plan */
    size_t first_paddock, paddock_count; /* no paddocks: it has no plan */
    size_t first_fence, fence_count;
    char *no_plan; /* why it has none; NULL: it has one */
    struct fw_plan_place gate;
    struct fw_plan_place water;
    struct fw_plan_place park; /* where vehicle and spare posts stand, if not at
                                  the gate */
    double road_m; /* by the maps, from where the tank is filled to the gate; 0:
                      not known, or told for the whole plan */
};

/* Ground that is walked and not grazed, field after field. As cells of the
 * ground they follow the paddocks of all fields. */
struct fw_plan_lane {
    char id[FW_ID]; /* "lane A", "apron B" */
    size_t field;
    bool apron; /* about a water point; else a way for stock */
    double area_ha, plane_m2;
    struct fw_plan_rings rings;
};

struct fw_plan_post {
    char id[FW_ID];
    size_t fence;
    double at_m; /* along it from A */
    enum fw_post_why why;
    struct fw_plan_place place;
};

/* Hard going that a fence crosses: what it costs beyond the rest. */
struct fw_plan_crossing {
    size_t fence;
    char what[80]; /* "hard going Mill ditch" */
    int times;
    int posts;      /* of the fence's, in all */
    double minutes; /* to set it, in all */
};

/* A fence that stands across the way of the loaded tank, from the gate to the
 * trough that a move brings; in the order of the way. */
struct fw_plan_passage {
    size_t move; /* in time */
    size_t fence;
    bool opened;   /* for the tank; else it stops before the first of these */
    double at_m;   /* where, along the fence from its end A */
    bool at_flock; /* the flock is on one side of it */
    double rest_m; /* straight to the trough, from where the tank comes nearest
                      to it with this one shut */
    struct fw_plan_place place; /* where it is opened */
};

struct fw_plan_water {
    char id[FW_ID];
    char kind_of[16]; /* "trough", that moves; "fixed"; "source", where the tank
                         is filled */
    size_t field;
    int from, to; /* days; to is the day after the last */
    double litres_day, hot_l_day, on_hand_l; /* as in the totals */
    struct fw_plan_place place;
    size_t opening; /* a trough is paced straight from where they come in; of
                       what does not move, or where nobody told a way in,
                       FW_NONE, and the two below are not told */
    int paces;
    double bearing_deg;
    size_t fence; /* that a trough stands under, half on either side; FW_NONE:
                     under none */
};

/* A gate, or the place where a line is opened for a move: one for each opening
 * of `time`, of the same index. */
struct fw_plan_gate {
    char id[FW_ID];
    size_t field;
    char kind_of[16]; /* "gate", "opening" */
    size_t fence;     /* that is opened; FW_NONE: a gate */
    enum fw_opening_kind where;
    double at_m;     /* along the fence from A, its middle; of a gate 0 */
    int on;          /* day of its first use; FW_NO_DAY for a gate */
    size_t from, to; /* paddocks, at its first use; FW_NONE: a gate, or it leads
                        from or to a lane */
    double width_m;  /* of a gate 0: nobody told */
    double room_m;   /* free on its shallower side, as far as was looked; of a
                        gate 0 */
    bool tight;      /* too narrow for this flock, or too little room beside */
    struct fw_plan_place place; /* the middle of it */
};

struct fw_plan_finding {
    char id[FW_ID];
    char rule[FW_ID]; /* of the table of checks: "road-cross" */
    char about[96];   /* fence and feature */
    char feature[80]; /* role, voltage and name of the feature */
    size_t field;     /* or FW_NONE */
    size_t fence;     /* or FW_NONE: of the energizer, of no fence */
    enum fw_level level;
    bool measured;
    double distance_m, wanted_m;
    char text[384];
    char source[160];
    struct fw_plan_place place;
};

/* One caution of the plan's page. */
struct fw_plan_caution {
    char id[24];
    char who[8];   /* "people" or "sheep" */
    char when[24]; /* "before you begin" */
    char text[208];
    char source[160];
    char tried[8]; /* on this plan: "kept", "broken", "looked" (by a person),
                      "no", or "" where there is no figure to try */
};

/* Days on which the same fences stand, and so the same volts. */
struct fw_plan_power_day {
    int from, to; /* to is the day after the last */
    size_t fence; /* where a sheep feels least; FW_NONE: nothing is live */
    double at_m;  /* along that from its end A */
    double touched_v, open_v; /* there */
    double least_open_v;      /* on a tester, anywhere */
    double source_v;          /* on a tester at the energizer */
    int dead;                 /* lines without a path to the energizer */
    bool enough;              /* all that is live has what is wanted */
    double alone_v; /* earth-return: least of a sheep that stands on the ground
                       and touches one hot wire alone; else as touched_v */
};

/* A line that was set is read at its far end, with what stands and is hooked on
 * at that step. Whatever leaks more than was reckoned makes a sheep's share of
 * the reading greater, never smaller, so that from wanted_v on it has enough
 * where the tester was; what a bad joint takes no tester shows. */
struct fw_plan_reading {
    size_t step;      /* in fw_time.steps */
    size_t fence;     /* each of the step's lines has a reading */
    double far_v;     /* by the plan; the least of its strands; 0: it is dead */
    double touched_v; /* least along it while a sheep touches it */
    double wanted_v;  /* a reading under it is a fault; over far_v: the plan
                         itself is too little; 0: it is dead */
};

/* The energizer and its earth as the circuit has them. */
struct fw_plan_power {
    double open_v, internal_ohm;
    double earth_ohm;
    int rods_by_joules, rods_by_test; /* by_test 0: no number passes it */
    enum fw_earth_rule decided;
    double rod_test_v; /* what the last rod should read, fence shorted */
    double least_j;    /* the joule rule that the farm told asks for so much; 0:
                          it told none */
    bool earth_return; /* a strand of each line is an earth, hooked on to the
                          rods: fw_power_is_earth_strand. Volts are those
                          between it and the hot one beside it */
};

/* What the farm tells of the price of what would help; negative: nothing. */
struct fw_plan_prices {
    double earth_rod, joule, lead_m, copper_wire_m;
};

struct fw_plan {
    char *farm_name;
    struct fw_inputs inputs; /* what it was made from, to tell a stale plan */
    struct fw_told told;     /* beside a farm file, to go on from it */
    enum fw_units units;
    char *crs; /* of plan.gpkg: the fields' own, else "OGC:CRS84" */
    struct fw_flock_class *classes;
    size_t class_count;
    struct fw_flock_sums flock;
    int start_day, end_day; /* end: the day after the last stay */
    int ahead_day; /* what is before it is over, and stands as it was by the
                      farm's log; FW_NO_DAY: nothing is over */
    bool back_fence;
    double pace_m;
    double tank_l;
    struct fw_farm_hauling hauling;
    bool dry_soil;
    struct fw_weather_table weather;
    struct fw_energizer energizer;
    struct fw_plan_place energizer_place;
    struct fw_farm_wiring wiring;
    struct fw_plan_power power;
    struct fw_plan_power_day *power_days;
    size_t power_day_count;
    struct fw_plan_reading *readings; /* in the order of the steps */
    size_t reading_count, reading_capacity;
    struct fw_fence_spec moved;
    struct fw_plan_prices prices;
    unsigned concerns; /* enum fw_concern, for the page of cautions */
    double legume;     /* negative: not told */
    char currency[8];
    int lambing_day; /* its first one; FW_NO_DAY: nobody told */
    enum fw_season season;
    enum fw_field_order field_order;
    char *use_source, *density_source, *intake_source, *water_source;

    struct fw_plan_field *fields;
    size_t field_count, field_capacity;
    struct fw_plan_paddock *paddocks;
    size_t paddock_count, paddock_capacity;
    struct fw_plan_lane *lanes;
    size_t lane_count, lane_capacity;
    struct fw_plan_fence *fences;
    size_t fence_count, fence_capacity;
    struct fw_plan_post *posts;
    size_t post_count, post_capacity;
    struct fw_plan_crossing *crossings;
    size_t crossing_count, crossing_capacity;
    struct fw_plan_passage *passages; /* in the order of the moves */
    size_t passage_count, passage_capacity;
    struct fw_plan_water *waters;
    size_t water_count, water_capacity;
    struct fw_plan_gate *gates;
    size_t gate_count, gate_capacity;
    struct fw_plan_finding *findings;
    size_t finding_count, finding_capacity;
    struct fw_plan_caution *cautions; /* the page of cautions for this plan */
    size_t caution_count;
    struct fw_time time; /* its cells are the paddocks, and in its land lanes
                            and what lies behind fronts after them; its lines
                            are the fences, its openings the gates; its stays
                            are in the order of the paddocks, round after
                            round */
    bool *is_set; /* by fence, what fw_plan_is_set says; NULL: it looks */
    struct fw_material *materials;
    size_t material_count, material_capacity;
    struct fw_farm_default *defaults;
    size_t default_count, default_capacity;
    struct fw_plan_totals totals;
    struct fw_notes untold; /* what nobody has said and is dangerous */
    struct fw_notes notes;  /* what else to know */
};

/* The move on that day; FW_EPLAN: there is none, with the nearest ones. With
 * FW_NO_DAY the first. */
enum fw_status fw_plan_find_move(const struct fw_plan *plan, int day,
                                 size_t *move, struct fw_error *err);

/* The first move that is not over; of a plan that is all over the last one. */
size_t fw_plan_next_move(const struct fw_plan *plan);

/* What is ahead, as a plan that begins there: stays, and the first day. It
 * borrows all that it has. */
struct fw_plan fw_plan_ahead(const struct fw_plan *plan);

/* What people call a corner or a side of a field, from 1; 0: nothing. */
size_t fw_plan_corner_number(const struct fw_plan_field *field, size_t corner);
size_t fw_plan_side_number(const struct fw_plan_field *field, size_t side);

/* Is the boundary hot where that vertex of the field stands? The better answer
 * of two sides at a corner; untold off the outer boundary. */
enum fw_answer fw_plan_hot_at(const struct fw_plan *plan, size_t field,
                              size_t vertex);

/* Is the line hooked on at its end B too, so that it is only dead when both are
 * undone? No where nothing there is live, or nobody hooks far ends on. */
bool fw_plan_is_hooked_at_b(const struct fw_plan *plan, size_t fence);

/* The stays of the first round, in which each paddock is grazed once: they come
 * before all others, in the order of the paddocks. */
size_t fw_plan_first_stays(const struct fw_plan *plan);

/* Those of them in a field, which follow each other; and how many of its
 * paddocks, the first ones, have none: they were grazed before the plan begins.
 */
struct fw_list fw_plan_stays_of(const struct fw_plan *plan, size_t field);
size_t fw_plan_grazed_before(const struct fw_plan *plan, size_t field);
bool fw_plan_is_grazed(const struct fw_plan *plan, size_t paddock);

/* From the first night in a field to the last one, of all rounds: they may be
 * elsewhere in between. */
struct fw_nights fw_plan_nights_of(const struct fw_plan *plan, size_t field);

/* How many days a stay feeds them. */
double fw_plan_fed_days(const struct fw_plan *plan, size_t stay);

/* How many of its days that is too few; 0: it feeds them, but for a little. */
double fw_plan_lack_days(const struct fw_plan *plan, size_t stay);

/* Is the fence set at some move? */
bool fw_plan_is_set(const struct fw_plan *plan, size_t fence);

/* Are they the same, or parts of one? Then no gate lies between them. */
bool fw_plan_is_one_field(const struct fw_plan *plan, size_t a, size_t b);

/* Does the fence part fields that are parts of one, both of this plan? It
 * stands from the first day on, and nobody has set it before. */
bool fw_plan_is_border(const struct fw_plan *plan, size_t fence);

/* The border that runs along that side of the boundary, or FW_NONE. */
size_t fw_plan_border_along(const struct fw_plan *plan, size_t fence);

/* Does the fence part the field from ground that is not the plan's, which was
 * grazed before? It runs along the field's own ring then. */
bool fw_plan_is_outer_front(const struct fw_plan *plan, size_t fence);

/* Does the fence lie along some of the paddock's edge? */
bool fw_plan_bounds(const struct fw_plan *plan, size_t fence, size_t paddock);

/* What one pace along both sides is of a day's feed, at a step that sets: of
 * the runs that are set last and part the same paddocks. */
double fw_plan_pace_share(const struct fw_plan *plan,
                          const struct fw_step *step);

/* The paddock that a move leads out of; FW_NONE: they come from outside. */
size_t fw_plan_move_from(const struct fw_plan *plan, size_t move);

/* The paddock that a move leads into; FW_NONE: out of the last field. */
size_t fw_plan_move_to(const struct fw_plan *plan, size_t move);

#endif
