/* What is there before the first move, ends that are alike, where the water is,
 * and what is refused. */
#include "moves/inner.h"
#include "moves_by_hand.h"

/* ---- an opening that was left ---- */

/* Two blocks; they drifted from cell 4 in the north to cell 0 south of it. */
static const bool stands[] = {true, true, false, false, true, false, false};
static const bool grazed[] = {true, false, false, false,
                              true, false, false, false};
static const struct fw_time_stay before[] = {
    {.cell = 4, .enter = -2, .leave = -1},
    {.cell = 0, .enter = -1, .leave = 0}};
static const struct fw_opening left[] = {
    {.kind = FW_OPENING_A, .line = 0, .at_m = 2, .width_m = 4}};

static void make_drifted(struct made *made, struct fw_time_start *start,
                         size_t open_count, bool back_fence)
{
    static const size_t cells[] = {1, 2};
    *start = (struct fw_time_start){.stands = stands,
                                    .grazed = grazed,
                                    .before = before,
                                    .before_count = 2,
                                    .open = left,
                                    .open_count = open_count};
    struct hand hand = hand_blocks();
    make_start(made, &hand, 1, cells, 2, hand_habits(back_fence, false), start);
}

static size_t ground_at_start(const struct made *made)
{
    struct fw_replay replay;
    size_t count;
    assert_int_equal(
        fw_replay_begin(&made->land, &made->time, made->start, &replay, NULL),
        FW_OK);
    fw_replay_ground(&replay, &count);
    fw_replay_end(&replay);
    return count;
}

static void opening_that_was_left_is_ground_until_it_is_closed(void **state)
{
    (void)state;
    struct made made;
    struct fw_time_start start;
    make_drifted(&made, &start, 1, true);
    assert_int_equal(ground_at_start(&made), 2);
    /* Line 0 stands on: its opening is closed behind them, line 4 is not of
     * their ground any more. */
    assert_non_null(
        strstr(steps_of(&made, 0), "close 1; close 0; take down 4"));
    assert_string_equal(ground_after(&made, 0), "1");
    unmake(&made);
    /* None was left: none is closed. */
    make_drifted(&made, &start, 0, true);
    assert_int_equal(ground_at_start(&made), 1);
    assert_null(strstr(steps_of(&made, 0), "close 0"));
    assert_string_equal(ground_after(&made, 0), "1");
    unmake(&made);
}

static void opening_stays_where_there_is_no_back_fence(void **state)
{
    (void)state;
    struct made made;
    struct fw_time_start start;
    make_drifted(&made, &start, 1, false);
    assert_null(strstr(steps_of(&made, 0), "close 0"));
    assert_string_equal(ground_after(&made, 0), "0 1 4");
    unmake(&made);
}

/* What stands where they were comes down as they leave, also in the first move;
 * what stands in a third field does not. */
static void field_that_they_leave_first_is_cleared(void **state)
{
    (void)state;
    const bool up[] = {true, true, true, true};
    const struct fw_time_stay last = {.cell = 1, .enter = -1, .leave = 0};
    const struct fw_time_start start = {
        .stands = up, .before = &last, .before_count = 1};
    const size_t cells[] = {3};
    struct hand fields[] = {hand_strips(3), hand_strips(2), hand_strips(2)};
    struct made made;
    make_start(&made, fields, 3, cells, 1, hand_habits(true, true), &start);
    assert_string_equal(standing_after(&made, 0), "2 3");
    assert_string_equal(standing_after(&made, 1), "3");
    assert_enclosed(&made);
    unmake(&made);
}

/* Who comes from the east has A in the east: it is the same place. */
static void opening_of_a_line_that_was_turned_is_where_it_was(void **state)
{
    (void)state;
    static const size_t cells[] = {1, 2};
    const struct fw_time_start start = {.stands = stands,
                                        .grazed = grazed,
                                        .before = before,
                                        .before_count = 2,
                                        .open = left,
                                        .open_count = 1};
    struct made made;
    struct hand hand = hand_blocks();
    hand_come(&hand, 40, 50);
    make_start(&made, &hand, 1, cells, 2, hand_habits(true, false), &start);
    size_t open = 0;
    while (open < made.time.opening_count && !made.time.openings[open].open)
        open++;
    assert_true(open < made.time.opening_count);
    const struct fw_opening *of = &made.time.openings[open];
    assert_int_equal(of->kind, FW_OPENING_B);
    assert_near(of->at_m, 38, 1e-9);
    assert_near(of->place.x_m, 2, 1e-9);
    unmake(&made);
}

