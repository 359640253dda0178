#include "cli/cli.h"

#include "start/start.h"

#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

static int run(int argc, char **argv);

const struct cli_command cli_start = {
    "start",
    run,
    "write a commented farm file for a field",
    "FIELDS",
    "Writes what the map tells (where, how large, its corners drawn) and a "
    "line\n"
    "for each thing that it cannot, what matters most first, with how to find "
    "it\n"
    "out at the gate. What options say is written as said. The file stands "
    "beside\n"
    "the map, or where -o says; one that is there is never written over.",
    CLI_OUT_NEW | CLI_FARM,
};

/* "maps/hill.gpkg" gives "maps/hill.yaml". */
static char *beside(const char *map)
{
    const char *slash = strrchr(map, '/');
    const char *name = slash ? slash + 1 : map;
    const char *dot = strrchr(name, '.');
    const size_t stem = dot && dot > name ? (size_t)(dot - map) : strlen(map);
    char *path = malloc(stem + sizeof ".yaml");
    if (path)
        snprintf(path, stem + sizeof ".yaml", "%.*s.yaml", (int)stem, map);
    return path;
}

/* In the middle of the first field; a border is not always straight, so that
 * this is a guess. */
static bool lies_in_the_us(const struct fw_farm *farm)
{
    static const struct {
        double west, east, south, north;
    } boxes[] = {
        {-124.8, -95.2, 25.8, 49},   /* to the Lake of the Woods */
        {-95.2, -83.5, 25, 46.5},    /* the upper lakes */
        {-83.5, -66.9, 24.5, 41.7},  /* to Lake Erie */
        {-79, -71, 41.7, 43.2},      /* New York */
        {-73.4, -67.8, 41.2, 45},    /* New England */
        {-168, -141, 54, 71.5},      /* Alaska */
        {-160.5, -154.5, 18.5, 22.5} /* Hawaii */
    };
    const struct fw_lonlat at = farm->fields[0].shape->vertices[0].lonlat;
    for (size_t i = 0; i < sizeof boxes / sizeof *boxes; i++)
        if (at.lon_deg > boxes[i].west && at.lon_deg < boxes[i].east &&
            at.lat_deg > boxes[i].south && at.lat_deg < boxes[i].north)
            return true;
    return false;
}

static bool is_told(const struct cli_args *args, const char *key)
{
    for (size_t i = 0; i < args->setting_count; i++)
        if (strcmp(args->settings[i].key, key) == 0)
            return true;
    return false;
}

/* Never over a file; the text is freed. */
static int put(const char *path, char *text)
{
    int code = 0;
    FILE *file = fopen(path, "wx");
    const size_t count = strlen(text);
    if (!file && errno == EEXIST) {
        fprintf(stderr,
                "foldwright: %s: is there already, and start never writes over "
                "a file; choose another with -o, or move it away\n",
                path);
        code = 4;
    } else if (!file || fwrite(text, 1, count, file) != count ||
               fflush(file) == EOF || fsync(fileno(file)) != 0) {
        fprintf(stderr, "foldwright: %s: %s\n", path, strerror(errno));
        code = 4;
    }
    if (file && (fclose(file) == EOF || code))
        remove(path);
    fw_bytes_free(text);
    return code;
}

static int write_start(const struct fw_start *start,
                       const struct cli_args *args)
{
    struct fw_error err;
    char *text, *json;
    if (fw_start_write(start, &text, &err))
        return cli_report(&err);
    if (args->out && strcmp(args->out, "-") == 0)
        return cli_print(text);
    int code = put(start->path, text);
    if (!code && args->json) {
        if (fw_start_json(start, &json, &err))
            return cli_report(&err);
        return cli_print(json);
    }
    if (!code && !args->quiet)
        fprintf(
            stderr,
            "foldwright: %s is begun; its lines with #? wait for an answer. "
            "Next: foldwright check %s\n",
            start->path, start->path);
    return code;
}

/* The map as it is called from the farm file's folder. */
static int with_source(struct fw_start *start, const struct cli_args *args)
{
    struct fw_error err;
    struct fw_inputs told = {0};
    const char *slash = strrchr(start->path, '/');
    char *folder = calloc(strlen(start->path) + 2, 1);
    if (!folder)
        return 5;
    memcpy(folder, slash ? start->path : ".",
           slash ? (size_t)(slash - start->path) + 1 : 1);
    int code = 0;
    if (fw_inputs_from(folder, NULL, &start->farm->inputs, &told, &err))
        code = cli_report(&err);
    free(folder);
    start->source = told.count == 1 ? told.items[0].path : args->inputs[0];
    if (!code)
        code = write_start(start, args);
    fw_inputs_release(&told);
    return code;
}

static int start(const struct cli_args *args)
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
    char *path = beside(args->inputs[0]);
    /* Who writes a weight in pounds has said so. */
    const bool guessed = !is_told(args, "units") && farm->units != FW_US;
    if (guessed && lies_in_the_us(farm))
        farm->units = FW_US;
    struct fw_start what = {
        .farm = farm,
        .path = args->out && strcmp(args->out, "-") != 0 ? args->out : path,
        .guessed = guessed,
        .told = args->settings,
        .told_count = args->setting_count,
    };
    const int code = path ? with_source(&what, args) : 5;
    free(path);
    fw_farm_free(farm);
    return code;
}

static int run(int argc, char **argv)
{
    struct cli_args args;
    int code = cli_parse(&cli_start, argc, argv, &args);
    if (!code && args.help)
        cli_print_help(&cli_start);
    else if (!code && args.input_count != 1)
        code = cli_usage(&cli_start, "name one map with your fields");
    else if (!code && fw_farm_is_farm_file(args.inputs[0]))
        code = cli_usage(&cli_start,
                         "%s is a farm file already; start wants a map",
                         args.inputs[0]);
    else if (!code)
        code = start(&args);
    cli_args_release(&args);
    return code;
}
