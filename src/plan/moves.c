/* The moves of a field, and how the shepherd paces out each fence. */
#include "base/array.h"
#include "base/fail.h"
#include "plan/job.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

static size_t gate_of(const struct fw_plan *plan, size_t field)
{
    for (size_t i = 0; i < plan->gate_count; i++)
        if (plan->gates[i].field == field && plan->gates[i].to == FW_NONE)
            return i;
    return FW_NONE;
}

static size_t opening_into(const struct fw_plan *plan, size_t paddock)
{
    for (size_t i = 0; i < plan->gate_count; i++)
        if (plan->gates[i].to == paddock)
            return i;
    return FW_NONE;
}

static double minutes(const struct fw_plan_job *job, size_t field, size_t cut,
                      bool set)
{
    const struct fw_plan *plan = job->plan;
    if (cut == FW_NONE)
        return 0;
    size_t count;
    const size_t first = fw_plan__cut_fences(plan, field, cut, &count);
    double sum = 0;
    for (size_t i = 0; i < count; i++) {
        const struct fw_plan_fence *fence = &plan->fences[first + i];
        const struct fw_fence_count line = {fence->length_m, fence->wire_m,
                                            fence->posts, fence->reels};
        sum += set ? fw_fence_set_min(&line, fence->strands, &job->farm->rates)
                   : fw_fence_take_down_min(&line, fence->strands,
                                            &job->farm->rates);
    }
    return sum;
}

/* Distance along the outer ring, anticlockwise from its first vertex. */
static double along_ring_m(const struct fw_plan_field *field, size_t index)
{
    double sum = 0;
    for (size_t i = 0; i < index; i++) {
        const struct fw_point a = fw_plan__at(field, field->rings.vertices[i]);
        const struct fw_point b =
            fw_plan__at(field, field->rings.vertices[i + 1]);
        sum += hypot(b.x_m - a.x_m, b.y_m - a.y_m);
    }
    return sum;
}

static size_t in_outer_ring(const struct fw_plan_field *field, size_t vertex)
{
    for (size_t i = 0; i < field->rings.ring_start[1]; i++)
        if (field->rings.vertices[i] == vertex)
            return i;
    return FW_NONE;
}

static size_t corner_at(const struct fw_plan_field *field, size_t vertex)
{
    for (size_t i = 0; i < field->corner_count; i++)
        if (field->corners[i] == vertex)
            return i;
    return FW_NONE;
}

/* The first corner met from there, walking the ring one way. A fence end that
 * stands on a corner does not count from itself. */
static size_t first_corner(const struct fw_plan_field *field, size_t from,
                           bool anticlockwise)
{
    const size_t count = field->rings.ring_start[1];
    for (size_t i = 1; i <= count; i++) {
        const size_t at =
            anticlockwise ? (from + i) % count : (from + count - i) % count;
        const size_t corner = corner_at(field, field->rings.vertices[at]);
        if (corner != FW_NONE)
            return corner;
    }
    return FW_NONE;
}

/* The two chains along which a field's fences are paced out. The grazed end's
 * boundary runs from one end of the first fence to the other: anticlockwise of
 * it the ends are counted anticlockwise, on the other side clockwise. */
struct chains {
    size_t corner[2]; /* that counting starts from: [0] anticlockwise */
};

static double ring_span_m(const struct fw_plan_field *field, size_t from,
                          size_t to, double perimeter_m)
{
    const double span_m = along_ring_m(field, to) - along_ring_m(field, from);
    return span_m < 0 ? span_m + perimeter_m : span_m;
}

/* Does the vertex end the paddock's own stretch of the boundary? In the ring
 * of the paddock behind the fence the boundary either arrives at a fence end
 * (counted anticlockwise from behind) or leaves from it. */
static bool arrives(const struct fw_plan *plan,
                    const struct fw_plan_fence *fence, size_t end)
{
    const struct fw_plan_field *field = &plan->fields[fence->field];
    const struct fw_plan_rings *rings =
        &plan->paddocks[field->first_paddock + fence->cut].rings;
    const size_t other =
        fence->line[0] == end ? fence->line[1] : fence->line[0];
    for (size_t r = 0; r < rings->ring_count; r++) {
        const size_t first = rings->ring_start[r];
        const size_t count = rings->ring_start[r + 1] - first;
        for (size_t i = 0; i < count; i++)
            if (rings->vertices[first + i] == end)
                if (rings->vertices[first + (i + 1) % count] == other)
                    return true;
    }
    return false;
}

static void pace_end(const struct fw_plan *plan,
                     const struct fw_plan_fence *fence, size_t end,
                     struct chains *chains, struct fw_plan_paced *out)
{
    const struct fw_plan_field *field = &plan->fields[fence->field];
    const size_t at = in_outer_ring(field, end);
    *out = (struct fw_plan_paced){.corner = FW_NONE};
    if (at == FW_NONE) /* on a pond's edge */
        return;
    const bool anticlockwise = arrives(plan, fence, end);
    size_t *corner = &chains->corner[anticlockwise ? 0 : 1];
    if (*corner == FW_NONE)
        *corner = first_corner(field, at, !anticlockwise);
    if (*corner == FW_NONE)
        return;
    const size_t from = in_outer_ring(field, field->corners[*corner]);
    const size_t count = field->rings.ring_start[1];
    const struct fw_point last =
        fw_plan__at(field, field->rings.vertices[count - 1]);
    const struct fw_point first = fw_plan__at(field, field->rings.vertices[0]);
    const double perimeter_m =
        along_ring_m(field, count - 1) +
        hypot(first.x_m - last.x_m, first.y_m - last.y_m);
    out->known = true;
    out->corner = *corner;
    out->clockwise = !anticlockwise;
    out->along_m = anticlockwise ? ring_span_m(field, from, at, perimeter_m)
                                 : ring_span_m(field, at, from, perimeter_m);
    out->paces = (int)lround(out->along_m / plan->pace_m);
}

