/* The plan as things stand, kept beside the log so that `move` answers at once:
 * hill.now.json beside hill.days.txt. It is what the log comes to and no more:
 * where anything that it was made from has changed since, it is not looked at,
 * and where it is lost nothing is. */
#include "cli/cli.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

/* "hill.days.txt" has "hill.now.json". */
static char *kept_path(const char *log)
{
    static const char end[] = "days.txt";
    const size_t length = strlen(log), cut = sizeof end - 1;
    const size_t stem = length >= cut && strcmp(log + length - cut, end) == 0
                            ? length - cut
                            : length;
    char *path = malloc(stem + sizeof "now.json");
    if (path)
        snprintf(path, stem + sizeof "now.json", "%.*snow.json", (int)stem,
                 log);
    return path;
}

static bool is_same_file(const char *a, const char *b)
{
    struct stat one, other;
    return stat(a, &one) == 0 && stat(b, &other) == 0 &&
           one.st_dev == other.st_dev && one.st_ino == other.st_ino;
}

static bool is_among(const struct fw_inputs *inputs, const char *path)
{
    for (size_t i = 0; i < inputs->count; i++)
        if (is_same_file(inputs->items[i].path, path))
            return true;
    return false;
}

static bool any_plan(const struct fw_inputs *inputs)
{
    for (size_t i = 0; i < inputs->count; i++)
        if (fw_plan_json_is(inputs->items[i].path))
            return true;
    return false;
}

/* Is it of that log and of that base? */
static bool is_of(const struct fw_plan *plan, const char *log, const char *base)
{
    return is_among(&plan->inputs, log) &&
           (base ? is_among(&plan->inputs, base) : !any_plan(&plan->inputs));
}

struct fw_plan *cli_kept(const char *log, const char *base)
{
    struct fw_notes notes = {0};
    struct fw_plan *plan = NULL;
    char *path = kept_path(log);
    if (path && access(path, F_OK) == 0 && access(log, F_OK) == 0 &&
        fw_plan_json_read(path, &plan, &notes, NULL))
        plan = NULL;
    if (plan && (notes.count > 0 || !is_of(plan, log, base))) {
        fw_plan_free(plan);
        plan = NULL;
    }
    fw_notes_release(&notes);
    free(path);
    return plan;
}

/* What it was made from and by, as from its own folder. */
static bool put_inputs(struct fw_plan *plan, const char *path, const char *log,
                       const char *base)
{
    struct fw_inputs inputs = {0};
    struct fw_told told = {0};
    const char *slash = strrchr(path, '/');
    char *folder = malloc(strlen(path) + sizeof ".");
    if (!folder)
        return false;
    sprintf(folder, "%.*s", slash ? (int)(slash - path) : 1,
            slash ? path : ".");
    const bool made =
        !fw_inputs_add(&plan->inputs, log, NULL) &&
        (!base || !fw_inputs_add(&plan->inputs, base, NULL)) &&
        is_of(plan, log, base) &&
        !fw_inputs_from(folder[0] ? folder : "/", NULL, &plan->inputs, &inputs,
                        NULL) &&
        !fw_told_from(folder[0] ? folder : "/", &plan->told, &told, NULL);
    free(folder);
    const bool whole = inputs.count == plan->inputs.count;
    if (made) {
        fw_inputs_release(&plan->inputs);
        fw_told_release(&plan->told);
        plan->inputs = inputs;
        plan->told = told;
    } else {
        fw_inputs_release(&inputs);
    }
    return made && whole;
}

void cli_keep(const struct fw_log *log, const char *log_file, const char *base)
{
    struct fw_plan *now = NULL;
    char *path = kept_path(log_file), *bytes = NULL;
    size_t count = 0;
    if (path && !fw_log_now(log, &now, NULL) && now &&
        put_inputs(now, path, log_file, base) &&
        !fw_plan_json_write(now, NULL, 0, &bytes, &count, NULL))
        fw_file_put(path, bytes, count, NULL);
    fw_bytes_free(bytes);
    fw_plan_free(now);
    free(path);
}
