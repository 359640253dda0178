/* Every way in which a card can say a step, worked out by hand from the plan
 * made by hand; and the same move for machines. */
#include "plan_in_hand.h"
#include "read_back.h"

#include "export/export.h"
#include "report/steps.h"

static char *card_of(const struct fw_plan *plan, size_t move)
{
    struct fw_error err;
    static char *text;
    if (fw_report_move(plan, move, 0, &text, &err))
        fail_msg("%s", err.text);
    unfold(text, 4);
    return text;
}

static void says(const struct hand *hand, size_t move, const char *words)
{
    char *text = card_of(&hand->plan, move);
    has_words(text, words);
    fw_bytes_free(text);
}

static void says_not(const struct hand *hand, size_t move, const char *words)
{
    char *text = card_of(&hand->plan, move);
    has_not(text, words);
    fw_bytes_free(text);
}

/* ---- head ---- */

static void a_card_begins_with_day_place_and_work(void **state)
{
    (void)state;
    struct hand hand;
    take_in_hand(&hand);
    says(&hand, 0,
         "\nMon 4 May 2026: into A01 (Low \"meadow\", block A-1)\n"
         "90 head on 0.16 ha for 1.5 days; about 6 minutes.\n\n 1  ");
    says(&hand, 3,
         "\nSun 10 May 2026: out of Low \"meadow\", which is cleared\n"
         "90 head; about 10 minutes.\n\n");
    hand.paddocks[1].area_ha = 0.25;
    hand.paddocks[1].stay_days = 1;
    says(&hand, 1,
         "\nTue 5 May 2026: into A02 (Low \"meadow\")\n"
         "90 head on 0.25 ha, which feeds them 1 day of the 2 that they stay: "
         "feed hay,\nor let them on when it is eaten; about 7 minutes in two "
         "visits.\n");
    hand.paddocks[1].stay_days = 1.94; /* but for a little */
    says(&hand, 1,
         "90 head on 0.25 ha, which feeds them 1.94 days of the 2 that they");
    hand.paddocks[1].stay_days = 1.96;
    says(&hand, 1, "90 head on 0.25 ha for 2 days; about 7 minutes");
    hand.paddocks[hand.stays[2].cell].stay_days = 1; /* no round comes after */
    says(&hand, 2, "which feeds them 1 day of the ");
    hand.plan.units = FW_US;
    says(&hand, 0, "90 head on 0.4 acres for 1.5 days;");
}

/* The first time they are there goes without saying. */
static void a_later_round_is_counted_in_the_head(void **state)
{
    (void)state;
    struct hand hand;
    take_in_hand(&hand);
    says_not(&hand, 0, ", round ");
    hand.stays[0].round = 1;
    says(&hand, 0, "into A01 (Low \"meadow\", block A-1, round 2)\n");
    hand.stays[1].round = 4;
    says(&hand, 1, "into A02 (Low \"meadow\", round 5)\n");
}

static void too_little_stands_before_all(void **state)
{
    (void)state;
    static const char head[] = "TOO LITTLE BY THE PLAN ITSELF\n";
    struct hand hand;
    take_in_hand(&hand);
    says_not(&hand, 0, head);
    hand.readings[0].far_v = hand.readings[0].wanted_v; /* just enough */
    says_not(&hand, 0, head);
    hand.readings[0].far_v -= 1;
    says(&hand, 0,
         "TOO LITTLE BY THE PLAN ITSELF\n"
         "  ! A01-02: a sheep gets 2.3 kV of it (2.5 are wanted), however well "
         "it is set; what would help: foldwright power\n\n");
    says_not(&hand, 1, head);
    hand.readings[0].step = 7; /* the last of the first move */
    says(&hand, 0, head);
    says_not(&hand, 1, head);
    hand.readings[0].step = 8; /* the first of the next one */
    says_not(&hand, 0, head);
    says(&hand, 1, head);
    hand.readings[0].far_v = 0;
    hand.readings[0].wanted_v = 0;
    says(&hand, 1,
         "  ! A01-02: nothing feeds it; what would help: foldwright power\n");
}

/* ---- setting ---- */

