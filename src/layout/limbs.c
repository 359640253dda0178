/* Fields that come apart under parallel lines: ground with limbs, bays and
 * ponds. A single fence from edge to edge always parts connected ground into
 * two connected parts, so the ground is halved by short fences, each at a
 * whole number of paddocks, until every part can be cut into blocks or strips
 * that hold together. */
#include "base/alloc.h"
#include "base/fail.h"
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
    double alike; /* as fw_way_alike has it */
    size_t most_work;
    struct memory *memory;
};

struct limbs {
    const struct limbs_data *data;
    struct fw_plots *plots;
    struct fw_subdivision *subdivision; /* theirs */
    size_t work;                        /* done so far, kept or not */
};

static void drop(struct limbs *limbs, const struct fw_part *part)
{
    fw_regions_release(limbs->plots->regions + part->first, part->count);
}

static enum fw_status list_plans(const struct limbs *limbs,
                                 const struct fw_part *part,
                                 struct fw_block_plans *out,
                                 struct fw_error *err)
{
    const struct fw_region *region = part->region;
    const double *behind = limbs->plots->behind + part->first;
    struct fw_point *points = fw_subdivision_points(limbs->subdivision, region);
    double *behind_m2 = fw_alloc(part->count + 1, sizeof *behind_m2);
    enum fw_status status = points && behind_m2 ? FW_OK : fw_fail_memory(err);
    if (!status) {
        const struct fw_block_wish wish = {.points = points,
                                           .ring_start = region->ring_start,
                                           .ring_count = region->ring_count,
                                           .behind_m2 = behind_m2,
                                           .count = part->count,
                                           .directions = directions,
                                           .line_weights = &(double){1},
                                           .weight_count = 1};
        double area_m2 = 0;
        for (size_t r = 0; r < region->ring_count; r++)
            area_m2 += fw_ring_area_m2(points + region->ring_start[r],
                                       region->ring_start[r + 1] -
                                           region->ring_start[r]);
        const double base = fw_plots_before(limbs->plots, part->first);
        const double all = behind[part->count - 1] - base;
        for (size_t k = 0; k < part->count; k++)
            behind_m2[k + 1] = (behind[k] - base) * (area_m2 / all);
        status = fw_layout__block_plans(&wish, out, err);
    }
    fw_free(points);
    fw_free(behind_m2);
    return status;
}

static enum fw_status cut_plan(struct limbs *limbs, const struct fw_part *part,
                               const struct fw_block_plan *plan,
                               struct fw_error *err)
{
    limbs->work += 1 + fw_region_size(part->region) / size_of_cut;
    return fw_layout__cut_blocks(plan, limbs->plots, part, err);
}

/* By that plan, and remember it. */
static enum fw_status by_one_plan(struct limbs *limbs,
                                  const struct fw_part *part,
                                  const struct fw_block_plan *plan,
                                  struct fw_error *err)
{
    const struct fw_subdivision_size mark =
        fw_subdivision_size(limbs->subdivision);
    enum fw_status status = cut_plan(limbs, part, plan, err);
    if (!status && limbs->plots->whole) {
        const struct fw_way way = {.first = part->first,
                                   .count = part->count,
                                   .by_plan = true,
                                   .plan = *plan};
        status = fw_ways_note(&limbs->data->memory->now, &way, err);
        if (status)
            drop(limbs, part);
    }
    if (status || !limbs->plots->whole)
        fw_subdivision_go_back(limbs->subdivision, mark);
    return status;
}

/* Blocks or strips in the direction that needs the least line. */
static enum fw_status by_plan(struct limbs *limbs, const struct fw_part *part,
                              struct fw_error *err)
{
    struct fw_block_plans plans = {
        .items = fw_alloc(directions, sizeof *plans.items)};
    if (!plans.items)
        return fw_fail_memory(err);
    enum fw_status status = list_plans(limbs, part, &plans, err);
    const struct fw_subdivision_size mark =
        fw_subdivision_size(limbs->subdivision);
    size_t best = plans.count;
    double least_m = HUGE_VAL;
    for (size_t i = 0; !status && i < plans.count && i < plans_tried; i++) {
        status = cut_plan(limbs, part, &plans.items[i], err);
        if (status || !limbs->plots->whole)
            continue;
        const double line_m =
            fw_subdivision_line_m(limbs->subdivision, mark.supports);
        if (line_m < least_m) {
            least_m = line_m;
            best = i;
        }
        drop(limbs, part);
        fw_subdivision_go_back(limbs->subdivision, mark);
    }
    limbs->plots->whole = false;
    fw_subdivision_go_back(limbs->subdivision, mark);
    if (!status && best < plans.count)
        status = by_one_plan(limbs, part, &plans.items[best], err);
    fw_free(plans.items);
    return status;
}

static enum fw_status solve(struct limbs *limbs, const struct fw_part *part,
                            int depth, struct fw_error *err);

