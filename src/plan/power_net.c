/* The network of one day: a node where lines meet, a section for each strand
 * between two nodes. What is fed from where is told in docs/guide/power.md. */
#include "plan/live.h"

#include "base/alloc.h"
#include "base/array.h"
#include "base/fail.h"

#include <math.h>
#include <string.h>

enum { most_strands = FW_PLAN_MOST_STRANDS };

bool fw_plan_growing(const struct fw_plan *plan, int day)
{
    char text[FW_DATE_TEXT];
    fw_date_write(day, text);
    const int month = (text[5] - '0') * 10 + (text[6] - '0');
    const bool north =
        plan->field_count == 0 || plan->fields[0].plane.centre.lat_deg >= 0;
    return (month >= 4 && month <= 9) == north;
}

/* A side that nobody said is dead counts as live. */
bool fw_plan__is_hot(const struct fw_plan *plan,
                     const struct fw_plan_fence *fence)
{
    return fence->role == FW_FENCE_PERIMETER && fence->side != FW_NONE &&
           plan->fields[fence->field].sides[fence->side].hot != FW_NO;
}

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

/* Far ends are hooked on where a wire has one: at end B, unless each wire there
 * turns and is hooked on by its second end. */
static bool hooked_at_b(const struct fw_plan__wirer *wirer,
                        const struct fw_plan_fence *fence)
{
    const int top = clamp_strands(fence->strands) - 1;
    return wirer->wiring->far_hooked && !comes_back(wirer->plan, fence, top);
}

/* ---- the room ---- */

enum fw_status fw_plan__wirer_init(struct fw_plan__wirer *wirer,
                                   const struct fw_plan *plan,
                                   const struct fw_farm_wiring *wiring,
                                   struct fw_error *err)
{
    *wirer = (struct fw_plan__wirer){
        .plan = plan,
        .wiring = wiring,
        .leakage_factor = 1,
    };
    const enum fw_status status = fw_plan__days_init(&wirer->days, plan, err);
    if (status)
        return status;
    wirer->offset = fw_alloc(plan->field_count, sizeof *wirer->offset);
    wirer->active = fw_alloc(plan->field_count, sizeof *wirer->active);
    wirer->actives = fw_alloc(plan->field_count, sizeof *wirer->actives);
    wirer->stood = fw_alloc(plan->field_count, sizeof *wirer->stood);
    wirer->live = fw_alloc(plan->fence_count, sizeof *wirer->live);
    for (size_t i = 0; wirer->offset && i < plan->field_count; i++) {
        wirer->offset[i] = wirer->vertex_count;
        wirer->vertex_count += plan->fields[i].vertex_count;
    }
    wirer->node = fw_alloc(wirer->vertex_count, sizeof *wirer->node);
    wirer->mark = fw_alloc(wirer->vertex_count, sizeof *wirer->mark);
    if (!wirer->offset || !wirer->active || !wirer->actives || !wirer->stood ||
        !wirer->live || !wirer->node || !wirer->mark) {
        fw_plan__wirer_release(wirer);
        return fw_fail_memory(err);
    }
    for (size_t i = 0; i < wirer->vertex_count; i++)
        wirer->node[i] = FW_NONE;
    fw_time_field_days(&plan->time, &wirer->days.land, wirer->stood);
    return FW_OK;
}

void fw_plan__wirer_release(struct fw_plan__wirer *wirer)
{
    fw_plan__days_release(&wirer->days);
    fw_free(wirer->offset);
    fw_free(wirer->active);
    fw_free(wirer->actives);
    fw_free(wirer->stood);
    fw_free(wirer->live);
    fw_free(wirer->node);
    fw_free(wirer->mark);
    *wirer = (struct fw_plan__wirer){0};
}

void fw_plan_circuit_release(struct fw_plan_circuit *circuit)
{
    fw_circuit_release(&circuit->net);
    fw_free(circuit->stretches);
    *circuit = (struct fw_plan_circuit){0};
}

size_t fw_plan__node_at(struct fw_plan__wirer *wirer,
                        struct fw_plan_circuit *out, size_t field,
                        size_t vertex)
{
    size_t *node = &wirer->node[wirer->offset[field] + vertex];
    if (*node == FW_NONE)
        *node = out->net.node_count++;
    return *node;
}

enum fw_status fw_plan__add_section(struct fw_plan_circuit *out,
                                    const struct fw_circuit_section *section,
                                    const struct fw_plan_stretch *stretch,
                                    struct fw_error *err)
{
    enum fw_status status = fw_array_reserve(
        &out->stretches, &out->stretch_capacity, out->net.section_count + 1,
        sizeof *out->stretches, err);
    if (status)
        return status;
    out->stretches[out->net.section_count] = *stretch;
    return fw_circuit_add_section(&out->net, section, err);
}

