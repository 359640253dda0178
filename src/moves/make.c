/* What is done at each move, in its order. The order is what keeps the flock
 * enclosed: what they go into is closed before anything is opened; openings are
 * made from where they go to back to where they are, and closed the same way;
 * the old line comes down when that is done, and is set beyond. */
#include "moves/inner.h"

#include "base/alloc.h"
#include "base/array.h"
#include "base/fail.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* ---- the move at hand ---- */

struct moving {
    struct fw_moves__making *making;
    size_t number;         /* of the move, and of the stay that it leads into */
    bool last;             /* out of the last field */
    size_t from, to;       /* cells; FW_NONE: outside */
    size_t left, entered;  /* fields; FW_NONE: none */
    struct fw_moves__way out, in; /* to the gate, or all of it; and from it */
    bool over_grazed;      /* in the same field, over no ungrazed ground */
};

static struct fw_move *move_of(const struct moving *moving)
{
    return &moving->making->time->moves[moving->number];
}

/* Is the cell the flock's when the move is over? */
static bool is_theirs(const struct moving *moving, size_t cell)
{
    const struct fw_moves__making *making = moving->making;
    const struct fw_land *land = making->land;
    if (moving->last)
        return false;
    if (cell == moving->to)
        return true;
    if (land->cells[cell].field != moving->entered)
        return false;
    if (cell == moving->from &&
        fw_moves__drifts(making->habits, making->time, moving->number))
        return true;
    if (!making->habits->back_fence)
        return making->grazed[cell];
    if (making->habits->trough || land->cells[cell].kind == FW_CELL_PADDOCK ||
        land->cells[moving->to].at_water)
        return false;
    const size_t count = fw_moves__way_to_water(
        land, moving->to, making->habits->way_m, making->room);
    for (size_t i = 0; i < count; i++)
        if (making->room[i] == cell)
            return true;
    return false;
}

/* ---- lines ---- */

/* Spans of this move, those that hold others first, or last. */
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

static struct fw_standing *standing_of(struct fw_time *time, size_t line)
{
    for (size_t i = time->standing_count; i-- > 0;)
        if (time->standings[i].line == line)
            return &time->standings[i];
    return NULL;
}

static enum fw_status stand(struct fw_time *time, size_t line,
                            struct fw_time_when up, struct fw_error *err)
{
    const enum fw_status status = fw_array_reserve(
        &time->standings, &time->standing_capacity, time->standing_count + 1,
        sizeof *time->standings, err);
    if (!status)
        time->standings[time->standing_count++] =
            (struct fw_standing){line, up, {FW_NONE, 0}};
    return status;
}

/* The same lines again, for another step. */
static enum fw_status repeat(const struct moving *moving,
                             enum fw_step_kind kind, struct fw_list lines,
                             struct fw_error *err)
{
    struct fw_step *step;
    const enum fw_status status =
        fw_moves__add_step(moving->making->time, kind, moving->entered, &step,
                           err);
    if (!status)
        step->lines = lines;
    return status;
}

/* Those that must stand before the flock comes, or the others. */
static enum fw_status set_lines(const struct moving *moving, bool before,
                                struct fw_error *err)
{
    struct fw_moves__making *making = moving->making;
    struct fw_time *time = making->time;
    struct fw_step *step = NULL;
    struct fw_list lines = fw_moves__list(time);
    enum fw_status status = FW_OK;
    for (size_t i = making->up_first[moving->number];
         !status && i < making->up_first[moving->number + 1]; i++) {
        const struct fw_moves__span *span =
            &making->spans.items[making->up[i]];
        if ((span->need == moving->number) == before)
            status = fw_moves__put(time, &lines, span->line, err);
    }
    if (status || lines.count == 0)
        return status;
    sort_lines(making->land, time->items + lines.first, lines.count, false);
    status = fw_moves__add_step(time, FW_STEP_SET, moving->entered, &step, err);
    if (status)
        return status;
    step->lines = lines;
    const struct fw_time_when up = {moving->number, time->step_count - 1};
    for (size_t i = 0; !status && i < lines.count; i++) {
        const size_t line = time->items[lines.first + i];
        making->stands[line] = true;
        status = stand(time, line, up, err);
    }
    if (!status)
        status = repeat(moving, FW_STEP_HOOK, lines, err);
    return status ? status : repeat(moving, FW_STEP_READ, lines, err);
}