static void a_line_is_set_by_its_figures(void **state)
{
    (void)state;
    struct hand hand;
    take_in_hand(&hand);
    says(&hand, 0,
         " 1  Set the fence A01-02 from A to B: bearing 44 (north-east), 81 m, "
         "100 paces; wire 167 m in all, 10 posts, 3 reels. A: 60 paces from "
         "corner 9 along side 0, 25 paces on from A-line-1. B: 75 paces along "
         "A-line-1 from its end B. ");
    hand.plan.units = FW_US;
    says(&hand, 0, "264 ft, 100 paces; wire 546 ft in all");
    says(&hand, 0,
         " Set the block line A-line-1 from A to B: bearing 224 (south-west), "
         "395 ft, 150 paces; wire 822 ft in all, 15 posts, 2 reels.");
    says(&hand, 0,
         "One pace more or less along both sides is 3 % of a day's feed.");
    hand.fences[0].pace_share = 0;
    says_not(&hand, 0, "One pace more");
}

static void hollows_and_crossings_are_told(void **state)
{
    (void)state;
    struct hand hand;
    take_in_hand(&hand);
    says_not(&hand, 0, "in hollows");
    says(&hand, 0,
         "Crosses hard going Mill ditch 2 times: 4 posts and 3.5 minutes "
         "more.");
    hand.posts[0].why = FW_POST_DIP;
    says(&hand, 0, "Of the posts 1 go in hollows and 0 on brows.");
    hand.posts[1].why = FW_POST_CREST;
    hand.posts[0].why = FW_POST_CREST;
    says(&hand, 0, "Of the posts 0 go in hollows and 2 on brows.");
    hand.posts[1].fence = 2;
    hand.posts[0].fence = 4; /* not set in this move */
    hand.crossings[0].times = 1;
    hand.crossings[0].posts = 1;
    says(&hand, 0,
         "Of the posts 0 go in hollows and 1 on brows. Crosses hard going Mill "
         "ditch: 1 post and 3.5 minutes more.");
    hand.crossings[0].fence = 4;
    says_not(&hand, 0, "Crosses");
}

static void tall_grass_is_laid_first(void **state)
{
    (void)state;
    struct hand hand;
    take_in_hand(&hand);
    says_not(&hand, 0, "lay the grass");
    hand.fences[0].lay_min = 2.25;
    hand.fields[0].grass_m = 0.314;
    hand.plan.moved.height_bottom_m = 0.256;
    says(&hand, 0,
         "First lay the grass flat along it, there and back, 3 minutes: it "
         "stands 31 cm high, over the lowest wire at 26 cm.");
    hand.fences[0].lay_min = 1;
    hand.plan.units = FW_US; /* 12.4 in and 10.1 in */
    says(&hand, 0,
         "there and back, 1 minute: it stands 12 in high, over the lowest wire "
         "at 10 in.");
    hand.fences[0].lay_min = 1.01;
    says(&hand, 0, "there and back, 2 minutes: ");
}

static void handles_are_put_in_at_once(void **state)
{
    (void)state;
    struct hand hand;
    take_in_hand(&hand);
    says(&hand, 0,
         "Put an insulated handle into each strand 92 paces from A: it is "
         "opened there later.");
    hand.gates[3].where = FW_OPENING_A;
    says_not(&hand, 0, "insulated handle");
    hand.gates[3].where = FW_OPENING_JOINT;
    hand.gates[3].fence = 4;
    says_not(&hand, 0, "insulated handle");
}

static void a_pace_counts_what_parts_the_same(void **state)
{
    (void)state;
    struct hand hand;
    take_in_hand(&hand);
    const struct fw_plan *plan = &hand.plan;
    assert_near(fw_plan_pace_share(plan, &hand.steps[0]), 0.03125, 0);
    hand.fences[2].pace_share = 0.25;
    assert_near(fw_plan_pace_share(plan, &hand.steps[0]), 0.28125, 0);
    hand.fences[2].from = 1; /* parts others than the first */
    assert_near(fw_plan_pace_share(plan, &hand.steps[0]), 0.25, 0);
    hand.fences[2].from = 0;
    hand.fences[2].to = 2;
    assert_near(fw_plan_pace_share(plan, &hand.steps[0]), 0.25, 0);
    assert_near(fw_plan_pace_share(plan, &hand.steps[3]), 0, 0);
}

/* ---- hooking on ---- */

