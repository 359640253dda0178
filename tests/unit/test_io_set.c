/* Sets of files: all of them, or those of before, or a folder that says it is
 * neither; and nothing of anybody else's is lost. */
#include "io/io.h"
#include "io/plan_files.h"
#include "io/put.h"
#include "scratch.h"

#include <fcntl.h>
#include <signal.h>
#include <sys/file.h>
#include <sys/wait.h>
#include <time.h>

static const char *const names[] = {"a.csv", "b.csv", "plan.json"};
static const struct fw_set_rules plain = {.inputs = NULL};

/* What plan.json holds of a plan that lists both others. */
static const char listing_both[] =
    "{\"format\": \"foldwright-plan/2\",\n\"files\": ["
    "{\"name\": \"a.csv\", \"size\": 3, \"crc32\": 1},\n"
    "{\"name\": \"b.csv\", \"size\": 3, \"crc32\": 1}]}\n";

static void holds(const char *path, const char *wanted)
{
    char *bytes = NULL;
    size_t count = 0;
    struct fw_error err = {0};
    if (fw_file_get(path, 1 << 20, &bytes, &count, &err))
        fail_msg("%s", err.text);
    assert_string_equal(bytes, wanted);
    fw_bytes_free(bytes);
}

static void all_hold(const struct scratch *scratch, const char *text)
{
    for (size_t i = 0; i < 3; i++)
        holds(in_scratch(scratch, names[i]), text);
}

static enum fw_status write_set(const struct scratch *scratch,
                                const struct fw_set_rules *rules,
                                const char *text, struct fw_error *err)
{
    struct fw_set *set = NULL;
    enum fw_status status =
        fw_set_begin(scratch->path, names, 3, rules, &set, err);
    for (size_t i = 0; i < 3 && !status; i++)
        status = fw_set_put(set, text, strlen(text), err);
    if (!status)
        status = fw_set_done(set, err);
    fw_set_free(set);
    return status;
}

static void writes(const struct scratch *scratch,
                   const struct fw_set_rules *rules, const char *text)
{
    struct fw_error err = {0};
    if (write_set(scratch, rules, text, &err))
        fail_msg("%s", err.text);
}

/* And changes nothing. */
static void refuses(const struct scratch *scratch,
                    const struct fw_set_rules *rules, const char *name,
                    const char *expected)
{
    struct fw_error err = {0};
    char *before = listing(scratch->path);
    assert_int_equal(write_set(scratch, rules, "new", &err), FW_EOUTPUT);
    char *after = listing(scratch->path);
    assert_string_equal(before, after);
    free(before);
    free(after);
    if (!strstr(err.text, name) || !strstr(err.text, expected))
        fail_msg("\"%s\" does not tell of %s \"%s\"", err.text, name, expected);
}

static void put_earlier_set(const struct scratch *scratch)
{
    put_text(in_scratch(scratch, "a.csv"), "old");
    put_text(in_scratch(scratch, "b.csv"), "old");
    put_text(in_scratch(scratch, "plan.json"), listing_both);
}

static bool is_marked(const struct scratch *scratch)
{
    return exists(in_scratch(scratch, FW_IO__MARK));
}

/* ---- the whole ---- */

static void whole_set_takes_its_place_and_nothing_is_left(void **state)
{
    const struct scratch *scratch = *state;
    writes(scratch, &plain, listing_both);
    all_hold(scratch, listing_both);
    writes(scratch, &plain, "new");
    all_hold(scratch, "new");
    char *left = listing(scratch->path);
    assert_null(strstr(left, ".foldwright"));
    free(left);
}

static void nothing_changes_before_all_are_written(void **state)
{
    const struct scratch *scratch = *state;
    struct fw_set *set = NULL;
    put_earlier_set(scratch);
    assert_int_equal(fw_set_begin(scratch->path, names, 3, &plain, &set, NULL),
                     FW_OK);
    for (size_t i = 0; i < 2; i++)
        assert_int_equal(fw_set_put(set, "new", 3, NULL), FW_OK);
    holds(in_scratch(scratch, "a.csv"), "old");
    assert_false(is_marked(scratch));
    struct fw_error err = {0};
    assert_int_equal(fw_set_done(set, &err), FW_EFAULT);
    holds(in_scratch(scratch, "a.csv"), "old");
    fw_set_free(set);
    char *left = listing(scratch->path);
    assert_null(strstr(left, ".foldwright"));
    free(left);
}

