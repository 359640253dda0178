#include "moves_by_hand.h"

#define SET(lines) "set " lines "; hook " lines "; read " lines

/* The opening in a line, of which there is one. */
static const struct fw_opening *opening_in(const struct made *made, size_t line)
{
    const struct fw_opening *found = NULL;
    for (size_t i = 0; i < made->time.opening_count; i++)
        if (made->time.openings[i].line == line) {
            assert_null(found);
            found = &made->time.openings[i];
        }
    assert_non_null(found);
    return found;
}

static void assert_opening(const struct fw_opening *opening,
                           enum fw_opening_kind kind, double at_m, double x,
                           double y)
{
    assert_int_equal(opening->kind, kind);
    assert_near(opening->at_m, at_m, 1e-9);
    assert_near(opening->place.x_m, x, 1e-9);
    assert_near(opening->place.y_m, y, 1e-9);
}

static const struct fw_step *walk_of(const struct made *made, size_t move)
{
    const struct fw_list steps = made->time.moves[move].steps;
    for (size_t i = steps.first; i < steps.first + steps.count; i++)
        if (made->time.steps[i].kind == FW_STEP_WALK)
            return &made->time.steps[i];
    return NULL;
}

/* A millimetre is added for each cell that waits, so that none is free. */
#define COUNTED(cells) (1e-3 * (cells))

/* ---- openings ---- */

static void line_is_opened_at_its_fed_end(void **state)
{
    (void)state;
    const size_t cells[] = {0, 1};
    struct made made;
    struct hand hand = hand_strips(2);
    hand_come(&hand, 0, 0);
    make(&made, hand, cells, 2, hand_habits(true, false));
    assert_opening(opening_in(&made, 0), FW_OPENING_A, 2, 10, 2);
    assert_near(opening_in(&made, 0)->width_m, 4, 0);
    unmake(&made);
    /* From where the shepherd comes the north is nearer. */
    hand = hand_strips(2);
    hand_come(&hand, 0, 100);
    make(&made, hand, cells, 2, hand_habits(true, false));
    assert_opening(opening_in(&made, 0), FW_OPENING_A, 2, 10, 98);
    unmake(&made);
    /* But a boundary that is hot is better than a short way. */
    hand = hand_strips(2);
    hand_come(&hand, 0, 100);
    hand.lines[0].feeds[0] = FW_FEEDS_SURELY;
    make(&made, hand, cells, 2, hand_habits(true, false));
    assert_opening(opening_in(&made, 0), FW_OPENING_A, 2, 10, 2);
    unmake(&made);
    /* And one that is dead is worse than any. */
    hand = hand_strips(2);
    hand_come(&hand, 0, 0);
    hand.lines[0].feeds[0] = FW_FEEDS_NOTHING;
    make(&made, hand, cells, 2, hand_habits(true, false));
    assert_opening(opening_in(&made, 0), FW_OPENING_A, 2, 10, 98);
    unmake(&made);
}

/* Through the block line, fed in the west, from a strip of the south to the one
 * north of it. */
static void make_across(struct made *made, size_t strip,
                        struct fw_habits habits)
{
    const size_t cells[] = {strip, strip + 4};
    struct hand hand = hand_blocks();
    hand_come(&hand, 0, 50);
    make(made, hand, cells, 2, habits);
}

static void opening_is_where_its_door_is(void **state)
{
    (void)state;
    struct made made;
    const struct fw_habits habits = hand_habits(true, false);
    make_across(&made, 0, habits);
    assert_opening(opening_in(&made, 0), FW_OPENING_A, 2, 2, 50);
    unmake(&made);
    make_across(&made, 3, habits);
    assert_opening(opening_in(&made, 0), FW_OPENING_B, 38, 38, 50);
    unmake(&made);
    /* From 10 m to 20 m: clear of the post of line 1 by 2 m. */
    make_across(&made, 1, habits);
    assert_opening(opening_in(&made, 0), FW_OPENING_JOINT, 14, 14, 50);
    assert_int_equal(made.sums.joints, 2);
    unmake(&made);
    /* One of 8 m has no room for that: in the middle. */
    struct fw_habits wide = habits;
    wide.opening_m = 8;
    make_across(&made, 1, wide);
    assert_opening(opening_in(&made, 0), FW_OPENING_JOINT, 15, 15, 50);
    unmake(&made);
}

