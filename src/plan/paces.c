/* How the shepherd paces out each fence: along the boundary, from a corner that
 * stays the same for all fences of the field. */
#include "base/alloc.h"
#include "base/fail.h"
#include "plan/job.h"

#include <math.h>

/* The outer ring, walked anticlockwise from its first vertex. */
struct boundary {
    const struct fw_plan_field *field;
    size_t count;
    double *along_m; /* to each of its vertices; the last entry is all round */
    size_t *where;   /* of each vertex of the field in it, or FW_NONE */
    size_t *corner_at; /* corner that stands on each of its vertices, or none:
                          only one that people have a number for */
    bool *front;       /* is a front between this vertex and the next? */
    bool shared;       /* one corner for all ends that are counted one way */
    size_t start[2];   /* corner that counting starts from: [0] for ends that
                          are counted anticlockwise, [1] clockwise */
};

static void boundary_release(struct boundary *boundary)
{
    fw_free(boundary->along_m);
    fw_free(boundary->where);
    fw_free(boundary->corner_at);
    fw_free(boundary->front);
}

static void mark_front(struct boundary *boundary,
                       const struct fw_plan_fence *fence)
{
    const size_t count = boundary->count;
    for (size_t i = 0; i + 1 < fence->line_count; i++) {
        const size_t a = boundary->where[fence->line[i]];
        const size_t b = boundary->where[fence->line[i + 1]];
        if (a != FW_NONE && b != FW_NONE)
            boundary->front[(a + 1) % count == b ? a : b] = true;
    }
}

static void boundary_fill(struct boundary *boundary)
{
    const struct fw_plan_field *field = boundary->field;
    const size_t *ring = field->rings.vertices;
    const size_t count = boundary->count;
    for (size_t i = 0; i < field->vertex_count; i++)
        boundary->where[i] = FW_NONE;
    for (size_t i = 0; i < count; i++) {
        const struct fw_point a = fw_plan__at(field, ring[i]);
        const struct fw_point b = fw_plan__at(field, ring[(i + 1) % count]);
        boundary->where[ring[i]] = i;
        boundary->corner_at[i] = FW_NONE;
        boundary->along_m[i + 1] =
            boundary->along_m[i] + hypot(b.x_m - a.x_m, b.y_m - a.y_m);
    }
    for (size_t i = 0; i < field->corner_count; i++)
        if (fw_plan_corner_number(field, i))
            boundary->corner_at[boundary->where[field->corners[i]]] = i;
}

static enum fw_status boundary_init(struct boundary *boundary,
                                    const struct fw_plan *plan,
                                    const struct fw_plan_field *field,
                                    struct fw_error *err)
{
    const size_t count = field->rings.ring_start[1];
    *boundary = (struct boundary){
        .field = field,
        .count = count,
        .along_m = fw_alloc(count + 1, sizeof(double)),
        .where = fw_alloc(field->vertex_count, sizeof(size_t)),
        .corner_at = fw_alloc(count, sizeof(size_t)),
        .front = fw_alloc(count, sizeof(bool)),
        .start = {FW_NONE, FW_NONE},
    };
    if (!boundary->along_m || !boundary->where || !boundary->corner_at ||
        !boundary->front) {
        boundary_release(boundary);
        return fw_fail_memory(err);
    }
    boundary_fill(boundary);
    for (size_t i = 0; i < field->fence_count; i++)
        if (fw_plan__is_front(&plan->fences[field->first_fence + i]))
            mark_front(boundary, &plan->fences[field->first_fence + i]);
    return FW_OK;
}

/* The first corner met from there, walking one way. A fence end that stands on
 * a corner does not count from itself. */
static size_t first_corner(const struct boundary *boundary, size_t from,
                           bool anticlockwise)
{
    const size_t count = boundary->count;
    for (size_t i = 1; i <= count; i++) {
        const size_t at =
            anticlockwise ? (from + i) % count : (from + count - i) % count;
        if (boundary->front[anticlockwise ? (at + count - 1) % count : at])
            return FW_NONE; /* nobody walks on beyond it */
        if (boundary->corner_at[at] != FW_NONE)
            return boundary->corner_at[at];
    }
    return FW_NONE;
}

static double span_m(const struct boundary *boundary, size_t from, size_t to)
{
    const double span = boundary->along_m[to] - boundary->along_m[from];
    return span < 0 ? span + boundary->along_m[boundary->count] : span;
}

/* The paddock behind the fence lies to the left of its own ring. Where that
 * ring comes along the boundary and turns into the fence, the ground ahead
 * lies on along the boundary anticlockwise; at the other end clockwise. */
