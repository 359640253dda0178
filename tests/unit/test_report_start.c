/* A farm file to begin with: what it asks is read by the table of keys, its
 * examples make a plan, what was told stands there, and a name is a name. */
#include "test.h"

#include "io/io.h"
#include "keys/keys.h"
#include "make/make.h"
#include "start/start.h"
#include <foldwright/told.h>

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

static const char *map_path(void)
{
    static char path[4096];
    snprintf(path, sizeof path, "%s/three-fields/fields.geojson",
             getenv("FW_SAMPLES"));
    return path;
}

/* The fields alone, the first only where `one`. */
static struct fw_farm *fields_of(bool one, enum fw_units units)
{
    struct fw_error err;
    struct fw_farm *farm = NULL;
    const char *source = map_path();
    const struct fw_farm_setting settings[] = {
        {"fields.name", "title", "--field"},
        {"fields.only", "Tammik", "--only"}};
    const struct fw_farm_request request = {.field_sources = &source,
                                            .field_source_count = 1,
                                            .settings = settings,
                                            .setting_count = one ? 2 : 1,
                                            .fields_only = true};
    if (fw_farm_read(&request, &farm, NULL, NULL, &err))
        fail_msg("%s", err.text);
    farm->units = units;
    return farm;
}

static char *begun(const struct fw_farm *farm,
                   const struct fw_farm_setting *told, size_t count)
{
    struct fw_error err;
    char *text = NULL;
    const struct fw_start start = {.farm = farm,
                                   .source = map_path(),
                                   .path = "hill.yaml",
                                   .told = told,
                                   .told_count = count};
    if (fw_start_write(&start, &text, &err))
        fail_msg("%s", err.text);
    return text;
}

/* Every line that waits, answered by its example. */
static void answer(char *text)
{
    const size_t length = strlen(FW_START_MARK);
    for (char *at = strstr(text, FW_START_MARK); at;
         at = strstr(at, FW_START_MARK))
        memmove(at, at + length, strlen(at + length) + 1);
}

static struct fw_farm *farm_of(const char *text, bool fields_only)
{
    char path[] = "/tmp/fw-start-XXXXXX";
    const int descriptor = mkstemp(path);
    assert_true(descriptor >= 0);
    assert_int_equal(write(descriptor, text, strlen(text)), strlen(text));
    close(descriptor);
    struct fw_error err;
    struct fw_farm *farm = NULL;
    const struct fw_farm_request request = {.farm_path = path,
                                            .fields_only = fields_only};
    const enum fw_status status =
        fw_farm_read(&request, &farm, NULL, NULL, &err);
    unlink(path);
    if (status)
        fail_msg("%s\n%s", err.text, text);
    return farm;
}

static void all_that_is_asked_is_a_key(void **state)
{
    (void)state;
    size_t count, key_count;
    const struct fw_start_ask *asks = fw_start_asks(&count);
    const struct fw_farm_key *keys = fw_farm_keys(&key_count);
    for (size_t i = 0; i < count; i++) {
        bool found = false;
        for (size_t k = 0; k < key_count; k++)
            found |= strcmp(asks[i].path, keys[k].path) == 0;
        if (!found)
            fail_msg("%s is no key", asks[i].path);
        for (size_t k = 0; k < i; k++)
            assert_string_not_equal(asks[i].path, asks[k].path);
    }
}

static void unanswered_it_is_a_farm_file_with_its_fields(void **state)
{
    (void)state;
    for (int one = 0; one < 2; one++) {
        struct fw_farm *farm = fields_of(one, FW_METRIC);
        char *text = begun(farm, NULL, 0);
        if (one) { /* as the command was told it */
            fw_bytes_free(text);
            const struct fw_farm_setting told[] = {
                {"fields.name", "title", "--field"},
                {"fields.only", "Tammik", "--only"}};
            text = begun(farm, told, 2);
        }
        struct fw_farm *read = farm_of(text, true);
        assert_int_equal(read->field_count, farm->field_count);
        assert_int_equal(read->class_count, 0);
        fw_farm_free(read);
        fw_bytes_free(text);
        fw_farm_free(farm);
    }
}

/* Lines of remarks as one: "# weight: live weight ... Else". */
static char *remarks_of(const char *text)
{
    char *all = calloc(strlen(text) + 1, 1);
    size_t length = 0;
    assert_non_null(all);
    for (const char *line = text; *line; line += strcspn(line, "\n") + 1) {
        const size_t count = strcspn(line, "\n");
        if (line[0] != '#' || (line[1] != ' ' && line[1] != '\n'))
            continue;
        const size_t blanks = 1 + strspn(line + 1, " ");
        if (blanks < count) {
            memcpy(all + length, line + blanks, count - blanks);
            length += count - blanks;
            all[length++] = ' ';
        }
    }
    return all;
}

/* What each question is, and how to find its answer out, stands there in lines
 * of 79 letters at most. */
