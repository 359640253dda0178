#include "moves_by_hand.h"

static const size_t in_row[] = {0, 1, 2, 3, 4, 5, 6, 7};

static void judge_again(struct made *made)
{
    assert_int_equal(fw_time_judge(&made->land, &made->time, &made->habits,
                                   made->start, &made->sums, NULL),
                     FW_OK);
}

static size_t step_of(const struct made *made, size_t move,
                      enum fw_step_kind kind)
{
    const struct fw_list steps = made->time.moves[move].steps;
    for (size_t i = steps.first; i < steps.first + steps.count; i++)
        if (made->time.steps[i].kind == kind)
            return i;
    fail_msg("move %zu has no step %d", move, (int)kind);
    return 0;
}

/* ---- minutes, along the way that a person walks at 60 m a minute ---- */

/* Two strips; line 0 from A in the south at (10, 0) to B at (10, 100), opened
 * at (10, 2). The car stands at (0, 0), the gate is at (0, 50). */
static struct hand walked(void)
{
    struct hand hand = hand_strips(2);
    hand_park(&hand, 0, 0);
    hand_come(&hand, 0, 0);
    hand.lines[0].work.set_min = 5;
    hand.lines[0].work.down_min = 3;
    return hand;
}

static void minutes_are_walked_from_the_car_and_back(void **state)
{
    (void)state;
    struct made made;
    make(&made, walked(), in_row, 2, hand_habits(true, false));
    /* To A; set, back at A; to B to read; to the gate and home. */
    const double first = 5 + (10 + 100 + hypot(10, 50) + 50) / 60;
    /* To the opening, which is undone and tied, and home. */
    const double second = 2 + 2 * hypot(10, 2) / 60;
    /* To the gate; to the opening, undone; with them to the gate; to A, wound
     * up to B, and home. */
    const double last =
        1 + 3 + (50 + 2 * hypot(10, 48) + hypot(10, 50) + hypot(10, 100)) / 60;
    assert_near(made.time.moves[0].minutes, first, 1e-9);
    assert_near(made.time.moves[1].minutes, second, 1e-9);
    assert_near(made.time.moves[2].minutes, last, 1e-9);
    assert_near(made.sums.minutes, first + second + last, 1e-9);
    assert_near(made.time.moves[0].passes, 2, 0);
    assert_near(made.time.moves[2].passes, 3, 0);
    assert_near(made.sums.passes, 5, 0);
    assert_near(made.sums.days, 2, 0);
    unmake(&made);
}

static void without_a_car_they_come_from_the_gate(void **state)
{
    (void)state;
    struct made made;
    struct hand hand = walked();
    hand.park_given = false;
    make(&made, hand, in_row, 2, hand_habits(true, false));
    assert_near(made.time.moves[1].minutes, 2 + 2 * hypot(10, 48) / 60, 1e-9);
    unmake(&made);
    /* Nobody told of either: from the first place on, and no way home. */
    hand = walked();
    hand.park_given = hand.gate_given = false;
    make(&made, hand, in_row, 2, hand_habits(true, false));
    assert_near(made.time.moves[0].minutes, 5 + 100.0 / 60, 1e-9);
    assert_near(made.time.moves[1].minutes, 2, 1e-9);
    unmake(&made);
}

static void second_visit_is_walked_from_home(void **state)
{
    (void)state;
    struct made made;
    struct fw_habits habits = hand_habits(true, false);
    habits.young_from = 0;
    habits.young_to = 9;
    make(&made, walked(), in_row, 2, habits);
    /* To the opening, undone, hooked on with a lead across, and home. Then from
     * the car to the far corner of strip 0 and back, to the opening, tied, and
     * home. */
    assert_near(made.time.moves[1].minutes,
                3 + (4 * hypot(10, 2) + 2 * hypot(10, 100)) / 60, 1e-9);
    unmake(&made);
}

