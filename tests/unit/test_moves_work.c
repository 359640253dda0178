/* Moves that are made already: what they set and took down is told as it was,
 * and from the next one on each line stands as it is needed. Strips one beside
 * the other; without a word each line is set a day ahead of its need. */
#include "moves/inner.h"
#include "moves_by_hand.h"

enum { strips = 7 };
static const size_t cells[strips] = {0, 1, 2, 3, 4, 5, 6};

struct season {
    struct made made;
    struct fw_time_start start;
};

static void go(struct season *season, size_t moves,
               const struct fw_time_work *works, size_t count)
{
    season->start = (struct fw_time_start){
        .made = moves, .works = works, .work_count = count};
    struct hand hand = hand_strips(strips);
    make_start(&season->made, &hand, 1, cells, strips, hand_habits(true, false),
               &season->start);
}

#define assert_move(season, move, words)                                       \
    assert_string_equal(steps_of(&(season)->made, move), words)

static void lines_are_set_in_the_order_that_they_were(void **state)
{
    (void)state;
    const struct fw_time_work works[] = {{1, 0, false, false},
                                         {0, 0, false, false},
                                         {3, 0, false, true},
                                         {2, 1, false, true}};
    struct season season;
    go(&season, 2, works, 4);
    assert_move(&season, 0,
                "set 1 0; hook 1 0; read 1 0; carry; open gate 0; count; close "
                "gate 0; set 3; hook 3; read 3");
    assert_move(&season, 1,
                "carry; open 0; count; close 0; set 2; hook 2; read 2");
    /* Line 3 stands, and is wanted the day after: it stays. */
    assert_move(&season, 2, "carry; open 1; count; close 1; take down 0");
    assert_enclosed(&season.made);
    unmake(&season.made);
}

static void lines_come_down_in_the_order_that_they_did(void **state)
{
    (void)state;
    const struct fw_time_work works[] = {
        {0, 0, false, false}, {1, 0, false, true}, {2, 1, false, true},
        {3, 2, false, true},  {4, 3, false, true}, {1, 3, true, true},
        {0, 3, true, true}};
    struct season season;
    go(&season, 4, works, 7);
    assert_move(&season, 2,
                "carry; open 1; count; close 1; set 3; hook 3; read 3");
    assert_move(&season, 3,
                "carry; open 2; count; close 2; take down 1 0; set 4; hook 4; "
                "read 4");
    assert_move(&season, 4,
                "carry; open 3; count; close 3; take down 2; set 5; hook 5; "
                "read 5");
    unmake(&season.made);
}

static void what_was_left_standing_comes_down_first(void **state)
{
    (void)state;
    /* Nobody took line 0 down at move 2; line 5 was set days too soon. */
    const struct fw_time_work works[] = {{0, 0, false, false},
                                         {1, 0, false, true},
                                         {5, 0, false, true},
                                         {2, 1, false, true},
                                         {3, 2, false, true}};
    struct season season;
    go(&season, 3, works, 5);
    assert_string_equal(standing_after(&season.made, 2), "0 1 2 3 5");
    /* 5 is wanted two days on: less than to wind it and to set it again. */
    assert_move(&season, 3,
                "carry; open 2; count; close 2; take down 1 0; set 4; hook 4; "
                "read 4");
    unmake(&season.made);
    go(&season, 2, works, 4);
    assert_move(&season, 2,
                "carry; open 1; count; close 1; take down 0 5; set 3; hook 3; "
                "read 3");
    assert_move(&season, 4,
                "carry; open 3; count; close 3; take down 2; set 5; hook 5; "
                "read 5");
    unmake(&season.made);
}

static void what_was_wound_too_soon_is_set_again(void **state)
{
    (void)state;
    const struct fw_time_work works[] = {{0, 0, false, false},
                                         {1, 0, false, true},
                                         {2, 0, false, true},
                                         {2, 1, true, true}};
    struct season season;
    go(&season, 2, works, 4);
    assert_string_equal(standing_after(&season.made, 1), "0 1");
    assert_move(&season, 2,
                "set 2; hook 2; read 2; carry; open 1; count; close 1; take "
                "down 0; set 3; hook 3; read 3");
    assert_enclosed(&season.made);
    unmake(&season.made);
}

static void the_last_move_too_is_as_it_was(void **state)
{
    (void)state;
    const struct fw_time_work works[] = {
        {0, 0, false, false}, {1, 0, false, true}, {2, 1, false, true},
        {0, 2, true, true},   {3, 2, false, true}, {1, 3, true, true},
        {4, 3, false, true},  {5, 4, false, true}, {5, 7, true, true},
        {2, 7, true, true},   {3, 7, true, true},  {4, 7, true, true}};
    struct season season;
    go(&season, strips + 1, works, 12);
    assert_string_equal(standing_after(&season.made, 6), "2 3 4 5");
    assert_non_null(
        strstr(steps_of(&season.made, strips), "take down 5 2 3 4"));
    assert_string_equal(standing_after(&season.made, strips), "");
    unmake(&season.made);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(lines_are_set_in_the_order_that_they_were),
        cmocka_unit_test(lines_come_down_in_the_order_that_they_did),
        cmocka_unit_test(what_was_left_standing_comes_down_first),
        cmocka_unit_test(what_was_wound_too_soon_is_set_again),
        cmocka_unit_test(the_last_move_too_is_as_it_was),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
