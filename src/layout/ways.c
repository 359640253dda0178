/* How the parts of a field were cut. */
#include "layout/ways.h"
#include "base/alloc.h"
#include "base/array.h"
#include "geo/points.h"

#include <math.h>

void fw_ways_release(struct fw_ways *ways)
{
    fw_free(ways->items);
    *ways = (struct fw_ways){0};
}

const struct fw_way *fw_ways_find(const struct fw_ways *ways, size_t first,
                                  size_t count)
{
    for (size_t i = 0; i < ways->count; i++)
        if (ways->items[i].first == first && ways->items[i].count == count)
            return &ways->items[i];
    return NULL;
}

enum fw_status fw_ways_note(struct fw_ways *ways, const struct fw_way *way,
                            struct fw_error *err)
{
    for (size_t i = 0; i < ways->count; i++)
        if (ways->items[i].first == way->first &&
            ways->items[i].count == way->count) {
            ways->items[i] = *way;
            return FW_OK;
        }
    const enum fw_status status =
        fw_array_reserve(&ways->items, &ways->capacity, ways->count + 1,
                         sizeof *ways->items, err);
    if (!status)
        ways->items[ways->count++] = *way;
    return status;
}

static struct fw_point place(const struct fw_subdivision *subdivision,
                             const struct fw_region *region,
                             struct fw_region_station at)
{
    const size_t next = at.side + 1 < region->ring_start[1] ? at.side + 1 : 0;
    const struct fw_point a =
        subdivision->vertices[region->vertices[at.side]].point;
    const struct fw_point b =
        subdivision->vertices[region->vertices[next]].point;
    return (struct fw_point){a.x_m + (b.x_m - a.x_m) * at.t,
                             a.y_m + (b.y_m - a.y_m) * at.t};
}

void fw_way_ends(const struct fw_subdivision *subdivision,
                 const struct fw_region *region, const struct fw_chord *chord,
                 struct fw_point *from, struct fw_point *to)
{
    *from = *to = (struct fw_point){0, 0};
    if (chord->parallel)
        return;
    *from = place(subdivision, region, chord->from);
    *to = place(subdivision, region, chord->to);
}

const struct fw_chord *fw_way_alike(const struct fw_way *way, double alike,
                                    const struct fw_subdivision *subdivision,
                                    const struct fw_region *region,
                                    const struct fw_chords *chords)
{
    const struct fw_chord *best = NULL;
    double least_m = alike * way->chord.length_m;
    for (size_t i = 0; i < chords->count; i++) {
        const struct fw_chord *chord = &chords->items[i];
        if (chord->plots != way->chord.plots ||
            chord->parallel != way->chord.parallel)
            continue;
        struct fw_point from, to;
        fw_way_ends(subdivision, region, chord, &from, &to);
        const double off_m =
            chord->parallel
                ? fabs(chord->direction_deg - way->chord.direction_deg)
                : fw_point_apart_m(from, way->from) +
                      fw_point_apart_m(to, way->to);
        if (off_m < least_m) {
            least_m = off_m;
            best = chord;
        }
    }
    return best;
}
