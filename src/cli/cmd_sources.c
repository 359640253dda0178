#include "cli/cli.h"

static int run(int argc, char **argv);

const struct cli_command cli_sources = {
    "sources",
    run,
    "every figure that a plan rests on, and where it is from",
    "[WORD...]",
    "The register of figures: what each is, its range, whether it was "
    "published "
    "or\n"
    "is common practice, and which key of a farm file tells it. With words, "
    "the\n"
    "rows that have each of them in their name, what they are or their source.",
    0,
};

static int run(int argc, char **argv)
{
    struct cli_args args;
    struct fw_error err;
    char *text;
    int code = cli_parse(&cli_sources, argc, argv, &args);
    if (!code && args.help) {
        cli_print_help(&cli_sources);
    } else if (!code) {
        const enum fw_status status =
            args.json
                ? fw_report_sources_json(args.inputs, args.input_count, &text,
                                         &err)
                : fw_report_sources(args.inputs, args.input_count, &text, &err);
        code = status ? cli_report(&err) : cli_print(text);
    }
    cli_args_release(&args);
    return code;
}
