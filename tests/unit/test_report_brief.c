/* Every way in which a step is said in a few words, worked out by hand from the
 * plan made by hand. */
#include "plan_in_hand.h"
#include "read_back.h"

#include "report/steps.h"

/* The i-th step of a move. */
static void brief_is(const struct hand *hand, size_t move, size_t i,
                     const char *words)
{
    struct fw_text text = {0};
    const size_t index = hand->moves[move].steps.first + i - 1;
    const struct fw_report_saying saying = {&hand->plan, move,
                                            &hand->steps[index], index, false};
    fw_report_say_brief(&text, &saying);
    if (strcmp(text.bytes ? text.bytes : "", words) != 0)
        fail_msg("\"%s\"; expected \"%s\"", text.bytes, words);
    fw_text_release(&text);
}

/* ---- setting ---- */

static void a_line_is_set_by_its_paces(void **state)
{
    (void)state;
    struct hand hand;
    take_in_hand(&hand);
    brief_is(&hand, 0, 1,
             "Set A01-02, 100 paces. A: 60 from corner 9 along side 0, 25 on "
             "from A-line-1. B: 75 along A-line-1 from its B. Set A-line-1, "
             "150 paces. A: 16 from end B of A01-02, bearing 214 (south-west). "
             "B: 17 from corner 7, bearing 0 (north).");
    brief_is(&hand, 1, 5,
             "Set A-side-lane, 113 paces. A: 18 from corner 0 to 9. B: 19 from "
             "corner 7 along side 8.");
    hand.fences[3].lay_min = 0.5;
    brief_is(&hand, 1, 5,
             "Set A-side-lane, 113 paces. A: 18 from corner 0 to 9. B: 19 from "
             "corner 7 along side 8. Lay the grass flat first.");
}

static void end_is(struct fw_plan_paced paced, const char *words)
{
    struct hand hand;
    char all[200];
    take_in_hand(&hand);
    hand.fences[3].a = paced;
    snprintf(all, sizeof all,
             "Set A-side-lane, 113 paces. A: %s. B: 19 from corner 7 along "
             "side 8.",
             words);
    brief_is(&hand, 1, 5, all);
}

static void ends_are_counted_in_paces(void **state)
{
    (void)state;
    end_is((struct fw_plan_paced){.by = FW_PACED_UNTOLD,
                                  .fence = FW_NONE,
                                  .on_from = FW_NONE},
           "see fence.gpx");
    struct fw_plan_paced side = {FW_PACED_SIDE, 0, 2, FW_NONE, false, 1, 1, -1,
                                 FW_NONE,       -1};
    end_is(side, "1 from corner 7 to 9");
    side.on_from = 4;
    side.on_paces = 3;
    end_is(side, "1 from corner 7 to 9, 3 on from B-front");
    side.on_paces = 1;
    end_is(side, "1 from corner 7 to 9, 1 on from B-front");
    side.on_paces = 0;
    end_is(side, "1 from corner 7 to 9");
    side.paces = 0;
    end_is(side, "at corner 7");
    side.on_paces = 3;
    end_is(side, "at corner 7, 3 on from B-front");
    struct fw_plan_paced along = {
        FW_PACED_LINE, FW_NONE, FW_NONE, 2, false, 1, 12, -1, FW_NONE, -1};
    end_is(along, "12 along A-line-1 from its A");
    along.far_end = true;
    end_is(along, "12 along A-line-1 from its B");
    along.paces = 0;
    end_is(along, "at the end of A-line-1");
    struct fw_plan_paced straight = {
        FW_PACED_STRAIGHT, 2, FW_NONE, 0, true, 1, 1, 90, 4, 5};
    end_is(straight, "1 from end B of A01-02, bearing 90 (east)");
    straight.far_end = false;
    end_is(straight, "1 from end A of A01-02, bearing 90 (east)");
    straight.fence = FW_NONE;
    end_is(straight, "1 from corner 9, bearing 90 (east)");
    straight.paces = 0;
    end_is(straight, "at corner 9, 5 on from B-front");
}

/* ---- live ---- */

static void lines_are_hooked_on_at_one_end_or_both(void **state)
{
    (void)state;
    struct hand hand;
    take_in_hand(&hand);
    brief_is(&hand, 0, 2,
             "Hook them on at A, last of all. Earth to earth first.");
    brief_is(&hand, 1, 6,
             "Hook it on at A, last of all. Then at B. Earth to earth first.");
    hand.plan.power.earth_return = false;
    brief_is(&hand, 0, 2, "Hook them on at A, last of all.");
    brief_is(&hand, 1, 6, "Hook it on at A, last of all. Then at B.");
    hand.fences[2].strands = 3; /* of two the second is hooked on at B */
    brief_is(&hand, 0, 2, "Hook them on at A, last of all. Then at B.");
    hand.plan.wiring.far_hooked = false;
    brief_is(&hand, 0, 2, "Hook them on at A, last of all.");
}

