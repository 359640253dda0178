/* Tracks that a tank is driven along, as one network: from where it is filled
 * to a gate by the shortest way. Where tracks cross, or one comes near to
 * another, one goes from the one to the other. */
#ifndef FW_WATER_ROADS_H
#define FW_WATER_ROADS_H

#include "geo/geo.h"
#include <foldwright/error.h>

struct fw_roads_piece { /* straight, between two places of a track */
    struct fw_point a, b;
    size_t track;
};

/* {0} at first; release it when done. */
struct fw_roads {
    struct fw_roads_piece *pieces;
    size_t count, capacity;
    size_t tracks;
};

/* A track through these points. FW_ENOMEM. */
enum fw_status fw_water_roads_add(struct fw_roads *roads,
                                  const struct fw_point *points, size_t count,
                                  struct fw_error *err);
void fw_water_roads_release(struct fw_roads *roads);

struct fw_roads_way {
    bool known;   /* there is a track */
    double way_m; /* along the tracks, with both gaps straight across */
    double from_gap_m, to_gap_m; /* at the source, and at the gate */
    struct fw_point leaves;      /* the tracks, for the gate */
    size_t source;               /* the one that it comes from */
};

/* The shortest of those from each source, which takes to the track that is
 * nearest to it, and leaves what is reached of the tracks where that is nearest
 * to the gate. FW_ENOMEM. */
enum fw_status fw_water_roads_way(const struct fw_roads *roads,
                                  const struct fw_point *sources, size_t count,
                                  struct fw_point gate,
                                  struct fw_roads_way *out,
                                  struct fw_error *err);

#endif
