#include "table.h"

#include "flock/flock.h"

static const double pound_kg = 0.45359237;
static const double gallon_l = 3.785411784;

static uint64_t seed(void)
{
    const char *given = getenv("FW_SEED");
    const uint64_t seed = given ? strtoull(given, NULL, 0) : 20260504;
    print_message("# FW_SEED=%llu\n", (unsigned long long)seed);
    return seed;
}

/* From low up to, not including, high. */
static double between(uint64_t *random, double low, double high)
{
    *random =
        *random * UINT64_C(6364136223846793005) + UINT64_C(1442695040888963407);
    return low + (high - low) * (double)(*random >> 11) / 9007199254740992.0;
}

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

/* Cells of a class: head, weight, share in %, weight a day. */
static struct fw_flock_class class_of(const struct table *table, size_t cell,
                                      double unit_kg)
{
    struct fw_flock_class of =
        sheep(FW_DRY, table_number(table, cell + 1) * unit_kg);
    of.head = (int)table_number(table, cell);
    of.intake_share = table_number(table, cell + 2) / 100;
    of.intake_kg_day = table_number(table, cell + 3) * unit_kg;
    return of;
}

static void demand_agrees_with_the_worked_examples(void **state)
{
    (void)state;
    struct table table;
    table_open(&table, "flock_demand.tsv");
    while (table_next(&table, 13)) {
        const double unit_kg = strcmp(table.cells[0], "us") == 0 ? pound_kg : 1;
        const struct fw_flock_class classes[] = {class_of(&table, 1, unit_kg),
                                                 class_of(&table, 5, unit_kg)};
        struct fw_flock_sums sums;
        struct fw_error err;
        if (fw_flock_sum(classes, classes[1].head > 0 ? 2 : 1, &sums, &err))
            fail_msg("%s:%d: %s", table.name, table.line, err.text);
        assert_near(sums.demand_kg_day / unit_kg * table_number(&table, 9),
                    table_number(&table, 10), table_number(&table, 11));
    }
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

static void lambs_drink_a_tenth_of_their_weight(void **state)
{
    (void)state;
    const struct fw_flock_class lamb = sheep(FW_WEANED_LAMB, 32);
    const char *source;
    assert_near(fw_flock_water_l_day(&lamb, &source), 3.2, 1e-12);
    assert_non_null(strstr(source, "10 %"));
}

/* Published allowances: 2 to 3 gallons a head (Missouri, Ohio, Kentucky), 9 to
 * 10 L for a ewe in milk (Teagasc). */
static void water_of_a_ewe_in_milk_is_near_the_allowances(void **state)
{
    (void)state;
    const struct fw_flock_class ewe = sheep(FW_LACTATION_SINGLE, 75);
    const double litres = fw_flock_water_l_day(&ewe, NULL);
    assert_true(litres > 2 * gallon_l && litres < 3 * gallon_l);
    assert_near(litres, 9.5, 0.51);
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
        assert_int_equal(state_of(fw_flock_state_words[i]), i);
        assert_true(row->source[0] && row->basis[0]);
        for (int k = 1; k < row->points; k++) {
            assert_true(row->weight_kg[k] > row->weight_kg[k - 1]);
            /* NRC 1985 has 1.5 kg for ewe lambs of 50 and of 70 kg. */
            assert_true(row->intake_kg[k] >= row->intake_kg[k - 1]);
        }
    }
}

static void words_are_found_as_people_write_them(void **state)
{
    (void)state;
    assert_int_equal(state_of("dry-ewe"), FW_DRY);
    assert_int_equal(state_of("Dry Ewe"), FW_DRY);
    assert_int_equal(state_of("lactation_twins"), FW_LACTATION_TWINS);
    assert_int_equal(state_of("twins at foot"), FW_LACTATION_TWINS);
    assert_int_equal(state_of("late_lactation_single"),
                     FW_LATE_LACTATION_SINGLE);
    assert_int_equal(state_of("finishing lambs"), FW_WEANED_LAMB);
    assert_int_equal(state_of("replacement ewe lamb"), FW_EWE_LAMB);
    assert_int_equal(state_of("ram lambs"), FW_RAM_LAMB);
    assert_int_equal(state_of("Hoggets"), FW_HOGGET);
    assert_int_equal(state_of("flushed ewes"), FW_FLUSHING);
    enum fw_state found = FW_RAM;
    struct fw_error err;
    assert_int_equal(fw_flock_state("dry-ewee", &found, &err), FW_EINPUT);
    assert_int_equal(found, FW_RAM);
    assert_non_null(strstr(err.text, "did you mean dry-ewe"));
    assert_int_equal(fw_flock_state("zebra", &found, &err), FW_EINPUT);
    assert_non_null(strstr(err.text, "lamb-at-foot"));
}

