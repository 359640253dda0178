#include "moves_by_hand.h"

static const size_t in_row[] = {0, 1, 2, 3, 4, 5, 6, 7};

#define SET(lines) "set " lines "; hook " lines "; read " lines

/* ---- the order of work, on five strips ---- */

static void assert_moves(struct made *made, const char *const *steps,
                         const char *const *standing, size_t count)
{
    assert_int_equal(made->time.move_count, count);
    for (size_t m = 0; m < count; m++) {
        assert_string_equal(steps_of(made, m), steps[m]);
        assert_string_equal(standing_after(made, m), standing[m]);
    }
    assert_enclosed(made);
}

static void leapfrog_with_a_back_fence_has_three_lines(void **state)
{
    (void)state;
    const char *const steps[] = {
        SET("0") "; carry; open gate 0; count; close gate 0; " SET("1"),
        "carry; open 0; count; close 0; " SET("2"),
        "carry; open 1; count; close 1; take down 0; " SET("3"),
        "carry; open 2; count; close 2; take down 1",
        "carry; open 3; count; close 3; take down 2",
        "open gate 0; open 3; walk; count; close gate 0; take down 3"};
    const char *const standing[] = {"0 1", "0 1 2", "1 2 3", "2 3", "3", ""};
    struct made made;
    make(&made, hand_strips(5), in_row, 5, hand_habits(true, false));
    assert_moves(&made, steps, standing, 6);
    assert_int_equal(made.sums.reels, 6);
    assert_int_equal(made.sums.night_reels, 6);
    unmake(&made);
}

static void set_first_with_a_back_fence_has_two_overnight(void **state)
{
    (void)state;
    const char *const steps[] = {
        SET("0") "; carry; open gate 0; count; close gate 0",
        SET("1") "; carry; open 0; count; close 0",
        SET("2") "; carry; open 1; count; close 1; take down 0",
        SET("3") "; carry; open 2; count; close 2; take down 1",
        "carry; open 3; count; close 3; take down 2",
        "open gate 0; open 3; walk; count; close gate 0; take down 3"};
    const char *const standing[] = {"0", "0 1", "1 2", "2 3", "3", ""};
    struct made made;
    make(&made, hand_strips(5), in_row, 5, hand_habits(true, true));
    assert_moves(&made, steps, standing, 6);
    /* Three stand while a move is made. */
    assert_int_equal(made.sums.reels, 6);
    assert_int_equal(made.sums.night_reels, 4);
    unmake(&made);
}

static void leapfrog_without_a_back_fence_has_two_lines(void **state)
{
    (void)state;
    const char *const steps[] = {
        SET("0") "; carry; open gate 0; count; close gate 0; " SET("1"),
        "carry; open 0; count; take down 0; " SET("2"),
        "carry; open 1; count; take down 1; " SET("3"),
        "carry; open 2; count; take down 2",
        "carry; open 3; count; take down 3",
        "open gate 0; walk; count; close gate 0"};
    const char *const standing[] = {"0 1", "1 2", "2 3", "3", "", ""};
    struct made made;
    make(&made, hand_strips(5), in_row, 5, hand_habits(false, false));
    assert_moves(&made, steps, standing, 6);
    assert_int_equal(made.sums.reels, 4);
    assert_int_equal(made.sums.night_reels, 4);
    unmake(&made);
}

static void set_first_without_a_back_fence_has_one_overnight(void **state)
{
    (void)state;
    const char *const steps[] = {
        SET("0") "; carry; open gate 0; count; close gate 0",
        SET("1") "; carry; open 0; count; take down 0",
        SET("2") "; carry; open 1; count; take down 1",
        SET("3") "; carry; open 2; count; take down 2",
        "carry; open 3; count; take down 3",
        "open gate 0; walk; count; close gate 0"};
    const char *const standing[] = {"0", "1", "2", "3", "", ""};
    struct made made;
    make(&made, hand_strips(5), in_row, 5, hand_habits(false, true));
    assert_moves(&made, steps, standing, 6);
    assert_int_equal(made.sums.reels, 4);
    assert_int_equal(made.sums.night_reels, 2);
    unmake(&made);
}

