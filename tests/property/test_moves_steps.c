/* Each step of each move on random ground, looked at by itself: is it in its
 * place, and are its lines, doors and openings those that they have to be? */
#include "random_moves.h"

enum { rounds = 1500 };

struct looked {
    const struct tried *tried;
    const struct fw_land *land;
    const struct fw_time *time;
    const struct fw_habits *habits;
    const struct fw_move *move;
    size_t number, from, to;
    struct fw_replay replay; /* as it is before the step at hand */
};

static double apart_m(struct fw_point a, struct fw_point b)
{
    return sqrt((a.x_m - b.x_m) * (a.x_m - b.x_m) +
                (a.y_m - b.y_m) * (a.y_m - b.y_m));
}

static const struct fw_step *step_at(const struct looked *looked, size_t i)
{
    return &looked->time->steps[i];
}

static size_t end_of(const struct fw_move *move)
{
    return move->steps.first + move->steps.count;
}

static bool within(const struct looked *looked)
{
    return looked->from != FW_NONE && looked->to != FW_NONE &&
           in_one_field(looked->tried, looked->number - 1, looked->number);
}

/* ---- the order of the steps ---- */

/* A letter a step. */
static size_t eat(const char *letters, size_t at, const char *any)
{
    while (letters[at] && strchr(any, letters[at]))
        at++;
    return at;
}

static size_t eat_group(const char *letters, size_t at, const char *group)
{
    const size_t length = strlen(group);
    return strncmp(letters + at, group, length) == 0 ? at + length : at;
}

static void look_at_order(const struct looked *looked)
{
    /* set, hook, read, carry, open, walk, later, count, bridge, close, take
     * down */
    static const char names[] = "shrcowlnbxd";
    char letters[256];
    size_t n = 0;
    for (size_t i = looked->move->steps.first; i < end_of(looked->move); i++)
        letters[n++] = names[step_at(looked, i)->kind];
    letters[n] = 0;
    size_t at = eat_group(letters, 0, "ln"); /* those that drifted */
    at = at ? eat(letters, at, "x") : 0;
    at = eat_group(letters, at, "shr");
    at = eat_group(letters, at, "c");
    at = eat(letters, at, "o");
    at = eat_group(letters, at, "w");
    at = eat(letters, at, "b");
    at = eat_group(letters, at, "l");
    at = eat_group(letters, at, "n");
    at = eat(letters, at, "xb");
    at = eat_group(letters, at, "d");
    at = eat_group(letters, at, "d"); /* of the field that they come to */
    while (strncmp(letters + at, "ob", 2) == 0)
        at += 2; /* to the water */
    at = eat_group(letters, at, "shr");
    if (letters[at])
        fail_msg("move %zu: %s from %zu on", looked->number, letters, at);
}

/* ---- the move itself ---- */

static bool is_young(const struct looked *looked)
{
    const struct fw_habits *habits = looked->habits;
    return habits->young_from != FW_NO_DAY &&
           looked->move->day >= habits->young_from &&
           looked->move->day < habits->young_to;
}

static size_t longest_door(const struct looked *looked, size_t a, size_t b)
{
    const struct fw_land *land = looked->land;
    size_t best = FW_NONE;
    double most_m = looked->habits->way_m - 2e-6;
    for (size_t d = 0; d < land->door_count; d++) {
        const struct fw_door *of = &land->doors[d];
        if (((of->a == a && of->b == b) || (of->a == b && of->b == a)) &&
            of->to_m - of->from_m > most_m + 1e-6) {
            best = d;
            most_m = of->to_m - of->from_m;
        }
    }
    return best;
}

/* The door that they drift through into a stay. */
static size_t drift_into(const struct looked *looked, size_t stay)
{
    const struct fw_habits *habits = looked->habits;
    const struct fw_time_stay *stays = looked->tried->stays;
    if (stay == 0 || stay >= looked->tried->count ||
        looked->tried->visit_of[stay] != looked->tried->visit_of[stay - 1] ||
        habits->drift_from == FW_NO_DAY ||
        stays[stay].enter < habits->drift_from ||
        stays[stay].enter >= habits->drift_to)
        return FW_NONE;
    return longest_door(looked, stays[stay].cell, stays[stay - 1].cell);
}

