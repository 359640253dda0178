#include "cli/cli.h"
#include "export/export.h"
#include "picture/picture.h"

#include <stdio.h>
#include <string.h>

static int run(int argc, char **argv);

const struct cli_command cli_check = {
    "check",
    run,
    "read everything; say what is there, what is missing, what is wrong",
    "FARM.yaml | FIELDS...",
    "Draws each field with its corners numbered, its sides lengthed and north\n"
    "up, so that a place can be named: corner:3, side:2@40m. Says what a plan\n"
    "still needs. With -o DIR the drawing is DIR/field.svg.",
    CLI_OUT | CLI_FARM,
};

static enum fw_status put_svg(const char *folder, const char *svg,
                              const struct fw_set_rules *rules,
                              struct fw_error *err)
{
    static const char *const names[] = {"field.svg"};
    struct fw_set *set = NULL;
    enum fw_status status = fw_folder_make(folder, err);
    if (!status)
        status = fw_set_begin(folder, names, 1, rules, &set, err);
    if (!status)
        status = fw_set_put(set, svg, strlen(svg), err);
    if (!status)
        status = fw_set_done(set, err);
    fw_set_free(set);
    return status;
}

static enum fw_status write_svg(const struct fw_farm *farm,
                                const struct cli_args *args,
                                struct fw_error *err)
{
    const struct fw_set_rules rules = {
        .inputs = &farm->inputs,
        .force = args->force,
        .begin = FW_REPORT_SVG_BEGIN,
    };
    char *svg;
    enum fw_status status = fw_report_field_svg(farm, &svg, err);
    if (status)
        return status;
    status = put_svg(args->out, svg, &rules, err);
    fw_bytes_free(svg);
    return status;
}

static int report(const struct fw_farm *farm, const struct cli_args *args,
                  size_t bad)
{
    struct fw_error err;
    char *text;
    if (args->out && write_svg(farm, args, &err))
        return cli_report(&err);
    if (args->json ? fw_report_check_json(farm, &text, &err)
                   : fw_report_check(farm, cli_colour(), &text, &err))
        return cli_report(&err);
    const int code = cli_print(text);
    if (code || bad == 0)
        return code;
    fprintf(stderr, "foldwright: %zu feature%s cannot be used, as said above\n",
            bad, bad == 1 ? "" : "s");
    return 3;
}

static int check(const struct cli_args *args)
{
    struct fw_error err;
    struct fw_notes notes = {0};
    struct fw_farm *farm;
    size_t bad = 0;
    const enum fw_status status =
        cli_farm(args, true, true, &farm, &bad, &notes, &err);
    /* What cannot be used is said even under --quiet: it is the answer. */
    cli_print_notes(&notes, args->quiet && bad == 0);
    fw_notes_release(&notes);
    if (status)
        return cli_report(&err);
    const int code = report(farm, args, bad);
    fw_farm_free(farm);
    return code;
}

static int run(int argc, char **argv)
{
    struct cli_args args;
    int code = cli_parse(&cli_check, argc, argv, &args);
    if (!code && args.help)
        cli_print_help(&cli_check);
    else if (!code && args.input_count == 0)
        code = cli_usage(&cli_check, "name a farm file or a field file");
    else if (!code)
        code = check(&args);
    cli_args_release(&args);
    return code;
}
