/* Both sides of each range, and what each class drinks. */
#include "table.h"

#include "flock/flock.h"

#include <string.h>

static struct fw_flock_class ewe(void)
{
    return (struct fw_flock_class){
        .name = "the old ewes", .head = 10, .weight_kg = 60, .state = FW_DRY};
}

static void refused(const struct fw_flock_class *of, const char *says)
{
    struct fw_intake intake = {.kg_day = -1};
    struct fw_error err = {.text = ""};
    assert_int_equal(fw_flock_intake(of, &intake, &err), FW_EINPUT);
    assert_string_equal(err.text, says);
    assert_near(intake.kg_day, -1, 0);
}

static double eats(const struct fw_flock_class *of)
{
    struct fw_intake intake;
    struct fw_error err;
    if (fw_flock_intake(of, &intake, &err))
        fail_msg("%s", err.text);
    return intake.kg_day;
}

static void head_is_one_to_a_hundred_thousand(void **state)
{
    (void)state;
    struct fw_flock_class of = ewe();
    of.head = 1;
    assert_near(eats(&of), 1.1, 1e-12);
    of.head = 100000;
    assert_near(eats(&of), 1.1, 1e-12);
    of.head = 0;
    refused(&of, "0 head of the old ewes; expected 1 to 100,000");
    of.head = 100001;
    refused(&of, "100001 head of the old ewes; expected 1 to 100,000");
}

static void weight_is_one_to_two_hundred_kilograms(void **state)
{
    (void)state;
    struct fw_flock_class of = ewe();
    of.weight_kg = 1; /* 1.0 kg of 50 kg */
    assert_near(eats(&of), 0.02, 1e-12);
    of.weight_kg = 200; /* 1.4 kg of 90 kg */
    assert_near(eats(&of), 1.4 / 90 * 200, 1e-12);
    of.weight_kg = 0.99;
    refused(&of, "the old ewes weigh 0.99 kg; expected 1 to 200 kg");
    of.weight_kg = 200.1;
    refused(&of, "the old ewes weigh 200.1 kg; expected 1 to 200 kg");
}

static void share_is_up_to_a_tenth(void **state)
{
    (void)state;
    struct fw_flock_class of = ewe();
    of.intake_share = 0.1;
    assert_near(eats(&of), 6, 1e-12);
    of.intake_share = 0.101;
    refused(&of, "the old ewes eat 10.1 % of their weight a day; expected up "
                 "to 10 %");
    of.intake_share = -0.001;
    refused(&of, "the old ewes eat -0.1 % of their weight a day; expected up "
                 "to 10 %");
}

static void feed_of_a_day_is_up_to_fifteen_kilograms(void **state)
{
    (void)state;
    struct fw_flock_class of = ewe();
    of.intake_kg_day = 15;
    assert_near(eats(&of), 15, 0);
    of.intake_kg_day = 15.1;
    refused(&of, "the old ewes eat 15.1 kg a day; expected up to 15 kg");
    of.intake_kg_day = -0.1;
    refused(&of, "the old ewes eat -0.1 kg a day; expected up to 15 kg");
}

static void state_is_one_of_the_table(void **state)
{
    (void)state;
    struct fw_flock_class of = ewe();
    of.state = FW_STATE_COUNT;
    refused(&of, "state 14 of the old ewes; expected one of the intake table");
    of.state = (enum fw_state) - 1;
    refused(&of, "state -1 of the old ewes; expected one of the intake table");
    assert_null(fw_flock_row((enum fw_state) - 1));
}

static void intake_says_where_it_comes_from(void **state)
{
    (void)state;
    struct fw_flock_class of = ewe();
    struct fw_intake intake;
    assert_int_equal(fw_flock_intake(&of, &intake, NULL), FW_OK);
    assert_string_equal(intake.source, fw_flock_row(FW_DRY)->source);
    assert_near(intake.share, 1.1 / 60, 1e-12);
    of.intake_share = 0.03;
    assert_int_equal(fw_flock_intake(&of, &intake, NULL), FW_OK);
    assert_string_equal(intake.source, "given");
    assert_near(intake.kg_day, 1.8, 1e-12);
    assert_near(intake.share, 0.03, 1e-12);
    of.intake_kg_day = 1.5;
    assert_int_equal(fw_flock_intake(&of, &intake, NULL), FW_OK);
    assert_string_equal(intake.source, "given");
    assert_near(intake.share, 0.025, 1e-12);
}

