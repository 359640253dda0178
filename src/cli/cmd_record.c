#include "cli/cli.h"

#include "log/log.h"
#include "picture/season.h"
#include "record/record.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

static int run(int argc, char **argv);

const struct cli_command cli_record = {
    "record",
    run,
    "write down what really happened, and see what follows from it",
    "PLAN | FARM.yaml",
    "One line a day, every part of it optional, in any order; without --date "
    "it is\n"
    "the day after the last one written down. What they left corrects the "
    "next\n"
    "fence. The log lies beside the farm file, or in the plan's folder; lines "
    "are\n"
    "only ever added to it. --show tells all days, and with -o writes them: "
    "FILE.csv\n"
    "planned against real, FILE.svg the same as a picture, FILE.geojson the "
    "ground\n"
    "that is grazed.",
    CLI_DAY,
};

/* ---- what the options say ---- */

static enum fw_status line_of(const struct cli_args *args, enum fw_units units,
                              struct fw_log_line *line, struct fw_error *err)
{
    struct fw_quantities *quantities;
    *line = (struct fw_log_line){.day = FW_NO_DAY};
    line->kind = args->correct ? FW_LOG_CORRECT : FW_LOG_DAY;
    enum fw_status status = fw_quantities_new(&quantities, err);
    if (status)
        return status;
    if (args->date)
        status = fw_date_read(args->date, &line->day, err);
    for (int i = 0; !status && i < FW_LOG_PARTS; i++)
        if (args->parts[i])
            status =
                fw_log_value_read(quantities, (enum fw_log_part)i,
                                  args->parts[i], units, &line->values[i], err);
    fw_quantities_free(quantities);
    return status;
}

/* A fence that was walked is told in paces. */
static enum fw_status take_track(const struct fw_log *log,
                                 const struct cli_args *args,
                                 struct cli_args *out, char text[FW_LOG_TEXT],
                                 struct fw_error *err)
{
    const char *fence = args->parts[FW_LOG_FENCE];
    *out = *args;
    if (!fence || !strstr(fence, ".gpx"))
        return FW_OK;
    out->parts[FW_LOG_FENCE] = text;
    struct fw_notes notes = {0};
    const enum fw_status status = fw_log_walked(log, fence, text, &notes, err);
    cli_print_notes(&notes, args->quiet);
    fw_notes_release(&notes);
    return status;
}

static enum fw_status say_one(struct fw_log *log, const struct cli_args *told,
                              struct fw_error *err)
{
    struct fw_log_line line;
    struct cli_args args;
    char paces[FW_LOG_TEXT];
    enum fw_status status = take_track(log, told, &args, paces, err);
    if (!status)
        status = line_of(&args, log->plan->units, &line, err);
    if (!status && args.correct && !args.date)
        line.day = log->next_day - 1;
    return status ? status : fw_log_say(log, &line, err);
}

static enum fw_status say_table(struct fw_log *log, const char *path,
                                struct fw_error *err)
{
    struct fw_log_lines lines;
    enum fw_status status =
        fw_log_csv_read(path, log->plan->units, &lines, err);
    if (status)
        return status;
    for (size_t i = 0; !status && i < lines.count; i++) {
        struct fw_error why;
        status = fw_log_say(log, &lines.items[i], &why);
        if (status) {
            err->status = status;
            snprintf(err->text, sizeof err->text, "%.300s:%zu: %.600s", path,
                     lines.items[i].number, why.text);
        }
    }
    fw_log_lines_release(&lines);
    return status;
}

/* ---- what is done ---- */

static int print_day(const struct fw_log *log, const struct cli_args *args)
{
    struct fw_error err;
    char *text;
    if (!args->quiet && log->said_count > 1)
        fprintf(stderr, "foldwright: %zu days are written down\n",
                log->said_count);
    if (!args->quiet && log->silent_days)
        fprintf(stderr,
                "foldwright: note: %d day%s before without a line: as planned, "
                "and nobody looked\n",
                log->silent_days, log->silent_days == 1 ? "" : "s");
    const enum fw_status status =
        args->json ? fw_report_recorded_json(log, log->said_day, &text, &err)
                   : fw_report_recorded(log, log->said_day, &text, &err);
    return status ? cli_report(&err) : cli_print(text);
}

static int add(struct fw_log *log, const struct cli_args *args,
               const struct cli_making *planned, const char *path)
{
    struct fw_error err;
    enum fw_status status = args->days ? say_table(log, args->days, &err)
                                       : say_one(log, args, &err);
    if (!status)
        status = fw_log_keep(log, &err);
    if (status)
        return cli_report(&err);
    char *base = cli_base_path(planned, args->inputs[0]);
    cli_keep(log, path, base);
    free(base);
    return print_day(log, args);
}

