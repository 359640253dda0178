/* When a log asks for a plan that goes on, what it tells of where they are, and
 * what it makes of a refusal: the maker of plans is one of the test's own. */
#include "sample_plan.h"
#include "scratch.h"

#include "log/follow.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static struct fw_quantities *quantities;
static struct scratch scratch;

/* What was asked last, how often, and what is answered. */
static struct {
    struct fw_plan_on on[8];
    double size[8][8];
    size_t calls;
    enum fw_status answer;
} asked;

static enum fw_status makes(const void *of, const struct fw_plan_on *on,
                            struct fw_plan **out, struct fw_error *err)
{
    assert_ptr_equal(of, farm);
    assert_true(asked.calls < 8);
    memcpy(asked.size[asked.calls], on->size,
           plan->field_count * sizeof(double));
    asked.on[asked.calls++] = *on;
    *out = NULL;
    *err = (struct fw_error){.status = asked.answer, .text = "not so"};
    return asked.answer;
}

static int begin(void **state)
{
    return fw_quantities_new(&quantities, NULL) || read_sample(state);
}

static int end(void **state)
{
    fw_quantities_free(quantities);
    return free_sample(state);
}

static struct fw_log *opened(enum fw_status answer)
{
    struct fw_notes notes = {0};
    struct fw_error err = {0};
    struct fw_log *log = NULL;
    scratch_make(&scratch);
    asked.calls = 0;
    asked.answer = answer;
    const struct fw_log_request request = {.path = in_scratch(&scratch, "a"),
                                           .writer = true,
                                           .making = {farm, makes}};
    if (fw_log_open(plan, &request, &log, &notes, &err))
        fail_msg("%s", err.text);
    fw_notes_release(&notes);
    return log;
}

static void closed(struct fw_log *log)
{
    fw_log_free(log);
    scratch_remove(scratch.path);
}

static enum fw_status said(struct fw_log *log, const char *parts,
                           struct fw_error *err)
{
    char text[256];
    struct fw_log_line line;
    snprintf(text, sizeof text, "2000-01-01%s%s", parts[0] ? "; " : "", parts);
    if (fw_log_line_read(quantities, text, strlen(text), FW_METRIC, &line, err))
        fail_msg("%s: %s", parts, err->text);
    line.day = FW_NO_DAY;
    asked.calls = 0;
    return fw_log_say(log, &line, err);
}

static void says(struct fw_log *log, const char *parts)
{
    struct fw_error err = {0};
    if (said(log, parts, &err))
        fail_msg("%s: %s", parts, err.text);
}

/* A line that is refused leaves the log as it was. */
static void says_wrong(struct fw_log *log, const char *parts)
{
    struct fw_error err = {0};
    const size_t days = log->day_count;
    assert_int_equal(said(log, parts, &err), FW_EINPUT);
    assert_string_equal(err.text, "not so");
    assert_int_equal(log->day_count, days);
    assert_int_equal(log->not_anew.status, FW_OK);
    assert_int_equal(log->head, plan->flock.head);
    assert_near(log->next.paces, 0, 0);
}

/* Said up to the day on which a fence is set that is counted in paces. */
static size_t up_to_a_fence(struct fw_log *log, struct fw_log_paces ends[2])
{
    double share;
    says(log, "");
    while (fw_log_fence(plan, log->next_move, &share) == FW_NONE)
        says(log, "");
    const size_t fence = fw_log_fence(plan, log->next_move, &share);
    for (int i = 0; i < 2; i++)
        ends[i] = fw_log_paces(plan, fence, i == 0);
    return fence;
}

static const char *fence_on(const struct fw_log_paces ends[2], int a, int b,
                            const char *more)
{
    static char parts[80];
    snprintf(parts, sizeof parts, "fence %d,%d%s", ends[0].paces + a,
             ends[1].paces + b, more);
    return parts;
}

static void an_empty_log_knows_the_next_fence(void **state)
{
    (void)state;
    struct fw_log *log = opened(FW_EPLAN);
    assert_int_equal(log->day_count, 0);
    assert_true(log->next.fence != FW_NONE && log->next.known);
    assert_near(log->next.step, 0, 0);
    assert_int_equal(asked.calls, 0);
    closed(log);
}

/* As planned, nothing is asked; after a look, a fence set otherwise, another
 * number of sheep or a missed day it is. */
static void a_plan_is_asked_for_when_something_is_otherwise(void **state)
{
    (void)state;
    struct fw_log *log = opened(FW_EPLAN);
    struct fw_log_paces ends[2];
    const size_t fence = up_to_a_fence(log, ends);
    assert_int_equal(asked.calls, 0);
    const size_t move = log->next_move;
    says(log, fence_on(ends, 6, 3, ""));
    assert_int_equal(asked.calls, 1);
    const struct fw_plan_on *on = &asked.on[0];
    assert_ptr_equal(on->from, plan);
    assert_int_equal(on->move, move);
    assert_int_equal(on->fence, fence);
    assert_near(on->on_m[0], 6 * ends[0].way * plan->pace_m, 1e-9);
    assert_near(on->on_m[1], 3 * ends[1].way * plan->pace_m, 1e-9);
    assert_int_equal(on->day, plan->time.moves[move + 1].day);
    assert_false(on->missed);
    assert_int_equal(on->head, plan->flock.head);
    assert_true(on->brief);
    says(log, "missed");
    assert_int_equal(asked.calls, 1);
    assert_true(asked.on[0].missed);
    assert_int_equal(asked.on[0].fence, FW_NONE);
    assert_int_equal(asked.on[0].day, log->days[log->day_count - 1].day + 1);
    assert_int_equal(asked.on[0].move, log->next_move - 1);
    closed(log);
}

