/* Where warning signs hang. The sides of a boundary are one fence to those who
 * walk beside it: their parts are joined round the corners, so that no corner
 * has two signs. */
#include "around/around.h"

#include "base/alloc.h"
#include "base/array.h"
#include "base/fail.h"
#include "figures/mark.h"

#include <math.h>
#include <stdlib.h>

/* One sign serves a road and a path where both want one so near; common
 * practice, no source. */
static const double same_sign_m = 1;

struct stations { /* along a chain, in metres from its beginning */
    double *items;
    size_t count, capacity;
};

/* Lines end to end. */
struct chain {
    size_t *lines;
    double *starts_m; /* count + 1: where each begins, and the end */
    size_t count;
    bool closed;
};

struct hanging {
    struct fw_plan__around *around;
    struct chain chain;
    struct stations places;
    struct fw_stretches parts;
    bool *done;      /* by line */
    bool *follows;   /* by line: another one of the boundary ends where it
                        begins */
    size_t *numbers; /* by line: signs so far */
    size_t *begins;  /* by vertex of the field: the line of the boundary that
                        begins there, or FW_NONE */
};

static enum fw_status add_place(struct stations *places, double at_m,
                                struct fw_error *err)
{
    const enum fw_status status =
        fw_array_reserve(&places->items, &places->capacity, places->count + 1,
                         sizeof *places->items, err);
    if (!status)
        places->items[places->count++] = at_m;
    return status;
}

/* ---- chains ---- */

static const struct fw_plan_fence *fence_of(const struct hanging *hanging,
                                            size_t line)
{
    const struct fw_plan__around *around = hanging->around;
    return &around->job->plan->fences[around->lines[line].fence];
}

static bool is_boundary(const struct hanging *hanging, size_t line)
{
    return hanging->around->lines[line].hot &&
           fence_of(hanging, line)->role == FW_FENCE_PERIMETER;
}

/* The live side of the boundary that begins where this one ends; FW_NONE:
 * there is none. */
static size_t after(const struct hanging *hanging, size_t line)
{
    const struct fw_plan_fence *fence = fence_of(hanging, line);
    return hanging->begins[fence->line[fence->line_count - 1]];
}

static void find_ends(struct hanging *hanging, size_t vertex_count)
{
    const size_t count = hanging->around->line_count;
    for (size_t v = 0; v < vertex_count; v++)
        hanging->begins[v] = FW_NONE;
    for (size_t i = 0; i < count; i++)
        if (is_boundary(hanging, i))
            hanging->begins[fence_of(hanging, i)->line[0]] = i;
    for (size_t i = 0; i < count; i++)
        if (is_boundary(hanging, i) && after(hanging, i) != FW_NONE)
            hanging->follows[after(hanging, i)] = true;
}

static void take_line(struct hanging *hanging, size_t line)
{
    const struct fw_plan__line *of = &hanging->around->lines[line];
    struct chain *chain = &hanging->chain;
    hanging->done[line] = true;
    chain->lines[chain->count] = line;
    chain->starts_m[chain->count + 1] =
        chain->starts_m[chain->count] +
        fw_line_length_m(of->points, of->count, false);
    chain->count++;
}

/* From this line on; of the boundary all that follow. */
static void take_chain(struct hanging *hanging, size_t first)
{
    struct chain *chain = &hanging->chain;
    chain->count = 0;
    chain->closed = false;
    take_line(hanging, first);
    if (!is_boundary(hanging, first))
        return;
    size_t next = after(hanging, first);
    for (; next != FW_NONE && !hanging->done[next]; next = after(hanging, next))
        take_line(hanging, next);
    chain->closed = next == first;
}

static double length_m(const struct chain *chain)
{
    return chain->starts_m[chain->count];
}

/* ---- where signs hang on a chain ---- */

/* Parts with less between them than two signs are one; so are those that the
 * beginning of a ring parts. True when they are all of a ring. */
static bool join(const struct chain *chain, struct fw_stretches *parts,
                 double gap_m)
{
    fw_stretches_join(parts, gap_m);
    if (!chain->closed || parts->count == 0)
        return false;
    struct fw_stretch *first = &parts->items[0];
    struct fw_stretch *last = &parts->items[parts->count - 1];
    if (first->from_m + length_m(chain) > last->to_m + gap_m)
        return false;
    if (parts->count == 1)
        return true;
    last->to_m = first->to_m + length_m(chain);
    *first = *last;
    parts->count--;
    return false;
}

