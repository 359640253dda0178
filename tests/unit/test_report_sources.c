/* The printed register against the register. */
#include "test.h"

#include "flock/flock.h"
#include "report/reports.h"
#include "safety/safety.h"
#include <foldwright/foldwright.h>
#include <json-c/json.h>
#include <string.h>
#include <strings.h>

static bool holds(const char *text, const char *word)
{
    for (; *text; text++)
        if (strncasecmp(text, word, strlen(word)) == 0)
            return true;
    return false;
}

static bool wanted(const struct fw_figure *row, const char *word)
{
    return holds(row->name, word) || holds(row->what, word) ||
           holds(row->source, word) || holds(row->subject, word) ||
           holds(fw_figures_mark(row->mark), word) ||
           (row->word && holds(row->word, word));
}

static struct json_object *printed(const char *const *words, size_t count)
{
    char *text = NULL;
    assert_int_equal(fw_report_sources_json(words, count, &text, NULL), FW_OK);
    struct json_object *list = json_tokener_parse(text);
    assert_non_null(list);
    fw_bytes_free(text);
    return list;
}

static const char *member(struct json_object *row, const char *key)
{
    struct json_object *value = NULL;
    if (!json_object_object_get_ex(row, key, &value))
        fail_msg("a row has no %s", key);
    return json_object_get_string(value);
}

/* With a word, just the rows that hold it; with two, those that hold both. */
static void words_pick_their_rows(void **state)
{
    (void)state;
    const char *const words[] = {"corner post", "NRCS Maine", "our own",
                                 "work."};
    size_t count;
    const struct fw_figure *rows = fw_figures(&count);
    for (size_t a = 0; a < sizeof words / sizeof *words; a++)
        for (size_t b = 0; b < 2; b++) {
            const char *const both[] = {words[a], "a"};
            struct json_object *list = printed(both, 1 + b);
            size_t found = 0;
            for (size_t i = 0; i < count; i++) {
                if (!wanted(&rows[i], both[0]) ||
                    (b && !wanted(&rows[i], both[1])))
                    continue;
                struct json_object *row =
                    json_object_array_get_idx(list, found++);
                assert_string_equal(member(row, "name"), rows[i].name);
                assert_string_equal(member(row, "source"), rows[i].source);
            }
            assert_true(found > 0);
            assert_int_equal(json_object_array_length(list), found);
            json_object_put(list);
        }
}

static struct json_object *row_named(struct json_object *list, const char *name)
{
    struct json_object *found = NULL;
    for (size_t i = 0; i < json_object_array_length(list); i++) {
        struct json_object *row = json_object_array_get_idx(list, i);
        if (strcmp(member(row, "name"), name) == 0) {
            assert_null(found);
            found = row;
        }
    }
    if (!found)
        fail_msg("no row is called %s", name);
    return found;
}

/* Tables whose rows have a source each are printed too, and nothing else. */
static void tables_of_subjects_are_in_it(void **state)
{
    (void)state;
    size_t count, rule_count, extra = 0;
    fw_figures(&count);
    struct json_object *list = printed(NULL, 0), *values;
    for (int i = 0; i < FW_STATE_COUNT; i++, extra++) {
        const struct fw_intake_row *intake = fw_flock_row((enum fw_state)i);
        char name[64];
        snprintf(name, sizeof name, "intake.%s", fw_flock_state_words[i]);
        struct json_object *row = row_named(list, name);
        assert_string_equal(member(row, "subject"), "flock");
        assert_string_equal(member(row, "source"), intake->source);
        assert_true(json_object_object_get_ex(row, "values", &values));
        assert_int_equal(json_object_array_length(values), intake->points);
        for (int k = 0; k < intake->points; k++)
            assert_near(json_object_get_double(
                            json_object_array_get_idx(values, (size_t)k)),
                        intake->intake_kg[k], 0);
    }
    assert_string_equal(member(row_named(list, "intake.dry"), "mark"),
                        "published");
    assert_string_equal(member(row_named(list, "intake.ram"), "mark"),
                        "common practice");
    const struct fw_safety_rule *rules = fw_safety_rules(&rule_count);
    for (size_t i = 0; i < rule_count; i++) {
        char name[64];
        snprintf(name, sizeof name, "safety.%s.distance", rules[i].id);
        extra += (size_t)(rules[i].wanted_m > 0) + (rules[i].least_m > 0) +
                 (rules[i].sign_interval_m > 0) +
                 (rules[i].most_deg > 0 && rules[i].most_deg < 90);
        if (rules[i].wanted_m > 0) {
            assert_true(json_object_object_get_ex(row_named(list, name),
                                                  "value", &values));
            assert_near(json_object_get_double(values), rules[i].wanted_m, 0);
        }
    }
    assert_int_equal(json_object_array_length(list), count + extra);
    /* Annex BB has the metres; the angle is our own. */
    assert_string_equal(
        member(row_named(list, "safety.power-line-low.distance"), "mark"),
        "published");
    assert_string_equal(
        member(row_named(list, "safety.power-line-slant.angle"), "mark"),
        "common practice");
    /* The EFA code has the gap between signs, nobody how near a road is. */
    assert_string_equal(
        member(row_named(list, "safety.road-near.signs"), "mark"), "published");
    assert_string_equal(
        member(row_named(list, "safety.road-near.distance"), "mark"),
        "common practice");
    json_object_put(list);
}