static void how_to_find_it_out_stands_above_each_line(void **state)
{
    (void)state;
    size_t count;
    const struct fw_start_ask *asks = fw_start_asks(&count);
    struct fw_farm *farm = fields_of(true, FW_METRIC);
    char *text = begun(farm, NULL, 0), *remarks = remarks_of(text);
    for (size_t i = 0; i < count; i++) {
        const size_t plain = strcspn(asks[i].how, "{");
        char how[400];
        snprintf(how, sizeof how, "%.*s", (int)plain, asks[i].how);
        if (!strstr(remarks, how))
            fail_msg("%s: \"%s\" is not in:\n%s", asks[i].path, how, remarks);
    }
    for (const char *line = text; *line; line += strcspn(line, "\n") + 1)
        if (line[0] == '#' && line[1] == ' ')
            assert_true(strcspn(line, "\n") <= 79);
    free(remarks);
    fw_bytes_free(text);
    fw_farm_free(farm);
}

static void its_examples_make_a_plan_in_either_unit(void **state)
{
    (void)state;
    static const struct fw_farm_setting told[] = {
        {"fields.name", "title", "--field"},
        {"fields.only", "Tammik", "--only"}};
    for (int one = 0; one < 2; one++)
        for (int units = FW_METRIC; units <= FW_US; units++) {
            struct fw_error err;
            struct fw_plan *plan = NULL;
            struct fw_farm *farm = fields_of(one, (enum fw_units)units);
            char *text = begun(farm, told, one ? 2 : 1);
            answer(text);
            struct fw_farm *read = farm_of(text, false);
            assert_int_equal(read->units, units);
            assert_near(read->classes[0].weight_kg,
                        units == FW_US ? 140 * 0.45359237 : 62, 1e-9);
            assert_true(read->fields[0].gate.given);
            if (fw_plan_make(read, &plan, &err))
                fail_msg("%s", err.text);
            assert_true(plan->paddock_count > 0);
            fw_plan_free(plan);
            fw_farm_free(read);
            fw_bytes_free(text);
            fw_farm_free(farm);
        }
}

static void what_was_told_stands_there(void **state)
{
    (void)state;
    static const struct fw_farm_setting told[] = {
        {"fields.name", "title", "--field"},
        {"fields.only", "Tammik", "--only"},
        {"flock[].head", "70", "--head"},
        {"flock[].head", "75", "--head"},
        {"flock[].weight", "150 lb", "--weight"},
        {"fence.strands", "3", "--strands"},
        {"work.order", "set-first", "--work"},
        {"season", "dormant", "--season"}};
    struct fw_farm *farm = fields_of(true, FW_METRIC);
    char *text = begun(farm, told, sizeof told / sizeof *told);
    assert_non_null(strstr(text, "\n# Add to the line below: state: dry, "
                                 "trained: yes\nflock: [{head: 75, weight: 150 "
                                 "lb}]\n"));
    answer(text);
    char *add = strstr(text, "flock: [{head: 75, weight: 150 lb}]");
    char *whole = calloc(strlen(text) + 64, 1);
    assert_non_null(whole);
    sprintf(whole, "%.*sflock: [{head: 75, weight: 150 lb, state: dry}]%s",
            (int)(add - text), text,
            add + strlen("flock: [{head: 75, weight: 150 lb}]"));
    struct fw_farm *read = farm_of(whole, false);
    assert_int_equal(read->classes[0].head, 75);
    assert_near(read->classes[0].weight_kg, 150 * 0.45359237, 1e-9);
    assert_int_equal(read->moved.strands, 3);
    assert_int_equal(read->work_order, FW_WORK_SET_FIRST);
    assert_int_equal(read->season, FW_SEASON_DORMANT);
    fw_farm_free(read);
    free(whole);
    fw_bytes_free(text);
    fw_farm_free(farm);
}

static void a_name_that_yaml_would_read_is_a_name(void **state)
{
    (void)state;
    static const char *const names[] = {
        "yes: {no}", "- a", "#? start: 2026-01-01", "\"'\\", "a\nunits: us",
        "[x]",       "a #b"};
    for (size_t i = 0; i < sizeof names / sizeof *names; i++) {
        struct fw_farm *farm = fields_of(false, FW_METRIC);
        char *old = farm->fields[1].shape->name;
        char name[64];
        snprintf(name, sizeof name, "%s", names[i]);
        farm->fields[1].shape->name = name;
        char *text = begun(farm, NULL, 0);
        farm->fields[1].shape->name = old;
        /* No field has that name: it is refused by it, and by nothing else. */
        char path[] = "/tmp/fw-start-XXXXXX";
        const int descriptor = mkstemp(path);
        assert_int_equal(write(descriptor, text, strlen(text)), strlen(text));
        close(descriptor);
        struct fw_error err;
        struct fw_farm *read = NULL;
        const struct fw_farm_request request = {.farm_path = path,
                                                .fields_only = true};
        assert_int_equal(fw_farm_read(&request, &read, NULL, NULL, &err),
                         FW_EINPUT);
        unlink(path);
        if (!strstr(err.text, "fields.each[") || strstr(err.text, "not YAML"))
            fail_msg("%s: %s", names[i], err.text);
        fw_bytes_free(text);
        fw_farm_free(farm);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(all_that_is_asked_is_a_key),
        cmocka_unit_test(unanswered_it_is_a_farm_file_with_its_fields),
        cmocka_unit_test(how_to_find_it_out_stands_above_each_line),
        cmocka_unit_test(its_examples_make_a_plan_in_either_unit),
        cmocka_unit_test(what_was_told_stands_there),
        cmocka_unit_test(a_name_that_yaml_would_read_is_a_name),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
