/* Grazing of random ground in random order by random habits. After every step
 * all is found anew, by the plainest way there is: which lines stand, which
 * cells the flock can walk to, what is in use. */
#include "random_moves.h"

enum { rounds = 3000 };

/* ---- naively ---- */

static double door_m(const struct fw_land *land, size_t door)
{
    return land->doors[door].to_m - land->doors[door].from_m;
}

struct naive {
    const struct tried *tried;
    const struct fw_land *land;
    const struct fw_time *time;
    const struct fw_habits *habits;
    bool stands[most_lines];
    size_t open[most_doors], open_count; /* openings */
    bool ground[most_cells];
    size_t cell;
    int stood[most_lines]; /* standings that were begun, by line */
};

static bool is_open(const struct naive *naive, size_t door)
{
    const struct fw_door *of = &naive->land->doors[door];
    for (size_t i = 0; i < naive->open_count; i++) {
        const struct fw_opening *opening =
            &naive->time->openings[naive->open[i]];
        if (opening->line == of->line && opening->at_m > of->from_m &&
            opening->at_m < of->to_m)
            return true;
    }
    return false;
}

/* Over and over all doors, until nothing is added. */
static void flood(struct naive *naive, size_t from)
{
    bool more = from != FW_NONE;
    memset(naive->ground, 0, sizeof naive->ground);
    if (from != FW_NONE)
        naive->ground[from] = true;
    while (more) {
        more = false;
        for (size_t d = 0; d < naive->land->door_count; d++) {
            const struct fw_door *of = &naive->land->doors[d];
            if (naive->ground[of->a] == naive->ground[of->b] ||
                (naive->stands[of->line] && !is_open(naive, d)))
                continue;
            naive->ground[of->a] = naive->ground[of->b] = more = true;
        }
    }
}

static void do_step(struct naive *naive, const struct fw_step *step)
{
    for (size_t i = 0; i < step->lines.count; i++) {
        const size_t line = naive->time->items[step->lines.first + i];
        if (step->kind == FW_STEP_SET) {
            assert_false(naive->stands[line]);
            naive->stands[line] = true;
        }
        if (step->kind != FW_STEP_TAKE_DOWN)
            continue;
        assert_true(naive->stands[line]);
        naive->stands[line] = false;
        for (size_t k = naive->open_count; k-- > 0;)
            if (naive->time->openings[naive->open[k]].line == line)
                naive->open[k] = naive->open[--naive->open_count];
    }
    if (step->kind == FW_STEP_OPEN) {
        const size_t line = naive->time->openings[step->opening].line;
        for (size_t k = 0; k < naive->open_count; k++)
            assert_true(naive->open[k] != step->opening);
        assert_true(line == FW_NONE || naive->stands[line]);
        naive->open[naive->open_count++] = step->opening;
    }
    if (step->kind == FW_STEP_CLOSE) {
        bool was = false;
        for (size_t k = naive->open_count; k-- > 0;)
            if (naive->open[k] == step->opening) {
                naive->open[k] = naive->open[--naive->open_count];
                was = true;
            }
        assert_true(was);
    }
}

/* Where the flock is known to be: before the first opening where it was, after
 * the last closing where it goes to. In between both are one ground. */
struct when {
    size_t opened, closed; /* steps; FW_NONE: none */
    size_t counted;        /* the last one */
    bool crosses, walked;
};

static struct when when_of(const struct fw_time *time,
                           const struct fw_move *move)
{
    struct when when = {FW_NONE, FW_NONE, FW_NONE, false, false};
    for (size_t i = move->steps.first;
         i < move->steps.first + move->steps.count; i++) {
        const struct fw_step *step = &time->steps[i];
        when.walked |= step->kind == FW_STEP_WALK;
        when.crosses |= step->kind == FW_STEP_WALK && step->over_m > 0;
        assert_true((step->cells.count > 0) == (step->over_m > 0));
        if ((step->kind == FW_STEP_OPEN || step->kind == FW_STEP_WALK) &&
            when.opened == FW_NONE)
            when.opened = i;
        /* Until the second visit some may still be behind. */
        if (step->kind == FW_STEP_CLOSE ||
            (step->kind == FW_STEP_BRIDGE &&
             (move->later == FW_NONE || i > move->later)))
            when.closed = i;
        if (step->kind == FW_STEP_COUNT)
            when.counted = i;
    }
    return when;
}

