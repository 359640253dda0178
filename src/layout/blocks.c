/* Blocks with strips inside: the field swept in one direction and parted by
 * block lines, each block swept square to it and parted into paddocks, forth
 * in one block and back in the next.
 *
 * For every direction one sweep gives the places of all possible block lines:
 * after so many whole paddocks each. Which of them are used is found by
 * dynamic programming over the paddocks, with the strips' fences taken to be as
 * long as their block is wide. The best by that measure are then cut exactly,
 * and those with the least line are offered. */
#include "layout/blocks.h"
#include "base/alloc.h"
#include "base/angle.h"
#include "base/fail.h"
#include "base/text.h"
#include "figures/layout.h"
#include "figures/mark.h"
#include "layout/pattern.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum {
    usual_directions = FW_EFFORT(180),
    most_measured = FW_EFFORT(18), /* cut exactly */
    most_offered = FW_EFFORT(6)
};

struct search {
    const struct fw_block_wish *wish;
    struct fw_sweep *sweep;
    double *position_m, *length_m; /* of the block line there */
    double *cost_m;                /* of the plots up to there, at best */
    size_t *before;                /* where the last block of these begins */
};

static void release(struct search *search)
{
    fw_free(search->position_m);
    fw_free(search->length_m);
    fw_free(search->cost_m);
    fw_free(search->before);
    fw_sweep_free(search->sweep);
}

static enum fw_status begin(struct search *search, struct fw_error *err)
{
    const struct fw_block_wish *wish = search->wish;
    const size_t count = wish->count;
    search->position_m = fw_alloc(count + 1, sizeof(double));
    search->length_m = fw_alloc(count + 1, sizeof(double));
    search->cost_m = fw_alloc(count + 1, sizeof(double));
    search->before = fw_alloc(count + 1, sizeof(size_t));
    return search->position_m && search->length_m && search->cost_m &&
                   search->before
               ? fw_sweep_new(wish->points, wish->ring_start, wish->ring_count,
                              &search->sweep, err)
               : fw_fail_memory(err);
}

/* Entry 0 is the near end of the field, the last one the far end. */
static void list_places(struct search *search, double deg)
{
    const struct fw_block_wish *wish = search->wish;
    const size_t count = wish->count;
    fw_sweep_turn(search->sweep, deg);
    fw_sweep_cut(search->sweep, wish->behind_m2 + 1, count - 1,
                 search->position_m + 1, search->length_m + 1);
    const double c = cos(deg * FW_PI / 180), s = sin(deg * FW_PI / 180);
    double least = HUGE_VAL, most = -HUGE_VAL;
    for (size_t i = 0; i < wish->ring_start[1]; i++) {
        const double u = wish->points[i].x_m * c + wish->points[i].y_m * s;
        least = fmin(least, u);
        most = fmax(most, u);
    }
    search->position_m[0] = least;
    search->position_m[count] = most;
    search->length_m[0] = search->length_m[count] = 0;
}

/* The blocks at the ends of the field taper: they count half way between
 * their full width and the mean one. */
static double width_m(const struct search *search, size_t from, size_t to)
{
    const double *behind_m2 = search->wish->behind_m2;
    const size_t count = search->wish->count;
    const double full_m = search->position_m[to] - search->position_m[from];
    if ((from > 0 && to < count) || to - from == count)
        return full_m;
    const double area_m2 = behind_m2[to] - behind_m2[from];
    const double long_m = fmax(search->length_m[from], search->length_m[to]);
    return (full_m + fmin(full_m, area_m2 / long_m)) / 2;
}

static double choose_places(struct search *search, double line_weight)
{
    const size_t count = search->wish->count;
    const size_t most =
        FW_EFFORT(4) + (size_t)(FW_EFFORT(4) * sqrt((double)count));
    search->cost_m[0] = 0;
    for (size_t to = 1; to <= count; to++) {
        const double line_m = line_weight * search->length_m[to];
        double least_m = HUGE_VAL;
        for (size_t from = to > most ? to - most : 0; from < to; from++) {
            const double cost_m =
                search->cost_m[from] + line_m +
                (double)(int)(to - from - 1) * width_m(search, from, to);
            if (cost_m < least_m) {
                least_m = cost_m;
                search->before[to] = from;
            }
        }
        search->cost_m[to] = least_m;
    }
    return search->cost_m[count];
}