static bool comes_down(const struct moving *moving, size_t line)
{
    const struct fw_moves__making *making = moving->making;
    for (size_t i = making->down_first[moving->number];
         i < making->down_first[moving->number + 1]; i++)
        if (making->spans.items[making->down[i]].line == line)
            return true;
    return false;
}

/* Of one field. What was left open in a line goes with it. */
static enum fw_status take_down(const struct moving *moving, size_t field,
                                struct fw_error *err)
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
        struct fw_standing *standing = standing_of(time, line);
        making->stands[line] = false;
        if (standing)
            standing->down =
                (struct fw_time_when){moving->number, time->step_count - 1};
        size_t n = 0;
        for (size_t k = 0; k < making->left_open_count; k++) {
            const struct fw_opening *opening =
                &time->openings[making->left_open[k]];
            if (opening->line == line)
                making->open_door[opening->door] = false;
            else
                making->left_open[n++] = making->left_open[k];
        }
        making->left_open_count = n;
    }
    return FW_OK;
}

/* ---- openings ---- */

/* Lines beside the flock that are dead while this one is. */
static enum fw_status list_dead(const struct moving *moving, size_t line,
                                struct fw_list *dead, struct fw_error *err)
{
    struct fw_moves__making *making = moving->making;
    const struct fw_land *land = making->land;
    const size_t beside[2] = {moving->from, moving->to};
    *dead = fw_moves__list(making->time);
    enum fw_status status = FW_OK;
    for (int e = 0; !status && e < 2; e++) {
        if (beside[e] == FW_NONE)
            continue;
        const struct fw_cell *cell = &land->cells[beside[e]];
        for (size_t i = 0; !status && i < cell->door_count; i++) {
            const size_t other =
                land->doors[land->doors_of[cell->first_door + i]].line;
            bool known = other == line || !making->stands[other];
            for (size_t k = 0; !known && k < dead->count; k++)
                known = making->time->items[dead->first + k] == other;
            if (!known && fw_moves__hangs_on(land, other, line,
                                             making->habits->far_hooked))
                status = fw_moves__put(making->time, dead, other, err);
        }
    }
    return status;
}

static enum fw_status open_step(const struct moving *moving, size_t opening,
                                struct fw_error *err)
{
    struct fw_time *time = moving->making->time;
    struct fw_list dead = fw_moves__list(time);
    const size_t line = time->openings[opening].line;
    struct fw_step *step;
    enum fw_status status =
        line == FW_NONE ? FW_OK : list_dead(moving, line, &dead, err);
    if (!status)
        status = fw_moves__add_step(time, FW_STEP_OPEN,
                                    time->openings[opening].field, &step, err);
    if (status)
        return status;
    step->opening = opening;
    step->dead = dead;
    return FW_OK;
}

static enum fw_status close_step(const struct moving *moving, size_t opening,
                                 enum fw_step_kind kind, struct fw_error *err)
{
    struct fw_time *time = moving->making->time;
    struct fw_step *step;
    const enum fw_status status = fw_moves__add_step(
        time, kind, time->openings[opening].field, &step, err);
    if (!status)
        step->opening = opening;
    return status;
}

static void plan_gate(const struct moving *moving, size_t field)
{
    struct fw_moves__making *making = moving->making;
    if (making->gate_of[field] != FW_NONE)
        making->to_open[making->to_open_count++] = making->gate_of[field];
}

/* The doors of a way that are shut. */
static enum fw_status plan_doors(const struct moving *moving,
                                 const struct fw_moves__way *way, size_t from,
                                 size_t to, struct fw_error *err)
{
    struct fw_moves__making *making = moving->making;
    const struct fw_land *land = making->land;
    enum fw_status status = FW_OK;
    size_t cell = from;
    for (size_t i = 0; !status && i < way->door_count; i++) {
        const size_t door = way->doors[i];
        if (cell == FW_NONE) /* which side they come from does not matter */
            cell = i + 1 == way->door_count && to != FW_NONE
                       ? fw_land_beyond(land, door, to)
                       : land->doors[door].a;
        const size_t beyond = fw_land_beyond(land, door, cell);
        size_t opening;
        if (making->stands[land->doors[door].line] &&
            !making->open_door[door]) {
            status = fw_moves__opening(making, door, cell, beyond, &opening,
                                       err);
            if (!status)
                making->to_open[making->to_open_count++] = opening;
        }
        cell = beyond;
    }
    return status;
}

