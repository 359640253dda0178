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