static void lines_are_hooked_on_live_ones_last(void **state)
{
    (void)state;
    static size_t from_side[] = {1, 0};
    struct hand hand;
    take_in_hand(&hand);
    hand.plan.power.earth_return = false;
    hand.plan.wiring.far_hooked = false;
    says(&hand, 0,
         " 2  Hook A01-02 on at A, then A-line-1 on at A by a wire led there, "
         "since nothing at the inner edge is live, last of all.\n");
    hand.sides[1].hot = FW_YES;
    says(&hand, 0, "Hook A01-02 on to the hot boundary at A, then A-line-1 on");
    hand.sides[1].hot = FW_NO;
    says(&hand, 0,
         "Hook A01-02 on to the energizer's own lead at A, where the boundary "
         "is not hot, then A-line-1 on at A by");
    hand.sides[1].hot = FW_YES;
    hand.fences[2].a.by = FW_PACED_LINE;
    hand.fences[2].a.fence = 0; /* which is set in this step */
    says(&hand, 0,
         "Hook A-line-1 on to A01-02 at A, then A01-02 on to the hot boundary "
         "at A, last of all.\n");
    hand.fences[2].a.fence = 3; /* which is not */
    says(&hand, 0,
         "Hook A01-02 on to the hot boundary at A, then A-line-1 on to "
         "A-side-lane at A, last of all.\n");
    hand.fences[0].a.by = FW_PACED_LINE;
    hand.fences[0].a.fence = 3;
    says(&hand, 0,
         "Hook A01-02 on to A-side-lane at A, then A-line-1 on to A-side-lane "
         "at A, last of all.\n");
    hand.fences[0].a.by = FW_PACED_SIDE;
    hand.fences[2].a.by = FW_PACED_STRAIGHT;
    hand.fences[2].line = from_side;
    says(&hand, 0,
         "Hook each of them on to the hot boundary at A, last of all.\n");
    says(&hand, 1, " 6  Hook it on at A, last of all.\n");
    hand.fences[3].a.by = FW_PACED_LINE;
    hand.fences[3].a.fence = 3;
    says(&hand, 1, "Hook it on to A-side-lane at A, last of all.\n");
}

static void far_ends_are_hooked_on_too(void **state)
{
    (void)state;
    struct hand hand;
    take_in_hand(&hand);
    hand.plan.power.earth_return = false;
    hand.plan.moved.out_and_back = false;
    says(&hand, 0, ", last of all. Then hook on at B too: A01-02, A-line-1.\n");
    says(&hand, 1, " 1  Unhook A01-02 at A and at B and read the tester");
    hand.plan.moved.out_and_back = true; /* of two wires none ends at B */
    says(&hand, 0,
         ", last of all. Each wire has two ends there: hook on both.\n");
    says(&hand, 1, "Unhook A01-02 at A (both ends of each wire) and read");
    hand.fences[0].strands = 3;
    says(&hand, 0,
         "Then hook on at B too: A01-02. Each wire has two ends there: hook on "
         "both.\n");
    hand.plan.wiring.far_hooked = false;
    says(&hand, 0, ", last of all.\n 3");
    says(&hand, 1, "Unhook A01-02 at A and read the tester on it: dead.");
}

static void earth_strands_are_hooked_on_first(void **state)
{
    (void)state;
    static const char *const strand[] = {
        [2] = " Of each line the lower strand is an earth: first",
        [3] = " Of each line the middle strand is an earth: first",
        [4] = " Of each line every second strand from the bottom is an earth: "
              "first",
    };
    struct hand hand;
    take_in_hand(&hand);
    for (int strands = 2; strands <= 4; strands++) {
        hand.plan.moved.strands = strands;
        says(&hand, 0, strand[strands]);
    }
    says(&hand, 0, "Read the tester at each B, held between an earth strand");
    says(&hand, 1, "Read the tester at B, held between an earth strand");
    hand.plan.power.earth_return = false;
    says_not(&hand, 0, "earth strand");
    says_not(&hand, 0, "is an earth");
}

static void readings_are_told_with_their_limit(void **state)
{
    (void)state;
    struct hand hand;
    take_in_hand(&hand);
    hand.plan.power.earth_return = false;
    says(&hand, 0,
         " 3  Read the tester at each B: A01-02 about 6.1 kV by the plan, a "
         "fault under 5.3; A-line-1 nothing feeds it by the plan, and 5 kV or "
         "more are wanted. Look for a fault first of all.\n");
    hand.readings[0].far_v = 5000;
    says(&hand, 0,
         "A01-02 by the plan 5.0 kV, of which a sheep gets 2.3 (2.5 are "
         "wanted); enough only from 5.3 kV on; A-line-1");
    hand.readings[0].far_v = hand.readings[0].wanted_v = 5300;
    says(&hand, 0, "A01-02 about 5.3 kV by the plan, a fault under 5.3;");
    hand.readings[0].far_v = 0;
    says(&hand, 0, "A01-02 nothing feeds it by the plan, and 5 kV or more");
    says(&hand, 1,
         " 7  Read the tester at B: nothing feeds it by the plan, and 5 kV or "
         "more are wanted. Look");
}