static bool is_in_box(const void *of, size_t field, struct fw_point at)
{
    const double *box = of;
    assert_int_equal(field, 0);
    return at.x_m >= box[0] && at.y_m >= box[1] && at.x_m <= box[2] &&
           at.y_m <= box[3];
}

static void bad_ground_is_avoided(void **state)
{
    (void)state;
    const double south[] = {0, 0, 40, 10}, all[] = {0, 0, 40, 100};
    const double ends[] = {0, 0, 3.9, 100};
    const size_t cells[] = {0, 1};
    struct made made;
    struct fw_habits habits = hand_habits(true, false);
    habits.is_bad = is_in_box;
    struct hand hand = hand_strips(2);
    hand_come(&hand, 0, 0);
    habits.of = south;
    make(&made, hand, cells, 2, habits);
    assert_opening(opening_in(&made, 0), FW_OPENING_B, 98, 10, 98);
    unmake(&made);
    /* Where all is bad the fed end is as good as any. */
    hand = hand_strips(2);
    hand_come(&hand, 0, 0);
    habits.of = all;
    make(&made, hand, cells, 2, habits);
    assert_opening(opening_in(&made, 0), FW_OPENING_A, 2, 10, 2);
    unmake(&made);
    habits.of = ends;
    make_across(&made, 0, habits);
    assert_opening(opening_in(&made, 0), FW_OPENING_JOINT, 4, 4, 50);
    unmake(&made);
}

static void opening_is_no_wider_than_its_door(void **state)
{
    (void)state;
    struct made made;
    struct fw_habits habits = hand_habits(true, false);
    habits.opening_m = 12;
    habits.way_m = 11;
    make_across(&made, 1, habits);
    assert_near(opening_in(&made, 0)->width_m, 10, 1e-9);
    assert_near(opening_in(&made, 0)->at_m, 15, 1e-9);
    /* No stretch is wide enough for this flock: into the first strip nothing
     * is opened but the gate; the way across, and out again, is narrow. */
    assert_true(made.sums.faults[FW_TIME_NARROW] > 0);
    unmake(&made);
    habits.way_m = 10;
    make_across(&made, 1, habits);
    assert_int_equal(made.sums.faults[FW_TIME_NARROW], 0);
    unmake(&made);
}

/* East of the line lies a triangle whose sides come in at its ends by an angle:
 * so far along it is as deep as that times the tangent. Of 4 m they can spare
 * one: beside the end it is 1 m along that counts, at a handle 2 m off the end
 * 3 m. */
static void edge_aslant_leaves_less_room(void **state)
{
    (void)state;
    const double degs[] = {15, 30, 44, 46, 60, 70, 71, 72, 73, 80, 85};
    const size_t cells[] = {0, 1};
    for (size_t i = 0; i < sizeof degs / sizeof *degs; i++) {
        const double rise = tan(degs[i] * acos(-1) / 180);
        const struct fw_point corners[] = {
            {10, 0}, {10 + 50 * rise, 50}, {10, 100}};
        struct hand hand = {0};
        struct made made;
        hand_box(&hand, FW_CELL_PADDOCK, 0, 0, 10, 100);
        hand_cell(&hand, FW_CELL_PADDOCK, corners, 3);
        hand_line(&hand, FW_LAND_MOVED, 10, 0, 10, 100);
        hand_gate(&hand, 0, 50);
        make(&made, hand, cells, 2, hand_habits(true, false));
        const struct fw_opening *opening = &made.time.openings[1];
        const bool at_end = rise >= 3;
        assert_int_equal(opening->kind,
                         at_end ? FW_OPENING_A : FW_OPENING_JOINT);
        assert_near(opening->at_m, at_end ? 2 : 4, 1e-9);
        assert_near(opening->room_m, fmin(3, at_end ? rise : 3 * rise), 1e-6);
        assert_int_equal(fw_opening_is_tight(opening, &made.habits),
                         3 * rise < 3);
        assert_int_equal(made.sums.faults[FW_TIME_NARROW] > 0, 3 * rise < 3);
        unmake(&made);
    }
}

