/* What is done in one move, in its order. The order is what keeps the flock
 * enclosed: what they go into is closed before anything is opened; the old line
 * comes down when the openings are closed, and is set beyond. */
#include "moves/inner.h"

#include "base/alloc.h"
#include "base/array.h"
#include "base/fail.h"

static struct fw_move *move_of(const struct fw_moves__moving *moving)
{
    return &moving->making->time->moves[moving->number];
}

/* ---- the way ---- */

static enum fw_status go_straight(size_t from, size_t door,
                                  struct fw_moves__way *way,
                                  struct fw_error *err)
{
    *way = (struct fw_moves__way){.first = from};
    way->doors = fw_alloc(1, sizeof *way->doors);
    if (!way->doors)
        return fw_fail_memory(err);
    way->doors[0] = door;
    way->door_count = 1;
    return FW_OK;
}

/* The door by which they go to the water from where they come to, when it has
 * to be opened for them. */
static size_t water_door(const struct fw_moves__moving *moving)
{
    const struct fw_moves__making *making = moving->making;
    const struct fw_habits *habits = making->habits;
    if (habits->trough || !habits->back_fence || moving->to == FW_NONE)
        return FW_NONE;
    const size_t count =
        fw_moves__way_to_water(making->land, moving->to, making->hops);
    return count > 0 ? making->hops[0].door : FW_NONE;
}

/* From paddock to paddock: where they adjoin, through the longest stretch that
 * they share, unless what is opened to the water will do. */
static enum fw_status find_way_within(struct fw_moves__moving *moving,
                                      const struct fw_moves__walk *walk,
                                      struct fw_error *err)
{
    const size_t door = moving->drift != FW_NONE
                            ? moving->drift
                            : fw_moves__shared_door(walk->land, moving->from,
                                                    moving->to, walk->way_m);
    moving->over_grazed = true;
    if (door != FW_NONE &&
        (moving->drift != FW_NONE || walk->water_door == FW_NONE))
        return go_straight(moving->from, door, &moving->out, err);
    const enum fw_status status =
        fw_moves__find_way(moving->making->search, walk, moving->left,
                           moving->from, moving->to, &moving->out, err);
    moving->over_grazed = !(moving->out.over_m > 0);
    return status;
}

static enum fw_status find_ways(struct fw_moves__moving *moving,
                                struct fw_error *err)
{
    const struct fw_moves__making *making = moving->making;
    const struct fw_land *land = making->land;
    const struct fw_moves__walk walk = {
        .land = land,
        .stands = making->stands,
        .grazed = making->grazed,
        .open_door = making->open_door,
        .way_m = making->habits->way_m,
        .water_door = water_door(moving),
    };
    if (moving->left == moving->entered)
        return find_way_within(moving, &walk, err);
    enum fw_status status = FW_OK;
    if (moving->left != FW_NONE && land->fields[moving->left].gate_given)
        status = fw_moves__find_way(making->search, &walk, moving->left,
                                    moving->from, FW_NONE, &moving->out, err);
    if (!status && moving->entered != FW_NONE &&
        land->fields[moving->entered].gate_given)
        status = fw_moves__find_way(making->search, &walk, moving->entered,
                                    FW_NONE, moving->to, &moving->in, err);
    return status;
}

static bool is_walked(const struct fw_moves__moving *moving)
{
    if (moving->left == moving->entered)
        return moving->out.door_count > 1;
    return moving->from != FW_NONE || moving->in.door_count > 0;
}

static enum fw_status walk_step(const struct fw_moves__moving *moving,
                                struct fw_error *err)
{
    struct fw_time *time = moving->making->time;
    const struct fw_moves__way *ways[] = {&moving->out, &moving->in};
    struct fw_list cells = fw_moves__list(time);
    enum fw_status status = FW_OK;
    for (int w = 0; w < 2; w++)
        for (size_t i = 0; !status && i < ways[w]->cell_count; i++)
            status = fw_moves__put(time, &cells, ways[w]->cells[i], err);
    if (!status)
        status = fw_moves__plain_step(moving, FW_STEP_WALK, err);
    if (status)
        return status;
    struct fw_step *step = &time->steps[time->step_count - 1];
    step->cells = cells;
    step->over_m = moving->out.over_m + moving->in.over_m;
    step->way_m = moving->out.way_m + moving->in.way_m;
    return FW_OK;
}

/* ---- counting ---- */

static bool has_young(const struct fw_habits *habits, int day)
{
    return habits->young_from != FW_NO_DAY && day >= habits->young_from &&
           day < habits->young_to;
}

/* With young lambs the late ones are waited for; those that drift are counted
 * at the next move. */
static enum fw_status count_step(struct fw_moves__moving *moving,
                                 struct fw_error *err)
{
    struct fw_move *move = move_of(moving);
    enum fw_status status = FW_OK;
    if (moving->drift != FW_NONE)
        return FW_OK;
    if (has_young(moving->making->habits, move->day) && moving->over_grazed) {
        status = fw_moves__bridge_all(moving, err);
        move->later = moving->making->time->step_count;
        if (!status)
            status = fw_moves__plain_step(moving, FW_STEP_LATER, err);
    }
    return status ? status : fw_moves__plain_step(moving, FW_STEP_COUNT, err);
}

/* ---- the move ---- */

/* So far as there are steps: more of this move may follow. */
static void catch_up(struct fw_moves__making *making)
{
    while (making->replay.step < making->time->step_count)
        fw_replay_step(&making->replay);
}

