#include "cli/cli.h"

#include <errno.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>
#include <unistd.h>

int cli_report(const struct fw_error *err)
{
    static const int codes[] = {0, 1, 2, 3, 4, 5, 5};
    fprintf(stderr, "foldwright: %s\n", err->text);
    return codes[err->status];
}

int cli_usage(const struct cli_command *command, const char *format, ...)
{
    va_list args;
    fputs("foldwright: ", stderr);
    va_start(args, format);
    vfprintf(stderr, format, args);
    va_end(args);
    fprintf(stderr, "\n(foldwright %s --help tells what it takes)\n",
            command->name);
    return 2;
}

void cli_print_notes(const struct fw_notes *notes, bool quiet)
{
    for (size_t i = 0; !quiet && i < notes->count; i++)
        fprintf(stderr, "foldwright: %s: %s%s%s\n",
                fw_level_name(notes->items[i].level), notes->items[i].where,
                notes->items[i].where[0] ? ": " : "", notes->items[i].text);
}

bool cli_colour(void)
{
    const char *term = getenv("TERM");
    const char *no_colour = getenv("NO_COLOR");
    return isatty(STDOUT_FILENO) && !(no_colour && no_colour[0]) && term &&
           strcmp(term, "dumb") != 0;
}

unsigned cli_how(const struct cli_args *args, bool on_stdout)
{
    return (on_stdout && cli_colour() ? FW_REPORT_COLOUR : 0) |
           (args->all ? FW_REPORT_ALL : 0);
}

int cli_print(char *text)
{
    const bool bad = fputs(text, stdout) == EOF || fflush(stdout) == EOF;
    const int why = errno;
    fw_bytes_free(text);
    if (!bad)
        return 0;
    fprintf(stderr, "foldwright: standard output: %s\n", strerror(why));
    return 4;
}

enum fw_status cli_epoch(long long *out, struct fw_error *err)
{
    const char *text = getenv("SOURCE_DATE_EPOCH");
    *out = -1;
    if (!text || !text[0])
        return FW_OK;
    const long long last_s = FW_LAST_DAY * 86400LL + 86399;
    long long epoch_s = 0;
    const char *at = text;
    for (; *at >= '0' && *at <= '9' && epoch_s <= last_s; at++)
        epoch_s = 10 * epoch_s + (*at - '0');
    if (*at || epoch_s > last_s) {
        if (err) {
            err->status = FW_EUSAGE;
            snprintf(
                err->text, sizeof err->text,
                "SOURCE_DATE_EPOCH: \"%.80s\" is not a time here; expected "
                "whole seconds from 0 to %lld, the end of 2200",
                text, last_s);
        }
        return FW_EUSAGE;
    }
    *out = epoch_s;
    return FW_OK;
}

enum fw_status cli_today(const struct cli_args *args, int *day,
                         struct fw_error *err)
{
    if (args->on)
        return fw_date_read(args->on, day, err);
    long long epoch_s;
    const enum fw_status status = cli_epoch(&epoch_s, err);
    if (status)
        return status;
    if (epoch_s >= 0) {
        *day = (int)(epoch_s / 86400);
        return FW_OK;
    }
    /* A clock beyond what a date can say gives none that can be read. */
    const time_t now = time(NULL);
    struct tm parts = {.tm_mday = 0};
    char text[FW_DATE_TEXT] = "";
    localtime_r(&now, &parts);
    strftime(text, sizeof text, "%Y-%m-%d", &parts);
    return fw_date_read(text, day, err);
}

enum fw_status cli_farm(const struct cli_args *args, bool fields_only,
                        bool every_field, struct fw_farm **out,
                        size_t *bad_count, struct fw_notes *notes,
                        struct fw_error *err)
{
    struct fw_farm_request request = {
        .settings = args->settings,
        .setting_count = args->setting_count,
        .fields_only = fields_only,
        .every_field = every_field,
        .winter = args->winter,
    };
    if (args->input_count == 1 && fw_farm_is_farm_file(args->inputs[0])) {
        request.farm_path = args->inputs[0];
    } else {
        request.field_sources = args->inputs;
        request.field_source_count = args->input_count;
    }
    return fw_farm_read(&request, out, bad_count, notes, err);
}

