/* What a time is worth, added up again on random ground: every way that a
 * person goes, step after step; kit, nights and faults; and times with a step
 * too few, or two that changed places, so that there are faults to be found. */
#include "random_moves.h"

#include <limits.h>

enum { rounds = 1200 };

struct sums {
    double minutes, passes, crossed_m;
    size_t faults[FW_TIME_FAULTS], first[FW_TIME_FAULTS];
    int night_reels;
    bool loose;
};

struct tally {
    const struct made *made;
    const struct fw_land *land;
    const struct fw_time *time;
    struct fw_replay replay;
    bool stands[most_lines];
    /* The person. */
    bool placed;
    size_t field, move;
    struct fw_point at;
    double minutes, passes;
    struct sums sums;
};

static double apart_m(struct fw_point a, struct fw_point b)
{
    return sqrt((a.x_m - b.x_m) * (a.x_m - b.x_m) +
                (a.y_m - b.y_m) * (a.y_m - b.y_m));
}

static void fault(struct tally *tally, enum fw_fault_of_time kind)
{
    if (tally->sums.faults[kind] == 0)
        tally->sums.first[kind] = tally->move;
    tally->sums.faults[kind]++;
}

/* ---- the person ---- */

static void go(struct tally *tally, struct fw_point to)
{
    if (tally->placed)
        tally->minutes +=
            apart_m(tally->at, to) / tally->made->habits.walk_m_min;
    tally->at = to;
    tally->placed = true;
}

/* The vehicle, else the gate. */
static bool has_home(const struct tally *tally)
{
    const struct fw_land_field *of = &tally->land->fields[tally->field];
    return of->park_given || of->gate_given;
}

static struct fw_point home(const struct tally *tally)
{
    const struct fw_land_field *of = &tally->land->fields[tally->field];
    return of->park_given ? of->park : of->gate;
}

static void appear(struct tally *tally, size_t field)
{
    tally->field = field;
    tally->placed = has_home(tally);
    if (tally->placed)
        tally->at = home(tally);
}

static void go_home(struct tally *tally)
{
    if (has_home(tally))
        go(tally, home(tally));
}

/* From one field to the other nothing is walked. */
static void go_in(struct tally *tally, size_t field, struct fw_point to)
{
    if (field != tally->field) {
        go_home(tally);
        appear(tally, field);
    }
    go(tally, to);
}

static void look_after(struct tally *tally, size_t cell)
{
    const struct fw_cell *of = &tally->land->cells[cell];
    double far_m = 0;
    if (!tally->placed || of->field != tally->field)
        return;
    for (size_t i = tally->land->ring_start[of->first_ring];
         i < tally->land->ring_start[of->first_ring + of->ring_count]; i++)
        far_m = fmax(far_m, apart_m(tally->at, tally->land->ring_points[i]));
    tally->minutes += 2 * far_m / tally->made->habits.walk_m_min;
}

static void work(struct tally *tally, const struct fw_step *step)
{
    for (size_t i = 0; i < step->lines.count; i++) {
        const size_t line = tally->time->items[step->lines.first + i];
        const struct fw_land_line *of = &tally->land->lines[line];
        const struct fw_point *points = tally->land->line_points + of->first;
        const struct fw_point a = points[0], b = points[of->count - 1];
        if (step->kind == FW_STEP_SET) {
            go_in(tally, of->field, a);
            tally->minutes += of->work.set_min;
            tally->passes += of->work.set_passes;
        }
        if (step->kind == FW_STEP_READ)
            go_in(tally, of->field, b);
        if (step->kind == FW_STEP_TAKE_DOWN) {
            go_in(tally, of->field, a);
            tally->minutes += of->work.down_min;
            tally->passes += of->work.down_passes;
            tally->at = b;
        }
    }
}