/* Where nothing is shut off, they keep what they come to, and what leads to its
 * water. */
static void take_ground(const struct fw_moves__moving *moving)
{
    struct fw_moves__making *making = moving->making;
    const struct fw_habits *habits = making->habits;
    if (moving->last)
        return;
    making->grazed[moving->to] = true;
    if (habits->back_fence || habits->trough)
        return;
    const size_t count =
        fw_moves__way_to_water(making->land, moving->to, making->hops);
    for (size_t i = 0; i < count; i++)
        making->grazed[making->hops[i].cell] = true;
}

/* Where they still are is grazed, also when it is to be grazed again in a round
 * that begins. */
static enum fw_status find_ways_out(struct fw_moves__moving *moving,
                                    struct fw_error *err)
{
    bool *grazed = moving->making->grazed;
    const size_t from =
        moving->left == moving->entered ? moving->from : FW_NONE;
    const bool again =
        from != FW_NONE && !grazed[from] &&
        fw_moves__comes_new(moving->making->land, moving->making->time,
                            moving->number);
    if (again)
        ;
    const enum fw_status status = find_ways(moving, err);
    if (again)
        grazed[from] = false;
    return status;
}

static enum fw_status let_in(struct fw_moves__moving *moving,
                             struct fw_error *err)
{
    struct fw_moves__making *making = moving->making;
    struct fw_move *move = move_of(moving);
    enum fw_status status = find_ways_out(moving, err);
    if (!status)
        status = fw_moves__plan_openings(moving, err);
    if (!status)
        status = fw_moves__open_all(moving, err);
    if (status)
        return status;
    if (making->to_open_count > 0)
        move->opening = making->to_open[making->to_open_count - 1];
    if (is_walked(moving))
        status = walk_step(moving, err);
    if (!status)
        status = count_step(moving, err);
    take_ground(moving);
    if (!status)
        status = fw_moves__close_all(moving, err);
    return status ? status : fw_moves__close_old(moving, err);
}

static enum fw_status clear_up(const struct fw_moves__moving *moving,
                               struct fw_error *err)
{
    enum fw_status status = FW_OK;
    if (moving->left != FW_NONE)
        status = fw_moves__take_down(moving, moving->left, err);
    if (!status && moving->entered != FW_NONE &&
        moving->entered != moving->left)
        status = fw_moves__take_down(moving, moving->entered, err);
    catch_up(moving->making);
    if (!status)
        status = fw_moves__open_water(moving, err);
    if (!status && !moving->last)
        status = fw_moves__set(moving, false, err);
    catch_up(moving->making);
    return status;
}

static enum fw_status do_move(struct fw_moves__moving *moving,
                              struct fw_error *err)
{
    struct fw_moves__making *making = moving->making;
    struct fw_move *move = move_of(moving);
    enum fw_status status = fw_moves__gather(moving, err);
    if (!status && !moving->last)
        status = fw_moves__set(moving, true, err);
    const size_t carry = making->time->step_count;
    move->carries = !moving->last && making->habits->trough;
    if (!status && move->carries)
        status = fw_moves__plain_step(moving, FW_STEP_CARRY, err);
    if (!status)
        status = let_in(moving, err);
    if (!status)
        status = clear_up(moving, err);
    /* Whether they need it is known when all stands. */
    if (!status && move->carries && fw_replay_has_water(&making->replay)) {
        move->carries = false;
        fw_moves__drop_step(making, carry);
    }
    return status;
}

static enum fw_status add_move(const struct fw_moves__moving *moving,
                               struct fw_error *err)
{
    const struct fw_moves__making *making = moving->making;
    struct fw_time *time = making->time;
    const size_t number = moving->number;
    const enum fw_status status =
        fw_array_reserve(&time->moves, &time->move_capacity,
                         time->move_count + 1, sizeof *time->moves, err);
    if (status)
        return status;
    time->moves[time->move_count++] = (struct fw_move){
        .day = moving->last ? time->stays[number - 1].leave
                            : time->stays[number].enter,
        .stay = moving->last ? FW_NONE : number,
        .field = moving->last ? moving->left : moving->entered,
        .steps = {time->step_count, 0},
        .later = FW_NONE,
        .opening = FW_NONE,
        .ahead = !making->habits->set_first && number + 1 < time->stay_count &&
                 !fw_moves__comes_new(making->land, time, number + 1),
    };
    return FW_OK;
}

enum fw_status fw_moves__move(struct fw_moves__making *making, size_t number,
                              struct fw_error *err)
{
    const struct fw_land *land = making->land;
    const struct fw_time *time = making->time;
    const bool last = number == time->stay_count;
    struct fw_moves__moving moving = {
        .making = making,
        .number = number,
        .last = last,
        .from = fw_moves__cell_back(time, number, 1),
        .to = last ? FW_NONE : time->stays[number].cell,
        .left = FW_NONE,
        .entered = FW_NONE,
        .drift = FW_NONE,
    };
    if (moving.from != FW_NONE)
        moving.left = land->cells[moving.from].field;
    if (!last) {
        moving.entered = land->cells[moving.to].field;
        moving.drift =
            fw_moves__drift_door(land, making->habits, time, number, 0);
        if (fw_moves__comes_new(land, time, number))
            fw_moves__regrow(land, time, number, making->grazed);
    }
    enum fw_status status = add_move(&moving, err);
    if (!status)
        status = do_move(&moving, err);
    fw_moves__way_release(&moving.out);
    fw_moves__way_release(&moving.in);
    return status;
}
