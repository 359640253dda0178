/* What a log says of its days, and what comes of that: words and heights, sizes
 * that were set, days that nobody spoke of. */
#include "sample_plan.h"
#include "scratch.h"

#include "log/follow.h"

#include <math.h>
#include <string.h>

static struct fw_quantities *quantities;
static struct scratch scratch;

static int begin(void **state)
{
    return fw_quantities_new(&quantities, NULL) || read_sample(state);
}

static int end(void **state)
{
    fw_quantities_free(quantities);
    return free_sample(state);
}

static int before(void **state)
{
    (void)state;
    scratch_make(&scratch);
    return 0;
}

static int after(void **state)
{
    (void)state;
    scratch_remove(scratch.path);
    return 0;
}

static struct fw_log *opened(void)
{
    struct fw_notes notes = {0};
    struct fw_error err = {0};
    struct fw_log *log = NULL;
    const struct fw_log_request request = {.path = in_scratch(&scratch, "a"),
                                           .writer = true};
    if (fw_log_open(plan, &request, &log, &notes, &err))
        fail_msg("%s", err.text);
    fw_notes_release(&notes);
    return log;
}

static struct fw_log_line line_of(const char *parts, int day)
{
    char text[256];
    struct fw_log_line line;
    struct fw_error err = {0};
    snprintf(text, sizeof text, "2000-01-01%s%s", parts[0] ? "; " : "", parts);
    if (fw_log_line_read(quantities, text, strlen(text), FW_METRIC, &line,
                         &err))
        fail_msg("%s: %s", parts, err.text);
    line.day = day;
    return line;
}

static void says(struct fw_log *log, const char *parts, int day)
{
    const struct fw_log_line line = line_of(parts, day);
    struct fw_error err = {0};
    if (fw_log_say(log, &line, &err))
        fail_msg("%s: %s", parts, err.text);
}

static void refuses(struct fw_log *log, const char *parts, const char *words)
{
    const struct fw_log_line line = line_of(parts, FW_NO_DAY);
    struct fw_error err = {0};
    assert_int_equal(fw_log_say(log, &line, &err), FW_EINPUT);
    if (!strstr(err.text, words))
        fail_msg("%s: said \"%s\"; expected \"%s\"", parts, err.text, words);
}

static const struct fw_log_day *last_of(const struct fw_log *log)
{
    return &log->days[log->day_count - 1];
}

/* ---- words ---- */

/* A quarter less or more than was meant; of dormant grass nothing, a sixth, a
 * third and a half of what they could take. */
static void words_say_so_much_of_what_was_meant(void **state)
{
    (void)state;
    static const struct {
        const char *word;
        double of_meant, of_all;
        bool limit;
    } rows[] = {
        {"left short", 0.75, 0, false},
        {"left right", 1, 0, false},
        {"left long", 1.25, 0, false},
        {"left clean", 0, 0, true},
        {"left some", 0, 1 / 6.0, false},
        {"left third", 0, 1 / 3.0, false},
        {"left half", 0, 0.5, false},
        {"left half; bellies hollow", 0, 0.5, true},
        {"bellies hollow", 1, 0, true},
    };
    for (size_t paddock = 0; paddock < plan->paddock_count; paddock += 7) {
        const struct fw_days_offer offer = fw_log_offer(plan, paddock);
        const double least = fmax(offer.residual_kg_ha, offer.floor_kg_ha);
        const double meant =
            fmax(offer.stands_kg_ha - offer.taken_kg_ha, offer.floor_kg_ha);
        for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
            const struct fw_log_line line = line_of(rows[i].word, 0);
            double left = 0;
            bool limit = !rows[i].limit;
            assert_true(
                fw_log_left(plan, paddock, &offer, &line, &left, &limit));
            assert_int_equal(limit, rows[i].limit);
            assert_near(left,
                        rows[i].of_meant > 0
                            ? rows[i].of_meant * meant
                            : least +
                                  rows[i].of_all * (offer.stands_kg_ha - least),
                        1e-9);
        }
        double left = -1;
        bool limit;
        const struct fw_log_line full = line_of("bellies full", 0);
        assert_false(fw_log_left(plan, paddock, &offer, &full, &left, &limit));
        assert_near(left, -1, 0);
    }
}

/* With what is left of its block, without that of another block or field. */
static void most_is_a_paddock_and_what_lies_ahead_in_its_block(void **state)
{
    (void)state;
    int ends = 0;
    for (size_t p = 0; p < plan->paddock_count; p++) {
        const struct fw_plan_paddock *of = &plan->paddocks[p];
        double kg = 0;
        for (size_t i = 0; i < plan->paddock_count; i++)
            if (i >= p && plan->paddocks[i].field == of->field &&
                strcmp(plan->paddocks[i].block, of->block) == 0)
                kg += plan->paddocks[i].usable_kg;
        assert_relative(fw_log_most(plan, p), kg / of->usable_kg, 1e-12);
        ends += kg <= of->usable_kg;
    }
    assert_true(ends > 3);
}

/* ---- what cannot be ---- */

/* Timothy of 19 cm: 20 are more than stood, 18.9 are not. */
static void more_than_stood_is_refused_by_its_height(void **state)
{
    (void)state;
    struct fw_log *log = opened();
    says(log, "", FW_NO_DAY);
    refuses(log, "left 20cm",
            "left: 20 cm are more than stood in A01 before they came, 19 cm "
            "by the plan");
    says(log, "left 18.9cm", FW_NO_DAY);
    fw_log_free(log);
}

