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
    if (fence->side != FW_NONE && fence->side >= field->corner_count)
        return wrong(err, "fences", i, "side", "the field has no such side");
    if (!paced_fits(&fence->a, field))
        return wrong(err, "fences", i, "a", no_start);
    if (!paced_fits(&fence->b, field))
        return wrong(err, "fences", i, "b", no_start);
    return FW_OK;
}

/* ---- time ---- */

static enum fw_status check_stay(const struct fw_plan *plan, size_t i,
                                 struct fw_error *err)
{
    const struct fw_time_stay *stay = &plan->time.stays[i];
    if (stay->cell == FW_NONE)
        return wrong(err, "stays", i, "paddock", none);
    if (stay->enter == FW_NO_DAY || stay->leave == FW_NO_DAY ||
        stay->leave <= stay->enter)
        return wrong(err, "stays", i, "leave",
                     "expected a day after that of enter");
    if (i > 0 && stay->enter < plan->time.stays[i - 1].leave)
        return wrong(err, "stays", i, "enter",
                     "begins before the stay before it has ended");
    return FW_OK;
}

static bool when_fits(struct fw_time_when when, const struct fw_time *time)
{
    return when.move == FW_NONE ||
           (when.move < time->move_count && when.step < time->step_count);
}

static enum fw_status check_standing(const struct fw_plan *plan, size_t i,
                                     struct fw_error *err)
{
    const struct fw_standing *standing = &plan->time.standings[i];
    if (standing->line == FW_NONE)
        return wrong(err, "standings", i, "fence", none);
    if (!when_fits(standing->up, &plan->time))
        return wrong(err, "standings", i, "up_move",
                     "the plan has no such move and step");
    if (!when_fits(standing->down, &plan->time))
        return wrong(err, "standings", i, "down_move",
                     "the plan has no such move and step");
    return FW_OK;
}

/* Steps of the moves follow each other, and every one belongs to one. */
static enum fw_status check_move(const struct fw_plan *plan, size_t i,
                                 struct fw_error *err)
{
    const struct fw_time *time = &plan->time;
    const struct fw_move *move = &time->moves[i];
    const size_t first =
        i == 0 ? 0
               : time->moves[i - 1].steps.first + time->moves[i - 1].steps.count;
    if (move->day == FW_NO_DAY ||
        (i > 0 && move->day < time->moves[i - 1].day))
        return wrong(err, "moves", i, "day",
                     "expected a day, none before the move before it");
    if (move->field == FW_NONE)
        return wrong(err, "moves", i, "field", none);
    const bool last = i + 1 == time->move_count;
    if (move->stay != (last ? FW_NONE : i) || time->stay_count != time->move_count - 1)
        return wrong(err, "moves", i, "stay",
                     "expected a move for each stay, and one out of the last");
    if (move->steps.first != first ||
        move->steps.count > time->step_count - first)
        return wrong(err, "moves", i, "steps", beyond);
    if (last && first + move->steps.count != time->step_count)
        return wrong(err, "moves", i, "steps", "leaves steps that no move has");
    return FW_OK;
}

static enum fw_status check_step(const struct fw_plan *plan, size_t i,
                                 struct fw_error *err)
{
    const struct fw_step *step = &plan->time.steps[i];
    const bool opens = step->kind == FW_STEP_OPEN ||
                       step->kind == FW_STEP_CLOSE ||
                       step->kind == FW_STEP_BRIDGE;
    if (step->field == FW_NONE)
        return wrong(err, "steps", i, "field", none);
    if (opens != (step->opening != FW_NONE))
        return wrong(err, "steps", i, "gate",
                     "expected one where something is opened or closed");
    if (step->kind == FW_STEP_WALK && step->over_m > 0 &&
        step->cells.count == 0)
        return wrong(err, "steps", i, "over", "expected what they walk over");
    const bool works =
        step->kind == FW_STEP_SET || step->kind == FW_STEP_HOOK ||
        step->kind == FW_STEP_READ || step->kind == FW_STEP_TAKE_DOWN;
    if (works != (step->lines.count > 0))
        return wrong(err, "steps", i, "fences",
                     "expected some where fences are worked on");
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
        {check_stay, offsetof(struct fw_plan, time.stay_count)},
        {check_move, offsetof(struct fw_plan, time.move_count)},
        {check_standing, offsetof(struct fw_plan, time.standing_count)},
        {check_step, offsetof(struct fw_plan, time.step_count)},
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
