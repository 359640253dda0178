#include "base/fail.h"
#include "cli/cli.h"
#include "export/export.h"
#include "report/weather.h"
#include "sheet/sheet.h"

#include <math.h>
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
    "the seven days from then on are written there as a pocket card, PDF. "
    "Told\n"
    "of today's weather it says how far the fence goes because of it, which\n"
    "paddock suits better, and what else to do.",
    CLI_ON | CLI_ALL | CLI_OUT_FILE | CLI_FARM | CLI_WEATHER,
};

static enum fw_status choose(const struct fw_plan *plan,
                             const struct cli_args *args, size_t *move,
                             struct fw_error *err)
{
    int day;
    enum fw_status status = cli_today(args, &day, err);
    if (status)
        return status;
    /* What is made is not looked for, unless somebody asks for its day. */
    for (size_t i = fw_plan_next_move(plan);
         !args->on && i < plan->time.move_count; i++)
        if (plan->time.moves[i].day >= day) {
            *move = i;
            return FW_OK;
        }
    return fw_plan_find_move(plan, day, move, err);
}

/* ---- today's weather ---- */

static enum fw_status read_one(struct fw_quantities *quantities,
                               const struct cli_args *args,
                               enum cli_value value, enum fw_kind kind,
                               double *out, struct fw_error *err)
{
    if (!args->values[value])
        return FW_OK;
    const enum fw_status status = fw_quantity_read(
        quantities, args->values[value], kind, FW_METRIC, 0, out, err);
    if (status)
        cli_name_value(value, err);
    return status;
}

/* Beyond these nobody keeps sheep outside: a slip of the pen. */
static enum fw_status check(const struct fw_weather *weather,
                            const struct cli_args *args, double lasts_days,
                            struct fw_error *err)
{
    const double coldest_c = -60, hottest_c = 60, deepest_m = 5;
    const double longest_days = 60;
    if (weather->cold_c > weather->heat_c)
        return fw_fail(err, FW_EUSAGE,
                       "--cold %s is warmer than --heat %s; --cold is the "
                       "night's, --heat the day's",
                       args->values[CLI_COLD], args->values[CLI_HEAT]);
    if (weather->cold_c < coldest_c || weather->cold_c > hottest_c)
        return fw_fail(err, FW_EUSAGE,
                       "--cold: \"%s\" is no weather for sheep; expected -60 C "
                       "to 60 C",
                       args->values[CLI_COLD]);
    if (weather->heat_c < coldest_c || weather->heat_c > hottest_c)
        return fw_fail(err, FW_EUSAGE,
                       "--heat: \"%s\" is no weather for sheep; expected -60 C "
                       "to 60 C",
                       args->values[CLI_HEAT]);
    if (weather->snow_m > deepest_m)
        return fw_fail(err, FW_EUSAGE,
                       "--snow: \"%s\" is out of range; expected up to 5 m",
                       args->values[CLI_SNOW]);
    if (args->values[CLI_LASTS] &&
        !(lasts_days >= 1 && lasts_days <= longest_days))
        return fw_fail(err, FW_EUSAGE,
                       "--lasts: \"%s\" is out of range; expected 1 to 60 days",
                       args->values[CLI_LASTS]);
    return FW_OK;
}

/* *given: some is told. */
static enum fw_status weather_of(const struct cli_args *args,
                                 struct fw_weather *out, bool *given,
                                 struct fw_error *err)
{
    struct fw_quantities *quantities;
    double lasts_days = 0;
    *out = fw_weather_none();
    out->wet = args->wet;
    enum fw_status status = fw_quantities_new(&quantities, err);
    if (status)
        return status;
    status = read_one(quantities, args, CLI_COLD, FW_KIND_TEMPERATURE,
                      &out->cold_c, err);
    if (!status)
        status = read_one(quantities, args, CLI_HEAT, FW_KIND_TEMPERATURE,
                          &out->heat_c, err);
    if (!status)
        status = read_one(quantities, args, CLI_SNOW, FW_KIND_LENGTH,
                          &out->snow_m, err);
    if (!status)
        status = read_one(quantities, args, CLI_LASTS, FW_KIND_DURATION,
                          &lasts_days, err);
    fw_quantities_free(quantities);
    if (!status)
        status = check(out, args, lasts_days, err);
    out->days = (int)ceil(lasts_days);
    *given = false;
    for (int kind = 0; kind < FW_WEATHER_COUNT; kind++)
        *given |= fw_weather_is(out, (enum fw_weather_kind)kind);
    if (!status && !*given && args->values[CLI_LASTS])
        status = fw_fail(err, FW_EUSAGE,
                         "--lasts goes with --wet, --cold, --heat or --snow");
    return status;
}

static int write_card(const struct fw_plan *plan, const struct cli_args *args,
                      size_t move, const struct fw_weather *weather)
{
    struct fw_error err;
    long long epoch_s;
    char *bytes;
    size_t count;
    enum fw_status status = cli_epoch(&epoch_s, &err);
    if (!status) {
        const struct fw_card_asked of = {plan, move, weather};
        status = fw_sheet_card(&of, epoch_s, &bytes, &count, &err);
    }
    return status ? cli_report(&err)
                  : cli_put_file(&cli_move, args, &plan->inputs, bytes, count);
}

static int print(const struct fw_plan *plan, const struct cli_args *args)
{
    struct fw_error err;
    size_t move;
    char *text;
    struct fw_weather told = fw_weather_none();
    bool given = false;
    enum fw_status status = choose(plan, args, &move, &err);
    if (!status)
        status = weather_of(args, &told, &given, &err);
    const struct fw_weather *weather = given ? &told : NULL;
    if (!status && args->out)
        return write_card(plan, args, move, weather);
    if (!status)
        status = args->json
                     ? fw_report_move_json_in(plan, move, weather, &text, &err)
                     : fw_report_move_in(plan, move, weather,
                                         cli_how(args, true), &text, &err);
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
        code = cli_with_log(&cli_move, &args, CLI_LOG_NOW, print);
    cli_args_release(&args);
    return code;
}
