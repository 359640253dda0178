/* The other folders take a plan's indexes as they are; a file may hold any. */
#include "base/fail.h"
#include "store/reading.h"

#include <math.h>

static bool all_below(const size_t *items, size_t count, size_t bound)
{
    for (size_t i = 0; i < count; i++)
        if (items[i] >= bound)
            return false;
    return true;
}

static bool rings_fit(const struct fw_plan_rings *rings, size_t vertices)
{
    if (!all_below(rings->vertices, rings->ring_start[rings->ring_count],
                   vertices))
        return false;
    for (size_t p = 0; p < rings->piece_count; p++)
        if (rings->piece_ring[p] == rings->piece_ring[p + 1])
            return false; /* a piece without its outer ring */
    if (rings->piece_count == 0)
        return false;
    for (size_t r = 0; r < rings->ring_count; r++)
        if (rings->ring_start[r + 1] - rings->ring_start[r] < 3)
            return false;
    return true;
}

static const char no_vertex[] =
    "has no piece, a ring under 3 vertices, or a vertex that the field has not";
static const char beyond[] = "counts beyond the plan's own list";
static const char not_its[] = "is not the field that counts it";
static const char no_start[] =
    "expected a fence or corners of the field to count from, and a bearing "
    "where that is straight";

static const char a_corner_each[] = "expected one for each corner, or none";

static bool counts_fit(size_t count, size_t corners)
{
    return count == 0 || count == corners;
}

static bool is_near(const struct fw_vertex *vertex)
{
    return fabs(vertex->plane.x_m) <= FW_IO__MOST_M &&
           fabs(vertex->plane.y_m) <= FW_IO__MOST_M;
}

static bool all_near(const struct fw_plan_field *field)
{
    for (size_t i = 0; i < field->vertex_count; i++)
        if (!is_near(&field->vertices[i]))
            return false;
    return true;
}

/* Paddocks and fences are those of one field after the other, so that ground
 * and plan count them alike. */
static enum fw_status check_share(size_t i, size_t first, size_t count,
                                  size_t before, size_t all, bool last,
                                  const char *const members[2],
                                  struct fw_error *err)
{
    if (first != before)
        return fw_io__wrong(err, "fields", i, members[0],
                            "expected those of the fields one after the other");
    if (count > all - first)
        return fw_io__wrong(err, "fields", i, members[1], beyond);
    if (last && first + count != all)
        return fw_io__wrong(err, "fields", i, members[1],
                            "leaves some that no field has");
    return FW_OK;
}

static enum fw_status check_shares(const struct fw_plan *plan, size_t i,
                                   struct fw_error *err)
{
    static const char *const paddocks[2] = {"first_paddock", "paddocks"};
    static const char *const fences[2] = {"first_fence", "fences"};
    const struct fw_plan_field *field = &plan->fields[i];
    const struct fw_plan_field empty = {0};
    const struct fw_plan_field *before = i ? &plan->fields[i - 1] : &empty;
    const bool last = i + 1 == plan->field_count;
    const enum fw_status status =
        check_share(i, field->first_paddock, field->paddock_count,
                    before->first_paddock + before->paddock_count,
                    plan->paddock_count, last, paddocks, err);
    return status ? status
                  : check_share(i, field->first_fence, field->fence_count,
                                before->first_fence + before->fence_count,
                                plan->fence_count, last, fences, err);
}

static enum fw_status check_field(const struct fw_plan *plan, size_t i,
                                  struct fw_error *err)
{
    const struct fw_plan_field *field = &plan->fields[i];
    if (!rings_fit(&field->rings, field->vertex_count))
        return fw_io__wrong(err, "fields", i, "rings", no_vertex);
    if (!all_below(field->corners, field->corner_count, field->vertex_count))
        return fw_io__wrong(err, "fields", i, "corners", no_vertex);
    if (!counts_fit(field->corner_number_count, field->corner_count))
        return fw_io__wrong(err, "fields", i, "corner_numbers", a_corner_each);
    if (!counts_fit(field->side_number_count, field->corner_count))
        return fw_io__wrong(err, "fields", i, "side_numbers", a_corner_each);
    if (!all_near(field))
        return fw_io__wrong(err, "fields", i, "vertices",
                            "one is over 1000 km from the middle of the field");
    if ((field->no_plan != NULL) != (field->paddock_count == 0))
        return fw_io__wrong(
            err, "fields", i, "no_plan",
            "expected a reason where there are no paddocks, and "
            "none where there are");
    return check_shares(plan, i, err);
}

static bool is_within(size_t i, size_t first, size_t count)
{
    return i >= first && i - first < count;
}

static enum fw_status check_paddock(const struct fw_plan *plan, size_t i,
                                    struct fw_error *err)
{
    const struct fw_plan_paddock *paddock = &plan->paddocks[i];
    const struct fw_plan_field *field = &plan->fields[paddock->field];
    if (!is_within(i, field->first_paddock, field->paddock_count))
        return fw_io__wrong(err, "paddocks", i, "field", not_its);
    if (!rings_fit(&paddock->rings, field->vertex_count))
        return fw_io__wrong(err, "paddocks", i, "rings", no_vertex);
    return FW_OK;
}

