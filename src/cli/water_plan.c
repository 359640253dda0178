/* `foldwright water` for a plan. */
#include "cli/cli.h"

#include "report/water.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const char *const by_words[] = {[FW_PLACING_WORST] = "walk",
                                       [FW_PLACING_MEAN] = "mean-walk",
                                       [FW_PLACING_MINUTES] = "minutes"};
enum { by_count = sizeof by_words / sizeof by_words[0], usual_points = 3 };

static enum fw_status usage(struct fw_error *err, const char *option,
                            const char *text, const char *expected)
{
    snprintf(err->text, sizeof err->text, "--%s: \"%.80s\"; expected %s",
             option, text, expected);
    return err->status = FW_EUSAGE;
}

static enum fw_status read_by(const struct cli_args *args,
                              enum fw_placing_by *by, struct fw_error *err)
{
    *by = FW_PLACING_WORST;
    if (!args->by)
        return FW_OK;
    for (int i = 0; i < by_count; i++)
        if (strcmp(args->by, by_words[i]) == 0) {
            *by = (enum fw_placing_by)i;
            return FW_OK;
        }
    return usage(err, "by", args->by, "walk, mean-walk or minutes");
}

static enum fw_status read_points(const struct cli_args *args, size_t *points,
                                  struct fw_error *err)
{
    *points = usual_points;
    if (!args->points)
        return FW_OK;
    char *end;
    const long number = strtol(args->points, &end, 10);
    if (end == args->points || *end || number < 1 || number > FW_POINTS_MOST)
        return usage(err, "points", args->points, "a whole number, 1 to 16");
    *points = (size_t)number;
    return FW_OK;
}

static enum fw_status draw(const struct fw_plan *plan,
                           const struct fw_hauled_table *table,
                           const struct cli_args *args, struct fw_error *err)
{
    static const char *const names[] = {"water.svg"};
    const struct fw_set_rules rules = {.inputs = &plan->inputs,
                                       .force = args->force,
                                       .begin = FW_REPORT_WATER_BEGIN};
    struct fw_set *set = NULL;
    char *svg = NULL;
    enum fw_status status = fw_report_water_svg(plan, table, &svg, err);
    if (!status)
        status = fw_folder_make(args->out, err);
    if (!status)
        status = fw_set_begin(args->out, names, 1, &rules, &set, err);
    if (!status)
        status = fw_set_put(set, svg, strlen(svg), err);
    if (!status)
        status = fw_set_done(set, err);
    fw_set_free(set);
    fw_bytes_free(svg);
    return status;
}

static int use(const struct fw_plan *plan, const struct cli_args *args)
{
    struct fw_error err;
    struct fw_placing placing = {0};
    struct fw_hauled_table table;
    enum fw_placing_by by;
    size_t points;
    char *text = NULL;
    enum fw_status status = read_by(args, &by, &err);
    if (!status)
        status = read_points(args, &points, &err);
    if (!status)
        status = fw_placing_make(plan, &placing, &err);
    if (!status)
        status = fw_hauled_make(plan, &placing, by, points, &table, &err);
    if (!status && args->out)
        status = draw(plan, &table, args, &err);
    if (!status)
        status = args->json
                     ? fw_report_water_json(plan, &placing, &table, &text, &err)
                     : fw_report_water(plan, &placing, &table, &text, &err);
    fw_placing_release(&placing);
    return status ? cli_report(&err) : cli_print(text);
}

int cli_water_plan(const struct cli_command *command, struct cli_args *args)
{
    for (int i = CLI_PIPE; i < CLI_VALUE_COUNT; i++) {
        const char *example;
        if (args->values[i])
            return cli_usage(command,
                             "--%s is for one pipe without a map; leave it "
                             "out, or leave \"%.200s\" out",
                             cli_value_name((enum cli_value)i, &example),
                             args->inputs[0]);
    }
    return cli_with_log(command, args, CLI_LOG_NOW, use);
}
