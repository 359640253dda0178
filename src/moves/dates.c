/* Days, for those who print them. */
#include "moves/inner.h"

#include "base/alloc.h"
#include "base/fail.h"

struct fw_nights fw_time_nights(const struct fw_time *time, size_t stay)
{
    return (struct fw_nights){time->stays[stay].enter, time->stays[stay].leave};
}

static const struct fw_nights never = {FW_NO_DAY, FW_NO_DAY};

static int day_of(const struct fw_time *time, struct fw_time_when when)
{
    return when.move == FW_NONE ? FW_NO_DAY : time->moves[when.move].day;
}

enum fw_status fw_time_dates(const struct fw_time *time, size_t cell_count,
                             size_t line_count, struct fw_time_dates *out,
                             struct fw_error *err)
{
    struct fw_time_dates dates = {
        .cells = fw_alloc(cell_count, sizeof *dates.cells),
        .lines = fw_alloc(line_count, sizeof *dates.lines),
    };
    if (!dates.cells || !dates.lines) {
        fw_time_dates_release(&dates);
        return fw_fail_memory(err);
    }
    for (size_t i = 0; i < cell_count; i++)
        dates.cells[i] = never;
    for (size_t i = 0; i < line_count; i++)
        dates.lines[i] = never;
    /* The last one to be written counts. */
    for (size_t i = 0; i < time->stay_count; i++)
        dates.cells[time->stays[i].cell].to = time->stays[i].leave;
    for (size_t i = time->stay_count; i-- > 0;)
        dates.cells[time->stays[i].cell].from = time->stays[i].enter;
    for (size_t i = 0; i < time->standing_count; i++)
        dates.lines[time->standings[i].line].to =
            day_of(time, time->standings[i].down);
    for (size_t i = time->standing_count; i-- > 0;)
        dates.lines[time->standings[i].line].from =
            day_of(time, time->standings[i].up);
    *out = dates;
    return FW_OK;
}

void fw_time_dates_release(struct fw_time_dates *dates)
{
    fw_free(dates->cells);
    fw_free(dates->lines);
    *dates = (struct fw_time_dates){0};
}

size_t fw_time_move_by(const struct fw_time *time, int day)
{
    size_t low = 0, high = time->move_count; /* moves follow each other */
    while (low < high) {
        const size_t middle = (low + high) / 2;
        if (time->moves[middle].day <= day)
            low = middle + 1;
        else
            high = middle;
    }
    return low == 0 ? FW_NONE : low - 1;
}
