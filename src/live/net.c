/* The network of one day: a node where lines meet, a section for each strand
 * between two nodes. What is fed from where is told in docs/guide/power.md. */
#include "live/live.h"

#include "base/alloc.h"
#include "base/array.h"
#include "base/fail.h"
#include "figures/mark.h"

#include <math.h>
#include <string.h>

bool fw_plan_growing(const struct fw_plan *plan, int day)
{
    return fw_forage_is_warm(
        day, plan->field_count ? plan->fields[0].plane.centre.lat_deg : 0);
}

/* A side that nobody said is dead counts as live. */
bool fw_plan__is_hot(const struct fw_plan *plan,
                     const struct fw_plan_fence *fence)
{
    return fence->role == FW_FENCE_PERIMETER && fence->side != FW_NONE &&
           plan->fields[fence->field].sides[fence->side].hot != FW_NO;
}

/* ---- the room ---- */

enum fw_status fw_plan__circuits_init(struct fw_plan__circuits *circuits,
                                      const struct fw_plan *plan,
                                      const struct fw_farm_wiring *wiring,
                                      struct fw_error *err)
{
    *circuits = (struct fw_plan__circuits){
        .plan = plan,
        .wiring = wiring,
        .leakage_factor = 1,
    };
    const enum fw_status status =
        fw_plan__days_init(&circuits->days, plan, err);
    if (status)
        return status;
    circuits->offset = fw_alloc(plan->field_count, sizeof *circuits->offset);
    circuits->active = fw_alloc(plan->field_count, sizeof *circuits->active);
    circuits->actives = fw_alloc(plan->field_count, sizeof *circuits->actives);
    circuits->stood = fw_alloc(plan->field_count, sizeof *circuits->stood);
    circuits->live = fw_alloc(plan->fence_count, sizeof *circuits->live);
    circuits->tall_to = fw_alloc(plan->fence_count, sizeof *circuits->tall_to);
    for (size_t i = 0; circuits->offset && i < plan->field_count; i++) {
        circuits->offset[i] = circuits->vertex_count;
        circuits->vertex_count += plan->fields[i].vertex_count;
    }
    circuits->node = fw_alloc(circuits->vertex_count, sizeof *circuits->node);
    circuits->earth = fw_alloc(circuits->vertex_count, sizeof *circuits->earth);
    circuits->mark = fw_alloc(circuits->vertex_count, sizeof *circuits->mark);
    if (!circuits->offset || !circuits->active || !circuits->actives ||
        !circuits->stood || !circuits->live || !circuits->tall_to ||
        !circuits->node || !circuits->earth || !circuits->mark) {
        fw_plan__circuits_release(circuits);
        return fw_fail_memory(err);
    }
    for (size_t i = 0; i < circuits->vertex_count; i++)
        circuits->node[i] = circuits->earth[i] = FW_NONE;
    fw_time_field_days(&plan->time, &circuits->days.land, circuits->stood);
    return fw_plan__find_tall(circuits, err);
}

void fw_plan__circuits_release(struct fw_plan__circuits *circuits)
{
    fw_plan__days_release(&circuits->days);
    fw_free(circuits->offset);
    fw_free(circuits->active);
    fw_free(circuits->actives);
    fw_free(circuits->stood);
    fw_free(circuits->live);
    fw_free(circuits->tall_to);
    fw_free(circuits->node);
    fw_free(circuits->earth);
    fw_free(circuits->mark);
    *circuits = (struct fw_plan__circuits){0};
}

void fw_plan_circuit_release(struct fw_plan_circuit *circuit)
{
    fw_circuit_release(&circuit->net);
    fw_free(circuit->stretches);
    *circuit = (struct fw_plan_circuit){0};
}

static size_t node_of(struct fw_plan_circuit *out, size_t *node)
{
    if (*node == FW_NONE)
        *node = out->net.node_count++;
    return *node;
}

struct fw_plan__hub fw_plan__hub_at(struct fw_plan__circuits *circuits,
                                    struct fw_plan_circuit *out, size_t field,
                                    size_t vertex)
{
    const size_t at = circuits->offset[field] + vertex;
    return (struct fw_plan__hub){
        node_of(out, &circuits->node[at]),
        out->net.earth_return ? node_of(out, &circuits->earth[at]) : FW_NONE};
}