static void opening_tells_where_it_leads(void **state)
{
    (void)state;
    /* The gate is in the east, and line 1 nearer to it than line 0; lines are
     * drawn from either side. Into strip 1 over strips 4, 3 and 2. */
    const size_t cells[] = {1};
    struct made made;
    struct hand hand = hand_strips(5);
    struct hand_shape *line = &hand.lines[2];
    const struct fw_point first = line->corners[0];
    line->corners[0] = line->corners[1];
    line->corners[1] = first;
    hand_gate(&hand, 50, 50);
    make(&made, hand, cells, 1, hand_habits(true, false));
    assert_int_equal(opening_in(&made, 1)->from, 2);
    assert_int_equal(opening_in(&made, 1)->to, 1);
    assert_int_equal(opening_in(&made, 1)->move, 0);
    assert_string_equal(steps_of(&made, 0),
                        SET("1 0") "; carry; open 1; open gate 0; walk; over 4 "
                                   "3 2; count; close 1; close gate 0");
    assert_int_equal(made.time.openings[0].kind, FW_OPENING_GATE);
    assert_int_equal(made.time.openings[0].move, FW_NONE);
    unmake(&made);
}

/* ---- what is dead meanwhile ---- */

static const char *across(struct made *made, struct fw_habits habits,
                          enum fw_feeds edge)
{
    const size_t cells[] = {2, 3, 7, 6};
    struct hand hand = hand_blocks();
    for (int l = 1; l < 7; l++) /* the end on the boundary */
        hand.lines[l].feeds[l > 3] = edge;
    hand_gate(&hand, 25, 0);
    hand_come(&hand, 20, 50);
    make(made, hand, cells, 4, habits);
    return steps_of(made, 2);
}

static void lines_that_hang_on_the_opened_one_are_dead(void **state)
{
    (void)state;
    struct made made;
    struct fw_habits habits = hand_habits(true, true);
    /* The boundary is dead: lines 3 and 6, beside the flock, are fed by the
     * block line. */
    assert_string_equal(across(&made, habits, FW_FEEDS_NOTHING),
                        SET("6") "; carry; open 0; dead 3 6; count; close 0; "
                                 "take down 3");
    unmake(&made);
    /* The boundary is hot: they are fed from there. */
    assert_string_equal(across(&made, habits, FW_FEEDS_SURELY),
                        SET("6") "; carry; open 0; count; close 0; take down "
                                 "3");
    unmake(&made);
    /* Nobody told, and where the shepherd comes from the block line is nearer:
     * dead, unless the far ends are hooked on too. */
    assert_string_equal(across(&made, habits, FW_FEEDS_PERHAPS),
                        SET("6") "; carry; open 0; dead 3 6; count; close 0; "
                                 "take down 3");
    unmake(&made);
    habits.far_hooked = true;
    assert_string_equal(across(&made, habits, FW_FEEDS_PERHAPS),
                        SET("6") "; carry; open 0; count; close 0; take down "
                                 "3");
    unmake(&made);
}

/* ---- ways ---- */

