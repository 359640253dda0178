/* Both sides of each range of the grass, and the words of what is refused. */
#include "table.h"

#include "forage/forage.h"
#include <foldwright/date.h>
#include <foldwright/figures.h>

#include <string.h>

static struct fw_sward meadow(void)
{
    return (struct fw_sward){
        .height_m = 0.2, .leave_m = 0.08, .density_kg_ha_cm = 100, .use = 0.5};
}

static void taken(const struct fw_sward *sward, double stay_days,
                  double usable_kg_ha)
{
    struct fw_usable usable;
    struct fw_error err;
    if (fw_forage_usable(sward, stay_days, &usable, &err))
        fail_msg("%s", err.text);
    assert_near(usable.usable_kg_ha, usable_kg_ha, 1e-9);
}

static void refused(const struct fw_sward *sward, double stay_days,
                    const char *says)
{
    struct fw_usable usable = {.use = -1};
    struct fw_error err = {.text = ""};
    assert_true(fw_forage_usable(sward, stay_days, &usable, &err) != FW_OK);
    assert_string_equal(err.text, says);
    assert_near(usable.use, -1, 0);
}

static void heights_are_up_to_three_metres(void **state)
{
    (void)state;
    struct fw_sward of = meadow();
    of.height_m = 3;
    taken(&of, 1, 0.5 * (300 - 8) * 100);
    of.height_m = 3.01;
    refused(&of, 1, "grass of 301 cm, 8 cm left; expected up to 300 cm");
    of.height_m = 0.2;
    of.leave_m = 3.01;
    refused(&of, 1, "grass of 20 cm, 301 cm left; expected up to 300 cm");
    of.leave_m = -0.01;
    refused(&of, 1, "grass of 20 cm, -1 cm left; expected up to 300 cm");
}

static void masses_are_up_to_thirty_tonnes(void **state)
{
    (void)state;
    struct fw_sward of = {
        .mass_kg_ha = 30000, .residual_kg_ha = 1000, .use = 0.5};
    taken(&of, 1, 14500);
    of.mass_kg_ha = 30000.5;
    refused(&of, 1,
            "mass 30000.5 and residual 1000 kg/ha; expected up to 30,000");
    of.mass_kg_ha = 2000;
    of.residual_kg_ha = -1;
    refused(&of, 1, "mass 2000 and residual -1 kg/ha; expected up to 30,000");
    of.residual_kg_ha = 30000.5;
    refused(&of, 1,
            "mass 2000 and residual 30000.5 kg/ha; expected up to 30,000");
}

static void density_is_up_to_a_thousand(void **state)
{
    (void)state;
    struct fw_sward of = meadow();
    of.density_kg_ha_cm = 1000;
    taken(&of, 1, 6000);
    of.density_kg_ha_cm = 1000.5;
    refused(&of, 1, "density 1000.5 kg/ha for each cm; expected up to 1,000");
    of.density_kg_ha_cm = -0.5;
    refused(&of, 1, "density -0.5 kg/ha for each cm; expected up to 1,000");
}

static void use_is_up_to_the_whole(void **state)
{
    (void)state;
    struct fw_sward of = meadow();
    of.use = 1;
    taken(&of, 1, 1200);
    of.use = 1.005;
    refused(&of, 1, "use is 100.5 %; expected more than 0 and up to 100 %");
    of.use = -0.1;
    refused(&of, 1, "use is -10 %; expected more than 0 and up to 100 %");
    of.use = 0.01;
    taken(&of, 1, 12);
}

static void legumes_are_up_to_the_whole(void **state)
{
    (void)state;
    struct fw_sward of = meadow();
    of.legume = 1;
    taken(&of, 1, 600);
    of.legume = -1; /* nobody told */
    taken(&of, 1, 600);
    of.legume = 1.01;
    refused(&of, 1, "legume is 101 %; expected up to 100 %");
}

static void stay_is_up_to_a_leap_year(void **state)
{
    (void)state;
    const struct fw_sward of = meadow();
    taken(&of, 366, 600);
    taken(&of, 0.01, 600);
    refused(&of, 366.5,
            "a stay of 366.5 days; expected more than 0 and up to 366");
    refused(&of, 0, "a stay of 0 days; expected more than 0 and up to 366");
}

