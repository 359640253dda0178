/* Faults and readings as people write them, the places where a tester is put
 * on, and what was learned before. */
#include "power_by_hand.h"

#include <foldwright/date.h>

/* ---- as written ---- */

static struct world *two_lines(void)
{
    struct world *w = new_world();
    line_at(w, 100, 2);
    line_at(w, 200, 3);
    return w;
}

static void a_fault_is_read_with_all_its_parts(void **state)
{
    (void)state;
    static const struct {
        const char *text;
        enum fw_fault_kind kind;
        size_t fence;
        int strand;
        double at_m, ohm;
    } rows[] = {
        {"rain", FW_FAULT_RAIN, FW_NONE, 0, 0, 0},
        {"broken:A01-02@40m", FW_FAULT_BROKEN, 4, 0, 40, 0},
        {"broken:A01-02@40m:bottom", FW_FAULT_BROKEN, 4, 0, 40, 0},
        {"broken:A01-02@40m:top", FW_FAULT_BROKEN, 4, 1, 40, 0},
        {"broken:A02-03@40m:top", FW_FAULT_BROKEN, 5, 2, 40, 0},
        {"broken:A02-03@40m:all", FW_FAULT_BROKEN, 5, -1, 40, 0},
        {"broken:A02-03@0m", FW_FAULT_BROKEN, 5, 0, 0, 0},
        {"broken:A02-03@200.4m", FW_FAULT_BROKEN, 5, 0, 200, 0},
        {"broken:A02-03@100 ft", FW_FAULT_BROKEN, 5, 0, 30.48, 0},
        {"short:A01-02@40m", FW_FAULT_SHORT, 4, 0, 40, 500},
        {"short:A01-02@40m:800ohm", FW_FAULT_SHORT, 4, 0, 40, 800},
        {"short:A01-02@40m:0ohm", FW_FAULT_SHORT, 4, 0, 40, 0},
        {"short:A01-02@40m:2 kohm", FW_FAULT_SHORT, 4, 0, 40, 2000},
    };
    struct world *w = two_lines();
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        struct fw_plan_fault fault = {.kind = FW_FAULT_RAIN, .ohm = -1};
        struct fw_error err;
        if (fw_plan_fault_read(&w->plan, rows[i].text, &fault, &err))
            fail_msg("%s", err.text);
        assert_int_equal(fault.kind, rows[i].kind);
        assert_int_equal(fault.fence, rows[i].fence);
        assert_int_equal(fault.strand, rows[i].strand);
        assert_near(fault.at_m, rows[i].at_m, 1e-9);
        assert_near(fault.ohm, rows[i].ohm, 1e-9);
    }
    /* Of one strand the highest is the lowest. */
    struct fw_plan_fault fault;
    w->fences[4].strands = 1;
    assert_int_equal(
        fw_plan_fault_read(&w->plan, "broken:A01-02@4m:top", &fault, NULL),
        FW_OK);
    assert_int_equal(fault.strand, 0);
    free(w);
}

static void what_is_wrong_with_it_is_said(void **state)
{
    (void)state;
    static const char *const faults[][2] = {
        {"broken:A01-02@200.6m", "A01-02 is 200 m long; 200.6 m is beyond"},
        {"broken:A01-02@-1m", "-1"},
        {"broken:A01-02@1kV", "1kV"},
        {"short:A01-02@40m:5m", "5m"},
        {"short:@40m", "the plan has no fence \"\""},
        {"short:A01-02:500ohm", "is no place on a fence"},
        {"Rain", "is no fault; expected broken:FENCE@40m"},
        {"broken:A01-02@40m:TOP", "\"TOP\" is no strand"},
        {"broken:quite@40m", "named as on the cards, such as \"A-side-1\""},
    };
    static const char *const readings[][2] = {
        {"5.6kV", "\"5.6kV\" names no place"},
        {"5.6@A01-02@40m", "5.6"},
        {"5.6ohm@A01-02@40m", "5.6ohm"},
        {"5.6kV@corner:0", "there is no corner 0"},
        {"5.6kV@corner:5", "there is no corner 5; field \"Field\" has corners "
                           "1 to 4"},
        {"5.6kV@corner:x", "there is no corner x"},
        {"5.6kV@corner:10000001", "there is no corner 10000001"},
        {"5.6kV@A01-02", "is no place on a fence"},
        {"5.6kV@A01-02@201m", "is beyond its end"},
    };
    struct world *w = two_lines();
    for (size_t i = 0; i < sizeof faults / sizeof faults[0]; i++) {
        struct fw_error err = {.text = ""};
        struct fw_plan_fault fault;
        assert_int_equal(
            fw_plan_fault_read(&w->plan, faults[i][0], &fault, &err),
            FW_EINPUT);
        if (!strstr(err.text, faults[i][1]))
            fail_msg("\"%s\" of %s", err.text, faults[i][0]);
    }
    for (size_t i = 0; i < sizeof readings / sizeof readings[0]; i++) {
        struct fw_error err = {.text = ""};
        struct fw_plan_measured told;
        assert_int_equal(fw_plan_measured_read(&w->plan, first_day,
                                               readings[i][0], &told, &err),
                         FW_EINPUT);
        if (!strstr(err.text, readings[i][1]))
            fail_msg("\"%s\" of %s", err.text, readings[i][0]);
    }
    free(w);
}