static void first_paddock_far_from_the_gate_is_walked_to(void **state)
{
    (void)state;
    const size_t cells[] = {3, 4};
    struct made made;
    struct hand hand = hand_strips(5);
    hand_come(&hand, 0, 0);
    make(&made, hand, cells, 2, hand_habits(true, false));
    assert_string_equal(steps_of(&made, 0),
                        SET("2 3") "; carry; open 2; open gate 0; walk; over 0 "
                                   "1 2; count; close 2; close gate 0");
    /* Straight through lines 0 and 1, which do not stand, then to the opening
     * of line 2, which is thought 2.5 m from its fed end. */
    const double over_m = 20 + hypot(10, 47.5);
    const struct fw_step *walk = walk_of(&made, 0);
    assert_near(walk->over_m, over_m + COUNTED(3), 1e-9);
    assert_near(walk->way_m, over_m, 1e-9);
    assert_int_equal(made.sums.faults[FW_TIME_CROSSED], 2);
    assert_int_equal(made.sums.first[FW_TIME_CROSSED], 0);
    /* And out again from strip 4: strip 3 is grazed, 2 to 0 are not, and
     * nothing parts them from it. Line 3 stands; through the others straight
     * on to the gate, by the nearest place of each. */
    assert_string_equal(steps_of(&made, 2),
                        "open gate 0; open 3; walk; over 2 1 0; count; close "
                        "gate 0; take down 3");
    const struct fw_step *out = walk_of(&made, 2);
    assert_near(out->way_m, hypot(5, 47.5) + 10 + 20 + hypot(10, 47.5), 1e-9);
    assert_near(out->over_m, 10 + 20 + hypot(10, 47.5) + COUNTED(4), 1e-9);
    assert_near(made.sums.crossed_m, walk->over_m + out->over_m, 1e-9);
    assert_enclosed(&made);
    unmake(&made);
}

/* Three columns of 10 m and two rows of 50 m: cells 0 to 2 in the south, 3 to 5
 * in the north, parted by line 0; lines 1 and 2 in the south, 3 and 4 in the
 * north. */
static struct hand hand_rows(void)
{
    struct hand hand = {0};
    for (int row = 0; row < 2; row++)
        for (int k = 0; k < 3; k++)
            hand_box(&hand, FW_CELL_PADDOCK, 10 * k, 50 * row, 10 * (k + 1),
                     50 * (row + 1));
    hand_line(&hand, FW_LAND_STANDING, 0, 50, 30, 50);
    for (int row = 0; row < 2; row++)
        for (int k = 1; k < 3; k++)
            hand_line(&hand, FW_LAND_MOVED, 10 * k, 50 * row, 10 * k,
                      50 * (row + 1));
    hand_gate(&hand, 0, 25);
    return hand;
}

static void way_goes_over_grazed_ground_first(void **state)
{
    (void)state;
    /* From cell 2 to cell 3: by way of 5 and 4 there is an opening less to
     * make, but they wait; 1 and 0 are grazed. */
    const size_t cells[] = {0, 1, 2, 3};
    struct made made;
    make(&made, hand_rows(), cells, 4, hand_habits(true, true));
    assert_string_equal(steps_of(&made, 3),
                        SET("3") "; carry; open 0; dead 3; open 2; walk; "
                                 "count; close 0; take down 2");
    assert_near(walk_of(&made, 3)->over_m, 0, 0);
    assert_int_equal(walk_of(&made, 3)->cells.count, 0);
    assert_int_equal(made.sums.faults[FW_TIME_CROSSED], 0);
    assert_enclosed(&made);
    unmake(&made);
}

/* As hand_rows, but what parts the rows is a line a column: 0 to 2. */
static void grazed_ground_open_to_what_waits_is_told_by_its_name(void **state)
{
    (void)state;
    struct hand hand = hand_rows();
    struct made made;
    hand.line_count = 0;
    for (int k = 0; k < 3; k++)
        hand_line(&hand, FW_LAND_MOVED, 10 * k, 50, 10 * (k + 1), 50);
    for (int row = 0; row < 2; row++)
        for (int k = 1; k < 3; k++)
            hand_line(&hand, FW_LAND_MOVED, 10 * k, 50 * row, 10 * k,
                      50 * (row + 1));
    const size_t cells[] = {0, 1, 2};
    make(&made, hand, cells, 3, hand_habits(true, true));
    /* Back over 1 and 0 to the gate: no line parts these from 3 and 4, which
     * wait. */
    const struct fw_step *walk = walk_of(&made, 3);
    assert_true(walk->over_m > 20);
    assert_int_equal(walk->cells.count, 1);
    assert_int_equal(made.time.items[walk->cells.first], 4);
    assert_enclosed(&made);
    unmake(&made);
}

