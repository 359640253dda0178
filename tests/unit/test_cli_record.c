/* The commands of the days that follow a plan, run as the program runs them:
 * what record writes down and takes back, what water and stockpile answer. */
#include "cli_help.h"
#include "read_back.h"

#include "cli/cli.h"

#include <stdlib.h>

static int set_up(void **state)
{
    return planned_farm(state, "tank: 300 L");
}

/* The lines of the log that tell a day. */
static size_t days_told(void)
{
    size_t count = 0;
    if (access("farm.days.txt", F_OK))
        return 0;
    char *text = whole_file("farm.days.txt");
    for (const char *line = text; *line; line += strcspn(line, "\n") + 1)
        count += !strncmp(line, "2027-", 5);
    free(text);
    return count;
}

static void log_has(const char *words, bool wanted)
{
    char *text = whole_file("farm.days.txt");
    if (!strstr(text, words) == wanted)
        fail_msg("\"%s\" in the log: %d\n%s", words, !wanted, text);
    free(text);
}

static void begin_anew(void)
{
    remove("farm.days.txt");
    remove("farm.now.json");
}

/* ---- record ---- */

/* Each option that says something is in the line of its day. */
static void what_is_said_is_written_down(void **state)
{
    (void)state;
    static const struct {
        const char *option, *written;
    } rows[] = {
        {"--left 7cm", "left 7"},
        {"--bellies hollow", "bellies hollow"},
        {"--minutes 23", "minutes 23"},
        {"--hay 41kg", "hay 41"},
        {"--weather frost", "weather frost"},
        {"--head 38", "head 38"},
        {"--note loose", "loose"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        char words[100];
        begin_anew();
        ends(&cli_record, "record out --quiet", 0, NULL, "");
        assert_int_equal(days_told(), 1);
        log_has(rows[i].written, false);
        snprintf(words, sizeof words, "record out --quiet %s", rows[i].option);
        ends(&cli_record, words, 0, NULL, "");
        assert_int_equal(days_told(), 2);
        log_has(rows[i].written, true);
        log_has("2027-05-17", true);
        log_has("2027-05-18", true);
    }
}

/* What follows from a look is kept beside the log, made of it and of the plan
 * that it began beside. */
static void the_plan_as_it_is_now_lies_beside(void **state)
{
    (void)state;
    begin_anew();
    ends(&cli_record, "record out --quiet", 0, NULL, "");
    ends(&cli_record, "record out --quiet --left 5cm", 0, NULL, "");
    char *now = whole_file("farm.now.json");
    struct json_object *root = parsed(now);
    assert_true(json_object_array_length(of(root, "inputs")) >= 3);
    has_words(now, "farm.days.txt");
    has_words(now, "out/plan.json");
    json_object_put(root);
    free(now);
}

/* The day after the last one; --correct is for the last one itself. */
static void a_day_without_a_date_is_the_next_one(void **state)
{
    (void)state;
    begin_anew();
    ends(&cli_record, "record out --quiet", 0, NULL, "");
    ends(&cli_record, "record out --quiet --left 7cm --json", 0,
         "\"date\": \"2027-05-18\"", "");
    ends(&cli_record, "record out --quiet --correct --left 6cm --json", 0,
         "\"date\": \"2027-05-18\"", "");
    ends(&cli_record, "record out --quiet --missed --json", 0,
         "\"date\": \"2027-05-19\"", "");
    ends(&cli_record, "record out --quiet --date 2027-05-20 --json", 0,
         "\"date\": \"2027-05-20\"", "");
    ends(&cli_record, "record out --date 2027-05-48", 3, "", "2027-05-48");
}

static void the_last_line_is_taken_back(void **state)
{
    (void)state;
    begin_anew();
    ends(&cli_record, "record out --undo", 3, "", "nothing is written down");
    ends(&cli_record, "record out --quiet", 0, NULL, "");
    ends(&cli_record, "record out --quiet --left 7cm", 0, NULL, "");
    ends(&cli_record, "record out --quiet --undo", 0,
         "The last line, of 2027-05-18, is taken back.\n", "");
    struct ran shown = run(&cli_record, "record out --quiet --show");
    assert_int_equal(shown.code, 0);
    has_not(shown.out, "7.0 cm");
    ran_free(&shown);
    /* It is: the next day is that one again. */
    ends(&cli_record, "record out --quiet --left 6cm --json", 0,
         "\"date\": \"2027-05-18\"", "");
}

static void days_are_shown_or_written(void **state)
{
    (void)state;
    begin_anew();
    ends(&cli_record, "record out --quiet", 0, NULL, "");
    ends(&cli_record, "record out --quiet --left 7cm", 0, NULL, "");
    ends(&cli_record, "record out --show", 0, "7.0 cm", "");
    ends(&cli_record, "record out --show -o days.csv", 0, "", "");
    char *text = whole_file("days.csv");
    assert_int_equal(strncmp(text, "date,", 5), 0);
    assert_int_equal(times(text, "\n"), 3);
    has_words(text, "\n2027-05-18,");
    free(text);
    ends(&cli_record, "record out --show -o ground.geojson", 0, "", "");
    text = whole_file("ground.geojson");
    struct json_object *root = parsed(text);
    is_text(root, "type", "FeatureCollection");
    json_object_put(root);
    free(text);
    assert_int_equal(days_told(), 2); /* and nothing is written down */
}

/* A table of days; what is wrong in it is told by its row. */
static void many_days_are_read_from_a_table(void **state)
{
    (void)state;
    begin_anew();
    put_text("week.csv", "date,left\n2027-05-17,\n2027-05-18,7cm\n");
    ends(&cli_record, "record out --days week.csv", 0, NULL,
         "2 days are written down");
    assert_int_equal(days_told(), 2);
    put_text("week.csv", "date,left\n2027-05-19,6cm\n2027-05-18,7cm\n");
    ends(&cli_record, "record out --days week.csv", 3, "", "week.csv:3: ");
    assert_int_equal(days_told(), 2);
}

/* One thing at a time: each of them with each other one, and with each part of
 * a day. */
static void things_that_do_not_go_together_are_refused(void **state)
{
    (void)state;
    static const char *const things[] = {"--undo",
                                         "--show",
                                         "--days week.csv",
                                         "--correct",
                                         "--date 2027-05-18",
                                         "--left 7cm",
                                         "--bellies full",
                                         "--open-v 5kV",
                                         "--head 40",
                                         "--flock a",
                                         "--fence 1,1",
                                         "--minutes 3",
                                         "--hay 3kg",
                                         "--missed",
                                         "--weather wet",
                                         "--note a"};
    begin_anew();
    for (size_t i = 0; i < 3; i++)
        for (size_t k = i + 1; k < sizeof things / sizeof *things; k++) {
            char words[100];
            snprintf(words, sizeof words, "record out %s %s", things[i],
                     things[k]);
            ends(&cli_record, words, 2, "", "and nothing beside");
        }
    ends(&cli_record, "record out -o days.csv", 2, "", "-o goes with --show");
    ends(&cli_record, "record out --show -o days.txt", 2, "",
         "ends in .csv, .svg or .geojson");
    ends(&cli_record, "record", 2, "", NULL);
    ends(&cli_record, "record nowhere", 3, "", "nowhere: no such file");
    ends(&cli_record, "record field.geojson", 2, "",
         "\"field.geojson\" is no plan");
    assert_int_equal(days_told(), 0);
}

/* ---- water, the winter's grass, the plan's data alone ---- */

static void water_takes_so_many_points(void **state)
{
    (void)state;
    ends(&cli_water, "water out", 0, "trips", NULL);
    ends(&cli_water, "water out --points 1", 0, "\n1 point ", NULL);
    ends(&cli_water, "water out --points 10", 0, "\n10 points ", NULL);
    ends(&cli_water, "water out --points 16", 0, NULL, NULL);
    ends(&cli_water, "water out --points 0", 2, "", "1 to 16");
    ends(&cli_water, "water out --points 17", 2, "", "1 to 16");
    ends(&cli_water, "water out --points 3x", 2, "", "1 to 16");
    ends(&cli_water, "water out --by nonsense", 2, "",
         "walk, mean-walk or minutes");
}

/* 300 m, 19 L a minute, 1 m lower: what is lost is less than the fall in a pipe
 * wide enough. */
static void a_pipe_is_reckoned_by_itself(void **state)
{
    (void)state;
    ends(&cli_water, "water --pipe 300m --bore 40mm --flow 19L/min --fall 5m",
         0, "L/min", NULL);
    ends(&cli_water, "water --pipe 300m --bore 40mm", 2, "", "--flow");
    ends(&cli_water, "water --bore 40mm", 2, "", NULL);
}

static void the_winters_grass_is_told(void **state)
{
    (void)state;
    char words[4096];
    snprintf(words, sizeof words, "stockpile %s/winter-halves/farm.yaml",
             getenv("FW_SAMPLES"));
    ends(&cli_stockpile, words, 0, "the winter's grass", NULL);
    strcat(words, " --json");
    struct ran ran = run(&cli_stockpile, words);
    assert_int_equal(ran.code, 0);
    struct json_object *root = parsed(ran.out);
    json_object_put(root);
    ran_free(&ran);
    ends(&cli_stockpile, "stockpile farm.yaml", 3, "", NULL);
    ends(&cli_stockpile, "stockpile", 2, "", NULL);
}

static void the_data_alone_are_the_data_alone(void **state)
{
    (void)state;
    assert_false(exists("out/map.html") || exists("out/sheet.pdf"));
    assert_true(exists("out/plan.json") && exists("out/moves.csv"));
    ends(&cli_plan_command, "plan --quiet farm.yaml -o whole", 0, NULL, NULL);
    assert_true(exists("whole/map.html"));
    ends(&cli_plan_command, "plan --quiet farm.yaml -o - --format json", 0,
         "\"paddocks\"", "");
    ends(&cli_move, "move out -o -", 0, "%PDF-", "");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(what_is_said_is_written_down),
        cmocka_unit_test(the_plan_as_it_is_now_lies_beside),
        cmocka_unit_test(a_day_without_a_date_is_the_next_one),
        cmocka_unit_test(the_last_line_is_taken_back),
        cmocka_unit_test(days_are_shown_or_written),
        cmocka_unit_test(many_days_are_read_from_a_table),
        cmocka_unit_test(things_that_do_not_go_together_are_refused),
        cmocka_unit_test(water_takes_so_many_points),
        cmocka_unit_test(a_pipe_is_reckoned_by_itself),
        cmocka_unit_test(the_winters_grass_is_told),
        cmocka_unit_test(the_data_alone_are_the_data_alone),
    };
    return cmocka_run_group_tests(tests, set_up, farm_tear_down);
}
