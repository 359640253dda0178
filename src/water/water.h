/* Water for the flock: litres, hauling, where the trough stands, how far the
 * sheep walk to it. */
#ifndef FW_WATER_WATER_H
#define FW_WATER_WATER_H

#include "geo/geo.h"
#include <foldwright/error.h>

/* Trips with the tank for so many litres: ceil(litres / tank). */
enum fw_status fw_water_trips(double litres, double tank_l, int *out,
                              struct fw_error *err);

struct fw_walk {
    bool known;    /* false: the way to the water is not straight */
    double mean_m; /* over the paddock's area */
    double longest_m;
};

/* Below a paddock is a polygon with holes: rings not closed, the outer one
 * first, either way round; ring_start has ring_count + 1 entries. */

/* The walk inside a paddock to its water. Round a hole it is not straight. */
struct fw_walk fw_water_walk(const struct fw_point *points,
                             const size_t *ring_start, size_t ring_count,
                             struct fw_point water);

struct fw_water_wish {
    struct fw_point from;           /* where the vehicle comes from */
    const struct fw_point *opening; /* of the flock; NULL: none is known */
    double keep_m;                  /* from every ring and from the opening */
    /* Would it stand badly there, as in mud? NULL: nobody knows. */
    bool (*is_bad)(const void *of, struct fw_point at);
    const void *of;
};

/* A place for a trough that moves with the flock: inside the paddock and
 * outside its holes, at least keep_m from every ring and from the opening (10
 * m, common practice) where there is room for it, not where it stands badly if
 * there is any other place so far from them, every point of the paddock in
 * straight reach where that can be, and of those places the one with the least
 * mean walk among those nearest to `from`. */
enum fw_status fw_water_place(const struct fw_point *points,
                              const size_t *ring_start, size_t ring_count,
                              const struct fw_water_wish *wish,
                              struct fw_point *out, struct fw_error *err);

/* A way to water that climbs so far on the way there and back, in metres on the
 * level that tire them as much one way; climbs NaN: as if they were 0. */
double fw_water_level_m(double way_m, double climb_to_m, double climb_back_m);
/* Does its climb make so much of it that it is worth a word? */
bool fw_water_climbs(double way_m, double climb_to_m, double climb_back_m);

/* How a distance to water compares with published guidance: NULL when near
 * enough, else one line with the figure and its source. */
const char *fw_water_distance_word(double longest_m);

#endif
