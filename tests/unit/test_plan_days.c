/* Where days end, and days on which nobody moves the flock. */
#include "choice/days.h"
#include "plan_help.h"

#include <foldwright/date.h>

static void the_last_day_is_the_end_of_2200(void **state)
{
    (void)state;
    int day = 0;
    char text[FW_DATE_TEXT];
    assert_int_equal(fw_date_read("2200-12-31", &day, NULL), FW_OK);
    assert_int_equal(day, FW_LAST_DAY);
    assert_string_equal(fw_date_write(FW_LAST_DAY + 1, text), "");
}

static enum fw_status plan_from(int day, int *end, struct fw_error *err)
{
    struct fw_farm *farm = farm_of(&rectangle, NULL);
    struct fw_plan *plan = NULL;
    farm->start_day = day;
    const enum fw_status status = fw_plan_make(farm, &plan, err);
    if (!status)
        *end = plan->end_day;
    fw_plan_free(plan);
    fw_farm_free(farm);
    return status;
}

static void no_plan_goes_beyond_the_last_day(void **state)
{
    (void)state;
    struct fw_error err = {0};
    int end = 0;
    const int start = FW_LAST_DAY - 1000;
    assert_int_equal(plan_from(start, &end, &err), FW_OK);
    const int days = end - start;
    assert_true(days > 5);
    assert_int_equal(plan_from(FW_LAST_DAY - days - 1, &end, &err), FW_OK);
    assert_int_equal(end, FW_LAST_DAY - 1);
    for (int late = days - 1; late >= 0; late -= days / 5) {
        assert_int_equal(plan_from(FW_LAST_DAY - late, &end, &err), FW_EINPUT);
        assert_non_null(strstr(err.text, "beyond 2200-12-31"));
    }
}

/* 6 ha of 800 kg/ha usable, 80 head of 2 kg: 30 days' feed. */
static void a_stay_made_too_long_by_days_away_names_them(void **state)
{
    (void)state;
    struct fw_error err = {0};
    struct fw_plan *plan = NULL;
    struct fw_farm *farm = farm_of(&rectangle, NULL);
    for (int long_enough = 0; long_enough < 2; long_enough++) {
        farm->classes[0].head = long_enough ? 80 : 1600;
        fw_free(farm->stay.away);
        farm->stay.away = fw_alloc(2, sizeof(int));
        farm->stay.away_count = 1;
        farm->stay.away[0] = farm->start_day + 1;
        farm->stay.away[1] = farm->start_day + 7;
        const enum fw_status status = fw_plan_make(farm, &plan, &err);
        if (long_enough) {
            assert_int_equal(status, FW_OK);
            fw_plan_free(plan);
            break;
        }
        assert_int_equal(status, FW_EPLAN);
        if (!strstr(err.text, "from 2027-05-18 to 2027-05-24 (away)") ||
            !strstr(err.text, "must stay 8 days"))
            fail_msg("%s", err.text);
    }
    fw_farm_free(farm);
}

/* Paddocks that were made for stays of so many days are grazed for as many,
 * when nobody tells a stay; a stay that is told goes over that. */
