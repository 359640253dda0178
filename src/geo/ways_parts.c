/* The ground taken apart along its narrow places. Seen with the ground on the
 * left, a ring runs from the end of one cut to the end of the next, over that
 * cut to its other end, and on along the edge from there. */
#include "base/alloc.h"
#include "base/fail.h"
#include "geo/ways_inner.h"

#include <stdlib.h>

void fw_ways__parts_release(struct fw_ways_parts *parts)
{
    fw_free(parts->points);
    fw_free(parts->edge);
    fw_free(parts->ring_start);
    fw_free(parts->part);
    fw_free(parts->area_m2);
    fw_free(parts->sides);
    *parts = (struct fw_ways_parts){0};
}

struct parting {
    const struct fw_ways_edges *edges;
    const struct fw_ways_cuts *cuts;
    struct fw_ways_parts *parts;
    struct fw_ways_end *ends; /* of all cuts, as they stand along the edge */
    size_t count;
    size_t *first;  /* ring_count + 1: ends of each ring of the ground */
    size_t *other;  /* place in `ends` of the cut's other end */
    size_t *after;  /* the next end round the ring */
    size_t *ring;   /* that runs along the edge from here; SIZE_MAX: not yet */
    size_t *placed; /* where a cut's first end is in `ends` */
    size_t point_count;
};

static void release(struct parting *parting)
{
    fw_free(parting->ends);
    fw_free(parting->first);
    fw_free(parting->other);
    fw_free(parting->after);
    fw_free(parting->ring);
    fw_free(parting->placed);
}

/* ---- ends along the edge ---- */

static int compare(double a, double b)
{
    return (a > b) - (a < b);
}

/* At one corner the cut that turns off first comes first. */
static int by_stand(const void *one, const void *other)
{
    const struct fw_ways_end *a = one, *b = other;
    if (a->edge != b->edge)
        return a->edge < b->edge ? -1 : 1;
    const int along = compare(a->along_m, b->along_m);
    const int turn = along ? along : compare(a->turn, b->turn);
    return turn ? turn : (a->cut > b->cut) - (a->cut < b->cut);
}

static void put_ends(struct parting *parting)
{
    const struct fw_ways_edges *edges = parting->edges;
    const size_t none = SIZE_MAX;
    for (size_t c = 0; c < parting->cuts->count; c++) {
        parting->placed[c] = none;
        for (size_t k = 0; k < 2; k++) {
            parting->ends[2 * c + k] = parting->cuts->items[c].ends[k];
            parting->ends[2 * c + k].cut = c;
        }
    }
    qsort(parting->ends, parting->count, sizeof *parting->ends, by_stand);
    for (size_t r = 0, i = 0; r < edges->ring_count; r++) {
        parting->first[r] = i;
        while (i < parting->count &&
               parting->ends[i].edge < edges->ring_start[r + 1])
            i++;
        for (size_t k = parting->first[r]; k < i; k++)
            parting->after[k] = k + 1 < i ? k + 1 : parting->first[r];
    }
    parting->first[edges->ring_count] = parting->count;
    for (size_t i = 0; i < parting->count; i++) {
        size_t *placed = &parting->placed[parting->ends[i].cut];
        parting->ring[i] = none;
        if (*placed == none) {
            *placed = i;
        } else {
            parting->other[i] = *placed;
            parting->other[*placed] = i;
        }
    }
}

/* ---- rings ---- */

static void put_point(struct parting *parting, struct fw_point at, size_t edge)
{
    parting->parts->points[parting->point_count] = at;
    parting->parts->edge[parting->point_count++] = edge;
}

/* Along the edge from one end to the next, which may be all the way round. */
static void put_stretch(struct parting *parting, size_t end)
{
    const struct fw_ways_edges *edges = parting->edges;
    const struct fw_ways_end *from = &parting->ends[end];
    const struct fw_ways_end *to = &parting->ends[parting->after[end]];
    const bool round = parting->after[end] <= end;
    put_point(parting, from->at, from->edge);
    if (from->edge != to->edge || round)
        for (size_t i = edges->next[from->edge];; i = edges->next[i]) {
            put_point(parting, edges->at[i], i);
            if (i == to->edge)
                break;
        }
    put_point(parting, to->at, SIZE_MAX);
}

static void put_whole_ring(struct parting *parting, size_t ring)
{
    const struct fw_ways_edges *edges = parting->edges;
    for (size_t i = edges->ring_start[ring]; i < edges->ring_start[ring + 1];
         i++)
        put_point(parting, edges->at[i], i);
}

