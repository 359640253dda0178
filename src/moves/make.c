/* A time from stays and habits: move after move, each by move.c. */
#include "moves/inner.h"

#include "base/alloc.h"
#include "base/array.h"
#include "base/fail.h"

#include <string.h>

static enum fw_status check(const struct fw_land *land,
                            const struct fw_time_stay *stays, size_t count,
                            struct fw_error *err)
{
    char day[FW_DATE_TEXT], other[FW_DATE_TEXT];
    if (count == 0)
        return fw_fail(err, FW_EINPUT, "no stays; expected at least one");
    for (size_t i = 0; i < count; i++) {
        if (stays[i].cell >= land->cell_count)
            return fw_fail(err, FW_EINPUT,
                           "stay %zu is in cell %zu of %zu; expected one that "
                           "there is",
                           i + 1, stays[i].cell, land->cell_count);
        if (stays[i].leave <= stays[i].enter)
            return fw_fail(err, FW_EINPUT,
                           "stay %zu begins on %s and ends on %s; expected the "
                           "end after the beginning",
                           i + 1, fw_date_write(stays[i].enter, day),
                           fw_date_write(stays[i].leave, other));
        if (i > 0 && stays[i].enter < stays[i - 1].leave)
            return fw_fail(err, FW_EINPUT,
                           "stay %zu begins on %s, before the one before it "
                           "ends on %s; expected them one after the other",
                           i + 1, fw_date_write(stays[i].enter, day),
                           fw_date_write(stays[i - 1].leave, other));
    }
    return FW_OK;
}

/* Where they were, as far as it matters. */
static enum fw_status take_before(const struct fw_land *land,
                                  const struct fw_time_start *start,
                                  struct fw_time *time, struct fw_error *err)
{
    const size_t most = sizeof time->before / sizeof *time->before;
    const size_t count = start ? start->before_count : 0;
    time->before_count = count < most ? count : most;
    for (size_t i = 0; i < time->before_count; i++) {
        time->before[i] = start->before[count - time->before_count + i];
        time->before[i].round -= start->before[count - 1].round;
        if (time->before[i].cell >= land->cell_count)
            return fw_fail(err, FW_EINPUT,
                           "a stay before the first move is in cell %zu of "
                           "%zu; expected one that there is",
                           time->before[i].cell, land->cell_count);
    }
    return FW_OK;
}

/* Spans by the move of one of their ends. */
static enum fw_status sort_spans(const struct fw_moves__spans *spans,
                                 size_t moves, bool up, size_t **list,
                                 size_t **first, struct fw_error *err)
{
    *list = fw_alloc(spans->count, sizeof **list);
    *first = fw_alloc(moves + 2, sizeof **first);
    if (!*list || !*first)
        return fw_fail_memory(err);
    for (size_t i = 0; i < spans->count; i++) {
        const size_t at = up ? spans->items[i].up : spans->items[i].down;
        if (at != FW_NONE)
            (*first)[at + 2]++;
    }
    for (size_t m = 2; m < moves + 2; m++)
        (*first)[m] += (*first)[m - 1];
    for (size_t i = 0; i < spans->count; i++) {
        const size_t at = up ? spans->items[i].up : spans->items[i].down;
        if (at != FW_NONE)
            (*list)[(*first)[at + 1]++] = i;
    }
    return FW_OK;
}

static enum fw_status make_room(struct fw_moves__making *making,
                                struct fw_error *err)
{
    const struct fw_land *land = making->land;
    making->standing_of =
        fw_alloc(land->line_count, sizeof *making->standing_of);
    making->stands = fw_alloc(land->line_count, sizeof *making->stands);
    making->grazed = fw_alloc(land->cell_count, sizeof *making->grazed);
    making->open_door = fw_alloc(land->door_count, sizeof *making->open_door);
    making->opening_of = fw_alloc(land->door_count, sizeof *making->opening_of);
    making->gate_of = fw_alloc(land->field_count, sizeof *making->gate_of);
    making->left_open = fw_alloc(land->door_count, sizeof *making->left_open);
    making->to_open = fw_alloc(land->door_count + 2, sizeof *making->to_open);
    making->hops = fw_alloc(2 * land->cell_count, sizeof *making->hops);
    if (!making->standing_of || !making->stands || !making->grazed ||
        !making->open_door || !making->opening_of || !making->gate_of ||
        !making->left_open || !making->to_open || !making->hops)
        return fw_fail_memory(err);
    for (size_t d = 0; d < land->door_count; d++)
        making->opening_of[d] = FW_NONE;
    return fw_moves__search_new(land, &making->search, err);
}