/* Would sheep in that cell stay in it, as things are? */
static bool is_fenced(const struct made *made, size_t move, size_t cell)
{
    struct fw_replay replay;
    replay_to(made, move, &replay);
    bool fenced = true;
    for (size_t d = 0; d < made->land.door_count; d++)
        if (made->land.doors[d].a == cell || made->land.doors[d].b == cell)
            fenced &= replay.stands[made->land.doors[d].line];
    fw_replay_end(&replay);
    return fenced;
}

static void next_paddock_is_fenced_ahead_overnight(void **state)
{
    (void)state;
    struct made made;
    make(&made, hand_blocks(), there_and_back, 8, hand_habits(true, false));
    for (size_t m = 0; m + 2 < made.time.move_count; m++) {
        assert_true(made.time.moves[m].ahead);
        assert_true(is_fenced(&made, m, there_and_back[m + 1]));
    }
    assert_false(made.time.moves[7].ahead);
    assert_false(made.time.moves[8].ahead);
    unmake(&made);
    make(&made, hand_blocks(), there_and_back, 8, hand_habits(true, true));
    for (size_t m = 0; m < made.time.move_count; m++)
        assert_false(made.time.moves[m].ahead);
    unmake(&made);
}

static void last_move_ends_outside_with_nothing_up(void **state)
{
    (void)state;
    for (int k = 0; k < 4; k++) {
        struct made made;
        struct fw_replay replay;
        make(&made, hand_blocks(), there_and_back, 8,
             hand_habits(k & 1, k & 2));
        assert_string_equal(standing_after(&made, 8), "");
        assert_string_equal(ground_after(&made, 8), "");
        replay_to(&made, 8, &replay);
        assert_int_equal(replay.cell, FW_NONE);
        assert_int_equal(replay.field, FW_NONE);
        assert_null(fw_replay_step(&replay));
        assert_int_equal(fw_replay_key(&replay), 0);
        fw_replay_end(&replay);
        assert_int_equal(made.time.moves[8].stay, FW_NONE);
        unmake(&made);
    }
}

/* ---- winding and setting again ---- */

static void line_not_needed_for_long_is_wound_up(void **state)
{
    (void)state;
    /* Line 0 bounds strip 0 on day 0 and strip 1 on day 4. */
    const size_t cells[] = {0, 3, 4, 5, 1};
    struct made made;
    make(&made, hand_strips(6), cells, 5, hand_habits(true, false));
    assert_string_equal(standings_of(&made, 0), "0-1 3-5");
    unmake(&made);
    make(&made, hand_strips(6), cells, 5, hand_habits(true, true));
    assert_string_equal(standings_of(&made, 0), "0-1 4-5");
    unmake(&made);
}

static void line_is_not_wound_to_be_set_at_the_next_move(void **state)
{
    (void)state;
    /* Needed on days 0 and 3: with the next paddock fenced ahead it would be
     * wound at move 1 and set at move 2; set first at move 3. */
    const size_t cells[] = {0, 3, 4, 1};
    struct made made;
    make(&made, hand_strips(6), cells, 4, hand_habits(true, false));
    assert_string_equal(standings_of(&made, 0), "0-4");
    unmake(&made);
    make(&made, hand_strips(6), cells, 4, hand_habits(true, true));
    assert_string_equal(standings_of(&made, 0), "0-1 3-4");
    unmake(&made);
}

/* West of line 0 lies one paddock. East of it line 1 goes from line 0 to the
 * edge, with three paddocks on either side of it: 1 to 3 in the south, 4 to 6
 * in the north, each from the west. Lines 2 and 3 are in the south, 4 and 5 in
 * the north. */
