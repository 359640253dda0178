/* A plan's moves gone through step by step: the replay, and beside it a tally
 * of our own of what stands and what is open. */
#ifndef FW_TIME_WATCH_H
#define FW_TIME_WATCH_H

#include "make/make.h"
#include "time_farms.h"
#include "time_places.h"

/* ---- what is never to be ---- */

enum fault {
    LOOSE,     /* what stands does not enclose the flock */
    BEHIND,    /* nor shuts off what was grazed, where it should */
    UNTIED,    /* an end tied to a line that is not there */
    LEFT,      /* a line that stands in the end */
    SET_TWICE, /* a line set that stands */
    NOT_THERE, /* a line taken down, or opened, that does not stand */
    OVERNIGHT, /* an opening left open without a lead across it */
    NO_WAY,    /* they are in another place, and nothing was open to it */
    OPENINGS,  /* opened twice, or closed when it was not open */
    DISAGREES, /* the replay and our tally of what stands */
    FAULTS
};

static const char *const fault_words[FAULTS] = {
    "the fence that stands does not enclose the flock",
    "grazed ground is not shut off",
    "an end is tied to a line that does not stand",
    "a line still stands when all is over",
    "a line is set that stands",
    "a line is taken down or opened that does not stand",
    "an opening is left open overnight, with no lead across",
    "they are led where nothing is open",
    "an opening is opened twice, or closed when it is not open",
    "the replay disagrees about what stands",
};

struct tally {
    bool quiet; /* faults are counted, and not said */
    size_t plans, none, moves, steps;
    size_t faults[FAULTS];
    size_t lossy;        /* plans that lose over 5 % of the grass */
    size_t standing;     /* dormant, no back fence: plans with such lines */
    size_t on_two_reels; /* and plans that two reels a strand will do */
    size_t third_line;   /* and that take more, and have no standing lines */
    size_t crossed, crossings; /* plans and moves over ungrazed ground */
    double crossed_m;
    size_t dry_plans, dry, nights; /* without water, where no trough goes */
    struct places_off off;
};

/* ---- a plan gone through ---- */

struct watch {
    const struct fw_plan *plan;
    const char *where; /* field and setting */
    struct setting setting;
    struct tally *tally;
    struct fw_land land;
    struct fw_replay replay;
    bool *stands, *open, *bridged; /* by line, opening, opening */
    size_t move, step;             /* the step counted within its move */
    bool crosses, opened;          /* in this move: over ungrazed ground; yet */
};

static inline void fault(struct watch *watch, enum fault kind, const char *what)
{
    const size_t most_lines = 40;
    size_t told = 0;
    for (int k = 0; k < FAULTS; k++)
        told += watch->tally->faults[k];
    watch->tally->faults[kind]++;
    if (watch->tally->quiet)
        return;
    if (told == most_lines)
        print_message("# and more\n");
    if (told < most_lines || getenv("FW_TELL"))
        print_message(
            "# %s, %s, move %zu, step %zu: %s%s%s\n", watch->where,
            watch->plan->fields[watch->plan->time.moves[watch->move].field]
                .layout,
            watch->move + 1, watch->step + 1, fault_words[kind],
            what ? ": " : "", what ? what : "");
}

static inline const char *line_id(const struct watch *watch, size_t line)
{
    return watch->plan->fences[line].id;
}

static inline void set_lines(struct watch *watch, const struct fw_step *step)
{
    for (size_t i = 0; i < step->lines.count; i++) {
        const size_t line = watch->plan->time.items[step->lines.first + i];
        const struct fw_land_line *of = &watch->land.lines[line];
        if (watch->stands[line])
            fault(watch, SET_TWICE, line_id(watch, line));
        watch->stands[line] = true;
        for (int e = 0; e < 2; e++)
            if (of->host[e] != FW_NONE && !watch->stands[of->host[e]])
                fault(watch, UNTIED, line_id(watch, line));
    }
}