/* Nobody takes an old sheet for part of the new plan; what no plan.json lists
 * stays. */
static void
what_the_set_before_had_and_this_one_has_not_is_removed(void **state)
{
    const struct scratch *scratch = *state;
    static const char *const gone[] = {"b2.pdf", "c.pdf", "never.pdf"};
    const struct fw_set_rules rules = {.outdated = gone, .outdated_count = 3};
    put_earlier_set(scratch);
    put_text(in_scratch(scratch, "plan.json"),
             "{\"format\": \"foldwright-plan/2\",\n\"files\": ["
             "{\"name\": \"a.csv\", \"size\": 3, \"crc32\": 1},\n"
             "{\"name\": \"b.csv\", \"size\": 3, \"crc32\": 1},\n"
             "{\"name\": \"b2.pdf\", \"size\": 3, \"crc32\": 1}]}\n");
    put_text(in_scratch(scratch, "b2.pdf"), "old");
    put_text(in_scratch(scratch, "c.pdf"), "mine");
    writes(scratch, &rules, "new");
    assert_false(exists(in_scratch(scratch, "b2.pdf")));
    holds(in_scratch(scratch, "c.pdf"), "mine");
    all_hold(scratch, "new");
    assert_false(is_marked(scratch));
}

/* A folder in the place of the second file stands for a rename that fails. */
static void
set_that_stops_half_way_is_marked_and_the_next_mends_it(void **state)
{
    const struct scratch *scratch = *state;
    struct fw_set *set = NULL;
    struct fw_error err = {0};
    put_earlier_set(scratch);
    assert_int_equal(fw_set_begin(scratch->path, names, 3, &plain, &set, NULL),
                     FW_OK);
    for (size_t i = 0; i < 3; i++)
        assert_int_equal(fw_set_put(set, "new", 3, NULL), FW_OK);
    unlink(in_scratch(scratch, "b.csv"));
    assert_int_equal(mkdir(in_scratch(scratch, "b.csv"), 0700), 0);
    assert_int_equal(fw_set_done(set, &err), FW_EOUTPUT);
    fw_set_free(set);
    assert_non_null(strstr(err.text, "of two plans"));
    assert_true(is_marked(scratch));
    rmdir(in_scratch(scratch, "b.csv"));
    unlink(in_scratch(scratch, "plan.json")); /* the mark lists a.csv too */
    writes(scratch, &plain, "new");
    assert_false(is_marked(scratch));
    all_hold(scratch, "new");
}

static void first_file_that_fails_leaves_no_mark(void **state)
{
    const struct scratch *scratch = *state;
    struct fw_set *set = NULL;
    assert_int_equal(fw_set_begin(scratch->path, names, 3, &plain, &set, NULL),
                     FW_OK);
    for (size_t i = 0; i < 3; i++)
        assert_int_equal(fw_set_put(set, "new", 3, NULL), FW_OK);
    assert_int_equal(mkdir(in_scratch(scratch, "a.csv"), 0700), 0);
    assert_int_equal(fw_set_done(set, NULL), FW_EOUTPUT);
    fw_set_free(set);
    assert_false(is_marked(scratch));
    assert_false(exists(in_scratch(scratch, "b.csv")));
}

/* ---- what must not be lost ---- */

static void source_is_not_written_over(void **state)
{
    const struct scratch *scratch = *state;
    struct fw_inputs inputs = {0};
    const struct fw_set_rules rules = {.inputs = &inputs, .force = true};
    char path[600];
    put_earlier_set(scratch);
    snprintf(path, sizeof path, "%s/../%s/b.csv", scratch->path,
             strrchr(scratch->path, '/') + 1);
    assert_int_equal(fw_inputs_add(&inputs, path, NULL), FW_OK);
    refuses(scratch, &rules, "/b.csv", "is what the plan is made from");
    fw_inputs_release(&inputs);
}