static void way_has_the_fewest_openings(void **state)
{
    (void)state;
    /* All but cell 4 is grazed before the last stay, the block line stands all
     * the time. From 0 to 4, which do not adjoin: by 1 or by 3. Two openings
     * either way; through the north the block line and line 3, through the
     * south the block line alone, as line 1 does not stand. */
    const size_t cells[] = {3, 1, 2, 5, 2, 1, 0, 4};
    struct made made;
    struct fw_habits habits = hand_habits(false, true);
    habits.all_stand = true;
    make(&made, hand_rows(), cells, 8, habits);
    const struct fw_list steps = made.time.moves[7].steps;
    size_t opened = 0;
    for (size_t i = steps.first; i < steps.first + steps.count; i++)
        opened += made.time.steps[i].kind == FW_STEP_OPEN;
    assert_int_equal(opened, 1);
    assert_int_equal(made.time.steps[steps.first + 1].kind, FW_STEP_OPEN);
    assert_near(walk_of(&made, 7)->over_m, 0, 0);
    assert_enclosed(&made);
    unmake(&made);
}

/* Four strips of 10 x 50 m along two lanes that a paddock parts: cells 0 to 3,
 * the paddock 4, lanes 5 and 6. The gate and the water are in lane 5. */
static struct hand two_lanes(void)
{
    struct hand hand = {0};
    for (int k = 0; k < 4; k++)
        hand_box(&hand, FW_CELL_PADDOCK, 10 * k, 0, 10 * (k + 1), 50);
    hand_box(&hand, FW_CELL_PADDOCK, 15, 50, 25, 54);
    hand_box(&hand, FW_CELL_LANE, 0, 50, 15, 54);
    hand_box(&hand, FW_CELL_LANE, 25, 50, 40, 54);
    for (int k = 1; k < 4; k++)
        hand_line(&hand, FW_LAND_MOVED, 10 * k, 0, 10 * k, 50);
    hand_line(&hand, FW_LAND_LANE, 0, 50, 40, 50);
    hand_line(&hand, FW_LAND_LANE, 15, 50, 15, 54);
    hand_line(&hand, FW_LAND_LANE, 25, 50, 25, 54);
    hand_gate(&hand, 0, 52);
    hand_water(&hand, 0, 53);
    return hand;
}

static void two_lanes_that_do_not_meet_are_not_one_way(void **state)
{
    (void)state;
    const size_t cells[] = {0, 1, 2, 3};
    const char *const ground[] = {"0 5", "1 5", "2", "3"};
    struct fw_habits habits = hand_habits(true, false);
    habits.trough = false;
    struct made made;
    make(&made, two_lanes(), cells, 4, habits);
    for (size_t m = 0; m < 4; m++)
        assert_string_equal(ground_after(&made, m), ground[m]);
    assert_int_equal(made.sums.nights, 4);
    assert_int_equal(made.sums.dry_nights, 2);
    assert_int_equal(made.sums.first[FW_TIME_DRY], 2);
    assert_enclosed(&made);
    unmake(&made);
}

static void outside_is_never_a_cell(void **state)
{
    (void)state;
    /* The gate is in strip 0, grazed before: no step crosses or lists what is
     * not there, and no opening of a line leads outside. */
    const size_t cells[] = {2, 1};
    const bool grazed[] = {true, false, false};
    const struct fw_time_start start = {.grazed = grazed};
    struct made made;
    struct hand hand = hand_strips(3);
    make_start(&made, &hand, 1, cells, 2, hand_habits(true, false), &start);
    for (size_t i = 0; i < made.time.step_count; i++) {
        const struct fw_list list = made.time.steps[i].cells;
        for (size_t k = 0; k < list.count; k++)
            assert_true(made.time.items[list.first + k] < 3);
    }
    for (size_t i = 0; i < made.time.opening_count; i++)
        if (made.time.openings[i].line != FW_NONE) {
            assert_true(made.time.openings[i].from < 3);
            assert_true(made.time.openings[i].to < 3);
        }
    assert_string_equal(steps_of(&made, 0),
                        SET("1") "; carry; open 1; open gate 0; walk; over 1; "
                                 "count; close 1; close gate 0; " SET("0"));
    assert_enclosed(&made);
    unmake(&made);
}