static void choices_are_those_of_the_lists(void **state)
{
    (void)state;
    struct fw_sward of = meadow();
    of.use_of = (enum fw_use_of)(FW_USE_STANDING + 1);
    refused(&of, 1, "use-of is 3; expected above-residual or standing");
    of = meadow();
    of.density = (enum fw_density)(FW_DENSITY_THICK + 1);
    refused(&of, 1, "density 3; expected thin, good or thick");
    of.density = FW_DENSITY_THICK;
    taken(&of, 1, 600);
}

/* What must stay is what stands: nothing is left, and one kilogram more is. */
static void grass_to_the_residual_is_nothing_left(void **state)
{
    (void)state;
    struct fw_sward of = {
        .mass_kg_ha = 1200, .residual_kg_ha = 1500, .use = 0.5};
    refused(&of, 1,
            "1200 kg/ha stand and 1500 must stay: nothing is left to graze; "
            "let it grow, or leave less");
    of.residual_kg_ha = 1200;
    refused(&of, 1,
            "1200 kg/ha stand and 1200 must stay: nothing is left to graze; "
            "let it grow, or leave less");
    of.residual_kg_ha = 1199;
    taken(&of, 1, 0.5);
    /* A residual in kilograms is answered in kilograms. */
    of = meadow();
    of.residual_kg_ha = 2100;
    refused(&of, 1,
            "2000 kg/ha stand and 2100 must stay: nothing is left to graze; "
            "let it grow, or leave less");
    of = meadow();
    of.height_m = 0.07;
    refused(&of, 1,
            "the grass is 7 cm high and 8 cm must stay: nothing is left to "
            "graze; let it grow, or leave less");
}

/* A density counts only where a height is turned into mass. */
static void weighed_grass_needs_no_sward(void **state)
{
    (void)state;
    struct fw_sward of = {
        .mass_kg_ha = 2000, .residual_kg_ha = 800, .leave_m = 0.1, .use = 0.5};
    taken(&of, 1, 600);
    of.residual_kg_ha = 0;
    of.density_kg_ha_cm = 50; /* 10 cm of it stay */
    taken(&of, 1, 750);
    of.leave_m = 0;
    taken(&of, 1, 1000);
    of.density_kg_ha_cm = 0;
    taken(&of, 1, 1000);
    of = (struct fw_sward){.height_m = 0.2, .residual_kg_ha = 800, .use = 0.5};
    refused(&of, 1,
            "a height needs a sward to turn it into mass; say which, such as "
            "ryegrass-clover, or give a density such as 250 lb/acre-inch, or "
            "the mass");
    of.density_kg_ha_cm = 100;
    taken(&of, 1, 600);
}

static void thin_sward_without_a_figure_is_named(void **state)
{
    (void)state;
    const struct fw_sward of = {.name = "fescue-legume",
                                .density = FW_DENSITY_THIN,
                                .height_m = 0.2,
                                .leave_m = 0.1};
    refused(&of, 1,
            "no density is published for fescue-legume that stands thin; give "
            "one as a figure, such as 90 kg/ha/cm, or say good");
}

/* Seven days are printed; a longer stay says that it took them. */
static void use_of_longer_stays_says_so(void **state)
{
    (void)state;
    const struct fw_sward of = {.mass_kg_ha = 2600, .residual_kg_ha = 1400};
    static const double days[] = {1, 6.5, 7, 7.01, 30};
    for (size_t i = 0; i < sizeof days / sizeof days[0]; i++) {
        struct fw_usable usable;
        assert_int_equal(fw_forage_usable(&of, days[i], &usable, NULL), FW_OK);
        assert_int_equal(strstr(usable.use_source, "longer") != NULL,
                         days[i] > 7);
    }
}

/* A rest of n stays wants one paddock more than n: the one that is grazed. */
/* Of the winter's grass its condition says how much is taken, and whose figure
 * that is. */
static void use_by_condition_has_its_source(void **state)
{
    (void)state;
    struct fw_sward sward = {.mass_kg_ha = 2400,
                             .residual_kg_ha = 1400,
                             .legume = -1,
                             .condition = FW_CONDITION_RANK};
    struct fw_usable usable;
    assert_int_equal(fw_forage_usable(&sward, 1, &usable, NULL), FW_OK);
    assert_string_equal(usable.use_source,
                        fw_figures_find("stockpile.condition")->source);
    sward.use = 0.5;
    assert_int_equal(fw_forage_usable(&sward, 1, &usable, NULL), FW_OK);
    assert_string_equal(usable.use_source, "given");
    assert_near(usable.usable_kg_ha, 500, 1e-9);
}

