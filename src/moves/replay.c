/* What comes of the steps. The ground that the flock has is what it can walk
 * to from where it is, over doors whose line does not stand or is open there.
 * It is kept as long as nothing but doors into it has changed, and found anew
 * when a line was set or closed. */
#include "moves/inner.h"

#include "base/alloc.h"
#include "base/fail.h"

#include <string.h>

/* Numbers so far from each other that sets of lines do not come out alike. */
static unsigned long key_of(size_t line)
{
    unsigned long x = (unsigned long)line + 0x9e3779b97f4a7c15UL;
    x = (x ^ (x >> 30)) * 0xbf58476d1ce4e5b9UL;
    x = (x ^ (x >> 27)) * 0x94d049bb133111ebUL;
    return x ^ (x >> 31);
}

static bool is_passable(const struct fw_replay *replay, size_t door)
{
    const struct fw_door *of = &replay->land->doors[door];
    return !replay->stands[of->line] || replay->open_door[door] > 0;
}

static void reach(struct fw_replay *replay, size_t cell)
{
    if (replay->ground[cell])
        return;
    replay->ground[cell] = true;
    replay->list[replay->list_count++] = cell;
}

/* On from the cells of the list that were not looked at yet. */
static void spread(struct fw_replay *replay, size_t from)
{
    const struct fw_land *land = replay->land;
    for (size_t i = from; i < replay->list_count; i++) {
        const struct fw_cell *cell = &land->cells[replay->list[i]];
        for (size_t k = 0; k < cell->door_count; k++) {
            const size_t door = land->doors_of[cell->first_door + k];
            if (is_passable(replay, door))
                reach(replay, fw_land_beyond(land, door, replay->list[i]));
        }
    }
}

static void find_ground(struct fw_replay *replay)
{
    while (replay->list_count > 0)
        replay->ground[replay->list[--replay->list_count]] = false;
    replay->stale = false;
    if (replay->cell == FW_NONE)
        return;
    reach(replay, replay->cell);
    spread(replay, 0);
}

const size_t *fw_replay_ground(struct fw_replay *replay, size_t *count)
{
    if (replay->stale)
        find_ground(replay);
    *count = replay->list_count;
    return replay->list;
}

/* A door that was shut is not: what lies behind it is added. */
static void unlock(struct fw_replay *replay, size_t door)
{
    const struct fw_door *of = &replay->land->doors[door];
    if (replay->stale || replay->ground[of->a] == replay->ground[of->b])
        return;
    const size_t from = replay->list_count;
    reach(replay, replay->ground[of->a] ? of->b : of->a);
    spread(replay, from);
}

/* Only what parts their ground, or bounds it, changes it. */
static void lock_line(struct fw_replay *replay, size_t line)
{
    const struct fw_land_line *of = &replay->land->lines[line];
    for (size_t d = of->first_door; d < of->first_door + of->door_count; d++)
        if (replay->ground[replay->land->doors[d].a] &&
            replay->ground[replay->land->doors[d].b])
            replay->stale = true;
}

static void set(struct fw_replay *replay, size_t line)
{
    replay->stands[line] = true;
    replay->key ^= key_of(line);
    lock_line(replay, line);
}

static void take_down(struct fw_replay *replay, size_t line)
{
    const struct fw_land_line *of = &replay->land->lines[line];
    replay->stands[line] = false;
    replay->key ^= key_of(line);
    for (size_t d = of->first_door; d < of->first_door + of->door_count; d++) {
        replay->open_door[d] = 0;
        unlock(replay, d);
    }
}

static void open(struct fw_replay *replay, size_t opening)
{
    replay->open[opening] = true;
    const size_t door = replay->door_of[opening];
    if (door == FW_NONE)
        return;
    replay->open_door[door]++;
    unlock(replay, door);
}

static void close(struct fw_replay *replay, size_t opening)
{
    const struct fw_opening *of = &replay->time->openings[opening];
    replay->open[opening] = false;
    const size_t door = replay->door_of[opening];
    if (door == FW_NONE)
        return;
    if (replay->open_door[door] > 0)
        replay->open_door[door]--;
    lock_line(replay, of->line);
}

/* They are where the move leads to when they are counted there. */
static void arrive(struct fw_replay *replay)
{
    const struct fw_move *move = &replay->time->moves[replay->move];
    replay->cell = move->stay == FW_NONE
                       ? FW_NONE
                       : replay->time->stays[move->stay].cell;
    replay->field = replay->cell == FW_NONE
                        ? FW_NONE
                        : replay->land->cells[replay->cell].field;
    if (replay->cell != FW_NONE)
        replay->grazed[replay->cell] = true;
    replay->stale = true;
}

static void apply(struct fw_replay *replay, const struct fw_step *step)
{
    const size_t *lines = replay->time->items + step->lines.first;
    switch (step->kind) {
    case FW_STEP_SET:
        for (size_t i = 0; i < step->lines.count; i++)
            set(replay, lines[i]);
        break;
    case FW_STEP_TAKE_DOWN:
        for (size_t i = 0; i < step->lines.count; i++)
            take_down(replay, lines[i]);
        break;
    case FW_STEP_OPEN:
        open(replay, step->opening);
        break;
    case FW_STEP_CLOSE:
        close(replay, step->opening);
        break;
    default:
        break;
    }
}

/* The step after which they are where the move leads to: the last of those
 * that are walked, waited for or counted before anything is closed. */
