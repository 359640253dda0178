/* Small things that all who look at a plan ask: letters of fields, the move of
 * a day. */
#include "plan/place.h"
#include "test.h"

#include <string.h>

/* One further, as a counter on a gate turns: Z is followed by A of the next. */
static void turn(char text[8])
{
    size_t n = strlen(text);
    for (size_t i = n; i-- > 0;) {
        if (text[i] < 'Z') {
            text[i]++;
            return;
        }
        text[i] = 'A';
    }
    memmove(text + 1, text, n + 1);
    text[0] = 'A';
}

static void fields_are_lettered_as_a_counter_turns(void **state)
{
    (void)state;
    struct fw_plan_field first = {.paddock_count = 0};
    const struct fw_plan plan = {.fields = &first, .field_count = 1};
    char wanted[8] = "A", got[8];
    for (size_t i = 0; i < 19000; i++, turn(wanted)) { /* to ABBT */
        const char letter = fw_plan__letter(&plan, i, got);
        assert_int_equal(letter, got[0]);
        assert_string_equal(got, wanted);
    }
}

/* The first field keeps the letter that its paddocks have from a plan before;
 * that letter's field has the A that was left. */
static void a_field_that_keeps_its_letter_changes_with_another(void **state)
{
    (void)state;
    static const struct {
        const char *id, *letter;
        size_t other;
    } rows[] = {{"A01", "A", 0},     {"B12", "B", 1},      {"Z03", "Z", 25},
                {"AA01", "AA", 26},  {"AZ07", "AZ", 51},   {"BA2", "BA", 52},
                {"ZZ01", "ZZ", 701}, {"AAA01", "AAA", 702}};
    for (size_t r = 0; r < sizeof rows / sizeof *rows; r++) {
        struct fw_plan_field first = {.first_paddock = 1, .paddock_count = 1};
        struct fw_plan_paddock paddocks[2] = {{.id = "Q09"}};
        const struct fw_plan plan = {.fields = &first,
                                     .field_count = 1,
                                     .paddocks = paddocks,
                                     .paddock_count = 2};
        snprintf(paddocks[1].id, sizeof paddocks[1].id, "%s", rows[r].id);
        char got[8], wanted[8] = "A";
        for (size_t i = 0; i < 800; i++, turn(wanted)) {
            fw_plan__letter(&plan, i, got);
            assert_string_equal(got, i == 0               ? rows[r].letter
                                     : i == rows[r].other ? "A"
                                                          : wanted);
        }
    }
}

static void move_is_found_by_its_day_or_the_nearest_named(void **state)
{
    (void)state;
    /* 20577 is 4 May 2026. */
    struct fw_move moves[] = {
        {.day = 20577}, {.day = 20581}, {.day = 20582}, {.day = 20597}};
    const struct fw_plan plan = {.time = {.moves = moves, .move_count = 4}};
    static const struct {
        int day;
        const char *nearest; /* NULL: there is one */
        size_t move;
    } rows[] = {
        {FW_NO_DAY, NULL, 0}, {20577, NULL, 0},    {20582, NULL, 2},
        {20597, NULL, 3},     {20540, "05-04", 0}, {20576, "05-04", 0},
        {20578, "05-04", 0},  {20579, "05-04", 0}, /* as near as the next */
        {20580, "05-08", 0},  {20589, "05-09", 0}, /* 7 days, and 8 */
        {20590, "05-24", 0},  {20598, "05-24", 0}, {20700, "05-24", 0},
    };
    for (size_t r = 0; r < sizeof rows / sizeof *rows; r++) {
        struct fw_error err = {0};
        size_t move = FW_NONE;
        const enum fw_status status =
            fw_plan_find_move(&plan, rows[r].day, &move, &err);
        if (!rows[r].nearest) {
            assert_int_equal(status, FW_OK);
            assert_int_equal(move, rows[r].move);
            continue;
        }
        char wanted[120];
        snprintf(wanted, sizeof wanted,
                 "the nearest is on 2026-%s, and the plan runs from "
                 "2026-05-04 to 2026-05-24",
                 rows[r].nearest);
        assert_int_equal(status, FW_EPLAN);
        assert_int_equal(move, FW_NONE);
        if (!strstr(err.text, wanted))
            fail_msg("day %d: \"%s\"", rows[r].day, err.text);
    }
}

