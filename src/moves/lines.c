/* Which lines are set and taken down in a move: what holds another is set
 * before it and comes down after it; else the nearest comes first. */
#include "moves/inner.h"

#include "base/array.h"
#include "base/length.h"

#include <math.h>

static struct fw_point end_of(const struct fw_land *land, size_t line,
                              bool last)
{
    const struct fw_land_line *of = &land->lines[line];
    return land->line_points[of->first + (last ? of->count - 1 : 0)];
}

/* Where the person is before going to the lines: at the opening that was dealt
 * with, else at the vehicle or the gate. */
static bool place_before(const struct fw_moves__moving *moving, size_t line,
                         bool opened, struct fw_point *out)
{
    const struct fw_time *time = moving->making->time;
    const struct fw_land *land = moving->making->land;
    const struct fw_land_field *field = &land->fields[land->lines[line].field];
    const size_t opening = time->moves[moving->number].opening;
    if (opened && opening != FW_NONE) {
        *out = time->openings[opening].place;
        return true;
    }
    *out = field->park_given ? field->park : field->gate;
    return field->park_given || field->gate_given;
}

/* Is line a to come before b? What holds another does; of those alike the one
 * whose end A is nearer, or from nowhere the one farther to the west. */
static bool comes_before(const struct fw_land *land, size_t a, size_t b,
                         bool down, const struct fw_point *at)
{
    const size_t p = land->lines[a].depth, q = land->lines[b].depth;
    if (p != q)
        return down ? p > q : p < q;
    const struct fw_point x = end_of(land, a, false);
    const struct fw_point y = end_of(land, b, false);
    double less = at ? fw_length(y.x_m - at->x_m, y.y_m - at->y_m) -
                           fw_length(x.x_m - at->x_m, x.y_m - at->y_m)
                     : y.x_m - x.x_m;
    if (!at && fabs(less) <= fw_moves__same_m)
        less = y.y_m - x.y_m;
    return less > fw_moves__same_m || (less >= -fw_moves__same_m && a < b);
}

/* In the order in which a person walks to them: that of their numbers would
 * mean nothing, and a plan's are not those of its layout. */
static void sort_lines(const struct fw_moves__moving *moving, size_t *lines,
                       size_t count, bool down, bool opened)
{
    const struct fw_land *land = moving->making->land;
    struct fw_point at;
    if (fw_moves__order_made(moving->making->start, moving->number, down, lines,
                             count))
        return;
    bool placed = place_before(moving, lines[0], opened, &at);
    for (size_t i = 0; i < count; i++) {
        size_t best = i;
        for (size_t k = i + 1; k < count; k++)
            if (comes_before(land, lines[k], lines[best], down,
                             placed ? &at : NULL))
                best = k;
        const size_t kept = lines[i];
        lines[i] = lines[best];
        lines[best] = kept;
        at = end_of(land, lines[i], down);
        placed = true;
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
        (struct fw_standing){line, up, {FW_NONE, FW_NONE}};
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
    sort_lines(moving, time->items + lines.first, lines.count, false, !before);
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
    sort_lines(moving, time->items + lines.first, lines.count, true, true);
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