/* ---- the way ---- */

static double door_m(const struct fw_land *land, size_t door)
{
    return land->doors[door].to_m - land->doors[door].from_m;
}

/* From paddock to paddock: where they adjoin, through the longest stretch that
 * they share. */
static size_t shared_door(const struct fw_land *land, size_t from, size_t to)
{
    const struct fw_cell *cell = &land->cells[from];
    size_t best = FW_NONE;
    for (size_t i = 0; i < cell->door_count; i++) {
        const size_t door = land->doors_of[cell->first_door + i];
        if (fw_land_beyond(land, door, from) == to &&
            (best == FW_NONE ||
             door_m(land, door) > door_m(land, best) + 1e-6))
            best = door;
    }
    return best;
}

static enum fw_status go_straight(size_t door, struct fw_moves__way *way,
                                  struct fw_error *err)
{
    way->doors = fw_alloc(1, sizeof *way->doors);
    if (!way->doors)
        return fw_fail_memory(err);
    way->doors[0] = door;
    way->door_count = 1;
    way->found = true;
    return FW_OK;
}

static enum fw_status find_ways(struct moving *moving, struct fw_error *err)
{
    struct fw_moves__making *making = moving->making;
    const struct fw_land *land = making->land;
    const struct fw_moves__walk walk = {
        .land = land,
        .stands = making->stands,
        .grazed = making->grazed,
        .open_door = making->open_door,
        .way_m = making->habits->way_m,
    };
    if (moving->left == moving->entered && moving->left != FW_NONE) {
        const size_t door = shared_door(land, moving->from, moving->to);
        moving->over_grazed = true;
        if (door != FW_NONE &&
            door_m(land, door) >= making->habits->way_m - 1e-6)
            return go_straight(door, &moving->out, err);
        const enum fw_status status = fw_moves__find_way(
            &walk, moving->left, moving->from, moving->to, &moving->out, err);
        moving->over_grazed = moving->out.over_m <= 0;
        return status;
    }
    enum fw_status status = FW_OK;
    if (moving->left != FW_NONE && land->fields[moving->left].gate_given)
        status = fw_moves__find_way(&walk, moving->left, moving->from, FW_NONE,
                                    &moving->out, err);
    if (!status && moving->entered != FW_NONE &&
        land->fields[moving->entered].gate_given)
        status = fw_moves__find_way(&walk, moving->entered, FW_NONE, moving->to,
                                    &moving->in, err);
    return status;
}

static enum fw_status plan_openings(struct moving *moving,
                                    struct fw_error *err)
{
    const bool through_gates = moving->left != moving->entered;
    moving->making->to_open_count = 0;
    enum fw_status status =
        plan_doors(moving, &moving->out, moving->from,
                   through_gates ? FW_NONE : moving->to, err);
    if (through_gates && moving->left != FW_NONE)
        plan_gate(moving, moving->left);
    if (through_gates && moving->entered != FW_NONE)
        plan_gate(moving, moving->entered);
    return status ? status
                  : plan_doors(moving, &moving->in, FW_NONE, moving->to, err);
}

static bool is_walked(const struct moving *moving)
{
    const bool first_day = moving->from == FW_NONE;
    const size_t doors = moving->out.door_count + moving->in.door_count;
    if (moving->left == moving->entered)
        return moving->out.door_count > 1;
    return !first_day || doors > 0 || moving->in.cell_count > 0;
}

static enum fw_status walk_step(const struct moving *moving,
                                struct fw_error *err)
{
    struct fw_time *time = moving->making->time;
    struct fw_list cells = fw_moves__list(time);
    struct fw_step *step;
    enum fw_status status = FW_OK;
    for (size_t i = 0; !status && i < moving->out.cell_count; i++)
        status = fw_moves__put(time, &cells, moving->out.cells[i], err);
    for (size_t i = 0; !status && i < moving->in.cell_count; i++)
        status = fw_moves__put(time, &cells, moving->in.cells[i], err);
    if (!status)
        status = fw_moves__add_step(
            time, FW_STEP_WALK,
            moving->entered != FW_NONE ? moving->entered : moving->left, &step,
            err);
    if (status)
        return status;
    step->cells = cells;
    step->over_m = moving->out.over_m + moving->in.over_m;
    step->way_m = moving->out.way_m + moving->in.way_m;
    return FW_OK;
}