static void source_under_another_name_is_not_written_over(void **state)
{
    const struct scratch *scratch = *state;
    const struct {
        int (*join)(const char *from, const char *to);
    } rows[] = {{link}, {symlink}};
    for (size_t i = 0; i < 2; i++) {
        struct fw_inputs inputs = {0};
        const struct fw_set_rules rules = {.inputs = &inputs, .force = true};
        char walk[600];
        snprintf(walk, sizeof walk, "%s/walk.gpx", scratch->path);
        put_earlier_set(scratch);
        put_text(walk, "walked");
        unlink(in_scratch(scratch, "a.csv"));
        assert_int_equal(rows[i].join(walk, in_scratch(scratch, "a.csv")), 0);
        assert_int_equal(fw_inputs_add(&inputs, walk, NULL), FW_OK);
        refuses(scratch, &rules, "/a.csv", "is what the plan is made from");
        fw_inputs_release(&inputs);
        unlink(in_scratch(scratch, "a.csv"));
        unlink(walk);
    }
}

static void plan_that_this_one_goes_on_from_gives_way(void **state)
{
    const struct scratch *scratch = *state;
    struct fw_inputs inputs = {0};
    const struct fw_set_rules rules = {.inputs = &inputs};
    put_earlier_set(scratch);
    assert_int_equal(
        fw_inputs_add(&inputs, in_scratch(scratch, "plan.json"), NULL), FW_OK);
    writes(scratch, &rules, "new");
    fw_inputs_release(&inputs);
}

static void file_that_no_plan_lists_needs_force(void **state)
{
    const struct scratch *scratch = *state;
    const struct fw_set_rules forced = {.force = true};
    put_text(in_scratch(scratch, "b.csv"), "mine");
    refuses(scratch, &plain, "/b.csv", "--force");
    put_text(in_scratch(scratch, "plan.json"),
             "{\"format\": \"foldwright-plan/2\", \"files\": "
             "[{\"name\": \"a.csv\"}]}");
    refuses(scratch, &plain, "/b.csv", "--force");
    holds(in_scratch(scratch, "b.csv"), "mine");
    writes(scratch, &forced, "new");
    all_hold(scratch, "new");
}

static void plan_json_of_somebody_else_needs_force(void **state)
{
    const struct scratch *scratch = *state;
    put_text(in_scratch(scratch, "plan.json"), "{\"files\": []}");
    refuses(scratch, &plain, "/plan.json", "--force");
}

/* The list stands at the end of a file that is longer than what is read. */
static void list_is_found_at_the_end_of_a_long_plan(void **state)
{
    const struct scratch *scratch = *state;
    enum { long_one = 300000 };
    char *text = malloc(long_one + sizeof listing_both);
    assert_non_null(text);
    put_earlier_set(scratch);
    const size_t head = strcspn(listing_both, "\n") + 1;
    memcpy(text, listing_both, head);
    memset(text + head, ' ', long_one);
    strcpy(text + head + long_one, listing_both + head);
    put_text(in_scratch(scratch, "plan.json"), text);
    free(text);
    writes(scratch, &plain, "new");
}

static void file_that_begins_as_ours_is_ours(void **state)
{
    const struct scratch *scratch = *state;
    static const char *const one[] = {"field.svg"};
    const struct fw_set_rules rules = {.begin = "<!-- ours -->"};
    struct fw_set *set = NULL;
    const char *path = in_scratch(scratch, "field.svg");
    put_text(path, "<svg/>");
    assert_int_equal(fw_set_begin(scratch->path, one, 1, &rules, &set, NULL),
                     FW_EOUTPUT);
    put_text(path, "<!-- ours --><svg/>");
    put_text(in_scratch(scratch, FW_IO__MARK), "plan.json\n");
    assert_int_equal(fw_set_begin(scratch->path, one, 1, &rules, &set, NULL),
                     FW_OK);
    assert_int_equal(fw_set_put(set, "new", 3, NULL), FW_OK);
    assert_int_equal(fw_set_put(set, "more", 4, NULL), FW_EFAULT);
    assert_int_equal(fw_set_done(set, NULL), FW_OK);
    fw_set_free(set);
    holds(path, "new");
    /* a drawing does not make a whole of half a plan */
    assert_true(is_marked(scratch));
}

/* ---- found before anything changes ---- */

