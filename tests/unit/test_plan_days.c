/* Where days end, and days on which nobody moves the flock. */
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

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_last_day_is_the_end_of_2200),
        cmocka_unit_test(no_plan_goes_beyond_the_last_day),
        cmocka_unit_test(a_stay_made_too_long_by_days_away_names_them),
    };
    return cmocka_run_group_tests_name("plan_days", tests, NULL, NULL);
}