/* Two fields; of the first, a square of vertices 0 to 3, each side is told, of
 * the second, one on vertices 3 and 4 of its own, the only one is hot. */
static struct fw_farm_side told[] = {{FW_HOLDS_UNTOLD, FW_NO},
                                     {FW_HOLDS_UNTOLD, FW_YES},
                                     {FW_HOLDS_UNTOLD, FW_UNTOLD},
                                     {FW_HOLDS_UNTOLD, FW_NO}};
static size_t ends[][2] = {{0, 1}, {1, 2}, {2, 3}, {3, 0},
                           {0, 2}, {3, 4}, {1, 3}};
static struct fw_plan_fence walls[] = {
    {.role = FW_FENCE_PERIMETER, .side = 0},
    {.role = FW_FENCE_PERIMETER, .side = 1},
    {.role = FW_FENCE_PERIMETER, .side = 2},
    {.role = FW_FENCE_PERIMETER, .side = 3},
    {.role = FW_FENCE_MOVED, .side = 1}, /* none of the boundary */
    {.role = FW_FENCE_PERIMETER, .side = 1},
    {.role = FW_FENCE_MOVED, .side = FW_NONE},
};
static struct fw_plan_field two[] = {
    {.sides = told, .first_fence = 0, .fence_count = 5},
    {.sides = told, .first_fence = 5, .fence_count = 2},
};

static struct fw_plan of_two(void)
{
    for (size_t i = 0; i < 7; i++) {
        walls[i].line = ends[i];
        walls[i].line_count = 2;
        walls[i].field = i >= 5;
        walls[i].strands = 3;
        walls[i].b.by = FW_PACED_SIDE;
    }
    return (struct fw_plan){.fields = two,
                            .field_count = 2,
                            .fences = walls,
                            .fence_count = 7,
                            .wiring.far_hooked = true,
                            .moved.out_and_back = true};
}

static void boundary_is_as_hot_as_the_hotter_of_two_sides(void **state)
{
    (void)state;
    const struct fw_plan plan = of_two();
    static const enum fw_answer first[] = {FW_NO, FW_YES, FW_YES, FW_NO,
                                           FW_UNTOLD};
    static const enum fw_answer second[] = {FW_UNTOLD, FW_UNTOLD, FW_UNTOLD,
                                            FW_YES, FW_YES};
    for (size_t v = 0; v < 5; v++) {
        assert_int_equal(fw_plan_hot_at(&plan, 0, v), first[v]);
        assert_int_equal(fw_plan_hot_at(&plan, 1, v), second[v]);
    }
    /* A fence round a pond has no side that anything was told of. */
    walls[1].side = FW_NONE;
    assert_int_equal(fw_plan_hot_at(&plan, 0, 1), FW_NO);
    walls[1].side = 1;
}

static void far_end_is_hooked_on_where_it_can_be_live(void **state)
{
    (void)state;
    struct fw_plan plan = of_two();
    const struct {
        size_t b; /* the vertex where line 4 ends */
        enum fw_paced by;
        int strands;
        bool out_and_back, far_hooked, hooked;
    } rows[] = {
        {2, FW_PACED_SIDE, 3, true, true, true},  /* at a hot side */
        {0, FW_PACED_SIDE, 3, true, true, false}, /* at cold ones */
        {4, FW_PACED_SIDE, 3, true, true, true},  /* nothing told there */
        {0, FW_PACED_LINE, 3, true, true, true},  /* at a live fence */
        {0, FW_PACED_STRAIGHT, 3, true, true, false},
        {2, FW_PACED_SIDE, 2, true, true, false}, /* the wire turns there */
        {2, FW_PACED_SIDE, 1, true, true, true},
        {2, FW_PACED_SIDE, 2, false, true, true},
        {2, FW_PACED_SIDE, 3, true, false, false},
        {0, FW_PACED_LINE, 4, true, true, false},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        ends[4][1] = rows[i].b;
        walls[4].b.by = rows[i].by;
        walls[4].strands = rows[i].strands;
        plan.moved.out_and_back = rows[i].out_and_back;
        plan.wiring.far_hooked = rows[i].far_hooked;
        if (fw_plan_is_hooked_at_b(&plan, 4) != rows[i].hooked)
            fail_msg("row %zu", i);
    }
    ends[4][1] = 2;
    plan = of_two();
    assert_false(fw_plan_is_hooked_at_b(&plan, 1)); /* of the boundary */
}

