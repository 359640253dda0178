/* Commands run within the test: what they print, and their exit code. */
#ifndef FW_CLI_HELP_H
#define FW_CLI_HELP_H

#include "farm_help.h"
#include "scratch.h"

#include "cli/cli.h"

#include <fcntl.h>
#include <stdlib.h>
#include <string.h>

struct ran {
    int code;
    char *out, *err; /* of the last run; free with ran_free */
};

static inline char *whole_file(const char *path)
{
    FILE *file = fopen(path, "rb");
    if (!file)
        fail_msg("%s cannot be read", path);
    fseek(file, 0, SEEK_END);
    const long size = ftell(file);
    rewind(file);
    char *text = calloc((size_t)size + 1, 1);
    assert_int_equal(fread(text, 1, (size_t)size, file), size);
    fclose(file);
    return text;
}

static inline int redirected(int stream, const char *path)
{
    const int kept = dup(stream);
    const int file = open(path, O_WRONLY | O_CREAT | O_TRUNC, 0666);
    assert_true(kept >= 0 && file >= 0);
    dup2(file, stream);
    close(file);
    return kept;
}

static inline void put_back(int stream, int kept)
{
    dup2(kept, stream);
    close(kept);
}

/* Where a run's streams go, for as long as it lasts. */
struct caught {
    int out, err;
};

static inline struct caught catch_streams(const char *out)
{
    fflush(stdout);
    fflush(stderr);
    return (struct caught){redirected(STDOUT_FILENO, out),
                           redirected(STDERR_FILENO, "said-err")};
}

static inline void let_streams_go(struct caught caught)
{
    fflush(stdout);
    fflush(stderr);
    clearerr(stdout);
    put_back(STDOUT_FILENO, caught.out);
    put_back(STDERR_FILENO, caught.err);
}

/* Words are parted by a space; one with a space in it stands after a tab. */
static inline int split_words(char *line, char *argv[40])
{
    const char *parts = strchr(line, '\t') ? "\t" : " ";
    int argc = 0;
    for (char *word = strtok(line, parts); word; word = strtok(NULL, parts)) {
        assert_true(argc < 39);
        argv[argc++] = word;
    }
    argv[argc] = NULL;
    return argc;
}

static inline int run_into(const char *out, const struct cli_command *command,
                           const char *words)
{
    char line[1000], *argv[40];
    snprintf(line, sizeof line, "%s", words);
    const int argc = split_words(line, argv);
    const struct caught caught = catch_streams(out);
    const int code = command->run(argc, argv);
    let_streams_go(caught);
    return code;
}

static inline struct ran run(const struct cli_command *command,
                             const char *words)
{
    struct ran ran;
    ran.code = run_into("said-out", command, words);
    ran.out = whole_file("said-out");
    ran.err = whole_file("said-err");
    return ran;
}

static inline void ran_free(struct ran *ran)
{
    free(ran->out);
    free(ran->err);
}

/* It ends with that code, and says so on that stream; "" nothing at all, NULL
 * whatever it likes. */
static inline void ends(const struct cli_command *command, const char *words,
                        int code, const char *out, const char *err)
{
    struct ran ran = run(command, words);
    if (ran.code != code)
        fail_msg("\"%s\" ends with %d: %s", words, ran.code, ran.err);
    if (out && (out[0] ? !strstr(ran.out, out) : ran.out[0]))
        fail_msg("\"%s\" says:\n%s\nand not: %s", words, ran.out, out);
    if (err && (err[0] ? !strstr(ran.err, err) : ran.err[0]))
        fail_msg("\"%s\" says:\n%s\nand not: %s", words, ran.err, err);
    ran_free(&ran);
}

/* A farm of one field in the test's own folder, and its plan in out; hauling is
 * what the farm says of that. */
static inline int planned_farm(void **state, const char *hauling)
{
    char text[1000];
    if (farm_set_up(state))
        return -1;
    unsetenv("SOURCE_DATE_EPOCH");
    setenv("TZ", "UTC", 1);
    snprintf(text, sizeof text,
             "farm: Test\nstart: 2027-05-17\nstay: 1 day\n"
             "flock: [{class: ewes, head: 40, weight: 70 kg, state: dry}]\n"
             "forage: {sward: mixed, density: good, height: 20 cm, leave: 8 "
             "cm}\n"
             "fields: {source: field.geojson, name: name, each: [{field: Long "
             "Bottom, gate: corner:1, water: corner:2, perimeter: {holds: "
             "sheep, hot: yes}}]}\n"
             "hauling: {%s}\n",
             hauling);
    put_text("farm.yaml", text);
    return run_into("said-out", &cli_plan_command,
                    "plan --quiet --format data farm.yaml -o out");
}

#endif
