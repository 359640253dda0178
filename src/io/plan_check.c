/* The other folders take a plan's indexes as they are; a file may hold any. */
#include "base/fail.h"
#include "io/plan_read.h"

static enum fw_status wrong(struct fw_error *err, const char *list, size_t i,
                            const char *member, const char *expected)
{
    return fw_fail(err, FW_EINPUT, ".%s[%zu].%s: %s", list, i, member,
                   expected);
}

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
    for (size_t r = 0; r < rings->ring_count; r++)
        if (rings->ring_start[r + 1] - rings->ring_start[r] < 3)
            return false;
    return true;
}

static const char no_vertex[] =
    "points at a vertex that the field has not, or has a ring under 3 vertices";
static const char beyond[] = "counts beyond the plan's own list";
static const char none[] = "expected one";
static const char no_start[] =
    "expected a fence or corners of the field to count from, and a bearing "
    "where that is straight";

static const char a_corner_each[] = "expected one for each corner, or none";

static bool counts_fit(size_t count, size_t corners)
{
    return count == 0 || count == corners;
}

static enum fw_status check_field(const struct fw_plan *plan, size_t i,
                                  struct fw_error *err)
{
    const struct fw_plan_field *field = &plan->fields[i];
    if (!field->name)
        return wrong(err, "fields", i, "field", "expected a text");
    if (!rings_fit(&field->rings, field->vertex_count))
        return wrong(err, "fields", i, "rings", no_vertex);
    if (!all_below(field->corners, field->corner_count, field->vertex_count))
        return wrong(err, "fields", i, "corners", no_vertex);
    if (!counts_fit(field->corner_number_count, field->corner_count))
        return wrong(err, "fields", i, "corner_numbers", a_corner_each);
    if (!counts_fit(field->side_number_count, field->corner_count))
        return wrong(err, "fields", i, "side_numbers", a_corner_each);
    if (field->first_paddock > plan->paddock_count ||
        field->paddock_count > plan->paddock_count - field->first_paddock)
        return wrong(err, "fields", i, "paddocks", beyond);
    if (field->first_fence > plan->fence_count ||
        field->fence_count > plan->fence_count - field->first_fence)
        return wrong(err, "fields", i, "fences", beyond);
    return FW_OK;
}

static enum fw_status check_paddock(const struct fw_plan *plan, size_t i,
                                    struct fw_error *err)
{
    const struct fw_plan_paddock *paddock = &plan->paddocks[i];
    if (paddock->field == FW_NONE)
        return wrong(err, "paddocks", i, "field", none);
    if (!rings_fit(&paddock->rings, plan->fields[paddock->field].vertex_count))
        return wrong(err, "paddocks", i, "rings", no_vertex);
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

static bool move_fits(size_t move, const struct fw_plan *plan)
{
    return move == FW_NONE || move < plan->move_count;
}

static enum fw_status check_fence(const struct fw_plan *plan, size_t i,
                                  struct fw_error *err)
{
    const struct fw_plan_fence *fence = &plan->fences[i];
    if (fence->field == FW_NONE)
        return wrong(err, "fences", i, "field", none);
    const struct fw_plan_field *field = &plan->fields[fence->field];
    if (fence->line_count < 2 ||
        !all_below(fence->line, fence->line_count, field->vertex_count))
        return wrong(err, "fences", i, "line",
                     "expected at least 2 vertices of the field");
    if (fence->role != FW_FENCE_PERIMETER &&
        (fence->from == FW_NONE || fence->to == FW_NONE))
        return wrong(err, "fences", i, "from",
                     "expected the paddocks beside it, in from and to");
    if (!move_fits(fence->set_at, plan))
        return wrong(err, "fences", i, "set_at", "the plan has no such move");
    if (!move_fits(fence->down_at, plan))
        return wrong(err, "fences", i, "down_at", "the plan has no such move");
    if (fence->side != FW_NONE && fence->side >= field->corner_count)
        return wrong(err, "fences", i, "side", "the field has no such side");
    if (!paced_fits(&fence->a, field))
        return wrong(err, "fences", i, "a", no_start);
    if (!paced_fits(&fence->b, field))
        return wrong(err, "fences", i, "b", no_start);
    return FW_OK;
}

static enum fw_status check_move(const struct fw_plan *plan, size_t i,
                                 struct fw_error *err)
{
    const struct fw_plan_move *move = &plan->moves[i];
    if (move->day == FW_NO_DAY)
        return wrong(err, "moves", i, "day", none);
    if (move->field == FW_NONE)
        return wrong(err, "moves", i, "field", none);
    if (move->to == FW_NONE)
        return wrong(err, "moves", i, "to", none);
    if (move->way_back != FW_NONE &&
        (move->front == FW_NONE ||
         (move->from == FW_NONE &&
          plan->gates[move->way_back].fence != FW_NONE)))
        return wrong(err, "moves", i, "way_back",
                     "a move out of no paddock, or into none by a fence");
    if (move->front != FW_NONE && move->opening == FW_NONE)
        return wrong(err, "moves", i, "opening", none);
    return FW_OK;
}

static enum fw_status check_rest(const struct fw_plan *plan,
                                 struct fw_error *err)
{
    for (size_t i = 0; i < plan->post_count; i++)
        if (plan->posts[i].fence == FW_NONE)
            return wrong(err, "posts", i, "fence", none);
    for (size_t i = 0; i < plan->water_count; i++)
        if (plan->waters[i].field == FW_NONE)
            return wrong(err, "water", i, "field", none);
    for (size_t i = 0; i < plan->gate_count; i++)
        if (plan->gates[i].field == FW_NONE)
            return wrong(err, "gates", i, "field", none);
    for (size_t i = 0; i < plan->power_day_count; i++)
        if (plan->power_days[i].from == FW_NO_DAY ||
            plan->power_days[i].to == FW_NO_DAY)
            return wrong(err, "power_days", i, "from", none);
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
        {check_fence, offsetof(struct fw_plan, fence_count)},
        {check_move, offsetof(struct fw_plan, move_count)},
    };
    for (size_t k = 0; k < sizeof rows / sizeof rows[0]; k++) {
        const size_t count =
            *(const size_t *)(const void *)((const char *)plan + rows[k].count);
        for (size_t i = 0; i < count; i++) {
            enum fw_status status = rows[k].check(plan, i, err);
            if (status)
                return status;
        }
    }
    return check_rest(plan, err);
}
