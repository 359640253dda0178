#include "table.h"

#include <foldwright/date.h>
#include <foldwright/forage.h>

static const double pound_kg = 0.45359237;
static const double acre_ha = 0.40468564224;
static const double inch_m = 0.0254;

/* Pounds and acres, or kilograms and hectares, by the table's first cell. */
static double mass_unit(const struct table *table)
{
    return strcmp(table->cells[0], "us") == 0 ? pound_kg : 1;
}

static double area_unit(const struct table *table)
{
    return strcmp(table->cells[0], "us") == 0 ? acre_ha : 1;
}

static struct fw_usable usable_of(const struct fw_sward *sward, double days)
{
    struct fw_usable usable;
    struct fw_error err;
    if (fw_forage_usable(sward, days, &usable, &err))
        fail_msg("%s", err.text);
    return usable;
}

static void paddocks_agree_with_the_published_table(void **state)
{
    (void)state;
    struct table table;
    table_open(&table, "forage_penn_state.tsv");
    while (table_next(&table, 5)) {
        const double days = table_number(&table, 0);
        const double unit = pound_kg / acre_ha;
        const struct fw_sward sward = {
            .mass_kg_ha = (table_number(&table, 1) + 1200) * unit,
            .residual_kg_ha = 1200 * unit};
        const struct fw_usable usable = usable_of(&sward, days);
        assert_near(usable.use, table_number(&table, 2), 1e-12);
        assert_near(
            fw_forage_paddock_ha(25 * pound_kg, days, usable.usable_kg_ha) /
                acre_ha,
            table_number(&table, 3), 0.0005);
    }
    assert_int_equal(table.rows, 21);
    table_close(&table);
}

static void paddocks_agree_with_the_worked_examples(void **state)
{
    (void)state;
    struct table table;
    table_open(&table, "forage_worked.tsv");
    while (table_next(&table, 9)) {
        const double unit = mass_unit(&table) / area_unit(&table);
        const double days = table_number(&table, 2);
        const struct fw_sward sward = {
            .mass_kg_ha = table_number(&table, 3) * unit,
            .residual_kg_ha = table_number(&table, 4) * unit,
            .use = table_number(&table, 5)};
        const double area_ha =
            fw_forage_paddock_ha(table_number(&table, 1) * mass_unit(&table),
                                 days, usable_of(&sward, days).usable_kg_ha);
        assert_near(area_ha / area_unit(&table), table_number(&table, 6),
                    table_number(&table, 7));
    }
    table_close(&table);
}

static void days_agree_with_the_worked_examples(void **state)
{
    (void)state;
    struct table table;
    table_open(&table, "forage_days.tsv");
    while (table_next(&table, 7))
        assert_near(fw_forage_days(table_number(&table, 1) * area_unit(&table),
                                   table_number(&table, 2) * mass_unit(&table) /
                                       area_unit(&table),
                                   table_number(&table, 3) * mass_unit(&table)),
                    table_number(&table, 4), table_number(&table, 5));
    table_close(&table);
}

static void number_of_paddocks_agrees_with_the_worked_examples(void **state)
{
    (void)state;
    struct table table;
    table_open(&table, "forage_paddocks.tsv");
    while (table_next(&table, 4))
        assert_near(fw_forage_paddocks_for_rest(table_number(&table, 0),
                                                table_number(&table, 1)),
                    table_number(&table, 2), 0);
    table_close(&table);
}

static void densities_are_the_published_ones(void **state)
{
    (void)state;
    const double unit = pound_kg / acre_ha / 2.54;
    struct table table;
    table_open(&table, "forage_density.tsv");
    while (table_next(&table, 8)) {
        const struct fw_density_row *row;
        assert_int_equal(fw_forage_find(table.cells[0], &row, NULL), FW_OK);
        for (size_t i = 0; i < 3; i++) {
            assert_relative(row->low_kg_ha_cm[i],
                            table_number(&table, 1 + 2 * i) * unit, 1e-7);
            assert_relative(row->high_kg_ha_cm[i],
                            table_number(&table, 2 + 2 * i) * unit, 1e-7);
            const struct fw_sward sward = {
                .height_m = 0.2, .leave_m = 0.1, .density = (enum fw_density)i};
            struct fw_sward named = sward;
            snprintf(named.name, sizeof named.name, "%s", table.cells[0]);
            assert_relative(usable_of(&named, 1).mass_kg_ha,
                            10 * (row->low_kg_ha_cm[i] + row->high_kg_ha_cm[i]),
                            1e-12);
        }
    }
    size_t count;
    fw_forage_rows(&count);
    assert_int_equal(table.rows, count);
    table_close(&table);
}

static void heights_give_the_published_mass(void **state)
{
    (void)state;
    const double unit = pound_kg / acre_ha;
    struct table table;
    table_open(&table, "forage_height.tsv");
    while (table_next(&table, 5)) {
        const struct fw_sward sward = {
            .height_m = table_number(&table, 0) * inch_m,
            .leave_m = table_number(&table, 1) * inch_m,
            .density_kg_ha_cm = table_number(&table, 2) * unit / 2.54,
            .use = 1};
        const struct fw_usable usable = usable_of(&sward, 1);
        assert_relative(usable.usable_kg_ha, table_number(&table, 3) * unit,
                        1e-9);
        assert_near(usable.left_kg_ha, usable.residual_kg_ha, 1e-9);
    }
    table_close(&table);
}

