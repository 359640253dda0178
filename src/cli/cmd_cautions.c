#include "cli/cli.h"

static int run(int argc, char **argv);

const struct cli_command cli_cautions = {
    "cautions",
    run,
    "the page of cautions for this plan",
    "[PLAN | FARM.yaml | FIELDS...]",
    "What to mind about live fence, people first, then sheep: those that "
    "concern\n"
    "the plan, and what was found on its map. Without a plan all of them.",
    CLI_FARM,
};

static int print(const struct fw_plan *plan, const struct cli_args *args)
{
    struct fw_error err;
    char *text;
    if (args->json ? fw_report_cautions_json(plan, &text, &err)
                   : fw_report_cautions(plan, &text, &err))
        return cli_report(&err);
    return cli_print(text);
}

static int run(int argc, char **argv)
{
    struct cli_args args;
    int code = cli_parse(&cli_cautions, argc, argv, &args);
    if (!code && args.help)
        cli_print_help(&cli_cautions);
    else if (!code)
        code = args.input_count ? cli_with_plan(&cli_cautions, &args, print)
                                : print(NULL, &args);
    cli_args_release(&args);
    return code;
}
