/* Rounds of a plan: what a second one finds, when there is none and why, and
 * what the reports say. */
#include "plan_help.h"

#include <foldwright/report.h>

static const double use = 0.8, demand_kg = 160;

/* 6 ha of 2,500 kg/ha, left at 1,500, and 80 ewes at 2 kg. */
static struct fw_farm *growing(double kg_ha_day, const char *until)
{
    struct fw_farm *farm = farm_of(&rectangle, NULL);
    struct fw_error err;
    if (kg_ha_day > 0)
        farm->fields[0].growth = (struct fw_growth){
            .rates = {{.kg_ha_day = kg_ha_day}},
            .count = 1,
            .steady = true,
            .shape = FW_GROWTH_FLAT,
            .lat_deg = 58.3,
        };
    farm->until_given = true;
    assert_int_equal(fw_date_read(until, &farm->until_day, &err), FW_OK);
    return farm;
}

static bool is_said(const struct fw_plan *plan, const char *words)
{
    for (size_t i = 0; i < plan->notes.count; i++)
        if (strstr(plan->notes.items[i].text, words))
            return true;
    return false;
}

/* The rest before a stay. */
static int rest_of(const struct fw_plan *plan, size_t stay)
{
    const struct fw_time_stay *stays = plan->time.stays;
    size_t i = stay;
    while (i-- > 0)
        if (stays[i].cell == stays[stay].cell)
            return stays[stay].enter - stays[i].leave;
    fail_msg("stay %zu is the first in its paddock", stay);
    return 0;
}

/* Where it grows steadily a second round finds as much on each hectare, within
 * 1 % (as a prototype of the same laws had it): equal areas would be right. */
static void second_round_finds_the_same_everywhere(void **state)
{
    (void)state;
    struct fw_farm *farm = growing(40, "2027-09-30");
    struct fw_plan *plan = plan_of(farm);
    const size_t first = fw_plan_first_stays(plan);
    double least = HUGE_VAL, most = 0;
    size_t i = first;
    assert_int_equal(first, plan->paddock_count);
    for (; i < plan->time.stay_count && plan->time.stays[i].round == 1; i++) {
        const double kg_ha = use * 40 * rest_of(plan, i);
        const struct fw_plan_paddock *paddock =
            &plan->paddocks[plan->time.stays[i].cell];
        assert_true(kg_ha * paddock->plane_m2 / 1e4 >= demand_kg * (1 - 1e-9));
        least = fmin(least, kg_ha);
        most = fmax(most, kg_ha);
    }
    assert_true(i - first > first / 2);
    assert_true(most / least <= 1.01);
    fw_plan_free(plan);
    fw_farm_free(farm);
}

/* Nothing but what is added: the first round is that of a plan without. */
static void the_first_round_is_as_it_was(void **state)
{
    (void)state;
    struct fw_farm *farm = growing(40, "2027-09-30");
    struct fw_plan *plan = plan_of(farm);
    farm->until_given = false;
    struct fw_plan *once = plan_of(farm);
    const size_t first = fw_plan_first_stays(plan);
    assert_int_equal(once->time.stay_count, first);
    assert_true(plan->time.stay_count > first);
    for (size_t i = 0; i < first; i++) {
        const struct fw_time_stay *a = &once->time.stays[i];
        const struct fw_time_stay *b = &plan->time.stays[i];
        assert_int_equal(a->cell, b->cell);
        assert_int_equal(a->enter, b->enter);
        assert_int_equal(a->leave, b->leave);
        assert_near(once->paddocks[i].plane_m2, plan->paddocks[i].plane_m2, 0);
    }
    for (size_t i = 0; i < plan->fence_count; i++)
        assert_string_equal(once->fences[i].id, plan->fences[i].id);
    assert_int_equal(once->totals.paddocks, plan->totals.paddocks);
    fw_plan_free(plan);
    fw_plan_free(once);
    fw_farm_free(farm);
}

/* 300 ewes eat the field in 12 days; A01, left on 18 May, has rested
 * 14 of 15 spring days on 1 June, and two of 25 summer days make it up. */
static void a_rest_that_is_not_over_ends_the_plan(void **state)
{
    (void)state;
    struct fw_farm *farm = growing(90, "2027-09-30");
    farm->classes[0].head = 300;
    struct fw_plan *plan = plan_of(farm);
    assert_int_equal(plan->time.stay_count, fw_plan_first_stays(plan));
    char end[FW_DATE_TEXT], says[128];
    snprintf(says, sizeof says, "the plan ends on %s, not on 2027-09-30",
             fw_date_write(plan->end_day, end));
    assert_true(is_said(plan, says));
    assert_true(is_said(plan, "the first is A01, on 2027-06-03. Feed "));
    fw_plan_free(plan);
    fw_farm_free(farm);
}