static void only_ewes_in_their_first_weeks_of_milk_suckle(void **state)
{
    (void)state;
    for (int i = 0; i < FW_STATE_COUNT; i++) {
        const struct fw_flock_class of[2] = {sheep(FW_DRY, 70),
                                             sheep((enum fw_state)i, 70)};
        assert_int_equal(fw_flock_suckles(of, 2),
                         i == FW_LACTATION_SINGLE || i == FW_LACTATION_TWINS);
        assert_false(fw_flock_suckles(of, 1));
        assert_int_equal(fw_flock_milks(of, 2),
                         i == FW_LACTATION_SINGLE || i == FW_LACTATION_TWINS ||
                             i == FW_LATE_LACTATION_SINGLE ||
                             i == FW_LATE_LACTATION_TWINS);
        assert_false(fw_flock_milks(of, 1));
    }
}

/* What a wire must hold: a suckled lamb goes with its dam. */
static void the_smallest_of_the_classes_is_found(void **state)
{
    (void)state;
    struct fw_flock_class of[3] = {sheep(FW_RAM, 90), sheep(FW_HOGGET, 45),
                                   sheep(FW_FLUSHING, 70)};
    assert_int_equal(fw_flock_lambs(of, 3), FW_LAMBS_NONE);
    assert_int_equal(fw_flock_lambs(of, 0), FW_LAMBS_NONE);
    of[1].state = FW_EWE_LAMB;
    assert_int_equal(fw_flock_lambs(of, 3), FW_LAMBS_WEANED);
    of[0].state = FW_LATE_LACTATION_TWINS;
    assert_int_equal(fw_flock_lambs(of, 3), FW_LAMBS_AT_FOOT);
    assert_int_equal(fw_flock_lambs(of, 1), FW_LAMBS_AT_FOOT);
    assert_int_equal(fw_flock_lambs(of + 1, 1), FW_LAMBS_WEANED);
    of[2].state = FW_LACTATION_SINGLE; /* that one is not asked of */
    assert_int_equal(fw_flock_lambs(of + 1, 1), FW_LAMBS_WEANED);
    static const enum fw_state at_foot[] = {
        FW_LACTATION_SINGLE, FW_LACTATION_TWINS, FW_LATE_LACTATION_SINGLE,
        FW_LATE_LACTATION_TWINS, FW_LAMB_AT_FOOT};
    static const enum fw_state weaned[] = {FW_WEANED_LAMB, FW_EWE_LAMB,
                                           FW_RAM_LAMB};
    for (size_t i = 0; i < sizeof at_foot / sizeof at_foot[0]; i++)
        assert_int_equal(fw_flock_row(at_foot[i])->lambs, FW_LAMBS_AT_FOOT);
    for (size_t i = 0; i < sizeof weaned / sizeof weaned[0]; i++)
        assert_int_equal(fw_flock_row(weaned[i])->lambs, FW_LAMBS_WEANED);
    assert_int_equal(fw_flock_row(FW_DRY)->lambs, FW_LAMBS_NONE);
}

static void words_that_leave_the_feed_open_are_refused(void **state)
{
    (void)state;
    const char *const open[] = {"ewe",       "ewes",      "lamb", "lambs",
                                "gestation", "lactation", "",     "ewe dry"};
    for (size_t i = 0; i < sizeof open / sizeof open[0]; i++) {
        enum fw_state found = FW_RAM;
        struct fw_error err = {.text = ""};
        assert_int_equal(fw_flock_state(open[i], &found, &err), FW_EINPUT);
        assert_int_equal(found, FW_RAM);
        assert_true(strlen(err.text) > 20);
    }
}

static void sums_are_those_of_the_classes(void **state)
{
    (void)state;
    struct fw_flock_class classes[] = {sheep(FW_LACTATION_TWINS, 71),
                                       sheep(FW_RAM, 90)};
    struct fw_flock_sums once, twice;
    struct fw_error err;
    classes[0].head = 58;
    classes[1].head = 3;
    assert_int_equal(fw_flock_sum(classes, 2, &once, &err), FW_OK);
    assert_int_equal(once.head, 61);
    assert_near(once.liveweight_kg, 58 * 71 + 3 * 90, 1e-9);
    assert_near(once.demand_kg_day, 58 * 2.92 + 3 * 1.8, 1e-9);
    classes[0].head *= 2;
    classes[1].head *= 2;
    assert_int_equal(fw_flock_sum(classes, 2, &twice, &err), FW_OK);
    assert_near(twice.demand_kg_day, 2 * once.demand_kg_day, 1e-9);
    assert_near(twice.water_l_day, 2 * once.water_l_day, 1e-9);
}

/* Against the classes summed one by one, and what must hold of any flock:
 * twice the head eats and drinks twice as much, a heavier ewe of the same
 * state eats no less. */
