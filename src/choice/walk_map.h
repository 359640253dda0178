/* The ground of one field of a land as src/walk has it: its cells and lines,
 * and what was grazed before a front, as far as the farm knows its shape. */
#ifndef FW_CHOICE_WALK_MAP_H
#define FW_CHOICE_WALK_MAP_H

#include "choice/job.h"
#include "walk/walk.h"

struct fw_plan__walk_map {
    struct fw_walk_map map; /* of the arrays below */
    struct fw_point *points, *line_points;
    size_t *ring_start, *cell_ring, *line_start;
    size_t land_lines; /* the lines after these never stand */
};

/* `farm_field` is the farm's field of that number; with farm NULL nothing is
 * known of the ground before a front. Release it when done. FW_ENOMEM. */
enum fw_status fw_plan__walk_map(const struct fw_land *land, size_t field,
                                 const struct fw_farm *farm, size_t farm_field,
                                 struct fw_plan__walk_map *out,
                                 struct fw_error *err);
/* Of that cell alone, as it is drawn, without any line. FW_ENOMEM. */
enum fw_status fw_plan__walk_map_of_cell(const struct fw_land *land,
                                         size_t cell,
                                         struct fw_plan__walk_map *out,
                                         struct fw_error *err);
void fw_plan__walk_map_release(struct fw_plan__walk_map *map);

/* Is the place within those rings, or so near to one of them? */
bool fw_plan__rings_have(const struct fw_point *points,
                         const size_t *ring_start, size_t ring_count,
                         struct fw_point at, double reach_m);
/* In that cell of the map? */
bool fw_plan__walk_map_has(const struct fw_plan__walk_map *map, size_t cell,
                           struct fw_point at, double reach_m);

#endif
