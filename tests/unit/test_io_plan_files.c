/* plan.json among the other files of its plan: one set, half of one, or files
 * of two plans. */
#include "io/io.h"
#include "io/put.h"
#include "plan_on_earth.h"
#include "scratch.h"
#include "store/store.h"

/* A plan by hand in the scratch folder that lists one file of "abc". */
static void put_listing(const struct scratch *scratch, const char *name)
{
    struct fw_plan plan = by_hand_on_earth();
    plan.inputs = (struct fw_inputs){0};
    struct fw_plan_file file = {"", 3, fw_file_crc32("abc", 3)};
    snprintf(file.name, sizeof file.name, "%s", name);
    char *bytes = NULL;
    size_t count = 0;
    assert_int_equal(fw_plan_json_write(&plan, &file, 1, &bytes, &count, NULL),
                     FW_OK);
    put_text(in_scratch(scratch, "plan.json"), bytes);
    fw_bytes_free(bytes);
}

/* The notes, one a line: "where: text". */
static void read_noting(const char *path, char said[4096])
{
    struct fw_plan *back = NULL;
    struct fw_notes found = {0};
    struct fw_error err = {0};
    if (fw_plan_json_read(path, &back, &found, &err))
        fail_msg("%s", err.text);
    size_t length = 0;
    said[0] = '\0';
    for (size_t i = 0; i < found.count; i++)
        length += (size_t)snprintf(said + length, 4096 - length, "%s: %s\n",
                                   found.items[i].where, found.items[i].text);
    fw_notes_release(&found);
    fw_plan_free(back);
}

static void refuses_naming(const char *path, const char *name,
                           const char *expected)
{
    struct fw_plan *back = NULL;
    struct fw_notes said = {0};
    struct fw_error err = {0};
    assert_int_equal(fw_plan_json_read(path, &back, &said, &err), FW_EINPUT);
    assert_null(back);
    if (!strstr(err.text, name) || !strstr(err.text, expected))
        fail_msg("\"%s\" does not tell of %s \"%s\"", err.text, name, expected);
    fw_notes_release(&said);
}

static void file_of_another_plan_is_refused_by_name(void **state)
{
    struct scratch *scratch = *state;
    char said[4096];
    put_listing(scratch, "moves.csv");
    put_text(in_scratch(scratch, "moves.csv"), "abc");
    read_noting(scratch->path, said);
    assert_string_equal(said, "");
    put_text(in_scratch(scratch, "moves.csv"), "abd");
    refuses_naming(scratch->path, "/moves.csv", "is of another plan");
    put_text(in_scratch(scratch, "moves.csv"), "abcd");
    refuses_naming(scratch->path, "/moves.csv", "is of another plan");
    put_text(in_scratch(scratch, "moves.csv"), "ab");
    refuses_naming(scratch->path, "/moves.csv", "is of another plan");
    /* who wants the plan alone may have it */
    struct fw_plan *back = NULL;
    assert_int_equal(fw_plan_json_read(scratch->path, &back, NULL, NULL),
                     FW_OK);
    fw_plan_free(back);
}

static void missing_file_and_one_that_a_gis_changed_are_noted(void **state)
{
    struct scratch *scratch = *state;
    char said[4096];
    put_listing(scratch, "moves.csv");
    read_noting(scratch->path, said);
    assert_non_null(strstr(said, "/moves.csv: is missing"));
    put_listing(scratch, "plan.gpkg");
    put_text(in_scratch(scratch, "plan.gpkg"), "abd");
    read_noting(scratch->path, said);
    assert_non_null(strstr(said, "/plan.gpkg: is not as it was written"));
}

/* What a plan was made from is looked at as well, from where the plan is. */
static void input_that_has_changed_is_noted(void **state)
{
    struct scratch *scratch = *state;
    char said[4096], name[] = "farm.yaml";
    struct fw_plan plan = by_hand_on_earth();
    struct fw_input input = {.path = name,
                             .known = true,
                             .size = 3,
                             .crc32 = fw_file_crc32("abc", 3)};
    plan.inputs = (struct fw_inputs){.items = &input, .count = 1};
    char *bytes = NULL;
    size_t count = 0;
    assert_int_equal(fw_plan_json_write(&plan, NULL, 0, &bytes, &count, NULL),
                     FW_OK);
    put_text(in_scratch(scratch, "plan.json"), bytes);
    fw_bytes_free(bytes);
    put_text(in_scratch(scratch, name), "abc");
    read_noting(scratch->path, said);
    assert_string_equal(said, "");
    put_text(in_scratch(scratch, name), "abd");
    read_noting(scratch->path, said);
    assert_non_null(strstr(said, "/farm.yaml: has changed since this plan"));
    unlink(in_scratch(scratch, name));
    read_noting(scratch->path, said);
    assert_non_null(strstr(said, "/farm.yaml: this plan was made from it"));
}

static void pipe_in_place_of_a_file_is_not_waited_for(void **state)
{
    struct scratch *scratch = *state;
    put_listing(scratch, "moves.csv");
    assert_int_equal(mkfifo(in_scratch(scratch, "moves.csv"), 0600), 0);
    alarm(20);
    refuses_naming(scratch->path, "/moves.csv", "is of another plan");
    alarm(0);
}

static void folder_with_half_a_set_is_refused(void **state)
{
    struct scratch *scratch = *state;
    put_listing(scratch, "moves.csv");
    put_text(in_scratch(scratch, FW_IO__MARK), "moves.csv\nplan.json\n");
    refuses_naming(scratch->path, scratch->path, "cut off");
    refuses_naming(in_scratch(scratch, "plan.json"), scratch->path, "cut off");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        scratch_test(file_of_another_plan_is_refused_by_name),
        scratch_test(missing_file_and_one_that_a_gis_changed_are_noted),
        scratch_test(input_that_has_changed_is_noted),
        scratch_test(pipe_in_place_of_a_file_is_not_waited_for),
        scratch_test(folder_with_half_a_set_is_refused),
    };
    return cmocka_run_group_tests_name("io_plan_files", tests, NULL, NULL);
}