static struct hand hand_tree(void)
{
    struct hand hand = {0};
    hand_box(&hand, FW_CELL_PADDOCK, 0, 0, 10, 100);
    for (int north = 0; north < 2; north++)
        for (int k = 0; k < 3; k++)
            hand_box(&hand, FW_CELL_PADDOCK, 10 + 30 * k, 50 * north,
                     40 + 30 * k, 50 + 50 * north);
    hand_line(&hand, FW_LAND_MOVED, 10, 0, 10, 100);
    hand_line(&hand, FW_LAND_MOVED, 10, 50, 100, 50);
    for (int north = 0; north < 2; north++)
        for (int k = 0; k < 2; k++)
            hand_line(&hand, FW_LAND_MOVED, 40 + 30 * k, 50 * north,
                      40 + 30 * k, 50 + 50 * north);
    hand_gate(&hand, 0, 50);
    return hand;
}

static const size_t about_tree[] = {0, 1, 2, 3, 6, 5, 4};

static void line_stands_while_another_is_tied_to_it(void **state)
{
    (void)state;
    /* Line 0 bounds paddocks 0, 1 and 4: on days 0, 1 and 6. But line 1 is
     * tied to it, and bounds from day 1 to day 6. */
    struct made made;
    make(&made, hand_tree(), about_tree, 7, hand_habits(true, false));
    assert_string_equal(standings_of(&made, 0), "0-7");
    assert_string_equal(standings_of(&made, 1), "0-7");
    assert_string_equal(standings_of(&made, 2), "0-3");
    assert_string_equal(standings_of(&made, 3), "1-4");
    assert_string_equal(standings_of(&made, 5), "3-6");
    assert_string_equal(standings_of(&made, 4), "4-7");
    unmake(&made);
}

static void host_is_set_before_and_comes_down_after(void **state)
{
    (void)state;
    struct made made;
    make(&made, hand_tree(), about_tree, 7, hand_habits(true, false));
    assert_string_equal(
        steps_of(&made, 0),
        SET("0") "; carry; open gate 0; count; close gate 0; " SET("1 2"));
    /* From paddock 4 through line 0 to the gate. */
    assert_string_equal(
        steps_of(&made, 7),
        "open gate 0; open 0; dead 1 4; walk; count; close gate 0; "
        "take down 4 1 0");
    assert_enclosed(&made);
    unmake(&made);
}

static void block_line_stands_until_its_block_is_done(void **state)
{
    (void)state;
    /* Without a back fence it bounds their ground until day 6; on day 7 they
     * have both blocks. */
    struct made made;
    make(&made, hand_blocks(), there_and_back, 8, hand_habits(false, false));
    assert_string_equal(standings_of(&made, 0), "0-7");
    assert_string_equal(standings_of(&made, 6), "3-5");
    assert_string_equal(steps_of(&made, 7),
                        "carry; open 4; count; take down 4 0");
    unmake(&made);
    struct fw_habits habits = hand_habits(false, false);
    habits.all_stand = true;
    make(&made, hand_blocks(), there_and_back, 8, habits);
    assert_string_equal(standings_of(&made, 0), "0-8");
    unmake(&made);
}

static void lines_in_a_ring_can_be_grazed_about(void **state)
{
    (void)state;
    /* The box in the middle last: it is bounded by all four. */
    for (int k = 0; k < 4; k++) {
        struct made made;
        struct hand hand = hand_pinwheel();
        hand_gate(&hand, 0, 20);
        make(&made, hand, in_row, 5, hand_habits(k & 1, k & 2));
        assert_string_equal(ground_after(&made, 4), k & 1 ? "4" : "0 1 2 3 4");
        assert_string_equal(standing_after(&made, 5), "");
        assert_enclosed(&made);
        unmake(&made);
    }
}

/* ---- what stood before ---- */