/* ---- ends that are alike ---- */

/* Where A is, of a line from (10, 0) to (10, 100) and a shepherd who comes from
 * so far north on the western side. */
static double end_a_m(double come_m)
{
    static const size_t cells[] = {0, 1};
    struct made made;
    struct hand hand = hand_strips(2);
    hand_come(&hand, 0, come_m);
    make(&made, hand, cells, 2, hand_habits(true, false));
    const double a_m = fw_land_along(&made.land, 0, 0).y_m;
    unmake(&made);
    return a_m;
}

static void end_that_is_no_nearer_is_not_taken(void **state)
{
    (void)state;
    assert_near(end_a_m(49), 0, 0);
    assert_near(end_a_m(50), 0, 0);
    assert_near(end_a_m(50 + 1e-9), 0, 0);
    assert_near(end_a_m(50.001), 100, 0);
}

/* ---- water ---- */

/* Two strips and a lane north of them, where the gate is. */
static void make_drinking(struct made *made, double x, double y,
                          bool back_fence)
{
    static const size_t cells[] = {0, 1};
    struct hand hand = {0};
    hand_box(&hand, FW_CELL_PADDOCK, 0, 0, 10, 50);
    hand_box(&hand, FW_CELL_PADDOCK, 10, 0, 20, 50);
    hand_box(&hand, FW_CELL_LANE, 0, 50, 20, 54);
    hand_line(&hand, FW_LAND_LANE, 0, 50, 10, 50);
    hand_line(&hand, FW_LAND_LANE, 10, 50, 20, 50);
    hand_line(&hand, FW_LAND_MOVED, 10, 0, 10, 50);
    hand_gate(&hand, 0, 52);
    hand_water(&hand, x, y);
    struct fw_habits habits = hand_habits(back_fence, false);
    habits.trough = false;
    make(made, hand, cells, 2, habits);
}

static void lane_stays_open_only_where_the_water_is_beyond(void **state)
{
    (void)state;
    for (int back_fence = 0; back_fence < 2; back_fence++) {
        struct made made;
        make_drinking(&made, 5, 20, back_fence); /* in the first strip */
        assert_string_equal(ground_after(&made, 0), "0");
        assert_string_equal(ground_after(&made, 1), back_fence ? "1" : "0 1");
        assert_int_equal(made.sums.nights, 2);
        assert_int_equal(made.sums.dry_nights, back_fence);
        unmake(&made);
        make_drinking(&made, 19, 52, back_fence); /* in the lane */
        assert_string_equal(ground_after(&made, 0), "0 2");
        assert_string_equal(ground_after(&made, 1),
                            back_fence ? "1 2" : "0 1 2");
        assert_int_equal(made.sums.dry_nights, 0);
        unmake(&made);
    }
}

/* ---- what is tied, and handles ---- */

/* Line 0 parts west and east, lines 1 and 2 are tied to it from either side:
 * whatever stands after a move, what holds it stands too. */
