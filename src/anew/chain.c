/* Ground between fences that follow each other, as two sides and the lines
 * across them. */
#include "anew/chain.h"

#include "base/alloc.h"
#include "base/fail.h"
#include "figures/mark.h"
#include "geo/points.h"
#include "plan/place.h"

#include <math.h>
#include <string.h>

/* As far as rounding puts a vertex behind the one before it. */
static const double rounding = FW_TOLERANCE(1e-9);
/* Two places on a cap's far edge are equally far from its fence. */
static const double level_m = FW_TOLERANCE(1e-6);

/* ---- what is such ground ---- */

/* The one straight fence that goes with the flock between a paddock and the
 * next; FW_NONE: there is none, or there are more. */
static size_t between(const struct fw_plan *plan, size_t paddock)
{
    const struct fw_plan_field *field =
        &plan->fields[plan->paddocks[paddock].field];
    size_t found = FW_NONE;
    for (size_t i = field->first_fence;
         i < field->first_fence + field->fence_count; i++) {
        const struct fw_plan_fence *fence = &plan->fences[i];
        if (fence->role != FW_FENCE_MOVED || fence->from != paddock ||
            fence->to != paddock + 1)
            continue;
        if (found != FW_NONE || fence->line_count != 2)
            return FW_NONE;
        found = i;
    }
    return found;
}

/* Where in the paddock's ring the fence begins; the ring's length: nowhere. */
static size_t edge_of(const struct fw_plan *plan, size_t paddock, size_t fence)
{
    const struct fw_plan_rings *rings = &plan->paddocks[paddock].rings;
    const size_t *line = plan->fences[fence].line;
    const size_t count = rings->ring_start[1];
    for (size_t i = 0; i < count; i++) {
        const size_t a = rings->vertices[i];
        const size_t b = rings->vertices[(i + 1) % count];
        if ((a == line[0] && b == line[1]) || (a == line[1] && b == line[0]))
            return i;
    }
    return count;
}

static bool is_plain(const struct fw_plan *plan, size_t paddock, size_t behind,
                     size_t ahead)
{
    const struct fw_plan_rings *rings = &plan->paddocks[paddock].rings;
    if (rings->ring_count != 1)
        return false;
    const size_t count = rings->ring_start[1];
    return (behind == FW_NONE || edge_of(plan, paddock, behind) < count) &&
           (ahead == FW_NONE || edge_of(plan, paddock, ahead) < count);
}

static bool follows(const struct fw_plan *plan, size_t paddock)
{
    return plan->paddocks[paddock].field == plan->paddocks[paddock + 1].field &&
           strcmp(plan->paddocks[paddock].block,
                  plan->paddocks[paddock + 1].block) == 0;
}

/* The fence that parts it from the paddock before, when it is of the block. */
static size_t behind_of(const struct fw_plan *plan, size_t paddock)
{
    return paddock > 0 && follows(plan, paddock - 1)
               ? between(plan, paddock - 1)
               : FW_NONE;
}

/* How many of them are one chain; fences has room for count + 1. */
static size_t find_fences(const struct fw_plan *plan, size_t first,
                          size_t count, size_t *fences)
{
    size_t k = 0;
    fences[0] = behind_of(plan, first);
    for (bool on = true; on && k < count; k++) {
        on = k + 1 < count && follows(plan, first + k);
        fences[k + 1] = on ? between(plan, first + k) : FW_NONE;
        on &= fences[k + 1] != FW_NONE;
        if (!is_plain(plan, first + k, fences[k], fences[k + 1]))
            return 0;
    }
    return k == 1 && fences[0] == FW_NONE ? 0 : k;
}

/* ---- lines and how far from them ---- */

static struct fw_point at(const struct fw_plan__chain *chain, size_t vertex)
{
    return fw_plan__at(chain->field, vertex);
}

static double far_m(const struct fw_plan__chain_plane *plane,
                    struct fw_point point)
{
    return plane->x * point.x_m + plane->y * point.y_m + plane->c_m;
}

/* From a paddock's edge on to the left of it, which is in the paddock. */
static struct fw_plan__chain_plane plane_of(struct fw_point a,
                                            struct fw_point b)
{
    const double m = fw_point_apart_m(a, b);
    struct fw_plan__chain_plane plane = {0};
    if (m > 0) {
        plane.x = -(b.y_m - a.y_m) / m;
        plane.y = (b.x_m - a.x_m) / m;
        plane.c_m = -plane.x * a.x_m - plane.y * a.y_m;
    }
    return plane;
}

