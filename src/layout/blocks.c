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
#include "base/fail.h"
#include "base/text.h"
#include "figures/layout.h"
#include "figures/mark.h"
#include "layout/pattern.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const double pi = 3.14159265358979323846;

enum {
    usual_directions = FW_EFFORT(180),
    most_measured = FW_EFFORT(18), /* cut exactly */
    most_offered = FW_EFFORT(6)
};

struct search {
    const struct fw_point *points;
    size_t point_count; /* of the outer ring */
    size_t count;       /* plots */
    const double *behind_m2;
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
    const size_t count = search->count;
    search->position_m = fw_alloc(count + 1, sizeof(double));
    search->length_m = fw_alloc(count + 1, sizeof(double));
    search->cost_m = fw_alloc(count + 1, sizeof(double));
    search->before = fw_alloc(count + 1, sizeof(size_t));
    return search->position_m && search->length_m && search->cost_m &&
                   search->before
               ? FW_OK
               : fw_fail_memory(err);
}

/* Entry 0 is the near end of the field, the last one the far end. */
static void list_places(struct search *search, double deg)
{
    const size_t count = search->count;
    fw_sweep_turn(search->sweep, deg);
    fw_sweep_cut(search->sweep, search->behind_m2 + 1, count - 1,
                 search->position_m + 1, search->length_m + 1);
    const double c = cos(deg * pi / 180), s = sin(deg * pi / 180);
    double least = HUGE_VAL, most = -HUGE_VAL;
    for (size_t i = 0; i < search->point_count; i++) {
        const double u = search->points[i].x_m * c + search->points[i].y_m * s;
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
    const size_t count = search->count;
    const double full_m = search->position_m[to] - search->position_m[from];
    if ((from > 0 && to < count) || to - from == count)
        return full_m;
    const double area_m2 = search->behind_m2[to] - search->behind_m2[from];
    const double long_m = fmax(search->length_m[from], search->length_m[to]);
    return (full_m + fmin(full_m, area_m2 / long_m)) / 2;
}

static double choose_places(struct search *search, double line_weight)
{
    const size_t count = search->count;
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
    for (size_t at = search->count; at > 0; at = search->before[at])
        blocks++;
    if (blocks > FW_MOST_BLOCKS)
        return false;
    *plan = (struct fw_block_plan){
        .deg = deg, .line_m = line_m, .block_count = blocks};
    for (size_t at = search->count; at > 0; at = search->before[at])
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

void fw_layout__sort_plans(struct fw_block_plan *plans, size_t count)
{
    double least_m = HUGE_VAL;
    for (size_t i = 0; i < count; i++)
        least_m = fmin(least_m, plans[i].line_m);
    for (size_t i = 0; i < count; i++)
        plans[i].rank =
            isfinite(plans[i].line_m)
                ? rint(plans[i].line_m / (least_m * FW_TOLERANCE(1e-9)))
                : HUGE_VAL;
    qsort(plans, count, sizeof *plans, by_rank);
}

/* Over a year of daily paddocks in one field, a few directions will do. */
static size_t worth_trying(size_t directions, size_t count)
{
    enum { year = FW_EFFORT(365), least = FW_EFFORT(8) };
    const size_t few = count > year ? directions * year / count : directions;
    return few > least ? few : directions < least ? directions : least;
}

enum fw_status
fw_layout__block_plans(const struct fw_point *points, const size_t *ring_start,
                       size_t ring_count, const double *behind_m2, size_t count,
                       size_t directions, const double *line_weights,
                       size_t weight_count, struct fw_block_plan *plans,
                       size_t *plan_counts, struct fw_error *err)
{
    struct search search = {.points = points,
                            .point_count = ring_start[1],
                            .count = count,
                            .behind_m2 = behind_m2};
    enum fw_status status = begin(&search, err);
    if (!status)
        status =
            fw_sweep_new(points, ring_start, ring_count, &search.sweep, err);
    for (size_t w = 0; w < weight_count; w++)
        plan_counts[w] = 0;
    const size_t tried = worth_trying(directions, count);
    for (size_t i = 0; !status && i < tried; i++) {
        const double deg = 180.0 * (double)i / (double)tried;
        list_places(&search, deg);
        for (size_t w = 0; w < weight_count; w++) {
            const double line_m = choose_places(&search, line_weights[w]);
            plan_counts[w] += take_plan(
                &search, deg, line_m, &plans[w * directions + plan_counts[w]]);
        }
    }
    release(&search);
    for (size_t w = 0; !status && w < weight_count; w++)
        fw_layout__sort_plans(plans + w * directions, plan_counts[w]);
    return status;
}

/* ---- exact ---- */

static enum fw_status cut_block(const struct fw_block_plan *plan, size_t block,
                                struct fw_subdivision *subdivision,
                                const double *behind, double base,
                                const struct fw_region *region,
                                struct fw_region *paddocks, bool *whole,
                                struct fw_error *err)
{
    const size_t first = plan->at[block];
    const size_t count = plan->at[block + 1] - first;
    double *inside = fw_alloc(count, sizeof *inside);
    if (!inside)
        return fw_fail_memory(err);
    for (size_t k = 0; k + 1 < count; k++)
        inside[k] = behind[first + k] - (first > 0 ? behind[first - 1] : base);
    const enum fw_status status = fw_subdivision_cut(
        subdivision, region,
        plan->deg + ((block % 2 == 0) != plan->mirrored ? 90 : 270), inside,
        count - 1, FW_LINE_MOVED, paddocks + first, whole, err);
    fw_free(inside);
    return status;
}

enum fw_status fw_layout__cut_blocks(const struct fw_block_plan *plan,
                                     struct fw_subdivision *subdivision,
                                     const struct fw_region *region,
                                     const double *behind, double base,
                                     struct fw_region *paddocks, bool *whole,
                                     struct fw_error *err)
{
    struct fw_region blocks[FW_MOST_BLOCKS];
    double lines[FW_MOST_BLOCKS];
    for (size_t b = 0; b + 1 < plan->block_count; b++)
        lines[b] = behind[plan->at[b + 1] - 1] - base;
    enum fw_status status = fw_subdivision_cut(
        subdivision, region, plan->deg, lines, plan->block_count - 1,
        FW_LINE_STANDING, blocks, whole, err);
    if (status || !*whole)
        return status;
    size_t done = 0;
    while (!status && *whole && done < plan->block_count) {
        status = cut_block(plan, done, subdivision, behind, base, &blocks[done],
                           paddocks, whole, err);
        done += !status && *whole;
    }
    if (status || !*whole)
        for (size_t i = 0; i < plan->at[done]; i++)
            fw_region_release(&paddocks[i]);
    for (size_t i = 0; i < plan->block_count; i++)
        fw_region_release(&blocks[i]);
    return status;
}

/* ---- the pattern: the whole field ---- */

static enum fw_status cut(const void *data, struct fw_subdivision *subdivision,
                          const double *behind, struct fw_region *paddocks,
                          struct fw_region *common, size_t *common_count,
                          bool *whole, struct fw_error *err)
{
    (void)common;
    struct fw_region field;
    *common_count = 0;
    enum fw_status status = fw_subdivision_whole(subdivision, &field, err);
    if (status)
        return status;
    status = fw_layout__cut_blocks(data, subdivision, &field, behind, 0,
                                   paddocks, whole, err);
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
    const double c = cos(plan->deg * pi / 180), s = sin(plan->deg * pi / 180);
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
                              struct fw_block_plan *plans, size_t count,
                              struct fw_error *err)
{
    enum fw_status status = FW_OK;
    for (size_t i = 0; !status && i < count; i++) {
        face_start(request, &plans[i]);
        const struct fw_design design = design_of(&plans[i]);
        status =
            fw_layout__measure(request, shares, &design, &plans[i].line_m, err);
    }
    fw_layout__sort_plans(plans, count);
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
                            const struct fw_block_plan *plans, size_t count,
                            struct fw_layout_list *list, struct fw_error *err)
{
    enum fw_status status = FW_OK;
    size_t offered = 0;
    for (size_t i = 0; !status && i < count && offered < most_offered; i++) {
        if (!isfinite(plans[i].line_m) || enough_of(list, plans[i].block_count))
            continue;
        const struct fw_design design = design_of(&plans[i]);
        status = fw_layout__offer(request, shares, &design, list, err);
        offered++;
    }
    return status;
}

/* Of one block is plain strips. */
static size_t drop_single(struct fw_block_plan *plans, size_t count)
{
    size_t n = 0;
    for (size_t i = 0; i < count; i++)
        if (plans[i].block_count > 1)
            plans[n++] = plans[i];
    return n;
}

static enum fw_status find(const struct fw_layout_request *request,
                           const struct fw_layout_shares *shares,
                           size_t directions, const double *line_weights,
                           size_t weight_count, struct fw_block_plan *plans,
                           size_t *counts, struct fw_error *err)
{
    const struct fw_field *field = request->field;
    struct fw_point *points = fw_alloc(field->vertex_count, sizeof *points);
    double *behind_m2 = fw_alloc(shares->count + 1, sizeof *behind_m2);
    enum fw_status status = points && behind_m2 ? FW_OK : fw_fail_memory(err);
    if (!status) {
        for (size_t i = 0; i < field->vertex_count; i++)
            points[i] = field->vertices[i].plane;
        for (size_t k = 0; k < shares->count; k++)
            behind_m2[k + 1] =
                shares->behind[k] *
                (field->area_m2 / shares->behind[shares->count - 1]);
        status = fw_layout__block_plans(points, field->ring_start,
                                        field->ring_count, behind_m2,
                                        shares->count, directions, line_weights,
                                        weight_count, plans, counts, err);
    }
    fw_free(points);
    fw_free(behind_m2);
    return status;
}

/* The best of one weight of the block lines, cut exactly and offered. */
static enum fw_status try_plans(const struct fw_layout_request *request,
                                const struct fw_layout_shares *shares,
                                struct fw_block_plan *plans, size_t count,
                                size_t most, struct fw_layout_list *list,
                                struct fw_error *err)
{
    count = drop_single(plans, count);
    count = count < most ? count : most;
    const enum fw_status status = measure(request, shares, plans, count, err);
    return status ? status : offer(request, shares, plans, count, list, err);
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
    if (shares->count < FW_BLOCKS_FEWEST)
        return FW_OK;
    size_t counts[weights];
    struct fw_block_plan *plans = fw_alloc(weights * directions, sizeof *plans);
    if (!plans)
        return fw_fail_memory(err);
    enum fw_status status = find(request, shares, directions, line_weights,
                                 weights, plans, counts, err);
    for (size_t w = 0; !status && w < weights; w++)
        status = try_plans(request, shares, plans + w * directions, counts[w],
                           most[w], list, err);
    fw_free(plans);
    return status;
}