static size_t step_of(const struct looked *looked, enum fw_step_kind kind)
{
    for (size_t i = looked->move->steps.first; i < end_of(looked->move); i++)
        if (step_at(looked, i)->kind == kind)
            return i;
    return FW_NONE;
}

/* The last door that is opened on the way, before the flock is counted. */
static size_t last_opened(const struct looked *looked)
{
    size_t first = FW_NONE; /* they are opened from there back to here */
    for (size_t i = looked->move->steps.first; i < end_of(looked->move); i++) {
        const enum fw_step_kind kind = step_at(looked, i)->kind;
        if (kind == FW_STEP_OPEN && first == FW_NONE)
            first = step_at(looked, i)->opening;
        if (kind == FW_STEP_WALK || kind == FW_STEP_TAKE_DOWN ||
            (kind == FW_STEP_COUNT &&
             (first != FW_NONE || i > looked->move->steps.first + 1)))
            break;
    }
    return first;
}

static void look_at_move(const struct looked *looked)
{
    const struct fw_move *move = looked->move;
    const struct tried *tried = looked->tried;
    const bool last = looked->to == FW_NONE;
    const size_t next = looked->number + 1;
    assert_int_equal(move->day, last ? tried->stays[tried->count - 1].leave
                                     : tried->stays[looked->number].enter);
    assert_int_equal(move->stay, last ? FW_NONE : looked->number);
    assert_int_equal(
        move->field,
        looked->land->cells[last ? looked->from : looked->to].field);
    assert_int_equal(move->ahead, !looked->habits->set_first &&
                                      next < tried->count &&
                                      tried->visit_of[next] ==
                                          tried->visit_of[looked->number]);
    assert_int_equal(move->opening, last_opened(looked));
    /* Within a field, over nothing that waits. */
    const size_t walk = step_of(looked, FW_STEP_WALK);
    const bool crosses = walk != FW_NONE && step_at(looked, walk)->over_m > 0;
    const bool drifts = drift_into(looked, looked->number) != FW_NONE;
    assert_int_equal(move->later != FW_NONE,
                     within(looked) && !crosses && !drifts && is_young(looked));
    if (move->later != FW_NONE) {
        assert_true(move->later > move->steps.first);
        assert_int_equal(step_at(looked, move->later)->kind, FW_STEP_LATER);
        assert_int_equal(step_at(looked, move->later + 1)->kind, FW_STEP_COUNT);
    }
    /* Those that drifted before are looked for, and counted. */
    const bool drifted =
        looked->number > 0 && drift_into(looked, looked->number - 1) != FW_NONE;
    size_t counts = 0, laters = 0;
    for (size_t i = move->steps.first; i < end_of(move); i++) {
        counts += step_at(looked, i)->kind == FW_STEP_COUNT;
        laters += step_at(looked, i)->kind == FW_STEP_LATER;
    }
    assert_int_equal(counts, drifted + !drifts);
    assert_int_equal(laters, drifted + (move->later != FW_NONE));
}

/* ---- lines, in the order of work ---- */

static struct fw_point a_of(const struct fw_land *land, size_t line)
{
    return land->line_points[land->lines[line].first];
}

static struct fw_point b_of(const struct fw_land *land, size_t line)
{
    return land
        ->line_points[land->lines[line].first + land->lines[line].count - 1];
}

/* From where they go to the first. */
static bool begins_at(const struct looked *looked, size_t line, bool after,
                      struct fw_point *out)
{
    const struct fw_land_field *of =
        &looked->land->fields[looked->land->lines[line].field];
    if (after && looked->move->opening != FW_NONE) {
        *out = looked->time->openings[looked->move->opening].place;
        return true;
    }
    *out = of->park_given ? of->park : of->gate;
    return of->park_given || of->gate_given;
}

