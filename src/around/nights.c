#include "around/nights.h"

#include "base/alloc.h"
#include "base/array.h"

#include <stdlib.h>

static enum fw_status add(struct fw_plan__spans *spans, size_t of,
                          struct fw_nights nights, struct fw_error *err)
{
    const enum fw_status status =
        fw_array_reserve(&spans->items, &spans->capacity, spans->count + 1,
                         sizeof *spans->items, err);
    if (!status)
        spans->items[spans->count++] = (struct fw_plan__span){of, nights};
    return status;
}

static int by_what(const void *left, const void *right)
{
    const struct fw_plan__span *a = left, *b = right;
    if (a->of != b->of)
        return a->of < b->of ? -1 : 1;
    return a->nights.from < b->nights.from ? -1
                                           : a->nights.from > b->nights.from;
}

/* Nights that follow each other are one span. */
static void join(struct fw_plan__spans *spans)
{
    size_t n = 0;
    if (spans->count > 0)
        qsort(spans->items, spans->count, sizeof *spans->items, by_what);
    for (size_t i = 0; i < spans->count; i++) {
        const struct fw_plan__span *here = &spans->items[i];
        struct fw_plan__span *last = n > 0 ? &spans->items[n - 1] : NULL;
        if (last && last->of == here->of &&
            here->nights.from <= last->nights.to) {
            if (here->nights.to > last->nights.to)
                last->nights.to = here->nights.to;
        } else {
            spans->items[n++] = *here;
        }
    }
    spans->count = n;
}

/* A line bounds their ground where it has a cell of it on one side only. */
static enum fw_status look(struct fw_plan_job *job, struct fw_replay *replay,
                           size_t stay, struct fw_error *err)
{
    const struct fw_land *land = &job->land;
    const struct fw_nights nights = fw_time_nights(replay->time, stay);
    size_t count;
    const size_t *cells = fw_replay_ground(replay, &count);
    enum fw_status status = FW_OK;
    for (size_t i = 0; !status && i < count; i++) {
        const struct fw_cell *cell = &land->cells[cells[i]];
        status = add(job->cell_nights, cells[i], nights, err);
        for (size_t k = 0; !status && k < cell->door_count; k++) {
            const size_t door = land->doors_of[cell->first_door + k];
            const size_t line = land->doors[door].line;
            if (replay->stands[line] &&
                !replay->ground[fw_land_beyond(land, door, cells[i])])
                status = add(job->line_nights, line, nights, err);
        }
    }
    if (!status && fw_replay_has_water(replay))
        job->wet[stay] = true;
    return status;
}

enum fw_status fw_plan__nights(struct fw_plan_job *job, struct fw_error *err)
{
    struct fw_replay replay;
    const struct fw_time *time = &job->plan->time;
    enum fw_status status =
        fw_replay_begin(&job->land, time, &job->start.start, &replay, err);
    if (status)
        return status;
    for (size_t m = 0; !status && fw_replay_to_move(&replay, m); m++)
        if (time->moves[m].stay != FW_NONE)
            status = look(job, &replay, time->moves[m].stay, err);
    fw_replay_end(&replay);
    join(job->cell_nights);
    join(job->line_nights);
    return status;
}

const struct fw_plan__span *fw_plan__spans_of(const struct fw_plan__spans *all,
                                              size_t of, size_t *count)
{
    size_t low = 0, high = all->count;
    while (low < high) {
        const size_t middle = (low + high) / 2;
        if (all->items[middle].of < of)
            low = middle + 1;
        else
            high = middle;
    }
    *count = 0;
    while (low + *count < all->count && all->items[low + *count].of == of)
        ++*count;
    return *count > 0 ? all->items + low : NULL;
}

void fw_plan__nights_release(struct fw_plan_job *job)
{
    struct fw_plan__spans *const all[] = {job->cell_nights, job->line_nights};
    for (int i = 0; i < 2; i++) {
        if (all[i])
            fw_free(all[i]->items);
        fw_free(all[i]);
    }
}
