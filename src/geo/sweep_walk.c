/* Rings of the paddocks: along the field's ring until it leaves the paddock
 * over a cut, along the fence to its other end, and on.
 *
 * A ring that comes back to a place is parted there: the way between the two
 * visits is a ring of its own. So every ring is simple where the field's rings
 * are, pieces that touch in a point count as two, and it makes no difference
 * in which order crossings at one place were sorted. */
#include "geo/sweep.h"

#include <string.h>

struct walk {
    struct fw_sweep *sweep;
    size_t *vertices;  /* the partition's ring_vertices */
    size_t base, end;  /* the ring in hand */
    size_t ring_count; /* in sweep->rings */
    size_t shuffled;   /* vertices parted off the ring in hand */
    size_t parted;     /* rings parted off it, the last ones of rings */
};

static void part(struct walk *walk, size_t from)
{
    const size_t count = walk->end - from;
    if (count >= 3) {
        memcpy(walk->sweep->shuffle + walk->shuffled, walk->vertices + from,
               count * sizeof *walk->vertices);
        walk->sweep->rings[walk->ring_count++] =
            (struct fw_sweep_ring){.start = walk->shuffled, .count = count};
        walk->shuffled += count;
        walk->parted++;
    }
    walk->end = from + 1;
}

/* `seen` is never cleared: an entry counts only when the place that it names
 * lies in the ring in hand and holds this vertex. */
static inline void put(struct walk *walk, uint32_t vertex)
{
    const struct fw_sweep *sweep = walk->sweep;
    if (vertex < sweep->given) {
        const uint32_t place = sweep->same[vertex];
        const uint32_t at = sweep->seen[place];
        if (at >= walk->base && at < walk->end &&
            walk->vertices[at] < sweep->given &&
            sweep->same[walk->vertices[at]] == place) {
            part(walk, at);
            return;
        }
        sweep->seen[place] = (uint32_t)walk->end;
    }
    walk->vertices[walk->end++] = vertex;
}

/* From a crossing into the paddock to the crossing out of it. */
static uint32_t follow(struct walk *walk, uint32_t crossing)
{
    const struct fw_sweep *sweep = walk->sweep;
    uint32_t vertex = sweep->crossings[crossing].after;
    if (vertex == FW_SWEEP_NONE)
        return crossing + 1;
    const uint32_t *first = sweep->first_crossing;
    put(walk, fw_sweep__name(sweep, vertex));
    while (first[vertex] == first[vertex + 1]) {
        vertex = sweep->next[vertex];
        put(walk, fw_sweep__name(sweep, vertex));
    }
    return first[vertex];
}

/* The ring itself, when parting left anything of it, then what was parted
 * off, in the order of their vertices. */
static void close_ring(struct walk *walk)
{
    struct fw_sweep_ring *rings = walk->sweep->rings;
    const size_t count = walk->end - walk->base;
    const size_t first = walk->ring_count - walk->parted;
    if (count < 3)
        walk->end = walk->base;
    if (walk->parted > 0) {
        for (size_t i = first; i < walk->ring_count; i++)
            rings[i].start += walk->end;
        memcpy(walk->vertices + walk->end, walk->sweep->shuffle,
               walk->shuffled * sizeof *walk->vertices);
        walk->end += walk->shuffled;
    }
    if (count >= 3) {
        memmove(&rings[first + 1], &rings[first], walk->parted * sizeof *rings);
        rings[first] =
            (struct fw_sweep_ring){.start = walk->base, .count = count};
        walk->ring_count++;
    }
    walk->base = walk->end;
    walk->shuffled = 0;
    walk->parted = 0;
}

static void walk_from(struct walk *walk, uint32_t start)
{
    struct fw_sweep_crossing *crossings = walk->sweep->crossings;
    uint32_t crossing = start;
    if (crossings[start].walked)
        return;
    do {
        crossings[crossing].walked = 1;
        put(walk, crossings[crossing].vertex);
        const uint32_t out = follow(walk, crossing);
        put(walk, crossings[out].vertex);
        crossing = crossings[out].partner;
    } while (crossing != start);
    close_ring(walk);
}

static void walk_whole(struct walk *walk, uint32_t ring)
{
    const struct fw_sweep *sweep = walk->sweep;
    const uint32_t first = sweep->ring_first[ring];
    uint32_t vertex = first;
    do {
        put(walk, fw_sweep__name(sweep, vertex));
        vertex = sweep->next[vertex];
    } while (vertex != first);
    close_ring(walk);
}

/* Lists of the rings that meet no cut, by paddock, in rising order. */
static void list_whole_rings(struct fw_sweep *sweep, size_t cuts)
{
    for (size_t k = 0; k <= cuts; k++)
        sweep->whole_first[k] = FW_SWEEP_NONE;
    for (uint32_t ring = sweep->ring_count; ring-- > 0;) {
        if (sweep->crossed[ring])
            continue;
        const uint32_t paddock = sweep->label[sweep->ring_first[ring]];
        sweep->whole_next[ring] = sweep->whole_first[paddock];
        sweep->whole_first[paddock] = ring;
    }
}

void fw_sweep__walk(struct fw_sweep *sweep, size_t cuts,
                    struct fw_partition *out)
{
    list_whole_rings(sweep, cuts);
    struct walk walk = {.sweep = sweep, .vertices = out->ring_vertices};
    out->ring_vertex_count = 0;
    out->ring_count = 0;
    out->piece_count = 0;
    out->paddock_count = 0;
    for (size_t k = 0; k <= cuts; k++) {
        const size_t start = out->ring_vertex_count;
        walk.base = walk.end = start;
        walk.ring_count = 0;
        if (k > 0)
            for (uint32_t i = sweep->end_start[k - 1]; i < sweep->end_start[k];
                 i++)
                walk_from(&walk, sweep->entering[i].crossing);
        if (k < cuts)
            for (uint32_t i = sweep->end_start[k]; i < sweep->end_start[k + 1];
                 i++)
                walk_from(&walk, sweep->leaving[i].crossing);
        for (uint32_t ring = sweep->whole_first[k]; ring != FW_SWEEP_NONE;
             ring = sweep->whole_next[ring])
            walk_whole(&walk, ring);
        out->ring_vertex_count = walk.end;
        fw_sweep__pieces(sweep, walk.ring_count, start, out);
    }
    out->ring_start[out->ring_count] = out->ring_vertex_count;
    out->piece_ring[out->piece_count] = out->ring_count;
    out->paddock_piece[out->paddock_count] = out->piece_count;
}
