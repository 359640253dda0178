/* The narrowest place that parts the ground. The parts are put together again
 * over the cuts between them, the widest first: the last cut that joins two
 * sides with a part on each is the widest way between them, and none that
 * parts the ground is narrower. */
#include "base/alloc.h"
#include "base/fail.h"
#include "geo/ways_inner.h"

#include <stdlib.h>

struct joining {
    const struct fw_ways_cuts *cuts;
    const struct fw_ways_parts *parts;
    size_t *order; /* of the cuts, the widest first */
    size_t *of;    /* a part nearer to the head of its side */
    bool *counts;  /* of heads: has the side a part that counts? */
};

/* ---- sides ---- */

static size_t head_of(struct joining *joining, size_t part)
{
    while (joining->of[part] != part) {
        joining->of[part] = joining->of[joining->of[part]];
        part = joining->of[part];
    }
    return part;
}

static void join(struct joining *joining, size_t one, size_t other)
{
    joining->of[other] = one;
    joining->counts[one] = joining->counts[one] || joining->counts[other];
}

struct ranked {
    double width_m;
    size_t cut;
};

static int by_width(const void *one, const void *other)
{
    const struct ranked *a = one, *b = other;
    if (a->width_m < b->width_m || a->width_m > b->width_m)
        return a->width_m > b->width_m ? -1 : 1;
    return (a->cut > b->cut) - (a->cut < b->cut);
}

static bool rank(struct joining *joining)
{
    const size_t count = joining->cuts->count;
    struct ranked *ranked = fw_alloc(count, sizeof *ranked);
    if (!ranked)
        return false;
    for (size_t i = 0; i < count; i++)
        ranked[i] = (struct ranked){joining->cuts->items[i].width_m, i};
    qsort(ranked, count, sizeof *ranked, by_width);
    for (size_t i = 0; i < count; i++)
        joining->order[i] = ranked[i].cut;
    fw_free(ranked);
    return true;
}

/* The cut that joins the last two sides that count, or SIZE_MAX. */
static size_t last_joint(struct joining *joining)
{
    size_t last = SIZE_MAX;
    for (size_t i = 0; i < joining->parts->ring_count; i++)
        joining->of[i] = i;
    for (size_t i = 0; i < joining->cuts->count; i++) {
        const size_t cut = joining->order[i];
        const size_t a = head_of(joining, joining->parts->sides[cut][0]);
        const size_t b = head_of(joining, joining->parts->sides[cut][1]);
        if (a == b)
            continue;
        if (joining->counts[a] && joining->counts[b])
            last = cut;
        join(joining, a, b);
    }
    return last;
}

/* Everything joined that does not join the two sides of the neck. */
static double smaller_side_m2(struct joining *joining, size_t neck)
{
    const struct fw_ways_parts *parts = joining->parts;
    const size_t *sides = parts->sides[neck];
    double m2[2] = {0, 0};
    for (size_t i = 0; i < parts->ring_count; i++)
        joining->of[i] = i;
    for (size_t i = 0; i < joining->cuts->count; i++) {
        const size_t *of = parts->sides[joining->order[i]];
        const size_t a = head_of(joining, of[0]), b = head_of(joining, of[1]);
        const size_t here = head_of(joining, sides[0]);
        const size_t there = head_of(joining, sides[1]);
        if (a != b && !(a == here && b == there) && !(a == there && b == here))
            joining->of[b] = a;
    }
    for (size_t i = 0; i < parts->ring_count; i++)
        if (parts->part[i] == i)
            m2[head_of(joining, i) == head_of(joining, sides[1])] +=
                parts->area_m2[i];
    return fmin(m2[0], m2[1]);
}

static enum fw_status choose(struct joining *joining, struct fw_neck *neck,
                             struct fw_error *err)
{
    if (!rank(joining))
        return fw_fail_memory(err);
    const size_t cut = last_joint(joining);
    if (cut == SIZE_MAX)
        return FW_OK;
    const struct fw_ways_cut *found = &joining->cuts->items[cut];
    neck->found = true;
    neck->width_m = found->width_m;
    neck->a = found->ends[0].at;
    neck->b = found->ends[1].at;
    neck->beyond_m2 = smaller_side_m2(joining, cut);
    return FW_OK;
}

/* ---- parts that count ---- */

static bool fits_anywhere(const struct fw_ways_edges *edges,
                          const struct fw_ways_parts *parts, double radius_m)
{
    for (size_t p = 0; p < parts->ring_count; p++)
        if (parts->part[p] == p && fw_ways__fits(edges, parts, p, radius_m))
            return true;
    return false;
}

/* Most often all but one are nooks, and no disc need be tried in those. */
static size_t count_great(const struct fw_ways_edges *edges,
                          const struct fw_ways_parts *parts, bool *great)
{
    size_t n = 0;
    for (size_t p = 0; p < parts->ring_count; p++) {
        great[p] = parts->part[p] == p &&
                   parts->area_m2[p] >= FW_NECK_LEAST_SHARE * edges->area_m2;
        n += great[p];
    }
    return n;
}

static enum fw_status decide(const struct fw_ways_edges *edges,
                             const struct fw_ways_cuts *cuts,
                             const struct fw_ways_parts *parts, double radius_m,
                             struct fw_neck *out, struct fw_error *err)
{
    struct joining joining = {
        .cuts = cuts,
        .parts = parts,
        .order = fw_alloc(cuts->count, sizeof *joining.order),
        .of = fw_alloc(parts->ring_count, sizeof *joining.of),
        .counts = fw_alloc(parts->ring_count, sizeof *joining.counts),
    };
    enum fw_status status = FW_OK;
    size_t counted = 0;
    if (!joining.order || !joining.of || !joining.counts) {
        status = fw_fail_memory(err);
    } else if (count_great(edges, parts, joining.counts) > 1) {
        for (size_t p = 0; p < parts->ring_count; p++) {
            joining.counts[p] =
                joining.counts[p] && fw_ways__fits(edges, parts, p, radius_m);
            counted += joining.counts[p];
        }
    }
    if (counted > 1)
        status = choose(&joining, out, err);
    out->fits = counted > 0 || fits_anywhere(edges, parts, radius_m);
    fw_free(joining.order);
    fw_free(joining.of);
    fw_free(joining.counts);
    return status;
}

enum fw_status fw_ways_neck(const struct fw_point *points,
                            const size_t *ring_start, size_t ring_count,
                            double wide_m, struct fw_neck *out,
                            struct fw_error *err)
{
    struct fw_ways_edges edges = {0};
    struct fw_ways_cuts cuts = {0};
    struct fw_ways_parts parts = {0};
    struct fw_neck neck = {0};
    if (!(wide_m > 0) || !isfinite(wide_m))
        return fw_fail(err, FW_EINPUT,
                       "width of a way is %g m; expected over 0, such as 3 m",
                       wide_m);
    enum fw_status status =
        fw_ways__edges(&edges, points, ring_start, ring_count, err);
    /* What is set out to be just as wide is not too narrow by rounding. */
    if (!status)
        status = fw_ways__cuts(&edges, wide_m - FW_WAYS_TINY_M, &cuts, err);
    if (!status)
        status = fw_ways__parts(&edges, &cuts, &parts, err);
    if (!status)
        status = decide(&edges, &cuts, &parts, wide_m / 2, &neck, err);
    if (!status)
        *out = neck;
    fw_ways__parts_release(&parts);
    fw_free(cuts.items);
    fw_ways__edges_release(&edges);
    return status;
}