/* Lambs that stay are counted with the flock; told anew they are as many as
 * last told. */
static void weaned_lambs_are_asked_for_and_counted(void **state)
{
    (void)state;
    struct fw_log *log = opened(FW_EPLAN);
    const int before = plan->flock.head;
    says(log, "");
    says(log, "weaned 96 28kg");
    assert_int_equal(asked.calls, 1);
    assert_true(asked.on[0].weaned.given);
    assert_int_equal(asked.on[0].weaned.head, 96);
    assert_near(asked.on[0].weaned.weight_kg, 28, 1e-12);
    assert_int_equal(asked.on[0].head, before + 96);
    says(log, "weaned 0");
    assert_int_equal(asked.calls, 1);
    assert_int_equal(asked.on[0].head, before);
    assert_true(asked.on[0].weaned.given);
    says(log, "lambs 12"); /* with their dams: nothing is asked */
    assert_int_equal(asked.calls, 0);
    closed(log);
}

/* Four of a ewe are the most; rams have none. */
static void more_lambs_than_ewes_can_have_are_a_slip(void **state)
{
    (void)state;
    struct fw_log *log = opened(FW_EPLAN);
    struct fw_error err = {0};
    const int ewes = plan->classes[0].head;
    assert_int_equal(plan->classes[1].state, FW_RAM);
    char most[32], more[32], counted[32];
    snprintf(most, sizeof most, "weaned %d 28kg", 4 * ewes);
    snprintf(more, sizeof more, "weaned %d 28kg", 4 * ewes + 1);
    snprintf(counted, sizeof counted, "lambs %d", 4 * ewes + 1);
    says(log, "");
    assert_int_equal(said(log, more, &err), FW_EINPUT);
    assert_non_null(strstr(err.text, "expected up to 4 of each"));
    assert_int_equal(said(log, counted, &err), FW_EINPUT);
    assert_non_null(strstr(err.text, "lambs: "));
    assert_int_equal(log->head, plan->flock.head);
    says(log, most);
    assert_int_equal(log->head, plan->flock.head + 4 * ewes);
    closed(log);
}

/* Metres by when each line goes up, not by the steps; and after five moves that
 * were timed what they take of the plan's minutes. */
static void moves_that_are_timed_teach_the_rates(void **state)
{
    (void)state;
    struct fw_log *log = opened(FW_EPLAN);
    double planned_min = 0, set_m = 0;
    for (size_t m = 0; m < 7; m++) {
        const struct fw_log_work before = fw_log_work(log);
        assert_int_equal(before.moves, m);
        assert_near(before.share,
                    m < 5 ? 1 : fmin(3, 100 * (double)m / planned_min), 1e-9);
        while (plan->time.moves[m].day > log->next_day)
            says(log, "");
        says(log, "minutes 100");
        planned_min += plan->time.moves[m].minutes;
        for (size_t i = 0; i < plan->time.standing_count; i++)
            if (plan->time.standings[i].up.move == m)
                set_m += plan->fences[plan->time.standings[i].line].length_m;
    }
    const struct fw_log_work work = fw_log_work(log);
    assert_near(work.said_min, 700, 0);
    assert_near(work.planned_min, planned_min, 1e-9);
    assert_near(work.set_m, set_m, 1e-6);
    says(log, "missed");
    assert_int_equal(asked.calls, 1);
    assert_near(asked.on[0].minutes_share, fmin(3, 700 / planned_min), 1e-9);
    closed(log);
}

/* The whole field takes what is asked of its next paddock. */
static void a_look_is_asked_of_the_field(void **state)
{
    (void)state;
    struct fw_log *log = opened(FW_EPLAN);
    static const char *const looks[] = {"left 5cm", "left 12cm",
                                        "left 9cm; bellies hollow"};
    struct fw_log_paces ends[2];
    int steps = 0;
    (void)up_to_a_fence(log, ends);
    for (size_t i = 0; i < 3; i++) {
        const double before = log->size[0];
        says(log, looks[i]);
        assert_near(log->size[0], before * (1 + log->next.step), 1e-12);
        if (log->next.step != 0) {
            steps++;
            assert_int_equal(asked.calls, 1);
            assert_near(asked.size[0][0], log->size[0], 0);
        } else {
            assert_int_equal(asked.calls, 0);
        }
    }
    assert_true(steps > 1);
    closed(log);
}

/* A fence that cannot stand so is told; it is asked once more without it where
 * something else is otherwise too. */
