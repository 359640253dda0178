/* What map.html tells of the sample's days and moves, against a tally of our
 * own: what each step sets, opens and takes down, counted move by move. */
#include "read_back.h"
#include "sample_plan.h"

#include "base/text.h"
#include "page/map_page.h"
#include "report/words.h"

#include <stdlib.h>

static struct json_object *told_days(void)
{
    struct fw_text text = {0};
    struct fw_error err;
    fw_text_add(&text, "{");
    if (fw_map_days(&text, plan, &err))
        fail_msg("%s", err.text);
    fw_text_add(&text, "}");
    assert_false(text.failed);
    struct json_object *root = parsed(text.bytes);
    fw_text_release(&text);
    return root;
}

/* ---- moves ---- */

static const struct fw_step *step_of(size_t move, size_t i)
{
    return &plan->time.steps[plan->time.moves[move].steps.first + i];
}

/* The lines of all its steps of that kind are those in the list, in order. */
static void has_lines(struct json_object *list, size_t move,
                      enum fw_step_kind kind)
{
    size_t count = 0;
    for (size_t i = 0; i < plan->time.moves[move].steps.count; i++) {
        const struct fw_step *step = step_of(move, i);
        for (size_t k = 0; step->kind == kind && k < step->lines.count; k++)
            assert_int_equal(json_object_get_int(at(list, count++)),
                             plan->time.items[step->lines.first + k]);
    }
    assert_int_equal(json_object_array_length(list), count);
}

/* "2 lines: 31 posts, 2 reels, 231 m of wire; water and mineral" */
static void is_carried(struct json_object *move, size_t index)
{
    int lines = 0, posts = 0, reels = 0;
    double wire_m = 0;
    for (size_t i = 0; i < plan->time.moves[index].steps.count; i++) {
        const struct fw_step *step = step_of(index, i);
        for (size_t k = 0; step->kind == FW_STEP_SET && k < step->lines.count;
             k++) {
            const struct fw_plan_fence *fence =
                &plan->fences[plan->time.items[step->lines.first + k]];
            lines++;
            posts += fence->posts;
            reels += fence->reels;
            wire_m += fence->wire_m;
        }
    }
    const bool water = plan->time.moves[index].carries;
    char wanted[200] = "nothing";
    if (lines)
        snprintf(wanted, sizeof wanted,
                 "%d line%s: %d post%s, %d reel%s, %.0f m of wire%s", lines,
                 lines == 1 ? "" : "s", posts, posts == 1 ? "" : "s", reels,
                 reels == 1 ? "" : "s", wire_m,
                 water ? "; water and mineral" : "");
    else if (water)
        snprintf(wanted, sizeof wanted, "water and mineral");
    is_text(move, "carried", wanted);
}

static void is_paddock(struct json_object *move, const char *key, size_t stay)
{
    if (stay == FW_NONE)
        assert_false(json_object_object_get_ex(move, key, NULL));
    else
        is_number(move, key, (double)plan->time.stays[stay].cell);
}

static void each_move_is_that_of_the_plan(void **state)
{
    (void)state;
    struct json_object *root = told_days(), *moves = of(root, "moves");
    assert_int_equal(json_object_array_length(moves), plan->time.move_count);
    for (size_t m = 0; m < plan->time.move_count; m++) {
        const struct fw_move *move = &plan->time.moves[m];
        struct json_object *told = at(moves, m);
        is_number(told, "day", move->day - plan->start_day);
        is_number(told, "minutes", ceil(move->minutes));
        is_paddock(told, "from", m == 0 ? FW_NONE : m - 1);
        is_paddock(told, "to", move->stay);
        has_lines(of(told, "set"), m, FW_STEP_SET);
        has_lines(of(told, "down"), m, FW_STEP_TAKE_DOWN);
        is_carried(told, m);
        assert_int_equal(json_object_array_length(of(told, "steps")),
                         move->steps.count);
        size_t read = FW_NONE;
        for (size_t i = 0; i < move->steps.count; i++) {
            const struct fw_step *step = step_of(m, i);
            const char *said = json_object_get_string(at(of(told, "steps"), i));
            assert_true(strlen(said) > 3);
            if (step->kind == FW_STEP_SET) /* each names its first line */
                has_words(said,
                          plan->fences[plan->time.items[step->lines.first]].id);
            if (step->kind == FW_STEP_READ)
                read =
                    plan->time.items[step->lines.first + step->lines.count - 1];
        }
        if (read == FW_NONE)
            assert_false(json_object_object_get_ex(told, "read", NULL));
        else
            is_number(told, "read", (double)read);
        const char *title = json_object_get_string(of(told, "title"));
        char day[FW_WORDS];
        has_words(title, fw_report_day(move->day, true, day));
        has_words(title,
                  move->stay == FW_NONE
                      ? plan->fields[move->field].name
                      : plan->paddocks[plan->time.stays[move->stay].cell].id);
    }
    json_object_put(root);
}