/* ---- closing ---- */

/* Left open are those between two cells that they both have now, with a lead
 * across the gap. */
static enum fw_status close_one(const struct moving *moving, size_t opening,
                                struct fw_error *err)
{
    struct fw_moves__making *making = moving->making;
    const struct fw_opening *of = &making->time->openings[opening];
    if (of->line != FW_NONE && comes_down(moving, of->line))
        return FW_OK;
    const struct fw_door *door =
        of->line == FW_NONE ? NULL : &making->land->doors[of->door];
    const bool keep =
        door && is_theirs(moving, door->a) && is_theirs(moving, door->b) &&
        (!making->habits->trough ||
         fw_moves__drifts(making->habits, making->time, moving->number));
    if (!keep)
        return close_step(moving, opening, FW_STEP_CLOSE, err);
    making->open_door[of->door] = true;
    making->left_open[making->left_open_count++] = opening;
    return close_step(moving, opening, FW_STEP_BRIDGE, err);
}

static enum fw_status close_all(const struct moving *moving,
                                struct fw_error *err)
{
    struct fw_moves__making *making = moving->making;
    enum fw_status status = FW_OK;
    for (size_t i = making->to_open_count; !status && i-- > 0;)
        status = close_one(moving, making->to_open[i], err);
    return status;
}

/* What was left open before and is between their ground and other ground now.
 */
static enum fw_status close_old(const struct moving *moving,
                                struct fw_error *err)
{
    struct fw_moves__making *making = moving->making;
    size_t n = 0;
    enum fw_status status = FW_OK;
    for (size_t i = 0; !status && i < making->left_open_count; i++) {
        const size_t opening = making->left_open[i];
        const struct fw_opening *of = &making->time->openings[opening];
        const struct fw_door *door = &making->land->doors[of->door];
        if ((is_theirs(moving, door->a) && is_theirs(moving, door->b)) ||
            comes_down(moving, of->line)) {
            making->left_open[n++] = opening;
            continue;
        }
        making->open_door[of->door] = false;
        status = close_step(moving, opening, FW_STEP_CLOSE, err);
    }
    if (!status)
        making->left_open_count = n;
    return status;
}

static enum fw_status plain_step(const struct moving *moving,
                                 enum fw_step_kind kind, struct fw_error *err)
{
    struct fw_step *step;
    return fw_moves__add_step(
        moving->making->time, kind,
        moving->entered != FW_NONE ? moving->entered : moving->left, &step,
        err);
}

/* They were let drift into the paddock where they are: all of them are in it
 * before the next is opened. */
static enum fw_status gather(const struct moving *moving, struct fw_error *err)
{
    struct fw_moves__making *making = moving->making;
    if (moving->left == FW_NONE || making->left_open_count == 0 ||
        !fw_moves__drifted_before(making->habits, making->time, making->start,
                                  moving->number))
        return FW_OK;
    enum fw_status status = plain_step(moving, FW_STEP_LATER, err);
    if (!status)
        status = plain_step(moving, FW_STEP_COUNT, err);
    for (size_t i = 0; !status && i < making->left_open_count; i++) {
        const size_t opening = making->left_open[i];
        making->open_door[making->time->openings[opening].door] = false;
        status = close_step(moving, opening, FW_STEP_CLOSE, err);
    }
    making->left_open_count = 0;
    return status;
}

/* ---- one move ---- */

static bool has_young(const struct fw_habits *habits, int day)
{
    return habits->young_from != FW_NO_DAY && day >= habits->young_from &&
           day < habits->young_to;
}

/* With young lambs the late ones are waited for. */
static enum fw_status count_step(const struct moving *moving,
                                 struct fw_error *err)
{
    struct fw_move *move = move_of(moving);
    enum fw_status status = FW_OK;
    if (moving->left == moving->entered &&
        fw_moves__drifts(moving->making->habits, moving->making->time,
                         moving->number))
        return FW_OK; /* at the next move */
    if (has_young(moving->making->habits, move->day) && moving->over_grazed) {
        move->later = moving->making->time->step_count;
        status = plain_step(moving, FW_STEP_LATER, err);
    }
    return status ? status : plain_step(moving, FW_STEP_COUNT, err);
}

