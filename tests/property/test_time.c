/* Time on the ground of real fields: every plan's moves are gone through step
 * by step, by the replay and by a tally of our own of what stands and what is
 * open. Nothing may ever be wrong with the fence; what is allowed and not liked
 * is counted by setting. Found through FW_TEST_DATA, skipped without it.
 *
 * Every run takes each field in some of its settings; FW_TEST_EVERY=1 takes
 * all of them. */
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
    "an opening is opened twice, or closed when it is not open",
    "the replay disagrees about what stands",
};

struct tally {
    size_t fields, plans, none, moves, steps;
    size_t faults[FAULTS];
    size_t lossy;        /* plans that lose over 5 % of the grass */
    size_t standing;     /* dormant, no back fence: plans with such lines */
    size_t on_two_reels; /* and plans that two reels a strand will do */
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

static void fault(struct watch *watch, enum fault kind, const char *what)
{
    const size_t most_lines = 40;
    size_t told = 0;
    for (int k = 0; k < FAULTS; k++)
        told += watch->tally->faults[k];
    watch->tally->faults[kind]++;
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

static const char *line_id(const struct watch *watch, size_t line)
{
    return watch->plan->fences[line].id;
}

static void set_lines(struct watch *watch, const struct fw_step *step)
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

static void take_lines(struct watch *watch, const struct fw_step *step)
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

static void turn_opening(struct watch *watch, const struct fw_step *step)
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

/* Ground that was grazed or is never grazed, where they are, and where they
 * are let in. */
static bool is_theirs(const struct watch *watch, size_t cell)
{
    const struct fw_move *move = &watch->plan->time.moves[watch->move];
    return watch->land.cells[cell].kind != FW_CELL_PADDOCK ||
           watch->replay.grazed[cell] ||
           (watch->opened && move->stay != FW_NONE &&
            watch->plan->time.stays[move->stay].cell == cell);
}

static void look_at_ground(struct watch *watch, bool last)
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

static void look_at_step(struct watch *watch, const struct fw_step *step,
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

static void go_through_move(struct watch *watch)
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
        const struct fw_step *step = fw_replay_step(&watch->replay);
        assert_ptr_equal(step, &time->steps[move->steps.first + watch->step]);
        look_at_step(watch, step, watch->step + 1 == move->steps.count);
    }
    watch->tally->steps += move->steps.count;
    watch->tally->nights += move->stay != FW_NONE;
    if (move->stay != FW_NONE && !watch->setting.trough &&
        !fw_replay_has_water(&watch->replay))
        watch->tally->dry++;
}

static void go_through(struct watch *watch)
{
    const struct fw_plan *plan = watch->plan;
    struct fw_error err;
    if (fw_plan_land(plan, &watch->land, &err) ||
        fw_replay_begin(&watch->land, &plan->time, NULL, &watch->replay, &err))
        fail_msg("%s", err.text);
    watch->stands = calloc(plan->fence_count, sizeof(bool));
    watch->open = calloc(plan->gate_count + 1, sizeof(bool));
    watch->bridged = calloc(plan->gate_count + 1, sizeof(bool));
    for (size_t l = 0; l < watch->land.line_count; l++)
        watch->stands[l] = watch->land.lines[l].role == FW_LAND_EDGE;
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
}

/* ---- what is counted ---- */

static void count_lines(const struct watch *watch)
{
    const struct fw_plan *plan = watch->plan;
    struct tally *tally = watch->tally;
    double lost_m2 = 0, all_m2 = 0;
    size_t standing = 0;
    for (size_t f = 0; f < plan->field_count; f++)
        if (plan->fields[f].paddock_count > 0)
            all_m2 += plan->fields[f].plane_m2;
    for (size_t i = 0; i < plan->lane_count; i++)
        lost_m2 += plan->lanes[i].plane_m2;
    for (size_t i = 0; i < plan->fence_count; i++)
        standing += plan->fences[i].role == FW_FENCE_LANE ||
                    plan->fences[i].role == FW_FENCE_STANDING;
    tally->lossy += lost_m2 > 0.05 * all_m2;
    if (!watch->setting.dormant || watch->setting.back_fence)
        return;
    tally->standing += standing > 0;
    tally->on_two_reels += plan->totals.kit.reels <= 2 * plan->moved.strands;
}

/* ---- the plans ---- */

static const char *no_plan_of(const struct fw_plan *plan)
{
    for (size_t f = 0; f < plan->field_count; f++)
        if (plan->fields[f].no_plan)
            return plan->fields[f].no_plan;
    return NULL;
}

static void try_farm(struct fw_field **shapes, size_t count, char *crs,
                     const char *name, size_t index, struct tally *tally)
{
    static struct farm_room room;
    char setting[80], where[200];
    struct fw_plan *plan = NULL;
    struct fw_error err = {0};
    make_farm(&room, shapes, count, crs, setting_of(index));
    snprintf(where, sizeof where, "%s, %s", name, setting_name(index, setting));
    tally->fields += count;
    const enum fw_status status = fw_plan_make(&room.farm, &plan, &err);
    if (status) {
        print_message("# %s: %s\n", where, err.text);
        assert_int_equal(status, FW_EPLAN);
        tally->none++;
        return;
    }
    if (no_plan_of(plan)) {
        print_message("# %s: %s\n", where, no_plan_of(plan));
        tally->none++;
    }
    struct watch watch = {.plan = plan,
                          .where = where,
                          .setting = setting_of(index),
                          .tally = tally};
    go_through(&watch);
    count_lines(&watch);
    look_at_places(plan, &watch.land, &tally->off);
    fw_land_release(&watch.land);
    fw_plan_free(plan);
    tally->plans++;
}

/* ---- what is said ---- */

static void tell(const struct tally *tally, const char *name)
{
    print_message("# %s: %zu plans, %zu without, %zu moves, %zu steps\n", name,
                  tally->plans, tally->none, tally->moves, tally->steps);
    print_message(
        "#   over 5 %% lost %zu; standing lines %zu, two reels a strand do %zu "
        "(dormant without back fence); ungrazed crossings %zu moves of %zu "
        "plans, %.0f m; dry nights %zu of %zu in %zu plans\n",
        tally->lossy, tally->standing, tally->on_two_reels, tally->crossings,
        tally->crossed, tally->crossed_m, tally->dry, tally->nights,
        tally->dry_plans);
    print_message("#   outside: troughs %zu of %zu, openings %zu of %zu; paces "
                  "over their side %zu of %zu, over their line %zu of %zu, the "
                  "most %.2f m\n",
                  tally->off.troughs, tally->off.trough_count,
                  tally->off.openings, tally->off.opening_count,
                  tally->off.over_side, tally->off.side_count,
                  tally->off.over_line, tally->off.line_count,
                  fmax(0, tally->off.over_m));
    for (int k = 0; k < FAULTS; k++)
        if (tally->faults[k])
            print_message("#   %zu times: %s\n", tally->faults[k],
                          fault_words[k]);
}

static size_t all_faults(const struct tally *tally, size_t count)
{
    size_t sum = 0;
    for (size_t i = 0; i < count; i++) {
        char name[80];
        if (tally[i].fields == 0)
            continue;
        tell(&tally[i], setting_name(i, name));
        for (int k = 0; k < FAULTS; k++)
            sum += tally[i].faults[k];
    }
    return sum;
}

/* Every run takes each field in so many of its settings, another ones for each
 * field. */
static bool is_taken(size_t field, size_t setting, size_t some)
{
    const char *every = getenv("FW_TEST_EVERY");
    if (every && strcmp(every, "1") == 0)
        return true;
    for (size_t k = 0; k < some; k++)
        if ((field + k * setting_count / some) % setting_count == setting)
            return true;
    return false;
}

static void every_step_encloses_the_flock(void **state)
{
    (void)state;
    static struct tally tally[setting_count];
    const char *data = getenv("FW_TEST_DATA");
    const size_t at_most = 3; /* without a plan, in any setting */
    if (!data) {
        print_message("# FW_TEST_DATA is not set: nothing was tried\n");
        skip();
    }
    for (size_t m = 0; m < chosen_map_count; m++) {
        struct real_fields real = read_chosen(data, m);
        for (size_t i = 0; i < real.count; i++)
            for (size_t k = 0; k < setting_count; k++) {
                char name[80];
                snprintf(name, sizeof name, "%s %lld", chosen_maps[m].path,
                         real.fids[i]);
                if (is_taken(i, k, 4))
                    try_farm(&real.fields[i], 1, real.crs, name, k, &tally[k]);
            }
        release_fields(&real);
    }
    const size_t faults = all_faults(tally, setting_count);
    for (size_t k = 0; k < setting_count; k++)
        assert_true(tally[k].none <= at_most);
    assert_int_equal(faults, 0);
}

/* Three fields each that follow each other in the list. */
static void so_it_is_from_field_to_field(void **state)
{
    (void)state;
    static struct tally tally[setting_count];
    const char *data = getenv("FW_TEST_DATA");
    if (!data) {
        print_message("# FW_TEST_DATA is not set: nothing was tried\n");
        skip();
    }
    for (size_t m = 0; m < chosen_map_count; m++) {
        struct real_fields real = read_chosen(data, m);
        const size_t apart = 5;
        for (size_t i = 0; i + most_fields <= real.count; i += apart)
            for (size_t k = 0; k < setting_count; k++) {
                char name[80];
                snprintf(name, sizeof name, "%s %lld %lld %lld",
                         chosen_maps[m].path, real.fids[i], real.fids[i + 1],
                         real.fids[i + 2]);
                if (is_taken(i / apart, k, 1))
                    try_farm(&real.fields[i], most_fields, real.crs, name, k,
                             &tally[k]);
            }
        release_fields(&real);
    }
    assert_int_equal(all_faults(tally, setting_count), 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_step_encloses_the_flock),
        cmocka_unit_test(so_it_is_from_field_to_field),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
