/* The parts of map.html, a page that shows a plan day by day. */
#ifndef FW_PAGE_MAP_PAGE_H
#define FW_PAGE_MAP_PAGE_H

#include "base/text.h"
#include "plan/plan.h"

/* What the page is made of besides the plan, put together when the program is
 * built (map_page.py): after each part but the last comes one of these. */
enum fw_map_part_after {
    FW_MAP_PART_POLICY, /* from where the page may load pictures */
    FW_MAP_PART_TITLE,  /* of the window */
    FW_MAP_PART_PLAN,   /* the plan as JSON */
    FW_MAP_PARTS
};
struct fw_map_part {
    const unsigned char *bytes;
    size_t count;
};
extern const struct fw_map_part fw_page__map_parts[FW_MAP_PARTS + 1];

/* map_ground.c: members "fields", "cells", "fences", "places", without a comma
 * round them. Places are whole hundred-millionths of a degree, about a
 * millimetre, on from a corner of their field. */
void fw_map_ground(struct fw_text *json, const struct fw_plan *plan);

/* map_days.c: members "moves" and "days". */
enum fw_status fw_map_days(struct fw_text *json, const struct fw_plan *plan,
                           struct fw_error *err);

/* map_figures.c: what is told of a thing that is tapped: pairs of a place in
 * "heads" and a text. */
void fw_map_heads(struct fw_text *json);
void fw_map_paddock_figures(struct fw_text *json, const struct fw_plan *plan,
                            size_t paddock);
void fw_map_lane_figures(struct fw_text *json, const struct fw_plan *plan,
                         size_t lane);
void fw_map_fence_figures(struct fw_text *json, const struct fw_plan *plan,
                          size_t fence);
void fw_map_gate_figures(struct fw_text *json, const struct fw_plan *plan,
                         size_t gate);
void fw_map_water_figures(struct fw_text *json, const struct fw_plan *plan,
                          size_t water);
void fw_map_energizer_figures(struct fw_text *json, const struct fw_plan *plan);
void fw_map_finding_figures(struct fw_text *json, const struct fw_plan *plan,
                            size_t finding);

/* [3,4,5] */
void fw_map_numbers(struct fw_text *json, const size_t *numbers, size_t count);

#endif