static enum fw_status cli_plan(const struct cli_args *args,
                               struct cli_making *out, struct fw_notes *notes,
                               struct fw_error *err)
{
    *out = (struct cli_making){NULL, NULL};
    if (args->input_count == 1 && fw_plan_json_is(args->inputs[0]))
        return fw_plan_json_read(args->inputs[0], &out->plan, notes, err);
    enum fw_status status =
        cli_farm(args, false, false, &out->farm, NULL, notes, err);
    if (status)
        return status;
    status = fw_plan_make(out->farm, &out->plan, err);
    if (status)
        fw_farm_free(out->farm);
    return status;
}

int cli_refuse_settings(const struct cli_command *command,
                        const struct cli_args *args)
{
    for (size_t i = 0; args->setting_count && i < args->input_count; i++)
        if (fw_plan_json_is(args->inputs[i]))
            return cli_usage(command,
                             "%s changes the plan: name the farm file in "
                             "place of \"%s\"",
                             args->settings[0].where, args->inputs[i]);
    return 0;
}

/* 0, or 2 after a message: an input is a day, and no file of that name. */
static int refuse_day(const struct cli_command *command,
                      const struct cli_args *args)
{
    int day;
    for (size_t i = 0; i < args->input_count; i++) {
        const char *input = args->inputs[i];
        if (fw_date_read(input, &day, NULL) || access(input, F_OK) == 0)
            continue;
        return command->flags & CLI_ON
                   ? cli_usage(command, "%s is a day: for that day say --on %s",
                               input, input)
                   : cli_usage(command, "%s is a day; name a plan or a map",
                               input);
    }
    return 0;
}

/* What a plan is wanted for. */
struct cli_use {
    int (*plan)(const struct fw_plan *plan, const struct cli_args *args);
    int (*farm)(const struct cli_making *planned, const struct cli_args *args);
    enum cli_log log;
};

static int with(const struct cli_command *command, const struct cli_args *args,
                const struct cli_use *use)
{
    struct fw_error err;
    struct fw_notes notes = {0};
    struct cli_making planned;
    int refused = cli_refuse_settings(command, args);
    if (!refused)
        refused = refuse_day(command, args);
    if (refused)
        return refused;
    if (use->log == CLI_LOG_NOW) {
        const int code = cli_at_once(args, use->plan);
        if (code >= 0)
            return code;
    }
    cli_wait_begin(args->quiet);
    const enum fw_status status = cli_plan(args, &planned, &notes, &err);
    cli_wait_end();
    cli_print_notes(&notes, args->quiet);
    fw_notes_release(&notes);
    if (status)
        return cli_report(&err);
    int code = use->farm ? cli_begun(args, &planned) : 0;
    if (!code && use->farm)
        code = use->farm(&planned, args);
    else if (use->plan)
        code = use->log == CLI_LOG_NONE
                   ? use->plan(planned.plan, args)
                   : cli_as_it_stands(args, &planned, use->log, use->plan);
    fw_plan_free(planned.plan);
    fw_farm_free(planned.farm);
    return code;
}

int cli_with_plan(const struct cli_command *command,
                  const struct cli_args *args,
                  int (*use)(const struct fw_plan *plan,
                             const struct cli_args *args))
{
    return with(command, args, &(struct cli_use){.plan = use});
}

int cli_with_farm(const struct cli_command *command,
                  const struct cli_args *args,
                  int (*use)(const struct cli_making *planned,
                             const struct cli_args *args))
{
    return with(command, args, &(struct cli_use){.farm = use});
}

int cli_with_log(const struct cli_command *command, const struct cli_args *args,
                 enum cli_log log,
                 int (*use)(const struct fw_plan *plan,
                            const struct cli_args *args))
{
    return with(command, args, &(struct cli_use){.plan = use, .log = log});
}
