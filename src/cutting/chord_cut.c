/* Cutting by a single fence; on unequal ground its end is moved first. */
#include "cutting/chord.h"

#include "figures/mark.h"

#include <math.h>

/* Along the outer ring, counted in sides, from 0 up to once round. */
static struct fw_region_station place_at(const struct fw_region *region,
                                         double s)
{
    const size_t outer = region->ring_start[1];
    double whole;
    const double t = modf(s, &whole);
    return (struct fw_region_station){(size_t)whole % outer, t};
}

static enum fw_status split(struct fw_subdivision *subdivision,
                            const struct fw_region *region,
                            const struct fw_chord *chord,
                            struct fw_region parts[2], struct fw_error *err)
{
    const struct fw_split line = {
        .from = chord->from, .to = chord->to, .role = FW_LINE_STANDING};
    return fw_subdivision_split(subdivision, region, &line, parts, err);
}

static enum fw_status holds_left(struct fw_subdivision *subdivision,
                                 const struct fw_region *region,
                                 const struct fw_chord *chord, double *out,
                                 struct fw_error *err)
{
    struct fw_region parts[2];
    const struct fw_subdivision_size mark = fw_subdivision_size(subdivision);
    enum fw_status status = split(subdivision, region, chord, parts, err);
    if (status)
        return status;
    status = fw_subdivision_holds(subdivision, &parts[0], out, err);
    fw_regions_release(parts, 2);
    fw_subdivision_go_back(subdivision, mark);
    return status;
}

/* On unequal ground the free end is moved along its side until the first part
 * holds what it should; *found false when that side is too short for it. */
static enum fw_status settle(struct fw_subdivision *subdivision,
                             const struct fw_region *region,
                             struct fw_chord *chord, bool *found,
                             struct fw_error *err)
{
    struct fw_region_station *free_end =
        chord->from.t > 0 ? &chord->from : &chord->to;
    const double side = (double)free_end->side;
    const bool grows = free_end == &chord->from;
    double low = 0, high = 1;
    for (int i = 0; i < FW_EFFORT(200) && high - low > FW_TOLERANCE(1e-16);
         i++) {
        const double t = (low + high) / 2;
        double holds;
        *free_end = place_at(region, side + t);
        const enum fw_status status =
            holds_left(subdivision, region, chord, &holds, err);
        if (status)
            return status;
        *((holds < chord->behind) == grows ? &low : &high) = t;
    }
    *found = low > 0 && high < 1;
    return FW_OK;
}

enum fw_status fw_layout__cut_chord(struct fw_subdivision *subdivision,
                                    const struct fw_region *region,
                                    const struct fw_chord *chord,
                                    struct fw_region parts[2], bool *whole,
                                    struct fw_error *err)
{
    const struct fw_cuts cuts = {.direction_deg = chord->direction_deg,
                                 .behind = &chord->behind,
                                 .count = 1,
                                 .role = FW_LINE_STANDING};
    if (chord->parallel)
        return fw_subdivision_cut(subdivision, region, &cuts, parts, whole,
                                  err);
    struct fw_chord exact = *chord;
    *whole = true;
    enum fw_status status =
        subdivision->ground ? settle(subdivision, region, &exact, whole, err)
                            : FW_OK;
    if (!status && *whole)
        status = split(subdivision, region, &exact, parts, err);
    return status;
}