static void mark(struct fw_plan__wirer *wirer)
{
    for (size_t i = 0; i < wirer->live_count; i++) {
        const struct fw_plan_fence *fence =
            &wirer->plan->fences[wirer->live[i]];
        const bool side = fence->role == FW_FENCE_PERIMETER;
        const size_t last = fence->line_count - 1;
        unsigned char *at = wirer->mark + wirer->offset[fence->field];
        at[fence->line[0]] |= FW_PLAN__HUB;
        if (side || hooked_at_b(wirer, fence))
            at[fence->line[last]] |= FW_PLAN__HUB;
        for (size_t k = side ? 0 : 1; k < last + side; k++)
            at[fence->line[k]] |= FW_PLAN__HOST;
    }
}

/* ---- one line ---- */

/* All strands of a line on their way from its first end. */
struct run {
    struct fw_plan_circuit *out;
    size_t fence;
    int strands;
    double ohm_m, siemens_m[most_strands];
    size_t at[most_strands]; /* the node that each has come to */
    double at_m;
};

/* While grass grows the strands above the bottom one are a class better. */
static double leak_ohm_km(const struct fw_plan__wirer *wirer, bool side,
                          int strand)
{
    const double told_ohm_km = side ? wirer->wiring->perimeter_leak_ohm_km
                                    : wirer->wiring->moved_leak_ohm_km;
    const double bottom_ohm_km =
        told_ohm_km > 0
            ? told_ohm_km
            : fw_power_leakage(fw_power_leakage_untold(wirer->growing))->ohm_km;
    double better_ohm_km = bottom_ohm_km;
    for (int i = FW_LEAKAGE_COUNT - 1; i >= 0; i--) {
        const double ohm_km = fw_power_leakage((enum fw_leakage)i)->ohm_km;
        if (ohm_km > bottom_ohm_km && better_ohm_km <= bottom_ohm_km)
            better_ohm_km = ohm_km;
    }
    return strand > 0 && wirer->growing ? better_ohm_km : bottom_ohm_km;
}

/* The boundary's wires are joined so often that they count as one. */
static struct run run_of(const struct fw_plan__wirer *wirer,
                         struct fw_plan_circuit *out, size_t index)
{
    const struct fw_plan_fence *fence = &wirer->plan->fences[index];
    const struct fw_farm_wiring *wiring = wirer->wiring;
    const bool side = fence->role == FW_FENCE_PERIMETER;
    const int wires =
        clamp_strands(side ? wiring->perimeter_strands : fence->strands);
    struct run run = {
        .out = out,
        .fence = index,
        .strands = side ? 1 : wires,
        .ohm_m = side ? wiring->perimeter_ohm_m / wires : wiring->moved_ohm_m,
    };
    for (int i = 0; i < wires; i++)
        run.siemens_m[side ? 0 : i] +=
            wirer->leakage_factor *
            fw_circuit_siemens_m(leak_ohm_km(wirer, side, i));
    return run;
}

static enum fw_status extend(struct run *run, int strand, size_t node,
                             double to_m, bool last, struct fw_error *err)
{
    const struct fw_circuit_section section = {
        .a = run->at[strand],
        .b = node,
        .length_m = fmax(to_m - run->at_m, 0),
        .ohm_m = run->ohm_m,
        .siemens_m = run->siemens_m[strand],
    };
    const struct fw_plan_stretch stretch = {run->fence, strand, run->at_m,
                                            last};
    run->at[strand] = node;
    return fw_plan__add_section(run->out, &section, &stretch, err);
}

/* All strands to one node. */
static enum fw_status join(struct run *run, size_t node, double to_m, bool last,
                           struct fw_error *err)
{
    enum fw_status status = FW_OK;
    for (int i = 0; !status && i < run->strands; i++)
        status = extend(run, i, node, to_m, last, err);
    run->at_m = to_m;
    return status;
}

/* What a line hangs on by: the node itself, or one behind the joint's ohms. */
static enum fw_status hook(struct fw_plan__wirer *wirer,
                           struct fw_plan_circuit *out, size_t node,
                           size_t *hooked, struct fw_error *err)
{
    *hooked = node;
    if (!(wirer->wiring->joint_ohm > 0))
        return FW_OK;
    *hooked = out->net.node_count++;
    const struct fw_circuit_section joint = {
        .a = node, .b = *hooked, .ohm = wirer->wiring->joint_ohm};
    return fw_plan__add_section(
        out, &joint, &(struct fw_plan_stretch){.fence = FW_NONE}, err);
}