/* NRC 1985, table 1, and by share of live weight: the rows whose weights lie
 * between or beyond those of the table of publications. */
static void rows_without_a_publication_follow_their_share(void **state)
{
    (void)state;
    static const struct {
        enum fw_state state;
        double weight_kg, kg_day;
    } rows[] = {
        {FW_LAMB_AT_FOOT, 15, 0.023 * 15},
        {FW_LAMB_AT_FOOT, 22, 0.023 * 22},
        {FW_LAMB_AT_FOOT, 30, 0.023 * 30},
        {FW_LAMB_AT_FOOT, 40, 0.023 * 40},
        {FW_WEANED_LAMB, 20, 0.04 * 20},
        {FW_WEANED_LAMB, 40, 0.04 * 40},
        {FW_RAM, 60, 0.02 * 60},
        {FW_RAM, 90, 0.02 * 90},
        {FW_RAM, 120, 0.02 * 120},
        {FW_RAM, 150, 0.02 * 150},
        {FW_HOGGET, 50, 1.5},
        {FW_HOGGET, 70, 1.5},
        {FW_HOGGET, 80, 1.5 / 70 * 80},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        struct fw_flock_class of = ewe();
        of.state = rows[i].state;
        of.weight_kg = rows[i].weight_kg;
        assert_near(eats(&of), rows[i].kg_day, 1e-12);
    }
}

/* Twins: 2.9 kg at 70 kg (Making More From Sheep), other weights by the steps
 * of NRC 1985, 0.2 kg for 10 kg. */
static void ewes_with_twins_eat_by_even_steps(void **state)
{
    (void)state;
    for (int k = 0; k < 5; k++) {
        struct fw_flock_class of = ewe();
        of.state = FW_LACTATION_TWINS;
        of.weight_kg = 50 + 10 * k;
        assert_near(eats(&of), 2.9 + 0.2 * (k - 2), 1e-12);
    }
}

/* 72.575 kg are 160 lb: gallons a day by South Dakota State University. */
static void each_class_drinks_as_its_kind(void **state)
{
    (void)state;
    static const struct {
        enum fw_state state;
        double gallons;
    } rows[] = {
        {FW_DRY, 0.96},
        {FW_FLUSHING, 1.90},
        {FW_EARLY_GESTATION, 1.90},
        {FW_LATE_GESTATION, 1.90},
        {FW_LACTATION_SINGLE, 2.36},
        {FW_LACTATION_TWINS, 2 * 2.36},
        {FW_LATE_LACTATION_SINGLE, 2.36},
        {FW_LATE_LACTATION_TWINS, 2 * 2.36},
        {FW_RAM, 0.96},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        struct fw_flock_class of = ewe();
        of.state = rows[i].state;
        of.weight_kg = 160 * 0.45359237;
        const char *source = NULL;
        assert_near(fw_flock_water_l_day(&of, &source),
                    rows[i].gallons * 3.785411784, 1e-9);
        assert_non_null(strstr(source, "South Dakota"));
    }
    static const enum fw_state young[] = {FW_LAMB_AT_FOOT, FW_WEANED_LAMB,
                                          FW_EWE_LAMB, FW_RAM_LAMB, FW_HOGGET};
    for (size_t i = 0; i < sizeof young / sizeof young[0]; i++) {
        struct fw_flock_class of = ewe();
        of.state = young[i];
        const char *source = NULL;
        assert_near(fw_flock_water_l_day(&of, &source), 6, 1e-12);
        assert_non_null(strstr(source, "10 % of live weight"));
    }
}

/* In litres: beyond 130 and 200 lb the share of the end row, between the
 * listed weights straight lines. */
static void water_follows_the_weight(void **state)
{
    (void)state;
    static const struct {
        double lb, gallons;
    } rows[] = {{65, 0.41},   {130, 0.82}, {145, 0.89}, {160, 0.96},
                {180, 1.045}, {200, 1.13}, {400, 2.26}};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        struct fw_flock_class of = ewe();
        of.weight_kg = rows[i].lb * 0.45359237;
        assert_near(fw_flock_water_l_day(&of, NULL),
                    rows[i].gallons * 3.785411784, 1e-9);
    }
}