/* One post, one reel, one line; water alone; nothing. */
static void what_is_carried_is_said_as_people_say_it(void **state)
{
    (void)state;
    size_t move = 0, set = FW_NONE;
    for (; set == FW_NONE; move++) {
        size_t lines = 0, last = FW_NONE;
        for (size_t i = 0; i < plan->time.moves[move].steps.count; i++)
            if (step_of(move, i)->kind == FW_STEP_SET) {
                lines += step_of(move, i)->lines.count;
                last = plan->time.items[step_of(move, i)->lines.first];
            }
        set = lines == 1 ? last : FW_NONE;
    }
    move--;
    struct fw_plan_fence *fence = &plan->fences[set], kept = *fence;
    const bool carries = plan->time.moves[move].carries;
    for (int one = 0; one < 2; one++)
        for (int water = 0; water < 2; water++) {
            fence->posts = fence->reels = one ? 1 : 2;
            fence->wire_m = 40;
            plan->time.moves[move].carries = water;
            struct json_object *root = told_days();
            char wanted[100];
            snprintf(wanted, sizeof wanted, "1 line: %s, 40 m of wire%s",
                     one ? "1 post, 1 reel" : "2 posts, 2 reels",
                     water ? "; water and mineral" : "");
            is_text(at(of(root, "moves"), move), "carried", wanted);
            json_object_put(root);
        }
    *fence = kept;
    plan->time.moves[move].carries = carries;
}

/* ---- days ---- */

struct tally {
    bool *stands, *live, *grazed, *flock, *open;
};

static void tally_new(struct tally *tally)
{
    const size_t cells = plan->paddock_count + plan->lane_count;
    *tally = (struct tally){
        calloc(plan->fence_count, sizeof(bool)),
        calloc(plan->fence_count, sizeof(bool)), calloc(cells, sizeof(bool)),
        calloc(cells, sizeof(bool)), calloc(plan->gate_count, sizeof(bool))};
}

static void tally_free(struct tally *tally)
{
    free(tally->stands);
    free(tally->live);
    free(tally->grazed);
    free(tally->flock);
    free(tally->open);
}

/* The first list has become so, and was not; the other one is no more. */
static void turn(struct json_object *day, const char *key, bool *list,
                 size_t count)
{
    struct json_object *pair = NULL;
    if (!json_object_object_get_ex(day, key, &pair))
        return;
    assert_int_equal(json_object_array_length(pair), 2);
    size_t changes = 0;
    for (size_t gone = 0; gone < 2; gone++) {
        struct json_object *of_list = at(pair, gone);
        for (size_t i = 0; i < json_object_array_length(of_list); i++) {
            const size_t one = (size_t)json_object_get_int(at(of_list, i));
            assert_true(one < count && list[one] == (gone == 1));
            list[one] = gone == 0;
            changes++;
        }
    }
    assert_true(changes > 0); /* else the day does not tell of it at all */
}

static void count_step(struct tally *ours, const struct fw_step *step)
{
    for (size_t k = 0; k < step->lines.count; k++) {
        const size_t line = plan->time.items[step->lines.first + k];
        if (step->kind == FW_STEP_SET)
            ours->stands[line] = true;
        if (step->kind == FW_STEP_HOOK)
            ours->live[line] = true;
        if (step->kind != FW_STEP_TAKE_DOWN)
            continue;
        ours->stands[line] = ours->live[line] = false;
        for (size_t g = 0; g < plan->gate_count; g++)
            if (plan->gates[g].fence == line)
                ours->open[g] = false;
    }
    if (step->kind == FW_STEP_OPEN || step->kind == FW_STEP_BRIDGE)
        ours->open[step->opening] = true;
    if (step->kind == FW_STEP_CLOSE)
        ours->open[step->opening] = false;
}

static void count_move(struct tally *ours, size_t m)
{
    const struct fw_move *move = &plan->time.moves[m];
    for (size_t i = 0; i < move->steps.count; i++)
        count_step(ours, step_of(m, i));
    if (move->stay != FW_NONE)
        ours->grazed[plan->time.stays[move->stay].cell] = true;
}

