/* The lists of a time, and its end. */
#include "moves/inner.h"

#include "base/alloc.h"
#include "base/array.h"

struct fw_list fw_moves__list(const struct fw_time *time)
{
    return (struct fw_list){time->item_count, 0};
}

enum fw_status fw_moves__put(struct fw_time *time, struct fw_list *list,
                             size_t item, struct fw_error *err)
{
    const enum fw_status status =
        fw_array_reserve(&time->items, &time->item_capacity,
                         time->item_count + 1, sizeof *time->items, err);
    if (status)
        return status;
    time->items[time->item_count++] = item;
    list->count++;
    return FW_OK;
}

enum fw_status fw_moves__add_step(struct fw_time *time, enum fw_step_kind kind,
                                  size_t field, struct fw_step **out,
                                  struct fw_error *err)
{
    const enum fw_status status =
        fw_array_reserve(&time->steps, &time->step_capacity,
                         time->step_count + 1, sizeof *time->steps, err);
    if (status)
        return status;
    *out = &time->steps[time->step_count++];
    **out = (struct fw_step){.kind = kind,
                             .field = field,
                             .opening = FW_NONE,
                             .lines = fw_moves__list(time),
                             .dead = fw_moves__list(time),
                             .cells = fw_moves__list(time)};
    time->moves[time->move_count - 1].steps.count++;
    return FW_OK;
}

enum fw_status fw_moves__plain_step(const struct fw_moves__moving *moving,
                                    enum fw_step_kind kind,
                                    struct fw_error *err)
{
    struct fw_step *step;
    return fw_moves__add_step(moving->making->time, kind,
                              moving->entered != FW_NONE ? moving->entered
                                                         : moving->left,
                              &step, err);
}

void fw_moves__drop_step(struct fw_moves__making *making, size_t dropped)
{
    struct fw_time *time = making->time;
    struct fw_move *move = &time->moves[time->move_count - 1];
    for (size_t i = dropped + 1; i < time->step_count; i++) {
        const struct fw_step *step = &time->steps[i];
        for (size_t k = 0; k < step->lines.count; k++) {
            const size_t line = time->items[step->lines.first + k];
            struct fw_standing *of =
                &time->standings[making->standing_of[line] - 1];
            if (step->kind == FW_STEP_SET)
                of->up.step = i - 1;
            else if (step->kind == FW_STEP_TAKE_DOWN)
                of->down.step = i - 1;
        }
        time->steps[i - 1] = *step;
    }
    time->step_count--;
    move->steps.count--;
    if (move->later != FW_NONE)
        move->later--;
    making->replay.step--;
}

void fw_time_release(struct fw_time *time)
{
    fw_free(time->stays);
    fw_free(time->standings);
    fw_free(time->moves);
    fw_free(time->steps);
    fw_free(time->openings);
    fw_free(time->items);
    *time = (struct fw_time){0};
}

void fw_time_shift(struct fw_time *time, int days)
{
    for (size_t i = 0; i < time->stay_count; i++) {
        time->stays[i].enter += days;
        time->stays[i].leave += days;
    }
    for (size_t i = 0; i < time->move_count; i++)
        time->moves[i].day += days;
}