static bool arrives(const struct fw_plan *plan,
                    const struct fw_plan_fence *fence, bool at_a)
{
    const struct fw_plan_rings *rings = &plan->paddocks[fence->from].rings;
    const size_t last = fence->line_count - 1;
    const size_t end = fence->line[at_a ? 0 : last];
    const size_t other = fence->line[at_a ? 1 : last - 1];
    for (size_t r = 0; r < rings->ring_count; r++) {
        const size_t first = rings->ring_start[r];
        const size_t count = rings->ring_start[r + 1] - first;
        for (size_t i = 0; i < count; i++)
            if (rings->vertices[first + i] == end &&
                rings->vertices[first + (i + 1) % count] == other)
                return true;
    }
    return false;
}

/* Better the line that stands as long as this one, then one that stands when
 * it is set. */
static int is_host(const struct fw_plan_fence *host,
                   const struct fw_plan_fence *fence)
{
    const bool before =
        fw_plan__is_front(host) || host->set_at <= fence->set_at;
    if (before &&
        (host->down_at == FW_NONE ||
         (fence->down_at != FW_NONE && host->down_at >= fence->down_at)))
        return 3;
    return before &&
                   (host->down_at == FW_NONE || host->down_at >= fence->set_at)
               ? 2
               : 1;
}

/* How far along the line that vertex stands, or negative: it does not. */
static double along_m(const struct fw_plan_field *field,
                      const struct fw_plan_fence *fence, size_t vertex)
{
    double sum_m = 0;
    for (size_t v = 0; v < fence->line_count; v++) {
        if (v > 0) {
            const struct fw_point at = fw_plan__at(field, fence->line[v]);
            const struct fw_point before =
                fw_plan__at(field, fence->line[v - 1]);
            sum_m += hypot(at.x_m - before.x_m, at.y_m - before.y_m);
        }
        if (fence->line[v] == vertex)
            return sum_m;
    }
    return -1;
}

/* An end on another line is paced from that line's end A. */
static bool pace_along(const struct fw_plan *plan, size_t self, size_t end,
                       bool fronts, struct fw_plan_paced *out)
{
    const struct fw_plan_fence *own = &plan->fences[self];
    const struct fw_plan_field *field = &plan->fields[own->field];
    int best = 0;
    for (size_t i = field->first_fence;
         i < field->first_fence + field->fence_count; i++) {
        const struct fw_plan_fence *fence = &plan->fences[i];
        if (i == self || fence->role == FW_FENCE_PERIMETER ||
            (fronts && !fw_plan__is_front(fence)) ||
            is_host(fence, own) <= best)
            continue;
        const double along = along_m(field, fence, end);
        if (along < 0)
            continue;
        best = is_host(fence, own);
        *out =
            (struct fw_plan_paced){.known = true,
                                   .fence = i,
                                   .corner = FW_NONE,
                                   .along_m = along,
                                   .paces = (int)lround(along / plan->pace_m)};
    }
    return best > 0;
}

/* Back along the boundary to a corner; on to one where a front comes first. */
static size_t find_corner(const struct boundary *boundary, size_t at,
                          bool *anticlockwise)
{
    const size_t back = first_corner(boundary, at, !*anticlockwise);
    if (back != FW_NONE)
        return back;
    *anticlockwise = !*anticlockwise;
    return first_corner(boundary, at, !*anticlockwise);
}

/* Strips that follow each other are all counted from one corner on each side;
 * other lines from the corner before them. */
static void pace_end(const struct fw_plan *plan, struct boundary *boundary,
                     size_t self, bool at_a, struct fw_plan_paced *out)
{
    const struct fw_plan_fence *fence = &plan->fences[self];
    const size_t end = fence->line[at_a ? 0 : fence->line_count - 1];
    const size_t at = boundary->where[end];
    *out = (struct fw_plan_paced){.fence = FW_NONE, .corner = FW_NONE};
    if (pace_along(plan, self, end, true, out))
        return;
    if (at == FW_NONE) { /* on another line, or on a pond's edge */
        pace_along(plan, self, end, false, out);
        return;
    }
    bool anticlockwise = arrives(plan, fence, at_a);
    size_t none = FW_NONE;
    size_t *start =
        boundary->shared ? &boundary->start[anticlockwise ? 0 : 1] : &none;
    const bool back = anticlockwise;
    const size_t corner =
        *start != FW_NONE ? *start : find_corner(boundary, at, &anticlockwise);
    if (corner == FW_NONE)
        return;
    if (anticlockwise == back)
        *start = corner;
    const size_t from = boundary->where[boundary->field->corners[corner]];
    out->known = true;
    out->corner = corner;
    out->clockwise = !anticlockwise;
    out->along_m =
        anticlockwise ? span_m(boundary, from, at) : span_m(boundary, at, from);
    out->paces = (int)lround(out->along_m / plan->pace_m);
}

