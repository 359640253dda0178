/* The strands of one line in the network of a day: a section for each between
 * two nodes. What is joined to what is told in docs/guide/power.md. */
#include "figures/mark.h"
#include "geo/points.h"
#include "live/live.h"

#include <math.h>

enum { most_strands = FW_PLAN_MOST_STRANDS };

static int clamp_strands(int strands)
{
    return strands < 1 ? 1 : strands > most_strands ? most_strands : strands;
}

/* Out and back: is the strand the way back of the one below it? Both are one
 * wire then, which turns at the far end and has its second end at end A. */
static bool comes_back(const struct fw_plan *plan,
                       const struct fw_plan_fence *fence, int strand)
{
    return plan->moved.out_and_back && fence->role != FW_FENCE_PERIMETER &&
           strand % 2 == 1;
}

bool fw_plan__hooked_at_b(const struct fw_plan__circuits *circuits,
                          const struct fw_plan_fence *fence)
{
    const int top = clamp_strands(fence->strands) - 1;
    return circuits->wiring->far_hooked &&
           !comes_back(circuits->plan, fence, top);
}

/* All strands of a line on their way from its first end. */
struct run {
    struct fw_plan_circuit *out;
    size_t fence;
    int strands;
    bool earth[most_strands]; /* in an earth-return: the strand is one */
    double ohm_m[most_strands], siemens_m[most_strands];
    size_t at[most_strands]; /* the node that each has come to */
    double at_m;
};

/* Of what nobody told: by the grass under the lowest wire of a moved line that
 * day, of the boundary by the season. */
static enum fw_leakage leakage_of(const struct fw_plan__circuits *circuits,
                                  size_t index)
{
    const struct fw_plan *plan = circuits->plan;
    const struct fw_plan_fence *fence = &plan->fences[index];
    const struct fw_plan_field *field = &plan->fields[fence->field];
    if (fence->role == FW_FENCE_PERIMETER)
        return fw_power_leakage_untold(circuits->growing);
    return fw_power_leakage_under(
        circuits->day < circuits->tall_to[index] ? field->grass_m
                                                 : field->left_m,
        plan->moved.height_bottom_m, plan->moved.lay_flat, circuits->growing);
}

/* While grass grows the strands above the bottom one are a class better. */
static double leak_ohm_km(const struct fw_plan__circuits *circuits,
                          size_t index, int strand)
{
    const bool side = circuits->plan->fences[index].role == FW_FENCE_PERIMETER;
    const double told_ohm_km = side ? circuits->wiring->perimeter_leak_ohm_km
                                    : circuits->wiring->moved_leak_ohm_km;
    const double bottom_ohm_km =
        told_ohm_km > 0 ? told_ohm_km
                        : fw_power_leakage(leakage_of(circuits, index))->ohm_km;
    if (strand == 0 || !circuits->growing)
        return bottom_ohm_km;
    for (int i = FW_LEAKAGE_COUNT - 1; i >= 0; i--) {
        const double ohm_km = fw_power_leakage((enum fw_leakage)i)->ohm_km;
        if (ohm_km > bottom_ohm_km)
            return ohm_km;
    }
    return bottom_ohm_km;
}

/* The boundary's wires are joined so often that they count as one; in an
 * earth-return as one that is hot and one that is an earth, which a boundary of
 * one wire gets beside it. */
static void add_side_wires(const struct fw_plan__circuits *circuits,
                           struct run *run)
{
    const struct fw_farm_wiring *wiring = circuits->wiring;
    const bool returns = run->out->net.earth_return;
    int wires = clamp_strands(wiring->perimeter_strands), count[2] = {0, 0};
    if (returns && wires < 2)
        wires = 2;
    for (int i = 0; i < wires; i++) {
        const int kind = returns && fw_power_is_earth_strand(i, wires);
        run->siemens_m[kind] +=
            circuits->leakage_factor *
            fw_circuit_siemens_m(leak_ohm_km(circuits, run->fence, i));
        count[kind]++;
    }
    run->strands = returns ? 2 : 1;
    run->earth[1] = returns;
    for (int i = 0; i < run->strands; i++)
        run->ohm_m[i] = wiring->perimeter_ohm_m / count[i];
}

static void add_strands(const struct fw_plan__circuits *circuits,
                        struct run *run, int strands)
{
    run->strands = clamp_strands(strands);
    for (int i = 0; i < run->strands; i++) {
        run->earth[i] = run->out->net.earth_return &&
                        fw_power_is_earth_strand(i, run->strands);
        run->ohm_m[i] = circuits->wiring->moved_ohm_m;
        run->siemens_m[i] =
            circuits->leakage_factor *
            fw_circuit_siemens_m(leak_ohm_km(circuits, run->fence, i));
    }
}