static void a_wrong_fence_is_told(void **state)
{
    (void)state;
    static const char *const more[] = {"", "; left 5cm", "; head 50"};
    for (int i = 0; i < 3; i++) {
        struct fw_log *log = opened(FW_EPLAN);
        struct fw_log_paces ends[2];
        const size_t fence = up_to_a_fence(log, ends);
        asked.answer = FW_EINPUT;
        says_wrong(log, fence_on(ends, 4, 4, more[i]));
        assert_int_equal(asked.on[0].fence, fence);
        assert_int_equal(asked.calls, i ? 2 : 1);
        if (i)
            assert_int_equal(asked.on[1].fence, FW_NONE);
        closed(log);
    }
}

/* Refused for what the farm is: once, and from then on by paces. */
static void a_farm_that_is_another_is_told_once(void **state)
{
    (void)state;
    struct fw_log *log = opened(FW_EINPUT);
    struct fw_log_paces ends[2];
    (void)up_to_a_fence(log, ends);
    says(log, "left 5cm");
    assert_int_equal(asked.calls, 1);
    assert_int_equal(log->not_anew.status, FW_EINPUT);
    assert_int_equal(log->days[log->day_count - 1].wrong.status, FW_OK);
    assert_true(log->next.paces > 0);
    says(log, "left 5cm");
    assert_int_equal(asked.calls, 0);
    closed(log);
}

/* Sheep that a plan cannot be made for are told, and the plan's own count goes
 * on. */
static void a_wrong_count_is_told(void **state)
{
    (void)state;
    struct fw_log *log = opened(FW_EINPUT);
    struct fw_log_paces ends[2];
    (void)up_to_a_fence(log, ends);
    says_wrong(log, "head 50");
    assert_int_equal(asked.calls, 1);
    assert_int_equal(asked.on[0].head, 50);
    assert_int_equal(asked.on[0].fence, FW_NONE);
    closed(log);
}

/* Pace by pace outwards or inwards, up to the first one that is refused. */
static void refused_at_last(int way, const char *why)
{
    struct fw_log *log = opened(FW_EPLAN);
    struct fw_log_paces ends[2];
    struct fw_error err = {0};
    (void)up_to_a_fence(log, ends);
    int n = 0;
    do {
        n += way;
        assert_true(abs(n) < 300);
    } while (!said(log, fence_on(ends, n * ends[0].way, n * ends[1].way, ""),
                   &err) &&
             !fw_log_undo(log, &(int){0}, &err));
    assert_non_null(strstr(err.text, why));
    assert_true(abs(n) > 1);
    assert_int_equal(asked.calls, 0);
    closed(log);
}

static void a_fence_has_two_limits(void **state)
{
    (void)state;
    refused_at_last(1, "beyond the block or the field");
    refused_at_last(-1, "on ground that is grazed");
}

/* End B cannot stand at nothing, even where the paddock grows by a pace. */
static void an_end_stands_somewhere(void **state)
{
    (void)state;
    struct fw_log *log = opened(FW_EPLAN);
    struct fw_log_paces ends[2];
    struct fw_error err = {0};
    (void)up_to_a_fence(log, ends);
    assert_true(ends[0].way && ends[1].way);
    const int on = 2 + ends[1].way * ends[1].paces;
    assert_int_equal(
        said(log, fence_on(ends, on * ends[0].way, -ends[1].paces, ""), &err),
        FW_EINPUT);
    assert_non_null(strstr(err.text, "beyond the block or the field"));
    closed(log);
}

static void want_of_memory_is_handed_on(void **state)
{
    (void)state;
    struct fw_log *log = opened(FW_EPLAN);
    struct fw_log_paces ends[2];
    struct fw_log_line line;
    struct fw_error err = {0};
    static const char text[] = "2000-01-01; left 5cm";
    (void)up_to_a_fence(log, ends);
    asked.answer = FW_ENOMEM;
    assert_int_equal(fw_log_line_read(quantities, text, strlen(text), FW_METRIC,
                                      &line, NULL),
                     FW_OK);
    line.day = FW_NO_DAY;
    asked.calls = 0;
    assert_int_equal(fw_log_say(log, &line, &err), FW_ENOMEM);
    closed(log);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(an_empty_log_knows_the_next_fence),
        cmocka_unit_test(a_plan_is_asked_for_when_something_is_otherwise),
        cmocka_unit_test(weaned_lambs_are_asked_for_and_counted),
        cmocka_unit_test(more_lambs_than_ewes_can_have_are_a_slip),
        cmocka_unit_test(moves_that_are_timed_teach_the_rates),
        cmocka_unit_test(a_look_is_asked_of_the_field),
        cmocka_unit_test(a_wrong_fence_is_told),
        cmocka_unit_test(a_farm_that_is_another_is_told_once),
        cmocka_unit_test(a_wrong_count_is_told),
        cmocka_unit_test(a_fence_has_two_limits),
        cmocka_unit_test(an_end_stands_somewhere),
        cmocka_unit_test(want_of_memory_is_handed_on),
    };
    return cmocka_run_group_tests(tests, begin, end);
}
