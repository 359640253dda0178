/* Stays, moves, steps and standings of a plan that was read. A replay does the
 * steps as they are told, and every card says them in words, so that what they
 * name must be there; and what is told twice must be told alike. */
#include "base/fail.h"
#include "store/reading.h"

/* ---- stays ---- */

static enum fw_status check_stay(const struct fw_plan *plan, size_t i,
                                 struct fw_error *err)
{
    const struct fw_time_stay *stay = &plan->time.stays[i];
    if (stay->leave <= stay->enter)
        return fw_io__wrong(err, "stays", i, "leave",
                            "expected a day after that of enter");
    if (i > 0 && stay->enter < plan->time.stays[i - 1].leave)
        return fw_io__wrong(err, "stays", i, "enter",
                            "begins before the stay before it has ended");
    return FW_OK;
}

/* ---- moves ---- */

/* Steps of the moves follow each other, and every one belongs to one. */
static enum fw_status check_steps_of(const struct fw_time *time, size_t i,
                                     struct fw_error *err)
{
    const struct fw_move *move = &time->moves[i];
    const struct fw_list none_before = {0, 0};
    const struct fw_list before = i ? time->moves[i - 1].steps : none_before;
    const size_t first = before.first + before.count;
    if (move->steps.first != first)
        return fw_io__wrong(err, "moves", i, "first_step",
                            "expected the step after the last one of the move "
                            "before it");
    if (move->steps.count > time->step_count - first)
        return fw_io__wrong(err, "moves", i, "steps",
                            "counts beyond the plan's own list");
    if (i + 1 == time->move_count &&
        first + move->steps.count != time->step_count)
        return fw_io__wrong(err, "moves", i, "steps",
                            "leaves steps that no move has");
    if (move->later != FW_NONE &&
        (move->later < first || move->later - first >= move->steps.count))
        return fw_io__wrong(err, "moves", i, "later",
                            "expected one of the move's own steps");
    return FW_OK;
}

/* A move is made on the day of its stay; the last one when the last has ended.
 */
static enum fw_status check_move(const struct fw_plan *plan, size_t i,
                                 struct fw_error *err)
{
    const struct fw_time *time = &plan->time;
    const struct fw_move *move = &time->moves[i];
    const bool last = i + 1 == time->move_count;
    const struct fw_time_stay *stay = &time->stays[last ? i - 1 : i];
    if (move->stay != (last ? FW_NONE : i))
        return fw_io__wrong(err, "moves", i, "stay",
                            "expected a move for each stay, and one out of the "
                            "last");
    if (move->day != (last ? stay->leave : stay->enter))
        return fw_io__wrong(err, "moves", i, "day",
                            "expected the day on which its stay begins; of the "
                            "last move, that on which the last stay ends");
    if (move->field != plan->paddocks[stay->cell].field)
        return fw_io__wrong(err, "moves", i, "field",
                            "expected that of its stay's paddock");
    if (move->ahead && i + 2 >= time->move_count)
        return fw_io__wrong(err, "moves", i, "ahead",
                            "expected false, with no paddock to come");
    return check_steps_of(time, i, err);
}

/* ---- steps ---- */

static bool is_opening(enum fw_step_kind kind)
{
    return kind == FW_STEP_OPEN || kind == FW_STEP_CLOSE ||
           kind == FW_STEP_BRIDGE;
}

static bool is_work(enum fw_step_kind kind)
{
    return kind == FW_STEP_SET || kind == FW_STEP_HOOK ||
           kind == FW_STEP_READ || kind == FW_STEP_TAKE_DOWN;
}

/* The boundary stays as it is. */
static bool has_perimeter(const struct fw_plan *plan,
                          const struct fw_list *lines)
{
    for (size_t i = 0; i < lines->count; i++)
        if (plan->fences[plan->time.items[lines->first + i]].role ==
            FW_FENCE_PERIMETER)
            return true;
    return false;
}