/* Strips 0 and 1 lie beyond line 0, the front; what was grazed behind it. */
static struct hand hand_front(void)
{
    struct hand hand = {0};
    hand_box(&hand, FW_CELL_PADDOCK, 10, 0, 20, 100);
    hand_box(&hand, FW_CELL_PADDOCK, 20, 0, 30, 100);
    hand_box(&hand, FW_CELL_GRAZED, 0, 0, 10, 100);
    hand_line(&hand, FW_LAND_MOVED, 10, 0, 10, 100);
    hand_line(&hand, FW_LAND_MOVED, 20, 0, 20, 100);
    hand_gate(&hand, 0, 50);
    return hand;
}

static void front_that_stands_is_the_first_back_fence(void **state)
{
    (void)state;
    const bool stands[] = {true, false};
    const struct fw_time_start start = {.stands = stands};
    const char *const steps[] = {
        SET("1") "; carry; open 0; open gate 0; walk; count; close 0; "
                 "close gate 0",
        "carry; open 1; count; close 1; take down 0",
        "open gate 0; open 1; walk; count; close gate 0; take down 1"};
    const char *const standing[] = {"0 1", "1", ""};
    struct made made;
    struct hand hand = hand_front();
    make_start(&made, &hand, 1, in_row, 2, hand_habits(true, false), &start);
    assert_moves(&made, steps, standing, 3);
    assert_string_equal(ground_after(&made, 0), "0");
    assert_string_equal(standings_of(&made, 0), "-1-1");
    unmake(&made);
}

static void front_comes_down_where_there_is_no_back_fence(void **state)
{
    (void)state;
    const bool stands[] = {true, false};
    const struct fw_time_start start = {.stands = stands};
    struct made made;
    struct hand hand = hand_front();
    make_start(&made, &hand, 1, in_row, 2, hand_habits(false, false), &start);
    assert_string_equal(steps_of(&made, 0),
                        SET("1") "; carry; open 0; open gate 0; walk; count; "
                                 "close gate 0; take down 0");
    assert_string_equal(ground_after(&made, 0), "0 2");
    assert_string_equal(ground_after(&made, 1), "0 1 2");
    assert_string_equal(standing_after(&made, 1), "");
    assert_enclosed(&made);
    unmake(&made);
}

static void line_of_a_later_field_stands_until_it_is_used(void **state)
{
    (void)state;
    /* Nobody has to set line 1 when they come into the second field. */
    const bool stands[] = {false, true};
    const struct fw_time_start start = {.stands = stands};
    struct made made;
    struct hand fields[] = {hand_strips(2), hand_strips(2)};
    make_start(&made, fields, 2, in_row, 4, hand_habits(true, false), &start);
    assert_string_equal(standings_of(&made, 1), "-1-4");
    assert_string_equal(steps_of(&made, 2),
                        "carry; open gate 1; open gate 0; open 0; walk; count; "
                        "close gate 1; close gate 0; take down 0");
    assert_string_equal(standing_after(&made, 4), "");
    unmake(&made);
}

/* ---- two fields ---- */

static void field_is_cleared_as_they_leave_it(void **state)
{
    (void)state;
    const char *const steps[] = {
        SET("0") "; carry; open gate 0; count; close gate 0",
        "carry; open 0; count; close 0",
        SET("1") "; carry; open gate 1; open gate 0; open 0; walk; count; "
                 "close gate 1; close gate 0; take down 0",
        "carry; open 1; count; close 1",
        "open gate 1; open 1; walk; count; close gate 1; take down 1"};
    const char *const standing[] = {"0", "0", "1", "1", ""};
    struct made made;
    struct hand fields[] = {hand_strips(2), hand_strips(2)};
    make_start(&made, fields, 2, in_row, 4, hand_habits(true, false), NULL);
    assert_moves(&made, steps, standing, 5);
    assert_string_equal(ground_after(&made, 2), "2");
    assert_int_equal(made.time.moves[2].field, 1);
    assert_int_equal(made.time.moves[4].field, 1);
    assert_true(made.time.moves[0].ahead);
    assert_false(made.time.moves[1].ahead);
    unmake(&made);
}

