/* Where water of a plan could stand, which stays each such place serves and how
 * far they walk to it: what src/water/points.h chooses among. Which ground the
 * flock has is the replay's. */
#ifndef FW_HAUL_PLACING_H
#define FW_HAUL_PLACING_H

#include "choice/choice.h"
#include "figures/mark.h"
#include "flock/drinks.h"
#include "water/haul.h"
#include "water/points.h"

enum { FW_PLACING_MOST = FW_EFFORT(100) }; /* places */

struct fw_placing_place {
    size_t field;
    struct fw_point at;
    size_t fence; /* that ends there; FW_NONE: the field's water, its gate or
                     its middle */
    bool middle;
    bool end_b;    /* at its end B */
    bool is_water; /* it is there already, and nobody has to haul to it */
    double gate_m; /* straight from the field's gate; 0: no gate is told */
    size_t serves; /* stays */
};

struct fw_placing {
    struct fw_placing_place places[FW_PLACING_MOST];
    size_t place_count, stay_count;
    /* By stay and place as in points.h; straight at first, so that no way is
     * shorter. */
    double *mean_m, *longest_m;
    bool *walked; /* by stay and place: they are those of the way that is
                     walked, as far as it is known */
    double *days; /* of each stay */
};

/* Release it when done. FW_ENOMEM. */
enum fw_status fw_placing_make(const struct fw_plan *plan,
                               struct fw_placing *out, struct fw_error *err);
void fw_placing_release(struct fw_placing *placing);

/* The ways that are walked, of those stays and places, over what the flock has.
 * FW_ENOMEM. */
enum fw_status fw_placing_walk(const struct fw_plan *plan, const bool *wanted,
                               struct fw_placing *placing,
                               struct fw_error *err);

/* ---- what a choice comes to ---- */

enum fw_placing_by {
    FW_PLACING_WORST,  /* the longest walk of any stay */
    FW_PLACING_MEAN,   /* the walk, over all days */
    FW_PLACING_MINUTES /* of all trips and shifts */
};

/* One way of having water, in a table of them. */
struct fw_hauled {
    enum fw_hauled_way {
        FW_HAULED_TODAY,
        FW_HAULED_POINTS, /* that stay where they are */
        FW_HAULED_TANK,   /* twice as large */
        FW_HAULED_PIPE    /* to the points of the last row of points */
    } way;
    struct fw_points_chosen points; /* none chosen where there are none */
    double pipe_m;
    size_t served; /* stays by a point; the others have a trough that moves */
    size_t shifts; /* of that trough, over the plan */
    int trips;     /* over the plan; negative: the tank is not told */
    double trips_day, minutes_day;  /* on average; NaN: likewise */
    double walk_mean_m, walk_max_m; /* NaN: of some stay it is not known */
    double cost;                    /* to buy; NaN: a price is not told */
};

struct fw_hauled_table {
    struct fw_hauled rows[FW_POINTS_MOST + 3];
    size_t count;
    enum fw_placing_by by;
    struct fw_drink_day day;  /* as told, or as it is taken to be */
    struct fw_drinks drinks;  /* of the flock; trips follow the expected day */
    double days;              /* in all stays */
    double carry_l, trip_min; /* of a trip; NaN: the tank is not told */
    double road_m;            /* one way; 0: not known */
    bool by_tracks;           /* nobody told it: the maps have it */
    struct fw_frost frost;    /* a day of it */
};

/* Ways are walked where that can change the choice or is told. Today's practice
 * first, then one point more a row up to `most` or to where more do not help,
 * then another tank and a pipe. FW_ENOMEM. FW_EINPUT: what the farm tells of
 * hauling is out of range. */
enum fw_status fw_hauled_make(const struct fw_plan *plan,
                              struct fw_placing *placing, enum fw_placing_by by,
                              size_t most, struct fw_hauled_table *out,
                              struct fw_error *err);

/* The chosen place that a stay drinks from: the nearest one on foot, or by
 * minutes the quickest; place_count: none, or by minutes none so quick as a
 * trough that moves. */
size_t fw_hauled_server(const struct fw_plan *plan,
                        const struct fw_placing *placing,
                        const struct fw_hauled_table *table,
                        const struct fw_points_chosen *chosen, size_t stay);

#endif