static void
those_that_drifted_are_gathered_from_where_they_were_left(void **state)
{
    (void)state;
    struct made made;
    struct fw_habits habits = hand_habits(true, true);
    habits.drift_from = 1;
    habits.drift_to = 2;
    struct hand hand = walked();
    make(&made, hand, in_row, 2, habits);
    assert_string_equal(steps_of(&made, 2),
                        "later; count; close 0; open gate 0; open 0; walk; "
                        "count; close gate 0; take down 0");
    /* From the car to the far end of strip 0 and back; to the opening, tied; to
     * the gate; then as without. */
    assert_near(made.time.moves[2].minutes,
                2 + 3 +
                    (2 * hypot(10, 100) + hypot(10, 2) + hypot(10, 48) +
                     2 * hypot(10, 48) + hypot(10, 50) + hypot(10, 100)) /
                        60,
                1e-9);
    unmake(&made);
}

static void nothing_is_walked_from_field_to_field(void **state)
{
    (void)state;
    struct made made;
    struct hand fields[] = {walked(), walked()};
    const size_t cells[] = {0, 1, 2};
    make_start(&made, fields, 2, cells, 3, hand_habits(true, true), NULL);
    assert_string_equal(steps_of(&made, 2),
                        "set 1; hook 1; read 1; carry; open gate 1; open gate "
                        "0; open 0; walk; count; close gate 1; close gate 0; "
                        "take down 0");
    /* In the new field: to A, set, to B, to its gate, home. In the old one from
     * home: to its gate, to the opening, undone, home. In the new one: to the
     * gate with them, and closed, home. In the old one: to the gate, closed; to
     * A, wound up to B, home. */
    const double in_new = 10 + 100 + hypot(10, 50) + 50 + 50 + 50;
    const double in_old =
        50 + hypot(10, 48) + hypot(10, 2) + 50 + hypot(10, 50) + hypot(10, 100);
    assert_near(made.time.moves[2].minutes, 5 + 1 + 3 + (in_new + in_old) / 60,
                1e-9);
    unmake(&made);
}

/* ---- the kit ---- */

static void kit_is_the_most_that_stands_at_once(void **state)
{
    (void)state;
    for (int k = 0; k < 4; k++) {
        struct made made;
        make(&made, hand_blocks(), there_and_back, 8,
             hand_habits(k & 1, k & 2));
        const struct fw_land *land = &made.land;
        struct fw_replay replay;
        int reels = 0, posts = 0, night_reels = 0;
        double wire_m = 0, line_m = 0;
        assert_int_equal(fw_replay_begin(land, &made.time, NULL, &replay, NULL),
                         FW_OK);
        while (fw_replay_step(&replay)) {
            int now_reels = 0, now_posts = 0;
            double now_wire_m = 0, now_line_m = 0;
            for (size_t l = 0; l < land->line_count; l++)
                if (replay.stands[l]) {
                    now_reels += land->lines[l].work.reels;
                    now_posts += land->lines[l].work.posts;
                    now_wire_m += land->lines[l].work.wire_m;
                    now_line_m += land->lines[l].length_m;
                }
            reels = now_reels > reels ? now_reels : reels;
            posts = now_posts > posts ? now_posts : posts;
            wire_m = fmax(wire_m, now_wire_m);
            line_m = fmax(line_m, now_line_m);
            const struct fw_list steps = made.time.moves[replay.move].steps;
            if (replay.step == steps.first + steps.count &&
                now_reels > night_reels)
                night_reels = now_reels;
        }
        fw_replay_end(&replay);
        assert_int_equal(made.sums.reels, reels);
        assert_int_equal(made.sums.posts, posts);
        assert_int_equal(made.sums.night_reels, night_reels);
        assert_near(made.sums.wire_m, wire_m, 1e-9);
        assert_near(made.sums.line_m, line_m, 1e-9);
        unmake(&made);
    }
}