static void lines_are_taken_down(void **state)
{
    (void)state;
    struct hand hand;
    take_in_hand(&hand);
    says(&hand, 2,
         " 7  Take down all that stands in Low \"meadow\", each dead first: "
         "A01-02 and the block line A-line-1.\n");
    hand.fields[1].name = (char *)"Upper";
    says(&hand, 3,
         " 4  Take down all that stands in Upper, each dead first: B-front.\n");
    hand.steps[12].kind = FW_STEP_TAKE_DOWN; /* where the flock stays */
    hand.steps[12].lines = (struct fw_list){0, 3};
    says(&hand, 1,
         " 5  Unhook at every end that is hooked on, read the tester: dead; "
         "and wind up A01-02, the block line A-line-1 and the lane fence "
         "A-side-lane.\n");
    hand.plan.wiring.far_hooked = false;
    says(&hand, 1, " 5  Unhook and wind up A01-02, the block line");
}

static void nights_are_told(void **state)
{
    (void)state;
    struct hand hand;
    take_in_hand(&hand);
    says(&hand, 0, " Overnight A02 is fenced ahead.\n");
    says(&hand, 1, " Overnight no paddock is fenced ahead of them.\n");
    says_not(&hand, 2, "Overnight");
    says_not(&hand, 3, "Overnight");
    hand.moves[0].ahead = false;
    says(&hand, 0, " Overnight no paddock is fenced ahead of them.\n");
}

/* ---- opening and closing ---- */

static void gates_are_opened(void **state)
{
    (void)state;
    struct hand hand;
    take_in_hand(&hand);
    hand.fields[1].name = (char *)"Upper";
    says(&hand, 0, " 5  Open the gate of Low \"meadow\".\n");
    says(&hand, 0, " 8  Close the gate of Low \"meadow\". Overnight");
    says(&hand, 2, " 1  Open the gate of Upper.\n");
    hand.steps[5].kind = FW_STEP_CARRY; /* nobody walks them */
    says(&hand, 0,
         " 5  Open the gate of Low \"meadow\", and let them into A01.\n");
    hand.steps[2] = hand.steps[4]; /* opened before: that is not the last */
    says(&hand, 0, " 3  Open the gate of Low \"meadow\".\n");
    hand.plan.field_count = 1;
    says(&hand, 0, " 5  Open the gate, and let them into A01.\n");
    says(&hand, 0, " 8  Close the gate. Overnight");
}

static void lines_are_opened_dead(void **state)
{
    (void)state;
    struct hand hand;
    take_in_hand(&hand);
    hand.plan.wiring.far_hooked = false;
    hand.gates[2].tight = false;
    says(&hand, 1,
         " 1  Unhook A01-02 at A and read the tester on it: dead. Carry that "
         "end back 5.3 m: the gap is C, and let them into A02. Until it is "
         "hooked on again the block line A-line-1 is dead too: be quick.\n");
    says(&hand, 1,
         " 4  Leave C open, with an insulated lead on the ground from wire to "
         "wire across the gap; hook A01-02 on again at A, and see on the "
         "tester that the rest of it is hot.\n");
    hand.steps[11].kind = FW_STEP_CLOSE;
    says(&hand, 1, "A02. Until it is hooked on again the block line A-line-1");
    says(&hand, 1,
         " 4  Close C, hook A01-02 on again at A, and see on the tester that "
         "it is hot.\n");
    hand.steps[11].opening = 3; /* another one is closed */
    says(&hand, 1, "A02. Meanwhile the block line A-line-1 is dead too: be");
    says(&hand, 1,
         " 4  Close what was left open in A-line-1, hook A-line-1 on");
    hand.steps[11].opening = 2;
    hand.steps[11].kind = FW_STEP_CARRY;
    const struct fw_step next = hand.steps[9]; /* closed straight away */
    hand.steps[9] = (struct fw_step){.kind = FW_STEP_CLOSE, .opening = 2};
    says(&hand, 1, "A02. Until it is hooked on again the block line A-line-1");
    hand.steps[9] = next;
    hand.steps[8].dead.count = 2;
    says(&hand, 1,
         "A02. Meanwhile the block line A-line-1 and the lane fence "
         "A-side-lane are dead too: be quick.\n");
    hand.steps[8].dead.count = 0;
    says_not(&hand, 1, "dead too");
    hand.gates[4].tight = false;
    says(&hand, 3,
         " 1  Unhook B-front at A and read the tester on it: dead. Undo its "
         "other end B and carry that back 4.3 m: the gap is C.\n");
    says(&hand, 2,
         " 2  Unhook A-line-1 at A and read the tester on it: dead. Undo the "
         "handles 92 paces from A and carry them back 4.8 m: the gap is C.\n");
}