static bool has_blocks(const struct fw_plan *plan,
                       const struct fw_plan_field *field)
{
    for (size_t i = 0; i < field->fence_count; i++) {
        const enum fw_fence_role role =
            plan->fences[field->first_fence + i].role;
        if (role == FW_FENCE_STANDING || role == FW_FENCE_LANE)
            return true;
    }
    return false;
}

enum fw_status fw_plan__pace_ends(struct fw_plan_job *job, size_t index,
                                  struct fw_error *err)
{
    struct fw_plan *plan = job->plan;
    const struct fw_plan_field *field = &plan->fields[index];
    struct boundary boundary;
    const enum fw_status status = boundary_init(&boundary, plan, field, err);
    if (status)
        return status;
    boundary.shared = !has_blocks(plan, field);
    for (size_t i = field->first_fence;
         i < field->first_fence + field->fence_count; i++) {
        if (plan->fences[i].role == FW_FENCE_PERIMETER)
            continue;
        pace_end(plan, &boundary, i, true, &plan->fences[i].a);
        pace_end(plan, &boundary, i, false, &plan->fences[i].b);
    }
    boundary_release(&boundary);
    return FW_OK;
}

/* The side at a fence's end that it goes on along: of the boundary, or of the
 * line that it ends on. */
static bool way_on(const struct fw_plan *plan,
                   const struct fw_plan_field *field,
                   const struct fw_plan_paced *paced, size_t end,
                   struct fw_point *out)
{
    const size_t *ring = field->rings.vertices;
    size_t count = field->rings.ring_start[1], at = 0;
    if (paced->fence != FW_NONE) {
        ring = plan->fences[paced->fence].line;
        count = plan->fences[paced->fence].line_count;
    }
    while (at < count && ring[at] != end)
        at++;
    if (at == count)
        return false;
    const size_t next = paced->fence != FW_NONE
                            ? (at + 1 < count ? at + 1 : at - 1)
                        : paced->clockwise ? (at + count - 1) % count
                                           : (at + 1) % count;
    *out = fw_plan__at(field, ring[next]);
    return true;
}

/* How far the fence moves square to itself when this end goes one pace on. */
static double square_share(const struct fw_plan *plan,
                           const struct fw_plan_field *field,
                           const struct fw_plan_fence *fence,
                           const struct fw_plan_paced *paced, size_t end)
{
    const struct fw_point p = fw_plan__at(field, end);
    const struct fw_point a = fw_plan__at(field, fence->line[0]);
    const struct fw_point b =
        fw_plan__at(field, fence->line[fence->line_count - 1]);
    const double line_m = hypot(b.x_m - a.x_m, b.y_m - a.y_m);
    struct fw_point q;
    if (!way_on(plan, field, paced, end, &q))
        return 1;
    const double side_m = hypot(q.x_m - p.x_m, q.y_m - p.y_m);
    if (!(side_m > 0) || !(line_m > 0))
        return 1;
    return fabs((q.x_m - p.x_m) * (b.y_m - a.y_m) -
                (q.y_m - p.y_m) * (b.x_m - a.x_m)) /
           (side_m * line_m);
}

double fw_plan__pace_share(const struct fw_plan *plan, size_t move)
{
    const struct fw_plan_field *field = &plan->fields[plan->moves[move].field];
    size_t count;
    const size_t first = fw_plan_set_fences(plan, move, &count);
    double strip_m2 = 0;
    for (size_t i = 0; i < count; i++) {
        const struct fw_plan_fence *fence = &plan->fences[first + i];
        const struct fw_plan_fence *last = &plan->fences[first + count - 1];
        if (fence->role != FW_FENCE_MOVED || fence->from != last->from ||
            fence->to != last->to)
            continue;
        double square = 1;
        if (fence->a.known && fence->b.known)
            square =
                (square_share(plan, field, fence, &fence->a, fence->line[0]) +
                 square_share(plan, field, fence, &fence->b,
                              fence->line[fence->line_count - 1])) /
                2;
        strip_m2 += fence->length_m * plan->pace_m * square;
    }
    return strip_m2 * field->usable_kg_ha / 1e4 / plan->flock.demand_kg_day;
}