static struct fw_plan__chain_plane
edge_plane(const struct fw_plan__chain *chain, size_t paddock, size_t edge)
{
    const struct fw_plan_rings *rings = &chain->plan->paddocks[paddock].rings;
    const size_t next = (edge + 1) % rings->ring_start[1];
    return plane_of(at(chain, rings->vertices[edge]),
                    at(chain, rings->vertices[next]));
}

/* What is farthest from the one line, from the other way. */
static struct fw_plan__chain_plane
against(const struct fw_plan__chain *chain, size_t paddock,
        const struct fw_plan__chain_plane *plane)
{
    const struct fw_plan_rings *rings = &chain->plan->paddocks[paddock].rings;
    double most_m = 0;
    for (size_t i = 0; i < rings->ring_start[1]; i++)
        most_m = fmax(most_m, far_m(plane, at(chain, rings->vertices[i])));
    return (struct fw_plan__chain_plane){-plane->x, -plane->y,
                                         most_m - plane->c_m};
}

static void find_planes(struct fw_plan__chain *chain)
{
    for (size_t k = 0; k < chain->count; k++) {
        const size_t paddock = chain->first + k;
        const size_t behind = chain->fences[k], ahead = chain->fences[k + 1];
        if (behind != FW_NONE)
            chain->from[k] = edge_plane(chain, paddock,
                                        edge_of(chain->plan, paddock, behind));
        if (ahead != FW_NONE)
            chain->to[k] = edge_plane(chain, paddock,
                                      edge_of(chain->plan, paddock, ahead));
        if (behind == FW_NONE)
            chain->from[k] = against(chain, paddock, &chain->to[k]);
        if (ahead == FW_NONE)
            chain->to[k] = against(chain, paddock, &chain->from[k]);
    }
}

/* ---- the sides ---- */

static void put(const struct fw_plan__chain *chain, size_t side, size_t vertex)
{
    struct fw_plan__chain_side *to =
        &((struct fw_plan__chain *)chain)->sides[side];
    const struct fw_point point = at(chain, vertex);
    const size_t i = to->count;
    if (i > 0 && to->vertices[i - 1] == vertex)
        return;
    to->vertices[i] = vertex;
    to->points[i] = point;
    to->along_m[i] =
        i > 0 ? to->along_m[i - 1] + fw_point_apart_m(to->points[i - 1], point)
              : 0;
    to->count++;
}

/* The ring from one place to another, forward to the right of the flock and
 * backward to the left of it: the ground is to the left of the ring. */
static void walk(const struct fw_plan__chain *chain, size_t paddock,
                 size_t side, size_t from, size_t to)
{
    const struct fw_plan_rings *rings = &chain->plan->paddocks[paddock].rings;
    const size_t count = rings->ring_start[1];
    const size_t step = side == 0 ? 1 : count - 1;
    size_t i = from;
    put(chain, side, rings->vertices[i]);
    while (i != to) {
        i = (i + step) % count;
        put(chain, side, rings->vertices[i]);
    }
}

/* The ends of the edge farthest from a cap's one fence, as the ring comes to
 * them after it; one and the same where that is a corner. */
static void farthest(const struct fw_plan__chain *chain, size_t paddock,
                     const struct fw_plan__chain_plane *plane, size_t after,
                     size_t ends[2])
{
    const struct fw_plan_rings *rings = &chain->plan->paddocks[paddock].rings;
    const size_t count = rings->ring_start[1];
    double most_m = 0;
    for (size_t i = 0; i < count; i++)
        most_m = fmax(most_m, far_m(plane, at(chain, rings->vertices[i])));
    bool any = false;
    for (size_t i = 0; i < count; i++) {
        const size_t v = (after + i) % count;
        if (far_m(plane, at(chain, rings->vertices[v])) < most_m - level_m)
            continue;
        ends[any] = v;
        if (!any)
            ends[1] = v;
        any = true;
    }
}

/* What of the ring lies between the sides: nothing where a fence is. */
static void walk_cap(struct fw_plan__chain *chain, size_t paddock, size_t cap,
                     size_t from, size_t to)
{
    const struct fw_plan_rings *rings = &chain->plan->paddocks[paddock].rings;
    const size_t count = rings->ring_start[1];
    if (from == to)
        return;
    for (size_t i = (from + 1) % count; i != to; i = (i + 1) % count)
        chain->caps[cap][chain->cap_counts[cap]++] = rings->vertices[i];
}