static void what_stands_before_counts(void **state)
{
    (void)state;
    const bool stands[] = {true, true, false, false};
    const struct fw_time_start start = {.stands = stands};
    struct made made;
    struct hand hand = hand_strips(5);
    const size_t cells[] = {4};
    make_start(&made, &hand, 1, cells, 1, hand_habits(true, true), &start);
    /* Lines 0 and 1 come down when line 3 is up. */
    assert_int_equal(made.sums.reels, 6);
    assert_string_equal(standing_after(&made, 0), "3");
    unmake(&made);
}

/* ---- moves that were written wrong ---- */

static void line_that_is_not_set_lets_them_out(void **state)
{
    (void)state;
    struct made made;
    make(&made, hand_strips(5), in_row, 5, hand_habits(true, false));
    assert_enclosed(&made);
    /* Line 2 would be the front on day 2. */
    made.time.steps[step_of(&made, 1, FW_STEP_SET)].lines.count = 0;
    judge_again(&made);
    assert_true(made.sums.faults[FW_TIME_LOOSE] > 0);
    assert_int_equal(made.sums.first[FW_TIME_LOOSE], 2);
    unmake(&made);
}

static void swap(struct made *made, size_t a, size_t b)
{
    const struct fw_step kept = made->time.steps[a];
    made->time.steps[a] = made->time.steps[b];
    made->time.steps[b] = kept;
}

static void line_that_comes_down_too_soon_lets_them_back(void **state)
{
    (void)state;
    struct made made;
    make(&made, hand_strips(5), in_row, 5, hand_habits(true, false));
    swap(&made, step_of(&made, 2, FW_STEP_CLOSE),
         step_of(&made, 2, FW_STEP_TAKE_DOWN));
    judge_again(&made);
    assert_true(made.sums.faults[FW_TIME_LOOSE] > 0);
    assert_int_equal(made.sums.first[FW_TIME_LOOSE], 2);
    unmake(&made);
}

static void
front_that_is_opened_before_the_next_is_set_lets_them_out(void **state)
{
    (void)state;
    struct made made;
    make(&made, hand_strips(5), in_row, 5, hand_habits(false, true));
    swap(&made, step_of(&made, 1, FW_STEP_SET),
         step_of(&made, 1, FW_STEP_OPEN));
    judge_again(&made);
    assert_int_equal(made.sums.first[FW_TIME_LOOSE], 1);
    assert_true(made.sums.faults[FW_TIME_LOOSE] > 0);
    unmake(&made);
}

static void opening_that_is_never_closed_lets_them_back(void **state)
{
    (void)state;
    struct made made;
    make(&made, hand_strips(5), in_row, 5, hand_habits(true, true));
    made.time.steps[step_of(&made, 1, FW_STEP_CLOSE)].kind = FW_STEP_BRIDGE;
    judge_again(&made);
    assert_int_equal(made.sums.first[FW_TIME_LOOSE], 1);
    assert_true(made.sums.faults[FW_TIME_LOOSE] > 0);
    unmake(&made);
}

static void ground_that_is_crossed_unsaid_is_let_out(void **state)
{
    (void)state;
    const size_t cells[] = {3, 4};
    struct made made;
    make(&made, hand_strips(5), cells, 2, hand_habits(true, false));
    assert_enclosed(&made);
    made.time.steps[step_of(&made, 2, FW_STEP_WALK)].over_m = 0;
    judge_again(&made);
    assert_true(made.sums.faults[FW_TIME_LOOSE] > 0);
    assert_int_equal(made.sums.first[FW_TIME_LOOSE], 2);
    unmake(&made);
}

static void reverse(struct made *made, size_t step)
{
    const struct fw_list list = made->time.steps[step].lines;
    for (size_t i = 0; i + 1 < list.count - i; i++) {
        size_t *items = made->time.items + list.first;
        const size_t kept = items[i];
        items[i] = items[list.count - 1 - i];
        items[list.count - 1 - i] = kept;
    }
}