void fw_plan__pace_ends(struct fw_plan_job *job, size_t index)
{
    struct fw_plan *plan = job->plan;
    const struct fw_plan_field *field = &plan->fields[index];
    struct chains chains = {{FW_NONE, FW_NONE}};
    for (size_t i = 0; i < field->fence_count; i++) {
        struct fw_plan_fence *fence = &plan->fences[field->first_fence + i];
        if (fence->role != FW_FENCE_MOVED)
            continue;
        pace_end(plan, fence, fence->line[0], &chains, &fence->a);
        pace_end(plan, fence, fence->line[1], &chains, &fence->b);
    }
}

/* How far the fence moves square to itself when this end goes one pace on
 * along the boundary. */
static double square_share(const struct fw_plan_field *field,
                           const struct fw_plan_fence *fence, size_t end,
                           bool clockwise)
{
    const size_t count = field->rings.ring_start[1];
    const size_t at = in_outer_ring(field, end);
    const size_t next = clockwise ? (at + count - 1) % count : (at + 1) % count;
    const struct fw_point p = fw_plan__at(field, end);
    const struct fw_point q = fw_plan__at(field, field->rings.vertices[next]);
    const struct fw_point a = fw_plan__at(field, fence->line[0]);
    const struct fw_point b = fw_plan__at(field, fence->line[1]);
    const double side = hypot(q.x_m - p.x_m, q.y_m - p.y_m);
    const double line = hypot(b.x_m - a.x_m, b.y_m - a.y_m);
    if (!(side > 0) || !(line > 0))
        return 1;
    return fabs((q.x_m - p.x_m) * (b.y_m - a.y_m) -
                (q.y_m - p.y_m) * (b.x_m - a.x_m)) /
           (side * line);
}

/* One pace on along both sides: a strip as long as the fence is. */
static double pace_share(const struct fw_plan *plan, size_t index, size_t cut)
{
    if (cut == FW_NONE)
        return 0;
    const struct fw_plan_field *field = &plan->fields[index];
    size_t count;
    const size_t first = fw_plan__cut_fences(plan, index, cut, &count);
    double strip_m2 = 0;
    for (size_t i = 0; i < count; i++) {
        const struct fw_plan_fence *fence = &plan->fences[first + i];
        double square = 1;
        if (fence->a.known && fence->b.known)
            square = (square_share(field, fence, fence->line[0],
                                   fence->a.clockwise) +
                      square_share(field, fence, fence->line[1],
                                   fence->b.clockwise)) /
                     2;
        strip_m2 += fence->length_m * plan->pace_m * square;
    }
    return strip_m2 * field->usable_kg_ha / 1e4 / plan->flock.demand_kg_day;
}

static void describe(const struct fw_plan_job *job, size_t index, size_t k,
                     struct fw_plan_move *move)
{
    const struct fw_plan *plan = job->plan;
    const struct fw_plan_field *field = &plan->fields[index];
    const bool first = k == 0;
    move->to = field->first_paddock + k;
    move->day = plan->paddocks[move->to].enter;
    move->field = index;
    move->from = move->to > 0 ? move->to - 1 : FW_NONE;
    move->next = k + 1 < field->paddock_count ? k : FW_NONE;
    move->front = first ? FW_NONE : k - 1;
    move->back = plan->back_fence && k >= 2 ? k - 2 : FW_NONE;
    move->opening = first ? gate_of(plan, index) : opening_into(plan, move->to);
    move->water = plan->paddocks[move->to].water;
    if (move->from != FW_NONE &&
        plan->paddocks[move->from].water == move->water)
        move->water = FW_NONE; /* the trough stays where it is */
    const size_t down = plan->back_fence ? move->back : move->front;
    move->pace_share = pace_share(plan, index, move->next);
    move->minutes = minutes(job, index, move->next, true) +
                    minutes(job, index, down, false);
}

enum fw_status fw_plan__moves(struct fw_plan_job *job, size_t index,
                              struct fw_error *err)
{
    struct fw_plan *plan = job->plan;
    const size_t count = plan->fields[index].paddock_count;
    const enum fw_status status =
        fw_array_reserve(&plan->moves, &plan->move_capacity,
                         plan->move_count + count, sizeof *plan->moves, err);
    if (status)
        return status;
    for (size_t k = 0; k < count; k++)
        describe(job, index, k, &plan->moves[plan->move_count++]);
    return FW_OK;
}

enum fw_status fw_plan_find_move(const struct fw_plan *plan, int day,
                                 size_t *move, struct fw_error *err)
{
    size_t nearest = 0;
    for (size_t i = 0; i < plan->move_count; i++) {
        if (plan->moves[i].day == day || day == FW_NO_DAY) {
            *move = i;
            return FW_OK;
        }
        if (abs(plan->moves[i].day - day) < abs(plan->moves[nearest].day - day))
            nearest = i;
    }
    if (plan->move_count == 0)
        return fw_fail(err, FW_EPLAN, "the plan has no moves");
    char wanted[FW_DATE_TEXT], near[FW_DATE_TEXT];
    char first[FW_DATE_TEXT], last[FW_DATE_TEXT];
    fw_date_write(day, wanted);
    fw_date_write(plan->moves[nearest].day, near);
    fw_date_write(plan->moves[0].day, first);
    fw_date_write(plan->moves[plan->move_count - 1].day, last);
    return fw_fail(err, FW_EPLAN,
                   "no move on %s; the nearest is on %s, and the plan runs "
                   "from %s to %s",
                   wanted, near, first, last);
}