static void walk_sides(struct fw_plan__chain *chain, size_t k)
{
    const struct fw_plan *plan = chain->plan;
    const size_t paddock = chain->first + k;
    const size_t count = plan->paddocks[paddock].rings.ring_start[1];
    const size_t behind = chain->fences[k], ahead = chain->fences[k + 1];
    /* The ring comes along the fence behind from left to right, and along the
     * one ahead from right to left. */
    size_t near[FW_SIDES] = {0, 0}, far[FW_SIDES] = {0, 0}, ends[2] = {0, 0};
    if (behind != FW_NONE) {
        near[1] = edge_of(plan, paddock, behind);
        near[0] = (near[1] + 1) % count;
    }
    if (ahead != FW_NONE) {
        far[0] = edge_of(plan, paddock, ahead);
        far[1] = (far[0] + 1) % count;
    }
    if (behind == FW_NONE) {
        farthest(chain, paddock, &chain->to[k], far[1], ends);
        near[1] = ends[0];
        near[0] = ends[1];
    }
    if (ahead == FW_NONE) {
        farthest(chain, paddock, &chain->from[k], near[0], ends);
        far[0] = ends[0];
        far[1] = ends[1];
    }
    for (size_t side = 0; side < FW_SIDES; side++) {
        walk(chain, paddock, side, near[side], far[side]);
        chain->sides[side].stops[k + 1] = chain->sides[side].count - 1;
    }
    if (k == 0)
        walk_cap(chain, paddock, 0, near[1], near[0]);
    if (k + 1 == chain->count)
        walk_cap(chain, paddock, 1, far[0], far[1]);
}

static double turn_of(const struct fw_plan__chain *chain, size_t k,
                      struct fw_point point)
{
    const double from_m = far_m(&chain->from[k], point);
    const double to_m = far_m(&chain->to[k], point);
    const double all_m = from_m + to_m;
    return (double)k + (all_m > 0 ? from_m / all_m : 0);
}

/* Each line of the pencil crosses a side once where that never turns back. */
static bool find_turns(const struct fw_plan__chain *chain,
                       struct fw_plan__chain_side *side)
{
    for (size_t k = 0; k < chain->count; k++)
        for (size_t i = side->stops[k]; i <= side->stops[k + 1]; i++) {
            const double turn = i == side->stops[k] ? (double)k
                                : i == side->stops[k + 1]
                                    ? (double)(k + 1)
                                    : turn_of(chain, k, side->points[i]);
            const double least =
                i > side->stops[k] ? side->turn[i - 1] : (double)k;
            if (!(turn >= least - rounding) ||
                !(turn <= (double)(k + 1) + rounding))
                return false;
            side->turn[i] = fmin(fmax(turn, least), (double)(k + 1));
        }
    return true;
}

/* ---- all of it ---- */

static enum fw_status make_room(struct fw_plan__chain *chain,
                                struct fw_error *err)
{
    size_t most = 0;
    for (size_t k = 0; k < chain->count; k++)
        most += chain->plan->paddocks[chain->first + k].rings.ring_start[1] + 1;
    chain->from = fw_alloc(chain->count, sizeof *chain->from);
    chain->to = fw_alloc(chain->count, sizeof *chain->to);
    bool ok = chain->from && chain->to;
    for (size_t s = 0; s < FW_SIDES; s++) {
        struct fw_plan__chain_side *side = &chain->sides[s];
        side->vertices = fw_alloc(most, sizeof *side->vertices);
        side->points = fw_alloc(most, sizeof *side->points);
        side->turn = fw_alloc(most, sizeof *side->turn);
        side->along_m = fw_alloc(most, sizeof *side->along_m);
        side->stops = fw_alloc(chain->count + 1, sizeof *side->stops);
        ok &= side->vertices && side->points && side->turn && side->along_m &&
              side->stops;
    }
    for (size_t cap = 0; cap < 2; cap++) {
        chain->caps[cap] = fw_alloc(most, sizeof *chain->caps[cap]);
        ok &= chain->caps[cap] != NULL;
    }
    return ok ? FW_OK : fw_fail_memory(err);
}

enum fw_status fw_plan__chain_find(const struct fw_plan *plan, size_t first,
                                   size_t count, struct fw_plan__chain *out,
                                   bool *whole, struct fw_error *err)
{
    struct fw_plan__chain chain = {
        .plan = plan,
        .field = &plan->fields[plan->paddocks[first].field],
        .first = first,
        .fences = fw_alloc(count + 1, sizeof *chain.fences),
    };
    *whole = false;
    if (!chain.fences)
        return fw_fail_memory(err);
    chain.count = find_fences(plan, first, count, chain.fences);
    enum fw_status status = chain.count ? make_room(&chain, err) : FW_OK;
    if (!status && chain.count) {
        find_planes(&chain);
        for (size_t k = 0; k < chain.count; k++)
            walk_sides(&chain, k);
        *whole = find_turns(&chain, &chain.sides[0]) &&
                 find_turns(&chain, &chain.sides[1]);
    }
    if (status || !*whole)
        fw_plan__chain_release(&chain);
    *out = chain;
    return status;
}