static void narrow_places_are_told(void **state)
{
    (void)state;
    struct hand hand;
    take_in_hand(&hand);
    hand.paddocks[1].narrow_m = 3.25;
    says(&hand, 1,
         " It is tight for this flock (5.3 m wide, 2.5 m free beside it): let "
         "them come slowly, a few at a time. A02 has a place only 3.3 m wide: "
         "do not drive them through it.\n");
    hand.plan.units = FW_US;
    says(&hand, 1, "(17 ft wide, 8 ft free beside it)");
    says(&hand, 1, "only 11 ft wide:");
    hand.paddocks[1].narrow_m = 0;
    hand.gates[2].tight = false;
    says_not(&hand, 1, "tight");
    says_not(&hand, 1, "has a place");
    hand.paddocks[0].narrow_m = 2; /* said where they walk, not at the gate */
    char *text = card_of(&hand.plan, 0);
    assert_int_equal(times(text, "A01 has a place only 7 ft wide"), 1);
    has_words(text, " 6  Walk them into A01. A01 has a place only");
    fw_bytes_free(text);
}

/* C, D, ... in the order of the move; Z is the last. */
static void openings_have_letters(void **state)
{
    (void)state;
    struct hand hand;
    take_in_hand(&hand);
    hand.steps[15].opening = 2;
    hand.steps[19].opening = 3;
    hand.steps[20].opening = 4;
    says(&hand, 2, "Carry that end back 5.3 m: the gap is C.");
    says(&hand, 2, "carry them back 4.8 m: the gap is D.");
    says(&hand, 2, " 5  Close D, hook A-line-1 on again");
    says(&hand, 2, " 6  Close what was left open in B-front, hook B-front on");

    enum { many = 30 };
    struct fw_step open[many];
    struct fw_plan_gate gates_of[many];
    for (size_t i = 0; i < many; i++) {
        gates_of[i] = gates[2];
        open[i] = (struct fw_step){.kind = FW_STEP_OPEN, .opening = i};
    }
    hand.plan.gates = gates_of;
    hand.plan.time.steps = open;
    hand.moves[0].steps = (struct fw_list){0, many};
    const struct fw_report_saying saying = {
        .plan = &hand.plan, .move = 0, .step = open};
    for (size_t i = 0; i < many; i++)
        assert_int_equal(fw_report_letter_of(&saying, i),
                         i < 24 ? "CDEFGHIJKLMNOPQRSTUVWXYZ"[i] : 'Z');
}

/* ---- the flock ---- */

static void walks_are_told(void **state)
{
    (void)state;
    static size_t over[] = {0, 1, 2, 0, 1, 4};
    struct hand hand;
    take_in_hand(&hand);
    hand.fields[1].name = (char *)"Upper";
    says(&hand, 0, " 6  Walk them into A01.\n");
    says(&hand, 2,
         " 3  Walk them over 13 m of ungrazed grass (A01, A02), close together "
         "and without a stop, to the gate of Upper and into B01.\n");
    hand.plan.time.items = over;
    hand.steps[17].cells = (struct fw_list){0, 3};
    says(&hand, 2, "ungrazed grass (A01, A02, B01), close");
    hand.steps[17].cells = (struct fw_list){0, 5};
    says(&hand, 2, "ungrazed grass (A01, A02, B01 and 2 more), close");
    hand.steps[17].cells = (struct fw_list){0, 4};
    says(&hand, 2, "ungrazed grass (A01, A02, B01 and 1 more), close");
    hand.steps[17].over_m = 0;
    says(&hand, 2, " 3  Walk them to the gate of Upper and into B01.\n");
    hand.fences[2].role = FW_FENCE_LANE; /* what is opened */
    says(&hand, 2, "Walk them along the lane to the gate of Upper and into");
    hand.plan.time.items = items;
    hand.steps[9].kind = FW_STEP_WALK;
    says(&hand, 1, " 2  Walk them over grazed ground into A02.\n");
    hand.fences[0].role = FW_FENCE_LANE;
    says(&hand, 1, " 2  Walk them along the lane into A02.\n");
    hand.fences[0].role = FW_FENCE_MOVED;
    hand.steps[8].opening = 0; /* a gate has no fence */
    says(&hand, 1, " 2  Walk them over grazed ground into A02.\n");
    hand.steps[23].kind = FW_STEP_WALK;
    says(&hand, 3,
         " 2  Walk them out of Upper: this plan ends here, and where they go "
         "is for you to say.\n");
}