static void block_line_comes_down_after_what_is_tied_to_it(void **state)
{
    (void)state;
    struct made made;
    make(&made, hand_blocks(), there_and_back, 8, hand_habits(false, false));
    assert_enclosed(&made);
    const size_t down = step_of(&made, 7, FW_STEP_TAKE_DOWN);
    assert_string_equal(steps_of(&made, 7),
                        "carry; open 4; count; take down 4 0");
    reverse(&made, down);
    judge_again(&made);
    assert_int_equal(made.sums.faults[FW_TIME_UNTIED], 1);
    assert_int_equal(made.sums.first[FW_TIME_UNTIED], 7);
    reverse(&made, down);
    /* It is set with line 1, which is tied to it. */
    reverse(&made, step_of(&made, 0, FW_STEP_SET));
    judge_again(&made);
    assert_int_equal(made.sums.faults[FW_TIME_UNTIED], 1);
    assert_int_equal(made.sums.first[FW_TIME_UNTIED], 0);
    /* It is not set at all: lines 1 and 2, then 3, 6, 5 and 4 have nothing to
     * be tied to. */
    reverse(&made, step_of(&made, 0, FW_STEP_SET));
    made.time.steps[step_of(&made, 0, FW_STEP_SET)].lines.first++;
    made.time.steps[step_of(&made, 0, FW_STEP_SET)].lines.count--;
    judge_again(&made);
    assert_int_equal(made.sums.faults[FW_TIME_UNTIED], 6);
    unmake(&made);
}

static void line_that_nothing_live_leads_to_is_told(void **state)
{
    (void)state;
    struct made made;
    struct hand hand = hand_strips(5);
    hand.lines[1].feeds[0] = hand.lines[1].feeds[1] = FW_FEEDS_NOTHING;
    hand.lines[2].feeds[1] = FW_FEEDS_NOTHING;
    make(&made, hand, in_row, 5, hand_habits(true, false));
    assert_int_equal(made.sums.faults[FW_TIME_NO_FEED], 1);
    /* Fenced ahead in the first move. */
    assert_int_equal(made.sums.first[FW_TIME_NO_FEED], 0);
    assert_int_equal(fw_land_fed(&made.land, 1), FW_FEEDS_NOTHING);
    assert_int_equal(fw_land_fed(&made.land, 2), FW_FEEDS_PERHAPS);
    unmake(&made);
    /* A line that hangs on it is not fed either. */
    hand = hand_blocks();
    for (int l = 0; l < 7; l++)
        hand.lines[l].feeds[0] = hand.lines[l].feeds[1] = FW_FEEDS_NOTHING;
    hand.lines[3].feeds[0] = FW_FEEDS_SURELY;
    make(&made, hand, there_and_back, 8, hand_habits(true, false));
    for (size_t l = 0; l < 7; l++)
        assert_int_equal(fw_land_fed(&made.land, l),
                         l == 3 ? FW_FEEDS_SURELY : FW_FEEDS_NOTHING);
    assert_int_equal(made.sums.faults[FW_TIME_NO_FEED], 6);
    unmake(&made);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(minutes_are_walked_from_the_car_and_back),
        cmocka_unit_test(without_a_car_they_come_from_the_gate),
        cmocka_unit_test(second_visit_is_walked_from_home),
        cmocka_unit_test(
            those_that_drifted_are_gathered_from_where_they_were_left),
        cmocka_unit_test(nothing_is_walked_from_field_to_field),
        cmocka_unit_test(kit_is_the_most_that_stands_at_once),
        cmocka_unit_test(what_stands_before_counts),
        cmocka_unit_test(line_that_is_not_set_lets_them_out),
        cmocka_unit_test(line_that_comes_down_too_soon_lets_them_back),
        cmocka_unit_test(
            front_that_is_opened_before_the_next_is_set_lets_them_out),
        cmocka_unit_test(opening_that_is_never_closed_lets_them_back),
        cmocka_unit_test(ground_that_is_crossed_unsaid_is_let_out),
        cmocka_unit_test(block_line_comes_down_after_what_is_tied_to_it),
        cmocka_unit_test(line_that_nothing_live_leads_to_is_told),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