static void demand_grows_with_head_and_weight(void **state)
{
    (void)state;
    uint64_t random = seed();
    for (int i = 0; i < 500; i++) {
        struct fw_flock_class classes[4];
        double demand = 0;
        for (size_t k = 0; k < 4; k++) {
            classes[k] =
                sheep((enum fw_state)between(&random, 0, FW_STATE_COUNT),
                      between(&random, 5, 150));
            classes[k].head = (int)between(&random, 1, 1000);
            demand += classes[k].head * eats(&classes[k]);
            struct fw_flock_class heavier = classes[k];
            heavier.weight_kg += between(&random, 0, 40);
            assert_true(eats(&heavier) >= eats(&classes[k]) - 1e-12);
            assert_true(eats(&classes[k]) < 0.06 * classes[k].weight_kg);
        }
        struct fw_flock_sums once, twice;
        assert_int_equal(fw_flock_sum(classes, 4, &once, NULL), FW_OK);
        assert_relative(once.demand_kg_day, demand, 1e-12);
        for (size_t k = 0; k < 4; k++)
            classes[k].head *= 2;
        assert_int_equal(fw_flock_sum(classes, 4, &twice, NULL), FW_OK);
        assert_int_equal(twice.head, 2 * once.head);
        assert_relative(twice.demand_kg_day, 2 * once.demand_kg_day, 1e-12);
        assert_relative(twice.water_l_day, 2 * once.water_l_day, 1e-12);
        assert_relative(twice.liveweight_kg, 2 * once.liveweight_kg, 1e-12);
    }
}

static void a_flock_beyond_counting_is_refused(void **state)
{
    (void)state;
    struct fw_flock_class classes[11];
    for (size_t i = 0; i < 11; i++) {
        classes[i] = sheep(FW_DRY, 60);
        classes[i].head = i < 10 ? 100000 : 1;
    }
    struct fw_flock_sums sums;
    struct fw_error err;
    assert_int_equal(fw_flock_sum(classes, 10, &sums, &err), FW_OK);
    assert_int_equal(sums.head, 1000000);
    assert_int_equal(fw_flock_sum(classes, 11, &sums, &err), FW_EINPUT);
    assert_non_null(strstr(err.text, "1,000,000"));
    assert_int_equal(sums.head, 1000000);
}

static void a_state_that_is_none_is_refused(void **state)
{
    (void)state;
    assert_null(fw_flock_row(FW_STATE_COUNT));
    const struct fw_flock_class of = sheep(FW_STATE_COUNT, 60);
    struct fw_intake intake;
    assert_int_equal(fw_flock_intake(&of, &intake, NULL), FW_EINPUT);
}

static void water_is_sourced_from_the_thirstiest_class(void **state)
{
    (void)state;
    struct fw_flock_class classes[] = {sheep(FW_WEANED_LAMB, 30),
                                       sheep(FW_DRY, 60)};
    const char *lamb_source;
    fw_flock_water_l_day(&classes[0], &lamb_source);
    struct fw_flock_sums sums;
    classes[0].head = 90;
    assert_int_equal(fw_flock_sum(classes, 2, &sums, NULL), FW_OK);
    assert_string_equal(sums.water_source, lamb_source);
    classes[1].head = 900;
    assert_int_equal(fw_flock_sum(classes, 2, &sums, NULL), FW_OK);
    assert_string_not_equal(sums.water_source, lamb_source);
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
        {1, 60, -0.1, 0, "%"},        {1, 60, 0, 16, "16 kg"},
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
        cmocka_unit_test(demand_agrees_with_the_worked_examples),
        cmocka_unit_test(water_agrees_with_the_published_table),
        cmocka_unit_test(lambs_drink_a_tenth_of_their_weight),
        cmocka_unit_test(water_of_a_ewe_in_milk_is_near_the_allowances),
        cmocka_unit_test(between_the_weights_runs_a_straight_line),
        cmocka_unit_test(beyond_the_table_the_share_stays),
        cmocka_unit_test(own_figures_go_over_the_table),
        cmocka_unit_test(every_state_has_a_row_with_a_source),
        cmocka_unit_test(words_are_found_as_people_write_them),
        cmocka_unit_test(only_ewes_in_their_first_weeks_of_milk_suckle),
        cmocka_unit_test(the_smallest_of_the_classes_is_found),
        cmocka_unit_test(words_that_leave_the_feed_open_are_refused),
        cmocka_unit_test(sums_are_those_of_the_classes),
        cmocka_unit_test(demand_grows_with_head_and_weight),
        cmocka_unit_test(a_flock_beyond_counting_is_refused),
        cmocka_unit_test(a_state_that_is_none_is_refused),
        cmocka_unit_test(water_is_sourced_from_the_thirstiest_class),
        cmocka_unit_test(values_out_of_range_are_named),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
