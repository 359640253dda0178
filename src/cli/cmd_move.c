#include "cli/cli.h"

#include <stdlib.h>
#include <time.h>

static int run(int argc, char **argv);

const struct cli_command cli_move = {
    "move",
    run,
    "the card for one day: where the fence goes, what to carry",
    "PLAN | FARM.yaml | FIELDS...",
    "The work of one move in its order. Before it stand the dangers: all of\n"
    "them on the first day, then those of the ground of the day; --all has "
    "all\n"
    "on any. Without --on it is today's move, or the next one.",
    CLI_ON | CLI_ALL | CLI_FARM,
};

/* Today here, unless SOURCE_DATE_EPOCH fixes it. */
static enum fw_status today(int *day, struct fw_error *err)
{
    long long epoch_s;
    const enum fw_status status = cli_epoch(&epoch_s, err);
    if (status)
        return status;
    if (epoch_s >= 0) {
        *day = (int)(epoch_s / 86400);
        return FW_OK;
    }
    /* A clock beyond what a date can say gives none that can be read. */
    const time_t now = time(NULL);
    struct tm parts = {.tm_mday = 0};
    char text[FW_DATE_TEXT] = "";
    localtime_r(&now, &parts);
    strftime(text, sizeof text, "%Y-%m-%d", &parts);
    return fw_date_read(text, day, err);
}

static enum fw_status choose(const struct fw_plan *plan, const char *on,
                             size_t *move, struct fw_error *err)
{
    int day;
    enum fw_status status = on ? fw_date_read(on, &day, err) : today(&day, err);
    if (status)
        return status;
    for (size_t i = 0; !on && i < plan->time.move_count; i++)
        if (plan->time.moves[i].day >= day) {
            *move = i;
            return FW_OK;
        }
    return fw_plan_find_move(plan, day, move, err);
}

static int print(const struct fw_plan *plan, const struct cli_args *args)
{
    struct fw_error err;
    size_t move;
    char *text;
    enum fw_status status = choose(plan, args->on, &move, &err);
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
        code = cli_with_plan(&cli_move, &args, print);
    cli_args_release(&args);
    return code;
}
