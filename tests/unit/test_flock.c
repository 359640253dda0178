#include "table.h"

#include <foldwright/flock.h>

static const double pound_kg = 0.45359237;
static const double gallon_l = 3.785411784;

static struct fw_flock_class sheep(enum fw_state state, double weight_kg)
{
    return (struct fw_flock_class){
        .name = "sheep", .head = 1, .weight_kg = weight_kg, .state = state};
}

static double eats(const struct fw_flock_class *of)
{
    struct fw_intake intake;
    struct fw_error err;
    if (fw_flock_intake(of, &intake, &err))
        fail_msg("%s", err.text);
    return intake.kg_day;
}

static enum fw_state state_of(const char *word)
{
    enum fw_state state;
    struct fw_error err;
    if (fw_flock_state(word, &state, &err))
        fail_msg("%s", err.text);
    return state;
}

static void intake_agrees_with_the_published_table(void **state)
{
    (void)state;
    struct table table;
    table_open(&table, "flock_intake.tsv");
    while (table_next(&table, 5)) {
        const struct fw_flock_class of =
            sheep(state_of(table.cells[0]), table_number(&table, 1));
        assert_near(eats(&of), table_number(&table, 2),
                    table_number(&table, 3));
    }
    assert_true(table.rows > 25);
    table_close(&table);
}

static void water_agrees_with_the_published_table(void **state)
{
    (void)state;
    struct table table;
    table_open(&table, "flock_water.tsv");
    while (table_next(&table, 4)) {
        const struct fw_flock_class of =
            sheep(state_of(table.cells[0]), table_number(&table, 1) * pound_kg);
        const char *source;
        assert_near(fw_flock_water_l_day(&of, &source) / gallon_l,
                    table_number(&table, 2), 1e-9);
        assert_non_null(source);
    }
    table_close(&table);
}

static void between_the_weights_runs_a_straight_line(void **state)
{
    (void)state;
    const struct fw_flock_class of = sheep(FW_DRY, 64);
    assert_near(eats(&of), 1.1 + 0.4 * 0.1, 1e-12);
}

/* 1.0 kg of 50 kg is 2 %, 1.4 of 90 kg is 1.5556 %. */
static void beyond_the_table_the_share_stays(void **state)
{
    (void)state;
    const struct fw_flock_class light = sheep(FW_DRY, 40);
    const struct fw_flock_class heavy = sheep(FW_DRY, 120);
    assert_near(eats(&light), 0.8, 1e-12);
    assert_near(eats(&heavy), 1.4 / 90 * 120, 1e-12);
}

static void own_figures_go_over_the_table(void **state)
{
    (void)state;
    struct fw_flock_class of = sheep(FW_DRY, 60);
    of.intake_share = 0.026;
    assert_near(eats(&of), 1.56, 1e-12);
    of.intake_kg_day = 1.9;
    assert_near(eats(&of), 1.9, 1e-12);
}

static void every_state_has_a_row_with_a_source(void **state)
{
    (void)state;
    for (int i = 0; i < FW_STATE_COUNT; i++) {
        const struct fw_intake_row *row = fw_flock_row((enum fw_state)i);
        assert_int_equal(row->state, i);
        assert_int_equal(state_of(row->word), i);
        assert_true(row->source[0] && row->basis[0]);
        for (int k = 1; k < row->points; k++) {
            assert_true(row->weight_kg[k] > row->weight_kg[k - 1]);
            assert_true(row->intake_kg[k] > row->intake_kg[k - 1]);
        }
    }
}

static void words_are_found_as_people_write_them(void **state)
{
    (void)state;
    assert_int_equal(state_of("dry-ewe"), FW_DRY);
    assert_int_equal(state_of("Dry Ewe"), FW_DRY);
    assert_int_equal(state_of("lactation_twins"), FW_LACTATION_TWINS);
    enum fw_state found = FW_RAM;
    struct fw_error err;
    assert_int_equal(fw_flock_state("dry-ewee", &found, &err), FW_EINPUT);
    assert_int_equal(found, FW_RAM);
    assert_non_null(strstr(err.text, "did you mean dry-ewe"));
    assert_int_equal(fw_flock_state("zebra", &found, &err), FW_EINPUT);
    assert_non_null(strstr(err.text, "lamb-at-foot"));
}

static void sums_are_those_of_the_classes(void **state)
{
    (void)state;
    struct fw_flock_class classes[] = {sheep(FW_LACTATION_TWINS, 70),
                                       sheep(FW_RAM, 90)};
    struct fw_flock_sums once, twice;
    struct fw_error err;
    classes[0].head = 58;
    classes[1].head = 3;
    assert_int_equal(fw_flock_sum(classes, 2, &once, &err), FW_OK);
    assert_int_equal(once.head, 61);
    assert_near(once.liveweight_kg, 58 * 70 + 3 * 90, 1e-9);
    assert_near(once.demand_kg_day, 58 * 2.8 + 3 * 1.8, 1e-9);
    classes[0].head *= 2;
    classes[1].head *= 2;
    assert_int_equal(fw_flock_sum(classes, 2, &twice, &err), FW_OK);
    assert_near(twice.demand_kg_day, 2 * once.demand_kg_day, 1e-9);
    assert_near(twice.water_l_day, 2 * once.water_l_day, 1e-9);
}

static void values_out_of_range_are_named(void **state)
{
    (void)state;
    static const struct {
        int head;
        double weight_kg, share, kg_day;
        const char *says;
    } cases[] = {
        {0, 60, 0, 0, "head"},        {100001, 60, 0, 0, "head"},
        {1, 0, 0, 0, "0 kg"},         {1, 250, 0, 0, "250 kg"},
        {1, (double)NAN, 0, 0, "kg"}, {1, 60, 0.2, 0, "20 %"},
        {1, 60, -0.1, 0, "%"},        {1, 60, 0, 11, "11 kg"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        struct fw_flock_class of = sheep(FW_DRY, cases[i].weight_kg);
        of.head = cases[i].head;
        of.intake_share = cases[i].share;
        of.intake_kg_day = cases[i].kg_day;
        struct fw_intake intake = {.kg_day = -1};
        struct fw_error err;
        assert_int_equal(fw_flock_intake(&of, &intake, &err), FW_EINPUT);
        assert_non_null(strstr(err.text, cases[i].says));
        assert_near(intake.kg_day, -1, 0);
    }
    struct fw_flock_sums sums;
    assert_int_equal(fw_flock_sum(NULL, 0, &sums, NULL), FW_EINPUT);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(intake_agrees_with_the_published_table),
        cmocka_unit_test(water_agrees_with_the_published_table),
        cmocka_unit_test(between_the_weights_runs_a_straight_line),
        cmocka_unit_test(beyond_the_table_the_share_stays),
        cmocka_unit_test(own_figures_go_over_the_table),
        cmocka_unit_test(every_state_has_a_row_with_a_source),
        cmocka_unit_test(words_are_found_as_people_write_them),
        cmocka_unit_test(sums_are_those_of_the_classes),
        cmocka_unit_test(values_out_of_range_are_named),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
