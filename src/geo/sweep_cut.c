/* Areas behind the line, and the cuts, in closed form.
 *
 * Between two vertices next to each other along u the chord (the length of the
 * line inside the polygon) is linear, so the area behind it is a quadratic. A
 * side from (u0, v0) to (u1, v1) adds -(v) du to the area behind wherever it
 * runs, with its sign from its own direction: of the chord's slope, the vertex
 * at a side's start takes the side's slope off and the vertex at its end adds
 * it, whichever way the side runs. Of the chord itself, a vertex changes only
 * what jumps at a side that stands on the line.
 *
 * Slopes of steep sides are many orders larger than what they leave behind, so
 * sums are kept with their rounding errors (Knuth's two-sum). */
#include "geo/sweep.h"

struct sum {
    double high, low;
};

static inline void add(struct sum *sum, double x)
{
    const double high = sum->high + x;
    const double back = high - sum->high;
    sum->low += (sum->high - (high - back)) + (x - back);
    sum->high = high;
}

void fw_sweep__slabs(struct fw_sweep *sweep)
{
    const double *u = sweep->u, *v = sweep->v, *side = sweep->slope;
    const uint32_t *order = sweep->order;
    struct sum behind = {0, 0}, chord = {0, 0}, slope = {0, 0};
    double at_m = u[order[0]];
    for (uint32_t i = 0; i < sweep->count; i++) {
        const uint32_t vertex = order[i];
        const uint32_t before = sweep->previous[vertex];
        const double t = u[vertex] - at_m;
        at_m = u[vertex];
        if (t > 0) {
            const double growth = (slope.high + slope.low) * t;
            add(&behind, (chord.high + chord.low) * t);
            add(&behind, growth * t / 2);
            add(&chord, growth);
        }
        add(&slope, side[before]);
        add(&slope, -side[vertex]);
        const bool in = fabs(u[vertex] - u[before]) > sweep->flat_m;
        const bool out =
            fabs(u[sweep->next[vertex]] - u[vertex]) > sweep->flat_m;
        if (in != out)
            add(&chord, in ? v[vertex] : -v[vertex]);
        const double sum_m2 = behind.high + behind.low;
        sweep->slabs[i] = (struct fw_sweep_slab){
            .behind_m2 = sum_m2,
            .behind_low_m2 = (behind.high - sum_m2) + behind.low,
            .chord_m = chord.high + chord.low,
            .slope = slope.high + slope.low,
        };
    }
    sweep->area_m2 = sweep->slabs[sweep->count - 1].behind_m2;
}

static bool lies_beyond(const struct fw_sweep *sweep, uint32_t i, double u_m)
{
    if (fabs(sweep->u[i] - u_m) <= sweep->snap_m)
        return !fw_sweep__stays(sweep, i, u_m);
    return sweep->u[i] > u_m;
}

/* The fence on a cut that has vertices on it: what lies between the crossings,
 * where sides on the cut are boundary already. */
static double fence_over_vertices(const struct fw_sweep *sweep, double u_m)
{
    struct sum fence = {0, 0};
    const double *v = sweep->v;
    for (uint32_t i = 0; i < sweep->count; i++) {
        const uint32_t next = sweep->next[i];
        const bool here = lies_beyond(sweep, i, u_m);
        if (here == lies_beyond(sweep, next, u_m))
            continue;
        const uint32_t on = fw_sweep__end_on(sweep, i, u_m);
        const uint32_t side = fw_sweep__side(sweep, i);
        const double at_v =
            on != FW_SWEEP_NONE
                ? v[on]
                : fw_sweep__between(v[side], v[sweep->after[side]],
                                    fw_sweep__along(sweep, side, u_m));
        add(&fence, here ? at_v : -at_v);
    }
    return fence.high + fence.low;
}

/* Where in the slab `rest_m2` more lie behind: the root of
 * chord t + slope t^2 / 2 = rest in the form that does not cancel. */
static double solve(const struct fw_sweep_slab *slab, double rest_m2,
                    double width_m)
{
    if (!(rest_m2 > 0))
        return 0;
    const double square =
        slab->chord_m * slab->chord_m + 2 * slab->slope * rest_m2;
    const double below = slab->chord_m + sqrt(fmax(0, square));
    const double t = below > 0 ? 2 * rest_m2 / below : width_m;
    return t < width_m ? t : width_m;
}

double fw_sweep_cut(struct fw_sweep *sweep, const double *behind_m2,
                    size_t count, double *position_m, double *length_m)
{
    struct sum total = {0, 0};
    const double *u = sweep->u;
    const struct fw_sweep_slab *slabs = sweep->slabs;
    uint32_t i = 0;
    for (size_t k = 0; k < count; k++) {
        while (i + 2 < sweep->count && slabs[i + 1].behind_m2 < behind_m2[k])
            i++;
        const double from_m = u[sweep->order[i]];
        const double to_m = u[sweep->order[i + 1]];
        const double rest_m2 =
            (behind_m2[k] - slabs[i].behind_m2) - slabs[i].behind_low_m2;
        const double t = solve(&slabs[i], rest_m2, to_m - from_m);
        const double at_m = from_m + t;
        position_m[k] = k > 0 ? fmax(at_m, position_m[k - 1]) : at_m;
        if (at_m - from_m <= sweep->snap_m || to_m - at_m <= sweep->snap_m)
            length_m[k] = fence_over_vertices(sweep, at_m);
        else
            length_m[k] = slabs[i].chord_m + slabs[i].slope * t;
        length_m[k] = fmax(0, length_m[k]);
        add(&total, length_m[k]);
    }
    return total.high + total.low;
}
