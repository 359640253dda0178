/* What a plan notes of its power, against the plan's own volts, rods and days,
 * and the size that is taken where none is enough. */
#include "plan_help.h"

#include "live/plan_power.h"

static const double sizes_j[] = {0.25, 0.5, 1, 2, 3, 5};

static const struct fw_note *note_at(const struct fw_plan *plan,
                                     const char *where, const char *piece)
{
    for (size_t i = 0; i < plan->notes.count; i++)
        if (strstr(plan->notes.items[i].text, piece) &&
            (!where || strcmp(plan->notes.items[i].where, where) == 0))
            return &plan->notes.items[i];
    return NULL;
}

/* A live boundary, so that nothing else is said of it. */
static struct fw_farm *hot_farm(void)
{
    struct fw_farm *farm = farm_of(&rectangle, NULL);
    for (size_t i = 0; i < 4; i++)
        farm->fields[0].sides[i].hot = FW_YES;
    return farm;
}

/* ---- fences without a path ---- */

static bool is_dead(const struct fw_plan_fence *fence)
{
    return fence->volts_known && fence->open_v == 0;
}

/* Only side 1 is live, and every line stands on the two beside it. */
static struct fw_farm *dead_farm(int head)
{
    struct fw_farm *farm = hot_farm();
    for (size_t i = 1; i < 4; i++)
        farm->fields[0].sides[i].hot = FW_NO;
    farm->classes[0].head = head;
    farm->direction_given = true;
    farm->direction_deg = 90;
    farm->energizer_j = 1;
    put_spot(farm->fields[0].shape, &farm->energizer, 0, 0);
    return farm;
}

/* Six by name at most, and how many more there are. */
static void what_has_no_path_is_named_and_the_rest_counted(void **state)
{
    (void)state;
    bool few = false, many = false;
    for (int head = 250; head <= 1500; head += 250) {
        struct fw_farm *farm = dead_farm(head);
        struct fw_plan *plan = plan_of(farm);
        char names[512] = "", more[32] = "";
        size_t count = 0;
        for (size_t i = 0; i < plan->fence_count; i++) {
            if (!is_dead(&plan->fences[i]))
                continue;
            if (count++ < 6) {
                strcat(names, count > 1 ? ", " : "");
                strcat(names, plan->fences[i].id);
            }
        }
        if (count > 6)
            snprintf(more, sizeof more, " and %zu more", count - 6);
        strcat(names, more);
        const struct fw_note *note =
            note_at(plan, NULL, "no path to the energizer");
        if (count == 0) {
            assert_null(note);
        } else {
            assert_non_null(note);
            assert_string_equal(note->where, names);
            assert_int_equal(note->level, FW_LEVEL_DANGER);
        }
        few = few || (count > 0 && count <= 6);
        many = many || count > 6;
        fw_plan_free(plan);
        fw_farm_free(farm);
    }
    assert_true(few && many);
}

/* Each with a finding in the middle of its length. */
static void a_line_without_a_path_is_a_finding_at_its_middle(void **state)
{
    (void)state;
    struct fw_farm *farm = dead_farm(500);
    struct fw_plan *plan = plan_of(farm);
    const struct fw_plan_field *field = &plan->fields[0];
    size_t dead = 0, found = 0;
    for (size_t i = 0; i < plan->fence_count; i++)
        dead += is_dead(&plan->fences[i]);
    for (size_t i = 0; i < plan->finding_count; i++) {
        const struct fw_plan_finding *finding = &plan->findings[i];
        if (finding->fence == FW_NONE ||
            !is_dead(&plan->fences[finding->fence]))
            continue;
        const struct fw_plan_fence *fence = &plan->fences[finding->fence];
        if (strcmp(finding->rule, "no-path") != 0)
            continue;
        assert_int_equal(fence->line_count, 2);
        const struct fw_point a = field->vertices[fence->line[0]].plane;
        const struct fw_point b = field->vertices[fence->line[1]].plane;
        assert_near(finding->place.plane.x_m, (a.x_m + b.x_m) / 2, 1e-6);
        assert_near(finding->place.plane.y_m, (a.y_m + b.y_m) / 2, 1e-6);
        assert_int_equal(finding->level, FW_LEVEL_DANGER);
        assert_false(finding->measured); /* it has no distance */
        assert_near(finding->distance_m, 0, 0);
        assert_near(finding->wanted_m, 0, 0);
        found++;
    }
    assert_true(dead > 2);
    assert_int_equal(found, dead);
    fw_plan_free(plan);
    fw_farm_free(farm);
}