static struct run run_of(const struct fw_plan__circuits *circuits,
                         struct fw_plan_circuit *out, size_t index)
{
    const struct fw_plan_fence *fence = &circuits->plan->fences[index];
    struct run run = {.out = out, .fence = index};
    if (fence->role == FW_FENCE_PERIMETER)
        add_side_wires(circuits, &run);
    else
        add_strands(circuits, &run, fence->strands);
    return run;
}

static enum fw_status extend(struct run *run, int strand, size_t node,
                             double to_m, bool last, struct fw_error *err)
{
    const struct fw_circuit_section section = {
        .a = run->at[strand],
        .b = node,
        .length_m = fmax(to_m - run->at_m, 0),
        .ohm_m = run->ohm_m[strand],
        .siemens_m = run->siemens_m[strand],
    };
    const struct fw_plan_stretch stretch = {run->fence, strand, run->at_m, last,
                                            run->earth[strand]};
    run->at[strand] = node;
    return fw_plan__add_section(run->out, &section, &stretch, err);
}

/* Each strand to a node of its own. Its sections stand one after the other, so
 * that what a hot one has beside it is found by the difference. */
static enum fw_status extend_all(struct run *run,
                                 const size_t nodes[most_strands], double to_m,
                                 bool last, struct fw_error *err)
{
    const size_t first = run->out->net.section_count;
    enum fw_status status = FW_OK;
    for (int i = 0; !status && i < run->strands; i++)
        status = extend(run, i, nodes[i], to_m, last, err);
    for (int i = 0; !status && i < run->strands; i++) {
        const struct fw_circuit_pair pair = {
            first + (size_t)i, first + (size_t)fw_power_beside(i)};
        if (run->out->net.earth_return && !run->earth[i])
            status = fw_circuit_add_pair(&run->out->net, &pair, err);
    }
    run->at_m = to_m;
    return status;
}

/* All strands to one place: hot to hot, earth to earth. */
static enum fw_status join(struct run *run, const struct fw_plan__hub *hub,
                           double to_m, bool last, struct fw_error *err)
{
    size_t nodes[most_strands] = {0};
    for (int i = 0; i < run->strands; i++)
        nodes[i] = run->earth[i] ? hub->earth : hub->hot;
    return extend_all(run, nodes, to_m, last, err);
}

/* What a line hangs on by: the place itself, or one behind the joint's ohms. */
static enum fw_status hook(const struct fw_plan__circuits *circuits,
                           struct fw_plan_circuit *out,
                           struct fw_plan__hub *hub, struct fw_error *err)
{
    const struct fw_plan__hub from = *hub;
    if (!(circuits->wiring->joint_ohm > 0))
        return FW_OK;
    *hub = fw_plan__new_hub(out);
    return fw_plan__add_lead(out, &from, hub, 0, 0, circuits->wiring->joint_ohm,
                             err);
}

/* The handle at the far end insulates, unless it is hooked on or another line
 * is fed from it. A wire that comes back turns there. */
static enum fw_status finish(struct fw_plan__circuits *circuits,
                             struct run *run, double to_m, struct fw_error *err)
{
    const struct fw_plan_fence *fence = &circuits->plan->fences[run->fence];
    const size_t vertex = fence->line[fence->line_count - 1];
    const unsigned char marks =
        circuits->mark[circuits->offset[fence->field] + vertex];
    const bool side = fence->role == FW_FENCE_PERIMETER;
    size_t nodes[most_strands] = {0};
    if (side || fw_plan__hooked_at_b(circuits, fence) ||
        marks == FW_PLAN__HUB) {
        struct fw_plan__hub hub =
            fw_plan__hub_at(circuits, run->out, fence->field, vertex);
        const enum fw_status status =
            side ? FW_OK : hook(circuits, run->out, &hub, err);
        return status ? status : join(run, &hub, to_m, true, err);
    }
    if (circuits->wiring->bonded != FW_BONDED_LIVE_END) {
        const struct fw_plan__hub hub = fw_plan__new_hub(run->out);
        return join(run, &hub, to_m, true, err);
    }
    for (int i = 0; i < run->strands; i++)
        nodes[i] = comes_back(circuits->plan, fence, i)
                       ? nodes[i - 1]
                       : run->out->net.node_count++;
    return extend_all(run, nodes, to_m, true, err);
}

/* The second end of a wire that comes back: loose, or hooked on too. */
static enum fw_status second_end(const struct fw_plan__circuits *circuits,
                                 struct run *run, struct fw_plan__hub hub,
                                 size_t *end, struct fw_error *err)
{
    if (!circuits->wiring->far_hooked) {
        *end = run->out->net.node_count++;
        return FW_OK;
    }
    const enum fw_status status = hook(circuits, run->out, &hub, err);
    *end = hub.hot;
    return status;
}

