#include "cli/cli.h"

#include "report/stockpile.h"
#include "winter/winter.h"

#include <stdio.h>
#include <string.h>

static int run(int argc, char **argv);

const struct cli_command cli_stockpile = {
    "stockpile",
    run,
    "when to graze last and top: amount against quality, part by part",
    "FARM.yaml | FIELDS...",
    "The winter's grass by the day on which each part was last grazed or "
    "topped:\n"
    "mass, quality and days for the flock, month by month, what moves them, "
    "and\n"
    "which part to graze when. With -o DIR two pictures in DIR. With --left, "
    "what\n"
    "the sheep left beside what was forecast.",
    CLI_OUT | CLI_ON | CLI_LEFT | CLI_FARM,
};

/* "heavy=6 cm". */
static enum fw_status take_left(struct fw_winter *winter, const char *text,
                                struct fw_error *err)
{
    char name[64];
    double left_m;
    struct fw_quantities *quantities;
    const char *equals = strrchr(text, '=');
    const size_t length = equals ? (size_t)(equals - text) : 0;
    if (length == 0 || length >= sizeof name) {
        err->status = FW_EUSAGE;
        snprintf(err->text, sizeof err->text,
                 "--left: \"%.80s\" is not PART=HEIGHT, such as heavy=6cm",
                 text);
        return FW_EUSAGE;
    }
    memcpy(name, text, length);
    name[length] = '\0';
    enum fw_status status = fw_quantities_new(&quantities, err);
    if (status)
        return status;
    status = fw_quantity_read(quantities, equals + 1, FW_KIND_LENGTH,
                              winter->farm->units, 1, &left_m, err);
    fw_quantities_free(quantities);
    if (!status)
        status = fw_winter_left(winter, name, left_m, err);
    if (status) {
        char why[sizeof err->text];
        snprintf(why, sizeof why, "%.1000s", err->text);
        snprintf(err->text, sizeof err->text, "--left: %.1000s", why);
    }
    return status;
}

static enum fw_status put_svgs(const char *folder, char *const svgs[2],
                               const struct fw_set_rules *rules,
                               struct fw_error *err)
{
    static const char *const names[] = {"stockpile.svg", "stockpile-parts.svg"};
    struct fw_set *set = NULL;
    enum fw_status status = fw_folder_make(folder, err);
    if (!status)
        status = fw_set_begin(folder, names, 2, rules, &set, err);
    for (int i = 0; !status && i < 2; i++)
        status = fw_set_put(set, svgs[i], strlen(svgs[i]), err);
    if (!status)
        status = fw_set_done(set, err);
    fw_set_free(set);
    return status;
}

static enum fw_status draw(const struct fw_winter *winter,
                           const struct cli_args *args, struct fw_error *err)
{
    const struct fw_set_rules rules = {
        .inputs = &winter->farm->inputs,
        .force = args->force,
        .begin = FW_REPORT_STOCKPILE_BEGIN,
    };
    char *svgs[2] = {NULL, NULL};
    int today;
    enum fw_status status = cli_today(args, &today, err);
    if (!status)
        status = fw_report_stockpile_svg(winter, today, &svgs[0], err);
    if (!status)
        status = fw_report_stockpile_parts_svg(winter, &svgs[1], err);
    if (!status)
        status = put_svgs(args->out, svgs, &rules, err);
    fw_bytes_free(svgs[0]);
    fw_bytes_free(svgs[1]);
    return status;
}

static int report(const struct fw_farm *farm, const struct cli_args *args)
{
    struct fw_error err;
    struct fw_winter *winter;
    char *text = NULL;
    enum fw_status status = fw_winter_make(farm, &winter, &err);
    if (status)
        return cli_report(&err);
    for (size_t i = 0; !status && i < args->left_count; i++)
        status = take_left(winter, args->left[i], &err);
    if (!status && args->out)
        status = draw(winter, args, &err);
    if (!status)
        status = args->json
                     ? fw_report_stockpile_json(winter, &text, &err)
                     : fw_report_stockpile(winter, cli_colour(), &text, &err);
    fw_winter_free(winter);
    return status ? cli_report(&err) : cli_print(text);
}

static int stockpile(const struct cli_args *args)
{
    struct fw_error err;
    struct fw_notes notes = {0};
    struct fw_farm *farm;
    const enum fw_status status =
        cli_farm(args, true, false, &farm, NULL, &notes, &err);
    cli_print_notes(&notes, args->quiet);
    fw_notes_release(&notes);
    if (status)
        return cli_report(&err);
    const int code = report(farm, args);
    fw_farm_free(farm);
    return code;
}

static int run(int argc, char **argv)
{
    struct cli_args args;
    int code = cli_parse(&cli_stockpile, argc, argv, &args);
    args.winter = true;
    if (!code && args.help)
        cli_print_help(&cli_stockpile);
    else if (!code && args.input_count == 0)
        code = cli_usage(&cli_stockpile, "name a farm file or a field file");
    else if (!code)
        code = stockpile(&args);
    cli_args_release(&args);
    return code;
}