static enum fw_status along_part(struct hanging *hanging,
                                 const struct fw_stretch *part, double gap_m,
                                 struct fw_error *err)
{
    const double along_m = part->to_m - part->from_m;
    const int count = fw_safety_sign_count(along_m, gap_m);
    enum fw_status status = FW_OK;
    for (int i = 0; !status && i < count; i++)
        status =
            add_place(&hanging->places,
                      part->from_m + along_m * i / fmax(1, count - 1), err);
    return status;
}

/* The last sign of a ring is its first. */
static enum fw_status all_round(struct hanging *hanging, double gap_m,
                                struct fw_error *err)
{
    const double round_m = length_m(&hanging->chain);
    const int count = fw_safety_sign_count(round_m, gap_m) - 1;
    enum fw_status status = FW_OK;
    for (int i = 0; !status && i < count; i++)
        status = add_place(&hanging->places, round_m * i / count, err);
    return status;
}

/* The end of a temporary line is near the road that its boundary runs along:
 * the boundary's signs are there. One that is not live has none, and then the
 * line's end has one. Returns whether that settled it. */
static bool is_short_end(const struct hanging *hanging,
                         const struct fw_stretch *part, double reach_m,
                         double *sign_m)
{
    const struct fw_plan__around *around = hanging->around;
    const struct fw_plan_fence *fence =
        fence_of(hanging, hanging->chain.lines[0]);
    const double line_m = length_m(&hanging->chain);
    const bool first = part->from_m <= 0;
    if (fence->role == FW_FENCE_PERIMETER ||
        part->to_m - part->from_m > 2 * reach_m ||
        (!first && part->to_m < line_m * (1 - FW_TOLERANCE(1e-12))))
        return false;
    const size_t vertex = fence->line[first ? 0 : fence->line_count - 1];
    *sign_m = -1;
    if (fw_plan_hot_at(around->job->plan, around->field, vertex) == FW_NO)
        *sign_m = first ? 0 : line_m;
    return true;
}

static enum fw_status places_of(struct hanging *hanging, size_t kind,
                                const struct fw_safety_rule *rule,
                                struct fw_error *err)
{
    const struct chain *chain = &hanging->chain;
    const double gap_m = fw_plan__sign_gap_m(hanging->around->job->farm, rule);
    struct fw_stretches *parts = &hanging->parts;
    enum fw_status status = FW_OK;
    parts->count = 0;
    for (size_t i = 0; i < chain->count; i++) {
        const struct fw_stretches *of =
            &hanging->around->lines[chain->lines[i]].along[kind];
        status = fw_array_reserve(&parts->items, &parts->capacity,
                                  parts->count + of->count,
                                  sizeof *parts->items, err);
        if (status)
            return status;
        for (size_t k = 0; k < of->count; k++)
            parts->items[parts->count++] =
                (struct fw_stretch){chain->starts_m[i] + of->items[k].from_m,
                                    chain->starts_m[i] + of->items[k].to_m};
    }
    if (join(chain, parts, gap_m))
        return all_round(hanging, gap_m, err);
    for (size_t i = 0; !status && i < parts->count; i++) {
        double at_m;
        if (!is_short_end(hanging, &parts->items[i], rule->wanted_m, &at_m))
            status = along_part(hanging, &parts->items[i], gap_m, err);
        else if (at_m >= 0)
            status = add_place(&hanging->places, at_m, err);
    }
    return status;
}

/* ---- hanging them ---- */

static int by_place(const void *left, const void *right)
{
    const double *a = left, *b = right;
    return (*a > *b) - (*a < *b);
}

/* In order along the chain, without those that another one serves. */
static void settle(struct hanging *hanging)
{
    const double all_m = length_m(&hanging->chain);
    struct stations *places = &hanging->places;
    size_t kept = 0;
    for (size_t i = 0; i < places->count; i++)
        if (places->items[i] > all_m)
            places->items[i] -= all_m;
    if (places->count)
        qsort(places->items, places->count, sizeof *places->items, by_place);
    for (size_t i = 0; i < places->count; i++)
        if (kept == 0 ||
            places->items[i] - places->items[kept - 1] > same_sign_m)
            places->items[kept++] = places->items[i];
    if (hanging->chain.closed && kept > 1 &&
        places->items[0] + all_m - places->items[kept - 1] <= same_sign_m)
        kept--;
    places->count = kept;
}

