/* What compare says of a layout is what a plan by that layout makes, and the
 * best by what is preferred is taken. */
#include "plan_help.h"

#include <math.h>

static double line_m_of(const struct fw_plan *plan, size_t field)
{
    double sum_m = 0;
    for (size_t i = 0; i < plan->fence_count; i++)
        if (plan->fences[i].field == field &&
            plan->fences[i].role != FW_FENCE_PERIMETER)
            sum_m += plan->fences[i].length_m;
    return sum_m;
}

static size_t openings_of(const struct fw_plan *plan, size_t move)
{
    const struct fw_list *steps = &plan->time.moves[move].steps;
    size_t count = 0;
    for (size_t s = steps->first; s < steps->first + steps->count; s++)
        count += plan->time.steps[s].kind == FW_STEP_OPEN;
    return count;
}

static void assert_scored(const struct fw_plan *plan,
                          const struct fw_plan_score *score)
{
    const struct fw_kit *kit = &plan->totals.kit;
    const struct fw_plan_field *field = &plan->fields[0];
    assert_string_equal(field->layout, score->layout);
    assert_string_equal(field->pattern, score->pattern);
    assert_int_equal(plan->paddock_count, score->paddocks);
    assert_relative(line_m_of(plan, 0), score->line_m, 1e-5);
    assert_relative(score->moved_m + score->standing_m, score->line_m, 1e-9);
    assert_int_equal(kit->reels, score->kit.reels);
    assert_int_equal(kit->posts, score->kit.posts);
    assert_relative(kit->wire_m, score->kit.wire_m, 1e-5);
    assert_relative(field->fence_bound_m, score->bound_m, 1e-9);
    double days = 0;
    for (size_t p = 0; p < plan->paddock_count; p++)
        days += plan->paddocks[p].stay_days;
    assert_relative(score->days, days, 1e-9);
    assert_relative(plan->totals.minutes_per_move *
                        (double)plan->time.move_count,
                    score->minutes * days, 1e-4);
    /* Only on a turn may they have to leave by another opening. */
    size_t back = 0;
    for (size_t m = 1; m + 1 < plan->time.move_count; m++)
        back += openings_of(plan, m) > 1;
    assert_true(back <= score->turns);
}

static void what_compare_says_is_what_plan_makes(void **state)
{
    (void)state;
    const struct outline *const outlines[] = {&rectangle, &leaning, &corner,
                                              &pond};
    for (size_t o = 0; o < 4; o++) {
        struct fw_farm *farm = farm_of(outlines[o], NULL);
        struct fw_plan_scores scores = {0};
        assert_int_equal(fw_plan_compare(farm, &scores, NULL), FW_OK);
        size_t chosen = 0;
        for (size_t i = 0; i < scores.count; i++) {
            fw_free(farm->layout);
            farm->layout = fw_strdup(scores.items[i].layout);
            struct fw_plan *plan = plan_of(farm);
            assert_scored(plan, &scores.items[i]);
            chosen += scores.items[i].chosen;
            fw_plan_free(plan);
        }
        assert_int_equal(chosen, 1);
        fw_plan_scores_release(&scores);
        fw_farm_free(farm);
    }
}

/* Of several the one that is told by its name, whatever the others are like. */
static void a_layout_told_by_name_is_the_chosen_one(void **state)
{
    (void)state;
    struct fw_farm *farm = farm_of(&leaning, NULL);
    struct fw_plan_scores all = {0};
    assert_int_equal(fw_plan_compare(farm, &all, NULL), FW_OK);
    assert_true(all.count > 2);
    for (size_t i = 0; i < all.count; i++) {
        struct fw_plan_scores scores = {0};
        size_t chosen = 0;
        fw_free(farm->layout);
        farm->layout = fw_strdup(all.items[i].layout);
        assert_int_equal(fw_plan_compare(farm, &scores, NULL), FW_OK);
        for (size_t k = 0; k < scores.count; k++) {
            if (!scores.items[k].chosen)
                continue;
            assert_string_equal(scores.items[k].layout, farm->layout);
            chosen++;
        }
        assert_int_equal(chosen, 1);
        fw_plan_scores_release(&scores);
    }
    fw_plan_scores_release(&all);
    fw_farm_free(farm);
}