void fw_plan__chain_release(struct fw_plan__chain *chain)
{
    for (size_t s = 0; s < FW_SIDES; s++) {
        fw_free(chain->sides[s].vertices);
        fw_free(chain->sides[s].points);
        fw_free(chain->sides[s].turn);
        fw_free(chain->sides[s].along_m);
        fw_free(chain->sides[s].stops);
    }
    fw_free(chain->caps[0]);
    fw_free(chain->caps[1]);
    fw_free(chain->fences);
    fw_free(chain->from);
    fw_free(chain->to);
    *chain = (struct fw_plan__chain){0};
}

/* ---- lines ---- */

/* Where a line of the pencil crosses that side. From the fence behind it is so
 * far to one of the whole way from that to the fence ahead, which along an edge
 * is the zero of a straight line. */
static struct fw_plan__chain_end end_at(const struct fw_plan__chain *chain,
                                        const struct fw_plan__chain_side *side,
                                        size_t k, double turn)
{
    const double share = turn - (double)k;
    size_t i = side->stops[k];
    while (i + 1 < side->stops[k + 1] && side->turn[i + 1] < turn)
        i++;
    if (i == side->stops[k + 1]) /* the side has no length here */
        return (struct fw_plan__chain_end){i, 0};
    double value[2];
    for (size_t e = 0; e < 2; e++) {
        const struct fw_point point = side->points[i + e];
        value[e] = far_m(&chain->from[k], point) * (1 - share) -
                   far_m(&chain->to[k], point) * share;
    }
    const double part = value[0] / (value[0] - value[1]);
    return (struct fw_plan__chain_end){i, fmin(fmax(part, 0), 1)};
}

/* At a fence itself nothing is reckoned. */
static struct fw_plan__chain_end stop_at(const struct fw_plan__chain_side *side,
                                         size_t k)
{
    const size_t i = side->stops[k];
    return (struct fw_plan__chain_end){i, 0};
}

struct fw_plan__chain_line fw_plan__chain_at(const struct fw_plan__chain *chain,
                                             double turn)
{
    const double most = (double)chain->count;
    const double whole = floor(fmin(fmax(turn, 0), most));
    size_t k = 0;
    while ((double)k < whole)
        k++;
    struct fw_plan__chain_line line;
    for (size_t s = 0; s < FW_SIDES; s++) {
        const struct fw_plan__chain_side *side = &chain->sides[s];
        line.ends[s] = turn <= whole || k == chain->count
                           ? stop_at(side, k)
                           : end_at(chain, side, k, turn);
    }
    return line;
}

struct fw_point fw_plan__chain_point(const struct fw_plan__chain *chain,
                                     size_t side, struct fw_plan__chain_end end)
{
    const struct fw_point *points = chain->sides[side].points;
    return end.share > 0 ? fw_point_between(points[end.edge],
                                            points[end.edge + 1], end.share)
                         : points[end.edge];
}

static double along_m(const struct fw_plan__chain_side *side,
                      struct fw_plan__chain_end end)
{
    const double from_m = side->along_m[end.edge];
    return end.share > 0
               ? from_m + end.share * (side->along_m[end.edge + 1] - from_m)
               : from_m;
}

struct fw_plan__chain_end fw_plan__chain_on(const struct fw_plan__chain *chain,
                                            size_t side,
                                            struct fw_plan__chain_end end,
                                            double on_m)
{
    const struct fw_plan__chain_side *of = &chain->sides[side];
    const double wanted_m = along_m(of, end) + on_m;
    size_t i = 0;
    if (!(wanted_m > 0))
        return (struct fw_plan__chain_end){0, 0};
    if (!(wanted_m < of->along_m[of->count - 1]))
        return (struct fw_plan__chain_end){of->count - 1, 0};
    while (of->along_m[i + 1] <= wanted_m)
        i++;
    return (struct fw_plan__chain_end){
        i, (wanted_m - of->along_m[i]) / (of->along_m[i + 1] - of->along_m[i])};
}

static bool is_farther(struct fw_plan__chain_end a, struct fw_plan__chain_end b)
{
    const bool as_far = a.share >= 1 && b.edge == a.edge + 1 && !(b.share > 0);
    if (as_far)
        return false;
    return a.edge != b.edge ? a.edge > b.edge : a.share > b.share;
}