static inline void take_lines(struct watch *watch, const struct fw_step *step)
{
    const struct fw_plan *plan = watch->plan;
    for (size_t i = 0; i < step->lines.count; i++) {
        const size_t line = plan->time.items[step->lines.first + i];
        if (!watch->stands[line])
            fault(watch, NOT_THERE, line_id(watch, line));
        watch->stands[line] = false;
        for (size_t k = 0; k < watch->land.line_count; k++)
            if (watch->stands[k] && (watch->land.lines[k].host[0] == line ||
                                     watch->land.lines[k].host[1] == line))
                fault(watch, UNTIED, line_id(watch, k));
        for (size_t g = 0; g < plan->gate_count; g++)
            if (plan->gates[g].fence == line)
                watch->open[g] = false;
    }
}

static inline void turn_opening(struct watch *watch, const struct fw_step *step)
{
    const struct fw_plan_gate *gate = &watch->plan->gates[step->opening];
    const bool opens = step->kind == FW_STEP_OPEN;
    if (gate->fence != FW_NONE && !watch->stands[gate->fence])
        fault(watch, NOT_THERE, gate->id);
    if (watch->open[step->opening] == opens)
        fault(watch, OPENINGS, gate->id);
    watch->open[step->opening] = step->kind != FW_STEP_CLOSE;
    watch->bridged[step->opening] = step->kind == FW_STEP_BRIDGE;
    watch->opened |= opens;
}

/* Ground that was grazed or is never grazed, where they are, what they leave
 * until the move is over, and where they are let in. */
static inline bool is_theirs(const struct watch *watch, size_t cell)
{
    const struct fw_move *move = &watch->plan->time.moves[watch->move];
    return watch->land.cells[cell].kind != FW_CELL_PADDOCK ||
           watch->replay.grazed[cell] ||
           (watch->step + 1 < move->steps.count &&
            fw_plan_move_from(watch->plan, watch->move) == cell) ||
           (watch->opened && move->stay != FW_NONE &&
            watch->plan->time.stays[move->stay].cell == cell);
}

static inline void look_at_ground(struct watch *watch, bool last)
{
    const struct fw_move *move = &watch->plan->time.moves[watch->move];
    size_t count;
    const size_t *cells = fw_replay_ground(&watch->replay, &count);
    /* On the way over ungrazed ground they are walked. */
    const bool walked = watch->crosses && watch->opened && !last;
    for (size_t i = 0; i < count && !walked; i++)
        if (!is_theirs(watch, cells[i])) {
            fault(watch, LOOSE, watch->plan->paddocks[cells[i]].id);
            return;
        }
    for (size_t i = 0; i < count && last && watch->setting.back_fence; i++)
        if (watch->land.cells[cells[i]].kind == FW_CELL_PADDOCK &&
            (move->stay == FW_NONE ||
             watch->plan->time.stays[move->stay].cell != cells[i])) {
            fault(watch, BEHIND, watch->plan->paddocks[cells[i]].id);
            return;
        }
}

/* Do they have ground at the field's gate? True where none is told. */
static inline bool reach_gate(struct watch *watch)
{
    size_t count;
    const size_t *cells = fw_replay_ground(&watch->replay, &count);
    bool any = watch->replay.field == FW_NONE ||
               !watch->land.fields[watch->replay.field].gate_given;
    for (size_t i = 0; i < count; i++)
        any |= watch->land.cells[cells[i]].at_gate;
    return any;
}

/* One step, and the way that they took when they are elsewhere after it: to
 * the next paddock over what was theirs before, to another field from gate to
 * gate. */
static inline const struct fw_step *go_on(struct watch *watch)
{
    struct fw_replay *replay = &watch->replay;
    size_t count;
    const size_t field = replay->field, cell = replay->cell;
    const size_t stay = watch->plan->time.moves[watch->move].stay;
    const size_t to =
        stay == FW_NONE ? FW_NONE : watch->plan->time.stays[stay].cell;
    fw_replay_ground(replay, &count);
    const bool beside = to != FW_NONE && replay->ground[to];
    const bool out = reach_gate(watch);
    const struct fw_step *step = fw_replay_step(replay);
    const bool inside = replay->field == field && cell != FW_NONE;
    if (replay->cell != cell && !(inside ? beside : out && reach_gate(watch)))
        fault(watch, NO_WAY, inside ? "inside" : out ? "in" : "out");
    return step;
}