static void sheep_are_counted(void **state)
{
    (void)state;
    struct hand hand;
    take_in_hand(&hand);
    says(&hand, 0, " 7  Count them through: 90.\n");
    says(&hand, 3, " 2  Count them out: 90.\n");
    /* Where no gate is told they come in all the same. */
    hand.steps[4].kind = FW_STEP_CARRY;
    says(&hand, 0, " 7  Count them through: 90.\n");
    hand.steps[5].kind = FW_STEP_CARRY;
    says(&hand, 0, " 7  Let them into A01. Count them through: 90.\n");
    hand.steps[4].kind = FW_STEP_OPEN;
    hand.classes[1].state = FW_LACTATION_SINGLE;
    says(&hand, 0,
         " 7  Count them through: 90 grown, and every lamb; the late ones come "
         "last, so wait for them.\n");
    hand.classes[1].state = FW_DRY;
    hand.classes[0].state = FW_LACTATION_TWINS;
    says(&hand, 3, " 2  Count them out: 90 grown, and every lamb;");
    hand.classes[0].state = FW_LATE_LACTATION_SINGLE;
    says(&hand, 3, " 2  Count them out: 90 grown, and every lamb;");
    hand.classes[1].state = FW_LAMB_AT_FOOT; /* they are among the 90 */
    says(&hand, 3, " 2  Count them out: 90.\n");
}

static void late_lambs_are_told(void **state)
{
    (void)state;
    struct hand hand;
    take_in_hand(&hand);
    says(&hand, 1,
         " 2  Leave them to it. A second visit, when they have all come over: "
         "walk A01 to its far end for lambs that lie there.\n");
    hand.moves[1].later = FW_NONE;
    says(&hand, 1,
         " 2  Walk what was left open behind them to its far end, and bring on "
         "what lies there.\n");
    hand.steps[3].kind = FW_STEP_LATER;
    hand.moves[0].later = 3;
    says(&hand, 0,
         " 4  Leave them to it. A second visit, when they have all "
         "come over: walk what they left to its far end");
}

/* ---- where an end is ---- */

static void end_is(const struct hand *hand, struct fw_plan_paced end,
                   const char *words)
{
    struct fw_text text = {0};
    fw_report_say_end(&text, &hand->plan, &hand->fields[0], "A:", &end);
    assert_string_equal(text.bytes, words);
    fw_text_release(&text);
}