static void an_order_of_work_that_is_told_is_kept(void **state)
{
    (void)state;
    for (int set_first = 0; set_first < 2; set_first++) {
        struct fw_farm *farm = farm_of(&rectangle, NULL);
        struct fw_plan_scores scores = {0};
        farm->work_told = true;
        farm->work_order = set_first ? FW_WORK_SET_FIRST : FW_WORK_LEAPFROG;
        assert_int_equal(fw_plan_compare(farm, &scores, NULL), FW_OK);
        assert_true(scores.count > 0);
        for (size_t i = 0; i < scores.count; i++)
            assert_int_equal(scores.items[i].set_first, set_first);
        fw_plan_scores_release(&scores);
        fw_farm_free(farm);
    }
}

static double value_of(const struct fw_plan_score *score, enum fw_prefer prefer)
{
    switch (prefer) {
    case FW_PREFER_WORK:
        return score->minutes;
    case FW_PREFER_FENCE:
        return score->line_m;
    case FW_PREFER_WALK:
        return score->walk_m;
    case FW_PREFER_COST:
        return score->cost;
    case FW_PREFER_KIT:
        break;
    }
    return score->kit.wire_m + 5 * score->kit.posts;
}

/* Each preference tells some candidates from others than the rest do. */
static const struct fw_plan_score *
check_preferred(const struct fw_plan_scores *scores, enum fw_prefer prefer)
{
    const struct fw_plan_score *chosen = NULL;
    double least = HUGE_VAL;
    for (size_t i = 0; i < scores->count; i++) {
        const struct fw_plan_score *score = &scores->items[i];
        if (score->apart == 0 && score->refused == 0)
            least = fmin(least, value_of(score, prefer));
        if (score->chosen)
            chosen = score;
    }
    assert_non_null(chosen);
    assert_relative(value_of(chosen, prefer), least, 1e-8);
    return chosen;
}

static void what_is_preferred_is_chosen(void **state)
{
    (void)state;
    const struct outline *const outlines[] = {&rectangle, &leaning, &corner,
                                              &pond, &rectangle};
    bool differs[FW_PREFER_WALK + 1] = {false};
    for (size_t o = 0; o < 5; o++) {
        struct fw_farm *farm = farm_of(outlines[o], NULL);
        struct fw_farm_field *field = &farm->fields[0];
        if (o == 4) { /* to water in the middle of one side */
            farm->water_moves = farm->back_fence = false;
            farm->season = FW_SEASON_DORMANT;
            put_spot(field->shape, &field->gate, 0, 0);
            put_spot(field->shape, &field->water, 200, 0);
        }
        char by_work[sizeof((struct fw_plan_score *)0)->layout] = "";
        farm->limits_off = true;
        farm->prices.reel = 40;
        farm->prices.post = 2;
        farm->prices.wire_m = 0.05;
        for (enum fw_prefer prefer = FW_PREFER_WORK; prefer <= FW_PREFER_WALK;
             prefer++) {
            struct fw_plan_scores scores = {0};
            farm->prefer = prefer;
            assert_int_equal(fw_plan_compare(farm, &scores, NULL), FW_OK);
            const struct fw_plan_score *chosen =
                check_preferred(&scores, prefer);
            if (prefer == FW_PREFER_WORK)
                snprintf(by_work, sizeof by_work, "%s", chosen->layout);
            differs[prefer] |= strcmp(chosen->layout, by_work) != 0;
            fw_plan_scores_release(&scores);
        }
        fw_farm_free(farm);
    }
    assert_true(differs[FW_PREFER_WALK] && differs[FW_PREFER_KIT] &&
                differs[FW_PREFER_FENCE]);
}

static void limits_come_before_what_is_preferred(void **state)
{
    (void)state;
    struct fw_farm *farm = farm_of(&rectangle, NULL);
    struct fw_plan_scores scores = {0};
    assert_int_equal(fw_plan_compare(farm, &scores, NULL), FW_OK);
    size_t least = FW_NONE;
    for (size_t i = 0; i < scores.count; i++)
        if (scores.items[i].beyond_limits < least)
            least = scores.items[i].beyond_limits;
    for (size_t i = 0; i < scores.count; i++)
        if (scores.items[i].chosen)
            assert_int_equal(scores.items[i].beyond_limits, least);
    fw_plan_scores_release(&scores);
    fw_farm_free(farm);
}

/* Of what each thing is short, as a share of what there is. */
static double short_of(double needed, double owned)
{
    return needed > owned ? (needed - owned) / owned : 0;
}

