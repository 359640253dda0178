#include "cli/cli.h"

static int run(int argc, char **argv);

const struct cli_command cli_power = {
    "power",
    run,
    "the voltage along a fence, and what a sheep gets of it",
    "--run LENGTH",
    "What a tester shows at both ends of one run of fence and what is left "
    "while a\n"
    "sheep touches it, from what its wire, its grass, the energizer and the "
    "earth\n"
    "resist. No map is needed.",
    CLI_LINE,
};

static int run(int argc, char **argv)
{
    struct cli_args args;
    int code = cli_parse(&cli_power, argc, argv, &args);
    if (!code && args.help)
        cli_print_help(&cli_power);
    else if (!code && args.input_count > 0)
        code = cli_usage(&cli_power,
                         "\"%s\" is not an option; a fence is told by options "
                         "such as --run 400m",
                         args.inputs[0]);
    else if (!code)
        code = cli_power_line(&cli_power, &args);
    cli_args_release(&args);
    return code;
}