static inline void look_at_step(struct watch *watch, const struct fw_step *step,
                                bool last)
{
    switch (step->kind) {
    case FW_STEP_SET:
        set_lines(watch, step);
        break;
    case FW_STEP_TAKE_DOWN:
        take_lines(watch, step);
        break;
    case FW_STEP_OPEN:
    case FW_STEP_CLOSE:
    case FW_STEP_BRIDGE:
        turn_opening(watch, step);
        break;
    default:
        break;
    }
    look_at_ground(watch, last);
    for (size_t l = 0; l < watch->land.line_count; l++)
        if (watch->stands[l] != watch->replay.stands[l])
            fault(watch, DISAGREES, line_id(watch, l));
    for (size_t g = 0; last && g < watch->plan->gate_count; g++)
        if (watch->open[g] && !watch->bridged[g])
            fault(watch, OVERNIGHT, watch->plan->gates[g].id);
}

static inline void go_through_move(struct watch *watch)
{
    const struct fw_time *time = &watch->plan->time;
    const struct fw_move *move = &time->moves[watch->move];
    watch->crosses = watch->opened = false;
    for (size_t s = 0; s < move->steps.count; s++) {
        const struct fw_step *step = &time->steps[move->steps.first + s];
        if (step->kind == FW_STEP_WALK && step->over_m > 0) {
            watch->crosses = true;
            watch->tally->crossings++;
            watch->tally->crossed_m += step->over_m;
        }
    }
    for (watch->step = 0; watch->step < move->steps.count; watch->step++) {
        const struct fw_step *step = go_on(watch);
        assert_ptr_equal(step, &time->steps[move->steps.first + watch->step]);
        look_at_step(watch, step, watch->step + 1 == move->steps.count);
    }
    watch->tally->steps += move->steps.count;
    watch->tally->nights += move->stay != FW_NONE;
    if (move->stay != FW_NONE && !watch->setting.trough &&
        !fw_replay_has_water(&watch->replay))
        watch->tally->dry++;
}

static inline void go_through(struct watch *watch)
{
    const struct fw_plan *plan = watch->plan;
    struct fw_plan_start start;
    struct fw_error err;
    if (fw_plan_land(plan, &watch->land, &err) ||
        fw_plan_start(plan, &watch->land, &start, &err) ||
        fw_replay_begin(&watch->land, &plan->time, &start.start, &watch->replay,
                        &err))
        fail_msg("%s", err.text);
    watch->stands = calloc(plan->fence_count, sizeof(bool));
    watch->open = calloc(plan->gate_count + 1, sizeof(bool));
    watch->bridged = calloc(plan->gate_count + 1, sizeof(bool));
    for (size_t l = 0; l < watch->land.line_count; l++)
        watch->stands[l] =
            watch->land.lines[l].role == FW_LAND_EDGE || plan->fences[l].stood;
    /* A plan that goes on may begin with an opening that was left to them, a
     * lead across. */
    for (size_t g = 0; g < plan->gate_count; g++)
        watch->open[g] = watch->bridged[g] = watch->replay.open[g];
    const size_t crossings = watch->tally->crossings, dry = watch->tally->dry;
    for (watch->move = 0; watch->move < plan->time.move_count; watch->move++)
        go_through_move(watch);
    watch->tally->moves += plan->time.move_count;
    watch->move = plan->time.move_count - 1;
    for (size_t l = 0; l < watch->land.line_count; l++)
        if (watch->stands[l] && watch->land.lines[l].role != FW_LAND_EDGE)
            fault(watch, LEFT, line_id(watch, l));
    watch->tally->crossed += watch->tally->crossings > crossings;
    watch->tally->dry_plans += watch->tally->dry > dry;
    free(watch->stands);
    free(watch->open);
    free(watch->bridged);
    fw_replay_end(&watch->replay);
    fw_plan_start_release(&start);
}

#endif