/* What holds another first up and last down; of the others the nearest is the
 * next. */
static void look_at_work(const struct looked *looked, size_t index)
{
    const struct fw_land *land = looked->land;
    const struct fw_step *step = step_at(looked, index);
    const size_t *lines = looked->time->items + step->lines.first;
    const bool down = step->kind == FW_STEP_TAKE_DOWN;
    bool after = down; /* is the flock in? */
    for (size_t i = looked->move->steps.first; i < index; i++)
        after |= step_at(looked, i)->kind == FW_STEP_OPEN ||
                 step_at(looked, i)->kind == FW_STEP_CARRY ||
                 (step_at(looked, i)->kind == FW_STEP_COUNT &&
                  (i == looked->move->steps.first ||
                   step_at(looked, i - 1)->kind != FW_STEP_LATER ||
                   i - 1 == looked->move->later)) ||
                 step_at(looked, i)->kind == FW_STEP_TAKE_DOWN;
    struct fw_point at;
    bool placed = begins_at(looked, lines[0], after, &at);
    for (size_t i = 0; i < step->lines.count; i++) {
        for (size_t k = i + 1; k < step->lines.count; k++) {
            const size_t p = land->lines[lines[i]].depth;
            const size_t q = land->lines[lines[k]].depth;
            const struct fw_point x = a_of(land, lines[i]);
            const struct fw_point y = a_of(land, lines[k]);
            assert_true(down ? p >= q : p <= q);
            if (p != q)
                continue;
            const double nearer_m =
                placed ? apart_m(y, at) - apart_m(x, at) : y.x_m - x.x_m;
            assert_true(nearer_m > -1e-5);
            if (fabs(nearer_m) < 1e-9 && (placed || y.y_m == x.y_m))
                assert_true(lines[i] < lines[k]);
            else if (fabs(nearer_m) < 1e-9)
                assert_true(y.y_m > x.y_m - 1e-5);
        }
        at = down ? b_of(land, lines[i]) : a_of(land, lines[i]);
        placed = true;
    }
    if (down)
        return;
    for (size_t i = 1; i < 3; i++) { /* hooked on and read */
        const struct fw_step *other = step_at(looked, index + i);
        assert_int_equal(other->kind, i == 1 ? FW_STEP_HOOK : FW_STEP_READ);
        assert_int_equal(other->lines.first, step->lines.first);
        assert_int_equal(other->lines.count, step->lines.count);
    }
}

/* Which of those set are set before the flock comes: those that hold it, or
 * hold what does, from this stay on. */
static void look_at_set(const struct looked *looked, size_t index)
{
    const struct fw_land *land = looked->land;
    const struct fw_step *step = step_at(looked, index);
    const size_t count = step_of(looked, FW_STEP_CARRY) != FW_NONE
                             ? step_of(looked, FW_STEP_CARRY)
                             : step_of(looked, FW_STEP_OPEN);
    if (looked->habits->set_first || count == FW_NONE || index < count)
        return;
    /* Fenced ahead: no door of it bounds the cell that they are in now. */
    for (size_t i = 0; i < step->lines.count; i++) {
        const size_t line = looked->time->items[step->lines.first + i];
        if (land->lines[line].role != FW_LAND_MOVED)
            continue;
        for (size_t d = land->lines[line].first_door;
             d < land->lines[line].first_door + land->lines[line].door_count;
             d++)
            assert_true(land->doors[d].a != looked->to &&
                        land->doors[d].b != looked->to);
    }
}

/* ---- openings ---- */

/* Do they stand beside that line, dead while the other one is open? Each line
 * hangs on what holds its end A; hooked on at the far end too it is live all
 * the same where an edge is. */
static bool is_dead(const struct looked *looked, size_t line, size_t opened)
{
    const struct fw_land *land = looked->land;
    for (size_t l = line; l != FW_NONE; l = land->lines[l].host[0]) {
        if (l == opened)
            return true;
        if (looked->habits->far_hooked && land->lines[l].host[1] == FW_NONE &&
            land->lines[l].feeds[1] != FW_FEEDS_NOTHING)
            return false;
    }
    return false;
}