static void person(struct tally *tally, const struct fw_move *move, size_t i)
{
    const struct fw_step *step = &tally->time->steps[i];
    const struct fw_opening *openings = tally->time->openings;
    const size_t count = tally->time->stay_count;
    const size_t stay = move->stay == FW_NONE ? count : move->stay;
    if (step->kind == FW_STEP_SET || step->kind == FW_STEP_READ ||
        step->kind == FW_STEP_TAKE_DOWN)
        work(tally, step);
    if (step->kind == FW_STEP_OPEN || step->kind == FW_STEP_CLOSE ||
        step->kind == FW_STEP_BRIDGE) {
        const struct fw_opening *of = &openings[step->opening];
        go_in(tally, of->field, of->place);
        if (of->kind != FW_OPENING_GATE)
            tally->minutes += tally->made->habits.end_min;
    }
    if (step->kind == FW_STEP_WALK && move->opening != FW_NONE)
        go_in(tally, openings[move->opening].field,
              openings[move->opening].place);
    if (step->kind == FW_STEP_LATER && i == move->later) {
        go_home(tally);
        look_after(tally, tally->time->stays[stay - 1].cell);
    } else if (step->kind == FW_STEP_LATER && stay > 1) {
        look_after(tally, tally->time->stays[stay - 2].cell);
    }
}

/* ---- faults ---- */

static bool is_fed(const struct fw_land *land, size_t line)
{
    while (land->lines[line].role != FW_LAND_EDGE &&
           land->lines[line].host[0] != FW_NONE)
        line = land->lines[line].host[0];
    return land->lines[line].feeds[0] != FW_FEEDS_NOTHING;
}

static void tie(struct tally *tally, const struct fw_step *step)
{
    for (size_t i = 0; i < step->lines.count; i++) {
        const size_t line = tally->time->items[step->lines.first + i];
        const struct fw_land_line *of = &tally->land->lines[line];
        if (step->kind == FW_STEP_SET && !tally->stands[line]) {
            for (int e = 0; e < 2; e++)
                if (of->host[e] != FW_NONE && !tally->stands[of->host[e]])
                    fault(tally, FW_TIME_UNTIED);
            if (!is_fed(tally->land, line))
                fault(tally, FW_TIME_NO_FEED);
            tally->stands[line] = true;
        }
        if (step->kind == FW_STEP_TAKE_DOWN && tally->stands[line]) {
            bool holds = false;
            for (size_t l = 0; l < tally->land->line_count; l++)
                holds |= tally->stands[l] &&
                         (tally->land->lines[l].host[0] == line ||
                          tally->land->lines[l].host[1] == line);
            if (holds)
                fault(tally, FW_TIME_UNTIED);
            tally->stands[line] = false;
        }
    }
}

static bool drifts(const struct tally *tally, size_t stay)
{
    const struct fw_habits *habits = &tally->made->habits;
    const struct fw_time_stay *stays = tally->time->stays;
    if (stay == 0 || stay >= tally->time->stay_count ||
        stays[stay - 1].round != stays[stay].round ||
        habits->drift_from == FW_NO_DAY ||
        stays[stay].enter < habits->drift_from ||
        stays[stay].enter >= habits->drift_to)
        return false;
    for (size_t d = 0; d < tally->land->door_count; d++) {
        const struct fw_door *of = &tally->land->doors[d];
        const size_t here = stays[stay].cell, left = stays[stay - 1].cell;
        if (((of->a == here && of->b == left) ||
             (of->b == here && of->a == left)) &&
            of->to_m - of->from_m >= habits->way_m - 1e-6)
            return true;
    }
    return false;
}

/* On the way into a stay, or out of the last one; `during` the move or when it
 * is over. */
static bool is_theirs(const struct tally *tally, size_t stay, size_t cell,
                      bool walked, bool during)
{
    const struct fw_time_stay *stays = tally->time->stays;
    const enum fw_cell_kind kind = tally->land->cells[cell].kind;
    const bool back_fence = tally->made->habits.back_fence;
    const bool left = stay > 0 && stays[stay - 1].cell == cell;
    bool theirs =
        kind == FW_CELL_LANE || kind == FW_CELL_APRON ||
        (stay < tally->time->stay_count && stays[stay].cell == cell) ||
        (left && during && back_fence);
    if (!tally->replay.grazed[cell])
        return theirs;
    theirs |= !back_fence || walked;
    if (left)
        theirs |= during || drifts(tally, stay);
    else if (stay > 1 && stays[stay - 2].cell == cell)
        theirs |= during && drifts(tally, stay - 1);
    return theirs;
}

/* Is there ground that nobody said was theirs? Where they are walked over what
 * waits those with them see to it. */