static void file_that_may_not_be_written_is_found_first(void **state)
{
    const struct scratch *scratch = *state;
    put_earlier_set(scratch);
    const char *path = in_scratch(scratch, "b.csv");
    assert_int_equal(chmod(path, 0444), 0); /* root is held to it too */
    refuses(scratch, &plain, "/b.csv", "you may not write there");
    chmod(path, 0600);
    unlink(path);
    assert_int_equal(mkdir(path, 0700), 0);
    refuses(scratch, &plain, "/b.csv", "it is a folder");
    rmdir(path);
    assert_int_equal(mkfifo(path, 0600), 0);
    alarm(20);
    refuses(scratch, &plain, "/b.csv", "is a pipe or a device");
    alarm(0);
}

static void folder_that_may_not_be_written_is_found_first(void **state)
{
    const struct scratch *scratch = *state;
    put_earlier_set(scratch);
    chmod(scratch->path, 0555);
    refuses(scratch, &plain, scratch->path, "you may not write there");
    chmod(scratch->path, 0700);
    struct scratch none = {0};
    snprintf(none.path, sizeof none.path, "%.40s/no", scratch->path);
    struct fw_error err = {0};
    assert_int_equal(write_set(&none, &plain, "new", &err), FW_EOUTPUT);
    assert_non_null(strstr(err.text, "is not there"));
}

static void link_in_the_folder_is_replaced_not_followed(void **state)
{
    const struct scratch *scratch = *state;
    const char *elsewhere = in_scratch(scratch, "elsewhere.csv");
    put_earlier_set(scratch);
    put_text(elsewhere, "theirs");
    unlink(in_scratch(scratch, "a.csv"));
    assert_int_equal(symlink(elsewhere, in_scratch(scratch, "a.csv")), 0);
    writes(scratch, &plain, "new");
    struct stat info;
    assert_int_equal(lstat(in_scratch(scratch, "a.csv"), &info), 0);
    assert_true(S_ISREG(info.st_mode));
    holds(in_scratch(scratch, "elsewhere.csv"), "theirs");
    all_hold(scratch, "new");
}

static void mode_of_the_file_before_stays(void **state)
{
    const struct scratch *scratch = *state;
    struct stat info;
    put_earlier_set(scratch);
    chmod(in_scratch(scratch, "a.csv"), 0640);
    writes(scratch, &plain, "new");
    lstat(in_scratch(scratch, "a.csv"), &info);
    assert_int_equal(info.st_mode & 0777, 0640);
}

/* ---- others at work ---- */

static void folder_is_locked_while_a_set_is_written(void **state)
{
    const struct scratch *scratch = *state;
    struct fw_set *set = NULL;
    assert_int_equal(fw_set_begin(scratch->path, names, 3, &plain, &set, NULL),
                     FW_OK);
    const int file = open(scratch->path, O_RDONLY | O_DIRECTORY);
    assert_true(flock(file, LOCK_SH | LOCK_NB) < 0);
    fw_set_free(set);
    assert_int_equal(flock(file, LOCK_SH | LOCK_NB), 0);
    close(file);
}

static void another_writer_is_waited_for_and_then_named(void **state)
{
    const struct scratch *scratch = *state;
    put_earlier_set(scratch);
    const int file = open(scratch->path, O_RDONLY | O_DIRECTORY);
    assert_int_equal(flock(file, LOCK_EX), 0);
    refuses(scratch, &plain, scratch->path, "another run is at work");
    close(file);
    const pid_t child = fork();
    if (child == 0) {
        const int held = open(scratch->path, O_RDONLY | O_DIRECTORY);
        flock(held, LOCK_EX);
        nanosleep(&(struct timespec){0, 300000000}, NULL);
        _exit(0);
    }
    nanosleep(&(struct timespec){0, 100000000}, NULL);
    writes(scratch, &plain, "new");
    int status;
    waitpid(child, &status, 0);
}