/* ---- the size ---- */

/* Where none leaves enough it is the least that the rule for its length has;
 * a rule that nobody told leaves the lesser ones to be tried before. */
static void where_none_is_enough_the_length_of_fence_decides(void **state)
{
    (void)state;
    static const enum fw_joule_rule rules[] = {FW_RULE_MILE, FW_RULE_KM,
                                               FW_RULE_WEEDY};
    double last_j = 0;
    for (size_t i = 0; i < sizeof rules / sizeof *rules; i++)
        for (int told = 0; told < 2; told++) {
            struct fw_farm *farm = hot_farm();
            farm->wiring = fw_farm_wiring_default();
            farm->wiring.moved_leak_ohm_km = 5;
            farm->joule_rule = rules[i];
            farm->rule_told = told != 0;
            struct fw_plan *plan = plan_of(farm);
            size_t least = 0;
            while (sizes_j[least] < plan->energizer.need_j)
                least++;
            assert_true(least > 0 && least < 5);
            assert_near(plan->energizer.joules, sizes_j[least], 0);
            assert_false(plan->power_days[fw_plan_worst_day(plan)].enough);
            assert_true(told == 0 || plan->energizer.joules >= last_j);
            last_j = plan->energizer.joules;
            /* Every row has the volts of that size, as one that was told. */
            farm->energizer_j = last_j;
            struct fw_plan *same = plan_of(farm);
            for (size_t d = 0; d < plan->power_day_count; d++)
                assert_near(plan->power_days[d].touched_v,
                            same->power_days[d].touched_v, 0);
            fw_plan_free(same);
            fw_plan_free(plan);
            fw_farm_free(farm);
        }
}

/* A rule that asks for less than the next lesser size has decided nothing,
 * however small that is. */
static void a_rule_that_asks_for_less_has_not_decided(void **state)
{
    (void)state;
    static const struct outline small = {
        4, {{0, 0}, {60, 0}, {60, 40}, {0, 40}}, 0};
    bool seen[2] = {false, false}; /* 0.25 J, and 0.5 */
    for (double leak_ohm_km = 4000; leak_ohm_km > 20; leak_ohm_km *= 0.7) {
        struct fw_farm *farm = farm_of(&small, NULL);
        for (size_t i = 0; i < 4; i++)
            farm->fields[0].sides[i].hot = FW_YES;
        farm->classes[0].head = 8;
        farm->wiring = fw_farm_wiring_default();
        farm->wiring.moved_leak_ohm_km = leak_ohm_km;
        farm->rule_told = true;
        struct fw_plan *plan = plan_of(farm);
        assert_true(plan->energizer.need_j < sizes_j[0]);
        const bool decided = plan->energizer.joules <= sizes_j[0];
        if (plan->power_days[fw_plan_worst_day(plan)].enough &&
            plan->energizer.joules <= sizes_j[1]) {
            assert_int_equal(strstr(plan->energizer.rule_source,
                                    "the least common size with enough") ==
                                 NULL,
                             decided);
            seen[!decided] = true;
        }
        fw_plan_free(plan);
        fw_farm_free(farm);
    }
    assert_true(seen[0] && seen[1]);
}

/* ---- what is short ---- */

static double number_after(const char *text, const char *words)
{
    double number = -1;
    const char *at = strstr(text, words);
    assert_non_null(at);
    assert_int_equal(sscanf(at + strlen(words), "%lf", &number), 1);
    return number;
}

/* Of the days that are short that with the least for a sheep, rounded down, and
 * each cure that adds 5 V or more. */