/* Is the water of their ground its own? Without a back fence it is all that
 * was grazed. */
static bool is_wet(const struct fw_moves__making *making, size_t stay)
{
    const struct fw_land *land = making->land;
    const struct fw_time *time = making->time;
    const size_t cell = time->stays[stay].cell;
    const size_t field = land->cells[cell].field;
    if (land->cells[cell].at_water)
        return true;
    for (size_t k = stay; !making->habits->back_fence && k-- > 0 &&
                          land->cells[time->stays[k].cell].field == field;)
        if (land->cells[time->stays[k].cell].at_water)
            return true;
    for (size_t k = 0;
         !making->habits->back_fence && k < fw_land_cell_count(land, field);
         k++) {
        const size_t before = fw_land_cell(land, field, k);
        if (fw_moves__was_grazed(making->start, before) &&
            land->cells[before].at_water)
            return true;
    }
    for (size_t k = 0;
         !making->habits->back_fence && k < land->fields[field].common_count;
         k++) {
        const struct fw_cell *common =
            &land->cells[land->fields[field].first_common + k];
        if (common->kind == FW_CELL_GRAZED && common->at_water)
            return true;
    }
    return false;
}

static enum fw_status do_move(struct moving *moving, struct fw_error *err)
{
    struct fw_moves__making *making = moving->making;
    struct fw_move *move = move_of(moving);
    enum fw_status status = gather(moving, err);
    if (!status && !moving->last)
        status = set_lines(moving, true, err);
    move->carries = !moving->last && making->habits->trough &&
                    !is_wet(making, moving->number);
    if (!status && move->carries)
        status = plain_step(moving, FW_STEP_CARRY, err);
    if (!status)
        status = find_ways(moving, err);
    if (!status)
        status = plan_openings(moving, err);
    for (size_t i = making->to_open_count; !status && i-- > 0;)
        status = open_step(moving, making->to_open[i], err);
    move->opening = making->to_open_count
                        ? making->to_open[making->to_open_count - 1]
                        : FW_NONE;
    if (!status && is_walked(moving))
        status = walk_step(moving, err);
    if (!status)
        status = count_step(moving, err);
    if (!moving->last)
        making->grazed[moving->to] = true;
    if (!status)
        status = close_all(moving, err);
    if (!status)
        status = close_old(moving, err);
    if (!status && moving->left != FW_NONE)
        status = take_down(moving, moving->left, err);
    if (!status && moving->entered != FW_NONE &&
        moving->entered != moving->left)
        status = take_down(moving, moving->entered, err);
    return !status && !moving->last ? set_lines(moving, false, err) : status;
}

static enum fw_status make_move(struct fw_moves__making *making, size_t number,
                                struct fw_error *err)
{
    struct fw_time *time = making->time;
    const bool last = number == time->stay_count;
    struct moving moving = {
        .making = making,
        .number = number,
        .last = last,
        .from = fw_moves__cell_before(time, making->start, number),
        .to = last ? FW_NONE : time->stays[number].cell,
        .left = FW_NONE,
        .entered = FW_NONE,
    };
    if (moving.from != FW_NONE)
        moving.left = making->land->cells[moving.from].field;
    if (!last)
        moving.entered = making->land->cells[moving.to].field;
    enum fw_status status =
        fw_array_reserve(&time->moves, &time->move_capacity,
                         time->move_count + 1, sizeof *time->moves, err);
    if (status)
        return status;
    time->moves[time->move_count++] = (struct fw_move){
        .day = last ? time->stays[number - 1].leave
                    : time->stays[number].enter,
        .stay = last ? FW_NONE : number,
        .field = last ? moving.left : moving.entered,
        .steps = {time->step_count, 0},
        .later = FW_NONE,
        .opening = FW_NONE,
        .ahead = !making->habits->set_first && number + 1 < time->stay_count &&
                 making->land->cells[time->stays[number + 1].cell].field ==
                     moving.entered,
    };
    status = do_move(&moving, err);
    fw_moves__way_release(&moving.out);
    fw_moves__way_release(&moving.in);
    return status;
}

/* ---- all moves ---- */

