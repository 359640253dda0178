#include "cli/cli.h"
#include "export/export.h"

#include <stdlib.h>

static int run(int argc, char **argv);

const struct cli_command cli_move = {
    "move",
    run,
    "the card for one day: where the fence goes, what to carry",
    "PLAN | FARM.yaml | FIELDS...",
    "The work of one move in its order. Before it stand the dangers: all of\n"
    "them on the first day, then those of the ground of the day; --all has "
    "all\n"
    "on any. Without --on it is today's move, or the next one. With -o FILE\n"
    "the seven days from then on are written there as a pocket card, PDF.",
    CLI_ON | CLI_ALL | CLI_OUT_FILE | CLI_FARM,
};

static enum fw_status choose(const struct fw_plan *plan,
                             const struct cli_args *args, size_t *move,
                             struct fw_error *err)
{
    int day;
    enum fw_status status = cli_today(args, &day, err);
    if (status)
        return status;
    for (size_t i = 0; !args->on && i < plan->time.move_count; i++)
        if (plan->time.moves[i].day >= day) {
            *move = i;
            return FW_OK;
        }
    return fw_plan_find_move(plan, day, move, err);
}

static int write_card(const struct fw_plan *plan, const struct cli_args *args,
                      size_t move)
{
    struct fw_error err;
    long long epoch_s;
    char *bytes;
    size_t count;
    enum fw_status status = cli_epoch(&epoch_s, &err);
    if (!status)
        status = fw_report_card(plan, move, epoch_s, &bytes, &count, &err);
    return status ? cli_report(&err)
                  : cli_put_file(&cli_move, args, &plan->inputs, bytes, count);
}

static int print(const struct fw_plan *plan, const struct cli_args *args)
{
    struct fw_error err;
    size_t move;
    char *text;
    enum fw_status status = choose(plan, args, &move, &err);
    if (!status && args->out)
        return write_card(plan, args, move);
    if (!status)
        status = args->json ? fw_report_move_json(plan, move, &text, &err)
                            : fw_report_move(plan, move, cli_how(args, true),
                                             &text, &err);
    return status ? cli_report(&err) : cli_print(text);
}

static int run(int argc, char **argv)
{
    struct cli_args args;
    int code = cli_parse(&cli_move, argc, argv, &args);
    if (!code && args.help)
        cli_print_help(&cli_move);
    else if (!code && args.input_count == 0)
        code = cli_usage(&cli_move, "name the folder that plan wrote");
    else if (!code)
        code = cli_with_standing(&cli_move, &args, print);
    cli_args_release(&args);
    return code;
}
