/* A plan as things stand: where its log says what really happened, the one that
 * goes on from there. */
#include "cli/cli.h"

#include "base/fail.h"
#include "log/log.h"
#include "make/make.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

/* ---- where it is written down ---- */

/* "hill.yaml" has its log in "hill.days.txt". */
static char *beside_farm(const char *farm)
{
    const char *name = strrchr(farm, '/');
    const char *dot = strrchr(name ? name : farm, '.');
    const size_t stem = dot ? (size_t)(dot - farm) : strlen(farm);
    char *path = malloc(stem + sizeof ".days.txt");
    if (path)
        snprintf(path, stem + sizeof ".days.txt", "%.*s.days.txt", (int)stem,
                 farm);
    return path;
}

const char *cli_farm_file(const struct fw_plan *plan, const char *input)
{
    if (!fw_plan_json_is(input))
        return fw_farm_is_farm_file(input) ? input : NULL;
    for (size_t i = 0; i < plan->inputs.count; i++)
        if (fw_farm_is_farm_file(plan->inputs.items[i].path))
            return plan->inputs.items[i].path;
    return NULL;
}

/* A plan of a farm file has that one's log, so that there is one of a farm;
 * that of bare fields has it in its folder. */
char *cli_log_path(const struct fw_plan *plan, const char *input)
{
    const char *farm = cli_farm_file(plan, input);
    if (farm || !input)
        return farm ? beside_farm(farm) : NULL;
    const char *json = strrchr(input, '/');
    const bool file = strcmp(json ? json + 1 : input, "plan.json") == 0;
    const int folder =
        file ? (int)(json ? json - input + 1 : 0) : (int)strlen(input);
    const size_t room = (size_t)folder + sizeof "/days.txt";
    char *path = malloc(room);
    if (path)
        snprintf(path, room, "%.*s%sdays.txt", folder, input,
                 file || folder == 0 || input[folder - 1] == '/' ? "" : "/");
    return path;
}

/* ---- who makes the plan that goes on ---- */

static enum fw_status go_on(const void *farm, const struct fw_plan_on *on,
                            struct fw_plan **out, struct fw_error *err)
{
    return fw_plan_go_on(farm, on, out, err);
}

static bool can_go_on(const struct fw_plan *plan, const struct fw_farm *farm)
{
    return farm->start_day == plan->start_day;
}

/* The farm that a plan which was read is of: its file, if there is one, and
 * what was told beside it. */
static enum fw_status read_farm(const struct fw_plan *plan, const char *path,
                                struct fw_farm **out, struct fw_error *err)
{
    const struct fw_told *told = &plan->told;
    const char **sources = calloc(told->count + 1, sizeof *sources);
    struct fw_farm_setting *settings =
        calloc(told->count + 1, sizeof *settings);
    struct fw_notes notes = {0};
    struct fw_farm_request request = {.farm_path = path,
                                      .field_sources = sources,
                                      .settings = settings,
                                      .folder = told->folder};
    enum fw_status status = sources && settings ? FW_OK : fw_fail_memory(err);
    for (size_t i = 0; !status && i < told->count; i++) {
        const struct fw_told_value *value = &told->values[i];
        if (!path && strcmp(value->key, FW_TOLD_FIELDS) == 0)
            sources[request.field_source_count++] = value->value;
        else
            settings[request.setting_count++] =
                (struct fw_farm_setting){value->key, value->value, NULL};
    }
    if (!status)
        status = fw_farm_read(&request, out, NULL, &notes, err);
    fw_notes_release(&notes);
    free(sources);
    free(settings);
    return status;
}

/* Fields of which a plan tells where they are. */
static bool tells_fields(const struct fw_plan *plan)
{
    for (size_t i = 0; i < plan->told.count; i++)
        if (strcmp(plan->told.values[i].key, FW_TOLD_FIELDS) == 0)
            return true;
    return false;
}

enum fw_status cli_making(const struct cli_args *args,
                          const struct cli_making *planned,
                          struct fw_farm **farm, struct fw_log_making *out,
                          struct fw_error *err)
{
    const struct fw_farm *made_of = planned->farm;
    *farm = NULL;
    *out = (struct fw_log_making){NULL, NULL};
    const char *path = cli_farm_file(planned->plan, args->inputs[0]);
    if (!made_of && (path || tells_fields(planned->plan))) {
        struct fw_error why;
        const enum fw_status status =
            read_farm(planned->plan, path, farm, &why);
        if (status == FW_ENOMEM) {
            *err = why;
            return status;
        }
        if (status)
            fprintf(stderr,
                    "foldwright: warning: what is left is not cut anew, since "
                    "%s cannot be read any more: %s\n",
                    path ? "the farm file" : "the map of the fields", why.text);
        made_of = *farm;
    }
    if (made_of && can_go_on(planned->plan, made_of))
        *out = (struct fw_log_making){made_of, go_on};
    return FW_OK;
}