static void a_reading_is_of_the_field_where_they_are(void **state)
{
    (void)state;
    struct fw_farm *farm = farm_of(&rectangle, &leaning);
    struct fw_plan *plan = plan_of(farm);
    const size_t moves = plan->time.move_count;
    for (size_t m = 0; m < moves; m++) {
        const struct fw_move *move = &plan->time.moves[m];
        const struct fw_plan_field *field = &plan->fields[move->field];
        for (size_t k = 1; k <= field->corner_count; k++) {
            char text[40];
            struct fw_plan_measured told;
            snprintf(text, sizeof text, "4.2kV@corner:%zu", k);
            assert_int_equal(
                fw_plan_measured_read(plan, move->day, text, &told, NULL),
                FW_OK);
            const struct fw_plan_fence *fence = &plan->fences[told.fence];
            assert_int_equal(fence->field, move->field);
            assert_int_equal(fence->role, FW_FENCE_PERIMETER);
            assert_int_equal(fence->line[0], field->corners[k - 1]);
            assert_near(told.at_m, 0, 0);
            assert_near(told.open_v, 4200, 1e-9);
        }
    }
    assert_int_equal(plan->time.moves[moves - 1].field, 1);
    /* Before they come it is the first field. */
    struct fw_plan_measured told;
    assert_int_equal(fw_plan_measured_read(plan, plan->start_day - 9,
                                           "4.2kV@corner:2", &told, NULL),
                     FW_OK);
    assert_int_equal(plan->fences[told.fence].field, 0);
    fw_plan_free(plan);
    fw_farm_free(farm);
}

/* ---- where a tester is put on ---- */

static struct fw_plan_looks look(const struct world *w, const char *text,
                                 const struct fw_plan_learned *learned)
{
    struct fw_error err;
    struct fw_plan_fault fault;
    struct fw_plan_looks looks = {.count = 0};
    if ((text && fw_plan_fault_read(&w->plan, text, &fault, &err)) ||
        fw_plan_look_for(&w->plan, first_day, text ? &fault : NULL, learned,
                         &looks, &err))
        fail_msg("%s", err.text);
    return looks;
}

/* The shares of its length at which a fence is looked at. */
static size_t looks_on(const struct fw_plan_looks *looks, size_t fence,
                       double length_m, double shares[64], size_t posts[64])
{
    size_t count = 0;
    for (size_t i = 0; i < looks->count; i++)
        if (looks->items[i].fence == fence) {
            shares[count] = looks->items[i].at_m / length_m;
            posts[count++] = looks->items[i].post;
        }
    return count;
}

static void every_post_of_the_line_and_some_of_others_are_looked_at(void **s)
{
    (void)s;
    struct world *w = two_lines();
    struct fw_plan_post posts[52];
    double shares[64];
    size_t numbers[64];
    for (size_t i = 0; i < 52; i++)
        posts[i] = (struct fw_plan_post){.fence = 4 + i / 26,
                                         .at_m = 8 * (double)(i % 26)};
    w->plan.posts = posts;
    w->plan.post_count = 52;
    struct fw_plan_looks looks = look(w, "short:A02-03@40m", NULL);
    assert_int_equal(looks_on(&looks, 5, 200, shares, numbers), 26);
    for (size_t i = 0; i < 26; i++) {
        assert_near(shares[i], (double)i / 25, 1e-12);
        assert_int_equal(numbers[i], i + 1);
    }
    /* Seven of twenty-six, evenly: 25 gaps over 6. */
    static const size_t seven[7] = {1, 5, 9, 14, 18, 22, 26};
    assert_int_equal(looks_on(&looks, 4, 200, shares, numbers), 7);
    for (size_t i = 0; i < 7; i++) {
        assert_int_equal(numbers[i], seven[i]);
        assert_near(shares[i], (double)(seven[i] - 1) / 25, 1e-12);
    }
    /* Sides have no posts here: both ends. */
    assert_int_equal(looks_on(&looks, 0, 300, shares, numbers), 2);
    assert_near(shares[0], 0, 0);
    assert_near(shares[1], 1, 1e-12);
    assert_int_equal(numbers[0] + numbers[1], 0);
    fw_plan_looks_release(&looks);
    looks = look(w, "short:A-side-1@40m", NULL);
    assert_int_equal(looks_on(&looks, 0, 300, shares, numbers), 9);
    for (size_t i = 0; i < 9; i++)
        assert_near(shares[i], (double)i / 8, 1e-12);
    assert_int_equal(looks_on(&looks, 5, 200, shares, numbers), 7);
    fw_plan_looks_release(&looks);
    /* As many as are shown at most, all of them; one more, not. */
    w->plan.post_count = 7;
    looks = look(w, NULL, NULL);
    assert_int_equal(looks_on(&looks, 4, 200, shares, numbers), 7);
    assert_int_equal(numbers[3], 4);
    for (size_t i = 0; i < looks.count; i++)
        for (int k = 0; k < looks.items[i].strands; k++)
            assert_near(looks.items[i].faulty_v[k], looks.items[i].sound_v[k],
                        0);
    assert_int_equal(looks.after, FW_NONE);
    fw_plan_looks_release(&looks);
    free(w);
}