static enum fw_status by_chord(struct limbs *limbs, const struct fw_part *part,
                               const struct fw_chord *chord, int depth,
                               struct fw_error *err)
{
    struct fw_region halves[2];
    bool *whole = &limbs->plots->whole;
    const struct fw_subdivision_size mark =
        fw_subdivision_size(limbs->subdivision);
    enum fw_status status = fw_layout__cut_chord(
        limbs->subdivision, part->region, chord, halves, whole, err);
    limbs->work += 1 + fw_region_size(part->region) / size_of_cut;
    if (status || !*whole)
        return status;
    const struct fw_part near = {&halves[0], part->first, chord->plots};
    const struct fw_part far = {&halves[1], part->first + chord->plots,
                                part->count - chord->plots};
    status = solve(limbs, &near, depth + 1, err);
    if (!status && *whole) {
        status = solve(limbs, &far, depth + 1, err);
        if (status || !*whole)
            drop(limbs, &near);
    }
    if (!status && *whole) {
        struct fw_way way = {
            .first = part->first, .count = part->count, .chord = *chord};
        fw_way_ends(limbs->subdivision, part->region, chord, &way.from,
                    &way.to);
        status = fw_ways_note(&limbs->data->memory->now, &way, err);
        if (status)
            drop(limbs, part);
    }
    fw_regions_release(halves, 2);
    if (status || !*whole)
        fw_subdivision_go_back(limbs->subdivision, mark);
    return status;
}

static enum fw_status by_chords(struct limbs *limbs, const struct fw_part *part,
                                int depth, struct fw_error *err)
{
    struct fw_chord room[chords_tried];
    struct fw_chords chords = {.items = room, .most = chords_tried};
    enum fw_status status =
        fw_layout__chords(limbs->plots, part, 0, &chords, err);
    const struct fw_subdivision_size mark =
        fw_subdivision_size(limbs->subdivision);
    size_t best = chords.count, ways = 0, best_work = 0;
    double least_m = HUGE_VAL;
    const size_t enough = depth == 0 ? enough_ways : 1;
    limbs->plots->whole = false;
    for (size_t i = 0; !status && i < chords.count && ways < enough; i++) {
        const size_t work = limbs->work;
        status = by_chord(limbs, part, &chords.items[i], depth, err);
        if (status || !limbs->plots->whole)
            continue;
        ways++;
        if (ways == enough && best == chords.count)
            return FW_OK;
        const double line_m =
            fw_subdivision_line_m(limbs->subdivision, mark.supports);
        if (line_m < least_m) {
            least_m = line_m;
            best = i;
            best_work = work;
        }
        drop(limbs, part);
        fw_subdivision_go_back(limbs->subdivision, mark);
    }
    limbs->plots->whole = false;
    limbs->work = best < chords.count ? best_work : limbs->work;
    if (!status && best < chords.count) /* comes out as it did */
        status = by_chord(limbs, part, &chords.items[best], depth, err);
    return status;
}

/* As the part was cut before, as nearly as its shape and targets let. */
static enum fw_status as_before(struct limbs *limbs, const struct fw_part *part,
                                int depth, struct fw_error *err)
{
    const struct fw_way *way =
        fw_ways_find(&limbs->data->memory->before, part->first, part->count);
    if (!way)
        return FW_OK;
    if (way->by_plan)
        return by_one_plan(limbs, part, &way->plan, err);
    struct fw_chord room[chords_tried];
    struct fw_chords chords = {.items = room, .most = chords_tried};
    const enum fw_status status =
        fw_layout__chords(limbs->plots, part, way->chord.plots, &chords, err);
    const struct fw_chord *chord =
        status ? NULL
               : fw_way_alike(way, limbs->data->alike, limbs->subdivision,
                              part->region, &chords);
    return chord ? by_chord(limbs, part, chord, depth, err) : status;
}

static enum fw_status solve(struct limbs *limbs, const struct fw_part *part,
                            int depth, struct fw_error *err)
{
    struct fw_plots *plots = limbs->plots;
    plots->whole = part->count == 1;
    if (plots->whole)
        return fw_region_copy(part->region, &plots->regions[part->first], err);
    if (depth > most_depth || limbs->work > limbs->data->most_work)
        return FW_OK;
    enum fw_status status = as_before(limbs, part, depth, err);
    if (!status && !plots->whole)
        status = by_plan(limbs, part, err);
    return status || plots->whole ? status : by_chords(limbs, part, depth, err);
}

static enum fw_status cut(const void *data, struct fw_plots *plots,
                          struct fw_error *err)
{
    struct limbs limbs = {
        .data = data, .plots = plots, .subdivision = &plots->subdivision};
    struct memory *memory = limbs.data->memory;
    struct fw_region field;
    fw_ways_release(&memory->before);
    memory->before = memory->now;
    memory->now = (struct fw_ways){0};
    enum fw_status status =
        fw_subdivision_whole(&plots->subdivision, &field, err);
    if (status)
        return status;
    status = solve(&limbs, &(struct fw_part){&field, 0, plots->count}, 0, err);
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
    const struct limbs_data data = {last ? FW_WAY_FAR : FW_WAY_NEAR,
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
        design.data = NULL;
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