/* False when the plan has more blocks than there is room for. */
static bool take_plan(const struct search *search, double deg, double line_m,
                      struct fw_block_plan *plan)
{
    size_t blocks = 0;
    for (size_t at = search->wish->count; at > 0; at = search->before[at])
        blocks++;
    if (blocks > FW_MOST_BLOCKS)
        return false;
    *plan = (struct fw_block_plan){
        .deg = deg, .line_m = line_m, .block_count = blocks};
    for (size_t at = search->wish->count; at > 0; at = search->before[at])
        plan->at[blocks--] = at;
    return true;
}

static int by_rank(const void *left, const void *right)
{
    const struct fw_block_plan *a = left, *b = right;
    if (a->rank < b->rank || a->rank > b->rank)
        return a->rank < b->rank ? -1 : 1;
    return a->deg < b->deg ? -1 : a->deg > b->deg;
}

void fw_layout__sort_plans(const struct fw_block_plans *plans)
{
    double least_m = HUGE_VAL;
    for (size_t i = 0; i < plans->count; i++)
        least_m = fmin(least_m, plans->items[i].line_m);
    for (size_t i = 0; i < plans->count; i++) {
        struct fw_block_plan *plan = &plans->items[i];
        plan->rank = isfinite(plan->line_m)
                         ? rint(plan->line_m / (least_m * FW_TOLERANCE(1e-9)))
                         : HUGE_VAL;
    }
    qsort(plans->items, plans->count, sizeof *plans->items, by_rank);
}

/* Over a year of daily paddocks in one field, a few directions will do. */
static size_t worth_trying(size_t directions, size_t count)
{
    enum { year = FW_EFFORT(365), least = FW_EFFORT(8) };
    const size_t few = count > year ? directions * year / count : directions;
    return few > least ? few : directions < least ? directions : least;
}

enum fw_status fw_layout__block_plans(const struct fw_block_wish *wish,
                                      struct fw_block_plans *out,
                                      struct fw_error *err)
{
    struct search search = {.wish = wish};
    enum fw_status status = begin(&search, err);
    const size_t tried = worth_trying(wish->directions, wish->count);
    for (size_t w = 0; w < wish->weight_count; w++)
        out[w].count = 0;
    for (size_t i = 0; !status && i < tried; i++) {
        const double deg = 180.0 * (double)i / (double)tried;
        list_places(&search, deg);
        for (size_t w = 0; w < wish->weight_count; w++) {
            const double line_m = choose_places(&search, wish->line_weights[w]);
            out[w].count +=
                take_plan(&search, deg, line_m, &out[w].items[out[w].count]);
        }
    }
    release(&search);
    for (size_t w = 0; !status && w < wish->weight_count; w++)
        fw_layout__sort_plans(&out[w]);
    return status;
}

/* ---- exact ---- */

enum fw_status fw_layout__cut_blocks(const struct fw_block_plan *plan,
                                     struct fw_plots *plots,
                                     const struct fw_part *part,
                                     struct fw_error *err)
{
    struct fw_region blocks[FW_MOST_BLOCKS];
    double lines[FW_MOST_BLOCKS];
    for (size_t b = 0; b + 1 < plan->block_count; b++)
        lines[b] = fw_plots_before(plots, part->first + plan->at[b + 1]) -
                   fw_plots_before(plots, part->first);
    const struct fw_cuts cuts = {.direction_deg = plan->deg,
                                 .behind = lines,
                                 .count = plan->block_count - 1,
                                 .role = FW_LINE_STANDING};
    enum fw_status status = fw_subdivision_cut(
        &plots->subdivision, part->region, &cuts, blocks, &plots->whole, err);
    if (status || !plots->whole)
        return status;
    size_t done = 0;
    while (!status && plots->whole && done < plan->block_count) {
        const struct fw_part block = {&blocks[done],
                                      part->first + plan->at[done],
                                      plan->at[done + 1] - plan->at[done]};
        const bool forth = (done % 2 == 0) != plan->mirrored;
        status =
            fw_plots_strips(plots, &block, plan->deg + (forth ? 90 : 270), err);
        done += !status && plots->whole;
    }
    if (status || !plots->whole)
        fw_regions_release(plots->regions + part->first, plan->at[done]);
    fw_regions_release(blocks, plan->block_count);
    return status;
}