static void line_stands_as_long_as_it_holds_another(void **state)
{
    (void)state;
    static const size_t cells[] = {1, 0, 2, 3};
    struct made made;
    struct hand hand = {0};
    hand_box(&hand, FW_CELL_PADDOCK, 0, 0, 20, 20);
    hand_box(&hand, FW_CELL_PADDOCK, 20, 0, 40, 20);
    hand_box(&hand, FW_CELL_PADDOCK, 0, 20, 20, 40);
    hand_box(&hand, FW_CELL_PADDOCK, 20, 20, 40, 40);
    hand_line(&hand, FW_LAND_MOVED, 20, 0, 20, 40);
    hand_line(&hand, FW_LAND_MOVED, 0, 20, 20, 20);
    hand_line(&hand, FW_LAND_MOVED, 40, 20, 20, 20);
    hand_gate(&hand, 40, 10);
    make(&made, hand, cells, 4, hand_habits(false, false));
    size_t held = 0;
    for (size_t m = 0; m < made.time.move_count; m++) {
        struct fw_replay replay;
        replay_to(&made, m, &replay);
        for (size_t l = 1; l < 3; l++) {
            held += replay.stands[l];
            assert_true(!replay.stands[l] || replay.stands[0]);
        }
        fw_replay_end(&replay);
    }
    assert_true(held > 2);
    assert_int_equal(made.sums.faults[FW_TIME_UNTIED], 0);
    assert_int_equal(made.sums.faults[FW_TIME_LOOSE], 0);
    assert_string_equal(standing_after(&made, 4), "");
    unmake(&made);
}

/* From the second strip of the south through the middle of the block line: a
 * handle in each of its two strands, with a gate told or not. */
static void handles_are_counted_with_and_without_a_gate(void **state)
{
    (void)state;
    static const size_t cells[] = {1, 5};
    for (int told = 0; told < 2; told++) {
        struct made made;
        struct hand hand = hand_blocks();
        hand.gate_given = told;
        hand_come(&hand, 0, 50);
        make(&made, hand, cells, 2, hand_habits(true, false));
        assert_int_equal(made.sums.joints, 2);
        unmake(&made);
    }
}

/* ---- refusals ---- */

static void refused(const struct fw_time_stay *stays, size_t count,
                    const struct fw_time_start *start, const char *says)
{
    struct hand hand = hand_strips(2);
    struct fw_land land;
    hand_land(&hand, 1, &land);
    const struct fw_habits habits = hand_habits(true, false);
    struct fw_time time = {.move_count = 99};
    struct fw_error err = {.text = ""};
    assert_int_equal(
        fw_time_make(&land, stays, count, &habits, start, &time, &err),
        FW_EINPUT);
    assert_string_equal(err.text, says);
    assert_int_equal(time.move_count, 99);
    fw_land_release(&land);
}

/* Day 0 is 1970-01-01. */
static void stays_are_told_by_their_number(void **state)
{
    (void)state;
    struct fw_time_stay stays[] = {{.cell = 0, .enter = 0, .leave = 1},
                                   {.cell = 2, .enter = 1, .leave = 2}};
    refused(stays, 2, NULL,
            "stay 2 is in cell 2 of 2; expected one that there is");
    stays[1].cell = 1;
    stays[1].leave = 1;
    refused(stays, 2, NULL,
            "stay 2 begins on 1970-01-02 and ends on 1970-01-02; expected the "
            "end after the beginning");
    stays[0].leave = 2;
    stays[1].leave = 3;
    refused(stays, 2, NULL,
            "stay 2 begins on 1970-01-02, before the one before it ends on "
            "1970-01-03; expected them one after the other");
    refused(stays, 0, NULL, "no stays; expected at least one");
}

static void what_was_before_is_told_by_its_number(void **state)
{
    (void)state;
    const struct fw_time_stay stays[] = {{.cell = 1, .enter = 0, .leave = 1}};
    const bool up[] = {true};
    const struct fw_time_stay lost[] = {{.cell = 2, .enter = -1, .leave = 0}};
    const struct fw_opening away[] = {
        {.kind = FW_OPENING_A, .line = 0, .at_m = 2, .width_m = 4},
        {.kind = FW_OPENING_A, .line = 1, .at_m = 2, .width_m = 4},
        {.kind = FW_OPENING_A, .line = 0, .at_m = 100.5, .width_m = 4}};
    struct fw_time_start start = {
        .stands = up, .before = lost, .before_count = 1};
    refused(stays, 1, &start,
            "a stay before the first move is in cell 2 of 2; expected one that "
            "there is");
    start = (struct fw_time_start){.stands = up, .open = away, .open_count = 2};
    refused(stays, 1, &start,
            "opening 2 is in line 1 of 1; expected one that there is");
    start.open = away + 2;
    start.open_count = 1;
    refused(stays, 1, &start,
            "opening 1 is 100.5 m along its line, where it leads from nowhere "
            "to nowhere");
}