/* Grazed in this visit, or earlier and not to be grazed in it. */
static bool is_grazed(const struct tried *tried, size_t stay, size_t cell)
{
    const struct fw_land *land = &tried->made.land;
    bool grazed =
        tried->grazed[cell] || land->cells[cell].kind == FW_CELL_GRAZED;
    bool again = false;
    for (size_t k = 0; k < tried->count; k++) {
        if (tried->stays[k].cell != cell)
            continue;
        if (tried->visit_of[k] != tried->visit_of[stay])
            grazed |= k < stay;
        else if (k <= stay)
            return true;
        else
            again = true;
    }
    return grazed && !again;
}

/* Where they are known to be: before the first opening, or before they are
 * counted in when they come from outside; and when all is closed. */
static void look_at_place(const struct tried *tried,
                          const struct fw_replay *replay, size_t move,
                          size_t index, const struct when *when)
{
    const struct fw_list steps = tried->made.time.moves[move].steps;
    const size_t before = move == 0 ? FW_NONE : tried->stays[move - 1].cell;
    const size_t after =
        move == tried->count ? FW_NONE : tried->stays[move].cell;
    const bool within =
        move > 0 && move < tried->count && in_one_field(tried, move - 1, move);
    const size_t from =
        within && when->opened != FW_NONE ? when->opened : when->counted;
    const bool closed = when->closed != FW_NONE && when->closed >= from &&
                        index >= when->closed;
    if (index < from)
        assert_int_equal(replay->cell, before);
    else if (!within || closed || index + 1 == steps.first + steps.count)
        assert_int_equal(replay->cell, after);
}

static void look_at_ground(struct naive *naive, const struct fw_replay *replay,
                           size_t move, size_t index, const struct when *when)
{
    const struct tried *tried = naive->tried;
    const struct fw_land *land = naive->land;
    const size_t stay = move < tried->count ? move : tried->count - 1;
    flood(naive, replay->cell);
    for (size_t c = 0; c < land->cell_count; c++)
        assert_int_equal(replay->ground[c], naive->ground[c]);
    look_at_place(tried, replay, move, index, when);
    const bool crossing = when->crosses && index >= when->opened &&
                          when->closed != FW_NONE && index < when->closed;
    for (size_t c = 0; c < land->cell_count && !crossing; c++) {
        if (!naive->ground[c] || land->cells[c].kind != FW_CELL_PADDOCK ||
            c == tried->stays[stay].cell)
            continue;
        if (!is_grazed(tried, stay, c) &&
            !(move > 0 && is_grazed(tried, move - 1, c)))
            fail_msg("move %zu, step %zu: cell %zu", move,
                     index - naive->time->moves[move].steps.first, c);
    }
}

/* ---- which lines stand, by definition ---- */

struct needed {
    bool at[most_lines][2 * most_cells];
    bool holds[most_lines];
};

/* A lane with the water beside a cell without; there is one at most. */
static void add_lane(const struct tried *tried, size_t cell, bool *in)
{
    const struct fw_land *land = &tried->made.land;
    for (size_t d = 0; !land->cells[cell].at_water && d < land->door_count;
         d++) {
        const struct fw_door *of = &land->doors[d];
        if ((of->a != cell && of->b != cell) ||
            door_m(land, d) < tried->made.habits.way_m - 1e-6)
            continue;
        const size_t other = of->a == cell ? of->b : of->a;
        if (land->cells[other].kind == FW_CELL_LANE &&
            land->cells[other].at_water)
            in[other] = true;
    }
}

/* The cells that they have in a stay, from what is asked. */
static void theirs(const struct tried *tried, size_t stay, bool *in,
                   size_t *kept)
{
    const struct made *made = &tried->made;
    const struct fw_land *land = &made->land;
    const size_t cell = tried->stays[stay].cell;
    const size_t field = land->cells[cell].field;
    *kept = FW_NONE;
    for (size_t c = 0; c < land->cell_count; c++)
        in[c] = c == cell ||
                (!made->habits.back_fence && land->cells[c].field == field &&
                 is_grazed(tried, stay, c));
    const int day = tried->stays[stay].enter;
    if (made->habits.back_fence && made->habits.drift_from != FW_NO_DAY &&
        day >= made->habits.drift_from && day < made->habits.drift_to &&
        stay > 0 && tried->visit_of[stay] == tried->visit_of[stay - 1]) {
        const size_t from = tried->stays[stay - 1].cell;
        size_t best = FW_NONE;
        for (size_t d = 0; d < land->door_count; d++)
            if (((land->doors[d].a == from && land->doors[d].b == cell) ||
                 (land->doors[d].b == from && land->doors[d].a == cell)) &&
                door_m(land, d) >= made->habits.way_m - 1e-6 &&
                (best == FW_NONE ||
                 door_m(land, d) > door_m(land, best) + 1e-6))
                best = d;
        if (best != FW_NONE) {
            in[from] = true;
            *kept = land->doors[best].line;
        }
    }
    for (size_t k = made->habits.back_fence ? stay : 0; k <= stay; k++)
        if (!made->habits.trough && tried->visit_of[k] == tried->visit_of[stay])
            add_lane(tried, tried->stays[k].cell, in);
}

