/* Which lines are set and taken down in a move, in the order of their depth:
 * what holds another is set before it and comes down after it. */
#include "moves/inner.h"

#include "base/array.h"

static int by_depth(const struct fw_land *land, size_t a, size_t b)
{
    const size_t p = land->lines[a].depth, q = land->lines[b].depth;
    return p != q ? (p < q ? -1 : 1) : a < b ? -1 : a > b;
}

static void sort_lines(const struct fw_land *land, size_t *lines, size_t count,
                       bool down)
{
    for (size_t i = 1; i < count; i++) /* there are few */
        for (size_t k = i; k > 0; k--) {
            const int order = by_depth(land, lines[k - 1], lines[k]);
            if (down ? order > 0 : order < 0)
                break;
            const size_t kept = lines[k];
            lines[k] = lines[k - 1];
            lines[k - 1] = kept;
        }
}

enum fw_status fw_moves__stand(struct fw_moves__making *making, size_t line,
                               struct fw_time_when up, struct fw_error *err)
{
    struct fw_time *time = making->time;
    const enum fw_status status = fw_array_reserve(
        &time->standings, &time->standing_capacity, time->standing_count + 1,
        sizeof *time->standings, err);
    if (status)
        return status;
    time->standings[time->standing_count++] =
        (struct fw_standing){line, up, {FW_NONE, 0}};
    making->standing_of[line] = time->standing_count;
    making->stands[line] = true;
    return FW_OK;
}

/* The same lines again, for another step. */
static enum fw_status repeat(const struct fw_moves__moving *moving,
                             enum fw_step_kind kind, struct fw_list lines,
                             struct fw_error *err)
{
    struct fw_step *step;
    const enum fw_status status = fw_moves__add_step(
        moving->making->time, kind, moving->entered, &step, err);
    if (!status)
        step->lines = lines;
    return status;
}

enum fw_status fw_moves__set(const struct fw_moves__moving *moving, bool before,
                             struct fw_error *err)
{
    struct fw_moves__making *making = moving->making;
    struct fw_time *time = making->time;
    struct fw_list lines = fw_moves__list(time);
    enum fw_status status = FW_OK;
    for (size_t i = making->up_first[moving->number];
         !status && i < making->up_first[moving->number + 1]; i++) {
        const struct fw_moves__span *span = &making->spans.items[making->up[i]];
        if ((span->need == moving->number) == before)
            status = fw_moves__put(time, &lines, span->line, err);
    }
    if (status || lines.count == 0)
        return status;
    sort_lines(making->land, time->items + lines.first, lines.count, false);
    status = repeat(moving, FW_STEP_SET, lines, err);
    const struct fw_time_when up = {moving->number, time->step_count - 1};
    for (size_t i = 0; !status && i < lines.count; i++)
        status = fw_moves__stand(making, time->items[lines.first + i], up, err);
    if (!status)
        status = repeat(moving, FW_STEP_HOOK, lines, err);
    return status ? status : repeat(moving, FW_STEP_READ, lines, err);
}

bool fw_moves__comes_down(const struct fw_moves__moving *moving, size_t line)
{
    const struct fw_moves__making *making = moving->making;
    for (size_t i = making->down_first[moving->number];
         i < making->down_first[moving->number + 1]; i++)
        if (making->spans.items[making->down[i]].line == line)
            return true;
    return false;
}

/* What was left open in a line goes with it. */
static void forget_openings(struct fw_moves__making *making, size_t line)
{
    size_t n = 0;
    for (size_t k = 0; k < making->left_open_count; k++) {
        const struct fw_opening *opening =
            &making->time->openings[making->left_open[k]];
        if (opening->line == line)
            making->open_door[opening->door] = false;
        else
            making->left_open[n++] = making->left_open[k];
    }
    making->left_open_count = n;
}

enum fw_status fw_moves__take_down(const struct fw_moves__moving *moving,
                                   size_t field, struct fw_error *err)
{
    struct fw_moves__making *making = moving->making;
    struct fw_time *time = making->time;
    struct fw_step *step = NULL;
    struct fw_list lines = fw_moves__list(time);
    enum fw_status status = FW_OK;
    for (size_t i = making->down_first[moving->number];
         !status && i < making->down_first[moving->number + 1]; i++) {
        const size_t line = making->spans.items[making->down[i]].line;
        if (making->land->lines[line].field == field && making->stands[line])
            status = fw_moves__put(time, &lines, line, err);
    }
    if (status || lines.count == 0)
        return status;
    sort_lines(making->land, time->items + lines.first, lines.count, true);
    status = fw_moves__add_step(time, FW_STEP_TAKE_DOWN, field, &step, err);
    if (status)
        return status;
    step->lines = lines;
    for (size_t i = 0; i < lines.count; i++) {
        const size_t line = time->items[lines.first + i];
        time->standings[making->standing_of[line] - 1].down =
            (struct fw_time_when){moving->number, time->step_count - 1};
        making->stands[line] = false;
        forget_openings(making, line);
    }
    return FW_OK;
}
