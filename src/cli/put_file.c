/* One file of a command's own, put in its place as those of a plan are. */
#include "cli/cli.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* A plan.json lists them with their sizes and sums. */
static bool is_of_plan(const char *folder, const char *name)
{
    static const char *const names[] = {"card.pdf", "sheet.pdf"};
    for (size_t i = 0; i < sizeof names / sizeof *names; i++)
        if (strcmp(name, names[i]) == 0)
            return fw_plan_json_is(folder);
    return false;
}

static enum fw_status put(const char *folder, const char *name,
                          const struct fw_set_rules *rules, const char *bytes,
                          size_t count, struct fw_error *err)
{
    const char *const names[] = {name};
    struct fw_set *set = NULL;
    enum fw_status status = fw_folder_make(folder, err);
    if (!status)
        status = fw_set_begin(folder, names, 1, rules, &set, err);
    if (!status)
        status = fw_set_put(set, bytes, count, err);
    if (!status)
        status = fw_set_done(set, err);
    fw_set_free(set);
    return status;
}

static int put_on_stdout(const char *bytes, size_t count)
{
    if (fwrite(bytes, 1, count, stdout) == count && fflush(stdout) != EOF)
        return 0;
    perror("foldwright: standard output");
    return 4;
}

static int put_in_folder(const struct cli_command *command,
                         const struct cli_args *args,
                         const struct fw_inputs *inputs, const char *bytes,
                         size_t count)
{
    const struct fw_set_rules rules = {.inputs = inputs, .force = args->force};
    struct fw_error err;
    const char *slash = strrchr(args->out, '/');
    const char *name = slash ? slash + 1 : args->out;
    char *folder = calloc(strlen(args->out) + 2, 1);
    int code = 0;
    if (!folder) {
        fputs("foldwright: out of memory\n", stderr);
        return 5;
    }
    memcpy(folder, slash ? args->out : ".",
           slash ? (size_t)(name - args->out) : 1);
    if (!*name)
        code = cli_usage(command, "-o needs a file, such as -o week.pdf");
    else if (is_of_plan(folder, name)) {
        fprintf(stderr,
                "foldwright: %s: is of the plan there; choose another name, "
                "such as week.pdf\n",
                args->out);
        code = 4;
    } else if (put(folder, name, &rules, bytes, count, &err)) {
        code = cli_report(&err);
    }
    free(folder);
    return code;
}

int cli_put_file(const struct cli_command *command, const struct cli_args *args,
                 const struct fw_inputs *inputs, char *bytes, size_t count)
{
    const int code = strcmp(args->out, "-") == 0
                         ? put_on_stdout(bytes, count)
                         : put_in_folder(command, args, inputs, bytes, count);
    fw_bytes_free(bytes);
    return code;
}