static int undo(struct fw_log *log)
{
    struct fw_error err;
    int day;
    char date[FW_DATE_TEXT];
    enum fw_status status = fw_log_undo(log, &day, &err);
    if (!status)
        status = fw_log_keep(log, &err);
    if (status)
        return cli_report(&err);
    printf("The last line, of %s, is taken back.\n", fw_date_write(day, date));
    return 0;
}

static bool ends_with(const char *text, const char *end)
{
    const size_t length = strlen(text), of = strlen(end);
    return length >= of && strcmp(text + length - of, end) == 0;
}

static int write_out(const struct fw_log *log, const char *path)
{
    struct fw_error err;
    char *bytes;
    size_t count;
    enum fw_status status =
        ends_with(path, ".csv") ? fw_report_days_csv(log, &bytes, &count, &err)
        : ends_with(path, ".svg")
            ? fw_report_season_svg(log, &bytes, &count, &err)
            : fw_report_grazed(log, &bytes, &count, &err);
    if (status)
        return cli_report(&err);
    status = fw_file_put(path, bytes, count, &err);
    fw_bytes_free(bytes);
    return status ? cli_report(&err) : 0;
}

static int show(const struct fw_log *log, const struct cli_args *args)
{
    struct fw_error err;
    char *text;
    if (args->out)
        return write_out(log, args->out);
    if (fw_report_days(log, cli_colour(), &text, &err))
        return cli_report(&err);
    return cli_print(text);
}

static int open_log(const struct cli_making *planned,
                    const struct cli_args *args, const char *path,
                    struct fw_log **log, struct fw_farm **farm)
{
    struct fw_error err;
    struct fw_notes notes = {0};
    struct fw_log_request request = {.path = path, .writer = !args->show};
    enum fw_status status =
        cli_making(args, planned, farm, &request.making, &err);
    if (!status)
        status = fw_log_open(planned->plan, &request, log, &notes, &err);
    cli_print_notes(&notes, args->quiet);
    fw_notes_release(&notes);
    return status ? cli_report(&err) : 0;
}

static int use(const struct cli_making *planned, const struct cli_args *args)
{
    struct fw_log *log = NULL;
    struct fw_farm *farm = NULL;
    char *path = cli_log_path(planned->plan, args->inputs[0]);
    if (!path) {
        fputs("foldwright: out of memory\n", stderr);
        return 5;
    }
    int code = open_log(planned, args, path, &log, &farm);
    if (!code && log)
        code = args->show   ? show(log, args)
               : args->undo ? undo(log)
                            : add(log, args, planned, path);
    free(path);
    fw_log_free(log);
    fw_farm_free(farm);
    return code;
}

/* NULL: what was asked goes together. */
static const char *wrong(const struct cli_args *args)
{
    bool parts = args->date || args->correct;
    for (int i = 0; i < FW_LOG_PARTS; i++)
        parts |= args->parts[i] != NULL;
    if (parts + args->undo + args->show + (args->days != NULL) > 1)
        return "say one day, or --days, or --undo, or --show, and nothing "
               "beside";
    if (args->out && !args->show)
        return "-o goes with --show";
    if (args->out && !ends_with(args->out, ".csv") &&
        !ends_with(args->out, ".svg") && !ends_with(args->out, ".geojson"))
        return "-o takes a name that ends in .csv, .svg or .geojson";
    return NULL;
}

static int run(int argc, char **argv)
{
    struct cli_args args;
    int code = cli_parse(&cli_record, argc, argv, &args);
    if (!code && args.help)
        cli_print_help(&cli_record);
    else if (!code && args.input_count != 1)
        code = cli_usage(&cli_record,
                         "name the folder that plan wrote, or the farm file");
    else if (!code && access(args.inputs[0], F_OK) == 0 &&
             !fw_plan_json_is(args.inputs[0]) &&
             !fw_farm_is_farm_file(args.inputs[0]))
        code = cli_usage(&cli_record,
                         "\"%s\" is no plan and no farm file; the log of bare "
                         "fields lies in the folder of their plan: write one "
                         "with plan -o, and name that",
                         args.inputs[0]);
    else if (!code && wrong(&args))
        code = cli_usage(&cli_record, "%s", wrong(&args));
    else if (!code)
        code = cli_with_farm(&cli_record, &args, use);
    cli_args_release(&args);
    return code;
}