static bool is_loose(struct tally *tally, const struct fw_move *move, size_t at)
{
    const size_t end = move->steps.first + move->steps.count;
    const size_t stay =
        move->stay == FW_NONE ? tally->time->stay_count : move->stay;
    size_t opened = FW_NONE, closed = FW_NONE, count;
    bool walked = false, crosses = false, loose = false;
    for (size_t i = move->steps.first; i < end; i++) {
        const struct fw_step *step = &tally->time->steps[i];
        walked |= step->kind == FW_STEP_WALK;
        crosses |= step->over_m > 0;
        if ((step->kind == FW_STEP_OPEN || step->kind == FW_STEP_WALK) &&
            opened == FW_NONE)
            opened = i;
        if (step->kind == FW_STEP_CLOSE || step->kind == FW_STEP_BRIDGE)
            closed = i;
    }
    if (closed == FW_NONE)
        closed = end;
    walked = walked && opened != FW_NONE && at >= opened && at < closed;
    if (walked && crosses)
        return false;
    const size_t *cells = fw_replay_ground(&tally->replay, &count);
    for (size_t i = 0; i < count; i++)
        loose |= !is_theirs(tally, stay, cells[i], walked, at + 1 < end);
    return loose;
}

/* ---- all of it ---- */

static int reels_up(const struct tally *tally)
{
    int reels = 0;
    for (size_t l = 0; l < tally->land->line_count; l++)
        if (tally->stands[l] && tally->land->lines[l].role != FW_LAND_EDGE)
            reels += tally->land->lines[l].work.reels;
    return reels;
}

static void look_at_step(struct tally *tally, const struct fw_move *move,
                         size_t i)
{
    const struct fw_habits *habits = &tally->made->habits;
    const struct fw_step *step = &tally->time->steps[i];
    if (step->kind == FW_STEP_WALK && step->over_m > 0) {
        fault(tally, FW_TIME_CROSSED);
        tally->sums.crossed_m += step->over_m;
    }
    if (step->kind == FW_STEP_OPEN) {
        const struct fw_opening *of = &tally->time->openings[step->opening];
        if (of->kind != FW_OPENING_GATE &&
            (of->width_m < habits->way_m - 1e-6 ||
             of->room_m < habits->room_m - 1e-6))
            fault(tally, FW_TIME_NARROW);
    }
    tie(tally, step);
    if (is_loose(tally, move, i)) {
        tally->sums.loose = true;
        fault(tally, FW_TIME_LOOSE);
    }
    person(tally, move, i);
}

static void look_at_move(struct tally *tally, size_t m)
{
    const struct fw_move *move = &tally->time->moves[m];
    tally->move = m;
    tally->minutes = tally->passes = 0;
    appear(tally, move->field);
    for (size_t i = move->steps.first;
         i < move->steps.first + move->steps.count; i++) {
        fw_replay_step(&tally->replay);
        look_at_step(tally, move, i);
    }
    if (move->steps.count > 0)
        go_home(tally);
    assert_near(move->minutes, tally->minutes, 1e-6);
    assert_near(move->passes, tally->passes, 1e-9);
    tally->sums.minutes += tally->minutes;
    tally->sums.passes += tally->passes;
    if (move->stay == FW_NONE)
        return;
    if (reels_up(tally) > tally->sums.night_reels)
        tally->sums.night_reels = reels_up(tally);
    if (!tally->made->habits.trough && !fw_replay_has_water(&tally->replay))
        fault(tally, FW_TIME_DRY);
}

static void compare(const struct tried *tried)
{
    const struct made *made = &tried->made;
    const struct fw_time_sums *got = &made->sums;
    static struct tally tally;
    tally =
        (struct tally){.made = made, .land = &made->land, .time = &made->time};
    for (size_t l = 0; l < made->land.line_count; l++)
        tally.stands[l] =
            tried->stands[l] || made->land.lines[l].role == FW_LAND_EDGE;
    assert_int_equal(fw_replay_begin(&made->land, &made->time, made->start,
                                     &tally.replay, NULL),
                     FW_OK);
    for (size_t m = 0; m < made->time.move_count; m++)
        look_at_move(&tally, m);
    fw_replay_end(&tally.replay);
    assert_near(got->minutes, tally.sums.minutes, 1e-6);
    assert_near(got->passes, tally.sums.passes, 1e-9);
    assert_near(got->crossed_m, tally.sums.crossed_m, 1e-9);
    assert_int_equal(got->night_reels, tally.sums.night_reels);
    for (int k = 0; k < FW_TIME_FAULTS; k++) {
        if (k == FW_TIME_LOOSE) /* where it begins: it may go on for steps */
            assert_int_equal(got->faults[k] > 0, tally.sums.loose);
        else
            assert_int_equal(got->faults[k], tally.sums.faults[k]);
        assert_int_equal(got->first[k], tally.sums.first[k]);
    }
    double days = 0;
    for (size_t k = 0; k < tried->count; k++)
        days += tried->stays[k].leave - tried->stays[k].enter;
    assert_near(got->days, days, 0);
}

