#include "cli/cli.h"
#include "export/export.h"

#include <stdio.h>
#include <string.h>
#include <unistd.h>

static int run(int argc, char **argv);

const struct cli_command cli_plan_command = {
    "plan",
    run,
    "choose a layout and write the whole plan",
    "FARM.yaml | FIELDS...",
    "Cuts the fields into paddocks that feed the flock for each stay, lays "
    "out\n"
    "the moved fence, places water, sizes the energizer and dates the moves.\n"
    "With -o DIR writes plan.gpkg, plan.geojson, plan.json, materials.csv,\n"
    "moves.csv, fence.gpx, ahead.svg, to look at map.html, and to print "
    "card.pdf\n"
    "and sheet.pdf; without it only the report is printed:\n"
    "what is dangerous, the next move, the plan in short. --all prints the "
    "rest.\n"
    "Where the farm's log has begun, days that are over stay as they were.",
    CLI_OUT | CLI_OUT_CRS | CLI_FORMAT | CLI_ALL | CLI_FARM,
};

static enum fw_status one_gpkg(const struct fw_plan *plan, const char *crs,
                               long long epoch_s, char **out, size_t *count,
                               struct fw_error *err)
{
    struct fw_table tables[FW_REPORT_LAYERS];
    enum fw_status status = fw_report_tables(plan, crs, tables, err);
    if (status)
        return status;
    status = fw_gpkg_bytes(tables, FW_REPORT_LAYERS, crs ? crs : plan->crs,
                           epoch_s >= 0 ? epoch_s : plan->start_day * 86400LL,
                           out, count, err);
    for (size_t i = 0; i < FW_REPORT_LAYERS; i++)
        fw_table_release(&tables[i]);
    return status;
}

static enum fw_status one_file(const struct fw_plan *plan,
                               const struct cli_args *args, long long epoch_s,
                               char **out, size_t *count, struct fw_error *err)
{
    const char *format = args->format ? args->format : "geojson";
    if (strcmp(format, "geojson") == 0)
        return fw_report_geojson(plan, out, count, err);
    if (strcmp(format, "json") == 0)
        return fw_plan_json_write(plan, NULL, 0, out, count, err);
    if (strcmp(format, "gpx") == 0)
        return fw_report_gpx(plan, fw_plan_next_move(plan), out, count, err);
    if (strcmp(format, "moves") == 0)
        return fw_report_moves_csv(plan, out, count, err);
    if (strcmp(format, "materials") == 0)
        return fw_report_materials_csv(plan, out, count, err);
    if (strcmp(format, "card") == 0)
        return fw_report_card(plan, fw_plan_next_move(plan), epoch_s, out,
                              count, err);
    if (strcmp(format, "map") == 0)
        return fw_report_map_page(plan, args->tiles, out, count, err);
    if (strcmp(format, "sheet") == 0)
        return fw_report_sheet(plan, "pdf", epoch_s, out, count, err);
    if (strcmp(format, "svg") == 0 || strcmp(format, "png") == 0)
        return fw_report_sheet(plan, format, epoch_s, out, count, err);
    return one_gpkg(plan, args->out_crs, epoch_s, out, count, err);
}

static int write_stdout(const struct fw_plan *plan, const struct cli_args *args,
                        long long epoch_s)
{
    struct fw_error err;
    char *bytes;
    size_t count;
    if (one_file(plan, args, epoch_s, &bytes, &count, &err))
        return cli_report(&err);
    const bool bad =
        fwrite(bytes, 1, count, stdout) != count || fflush(stdout) == EOF;
    fw_bytes_free(bytes);
    if (!bad)
        return 0;
    perror("foldwright: standard output");
    return 4;
}

/* The report goes to standard output, or to standard error when a file goes
 * there. */
static int say(const struct fw_plan *plan, const struct cli_args *args,
               bool file_on_stdout)
{
    struct fw_error err;
    char *text;
    size_t count;
    if (args->json && !file_on_stdout) {
        if (fw_plan_json_write(plan, NULL, 0, &text, &count, &err))
            return cli_report(&err);
        return cli_print(text);
    }
    if (fw_report_text(plan, cli_how(args, !file_on_stdout), &text, &err))
        return cli_report(&err);
    if (!file_on_stdout)
        return cli_print(text);
    if (!args->quiet)
        fputs(text, stderr);
    fw_bytes_free(text);
    return 0;
}

/* What is looked at goes with the data, unless they are asked for alone; to
 * print it takes a font. */