static void close_ring(struct parting *parting)
{
    struct fw_ways_parts *parts = parting->parts;
    const size_t start = parts->ring_start[parts->ring_count];
    parts->area_m2[parts->ring_count] =
        fw_ring_area_m2(parts->points + start, parting->point_count - start);
    parts->ring_start[++parts->ring_count] = parting->point_count;
}

static void put_rings(struct parting *parting)
{
    for (size_t i = 0; i < parting->count; i++) {
        if (parting->ring[i] != SIZE_MAX)
            continue;
        for (size_t end = i; parting->ring[end] == SIZE_MAX;
             end = parting->other[parting->after[end]]) {
            parting->ring[end] = parting->parts->ring_count;
            put_stretch(parting, end);
        }
        close_ring(parting);
    }
    for (size_t r = 0; r < parting->edges->ring_count; r++)
        if (parting->first[r] == parting->first[r + 1]) {
            put_whole_ring(parting, r);
            close_ring(parting);
        }
}

/* ---- whose holes ---- */

static const struct fw_point *ring_of(const struct fw_ways_parts *parts,
                                      size_t ring, size_t *count)
{
    *count = parts->ring_start[ring + 1] - parts->ring_start[ring];
    return parts->points + parts->ring_start[ring];
}

/* A sliver between cuts that all but meet may have an area below 0 by
 * rounding. */
static bool is_hole(const struct fw_ways_parts *parts, size_t ring)
{
    return parts->area_m2[ring] < -1e-6;
}

static size_t ring_about(const struct fw_ways_parts *parts, size_t hole)
{
    const struct fw_point at = parts->points[parts->ring_start[hole]];
    size_t best = hole;
    for (size_t r = 0; r < parts->ring_count; r++) {
        size_t count;
        const struct fw_point *ring = ring_of(parts, r, &count);
        if (!is_hole(parts, r) &&
            (best == hole || parts->area_m2[r] < parts->area_m2[best]) &&
            fw_ring_contains(ring, count, at))
            best = r;
    }
    return best;
}

static void put_holes(struct fw_ways_parts *parts)
{
    for (size_t r = 0; r < parts->ring_count; r++)
        parts->part[r] = is_hole(parts, r) ? ring_about(parts, r) : r;
    for (size_t r = 0; r < parts->ring_count; r++)
        if (parts->part[r] != r) {
            parts->area_m2[parts->part[r]] += parts->area_m2[r];
            parts->area_m2[r] = 0;
        }
}

static void put_sides(struct parting *parting)
{
    struct fw_ways_parts *parts = parting->parts;
    for (size_t i = 0; i < parting->count; i++) {
        /* What runs on from an end lies on one side of its cut. */
        const size_t cut = parting->ends[i].cut;
        parts->sides[cut][i == parting->placed[cut]] =
            parts->part[parting->ring[i]];
    }
}

static bool reserve(struct parting *parting)
{
    struct fw_ways_parts *parts = parting->parts;
    const struct fw_ways_edges *edges = parting->edges;
    const size_t ends = parting->count, rings = ends + edges->ring_count;
    parting->ends = fw_alloc(ends, sizeof *parting->ends);
    parting->first = fw_alloc(edges->ring_count + 1, sizeof *parting->first);
    parting->other = fw_alloc(ends, sizeof *parting->other);
    parting->after = fw_alloc(ends, sizeof *parting->after);
    parting->ring = fw_alloc(ends, sizeof *parting->ring);
    parting->placed = fw_alloc(ends, sizeof *parting->placed);
    parts->points = fw_alloc(edges->count + 2 * ends, sizeof *parts->points);
    parts->edge = fw_alloc(edges->count + 2 * ends, sizeof *parts->edge);
    parts->ring_start = fw_alloc(rings + 1, sizeof *parts->ring_start);
    parts->part = fw_alloc(rings, sizeof *parts->part);
    parts->area_m2 = fw_alloc(rings, sizeof *parts->area_m2);
    parts->sides = fw_alloc(ends, sizeof *parts->sides);
    return parting->ends && parting->first && parting->other &&
           parting->after && parting->ring && parting->placed &&
           parts->points && parts->edge && parts->ring_start && parts->part &&
           parts->area_m2 && parts->sides;
}

enum fw_status fw_ways__parts(const struct fw_ways_edges *edges,
                              const struct fw_ways_cuts *cuts,
                              struct fw_ways_parts *out, struct fw_error *err)
{
    struct parting parting = {
        .edges = edges, .cuts = cuts, .parts = out, .count = 2 * cuts->count};
    const bool good = reserve(&parting);
    if (good) {
        put_ends(&parting);
        put_rings(&parting);
        put_holes(out);
        put_sides(&parting);
    }
    release(&parting);
    return good ? FW_OK : fw_fail_memory(err);
}