/* ---- water ---- */

static struct fw_habits to_the_water(bool back_fence, bool set_first)
{
    struct fw_habits habits = hand_habits(back_fence, set_first);
    habits.trough = false;
    return habits;
}

static void water_is_reached_over_grazed_ground(void **state)
{
    (void)state;
    const size_t cells[] = {0, 1, 2, 3};
    struct made made;
    struct hand hand = hand_strips(4);
    hand_water(&hand, 0, 50);
    make(&made, hand, cells, 4, to_the_water(false, false));
    assert_int_equal(made.sums.dry_nights, 0);
    unmake(&made);
    hand = hand_strips(4);
    hand_water(&hand, 0, 50);
    make(&made, hand, cells, 4, to_the_water(true, false));
    assert_int_equal(made.sums.dry_nights, 3);
    unmake(&made);
    /* With a trough none is dry, and it is carried where it has to be. */
    for (int back = 0; back < 2; back++) {
        hand = hand_strips(4);
        hand_water(&hand, 0, 50);
        make(&made, hand, cells, 4, hand_habits(back, false));
        assert_int_equal(made.sums.dry_nights, 0);
        for (size_t m = 0; m < 5; m++)
            assert_int_equal(made.time.moves[m].carries,
                             back && m > 0 && m < 4);
        unmake(&made);
    }
}

static void water_behind_a_closed_block_line_is_carried(void **state)
{
    (void)state;
    /* The water is in the south. The block line stands, so that what was grazed
     * in the south is no way to it. */
    struct made made;
    struct hand hand = hand_blocks();
    struct fw_habits habits = hand_habits(false, false);
    habits.all_stand = true;
    hand_water(&hand, 0, 10);
    make(&made, hand, there_and_back, 8, habits);
    for (size_t m = 0; m < 9; m++)
        assert_int_equal(made.time.moves[m].carries, m >= 4 && m < 8);
    assert_string_equal(ground_after(&made, 3), "0 1 2 3");
    assert_string_equal(ground_after(&made, 5), "6 7");
    unmake(&made);
    /* Where they go to the water, the block line is left open. */
    hand = hand_blocks();
    hand_water(&hand, 0, 10);
    habits.trough = false;
    make(&made, hand, there_and_back, 8, habits);
    assert_string_equal(ground_after(&made, 5), "0 1 2 3 6 7");
    assert_int_equal(made.sums.dry_nights, 0);
    assert_enclosed(&made);
    unmake(&made);
}

/* Six wedges from an apron of 8 m to 60 m: wedge k lies between 60 k and
 * 60 (k + 1) degrees; cell 6 is the apron, line 0 its edge, closed; line 1 + k
 * goes out at 60 k degrees to the boundary, which is hot. */
static struct hand hand_wedges(void)
{
    struct hand hand = {0};
    struct fw_point near[7], far[7];
    for (int k = 0; k < 7; k++) {
        const double angle = k % 6 * acos(-1.0) / 3;
        near[k] = (struct fw_point){8 * cos(angle), 8 * sin(angle)};
        far[k] = (struct fw_point){60 * cos(angle), 60 * sin(angle)};
    }
    for (int k = 0; k < 6; k++)
        hand_cell(&hand, FW_CELL_PADDOCK,
                  (struct fw_point[]){near[k], far[k], far[k + 1], near[k + 1]},
                  4);
    hand_cell(&hand, FW_CELL_APRON, near, 6);
    struct hand_shape *edge = hand_line(&hand, FW_LAND_LANE, 0, 0, 1, 0);
    memcpy(edge->corners, near, sizeof near);
    edge->count = 7;
    for (int k = 0; k < 6; k++)
        hand_line(&hand, FW_LAND_MOVED, near[k].x_m, near[k].y_m, far[k].x_m,
                  far[k].y_m)
            ->feeds[1] = FW_FEEDS_SURELY;
    hand_gate(&hand, 45, 15 * sqrt(3));
    hand_water(&hand, 0, 0);
    return hand;
}

