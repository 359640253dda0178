/* Fields that come apart under parallel lines: ground with limbs, bays and
 * ponds. A single fence from edge to edge always parts connected ground into
 * two connected parts, so the ground is halved by short fences, each at a
 * whole number of paddocks, until every part can be cut into blocks or strips
 * that hold together. */
#include "base/alloc.h"
#include "base/fail.h"
#include "base/length.h"
#include "cutting/chord.h"
#include "cutting/peel.h"
#include "figures/layout.h"
#include "figures/mark.h"
#include "layout/blocks.h"
#include "layout/pattern.h"
#include "layout/ways.h"

#include <math.h>
#include <string.h>

enum {
    directions = FW_EFFORT(60),
    plans_tried = FW_EFFORT(6),  /* of a part, the best by estimate */
    chords_tried = FW_EFFORT(6), /* of a part that needs one */
    enough_ways = 2,             /* that worked out, to take the best of */
    most_depth = FW_EFFORT(40),
    usual_work = FW_EFFORT(1500), /* of a field, in all: cuts */
    last_work = FW_EFFORT(6000),  /* where there is no other layout */
    size_of_cut = FW_EFFORT(200)  /* vertices that make a cut worth another */
};

/* How the field was cut the last time, and is now. */
struct memory {
    struct fw_ways before, now;
};

struct limbs_data {
    size_t count; /* of plots */
    double alike; /* as fw_way_alike has it */
    size_t most_work;
    struct memory *memory;
};

struct limbs {
    struct memory *memory;
    double alike;
    size_t most_work;
    struct fw_subdivision *subdivision;
    const double *behind; /* of all plots */
    struct fw_region *paddocks;
    size_t work; /* done so far, kept or not */
};

/* What the subdivision had before a cut that is not kept. */
struct mark {
    size_t vertices, supports, lines;
};

static struct mark mark_of(const struct fw_subdivision *subdivision)
{
    return (struct mark){subdivision->vertex_count, subdivision->support_count,
                         subdivision->line_count};
}

static void go_back(struct fw_subdivision *subdivision, struct mark mark)
{
    subdivision->vertex_count = mark.vertices;
    subdivision->support_count = mark.supports;
    subdivision->line_count = mark.lines;
}

static double line_since(const struct fw_subdivision *subdivision,
                         struct mark mark)
{
    double sum_m = 0;
    for (size_t i = mark.supports; i < subdivision->support_count; i++) {
        const struct fw_point a =
            subdivision->vertices[subdivision->supports[i].from].point;
        const struct fw_point b =
            subdivision->vertices[subdivision->supports[i].to].point;
        sum_m += fw_length(a.x_m - b.x_m, a.y_m - b.y_m);
    }
    return sum_m;
}

static void drop(struct limbs *limbs, size_t first, size_t count)
{
    for (size_t i = first; i < first + count; i++)
        fw_region_release(&limbs->paddocks[i]);
}

static double base_of(const struct limbs *limbs, size_t first)
{
    return first > 0 ? limbs->behind[first - 1] : 0;
}

static enum fw_status list_plans(const struct limbs *limbs,
                                 const struct fw_region *region, size_t first,
                                 size_t count, struct fw_block_plan *plans,
                                 size_t *plan_count, struct fw_error *err)
{
    struct fw_point *points = fw_subdivision_points(limbs->subdivision, region);
    double *behind_m2 = fw_alloc(count + 1, sizeof *behind_m2);
    enum fw_status status = points && behind_m2 ? FW_OK : fw_fail_memory(err);
    if (!status) {
        double area_m2 = 0;
        for (size_t r = 0; r < region->ring_count; r++)
            area_m2 += fw_ring_area_m2(points + region->ring_start[r],
                                       region->ring_start[r + 1] -
                                           region->ring_start[r]);
        const double base = base_of(limbs, first);
        const double all = limbs->behind[first + count - 1] - base;
        for (size_t k = 0; k < count; k++)
            behind_m2[k + 1] =
                (limbs->behind[first + k] - base) * (area_m2 / all);
        status = fw_layout__block_plans(
            points, region->ring_start, region->ring_count, behind_m2, count,
            directions, &(double){1}, 1, plans, plan_count, err);
    }
    fw_free(points);
    fw_free(behind_m2);
    return status;
}

static enum fw_status cut_plan(struct limbs *limbs,
                               const struct fw_region *region, size_t first,
                               const struct fw_block_plan *plan, bool *whole,
                               struct fw_error *err)
{
    limbs->work += 1 + fw_region_size(region) / size_of_cut;
    return fw_layout__cut_blocks(plan, limbs->subdivision, region,
                                 limbs->behind + first, base_of(limbs, first),
                                 limbs->paddocks + first, whole, err);
}