/* In winter nothing grows, and nothing is ready by the day that was told. */
static void grass_that_does_not_come_back_is_told(void **state)
{
    (void)state;
    struct fw_error err;
    struct fw_farm *farm = growing(0.001, "2028-01-15");
    farm->season = FW_SEASON_DORMANT;
    assert_int_equal(fw_date_read("2027-11-15", &farm->start_day, &err), FW_OK);
    struct fw_plan *plan = plan_of(farm);
    assert_int_equal(plan->time.stay_count, fw_plan_first_stays(plan));
    assert_true(is_said(plan, "and none will by that day"));
    fw_plan_free(plan);
    fw_farm_free(farm);
}

static void why_they_do_not_go_round_is_told(void **state)
{
    (void)state;
    struct fw_farm *farm = growing(0, "2027-09-30");
    struct fw_plan *plan = plan_of(farm);
    assert_true(is_said(plan, "nobody told how the grass grows"));
    assert_int_equal(plan->time.stay_count, fw_plan_first_stays(plan));
    fw_plan_free(plan);
    fw_farm_free(farm);
    farm = growing(40, "2027-09-30");
    farm->back_fence = false;
    plan = plan_of(farm);
    assert_true(is_said(plan, "without a back fence no ground rests"));
    assert_int_equal(plan->time.stay_count, fw_plan_first_stays(plan));
    fw_plan_free(plan);
    fw_farm_free(farm);
    farm = growing(40, "2027-06-01");
    plan = plan_of(farm);
    assert_true(is_said(plan, "until: 2027-06-01 is not planned for"));
    assert_int_equal(plan->time.stay_count, fw_plan_first_stays(plan));
    fw_plan_free(plan);
    fw_farm_free(farm);
}

/* Nobody moves the flock on a Sunday, in no round. */
static void later_rounds_keep_the_week(void **state)
{
    (void)state;
    struct fw_farm *farm = growing(40, "2027-10-15");
    farm->stay.days[5] = 2;
    farm->stay.days[6] = 0;
    farm->stay_told = true;
    struct fw_plan *plan = plan_of(farm);
    assert_true(plan->time.stay_count > fw_plan_first_stays(plan) + 10);
    for (size_t i = 0; i < plan->time.stay_count; i++)
        assert_true(fw_date_weekday(plan->time.stays[i].enter) != 6);
    fw_plan_free(plan);
    fw_farm_free(farm);
}

/* A trough stands where it stood, and each paddock has one. */
static void a_trough_is_one_in_all_rounds(void **state)
{
    (void)state;
    struct fw_farm *farm = growing(40, "2027-09-30");
    struct fw_plan *plan = plan_of(farm);
    size_t troughs = 0;
    for (size_t i = 0; i < plan->water_count; i++)
        troughs += strcmp(plan->waters[i].kind_of, "trough") == 0;
    assert_int_equal(troughs, plan->paddock_count);
    const struct fw_time_stay *last =
        &plan->time.stays[plan->time.stay_count - 1];
    assert_int_equal(plan->waters[plan->paddocks[last->cell].water].to,
                     last->leave);
    int enter = 0, leave = 0;
    assert_true(fw_plan_stay_in(plan, last->cell, &enter, &leave));
    assert_int_equal(leave, last->leave);
    assert_true(enter < last->enter);
    fw_plan_free(plan);
    fw_farm_free(farm);
}

static void reports_name_the_round(void **state)
{
    (void)state;
    struct fw_farm *farm = growing(40, "2027-09-30");
    struct fw_plan *plan = plan_of(farm);
    const size_t first = fw_plan_first_stays(plan);
    char *text = NULL;
    size_t count = 0;
    assert_int_equal(fw_report_text(plan, 0, &text, NULL), FW_OK);
    assert_non_null(strstr(text, "\nRound    2, from "));
    fw_bytes_free(text);
    assert_int_equal(fw_report_move(plan, first, 0, &text, NULL), FW_OK);
    assert_non_null(strstr(text, ", round 2)"));
    fw_bytes_free(text);
    assert_int_equal(fw_report_move(plan, 0, 0, &text, NULL), FW_OK);
    assert_null(strstr(text, "round"));
    fw_bytes_free(text);
    assert_int_equal(fw_report_moves_csv(plan, &text, &count, NULL), FW_OK);
    size_t second = 0;
    for (const char *line = text; (line = strchr(line, '\n')); line++) {
        char from[32], to[32];
        int round = 0;
        if (sscanf(line + 1, "%*10s,First,%31[^,],%31[^,],%d", from, to,
                   &round) == 3)
            second += round == 2;
    }
    size_t wanted = 0;
    for (size_t i = 0; i < plan->time.stay_count; i++)
        wanted += plan->time.stays[i].round == 1;
    assert_int_equal(second, wanted);
    fw_bytes_free(text);
    fw_plan_free(plan);
    fw_farm_free(farm);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(second_round_finds_the_same_everywhere),
        cmocka_unit_test(the_first_round_is_as_it_was),
        cmocka_unit_test(a_rest_that_is_not_over_ends_the_plan),
        cmocka_unit_test(grass_that_does_not_come_back_is_told),
        cmocka_unit_test(why_they_do_not_go_round_is_told),
        cmocka_unit_test(later_rounds_keep_the_week),
        cmocka_unit_test(a_trough_is_one_in_all_rounds),
        cmocka_unit_test(reports_name_the_round),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