/* ---- the pattern: the whole field ---- */

static enum fw_status cut(const void *data, struct fw_plots *plots,
                          struct fw_error *err)
{
    struct fw_region field;
    enum fw_status status =
        fw_subdivision_whole(&plots->subdivision, &field, err);
    if (status)
        return status;
    status = fw_layout__cut_blocks(
        data, plots, &(struct fw_part){&field, 0, plots->count}, err);
    fw_region_release(&field);
    return status;
}

/* The plots begin and end at the sides of the first and the last block: let one
 * of these places be where the flock comes in. */
static void face_start(const struct fw_layout_request *request,
                       struct fw_block_plan *plan)
{
    if (!request->start)
        return;
    const double c = cos(plan->deg * FW_PI / 180),
                 s = sin(plan->deg * FW_PI / 180);
    double least_u = HUGE_VAL, most_u = -HUGE_VAL;
    double least_v = HUGE_VAL, most_v = -HUGE_VAL;
    for (size_t i = 0; i < request->field->ring_start[1]; i++) {
        const struct fw_point p = request->field->vertices[i].plane;
        least_u = fmin(least_u, p.x_m * c + p.y_m * s);
        most_u = fmax(most_u, p.x_m * c + p.y_m * s);
        least_v = fmin(least_v, p.y_m * c - p.x_m * s);
        most_v = fmax(most_v, p.y_m * c - p.x_m * s);
    }
    const double u = request->start->x_m * c + request->start->y_m * s;
    const double v = request->start->y_m * c - request->start->x_m * s;
    const bool far_end = u > (least_u + most_u) / 2;
    const bool left = v > (least_v + most_v) / 2;
    /* Unmirrored, the first plot lies to the right of the first block, the last
     * one to the left of the last block when that runs the same way. */
    const bool last_left = plan->block_count % 2 == 1;
    plan->mirrored = far_end ? left != last_left : left;
}

static struct fw_design design_of(const struct fw_block_plan *plan)
{
    struct fw_design design = {.pattern = "blocks",
                               .direction_deg = plan->deg,
                               .count = plan->at[plan->block_count],
                               .cut = cut,
                               .data = plan};
    fw_text_format(design.name, sizeof design.name, "blocks-%zu-%.4g",
                   plan->block_count, plan->deg);
    return design;
}

static enum fw_status measure(const struct fw_layout_request *request,
                              const struct fw_layout_shares *shares,
                              const struct fw_block_plans *plans,
                              struct fw_error *err)
{
    enum fw_status status = FW_OK;
    for (size_t i = 0; !status && i < plans->count; i++) {
        struct fw_block_plan *plan = &plans->items[i];
        face_start(request, plan);
        const struct fw_design design = design_of(plan);
        status =
            fw_layout__measure(request, shares, &design, &plan->line_m, err);
    }
    fw_layout__sort_plans(plans);
    return status;
}

/* Enough of that number of blocks: one whose plots begin at the start, or two
 * others. */
static bool enough_of(const struct fw_layout_list *list, size_t block_count)
{
    char head[32];
    size_t found = 0;
    snprintf(head, sizeof head, "blocks-%zu-", block_count);
    for (size_t i = 0; i < list->count; i++) {
        if (strncmp(list->items[i].name, head, strlen(head)) != 0)
            continue;
        found++;
        if (list->items[i].turn_count == 0)
            return true;
    }
    return found >= 2;
}

