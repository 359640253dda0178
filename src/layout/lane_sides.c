/* The strips beside a lane. */
#include "base/text.h"
#include "figures/layout.h"
#include "geo/points.h"
#include "layout/lane.h"

#include <math.h>
#include <stdio.h>

struct fw_design fw_lane__design(const struct fw_lane *lane)
{
    struct fw_design design = {
        .pattern = "lane",
        .direction_deg = fmod(lane->deg + 360, 360),
        .count = lane->count,
    };
    fw_text_format(design.name, sizeof design.name, "lane-%.0f-%zu",
                   fmod(rint(design.direction_deg), 360), lane->first_count);
    return design;
}

static bool is_lane(const struct fw_subdivision *subdivision, size_t support)
{
    for (size_t i = 0; i < subdivision->line_count; i++)
        if (subdivision->lines[i].role == FW_LINE_LANE &&
            support >= subdivision->lines[i].support &&
            support - subdivision->lines[i].support <
                subdivision->lines[i].support_count)
            return true;
    return false;
}

/* Has it a door on the lane? */
static bool opens(const struct fw_subdivision *subdivision,
                  const struct fw_region *region)
{
    double door_m = 0;
    const size_t count = region->ring_start[1];
    for (size_t i = 0; i < count; i++) {
        if (!is_lane(subdivision, region->supports[i]))
            continue;
        const struct fw_point a =
            subdivision->vertices[region->vertices[i]].point;
        const struct fw_point b =
            subdivision->vertices[region->vertices[i + 1 < count ? i + 1 : 0]]
                .point;
        door_m += fw_point_apart_m(b, a);
    }
    return door_m >= FW_DOOR_M;
}

/* Strips on one side of the lane. */
static enum fw_status cut_side(struct fw_plots *plots,
                               const struct fw_part *side, double deg,
                               struct fw_error *err)
{
    const enum fw_status status = fw_plots_strips(plots, side, deg, err);
    if (status || !plots->whole)
        return status;
    struct fw_region *regions = plots->regions + side->first;
    for (size_t i = 0; i < side->count; i++)
        plots->whole = plots->whole && opens(&plots->subdivision, &regions[i]);
    if (!plots->whole)
        fw_regions_release(regions, side->count);
    return FW_OK;
}

enum fw_status fw_lane__cut_sides(const struct fw_lane *lane,
                                  struct fw_plots *plots,
                                  const struct fw_region *first,
                                  const struct fw_region *second,
                                  struct fw_error *err)
{
    const size_t count = lane->first_count;
    const struct fw_part out = {first, 0, count};
    const struct fw_part back = {second, count, lane->count - count};
    enum fw_status status =
        count > 0 ? cut_side(plots, &out, lane->deg, err) : FW_OK;
    if (status || !plots->whole)
        return status;
    status = cut_side(plots, &back, lane->deg + 180, err);
    if (status || !plots->whole)
        fw_regions_release(plots->regions, count);
    return status;
}
