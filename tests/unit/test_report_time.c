/* Moves and steps of a plan made by hand, in the words of cards and files. */
#include "plan/words.h"
#include "plan_by_hand.h"

#include "export/export.h"
#include "report/report.h"
#include "store/store.h"

#include <json-c/json.h>
#include <stdlib.h>
#include <string.h>

static char *card_of(const struct fw_plan *plan, size_t move)
{
    struct fw_error err;
    char *text = NULL;
    if (fw_report_move(plan, move, 0, &text, &err))
        fail_msg("%s", err.text);
    /* Folded lines are one again, so that words are found in them. */
    for (char *at = text; (at = strstr(at, "\n    "));) {
        char *rest = at + strspn(at + 1, " ") + 1;
        *at = ' ';
        memmove(at + 1, rest, strlen(rest) + 1);
    }
    return text;
}

static void says(const struct fw_plan *plan, size_t move, const char *words)
{
    char *text = card_of(plan, move);
    if (!strstr(text, words))
        fail_msg("no \"%s\" in:\n%s", words, text);
    fw_bytes_free(text);
}

static void each_kind_of_step_has_its_words(void **state)
{
    (void)state;
    struct fw_plan plan = by_hand();
    says(&plan, 0,
         " 3  Read the tester at each B, held between an earth strand and a "
         "hot one: A01-02 ");
    plan.power.earth_return = false;
    says(&plan, 0, " 1  Set the fence A01-02 from A to B: bearing 44");
    says(&plan, 0, "Set the block line A-line-1 from A to B");
    says(&plan, 0, " 2  Hook ");
    says(&plan, 0, " 3  Read the tester at each B: ");
    says(&plan, 0, " 4  Move water and mineral into A01.");
    says(&plan, 0, " 5  Open the gate of Low \"meadow\".");
    says(&plan, 0, " 6  Walk them into A01.");
    says(&plan, 0, " 7  Count them through: 90.");
    says(&plan, 0, " 8  Close the gate of Low \"meadow\".");
    says(&plan, 0, "Overnight A02 is fenced ahead.");
    says(&plan, 1,
         " 1  Unhook A01-02 at A (both ends of each wire) and read the tester "
         "on it: dead.");
    says(&plan, 1,
         "the gap is C, and let them into A02. Until it is hooked "
         "on again the block line A-line-1 is dead too: be quick.");
    says(&plan, 1,
         " 2  Leave them to it. A second visit, when they have all come "
         "over: walk A01 to its far end");
    says(&plan, 1,
         " 4  Leave C open, with an insulated lead on the ground from wire to "
         "wire across the gap; hook A01-02 on again at A (both ends of each "
         "wire)");
    says(&plan, 1, "Set the lane fence A-side-lane");
    says(&plan, 2, "over 43 ft of ungrazed grass (A01, A02), close together");
    says(&plan, 2,
         "Close C, hook A-line-1 on again at A (both ends of each wire)");
    says(&plan, 3, "Undo its other end B and carry that back");
    says(&plan, 3,
         "Take down all that stands in Low \"meadow\", each dead "
         "first: B-front.");
}

/* A handle is put in when the line is set, and told there. */
static void a_joint_is_told_where_the_line_is_set(void **state)
{
    (void)state;
    const struct fw_plan plan = by_hand();
    /* (77.5 - 4.75 / 2) / 0.8125 */
    says(&plan, 0, "Put an insulated handle into each strand 92 paces from A");
    says(&plan, 2, "Undo the handles 92 paces from A and carry them back");
}

static void ground_is_told_where_the_line_is_set(void **state)
{
    (void)state;
    const struct fw_plan plan = by_hand();
    says(&plan, 0,
         "Crosses hard going Mill ditch 2 times: 4 posts and 3.5 "
         "minutes more.");
}

/* ---- for machines ---- */

static struct json_object *list_of(const char *text, const char *key)
{
    struct json_object *root = json_tokener_parse(text), *list = NULL;
    assert_non_null(root);
    assert_true(json_object_object_get_ex(root, key, &list));
    json_object_get(list);
    json_object_put(root);
    return list;
}

static const char *word_of(struct json_object *list, size_t i)
{
    return json_object_get_string(
        json_object_object_get(json_object_array_get_idx(list, i), "step"));
}

/* In plan.json a step is a row of values, its word the first. */
static const char *first_of(struct json_object *list, size_t i)
{
    return json_object_get_string(
        json_object_array_get_idx(json_object_array_get_idx(list, i), 0));
}

static void a_step_has_the_same_word_everywhere(void **state)
{
    (void)state;
    const struct fw_plan plan = by_hand();
    struct fw_error err;
    char *text = NULL;
    size_t count;
    assert_int_equal(fw_plan_json_write(&plan, NULL, 0, &text, &count, &err),
                     FW_OK);
    struct json_object *all = list_of(text, "steps");
    fw_bytes_free(text);
    for (size_t m = 0; m < plan.time.move_count; m++) {
        const struct fw_list of = plan.time.moves[m].steps;
        assert_int_equal(fw_report_move_json(&plan, m, &text, &err), FW_OK);
        struct json_object *own = list_of(text, "steps");
        fw_bytes_free(text);
        assert_int_equal(json_object_array_length(own), of.count);
        for (size_t i = 0; i < of.count; i++) {
            assert_string_equal(word_of(own, i), first_of(all, of.first + i));
            assert_string_equal(
                word_of(own, i),
                fw_plan__step_words[plan.time.steps[of.first + i].kind]);
        }
        json_object_put(own);
    }
    json_object_put(all);
}