static void mark_needed(const struct tried *tried, struct needed *needed)
{
    const struct fw_land *land = &tried->made.land;
    memset(needed, 0, sizeof *needed);
    for (size_t k = 0; k < tried->count; k++) {
        bool in[most_cells];
        size_t kept;
        theirs(tried, k, in, &kept);
        const size_t field = land->cells[tried->stays[k].cell].field;
        for (size_t l = 0; l < land->line_count; l++) {
            const struct fw_land_line *line = &land->lines[l];
            if (line->field != field)
                continue;
            needed->at[l][k] = line->role == FW_LAND_LANE || l == kept ||
                               (line->role == FW_LAND_STANDING &&
                                tried->made.habits.all_stand);
            for (size_t d = 0; d < land->door_count; d++)
                needed->at[l][k] |=
                    land->doors[d].line == l &&
                    in[land->doors[d].a] != in[land->doors[d].b];
        }
    }
}

/* From the first need to the last of one visit. */
static bool fill(const struct tried *tried, bool *at, int visit)
{
    size_t first = FW_NONE, last = 0;
    bool changed = false;
    for (size_t k = 0; k < tried->count; k++)
        if (tried->visit_of[k] == visit && at[k]) {
            first = first == FW_NONE ? k : first;
            last = k;
        }
    for (size_t k = first; first != FW_NONE && k < last; k++)
        if (!at[k])
            at[k] = changed = true;
    return changed;
}

static void hold(const struct tried *tried, struct needed *needed)
{
    const struct fw_land *land = &tried->made.land;
    const int visits = tried->visit_of[tried->count - 1] + 1;
    for (bool changed = true; changed;) {
        changed = false;
        for (int v = 0; v < visits; v++)
            for (size_t l = 0; l < land->line_count; l++) {
                bool held = land->lines[l].role == FW_LAND_STANDING;
                for (size_t g = 0; g < land->line_count; g++) {
                    if (land->lines[g].host[0] != l &&
                        land->lines[g].host[1] != l)
                        continue;
                    bool span[2 * most_cells];
                    memcpy(span, needed->at[g], sizeof span);
                    fill(tried, span, v);
                    for (size_t k = 0; k < tried->count; k++) {
                        if (tried->visit_of[k] != v || !span[k])
                            continue;
                        held = true;
                        if (!needed->at[l][k])
                            needed->at[l][k] = changed = true;
                    }
                }
                if (held)
                    changed |= fill(tried, needed->at[l], v);
            }
    }
}

/* A line stands after a move when it is needed in the stay or, fenced ahead, in
 * the next one of the visit; and where it would be wound for one move only. */
static bool is_wanted(const struct tried *tried, const struct needed *needed,
                      size_t line, size_t stay)
{
    size_t before = FW_NONE, after = FW_NONE;
    if (stay >= tried->count)
        return false;
    for (size_t k = 0; k < tried->count; k++)
        if (in_one_field(tried, k < stay ? k : stay, k < stay ? stay : k) &&
            needed->at[line][k]) {
            if (k <= stay)
                before = k;
            else if (after == FW_NONE)
                after = k;
        }
    if (before == stay)
        return true;
    const size_t ahead = after != FW_NONE && !tried->made.habits.set_first &&
                         after > 0 &&
                         tried->visit_of[after - 1] == tried->visit_of[after];
    /* Off at before + 1, on at after: wound when there is more than a move
     * between winding and setting. */
    if (before != FW_NONE && after != FW_NONE)
        return after - (before + 1) <= ahead + 1 || after <= stay + ahead;
    return after != FW_NONE && after <= stay + ahead;
}

/* ---- all of it ---- */

static void look_at_lines(const struct naive *naive,
                          const struct needed *needed, size_t move)
{
    const struct tried *tried = naive->tried;
    const struct fw_land *land = naive->land;
    for (size_t l = 0; l < land->line_count; l++) {
        const bool wanted = is_wanted(tried, needed, l, move);
        /* What stood before may be used at any time. */
        if (wanted != naive->stands[l] && !tried->stands[l])
            fail_msg("line %zu after move %zu: %d", l, move, naive->stands[l]);
        if (wanted)
            assert_true(naive->stands[l]);
    }
}