static void look_at_dead(const struct looked *looked,
                         const struct fw_step *step)
{
    const struct fw_land *land = looked->land;
    const size_t line = looked->time->openings[step->opening].line;
    bool wanted[most_lines] = {false};
    for (size_t d = 0; line != FW_NONE && d < land->door_count; d++) {
        const struct fw_door *of = &land->doors[d];
        const bool beside = of->a == looked->from || of->b == looked->from ||
                            of->a == looked->to || of->b == looked->to;
        if (beside && of->line != line && looked->replay.stands[of->line])
            wanted[of->line] = is_dead(looked, of->line, line);
    }
    for (size_t i = 0; i < step->dead.count; i++) {
        const size_t dead = looked->time->items[step->dead.first + i];
        assert_true(wanted[dead]); /* and not twice */
        wanted[dead] = false;
    }
    for (size_t l = 0; l < land->line_count; l++)
        assert_false(wanted[l]);
}

/* Cells are boxes: how deep one is behind a side of it. */
static double deep_m(const struct fw_land *land, size_t cell, size_t line)
{
    const struct fw_cell *of = &land->cells[cell];
    const struct fw_point a = a_of(land, line), b = b_of(land, line);
    double least = HUGE_VAL, most = -HUGE_VAL;
    for (size_t i = land->ring_start[of->first_ring];
         i < land->ring_start[of->first_ring + 1]; i++) {
        const struct fw_point at = land->ring_points[i];
        const double along = a.x_m == b.x_m ? at.x_m : at.y_m;
        least = fmin(least, along);
        most = fmax(most, along);
    }
    return most - least;
}

/* Bad ground is in stripes. */
static bool is_stripe(const void *of, size_t field, struct fw_point at)
{
    (void)of;
    (void)field;
    return fmod(at.x_m + at.y_m, 18) < 6;
}

static void look_at_opening(const struct looked *looked, size_t index)
{
    const struct fw_land *land = looked->land;
    const struct fw_habits *habits = looked->habits;
    const struct fw_opening *of = &looked->time->openings[index];
    if (of->kind == FW_OPENING_GATE) {
        assert_true(index < land->field_count);
        assert_int_equal(of->line, FW_NONE);
        assert_true(land->fields[of->field].gate_given);
        assert_near(apart_m(of->place, land->fields[of->field].gate), 0, 0);
        return;
    }
    const struct fw_door *door = &land->doors[of->door];
    const double long_m = land->lines[of->line].length_m;
    const double door_m = door->to_m - door->from_m;
    const double half_m = fmin(habits->opening_m, door_m) / 2;
    assert_int_equal(door->line, of->line);
    assert_int_equal(of->field, land->lines[of->line].field);
    assert_near(of->width_m, 2 * half_m, 1e-9);
    assert_near(apart_m(of->place, fw_land_along(land, of->line, of->at_m)), 0,
                1e-9);
    /* In the order in which they are liked; all have the same room. */
    const double room_m =
        fmin(habits->room_m, fmin(deep_m(land, door->a, of->line),
                                  deep_m(land, door->b, of->line)));
    assert_near(of->room_m, room_m, 1e-6);
    const double middle_m = (door->from_m + door->to_m) / 2;
    const double near_m = fmin(door->from_m + 2 + half_m, middle_m);
    const double far_m = fmax(door->to_m - 2 - half_m, middle_m);
    const struct {
        bool there;
        enum fw_opening_kind kind;
        double at_m;
    } places[] = {{door->from_m < 1e-6, FW_OPENING_A, half_m},
                  {door->to_m > long_m - 1e-6, FW_OPENING_B, long_m - half_m},
                  {true, FW_OPENING_JOINT, near_m},
                  {true, FW_OPENING_JOINT, far_m}};
    size_t first = FW_NONE, good = FW_NONE;
    for (size_t i = 0; i < 4; i++) {
        const struct fw_point at =
            fw_land_along(land, of->line, places[i].at_m);
        if (!places[i].there)
            continue;
        first = first == FW_NONE ? i : first;
        if (good == FW_NONE && !is_stripe(NULL, 0, at))
            good = i;
    }
    good = good == FW_NONE ? first : good;
    assert_int_equal(of->kind, places[good].kind);
    assert_near(of->at_m, places[good].at_m, 1e-9);
}