static void without_a_sward_a_height_says_nothing(void **state)
{
    (void)state;
    struct fw_log *log = opened();
    const double grass_m = plan->fields[0].grass_m;
    says(log, "", FW_NO_DAY);
    plan->fields[0].grass_m = 0;
    refuses(log, "left 9cm", "a height says nothing; say short, right or long");
    const enum fw_season season = plan->season;
    plan->season = FW_SEASON_DORMANT;
    refuses(log, "left 9cm",
            "left: dormant grass lies flat, so a height says nothing; say "
            "clean, some, third or half");
    plan->season = season;
    plan->fields[0].grass_m = 1e6; /* a density of hardly anything is one */
    assert_true(fw_log_density(plan, 0) > 0 && fw_log_density(plan, 0) < 1);
    says(log, "left 9cm", FW_NO_DAY);
    plan->fields[0].grass_m = grass_m;
    fw_log_free(log);
}

/* "long" of a paddock from which hardly anything was to be taken would be more
 * than stood there: a slip, that is not weighed. */
static void more_stays_than_stood_is_not_weighed(void **state)
{
    (void)state;
    for (int slip = 0; slip < 2; slip++) {
        struct fw_log *log = opened();
        const double demand_kg = plan->paddocks[0].demand_kg;
        const struct fw_days_offer offer = fw_log_offer(plan, 0);
        const double area_ha = plan->paddocks[0].area_ha;
        const double share = slip ? 0.19 : 0.21;
        plan->paddocks[0].demand_kg = share * offer.stands_kg_ha * area_ha;
        says(log, "", FW_NO_DAY);
        says(log, "left long", FW_NO_DAY);
        assert_int_equal(last_of(log)->looked, !slip);
        assert_near(last_of(log)->look.left_kg_ha,
                    1.25 * (1 - share) * offer.stands_kg_ha, 1e-6);
        plan->paddocks[0].demand_kg = demand_kg;
        fw_log_free(log);
    }
}

/* ---- days that nobody spoke of ---- */

static void silent_days_are_those_passed_over(void **state)
{
    (void)state;
    struct fw_log *log = opened();
    says(log, "", FW_NO_DAY);
    assert_int_equal(log->silent_days, 0);
    says(log, "left 9.4cm", plan->start_day + 4);
    assert_int_equal(log->silent_days, 3);
    says(log, "correct; head 60", plan->start_day);
    assert_int_equal(log->silent_days, 3); /* a day of before passes none */
    says(log, "", plan->start_day + 2);    /* written later */
    assert_int_equal(log->silent_days, 3);
    says(log, "", plan->start_day + 8);
    assert_int_equal(log->silent_days, 6);
    fw_log_free(log);
}

static void a_day_told_twice_names_the_line_that_has_it(void **state)
{
    (void)state;
    static const char text[] = "2027-05-17\n"
                               "2027-05-18; head 60\n"
                               "2027-05-19\n"
                               "2027-05-18; head 61\n";
    const struct fw_log_source source = {"log", text, strlen(text), FW_METRIC};
    struct fw_log_lines lines = {0};
    struct fw_notes notes = {0};
    assert_int_equal(fw_log_lines_read(&source, &lines, &notes, NULL), FW_OK);
    assert_int_equal(notes.count, 1);
    assert_string_equal(notes.items[0].where, "log:4");
    assert_non_null(strstr(notes.items[0].text, "2027-05-18 is in line 2"));
    assert_int_equal(lines.count, 3);
    fw_log_lines_release(&lines);
    fw_notes_release(&notes);
}

/* ---- sizes ---- */

/* Set 5 paces on, its paddock is that much larger when they leave it: what they
 * ate lay on more ground. */
static void a_paddock_is_left_at_the_size_that_it_was_set(void **state)
{
    (void)state;
    struct fw_log *log = opened();
    size_t move = 1;
    double share = 0;
    while (fw_log_fence(plan, move, &share) == FW_NONE)
        move++;
    const size_t fence = fw_log_fence(plan, move, &share);
    const size_t paddock = plan->fences[fence].from;
    int anew[2];
    char parts[64];
    assert_int_equal(fw_log_paces_anew(plan, fence, 5, anew), FW_LOG_ANEW);
    snprintf(parts, sizeof parts, "fence %d,%d", anew[0], anew[1]);
    says(log, parts, plan->time.moves[move].day);
    size_t left = move;
    while (fw_plan_move_from(plan, left) != paddock)
        left++;
    says(log, "left right", plan->time.moves[left].day);
    const struct fw_log_day *day = last_of(log);
    assert_int_equal(day->paddock, paddock);
    assert_near(day->look.size, 1 + 5 * share, 1e-12);
    assert_near(day->stood_kg_ha,
                day->look.left_kg_ha +
                    day->offer.taken_kg_ha * day->look.eaten / (1 + 5 * share),
                1e-9);
    assert_true(share > 0 && day->look.eaten > 0);
    fw_log_free(log);
}

#define one(test) cmocka_unit_test_setup_teardown(test, before, after)

int main(void)
{
    const struct CMUnitTest tests[] = {
        one(words_say_so_much_of_what_was_meant),
        one(most_is_a_paddock_and_what_lies_ahead_in_its_block),
        one(more_than_stood_is_refused_by_its_height),
        one(without_a_sward_a_height_says_nothing),
        one(more_stays_than_stood_is_not_weighed),
        one(silent_days_are_those_passed_over),
        one(a_day_told_twice_names_the_line_that_has_it),
        one(a_paddock_is_left_at_the_size_that_it_was_set),
    };
    return cmocka_run_group_tests(tests, begin, end);
}
