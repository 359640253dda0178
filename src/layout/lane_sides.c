/* The strips beside a lane. */
#include "base/alloc.h"
#include "base/fail.h"
#include "base/length.h"
#include "base/text.h"
#include "figures/layout.h"
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
        door_m += fw_length(b.x_m - a.x_m, b.y_m - a.y_m);
    }
    return door_m >= FW_DOOR_M;
}

static void release(struct fw_region *regions, size_t count)
{
    for (size_t i = 0; i < count; i++)
        fw_region_release(&regions[i]);
}

/* Slots on one side of the lane. */
static enum fw_status cut_side(struct fw_subdivision *subdivision,
                               const struct fw_region *side, double deg,
                               const double *behind, double base, size_t count,
                               struct fw_region *paddocks, bool *whole,
                               struct fw_error *err)
{
    double *inside = fw_alloc(count, sizeof *inside);
    if (!inside)
        return fw_fail_memory(err);
    for (size_t k = 0; k + 1 < count; k++)
        inside[k] = behind[k] - base;
    const enum fw_status status =
        fw_subdivision_cut(subdivision, side, deg, inside, count - 1,
                           FW_LINE_MOVED, paddocks, whole, err);
    fw_free(inside);
    if (status || !*whole)
        return status;
    for (size_t i = 0; i < count; i++)
        *whole = *whole && opens(subdivision, &paddocks[i]);
    if (!*whole)
        release(paddocks, count);
    return FW_OK;
}

enum fw_status fw_lane__cut_sides(const struct fw_lane *lane,
                                  struct fw_subdivision *subdivision,
                                  const struct fw_region *first,
                                  const struct fw_region *second,
                                  const double *behind,
                                  struct fw_region *paddocks, bool *whole,
                                  struct fw_error *err)
{
    const size_t count = lane->first_count;
    enum fw_status status = FW_OK;
    if (count > 0)
        status = cut_side(subdivision, first, lane->deg, behind, 0, count,
                          paddocks, whole, err);
    if (status || !*whole)
        return status;
    status = cut_side(subdivision, second, lane->deg + 180, behind + count,
                      count > 0 ? behind[count - 1] : 0, lane->count - count,
                      paddocks + count, whole, err);
    if (status || !*whole)
        release(paddocks, count);
    return status;
}
