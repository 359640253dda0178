/* What is opened in a move, what is closed, and what stays open. Openings are
 * made from where they go to back to where they are, and closed the same way.
 */
#include "moves/inner.h"

/* Is a cell the flock's when they are in another one, and some of them still in
 * the one that they come from? */
static bool has_cell(const struct fw_moves__making *making, size_t to,
                     size_t drift_from, size_t cell)
{
    const struct fw_land *land = making->land;
    const struct fw_habits *habits = making->habits;
    if (cell == to || cell == drift_from)
        return true;
    if (land->cells[cell].field != land->cells[to].field)
        return false;
    if (!habits->back_fence && making->grazed[cell])
        return true;
    if (habits->trough)
        return false;
    const size_t count = fw_moves__way_to_water(land, to, making->hops);
    for (size_t i = 0; i < count; i++)
        if (making->hops[i].cell == cell)
            return true;
    return false;
}

/* Are both sides of it? */
static bool has_both(const struct fw_moves__making *making, size_t to,
                     size_t drift_from, size_t opening)
{
    const struct fw_door *door =
        &making->land->doors[making->time->openings[opening].door];
    return has_cell(making, to, drift_from, door->a) &&
           has_cell(making, to, drift_from, door->b);
}

/* When the move at hand is over. */
static bool will_have_both(const struct fw_moves__moving *moving,
                           size_t opening)
{
    return !moving->last &&
           has_both(moving->making, moving->to,
                    moving->drift == FW_NONE ? FW_NONE : moving->from, opening);
}

/* ---- opening ---- */

/* Lines beside the flock that are dead while this one is. */
static enum fw_status list_dead(const struct fw_moves__moving *moving,
                                size_t line, struct fw_list *dead,
                                struct fw_error *err)
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

static enum fw_status open_one(const struct fw_moves__moving *moving,
                               size_t opening, struct fw_error *err)
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

static void plan_gate(const struct fw_moves__moving *moving, size_t field)
{
    struct fw_moves__making *making = moving->making;
    if (field != FW_NONE && making->gate_of[field] != FW_NONE)
        making->to_open[making->to_open_count++] = making->gate_of[field];
}

/* The doors of a way that are shut. */
static enum fw_status plan_doors(const struct fw_moves__moving *moving,
                                 const struct fw_moves__way *way,
                                 struct fw_error *err)
{
    struct fw_moves__making *making = moving->making;
    const struct fw_land *land = making->land;
    enum fw_status status = FW_OK;
    size_t cell = way->first;
    for (size_t i = 0; !status && i < way->door_count; i++) {
        const size_t door = way->doors[i];
        const size_t beyond = fw_land_beyond(land, door, cell);
        size_t opening;
        if (making->stands[land->doors[door].line] &&
            !making->open_door[door]) {
            status =
                fw_moves__opening(making, door, cell, beyond, &opening, err);
            if (!status)
                making->to_open[making->to_open_count++] = opening;
        }
        cell = beyond;
    }
    return status;
}

/* Between parts of one field there is no gate: that would let them out. */
static bool is_one_field(const struct fw_moves__moving *moving)
{
    const struct fw_land_field *fields = moving->making->land->fields;
    const size_t left = moving->left, entered = moving->entered;
    return left == entered ||
           (left != FW_NONE && entered != FW_NONE && fields[left].whole &&
            fields[left].whole == fields[entered].whole);
}

enum fw_status fw_moves__plan_openings(const struct fw_moves__moving *moving,
                                       struct fw_error *err)
{
    moving->making->to_open_count = 0;
    enum fw_status status = plan_doors(moving, &moving->out, err);
    if (!is_one_field(moving)) {
        plan_gate(moving, moving->left);
        plan_gate(moving, moving->entered);
    }
    return status ? status : plan_doors(moving, &moving->in, err);
}

enum fw_status fw_moves__open_all(const struct fw_moves__moving *moving,
                                  struct fw_error *err)
{
    const struct fw_moves__making *making = moving->making;
    enum fw_status status = FW_OK;
    for (size_t i = making->to_open_count; !status && i-- > 0;)
        status = open_one(moving, making->to_open[i], err);
    return status;
}

/* ---- closing ---- */

static enum fw_status close_step(const struct fw_moves__moving *moving,
                                 size_t opening, enum fw_step_kind kind,
                                 struct fw_error *err)
{
    struct fw_time *time = moving->making->time;
    struct fw_step *step;
    const enum fw_status status = fw_moves__add_step(
        time, kind, time->openings[opening].field, &step, err);
    if (!status)
        step->opening = opening;
    return status;
}

static void keep_open(struct fw_moves__making *making, size_t opening)
{
    making->open_door[making->time->openings[opening].door] = true;
    making->left_open[making->left_open_count++] = opening;
}

static enum fw_status leave_open(const struct fw_moves__moving *moving,
                                 size_t opening, struct fw_error *err)
{
    keep_open(moving->making, opening);
    return close_step(moving, opening, FW_STEP_BRIDGE, err);
}

/* What else was dead with it in this move? */
static size_t dead_with(const struct fw_moves__moving *moving, size_t opening)
{
    const struct fw_time *time = moving->making->time;
    for (size_t i = time->step_count; i-- > 0;)
        if (time->steps[i].kind == FW_STEP_OPEN &&
            time->steps[i].opening == opening)
            return time->steps[i].dead.count;
    return 0;
}

