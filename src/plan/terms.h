/* What a farm tells and its plan keeps: what a side holds, what the current
 * meets, whether the grass grows, and what was taken for granted. */
#ifndef FW_PLAN_TERMS_H
#define FW_PLAN_TERMS_H

#include "flock/drinks.h"
#include "weather/weather.h"
#include <stdbool.h>

enum fw_holds {
    FW_HOLDS_UNTOLD,
    FW_HOLDS_NOTHING,
    FW_HOLDS_SHEEP, /* grown sheep, not lambs */
    FW_HOLDS_LAMBS  /* grown sheep and lambs */
};

struct fw_farm_side { /* of a field's outer ring, from its corner clockwise */
    enum fw_holds holds;
    enum fw_answer hot;
};

/* Does the grass grow? Then a fence behind the flock keeps it off what sprouts
 * again; dormant grass does not sprout. */
enum fw_season { FW_SEASON_GROWTH, FW_SEASON_DORMANT };

/* In which order the fields are grazed. */
enum fw_field_order {
    FW_ORDER_GIVEN,
    FW_ORDER_NEAREST /* the shortest round from gate to gate */
};

enum fw_bonded { /* how the strands of a moved line are joined */
                 FW_BONDED_LIVE_END,
                 FW_BONDED_BOTH_ENDS,
                 FW_BONDED_EVERY /* bond_gap_m, and at both ends */
};

/* What the current meets on its way through a plan's fences. */
struct fw_farm_wiring {
    double moved_ohm_m, perimeter_ohm_m, lead_ohm_m;
    double moved_leak_ohm_km;     /* of the bottom strand; 0: by the season */
    double perimeter_leak_ohm_km; /* the same */
    int perimeter_strands;
    enum fw_bonded bonded;
    double bond_gap_m;
    bool far_hooked;   /* the far end of a moved line is hooked on too; of a
                          wire out and back its second end, at end A */
    double joint_ohm;  /* of each place where a line is hooked on */
    double switch_ohm; /* of what is in the lead */
    double lead_m;     /* negative: the straight way */
    double soil_ohm_m;
    int rods;                    /* driven; 0: as many as are asked for */
    double earth_ohm;            /* measured; 0: from soil and rods */
    enum fw_answer earth_return; /* a strand is the return; untold: where the
                                    ground alone does not do, and it helps */
    double rod_v;                /* what the last rod may read in the test */
    double open_v;               /* of the energizer's data sheet; 0: guessed */
    double internal_ohm;         /* with open_v; 0: guessed */
    bool moves;                  /* it goes with the flock, with its own rod */
    double interval_s;           /* between pulses */
    double charge_days;          /* between charges of its battery */
    double sun_h;                /* of full sun a day */
};

/* What holds where nobody told anything; docs/guide/power.md has the sources. A
 * plan takes it for a wiring that is all 0. */
struct fw_farm_wiring fw_farm_wiring_default(void);

/* How water is brought; 0: nobody told. */
struct fw_farm_hauling {
    double trough_l;    /* of one trough */
    double road_m;      /* from where the tank is filled to the gate, one way */
    double drive_m_min; /* how fast it is driven */
    double fill_l_min;  /* and filled, and emptied */
    double payload_kg;  /* that the vehicle may carry, the tank's own weight
                           with it where that is told */
    double tank_kg;     /* the empty tank */
    double vehicle_width_m;
    double hose_m;
    double slope; /* the steepest ground that the loaded tank is driven over */
    double pipe_price, trough_price, tank_price; /* of a metre; of one */
    struct fw_drink_day day;
};

struct fw_farm_default {
    char what[64];  /* "post gap" */
    char value[64]; /* "8 m" */
    char source[160];
};

#endif