static void field_that_is_grazed_again_is_fenced_again(void **state)
{
    (void)state;
    /* Away for a day, and back to the same strips: they have grown. Strip 1 is
     * not theirs before its day, without a back fence either. */
    const size_t cells[] = {0, 1, 2, 0, 1};
    for (int k = 0; k < 4; k++) {
        struct made made;
        struct hand fields[] = {hand_strips(2), hand_strips(1)};
        make_start(&made, fields, 2, cells, 5, hand_habits(k & 1, k & 2), NULL);
        assert_string_equal(ground_after(&made, 1), k & 1 ? "1" : "0 1");
        assert_string_equal(ground_after(&made, 2), "2");
        assert_string_equal(ground_after(&made, 3), "0");
        assert_string_equal(ground_after(&made, 4), k & 1 ? "1" : "0 1");
        assert_string_equal(standing_after(&made, 5), "");
        assert_enclosed(&made);
        unmake(&made);
    }
}

static void rest_of_a_field_is_grazed_later(void **state)
{
    (void)state;
    /* Strips 0 and 1, another field, then strip 2: without a back fence what
     * was grazed before is theirs, so that nothing parts it from strip 2. */
    const size_t cells[] = {0, 1, 3, 2};
    struct made made;
    struct hand fields[] = {hand_strips(3), hand_strips(1)};
    make_start(&made, fields, 2, cells, 4, hand_habits(false, true), NULL);
    assert_string_equal(standing_after(&made, 3), "");
    assert_string_equal(ground_after(&made, 3), "0 1 2");
    assert_int_equal(made.sums.faults[FW_TIME_CROSSED], 0);
    assert_enclosed(&made);
    unmake(&made);
    struct hand again[] = {hand_strips(3), hand_strips(1)};
    make_start(&made, again, 2, cells, 4, hand_habits(true, true), NULL);
    assert_string_equal(ground_after(&made, 3), "2");
    assert_string_equal(standing_after(&made, 3), "1");
    assert_int_equal(made.sums.faults[FW_TIME_CROSSED], 0);
    assert_enclosed(&made);
    unmake(&made);
}

/* ---- lambs ---- */

static void young_lambs_take_a_second_visit(void **state)
{
    (void)state;
    struct fw_habits habits = hand_habits(true, false);
    habits.young_from = 0;
    habits.young_to = 2;
    struct made made;
    make(&made, hand_strips(4), in_row, 4, habits);
    /* They come from outside: nothing was left behind. */
    assert_string_equal(steps_of(&made, 0),
                        SET("0") "; carry; open gate 0; count; close gate "
                                 "0; " SET("1"));
    assert_int_equal(made.time.moves[0].later, FW_NONE);
    assert_string_equal(
        steps_of(&made, 1),
        "carry; open 0; bridge 0; later; count; close 0; " SET("2"));
    const size_t later = made.time.moves[1].later;
    assert_int_equal(made.time.steps[later].kind, FW_STEP_LATER);
    assert_int_equal(later, made.time.moves[1].steps.first + 3);
    /* On day 2 they are old enough. */
    assert_string_equal(steps_of(&made, 2),
                        "carry; open 1; count; close 1; take down 0");
    unmake(&made);
}

static void no_second_visit_where_grass_would_be_grazed_meanwhile(void **state)
{
    (void)state;
    /* From strip 0 to strip 2 over strip 1, which waits. */
    const size_t cells[] = {0, 2, 1};
    struct fw_habits habits = hand_habits(true, true);
    habits.young_from = 0;
    habits.young_to = 9;
    struct made made;
    make(&made, hand_strips(4), cells, 3, habits);
    assert_string_equal(steps_of(&made, 1),
                        SET("1 2") "; carry; open 1; open 0; walk; over 1; "
                                   "count; close 1; close 0");
    assert_int_equal(made.time.moves[1].later, FW_NONE);
    assert_string_equal(
        steps_of(&made, 2),
        "carry; open 1; bridge 1; later; count; close 1; take down 2");
    unmake(&made);
}

