/* `foldwright power` for a plan: its days, a fault, readings. */
#include "cli/cli.h"
#include "export/export.h"

#include <stdio.h>
#include <stdlib.h>

/* The options of one run are keys of the farm file too, but for two. */
static const struct {
    const char *key, *option;
} keys[CLI_LINE_END] = {
    [CLI_CONDUCTOR] = {"conductor", "--conductor"},
    [CLI_LEAKAGE] = {"leakage", "--leakage"},
    [CLI_OPEN] = {"energizer.open", "--open"},
    [CLI_INTERNAL] = {"energizer.internal", "--internal"},
    [CLI_EARTH] = {"earth.ohm", "--earth"},
};

static int move_values(const struct cli_command *command, struct cli_args *args)
{
    for (int i = 0; i < CLI_LINE_END; i++) {
        const char *example;
        if (!args->values[i])
            continue;
        if (!keys[i].key)
            return cli_usage(command,
                             "--%s is for one run of fence without a map; "
                             "leave it out, or leave \"%s\" out",
                             cli_value_name((enum cli_value)i, &example),
                             args->inputs[0]);
        args->settings[args->setting_count++] = (struct fw_farm_setting){
            keys[i].key, args->values[i], keys[i].option};
    }
    return 0;
}

/* The day that is named, else the worst of the plan. */
static enum fw_status choose_day(const struct fw_plan *plan,
                                 const struct cli_args *args, int *day,
                                 struct fw_error *err)
{
    if (args->on)
        return fw_date_read(args->on, day, err);
    const size_t worst = fw_plan_worst_day(plan);
    *day = worst == FW_NONE ? plan->start_day : plan->power_days[worst].from;
    return FW_OK;
}

/* ---- readings ---- */

struct learned {
    struct fw_circuit_fit fit;
    struct fw_plan_power_day *rows; /* NULL: nothing was measured */
};

static enum fw_status out_of_memory(struct fw_error *err)
{
    snprintf(err->text, sizeof err->text, "out of memory");
    return err->status = FW_ENOMEM;
}

static enum fw_status learn(const struct fw_plan *plan,
                            const struct cli_args *args, int day,
                            struct learned *out, struct fw_error *err)
{
    if (args->measured_count == 0)
        return FW_OK;
    struct fw_plan_measured *readings =
        calloc(args->measured_count, sizeof *readings);
    out->rows = calloc(plan->power_day_count + 1, sizeof *out->rows);
    enum fw_status status = readings && out->rows ? FW_OK : out_of_memory(err);
    for (size_t i = 0; !status && i < args->measured_count; i++) {
        status = fw_plan_measured_read(plan, day, args->measured[i],
                                       &readings[i], err);
        if (status) {
            const struct fw_error inner = *err;
            snprintf(err->text, sizeof err->text, "--measured: %.900s",
                     inner.text);
        }
    }
    if (!status)
        status = fw_plan_learn(plan, day, readings, args->measured_count,
                               &out->fit, out->rows, err);
    free(readings);
    return status;
}

/* ---- what is printed ---- */

static enum fw_status print_fault(const struct fw_plan *plan,
                                  const struct cli_args *args, int day,
                                  const struct learned *learned, char **text,
                                  struct fw_error *err)
{
    const struct fw_plan_learned known = {
        .known = learned->rows != NULL,
        .leakage_factor = learned->fit.leakage_factor,
        .earth_ohm = learned->fit.earth_ohm,
    };
    struct fw_plan_fault fault;
    struct fw_plan_looks looks;
    enum fw_status status = fw_plan_fault_read(plan, args->fault, &fault, err);
    if (status) {
        const struct fw_error inner = *err;
        snprintf(err->text, sizeof err->text, "--fault: %.900s", inner.text);
        return status;
    }
    status = fw_plan_look_for(plan, day, &fault, &known, &looks, err);
    if (status)
        return status;
    status =
        args->json
            ? fw_report_looks_json(plan, day, args->fault, &looks, text, err)
            : fw_report_looks(plan, day, args->fault, &looks, text, err);
    fw_plan_looks_release(&looks);
    return status;
}

static int use(const struct fw_plan *plan, const struct cli_args *args)
{
    struct fw_error err;
    struct learned learned = {.rows = NULL};
    int day = 0;
    char *text = NULL;
    enum fw_status status = choose_day(plan, args, &day, &err);
    if (!status)
        status = learn(plan, args, day, &learned, &err);
    const struct fw_circuit_fit *fit = learned.rows ? &learned.fit : NULL;
    if (!status && args->fault)
        status = print_fault(plan, args, day, &learned, &text, &err);
    else if (!status)
        status =
            args->json
                ? fw_report_power_json(plan, fit, learned.rows, &text, &err)
                : fw_report_power(plan, fit, learned.rows, &text, &err);
    free(learned.rows);
    return status ? cli_report(&err) : cli_print(text);
}

int cli_power_plan(const struct cli_command *command, struct cli_args *args)
{
    const int code = move_values(command, args);
    return code ? code : cli_with_log(command, args, CLI_LOG_NOW, use);
}