/* By that plan, and remember it. */
static enum fw_status by_one_plan(struct limbs *limbs,
                                  const struct fw_region *region, size_t first,
                                  size_t count,
                                  const struct fw_block_plan *plan, bool *whole,
                                  struct fw_error *err)
{
    const struct mark mark = mark_of(limbs->subdivision);
    enum fw_status status = cut_plan(limbs, region, first, plan, whole, err);
    if (!status && *whole) {
        const struct fw_way way = {
            .first = first, .count = count, .by_plan = true, .plan = *plan};
        status = fw_ways_note(&limbs->memory->now, &way, err);
        if (status)
            drop(limbs, first, count);
    }
    if (status || !*whole)
        go_back(limbs->subdivision, mark);
    return status;
}

/* Blocks or strips in the direction that needs the least line. */
static enum fw_status by_plan(struct limbs *limbs,
                              const struct fw_region *region, size_t first,
                              size_t count, bool *whole, struct fw_error *err)
{
    struct fw_block_plan *plans = fw_alloc(directions, sizeof *plans);
    if (!plans)
        return fw_fail_memory(err);
    size_t plan_count = 0;
    enum fw_status status =
        list_plans(limbs, region, first, count, plans, &plan_count, err);
    const struct mark mark = mark_of(limbs->subdivision);
    size_t best = plan_count;
    double least_m = HUGE_VAL;
    *whole = false;
    for (size_t i = 0; !status && i < plan_count && i < plans_tried; i++) {
        status = cut_plan(limbs, region, first, &plans[i], whole, err);
        if (status || !*whole)
            continue;
        const double line_m = line_since(limbs->subdivision, mark);
        if (line_m < least_m) {
            least_m = line_m;
            best = i;
        }
        drop(limbs, first, count);
        go_back(limbs->subdivision, mark);
    }
    *whole = false;
    go_back(limbs->subdivision, mark);
    if (!status && best < plan_count)
        status =
            by_one_plan(limbs, region, first, count, &plans[best], whole, err);
    fw_free(plans);
    return status;
}

static enum fw_status solve(struct limbs *limbs, const struct fw_region *region,
                            size_t first, size_t count, int depth, bool *whole,
                            struct fw_error *err);

static enum fw_status by_chord(struct limbs *limbs,
                               const struct fw_region *region, size_t first,
                               size_t count, const struct fw_chord *chord,
                               int depth, bool *whole, struct fw_error *err)
{
    struct fw_region parts[2];
    const struct mark mark = mark_of(limbs->subdivision);
    enum fw_status status = fw_layout__cut_chord(limbs->subdivision, region,
                                                 chord, parts, whole, err);
    limbs->work += 1 + fw_region_size(region) / size_of_cut;
    if (status || !*whole)
        return status;
    const size_t split = chord->plots;
    status = solve(limbs, &parts[0], first, split, depth + 1, whole, err);
    if (!status && *whole) {
        status = solve(limbs, &parts[1], first + split, count - split,
                       depth + 1, whole, err);
        if (status || !*whole)
            drop(limbs, first, split);
    }
    if (!status && *whole) {
        struct fw_way way = {.first = first, .count = count, .chord = *chord};
        fw_way_ends(limbs->subdivision, region, chord, &way.from, &way.to);
        status = fw_ways_note(&limbs->memory->now, &way, err);
        if (status)
            drop(limbs, first, count);
    }
    fw_region_release(&parts[0]);
    fw_region_release(&parts[1]);
    if (status || !*whole)
        go_back(limbs->subdivision, mark);
    return status;
}

static enum fw_status by_chords(struct limbs *limbs,
                                const struct fw_region *region, size_t first,
                                size_t count, int depth, bool *whole,
                                struct fw_error *err)
{
    struct fw_chord chords[chords_tried];
    size_t chord_count = 0;
    enum fw_status status =
        fw_layout__chords(limbs->subdivision, region, limbs->behind + first,
                          base_of(limbs, first), count, 0, chords, chords_tried,
                          &chord_count, err);
    const struct mark mark = mark_of(limbs->subdivision);
    size_t best = chord_count, ways = 0, best_work = 0;
    double least_m = HUGE_VAL;
    const size_t enough = depth == 0 ? enough_ways : 1;
    *whole = false;
    for (size_t i = 0; !status && i < chord_count && ways < enough; i++) {
        const size_t work = limbs->work;
        status = by_chord(limbs, region, first, count, &chords[i], depth, whole,
                          err);
        if (status || !*whole)
            continue;
        ways++;
        if (ways == enough && best == chord_count)
            return FW_OK;
        const double line_m = line_since(limbs->subdivision, mark);
        if (line_m < least_m) {
            least_m = line_m;
            best = i;
            best_work = work;
        }
        drop(limbs, first, count);
        go_back(limbs->subdivision, mark);
    }
    *whole = false;
    limbs->work = best < chord_count ? best_work : limbs->work;
    if (!status && best < chord_count) /* comes out as it did */
        status = by_chord(limbs, region, first, count, &chords[best], depth,
                          whole, err);
    return status;
}

