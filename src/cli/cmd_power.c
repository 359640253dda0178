#include "cli/cli.h"

static int run(int argc, char **argv);

const struct cli_command cli_power = {
    "power",
    run,
    "energizer, earth, and the voltage along the fence",
    "PLAN | FARM.yaml | FIELDS... | --run LENGTH",
    "For a plan: the volts of every day, the worst place, the energizer, its "
    "earth\n"
    "and what feeds it; with --fault what a tester reads from post to post; "
    "with\n"
    "--measured what the readings say of the grass and the earth. With --run, "
    "and\n"
    "without a map: what a tester shows at both ends of one run of fence and "
    "what\n"
    "is left while a sheep touches it.",
    CLI_LINE | CLI_FARM | CLI_ON | CLI_TESTER,
};

static int run(int argc, char **argv)
{
    struct cli_args args;
    int code = cli_parse(&cli_power, argc, argv, &args);
    if (!code && args.help)
        cli_print_help(&cli_power);
    else if (!code)
        code = args.input_count > 0 ? cli_power_plan(&cli_power, &args)
                                    : cli_power_line(&cli_power, &args);
    cli_args_release(&args);
    return code;
}