static void drifting_ewes_are_gathered_at_the_next_move(void **state)
{
    (void)state;
    struct fw_habits habits = hand_habits(true, false);
    habits.drift_from = 1;
    habits.drift_to = 3;
    const char *const steps[] = {
        SET("0") "; carry; open gate 0; count; close gate 0; " SET("1"),
        "carry; open 0; bridge 0; " SET("2"),
        "later; count; close 0; carry; open 1; bridge 1; " SET("3"),
        "later; count; close 1; carry; open 2; count; close 2; take down 1 0",
        "carry; open 3; count; close 3; take down 2",
        "open gate 0; open 3; walk; count; close gate 0; take down 3"};
    /* On day 2 they have strips 1 and 2: line 0 is behind them. */
    const char *const standing[] = {"0 1", "0 1 2", "0 1 2 3", "2 3", "3", ""};
    const char *const ground[] = {"0", "0 1", "1 2", "3", "4", ""};
    struct made made;
    make(&made, hand_strips(5), in_row, 5, habits);
    assert_moves(&made, steps, standing, 6);
    for (size_t m = 0; m < 6; m++)
        assert_string_equal(ground_after(&made, m), ground[m]);
    unmake(&made);
}

static void those_that_drift_are_counted_without_a_back_fence_too(void **state)
{
    (void)state;
    /* Nothing parts what they leave from what they come to. */
    struct fw_habits habits = hand_habits(false, true);
    habits.drift_from = 1;
    habits.drift_to = 2;
    struct made made;
    make(&made, hand_strips(4), in_row, 3, habits);
    assert_string_equal(steps_of(&made, 1),
                        SET("1") "; carry; open 0; take down 0");
    assert_string_equal(
        steps_of(&made, 2),
        "later; count; " SET("2") "; carry; open 1; count; take down 1");
    assert_string_equal(ground_after(&made, 1), "0 1");
    assert_string_equal(ground_after(&made, 2), "0 1 2");
    assert_enclosed(&made);
    unmake(&made);
}

static void nobody_drifts_from_field_to_field(void **state)
{
    (void)state;
    struct fw_habits habits = hand_habits(true, false);
    habits.drift_from = 0;
    habits.drift_to = 9;
    struct made made;
    struct hand fields[] = {hand_strips(2), hand_strips(2)};
    make_start(&made, fields, 2, in_row, 4, habits, NULL);
    assert_string_equal(steps_of(&made, 0),
                        SET("0") "; carry; open gate 0; count; close gate 0");
    assert_string_equal(steps_of(&made, 1), "carry; open 0; bridge 0");
    assert_string_equal(
        steps_of(&made, 2),
        "later; count; close 0; " SET(
            "1") "; carry; open gate 1; open gate 0; open 0; walk; "
                 "count; close gate 1; close gate 0; take down 0");
    assert_string_equal(steps_of(&made, 3), "carry; open 1; bridge 1");
    assert_string_equal(steps_of(&made, 4),
                        "later; count; close 1; open gate 1; open 1; walk; "
                        "count; close gate 1; take down 1");
    assert_enclosed(&made);
    unmake(&made);
}

/* ---- bad stays ---- */

static void refuses(const struct fw_time_stay *stays, size_t count,
                    const char *wanted)
{
    struct hand hand = hand_strips(3);
    struct fw_land land;
    struct fw_time time = {.stay_count = 77};
    struct fw_error err = {0};
    const struct fw_habits habits = hand_habits(true, false);
    hand_land(&hand, 1, &land);
    assert_int_equal(
        fw_time_make(&land, stays, count, &habits, NULL, &time, &err),
        FW_EINPUT);
    assert_int_equal(time.stay_count, 77);
    if (!strstr(err.text, wanted))
        fail_msg("\"%s\" does not tell of \"%s\"", err.text, wanted);
    fw_land_release(&land);
}