static void the_base_of_use_is_always_named(void **state)
{
    (void)state;
    struct fw_sward sward = {.mass_kg_ha = 2600, .residual_kg_ha = 1400};
    struct fw_usable usable = usable_of(&sward, 1);
    assert_int_equal(usable.use_of, FW_USE_ABOVE_RESIDUAL);
    assert_near(usable.usable_kg_ha, 0.8 * 1200, 1e-9);
    sward = (struct fw_sward){.mass_kg_ha = 2600, .use = 0.6};
    usable = usable_of(&sward, 1);
    assert_int_equal(usable.use_of, FW_USE_STANDING);
    assert_near(usable.usable_kg_ha, 1560, 1e-9);
    assert_near(usable.left_kg_ha, 1040, 1e-9);
}

static void a_residual_is_never_taken_off_twice(void **state)
{
    (void)state;
    const struct fw_sward sward = {.mass_kg_ha = 2600,
                                   .residual_kg_ha = 1400,
                                   .use = 0.6,
                                   .use_of = FW_USE_STANDING};
    struct fw_usable usable = {.use = -1};
    struct fw_error err;
    assert_int_equal(fw_forage_usable(&sward, 1, &usable, &err), FW_EINPUT);
    assert_non_null(strstr(err.text, "twice"));
    assert_near(usable.use, -1, 0);
}

static void what_is_missing_or_wrong_is_said(void **state)
{
    (void)state;
    static const struct {
        struct fw_sward sward;
        enum fw_status status;
        const char *says;
    } cases[] = {
        {{.mass_kg_ha = 0}, FW_EINPUT, "how much grass"},
        {{.height_m = 0.2, .leave_m = 0.1}, FW_EINPUT, "sward"},
        {{.height_m = 0.2, .name = "ryegras-clover"},
         FW_EINPUT,
         "did you mean ryegrass-clover"},
        {{.mass_kg_ha = 2000}, FW_EINPUT, "what must stay"},
        {{.mass_kg_ha = 2000, .use = 0.7, .use_of = FW_USE_ABOVE_RESIDUAL},
         FW_EINPUT,
         "no residual"},
        {{.mass_kg_ha = 1400, .residual_kg_ha = 1400},
         FW_EPLAN,
         "nothing is left"},
        {{.mass_kg_ha = 2000, .residual_kg_ha = 1000, .use = 1.2},
         FW_EINPUT,
         "120 %"},
        {{.mass_kg_ha = 50000}, FW_EINPUT, "30,000"},
        {{.height_m = 4}, FW_EINPUT, "300 cm"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        struct fw_usable usable;
        struct fw_error err;
        assert_int_equal(fw_forage_usable(&cases[i].sward, 1, &usable, &err),
                         cases[i].status);
        if (!strstr(err.text, cases[i].says))
            fail_msg("case %zu: %s", i, err.text);
    }
}

/* 2027-05-17 is a Monday. */
static int monday(void)
{
    int day;
    assert_int_equal(fw_date_read("2027-05-17", &day, NULL), FW_OK);
    return day;
}

static void stays_follow_the_week(void **state)
{
    (void)state;
    const struct fw_stay daily = {.days = {1, 1, 1, 1, 1, 1, 1}};
    const struct fw_stay weekend = {.days = {1, 1, 1, 1, 1, 2, 0}};
    const struct fw_stay twice = {.days = {3, 0, 0, 4, 0, 0, 0}};
    for (int i = 0; i < 14; i++)
        assert_int_equal(fw_forage_stay_from(&daily, monday() + i), 1);
    assert_int_equal(fw_forage_stay_from(&weekend, monday() + 4), 1);
    assert_int_equal(fw_forage_stay_from(&weekend, monday() + 5), 2);
    assert_int_equal(fw_forage_stay_from(&twice, monday()), 3);
    assert_int_equal(fw_forage_stay_from(&twice, monday() + 3), 4);
    /* A stay that starts where the pattern has none runs to the next move. */
    assert_int_equal(fw_forage_stay_from(&twice, monday() + 1), 2);
}

static void nobody_moves_sheep_while_away(void **state)
{
    (void)state;
    int away[] = {monday() + 2, monday() + 4, monday() + 6, monday() + 6};
    const struct fw_stay stay = {
        .days = {1, 1, 1, 1, 1, 1, 1}, .away = away, .away_count = 2};
    assert_int_equal(fw_forage_stay_from(&stay, monday()), 1);
    assert_int_equal(fw_forage_stay_from(&stay, monday() + 1), 4);
    assert_int_equal(fw_forage_stay_from(&stay, monday() + 5), 2);
}

static void a_stay_always_ends(void **state)
{
    (void)state;
    const struct fw_stay never = {.days = {0, 0, 0, 0, 0, 0, 0}};
    assert_int_equal(fw_forage_stay_from(&never, monday()), 60);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(paddocks_agree_with_the_published_table),
        cmocka_unit_test(paddocks_agree_with_the_worked_examples),
        cmocka_unit_test(days_agree_with_the_worked_examples),
        cmocka_unit_test(number_of_paddocks_agrees_with_the_worked_examples),
        cmocka_unit_test(densities_are_the_published_ones),
        cmocka_unit_test(heights_give_the_published_mass),
        cmocka_unit_test(the_base_of_use_is_always_named),
        cmocka_unit_test(a_residual_is_never_taken_off_twice),
        cmocka_unit_test(what_is_missing_or_wrong_is_said),
        cmocka_unit_test(stays_follow_the_week),
        cmocka_unit_test(nobody_moves_sheep_while_away),
        cmocka_unit_test(a_stay_always_ends),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