static void paddocks_for_a_rest_are_one_more(void **state)
{
    (void)state;
    assert_near(fw_forage_paddocks_for_rest(30, 1), 31, 0);
    assert_near(fw_forage_paddocks_for_rest(30, 2), 16, 0);
    assert_near(fw_forage_paddocks_for_rest(31, 2), 17, 0);
    assert_near(fw_forage_paddocks_for_rest(0, 2), 1, 0);
    /* 0.3 / 0.1 is 2.9999999999999996, and 0.6 / 0.2 is just under 3 too. */
    assert_near(fw_forage_paddocks_for_rest(2.1, 0.7), 4, 0);
    assert_near(fw_forage_paddocks_for_rest(30.001, 1), 32, 0);
}

static void ground_for_a_stay_feeds_it(void **state)
{
    (void)state;
    /* 120 kg a day for 3 days from 900 kg/ha. */
    assert_near(fw_forage_paddock_ha(120, 3, 900), 0.4, 1e-12);
    assert_near(fw_forage_days(0.4, 900, 120), 3, 1e-12);
}

/* 2027-05-17 is a Monday. */
static int monday(void)
{
    int day;
    assert_int_equal(fw_date_read("2027-05-17", &day, NULL), FW_OK);
    return day;
}

static void stay_ends_at_sixty_days(void **state)
{
    (void)state;
    static const struct {
        double days;
        int stay;
    } rows[] = {{59, 59}, {59.5, 60}, {60, 60}, {60.5, 60}, {1, 1}, {1.01, 2}};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        const struct fw_stay stay = {.days = {rows[i].days, 1, 1, 1, 1, 1, 1}};
        assert_int_equal(fw_forage_stay_from(&stay, monday()), rows[i].stay);
    }
}

/* Away on the first day and the last of it, and home on the days beside. */
static void first_and_last_day_away_are_away(void **state)
{
    (void)state;
    int away[] = {monday() + 2, monday() + 3};
    const struct fw_stay stay = {
        .days = {1, 1, 1, 1, 1, 1, 1}, .away = away, .away_count = 1};
    assert_int_equal(fw_forage_stay_from(&stay, monday()), 1);
    assert_int_equal(fw_forage_stay_from(&stay, monday() + 1), 3);
    assert_int_equal(fw_forage_stay_from(&stay, monday() + 2), 2);
    assert_int_equal(fw_forage_stay_from(&stay, monday() + 3), 1);
}

static void slip_in_a_sward_is_answered(void **state)
{
    (void)state;
    const struct fw_density_row *row = NULL;
    struct fw_error err;
    assert_int_equal(fw_forage_find("fescue-nitrogen", &row, NULL), FW_OK);
    assert_string_equal(row->word, "fescue-nitrogen");
    assert_string_equal(row->label, "tall fescue with nitrogen");
    assert_int_equal(fw_forage_find("timothy-legum", &row, &err), FW_EINPUT);
    assert_string_equal(err.text, "\"timothy-legum\" is not a known sward; did "
                                  "you mean timothy-legume?");
    assert_int_equal(fw_forage_find("seaweed", &row, &err), FW_EINPUT);
    assert_non_null(strstr(err.text, "\"seaweed\" is not a known sward; "
                                     "expected bluegrass-clover"));
    assert_string_equal(row->word, "fescue-nitrogen");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(heights_are_up_to_three_metres),
        cmocka_unit_test(masses_are_up_to_thirty_tonnes),
        cmocka_unit_test(density_is_up_to_a_thousand),
        cmocka_unit_test(use_is_up_to_the_whole),
        cmocka_unit_test(legumes_are_up_to_the_whole),
        cmocka_unit_test(stay_is_up_to_a_leap_year),
        cmocka_unit_test(choices_are_those_of_the_lists),
        cmocka_unit_test(grass_to_the_residual_is_nothing_left),
        cmocka_unit_test(weighed_grass_needs_no_sward),
        cmocka_unit_test(thin_sward_without_a_figure_is_named),
        cmocka_unit_test(use_of_longer_stays_says_so),
        cmocka_unit_test(use_by_condition_has_its_source),
        cmocka_unit_test(paddocks_for_a_rest_are_one_more),
        cmocka_unit_test(ground_for_a_stay_feeds_it),
        cmocka_unit_test(stay_ends_at_sixty_days),
        cmocka_unit_test(first_and_last_day_away_are_away),
        cmocka_unit_test(slip_in_a_sward_is_answered),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