/* Where two paddocks adjoin that is where they go through. */
static void look_at_straight(const struct looked *looked)
{
    const struct fw_land *land = looked->land;
    if (!within(looked))
        return;
    const size_t drift = drift_into(looked, looked->number);
    const size_t door = longest_door(looked, looked->from, looked->to);
    if (drift == FW_NONE && (door == FW_NONE || !looked->habits->trough))
        return;
    for (size_t i = looked->move->steps.first; i < end_of(looked->move); i++) {
        const struct fw_step *step = step_at(looked, i);
        if (step->kind == FW_STEP_TAKE_DOWN)
            return; /* then they are opened to the water */
        assert_true(step->kind != FW_STEP_WALK);
        if (step->kind != FW_STEP_OPEN)
            continue;
        const struct fw_opening *of = &looked->time->openings[step->opening];
        const struct fw_door *through = &land->doors[of->door];
        /* To the water without a take down before. */
        if (!looked->habits->trough && of->door != door &&
            (land->cells[through->a].kind == FW_CELL_LANE ||
             land->cells[through->b].kind == FW_CELL_LANE))
            continue;
        assert_int_equal(of->door, door);
    }
}

/* From field to field both gates are opened, where they are told, and each is
 * closed again. */
static void look_at_gates(const struct looked *looked)
{
    size_t opened[2] = {0}, closed = 0, wanted = 0;
    const size_t cells[2] = {looked->from, looked->to};
    for (size_t i = looked->move->steps.first; i < end_of(looked->move); i++) {
        const struct fw_step *step = step_at(looked, i);
        if (step->opening == FW_NONE ||
            looked->time->openings[step->opening].kind != FW_OPENING_GATE)
            continue;
        closed += step->kind == FW_STEP_CLOSE;
        for (int e = 0; e < 2; e++)
            opened[e] += step->kind == FW_STEP_OPEN && cells[e] != FW_NONE &&
                         looked->time->openings[step->opening].field ==
                             looked->land->cells[cells[e]].field;
    }
    for (int e = 0; e < 2; e++) {
        const bool gate =
            cells[e] != FW_NONE && !within(looked) &&
            looked->land->fields[looked->land->cells[cells[e]].field]
                .gate_given;
        assert_int_equal(opened[e], gate);
        wanted += gate;
    }
    assert_int_equal(closed, wanted);
}

/* ---- water ---- */

/* Over lanes and aprons, through what is wide enough to drink. */
static bool leads_to_water(const struct fw_land *land, size_t cell)
{
    bool in[most_cells] = {false};
    in[cell] = true;
    for (bool more = true; more;) {
        more = false;
        for (size_t d = 0; d < land->door_count; d++) {
            const struct fw_door *of = &land->doors[d];
            if (of->to_m - of->from_m < 1.5 || in[of->a] == in[of->b])
                continue;
            const size_t to = in[of->a] ? of->b : of->a;
            if (land->cells[to].kind == FW_CELL_LANE ||
                land->cells[to].kind == FW_CELL_APRON)
                in[to] = more = true;
        }
    }
    for (size_t c = 0; c < land->cell_count; c++)
        if (in[c] && land->cells[c].at_water)
            return true;
    return false;
}