/* For the hours until the second visit nothing may be dead that holds them, and
 * no line among them that stays. */
enum fw_status fw_moves__bridge_all(struct fw_moves__moving *moving,
                                    struct fw_error *err)
{
    const struct fw_moves__making *making = moving->making;
    enum fw_status status = FW_OK;
    for (size_t i = making->to_open_count; !status && i-- > 0;) {
        const size_t opening = making->to_open[i];
        const size_t line = making->time->openings[opening].line;
        if (line != FW_NONE && (!fw_moves__comes_down(moving, line) ||
                                dead_with(moving, opening) > 0))
            status = close_step(moving, opening, FW_STEP_BRIDGE, err);
    }
    moving->bridged = true;
    return status;
}

/* Left open are those between two cells that they both have now, with a lead
 * across the gap. */
static enum fw_status close_one(const struct fw_moves__moving *moving,
                                size_t opening, struct fw_error *err)
{
    struct fw_moves__making *making = moving->making;
    const struct fw_opening *of = &making->time->openings[opening];
    if (of->line != FW_NONE && fw_moves__comes_down(moving, of->line))
        return FW_OK;
    const bool keep = of->line != FW_NONE &&
                      (!making->habits->trough || moving->drift != FW_NONE) &&
                      will_have_both(moving, opening);
    if (keep && moving->bridged) { /* before the second visit */
        keep_open(making, opening);
        return FW_OK;
    }
    return keep ? leave_open(moving, opening, err)
                : close_step(moving, opening, FW_STEP_CLOSE, err);
}

enum fw_status fw_moves__close_all(const struct fw_moves__moving *moving,
                                   struct fw_error *err)
{
    const struct fw_moves__making *making = moving->making;
    enum fw_status status = FW_OK;
    for (size_t i = making->to_open_count; !status && i-- > 0;)
        status = close_one(moving, making->to_open[i], err);
    return status;
}

/* Of what was left open, one. */
static enum fw_status shut(const struct fw_moves__moving *moving,
                           size_t opening, struct fw_error *err)
{
    struct fw_moves__making *making = moving->making;
    making->open_door[making->time->openings[opening].door] = false;
    return close_step(moving, opening, FW_STEP_CLOSE, err);
}

/* What comes down with its line needs no closing. */
enum fw_status fw_moves__close_old(const struct fw_moves__moving *moving,
                                   struct fw_error *err)
{
    struct fw_moves__making *making = moving->making;
    size_t n = 0;
    enum fw_status status = FW_OK;
    for (size_t i = 0; !status && i < making->left_open_count; i++) {
        const size_t opening = making->left_open[i];
        if (will_have_both(moving, opening) ||
            fw_moves__comes_down(moving, making->time->openings[opening].line))
            making->left_open[n++] = opening;
        else
            status = shut(moving, opening, err);
    }
    making->left_open_count = n;
    return status;
}

/* The way to the water stays open. */
static enum fw_status shut_behind(const struct fw_moves__moving *moving,
                                  struct fw_error *err)
{
    struct fw_moves__making *making = moving->making;
    size_t n = 0;
    enum fw_status status = FW_OK;
    for (size_t i = 0; !status && i < making->left_open_count; i++) {
        const size_t opening = making->left_open[i];
        if (!making->habits->trough &&
            has_both(making, moving->from, FW_NONE, opening))
            making->left_open[n++] = opening;
        else
            status = shut(moving, opening, err);
    }
    making->left_open_count = n;
    return status;
}

enum fw_status fw_moves__gather(const struct fw_moves__moving *moving,
                                struct fw_error *err)
{
    const struct fw_moves__making *making = moving->making;
    if (fw_moves__drift_door(making->land, making->habits, making->time,
                             moving->number, 1) == FW_NONE)
        return FW_OK;
    enum fw_status status = fw_moves__plain_step(moving, FW_STEP_LATER, err);
    if (!status)
        status = fw_moves__plain_step(moving, FW_STEP_COUNT, err);
    return status ? status : shut_behind(moving, err);
}

/* ---- to the water ---- */

/* From the water to where they are, so that they go nowhere else meanwhile. */
enum fw_status fw_moves__open_water(const struct fw_moves__moving *moving,
                                    struct fw_error *err)
{
    struct fw_moves__making *making = moving->making;
    const struct fw_land *land = making->land;
    if (moving->last || making->habits->trough ||
        fw_replay_has_water(&making->replay))
        return FW_OK;
    enum fw_status status = FW_OK;
    const size_t count = fw_moves__way_to_water(land, moving->to, making->hops);
    for (size_t i = count; !status && i-- > 0;) {
        const struct fw_moves__hop *hop = &making->hops[i];
        size_t opening;
        if (!making->stands[land->doors[hop->door].line] ||
            making->open_door[hop->door])
            continue;
        status = fw_moves__opening(making, hop->door,
                                   fw_land_beyond(land, hop->door, hop->cell),
                                   hop->cell, &opening, err);
        if (!status)
            status = open_one(moving, opening, err);
        if (!status)
            status = leave_open(moving, opening, err);
    }
    return status;
}
