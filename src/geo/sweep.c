/* The sweep's workspace, its direction and the order of the vertices. */
#include "geo/sweep.h"
#include "base/alloc.h"
#include "base/angle.h"
#include "base/fail.h"
#include "base/length.h"

#include <float.h>
#include <string.h>

/* Every index fits 32 bits, also with a crossing of many cuts a side. */
static const size_t most_vertices = 50000000;

static enum fw_status check(const struct fw_point *points,
                            const size_t *ring_start, size_t ring_count,
                            struct fw_error *err)
{
    if (ring_count == 0 || ring_start[0] != 0)
        return fw_fail(err, FW_EINPUT,
                       "the polygon has no ring; expected an outer one");
    for (size_t r = 0; r < ring_count; r++)
        if (ring_start[r + 1] < ring_start[r] + 3)
            return fw_fail(err, FW_EINPUT,
                           "ring %zu has fewer than 3 vertices; give a ring "
                           "that holds an area",
                           r);
    const size_t count = ring_start[ring_count];
    if (count > most_vertices)
        return fw_fail(err, FW_EINPUT,
                       "the polygon has %zu vertices; expected at most %zu",
                       count, most_vertices);
    for (size_t i = 0; i < count; i++)
        if (!isfinite(points[i].x_m) || !isfinite(points[i].y_m))
            return fw_fail(err, FW_EINPUT,
                           "vertex %zu is at %g, %g; expected finite metres", i,
                           points[i].x_m, points[i].y_m);
    return FW_OK;
}

static bool allocate(struct fw_sweep *sweep)
{
    const size_t count = sweep->count, given = sweep->given;
    return (sweep->points = fw_alloc(count, sizeof *sweep->points)) &&
           (sweep->after = fw_alloc(given, sizeof(uint32_t))) &&
           (sweep->side_of = fw_alloc(count - given, sizeof(uint32_t))) &&
           (sweep->next = fw_alloc(count, sizeof(uint32_t))) &&
           (sweep->previous = fw_alloc(count, sizeof(uint32_t))) &&
           (sweep->same = fw_alloc(count, sizeof(uint32_t))) &&
           (sweep->ring_of = fw_alloc(count, sizeof(uint32_t))) &&
           (sweep->u = fw_alloc(count, sizeof(double))) &&
           (sweep->v = fw_alloc(count, sizeof(double))) &&
           (sweep->slope = fw_alloc(count, sizeof(double))) &&
           (sweep->order = fw_alloc(count, sizeof(uint32_t))) &&
           (sweep->spare = fw_alloc(count, sizeof(uint32_t))) &&
           (sweep->slabs = fw_alloc(count, sizeof *sweep->slabs)) &&
           (sweep->label = fw_alloc(count, sizeof(uint32_t))) &&
           (sweep->first_crossing = fw_alloc(count + 1, sizeof(uint32_t))) &&
           (sweep->seen = fw_alloc(count, sizeof(uint32_t)));
}

static void take_rings(struct fw_sweep *sweep, const struct fw_point *points,
                       const size_t *ring_start, size_t ring_count)
{
    memcpy(sweep->points, points, sweep->given * sizeof *points);
    for (size_t r = 0; r < ring_count; r++) {
        const uint32_t first = (uint32_t)ring_start[r];
        const uint32_t end = (uint32_t)ring_start[r + 1];
        for (uint32_t i = first; i < end; i++) {
            sweep->after[i] = sweep->next[i] = i + 1 < end ? i + 1 : first;
            sweep->previous[i] = i > first ? i - 1 : end - 1;
        }
    }
}

/* Touches come in order along each side, so each goes between the one before
 * it and the side's end. */
static void take_touches(struct fw_sweep *sweep,
                         const struct fw_sweep_touches *touches)
{
    for (size_t i = 0; i < touches->count; i++) {
        const struct fw_sweep_touch *touch = &touches->items[i];
        const uint32_t vertex = sweep->given + (uint32_t)i;
        const uint32_t end = sweep->after[touch->side];
        const uint32_t before = sweep->previous[end];
        sweep->points[vertex] = sweep->points[touch->vertex];
        sweep->side_of[i] = touch->side;
        sweep->next[before] = vertex;
        sweep->previous[vertex] = before;
        sweep->next[vertex] = end;
        sweep->previous[end] = vertex;
    }
}

