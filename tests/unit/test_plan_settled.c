/* What nobody told, as the plan settled it: the words by the days that each
 * planned field's stays have, and no row beyond the list. */
#include "test.h"

#include "choice/job.h"
#include "make/parts.h"

#include <string.h>

enum { most_fields = 3, rows = 3 };

/* The last row is beyond the list. */
static void settle(const int *days, const size_t *paddocks, bool set_first,
                   struct fw_farm_default *out)
{
    struct fw_plan_field fields[most_fields] = {{.name = NULL}};
    int every_days[most_fields];
    const struct fw_farm_default usual[rows] = {
        {"stay", "1 day", ""},
        {"order of work", "take-down-first", ""},
        {"stay", "beyond the list", ""},
    };
    memcpy(out, usual, sizeof usual);
    for (size_t i = 0; i < most_fields; i++) {
        fields[i].paddock_count = paddocks[i];
        every_days[i] = days[i];
    }
    struct fw_plan plan = {.fields = fields,
                           .field_count = most_fields,
                           .defaults = out,
                           .default_count = 2};
    const struct fw_plan_job job = {
        .plan = &plan, .every_days = every_days, .set_first = set_first};
    fw_plan__settle_defaults(&job);
}

static void the_days_of_a_stay_are_those_of_the_planned_fields(void **state)
{
    (void)state;
    static const struct {
        int days[most_fields];
        size_t paddocks[most_fields];
        const char *words;
    } cases[] = {
        {{0, 0, 0}, {5, 5, 5}, "1 day"},
        {{1, 1, 1}, {5, 5, 5}, "1 day"},
        {{3, 3, 3}, {5, 5, 5}, "3 days"},
        {{2, 2, 2}, {1, 1, 1}, "2 days"},
        {{3, 0, 2}, {5, 5, 5}, "1 to 3 days, by field"},
        {{3, 0, 2}, {5, 0, 5}, "2 to 3 days, by field"},
        {{2, 4, 3}, {5, 5, 5}, "2 to 4 days, by field"},
        {{4, 3, 2}, {1, 0, 0}, "4 days"},
        {{4, 3, 2}, {0, 0, 0}, "1 day"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        struct fw_farm_default out[rows];
        settle(cases[i].days, cases[i].paddocks, false, out);
        assert_string_equal(out[0].value, cases[i].words);
        assert_string_equal(out[1].value, "take-down-first");
        assert_string_equal(out[2].value, "beyond the list");
    }
}

static void the_order_of_work_is_what_came_out(void **state)
{
    (void)state;
    struct fw_farm_default out[rows];
    settle((const int[]){1, 1, 1}, (const size_t[]){5, 5, 5}, true, out);
    assert_string_equal(out[0].value, "1 day");
    assert_string_equal(out[1].value, "set-first");
}

/* A farm that told both has no such rows, and what lies beyond is not its. */
static void what_was_told_is_not_settled(void **state)
{
    (void)state;
    struct fw_plan_field field = {.paddock_count = 4};
    int every_days = 3;
    struct fw_farm_default beyond[] = {{"stay", "1 day", ""},
                                       {"order of work", "as it was", ""}};
    struct fw_plan plan = {.fields = &field,
                           .field_count = 1,
                           .defaults = beyond,
                           .default_count = 0};
    const struct fw_plan_job job = {
        .plan = &plan, .every_days = &every_days, .set_first = true};
    fw_plan__settle_defaults(&job);
    assert_string_equal(beyond[0].value, "1 day");
    plan.default_count = 1;
    fw_plan__settle_defaults(&job);
    assert_string_equal(beyond[0].value, "3 days");
    assert_string_equal(beyond[1].value, "as it was");
}

/* ---- before the first move ---- */

/* Of two paddocks of a field those that have no stay are grazed, and they come
 * from the one before, where that is. */
static void they_come_from_the_paddock_before(void **state)
{
    (void)state;
    struct fw_plan_paddock paddocks[2] = {{.field = 0}, {.field = 0}};
    struct fw_plan plan = {.paddocks = paddocks, .paddock_count = 2};
    struct fw_cell cells[2] = {{.kind = FW_CELL_PADDOCK},
                               {.kind = FW_CELL_PADDOCK}};
    struct fw_land_field field = {.common_count = 0};
    const struct fw_land land = {
        .cells = cells, .cell_count = 2, .fields = &field, .field_count = 1};
    const struct fw_time_stay both[] = {{.cell = 0}, {.cell = 1}};
    static const struct {
        size_t first, count, before; /* of the stays; the cell */
        bool grazed[2];
    } cases[] = {
        {0, 2, FW_NONE, {false, false}},
        {1, 1, 0, {true, false}},
        {0, 1, FW_NONE, {false, true}},
        {0, 0, FW_NONE, {true, true}},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        struct fw_plan_start start;
        assert_int_equal(fw_plan__start(&plan, &land, both + cases[i].first,
                                        cases[i].count, &start, NULL),
                         FW_OK);
        assert_int_equal(start.start.before_count, cases[i].before != FW_NONE);
        if (cases[i].before != FW_NONE)
            assert_int_equal(start.start.before[0].cell, cases[i].before);
        for (size_t p = 0; p < 2; p++)
            assert_int_equal(start.grazed[p], cases[i].grazed[p]);
        fw_plan_start_release(&start);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_days_of_a_stay_are_those_of_the_planned_fields),
        cmocka_unit_test(the_order_of_work_is_what_came_out),
        cmocka_unit_test(what_was_told_is_not_settled),
        cmocka_unit_test(they_come_from_the_paddock_before),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