struct kit {
    int reels, posts, joints;
    double wire_m, line_m;
};

static struct kit kit_of(const struct naive *naive)
{
    struct kit kit = {0};
    for (size_t l = 0; l < naive->land->line_count; l++) {
        if (!naive->stands[l])
            continue;
        const struct fw_land_line *line = &naive->land->lines[l];
        kit.reels += line->work.reels;
        kit.posts += line->work.posts;
        kit.wire_m += line->work.wire_m;
        kit.line_m += line->length_m;
        for (size_t i = 0; i < naive->time->opening_count; i++)
            if (naive->time->openings[i].line == l &&
                naive->time->openings[i].kind == FW_OPENING_JOINT)
                kit.joints += naive->habits->strands;
    }
    return kit;
}

static void most_of(struct kit *most, struct kit kit)
{
    most->reels = kit.reels > most->reels ? kit.reels : most->reels;
    most->posts = kit.posts > most->posts ? kit.posts : most->posts;
    most->joints = kit.joints > most->joints ? kit.joints : most->joints;
    most->wire_m = fmax(most->wire_m, kit.wire_m);
    most->line_m = fmax(most->line_m, kit.line_m);
}

/* What is open when a move is over has a lead across the gap. */
static void look_at_leads(const struct fw_time *time,
                          const struct fw_replay *replay, size_t done)
{
    for (size_t o = 0; o < time->opening_count; o++) {
        size_t last = FW_NONE;
        if (!replay->open[o])
            continue;
        for (size_t i = 0; i < done; i++)
            if (time->steps[i].opening == o)
                last = i;
        assert_true(last != FW_NONE);
        assert_int_equal(time->steps[last].kind, FW_STEP_BRIDGE);
    }
}

static void look_at_sums(const struct tried *tried, const struct kit *most,
                         size_t dry)
{
    const struct fw_time_sums *sums = &tried->made.sums;
    assert_enclosed(&tried->made);
    assert_int_equal(sums->reels, most->reels);
    assert_int_equal(sums->posts, most->posts);
    assert_int_equal(sums->joints, most->joints);
    assert_near(sums->wire_m, most->wire_m, 1e-6);
    assert_near(sums->line_m, most->line_m, 1e-6);
    assert_int_equal(sums->dry_nights, tried->made.habits.trough ? 0 : dry);
    int nights = 0;
    for (size_t k = 0; k < tried->count; k++)
        nights += tried->stays[k].leave - tried->stays[k].enter;
    assert_int_equal(sums->nights, nights);
    double minutes = 0;
    for (size_t m = 0; m < tried->made.time.move_count; m++) {
        assert_true(tried->made.time.moves[m].minutes >= 0);
        minutes += tried->made.time.moves[m].minutes;
    }
    assert_near(sums->minutes, minutes, 1e-6);
}

static bool has_water(const struct naive *naive)
{
    for (size_t c = 0; c < naive->land->cell_count; c++)
        if (naive->ground[c] && naive->land->cells[c].at_water)
            return true;
    return false;
}

/* Every standing from the step that sets it to the one that takes it down. */
static void look_at_standings(const struct tried *tried)
{
    const struct fw_time *time = &tried->made.time;
    size_t set = 0;
    for (size_t i = 0; i < time->step_count; i++)
        if (time->steps[i].kind == FW_STEP_SET)
            set += time->steps[i].lines.count;
    for (size_t l = 0; l < tried->made.land.line_count; l++)
        set += tried->stands[l];
    assert_int_equal(time->standing_count, set);
    for (size_t i = 0; i < time->standing_count; i++) {
        const struct fw_standing *of = &time->standings[i];
        const struct fw_time_when ends[2] = {of->up, of->down};
        for (int e = 0; e < 2; e++) {
            if (ends[e].move == FW_NONE) {
                assert_true(tried->stands[of->line]);
                continue;
            }
            const struct fw_step *step = &time->steps[ends[e].step];
            const struct fw_list moves = time->moves[ends[e].move].steps;
            bool named = false;
            assert_true(ends[e].step >= moves.first &&
                        ends[e].step < moves.first + moves.count);
            assert_int_equal(step->kind, e ? FW_STEP_TAKE_DOWN : FW_STEP_SET);
            for (size_t k = 0; k < step->lines.count; k++)
                named |= time->items[step->lines.first + k] == of->line;
            assert_true(named);
        }
    }
}

