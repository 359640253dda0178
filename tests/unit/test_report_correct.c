/* Every entry of the card's own correction, worked out again from plan.json's
 * figures by the rule as the guide has it, for every move of the sample's plan
 * and in both sets of units. */
#include "sample_plan.h"

#include "base/alloc.h"
#include "report/reports.h"

#include <string.h>

struct entry {
    double from_m, to_m; /* heights; from 0: "or less"; to 0: "or more" */
    int a, b;
    bool all, ends, meant;
};

static bool read_entry(const char *line, double unit_m, struct entry *out)
{
    double from, to;
    char rest[128], unit[8];
    *out = (struct entry){0};
    if (sscanf(line, "    %lf to %lf %7s %127[^\n]", &from, &to, unit, rest) ==
        4) {
        out->from_m = from * unit_m;
        out->to_m = to * unit_m;
    } else if (sscanf(line, "    %lf %7s or less %127[^\n]", &to, unit, rest) ==
               3) {
        out->to_m = to * unit_m;
    } else if (sscanf(line, "    %lf %7s or more %127[^\n]", &from, unit,
                      rest) == 3) {
        out->from_m = from * unit_m;
    } else if (sscanf(line, "    %lf %7s %127[^\n]", &from, unit, rest) == 3 &&
               (!strcmp(unit, "cm") || !strcmp(unit, "in"))) {
        out->from_m = out->to_m = from * unit_m;
    } else {
        return false;
    }
    out->all = strstr(rest, "no fence") != NULL;
    out->ends = strstr(rest, "where the line ends") != NULL;
    out->meant = strstr(rest, "as meant") != NULL;
    return out->all || sscanf(rest, "%d at A, %d at B", &out->a, &out->b) == 2;
}

/* The rule by hand: of 1 before, the size that is asked for. */
static double size_by_hand(double left_m, double stands_m, double leave_m,
                           double eaten_m)
{
    const double meant_m = fmax(0.03, stands_m - eaten_m);
    if (left_m > 0.03 && fabs(left_m - meant_m) <= 0.15 * meant_m)
        return 1;
    const double stood_m = left_m + eaten_m;
    const double asked = stood_m > leave_m
                             ? (stands_m - leave_m) / (stood_m - leave_m) - 1
                             : 1e9;
    if (asked >= 0.05 || left_m <= 0.03)
        return 1 + fmin(0.5, fmax(0.1, asked));
    return asked < 0 ? 1 - fmin(0.25, -asked / 2) : 1;
}

/* The fence that the table is for, in the plan. */
static const struct fw_plan_fence *fence_named(const char *words)
{
    char id[FW_ID];
    const char *at = strstr(words, "Then set ");
    if (!at)
        at = strstr(words, "Then\nset ");
    if (!at || sscanf(at + strlen("Then set "), "%31[^,]", id) != 1)
        fail_msg("no fence is named");
    for (size_t i = 0; i < plan->fence_count; i++)
        if (!strcmp(plan->fences[i].id, id))
            return &plan->fences[i];
    fail_msg("%s is no fence", id);
    return NULL;
}

/* By how much one pace along both sides makes its paddock larger. */
static double share_by_hand(const struct fw_plan_fence *fence)
{
    return fence->pace_share * plan->flock.demand_kg_day /
           plan->paddocks[fence->from].usable_kg;
}

static int by_paces(double size, double share)
{
    return (int)ceil((size - 1) / share - 1e-9);
}

static void entry_is_right(const struct entry *entry, const struct entry *meant,
                           const struct fw_plan_fence *fence, size_t left,
                           double step_m)
{
    const struct fw_plan_paddock *of = &plan->paddocks[left];
    const struct fw_plan_field *field = &plan->fields[of->field];
    const double usable_m = of->usable_kg / of->area_ha / field->use *
                            field->grass_m / field->mass_kg_ha;
    const double leave_m =
        field->residual_kg_ha * field->grass_m / field->mass_kg_ha;
    const double stands_m = leave_m + usable_m;
    const double eaten_m =
        of->demand_kg / of->area_ha * field->grass_m / field->mass_kg_ha;
    const double lowest_m = entry->from_m > 0 ? entry->from_m : step_m;
    const double size = size_by_hand(lowest_m, stands_m, leave_m, eaten_m);
    const int on = by_paces(size, share_by_hand(fence));
    if (entry->all) {
        assert_true(size > 1);
        return;
    }
    if (entry->ends) {
        assert_true(abs(entry->a - meant->a) < on);
        return;
    }
    if (abs(entry->a - meant->a) != abs(on))
        fail_msg("%s, %s left at %g m: %d and %d for %d and %d; by hand %d on",
                 fence->id, of->id, lowest_m, entry->a, entry->b, meant->a,
                 meant->b, on);
    assert_int_equal(abs(entry->b - meant->b), abs(on));
    assert_int_equal(entry->meant, on == 0);
    /* What the row has for its lowest height is enough for all of it. */
    for (double m = lowest_m; entry->to_m > 0 && m < entry->to_m; m += 0.001)
        assert_true(by_paces(size_by_hand(m, stands_m, leave_m, eaten_m),
                             share_by_hand(fence)) <= on ||
                    on == 0);
}

/* Hollow flanks want a tenth more, whatever the height says; folded anywhere.
 */