static double lack_of(const struct fw_farm *farm, const struct fw_kit *kit)
{
    return short_of(kit->reels, farm->kit.reels) +
           short_of(kit->posts, farm->kit.posts) +
           short_of(kit->wire_m, farm->kit.wire_m);
}

static void own_kit_comes_before_limits_and_what_is_preferred(void **state)
{
    (void)state;
    /* Nothing fits, some fit, all do. */
    const struct fw_kit kits[] = {
        {2, 20, 300}, {6, 60, 900}, {100, 1000, 9999}};
    char layouts[3][64];
    for (size_t k = 0; k < 3; k++) {
        struct fw_farm *farm = farm_of(&rectangle, NULL);
        struct fw_plan_scores scores = {0};
        farm->kit_given = true;
        farm->kit = kits[k];
        assert_int_equal(fw_plan_compare(farm, &scores, NULL), FW_OK);
        double least = HUGE_VAL, chosen = HUGE_VAL;
        for (size_t i = 0; i < scores.count; i++) {
            const struct fw_plan_score *score = &scores.items[i];
            const double lack = lack_of(farm, &score->kit);
            assert_int_equal(score->fits_kit, lack <= 0);
            least = fmin(least, lack);
            if (!score->chosen)
                continue;
            chosen = lack;
            snprintf(layouts[k], sizeof layouts[k], "%s", score->layout);
        }
        assert_near(chosen, least, 1e-9);
        fw_plan_scores_release(&scores);
        fw_farm_free(farm);
    }
    assert_string_not_equal(layouts[1], layouts[2]);
}

static void a_layout_that_is_not_there_is_named(void **state)
{
    (void)state;
    struct fw_farm *farm = farm_of(&rectangle, NULL);
    struct fw_plan *plan = NULL;
    struct fw_error err;
    const char *const wrong[] = {"circles", "blocks-99-7", "strips-", ""};
    for (size_t i = 0; i < 4; i++) {
        fw_free(farm->layout);
        farm->layout = fw_strdup(wrong[i]);
        assert_int_equal(fw_plan_make(farm, &plan, &err), FW_EINPUT);
        assert_non_null(strstr(err.text, wrong[i]));
        assert_non_null(strstr(err.text, "foldwright compare"));
        assert_true(i == 0 || !strchr(wrong[i], '-') ||
                    strstr(err.text, " and others: "));
        assert_null(plan);
    }
    fw_farm_free(farm);
}

/* In a field 5 m wide each of the five moves from paddock to paddock is by a
 * way of 5 m at most: 80 head need 3 m, 310 need 6. */
static void
a_way_narrower_than_the_flock_needs_counts_at_each_move(void **state)
{
    (void)state;
    static const struct outline lane = {
        4, {{0, 0}, {120, 0}, {120, 5}, {0, 5}}, 0};
    for (int wide = 0; wide < 2; wide++) {
        struct fw_farm *farm = farm_of(&lane, NULL);
        struct fw_plan_scores scores = {0};
        struct fw_error err = {0};
        farm->classes[0].head = wide ? 310 : 80;
        farm->classes[0].intake_kg_day = 8.0 / farm->classes[0].head;
        farm->layout = fw_strdup("strips");
        farm->direction_given = true; /* from west to east */
        if (fw_plan_compare(farm, &scores, &err))
            fail_msg("%s", err.text);
        assert_int_equal(scores.count, 1);
        assert_int_equal(scores.items[0].paddocks, 6);
        assert_int_equal(scores.items[0].narrow, wide ? 5 : 0);
        fw_plan_scores_release(&scores);
        fw_farm_free(farm);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_layout_told_by_name_is_the_chosen_one),
        cmocka_unit_test(an_order_of_work_that_is_told_is_kept),
        cmocka_unit_test(what_compare_says_is_what_plan_makes),
        cmocka_unit_test(what_is_preferred_is_chosen),
        cmocka_unit_test(limits_come_before_what_is_preferred),
        cmocka_unit_test(own_kit_comes_before_limits_and_what_is_preferred),
        cmocka_unit_test(a_layout_that_is_not_there_is_named),
        cmocka_unit_test(
            a_way_narrower_than_the_flock_needs_counts_at_each_move),
    };
    return cmocka_run_group_tests_name("plan_compare", tests, NULL, NULL);
}