/* ---- what it began beside ---- */

static bool is_season(const struct cli_making *planned)
{
    return planned->plan->ahead_day != FW_NO_DAY;
}

int cli_begun(const struct cli_args *args, struct cli_making *planned)
{
    struct fw_error err;
    struct cli_making begun = {NULL, NULL};
    if (planned->farm || !is_season(planned))
        return 0;
    enum fw_status status =
        read_farm(planned->plan, cli_farm_file(planned->plan, args->inputs[0]),
                  &begun.farm, &err);
    if (!status)
        status = fw_plan_make(begun.farm, &begun.plan, &err);
    if (status) {
        fw_farm_free(begun.farm);
        return cli_report(&err);
    }
    fw_plan_free(planned->plan);
    *planned = begun;
    return 0;
}

char *cli_base_path(const struct cli_making *planned, const char *input)
{
    struct stat info;
    if (planned->farm || is_season(planned))
        return NULL;
    const bool folder = stat(input, &info) == 0 && S_ISDIR(info.st_mode);
    char *path = malloc(strlen(input) + sizeof "/plan.json");
    if (path)
        sprintf(path, "%s%s", input, folder ? "/plan.json" : "");
    return path;
}

/* ---- all of it ---- */

static void tell(const struct cli_args *args, const char *path,
                 const struct fw_plan *plan)
{
    if (!args->quiet)
        fprintf(stderr,
                "foldwright: note: this goes on from what %s says; %s\n", path,
                plan->ahead_day == FW_NO_DAY
                    ? "what is left is cut anew"
                    : "days that are over stay as they were, and what is left "
                      "is cut anew");
}

static int
with_kept(const struct cli_args *args, const char *path, const char *base,
          int (*use)(const struct fw_plan *plan, const struct cli_args *args))
{
    struct fw_plan *kept = cli_kept(path, base);
    if (!kept)
        return -1;
    tell(args, path, kept);
    const int code = use(kept, args);
    fw_plan_free(kept);
    return code;
}

int cli_at_once(const struct cli_args *args,
                int (*use)(const struct fw_plan *plan,
                           const struct cli_args *args))
{
    if (args->input_count != 1 || args->setting_count > 0 ||
        !fw_farm_is_farm_file(args->inputs[0]))
        return -1;
    char *path = beside_farm(args->inputs[0]);
    const int code = path ? with_kept(args, path, NULL, use) : -1;
    free(path);
    return code;
}

static bool is_over(const struct fw_log *log)
{
    return log->next_move > 0 && log->next_move >= log->plan->time.move_count;
}

static int
with_log(const struct cli_args *args, const struct cli_making *planned,
         const char *path, enum cli_log which,
         int (*use)(const struct fw_plan *plan, const struct cli_args *args))
{
    struct fw_error err;
    struct fw_notes notes = {0};
    struct fw_log_request request = {.path = path};
    struct fw_farm *farm;
    struct fw_log *log = NULL;
    struct fw_plan *now = NULL;
    enum fw_status status =
        cli_making(args, planned, &farm, &request.making, &err);
    if (!status)
        status = fw_log_open(planned->plan, &request, &log, &notes, &err);
    if (!status)
        status = which == CLI_LOG_SEASON ? fw_log_season(log, &now, &err)
                                         : fw_log_now(log, &now, &err);
    cli_print_notes(&notes, args->quiet);
    fw_notes_release(&notes);
    if (!status && now)
        tell(args, path, now);
    else if (!status && !args->quiet && is_over(log))
        fprintf(stderr,
                "foldwright: note: by %s all moves of this plan are made; it "
                "is told as it was at first. Plan again from where they are\n",
                path);
    const int code =
        status ? cli_report(&err) : use(now ? now : planned->plan, args);
    fw_plan_free(now);
    fw_log_free(log);
    fw_farm_free(farm);
    return code;
}

static int from_kept(const struct cli_args *args,
                     const struct cli_making *planned, const char *path,
                     int (*use)(const struct fw_plan *plan,
                                const struct cli_args *args))
{
    char *base = cli_base_path(planned, args->inputs[0]);
    const int code = planned->farm ? -1 : with_kept(args, path, base, use);
    free(base);
    return code;
}

int cli_as_it_stands(const struct cli_args *args, struct cli_making *planned,
                     enum cli_log log,
                     int (*use)(const struct fw_plan *plan,
                                const struct cli_args *args))
{
    char *path = planned->plan->time.move_count && args->input_count == 1
                     ? cli_log_path(planned->plan, args->inputs[0])
                     : NULL;
    int code =
        path && log == CLI_LOG_NOW ? from_kept(args, planned, path, use) : -1;
    if (code < 0) {
        code = cli_begun(args, planned);
        if (!code)
            code = path && access(path, F_OK) == 0
                       ? with_log(args, planned, path, log, use)
                       : use(planned->plan, args);
    }
    free(path);
    return code;
}
