/* What one pipe brings, from options alone. */
#include "cli/cli.h"

#include "figures/water.h"
#include "water/pipe.h"

#include <math.h>
#include <stdio.h>

static const struct {
    enum cli_value value;
    enum fw_kind kind;
    bool wanted;
} rows[] = {
    {CLI_PIPE, FW_KIND_LENGTH, true},
    {CLI_BORE, FW_KIND_LENGTH, false},
    {CLI_FLOW, FW_KIND_FLOW, true},
    {CLI_C, FW_KIND_COUNT, false},
    {CLI_FALL, FW_KIND_LENGTH, false},
    {CLI_RISE, FW_KIND_LENGTH, false},
    {CLI_PRESSURE, FW_KIND_PRESSURE, false},
    {CLI_VALVE, FW_KIND_PRESSURE, false},
};
enum { row_count = sizeof rows / sizeof rows[0] };

static int check_given(const struct cli_command *command,
                       const struct cli_args *args)
{
    if (!args->values[CLI_PIPE] && !args->values[CLI_FLOW])
        return cli_usage(command, "name a plan, a farm file or a field; or for "
                                  "one pipe without a map --pipe and --flow");
    if (args->setting_count > 0 || args->points || args->by || args->out)
        return cli_usage(command,
                         "%s means something for a plan only: name the plan or "
                         "the farm file",
                         args->setting_count > 0 ? args->settings[0].where
                         : args->points          ? "--points"
                         : args->by              ? "--by"
                                                 : "--out");
    for (size_t i = 0; i < row_count; i++) {
        const char *example;
        const char *name = cli_value_name(rows[i].value, &example);
        if (rows[i].wanted && !args->values[rows[i].value])
            return cli_usage(command, "missing: --%s (such as %s)", name,
                             example);
    }
    if (args->values[CLI_FALL] && args->values[CLI_RISE])
        return cli_usage(command, "the source stands either higher than the "
                                  "trough (--fall) or lower (--rise)");
    return 0;
}

static enum fw_status read_values(const struct cli_args *args,
                                  double numbers[CLI_VALUE_COUNT],
                                  enum fw_units *units, struct fw_error *err)
{
    struct fw_quantities *quantities;
    enum fw_status status = fw_quantities_new(&quantities, err);
    if (status)
        return status;
    for (size_t i = 0; i < row_count && !status; i++) {
        const char *text = args->values[rows[i].value];
        if (!text)
            continue;
        if (fw_farm_says_us(text))
            *units = FW_US;
        status = fw_quantity_read(quantities, text, rows[i].kind, FW_METRIC, 0,
                                  &numbers[rows[i].value], err);
        if (status)
            cli_name_value(rows[i].value, err);
    }
    fw_quantities_free(quantities);
    return status;
}

static double head_m(const struct cli_args *args,
                     const double numbers[CLI_VALUE_COUNT])
{
    if (!args->values[CLI_FALL] && !args->values[CLI_RISE] &&
        !args->values[CLI_PRESSURE])
        return (double)NAN;
    return numbers[CLI_FALL] - numbers[CLI_RISE] +
           fw_water_head_m(numbers[CLI_PRESSURE]);
}

int cli_water_pipe(const struct cli_command *command,
                   const struct cli_args *args)
{
    double numbers[CLI_VALUE_COUNT] = {
        [CLI_C] = FW_PIPE_C, [CLI_VALVE] = FW_PIPE_VALVE_KPA};
    struct fw_error err;
    enum fw_units units = FW_METRIC;
    const int code = check_given(command, args);
    if (code)
        return code;
    if (read_values(args, numbers, &units, &err))
        return cli_report(&err);
    struct fw_pipe pipe = {
        .length_m = numbers[CLI_PIPE],
        .bore_m = numbers[CLI_BORE],
        .flow_l_min = numbers[CLI_FLOW],
        .c = numbers[CLI_C],
        .head_m = head_m(args, numbers),
        .valve_m = fw_water_head_m(numbers[CLI_VALVE]),
    };
    if (!args->values[CLI_BORE]) {
        const size_t least = fw_water_pipe_least(&pipe);
        const size_t last = fw_water_pipe_sizes() - 1;
        pipe.bore_m = fw_water_pipe_size(least < last ? least : last).bore_m;
    }
    char *text;
    const enum fw_status status =
        args->json ? fw_report_water_pipe_json(&pipe, &text, &err)
                   : fw_report_water_pipe(&pipe, units, &text, &err);
    return status ? cli_report(&err) : cli_print(text);
}
