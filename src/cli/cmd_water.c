#include "cli/cli.h"

static int run(int argc, char **argv);

const struct cli_command cli_water = {
    "water",
    run,
    "where water stands: trips against points, and what a pipe brings",
    "PLAN | FARM.yaml | FIELDS... | --pipe 300m --flow ...",
    "For a plan: what the flock drinks as expected, on a hot day and to have "
    "on hand,\n"
    "where water points would serve it best, and trips, minutes, walk and "
    "money "
    "of\n"
    "each way side by side, today's first. With -o DIR a picture of it in "
    "DIR.\n"
    "With --pipe, and without a map: what is lost in one pipe from where the "
    "water\n"
    "comes from to a trough, what is left for its valve, and which bore is "
    "enough.",
    CLI_ONE_PIPE | CLI_POINTS | CLI_OUT | CLI_FARM,
};

static int run(int argc, char **argv)
{
    struct cli_args args;
    int code = cli_parse(&cli_water, argc, argv, &args);
    if (!code && args.help)
        cli_print_help(&cli_water);
    else if (!code)
        code = args.input_count > 0 ? cli_water_plan(&cli_water, &args)
                                    : cli_water_pipe(&cli_water, &args);
    cli_args_release(&args);
    return code;
}
