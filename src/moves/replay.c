/* What comes of the steps. The ground that the flock has is what it can walk
 * to from where it is, over doors whose line does not stand or is open there.
 * It is kept as long as nothing but doors into it has changed, and found anew
 * when a line was set or closed. */
#include "moves/inner.h"

#include "base/alloc.h"
#include "base/fail.h"

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
    replay->wet += replay->land->cells[cell].at_water;
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
    replay->wet = 0;
    replay->found++;
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

bool fw_replay_has_ground(struct fw_replay *replay, size_t cell)
{
    if (replay->stale)
        find_ground(replay);
    return replay->ground[cell];
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

/* Only what parts their ground changes it. */
static void lock(struct fw_replay *replay, size_t door)
{
    const struct fw_door *of = &replay->land->doors[door];
    if (replay->ground[of->a] && replay->ground[of->b])
        replay->stale = true;
}

static void set(struct fw_replay *replay, size_t line)
{
    const struct fw_land_line *of = &replay->land->lines[line];
    if (replay->stands[line])
        return;
    replay->stands[line] = true;
    replay->key ^= key_of(line);
    for (size_t d = of->first_door; d < of->first_door + of->door_count; d++)
        lock(replay, d);
}

/* ---- openings ---- */

static void open(struct fw_replay *replay, size_t opening)
{
    const size_t door = replay->door_of[opening];
    if (replay->open[opening])
        return;
    replay->open[opening] = true;
    replay->opened[replay->opened_count++] = opening;
    if (door == FW_NONE)
        return;
    replay->open_door[door]++;
    unlock(replay, door);
}

static void close(struct fw_replay *replay, size_t opening)
{
    const size_t door = replay->door_of[opening];
    size_t n = 0;
    for (size_t i = 0; i < replay->opened_count; i++)
        if (replay->opened[i] != opening)
            replay->opened[n++] = replay->opened[i];
    if (n == replay->opened_count)
        return;
    replay->opened_count = n;
    replay->open[opening] = false;
    if (door == FW_NONE)
        return;
    replay->open_door[door]--;
    lock(replay, door);
}

/* What is open in it is no opening any more. */
static void take_down(struct fw_replay *replay, size_t line)
{
    const struct fw_land_line *of = &replay->land->lines[line];
    size_t n = 0;
    if (!replay->stands[line] || of->role == FW_LAND_EDGE)
        return;
    replay->stands[line] = false;
    replay->key ^= key_of(line);
    for (size_t i = 0; i < replay->opened_count; i++) {
        const size_t opening = replay->opened[i];
        if (replay->time->openings[opening].line == line)
            replay->open[opening] = false;
        else
            replay->opened[n++] = opening;
    }
    replay->opened_count = n;
    for (size_t d = of->first_door; d < of->first_door + of->door_count; d++) {
        replay->open_door[d] = 0;
        unlock(replay, d);
    }
}

/* They are where the move leads to. What they come to anew has grown again. */
static void arrive(struct fw_replay *replay)
{
    const struct fw_move *move = &replay->time->moves[replay->move];
    const size_t stay = move->stay;
    const size_t cell =
        stay == FW_NONE ? FW_NONE : replay->time->stays[stay].cell;
    if (cell != FW_NONE) {
        if (fw_moves__comes_new(replay->land, replay->time, stay))
            fw_moves__regrow(replay->land, replay->time, stay, replay->grazed);
        replay->grazed[cell] = true;
    }
    if (cell == FW_NONE || !replay->ground[cell])
        replay->stale = true;
    replay->cell = cell;
    replay->field = cell == FW_NONE ? FW_NONE : replay->land->cells[cell].field;
}

static void apply(struct fw_replay *replay, const struct fw_step *step)
{
    const size_t *items = replay->time->items; /* NULL where no list has any */
    switch (step->kind) {
    case FW_STEP_SET:
        for (size_t i = 0; i < step->lines.count; i++)
            set(replay, items[step->lines.first + i]);
        break;
    case FW_STEP_TAKE_DOWN:
        for (size_t i = 0; i < step->lines.count; i++)
            take_down(replay, items[step->lines.first + i]);
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

static bool is_way(enum fw_step_kind kind)
{
    return kind == FW_STEP_OPEN || kind == FW_STEP_WALK ||
           kind == FW_STEP_LATER || kind == FW_STEP_COUNT;
}

/* The step after which they are where the move leads to. In one field it is the
 * last of those that are opened, walked, waited for or counted before anything
 * is closed; from field to field, and where nothing is opened, they are counted
 * there. */
static bool arrives(const struct fw_replay *replay, const struct fw_move *move)
{
    const struct fw_time *time = replay->time;
    const size_t end = move->steps.first + move->steps.count;
    size_t there = FW_NONE;
    const bool within = move->stay != FW_NONE && replay->cell != FW_NONE &&
                        replay->field == move->field;
    for (size_t i = move->steps.first; within && i < end; i++) {
        const bool begun = there != FW_NONE;
        const enum fw_step_kind kind = time->steps[i].kind;
        if (kind == FW_STEP_OPEN || (begun && is_way(kind)))
            there = i;
        else if (begun && !(kind == FW_STEP_BRIDGE && move->later != FW_NONE &&
                            i < move->later))
            break;
    }
    for (size_t i = end; there == FW_NONE && i-- > move->steps.first;)
        if (time->steps[i].kind == FW_STEP_COUNT)
            there = i;
    return replay->step == there;
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
    if (is_way(step->kind) && arrives(replay, &time->moves[replay->move]))
        arrive(replay);
    replay->step++;
    return step;
}

bool fw_replay_to_move(struct fw_replay *replay, size_t move)
{
    if (move >= replay->time->move_count)
        return false;
    const struct fw_list *steps = &replay->time->moves[move].steps;
    while (replay->step < steps->first + steps->count && fw_replay_step(replay))
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
        const bool set =
            standing->up.move == FW_NONE || standing->up.step < replay->step;
        if (set && replay->stands[standing->line] &&
            replay->land->lines[standing->line].field == field)
            return standing->line;
    }
    return FW_NONE;
}

bool fw_replay_has_water(struct fw_replay *replay)
{
    if (replay->stale)
        find_ground(replay);
    return replay->wet > 0;
}

static void begin_open(struct fw_replay *replay)
{
    for (size_t i = 0; i < replay->time->opening_count; i++) {
        const size_t door = replay->door_of[i];
        if (!replay->time->openings[i].open || door == FW_NONE)
            continue;
        replay->open[i] = true;
        replay->opened[replay->opened_count++] = i;
        replay->open_door[door]++;
    }
}

enum fw_status
fw_moves__replay_begin(const struct fw_land *land, const struct fw_time *time,
                       const struct fw_time_start *start, size_t opening_room,
                       struct fw_replay *out, struct fw_error *err)
{
    struct fw_replay replay = {
        .land = land,
        .time = time,
        .stands = fw_alloc(land->line_count, sizeof *replay.stands),
        .open = fw_alloc(opening_room, sizeof *replay.open),
        .opened = fw_alloc(opening_room, sizeof *replay.opened),
        .open_door = fw_alloc(land->door_count, sizeof *replay.open_door),
        .door_of = fw_alloc(opening_room, sizeof *replay.door_of),
        .grazed = fw_alloc(land->cell_count, sizeof *replay.grazed),
        .ground = fw_alloc(land->cell_count, sizeof *replay.ground),
        .list = fw_alloc(land->cell_count, sizeof *replay.list),
        .field = FW_NONE,
        .cell = FW_NONE,
    };
    if (!replay.stands || !replay.open || !replay.opened || !replay.open_door ||
        !replay.door_of || !replay.grazed || !replay.ground || !replay.list) {
        fw_replay_end(&replay);
        return fw_fail_memory(err);
    }
    for (size_t i = 0; i < opening_room; i++)
        replay.door_of[i] = i < time->opening_count
                                ? fw_moves__door_at(land, &time->openings[i])
                                : FW_NONE;
    for (size_t l = 0; l < land->line_count; l++)
        replay.stands[l] =
            land->lines[l].role == FW_LAND_EDGE || fw_moves__stood(start, l);
    for (size_t c = 0; c < land->cell_count; c++)
        replay.grazed[c] = land->cells[c].kind == FW_CELL_GRAZED ||
                           fw_moves__was_grazed(start, c);
    begin_open(&replay);
    if (start && start->before_count > 0) {
        replay.cell = start->before[start->before_count - 1].cell;
        replay.field = land->cells[replay.cell].field;
        replay.grazed[replay.cell] = true;
        replay.stale = true;
    }
    *out = replay;
    return FW_OK;
}

enum fw_status fw_replay_begin(const struct fw_land *land,
                               const struct fw_time *time,
                               const struct fw_time_start *start,
                               struct fw_replay *out, struct fw_error *err)
{
    return fw_moves__replay_begin(land, time, start, time->opening_count, out,
                                  err);
}

void fw_replay_end(struct fw_replay *replay)
{
    fw_free(replay->stands);
    fw_free(replay->open);
    fw_free(replay->opened);
    fw_free(replay->open_door);
    fw_free(replay->door_of);
    fw_free(replay->grazed);
    fw_free(replay->ground);
    fw_free(replay->list);
    *replay = (struct fw_replay){0};
}