/* Corners 0, 1, 2 are called 7, none, 9, the sides from them 8, none, 6. */
static void ends_are_counted_in_paces(void **state)
{
    (void)state;
    struct hand hand;
    take_in_hand(&hand);
    struct fw_plan_paced side = {FW_PACED_SIDE, 0, 2, FW_NONE, false, 1, 1, -1,
                                 FW_NONE,       -1};
    end_is(&hand, (struct fw_plan_paced){.by = FW_PACED_UNTOLD},
           "A: see fence.gpx");
    end_is(&hand, side, "A: 1 pace from corner 7 towards corner 9");
    assert_int_equal(fw_report_side(&hand.fields[0], &side), 6);
    assert_int_equal(fw_report_towards(&hand.fields[0], &side), 9);
    side.towards = 1;
    side.paces = 2;
    end_is(&hand, side, "A: 2 paces from corner 7 along side 8");
    assert_int_equal(fw_report_side(&hand.fields[0], &side), 8);
    assert_int_equal(fw_report_towards(&hand.fields[0], &side), 0);
    side.paces = 0;
    end_is(&hand, side, "A: at corner 7");
    side.on_from = 4;
    side.on_paces = 0;
    end_is(&hand, side, "A: at corner 7, where B-front ends");
    side.on_paces = 1;
    end_is(&hand, side, "A: at corner 7, 1 pace on from B-front");
    side.by = FW_PACED_STRAIGHT;
    assert_int_equal(fw_report_side(&hand.fields[0], &side), 0);
    assert_int_equal(fw_report_towards(&hand.fields[0], &side), 0);

    struct fw_plan_paced along = {
        FW_PACED_LINE, FW_NONE, FW_NONE, 3, false, 1, 12, -1, FW_NONE, -1};
    end_is(&hand, along, "A: 12 paces along A-side-lane from its end A");
    along.paces = 0;
    along.far_end = true;
    hand.fences[3].b.towards = 2; /* of it, from corner 0 */
    end_is(&hand, along, "A: at the end of A-side-lane on side 6 (B)");
    hand.fences[3].a.towards = 0; /* of it, from corner 1: by side 8 */
    along.far_end = false;
    end_is(&hand, along, "A: at the end of A-side-lane on side 8 (A)");
    hand.fences[3].a.corner = 2;
    hand.fences[3].a.paces = 0;
    end_is(&hand, along, "A: at the end of A-side-lane at corner 9 (A)");
    hand.fences[3].a.by = FW_PACED_LINE;
    hand.fences[3].a.fence = 0;
    end_is(&hand, along, "A: at the end of A-side-lane on A01-02 (A)");
    hand.fences[3].b.by = FW_PACED_STRAIGHT;
    along.far_end = true;
    along.on_from = 0;
    along.on_paces = 3;
    end_is(&hand, along,
           "A: at the end of A-side-lane B, 3 paces on from A01-02");

    struct fw_plan_paced straight = {
        FW_PACED_STRAIGHT, FW_NONE, FW_NONE, 0, true, 1, 0, 214.5, FW_NONE, -1};
    end_is(&hand, straight, "A: at end B of A01-02");
    straight.paces = 16;
    straight.far_end = false;
    end_is(&hand, straight,
           "A: 16 paces from end A of A01-02, bearing 214 (south-west)");
    straight.fence = FW_NONE;
    straight.corner = 2;
    straight.paces = 1;
    end_is(&hand, straight,
           "A: 1 pace from corner 9, bearing 214 (south-west)");
}

/* ---- for machines ---- */

static void is_end(struct json_object *row, const char *key,
                   const struct hand *hand, const struct fw_plan_fence *fence,
                   const struct fw_plan_paced *end)
{
    const struct fw_plan_field *field = &hand->fields[fence->field];
    struct json_object *told = of(row, key);
    if (end->by == FW_PACED_UNTOLD) {
        assert_null(told);
        return;
    }
    const bool by_fence = end->fence != FW_NONE;
    const bool by_side = end->by == FW_PACED_SIDE;
    size_t corner = by_fence                     ? 0
                    : field->corner_number_count ? corner_numbers[end->corner]
                                                 : end->corner + 1;
    const size_t side = by_side ? fw_report_side(field, end) : 0;
    const size_t towards = by_side ? fw_report_towards(field, end) : 0;
    is_number(told, "corner", corner ? (double)corner : (double)NAN);
    is_number(told, "side", side ? (double)side : (double)NAN);
    is_number(told, "towards", towards ? (double)towards : (double)NAN);
    is_text(told, "fence", by_fence ? hand->fences[end->fence].id : NULL);
    is_text(told, "end", !by_fence ? NULL : end->far_end ? "B" : "A");
    is_number(told, "along_m", end->along_m);
    is_number(told, "paces", end->paces);
    is_number(told, "bearing_deg",
              end->by == FW_PACED_STRAIGHT ? end->bearing_deg : (double)NAN);
    is_text(told, "on_from",
            end->on_from == FW_NONE ? NULL : hand->fences[end->on_from].id);
    is_number(told, "on_paces",
              end->on_from == FW_NONE ? (double)NAN : end->on_paces);
}

static void is_list(struct json_object *told, const struct fw_list *list,
                    bool paddocks_of, const struct hand *hand)
{
    assert_int_equal(json_object_array_length(told), list->count);
    for (size_t i = 0; i < list->count; i++) {
        const size_t wanted = hand->plan.time.items[list->first + i];
        assert_string_equal(json_object_get_string(at(told, i)),
                            paddocks_of ? hand->paddocks[wanted].id
                                        : hand->fences[wanted].id);
    }
}

