/* Where the energizer feeds the fences of a day.
 *
 * A field with a live boundary is fed where that comes nearest to the
 * energizer. Where no side is live the lead passes the first end of every line,
 * the nearest first. An energizer that goes with the flock stands at the newest
 * line, and its lead goes on to those lines that nothing live feeds. */
#include "base/length.h"
#include "geo/points.h"
#include "live/live.h"

#include <math.h>

struct fed {
    size_t vertex; /* of the boundary; FW_NONE: the lines' first ends */
    double lead_m;
};

static bool has_live_side(const struct fw_plan__circuits *circuits,
                          size_t field)
{
    for (size_t i = 0; i < circuits->live_count; i++) {
        const struct fw_plan_fence *fence =
            &circuits->plan->fences[circuits->live[i]];
        if (fence->field == field && fence->role == FW_FENCE_PERIMETER)
            return true;
    }
    return false;
}

/* The line that went up last; FW_NONE: none stands in the field. */
static size_t newest(const struct fw_plan__circuits *circuits, size_t field)
{
    return fw_replay_newest(&circuits->days.replay, field);
}

/* Where the energizer stands, in that field's plane. When nobody said it is
 * taken to stand by the gate. */
static bool place_of(const struct fw_plan *plan, size_t field,
                     struct fw_point *out)
{
    const struct fw_plan_place *gate = &plan->fields[field].gate;
    if (plan->energizer_place.given)
        *out = fw_plane_forward(&plan->fields[field].plane,
                                plan->energizer_place.lonlat);
    else if (gate->given)
        *out = gate->plane;
    return plan->energizer_place.given || gate->given;
}

static struct fed at_boundary(const struct fw_plan__circuits *circuits,
                              size_t index)
{
    const struct fw_plan *plan = circuits->plan;
    const struct fw_plan_field *field = &plan->fields[index];
    struct fw_point from = {0, 0};
    const bool known = place_of(plan, index, &from);
    struct fed feed = {FW_NONE, 0};
    double nearest_m = (double)INFINITY;
    for (size_t i = 0; i < circuits->live_count; i++) {
        const struct fw_plan_fence *fence = &plan->fences[circuits->live[i]];
        if (fence->field != index || fence->role != FW_FENCE_PERIMETER)
            continue;
        for (size_t k = 0; k < fence->line_count; k++) {
            const struct fw_point at = field->vertices[fence->line[k]].plane;
            const double m = known ? fw_point_apart_m(at, from) : 0;
            if (feed.vertex == FW_NONE || m < nearest_m) {
                nearest_m = m;
                feed.vertex = fence->line[k];
            }
        }
    }
    feed.lead_m = circuits->wiring->lead_m >= 0 ? circuits->wiring->lead_m
                  : plan->energizer_place.given ? nearest_m
                                                : 0;
    return feed;
}

static bool fed_by_boundary(const struct fw_plan__circuits *circuits,
                            size_t field)
{
    return has_live_side(circuits, field) &&
           !(circuits->wiring->moves && newest(circuits, field) != FW_NONE);
}

void fw_plan__mark_feeds(struct fw_plan__circuits *circuits)
{
    for (size_t i = 0; i < circuits->plan->field_count; i++)
        if (circuits->active[i] && fed_by_boundary(circuits, i))
            circuits
                ->mark[circuits->offset[i] + at_boundary(circuits, i).vertex] |=
                FW_PLAN__HUB;
}

/* From the energizer, through what is switched in the lead. */
static enum fw_status begin_lead(const struct fw_plan__circuits *circuits,
                                 struct fw_plan_circuit *out,
                                 struct fw_plan__hub *hub, struct fw_error *err)
{
    *hub = (struct fw_plan__hub){out->net.source.node, out->net.earth_node};
    if (!(circuits->wiring->switch_ohm > 0))
        return FW_OK;
    const struct fw_circuit_section between = {
        .a = hub->hot,
        .b = out->net.node_count,
        .ohm = circuits->wiring->switch_ohm};
    hub->hot = out->net.node_count++;
    return fw_plan__add_section(
        out, &between, &(struct fw_plan_stretch){.fence = FW_NONE}, err);
}

/* The line nearest to `from` that has no feed yet: not on anything live, or,
 * for the first one of an energizer that moves, the newest. */
static size_t next_line(struct fw_plan__circuits *circuits, size_t field,
                        const struct fw_point *from, double *away_m)
{
    const struct fw_plan *plan = circuits->plan;
    size_t best = FW_NONE;
    *away_m = (double)INFINITY;
    for (size_t i = 0; i < circuits->live_count; i++) {
        const struct fw_plan_fence *fence = &plan->fences[circuits->live[i]];
        const size_t vertex = fence->line[0];
        const size_t at = circuits->offset[field] + vertex;
        if (fence->field != field || fence->role == FW_FENCE_PERIMETER ||
            circuits->node[at] != FW_NONE || circuits->mark[at] & FW_PLAN__HOST)
            continue;
        const struct fw_point p = plan->fields[field].vertices[vertex].plane;
        const double m =
            from ? fw_length(p.x_m - from->x_m, p.y_m - from->y_m) : 0;
        if (m < *away_m) {
            *away_m = m;
            best = circuits->live[i];
        }
    }
    return best;
}

static enum fw_status feed_lines(struct fw_plan__circuits *circuits,
                                 struct fw_plan_circuit *out, size_t field,
                                 struct fw_plan__hub hub, struct fw_error *err)
{
    const struct fw_plan *plan = circuits->plan;
    const double told_m = circuits->wiring->lead_m;
    struct fw_point from = {0, 0};
    bool known = plan->energizer_place.given && place_of(plan, field, &from);
    double away_m = 0;
    size_t line =
        circuits->wiring->moves
            ? newest(circuits, field)
            : next_line(circuits, field, known ? &from : NULL, &away_m);
    bool first = true;
    enum fw_status status = FW_OK;
    while (!status && line != FW_NONE) {
        const size_t vertex = plan->fences[line].line[0];
        const struct fw_plan__hub to =
            fw_plan__hub_at(circuits, out, field, vertex);
        status = fw_plan__add_lead(out, &hub, &to,
                                   first && told_m >= 0 ? told_m : away_m,
                                   circuits->wiring->lead_ohm_m, 0, err);
        hub = to;
        first = false;
        from = plan->fields[field].vertices[vertex].plane;
        line = next_line(circuits, field, &from, &away_m);
    }
    return status;
}

enum fw_status fw_plan__add_feeds(struct fw_plan__circuits *circuits,
                                  struct fw_plan_circuit *out,
                                  struct fw_error *err)
{
    struct fw_plan__hub hub;
    enum fw_status status = begin_lead(circuits, out, &hub, err);
    for (size_t i = 0; !status && i < circuits->plan->field_count; i++) {
        if (!circuits->active[i])
            continue;
        if (!fed_by_boundary(circuits, i)) {
            status = feed_lines(circuits, out, i, hub, err);
            continue;
        }
        const struct fed feed = at_boundary(circuits, i);
        const struct fw_plan__hub to =
            fw_plan__hub_at(circuits, out, i, feed.vertex);
        status = fw_plan__add_lead(out, &hub, &to, feed.lead_m,
                                   circuits->wiring->lead_ohm_m, 0, err);
    }
    return status;
}