struct fw_plan__hub fw_plan__new_hub(struct fw_plan_circuit *out)
{
    struct fw_plan__hub hub = {out->net.node_count++, FW_NONE};
    if (out->net.earth_return)
        hub.earth = out->net.node_count++;
    return hub;
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

static void mark(struct fw_plan__circuits *circuits)
{
    for (size_t i = 0; i < circuits->live_count; i++) {
        const struct fw_plan_fence *fence =
            &circuits->plan->fences[circuits->live[i]];
        const bool side = fence->role == FW_FENCE_PERIMETER;
        const size_t last = fence->line_count - 1;
        unsigned char *at = circuits->mark + circuits->offset[fence->field];
        at[fence->line[0]] |= FW_PLAN__HUB;
        if (side || fw_plan__hooked_at_b(circuits, fence))
            at[fence->line[last]] |= FW_PLAN__HUB;
        for (size_t k = side ? 0 : 1; k < last + side; k++)
            at[fence->line[k]] |= FW_PLAN__HOST;
    }
}

/* ---- all of it ---- */

enum fw_status fw_plan__wire(struct fw_plan__circuits *circuits, int day,
                             const struct fw_plan_power *power,
                             struct fw_plan_circuit *out, struct fw_error *err)
{
    out->net.section_count = out->net.shunt_count = out->net.pair_count = 0;
    out->net.earth_return = power->earth_return;
    out->net.earth_node = power->earth_return ? 1 : 0;
    out->net.node_count = 1 + out->net.earth_node;
    out->net.hooves_ohm = fw_power_hooves_ohm(circuits->wiring->soil_ohm_m);
    out->net.dead_parts = true;
    out->net.has_source = true;
    out->net.source = (struct fw_circuit_source){
        0, power->open_v, power->internal_ohm, power->earth_ohm};
    out->day = day;
    circuits->day = day;
    out->growing = circuits->growing = fw_plan_growing(circuits->plan, day);
    fw_plan__find_live(circuits, day);
    mark(circuits);
    fw_plan__mark_feeds(circuits);
    enum fw_status status = fw_plan__add_feeds(circuits, out, err);
    for (size_t i = 0; !status && i < circuits->live_count; i++)
        status = fw_plan__add_line(circuits, out, circuits->live[i], err);
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
    struct fw_plan__circuits circuits;
    struct fw_plan_circuit circuit = {0};
    status = fw_plan__circuits_init(&circuits, plan, &plan->wiring, err);
    if (status)
        return status;
    status = fw_plan__days_to(&circuits.days, day, err);
    if (!status)
        status = fw_plan__wire(&circuits, day, &plan->power, &circuit, err);
    fw_plan__circuits_release(&circuits);
    if (status)
        fw_plan_circuit_release(&circuit);
    else
        *out = circuit;
    return status;
}

enum fw_status fw_plan__add_lead(struct fw_plan_circuit *out,
                                 const struct fw_plan__hub *from,
                                 const struct fw_plan__hub *to, double length_m,
                                 double ohm_m, double ohm, struct fw_error *err)
{
    const struct fw_plan_stretch none = {.fence = FW_NONE};
    struct fw_circuit_section lead = {.a = from->hot,
                                      .b = to->hot,
                                      .length_m = length_m,
                                      .ohm_m = ohm_m,
                                      .ohm = ohm};
    const enum fw_status status = fw_plan__add_section(out, &lead, &none, err);
    if (status || !out->net.earth_return)
        return status;
    lead.a = from->earth;
    lead.b = to->earth;
    return fw_plan__add_section(out, &lead, &none, err);
}

bool fw_plan_circuit_place(const struct fw_plan_circuit *circuit, size_t fence,
                           int strand, double at_m,
                           struct fw_circuit_station *out)
{
    const double rounding_m = FW_TOLERANCE(1e-6);
    for (size_t i = 0; i < circuit->net.section_count; i++) {
        const struct fw_plan_stretch *stretch = &circuit->stretches[i];
        const double along_m = at_m - stretch->from_m;
        const double length_m = circuit->net.sections[i].length_m;
        if (stretch->fence != fence || stretch->strand != strand ||
            !(along_m >= -rounding_m && along_m <= length_m + rounding_m))
            continue;
        *out = (struct fw_circuit_station){i, fmin(fmax(along_m, 0), length_m)};
        return true;
    }
    return false;
}