static enum fw_status number_rings(struct fw_sweep *sweep, struct fw_error *err)
{
    for (uint32_t i = 0; i < sweep->count; i++)
        sweep->ring_of[i] = FW_SWEEP_NONE;
    sweep->ring_count = 0;
    for (uint32_t i = 0; i < sweep->count; i++) {
        if (sweep->ring_of[i] != FW_SWEEP_NONE)
            continue;
        for (uint32_t j = i; sweep->ring_of[j] == FW_SWEEP_NONE;
             j = sweep->next[j])
            sweep->ring_of[j] = sweep->ring_count;
        sweep->spare[sweep->ring_count++] = i;
    }
    const size_t rings = sweep->ring_count;
    if (!(sweep->ring_first = fw_alloc(rings, sizeof(uint32_t))) ||
        !(sweep->whole_next = fw_alloc(rings, sizeof(uint32_t))) ||
        !(sweep->crossed = fw_alloc(rings, sizeof *sweep->crossed)))
        return fw_fail_memory(err);
    memcpy(sweep->ring_first, sweep->spare, rings * sizeof(uint32_t));
    return FW_OK;
}

/* Rings may touch, each with a vertex of its own at the place. At direction 0
 * u is x and v is y, so that equal places stand in one run of equal u. */
static void find_same_in_run(struct fw_sweep *sweep, uint32_t from,
                             uint32_t end, struct fw_sweep_end *run)
{
    for (uint32_t i = from; i < end; i++) {
        const uint32_t vertex = sweep->order[i];
        run[i - from] = (struct fw_sweep_end){sweep->v[vertex], vertex};
    }
    fw_sweep__sort_ends(run, end - from, run + sweep->count);
    for (uint32_t i = 1; i < end - from; i++)
        if (run[i].v <= run[i - 1].v)
            sweep->same[run[i].crossing] = sweep->same[run[i - 1].crossing];
}

static enum fw_status find_same(struct fw_sweep *sweep, struct fw_error *err)
{
    struct fw_sweep_end *run = fw_alloc(2 * (size_t)sweep->count, sizeof *run);
    if (!run)
        return fw_fail_memory(err);
    for (uint32_t i = 0; i < sweep->count; i++)
        sweep->same[i] = i;
    for (uint32_t i = 0, end; i < sweep->count; i = end) {
        const double u = sweep->u[sweep->order[i]];
        for (end = i + 1; end < sweep->count; end++)
            if (sweep->u[sweep->order[end]] > u)
                break;
        if (end - i > 1)
            find_same_in_run(sweep, i, end, run);
    }
    fw_free(run);
    return FW_OK;
}

static enum fw_status set_up(struct fw_sweep *sweep,
                             const struct fw_point *points,
                             const size_t *ring_start, size_t ring_count,
                             struct fw_error *err)
{
    struct fw_sweep_touches touches;
    enum fw_status status = fw_sweep__find_touches(
        points, ring_start, ring_count, sweep->snap_m, &touches, err);
    if (status)
        return status;
    sweep->count = sweep->given + (uint32_t)touches.count;
    if (allocate(sweep)) {
        take_rings(sweep, points, ring_start, ring_count);
        take_touches(sweep, &touches);
        for (uint32_t i = 0; i < sweep->count; i++)
            sweep->order[i] = i;
        fw_sweep_turn(sweep, 0);
        status = find_same(sweep, err);
    } else {
        status = fw_fail_memory(err);
    }
    fw_free(touches.items);
    if (!status)
        status = fw_sweep__link_touching(sweep, err);
    if (!status)
        status = number_rings(sweep, err);
    return status;
}

