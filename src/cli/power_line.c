/* The volts along one run of fence, from options alone. */
#include "cli/cli.h"

#include <stdio.h>

/* The conductor and the leakage may be words instead. */
static const enum fw_kind kinds[CLI_LINE_END] = {
    [CLI_RUN] = FW_KIND_LENGTH,
    [CLI_CONDUCTOR] = FW_KIND_WIRE_RESISTANCE,
    [CLI_LEAKAGE] = FW_KIND_LEAKAGE,
    [CLI_OPEN] = FW_KIND_VOLTAGE,
    [CLI_INTERNAL] = FW_KIND_RESISTANCE,
    [CLI_EARTH] = FW_KIND_RESISTANCE,
    [CLI_BODY] = FW_KIND_RESISTANCE,
};

static int check_given(const struct cli_command *command,
                       const struct cli_args *args)
{
    char missing[256] = "";
    if (args->fault || args->measured_count || args->setting_count || args->on)
        return cli_usage(command,
                         "%s means something for a plan only: name "
                         "the plan or the farm file",
                         args->fault            ? "--fault"
                         : args->measured_count ? "--measured"
                         : args->on             ? "--on"
                                                : args->settings[0].where);
    size_t length = 0;
    for (int i = 0; i < CLI_LINE_END; i++) {
        if (args->values[i] || i == CLI_BODY)
            continue;
        const char *example;
        const char *name = cli_value_name((enum cli_value)i, &example);
        length += (size_t)snprintf(missing + length, sizeof missing - length,
                                   "%s--%s (such as %s)", length ? ", " : "",
                                   name, example);
    }
    return length ? cli_usage(command, "missing: %s", missing) : 0;
}

static enum fw_status read_value(struct fw_quantities *quantities,
                                 enum cli_value value, const char *text,
                                 double *out, struct fw_error *err)
{
    if (value == CLI_CONDUCTOR)
        return fw_power_conductor_read(quantities, text, FW_METRIC, out, NULL,
                                       err);
    if (value == CLI_LEAKAGE)
        return fw_power_leakage_read(quantities, text, FW_METRIC, out, NULL,
                                     err);
    const enum fw_status status = fw_quantity_read(
        quantities, text, kinds[value], FW_METRIC, 0, out, err);
    /* An earth of 0 ohm is a thought to start from; nothing else is 0. */
    if (status || *out > 0 || value == CLI_EARTH)
        return status;
    snprintf(err->text, sizeof err->text, "\"%.60s\": expected over 0", text);
    return err->status = FW_EINPUT;
}

/* The messages name the option. */
static enum fw_status read_values(const struct cli_args *args,
                                  double numbers[CLI_LINE_END],
                                  struct fw_error *err)
{
    struct fw_quantities *quantities;
    enum fw_status status = fw_quantities_new(&quantities, err);
    if (status)
        return status;
    for (int i = 0; i < CLI_LINE_END && !status; i++) {
        if (!args->values[i])
            continue;
        status = read_value(quantities, (enum cli_value)i, args->values[i],
                            &numbers[i], err);
        if (status)
            cli_name_value((enum cli_value)i, err);
    }
    fw_quantities_free(quantities);
    return status;
}

int cli_power_line(const struct cli_command *command,
                   const struct cli_args *args)
{
    double numbers[CLI_LINE_END] = {0};
    struct fw_error err;
    const int code = check_given(command, args);
    if (code)
        return code;
    if (read_values(args, numbers, &err))
        return cli_report(&err);
    const struct fw_circuit_run run = {
        .length_m = numbers[CLI_RUN],
        .ohm_m = numbers[CLI_CONDUCTOR],
        .leakage_ohm_km = numbers[CLI_LEAKAGE],
        .open_v = numbers[CLI_OPEN],
        .internal_ohm = numbers[CLI_INTERNAL],
        .earth_ohm = numbers[CLI_EARTH],
        .body_ohm = numbers[CLI_BODY],
    };
    /* A coat that nobody told counts as wool. */
    const struct fw_power_wanted wanted = fw_power_wanted_volts(true, false);
    struct fw_circuit_run_volts volts;
    char *text;
    enum fw_status status = fw_circuit_run(&run, &volts, &err);
    if (!status)
        status =
            args->json
                ? fw_report_power_line_json(&run, &volts, &wanted, &text, &err)
                : fw_report_power_line(&run, &volts, &wanted, &text, &err);
    return status ? cli_report(&err) : cli_print(text);
}
