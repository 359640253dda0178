/* Growth in a plan: areas by a closed form, the days that a field lasts as they
 * were worked out before, what is refused, and what the report says of it. */
#include "plan_help.h"

#include <foldwright/report.h>

/* 6 ha of 2,500 kg/ha, left at 1,500, of which they eat four fifths: with 80
 * ewes at 2 kg that is 30 days as it stands. */
static const double use = 0.8, demand_kg = 160;

static struct fw_farm *growing(double kg_ha_day, enum fw_growth_shape shape)
{
    struct fw_farm *farm = farm_of(&rectangle, NULL);
    farm->fields[0].growth = (struct fw_growth){
        .rates = {{.kg_ha_day = kg_ha_day}},
        .count = 1,
        .steady = true,
        .shape = shape,
        .lat_deg = 58.3,
    };
    return farm;
}

/* D / (u (m - r + g k)), paddock after paddock; the last has what is left. */
static void areas_follow_the_days(void **state)
{
    (void)state;
    struct fw_farm *farm = growing(40, FW_GROWTH_FLAT);
    farm->last = FW_LAST_SHORT;
    struct fw_plan *plan = plan_of(farm);
    double left_m2 = plan->fields[0].plane_m2;
    size_t k = 0;
    for (; k + 1 < plan->paddock_count; k++) {
        const double m2 =
            demand_kg / (use * (2500 - 1500 + 40 * (double)k) / 1e4);
        assert_near(plan->paddocks[k].plane_m2 / m2, 1, 1e-9);
        assert_near(plan->paddocks[k].usable_kg, demand_kg, 1e-6);
        left_m2 -= m2;
    }
    assert_near(plan->paddocks[k].plane_m2 / left_m2, 1, 1e-6);
    assert_true(left_m2 <
                demand_kg / (use * (1000 + 40 * (double)k) / 1e4) * 1.1);
    assert_near(plan->fields[0].still_days / 30, 1, 1e-4);
    fw_plan_free(plan);
    fw_farm_free(farm);
}

/* As a prototype of the same laws had them, to its printed figures. */
static void a_field_lasts_as_long_as_was_worked_out(void **state)
{
    (void)state;
    static const struct {
        double kg_ha_day;
        double days;
    } rows[] = {{69, 85}, {40, 60}, {15, 38}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct fw_farm *farm = growing(rows[i].kg_ha_day, FW_GROWTH_LOGISTIC);
        struct fw_plan *plan = plan_of(farm);
        /* Whole days; the last one is not full. */
        assert_near(floor(plan->fields[0].rotation_days + 1e-6), rows[i].days,
                    0);
        assert_near(plan->fields[0].growth_kg_ha, rows[i].kg_ha_day, 0);
        assert_int_equal(plan->fields[0].good_days, 0);
        fw_plan_free(plan);
        fw_farm_free(farm);
    }
}

/* Nobody told any: 40 kg/ha a day make a fifth of 1,000 kg/ha in 5 days. */
static void a_plan_without_growth_says_how_long_it_is_good(void **state)
{
    (void)state;
    struct fw_farm *farm = farm_of(&rectangle, NULL);
    char *text = NULL;
    struct fw_plan *plan = plan_of(farm);
    assert_in_range(plan->fields[0].good_days, 4, 6);
    assert_int_equal(fw_report_text(plan, 0, &text, NULL), FW_OK);
    assert_non_null(strstr(text, "Growth is not told and not counted"));
    fw_bytes_free(text);
    fw_plan_free(plan);
    farm->season = FW_SEASON_DORMANT;
    plan = plan_of(farm);
    assert_int_equal(plan->fields[0].good_days, 0);
    assert_int_equal(fw_report_text(plan, 0, &text, NULL), FW_OK);
    assert_null(strstr(text, "Growth is not told"));
    fw_bytes_free(text);
    fw_plan_free(plan);
    fw_farm_free(farm);
}

/* In winter it goes the other way: later paddocks are greater. */
static void winter_makes_later_paddocks_greater(void **state)
{
    (void)state;
    struct fw_farm *farm = farm_of(&rectangle, NULL);
    struct fw_error err;
    farm->season = FW_SEASON_DORMANT;
    farm->last = FW_LAST_SHORT;
    farm->fields[0].growth =
        (struct fw_growth){.winter_loss = 0.5, .lat_deg = 58.3};
    assert_int_equal(fw_date_read("2027-11-15", &farm->start_day, &err), FW_OK);
    struct fw_plan *plan = plan_of(farm);
    for (size_t k = 0; k + 1 < plan->paddock_count; k++) {
        const double stands = 2500 * pow(0.5, (double)k / 120);
        const double m2 = demand_kg / (use * (stands - 1500) / 1e4);
        assert_near(plan->paddocks[k].plane_m2 / m2, 1, 1e-9);
    }
    assert_true(plan->fields[0].rotation_days < 30);
    fw_plan_free(plan);
    fw_farm_free(farm);
}