static void a_short_plan_names_its_worst_place_and_what_helps(void **state)
{
    (void)state;
    int told = 0;
    for (double leak_ohm_km = 50; leak_ohm_km < 5000; leak_ohm_km *= 2) {
        struct fw_farm *farm = hot_farm();
        farm->wiring = fw_farm_wiring_default();
        farm->wiring.moved_leak_ohm_km = leak_ohm_km;
        farm->energizer_j = 0.25;
        struct fw_plan *plan = plan_of(farm);
        size_t worst = FW_NONE;
        for (size_t i = 0; i < plan->power_day_count; i++)
            if (!plan->power_days[i].enough &&
                (worst == FW_NONE || plan->power_days[i].touched_v <
                                         plan->power_days[worst].touched_v))
                worst = i;
        const struct fw_note *note = note_at(plan, NULL, "a sheep would feel");
        if (worst == FW_NONE) {
            assert_null(note);
        } else {
            const struct fw_plan_power_day *day = &plan->power_days[worst];
            char date[FW_DATE_TEXT];
            assert_non_null(note);
            assert_int_equal(note->level, FW_LEVEL_WARNING);
            assert_string_equal(note->where, plan->fences[day->fence].id);
            assert_non_null(strstr(note->text, fw_date_write(day->from, date)));
            const double kv = number_after(note->text, "would feel "),
                         open_kv = number_after(note->text, "a tester show ");
            assert_true(kv * 1000 <= day->touched_v &&
                        kv * 1000 > day->touched_v - 100);
            assert_true(open_kv * 1000 <= day->least_open_v &&
                        open_kv * 1000 > day->least_open_v - 100);
            assert_near(number_after(note->text, "kV ("),
                        plan->energizer.touched_v / 1000, 0.05);
            struct fw_cure cures[FW_CURE_COUNT];
            size_t count, named = 0, worth = 0;
            assert_int_equal(fw_plan_cures(plan, worst, cures, &count, NULL),
                             FW_OK);
            for (size_t i = 0; i < count; i++) {
                char piece[FW_ID + 160];
                snprintf(piece, sizeof piece, "; %s: %+.0f V%s", cures[i].text,
                         cures[i].gain_v, cures[i].enough ? ", enough" : "");
                worth += cures[i].gain_v >= 5;
                named += strstr(note->text, piece) != NULL;
            }
            assert_int_equal(named, worth);
            told++;
        }
        fw_plan_free(plan);
        fw_farm_free(farm);
    }
    assert_true(told > 2);
}

/* IEC 60335-2-76: 5 J at 500 ohm are allowed, and more is not. */
static void an_energizer_over_five_joules_is_warned_of(void **state)
{
    (void)state;
    static const double sizes[] = {1, 5, 5.1, 12};
    for (size_t i = 0; i < sizeof sizes / sizeof *sizes; i++) {
        struct fw_farm *farm = hot_farm();
        farm->energizer_j = sizes[i];
        struct fw_plan *plan = plan_of(farm);
        const struct fw_note *note = note_at(plan, "energizer", "over the 5 J");
        assert_int_equal(note != NULL, sizes[i] > 5);
        if (note)
            assert_near(number_after(note->text, ""), sizes[i], 1e-9);
        fw_plan_free(plan);
        fw_farm_free(farm);
    }
}

/* Two rods fewer than are asked for, and as many. */
static void rods_that_are_too_few_are_counted(void **state)
{
    (void)state;
    struct fw_farm *farm = hot_farm();
    farm->energizer_j = 2;
    farm->wiring = fw_farm_wiring_default();
    struct fw_plan *plan = plan_of(farm);
    const int asked = plan->energizer.rods;
    assert_true(asked > 2);
    fw_plan_free(plan);
    for (int rods = asked - 2; rods <= asked; rods++) {
        farm->wiring.rods = rods;
        plan = plan_of(farm);
        const struct fw_note *note = note_at(plan, "earth", "asked for");
        assert_int_equal(note != NULL, rods < plan->energizer.rods);
        if (note) {
            char words[64];
            snprintf(words, sizeof words, "%d rod%s driven; %d are asked for",
                     rods, rods > 1 ? "s are" : " is", plan->energizer.rods);
            assert_non_null(strstr(note->text, words));
        }
        fw_plan_free(plan);
    }
    fw_farm_free(farm);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(what_has_no_path_is_named_and_the_rest_counted),
        cmocka_unit_test(a_line_without_a_path_is_a_finding_at_its_middle),
        cmocka_unit_test(where_none_is_enough_the_length_of_fence_decides),
        cmocka_unit_test(a_rule_that_asks_for_less_has_not_decided),
        cmocka_unit_test(a_short_plan_names_its_worst_place_and_what_helps),
        cmocka_unit_test(an_energizer_over_five_joules_is_warned_of),
        cmocka_unit_test(rods_that_are_too_few_are_counted),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