static void wedges_are_tied_to_the_apron(void **state)
{
    (void)state;
    struct hand hand = hand_wedges();
    struct fw_land land;
    hand_land(&hand, 1, &land);
    assert_int_equal(land.lines[0].door_count, 6);
    assert_int_equal(land.lines[0].depth, 0);
    /* One of them where the edge begins and ends. */
    for (size_t l = 1; l < 7; l++) {
        assert_int_equal(land.lines[l].host[0], 0);
        assert_int_equal(land.lines[l].host[1], FW_NONE);
        assert_int_equal(land.lines[l].depth, 1);
    }
    fw_land_release(&land);
}

static void six_wedges_have_the_water_of_their_apron(void **state)
{
    (void)state;
    const size_t cells[] = {0, 1, 2, 3, 4, 5};
    for (int k = 0; k < 4; k++) {
        struct made made;
        make(&made, hand_wedges(), cells, 6, to_the_water(k & 1, k & 2));
        assert_int_equal(made.sums.dry_nights, 0);
        assert_enclosed(&made);
        for (size_t m = 0; m < 6; m++) {
            char one[8], all[32] = "";
            snprintf(one, sizeof one, "%zu 6", m);
            for (size_t c = 0; c <= m; c++)
                snprintf(all + strlen(all), sizeof all - strlen(all), "%zu ",
                         c);
            strcat(all, "6");
            assert_string_equal(ground_after(&made, m), k & 1 ? one : all);
        }
        unmake(&made);
    }
}

static void opening_to_the_apron_is_left_with_a_lead_across(void **state)
{
    (void)state;
    const size_t cells[] = {0, 1, 2, 3, 4, 5};
    struct made made;
    make(&made, hand_wedges(), cells, 6, to_the_water(true, true));
    assert_string_equal(steps_of(&made, 0),
                        SET("0 1 2") "; open gate 0; count; close gate 0; open "
                                     "0; bridge 0");
    /* Out by the apron and in by the apron: one opening, not two. Line 1 bounds
     * wedge 5 again. */
    assert_string_equal(steps_of(&made, 1),
                        SET("3") "; open 0; walk; count; bridge 0; close 0; "
                                 "take down 1");
    unmake(&made);
    /* Without a back fence they go to wedge 1 straight, and to the water over
     * wedge 0. */
    make(&made, hand_wedges(), cells, 6, to_the_water(false, true));
    assert_string_equal(steps_of(&made, 1),
                        SET("3") "; open 2; count; take down 2");
    unmake(&made);
    /* Water that is carried needs no opening. */
    make(&made, hand_wedges(), cells, 6, hand_habits(true, true));
    assert_string_equal(steps_of(&made, 0),
                        SET("0 1 2") "; carry; open gate 0; count; close gate "
                                     "0");
    assert_string_equal(ground_after(&made, 0), "0");
    unmake(&made);
}

/* Strips 0 to 2 south of a lane, 3 to 5 north of it, each from the west; cell 6
 * is the lane. Lines 0 and 1 along it, 2 and 3 in the south, 4 and 5 in the
 * north, from the boundary, which is hot. Gate and water are in the lane. */
static struct hand hand_lane(void)
{
    struct hand hand = {0};
    for (int north = 0; north < 2; north++)
        for (int k = 0; k < 3; k++)
            hand_box(&hand, FW_CELL_PADDOCK, 10 * k, 56 * north, 10 * (k + 1),
                     50 + 56 * north);
    hand_box(&hand, FW_CELL_LANE, 0, 50, 30, 56);
    for (int north = 0; north < 2; north++)
        hand_line(&hand, FW_LAND_LANE, 0, 50 + 6 * north, 30, 50 + 6 * north);
    for (int north = 0; north < 2; north++)
        for (int k = 1; k < 3; k++)
            hand_line(&hand, FW_LAND_MOVED, 10 * k, 56 * north, 10 * k,
                      50 + 56 * north)
                ->feeds[north] = FW_FEEDS_SURELY;
    hand_gate(&hand, 0, 53);
    hand_water(&hand, 30, 53);
    return hand;
}