static void machines_get_the_same_numbers(void **state)
{
    (void)state;
    size_t count;
    const struct fw_figure *rows = fw_figures(&count);
    struct json_object *list = printed(NULL, 0);
    for (size_t i = 0; i < count; i++) {
        struct json_object *row = row_named(list, rows[i].name), *value;
        if (rows[i].word) {
            assert_string_equal(member(row, "word"), rows[i].word);
        } else if (rows[i].points) {
            assert_true(json_object_object_get_ex(row, "values", &value));
            assert_int_equal(json_object_array_length(value), rows[i].points);
            for (int k = 0; k < rows[i].points; k++)
                assert_near(json_object_get_double(
                                json_object_array_get_idx(value, (size_t)k)),
                            rows[i].values[k], 0);
        } else {
            assert_true(json_object_object_get_ex(row, "value", &value));
            assert_near(json_object_get_double(value), rows[i].value, 0);
        }
    }
    json_object_put(list);
}

/* What people read has each name, and each line fits a page. */
static void people_get_every_row(void **state)
{
    (void)state;
    size_t count;
    const struct fw_figure *rows = fw_figures(&count);
    char *text = NULL;
    assert_int_equal(fw_report_sources(NULL, 0, &text, NULL), FW_OK);
    for (size_t i = 0; i < count; i++) {
        char head[96];
        snprintf(head, sizeof head, "\n%s: ", rows[i].name);
        if (!strstr(text, head))
            fail_msg("%s is not printed", rows[i].name);
    }
    for (const char *line = text; line; line = strchr(line + 1, '\n'))
        if (strcspn(line + 1, "\n") > 78)
            fail_msg("over 78 columns: %.90s", line + 1);
    fw_bytes_free(text);
}

static void a_word_that_no_row_has_is_refused(void **state)
{
    (void)state;
    const char *const words[] = {"post", "zebra"};
    char *text = NULL;
    struct fw_error err = {0};
    assert_int_equal(fw_report_sources(words, 2, &text, &err), FW_EINPUT);
    assert_non_null(strstr(err.text, "\"post\" and \"zebra\""));
    assert_int_equal(fw_report_sources_json(words, 2, &text, &err), FW_EINPUT);
    assert_null(text);
}

/* A farm file's key that names a figure has the register's range. */
static void keys_say_so(void **state)
{
    (void)state;
    const char *const word = "fence.post-gap";
    struct json_object *list = printed(&word, 1), *value = NULL;
    for (size_t i = 0; i < json_object_array_length(list); i++) {
        struct json_object *row = json_object_array_get_idx(list, i);
        if (strcmp(member(row, "name"), word) != 0)
            continue;
        assert_string_equal(member(row, "option"), "--post-gap");
        assert_true(json_object_object_get_ex(row, "farm_key", &value));
        assert_true(json_object_get_boolean(value));
    }
    assert_non_null(value);
    json_object_put(list);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(words_pick_their_rows),
        cmocka_unit_test(tables_of_subjects_are_in_it),
        cmocka_unit_test(machines_get_the_same_numbers),
        cmocka_unit_test(people_get_every_row),
        cmocka_unit_test(a_word_that_no_row_has_is_refused),
        cmocka_unit_test(keys_say_so),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