static enum fw_status take_start(struct fw_moves__making *making,
                                 const struct fw_time_start *start,
                                 struct fw_error *err)
{
    const struct fw_land *land = making->land;
    enum fw_status status = FW_OK;
    for (size_t c = 0; c < land->cell_count; c++)
        making->grazed[c] = land->cells[c].kind == FW_CELL_GRAZED ||
                            fw_moves__was_grazed(start, c);
    for (size_t l = 0; !status && l < land->line_count; l++) {
        making->stands[l] = land->lines[l].role == FW_LAND_EDGE;
        if (!making->stands[l] && fw_moves__stood(start, l))
            status = fw_moves__stand(
                making, l, (struct fw_time_when){FW_NONE, FW_NONE}, err);
    }
    if (!status)
        status = fw_moves__gates(making, err);
    if (!status)
        status = fw_moves__take_open(making, err);
    return status ? status
                  : fw_moves__replay_begin(land, making->time, start,
                                           making->time->opening_count +
                                               land->door_count,
                                           &making->replay, err);
}

static enum fw_status begin(struct fw_moves__making *making,
                            const struct fw_time_start *start,
                            struct fw_error *err)
{
    const size_t moves = making->time->stay_count + 1;
    enum fw_status status = fw_moves__find_spans(
        making->land, making->time, making->habits, start, &making->spans, err);
    if (!status)
        status = fw_moves__as_made(making->land, making->habits, start,
                                   &making->spans, err);
    if (!status)
        status = make_room(making, err);
    if (!status)
        status = sort_spans(&making->spans, moves, true, &making->up,
                            &making->up_first, err);
    if (!status)
        status = sort_spans(&making->spans, moves, false, &making->down,
                            &making->down_first, err);
    making->start = start;
    if (!status)
        status = fw_moves__find_open(making, err);
    if (status)
        return status;
    fw_moves__feed(making->land);
    return take_start(making, start, err);
}

static void end(struct fw_moves__making *making)
{
    fw_replay_end(&making->replay);
    fw_free(making->spans.items);
    fw_free(making->up);
    fw_free(making->up_first);
    fw_free(making->down);
    fw_free(making->down_first);
    fw_free(making->standing_of);
    fw_free(making->stands);
    fw_free(making->grazed);
    fw_free(making->open_door);
    fw_free(making->opening_of);
    fw_free(making->gate_of);
    fw_free(making->left_open);
    fw_free(making->to_open);
    fw_free(making->hops);
    fw_free(making->before);
    fw_moves__search_free(making->search);
}

enum fw_status fw_time_make(struct fw_land *land,
                            const struct fw_time_stay *stays, size_t count,
                            const struct fw_habits *habits,
                            const struct fw_time_start *start,
                            struct fw_time *out, struct fw_error *err)
{
    struct fw_time time = {0};
    struct fw_moves__making making = {
        .land = land, .habits = habits, .time = &time};
    enum fw_status status = check(land, stays, count, err);
    if (!status)
        status = take_before(land, start, &time, err);
    if (!status)
        status = fw_array_reserve(&time.stays, &time.stay_capacity, count,
                                  sizeof *time.stays, err);
    if (!status) {
        memcpy(time.stays, stays, count * sizeof *stays);
        time.stay_count = count;
        status = fw_time_number(&time, land->cell_count,
                                start ? start->grazed : NULL, err);
    }
    if (!status)
        status = begin(&making, start, err);
    for (size_t m = 0; !status && m <= count; m++)
        status = fw_moves__move(&making, m, err);
    end(&making);
    if (status)
        fw_time_release(&time);
    else
        *out = time;
    return status;
}