/* As the part was cut before, as nearly as its shape and targets let. */
static enum fw_status as_before(struct limbs *limbs,
                                const struct fw_region *region, size_t first,
                                size_t count, int depth, bool *whole,
                                struct fw_error *err)
{
    const struct fw_way *way =
        fw_ways_find(&limbs->memory->before, first, count);
    if (!way)
        return FW_OK;
    if (way->by_plan)
        return by_one_plan(limbs, region, first, count, &way->plan, whole, err);
    struct fw_chord chords[chords_tried];
    size_t chord_count = 0;
    const enum fw_status status =
        fw_layout__chords(limbs->subdivision, region, limbs->behind + first,
                          base_of(limbs, first), count, way->chord.plots,
                          chords, chords_tried, &chord_count, err);
    const struct fw_chord *chord =
        status ? NULL
               : fw_way_alike(way, limbs->alike, limbs->subdivision, region,
                              chords, chord_count);
    return chord
               ? by_chord(limbs, region, first, count, chord, depth, whole, err)
               : status;
}

static enum fw_status solve(struct limbs *limbs, const struct fw_region *region,
                            size_t first, size_t count, int depth, bool *whole,
                            struct fw_error *err)
{
    *whole = false;
    if (count == 1) {
        *whole = true;
        return fw_region_copy(region, &limbs->paddocks[first], err);
    }
    if (depth > most_depth || limbs->work > limbs->most_work)
        return FW_OK;
    enum fw_status status =
        as_before(limbs, region, first, count, depth, whole, err);
    if (!status && !*whole)
        status = by_plan(limbs, region, first, count, whole, err);
    return status || *whole
               ? status
               : by_chords(limbs, region, first, count, depth, whole, err);
}

static enum fw_status cut(const void *data, struct fw_subdivision *subdivision,
                          const double *behind, struct fw_region *paddocks,
                          struct fw_region *common, size_t *common_count,
                          bool *whole, struct fw_error *err)
{
    (void)common;
    const struct limbs_data *limbs_data = data;
    struct memory *memory = limbs_data->memory;
    struct limbs limbs = {.memory = memory,
                          .alike = limbs_data->alike,
                          .most_work = limbs_data->most_work,
                          .subdivision = subdivision,
                          .behind = behind,
                          .paddocks = paddocks};
    struct fw_region field;
    fw_ways_release(&memory->before);
    memory->before = memory->now;
    memory->now = (struct fw_ways){0};
    *common_count = 0;
    enum fw_status status = fw_subdivision_whole(subdivision, &field, err);
    if (status)
        return status;
    status = solve(&limbs, &field, 0, limbs_data->count, 0, whole, err);
    fw_region_release(&field);
    return status;
}

static bool has_blocks(const struct fw_layout_list *list)
{
    for (size_t i = 0; i < list->count; i++)
        if (strcmp(list->items[i].pattern, "blocks") == 0)
            return true;
    return false;
}

/* `last`: there is no other layout. Along an arm a fence may then jump from
 * bend to bend when the targets change, so that the order does not go round.
 * Where it still does, one paddock follows the other along the arms. */
static enum fw_status offer(const struct fw_layout_request *request,
                            const struct fw_layout_shares *shares, bool last,
                            struct fw_layout_list *list, struct fw_error *err)
{
    struct memory memory = {.before = {.items = NULL}};
    const struct limbs_data data = {shares->count,
                                    last ? FW_WAY_FAR : FW_WAY_NEAR,
                                    last ? last_work : usual_work, &memory};
    struct fw_design design = {.name = "limbs",
                               .pattern = "limbs",
                               .count = shares->count,
                               .cut = cut,
                               .data = &data};
    enum fw_status status =
        fw_layout__offer(request, shares, &design, list, err);
    if (!status && last && list->count == 0) {
        design.cut = fw_layout__peel;
        design.data = &shares->count;
        status = fw_layout__offer(request, shares, &design, list, err);
    }
    fw_ways_release(&memory.before);
    fw_ways_release(&memory.now);
    return status;
}

/* Only where blocks of the whole field do not hold together. */
enum fw_status fw_layout__limbs(const struct fw_layout_request *request,
                                const struct fw_layout_shares *shares,
                                struct fw_layout_list *list,
                                struct fw_error *err)
{
    if (has_blocks(list) ||
        (list->count > 0 && shares->count < FW_BLOCKS_FEWEST))
        return FW_OK;
    enum fw_status status = offer(request, shares, false, list, err);
    if (!status && list->count == 0)
        status = offer(request, shares, true, list, err);
    return status;
}