static void readings_have_their_limit(void **state)
{
    (void)state;
    struct hand hand;
    take_in_hand(&hand);
    brief_is(&hand, 0, 3,
             "Read at B: A01-02 6.1 kV, act under 5.3; A-line-1 NOTHING FEEDS "
             "IT.");
    brief_is(&hand, 1, 7, "Read at B: NOTHING FEEDS IT.");
    hand.readings[0].far_v = 5000;
    brief_is(&hand, 0, 3,
             "Read at B: A01-02 5.0 kV, TOO LITTLE: 5.3 wanted; A-line-1 "
             "NOTHING FEEDS IT.");
    hand.readings[0].far_v = hand.readings[0].wanted_v = 5300;
    brief_is(&hand, 0, 3,
             "Read at B: A01-02 5.3 kV, act under 5.3; A-line-1 NOTHING FEEDS "
             "IT.");
    hand.readings[0].far_v = 0;
    brief_is(&hand, 0, 3,
             "Read at B: A01-02 NOTHING FEEDS IT; A-line-1 NOTHING FEEDS IT.");
}

/* ---- openings ---- */

static void gates_and_lines_are_opened(void **state)
{
    (void)state;
    struct hand hand;
    take_in_hand(&hand);
    brief_is(&hand, 0, 5, "Open the gate of Low \"meadow\".");
    brief_is(&hand, 1, 1,
             "Unhook A01-02: dead? Open C, 5.3 m at A: they go into A02. Dead "
             "too: the block line A-line-1. It is tight: a few at a time.");
    brief_is(&hand, 2, 2,
             "Unhook A-line-1: dead? Open C, 4.8 m at the handles.");
    brief_is(&hand, 3, 1,
             "Unhook B-front: dead? Open C, 4.3 m at B. It is tight: a few at "
             "a time.");
    hand.steps[8].dead.count = 0;
    hand.gates[2].tight = false;
    brief_is(&hand, 1, 1,
             "Unhook A01-02: dead? Open C, 5.3 m at A: they go into A02.");
    hand.steps[9].kind = FW_STEP_WALK; /* they do not go by themselves */
    brief_is(&hand, 1, 1, "Unhook A01-02: dead? Open C, 5.3 m at A.");
    hand.plan.units = FW_US;
    brief_is(&hand, 1, 1, "Unhook A01-02: dead? Open C, 17 ft at A.");
    hand.plan.field_count = 2; /* of two it is told which */
    brief_is(&hand, 0, 5, "Open the gate of Low \"meadow\".");
    hand.plan.field_count = 1;
    brief_is(&hand, 0, 5, "Open the gate.");
    hand.steps[5].kind = FW_STEP_CARRY;
    brief_is(&hand, 0, 5, "Open the gate: they go into A01.");
}

static void gates_and_lines_are_closed(void **state)
{
    (void)state;
    struct hand hand;
    take_in_hand(&hand);
    brief_is(&hand, 0, 8, "Close the gate of Low \"meadow\".");
    brief_is(&hand, 1, 4, "Leave C open, a lead across; hook A01-02 on: hot?");
    brief_is(&hand, 2, 5, "Close C; hook A-line-1 on: hot?");
    hand.steps[19].opening = 2; /* that was left open before */
    brief_is(&hand, 2, 5, "Close A01-02; hook A01-02 on: hot?");
    hand.plan.field_count = 1;
    brief_is(&hand, 0, 8, "Close the gate.");
}

/* ---- the flock ---- */

static void the_flock_is_walked_and_counted(void **state)
{
    (void)state;
    struct hand hand;
    take_in_hand(&hand);
    brief_is(&hand, 0, 4, "Water and mineral into A01.");
    brief_is(&hand, 0, 6, "Walk them into A01.");
    brief_is(&hand, 2, 3,
             "Walk them over 13 m of ungrazed grass, close together, into "
             "B01.");
    hand.steps[23].kind = FW_STEP_WALK;
    brief_is(&hand, 3, 2, "Walk them out.");
    brief_is(&hand, 0, 7, "Count: 90.");
    hand.classes[0].state = FW_LACTATION_TWINS;
    brief_is(&hand, 0, 7, "Count: 90, and every lamb.");
    brief_is(&hand, 1, 2, "A second visit: walk A01 to its far end for lambs.");
    hand.moves[1].later = FW_NONE;
    brief_is(&hand, 1, 2, "Walk A01 to its far end for lambs.");
    hand.steps[3].kind = FW_STEP_LATER; /* of the first move: from outside */
    hand.moves[0].later = 3;
    brief_is(&hand, 0, 4,
             "A second visit: walk what they left to its far end for lambs.");
}

static void lines_are_wound_up(void **state)
{
    (void)state;
    struct hand hand;
    take_in_hand(&hand);
    brief_is(&hand, 2, 7,
             "Unhook, dead? Wind up A01-02 and the block line A-line-1.");
    brief_is(&hand, 3, 4, "Unhook, dead? Wind up B-front.");
    hand.steps[25].kind = FW_STEP_COUNT_OF;
    brief_is(&hand, 3, 4, "");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_line_is_set_by_its_paces),
        cmocka_unit_test(ends_are_counted_in_paces),
        cmocka_unit_test(lines_are_hooked_on_at_one_end_or_both),
        cmocka_unit_test(readings_have_their_limit),
        cmocka_unit_test(gates_and_lines_are_opened),
        cmocka_unit_test(gates_and_lines_are_closed),
        cmocka_unit_test(the_flock_is_walked_and_counted),
        cmocka_unit_test(lines_are_wound_up),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