static enum fw_status check(const struct fw_land *land,
                            const struct fw_time_stay *stays, size_t count,
                            const struct fw_time_start *start,
                            struct fw_error *err)
{
    char day[FW_DATE_TEXT], other[FW_DATE_TEXT];
    if (count == 0)
        return fw_fail(err, FW_EINPUT, "no stays; expected at least one");
    if (start && start->within && start->cell >= land->cell_count)
        return fw_fail(err, FW_EINPUT,
                       "the flock is in cell %zu of %zu before the first move; "
                       "expected one that there is",
                       start->cell, land->cell_count);
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
    making->stands = fw_alloc(land->line_count, sizeof *making->stands);
    making->grazed = fw_alloc(land->cell_count, sizeof *making->grazed);
    making->open_door = fw_alloc(land->door_count, sizeof *making->open_door);
    making->opening_of = fw_alloc(land->door_count, sizeof *making->opening_of);
    making->gate_of = fw_alloc(land->field_count, sizeof *making->gate_of);
    making->left_open = fw_alloc(land->door_count, sizeof *making->left_open);
    making->to_open =
        fw_alloc(land->door_count + 2, sizeof *making->to_open);
    making->room = fw_alloc(land->cell_count, sizeof *making->room);
    if (!making->stands || !making->grazed || !making->open_door ||
        !making->opening_of || !making->gate_of || !making->left_open ||
        !making->to_open || !making->room)
        return fw_fail_memory(err);
    for (size_t d = 0; d < land->door_count; d++)
        making->opening_of[d] = FW_NONE;
    return FW_OK;
}

static enum fw_status begin(struct fw_moves__making *making,
                            const struct fw_time_start *start, struct fw_error *err)
{
    const struct fw_land *land = making->land;
    const size_t moves = making->time->stay_count + 1;
    making->start = start;
    enum fw_status status = fw_moves__find_spans(
        land, making->time, making->habits, start, &making->spans, err);
    if (!status)
        status = make_room(making, err);
    if (!status)
        status = sort_spans(&making->spans, moves, true, &making->up,
                            &making->up_first, err);
    if (!status)
        status = sort_spans(&making->spans, moves, false, &making->down,
                            &making->down_first, err);
    if (!status)
        status = fw_moves__find_open(making, err);
    if (status)
        return status;
    fw_moves__feed(making->land);
    for (size_t c = 0; c < land->cell_count; c++)
        making->grazed[c] = land->cells[c].kind == FW_CELL_GRAZED ||
                            fw_moves__was_grazed(start, c);
    for (size_t l = 0; !status && l < land->line_count; l++) {
        making->stands[l] = land->lines[l].role == FW_LAND_EDGE;
        if (land->lines[l].role != FW_LAND_EDGE && fw_moves__stood(start, l)) {
            making->stands[l] = true;
            status = stand(making->time, l, (struct fw_time_when){FW_NONE, 0}, err);
        }
    }
    if (!status)
        status = fw_moves__gates(making, err);
    return status ? status : fw_moves__take_open(making, err);
}

static void end(struct fw_moves__making *making)
{
    fw_free(making->spans.items);
    fw_free(making->up);
    fw_free(making->up_first);
    fw_free(making->down);
    fw_free(making->down_first);
    fw_free(making->stands);
    fw_free(making->grazed);
    fw_free(making->open_door);
    fw_free(making->opening_of);
    fw_free(making->gate_of);
    fw_free(making->left_open);
    fw_free(making->to_open);
    fw_free(making->room);
    fw_free(making->before);
}

enum fw_status fw_time_make(struct fw_land *land,
                            const struct fw_time_stay *stays, size_t count,
                            const struct fw_habits *habits,
                            const struct fw_time_start *start, struct fw_time *out,
                            struct fw_error *err)
{
    struct fw_time time = {0};
    struct fw_moves__making making = {
        .land = land, .habits = habits, .time = &time};
    enum fw_status status = check(land, stays, count, start, err);
    if (!status)
        status = fw_array_reserve(&time.stays, &time.stay_capacity, count,
                                  sizeof *time.stays, err);
    if (!status) {
        memcpy(time.stays, stays, count * sizeof *stays);
        time.stay_count = count;
        status = begin(&making, start, err);
    }
    for (size_t m = 0; !status && m <= count; m++)
        status = make_move(&making, m, err);
    end(&making);
    if (status)
        fw_time_release(&time);
    else
        *out = time;
    return status;
}
