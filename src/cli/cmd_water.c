#include "cli/cli.h"

static int run(int argc, char **argv);

const struct cli_command cli_water = {
    "water",
    run,
    "what a pipe brings to a trough",
    "--pipe LENGTH --flow FLOW",
    "Without a map: what is lost in one pipe from where the water comes from "
    "to a\n"
    "trough, what is left for its valve, and which bore is enough.",
    CLI_ONE_PIPE,
};

static int run(int argc, char **argv)
{
    struct cli_args args;
    int code = cli_parse(&cli_water, argc, argv, &args);
    if (!code && args.help)
        cli_print_help(&cli_water);
    else if (!code)
        code = cli_water_pipe(&cli_water, &args);
    cli_args_release(&args);
    return code;
}