static enum fw_status hang(struct hanging *hanging, size_t line, double at_m,
                           struct fw_error *err)
{
    struct fw_plan__around *around = hanging->around;
    struct fw_plan *plan = around->job->plan;
    const struct fw_plan__line *of = &around->lines[line];
    enum fw_status status =
        fw_array_reserve(&plan->posts, &plan->post_capacity,
                         plan->post_count + 1, sizeof *plan->posts, err);
    if (status)
        return status;
    struct fw_plan_post *post = &plan->posts[plan->post_count];
    *post = (struct fw_plan_post){
        .fence = of->fence, .at_m = at_m, .why = FW_POST_SIGN};
    fw_plan__id(post->id, "%.18s/s%zu", plan->fences[of->fence].id,
                ++hanging->numbers[line]);
    status = fw_plan__place(around->job, around->field,
                            fw_safety_along(of->points, of->count, at_m),
                            &post->place, err);
    plan->post_count += status == FW_OK;
    return status;
}

static enum fw_status hang_all(struct hanging *hanging, struct fw_error *err)
{
    const struct chain *chain = &hanging->chain;
    enum fw_status status = FW_OK;
    size_t at = 0; /* of the chain */
    settle(hanging);
    for (size_t i = 0; !status && i < hanging->places.count; i++) {
        const double place_m = hanging->places.items[i];
        while (at + 1 < chain->count && place_m > chain->starts_m[at + 1])
            at++;
        status =
            hang(hanging, chain->lines[at], place_m - chain->starts_m[at], err);
    }
    return status;
}

static enum fw_status one_chain(struct hanging *hanging, size_t first,
                                struct fw_error *err)
{
    static const enum fw_role roles[FW_PLAN__SIGN_KINDS] = {
        [FW_PLAN__ROAD_SIGNS] = FW_ROLE_ROAD,
        [FW_PLAN__PATH_SIGNS] = FW_ROLE_PATH,
    };
    enum fw_status status = FW_OK;
    take_chain(hanging, first);
    hanging->places.count = 0;
    for (size_t k = 0; !status && k < FW_PLAN__SIGN_KINDS; k++)
        status = places_of(hanging, k, fw_plan__sign_rule(roles[k]), err);
    return status ? status : hang_all(hanging, err);
}

/* What begins where nothing ends comes before the rings, which begin anywhere.
 */
static enum fw_status each_chain(struct hanging *hanging, struct fw_error *err)
{
    const size_t count = hanging->around->line_count;
    enum fw_status status = FW_OK;
    for (size_t i = 0; !status && i < count; i++)
        if (!hanging->follows[i])
            status = one_chain(hanging, i, err);
    for (size_t i = 0; !status && i < count; i++)
        if (!hanging->done[i])
            status = one_chain(hanging, i, err);
    return status;
}

enum fw_status fw_plan__signs(struct fw_plan__around *around,
                              struct fw_error *err)
{
    const size_t count = around->line_count;
    const size_t vertex_count =
        around->job->plan->fields[around->field].vertex_count;
    struct hanging hanging = {
        .around = around,
        .chain.lines = fw_alloc(count, sizeof *hanging.chain.lines),
        .chain.starts_m = fw_alloc(count + 1, sizeof *hanging.chain.starts_m),
        .done = fw_alloc(count, sizeof *hanging.done),
        .follows = fw_alloc(count, sizeof *hanging.follows),
        .begins = fw_alloc(vertex_count, sizeof *hanging.begins),
        .numbers = fw_alloc(count, sizeof *hanging.numbers),
    };
    const bool room = hanging.chain.lines && hanging.chain.starts_m &&
                      hanging.done && hanging.follows && hanging.begins &&
                      hanging.numbers;
    if (room)
        find_ends(&hanging, vertex_count);
    const enum fw_status status =
        room ? each_chain(&hanging, err) : fw_fail_memory(err);
    fw_free(hanging.chain.lines);
    fw_free(hanging.chain.starts_m);
    fw_free(hanging.done);
    fw_free(hanging.follows);
    fw_free(hanging.begins);
    fw_free(hanging.numbers);
    fw_free(hanging.places.items);
    fw_stretches_release(&hanging.parts);
    return status;
}