/* Of one number of blocks the best, and others until the flock comes in where
 * the plots begin. */
static enum fw_status offer(const struct fw_layout_request *request,
                            const struct fw_layout_shares *shares,
                            const struct fw_block_plans *plans,
                            struct fw_layout_list *list, struct fw_error *err)
{
    enum fw_status status = FW_OK;
    size_t offered = 0;
    for (size_t i = 0; !status && i < plans->count && offered < most_offered;
         i++) {
        const struct fw_block_plan *plan = &plans->items[i];
        if (!isfinite(plan->line_m) || enough_of(list, plan->block_count))
            continue;
        const struct fw_design design = design_of(plan);
        status = fw_layout__offer(request, shares, &design, list, err);
        offered++;
    }
    return status;
}

/* Of one block is plain strips. */
static void drop_single(struct fw_block_plans *plans)
{
    size_t n = 0;
    for (size_t i = 0; i < plans->count; i++)
        if (plans->items[i].block_count > 1)
            plans->items[n++] = plans->items[i];
    plans->count = n;
}

/* `like`: with all but what lies on the ground, which is the field's. */
static enum fw_status find(const struct fw_layout_request *request,
                           const struct fw_layout_shares *shares,
                           const struct fw_block_wish *like,
                           struct fw_block_plans *out, struct fw_error *err)
{
    const struct fw_field *field = request->field;
    struct fw_point *points = fw_alloc(field->vertex_count, sizeof *points);
    double *behind_m2 = fw_alloc(shares->count + 1, sizeof *behind_m2);
    enum fw_status status = points && behind_m2 ? FW_OK : fw_fail_memory(err);
    if (!status) {
        struct fw_block_wish wish = *like;
        wish.points = points;
        wish.ring_start = field->ring_start;
        wish.ring_count = field->ring_count;
        wish.behind_m2 = behind_m2;
        wish.count = shares->count;
        for (size_t i = 0; i < field->vertex_count; i++)
            points[i] = field->vertices[i].plane;
        for (size_t k = 0; k < shares->count; k++)
            behind_m2[k + 1] =
                shares->behind[k] *
                (field->area_m2 / shares->behind[shares->count - 1]);
        status = fw_layout__block_plans(&wish, out, err);
    }
    fw_free(points);
    fw_free(behind_m2);
    return status;
}

/* The best of one weight of the block lines, cut exactly and offered. */
static enum fw_status try_plans(const struct fw_layout_request *request,
                                const struct fw_layout_shares *shares,
                                struct fw_block_plans *plans, size_t most,
                                struct fw_layout_list *list,
                                struct fw_error *err)
{
    drop_single(plans);
    plans->count = plans->count < most ? plans->count : most;
    const enum fw_status status = measure(request, shares, plans, err);
    return status ? status : offer(request, shares, plans, list, err);
}

enum fw_status fw_layout__blocks(const struct fw_layout_request *request,
                                 const struct fw_layout_shares *shares,
                                 struct fw_layout_list *list,
                                 struct fw_error *err)
{
    static const double line_weights[] = {1, FW_EFFORT(3)}; /* all, few lines */
    static const size_t most[] = {most_measured, most_measured / FW_EFFORT(3)};
    enum { weights = sizeof most / sizeof *most };
    const size_t directions = request->directions > 0
                                  ? (size_t)request->directions
                                  : usual_directions;
    const struct fw_block_wish like = {.directions = directions,
                                       .line_weights = line_weights,
                                       .weight_count = weights};
    if (shares->count < FW_BLOCKS_FEWEST)
        return FW_OK;
    struct fw_block_plan *room = fw_alloc(weights * directions, sizeof *room);
    struct fw_block_plans plans[weights];
    if (!room)
        return fw_fail_memory(err);
    for (size_t w = 0; w < weights; w++)
        plans[w].items = room + w * directions;
    enum fw_status status = find(request, shares, &like, plans, err);
    for (size_t w = 0; !status && w < weights; w++)
        status = try_plans(request, shares, &plans[w], most[w], list, err);
    fw_free(room);
    return status;
}