static void is_step(struct json_object *told, const struct hand *hand, size_t s)
{
    const struct fw_step *step = &hand->steps[s];
    struct json_object *lines = of(told, "fences");
    is_text(told, "gate",
            step->opening == FW_NONE ? NULL : hand->gates[step->opening].id);
    assert_int_equal(json_object_array_length(lines), step->lines.count);
    for (size_t i = 0; i < step->lines.count; i++) {
        const size_t f = hand->plan.time.items[step->lines.first + i];
        const struct fw_plan_fence *fence = &hand->fences[f];
        struct json_object *row = at(lines, i);
        is_text(row, "fence", fence->id);
        if (step->kind == FW_STEP_SET) {
            is_number(row, "bearing_deg", fence->bearing_deg);
            is_number(row, "length_m", fence->length_m);
            is_number(row, "lay_min",
                      fence->lay_min > 0 ? fence->lay_min : (double)NAN);
            is_number(row, "pace_share",
                      fence->pace_share > 0 ? fence->pace_share : (double)NAN);
            is_end(row, "a", hand, fence, &fence->a);
            is_end(row, "b", hand, fence, &fence->b);
        }
        const bool read = s == 2 && f == 0;
        struct json_object *volts;
        assert_true(json_object_object_get_ex(row, "far_v", &volts) == read);
        if (!read)
            continue;
        is_number(row, "far_v", 6123.5);
        is_number(row, "touched_v", 2345.5);
        is_number(row, "wanted_v", 5221.5);
    }
    if (step->kind == FW_STEP_OPEN)
        is_list(of(told, "dead"), &step->dead, false, hand);
    if (step->kind != FW_STEP_WALK)
        return;
    is_list(of(told, "over"), &step->cells, true, hand);
    is_number(told, "over_m", step->over_m);
}

static void machines_get_every_step(void **state)
{
    (void)state;
    static const char *const from[] = {NULL, "A01", "A02", "B01"};
    static const char *const to[] = {"A01", "A02", "B01", NULL};
    static const char *const days[] = {"2026-05-04", "2026-05-05", "2026-05-08",
                                       "2026-05-10"};
    struct hand hand;
    take_in_hand(&hand);
    hand.fields[1].name = (char *)"Upper";
    hand.fences[0].lay_min = 2.25;
    for (size_t m = 0; m < 4; m++) {
        struct fw_error err;
        char *text = NULL;
        assert_int_equal(fw_report_move_json(&hand.plan, m, &text, &err),
                         FW_OK);
        struct json_object *root = parsed(text);
        fw_bytes_free(text);
        const struct fw_list *list = &hand.moves[m].steps;
        is_text(root, "date", days[m]);
        is_text(root, "field", m < 2 ? "Low \"meadow\"" : "Upper");
        is_text(root, "from", from[m]);
        is_text(root, "to", to[m]);
        is_number(root, "head", 90);
        is_flag(root, "ahead", m == 0);
        is_number(root, "minutes", hand.moves[m].minutes);
        struct json_object *told = of(root, "steps");
        assert_int_equal(json_object_array_length(told), list->count);
        for (size_t i = 0; i < list->count; i++)
            is_step(at(told, i), &hand, list->first + i);
        json_object_put(root);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_card_begins_with_day_place_and_work),
        cmocka_unit_test(a_later_round_is_counted_in_the_head),
        cmocka_unit_test(too_little_stands_before_all),
        cmocka_unit_test(a_line_is_set_by_its_figures),
        cmocka_unit_test(hollows_and_crossings_are_told),
        cmocka_unit_test(tall_grass_is_laid_first),
        cmocka_unit_test(handles_are_put_in_at_once),
        cmocka_unit_test(a_pace_counts_what_parts_the_same),
        cmocka_unit_test(lines_are_hooked_on_live_ones_last),
        cmocka_unit_test(far_ends_are_hooked_on_too),
        cmocka_unit_test(earth_strands_are_hooked_on_first),
        cmocka_unit_test(readings_are_told_with_their_limit),
        cmocka_unit_test(lines_are_taken_down),
        cmocka_unit_test(nights_are_told),
        cmocka_unit_test(gates_are_opened),
        cmocka_unit_test(lines_are_opened_dead),
        cmocka_unit_test(narrow_places_are_told),
        cmocka_unit_test(openings_have_letters),
        cmocka_unit_test(walks_are_told),
        cmocka_unit_test(sheep_are_counted),
        cmocka_unit_test(late_lambs_are_told),
        cmocka_unit_test(ends_are_counted_in_paces),
        cmocka_unit_test(machines_get_every_step),
    };
    return cmocka_run_group_tests_name("report_card", tests, NULL, NULL);
}