static void hollow_flanks_are_told(const char *said,
                                   const struct fw_plan_fence *fence,
                                   const struct entry *meant)
{
    char words[400];
    int a, b;
    size_t n = 0;
    const char *at = strstr(said, "Flanks hollow");
    assert_non_null(at);
    for (; *at && n + 1 < sizeof words; at++)
        if (*at != '\n' && (*at != ' ' || (n > 0 && words[n - 1] != ' ')))
            words[n++] = *at;
        else if (n > 0 && words[n - 1] != ' ')
            words[n++] = ' ';
    words[n] = 0;
    if (sscanf(words,
               "Flanks hollow, whatever they left: %d at A and %d at B at "
               "least. Once in the rain, or in frost, never",
               &a, &b) != 2)
        fail_msg("%s", words);
    const int on = by_paces(1.1, share_by_hand(fence));
    assert_int_equal(abs(a - meant->a), on);
    assert_int_equal(abs(b - meant->b), on);
}

static size_t check_card(size_t move, double unit_m, double step_m)
{
    struct fw_error err;
    char *card;
    if (fw_report_move(plan, move, 0, &card, &err))
        fail_msg("%s", err.text);
    char *at = strstr(card, "BY WHAT THEY LEFT");
    size_t count = 0;
    if (at) {
        struct entry entries[16], meant = {0};
        const struct fw_plan_fence *fence = fence_named(at);
        const size_t left = fw_plan_move_from(plan, move);
        char *whole = fw_strdup(at);
        for (char *line = strtok(at, "\n"); line && count < 16;
             line = strtok(NULL, "\n"))
            if (read_entry(line, unit_m, &entries[count])) {
                if (entries[count].meant)
                    meant = entries[count];
                count++;
            }
        assert_true(count >= 3);
        assert_true(meant.meant);
        /* From nothing left to all of it. */
        assert_near(entries[0].from_m, 0, 0);
        assert_near(entries[count - 1].to_m, 0, 0);
        assert_true(entries[0].to_m > 0 && entries[count - 1].from_m > 0);
        double reached_m = 0;
        for (size_t i = 0; i < count; i++) {
            entry_is_right(&entries[i], &meant, fence, left, step_m);
            if (i > 0) /* no height is left out */
                assert_near(entries[i].from_m, reached_m + step_m, 1e-9);
            reached_m = entries[i].to_m;
        }
        hollow_flanks_are_told(whole, fence, &meant);
        fw_bytes_free(whole);
    }
    fw_bytes_free(card);
    return count;
}

static void every_printed_entry_is_the_rule(void **state)
{
    (void)state;
    size_t entries = 0, cards = 0;
    for (size_t i = 0; i < plan->time.move_count; i++) {
        const size_t count = check_card(i, 0.01, 0.01);
        entries += count;
        cards += count > 0;
    }
    print_message("# %zu entries of %zu cards\n", entries, cards);
    assert_true(cards > 8 && entries >= 6 * cards);
    plan->units = FW_US;
    for (size_t i = 0; i < plan->time.move_count; i++)
        check_card(i, 0.0254, 0.0127);
    plan->units = FW_METRIC;
}

static void nobody_tomorrow_stands_only_where_a_paddock_is_fenced(void **state)
{
    (void)state;
    size_t said = 0;
    for (size_t i = 0; i < plan->time.move_count; i++) {
        struct fw_error err;
        char *card;
        if (fw_report_move(plan, i, 0, &card, &err))
            fail_msg("%s", err.text);
        const bool says = strstr(card, "If nobody comes") != NULL;
        const bool ahead = strstr(card, "is fenced ahead.") != NULL;
        assert_true(!says || ahead);
        said += says;
        fw_bytes_free(card);
    }
    assert_true(said > 0);
}

/* No height is looked at where grass is dormant. */
static void dormant_grass_has_words(void **state)
{
    (void)state;
    struct fw_error err;
    char *card;
    plan->season = FW_SEASON_DORMANT;
    if (fw_report_move(plan, 2, 0, &card, &err))
        fail_msg("%s", err.text);
    plan->season = FW_SEASON_GROWTH;
    assert_non_null(strstr(card, "\n    nothing "));
    assert_non_null(strstr(card, "half "));
    assert_null(strstr(card, " cm or less"));
    fw_bytes_free(card);
}

/* Of rank grass three tenths are taken: then most of it left is as it should
 * be, and no less of it. */
static void most_of_it_left_may_be_as_meant(void **state)
{
    (void)state;
    static const double uses[] = {0.3, 0.8};
    struct fw_plan_field *field = &plan->fields[plan->time.moves[2].field];
    const struct fw_plan_field before = *field;
    plan->season = FW_SEASON_DORMANT;
    field->use_of = FW_USE_STANDING;
    for (size_t i = 0; i < 2; i++) {
        struct fw_error err;
        char *card;
        field->use = uses[i];
        if (fw_report_move(plan, 2, 0, &card, &err))
            fail_msg("%s", err.text);
        const char *most = strstr(card, "more than half ");
        const char *meant = strstr(card, ", as meant");
        assert_int_equal(most != NULL, i == 0);
        assert_true(i > 0 || (meant > most && meant < strchr(most, '\n')));
        fw_bytes_free(card);
    }
    *field = before;
    plan->season = FW_SEASON_GROWTH;
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_printed_entry_is_the_rule),
        cmocka_unit_test(nobody_tomorrow_stands_only_where_a_paddock_is_fenced),
        cmocka_unit_test(dormant_grass_has_words),
        cmocka_unit_test(most_of_it_left_may_be_as_meant),
    };
    return cmocka_run_group_tests(tests, read_sample, free_sample);
}