/* The handle at the far end insulates, unless it is hooked on or another line
 * is fed from it. A wire that comes back turns there. */
static enum fw_status finish(struct fw_plan__wirer *wirer, struct run *run,
                             double to_m, struct fw_error *err)
{
    const struct fw_plan_fence *fence = &wirer->plan->fences[run->fence];
    const size_t vertex = fence->line[fence->line_count - 1];
    const unsigned char marks =
        wirer->mark[wirer->offset[fence->field] + vertex];
    const bool side = fence->role == FW_FENCE_PERIMETER;
    size_t node = FW_NONE;
    if (side || hooked_at_b(wirer, fence) || marks == FW_PLAN__HUB) {
        node = fw_plan__node_at(wirer, run->out, fence->field, vertex);
        const enum fw_status status =
            side ? FW_OK : hook(wirer, run->out, node, &node, err);
        return status ? status : join(run, node, to_m, true, err);
    }
    if (wirer->wiring->bonded != FW_BONDED_LIVE_END)
        return join(run, run->out->net.node_count++, to_m, true, err);
    enum fw_status status = FW_OK;
    for (int i = 0; !status && i < run->strands; i++) {
        if (!comes_back(wirer->plan, fence, i))
            node = run->out->net.node_count++;
        status = extend(run, i, node, to_m, true, err);
    }
    return status;
}

/* The second end of a wire that comes back: loose, or hooked on too. */
static enum fw_status second_end(struct fw_plan__wirer *wirer, struct run *run,
                                 size_t node, size_t *end, struct fw_error *err)
{
    if (wirer->wiring->far_hooked)
        return hook(wirer, run->out, node, end, err);
    *end = run->out->net.node_count++;
    return FW_OK;
}

/* From its first end, or from the end of a lead to its middle. */
static enum fw_status begin(struct fw_plan__wirer *wirer, struct run *run,
                            size_t *middle, struct fw_error *err)
{
    const struct fw_plan_fence *fence = &wirer->plan->fences[run->fence];
    const bool side = fence->role == FW_FENCE_PERIMETER;
    const size_t from =
        fw_plan__node_at(wirer, run->out, fence->field, fence->line[0]);
    size_t node = from;
    enum fw_status status =
        side ? FW_OK : hook(wirer, run->out, from, &node, err);
    *middle = FW_NONE;
    if (!status && wirer->middle && !side) {
        *middle = run->out->net.node_count++;
        const struct fw_circuit_section lead = {
            .a = node,
            .b = *middle,
            .length_m = fence->length_m / 2,
            .ohm_m = wirer->wiring->lead_ohm_m,
        };
        status = fw_plan__add_section(
            run->out, &lead, &(struct fw_plan_stretch){.fence = FW_NONE}, err);
        node = run->out->net.node_count++;
    }
    for (int i = 0; !status && i < run->strands; i++)
        if (comes_back(wirer->plan, fence, i))
            status = second_end(wirer, run, from, &run->at[i], err);
        else
            run->at[i] = node;
    return status;
}

/* Metres between bonds; 0: there are none along the line. A plan that was read
 * may say any number. */
static double gap_of(const struct fw_plan__wirer *wirer, const struct run *run)
{
    const double most_bonds = 500;
    const double length_m = wirer->plan->fences[run->fence].length_m;
    if (wirer->wiring->bonded != FW_BONDED_EVERY || run->strands < 2)
        return 0;
    return fmax(wirer->wiring->bond_gap_m, length_m / most_bonds);
}

/* Bonds between strands, and the middle when it is fed there, up to a place. */
static enum fw_status pass(const struct fw_plan__wirer *wirer, struct run *run,
                           size_t *middle, double to_m, struct fw_error *err)
{
    const struct fw_plan_fence *fence = &wirer->plan->fences[run->fence];
    const double gap_m = gap_of(wirer, run);
    enum fw_status status = FW_OK;
    while (!status) {
        const double bond_m =
            gap_m > 0 ? gap_m * (floor(run->at_m / gap_m + 1e-9) + 1)
                      : (double)INFINITY;
        const double middle_m =
            *middle == FW_NONE ? (double)INFINITY : fence->length_m / 2;
        if (fmin(bond_m, middle_m) >= to_m)
            return FW_OK;
        if (middle_m <= bond_m) {
            status = join(run, *middle, middle_m, false, err);
            *middle = FW_NONE;
        } else {
            status = join(run, run->out->net.node_count++, bond_m, false, err);
        }
    }
    return status;
}

