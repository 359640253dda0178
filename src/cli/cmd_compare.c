#include "cli/cli.h"
#include "sheet/paper.h"

#include <string.h>

static int run(int argc, char **argv);

const struct cli_command cli_compare = {
    "compare",
    run,
    "the candidate layouts side by side",
    "FARM.yaml | FIELDS...",
    "Every pattern at its best: what it asks of a person, what has to be "
    "owned,\n"
    "and how far it is from the least fence there could be. Plan one of them "
    "with\n"
    "plan --layout NAME. With -o FILE each is drawn there too, a small map "
    "with\n"
    "its figures below: compare.pdf, or compare.svg.",
    CLI_OUT_FILE | CLI_FARM,
};

/* By the name of the file; PDF where it does not say. */
static int draw(const struct fw_farm *farm, const struct fw_plan_scores *scores,
                const struct cli_args *args)
{
    struct fw_error err;
    struct fw_report_drawn how = {0};
    const char *end = strrchr(args->out, '.');
    char *bytes;
    size_t count;
    how.svg = end && strcmp(end, ".svg") == 0;
    cli_wait_begin(args->quiet);
    enum fw_status status = cli_epoch(&how.epoch_s, &err);
    if (!status)
        status =
            fw_report_compare_drawn(farm, scores, &how, &bytes, &count, &err);
    cli_wait_end();
    return status
               ? cli_report(&err)
               : cli_put_file(&cli_compare, args, &farm->inputs, bytes, count);
}

static int compare(const struct cli_args *args)
{
    struct fw_error err;
    struct fw_notes notes = {0};
    struct fw_farm *farm;
    cli_wait_begin(args->quiet);
    const enum fw_status status =
        cli_farm(args, false, false, &farm, NULL, &notes, &err);
    cli_wait_end();
    cli_print_notes(&notes, args->quiet);
    fw_notes_release(&notes);
    if (status)
        return cli_report(&err);
    struct fw_plan_scores scores = {0};
    char *text = NULL;
    cli_wait_begin(args->quiet);
    enum fw_status done = fw_plan_compare(farm, &scores, &err);
    cli_wait_end();
    if (!done)
        done = args->json ? fw_report_compare_json(farm, &scores, &text, &err)
                          : fw_report_compare(farm, &scores, cli_colour(),
                                              &text, &err);
    int code = done ? cli_report(&err) : 0;
    const bool on_stdout = args->out && strcmp(args->out, "-") == 0;
    if (!code && !on_stdout)
        code = cli_print(text);
    else if (!code)
        fw_bytes_free(text);
    if (!code && args->out)
        code = draw(farm, &scores, args);
    fw_plan_scores_release(&scores);
    fw_farm_free(farm);
    return code;
}

static int run(int argc, char **argv)
{
    struct cli_args args;
    int code = cli_parse(&cli_compare, argc, argv, &args);
    if (!code && args.help)
        cli_print_help(&cli_compare);
    else if (!code && args.input_count == 0)
        code = cli_usage(&cli_compare, "name a farm file or a field file");
    else if (!code)
        code = compare(&args);
    cli_args_release(&args);
    return code;
}