static void a_fault_at_an_end_is_shown_as_far_as_can_be(void **state)
{
    (void)state;
    static const struct {
        const char *text;
        double after_m, before_m;
    } rows[] = {
        {"short:A01-02@200m", 192, 200},
        {"broken:A01-02@4m", 0, 8},
        {"broken:A01-02@196m:all", 192, 200},
        {"broken:A01-02@100m:top", 96, 104},
    };
    struct world *w = two_lines();
    struct fw_plan_post posts[26];
    for (size_t i = 0; i < 26; i++)
        posts[i] = (struct fw_plan_post){.fence = 4, .at_m = 8 * (double)i};
    w->plan.posts = posts;
    w->plan.post_count = 26;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        struct fw_plan_looks looks = look(w, rows[i].text, NULL);
        if (looks.after == FW_NONE || looks.before == FW_NONE)
            fail_msg("%s is not shown", rows[i].text);
        assert_int_equal(looks.items[looks.after].fence, 4);
        assert_int_equal(looks.items[looks.before].fence, 4);
        assert_near(looks.items[looks.after].at_m, rows[i].after_m, 1e-9);
        assert_near(looks.items[looks.before].at_m, rows[i].before_m, 1e-9);
        fw_plan_looks_release(&looks);
    }
    free(w);
}

/* As many strands as a fence may have, and beyond the break none is live. */
static void all_strands_may_be_broken(void **state)
{
    (void)state;
    struct world *w = new_world();
    line_at(w, 100, 8);
    struct fw_plan_looks looks = look(w, "broken:A01-02@110m:all", NULL);
    size_t seen = 0;
    for (size_t i = 0; i < looks.count; i++) {
        const struct fw_plan_look *here = &looks.items[i];
        if (here->fence != 4)
            continue;
        assert_int_equal(here->strands, 8);
        for (int k = 0; k < 8; k++)
            assert_int_equal(here->faulty_v[k] > 0, here->at_m < 110);
        seen++;
    }
    assert_int_equal(seen, 9);
    fw_plan_looks_release(&looks);
    free(w);
}

/* ---- what was learned before ---- */

static void what_was_learned_is_as_if_it_were_told(void **state)
{
    (void)state;
    struct world *w = new_world();
    line_at(w, 100, 1);
    line_at(w, 200, 1);
    w->plan.wiring.moved_leak_ohm_km = 3000;
    w->plan.wiring.perimeter_leak_ohm_km = 9000;
    w->plan.wiring.perimeter_strands = 1;
    struct world told = *w;
    told.plan.fields = &told.field;
    told.plan.wiring.moved_leak_ohm_km /= 2;
    told.plan.wiring.perimeter_leak_ohm_km /= 2;
    told.plan.power.earth_ohm = 75;
    const struct fw_plan_learned learned = {true, 2, 75};
    const struct fw_plan_learned nothing = {false, 2, 75};
    struct fw_plan_looks wanted = look(&told, "short:A01-02@40m", NULL);
    struct fw_plan_looks plain = look(w, "short:A01-02@40m", NULL);
    struct fw_plan_looks got = look(w, "short:A01-02@40m", &learned);
    struct fw_plan_looks same = look(w, "short:A01-02@40m", &nothing);
    assert_int_equal(got.count, wanted.count);
    for (size_t i = 0; i < got.count; i++)
        for (int k = 0; k < got.items[i].strands; k++) {
            assert_relative(got.items[i].sound_v[k], wanted.items[i].sound_v[k],
                            1e-9);
            assert_relative(got.items[i].faulty_v[k],
                            wanted.items[i].faulty_v[k], 1e-9);
            assert_true(got.items[i].sound_v[k] < plain.items[i].sound_v[k]);
            assert_near(same.items[i].sound_v[k], plain.items[i].sound_v[k], 0);
        }
    fw_plan_looks_release(&wanted);
    fw_plan_looks_release(&plain);
    fw_plan_looks_release(&got);
    fw_plan_looks_release(&same);
    free(w);
}