static double plane_m(const struct fw_plan_field *field, size_t a, size_t b)
{
    const struct fw_point p = field->vertices[a].plane;
    const struct fw_point q = field->vertices[b].plane;
    return hypot(q.x_m - p.x_m, q.y_m - p.y_m);
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

static enum fw_status add_line(struct fw_plan__wirer *wirer,
                               struct fw_plan_circuit *out, size_t index,
                               struct fw_error *err)
{
    const struct fw_plan_fence *fence = &wirer->plan->fences[index];
    const struct fw_plan_field *field = &wirer->plan->fields[fence->field];
    const unsigned char *marks = wirer->mark + wirer->offset[fence->field];
    const double share = plane_share(field, fence);
    struct run run = run_of(wirer, out, index);
    size_t middle;
    double m = 0;
    enum fw_status status = begin(wirer, &run, &middle, err);
    for (size_t i = 1; !status && i < fence->line_count; i++) {
        const bool last = i + 1 == fence->line_count;
        m = last ? fence->length_m
                 : m + share *
                           plane_m(field, fence->line[i - 1], fence->line[i]);
        if (!last && !(marks[fence->line[i]] & FW_PLAN__HUB))
            continue;
        status = pass(wirer, &run, &middle, m, err);
        if (!status)
            status = last ? finish(wirer, &run, m, err)
                          : join(&run,
                                 fw_plan__node_at(wirer, out, fence->field,
                                                  fence->line[i]),
                                 m, false, err);
    }
    return status;
}

/* ---- all of it ---- */

enum fw_status fw_plan__wire(struct fw_plan__wirer *wirer, int day,
                             const struct fw_plan_power *power,
                             struct fw_plan_circuit *out, struct fw_error *err)
{
    out->net.section_count = out->net.shunt_count = 0;
    out->net.node_count = 1;
    out->net.dead_parts = true;
    out->net.has_source = true;
    out->net.source = (struct fw_circuit_source){
        0, power->open_v, power->internal_ohm, power->earth_ohm};
    out->day = day;
    out->growing = wirer->growing = fw_plan_growing(wirer->plan, day);
    fw_plan__find_live(wirer, day);
    mark(wirer);
    fw_plan__mark_feeds(wirer);
    enum fw_status status = fw_plan__add_feeds(wirer, out, err);
    for (size_t i = 0; !status && i < wirer->live_count; i++)
        status = add_line(wirer, out, wirer->live[i], err);
    return status;
}

enum fw_status fw_plan__check_day(const struct fw_plan *plan, int day,
                                  struct fw_error *err)
{
    if (day >= plan->start_day && day < plan->end_day)
        return FW_OK;
    char wanted[FW_DATE_TEXT], from[FW_DATE_TEXT], to[FW_DATE_TEXT];
    return fw_fail(
        err, FW_EINPUT, "%s is outside of the plan, which runs from %s to %s",
        fw_date_write(day, wanted), fw_date_write(plan->start_day, from),
        fw_date_write(plan->end_day - 1, to));
}

enum fw_status fw_plan_circuit_make(const struct fw_plan *plan, int day,
                                    struct fw_plan_circuit *out,
                                    struct fw_error *err)
{
    enum fw_status status = fw_plan__check_day(plan, day, err);
    if (status)
        return status;
    struct fw_plan__wirer wirer;
    struct fw_plan_circuit circuit = {0};
    status = fw_plan__wirer_init(&wirer, plan, &plan->wiring, err);
    if (status)
        return status;
    status = fw_plan__days_to(&wirer.days, day, err);
    if (!status)
        status = fw_plan__wire(&wirer, day, &plan->power, &circuit, err);
    fw_plan__wirer_release(&wirer);
    if (status)
        fw_plan_circuit_release(&circuit);
    else
        *out = circuit;
    return status;
}

bool fw_plan_circuit_place(const struct fw_plan_circuit *circuit, size_t fence,
                           int strand, double at_m,
                           struct fw_circuit_place *out)
{
    const double rounding_m = 1e-6;
    for (size_t i = 0; i < circuit->net.section_count; i++) {
        const struct fw_plan_stretch *stretch = &circuit->stretches[i];
        const double along_m = at_m - stretch->from_m;
        const double length_m = circuit->net.sections[i].length_m;
        if (stretch->fence != fence || stretch->strand != strand ||
            !(along_m >= -rounding_m && along_m <= length_m + rounding_m))
            continue;
        *out = (struct fw_circuit_place){i, fmin(fmax(along_m, 0), length_m)};
        return true;
    }
    return false;
}