static enum fw_status check_lane(const struct fw_plan *plan, size_t i,
                                 struct fw_error *err)
{
    const struct fw_plan_lane *lane = &plan->lanes[i];
    if (i > 0 && lane->field < plan->lanes[i - 1].field)
        return fw_io__wrong(err, "lanes", i, "field",
                            "expected those of the fields one after the other");
    if (!rings_fit(&lane->rings, plan->fields[lane->field].vertex_count))
        return fw_io__wrong(err, "lanes", i, "rings", no_vertex);
    return FW_OK;
}

static bool is_corner(const struct fw_plan_field *field, size_t corner)
{
    return corner < field->corner_count;
}

static bool paced_fits(const struct fw_plan_paced *paced,
                       const struct fw_plan_field *field)
{
    switch (paced->by) {
    case FW_PACED_UNTOLD:
        return true;
    case FW_PACED_SIDE:
        return is_corner(field, paced->corner) &&
               is_corner(field, paced->towards);
    case FW_PACED_LINE:
        return paced->fence != FW_NONE;
    case FW_PACED_STRAIGHT:
        return paced->bearing_deg >= 0 &&
               (paced->fence != FW_NONE || is_corner(field, paced->corner));
    }
    return false;
}

static enum fw_status check_fence(const struct fw_plan *plan, size_t i,
                                  struct fw_error *err)
{
    const struct fw_plan_fence *fence = &plan->fences[i];
    const struct fw_plan_field *field = &plan->fields[fence->field];
    if (!is_within(i, field->first_fence, field->fence_count))
        return fw_io__wrong(err, "fences", i, "field", not_its);
    if (!all_below(fence->line, fence->line_count, field->vertex_count))
        return fw_io__wrong(err, "fences", i, "line",
                            "expected vertices of the field");
    if (fence->role != FW_FENCE_PERIMETER &&
        (fence->from == FW_NONE || fence->to == FW_NONE))
        return fw_io__wrong(err, "fences", i, "from",
                            "expected the paddocks beside it, in from and to");
    if (fence->side != FW_NONE && fence->side >= field->corner_count)
        return fw_io__wrong(err, "fences", i, "side",
                            "the field has no such side");
    if (!paced_fits(&fence->a, field))
        return fw_io__wrong(err, "fences", i, "a", no_start);
    if (!paced_fits(&fence->b, field))
        return fw_io__wrong(err, "fences", i, "b", no_start);
    return FW_OK;
}

static enum fw_status check_gate(const struct fw_plan *plan, size_t i,
                                 struct fw_error *err)
{
    const struct fw_plan_gate *gate = &plan->gates[i];
    if ((gate->where == FW_OPENING_GATE) != (gate->fence == FW_NONE))
        return fw_io__wrong(err, "gates", i, "fence",
                            "expected one, but where it is the field's own "
                            "gate");
    if (gate->fence == FW_NONE)
        return FW_OK;
    const struct fw_plan_fence *fence = &plan->fences[gate->fence];
    if (fence->field != gate->field || fence->role == FW_FENCE_PERIMETER)
        return fw_io__wrong(err, "gates", i, "fence",
                            "expected a line within the gate's field");
    return FW_OK;
}

static enum fw_status check_rest(const struct fw_plan *plan,
                                 struct fw_error *err)
{
    for (size_t i = 0; i < plan->power_day_count; i++) {
        const struct fw_plan_power_day *day = &plan->power_days[i];
        if (day->to <= day->from)
            return fw_io__wrong(err, "power_days", i, "to",
                                "expected a day after that of from");
    }
    for (size_t i = 0; i < plan->reading_count; i++) {
        const struct fw_plan_reading *reading = &plan->readings[i];
        if (reading->step >= plan->time.step_count)
            return fw_io__wrong(err, "readings", i, "step",
                                "expected the number of one of steps, from 0");
    }
    return FW_OK;
}

static enum fw_status check_passages(const struct fw_plan *plan,
                                     struct fw_error *err)
{
    for (size_t i = 0; i < plan->passage_count; i++)
        if (plan->passages[i].move >= plan->time.move_count)
            return fw_io__wrong(err, "passages", i, "move",
                                "expected the number of one of moves, from 0");
    return FW_OK;
}

/* What is told once for the whole plan. */
static enum fw_status check_head(const struct fw_plan *plan,
                                 struct fw_error *err)
{
    if (plan->end_day <= plan->start_day)
        return fw_fail(err, FW_EINPUT, ".end: expected a day after the start");
    return FW_OK;
}

enum fw_status fw_io__plan_check(const struct fw_plan *plan,
                                 struct fw_error *err)
{
    static const struct {
        enum fw_status (*check)(const struct fw_plan *plan, size_t i,
                                struct fw_error *err);
        size_t count; /* offset */
    } rows[] = {
        {check_field, offsetof(struct fw_plan, field_count)},
        {check_paddock, offsetof(struct fw_plan, paddock_count)},
        {check_lane, offsetof(struct fw_plan, lane_count)},
        {check_fence, offsetof(struct fw_plan, fence_count)},
        {check_gate, offsetof(struct fw_plan, gate_count)},
    };
    enum fw_status status = check_head(plan, err);
    if (status)
        return status;
    for (size_t k = 0; k < sizeof rows / sizeof rows[0]; k++) {
        const size_t count =
            *(const size_t *)(const void *)((const char *)plan + rows[k].count);
        for (size_t i = 0; i < count; i++) {
            status = rows[k].check(plan, i, err);
            if (status)
                return status;
        }
    }
    status = check_rest(plan, err);
    if (!status)
        status = fw_io__plan_check_time(plan, err);
    return status ? status : check_passages(plan, err);
}