/* The reading that is at fault is told by its number, from one on. */
static void a_reading_on_a_dead_side_is_told_by_its_number(void **state)
{
    (void)state;
    for (size_t at = 0; at < 3; at++) {
        struct world *w = two_lines();
        struct fw_plan_measured readings[3];
        struct fw_plan_power_day rows[1];
        struct fw_circuit_fit fit;
        struct fw_error err = {.text = ""};
        char wanted[64];
        w->sides[0].hot = FW_NO;
        for (size_t i = 0; i < 3; i++)
            readings[i] = (struct fw_plan_measured){
                .fence = i == at ? 0 : 4, .at_m = 10, .open_v = 5000};
        assert_int_equal(
            fw_plan_learn(&w->plan, first_day, readings, 3, &fit, rows, &err),
            FW_EINPUT);
        snprintf(wanted, sizeof wanted, "reading %zu: A-side-1 does not stand",
                 at + 1);
        if (!strstr(err.text, wanted))
            fail_msg("%s; expected %s", err.text, wanted);
        free(w);
    }
}

/* ---- days ---- */

/* Rows follow each other without a gap from the first day to the last, and the
 * worst has the least volts of those that have any. */
static void rows_of_days_cover_the_plan(void **state)
{
    (void)state;
    for (int i = 0; i < 2; i++) {
        struct fw_farm *farm = farm_of(&rectangle, i ? &leaning : NULL);
        farm->stay.days[2] = 3;
        struct fw_plan *plan = plan_of(farm);
        int day = plan->start_day;
        size_t worst = FW_NONE;
        for (size_t r = 0; r < plan->power_day_count; r++) {
            const struct fw_plan_power_day *row = &plan->power_days[r];
            assert_int_equal(row->from, day);
            assert_true(row->to > row->from);
            for (; day < row->to; day++)
                assert_int_equal(fw_plan_power_row(plan, day), r);
            if (row->fence != FW_NONE &&
                (worst == FW_NONE ||
                 row->touched_v < plan->power_days[worst].touched_v))
                worst = r;
        }
        assert_int_equal(day, plan->end_day);
        assert_int_equal(fw_plan_power_row(plan, day), FW_NONE);
        assert_int_equal(fw_plan_power_row(plan, plan->start_day - 1), FW_NONE);
        assert_int_equal(fw_plan_worst_day(plan), worst);
        fw_plan_free(plan);
        fw_farm_free(farm);
    }
}

/* A row ends where something is moved or grass begins or ends to grow, and
 * nowhere else. */
static void days_alike_are_one_row(void **state)
{
    (void)state;
    size_t seasons = 0, joined = 0;
    for (int back = 4; back < 7; back++) {
        struct fw_farm *farm = farm_of(&rectangle, NULL);
        for (int i = 0; i < 7; i++)
            farm->stay.days[i] = 3;
        const struct fw_plan_field field = {.plane =
                                                farm->fields[0].shape->plane};
        const struct fw_plan place = {.fields = (struct fw_plan_field *)&field,
                                      .field_count = 1};
        while (fw_plan_growing(&place, farm->start_day) ==
               fw_plan_growing(&place, farm->start_day - 1))
            farm->start_day++;
        farm->start_day -= back;
        struct fw_plan *plan = plan_of(farm);
        for (int day = plan->start_day + 1; day < plan->end_day; day++) {
            const bool begins = fw_plan_power_row(plan, day) !=
                                fw_plan_power_row(plan, day - 1);
            const bool turns =
                fw_plan_growing(plan, day) != fw_plan_growing(plan, day - 1);
            bool moved = false;
            for (size_t m = 0; m < plan->time.move_count; m++)
                moved |= plan->time.moves[m].day == day;
            if (turns)
                assert_true(begins);
            else if (!moved)
                assert_false(begins);
            seasons += turns && !moved;
            joined += !begins;
        }
        fw_plan_free(plan);
        fw_farm_free(farm);
    }
    assert_true(seasons > 0);
    assert_true(joined > 10);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_fault_is_read_with_all_its_parts),
        cmocka_unit_test(what_is_wrong_with_it_is_said),
        cmocka_unit_test(a_reading_is_of_the_field_where_they_are),
        cmocka_unit_test(
            every_post_of_the_line_and_some_of_others_are_looked_at),
        cmocka_unit_test(a_fault_at_an_end_is_shown_as_far_as_can_be),
        cmocka_unit_test(all_strands_may_be_broken),
        cmocka_unit_test(what_was_learned_is_as_if_it_were_told),
        cmocka_unit_test(a_reading_on_a_dead_side_is_told_by_its_number),
        cmocka_unit_test(rows_of_days_cover_the_plan),
        cmocka_unit_test(days_alike_are_one_row),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