static void untold_stays_are_those_of_the_plan_before(void **state)
{
    (void)state;
    for (int days = 1; days <= 3; days++)
        for (int told = 0; told < 2; told++) {
            struct fw_farm *farm = farm_of(&rectangle, NULL);
            farm->stay_told = true;
            farm->classes[0].head = 120;
            farm->fields[0].sward.use = 0; /* what is eaten goes by the stay */
            for (int i = 0; i < 7; i++)
                farm->stay.days[i] = days;
            struct fw_plan *before = plan_of(farm);
            size_t fence = 0;
            while (before->fences[fence].role != FW_FENCE_MOVED)
                fence++;
            const size_t from = before->fences[fence].from;
            assert_true(from + 4 < before->paddock_count);
            farm->earlier = before;
            farm->start_day = stay_in(before, from + 1)->enter;
            farm->fields[0].front =
                (struct fw_farm_front){.named = true, .fence = fence};
            farm->stay_told = told;
            for (int i = 0; i < 7; i++)
                farm->stay.days[i] = told ? days : 1;
            struct fw_plan *rest = plan_of(farm);
            for (size_t p = from + 1; p + 1 < rest->paddock_count; p++) {
                const struct fw_time_stay *stay = stay_in(rest, p);
                assert_int_equal(stay->leave - stay->enter, days);
                assert_near(rest->paddocks[p].stay_days, days, 1e-6);
            }
            assert_relative(rest->fields[0].usable_kg_ha,
                            before->fields[0].usable_kg_ha, 1e-12);
            farm->earlier = NULL;
            fw_plan_free(rest);
            fw_plan_free(before);
            fw_farm_free(farm);
        }
}

/* ---- as it is on a day, or after a step ---- */

static void same_as_afresh(const struct fw_plan *plan,
                           const struct fw_plan__days *days, int day,
                           size_t step)
{
    struct fw_plan__days fresh;
    struct fw_error err;
    assert_int_equal(fw_plan__days_init(&fresh, plan, &err), FW_OK);
    assert_int_equal(step == FW_NONE
                         ? fw_plan__days_to(&fresh, day, &err)
                         : fw_plan__days_to_step(&fresh, step, &err),
                     FW_OK);
    assert_int_equal(days->replay.step, fresh.replay.step);
    assert_int_equal(days->replay.cell, fresh.replay.cell);
    for (size_t i = 0; i < plan->fence_count; i++) {
        assert_int_equal(days->replay.stands[i], fresh.replay.stands[i]);
        assert_int_equal(fw_plan__days_hooked(days, i),
                         fw_plan__days_hooked(&fresh, i));
    }
    fw_plan__days_release(&fresh);
}

/* Back and forth by one step, by a few days, and from one kind to the other. */
static void it_is_the_same_whichever_way_it_is_come_to(void **state)
{
    (void)state;
    struct fw_farm *farm = farm_of(&rectangle, &corner);
    farm->layout = fw_strdup("blocks");
    struct fw_plan *plan = plan_of(farm);
    struct fw_plan__days days;
    struct fw_error err;
    const size_t steps = plan->time.step_count;
    static const size_t asked[] = {0,  1,  2,  1,  0,  9,  8,  8, 10,
                                   20, 19, 40, 38, 39, 37, 60, 3};
    static const int later[] = {0, 3, 2, 2, 9, -1, 5, 4, 60, 30};
    assert_true(steps > 60);
    assert_int_equal(fw_plan__days_init(&days, plan, &err), FW_OK);
    for (size_t i = 0; i < sizeof asked / sizeof *asked; i++) {
        assert_int_equal(fw_plan__days_to_step(&days, asked[i], &err), FW_OK);
        assert_int_equal(days.replay.step, asked[i] + 1);
        same_as_afresh(plan, &days, 0, asked[i]);
    }
    for (size_t i = 0; i < sizeof later / sizeof *later; i++) {
        const int day = plan->start_day + later[i];
        assert_int_equal(fw_plan__days_to(&days, day, &err), FW_OK);
        same_as_afresh(plan, &days, day, FW_NONE);
    }
    fw_plan__days_release(&days);
    fw_plan_free(plan);
    fw_farm_free(farm);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(it_is_the_same_whichever_way_it_is_come_to),
        cmocka_unit_test(the_last_day_is_the_end_of_2200),
        cmocka_unit_test(no_plan_goes_beyond_the_last_day),
        cmocka_unit_test(untold_stays_are_those_of_the_plan_before),
        cmocka_unit_test(a_stay_made_too_long_by_days_away_names_them),
    };
    return cmocka_run_group_tests_name("plan_days", tests, NULL, NULL);
}