static void bad_stays_are_refused(void **state)
{
    (void)state;
    const struct fw_time_stay backwards[] = {{.enter = 3, .leave = 2}};
    const struct fw_time_stay empty[] = {{.enter = 3, .leave = 3}};
    const struct fw_time_stay both[] = {{.enter = 0, .leave = 3},
                                        {.cell = 1, .enter = 2, .leave = 4}};
    const struct fw_time_stay nowhere[] = {{.cell = 3, .enter = 0, .leave = 1}};
    const struct fw_time_stay outside[] = {
        {.cell = FW_NONE, .enter = 0, .leave = 1}};
    refuses(backwards, 1, "after the beginning");
    refuses(empty, 1, "after the beginning");
    refuses(both, 2, "one after the other");
    refuses(nowhere, 1, "one that there is");
    refuses(outside, 1, "one that there is");
    refuses(NULL, 0, "at least one");
}

/* ---- days ---- */

static void shift_changes_days_and_nothing_else(void **state)
{
    (void)state;
    struct made made, moved;
    make(&made, hand_blocks(), there_and_back, 8, hand_habits(true, false));
    make(&moved, hand_blocks(), there_and_back, 8, hand_habits(true, false));
    fw_time_shift(&moved.time, 100);
    for (size_t k = 0; k < 8; k++) {
        assert_int_equal(moved.time.stays[k].enter, 100 + (int)k);
        assert_int_equal(moved.time.stays[k].leave, 101 + (int)k);
        moved.time.stays[k].enter -= 100;
        moved.time.stays[k].leave -= 100;
        assert_int_equal(moved.time.stays[k].enter, made.time.stays[k].enter);
    }
    for (size_t m = 0; m < 9; m++) {
        assert_int_equal(moved.time.moves[m].day, 100 + (int)m);
        moved.time.moves[m].day -= 100;
    }
    assert_memory_equal(moved.time.moves, made.time.moves,
                        9 * sizeof *made.time.moves);
    assert_int_equal(moved.time.step_count, made.time.step_count);
    assert_memory_equal(moved.time.steps, made.time.steps,
                        made.time.step_count * sizeof *made.time.steps);
    assert_int_equal(moved.time.item_count, made.time.item_count);
    assert_memory_equal(moved.time.items, made.time.items,
                        made.time.item_count * sizeof *made.time.items);
    unmake(&made);
    unmake(&moved);
}

/* Stays of two days each, from day 10, with a day between the second and the
 * third. */
static void make_long(struct made *made)
{
    const struct fw_time_stay stays[] = {{.cell = 0, .enter = 10, .leave = 12},
                                         {.cell = 1, .enter = 12, .leave = 14},
                                         {.cell = 0, .enter = 15, .leave = 17}};
    struct hand hand = hand_strips(3);
    *made = (struct made){.habits = hand_habits(true, false)};
    hand_land(&hand, 1, &made->land);
    assert_int_equal(fw_time_make(&made->land, stays, 3, &made->habits, NULL,
                                  &made->time, NULL),
                     FW_OK);
}

static void dates_are_the_first_and_the_last(void **state)
{
    (void)state;
    struct made made;
    struct fw_time_dates dates;
    make_long(&made);
    assert_int_equal(fw_time_dates(&made.time, 3, 2, &dates, NULL), FW_OK);
    assert_int_equal(dates.cells[0].from, 10);
    assert_int_equal(dates.cells[0].to, 17);
    assert_int_equal(dates.cells[1].from, 12);
    assert_int_equal(dates.cells[1].to, 14);
    assert_int_equal(dates.cells[2].from, FW_NO_DAY);
    assert_int_equal(dates.cells[2].to, FW_NO_DAY);
    /* Line 1 bounds strip 1: fenced ahead on day 10, down when they are back in
     * strip 0. */
    assert_int_equal(dates.lines[0].from, 10);
    assert_int_equal(dates.lines[0].to, 17);
    assert_int_equal(dates.lines[1].from, 10);
    assert_int_equal(dates.lines[1].to, 15);
    fw_time_dates_release(&dates);
    const struct fw_nights nights = fw_time_nights(&made.time, 1);
    assert_int_equal(nights.from, 12);
    assert_int_equal(nights.to, 14);
    unmake(&made);
}