/* As a program outside asks, paddock by paddock. */
static void a_stay_is_that_of_its_paddock(void **state)
{
    (void)state;
    struct fw_time_stay stays[] = {{.cell = 2, .enter = 7, .leave = 9},
                                   {.cell = 0, .enter = 9, .leave = 12}};
    const struct fw_plan plan = {.paddock_count = 3,
                                 .time = {.stays = stays, .stay_count = 2}};
    int enter = 0, leave = 0;
    assert_true(fw_plan_stay_in(&plan, 0, &enter, &leave));
    assert_int_equal(enter, 9);
    assert_int_equal(leave, 12);
    assert_true(fw_plan_stay_in(&plan, 2, &enter, &leave));
    assert_int_equal(enter, 7);
    assert_int_equal(leave, 9);
    assert_false(fw_plan_stay_in(&plan, 1, &enter, &leave));
}

/* A square of 64 m2 whatever its way round, a triangle of 50 that is wider, a
 * sliver of 30 that is longer, each far from the plane's middle or not; the
 * square has a hole, which is no piece. */
static void greatest_piece_is_that_of_most_area(void **state)
{
    (void)state;
    static const struct {
        size_t count;
        struct fw_point at[4];
    } shapes[] = {{4, {{0, 0}, {0, 8}, {8, 8}, {8, 0}}},
                  {3, {{900, 500}, {910, 500}, {900, 510}}},
                  {4, {{-40, 3}, {-10, 3}, {-10, 4}, {-40, 4}}},
                  {3, {{2, 2}, {2, 5}, {5, 2}}}};
    static const size_t orders[][3] = {{0, 1, 2}, {0, 2, 1}, {1, 0, 2},
                                       {1, 2, 0}, {2, 0, 1}, {2, 1, 0}};
    for (size_t o = 0; o < sizeof orders / sizeof *orders; o++) {
        struct fw_vertex points[14];
        size_t of[14], ring_start[5] = {0}, piece_ring[4] = {0};
        size_t n = 0, ring = 0, square = 0;
        for (size_t p = 0; p < 3; p++) {
            const size_t kind = orders[o][p];
            square = kind == 0 ? ring : square;
            for (size_t part = kind; part < 4; part += kind == 0 ? 3 : 4) {
                for (size_t i = 0; i < shapes[part].count; i++, n++) {
                    points[n].plane = shapes[part].at[i];
                    of[n] = n;
                }
                ring_start[++ring] = n;
            }
            piece_ring[p + 1] = ring;
        }
        const struct fw_plan_field field = {.vertices = points,
                                            .vertex_count = n};
        const struct fw_plan_rings rings = {of, ring_start, ring, piece_ring,
                                            3};
        assert_int_equal(fw_plan__greatest_ring(&field, &rings), square);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(fields_are_lettered_as_a_counter_turns),
        cmocka_unit_test(a_field_that_keeps_its_letter_changes_with_another),
        cmocka_unit_test(move_is_found_by_its_day_or_the_nearest_named),
        cmocka_unit_test(boundary_is_as_hot_as_the_hotter_of_two_sides),
        cmocka_unit_test(far_end_is_hooked_on_where_it_can_be_live),
        cmocka_unit_test(greatest_piece_is_that_of_most_area),
        cmocka_unit_test(a_stay_is_that_of_its_paddock),
    };
    return cmocka_run_group_tests_name("plan_place", tests, NULL, NULL);
}