static void same_lists(const struct tally *ours, const struct tally *told,
                       size_t in, const char *day)
{
    for (size_t i = 0; i < plan->fence_count; i++) {
        if (ours->stands[i] != told->stands[i])
            fail_msg("%s: %s stands: %d", day, plan->fences[i].id,
                     told->stands[i]);
        /* All that is set here is fed; dead is what has no volts. */
        if (plan->fences[i].role != FW_FENCE_PERIMETER &&
            (ours->live[i] && plan->fences[i].volts_known &&
             plan->fences[i].open_v > 0) != told->live[i])
            fail_msg("%s: %s is live: %d", day, plan->fences[i].id,
                     told->live[i]);
        if (told->live[i])
            assert_true(plan->fences[i].volts_known &&
                        plan->fences[i].open_v > 0);
    }
    for (size_t i = 0; i < plan->paddock_count; i++) {
        if (ours->grazed[i] != told->grazed[i])
            fail_msg("%s: %s is grazed: %d", day, plan->paddocks[i].id,
                     told->grazed[i]);
        /* With a back fence they have what they are in, and no other one. */
        if (told->flock[i] != (i == in))
            fail_msg("%s: in %s: %d", day, plan->paddocks[i].id,
                     told->flock[i]);
    }
    for (size_t i = 0; i < plan->gate_count; i++)
        if (ours->open[i] != told->open[i])
            fail_msg("%s: %s is open: %d", day, plan->gates[i].id,
                     told->open[i]);
}

static void walk_days(void)
{
    const size_t cells = plan->paddock_count + plan->lane_count;
    struct json_object *root = told_days(), *days = of(root, "days");
    struct tally ours, told;
    size_t next = 0, in = FW_NONE, sides = 0, lanes = 0;
    tally_new(&ours);
    tally_new(&told);
    const int last = plan->time.moves[plan->time.move_count - 1].day;
    assert_int_equal(json_object_array_length(days),
                     last - plan->start_day + 1);
    for (int day = plan->start_day; day <= last; day++) {
        struct json_object *one = at(days, (size_t)(day - plan->start_day));
        char date[FW_DATE_TEXT], words[FW_WORDS];
        is_text(one, "date", fw_date_write(day, date));
        is_text(one, "words", fw_report_day(day, true, words));
        for (;
             next < plan->time.move_count && plan->time.moves[next].day == day;
             next++) {
            count_move(&ours, next);
            in = plan->time.moves[next].stay == FW_NONE
                     ? FW_NONE
                     : plan->time.stays[plan->time.moves[next].stay].cell;
        }
        turn(one, "stands", told.stands, plan->fence_count);
        turn(one, "live", told.live, plan->fence_count);
        turn(one, "grazed", told.grazed, cells);
        turn(one, "flock", told.flock, cells);
        turn(one, "open", told.open, plan->gate_count);
        same_lists(&ours, &told, in, date);
        for (size_t i = 0; i < plan->fence_count; i++)
            sides += told.live[i] && plan->fences[i].role == FW_FENCE_PERIMETER;
        for (size_t i = plan->paddock_count; i < cells; i++)
            lanes += told.grazed[i];
    }
    assert_int_equal(next, plan->time.move_count);
    assert_true(sides > 0);     /* a hot boundary is live */
    assert_int_equal(lanes, 0); /* nobody grazes a lane */
    tally_free(&ours);
    tally_free(&told);
    json_object_put(root);
}

static void the_days_add_up_to_what_the_steps_do(void **state)
{
    (void)state;
    assert_true(plan->back_fence);
    walk_days();
}

/* A line that nothing feeds is not live, nor one whose volts nobody knows. */
static void a_dead_line_is_not_live(void **state)
{
    (void)state;
    size_t moved = 0;
    while (plan->fences[moved].role == FW_FENCE_PERIMETER)
        moved++;
    const struct fw_plan_fence kept = plan->fences[moved];
    assert_true(kept.volts_known && kept.open_v > 0);
    plan->fences[moved].open_v = 0;
    walk_days();
    plan->fences[moved].open_v = 0.5;
    walk_days();
    plan->fences[moved].volts_known = false;
    walk_days();
    plan->fences[moved] = kept;
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(each_move_is_that_of_the_plan),
        cmocka_unit_test(what_is_carried_is_said_as_people_say_it),
        cmocka_unit_test(the_days_add_up_to_what_the_steps_do),
        cmocka_unit_test(a_dead_line_is_not_live),
    };
    return cmocka_run_group_tests(tests, read_sample, free_sample);
}