/* From its first end, or from the end of a lead to its middle. */
static enum fw_status begin(struct fw_plan__circuits *circuits, struct run *run,
                            struct fw_plan__hub *middle, struct fw_error *err)
{
    const struct fw_plan_fence *fence = &circuits->plan->fences[run->fence];
    const bool side = fence->role == FW_FENCE_PERIMETER;
    const struct fw_plan__hub from =
        fw_plan__hub_at(circuits, run->out, fence->field, fence->line[0]);
    struct fw_plan__hub hub = from;
    enum fw_status status = side ? FW_OK : hook(circuits, run->out, &hub, err);
    *middle = (struct fw_plan__hub){FW_NONE, FW_NONE};
    if (!status && circuits->middle && !side) {
        *middle = fw_plan__new_hub(run->out);
        status = fw_plan__add_lead(run->out, &hub, middle, fence->length_m / 2,
                                   circuits->wiring->lead_ohm_m, 0, err);
        hub = fw_plan__new_hub(run->out);
    }
    for (int i = 0; !status && i < run->strands; i++)
        if (comes_back(circuits->plan, fence, i))
            status = second_end(circuits, run, from, &run->at[i], err);
        else
            run->at[i] = run->earth[i] ? hub.earth : hub.hot;
    return status;
}

/* Metres between bonds; 0: there are none along the line. A plan that was read
 * may say any number. */
static double gap_of(const struct fw_plan__circuits *circuits,
                     const struct run *run)
{
    const double most_bonds = FW_EFFORT(500);
    const double length_m = circuits->plan->fences[run->fence].length_m;
    if (circuits->wiring->bonded != FW_BONDED_EVERY || run->strands < 2)
        return 0;
    return fmax(circuits->wiring->bond_gap_m, length_m / most_bonds);
}

/* Bonds between strands, and the middle when it is fed there, up to a place. */
static enum fw_status pass(const struct fw_plan__circuits *circuits,
                           struct run *run, struct fw_plan__hub *middle,
                           double to_m, struct fw_error *err)
{
    const struct fw_plan_fence *fence = &circuits->plan->fences[run->fence];
    const double gap_m = gap_of(circuits, run);
    enum fw_status status = FW_OK;
    while (!status) {
        const double bond_m =
            gap_m > 0
                ? gap_m * (floor(run->at_m / gap_m + FW_TOLERANCE(1e-9)) + 1)
                : (double)INFINITY;
        const double middle_m =
            middle->hot == FW_NONE ? (double)INFINITY : fence->length_m / 2;
        if (fmin(bond_m, middle_m) >= to_m)
            return FW_OK;
        if (middle_m <= bond_m) {
            status = join(run, middle, middle_m, false, err);
            middle->hot = FW_NONE;
        } else {
            const struct fw_plan__hub bond = fw_plan__new_hub(run->out);
            status = join(run, &bond, bond_m, false, err);
        }
    }
    return status;
}

static double plane_m(const struct fw_plan_field *field, size_t a, size_t b)
{
    const struct fw_point p = field->vertices[a].plane;
    const struct fw_point q = field->vertices[b].plane;
    return fw_point_apart_m(q, p);
}

/* Lengths are those of the plan, shared out as in the plane. */
static double plane_share(const struct fw_plan_field *field,
                          const struct fw_plan_fence *fence)
{
    double sum_m = 0;
    for (size_t i = 1; i < fence->line_count; i++)
        sum_m += plane_m(field, fence->line[i - 1], fence->line[i]);
    return sum_m > 0 ? fence->length_m / sum_m : 1;
}

enum fw_status fw_plan__add_line(struct fw_plan__circuits *circuits,
                                 struct fw_plan_circuit *out, size_t index,
                                 struct fw_error *err)
{
    const struct fw_plan_fence *fence = &circuits->plan->fences[index];
    const struct fw_plan_field *field = &circuits->plan->fields[fence->field];
    const unsigned char *marks =
        circuits->mark + circuits->offset[fence->field];
    const double share = plane_share(field, fence);
    struct run run = run_of(circuits, out, index);
    struct fw_plan__hub middle;
    double m = 0;
    enum fw_status status = begin(circuits, &run, &middle, err);
    for (size_t i = 1; !status && i < fence->line_count; i++) {
        const bool last = i + 1 == fence->line_count;
        m = last ? fence->length_m
                 : m + share *
                           plane_m(field, fence->line[i - 1], fence->line[i]);
        if (!last && !(marks[fence->line[i]] & FW_PLAN__HUB))
            continue;
        status = pass(circuits, &run, &middle, m, err);
        if (!status && last) {
            status = finish(circuits, &run, m, err);
        } else if (!status) {
            const struct fw_plan__hub hub =
                fw_plan__hub_at(circuits, out, fence->field, fence->line[i]);
            status = join(&run, &hub, m, false, err);
        }
    }
    return status;
}