struct fw_plan__chain_line
fw_plan__chain_far(const struct fw_plan__chain_line *a,
                   const struct fw_plan__chain_line *b)
{
    struct fw_plan__chain_line line = *a;
    for (size_t s = 0; s < FW_SIDES; s++)
        if (is_farther(b->ends[s], a->ends[s]))
            line.ends[s] = b->ends[s];
    return line;
}

bool fw_plan__chain_is_beyond(const struct fw_plan__chain_line *line,
                              const struct fw_plan__chain_line *other)
{
    bool any = false;
    for (size_t s = 0; s < FW_SIDES; s++) {
        if (is_farther(other->ends[s], line->ends[s]))
            return false;
        any |= is_farther(line->ends[s], other->ends[s]);
    }
    return any;
}

size_t fw_plan__chain_most(const struct fw_plan__chain *chain)
{
    return chain->sides[0].count + chain->sides[1].count +
           chain->cap_counts[0] + chain->cap_counts[1] + (size_t)2 * FW_SIDES;
}

struct outline {
    struct fw_point *points;
    size_t count;
};

static bool is_at(const struct outline *of, size_t i, struct fw_point point)
{
    return of->points[i].x_m == point.x_m && of->points[i].y_m == point.y_m;
}

static void add(struct outline *to, struct fw_point point)
{
    if (to->count == 0 || !is_at(to, to->count - 1, point))
        to->points[to->count++] = point;
}

/* At the beginning or the end it has what lies between its sides there. */
static void add_cap(const struct fw_plan__chain *chain, size_t cap,
                    const struct fw_plan__chain_line *line, struct outline *to)
{
    for (size_t s = 0; s < FW_SIDES; s++)
        if (line->ends[s].share > 0 ||
            line->ends[s].edge != (cap ? chain->sides[s].count - 1 : 0))
            return;
    for (size_t i = 0; i < chain->cap_counts[cap]; i++)
        add(to, at(chain, chain->caps[cap][i]));
}

size_t fw_plan__chain_ground(const struct fw_plan__chain *chain,
                             const struct fw_plan__chain_line *near,
                             const struct fw_plan__chain_line *far,
                             struct fw_point *points)
{
    struct outline to = {.points = points};
    const struct fw_plan__chain_end *from = near->ends, *on = far->ends;
    add(&to, fw_plan__chain_point(chain, 0, from[0]));
    for (size_t i = from[0].edge + 1; i <= on[0].edge; i++)
        add(&to, chain->sides[0].points[i]);
    add(&to, fw_plan__chain_point(chain, 0, on[0]));
    add_cap(chain, 1, far, &to);
    add(&to, fw_plan__chain_point(chain, 1, on[1]));
    for (size_t i = on[1].edge + 1; i-- > from[1].edge + 1;)
        add(&to, chain->sides[1].points[i]);
    add(&to, fw_plan__chain_point(chain, 1, from[1]));
    add_cap(chain, 0, near, &to);
    while (to.count > 1 && is_at(&to, to.count - 1, points[0]))
        to.count--;
    return to.count;
}

/* Do they cross, touching apart? */
static bool cross(struct fw_point a, struct fw_point b, struct fw_point p,
                  struct fw_point q)
{
    const struct fw_point ab = fw_point_minus(b, a), pq = fw_point_minus(q, p);
    const double p_of = fw_point_cross(ab, fw_point_minus(p, a));
    const double q_of = fw_point_cross(ab, fw_point_minus(q, a));
    const double a_of = fw_point_cross(pq, fw_point_minus(a, p));
    const double b_of = fw_point_cross(pq, fw_point_minus(b, p));
    const double off = level_m * fw_length(ab.x_m, ab.y_m);
    const double out = level_m * fw_length(pq.x_m, pq.y_m);
    return ((p_of > off && q_of < -off) || (p_of < -off && q_of > off)) &&
           ((a_of > out && b_of < -out) || (a_of < -out && b_of > out));
}

bool fw_plan__chain_is_inside(const struct fw_plan__chain *chain,
                              const struct fw_plan__chain_line *line)
{
    const struct fw_point a = fw_plan__chain_point(chain, 0, line->ends[0]);
    const struct fw_point b = fw_plan__chain_point(chain, 1, line->ends[1]);
    for (size_t s = 0; s < FW_SIDES; s++)
        for (size_t i = 0; i + 1 < chain->sides[s].count; i++)
            if (cross(a, b, chain->sides[s].points[i],
                      chain->sides[s].points[i + 1]))
                return false;
    return true;
}