static char *moves_csv(const struct fw_plan *plan)
{
    struct fw_error err;
    char *text = NULL;
    size_t count;
    assert_int_equal(fw_report_moves_csv(plan, &text, &count, &err), FW_OK);
    return text;
}

static void a_row_of_moves_tells_what_is_done(void **state)
{
    (void)state;
    const struct fw_plan plan = by_hand();
    char *text = moves_csv(&plan);
    assert_non_null(strstr(text,
                           "\n2026-05-05,\"Low \"\"meadow\"\"\",A01,A02,1,0,0,"
                           "A-side-lane,313.5,90.5,190.5,12,6,"));
    assert_non_null(strstr(
        text, ",opening A02,,open opening A02;later;count;bridge opening "
              "A02;set A-side-lane;hook A-side-lane;read "
              "A-side-lane,6.5,,,,,,,0,0,,\r\n"));
    assert_non_null(strstr(text, ",gate B;way out A01,A01-02;A-line-1,"));
    assert_non_null(
        strstr(text, "take-down A01-02+A-line-1,7.5,trough A01,123.5,234.75,"
                     "25.45584412271571,,,0,0,,\r\n"));
    fw_bytes_free(text);
}

/* A line may be set in the field that is left; the numbers of the corners are
 * those of its own field, not of the one that is entered. */
static void corners_are_those_of_the_lines_own_field(void **state)
{
    (void)state;
    struct fw_plan plan = by_hand();
    struct fw_step changed[sizeof steps / sizeof *steps];
    memcpy(changed, steps, sizeof steps);
    changed[21].kind = FW_STEP_SET; /* of the move into the second field */
    changed[21].lines = (struct fw_list){2, 1};
    plan.time.steps = changed;
    char *text = moves_csv(&plan);
    assert_non_null(strstr(text, ",B01,1,0,0,A-side-lane,313.5,90.5,190.5,12,6,"
                                 "0,9,18,7,,19,"));
    fw_bytes_free(text);
}

/* Runs on either side of a pond part the same two paddocks: one pace is what
 * all of them are worth, on the card and in the file. */
static void a_pace_is_worth_what_all_its_runs_are(void **state)
{
    (void)state;
    struct fw_plan plan = by_hand();
    struct fw_plan_fence changed[sizeof fences / sizeof *fences];
    memcpy(changed, fences, sizeof fences);
    changed[2].pace_share = 0.0625;
    plan.fences = changed;
    says(&plan, 0, "One pace more or less along both sides is 9 % of a day's");
    char *text = moves_csv(&plan);
    assert_non_null(strstr(text, ",0.09375,gate A,"));
    fw_bytes_free(text);
}

/* ---- what a plan that was read may not tell ---- */

static void what_is_not_told_is_said_so(void **state)
{
    (void)state;
    struct fw_plan plan = by_hand();
    struct fw_error err = {0};
    char *text = NULL;
    plan.energizer.rule_source = plan.energizer.volt_source = NULL;
    plan.intake_source = NULL;
    plan.power_day_count = 0; /* a plan by hand has no ground to reckon on */
    if (fw_report_power(&plan, NULL, power_days, &text, &err))
        fail_msg("%s", err.text);
    assert_non_null(strstr(text, "J of output (the plan)"));
    assert_null(strstr(text, "null"));
    fw_bytes_free(text);
    if (fw_report_text(&plan, FW_REPORT_ALL, &text, &err))
        fail_msg("%s", err.text);
    assert_null(strstr(text, "null"));
    fw_bytes_free(text);
}

/* The second field has no coordinate system of its own. */
static void a_field_without_crs_is_placed_by_lon_and_lat(void **state)
{
    (void)state;
    const struct fw_plan plan = by_hand();
    struct fw_table tables[FW_REPORT_LAYERS];
    struct fw_error err = {0};
    if (fw_report_tables(&plan, "OGC:CRS84", tables, &err))
        fail_msg("%s", err.text);
    assert_near(tables[0].rows[1].points[0].x, 10.1, 1e-12);
    assert_near(tables[0].rows[1].points[0].y, 46.1, 1e-12);
    for (size_t i = 0; i < FW_REPORT_LAYERS; i++)
        fw_table_release(&tables[i]);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(each_kind_of_step_has_its_words),
        cmocka_unit_test(a_joint_is_told_where_the_line_is_set),
        cmocka_unit_test(ground_is_told_where_the_line_is_set),
        cmocka_unit_test(a_step_has_the_same_word_everywhere),
        cmocka_unit_test(a_row_of_moves_tells_what_is_done),
        cmocka_unit_test(corners_are_those_of_the_lines_own_field),
        cmocka_unit_test(a_pace_is_worth_what_all_its_runs_are),
        cmocka_unit_test(what_is_not_told_is_said_so),
        cmocka_unit_test(a_field_without_crs_is_placed_by_lon_and_lat),
    };
    return cmocka_run_group_tests_name("report_time", tests, NULL, NULL);
}