enum fw_status fw_sweep_new(const struct fw_point *points,
                            const size_t *ring_start, size_t ring_count,
                            struct fw_sweep **out, struct fw_error *err)
{
    enum fw_status status = check(points, ring_start, ring_count, err);
    if (status)
        return status;
    struct fw_sweep *sweep = fw_alloc(1, sizeof *sweep);
    if (!sweep)
        return fw_fail_memory(err);
    sweep->given = (uint32_t)ring_start[ring_count];
    for (uint32_t i = 0; i < sweep->given; i++)
        sweep->extent_m =
            fmax(sweep->extent_m, fw_length(points[i].x_m, points[i].y_m));
    sweep->flat_m = 4 * DBL_EPSILON * sweep->extent_m;
    sweep->snap_m = 64 * DBL_EPSILON * sweep->extent_m;
    status = set_up(sweep, points, ring_start, ring_count, err);
    if (status)
        fw_sweep_free(sweep);
    else
        *out = sweep;
    return status;
}

void fw_sweep_free(struct fw_sweep *sweep)
{
    if (!sweep)
        return;
    void *const blocks[] = {
        sweep->points,
        sweep->after,
        sweep->side_of,
        sweep->next,
        sweep->previous,
        sweep->same,
        sweep->ring_of,
        sweep->ring_first,
        sweep->u,
        sweep->v,
        sweep->slope,
        sweep->order,
        sweep->spare,
        sweep->slabs,
        sweep->label,
        sweep->first_crossing,
        sweep->seen,
        sweep->whole_next,
        sweep->crossed,
        sweep->whole_first,
        sweep->end_start,
        sweep->entering_count,
        sweep->leaving_count,
        sweep->crossings,
        sweep->entering,
        sweep->leaving,
        sweep->spare_ends,
        sweep->rings,
        sweep->shuffle,
        sweep,
    };
    for (size_t i = 0; i < sizeof blocks / sizeof *blocks; i++)
        fw_free(blocks[i]);
}

/* Exact at every quarter turn, so that a field laid out along the axes has its
 * sides exactly on the cuts. */
static void set_direction(struct fw_sweep *sweep, double direction_deg)
{
    const double half_turn_rad = FW_PI;
    int quarter;
    if (!isfinite(direction_deg))
        direction_deg = 0;
    const double rest_deg = remquo(fmod(direction_deg, 360), 90, &quarter);
    const double c = cos(rest_deg * half_turn_rad / 180);
    const double s = sin(rest_deg * half_turn_rad / 180);
    switch (quarter & 3) {
    case 0:
        sweep->cos = c, sweep->sin = s;
        break;
    case 1:
        sweep->cos = -s, sweep->sin = c;
        break;
    case 2:
        sweep->cos = -c, sweep->sin = -s;
        break;
    default:
        sweep->cos = s, sweep->sin = -c;
    }
}

static void turn_order_round(struct fw_sweep *sweep)
{
    uint32_t *order = sweep->order;
    for (uint32_t i = 0, j = sweep->count - 1; i < j; i++, j--) {
        const uint32_t swap = order[i];
        order[i] = order[j];
        order[j] = swap;
    }
}

void fw_sweep_turn(struct fw_sweep *sweep, double direction_deg)
{
    const double old_cos = sweep->cos, old_sin = sweep->sin;
    set_direction(sweep, direction_deg);
    const double c = sweep->cos, s = sweep->sin;
    const struct fw_point *points = sweep->points;
    double *restrict u = sweep->u, *restrict v = sweep->v;
    for (uint32_t i = 0; i < sweep->count; i++) {
        u[i] = points[i].x_m * c + points[i].y_m * s;
        v[i] = points[i].y_m * c - points[i].x_m * s;
    }
    for (uint32_t i = 0; i < sweep->count; i++) {
        const double du = u[sweep->next[i]] - u[i];
        const double dv = v[sweep->next[i]] - v[i];
        sweep->slope[i] = fabs(du) > sweep->flat_m ? dv / du : 0;
    }
    if (old_cos * c + old_sin * s < 0)
        turn_order_round(sweep);
    fw_sweep__sort(sweep);
    fw_sweep__slabs(sweep);
}

double fw_sweep_area_m2(const struct fw_sweep *sweep)
{
    return sweep->area_m2;
}

struct fw_point fw_sweep_point(const struct fw_sweep *sweep,
                               const struct fw_partition *partition,
                               size_t vertex)
{
    return fw_sweep__point(sweep, partition, vertex);
}