/* Bare ground would have 2,500 of which they eat four fifths; above 1,500 it is
 * 1,000. */
static void what_stands_below_the_stop_height_is_known(void **state)
{
    (void)state;
    struct fw_farm *farm = farm_of(&rectangle, NULL);
    struct fw_plan *plan = plan_of(farm);
    for (size_t k = 0; k < plan->paddock_count; k++) {
        const struct fw_plan_paddock *paddock = &plan->paddocks[k];
        assert_near(paddock->bare_kg / (paddock->plane_m2 / 1e4 * use * 2500),
                    1, 1e-9);
        assert_near(paddock->today_kg / (paddock->plane_m2 / 1e4 * use * 1000),
                    1, 1e-9);
    }
    assert_int_equal(plan->lambing_day, FW_NO_DAY);
    fw_plan_free(plan);
    fw_farm_free(farm);
}

/* What the report says is put on one line. */
static void growth_said(const struct fw_plan *plan, char said[1024])
{
    char *text = NULL;
    assert_int_equal(fw_report_text(plan, 0, &text, NULL), FW_OK);
    const char *at = strstr(text, "\nGrowth ");
    assert_non_null(at);
    size_t n = 0;
    for (at++; n < 1023 && (*at != '\n' || at[1] == ' '); at++)
        if ((*at != ' ' && *at != '\n') || said[n - 1] != ' ')
            said[n++] = *at == '\n' ? ' ' : *at;
    said[n] = '\0';
    fw_bytes_free(text);
}

/* K / (1 + (K/m - 1) exp(-g t / c)), with the mean c of m (1 - m/K) over 1,500
 * to 2,500. */
static double logistic(double kg_ha_day, double days)
{
    const double ceiling = 6000, mean = 2000 - 49e6 / 12 / ceiling;
    return ceiling / (1 + (ceiling / 2500 - 1) * exp(-kg_ha_day * days / mean));
}

/* By how much a paddock's own usable grass is off that of other_kg_ha. */
static double off(const struct fw_plan_paddock *paddock, double other_kg_ha)
{
    return paddock->usable_kg / paddock->plane_m2 * 1e4 /
           (use * (other_kg_ha - 1500));
}

/* The first of 67 days takes 0.2 ha (as a prototype of the same laws had them).
 */
static void the_report_says_what_growth_makes_of_it(void **state)
{
    (void)state;
    struct fw_farm *farm = growing(69, FW_GROWTH_SET_STOCKED);
    farm->last = FW_LAST_EVEN;
    struct fw_plan *plan = plan_of(farm);
    char said[1024], id[16];
    double first, last, own, other, more, days, still;
    char way[8];
    growth_said(plan, said);
    if (sscanf(
            said,
            "Growth First: grows 69 kg/ha a day: a day's feed takes %lf ha "
            "in the first paddock, %lf ha in the last; %15s takes %lf ha a "
            "day, by another shape of growth %lf ha, %lf %% %4s; it lasts %lf "
            "days (%lf without).",
            &first, &last, id, &own, &other, &more, way, &days, &still) != 9)
        fail_msg("%s", said);
    const double share = plan->fields[0].last_share;
    const struct fw_plan_paddock *at = plan->paddocks;
    double wanted = 1;
    for (size_t k = 0; k < plan->paddock_count; k++) {
        const struct fw_plan_paddock *paddock = &plan->paddocks[k];
        const double by = off(paddock, logistic(69, (double)k));
        if (fabs(log(by)) > fabs(log(wanted))) {
            wanted = by;
            at = paddock;
        }
    }
    assert_string_equal(id, at->id);
    assert_near(first, share * 0.2, 0.005 + 1e-9);
    assert_near(own, at->plane_m2 / 1e4, 0.005 + 1e-9);
    assert_near(other, at->plane_m2 / 1e4 * wanted, 0.005 + 1e-9);
    assert_near(more, 100 * fabs(wanted - 1), 0.5 + 1e-6);
    assert_string_equal(way, wanted > 1 ? "more" : "less");
    assert_near(last, plan->paddocks[plan->paddock_count - 1].plane_m2 / 1e4,
                0.005 + 1e-9);
    assert_near(floor(days + 0.5), 67, 1);
    assert_near(still, 30, 0.05);
    assert_null(strstr(said, "Equal areas"));
    fw_plan_free(plan);
    fw_farm_free(farm);
    /* 15 a day in 10 days are 150 on 1,000: within a fifth. */
    farm = growing(15, FW_GROWTH_FLAT);
    farm->classes[0].head = 240;
    plan = plan_of(farm);
    growth_said(plan, said);
    assert_non_null(strstr(said, "Equal areas a day would do."));
    assert_null(strstr(said, "another shape"));
    fw_plan_free(plan);
    fw_farm_free(farm);
}