static void temporaries_of_the_dead_are_swept(void **state)
{
    const struct scratch *scratch = *state;
    char dead[64], living[64], own[64];
    const pid_t child = fork();
    if (child == 0)
        _exit(0);
    waitpid(child, NULL, 0);
    snprintf(dead, sizeof dead, ".foldwright-%ld-0.tmp", (long)child);
    snprintf(living, sizeof living, ".foldwright-%ld-0.tmp", (long)getppid());
    snprintf(own, sizeof own, ".foldwright-%ld-7.tmp", (long)getpid());
    static const char *const others[] = {".foldwright-x-0.tmp",
                                         ".foldwright-1-0.tmp.bak",
                                         ".foldwright-", "notes.tmp"};
    for (size_t i = 0; i < 4; i++)
        put_text(in_scratch(scratch, others[i]), "x");
    put_text(in_scratch(scratch, dead), "x");
    put_text(in_scratch(scratch, living), "x");
    put_text(in_scratch(scratch, own), "x");
    writes(scratch, &plain, "new");
    assert_false(exists(in_scratch(scratch, dead)));
    assert_true(exists(in_scratch(scratch, living)));
    assert_true(exists(in_scratch(scratch, own)));
    for (size_t i = 0; i < 4; i++)
        assert_true(exists(in_scratch(scratch, others[i])));
    /* our own number, from long ago: of a process before us */
    const struct timespec long_ago[2] = {{1000000, 0}, {1000000, 0}};
    assert_int_equal(utimensat(AT_FDCWD, in_scratch(scratch, own), long_ago, 0),
                     0);
    writes(scratch, &(struct fw_set_rules){.force = true}, "new");
    assert_false(exists(in_scratch(scratch, own)));
}

/* Of a file that is broken off, or is no plan, what can be read of the list. */
static void list_of_a_broken_plan_is_what_can_be_read(void **state)
{
    static const struct {
        const char *text, *names; /* with spaces */
    } rows[] = {
        {listing_both, "a.csv b.csv"},
        {"{\"files\": [{\"name\": \"a.csv\"}, {\"name\": 5}, {}, 7,"
         " {\"name\": \"b.csv\"}]}",
         "a.csv b.csv"},
        {"{\"files\": [{\"name\": \"a.csv\"}", ""},
        {"{\"files\": 7}", ""},
        {"{\"notes\": [\"no \\\"files\\\" here\"]}", ""},
        {"{\"files\": [{\"name\": \"old.csv\"}], \"farm\": \"x\", \"files\": "
         "[{\"name\": \"a.csv\"}]}",
         "a.csv"},
        {"", ""},
    };
    const char *path = in_scratch(*state, "plan.json");
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct fw_io__names found = {0};
        char all[64] = "";
        put_text(path, rows[i].text);
        assert_int_equal(fw_io__listed(path, &found, NULL), FW_OK);
        for (size_t k = 0; k < found.count; k++) {
            strcat(all, k ? " " : "");
            strcat(all, found.items[k]);
        }
        assert_string_equal(all, rows[i].names);
        fw_io__names_release(&found);
    }
    struct fw_io__names none = {0};
    unlink(path);
    assert_int_equal(fw_io__listed(path, &none, NULL), FW_OK);
    assert_int_equal(none.count, 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        scratch_test(what_the_set_before_had_and_this_one_has_not_is_removed),
        scratch_test(whole_set_takes_its_place_and_nothing_is_left),
        scratch_test(nothing_changes_before_all_are_written),
        scratch_test(set_that_stops_half_way_is_marked_and_the_next_mends_it),
        scratch_test(first_file_that_fails_leaves_no_mark),
        scratch_test(source_is_not_written_over),
        scratch_test(source_under_another_name_is_not_written_over),
        scratch_test(plan_that_this_one_goes_on_from_gives_way),
        scratch_test(file_that_no_plan_lists_needs_force),
        scratch_test(plan_json_of_somebody_else_needs_force),
        scratch_test(list_is_found_at_the_end_of_a_long_plan),
        scratch_test(list_of_a_broken_plan_is_what_can_be_read),
        scratch_test(file_that_begins_as_ours_is_ours),
        scratch_test(file_that_may_not_be_written_is_found_first),
        scratch_test(folder_that_may_not_be_written_is_found_first),
        scratch_test(link_in_the_folder_is_replaced_not_followed),
        scratch_test(mode_of_the_file_before_stays),
        scratch_test(folder_is_locked_while_a_set_is_written),
        scratch_test(another_writer_is_waited_for_and_then_named),
        scratch_test(temporaries_of_the_dead_are_swept),
    };
    return cmocka_run_group_tests_name("io_set", tests, NULL, NULL);
}