/* Nobody asked for what stands in a field where they do not go. */
static bool is_visited(const struct tried *tried, size_t line)
{
    const struct fw_land *land = &tried->made.land;
    bool visited = false;
    for (size_t k = 0; k < tried->count; k++)
        visited |=
            land->cells[tried->stays[k].cell].field == land->lines[line].field;
    return visited;
}

static void go_through(const struct tried *tried)
{
    const struct fw_time *time = &tried->made.time;
    static struct needed needed;
    struct naive naive = {.tried = tried,
                          .land = &tried->made.land,
                          .time = time,
                          .habits = &tried->made.habits,
                          .cell = FW_NONE};
    struct fw_replay replay;
    size_t index = 0, dry = 0;
    mark_needed(tried, &needed);
    hold(tried, &needed);
    memcpy(naive.stands, tried->stands, sizeof naive.stands);
    struct kit most = kit_of(&naive);
    assert_int_equal(
        fw_replay_begin(&tried->made.land, time, &tried->start, &replay, NULL),
        FW_OK);
    assert_int_equal(time->move_count, tried->count + 1);
    for (size_t m = 0; m < time->move_count; m++) {
        const struct when when = when_of(time, &time->moves[m]);
        const struct fw_list steps = time->moves[m].steps;
        assert_int_equal(steps.first, index);
        for (; index < steps.first + steps.count; index++) {
            size_t count;
            const struct fw_step *step = fw_replay_step(&replay);
            assert_ptr_equal(step, &time->steps[index]);
            assert_int_equal(replay.move, m);
            do_step(&naive, step);
            for (size_t l = 0; l < naive.land->line_count; l++)
                assert_int_equal(replay.stands[l], naive.stands[l]);
            fw_replay_ground(&replay, &count);
            look_at_ground(&naive, &replay, m, index, &when);
            if (step->kind == FW_STEP_SET || step->kind == FW_STEP_TAKE_DOWN)
                most_of(&most, kit_of(&naive));
        }
        look_at_leads(time, &replay, index);
        look_at_lines(&naive, &needed, m);
        assert_int_equal(fw_replay_has_water(&replay), has_water(&naive));
        if (m < tried->count && !has_water(&naive))
            dry += (size_t)(tried->stays[m].leave - tried->stays[m].enter);
        if (m < tried->count && tried->made.habits.trough)
            assert_int_equal(time->moves[m].carries, !has_water(&naive));
    }
    assert_null(fw_replay_step(&replay));
    for (size_t l = 0; l < naive.land->line_count; l++)
        assert_int_equal(naive.stands[l],
                         tried->stands[l] && !is_visited(tried, l));
    assert_int_equal(naive.open_count, 0);
    fw_replay_end(&replay);
    look_at_standings(tried);
    look_at_sums(tried, &most, dry);
}

/* Stop somewhere and go on from what stands then. */
static void go_on(struct tried *tried)
{
    struct made *made = &tried->made;
    const size_t stop = draw_count(0, tried->count - 1);
    struct fw_replay replay;
    assert_int_equal(
        fw_replay_begin(&made->land, &made->time, made->start, &replay, NULL),
        FW_OK);
    fw_replay_to_move(&replay, stop);
    for (size_t l = 0; l < made->land.line_count; l++)
        tried->stands[l] = replay.stands[l];
    for (size_t c = 0; c < made->land.cell_count; c++)
        tried->grazed[c] = replay.grazed[c];
    fw_replay_end(&replay);
    fw_time_release(&made->time);
    tried->count -= stop + 1;
    memmove(tried->stays, tried->stays + stop + 1,
            tried->count * sizeof *tried->stays);
    memmove(tried->visit_of, tried->visit_of + stop + 1,
            tried->count * sizeof *tried->visit_of);
}

static void every_step_is_what_it_seems(void **state)
{
    (void)state;
    const char *given = getenv("FW_SEED");
    static struct tried tried;
    for (uint64_t round = 1; round <= rounds; round++) {
        round_seed = given ? strtoull(given, NULL, 10) : round;
        seed = round_seed * 2654435761u + 1;
        begin(&tried);
        make_all(&tried);
        go_through(&tried);
        go_on(&tried);
        if (tried.count > 0) {
            make_all(&tried);
            go_through(&tried);
        }
        unmake(&tried.made);
        if (given)
            return;
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_teardown(every_step_is_what_it_seems, tell_seed),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