static void line_that_stays_up_has_no_last_day(void **state)
{
    (void)state;
    const size_t cells[] = {0, 3, 4, 5, 1};
    struct made made;
    struct fw_time_dates dates;
    make(&made, hand_strips(6), cells, 5, hand_habits(true, false));
    struct fw_standing *last = NULL;
    for (size_t i = 0; i < made.time.standing_count; i++)
        if (made.time.standings[i].line == 0)
            last = &made.time.standings[i];
    assert_non_null(last);
    last->down.move = FW_NONE;
    assert_int_equal(fw_time_dates(&made.time, 6, 5, &dates, NULL), FW_OK);
    assert_int_equal(dates.lines[0].from, 0);
    assert_int_equal(dates.lines[0].to, FW_NO_DAY);
    fw_time_dates_release(&dates);
    unmake(&made);
}

static void last_move_by_a_day(void **state)
{
    (void)state;
    struct made made;
    make_long(&made);
    const int days[] = {9, 10, 11, 12, 14, 15, 16, 17, 99};
    const size_t moves[] = {FW_NONE, 0, 0, 1, 1, 2, 2, 3, 3};
    for (size_t i = 0; i < 9; i++)
        assert_int_equal(fw_time_move_by(&made.time, days[i]), moves[i]);
    unmake(&made);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(leapfrog_with_a_back_fence_has_three_lines),
        cmocka_unit_test(set_first_with_a_back_fence_has_two_overnight),
        cmocka_unit_test(leapfrog_without_a_back_fence_has_two_lines),
        cmocka_unit_test(set_first_without_a_back_fence_has_one_overnight),
        cmocka_unit_test(next_paddock_is_fenced_ahead_overnight),
        cmocka_unit_test(last_move_ends_outside_with_nothing_up),
        cmocka_unit_test(line_not_needed_for_long_is_wound_up),
        cmocka_unit_test(line_is_not_wound_to_be_set_at_the_next_move),
        cmocka_unit_test(line_stands_while_another_is_tied_to_it),
        cmocka_unit_test(host_is_set_before_and_comes_down_after),
        cmocka_unit_test(block_line_stands_until_its_block_is_done),
        cmocka_unit_test(lines_in_a_ring_can_be_grazed_about),
        cmocka_unit_test(front_that_stands_is_the_first_back_fence),
        cmocka_unit_test(front_comes_down_where_there_is_no_back_fence),
        cmocka_unit_test(line_of_a_later_field_stands_until_it_is_used),
        cmocka_unit_test(field_is_cleared_as_they_leave_it),
        cmocka_unit_test(field_that_is_grazed_again_is_fenced_again),
        cmocka_unit_test(rest_of_a_field_is_grazed_later),
        cmocka_unit_test(young_lambs_take_a_second_visit),
        cmocka_unit_test(no_second_visit_where_grass_would_be_grazed_meanwhile),
        cmocka_unit_test(drifting_ewes_are_gathered_at_the_next_move),
        cmocka_unit_test(those_that_drift_are_counted_without_a_back_fence_too),
        cmocka_unit_test(nobody_drifts_from_field_to_field),
        cmocka_unit_test(bad_stays_are_refused),
        cmocka_unit_test(shift_changes_days_and_nothing_else),
        cmocka_unit_test(dates_are_the_first_and_the_last),
        cmocka_unit_test(line_that_stays_up_has_no_last_day),
        cmocka_unit_test(last_move_by_a_day),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