static enum fw_status check_step(const struct fw_plan *plan, size_t i,
                                 size_t move, struct fw_error *err)
{
    const struct fw_step *step = &plan->time.steps[i];
    if (is_opening(step->kind) != (step->opening != FW_NONE))
        return fw_io__wrong(err, "steps", i, "gate",
                            "expected one where something is opened or closed, "
                            "and none elsewhere");
    if (step->kind == FW_STEP_BRIDGE &&
        plan->gates[step->opening].fence == FW_NONE)
        return fw_io__wrong(err, "steps", i, "gate",
                            "expected an opening in a fence, to be bridged");
    if (is_work(step->kind) != (step->lines.count > 0))
        return fw_io__wrong(
            err, "steps", i, "fences",
            "expected some where fences are worked on, and none "
            "elsewhere");
    if (has_perimeter(plan, &step->lines))
        return fw_io__wrong(err, "steps", i, "fences",
                            "expected none of the boundary");
    if (step->kind == FW_STEP_WALK && step->over_m > 0 &&
        step->cells.count == 0)
        return fw_io__wrong(err, "steps", i, "over",
                            "expected what they walk over");
    if (step->kind == FW_STEP_CARRY && plan->time.moves[move].stay == FW_NONE)
        return fw_io__wrong(err, "steps", i, "step",
                            "is carry; the last move leads into no paddock");
    return FW_OK;
}

static enum fw_status check_steps(const struct fw_plan *plan,
                                  struct fw_error *err)
{
    enum fw_status status = FW_OK;
    for (size_t m = 0; m < plan->time.move_count; m++) {
        const struct fw_list *steps = &plan->time.moves[m].steps;
        for (size_t i = 0; !status && i < steps->count; i++)
            status = check_step(plan, steps->first + i, m, err);
    }
    return status;
}

/* ---- standings ---- */

/* Is the line worked on in that way there? */
static bool is_done(const struct fw_time *time, struct fw_time_when when,
                    enum fw_step_kind kind, size_t line)
{
    if (when.move >= time->move_count)
        return false;
    const struct fw_list *steps = &time->moves[when.move].steps;
    if (when.step < steps->first || when.step - steps->first >= steps->count)
        return false;
    const struct fw_step *step = &time->steps[when.step];
    if (step->kind != kind)
        return false;
    for (size_t i = 0; i < step->lines.count; i++)
        if (time->items[step->lines.first + i] == line)
            return true;
    return false;
}

static enum fw_status check_standing(const struct fw_plan *plan, size_t i,
                                     struct fw_error *err)
{
    const struct fw_standing *standing = &plan->time.standings[i];
    if (standing->up.move != FW_NONE &&
        !is_done(&plan->time, standing->up, FW_STEP_SET, standing->line))
        return fw_io__wrong(err, "standings", i, "up_step",
                            "expected a step of that move that sets the fence");
    if (standing->down.move != FW_NONE &&
        !is_done(&plan->time, standing->down, FW_STEP_TAKE_DOWN,
                 standing->line))
        return fw_io__wrong(err, "standings", i, "down_step",
                            "expected a step of that move that takes the fence "
                            "down");
    return FW_OK;
}

/* ---- all of it ---- */

enum fw_status fw_io__plan_check_time(const struct fw_plan *plan,
                                      struct fw_error *err)
{
    const struct fw_time *time = &plan->time;
    if (time->move_count != time->stay_count + 1)
        return fw_fail(err, FW_EINPUT,
                       ".moves: has %zu rows; expected %zu, one for each stay "
                       "and one out of the last",
                       time->move_count, time->stay_count + 1);
    enum fw_status status = FW_OK;
    for (size_t i = 0; !status && i < time->stay_count; i++)
        status = check_stay(plan, i, err);
    for (size_t i = 0; !status && i < time->move_count; i++)
        status = check_move(plan, i, err);
    if (!status)
        status = check_steps(plan, err);
    for (size_t i = 0; !status && i < time->standing_count; i++)
        status = check_standing(plan, i, err);
    return status;
}