static void look_at_end(struct looked *looked)
{
    if (looked->to != FW_NONE && !looked->habits->trough &&
        leads_to_water(looked->land, looked->to))
        assert_true(fw_replay_has_water(&looked->replay));
    if (looked->habits->trough && looked->to != FW_NONE) {
        assert_int_equal(step_of(looked, FW_STEP_CARRY) != FW_NONE,
                         !fw_replay_has_water(&looked->replay));
        assert_int_equal(looked->move->carries,
                         !fw_replay_has_water(&looked->replay));
    } else {
        assert_int_equal(step_of(looked, FW_STEP_CARRY), FW_NONE);
        assert_false(looked->move->carries);
    }
}

/* ---- which end is fed ---- */

/* 0: nothing, 1: perhaps, 2: surely. What another line gives is never sure. */
static int gives(const struct fw_land *land, size_t line, int end)
{
    size_t host = land->lines[line].host[end];
    if (host == FW_NONE)
        return (int)land->lines[line].feeds[end];
    while (land->lines[host].host[0] != FW_NONE)
        host = land->lines[host].host[0];
    return land->lines[host].feeds[0] == FW_FEEDS_NOTHING ? 0 : 1;
}

/* A is the better one, or of two alike the one nearer to where they come
 * from. */
static void look_at_ends(const struct looked *looked)
{
    const struct fw_land *land = looked->land;
    for (size_t l = 0; l < land->line_count; l++) {
        const struct fw_land_field *of = &land->fields[land->lines[l].field];
        const int a = gives(land, l, 0), b = gives(land, l, 1);
        assert_true(a >= b);
        if (a == b && of->come_given)
            assert_true(apart_m(a_of(land, l), of->come) <=
                        apart_m(b_of(land, l), of->come) + 2e-6);
    }
}

/* ---- all of it ---- */

static void look_at_step(const struct looked *looked, size_t i)
{
    const struct fw_step *step = step_at(looked, i);
    if (step->kind == FW_STEP_SET || step->kind == FW_STEP_TAKE_DOWN)
        look_at_work(looked, i);
    if (step->kind == FW_STEP_SET)
        look_at_set(looked, i);
    if (step->kind == FW_STEP_OPEN)
        look_at_dead(looked, step);
    else
        assert_int_equal(step->dead.count, 0);
    if (step->opening != FW_NONE)
        assert_int_equal(step->field,
                         looked->time->openings[step->opening].field);
}

static void look_at_all(const struct tried *tried)
{
    const struct made *made = &tried->made;
    struct looked looked = {.tried = tried,
                            .land = &made->land,
                            .time = &made->time,
                            .habits = &made->habits};
    assert_int_equal(fw_replay_begin(&made->land, &made->time, made->start,
                                     &looked.replay, NULL),
                     FW_OK);
    for (size_t m = 0; m < made->time.move_count; m++) {
        looked.move = &made->time.moves[m];
        looked.number = m;
        looked.from = m > 0 ? tried->stays[m - 1].cell : FW_NONE;
        looked.to = m < tried->count ? tried->stays[m].cell : FW_NONE;
        look_at_order(&looked);
        look_at_move(&looked);
        look_at_straight(&looked);
        look_at_gates(&looked);
        for (size_t i = looked.move->steps.first; i < end_of(looked.move);
             i++) {
            look_at_step(&looked, i);
            fw_replay_step(&looked.replay);
        }
        look_at_end(&looked);
    }
    fw_replay_end(&looked.replay);
    for (size_t i = 0; i < made->time.opening_count; i++)
        look_at_opening(&looked, i);
    look_at_ends(&looked);
}

static void every_step_has_its_reason(void **state)
{
    (void)state;
    const char *given = getenv("FW_SEED");
    static struct tried tried;
    for (uint64_t round = 1; round <= rounds; round++) {
        round_seed = given ? strtoull(given, NULL, 10) : round;
        seed = round_seed * 2654435761u + 5;
        begin(&tried);
        tried.made.habits.is_bad = is_stripe;
        tried.made.habits.room_m = draw(1, 9);
        make_all(&tried);
        look_at_all(&tried);
        unmake(&tried.made);
        if (given)
            return;
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_teardown(every_step_has_its_reason, tell_seed),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