/* ---- days ---- */

static int day_of(const struct fw_time *time, size_t move, int none)
{
    return move == FW_NONE ? none : time->moves[move].day;
}

/* The first and the last day of each cell and line, and of all lines of a
 * field. */
static void look_at_days(const struct tried *tried)
{
    const struct fw_land *land = &tried->made.land;
    const struct fw_time *time = &tried->made.time;
    struct fw_time_dates dates;
    struct fw_nights fields[3];
    assert_int_equal(
        fw_time_dates(time, land->cell_count, land->line_count, &dates, NULL),
        FW_OK);
    for (size_t c = 0; c < land->cell_count; c++) {
        int from = FW_NO_DAY, to = FW_NO_DAY;
        for (size_t k = 0; k < tried->count; k++) {
            if (tried->stays[k].cell != c)
                continue;
            from = from == FW_NO_DAY ? tried->stays[k].enter : from;
            to = tried->stays[k].leave;
        }
        assert_int_equal(dates.cells[c].from, from);
        assert_int_equal(dates.cells[c].to, to);
    }
    fw_time_field_days(time, land, fields);
    for (size_t f = 0; f < land->field_count; f++) {
        int from = INT_MAX, to = INT_MIN;
        for (size_t l = 0; l < land->line_count; l++) {
            int first = FW_NO_DAY, last = FW_NO_DAY;
            bool stood = false;
            for (size_t i = 0; i < time->standing_count; i++) {
                const struct fw_standing *of = &time->standings[i];
                if (of->line != l || land->lines[l].field != f)
                    continue;
                if (!stood)
                    first = day_of(time, of->up.move, FW_NO_DAY);
                last = day_of(time, of->down.move, FW_NO_DAY);
                stood = true;
                const int up = day_of(time, of->up.move, INT_MIN);
                const int down = day_of(time, of->down.move, INT_MAX);
                from = up < from ? up : from;
                to = down > to ? down : to;
            }
            if (land->lines[l].field != f)
                continue;
            assert_int_equal(dates.lines[l].from, first);
            assert_int_equal(dates.lines[l].to, last);
        }
        assert_int_equal(fields[f].from, from);
        assert_int_equal(fields[f].to, to);
    }
    fw_time_dates_release(&dates);
    const int first = tried->stays[0].enter;
    const int last = tried->stays[tried->count - 1].leave;
    for (int day = first - 2; day < last + 2; day++) {
        size_t by = FW_NONE;
        for (size_t m = 0; m < time->move_count; m++)
            if (time->moves[m].day <= day)
                by = m;
        assert_int_equal(fw_time_move_by(time, day), by);
    }
}

static void judge_again(struct tried *tried)
{
    struct made *made = &tried->made;
    assert_int_equal(fw_time_judge(&made->land, &made->time, &made->habits,
                                   made->start, &made->sums, NULL),
                     FW_OK);
}

static size_t round_found[FW_TIME_FAULTS];

static void whole_times_are_added_up_again(void **state)
{
    (void)state;
    const char *given = getenv("FW_SEED");
    static struct tried tried;
    for (uint64_t round = 1; round <= rounds; round++) {
        round_seed = given ? strtoull(given, NULL, 10) : round;
        seed = round_seed * 2654435761u + 3;
        begin(&tried);
        for (size_t l = 0; l < tried.made.land.line_count; l++) {
            struct fw_land_work *of = &tried.made.land.lines[l].work;
            of->set_min = draw(1, 9);
            of->down_min = draw(1, 9);
            of->set_passes = draw(1, 4);
            of->down_passes = draw(1, 4);
        }
        tried.made.habits.walk_m_min = draw(30, 90);
        tried.made.habits.end_min = draw(0.5, 3);
        tried.made.habits.room_m = draw(2, 12);
        for (size_t l = 0; l < tried.made.land.line_count; l++)
            tried.stands[l] = tried.made.land.lines[l].role != FW_LAND_EDGE &&
                              toss(round % 2 ? 0.3 : 0);
        make_all(&tried);
        compare(&tried);
        look_at_days(&tried);
        unmake(&tried.made);
        if (given)
            return;
    }
}