static void water_of_the_flock_is_that_of_its_heads(void **state)
{
    (void)state;
    struct fw_flock_class of[] = {ewe(), ewe()};
    of[0].weight_kg = 160 * 0.45359237;
    of[1].state = FW_WEANED_LAMB;
    of[1].weight_kg = 30;
    struct fw_flock_sums sums;
    assert_int_equal(fw_flock_sum(of, 2, &sums, NULL), FW_OK);
    assert_near(sums.water_l_day, 10 * 0.96 * 3.785411784 + 10 * 3, 1e-9);
    /* As much of both: who is told first is named. */
    of[0] = of[1];
    of[1] = ewe();
    of[0].head = 1;
    of[0].weight_kg = 10 * 0.82 * 3.785411784; /* a tenth of it a day */
    of[1].head = 1;
    of[1].weight_kg = 130 * 0.45359237;
    assert_int_equal(fw_flock_sum(of, 2, &sums, NULL), FW_OK);
    assert_non_null(strstr(sums.water_source, "10 %"));
}

static void flock_that_is_refused_says_which_class(void **state)
{
    (void)state;
    struct fw_flock_class of[] = {ewe(), ewe()};
    strcpy(of[1].name, "the rams");
    of[1].head = 0;
    struct fw_flock_sums sums = {.head = -1};
    struct fw_error err = {.text = ""};
    assert_int_equal(fw_flock_sum(of, 2, &sums, &err), FW_EINPUT);
    assert_non_null(strstr(err.text, "0 head of the rams"));
    assert_int_equal(sums.head, -1);
    assert_int_equal(fw_flock_sum(of, 0, &sums, &err), FW_EINPUT);
    assert_string_equal(err.text, "the flock has no class of sheep");
}

static void words_of_every_spelling_are_understood(void **state)
{
    (void)state;
    static const struct {
        const char *word;
        enum fw_state state;
    } rows[] = {
        {"DRY", FW_DRY},
        {"wether", FW_DRY},
        {"dry ewes", FW_DRY},
        {"tupping", FW_FLUSHING},
        {"early pregnancy", FW_EARLY_GESTATION},
        {"LATE_PREGNANCY", FW_LATE_GESTATION},
        {"Ewe With Single", FW_LACTATION_SINGLE},
        {"ewe with twins", FW_LACTATION_TWINS},
        {"lambs at foot", FW_LAMB_AT_FOOT},
        {"store lambs", FW_WEANED_LAMB},
        {"ewe lambs", FW_EWE_LAMB},
        {"replacement ram lamb", FW_RAM_LAMB},
        {"hoggs", FW_HOGGET},
        {"RAMS", FW_RAM},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        enum fw_state found = FW_STATE_COUNT;
        assert_int_equal(fw_flock_state(rows[i].word, &found, NULL), FW_OK);
        assert_int_equal(found, rows[i].state);
    }
    /* A slip near a spelling of people's, and near none. */
    enum fw_state found = FW_RAM;
    struct fw_error err;
    assert_int_equal(fw_flock_state("Wehter", &found, &err), FW_EINPUT);
    assert_non_null(strstr(err.text, "did you mean wether?"));
    assert_int_equal(fw_flock_state("ramz", &found, &err), FW_EINPUT);
    assert_non_null(strstr(err.text, "\"ramz\" is not a class of sheep; did "
                                     "you mean ram"));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(head_is_one_to_a_hundred_thousand),
        cmocka_unit_test(weight_is_one_to_two_hundred_kilograms),
        cmocka_unit_test(share_is_up_to_a_tenth),
        cmocka_unit_test(feed_of_a_day_is_up_to_fifteen_kilograms),
        cmocka_unit_test(state_is_one_of_the_table),
        cmocka_unit_test(intake_says_where_it_comes_from),
        cmocka_unit_test(rows_without_a_publication_follow_their_share),
        cmocka_unit_test(ewes_with_twins_eat_by_even_steps),
        cmocka_unit_test(each_class_drinks_as_its_kind),
        cmocka_unit_test(water_follows_the_weight),
        cmocka_unit_test(water_of_the_flock_is_that_of_its_heads),
        cmocka_unit_test(flock_that_is_refused_says_which_class),
        cmocka_unit_test(words_of_every_spelling_are_understood),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
