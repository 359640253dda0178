#include "cli/cli.h"
#include "export/export.h"

#include <stdio.h>
#include <string.h>

static int run(int argc, char **argv);

const struct cli_command cli_materials = {
    "materials",
    run,
    "the fencing list with costs",
    "PLAN | FARM.yaml | FIELDS...",
    "The kit of moved fence, the energizer and its earth for a plan. For a "
    "bare\n"
    "field and no flock, or with --perimeter: a new fence round the fields. "
    "With\n"
    "--missing only what the farm has not got yet.",
    CLI_PERIMETER | CLI_FARM,
};

static int print(const struct fw_export_list *list, bool json)
{
    struct fw_error err;
    char *text;
    if (json ? fw_report_materials_json(list, &text, &err)
             : fw_report_materials(list, &text, &err))
        return cli_report(&err);
    return cli_print(text);
}

static int perimeter(const struct cli_args *args)
{
    enum { most = 64 };
    struct fw_material rows[most];
    struct fw_error err;
    struct fw_notes notes = {0};
    struct fw_farm *farm;
    enum fw_status status =
        cli_farm(args, true, false, &farm, NULL, &notes, &err);
    cli_print_notes(&notes, args->quiet);
    fw_notes_release(&notes);
    if (status)
        return cli_report(&err);
    struct fw_export_list list = {.rows = rows,
                                  .units = farm->units,
                                  .currency = farm->prices.currency,
                                  .only_rest = args->missing,
                                  .terms = &farm->terms,
                                  .lacks = fw_export_perimeter_lacks};
    status = fw_plan_perimeter_list(farm, rows, most, &list.count, &list.line_m,
                                    &err);
    const int code = status ? cli_report(&err) : print(&list, args->json);
    fw_farm_free(farm);
    return code;
}

static int kit(const struct fw_plan *plan, const struct cli_args *args)
{
    const struct fw_export_list list = {.rows = plan->materials,
                                        .count = plan->material_count,
                                        .units = plan->units,
                                        .currency = plan->currency,
                                        .only_rest = args->missing,
                                        .lacks = fw_export_kit_lacks};
    return print(&list, args->json);
}

/* A bare field without a flock asks for the fence round it. */
static bool bare(const struct cli_args *args)
{
    for (size_t i = 0; i < args->setting_count; i++)
        if (strncmp(args->settings[i].key, "flock", 5) == 0)
            return false;
    return !(args->input_count == 1 && (fw_plan_json_is(args->inputs[0]) ||
                                        fw_farm_is_farm_file(args->inputs[0])));
}

static int run(int argc, char **argv)
{
    struct cli_args args;
    int code = cli_parse(&cli_materials, argc, argv, &args);
    if (!code && args.help)
        cli_print_help(&cli_materials);
    else if (!code && args.input_count == 0)
        code = cli_usage(&cli_materials,
                         "name a plan, a farm file or a field file");
    else if (!code && args.perimeter && fw_plan_json_is(args.inputs[0]))
        code = cli_usage(&cli_materials,
                         "--perimeter wants the farm file or the field file, "
                         "not the plan");
    else if (!code)
        code = args.perimeter || bare(&args)
                   ? perimeter(&args)
                   : cli_with_plan(&cli_materials, &args, kit);
    cli_args_release(&args);
    return code;
}