/* An opening is in the door that it lies in, up to either end of it; in none
 * where no line is told, or beyond its ends. */
static void an_opening_is_in_its_door(void **state)
{
    (void)state;
    struct hand hand = hand_blocks();
    struct fw_land land;
    size_t doors = 0;
    hand_land(&hand, 1, &land);
    for (size_t l = 0; l < land.line_count; l++) {
        const struct fw_land_line *line = &land.lines[l];
        for (size_t d = line->first_door;
             d < line->first_door + line->door_count; d++) {
            const double from_m = land.doors[d].from_m;
            const double to_m = land.doors[d].to_m;
            const double at[] = {(from_m + to_m) / 2, to_m, from_m};
            for (size_t i = 0; i < 3; i++) {
                const struct fw_opening opening = {.line = l, .at_m = at[i]};
                const size_t got = fw_moves__door_at(&land, &opening);
                assert_true(got != FW_NONE);
                assert_true(land.doors[got].from_m <= at[i] &&
                            at[i] <= land.doors[got].to_m);
                assert_int_equal(land.doors[got].line, l);
            }
            doors++;
        }
        const double beyond[] = {-1, line->length_m + 1};
        for (size_t i = 0; i < 2; i++)
            assert_int_equal(
                fw_moves__door_at(
                    &land, &(struct fw_opening){.line = l, .at_m = beyond[i]}),
                FW_NONE);
    }
    assert_true(doors > 4);
    assert_int_equal(
        fw_moves__door_at(&land, &(struct fw_opening){.line = FW_NONE}),
        FW_NONE);
    fw_land_release(&land);
}

/* Of the lines that stand the last one that was set, step after step; none
 * before the first and after the last. */
static void the_newest_line_is_the_last_one_that_was_set(void **state)
{
    (void)state;
    static const size_t cells[] = {0, 1, 2, 3, 4};
    struct made made;
    struct fw_replay replay;
    make(&made, hand_strips(5), cells, 5, hand_habits(true, false));
    assert_int_equal(
        fw_replay_begin(&made.land, &made.time, NULL, &replay, NULL), FW_OK);
    size_t newest = FW_NONE, steps = 0, stood = 0;
    assert_int_equal(fw_replay_newest(&replay, 0), FW_NONE);
    for (const struct fw_step *step; (step = fw_replay_step(&replay));
         steps++) {
        if (step->kind == FW_STEP_SET)
            newest = made.time.items[step->lines.first + step->lines.count - 1];
        bool any = false;
        for (size_t l = 0; l < made.land.line_count; l++)
            any |= replay.stands[l];
        if (!any)
            assert_int_equal(fw_replay_newest(&replay, 0), FW_NONE);
        else if (replay.stands[newest]) {
            assert_int_equal(fw_replay_newest(&replay, 0), newest);
            stood++;
        }
    }
    assert_int_equal(fw_replay_newest(&replay, 0), FW_NONE);
    assert_true(steps > 10 && stood > 5);
    fw_replay_end(&replay);
    unmake(&made);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(opening_that_was_left_is_ground_until_it_is_closed),
        cmocka_unit_test(opening_stays_where_there_is_no_back_fence),
        cmocka_unit_test(field_that_they_leave_first_is_cleared),
        cmocka_unit_test(opening_of_a_line_that_was_turned_is_where_it_was),
        cmocka_unit_test(end_that_is_no_nearer_is_not_taken),
        cmocka_unit_test(lane_stays_open_only_where_the_water_is_beyond),
        cmocka_unit_test(line_stands_as_long_as_it_holds_another),
        cmocka_unit_test(handles_are_counted_with_and_without_a_gate),
        cmocka_unit_test(stays_are_told_by_their_number),
        cmocka_unit_test(what_was_before_is_told_by_its_number),
        cmocka_unit_test(an_opening_is_in_its_door),
        cmocka_unit_test(the_newest_line_is_the_last_one_that_was_set),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