static unsigned files_wanted(const struct cli_args *args)
{
    struct fw_error err;
    const char *format = args->format ? args->format : "";
    if (strcmp(format, "data") == 0)
        return 0;
    if (fw_report_can_print(&err)) {
        if (!args->quiet)
            fprintf(stderr, "foldwright: nothing to print was written: %s\n",
                    err.text);
        return FW_REPORT_PAGE;
    }
    return FW_REPORT_PAGE | FW_REPORT_PRINTED |
           (strcmp(format, "svg") == 0   ? FW_REPORT_SVG
            : strcmp(format, "png") == 0 ? FW_REPORT_PNG
                                         : 0);
}

static enum fw_status write_folder(const struct fw_plan *plan,
                                   const struct cli_args *args,
                                   long long epoch_s, struct fw_error *err)
{
    const struct fw_report_out how = {args->out_crs, epoch_s, args->force,
                                      files_wanted(args), args->tiles};
    cli_wait_begin(args->quiet);
    const enum fw_status status = fw_report_folder(plan, args->out, &how, err);
    cli_wait_end();
    return status;
}

static int give(const struct fw_plan *plan, const struct cli_args *args)
{
    struct fw_error err;
    long long epoch_s;
    if (cli_epoch(&epoch_s, &err))
        return cli_report(&err);
    const bool file_on_stdout = args->out && strcmp(args->out, "-") == 0;
    if (file_on_stdout) {
        const int code = write_stdout(plan, args, epoch_s);
        return code ? code : say(plan, args, true);
    }
    if (args->out && write_folder(plan, args, epoch_s, &err))
        return cli_report(&err);
    const int code = say(plan, args, false);
    if (!code && !args->quiet && !args->json) {
        if (args->out)
            fprintf(stderr, "foldwright: the plan is in %s\n", args->out);
        else
            fputs("foldwright: nothing was written; -o out/ writes the "
                  "files\n",
                  stderr);
    }
    return code;
}

/* Those that one file is made of, those of a folder, or of both. */
enum { ONE_FILE = 1, FOLDER = 2 };

static const struct {
    const char *name;
    unsigned of;
} formats[] = {
    {"geojson", ONE_FILE},      {"json", ONE_FILE},
    {"gpkg", ONE_FILE},         {"gpx", ONE_FILE},
    {"moves", ONE_FILE},        {"materials", ONE_FILE},
    {"card", ONE_FILE},         {"sheet", ONE_FILE},
    {"map", ONE_FILE},          {"svg", ONE_FILE | FOLDER},
    {"png", ONE_FILE | FOLDER}, {"data", FOLDER},
};

static int check_format(const struct cli_args *args)
{
    const unsigned wanted =
        args->out && strcmp(args->out, "-") == 0 ? ONE_FILE : FOLDER;
    char known[128] = "";
    for (size_t i = 0; i < sizeof formats / sizeof formats[0]; i++) {
        if (!(formats[i].of & wanted))
            continue;
        if (strcmp(args->format, formats[i].name) == 0)
            return 0;
        snprintf(known + strlen(known), sizeof known - strlen(known), "%s%s",
                 known[0] ? ", " : "", formats[i].name);
    }
    return cli_usage(&cli_plan_command, "--format: \"%s\" is none of %s%s",
                     args->format, known,
                     wanted == FOLDER ? "; one file goes to -o -" : "");
}

/* Bare fields that are planned anew into the folder of a log: what that tells
 * was done by the plan that lies there. */
static int refuse_over_log(const struct cli_args *args)
{
    char path[4096];
    if (!args->out || args->force || fw_farm_is_farm_file(args->inputs[0]) ||
        fw_plan_json_is(args->inputs[0]))
        return 0;
    snprintf(path, sizeof path, "%s/days.txt", args->out);
    if (access(path, F_OK) != 0)
        return 0;
    fprintf(stderr,
            "foldwright: %s tells what was done by the plan that lies there; "
            "foldwright plan %s -o %s goes on from it, and another folder, or "
            "--force, plans the fields from the beginning\n",
            path, args->out, args->out);
    return 4;
}

static int run(int argc, char **argv)
{
    struct cli_args args;
    struct fw_error err;
    long long epoch_s;
    int code = cli_parse(&cli_plan_command, argc, argv, &args);
    if (!code && args.help)
        cli_print_help(&cli_plan_command);
    else if (!code && args.input_count == 0)
        code = cli_usage(&cli_plan_command, "name a farm file or a field file");
    else if (!code && args.format)
        code = check_format(&args);
    if (!code && args.tiles && fw_report_tiles_check(args.tiles, &err))
        code = cli_usage(&cli_plan_command, "--tiles: %s", err.text);
    if (!code && !args.help && args.input_count && cli_epoch(&epoch_s, &err))
        code = cli_report(&err); /* before minutes of planning, not after */
    if (!code && !args.help && args.input_count)
        code = refuse_over_log(&args);
    if (!code && !args.help && args.input_count)
        code = cli_with_log(&cli_plan_command, &args, CLI_LOG_SEASON, give);
    cli_args_release(&args);
    return code;
}
