/* Do troughs and openings lie where they belong, and do paces end on their
 * side? Reckoned from the plan's rings and lines alone. */
#ifndef FW_TIME_PLACES_H
#define FW_TIME_PLACES_H

#include "unit/test.h"

#include "land/land.h"
#include "plan/plan.h"
#include <stdlib.h>
#include <string.h>

struct places_off {
    size_t troughs, trough_count; /* not in their paddock, of so many */
    size_t openings, opening_count;
    size_t over_side, side_count; /* paces that go beyond the side's end */
    size_t over_line, line_count; /* and beyond the end of another line */
    double over_m;                /* the most of these */
};

static inline double from_segment_m(struct fw_point p, struct fw_point a,
                                    struct fw_point b)
{
    const double x = b.x_m - a.x_m, y = b.y_m - a.y_m;
    const double square = x * x + y * y;
    double t = 0;
    if (square > 0)
        t = ((p.x_m - a.x_m) * x + (p.y_m - a.y_m) * y) / square;
    t = fmax(0, fmin(1, t));
    return hypot(p.x_m - a.x_m - t * x, p.y_m - a.y_m - t * y);
}

/* How far a place lies from a cell's edge; negative: inside. Every ring counts,
 * so that what lies in a pond is not inside. */
static inline double from_edge_m(const struct fw_land *land, size_t index,
                                 struct fw_point at, bool *inside)
{
    const struct fw_cell *cell = &land->cells[index];
    double least_m = HUGE_VAL;
    *inside = false;
    for (size_t r = cell->first_ring; r < cell->first_ring + cell->ring_count;
         r++) {
        const size_t first = land->ring_start[r], end = land->ring_start[r + 1];
        for (size_t i = first; i < end; i++) {
            const struct fw_point a = land->ring_points[i];
            const struct fw_point b =
                land->ring_points[i + 1 < end ? i + 1 : first];
            least_m = fmin(least_m, from_segment_m(at, a, b));
            if ((a.y_m > at.y_m) != (b.y_m > at.y_m) &&
                at.x_m < a.x_m + (b.x_m - a.x_m) * (at.y_m - a.y_m) /
                                     (b.y_m - a.y_m))
                *inside = !*inside;
        }
    }
    return least_m;
}

static inline void look_at_troughs(const struct fw_plan *plan,
                                   const struct fw_land *land,
                                   struct places_off *off)
{
    for (size_t p = 0; p < plan->paddock_count; p++) {
        const size_t water = plan->paddocks[p].water;
        bool inside;
        if (water == FW_NONE ||
            strcmp(plan->waters[water].kind_of, "trough") != 0)
            continue;
        off->trough_count++;
        from_edge_m(land, p, plan->waters[water].place.plane, &inside);
        off->troughs += !inside;
    }
}

/* The middle of an opening lies on its fence and on the edge of both cells. */
static inline void look_at_openings(const struct fw_plan *plan,
                                    const struct fw_land *land,
                                    struct places_off *off)
{
    const double on_line_m = 1e-3;
    for (size_t g = 0; g < plan->gate_count; g++) {
        const struct fw_plan_gate *gate = &plan->gates[g];
        const struct fw_opening *opening = &plan->time.openings[g];
        if (gate->fence == FW_NONE)
            continue;
        const struct fw_point at = gate->place.plane;
        const struct fw_land_line *line = &land->lines[gate->fence];
        const struct fw_point *points = land->line_points + line->first;
        double least_m = HUGE_VAL;
        for (size_t i = 0; i + 1 < line->count; i++)
            least_m =
                fmin(least_m, from_segment_m(at, points[i], points[i + 1]));
        bool on = least_m <= on_line_m, inside;
        const size_t cells[2] = {opening->from, opening->to};
        for (int k = 0; k < 2; k++)
            on &= cells[k] == FW_NONE ||
                  from_edge_m(land, cells[k], at, &inside) <= on_line_m;
        off->opening_count++;
        off->openings += !on;
        if (!on && getenv("FW_TELL"))
            print_message(
                "# %s: %s, fence %.2g m, cells %.2g and %.2g m\n",
                plan->fields[gate->field].layout, gate->id, least_m,
                cells[0] == FW_NONE ? -1
                                    : from_edge_m(land, cells[0], at, &inside),
                cells[1] == FW_NONE ? -1
                                    : from_edge_m(land, cells[1], at, &inside));
    }
}

/* A side runs from its corner against the ring to the next one. */
static inline double side_m(const struct fw_plan_field *field, size_t side)
{
    const size_t *ring = field->rings.vertices;
    const size_t count = field->rings.ring_start[1];
    const size_t end = field->corners[(side + 1) % field->corner_count];
    double sum_m = 0;
    size_t i = 0;
    while (ring[i] != field->corners[side])
        i++;
    do {
        const struct fw_point a = field->vertices[ring[i]].plane;
        i = (i + count - 1) % count;
        const struct fw_point b = field->vertices[ring[i]].plane;
        sum_m += hypot(b.x_m - a.x_m, b.y_m - a.y_m);
    } while (ring[i] != end);
    return sum_m;
}

static inline void look_at_pace(const struct fw_plan *plan,
                                const struct fw_plan_field *field,
                                const struct fw_plan_paced *end,
                                struct places_off *off)
{
    const double counted_m = end->paces * plan->pace_m, rounding_m = 1e-6;
    double long_m = HUGE_VAL;
    if (end->by == FW_PACED_SIDE) {
        const size_t n = field->corner_count;
        const bool with = (end->corner + 1) % n == end->towards;
        long_m = side_m(field, with ? end->corner : end->towards);
        if (n == 2) /* either way leads to the other corner */
            long_m =
                fmax(long_m, side_m(field, with ? end->towards : end->corner));
        off->side_count++;
        off->over_side += counted_m > long_m + rounding_m;
    } else if (end->by == FW_PACED_LINE) {
        long_m = plan->fences[end->fence].length_m;
        off->line_count++;
        off->over_line += counted_m > long_m + plan->pace_m / 2 + rounding_m;
    }
    if (end->by == FW_PACED_SIDE || end->by == FW_PACED_LINE)
        off->over_m = fmax(off->over_m, counted_m - long_m);
}

static inline void look_at_places(const struct fw_plan *plan,
                                  const struct fw_land *land,
                                  struct places_off *off)
{
    look_at_troughs(plan, land, off);
    look_at_openings(plan, land, off);
    for (size_t i = 0; i < plan->fence_count; i++) {
        const struct fw_plan_fence *fence = &plan->fences[i];
        if (fence->role == FW_FENCE_PERIMETER)
            continue;
        look_at_pace(plan, &plan->fields[fence->field], &fence->a, off);
        look_at_pace(plan, &plan->fields[fence->field], &fence->b, off);
    }
}

#endif
