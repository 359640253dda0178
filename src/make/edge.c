#include "make/edge.h"
#include "base/alloc.h"
#include "base/fail.h"
#include "choice/job.h"
#include "figures/mark.h"
#include "geo/points.h"

#include <math.h>

/* ---- the ring ---- */

void fw_plan__edge_release(struct fw_plan__edge *edge)
{
    fw_free(edge->along_m);
    fw_free(edge->where);
    fw_free(edge->side);
    fw_free(edge->front);
    *edge = (struct fw_plan__edge){0};
}

static size_t next_corner(const struct fw_plan_field *field, size_t corner)
{
    return (corner + 1) % field->corner_count;
}

static size_t corner_at(const struct fw_plan__edge *edge, size_t corner)
{
    return edge->where[edge->field->corners[corner]];
}

static void measure(struct fw_plan__edge *edge)
{
    const struct fw_plan_field *field = edge->field;
    const size_t *ring = field->rings.vertices;
    for (size_t i = 0; i < field->vertex_count; i++)
        edge->where[i] = FW_NONE;
    for (size_t i = 0; i < edge->count; i++) {
        const struct fw_point a = fw_plan__at(field, ring[i]);
        const struct fw_point b =
            fw_plan__at(field, ring[(i + 1) % edge->count]);
        edge->where[ring[i]] = i;
        edge->side[i] = FW_NONE;
        edge->along_m[i + 1] = edge->along_m[i] + fw_point_apart_m(b, a);
    }
}

/* Sides run against the ring. */
static void mark_sides(struct fw_plan__edge *edge)
{
    for (size_t s = 0; s < edge->field->corner_count; s++) {
        const size_t end = corner_at(edge, next_corner(edge->field, s));
        size_t i = corner_at(edge, s);
        do {
            edge->side[i] = s;
            i = (i + edge->count - 1) % edge->count;
        } while (i != end);
    }
}

static void mark_front(struct fw_plan__edge *edge,
                       const struct fw_plan_fence *fence)
{
    for (size_t i = 0; i + 1 < fence->line_count; i++) {
        const size_t a = edge->where[fence->line[i]];
        const size_t b = edge->where[fence->line[i + 1]];
        if (a != FW_NONE && b != FW_NONE)
            edge->front[(a + 1) % edge->count == b ? a : b] = true;
    }
}

enum fw_status fw_plan__edge_init(struct fw_plan__edge *edge,
                                  const struct fw_plan *plan,
                                  const struct fw_plan_field *field,
                                  struct fw_error *err)
{
    const size_t count = field->rings.ring_start[1];
    *edge = (struct fw_plan__edge){
        .field = field,
        .count = count,
        .along_m = fw_alloc(count + 1, sizeof(double)),
        .where = fw_alloc(field->vertex_count, sizeof(size_t)),
        .side = fw_alloc(count, sizeof(size_t)),
        .front = fw_alloc(count, sizeof(bool)),
    };
    if (!edge->along_m || !edge->where || !edge->side || !edge->front) {
        fw_plan__edge_release(edge);
        return fw_fail_memory(err);
    }
    measure(edge);
    mark_sides(edge);
    for (size_t i = 0; i < field->fence_count; i++)
        if (fw_plan_is_outer_front(plan, field->first_fence + i))
            mark_front(edge, &plan->fences[field->first_fence + i]);
    return FW_OK;
}

/* ---- along a side ---- */

/* With the ring; a whole side may be all round. */
static double span_m(const struct fw_plan__edge *edge, size_t from, size_t to)
{
    const double span = edge->along_m[to] - edge->along_m[from];
    return span < 0 ? span + edge->along_m[edge->count] : span;
}

static bool has_front(const struct fw_plan__edge *edge, size_t from, size_t to)
{
    for (size_t i = from; i != to; i = (i + 1) % edge->count)
        if (edge->front[i])
            return true;
    return false;
}

/* Can people tell which way to walk from that corner? */
static bool is_named(const struct fw_plan_field *field, size_t side,
                     size_t corner, size_t towards)
{
    return fw_plan_corner_number(field, corner) &&
           (fw_plan_corner_number(field, towards) ||
            fw_plan_side_number(field, side));
}

/* From the side's first corner, or from its last one. */
static bool count_from(const struct fw_plan__edge *edge, size_t side,
                       size_t vertex, bool first, struct fw_plan_paced *out)
{
    const size_t next = next_corner(edge->field, side);
    const size_t at = edge->where[vertex];
    const size_t from = first ? at : corner_at(edge, next);
    const size_t to = first ? corner_at(edge, side) : at;
    out->corner = first ? side : next;
    out->towards = first ? next : side;
    out->along_m = span_m(edge, from, to);
    return is_named(edge->field, side, out->corner, out->towards) &&
           !has_front(edge, from, to);
}

/* Whole paces, and not one beyond the side's other corner. */
static int paces_of(const struct fw_plan__edge *edge, size_t side,
                    double along_m, double pace_m)
{
    const double side_m =
        span_m(edge, corner_at(edge, next_corner(edge->field, side)),
               corner_at(edge, side));
    const double paces = round(along_m / pace_m);
    return (int)(side_m > 0 ? fmin(paces, floor(side_m / pace_m)) : paces);
}

bool fw_plan__edge_count(const struct fw_plan__edge *edge, size_t vertex,
                         double pace_m, struct fw_plan_paced *out)
{
    const size_t at = edge->where[vertex];
    if (at == FW_NONE || edge->side[at] == FW_NONE)
        return false;
    const size_t corners = edge->field->corner_count;
    const size_t own = edge->side[at];
    const size_t before = (own + corners - 1) % corners; /* of a corner */
    const size_t sides[] = {own, corner_at(edge, own) == at ? before : own};
    bool found = false;
    for (int i = 0; i < FW_PARTS(4); i++) {
        struct fw_plan_paced paced = *out;
        if (!count_from(edge, sides[i / 2], vertex, i % 2 == 0, &paced) ||
            (found && !(paced.along_m < out->along_m)))
            continue;
        found = true;
        paced.by = FW_PACED_SIDE;
        paced.paces = paces_of(edge, sides[i / 2], paced.along_m, pace_m);
        *out = paced;
    }
    return found;
}

static bool is_on(const struct fw_plan__edge *edge, size_t side, size_t vertex)
{
    const size_t at = edge->where[vertex];
    return at != FW_NONE &&
           (edge->side[at] == side ||
            corner_at(edge, next_corner(edge->field, side)) == at);
}

double fw_plan__edge_between_m(const struct fw_plan__edge *edge,
                               const struct fw_plan_paced *paced, size_t a,
                               size_t b)
{
    const struct fw_plan_field *field = edge->field;
    const size_t side = next_corner(field, paced->corner) == paced->towards
                            ? paced->corner
                            : paced->towards;
    if (!is_on(edge, side, a) || !is_on(edge, side, b))
        return -1;
    const size_t first = corner_at(edge, side);
    return fabs(span_m(edge, edge->where[a], first) -
                span_m(edge, edge->where[b], first));
}