static const size_t about_lane[] = {0, 1, 2, 5, 4, 3};

static void paddocks_have_the_water_of_their_lane(void **state)
{
    (void)state;
    for (int k = 0; k < 4; k++) {
        struct made made;
        make(&made, hand_lane(), about_lane, 6, to_the_water(k & 1, k & 2));
        assert_int_equal(made.sums.dry_nights, 0);
        assert_int_equal(made.sums.faults[FW_TIME_CROSSED], 0);
        assert_enclosed(&made);
        if (k & 1)
            assert_string_equal(ground_after(&made, 4), "4 6");
        unmake(&made);
    }
    /* A trough in each paddock: the lane is shut. */
    struct made made;
    make(&made, hand_lane(), about_lane, 6, hand_habits(true, true));
    assert_string_equal(ground_after(&made, 4), "4");
    assert_string_equal(steps_of(&made, 0),
                        SET("0 1 2") "; carry; open 0; open gate 0; walk; "
                                     "count; close 0; close gate 0");
    assert_enclosed(&made);
    unmake(&made);
}

static void from_side_to_side_they_go_by_the_lane(void **state)
{
    (void)state;
    struct made made;
    make(&made, hand_lane(), about_lane, 6, hand_habits(true, true));
    assert_string_equal(steps_of(&made, 3),
                        SET("5") "; carry; open 1; open 0; walk; count; close "
                                 "1; close 0; take down 3");
    assert_near(walk_of(&made, 3)->over_m, 0, 0);
    unmake(&made);
    /* It is open from strip 2 as it is, to the water. */
    make(&made, hand_lane(), about_lane, 6, to_the_water(true, true));
    assert_string_equal(steps_of(&made, 3),
                        SET("5") "; open 1; walk; count; bridge 1; close 0; "
                                 "take down 3");
    unmake(&made);
}

static void ewes_drift_straight_and_have_water_after(void **state)
{
    (void)state;
    struct made made;
    struct fw_habits habits = to_the_water(true, true);
    habits.drift_from = 1;
    habits.drift_to = 2;
    make(&made, hand_lane(), about_lane, 6, habits);
    /* The opening of strip 0 to the lane stays, as strip 0 is theirs. */
    assert_string_equal(steps_of(&made, 1), SET("3") "; open 2; bridge 2");
    assert_string_equal(ground_after(&made, 1), "0 1 6");
    assert_string_equal(ground_after(&made, 2), "2 6");
    assert_int_equal(made.sums.dry_nights, 0);
    assert_enclosed(&made);
    unmake(&made);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(line_is_opened_at_its_fed_end),
        cmocka_unit_test(opening_is_where_its_door_is),
        cmocka_unit_test(bad_ground_is_avoided),
        cmocka_unit_test(opening_is_no_wider_than_its_door),
        cmocka_unit_test(edge_aslant_leaves_less_room),
        cmocka_unit_test(opening_tells_where_it_leads),
        cmocka_unit_test(lines_that_hang_on_the_opened_one_are_dead),
        cmocka_unit_test(first_paddock_far_from_the_gate_is_walked_to),
        cmocka_unit_test(way_goes_over_grazed_ground_first),
        cmocka_unit_test(grazed_ground_open_to_what_waits_is_told_by_its_name),
        cmocka_unit_test(way_has_the_fewest_openings),
        cmocka_unit_test(two_lanes_that_do_not_meet_are_not_one_way),
        cmocka_unit_test(outside_is_never_a_cell),
        cmocka_unit_test(water_is_reached_over_grazed_ground),
        cmocka_unit_test(water_behind_a_closed_block_line_is_carried),
        cmocka_unit_test(wedges_are_tied_to_the_apron),
        cmocka_unit_test(six_wedges_have_the_water_of_their_apron),
        cmocka_unit_test(opening_to_the_apron_is_left_with_a_lead_across),
        cmocka_unit_test(paddocks_have_the_water_of_their_lane),
        cmocka_unit_test(from_side_to_side_they_go_by_the_lane),
        cmocka_unit_test(ewes_drift_straight_and_have_water_after),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