/* One step less, or two or two lines of one that changed places. */
static void damage(struct tried *tried)
{
    struct fw_time *time = &tried->made.time;
    const struct fw_move *move =
        &time->moves[draw_count(0, time->move_count - 1)];
    if (move->steps.count < 2)
        return;
    const size_t at = move->steps.first + draw_count(0, move->steps.count - 2);
    struct fw_step *step = &time->steps[at];
    const struct fw_step kept = *step;
    if (step->lines.count > 1 && toss(0.5)) {
        size_t *items = time->items + step->lines.first;
        const size_t last = step->lines.count - 1, line = items[0];
        items[0] = items[last];
        items[last] = line;
    } else if (toss(0.5)) {
        *step = (struct fw_step){
            .kind = FW_STEP_CARRY, .field = kept.field, .opening = FW_NONE};
    } else {
        step[0] = step[1];
        step[1] = kept;
    }
}

static void damaged_times_have_their_faults(void **state)
{
    (void)state;
    static struct tried tried;
    memset(round_found, 0, sizeof round_found);
    for (uint64_t round = 1; round <= rounds; round++) {
        round_seed = round;
        seed = round * 2654435761u + 4;
        begin(&tried);
        make_all(&tried);
        for (size_t k = draw_count(1, 3); k > 0; k--)
            damage(&tried);
        judge_again(&tried);
        compare(&tried);
        for (int k = 0; k < FW_TIME_FAULTS; k++)
            round_found[k] += tried.made.sums.faults[k] > 0;
        unmake(&tried.made);
    }
    /* All of them came about, and often. */
    for (int k = 0; k < FW_TIME_FAULTS; k++)
        assert_true(round_found[k] >= rounds / 20);
}

/* After every step: as many keys as there are sets of lines. */
static void sets_of_lines_have_keys_of_their_own(void **state)
{
    (void)state;
    enum { lines = 11, sets = 1 << lines };
    static unsigned long keys[sets];
    struct hand hand = {0};
    for (int k = 0; k <= lines; k++)
        hand_box(&hand, FW_CELL_PADDOCK, 10 * k, 0, 10 * (k + 1), 50);
    for (int k = 1; k <= lines; k++)
        hand_line(&hand, FW_LAND_MOVED, 10 * k, 0, 10 * k, 50);
    struct fw_land land;
    hand_land(&hand, 1, &land);
    size_t items[sets];
    struct fw_step steps[sets];
    struct fw_move move = {.stay = FW_NONE, .steps = {0, sets}};
    /* One line up or down at a time, so that every set comes once. */
    for (size_t i = 0; i < sets; i++) {
        const size_t gray = i ^ (i >> 1),
                     before = i ? (i - 1) ^ ((i - 1) >> 1) : 0;
        size_t line = 0;
        while (i && !((gray ^ before) >> line & 1))
            line++;
        items[i] = line;
        steps[i] = (struct fw_step){.kind = gray > before ? FW_STEP_SET
                                                          : FW_STEP_TAKE_DOWN,
                                    .opening = FW_NONE,
                                    .lines = {i, i > 0}};
    }
    const struct fw_time time = {.moves = &move,
                                 .move_count = 1,
                                 .steps = steps,
                                 .step_count = sets,
                                 .items = items,
                                 .item_count = sets};
    struct fw_replay replay;
    assert_int_equal(fw_replay_begin(&land, &time, NULL, &replay, NULL), FW_OK);
    for (size_t i = 0; i < sets; i++) {
        assert_non_null(fw_replay_step(&replay));
        keys[i] = fw_replay_key(&replay);
        for (size_t k = 0; k < i; k++)
            assert_true(keys[k] != keys[i]);
    }
    fw_replay_end(&replay);
    fw_land_release(&land);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_teardown(whole_times_are_added_up_again, tell_seed),
        cmocka_unit_test_teardown(damaged_times_have_their_faults, tell_seed),
        cmocka_unit_test(sets_of_lines_have_keys_of_their_own),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