static bool arrives(const struct fw_time *time, const struct fw_move *move,
                    size_t index)
{
    size_t opened = FW_NONE, there = FW_NONE;
    for (size_t i = move->steps.first;
         i < move->steps.first + move->steps.count; i++) {
        const enum fw_step_kind kind = time->steps[i].kind;
        if (kind == FW_STEP_OPEN)
            opened = there = i;
        else if (opened != FW_NONE &&
                 (kind == FW_STEP_WALK || kind == FW_STEP_LATER ||
                  kind == FW_STEP_COUNT))
            there = i;
        else if (opened != FW_NONE)
            break;
    }
    if (there == FW_NONE) /* nothing is opened: they are let in, and counted */
        for (size_t i = move->steps.first;
             i < move->steps.first + move->steps.count; i++)
            if (time->steps[i].kind == FW_STEP_COUNT)
                there = i;
    return index == there;
}

const struct fw_step *fw_replay_step(struct fw_replay *replay)
{
    const struct fw_time *time = replay->time;
    while (replay->move < time->move_count) {
        const struct fw_move *move = &time->moves[replay->move];
        if (replay->step < move->steps.first)
            replay->step = move->steps.first;
        if (replay->step < move->steps.first + move->steps.count)
            break;
        replay->move++;
    }
    if (replay->move >= time->move_count)
        return NULL;
    const struct fw_step *step = &time->steps[replay->step];
    apply(replay, step);
    if (arrives(time, &time->moves[replay->move], replay->step))
        arrive(replay);
    replay->step++;
    return step;
}

bool fw_replay_to_move(struct fw_replay *replay, size_t move)
{
    if (move >= replay->time->move_count)
        return false;
    const struct fw_list *steps = &replay->time->moves[move].steps;
    while (replay->step < steps->first + steps->count &&
           fw_replay_step(replay))
        ;
    return true;
}

unsigned long fw_replay_key(const struct fw_replay *replay)
{
    return replay->key;
}

size_t fw_replay_newest(const struct fw_replay *replay, size_t field)
{
    const struct fw_time *time = replay->time;
    for (size_t i = time->standing_count; i-- > 0;) {
        const struct fw_standing *standing = &time->standings[i];
        const bool set = standing->up.move == FW_NONE ||
                         standing->up.step < replay->step;
        if (set && replay->stands[standing->line] &&
            replay->land->lines[standing->line].field == field)
            return standing->line;
    }
    return FW_NONE;
}

bool fw_replay_has_water(struct fw_replay *replay)
{
    size_t count;
    const size_t *cells = fw_replay_ground(replay, &count);
    for (size_t i = 0; i < count; i++)
        if (replay->land->cells[cells[i]].at_water)
            return true;
    return false;
}

/* A plan that was read tells where along its line an opening is, no more. */
static size_t door_at(const struct fw_land *land,
                      const struct fw_opening *opening)
{
    const double slack_m = 1e-6;
    if (opening->line == FW_NONE)
        return FW_NONE;
    const struct fw_land_line *line = &land->lines[opening->line];
    for (size_t d = line->first_door; d < line->first_door + line->door_count;
         d++)
        if (opening->at_m >= land->doors[d].from_m - slack_m &&
            opening->at_m <= land->doors[d].to_m + slack_m)
            return d;
    return FW_NONE;
}

enum fw_status fw_replay_begin(const struct fw_land *land,
                               const struct fw_time *time,
                               const struct fw_time_start *start,
                               struct fw_replay *out, struct fw_error *err)
{
    struct fw_replay replay = {
        .land = land,
        .time = time,
        .stands = fw_alloc(land->line_count, sizeof *replay.stands),
        .open = fw_alloc(time->opening_count, sizeof *replay.open),
        .open_door = fw_alloc(land->door_count, sizeof *replay.open_door),
        .door_of = fw_alloc(time->opening_count, sizeof *replay.door_of),
        .grazed = fw_alloc(land->cell_count, sizeof *replay.grazed),
        .ground = fw_alloc(land->cell_count, sizeof *replay.ground),
        .list = fw_alloc(land->cell_count, sizeof *replay.list),
        .field = FW_NONE,
        .cell = FW_NONE,
    };
    if (!replay.stands || !replay.open || !replay.open_door ||
        !replay.door_of || !replay.grazed || !replay.ground || !replay.list) {
        fw_replay_end(&replay);
        return fw_fail_memory(err);
    }
    for (size_t i = 0; i < time->opening_count; i++) {
        replay.door_of[i] = door_at(land, &time->openings[i]);
        replay.open[i] = time->openings[i].open;
        if (replay.open[i] && replay.door_of[i] != FW_NONE)
            replay.open_door[replay.door_of[i]]++;
    }
    for (size_t l = 0; l < land->line_count; l++)
        replay.stands[l] = land->lines[l].role == FW_LAND_EDGE ||
                           fw_moves__stood(start, l);
    for (size_t c = 0; c < land->cell_count; c++)
        replay.grazed[c] = land->cells[c].kind == FW_CELL_GRAZED ||
                           fw_moves__was_grazed(start, c);
    if (start && start->within) {
        replay.cell = start->cell;
        replay.field = land->cells[start->cell].field;
        replay.grazed[start->cell] = true;
        replay.stale = true;
    }
    *out = replay;
    return FW_OK;
}

void fw_replay_end(struct fw_replay *replay)
{
    fw_free(replay->stands);
    fw_free(replay->open);
    fw_free(replay->open_door);
    fw_free(replay->door_of);
    fw_free(replay->grazed);
    fw_free(replay->ground);
    fw_free(replay->list);
    *replay = (struct fw_replay){0};
}