/* At 40 a day logistic and flat growth part by 6 % on the way and meet again in
 * the last paddocks: the one that is furthest off is told. */
static void a_shape_that_moves_a_paddock_on_the_way_is_told(void **state)
{
    (void)state;
    struct fw_farm *farm = growing(40, FW_GROWTH_LOGISTIC);
    struct fw_plan *plan = plan_of(farm);
    char said[1024], wanted[96];
    size_t worst = 0;
    for (size_t k = 0; k < plan->paddock_count; k++) {
        const double flat = 2500 + 40 * (double)k;
        const struct fw_plan_paddock *paddock = &plan->paddocks[k];
        assert_near(paddock->usable_kg / paddock->other_kg, off(paddock, flat),
                    1e-6);
        if (fabs(log(off(paddock, flat))) >
            fabs(log(off(&plan->paddocks[worst], 2500 + 40 * (double)worst))))
            worst = k;
    }
    const size_t last = plan->paddock_count - 1;
    assert_true(fabs(off(&plan->paddocks[last], 2500 + 40 * (double)last) - 1) <
                0.05);
    assert_true(worst > 0 && worst < last);
    growth_said(plan, said);
    snprintf(wanted, sizeof wanted, "; %s takes 0.", plan->paddocks[worst].id);
    if (!strstr(said, wanted))
        fail_msg("%s", said);
    fw_plan_free(plan);
    fw_farm_free(farm);
}

static void refused(struct fw_farm *farm, enum fw_status wanted,
                    const char *says)
{
    struct fw_plan *plan = NULL;
    struct fw_error err = {0};
    assert_int_equal(fw_plan_make(farm, &plan, &err), wanted);
    if (!strstr(err.text, says))
        fail_msg("\"%s\" does not say \"%s\"", err.text, says);
    assert_null(plan);
    fw_farm_free(farm);
}

static void what_cannot_be_grown_is_refused_by_name(void **state)
{
    (void)state;
    struct fw_error err;
    struct fw_farm *farm = growing(40, FW_GROWTH_LOGISTIC);
    farm->fields[0].sward.mass_kg_ha = 6500;
    refused(farm, FW_EINPUT, "First: 6500 kg/ha stand, above the 6000");
    /* A table of May alone, and a plan that goes on into June. */
    farm = growing(69, FW_GROWTH_LOGISTIC);
    farm->fields[0].growth.steady = false;
    farm->fields[0].growth.rates[0].month = 5;
    farm->fields[0].growth.rates[0].of_month = 1;
    refused(farm, FW_EINPUT, "growth says nothing of 2027-06-01");
    /* Nothing grows, and winter takes all that may be eaten. */
    farm = farm_of(&rectangle, NULL);
    farm->season = FW_SEASON_DORMANT;
    farm->classes[0].head = 8;
    farm->fields[0].growth =
        (struct fw_growth){.winter_loss = 0.9, .lat_deg = 58.3};
    assert_int_equal(fw_date_read("2027-11-15", &farm->start_day, &err), FW_OK);
    refused(farm, FW_EPLAN, "nothing stands above what must stay");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(areas_follow_the_days),
        cmocka_unit_test(a_field_lasts_as_long_as_was_worked_out),
        cmocka_unit_test(a_plan_without_growth_says_how_long_it_is_good),
        cmocka_unit_test(winter_makes_later_paddocks_greater),
        cmocka_unit_test(what_stands_below_the_stop_height_is_known),
        cmocka_unit_test(the_report_says_what_growth_makes_of_it),
        cmocka_unit_test(a_shape_that_moves_a_paddock_on_the_way_is_told),
        cmocka_unit_test(what_cannot_be_grown_is_refused_by_name),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
